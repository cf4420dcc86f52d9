/* SPDX-License-Identifier: MIT */
/*
 * The public headers as a program sees them: handles, views, wishes in words, and a search that is
 * watched and stopped. tests/cli/script_embed.sh does the same with the installed libraries.
 */
#include <dirent.h>
#include <drawtube/draw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"

static char *read_file(const char *path, size_t *size)
{
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    char *bytes = malloc(DT_WELL_MAX_BYTES);
    assert_non_null(bytes);
    *size = fread(bytes, 1, DT_WELL_MAX_BYTES, file);
    fclose(file);
    return bytes;
}

static dt_well *parse(const char *path)
{
    size_t size = 0;
    char *bytes = read_file(path, &size);
    dt_report *report = NULL;
    dt_well *well = NULL;
    assert_int_equal(dt_report_open(path, &report), DT_OK);
    assert_int_equal(dt_well_parse(bytes, size, report, &well), DT_OK);
    dt_report_close(report);
    free(bytes);
    return well;
}

typedef struct planned {
    dt_well *well;
    dt_catalogue *catalogue;
    dt_program *program;
} planned;

static planned plan(const char *path)
{
    planned p = {.well = parse(path)};
    dt_refusal *refusal = NULL;
    assert_int_equal(dt_catalogue_open(&p.catalogue), DT_OK);
    assert_int_equal(dt_plan(p.well, p.catalogue, &p.program, &refusal), DT_OK);
    assert_null(refusal);
    return p;
}

static void free_planned(planned *p)
{
    dt_program_free(p->program);
    dt_catalogue_close(p->catalogue);
    dt_well_free(p->well);
}

/* ---- views ---- */

/** What must be so of any casing program, whatever made it; common practice, no source. */
static void check_string(const dt_program *program, size_t index)
{
    dt_string_view s;
    assert_int_equal(dt_program_string_view(program, index, &s), DT_OK);
    assert_true(strlen(s.name) > 0);
    assert_true(s.shoe_md_m >= s.shoe_tvd_m - 1e-6 && s.shoe_tvd_m > s.top_tvd_m);
    if (s.type != DT_TIEBACK) {
        assert_non_null(s.governed_by);
        assert_true(s.role == DT_CONDUCTOR ? s.od_m <= s.hole_m : s.largest_od_m < s.hole_m);
    }
    double steel_kg = 0, at_md_m = s.top_md_m;
    for (size_t i = 0; i < s.sections; ++i) {
        dt_section_view section;
        assert_int_equal(dt_program_section_view(program, index, i, &section), DT_OK);
        assert_within(section.top_md_m, at_md_m, 1e-6); /* one follows the other */
        at_md_m = section.base_md_m;
        assert_within(section.pipe.od_m, s.od_m, 1e-9);
        assert_within(section.pipe.id_m, section.pipe.od_m - 2 * section.pipe.wall_m, 1e-4);
        assert_true(section.pipe.threads & 1u << section.thread);
        steel_kg += section.pipe.weight_kgm * (section.base_md_m - section.top_md_m);
        bool holds = true;
        for (int c = 0; c < DT_CHECK_COUNT; ++c)
            if (section.checks[c].factor < section.checks[c].needed * (1 - 1e-9)) holds = false;
        assert_int_equal(holds, section.holds);
    }
    assert_within(at_md_m, s.shoe_md_m, 1e-6);
    assert_within(steel_kg, s.steel_kg, 0.1 + 0.05 * (double)s.sections); /* rounded to 0.1 kg */
    dt_section_view none;
    assert_int_equal(dt_program_section_view(program, index, s.sections, &none), DT_E_DOMAIN);
}

static void strings_and_sections_add_up(void **state)
{
    (void)state;
    size_t wells = 0;
    DIR *folder = opendir(DT_WELLS);
    assert_non_null(folder);
    for (struct dirent *entry = readdir(folder); entry; entry = readdir(folder)) {
        char path[512];
        if (!strstr(entry->d_name, ".xml")) continue;
        snprintf(path, sizeof path, "%s/%s", DT_WELLS, entry->d_name);
        planned p = {.well = parse(path)};
        assert_true(strlen(dt_well_name(p.well)) > 0);
        assert_true(dt_well_display(p.well) <= DT_DISPLAY_METRIC);
        assert_int_equal(dt_catalogue_open(&p.catalogue), DT_OK);
        dt_status status = dt_plan(p.well, p.catalogue, &p.program, NULL);
        if (status == DT_E_NONE) { /* some are shipped to show a refusal */
            free_planned(&p);
            continue;
        }
        assert_int_equal(status, DT_OK);
        dt_totals totals;
        dt_program_totals(p.program, &totals);
        assert_int_equal(totals.strings, dt_program_strings(p.program));
        double steel_kg = 0, cost = 0;
        for (size_t n = 0; n < totals.strings; ++n) {
            dt_string_view s;
            check_string(p.program, dt_program_at(p.program, n));
            assert_int_equal(dt_program_string_view(p.program, dt_program_at(p.program, n), &s),
                             DT_OK);
            steel_kg += s.steel_kg;
            cost += s.cost;
        }
        assert_within(steel_kg, totals.steel_kg, 0.1 * (double)totals.strings);
        assert_within(cost, totals.cost, 0.01 * (double)totals.strings);
        size_t stoppers = 0;
        for (size_t i = 0; i < totals.notices; ++i) {
            dt_notice_view notice;
            dt_text text = {0};
            dt_notice_show(dt_program_notice(p.program, i), &notice);
            assert_true(notice.string == DT_NO_INDEX || notice.string < totals.strings);
            for (size_t k = 0; k < notice.figure_count; ++k)
                assert_true(isfinite(notice.figures[k].value) && notice.figures[k].name);
            assert_int_equal(
                dt_notice_text(dt_program_notice(p.program, i), DT_DISPLAY_FIELD, &text), DT_OK);
            assert_true(strlen(notice.code) > 0 && text.size > 10 &&
                        text.size == strlen(text.bytes));
            dt_text_free(&text);
            stoppers += notice.gravity == DT_STOPPER;
        }
        dt_text brief = {0}, full = {0};
        assert_int_equal(dt_program_runnable(p.program), stoppers == 0);
        assert_int_equal(dt_write_program_table(p.program, DT_DISPLAY_FIELD, &brief), DT_OK);
        assert_int_equal(dt_write_program_full_table(p.program, DT_DISPLAY_FIELD, &full), DT_OK);
        assert_true(full.size > brief.size);
        dt_text_free(&brief);
        dt_text_free(&full);
        dt_string_view none;
        assert_null(dt_program_notice(p.program, totals.notices));
        assert_int_equal(dt_program_string_view(p.program, totals.strings, &none), DT_E_DOMAIN);
        free_planned(&p);
        ++wells;
    }
    closedir(folder);
    assert_true(wells >= 5);
}

/** Where string by string finds nothing, one of the options is handed out, and says so. */
static void an_option_is_planned(void **state)
{
    (void)state;
    planned p = plan(DT_TESTS "/gannet-hollow.xml");
    dt_totals totals;
    dt_notice_view notice;
    bool said = false;
    dt_program_totals(p.program, &totals);
    for (size_t i = 0; i < totals.notices; ++i) {
        dt_notice_show(dt_program_notice(p.program, i), &notice);
        said = said || strcmp(notice.code, "plan-from-options") == 0;
    }
    assert_true(said);
    free_planned(&p);
}

/* ---- reports and refusals ---- */

static void a_broken_file_is_reported(void **state)
{
    (void)state;
    static const char broken[] = "<well xmlns=\"urn:drawtube:well:1\">\n<objective/>";
    dt_report *report = NULL;
    dt_well *well = NULL;
    assert_int_equal(dt_report_open("mine.xml", &report), DT_OK);
    assert_int_equal(dt_well_parse(broken, strlen(broken), report, &well), DT_E_INPUT);
    assert_null(well);
    assert_true(dt_report_errors(report) > 0);
    assert_true(dt_report_found(report) >= dt_report_count(report));
    dt_finding_view finding;
    dt_text line = {0};
    assert_int_equal(dt_report_finding(report, 0, &finding), DT_OK);
    assert_int_equal(finding.severity, DT_ERROR);
    assert_int_equal(dt_report_line(report, 0, &line), DT_OK);
    char start[64];
    snprintf(start, sizeof start, "mine.xml:%d: error DT-%d: ", finding.line, finding.number);
    assert_memory_equal(line.bytes, start, strlen(start));
    assert_non_null(strstr(line.bytes, finding.text));
    dt_text_free(&line);
    const size_t count = dt_report_count(report);
    assert_int_equal(dt_report_finding(report, count, &finding), DT_E_DOMAIN);
    assert_int_equal(dt_report_line(report, count, &line), DT_E_DOMAIN);
    dt_report_close(report);
}

static void a_catalogue_file_too_large_is_refused(void **state)
{
    (void)state;
    dt_catalogue *catalogue = NULL;
    dt_report *report = NULL;
    char *large = calloc(1, DT_CATALOGUE_MAX_BYTES + 1);
    assert_non_null(large);
    memset(large, ' ', DT_CATALOGUE_MAX_BYTES + 1);
    assert_int_equal(dt_catalogue_open(&catalogue), DT_OK);
    assert_int_equal(dt_report_open("x", &report), DT_OK);
    const size_t before = dt_catalogue_count(catalogue);
    assert_int_equal(dt_catalogue_extend(catalogue, large, DT_CATALOGUE_MAX_BYTES + 1, report),
                     DT_E_INPUT);
    assert_int_equal(dt_report_errors(report), 1);
    assert_int_equal(dt_catalogue_count(catalogue), before);
    dt_report_close(report);
    dt_catalogue_close(catalogue);
    free(large);
}

/** A stock of one thin pipe holds no well: the refusal is a sentence. */
static void a_refusal_has_words(void **state)
{
    (void)state;
    static const char stock[] = "od_in,weight_lbft,grade\n4.5,,\n";
    dt_well *well = parse(DT_WELLS "/alder-reach.xml");
    dt_catalogue *catalogue = NULL;
    dt_report *report = NULL;
    dt_program *program = NULL;
    dt_refusal *refusal = NULL;
    dt_text why = {0};
    assert_int_equal(dt_catalogue_open(&catalogue), DT_OK);
    assert_int_equal(dt_report_open("stock", &report), DT_OK);
    assert_int_equal(dt_catalogue_restrict(catalogue, stock, strlen(stock), report), DT_OK);
    assert_int_equal(dt_plan(well, catalogue, &program, &refusal), DT_E_NONE);
    assert_null(program);
    assert_non_null(refusal);
    assert_int_equal(dt_refusal_text(refusal, DT_DISPLAY_FIELD, &why), DT_OK);
    assert_true(why.size > 20);
    dt_notice_view notice;
    dt_notice_show(dt_refusal_notice(refusal), &notice);
    assert_int_equal(notice.gravity, DT_STOPPER);
    if (notice.reasons > 0) assert_non_null(dt_notice_reason(dt_refusal_notice(refusal), 0));
    assert_null(dt_notice_reason(dt_refusal_notice(refusal), notice.reasons));
    dt_text_free(&why);
    dt_refusal_close(refusal);
    assert_int_equal(dt_plan(well, catalogue, &program, NULL), DT_E_NONE); /* not wanted */
    dt_report_close(report);
    dt_catalogue_close(catalogue);
    dt_well_free(well);
}

/* ---- questions ---- */

static void one_pipe_is_rated(void **state)
{
    (void)state;
    dt_catalogue *catalogue = NULL;
    dt_pipe_view pipe;
    dt_rated *rated = NULL;
    dt_rated_view r;
    assert_int_equal(dt_catalogue_open(&catalogue), DT_OK);
    assert_int_equal(
        dt_catalogue_find(catalogue, 9.625 * DT_M_PER_IN, 47 * DT_KGM_PER_LBFT, "L80", &pipe),
        DT_OK);
    assert_int_equal(dt_rated_open(catalogue, &pipe, 0, NULL, &rated), DT_OK);
    dt_rated_figures(rated, &r);
    /* API Bull 5C2, casing performance table, from memory: pressures to 10 psi, forces to 1000 lbf
     */
    assert_within(r.collapse_pa / DT_PA_PER_PSI, 4750, 6);
    assert_within(r.internal_yield_pa / DT_PA_PER_PSI, 6870, 6);
    assert_within(r.body_yield_n / 1000 / DT_N_PER_LBF, 1086, 0.6);
    assert_within(r.joint_n[DT_BTC] / 1000 / DT_N_PER_LBF, 1122, 0.6);
    assert_false(r.loaded);
    dt_rated_close(rated);
    /* a worn pipe is a thinner one; one worn through, or of a wild yield strength, is none */
    const dt_pipe_load load = {.inside_pa = 1e7};
    assert_int_equal(dt_rated_open(catalogue, &pipe, 0.002, &load, &rated), DT_OK);
    dt_rated_view worn;
    dt_rated_figures(rated, &worn);
    assert_true(worn.collapse_pa < r.collapse_pa && worn.loaded && worn.burst_factor > 1);
    dt_rated_close(rated);
    rated = NULL;
    assert_int_equal(dt_rated_open(catalogue, &pipe, pipe.wall_m, NULL, &rated), DT_E_DOMAIN);
    assert_int_equal(dt_rated_open(catalogue, &pipe, -0.001, NULL, &rated), DT_E_DOMAIN);
    dt_pipe_plain(0.2, 0.01, 1e12, NAN, &pipe);
    assert_int_equal(dt_rated_open(catalogue, &pipe, 0, NULL, &rated), DT_E_DOMAIN);
    assert_null(rated);
    assert_int_equal(dt_catalogue_find(catalogue, 0.1, 1, "L80", &pipe), DT_E_NONE);
    dt_catalogue_close(catalogue);
}

static void reasons_and_wishes(void **state)
{
    (void)state;
    planned p = plan(DT_WELLS "/brackwater-deep.xml");
    dt_why *why = NULL;
    dt_why_view reason;
    assert_int_equal(dt_why_open(p.program, DT_NO_INDEX, &why), DT_OK);
    assert_true(dt_why_count(why) >= dt_program_strings(p.program));
    for (size_t i = 0; i < dt_why_count(why); ++i) {
        assert_int_equal(dt_why_reason(why, i, &reason), DT_OK);
        assert_true(reason.string < dt_program_strings(p.program) && strlen(reason.rule) > 0);
    }
    assert_int_equal(dt_why_reason(why, dt_why_count(why), &reason), DT_E_DOMAIN);
    dt_why_close(why);
    why = NULL;
    assert_int_equal(dt_why_open(p.program, 99, &why), DT_E_DOMAIN);
    assert_null(why);

    const dt_wish_words good = {DT_WISH_SET, "shoe of surface = 3000 ft"};
    const dt_wish_words two[] = {good, {DT_WISH_SET, "shoe of nobody = 3000 ft"}};
    dt_wish_words many[9];
    for (size_t i = 0; i < 9; ++i)
        many[i] = good;
    dt_verdict *verdict = NULL;
    dt_wish_problem problem = {0};
    assert_int_equal(dt_verdict_open(p.program, two, 2, &verdict, &problem), DT_E_INPUT);
    assert_int_equal(problem.wish, 1);
    assert_non_null(strstr(problem.text.bytes, "nobody"));
    dt_text_free(&problem.text);
    assert_int_equal(dt_verdict_open(p.program, two, 2, &verdict, NULL), DT_E_INPUT);
    assert_int_equal(dt_verdict_open(p.program, many, 9, &verdict, &problem), DT_E_DOMAIN);
    assert_null(verdict);
    /* no fewer strings: the planner's are the fewest (docs/seats.md) */
    const dt_wish_words fewer = {DT_WISH_WITHOUT, "string 3"};
    assert_int_equal(dt_verdict_open(p.program, &fewer, 1, &verdict, NULL), DT_OK);
    assert_null(dt_verdict_program(verdict));
    dt_verdict_close(verdict);
    free_planned(&p);
}

static bool count_rounds(void *context, size_t done, size_t samples)
{
    (void)done;
    (void)samples;
    return ++*(size_t *)context < 2;
}

static void odds_are_counted_and_stopped(void **state)
{
    (void)state;
    planned p = plan(DT_WELLS "/brackwater-deep.xml");
    dt_odds *odds = NULL;
    dt_odds_view all;
    dt_odds_options options = {.samples = 400, .seed = 1};
    assert_int_equal(dt_odds_run(p.program, &options, &odds), DT_OK);
    dt_odds_figures(odds, &all);
    assert_int_equal(all.samples, 400);
    assert_int_equal(all.planned.of, 400);
    assert_true(all.planned.count <= all.spare.count && !all.stopped);
    dt_odds_free(odds);
    size_t rounds = 0;
    options = (dt_odds_options){
        .samples = DT_ODDS_MOST_SAMPLES, .seed = 1, .go_on = count_rounds, .context = &rounds};
    assert_int_equal(dt_odds_run(p.program, &options, &odds), DT_OK);
    dt_odds_figures(odds, &all);
    assert_true(all.stopped && all.samples < DT_ODDS_MOST_SAMPLES);
    dt_odds_free(odds);
    free_planned(&p);
}

/* ---- a search that is watched ---- */

typedef struct watcher {
    size_t calls, stop_at; /* 0: never stops */
    size_t last_done, last_total;
    bool fell; /* done went back within one kind of work */
} watcher;

static bool watch(void *context, size_t done, size_t total)
{
    watcher *w = context;
    if (w->calls > 0 && total == w->last_total && done < w->last_done) w->fell = true;
    w->last_done = done;
    w->last_total = total;
    return ++w->calls != w->stop_at;
}

static void a_search_is_watched_and_stopped(void **state)
{
    (void)state;
    dt_well *well = parse(DT_TESTS "/bare/alder-reach.xml");
    dt_catalogue *catalogue = NULL;
    dt_comparison *comparison = NULL;
    dt_refusal *refusal = NULL;
    assert_int_equal(dt_catalogue_open(&catalogue), DT_OK);
    watcher w = {0};
    dt_progress progress = {watch, &w};
    assert_int_equal(dt_comparison_open(well, catalogue, &progress, &comparison, &refusal), DT_OK);
    assert_true(w.calls > 100 && !w.fell && w.last_total > 0);
    const size_t all = w.calls;
    dt_text watched = {0}, unwatched = {0};
    assert_int_equal(dt_write_comparison_json(comparison, &watched), DT_OK);
    assert_true(dt_comparison_count(comparison) > 1);
    for (size_t i = 0; i < dt_comparison_count(comparison); ++i) {
        dt_option_view option;
        dt_totals totals;
        assert_int_equal(dt_comparison_option(comparison, i, &option), DT_OK);
        dt_program_totals(option.program, &totals);
        assert_true(option.closes);
        assert_int_equal(option.strings, totals.strings);
        assert_within(option.steel_kg, totals.steel_kg, 0.1 * (double)totals.strings);
        assert_within(option.last_od_m, totals.last_od_m, 1e-9);
    }
    dt_comparison_close(comparison);
    /* being watched changes nothing */
    assert_int_equal(dt_comparison_open(well, catalogue, NULL, &comparison, &refusal), DT_OK);
    assert_int_equal(dt_write_comparison_json(comparison, &unwatched), DT_OK);
    assert_string_equal(watched.bytes, unwatched.bytes);
    dt_text_free(&watched);
    dt_text_free(&unwatched);
    dt_comparison_close(comparison);
    /* stopped at once, in the middle and at the last call: nothing is handed out, nothing leaks */
    const size_t stops[] = {1, all / 2, all};
    for (size_t i = 0; i < sizeof stops / sizeof *stops; ++i) {
        w = (watcher){.stop_at = stops[i]};
        comparison = NULL;
        assert_int_equal(dt_comparison_open(well, catalogue, &progress, &comparison, &refusal),
                         DT_E_STOPPED);
        assert_null(comparison);
        assert_null(refusal);
        assert_int_equal(w.calls, stops[i]); /* not asked again */
    }
    dt_catalogue_close(catalogue);
    dt_well_free(well);
}

/* ---- what is imported ---- */

typedef struct rest {
    const char *at;
    size_t left;
} rest;

static size_t next_bytes(void *context, char *out, size_t size)
{
    rest *r = context;
    const size_t count = r->left < size ? r->left : size;
    memcpy(out, r->at, count);
    r->at += count;
    r->left -= count;
    return count;
}

static void a_table_is_imported(void **state)
{
    (void)state;
    dt_import_request request = {.tolerance_pa = 0};
    request.depth = (dt_import_column){"depth", "ft"};
    request.table[DT_IMPORT_PORE] = (dt_import_column){"pore", "ppg"};
    static const char csv[] = "depth,pore\n1000,9\n2000,9.5\n3000,9\n4000,11\n";
    rest r = {csv, strlen(csv)};
    dt_report *report = NULL;
    dt_imported *imported = NULL;
    dt_imported_view table;
    dt_text xml = {0};
    assert_int_equal(dt_report_open("x.csv", &report), DT_OK);
    assert_int_equal(dt_imported_open(next_bytes, &r, &request, report, &imported), DT_OK);
    assert_int_equal(dt_imported_table(imported, DT_IMPORT_PORE, &table), DT_OK);
    assert_int_equal(table.rows, 4);
    assert_int_equal(table.points, 4); /* every bend is kept */
    assert_string_equal(table.depth_unit, "ft");
    assert_int_equal(dt_imported_table(imported, DT_IMPORT_COLLAPSE, &table), DT_E_NONE);
    assert_int_equal(dt_imported_stations(imported), 0);
    assert_null(dt_imported_north(imported));
    assert_int_equal(dt_imported_xml(imported, NULL, 0, &xml), DT_OK);
    assert_non_null(strstr(xml.bytes, dt_import_element(DT_IMPORT_PORE)));
    dt_text_free(&xml);
    xml = (dt_text){0};
    assert_int_equal(dt_imported_xml(imported, "no XML", 6, &xml), DT_E_INPUT);
    assert_null(xml.bytes);
    dt_imported_close(imported);
    imported = NULL;
    r = (rest){"nothing", 7};
    assert_int_equal(dt_imported_open(next_bytes, &r, &request, report, &imported), DT_E_INPUT);
    assert_null(imported);
    assert_true(dt_report_errors(report) > 0);
    dt_report_close(report);
}

/** What a program may ask besides: changes in words, and what is said of those not understood. */
static void a_well_is_read_with_changes(void **state)
{
    (void)state;
    static const char well_file[] = "<well xmlns=\"urn:drawtube:well:1\"/>";
    static const char *const changes[] = {"fracture -0.2 ppg"};
    dt_report *report = NULL;
    dt_well *well = NULL;
    dt_text problem = {0};
    assert_int_equal(dt_report_open("well.xml", &report), DT_OK);
    assert_int_equal(dt_well_parse_with(well_file, sizeof well_file - 1, NULL, 0, changes, 1,
                                        report, &well, &problem),
                     DT_E_INPUT);
    assert_true(dt_report_errors(report) > 0 && !well);
    assert_null(problem.bytes); /* the file itself is refused, nothing is said of the change */
    dt_report_close(report);
}

/* ---- what differs ---- */

/** Two programs beside the one they are held against; what cannot be drawn is refused. */
static void check_beside(const dt_changes *changes, const dt_program *other)
{
    dt_changes *turned;
    dt_text text;
    char about[64];
    const char *const names[] = {"now", "deeper", "another"};
    const dt_changes *const both[] = {changes, changes};
    assert_int_equal(dt_draw_changes_beside(both, names, 2, DT_DISPLAY_FIELD, &text), DT_OK);
    assert_non_null(strstr(text.bytes, "now: Alder Reach 1"));
    assert_non_null(strstr(text.bytes, "another: Brackwater"));
    dt_text_free(&text);
    assert_int_equal(dt_draw_changes_beside(both, names, 0, DT_DISPLAY_FIELD, &text), DT_E_DOMAIN);
    assert_int_equal(dt_changes_open(other, other, &turned), DT_OK);
    const dt_changes *const mixed[] = {changes, turned};
    assert_int_equal(dt_draw_changes_beside(mixed, names, 2, DT_DISPLAY_FIELD, &text), DT_E_DOMAIN);
    dt_changes_close(turned);
    dt_change_where(changes, 0, about, sizeof about);
    assert_string_equal(about, "well");
}

/** Every pair of strings is told of where it differs, and nowhere else; each string is paired,
 * added or removed. */
static void check_changes(const dt_program *was, const dt_program *is, const dt_changes *changes)
{
    const size_t strings = dt_program_strings(is);
    size_t added = 0, removed = 0, paired = 0;
    for (size_t i = 0; i < dt_changes_count(changes); ++i) {
        dt_change_view change;
        dt_text words = {0};
        assert_int_equal(dt_changes_at(changes, i, &change), DT_OK);
        assert_true(strlen(dt_change_code(change.what)) > 0);
        assert_int_equal(dt_change_text(changes, i, DT_DISPLAY_FIELD, &words), DT_OK);
        dt_text_free(&words);
        added += change.what == DT_CHANGE_ADDED;
        removed += change.what == DT_CHANGE_REMOVED;
    }
    for (size_t k = 0; k < strings; ++k) {
        dt_string_view now, before;
        const size_t partner = dt_changes_partner(changes, k);
        if (partner == DT_NO_INDEX) continue;
        ++paired;
        assert_int_equal(dt_program_string_view(is, k, &now), DT_OK);
        assert_int_equal(dt_program_string_view(was, partner, &before), DT_OK);
        bool told_shoe = false, told_size = false, told_type = false;
        for (size_t i = 0; i < dt_changes_count(changes); ++i) {
            dt_change_view change;
            assert_int_equal(dt_changes_at(changes, i, &change), DT_OK);
            if (change.is != k || change.was != partner) continue;
            told_type = told_type || change.what == DT_CHANGE_TYPE;
            told_size = told_size || change.what == DT_CHANGE_SIZE;
            if (change.what != DT_CHANGE_SHOE) continue;
            told_shoe = true;
            assert_within(change.was_value, before.shoe_md_m, 0);
            assert_within(change.is_value, now.shoe_md_m, 0);
        }
        assert_int_equal(told_shoe, fabs(now.shoe_md_m - before.shoe_md_m) > 1e-5);
        assert_int_equal(told_size, fabs(now.od_m - before.od_m) > 1e-6);
        assert_int_equal(told_type, now.type != before.type);
    }
    assert_int_equal(paired + added, strings);
    assert_int_equal(paired + removed, dt_program_strings(was));
}

static void what_differs_is_told_and_nothing_else(void **state)
{
    (void)state;
    static const char *const names[] = {"alder-reach", "hollinfold", "brackwater-deep",
                                        "mizzenlow-shelf", "thornback-rise"};
    enum { COUNT = sizeof names / sizeof *names };
    planned p[COUNT] = {{0}};
    dt_changes *changes = NULL;
    dt_text text = {0}, lines = {0};
    for (size_t i = 0; i < COUNT; ++i) {
        char path[512];
        snprintf(path, sizeof path, "%s/%s.xml", DT_WELLS, names[i]);
        p[i].well = parse(path);
        assert_int_equal(dt_catalogue_open(&p[i].catalogue), DT_OK);
        assert_int_equal(dt_plan(p[i].well, p[i].catalogue, &p[i].program, NULL), DT_OK);
    }
    for (size_t i = 0; i < COUNT; ++i)
        for (size_t k = 0; k < COUNT; ++k) {
            assert_int_equal(dt_changes_open(p[i].program, p[k].program, &changes), DT_OK);
            if (i == k)
                assert_int_equal(dt_changes_count(changes), 0);
            else
                check_changes(p[i].program, p[k].program, changes);
            dt_change_view none;
            assert_int_equal(dt_changes_at(changes, dt_changes_count(changes), &none), DT_E_DOMAIN);
            dt_changes_close(changes);
        }
    assert_int_equal(dt_changes_open(p[0].program, p[2].program, &changes), DT_OK);
    assert_int_equal(dt_write_changes_json(changes, &text), DT_OK);
    assert_non_null(strstr(text.bytes, "\"schema\": \"drawtube.changes/1\""));
    dt_text_free(&text);
    assert_int_equal(dt_write_changes_text(changes, DT_DISPLAY_FIELD, &text), DT_OK);
    assert_non_null(strstr(text.bytes, "Alder Reach 1"));
    assert_non_null(strstr(text.bytes, "Brackwater"));
    assert_int_equal(dt_write_program_lines(p[0].program, DT_DISPLAY_FIELD, &lines), DT_OK);
    assert_non_null(strstr(lines.bytes, "\n  shoe: 2000 ft MD\n"));
    assert_null(strstr(lines.bytes, "well file line")); /* it moves when the file grows above it */
    dt_text_free(&text);
    dt_text_free(&lines);
    assert_int_equal(dt_draw_changes(changes, DT_DISPLAY_METRIC, &text), DT_OK);
    assert_non_null(strstr(text.bytes, "Second: Brackwater"));
    assert_non_null(strstr(text.bytes, ">new<")); /* it has a string more */
    dt_text_free(&text);
    check_beside(changes, p[1].program);
    dt_changes_close(changes);
    for (size_t i = 0; i < COUNT; ++i)
        free_planned(&p[i]);
}

/** What may be freed may be nothing. */
static void nothing_is_freed(void **state)
{
    (void)state;
    dt_report_close(NULL);
    dt_well_free(NULL);
    dt_catalogue_close(NULL);
    dt_refusal_close(NULL);
    dt_program_free(NULL);
    dt_comparison_close(NULL);
    dt_changes_close(NULL);
    dt_why_close(NULL);
    dt_verdict_close(NULL);
    dt_odds_free(NULL);
    dt_rated_close(NULL);
    dt_imported_close(NULL);
    dt_text_free(NULL);
    assert_true(strlen(dt_version()) >= 5);
}

/* ---- bases ---- */

static void a_well_is_read_on_a_basis_of_ones_own(void **state)
{
    (void)state;
    static const char ours[] =
        "<basis xmlns=\"urn:drawtube:well:1\" name=\"ours\"><seats lap=\"200 ft\"><source>rule 7"
        "</source></seats></basis>";
    dt_report *report = NULL;
    dt_basis *basis = NULL;
    dt_well *well = NULL;
    assert_int_equal(dt_report_open("ours.xml", &report), DT_OK);
    assert_int_equal(dt_basis_open(ours, sizeof ours - 1, report, &basis), DT_OK);
    assert_string_equal(dt_basis_name(basis), "ours");
    const dt_basis *over[] = {dt_basis_shipped(dt_basis_shipped_name(1)), basis};
    const char *text = dt_well_starter_on("land", false);
    assert_int_equal(dt_well_parse_on(text, strlen(text), over, 2, report, &well), DT_OK);
    dt_basis_close(basis); /* the well has what it needs of it */
    assert_true(strlen(dt_well_name(well)) > 0);
    dt_well_free(well);
    well = NULL;
    basis = NULL;
    assert_int_equal(dt_basis_open("<basis", 6, report, &basis), DT_E_INPUT);
    assert_null(basis);
    assert_int_equal(dt_report_errors(report), 1);
    assert_null(dt_basis_shipped("nowhere"));
    dt_report_close(report);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_well_is_read_on_a_basis_of_ones_own),
                                       cmocka_unit_test(strings_and_sections_add_up),
                                       cmocka_unit_test(an_option_is_planned),
                                       cmocka_unit_test(a_broken_file_is_reported),
                                       cmocka_unit_test(a_catalogue_file_too_large_is_refused),
                                       cmocka_unit_test(a_refusal_has_words),
                                       cmocka_unit_test(one_pipe_is_rated),
                                       cmocka_unit_test(reasons_and_wishes),
                                       cmocka_unit_test(odds_are_counted_and_stopped),
                                       cmocka_unit_test(a_search_is_watched_and_stopped),
                                       cmocka_unit_test(a_table_is_imported),
                                       cmocka_unit_test(a_well_is_read_with_changes),
                                       cmocka_unit_test(what_differs_is_told_and_nothing_else),
                                       cmocka_unit_test(nothing_is_freed)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
