/* SPDX-License-Identifier: MIT */
#include "units.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "same.h"

#define M3_PER_L    1e-3
#define M3_PER_FT3  (DT_M_PER_FT * DT_M_PER_FT * DT_M_PER_FT)
#define KG_PER_SACK (94.0 * DT_KG_PER_LB) /* US sack of Portland cement, API Spec 10A */
/* Specific gravity is told against 1000 kg/m3: common practice of the trade, no source. */
#define KGM3_PER_SG 1000.0

/* Every factor is derived from the exact ones of units.h; none is a rounded table value. */
static const dt_unit UNITS[] = {
    {DT_KIND_LENGTH, "ft", DT_M_PER_FT},
    {DT_KIND_LENGTH, "m", 1.0},
    {DT_KIND_DIAMETER, "in", DT_M_PER_IN},
    {DT_KIND_DIAMETER, "mm", 1e-3},
    {DT_KIND_DIAMETER, "cm", 1e-2},
    {DT_KIND_DIAMETER, "ft", DT_M_PER_FT},
    {DT_KIND_DIAMETER, "m", 1.0},
    {DT_KIND_DENSITY, "ppg", DT_KGM3_PER_PPG},
    {DT_KIND_DENSITY, "sg", KGM3_PER_SG},
    {DT_KIND_DENSITY, "kg/m3", 1.0},
    {DT_KIND_DENSITY, "g/cm3", 1e3},
    {DT_KIND_DENSITY, "lb/ft3", DT_KG_PER_LB / M3_PER_FT3},
    {DT_KIND_DENSITY, "psi/ft", DT_PA_PER_PSI / DT_M_PER_FT / DT_STANDARD_GRAVITY},
    {DT_KIND_DENSITY, "kPa/m", 1e3 / DT_STANDARD_GRAVITY},
    {DT_KIND_DENSITY, "bar/m", 1e5 / DT_STANDARD_GRAVITY},
    {DT_KIND_DENSITY, "Pa/m", 1.0 / DT_STANDARD_GRAVITY},
    {DT_KIND_PRESSURE, "psi", DT_PA_PER_PSI},
    {DT_KIND_PRESSURE, "kPa", 1e3},
    {DT_KIND_PRESSURE, "MPa", 1e6},
    {DT_KIND_PRESSURE, "bar", 1e5},
    {DT_KIND_PRESSURE, "Pa", 1.0},
    {DT_KIND_LINEAR_MASS, "lb/ft", DT_KGM_PER_LBFT},
    {DT_KIND_LINEAR_MASS, "kg/m", 1.0},
    {DT_KIND_FORCE, "lbf", DT_N_PER_LBF},
    {DT_KIND_FORCE, "klbf", 1e3 * DT_N_PER_LBF},
    {DT_KIND_FORCE, "N", 1.0},
    {DT_KIND_FORCE, "kN", 1e3},
    {DT_KIND_FORCE, "daN", 10.0},
    {DT_KIND_ANGLE, "deg", PI / 180.0},
    {DT_KIND_ANGLE, "rad", 1.0},
    {DT_KIND_VOLUME, "bbl", DT_M3_PER_BBL},
    {DT_KIND_VOLUME, "m3", 1.0},
    {DT_KIND_VOLUME, "gal", DT_M3_PER_GAL},
    {DT_KIND_VOLUME, "ft3", M3_PER_FT3},
    {DT_KIND_VOLUME, "L", M3_PER_L},
    {DT_KIND_YIELD, "ft3/sk", M3_PER_FT3 / KG_PER_SACK},
    {DT_KIND_YIELD, "gal/sk", DT_M3_PER_GAL / KG_PER_SACK},
    {DT_KIND_YIELD, "L/kg", M3_PER_L},
    {DT_KIND_YIELD, "m3/t", 1e-3},
    {DT_KIND_YIELD, "L/100kg", M3_PER_L / 100.0},
    {DT_KIND_FRACTION, "%", 0.01},
    {DT_KIND_FLOW, "bbl/min", DT_M3_PER_BBL / 60.0},
    {DT_KIND_FLOW, "gal/min", DT_M3_PER_GAL / 60.0},
    {DT_KIND_FLOW, "m3/min", 1.0 / 60.0},
    {DT_KIND_FLOW, "L/min", M3_PER_L / 60.0},
    {DT_KIND_FLOW, "L/s", M3_PER_L},
    {DT_KIND_TIME, "h", 3600.0},
    {DT_KIND_TIME, "min", 60.0},
    {DT_KIND_TIME, "s", 1.0},
    {DT_KIND_TIME, "d", 86400.0},
    {DT_KIND_SPEED, "ft/min", DT_M_PER_FT / 60.0},
    {DT_KIND_SPEED, "ft/s", DT_M_PER_FT},
    {DT_KIND_SPEED, "ft/h", DT_M_PER_FT / 3600.0},
    {DT_KIND_SPEED, "m/min", 1.0 / 60.0},
    {DT_KIND_SPEED, "m/s", 1.0},
    {DT_KIND_SPEED, "m/h", 1.0 / 3600.0},
    {DT_KIND_VISCOSITY, "cP", 1e-3},
    {DT_KIND_VISCOSITY, "mPa.s", 1e-3},
    {DT_KIND_VISCOSITY, "Pa.s", 1.0},
    {DT_KIND_YIELD_POINT, "lbf/100ft2", DT_N_PER_LBF / (100.0 * DT_M_PER_FT * DT_M_PER_FT)},
    {DT_KIND_YIELD_POINT, "Pa", 1.0},
};

/* The symbols above once more, joined for messages; test_units.c holds the two together. */
static const char *const CHOICES[DT_KIND_COUNT] = {
    [DT_KIND_LENGTH] = "ft, m",
    [DT_KIND_DIAMETER] = "in, mm, cm, ft, m",
    [DT_KIND_DENSITY] = "ppg, sg, kg/m3, g/cm3, lb/ft3, psi/ft, kPa/m, bar/m, Pa/m",
    [DT_KIND_PRESSURE] = "psi, kPa, MPa, bar, Pa",
    [DT_KIND_LINEAR_MASS] = "lb/ft, kg/m",
    [DT_KIND_FORCE] = "lbf, klbf, N, kN, daN",
    [DT_KIND_ANGLE] = "deg, rad",
    [DT_KIND_VOLUME] = "bbl, m3, gal, ft3, L",
    [DT_KIND_YIELD] = "ft3/sk, gal/sk, L/kg, m3/t, L/100kg",
    [DT_KIND_FRACTION] = "%",
    [DT_KIND_FLOW] = "bbl/min, gal/min, m3/min, L/min, L/s",
    [DT_KIND_TIME] = "h, min, s, d",
    [DT_KIND_SPEED] = "ft/min, ft/s, ft/h, m/min, m/s, m/h",
    [DT_KIND_VISCOSITY] = "cP, mPa.s, Pa.s",
    [DT_KIND_YIELD_POINT] = "lbf/100ft2, Pa",
};

/* Unit and digits after the point a reader expects: common practice, no source. */
typedef struct display_row {
    const char *symbol;
    int digits;
} display_row;

static const display_row DISPLAY[][DT_KIND_COUNT] = {
    [DT_DISPLAY_FIELD] =
        {
            [DT_KIND_LENGTH] = {"ft", 0},
            [DT_KIND_DIAMETER] = {"in", 3},
            [DT_KIND_DENSITY] = {"ppg", 2},
            [DT_KIND_PRESSURE] = {"psi", 0},
            [DT_KIND_LINEAR_MASS] = {"lb/ft", 2},
            [DT_KIND_FORCE] = {"klbf", 0},
            [DT_KIND_ANGLE] = {"deg", 2},
            [DT_KIND_VOLUME] = {"bbl", 1},
            [DT_KIND_YIELD] = {"ft3/sk", 3},
            [DT_KIND_FRACTION] = {"%", 0},
            [DT_KIND_FLOW] = {"bbl/min", 1},
            [DT_KIND_TIME] = {"h", 1},
            [DT_KIND_SPEED] = {"ft/min", 0},
            [DT_KIND_VISCOSITY] = {"cP", 0},
            [DT_KIND_YIELD_POINT] = {"lbf/100ft2", 0},
        },
    [DT_DISPLAY_METRIC] =
        {
            [DT_KIND_LENGTH] = {"m", 1},
            [DT_KIND_DIAMETER] = {"mm", 1},
            [DT_KIND_DENSITY] = {"sg", 3},
            [DT_KIND_PRESSURE] = {"bar", 1},
            [DT_KIND_LINEAR_MASS] = {"kg/m", 2},
            [DT_KIND_FORCE] = {"kN", 0},
            [DT_KIND_ANGLE] = {"deg", 2},
            [DT_KIND_VOLUME] = {"m3", 2},
            [DT_KIND_YIELD] = {"L/kg", 3},
            [DT_KIND_FRACTION] = {"%", 0},
            [DT_KIND_FLOW] = {"m3/min", 2},
            [DT_KIND_TIME] = {"h", 1},
            [DT_KIND_SPEED] = {"m/min", 1},
            [DT_KIND_VISCOSITY] = {"mPa.s", 0},
            [DT_KIND_YIELD_POINT] = {"Pa", 1},
        },
};

/** Mixed: metres, sg and bar, with pipe and holes in inches and lb/ft. */
static const display_row *display_of(dt_display display, dt_kind kind)
{
    const bool by_inch = kind == DT_KIND_DIAMETER || kind == DT_KIND_LINEAR_MASS;
    if (display == DT_DISPLAY_MIXED) display = by_inch ? DT_DISPLAY_FIELD : DT_DISPLAY_METRIC;
    return &DISPLAY[display][kind];
}

const dt_unit *dt_unit_table(size_t *count)
{
    *count = COUNT_OF(UNITS);
    return UNITS;
}

const dt_unit *dt_unit_find(dt_kind kind, const char *symbol)
{
    for (size_t i = 0; i < COUNT_OF(UNITS); ++i)
        if (UNITS[i].kind == kind && strcmp(UNITS[i].symbol, symbol) == 0) return &UNITS[i];
    return NULL;
}

const char *dt_unit_choices(dt_kind kind)
{
    return (size_t)kind < DT_KIND_COUNT ? CHOICES[kind] : "";
}

/* isspace() and isdigit() follow the locale; a file's meaning must not. */
static bool is_blank(char c)
{
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/* ---- units as people write them ---- */

static const struct {
    dt_kind kind;
    const char *theirs, *ours;
} SPELLINGS[] = {
#define DT_SPELLING(kind, theirs, ours) {kind, theirs, ours},
#include "spellings.def"
#undef DT_SPELLING
};

/* Signs that word processors and keyboards put into units, and what they stand for. */
static const struct {
    const char *sign, *plain;
} SIGNS[] = {{"\xC2\xB2", "2"},     {"\xC2\xB3", "3"},      {"\xC2\xB7", "."},
             {"\xC2\xB0", "deg"},   {"\xE2\x80\xB2", "'"},  {"\xE2\x80\xB3", "\""},
             {"\xE2\x80\x99", "'"}, {"\xE2\x80\x9D", "\""}, {"\xE2\x8B\x85", "."},
             {"\xC2\xA0", ""},      {"\xE2\x80\xAF", ""}};

enum { LONGEST_UNIT = 24 };

/** The sign at the begin of a text, and its bytes; NULL: none. */
static const char *sign_at(const char *text, size_t left, size_t *bytes)
{
    for (size_t i = 0; i < COUNT_OF(SIGNS); ++i) {
        *bytes = strlen(SIGNS[i].sign);
        if (*bytes <= left && memcmp(text, SIGNS[i].sign, *bytes) == 0) return SIGNS[i].plain;
    }
    return NULL;
}

/* tolower() follows the locale; a file's meaning must not. */
static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/** In small letters, without blanks and a full stop at the end; false: too long for any unit. */
static bool plain_unit(const char *text, size_t length, char out[LONGEST_UNIT + 1])
{
    size_t used = 0;
    for (size_t at = 0; at < length;) {
        size_t bytes = 1;
        const char *sign = sign_at(text + at, length - at, &bytes);
        const char one[2] = {lower(text[at]), '\0'};
        const char *put = sign ? sign : is_blank(text[at]) ? "" : one;
        if (!sign) bytes = 1;
        if (used + strlen(put) > LONGEST_UNIT) return false;
        memcpy(out + used, put, strlen(put));
        used += strlen(put);
        at += bytes;
    }
    if (used > 1 && out[used - 1] == '.') --used;
    out[used] = '\0';
    return used > 0;
}

static bool same_letters(const char *small, const char *symbol)
{
    while (*small && *small == lower(*symbol))
        ++small, ++symbol;
    return *small == *symbol;
}

/** As dt_unit_spelt(), for text that is not NUL-terminated. */
static const dt_unit *spelt_slice(dt_kind kind, const char *text, size_t length)
{
    char plain[LONGEST_UNIT + 1];
    if (!plain_unit(text, length, plain)) return NULL;
    for (size_t i = 0; i < COUNT_OF(UNITS); ++i)
        if (UNITS[i].kind == kind && same_letters(plain, UNITS[i].symbol)) return &UNITS[i];
    for (size_t i = 0; i < COUNT_OF(SPELLINGS); ++i)
        if (SPELLINGS[i].kind == kind && strcmp(SPELLINGS[i].theirs, plain) == 0)
            return dt_unit_find(kind, SPELLINGS[i].ours);
    return NULL;
}

const dt_unit *dt_unit_spelt(dt_kind kind, const char *text)
{
    return spelt_slice(kind, text, strlen(text));
}

/* ---- numbers ---- */

static const char *skip_blanks(const char *at)
{
    while (is_blank(*at))
        ++at;
    return at;
}

static const char *skip_digits(const char *at)
{
    while (is_digit(*at))
        ++at;
    return at;
}

/** End of the plain decimal number that starts at `at`, or NULL when there is none. */
static const char *number_end(const char *at)
{
    if (*at == '+' || *at == '-') ++at;
    const char *whole = at;
    at = skip_digits(at);
    size_t digits = (size_t)(at - whole);
    if (*at == '.') {
        const char *part = at + 1;
        at = skip_digits(part);
        digits += (size_t)(at - part);
    }
    if (digits == 0) return NULL;
    if (*at == 'e' || *at == 'E') { /* "3 each" would be no exponent: digits must follow */
        const char *power = at + 1;
        if (*power == '+' || *power == '-') ++power;
        if (is_digit(*power)) at = skip_digits(power);
    }
    return at;
}

/** Reads the number at the start of text; *rest is where it ends, blanks skipped. */
static dt_parse number_at_start(const char *text, double *value, const char **rest)
{
    const char *start = skip_blanks(text);
    const char *end = number_end(start);
    if (!end) return DT_PARSE_NO_NUMBER;
    /* What touches the number must be the end, a blank or a unit: "1,500", "0x1F" and
     * "9-5/8" are not the numbers 1, 0 and 9. */
    size_t bytes = 0;
    bool whole = *end == '\0' || is_blank(*end) || strchr("%#'\"", *end) ||
                 (is_letter(*end) && *end != 'x' && *end != 'X') ||
                 sign_at(end, strlen(end), &bytes);
    if (!whole) return DT_PARSE_NO_NUMBER;
    double number = strtod(start, NULL);
    if (!isfinite(number)) return DT_PARSE_NOT_FINITE;
    *value = number;
    *rest = skip_blanks(end);
    return DT_PARSE_OK;
}

dt_parse dt_number_parse(const char *text, double *value)
{
    double number = 0;
    const char *rest = NULL;
    dt_parse parse = number_at_start(text, &number, &rest);
    if (parse != DT_PARSE_OK) return parse;
    if (*rest) return DT_PARSE_NO_NUMBER;
    *value = number;
    return DT_PARSE_OK;
}

/** A whole number of up to three digits; NULL when none starts here. */
static const char *small_number(const char *at, unsigned *out)
{
    const char *end = skip_digits(at);
    if (end == at || end - at > 3) return NULL;
    for (*out = 0; at < end; ++at)
        *out = *out * 10 + (unsigned)(*at - '0');
    return end;
}

/** "9-5/8", "9 5/8" or "5/8" at the start of a text; NULL when it is none of them. */
static const char *fraction_end(const char *text, double *number)
{
    unsigned whole = 0, top = 0, bottom = 0;
    const char *at = small_number(skip_blanks(text), &top);
    if (at && (*at == '-' || is_blank(*at))) {
        whole = top;
        at = small_number(*at == '-' ? at + 1 : skip_blanks(at), &top);
    }
    at = at && *at == '/' ? small_number(at + 1, &bottom) : NULL;
    if (!at || top == 0 || top >= bottom) return NULL;
    *number = whole + (double)top / bottom;
    return skip_blanks(at);
}

dt_parse dt_quantity_read(const char *text, dt_kind kind, double *si, const dt_unit **unit)
{
    double number = 0;
    const char *symbol = kind == DT_KIND_DIAMETER ? fraction_end(text, &number) : NULL;
    const bool fraction = symbol != NULL;
    dt_parse parse = fraction ? DT_PARSE_OK : number_at_start(text, &number, &symbol);
    if (parse != DT_PARSE_OK) return parse;

    size_t length = strlen(symbol);
    while (length > 0 && is_blank(symbol[length - 1]))
        --length;
    if (length == 0) return DT_PARSE_NO_UNIT;
    const dt_unit *found = spelt_slice(kind, symbol, length);
    if (!found || (fraction && found->factor != DT_M_PER_IN)) return DT_PARSE_UNKNOWN_UNIT;

    double value = number * found->factor;
    if (!isfinite(value)) return DT_PARSE_NOT_FINITE;
    *si = value;
    *unit = found;
    return DT_PARSE_OK;
}

dt_parse dt_quantity_parse(const char *text, dt_kind kind, double *si)
{
    const dt_unit *unit = NULL;
    return dt_quantity_read(text, kind, si, &unit);
}

/* ---- what was meant ---- */

/** Groups of three digits behind a first one of one to three, all parted by one separator. */
static bool is_grouped(const char *digits, char by)
{
    const char *at = skip_digits(digits);
    bool any = false;
    if (at == digits || at - digits > 3) return false;
    while (*at == by && is_digit(at[1])) {
        const char *group = at + 1;
        at = skip_digits(group);
        if (at - group != 3) return false;
        any = true;
    }
    return any && !is_digit(*at) && *at != ',';
}

/** The text with each `from` before its unit turned into `to`; '\0': left out. */
static void put_mended(const char *text, char from, char to, char *out, size_t size)
{
    size_t used = 0;
    for (bool number = true; *text && used + 1 < size; ++text) {
        const bool grouping = *text == from && number && is_digit(text[1]);
        number = number && !is_letter(*text);
        if (!grouping)
            out[used++] = *text;
        else if (to)
            out[used++] = to;
    }
    out[used] = '\0';
}

bool dt_number_mend(const char *text, char *out, size_t size)
{
    char point[48], plain[48];
    const char *at = skip_blanks(text);
    if (*at == '+' || *at == '-') ++at;
    const char *end = skip_digits(at);
    const bool by_blank = *end == ' ' && is_grouped(at, ' ');
    const bool comma = *end == ',' && (is_digit(end[1]) || end > at);
    if (strlen(text) >= sizeof point || (!by_blank && !comma)) return false;
    put_mended(text, ',', '.', point, sizeof point);
    put_mended(text, by_blank ? ' ' : ',', '\0', plain, sizeof plain);
    const bool twice = comma && strchr(end + 1, ',');
    if (by_blank || (twice && is_grouped(at, ',')))
        snprintf(out, size, "write \"%s\": digits are not grouped", plain);
    else if (comma && !twice && is_grouped(at, ','))
        snprintf(out, size,
                 "write \"%s\" if the comma groups digits, \"%s\" if it is the decimal point",
                 plain, point);
    else if (comma && !twice && is_digit(end[1]))
        snprintf(out, size, "write \"%s\", with a decimal point", point);
    else
        return false;
    return true;
}

double dt_display_value(dt_display display, dt_kind kind, double si)
{
    const dt_unit *unit = dt_unit_find(kind, display_of(display, kind)->symbol);
    return si / unit->factor;
}

const char *dt_display_unit(dt_display display, dt_kind kind)
{
    return display_of(display, kind)->symbol;
}

int dt_display_text(dt_display display, dt_kind kind, double si, char *buffer, size_t size)
{
    const display_row *row = display_of(display, kind);
    double value = dt_display_value(display, kind, si);
    /* A value that rounds to nothing prints as 0, never as -0. */
    if (fabs(value) < 0.5 * pow(10.0, -row->digits)) value = 0.0;
    return snprintf(buffer, size, "%.*f %s", row->digits, value, row->symbol);
}

int dt_inch_text(double diameter_m, char *buffer, size_t size)
{
    const double near_in = SAME_DIAMETER_IN;
    double inches = diameter_m / DT_M_PER_IN;
    double sixteenths = round(inches * 16.0);
    bool fraction =
        fabs(inches - sixteenths / 16.0) <= near_in && sixteenths >= 0 && sixteenths < 16e6;
    if (!fraction) return snprintf(buffer, size, "%.3f", inches);

    long whole = (long)sixteenths / 16, part = (long)sixteenths % 16, of = 16;
    while (part > 0 && part % 2 == 0) {
        part /= 2;
        of /= 2;
    }
    if (part == 0) return snprintf(buffer, size, "%ld", whole);
    if (whole == 0) return snprintf(buffer, size, "%ld/%ld", part, of);
    return snprintf(buffer, size, "%ld-%ld/%ld", whole, part, of);
}
