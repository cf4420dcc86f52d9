/* SPDX-License-Identifier: MIT */
/* Comparisons, reasons, wishes and odds as handles. */
#include <stdlib.h>

#include "comparison.h"
#include "library.h"
#include "odds.h"
#include "why.h"

/* ---- options side by side ---- */

dt_status dt_comparison_open(const dt_well *well, const dt_catalogue *catalogue,
                             const dt_progress *progress, dt_comparison **out, dt_refusal **refusal)
{
    dt_refusal said = {0};
    dt_comparison *comparison = calloc(1, sizeof *comparison);
    if (!comparison) return DT_E_MEMORY;
    dt_status status = dt_comparison_make_watched(well, catalogue, progress, comparison, &said);
    if (status == DT_OK)
        *out = comparison;
    else
        free(comparison);
    return dt_refusal_hand(status, &said, refusal);
}

void dt_comparison_close(dt_comparison *comparison)
{
    dt_comparison_free(comparison);
    free(comparison);
}

size_t dt_comparison_count(const dt_comparison *comparison)
{
    return comparison->count;
}

dt_status dt_comparison_option(const dt_comparison *comparison, size_t index, dt_option_view *out)
{
    if (index >= comparison->count) return DT_E_DOMAIN;
    const dt_compared *one = &comparison->items[index];
    *out = (dt_option_view){.label = one->label,
                            .program = one->program,
                            .cost = one->option.cost,
                            .steel_kg = one->option.steel_kg,
                            .days = one->option.days,
                            .last_od_m = one->option.last_od_m,
                            .strings = dt_option_strings(&one->option),
                            .spares = one->option.spares,
                            .like = one->like,
                            .dominated = one->dominated_by > 0,
                            .closes = index > 0 || !comparison->plan_stopped};
    return DT_OK;
}

/* ---- why ---- */

dt_status dt_why_open(const dt_program *program, size_t index, dt_why **out)
{
    dt_why *why = calloc(1, sizeof *why);
    if (!why) return DT_E_MEMORY;
    dt_status status = dt_why_explain(program, index, why);
    if (status == DT_OK)
        *out = why;
    else
        free(why);
    return status;
}

void dt_why_close(dt_why *why)
{
    dt_why_free(why);
    free(why);
}

size_t dt_why_count(const dt_why *why)
{
    return why->count;
}

dt_status dt_why_reason(const dt_why *why, size_t index, dt_why_view *out)
{
    if (index >= why->count) return DT_E_DOMAIN;
    const dt_why_item *item = &why->items[index];
    *out = (dt_why_view){.string = item->string,
                         .subject = item->subject,
                         .rule = item->rule,
                         .at_tvd_m = item->at_tvd_m,
                         .have = item->have,
                         .need = item->need,
                         .kind = item->kind,
                         .eased_by = item->slack_step,
                         .eased_kind = item->slack_kind,
                         .moves_m = item->moves_m};
    return DT_OK;
}

/* ---- wishes ---- */

/** Reads all; what the first bad one is wrong in is handed out when it is wanted. */
static dt_status read_wishes(const dt_program *program, const dt_wish_words *words, size_t count,
                             dt_wish *wishes, dt_wish_problem *problem)
{
    for (size_t i = 0; i < count; ++i) {
        char *said = NULL;
        dt_status status = dt_wish_read(program, words[i].kind, words[i].words, &wishes[i], &said);
        if (status == DT_E_INPUT && said && problem) {
            *problem = (dt_wish_problem){.wish = i};
            dt_text_take(said, &problem->text);
            said = NULL;
        }
        free(said);
        if (status != DT_OK) return status;
    }
    return DT_OK;
}

dt_status dt_verdict_open(const dt_program *program, const dt_wish_words *wishes, size_t count,
                          dt_verdict **out, dt_wish_problem *problem)
{
    dt_wish read[DT_WISH_MOST];
    if (count > DT_WISH_MOST) return DT_E_DOMAIN;
    dt_verdict *verdict = calloc(1, sizeof *verdict);
    dt_status status = verdict ? read_wishes(program, wishes, count, read, problem) : DT_E_MEMORY;
    if (status == DT_OK) status = dt_wish_judge(program, read, count, verdict);
    if (status == DT_OK)
        *out = verdict;
    else
        free(verdict);
    return status;
}

void dt_verdict_close(dt_verdict *verdict)
{
    dt_verdict_free(verdict);
    free(verdict);
}

const dt_program *dt_verdict_program(const dt_verdict *verdict)
{
    return verdict->possible ? verdict->program : NULL;
}

/* ---- odds ---- */

void dt_odds_figures(const dt_odds *odds, dt_odds_view *out)
{
    *out = (dt_odds_view){.samples = odds->samples,
                          .stopped = odds->stopped,
                          .planned = odds->planned,
                          .spare = odds->spare,
                          .anew = odds->anew,
                          .hopeless = odds->hopeless};
}
