/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "slow.h"

/* Ratings by API Bull 5C3 (1994) and ISO/TR 10400:2007 as docs/strength.md writes them, and which
 * pipes of the catalogue's files a string may be made of. */

/* ---- ratings --------------------------------------------------------------------------------- */

double slow_collapse_pa(double D, double t, double yield_psi, double stress_psi)
{
    double x = fmax(stress_psi, 0) / yield_psi;
    if (x > 1) return 0;
    double Y = yield_psi * (sqrt(1 - 0.75 * x * x) - 0.5 * x), s = D / t;
    if (Y < 20000) return 0; /* below this the regimes lose their order: counts as none */
    double A = 2.8762 + Y * (0.10679e-5 + Y * (0.21301e-10 - Y * 0.53132e-16));
    double B = 0.026233 + 0.50609e-6 * Y;
    double C = -465.93 + Y * (0.030867 + Y * (-0.10483e-7 + Y * 0.36989e-13));
    double r = B / A, k = 3 * r / (2 + r);
    double F = 46.95e6 * k * k * k / (Y * (k - r) * pow(1 - k, 2)), G = F * r;
    double yield_to = (sqrt(pow(A - 2, 2) + 8 * (B + C / Y)) + (A - 2)) / (2 * (B + C / Y));
    double plastic_to = Y * (A - F) / (C + Y * (B - G)), transition_to = (2 + r) / (3 * r);
    double psi = s <= yield_to        ? 2 * Y * (s - 1) / (s * s)
                 : s <= plastic_to    ? Y * (A / s - B) - C
                 : s <= transition_to ? Y * (F / s - G)
                                      : 46.95e6 / (s * pow(s - 1, 2));
    return psi * SLOW_PSI;
}

static const row_thread *thread_row(const rows *r, double D)
{
    for (size_t i = 0; i < r->thread_count; ++i)
        if (fabs(r->threads[i].od - D) < 0.0005) return &r->threads[i];
    return NULL;
}

/** A connection that no formula gives: parts of what the unworn body bears. */
static void other_joint(const row_connection *row, const row_pipe *pipe, const row_grade *grade,
                        double *burst_psi, double *pull_lbf)
{
    double D = pipe->od, d = D - 2 * pipe->wall, Yp = grade->yield_psi;
    *burst_psi = row->burst * 0.875 * 2 * Yp * pipe->wall / D;
    *pull_lbf = row->tension * Yp * SLOW_PI / 4 * (D * D - d * d);
}

/** Coupling: pressure at which it yields or leaks, and the pull of the joint, psi and lbf. */
static bool joint_of(const row_thread *row, const row_pipe *pipe, const row_grade *grade,
                     dt_thread thread, double *burst_psi, double *pull_lbf)
{
    double D = pipe->od, d = D - 2 * pipe->wall, Up = grade->tensile_psi, Yp = grade->yield_psi;
    double W = pipe->coupling > D ? pipe->coupling : row->coupling, quarter = SLOW_PI / 4;
    bool small = D <= 7.0;
    if (thread == DT_BTC) {
        double T = D >= 16 ? 0.0833 : 0.0625, I = D >= 16 ? 0.375 : D == 4.5 ? 0.4 : 0.5;
        double d1 = row->e7 - (row->l7 + I) * T + 0.062, Ap = quarter * (D * D - d * d);
        double in_pipe = 0.95 * Ap * Up * (1.008 - 0.0396 * (1.083 - Yp / Up) * D);
        *pull_lbf = fmin(in_pipe, 0.95 * quarter * (W * W - d1 * d1) * Up);
        *burst_psi = Yp * (W - d1) / W;
        return d1 > 0 && d1 < W;
    }
    double L4 = thread == DT_LTC             ? row->ltc
                : pipe->weight <= row->light ? row->light_stc
                                             : row->stc;
    double L = L4 - (small ? 0.704 : 0.709), L1 = L4 - (small ? 1.079 : 1.146);
    double d1 = row->e1 - (L1 + (small ? 0.375 : 0.4375)) / 16 + 0.10825 - 0.028;
    double Ajp = quarter * (pow(D - 0.1425, 2) - d * d), N = small ? 3 : 3.5;
    double jump =
        0.95 * Ajp * L * (0.74 * pow(D, -0.59) * Up / (0.5 * L + 0.14 * D) + Yp / (L + 0.14 * D));
    *pull_lbf = fmin(fmin(0.95 * Ajp * Up, jump), 0.95 * quarter * (W * W - d1 * d1) * Up);
    double leak = 30e6 * 0.0625 * N * 0.125 * (W * W - row->e1 * row->e1) / (2 * row->e1 * W * W);
    *burst_psi = fmin(Yp * (W - d1) / W, leak);
    return L4 > 0 && d1 > 0 && d1 < W;
}

bool strength_of(const rows *r, const claimed_pipe *pipe, double wear_m, strength *out)
{
    const row_pipe *row = rows_pipe(r, pipe);
    const row_grade *grade = rows_grade(r, pipe->grade);
    if (!row || !grade) return false;
    strength s = {.D = row->od, .t = row->wall - wear_m / SLOW_IN, .yield_psi = grade->yield_psi};
    double id = s.D - 2 * s.t, area = SLOW_PI / 4 * (s.D * s.D - id * id);
    s.outer_m2 = SLOW_PI / 4 * s.D * s.D * SLOW_IN * SLOW_IN;
    s.inner_m2 = SLOW_PI / 4 * id * id * SLOW_IN * SLOW_IN;
    s.area_m2 = s.outer_m2 - s.inner_m2;
    s.weight_kgm = row->weight * SLOW_LB / SLOW_FT;
    double burst = 0.875 * 2 * s.yield_psi * s.t / s.D, pull = s.yield_psi * area;
    s.collapse_part = 1;
    if (pipe->thread >= DT_STATED) return false;
    if (pipe->thread >= DT_FLUSH) {
        const row_connection *connection = &r->connections[pipe->thread - DT_FLUSH];
        double coupling, joint;
        other_joint(connection, row, grade, &coupling, &joint);
        burst = fmin(burst, coupling);
        pull = fmin(pull, joint);
        s.collapse_part = connection->collapse;
    } else if (pipe->thread != DT_PLAIN_END) {
        const row_thread *threads = thread_row(r, row->od);
        double coupling, joint;
        if (!threads || !joint_of(threads, row, grade, pipe->thread, &coupling, &joint))
            return false;
        burst = fmin(burst, coupling);
        pull = fmin(pull, joint);
    }
    s.burst_pa = burst * SLOW_PSI;
    s.joint_n = pull * SLOW_LBF;
    *out = s;
    return s.t > 0;
}

/* ---- which pipes there are ------------------------------------------------------------------- */

/* words of a basis, in their order */
enum { API_ALONE, WHERE_NEEDED, ANY_CONNECTION };
enum { TIGHT_BY_PRESSURE, NEVER_TIGHT, ALWAYS_TIGHT };

/** Degrees Celsius from which a grade may meet hydrogen sulphide, -INFINITY at any, NAN at none: as
 * docs/strength.md has it from ISO 15156-2. */
static double sour_from(const char *grade)
{
    static const char *const fit[] = {"B",   "X42", "X46", "X52", "H40", "J55",
                                      "K55", "M65", "L80", "C90", "T95"};
    static const struct {
        const char *grade;
        double celsius;
    } warm[] = {{"R95", 65}, {"N80", 80}, {"P110", 80}, {"Q125", 107}};
    for (size_t i = 0; i < sizeof fit / sizeof *fit; ++i)
        if (strcmp(fit[i], grade) == 0) return -INFINITY;
    for (size_t i = 0; i < sizeof warm / sizeof *warm; ++i)
        if (strcmp(warm[i].grade, grade) == 0) return warm[i].celsius;
    return NAN;
}

static bool sour_asked(const dt_well *w)
{
    return w->design.given ? w->design.sour : slow_said(w, DT_CUSTOM_DESIGN_SOUR, 0) == 1;
}

double slow_sour_below(const dt_well *w, const char *grade)
{
    const dt_thermal *t = &w->thermal;
    double from = sour_asked(w) ? sour_from(grade) : -INFINITY;
    if (from < -1000) return -INFINITY;
    if (isnan(from) || slow_said(w, DT_CUSTOM_DESIGN_SOUR_WARM, 0) != 1) return INFINITY;
    /* up from the deepest point: the last metre that is warm enough */
    if (t->count == 0 || t->points[t->count - 1].celsius < from) return INFINITY;
    double below = t->points[t->count - 1].tvd_m;
    for (size_t i = t->count; i-- > 1;) {
        const dt_temperature_point *a = &t->points[i - 1], *b = &t->points[i];
        if (a->celsius < from)
            return b->tvd_m -
                   (b->celsius - from) / (b->celsius - a->celsius) * (b->tvd_m - a->tvd_m);
        below = a->tvd_m;
    }
    return below;
}

static bool has_word(const char *list, const char *word)
{
    size_t length = strlen(word);
    for (const char *at = strstr(list, word); at; at = strstr(at + 1, word))
        if ((at == list || at[-1] == ' ') && (at[length] == ' ' || !at[length])) return true;
    return false;
}

bool slow_stocked(const dt_well *w, const row_pipe *row, const char *grade, dt_thread thread)
{
    size_t count;
    const dt_stock_custom *list = slow_said_rows(w, DT_TABLE_STOCK, &count);
    for (size_t i = 0; i < count; ++i)
        if (fabs(list[i].od_m / SLOW_IN - row->od) < 0.0005 &&
            fabs(list[i].weight_kgm / SLOW_LB * SLOW_FT - row->weight) < 0.005 &&
            has_word(list[i].grade, grade) && has_word(list[i].thread, rows_thread_name(thread)))
            return true;
    return false;
}

bool slow_stock_first(const dt_well *w)
{
    return slow_said(w, DT_CUSTOM_PIPE_STOCK, 0) == 1;
}

static bool has_price(const dt_well *w, const char *grade, const char *thread)
{
    for (size_t i = 0; grade && w->prices_given && i < w->prices.pipe_count; ++i)
        if (w->prices.pipes[i].grade && strcmp(w->prices.pipes[i].grade, grade) == 0) return true;
    for (size_t i = 0; thread && w->prices_given && i < w->prices.thread_count; ++i)
        if (w->prices.threads[i].thread && strcmp(w->prices.threads[i].thread, thread) == 0)
            return true;
    return false;
}

static int tight_word(const dt_well *w)
{
    return w->design.given ? (int)w->design.gas_tight
                           : (int)slow_said(w, DT_CUSTOM_DESIGN_GAS_TIGHT, TIGHT_BY_PRESSURE);
}

bool slow_tight_asked(const dt_well *w, double gas_pa, bool of_pay)
{
    int word = tight_word(w);
    double above = slow_said(w, DT_CUSTOM_DESIGN_GAS_TIGHT_ABOVE, 0);
    if (word == ALWAYS_TIGHT) return !isnan(gas_pa);
    if (word == NEVER_TIGHT || !(above > 0)) return false;
    return !isnan(gas_pa) && ((of_pay && sour_asked(w)) || gas_pa > above);
}

/** Beyond the API's own threads: where a basis allows them, or somebody asked for them. */
static bool connection_ok(const context *c, const dt_pin *pin, const row_pipe *row,
                          const char *grade, dt_thread thread)
{
    const dt_well *w = c->well;
    int where = (int)slow_said(w, DT_CUSTOM_SIZES_CONNECTIONS, API_ALONE);
    bool tight_asked_for =
        tight_word(w) == ALWAYS_TIGHT || (tight_word(w) == TIGHT_BY_PRESSURE &&
                                          slow_said(w, DT_CUSTOM_DESIGN_GAS_TIGHT_ABOVE, 0) > 0);
    if (thread < DT_FLUSH || (pin && pin->thread)) return true;
    if (pin && !isnan(pin->od_m) && !row->api) return true;
    if (where == ANY_CONNECTION || (where == WHERE_NEEDED && !row->api)) return true;
    if (has_price(w, NULL, rows_thread_name(thread))) return true;
    if (slow_stock_first(w) && slow_stocked(w, row, grade, thread)) return true;
    return tight_asked_for && c->rows->connections[thread - DT_FLUSH].gas_tight;
}

/** What a basis leaves out, where it keeps to usual grades. */
static bool grade_ok(const context *c, dt_role role, const dt_pin *pin, const row_pipe *row,
                     const char *grade, dt_thread thread)
{
    const dt_well *w = c->well;
    if (slow_said(w, DT_CUSTOM_DESIGN_GRADES, 0) != 1 || (pin && pin->grade)) return true;
    bool h40 = strcmp(grade, "H40") == 0, r95 = strcmp(grade, "R95") == 0;
    bool short_p110 = strcmp(grade, "P110") == 0 && thread == DT_STC;
    bool sour_only = strcmp(grade, "C90") == 0 || strcmp(grade, "T95") == 0;
    if (!(h40 && role != DT_CONDUCTOR) && !r95 && !short_p110 && !(sour_only && !sour_asked(w)))
        return true;
    return has_price(w, grade, NULL) ||
           (slow_stock_first(w) && slow_stocked(w, row, grade, thread));
}

bool slow_pipe_ok(const context *c, size_t i, const row_pipe *row, const char *grade,
                  dt_thread thread)
{
    const dt_seat *seat = &c->claims->strings[i].seat;
    const dt_pin *pin = seat->pin < c->well->pin_count ? &c->well->pins[seat->pin] : NULL;
    if (!rows_has_grade(row, grade) || !rows_has_thread(row, grade, thread)) return false;
    if (thread == DT_PLAIN_END && !(i == 0 && !row->api)) return false;
    /* a conductor is welded, or coupled with the API's threads */
    if (seat->role == DT_CONDUCTOR && thread >= DT_FLUSH && !(pin && pin->thread)) return false;
    if (pin && pin->grade && strcmp(pin->grade, grade) != 0) return false;
    if (pin && pin->thread && strcmp(pin->thread, rows_thread_name(thread)) != 0) return false;
    if (pin && !isnan(pin->weight_kgm) &&
        fabs(pin->weight_kgm / SLOW_LB * SLOW_FT - row->weight) >= 0.005)
        return false;
    if (thread <= DT_LTC && seat->role != DT_CONDUCTOR && !(pin && pin->thread) &&
        slow_said(c->well, DT_CUSTOM_DESIGN_ROUND, 1) != 1)
        return false;
    if (thread <= DT_LTC && c->well->lateral && seat->role == DT_PRODUCTION &&
        !(pin && pin->thread) && slow_said(c->well, DT_CUSTOM_DESIGN_ROUND_LATERAL, 1) != 1)
        return false;
    return connection_ok(c, pin, row, grade, thread) &&
           grade_ok(c, seat->role, pin, row, grade, thread);
}

/** May this row, grade and thread be run as this string, in this size? */
bool slow_may_run(const context *c, size_t i, const row_pipe *row, const char *grade,
                  dt_thread thread)
{
    const claimed_string *s = &c->claims->strings[i];
    const dt_pin *pin = s->seat.pin < c->well->pin_count ? &c->well->pins[s->seat.pin] : NULL;
    if (fabs(row->od - s->od_m / SLOW_IN) > 0.0005) return false;
    if (fabs((isnan(row->coupling) ? row->od : row->coupling) - s->largest_od_m / SLOW_IN) > 0.0005)
        return false;
    if (!slow_pipe_ok(c, i, row, grade, thread)) return false;
    double foot = c->claims->strings[slow_place(c->claims, i)].seat.shoe_m;
    return (pin && pin->grade) || slow_sour_below(c->well, grade) < foot;
}

double slow_smallest_bore(const context *c, size_t i)
{
    double least = INFINITY;
    for (size_t k = 0; k < c->rows->pipe_count; ++k)
        for (size_t g = 0; g < c->rows->grade_count; ++g)
            for (int t = 0; t < THREADS; ++t) {
                const row_pipe *row = &c->rows->pipes[k];
                if (slow_may_run(c, i, row, c->rows->grades[g].name, (dt_thread)t))
                    least = fmin(least, (row->od - 2 * row->wall) * SLOW_IN);
            }
    return least;
}

double slow_drift(const dt_well *w, const row_pipe *p)
{
    return w->sizes.special_drift && p->special > p->drift ? p->special : p->drift;
}
