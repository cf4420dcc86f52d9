/* SPDX-License-Identifier: MIT */
#include <math.h>

#include "slow.h"

/*
 * What stops a program, decided from the figures of the other checks. A program that is printed
 * without a stopper has none by these, and one that is said to be stopped is.
 */

static size_t place_of(size_t string)
{
    return string < CLAIM_STRINGS ? string : CLAIM_STRINGS;
}

void stop_told(const context *c, dt_notice_code code, size_t string, double left, double band)
{
    unsigned char *at = &c->stops->of[code][place_of(string)];
    found_stop now = left > band ? STOP_NOT : left < -band ? STOP_YES : STOP_UNSURE;
    if (now > *at) *at = (unsigned char)now;
}

void stop_none(const context *c, dt_notice_code code)
{
    for (size_t i = 0; i <= CLAIM_STRINGS; ++i)
        if (c->stops->of[code][i] == STOP_UNSEEN) c->stops->of[code][i] = STOP_NOT;
}

/* clang-format off */
static const char *const names[DT_NOTICE_COUNT] = {
#define DT_NOTICE(name, code, severity, between, template) code,
#include "notices.def"
#undef DT_NOTICE
};
/* clang-format on */

const char *stop_name(dt_notice_code code)
{
    return names[code];
}

static bool is_said(const claims *p, int code, size_t at)
{
    for (size_t i = 0; i < p->stopper_count; ++i)
        if ((int)p->stoppers[i].code == code && place_of(p->stoppers[i].string) == at) return true;
    return false;
}

/** That no draft closes is said of programs that are stopped, and of no other. */
static void check_end(const context *c)
{
    const claims *p = c->claims;
    size_t others = 0;
    for (size_t i = 0; i < p->stopper_count; ++i)
        others += p->stoppers[i].code != DT_NOTICE_NO_DRAFT_CLOSES;
    demand_true(c->v, "stopper", -1,
                is_said(p, DT_NOTICE_NO_DRAFT_CLOSES, CLAIM_STRINGS) == (others > 0),
                others > 0 ? "stopped, and nothing says that no draft closes"
                           : "no draft is said to close, and nothing stops this one");
}

void check_stoppers(const context *c)
{
    const claims *p = c->claims;
    check_end(c);
    for (int code = 0; code < DT_NOTICE_COUNT; ++code)
        for (size_t at = 0; at <= CLAIM_STRINGS; ++at) {
            found_stop found = c->stops->of[code][at];
            bool said = is_said(p, code, at);
            int string = at < CLAIM_STRINGS ? (int)at : -1;
            if (said && code != DT_NOTICE_NO_DRAFT_CLOSES) {
                ++c->v->stoppers;
                c->v->decided += found == STOP_YES || found == STOP_NOT;
            }
            if (found == STOP_UNSEEN || found == STOP_UNSURE) continue;
            ++c->v->compared;
            if (said && found == STOP_NOT)
                fault(c->v, "stopper", string, "%s is said, and does not stop it", names[code]);
            if (!said && found == STOP_YES)
                fault(c->v, "stopper", string, "%s stops it, and is not said", names[code]);
        }
}
