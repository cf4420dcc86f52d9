/* SPDX-License-Identifier: MIT */
/*
 * Imports: the examples of the LAS 2.0 standard, a bad file for each message, thinning that is
 * never on the unsafe side, and files far larger than memory.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>

#include "cited.h"
#include "import.h"
#include "shipped_wells.h"

typedef struct bytes {
    const char *at;
    size_t left;
} bytes;

static size_t read_bytes(void *context, char *out, size_t size)
{
    bytes *b = context;
    size_t count = b->left < size ? b->left : size;
    if (count > 7) count -= count % 3; /* lines are cut anywhere */
    memcpy(out, b->at, count);
    b->at += count;
    b->left -= count;
    return count;
}

static char *read_whole(const char *name, size_t *size)
{
    char path[512];
    snprintf(path, sizeof path, "%s/%s", DT_TESTS, name);
    FILE *file = fopen(path, "rb");
    if (!file) fail_msg("%s is not there", path);
    char *text = malloc(1 << 20);
    assert_non_null(text);
    *size = fread(text, 1, 1 << 20, file);
    fclose(file);
    return text;
}

/** Pore and fracture under the names the files of imports/ use. */
static dt_import_request tables_of(const char *text)
{
    bool las = strstr(text, "~V") != NULL || strstr(text, "~W") != NULL;
    dt_import_request request = {0};
    request.table[DT_IMPORT_PORE].name = las ? "PP" : "pore";
    request.table[DT_IMPORT_FRACTURE].name = las ? "FG" : "frac";
    return request;
}

/* ---- one bad file for each message ---- */

typedef struct number_row {
    int number;
    bool seen;
} number_row;

static number_row numbers[] = {
#define DT_MESSAGE(number, name, severity, text, fix) {number, false},
#include "messages.def"
#undef DT_MESSAGE
};

static void mark_seen(int number)
{
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; ++i)
        if (numbers[i].number == number) numbers[i].seen = true;
}

static void check_file(const char *name, const char *mode, const char *want)
{
    size_t size = 0;
    char path[300], found[200] = "";
    snprintf(path, sizeof path, "imports/%s", name);
    char *text = read_whole(path, &size);
    text = realloc(text, size + 1);
    text[size] = '\0';
    dt_import_request request = tables_of(text);
    if (mode[0] == 's') request = (dt_import_request){.survey = true};
    if (strcmp(mode, "off") == 0) request = (dt_import_request){.offsets = true};
    bytes b = {text, size};
    dt_report report;
    dt_imported imported = {0};
    assert_int_equal(dt_report_init(&report, name), DT_OK);
    dt_status status = dt_import(read_bytes, &b, &request, &report, &imported);
    assert_int_equal(status, strcmp(mode, "ok") == 0 ? DT_OK : DT_E_INPUT);
    dt_report_sort(&report);
    for (size_t i = 0; i < report.count; ++i) {
        size_t at = strlen(found);
        snprintf(found + at, sizeof found - at, "%s%d@%d", i ? " " : "", (int)report.items[i].id,
                 report.items[i].line);
        mark_seen((int)report.items[i].id);
    }
    if (strcmp(found, want) != 0) fail_msg("%s: found %s, want %s", name, found, want);
    dt_imported_free(&imported);
    dt_report_free(&report);
    free(text);
}

static void bad_files_are_refused_with_lines(void **state)
{
    (void)state;
    size_t size = 0, files = 0;
    char *list = read_whole("imports/expected.txt", &size);
    list[size] = '\0';
    for (char *line = strtok(list, "\n"); line; line = strtok(NULL, "\n")) {
        char name[200], mode[8], want[100];
        if (line[0] == '#') continue;
        assert_int_equal(sscanf(line, "%199s %7s %99[^\n]", name, mode, want), 3);
        check_file(name, mode, want);
        ++files;
    }
    assert_true(files > 30);
    free(list);
}

/* ---- ends of lines and of the file ---- */

/** Imports a text; false: refused. */
static bool import_lines(const char *text, dt_imported *out, size_t *findings)
{
    dt_import_request request = tables_of(text);
    bytes b = {text, strlen(text)};
    dt_report report;
    *out = (dt_imported){0};
    assert_int_equal(dt_report_init(&report, "text"), DT_OK);
    bool good = dt_import(read_bytes, &b, &request, &report, out) == DT_OK;
    *findings = report.count;
    dt_report_free(&report);
    return good;
}

/* A table is the same table whatever ends its lines, and whether or not the last one is ended. */
static void line_ends_change_nothing(void **state)
{
    (void)state;
    static const char *const lines[] = {"depth [ft],pore [ppg],frac [ppg]", "100,9.0,13.0",
                                        "2000,9.5,14.0", "3000,10.25,15.5"};
    const char *const ends[] = {"\n", "\r\n", "\r"};
    for (size_t e = 0; e < 3; ++e)
        for (size_t ended = 0; ended < 2; ++ended) {
            char text[300] = "", *xml = NULL;
            dt_imported imported;
            size_t findings;
            for (size_t i = 0; i < 4; ++i) {
                strcat(text, lines[i]);
                if (i < 3 || ended) strcat(text, ends[e]);
            }
            assert_true(import_lines(text, &imported, &findings));
            assert_int_equal(findings, 0);
            assert_int_equal(imported.table[DT_IMPORT_PORE].rows, 3);
            assert_int_equal(dt_import_text(&imported, &xml), DT_OK);
            static char first[2000];
            if (e + ended == 0) snprintf(first, sizeof first, "%s", xml);
            assert_string_equal(xml, first);
            assert_non_null(strstr(xml, "<point depth=\"3000\" value=\"15.5\"/>"));
            free(xml);
            dt_imported_free(&imported);
        }
}

/** Imports a text that is refused; the number of its first message. */
static int refused_text(const char *text)
{
    dt_import_request request = tables_of(text);
    bytes b = {text, strlen(text)};
    dt_report report;
    dt_imported imported = {0};
    assert_int_equal(dt_report_init(&report, "text"), DT_OK);
    assert_int_equal(dt_import(read_bytes, &b, &request, &report, &imported), DT_E_INPUT);
    assert_true(report.count > 0);
    int id = (int)report.items[0].id;
    dt_report_free(&report);
    return id;
}

/* 512 columns are read, the last among them too; 513 are refused (docs/import.md). */
static void as_many_columns_as_are_read(void **state)
{
    (void)state;
    for (int columns = 512; columns <= 513; ++columns)
        for (int las = 0; las < 2; ++las) {
            static char text[40000];
            char *to = text;
            if (las)
                to += sprintf(to, "~V\nVERS. 2.0 :\nWRAP. NO :\n~W\nSTRT.FT 100 :\nSTOP.FT 200 :\n"
                                  "STEP.FT 100 :\nNULL. -999 :\n~C\n");
            for (int i = 0; i < columns; ++i) {
                const char *name = i + 1 < columns ? "X" : las ? "FG" : "frac";
                const char *pore = las ? "PP" : "pore", *unit = i == 0 ? "ft" : "ppg";
                if (i <= 1) name = i ? pore : "DEPT";
                to += las ? sprintf(to, "%s%.0d.%s :\n", name, *name == 'X' ? i : 0, unit)
                          : sprintf(to, "%s%s%.0d [%s]", i ? "," : "", name, *name == 'X' ? i : 0,
                                    unit);
            }
            to += sprintf(to, las ? "~A" : "");
            for (int row = 1; row <= 2; ++row) {
                to += sprintf(to, "\n%d", 100 * row);
                for (int i = 1; i < columns; ++i)
                    to += sprintf(to, las ? " %d" : ",%d", i == 1 ? 9 : i == columns - 1 ? 15 : 11);
            }
            assert_true(to < text + sizeof text);
            if (columns == 513) {
                assert_int_equal(refused_text(text), DT_MSG_IMPORT_COLUMNS);
                continue;
            }
            dt_imported imported;
            size_t findings;
            assert_true(import_lines(text, &imported, &findings));
            assert_int_equal(imported.table[DT_IMPORT_FRACTURE].rows, 2);
            assert_within(imported.table[DT_IMPORT_FRACTURE].points[1].value, 15, 0);
            dt_imported_free(&imported);
        }
}

/* What has no depth cannot stand in a table, and a table of more bends than a well file takes is
 * not cut off. */
static void rows_that_make_no_table(void **state)
{
    (void)state;
    static char text[60000];
    char *to = text;
    assert_int_equal(refused_text("~V\nVERS. 2.0 :\nWRAP. NO :\n~W\nSTRT.FT 100 :\nSTOP.FT 200 :\n"
                                  "STEP.FT 50 :\nNULL. -999 :\n~C\nDEPT.FT :\nPP.PPG :\nFG.PPG :\n"
                                  "~A\n100 9 13\n-999 9 13\n200 9 13\n"),
                     DT_MSG_IMPORT_DEPTH);
    to += sprintf(to, "depth [ft],pore [ppg],frac [ppg]\n");
    for (int i = 1; i <= 2100; ++i)
        to += sprintf(to, "%d,%d,14\n", 4 * i, i % 2 ? 9 : 10);
    assert_int_equal(refused_text(text), DT_MSG_IMPORT_POINTS);
}

/* ---- files larger than memory ---- */

typedef struct stream {
    const char *head, *row;
    size_t head_left, total, sent;
    size_t number;
    bool depths; /* rows count their depth up */
} stream;

static size_t read_stream(void *context, char *out, size_t size)
{
    stream *s = context;
    if (s->sent >= s->total) return 0;
    size_t count = 0;
    if (s->head_left > 0) {
        count = s->head_left < size ? s->head_left : size;
        memcpy(out, s->head + strlen(s->head) - s->head_left, count);
        s->head_left -= count;
    } else {
        char row[64];
        for (;;) {
            size_t length = strlen(s->row);
            if (s->depths)
                length = (size_t)snprintf(row, sizeof row, "%.4f,9.0,13.0\n",
                                          1 + 0.001 * (double)s->number);
            else
                memcpy(row, s->row, length + 1);
            if (count + length > size) break;
            memcpy(out + count, row, length);
            count += length;
            ++s->number;
        }
    }
    s->sent += count;
    return count;
}

static int stream_message(stream *s, const dt_import_request *request)
{
    dt_report report;
    dt_imported imported = {0};
    assert_int_equal(dt_report_init(&report, "stream"), DT_OK);
    assert_int_equal(dt_import(read_stream, s, request, &report, &imported), DT_E_INPUT);
    assert_int_equal(report.count, 1);
    int id = (int)report.items[0].id;
    assert_true(report.items[0].line > 0 || id == DT_MSG_IMPORT_BIG);
    mark_seen(id);
    dt_report_free(&report);
    return id;
}

static void a_gigabyte_is_refused_in_bounded_memory(void **state)
{
    (void)state;
    static const char head[] = "depth [ft],pore [ppg],frac [ppg]\n";
    const size_t gigabyte = (size_t)1 << 30;
    dt_import_request request = {0}, survey = {.survey = true};
    request.table[DT_IMPORT_PORE].name = "pore";
    request.table[DT_IMPORT_FRACTURE].name = "frac";
    stream rows = {head, "", sizeof head - 1, gigabyte, 0, 0, true};
    stream line = {head, "99999999", sizeof head - 1, gigabyte, 0, 0, false};
    stream witsml = {"<trajectorys>", "<trajectory/>\n", 13, gigabyte, 0, 0, false};
    assert_int_equal(stream_message(&rows, &request), DT_MSG_IMPORT_ROWS);
    assert_int_equal(stream_message(&line, &request), DT_MSG_IMPORT_LINE_LONG);
    assert_int_equal(stream_message(&witsml, &survey), DT_MSG_IMPORT_BIG);
    assert_true(rows.sent < gigabyte / 8 && line.sent < gigabyte / 8); /* not read to the end */
    struct rusage usage;
    assert_int_equal(getrusage(RUSAGE_SELF, &usage), 0);
#ifndef __SANITIZE_ADDRESS__
    assert_true(usage.ru_maxrss < 200 * 1024); /* kB */
#endif
}

static void every_message_is_provoked(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; ++i)
        if (numbers[i].number >= 520 && numbers[i].number < 550 && !numbers[i].seen)
            fail_msg("nothing provokes DT-%d", numbers[i].number);
}

/* ---- the standard's own examples ---- */

static dt_status import_text(const char *text, size_t size, const dt_import_request *request,
                             dt_report *report, dt_imported *out)
{
    bytes b = {text, size};
    assert_int_equal(dt_report_init(report, "text"), DT_OK);
    return dt_import(read_bytes, &b, request, report, out);
}

static const cited las = {CITED_READ,
                          "LAS Version 2.0, Canadian Well Logging Society, 25 September "
                          "1992, appendix 2, example 1"};

/*
 * The print shows 3 of its rows, so that STOP does not agree until it is set to the last one.
 */
static void the_standards_example_is_read(void **state)
{
    (void)state;
    size_t size = 0;
    char *text = read_whole("imports/standard-example-1.las", &size);
    text[size] = '\0';
    dt_import_request request = {0};
    request.table[DT_IMPORT_OVERBURDEN].name = "RHOB"; /* 2550 K/M3: any density will do here */
    dt_report report;
    dt_imported imported = {0};
    assert_int_equal(import_text(text, size, &request, &report, &imported), DT_E_INPUT);
    assert_int_equal(report.items[0].id, DT_MSG_LAS_RANGE);
    assert_int_equal(report.items[0].line, 8);
    dt_report_free(&report);
    memcpy(strstr(text, "1660.0000"), "1669.7500", 9);
    assert_int_equal(import_text(text, size, &request, &report, &imported), DT_OK);
    const dt_import_curve *curve = &imported.table[DT_IMPORT_OVERBURDEN];
    assert_string_equal(curve->unit->symbol, "kg/m3");
    assert_string_equal(curve->depth_unit->symbol, "m");
    assert_int_equal(curve->rows, 3);
    assert_int_equal(curve->count, 2); /* a straight line needs no third point */
    /* from the surface down */
    assert_cited(&las, "first depth", "m", curve->points[0].depth, 1669.75, 1e-9);
    assert_cited(&las, "last depth", "m", curve->points[1].depth, 1670, 1e-9);
    assert_cited(&las, "RHOB", "K/M3", curve->points[0].value, 2550, 1e-9);
    dt_imported_free(&imported);
    dt_report_free(&report);
    free(text);
}

static void a_gap_is_told(void **state)
{
    (void)state;
    static const char text[] = "depth [ft],pore [ppg],frac [ppg]\n1000,9,13\n1100,,13\n1200,,13\n"
                               "1300,9.5,13\n1400,,13\n1500,9.9,13\n";
    dt_import_request request = tables_of(text);
    dt_report report;
    dt_imported imported = {0};
    assert_int_equal(import_text(text, sizeof text - 1, &request, &report, &imported), DT_OK);
    const dt_import_curve *pore = &imported.table[DT_IMPORT_PORE];
    assert_int_equal(pore->gaps, 3);
    assert_within(pore->gap_top, 1000, 0);
    assert_within(pore->gap_base, 1300, 0);
    assert_int_equal(imported.table[DT_IMPORT_FRACTURE].gaps, 0);
    dt_imported_free(&imported);
    dt_report_free(&report);
}

/* ---- surveys: CSV and WITSML say the same ---- */

static void both_surveys_are_the_same(void **state)
{
    (void)state;
    const char *names[] = {"../docs/samples/survey.csv", "../docs/samples/survey.xml"};
    dt_imported imported[2];
    memset(imported, 0, sizeof imported);
    const dt_import_request request = {.survey = true};
    for (int i = 0; i < 2; ++i) {
        size_t size = 0;
        char *text = read_whole(names[i], &size);
        dt_report report;
        assert_int_equal(import_text(text, size, &request, &report, &imported[i]), DT_OK);
        dt_report_free(&report);
        free(text);
    }
    assert_int_equal(imported[0].station_count, 11);
    assert_int_equal(imported[0].station_count, imported[1].station_count);
    for (size_t i = 0; i < imported[0].station_count; ++i) {
        const dt_station *a = &imported[0].stations[i], *b = &imported[1].stations[i];
        assert_within(a->md_m, b->md_m, 0);
        assert_within(a->inclination_rad, b->inclination_rad, 0);
        assert_within(a->azimuth_rad, b->azimuth_rad, 0);
    }
    assert_within(imported[0].stations[10].md_m, 13500 * 0.3048, 1e-9); /* ft: NIST SP 811, exact */
    assert_string_equal(imported[1].azimuth_reference, "grid north");
    dt_imported_free(&imported[0]);
    dt_imported_free(&imported[1]);
}

/* ---- thinning: never on the unsafe side, never further than the tolerance ---- */

static unsigned long long seed;

static double chance(void)
{
    seed ^= seed << 13;
    seed ^= seed >> 7;
    seed ^= seed << 17;
    return (double)(seed >> 11) / 9007199254740992.0;
}

static double density_weight(const void *context, double depth)
{
    (void)context;
    return 119.826427316897 * 9.80665 * depth * 0.3048; /* ppg over depth in ft, to Pa */
}

/** Value of a polyline at a depth, on the upper or the lower side of a step. */
static double value_at(const dt_import_point *points, size_t count, double depth, bool below)
{
    size_t i = 0;
    while (i + 1 < count &&
           (points[i + 1].depth < depth || (below && points[i + 1].depth <= depth)))
        ++i;
    if (points[i].depth == depth || i + 1 == count) return points[i].value;
    const dt_import_point *a = &points[i], *b = &points[i + 1];
    if (b->depth == depth && a->depth == depth) return b->value;
    return a->value + (b->value - a->value) * (depth - a->depth) / (b->depth - a->depth);
}

static size_t random_curve(dt_import_point *points, size_t most)
{
    size_t count = 3 + (size_t)(chance() * (double)(most - 3));
    double depth = 100 + 400 * chance(), value = 8.5 + chance();
    for (size_t i = 0; i < count; ++i) {
        points[i] = (dt_import_point){depth, value};
        bool step = i > 0 && points[i - 1].depth < depth && chance() < 0.03;
        if (!step) depth += 1 + 60 * chance();
        value += step ? chance() : 0.12 * (chance() - 0.42);
    }
    return count;
}

static void thinning_stays_on_the_safe_side(void **state)
{
    (void)state;
    enum { MOST = 400 };
    dt_import_point points[MOST], thin[MOST];
    size_t dropped = 0, all = 0;
    for (int run = 0; run < 3000; ++run) {
        seed = 88172645463325252ull + (unsigned long long)run * 977;
        size_t count = random_curve(points, MOST), kept = count;
        double tolerance = 6894.757 * (run % 7 == 0 ? 0 : 40 * chance()), worst = 0;
        bool raise = run % 2 == 0;
        memcpy(thin, points, count * sizeof *points);
        const dt_thinning how = {raise, tolerance, run % 3 ? 0 : 1e-4, density_weight, NULL, 0};
        assert_int_equal(dt_thin(&how, thin, &kept, &worst), DT_OK);
        assert_true(kept >= 2 && kept <= count);
        assert_true(worst <= fmax(tolerance, how.grid * density_weight(NULL, 30000)));
        for (size_t i = 0; i < count; ++i) {
            bool below = i > 0 && points[i - 1].depth == points[i].depth;
            double off = value_at(thin, kept, points[i].depth, below) - points[i].value;
            double slack = 1e-9;
            if (!(raise ? off >= -slack : off <= slack))
                fail_msg("run %d: point %zu is off by %g on the unsafe side", run, i, off);
            double pressure = fabs(off) * density_weight(NULL, points[i].depth);
            if (!(pressure <= worst * (1 + 1e-9) + 1e-3))
                fail_msg("run %d: point %zu is off by %g Pa, %g is told", run, i, pressure, worst);
        }
        dropped += count - kept;
        all += count;
    }
    print_message("%zu of %zu points dropped\n", dropped, all);
    assert_true(dropped > all / 3);
}

/** Too many points to keep are refused before the work gets long. */
static void a_limit_of_points_is_held(void **state)
{
    (void)state;
    dt_import_point points[100];
    for (size_t i = 0; i < 100; ++i)
        points[i] = (dt_import_point){100 + (double)i, i % 2 ? 9 : 12};
    dt_thinning how = {true, 1000, 0, density_weight, NULL, 50};
    size_t count = 100;
    double worst = 0;
    assert_int_equal(dt_thin(&how, points, &count, &worst), DT_E_NONE);
    assert_int_equal(count, 100);
    how.most = 100;
    assert_int_equal(dt_thin(&how, points, &count, &worst), DT_OK);
}

/* One table as spreadsheets and other programs write it: what is imported is the same. */
static void a_table_in_many_forms(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "depth [m],pore [sg],frac [sg],remark\n1000,1.03,1.5,\n1500,1.2,1.75,\"hard, dry\"\n",
        "Depth (m);Pore (S.G.);Frac (sg);Remark\n1000;1,03;1,5;\n1500;1,2;1,75;hard, dry\n",
        "depth;pore;frac;remark\nm;sg;sg;\n1000;1.03;1.5;\n1500;1.2;1.75;\n",
        "sep=;\r\nDepth;PORE;FRAC;Remark\r\n[metres];[SG];[SG];-\r\n1000;1,03;1,5;\r\n1500;1,2;1,"
        "75;\r\n",
        "\xEF\xBB\xBF# from the office\nDepth [m]\tPore [g/cc]\tFrac "
        "[g/cc]\n1000\t1,030\t1,500\n1500\t1,200\t1,750\n",
        "\"Depth (m)\";\"pore (sg)\";\"frac "
        "(sg)\"\n\"1000\";\"1,03\";\"1,5\"\n\"1500\";\"1,2\";\"1,75\"\n",
        "depth [M],pore,frac\n,sg,SG\n1000,1.03,1.5\n1500,1.2,1.75\n"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; ++i) {
        dt_imported imported;
        size_t findings = 0;
        if (!import_lines(texts[i], &imported, &findings) || findings > 0)
            fail_msg("refused: %s", texts[i]);
        static const double want[2][2] = {{1.03, 1.2}, {1.5, 1.75}};
        for (int t = 0; t < 2; ++t) {
            const dt_import_curve *curve =
                &imported.table[t == 0 ? DT_IMPORT_PORE : DT_IMPORT_FRACTURE];
            assert_int_equal(curve->count, 2);
            assert_string_equal(curve->depth_unit->symbol, "m");
            assert_within(curve->unit->factor, 1000, 0);
            for (size_t k = 0; k < 2; ++k) {
                assert_within(curve->points[k].depth, k == 0 ? 1000 : 1500, 0);
                assert_within(curve->points[k].value, want[t][k], 1e-9);
            }
        }
        dt_imported_free(&imported);
    }
}

/* RFC 4180, section 2: quotes round a cell with commas, doubled quotes inside. */
static void quotes_and_a_byte_order_mark(void **state)
{
    (void)state;
    static const char text[] =
        "\xEF\xBB\xBF\"depth [ft]\",\"pore \"\"best\"\", from mud ( ppg )\",\"remark, of ours\"\r\n"
        " 1000 ,\"9.5\",\"tight, \"\"hard\"\"\"\r\n"
        "# between\r\n\r\n"
        "2000,10.5,\r\n";
    dt_import_request request = {0};
    request.table[DT_IMPORT_PORE].name = "pore \"best\", from mud";
    dt_report report;
    dt_imported imported = {0};
    assert_int_equal(import_text(text, sizeof text - 1, &request, &report, &imported), DT_OK);
    const dt_import_curve *pore = &imported.table[DT_IMPORT_PORE];
    assert_string_equal(pore->unit->symbol, "ppg");
    assert_int_equal(pore->count, 2);
    assert_within(pore->points[0].depth, 1000, 0);
    assert_within(pore->points[0].value, 9.5, 1e-9);
    assert_within(pore->points[1].value, 10.5, 1e-9);
    dt_imported_free(&imported);
    dt_report_free(&report);
}

/* docs/trajectory.md: a first station below MD 0, the hole starts vertical at MD 0. */
static void a_survey_that_starts_deep(void **state)
{
    (void)state;
    static const char text[] = "deep [m],tilt [deg],north [deg]\n500,10,40\n800,12,41\n";
    const dt_import_request request = {.survey = true,
                                       .md = {.name = "deep"},
                                       .inclination = {.name = "tilt"},
                                       .azimuth = {.name = "north"}};
    dt_report report;
    dt_imported imported = {0};
    assert_int_equal(import_text(text, sizeof text - 1, &request, &report, &imported), DT_OK);
    assert_int_equal(imported.station_count, 3);
    assert_within(imported.stations[0].md_m, 0, 0);
    assert_within(imported.stations[0].inclination_rad, 0, 0);
    assert_within(imported.stations[1].md_m, 500, 1e-9);
    assert_within(imported.stations[1].inclination_rad, 10 * atan(1) / 45, 1e-12);
    dt_imported_free(&imported);
    dt_report_free(&report);
}

/* LAS 2.0: sections go by their first letter, in either case; comments and blank lines anywhere; a
 * section of one's own is passed over. */
static void a_loosely_written_las_file(void **state)
{
    (void)state;
    static const char text[] =
        "# of ours\r\n~v\r\nVERS. 2.0: two\r\nWRAP. NO: one line\r\n"
        "DLM. SPACE: more\r\n\r\n~well\r\nSTRT.F 1000: a\r\nSTOP.F 3000: b\r\n"
        "STEP.F 0: uneven\r\nNULL. -999.25: none\r\n~o\r\nno dot and no colon\r\n"
        "~curve\r\nDEPT.F: depth\r\nPP.ppg 45 1: pore\r\n# here too\r\n~ascii\r\n"
        "1000 9\r\n\r\n2000 -999.25\r\n3000 10\r\n";
    dt_import_request request = {0};
    request.table[DT_IMPORT_PORE].name = "PP";
    dt_report report;
    dt_imported imported = {0};
    if (import_text(text, sizeof text - 1, &request, &report, &imported) != DT_OK)
        fail_msg("%d: %s", report.items[0].line, report.items[0].text);
    const dt_import_curve *pore = &imported.table[DT_IMPORT_PORE];
    assert_int_equal(pore->count, 2);
    assert_int_equal(pore->gaps, 1);
    assert_within(pore->points[1].depth, 3000, 0);
    assert_within(pore->points[1].value, 10, 1e-9);
    dt_imported_free(&imported);
    dt_report_free(&report);
}

/* A well that had no survey gets one; all else of it stays. */
static void into_a_well_without_a_survey(void **state)
{
    (void)state;
    static const char text[] = "md [ft],inc [deg],azi [deg]\n0,0,0\n1000,0,0\n12000,5,40\n";
    const dt_import_request request = {.survey = true};
    dt_report report;
    dt_imported imported = {0};
    size_t size = 0;
    char *into = NULL, *well_text = shipped_read(DT_WELLS "/alder-reach.xml", &size);
    assert_int_equal(import_text(text, sizeof text - 1, &request, &report, &imported), DT_OK);
    assert_int_equal(dt_import_into(&imported, well_text, size, &into), DT_OK);
    dt_imported_free(&imported);
    dt_report_free(&report);
    dt_well *before = NULL, *after = NULL;
    assert_int_equal(dt_report_init(&report, "x"), DT_OK);
    assert_int_equal(dt_well_parse(well_text, size, &report, &before), DT_OK);
    assert_int_equal(dt_well_parse(into, strlen(into), &report, &after), DT_OK);
    assert_int_equal(before->station_count, 0);
    assert_int_equal(after->station_count, 3);
    assert_within(after->stations[2].md_m / DT_M_PER_FT, 12000, 1e-6);
    assert_int_equal(after->pore.count, before->pore.count);
    assert_int_equal(after->interval_count, before->interval_count);
    assert_string_equal(after->name, before->name);
    dt_well_free(before);
    dt_well_free(after);
    dt_report_free(&report);
    free(into);
    free(well_text);
}

/* ---- offset wells ---- */

/** The rows of a CSV are the offset wells of the well file that they were taken from. */
static void offset_wells_of_a_csv(void **state)
{
    (void)state;
    size_t rows_size = 0, size = 0;
    char *rows = read_whole("../docs/samples/offsets.csv", &rows_size);
    char *text = shipped_read(DT_WELLS "/sandling-south.xml", &size), *into = NULL;
    const dt_import_request request = {.offsets = true};
    dt_report report;
    dt_imported imported = {0};
    assert_int_equal(import_text(rows, rows_size, &request, &report, &imported), DT_OK);
    dt_report_free(&report);
    assert_int_equal(dt_import_into(&imported, text, size, &into), DT_OK);
    dt_imported_free(&imported);
    dt_well *before = NULL, *after = NULL;
    assert_int_equal(dt_report_init(&report, "x"), DT_OK);
    assert_int_equal(dt_well_parse(text, size, &report, &before), DT_OK);
    assert_int_equal(dt_well_parse(into, strlen(into), &report, &after), DT_OK);
    assert_int_equal(after->offset_count, before->offset_count);
    for (size_t i = 0; i < before->offset_count; ++i) {
        const dt_offset *a = &before->offsets[i], *b = &after->offsets[i];
        assert_string_equal(b->name, a->name);
        assert_within(b->rig_floor_m, a->rig_floor_m, 1e-9);
        assert_within(b->water_depth_m, a->water_depth_m, 1e-9);
        assert_within(b->distance_m, a->distance_m, 1e-9);
        assert_int_equal(b->reading_count, a->reading_count);
        for (size_t k = 0; k < a->reading_count; ++k) {
            assert_int_equal(b->readings[k].what, a->readings[k].what);
            assert_within(b->readings[k].tvd_m, a->readings[k].tvd_m, 1e-9);
            assert_true(isnan(a->readings[k].emw_kgm3) == isnan(b->readings[k].emw_kgm3));
            if (!isnan(a->readings[k].emw_kgm3))
                assert_within(b->readings[k].emw_kgm3, a->readings[k].emw_kgm3, 1e-9);
        }
    }
    dt_well_free(before);
    dt_well_free(after);
    dt_report_free(&report);
    free(into);
    free(text);
    free(rows);
}

/** On land, in field units, rows of a well apart, a name that XML has to spell. */
static void offset_wells_in_field_units(void **state)
{
    (void)state;
    static const char text[] = "what,depth [ft],emw [ppg],well,distance [ft],rig_floor [ft],by\n"
                               "leak-off,2000,13.5,\"A & \"\"B\"\", <1>\",5000,20,x\n"
                               "mud,3000,9.5,C,900,30,y\n"
                               "seat,2000,,\"A & \"\"B\"\", <1>\",5000,20,z\n";
    const dt_import_request request = {.offsets = true};
    dt_report report;
    dt_imported imported = {0};
    char *out = NULL;
    assert_int_equal(import_text(text, sizeof text - 1, &request, &report, &imported), DT_OK);
    assert_int_equal(dt_import_text(&imported, &out), DT_OK);
    assert_string_equal(out,
                        "  <offsets>\n"
                        "    <offset name=\"A &amp; &quot;B&quot;, &lt;1>\" rig_floor=\"20 ft\" "
                        "distance=\"5000 ft\">\n"
                        "      <reading what=\"leak-off\" depth=\"2000 ft\" emw=\"13.5 ppg\"/>\n"
                        "      <reading what=\"seat\" depth=\"2000 ft\"/>\n"
                        "    </offset>\n"
                        "    <offset name=\"C\" rig_floor=\"30 ft\" distance=\"900 ft\">\n"
                        "      <reading what=\"mud\" depth=\"3000 ft\" emw=\"9.5 ppg\"/>\n"
                        "    </offset>\n"
                        "  </offsets>\n");
    dt_imported_free(&imported);
    dt_report_free(&report);
    free(out);
}

/* A US survey foot is 1200/3937 m (US Metric Law of 1866; NIST SP 811, B.6). */
static void survey_feet(void **state)
{
    (void)state;
    static const char text[] =
        "<trajectorys xmlns='http://www.witsml.org/schemas/1series' version='1.4.1.1'>"
        "<trajectory><aziRef>grid north</aziRef><trajectoryStation><md uom='ftUS'>3937</md>"
        "<incl uom='dega'>0</incl><azi uom='rad'>1</azi></trajectoryStation></trajectory>"
        "</trajectorys>";
    const dt_import_request request = {.survey = true};
    dt_report report;
    dt_imported imported = {0};
    assert_int_equal(import_text(text, sizeof text - 1, &request, &report, &imported), DT_OK);
    assert_int_equal(imported.station_count, 2);
    assert_within(imported.stations[1].md_m, 1200, 1e-9);
    assert_within(imported.stations[1].azimuth_rad, 1, 0);
    assert_string_equal(imported.md_unit->symbol, "m");
    assert_string_equal(imported.azimuth_reference, "grid north");
    dt_imported_free(&imported);
    dt_report_free(&report);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(into_a_well_without_a_survey),
        cmocka_unit_test(survey_feet),
        cmocka_unit_test(offset_wells_of_a_csv),
        cmocka_unit_test(offset_wells_in_field_units),
        cmocka_unit_test(a_loosely_written_las_file),
        cmocka_unit_test(a_table_in_many_forms),
        cmocka_unit_test(quotes_and_a_byte_order_mark),
        cmocka_unit_test(a_survey_that_starts_deep),
        cmocka_unit_test(bad_files_are_refused_with_lines),
        cmocka_unit_test(line_ends_change_nothing),
        cmocka_unit_test(as_many_columns_as_are_read),
        cmocka_unit_test(rows_that_make_no_table),
        cmocka_unit_test(a_gigabyte_is_refused_in_bounded_memory),
        cmocka_unit_test(the_standards_example_is_read),
        cmocka_unit_test(a_gap_is_told),
        cmocka_unit_test(both_surveys_are_the_same),
        cmocka_unit_test(thinning_stays_on_the_safe_side),
        cmocka_unit_test(a_limit_of_points_is_held),
        cmocka_unit_test(every_message_is_provoked),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
