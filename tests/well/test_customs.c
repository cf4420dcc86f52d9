/* SPDX-License-Identifier: MIT */
/* customs.def against the schema: each attribute that a well file may leave out has a custom, or is
 * listed here with the reason why none stands for it. */
#include "check.h"

#include <libxml/parser.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "cement.h"
#include "costing.h"
#include "findings.h"
#include "running.h"
#include "strings.h"

/* ---- the schema ---- */

typedef struct schema {
    xmlDocPtr doc;
    const xmlNode *root;
} schema;

static schema open_schema(void)
{
    schema s = {.doc = xmlReadFile(DT_WELLS "/well.xsd", NULL, XML_PARSE_NONET)};
    assert_non_null(s.doc);
    s.root = xmlDocGetRootElement(s.doc);
    return s;
}

static const char *text_of(const xmlNode *node, const char *name)
{
    for (const xmlAttr *at = node->properties; at; at = at->next)
        if (strcmp((const char *)at->name, name) == 0) return (const char *)at->children->content;
    return NULL;
}

static bool is_a(const xmlNode *node, const char *sort)
{
    return node->type == XML_ELEMENT_NODE && strcmp((const char *)node->name, sort) == 0;
}

/** The named definition, NULL when there is none. */
static const xmlNode *type_named(const schema *s, const char *sort, const char *name)
{
    for (const xmlNode *at = s->root->children; at; at = at->next)
        if (is_a(at, sort) && text_of(at, "name") && strcmp(text_of(at, "name"), name) == 0)
            return at;
    return NULL;
}

/** Next node below `top` in document order. */
static const xmlNode *below(const xmlNode *top, const xmlNode *at)
{
    if (at->children) return at->children;
    while (at != top && !at->next)
        at = at->parent;
    return at == top ? NULL : at->next;
}

/** The declaration of a member, in the type of an element of <well> or of a row in it. */
static const xmlNode *member(const xmlNode *type, const char *sort, const char *name)
{
    for (const xmlNode *at = below(type, type); at; at = below(type, at))
        if (is_a(at, sort) && text_of(at, "name") && strcmp(text_of(at, "name"), name) == 0)
            return at;
    return NULL;
}

static const xmlNode *type_of(const schema *s, const xmlNode *parent_type, const char *element)
{
    const xmlNode *at = parent_type ? member(parent_type, "element", element) : NULL;
    return at ? type_named(s, "complexType", text_of(at, "type")) : NULL;
}

/* ---- what has no default, and why ---- */

static const struct {
    const char *where, *why; /* an element and all in it, or one attribute */
} no_default[] = {
    {"datum/@water_depth", "required over the sea, refused on land"},
    {"datum/@bop", "left out: by the water depth of the basis"},
    {"objective/@depth", "or md: one of the two is required"},
    {"objective/@md", "the same"},
    {"objective/@last", "the well's own: cased unless it says so"},
    {"objective/@hole", "left out: what the pipe above lets through"},
    {"document", "left out: not shown"},
    {"pore_pressure", "a table is read as it stands: format, not custom"},
    {"collapse_gradient", "the same"},
    {"overburden", "the same"},
    {"fracture_gradient", "the same; a method has no ratio of its own"},
    {"temperature/@heating", "left out: not asked"},
    {"temperature/point/@producing", "left out: not asked"},
    {"temperature/point/@quenched", "the same"},
    {"leak_off/@emw", "or mud and pressure: one of the two is required"},
    {"leak_off/@mud", "the same"},
    {"leak_off/@pressure", "the same"},
    {"offsets/offset", "measurements: nothing stands for one that was not made"},
    {"kick_tolerance/@gas_gravity", "required by the real gas law"},
    {"kick_tolerance/@seat_volume", "left out: no seat rule"},
    {"kick_tolerance/@seat_hole", "the same"},
    {"kick_tolerance/@seat_below", "the same"},
    {"fresh_water/@sd", "left out: not uncertain"},
    {"fresh_water/@low", "the same"},
    {"fresh_water/@high", "the same"},
    {"fresh_water/@distribution", "how low and high are read"},
    {"interval/@permeable", "unsaid is a word of its own: <sticking rock> decides"},
    {"interval/@sd", "left out: not uncertain"},
    {"interval/@low", "the same"},
    {"interval/@high", "the same"},
    {"interval/@distribution", "how low and high are read"},
    {"design/@gauge", "left out: not asked"},
    {"conductor/@depth", "left out: computed"},
    {"conductor/@soil_gradient", "required to compute the depth"},
    {"conductor/@returns_gradient", "the same"},
    {"conductor/@flowline", "left out: the rig floor's height"},
    {"slurry/@water", "left out: no mix water is reckoned"},
    {"pinned", "what is left out is the planner's to choose"},
    {"prices", "left out: nothing is priced"},
    {"wishes/@max_strings", "left out: not limited"},
    {"wishes/@rig_hookload", "left out: not limited"},
    {"wishes/@bop_bore", "left out: not limited"},
    {"wishes/@wellhead_bore", "left out: not limited"},
    {"cementing/@spacer_density", "left out: halfway between mud and slurry"},
    {"cementing/@displacement_density", "left out: that of <loads>, else the mud"},
    {"cementing/@thickening_time", "left out: not checked"},
    {"rheology/@mud_n", "left out: the Bingham figures"},
    {"rheology/@mud_k", "the same"},
    {"rheology/@mud_600", "the same"},
    {"rheology/@mud_300", "the same"},
    {"running/@rig_load", "left out: not checked"},
    {"running/@collapse_factor", "left out: that of <design>"},
    {"running/@float_rating", "left out: not checked"},
    {"running/@margin", "left out: the safety of <margins>"},
    {"running/@rigid_od", "left out: a gap of the basis under the hole"},
    {"running/@restoring_force", "left out: the least of API Spec 10D"},
    {"loads/@stimulation", "left out: not run"},
    {"loads/@stimulation_fluid", "left out: not run"},
    {"loads/@cement", "left out: the slurries of the planned job"},
    {"loads/@bump_margin", "left out: that of <cementing>"},
    {"loads/@displacement", "left out: that of <cementing>, else the mud"},
    {"loads/@green_test", "left out: not run"},
    {"loads/@unfilled", "left out: not run"},
    {"loads/test/@fluid", "left out: the mud of the string"},
    {"liner_hangers/hanger", "left out: any weight, no receptacle"},
    {"liner_top_test/@pressure", "required by by=\"pressure\""},
    {"liner_top_test/@fluid", "left out: the mud of the liner"},
    {"wellhead/@bop", "left out: not checked"},
    {"wellhead/@head", "left out: not counted, said so"},
    {"wellhead/@free_length", "left out: not checked"},
};

enum { NO_DEFAULT = sizeof no_default / sizeof *no_default };

static bool used[NO_DEFAULT];

static bool is_listed(const char *where)
{
    bool listed = false;
    for (size_t i = 0; i < NO_DEFAULT; ++i) {
        const char *name = no_default[i].where;
        const size_t size = strlen(name);
        const bool whole = strchr(name, '@') == NULL;
        if (strncmp(where, name, size) != 0 || where[size] != (whole ? '/' : '\0')) continue;
        listed = used[i] = true;
    }
    return listed;
}

static bool has_custom(const char *element, const char *row, const char *attribute)
{
    for (int i = 0; !row && i < DT_CUSTOM_COUNT; ++i) {
        const dt_custom_row *c = dt_custom_about((dt_custom)i);
        if (strcmp(c->element, element) == 0 && strcmp(c->attribute, attribute) == 0) return true;
    }
    for (int i = 0; i < DT_COLUMN_COUNT; ++i) {
        const dt_column_row *c = dt_column_about((dt_custom_column)i);
        const dt_table_row *t = dt_table_about(c->table);
        if (strcmp(t->element, element) == 0 && strcmp(c->attribute, attribute) == 0 &&
            (!row || strcmp(t->row, row) == 0))
            return true;
    }
    return false;
}

typedef struct walk {
    int optional, missing, both;
} walk;

static void look_at(const schema *s, const xmlNode *type, const char *element, const char *row,
                    walk *w)
{
    for (const xmlNode *at = below(type, type); at; at = below(type, at)) {
        const char *name = text_of(at, "name"), *use = text_of(at, "use");
        if (is_a(at, "element") && !row) {
            const xmlNode *inner = type_named(s, "complexType", text_of(at, "type"));
            assert_non_null(inner);
            look_at(s, inner, element, name, w);
        }
        if (!is_a(at, "attribute") || (use && strcmp(use, "required") == 0)) continue;
        char where[128];
        snprintf(where, sizeof where, "%s%s%s/@%s", element, row ? "/" : "", row ? row : "", name);
        const bool custom = has_custom(element, row, name), listed = is_listed(where);
        ++w->optional;
        if (!custom && !listed) print_error("%s has no custom and is not listed\n", where);
        if (custom && listed) print_error("%s has a custom and is listed\n", where);
        w->missing += !custom && !listed;
        w->both += custom && listed;
    }
}

static void what_may_be_left_out_has_a_custom_or_a_reason(void **state)
{
    (void)state;
    const schema s = open_schema();
    const xmlNode *well = type_named(&s, "complexType", "well");
    walk w = {0};
    for (const xmlNode *at = below(well, well); at; at = below(well, at)) {
        if (!is_a(at, "element")) continue;
        const xmlNode *type = type_named(&s, "complexType", text_of(at, "type"));
        assert_non_null(type);
        look_at(&s, type, text_of(at, "name"), NULL, &w);
    }
    for (size_t i = 0; i < NO_DEFAULT; ++i)
        if (!used[i]) fail_msg("%s is listed, but no attribute of the schema", no_default[i].where);
    print_message("%d optional attributes\n", w.optional);
    assert_int_equal(w.missing, 0);
    assert_int_equal(w.both, 0);
    assert_true(w.optional > 150);
    xmlFreeDoc(s.doc);
}

/* ---- from customs.def to the schema ---- */

static void choices_are_those_of(const schema *s, const char *type_name, const char *choices,
                                 const char *what)
{
    const xmlNode *type = type_named(s, "simpleType", type_name);
    if (!type) fail_msg("%s: no list of words %s", what, type_name);
    size_t length = 0, bars = 1;
    for (const xmlNode *at = below(type, type); at; at = below(type, at)) {
        if (!is_a(at, "enumeration")) continue;
        const char *word = text_of(at, "value");
        const char *found = strstr(choices, word);
        if (!found) fail_msg("%s has no %s", what, word);
        length += strlen(word);
    }
    for (const char *at = choices; *at; ++at)
        bars += *at == '|';
    if (length + bars - 1 != strlen(choices)) fail_msg("%s has more words than the schema", what);
}

static void each_custom_is_of_the_schema_or_of_a_basis_alone(void **state)
{
    (void)state;
    static const char *const types[] = {[DT_FORM_NUMBER] = "number",
                                        [DT_FORM_QUANTITY] = "quantity",
                                        [DT_FORM_MARGIN] = "quantity",
                                        [DT_FORM_NAME] = "name"};
    const schema s = open_schema();
    const xmlNode *well = type_named(&s, "complexType", "well");
    for (int i = 0; i < DT_CUSTOM_COUNT; ++i) {
        const dt_custom_row *c = dt_custom_about((dt_custom)i);
        char what[96];
        snprintf(what, sizeof what, "%s/@%s", c->element, c->attribute);
        const xmlNode *type = type_of(&s, well, c->element);
        if (!type && c->basis_only) continue; /* the element is a basis's alone */
        if (!type) fail_msg("the schema has no <%s>", c->element);
        const xmlNode *at = member(type, "attribute", c->attribute);
        if (c->basis_only != (at == NULL)) fail_msg("%s: in the well file or not?", what);
        if (!at) continue;
        if (text_of(at, "use")) fail_msg("%s is required and needs no custom", what);
        if (c->form == DT_FORM_WORD)
            choices_are_those_of(&s, text_of(at, "type"), c->choices, what);
        else if (strcmp(text_of(at, "type"), types[c->form]) != 0)
            fail_msg("%s is no %s", what, types[c->form]);
        assert_true(*c->words != '\0');
    }
    xmlFreeDoc(s.doc);
}

/* The place of a word is the value of its enumeration. */
static void words_stand_in_the_order_of_their_enumerations(void **state)
{
    (void)state;
    static const struct {
        dt_custom custom;
        int value;
        const char *word;
    } rows[] = {
        {DT_CUSTOM_MARGINS_KICK_RULE, DT_KICK_DEPTH_RATIO, "depth-ratio"},
        {DT_CUSTOM_STICKING_MUD, DT_STICKING_PORE_ONLY, "pore"},
        {DT_CUSTOM_STICKING_ROCK, DT_STICKING_LISTED_ROCK, "listed"},
        {DT_CUSTOM_SEATS_PREFER, DT_PREFER_DEEPEST, "deepest"},
        {DT_CUSTOM_KICK_GAS_LAW, DT_GAS_REAL, "real"},
        {DT_CUSTOM_DESIGN_COLLAPSE_METHOD, DT_CHOOSE_COMBINED, "combined"},
        {DT_CUSTOM_LOADS_KICK, DT_KICK_GAS, "gas"},
        {DT_CUSTOM_LOADS_KICK, DT_KICK_FRACTURE, "fracture"},
        {DT_CUSTOM_LOADS_KICK, DT_KICK_INFLUX, "influx"},
        {DT_CUSTOM_LOADS_EVACUATION, DT_EVACUATION_LOST_RETURNS, "lost-returns"},
        {DT_CUSTOM_LOADS_RUNNING, DT_RUNNING_SHOCK, "shock"},
        {DT_CUSTOM_LOADS_BURST_OUTSIDE, DT_OUTSIDE_MIX_WATER, "mix-water"},
        {DT_CUSTOM_LOADS_BURST_OUTSIDE, DT_OUTSIDE_MUD, "mud"},
        {DT_CUSTOM_LOADS_BURST_OUTSIDE, DT_OUTSIDE_PORE, "pore"},
        {DT_CUSTOM_CENTRALIZER, DT_CENTRALIZER_RIGID, "rigid"},
        {DT_CUSTOM_MOVEMENT, DT_MOVE_RECIPROCATE, "reciprocate"},
        {DT_CUSTOM_MOVEMENT, DT_MOVE_ROTATE, "rotate"},
        {DT_CUSTOM_RUNNING_SHOCK, DT_SHOCK_SPEED, "speed"},
        {DT_CUSTOM_RUNNING_SHOCK, DT_SHOCK_WEIGHT, "weight"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        char words[128], *at = words;
        snprintf(words, sizeof words, "%s", dt_custom_about(rows[i].custom)->choices);
        for (int k = 0; k < rows[i].value && at; ++k)
            at = strchr(at, '|') ? strchr(at, '|') + 1 : NULL;
        assert_non_null(at);
        at[strcspn(at, "|")] = '\0';
        assert_string_equal(at, rows[i].word);
    }
    size_t count = 0;
    const dt_role_customs *roles = dt_custom_rows(NULL, DT_TABLE_CEMENTING_ROLES, &count);
    assert_int_equal(count, DT_ROLE_COUNT);
    for (size_t i = 0; i < count; ++i) {
        assert_int_equal(roles[i].role, i);
        assert_int_equal(roles[i].test,
                         i == DT_CONDUCTOR ? DT_TEST_PRESSURE : DT_TEST_INTERNAL_YIELD);
    }
}

/* ---- a well that says what it might have left out ---- */

/** A small well with every attribute of the basis that a well file has, as the basis spells it. */
static void state_all(char *out, size_t size)
{
    static const char *const elements[] = {"margins", "seats",    "kick_tolerance", "sizes",
                                           "design",  "loads",    "wellhead",       "cementing",
                                           "running", "rheology", "times",          "wishes"};
    size_t used_bytes = (size_t)snprintf(
        out, size,
        "<well xmlns=\"urn:drawtube:well:1\" name=\"all said\">\n"
        "<datum rig_floor=\"25 ft\" over=\"ground\"/><objective depth=\"9000 ft\" "
        "min_pipe_od=\"5.5 "
        "in\"/>\n<pore_pressure depth_unit=\"ft\" unit=\"ppg\"><point depth=\"0\" value=\"8.5\"/>"
        "<point depth=\"9000\" value=\"9\"/></pore_pressure>\n<fracture_gradient depth_unit=\"ft\" "
        "unit=\"ppg\"><point depth=\"0\" value=\"11\"/><point depth=\"9000\" value=\"16\"/>"
        "</fracture_gradient>\n<conductor method=\"driven\" depth=\"130 ft\"/>\n");
    for (size_t e = 0; e < sizeof elements / sizeof *elements; ++e) {
        used_bytes += (size_t)snprintf(out + used_bytes, size - used_bytes, "<%s", elements[e]);
        for (int i = 0; i < DT_CUSTOM_COUNT; ++i) {
            const dt_custom_row *c = dt_custom_about((dt_custom)i);
            if (strcmp(c->element, elements[e]) == 0 && !c->basis_only)
                used_bytes += (size_t)snprintf(out + used_bytes, size - used_bytes, " %s=\"%s\"",
                                               c->attribute, dt_custom_text(NULL, (dt_custom)i));
        }
        used_bytes += (size_t)snprintf(out + used_bytes, size - used_bytes, "/>\n");
    }
    used_bytes += (size_t)snprintf(out + used_bytes, size - used_bytes, "</well>\n");
    assert_true(used_bytes < size);
}

/* The values of the basis pass the limits of a well file, and stating them changes nothing. */
static void a_well_that_states_the_basis_is_settled_alike(void **state)
{
    (void)state;
    static char text[8192];
    state_all(text, sizeof text);
    dt_report report;
    dt_report_init(&report, "all said");
    dt_well *stated = NULL, silent;
    const dt_status status = dt_well_parse(text, strlen(text), &report, &stated);
    for (size_t i = 0; status != DT_OK && i < report.count; ++i)
        print_error("%s\n", report.items[i].text);
    assert_int_equal(status, DT_OK);
    dt_well_start(&silent);

    dt_design_in_force a, b;
    dt_design_settle(stated, &a);
    dt_design_settle(&silent, &b);
    const double design[][2] = {{a.burst, b.burst},
                                {a.collapse, b.collapse},
                                {a.tension, b.tension},
                                {a.tension_pulled, b.tension_pulled},
                                {a.triaxial, b.triaxial},
                                {a.overpull_n, b.overpull_n},
                                {a.gas_gradient_kgm3, b.gas_gradient_kgm3},
                                {(double)a.max_sections, (double)b.max_sections},
                                {a.min_section_m, b.min_section_m},
                                {a.crossover_m, b.crossover_m},
                                {a.bump_margin_pa, b.bump_margin_pa}};
    for (size_t i = 0; i < sizeof design / sizeof *design; ++i)
        assert_within(design[i][0], design[i][1], 0);
    assert_false(a.factors_customary || a.overpull_customary || a.gas_customary ||
                 a.taper_customary || a.bump_customary);
    assert_true(b.factors_customary && b.bump_customary);

    dt_times_in_force t, u;
    dt_times_settle(stated, &t);
    dt_times_settle(&silent, &u);
    const double times[][2] = {{t.times.trip_m_per_hour, u.times.trip_m_per_hour},
                               {t.times.connection_minutes, u.times.connection_minutes},
                               {t.times.stand_m, u.times.stand_m},
                               {t.times.bit_run_m, u.times.bit_run_m},
                               {t.times.crew_hours, u.times.crew_hours},
                               {t.times.wait_hours, u.times.wait_hours},
                               {t.times.reserve, u.times.reserve}};
    for (size_t i = 0; i < sizeof times / sizeof *times; ++i)
        assert_within(times[i][0], times[i][1], 0);

    dt_annulus_piece piece = {0, 1000, 0.32, 0.32, 0.2445, 0.22, 70, true, false};
    const dt_annulus annulus = {.pieces = &piece, .count = 1, .hole_m = 0.32, .shoe_md_m = 1000};
    for (int role = 0; role < DT_ROLE_COUNT; ++role) {
        dt_cement_settings c = {0}, d = {0};
        dt_cement_settle(stated, (dt_role)role, &annulus, &c);
        dt_cement_settle(&silent, (dt_role)role, &annulus, &d);
        const double cement[][2] = {{c.above_shoe_m, d.above_shoe_m},
                                    {c.tail_length_m, d.tail_length_m},
                                    {c.excess, d.excess},
                                    {c.rathole_m, d.rathole_m},
                                    {c.spacer_length_m, d.spacer_length_m},
                                    {c.mix_rate_m3s, d.mix_rate_m3s},
                                    {c.displacement_rate_m3s, d.displacement_rate_m3s},
                                    {c.pump_m3_per_stroke, d.pump_m3_per_stroke},
                                    {c.margin.emw_kgm3, d.margin.emw_kgm3},
                                    {c.wait_s, d.wait_s},
                                    {c.wait_strength_pa, d.wait_strength_pa},
                                    {c.lead.density_kgm3, d.lead.density_kgm3},
                                    {c.tail.density_kgm3, d.tail.density_kgm3},
                                    {c.mud.pv_pas, d.mud.pv_pas},
                                    {c.slurry.yp_pa, d.slurry.yp_pa}};
        for (size_t i = 0; i < sizeof cement / sizeof *cement; ++i)
            assert_within(cement[i][0], cement[i][1], 0);
        dt_running_settings r, q;
        stated->running.track_joints = NAN; /* one for all roles where it is stated */
        dt_running_settle(stated, (dt_role)role, DT_FULL, 0.2445, &r);
        dt_running_settle(&silent, (dt_role)role, DT_FULL, 0.2445, &q);
        assert_memory_equal(&r.joint_m, &q.joint_m, 2 * sizeof(double));
        const double running[][2] = {
            {r.track_joints, q.track_joints},       {r.friction_cased, q.friction_cased},
            {r.friction_open, q.friction_open},     {r.blocks_n, q.blocks_n},
            {r.collapse_factor, q.collapse_factor}, {r.fill_joints, q.fill_joints},
            {r.joint_time_s, q.joint_time_s},       {r.peak_factor, q.peak_factor},
            {r.joints_per_hour, q.joints_per_hour}, {r.rig_up_s, q.rig_up_s},
            {r.trip_speed_ms, q.trip_speed_ms},     {r.landing_kgm, q.landing_kgm},
            {r.landing_od_m, q.landing_od_m},       {r.landing_id_m, q.landing_id_m}};
        for (size_t i = 0; i < sizeof running / sizeof *running; ++i)
            assert_within(running[i][0], running[i][1], 0);
    }
    dt_well_free(stated);
    dt_report_free(&report);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_may_be_left_out_has_a_custom_or_a_reason),
        cmocka_unit_test(each_custom_is_of_the_schema_or_of_a_basis_alone),
        cmocka_unit_test(words_stand_in_the_order_of_their_enumerations),
        cmocka_unit_test(a_well_that_states_the_basis_is_settled_alike),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
