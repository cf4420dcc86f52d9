/* SPDX-License-Identifier: MIT */
/* What is said of options beside the chosen program, each figure and name worked out once more from
 * the programs; kinds beyond those written out; and spares against all pipes tried. */
#include <stdio.h>

#include "basis.h"
#include "check.h"
#include "comparison.h"
#include "drawings.h"
#include "option_parts.h"
#include "shipped_wells.h"
#include "told.h"

/** Many sizes: more kinds of programs than are written out. */
static const char WIDE_STOCK[] = "od_in,weight_lbft,grade\n"
                                 "24,,\n20,133,K55\n20,94,J55\n18.625,87.5,J55\n16,75,J55\n"
                                 "16,84,K55\n13.375,68,L80\n13.375,72,P110\n11.75,60,L80\n"
                                 "10.75,51,L80\n10.75,60.7,P110\n9.625,47,L80\n9.625,53.5,P110\n"
                                 "8.625,40,P110\n7.625,39,P110\n7,26,L80\n7,29,P110\n7,35,P110\n"
                                 "5.5,23,P110\n5,18,P110\n5,21.4,Q125\n";

typedef struct compared {
    coded_well c;
    dt_catalogue catalogue;
    dt_comparison made;
    double shallow_ppg; /* what rock near the surface bears; 0: enough for most jobs */
} compared;

/** Shallow rock that bears a column of cement, and jobs that may be changed before they are
 * condemned, as on land: else next to none of these wells' programs closes. */
static void let_close(coded_well *c, double shallow_ppg)
{
    dt_well *w = &c->well;
    c->fracture[0].emw_kgm3 = (shallow_ppg > 0 ? shallow_ppg : 13.6) * PPG;
    c->fracture[1].emw_kgm3 = fmax(c->fracture[1].emw_kgm3, c->fracture[0].emw_kgm3);

    static dt_basis basis;
    basis = *dt_basis_built_in();
    basis.values[DT_CUSTOM_CEMENTING_SLOWER].si = 0.25;
    basis.values[DT_CUSTOM_CEMENTING_TAIL_PART].si = 0.2;
    basis.values[DT_CUSTOM_THIN_PV].si = 0.015;
    basis.values[DT_CUSTOM_THIN_YP].si = 2.39 /* 5 lbf/100ft2 */;
    basis.values[DT_CUSTOM_RUNNING_SLOWEST_JOINT].si = 120;
    w->basis = &basis;
}

static void compare(compared *x, const char *stock)
{
    dt_refusal refusal = {0};
    let_close(&x->c, x->shallow_ppg);
    part_catalogue(&x->catalogue, stock);
    if (dt_comparison_make(&x->c.well, &x->catalogue, &x->made, &refusal) != DT_OK)
        fail_msg("%s", told_refusal(&refusal));
}

static void release(compared *x)
{
    dt_comparison_free(&x->made);
    dt_catalogue_free(&x->catalogue);
}

/* ---- words ---- */

/** 1234567 as 1,234,567. */
static const char *grouped(double amount)
{
    static char out[40];
    char digits[32];
    int length = snprintf(digits, sizeof digits, "%.0f", amount), used = 0;
    for (int i = 0; i < length; ++i) {
        if (i && (length - i) % 3 == 0) out[used++] = ',';
        out[used++] = digits[i];
    }
    out[used] = '\0';
    return out;
}

/** Words about an item, until the next are asked for. */
static const char *words_of(const dt_comparison *c, const dt_compared *one, dt_item_sentence *of)
{
    static char *text;
    free(text);
    text = NULL;
    assert_int_equal(of(c, (size_t)(one - c->items), DT_DISPLAY_FIELD, &text), DT_OK);
    return text;
}

static size_t said_count;

/** Is the phrase in the text exactly when it should be? */
static void check_said(const char *text, const char *phrase, bool should)
{
    said_count += should;
    if ((strstr(text, phrase) != NULL) != should)
        fail_msg("\"%s\" %s \"%s\"", text, should ? "lacks" : "says", phrase);
}

/** A total in which less is better: said as gain or as loss, or not at all. */
static void check_total(const dt_comparison *c, const dt_compared *one, double better_by,
                        double least, const char *gain, const char *loss)
{
    check_said(words_of(c, one, dt_buys_sentence), gain, better_by >= least);
    check_said(words_of(c, one, dt_risks_sentence), loss, -better_by >= least);
}

/** The sentences of one option against the totals of two programs. */
static void check_sentences(const dt_comparison *c, const dt_compared *one)
{
    const dt_option *own = &one->option, *chosen = &c->items[0].option;
    char gain[120], loss[120];
    double saved = chosen->cost - own->cost;
    snprintf(gain, sizeof gain, "saves %s (currency", grouped(fabs(saved)));
    snprintf(loss, sizeof loss, "costs %s (currency", grouped(fabs(saved)));
    check_total(c, one, c->well->prices_given ? saved : 0, 0.5, gain, loss);
    double steel = (chosen->steel_kg - own->steel_kg) / 1000;
    snprintf(gain, sizeof gain, "%.1f t less steel", fabs(steel));
    snprintf(loss, sizeof loss, "%.1f t more steel", fabs(steel));
    if (!one->tapers) check_total(c, one, steel, 0.05, gain, loss);
    double days = chosen->days - own->days;
    snprintf(gain, sizeof gain, "%.1f days shorter", fabs(days));
    snprintf(loss, sizeof loss, "%.1f days longer", fabs(days));
    check_total(c, one, days, 0.05, gain, loss);
    long strings = (long)(chosen->count + chosen->tiebacks) - (long)(own->count + own->tiebacks);
    const char *plural = labs(strings) > 1 ? "s" : "";
    snprintf(gain, sizeof gain, "%ld string%s fewer", labs(strings), plural);
    snprintf(loss, sizeof loss, "%ld string%s more", labs(strings), plural);
    check_total(c, one, (double)strings, 0.5, gain, loss);
    long spares = (long)own->spares - (long)chosen->spares;
    plural = labs(spares) > 1 ? "s" : "";
    snprintf(gain, sizeof gain, "%ld contingency string%s more would", labs(spares), plural);
    snprintf(loss, sizeof loss, "%ld contingency string%s fewer would", labs(spares), plural);
    check_total(c, one, (double)spares, 0.5, gain, loss);
    check_total(c, one, own->last_od_m - chosen->last_od_m, PART_SAME, "leaves ", "leaves ");
}

static bool same_pipe(const dt_string *a, const dt_string *b)
{
    bool same = a->section_count == b->section_count;
    for (size_t i = 0; same && i < a->section_count; ++i)
        same = a->sections[i].pipe == b->sections[i].pipe &&
               a->sections[i].thread == b->sections[i].thread;
    return same;
}

static const dt_program_string *tie_of(const dt_program *p, size_t k)
{
    for (size_t i = p->count; i < dt_program_strings(p); ++i)
        if (p->items[i].seat->ties == k) return &p->items[i];
    return NULL;
}

/** Each string by its name: named among the changes when it differs, and only then. */
static void check_changes(const dt_comparison *c, const dt_compared *one)
{
    const dt_program *own = one->program, *chosen = c->items[0].program;
    char name[40];
    for (size_t k = 0; k < own->count; ++k) {
        const dt_program_string *now = &own->items[k], *was = NULL, *tied = tie_of(own, k);
        for (size_t i = 0; i < chosen->count; ++i)
            if (chosen->items[i].seat->role == now->seat->role &&
                chosen->items[i].ordinal == now->ordinal)
                was = &chosen->items[i];
        const dt_program_string *had = was ? tie_of(chosen, (size_t)(was - chosen->items)) : NULL;
        bool same = was && fabs(was->od_m - now->od_m) < 1e-6 &&
                    fabs(was->hole_m - now->hole_m) < 1e-6 &&
                    fabs(was->shoe_tvd_m - now->shoe_tvd_m) < 0.01 &&
                    was->seat->type == now->seat->type && same_pipe(was->string, now->string) &&
                    !had == !tied && (!had || same_pipe(had->string, tied->string));
        dt_program_string_name(own, k, name, sizeof name);
        strcat(name, ": ");
        check_said(words_of(c, one, dt_changes_sentence), name, !same);
    }
    for (size_t i = 0; i < chosen->count; ++i) {
        bool kept = false;
        for (size_t k = 0; k < own->count; ++k)
            kept = kept || (chosen->items[i].seat->role == own->items[k].seat->role &&
                            chosen->items[i].ordinal == own->items[k].ordinal);
        strcpy(name, "no ");
        dt_program_string_name(chosen, i, name + 3, sizeof name - 3);
        check_said(words_of(c, one, dt_changes_sentence), name, !kept);
    }
}

/** Is this a multiple of the rounding step, a pinned shoe, or a seat that the plan begins with? */
static bool rounded(const dt_well *well, const dt_seats *seats, double shoe_m)
{
    bool fine = fabs(remainder(shoe_m, well->seats.round_to_m)) < 1e-6;
    for (size_t k = 0; k < seats->count; ++k)
        fine = fine || fabs(seats->items[k].shoe_m - shoe_m) < 1e-6;
    for (size_t i = 0; i < well->pin_count; ++i)
        fine = fine || fabs(well->pins[i].shoe_m - shoe_m) < 1e-6;
    return fine;
}

static void check_rounded(const dt_comparison *c)
{
    dt_window window;
    dt_seats seats;
    assert_int_equal(dt_window_build(c->well, &window), DT_OK);
    assert_int_equal(dt_seats_choose(&window, &seats), DT_OK);
    for (size_t i = 0; i < c->options.count; ++i)
        for (size_t k = 1; k + 1 < c->options.items[i].count; ++k)
            assert_true(rounded(c->well, &seats, c->options.items[i].strings[k].shoe_m));
    dt_seats_free(&seats);
    dt_window_free(&window);
}

/** Does a program planned from an option by its pins have no stopper? */
static void check_closes(const dt_comparison *c, const dt_catalogue *catalogue, size_t i)
{
    dt_option_plan *plan = calloc(1, sizeof *plan);
    assert_non_null(plan);
    assert_int_equal(
        dt_option_plan_make(c->well, catalogue, &c->listed[i].searched, c->listed[i].tapers, plan),
        DT_OK);
    for (size_t k = 0; k < plan->program->notices.count; ++k) {
        const dt_notice *n = &plan->program->notices.items[k];
        if (dt_notice_gravity(n->code) == DT_STOPPER) fail_msg("option %zu: %s", i + 1, told(n));
    }
    assert_within(plan->program->bill.steel_kg, c->options.items[i].steel_kg, 0.06);
    dt_option_plan_free(plan);
    free(plan);
}

/** Options of a kind differ in some shoe by the rounding step, or in none. */
static void check_apart(const dt_comparison *c)
{
    const dt_options *o = &c->options;
    double step_m = isnan(c->well->seats.round_to_m) ? o->seat_step_m : c->well->seats.round_to_m;
    for (size_t i = 0; i < o->count; ++i)
        for (size_t j = i + 1; j < o->count; ++j) {
            double most_m = 0;
            if (o->items[i].structure != o->items[j].structure) continue;
            if (c->plan_rank == i + 1 || c->plan_rank == j + 1) continue;
            for (size_t k = 0; k < o->items[i].count; ++k)
                most_m = fmax(most_m,
                              fabs(o->items[i].strings[k].shoe_m - o->items[j].strings[k].shoe_m));
            if (most_m > 0.01 && most_m < step_m - 0.01)
                fail_msg("options %zu and %zu: %.1f m apart", i + 1, j + 1, most_m);
        }
}

/** A twin is the program it is of but for how one string hangs. */
static void check_twin(const dt_comparison *c, const dt_twin *t)
{
    const dt_option *of = &c->items[t->item].option;
    assert_true(t->present || t->why.count > 0);
    if (!t->built) return;
    assert_int_equal(t->option.count, of->count);
    for (size_t k = 0; k < of->count; ++k) {
        const dt_choice *a = &of->strings[k], *b = &t->option.strings[k];
        assert_within(a->shoe_m, b->shoe_m, 0.01);
        assert_within(a->hole_m, b->hole_m, 1e-6);
        assert_within(a->pipe->od_m, b->pipe->od_m, 1e-6);
        const bool hangs = k == t->string ? t->as != DT_RUN_FULL : a->type == DT_LINER;
        const bool tied = k == t->string ? t->as == DT_HUNG_AND_TIED : a->tied_back;
        assert_int_equal(b->type == DT_LINER, hangs);
        assert_int_equal(b->tied_back, tied);
    }
}

/** Liner, full string and tie-back of each string from the third down, of the first two. */
static void check_twins(const dt_comparison *c)
{
    size_t at = 0;
    for (size_t i = 0; i < c->count && i < 2; ++i)
        for (size_t k = 2; k < c->items[i].option.count; ++k) {
            int present = 0;
            for (int as = DT_RUN_FULL; as <= DT_HUNG_AND_TIED; ++as, ++at) {
                const dt_twin *t = &c->twins[at];
                assert_int_equal(t->item, i);
                assert_int_equal(t->string, k);
                assert_int_equal(t->as, as);
                present += t->present;
                check_twin(c, t);
            }
            assert_int_equal(present, 1);
        }
    assert_int_equal(at, c->twin_count);
}

/** The plan is the first of the list, or it is said why not, with a reason. */
static void check_order(const dt_comparison *c)
{
    size_t said = 0, stopped = 0, own = 0;
    for (size_t i = 0; i < c->notes.count; ++i) {
        const dt_notice *n = &c->notes.items[i];
        said += n->code == DT_NOTICE_PLAN_NOT_FIRST;
        stopped += n->code == DT_NOTICE_OPTIONS_STOPPED;
        own += n->code == DT_NOTICE_PLAN_STOPPED;
        if (n->code == DT_NOTICE_PLAN_NOT_FIRST) assert_true(n->because_count > 0);
    }
    const bool stands = c->planned && !c->plan_stopped && !c->plan_breaks_wish;
    const size_t wanted = !stands || c->plan_rank == 1 ? 0 : c->items[0].dominated_by > 1 ? 2 : 1;
    assert_int_equal(said, wanted);
    assert_int_equal(stopped, c->stopped > 0);
    assert_int_equal(own, c->plan_stopped);
}

/** What is shown, ranked and written is what the drawn programs come to, and none of it is beaten
 * by another, the plan included. */
static void check_list(const dt_comparison *c, const dt_catalogue *catalogue)
{
    const dt_options *o = &c->options;
    size_t cheaper = 0;
    check_apart(c);
    check_twins(c);
    check_order(c);
    for (size_t i = 0; i < o->count; ++i) {
        const dt_option *a = &o->items[i];
        for (size_t k = 0; k < o->count; ++k)
            if (k != i && dt_option_at_least(&o->items[k], a))
                fail_msg("option %zu equals or beats option %zu", k + 1, i + 1);
        if (c->planned && i + 1 != c->plan_rank && !c->plan_breaks_wish && !c->plan_stopped)
            assert_false(dt_option_at_least(&c->items[0].option, a));
        if (c->planned) cheaper += a->cost < c->items[0].option.cost;
        if (i > 0) assert_true(dt_option_by_cost(&o->items[i - 1], a) <= 0);
        if (i + 1 != c->plan_rank) check_closes(c, catalogue, i);
    }
    if (!isnan(c->well->seats.round_to_m) && !o->not_rounded) check_rounded(c);
    if (c->plan_rank && c->well->prices_given) assert_int_equal(c->plan_rank, cheaper + 1);
    for (size_t i = 0; i < c->count; ++i) {
        const dt_compared *one = &c->items[i];
        assert_within(one->option.cost, one->program->bill.total, 0.01);
        assert_within(one->option.steel_kg, one->program->bill.steel_kg, 0.1);
        assert_within(one->option.days, one->program->bill.days, 1.0 / 1440);
        if (one->rank == 0) continue;
        assert_within(o->items[one->rank - 1].cost, one->option.cost, 0);
        assert_within(o->items[one->rank - 1].steel_kg, one->option.steel_kg, 0);
    }
}

static void check_all(const dt_comparison *c, const dt_catalogue *catalogue)
{
    for (size_t i = 0; i < c->count; ++i) {
        check_sentences(c, &c->items[i]);
        check_changes(c, &c->items[i]);
    }
    check_list(c, catalogue);
    assert_string_equal(words_of(c, &c->items[0], dt_changes_sentence), "");
}

static void words_say_the_differences(void **state)
{
    (void)state;
    size_t first = 0;
    for (int variant = 0; variant < 8; ++variant) {
        compared x = {0};
        part_well(&x.c, variant & 1);
        dt_well *w = &x.c.well;
        if (variant & 2) w->wishes = (dt_wishes){.given = true, .max_strings = 4};
        if (variant & 2) w->wishes.rig_hookload_n = w->wishes.bop_bore_m = NAN;
        if (variant & 2) w->wishes.wellhead_bore_m = NAN;
        if (variant == 4) w->prices_given = false;
        if (variant == 5) part_cheap_hanging(w);
        if (variant == 6) w->prices.receptacle = NAN;
        compare(&x, variant > 4 ? TIEBACK_STOCK : variant == 3 ? WIDE_STOCK : PART_STOCK);
        printf("variant %d: %zu options, %zu kinds\n", variant, x.made.options.count,
               x.made.options.structure_count);
        first += x.made.plan_rank == 1;
        check_all(&x.made, &x.catalogue);
        release(&x);
    }
    assert_true(said_count > 500 && first > 0);
}

/* Tension asked for that no program of the plan's shoes holds, while others do: options are then
 * held against the cheapest of them, and one of fewer strings lacks some of its strings. */
static void options_without_a_plan(void **state)
{
    (void)state;
    compared x = {0};
    part_well(&x.c, 0);
    part_cheap_hanging(&x.c.well);
    x.c.well.design.given = true;
    x.c.well.design.tension = x.c.well.design.tension_pulled = 3.8;
    compare(&x, PART_STOCK);
    assert_null(x.made.planned);
    assert_string_equal(x.made.items[0].label, "A");
    for (size_t i = 0; i < x.made.options.count; ++i)
        assert_true(x.made.options.items[i].cost >= x.made.items[0].option.cost - 0.005);
    check_all(&x.made, &x.catalogue);
    /* what is worked with then is the option that the others are held against, and says so */
    dt_program *found = NULL;
    dt_option_plan *owner = NULL;
    dt_refusal refusal = {0};
    assert_int_equal(dt_program_find(&x.c.well, &x.catalogue, &found, &owner, &refusal), DT_OK);
    assert_null(told_refusal(&refusal));
    assert_ptr_equal(owner->program, found);
    assert_within(found->bill.total, x.made.items[0].option.cost, 1e-6);
    assert_int_equal(found->count, x.made.items[0].program->count);
    const dt_notice *last = &found->notices.items[found->notices.count - 1];
    assert_int_equal(last->code, DT_NOTICE_PLAN_FROM_OPTIONS);
    assert_int_equal(last->because_count, 1);
    assert_int_equal(last->because[0].code, DT_NOTICE_NO_PIPE);
    check_said(told(last), "this is the first of the programs", true);
    for (size_t k = 1; k + 1 < found->count; ++k)
        assert_int_equal(found->seats.items[k].why.rule, DT_RULE_CHOSEN_TOGETHER);
    dt_option_plan_free(owner);
    free(owner);
    bool lacking = false;
    for (size_t i = 0; i < x.made.count; ++i)
        lacking = lacking || strstr(words_of(&x.made, &x.made.items[i], dt_changes_sentence),
                                    "no intermediate");
    assert_true(lacking);
    release(&x);
}

static void check_searched_words(const dt_comparison *c, const char *words, bool should)
{
    char *text = NULL;
    assert_int_equal(dt_searched_sentence(c, DT_DISPLAY_FIELD, &text), DT_OK);
    check_said(text, words, should);
    free(text);
}

/** What is said of the search of a well. */
static void check_searched(coded_well *c, size_t most, const char *stock, const char *words)
{
    compared x = {.c = *c};
    x.c.well.pore.points = c->well.pore.points == c->pore ? x.c.pore : c->well.pore.points;
    x.c.well.fracture.points = x.c.fracture;
    x.c.well.wishes.given = true;
    x.c.well.wishes.max_strings = most;
    compare(&x, stock);
    check_searched_words(&x.made, words, true);
    release(&x);
    part_well(&x.c, 0); /* another well gives no reason to say so */
    compare(&x, PART_STOCK);
    check_searched_words(&x.made, words, false);
    release(&x);
}

static void what_the_search_left_out_is_said(void **state)
{
    (void)state;
    static dt_curve_point many[80];
    coded_well c;
    part_well(&c, 1);
    part_cheap_hanging(&c.well);
    c.well.prices.receptacle = NAN;
    check_searched(&c, 4, TIEBACK_STOCK, "Tie-backs are priced without a receptacle");
    part_well(&c, 0);
    c.well.pore.count = c.well.fracture.count = 0;
    c.well.objective_m = 16000 * FT;
    coded_pore(&c, 0, 9);
    coded_pore(&c, 16000, 9);
    coded_fracture(&c, 0, 14);
    coded_fracture(&c, 16000, 14);
    c.well.seats.round_to_m = NAN;
    c.well.seats.liners = false;
    check_searched(&c, 2, SMALLER_STOCK, "The step is wider than usual");
    part_well(&c, 0);
    c.well.pore.points = many;
    c.well.pore.count = 70;
    for (size_t i = 0; i < 70; ++i) {
        many[i] = c.pore[0];
        many[i].tvd_m = (double)i * 100 * FT;
        many[i].emw_kgm3 = (9 + 0.0002 * (double)(i * i)) * PPG;
    }
    check_searched(&c, 3, SMALLER_STOCK, "too many points for each to be a candidate depth");
}

/** The number behind a key in JSON, from a place in it on. */
static double json_number(const char *from, const char *key)
{
    char quoted[48];
    snprintf(quoted, sizeof quoted, "\"%s\":", key);
    const char *at = strstr(from, quoted);
    assert_non_null(at);
    return strtod(at + strlen(quoted), NULL);
}

/* Shipped wells: what the text shows of a program is what the JSON says of it, in one order, and
 * no option is ranked before a plan that is cheaper. */
static void text_and_json_say_the_same(void **state)
{
    (void)state;
    static const char *const wells[] = {
        DT_WELLS "/alder-reach.xml", DT_WELLS "/mizzenlow-shelf.xml",
        DT_WELLS "/thornback-rise.xml", DT_TESTS "/bare/brackwater-deep.xml",
        DT_TESTS "/bare/hollinfold.xml"};
    dt_catalogue catalogue;
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    size_t tapered = 0, stopped = 0;
    for (size_t w = 0; w < sizeof wells / sizeof *wells; ++w) {
        char path[512];
        dt_well *well = shipped_parse(wells[w]);
        dt_comparison c;
        dt_refusal refusal = {0};
        dt_text text = {0}, json = {0};
        assert_int_equal(dt_comparison_make(well, &catalogue, &c, &refusal), DT_OK);
        check_list(&c, &catalogue);
        assert_int_equal(dt_write_comparison_table(&c, DT_DISPLAY_FIELD, &text), DT_OK);
        assert_int_equal(dt_write_comparison_json(&c, &json), DT_OK);
        const char *list = strstr(json.bytes, "\"options\":");
        for (size_t i = 0; i < c.count; ++i) {
            const dt_compared *one = &c.items[i];
            char words[64];
            snprintf(words, sizeof words, "\n%-5s ", one->label);
            const char *row = strstr(text.bytes, words), *entry = list;
            assert_non_null(row);
            for (size_t k = 0; k < one->rank; ++k) /* totals of the rank'th entry */
                entry = strstr(entry, "\"totals\":") + 1;
            if (one->rank == 0) entry = strstr(json.bytes, "\"plan\":");
            assert_true(one->rank == 0 || (size_t)json_number(entry, "rank") >= one->rank);
            snprintf(words, sizeof words, " %8.1f %7.1f", json_number(entry, "steel_t"),
                     json_number(entry, "days"));
            if (well->prices_given)
                snprintf(words + strlen(words), sizeof words - strlen(words), " %13.0f",
                         json_number(entry, "cost"));
            const char *said = strstr(row, words), *end = strchr(row + 1, '\n');
            if (!said || said > end) fail_msg("%s, %s: no%s", wells[w], one->label, words);
            tapered += one->tapers;
        }
        stopped += c.plan_stopped;
        snprintf(path, sizeof path, " The plan is number %zu of them.", c.plan_rank);
        check_said(text.bytes, path, c.plan_rank > 0);
        dt_text_free(&text);
        dt_text_free(&json);
        dt_comparison_free(&c);
        dt_well_free(well);
    }
    assert_true(tapered > 5 && stopped > 0); /* else it tests little */
    dt_catalogue_free(&catalogue);
}

/* A plan that breaks a wish is shown, but is no option and beats none; one that keeps it may. */
static void a_plan_that_breaks_a_wish_is_no_option(void **state)
{
    (void)state;
    static dt_forbidden forbidden = {7 * PART_IN, 8};
    const struct {
        bool last; /* its size is forbidden */
        double hookload_lbf, bore_in;
        size_t most;
        bool no_tiebacks, breaks;
    } rows[] = {{false, NAN, NAN, 0, false, false}, {true, NAN, NAN, 0, false, true},
                {false, 4e6, NAN, 0, true, false},  {false, 1.5e5, NAN, 0, false, true},
                {false, NAN, 30, 4, false, false},  {false, NAN, 8, 0, false, true},
                {false, NAN, NAN, 2, false, true}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        dt_catalogue catalogue;
        dt_refusal refusal;
        dt_program *program = NULL;
        coded_well c;
        part_well(&c, 0);
        dt_wishes *w = &c.well.wishes;
        w->given = true;
        w->max_strings = rows[i].most;
        w->no_tiebacks = rows[i].no_tiebacks;
        w->rig_hookload_n = rows[i].hookload_lbf * DT_N_PER_LBF;
        w->bop_bore_m = rows[i].bore_in * PART_IN;
        c.well.min_pipe_od_m = 7 * PART_IN;
        w->forbidden = &forbidden;
        part_catalogue(&catalogue, PART_STOCK);
        assert_int_equal(dt_program_plan(&c.well, &catalogue, &program, &refusal), DT_OK);
        forbidden.od_m = program->items[program->count - 1].od_m;
        w->forbidden_count = rows[i].last ? 1u : 0u;
        if (dt_program_keeps_wishes(program) == rows[i].breaks)
            fail_msg("row %zu: %s", i, rows[i].breaks ? "kept" : "broken");
        dt_program_free(program);
        dt_catalogue_free(&catalogue);
    }
    compared x = {.shallow_ppg = 12};
    part_well(&x.c, 0);
    x.c.well.wishes.given = true;
    forbidden.od_m = 9.625 * PART_IN;
    x.c.well.wishes.forbidden = &forbidden;
    x.c.well.wishes.forbidden_count = 1;
    compare(&x, WIDE_STOCK);
    assert_true(x.made.plan_breaks_wish);
    assert_int_equal(x.made.plan_rank, 0);
    for (size_t i = 0; i < x.made.options.count; ++i)
        for (size_t k = 0; k < x.made.options.items[i].count; ++k)
            assert_true(fabs(x.made.options.items[i].strings[k].pipe->od_m - forbidden.od_m) >
                        PART_SAME);
    dt_text text = {0};
    assert_int_equal(dt_write_comparison_table(&x.made, DT_DISPLAY_FIELD, &text), DT_OK);
    assert_non_null(strstr(text.bytes, "it breaks a limit in <wishes> of the well file"));
    dt_text_free(&text);
    check_all(&x.made, &x.catalogue);
    release(&x);
}

/* A pin that breaks a rule is kept by the plan, with a warning; no option has it, and that is said.
 */
static void a_pin_that_breaks_a_rule_cannot_be_compared(void **state)
{
    (void)state;
    coded_well c;
    part_well(&c, 0);
    c.well.fresh_water_m = 1900 * FT;
    c.well.fresh_water_cover_m = 50 * FT;
    coded_pin(&c, DT_SURFACE, 1800); /* the water is not behind it */
    dt_catalogue catalogue;
    dt_comparison made;
    dt_refusal refusal = {0};
    dt_program *program = NULL;
    part_catalogue(&catalogue, PART_STOCK);
    assert_int_equal(dt_program_plan(&c.well, &catalogue, &program, &refusal), DT_OK);
    assert_int_equal(program->seats.broken_count, 1);
    dt_program_free(program);
    assert_int_equal(dt_comparison_make(&c.well, &catalogue, &made, &refusal), DT_E_NONE);
    if (!strstr(told_refusal(&refusal), "Pins that break a rule are kept by drawtube plan"))
        fail_msg("%s", told_refusal(&refusal));
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
}

/* Kinds are written out by their best option, cheapest first; 26 letters, and the rest is counted.
 */
static void kinds_beyond_the_letters_are_counted(void **state)
{
    (void)state;
    compared x = {0};
    part_well(&x.c, 0);
    compare(&x, WIDE_STOCK);
    const dt_options *o = &x.made.options;
    assert_true(o->structure_count > 26);
    assert_int_equal(x.made.left_out, o->structure_count - 26);
    assert_int_equal(x.made.count, 1 + 26);
    size_t options = 0;
    for (size_t i = 0; i < o->structure_count; ++i) {
        double best = o->items[o->structures[i].best].cost;
        options += o->structures[i].count;
        if (i > 0) assert_true(best >= o->items[o->structures[i - 1].best].cost);
        if (i >= 26) continue;
        assert_int_equal(x.made.items[1 + i].label[0], 'A' + (int)i);
        if (x.made.plan_rank != o->structures[i].best + 1)
            assert_within(x.made.items[1 + i].option.cost, best, 0);
    }
    assert_int_equal(options, o->count);
    dt_text text = {0};
    char line[80];
    snprintf(line, sizeof line, "\n%zu more kinds: see --json", x.made.left_out);
    assert_int_equal(dt_write_comparison_table(&x.made, DT_DISPLAY_FIELD, &text), DT_OK);
    assert_non_null(strstr(text.bytes, line));
    dt_text_free(&text);
    /* the JSON has the kinds left out too */
    assert_int_equal(dt_write_comparison_json(&x.made, &text), DT_OK);
    for (size_t i = 0; i < o->structure_count; ++i) {
        if (i < 26)
            snprintf(line, sizeof line, "\"label\": \"%c\"", (char)('A' + i));
        else
            snprintf(line, sizeof line, "\"label\": \"kind %zu\"", i + 1);
        if (o->structures[i].count == 1 && o->structures[i].best + 1 == x.made.plan_rank) continue;
        if (!strstr(text.bytes, line)) fail_msg("no %s", line);
    }
    dt_text_free(&text);
    check_all(&x.made, &x.catalogue);
    release(&x);
}

/* ---- spares, all pipes tried ---- */

typedef struct spare {
    bool fits, keeps, leaves;       /* at all; as planned below; something below */
    double od_m, left_m, through_m; /* widest that keeps; most left; widest that leaves that */
} spare;

/** Does a pipe's hole fit under a drift? The smallest bit for it, or any wider one that passes.
 * Where nothing else is stated, flush connections are for pipe that no API thread is made for. */
static bool goes_through(const parts *p, const dt_pipe *pipe, double drift_m)
{
    const unsigned api = 1u << DT_STC | 1u << DT_LTC | 1u << DT_BTC;
    if (pipe->api_threaded && !(pipe->threads & api)) return false;
    double need = part_largest(pipe) + 2 * dt_nest_clearance(p->well, pipe->od_m);
    for (size_t b = 0; b < p->catalogue->bit_count; ++b)
        if (p->catalogue->bits[b].diameter_m >= need - PART_SAME &&
            p->catalogue->bits[b].diameter_m <= drift_m + PART_SAME)
            return pipe->threads != 1u << DT_PLAIN_END;
    return false;
}

/** Widest drift of any pipe of one size. */
static double widest_drift(const parts *p, const dt_pipe *like)
{
    double drift = 0;
    for (size_t i = 0; i < p->catalogue->pipe_count; ++i)
        if (fabs(p->catalogue->pipes[i].od_m - like->od_m) < PART_SAME &&
            fabs(part_largest(&p->catalogue->pipes[i]) - part_largest(like)) < PART_SAME)
            drift = fmax(drift, dt_nest_drift(p->well, &p->catalogue->pipes[i]));
    return drift;
}

/** Widest last pipe when so many follow under a drift. */
static double most_left(const parts *p, double drift_m, size_t strings)
{
    double best = 0;
    for (size_t i = 0; i < p->catalogue->pipe_count; ++i) {
        const dt_pipe *pipe = &p->catalogue->pipes[i];
        if (!goes_through(p, pipe, drift_m)) continue;
        best = fmax(best,
                    strings == 1 ? pipe->od_m : most_left(p, widest_drift(p, pipe), strings - 1));
    }
    return best;
}

static spare try_spares(const parts *p, double drift_m, double next_bit_m, size_t below)
{
    spare out = {0};
    for (size_t i = 0; i < p->catalogue->pipe_count; ++i) {
        const dt_pipe *pipe = &p->catalogue->pipes[i];
        if (!goes_through(p, pipe, drift_m)) continue;
        out.fits = true;
        if (widest_drift(p, pipe) >= next_bit_m - PART_SAME) {
            out.keeps = true;
            out.od_m = fmax(out.od_m, pipe->od_m);
        }
        double left = most_left(p, widest_drift(p, pipe), below);
        if (left > 0) out.leaves = true;
        out.left_m = fmax(out.left_m, left);
    }
    return out;
}

typedef struct bed {
    double top_ft, base_ft;
    const char *says;
} bed;

static void check_beds(const double ods_in[3], double completion_in, const bed *beds, size_t count)
{
    compared x = {0};
    part_well(&x.c, 0);
    dt_well *w = &x.c.well;
    w->min_pipe_od_m = completion_in * PART_IN;
    for (size_t i = 0; i < count; ++i)
        coded_interval(&x.c, beds[i].top_ft, beds[i].base_ft, DT_CASE_ABOVE, 9000);
    const dt_role roles[3] = {DT_CONDUCTOR, DT_SURFACE, DT_PRODUCTION};
    for (size_t i = 0; i < 3; ++i) {
        coded_pin(&x.c, roles[i], i == 1 ? 5000 : NAN);
        x.c.pins[i].od_m = ods_in[i] * PART_IN;
    }
    dt_refusal refusal = {0};
    part_catalogue(&x.catalogue, WIDE_STOCK);
    dt_program *program = NULL;
    if (dt_program_plan(w, &x.catalogue, &program, &refusal) != DT_OK)
        fail_msg("%s", told_refusal(&refusal));
    assert_int_equal(program->count, 3);
    const parts p = {.well = w, .catalogue = &x.catalogue};
    for (size_t i = 0; i < count; ++i) {
        dt_contingency got;
        char *text = NULL;
        assert_int_equal(dt_contingency_find(program, i, &got), DT_OK);
        assert_int_equal(dt_contingency_sentence(program, i, &got, &text), DT_OK);
        printf("%s\n", text);
        if (!strstr(text, beds[i].says)) fail_msg("\"%s\" lacks \"%s\"", text, beds[i].says);
        free(text);
        if (got.above == DT_NO_INDEX) continue;
        double drift = INFINITY;
        const dt_string *above = program->items[got.above].string;
        for (size_t k = 0; k < above->section_count; ++k)
            drift = fmin(drift, dt_nest_drift(w, above->sections[k].pipe));
        const dt_program_string *own = &program->items[got.in_hole_of];
        assert_true(own->shoe_tvd_m >= beds[i].base_ft * FT - 1e-6);
        assert_true(program->items[got.above].shoe_tvd_m < beds[i].base_ft * FT);
        const spare want = try_spares(&p, drift, own->bit_m, program->count - got.in_hole_of);
        assert_int_equal(got.nests, want.keeps);
        assert_int_equal(got.nests_smaller, want.leaves);
        if (want.keeps) assert_within(got.od_m, want.od_m, PART_SAME);
        if (want.leaves) assert_within(got.last_od_m, want.left_m, PART_SAME);
    }
    dt_program_free(program);
    dt_catalogue_free(&x.catalogue);
}

static void spares_against_all_pipes(void **state)
{
    (void)state;
    const bed beds[] = {{50, 150, "the conductor stands through it"},
                        {3000, 3300, ""},
                        {7000, 7200, ""},
                        {8900, 9500, "the well does not drill through it"}};
    const double wide[3] = {24, 13.375, 5}, tight[3] = {13.375, 9.625, 7},
                 slim[3] = {10.75, 7.625, 5};
    check_beds(wide, 5, beds, 4);
    check_beds(tight, 5, beds, 4);
    const bed more[] = {{7000, 7200, "where 7 in is planned, and the completion needs more"}};
    check_beds(tight, 7, more, 1);
    check_beds(slim, 5, beds, 4);
}

/* Weak rock near the surface bears no column of cement: most programs are left out, and the reason
 * of most is told; the plan goes on until it closes. */
static void what_does_not_close_is_left_out(void **state)
{
    (void)state;
    compared x = {.shallow_ppg = 11};
    part_well(&x.c, 1);
    compare(&x, PART_STOCK);
    const dt_comparison *c = &x.made;
    assert_true(c->stopped > 5 && c->options.count > 0);
    assert_true(c->planned && !c->plan_stopped);
    assert_int_equal(c->stopped_most, DT_NOTICE_CEMENT_BREAKS_FORMATION);
    dt_text text = {0}, json = {0};
    assert_int_equal(dt_write_comparison_table(c, DT_DISPLAY_FIELD, &text), DT_OK);
    assert_int_equal(dt_write_comparison_json(c, &json), DT_OK);
    check_said(text.bytes, "NOT RUNNABLE", false);
    check_said(text.bytes,
               " of the programs found are left out: planned in full each has a stopper", true);
    check_said(json.bytes, "\"runnable\": false", false);
    assert_within(json_number(json.bytes, "stopped"), (double)c->stopped, 0);
    check_said(json.bytes, "\"stopped_most\": \"cement-breaks-formation\"", true);
    dt_text_free(&text);
    dt_text_free(&json);
    check_all(c, &x.catalogue);
    release(&x);
}

/* Several lengths of pipe are tried with what the engineer pinned of a string. */
static void pinned_pipe_stays_where_strings_taper(void **state)
{
    (void)state;
    static char grade[] = "P110";
    compared x = {0};
    part_well(&x.c, 1);
    coded_pin(&x.c, DT_PRODUCTION, NAN);
    x.c.pins[0].grade = grade;
    compare(&x, PART_STOCK);
    size_t tapered = 0;
    for (size_t i = 1; i < x.made.count; ++i) {
        const dt_program *p = x.made.items[i].program;
        const dt_string *last = p->items[p->count - 1].string;
        tapered += x.made.items[i].tapers;
        for (size_t k = 0; k < last->section_count; ++k)
            assert_string_equal(last->sections[k].pipe->grade->name, grade);
    }
    assert_true(tapered > 0);
    release(&x);
}

/* Nothing to choose from: no plan, and what the options search finds does not close. */
static void nothing_closes(void **state)
{
    (void)state;
    compared x = {0};
    dt_refusal refusal = {0};
    part_well(&x.c, 1);
    part_cheap_hanging(&x.c.well);
    x.c.well.design.given = true;
    x.c.well.design.tension = x.c.well.design.tension_pulled = 3.4;
    part_catalogue(&x.catalogue, PART_STOCK);
    assert_int_equal(dt_comparison_make(&x.c.well, &x.catalogue, &x.made, &refusal), DT_E_NONE);
    assert_int_equal(refusal.why.items[0].code, DT_NOTICE_NO_OPTION_CLOSES);
    check_said(told_refusal(&refusal), " of the programs found are left out: planned in full",
               true);
    dt_refusal_free(&refusal);
    dt_catalogue_free(&x.catalogue);
}

/* The reasons on a well on land: a conductor of the second order, and two liners. */
static void why_the_plan_is_not_first(void **state)
{
    (void)state;
    dt_catalogue catalogue;
    dt_comparison c;
    dt_refusal refusal = {0};
    dt_well *well = shipped_parse(DT_WELLS "/alder-reach.xml");
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    assert_int_equal(dt_comparison_make(well, &catalogue, &c, &refusal), DT_OK);
    const dt_notice *n = &c.notes.items[0];
    assert_int_equal(n->code, DT_NOTICE_PLAN_NOT_FIRST);
    assert_string_equal(dt_notice_find_name(n, "option"), "A");
    const dt_notice_code wanted[] = {DT_NOTICE_ORDER_PAIR, DT_NOTICE_ORDER_HANGS,
                                     DT_NOTICE_ORDER_HANGS};
    assert_int_equal(n->because_count, 3);
    for (size_t i = 0; i < 3; ++i)
        assert_int_equal(n->because[i].code, wanted[i]);
    assert_non_null(dt_notice_find_name(&n->because[1], "surface"));
    assert_null(dt_notice_find_name(&n->because[2], "surface"));
    /* the plan's pairs of hole and pipe are of the first order: docs/nest.md */
    assert_int_equal(c.plan_listed.standing.second, 0);
    assert_int_equal(c.plan_listed.standing.unlisted, 0);
    assert_int_equal(c.plan_listed.standing.short_holes, 0);
    assert_int_equal(c.listed[0].standing.second, 1);
    dt_comparison_free(&c);
    dt_well_free(well);
    dt_catalogue_free(&catalogue);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_say_the_differences),
        cmocka_unit_test(options_without_a_plan),
        cmocka_unit_test(what_the_search_left_out_is_said),
        cmocka_unit_test(text_and_json_say_the_same),
        cmocka_unit_test(a_plan_that_breaks_a_wish_is_no_option),
        cmocka_unit_test(a_pin_that_breaks_a_rule_cannot_be_compared),
        cmocka_unit_test(what_does_not_close_is_left_out),
        cmocka_unit_test(pinned_pipe_stays_where_strings_taper),
        cmocka_unit_test(nothing_closes),
        cmocka_unit_test(why_the_plan_is_not_first),
        cmocka_unit_test(kinds_beyond_the_letters_are_counted),
        cmocka_unit_test(spares_against_all_pipes)};
    return cmocka_run_group_tests_name("comparison", tests, NULL, NULL);
}
