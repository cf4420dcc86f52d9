/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "slow.h"

/* ---- findings -------------------------------------------------------------------------------- */

void fault(verdict *v, const char *check, int string, const char *format, ...)
{
    va_list arguments;
    ++v->faults;
    if (v->count == sizeof v->items / sizeof *v->items) return;
    v->items[v->count].check = check;
    v->items[v->count].string = string;
    va_start(arguments, format);
    (void)vsnprintf(v->items[v->count].text, sizeof v->items[v->count].text, format, arguments);
    va_end(arguments);
    ++v->count;
}

bool agree(verdict *v, const char *check, int string, const char *what, double claimed,
           double found, double tolerance)
{
    ++v->compared;
    if (isnan(claimed) && isnan(found)) return true;
    if (isinf(claimed) && isinf(found) && (claimed > 0) == (found > 0)) return true;
    if (isfinite(tolerance) && fabs(claimed - found) <= tolerance) return true;
    fault(v, check, string, "%s: %.10g said, %.10g found, %.3g allowed", what, claimed, found,
          tolerance);
    return false;
}

bool demand_true(verdict *v, const char *check, int string, bool holds, const char *what)
{
    ++v->compared;
    if (!holds) fault(v, check, string, "%s", what);
    return holds;
}

/* ---- csv ------------------------------------------------------------------------------------- */

enum { CELLS = 16 };

/** Splits a line in place. */
static size_t split(char *line, char *cells[CELLS])
{
    size_t n = 0;
    for (char *at = line; at && n < CELLS;) {
        cells[n++] = at;
        at = strchr(at, ',');
        if (at) *at++ = '\0';
    }
    return n;
}

static double number(const char *cell)
{
    char *end = NULL;
    double value = strtod(cell, &end);
    return end == cell ? NAN : value;
}

/** What does not fit is cut off, and found by no name then. */
static void copy_text(char *to, size_t room, const char *from)
{
    size_t length = strlen(from) < room ? strlen(from) : room - 1;
    memcpy(to, from, length);
    to[length] = '\0';
}

const char *rows_thread_name(dt_thread thread)
{
    static const char *const names[] = {"STC",   "LTC",        "BTC",      "PE",
                                        "flush", "semi-flush", "gas-tight"};
    return thread < sizeof names / sizeof *names ? names[thread] : "";
}

static bool starts_with(const char *text, const char *name)
{
    size_t length = strlen(name);
    return strncmp(text, name, length) == 0 && strchr(";(", text[length]); /* or the end */
}

/** Copies the items of a list "A;B(x/y);C" that are threads of a set. */
static void copy_threads(char *to, size_t room, const char *list, unsigned set)
{
    size_t used = 0;
    to[0] = '\0';
    for (const char *at = list; at && *at;) {
        size_t length = strcspn(at, ";");
        for (int t = 0; t < THREADS; ++t)
            if ((set & 1u << t) && starts_with(at, rows_thread_name((dt_thread)t)) &&
                used + length + 2 < room) {
                if (used) to[used++] = ';';
                memcpy(to + used, at, length);
                to[used += length] = '\0';
            }
        at += length;
        if (*at == ';') ++at;
    }
}

static void add_pipe(rows *r, row_pipe pipe, const char *threads, unsigned set, double coupling)
{
    pipe.coupling = coupling;
    copy_threads(pipe.threads, sizeof pipe.threads, threads, set);
    if (pipe.threads[0] && r->pipe_count < ROW_PIPES) r->pipes[r->pipe_count++] = pipe;
}

/** One pipe for each outside diameter of the connections. */
static void add_pipes(rows *r, row_pipe pipe, const char *threads)
{
    const unsigned api = 1u << DT_STC | 1u << DT_LTC | 1u << DT_BTC, plain = 1u << DT_PLAIN_END;
    const unsigned tight = 1u << DT_GAS_TIGHT;
    double coupling = pipe.coupling;
    char own[96];
    copy_threads(own, sizeof own, threads, api);
    pipe.api = own[0] != '\0';
    add_pipe(r, pipe, threads, pipe.api ? api | plain | tight : plain, pipe.api ? coupling : NAN);
    add_pipe(r, pipe, threads, 1u << DT_FLUSH, NAN);
    add_pipe(r, pipe, threads, 1u << DT_SEMI_FLUSH,
             r->connections[DT_SEMI_FLUSH - DT_FLUSH].od * pipe.od);
    if (!pipe.api) add_pipe(r, pipe, threads, tight, coupling);
}

static bool add_row(rows *r, int kind, char *cells[CELLS], size_t n)
{
    if (kind == 0 && n >= 9 && r->pipe_count + 4 <= ROW_PIPES) {
        row_pipe p = {.od = number(cells[0]),
                      .weight = number(cells[1]),
                      .wall = number(cells[2]),
                      .drift = number(cells[3]),
                      .special = number(cells[4]),
                      .coupling = number(cells[5])};
        copy_text(p.grades, sizeof p.grades, cells[8]);
        add_pipes(r, p, cells[7]);
    } else if (kind == 1 && n >= 4 && r->grade_count < 32) {
        row_grade *g = &r->grades[r->grade_count++];
        copy_text(g->name, sizeof g->name, cells[0]);
        g->yield_psi = number(cells[1]);
        g->tensile_psi = number(cells[3]);
    } else if (kind == 2 && n >= 9 && r->thread_count < 32) {
        double d[9];
        for (size_t i = 0; i < 9; ++i)
            d[i] = number(cells[i]);
        r->threads[r->thread_count++] =
            (row_thread){d[0], d[1], d[2], d[3], d[4], d[5], d[6], d[7], d[8]};
    } else if (kind == 3 && n >= 5 && r->slurry_count < 64) {
        row_slurry *s = &r->slurries[r->slurry_count++];
        copy_text(s->name, sizeof s->name, cells[0]);
        s->density_kgm3 = number(cells[1]) * SLOW_PPG;
        s->yield_m3 = number(cells[2]) * SLOW_FT * SLOW_FT * SLOW_FT;
        s->water_m3 = number(cells[3]) * SLOW_GAL;
        s->sack_kg = number(cells[4]) * SLOW_LB;
    } else if (kind == 4 && n >= 2 && r->bit_count < 128) {
        r->bits[r->bit_count].in = number(cells[0]);
        r->bits[r->bit_count++].rarity = strcmp(cells[1], "standard") == 0      ? 0
                                         : strcmp(cells[1], "less-common") == 0 ? 1
                                                                                : 2;
    } else if (kind == 5 && n >= 6 && r->connection_count < 3 &&
               strcmp(cells[0], rows_thread_name((dt_thread)(DT_FLUSH + r->connection_count))) ==
                   0) {
        r->connections[r->connection_count++] =
            (row_connection){number(cells[1]), number(cells[2]), number(cells[3]), number(cells[4]),
                             strcmp(cells[5], "yes") == 0};
    } else {
        return false;
    }
    return true;
}

bool rows_read(const char *folder, rows *out)
{
    static const char *const names[] = {"casing",   "grades", "threads",
                                        "slurries", "bits",   "connections"};
    static const int order[] = {5, 0, 1, 2, 3, 4}; /* pipe is as wide as its connections */
    *out = (rows){.pipe_count = 0};
    for (int i = 0; i < 6; ++i) {
        const int k = order[i];
        char path[1024], line[1024];
        snprintf(path, sizeof path, "%s/%s.csv", folder, names[k]);
        FILE *file = fopen(path, "r");
        if (!file) return false;
        bool head = true, ok = true;
        while (ok && fgets(line, sizeof line, file)) {
            char *cells[CELLS];
            if (line[0] == '#') continue;
            line[strcspn(line, "\r\n")] = '\0';
            if (head)
                head = false;
            else if (line[0])
                ok = add_row(out, k, cells, split(line, cells));
        }
        fclose(file);
        if (!ok) return false;
    }
    return out->pipe_count && out->grade_count && out->thread_count && out->slurry_count &&
           out->bit_count && out->connection_count == 3;
}

const row_grade *rows_grade(const rows *r, const char *name)
{
    for (size_t i = 0; i < r->grade_count; ++i)
        if (strcmp(r->grades[i].name, name) == 0) return &r->grades[i];
    return NULL;
}

/** One of a list "A;B;C"; length of the item, and what follows in brackets. */
static const char *find_item(const char *list, const char *name)
{
    size_t length = strlen(name);
    for (const char *at = list; at; at = strchr(at, ';'), at = at ? at + 1 : NULL)
        if (strncmp(at, name, length) == 0 &&
            (at[length] == '\0' || at[length] == ';' || at[length] == '('))
            return at + length;
    return NULL;
}

bool rows_has_grade(const row_pipe *pipe, const char *grade)
{
    return find_item(pipe->grades, grade) != NULL;
}

bool rows_has_thread(const row_pipe *pipe, const char *grade, dt_thread thread)
{
    const char *after = find_item(pipe->threads, rows_thread_name(thread));
    if (!after) return false;
    if (*after != '(') return true;
    size_t length = strlen(grade);
    for (const char *at = after + 1; *at && *at != ')'; ++at)
        if ((at == after + 1 || at[-1] == '/') && strncmp(at, grade, length) == 0 &&
            (at[length] == '/' || at[length] == ')'))
            return true;
    return false;
}

/** The row with the pipe's thread, or any of its size and weight. */
const row_pipe *rows_pipe(const rows *r, const claimed_pipe *pipe)
{
    const row_pipe *any = NULL;
    for (size_t i = 0; i < r->pipe_count; ++i) {
        const row_pipe *row = &r->pipes[i];
        if (!(fabs(row->od - pipe->od_m / SLOW_IN) < 1e-4 &&
              fabs(row->weight - pipe->weight_kgm / SLOW_LB * SLOW_FT) < 1e-4))
            continue;
        if (find_item(row->threads, rows_thread_name(pipe->thread))) return row;
        if (!any) any = row;
    }
    return any;
}

/* ---- the hole's course ----------------------------------------------------------------------- */

#define COURSE_STEP 1.0 /* m; Simpson's rule on it errs by 1e-13 m and less at 5 deg/100 ft */

typedef struct vector {
    double down, north, east;
} vector;

static vector tangent(const dt_station *s)
{
    return (vector){cos(s->inclination_rad), sin(s->inclination_rad) * cos(s->azimuth_rad),
                    sin(s->inclination_rad) * sin(s->azimuth_rad)};
}

/** Angle between two directions, from the cross product, which keeps its digits when small. */
static double angle_of(vector a, vector b)
{
    vector x = {a.north * b.east - a.east * b.north, a.east * b.down - a.down * b.east,
                a.down * b.north - a.north * b.down};
    return atan2(sqrt(x.down * x.down + x.north * x.north + x.east * x.east),
                 a.down * b.down + a.north * b.north + a.east * b.east);
}

/** Vertical part of the tangent a part of the way along an arc: turned evenly in its plane. */
static double down_at(double a, double b, double angle, double part)
{
    if (angle < 1e-9) return a + part * (b - a);
    return (sin((1 - part) * angle) * a + sin(part * angle) * b) / sin(angle);
}

/** Between points the cubic that has both depths and both slopes. */
static double cubic(const course *c, size_t i, double s)
{
    double h = c->md[i] - c->md[i - 1], a = c->tvd[i - 1], b = c->tvd[i];
    return a + h * s * c->down[i - 1] +
           s * s *
               ((3 - 2 * s) * (b - a) - h * (2 - s) * c->down[i - 1] + h * (s - 1) * c->down[i]);
}

/** Depth at which the hole turns upwards before a point; none: less than any depth. */
static double crest_of(const course *c, size_t i)
{
    if (!(c->down[i - 1] > 0 && c->down[i] < 0)) return -INFINITY;
    return cubic(c, i, c->down[i - 1] / (c->down[i - 1] - c->down[i]));
}

bool course_make(const dt_well *well, course *out)
{
    *out = (course){.count = 0};
    if (well->station_count == 0) return true;
    size_t room = 1;
    for (size_t i = 1; i < well->station_count; ++i)
        room += (size_t)ceil((well->stations[i].md_m - well->stations[i - 1].md_m) / COURSE_STEP);
    out->md = calloc(room, sizeof(double));
    out->tvd = calloc(room, sizeof(double));
    out->down = calloc(room, sizeof(double));
    out->bend = calloc(room, sizeof(double));
    out->reached = calloc(room, sizeof(double));
    if (!out->md || !out->tvd || !out->down || !out->bend || !out->reached) {
        course_free(out);
        return false;
    }
    out->down[0] = cos(well->stations[0].inclination_rad);
    out->count = 1;
    for (size_t i = 1; i < well->station_count; ++i) {
        const dt_station *a = &well->stations[i - 1], *b = &well->stations[i];
        vector ta = tangent(a), tb = tangent(b);
        double length = b->md_m - a->md_m, angle = angle_of(ta, tb);
        size_t steps = (size_t)ceil(length / COURSE_STEP);
        for (size_t k = 1; k <= steps; ++k) {
            size_t n = out->count++;
            double from = (double)(k - 1) / (double)steps, to = (double)k / (double)steps;
            out->md[n] = k == steps ? b->md_m : a->md_m + length * to;
            out->down[n] = down_at(ta.down, tb.down, angle, to);
            double middle = down_at(ta.down, tb.down, angle, (from + to) / 2);
            out->tvd[n] = out->tvd[n - 1] + length / (double)steps / 6 *
                                                (out->down[n - 1] + 4 * middle + out->down[n]);
            out->bend[n] = angle / length;
        }
    }
    for (size_t n = 1; n < out->count; ++n)
        out->reached[n] = fmax(fmax(out->reached[n - 1], out->tvd[n]), crest_of(out, n));
    if (!isnan(well->objective_md_m)) {
        out->toe_md = well->objective_md_m;
        out->toe_tvd = well->objective_m;
    }
    return true;
}

void course_free(course *c)
{
    free(c->md);
    free(c->tvd);
    free(c->down);
    free(c->bend);
    free(c->reached);
    *c = (course){.count = 0};
}

/** Point at or below a depth; count when deeper than the last. */
static size_t point_below(const double *depth, size_t count, double at)
{
    size_t low = 0, high = count;
    while (low < high) {
        size_t middle = (low + high) / 2;
        if (depth[middle] < at)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

double course_down(const course *c, double md)
{
    if (c->count == 0) return 1;
    size_t i = point_below(c->md, c->count, md);
    if (i == 0) return c->down[0];
    if (i == c->count) return c->down[c->count - 1];
    /* a straight line between the points would bend where they are: near the vertical the drag of
     * a string that is pulled came out 0.04 % too large */
    double length = c->md[i] - c->md[i - 1], part = (md - c->md[i - 1]) / length;
    return down_at(c->down[i - 1], c->down[i], c->bend[i] * length, part);
}

double course_here(const course *c, double md)
{
    if (c->count == 0) return md;
    size_t i = point_below(c->md, c->count, md);
    if (i == 0) return md * c->down[0];
    if (i == c->count)
        return c->tvd[c->count - 1] + (md - c->md[c->count - 1]) * c->down[c->count - 1];
    return cubic(c, i, (md - c->md[i - 1]) / (c->md[i] - c->md[i - 1]));
}

double course_tvd(const course *c, double md)
{
    double here = course_here(c, md);
    if (c->count == 0) return here;
    size_t i = point_below(c->md, c->count, md);
    return i == 0 ? here
                  : fmax(here, fmax(c->reached[i - 1],
                                    course_down(c, md) < 0 && i < c->count ? crest_of(c, i) : 0));
}

double course_md(const course *c, double tvd)
{
    if (c->count == 0 || isnan(tvd)) return tvd;
    if (c->toe_md > 0 && tvd >= c->toe_tvd - 1e-6) return c->toe_md;
    size_t i = point_below(c->reached, c->count, tvd);
    if (i == c->count)
        return c->md[c->count - 1] + (tvd - c->tvd[c->count - 1]) / c->down[c->count - 1];
    if (i == 0) return tvd;
    double low = c->md[i - 1], high = c->md[i];
    for (int n = 0; n < 60; ++n) {
        double middle = (low + high) / 2;
        if (course_tvd(c, middle) < tvd)
            low = middle;
        else
            high = middle;
    }
    return (low + high) / 2;
}

double course_bend(const course *c, double md, bool above, bool below)
{
    if (c->count == 0) return 0;
    size_t i = point_below(c->md, c->count, md - 1e-5), k = point_below(c->md, c->count, md + 1e-5);
    return fmax(above && i < c->count ? c->bend[i] : 0, below && k < c->count ? c->bend[k] : 0);
}

/* ---- all ------------------------------------------------------------------------------------- */

bool recheck(const dt_well *well, const rows *r, const claims *said, bool brief, verdict *out)
{
    stops found = {{{STOP_UNSEEN}}};
    context c = {.well = well, .rows = r, .claims = said, .v = out, .stops = &found};
    *out = (verdict){.count = 0};
    /* that there is no ladder hangs on all of them, and on cuts that are not exact */
    if (said->outcome == OUTCOME_REFUSED || said->outcome == OUTCOME_NO_LADDER) return true;
    if (!demand_true(out, "reader", -1, well->pore.count && well->fracture.count,
                     "a well without pore pressure or fracture gradient was let in"))
        return true;
    if (!course_make(well, &c.course)) return false;
    if (c.course.toe_md > 0)
        agree(out, "reader", -1, "deepest down to the toe, m", well->objective_m,
              course_tvd(&c.course, c.course.toe_md), 1e-5);
    if (said->outcome == OUTCOME_NO_SEATS) {
        check_no_seats(&c);
    } else {
        check_seats(&c);
        if (said->outcome == OUTCOME_NO_NEST) check_no_nest(&c);
        if (said->outcome == OUTCOME_NO_STRENGTH) check_no_strength(&c);
    }
    /* the slow ones last */
    static void (*const checks[])(const context *) = {
        check_nest,    check_liners,   check_costs,  check_wellhead, check_kick,
        check_running, check_strength, check_cement, check_sizes,    check_stoppers,
    };
    for (size_t i = 0; said->outcome == OUTCOME_PROGRAM && i < sizeof checks / sizeof *checks; ++i)
        if (!brief || out->faults == 0) checks[i](&c);
    course_free(&c.course);
    return true;
}
