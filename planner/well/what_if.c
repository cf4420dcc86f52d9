/* SPDX-License-Identifier: MIT */
/* What-if: a well with a few things otherwise than its file states, each told in words. */
#include "what_if.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "basis.h"
#include "curve.h"
#include "same.h"
#include "sentence.h"
#include "well_parts.h"

static const char may_be_said[] =
    "write \"fracture -0.3 ppg\" (or pore, collapse, overburden; \"fracture at 9000 ft -0.3 ppg\", "
    "\"fracture from 8000 ft to 9000 ft -0.3 ppg\"), \"fresh water 2200 ft\", \"NAME top 6100 "
    "ft\", "
    "\"NAME base 6600 ft\", \"without NAME\" of an interval, or \"trip margin 0.3 ppg\" (or kick, "
    "surge, safety, gain, drilling; +0.1 ppg adds)";

enum { LONGEST = 120 };

/** One change being made. */
typedef struct change {
    dt_well *well;
    const char *words; /* as they were given */
    sentence *problem;
} change;

/** "0,3" among the words: how that is written here. */
static void say_what_was_meant(const change *c)
{
    for (const char *at = c->words; *at;) {
        char word[LONGEST + 1], mended[160];
        at += strspn(at, " ");
        const size_t length = strcspn(at, " ");
        if (length > LONGEST) return;
        memcpy(word, at, length);
        word[length] = '\0';
        at += length;
        if (!dt_number_mend(word, mended, sizeof mended)) continue;
        say_clean(c->problem, mended);
        say(c->problem, "; ");
        return;
    }
}

static dt_status refuse(const change *c, const char *why)
{
    say(c->problem, "--with \"");
    say_clean(c->problem, c->words);
    say(c->problem, "\": ");
    say_what_was_meant(c);
    say(c->problem, "%s", why);
    return c->problem->failed ? DT_E_MEMORY : DT_E_INPUT;
}

/* ---- words ---- */

/** What stands behind a word at the begin of a text, blanks skipped; NULL: another word does. */
static const char *behind(const char *text, const char *word)
{
    const size_t length = strlen(word);
    if (strncasecmp(text, word, length) != 0) return NULL;
    if (text[length] && text[length] != ' ') return NULL;
    return text + length + strspn(text + length, " ");
}

/** A quantity from a part of a text; false when it is none of that kind. */
static bool quantity(const char *text, size_t length, dt_kind kind, double *si)
{
    char part[LONGEST + 1];
    while (length > 0 && text[length - 1] == ' ')
        --length;
    if (length > LONGEST) return false;
    memcpy(part, text, length);
    part[length] = '\0';
    return dt_quantity_parse(part, kind, si) == DT_PARSE_OK && isfinite(*si);
}

static bool depth(const char *text, size_t length, double *out)
{
    return quantity(text, length, DT_KIND_LENGTH, out) && *out > 0 && *out < 20000;
}

/* ---- tables ---- */

/** A value moved, and the spread about it with it. */
static void move_point(dt_curve_point *point, double by_kgm3)
{
    point->emw_kgm3 += by_kgm3;
    point->low_kgm3 += by_kgm3;
    point->high_kgm3 += by_kgm3;
}

/** A point of the curve as it runs, where it has none. DT_OK or DT_E_MEMORY. */
static dt_status put_point(dt_curve *curve, double tvd_m)
{
    size_t at = 0;
    while (at < curve->count && curve->points[at].tvd_m < tvd_m - SAME_DEPTH_M)
        ++at;
    if (at < curve->count && curve->points[at].tvd_m < tvd_m + SAME_DEPTH_M) return DT_OK;
    dt_curve_point point = curve->points[dt_curve_point_near(curve, tvd_m, DT_ABOVE)];
    const double emw_kgm3 = dt_curve_emw(curve, tvd_m, DT_ABOVE);
    point.low_kgm3 += emw_kgm3 - point.emw_kgm3;
    point.high_kgm3 += emw_kgm3 - point.emw_kgm3;
    point.emw_kgm3 = emw_kgm3;
    point.tvd_m = tvd_m;
    dt_curve_point *points = realloc(curve->points, (curve->count + 1) * sizeof *points);
    if (!points) return DT_E_MEMORY;
    curve->points = points;
    memmove(points + at + 1, points + at, (curve->count - at) * sizeof *points);
    points[at] = point;
    ++curve->count;
    return DT_OK;
}

/** Where a table is changed: "", "at 9000 ft", "from 8000 ft to 9000 ft". */
static bool read_stretch(const char *text, size_t length, double *top_m, double *base_m)
{
    const char *end = text + length, *at = behind(text, "at"), *from = behind(text, "from");
    *top_m = 0;
    *base_m = INFINITY;
    if (length == 0) return true;
    if (at && at < end && depth(at, (size_t)(end - at), top_m)) {
        *base_m = *top_m;
        return true;
    }
    const char *to = from ? strstr(from, " to ") : NULL;
    return to && to < end && depth(from, (size_t)(to - from), top_m) &&
           depth(to + 4, (size_t)(end - to - 4), base_m) && *base_m > *top_m;
}

static dt_status move_curve(const change *c, dt_curve *curve, double top_m, double base_m,
                            double by_kgm3)
{
    size_t moved = 0;
    dt_status status = top_m == base_m ? put_point(curve, top_m) : DT_OK;
    for (size_t i = 0; status == DT_OK && i < curve->count; ++i) {
        dt_curve_point *point = &curve->points[i];
        if (point->tvd_m < top_m - SAME_DEPTH_M || point->tvd_m > base_m + SAME_DEPTH_M) continue;
        move_point(point, by_kgm3);
        ++moved;
    }
    if (status == DT_OK && moved == 0)
        return refuse(c, "the table has no point there; \"at\" a depth changes it anywhere");
    return status;
}

/** "fracture at 9000 ft -0.3 ppg", what stands behind the table's name. */
static dt_status change_table(const change *c, dt_curve *curve, const char *text)
{
    const dt_well *well = c->well;
    const char *sign = strpbrk(text, "+-");
    double top_m, base_m, by_kgm3 = 0;
    const bool reckoned = well->fracture_from.method != DT_FRACTURE_POINTS;
    if (curve->count == 0) return refuse(c, "the well file has no such table");
    if (!sign || !quantity(sign + 1, strlen(sign + 1), DT_KIND_DENSITY, &by_kgm3) || by_kgm3 <= 0)
        return refuse(c, "a table is changed by so much: end with +0.3 ppg or -0.3 ppg");
    if (!read_stretch(text, (size_t)(sign - text), &top_m, &base_m))
        return refuse(c, "say where as \"at 9000 ft\" or \"from 8000 ft to 9000 ft\"");
    if (top_m == base_m && top_m > curve->points[curve->count - 1].tvd_m)
        return refuse(c, "the table ends above that depth");
    if (reckoned && (curve == &well->pore || curve == &well->overburden))
        return refuse(c, "the fracture gradient was reckoned from this table: change fracture "
                         "itself, or the table in the file");
    if (curve == &well->fracture && top_m == base_m &&
        (reckoned || well->fracture_from.point_ratio))
        return refuse(c, "the fracture gradient is reckoned: change it as a whole or \"from\" one "
                         "depth \"to\" another");
    return move_curve(c, curve, top_m, base_m, *sign == '-' ? -by_kgm3 : by_kgm3);
}

/* ---- fresh water, intervals, margins ---- */

static dt_status change_fresh_water(const change *c, const char *text)
{
    double tvd_m;
    if (isnan(c->well->fresh_water_m)) return refuse(c, "the well file states no fresh water");
    if (!depth(text, strlen(text), &tvd_m))
        return refuse(c, "say how deep: \"fresh water 2200 ft\"");
    c->well->fresh_water_m = tvd_m;
    return DT_OK;
}

static dt_interval *interval_named(const dt_well *well, const char *name, size_t length)
{
    for (size_t i = 0; i < well->interval_count; ++i)
        if (strlen(well->intervals[i].name) == length &&
            strncasecmp(well->intervals[i].name, name, length) == 0)
            return &well->intervals[i];
    return NULL;
}

static dt_status leave_out(const change *c, const char *name)
{
    dt_well *well = c->well;
    dt_interval *gone = interval_named(well, name, strlen(name));
    if (!gone) return refuse(c, "there is no interval of that name");
    free(gone->name);
    free(gone->kind);
    const size_t behind_it = well->interval_count - (size_t)(gone - well->intervals) - 1;
    memmove(gone, gone + 1, behind_it * sizeof *gone);
    --well->interval_count;
    return DT_OK;
}

/** "Rust sand top 6100 ft"; *known: it was about an interval or a pay. */
static dt_status change_depth(const change *c, bool *known)
{
    static const char *const ends[] = {" top ", " base "};
    dt_well *well = c->well;
    for (size_t e = 0; e < COUNT_OF(ends); ++e) {
        const char *at = strstr(c->words, ends[e]);
        const size_t length = at ? (size_t)(at - c->words) : 0;
        dt_interval *interval = at ? interval_named(well, c->words, length) : NULL;
        double *of = interval ? e == 0 ? &interval->top_m : &interval->base_m : NULL, tvd_m;
        for (size_t i = 0; at && !of && i < well->pay_count; ++i)
            if (strlen(well->pays[i].name) == length &&
                strncasecmp(well->pays[i].name, c->words, length) == 0)
                of = e == 0 ? &well->pays[i].top_m : &well->pays[i].base_m;
        if (!of) continue;
        *known = true;
        at += strlen(ends[e]);
        if (!depth(at, strlen(at), &tvd_m)) return refuse(c, "say a depth below the rig floor");
        *of = tvd_m;
        return DT_OK;
    }
    return DT_OK;
}

/** The file's own words for it, which the report and program.json show, become the new ones. */
static dt_status restate(dt_well *well, dt_custom custom, const dt_margin *margin)
{
    sentence s = {0};
    const bool pressure = margin->pressure_pa > 0;
    say(&s, "%s",
        show(well->display, pressure ? DT_KIND_PRESSURE : DT_KIND_DENSITY,
             pressure ? margin->pressure_pa : margin->emw_kgm3)
            .text);
    char *text = NULL;
    const dt_status status = sentence_take(&s, &text);
    if (status != DT_OK) return status;
    free(well->stated[custom].text);
    well->stated[custom].text = text;
    return DT_OK;
}

/** "trip margin 0.3 ppg", "trip margin +0.1 ppg": what stands behind the name. */
static dt_status change_margin(const change *c, dt_margin *margin, dt_custom custom,
                               const char *text)
{
    const char sign = *text == '+' || *text == '-' ? *text : ' ';
    const char *amount = sign == ' ' ? text : text + 1;
    dt_margin by = {0};
    if (!c->well->stated || c->well->stated[custom].line == 0)
        return refuse(c, "the well file does not state this margin: state it there, or in a basis "
                         "given with --basis");
    if (!quantity(amount, strlen(amount), DT_KIND_DENSITY, &by.emw_kgm3)) {
        by.emw_kgm3 = 0;
        if (!quantity(amount, strlen(amount), DT_KIND_PRESSURE, &by.pressure_pa))
            return refuse(c, "say how much: \"trip margin 0.3 ppg\", or +0.1 ppg to add");
    }
    const double factor = sign == '-' ? -1 : 1;
    if (sign != ' ') {
        if ((by.pressure_pa > 0) != (margin->pressure_pa > 0) && dt_margin_given(margin))
            return refuse(c, "the file states it as a pressure where this is a gradient, or the "
                             "other way round");
        by.emw_kgm3 = margin->emw_kgm3 + factor * by.emw_kgm3;
        by.pressure_pa = margin->pressure_pa + factor * by.pressure_pa;
    }
    if (by.emw_kgm3 < 0 || by.pressure_pa < 0) return refuse(c, "a margin is not below 0");
    if (by.emw_kgm3 > 1200 || by.pressure_pa > 1e8) return refuse(c, "no margin is so wide");
    *margin = by;
    return restate(c->well, custom, margin);
}

/* ---- one change ---- */

static dt_status apply(const change *c)
{
    dt_well *w = c->well;
    const struct {
        const char *name;
        dt_curve *curve;
    } tables[] = {{"fracture", &w->fracture},
                  {"pore", &w->pore},
                  {"collapse", &w->collapse},
                  {"overburden", &w->overburden}};
    const struct {
        const char *name;
        dt_margin *margin;
        dt_custom custom;
    } margins[] = {{"trip margin", &w->margins.trip, DT_CUSTOM_MARGINS_TRIP},
                   {"kick margin", &w->margins.kick, DT_CUSTOM_MARGINS_KICK},
                   {"surge margin", &w->margins.surge, DT_CUSTOM_MARGINS_SURGE},
                   {"safety margin", &w->margins.safety, DT_CUSTOM_MARGINS_SAFETY},
                   {"gain margin", &w->margins.gain, DT_CUSTOM_MARGINS_GAIN},
                   {"drilling margin", &w->margins.drilling, DT_CUSTOM_MARGINS_DRILLING}};
    const char *rest;
    bool known = false;
    dt_status status = change_depth(c, &known); /* a name of the file goes before ours */
    if (known || status != DT_OK) return status;
    for (size_t i = 0; i < COUNT_OF(tables); ++i)
        if ((rest = behind(c->words, tables[i].name)))
            return change_table(c, tables[i].curve, rest);
    for (size_t i = 0; i < COUNT_OF(margins); ++i)
        if ((rest = behind(c->words, margins[i].name)))
            return change_margin(c, margins[i].margin, margins[i].custom, rest);
    if ((rest = behind(c->words, "fresh water"))) return change_fresh_water(c, rest);
    if ((rest = behind(c->words, "without"))) return leave_out(c, rest);
    return refuse(c, may_be_said);
}

static bool is_plain(const char *words)
{
    for (const char *at = words; *at; ++at)
        if (iscntrl((unsigned char)*at)) return false;
    return *words && strlen(words) <= LONGEST;
}

/** Every result has the well's name on it, so that is where it is said. */
static dt_status name_it(dt_well *well, const char *const *changes, size_t count)
{
    sentence s = {0};
    say(&s, "%s", well->name ? well->name : "");
    for (size_t i = 0; i < count; ++i)
        say(&s, "%s%s", i ? "; " : ", what if: ", changes[i]);
    char *name = NULL;
    const dt_status status = sentence_take(&s, &name);
    if (status != DT_OK) return status;
    free(well->name);
    well->name = name;
    return DT_OK;
}

dt_status dt_well_what_if(dt_well *well, const char *const *changes, size_t count, char **problem)
{
    sentence said = {0};
    dt_status status = DT_OK;
    for (size_t i = 0; status == DT_OK && i < count; ++i) {
        const change c = {well, changes[i], &said};
        status = is_plain(changes[i]) ? apply(&c) : refuse(&c, may_be_said);
    }
    if (status == DT_OK && count > 0) status = name_it(well, changes, count);
    if (status == DT_OK && dt_well_join_depths(well) != DT_OK) status = DT_E_MEMORY;
    if (status == DT_E_INPUT) return sentence_take(&said, problem) == DT_OK ? status : DT_E_MEMORY;
    free(said.bytes);
    return status;
}
