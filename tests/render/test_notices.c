/* SPDX-License-Identifier: MIT */
/* Notices: every template is well formed and listed in docs/notices.md, what is said follows what
 * is stated, and what is taken from a basis is told as that basis spells it. */
#include <stdlib.h>

#include "basis.h"
#include "check.h"
#include "edited_well.h"
#include "rule_words.h"
#include "seats.h"
#include "told.h"
#include "well_in_code.h"

static const struct {
    const char *code, *severity, *template;
} rows[] = {
#define DT_NOTICE(name, code, severity, between, template) {code, #severity, template},
#include "notices.def"
#undef DT_NOTICE
};

enum { ROW_COUNT = sizeof rows / sizeof *rows };

/** Braces and brackets pair up, brackets do not nest, and names are small letters and lines. */
static void check_form(size_t row)
{
    bool part = false;
    for (const char *at = rows[row].template; *at; ++at) {
        if (*at == '[' || *at == ']') {
            if (part == (*at == '[')) fail_msg("%s: brackets", rows[row].code);
            part = !part;
        }
        if (*at == '}') fail_msg("%s: braces", rows[row].code);
        if (*at != '{') continue;
        const size_t size = strcspn(at, "}");
        const size_t name = strspn(at + 1, "!abcdefghijklmnopqrstuvwxyz_");
        if (at[size] != '}' || name == 0) fail_msg("%s: a name", rows[row].code);
        const size_t form = size - 1 - name;
        const char *end = at + 1 + name;
        const bool known = form == 0 || (form == 2 && end[1] >= '0' && end[1] <= '9') ||
                           (form == 2 && end[1] == 'm') ||
                           (form == 3 && strncmp(end, ":in", 3) == 0);
        if (!known) fail_msg("%s: %.*s", rows[row].code, (int)size + 1, at);
        at += size;
    }
    if (part) fail_msg("%s: a bracket is left open", rows[row].code);
}

static void templates_are_well_formed(void **state)
{
    (void)state;
    assert_int_equal(ROW_COUNT, DT_NOTICE_COUNT);
    for (size_t i = 0; i < ROW_COUNT; ++i) {
        check_form(i);
        for (size_t k = 0; k < i; ++k)
            if (strcmp(rows[i].code, rows[k].code) == 0) fail_msg("%s twice", rows[i].code);
    }
}

static char *read_page(const char *path)
{
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    char *text = calloc(1, 1 << 18);
    assert_non_null(text);
    assert_true(fread(text, 1, (1 << 18) - 1, file) > 0);
    fclose(file);
    return text;
}

static void each_is_listed(void **state)
{
    (void)state;
    char *page = read_page(DT_WELLS "/../docs/notices.md");
    for (size_t i = 0; i < ROW_COUNT; ++i) {
        char row[256];
        snprintf(row, sizeof row, "| `%s` | %s |", rows[i].code,
                 dt_gravity_text(dt_notice_gravity((dt_notice_code)i)));
        if (!strstr(page, row)) fail_msg("docs/notices.md lacks %s", row);
    }
    free(page);
}

/* A drawing, the report and the answers of why name a rule by its words. */
static void each_rule_has_words(void **state)
{
    (void)state;
    for (int rule = 0; rule < DT_RULE_COUNT; ++rule) {
        if (!dt_rule_words((dt_rule)rule))
            fail_msg("no words for the rule %s", dt_rule_code((dt_rule)rule));
        assert_true(dt_rule_words((dt_rule)rule)[0] != '\0');
    }
}

/* What a sentence says hangs on what was stated alone. */
static void parts_follow_what_is_stated(void **state)
{
    (void)state;
    dt_notice n = {.code = DT_NOTICE_PIN_DRIFT, .string = DT_NO_STRING};
    dt_notice_figure(&n, "drift", DT_KIND_DIAMETER, 8.5 * 0.0254);
    dt_notice_figure(&n, "bit", DT_KIND_DIAMETER, 8.75 * 0.0254);
    assert_string_equal(
        told(&n), "the next bit, 8-3/4 in, does not pass the drift of the pinned pipe, 8.500 in");
    dt_notice bare = {.code = DT_NOTICE_LAP_SHORT, .string = DT_NO_STRING};
    char *text = NULL;
    assert_int_equal(dt_notice_words(&bare, DT_DISPLAY_FIELD, &text), DT_E_DOMAIN);
    assert_null(text);
    dt_notice_figure(&bare, "lap", DT_KIND_LENGTH, NAN); /* as if nothing had been stated */
    assert_int_equal(bare.figure_count, 0);
}

/** A ramp of pressure under a little conductor; nothing else is stated. */
static void plain_well(coded_well *c)
{
    coded_start(c, 300, 8000);
    coded_pore(c, 0, 9);
    coded_pore(c, 4000, 9);
    coded_pore(c, 8000, 13);
    coded_fracture(c, 0, 11.5);
    coded_fracture(c, 8000, 15.5);
}

/* Every plan of a well that states little: each notice can be told, in both systems of units, and
 * no name or figure was left out for want of room. */
static void each_can_be_told(void **state)
{
    (void)state;
    coded_well c;
    dt_catalogue catalogue;
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    plain_well(&c);
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    assert_int_equal(dt_program_plan(&c.well, &catalogue, &program, &refusal), DT_OK);
    assert_true(program->notices.count > 10);
    for (size_t i = 0; i < program->notices.count; ++i) {
        const dt_notice *n = &program->notices.items[i];
        char *text = NULL;
        assert_int_equal(dt_notice_words(n, DT_DISPLAY_METRIC, &text), DT_OK);
        free(text);
        assert_true(n->figure_count < DT_NOTICE_FIGURES && n->name_count < DT_NOTICE_NAMES);
    }
    dt_program_free(program);
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
}

/* A company's basis is told in its own words, and its figures are in field units. */
static void a_basis_is_told_as_it_is_spelled(void **state)
{
    (void)state;
    coded_well c;
    dt_catalogue catalogue;
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    dt_basis ours = *dt_basis_built_in();
    ours.values[DT_CUSTOM_DESIGN_OVERPULL].si = 500e3;
    ours.values[DT_CUSTOM_DESIGN_OVERPULL].text = "500 kN";
    plain_well(&c);
    c.well.basis = &ours;
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    assert_int_equal(dt_program_plan(&c.well, &catalogue, &program, &refusal), DT_OK);
    bool seen = false;
    for (size_t i = 0; i < program->notices.count; ++i) {
        const dt_notice *n = &program->notices.items[i];
        if (n->code != DT_NOTICE_OVERPULL_CUSTOMARY) continue;
        seen = true;
        assert_string_equal(told(n), "overpull not stated, taken: 500 kN");
        assert_within(dt_notice_find_figure(n, "overpull")->value, 500e3, 0);
    }
    assert_true(seen);
    dt_program_free(program);
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
}

/* Mud that flows by a power law of the well's own is not told as taken for granted; the rest is. */
static void a_power_law_is_not_assumed(void **state)
{
    (void)state;
    static const edit laws[] = {{NULL, NULL},
                                {"</well>", "<rheology mud_n=\"0.7\" mud_k=\"0.4 Pa\"/></well>"},
                                {"</well>", "<rheology mud_600=\"70\" mud_300=\"45\"/></well>"}};
    for (size_t law = 0; law < 3; ++law) {
        dt_catalogue catalogue;
        dt_program *program = NULL;
        dt_refusal refusal = {0};
        dt_well *well = edited_well(DT_WELLS "/alder-reach.xml", &laws[law], 1);
        assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
        assert_int_equal(dt_program_plan(well, &catalogue, &program, &refusal), DT_OK);
        bool seen = false;
        for (size_t i = 0; i < program->notices.count; ++i)
            for (size_t k = 0; k < program->notices.items[i].because_count; ++k) {
                const dt_notice *n = &program->notices.items[i].because[k];
                if (n->code != DT_NOTICE_CUSTOM_RHEOLOGY) continue;
                seen = true;
                assert_true((strstr(told(n), "mud and spacer 20 cP") != NULL) == (law == 0));
                assert_true(strstr(told(n), "spacer 20 cP") != NULL);
            }
        assert_true(seen);
        dt_program_free(program);
        dt_refusal_free(&refusal);
        dt_catalogue_free(&catalogue);
        dt_well_free(well);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(templates_are_well_formed),
        cmocka_unit_test(each_is_listed),
        cmocka_unit_test(each_rule_has_words),
        cmocka_unit_test(parts_follow_what_is_stated),
        cmocka_unit_test(each_can_be_told),
        cmocka_unit_test(a_basis_is_told_as_it_is_spelled),
        cmocka_unit_test(a_power_law_is_not_assumed),
    };
    return cmocka_run_group_tests_name("notices", tests, NULL, NULL);
}
