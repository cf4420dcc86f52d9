/* SPDX-License-Identifier: MIT */
/*
 * The pages of docs/ that list defaults say what the built-in basis says: docs/basis.md every value
 * and source, the others where they name one. A figure that is changed in the basis alone, or in a
 * page alone, fails here.
 */
#include "check.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "units.h"

enum { PAGE_BYTES = 1 << 18 };

/** A page with every run of blanks and line ends as one blank, since lines wrap where they like. */
static char *read_page(const char *name, bool join)
{
    char path[512];
    snprintf(path, sizeof path, "%s/../%s", DT_TESTS, name);
    FILE *in = fopen(path, "rb");
    if (!in) fail_msg("%s is not there", path);
    char *text = calloc(1, PAGE_BYTES);
    assert_non_null(text);
    const size_t size = fread(text, 1, PAGE_BYTES - 1, in);
    assert_true(size > 0 && size < PAGE_BYTES - 1);
    fclose(in);
    if (!join) return text;
    size_t used = 0;
    for (size_t i = 0; i < size; ++i) {
        const bool blank = text[i] == ' ' || text[i] == '\n';
        if (blank && used > 0 && text[used - 1] == ' ') continue;
        text[used++] = blank ? ' ' : text[i];
    }
    text[used] = '\0';
    return text;
}

/* ---- figures of the basis as a page writes them ---- */

typedef struct filled {
    char text[1024];
    size_t used;
} filled;

static void add(filled *f, const char *text, size_t size)
{
    assert_true(f->used + size < sizeof f->text);
    memcpy(f->text + f->used, text, size);
    f->used += size;
    f->text[f->used] = '\0';
}

/** "100000 lbf" as "100,000 lbf". */
static void add_grouped(filled *f, const char *text, size_t size)
{
    const size_t digits = strspn(text, "0123456789");
    for (size_t i = 0; i < size; ++i) {
        if (i > 0 && i < digits && (digits - i) % 3 == 0) add(f, ",", 1);
        add(f, text + i, 1);
    }
}

/** Fills in "@A": as the basis spells the first value; "@#A" its number alone; "@,A" and "@=A" the
 * same with groups of digits. */
static void fill(const char *form, const dt_custom *customs, filled *f)
{
    *f = (filled){"", 0};
    for (const char *at = form; *at; ++at) {
        if (*at != '@') {
            add(f, at, 1);
            continue;
        }
        const char how = at[1] >= 'A' && at[1] <= 'Z' ? ' ' : *++at;
        const char *text = dt_custom_text(NULL, customs[*++at - 'A']);
        const size_t all = strlen(text), number = strcspn(text, " ");
        const size_t size = how == '#' || how == '=' ? number : all;
        if (how == ',' || how == '=')
            add_grouped(f, text, size);
        else
            add(f, text, size);
    }
}

#define C(name) DT_CUSTOM_##name

static const struct {
    const char *page, *form;
    dt_custom customs[6];
} told[] = {
    {"docs/well-file.md", "| `cover` | length | @#A |", {C(FRESH_WATER_COVER)}},
    {"docs/well-file.md", "| `within` | length | @#A |", {C(INTERVAL_WITHIN)}},
    {"docs/well-file.md", "| `deduct` | gradient | @#A |", {C(LEAK_OFF_DEDUCT)}},
    {"docs/well-file.md", "| `trip` | @#A |", {C(MARGINS_TRIP)}},
    {"docs/well-file.md", "| `kick` | @#A |", {C(MARGINS_KICK)}},
    {"docs/well-file.md", "| `kick_rule` | `@A` |", {C(MARGINS_KICK_RULE)}},
    {"docs/well-file.md", "| `surge`, `safety` | @#A |", {C(MARGINS_SURGE)}},
    {"docs/well-file.md", "| `surge`, `safety` | @#A |", {C(MARGINS_SAFETY)}},
    {"docs/well-file.md", "| `gain` | @#A |", {C(MARGINS_GAIN)}},
    {"docs/well-file.md", "| `mud` | `planned`, `pore` | `@A` |", {C(STICKING_MUD)}},
    {"docs/well-file.md", "| `rock` | `all`, `listed` | `@A` |", {C(STICKING_ROCK)}},
    {"docs/well-file.md",
     "| `prefer` | `shallowest`, `deepest`, `surest` | `@A` |",
     {C(SEATS_PREFER)}},
    {"docs/well-file.md", "| `lap` | length | @A, said so |", {C(SEATS_LAP)}},
    {"docs/well-file.md", "| `liners` | `yes`, `no` | `@A` |", {C(SEATS_LINERS)}},
    {"docs/well-file.md",
     "| `burst`, `collapse`, `tension`, `triaxial` | bare numbers | @A, @B, @C, @D |",
     {C(DESIGN_BURST), C(DESIGN_COLLAPSE), C(DESIGN_TENSION), C(DESIGN_TRIAXIAL)}},
    {"docs/well-file.md", "| `tension_pulled` | bare number | @A |", {C(DESIGN_TENSION_PULLED)}},
    {"docs/well-file.md", "| `overpull` | force | @,A |", {C(DESIGN_OVERPULL)}},
    {"docs/well-file.md", "| `gas_gradient` | density | @A |", {C(DESIGN_GAS)}},
    {"docs/well-file.md",
     "| `collapse_method` | `reduced-yield`, `combined` | `@A` |",
     {C(DESIGN_COLLAPSE_METHOD)}},
    {"docs/well-file.md", "| `sour` | `yes`, `no` | `@A` |", {C(DESIGN_SOUR)}},
    {"docs/well-file.md",
     "| `max_sections` | whole number, 1 to 8 | @A |",
     {C(DESIGN_MAX_SECTIONS)}},
    {"docs/well-file.md", "| `min_section` | length | @A |", {C(DESIGN_MIN_SECTION)}},
    {"docs/well-file.md", "| `crossover` | length | @A |", {C(DESIGN_CROSSOVER)}},
    {"docs/well-file.md", "| `special_drift` | `yes`, `no` | `@A` |", {C(SIZES_SPECIAL_DRIFT)}},
    {"docs/well-file.md", "| `opened_hole` | `yes`, `no` | `@A` |", {C(SIZES_OPENED_HOLE)}},
    {"docs/well-file.md", "| `sea_gradient` | density | @A, said so |", {C(SEA_GRADIENT)}},
    {"docs/well-file.md", "whether the excess applies to it (`@A`)", {C(CEMENTING_RATHOLE_EXCESS)}},
    {"docs/well-file.md", "| `intensity` | gradient | @#A (swabbed) |", {C(KICK_INTENSITY)}},
    {"docs/well-file.md", "| `influx` | gradient | @A |", {C(KICK_INFLUX)}},
    {"docs/well-file.md", "| `margin` | gradient | @#A |", {C(KICK_MARGIN)}},
    {"docs/well-file.md", "| `gas_law` | `boyle`, `real` | `@A` |", {C(KICK_GAS_LAW)}},
    {"docs/well-file.md",
     "| `kick` | `gas`, `fracture`, `influx`, `by-role` | `@A` |",
     {C(LOADS_KICK)}},
    {"docs/well-file.md",
     "| `evacuation` | `full`, `lost-returns`, `by-role` | `@A` |",
     {C(LOADS_EVACUATION)}},
    {"docs/well-file.md", "| `running` | `overpull`, `shock` | `@A` |", {C(LOADS_RUNNING)}},
    {"docs/well-file.md",
     "| `burst_outside` | `water`, `mix-water`, `mud`, `pore`, `cemented` | `@A` |",
     {C(LOADS_BURST_OUTSIDE)}},
    {"docs/well-file.md",
     "| pressure | that of `<cementing>`, else @A, said so |",
     {C(CEMENTING_BUMP_MARGIN)}},
    {"docs/well-file.md", "| `factor` | bare number, 1 to 5 | @A |", {C(HANGERS_FACTOR)}},
    {"docs/well-file.md", "| `above` | pressure | @A, said so |", {C(LINER_TEST_ABOVE)}},
    {"docs/well-file.md", "| `evacuation` | % | @A |", {C(WELLHEAD_EVACUATION)}},
    {"docs/well-file.md", "| `end_factor` | bare number | @A, said so |", {C(WELLHEAD_END_FACTOR)}},
    {"docs/well-file.md", "| `hung_buckles` | `yes`, `no` | `@A` |", {C(WELLHEAD_HUNG_BUCKLES)}},
    {"docs/well-file.md", "| `mudline` | `yes`, `no` | `@A` |", {C(WELLHEAD_MUDLINE)}},
    {"docs/well-file.md", "| `trip_per_hour` | length | @A |", {C(TRIP_PER_HOUR)}},
    {"docs/well-file.md",
     "| `connection_minutes`, `stand` | number, length | @A, @B |",
     {C(CONNECTION_MINUTES), C(STAND)}},
    {"docs/well-file.md", "| `bit_run` | length | @A |", {C(BIT_RUN)}},
    {"docs/well-file.md", "| `circulate_hours` | number | @A |", {C(CIRCULATE_HOURS)}},
    {"docs/well-file.md", "| `crew_hours` | number | @A |", {C(CREW_HOURS)}},
    {"docs/well-file.md",
     "| `wait_hours` | number | `wait` of `<cementing>`, else @A |",
     {C(WAIT_HOURS)}},
    {"docs/well-file.md",
     "| `wellhead_hours`, `test_hours` | number | @A, @B |",
     {C(WELLHEAD_HOURS), C(TEST_HOURS)}},
    {"docs/well-file.md",
     "| `hanger_hours`, `lap_test_hours` | number | @A, @B |",
     {C(HANGER_HOURS), C(LAP_TEST_HOURS)}},
    {"docs/well-file.md", "| `drill_out_hours` | number | @A |", {C(DRILL_OUT_HOURS)}},
    {"docs/well-file.md", "| `reserve` | % | @A |", {C(TIMES_RESERVE)}},
    {"docs/well-file.md", "| `tiebacks` | `yes`, `no` (default `@A`) |", {C(WISHES_TIEBACKS)}},
    {"docs/cement.md", "| `above_shoe` (@A) above the shoe", {C(CEMENTING_ABOVE_SHOE)}},
    {"docs/cement.md", "| `lead` | @A; if the rock does not withstand it,", {C(CEMENTING_LEAD)}},
    {"docs/cement.md", "none that is not @A over the mud |", {C(CEMENTING_OVER_MUD)}},
    {"docs/cement.md", "| `tail` | @A; for heavy mud", {C(CEMENTING_TAIL)}},
    {"docs/cement.md", ", to be @A over the mud |", {C(CEMENTING_OVER_MUD)}},
    {"docs/cement.md", "| `tail_length` | @A above the shoe |", {C(CEMENTING_TAIL_LENGTH)}},
    {"docs/cement.md",
     "; @A where a caliper log covers the hole |",
     {C(CEMENTING_EXCESS_BY_CALIPER)}},
    {"docs/cement.md", "| spacer | @A of annulus at the shoe,", {C(CEMENTING_SPACER_LENGTH)}},
    {"docs/cement.md",
     "| rates | mixing @#A, displacing @B, at most @C in the narrowest annulus",
     {C(CEMENTING_MIX_RATE), C(CEMENTING_DISPLACEMENT_RATE), C(CEMENTING_MOST_SPEED)}},
    {"docs/cement.md",
     "| pump | one triplex, @#A x @B, @C |",
     {C(CEMENTING_PUMP_BORE), C(CEMENTING_PUMP_STROKE), C(CEMENTING_PUMP_EFFICIENCY)}},
    {"docs/cement.md", "| `margin` | @A below fracture |", {C(CEMENTING_MARGIN)}},
    {"docs/cement.md",
     "| `bump_margin` | that of `<loads>`, else @A over the lift |",
     {C(CEMENTING_BUMP_MARGIN)}},
    {"docs/cement.md", "| `wait_strength` | @A, looked at", {C(CEMENTING_WAIT_STRENGTH)}},
    {"docs/cement.md", "| `mud_pv`, `mud_yp`, spacer | @A, @B |", {C(MUD_PV), C(MUD_YP)}},
    {"docs/cement.md", "| `mud_pv`, `mud_yp`, spacer | @A, @B |", {C(SPACER_PV), C(SPACER_YP)}},
    {"docs/cement.md", "| `slurry_pv`, `slurry_yp` | @A, @B |", {C(SLURRY_PV), C(SLURRY_YP)}},
    {"docs/running.md", "| `range`, `joint_length` | @A; ", {C(RUNNING_RANGE)}},
    {"docs/running.md", "| `spares` | @A |", {C(RUNNING_SPARES)}},
    {"docs/running.md",
     "| `track_joints` | @A; conductor and liner @B; ",
     {C(RUNNING_TRACK), C(RUNNING_TRACK_SINGLE)}},
    {"docs/running.md",
     "| `friction_cased`, `friction_open` | @A, @B |",
     {C(FRICTION_CASED), C(FRICTION_OPEN)}},
    {"docs/running.md", "| `blocks`, `rig_load` | @A; not checked |", {C(RUNNING_BLOCKS)}},
    {"docs/running.md", "| `collapse_factor` | that of `<design>`, @A |", {C(DESIGN_COLLAPSE)}},
    {"docs/running.md", "| `fill_joints` | @A, fewer", {C(RUNNING_FILL)}},
    {"docs/running.md",
     "| `joint_time`, `peak_factor` | @A, @B |",
     {C(RUNNING_JOINT_TIME), C(RUNNING_PEAK)}},
    {"docs/running.md",
     "| `rig_up`, `trip_speed` | @A, @,B |",
     {C(RUNNING_RIG_UP), C(RUNNING_TRIP_SPEED)}},
    {"docs/running.md", "| `standoff` | @A |", {C(STANDOFF)}},
    {"docs/running.md",
     "| landing pipe of a liner | @A, @B, @C |",
     {C(LANDING_OD), C(LANDING_WEIGHT), C(LANDING_ID)}},
    {"docs/running.md", "| `shock` | @A: a design factor", {C(RUNNING_SHOCK)}},
    {"docs/running.md", "; @A a joint is the fastest looked at", {C(RUNNING_FASTEST_JOINT)}},
    {"docs/costing.md", "| threads | one joint each @A (", {C(BILL_JOINT)}},
    {"docs/costing.md", "hole to pipe with @A excess", {C(BILL_EXCESS)}},
    {"docs/costing.md",
     "else @A above the shoe and the shallowest zone",
     {C(CEMENTING_ABOVE_SHOE)}},
    {"docs/costing.md",
     "| cement | slurry at @A, @B for the plug, displacement at @C (",
     {C(CEMENTING_MIX_RATE), C(CEMENTING_PLUG_DROP), C(CEMENTING_DISPLACEMENT_RATE)}},
    {"docs/nest.md", "the hole is at most @A times the pilot", {C(SIZES_MOST_OPENING)}},
    {"docs/kick.md", "for a swabbed gas kick of @A with", {C(KICK_INFLUX)}},
    {"docs/strength.md",
     "burst @A, collapse @B, tension @C, with a pull beside the weight @D, triaxial @E, overpull "
     "@,F",
     {C(DESIGN_BURST), C(DESIGN_COLLAPSE), C(DESIGN_TENSION), C(DESIGN_TENSION_PULLED),
      C(DESIGN_TRIAXIAL), C(DESIGN_OVERPULL)}},
    {"docs/strength.md", "at most @A sections of", {C(DESIGN_MAX_SECTIONS)}},
    {"docs/strength.md",
     "sections of at least @A, a crossover as dear as @B of the lightest pipe, bump @C above the "
     "lift, salt at @D of rock",
     {C(DESIGN_MIN_SECTION), C(DESIGN_CROSSOVER), C(CEMENTING_BUMP_MARGIN), C(OVERBURDEN)}},
    {"docs/strength.md", "Gas @A: the figure", {C(DESIGN_GAS)}},
};

static void pages_say_what_the_basis_says(void **state)
{
    (void)state;
    size_t wrong = 0;
    for (size_t i = 0; i < sizeof told / sizeof *told; ++i) {
        char *page = read_page(told[i].page, true);
        filled f;
        fill(told[i].form, told[i].customs, &f);
        if (!strstr(page, f.text)) {
            print_error("%s does not say: %s\n", told[i].page, f.text);
            ++wrong;
        }
        free(page);
    }
    assert_int_equal(wrong, 0);
}

/* ---- tables ---- */

static void expect(const char *name, const filled *f)
{
    char *page = read_page(name, true);
    if (!strstr(page, f->text)) fail_msg("%s does not say: %s", name, f->text);
    free(page);
}

__attribute__((format(printf, 2, 3))) static void add_words(filled *f, const char *format, ...)
{
    char text[256];
    va_list rest;
    va_start(rest, format);
    const int size = vsnprintf(text, sizeof text, format, rest);
    va_end(rest);
    assert_true(size > 0 && (size_t)size < sizeof text);
    add(f, text, (size_t)size);
}

static double inches(double m)
{
    return m / DT_M_PER_IN;
}

static void add_inches(filled *f, const char *before, double m, const char *behind)
{
    char text[32];
    dt_inch_text(m, text, sizeof text);
    add_words(f, "%s%s%s", before, text, behind);
}

static void tables_of_sizes_are_told(void **state)
{
    (void)state;
    size_t count = 0;
    const dt_clearance_row *gaps = dt_custom_rows(NULL, DT_TABLE_CLEARANCES, &count);
    filled f = {"", 0};
    add_words(&f, "| pipe up to in |");
    for (size_t i = 0; i + 1 < count; ++i)
        add_inches(&f, " ", gaps[i].up_to_od_m, " |");
    add_words(&f, " larger |");
    expect("docs/nest.md", &f);
    f = (filled){"", 0};
    add_words(&f, "| gap in |");
    for (size_t i = 0; i < count; ++i)
        add_words(&f, " %.2f |", inches(gaps[i].radial_m));
    expect("docs/nest.md", &f);

    const dt_kick_row *holes = dt_custom_rows(NULL, DT_TABLE_KICK_ROWS, &count);
    f = (filled){"", 0};
    for (size_t i = 0; i < count; ++i) {
        if (i + 1 < count)
            add_words(&f, "| %g in ", inches(holes[i].up_to_m));
        else
            add_words(&f, "| larger ");
        add_words(&f, "| %g bbl | %g in | %g in | %g ft | ", holes[i].minimum_m3 / DT_M3_PER_BBL,
                  inches(holes[i].pipe_od_m), inches(holes[i].collar_od_m),
                  holes[i].collar_m / DT_M_PER_FT);
    }
    expect("docs/kick.md", &f);

    const dt_speed_row *drilling = dt_custom_rows(NULL, DT_TABLE_DRILLING_SPEEDS, &count);
    f = (filled){"", 0};
    add_words(&f, "customary table:");
    for (size_t i = 0; i < count; ++i) {
        add_words(&f, " %g%s", drilling[i].per_hour / DT_M_PER_FT, i ? "" : " ft/h");
        if (i + 1 < count)
            add_inches(&f, " to ", drilling[i].up_to_m, i ? "," : " in,");
        else
            add_words(&f, " above;");
    }
    const dt_speed_row *casing = dt_custom_rows(NULL, DT_TABLE_CASING_SPEEDS, &count);
    for (size_t i = 0; i < count; ++i) {
        add_words(&f, " %g%s", casing[i].per_hour, i ? "" : " joints an hour");
        if (i + 1 < count)
            add_inches(&f, " to ", casing[i].up_to_m, i ? "," : " in,");
        else
            add_words(&f, " above.");
    }
    expect("docs/well-file.md", &f);
}

static void tables_of_jobs_are_told(void **state)
{
    (void)state;
    size_t count = 0;
    const dt_rate_custom *rates = dt_custom_rows(NULL, DT_TABLE_RUNNING_RATES, &count);
    filled f = {"", 0};
    add_words(&f, "| `joints_per_hour` |");
    for (size_t i = count; i-- > 1;)
        add_words(&f, " from %g in %g,", inches(rates[i].from_m), rates[i].per_hour);
    add_words(&f, " else %g |", rates[0].per_hour);
    expect("docs/running.md", &f);

    const dt_joint_custom *joints = dt_custom_rows(NULL, DT_TABLE_JOINTS, &count);
    f = (filled){"", 0};
    for (size_t i = 0; i < count; ++i)
        add_words(&f, "%s%g",
                  i == 0          ? "; "
                  : i + 1 < count ? ", "
                                  : " and ",
                  joints[i].joint_m / DT_M_PER_FT);
    add_words(&f, " ft |");
    expect("docs/running.md", &f);

    const dt_role_customs *roles = dt_custom_rows(NULL, DT_TABLE_CEMENTING_ROLES, &count);
    assert_int_equal(count, DT_ROLE_COUNT);
    assert_true(roles[0].excess >= roles[1].excess && roles[0].excess <= roles[1].excess);
    assert_true(roles[2].excess >= roles[3].excess && roles[2].excess <= roles[3].excess);
    f = (filled){"", 0};
    add_words(&f, "| `excess` | conductor and surface %g %%, below %g %%;", 100 * roles[0].excess,
              100 * roles[2].excess);
    expect("docs/cement.md", &f);
    for (size_t i = 1; i + 1 < count; ++i)
        assert_within(roles[i].wait_s, roles[0].wait_s, 0);
    f = (filled){"", 0};
    add_words(&f, "| `wait` | %g h, production %g h |", roles[0].wait_s / 3600,
              roles[3].wait_s / 3600);
    expect("docs/cement.md", &f);
    f = (filled){"", 0};
    add_words(&f, "else conductor %g psi, others 70 %% of internal yield |",
              roles[0].test_pressure_pa / DT_PA_PER_PSI);
    expect("docs/cement.md", &f);

    f = (filled){"", 0};
    const dt_name_custom *leads = dt_custom_rows(NULL, DT_TABLE_LIGHTER_LEADS, &count);
    add_words(&f, "the heaviest of");
    for (size_t i = 0; i < count; ++i)
        add_words(&f, "%s %s", i ? "," : "", leads[i].text);
    add_words(&f, " that it bears");
    expect("docs/cement.md", &f);
    f = (filled){"", 0};
    const dt_name_custom *tails = dt_custom_rows(NULL, DT_TABLE_HEAVIER_TAILS, &count);
    add_words(&f, "for heavy mud");
    for (size_t i = 0; i < count; ++i)
        add_words(&f, "%s %s", i ? ", then" : "", tails[i].text);
    expect("docs/cement.md", &f);
}

/* ---- docs/basis.md: all of it ---- */

static void add_line(char *out, size_t size, const char *words, const char *place, bool basis_only,
                     const char *value, const char *source)
{
    const size_t used = strlen(out);
    const int more = snprintf(out + used, size - used, "| %s | %s%s | %s | %s |\n", words, place,
                              basis_only ? ", basis only" : "", value, source);
    assert_true(more > 0 && (size_t)more < size - used);
}

/** The table as it must be: of a layer what it states. */
static char *whole_table(const dt_basis *basis)
{
    char *out = calloc(1, PAGE_BYTES);
    assert_non_null(out);
    for (int i = 0; i < DT_CUSTOM_COUNT; ++i) {
        const dt_custom_row *c = dt_custom_about((dt_custom)i);
        char place[96];
        if (!basis->values[i].text) continue;
        snprintf(place, sizeof place, "`<%s %s>`", c->element, c->attribute);
        add_line(out, PAGE_BYTES, c->words, place, c->basis_only, basis->values[i].text,
                 basis->values[i].source);
    }
    for (int i = 0; i < DT_COLUMN_COUNT; ++i) {
        const dt_column_row *c = dt_column_about((dt_custom_column)i);
        const dt_table_row *t = dt_table_about(c->table);
        char words[160], place[96], rows[32];
        if (basis->tables[c->table].count == 0) continue;
        snprintf(words, sizeof words, "%s: %s", t->words, c->words);
        snprintf(place, sizeof place, "`<%s>` `<%s %s>`", t->element, t->row, c->attribute);
        snprintf(rows, sizeof rows, "%zu rows", basis->tables[c->table].count);
        add_line(out, PAGE_BYTES, words, place, false, rows, basis->column_sources[i]);
    }
    return out;
}

/** Writes the page again with another table between two places of it. */
static void write_page(const char *page, const char *from, const char *to, const char *table)
{
    FILE *out = fopen(DT_TESTS "/../docs/basis.md", "wb");
    assert_non_null(out);
    fwrite(page, 1, (size_t)(from - page), out);
    fputs(table, out);
    fputs(to, out);
    assert_int_equal(fclose(out), 0);
}

/** The first table below a title is that of the basis. */
static void expect_table(const char *title, const dt_basis *basis)
{
    static const char head[] = "| what | where | value | source |\n| --- | --- | --- | --- |\n";
    char *page = read_page("docs/basis.md", false), *table = whole_table(basis);
    char *at = strstr(page, title);
    if (at) at = strstr(at, head);
    if (!at) fail_msg("docs/basis.md has no table below \"%s\"", title);
    at += sizeof head - 1;
    char *end = at;
    while (*end == '|')
        end += strcspn(end, "\n") + 1;
    const size_t size = (size_t)(end - at);
    const bool same = size == strlen(table) && memcmp(at, table, size) == 0;
    if (!same && getenv("DT_WRITE_BASIS_TABLE")) {
        write_page(page, at, end, table);
    } else if (!same) {
        for (char *row = strtok(table, "\n"); row; row = strtok(NULL, "\n"))
            if (!strstr(at, row)) print_error("docs/basis.md lacks: %s\n", row);
        fail_msg("docs/basis.md, \"%s\", is not the table of planner/well/basis/%s.xml "
                 "(DT_WRITE_BASIS_TABLE=1 writes it)",
                 title, basis->name);
    }
    free(table);
    free(page);
}

static void the_page_of_the_basis_lists_all_of_it(void **state)
{
    (void)state;
    expect_table("## The built-in basis", dt_basis_built_in());
}

static void the_page_lists_each_shipped_basis(void **state)
{
    (void)state;
    for (size_t i = 1; dt_basis_shipped_name(i); ++i) {
        char title[64];
        snprintf(title, sizeof title, "### %s\n", dt_basis_shipped_name(i));
        expect_table(title, dt_basis_shipped(dt_basis_shipped_name(i)));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pages_say_what_the_basis_says),
        cmocka_unit_test(tables_of_sizes_are_told),
        cmocka_unit_test(tables_of_jobs_are_told),
        cmocka_unit_test(the_page_of_the_basis_lists_all_of_it),
        cmocka_unit_test(the_page_lists_each_shipped_basis),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
