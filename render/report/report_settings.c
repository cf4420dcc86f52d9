/* SPDX-License-Identifier: MIT */
/* Assumptions and settings in force, each with its origin. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "basis.h"
#include "report.h"
#include "same.h"

/** Says the value of a setting. Nothing said means that the setting is off. */
typedef void (*say_value)(const dt_page *page, dt_buffer *text);

/** One setting: element and attribute that would state it, and what holds otherwise. */
typedef struct setting {
    const char *group, *name, *element, *attribute;
    say_value say;
    const char *otherwise; /* origin when the well file does not state it; "": as its basis says */
} setting;

/** The element in the well file, or NULL. Settings stand right under the root, once each. */
static const xmlNode *find_element(const dt_page *page, const char *name)
{
    for (const xmlNode *at = xmlDocGetRootElement(page->tree)->children; at; at = at->next)
        if (at->type == XML_ELEMENT_NODE && strcmp((const char *)at->name, name) == 0) return at;
    return NULL;
}

/** Line on which the file states the attribute, 0 when it does not. */
static int line_of(const dt_page *page, const char *element, const char *attribute)
{
    const xmlNode *node = find_element(page, element);
    for (const xmlAttr *at = node ? node->properties : NULL; at; at = at->next)
        if (strcmp((const char *)at->name, attribute) == 0) return (int)xmlGetLineNo(node);
    return 0;
}

/** A quantity, nothing when it is not finite. */
static void say(const dt_page *page, dt_buffer *text, dt_kind kind, double si)
{
    if (isfinite(si)) dt_say_quantity(text, page->display, kind, si);
}

static void say_margin(const dt_page *page, dt_buffer *text, const dt_margin *margin)
{
    if (margin->pressure_pa > 0)
        say(page, text, DT_KIND_PRESSURE, margin->pressure_pa);
    else
        say(page, text, DT_KIND_DENSITY, margin->emw_kgm3);
}

static void say_factor(dt_buffer *text, double factor)
{
    char number[32];
    snprintf(number, sizeof number, "%.2f", factor);
    dt_buffer_text(text, number);
}

#define SETTING(name) static void name(const dt_page *page, dt_buffer *text)
#define WELL          (page->program->well)
#define DESIGN        (&page->program->design)

SETTING(rig_floor)
{
    say(page, text, DT_KIND_LENGTH, WELL->rig_floor_m);
}
SETTING(over)
{
    (void)page;
    dt_buffer_text(text, WELL->over_sea ? "sea" : "ground");
}
SETTING(water_depth)
{
    if (WELL->over_sea) say(page, text, DT_KIND_LENGTH, WELL->water_depth_m);
}
SETTING(objective)
{
    say(page, text, DT_KIND_LENGTH, WELL->objective_m);
}
SETTING(min_pipe_od)
{
    say(page, text, DT_KIND_DIAMETER, WELL->min_pipe_od_m);
}
SETTING(fresh_water)
{
    say(page, text, DT_KIND_LENGTH, WELL->fresh_water_m);
}
SETTING(cover)
{
    if (isfinite(WELL->fresh_water_m)) say(page, text, DT_KIND_LENGTH, WELL->fresh_water_cover_m);
}
SETTING(trip)
{
    say_margin(page, text, &WELL->margins.trip);
}
SETTING(kick)
{
    say_margin(page, text, &WELL->margins.kick);
}
SETTING(kick_rule)
{
    dt_buffer_text(text, WELL->margins.kick_rule == DT_KICK_FIXED ? "fixed" : "depth ratio");
}
SETTING(surge)
{
    say_margin(page, text, &WELL->margins.surge);
}
SETTING(safety)
{
    say_margin(page, text, &WELL->margins.safety);
}
SETTING(gain)
{
    say_margin(page, text, &WELL->margins.gain);
}
SETTING(normal_limit)
{
    if (WELL->sticking.given) say(page, text, DT_KIND_PRESSURE, WELL->sticking.normal_limit_pa);
}
SETTING(abnormal_limit)
{
    if (WELL->sticking.given) say(page, text, DT_KIND_PRESSURE, WELL->sticking.abnormal_limit_pa);
}
SETTING(normal_pore)
{
    if (WELL->sticking.given) say(page, text, DT_KIND_DENSITY, WELL->sticking.normal_pore_kgm3);
}
SETTING(sticking_mud)
{
    if (!WELL->sticking.given) return;
    bool planned = WELL->sticking.mud == DT_STICKING_PLANNED_MUD;
    dt_buffer_text(text, planned ? "the planned mud" : "the pore pressure that sets it");
}
SETTING(sticking_rock)
{
    if (!WELL->sticking.given) return;
    bool all = WELL->sticking.rock == DT_STICKING_ALL_ROCK;
    dt_buffer_text(text,
                   all ? "all but what is said to be tight" : "only what is said to be permeable");
}
SETTING(round_to)
{
    say(page, text, DT_KIND_LENGTH, WELL->seats.round_to_m);
}
SETTING(prefer)
{
    bool shallow = WELL->seats.prefer == DT_PREFER_SHALLOWEST;
    dt_buffer_text(text, shallow ? "the shallowest" : "the deepest");
}
SETTING(lap)
{
    say(page, text, DT_KIND_LENGTH, page->program->lap_m);
}
SETTING(liners)
{
    dt_buffer_text(text, WELL->seats.liners ? "allowed" : "only where pinned");
}
SETTING(burst)
{
    (void)page;
    say_factor(text, DESIGN->burst);
}
SETTING(collapse)
{
    say_factor(text, DESIGN->collapse);
}
SETTING(tension)
{
    say_factor(text, DESIGN->tension);
}
SETTING(tension_pulled)
{
    say_factor(text, DESIGN->tension_pulled);
}
SETTING(triaxial)
{
    say_factor(text, DESIGN->triaxial);
}
SETTING(overpull)
{
    say(page, text, DT_KIND_FORCE, DESIGN->overpull_n);
}
SETTING(gas_gradient)
{
    say(page, text, DT_KIND_DENSITY, DESIGN->gas_gradient_kgm3);
}
SETTING(special_drift)
{
    dt_buffer_text(text, WELL->sizes.special_drift ? "yes" : "no");
}
SETTING(opened_hole)
{
    dt_buffer_text(text, WELL->sizes.opened_hole ? "yes" : "no");
}
SETTING(method)
{
    static const char *const words[] = {[DT_CONDUCTOR_DRILLED] = "drilled",
                                        [DT_CONDUCTOR_DRIVEN] = "driven",
                                        [DT_CONDUCTOR_JETTED] = "jetted"};
    dt_buffer_text(text, words[WELL->conductor.method]);
}
SETTING(conductor_depth)
{
    say(page, text, DT_KIND_LENGTH, page->program->items[0].shoe_tvd_m);
}
SETTING(soil)
{
    if (isnan(WELL->conductor.depth_m))
        say(page, text, DT_KIND_DENSITY, WELL->conductor.soil_gradient_kgm3);
}
SETTING(returns)
{
    if (isnan(WELL->conductor.depth_m))
        say(page, text, DT_KIND_DENSITY, WELL->conductor.returns_gradient_kgm3);
}

#undef SETTING
#undef WELL
#undef DESIGN

static const setting settings[] = {
    {"Place", "Rig floor above ground or sea", "datum", "rig_floor", rig_floor, ""},
    {"Place", "Stands over", "datum", "over", over, ""},
    {"Place", "Water depth", "datum", "water_depth", water_depth, ""},
    {"Aim", "Objective, TVD", "objective", "depth", objective, ""},
    {"Aim", "Smallest last pipe, OD", "objective", "min_pipe_od", min_pipe_od, ""},
    {"Fresh water", "Deepest fresh water", "fresh_water", "deepest", fresh_water, ""},
    {"Fresh water", "Cover below it", "fresh_water", "cover", cover, ""},
    {"Margins", "Trip, above pore pressure", "margins", "trip", trip, ""},
    {"Margins", "Kick, below fracture", "margins", "kick", kick, ""},
    {"Margins", "Kick rule", "margins", "kick_rule", kick_rule, ""},
    {"Margins", "Surge", "margins", "surge", surge, ""},
    {"Margins", "Safety", "margins", "safety", safety, ""},
    {"Margins", "Gain of mud weight", "margins", "gain", gain, ""},
    {"Sticking", "Limit, normally pressured rock", "sticking", "normal_limit", normal_limit, ""},
    {"Sticking", "Limit, abnormally pressured rock", "sticking", "abnormal_limit", abnormal_limit,
     ""},
    {"Sticking", "Normal up to a pore pressure of", "sticking", "normal_pore", normal_pore, ""},
    {"Sticking", "Overbalance of", "sticking", "mud", sticking_mud, ""},
    {"Sticking", "Rock that can stick pipe", "sticking", "rock", sticking_rock, ""},
    {"Seats", "Rounded deeper to", "seats", "round_to", round_to, ""},
    {"Seats", "Of seats that need the fewest strings", "seats", "prefer", prefer, ""},
    {"Seats", "Liner lap", "seats", "lap", lap, ""},
    {"Seats", "Liners", "seats", "liners", liners, ""},
    {"Sizes", "Special drift", "sizes", "special_drift", special_drift, ""},
    {"Sizes", "Hole opened below a pipe", "sizes", "opened_hole", opened_hole, ""},
    {"Design", "Burst factor", "design", "burst", burst, ""},
    {"Design", "Collapse factor", "design", "collapse", collapse, ""},
    {"Design", "Tension factor", "design", "tension", tension, ""},
    {"Design", "Tension factor with overpull, bump or shock", "design", "tension_pulled",
     tension_pulled, ""},
    {"Design", "Triaxial factor", "design", "triaxial", triaxial, ""},
    {"Design", "Overpull while running", "design", "overpull", overpull, ""},
    {"Design", "Gas in the gas-to-surface case", "design", "gas_gradient", gas_gradient, ""},
    {"Conductor", "Method", "conductor", "method", method, ""},
    {"Conductor", "Shoe, TVD", "conductor", "depth", conductor_depth,
     "rule: returns must reach the flowline"},
    {"Conductor", "Soil bears", "conductor", "soil_gradient", soil, ""},
    {"Conductor", "Mud and cuttings", "conductor", "returns_gradient", returns, ""},
};

enum { SETTING_COUNT = COUNT_OF(settings) };

/** Where a value of the basis comes from. A word or a 0 is what silence means, a figure a custom.
 */
static void write_basis_origin(dt_page *page, const setting *s)
{
    const dt_custom custom = dt_custom_find(s->element, s->attribute);
    if (custom == DT_CUSTOM_COUNT) return;
    const dt_well *well = page->program->well;
    const bool figure =
        dt_custom_about(custom)->form != DT_FORM_WORD && dt_custom_value_of(well, custom) > 0;
    const dt_basis *basis = dt_basis_of(well);
    const int layer = basis->values[custom].layer;
    if (layer > 0) {
        dt_html_text(&page->html, "basis ");
        dt_html_text(&page->html, basis->layers[layer].name);
        dt_html_text(&page->html, ": ");
    } else if (figure) {
        dt_html_text(&page->html, "customary: ");
    }
    dt_html_text(&page->html, dt_custom_source(well, custom));
}

static void write_origin(dt_page *page, const setting *s)
{
    int line = line_of(page, s->element, s->attribute);
    char text[96];
    snprintf(text, sizeof text, "well file, line %d", line);
    dt_html_open(&page->html, "td");
    if (line > 0)
        dt_page_line(page, text, line);
    else if (*s->otherwise)
        dt_html_text(&page->html, s->otherwise);
    else
        write_basis_origin(page, s);
    dt_html_close(&page->html);
}

static void write_setting(dt_page *page, const setting *s)
{
    dt_buffer text = {0};
    s->say(page, &text);
    if (text.size > 0) {
        dt_html_open(&page->html, "tr");
        dt_page_row_head(page, s->name);
        dt_page_say(page, "td", NULL, &text);
        write_origin(page, s);
        dt_html_close(&page->html);
    }
    if (text.failed) page->html.status = DT_E_MEMORY;
    dt_buffer_free(&text);
}

/** A head over the rows that follow, in a <tbody> of their own. */
static void write_group(dt_page *page, const char *name)
{
    dt_html *html = &page->html;
    dt_html_close(html);
    dt_html_open(html, "tbody");
    dt_html_open(html, "tr");
    dt_html_open_class(html, "th", "group");
    dt_html_attribute(html, "colspan", "3");
    dt_html_attribute(html, "scope", "rowgroup");
    dt_html_text(html, name);
    dt_html_close(html);
    dt_html_close(html);
}

static void write_clearances(dt_page *page)
{
    static const dt_column columns[] = {
        DT_WORDS("String"), DT_QUANTITY("Smallest gap", DT_KIND_DIAMETER), DT_WORDS("Origin")};
    bool own = page->program->well->sizes.clearance_count > 0;
    const dt_basis *basis = dt_basis_of(page->program->well);
    dt_page_table(page, "Smallest gap all round between coupling and hole");
    dt_page_head(page, columns, COUNT_OF(columns));
    for (size_t i = 0; i < dt_program_strings(page->program); ++i) {
        if (dt_page_item(page, i)->seat->type == DT_TIEBACK) continue; /* runs in no hole */
        dt_buffer gap = {0};
        char text[64];
        dt_display_text(page->display, DT_KIND_DIAMETER,
                        dt_nest_clearance(page->program->well, dt_page_item(page, i)->od_m), text,
                        sizeof text);
        text[strcspn(text, " ")] = '\0';
        dt_buffer_text(&gap, text);
        dt_html_open(&page->html, "tr");
        dt_page_string_head(page, i);
        dt_page_say(page, "td", "number", &gap);
        dt_html_open(&page->html, "td");
        dt_html_text(&page->html, own ? "well file, <clearance> rows" : "customary: ");
        if (!own) dt_html_text(&page->html, basis->column_sources[DT_COLUMN_CLEARANCES_RADIAL]);
        dt_html_close(&page->html);
        dt_html_close(&page->html);
    }
    dt_page_table_end(page);
}

/* ---- what else the file states ---- */

static bool has_row(const char *element, const char *attribute)
{
    for (size_t i = 0; i < SETTING_COUNT; ++i)
        if (strcmp(settings[i].element, element) == 0 &&
            strcmp(settings[i].attribute, attribute) == 0)
            return true;
    return false;
}

/** Elements that other sections show, or that are lists. */
static bool is_shown_elsewhere(const char *element)
{
    static const char *const others[] = {
        "note",   "path",   "pore_pressure",     "interval", "pay",       "fracture_gradient",
        "slurry", "pinned", "collapse_gradient", "prices",   "overburden"};
    for (size_t i = 0; i < COUNT_OF(others); ++i)
        if (strcmp(others[i], element) == 0) return true;
    return false;
}

static void stated_row(dt_page *page, const xmlNode *node, const xmlAttr *at)
{
    dt_html *html = &page->html;
    char line[48];
    dt_buffer name = {0};
    snprintf(line, sizeof line, "well file, line %ld", xmlGetLineNo(node));
    dt_buffer_text(&name, (const char *)node->name);
    dt_buffer_text(&name, " ");
    dt_buffer_text(&name, (const char *)at->name);
    dt_html_open(html, "tr");
    dt_page_row_head_of(page, &name);
    dt_html_element(html, "td", NULL,
                    at->children && at->children->content ? (const char *)at->children->content
                                                          : "");
    dt_html_open(html, "td");
    dt_page_line(page, line, xmlGetLineNo(node));
    for (int i = 0; i < 2; ++i)
        dt_html_close(html); /* td, tr */
}

/** Attributes of an element, and of those inside it, that no row shows; written when told to. */
static size_t other_stated(dt_page *page, const xmlNode *node, bool write)
{
    size_t count = 0;
    for (const xmlAttr *at = node->properties; at; at = at->next) {
        if (has_row((const char *)node->name, (const char *)at->name)) continue;
        if (write) stated_row(page, node, at);
        ++count;
    }
    for (const xmlNode *at = node->children; at; at = at->next)
        if (at->type == XML_ELEMENT_NODE) count += other_stated(page, at, write);
    return count;
}

static size_t all_stated(dt_page *page, bool write)
{
    size_t count = 0;
    for (const xmlNode *at = xmlDocGetRootElement(page->tree)->children; at; at = at->next)
        if (at->type == XML_ELEMENT_NODE && !is_shown_elsewhere((const char *)at->name))
            count += other_stated(page, at, write);
    return count;
}

/* ---- every value and where it came from ---- */

/** One row; `at` is its place in basis.values of program.json. */
typedef struct origin {
    int at;
    const char *words, *place, *text; /* text NULL: rows */
    const dt_stated *stated;
    const char *basis;
    const char *sources[8]; /* of a value, or of the columns of rows; NULL ends them */
} origin;

/** Each source once. */
static void write_sources(dt_page *page, const origin *o)
{
    dt_html_open(&page->html, "td");
    for (size_t i = 0; o->stated->line == 0 && i < COUNT_OF(o->sources) && o->sources[i]; ++i) {
        size_t before = 0;
        while (before < i && strcmp(o->sources[before], o->sources[i]) != 0)
            ++before;
        if (before < i) continue;
        if (i > 0) dt_html_text(&page->html, "; ");
        dt_html_text(&page->html, o->sources[i]);
    }
    dt_html_close(&page->html);
}

static void write_from(dt_page *page, const origin *o)
{
    char line[48];
    dt_html_open(&page->html, "td");
    snprintf(line, sizeof line, "well file, line %d", o->stated->line);
    if (o->stated->line > 0)
        dt_page_line(page, line, o->stated->line);
    else
        dt_html_text(&page->html, o->basis);
    dt_html_close(&page->html);
    write_sources(page, o);
}

static void write_one_origin(dt_page *page, const origin *o)
{
    const bool own = o->stated->line > 0;
    const char *text = own ? o->stated->text : o->text;
    dt_buffer head = {0};
    dt_buffer_text(&head, o->words);
    dt_buffer_text(&head, ", ");
    dt_buffer_text(&head, o->place);
    dt_html_open(&page->html, "tr");
    dt_page_row_head_of(page, &head);
    if (text)
        dt_page_words(page, "td", text, dt_json("basis.values.%d.value", o->at));
    else
        dt_html_element(&page->html, "td", NULL, "rows");
    write_from(page, o);
    dt_html_close(&page->html);
}

static void write_table_origin(dt_page *page, const dt_basis *basis, dt_custom_table table)
{
    const dt_table_row *about = dt_table_about(table);
    const int at = DT_CUSTOM_COUNT + (int)table;
    char place[96];
    snprintf(place, sizeof place, "%s: %s", about->element, about->row);
    origin o = {.at = at,
                .words = about->words,
                .place = place,
                .stated = &page->program->well->stated[at],
                .basis = basis->layers[basis->tables[table].layer].name};
    size_t count = 0;
    for (int i = 0; i < DT_COLUMN_COUNT && count < COUNT_OF(o.sources); ++i)
        if (dt_column_about((dt_custom_column)i)->table == table)
            o.sources[count++] = basis->column_sources[i];
    write_one_origin(page, &o);
}

/** Does a value take part? Those that make points of offset wells do not where there are none. */
static bool takes_part(const dt_well *well, const char *element)
{
    return well->offset_count > 0 || strcmp(element, "offsets") != 0;
}

/** As program.json lists them, but for what takes no part; a model that was built in code states
 * nothing by line. */
static void write_origins(dt_page *page)
{
    static const dt_column columns[] = {DT_WORDS("Value"), DT_WORDS("In force"), DT_WORDS("From"),
                                        DT_WORDS("Source")};
    const dt_well *well = page->program->well;
    const dt_basis *basis = dt_basis_of(well);
    if (!well->stated) return;
    dt_page_table(page, "Where each value came from");
    dt_page_head(page, columns, COUNT_OF(columns));
    for (int i = 0; i < DT_CUSTOM_COUNT; ++i) {
        const dt_custom_row *about = dt_custom_about((dt_custom)i);
        const dt_custom_value *value = &basis->values[i];
        if (!takes_part(well, about->element)) continue;
        char place[96];
        snprintf(place, sizeof place, "%s %s", about->element, about->attribute);
        const origin o = {.at = i,
                          .words = about->words,
                          .place = place,
                          .text = value->text,
                          .stated = &well->stated[i],
                          .basis = basis->layers[value->layer].name,
                          .sources = {value->source}};
        write_one_origin(page, &o);
    }
    for (int i = 0; i < DT_TABLE_COUNT; ++i)
        write_table_origin(page, basis, (dt_custom_table)i);
    dt_page_table_end(page);
}

/** The files that are stacked, with the edition of their rules. */
static void write_files(dt_page *page)
{
    const dt_basis *basis = dt_basis_of(page->program->well);
    dt_html *html = &page->html;
    dt_html_open(html, "p");
    dt_html_text(html, "Where the well file says nothing, these bases hold, a later one before an "
                       "earlier one: ");
    for (size_t i = 0; i < basis->layer_count; ++i) {
        dt_html_text(html, i ? ", " : "");
        dt_html_text(html, basis->layers[i].name);
        if (!basis->layers[i].as_of) continue;
        dt_html_text(html, " (as of ");
        dt_html_text(html, basis->layers[i].as_of);
        dt_html_text(html, ")");
    }
    dt_html_text(html, ". None of them makes a program comply with a regulation: verify locally.");
    dt_html_close(html);
}

void dt_section_settings(dt_page *page)
{
    static const dt_column columns[] = {DT_WORDS("Setting"), DT_WORDS("In force"),
                                        DT_WORDS("Origin")};
    dt_html_element(&page->html, "p", NULL,
                    "Every setting that took part, and where it comes from. A setting that is not "
                    "listed is off, or has its default; what was taken for want of a word in the "
                    "well file is listed under Assumed, at the end.");
    write_files(page);
    dt_page_table(page, "Settings");
    dt_page_head(page, columns, COUNT_OF(columns));
    for (size_t i = 0; i < SETTING_COUNT; ++i) {
        if (i == 0 || strcmp(settings[i].group, settings[i - 1].group) != 0)
            write_group(page, settings[i].group);
        write_setting(page, &settings[i]);
    }
    if (all_stated(page, false) > 0) {
        write_group(page, "Also stated, as written");
        all_stated(page, true);
    }
    dt_page_table_end(page);
    write_clearances(page);
    write_origins(page);
}
