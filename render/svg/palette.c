/* SPDX-License-Identifier: MIT */
#include "palette.h"

#include <stddef.h>
#include <string.h>

#include "same.h"

const dt_hatch dt_hatch_pay = {
    "pay", "pay", "#fbf3b0", "#7a6a00", DT_TEXT, 1.1, {{0, 5, 1.2, 5, 3.1}}};
const dt_hatch dt_hatch_water = {"water",      "water", DT_WATER,          "#7fb2d6",
                                 DT_TEXT_BLUE, 0.6,     {{0, 9, 10, 6, 8}}};
const dt_hatch dt_hatch_cement[2] = {
    {"cement", "cement", DT_CEMENT, "#4a5a63", DT_TEXT, 0.7, {{45, 3.8, 0, 0, 0}}},
    {"cement", "cement", DT_CEMENT, "#4a5a63", DT_TEXT, 0.7, {{-45, 3.8, 0, 0, 0}}},
};

static const dt_hatch kinds[] = {
    {"lost-circulation",
     "lost circulation",
     "#fbe3bd",
     "#b36b00",
     DT_TEXT_RUST,
     0.8,
     {{45, 7, 0, 0, 0}}},
    {"salt", "salt", "#f3dbe8", "#a8507f", DT_TEXT_MAUVE, 0.7, {{0, 8, 0, 0, 0}, {90, 8, 0, 0, 0}}},
    {"shale", "shale", "#d5ece3", "#1f7a5c", DT_TEXT_GREEN, 0.8, {{0, 5, 9, 4, 6.5}}},
    {"reactive-shale",
     "reactive shale",
     "#d5ece3",
     "#1f7a5c",
     DT_TEXT_GREEN,
     0.8,
     {{0, 5, 9, 4, 6.5}, {90, 13, 0, 0, 0}}},
    {"unstable",
     "unstable rock",
     "#ead9c3",
     "#7d5a2a",
     DT_TEXT,
     0.9,
     {{60, 8, 5, 5, 5}, {-60, 8, 5, 5, 5}}},
    {"gas", "gas", "#e6e2f2", "#6a5a9c", DT_TEXT, 1.4, {{45, 5, 1.6, 6, 3.8}}},
    {"shallow-gas", "shallow gas", "#e6e2f2", "#6a5a9c", DT_TEXT, 1.4, {{0, 6, 2, 7, 4.5}}},
    {"water-flow", "water flow", "#cfe6f5", "#1f6fa3", DT_TEXT_BLUE, 0.9, {{90, 5, 6, 3, 4.5}}},
    {"depleted", "depleted", "#dcebf6", "#3b7fa8", DT_TEXT_BLUE, 0.8, {{-45, 7, 0, 0, 0}}},
    {"overpressure",
     "overpressure",
     "#f9d9c4",
     "#c2541b",
     DT_TEXT_RUST,
     0.8,
     {{45, 7, 0, 0, 0}, {-45, 7, 0, 0, 0}}},
    {"coal", "coal", "#d0d0d0", "#333333", DT_TEXT, 1.3, {{0, 4, 0, 0, 0}}},
    {"fault", "fault", "#e5e5e5", "#5c5c5c", DT_TEXT, 0.9, {{60, 6, 8, 4, 6}, {-60, 18, 5, 13, 9}}},
};
static const dt_hatch other_kind = {"",  "other interval",  "#ececec", "#6b6b6b", DT_TEXT,
                                    0.8, {{90, 6, 5, 3, 4}}};

const dt_hatch *dt_hatch_of_kind(const char *kind)
{
    for (size_t i = 0; i < COUNT_OF(kinds); ++i)
        if (strcmp(kinds[i].name, kind) == 0) return &kinds[i];
    return &other_kind;
}
