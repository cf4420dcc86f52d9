/* SPDX-License-Identifier: MIT */
/* Offset wells of a program, and which of them each point of a table is made of. */
#include "json_parts.h"
#include "program.h"

static json_t *reading_of(const dt_offset_reading *r)
{
    json_t *object = json_object();
    dt_json_put_text(&object, "what", dt_offset_what_text(r->what));
    dt_json_put(&object, "tvd_ft", feet(r->tvd_m));
    dt_json_put(&object, "emw_ppg", ppg(r->emw_kgm3));
    return object;
}

static json_t *well_of(const dt_offset *offset)
{
    json_t *object = json_object(), *readings = json_array();
    dt_json_put_text(&object, "name", offset->name);
    dt_json_put(&object, "distance_ft", feet(offset->distance_m));
    dt_json_put(&object, "rig_floor_ft", feet(offset->rig_floor_m));
    dt_json_put(&object, "water_depth_ft", feet(offset->water_depth_m));
    for (size_t i = 0; i < offset->reading_count; ++i)
        dt_json_append(&readings, reading_of(&offset->readings[i]));
    dt_json_put_new(&object, "readings", readings);
    return object;
}

static json_t *point_of(const dt_well *well, const dt_curve_point *p)
{
    json_t *object = json_object(), *made_of = json_array();
    dt_json_put(&object, "tvd_ft", feet(p->tvd_m));
    dt_json_put(&object, "emw_ppg", ppg(p->emw_kgm3));
    dt_json_put(&object, "sd_ppg", ppg(p->sd_kgm3));
    for (size_t i = 0; i < well->offset_count; ++i)
        if (p->offsets >> i & 1) dt_json_append(&made_of, json_string(well->offsets[i].name));
    dt_json_put_new(&object, "made_of", made_of);
    return object;
}

static json_t *points_of(const dt_well *well, const dt_curve *curve)
{
    json_t *list = json_array();
    for (size_t i = 0; i < curve->count; ++i)
        dt_json_append(&list, point_of(well, &curve->points[i]));
    return list;
}

static json_t *trend_of(const dt_offset_trend *t)
{
    json_t *object = json_object();
    dt_json_put(&object, "level_ppg", ppg(t->level_kgm3));
    dt_json_put(&object, "slope_ppg", ppg(t->slope_kgm3));
    dt_json_put(&object, "scatter_ppg", ppg(t->scatter_kgm3));
    dt_json_put(&object, "shallowest_ft", feet(t->shallowest_m));
    dt_json_put(&object, "deepest_ft", feet(t->deepest_m));
    return object;
}

json_t *dt_json_offsets(const dt_well *well)
{
    json_t *object = json_object(), *wells = json_array();
    for (size_t i = 0; i < well->offset_count; ++i)
        dt_json_append(&wells, well_of(&well->offsets[i]));
    dt_json_put_new(&object, "wells", wells);
    if (well->pore_by_offsets)
        dt_json_put_new(&object, "pore_pressure", points_of(well, &well->pore));
    if (well->fracture_by_offsets) {
        dt_json_put_new(&object, "trend", trend_of(&well->offset_trend));
        dt_json_put_new(&object, "fracture_gradient", points_of(well, &well->fracture));
    }
    return object;
}
