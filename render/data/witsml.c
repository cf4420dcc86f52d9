/* SPDX-License-Identifier: MIT */
/*
 * The program as WITSML 1.4.1.1: wellbore geometry and trajectory. Order of elements, types of
 * sections and units of depth and mass per length were read in classes generated from the
 * schemas of that version; in and dega are from a published sample and from memory.
 */
#include <math.h>
#include <stdio.h>

#include "data.h"
#include "html.h"

/*
 * dt_html writes any XML: text is cleaned, elements are closed. A document here begins with the
 * declaration and is ended by hand.
 */
static void element(dt_html *xml, const char *name, const char *text)
{
    dt_html_element(xml, name, NULL, text);
}

static void measure(dt_html *xml, const char *name, const char *uom, double value)
{
    char text[40];
    if (!isfinite(value)) return;
    snprintf(text, sizeof text, "%.15g", value);
    dt_html_open(xml, name);
    dt_html_attribute(xml, "uom", uom);
    dt_html_text(xml, text);
    dt_html_close(xml);
}

static void begin(dt_html *xml, const char *plural)
{
    dt_xml_begin(xml);
    dt_html_open(xml, plural);
    dt_html_attribute(xml, "xmlns", "http://www.witsml.org/schemas/1series");
    dt_html_attribute(xml, "version", "1.4.1.1");
}

static void names(dt_html *xml, const dt_program *program, const char *name)
{
    element(xml, "nameWell", program->well->name);
    element(xml, "nameWellbore", program->well->name);
    element(xml, "name", name);
}

static void plan_state(dt_html *xml)
{
    dt_html_open(xml, "commonData");
    element(xml, "itemState", "plan");
    element(xml, "comments",
            "Preliminary planning aid. Verify pressures and regulations locally; a licensed "
            "engineer reviews before anything is run.");
    dt_html_close(xml);
}

static const char *section_type(const dt_program_string *item)
{
    if (item->seat->type == DT_LINER) return "liner";
    return item->seat->role == DT_CONDUCTOR ? "conductor" : "casing";
}

static void geometry_section(dt_html *xml, const dt_program *program, size_t string, size_t index)
{
    const dt_program_string *item = &program->items[string];
    const dt_section *section = &item->string->sections[index];
    const dt_trajectory *path = &program->trajectory;
    char uid[80];
    snprintf(uid, sizeof uid, "string-%zu-%zu", dt_seats_position(&program->seats, string) + 1,
             index + 1);
    dt_html_open(xml, "wbGeometrySection");
    dt_html_attribute(xml, "uid", uid);
    element(xml, "typeHoleCasing", section_type(item));
    measure(xml, "mdTop", "ft", section->top_md_m / DT_M_PER_FT);
    measure(xml, "mdBottom", "ft", section->base_md_m / DT_M_PER_FT);
    measure(xml, "tvdTop", "ft", dt_trajectory_tvd(path, section->top_md_m) / DT_M_PER_FT);
    measure(xml, "tvdBottom", "ft", dt_trajectory_tvd(path, section->base_md_m) / DT_M_PER_FT);
    measure(xml, "idSection", "in", section->pipe->id_m / DT_M_PER_IN);
    measure(xml, "odSection", "in", section->pipe->od_m / DT_M_PER_IN);
    measure(xml, "wtPerLen", "lbm/ft", section->pipe->weight_kgm / DT_KGM_PER_LBFT);
    element(xml, "grade", section->pipe->grade->name);
    measure(xml, "diaDrift", "in", dt_nest_drift(program->well, section->pipe) / DT_M_PER_IN);
    dt_html_close(xml);
}

/** The hole drilled for a string, from the shoe before it (or the ground) down. */
static void hole_section(dt_html *xml, const dt_program *program, size_t string)
{
    const dt_program_string *item = &program->items[string];
    if (item->seat->type == DT_TIEBACK) return;
    bool drilled = string > 0 || program->well->conductor.method == DT_CONDUCTOR_DRILLED;
    if (!drilled || !isfinite(item->hole_m)) return;
    double top_m = string > 0
                       ? program->items[string - 1].shoe_md_m
                       : dt_trajectory_md(&program->trajectory, dt_well_ground_m(program->well));
    char uid[80];
    snprintf(uid, sizeof uid, "hole-%zu", string + 1);
    dt_html_open(xml, "wbGeometrySection");
    dt_html_attribute(xml, "uid", uid);
    element(xml, "typeHoleCasing", "open hole");
    measure(xml, "mdTop", "ft", top_m / DT_M_PER_FT);
    measure(xml, "mdBottom", "ft", item->shoe_md_m / DT_M_PER_FT);
    measure(xml, "tvdTop", "ft", dt_trajectory_tvd(&program->trajectory, top_m) / DT_M_PER_FT);
    measure(xml, "tvdBottom", "ft", item->shoe_tvd_m / DT_M_PER_FT);
    measure(xml, "idSection", "in", item->hole_m / DT_M_PER_IN);
    dt_html_close(xml);
}

dt_status dt_write_witsml_geometry(const dt_program *program, dt_text *out)
{
    dt_html xml;
    begin(&xml, "wbGeometrys");
    dt_html_open(&xml, "wbGeometry");
    dt_html_attribute(&xml, "uid", "drawtube-program");
    names(&xml, program, "Casing program");
    measure(&xml, "mdBottom", "ft", program->items[program->count - 1].shoe_md_m / DT_M_PER_FT);
    measure(&xml, "gapAir", "ft", program->well->rig_floor_m / DT_M_PER_FT);
    if (program->well->over_sea)
        measure(&xml, "depthWaterMean", "ft", program->well->water_depth_m / DT_M_PER_FT);
    for (size_t n = 0; n < dt_program_strings(program); ++n) {
        const size_t i = dt_program_at(program, n);
        hole_section(&xml, program, i);
        for (size_t s = 0; s < program->items[i].string->section_count; ++s)
            geometry_section(&xml, program, i, s);
    }
    plan_state(&xml);
    dt_html_close(&xml);
    return dt_xml_end(&xml, "</wbGeometrys>", out);
}

dt_status dt_write_witsml_trajectory(const dt_program *program, dt_text *out)
{
    const dt_well *well = program->well;
    const double deg = 57.295779513082320877; /* of one rad */
    if (well->station_count == 0) return DT_E_NONE;
    dt_html xml;
    begin(&xml, "trajectorys");
    dt_html_open(&xml, "trajectory");
    dt_html_attribute(&xml, "uid", "drawtube-path");
    names(&xml, program, "Planned path");
    measure(&xml, "mdMn", "m", well->stations[0].md_m);
    measure(&xml, "mdMx", "m", well->stations[well->station_count - 1].md_m);
    for (size_t i = 0; i < well->station_count; ++i) {
        const dt_station *s = &well->stations[i];
        char uid[64];
        snprintf(uid, sizeof uid, "station-%zu", i + 1);
        dt_html_open(&xml, "trajectoryStation");
        dt_html_attribute(&xml, "uid", uid);
        element(&xml, "typeTrajStation", i == 0 ? "tie in point" : "unknown");
        measure(&xml, "md", "m", s->md_m);
        measure(&xml, "tvd", "m", dt_trajectory_tvd(&program->trajectory, s->md_m));
        measure(&xml, "incl", "dega", s->inclination_rad * deg);
        measure(&xml, "azi", "dega", s->azimuth_rad * deg);
        dt_html_close(&xml);
    }
    plan_state(&xml);
    dt_html_close(&xml);
    return dt_xml_end(&xml, "</trajectorys>", out);
}
