/* SPDX-License-Identifier: MIT */
/* bench_options: all options of the deepest shipped well, growth with candidate depths and with
 * the catalogue, and the search beside a general-purpose solver on the same instances in one
 * run. Milliseconds of processor time, median of several runs; peak memory. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>

/* The tests' helpers, with a stop in place of cmocka's. */
#define must(good)                                                                                 \
    do {                                                                                           \
        if (!(good)) {                                                                             \
            fprintf(stderr, "%s:%d: %s\n", __FILE__, __LINE__, #good);                             \
            exit(1);                                                                               \
        }                                                                                          \
    } while (0)
#define assert_true(good)        must(good)
#define assert_non_null(pointer) must((pointer) != NULL)
#define assert_int_equal(a, b)   must((long long)(a) == (long long)(b))

#include "clock.h"
#include "option_model.h"
#include "options_search.h"

/** Processor time of the solver's processes. */
static double child_ms(void)
{
    struct rusage u;
    getrusage(RUSAGE_CHILDREN, &u);
    return (double)(u.ru_utime.tv_sec + u.ru_stime.tv_sec) * 1e3 +
           (double)(u.ru_utime.tv_usec + u.ru_stime.tv_usec) / 1e3;
}

static int by_value(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

#define MOST_RUNS 31
/** exact: at the depths the solver's instance has, not at those on the rounding step. */
static double search_ms(const dt_well *well, const dt_catalogue *catalogue, bool exact, int runs,
                        dt_options *o)
{
    const dt_search_way way = {.by_pressure = true, .exact = true};
    double ms[MOST_RUNS];
    dt_refusal refusal;
    for (int i = 0; i < runs; ++i) {
        if (i > 0) dt_options_free(o);
        double start = clock_ms(CLOCK_PROCESS_CPUTIME_ID);
        must((exact ? dt_options_search_by(well, catalogue, way, o, &refusal)
                    : dt_options_search(well, catalogue, o, &refusal)) == DT_OK);
        ms[i] = clock_ms(CLOCK_PROCESS_CPUTIME_ID) - start;
    }
    qsort(ms, (size_t)runs, sizeof *ms, by_value);
    return ms[runs / 2];
}

static dt_well *read_well(const char *path)
{
    static char bytes[1 << 20];
    FILE *file = fopen(path, "rb");
    must(file);
    size_t size = fread(bytes, 1, sizeof bytes, file);
    fclose(file);
    dt_report report = {0};
    dt_well *well = NULL;
    must(dt_report_init(&report, path) == DT_OK);
    must(dt_well_parse(bytes, size, &report, &well) == DT_OK);
    dt_report_free(&report);
    return well;
}

static void print_search(const char *what, const dt_well *well, const dt_catalogue *catalogue)
{
    dt_options o;
    double ms = search_ms(well, catalogue, false, 5, &o);
    printf("%-44s %8.1f ms  %4zu depths %6zu sections %5zu options %9zu labels\n", what, ms,
           o.seat_count, o.section_count, o.count, o.made);
    dt_options_free(&o);
}

static void deepest_well(const dt_catalogue *catalogue)
{
    dt_well *well = read_well(DT_WELLS "/brackwater-deep.xml");
    well->seats.liners = false;
    print_search("brackwater-deep, liners forbidden", well, catalogue);
    well->seats.liners = true;
    print_search("brackwater-deep, as shipped (liners allowed)", well, catalogue);
    const double shipped_m = well->min_pipe_od_m;
    well->min_pipe_od_m = 4.5 * DT_M_PER_IN;
    print_search("the same, 4-1/2 in at the objective", well, catalogue);
    well->loads.given = true;
    well->loads.evacuation = DT_EVACUATION_LOST_RETURNS;
    well->loads.packer_fluid_kgm3 = 9 * DT_KGM3_PER_PPG;
    print_search("the same, <loads> with lost returns", well, catalogue);
    well->liner_test = (dt_liner_test){true, DT_LINER_TEST_FRACTURE, NAN, NAN, NAN, 0};
    print_search("the same, liners tested", well, catalogue);
    well->loads.given = well->liner_test.given = false;
    well->min_pipe_od_m = shipped_m;
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    printf("peak memory %.1f MB\n", (double)usage.ru_maxrss / 1024);
    printf("\ngrowth with candidate depths\n");
    static const double steps_ft[] = {400, 200, 100, 50, 25};
    for (size_t i = 0; i < sizeof steps_ft / sizeof *steps_ft; ++i) {
        char what[64];
        well->seats.round_to_m = steps_ft[i] * FT;
        snprintf(what, sizeof what, "  a depth each %.0f ft", fmax(steps_ft[i], 50));
        if (steps_ft[i] >= 50) print_search(what, well, catalogue);
    }
    dt_well_free(well);
}

/** Every n-th pipe of the catalogue is left in. */
static void growth_with_catalogue(void)
{
    printf("\ngrowth with the catalogue (mizzenlow-shelf)\n");
    dt_well *well = read_well(DT_WELLS "/mizzenlow-shelf.xml");
    for (size_t keep = 8; keep >= 1; keep /= 2) {
        dt_catalogue catalogue;
        must(dt_catalogue_load(&catalogue) == DT_OK);
        size_t all = catalogue.pipe_count, kept = 0;
        /* weights and grades thin out, sizes stay: the first and last pipe of each size too */
        for (size_t i = 0; i < all; ++i) {
            bool edge = i == 0 || i + 1 == all ||
                        catalogue.pipes[i].od_m != catalogue.pipes[i - 1].od_m ||
                        catalogue.pipes[i].od_m != catalogue.pipes[i + 1].od_m;
            if (edge || i % keep == 0) catalogue.pipes[kept++] = catalogue.pipes[i];
        }
        catalogue.pipe_count = kept;
        char what[64];
        snprintf(what, sizeof what, "  %zu pipes", kept);
        dt_options o;
        dt_refusal refusal;
        dt_status status = dt_options_search(well, &catalogue, &o, &refusal);
        if (status == DT_OK) {
            dt_options_free(&o);
            print_search(what, well, &catalogue);
        } else {
            printf("%-44s no program\n", what);
        }
        dt_refusal_free(&refusal);
        catalogue.pipe_count = all;
        dt_catalogue_free(&catalogue);
    }
    dt_well_free(well);
}

static void beside_the_solver(int which, double step_ft, const char *stock, const char *what)
{
    coded_well c;
    part_well(&c, which);
    c.well.seats.round_to_m = step_ft * FT;
    dt_catalogue catalogue;
    part_catalogue(&catalogue, stock);
    parts p;
    parts_open(&p, &c.well, &catalogue, step_ft * FT);
    c.well.wishes.given = true;
    c.well.wishes.max_strings = p.fewest + 1;
    /* each pair of pipes would be a column, and the solver take minutes:
     * tests/compare/test_options_solver.c has instances with tie-backs */
    c.well.wishes.no_tiebacks = true;
    dt_options o;
    double ours = search_ms(&c.well, &catalogue, true, 11, &o);
    long long least = -1;
    double theirs = 0;
    size_t columns = 0;
    for (size_t n = p.fewest; n <= p.fewest + 1; ++n) {
        model m;
        model_build(&m, &p, n, p.fewest + 1 - n);
        columns += m.item_count;
        double start = child_ms();
        long long found = model_solve(&m);
        theirs += child_ms() - start;
        must(found != -2);
        if (found >= 0 && (least < 0 || found < least)) least = found;
        model_free(&m);
    }
    must(llround(o.items[0].cost * 100) == least);
    printf("%-34s %6zu columns: solver, least cost alone %9.1f ms; search, all %zu options "
           "%6.2f ms; %.0f times\n",
           what, columns, theirs, o.count, ours, theirs / ours);
    dt_options_free(&o);
    parts_close(&p);
    dt_catalogue_free(&catalogue);
}

int main(void)
{
    dt_catalogue catalogue;
    must(dt_catalogue_load(&catalogue) == DT_OK);
    deepest_well(&catalogue);
    dt_catalogue_free(&catalogue);
    growth_with_catalogue();
    printf("\nbeside GLPK (glpsol), same instance, same optimum to the cent\n");
    if (!model_solver_there()) {
        printf("glpsol is not installed (Debian: glpk-utils)\n");
        return 0;
    }
    beside_the_solver(0, 1000, PART_STOCK, "one ramp, 1000 ft, 16 pipes");
    beside_the_solver(1, 1000, PART_STOCK, "two ramps, 1000 ft, 16 pipes");
    beside_the_solver(0, 500, PART_STOCK, "one ramp, 500 ft, 16 pipes");
    beside_the_solver(1, 500, PART_STOCK, "two ramps, 500 ft, 16 pipes");
    return 0;
}
