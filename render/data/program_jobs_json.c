/* SPDX-License-Identifier: MIT */
/* "cement" and "running" of program.json: field units, numbers not rounded. */
#include <math.h>

#include "json_parts.h"
#include "units.h"

static json_t *part_of(const dt_cement_part *p)
{
    const double ft3 = DT_M_PER_FT * DT_M_PER_FT * DT_M_PER_FT;
    json_t *o = json_object();
    dt_json_put_text(&o, "slurry", p->slurry.name);
    dt_json_put(&o, "density_ppg", ppg(p->slurry.density_kgm3));
    dt_json_put(&o, "yield_ft3_sk", p->slurry.yield_m3 / ft3);
    dt_json_put(&o, "sack_lb", p->slurry.sack_kg / DT_KG_PER_LB);
    dt_json_put(&o, "top_md_ft", feet(p->top_md_m));
    dt_json_put(&o, "base_md_ft", feet(p->base_md_m));
    dt_json_put(&o, "excess_pct", 100 * p->excess);
    dt_json_put_text(&o, "excess_on", p->excess_on == DT_EXCESS_ANNULUS ? "annulus" : "open-hole");
    dt_json_put(&o, "overlap_bbl", bbl(p->cased_m3));
    dt_json_put(&o, "open_hole_bbl", bbl(p->open_m3));
    dt_json_put(&o, "rathole_bbl", bbl(p->rathole_m3));
    dt_json_put(&o, "shoe_track_bbl", bbl(p->track_m3));
    dt_json_put(&o, "slurry_bbl", bbl(p->volume_m3));
    dt_json_put_count(&o, "sacks", (size_t)p->sacks);
    dt_json_put(&o, "water_bbl", bbl(p->water_m3));
    return o;
}

static json_t *spot_of(const dt_tight_spot *t)
{
    if (isinf(t->spare_pa)) return json_null();
    json_t *o = json_object();
    dt_json_put(&o, "md_ft", feet(t->md_m));
    dt_json_put(&o, "tvd_ft", feet(t->tvd_m));
    dt_json_put(&o, "pressure_psi", psi(t->pressure_pa));
    dt_json_put(&o, "fracture_psi", psi(t->fracture_pa));
    dt_json_put(&o, "margin_psi", psi(t->fracture_pa - t->pressure_pa));
    dt_json_put(&o, "margin_wanted_psi", psi(t->needed_pa));
    return o;
}

static json_t *stage_of(const dt_stage_tool *s)
{
    json_t *o = json_object();
    dt_json_put(&o, "md_ft", feet(s->md_m));
    dt_json_put(&o, "tvd_ft", feet(s->tvd_m));
    dt_json_put_new(&o, "in_casing", json_boolean(s->in_casing));
    dt_json_put(&o, "second_stage_bbl", bbl(s->volume_m3));
    dt_json_put_count(&o, "second_stage_sacks", (size_t)s->sacks);
    return o;
}

static void put_pressures(json_t **o, const dt_cement *c)
{
    dt_json_put(o, "float_differential_psi", psi(c->lift_pa));
    dt_json_put(o, "bump_psi", psi(c->bump_pa));
    dt_json_put(o, "test_psi", psi(c->test_pa));
    dt_json_put_text(o, "test_rule", dt_test_rule_words(c->settings.test));
    dt_json_put(o, "pump_psi", psi(c->pump_pa));
    dt_json_put(o, "end_of_job_shoe_ppg", ppg(c->shoe_static_kgm3));
    dt_json_put(o, "end_of_job_pumping_shoe_ppg", ppg(c->shoe_kgm3));
    dt_json_put(o, "peak_shoe_ppg", ppg(c->peak_shoe_kgm3));
    json_t *tight = spot_of(&c->tight);
    if (json_is_object(tight)) {
        dt_json_put(&tight, "pumped_bbl", bbl(c->tight_pumped_m3));
        dt_json_put_text(&tight, "moment", c->tight_moment);
    }
    dt_json_put_new(o, "tightest", tight);
    dt_json_put(o, "tallest_top_md_ft", feet(c->tallest_top_md_m));
    dt_json_put(o, "free_fall_from_bbl", bbl(c->free_fall_from_m3));
    dt_json_put(o, "free_fall_to_bbl", bbl(c->free_fall_to_m3));
    dt_json_put(o, "lift_off_klbf", klbf(c->lift_off_n));
}

json_t *dt_json_cement(const dt_job *job)
{
    const dt_cement *c = &job->cement;
    if (!c->cemented) return json_null();
    json_t *o = json_object();
    if (c->part_count > 1) dt_json_put_new(&o, "lead", part_of(&c->parts[0]));
    dt_json_put_new(&o, "tail", part_of(&c->parts[c->part_count - 1]));
    if (c->part_count > 2) {
        json_t *list = json_array();
        for (size_t i = 0; i < c->part_count; ++i)
            dt_json_append(&list, part_of(&c->parts[i]));
        dt_json_put_new(&o, "slurries", list);
    }
    dt_json_put_text(&o, "top_rule", dt_cement_rule_code(c->rule));
    dt_json_put(&o, "top_md_ft", feet(c->top_md_m));
    dt_json_put(&o, "top_tvd_ft", feet(c->top_tvd_m));
    dt_json_put(&o, "collar_md_ft", feet(c->collar_md_m));
    dt_json_put_count(&o, "sacks", (size_t)c->sacks);
    dt_json_put(&o, "slurry_bbl", bbl(c->slurry_m3));
    dt_json_put(&o, "water_bbl", bbl(c->water_m3));
    dt_json_put(&o, "spacer_bbl", bbl(c->spacer_m3));
    dt_json_put(&o, "spacer_ppg", ppg(c->spacer_kgm3));
    dt_json_put(&o, "displacement_bbl", bbl(c->displacement_m3));
    dt_json_put(&o, "displacement_most_bbl", bbl(c->displacement_most_m3));
    dt_json_put(&o, "displacement_strokes", c->strokes);
    dt_json_put(&o, "job_h", hours(c->job_s));
    put_pressures(&o, c);
    if (c->stage.proposed) dt_json_put_new(&o, "stage_tool", stage_of(&c->stage));
    dt_json_put(&o, "wait_h", hours(c->wait_s));
    dt_json_put_text(&o, "wait_by", c->wait_by_strength ? "strength" : "hours");
    return o;
}

static json_t *accessories_of(const dt_accessories *a)
{
    json_t *list = json_array();
    for (size_t i = 0; i < a->count; ++i) {
        json_t *o = json_object();
        dt_json_put_text(&o, "name", a->items[i].name);
        dt_json_put_count(&o, "count", a->items[i].count);
        dt_json_put(&o, "md_ft", feet(a->items[i].md_m));
        if (a->items[i].note) dt_json_put_text(&o, "note", a->items[i].note);
        dt_json_append(&list, o);
    }
    return list;
}

static json_t *torques_of(const dt_accessories *a)
{
    const double ft_lbf = DT_N_PER_LBF * DT_M_PER_FT;
    json_t *list = json_array();
    for (size_t i = 0; i < a->torque_count; ++i) {
        json_t *o = json_object();
        dt_json_put_count(&o, "section", (a->torques[i].section + 1));
        dt_json_put(&o, "optimum_ftlbf", a->torques[i].optimum_nm / ft_lbf);
        dt_json_put(&o, "least_ftlbf", a->torques[i].least_nm / ft_lbf);
        dt_json_put(&o, "most_ftlbf", a->torques[i].most_nm / ft_lbf);
        dt_json_append(&list, o);
    }
    return list;
}

static json_t *centralizers_of(const dt_centralizing *c)
{
    json_t *list = json_array();
    for (size_t i = 0; i < c->count; ++i) {
        const dt_centralizer_run *r = &c->runs[i];
        json_t *o = json_object();
        dt_json_put(&o, "top_md_ft", feet(r->top_md_m));
        dt_json_put(&o, "base_md_ft", feet(r->base_md_m));
        dt_json_put_count(&o, "count", r->count);
        dt_json_put_text(&o, "kind", r->kind == DT_CENTRALIZER_BOW ? "bow" : "rigid");
        dt_json_put(&o, "spacing_ft", feet(r->spacing_m));
        dt_json_put_new(&o, "rule_of_thumb", json_boolean(r->by_rule));
        dt_json_put(&o, "standoff_pct", 100 * r->standoff_mid);
        dt_json_put(&o, "side_load_lbf", r->side_n / DT_N_PER_LBF);
        dt_json_put_text(&o, "why", r->why);
        dt_json_append(&list, o);
    }
    return list;
}

static json_t *depths_of(const dt_running *r, bool in_open_hole)
{
    json_t *list = json_array();
    for (size_t i = 0; i < r->point_count; ++i) {
        const dt_running_point *p = &r->points[i];
        json_t *o = json_object();
        dt_json_put(&o, "md_ft", feet(p->md_m));
        dt_json_put(&o, "filled_klbf", klbf(p->filled_n));
        dt_json_put(&o, "floated_klbf", klbf(p->floated_n));
        dt_json_put(&o, "up_klbf", klbf(p->up_n));
        dt_json_put(&o, "down_klbf", klbf(p->down_n));
        dt_json_put(&o, "overpull_pipe_klbf", klbf(p->overpull_pipe_n));
        dt_json_put(&o, "overpull_rig_klbf", klbf(p->overpull_rig_n));
        if (in_open_hole) dt_json_put(&o, "least_joint_s", p->joint_s);
        dt_json_append(&list, o);
    }
    return list;
}

json_t *dt_json_running(const dt_job *job, bool in_open_hole)
{
    const dt_running *r = &job->running;
    json_t *o = json_object();
    dt_json_put_count(&o, "joints", r->joints);
    dt_json_put_count(&o, "spare_joints", r->spare_joints);
    dt_json_put_count(&o, "couplings", r->couplings);
    if (in_open_hole) dt_json_put_count(&o, "shoe_track_joints", r->track_joint_count);
    dt_json_put_new(&o, "range", json_integer(r->settings.range));
    dt_json_put(&o, "air_weight_klbf", klbf(r->air_n));
    dt_json_put(&o, "hookload_filled_klbf", klbf(r->hookload_filled_n));
    dt_json_put(&o, "hookload_floated_klbf", klbf(r->hookload_floated_n));
    dt_json_put(&o, "hookload_up_klbf", klbf(r->hookload_up_n));
    dt_json_put(&o, "hookload_down_klbf", klbf(r->hookload_down_n));
    dt_json_put(&o, "flotation_collar_md_ft", feet(r->floated_md_m));
    if (r->buckling.part > 0) {
        dt_json_put(&o, "pushed_klbf", klbf(r->buckling.pushed_n));
        dt_json_put(&o, "helix_from_klbf", klbf(r->buckling.helix_n));
    }
    if (!r->fills_itself) {
        dt_json_put(&o, "empty_to_md_ft", feet(r->empty_md_m));
        dt_json_put_text(&o, "empty_by", r->empty_by_float ? "float rating" : "collapse");
        dt_json_put(&o, "empty_collapse_factor", r->empty_factor);
        dt_json_put(&o, "fill_every_ft", feet(r->fill_every_m));
    }
    dt_json_put(&o, "overpull_pipe_klbf", klbf(r->overpull_pipe_n));
    dt_json_put(&o, "overpull_rig_klbf", klbf(r->overpull_rig_n));
    if (in_open_hole && !r->fills_itself) {
        dt_json_put(&o, "surge_psi", psi(r->surge_pa));
        dt_json_put_new(&o, "surge_tightest", spot_of(&r->surge));
        dt_json_put(&o, "least_joint_s", r->joint_s);
    }
    dt_json_put(&o, "shock_klbf", klbf(r->shock_n));
    dt_json_put(&o, "hours", hours(r->time_s));
    dt_json_put_new(&o, "depths", depths_of(r, in_open_hole && !r->fills_itself));
    if (in_open_hole) {
        dt_json_put_count(&o, "centralizers", (job->centralizing.bows + job->centralizing.rigids));
        dt_json_put_new(&o, "centralizer_runs", centralizers_of(&job->centralizing));
        dt_json_put(&o, "standoff_pct", 100 * job->centralizing.standoff);
    }
    dt_json_put_new(&o, "accessories", accessories_of(&job->accessories));
    dt_json_put_new(&o, "torque", torques_of(&job->accessories));
    return o;
}
