/* SPDX-License-Identifier: MIT */
/* Wishes: from the user's words to pins and restrictions of a private copy of the well. */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "same.h"
#include "sentence.h"
#include "why.h"

/* ---- reading ---- */

static dt_status problem(char **out, const char *format, const char *text)
{
    sentence s = {0};
    say(&s, format, text);
    return sentence_take(&s, out) == DT_OK ? DT_E_INPUT : DT_E_MEMORY;
}

/** Copies [from, to) without white space at its ends; false when it does not fit. */
static bool trimmed(const char *from, const char *to, char *out, size_t room)
{
    while (from < to && *from == ' ')
        ++from;
    while (to > from && to[-1] == ' ')
        --to;
    size_t length = (size_t)(to - from);
    if (length + 1 > room) return false;
    memcpy(out, from, length);
    out[length] = '\0';
    return true;
}

static size_t string_named(const dt_program *program, const char *name)
{
    unsigned number = 0;
    int end = 0;
    if (sscanf(name, "string %9u%n", &number, &end) == 1 && name[end] == '\0')
        return number >= 1 && number <= dt_program_strings(program)
                   ? dt_program_at(program, number - 1)
                   : DT_NO_INDEX;
    for (size_t i = 0; i < dt_program_strings(program); ++i) {
        char own[32];
        dt_program_string_name(program, i, own, sizeof own);
        if (strcmp(own, name) == 0) return i;
    }
    return DT_NO_INDEX;
}

static dt_status unknown_string(const dt_program *program, const char *name, char **out)
{
    sentence s = {0};
    say(&s, "there is no \"%.60s\" in this program; write string 1 to string %zu, or one of ", name,
        dt_program_strings(program));
    for (size_t i = 0; i < dt_program_strings(program); ++i) {
        char own[32];
        dt_program_string_name(program, dt_program_at(program, i), own, sizeof own);
        say(&s, "%s%s", i ? ", " : "", own);
    }
    return sentence_take(&s, out) == DT_OK ? DT_E_INPUT : DT_E_MEMORY;
}

typedef struct field_word {
    const char *word;
    dt_wish_field field;
    dt_kind kind; /* DT_KIND_COUNT: a word */
} field_word;

static const field_word field_words[] = {
    {"shoe", DT_WISH_SHOE, DT_KIND_LENGTH},   {"hole", DT_WISH_HOLE, DT_KIND_DIAMETER},
    {"pipe", DT_WISH_PIPE, DT_KIND_DIAMETER}, {"weight", DT_WISH_WEIGHT, DT_KIND_LINEAR_MASS},
    {"grade", DT_WISH_GRADE, DT_KIND_COUNT},  {"thread", DT_WISH_THREAD, DT_KIND_COUNT},
    {"type", DT_WISH_TYPE, DT_KIND_COUNT},
};

/** Sizes and weights as in a well file (well_limits.h): past them a wish is a slip of the pen. */
static bool can_be(dt_kind kind, double si)
{
    if (kind == DT_KIND_DIAMETER) return si >= DT_M_PER_IN && si <= 60 * DT_M_PER_IN;
    if (kind == DT_KIND_LINEAR_MASS) return si >= 1 && si <= 1500;
    return true;
}

/** A shoe stands in the ground, above the objective, and below the conductor if it is another's;
 *  the search takes a wish as a pin, which the reader of well files would have refused. */
static dt_status check_shoe(const dt_program *program, const dt_wish *wish, const char *text,
                            char **out)
{
    const dt_well *well = program->well;
    bool conductor = wish->string == 0;
    double least_m = conductor ? dt_well_ground_m(well) : program->seats.items[0].shoe_m;
    least_m += conductor ? DT_CONDUCTOR_LEAST_M - SAME_DEPTH_M : SAME_DEPTH_M;
    if (wish->value >= least_m && wish->value < well->objective_m - SAME_DEPTH_M) return DT_OK;
    sentence s = {0};
    say(&s, "a shoe at %.60s is not between the %s at ", text,
        conductor ? "ground" : "conductor's");
    say(&s, "%s",
        show(well->display, DT_KIND_LENGTH,
             conductor ? dt_well_ground_m(well) : program->seats.items[0].shoe_m)
            .text);
    say(&s, " and the objective at ");
    say(&s, "%s", show(well->display, DT_KIND_LENGTH, well->objective_m).text);
    return sentence_take(&s, out) == DT_OK ? DT_E_INPUT : DT_E_MEMORY;
}

static dt_status read_value(const dt_program *program, const field_word *field, const char *text,
                            dt_wish *wish, char **out)
{
    if (field->kind != DT_KIND_COUNT) {
        if (dt_quantity_parse(text, field->kind, &wish->value) == DT_PARSE_OK && wish->value > 0 &&
            can_be(field->kind, wish->value))
            return field->field == DT_WISH_SHOE ? check_shoe(program, wish, text, out) : DT_OK;
        sentence s = {0};
        char mended[160];
        say(&s, "\"%.60s\" is no %s: ", text, field->word);
        if (dt_number_mend(text, mended, sizeof mended))
            say(&s, "%s", mended);
        else
            say(&s, "write a number and one of %s", dt_unit_choices(field->kind));
        return sentence_take(&s, out) == DT_OK ? DT_E_INPUT : DT_E_MEMORY;
    }
    if (field->field == DT_WISH_TYPE) {
        bool liner = strcmp(text, "liner") == 0;
        wish->type = liner ? DT_LINER : DT_FULL;
        if (liner || strcmp(text, "full") == 0) return DT_OK;
        return problem(out, "\"%.60s\" is no type: write full or liner", text);
    }
    if (field->field == DT_WISH_THREAD && !dt_catalogue_has_thread(program->catalogue, text))
        return problem(
            out, "\"%.60s\" is no thread: write STC, LTC, BTC, flush, semi-flush or gas-tight",
            text);
    if (strlen(text) == 0 || strlen(text) >= sizeof wish->word)
        return problem(out, "\"%.60s\" is no grade or thread", text);
    if (field->field == DT_WISH_GRADE && !dt_grade_find(program->catalogue, text))
        return problem(out, "the catalogue has no grade \"%.60s\"", text);
    memcpy(wish->word, text, strlen(text) + 1);
    return DT_OK;
}

#define SET_FORM                                                                                   \
    "\"%.80s\": write FIELD of STRING = VALUE, with FIELD one of shoe, hole, pipe, weight, "       \
    "grade, "                                                                                      \
    "thread, type"

static dt_status read_set(const dt_program *program, const char *text, dt_wish *wish, char **out)
{
    char name[64], value[64], word[16];
    const char *of = strstr(text, " of "), *equals = of ? strchr(of, '=') : NULL;
    if (!equals || !trimmed(text, of, word, sizeof word) ||
        !trimmed(of + 4, equals, name, sizeof name) ||
        !trimmed(equals + 1, text + strlen(text), value, sizeof value))
        return problem(out, SET_FORM, text);
    const field_word *field = NULL;
    for (size_t i = 0; i < COUNT_OF(field_words); ++i)
        if (strcmp(field_words[i].word, word) == 0) field = &field_words[i];
    if (!field) return problem(out, SET_FORM, text);
    wish->field = field->field;
    wish->string = string_named(program, name);
    if (wish->string == DT_NO_INDEX) return unknown_string(program, name, out);
    const bool tieback = wish->string >= program->count;
    if (tieback && field->field != DT_WISH_WEIGHT && field->field != DT_WISH_GRADE &&
        field->field != DT_WISH_THREAD)
        return problem(out,
                       "a tie-back has no %s of its own: its weight, grade and thread can be set",
                       field->word);
    if (field->field == DT_WISH_SHOE && wish->string + 1 == program->count)
        return problem(out, "the %s string has to reach the objective: its shoe cannot be set",
                       "production");
    dt_status status = read_value(program, field, value, wish, out);
    if (status != DT_OK || field->field != DT_WISH_TYPE) return status;
    if (wish->string < 2 && wish->type == DT_LINER)
        return problem(out,
                       "the %s string runs to the surface: only strings below the second can be "
                       "liners",
                       dt_role_text(program->items[wish->string].seat->role));
    return DT_OK;
}

static dt_status read_sizes(const char *text, size_t length, dt_wish *wish, char **out)
{
    const char *at = text, *end = text + length;
    while (at <= end) {
        const char *comma = memchr(at, ',', (size_t)(end - at));
        const char *stop = comma ? comma : end;
        char size[40];
        double value = 0;
        if (!trimmed(at, stop, size, sizeof size) ||
            dt_quantity_parse(size, DT_KIND_DIAMETER, &value) != DT_PARSE_OK ||
            !can_be(DT_KIND_DIAMETER, value))
            return problem(out, "\"%.80s\": write sizes with their unit, as in 9.625 in, 7 in",
                           text);
        if (wish->size_count == DT_WISH_SIZES)
            return problem(out, "\"%.80s\": at most eight sizes", text);
        wish->sizes_m[wish->size_count++] = value;
        at = stop + 1;
    }
    return DT_OK;
}

static dt_status read_only(const dt_program *program, const char *text, dt_wish *wish, char **out)
{
    const char *for_string = strstr(text, " for ");
    size_t length = for_string ? (size_t)(for_string - text) : strlen(text);
    dt_status status = read_sizes(text, length, wish, out);
    if (status != DT_OK || !for_string) return status;
    char name[64];
    if (!trimmed(for_string + 5, text + strlen(text), name, sizeof name))
        return problem(out, "\"%.80s\": no such string", text);
    wish->string = string_named(program, name);
    if (wish->string == DT_NO_INDEX) return unknown_string(program, name, out);
    if (wish->string >= program->count)
        return problem(out, "\"%.80s\": a tie-back is of its liner's size", text);
    if (wish->size_count != 1) return problem(out, "\"%.80s\": one size for one string", text);
    wish->kind = DT_WISH_SET; /* one size of one string is its pipe */
    wish->field = DT_WISH_PIPE;
    wish->value = wish->sizes_m[0];
    return DT_OK;
}

dt_status dt_wish_read(const dt_program *program, dt_wish_kind kind, const char *text, dt_wish *out,
                       char **problem_out)
{
    dt_wish wish = {.kind = kind, .string = DT_NO_INDEX, .value = NAN, .type = DT_TYPE_UNSAID};
    dt_status status = DT_OK;
    *problem_out = NULL;
    if (kind == DT_WISH_SET) status = read_set(program, text, &wish, problem_out);
    if (kind == DT_WISH_ONLY) status = read_only(program, text, &wish, problem_out);
    if (kind == DT_WISH_WITHOUT) {
        wish.string = string_named(program, text);
        if (wish.string == DT_NO_INDEX) return unknown_string(program, text, problem_out);
        if (wish.string == 0 || wish.string + 1 == program->count)
            return problem(problem_out, "the %s cannot be left out: the well needs both ends",
                           wish.string ? "production string" : "conductor");
    }
    if (status == DT_OK) *out = wish;
    return status;
}

/* ---- pins and restrictions ---- */

static dt_pin empty_pin(dt_role role)
{
    return (dt_pin){.role = role,
                    .type = DT_TYPE_UNSAID,
                    .shoe_m = NAN,
                    .hole_m = NAN,
                    .od_m = NAN,
                    .weight_kgm = NAN};
}

static void set_pin(dt_pin *pin, dt_wish *wish)
{
    switch (wish->field) {
    case DT_WISH_SHOE:
        pin->shoe_m = wish->value;
        break;
    case DT_WISH_HOLE:
        pin->hole_m = wish->value;
        break;
    case DT_WISH_PIPE:
        pin->od_m = wish->value;
        break;
    case DT_WISH_WEIGHT:
        pin->weight_kgm = wish->value;
        break;
    case DT_WISH_GRADE:
        pin->grade = wish->word;
        break;
    case DT_WISH_THREAD:
        pin->thread = wish->word;
        break;
    case DT_WISH_TYPE:
        pin->type = wish->type;
        break;
    }
}

/** The tie-back on a pinned liner goes with it, as long as its pin is on and no wish is against. */
static bool keep_tieback(const dt_program *base, dt_wish *wishes, size_t wish_count,
                         const bool *pin_on, size_t seat, dt_pin *out)
{
    const size_t tie = dt_seats_tieback_on(&base->seats, seat);
    if (tie == DT_NO_INDEX || !pin_on[base->seats.items[tie].pin]) return false;
    *out = base->well->pins[base->seats.items[tie].pin];
    for (size_t w = 0; w < wish_count; ++w) {
        if (wishes[w].string != tie) continue;
        if (wishes[w].kind == DT_WISH_WITHOUT) return false;
        if (wishes[w].kind == DT_WISH_SET) set_pin(out, &wishes[w]);
    }
    return true;
}

/**
 * One pin for each string of the program that the file or a wish says something of, and for the
 * intermediates above one of them, so that pins find their strings by counting. A pin that is
 * switched off leaves its place empty.
 */
static size_t fill_pins(const dt_program *base, dt_wish *wishes, size_t wish_count,
                        const bool *pin_on, dt_pin *out)
{
    size_t deepest = 0, count = 0;
    bool said[64] = {false};
    dt_pin all[64];
    for (size_t k = 0; k < base->count && k < 64; ++k) {
        const dt_seat *seat = &base->seats.items[k];
        all[k] = empty_pin(seat->role);
        if (seat->pin != DT_NO_INDEX && pin_on[seat->pin]) {
            all[k] = base->well->pins[seat->pin];
            said[k] = true;
        }
        for (size_t w = 0; w < wish_count; ++w)
            if (wishes[w].kind == DT_WISH_SET && wishes[w].string == k) {
                set_pin(&all[k], &wishes[w]);
                said[k] = true;
            }
        if (said[k] && seat->role == DT_INTERMEDIATE) deepest = k;
    }
    for (size_t k = 0; k < base->count && k < 64; ++k)
        if (said[k] || (all[k].role == DT_INTERMEDIATE && k < deepest)) {
            out[count++] = all[k];
            const bool liner = said[k] && all[k].type == DT_LINER;
            if (liner && keep_tieback(base, wishes, wish_count, pin_on, k, &out[count])) ++count;
        }
    return count;
}

static bool is_on(const dt_switches *switches, const bool *on, dt_switch_kind kind, size_t index)
{
    const size_t at = dt_switches_find(switches, kind, index);
    return at == DT_NO_INDEX || on[at];
}

static dt_status build_wished(const dt_program *base, const dt_wish *asked, size_t wish_count,
                              const dt_switches *switches, const bool *on, dt_wished *out)
{
    const dt_well *well = base->well;
    dt_wished w = {.well = *well};
    bool *pin_on = calloc(well->pin_count + 1, sizeof *pin_on);
    w.pins = calloc(dt_program_strings(base) + 1, sizeof *w.pins);
    w.intervals = calloc(well->interval_count + 1, sizeof *w.intervals);
    w.only_m = calloc(DT_WISH_SIZES, sizeof *w.only_m);
    w.wishes = calloc(wish_count + 1, sizeof *w.wishes);
    if (!pin_on || !w.pins || !w.intervals || !w.only_m || !w.wishes) {
        free(pin_on);
        dt_wished_free(&w);
        return DT_E_MEMORY;
    }
    dt_wish *wishes = w.wishes;
    for (size_t i = 0; i < wish_count; ++i)
        wishes[i] = asked[i];
    for (size_t i = 0; i < well->pin_count; ++i)
        pin_on[i] = is_on(switches, on, DT_SWITCH_PIN, i);
    w.well.interval_count = 0;
    for (size_t i = 0; i < well->interval_count; ++i)
        if (is_on(switches, on, DT_SWITCH_INTERVAL, i))
            w.intervals[w.well.interval_count++] = well->intervals[i];
    for (size_t i = 0; i < switches->count; ++i)
        if (!on[i]) dt_switch_off(&switches->items[i], &w.well, &w.no_clearance);
    for (size_t i = 0; i < wish_count; ++i)
        for (size_t k = 0; wishes[i].kind == DT_WISH_ONLY && k < wishes[i].size_count; ++k)
            if (w.well.sizes.only_count < DT_WISH_SIZES)
                w.only_m[w.well.sizes.only_count++] = wishes[i].sizes_m[k];
    w.well.pin_count = fill_pins(base, wishes, wish_count, pin_on, w.pins);
    free(pin_on);
    *out = w;
    return DT_OK;
}

/** Points the copy at its own lists, once it stands where it will stay. */
static void settle(dt_wished *w)
{
    w->well.pins = w->pins;
    w->well.intervals = w->intervals;
    w->well.sizes.only_m = w->only_m;
    if (w->no_clearance.up_to_od_m > 0) w->well.sizes.clearances = &w->no_clearance;
}

void dt_wished_free(dt_wished *wished)
{
    if (!wished) return;
    free(wished->pins);
    free(wished->intervals);
    free(wished->only_m);
    free(wished->wishes);
    *wished = (dt_wished){0};
}

/* ---- trying ---- */

static size_t broken_pins(const dt_program *program)
{
    static const dt_notice_code codes[] = {DT_NOTICE_PIN_BREAKS_RULE,  DT_NOTICE_PIN_STOPS,
                                           DT_NOTICE_PIN_CLEARANCE,    DT_NOTICE_PIN_DRIFT,
                                           DT_NOTICE_PIN_COMPLETION,   DT_NOTICE_PIN_FAILS_LOAD,
                                           DT_NOTICE_PIN_WITHOUT_PLACE};
    size_t count = 0;
    for (size_t i = 0; i < program->notices.count; ++i)
        for (size_t k = 0; k < COUNT_OF(codes); ++k)
            count += program->notices.items[i].code == codes[k];
    return count;
}

/** Fewer strings than planned when one is to be left out; as many as it takes otherwise. */
static size_t most_strings(const dt_program *base, const dt_wish *wishes, size_t wish_count)
{
    size_t most = SIZE_MAX;
    for (size_t i = 0; i < wish_count; ++i)
        if (wishes[i].kind == DT_WISH_WITHOUT && wishes[i].string < base->count)
            most = (most == SIZE_MAX ? base->count : most) - 1;
    return most;
}

/** The whole list of seats is the reason: each is needed because of the one below. */
static void note_strings_needed(const dt_program *program, dt_notices *list)
{
    dt_notice *n = dt_notice_add(list, DT_NOTICE_STRINGS_NEEDED, DT_NO_STRING);
    dt_notice_number(n, "strings", (double)program->count);
    for (size_t k = 1; k + 1 < program->count; ++k) {
        const dt_seat *seat = &program->seats.items[k];
        dt_notice *shoe = dt_notice_below(list, n, DT_NOTICE_SHOE_NEEDED);
        dt_notice_figure(shoe, "shoe_tvd", DT_KIND_LENGTH, seat->shallowest_m);
        dt_reason_below(list, shoe, &seat->why_shallowest, program->well);
    }
}

/** Pins that a program made under wishes breaks, or why it has so many strings. */
static dt_status note_why_not(const dt_program *program, dt_refusal *refusal)
{
    dt_notices *list = &refusal->why;
    dt_notice *n = dt_notice_add(list, DT_NOTICE_WISH_BROKEN, DT_NO_STRING);
    for (size_t i = 0; i < program->seats.broken_count; ++i)
        dt_reason_below(list, n, &program->seats.broken[i].why, program->well);
    for (size_t i = 0; i < program->notices.count; ++i) {
        const dt_notice *pin = &program->notices.items[i];
        if (strncmp(dt_notice_code_text(pin->code), "pin-", 4) == 0 &&
            pin->code != DT_NOTICE_PIN_BREAKS_RULE && pin->code != DT_NOTICE_PIN_STOPS)
            dt_notice_copy_below(list, n, pin);
    }
    if (n && n->because_count == 0) {
        --list->count;
        if (program->count > 2) note_strings_needed(program, list);
    }
    return list->failed ? DT_E_MEMORY : DT_OK;
}

/** Seats alone, which cost a hundredth of a plan: false when they show that it cannot be. */
static dt_status seats_allow(const dt_program *base, const dt_well *well, size_t most, bool *allow)
{
    dt_window window = {0};
    dt_seats seats = {0};
    dt_status status = dt_window_build(well, &window);
    if (status != DT_OK) return status;
    status = dt_seats_choose(&window, &seats);
    *allow = status == DT_OK && seats.count <= most && seats.broken_count <= broken_pins(base);
    if (status == DT_E_NONE) status = DT_OK;
    dt_seats_free(&seats);
    dt_window_free(&window);
    return status;
}

/** Does a program keep to the wishes: no more strings, no more broken pins than they allow? */
static bool keeps_wishes(const dt_program *base, const dt_wish *wishes, size_t wish_count,
                         const dt_program *made)
{
    return broken_pins(made) <= broken_pins(base) &&
           made->count <= most_strings(base, wishes, wish_count);
}

/** A wish that can be had, planned in full: the draft that closes, where it keeps to the wish. */
static dt_status close_wished(const dt_program *base, const dt_wish *wishes, size_t wish_count,
                              const dt_well *well, dt_program **made)
{
    dt_program *closed = NULL;
    if (dt_program_runnable(*made)) return DT_OK;
    const dt_status status = dt_program_plan(well, base->catalogue, &closed, NULL);
    if (status != DT_OK) return status;
    const bool better = keeps_wishes(base, wishes, wish_count, closed);
    dt_program_free(better ? *made : closed);
    if (better) *made = closed;
    return DT_OK;
}

dt_status dt_wish_try(const dt_program *base, const dt_wish *wishes, size_t wish_count,
                      const dt_switches *switches, const bool *on, dt_wished *holder,
                      dt_program **program, bool *possible, dt_refusal *refusal)
{
    if (wish_count > DT_WISH_MOST) return DT_E_DOMAIN;
    dt_program *made = NULL;
    dt_refusal said = {0};
    dt_status status = build_wished(base, wishes, wish_count, switches, on, holder);
    if (status != DT_OK) return status;
    settle(holder);
    if (!refusal && !holder->well.last_open) { /* seats alone do not know an open last hole */
        status = seats_allow(base, &holder->well, most_strings(base, wishes, wish_count), possible);
        if (status != DT_OK || !*possible) {
            dt_wished_free(holder);
            return status;
        }
    }
    /* whether rules allow it shows in the first draft; that its jobs close is another matter */
    status = dt_program_plan_first(&holder->well, base->catalogue, &made, refusal ? &said : NULL);
    *possible = status == DT_OK && keeps_wishes(base, wishes, wish_count, made);
    if (*possible && program) status = close_wished(base, wishes, wish_count, &holder->well, &made);
    dt_status told = DT_OK;
    if (refusal && status == DT_OK && !*possible) told = note_why_not(made, &said);
    if (refusal && told == DT_OK && !*possible) {
        *refusal = said;
        said = (dt_refusal){0};
    }
    dt_refusal_free(&said);
    /* DT_E_INPUT: the wish names a pipe that the catalogue does not have */
    if (status == DT_E_NONE || status == DT_E_INPUT) status = DT_OK;
    if (status == DT_OK) status = told;
    bool keep = status == DT_OK && *possible && program;
    if (keep) {
        *program = made;
    } else {
        dt_program_free(made);
        dt_wished_free(holder);
    }
    return status;
}
