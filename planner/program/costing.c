/* SPDX-License-Identifier: MIT */
#include "costing.h"

#include <math.h>
#include <string.h>

#include "basis.h"
#include "cement_rules.h"
#include "same.h"
#include "units.h"

static const struct {
    const char *key, *words;
} cost_texts[] =
    {
#define COST_TEXT(name, key, words) {key, words},
        DT_COST_LIST(COST_TEXT)
#undef COST_TEXT
},
  hours_texts[] = {
#define HOURS_TEXT(name, key, words) {key, words},
      DT_HOURS_LIST(HOURS_TEXT)
#undef HOURS_TEXT
};

const char *dt_cost_key(dt_cost cost)
{
    return cost < DT_COST_COUNT ? cost_texts[cost].key : "";
}

const char *dt_cost_words(dt_cost cost)
{
    return cost < DT_COST_COUNT ? cost_texts[cost].words : "";
}

const char *dt_hours_key(dt_hours hours)
{
    return hours < DT_HOURS_COUNT ? hours_texts[hours].key : "";
}

const char *dt_hours_words(dt_hours hours)
{
    return hours < DT_HOURS_COUNT ? hours_texts[hours].words : "";
}

static double settle(const dt_well *well, double stated, dt_custom custom, bool *by_basis)
{
    if (!isnan(stated)) return stated;
    *by_basis = true;
    return dt_custom_value_of(well, custom);
}

void dt_times_settle(const dt_well *well, dt_times_in_force *out)
{
    const dt_times *t = &well->times;
    bool guessed = false;
    dt_times f = *t;
    f.trip_m_per_hour = settle(well, t->trip_m_per_hour, DT_CUSTOM_TRIP_PER_HOUR, &guessed);
    f.connection_minutes =
        settle(well, t->connection_minutes, DT_CUSTOM_CONNECTION_MINUTES, &guessed);
    f.stand_m = settle(well, t->stand_m, DT_CUSTOM_STAND, &guessed);
    f.bit_run_m = settle(well, t->bit_run_m, DT_CUSTOM_BIT_RUN, &guessed);
    f.circulate_hours = settle(well, t->circulate_hours, DT_CUSTOM_CIRCULATE_HOURS, &guessed);
    f.crew_hours = settle(well, t->crew_hours, DT_CUSTOM_CREW_HOURS, &guessed);
    /* what is stated for the jobs themselves counts here too */
    double waited = isnan(t->wait_hours) ? well->cementing.wait_s / 3600 : t->wait_hours;
    f.wait_hours = settle(well, waited, DT_CUSTOM_WAIT_HOURS, &guessed);
    f.wellhead_hours = settle(well, t->wellhead_hours, DT_CUSTOM_WELLHEAD_HOURS, &guessed);
    f.test_hours = settle(well, t->test_hours, DT_CUSTOM_TEST_HOURS, &guessed);
    f.drill_out_hours = settle(well, t->drill_out_hours, DT_CUSTOM_DRILL_OUT_HOURS, &guessed);
    f.hanger_hours = settle(well, t->hanger_hours, DT_CUSTOM_HANGER_HOURS, &guessed);
    f.lap_test_hours = settle(well, t->lap_test_hours, DT_CUSTOM_LAP_TEST_HOURS, &guessed);
    f.reserve = dt_custom_or(well, t->reserve, DT_CUSTOM_TIMES_RESERVE);
    if (t->drilling_count == 0) {
        f.drilling =
            (dt_speed_row *)dt_custom_rows(well, DT_TABLE_DRILLING_SPEEDS, &f.drilling_count);
        guessed = true;
    }
    if (t->running_count == 0) {
        f.running = (dt_speed_row *)dt_custom_rows(well, DT_TABLE_CASING_SPEEDS, &f.running_count);
        guessed = true;
    }
    *out = (dt_times_in_force){f, guessed};
}

static double speed_of(const dt_speed_row *rows, size_t count, double diameter_m)
{
    for (size_t i = 0; i < count; ++i)
        if (diameter_m <= rows[i].up_to_m + SAME_DIAMETER_M) return rows[i].per_hour;
    return rows[count - 1].per_hour;
}

/** Bills are kept in cents, minutes and 0.1 kg, so that sums are exact whatever their order. */
static double cents(double money)
{
    return dt_nearest(money * 100) / 100;
}

static double minutes(double hours)
{
    return dt_nearest(hours * 60) / 60;
}

static double ring_m3(double outside_m, double inside_m, double length_m)
{
    return PI / 4 * fmax(outside_m * outside_m - inside_m * inside_m, 0) * fmax(length_m, 0);
}

/** Slurry round the string: open hole with excess, and the lap inside the string above, taken
 * as wide as the hole below it, which is nearly so unless the hole is opened. */
static double slurry_m3(const dt_well *well, const dt_billed_string *s)
{
    if (isnan(s->cement_top_md_m)) return 0;
    double open_top = fmax(s->cement_top_md_m, s->hole_top_md_m);
    double lap = s->hole_top_md_m - fmin(s->cement_top_md_m, s->hole_top_md_m);
    return ring_m3(s->hole_m, s->od_m, s->shoe_md_m - open_top) *
               (1 + dt_custom_value_of(well, DT_CUSTOM_BILL_EXCESS)) +
           ring_m3(s->hole_m, s->od_m, lap);
}

static double bits_of(const dt_times *t, const dt_billed_string *s)
{
    double rock = fmax(s->shoe_md_m - s->hole_top_md_m, 0);
    /* a hole opened below the pipe above takes a pilot bit and an opener, in one run */
    return fmax(dt_count_up(rock / t->bit_run_m), 1) *
           (s->bit_m < s->hole_m - SAME_DIAMETER_M ? 2 : 1);
}

/** One slurry, the plug, displacement. */
static double pumping_hours(const dt_well *well, double slurry, double displaced)
{
    const double mix_s = slurry / dt_custom_value_of(well, DT_CUSTOM_CEMENTING_MIX_RATE);
    const double displace_s =
        displaced / dt_custom_value_of(well, DT_CUSTOM_CEMENTING_DISPLACEMENT_RATE);
    return (mix_s + dt_custom_value_of(well, DT_CUSTOM_CEMENTING_PLUG_DROP) + displace_s) / 3600;
}

static void bill_hours(const dt_well *well, const dt_times *t, const dt_billed_string *s,
                       double slurry, double *hours)
{
    double rock = fmax(s->shoe_md_m - s->hole_top_md_m, 0);
    double runs = fmax(dt_count_up(rock / t->bit_run_m), 1);
    double length = s->shoe_md_m - s->top_md_m;
    bool liner = s->type == DT_LINER;
    hours[DT_HOURS_DRILL] = minutes(rock / speed_of(t->drilling, t->drilling_count, s->hole_m) +
                                    rock / t->stand_m * t->connection_minutes / 60);
    /* each bit in and out, and a trip to condition the hole before the pipe */
    hours[DT_HOURS_TRIPS] =
        minutes((runs + 1) * 2 * s->shoe_md_m / t->trip_m_per_hour + t->circulate_hours);
    double joints = length / dt_custom_value_of(well, DT_CUSTOM_BILL_JOINT);
    /* a liner goes in on drill pipe, and the drill pipe comes out again */
    hours[DT_HOURS_RUN] =
        minutes(joints / speed_of(t->running, t->running_count, s->od_m) + t->crew_hours +
                (liner ? 2 * s->top_md_m / t->trip_m_per_hour : 0));
    double displaced = PI / 4 * s->od_m * s->od_m * length;
    if (slurry > 0)
        hours[DT_HOURS_CEMENT] = minutes(pumping_hours(well, slurry, displaced) + t->wait_hours);
    hours[DT_HOURS_HEAD] =
        minutes(liner ? t->hanger_hours + t->lap_test_hours : t->wellhead_hours + t->test_hours);
    hours[DT_HOURS_DRILL_OUT] = s->last ? 0 : minutes(t->drill_out_hours);
    double sum = 0;
    for (int i = 0; i < DT_HOURS_RESERVE; ++i)
        sum += hours[i];
    hours[DT_HOURS_RESERVE] = minutes(t->reserve * sum);
}

static double price_of_bit(const dt_prices *prices, double diameter_m)
{
    for (size_t i = 0; i < prices->bit_count; ++i)
        if (isnan(prices->bits[i].up_to_m) ||
            diameter_m <= prices->bits[i].up_to_m + SAME_DIAMETER_M)
            return prices->bits[i].each;
    return 0;
}

void dt_bill_hole(const dt_well *well, const dt_times_in_force *times, const dt_billed_string *s,
                  dt_bill *out)
{
    const dt_prices *prices = &well->prices;
    dt_bill bill = {0};
    double slurry = slurry_m3(well, s);
    bill_hours(well, &times->times, s, slurry, bill.hours);
    if (well->prices_given) {
        bool liner = s->type == DT_LINER;
        double hours = 0;
        for (int i = 0; i < DT_HOURS_COUNT; ++i)
            hours += bill.hours[i];
        double day = prices->rig_per_day + prices->services_per_day;
        bill.cost[DT_COST_HANGER] = cents(liner ? prices->hanger + prices->packer : 0);
        bill.cost[DT_COST_WELLHEAD] = cents(liner ? 0 : prices->wellhead_stage);
        bill.cost[DT_COST_CEMENT] =
            cents(slurry / dt_custom_value_of(well, DT_CUSTOM_BILL_YIELD) * prices->cement_per_kg);
        bill.cost[DT_COST_BITS] =
            cents(bits_of(&times->times, s) * price_of_bit(prices, s->hole_m));
        bill.cost[DT_COST_RIG] = cents(hours / 24 * day);
    }
    *out = bill;
}

void dt_bill_open_hole(const dt_well *well, const dt_times_in_force *times, double top_md_m,
                       double base_md_m, double hole_m, dt_bill *out)
{
    const dt_prices *prices = &well->prices;
    const dt_times *t = &times->times;
    const double rock = fmax(base_md_m - top_md_m, 0);
    const double runs = fmax(dt_count_up(rock / t->bit_run_m), 1);
    dt_bill bill = {0};
    bill.hours[DT_HOURS_DRILL] = minutes(rock / speed_of(t->drilling, t->drilling_count, hole_m) +
                                         rock / t->stand_m * t->connection_minutes / 60);
    bill.hours[DT_HOURS_TRIPS] =
        minutes(runs * 2 * base_md_m / t->trip_m_per_hour + t->circulate_hours);
    const double sum = bill.hours[DT_HOURS_DRILL] + bill.hours[DT_HOURS_TRIPS];
    bill.hours[DT_HOURS_RESERVE] = minutes(t->reserve * sum);
    if (well->prices_given) {
        bill.cost[DT_COST_BITS] = cents(runs * price_of_bit(prices, hole_m));
        bill.cost[DT_COST_RIG] = cents((sum + bill.hours[DT_HOURS_RESERVE]) / 24 *
                                       (prices->rig_per_day + prices->services_per_day));
    }
    *out = bill;
}

void dt_bill_tieback(const dt_well *well, const dt_times_in_force *times,
                     const dt_billed_tieback *s, dt_bill *out)
{
    const dt_prices *prices = &well->prices;
    const dt_times *t = &times->times;
    dt_bill bill = {0};
    bill.hours[DT_HOURS_TRIPS] = minutes(2 * s->base_md_m / t->trip_m_per_hour);
    bill.hours[DT_HOURS_RUN] =
        minutes(s->base_md_m / dt_custom_value_of(well, DT_CUSTOM_BILL_JOINT) /
                    speed_of(t->running, t->running_count, s->od_m) +
                t->crew_hours);
    bill.hours[DT_HOURS_HEAD] = minutes(t->wellhead_hours + t->test_hours);
    double hours = 0;
    for (int i = 0; i < DT_HOURS_RESERVE; ++i)
        hours += bill.hours[i];
    bill.hours[DT_HOURS_RESERVE] = minutes(t->reserve * hours);
    hours += bill.hours[DT_HOURS_RESERVE];
    if (well->prices_given) {
        bill.cost[DT_COST_HANGER] = cents(isnan(prices->receptacle) ? 0 : prices->receptacle);
        bill.cost[DT_COST_WELLHEAD] = cents(prices->wellhead_stage);
        bill.cost[DT_COST_RIG] =
            cents(hours / 24 * (prices->rig_per_day + prices->services_per_day));
    }
    *out = bill;
}

double dt_price_of_grade(const dt_well *well, const char *grade)
{
    const dt_prices *prices = &well->prices;
    double rest = 0;
    for (size_t i = 0; well->prices_given && i < prices->pipe_count; ++i) {
        const dt_grade_price *row = &prices->pipes[i];
        if (!row->grade)
            rest = row->per_kg;
        else if (dt_same_grade(row->grade, grade))
            return row->per_kg;
    }
    return rest;
}

double dt_price_of_thread(const dt_well *well, const dt_pipe *pipe, dt_thread thread)
{
    const dt_prices *prices = &well->prices;
    double rest = 0;
    for (size_t i = 0; well->prices_given && i < prices->thread_count; ++i) {
        const dt_thread_price *row = &prices->threads[i];
        if (!row->thread)
            rest = row->per_joint;
        else if (dt_pipe_has_thread(pipe, thread, row->thread))
            return row->per_joint;
    }
    return rest;
}

void dt_bill_add_pipe_at(const dt_well *well, const dt_billed_pipe *pipe, double per_kg,
                         double per_joint, dt_bill *bill)
{
    double kg = pipe->pipe->weight_kgm * pipe->length_m;
    bill->steel_kg = dt_nearest((bill->steel_kg + kg) * 10) / 10;
    bill->cost[DT_COST_PIPE] += cents(kg * per_kg);
    bill->cost[DT_COST_THREADS] +=
        cents(pipe->length_m / dt_custom_value_of(well, DT_CUSTOM_BILL_JOINT) * per_joint);
}

void dt_bill_add_pipe(const dt_well *well, const dt_billed_pipe *pipe, dt_bill *bill)
{
    dt_bill_add_pipe_at(well, pipe, dt_price_of_grade(well, pipe->pipe->grade->name),
                        dt_price_of_thread(well, pipe->pipe, pipe->thread), bill);
}

void dt_bill_sum(dt_bill *bill)
{
    double money = 0, hours = 0;
    for (int i = 0; i < DT_COST_COUNT; ++i)
        money += bill->cost[i];
    for (int i = 0; i < DT_HOURS_COUNT; ++i)
        hours += bill->hours[i];
    bill->total = cents(money);
    bill->days = minutes(hours) / 24;
}

void dt_bill_add(dt_bill *sum, const dt_bill *bill)
{
    for (int i = 0; i < DT_COST_COUNT; ++i)
        sum->cost[i] = cents(sum->cost[i] + bill->cost[i]);
    for (int i = 0; i < DT_HOURS_COUNT; ++i)
        sum->hours[i] = minutes(sum->hours[i] + bill->hours[i]);
    sum->steel_kg = dt_nearest((sum->steel_kg + bill->steel_kg) * 10) / 10;
    dt_bill_sum(sum);
}

static double shallowest_zone(const dt_well *well, double above_m, double shoe_m)
{
    double shallowest = shoe_m;
    for (size_t i = 0; i < well->pay_count; ++i)
        if (well->pays[i].base_m > above_m + SAME_DEPTH_M &&
            well->pays[i].top_m < shoe_m - SAME_DEPTH_M)
            shallowest = fmin(shallowest, fmax(well->pays[i].top_m, above_m));
    for (size_t i = 0; i < well->interval_count; ++i)
        if (well->intervals[i].base_m > above_m + SAME_DEPTH_M &&
            well->intervals[i].top_m < shoe_m - SAME_DEPTH_M)
            shallowest = fmin(shallowest, fmax(well->intervals[i].top_m, above_m));
    return shallowest;
}

double dt_bill_cement_top(const dt_well *well, dt_role role, dt_string_type type, double above_m,
                          double top_m, double shoe_m)
{
    double ground = dt_well_ground_m(well);
    if (role == DT_CONDUCTOR) return well->conductor.method == DT_CONDUCTOR_DRILLED ? ground : NAN;
    if (well->last_slotted && role == DT_PRODUCTION) return shoe_m; /* nothing is pumped */
    if (type == DT_LINER) return top_m;
    if (role == DT_SURFACE || dt_cement_to_surface(well)) return ground;
    return fmax(shallowest_zone(well, above_m, shoe_m) -
                    dt_custom_value_of(well, DT_CUSTOM_CEMENTING_ABOVE_SHOE),
                ground);
}
