/* SPDX-License-Identifier: MIT */
#include "catalogue.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cited.h"
#include "ratings.h"
#include "units.h"

#define HEADER                                                                                     \
    "od_in,weight_lbft,wall_in,drift_in,special_drift_in,coupling_od_in,clearance_coupling_od_in," \
    "threads,grades\n"

static const dt_pipe *find(const dt_catalogue *c, double od_in, double weight_lbft,
                           const char *grade)
{
    return dt_pipe_find(c, od_in * DT_M_PER_IN, weight_lbft * DT_KGM_PER_LBFT, grade);
}

typedef dt_status reader(dt_catalogue *, const char *, size_t, dt_report *);

/* Reads a text; the number of findings goes to *errors, the line of the first to *line. */
static dt_status read_text(reader *read, dt_catalogue *c, const char *text, size_t *errors,
                           int *line, dt_message *id)
{
    dt_report report;
    assert_int_equal(dt_report_init(&report, "stock.csv"), DT_OK);
    dt_status status = read(c, text, strlen(text), &report);
    *errors = report.errors;
    *line = report.count ? report.items[0].line : 0;
    *id = report.count ? report.items[0].id : DT_MSG_NONE;
    dt_report_free(&report);
    return status;
}

static void takes(reader *read, dt_catalogue *c, const char *text)
{
    size_t errors;
    int line;
    dt_message id;
    assert_int_equal(read_text(read, c, text, &errors, &line, &id), DT_OK);
    assert_int_equal(errors, 0);
}

/* Refused with one finding of that number on that line, and the catalogue as it was. */
static void refuses(reader *read, const char *text, dt_message want, int want_line)
{
    dt_catalogue c;
    size_t errors;
    int line;
    dt_message id;
    assert_int_equal(dt_catalogue_load(&c), DT_OK);
    const dt_pipe *pipes = c.pipes;
    const dt_bit *bits = c.bits;
    const size_t pipe_count = c.pipe_count, bit_count = c.bit_count;
    dt_status status = read_text(read, &c, text, &errors, &line, &id);
    if (status != DT_E_INPUT || errors != 1 || id != want || line != want_line)
        fail_msg("status %d, %zu errors, DT-%d on line %d for: %s", status, errors, id, line, text);
    assert_true(c.pipes == pipes && c.bits == bits);
    assert_int_equal(c.pipe_count, pipe_count);
    assert_int_equal(c.bit_count, bit_count);
    dt_catalogue_free(&c);
}

static unsigned simplest(const dt_pipe *pipe)
{
    return pipe->threads & (~pipe->threads + 1u);
}

static void built_in_is_sorted_and_whole(void **state)
{
    (void)state;
    dt_catalogue c;
    assert_int_equal(dt_catalogue_load(&c), DT_OK);
    assert_true(c.pipe_count > 500 && c.bit_count > 40 && c.grade_count >= 15);
    for (size_t i = 0; i < c.pipe_count; ++i) {
        const dt_pipe *p = &c.pipes[i];
        dt_rating rating;
        assert_non_null(p->grade);
        const dt_pipe *first =
            find(&c, p->od_m / DT_M_PER_IN, p->weight_kgm / DT_KGM_PER_LBFT, p->grade->name);
        assert_true(first && first <= p && first->wall_m == p->wall_m);
        assert_int_equal(dt_rate(&c, p, &rating), DT_OK); /* every thread listed can be rated */
        assert_true(p->drift_m < p->id_m && p->id_m < p->od_m);
        if (i == 0) continue;
        const dt_pipe *q = p - 1;
        assert_true(q->od_m < p->od_m ||
                    (q->od_m == p->od_m &&
                     (q->weight_kgm < p->weight_kgm ||
                      (q->weight_kgm == p->weight_kgm &&
                       (q->grade->yield_pa < p->grade->yield_pa ||
                        (q->grade->yield_pa == p->grade->yield_pa &&
                         (q->grade == p->grade ? simplest(q) < simplest(p)
                                               : strcmp(q->grade->name, p->grade->name) < 0)))))));
    }
    for (size_t i = 1; i < c.bit_count; ++i)
        assert_true(c.bits[i - 1].diameter_m < c.bits[i].diameter_m);
    dt_catalogue_free(&c);
    dt_catalogue_free(&c);
    dt_catalogue_free(NULL);
}

static const cited spec_5ct = {CITED_RECALLED, "API Spec 5CT, rows everybody in the trade knows"};

/* The same facts by another way than the reader. */
static void well_known_rows(void **state)
{
    (void)state;
    dt_catalogue c;
    assert_int_equal(dt_catalogue_load(&c), DT_OK);
    const dt_pipe *p = find(&c, 9.625, 40, "J55");
    assert_non_null(p);
    const double in = DT_M_PER_IN;
    assert_cited(&spec_5ct, "ID of 9-5/8 in 40 lb/ft", "in", p->id_m / in, 8.835, 1e-9);
    assert_cited(&spec_5ct, "its drift", "in", p->drift_m / in, 8.679, 1e-9);
    assert_cited(&spec_5ct, "its special drift", "in", p->special_drift_m / in, 8.750, 1e-9);
    assert_cited(&spec_5ct, "its coupling", "in", p->coupling_od_m / in, 10.625, 1e-9);
    assert_int_equal(p->threads, 1u << DT_STC | 1u << DT_LTC | 1u << DT_BTC | 1u << DT_PLAIN_END |
                                     1u << DT_GAS_TIGHT);
    p = find(&c, 9.625, 40, "L80"); /* short thread is for J55 and K55 only */
    assert_non_null(p);
    assert_int_equal(p->threads,
                     1u << DT_LTC | 1u << DT_BTC | 1u << DT_PLAIN_END | 1u << DT_GAS_TIGHT);
    p = find(&c, 5.5, 26.80, "C90");
    assert_non_null(p);
    assert_int_equal(p->threads, 1u << DT_PLAIN_END);
    assert_true(isnan(p->coupling_od_m));
    assert_null(find(&c, 9.625, 40, "H40"));
    assert_null(find(&c, 9.626, 40, "J55"));
    assert_null(find(&c, 9.625, 40.01, "J55"));
    const dt_grade *grade = dt_grade_find(&c, "P110");
    assert_cited(&spec_5ct, "yield of P110", "psi", grade->yield_pa / DT_PA_PER_PSI, 110e3, 1e-6);
    assert_true(isnan(dt_grade_find(&c, "X52")->max_yield_pa));
    assert_null(dt_grade_find(&c, "P"));
    assert_cited(&spec_5ct, "coupling of 7 in", "in",
                 dt_thread_row_find(&c, 7 * in)->coupling_od_m / in, 7.656, 1e-9);
    assert_null(dt_thread_row_find(&c, 7.75 * DT_M_PER_IN));
    dt_catalogue_free(&c);
}

static void thread_names(void **state)
{
    (void)state;
    for (int i = 0; i < DT_STATED; ++i)
        assert_int_equal(dt_thread_find(dt_thread_text((dt_thread)i)), i);
    assert_int_equal(dt_thread_find("stc"), DT_THREAD_COUNT);
}

static const cited common = {CITED_PRACTICE,
                             "parts of the pipe body that generic connections bear"};

/* Connections stand as pipe of their own where they are as wide as nothing else of the row. */
static void connections_by_diameter(void **state)
{
    (void)state;
    dt_catalogue c;
    assert_int_equal(dt_catalogue_load(&c), DT_OK);
    const dt_pipe *p = find(&c, 9.875, 62.8, "Q125");
    const double in = DT_M_PER_IN;
    size_t flush = 0, semi = 0, tight = 0;
    for (; p && p < c.pipes + c.pipe_count && strcmp(p->grade->name, "Q125") == 0 &&
           fabs(p->od_m - 9.875 * in) < 1e-6;
         ++p) {
        double joint_n, body_n, burst_pa, yield_pa;
        if (p->threads == 1u << DT_PLAIN_END) continue;
        const dt_thread thread = p->threads == 1u << DT_FLUSH        ? DT_FLUSH
                                 : p->threads == 1u << DT_SEMI_FLUSH ? DT_SEMI_FLUSH
                                                                     : DT_GAS_TIGHT;
        assert_int_equal(dt_joint_strength(&c, p, thread, &joint_n), DT_OK);
        assert_int_equal(dt_body_yield(p->od_m, p->wall_m, p->grade->yield_pa, &body_n), DT_OK);
        assert_int_equal(dt_coupling_internal_yield(&c, p, thread, &burst_pa), DT_OK);
        assert_int_equal(
            dt_internal_yield(p->od_m, p->wall_m, p->grade->yield_pa, 0.875, &yield_pa), DT_OK);
        assert_true(burst_pa == yield_pa);
        const double parts[] = {[DT_FLUSH] = 0.60, [DT_SEMI_FLUSH] = 0.75, [DT_GAS_TIGHT] = 1};
        assert_cited(&common, dt_thread_text(thread), "of the body", joint_n / body_n,
                     parts[thread], 1e-12);
        assert_int_equal(dt_pipe_gas_tight(p, thread), thread == DT_GAS_TIGHT);
        flush += thread == DT_FLUSH && isnan(p->coupling_od_m);
        semi += thread == DT_SEMI_FLUSH && fabs(p->coupling_od_m / p->od_m - 1.025) < 1e-12;
        tight += thread == DT_GAS_TIGHT && fabs(p->coupling_od_m - 10.625 * in) < 1e-9;
    }
    assert_true(flush == 1 && semi == 1 && tight == 1);
    assert_false(dt_pipe_gas_tight(find(&c, 7, 29, "L80"), DT_BTC));
    dt_catalogue_free(&c);
}

#define STATED "connection,connection_od_in,joint_klbf,burst_psi,collapse_psi,gas_tight\n"

/* A connection of one's own: its ratings are used as stated. */
static void stated_connections(void **state)
{
    (void)state;
    dt_catalogue c;
    assert_int_equal(dt_catalogue_load(&c), DT_OK);
    char text[400];
    snprintf(text, sizeof text,
             "%.*s,%s7,29,0.408,6.059,,,,PE,P110,HERON-2,7.35,700,10000,9000,yes\n",
             (int)strlen(HEADER) - 1, HEADER, STATED);
    takes(dt_catalogue_extend, &c, text);
    assert_true(dt_catalogue_has_thread(&c, "HERON-2"));
    assert_false(dt_catalogue_has_thread(&c, "stated"));
    for (size_t i = 0; i < c.pipe_count; ++i) {
        const dt_pipe *p = &c.pipes[i];
        const dt_thread t = dt_pipe_thread_find(p, "HERON-2");
        double joint_n, burst_pa, collapse_pa;
        if (t == DT_THREAD_COUNT) continue;
        assert_int_equal(t, DT_STATED);
        assert_int_equal(dt_joint_strength(&c, p, t, &joint_n), DT_OK);
        assert_int_equal(dt_coupling_internal_yield(&c, p, t, &burst_pa), DT_OK);
        assert_int_equal(dt_collapse(p->od_m, p->wall_m, p->grade->yield_pa, &collapse_pa, NULL),
                         DT_OK);
        assert_true(fabs(joint_n / DT_N_PER_LBF - 700e3) < 1e-3);
        assert_true(fabs(burst_pa / DT_PA_PER_PSI - 10e3) < 1e-6);
        assert_true(fabs(dt_collapse_part(p, t) * collapse_pa / DT_PA_PER_PSI - 9e3) < 1e-6);
        assert_true(dt_pipe_gas_tight(p, t));
    }
    assert_non_null(find(&c, 7, 29, "P110"));
    dt_catalogue_free(&c);
    snprintf(text, sizeof text, "%.*s,%s7,29,0.408,6.059,,,,PE,P110,BTC,7.35,700,10000,,yes\n",
             (int)strlen(HEADER) - 1, HEADER, STATED);
    refuses(dt_catalogue_extend, text, DT_MSG_CATALOGUE_ROW, 2);
    snprintf(text, sizeof text, "%.*s,%s7,29,0.408,6.059,,,,PE,P110,HERON-2,,700,10000,,yes\n",
             (int)strlen(HEADER) - 1, HEADER, STATED);
    refuses(dt_catalogue_extend, text, DT_MSG_CATALOGUE_ROW, 2);
}

static void extending(void **state)
{
    (void)state;
    dt_catalogue c;
    assert_int_equal(dt_catalogue_load(&c), DT_OK);
    const size_t before = c.pipe_count;
    takes(dt_catalogue_extend, &c,
          "\xEF\xBB\xBF# ours\r\n" HEADER
          "9.625, 40.00 ,0.395,8.679,8.75,10.625,,LTC(L80);\"BTC\";PE,J55;L80\r\n"
          "\n9.625,41.50,0.415,8.639,,10.625,,BTC,L80\n"
          "11.75,54,0.435,10.724,,12.75,,BTC,L80");
    assert_int_equal(c.pipe_count, before + 2); /* two replaced, two new */
    const dt_pipe *p = find(&c, 9.625, 40, "J55");
    assert_int_equal(p->threads, 1u << DT_BTC | 1u << DT_PLAIN_END);
    assert_true(isnan(p->clearance_coupling_od_m));
    assert_int_equal(find(&c, 9.625, 40, "L80")->threads,
                     1u << DT_LTC | 1u << DT_BTC | 1u << DT_PLAIN_END);
    assert_non_null(find(&c, 9.625, 41.5, "L80"));
    for (size_t i = 1; i < c.pipe_count; ++i)
        assert_true(c.pipes[i - 1].od_m <= c.pipes[i].od_m);
    takes(dt_catalogue_extend, &c,
          HEADER "7,26,0.362,6.151,,7.656,,LTC,L80\n7,26,0.362,6.152,,7.656,,LTC,L80\n");
    assert_within(find(&c, 7, 26, "L80")->drift_m / DT_M_PER_IN, 6.152, 1e-9); /* the last counts */
    dt_catalogue_free(&c);
}

static void bad_pipe_rows(void **state)
{
    (void)state;
    static const char *const rows[] = {
        "9.625,40,0.395,8.679,,10.625,,LTC",              /* a cell short */
        "9.625,40,0.395,8.679,,10.625,,LTC,L80,x",        /* one too many */
        "9.625,40,0.395,8.679,,10.625,,LTC,L81",          /* grade unknown */
        "9.625,40,0.395,8.679,,10.625,,LTD,L80",          /* thread unknown */
        "9.625,40,0.395,8.679,,10.625,,LTC(J55),L80",     /* grade not of this row */
        "9.625,40,0.395,8.679,,10.625,,LTC(L80),J55;L80", /* J55 left without a thread */
        "9.625,40,0.395,8.679,,10.625,,LTC(L80,L80",      /* no closing parenthesis */
        "9.625,40,0.395,8.679,,10.625,,LTC,L80;L80",      /* twice */
        "9.625,40,0.395,8.679,,10.625,,LTC,",             /* no grade */
        "9.625,40,0.395,8.679,,10.625,,,L80",             /* no thread */
        "9.625,40,0.395,8.679,,,,LTC,L80",                /* thread without coupling OD */
        "9.625,40,0.395,8.679,,9.6,,LTC,L80",             /* coupling under the OD */
        "9.625,40,0.395,8.679,,10.625,11,LTC,L80",        /* clearance over standard */
        "9.625,40,0.395,8.9,,10.625,,LTC,L80",            /* drift over bore */
        "9.625,40,0.395,8.679,8.6,10.625,,LTC,L80",       /* special under standard drift */
        "9.625,0.395,40,8.679,,10.625,,LTC,L80",          /* columns swapped */
        "9.625,80,0.395,8.679,,10.625,,LTC,L80",          /* weight of another pipe */
        "9,625,40,0.395,8.679,,10.625,LTC,L80",           /* decimal comma */
        "0x9,40,0.395,8.679,,10.625,,LTC,L80",
        "1e1,40,0.395,8.679,,10.625,,LTC,L80",
        "nan,40,0.395,8.679,,10.625,,LTC,L80",
        "-9.625,40,0.395,8.679,,10.625,,LTC,L80",
        "9..6,40,0.395,8.679,,10.625,,LTC,L80",
        "0,40,0.395,8.679,,10.625,,LTC,L80",
        "10.75,51,0.45,9.694,,11.75,,LTC,L80",  /* not made with this thread */
        "7.75,46.1,0.595,6.435,,8.5,,BTC,L80"}; /* no thread dimensions at all */
    char text[1024];
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        snprintf(text, sizeof text, "# two lines\n%s7,26,0.362,6.151,,7.656,,LTC,L80\n%s\n", HEADER,
                 rows[i]);
        refuses(dt_catalogue_extend, text, DT_MSG_CATALOGUE_ROW, 4);
    }
    refuses(dt_catalogue_extend, HEADER, DT_MSG_CATALOGUE_ROW, 0);
    refuses(dt_catalogue_extend, "", DT_MSG_CATALOGUE_HEADER, 0);
    refuses(dt_catalogue_extend, "od_in,weight_lbft\n", DT_MSG_CATALOGUE_HEADER, 1);
    refuses(dt_catalogue_extend, "\n9.625,40,0.395,8.679,,10.625,,LTC,L80\n",
            DT_MSG_CATALOGUE_HEADER, 2);
}

static void all_bad_rows_are_reported(void **state)
{
    (void)state;
    dt_catalogue c;
    dt_report report;
    const char text[] = HEADER "x\n7,26,0.362,6.151,,7.656,,LTC,L80\ny,,,,,,,,\n";
    assert_int_equal(dt_catalogue_load(&c), DT_OK);
    assert_int_equal(dt_report_init(&report, "stock.csv"), DT_OK);
    assert_int_equal(dt_catalogue_extend(&c, text, sizeof text - 1, &report), DT_E_INPUT);
    assert_int_equal(report.errors, 2);
    assert_int_equal(report.items[0].line, 2);
    assert_int_equal(report.items[1].line, 4);
    assert_int_equal(dt_catalogue_extend(&c, text, sizeof text, &report), DT_E_INPUT); /* NUL */
    assert_int_equal(report.errors, 3);
    dt_report_free(&report);
    dt_catalogue_free(&c);
}

static void restricting(void **state)
{
    (void)state;
    dt_catalogue c;
    assert_int_equal(dt_catalogue_load(&c), DT_OK);
    size_t of_l80 = 0, of_7 = 0, of_both = 0;
    for (size_t i = 0; i < c.pipe_count; ++i) {
        const int l80 = strcmp(c.pipes[i].grade->name, "L80") == 0;
        const int seven = fabs(c.pipes[i].od_m - 7 * DT_M_PER_IN) < 1e-6;
        of_l80 += (size_t)l80;
        of_7 += (size_t)seven;
        of_both += (size_t)(l80 && seven);
    }
    takes(dt_catalogue_restrict, &c, "od_in,weight_lbft,grade\n,,L80\n7,,\n");
    assert_int_equal(c.pipe_count, of_l80 + of_7 - of_both);
    takes(dt_catalogue_restrict, &c, "od_in,weight_lbft,grade\n9.625,47,L80\n");
    assert_int_equal(c.pipe_count, 3); /* with a coupling, flush and semi-flush */
    assert_non_null(find(&c, 9.625, 47, "L80"));
    dt_catalogue_free(&c);
}

static void bad_stock_lists(void **state)
{
    (void)state;
    static const char head[] = "od_in,weight_lbft,grade\n";
    char text[128];
    static const struct {
        const char *row;
        dt_message want;
    } cases[] = {{"9.625,41,L80", DT_MSG_CATALOGUE_NO_MATCH},
                 {",,Z80", DT_MSG_CATALOGUE_NO_MATCH},
                 {"nine,,", DT_MSG_CATALOGUE_ROW},
                 {",,", DT_MSG_CATALOGUE_ROW},
                 {"7,26", DT_MSG_CATALOGUE_ROW}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; ++i) {
        snprintf(text, sizeof text, "%s7,26,L80\n%s\n", head, cases[i].row);
        refuses(dt_catalogue_restrict, text, cases[i].want, 3);
    }
    refuses(dt_catalogue_restrict, head, DT_MSG_CATALOGUE_ROW, 0); /* nothing in stock at all */
    refuses(dt_catalogue_restrict, "od_in,grade\n", DT_MSG_CATALOGUE_HEADER, 1);
}

static void bits(void **state)
{
    (void)state;
    dt_catalogue c;
    assert_int_equal(dt_catalogue_load(&c), DT_OK);
    takes(dt_catalogue_bits, &c, "diameter_in\n12.25\n8.5\n36\n8.61\n");
    const double want_in[] = {8.5, 8.61, 12.25, 36};
    const dt_bit_commonness want[] = {DT_BIT_STANDARD, DT_BIT_LESS_COMMON, DT_BIT_STANDARD,
                                      DT_BIT_OPENER};
    assert_int_equal(c.bit_count, 4);
    for (size_t i = 0; i < 4; ++i) {
        assert_within(c.bits[i].diameter_m / DT_M_PER_IN, want_in[i], 1e-9);
        assert_int_equal(c.bits[i].commonness, want[i]);
    }
    dt_catalogue_free(&c);
    refuses(dt_catalogue_bits, "diameter_in\n8.5\n8.5001\n", DT_MSG_CATALOGUE_BIT, 3);
    refuses(dt_catalogue_bits, "diameter_in\n8-1/2\n", DT_MSG_CATALOGUE_BIT, 2);
    refuses(dt_catalogue_bits, "diameter_in\n850\n", DT_MSG_CATALOGUE_BIT, 2);
    refuses(dt_catalogue_bits, "diameter_in\n8.5,9\n", DT_MSG_CATALOGUE_BIT, 2);
    refuses(dt_catalogue_bits, "diameter_in\n", DT_MSG_CATALOGUE_BIT, 0);
    refuses(dt_catalogue_bits, "bits\n8.5\n", DT_MSG_CATALOGUE_HEADER, 1);
}

/* Long files are refused, not read for ever. */
static void too_many(void **state)
{
    (void)state;
    enum { ROWS = 12000, WIDTH = 64 };
    char *text = malloc((size_t)ROWS * WIDTH);
    assert_non_null(text);
    size_t size = (size_t)sprintf(text, "%s", HEADER);
    for (int i = 0; i < ROWS; ++i)
        size += (size_t)sprintf(text + size, "7,26,0.362,6.151,,7.656,,LTC,L80\n");
    refuses(dt_catalogue_extend, text, DT_MSG_CATALOGUE_ROW, 10002);
    size = (size_t)sprintf(text, "diameter_in\n");
    for (int i = 0; i < 1500; ++i)
        size += (size_t)sprintf(text + size, "%.3f\n", 10 + i * 0.002);
    refuses(dt_catalogue_bits, text, DT_MSG_CATALOGUE_BIT, 1002);
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(built_in_is_sorted_and_whole),
        cmocka_unit_test(well_known_rows),
        cmocka_unit_test(thread_names),
        cmocka_unit_test(connections_by_diameter),
        cmocka_unit_test(stated_connections),
        cmocka_unit_test(extending),
        cmocka_unit_test(bad_pipe_rows),
        cmocka_unit_test(all_bad_rows_are_reported),
        cmocka_unit_test(restricting),
        cmocka_unit_test(bad_stock_lists),
        cmocka_unit_test(bits),
        cmocka_unit_test(too_many),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
