/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_COSTING_H
#define DRAWTUBE_COSTING_H

#include "catalogue.h"
#include "well.h"

/*
 * What does a string cost in money, steel and days?
 *
 * Each string is billed by itself, from its own hole, pipe and depths, so that the bill of a
 * program is the sum of its strings and the difference of two programs can be read line by
 * line. Rules and their origin: docs/costing.md. Prices come from the well file alone.
 */

/** Lines of a bill, in money. X(NAME, key in JSON, words). */
#define DT_COST_LIST(X)                                                                            \
    X(PIPE, "pipe", "pipe by mass and grade")                                                      \
    X(THREADS, "threads", "threads and couplings")                                                 \
    X(HANGER, "hanger", "liner hanger and packer")                                                 \
    X(WELLHEAD, "wellhead", "wellhead stage")                                                      \
    X(CEMENT, "cement", "cement")                                                                  \
    X(BITS, "bits", "bits")                                                                        \
    X(RIG, "rig", "rig and services by the day")

typedef enum dt_cost {
#define DT_COST_ENUM(name, key, words) DT_COST_##name,
    DT_COST_LIST(DT_COST_ENUM)
#undef DT_COST_ENUM
        DT_COST_COUNT
} dt_cost;

/** Lines of the time a string takes, in hours. */
#define DT_HOURS_LIST(X)                                                                           \
    X(DRILL, "drill", "drilling and connections")                                                  \
    X(TRIPS, "trips", "bit trips and circulating")                                                 \
    X(RUN, "run", "running pipe")                                                                  \
    X(CEMENT, "cement", "cementing and waiting on cement")                                         \
    X(HEAD, "head", "wellhead and pressure test, or hanger and lap test")                          \
    X(DRILL_OUT, "drill_out", "drilling out and testing the shoe")                                 \
    X(RESERVE, "reserve", "reserve")

typedef enum dt_hours {
#define DT_HOURS_ENUM(name, key, words) DT_HOURS_##name,
    DT_HOURS_LIST(DT_HOURS_ENUM)
#undef DT_HOURS_ENUM
        DT_HOURS_COUNT
} dt_hours;

/** Keys for JSON and words for people, static storage. */
const char *dt_cost_key(dt_cost cost);
const char *dt_cost_words(dt_cost cost);
const char *dt_hours_key(dt_hours hours);
const char *dt_hours_words(dt_hours hours);

/** Times in force: the well's, or customary ones where it states none. */
typedef struct dt_times_in_force {
    dt_times times; /* every number set; rows borrowed from the well or static */
    bool customary; /* one or more numbers are customary */
} dt_times_in_force;

/** The times in force: docs/costing.md has the customary ones. Rows stay borrowed from the well. */
void dt_times_settle(const dt_well *well, dt_times_in_force *out);

/** A string as far as its bill depends on it. Depths along the hole. */
typedef struct dt_billed_string {
    size_t index; /* 0 is the conductor */
    bool last;    /* nothing is drilled below it */
    dt_string_type type;
    double hole_top_md_m; /* shoe of the string above; for the conductor the ground */
    double shoe_md_m, top_md_m;
    double cement_top_md_m; /* NAN: not cemented */
    double hole_m, bit_m;   /* bit_m < hole_m when the hole is opened */
    double od_m;
} dt_billed_string;

/** A tie-back as far as its bill depends on it. */
typedef struct dt_billed_tieback {
    double base_md_m; /* where it meets its liner */
    double od_m;
} dt_billed_tieback;

/** One length of one pipe. */
typedef struct dt_billed_pipe {
    const dt_pipe *pipe;
    dt_thread thread;
    double length_m;
} dt_billed_pipe;

/** Money is in the currency of the prices, to the cent; 0 throughout when there are no prices. */
typedef struct dt_bill {
    double cost[DT_COST_COUNT];
    double hours[DT_HOURS_COUNT];
    double steel_kg; /* nominal weight times length, to 0.1 kg */
    double total, days;
} dt_bill;

/** The lines that do not depend on the pipe's weight, grade and thread. */
void dt_bill_hole(const dt_well *well, const dt_times_in_force *times, const dt_billed_string *s,
                  dt_bill *out);

/** The lines of a last hole that stays open: drilled like the others, and that is all. Depths along
 * the hole. */
void dt_bill_open_hole(const dt_well *well, const dt_times_in_force *times, double top_md_m,
                       double base_md_m, double hole_m, dt_bill *out);

/**
 * The lines of a tie-back that do not depend on its pipe: the receptacle on its liner, a wellhead
 * stage, a trip to clean the receptacle out, running, landing and testing.
 */
void dt_bill_tieback(const dt_well *well, const dt_times_in_force *times,
                     const dt_billed_tieback *tieback, dt_bill *out);

/** Adds one length of pipe. */
void dt_bill_add_pipe(const dt_well *well, const dt_billed_pipe *pipe, dt_bill *bill);

/** The same at prices looked up before: per kg of the grade, per joint of the thread. */
void dt_bill_add_pipe_at(const dt_well *well, const dt_billed_pipe *pipe, double per_kg,
                         double per_joint, dt_bill *bill);

/** Sets total and days from the lines. */
void dt_bill_sum(dt_bill *bill);

/** Adds the lines of a string's bill to a program's. */
void dt_bill_add(dt_bill *sum, const dt_bill *bill);

/** Price of pipe per kg in a grade, and of a thread per joint; 0 when nothing is priced. */
double dt_price_of_grade(const dt_well *well, const char *grade);
double dt_price_of_thread(const dt_well *well, const dt_pipe *pipe, dt_thread thread);

/**
 * Top of cement the bill counts on: ground for conductor and surface string, the liner's top
 * for a liner, else 500 ft above the shoe and above the shallowest zone in its hole
 * (30 CFR 250.421, 2015). TVD.
 */
double dt_bill_cement_top(const dt_well *well, dt_role role, dt_string_type type, double above_m,
                          double top_m, double shoe_m);

#endif
