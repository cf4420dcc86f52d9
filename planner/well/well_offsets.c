/* SPDX-License-Identifier: MIT */
/* Offset wells of the well file: read, checked, and made into tables. Part of the well stage,
 * beside well_read.c; what is made of them is offsets.c's. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "offsets.h"
#include "same.h"
#include "well_elements.h"
#include "well_limits.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

static const dt_limit FLOOR = {0, 300, false, "no rig floor stands so high"};
static const dt_limit WATER = {0, 5000, true, "no well stands in deeper water"};

static const char *const WHATS[] = {"leak-off", "mud", "seat", "loss", "kick"};

const char *dt_offset_what_text(dt_offset_what what)
{
    return WHATS[what];
}

static void read_reading(dt_reader *r, xmlNodePtr node, dt_offset_reading *reading)
{
    static const dt_field fields[] = {
        {"depth", DT_KIND_LENGTH, &DEPTH_BELOW, offsetof(dt_offset_reading, tvd_m)},
        {"emw", DT_KIND_DENSITY, &DENSITY, offsetof(dt_offset_reading, emw_kgm3)},
    };
    dt_read_fields(r, node, fields, COUNT(fields), reading);
    reading->line = dt_line_of(node);
    const int what = dt_read_word(r, node, "what", WHATS, COUNT(WHATS), -1);
    if (what < 0 || isnan(reading->tvd_m)) r->gaps->offsets = true;
    reading->what = what < 0 ? DT_OFFSET_SEAT : (dt_offset_what)what;
    const bool seat = reading->what == DT_OFFSET_SEAT, emw = dt_has_attribute(node, "emw");
    if (seat == emw && what >= 0)
        dt_report_add(r->report, DT_MSG_OFFSET_READING, reading->line, "offsets/offset/reading",
                      seat ? "a seat has no emw: a test at its shoe is a reading of its own"
                           : "a %s has no emw",
                      WHATS[reading->what]);
    if (!seat && isnan(reading->emw_kgm3)) r->gaps->offsets = true;
}

static void check_place(dt_reader *r, const xmlNode *node, const dt_offset *offset)
{
    const dt_quoted name = dt_quote(offset->name ? offset->name : "");
    const bool given = dt_has_attribute(node, "water_depth");
    if (!r->gaps->over && r->well->over_sea != given)
        dt_report_add(r->report, DT_MSG_OFFSET_WATER_DEPTH, offset->line, "offsets/offset",
                      given ? "\"%s\" has a water depth, and this well stands on the ground"
                            : "\"%s\" has no water depth, and this well stands in the sea",
                      name.text);
    const double ground_m = offset->rig_floor_m + offset->water_depth_m;
    for (size_t i = 0; i < offset->reading_count; ++i) {
        const dt_offset_reading *reading = &offset->readings[i];
        /* an equivalent density below the ground has no meaning at it */
        if (reading->what == DT_OFFSET_SEAT || !(reading->tvd_m < ground_m + 1)) continue;
        dt_report_add(r->report, DT_MSG_OFFSET_READING, reading->line,
                      "offsets/offset/reading/@depth",
                      "less than a metre below the ground of \"%s\"", name.text);
        r->gaps->offsets = true;
    }
}

static void read_offset(dt_reader *r, xmlNodePtr node, dt_offset *offset)
{
    static const dt_field fields[] = {
        {"rig_floor", DT_KIND_LENGTH, &FLOOR, offsetof(dt_offset, rig_floor_m)},
        {"distance", DT_KIND_LENGTH, &AWAY, offsetof(dt_offset, distance_m)},
    };
    offset->line = dt_line_of(node);
    offset->name = dt_read_name(r, node, "name");
    dt_read_fields(r, node, fields, COUNT(fields), offset);
    if (dt_has_attribute(node, "water_depth"))
        dt_read_quantity(r, node, "water_depth", DT_KIND_LENGTH, &WATER, &offset->water_depth_m);
    if (isnan(offset->rig_floor_m + offset->distance_m + offset->water_depth_m))
        r->gaps->offsets = true;
    offset->readings =
        dt_list_for(r, node, "reading", sizeof *offset->readings, &offset->reading_count);
    xmlNodePtr at = dt_child_named(node, "reading");
    for (size_t i = 0; i < offset->reading_count; ++i, at = dt_next_named(at, "reading"))
        read_reading(r, at, &offset->readings[i]);
    check_place(r, node, offset);
}

static void check_names(dt_reader *r)
{
    const dt_well *well = r->well;
    for (size_t i = 0; i < well->offset_count; ++i)
        for (size_t k = 0; k < i; ++k) {
            const dt_offset *a = &well->offsets[k], *b = &well->offsets[i];
            if (!a->name || !b->name || strcmp(a->name, b->name) != 0) continue;
            const dt_quoted shown = dt_quote(b->name);
            dt_report_add(r->report, DT_MSG_NAME_REPEATED, b->line, "offsets/offset/@name",
                          "\"%s\" is the name of line %d as well", shown.text, a->line);
            break;
        }
}

void dt_read_offsets(dt_reader *r, xmlNodePtr node)
{
    dt_well *well = r->well;
    well->offsets_line = dt_line_of(node);
    if (node->_private) r->gaps->offsets = true;
    well->offsets = dt_list_for(r, node, "offset", sizeof *well->offsets, &well->offset_count);
    xmlNodePtr at = dt_child_named(node, "offset");
    for (size_t i = 0; i < well->offset_count; ++i, at = dt_next_named(at, "offset"))
        read_offset(r, at, &well->offsets[i]);
    check_names(r);
    if (well->offset_count > DT_MOST_OFFSETS) {
        dt_report_add(r->report, DT_MSG_OFFSETS_MANY, well->offsets_line, "offsets",
                      "%zu offset wells, at most %d are taken", well->offset_count,
                      DT_MOST_OFFSETS);
        r->gaps->offsets = true;
    }
}

/* ---- what is made of them ---- */

static size_t leak_offs(const dt_well *well)
{
    size_t count = 0;
    for (size_t i = 0; i < well->offset_count; ++i)
        for (size_t k = 0; k < well->offsets[i].reading_count; ++k) {
            const dt_offset_what what = well->offsets[i].readings[k].what;
            count += what == DT_OFFSET_LEAK_OFF || what == DT_OFFSET_LOSS;
        }
    return count;
}

/** Enough to make the tables of that the file leaves out? */
static bool check_enough(dt_reader *r, bool pore, bool fracture)
{
    const dt_well *well = r->well;
    const double least = dt_custom_value_of(well, DT_CUSTOM_OFFSETS_LEAST);
    const size_t tests = leak_offs(well);
    bool enough = true;
    if (fracture && (double)tests < fmax(least, 1)) {
        dt_report_add(r->report, DT_MSG_OFFSETS_FEW, well->offsets_line, "offsets",
                      "%zu leak-offs and losses in all, a trend is made of %.0f or more", tests,
                      fmax(least, 1));
        enough = false;
    }
    if (pore && !dt_offsets_say_pore(well)) {
        dt_report_add(r->report, DT_MSG_OFFSETS_FEW, well->offsets_line, "offsets",
                      "no mud below a tested shoe and no kick tells of the pore pressure");
        enough = false;
    }
    return enough;
}

void dt_settle_offsets(dt_reader *r)
{
    dt_well *well = r->well;
    if (well->offsets_line == 0) return;
    const bool pore = well->pore.line == 0, fracture = well->fracture.line == 0;
    if (!pore && !fracture) {
        dt_report_add(r->report, DT_MSG_OFFSETS_UNUSED, well->offsets_line, "offsets",
                      "<pore_pressure> and <fracture_gradient> are both stated, and stand");
        return;
    }
    dt_status status = DT_E_DOMAIN;
    const bool known = r->report->errors == 0 && !r->gaps->offsets && !r->gaps->over &&
                       !r->gaps->water_depth && !r->out_of_memory &&
                       dt_less(dt_well_ground_m(well), well->objective_m);
    if (known && check_enough(r, pore, fracture)) {
        status = dt_offsets_settle(well);
        if (status == DT_E_MEMORY) r->out_of_memory = true;
        if (status == DT_E_DOMAIN)
            dt_report_add(r->report, DT_MSG_OFFSETS_FEW, well->offsets_line, "offsets",
                          "the readings give no table down to the objective");
    }
    if (status == DT_OK) return;
    r->gaps->pore = r->gaps->pore || pore;
    r->gaps->fracture = r->gaps->fracture || fracture;
}

void dt_offsets_free(dt_well *well)
{
    for (size_t i = 0; i < well->offset_count; ++i) {
        free(well->offsets[i].name);
        free(well->offsets[i].readings);
    }
    free(well->offsets);
}
