/* SPDX-License-Identifier: MIT */
/* The strings of wells on bare rules looked at foot by foot, from the public load cases and ratings
 * alone; and whether one pipe would have been cheaper. */
#include <stdio.h>
#include <stdlib.h>

#include "cited.h"
#include "program.h"
#include "shipped_wells.h"
#include "units.h"

static dt_catalogue catalogue;

static const char *const wells[] = {"alder-reach.xml", "brackwater-deep.xml", "hollinfold.xml",
                                    "mizzenlow-shelf.xml", "thornback-rise.xml"};

/* A change to a well before it is planned; each row is planned for every well. */
static void as_it_is(dt_well *well)
{
    (void)well;
}
static void combined_collapse(dt_well *well)
{
    well->design.collapse_method = DT_CHOOSE_COMBINED;
}
static void four_sections(dt_well *well)
{
    well->design.max_sections = 4;
    well->design.min_section_m = 30;
    well->design.crossover_m = 0;
}
static void one_section(dt_well *well)
{
    well->design.max_sections = 1;
}
static void gauge(dt_well *well)
{
    well->design.gauge_m = 60;
}
static void liners_tested(dt_well *well)
{
    well->liner_test = (dt_liner_test){true, DT_LINER_TEST_PRESSURE, 45e6, NAN, NAN, 0};
}
static void (*const changes[])(dt_well *) = {
    as_it_is, combined_collapse, four_sections, one_section, gauge, liners_tested};

static dt_program *plan(dt_well *well)
{
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    dt_status status = dt_program_plan(well, &catalogue, &program, &refusal);
    dt_refusal_free(&refusal);
    return status == DT_OK ? program : NULL;
}

static dt_well *read_well(const char *name)
{
    char path[512];
    size_t size = 0;
    snprintf(path, sizeof path, "%s/bare/%s", DT_TESTS, name);
    char *bytes = shipped_read(path, &size);
    dt_report report;
    dt_well *well = NULL;
    assert_int_equal(dt_report_init(&report, path), DT_OK);
    assert_int_equal(dt_well_parse(bytes, size, &report, &well), DT_OK);
    dt_report_free(&report);
    free(bytes);
    return well;
}

/* Smallest factor over the one needed, of one case at one depth, from first principles. */
static double slack_of(const dt_program *p, const dt_string *s, const dt_section *section,
                       dt_load which, double md_m, double hanging_n)
{
    const dt_pipe *pipe = section->pipe;
    const dt_design_in_force *d = &p->design;
    const double tvd_m = dt_trajectory_tvd(&p->trajectory, md_m);
    const dt_load_point at =
        dt_load_at(&s->load, which, pipe, (dt_load_place){md_m, tvd_m}, hanging_n);
    const double curvature = dt_trajectory_curvature(&p->trajectory, md_m);
    const double yield = pipe->grade->yield_pa,
                 mud = isnan(s->load.mud_kgm3) ? 0 : s->load.mud_kgm3;
    double stress, body, joint, burst, coupling, outside;
    const dt_pipe_load cut = {at.inside_pa, at.outside_pa, at.axial_n, curvature};
    assert_int_equal(dt_triaxial(pipe->od_m, pipe->wall_m, &cut, &stress, NULL), DT_OK);
    double slack = stress > 0 ? yield / stress / d->triaxial : INFINITY;
    assert_int_equal(dt_body_yield(pipe->od_m, pipe->wall_m, yield, &body), DT_OK);
    const double area = body / yield;
    switch (dt_load_check(which)) {
    case DT_CHECK_BURST:
        assert_int_equal(dt_internal_yield(pipe->od_m, pipe->wall_m, yield, 0.875, &burst), DT_OK);
        if (dt_coupling_internal_yield(&catalogue, pipe, section->thread, &coupling) == DT_OK)
            burst = fmin(burst, coupling);
        if (at.inside_pa > at.outside_pa)
            slack = fmin(slack, burst / (at.inside_pa - at.outside_pa) / d->burst);
        break;
    case DT_CHECK_COLLAPSE: {
        const double hung = hanging_n * (1 - mud / 7850);
        const double landed = hung - mud * DT_STANDARD_GRAVITY * tvd_m * area;
        const bool combined = d->collapse_method == DT_COLLAPSE_COMBINED;
        assert_int_equal(dt_collapse_loaded(d->collapse_method, pipe->od_m, pipe->wall_m, yield,
                                            (combined ? landed : hung) / area, at.inside_pa,
                                            &outside, NULL),
                         DT_OK);
        const double relief =
            combined ? at.inside_pa : (1 - 2 * pipe->wall_m / pipe->od_m) * at.inside_pa;
        if (at.outside_pa > relief)
            slack = fmin(slack, (outside - relief) / (at.outside_pa - relief) / d->collapse);
        break;
    }
    case DT_CHECK_TENSION:
        assert_int_equal(dt_joint_strength(&catalogue, pipe, section->thread, &joint), DT_OK);
        if (which == DT_LOAD_TENSION_HANG) /* the weight alone, without bending */
            return fmin(slack, fmin(joint, body) / at.pull_n / d->tension);
        slack = fmin(slack, fmin(joint, body) /
                                (at.pull_n + dt_bending_stress(pipe->od_m, curvature) * area) /
                                d->tension_pulled);
        break;
    case DT_CHECK_TRIAXIAL:
    case DT_CHECK_COUNT:
        break;
    }
    return slack;
}

static double check_string(const dt_program *p, const dt_string *s)
{
    double hanging = 0, least = INFINITY;
    for (size_t i = s->section_count; i-- > 0;) {
        const dt_section *section = &s->sections[i];
        const double base_tvd = dt_trajectory_tvd(&p->trajectory, section->base_md_m);
        const double weight = section->pipe->weight_kgm * DT_STANDARD_GRAVITY;
        double reported = INFINITY, found = INFINITY;
        for (int k = 0; k < DT_CHECK_COUNT; ++k)
            if (!isnan(section->screen.by_check[k].factor))
                reported = fmin(reported, section->screen.by_check[k].factor /
                                              section->screen.by_check[k].needed);
        const double length = section->base_md_m - section->top_md_m;
        const int steps = (int)ceil(length / DT_M_PER_FT);
        for (int n = 0; n <= steps; ++n) {
            const double md = section->top_md_m + length * (steps - n) / steps;
            const double below =
                hanging + weight * (base_tvd - dt_trajectory_tvd(&p->trajectory, md));
            for (int k = 0; k < DT_LOAD_COUNT; ++k)
                if (s->load.runs[k])
                    found = fmin(found, slack_of(p, s, section, (dt_load)k, md, below));
        }
        if (!(found >= 1 - 1e-6)) fail_msg("%.8f of what is asked for", found);
        assert_within(fmin(found, 50), fmin(reported, 50), 2e-3 * fmin(found, 50));
        least = fmin(least, found);
        hanging += weight * (base_tvd - dt_trajectory_tvd(&p->trajectory, section->top_md_m));
    }
    return least;
}

static void every_foot_holds(void **state)
{
    (void)state;
    size_t strings = 0, tapered = 0;
    for (size_t w = 0; w < sizeof wells / sizeof *wells; ++w)
        for (size_t c = 0; c < sizeof changes / sizeof *changes; ++c) {
            dt_well *well = read_well(wells[w]);
            changes[c](well);
            dt_program *p = plan(well);
            if (p)
                for (size_t i = 0; i < dt_program_strings(p); ++i) {
                    const dt_string *s = &p->strings.items[i];
                    check_string(p, s);
                    assert_true(s->section_count <= p->design.max_sections);
                    for (size_t k = 0; s->section_count > 1 && k < s->section_count; ++k)
                        assert_true(s->sections[k].base_md_m - s->sections[k].top_md_m >=
                                    p->design.min_section_m - 1e-6);
                    for (size_t k = 0; p->design.gauge_m > 0 && k < s->section_count; ++k)
                        assert_true(s->sections[0].pipe->id_m <= s->sections[k].pipe->id_m + 1e-6 &&
                                    s->sections[0].base_md_m >=
                                        fmin(s->load.top_md_m + 60, s->load.shoe_md_m) - 1e-6);
                    ++strings;
                    tapered += s->section_count > 1;
                }
            dt_program_free(p);
            dt_well_free(well);
        }
    assert_true(strings > 40 && tapered > 15);
}

/* Fewer sections are never cheaper, and no pipe that holds the whole string weighs less. */
static void no_single_pipe_is_lighter(void **state)
{
    (void)state;
    for (size_t w = 0; w < sizeof wells / sizeof *wells; ++w) {
        dt_well *well = read_well(wells[w]);
        four_sections(well);
        dt_program *p = plan(well);
        assert_non_null(p);
        for (size_t i = 1; i < p->count; ++i) {
            const dt_string *s = &p->strings.items[i];
            double steel = 0;
            for (size_t k = 0; k < s->section_count; ++k)
                steel += s->sections[k].pipe->weight_kgm *
                         (s->sections[k].base_md_m - s->sections[k].top_md_m);
            for (size_t k = 0; k < catalogue.pipe_count * 3; ++k) {
                const dt_pipe *pipe = &catalogue.pipes[k / 3];
                if (p->design.sour && !pipe->grade->sour) continue;
                dt_screen screen;
                if (!dt_nest_is_size(&p->nest.pipes[s->nest_pipe], pipe) ||
                    dt_nest_drift(well, pipe) < s->need_drift_m - 1e-5)
                    continue;
                if (dt_string_screen(&catalogue, pipe, (dt_thread)(k % 3), &s->load, &p->trajectory,
                                     &p->design, &screen) != DT_OK ||
                    !screen.ok)
                    continue;
                assert_true(pipe->weight_kgm * (s->load.shoe_md_m - s->load.top_md_m) >=
                            steel * (1 - 1e-6));
            }
        }
        dt_program_free(p);
        dt_well_free(well);
    }
}

/* What is named as the next cheaper pipe is cheaper and does fail. */
static void the_next_cheaper_pipe_fails(void **state)
{
    (void)state;
    size_t named = 0;
    for (size_t w = 0; w < sizeof wells / sizeof *wells; ++w) {
        dt_well *well = read_well(wells[w]);
        dt_program *p = plan(well);
        assert_non_null(p);
        for (size_t i = 0; i < dt_program_strings(p); ++i)
            for (size_t k = 0; k < p->strings.items[i].section_count; ++k) {
                const dt_section *s = &p->strings.items[i].sections[k];
                if (!s->cheaper_pipe) continue;
                ++named;
                assert_true(s->cheaper_factor.factor < s->cheaper_factor.needed);
                assert_true(dt_price_by_steel.per_m(NULL, s->cheaper_pipe, s->cheaper_thread) <
                            dt_price_by_steel.per_m(NULL, s->pipe, s->thread));
                assert_true(s->cheaper_factor.at_md_m >= s->top_md_m - 1e-6 &&
                            s->cheaper_factor.at_md_m <= s->base_md_m + 1e-6);
            }
        dt_program_free(p);
        dt_well_free(well);
    }
    assert_true(named > 10);
}

static void sour_wells_take_sour_grades(void **state)
{
    (void)state;
    dt_well *well = read_well("alder-reach.xml");
    well->design.sour = true;
    dt_program *p = plan(well);
    assert_non_null(p);
    for (size_t i = 0; i < p->count; ++i)
        for (size_t k = 0; k < p->strings.items[i].section_count; ++k)
            assert_true(p->strings.items[i].sections[k].pipe->grade->sour);
    dt_program_free(p);
    dt_well_free(well);
    static const cited sour = {CITED_RECALLED,
                               "NACE MR0175 / ISO 15156-2, as the trade applies it"};
    static const char *const yes[] = {"H40", "J55", "K55", "M65", "L80", "C90", "T95"};
    static const char *const no[] = {"N80", "R95", "P110", "C110", "Q125"};
    for (size_t i = 0; i < sizeof yes / sizeof *yes; ++i)
        assert_cited_row(&sour, "grades fit for sour service (1) or not (0)", "", yes[i],
                         dt_grade_find(&catalogue, yes[i])->sour, 1, 0);
    for (size_t i = 0; i < sizeof no / sizeof *no; ++i)
        assert_cited_row(&sour, "grades fit for sour service (1) or not (0)", "", no[i],
                         dt_grade_find(&catalogue, no[i])->sour, 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_foot_holds),
        cmocka_unit_test(no_single_pipe_is_lighter),
        cmocka_unit_test(the_next_cheaper_pipe_fails),
        cmocka_unit_test(sour_wells_take_sour_grades),
    };
    if (dt_catalogue_load(&catalogue) != DT_OK) return 1;
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    dt_catalogue_free(&catalogue);
    return failed;
}
