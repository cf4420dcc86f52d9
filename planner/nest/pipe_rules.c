/* SPDX-License-Identifier: MIT */
#include "pipe_rules.h"

#include <math.h>
#include <string.h>

#include "basis.h"
#include "same.h"

/** Orders of the choices in customs.def. */
enum { CONNECTIONS_API, CONNECTIONS_NEEDED, CONNECTIONS_ANY };
enum { GRADES_ANY, GRADES_USUAL };
enum { TIGHT_BY_PRESSURE, TIGHT_NO, TIGHT_YES };

/** Does a list separated by blanks hold the word? */
static bool lists(const char *list, const char *word)
{
    const size_t length = strlen(word);
    for (const char *at = list; *at;) {
        at += strspn(at, " ");
        const size_t size = strcspn(at, " ");
        if (size > 0 && size == length && memcmp(at, word, size) == 0) return true;
        at += size;
    }
    return false;
}

bool dt_stock_first(const dt_well *well)
{
    return dt_custom_word(well, DT_CUSTOM_PIPE_STOCK) == 1;
}

bool dt_pipe_stocked(const dt_well *well, const dt_pipe *pipe, dt_thread thread)
{
    size_t count;
    const dt_stock_custom *rows = dt_custom_rows(well, DT_TABLE_STOCK, &count);
    if (thread == DT_STATED) return true;
    for (size_t i = 0; i < count; ++i)
        if (fabs(rows[i].od_m - pipe->od_m) < SAME_DIAMETER_M &&
            fabs(rows[i].weight_kgm - pipe->weight_kgm) < SAME_WEIGHT_KGM &&
            lists(rows[i].grade, pipe->grade->name) &&
            lists(rows[i].thread, dt_thread_text(thread)))
            return true;
    return false;
}

static bool grade_priced(const dt_well *well, const char *grade)
{
    for (size_t i = 0; well->prices_given && i < well->prices.pipe_count; ++i)
        if (well->prices.pipes[i].grade && dt_same_grade(well->prices.pipes[i].grade, grade))
            return true;
    return false;
}

static bool thread_priced(const dt_well *well, const char *thread)
{
    for (size_t i = 0; well->prices_given && i < well->prices.thread_count; ++i)
        if (well->prices.threads[i].thread && strcmp(well->prices.threads[i].thread, thread) == 0)
            return true;
    return false;
}

static bool well_sour(const dt_well *well)
{
    return well->design.given ? well->design.sour
                              : dt_custom_word(well, DT_CUSTOM_DESIGN_SOUR) == 1;
}

static int tight_word(const dt_well *well)
{
    return well->design.given ? well->design.gas_tight
                              : dt_custom_word(well, DT_CUSTOM_DESIGN_GAS_TIGHT);
}

/** May the well ask for gas-tight connections at all? */
static bool tight_possible(const dt_well *well)
{
    const int word = tight_word(well);
    if (word != TIGHT_BY_PRESSURE) return word == TIGHT_YES;
    return dt_custom_value_of(well, DT_CUSTOM_DESIGN_GAS_TIGHT_ABOVE) > 0;
}

bool dt_gas_tight_asked(const dt_well *well, double gas_pa, bool of_pay)
{
    if (isnan(gas_pa) || !tight_possible(well)) return false;
    return tight_word(well) == TIGHT_YES || (of_pay && well_sour(well)) ||
           gas_pa > dt_custom_value_of(well, DT_CUSTOM_DESIGN_GAS_TIGHT_ABOVE);
}

static bool connection_allowed(const dt_well *well, const dt_pin *pin, const dt_pipe *pipe,
                               dt_thread thread)
{
    if (thread < DT_FLUSH || thread == DT_STATED) return true;
    if (pin && pin->thread) return true; /* that the thread is the pin's is asked elsewhere */
    if (pin && isfinite(pin->od_m) && !pipe->api_threaded) return true;
    const int which = dt_custom_word(well, DT_CUSTOM_SIZES_CONNECTIONS);
    if (which == CONNECTIONS_ANY || thread_priced(well, dt_thread_text(thread))) return true;
    if (dt_stock_first(well) && dt_pipe_stocked(well, pipe, thread)) return true;
    if (dt_pipe_gas_tight(pipe, thread) && tight_possible(well)) return true;
    return which == CONNECTIONS_NEEDED && !pipe->api_threaded;
}

static bool grade_allowed(const dt_well *well, dt_role role, const dt_pin *pin, const dt_pipe *pipe,
                          dt_thread thread)
{
    const char *grade = pipe->grade->name;
    if (dt_custom_word(well, DT_CUSTOM_DESIGN_GRADES) != GRADES_USUAL) return true;
    const bool unusual =
        (strcmp(grade, "H40") == 0 && role != DT_CONDUCTOR) || strcmp(grade, "R95") == 0 ||
        (strcmp(grade, "P110") == 0 && thread == DT_STC) ||
        (!well_sour(well) && (strcmp(grade, "C90") == 0 || strcmp(grade, "T95") == 0));
    if (!unusual || (pin && pin->grade) || grade_priced(well, grade)) return true;
    return dt_stock_first(well) && dt_pipe_stocked(well, pipe, thread);
}

/** Round threads jump out where pipe is pushed, bent and turned into a lateral. */
static bool thread_allowed(const dt_well *well, dt_role role, const dt_pin *pin, dt_thread thread)
{
    const bool round = thread == DT_STC || thread == DT_LTC;
    if (round && role != DT_CONDUCTOR && !(pin && pin->thread) &&
        dt_custom_word(well, DT_CUSTOM_DESIGN_ROUND) != 1)
        return false;
    if (!round || !well->lateral || role != DT_PRODUCTION || (pin && pin->thread)) return true;
    return dt_custom_word(well, DT_CUSTOM_DESIGN_ROUND_LATERAL) == 1;
}

bool dt_pipe_rules_allow(const dt_well *well, dt_role role, const dt_pin *pin, const dt_pipe *pipe,
                         dt_thread thread)
{
    /* a conductor is welded, or coupled as it always was */
    const bool generic = thread >= DT_FLUSH && thread < DT_STATED;
    if (role == DT_CONDUCTOR && generic && !(pin && pin->thread)) return false;
    return connection_allowed(well, pin, pipe, thread) && thread_allowed(well, role, pin, thread) &&
           grade_allowed(well, role, pin, pipe, thread);
}

bool dt_pipe_rules_ever(const dt_well *well, const dt_pipe *pipe, dt_thread thread)
{
    bool ever = dt_pipe_rules_allow(well, DT_CONDUCTOR, NULL, pipe, thread) ||
                dt_pipe_rules_allow(well, DT_INTERMEDIATE, NULL, pipe, thread) ||
                dt_pipe_rules_allow(well, DT_PRODUCTION, NULL, pipe, thread);
    for (size_t i = 0; i < well->pin_count && !ever; ++i) {
        const dt_pin *pin = &well->pins[i];
        if (pin->pipe_chosen) continue; /* what a search took opens no more pipe to the next */
        const bool named = !pin->thread || dt_pipe_has_thread(pipe, thread, pin->thread);
        ever = named && (dt_pipe_rules_allow(well, DT_INTERMEDIATE, pin, pipe, thread) ||
                         dt_pipe_rules_allow(well, DT_PRODUCTION, pin, pipe, thread));
    }
    return ever;
}

double dt_grade_sour_below(const dt_well *well, const dt_grade *grade)
{
    if (grade->sour) return 0;
    const dt_thermal *t = &well->thermal;
    const double need_c = grade->sour_from_c;
    if (isnan(need_c) || t->count == 0 || dt_custom_word(well, DT_CUSTOM_DESIGN_SOUR_WARM) != 1)
        return INFINITY;
    double below_m = INFINITY;
    for (size_t i = t->count; i-- > 0;) { /* from the deepest up, while it is warm enough */
        const dt_temperature_point *at = &t->points[i];
        if (at->celsius >= need_c) {
            below_m = i + 1 == t->count || at->tvd_m < below_m ? at->tvd_m : below_m;
            continue;
        }
        if (i + 1 < t->count) {
            const dt_temperature_point *next = at + 1;
            below_m = at->tvd_m + (need_c - at->celsius) / (next->celsius - at->celsius) *
                                      (next->tvd_m - at->tvd_m);
        }
        break;
    }
    return below_m;
}
