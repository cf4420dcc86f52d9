/* SPDX-License-Identifier: MIT */
/*
 * One well told in two ways is one program. The same file in metric units differs in the last bits
 * of every number only; a point on the straight line between two others says nothing (the table is
 * linear between its points: docs/well-file.md). So every figure has to be the same, the depths
 * that are named as governing among them, ties or not.
 */
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "drawings.h"
#include "shipped_wells.h"

/* ---- the program as JSON, and two of them held against each other ---- */

static dt_well *parsed(const char *text)
{
    dt_report report;
    dt_well *well = NULL;
    assert_int_equal(dt_report_init(&report, "twin"), DT_OK);
    if (dt_well_parse(text, strlen(text), &report, &well) != DT_OK)
        fail_msg("%s", report.count ? report.items[0].text : "no memory");
    dt_report_free(&report);
    return well;
}

/** NULL when there is no program. */
static json_t *planned(const dt_well *well)
{
    dt_catalogue catalogue;
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    json_t *root = NULL;
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    if (dt_program_plan(well, &catalogue, &program, &refusal) == DT_OK) {
        dt_text text = {0};
        assert_int_equal(dt_write_program_json(program, &text), DT_OK);
        root = json_loads(text.bytes, 0, NULL);
        assert_non_null(root);
        dt_text_free(&text);
        dt_program_free(program);
    }
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
    return root;
}

static size_t numbers; /* compared so far */

static bool
    rounded; /* leave out what is rounded to cents and minutes, where a half may fall both ways */

static bool retold; /* leave out tables that tell each of their points */

static bool is_rounded(const char *key)
{
    static const char *const keys[] = {"cost", "cost_of", "days", "hours_of", "totals"};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; ++i)
        if (strcmp(keys[i], key) == 0) return true;
    return false;
}

/** Every number of both, at the same place; the lines of the well file are other ones. */
static void must_agree(const char *what, const char *path, const json_t *a, const json_t *b)
{
    char inner[512];
    if (json_typeof(a) != json_typeof(b)) fail_msg("%s: %s is of another kind", what, path);
    if (json_is_number(a)) {
        const double x = json_number_value(a), y = json_number_value(b);
        ++numbers;
        if (fabs(x - y) > 1e-9 * fmax(fabs(x), fabs(y)) + 1e-9)
            fail_msg("%s: %s is %.15g, and %.15g in the twin", what, path, x, y);
    }
    if (json_is_array(a)) {
        if (json_array_size(a) != json_array_size(b)) fail_msg("%s: %s: lengths", what, path);
        for (size_t i = 0; i < json_array_size(a); ++i) {
            snprintf(inner, sizeof inner, "%s.%zu", path, i);
            must_agree(what, inner, json_array_get(a, i), json_array_get(b, i));
        }
    }
    const char *key;
    json_t *value;
    json_object_foreach((json_t *)a, key, value)
    {
        const size_t length = strlen(key);
        if (length >= 4 && strcmp(key + length - 4, "line") == 0) continue;
        if (rounded && is_rounded(key)) continue;
        if (retold && strcmp(key, "offsets") == 0) continue;
        const json_t *other = json_object_get(b, key);
        snprintf(inner, sizeof inner, "%s.%s", path, key);
        if (!other) fail_msg("%s: the twin has no %s", what, inner);
        must_agree(what, inner, value, other);
    }
}

static void must_be_one(const char *what, const dt_well *well, const dt_well *twin)
{
    json_t *a = planned(well), *b = planned(twin);
    if (!a != !b) fail_msg("%s: only one of the two has a program", what);
    if (a) must_agree(what, "", a, b);
    json_decref(a);
    json_decref(b);
}

/* ---- the same file in metric units ---- */

typedef struct conversion {
    const char *unit, *metric;
    double factor; /* exact: NIST SP 811, appendix B */
} conversion;

#define FOOT  0.3048
#define POUND 0.45359237
#define PSI   (POUND * 9.80665 / (0.0254 * 0.0254))

static const conversion conversions[] = {
    {"ft", "m", FOOT},
    {"in", "mm", 25.4},
    {"ppg", "kg/m3", POUND / (231 * 0.0254 * 0.0254 * 0.0254)},
    {"psi", "kPa", PSI / 1000},
    {"psi/ft", "Pa/m", PSI / FOOT},
    {"klbf", "N", POUND * 9.80665 * 1000},
    {"lb/ft", "kg/m", POUND / FOOT},
};

static const conversion *conversion_of(const char *unit)
{
    for (size_t i = 0; i < sizeof conversions / sizeof *conversions; ++i)
        if (strcmp(conversions[i].unit, unit) == 0) return &conversions[i];
    return NULL;
}

typedef struct table_units {
    double depth, value; /* factors of the table that is being read */
} table_units;

/** Writes an attribute's value in metric units. */
static void write_value(FILE *out, const char *name, const char *value, table_units *table)
{
    const bool depths = strcmp(name, "depth_unit") == 0, values = strcmp(name, "unit") == 0;
    const conversion *unit = conversion_of(value);
    if (depths || values) {
        *(depths ? &table->depth : &table->value) = unit ? unit->factor : 1;
        fputs(unit ? unit->metric : value, out);
        return;
    }
    char *end;
    const double number = strtod(value, &end);
    static const char *const columns[] = {"value", "sd", "low", "high"};
    bool column = false;
    for (size_t i = 0; i < sizeof columns / sizeof *columns; ++i)
        column = column || strcmp(name, columns[i]) == 0;
    unit = *end == ' ' ? conversion_of(end + 1) : NULL;
    if (end == value || (*end && !unit))
        fputs(value, out);
    else if (unit)
        fprintf(out, "%.17g %s", number * unit->factor, unit->metric);
    else if (column || strcmp(name, "depth") == 0)
        fprintf(out, "%.17g", number * (column ? table->value : table->depth));
    else
        fputs(value, out);
}

/** It goes on counting in the units of the file, so that shoes are rounded to the same step. Freed
 * by the caller. */
static char *metric_twin(const char *text, dt_display counted)
{
    char *bytes = NULL, name[64], value[256];
    size_t size = 0;
    FILE *out = open_memstream(&bytes, &size);
    table_units table = {1, 1};
    assert_non_null(out);
    for (const char *begin = text; *text;) {
        int length = 0;
        if (sscanf(text, "%63[a-z_]=\"%255[^\"]\"%n", name, value, &length) == 2 && length > 0) {
            fprintf(out, "%s=\"", name);
            write_value(out, name, value, &table);
            fputc('"', out);
            text += length;
            continue;
        }
        const size_t word = strspn(text, "abcdefghijklmnopqrstuvwxyz_");
        fwrite(text, 1, word ? word : 1, out);
        if (word == 4 && text > begin && text[-1] == '<' && strncmp(text, "well", word) == 0)
            fprintf(out, " units=\"%s\"", counted == DT_DISPLAY_FIELD ? "field" : "metric");
        text += word ? word : 1;
    }
    assert_int_equal(fclose(out), 0);
    return bytes;
}

/* ---- more points on the same lines ---- */

/** A point inside every stretch of a table, at a quarter or at three quarters of it. */
static void add_points(dt_curve *curve, size_t turn)
{
    if (curve->count < 2) return;
    dt_curve_point *points = calloc(2 * curve->count, sizeof *points);
    size_t n = 0;
    assert_non_null(points);
    for (size_t i = 0; i < curve->count; ++i) {
        const dt_curve_point *p = &curve->points[i];
        points[n++] = *p;
        if (i + 1 == curve->count || !(p[1].tvd_m > p->tvd_m)) continue;
        const double share = (i + turn) % 2 ? 0.25 : 0.75;
        dt_curve_point *new = &points[n++];
        *new = *p;
        new->tvd_m += share *(p[1].tvd_m - p->tvd_m);
        new->emw_kgm3 += share *(p[1].emw_kgm3 - p->emw_kgm3);
        if (curve->between == DT_BETWEEN_PRESSURE)
            new->emw_kgm3 = (p->emw_kgm3 * p->tvd_m +
                             share * (p[1].emw_kgm3 * p[1].tvd_m - p->emw_kgm3 * p->tvd_m)) /
                            new->tvd_m;
    }
    free(curve->points);
    curve->points = points;
    curve->count = n;
}

/* ---- the last bits ---- */

/** One bit more, one less or none, by turns. */
static void nudge(double *number, size_t *turn)
{
    static const double towards[] = {INFINITY, 0, NAN};
    const double end = towards[(*turn)++ % 3];
    if (isfinite(*number) && *number > 0 && !isnan(end)) *number = nextafter(*number, end);
}

static void nudge_all(dt_well *well, size_t turn)
{
    dt_curve *const curves[] = {&well->pore, &well->fracture, &well->collapse};
    for (size_t c = 0; c < 3; ++c)
        for (size_t i = 0; i < curves[c]->count; ++i) {
            const bool step = i > 0 && curves[c]->points[i].tvd_m <= curves[c]->points[i - 1].tvd_m;
            if (!step) nudge(&curves[c]->points[i].tvd_m, &turn);
            nudge(&curves[c]->points[i].emw_kgm3, &turn);
        }
    for (size_t i = 0; i < well->interval_count; ++i) {
        nudge(&well->intervals[i].top_m, &turn);
        nudge(&well->intervals[i].base_m, &turn);
    }
    for (size_t i = 0; i < well->pay_count; ++i) {
        nudge(&well->pays[i].top_m, &turn);
        nudge(&well->pays[i].base_m, &turn);
    }
    nudge(&well->sticking.normal_pore_kgm3, &turn);
    nudge(&well->seats.round_to_m, &turn);
}

/* ---- all wells ---- */

static char *text_of(const char *path)
{
    size_t size = 0;
    char *bytes = shipped_read(path, &size), *text = realloc(bytes, size + 1);
    assert_non_null(text);
    text[size] = '\0';
    return text;
}

static void hold_against_twins(const char *path)
{
    char *text = text_of(path);
    dt_well *well = parsed(text);
    char *metric = metric_twin(text, well->display);
    dt_well *twin = parsed(metric);
    must_be_one(path, well, twin);
    dt_well_free(twin);
    for (size_t turn = 0; turn < 2; ++turn) {
        twin = parsed(text);
        const size_t before = twin->fracture.count;
        add_points(&twin->pore, turn);
        add_points(&twin->fracture, turn);
        add_points(&twin->collapse, turn);
        assert_true(twin->fracture.count > before);
        /* between drawn points the new ones stand still: other wells are drawn */
        const dt_prefer prefer = well->seats.prefer;
        well->seats.prefer = twin->seats.prefer = DT_PREFER_SHALLOWEST;
        retold = true;
        must_be_one(path, well, twin);
        retold = false;
        well->seats.prefer = prefer;
        dt_well_free(twin);
    }
    rounded = true;
    for (size_t turn = 0; turn < 6; ++turn) {
        twin = parsed(text);
        nudge_all(twin, turn);
        must_be_one(path, well, twin);
        dt_well_free(twin);
    }
    rounded = false;
    dt_well_free(well);
    free(metric);
    free(text);
}

static void every_shipped_well_has_its_twins(void **state)
{
    (void)state;
    shipped wells[MOST_SHIPPED];
    const size_t count = shipped_wells(wells);
    for (size_t i = 0; i < count; ++i)
        hold_against_twins(wells[i].path);
    assert_true(numbers > 1000);
}

/* Worked jobs with round numbers, where depths tie: pipe that is loaded alike from 2777 ft down. */
static void every_worked_job_has_its_twins(void **state)
{
    (void)state;
    static const char *const jobs[] = {"example-e", "lapeyrouse-differential", "lapeyrouse-sacks",
                                       "top-below-shoe", "weak-rock"};
    for (size_t i = 0; i < sizeof jobs / sizeof *jobs; ++i) {
        char path[512];
        snprintf(path, sizeof path, "%s/jobs/%s.xml", DT_TESTS, jobs[i]);
        hold_against_twins(path);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_shipped_well_has_its_twins),
        cmocka_unit_test(every_worked_job_has_its_twins),
    };
    return cmocka_run_group_tests_name("twins", tests, NULL, NULL);
}
