/* SPDX-License-Identifier: MIT */
#include "strings.h"

#include <math.h>
#include <string.h>

#include "basis.h"
#include "cement_rules.h"
#include "drag.h"
#include "hold.h"
#include "same.h"
#include "units.h"
#include "well_slurries.h"

/* What loads one string: pressures and fluids from the well and the seats. The cases made of them
 * are load_cases.c's. Method, and what it leaves out: docs/strength.md. */

static const double g = DT_STANDARD_GRAVITY;
static const double fresh_water_kgm3 = 1000;

/* The strongest gas at surface from the hole between two shoes: most_pa, from most_tvd_m. */
static dt_over_column strongest_gas(const dt_window *window, double gas_kgm3, double top_m,
                                    double base_m)
{
    return dt_curve_over_column(&window->well->pore, gas_kgm3, top_m, base_m);
}

/* Keeps the worse of the surface pressure so far and one more; NAN by_fracture: no such limit. */
static void worsen(dt_string_load *load, const dt_over_column *source, double by_fracture_pa)
{
    const double limited_pa = fmin(source->most_pa, by_fracture_pa); /* fmin passes NAN over */
    const double surface_pa = fmax(limited_pa, 0);
    if (!dt_less_by(load->surface_pressure_pa, surface_pa, TIE_PA)) return;
    load->surface_pressure_pa = surface_pa;
    load->surface_by_pore_pa = source->most_pa;
    load->surface_by_fracture_pa = by_fracture_pa;
    load->pore_source_tvd_m = source->most_tvd_m;
}

/* The holes drilled while this string is the wall above: down to the next string that covers it,
 * itself or by its tie-back, which is run after its hole is drilled. */
static void gas_while_drilling(const dt_window *window, const dt_seats *seats, dt_string_load *load)
{
    for (size_t i = load->place + 1; i < seats->count; ++i) {
        const double shoe_m = seats->items[i - 1].shoe_m;
        const dt_over_column source =
            strongest_gas(window, load->gas_gradient_kgm3, shoe_m, seats->items[i].shoe_m);
        const double fracture_kgm3 = dt_curve_emw(&window->well->fracture, shoe_m, DT_BELOW);
        worsen(load, &source, (fracture_kgm3 - load->gas_gradient_kgm3) * g * shoe_m);
        if (dt_seat_covers(&seats->items[i])) return;
    }
    const dt_open_end *open = &seats->open;
    if (!open->given) return;
    const dt_over_column source =
        strongest_gas(window, load->gas_gradient_kgm3, open->top_m, open->base_m);
    const double fracture_kgm3 = dt_curve_emw(&window->well->fracture, open->top_m, DT_BELOW);
    worsen(load, &source, (fracture_kgm3 - load->gas_gradient_kgm3) * g * open->top_m);
}

/* The finished well, shut in on gas: the last full string and the liners below it are its wall. */
static void gas_when_finished(const dt_window *window, const dt_seats *seats, dt_string_load *load)
{
    const size_t last = seats->count - 1;
    if (seats->open.given) return; /* nothing is produced through a last hole that stays open */
    for (size_t i = load->place + 1; i <= last; ++i)
        if (dt_seat_covers(&seats->items[i])) return;
    const double top_m = last > 0 ? seats->items[last - 1].shoe_m : 0;
    const dt_over_column source =
        strongest_gas(window, load->gas_gradient_kgm3, top_m, seats->items[last].shoe_m);
    worsen(load, &source, NAN);
}

double dt_wellhead_md(const dt_well *well, const dt_trajectory *trajectory)
{
    return well->bop_at_seabed ? dt_trajectory_md(trajectory, dt_well_ground_m(well)) : 0;
}

/* Where a liner's hanger stands along the hole: a lap above the shoe of the string above. */
static double hanger_md(const dt_seats *seats, const dt_trajectory *trajectory, double lap_m,
                        double head_md, size_t seat)
{
    return fmax(dt_trajectory_md(trajectory, seats->items[seat - 1].shoe_m) - lap_m, head_md);
}

/* place_of is the seat whose shoe counts: a tie-back's liner, on whose top it stands. */
static dt_status place(const dt_seats *seats, const dt_trajectory *trajectory, double lap_m,
                       size_t place_of, dt_string_load *load)
{
    const dt_seat *seat = &seats->items[place_of];
    load->shoe_tvd_m = seat->shoe_m;
    load->shoe_md_m = dt_trajectory_md(trajectory, seat->shoe_m);
    const double head_md = dt_wellhead_md(load->well, trajectory);
    load->top_md_m = head_md;
    if (load->tieback) {
        load->shoe_md_m = hanger_md(seats, trajectory, lap_m, head_md, place_of);
        load->shoe_tvd_m = dt_trajectory_deepest(trajectory, load->shoe_md_m);
    } else if (seat->type == DT_LINER && place_of > 0)
        load->top_md_m = hanger_md(seats, trajectory, lap_m, head_md, place_of);
    load->top_tvd_m = dt_trajectory_deepest(trajectory, load->top_md_m);
    return load->top_tvd_m < load->shoe_tvd_m && isfinite(load->shoe_md_m) ? DT_OK : DT_E_DOMAIN;
}

/* Mud falls until what is left weighs as much as the pore pressure it is lost to. */
static dt_hole_below hole_below(const dt_well *well, double mud_kgm3, double top_m, double base_m)
{
    const dt_over_column over = dt_curve_over_column(&well->pore, mud_kgm3, top_m, base_m);
    return (dt_hole_below){.top_tvd_m = top_m,
                           .base_tvd_m = base_m,
                           .mud_kgm3 = mud_kgm3,
                           .loss_level_tvd_m = fmax(-over.least_pa / (mud_kgm3 * g), 0),
                           .kick_net_pa = over.most_pa};
}

/* The holes drilled below, down to the next full string, and the shoe among them that bears most
 * before it breaks down. */
static void holes_while_drilling(const dt_window *window, const dt_seats *seats,
                                 dt_string_load *load)
{
    for (size_t i = load->place + 1; i < seats->count && load->hole_count < DT_MOST_HOLES; ++i) {
        const double shoe_m = seats->items[i - 1].shoe_m;
        const double fracture_kgm3 = dt_curve_emw(&window->well->fracture, shoe_m, DT_BELOW);
        const double broken_pa = (fracture_kgm3 - load->gas_gradient_kgm3) * g * shoe_m;
        load->fracture_surface_pa = fmax(load->fracture_surface_pa, broken_pa);
        load->holes[load->hole_count++] =
            hole_below(window->well, seats->items[i].mud_kgm3, shoe_m, seats->items[i].shoe_m);
        if (dt_seat_covers(&seats->items[i])) return;
    }
    const dt_open_end *open = &seats->open;
    if (!open->given || load->hole_count == DT_MOST_HOLES) return;
    const double fracture_kgm3 = dt_curve_emw(&window->well->fracture, open->top_m, DT_BELOW);
    load->fracture_surface_pa = fmax(load->fracture_surface_pa,
                                     (fracture_kgm3 - load->gas_gradient_kgm3) * g * open->top_m);
    load->holes[load->hole_count++] =
        hole_below(window->well, open->mud_kgm3, open->top_m, open->base_m);
}

static bool wall_when_finished(const dt_seats *seats, size_t seat)
{
    if (seats->open.given) return false;
    for (size_t i = seat + 1; i < seats->count; ++i)
        if (dt_seat_covers(&seats->items[i])) return false;
    return true;
}

static double heaviest_pinned_slurry(const dt_well *well, const dt_seat *seat)
{
    double heaviest = NAN;
    if (seat->pin == DT_NO_INDEX || seat->pin >= well->pin_count) return NAN;
    const dt_pin *pin = &well->pins[seat->pin];
    for (size_t i = 0; i < pin->cement_count; ++i)
        for (size_t k = 0; k < well->slurry_count; ++k)
            if (pin->cement[i].slurry && well->slurries[k].name &&
                strcmp(pin->cement[i].slurry, well->slurries[k].name) == 0)
                heaviest = fmax(heaviest, well->slurries[k].density_kgm3);
    return heaviest;
}

static double stated(bool given, double value, double otherwise)
{
    return given && !isnan(value) ? value : otherwise;
}

/* Lead and tail as the job is planned before the rock is asked, with the spacer over them: a lead
 * that the rock does not withstand is lightened, and presses less. */
static void set_planned(const dt_well *well, const dt_trajectory *trajectory, double top_md_m,
                        dt_string_load *load)
{
    const dt_cement_wishes *job = &well->cementing;
    const dt_slurry_spec lead = dt_cement_slurry_or(well, job->lead, DT_CUSTOM_CEMENTING_LEAD);
    const double tail_m = dt_cement_tail_length(well, load->shoe_md_m - top_md_m);
    const double tail_top_md_m = load->shoe_md_m - tail_m;
    load->cement_kgm3 = dt_cement_tail(well, load->mud_kgm3).density_kgm3;
    load->lead_kgm3 = load->cement_kgm3;
    if (tail_top_md_m > top_md_m + SAME_DEPTH_M && dt_cement_leads(well, &lead, load->mud_kgm3)) {
        load->lead_kgm3 = lead.density_kgm3;
        load->tail_top_tvd_m = dt_trajectory_deepest(trajectory, tail_top_md_m);
    }
    const double spacer_m =
        dt_custom_or(well, job->spacer_length_m, DT_CUSTOM_CEMENTING_SPACER_LENGTH);
    load->spacer_kgm3 =
        isnan(job->spacer_kgm3) ? (load->mud_kgm3 + load->lead_kgm3) / 2 : job->spacer_kgm3;
    load->spacer_top_tvd_m = fmin(dt_trajectory_deepest(trajectory, fmax(top_md_m - spacer_m, 0)),
                                  load->cement_top_tvd_m);
    if (load->role == DT_SURFACE) load->spacer_top_tvd_m = load->cement_top_tvd_m; /* returned */
}

/* The job of the string: where its cement ends, of which slurries it is, what it is bumped to. A
 * slurry of the file, the heaviest pinned or that of <loads>, stands from the shoe to the top. */
static void set_cement(const dt_well *well, const dt_seats *seats, const dt_trajectory *trajectory,
                       const dt_design_in_force *design, dt_string_load *load)
{
    const dt_load_wishes *wishes = &well->loads;
    const dt_cement_end end =
        dt_cement_end_of(well, seats, load->seat, load->top_tvd_m, load->shoe_tvd_m);
    load->cement_top_tvd_m = fmin(end.top_tvd_m, load->shoe_tvd_m);
    load->spacer_top_tvd_m = load->tail_top_tvd_m = load->cement_top_tvd_m;
    load->cement_kgm3 = heaviest_pinned_slurry(well, &seats->items[load->seat]);
    if (isnan(load->cement_kgm3))
        load->cement_kgm3 = stated(wishes->given, wishes->cement_kgm3, NAN);
    load->lead_kgm3 = load->spacer_kgm3 = load->cement_kgm3;
    if (isnan(load->cement_kgm3))
        set_planned(well, trajectory, dt_trajectory_md(trajectory, load->cement_top_tvd_m), load);
    const dt_cement_wishes *job = &well->cementing;
    load->displacement_kgm3 = stated(wishes->given, wishes->displacement_kgm3,
                                     stated(job->given, job->displacement_kgm3, load->mud_kgm3));
    double inside_pa, outside_pa;
    load->runs[DT_LOAD_COLLAPSE_CEMENT] = true;
    dt_load_pressures(load, DT_LOAD_COLLAPSE_CEMENT, load->shoe_tvd_m, &inside_pa, &outside_pa);
    load->bump_pa = fmax(outside_pa - inside_pa, 0) + design->bump_margin_pa;
}

/* Tested as the well says, in the mud it was run in unless another fluid is stated. */
static void set_test(const dt_well *well, dt_string_load *load)
{
    for (size_t i = 0; well->loads.given && i < well->loads.test_count; ++i) {
        const dt_pressure_test *test = &well->loads.tests[i];
        if (test->role != load->role) continue;
        load->test_pa = test->pressure_pa;
        load->test_kgm3 = isnan(test->fluid_kgm3) ? load->mud_kgm3 : test->fluid_kgm3;
    }
}

/* The test of the liner of a seat. By the fracture gradient: a production liner to so much over
 * fracture pressure at the shoe it laps into, a drilling liner to what the test of the rock below
 * its own shoe will press, both with the fluid in the well when it is tested. */
static dt_lap_test test_of_liner(const dt_window *window, const dt_seats *seats, size_t seat,
                                 bool production)
{
    const dt_liner_test *wishes = &window->well->liner_test;
    const dt_seat *liner = &seats->items[seat];
    dt_lap_test test = {.pressure_pa = wishes->pressure_pa,
                        .fluid_kgm3 =
                            isnan(wishes->fluid_kgm3) ? liner->mud_kgm3 : wishes->fluid_kgm3};
    if (wishes->rule == DT_LINER_TEST_PRESSURE) return test;
    const double at_m = production ? liner[-1].shoe_m : liner->shoe_m;
    const double above_pa =
        dt_custom_or(window->well, wishes->above_pa, DT_CUSTOM_LINER_TEST_ABOVE);
    const double rock_pa = dt_curve_emw(&window->well->fracture, at_m, DT_BELOW) * g * at_m;
    test.pressure_pa = fmax(rock_pa + (production ? above_pa : 0) - test.fluid_kgm3 * g * at_m, 0);
    return test;
}

/* A liner is tested itself, and so is the string it hangs in and those above, each as far down
 * as no other liner covers it. A tie-back is run after its liner's test and takes those of liners
 * below. */
static void set_lap_tests(const dt_window *window, const dt_seats *seats,
                          const dt_trajectory *trajectory, double lap_m, dt_string_load *load)
{
    if (!window->well->liner_test.given) return;
    const size_t own = load->place;
    if (seats->items[own].type == DT_LINER && !load->tieback) {
        dt_lap_test test = test_of_liner(window, seats, own, load->role == DT_PRODUCTION);
        test.base_tvd_m = load->shoe_tvd_m;
        load->lap_tests[load->lap_test_count++] = test;
    }
    const double covered_md_m =
        fmax(dt_trajectory_md(trajectory, seats->items[own].shoe_m) - lap_m, 0);
    for (size_t i = own + 1; i < seats->count && seats->items[i].type == DT_LINER; ++i) {
        if (i > own + 1 && seats->items[i - 1].tied_back)
            return;                                            /* that tie-back stands in the way */
        if (load->lap_test_count == DT_MOST_LAP_TESTS) return; /* no program has so many strings */
        dt_lap_test test = test_of_liner(window, seats, i, i + 1 == seats->count);
        test.base_tvd_m =
            load->tieback ? load->shoe_tvd_m : dt_trajectory_deepest(trajectory, covered_md_m);
        load->lap_tests[load->lap_test_count++] = test;
    }
}

static bool salt_behind(const dt_well *well, const dt_string_load *load)
{
    if (load->tieback) return false; /* pipe stands all round it */
    for (size_t i = 0; i < well->interval_count; ++i)
        if (dt_load_crosses_salt(load, &well->intervals[i])) return true;
    return false;
}

/* By role, losses are never taken lighter than custom has them: a surface string empty to its shoe
 * or to 3,000 ft, whichever is less, another to a third of its depth (docs/strength.md). */
static double least_empty_m(const dt_string_load *load)
{
    if (load->well->loads.evacuation != DT_EVACUATION_BY_ROLE) return 0;
    return load->role == DT_SURFACE ? fmin(load->shoe_tvd_m, 3000 * DT_M_PER_FT)
                                    : load->shoe_tvd_m / 3;
}

/* The stated packer fluid; by role, where none is stated, that of the basis. */
static double packer_kgm3(const dt_string_load *load)
{
    const dt_load_wishes *w = &load->well->loads;
    const double otherwise = w->kick == DT_KICK_BY_ROLE
                                 ? dt_custom_value_of(load->well, DT_CUSTOM_LOADS_PACKER_FLUID)
                                 : NAN;
    return stated(w->given, w->packer_fluid_kgm3, otherwise);
}

/* The burst case of the holes below. By role a surface string, and any where no influx is stated,
 * has gas to surface, which the rock at the shoe limits. */
static dt_kick_case kick_of(const dt_string_load *load)
{
    const dt_load_wishes *w = &load->well->loads;
    if (w->kick != DT_KICK_BY_ROLE) return w->kick;
    return load->role != DT_SURFACE && dt_load_influx_stated(load->well) ? DT_KICK_INFLUX
                                                                         : DT_KICK_GAS;
}

/* May the string stand empty to its foot? The wall of the finished well may; by role the string
 * that is produced through alone, since the packer stands in the liner below the others. */
bool dt_load_emptied(const dt_string_load *load)
{
    switch (load->well->loads.evacuation) {
    case DT_EVACUATION_LOST_RETURNS:
        return load->wall_when_finished;
    case DT_EVACUATION_BY_ROLE:
        return load->role == DT_PRODUCTION;
    case DT_EVACUATION_FULL:
        break;
    }
    return true;
}

/* Which cases the well asks for; the roles of the table are the outer bound. */
static void choose_cases(const dt_well *well, dt_string_load *load)
{
    const dt_load_wishes *w = &well->loads;
    const bool given = w->given;
    const dt_kick_case kick = kick_of(load);
    const bool drilled_below = load->hole_count > 0;
    const bool losses = drilled_below && !dt_load_emptied(load);
    const bool shock = w->running == DT_RUNNING_SHOCK;
    const bool wall = load->wall_when_finished;
    const bool cemented = !load->tieback;
    const bool wanted[DT_LOAD_COUNT] = {
        [DT_LOAD_BURST_GAS] = kick == DT_KICK_GAS || wall,
        [DT_LOAD_BURST_FRACTURE] = kick == DT_KICK_FRACTURE && drilled_below,
        [DT_LOAD_BURST_INFLUX] = kick == DT_KICK_INFLUX && drilled_below,
        [DT_LOAD_BURST_LEAK] = wall && !isnan(load->packer_kgm3),
        [DT_LOAD_BURST_TEST] = !isnan(load->test_pa),
        [DT_LOAD_BURST_LAP] = load->lap_test_count > 0,
        [DT_LOAD_BURST_BUMP] = cemented,
        [DT_LOAD_BURST_STIMULATION] = wall && given && !isnan(w->stimulation_pa),
        [DT_LOAD_COLLAPSE_EMPTY] = !losses,
        [DT_LOAD_COLLAPSE_LOSS] = losses,
        [DT_LOAD_COLLAPSE_CEMENT] = cemented,
        [DT_LOAD_COLLAPSE_FILL] = given && !isnan(w->unfilled_m),
        [DT_LOAD_COLLAPSE_SALT] = load->pressures_apply && salt_behind(well, load),
        [DT_LOAD_TENSION_HANG] = true,
        [DT_LOAD_TENSION_RUN] = !shock,
        [DT_LOAD_TENSION_SHOCK] = shock,
        [DT_LOAD_TENSION_BUMP] = cemented,
        [DT_LOAD_TENSION_GREEN] = cemented && given && !isnan(w->green_test_pa),
    };
    for (int i = 0; i < DT_LOAD_COUNT; ++i)
        load->runs[i] = wanted[i] && (dt_load_roles((dt_load)i) & 1u << load->role) != 0;
    for (int i = 0; load->slotted && i < DT_LOAD_COUNT; ++i)
        load->runs[i] = load->runs[i] && (i == DT_LOAD_TENSION_HANG || i == DT_LOAD_TENSION_RUN ||
                                          i == DT_LOAD_TENSION_SHOCK);
}

/* Fresh water on the rock; sea water, which stands on the wellhead, where that is at the sea floor.
 */
static double backup_of(const dt_well *well)
{
    return well->bop_at_seabed ? dt_well_sea_kgm2(well) / well->water_depth_m : fresh_water_kgm3;
}

static dt_string_load blank_load(const dt_window *window, const dt_seats *seats,
                                 const dt_design_in_force *design, size_t seat)
{
    const bool conductor = seat == 0;
    const dt_seat *s = &seats->items[seat];
    const bool tieback = s->type == DT_TIEBACK;
    const bool slotted = window->well->last_slotted && s->role == DT_PRODUCTION && !tieback;
    const size_t drilled = tieback ? s->ties : seat;
    return (dt_string_load){.seat = seat,
                            .place = drilled,
                            .tieback = tieback,
                            .well = window->well,
                            .mud_kgm3 = s->mud_kgm3,
                            .riserless = seat < dt_well_riserless(window->well),
                            .surface_pressure_pa = conductor ? NAN : -1,
                            .surface_by_pore_pa = NAN,
                            .surface_by_fracture_pa = NAN,
                            .pore_source_tvd_m = NAN,
                            .backup_kgm3 = backup_of(window->well),
                            .backup_top_tvd_m = window->well->rig_floor_m,
                            .gas_gradient_kgm3 = design->gas_gradient_kgm3,
                            .overpull_n = conductor ? 0 : design->overpull_n,
                            .slotted = slotted,
                            .spare = s->spare,
                            .pressures_apply = !conductor && !slotted,
                            .above_tvd_m = conductor ? 0 : seats->items[drilled - 1].shoe_m,
                            .fracture_surface_pa = NAN,
                            .influx_surface_pa = NAN,
                            .leak_pa = NAN,
                            .test_pa = NAN,
                            .test_kgm3 = NAN,
                            .spacer_kgm3 = NAN,
                            .spacer_top_tvd_m = NAN,
                            .lead_kgm3 = NAN,
                            .tail_top_tvd_m = NAN,
                            .cement_kgm3 = NAN,
                            .cement_top_tvd_m = NAN,
                            .displacement_kgm3 = NAN,
                            .bump_pa = NAN};
}

/* The role by place: tests and hand-made seats may leave it at conductor. */
static dt_role role_of(const dt_seats *seats, size_t seat)
{
    if (seat == 0) return DT_CONDUCTOR;
    const dt_role role = seats->items[seat].role;
    if (role != DT_CONDUCTOR) return role;
    if (seat + 1 == seats->count) return DT_PRODUCTION;
    return seat == 1 ? DT_SURFACE : DT_INTERMEDIATE;
}

dt_status dt_string_load_lay(const dt_window *window, const dt_seats *seats,
                             const dt_trajectory *trajectory, const dt_design_in_force *design,
                             double lap_m, size_t seat, dt_string_load *out)
{
    if (seat >= seats->count + seats->tieback_count || !(lap_m >= 0)) return DT_E_DOMAIN;
    const dt_well *well = window->well;
    dt_string_load load = blank_load(window, seats, design, seat);
    load.role = role_of(seats, load.place);
    const size_t pin = seats->items[seat].pin;
    if (pin < well->pin_count && !isnan(well->pins[pin].wear_m))
        load.wear_m = well->pins[pin].wear_m;
    dt_status status = place(seats, trajectory, lap_m, load.place, &load);
    if (status != DT_OK) return status;
    if (load.pressures_apply) {
        gas_while_drilling(window, seats, &load);
        gas_when_finished(window, seats, &load);
        holes_while_drilling(window, seats, &load);
        load.wall_when_finished = wall_when_finished(seats, load.place);
        if (load.wall_when_finished) {
            const size_t last = seats->count - 1;
            const dt_over_column source =
                strongest_gas(window, load.gas_gradient_kgm3, seats->items[last - 1].shoe_m,
                              seats->items[last].shoe_m);
            load.leak_pa = fmax(source.most_pa, 0);
        }
        if (!load.tieback) set_cement(well, seats, trajectory, design, &load);
        set_test(well, &load);
        set_lap_tests(window, seats, trajectory, lap_m, &load);
    }
    load.least_empty_m = load.pressures_apply ? least_empty_m(&load) : 0;
    load.packer_kgm3 = load.pressures_apply ? packer_kgm3(&load) : NAN;
    choose_cases(well, &load);
    *out = load;
    return DT_OK;
}

dt_status dt_string_load_build(const dt_window *window, const dt_seats *seats,
                               const dt_trajectory *trajectory, const dt_design_in_force *design,
                               double lap_m, size_t seat, dt_string_load *out)
{
    dt_status status = dt_string_load_lay(window, seats, trajectory, design, lap_m, seat, out);
    return status == DT_OK ? dt_string_load_drag(trajectory, out) : status;
}
