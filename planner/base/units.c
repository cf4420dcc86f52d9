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

static const display_row DISPLAY[2][DT_KIND_COUNT] = {
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

const dt_unit *dt_unit_table(size_t *count)
{
    *count = COUNT_OF(UNITS);
    return UNITS;
}

/** As dt_unit_find(), for a symbol that is not NUL-terminated. */
static const dt_unit *unit_find_slice(dt_kind kind, const char *symbol, size_t length)
{
    for (size_t i = 0; i < COUNT_OF(UNITS); ++i)
        if (UNITS[i].kind == kind && strlen(UNITS[i].symbol) == length &&
            memcmp(UNITS[i].symbol, symbol, length) == 0)
            return &UNITS[i];
    return NULL;
}

const dt_unit *dt_unit_find(dt_kind kind, const char *symbol)
{
    return unit_find_slice(kind, symbol, strlen(symbol));
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
    bool whole = *end == '\0' || is_blank(*end) || *end == '%' ||
                 (is_letter(*end) && *end != 'x' && *end != 'X');
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

dt_parse dt_quantity_parse(const char *text, dt_kind kind, double *si)
{
    double number = 0;
    const char *symbol = NULL;
    dt_parse parse = number_at_start(text, &number, &symbol);
    if (parse != DT_PARSE_OK) return parse;

    size_t length = strlen(symbol);
    while (length > 0 && is_blank(symbol[length - 1]))
        --length;
    if (length == 0) return DT_PARSE_NO_UNIT;
    const dt_unit *unit = unit_find_slice(kind, symbol, length);
    if (!unit) return DT_PARSE_UNKNOWN_UNIT;

    double value = number * unit->factor;
    if (!isfinite(value)) return DT_PARSE_NOT_FINITE;
    *si = value;
    return DT_PARSE_OK;
}

double dt_display_value(dt_display display, dt_kind kind, double si)
{
    const dt_unit *unit = dt_unit_find(kind, DISPLAY[display][kind].symbol);
    return si / unit->factor;
}

const char *dt_display_unit(dt_display display, dt_kind kind)
{
    return DISPLAY[display][kind].symbol;
}

int dt_display_text(dt_display display, dt_kind kind, double si, char *buffer, size_t size)
{
    const display_row *row = &DISPLAY[display][kind];
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
