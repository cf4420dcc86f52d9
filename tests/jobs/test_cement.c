/* SPDX-License-Identifier: MIT */
/*
 * Cement against print, against closed forms and against itself. Sources stand beside the
 * checks; "worked by hand" is arithmetic done outside the program with the equations named.
 */
#include <string.h>

#include "cited.h"
#include "edited_well.h"
#include "jobs.h"
#include "told.h"

#define JOBS DT_TESTS "/jobs"

/* ---- slurries ---- */

/* Lapeyrouse is Formulas and Calculations for Drilling, Production and Workover, 2nd ed. */
static const cited lapeyrouse_48 = {CITED_READ, "Lapeyrouse (2002), pp. 48-49"};
static const cited lapeyrouse_53 = {CITED_WORKED,
                                    "Lapeyrouse (2002), pp. 53-54, by a strict balance"};
static const cited lapeyrouse_54 = {CITED_RECALLED,
                                    "Lapeyrouse (2002), p. 54 (its equations were read)"};
static const cited lapeyrouse_65 = {CITED_READ, "Lapeyrouse (2002), p. 65"};
static const cited volumes = {
    CITED_WORKED, "example E of tests/jobs: d^2/183.35 ft3/ft, Lapeyrouse (2002), p. 54"};
static const cited pressures = {CITED_WORKED,
                                "example E of tests/jobs: 0.052 as in Lapeyrouse (2002), p. 65"};
static const cited pump = {
    CITED_WORKED,
    "example E of tests/jobs: Temizel et al., Formulas and Calculations for Petroleum "
    "Engineering (2019), 2.221"};
static const cited balance = {CITED_WORKED, "example E of tests/jobs: Lapeyrouse (2002), p. 66"};
static const cited cfr_250 = {CITED_WORKED,
                              "US 30 CFR 250.721(a); 6870 psi of API Bul 5C2 from memory"};

/* Class A with 4 % bentonite and 7.7 gal of water; 14.12 ppg when recomputed, print rounds on the
 * way. */
static void bentonite_slurry_of_print(void **state)
{
    (void)state;
    const double lb = DT_KG_PER_LB, gal = DT_M3_PER_GAL, water = 8.33 * PPG;
    const double mass[] = {94 * lb, 3.76 * lb}, density[] = {3.14 * water, 2.65 * water};
    double out = 0, yield = 0;
    dt_slurry_mix(mass, density, 2, 7.7 * gal, water, &out, &yield);
    assert_cited(&lapeyrouse_48, "yield of class A with 4 % bentonite", "ft3/sk", yield / FT3, 1.53,
                 0.005);
    assert_cited(&lapeyrouse_48, "its density", "ppg", out / PPG, 14.13, 0.012);
}

/* Hematite that takes class H (4.3 gal) to 17.5 ppg; print says 15.1 lb/sk, its formula 15.03, a
 * strict balance 15.18. */
static void hematite_slurry_of_print(void **state)
{
    (void)state;
    const double lb = DT_KG_PER_LB, gal = DT_M3_PER_GAL, water = 8.33 * PPG;
    const double hematite = 15.18, density[] = {3.14 * water, 5.02 * water};
    const double mass[] = {94 * lb, hematite * lb};
    double out = 0, yield = 0;
    dt_slurry_mix(mass, density, 2, (4.3 + 0.34 * hematite / 94) * gal, water, &out, &yield);
    assert_cited(&lapeyrouse_53, "class H with hematite", "ppg", out / PPG, 17.5, 0.005);
}

/* Specific gravities in the recipes' own notes; every built-in row recomputed by absolute
 * volume, to the last digit that is printed and half a per cent for the published rows. */
static void every_built_in_slurry_adds_up(void **state)
{
    (void)state;
    const double lb = DT_KG_PER_LB, water = 8.33 * PPG;
    assert_true(dt_slurry_built_in_count() >= 20);
    for (size_t i = 0; i < dt_slurry_built_in_count(); ++i) {
        const char *mix = NULL;
        dt_slurry_spec s = dt_slurry_built_in(i, &mix);
        double mass[6], density[6], out = 0, yield = 0;
        size_t n = 0;
        for (const char *at = mix; at && n < 6; at = strchr(at, ';') ? strchr(at, ';') + 1 : NULL) {
            char *end = NULL;
            mass[n] = strtod(strchr(at, '=') + 1, &end) * lb;
            density[n++] = (*end == '@' ? strtod(end + 1, NULL) : 3.14) * water;
        }
        dt_slurry_mix(mass, density, n, s.water_m3, water, &out, &yield);
        if (!(fabs(out / PPG - s.density_kgm3 / PPG) <= 0.06 + 0.005 * 15))
            fail_msg("%s: %.3f ppg", s.name, out / PPG);
        if (!(fabs(yield - s.yield_m3) <= 0.02 * s.yield_m3))
            fail_msg("%s: %.4f ft3/sk", s.name, yield / FT3);
    }
}

static void a_slurry_of_the_file_comes_first(void **state)
{
    (void)state;
    dt_slurry own = {
        .name = "G neat", .density_kgm3 = 1800, .yield_m3kg = 0.8e-3, .water_m3kg = NAN};
    dt_well well = {.slurries = &own, .slurry_count = 1};
    dt_slurry_spec found;
    assert_true(dt_slurry_find(&well, "G neat", &found));
    assert_within(found.density_kgm3, 1800, 1e-9);
    assert_true(isnan(found.water_m3));
    assert_true(dt_slurry_find(NULL, "G neat", &found));
    assert_true(found.built_in);
    assert_false(dt_slurry_find(&well, "moon dust", &found));
}

/* ---- published jobs through the whole chain ---- */

/* 1311 sacks of lead; 906 + 33 of
 * tail, rounded one by one in print; 456.9 bbl of mud, at 0.1545 bbl/ft. The invented conductor,
 * 5 ft deep and wider than the hole, takes 0.1 % of the lead. */
static void sacks_of_print(void **state)
{
    (void)state;
    job_file f;
    job_open(JOBS, "lapeyrouse-sacks.xml", &f);
    const dt_cement *c = &job_of(&f, DT_SURFACE)->cement;
    assert_published(&lapeyrouse_54, "sacks of lead", "", c->parts[0].sacks, 1311);
    assert_published(&lapeyrouse_54, "sacks of tail", "", c->parts[1].sacks, 939);
    assert_published(&lapeyrouse_54, "displacement", "bbl", c->displacement_m3 / BBL, 456.9);
    assert_true(job_warns(&f, "mix-water-not-stated"));
    job_close(&f);
}

/* 4857 psi in the annulus, 684 psi difference (with 0.052 for
 * 0.051948, 0.1 % high, and each term rounded to 1 psi). */
static void differential_of_print(void **state)
{
    (void)state;
    job_file f;
    job_open(JOBS, "lapeyrouse-differential.xml", &f);
    const dt_cement *c = &job_of(&f, DT_PRODUCTION)->cement;
    assert_published(&lapeyrouse_65, "annulus at the shoe", "psi",
                     c->shoe_static_kgm3 * DT_STANDARD_GRAVITY * 8000 * FT / PSI, 4857);
    assert_published(&lapeyrouse_65, "difference at the shoe", "psi", c->lift_pa / PSI, 684);
    job_close(&f);
}

/* Worked by hand: 9-5/8 47 lb/ft (8.681 in) in 12-1/4 and in 13-3/8 68 lb/ft (12.415 in),
 * capacities d^2/183.35 ft3/ft (Lapeyrouse 2002, p. 54). */
static void example_e_volumes(void **state)
{
    (void)state;
    job_file f;
    job_open(JOBS, "example-e.xml", &f);
    const dt_cement *c = &job_of(&f, DT_PRODUCTION)->cement;
    const dt_cement_part *lead = &c->parts[0], *tail = &c->parts[1];
    assert_published(&volumes, "lead in the cased annulus", "ft3", lead->cased_m3 / FT3, 167.7);
    assert_published(&volumes, "lead in the open hole", "ft3", lead->open_m3 / FT3, 1370.1);
    assert_published(&volumes, "lead", "bbl", lead->volume_m3 / BBL, 273.9);
    assert_published(&volumes, "tail in the open hole", "ft3", tail->open_m3 / FT3, 391.4);
    assert_cited(&volumes, "tail in the rathole", "ft3", tail->rathole_m3 / FT3, 10.2, 0.05);
    assert_published(&volumes, "tail in the shoe track", "ft3", tail->track_m3 / FT3, 32.9);
    assert_published(&volumes, "tail", "bbl", tail->volume_m3 / BBL, 77.4);
    assert_cited(&volumes, "sacks of lead", "", lead->sacks, 814, 0);
    assert_cited(&volumes, "sacks of tail", "", tail->sacks, 378, 0);
    assert_published(&volumes, "water of the lead", "bbl", lead->water_m3 / BBL, 197.7);
    assert_published(&volumes, "water of the tail", "bbl", tail->water_m3 / BBL, 45.0);
    assert_published(&volumes, "displacement", "bbl", c->displacement_m3 / BBL, 653.0);
    assert_published(&pump, "pump, bbl a stroke", "bbl", c->settings.pump_m3_per_stroke / BBL,
                     0.1182);
    assert_published(&pump, "strokes to displace", "", c->strokes, 5524);
    assert_published(&pump, "mixing", "min", c->mix_s / 60, 70.3);
    assert_published(&pump, "displacing", "min", c->displace_s / 60, 81.6);
    assert_published(&pump, "whole job", "min", c->job_s / 60, 162);
    job_close(&f);
}

/* Worked by hand with 0.052 (0.1 % high) as Lapeyrouse 2002, p. 65 does. */
static void example_e_pressures(void **state)
{
    (void)state;
    job_file f;
    job_open(JOBS, "example-e.xml", &f);
    const dt_cement *c = &job_of(&f, DT_PRODUCTION)->cement;
    assert_published(&pressures, "end of the job at the shoe", "ppg", c->shoe_static_kgm3 / PPG,
                     12.29);
    assert_published(&pressures, "lift", "psi", c->lift_pa / PSI, 815);
    assert_published(&pressures, "bump", "psi", c->bump_pa / PSI, 1315);
    /* 70 % of 6870 psi, the minimum internal yield */
    assert_published(&cfr_250, "pressure test of 9-5/8 in 47 lb/ft N80", "psi", c->test_pa / PSI,
                     4809);
    assert_within(c->tight.tvd_m / FT, 4500, 1e-6); /* the previous shoe governs, not the shoe */
    /* under the string 815 psi on 72.76 in2, its weight in mud 356.4 klbf: it stays (the balance
     * of Lapeyrouse 2002, p. 66, worked by hand) */
    assert_published(&balance, "lift less weight in mud", "klbf", c->lift_off_n / (1000 * LBF),
                     0.815 * 72.76 - 356.4);
    /* half of 80 ft of track more at the most */
    assert_published(&volumes, "displacement with half the track over", "bbl",
                     c->displacement_most_m3 / BBL, 653.0 + 2.93);
    assert_true(c->tight.pressure_pa / PSI > 2527); /* at rest; pumping adds friction */
    assert_published(&pressures, "fracture at the previous shoe", "psi", c->tight.fracture_pa / PSI,
                     3375);
    /* straight line between 250 psi at 6 h and 900 psi at 12 h: 500 psi at 8.3 h; 12 h governs */
    assert_within(c->wait_s / 3600, 12, 1e-9);
    assert_false(c->wait_by_strength);
    job_close(&f);
}

static void strength_times_of_the_example(void **state)
{
    (void)state;
    const dt_strength_point lab[] = {{6 * 3600.0, 250 * PSI, 0}, {12 * 3600.0, 900 * PSI, 0}};
    const dt_strength_point cold[] = {{12 * 3600.0, 150 * PSI, 0}, {24 * 3600.0, 650 * PSI, 0}};
    static const cited line = {CITED_WORKED, "straight line between two laboratory strengths"};
    assert_cited(&line, "500 psi between 250 at 6 h and 900 at 12 h", "h",
                 dt_strength_time(lab, 2, 500 * PSI) / 3600, 8.3, 0.05);
    assert_cited(&line, "500 psi between 150 at 12 h and 650 at 24 h", "h",
                 dt_strength_time(cold, 2, 500 * PSI) / 3600, 20.4, 0.05);
    assert_true(isinf(dt_strength_time(lab, 2, 1200 * PSI)));
    assert_within(dt_strength_time(lab, 2, 0), 0, 1e-9);
}

/* Worked by hand: fracture 0.70 psi/ft at 9,000 ft, margin 200 psi, friction 150 psi, mud
 * 10.5 ppg: 3,758 ft of 15.8 ppg, or with 1,000 ft of it 5,413 ft of 13.2 ppg above. A ppg is
 * 0.052 psi/ft there, not 0.051948: in a difference of large pressures that shows, so here too. */
static void tallest_columns_of_the_example(void **state)
{
    (void)state;
    const double ppg = 0.052 * PSI / FT / DT_STANDARD_GRAVITY;
    double fracture = 6300 * PSI, margin = 200 * PSI, friction = 150 * PSI;
    double all = dt_tallest_column(fracture, margin, friction, 10.5 * ppg, 15.8 * ppg, 9000 * FT);
    assert_published(&pressures, "tallest column of 15.8 ppg", "ft", all / FT, 3758);
    double tail = (15.8 - 10.5) * ppg * DT_STANDARD_GRAVITY * 1000 * FT;
    double lead =
        dt_tallest_column(fracture - tail, margin, friction, 10.5 * ppg, 13.2 * ppg, 9000 * FT);
    assert_published(&pressures, "tallest column of 13.2 ppg over 1,000 ft of it", "ft", lead / FT,
                     5413);
    assert_true(
        isinf(dt_tallest_column(fracture, margin, friction, 10.5 * PPG, 10.5 * PPG, 9000 * FT)));
}

/* A column the rock does not withstand is never hidden: the warning names depth, pressure and
 * margin; a stage tool is proposed. */
static void a_breaking_column_is_told(void **state)
{
    (void)state;
    job_file f;
    job_open(JOBS, "weak-rock.xml", &f);
    const dt_cement *c = &job_of(&f, DT_PRODUCTION)->cement;
    assert_true(c->tight.pressure_pa > c->tight.fracture_pa);
    const char *text = NULL;
    for (size_t i = 0; i < f.program->notices.count; ++i)
        if (strcmp(told_code(f.program, i), "cement-breaks-formation") == 0 &&
            strcmp(told_where(f.program, i), "production") == 0)
            text = told_text(f.program, i);
    assert_non_null(text);
    char depth[32], reached[32], breaks[32];
    dt_display_text(DT_DISPLAY_FIELD, DT_KIND_LENGTH, c->tight.tvd_m, depth, sizeof depth);
    dt_display_text(DT_DISPLAY_FIELD, DT_KIND_PRESSURE, c->tight.pressure_pa, reached,
                    sizeof reached);
    dt_display_text(DT_DISPLAY_FIELD, DT_KIND_PRESSURE, c->tight.fracture_pa, breaks,
                    sizeof breaks);
    assert_non_null(strstr(text, depth));
    assert_non_null(strstr(text, reached));
    assert_non_null(strstr(text, breaks));
    assert_non_null(strstr(text, "margin"));
    assert_true(c->stage.proposed && c->tallest_top_md_m > c->top_md_m);
    assert_true(job_warns(&f, "stage-tool-proposed"));
    assert_true(job_warns(&f, "scratchers-need-movement"));
    assert_true(job_warns(&f, "rig-overloaded"));
    /* 3000 psi of float rating in 9.5 ppg: 3000/(0.052 x 9.5) ft, long before collapse */
    const dt_running *r = &job_of(&f, DT_PRODUCTION)->running;
    assert_true(r->empty_by_float);
    assert_published(&pressures, "empty to, float of 3,000 psi in 9.5 ppg", "ft",
                     r->empty_md_m / FT, 3000 / (0.052 * 9.5));
    job_close(&f);
}

/* The reader cannot know the planner's shoe: the plan stands, the job is refused and says so. */
static void a_top_below_the_chosen_shoe_is_told(void **state)
{
    (void)state;
    job_file f;
    job_open(JOBS, "top-below-shoe.xml", &f);
    const dt_job *job = job_of(&f, DT_PRODUCTION);
    assert_true(job->cement_refused);
    assert_false(job->cement.cemented);
    assert_true(job_warns(&f, "cement-not-computed"));
    assert_true(isnan(f.program->items[f.program->count - 1].cement_top_md_m));
    assert_int_equal(job->centralizing.count, 0);
    job_close(&f);
}

/* Whatever the well: at rest the shoe feels no less than the lightest liquid and no more than the
 * heaviest, what is pumped adds up, and no moment of the job is easier than its narrowest. */
static void cement_lies_between_mud_and_tail_everywhere(void **state)
{
    (void)state;
    const char *const wells[] = {"alder-reach.xml", "hollinfold.xml", "mizzenlow-shelf.xml",
                                 "brackwater-deep.xml"};
    for (size_t w = 0; w < sizeof wells / sizeof *wells; ++w) {
        job_file f;
        job_open(DT_WELLS, wells[w], &f);
        for (size_t i = 1; i < f.program->count; ++i) {
            const dt_cement *c = &f.program->jobs[i].cement;
            assert_true(c->cemented);
            double volume = 0, heavy = c->mud_kgm3, light = c->mud_kgm3;
            for (size_t k = 0; k < c->part_count; ++k) {
                volume += c->parts[k].volume_m3;
                heavy = fmax(heavy, c->parts[k].slurry.density_kgm3);
                light = fmin(light, c->parts[k].slurry.density_kgm3);
            }
            assert_close(c->slurry_m3, volume, 1e-12);
            assert_true(c->shoe_static_kgm3 >= light && c->shoe_static_kgm3 <= heavy);
            assert_true(c->shoe_kgm3 >= c->shoe_static_kgm3);
            assert_true(c->peak_shoe_kgm3 >= c->shoe_kgm3 - 1e-6);
            assert_close(f.program->items[i].cement_top_md_m, c->top_md_m, 1e-12);
        }
        job_close(&f);
    }
}

/** A job of example E with its casing tests set by another rule. */
static void open_with_test(const char *test, job_file *f)
{
    char words[200];
    snprintf(words, sizeof words, "wait=\"12 h\" %s", test);
    const edit change = {"wait=\"12 h\"", words};
    dt_refusal refusal = {0};
    *f = (job_file){.well = edited_well(JOBS "/example-e.xml", &change, 1)};
    assert_int_equal(dt_catalogue_load(&f->catalogue), DT_OK);
    assert_int_equal(dt_program_plan(f->well, &f->catalogue, &f->program, &refusal), DT_OK);
}

/* docs/cement.md: 0.22 psi/ft of length or 1,500 psi, the greater (43 CFR 3172, from memory); 0.2
 * psi/ft of depth, at most 1,500 psi (Mississippi 26 R. 2-1.12). Strings of 4500 and 9000 ft. */
static void casing_tests_by_rule(void **state)
{
    (void)state;
    const struct {
        const char *test;
        double surface_psi, production_psi;
    } rules[] = {{"test=\"0.22-psi-per-ft\"", 1500, 0.22 * 9000},
                 {"test=\"0.2-psi-per-ft\"", 0.2 * 4500, 1500},
                 {"test=\"pressure\" test_pressure=\"1234 psi\"", 1234, 1234},
                 {"test=\"none\"", NAN, NAN}};
    for (size_t i = 0; i < sizeof rules / sizeof *rules; ++i) {
        job_file f;
        open_with_test(rules[i].test, &f);
        double surface = job_of(&f, DT_SURFACE)->cement.test_pa / PSI;
        double production = job_of(&f, DT_PRODUCTION)->cement.test_pa / PSI;
        if (isnan(rules[i].surface_psi)) {
            assert_true(isnan(surface) && isnan(production));
        } else {
            assert_within(surface, rules[i].surface_psi, 1e-6);
            assert_within(production, rules[i].production_psi, 1e-6);
        }
        job_close(&f);
    }
}

/* ---- a caliper log: between two readings the wall is a cone ---- */

static void a_logged_hole_takes_what_its_cones_hold(void **state)
{
    (void)state;
    const edit change = {"<running",
                         "<caliper><reading md=\"5000 ft\" diameter=\"13 in\"/><reading "
                         "md=\"6000 ft\" diameter=\"15 in\"/></caliper><running"};
    job_file f = {.well = edited_well(JOBS "/example-e.xml", &change, 1)};
    dt_refusal refusal = {0};
    assert_int_equal(dt_catalogue_load(&f.catalogue), DT_OK);
    assert_int_equal(dt_program_plan(f.well, &f.catalogue, &f.program, &refusal), DT_OK);
    const dt_cement *logged = &job_of(&f, DT_PRODUCTION)->cement;
    job_file plain;
    job_open(JOBS, "example-e.xml", &plain);
    const dt_cement *gauge = &job_of(&plain, DT_PRODUCTION)->cement;
    /* a frustum 1000 ft long from 13 to 15 in against a cylinder of 12.25 in, the pipe taken out of
     * both; the lead lies there, and its stated excess of 25 % is on whatever the open hole holds
     */
    const double cone = 1.25 * ((13 * 13 + 13 * 15 + 15 * 15) / 3.0 - 9.625 * 9.625);
    const double cylinder = 1.25 * (12.25 * 12.25 - 9.625 * 9.625);
    const double more_m3 = atan(1) * (cone - cylinder) * IN * IN * 1000 * FT;
    assert_within((logged->slurry_m3 - gauge->slurry_m3) / BBL, more_m3 / BBL, 0.05);
    job_close(&plain);
    job_close(&f);
}

/* ---- volumes against the closed form, and against many thin slices ---- */

static dt_annulus hand_annulus(dt_annulus_piece *pieces, size_t count)
{
    return (dt_annulus){.pieces = pieces,
                        .count = count,
                        .hole_m = 0.311,
                        .open_md_m = 1000,
                        .shoe_md_m = pieces[count - 1].base_md_m};
}

static void volume_of_a_washed_out_hole(void **state)
{
    (void)state;
    const double pi = 3.14159265358979323846, od = 0.2445, id = 0.22;
    dt_annulus_piece pieces[] = {{0, 1000, 0.32, 0.32, od, id, 70, false, false},
                                 {1000, 1200, 0.311, 0.42, od, id, 70, true, false},
                                 {1200, 1500, 0.42, 0.33, od, id, 70, true, false}};
    dt_annulus a = hand_annulus(pieces, 3);
    double excess = 0.15, slices = 0, cased = pi / 4 * (0.32 * 0.32 - od * od) * 100;
    for (int i = 0; i < 600000; ++i) { /* midpoint rule, 1 mm apart */
        double md = 900 + ((double)i + 0.5) * 1e-3, d = 0.32;
        if (md > 1000) d = 0.311 + (md - 1000) / 200 * (0.42 - 0.311);
        if (md > 1200) d = 0.42 + (md - 1200) / 300 * (0.33 - 0.42);
        slices += pi / 4 * (d * d - od * od) * 1e-3 * (md > 1000 ? 1 + excess : 1);
    }
    assert_close(dt_annulus_volume(&a, 900, 1500, excess, DT_EXCESS_OPEN_HOLE), slices, 1e-8);
    double both = dt_annulus_volume(&a, 900, 1500, excess, DT_EXCESS_ANNULUS);
    assert_close(both, slices + excess * cased, 1e-8);
    assert_close(dt_annulus_bore(&a, 0, 1500), pi / 4 * id * id * 1500, 1e-12);
    /* parts add up to the whole, wherever they are cut */
    for (double cut = 950; cut < 1500; cut += 37)
        assert_close(dt_annulus_volume(&a, 900, cut, excess, DT_EXCESS_OPEN_HOLE) +
                         dt_annulus_volume(&a, cut, 1500, excess, DT_EXCESS_OPEN_HOLE),
                     slices, 1e-8);
}

/* ---- the narrowest place between two looks at the rock ---- */

/* Rock of e + b z, mud of m under a surface pressure p, a margin of n: g z (e + b z - m - n) - p is
 * least at z = (m + n - e) / (2 b), by its derivative. */
static void the_narrowest_place_is_found_between(void **state)
{
    (void)state;
    const double g = DT_STANDARD_GRAVITY, e = 1200, b = 0.25, m = 1650, n = 50, p = 2e5;
    const double z = (m + n - e) / (2 * b);
    for (double top = 913; top < 1100; top += 20) {
        dt_exposed rock[2];
        dt_tight_spot at[2], found;
        for (int i = 0; i < 2; ++i) {
            const double d = top + 50 * i, fracture = g * d * (e + b * d);
            rock[i] = (dt_exposed){d, d, fracture, fracture, fracture, g * b * 50 * 50};
            at[i] = (dt_tight_spot){.md_m = d,
                                    .tvd_m = d,
                                    .pressure_pa = p + g * m * d,
                                    .fracture_pa = fracture,
                                    .needed_pa = g * n * d};
            at[i].spare_pa = fracture - at[i].pressure_pa - at[i].needed_pa;
        }
        const bool inside = dt_tight_between(&rock[0], &rock[1], &at[0], &at[1], &found);
        assert_int_equal(inside, z > top && z < top + 50);
        if (!inside) continue;
        assert_within(found.md_m, z, 1e-6);
        assert_within(found.spare_pa, g * z * (e + b * z - m - n) - p, 1e-5);
        assert_within(found.fracture_pa, g * z * (e + b * z), 1e-5);
    }
    /* hollow the other way, and straight: narrowest at an end */
    dt_exposed rock[2] = {{0, 0, 0, 0, 0, 0}, {50, 50, 100, 100, 100, -8}};
    dt_tight_spot at[2] = {{.md_m = 0}, {.md_m = 50}}, found;
    assert_false(dt_tight_between(&rock[0], &rock[1], &at[0], &at[1], &found));
    rock[1].sag_pa = 0;
    assert_false(dt_tight_between(&rock[0], &rock[1], &at[0], &at[1], &found));
}

/* ---- properties of a job ---- */

typedef struct bench_job {
    dt_annulus_piece pieces[2];
    dt_annulus annulus;
    dt_trajectory vertical;
    dt_exposed exposed[21];
    dt_cement_part parts[2];
    dt_cement_job job;
    dt_cement cement;
} bench_job;

/** Vertical, cased to 1000 m and open to 2000 m; fracture gradient in kg/m3. */
static void bench_start(bench_job *b, double fracture_kgm3)
{
    memset(b, 0, sizeof *b);
    b->pieces[0] = (dt_annulus_piece){0, 1000, 0.32, 0.32, 0.2445, 0.22, 70, false, false};
    b->pieces[1] = (dt_annulus_piece){1000, 2000, 0.311, 0.311, 0.2445, 0.22, 70, true, false};
    b->annulus = hand_annulus(b->pieces, 2);
    for (size_t i = 0; i < 21; ++i) {
        double z = 1000 + 50 * (double)i;
        const double rock_pa = fracture_kgm3 * DT_STANDARD_GRAVITY * z;
        b->exposed[i] = (dt_exposed){.md_m = z,
                                     .tvd_m = z,
                                     .fracture_pa = rock_pa,
                                     .above_pa = rock_pa,
                                     .below_pa = rock_pa};
    }
    dt_well empty;
    dt_well_start(&empty);
    b->job = (dt_cement_job){.annulus = &b->annulus,
                             .trajectory = &b->vertical,
                             .exposed = b->exposed,
                             .exposed_count = 21,
                             .mud_kgm3 = 1200,
                             .may_stage = true};
    dt_cement_settle(&empty, DT_INTERMEDIATE, &b->annulus, &b->job.settings);
    b->parts[0] = (dt_cement_part){.slurry = b->job.settings.lead, .excess = 0.2, .top_md_m = 800};
    b->parts[1] = (dt_cement_part){.slurry = b->job.settings.tail, .excess = 0.2, .top_md_m = 1800};
    b->cement = (dt_cement){.parts = b->parts, .part_count = 2, .collar_md_m = 1975};
}

static void a_strong_rock_bears_it_and_a_weak_one_does_not(void **state)
{
    (void)state;
    double last = INFINITY;
    for (double rock = 2400; rock >= 1250; rock -= 50) {
        bench_job b;
        bench_start(&b, rock);
        assert_int_equal(dt_cement_compute(&b.job, &b.cement), DT_OK);
        assert_true(b.cement.tight.spare_pa < last); /* weaker rock leaves less */
        last = b.cement.tight.spare_pa;
        bool bears = b.cement.tallest_top_md_m <= 800 + 0.02;
        if (bears) assert_false(b.cement.stage.proposed);
        if (!bears && isfinite(b.cement.tallest_top_md_m)) {
            assert_true(b.cement.stage.proposed);
            assert_true(b.cement.stage.md_m >= b.cement.tallest_top_md_m - 0.02);
        }
    }
    assert_true(last < 0);
}

/* 4 ft/s in the narrowest annulus (common practice, no source): round 9-5/8 in. pipe in a hole that
 * widens from 10 to 14 in. that is pi/4 (10^2 - 9.625^2) = 5.78 in2, 1.716 bbl/min. At its mean
 * of 12 in. it is 12 bbl/min, and the customary 5 and 8 would stand. */
static void a_cone_is_as_narrow_as_its_narrow_end(void **state)
{
    (void)state;
    const double in = FT / 12, mouth[][2] = {{10, 14}, {14, 10}};
    dt_well empty;
    dt_well_start(&empty);
    for (size_t i = 0; i < 2; ++i) {
        dt_annulus_piece cone = {.base_md_m = 100,
                                 .outer_top_m = mouth[i][0] * in,
                                 .outer_base_m = mouth[i][1] * in,
                                 .pipe_od_m = 9.625 * in,
                                 .open = true};
        const dt_annulus annulus = {.pieces = &cone, .count = 1};
        dt_cement_settings s;
        dt_cement_settle(&empty, DT_INTERMEDIATE, &annulus, &s);
        assert_within(s.mix_rate_m3s * 60 / BBL, 1.716, 0.002);
        assert_within(s.displacement_rate_m3s * 60 / BBL, 1.716, 0.002);
    }
}

/* Heavy spacer over light lead: least is left where they meet, wherever that is when the spacer
 * comes out at the top. Rock looked at 50 m apart and half a metre apart says the same. */
static void where_heavy_stands_on_light(void **state)
{
    (void)state;
    enum { FINE = 2001 };
    static dt_exposed fine[FINE];
    for (size_t i = 0; i < FINE; ++i) {
        const double z = 1000 + 0.5 * (double)i, rock_pa = 1500 * DT_STANDARD_GRAVITY * z;
        fine[i] = (dt_exposed){.md_m = z,
                               .tvd_m = z,
                               .fracture_pa = rock_pa,
                               .above_pa = rock_pa,
                               .below_pa = rock_pa};
    }
    for (double spacer_m = 1000; spacer_m < 1500; spacer_m += 20) {
        bench_job b, by_fine;
        for (int k = 0; k < 2; ++k) {
            bench_job *j = k ? &by_fine : &b;
            bench_start(j, 1500);
            j->parts[0].slurry.density_kgm3 = 1250;
            j->job.settings.spacer_kgm3 = 1900;
            j->job.settings.spacer_length_m = spacer_m;
            j->parts[0].top_md_m = 1010;
            if (k) {
                j->job.exposed = fine;
                j->job.exposed_count = FINE;
            }
            assert_int_equal(dt_cement_compute(&j->job, &j->cement), DT_OK);
        }
        assert_within(b.cement.tight.spare_pa, by_fine.cement.tight.spare_pa,
                      (1900 - 1250) * DT_STANDARD_GRAVITY * 0.5);
    }
}

/* The tightest spot of the run is at least as tight as the end of the job worked by hand. */
static void the_end_of_the_job_by_hand(void **state)
{
    (void)state;
    bench_job b;
    bench_start(&b, 2000);
    b.job.settings.spacer_length_m = 0;
    assert_int_equal(dt_cement_compute(&b.job, &b.cement), DT_OK);
    double lead = b.parts[0].slurry.density_kgm3, tail = b.parts[1].slurry.density_kgm3;
    double shoe = (1200 * 800 + lead * 1000 + tail * 200) / 2000;
    assert_close(b.cement.shoe_static_kgm3, shoe, 1e-9);
    double inside = (1200 * 1975 + tail * 25) / 2000;
    assert_close(b.cement.lift_pa, (shoe - inside) * DT_STANDARD_GRAVITY * 2000, 1e-9);
    for (size_t i = 0; i < 21; ++i) {
        double z = b.exposed[i].tvd_m;
        double p = 1200 * 800 + lead * fmin(z - 800, 1000) + tail * fmax(z - 1800, 0);
        double spare = b.exposed[i].fracture_pa - p * DT_STANDARD_GRAVITY -
                       b.job.settings.margin.emw_kgm3 * DT_STANDARD_GRAVITY * z;
        assert_true(b.cement.tight.spare_pa <= spare + 1e-6);
    }
}

static void more_excess_and_more_height_take_more(void **state)
{
    (void)state;
    double sacks = 0, slurry = 0;
    for (int i = 0; i < 8; ++i) {
        bench_job b;
        bench_start(&b, 2000);
        b.parts[0].excess = b.parts[1].excess = 0.1 * i;
        b.parts[0].top_md_m = 1500 - 100 * i;
        assert_int_equal(dt_cement_compute(&b.job, &b.cement), DT_OK);
        assert_true(b.cement.sacks > sacks && b.cement.slurry_m3 > slurry);
        assert_true(b.cement.sacks == floor(b.cement.sacks)); /* whole sacks */
        for (size_t k = 0; k < 2; ++k) { /* enough of them, and none to spare */
            double need = b.parts[k].volume_m3 / b.parts[k].slurry.yield_m3;
            assert_true(b.parts[k].sacks >= need - 1e-6 && b.parts[k].sacks < need + 1);
        }
        sacks = b.cement.sacks;
        slurry = b.cement.slurry_m3;
    }
}

static void contradictions_are_refused(void **state)
{
    (void)state;
    bench_job b;
    bench_start(&b, 2000);
    b.cement.collar_md_m = 2010; /* below the shoe */
    assert_int_equal(dt_cement_compute(&b.job, &b.cement), DT_E_DOMAIN);
    bench_start(&b, 2000);
    b.parts[1].top_md_m = 2000; /* at the shoe */
    assert_int_equal(dt_cement_compute(&b.job, &b.cement), DT_E_DOMAIN);
    bench_start(&b, 2000);
    b.parts[0].slurry.yield_m3 = 0;
    assert_int_equal(dt_cement_compute(&b.job, &b.cement), DT_E_DOMAIN);
    bench_start(&b, 2000);
    b.parts[0].excess = NAN;
    assert_int_equal(dt_cement_compute(&b.job, &b.cement), DT_E_DOMAIN);
    bench_start(&b, 2000);
    b.pieces[1].outer_base_m = 0.2; /* a reading smaller than the pipe */
    assert_int_equal(dt_cement_compute(&b.job, &b.cement), DT_E_DOMAIN);
}

static const cited slot = {
    CITED_RECALLED, "Bourgoyne et al. (1986), slot: PV v/(1000 gap^2) + YP/(200 gap) psi/ft"};

/* 8 bbl/min in 12-1/4 x 9-5/8 is 143 ft/min, 24.5 gpm/(Dh^2 - Do^2) (Lapeyrouse 2002); laminar
 * friction there. */
static void friction_in_field_units(void **state)
{
    (void)state;
    dt_liquid mud = {10.5 * PPG, 20e-3, 12 * LBF / (100 * FT * FT), 0, 0};
    double v = 143.0 / 60, gap = 12.25 - 9.625;
    double psi_ft = 20 * v / (1000 * gap * gap) + 12 / (200 * gap);
    assert_published(&slot, "friction", "psi/ft",
                     dt_friction_slot(12.25 * IN, 9.625 * IN, v * FT, mud) / (PSI / FT), psi_ft);
    double area = 3.14159265358979 / 4 * (12.25 * 12.25 - 9.625 * 9.625) * IN * IN;
    assert_within(8 * BBL / 60 / area / FT * 60, 143, 0.003 * 143);
    assert_true(dt_friction_annulus(12.25 * IN, 9.625 * IN, v * FT, mud) >=
                dt_friction_slot(12.25 * IN, 9.625 * IN, v * FT, mud));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bentonite_slurry_of_print),
        cmocka_unit_test(hematite_slurry_of_print),
        cmocka_unit_test(every_built_in_slurry_adds_up),
        cmocka_unit_test(a_slurry_of_the_file_comes_first),
        cmocka_unit_test(sacks_of_print),
        cmocka_unit_test(differential_of_print),
        cmocka_unit_test(example_e_volumes),
        cmocka_unit_test(example_e_pressures),
        cmocka_unit_test(strength_times_of_the_example),
        cmocka_unit_test(tallest_columns_of_the_example),
        cmocka_unit_test(a_breaking_column_is_told),
        cmocka_unit_test(a_top_below_the_chosen_shoe_is_told),
        cmocka_unit_test(cement_lies_between_mud_and_tail_everywhere),
        cmocka_unit_test(casing_tests_by_rule),
        cmocka_unit_test(a_logged_hole_takes_what_its_cones_hold),
        cmocka_unit_test(volume_of_a_washed_out_hole),
        cmocka_unit_test(a_strong_rock_bears_it_and_a_weak_one_does_not),
        cmocka_unit_test(a_cone_is_as_narrow_as_its_narrow_end),
        cmocka_unit_test(the_narrowest_place_is_found_between),
        cmocka_unit_test(where_heavy_stands_on_light),
        cmocka_unit_test(the_end_of_the_job_by_hand),
        cmocka_unit_test(more_excess_and_more_height_take_more),
        cmocka_unit_test(contradictions_are_refused),
        cmocka_unit_test(friction_in_field_units),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
