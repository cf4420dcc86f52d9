/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>

#include "drawtube/drawings.h"
#include "drawtube/units.h"
#include "sentence.h"

static void say_row(sentence *s, const char *what, const char *unit, double printed, double exact)
{
    if (isnan(printed)) return;
    say(s, "%-22s %-8s %10.0f %14.2f\n", what, unit, printed, exact);
}

dt_status dt_write_rating_table(const dt_pipe *pipe, const dt_rating *rating, dt_text *out)
{
    const double klbf = 1000 * DT_N_PER_LBF;
    static const dt_thread threads[] = {DT_STC, DT_LTC, DT_BTC};
    sentence s = {0};
    say(&s, "%s in  %.2f lb/ft  %s\n", show_inches(pipe->od_m).text,
        pipe->weight_kgm / DT_KGM_PER_LBFT, pipe->grade->name);
    say(&s, "wall %.3f in, inside diameter %.3f in, drift %.3f in\n\n", pipe->wall_m / DT_M_PER_IN,
        pipe->id_m / DT_M_PER_IN, pipe->drift_m / DT_M_PER_IN);
    say(&s, "%-22s %-8s %10s %14s\n", "", "", "as tables", "not rounded");
    char collapse[40];
    snprintf(collapse, sizeof collapse, "collapse (%s)", dt_regime_text(rating->regime));
    say_row(&s, collapse, "psi", rating->printed_collapse_psi, rating->collapse_pa / DT_PA_PER_PSI);
    say_row(&s, "internal yield, body", "psi", rating->printed_internal_yield_psi,
            rating->internal_yield_pa / DT_PA_PER_PSI);
    say_row(&s, "body yield", "1000 lbf", rating->printed_body_yield_klbf,
            rating->body_yield_n / klbf);
    for (size_t i = 0; i < sizeof threads / sizeof *threads; ++i) {
        char name[32];
        snprintf(name, sizeof name, "joint %s", dt_thread_text(threads[i]));
        say_row(&s, name, "1000 lbf", rating->printed_joint_klbf[threads[i]],
                rating->joint_n[threads[i]] / klbf);
    }
    say(&s,
        "\nNo axial load, no internal pressure in collapse. Method and sources: docs/strength.md.\n"
        "Preliminary planning aid; a licensed engineer reviews.\n");
    size_t size = s.length;
    char *bytes = NULL;
    dt_status status = sentence_take(&s, &bytes);
    if (status == DT_OK) *out = (dt_text){bytes, size};
    return status;
}
