/* SPDX-License-Identifier: MIT */
#include "comparison.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "program_parts.h"
#include "sentence.h"
#include "units.h"

#define SAME_DIAMETER_M (0.0005 * DT_M_PER_IN)

size_t dt_option_strings(const dt_option *option)
{
    return option->count + option->tiebacks;
}

int dt_option_sizes(const dt_option *option, char *buffer, size_t size)
{
    int used = 0;
    if (size > 0) buffer[0] = '\0';
    for (size_t k = 0; k < option->count; ++k) {
        size_t at = (size_t)used < size ? (size_t)used : size;
        const dt_choice *c = &option->strings[k];
        used += snprintf(buffer + at, size - at, "%s%s%s", k ? " / " : "",
                         show_inches(c->pipe->od_m).text,
                         c->tied_back          ? " liner, tied back"
                         : c->type == DT_LINER ? " liner"
                                               : "");
    }
    return used;
}

static const char *currency(const dt_well *well)
{
    return well->prices.currency ? well->prices.currency : "(currency of the prices)";
}

/** Money with its thousands apart, as people read it. */
static shown money(double amount)
{
    char digits[48];
    shown out;
    int length = snprintf(digits, sizeof digits, "%.0f", fabs(amount));
    size_t used = 0;
    if (amount < -0.5) out.text[used++] = '-';
    for (int i = 0; i < length && used + 2 < sizeof out.text; ++i) {
        if (i > 0 && (length - i) % 3 == 0) out.text[used++] = ',';
        out.text[used++] = digits[i];
    }
    out.text[used] = '\0';
    return out;
}

/** A list in words: "a, b; c". */
static void item(sentence *s, bool *any)
{
    say(s, *any ? "; " : "");
    *any = true;
}

/* ---- what an option buys and risks ---- */

/** Totals in which `a` is better than `b`, in words; the other way round they are losses. */
static void say_totals(sentence *s, const dt_well *well, const dt_option *a, const dt_option *b,
                       bool gain, bool *any)
{
    double cost = b->cost - a->cost, steel = (b->steel_kg - a->steel_kg) / 1000;
    double days = b->days - a->days;
    if (well->prices_given && cost >= 0.5) {
        item(s, any);
        say(s, "%s %s %s", gain ? "saves" : "costs", money(cost).text, currency(well));
        if (!gain) say(s, " more");
    }
    if (steel >= 0.05) {
        item(s, any);
        say(s, "%.1f t %s steel", steel, gain ? "less" : "more");
    }
    if (days >= 0.05) {
        item(s, any);
        say(s, "%.1f days %s", days, gain ? "shorter" : "longer");
    }
    const size_t strings = dt_option_strings(a), more = dt_option_strings(b);
    if (strings < more) {
        item(s, any);
        say(s, "%zu string%s %s", more - strings, more - strings > 1 ? "s" : "",
            gain ? "fewer" : "more");
    }
    if (a->last_od_m > b->last_od_m + SAME_DIAMETER_M) {
        item(s, any);
        say(s, "leaves %s in at the objective instead of %s in",
            show_inches(gain ? a->last_od_m : b->last_od_m).text,
            show_inches(gain ? b->last_od_m : a->last_od_m).text);
    }
    if (a->spares > b->spares) {
        item(s, any);
        say(s, "%u spare string%s %s", a->spares - b->spares, a->spares - b->spares > 1 ? "s" : "",
            gain ? "more would still nest" : "fewer would still nest");
    }
}

static shown name_of(const dt_program *program, size_t index)
{
    shown out;
    dt_program_string_name(program, index, out.text, sizeof out.text);
    return out;
}

/** String of the chosen program that plays the same part, or NULL. */
static const dt_program_string *counterpart(const dt_program *chosen, const dt_program_string *of)
{
    for (size_t k = 0; k < chosen->count; ++k)
        if (chosen->items[k].seat->role == of->seat->role &&
            chosen->items[k].ordinal == of->ordinal)
            return &chosen->items[k];
    return NULL;
}

/** What its tie-back takes over from the string above a liner, once it is there. */
static void say_tieback(sentence *s, const dt_program *program, size_t index, dt_display display,
                        bool *any)
{
    const dt_program_string *liner = &program->items[index], *above = &program->items[index - 1];
    const dt_program_string *tie = &program->items[dt_seats_tieback_on(&program->seats, index)];
    const double taken = tie->string->load.surface_pressure_pa;
    const double left = above->string->load.surface_pressure_pa;
    const double heaviest = fmax(liner->job->running.hookload_filled_n, /* one after the other */
                                 tie->job->running.hookload_filled_n);
    item(s, any);
    say(s, "the tie-back on the %s in liner, not the %s in above it, stands what is ",
        show_inches(liner->od_m).text, show_inches(above->od_m).text);
    say(s, index + 1 == program->count ? "produced" : "drilled deeper");
    if (taken > 0)
        say(s, " (gas to surface %s; %s is left to the %s in)",
            show(display, DT_KIND_PRESSURE, taken).text,
            show(display, DT_KIND_PRESSURE, fmax(left, 0)).text, show_inches(above->od_m).text);
    say(s, "; run in two parts, the heavier hangs with %s on the hook",
        show(display, DT_KIND_FORCE, heaviest).text);
}

/** What can go wrong with it. */
static void say_tieback_risk(sentence *s, const dt_program *program, size_t index,
                             dt_display display, bool *any)
{
    const dt_program_string *tie = &program->items[dt_seats_tieback_on(&program->seats, index)];
    item(s, any);
    say(s,
        "the tie-back stands in seals at %s MD that must hold for as long as it does, is not "
        "cemented, and takes a wellhead stage of its own; until it is run, the hole of its liner "
        "is borne by the %s in above",
        show(display, DT_KIND_LENGTH, tie->shoe_md_m).text,
        show_inches(program->items[index - 1].od_m).text);
}

/** What a liner moves onto the string above it. */
static void say_liner(sentence *s, const dt_program *chosen, const dt_program *program,
                      size_t index, dt_display display, bool *any)
{
    const dt_program_string *liner = &program->items[index], *above = &program->items[index - 1];
    item(s, any);
    say(s, "the %s in above the %s liner also stands what is drilled",
        show_inches(above->od_m).text, show_inches(liner->od_m).text);
    if (index + 1 == program->count) say(s, " and produced");
    say(s, " through it");
    double pressure = above->string->load.surface_pressure_pa;
    const dt_program_string *was = counterpart(chosen, above);
    double before = was ? was->string->load.surface_pressure_pa : NAN;
    if (isfinite(pressure) && pressure > 0) {
        say(s, " (gas to surface %s", show(display, DT_KIND_PRESSURE, pressure).text);
        if (isfinite(before) && fabs(before - pressure) > 1000)
            say(s, ", in the chosen program %s", show(display, DT_KIND_PRESSURE, before).text);
        say(s, ")");
    }
    say(s, ", and the lap of %s from %s MD must be tested",
        show(display, DT_KIND_LENGTH, above->shoe_md_m - liner->top_md_m).text,
        show(display, DT_KIND_LENGTH, liner->top_md_m).text);
}

/** A tie-back where the chosen program has none. */
static bool newly_tied(const dt_comparison *c, const dt_compared *one, size_t index)
{
    const dt_program_string *now = &one->program->items[index];
    if (!now->seat->tied_back || index == 0) return false;
    const dt_program_string *was = counterpart(c->items[0].program, now);
    return !was || !was->seat->tied_back || one == &c->items[0];
}

/** A liner where the chosen program has a full string, or none. */
static bool newly_hung(const dt_comparison *c, const dt_compared *one, size_t index)
{
    const dt_program_string *now = &one->program->items[index];
    if (now->seat->type != DT_LINER || now->seat->tied_back || index == 0) return false;
    const dt_program_string *was = counterpart(c->items[0].program, now);
    return !was || was->seat->type != DT_LINER || was->seat->tied_back || one == &c->items[0];
}

static dt_status say_buys(const dt_comparison *c, dt_compared *one, dt_display display, char **out)
{
    sentence s = {0};
    bool any = false;
    const dt_option *chosen = &c->items[0].option;
    say(&s, "Buys: ");
    say_totals(&s, c->well, &one->option, chosen, true, &any);
    for (size_t k = 1; k < one->program->count; ++k) {
        if (!newly_hung(c, one, k)) continue;
        item(&s, &any);
        say(&s, "no %s pipe above %s MD", name_of(one->program, k).text,
            show(display, DT_KIND_LENGTH, one->program->items[k].top_md_m).text);
    }
    for (size_t k = 1; k < one->program->count; ++k)
        if (newly_tied(c, one, k)) say_tieback(&s, one->program, k, display, &any);
    say(&s, any ? "." : "nothing over the chosen program.");
    if (one->tapers) {
        say(&s, " With several lengths of pipe a string instead of one: %.1f t less steel",
            (one->searched.steel_kg - one->option.steel_kg) / 1000);
        if (c->well->prices_given)
            say(&s, ", %s %s less", money(one->searched.cost - one->option.cost).text,
                currency(c->well));
        say(&s, "; counted here.");
    }
    return sentence_take(&s, out);
}

static dt_status say_risks(const dt_comparison *c, dt_compared *one, dt_display display, char **out)
{
    sentence s = {0};
    bool any = false;
    say(&s, "Risks: ");
    say_totals(&s, c->well, &c->items[0].option, &one->option, false, &any);
    for (size_t k = 1; k < one->program->count; ++k)
        if (newly_hung(c, one, k))
            say_liner(&s, c->items[0].program, one->program, k, display, &any);
    for (size_t k = 1; k < one->program->count; ++k)
        if (newly_tied(c, one, k)) say_tieback_risk(&s, one->program, k, display, &any);
    say(&s, any ? "." : "nothing more than the chosen program.");
    return sentence_take(&s, out);
}

static void say_pipe(sentence *s, const dt_program_string *item_, dt_display display)
{
    const dt_pipe *pipe = item_->string->sections[0].pipe;
    size_t lengths = item_->string->section_count;
    say(s, "%s in %s %s", show_inches(item_->od_m).text,
        show(display, DT_KIND_LINEAR_MASS, pipe->weight_kgm).text, pipe->grade->name);
    if (lengths > 1) say(s, " and %zu more below", lengths - 1);
}

/** The tie-back on a string, or NULL. */
static const dt_program_string *tieback_on(const dt_program *program,
                                           const dt_program_string *item_)
{
    const size_t tie = dt_seats_tieback_on(&program->seats, (size_t)(item_ - program->items));
    return tie == DT_NO_INDEX ? NULL : &program->items[tie];
}

static void say_string(sentence *s, const dt_program *program, const dt_program_string *item_,
                       dt_display display)
{
    say_pipe(s, item_, display);
    say(s, " %s in %s in hole, shoe %s", item_->seat->type == DT_LINER ? "liner" : "full string",
        show_inches(item_->hole_m).text, show(display, DT_KIND_LENGTH, item_->shoe_tvd_m).text);
    const dt_program_string *tie = tieback_on(program, item_);
    if (!tie) return;
    say(s, ", tied back with ");
    say_pipe(s, tie, display);
}

static bool same_string(const dt_program_string *a, const dt_program_string *b)
{
    if (fabs(a->od_m - b->od_m) > SAME_DIAMETER_M ||
        fabs(a->hole_m - b->hole_m) > SAME_DIAMETER_M /* of tie-backs NAN */ ||
        a->seat->type != b->seat->type || fabs(a->shoe_tvd_m - b->shoe_tvd_m) > 0.01 ||
        a->string->section_count != b->string->section_count)
        return false;
    for (size_t i = 0; i < a->string->section_count; ++i) {
        const dt_section *x = &a->string->sections[i], *y = &b->string->sections[i];
        if (x->pipe != y->pipe || x->thread != y->thread) return false;
    }
    return true;
}

static dt_status say_changes(const dt_comparison *c, const dt_compared *one, dt_display display,
                             char **out)
{
    sentence s = {0};
    bool any = false;
    const dt_program *chosen = c->items[0].program;
    for (size_t k = 0; k < one->program->count; ++k) {
        const dt_program_string *now = &one->program->items[k];
        const dt_program_string *was = counterpart(chosen, now);
        const dt_program_string *tie = tieback_on(one->program, now);
        const dt_program_string *had = was ? tieback_on(chosen, was) : NULL;
        if (was && same_string(was, now) && !tie == !had && (!tie || same_string(had, tie)))
            continue;
        item(&s, &any);
        say(&s, "%s: ", name_of(one->program, k).text);
        say_string(&s, one->program, now, display);
        say(&s, was ? " (chosen: " : " (not in the chosen program)");
        if (was) {
            say_string(&s, chosen, was, display);
            say(&s, ")");
        }
    }
    for (size_t k = 0; k < chosen->count; ++k)
        if (!counterpart(one->program, &chosen->items[k])) {
            item(&s, &any);
            say(&s, "no %s", name_of(chosen, k).text);
        }
    return sentence_take(&s, out);
}

static dt_status describe(const dt_comparison *c, dt_compared *one, dt_display display)
{
    dt_status status = say_changes(c, one, display, &one->changes);
    if (status == DT_OK) status = say_buys(c, one, display, &one->buys);
    if (status == DT_OK) status = say_risks(c, one, display, &one->risks);
    return status;
}

/* ---- searched, and proved ---- */

static dt_status say_searched(const dt_comparison *c, dt_display display, char **out)
{
    const dt_options *o = &c->options;
    const dt_well *well = c->well;
    sentence s = {0};
    bool tied = false;
    for (size_t i = 0; i < o->count; ++i)
        tied = tied || o->items[i].tiebacks > 0;
    say(&s,
        "%zu to %zu strings, tie-backs counted, each of one weight, grade and thread; %zu "
        "candidate depths for shoes "
        "(every %s and every depth that "
        "governs), %zu sections between them that one mud drills; %zu partial programs made, of "
        "these %zu beaten by another of their own state, %zu cut because even the least their "
        "upper part can take is beaten by a finished program, %zu kept.",
        o->fewest_strings, o->most_strings, o->seat_count,
        show(display, DT_KIND_LENGTH, o->seat_step_m).text, o->section_count, o->made, o->dominated,
        o->bounded, o->kept);
    if (o->step_widened)
        say(&s, " The step is wider than usual: this well leaves so much room that a finer one "
                "would take minutes.");
    if (o->not_rounded)
        say(&s, " No program has all shoes on the steps that round_to asks for: they stand at "
                "exact depths, too.");
    if (o->bends_left_out)
        say(&s, " The tables have too many points for each to be a candidate depth.");
    if (tied && well->prices_given && isnan(well->prices.receptacle))
        say(&s, " Tie-backs are priced without a receptacle: <prices> has no price of one.");
    if (c->outdone)
        say(&s,
            " Of the programs found, %zu %s left out: counted with several lengths of pipe a "
            "string, or beside the plan, another equals or beats %s in all.",
            c->outdone, c->outdone > 1 ? "are" : "is", c->outdone > 1 ? "them" : "it");
    if (c->not_tapered)
        say(&s,
            " The %zu dearest are counted with one pipe a string: they were too many to try "
            "with several lengths.",
            c->not_tapered);
    for (size_t i = 0; i < well->pin_count; ++i)
        if (well->pins[i].role == DT_PRODUCTION && well->pins[i].type != DT_TIEBACK &&
            well->pins[i].od_m < well->min_pipe_od_m - SAME_DIAMETER_M)
            say(&s,
                " The completion needs %s in or more (well file line %d); the pin of %s in (line "
                "%d) stays in every option.",
                show_inches(well->min_pipe_od_m).text, well->objective_line,
                show_inches(well->pins[i].od_m).text, well->pins[i].line);
    if (!o->most_by_wish)
        say(&s, " The number of strings was limited to one more than the fewest, since no wish "
                "says otherwise.");
    return sentence_take(&s, out);
}

static const char proof[] =
    "Label dominance over a layered graph, bottom-up. What the strings above ask of a lower part "
    "is its shoe, the bit that must pass and the surface pressure it sends up (where the well has "
    "loads that need more: the chain of shoes down to the next full string or tie-back, past which "
    "nothing loads what is above), and nothing else; "
    "money, steel, time and spares are sums over strings. So a lower part that another of the "
    "same shoe and bit equals or beats in all of these, pressure included, can be replaced by it "
    "under any upper part, and is dropped. A part is also dropped when its sums plus the least "
    "any upper part can add are no better than a finished program. Nothing else is left out; of "
    "programs equal in all criteria one is kept.";

static dt_status copy_text(const char *text, char **out)
{
    sentence s = {0};
    say(&s, "%s", text);
    return sentence_take(&s, out);
}

/* ---- options as they are drawn and billed ---- */

/** Options tried with several lengths of pipe a string; each takes some hundredths of a second. */
#define MOST_TAPERED 120

/** An option with what is known of it, while they are put in order. */
typedef struct entry {
    dt_option option;
    dt_listed more;
    bool planned; /* the plan's own program */
} entry;

static void count_lengths(const dt_program *program, dt_listed *out)
{
    for (size_t k = 0; k < program->count && k < DT_MOST_STRINGS; ++k) {
        const size_t tie = dt_seats_tieback_on(&program->seats, k);
        out->lengths[k] = program->items[k].string->section_count;
        out->tie_lengths[k] = tie == DT_NO_INDEX ? 0 : program->items[tie].string->section_count;
    }
}

/** Tells whoever asked how far it has come. DT_OK, or DT_E_STOPPED. */
static dt_status tell(const dt_comparison *c, size_t done, size_t total)
{
    const dt_progress *p = c->progress;
    return !p || !p->go_on || p->go_on(p->context, done, total) ? DT_OK : DT_E_STOPPED;
}

/**
 * The same shoes, holes and sizes with strings of several lengths of pipe, by least steel: taken
 * in place of the searched one when it is lighter and no dearer.
 */
static dt_status taper(const dt_comparison *c, const dt_catalogue *catalogue, entry *one)
{
    const dt_option *searched = &one->more.searched;
    dt_option_plan *plan = calloc(1, sizeof *plan);
    if (!plan) return DT_E_MEMORY;
    dt_status status = dt_option_plan_make(c->well, catalogue, searched, true, plan);
    one->more.tapers = status == DT_OK &&
                       plan->program->bill.steel_kg < searched->steel_kg - 0.05 &&
                       plan->program->bill.total <= searched->cost;
    if (one->more.tapers) {
        status = dt_option_of_program(plan->program, &one->option);
        count_lengths(plan->program, &one->more);
    }
    dt_option_plan_free(plan);
    free(plan);
    return status == DT_E_NONE ? DT_OK : status;
}

static int by_shown_cost(const void *left, const void *right)
{
    const entry *a = left, *b = right;
    if (a->option.cost != b->option.cost) return a->option.cost < b->option.cost ? -1 : 1;
    if (a->option.steel_kg != b->option.steel_kg)
        return a->option.steel_kg < b->option.steel_kg ? -1 : 1;
    if (a->option.days != b->option.days) return a->option.days < b->option.days ? -1 : 1;
    if (a->planned != b->planned) return a->planned ? -1 : 1;
    return dt_option_by_cost(&a->more.searched, &b->more.searched);
}

/** Drops what another equals or beats in all; of equals the first stays. */
static size_t drop_outdone(entry *list, size_t count)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; ++i) {
        bool outdone = false;
        for (size_t k = 0; k < count && !outdone; ++k)
            outdone = k < kept ? dt_option_at_least(&list[k].option, &list[i].option)
                               : k > i && dt_option_dominates(&list[k].option, &list[i].option);
        if (!outdone) list[kept++] = list[i];
    }
    return kept;
}

/** The searched options, tapered as far as they are not too many, then the plan's own program. */
static dt_status fill_entries(dt_comparison *c, const dt_catalogue *catalogue, entry *list,
                              size_t *count)
{
    const dt_options *o = &c->options;
    dt_status status = DT_OK;
    for (size_t i = 0; i < o->count && status == DT_OK; ++i) {
        list[i] = (entry){.option = o->items[i], .more = {.searched = o->items[i]}};
        for (size_t k = 0; k < o->items[i].count; ++k) {
            list[i].more.lengths[k] = 1;
            list[i].more.tie_lengths[k] = o->items[i].strings[k].tied_back ? 1 : 0;
        }
        const bool best = o->structures[o->items[i].structure].best == i;
        status = tell(c, i, o->count);
        if (status != DT_OK) break;
        if (i < MOST_TAPERED || best)
            status = taper(c, catalogue, &list[i]);
        else
            ++c->not_tapered;
    }
    *count = o->count;
    if (status != DT_OK || !c->planned) return status;
    entry *plan = &list[*count];
    *plan = (entry){.planned = true};
    status = dt_option_of_program(c->planned, &plan->option);
    plan->more.searched = plan->option;
    count_lengths(c->planned, &plan->more);
    c->plan_listed = plan->more;
    c->plan_breaks_wish = !dt_program_keeps_wishes(c->planned);
    if (!c->plan_breaks_wish) ++*count;
    return status;
}

/** Puts the options in the order of what they come to. */
static dt_status put_in_order(dt_comparison *c, const dt_catalogue *catalogue)
{
    dt_options *o = &c->options;
    const size_t searched = o->count;
    entry *list = calloc(searched + 1, sizeof *list);
    dt_option *items = calloc(searched + 1, sizeof *items);
    c->listed = calloc(searched + 1, sizeof *c->listed);
    size_t count = 0;
    dt_status status = list && items && c->listed ? DT_OK : DT_E_MEMORY;
    if (status == DT_OK) status = fill_entries(c, catalogue, list, &count);
    if (status == DT_OK) {
        qsort(list, count, sizeof *list, by_shown_cost);
        const size_t kept = drop_outdone(list, count);
        c->outdone = count - kept;
        c->plan_rank = 0;
        for (size_t i = 0; i < kept; ++i) {
            items[i] = list[i].option;
            c->listed[i] = list[i].more;
            if (list[i].planned) c->plan_rank = i + 1;
        }
        if (count > searched && c->plan_rank == 0) --c->outdone; /* the plan, which was not found */
        free(o->items);
        o->items = items;
        o->count = kept;
        items = NULL;
        status = dt_options_find_structures(o);
    }
    free(items);
    free(list);
    return status;
}

/** The first option that equals or beats the plan in all; it is none of them then. */
static size_t find_dominating(const dt_options *o, const dt_option *option)
{
    for (size_t i = 0; i < o->count; ++i)
        if (dt_option_at_least(&o->items[i], option)) return i + 1;
    return 0;
}

/* ---- putting it together ---- */

/** The plan's own program comes first; it is often, but need not be, one of the options. */
static dt_status put_planned(dt_comparison *c)
{
    dt_compared *one = &c->items[0];
    snprintf(one->label, sizeof one->label, "plan");
    one->program = c->planned;
    dt_status status = dt_option_of_program(c->planned, &one->option);
    one->searched = one->option;
    one->rank = c->plan_rank;
    if (one->rank == 0) one->dominated_by = find_dominating(&c->options, &one->option);
    c->count = 1;
    return status;
}

/** The best option of a kind beside the plan's own program; DT_NO_INDEX: there is no other. */
static size_t best_beside_plan(const dt_comparison *c, size_t structure)
{
    for (size_t i = c->options.structures[structure].best; i < c->options.count; ++i)
        if (c->options.items[i].structure == structure && i + 1 != c->plan_rank) return i;
    return DT_NO_INDEX;
}

static dt_status put_structure(dt_comparison *c, const dt_catalogue *catalogue, size_t structure)
{
    const dt_structure *kind = &c->options.structures[structure];
    const size_t best = best_beside_plan(c, structure);
    if (best == DT_NO_INDEX) return DT_OK;
    dt_compared *one = &c->items[c->count];
    snprintf(one->label, sizeof one->label, "%c", (char)('A' + structure));
    one->option = c->options.items[best];
    one->searched = c->listed[best].searched;
    one->tapers = c->listed[best].tapers;
    one->rank = best + 1;
    one->like = kind->count;
    one->plan = calloc(1, sizeof *one->plan);
    if (!one->plan) return DT_E_MEMORY;
    dt_status status =
        dt_option_plan_make(c->well, catalogue, &one->searched, one->tapers, one->plan);
    if (status != DT_OK) return status;
    one->program = one->plan->program;
    ++c->count;
    return DT_OK;
}

static dt_status find_contingencies(dt_comparison *c)
{
    size_t count = c->well->interval_count;
    c->contingencies = calloc(count + 1, sizeof *c->contingencies);
    if (!c->contingencies) return DT_E_MEMORY;
    dt_status status = DT_OK;
    for (size_t i = 0; i < count && status == DT_OK; ++i)
        status = dt_contingency_find(c->items[0].program, i, &c->contingencies[i]);
    return status;
}

static dt_status fill(dt_comparison *c, const dt_catalogue *catalogue, dt_display display)
{
    dt_refusal refusal = {0};
    dt_status status = dt_program_plan(c->well, catalogue, &c->planned, &refusal);
    dt_refusal_free(&refusal);
    if (status != DT_OK && status != DT_E_NONE) return status;
    status = put_in_order(c, catalogue);
    if (status != DT_OK) return status;
    size_t structures = c->options.structure_count;
    if (structures > DT_MOST_COMPARED) {
        c->left_out = structures - DT_MOST_COMPARED;
        structures = DT_MOST_COMPARED;
    }
    c->items = calloc(structures + 2, sizeof *c->items);
    if (!c->items) return DT_E_MEMORY;
    status = c->planned ? put_planned(c) : DT_OK;
    for (size_t i = 0; i < structures && status == DT_OK; ++i)
        status = put_structure(c, catalogue, i);
    for (size_t i = 0; i < c->count && status == DT_OK; ++i)
        status = describe(c, &c->items[i], display);
    if (status == DT_OK) status = find_contingencies(c);
    if (status == DT_OK) status = say_searched(c, display, &c->searched);
    if (status == DT_OK) status = copy_text(proof, &c->proof);
    return status;
}

dt_status dt_comparison_make(const dt_well *well, const dt_catalogue *catalogue, dt_display display,
                             dt_comparison *out, dt_refusal *refusal)
{
    return dt_comparison_make_watched(well, catalogue, display, NULL, out, refusal);
}

dt_status dt_comparison_make_watched(const dt_well *well, const dt_catalogue *catalogue,
                                     dt_display display, const dt_progress *progress,
                                     dt_comparison *out, dt_refusal *refusal)
{
    *out = (dt_comparison){.well = well, .progress = progress};
    dt_status status = dt_options_search_watched(well, catalogue, progress, &out->options, refusal);
    if (status == DT_OK) status = fill(out, catalogue, display);
    out->progress = NULL;
    if (status != DT_OK) dt_comparison_free(out);
    return status;
}

void dt_comparison_free(dt_comparison *c)
{
    if (!c) return;
    /* one more than count may have been begun */
    for (size_t i = 0; c->items && i <= c->count; ++i) {
        dt_option_plan_free(c->items[i].plan);
        free(c->items[i].plan);
        free(c->items[i].changes);
        free(c->items[i].buys);
        free(c->items[i].risks);
    }
    free(c->items);
    free(c->listed);
    free(c->contingencies);
    free(c->searched);
    free(c->proof);
    dt_program_free(c->planned);
    dt_options_free(&c->options);
    *c = (dt_comparison){0};
}

/* ---- the program to work with ---- */

/** Says on the program why it is one of the options. */
static dt_status note_origin(dt_program *program, const dt_refusal *refusal)
{
    dt_notice *n = dt_notice_add(&program->notices, DT_NOTICE_PLAN_FROM_OPTIONS, DT_NO_STRING);
    const dt_notice *no = refusal->why.items;
    for (size_t i = 0; no && i < no->because_count; ++i)
        dt_notice_copy_below(&program->notices, n, &no->because[i]);
    return program->notices.failed ? DT_E_MEMORY : DT_OK;
}

dt_status dt_program_find(const dt_well *well, const dt_catalogue *catalogue, dt_program **out,
                          dt_option_plan **owner, dt_refusal *refusal)
{
    *owner = NULL;
    dt_status status = dt_program_plan(well, catalogue, out, refusal);
    if (status != DT_E_NONE) return status;
    dt_comparison c;
    dt_refusal of_options;
    status = dt_comparison_make(well, catalogue, DT_DISPLAY_FIELD, &c, &of_options);
    dt_refusal_free(&of_options);
    if (status != DT_OK) return status;
    dt_option_plan *plan = c.items[0].plan;
    c.items[0].plan = NULL;
    status = note_origin(plan->program, refusal);
    dt_comparison_free(&c);
    if (status != DT_OK) {
        dt_option_plan_free(plan);
        free(plan);
        return status;
    }
    dt_refusal_free(refusal);
    *owner = plan;
    *out = plan->program;
    return DT_OK;
}

dt_status dt_contingency_sentence(const dt_program *program, size_t interval,
                                  const dt_contingency *c, char **out)
{
    sentence s = {0};
    const char *name = program->well->intervals[interval].name;
    if (c->in_hole_of == DT_NO_INDEX)
        say(&s, "%s: the well does not drill through it.", name);
    else if (c->above == DT_NO_INDEX)
        say(&s, "%s: the conductor stands through it.", name);
    else if (c->nests)
        say(&s,
            "%s, cased off early: a spare %s in string in %s in hole nests below the %s, and "
            "nothing below it changes.",
            name, show_inches(c->od_m).text, show_inches(c->hole_m).text,
            name_of(program, c->above).text);
    else if (c->nests_smaller)
        say(&s,
            "%s, cased off early: no spare nests with the strings below as planned; with a %s in "
            "string in %s in hole below the %s, %s in is the largest pipe left at the objective, "
            "where %s in is planned%s.",
            name, show_inches(c->smaller_od_m).text, show_inches(c->smaller_hole_m).text,
            name_of(program, c->above).text, show_inches(c->last_od_m).text,
            show_inches(program->items[program->count - 1].od_m).text,
            c->last_od_m < program->well->min_pipe_od_m - SAME_DIAMETER_M
                ? ", and the completion needs more"
                : "");
    else
        say(&s, "%s, cased off early: no spare string nests, whatever is given up below.", name);
    return sentence_take(&s, out);
}
