/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_UNITS_H
#define DRAWTUBE_UNITS_H

#include <stddef.h>

#include "status.h"

/*
 * Inside the library every quantity is SI: m, Pa, kg/m3, kg/m, N, rad, m3, s.
 * Units appear at the edges only: the readers and the writers use this header.
 * A mud weight, an equivalent mud weight and a pressure gradient are one kind,
 * density: gradient = density * DT_STANDARD_GRAVITY.
 */

#define DT_STANDARD_GRAVITY 9.80665    /* m/s2, exact by definition: NIST SP 811 (2008), B.8 */
#define DT_M_PER_FT         0.3048     /* exact, NIST SP 811 */
#define DT_M_PER_IN         0.0254     /* exact, NIST SP 811 */
#define DT_KG_PER_LB        0.45359237 /* exact, NIST SP 811 */
#define DT_M3_PER_GAL       (231.0 * DT_M_PER_IN * DT_M_PER_IN * DT_M_PER_IN) /* exact, US gallon */
#define DT_M3_PER_BBL       (42.0 * DT_M3_PER_GAL) /* exact, 42 US gallons */
#define DT_N_PER_LBF        (DT_KG_PER_LB * DT_STANDARD_GRAVITY)
#define DT_PA_PER_PSI       (DT_N_PER_LBF / (DT_M_PER_IN * DT_M_PER_IN))
#define DT_KGM3_PER_PPG     (DT_KG_PER_LB / DT_M3_PER_GAL)
#define DT_KGM_PER_LBFT     (DT_KG_PER_LB / DT_M_PER_FT)

typedef enum dt_kind {
    DT_KIND_LENGTH,      /* m       ft, m */
    DT_KIND_DIAMETER,    /* m       in, mm (also ft, m, cm) */
    DT_KIND_DENSITY,     /* kg/m3   ppg, sg, kg/m3, g/cm3, lb/ft3, psi/ft, kPa/m, bar/m, Pa/m */
    DT_KIND_PRESSURE,    /* Pa      psi, kPa, MPa, bar, Pa */
    DT_KIND_LINEAR_MASS, /* kg/m    lb/ft, kg/m */
    DT_KIND_FORCE,       /* N       lbf, klbf, N, kN, daN */
    DT_KIND_ANGLE,       /* rad     deg, rad */
    DT_KIND_VOLUME,      /* m3      bbl, m3, gal, ft3, L */
    DT_KIND_YIELD, /* m3/kg   ft3/sk, gal/sk, L/kg, m3/t, L/100kg (a sack is 94 lb, API Spec 10A) */
    DT_KIND_FRACTION,    /* 1       % */
    DT_KIND_FLOW,        /* m3/s    bbl/min, gal/min, m3/min, L/min, L/s */
    DT_KIND_TIME,        /* s       h, min, s, d */
    DT_KIND_SPEED,       /* m/s     ft/min, ft/s, ft/h, m/min, m/s, m/h */
    DT_KIND_VISCOSITY,   /* Pa s    cP, mPa.s, Pa.s */
    DT_KIND_YIELD_POINT, /* Pa      lbf/100ft2, Pa */
    DT_KIND_COUNT
} dt_kind;

/** One unit of one kind: SI value = number * factor. All our kinds have zero offset. */
typedef struct dt_unit {
    dt_kind kind;
    const char *symbol;
    double factor;
} dt_unit;

/** The table of all units; *count receives its length. Static storage. */
const dt_unit *dt_unit_table(size_t *count);

/** The unit of that kind and symbol (exact spelling), or NULL. */
const dt_unit *dt_unit_find(dt_kind kind, const char *symbol);

/** "ft, m": the symbols a kind allows, for messages. Static storage. */
const char *dt_unit_choices(dt_kind kind);

typedef enum dt_parse {
    DT_PARSE_OK,
    DT_PARSE_NO_NUMBER,   /* does not start with a plain decimal number */
    DT_PARSE_NOT_FINITE,  /* overflow, NaN, INF */
    DT_PARSE_NO_UNIT,     /* a number alone */
    DT_PARSE_UNKNOWN_UNIT /* a unit, but not one of this kind */
} dt_parse;

/**
 * Reads "12.4 ppg" (white space between number and unit optional, decimal point
 * always '.', whatever the locale; no digit grouping; no hexadecimal, no NaN).
 * @param[out] si  value in the SI unit of the kind; untouched unless DT_PARSE_OK.
 */
dt_parse dt_quantity_parse(const char *text, dt_kind kind, double *si);

/** Reads a bare number under the same rules; DT_PARSE_OK, _NO_NUMBER or _NOT_FINITE. */
dt_parse dt_number_parse(const char *text, double *value);

/** What people read: field (ft, in, ppg, psi, lb/ft) or metric (m, mm or in, sg, bar, kg/m). */
typedef enum dt_display { DT_DISPLAY_FIELD, DT_DISPLAY_METRIC } dt_display;

/** SI value of a kind in the display system, as a number. */
double dt_display_value(dt_display display, dt_kind kind, double si);

/** Symbol the display system uses for a kind, static storage. */
const char *dt_display_unit(dt_display display, dt_kind kind);

/**
 * Writes value and unit, "12.41 ppg", with the digits customary for the kind
 * (field: ft 0, in 3, ppg 2, psi 0, lb/ft 2, klbf 0, deg 2; metric: m 1, mm 1,
 * sg 3, bar 1, kg/m 2, kN 0, deg 2). Locale-proof. Returns the length as snprintf does.
 */
int dt_display_text(dt_display display, dt_kind kind, double si, char *buffer, size_t size);

/**
 * Writes a diameter as the trade says it: "13-3/8", "9-5/8", "7", "20" when it is
 * within 0.0005 in of a multiple of 1/16 in, "7.656" otherwise. Always inches, no unit.
 */
int dt_inch_text(double diameter_m, char *buffer, size_t size);

#endif
