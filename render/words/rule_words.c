/* SPDX-License-Identifier: MIT */
#include "rule_words.h"

const char *dt_rule_words(dt_rule rule)
{
    static const char *const words[DT_RULE_COUNT] = {
        [DT_RULE_OBJECTIVE] = "the objective must be reached",
        [DT_RULE_CONDUCTOR_GIVEN] = "the conductor depth is given",
        [DT_RULE_CONDUCTOR_RETURNS] = "returns must reach the flowline without broaching",
        [DT_RULE_MUD_LIMIT] = "mud + surge + safety must stay under the fracture gradient",
        [DT_RULE_KICK_FIXED] = "mud + kick margin must stay under the fracture gradient",
        [DT_RULE_KICK_DEPTH_RATIO] =
            "mud + gain + kick x depth / shoe depth must stay under the fracture gradient",
        [DT_RULE_STICKING_NORMAL] = "overbalance limit against normally pressured rock",
        [DT_RULE_STICKING_ABNORMAL] = "overbalance limit against abnormally pressured rock",
        [DT_RULE_CASE_OFF] = "the interval must be behind pipe",
        [DT_RULE_CASE_ABOVE] = "a shoe must stand above the interval",
        [DT_RULE_AVOID_SHOE] = "no shoe inside the interval",
        [DT_RULE_FRESH_WATER] = "fresh water must be behind the surface string",
        [DT_RULE_BELOW_CONDUCTOR] = "a shoe stands below the string before it",
        [DT_RULE_ABOVE_OBJECTIVE] = "a shoe stands above the objective",
        [DT_RULE_ROUNDING] = "seats stand on the rounding step",
        [DT_RULE_PINNED] = "the engineer has decided it",
        [DT_RULE_INFLUX_VOLUME] =
            "an influx of the asked volume must be borne while it is circulated out",
        [DT_RULE_CHOSEN_TOGETHER] = "it was chosen together with the other strings",
    };
    return words[rule];
}
