/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_JSON_PARTS_H
#define DRAWTUBE_RENDER_JSON_PARTS_H

#include <jansson.h>

#include "data.h"
#include "units.h"

/*
 * Private to render/: what the sources that write JSON share.
 *
 * A value that there was no memory for is NULL; what NULL is put into is freed and becomes NULL,
 * too. So a tree is whole or not there, and only dt_json_take() at its root has to look.
 */

/* Field units, which the keys name. */
static inline double feet(double m)
{
    return m / DT_M_PER_FT;
}
static inline double inches(double m)
{
    return m / DT_M_PER_IN;
}
static inline double psi(double pa)
{
    return pa / DT_PA_PER_PSI;
}
static inline double ppg(double kgm3)
{
    return kgm3 / DT_KGM3_PER_PPG;
}
static inline double bbl(double m3)
{
    return m3 / DT_M3_PER_BBL;
}
static inline double klbf(double n)
{
    return n / (1000 * DT_N_PER_LBF);
}
static inline double hours(double s)
{
    return s / 3600;
}

/** Adds a value, which it takes over. */
void dt_json_put_new(json_t **object, const char *key, json_t *value);
void dt_json_append(json_t **list, json_t *value);

/** Adds a number, or leaves the key out when there is none. A missing key is never a zero. */
void dt_json_put(json_t **object, const char *key, double value);
void dt_json_put_count(json_t **object, const char *key, size_t count);
/** Adds a text, or leaves the key out when it is NULL. */
void dt_json_put_text(json_t **object, const char *key, const char *text);

/** Writes a finished tree with a newline at its end, and frees it. DT_OK or DT_E_MEMORY. */
dt_status dt_json_take(json_t *root, size_t indent, dt_text *out);

/** Offset wells, and the tables that were made of them. */
json_t *dt_json_offsets(const dt_well *well);

/** program.json as a tree, owned by the caller; NULL but for DT_OK. */
dt_status dt_json_program(const dt_program *program, json_t **out);

/** "cement": an object, or JSON null when the string is not cemented. A new reference. */
json_t *dt_json_cement(const dt_job *job);
/**
 * "running". What only rock asks for is left out when it is not run into open hole: a tie-back.
 * A new reference.
 */
json_t *dt_json_running(const dt_job *job, bool in_open_hole);

#endif
