/* SPDX-License-Identifier: MIT */
/* A reason as a notice. Part of stage 3, seats.h. */
#include <math.h>

#include "seats.h"

static dt_notice_code code_of(dt_rule rule)
{
    static const dt_notice_code codes[] = {
#define DT_RULE_NOTICE(name, code) DT_NOTICE_RULE_##name,
        DT_RULE_LIST(DT_RULE_NOTICE)
#undef DT_RULE_NOTICE
    };
    return codes[rule];
}

bool dt_rule_stops(dt_rule rule)
{
    return dt_notice_gravity(code_of(rule)) == DT_STOPPER;
}

dt_notice dt_reason_notice(const dt_reason *r, const dt_well *well)
{
    dt_notice n = {.code = code_of(r->rule), .string = DT_NO_STRING, .line = r->line};
    const bool interval = r->interval < well->interval_count;
    const bool section = !isnan(r->section_top_m) && !isnan(r->section_base_m);
    dt_notice_figure(&n, "at_tvd", DT_KIND_LENGTH, r->tvd_m);
    dt_notice_figure(&n, "needed", r->kind, r->need);
    /* an influx that nothing is left for: how much less than nothing means nothing to a reader */
    const bool none = r->kind == DT_KIND_VOLUME && r->have <= 0;
    dt_notice_mark(&n, "none", none);
    if (!none) dt_notice_figure(&n, "there", r->kind, r->have);
    if (section) {
        dt_notice_figure(&n, "section_top_tvd", DT_KIND_LENGTH, r->section_top_m);
        dt_notice_figure(&n, "section_base_tvd", DT_KIND_LENGTH, r->section_base_m);
    }
    if (!isnan(r->hole_m)) dt_notice_figure(&n, "hole", DT_KIND_DIAMETER, r->hole_m);
    dt_notice_figure(&n, "mud", DT_KIND_DENSITY, r->mud_kgm3);
    dt_notice_figure(&n, "mud_tvd", DT_KIND_LENGTH, r->mud_tvd_m);
    dt_notice_name(&n, "mud_by", r->mud_by_collapse ? "collapse gradient" : "pore pressure");
    const bool pay = r->pay < well->pay_count;
    dt_notice_name(&n, "interval",
                   interval ? well->intervals[r->interval].name
                   : pay    ? well->pays[r->pay].name
                            : "interval");
    return n;
}

void dt_reason_below(dt_notices *list, dt_notice *above, const dt_reason *reason,
                     const dt_well *well)
{
    dt_notice *n = dt_notice_below(list, above, code_of(reason->rule));
    if (!n) return;
    const size_t string = n->string;
    *n = dt_reason_notice(reason, well);
    n->string = string;
}
