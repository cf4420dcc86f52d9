/* SPDX-License-Identifier: MIT */
/* Fracture gradients and leak-off against published worked examples. Print rounds, and uses
 * 0.052 psi/ft for 1 ppg; conversions below are the sources' own. */
#include "cited.h"

#include <stdio.h>
#include <string.h>

#include "pressure.h"
#include "units.h"
#include "window.h"

#define FT     DT_M_PER_FT
#define PPG    DT_KGM3_PER_PPG
#define PSI    DT_PA_PER_PSI
#define PSI_FT (PSI / FT / DT_STANDARD_GRAVITY) /* as kg/m3 */

static double printed_ppg(double kgm3)
{
    return kgm3 / PSI_FT / 0.052;
}

static const cited gulf_coast = {
    CITED_RECALLED, "Gulf Coast problem of lecture 1.11, Fracture Gradients (Scribd 349754265; "
                    "its statement was read)"};

/* 11,000 ft, pore 0.735 psi/ft. */
static void gulf_coast_problem(void **state)
{
    (void)state;
    double P = 0.735 * PSI_FT, S = 1.0 * PSI_FT;
    assert_cited(&gulf_coast, "Hubbert and Willis, low", "ppg",
                 printed_ppg(dt_fracture_hubbert_willis_low(S, P)), 15.83, 0.005);
    assert_cited(&gulf_coast, "Hubbert and Willis, high", "ppg",
                 printed_ppg(dt_fracture_hubbert_willis_high(S, P)), 16.68, 0.005);
    double D = dt_matthews_kelly_depth(S, P, 11000 * FT, 0.535 * PSI_FT);
    assert_cited(&gulf_coast, "Matthews and Kelly, equivalent depth", "ft", D / FT, 5449, 0.5);
    assert_cited(&gulf_coast, "Matthews and Kelly", "ppg",
                 printed_ppg(dt_fracture_matthews_kelly(S, P, 0.685)), 17.63, 0.0051);
    assert_cited(&gulf_coast, "Eaton", "ppg",
                 printed_ppg(dt_fracture_eaton(0.96 * PSI_FT, P, 0.46)), 17.82, 0.005);
}

static const cited lapeyrouse_read = {
    CITED_READ, "Lapeyrouse, Formulas and Calculations (2002), fracture gradient by Eaton"};
static const cited lapeyrouse_recalled = {
    CITED_RECALLED, "Lapeyrouse, Formulas and Calculations (2002), fracture gradients, leak-off"};

/* 12,000 ft, pore 12.0 ppg. The Eaton page prints 0.92 psi/ft, 11,040 psi and 17.69 ppg, the last
 * two from the rounded 0.92. */
static void lapeyrouse_eaton(void **state)
{
    (void)state;
    double F = dt_fracture_eaton(0.96 * PSI_FT, 12.0 * 0.052 * PSI_FT, 0.47) / PSI_FT;
    assert_cited(&lapeyrouse_read, "fracture gradient", "psi/ft", F, 0.92, 0.005);
    assert_cited(&lapeyrouse_read, "fracture pressure", "psi", round(F * 100) / 100 * 12000, 11040,
                 0.5);
    assert_cited(&lapeyrouse_read, "fracture gradient", "ppg", round(F * 100) / 100 / 0.052, 17.69,
                 0.005);
    /* Matthews and Kelly there, Ki 0.79 */
    double P = 12.0 * 0.052 * PSI_FT, S = 1.0 * PSI_FT;
    assert_within((S - P) / PSI_FT * 12000, 4512, 0.5); /* printed stress */
    assert_cited(&lapeyrouse_recalled, "Matthews and Kelly, equivalent depth", "ft",
                 dt_matthews_kelly_depth(S, P, 12000 * FT, 0.535 * PSI_FT) / FT, 8434, 0.5);
    assert_cited(&lapeyrouse_recalled, "Matthews and Kelly", "psi/ft",
                 dt_fracture_matthews_kelly(S, P, 0.79) / PSI_FT, 0.92, 0.005);
}

static const cited eaton_curves = {CITED_RECALLED, "Eaton's Gulf Coast curves, as read off above"};

/* The fits return the values used above. */
static void gulf_coast_fits(void **state)
{
    (void)state;
    assert_cited(&eaton_curves, "overburden at 12,000 ft", "psi/ft",
                 dt_gulf_coast_overburden(12000 * FT) / PSI_FT, 0.96, 0.005);
    assert_cited(&eaton_curves, "Poisson's ratio at 11,000 ft", "",
                 dt_gulf_coast_poisson(11000 * FT), 0.46, 0.006);
    assert_cited(&eaton_curves, "Poisson's ratio at 12,000 ft", "",
                 dt_gulf_coast_poisson(12000 * FT), 0.465, 0.006);
    /* the curves rise all the way; the two pieces of the ratio meet at 5,000 ft as well as three
     * figures were read off */
    for (double D = 1000; D < 20000; D += 50) {
        assert_true(dt_gulf_coast_overburden((D + 50) * FT) > dt_gulf_coast_overburden(D * FT));
        assert_true(dt_gulf_coast_poisson((D + 50) * FT) > dt_gulf_coast_poisson(D * FT));
    }
    assert_within(dt_gulf_coast_poisson(4999.999 * FT), dt_gulf_coast_poisson(5000 * FT), 0.0015);
    assert_true(isnan(dt_gulf_coast_overburden(500 * FT)));
    assert_true(isnan(dt_gulf_coast_poisson(25000 * FT)));
}

static const cited illustration = {
    CITED_READ,
    "an illustration of overburden under water, no publisher: 80 ft of air, 1,000 ft of "
    "water, 5,000 ft of rock"};

/* 80 ft of air, 1,000 ft of water, 5,000 ft of rock: an illustration, no publisher. Its pore
 * pressure is not stated; 0.4465 psi/ft from sea level brings both of its results. */
static void water_lowers_overburden(void **state)
{
    (void)state;
    double sea = 0.445 * PSI_FT, rock = 0.95 * PSI_FT;
    double S = dt_overburden_offshore(80 * FT, 1000 * FT, sea, rock, 6080 * FT);
    assert_within(S / PSI_FT, (1000 * 0.445 + 5000 * 0.95) / 6080, 1e-12);
    assert_cited(&illustration, "overburden", "psi/ft", S / PSI_FT, 0.854, 0.0005);
    double land = 0.4465 * PSI_FT, P = land * 6000 / 6080;
    assert_cited(&illustration, "Christman, at sea", "psi/ft",
                 dt_fracture_christman(S, P, 0.7) / PSI_FT, 0.730, 0.0005);
    assert_cited(&illustration, "Christman, on land", "psi/ft",
                 dt_fracture_christman(rock, land, 0.7) / PSI_FT, 0.799, 0.0005);
}

static const cited datalog = {CITED_READ, "Datalog, abnormal-pressure manual v2.1 (2001)"};
static const cited qammunity = {CITED_READ, "a question-and-answer page (qammunity 11612870)"};

/* Eaton (1975) pore pressure, by d-exponent and by sonic. */
static void eaton_pore(void **state)
{
    (void)state;
    double d = dt_pore_eaton(1.04 * PSI_FT, 0.452 * PSI_FT, 1.75 / 1.85, 1.2);
    assert_cited(&datalog, "Eaton, d-exponent", "psi/ft", d / PSI_FT, 0.490, 0.0006);
    assert_cited(&datalog, "Eaton, d-exponent", "ppg", printed_ppg(d), 9.42, 0.015);
    double sonic = dt_pore_eaton(1.0 * PSI_FT, 0.465 * PSI_FT, 10000.0 / 12000.0, 3.0);
    assert_cited(&qammunity, "Eaton, sonic", "psi/ft", sonic / PSI_FT, 0.69, 0.005);
}

static const cited changed_mud = {CITED_READ, "drillingformulas.com, leak-off with a changed mud"};

/* Print uses 0.052, 0.1 % from the exact 0.051948. */
static void leak_off(void **state)
{
    (void)state;
    assert_cited(&lapeyrouse_recalled, "leak-off as mud weight", "ppg",
                 dt_leak_off_emw(10 * PPG, 1040 * PSI, 4000 * FT) / PPG, 15.0, 0.006);
    assert_cited(&lapeyrouse_recalled, "largest surface pressure", "psi",
                 dt_leak_off_surface(15 * PPG, 12.2 * PPG, 4000 * FT) / PSI, 582, 1.0);
    double changed = dt_leak_off_surface_changed(1000 * PSI, 10 * PPG, 12.5 * PPG, 4500 * FT);
    assert_cited(&changed_mud, "surface pressure", "psi", changed / PSI, 415, 1.0);
}

/* ---- in the well file ----------------------------------------------------------------------- */

#define HEAD                                                                                       \
    "<well xmlns='urn:drawtube:well:1' name='x (invented)'><datum rig_floor='0 ft' "               \
    "over='ground'/>"                                                                              \
    "<objective depth='10000 ft' min_pipe_od='7 in'/>"                                             \
    "<pore_pressure depth_unit='ft' unit='psi/ft'><point depth='0' value='0.465'/>"                \
    "<point depth='6000' value='0.465'/><point depth='10000' value='0.735'/></pore_pressure>"      \
    "<overburden depth_unit='ft' unit='psi/ft'><point depth='0' value='0.90'/>"                    \
    "<point depth='10000' value='0.96'/></overburden>"                                             \
    "<margins trip='0.3 ppg' kick='0.3 ppg'/><conductor method='drilled' depth='150 ft'/>"
#define TAIL "</well>"

static dt_well *parse(const char *text)
{
    dt_report report = {0};
    dt_well *well = NULL;
    assert_int_equal(dt_report_init(&report, "text"), DT_OK);
    dt_status status = dt_well_parse(text, strlen(text), &report, &well);
    if (status != DT_OK)
        fail_msg("refused: %s", report.count ? report.items[0].text : "nothing said");
    dt_report_free(&report);
    return well;
}

static double fracture_at(const dt_well *well, double ft)
{
    return dt_curve_emw(&well->fracture, ft * FT, DT_BELOW) / PSI_FT;
}

/* The formula by hand at points and between them. */
static void method_in_the_file(void **state)
{
    (void)state;
    dt_well *w = parse(HEAD "<fracture_gradient method='eaton' ratio='0.46' sd='0.2 ppg'/>" TAIL);
    double k = 0.46 / 0.54;
    assert_within(fracture_at(w, 10000), 0.735 + k * (0.96 - 0.735), 1e-9);
    assert_within(fracture_at(w, 8000), 0.600 + k * (0.948 - 0.600), 1e-6);
    assert_within(fracture_at(w, 3000), 0.465 + k * (0.918 - 0.465), 1e-6);
    assert_within(w->fracture.points[3].sd_kgm3, 0.2 * PPG, 1e-9);
    dt_well_free(w);
    w = parse(HEAD "<fracture_gradient method='matthews-kelly'><ratio depth='0 ft' value='0.4'/>"
                   "<ratio depth='10000 ft' value='0.8'/></fracture_gradient>" TAIL);
    assert_within(fracture_at(w, 5000), 0.465 + 0.6 * (0.93 - 0.465), 1e-4);
    assert_within(fracture_at(w, 10000), 0.735 + 0.8 * (0.96 - 0.735), 1e-9);
    dt_well_free(w);
}

/* A test replaces what was computed at its shoe and carries its ratio up and down. */
static void leak_off_overrides(void **state)
{
    (void)state;
    dt_well *w =
        parse(HEAD "<fracture_gradient method='hubbert-willis-high'/>"
                   "<leak_off shoe='4000 ft' emw='0.80 psi/ft' deduct='0.02 psi/ft'/>" TAIL);
    assert_within(fracture_at(w, 4000), 0.78, 1e-9);
    double factor = (0.78 - 0.465) / (0.5 * (0.924 - 0.465));
    assert_within(fracture_at(w, 10000), 0.735 + factor * 0.5 * (0.96 - 0.735), 1e-9);
    dt_well_free(w);
    w = parse(HEAD "<fracture_gradient depth_unit='ft' unit='psi/ft'><point depth='0' value='0.7'/>"
                   "<point depth='10000' value='0.9'/></fracture_gradient>"
                   "<leak_off shoe='5000 ft' mud='0.5 psi/ft' pressure='1600 psi'/>" TAIL);
    assert_within(fracture_at(w, 10000), 0.735 + (0.82 - 0.465) / (0.80 - 0.465) * 0.165, 1e-9);
    dt_well_free(w);
}

/* Two tests: between them their factors join linearly, past them the nearer one holds. */
static void two_leak_off_tests(void **state)
{
    (void)state;
    dt_well *w = parse(HEAD "<fracture_gradient method='hubbert-willis-low'/>"
                            "<leak_off shoe='2000 ft' emw='0.70 psi/ft'/>"
                            "<leak_off shoe='6000 ft' emw='0.78 psi/ft'/>" TAIL);
    /* overburden 0.912, 0.924, 0.936 psi/ft at 2000, 4000, 6000 ft; pore 0.465 there */
    double upper = (0.70 - 0.465) / ((0.912 - 0.465) / 3),
           lower = (0.78 - 0.465) / ((0.936 - 0.465) / 3);
    assert_within(fracture_at(w, 2000), 0.70, 1e-9);
    assert_within(fracture_at(w, 6000), 0.78, 1e-9);
    assert_within(fracture_at(w, 4000), 0.465 + (upper + lower) / 2 * (0.924 - 0.465) / 3, 1e-4);
    assert_within(fracture_at(w, 10000), 0.735 + lower * (0.96 - 0.735) / 3, 1e-9);
    dt_well_free(w);
}

/* ---- what the reader refuses: the number of its message and words of it --------------------- */

#define POINTS                                                                                     \
    "<fracture_gradient depth_unit='ft' unit='psi/ft'%s><point depth='0' value='0.7'/>"            \
    "<point depth='10000' value='0.9'/>%s</fracture_gradient>"
#define EATON "<fracture_gradient method='eaton' ratio='0.4'/>"
#define HOLE  "<hole up_to='8.5 in' drill_pipe='5 in' collars='6.5 in' collar_length='600 ft'/>"

static void refused(const char *part, int message, const char *words)
{
    char text[4096];
    dt_report report = {0};
    dt_well *well = NULL;
    snprintf(text, sizeof text, HEAD "%s" TAIL, part);
    assert_int_equal(dt_report_init(&report, "text"), DT_OK);
    if (dt_well_parse(text, strlen(text), &report, &well) != DT_E_INPUT)
        fail_msg("not refused: %s", part);
    bool said = false;
    for (size_t i = 0; i < report.count; ++i)
        said = said || ((int)report.items[i].id == message && strstr(report.items[i].text, words));
    if (!said)
        fail_msg("%s: want %d \"%s\", have %d \"%s\"", part, message, words,
                 (int)report.items[0].id, report.items[0].text);
    dt_report_free(&report);
}

static void methods_that_contradict_themselves(void **state)
{
    (void)state;
    char text[1024];
    snprintf(text, sizeof text, POINTS, "", "<ratio depth='0 ft' value='0.4'/>");
    refused(text, 471, "<ratio> belongs to a method");
    snprintf(text, sizeof text, POINTS, " ratio_from='gulf-coast'", "");
    refused(text, 471, "belong to a method");
    snprintf(text, sizeof text, POINTS, " method='eaton' ratio='0.4'", "");
    refused(text, 471, "a method and points stand in one table");
    refused("<fracture_gradient method='eaton' ratio='0.4' between='pressure'/>", 471,
            "a method takes no depth_unit, unit, between or distribution");
    refused("<fracture_gradient method='hubbert-willis-low' ratio='0.4'/>", 471,
            "has its own ratio");
    refused("<fracture_gradient method='matthews-kelly' ratio_from='gulf-coast'/>", 471,
            "is Poisson's ratio");
    refused("<fracture_gradient method='eaton'/>", 470, "has no ratio");
    refused("<fracture_gradient method='eaton' ratio='0.4' ratio_from='gulf-coast'/>", 470,
            "has more than one ratio");
    refused("<fracture_gradient method='eaton' ratio='0.6'/>", 470, "is at most 0.5");
    refused("<fracture_gradient method='eaton'><ratio depth='0 ft' value='0.4'/>"
            "<ratio depth='5000 ft' value='0.7'/></fracture_gradient>",
            470, "is at most 0.5");
    refused("<fracture_gradient method='eaton'><ratio depth='5000 ft' value='0.4'/>"
            "<ratio depth='5000 ft' value='0.45'/></fracture_gradient>",
            475, "depth does not increase");
}

static void tests_and_kicks_that_contradict_themselves(void **state)
{
    (void)state;
    refused(EATON "<leak_off shoe='4000 ft' emw='0.8 psi/ft' mud='0.5 psi/ft'/>", 472,
            "emw stands beside mud or pressure");
    refused(EATON "<leak_off shoe='4000 ft' mud='0.5 psi/ft'/>", 472,
            "neither emw nor both mud and pressure");
    refused(EATON "<leak_off shoe='4000 ft' emw='0.8 psi/ft'/>"
                  "<leak_off shoe='4000 ft' emw='0.81 psi/ft'/>",
            475, "depth does not increase");
    refused(EATON "<kick_tolerance seat_volume='25 bbl'/>", 477,
            "one of seat_volume and seat_hole is missing");
    refused(EATON "<kick_tolerance seat_below='2000 ft'/>", 477,
            "seat_below has no meaning without seat_volume");
    refused(EATON "<kick_tolerance gas_law='real'/>", 478, "lacks gas_gravity");
    refused(EATON "<kick_tolerance gas_gravity='0.7'/>", 478, "does not use gas_gravity");
    refused(EATON "<kick_tolerance>" HOLE HOLE "</kick_tolerance>", 475, "up_to does not increase");
    refused(EATON "<kick_tolerance><hole up_to='8.5 in' drill_pipe='5 in' collars='9 in' "
                  "collar_length='600 ft'/></kick_tolerance>",
            476, "do not go into the hole");
    refused(EATON "<kick_tolerance seat_volume='25 bbl' seat_hole='6 in'>" HOLE "</kick_tolerance>",
            476, "do not go into seat_hole");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gulf_coast_problem),
        cmocka_unit_test(lapeyrouse_eaton),
        cmocka_unit_test(gulf_coast_fits),
        cmocka_unit_test(water_lowers_overburden),
        cmocka_unit_test(eaton_pore),
        cmocka_unit_test(leak_off),
        cmocka_unit_test(method_in_the_file),
        cmocka_unit_test(leak_off_overrides),
        cmocka_unit_test(two_leak_off_tests),
        cmocka_unit_test(methods_that_contradict_themselves),
        cmocka_unit_test(tests_and_kicks_that_contradict_themselves),
    };
    return cmocka_run_group_tests_name("pressure", tests, NULL, NULL);
}
