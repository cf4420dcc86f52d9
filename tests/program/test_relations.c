/* SPDX-License-Identifier: MIT */
/* What a change of a well file must do to its plan, and what it may not, on random wells. No figure
 * of our own is expected: each plan is held against the plan of the well as written. Source: what
 * the words of the file mean; of the last three, that less room never needs fewer strings. */
#include "check.h"
#include "odds.h"
#include "planned_text.h"
#include "random_well.h"
#include "units.h"

static dt_catalogue catalogue;

/** Wells looked at: more of them at full speed. */
#define WELLS (DT_FULL_SPEED ? 20u : 4u)
#define SEED  11
/** Wells pinned to their own plan, and asked for their odds. */
#define ASKED (DT_FULL_SPEED ? 8u : 1u)
/** Wells planned as a whole, each five times. */
#define PLANNED (DT_FULL_SPEED ? 30u : 2u)

/** One change of a text, in place of it: malloc'ed, or NULL where this well has nothing of it. */
typedef char *change(const char *text, uint64_t features);

static char *copy(const char *text, size_t room)
{
    char *out = malloc(strlen(text) + room + 1);
    assert_non_null(out);
    strcpy(out, text);
    return out;
}

/** `from` up to `to` of a text replaced. */
static char *spliced(const char *text, const char *from, const char *to, const char *by)
{
    char *out = copy(text, strlen(by));
    sprintf(out + (from - text), "%s%s", by, to);
    return out;
}

static char *another_name(const char *text, uint64_t features)
{
    (void)features;
    const char *name = strstr(text, " name=\"Random");
    assert_non_null(name);
    return spliced(text, name, strchr(name + 7, '"') + 1, " name=\"Saltmarsh Edge (invented)\"");
}

/** Every attribute in metres said in feet. Where the basis rounds shoes it has a step for each
 * unit: of such wells only those that state their own. */
static char *in_feet(const char *text, uint64_t features)
{
    (void)features;
    if (!strstr(text, " basis=\"bare\"") && !strstr(text, " round_to=\"")) return NULL;
    char *out = malloc(4 * strlen(text) + 1);
    size_t used = 0, changed = 0;
    assert_non_null(out);
    for (const char *at = text; *at;) {
        char *rest;
        const double metres = at[0] == '=' && at[1] == '"' ? strtod(at + 2, &rest) : NAN;
        if (isfinite(metres) && rest > at + 2 && strncmp(rest, " m\"", 3) == 0) {
            used += (size_t)sprintf(out + used, "=\"%.17g ft\"", metres / DT_M_PER_FT);
            at = rest + 3;
            ++changed;
        } else
            out[used++] = *at++;
    }
    out[used] = '\0';
    if (changed) return out;
    free(out);
    return NULL;
}

/** The first two intervals change places. Uncertain ones are drawn in their order: not those. */
static char *another_order(const char *text, uint64_t features)
{
    const char *one = strstr(text, "<interval "), *two = one ? strstr(one + 1, "<interval ") : NULL;
    if (!two || (features >> FEATURE_SPREAD & 1)) return NULL;
    const char *one_end = strstr(one, "/>"), *two_end = strstr(two, "/>");
    if (!one_end || one_end > two || !two_end) return NULL;
    char *out = copy(text, 0);
    sprintf(out + (one - text), "%.*s/>%.*s%.*s%s", (int)(two_end - two), two,
            (int)(two - one_end - 2), one_end + 2, (int)(one_end - one), one, two_end);
    return out;
}

/** Every price doubled. */
static char *double_prices(const char *text, uint64_t features)
{
    const char *from = strstr(text, "<prices "), *to = from ? strstr(from, "</prices>") : NULL;
    (void)features;
    if (!to) return NULL;
    char *out = copy(text, strlen(text));
    size_t used = (size_t)(from - text);
    for (const char *at = from; at < to;) {
        char *rest;
        const double price = at[0] == '=' && at[1] == '"' ? strtod(at + 2, &rest) : NAN;
        if (isfinite(price) && rest > at + 2 && *rest == '"') {
            used += (size_t)sprintf(out + used, "=\"%.17g\"", 2 * price);
            at = rest + 1;
        } else
            out[used++] = *at++;
    }
    strcpy(out + used, to);
    return out;
}

/** A bed that no shoe may stand in where nothing is planned: far below the objective. */
static char *a_bed_below(const char *text, uint64_t features)
{
    (void)features;
    const char *objective = strstr(text, "<objective depth=\""), *bed = strstr(text, "<interval ");
    char *unit, words[200];
    if (!objective || !bed) return NULL;
    const double depth = strtod(objective + 18, &unit);
    const int size = (int)(strchr(unit, '"') + 1 - unit);
    snprintf(words, sizeof words,
             "<interval name=\"Bed below\" kind=\"coal\" top=\"%.1f%.*s base=\"%.1f%.*s "
             "action=\"avoid-shoe\" permeable=\"no\"/>\n  ",
             depth + 300, size, unit, depth + 350, size, unit);
    return spliced(text, bed, bed, words);
}

/** Lines of the file are where they are told from; a changed file has others. That a bed lies below
 * the objective is told. */
static void forget_lines(choices_made *c)
{
    size_t kept = 0;
    for (size_t i = 0; i < c->count; ++i)
        if (strcmp(c->items[i].what, "finding") != 0 ||
            c->items[i].value != DT_MSG_INTERVAL_BELOW_OBJECTIVE)
            c->items[kept++] = c->items[i];
    c->count = kept;
    for (size_t i = 0; i < c->count; ++i)
        if (strcmp(c->items[i].what, "line of the rule") == 0 ||
            strcmp(c->items[i].what, "hanger") == 0)
            c->items[i].value = 0;
}

/** The plan is the same, on as many wells that have what is changed. */
static void same_plan(change *made, const char *said)
{
    size_t differ = 0, met = 0;
    for (uint64_t i = 0; met < WELLS; ++i) {
        uint64_t features = 0;
        char *text = random_well(SEED, i, &features), *other = made(text, features), name[32];
        assert_non_null(text);
        if (other) {
            snprintf(name, sizeof name, "random well %d", (int)i);
            choices_made as_written = choices_of_text(&catalogue, text, strlen(text), false);
            choices_made changed = choices_of_text(&catalogue, other, strlen(other), false);
            forget_lines(&as_written);
            forget_lines(&changed);
            differ += choices_differ(&as_written, &changed, name, said) > 0;
            ++met;
            free(as_written.items);
            free(changed.items);
        }
        free(other);
        free(text);
    }
    assert_int_equal(differ, 0);
}

static void a_name_is_only_a_name(void **state)
{
    (void)state;
    same_plan(another_name, "another name");
}

static void metres_are_feet(void **state)
{
    (void)state;
    same_plan(in_feet, "metres in feet");
}

static void order_of_intervals(void **state)
{
    (void)state;
    same_plan(another_order, "intervals in another order");
}

static void a_bed_below_the_objective(void **state)
{
    (void)state;
    same_plan(a_bed_below, "a bed below the objective");
}

static void prices_doubled(void **state)
{
    (void)state;
    same_plan(double_prices, "prices doubled");
}

/** Strings of a well by the rules for seats alone; SIZE_MAX where no seats hold. */
static size_t strings_of(const dt_well *well)
{
    dt_window window;
    dt_seats seats;
    assert_int_equal(dt_window_build(well, &window), DT_OK);
    const dt_status status = dt_seats_choose(&window, &seats);
    const size_t count = status == DT_OK && seats.broken_count == 0 ? seats.count : SIZE_MAX;
    dt_seats_free(&seats);
    dt_window_free(&window);
    return count;
}

static void more_kick_margin(dt_well *well)
{
    well->margins.kick.emw_kgm3 += 20;
}

static void more_safety(dt_well *well)
{
    well->margins.safety.emw_kgm3 += 40;
}

static void weaker_rock(dt_well *well)
{
    for (size_t i = 0; i < well->fracture.count; ++i)
        ((dt_curve_point *)well->fracture.points)[i].emw_kgm3 *= 0.985;
}

/** Less room never needs fewer strings; in some of the wells it needs more. */
static void less_room_never_fewer_strings(void **state)
{
    (void)state;
    static void (*const less[])(dt_well *) = {more_kick_margin, more_safety, weaker_rock};
    size_t more[3] = {0};
    for (uint64_t i = 0; i < 10 * WELLS; ++i) {
        uint64_t features = 0;
        char *text = random_well(SEED, i, &features);
        assert_non_null(text);
        /* pins stand where they are; rock by a method has no points of its own */
        const uint64_t pinned = 1ull << FEATURE_PINS | 1ull << FEATURE_PINNED_SHOE |
                                1ull << FEATURE_PINNED_LINER | 1ull << FEATURE_METHOD;
        for (size_t k = 0; k < 3 && !(features & pinned); ++k) {
            dt_report report;
            dt_well *well = NULL;
            assert_int_equal(dt_report_init(&report, "well"), DT_OK);
            if (dt_well_parse(text, strlen(text), &report, &well) == DT_OK) {
                const size_t before = strings_of(well);
                less[k](well);
                const size_t after = strings_of(well);
                if (after < before)
                    fail_msg("random well %d: %zu strings, with less room (%zu) %zu", (int)i,
                             before, k, after);
                more[k] += after > before;
            }
            dt_report_free(&report);
            dt_well_free(well);
        }
        free(text);
    }
    assert_true(more[0] > 0);
}

/* ---- whole programs ---- */

/** Strings of the plan of a well that can be run as a whole; SIZE_MAX without one. */
static size_t strings_of_plan(const dt_well *well)
{
    dt_program *p = NULL;
    dt_refusal refusal = {0};
    const dt_status status = dt_program_plan(well, &catalogue, &p, &refusal);
    assert_true(status == DT_OK || status == DT_E_NONE || status == DT_E_INPUT);
    const size_t count = p && dt_program_runnable(p) ? p->count : SIZE_MAX;
    dt_program_free(p);
    dt_refusal_free(&refusal);
    return count;
}

static void smaller_completion(dt_well *well)
{
    well->min_pipe_od_m *= 0.75;
}

static void shallower_fresh_water(dt_well *well)
{
    well->fresh_water_m -= 0.25 * (well->fresh_water_m - dt_well_ground_m(well));
}

static void lower_factors(dt_well *well)
{
    dt_design *d = &well->design;
    d->burst *= 0.9;
    d->collapse *= 0.9;
    d->tension *= 0.9;
    d->triaxial *= 0.9;
}

static void stronger_rock(dt_well *well)
{
    for (size_t i = 0; i < well->fracture.count; ++i)
        ((dt_curve_point *)well->fracture.points)[i].emw_kgm3 *= 1.01;
}

/** Where less is asked a program that could be run still can, with no string more. Not of wells
 * that want their shoes as deep as can be: that asks more of stronger rock. */
static void less_asked_never_closes_less(void **state)
{
    (void)state;
    static const struct {
        void (*ask)(dt_well *);
        const char *words;
    } less[] = {{smaller_completion, "a smaller completion"},
                {shallower_fresh_water, "shallower fresh water"},
                {lower_factors, "lower design factors"},
                {stronger_rock, "stronger rock"}};
    size_t looked_at[4] = {0}, worse = 0;
    for (uint64_t i = 0; i < PLANNED; ++i) {
        uint64_t features = 0;
        char *text = random_well(SEED + 1, i, &features);
        assert_non_null(text);
        if (features >> FEATURE_DEEPEST & 1) {
            free(text);
            continue;
        }
        dt_report report;
        dt_well *well = NULL;
        assert_int_equal(dt_report_init(&report, "well"), DT_OK);
        size_t before = SIZE_MAX;
        if (dt_well_parse(text, strlen(text), &report, &well) == DT_OK)
            before = strings_of_plan(well);
        dt_well_free(well);
        for (size_t k = 0; k < 4 && before < SIZE_MAX; ++k) {
            if (k == 3 && (features >> FEATURE_METHOD & 1)) continue;
            assert_int_equal(dt_well_parse(text, strlen(text), &report, &well), DT_OK);
            less[k].ask(well);
            const size_t after = strings_of_plan(well);
            ++looked_at[k];
            if (after > before) {
                print_error("random well %d: %zu strings, with %s %zu\n", (int)i, before,
                            less[k].words, after);
                ++worse;
            }
            dt_well_free(well);
        }
        dt_report_free(&report);
        free(text);
    }
    for (size_t k = 0; k < 4; ++k)
        assert_true(looked_at[k] > 0);
    assert_int_equal(worse, 0);
}

/** A well of a text; NULL where the reader refuses it. */
static dt_well *well_of(const char *text)
{
    dt_report report;
    dt_well *well = NULL;
    assert_int_equal(dt_report_init(&report, "well"), DT_OK);
    if (dt_well_parse(text, strlen(text), &report, &well) != DT_OK) well = NULL;
    dt_report_free(&report);
    return well;
}

/** The program of a well, if it can be run as a whole. */
static dt_program *runnable(const dt_well *well)
{
    dt_program *p = NULL;
    dt_refusal refusal = {0};
    (void)dt_program_plan(well, &catalogue, &p, &refusal);
    dt_refusal_free(&refusal);
    if (p && dt_program_runnable(p)) return p;
    dt_program_free(p);
    return NULL;
}

/** The shoes, types and sizes of a program as pins of a well that has none. */
static void pin_to(dt_well *well, const dt_program *p)
{
    assert_int_equal(well->pin_count, 0);
    free(well->pins);
    well->pins = calloc(p->seats.count, sizeof *well->pins);
    assert_non_null(well->pins);
    well->pin_count = p->seats.count;
    for (size_t i = 0; i < p->seats.count; ++i) {
        const dt_seat *seat = &p->seats.items[i];
        const dt_string *string = &p->strings.items[i];
        well->pins[i] = (dt_pin){.role = seat->role,
                                 .type = seat->type,
                                 .shoe_m = seat->shoe_m,
                                 .hole_m = p->nest.holes[string->nest_hole].diameter_m,
                                 .od_m = p->nest.pipes[string->nest_pipe].od_m,
                                 .weight_kgm = NAN,
                                 .wear_m = NAN};
    }
}

/** Where a program pinned to another's seats differs from it. NULL: nowhere. */
static const char *differs(const dt_program *a, const dt_program *b)
{
    if (!b) return "it cannot be run";
    if (a->count != b->count) return "strings";
    for (size_t i = 0; i < a->count; ++i) {
        const dt_string *x = &a->strings.items[i], *y = &b->strings.items[i];
        if (fabs(a->seats.items[i].shoe_m - b->seats.items[i].shoe_m) > 1e-6) return "a shoe";
        if (a->seats.items[i].type != b->seats.items[i].type) return "a type";
        if (x->section_count != y->section_count) return "sections";
        for (size_t k = 0; k < x->section_count; ++k)
            if (x->sections[k].pipe != y->sections[k].pipe) return "pipe";
    }
    return fabs(a->steel_kg - b->steel_kg) > 1e-6 * a->steel_kg ? "steel" : NULL;
}

/* With every price doubled the bill of the program is twice as high, to the cents it is rounded to.
 */
static void bill_doubled(void **state)
{
    (void)state;
    size_t met = 0;
    for (uint64_t i = 0; met < ASKED; ++i) {
        uint64_t features = 0;
        char *text = random_well(SEED + 4, i, &features);
        assert_non_null(text);
        char *dear_text = double_prices(text, features);
        dt_well *well = dear_text ? well_of(text) : NULL;
        dt_program *p = well ? runnable(well) : NULL;
        if (p && p->bill.total > 0) {
            dt_well *dear_well = well_of(dear_text);
            dt_program *dear = runnable(dear_well);
            assert_non_null(dear);
            assert_within(dear->bill.total, 2 * p->bill.total,
                          0.02 * DT_COST_COUNT * (double)p->count);
            ++met;
            dt_program_free(dear);
            dt_well_free(dear_well);
        }
        dt_program_free(p);
        dt_well_free(well);
        free(dear_text);
        free(text);
    }
}

/* Who pins each string where it was planned, in the size it was planned, gets that program. What
 * the surest may cost is counted from the cheapest seats, which a well pinned elsewhere does not
 * have: so both are planned without. */
static void pinned_to_itself(void **state)
{
    (void)state;
    size_t met = 0, worse = 0;
    for (uint64_t i = 0; met < ASKED; ++i) {
        uint64_t features = 0;
        char *text = random_well(SEED + 2, i, &features);
        assert_non_null(text);
        dt_well *well = well_of(text);
        if (well && well->seats.prefer == DT_PREFER_SUREST)
            well->seats.prefer = DT_PREFER_SHALLOWEST;
        dt_program *free_plan = well && well->pin_count == 0 ? runnable(well) : NULL;
        dt_well *pinned = free_plan ? well_of(text) : NULL;
        if (pinned) {
            pinned->seats.prefer = well->seats.prefer;
            pin_to(pinned, free_plan);
            dt_program *again = runnable(pinned);
            const char *where = differs(free_plan, again);
            if (where)
                fprintf(stderr, "random well %d, pinned to its own plan: %s\n", (int)i, where);
            worse += where != NULL;
            ++met;
            dt_program_free(again);
        }
        dt_program_free(free_plan);
        dt_well_free(pinned);
        dt_well_free(well);
        free(text);
    }
    assert_int_equal(worse, 0);
}

/* Where nothing is uncertain by more than a millionth of a millionth, a program that can be drilled
 * is drilled in every drawn well, and one that breaks a rule in none. */
static void odds_without_spread(void **state)
{
    (void)state;
    size_t met = 0;
    for (uint64_t i = 0; met < ASKED; ++i) {
        uint64_t features = 0;
        char *text = random_well(SEED + 3, i, &features);
        assert_non_null(text);
        const bool by_method = features >> FEATURE_METHOD & 1,
                   spread = features >> FEATURE_SPREAD & 1;
        dt_well *well = by_method || spread ? NULL : well_of(text);
        dt_program *p = NULL;
        dt_refusal refusal = {0};
        for (size_t k = 0; well && k < well->fracture.count; ++k)
            ((dt_curve_point *)well->fracture.points)[k].sd_kgm3 = 1e-9;
        if (well) (void)dt_program_plan(well, &catalogue, &p, &refusal);
        if (p) {
            const dt_odds_options options = {.samples = 200, .seed = 1, .threads = 1};
            dt_odds *odds = NULL;
            assert_int_equal(dt_odds_run(p, &options, &odds), DT_OK);
            const dt_share planned = odds->planned;
            if (planned.count != (p->seats.broken_count == 0 ? planned.of : 0))
                fail_msg("random well %d: %zu of %zu", (int)i, planned.count, planned.of);
            dt_odds_free(odds);
            ++met;
        }
        dt_program_free(p);
        dt_refusal_free(&refusal);
        dt_well_free(well);
        free(text);
    }
}

int main(void)
{
    if (dt_catalogue_load(&catalogue) != DT_OK) return EXIT_FAILURE;
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_name_is_only_a_name),
        cmocka_unit_test(metres_are_feet),
        cmocka_unit_test(order_of_intervals),
        cmocka_unit_test(prices_doubled),
        cmocka_unit_test(a_bed_below_the_objective),
        cmocka_unit_test(less_room_never_fewer_strings),
        cmocka_unit_test(less_asked_never_closes_less),
        cmocka_unit_test(bill_doubled),
        cmocka_unit_test(pinned_to_itself),
        cmocka_unit_test(odds_without_spread),
    };
    const int failed = cmocka_run_group_tests(tests, NULL, NULL);
    dt_catalogue_free(&catalogue);
    return failed;
}
