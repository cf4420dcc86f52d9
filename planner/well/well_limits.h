/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_WELL_LIMITS_H
#define DRAWTUBE_PLANNER_WELL_LIMITS_H

#include "well_values.h"

/* Limits of values that several elements have; an element's own stand with its reader. Reasons are
 * facts of the trade from memory. */

static const dt_limit DEPTH = {0, 15000, false, "the deepest holes are little over 12 km"};
static const dt_limit DEPTH_BELOW = {0, 15000, true, "the deepest holes are little over 12 km"};
static const dt_limit LONG_DEPTH = {0, 20000, false, "the longest holes are about 15 km"};
static const dt_limit AWAY = {0, 200000, false, "wells further off say little of this one"};
static const dt_limit DENSITY = {0, 3000, true, "rock itself weighs little more than 2700 kg/m3"};
static const dt_limit SPREAD = {0, 3000, false, "a spread is smaller than its value"};
static const dt_limit SLURRY = {500, 3000, false, "the heaviest slurries are about 2600 kg/m3"};
static const dt_limit MARGIN_EMW = {0, 5 * DT_KGM3_PER_PPG, false, "margins are parts of one ppg"};
static const dt_limit MARGIN_PA = {0, 100e6, false, "margins are a few hundred psi"};
static const dt_limit STICKING = {0, 100e6, true, "pipe sticks at a few thousand psi"};
static const dt_limit DIAMETER = {DT_M_PER_IN, 60 * DT_M_PER_IN, false,
                                  "pipes and bits are from 1 to 60 in"};
static const dt_limit WEIGHT = {1, 1500, false, "the heaviest casing is about 800 kg/m"};
static const dt_limit FACTOR = {0.5, 5, false, "design factors are from 1 to 2"};
static const dt_limit PULL = {0, 20e6, false, "no rig pulls so much"};
static const dt_limit EXCESS = {0, 10, false, "an excess is a part of the hole's volume"};
static const dt_limit FLUID = {0, 3000, true, "the heaviest fluids are about 2600 kg/m3"};
static const dt_limit PRESSURE = {0, 200e6, false, "surface equipment ends at 20,000 psi"};

#endif
