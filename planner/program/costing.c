/* SPDX-License-Identifier: MIT */
#include "costing.h"

#include <math.h>
#include <string.h>

#include "same.h"
#include "units.h"

/*
 * Customary times: common practice, no source, unless a row names one. A well's <times>
 * replaces each on its own.
 */
static const dt_speed_row customary_drilling[] = {
    {6.5 * DT_M_PER_IN, 20 * DT_M_PER_FT, 0},
    {8.75 * DT_M_PER_IN, 30 * DT_M_PER_FT, 0},
    {12.25 * DT_M_PER_IN, 45 * DT_M_PER_FT, 0},
    {60.0 * DT_M_PER_IN, 60 * DT_M_PER_FT, 0},
};
static const dt_speed_row customary_running[] = {
    {7.625 * DT_M_PER_IN, 20, 0},
    {10.75 * DT_M_PER_IN, 15, 0},
    {16.0 * DT_M_PER_IN, 10, 0},
    {60.0 * DT_M_PER_IN, 6, 0},
};
static const dt_times customary = {
    .trip_m_per_hour = 1000 * DT_M_PER_FT,
    .connection_minutes = 5, /* upper end of a published example's 3 to 5 min a stand */
    .stand_m = 90 * DT_M_PER_FT,
    .bit_run_m = 5000 * DT_M_PER_FT,
    .circulate_hours = 6,
    .crew_hours = 4,
    .wait_hours = 12, /* 30 CFR 250.422 for strings below the conductor, from memory */
    .wellhead_hours = 10,
    .test_hours = 4,
    .drill_out_hours = 4,
    .hanger_hours = 4,
    .lap_test_hours = 4,
    .reserve = 0,
    .drilling = (dt_speed_row *)customary_drilling,
    .running = (dt_speed_row *)customary_running,
    .drilling_count = sizeof customary_drilling / sizeof *customary_drilling,
    .running_count = sizeof customary_running / sizeof *customary_running,
};

/* Cement job, common practice, no source: one slurry at 5 bbl a minute, the plug, displacement
 * at 8 bbl a minute. */
static const double mix_m3_per_hour = 60 * 5 * DT_M3_PER_BBL;
static const double displace_m3_per_hour = 60 * 8 * DT_M3_PER_BBL;
static const double plug_hours = 10.0 / 60;
/* Washed-out hole: 25 % of its annulus; published figures run from 10 to 35 %. */
static const double open_hole_excess = 0.25;
/* Slurry per mass of cement, class G with 44 % water: 1.15 ft3 from a 94 lb sack. */
static const double slurry_m3_per_kg =
    1.15 * DT_M_PER_FT * DT_M_PER_FT * DT_M_PER_FT / (94 * DT_KG_PER_LB);
/* US 30 CFR 250.421(d) and (e), 2015 edition. */
static const double cement_above_m = 500 * DT_M_PER_FT;

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

static double settle(double stated, double otherwise, bool *is_customary)
{
    if (!isnan(stated)) return stated;
    *is_customary = true;
    return otherwise;
}

void dt_times_settle(const dt_well *well, dt_times_in_force *out)
{
    const dt_times *t = &well->times;
    const dt_times *c = &customary;
    bool guessed = false;
    dt_times f = *t;
    f.trip_m_per_hour = settle(t->trip_m_per_hour, c->trip_m_per_hour, &guessed);
    f.connection_minutes = settle(t->connection_minutes, c->connection_minutes, &guessed);
    f.stand_m = settle(t->stand_m, c->stand_m, &guessed);
    f.bit_run_m = settle(t->bit_run_m, c->bit_run_m, &guessed);
    f.circulate_hours = settle(t->circulate_hours, c->circulate_hours, &guessed);
    f.crew_hours = settle(t->crew_hours, c->crew_hours, &guessed);
    /* what is stated for the jobs themselves counts here too */
    double waited = isnan(t->wait_hours) ? well->cementing.wait_s / 3600 : t->wait_hours;
    f.wait_hours = settle(waited, c->wait_hours, &guessed);
    f.wellhead_hours = settle(t->wellhead_hours, c->wellhead_hours, &guessed);
    f.test_hours = settle(t->test_hours, c->test_hours, &guessed);
    f.drill_out_hours = settle(t->drill_out_hours, c->drill_out_hours, &guessed);
    f.hanger_hours = settle(t->hanger_hours, c->hanger_hours, &guessed);
    f.lap_test_hours = settle(t->lap_test_hours, c->lap_test_hours, &guessed);
    f.reserve = isnan(t->reserve) ? 0 : t->reserve;
    if (t->drilling_count == 0) {
        f.drilling = c->drilling;
        f.drilling_count = c->drilling_count;
        guessed = true;
    }
    if (t->running_count == 0) {
        f.running = c->running;
        f.running_count = c->running_count;
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
static double slurry_m3(const dt_billed_string *s)
{
    if (isnan(s->cement_top_md_m)) return 0;
    double open_top = fmax(s->cement_top_md_m, s->hole_top_md_m);
    double lap = s->hole_top_md_m - fmin(s->cement_top_md_m, s->hole_top_md_m);
    return ring_m3(s->hole_m, s->od_m, s->shoe_md_m - open_top) * (1 + open_hole_excess) +
           ring_m3(s->hole_m, s->od_m, lap);
}

static double bits_of(const dt_times *t, const dt_billed_string *s)
{
    double rock = fmax(s->shoe_md_m - s->hole_top_md_m, 0);
    /* a hole opened below the pipe above takes a pilot bit and an opener, in one run */
    return fmax(dt_count_up(rock / t->bit_run_m), 1) *
           (s->bit_m < s->hole_m - SAME_DIAMETER_M ? 2 : 1);
}

static void bill_hours(const dt_times *t, const dt_billed_string *s, double slurry, double *hours)
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
    double joints = length / DT_JOINT_M;
    /* a liner goes in on drill pipe, and the drill pipe comes out again */
    hours[DT_HOURS_RUN] =
        minutes(joints / speed_of(t->running, t->running_count, s->od_m) + t->crew_hours +
                (liner ? 2 * s->top_md_m / t->trip_m_per_hour : 0));
    double displaced = PI / 4 * s->od_m * s->od_m * length;
    if (slurry > 0)
        hours[DT_HOURS_CEMENT] = minutes(slurry / mix_m3_per_hour + plug_hours +
                                         displaced / displace_m3_per_hour + t->wait_hours);
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
    double slurry = slurry_m3(s);
    bill_hours(&times->times, s, slurry, bill.hours);
    if (well->prices_given) {
        bool liner = s->type == DT_LINER;
        double hours = 0;
        for (int i = 0; i < DT_HOURS_COUNT; ++i)
            hours += bill.hours[i];
        double day = prices->rig_per_day + prices->services_per_day;
        bill.cost[DT_COST_HANGER] = cents(liner ? prices->hanger + prices->packer : 0);
        bill.cost[DT_COST_WELLHEAD] = cents(liner ? 0 : prices->wellhead_stage);
        bill.cost[DT_COST_CEMENT] = cents(slurry / slurry_m3_per_kg * prices->cement_per_kg);
        bill.cost[DT_COST_BITS] =
            cents(bits_of(&times->times, s) * price_of_bit(prices, s->hole_m));
        bill.cost[DT_COST_RIG] = cents(hours / 24 * day);
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
        minutes(s->base_md_m / DT_JOINT_M / speed_of(t->running, t->running_count, s->od_m) +
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
        else if (strcmp(row->grade, grade) == 0)
            return row->per_kg;
    }
    return rest;
}

double dt_price_of_thread(const dt_well *well, dt_thread thread)
{
    const dt_prices *prices = &well->prices;
    double rest = 0;
    for (size_t i = 0; well->prices_given && i < prices->thread_count; ++i) {
        const dt_thread_price *row = &prices->threads[i];
        if (!row->thread)
            rest = row->per_joint;
        else if (dt_thread_find(row->thread) == thread)
            return row->per_joint;
    }
    return rest;
}

void dt_bill_add_pipe_at(const dt_billed_pipe *pipe, double per_kg, double per_joint, dt_bill *bill)
{
    double kg = pipe->pipe->weight_kgm * pipe->length_m;
    bill->steel_kg = dt_nearest((bill->steel_kg + kg) * 10) / 10;
    bill->cost[DT_COST_PIPE] += cents(kg * per_kg);
    bill->cost[DT_COST_THREADS] += cents(pipe->length_m / DT_JOINT_M * per_joint);
}

void dt_bill_add_pipe(const dt_well *well, const dt_billed_pipe *pipe, dt_bill *bill)
{
    dt_bill_add_pipe_at(pipe, dt_price_of_grade(well, pipe->pipe->grade->name),
                        dt_price_of_thread(well, pipe->thread), bill);
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
        if (well->pays[i].base_m > above_m + SAME_DEPTH_M && well->pays[i].top_m < shoe_m)
            shallowest = fmin(shallowest, fmax(well->pays[i].top_m, above_m));
    for (size_t i = 0; i < well->interval_count; ++i)
        if (well->intervals[i].base_m > above_m + SAME_DEPTH_M && well->intervals[i].top_m < shoe_m)
            shallowest = fmin(shallowest, fmax(well->intervals[i].top_m, above_m));
    return shallowest;
}

double dt_bill_cement_top(const dt_well *well, dt_role role, dt_string_type type, double above_m,
                          double top_m, double shoe_m)
{
    double ground = dt_well_ground_m(well);
    if (role == DT_CONDUCTOR) return well->conductor.method == DT_CONDUCTOR_DRILLED ? ground : NAN;
    if (type == DT_LINER) return top_m;
    if (role == DT_SURFACE) return ground;
    return fmax(shallowest_zone(well, above_m, shoe_m) - cement_above_m, ground);
}
