/* SPDX-License-Identifier: MIT */
/* "cement" and "running" of program.json: field units, numbers not rounded. */
#include <math.h>

#include "drawtube/units.h"
#include "json_parts.h"

/** Adds a number, or leaves the key out when there is none. A missing key is never a zero. */
static void put(json_t *object, const char *key, double value)
{
    if (isfinite(value)) json_object_set_new(object, key, json_real(value));
}

static void put_count(json_t *object, const char *key, size_t count)
{
    json_object_set_new(object, key, json_integer((json_int_t)count));
}

static void put_text(json_t *object, const char *key, const char *text)
{
    json_object_set_new(object, key, json_string(text));
}

static double feet(double m)
{
    return m / DT_M_PER_FT;
}

static double psi(double pa)
{
    return pa / DT_PA_PER_PSI;
}

static double ppg(double kgm3)
{
    return kgm3 / DT_KGM3_PER_PPG;
}

static double bbl(double m3)
{
    return m3 / DT_M3_PER_BBL;
}

static double klbf(double n)
{
    return n / (1000 * DT_N_PER_LBF);
}

static double hours(double s)
{
    return s / 3600;
}

static json_t *part_of(const dt_cement_part *p)
{
    const double ft3 = DT_M_PER_FT * DT_M_PER_FT * DT_M_PER_FT;
    json_t *o = json_object();
    put_text(o, "slurry", p->slurry.name);
    put(o, "density_ppg", ppg(p->slurry.density_kgm3));
    put(o, "yield_ft3_sk", p->slurry.yield_m3 / ft3);
    put(o, "sack_lb", p->slurry.sack_kg / DT_KG_PER_LB);
    put(o, "top_md_ft", feet(p->top_md_m));
    put(o, "base_md_ft", feet(p->base_md_m));
    put(o, "excess_pct", 100 * p->excess);
    put_text(o, "excess_on", p->excess_on == DT_EXCESS_ANNULUS ? "annulus" : "open-hole");
    put(o, "overlap_bbl", bbl(p->cased_m3));
    put(o, "open_hole_bbl", bbl(p->open_m3));
    put(o, "rathole_bbl", bbl(p->rathole_m3));
    put(o, "shoe_track_bbl", bbl(p->track_m3));
    put(o, "slurry_bbl", bbl(p->volume_m3));
    put_count(o, "sacks", (size_t)p->sacks);
    put(o, "water_bbl", bbl(p->water_m3));
    return o;
}

static json_t *spot_of(const dt_tight_spot *t)
{
    if (isinf(t->spare_pa)) return json_null();
    json_t *o = json_object();
    put(o, "md_ft", feet(t->md_m));
    put(o, "tvd_ft", feet(t->tvd_m));
    put(o, "pressure_psi", psi(t->pressure_pa));
    put(o, "fracture_psi", psi(t->fracture_pa));
    put(o, "margin_psi", psi(t->fracture_pa - t->pressure_pa));
    put(o, "margin_wanted_psi", psi(t->needed_pa));
    return o;
}

static json_t *stage_of(const dt_stage_tool *s)
{
    json_t *o = json_object();
    put(o, "md_ft", feet(s->md_m));
    put(o, "tvd_ft", feet(s->tvd_m));
    json_object_set_new(o, "in_casing", json_boolean(s->in_casing));
    put(o, "second_stage_bbl", bbl(s->volume_m3));
    put_count(o, "second_stage_sacks", (size_t)s->sacks);
    return o;
}

static void put_pressures(json_t *o, const dt_cement *c)
{
    put(o, "float_differential_psi", psi(c->lift_pa));
    put(o, "bump_psi", psi(c->bump_pa));
    put(o, "test_psi", psi(c->test_pa));
    put_text(o, "test_rule", dt_test_rule_words(c->settings.test));
    put(o, "pump_psi", psi(c->pump_pa));
    put(o, "end_of_job_shoe_ppg", ppg(c->shoe_static_kgm3));
    put(o, "end_of_job_pumping_shoe_ppg", ppg(c->shoe_kgm3));
    put(o, "peak_shoe_ppg", ppg(c->peak_shoe_kgm3));
    json_t *tight = spot_of(&c->tight);
    put(tight, "pumped_bbl", bbl(c->tight_pumped_m3));
    put_text(tight, "moment", c->tight_moment);
    json_object_set_new(o, "tightest", tight);
    put(o, "tallest_top_md_ft", feet(c->tallest_top_md_m));
    put(o, "free_fall_from_bbl", bbl(c->free_fall_from_m3));
    put(o, "free_fall_to_bbl", bbl(c->free_fall_to_m3));
    put(o, "lift_off_klbf", klbf(c->lift_off_n));
}

json_t *dt_json_cement(const dt_job *job)
{
    const dt_cement *c = &job->cement;
    if (!c->cemented) return json_null();
    json_t *o = json_object();
    if (c->part_count > 1) json_object_set_new(o, "lead", part_of(&c->parts[0]));
    json_object_set_new(o, "tail", part_of(&c->parts[c->part_count - 1]));
    if (c->part_count > 2) {
        json_t *list = json_array();
        for (size_t i = 0; i < c->part_count; ++i)
            json_array_append_new(list, part_of(&c->parts[i]));
        json_object_set_new(o, "slurries", list);
    }
    put_text(o, "top_rule", dt_cement_rule_code(c->rule));
    put(o, "top_md_ft", feet(c->top_md_m));
    put(o, "top_tvd_ft", feet(c->top_tvd_m));
    put(o, "collar_md_ft", feet(c->collar_md_m));
    put_count(o, "sacks", (size_t)c->sacks);
    put(o, "slurry_bbl", bbl(c->slurry_m3));
    put(o, "water_bbl", bbl(c->water_m3));
    put(o, "spacer_bbl", bbl(c->spacer_m3));
    put(o, "spacer_ppg", ppg(c->spacer_kgm3));
    put(o, "displacement_bbl", bbl(c->displacement_m3));
    put(o, "displacement_most_bbl", bbl(c->displacement_most_m3));
    put(o, "displacement_strokes", c->strokes);
    put(o, "job_h", hours(c->job_s));
    put_pressures(o, c);
    if (c->stage.proposed) json_object_set_new(o, "stage_tool", stage_of(&c->stage));
    put(o, "wait_h", hours(c->wait_s));
    put_text(o, "wait_by", c->wait_by_strength ? "strength" : "hours");
    return o;
}

static json_t *accessories_of(const dt_accessories *a)
{
    json_t *list = json_array();
    for (size_t i = 0; i < a->count; ++i) {
        json_t *o = json_object();
        put_text(o, "name", a->items[i].name);
        put_count(o, "count", a->items[i].count);
        put(o, "md_ft", feet(a->items[i].md_m));
        if (a->items[i].note) put_text(o, "note", a->items[i].note);
        json_array_append_new(list, o);
    }
    return list;
}

static json_t *torques_of(const dt_accessories *a)
{
    const double ft_lbf = DT_N_PER_LBF * DT_M_PER_FT;
    json_t *list = json_array();
    for (size_t i = 0; i < a->torque_count; ++i) {
        json_t *o = json_object();
        put_count(o, "section", (a->torques[i].section + 1));
        put(o, "optimum_ftlbf", a->torques[i].optimum_nm / ft_lbf);
        put(o, "least_ftlbf", a->torques[i].least_nm / ft_lbf);
        put(o, "most_ftlbf", a->torques[i].most_nm / ft_lbf);
        json_array_append_new(list, o);
    }
    return list;
}

static json_t *centralizers_of(const dt_centralizing *c)
{
    json_t *list = json_array();
    for (size_t i = 0; i < c->count; ++i) {
        const dt_centralizer_run *r = &c->runs[i];
        json_t *o = json_object();
        put(o, "top_md_ft", feet(r->top_md_m));
        put(o, "base_md_ft", feet(r->base_md_m));
        put_count(o, "count", r->count);
        put_text(o, "kind", r->kind == DT_CENTRALIZER_BOW ? "bow" : "rigid");
        put(o, "spacing_ft", feet(r->spacing_m));
        json_object_set_new(o, "rule_of_thumb", json_boolean(r->by_rule));
        put(o, "standoff_pct", 100 * r->standoff_mid);
        put(o, "side_load_lbf", r->side_n / DT_N_PER_LBF);
        put_text(o, "why", r->why);
        json_array_append_new(list, o);
    }
    return list;
}

static json_t *depths_of(const dt_running *r)
{
    json_t *list = json_array();
    for (size_t i = 0; i < r->point_count; ++i) {
        const dt_running_point *p = &r->points[i];
        json_t *o = json_object();
        put(o, "md_ft", feet(p->md_m));
        put(o, "filled_klbf", klbf(p->filled_n));
        put(o, "floated_klbf", klbf(p->floated_n));
        put(o, "up_klbf", klbf(p->up_n));
        put(o, "down_klbf", klbf(p->down_n));
        put(o, "overpull_pipe_klbf", klbf(p->overpull_pipe_n));
        put(o, "overpull_rig_klbf", klbf(p->overpull_rig_n));
        put(o, "least_joint_s", p->joint_s);
        json_array_append_new(list, o);
    }
    return list;
}

json_t *dt_json_running(const dt_job *job)
{
    const dt_running *r = &job->running;
    json_t *o = json_object();
    put_count(o, "joints", r->joints);
    put_count(o, "spare_joints", r->spare_joints);
    put_count(o, "couplings", r->couplings);
    put_count(o, "shoe_track_joints", r->track_joint_count);
    json_object_set_new(o, "range", json_integer(r->settings.range));
    put(o, "air_weight_klbf", klbf(r->air_n));
    put(o, "hookload_filled_klbf", klbf(r->hookload_filled_n));
    put(o, "hookload_floated_klbf", klbf(r->hookload_floated_n));
    put(o, "hookload_up_klbf", klbf(r->hookload_up_n));
    put(o, "hookload_down_klbf", klbf(r->hookload_down_n));
    put(o, "empty_to_md_ft", feet(r->empty_md_m));
    put_text(o, "empty_by", r->empty_by_float ? "float rating" : "collapse");
    put(o, "empty_collapse_factor", r->empty_factor);
    put(o, "fill_every_ft", feet(r->fill_every_m));
    put(o, "overpull_pipe_klbf", klbf(r->overpull_pipe_n));
    put(o, "overpull_rig_klbf", klbf(r->overpull_rig_n));
    put(o, "surge_psi", psi(r->surge_pa));
    json_object_set_new(o, "surge_tightest", spot_of(&r->surge));
    put(o, "least_joint_s", r->joint_s);
    put(o, "shock_klbf", klbf(r->shock_n));
    put(o, "hours", hours(r->time_s));
    json_object_set_new(o, "depths", depths_of(r));
    put_count(o, "centralizers", (job->centralizing.bows + job->centralizing.rigids));
    json_object_set_new(o, "centralizer_runs", centralizers_of(&job->centralizing));
    put(o, "standoff_pct", 100 * job->centralizing.standoff);
    json_object_set_new(o, "accessories", accessories_of(&job->accessories));
    json_object_set_new(o, "torque", torques_of(&job->accessories));
    return o;
}
