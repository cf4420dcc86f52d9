/* SPDX-License-Identifier: MIT */
/* Seats against worked examples that other people printed. */
#include "cited.h"
#include "seats.h"
#include "well_in_code.h"

static void choose(const coded_well *c, dt_seats *seats)
{
    dt_window window;
    assert_int_equal(dt_window_build(&c->well, &window), DT_OK);
    assert_int_equal(dt_seats_choose(&window, seats), DT_OK);
    dt_window_free(&window);
}

static const cited notes = {
    CITED_READ, "Ghalambor and Guo, drilling course notes (2005), casing-point section"};
static const cited recomputed = {
    CITED_WORKED, "the same rules without rounding on the way (Ghalambor and Guo, 2005)"};
static const cited book_1 = {CITED_READ, "university exercise Book 1 - Revised"};
static const cited own_pass = {
    CITED_WORKED, "bottom-up pass without kick margin over university exercise Book 1 - Revised"};
static const cited devereux = {
    CITED_READ, "Devereux, Practical Well Planning and Drilling Manual (1998), app. 5, p. 457"};

/*
 * A 16,000-ft well with swab 0.3, surge 0.3, safety 0.2, kick 0.5, gain 0.2 ppg, overbalance
 * limits 2,400 and 3,100 psi. Points as the text states them; pore 9.0 ppg down to 11,100 ft
 * ("deepest normal"); fracture held from 14,000 ft down and from 4,000 ft up, and a conductor
 * deep enough to be no limit, are ours.
 */
static void ghalambor_guo(coded_well *c)
{
    static const double pore[][2] = {{0, 9.0},      {11100, 9.0},  {12550, 12.8}, {13600, 14.5},
                                     {14700, 16.9}, {14900, 17.2}, {16000, 17.6}};
    static const double fracture[][2] = {{4000, 14.4},  {4500, 14.7},  {4700, 14.8}, {12550, 18.0},
                                         {13600, 18.4}, {14000, 18.7}, {16000, 18.7}};
    coded_start(c, 2000, 16000);
    for (size_t i = 0; i < sizeof pore / sizeof *pore; ++i)
        coded_pore(c, pore[i][0], pore[i][1]);
    for (size_t i = 0; i < sizeof fracture / sizeof *fracture; ++i)
        coded_fracture(c, fracture[i][0], fracture[i][1]);
    c->well.margins = (dt_margins){.trip = {0.3 * PPG, 0},
                                   .surge = {0.3 * PPG, 0},
                                   .safety = {0.2 * PPG, 0},
                                   .kick = {0.5 * PPG, 0},
                                   .gain = {0.2 * PPG, 0},
                                   .kick_rule = DT_KICK_DEPTH_RATIO};
    c->well.sticking = (dt_sticking){.given = true,
                                     .normal_limit_pa = 2400 * PSI,
                                     .abnormal_limit_pa = 3100 * PSI,
                                     .normal_pore_kgm3 = 9.0 * PPG};
    c->well.seats.round_to_m = 100 * FT;
}

/* Printed: with the intermediate at 12,550 ft the liner stands from 14,000 to 14,700 ft. The
 * continuous answer for the first, 13,964 ft, was recomputed. */
static void example_a_liner(void **state)
{
    (void)state;
    coded_well c;
    ghalambor_guo(&c);
    coded_pin(&c, DT_INTERMEDIATE, 12550);
    dt_seats seats;
    choose(&c, &seats);
    assert_int_equal(seats.count, 5);
    assert_int_equal(seats.broken_count, 0);
    assert_within(seats.items[2].shoe_m / FT, 12550, 1e-6);
    assert_cited(&recomputed, "shallowest liner seat", "ft", seats.items[3].shallowest_m / FT,
                 13964, 1);
    assert_cited(&notes, "shallowest liner seat", "ft", seats.items[3].shoe_m / FT, 14000, 1e-6);
    assert_int_equal(seats.items[3].why.rule, DT_RULE_KICK_DEPTH_RATIO);
    /* Printed as the look-up point 14,700 ft; the straight line between points goes a few feet on.
     */
    assert_true(seats.items[3].deepest_m / FT >= 14700 && seats.items[3].deepest_m / FT < 14720);
    /* "That seat can only be a liner seat." */
    assert_int_equal(seats.items[3].type, DT_LINER);
    assert_true(seats.items[3].liner_by_sticking);
    /* Printed mud at total depth: 17.9 ppg. */
    assert_cited(&notes, "mud at total depth", "ppg", seats.items[4].mud_kgm3 / PPG, 17.9, 1e-9);
    dt_seats_free(&seats);
}

/*
 * Surface casing. The source drills to 12,550 ft with 13.2 ppg (13.158 rounded up) although its
 * own pore pressure asks for 13.1; printed answer 4,700 ft, continuous 4,618 ft (recomputed).
 * The mud is the rule's maximum here, so 13.2 is put in as pore 12.9 at 12,550 ft.
 */
static void example_a_surface_with_the_printed_mud(void **state)
{
    (void)state;
    coded_well c;
    ghalambor_guo(&c);
    c.pore[2].emw_kgm3 = 12.9 * PPG;
    c.well.sticking.given = false; /* 13.2 ppg is 24 psi over the limit that gave 13.158 */
    coded_pin(&c, DT_INTERMEDIATE, 12550);
    dt_seats seats;
    choose(&c, &seats);
    assert_cited(&recomputed, "surface seat with 13.2 ppg", "ft", seats.items[1].shallowest_m / FT,
                 4618, 1);
    assert_cited(&notes, "surface seat with 13.2 ppg", "ft", seats.items[1].shoe_m / FT, 4700,
                 1e-6);
    assert_int_equal(seats.items[1].why.rule, DT_RULE_KICK_DEPTH_RATIO);
    dt_seats_free(&seats);
}

/* With 13.1 ppg: 13.3 + 0.5 x 12550 / z = 14.4 + 0.3 (z - 4000) / 500, so z = 4,493.9 ft. */
static void example_a_surface_with_the_mud_not_rounded(void **state)
{
    (void)state;
    coded_well c;
    ghalambor_guo(&c);
    coded_pin(&c, DT_INTERMEDIATE, 12550);
    dt_seats seats;
    choose(&c, &seats);
    assert_cited(&recomputed, "surface seat with 13.1 ppg", "ft", seats.items[1].shallowest_m / FT,
                 4493.9, 0.1);
    dt_seats_free(&seats);
}

static void example_a_deepest_liner_rounds_to_the_printed_one(void **state)
{
    (void)state;
    coded_well c;
    ghalambor_guo(&c);
    coded_pin(&c, DT_INTERMEDIATE, 12550);
    c.well.seats.prefer = DT_PREFER_DEEPEST;
    dt_seats seats;
    choose(&c, &seats);
    assert_cited(&notes, "deepest liner seat", "ft", seats.items[3].shoe_m / FT, 14700, 1e-6);
    dt_seats_free(&seats);
}

/*
 * Deepest full string by sticking. Printed: mud 13.158 ppg by 0.052, cut to 13.1, pore 12.8,
 * 12,550 ft; unrounded 12,586 ft. With the exact 12/231 psi per ft and ppg it is
 * 9 + 2400 / (0.0519481 x 11100) - 0.3 = 12.8621 ppg, which the straight line from 12,550 to
 * 13,600 ft reaches at 12,588 ft.
 */
static void example_a_sticking_limits_the_full_string(void **state)
{
    (void)state;
    coded_well c;
    ghalambor_guo(&c);
    coded_pin(&c, DT_SURFACE, 4700);
    dt_seats seats;
    choose(&c, &seats);
    assert_int_equal(seats.broken_count, 0);
    assert_cited(&recomputed, "deepest full string by sticking", "ft",
                 seats.items[2].deepest_m / FT, 12588.4, 0.5);
    assert_int_equal(seats.items[2].why_deepest.rule, DT_RULE_STICKING_NORMAL);
    assert_within(seats.items[2].why_deepest.tvd_m / FT, 11100, 1e-3);
    dt_seats_free(&seats);
}

/*
 * Pore pressures in psi, fracture gradients
 * in psi/ft as printed; trip margin 200 psi. The seats are our own bottom-up pass with no
 * kick margin, worked by hand: 10,340 and 8,560 ft with straight lines in ppg, 10,319 and
 * 8,557 ft with straight lines in pressure. Conductor depth ours.
 */
static void exercise_c(coded_well *c, dt_between between)
{
    static const double rows[][3] = {{3000, 1320, 0.81322},  {5000, 2450, 0.82987},
                                     {8300, 4067, 0.82987},  {8500, 4504, 0.84315},
                                     {9000, 5984, 0.88811},  {9500, 6810, 0.90541},
                                     {10000, 7800, 0.92644}, {11000, 10171, 0.97460}};
    coded_start(c, 1000, 11000);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        double psi_per_ft_to_ppg = PSI / (FT * DT_STANDARD_GRAVITY * PPG);
        coded_pore(c, rows[i][0], rows[i][1] / rows[i][0] * psi_per_ft_to_ppg);
        coded_fracture(c, rows[i][0], rows[i][2] * psi_per_ft_to_ppg);
    }
    c->well.pore.between = c->well.fracture.between = between;
    c->well.margins.trip.pressure_pa = 200 * PSI;
}

static void example_c_by_gradient(void **state)
{
    (void)state;
    coded_well c;
    exercise_c(&c, DT_BETWEEN_GRADIENT);
    dt_seats seats;
    choose(&c, &seats);
    assert_int_equal(seats.count, 4);
    assert_cited(&own_pass, "intermediate seat, straight in ppg", "ft",
                 seats.items[2].shallowest_m / FT, 10340, 1);
    assert_cited(&own_pass, "surface seat, straight in ppg", "ft", seats.items[1].shallowest_m / FT,
                 8560, 1);
    /* 18.13 ppg by 0.052, 18.15 by the exact figure. */
    assert_cited(&book_1, "pore + 200 psi at 11,000 ft", "ppg",
                 seats.items[3].mud_kgm3 / PPG * 12 / 231 / 0.052, 18.13, 0.005);
    dt_seats_free(&seats);
}

static void example_c_by_pressure(void **state)
{
    (void)state;
    coded_well c;
    exercise_c(&c, DT_BETWEEN_PRESSURE);
    dt_seats seats;
    choose(&c, &seats);
    assert_cited(&own_pass, "intermediate seat, straight in pressure", "ft",
                 seats.items[2].shallowest_m / FT, 10319, 1);
    assert_cited(&own_pass, "surface seat, straight in pressure", "ft",
                 seats.items[1].shallowest_m / FT, 8557, 1);
    dt_seats_free(&seats);
}

/** A conductor at sea so deep that returns reach the flowline; depths in ft, gradients in psi/ft.
 */
static double conductor_below_sea_bed(double rig_floor, double water, double flowline,
                                      double returns, double sea, double soil)
{
    const double psi_per_ft = PSI / (FT * DT_STANDARD_GRAVITY);
    coded_well c;
    coded_start(&c, 0, 3000);
    coded_pore(&c, 0, 8.6);
    coded_pore(&c, 3000, 8.6);
    coded_fracture(&c, 0, 12);
    coded_fracture(&c, 3000, 14);
    c.well.rig_floor_m = rig_floor * FT;
    c.well.over_sea = true;
    c.well.water_depth_m = water * FT;
    c.well.conductor = (dt_conductor){.method = DT_CONDUCTOR_DRIVEN,
                                      .depth_m = NAN,
                                      .soil_gradient_kgm3 = soil * psi_per_ft,
                                      .returns_gradient_kgm3 = returns * psi_per_ft,
                                      .sea_gradient_kgm3 = sea * psi_per_ft,
                                      .flowline_m = flowline * FT};
    dt_seats seats;
    choose(&c, &seats);
    const double below = seats.items[0].exact_m / FT - rig_floor - water;
    dt_seats_free(&seats);
    return below;
}

/*
 * Flowline 80 ft above the sea, water 100 ft, returns 0.55, sea 0.45, soil 0.85
 * psi/ft: 180 ft below the sea bed.
 */
static void example_d_conductor(void **state)
{
    (void)state;
    assert_cited(&devereux, "conductor below the sea bed", "ft",
                 conductor_below_sea_bed(90, 100, 80, 0.55, 0.45, 0.85), 180, 1e-6);
}

static const cited netwas = {
    CITED_READ, "netwas.com drilling guide, X gf + dw gsw = (Fh + X) gm for a conductor"};

/* Flowline 240 ft over the sea floor, water 175 ft, returns 0.48, sea 0.445, rock 0.67 psi/ft. */
static void example_d_again_by_a_drilling_guide(void **state)
{
    (void)state;
    assert_cited(&netwas, "conductor below the sea bed", "ft",
                 conductor_below_sea_bed(75, 175, 65, 0.48, 0.445, 0.67), 196.4, 0.05);
}

static const cited mosser = {CITED_READ,
                             "L. Mosser, Casing Seat Depth Determination, parts 1 and 2 (2016), "
                             "LukasMosser/Jupetro, notebooks/data"};

/* A percentage is added to the pore gradient and taken from the fracture gradient; no other margin,
 * no conductor, for which one of a foot stands here. Straight lines in ppg. */
static void example_e(coded_well *c, double share)
{
    static const double pore[][2] = {
        {0.0, 8.326561},        {964.667, 8.590595},    {1998.0839, 8.783154},
        {2995.302, 8.97576},    {4011.6815, 9.285688},  {5009.8692, 9.585435},
        {5989.8653, 9.875001},  {6986.7141, 10.026791}, {8019.7615, 10.178535},
        {9016.1486, 10.279305}, {10030.5888, 10.37495}, {11714.7046, 10.46974},
        {12041.4623, 10.576466}};
    static const double fracture[][2] = {
        {0.0, 9.791853},         {975.6098, 9.859765},    {1992.7279, 10.191324},
        {3008.9689, 10.485946},  {4027.0567, 10.984648},  {5008.0223, 11.381356},
        {6023.386, 11.57904},    {7022.451, 11.975725},   {8019.0689, 12.102005},
        {9034.4788, 12.304791},  {10031.6046, 12.487193}, {11734.3276, 12.638082},
        {12026.1332, 12.882608}, {12041.4623, 12.882608}};
    coded_start(c, 1, 12041.46226);
    for (size_t i = 0; i < sizeof pore / sizeof *pore; ++i)
        coded_pore(c, pore[i][0], pore[i][1] * (1 + share));
    for (size_t i = 0; i < sizeof fracture / sizeof *fracture; ++i)
        coded_fracture(c, fracture[i][0], fracture[i][1] * (1 - share));
}

static void example_e_seats(void **state)
{
    (void)state;
    coded_well c;
    dt_seats seats;
    example_e(&c, 0.02);
    choose(&c, &seats);
    assert_int_equal(seats.count, 3);
    assert_cited_row(&mosser, "shallowest seat", "ft", "2 %", seats.items[1].shallowest_m / FT,
                     4085.19350436, 0.01);
    dt_seats_free(&seats);
    example_e(&c, 0.03);
    choose(&c, &seats);
    assert_int_equal(seats.count, 4);
    assert_cited_row(&mosser, "shallowest seat", "ft", "3 %, lower",
                     seats.items[2].shallowest_m / FT, 4635.437968681077, 0.01);
    assert_cited_row(&mosser, "shallowest seat", "ft", "3 %, upper",
                     seats.items[1].shallowest_m / FT, 1586.6622345831938, 0.01);
    dt_seats_free(&seats);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(example_a_liner),
        cmocka_unit_test(example_a_surface_with_the_printed_mud),
        cmocka_unit_test(example_a_surface_with_the_mud_not_rounded),
        cmocka_unit_test(example_a_deepest_liner_rounds_to_the_printed_one),
        cmocka_unit_test(example_a_sticking_limits_the_full_string),
        cmocka_unit_test(example_c_by_gradient),
        cmocka_unit_test(example_c_by_pressure),
        cmocka_unit_test(example_d_conductor),
        cmocka_unit_test(example_d_again_by_a_drilling_guide),
        cmocka_unit_test(example_e_seats),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
