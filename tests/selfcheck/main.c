/* SPDX-License-Identifier: MIT */
/*
 * Random wells, each program held against an independent checker: docs/selfcheck.md.
 *   selfcheck --count 10000 --seed 1 --failures DIR
 */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>

#include "ends.h"
#include "exhaust.h"
#include "selfcheck.h"

typedef struct options {
    uint64_t seed, first;
    unsigned long count;
    const char *failures, *well, *plant;
    bool mutate, print, ends, exhaust;
    char **files; /* behind --ends */
    size_t file_count;
} options;

static int usage(void)
{
    fputs("usage: selfcheck [--count N] [--seed S] [--first K] [--failures DIR] [--plant NAME]\n"
          "       selfcheck --mutate [--count N] [--seed S]\n"
          "       selfcheck --well FILE [--plant NAME]\n"
          "       selfcheck --exhaust [--count N] [--seed S] [--first K]\n"
          "       selfcheck --ends [--count N] [--seed S] [--first K] | --ends FILE...\n"
          "       selfcheck --print [--seed S] [--first K]\n",
          stderr);
    return 2;
}

static bool read_options(int argc, char **argv, options *o)
{
    *o = (options){.seed = 1, .count = 100};
    for (int i = 1; i < argc; ++i) {
        const char *name = argv[i], *value = i + 1 < argc ? argv[i + 1] : NULL;
        if (strcmp(name, "--mutate") == 0) {
            o->mutate = true;
            continue;
        }
        if (strcmp(name, "--print") == 0) {
            o->print = true;
            continue;
        }
        if (strcmp(name, "--exhaust") == 0) {
            o->exhaust = true;
            continue;
        }
        if (strcmp(name, "--ends") == 0) {
            o->ends = true;
            continue;
        }
        if (o->ends && name[0] != '-') {
            o->files = argv + i;
            o->file_count = (size_t)(argc - i);
            return true;
        }
        if (!value) return false;
        ++i;
        if (strcmp(name, "--count") == 0)
            o->count = strtoul(value, NULL, 10);
        else if (strcmp(name, "--seed") == 0)
            o->seed = strtoull(value, NULL, 10);
        else if (strcmp(name, "--first") == 0)
            o->first = strtoull(value, NULL, 10);
        else if (strcmp(name, "--failures") == 0)
            o->failures = value;
        else if (strcmp(name, "--plant") == 0)
            o->plant = value;
        else if (strcmp(name, "--well") == 0)
            o->well = value;
        else
            return false;
    }
    return true;
}

/* ---- one well -------------------------------------------------------------------------------- */

/** Each shoe that a limit of jobs holds down, a step higher: planned, and held against the checker
 * in its turn. What is wrong with the neighbour is told as the program's. false: out of memory. */
static bool try_neighbours(const bench *b, trial *t)
{
    pinned_well *other = malloc(sizeof *other);
    claims *said = malloc(sizeof *said);
    verdict *v = malloc(sizeof *v);
    bool ok = other && said && v;
    for (size_t k = 0; ok && k < t->claims.limit_count; ++k) {
        const dt_job_limit *limit = &t->claims.limits[k];
        double shoe_m;
        if (!slow_held(t->well, &b->rows, &t->claims, k, &shoe_m)) continue;
        claims_pin(t->well, &t->claims, limit->string - 1, shoe_m, other);
        ok = claims_take(&other->well, &b->catalogue, said) == DT_OK &&
             recheck(&other->well, &b->rows, said, false, v);
        if (!ok) break;
        ++t->neighbours;
        check_neighbour(limit, &t->claims, said, &t->verdict);
        t->verdict.compared += v->compared;
        for (size_t i = 0; i < v->count; ++i)
            fault(&t->verdict, v->items[i].check, v->items[i].string, "neighbour: %s",
                  v->items[i].text);
    }
    free(other);
    free(said);
    free(v);
    return ok;
}

bool trial_run(const bench *b, const char *text, size_t size, trial *out)
{
    dt_report report = {0};
    *out = (trial){.outcome = OUTCOME_REFUSED};
    dt_status status = dt_report_init(&report, "random");
    if (status == DT_OK) status = dt_well_parse(text, size, &report, &out->well);
    dt_report_free(&report);
    if (status == DT_E_INPUT) return true;
    if (status == DT_OK) status = claims_take(out->well, &b->catalogue, &out->claims);
    if (status != DT_OK) return false;
    out->outcome = out->claims.outcome;
    const mutation *plant = b->plant ? mutation_find(b->plant) : NULL;
    if (plant && out->outcome == OUTCOME_PROGRAM) (void)plant->change(&out->claims);
    if (!recheck(out->well, &b->rows, &out->claims, false, &out->verdict)) return false;
    return out->outcome != OUTCOME_PROGRAM || plant || try_neighbours(b, out);
}

void trial_free(trial *t)
{
    dt_well_free(t->well);
    t->well = NULL;
}

static void print_verdict(const verdict *v, const char *name)
{
    for (size_t i = 0; i < v->count; ++i)
        printf("%s: %s, string %d: %s\n", name, v->items[i].check, v->items[i].string,
               v->items[i].text);
    if (v->faults > v->count) printf("%s: and %zu more\n", name, v->faults - v->count);
}

/* ---- what is found is kept ------------------------------------------------------------------- */

static bool write_file(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    if (!file) return false;
    bool ok = fputs(text, file) >= 0;
    return fclose(file) == 0 && ok;
}

/** Writes the well as it came and as small as it goes. */
static bool keep_failure(const bench *b, const options *o, uint64_t number, const char *text,
                         const verdict *v)
{
    char path[1024];
    size_t tried = 0;
    if (!o->failures) return true;
    if (mkdir(o->failures, 0777) != 0 && errno != EEXIST) return false;
    snprintf(path, sizeof path, "%s/%llu-%llu.xml", o->failures, (unsigned long long)o->seed,
             (unsigned long long)number);
    if (!write_file(path, text)) return false;
    char *small = shrink(b, text, v->items[0].check, &tried);
    if (!small) return false;
    snprintf(path, sizeof path, "%s/%llu-%llu-%s.xml", o->failures, (unsigned long long)o->seed,
             (unsigned long long)number, v->items[0].check);
    bool ok = write_file(path, small);
    printf("well %llu: shrunk from %zu to %zu bytes in %zu tries: %s\n", (unsigned long long)number,
           strlen(text), strlen(small), tried, path);
    free(small);
    return ok;
}

/* ---- the runs -------------------------------------------------------------------------------- */

typedef struct tally {
    unsigned long outcomes[OUTCOME_COUNT], with[FEATURE_COUNT], planned_with[FEATURE_COUNT];
    unsigned long failed;
    size_t compared, strings, liners, tiebacks, hung, sections;
    size_t neighbours, stoppers, decided;
    ends ends;
} tally;

static void count_features(tally *t, uint64_t features, bool planned)
{
    for (int i = 0; i < FEATURE_COUNT; ++i)
        if (features >> i & 1) {
            ++t->with[i];
            t->planned_with[i] += planned;
        }
}

static void print_tally(const tally *t, unsigned long count, double seconds)
{
    static const char *const words[] = {"a program",   "no seats",  "no nest",
                                        "no strength", "no ladder", "refused"};
    printf("%lu wells in %.1f s:", count, seconds);
    for (int i = 0; i < OUTCOME_COUNT; ++i)
        printf(" %lu %s%s", t->outcomes[i], words[i], i + 1 < OUTCOME_COUNT ? "," : "\n");
    printf("%zu strings, %zu of them liners (%zu in a hanger of a list), %zu tie-backs, %zu "
           "sections; %zu figures compared; %lu wells "
           "with a disagreement\n",
           t->strings, t->liners, t->hung, t->tiebacks, t->sections, t->compared, t->failed);
    printf("%zu neighbours of shoes that jobs hold down; %zu stoppers, %zu of them decided here\n",
           t->neighbours, t->stoppers, t->decided);
    ends_print(&t->ends);
    printf("with a program, of all that have it:\n");
    for (int i = 0; i < FEATURE_COUNT; ++i)
        printf("  %-45s %lu of %lu\n", feature_words((feature)i), t->planned_with[i], t->with[i]);
}

static void count_strings(tally *t, const claims *c)
{
    if (c->outcome != OUTCOME_PROGRAM) return;
    for (size_t i = 0; i < slow_all(c); ++i) {
        ++t->strings;
        t->liners += c->strings[i].seat.type == DT_LINER;
        t->tiebacks += i >= c->count;
        t->hung += c->strings[i].hanger != DT_NO_INDEX;
        t->sections += c->strings[i].section_count;
    }
}

static int run_many(const bench *b, const options *o)
{
    tally t = {.failed = 0};
    struct timespec begun, ended;
    trial *one = malloc(sizeof *one);
    if (!one) return 4;
    clock_gettime(CLOCK_MONOTONIC, &begun);
    for (unsigned long i = 0; i < o->count; ++i) {
        uint64_t features = 0, number = o->first + i;
        char *text = random_well(o->seed, number, &features);
        bool ok = text && trial_run(b, text, strlen(text), one);
        if (ok) {
            char name[48];
            snprintf(name, sizeof name, "well %llu", (unsigned long long)number);
            ++t.outcomes[one->outcome];
            count_features(&t, features, one->outcome == OUTCOME_PROGRAM);
            count_strings(&t, &one->claims);
            ends_count(&t.ends, &one->claims);
            t.neighbours += one->neighbours;
            t.stoppers += one->verdict.stoppers;
            t.decided += one->verdict.decided;
            t.compared += one->verdict.compared;
            t.failed += one->verdict.faults > 0;
            print_verdict(&one->verdict, name);
            if (one->verdict.faults > 0 && t.failed <= 20)
                ok = keep_failure(b, o, number, text, &one->verdict);
            trial_free(one);
        }
        if ((i + 1) % 1000 == 0)
            fprintf(stderr, "selfcheck: %lu wells, %lu with a disagreement\n", i + 1, t.failed);
        free(text);
        if (!ok) {
            fputs("selfcheck: out of memory, or a file could not be written\n", stderr);
            free(one);
            return 4;
        }
    }
    clock_gettime(CLOCK_MONOTONIC, &ended);
    print_tally(&t, o->count,
                (double)(ended.tv_sec - begun.tv_sec) +
                    1e-9 * (double)(ended.tv_nsec - begun.tv_nsec));
    free(one);
    return t.failed ? 1 : 0;
}

/** The whole of a file, NULL where it cannot be read. */
static char *read_file(const char *path, size_t *size)
{
    FILE *file = fopen(path, "r");
    char *text = file ? malloc(DT_WELL_MAX_BYTES) : NULL;
    *size = text ? fread(text, 1, DT_WELL_MAX_BYTES, file) : 0;
    if (file) fclose(file);
    if (*size > 0) return text;
    free(text);
    fprintf(stderr, "selfcheck: %s cannot be read\n", path);
    return NULL;
}

static int run_file(const bench *b, const char *path)
{
    size_t size;
    char *text = read_file(path, &size);
    trial *one = malloc(sizeof *one);
    int code = 4;
    if (text && one && trial_run(b, text, size, one)) {
        print_verdict(&one->verdict, path);
        printf("%s: %zu figures compared, %zu disagree\n", path, one->verdict.compared,
               one->verdict.faults);
        code = one->verdict.faults ? 1 : one->outcome == OUTCOME_REFUSED ? 3 : 0;
        trial_free(one);
    }
    free(text);
    free(one);
    return code;
}

/** Plans a well and counts how its drafts end. false: out of memory. */
static bool count_end(const bench *b, const char *text, size_t size, claims *said, ends *e)
{
    dt_report report = {0};
    dt_well *well = NULL;
    dt_status status = dt_report_init(&report, "well");
    if (status == DT_OK) status = dt_well_parse(text, size, &report, &well);
    dt_report_free(&report);
    if (status == DT_E_INPUT) return true; /* no well */
    if (status == DT_OK) status = claims_take(well, &b->catalogue, said);
    if (status == DT_OK) ends_count(e, said);
    dt_well_free(well);
    return status == DT_OK;
}

/** How drafts end, of random wells or of files, without the checker. */
static int run_ends(const bench *b, const options *o)
{
    ends e = {0};
    claims *said = malloc(sizeof *said);
    const size_t count = o->file_count ? o->file_count : o->count;
    bool ok = said != NULL;
    for (size_t i = 0; ok && i < count; ++i) {
        uint64_t features = 0;
        size_t size = 0;
        char *text = o->file_count ? read_file(o->files[i], &size)
                                   : random_well(o->seed, o->first + i, &features);
        ok = text && count_end(b, text, o->file_count ? size : strlen(text), said, &e);
        free(text);
    }
    free(said);
    if (!ok) return 4;
    ends_print(&e);
    return 0;
}

/* ---- small wells of which no draft is said to close --------------------------------------------
 */

typedef struct misses {
    unsigned long small, open, missed, missed_clean;
    size_t tried;
} misses;

/** Is it a well that the search through everything is for? */
static bool is_small(const dt_well *well, const claims *said)
{
    return well->pin_count == 0 && !well->last_open && said->outcome == OUTCOME_PROGRAM &&
           said->count <= 3;
}

static void print_miss(const options *o, uint64_t number, const claims *said, const miss *m)
{
    printf("well %llu of seed %llu: %zu of %zu close, %zu of them bend no rule: %s; stopped, so it "
           "was said, by",
           (unsigned long long)number, (unsigned long long)o->seed, m->closed, m->tried, m->clean,
           m->first);
    for (size_t i = 0; i < said->stopper_count; ++i)
        if (said->stoppers[i].code != DT_NOTICE_NO_DRAFT_CLOSES)
            printf(" %s of %zu", stop_name(said->stoppers[i].code), said->stoppers[i].string);
    printf("\n");
}

/** One well: false out of memory. */
static bool try_everything(const options *o, uint64_t number, const dt_catalogue *small,
                           claims *said, misses *all)
{
    uint64_t features = 0;
    char *text = random_well(o->seed, number, &features);
    dt_report report = {0};
    dt_well *well = NULL;
    miss m;
    dt_status status = text ? dt_report_init(&report, "random") : DT_E_MEMORY;
    if (status == DT_OK) status = dt_well_parse(text, strlen(text), &report, &well);
    dt_report_free(&report);
    free(text);
    if (status == DT_E_INPUT) return true;
    if (status == DT_OK) status = claims_take(well, small, said);
    if (status == DT_OK && is_small(well, said)) {
        ++all->small;
        if (said->end.open) {
            ++all->open;
            status = exhaust(well, small, &m);
            all->tried += m.tried;
            all->missed += m.closed > 0;
            all->missed_clean += m.clean > 0;
            if (m.closed > 0) print_miss(o, number, said, &m);
        }
    }
    dt_well_free(well);
    return status == DT_OK;
}

static int run_exhaust(const bench *b, const options *o)
{
    dt_catalogue small;
    misses all = {0};
    claims *said = malloc(sizeof *said);
    if (!said || !small_catalogue_make(&b->catalogue, &small)) {
        free(said);
        return 4;
    }
    bool ok = true;
    for (unsigned long i = 0; ok && i < o->count; ++i)
        ok = try_everything(o, o->first + i, &small, said, &all);
    printf(
        "%lu wells, %lu of them small; no draft is said to close in %lu; of these one does in %lu, "
        "in %lu without bending a rule (%zu programs planned)\n",
        o->count, all.small, all.open, all.missed, all.missed_clean, all.tried);
    small_catalogue_free(&small);
    free(said);
    return ok ? 0 : 4;
}

static bool noticed(const verdict *v, const char *by)
{
    for (size_t i = 0; by && i < v->count; ++i)
        if (strcmp(v->items[i].check, by) == 0) return true;
    return !by && v->faults > 0;
}

/** Every kind of wrong claim has to be noticed, every time it is made. */
static int run_mutations(const bench *b, const options *o)
{
    size_t count, made[128] = {0}, missed[128] = {0};
    const mutation *all = mutations(&count);
    trial *one = malloc(sizeof *one);
    claims *spoilt = malloc(sizeof *spoilt);
    int code = one && spoilt ? 0 : 4;
    for (unsigned long i = 0; code == 0 && i < o->count; ++i) {
        uint64_t features = 0;
        char *text = random_well(o->seed, o->first + i, &features);
        if (!text || !trial_run(b, text, strlen(text), one)) code = 4;
        free(text);
        for (size_t k = 0; code == 0 && k < count && one->outcome == OUTCOME_PROGRAM; ++k) {
            verdict v;
            *spoilt = one->claims;
            if (one->verdict.faults > 0 || !all[k].change(spoilt)) continue;
            ++made[k];
            if (!recheck(one->well, &b->rows, spoilt, !all[k].by, &v)) code = 4;
            if (noticed(&v, all[k].by)) continue;
            ++missed[k];
            printf("well %llu: %s was not noticed\n", (unsigned long long)(o->first + i),
                   all[k].name);
        }
        trial_free(one);
    }
    for (size_t k = 0; k < count; ++k) {
        printf("%-20s %4zu made, %zu missed: %s\n", all[k].name, made[k], missed[k], all[k].words);
        /* drafts close over their jobs: in few wells there is a broken column to keep quiet */
        const bool rare = strcmp(all[k].name, "broken-untold") == 0;
        if (code == 0 && (missed[k] > 0 || (made[k] == 0 && !rare))) code = 1;
    }
    free(one);
    free(spoilt);
    return code;
}

int main(int argc, char **argv)
{
    options o;
    setvbuf(stdout, NULL, _IOLBF, 0); /* a long run is watched */
    if (!read_options(argc, argv, &o) || (o.plant && !mutation_find(o.plant))) return usage();
    if (o.print) {
        uint64_t features;
        char *text = random_well(o.seed, o.first, &features);
        if (text) fputs(text, stdout);
        free(text);
        return text ? 0 : 4;
    }
    bench *b = calloc(1, sizeof *b);
    int code = 4;
    if (b && dt_catalogue_load(&b->catalogue) == DT_OK) {
        b->plant = o.plant;
        if (!rows_read(DT_CATALOGUE, &b->rows))
            fputs("selfcheck: the catalogue files in " DT_CATALOGUE " cannot be read\n", stderr);
        else
            code = o.well      ? run_file(b, o.well)
                   : o.mutate  ? run_mutations(b, &o)
                   : o.ends    ? run_ends(b, &o)
                   : o.exhaust ? run_exhaust(b, &o)
                               : run_many(b, &o);
        dt_catalogue_free(&b->catalogue);
    }
    free(b);
    return code;
}
