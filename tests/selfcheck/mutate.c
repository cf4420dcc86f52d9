/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include "selfcheck.h"

/* Claims made wrong on purpose, one of each kind the checker should notice. */

static claimed_string *last(claims *c)
{
    return c->count ? &c->strings[c->count - 1] : NULL;
}

static bool free_seat(const claims *c, size_t i)
{
    return i > 0 && i + 1 < c->count && !c->strings[i].seat.shoe_pinned;
}

static bool seat_deeper(claims *c)
{
    for (size_t i = 1; i + 1 < c->count; ++i)
        if (free_seat(c, i)) {
            c->strings[i].seat.shoe_m += 7.3;
            return true;
        }
    return false;
}

static bool seat_shallower(claims *c)
{
    for (size_t i = 1; i + 1 < c->count; ++i)
        if (free_seat(c, i)) {
            c->strings[i].seat.shoe_m -= 7.3;
            return true;
        }
    return false;
}

static bool shallowest_off(claims *c)
{
    for (size_t i = 1; i + 1 < c->count; ++i)
        if (free_seat(c, i) && c->strings[i].seat.shallowest_m + 1 < c->strings[i].seat.deepest_m) {
            c->strings[i].seat.shallowest_m += 0.5;
            return true;
        }
    return false;
}

static bool deepest_off(claims *c)
{
    for (size_t i = 1; i + 1 < c->count; ++i)
        if (free_seat(c, i) && c->strings[i].seat.shallowest_m + 1 < c->strings[i].seat.deepest_m) {
            c->strings[i].seat.deepest_m -= 0.5;
            return true;
        }
    return false;
}

static bool mud_lighter(claims *c)
{
    last(c)->seat.mud_kgm3 -= 0.5;
    return c->count > 1;
}

static bool other_type(claims *c)
{
    for (size_t i = 2; i < c->count; ++i) {
        dt_seat *s = &c->strings[i].seat;
        s->type = s->type == DT_LINER ? DT_FULL : DT_LINER;
        return true;
    }
    return false;
}

static bool hole_smaller(claims *c)
{
    last(c)->hole_m -= 0.25 * SLOW_IN;
    last(c)->bit_m -= 0.25 * SLOW_IN;
    return true;
}

static bool hole_larger(claims *c)
{
    last(c)->hole_m += 0.25 * SLOW_IN;
    return true;
}

static bool pipe_lighter(claims *c)
{
    last(c)->sections[0].pipe.weight_kgm *= 0.9;
    return true;
}

static bool grade_weaker(claims *c)
{
    claimed_pipe *p = &last(c)->sections[0].pipe;
    const char *to = strcmp(p->grade, "J55") == 0 ? "N80" : "J55";
    snprintf(p->grade, sizeof p->grade, "%s", to);
    return true;
}

static bool thread_other(claims *c)
{
    claimed_pipe *p = &last(c)->sections[0].pipe;
    p->thread = p->thread == DT_BTC ? DT_STC : DT_BTC;
    return true;
}

static bool wall_thicker(claims *c)
{
    last(c)->sections[0].pipe.wall_m += 0.001;
    return true;
}

/** The section above is drawn down to where the one below was needed. */
static bool section_longer(claims *c)
{
    for (size_t i = 0; i < c->count; ++i)
        if (c->strings[i].section_count > 1) {
            c->strings[i].sections[0].base_md_m += 40;
            return true;
        }
    return false;
}

static bool factor_of(claims *c, dt_check check)
{
    for (size_t i = c->count; i-- > 0;) {
        dt_factor *f = &c->strings[i].sections[0].by_check[check];
        if (!(f->factor < 20)) continue;
        f->factor *= 1.02;
        return true;
    }
    return false;
}

static bool burst_more(claims *c)
{
    return factor_of(c, DT_CHECK_BURST);
}

static bool collapse_more(claims *c)
{
    return factor_of(c, DT_CHECK_COLLAPSE);
}

static bool tension_more(claims *c)
{
    return factor_of(c, DT_CHECK_TENSION);
}

static bool triaxial_more(claims *c)
{
    return factor_of(c, DT_CHECK_TRIAXIAL);
}

static bool shoe_md_off(claims *c)
{
    last(c)->shoe_md_m += 0.01;
    return true;
}

static bool surface_less(claims *c)
{
    last(c)->surface_pressure_pa -= 2 * SLOW_PSI;
    return c->count > 1;
}

static bool kick_more(claims *c)
{
    if (!last(c)->kick_known || last(c)->kick.tolerance_m3 < 0.5) return false;
    last(c)->kick.tolerance_m3 *= 1.01;
    return true;
}

static bool sacks_fewer(claims *c)
{
    if (!last(c)->cement.cemented) return false;
    last(c)->cement.parts[last(c)->cement.part_count - 1].sacks -= 1;
    return true;
}

static bool slurry_less(claims *c)
{
    if (!last(c)->cement.cemented) return false;
    last(c)->cement.parts[0].volume_m3 *= 0.999;
    return true;
}

static bool slurry_other(claims *c)
{
    if (!last(c)->cement.cemented) return false;
    claimed_part *p = &last(c)->cement.parts[last(c)->cement.part_count - 1];
    snprintf(p->slurry, sizeof p->slurry, "%s", "A neat");
    return true;
}

static bool cement_lower(claims *c)
{
    if (!last(c)->cement.cemented) return false;
    last(c)->cement.top_tvd_m += 1;
    return true;
}

static bool displacement_less(claims *c)
{
    if (!last(c)->cement.cemented) return false;
    last(c)->cement.displacement_m3 *= 0.999;
    return true;
}

static bool bump_less(claims *c)
{
    if (!last(c)->cement.cemented) return false;
    last(c)->cement.bump_pa -= SLOW_PSI;
    return true;
}

static bool tight_more(claims *c)
{
    for (size_t i = 1; i < c->count; ++i)
        if (c->strings[i].cement.cemented && isfinite(c->strings[i].cement.tight_spare_pa)) {
            c->strings[i].cement.tight_spare_pa +=
                60 * SLOW_PSI; /* over a caliper log less is let pass */
            return true;
        }
    return false;
}

static bool hook_less(claims *c)
{
    last(c)->hookload_filled_n *= 0.99;
    return true;
}

static bool joints_fewer(claims *c)
{
    last(c)->joints -= 1;
    return true;
}

static bool steel_less(claims *c)
{
    c->steel_kg *= 0.999;
    return true;
}

static bool cost_other(claims *c)
{
    if (!(last(c)->bill.total > 0)) return false;
    last(c)->bill.cost[DT_COST_PIPE] += 1;
    last(c)->bill.total += 1;
    c->bill.total += 1;
    return true;
}

static bool total_other(claims *c)
{
    if (!(c->bill.total > 0)) return false;
    c->bill.total += 1;
    return true;
}

static bool days_fewer(claims *c)
{
    c->bill.days -= 0.1;
    return true;
}

static bool head_less(claims *c)
{
    for (size_t i = 1; i < c->count; ++i)
        if (c->strings[i].head.pressure_pa > 100 * SLOW_PSI) {
            c->strings[i].head.pressure_pa -= 20 * SLOW_PSI;
            return true;
        }
    return false;
}

static bool landing_more(claims *c)
{
    for (size_t i = 0; i < c->landing_count; ++i)
        if (c->landing[i].made) {
            c->landing[i].stress_factor *= 1.001;
            return true;
        }
    return false;
}

/* Figures of the last cement job: each a little off. */
static claimed_cement *job_of(claims *c)
{
    return last(c)->cement.cemented ? &last(c)->cement : NULL;
}

static bool scaled(claims *c, size_t offset, double factor)
{
    claimed_cement *job = job_of(c);
    if (!job) return false;
    double *figure = (double *)(void *)((char *)job + offset);
    if (!(fabs(*figure) > 1e-3)) return false;
    *figure *= factor;
    return true;
}

static bool collar_off(claims *c)
{
    return scaled(c, offsetof(claimed_cement, collar_md_m), 0.9999);
}

static bool spacer_less(claims *c)
{
    return scaled(c, offsetof(claimed_cement, spacer_m3), 0.99);
}

static bool spacer_lighter(claims *c)
{
    return scaled(c, offsetof(claimed_cement, spacer_kgm3), 0.999);
}

static bool test_more(claims *c)
{
    return job_of(c) && !isnan(job_of(c)->test_pa) &&
           scaled(c, offsetof(claimed_cement, test_pa), 1.001);
}

static bool wait_less(claims *c)
{
    return scaled(c, offsetof(claimed_cement, wait_s), 0.99);
}

static bool strokes_fewer(claims *c)
{
    return scaled(c, offsetof(claimed_cement, strokes), 0.999);
}

static bool job_shorter(claims *c)
{
    return scaled(c, offsetof(claimed_cement, job_s), 0.97);
}

static bool rest_less(claims *c)
{
    return scaled(c, offsetof(claimed_cement, shoe_static_kgm3), 0.999);
}

static bool pumping_less(claims *c)
{
    return scaled(c, offsetof(claimed_cement, shoe_kgm3), 0.98);
}

static bool string_missing(claims *c)
{
    if (c->count < 3) return false;
    c->strings[c->count - 2] = c->strings[c->count - 1];
    --c->count;
    return true;
}

static bool conductor_off(claims *c)
{
    c->strings[0].seat.shoe_m += 0.01;
    return true;
}

static bool class_lower(claims *c)
{
    for (size_t i = 1; i < c->count; ++i)
        if (c->strings[i].head.class_psi > 2000) {
            c->strings[i].head.class_psi = 2000;
            return true;
        }
    return false;
}

static bool hours_fewer(claims *c)
{
    last(c)->bill.hours[DT_HOURS_DRILL] -= 0.05;
    return true;
}

/* ---- liners ---------------------------------------------------------------------------------- */

static claimed_string *tieback(claims *c)
{
    return c->tieback_count ? &c->strings[c->count] : NULL;
}

/** A liner that hangs in a row of the list. */
static claimed_string *hanging(claims *c)
{
    for (size_t i = 0; i < c->count; ++i)
        if (c->strings[i].hanger != DT_NO_INDEX) return &c->strings[i];
    return NULL;
}

static bool tie_lighter(claims *c)
{
    if (!tieback(c)) return false;
    tieback(c)->sections[0].pipe.weight_kgm *= 0.9;
    return true;
}

static bool tie_grade(claims *c)
{
    if (!tieback(c)) return false;
    claimed_pipe *p = &tieback(c)->sections[0].pipe;
    snprintf(p->grade, sizeof p->grade, "%s", strcmp(p->grade, "J55") == 0 ? "N80" : "J55");
    return true;
}

static bool tie_factor(claims *c, dt_check check)
{
    if (!tieback(c)) return false;
    dt_factor *f = &tieback(c)->sections[0].by_check[check];
    if (!(f->factor < 20)) return false;
    f->factor *= 1.02;
    return true;
}

static bool tie_burst(claims *c)
{
    return tie_factor(c, DT_CHECK_BURST);
}

static bool tie_collapse(claims *c)
{
    return tie_factor(c, DT_CHECK_COLLAPSE);
}

static bool tie_tension(claims *c)
{
    return tie_factor(c, DT_CHECK_TENSION);
}

static bool tie_longer(claims *c)
{
    if (!tieback(c)) return false;
    claimed_string *t = tieback(c);
    t->shoe_md_m += 0.01;
    t->sections[t->section_count - 1].base_md_m += 0.01;
    return true;
}

static bool tie_wider(claims *c)
{
    if (!tieback(c)) return false;
    tieback(c)->od_m += 0.5 * SLOW_IN;
    return true;
}

static bool tie_mud(claims *c)
{
    if (!tieback(c)) return false;
    tieback(c)->seat.mud_kgm3 -= 0.5;
    return true;
}

static bool tie_cemented(claims *c)
{
    if (!tieback(c)) return false;
    tieback(c)->cement.cemented = true;
    return true;
}

static bool tie_elsewhere(claims *c)
{
    if (!tieback(c) || tieback(c)->seat.ties < 1) return false;
    --tieback(c)->seat.ties;
    return true;
}

static bool tie_missing(claims *c)
{
    if (!tieback(c)) return false;
    --c->tieback_count;
    return true;
}

static bool tie_untold(claims *c)
{
    if (!tieback(c)) return false;
    c->strings[tieback(c)->seat.ties].seat.tied_back = false;
    return true;
}

static bool tie_early(claims *c)
{
    for (size_t k = 1; k < c->count + c->tieback_count; ++k)
        if (c->order[k] >= c->count) {
            size_t liner = c->order[k - 1];
            c->order[k - 1] = c->order[k];
            c->order[k] = liner;
            return true;
        }
    return false;
}

static bool tie_hook(claims *c)
{
    if (!tieback(c)) return false;
    tieback(c)->hookload_up_n *= 0.99;
    return true;
}

static bool tie_joints(claims *c)
{
    if (!tieback(c)) return false;
    tieback(c)->joints += 1;
    return true;
}

static bool tie_trips(claims *c)
{
    if (!tieback(c)) return false;
    tieback(c)->bill.hours[DT_HOURS_TRIPS] += 0.05;
    return true;
}

static bool tie_receptacle(claims *c)
{
    if (!tieback(c) || !(tieback(c)->bill.cost[DT_COST_HANGER] > 0)) return false;
    tieback(c)->bill.cost[DT_COST_HANGER] -= 1;
    tieback(c)->bill.total -= 1;
    c->bill.total -= 1;
    return true;
}

static bool tie_surface(claims *c)
{
    if (!tieback(c)) return false;
    tieback(c)->surface_pressure_pa -= 2 * SLOW_PSI;
    return true;
}

static bool tie_head(claims *c)
{
    if (!tieback(c) || !(tieback(c)->head.pressure_pa > 100 * SLOW_PSI)) return false;
    tieback(c)->head.pressure_pa -= 20 * SLOW_PSI;
    return true;
}

static bool tie_drift(claims *c)
{
    if (!tieback(c)) return false;
    tieback(c)->need_drift_m += 0.25 * SLOW_IN;
    return true;
}

static bool hanger_none(claims *c)
{
    if (!hanging(c)) return false;
    hanging(c)->hanger = DT_NO_INDEX;
    return true;
}

static bool hanger_next(claims *c)
{
    if (!hanging(c)) return false;
    ++hanging(c)->hanger;
    return true;
}

static bool hanger_before(claims *c)
{
    if (!hanging(c) || hanging(c)->hanger == 0) return false;
    --hanging(c)->hanger;
    return true;
}

static bool hung_less(claims *c)
{
    if (!hanging(c)) return false;
    hanging(c)->hung.weight_n *= 0.999;
    return true;
}

static bool pressed_less(claims *c)
{
    if (!hanging(c)) return false;
    hanging(c)->hung.pressure_n *= 0.999;
    return true;
}

static bool all_hung_less(claims *c)
{
    if (!hanging(c)) return false;
    hanging(c)->hung.total_n *= 0.999;
    return true;
}

static bool hung_by_other(claims *c)
{
    if (!hanging(c)) return false;
    dt_load *by = &hanging(c)->hung.by;
    *by = *by == DT_LOAD_TENSION_BUMP ? DT_LOAD_TENSION_GREEN : DT_LOAD_TENSION_BUMP;
    return true;
}

/** As heavy a liner as no hanger bears. */
static bool liner_heavier(claims *c)
{
    if (!hanging(c)) return false;
    claimed_string *s = hanging(c);
    for (size_t k = 0; k < s->section_count; ++k)
        s->sections[k].pipe.weight_kgm *= 1.1;
    return true;
}

static claimed_string *tested(claims *c)
{
    for (size_t i = 0; i < c->count; ++i)
        if (!isnan(c->strings[i].lap_test.pressure_pa)) return &c->strings[i];
    return NULL;
}

static bool lap_less(claims *c)
{
    if (!tested(c) || !(tested(c)->lap_test.pressure_pa > 1e5)) return false;
    tested(c)->lap_test.pressure_pa *= 0.999;
    return true;
}

static bool lap_fluid(claims *c)
{
    if (!tested(c)) return false;
    tested(c)->lap_test.fluid_kgm3 += 1;
    return true;
}

static bool lap_shallow(claims *c)
{
    if (!tested(c)) return false;
    tested(c)->lap_test.base_tvd_m -= 1;
    return true;
}

static bool lap_untold(claims *c)
{
    if (!tested(c)) return false;
    tested(c)->lap_test = (dt_lap_test){NAN, NAN, NAN};
    return true;
}

static bool liner_top_off(claims *c)
{
    for (size_t i = 0; i < c->count; ++i)
        if (c->strings[i].seat.type == DT_LINER) {
            c->strings[i].top_md_m -= 1;
            c->strings[i].sections[0].top_md_m -= 1;
            return true;
        }
    return false;
}

static bool drift_less(claims *c)
{
    for (size_t i = 0; i + 1 < c->count; ++i)
        if (c->strings[i].need_drift_m > 0) {
            c->strings[i].need_drift_m -= 0.25 * SLOW_IN;
            return true;
        }
    return false;
}

/** Where two sections meet, the heavier takes an eighth of the string from the lighter. */
static bool taper_wasteful(claims *c)
{
    for (size_t i = 1; i < c->count + c->tieback_count; ++i) {
        claimed_string *s = &c->strings[i];
        double length = (s->shoe_md_m - s->top_md_m) / 8;
        for (size_t k = 0; k + 1 < s->section_count && !s->pin_fails; ++k) {
            claimed_section *a = &s->sections[k], *b = &s->sections[k + 1];
            double more = a->pipe.weight_kgm - b->pipe.weight_kgm;
            const claimed_section *light = more > 0 ? b : a;
            if (length < 100 || light->base_md_m - light->top_md_m < 2 * length) continue;
            if (fabs(more) < 5) continue; /* kg/m: else an eighth is within what is allowed */
            a->base_md_m += more > 0 ? length : -length;
            b->top_md_m = a->base_md_m;
            s->steel_kg += fabs(more) * length;
            return true;
        }
    }
    return false;
}

static bool surge_less(claims *c)
{
    last(c)->surge_pa *= 0.97;
    return c->count > 1;
}

static bool surge_left(claims *c)
{
    if (!(fabs(last(c)->surge_spare_pa) < 1e9)) return false;
    last(c)->surge_spare_pa += 10 * SLOW_PSI + 0.03 * last(c)->surge_pa;
    return c->count > 1;
}

/** Where a speed is named: half of it again. */
/** Slower than a minute a joint the mud hardly resists by speed: half as fast again is then within
 * what the checker lets pass. */
static bool joint_faster(claims *c)
{
    for (size_t i = 1; i < c->count; ++i)
        if (c->strings[i].joint_s > 0 && c->strings[i].joint_s < 60) {
            c->strings[i].joint_s /= 2;
            return true;
        }
    return false;
}

static bool joint_free(claims *c)
{
    for (size_t i = 1; i < c->count; ++i)
        if (c->strings[i].joint_s > 6 && isfinite(c->strings[i].joint_s)) {
            c->strings[i].joint_s = 0;
            return true;
        }
    return false;
}

static bool overpull_more(claims *c)
{
    last(c)->overpull_pipe_n += 0.1 * last(c)->hookload_filled_n + 1e4;
    return true;
}

static bool rig_more(claims *c)
{
    if (isnan(last(c)->overpull_rig_n)) return false;
    last(c)->overpull_rig_n += 0.01 * last(c)->hookload_filled_n + 1e4;
    return true;
}

/** Surge that is said to stop the last string, where well over the checker's band is left. */
static bool stopper_more(claims *c)
{
    const double left = last(c)->surge_spare_pa;
    if (c->count < 2 || !(left > 20 * SLOW_PSI + 0.05 * last(c)->surge_pa)) return false;
    c->stoppers[c->stopper_count++] = (claimed_stopper){DT_NOTICE_SURGE, c->count - 1};
    return true;
}

static void take_away(claims *c, size_t stopper)
{
    for (size_t i = stopper + 1; i < c->stopper_count; ++i)
        c->stoppers[i - 1] = c->stoppers[i];
    --c->stopper_count;
}

/** A stopper of running that is kept quiet. */
static bool surge_untold(claims *c)
{
    for (size_t i = 0; i < c->stopper_count; ++i) {
        const claimed_stopper *s = &c->stoppers[i];
        if (s->code != DT_NOTICE_SURGE) continue;
        const claimed_string *at = &c->strings[s->string];
        if (!(at->surge_spare_pa < -20 * SLOW_PSI - 0.05 * at->surge_pa)) continue;
        take_away(c, i);
        return true;
    }
    return false;
}

/** Cement that breaks rock by more than the margin, kept quiet. */
static bool broken_untold(claims *c)
{
    for (size_t i = 0; i < c->stopper_count; ++i) {
        const claimed_stopper *s = &c->stoppers[i];
        if (s->code != DT_NOTICE_CEMENT_BREAKS_FORMATION) continue;
        if (!(c->strings[s->string].cement.tight_spare_pa < -600 * SLOW_PSI)) continue;
        take_away(c, i);
        return true;
    }
    return false;
}

static bool end_untold(claims *c)
{
    for (size_t i = 0; i < c->stopper_count; ++i)
        if (c->stoppers[i].code == DT_NOTICE_NO_DRAFT_CLOSES) {
            take_away(c, i);
            return true;
        }
    return false;
}

static const mutation list[] = {
    {"seat-deeper", "a shoe 7.3 m deeper", seat_deeper, NULL},
    {"seat-shallower", "a shoe 7.3 m shallower", seat_shallower, NULL},
    {"shallowest-off", "the shallowest seat half a metre deeper", shallowest_off, NULL},
    {"deepest-off", "the deepest seat half a metre shallower", deepest_off, NULL},
    {"mud-lighter", "mud of the last hole 0.5 kg/m3 lighter", mud_lighter, NULL},
    {"other-type", "liner for full string, or the other way round", other_type, NULL},
    {"hole-smaller", "the last hole and its bit 1/4 in smaller", hole_smaller, NULL},
    {"hole-larger", "the last hole 1/4 in larger than its bit", hole_larger, NULL},
    {"pipe-lighter", "the top of the last string a tenth lighter", pipe_lighter, NULL},
    {"grade-weaker", "the top of the last string in another grade", grade_weaker, NULL},
    {"thread-other", "the top of the last string with another thread", thread_other, NULL},
    {"wall-thicker", "wall of the last string 1 mm thicker", wall_thicker, NULL},
    {"section-longer", "the upper section of a tapered string 40 m longer", section_longer, NULL},
    {"burst-more", "a burst factor 2 % larger", burst_more, NULL},
    {"collapse-more", "a collapse factor 2 % larger", collapse_more, NULL},
    {"tension-more", "a tension factor 2 % larger", tension_more, NULL},
    {"triaxial-more", "a triaxial factor 2 % larger", triaxial_more, NULL},
    {"shoe-md-off", "MD of the last shoe 1 cm deeper", shoe_md_off, NULL},
    {"surface-less", "gas at the surface 2 psi less", surface_less, NULL},
    {"kick-more", "kick tolerance 1 % more", kick_more, NULL},
    {"sacks-fewer", "one sack less", sacks_fewer, NULL},
    {"slurry-less", "a thousandth less slurry", slurry_less, NULL},
    {"slurry-other", "another slurry", slurry_other, NULL},
    {"cement-lower", "top of cement 1 m deeper", cement_lower, NULL},
    {"displacement-less", "a thousandth less displacement", displacement_less, NULL},
    {"bump-less", "bump 1 psi less", bump_less, NULL},
    {"tight-more", "60 psi more left at the narrowest moment", tight_more, "narrowest"},
    {"hook-less", "hook load 1 % less", hook_less, NULL},
    {"joints-fewer", "one joint less", joints_fewer, NULL},
    {"steel-less", "a thousandth less steel", steel_less, NULL},
    {"cost-other", "pipe of the last string dearer by 1, in every sum", cost_other, NULL},
    {"total-other", "the total dearer by 1", total_other, NULL},
    {"days-fewer", "a tenth of a day less", days_fewer, NULL},
    {"head-less", "20 psi less at a wellhead", head_less, NULL},
    {"collar-off", "float collar a ten-thousandth shallower", collar_off, NULL},
    {"spacer-less", "spacer 1 % less", spacer_less, NULL},
    {"spacer-lighter", "spacer a thousandth lighter", spacer_lighter, NULL},
    {"test-more", "casing test a thousandth higher", test_more, NULL},
    {"wait-less", "waiting on cement 1 % shorter", wait_less, NULL},
    {"strokes-fewer", "a thousandth fewer strokes", strokes_fewer, NULL},
    {"job-shorter", "cement job 3 % shorter", job_shorter, NULL},
    {"rest-less", "a thousandth less at the shoe at rest", rest_less, NULL},
    {"pumping-less", "2 % less at the shoe while pumping", pumping_less, NULL},
    {"string-missing", "the string before the last left out", string_missing, NULL},
    {"conductor-off", "conductor 1 cm deeper", conductor_off, NULL},
    {"class-lower", "a wellhead class lower", class_lower, NULL},
    {"hours-fewer", "three minutes less of drilling", hours_fewer, NULL},
    {"landing-more", "a landing factor a thousandth larger", landing_more, NULL},
    {"tie-lighter", "the top of a tie-back a tenth lighter", tie_lighter, NULL},
    {"tie-grade", "the top of a tie-back in another grade", tie_grade, NULL},
    {"tie-burst", "burst factor of a tie-back 2 % larger", tie_burst, NULL},
    {"tie-collapse", "collapse factor of a tie-back 2 % larger", tie_collapse, NULL},
    {"tie-tension", "tension factor of a tie-back 2 % larger", tie_tension, NULL},
    {"tie-longer", "a tie-back 1 cm longer", tie_longer, NULL},
    {"tie-wider", "a tie-back half an inch wider than its liner", tie_wider, NULL},
    {"tie-mud", "run in mud 0.5 kg/m3 lighter than its liner", tie_mud, NULL},
    {"tie-cemented", "a tie-back with cement", tie_cemented, NULL},
    {"tie-elsewhere", "a tie-back on the string above its liner", tie_elsewhere, NULL},
    {"tie-missing", "a tie-back left out", tie_missing, NULL},
    {"tie-untold", "a liner that does not know of its tie-back", tie_untold, NULL},
    {"tie-early", "a tie-back run before its liner", tie_early, NULL},
    {"tie-hook", "hook load of a tie-back 1 % less", tie_hook, NULL},
    {"tie-joints", "a joint more in a tie-back", tie_joints, NULL},
    {"tie-trips", "three minutes more to clean the receptacle out", tie_trips, NULL},
    {"tie-receptacle", "a receptacle cheaper by 1, in every sum", tie_receptacle, NULL},
    {"tie-surface", "gas at the top of a tie-back 2 psi less", tie_surface, NULL},
    {"tie-head", "20 psi less at the wellhead of a tie-back", tie_head, NULL},
    {"tie-drift", "a tie-back for a bit 1/4 in larger", tie_drift, NULL},
    {"drift-less", "pipe for a bit 1/4 in smaller", drift_less, NULL},
    {"hanger-none", "a liner that hangs in nothing", hanger_none, NULL},
    {"hanger-next", "the next hanger of the list", hanger_next, NULL},
    {"hanger-before", "the hanger of the list before", hanger_before, NULL},
    {"hung-less", "a thousandth less weight on a hanger", hung_less, NULL},
    {"pressed-less", "a thousandth less pressed on a hanger", pressed_less, NULL},
    {"all-hung-less", "a thousandth less in all on a hanger", all_hung_less, NULL},
    {"hung-by-other", "by the other of the two cases", hung_by_other, NULL},
    {"liner-heavier", "a liner on a hanger a tenth heavier", liner_heavier, NULL},
    {"liner-top-off", "top of a liner 1 m higher", liner_top_off, NULL},
    {"lap-less", "a liner-top test a thousandth less", lap_less, NULL},
    {"lap-fluid", "a liner-top test in fluid 1 kg/m3 heavier", lap_fluid, NULL},
    {"lap-shallow", "a liner pressed to 1 m less", lap_shallow, NULL},
    {"lap-untold", "a liner-top test left out", lap_untold, NULL},
    {"surge-less", "3 % less surge at the last shoe", surge_less, "surge"},
    {"surge-left", "10 psi and 3 % more left by surge", surge_left, "surge"},
    {"joint-faster", "a joint let down twice as fast", joint_faster, "joint-time"},
    {"joint-free", "a joint let down as fast as you like", joint_free, "joint-time"},
    {"overpull-more", "more pull left in the pipe", overpull_more, "overpull"},
    {"rig-more", "more pull left in the rig", rig_more, "overpull"},
    {"stopper-more", "surge that stops a string it does not stop", stopper_more, "stopper"},
    {"surge-untold", "surge that stops a string kept quiet", surge_untold, "stopper"},
    {"broken-untold", "rock that cement breaks kept quiet", broken_untold, "stopper"},
    {"end-untold", "that no draft closes kept quiet", end_untold, "stopper"},
    {"taper-wasteful", "an eighth of a string in the heavier of two pipes", taper_wasteful,
     "taper"},
};

const mutation *mutations(size_t *count)
{
    *count = sizeof list / sizeof *list;
    return list;
}

const mutation *mutation_find(const char *name)
{
    for (size_t i = 0; i < sizeof list / sizeof *list; ++i)
        if (strcmp(list[i].name, name) == 0) return &list[i];
    return NULL;
}
