/* SPDX-License-Identifier: MIT */
/* How every string of a program is run and cemented, and what to warn of. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "customs_words.h"
#include "program_parts.h"
#include "units.h"

/* What is stated in two places with other units or digits is the same. */
#define SAME_FLUID_KGM3  (0.05 * DT_KGM3_PER_PPG)
#define SAME_PRESSURE_PA (10 * DT_PA_PER_PSI)

static dt_status plan_job(const dt_stages *stages, size_t i, dt_job *job)
{
    dt_status status = dt_running_plan(stages, i, &job->running);
    const bool tieback = stages->seats->items[i].type == DT_TIEBACK;
    if (tieback) { /* landed in a receptacle: nothing is pumped round it, nothing holds it off */
        job->cement = (dt_cement){.rule = DT_CEMENT_NONE, .top_md_m = NAN, .top_tvd_m = NAN};
        job->centralizing.standoff = NAN;
    }
    if (status == DT_OK && !tieback) {
        status = dt_cement_plan(stages, i, job->running.track_m, &job->cement);
        job->cement_refused = status == DT_E_DOMAIN;
        if (job->cement_refused) status = DT_OK; /* a warning says what and why */
    }
    if (status == DT_OK && !tieback)
        status = dt_centralizers_plan(stages, i, &job->cement, job->running.settings.joint_m,
                                      &job->centralizing);
    if (status == DT_OK)
        status = dt_accessories_plan(stages, i, &job->cement, &job->running, &job->centralizing,
                                     &job->accessories);
    return status;
}

dt_status dt_program_jobs(dt_program *p)
{
    dt_stages stages = {.well = p->well,
                        .window = &p->window,
                        .trajectory = &p->trajectory,
                        .seats = &p->seats,
                        .nest = &p->nest,
                        .strings = &p->strings,
                        .catalogue = p->catalogue,
                        .design = &p->design};
    const size_t strings = p->seats.count + p->seats.tieback_count;
    p->jobs = calloc(strings, sizeof *p->jobs);
    if (!p->jobs) return DT_E_MEMORY;
    for (size_t i = 0; i < strings; ++i) {
        dt_status status = plan_job(&stages, i, &p->jobs[i]);
        if (status != DT_OK) return status;
    }
    return DT_OK;
}

/* ---- why the cement ends where it does ---- */

dt_status dt_cement_top_phrase(const dt_program *program, size_t index, dt_display display,
                               char **out)
{
    const dt_cement *c = &program->jobs[index].cement;
    const dt_well *well = program->well;
    const char *zone = NULL;
    double zone_m = NAN;
    if (c->zone_pay != DT_NO_INDEX) {
        zone = well->pays[c->zone_pay].name;
        zone_m = well->pays[c->zone_pay].top_m;
    } else if (c->zone_interval != DT_NO_INDEX) {
        zone = well->intervals[c->zone_interval].name;
        zone_m = well->intervals[c->zone_interval].top_m;
    }
    sentence s = {0};
    if (c->rule != DT_CEMENT_ABOVE_SHOE)
        say(&s, "%s", dt_cement_rule_words(c->rule));
    else if (zone)
        say(&s, "%s above %s, whose top is at %s TVD",
            show(display, DT_KIND_LENGTH, c->settings.above_shoe_m).text, zone,
            show(display, DT_KIND_LENGTH, zone_m).text);
    else
        say(&s, "%s above the shoe", show(display, DT_KIND_LENGTH, c->settings.above_shoe_m).text);
    return sentence_take(&s, out);
}

/* ---- what the file left to custom ---- */

typedef struct custom {
    bool unsaid;
    const char *words;
} custom;

static dt_status warn_of_custom(dt_program *p, const char *code, const char *page,
                                const custom *list, size_t count)
{
    sentence text = {0};
    size_t said = 0;
    for (size_t i = 0; i < count; ++i) {
        if (!list[i].unsaid) continue;
        say(&text, "%s", said++ ? ", " : "not stated, so as customary: ");
        dt_say_customs(&text, p->well, list[i].words);
    }
    if (said == 0) return DT_OK;
    say(&text, " (%s says where each comes from)", page);
    return dt_program_warn(p, code, "well", &text);
}

static dt_status warn_of_customs(dt_program *p)
{
    const dt_cement_wishes *c = &p->well->cementing;
    const dt_running_wishes *r = &p->well->running;
    const dt_rheology *f = &p->well->rheology;
    const double rathole_m = dt_custom_value_of(p->well, DT_CUSTOM_CEMENTING_RATHOLE);
    const custom cement[] = {
        {!c->lead, "lead {cementing lead}, or the heaviest lighter one that the rock bears"},
        {!c->tail, "tail {cementing tail}, or H heavier than the mud"},
        {isnan(c->tail_length_m), "{cementing tail_length} of tail"},
        {isnan(c->above_shoe_m), "cement {cementing above_shoe} above shoe and zones"},
        {isnan(c->excess), "excess {cementing by_role surface excess} of the open hole for "
                           "conductor and surface, {cementing by_role production excess} below, "
                           "{cementing excess_by_caliper} over a caliper log"},
        {isnan(c->rathole_m) && !(rathole_m > 0), "no rathole"},
        {isnan(c->rathole_m) && rathole_m > 0, "{cementing rathole} of rathole"},
        {isnan(c->spacer_length_m) || isnan(c->spacer_kgm3),
         "{cementing spacer_length} of spacer halfway between mud and slurry"},
        {!c->margin_given, "{cementing margin} kept under the fracture gradient"},
        {isnan(c->mix_rate_m3s) || isnan(c->displacement_rate_m3s),
         "mixed at {#cementing mix_rate displacement_rate} and displaced at {cementing "
         "displacement_rate}, at most {cementing most_speed} in the annulus"},
        {c->test == DT_TEST_COUNT && !p->well->loads.test_count,
         "tested to 70 % of internal yield"},
        {isnan(c->wait_s),
         "{cementing by_role surface wait} of waiting, {cementing by_role production wait} for "
         "production"},
        {isnan(f->mud_pv_pas + f->mud_yp_pa + f->spacer_pv_pas + f->spacer_yp_pa +
               f->slurry_pv_pas + f->slurry_yp_pa),
         "mud and spacer of {rheology mud_pv} and {rheology mud_yp}, slurry of {rheology "
         "slurry_pv} "
         "and {#rheology slurry_yp mud_yp}"},
    };
    const custom running[] = {
        {isnan(r->range) && isnan(r->joint_m),
         "range {running range} joints of {running joints = joint_length}"},
        {isnan(r->spares), "{running spares} spare joints"},
        {isnan(r->friction_cased) || isnan(r->friction_open),
         "friction {running friction_cased} in pipe, {running friction_open} in rock"},
        {isnan(r->collapse_factor), "collapse factor {running collapse_factor} while empty"},
        {isnan(r->joint_time_s), "{running joint_time} to lower a joint"},
        {isnan(r->rig_n), "no limit of the rig"},
        {isnan(r->standoff), "standoff {running standoff}"},
    };
    dt_status status = warn_of_custom(p, "cementing-customary", "docs/cement.md", cement,
                                      sizeof cement / sizeof *cement);
    if (status == DT_OK)
        status = warn_of_custom(p, "running-customary", "docs/running.md", running,
                                sizeof running / sizeof *running);
    if (status == DT_OK && r->scratchers && r->movement == DT_MOVE_NONE) {
        sentence text = {0};
        say(&text, "scratchers only work while the pipe is moved: none is planned");
        status = dt_program_warn(p, "scratchers-need-movement", "well", &text);
    }
    return status;
}

/* ---- cement ---- */

typedef struct scribe {
    dt_program *p;
    dt_display display;
    const char *name; /* of the string */
    const dt_job *job;
    dt_status status;
} scribe;

static shown depth(const scribe *s, double m)
{
    return show(s->display, DT_KIND_LENGTH, m);
}

static shown pressure(const scribe *s, double pa)
{
    return show(s->display, DT_KIND_PRESSURE, pa);
}

static void warn(scribe *s, const char *code, sentence *text)
{
    dt_status status = dt_program_warn(s->p, code, s->name, text);
    if (s->status == DT_OK) s->status = status;
}

static void warn_of_column(scribe *s)
{
    const dt_cement *c = &s->job->cement;
    const dt_tight_spot *t = &c->tight;
    if (!(t->spare_pa < 0)) return;
    sentence text = {0};
    bool breaks = t->pressure_pa > t->fracture_pa;
    double left = t->fracture_pa - t->pressure_pa;
    say(&text, "%s: %s the annulus reaches %s at %s TVD, where the rock breaks at %s: ",
        breaks ? "the cement job breaks the formation" : "the cement job leaves too little margin",
        c->tight_moment, pressure(s, t->pressure_pa).text, depth(s, t->tvd_m).text,
        pressure(s, t->fracture_pa).text);
    say(&text, breaks ? "%s too much, margin of %s not counted" : "a margin of %s, %s is wanted",
        pressure(s, fabs(left)).text, pressure(s, t->needed_pa).text);
    if (isnan(c->tallest_top_md_m))
        say(&text, "; with that margin the rock does not bear even mud and spacer at "
                   "this rate");
    else if (c->tallest_top_md_m > c->top_md_m + 0.1)
        say(&text, "; with these slurries it bears a top no higher than %s MD",
            depth(s, c->tallest_top_md_m).text);
    warn(s, breaks ? "cement-breaks-formation" : "cement-margin-small", &text);
}

static void warn_of_stage(scribe *s)
{
    const dt_cement *c = &s->job->cement;
    sentence text = {0};
    if (c->stage.proposed) {
        say(&text,
            "one stage %s: a stage tool at %s MD (%s) is proposed; the second stage takes "
            "%.0f sacks of %s",
            c->stage.for_time ? "takes longer than the slurry stays pumpable"
                              : "cannot reach the planned top",
            depth(s, c->stage.md_m).text,
            c->stage.in_casing ? "inside the casing before" : "in hard gauge rock", c->stage.sacks,
            c->parts[0].slurry.name);
        if (c->stage.spare_pa < 0)
            say(&text, "; it too breaks the margin, by %s", pressure(s, -c->stage.spare_pa).text);
        warn(s, "stage-tool-proposed", &text);
    } else if (c->job_s + 3600 > c->settings.thickening_s) {
        say(&text, "the job takes %s and an hour in reserve, the slurry thickens after %s",
            show(s->display, DT_KIND_TIME, c->job_s).text,
            show(s->display, DT_KIND_TIME, c->settings.thickening_s).text);
        warn(s, "cement-too-slow", &text);
    }
}

static void warn_of_light_slurry(scribe *s)
{
    const dt_cement *c = &s->job->cement;
    for (size_t i = 0; i < c->part_count; ++i) {
        const dt_slurry_spec *slurry = &c->parts[i].slurry;
        if (slurry->density_kgm3 > c->mud_kgm3) continue;
        sentence text = {0};
        say(&text, "%s of %s is no heavier than the mud of %s, and would not push it out",
            slurry->name, show(s->display, DT_KIND_DENSITY, slurry->density_kgm3).text,
            show(s->display, DT_KIND_DENSITY, c->mud_kgm3).text);
        warn(s, "slurry-lighter-than-mud", &text);
    }
}

static void warn_of_set(scribe *s)
{
    const dt_cement *c = &s->job->cement;
    if (c->strength_never) {
        sentence text = {0};
        say(&text, "the strengths stated never reach %s: the wait of %s is by hours alone",
            pressure(s, c->settings.wait_strength_pa).text,
            show(s->display, DT_KIND_TIME, c->wait_s).text);
        warn(s, "strength-not-reached", &text);
    }
    if (c->test_pa > c->internal_yield_pa) {
        sentence text = {0};
        say(&text, "the test of %s is over the internal yield of the weakest pipe, %s",
            pressure(s, c->test_pa).text, pressure(s, c->internal_yield_pa).text);
        warn(s, "test-over-yield", &text);
    }
    if (c->lift_off_n > 0) {
        sentence text = {0};
        say(&text,
            "the cement can lift the string: the pressure under it exceeds its weight by "
            "%s; chain it down",
            show(s->display, DT_KIND_FORCE, c->lift_off_n).text);
        warn(s, "string-may-rise", &text);
    }
    if (isnan(c->water_m3)) {
        sentence text = {0};
        say(&text, "a slurry states no mix water: the water is not added up");
        warn(s, "mix-water-not-stated", &text);
    }
}

/** <loads> and <cementing> speak of one job: the pipe is held against what the first says. */
static void warn_of_loads(scribe *s)
{
    const dt_cement *c = &s->job->cement;
    const dt_string_load *load = &s->p->strings.items[s->job - s->p->jobs].load;
    double heaviest = 0;
    for (size_t i = 0; i < c->part_count; ++i)
        heaviest = fmax(heaviest, c->parts[i].slurry.density_kgm3);
    if (heaviest > load->cement_kgm3 + SAME_FLUID_KGM3) { /* false for a conductor: NAN */
        sentence text = {0};
        say(&text,
            "the job takes slurry of %s, the load cases of the pipe %s: state cement=\"...\" in "
            "<loads>, or another slurry",
            show(s->display, DT_KIND_DENSITY, heaviest).text,
            show(s->display, DT_KIND_DENSITY, load->cement_kgm3).text);
        warn(s, "slurry-over-loads", &text);
    }
    if (c->test_pa > load->test_pa + SAME_PRESSURE_PA) { /* false where no test is a load case */
        sentence text = {0};
        say(&text, "the job tests to %s, the load case of the test is %s",
            pressure(s, c->test_pa).text, pressure(s, load->test_pa).text);
        warn(s, "test-over-loads", &text);
    }
}

/** What both parts state of the whole well, and state differently. */
static dt_status warn_of_two_words(dt_program *p, dt_display display)
{
    const dt_load_wishes *loads = &p->well->loads;
    const dt_cement_wishes *job = &p->well->cementing;
    const struct {
        const char *code, *in_loads, *in_cementing;
        dt_kind kind;
        double loads, job, same;
    } both[] = {{"bump-margins-differ", "bump_margin", "bump_margin", DT_KIND_PRESSURE,
                 loads->bump_margin_pa, job->bump_margin_pa, SAME_PRESSURE_PA},
                {"displacements-differ", "displacement", "displacement_density", DT_KIND_DENSITY,
                 loads->displacement_kgm3, job->displacement_kgm3, SAME_FLUID_KGM3}};
    for (size_t i = 0; i < sizeof both / sizeof *both; ++i) {
        const bool stated = loads->given && job->given;
        if (!stated || !(fabs(both[i].loads - both[i].job) > both[i].same)) continue;
        sentence text = {0};
        say(&text,
            "%s is %s in <loads>, which the pipe is held against, %s %s in <cementing>, by which "
            "the job is done",
            both[i].in_loads, show(display, both[i].kind, both[i].loads).text, both[i].in_cementing,
            show(display, both[i].kind, both[i].job).text);
        if (dt_program_warn(p, both[i].code, "well", &text) != DT_OK) return DT_E_MEMORY;
    }
    return DT_OK;
}

static void warn_of_cement(scribe *s)
{
    double ground = dt_well_ground_m(s->p->well);
    if (s->job->cement.rule == DT_CEMENT_PINNED && s->job->cement.top_tvd_m < ground - 1e-6) {
        sentence text = {0};
        say(&text,
            "the pinned top of cement, %s TVD, is kept although it stands above the ground "
            "at %s",
            depth(s, s->job->cement.top_tvd_m).text, depth(s, ground).text);
        warn(s, "cement-top-above-ground", &text);
    }
    if (s->job->cement_refused && s->job->running.blocked_line) {
        sentence text = {0};
        say(&text, "the cement job is not computed: the pipe does not pass the hole at %s MD",
            depth(s, s->job->running.blocked_md_m).text);
        warn(s, "cement-not-computed", &text);
    } else if (s->job->cement_refused) {
        sentence text = {0};
        say(&text,
            "the cement job is not computed: its tops, collar or hole do not fit the string "
            "(shoe %s MD): a top below the shoe, a collar above the string, slurries that "
            "leave each other no room, or a caliper reading smaller than the pipe",
            depth(s, s->p->strings.items[s->job - s->p->jobs].load.shoe_md_m).text);
        warn(s, "cement-not-computed", &text);
    }
    if (!s->job->cement.cemented) return;
    warn_of_light_slurry(s);
    warn_of_loads(s);
    warn_of_column(s);
    warn_of_stage(s);
    warn_of_set(s);
}

/* ---- running ---- */

static void warn_of_running(scribe *s)
{
    const dt_running *r = &s->job->running;
    const dt_tight_spot *t = &r->surge;
    sentence text = {0};
    if (r->blocked_line) {
        say(&text,
            "the caliper log has %s at %s MD (well file line %d), and the pipe with its couplings "
            "is %s wide: it does not pass, and no surge is computed; ream the hole there, or "
            "correct the reading",
            show(s->display, DT_KIND_DIAMETER, r->blocked_hole_m).text,
            depth(s, r->blocked_md_m).text, r->blocked_line,
            show(s->display, DT_KIND_DIAMETER, r->blocked_pipe_m).text);
        warn(s, "hole-too-narrow", &text);
        text = (sentence){0};
    }
    if (t->spare_pa < 0) {
        say(&text,
            "lowering a joint in %.0f s, surge brings %s to %s TVD, where the rock breaks "
            "at %s and %s is kept free: ",
            r->settings.joint_time_s, pressure(s, t->pressure_pa).text, depth(s, t->tvd_m).text,
            pressure(s, t->fracture_pa).text, pressure(s, t->needed_pa).text);
        if (isfinite(r->joint_s))
            say(&text, "take %.0f s or more near bottom", ceil(r->joint_s));
        else
            say(&text, "no speed is slow enough; fill and circulate on the way, or thin the mud");
        warn(s, "surge", &text);
    }
    if (r->nearly_floats && s->job != s->p->jobs) {
        text = (sentence){0};
        bool floats = r->hookload_floated_n < 0;
        say(&text,
            floats ? "empty the string floats with %s: fill it on the way"
                   : "empty the string weighs only %s in mud: fill it on the way",
            show(s->display, DT_KIND_FORCE, fabs(r->hookload_floated_n)).text);
        warn(s, "string-floats", &text);
    }
    if (r->overpull_rig_n < 0) {
        text = (sentence){0};
        say(&text, "the string outweighs the rig: %s over its load with the blocks",
            show(s->display, DT_KIND_FORCE, -r->overpull_rig_n).text);
        warn(s, "rig-overloaded", &text);
    }
    if (r->hookload_down_n < 0) {
        text = (sentence){0};
        say(&text, "drag holds the string: it does not go down by its own weight");
        warn(s, "drag-holds-string", &text);
    }
    if (s->job->centralizing.missed) {
        text = (sentence){0};
        say(&text,
            "three centralizers a joint do not reach a standoff of %.0f %%: %.0f %% is left; "
            "stiffer or rigid ones are wanted",
            100 * s->job->centralizing.target, 100 * s->job->centralizing.standoff);
        warn(s, "standoff-missed", &text);
    }
}

dt_status dt_program_warn_of_jobs(dt_program *p, dt_display display)
{
    dt_status status = warn_of_customs(p);
    if (status == DT_OK) status = warn_of_two_words(p, display);
    for (size_t n = 0; status == DT_OK && n < dt_program_strings(p); ++n) {
        const size_t i = dt_program_at(p, n);
        char name[32];
        dt_program_string_name(p, i, name, sizeof name);
        scribe s = {.p = p, .display = display, .name = name, .job = &p->jobs[i], .status = DT_OK};
        if (!s.job->running.driven) warn_of_running(&s);
        warn_of_cement(&s);
        status = s.status;
    }
    return status;
}
