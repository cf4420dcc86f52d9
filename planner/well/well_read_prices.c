/* SPDX-License-Identifier: MIT */
/* From the file to the model: prices, times and wishes. */
#include <math.h>
#include <stddef.h>
#include <string.h>

#include "basis.h"
#include "catalogue.h"
#include "well_elements.h"
#include "well_limits.h"

static const dt_limit PRICE = {0, 1e12, false, "no well costs so much"};
static const dt_limit SPEED_M = {0, 3000, true, "no hole and no pipe goes so fast"};
static const dt_limit JOINTS_H = {0, 200, true, "no crew runs so many joints in an hour"};
static const dt_limit STRETCH = {0, 15000, true, "no well is longer"};
static const dt_limit HOURS = {0, 1000, false, "no step of a well takes so many hours"};
static const dt_limit MINUTES = {0, 600, false, "a connection takes minutes"};
static const dt_limit RESERVE = {0, 2, false, "a reserve is a part of the time"};
static const dt_limit HOOK = {0, 20e6, true, "no rig pulls so much"};
static const dt_limit STRINGS = {2, 16, false, "no more strings than 16 telescope"};

#define COUNT(array) (sizeof(array) / sizeof *(array))

/** A required single child of <prices>; NULL (told) when it is missing. */
static xmlNodePtr price_part(dt_reader *r, xmlNodePtr node, const char *name)
{
    xmlNodePtr part = dt_child_named(node, name);
    if (!part) {
        dt_place where = dt_place_of(node, NULL);
        dt_report_add(r->report, DT_MSG_ELEMENT_MISSING, dt_line_of(node), where.text,
                      "<prices> has no <%s>: what it would price cannot be left out", name);
        dt_report_fix(r->report, "add <%s .../>, or leave <prices> out: nothing is priced then",
                      name);
        return NULL;
    }
    for (xmlNodePtr at = dt_next_named(part, name); at; at = dt_next_named(at, name)) {
        dt_place where = dt_place_of(at, NULL);
        dt_report_add(r->report, DT_MSG_ELEMENT_REPEATED, dt_line_of(at), where.text,
                      "a second <%s>; the first is in line %d", name, dt_line_of(part));
    }
    return part;
}

static void read_price(dt_reader *r, xmlNodePtr node, const char *name, double factor, double *out)
{
    dt_read_number(r, node, name, factor, "", &PRICE, out);
}

/** Rows with a key and one row without, for all the rest. */
static void check_rest(dt_reader *r, xmlNodePtr node, const char *name, const char *key)
{
    xmlNodePtr rest = NULL;
    for (xmlNodePtr at = dt_child_named(node, name); at; at = dt_next_named(at, name)) {
        if (dt_has_attribute(at, key)) continue;
        dt_place where = dt_place_of(at, NULL);
        if (rest)
            dt_report_add(r->report, DT_MSG_PRICE_REPEATED, dt_line_of(at), where.text,
                          "a second <%s> without %s; the first is in line %d", name, key,
                          dt_line_of(rest));
        else
            rest = at;
    }
    if (rest) return;
    dt_place where = dt_place_of(node, NULL);
    dt_report_add(r->report, DT_MSG_PRICE_MISSING, dt_line_of(node), where.text,
                  "no <%s> without %s: what no row names has no price", name, key);
    dt_report_fix(r->report, "add one <%s> without %s, for all the rest", name, key);
}

static void read_pipe_prices(dt_reader *r, xmlNodePtr node, dt_prices *prices)
{
    prices->pipes = dt_list_for(r, node, "pipe", sizeof *prices->pipes, &prices->pipe_count);
    xmlNodePtr at = dt_child_named(node, "pipe");
    for (size_t i = 0; i < prices->pipe_count; ++i, at = dt_next_named(at, "pipe")) {
        dt_grade_price *row = &prices->pipes[i];
        row->grade = dt_read_name(r, at, "grade");
        row->line = dt_line_of(at);
        read_price(r, at, "per_tonne", 1e-3, &row->per_kg);
        for (size_t k = 0; k < i && row->grade; ++k)
            if (prices->pipes[k].grade && dt_same_grade(prices->pipes[k].grade, row->grade))
                dt_report_add(r->report, DT_MSG_PRICE_REPEATED, row->line, "prices/pipe/@grade",
                              "\"%s\" has a price in line %d already", dt_quote(row->grade).text,
                              prices->pipes[k].line);
    }
    check_rest(r, node, "pipe", "grade");
}

static void read_thread_prices(dt_reader *r, xmlNodePtr node, dt_prices *prices)
{
    prices->threads =
        dt_list_for(r, node, "thread", sizeof *prices->threads, &prices->thread_count);
    xmlNodePtr at = dt_child_named(node, "thread");
    for (size_t i = 0; i < prices->thread_count; ++i, at = dt_next_named(at, "thread")) {
        dt_thread_price *row = &prices->threads[i];
        row->thread = dt_read_name(r, at, "name");
        row->line = dt_line_of(at);
        if (row->thread && dt_thread_find(row->thread) == DT_THREAD_COUNT) {
            dt_report_add(r->report, DT_MSG_VALUE_NOT_ALLOWED, row->line, "prices/thread/@name",
                          "\"%s\" is no thread of the catalogue", dt_quote(row->thread).text);
            dt_report_fix(r->report, "write one of STC, LTC, BTC, PE, flush, semi-flush, "
                                     "gas-tight; a connection that a pipe "
                                     "file states has the price of the rest");
        }
        read_price(r, at, "per_joint", 1, &row->per_joint);
        for (size_t k = 0; k < i && row->thread; ++k)
            if (prices->threads[k].thread && strcmp(prices->threads[k].thread, row->thread) == 0)
                dt_report_add(r->report, DT_MSG_PRICE_REPEATED, row->line, "prices/thread/@name",
                              "\"%s\" has a price in line %d already", dt_quote(row->thread).text,
                              prices->threads[k].line);
    }
    check_rest(r, node, "thread", "name");
}

static void report_order(dt_reader *r, int line, const char *where)
{
    dt_report_add(r->report, DT_MSG_ROWS_ORDER, line, where,
                  "up_to is not more than in the row before");
}

static void read_bit_prices(dt_reader *r, xmlNodePtr node, dt_prices *prices)
{
    prices->bits = dt_list_for(r, node, "bit", sizeof *prices->bits, &prices->bit_count);
    xmlNodePtr at = dt_child_named(node, "bit");
    for (size_t i = 0; i < prices->bit_count; ++i, at = dt_next_named(at, "bit")) {
        dt_bit_price *row = &prices->bits[i];
        dt_read_quantity(r, at, "up_to", DT_KIND_DIAMETER, &DIAMETER, &row->up_to_m);
        read_price(r, at, "price", 1, &row->each);
        row->line = dt_line_of(at);
        if (i > 0 && dt_has_attribute(at, "up_to") && !(row->up_to_m > prices->bits[i - 1].up_to_m))
            report_order(r, row->line, "prices/bit/@up_to");
    }
    check_rest(r, node, "bit", "up_to");
}

void dt_read_prices(dt_reader *r, xmlNodePtr node)
{
    dt_prices *prices = &r->well->prices;
    r->well->prices_given = true;
    prices->line = dt_line_of(node);
    prices->currency = dt_read_name(r, node, "currency");
    const struct {
        const char *element, *attribute;
        double factor, *out;
    } fields[] = {
        {"rig", "per_day", 1, &prices->rig_per_day},
        {"liner", "hanger", 1, &prices->hanger},
        {"liner", "packer", 1, &prices->packer},
        {"wellhead", "per_stage", 1, &prices->wellhead_stage},
        {"cement", "per_tonne", 1e-3, &prices->cement_per_kg},
    };
    for (size_t i = 0; i < COUNT(fields); ++i) {
        bool told = i > 0 && strcmp(fields[i].element, fields[i - 1].element) == 0;
        xmlNodePtr part =
            told ? dt_child_named(node, fields[i].element) : price_part(r, node, fields[i].element);
        if (part) read_price(r, part, fields[i].attribute, fields[i].factor, fields[i].out);
    }
    xmlNodePtr liner = dt_child_named(node, "liner");
    if (liner) read_price(r, liner, "receptacle", 1, &prices->receptacle);
    xmlNodePtr rig = dt_child_named(node, "rig");
    if (rig) read_price(r, rig, "services_per_day", 1, &prices->services_per_day);
    if (isnan(prices->services_per_day)) prices->services_per_day = 0;
    read_pipe_prices(r, node, prices);
    read_thread_prices(r, node, prices);
    read_bit_prices(r, node, prices);
}

/** Rows of <drilling> or <casing>. */
static void read_speeds(dt_reader *r, xmlNodePtr node, const char *name, bool joints,
                        dt_speed_row **rows, size_t *count)
{
    *rows = dt_list_for(r, node, name, sizeof **rows, count);
    xmlNodePtr at = dt_child_named(node, name);
    for (size_t i = 0; i < *count; ++i, at = dt_next_named(at, name)) {
        dt_speed_row *row = &(*rows)[i];
        row->line = dt_line_of(at);
        dt_read_quantity(r, at, "up_to", DT_KIND_DIAMETER, &DIAMETER, &row->up_to_m);
        if (joints)
            dt_read_number(r, at, "joints_per_hour", 1, "", &JOINTS_H, &row->per_hour);
        else
            dt_read_quantity(r, at, "per_hour", DT_KIND_LENGTH, &SPEED_M, &row->per_hour);
        if (i > 0 && row->up_to_m <= (*rows)[i - 1].up_to_m)
            report_order(r, row->line, joints ? "times/casing/@up_to" : "times/drilling/@up_to");
    }
}

void dt_read_times(dt_reader *r, xmlNodePtr node)
{
    static const dt_field fields[] = {
        {"trip_per_hour", DT_KIND_LENGTH, &SPEED_M, offsetof(dt_times, trip_m_per_hour)},
        {"stand", DT_KIND_LENGTH, &STRETCH, offsetof(dt_times, stand_m)},
        {"bit_run", DT_KIND_LENGTH, &STRETCH, offsetof(dt_times, bit_run_m)},
        {"reserve", DT_KIND_FRACTION, &RESERVE, offsetof(dt_times, reserve)},
    };
    dt_times *times = &r->well->times;
    times->line = dt_line_of(node);
    dt_read_fields(r, node, fields, COUNT(fields), times);
    dt_read_number(r, node, "connection_minutes", 1, "", &MINUTES, &times->connection_minutes);
    const struct {
        const char *name;
        double *out;
    } hours[] = {
        {"circulate_hours", &times->circulate_hours}, {"crew_hours", &times->crew_hours},
        {"wait_hours", &times->wait_hours},           {"wellhead_hours", &times->wellhead_hours},
        {"test_hours", &times->test_hours},           {"drill_out_hours", &times->drill_out_hours},
        {"hanger_hours", &times->hanger_hours},       {"lap_test_hours", &times->lap_test_hours},
    };
    for (size_t i = 0; i < COUNT(hours); ++i)
        dt_read_number(r, node, hours[i].name, 1, "", &HOURS, hours[i].out);
    read_speeds(r, node, "drilling", false, &times->drilling, &times->drilling_count);
    read_speeds(r, node, "casing", true, &times->running, &times->running_count);
}

void dt_read_wishes(dt_reader *r, xmlNodePtr node)
{
    static const dt_field fields[] = {
        {"rig_hookload", DT_KIND_FORCE, &HOOK, offsetof(dt_wishes, rig_hookload_n)},
        {"bop_bore", DT_KIND_DIAMETER, &DIAMETER, offsetof(dt_wishes, bop_bore_m)},
        {"wellhead_bore", DT_KIND_DIAMETER, &DIAMETER, offsetof(dt_wishes, wellhead_bore_m)},
    };
    dt_wishes *wishes = &r->well->wishes;
    wishes->given = true;
    wishes->line = dt_line_of(node);
    dt_read_fields(r, node, fields, COUNT(fields), wishes);
    double most = NAN;
    dt_read_number(r, node, "max_strings", 1, "", &STRINGS, &most);
    if (isfinite(most) && most != floor(most))
        dt_report_add(r->report, DT_MSG_WISH_STRINGS, wishes->line, "wishes/@max_strings",
                      "%g is not a whole number of strings", most);
    else if (isfinite(most))
        wishes->max_strings = (size_t)most;
    wishes->no_tiebacks =
        !dt_read_yes(r, node, "tiebacks", dt_custom_word(r->well, DT_CUSTOM_WISHES_TIEBACKS));
    wishes->forbidden =
        dt_list_for(r, node, "forbid", sizeof *wishes->forbidden, &wishes->forbidden_count);
    xmlNodePtr at = dt_child_named(node, "forbid");
    for (size_t i = 0; i < wishes->forbidden_count; ++i, at = dt_next_named(at, "forbid")) {
        dt_read_quantity(r, at, "od", DT_KIND_DIAMETER, &DIAMETER, &wishes->forbidden[i].od_m);
        wishes->forbidden[i].line = dt_line_of(at);
    }
}

void dt_prices_absent(dt_well *well)
{
    well->prices.rig_per_day = well->prices.services_per_day = NAN;
    well->prices.receptacle = NAN;
    well->prices.hanger = well->prices.packer = well->prices.wellhead_stage = NAN;
    well->prices.cement_per_kg = NAN;
    dt_times *t = &well->times;
    t->trip_m_per_hour = t->connection_minutes = t->stand_m = t->bit_run_m = NAN;
    t->circulate_hours = t->crew_hours = t->wait_hours = t->wellhead_hours = NAN;
    t->test_hours = t->drill_out_hours = t->hanger_hours = t->lap_test_hours = NAN;
    t->reserve = NAN;
    well->wishes.rig_hookload_n = well->wishes.bop_bore_m = well->wishes.wellhead_bore_m = NAN;
}
