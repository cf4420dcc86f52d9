/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>

#include "library.h"
#include "same.h"
#include "sentence.h"
#include "tables.h"
#include "units.h"

static void say_row(sentence *s, const char *what, const char *unit, double printed, double exact)
{
    if (isnan(printed)) return;
    say(s, "%-22s %-8s %10.0f %14.2f\n", what, unit, printed, exact);
}

static void say_factor(sentence *s, const char *what, double factor)
{
    if (isnan(factor))
        say(s, "%-40s too much tension to be rated\n", what);
    else if (isinf(factor))
        say(s, "%-40s not loaded so\n", what);
    else
        say(s, "%-40s %10.3f\n", what, factor);
}

/** The pipe under the load that was stated. */
static void say_loaded(sentence *s, const dt_loaded_rating *r)
{
    say(s, "\nUnder %.1f klbf of tension, %.0f psi inside, %.0f psi outside",
        r->load.axial_n / 1000 / DT_N_PER_LBF, r->load.inside_pa / DT_PA_PER_PSI,
        r->load.outside_pa / DT_PA_PER_PSI);
    if (r->bending_stress_pa > 0)
        say(s, ", bending %.0f psi", r->bending_stress_pa / DT_PA_PER_PSI);
    say(s, "\n");
    for (int m = 0; m < DT_COLLAPSE_METHOD_COUNT; ++m) {
        char what[64];
        snprintf(what, sizeof what, "collapse, %s", dt_collapse_method_code((dt_collapse_method)m));
        if (!isnan(r->collapse_outside_pa[m]))
            say(s, "%-40s %10.0f psi outside\n", what, r->collapse_outside_pa[m] / DT_PA_PER_PSI);
        snprintf(what, sizeof what, "  factor, %s", dt_collapse_method_code((dt_collapse_method)m));
        say_factor(s, what, r->collapse_factor[m]);
    }
    say_factor(s, "burst factor, body", r->burst_factor);
    say_factor(s, "tension factor, body", r->tension_factor);
    say(s, "%-40s %10.0f psi, %s\n", "triaxial stress", r->triaxial_stress_pa / DT_PA_PER_PSI,
        dt_wall_point_words(r->wall_point));
    say_factor(s, "triaxial factor", r->triaxial_factor);
}

static void say_couplings(sentence *s, const dt_rating *rating)
{
    static const dt_thread threads[] = {DT_STC, DT_LTC, DT_BTC};
    for (size_t i = 0; i < COUNT_OF(threads); ++i) {
        const dt_thread t = threads[i];
        if (!isnan(rating->coupling_yield_pa[t]))
            say(s, "coupling yield %-7s psi      %10s %14.2f\n", dt_thread_text(t), "",
                rating->coupling_yield_pa[t] / DT_PA_PER_PSI);
        if (!isnan(rating->leak_pa[t]))
            say(s, "thread leak %-10s psi      %10s %14.2f\n", dt_thread_text(t), "",
                rating->leak_pa[t] / DT_PA_PER_PSI);
    }
    if (!isnan(rating->rupture_pa))
        say(s, "ductile rupture        psi      %10s %14.2f\n", "",
            rating->rupture_pa / DT_PA_PER_PSI);
}

dt_status dt_write_rating_table(const dt_pipe *pipe, const dt_rating *rating,
                                const dt_loaded_rating *loaded, dt_text *out)
{
    const double klbf = 1000 * DT_N_PER_LBF;
    static const dt_thread threads[] = {DT_STC, DT_LTC, DT_BTC};
    sentence s = {0};
    say(&s, "%s in  %.2f lb/ft  %s\n", show_inches(pipe->od_m).text,
        pipe->weight_kgm / DT_KGM_PER_LBFT, pipe->grade->name);
    say(&s, "wall %.3f in, inside diameter %.3f in", pipe->wall_m / DT_M_PER_IN,
        pipe->id_m / DT_M_PER_IN);
    if (!isnan(pipe->drift_m)) say(&s, ", drift %.3f in", pipe->drift_m / DT_M_PER_IN);
    say(&s, "\n\n");
    say(&s, "%-22s %-8s %10s %14s\n", "", "", "as tables", "not rounded");
    char collapse[40];
    snprintf(collapse, sizeof collapse, "collapse (%s)", dt_regime_text(rating->regime));
    say_row(&s, collapse, "psi", rating->printed_collapse_psi, rating->collapse_pa / DT_PA_PER_PSI);
    say_row(&s, "internal yield, body", "psi", rating->printed_internal_yield_psi,
            rating->internal_yield_pa / DT_PA_PER_PSI);
    say_row(&s, "body yield", "1000 lbf", rating->printed_body_yield_klbf,
            rating->body_yield_n / klbf);
    static const dt_thread generic[] = {DT_FLUSH, DT_SEMI_FLUSH, DT_GAS_TIGHT};
    for (size_t i = 0; i < COUNT_OF(threads); ++i) {
        char name[32];
        snprintf(name, sizeof name, "joint %s", dt_thread_text(threads[i]));
        say_row(&s, name, "1000 lbf", rating->printed_joint_klbf[threads[i]],
                rating->joint_n[threads[i]] / klbf);
    }
    for (size_t i = 0; i < COUNT_OF(generic); ++i) {
        char name[32];
        if (isnan(rating->joint_n[generic[i]])) continue;
        snprintf(name, sizeof name, "joint %s", dt_thread_text(generic[i]));
        say_row(&s, name, "1000 lbf", rating->printed_joint_klbf[generic[i]],
                rating->joint_n[generic[i]] / klbf);
    }
    say_couplings(&s, rating);
    if (loaded) say_loaded(&s, loaded);
    say(&s, "\nRatings without axial load, collapse without internal pressure. Method and sources: "
            "docs/strength.md.\n"
            "Preliminary planning aid; a licensed engineer reviews.\n");
    size_t size = s.length;
    char *bytes = NULL;
    dt_status status = sentence_take(&s, &bytes);
    if (status == DT_OK) *out = (dt_text){bytes, size};
    return status;
}

dt_status dt_write_rated_table(const dt_rated *rated, dt_text *out)
{
    return dt_write_rating_table(&rated->pipe, &rated->rating, dt_rated_under(rated), out);
}
