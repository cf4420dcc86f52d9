/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PUBLIC_BASE_H
#define DRAWTUBE_PUBLIC_BASE_H

/*
 * What every header of drawtube needs: statuses, quantities, texts, progress.
 *
 * The library works in SI: m, Pa, kg/m3, kg/m, N, rad, m3, s; a name ends in its unit. A figure
 * that is not there is NAN. It never prints, exits or aborts, keeps no state between calls, and may
 * be used from several threads at once as long as each handle is used by one of them.
 */

#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/** Marks what a program may call; all else in the libraries is hidden. */
#if defined(__GNUC__)
#define DT_API __attribute__((visibility("default")))
#else
#define DT_API
#endif

/** Release of the library that runs, "0.1.0"; static storage. */
DT_API const char *dt_version(void);

/* ---- statuses ---------------------------------------------------------------------------------
 */

/** What every fallible function returns. Results come by pointer and are left untouched unless the
 * status is DT_OK. */
#define DT_STATUS_LIST(X)                                                                          \
    X(OK, "done")                                                                                  \
    X(E_DOMAIN, "an argument is outside the range the formula was made for")                       \
    X(E_INPUT, "the input was refused; see the report")                                            \
    X(E_NONE, "the input is valid but no program exists")                                          \
    X(E_MEMORY, "out of memory")                                                                   \
    X(E_IO, "a file could not be read or written")                                                 \
    X(E_STOPPED, "stopped by the caller")

typedef enum dt_status {
#define DT_STATUS_ENUM(name, text) DT_##name,
    DT_STATUS_LIST(DT_STATUS_ENUM)
#undef DT_STATUS_ENUM
} dt_status;

/** One sentence on a status, in English, static storage. */
DT_API const char *dt_status_text(dt_status status);

/* ---- quantities -------------------------------------------------------------------------------
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

/** A mud weight, an equivalent mud weight and a pressure gradient are one kind, density:
 * gradient = density * DT_STANDARD_GRAVITY. */
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

/** "ft, m": the symbols a kind allows, for messages. Static storage. */
DT_API const char *dt_unit_choices(dt_kind kind);

typedef enum dt_parse {
    DT_PARSE_OK,
    DT_PARSE_NO_NUMBER,   /* does not start with a plain decimal number */
    DT_PARSE_NOT_FINITE,  /* overflow, NaN, INF */
    DT_PARSE_NO_UNIT,     /* a number alone */
    DT_PARSE_UNKNOWN_UNIT /* a unit, but not one of this kind */
} dt_parse;

/**
 * Reads "12.4 ppg" (white space between number and unit optional, decimal point
 * always '.', whatever the locale; no digit grouping; no hexadecimal, no NaN). Units are read as
 * people write them, in any case ("PPG", "lb/gal", "feet"); a diameter may have a fraction of
 * an inch ("9-5/8 in").
 * @param[out] si  value in the SI unit of the kind; untouched unless DT_PARSE_OK.
 */
DT_API dt_parse dt_quantity_parse(const char *text, dt_kind kind, double *si);

/** Reads a bare number under the same rules; DT_PARSE_OK, _NO_NUMBER or _NOT_FINITE. */
DT_API dt_parse dt_number_parse(const char *text, double *value);

/** What people read: field (ft, in, ppg, psi, lb/ft), metric (m, mm or in, sg, bar, kg/m), or
 * mixed: metric, but pipe and holes in inches and lb/ft. */
typedef enum dt_display { DT_DISPLAY_FIELD, DT_DISPLAY_METRIC, DT_DISPLAY_MIXED } dt_display;

/**
 * Writes value and unit, "12.41 ppg", with the digits customary for the kind
 * (field: ft 0, in 3, ppg 2, psi 0, lb/ft 2, klbf 0, deg 2; metric: m 1, mm 1,
 * sg 3, bar 1, kg/m 2, kN 0, deg 2; mixed: m 1, in 3, sg 3, bar 1, lb/ft 2, kN 0). Locale-proof.
 * Returns the length as snprintf does.
 */
DT_API int dt_display_text(dt_display display, dt_kind kind, double si, char *buffer, size_t size);

/**
 * Writes a diameter as the trade says it: "13-3/8", "9-5/8", "7", "20" when it is
 * within 0.0005 in of a multiple of 1/16 in, "7.656" otherwise. Always inches, no unit.
 * Returns the length as snprintf does.
 */
DT_API int dt_inch_text(double diameter_m, char *buffer, size_t size);

/* ---- texts ------------------------------------------------------------------------------------
 */

/** Bytes made by the library; owned by the caller, freed by dt_text_free(). NUL-terminated. */
typedef struct dt_text {
    char *bytes;
    size_t size; /* without the NUL */
} dt_text;

/** Frees the bytes; NULL, and a text that is empty, are allowed. */
DT_API void dt_text_free(dt_text *text);

/* ---- progress ---------------------------------------------------------------------------------
 */

/** Tells how far long work has come, and asks whether to go on. */
typedef struct dt_progress {
    /** Called from the thread that called the library; false stops. `total` is 0 where it is not
     * known beforehand. */
    bool (*go_on)(void *context, size_t done, size_t total);
    void *context; /* handed through */
} dt_progress;

#ifdef __cplusplus
}
#endif

#endif
