/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "basis.h"
#include "json_parts.h"
#include "library.h"
#include "review_words.h"
#include "same.h"
#include "trigger_words.h"
#include "units.h"

static dt_status put_reason(json_t **object, const char *code_key, const char *text_key,
                            const dt_reason *reason, const dt_well *well)
{
    char *text = NULL;
    dt_status status = dt_reason_sentence(reason, well, DT_DISPLAY_FIELD, &text);
    if (status != DT_OK) return status;
    dt_json_put_text(object, code_key, dt_rule_code(reason->rule));
    dt_json_put_text(object, text_key, text);
    free(text);
    return DT_OK;
}

static json_t *factors_of(const dt_screen *screen)
{
    json_t *factors = json_object();
    for (int i = 0; i < DT_CHECK_COUNT; ++i)
        dt_json_put(&factors, dt_check_code((dt_check)i), screen->by_check[i].factor);
    return factors;
}

/** A factor with what it is of: case, depth, load and resistance. */
static json_t *case_of(const dt_factor *f, dt_load load, dt_check check)
{
    const bool force = check == DT_CHECK_TENSION;
    double unit = force ? 1000 * DT_N_PER_LBF : DT_PA_PER_PSI;
    json_t *object = json_object();
    dt_json_put_text(&object, "check", dt_check_code(check));
    dt_json_put_text(&object, "load_case", dt_load_code(load));
    dt_json_put_text(&object, "text", dt_load_words(load));
    dt_json_put(&object, "factor", f->factor);
    dt_json_put(&object, "needed", f->needed);
    dt_json_put(&object, "at_md_ft", feet(f->at_md_m));
    dt_json_put(&object, "at_tvd_ft", feet(f->at_tvd_m));
    dt_json_put(&object, force ? "load_klbf" : "load_psi", f->load / unit);
    dt_json_put(&object, force ? "resistance_klbf" : "resistance_psi", f->resistance / unit);
    return object;
}

static json_t *worst_of(const dt_screen *screen)
{
    return case_of(&screen->by_check[screen->worst_check], screen->worst, screen->worst_check);
}

/** For each check the case and depth that governs. */
static json_t *governing_of(const dt_screen *screen)
{
    json_t *list = json_object();
    for (int i = 0; i < DT_CHECK_COUNT; ++i)
        if (!isnan(screen->by_check[i].factor))
            dt_json_put_new(&list, dt_check_code((dt_check)i),
                            case_of(&screen->by_check[i], screen->load_of_check[i], (dt_check)i));
    return list;
}

static json_t *next_cheaper_of(const dt_section *section)
{
    json_t *object =
        case_of(&section->cheaper_factor, section->cheaper_load, section->cheaper_check);
    dt_json_put(&object, "weight_lbft", section->cheaper_pipe->weight_kgm / DT_KGM_PER_LBFT);
    dt_json_put_text(&object, "grade", section->cheaper_pipe->grade->name);
    dt_json_put_text(&object, "thread",
                     dt_pipe_thread_text(section->cheaper_pipe, section->cheaper_thread));
    return object;
}

static json_t *section_of(const dt_program *program, const dt_section *section)
{
    const dt_pipe *pipe = section->pipe;
    json_t *object = json_object();
    dt_json_put(&object, "top_md_ft", feet(section->top_md_m));
    dt_json_put(&object, "base_md_ft", feet(section->base_md_m));
    dt_json_put(&object, "weight_lbft", pipe->weight_kgm / DT_KGM_PER_LBFT);
    dt_json_put_text(&object, "grade", pipe->grade->name);
    dt_json_put_text(&object, "thread", dt_pipe_thread_text(section->pipe, section->thread));
    dt_json_put(&object, "wall_in", inches(pipe->wall_m));
    dt_json_put(&object, "drift_in", inches(dt_nest_drift(program->well, pipe)));
    dt_json_put_new(&object, "factors", factors_of(&section->screen));
    dt_json_put_new(&object, "worst_case", worst_of(&section->screen));
    dt_json_put_new(&object, "governing", governing_of(&section->screen));
    if (section->cheaper_pipe) dt_json_put_new(&object, "next_cheaper", next_cheaper_of(section));
    return object;
}

/** The landing check of a string that was made; NULL when none was. */
static const dt_landing *landing_of(const dt_program *program, size_t index)
{
    for (size_t i = 0; i < program->wellhead.landing_count; ++i)
        if (program->wellhead.landing[i].carrier == index && program->wellhead.landing[i].made)
            return &program->wellhead.landing[i];
    return NULL;
}

static json_t *put_landing(const dt_landing *l)
{
    const double klbf = 1000 * DT_N_PER_LBF;
    json_t *object = json_object();
    dt_json_put(&object, "load_klbf", l->load_n / klbf);
    dt_json_put(&object, "hung_klbf", l->hung_n / klbf);
    dt_json_put(&object, "stress_psi", l->stress_pa / DT_PA_PER_PSI);
    dt_json_put(&object, "stress_factor", l->stress_factor);
    if (!l->column_made) return object;
    dt_json_put(&object, "column_load_klbf", l->column_load_n / klbf);
    dt_json_put(&object, "column_klbf", l->column_n / klbf);
    dt_json_put(&object, "column_factor", l->column_factor);
    return object;
}

static json_t *put_hanger(const dt_program *program, const dt_program_string *item)
{
    const double klbf = 1000 * DT_N_PER_LBF, needed = dt_hanger_factor(program->well);
    const dt_hung *hung = &item->hung;
    json_t *object = json_object();
    dt_json_put(&object, "weight_klbf", hung->weight_n / klbf);
    dt_json_put(&object, "pressure_klbf", hung->pressure_n / klbf);
    dt_json_put(&object, "load_klbf", hung->total_n / klbf);
    dt_json_put(&object, "capacity_klbf", item->hanger->capacity_n / klbf);
    dt_json_put(&object, "margin_klbf", (item->hanger->capacity_n / needed - hung->total_n) / klbf);
    dt_json_put(&object, "factor", item->hanger->capacity_n / hung->total_n);
    dt_json_put(&object, "needed", needed);
    dt_json_put_text(&object, "governed_by", dt_load_code(hung->by));
    dt_json_put(&object, "bore_in", inches(item->hanger->bore_m));
    dt_json_put(&object, "receptacle_bore_in", inches(item->hanger->receptacle_bore_m));
    return object;
}

#define CURVE_POINTS 12

static void put_kick(json_t **object, const dt_program *program, const dt_program_string *item)
{
    const dt_kick_result *k = &item->kick;
    dt_kick_point curve[CURVE_POINTS];
    double top = item == program->items ? NAN : item[-1].shoe_tvd_m;
    if (!item->kick_known ||
        dt_kick_curve(&program->window, &program->trajectory, &item->kick_assembly, top,
                      item->shoe_tvd_m, item->seat->mud_kgm3, CURVE_POINTS, curve) != DT_OK)
        return;
    dt_json_put(object, "kick_tolerance_bbl", k->tolerance_m3 / DT_M3_PER_BBL);
    dt_json_put(object, "kick_tolerance_at_tvd_ft", feet(k->weak_tvd_m));
    dt_json_put_text(object, "kick_tolerance_by",
                     k->whole_hole     ? "whole-hole"
                     : k->by_expansion ? "bubble-at-weak-point"
                                       : "bubble-at-bottom");
    dt_json_put(object, "kick_tolerance_minimum_bbl",
                program->well->kick.given ? item->kick_assembly.minimum_m3 / DT_M3_PER_BBL : NAN);
    json_t *list = json_array();
    for (size_t i = 0; i < CURVE_POINTS; ++i) {
        json_t *point = json_object();
        dt_json_put(&point, "tvd_ft", feet(curve[i].tvd_m));
        dt_json_put(&point, "bbl", curve[i].tolerance_m3 / DT_M3_PER_BBL);
        if (curve[i].whole_hole) dt_json_put_new(&point, "whole_hole", json_true());
        dt_json_append(&list, point);
    }
    dt_json_put_new(object, "kick_tolerance_curve", list);
}

/** What is done past those bounds. */
static void put_trigger(json_t **o, const dt_program *program, size_t string)
{
    const dt_trigger t = dt_program_trigger(program, string);
    dt_buffer words = {0};
    dt_json_put(o, "shoe_no_higher_tvd_ft", feet(t.highest_m));
    dt_json_put(o, "leak_off_there_ppg", ppg(t.leak_off_kgm3));
    dt_json_put_text(o, "contingency", dt_left_text(t.left));
    if (t.left != DT_LEFT_NONE) dt_json_put(o, "contingency_tvd_ft", feet(t.run_at_m));
    dt_json_put(o, "contingency_od_in", inches(t.spare.od_m));
    dt_json_put(o, "contingency_hole_in", inches(t.spare.hole_m));
    if (t.slim) dt_json_put_new(o, "contingency_slim", json_true());
    dt_trigger_words(program, string, &t, &words);
    dt_json_put_new(o, "contingency_text", words.failed ? NULL : json_string(words.bytes));
    dt_buffer_free(&words);
}

static void put_while_drilling(json_t **object, const dt_program *program, size_t string)
{
    const dt_while_drilling d = dt_program_while_drilling(program, string);
    if (isnan(d.leak_off_kgm3)) return;
    json_t *o = json_object();
    dt_json_put(&o, "leak_off_ppg", d.leak_off_kgm3 / DT_KGM3_PER_PPG);
    dt_json_put(&o, "most_mud_ppg", d.most_mud_kgm3 / DT_KGM3_PER_PPG);
    dt_json_put(&o, "most_pore_ppg", d.most_pore_kgm3 / DT_KGM3_PER_PPG);
    if (dt_well_has_spreads(program->well)) put_trigger(&o, program, string);
    dt_json_put_new(object, "while_drilling", o);
}

/** Money only where the well has prices; time always. */
static void put_bill(json_t **object, const dt_well *well, const dt_bill *bill)
{
    if (well->prices_given) {
        json_t *cost = json_object();
        for (int i = 0; i < DT_COST_COUNT; ++i)
            dt_json_put(&cost, dt_cost_key((dt_cost)i), bill->cost[i]);
        dt_json_put(object, "cost", bill->total);
        dt_json_put_new(object, "cost_of", cost);
    }
    json_t *hours = json_object();
    for (int i = 0; i < DT_HOURS_COUNT; ++i)
        dt_json_put(&hours, dt_hours_key((dt_hours)i), bill->hours[i]);
    dt_json_put(object, "days", bill->days);
    dt_json_put_new(object, "hours_of", hours);
}

/** Where the shoe stands and why; a tie-back has none, it ends on its liner. */
static dt_status put_seat(json_t **object, const dt_program *program, const dt_program_string *item)
{
    const dt_seat *seat = item->seat;
    if (seat->type == DT_TIEBACK) {
        dt_json_put(object, "base_md_ft", feet(item->shoe_md_m));
        dt_json_put(object, "base_tvd_ft", feet(item->shoe_tvd_m));
        return DT_OK;
    }
    dt_json_put(object, "shoe_md_ft", feet(item->shoe_md_m));
    dt_json_put(object, "shoe_tvd_ft", feet(item->shoe_tvd_m));
    dt_json_put(object, "seat_shallowest_tvd_ft", feet(seat->shallowest_m));
    dt_json_put(object, "seat_deepest_tvd_ft", feet(seat->deepest_m));
    dt_json_put(object, "seat_unrounded_tvd_ft", feet(seat->exact_m));
    dt_status status =
        put_reason(object, "governed_by", "governed_text", &seat->why, program->well);
    if (status == DT_OK)
        status = put_reason(object, "shallowest_governed_by", "shallowest_governed_text",
                            &seat->why_shallowest, program->well);
    if (status == DT_OK)
        status = put_reason(object, "deepest_governed_by", "deepest_governed_text",
                            &seat->why_deepest, program->well);
    return status;
}

/** How the string is put in place; what a tie-back does not have is absent. */
static dt_status put_jobs(json_t **object, const dt_program *program, const dt_program_string *item)
{
    if (item->seat->type == DT_TIEBACK) {
        dt_json_put_new(object, "running", dt_json_running(item->job, false));
        return DT_OK;
    }
    dt_status status = DT_OK;
    json_t *cement = dt_json_cement(item->job);
    char *top = NULL;
    if (json_is_object(cement)) {
        size_t index = (size_t)(item - program->items);
        status = dt_cement_top_phrase(program, index, DT_DISPLAY_FIELD, &top);
        if (status == DT_OK) dt_json_put_text(&cement, "top_text", top);
        free(top);
    }
    dt_json_put_new(object, "cement", cement);
    dt_json_put_new(object, "running", dt_json_running(item->job, true));
    return status;
}

static dt_status string_of(const dt_program *program, const dt_program_string *item,
                           json_t **object)
{
    const dt_seat *seat = item->seat;
    dt_json_put_text(object, "role", dt_role_text(seat->role));
    dt_json_put_text(object, "type", dt_string_type_text(seat->type));
    if (item->string->load.slotted) dt_json_put_new(object, "slotted", json_true());
    if (seat->rules.riserless) dt_json_put_new(object, "returns_to_sea_floor", json_true());
    dt_json_put(object, "top_md_ft", feet(item->top_md_m));
    dt_status status = put_seat(object, program, item);
    dt_json_put_new(
        object, "pinned",
        json_boolean(seat->pin != DT_NO_INDEX && !program->well->pins[seat->pin].chosen));
    dt_json_put(object, "hole_in", inches(item->hole_m));
    if (item->opened) dt_json_put(object, "pilot_bit_in", inches(item->bit_m));
    dt_json_put(object, "od_in", inches(item->od_m));
    dt_json_put(object, "coupling_od_in", inches(item->largest_od_m));
    dt_json_put(object, "mud_ppg", ppg(seat->mud_kgm3));
    dt_json_put(object, "mud_set_at_tvd_ft", feet(seat->mud_tvd_m));
    dt_json_put(object, "min_fracture_ppg", ppg(seat->min_fracture_kgm3));
    put_while_drilling(object, program, (size_t)(item - program->items));
    put_kick(object, program, item);
    const dt_head_stage *head = &program->wellhead.stages[item - program->items];
    dt_json_put(object, "surface_pressure_psi", head->pressure_pa / DT_PA_PER_PSI);
    dt_json_put(object, "pressure_at_rig_floor_psi", psi(head->at_surface_pa));
    dt_json_put(object, "wellhead_class_psi", head->class_psi);
    if (landing_of(program, (size_t)(item - program->items)))
        dt_json_put_new(object, "landing",
                        put_landing(landing_of(program, (size_t)(item - program->items))));
    if (item->hanger) dt_json_put_new(object, "hanger", put_hanger(program, item));
    const dt_lap_test *test = dt_program_liner_test(item);
    if (test) {
        dt_json_put(object, "liner_test_psi", test->pressure_pa / DT_PA_PER_PSI);
        dt_json_put(object, "liner_test_fluid_ppg", ppg(test->fluid_kgm3));
    }
    json_t *sections = json_array();
    for (size_t i = 0; i < item->string->section_count; ++i)
        dt_json_append(&sections, section_of(program, &item->string->sections[i]));
    dt_json_put_new(object, "sections", sections);
    if (status == DT_OK) status = put_jobs(object, program, item);
    dt_json_put(object, "steel_t", item->steel_kg / 1000);
    put_bill(object, program->well, &item->bill);
    return status;
}

/** "at_md_ft": a figure's name with the unit its number is in. */
static void put_figure(json_t **object, const dt_figure *figure)
{
    char key[64];
    const char *unit = dt_key_unit(figure->kind);
    snprintf(key, sizeof key, "%s%s%s", figure->name, *unit ? "_" : "", unit);
    dt_json_put(object, key,
                figure->kind == DT_KIND_COUNT
                    ? figure->value
                    : dt_display_value(DT_DISPLAY_FIELD, figure->kind, figure->value));
}

/** Names that are values; a mark only chooses words. */
static void put_names(json_t **object, const dt_notice *n)
{
    json_t *names = json_object();
    for (size_t i = 0; i < n->name_count; ++i)
        dt_json_put_text(&names, n->names[i].name, n->names[i].text);
    dt_json_put_new(object, "names", names);
}

static dt_status notice_of(const dt_program *program, const dt_notice *n, json_t **out);

static dt_status notices_of(const dt_program *program, const dt_notice *items, size_t count,
                            json_t **out)
{
    dt_status status = DT_OK;
    *out = json_array();
    for (size_t i = 0; status == DT_OK && i < count; ++i) {
        json_t *notice = NULL;
        status = notice_of(program, &items[i], &notice);
        dt_json_append(out, notice);
    }
    return status;
}

static dt_status notice_of(const dt_program *program, const dt_notice *n, json_t **out)
{
    json_t *object = json_object(), *figures = json_object(), *because = NULL;
    char *text = NULL, name[32];
    dt_status status = dt_notice_words(n, DT_DISPLAY_FIELD, &text);
    dt_json_put_text(&object, "code", dt_notice_code_text(n->code));
    dt_json_put_text(&object, "severity", dt_gravity_text(dt_notice_gravity(n->code)));
    dt_notice_where(program, n, name, sizeof name);
    dt_json_put_new(&object, "string", n->string == DT_NO_STRING ? json_null() : json_string(name));
    const bool stops = dt_notice_gravity(n->code) == DT_STOPPER;
    const int line = stops ? dt_notice_line(program, n) : n->line;
    if (line > 0) dt_json_put_new(&object, "line", json_integer(line));
    for (size_t i = 0; i < n->figure_count; ++i)
        put_figure(&figures, &n->figures[i]);
    dt_json_put_new(&object, "figures", figures);
    put_names(&object, n);
    if (status == DT_OK) status = notices_of(program, n->because, n->because_count, &because);
    dt_json_put_new(&object, "because", because);
    dt_json_put_text(&object, "text", text);
    free(text);
    *out = object;
    return status;
}

/** A last hole that stays open. */
static json_t *open_hole_of(const dt_program *program)
{
    const dt_open_end *open = &program->seats.open;
    const dt_kick_result *k = &program->open_kick;
    json_t *object = json_object();
    dt_json_put(&object, "top_md_ft", feet(dt_trajectory_md(&program->trajectory, open->top_m)));
    dt_json_put(&object, "base_md_ft", feet(dt_trajectory_md(&program->trajectory, open->base_m)));
    dt_json_put(&object, "base_tvd_ft", feet(open->base_m));
    dt_json_put(&object, "hole_in", inches(open->hole_m));
    dt_json_put(&object, "mud_ppg", open->mud_kgm3 / DT_KGM3_PER_PPG);
    dt_json_put(&object, "min_fracture_ppg", open->min_fracture_kgm3 / DT_KGM3_PER_PPG);
    if (program->open_kick_known)
        dt_json_put(&object, "kick_tolerance_bbl", k->tolerance_m3 / DT_M3_PER_BBL);
    return object;
}

/** Where one value comes from: the well file and its line, or a file of the basis and its source.
 */
static void put_origin(json_t **object, const dt_basis *basis, const dt_stated *stated, int layer,
                       const char *text, const char *source)
{
    const bool own = stated->line > 0;
    dt_json_put_text(object, "value", own ? stated->text : text);
    dt_json_put_text(object, "from", own ? "well file" : basis->layers[layer].name);
    if (own)
        dt_json_put_new(object, "line", json_integer(stated->line));
    else
        dt_json_put_text(object, "source", source);
}

/** Sources of the rows of a table, by column. */
static json_t *rows_sources(const dt_basis *basis, dt_custom_table table)
{
    json_t *sources = json_object();
    for (int i = 0; i < DT_COLUMN_COUNT; ++i) {
        const dt_column_row *column = dt_column_about((dt_custom_column)i);
        if (column->table == table)
            dt_json_put_text(&sources, column->attribute, basis->column_sources[i]);
    }
    return sources;
}

static json_t *values_of(const dt_well *well, const dt_basis *basis)
{
    json_t *list = json_array();
    for (int i = 0; i < DT_CUSTOM_COUNT; ++i) {
        json_t *object = json_object();
        const dt_custom_row *about = dt_custom_about((dt_custom)i);
        const dt_custom_value *value = &basis->values[i];
        dt_json_put_text(&object, "element", about->element);
        dt_json_put_text(&object, "attribute", about->attribute);
        put_origin(&object, basis, &well->stated[i], value->layer, value->text, value->source);
        dt_json_append(&list, object);
    }
    for (int i = 0; i < DT_TABLE_COUNT; ++i) {
        json_t *object = json_object();
        const dt_table_row *about = dt_table_about((dt_custom_table)i);
        dt_json_put_text(&object, "element", about->element);
        dt_json_put_text(&object, "rows", about->row);
        const dt_stated *stated = &well->stated[DT_CUSTOM_COUNT + i];
        put_origin(&object, basis, stated, basis->tables[i].layer, NULL, NULL);
        if (stated->line == 0)
            dt_json_put_new(&object, "sources", rows_sources(basis, (dt_custom_table)i));
        dt_json_append(&list, object);
    }
    return list;
}

static json_t *basis_of(const dt_well *well)
{
    const dt_basis *basis = dt_basis_of(well);
    json_t *object = json_object(), *files = json_array();
    for (size_t i = 0; i < basis->layer_count; ++i) {
        json_t *file = json_object();
        dt_json_put_text(&file, "name", basis->layers[i].name);
        dt_json_put_text(&file, "as_of", basis->layers[i].as_of);
        dt_json_append(&files, file);
    }
    dt_json_put_new(&object, "files", files);
    dt_json_put_new(&object, "taken", json_boolean(well->basis_taken));
    if (well->stated) dt_json_put_new(&object, "values", values_of(well, basis));
    return object;
}

static json_t *document_of(const dt_document *document)
{
    json_t *object = json_object();
    if (document->revision) dt_json_put_text(&object, "revision", document->revision);
    if (document->author) dt_json_put_text(&object, "author", document->author);
    if (document->date) dt_json_put_text(&object, "date", document->date);
    return object;
}

dt_status dt_json_program(const dt_program *program, json_t **out)
{
    json_t *root = json_object(), *strings = json_array(), *totals = json_object();
    dt_status status = root && strings && totals ? DT_OK : DT_E_MEMORY;
    dt_json_put_text(&root, "schema", "drawtube.program/2");
    dt_json_put_text(&root, "well", program->well->name);
    if (dt_has_document(program->well))
        dt_json_put_new(&root, "document", document_of(&program->well->document));
    dt_json_put_new(&root, "runnable", json_boolean(dt_program_runnable(program)));
    for (size_t n = 0; status == DT_OK && n < dt_program_strings(program); ++n) {
        const dt_program_string *item = &program->items[dt_program_at(program, n)];
        json_t *object = json_object();
        status = object ? string_of(program, item, &object) : DT_E_MEMORY;
        dt_json_append(&strings, object);
    }
    dt_json_put_text(&root, "collapse_method",
                     dt_collapse_method_code(program->design.collapse_method));
    dt_json_put_new(&root, "strings", strings);
    if (program->seats.open.given) dt_json_put_new(&root, "open_hole", open_hole_of(program));
    dt_json_put(&totals, "steel_t", program->steel_kg / 1000);
    put_bill(&totals, program->well, &program->bill);
    if (program->well->prices_given && program->well->prices.currency)
        dt_json_put_text(&totals, "currency", program->well->prices.currency);
    dt_json_put_new(&root, "totals", totals);
    json_t *notices = NULL;
    if (status == DT_OK)
        status = notices_of(program, program->notices.items, program->notices.count, &notices);
    dt_json_put_new(&root, "notices", notices);
    if (program->well->offset_count > 0)
        dt_json_put_new(&root, "offsets", dt_json_offsets(program->well));
    dt_json_put_new(&root, "basis", basis_of(program->well));
    if (status == DT_OK && !root) status = DT_E_MEMORY;
    if (status != DT_OK) {
        json_decref(root);
        root = NULL;
    }
    *out = root;
    return status;
}

dt_status dt_write_program_json(const dt_program *program, dt_text *out)
{
    json_t *root = NULL;
    dt_status status = dt_json_program(program, &root);
    return status == DT_OK ? dt_json_take(root, 2, out) : status;
}

static json_t *joints_of(const double value[DT_THREAD_COUNT], double unit)
{
    static const dt_thread threads[] = {DT_STC, DT_LTC, DT_BTC};
    json_t *joints = json_object();
    for (size_t i = 0; i < COUNT_OF(threads); ++i)
        dt_json_put(&joints, dt_thread_text(threads[i]), value[threads[i]] / unit);
    return joints;
}

/** The pipe under the load that was stated. */
static json_t *loaded_of(const dt_loaded_rating *r)
{
    json_t *object = json_object(), *outside = json_object(), *factor = json_object();
    dt_json_put(&object, "tension_klbf", r->load.axial_n / (1000 * DT_N_PER_LBF));
    dt_json_put(&object, "internal_psi", r->load.inside_pa / DT_PA_PER_PSI);
    dt_json_put(&object, "external_psi", r->load.outside_pa / DT_PA_PER_PSI);
    dt_json_put(&object, "bending_psi", r->bending_stress_pa / DT_PA_PER_PSI);
    dt_json_put(&object, "triaxial_psi", r->triaxial_stress_pa / DT_PA_PER_PSI);
    dt_json_put(&object, "triaxial_factor", r->triaxial_factor);
    dt_json_put_text(&object, "triaxial_at", dt_wall_point_words(r->wall_point));
    dt_json_put(&object, "burst_factor", r->burst_factor);
    dt_json_put(&object, "tension_factor", r->tension_factor);
    for (int m = 0; m < DT_COLLAPSE_METHOD_COUNT; ++m) {
        const char *name = dt_collapse_method_code((dt_collapse_method)m);
        dt_json_put(&outside, name, r->collapse_outside_pa[m] / DT_PA_PER_PSI);
        dt_json_put(&factor, name, r->collapse_factor[m]);
    }
    dt_json_put_new(&object, "collapse_external_psi", outside);
    dt_json_put_new(&object, "collapse_factor", factor);
    return object;
}

dt_status dt_write_rating_json(const dt_pipe *pipe, const dt_rating *rating,
                               const dt_loaded_rating *loaded, dt_text *out)
{
    const double klbf = 1000 * DT_N_PER_LBF;
    json_t *root = json_object(), *exact = json_object();
    dt_json_put_text(&root, "schema", "drawtube.rating/1");
    dt_json_put(&root, "od_in", inches(pipe->od_m));
    dt_json_put(&root, "weight_lbft", pipe->weight_kgm / DT_KGM_PER_LBFT);
    dt_json_put_text(&root, "grade", pipe->grade->name);
    dt_json_put(&root, "collapse_psi", rating->printed_collapse_psi);
    dt_json_put_text(&root, "collapse_regime", dt_regime_text(rating->regime));
    dt_json_put(&root, "internal_yield_psi", rating->printed_internal_yield_psi);
    dt_json_put(&root, "body_yield_klbf", rating->printed_body_yield_klbf);
    dt_json_put_new(&root, "joint_klbf", joints_of(rating->printed_joint_klbf, 1));
    dt_json_put(&root, "drift_in", inches(pipe->drift_m));
    dt_json_put(&root, "id_in", inches(pipe->id_m));
    dt_json_put(&root, "wall_in", inches(pipe->wall_m));
    dt_json_put(&exact, "collapse_psi", rating->collapse_pa / DT_PA_PER_PSI);
    dt_json_put(&exact, "internal_yield_psi", rating->internal_yield_pa / DT_PA_PER_PSI);
    dt_json_put(&exact, "body_yield_klbf", rating->body_yield_n / klbf);
    dt_json_put_new(&exact, "joint_klbf", joints_of(rating->joint_n, klbf));
    dt_json_put_new(&root, "exact", exact);
    dt_json_put_new(&root, "coupling_yield_psi",
                    joints_of(rating->coupling_yield_pa, DT_PA_PER_PSI));
    dt_json_put_new(&root, "leak_psi", joints_of(rating->leak_pa, DT_PA_PER_PSI));
    dt_json_put(&root, "rupture_psi", rating->rupture_pa / DT_PA_PER_PSI);
    if (loaded) dt_json_put_new(&root, "loaded", loaded_of(loaded));
    return dt_json_take(root, 2, out);
}

dt_status dt_write_rated_json(const dt_rated *rated, dt_text *out)
{
    return dt_write_rating_json(&rated->pipe, &rated->rating, dt_rated_under(rated), out);
}
