/* SPDX-License-Identifier: MIT */
#include "program_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "units.h"

#define SAME_M (0.0005 * DT_M_PER_IN)

/* ---- pinned pipe ---- */

static bool matches(const dt_pin *pin, const dt_pipe *pipe)
{
    if (!isnan(pin->od_m) && fabs(pin->od_m - pipe->od_m) > SAME_M) return false;
    if (!isnan(pin->weight_kgm) &&
        fabs(pin->weight_kgm - pipe->weight_kgm) > 0.005 * DT_KGM_PER_LBFT)
        return false;
    if (pin->grade && strcmp(pin->grade, pipe->grade->name) != 0) return false;
    return !pin->thread || (pipe->threads & 1u << dt_thread_find(pin->thread)) != 0;
}

static void say_wanted(sentence *s, const dt_pin *pin, dt_display display)
{
    if (!isnan(pin->od_m)) say(s, " %s in", show_inches(pin->od_m).text);
    if (!isnan(pin->weight_kgm))
        say(s, " %s", show(display, DT_KIND_LINEAR_MASS, pin->weight_kgm).text);
    if (pin->grade) say(s, " %s", pin->grade);
    if (pin->thread) say(s, " %s", pin->thread);
}

dt_status dt_program_check_pins(const dt_program *p, dt_display display, dt_refusal *refusal)
{
    for (size_t i = 0; i < p->well->pin_count; ++i) {
        const dt_pin *pin = &p->well->pins[i];
        const bool no_thread = pin->thread && dt_thread_find(pin->thread) == DT_THREAD_COUNT;
        const bool no_grade = pin->grade && !dt_grade_find(p->catalogue, pin->grade);
        bool found = false;
        dt_pin asked = *pin;
        if (pin->type == DT_TIEBACK && isnan(pin->od_m) && i > 0) asked.od_m = pin[-1].od_m;
        for (size_t k = 0; !no_thread && k < p->catalogue->pipe_count && !found; ++k)
            found = matches(&asked, &p->catalogue->pipes[k]);
        if (found) continue;
        sentence s = {0};
        if (pin->line > 0) say(&s, "line %d: ", pin->line); /* else it is a wish */
        say(&s, "the pinned %s %s: ", dt_role_text(pin->role),
            pin->type == DT_TIEBACK ? "tie-back" : "string");
        if (no_grade)
            say(&s, "the catalogue has no grade \"%s\"; it has", pin->grade);
        else if (no_thread)
            say(&s, "the catalogue has no thread \"%s\"; it has STC, LTC, BTC, PE", pin->thread);
        else
            say(&s, "the catalogue has no pipe");
        for (size_t k = 0; no_grade && k < p->catalogue->grade_count; ++k)
            say(&s, "%s %s", k ? "," : "", p->catalogue->grades[k].name);
        if (!no_grade && !no_thread) say_wanted(&s, &asked, display);
        say(&s, ".");
        dt_status status = sentence_take(&s, &refusal->text);
        return status == DT_OK ? DT_E_INPUT : status;
    }
    return DT_OK;
}

/* ---- warnings ---- */

static bool any_runs(const dt_program *p, dt_load which)
{
    for (size_t i = 0; i < dt_program_strings(p); ++i)
        if (p->strings.items[i].load.runs[which]) return true;
    return false;
}

dt_status dt_program_warn_of_sections(dt_program *p, size_t index, const char *name,
                                      dt_display display)
{
    const dt_string *string = p->items[index].string;
    for (size_t k = 0; k < string->section_count; ++k) {
        const dt_section *section = &string->sections[k];
        const dt_screen *screen = &section->screen;
        if (screen->ok) continue;
        const dt_factor *f = &screen->by_check[screen->worst_check];
        const bool pinned = string->pinned_pipe_fails;
        sentence text = {0};
        if (pinned)
            say(&text, "the pinned pipe is kept although it fails ");
        else
            say(&text,
                "the pipe chosen from %s to %s MD does not hold, the search for it went "
                "wrong: it fails ",
                show(display, DT_KIND_LENGTH, section->top_md_m).text,
                show(display, DT_KIND_LENGTH, section->base_md_m).text);
        say(&text, "%s, %s, at %s MD: factor %.2f, %.2f is asked for",
            dt_check_code(screen->worst_check), dt_load_code(screen->worst),
            show(display, DT_KIND_LENGTH, f->at_md_m).text, f->factor, f->needed);
        const char *code = pinned ? "pin-fails-load" : "section-fails-load";
        if (dt_program_warn(p, code, name, &text) != DT_OK) return DT_E_MEMORY;
    }
    return DT_OK;
}

static bool any_pinned_slurry(const dt_well *well)
{
    for (size_t i = 0; i < well->pin_count; ++i)
        if (well->pins[i].cement_count) return true;
    return false;
}

static dt_status warn_plain(dt_program *p)
{
    const dt_well *w = p->well;
    const dt_load_wishes *loads = &w->loads;
    const dt_wellhead_wishes *head = &w->wellhead;
    const bool given = loads->given;
    const bool salt_guessed = any_runs(p, DT_LOAD_COLLAPSE_SALT) && !w->overburden.count;
    const dt_plain_warning all[] = {
        {p->design.taper_customary, "taper-customary",
         "sections of a string: what is not stated is at most {design max_sections}, each at least "
         "{design min_section}, a crossover counted as {design crossover} of the lightest pipe "
         "(common practice)"},
        {!given || isnan(loads->packer_fluid_kgm3), "tubing-leak-not-run",
         "no packer_fluid in <loads>: the tubing leak is not looked at; the finished well is shut "
         "in on gas alone"},
        {!any_runs(p, DT_LOAD_BURST_TEST), "pressure-test-not-run",
         "no <test> in <loads>: no pressure test is looked at"},
        {p->design.bump_customary, "bump-margin-customary",
         "no bump_margin in <loads> or <cementing>: the plug is bumped "
         "{cementing bump_margin} above the lift (common practice)"},
        {(!given || isnan(loads->cement_kgm3)) && !any_pinned_slurry(w) && !w->cementing.tail,
         "slurry-customary",
         "no cement density stated: unset slurry of {loads cement} outside is used (class G "
         "with 44 % water)"},
        {salt_guessed, "overburden-customary",
         "no <overburden>: salt presses with {overburden gradient} (common practice)"},
        {!w->thermal.derating_count, "derating-off",
         "no <derating>: yield strength is not reduced for temperature"},
        {p->design.sour, "sour-grades",
         "sour=\"yes\": only grades that may meet hydrogen sulphide at any temperature (common "
         "practice after NACE MR0175 / ISO 15156, from memory); metallurgy is not checked further"},
        {!head->given || isnan(head->bop_n), "landing-not-checked",
         "no weight of the preventers (bop in <wellhead>): landing loads are not checked"},
        {head->given && !isnan(head->bop_n) && isnan(head->free_length_m), "column-not-checked",
         "no free_length in <wellhead>: the stability of the carrying string is not checked"},
        {head->given && !isnan(head->bop_n) && isnan(head->head_n), "head-weight-not-stated",
         "no weight of the wellhead (head in <wellhead>): it is left out of the landing load"},
        {head->given && !isnan(head->free_length_m) && isnan(head->end_factor),
         "end-factor-customary",
         "no end_factor in <wellhead>: {wellhead end_factor} is used, fixed below and free at the "
         "top"},
    };
    return dt_program_warn_plainly(p, all, sizeof all / sizeof *all);
}

static dt_status warn_of_heads(dt_program *p, dt_display display)
{
    for (size_t i = 0; i < p->wellhead.count; ++i) {
        if (!p->wellhead.stages[i].beyond_classes) continue;
        char name[32];
        dt_program_string_name(p, i, name, sizeof name);
        sentence text = {0};
        say(&text, "the anticipated surface pressure, %s, is above the largest class, 20,000 psi",
            show(display, DT_KIND_PRESSURE, p->wellhead.stages[i].pressure_pa).text);
        if (dt_program_warn(p, "beyond-pressure-classes", name, &text) != DT_OK) return DT_E_MEMORY;
    }
    return DT_OK;
}

/* A landing is held against the triaxial design factor: it is a plain stress in steel. */
static dt_status warn_of_landing(dt_program *p, dt_display display)
{
    for (size_t i = 0; i < p->wellhead.landing_count; ++i) {
        const dt_landing *l = &p->wellhead.landing[i];
        if (!l->made) continue;
        char name[32];
        dt_program_string_name(p, l->carrier, name, sizeof name);
        const double needed = p->design.triaxial;
        sentence text = {0};
        if (l->stress_factor < needed) {
            say(&text,
                "carrying %s, its steel reaches a factor of %.2f on yield, %.2f is asked for",
                show(display, DT_KIND_FORCE, l->load_n).text, l->stress_factor, needed);
            if (dt_program_warn(p, "landing-stress", name, &text) != DT_OK) return DT_E_MEMORY;
        }
        text = (sentence){0};
        if (l->column_made && l->column_factor < needed) {
            say(&text,
                "as a column it bears %s where %s stands on it: a factor of %.2f, %.2f is "
                "asked for",
                show(display, DT_KIND_FORCE, l->column_n).text,
                show(display, DT_KIND_FORCE, l->column_load_n).text, l->column_factor, needed);
            if (dt_program_warn(p, "landing-column", name, &text) != DT_OK) return DT_E_MEMORY;
        }
    }
    return DT_OK;
}

static dt_status warn_of_sour_pins(dt_program *p)
{
    for (size_t i = 0; p->design.sour && i < dt_program_strings(p); ++i) {
        char name[32];
        const dt_pipe *pipe = p->strings.items[i].sections[0].pipe;
        if (pipe->grade->sour) continue;
        dt_program_string_name(p, i, name, sizeof name);
        sentence text = {0};
        say(&text,
            "the pinned grade %s is kept although it is not for hydrogen sulphide at any "
            "temperature",
            pipe->grade->name);
        if (dt_program_warn(p, "pin-not-sour", name, &text) != DT_OK) return DT_E_MEMORY;
    }
    return DT_OK;
}

dt_status dt_program_warn_strength(dt_program *p, dt_display display)
{
    dt_status status = warn_plain(p);
    if (status == DT_OK) status = warn_of_heads(p, display);
    if (status == DT_OK) status = warn_of_landing(p, display);
    if (status == DT_OK) status = warn_of_sour_pins(p);
    return status;
}
