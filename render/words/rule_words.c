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
        [DT_RULE_BELOW_CONDUCTOR] = "a shoe stands below the previous string",
        [DT_RULE_ABOVE_OBJECTIVE] = "a shoe stands above the objective",
        [DT_RULE_ROUNDING] = "seats stand on the rounding step",
        [DT_RULE_PINNED] = "the engineer has decided it",
        [DT_RULE_INFLUX_VOLUME] = "an influx of the volume asked for must be circulated out",
        [DT_RULE_CIRCULATING] =
            "mud + circulating friction + safety must stay under the fracture gradient",
        [DT_RULE_DRILLING_MARGIN] =
            "the static mud must stay the drilling margin under the fracture gradient",
        [DT_RULE_KICK_LEAST] = "a swabbed kick must be shut in and circulated out",
        [DT_RULE_KICK_WANTED] =
            "a kick of the intensity asked for should be shut in and circulated out",
        [DT_RULE_DIVERTER_PRESSURE] = "no abnormal pressure is met under a diverter",
        [DT_RULE_DIVERTER_GAS] = "no hydrocarbons are met under a diverter",
        [DT_RULE_OPEN_HOLE] = "the open hole is no longer than is asked for its size",
        [DT_RULE_COMPETENT_ROCK] = "a shoe stands in competent rock",
        [DT_RULE_SURFACE_LEAST] = "the basis asks for a deeper surface shoe",
        [DT_RULE_SURFACE_MOST] = "the basis asks for a shallower surface shoe",
        [DT_RULE_SUREST] = "most of the wells drawn from the spreads hold there",
        [DT_RULE_SPREAD] = "it is spread over its range",
        [DT_RULE_RUNNING_JOB] =
            "under a higher shoe, running pipe to the bottom exceeds the fracture pressure",
        [DT_RULE_CEMENT_JOB] = "under a higher shoe, the cement job exceeds the fracture pressure",
        [DT_RULE_TAIL_CEMENT] = "the tail of its cement stands below weak rock",
        [DT_RULE_STOPPED_HIGHER] = "with a higher shoe, more stops the program",
        [DT_RULE_CHOSEN_TOGETHER] = "it was chosen together with the other strings",
    };
    return words[rule];
}
