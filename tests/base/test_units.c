/* SPDX-License-Identifier: MIT */
/* Units: every factor against UDUNITS-2, named ones against print, and what is no quantity.
 */
#include <stdio.h>
#include <string.h>

#include "cited.h"
#include "units.h"

#ifdef DT_HAVE_UDUNITS
#include <udunits2.h>
#endif

/* What each number is held against: a page of factors with nine digits and more, or NIST's seven.
 */
static const cited factors_read = {
    CITED_READ, "a course's sheet of conversion factors (Scribd 372231054), ten digits"};
static const cited sp_811 = {CITED_RECALLED,
                             "NIST Special Publication 811 (2008), appendix B.8, seven digits"};

typedef struct factor_row {
    const char *text;
    dt_kind kind;
    double si;
    bool read;
} factor_row;

/* The sheet gives lb/gal by the cubic foot, and the cubic metre in barrels. */
static const factor_row FACTORS[] = {
    {"1 ft", DT_KIND_LENGTH, 0.3048, true},
    {"1 in", DT_KIND_DIAMETER, 0.0254, true},
    {"1 psi", DT_KIND_PRESSURE, 6894.757293, true},
    {"1 bar", DT_KIND_PRESSURE, 1e5, true},
    {"1 lbf", DT_KIND_FORCE, 4.448221615, true},
    {"1 klbf", DT_KIND_FORCE, 4.448222e+03, false},
    {"1 ppg", DT_KIND_DENSITY, 16.01846337 / 0.133680556, true},
    {"1 lb/ft3", DT_KIND_DENSITY, 16.01846337, true},
    {"1 lb/ft", DT_KIND_LINEAR_MASS, 1.488164e+00, false},
    {"1 bbl", DT_KIND_VOLUME, 1 / 6.28981077, true},
    {"1 gal", DT_KIND_VOLUME, 3.785411784e-3, true},
    {"1 ft3", DT_KIND_VOLUME, 2.831684659e-2, true},
    {"1 deg", DT_KIND_ANGLE, 1.745329e-02, false},
};

static void factors_agree_with_print(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof FACTORS / sizeof *FACTORS; ++i) {
        const factor_row *f = &FACTORS[i];
        double si = NAN;
        assert_int_equal(dt_quantity_parse(f->text, f->kind, &si), DT_PARSE_OK);
        assert_cited_row(f->read ? &factors_read : &sp_811, "factors to SI", "", f->text, si, f->si,
                         (f->read ? 5e-9 : 5.1e-7) * f->si);
    }
}

#ifdef DT_HAVE_UDUNITS
/* How UDUNITS-2 spells our units and the SI unit of the kind. It knows no sacks, no ppg and no
 * sg; a gradient is one of pressure, hence the division by standard gravity; its own gallon and
 * barrel are rounded to seven digits, hence the definition of the US gallon, 231 cubic inches. */
static const char *const SPELLING[][2] = {
    {"ppg", "lb/(231 inch3)"},
    {"sg", "g/cm3"},
    {"lb/ft3", "lb/ft3"},
    {"psi/ft", "psi/ft/(9.80665 m/s2)"},
    {"kPa/m", "kPa/m/(9.80665 m/s2)"},
    {"bar/m", "bar/m/(9.80665 m/s2)"},
    {"Pa/m", "Pa/m/(9.80665 m/s2)"},
    {"klbf", "kip"},
    {"deg", "arc_degree"},
    {"bbl", "9702 inch3"},
    {"gal", "231 inch3"},
    {"ft3/sk", "ft3/(94 lb)"},
    {"gal/sk", "231 inch3/(94 lb)"},
    {"L/100kg", "L/(100 kg)"},
    {"bbl/min", "9702 inch3/min"},
    {"gal/min", "231 inch3/min"},
    {"cP", "centipoise"},
    {"lbf/100ft2", "lbf/(100 ft2)"},
};
static const char *const SI[DT_KIND_COUNT] = {"m",    "m",   "kg/m3", "Pa",    "kg/m",
                                              "N",    "rad", "m3",    "m3/kg", "1",
                                              "m3/s", "s",   "m/s",   "Pa.s",  "Pa"};

static const char *spelling(const char *symbol)
{
    for (size_t i = 0; i < sizeof SPELLING / sizeof *SPELLING; ++i)
        if (strcmp(SPELLING[i][0], symbol) == 0) return SPELLING[i][1];
    return symbol;
}
#endif

static void every_unit_agrees_with_udunits(void **state)
{
    (void)state;
#ifdef DT_HAVE_UDUNITS
    ut_set_error_message_handler(ut_ignore);
    ut_system *system = ut_read_xml(NULL);
    if (!system) {
        print_message("UDUNITS-2 has no unit database (Debian: libudunits2-data): not checked\n");
        skip();
    }
    size_t count = 0;
    const dt_unit *units = dt_unit_table(&count);
    assert_true(count > 30);
    for (size_t i = 0; i < count; ++i) {
        ut_unit *ours = ut_parse(system, spelling(units[i].symbol), UT_ASCII);
        ut_unit *si = ut_parse(system, SI[units[i].kind], UT_ASCII);
        if (!ours || !si) fail_msg("UDUNITS-2 cannot read %s", spelling(units[i].symbol));
        cv_converter *convert = ut_get_converter(ours, si);
        if (!convert) fail_msg("UDUNITS-2 cannot convert %s", units[i].symbol);
        double want = cv_convert_double(convert, 1.0);
        if (!(fabs(units[i].factor - want) <= 1e-12 * want))
            fail_msg("%s = %.17g, UDUNITS-2 says %.17g", units[i].symbol, units[i].factor, want);
        assert_within(cv_convert_double(convert, 0.0), 0.0, 0.0); /* no unit has an offset */
        cv_free(convert);
        ut_free(ours);
        ut_free(si);
    }
    ut_free_system(system);
#else
    print_message("UDUNITS-2 is not installed (Debian: libudunits2-dev): not checked\n");
    skip();
#endif
}

typedef struct parse_row {
    const char *text;
    dt_kind kind;
    dt_parse parse;
    double si;
} parse_row;

static const parse_row QUANTITIES[] = {
    {"1500 m", DT_KIND_LENGTH, DT_PARSE_OK, 1500.0},
    {"12.4ppg", DT_KIND_DENSITY, DT_PARSE_OK, 12.4 * 0.45359237 / 3.785411784e-3},
    {"+3 m", DT_KIND_LENGTH, DT_PARSE_OK, 3.0},
    {"-3 m", DT_KIND_LENGTH, DT_PARSE_OK, -3.0},
    {"1e3 m", DT_KIND_LENGTH, DT_PARSE_OK, 1000.0},
    {"1E-3 m", DT_KIND_LENGTH, DT_PARSE_OK, 0.001},
    {".5 m", DT_KIND_LENGTH, DT_PARSE_OK, 0.5},
    {"5. m", DT_KIND_LENGTH, DT_PARSE_OK, 5.0},
    {" \t12 \n m \r\n", DT_KIND_LENGTH, DT_PARSE_OK, 12.0},
    {"35 %", DT_KIND_FRACTION, DT_PARSE_OK, 0.35},
    {"35%", DT_KIND_FRACTION, DT_PARSE_OK, 0.35},
    {"0 m", DT_KIND_LENGTH, DT_PARSE_OK, 0.0},
    {"1e-400 m", DT_KIND_LENGTH, DT_PARSE_OK, 0.0},

    {"12.4 PPG", DT_KIND_DENSITY, DT_PARSE_OK, 12.4 * 0.45359237 / 3.785411784e-3},
    {"12.4#/gal", DT_KIND_DENSITY, DT_PARSE_OK, 12.4 * 0.45359237 / 3.785411784e-3},
    {"12.4 Lbm / Gal", DT_KIND_DENSITY, DT_PARSE_OK, 12.4 * 0.45359237 / 3.785411784e-3},
    {"1.25 S.G.", DT_KIND_DENSITY, DT_PARSE_OK, 1250.0},
    {"1250 kg/m\xC2\xB3", DT_KIND_DENSITY, DT_PARSE_OK, 1250.0},
    {"1250\xC2\xA0kg/m3", DT_KIND_DENSITY, DT_PARSE_OK, 1250.0},
    {"35 mpa", DT_KIND_PRESSURE, DT_PARSE_OK, 35e6},
    {"100 ft.", DT_KIND_LENGTH, DT_PARSE_OK, 30.48},
    {"100 Feet", DT_KIND_LENGTH, DT_PARSE_OK, 30.48},
    {"100'", DT_KIND_LENGTH, DT_PARSE_OK, 30.48},
    {"100 metres", DT_KIND_LENGTH, DT_PARSE_OK, 100.0},
    {"30\xC2\xB0", DT_KIND_ANGLE, DT_PARSE_OK, 0.5235987755982988},
    {"9-5/8 in", DT_KIND_DIAMETER, DT_PARSE_OK, 0.244475},
    {"9 5/8 inches", DT_KIND_DIAMETER, DT_PARSE_OK, 0.244475},
    {"9-5/8\"", DT_KIND_DIAMETER, DT_PARSE_OK, 0.244475},
    {"9.625\xE2\x80\xB3", DT_KIND_DIAMETER, DT_PARSE_OK, 0.244475},
    {" 5/8 in ", DT_KIND_DIAMETER, DT_PARSE_OK, 0.015875},

    {"9-5/8", DT_KIND_DIAMETER, DT_PARSE_NO_UNIT, 0},
    {"9-5/8 mm", DT_KIND_DIAMETER, DT_PARSE_UNKNOWN_UNIT, 0},
    {"9-8/5 in", DT_KIND_DIAMETER, DT_PARSE_NO_NUMBER, 0},
    {"9-5/0 in", DT_KIND_DIAMETER, DT_PARSE_NO_NUMBER, 0},
    {"9-5 in", DT_KIND_DIAMETER, DT_PARSE_NO_NUMBER, 0},
    {"-9-5/8 in", DT_KIND_DIAMETER, DT_PARSE_NO_NUMBER, 0},
    {"9-5/8 ft", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {"12,4 ppg", DT_KIND_DENSITY, DT_PARSE_NO_NUMBER, 0},
    {"10 000 ft", DT_KIND_LENGTH, DT_PARSE_UNKNOWN_UNIT, 0},
    {"5'11\"", DT_KIND_LENGTH, DT_PARSE_UNKNOWN_UNIT, 0},
    {"12 a-unit-of-which-nobody-ever-heard", DT_KIND_LENGTH, DT_PARSE_UNKNOWN_UNIT, 0},
    {"12.", DT_KIND_LENGTH, DT_PARSE_NO_UNIT, 0},
    {"", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {"   ", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {"m", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {"abc", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {"nan m", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {"inf m", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {"-INF m", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {"0x1F m", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {"0x1p3 m", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {"1,500 ft", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {"1,5 m", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {"1_500 m", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {"1.2.3 m", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {"--3 m", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {"+ 3 m", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {". m", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {"\xC2\xA0 3 m", DT_KIND_LENGTH, DT_PARSE_NO_NUMBER, 0},
    {"1e400 m", DT_KIND_LENGTH, DT_PARSE_NOT_FINITE, 0},
    {"-1e400 m", DT_KIND_LENGTH, DT_PARSE_NOT_FINITE, 0},
    {"1e308 ppg", DT_KIND_DENSITY, DT_PARSE_NOT_FINITE, 0}, /* finite, but not in SI */
    {"9000", DT_KIND_LENGTH, DT_PARSE_NO_UNIT, 0},
    {" 9000 ", DT_KIND_LENGTH, DT_PARSE_NO_UNIT, 0},
    {"12 ppq", DT_KIND_DENSITY, DT_PARSE_UNKNOWN_UNIT, 0},
    {"12 m m", DT_KIND_LENGTH, DT_PARSE_UNKNOWN_UNIT, 0},
    {"12 psi", DT_KIND_LENGTH, DT_PARSE_UNKNOWN_UNIT, 0},
    {"12 f", DT_KIND_LENGTH, DT_PARSE_UNKNOWN_UNIT, 0},
    {"3 each", DT_KIND_LENGTH, DT_PARSE_UNKNOWN_UNIT, 0},
    {"3e", DT_KIND_LENGTH, DT_PARSE_UNKNOWN_UNIT, 0},
    {"3 %", DT_KIND_LENGTH, DT_PARSE_UNKNOWN_UNIT, 0},
};

static void quantities_are_read_or_refused(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof QUANTITIES / sizeof *QUANTITIES; ++i) {
        const parse_row *row = &QUANTITIES[i];
        double si = 777.0;
        dt_parse parse = dt_quantity_parse(row->text, row->kind, &si);
        if (parse != row->parse)
            fail_msg("\"%s\": %d, want %d", row->text, (int)parse, (int)row->parse);
        assert_within(si, parse == DT_PARSE_OK ? row->si : 777.0, 1e-12 * fabs(si));
    }
}

static void bare_numbers_are_read_or_refused(void **state)
{
    (void)state;
    double value = 777.0;
    assert_int_equal(dt_number_parse("1.10", &value), DT_PARSE_OK);
    assert_within(value, 1.10, 0.0);
    assert_int_equal(dt_number_parse(" -2e1 ", &value), DT_PARSE_OK);
    assert_within(value, -20.0, 0.0);
    value = 777.0;
    const char *const bad[] = {"", "abc", "1 ppg", "1ppg", "0x10", "nan", "inf", "1,5", "1 2"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; ++i)
        assert_int_equal(dt_number_parse(bad[i], &value), DT_PARSE_NO_NUMBER);
    assert_int_equal(dt_number_parse("1e400", &value), DT_PARSE_NOT_FINITE);
    assert_within(value, 777.0, 0.0);
}

static void choices_name_every_unit_of_the_kind(void **state)
{
    (void)state;
    size_t count = 0;
    const dt_unit *units = dt_unit_table(&count);
    for (int kind = 0; kind < DT_KIND_COUNT; ++kind) {
        char joined[200] = "";
        for (size_t i = 0; i < count; ++i)
            if ((int)units[i].kind == kind) {
                size_t used = strlen(joined);
                snprintf(joined + used, sizeof joined - used, "%s%s", used ? ", " : "",
                         units[i].symbol);
                assert_ptr_equal(dt_unit_find((dt_kind)kind, units[i].symbol), &units[i]);
            }
        assert_string_equal(joined, dt_unit_choices((dt_kind)kind));
        for (int display = 0; display <= DT_DISPLAY_MIXED; ++display)
            assert_non_null(
                dt_unit_find((dt_kind)kind, dt_display_unit((dt_display)display, (dt_kind)kind)));
    }
    assert_null(dt_unit_find(DT_KIND_LENGTH, "psi"));
    assert_null(dt_unit_find(DT_KIND_LENGTH, ""));
}

/* Each spelling is a unit of ours, found in capitals, too, and none of ours is spelt twice. Those
 * that UDUNITS-2 knows weigh there what ours weighs. */
static void spellings_are_units_of_ours(void **state)
{
    (void)state;
    static const struct {
        dt_kind kind;
        const char *theirs, *ours;
    } rows[] = {
#define DT_SPELLING(kind, theirs, ours) {kind, theirs, ours},
#include "spellings.def"
#undef DT_SPELLING
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        const dt_unit *ours = dt_unit_find(rows[i].kind, rows[i].ours);
        if (!ours || dt_unit_spelt(rows[i].kind, rows[i].theirs) != ours)
            fail_msg("\"%s\" is not read as %s", rows[i].theirs, rows[i].ours);
        assert_null(dt_unit_find(rows[i].kind, rows[i].theirs));
        for (size_t k = 0; k < i; ++k)
            assert_false(rows[k].kind == rows[i].kind &&
                         strcmp(rows[k].theirs, rows[i].theirs) == 0);
    }
#ifdef DT_HAVE_UDUNITS
    ut_set_error_message_handler(ut_ignore);
    ut_system *system = ut_read_xml(NULL);
    size_t known = 0;
    for (size_t i = 0; system && i < sizeof rows / sizeof *rows; ++i) {
        const dt_unit *ours = dt_unit_find(rows[i].kind, rows[i].ours);
        ut_unit *theirs = ut_parse(system, rows[i].theirs, UT_ASCII);
        ut_unit *si = ut_parse(system, SI[rows[i].kind], UT_ASCII);
        cv_converter *convert = theirs && si ? ut_get_converter(theirs, si) : NULL;
        if (convert) { /* its gallon and barrel have seven digits */
            assert_within(ours->factor, cv_convert_double(convert, 1.0), 1e-6 * ours->factor);
            ++known;
        }
        cv_free(convert);
        ut_free(theirs);
        ut_free(si);
    }
    if (system) assert_true(known > 40);
    ut_free_system(system);
#endif
}

static void what_was_meant_is_told(void **state)
{
    (void)state;
    static const char *const rows[][2] = {
        {"12,4 ppg", "write \"12.4 ppg\", with a decimal point"},
        {"-0,5", "write \"-0.5\", with a decimal point"},
        {"10 000 ft", "write \"10000 ft\": digits are not grouped"},
        {"1,234,567 ft", "write \"1234567 ft\": digits are not grouped"},
        {"10,000 ft",
         "write \"10000 ft\" if the comma groups digits, \"10.000 ft\" if it is the decimal point"},
        {"12 ppg, dry", NULL},
        {"12,", NULL},
        {"1,2,3", NULL},
        {"seven", NULL},
        {"", NULL},
        {"12.4 ppg", NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        char out[160] = "";
        const bool told = dt_number_mend(rows[i][0], out, sizeof out);
        if (told != (rows[i][1] != NULL) || strcmp(out, told ? rows[i][1] : "") != 0)
            fail_msg("\"%s\": \"%s\"", rows[i][0], out);
    }
}

typedef struct display_row {
    dt_display display;
    dt_kind kind;
    const char *quantity, *want;
} display_row;

static void values_print_with_customary_digits(void **state)
{
    (void)state;
    const display_row rows[] = {
        {DT_DISPLAY_FIELD, DT_KIND_LENGTH, "11500.4 ft", "11500 ft"},
        {DT_DISPLAY_FIELD, DT_KIND_LENGTH, "-0.2 ft", "0 ft"},
        {DT_DISPLAY_FIELD, DT_KIND_DIAMETER, "244.475 mm", "9.625 in"},
        {DT_DISPLAY_FIELD, DT_KIND_DENSITY, "12.406 ppg", "12.41 ppg"},
        {DT_DISPLAY_FIELD, DT_KIND_PRESSURE, "2300 psi", "2300 psi"},
        {DT_DISPLAY_FIELD, DT_KIND_LINEAR_MASS, "47 lb/ft", "47.00 lb/ft"},
        {DT_DISPLAY_FIELD, DT_KIND_FORCE, "100000 lbf", "100 klbf"},
        {DT_DISPLAY_METRIC, DT_KIND_LENGTH, "1000 ft", "304.8 m"},
        {DT_DISPLAY_METRIC, DT_KIND_DIAMETER, "9.625 in", "244.5 mm"},
        {DT_DISPLAY_METRIC, DT_KIND_DENSITY, "1.2345 g/cm3", "1.234 sg"},
        {DT_DISPLAY_METRIC, DT_KIND_PRESSURE, "12 MPa", "120.0 bar"},
        {DT_DISPLAY_METRIC, DT_KIND_FORCE, "350 kN", "350 kN"},
        {DT_DISPLAY_METRIC, DT_KIND_ANGLE, "12.345 deg", "12.35 deg"},
        {DT_DISPLAY_MIXED, DT_KIND_LENGTH, "1000 ft", "304.8 m"},
        {DT_DISPLAY_MIXED, DT_KIND_DIAMETER, "244.475 mm", "9.625 in"},
        {DT_DISPLAY_MIXED, DT_KIND_DENSITY, "1.2345 g/cm3", "1.234 sg"},
        {DT_DISPLAY_MIXED, DT_KIND_LINEAR_MASS, "47 lb/ft", "47.00 lb/ft"},
        {DT_DISPLAY_MIXED, DT_KIND_PRESSURE, "12 MPa", "120.0 bar"},
    };
    char text[40];
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        double si = NAN;
        assert_int_equal(dt_quantity_parse(rows[i].quantity, rows[i].kind, &si), DT_PARSE_OK);
        int length = dt_display_text(rows[i].display, rows[i].kind, si, text, sizeof text);
        assert_string_equal(text, rows[i].want);
        assert_int_equal(length, strlen(rows[i].want));
    }
    assert_int_equal(dt_display_text(DT_DISPLAY_FIELD, DT_KIND_LENGTH, 304.8, NULL, 0), 7);
}

static void diameters_print_as_the_trade_says_them(void **state)
{
    (void)state;
    const struct {
        double in;
        const char *want;
    } rows[] = {
        {13.375, "13-3/8"},   {9.625, "9-5/8"}, {7.0, "7"},        {20.0, "20"},
        {4.5, "4-1/2"},       {0.5, "1/2"},     {7.656, "7.656"},  {18.625, "18-5/8"},
        {10.0625, "10-1/16"}, {8.535, "8.535"}, {9.6254, "9-5/8"}, {9.6256, "9.626"},
        {6.9996, "7"},
    };
    char text[24];
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        dt_inch_text(rows[i].in * 0.0254, text, sizeof text);
        assert_string_equal(text, rows[i].want);
    }
    dt_inch_text(244.475e-3, text, sizeof text);
    assert_string_equal(text, "9-5/8");
    dt_inch_text(NAN, text, sizeof text); /* no crash; the text is the C library's */
    assert_true(strlen(text) > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(factors_agree_with_print),
        cmocka_unit_test(every_unit_agrees_with_udunits),
        cmocka_unit_test(quantities_are_read_or_refused),
        cmocka_unit_test(bare_numbers_are_read_or_refused),
        cmocka_unit_test(spellings_are_units_of_ours),
        cmocka_unit_test(what_was_meant_is_told),
        cmocka_unit_test(choices_name_every_unit_of_the_kind),
        cmocka_unit_test(values_print_with_customary_digits),
        cmocka_unit_test(diameters_print_as_the_trade_says_them),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
