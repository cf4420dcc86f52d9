/* SPDX-License-Identifier: MIT */
#include "string_sheet.h"
#include "review_words.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "same.h"
#include "wording.h"

#define FIGURES_X (DT_SHEET_MARGIN + DT_PICTURE_W + 8)
#define FIGURES_W (DT_SHEET_W - DT_SHEET_MARGIN - FIGURES_X)
#define ROW       13.8
#define SIZE      DT_TYPE
#define HEAD_SIZE 12.0
#define BOTTOM    (DT_SHEET_H - 24.0)

static const char caution[] = "Preliminary planning aid. Verify pressures and regulations locally; "
                              "a licensed engineer reviews before anything is run.";

/* ---- lines of figures ---- */

/** A cell by value, so that several fit in one row. */
typedef struct cell {
    char text[96];
} cell;

#if defined(__GNUC__)
__attribute__((format(printf, 1, 2)))
#endif
static cell
plain(const char *format, ...)
{
    cell out;
    va_list list;
    va_start(list, format);
    (void)vsnprintf(out.text, sizeof out.text, format, list);
    va_end(list);
    return out;
}

static cell quantity(const dt_sheet *s, dt_kind kind, double si)
{
    cell out = {"-"};
    if (isfinite(si)) dt_display_text(s->display, kind, si, out.text, sizeof out.text);
    if (kind != DT_KIND_LENGTH || !isfinite(si)) return out;
    dt_buffer text = {0}; /* depths are grouped as in the drawings: "9,000 ft" */
    dt_say_depth(&text, s->display, si);
    if (text.failed)
        s->svg->status = DT_E_MEMORY;
    else
        snprintf(out.text, sizeof out.text, "%s", text.bytes);
    dt_buffer_free(&text);
    return out;
}

/** Without its unit, for a column whose head has it. */
static cell bare(const dt_sheet *s, dt_kind kind, double si)
{
    cell out = quantity(s, kind, si);
    char *space = strchr(out.text, ' ');
    if (space) *space = '\0';
    char *fixed = strstr(out.text, "\xC2\xA0"); /* depths keep their unit with a fixed space */
    if (fixed) *fixed = '\0';
    return out;
}

static const char *unit(const dt_sheet *s, dt_kind kind)
{
    return dt_display_unit(s->display, kind);
}

static void put(const dt_sheet *s, double x, double width, dt_anchor anchor, bool bold,
                const char *text)
{
    char fit[DT_LINE_BYTES];
    dt_text_fit(text, width, SIZE, bold, fit);
    double at = anchor == DT_END ? x + width : x;
    dt_svg_text(s->svg, at, s->y + ROW / 2, (dt_type){SIZE, bold, DT_TEXT, anchor}, fit);
}

static bool room_for(const dt_sheet *s, double rows)
{
    return s->y + rows * ROW <= BOTTOM;
}

static void section(dt_sheet *s, const char *title)
{
    s->y += 5;
    dt_svg_text(s->svg, FIGURES_X, s->y + 6, (dt_type){HEAD_SIZE, true, DT_TEXT_BLUE, DT_START},
                title);
    s->y += 14;
    dt_svg_line(s->svg, FIGURES_X, s->y - 1, FIGURES_X + FIGURES_W, s->y - 1,
                (dt_ink){.stroke = DT_LINE_QUIET, .width = 0.7});
}

/** A column of a table; the first of a table is set flush left, the others flush right. */
typedef struct column {
    double width; /* its share of the width of all */
    const char *head;
    dt_kind kind; /* its unit stands under the head; DT_KIND_COUNT for none */
} column;

static void row(dt_sheet *s, const column *columns, size_t count, const cell *cells, bool bold)
{
    double x = FIGURES_X, all = 0;
    for (size_t i = 0; i < count; ++i)
        all += columns[i].width;
    for (size_t i = 0; i < count; ++i) {
        const double width = columns[i].width * FIGURES_W / all;
        put(s, x, width - 4, i == 0 ? DT_START : DT_END, bold, cells[i].text);
        x += width;
    }
    s->y += ROW;
}

static void heads(dt_sheet *s, const column *columns, size_t count)
{
    cell names[12], units[12];
    bool any = false;
    for (size_t i = 0; i < count; ++i) {
        names[i] = plain("%s", columns[i].head);
        units[i] = plain("%s", columns[i].kind < DT_KIND_COUNT ? unit(s, columns[i].kind) : "");
        any = any || columns[i].kind < DT_KIND_COUNT;
    }
    row(s, columns, count, names, true);
    if (any) row(s, columns, count, units, false);
}

/** Two facts a line: what, then the figure, twice. An empty name leaves its half free. */
typedef struct fact {
    const char *name;
    cell value;
} fact;

static void facts(dt_sheet *s, const fact *list, size_t count)
{
    const double half = FIGURES_W / 2;
    size_t rows = (count + 1) / 2;
    for (size_t i = 0; i < count; ++i) {
        double x = FIGURES_X + (i < rows ? 0 : half + 6), width = half - 6;
        double y = s->y;
        s->y = y + (double)(i % rows) * ROW;
        double value = dt_text_width(list[i].value.text, SIZE, true);
        put(s, x, fmax(width - value - 4, 20), DT_START, false, list[i].name);
        put(s, x, width, DT_END, true, list[i].value.text);
        s->y = y;
    }
    s->y += (double)rows * ROW;
}

/* ---- the pipe ---- */

static cell torque_text(const dt_sheet *s, dt_thread thread, const dt_torque *torque)
{
    double per = s->display == DT_DISPLAY_FIELD ? DT_N_PER_LBF * DT_M_PER_FT : 1;
    if (!isfinite(torque->optimum_nm))
        return plain(thread == DT_PLAIN_END ? "welded" : "to base of triangle");
    return plain("%.0f (%.0f to %.0f)", torque->optimum_nm / per, torque->least_nm / per,
                 torque->most_nm / per);
}

static void set_pipe(dt_sheet *s)
{
    const column columns[] = {
        {100, "from and to", DT_KIND_LENGTH},
        {46, "weight", DT_KIND_LINEAR_MASS},
        {66, "grade thread", DT_KIND_COUNT},
        {42, "ID", DT_KIND_DIAMETER},
        {42, "drift", DT_KIND_DIAMETER},
        {38, "joints", DT_KIND_COUNT},
        {118, s->display == DT_DISPLAY_FIELD ? "make-up torque, ft-lbf" : "make-up torque, N m",
         DT_KIND_COUNT}};
    const dt_program_string *item = s->item;
    double joint = item->job->running.settings.joint_m;
    section(s, "Pipe");
    heads(s, columns, 7);
    for (size_t i = 0; i < item->string->section_count && room_for(s, 1); ++i) {
        const dt_section *part = &item->string->sections[i];
        const dt_torque *torque = &item->job->accessories.torques[i];
        double length = part->base_md_m - part->top_md_m;
        const cell cells[] = {
            plain("%.20s to %.20s", bare(s, DT_KIND_LENGTH, part->top_md_m).text,
                  bare(s, DT_KIND_LENGTH, part->base_md_m).text),
            bare(s, DT_KIND_LINEAR_MASS, part->pipe->weight_kgm),
            plain("%.30s %.10s", part->pipe->grade->name,
                  dt_pipe_thread_text(part->pipe, part->thread)),
            bare(s, DT_KIND_DIAMETER, part->pipe->id_m),
            bare(s, DT_KIND_DIAMETER, dt_nest_drift(s->program->well, part->pipe)),
            plain("%.0f", dt_count_up(length / joint)),
            torque_text(s, part->thread, torque)};
        row(s, columns, 7, cells, false);
    }
}

/* ---- running ---- */

static bool is_tieback(const dt_sheet *s)
{
    return s->item->seat->type == DT_TIEBACK;
}

static void set_running(dt_sheet *s)
{
    const dt_running *r = &s->item->job->running;
    cell slow = plain("at once");
    if (r->joint_s > 0) slow = plain("%.0f s", ceil(r->joint_s));
    if (!isfinite(r->joint_s)) slow = plain("none is slow enough");
    if (r->blocked_line) slow = plain("the hole is too narrow");
    const fact list[] = {
        {"joints + spare joints",
         plain("%zu + %zu, range %d", r->joints, r->spare_joints, r->settings.range)},
        {"steel", plain("%.1f t", r->steel_kg / 1000)},
        {"weight in air", quantity(s, DT_KIND_FORCE, r->air_n)},
        {"hook load at depth, full of mud", quantity(s, DT_KIND_FORCE, r->hookload_filled_n)},
        {"hook load at depth, empty", quantity(s, DT_KIND_FORCE, r->hookload_floated_n)},
        {"pick-up weight", quantity(s, DT_KIND_FORCE, r->hookload_up_n)},
        {"slack-off weight", quantity(s, DT_KIND_FORCE, r->hookload_down_n)},
        {"maximum unfilled depth", quantity(s, DT_KIND_LENGTH, r->empty_md_m)},
        {"collapse factor there",
         plain("%.2f%s", r->empty_factor, r->empty_by_float ? ", float governs" : "")},
        {"fill every", plain("%zu joints", r->fill_joint_count)},
        {"minimum running time per joint", slow},
        {"surge at the shoe, planned speed", quantity(s, DT_KIND_PRESSURE, r->surge_pa)},
        {"mud out, run closed", quantity(s, DT_KIND_VOLUME, r->closed_end_m3)},
        {"mud back to fill it", quantity(s, DT_KIND_VOLUME, r->fill_m3)},
        {"overpull left in the pipe", quantity(s, DT_KIND_FORCE, r->overpull_pipe_n)},
        {"overpull left in the rig", isnan(r->overpull_rig_n)
                                         ? plain("rig not stated")
                                         : quantity(s, DT_KIND_FORCE, r->overpull_rig_n)},
        {"running time", quantity(s, DT_KIND_TIME, r->time_s)},
    };
    /* of run empty, filled, and of surge, from the first to the last */
    const size_t count = COUNT_OF(list), first = 7, rock = 10, last = 13;
    fact shown_facts[COUNT_OF(list)];
    size_t kept = 0;
    for (size_t i = 0; i < count; ++i) {
        const bool surges = i == rock || i == rock + 1, fills = i >= first && i <= last;
        if (!(is_tieback(s) && surges) && !(r->fills_itself && fills))
            shown_facts[kept++] = list[i];
    }
    section(s, "Running");
    facts(s, shown_facts, kept);
}

/** A driven pipe is not run into a hole: what it weighs, and how many joints it takes. */
static void set_driving(dt_sheet *s)
{
    const dt_running *r = &s->item->job->running;
    const fact list[] = {
        {"joints + spare joints",
         plain("%zu + %zu, range %d", r->joints, r->spare_joints, r->settings.range)},
        {"steel", plain("%.1f t", r->steel_kg / 1000)},
        {"weight in air", quantity(s, DT_KIND_FORCE, r->air_n)},
        {"overpull left in the pipe", quantity(s, DT_KIND_FORCE, r->overpull_pipe_n)},
    };
    section(s, "Driven or jetted");
    facts(s, list, COUNT_OF(list));
}

static void set_depths(dt_sheet *s)
{
    static const column columns[] = {
        {66, "shoe at", DT_KIND_LENGTH},  {62, "full", DT_KIND_FORCE},
        {62, "empty", DT_KIND_FORCE},     {62, "pick-up", DT_KIND_FORCE},
        {62, "slack-off", DT_KIND_FORCE}, {66, "overpull left", DT_KIND_FORCE},
        {64, "s a joint", DT_KIND_COUNT}};
    const dt_running *r = &s->item->job->running;
    section(s, "Hook load against depth, without the blocks");
    heads(s, columns, 7);
    for (size_t i = 1; i < r->point_count && room_for(s, 1); i += 2) {
        const dt_running_point *p = &r->points[i];
        double left = isnan(p->overpull_rig_n) ? p->overpull_pipe_n
                                               : fmin(p->overpull_pipe_n, p->overpull_rig_n);
        const cell cells[] = {bare(s, DT_KIND_LENGTH, p->md_m),
                              bare(s, DT_KIND_FORCE, p->filled_n),
                              bare(s, DT_KIND_FORCE, p->floated_n),
                              bare(s, DT_KIND_FORCE, p->up_n),
                              bare(s, DT_KIND_FORCE, p->down_n),
                              bare(s, DT_KIND_FORCE, left),
                              isfinite(p->joint_s) && !is_tieback(s) && !r->fills_itself
                                  ? plain("%.0f", ceil(p->joint_s))
                                  : plain("-")};
        row(s, columns, 7, cells, false);
    }
}

static void set_centralizers(dt_sheet *s)
{
    static const column columns[] = {{88, "from and to", DT_KIND_LENGTH},
                                     {68, "number", DT_KIND_COUNT},
                                     {54, "apart", DT_KIND_LENGTH},
                                     {50, "standoff", DT_KIND_COUNT},
                                     {184, "why", DT_KIND_COUNT}};
    const dt_centralizing *c = &s->item->job->centralizing;
    if (c->count == 0) return;
    char title[96];
    snprintf(title, sizeof title, "Centralizers: %zu bow, %zu rigid; %.0f %% standoff wanted",
             c->bows, c->rigids, 100 * c->target);
    section(s, title);
    heads(s, columns, 5);
    size_t most = c->count > 8 ? 7 : c->count;
    for (size_t i = 0; i < most && room_for(s, 1); ++i) {
        const dt_centralizer_run *run = &c->runs[i];
        bool one = run->count == 1 && run->base_md_m - run->top_md_m < SAME_DEPTH_M;
        const cell cells[] = {
            one ? bare(s, DT_KIND_LENGTH, run->top_md_m)
                : plain("%.20s to %.20s", bare(s, DT_KIND_LENGTH, run->top_md_m).text,
                        bare(s, DT_KIND_LENGTH, run->base_md_m).text),
            plain("%zu %s", run->count, run->kind == DT_CENTRALIZER_BOW ? "bow" : "rigid"),
            one ? plain("-") : bare(s, DT_KIND_LENGTH, run->spacing_m),
            isfinite(run->standoff_mid) ? plain("%.0f %%", 100 * run->standoff_mid)
                                        : plain("by rule"),
            plain("%s", run->why)};
        row(s, columns, 5, cells, false);
    }
    if (most == c->count) return;
    put(s, FIGURES_X, FIGURES_W, DT_START, false, "more stretches are listed in program.json");
    s->y += ROW;
}

/* ---- cement ---- */

static void set_slurries(dt_sheet *s)
{
    static const column columns[] = {
        {130, "slurry", DT_KIND_COUNT},      {46, "density", DT_KIND_DENSITY},
        {84, "from and to", DT_KIND_LENGTH}, {46, "excess", DT_KIND_COUNT},
        {50, "volume", DT_KIND_VOLUME},      {40, "sacks", DT_KIND_COUNT},
        {46, "water", DT_KIND_VOLUME}};
    const dt_cement *c = &s->item->job->cement;
    section(s, "Cement");
    heads(s, columns, 7);
    for (size_t i = 0; i < c->part_count && room_for(s, 1); ++i) {
        const dt_cement_part *p = &c->parts[i];
        const cell cells[] = {plain("%.80s", p->slurry.name),
                              bare(s, DT_KIND_DENSITY, p->slurry.density_kgm3),
                              plain("%.20s to %.20s", bare(s, DT_KIND_LENGTH, p->top_md_m).text,
                                    bare(s, DT_KIND_LENGTH, p->base_md_m).text),
                              plain("%.0f %%", 100 * p->excess),
                              bare(s, DT_KIND_VOLUME, p->volume_m3),
                              plain("%.0f", p->sacks),
                              bare(s, DT_KIND_VOLUME, p->water_m3)};
        row(s, columns, 7, cells, false);
    }
    const cell total[] = {plain("together"),
                          plain(" "),
                          plain(" "),
                          plain(" "),
                          bare(s, DT_KIND_VOLUME, c->slurry_m3),
                          plain("%.0f", c->sacks),
                          bare(s, DT_KIND_VOLUME, c->water_m3)};
    row(s, columns, 7, total, true);
}

static void pump_row(dt_sheet *s, const column *columns, const char *what, double volume,
                     double rate, double density, double *elapsed_s)
{
    *elapsed_s += volume / rate;
    const cell cells[] = {plain("%.90s", what),
                          bare(s, DT_KIND_DENSITY, density),
                          bare(s, DT_KIND_VOLUME, volume),
                          bare(s, DT_KIND_FLOW, rate),
                          plain("%.0f", volume / rate / 60),
                          plain("%.0f", *elapsed_s / 60)};
    row(s, columns, 6, cells, false);
}

/** What goes before the first slurry, and after the last. */
static const char *const *plug_words(const dt_sheet *s)
{
    static const char *const two_plugs[] = {"bottom plug, ", "top plug, 10 min, displace"};
    static const char *const liner[] = {"", "dart, 10 min, displace"};
    static const char *const conductor[] = {"", "line up, 10 min, displace"};
    if (s->index == 0) return conductor;
    return s->item->seat->type == DT_LINER ? liner : two_plugs;
}

static void set_pumping(dt_sheet *s)
{
    static const column columns[] = {
        {164, "pump", DT_KIND_COUNT},   {52, "density", DT_KIND_DENSITY},
        {60, "volume", DT_KIND_VOLUME}, {60, "rate", DT_KIND_FLOW},
        {50, "minutes", DT_KIND_COUNT}, {60, "since start", DT_KIND_COUNT}};
    const dt_cement *c = &s->item->job->cement;
    const dt_cement_settings *set = &c->settings;
    const char *const *words = plug_words(s);
    double elapsed = 0;
    section(s, "Pumping");
    heads(s, columns, 6);
    pump_row(s, columns, "spacer", c->spacer_m3, set->mix_rate_m3s, c->spacer_kgm3, &elapsed);
    for (size_t i = 0; i < c->part_count && room_for(s, 3); ++i) {
        cell what = plain("%s%.80s", i == 0 ? words[0] : "", c->parts[i].slurry.name);
        pump_row(s, columns, what.text, c->parts[i].volume_m3, set->mix_rate_m3s,
                 c->parts[i].slurry.density_kgm3, &elapsed);
    }
    elapsed += c->job_s - c->mix_s - c->displace_s;
    pump_row(s, columns, words[1], c->displacement_m3, set->displacement_rate_m3s,
             c->displacement_kgm3, &elapsed);
}

/** Why the top is where it is, by what rule the casing is tested, whether pipe is moved. */
static void set_notes(dt_sheet *s)
{
    static const char *const movements[] = {[DT_MOVE_NONE] = "pipe is not moved",
                                            [DT_MOVE_RECIPROCATE] = "reciprocate the pipe",
                                            [DT_MOVE_ROTATE] = "rotate the pipe"};
    char *top = NULL;
    if (dt_cement_top_phrase(s->program, s->index, s->display, &top) != DT_OK) {
        s->svg->status = DT_E_MEMORY;
        return;
    }
    dt_buffer text = {0};
    dt_buffer_text(&text, "Top of cement: ");
    dt_buffer_text(&text, top);
    dt_buffer_text(&text, ". Test: ");
    dt_buffer_text(&text, dt_test_rule_words(s->item->job->cement.settings.test));
    dt_buffer_text(&text, ". While pumping: ");
    dt_buffer_text(&text, movements[s->item->job->centralizing.movement]);
    dt_buffer_text(&text, ".");
    free(top);
    dt_labels block = {.width = FIGURES_W, .size = SIZE};
    dt_label *label = dt_labels_add(&block, 0, DT_TEXT, NULL);
    if (!text.failed) dt_label_write(&block, label, false, 3, text.bytes);
    if (label) {
        label->top = s->y + 1;
        s->y += dt_label_height(&block, label);
    }
    dt_labels_draw(s->svg, &block, FIGURES_X - 1.5, DT_START);
    if (text.failed || block.failed) s->svg->status = DT_E_MEMORY;
    dt_buffer_free(&text);
    dt_labels_free(&block);
}

static void set_pressures(dt_sheet *s)
{
    const dt_cement *c = &s->item->job->cement;
    cell fall = plain("none");
    if (isfinite(c->free_fall_from_m3))
        fall = plain("%.20s to %.20s", bare(s, DT_KIND_VOLUME, c->free_fall_from_m3).text,
                     quantity(s, DT_KIND_VOLUME, c->free_fall_to_m3).text);
    cell top = isfinite(c->tallest_top_md_m) ? quantity(s, DT_KIND_LENGTH, c->tallest_top_md_m)
                                             : plain("none with this margin");
    const fact list[] = {
        {"pump strokes to displace", plain("%.0f", c->strokes)},
        {"stop pumping at the latest", quantity(s, DT_KIND_VOLUME, c->displacement_most_m3)},
        {"bump the plug at", quantity(s, DT_KIND_PRESSURE, c->bump_pa)},
        {"float differential", quantity(s, DT_KIND_PRESSURE, c->lift_pa)},
        {"casing test", quantity(s, DT_KIND_PRESSURE, c->test_pa)},
        {"maximum pump pressure", quantity(s, DT_KIND_PRESSURE, c->pump_pa)},
        {"WOC", plain("%.20s%s", quantity(s, DT_KIND_TIME, c->wait_s).text,
                      c->wait_by_strength ? ", for strength" : "")},
        {"shoe at the end, at rest", quantity(s, DT_KIND_DENSITY, c->shoe_static_kgm3)},
        {"shoe at the end, pumping", quantity(s, DT_KIND_DENSITY, c->shoe_kgm3)},
        {"tightest depth (TVD)", quantity(s, DT_KIND_LENGTH, c->tight.tvd_m)},
        {"margin to fracture there",
         quantity(s, DT_KIND_PRESSURE, c->tight.fracture_pa - c->tight.pressure_pa)},
        {"highest top in one stage", top},
        {"free fall (U-tubing)", fall},
    };
    section(s, "Pressures and times");
    facts(s, list, COUNT_OF(list));
    set_notes(s);
}

/* ---- accessories, stoppers and review ---- */

static void set_accessories(dt_sheet *s)
{
    const dt_accessories *a = &s->item->job->accessories;
    section(s, "Casing accessories");
    size_t rows = (a->count + 1) / 2;
    double top = s->y;
    for (size_t i = 0; i < a->count; ++i) {
        const dt_accessory *at = &a->items[i];
        cell text = plain("%zu  %.40s", at->count, at->name);
        if (isfinite(at->md_m))
            text = plain("%zu  %.40s at %.20s", at->count, at->name,
                         quantity(s, DT_KIND_LENGTH, at->md_m).text);
        s->y = top + (double)(i % rows) * ROW;
        put(s, FIGURES_X + (i < rows ? 0 : FIGURES_W / 2 + 6), FIGURES_W / 2 - 6, DT_START, false,
            text.text);
    }
    s->y = top + (double)rows * ROW;
}

/** One notice where it is due; false when there is no room for it. */
static bool set_notice(dt_sheet *s, const dt_notice *n)
{
    dt_labels block = {.width = FIGURES_W, .size = SIZE};
    char *text = NULL;
    bool fits = false;
    block.failed = dt_notice_words(n, s->display, &text) != DT_OK;
    dt_label *label = block.failed ? NULL : dt_labels_add(&block, 0, DT_TEXT_RUST, NULL);
    if (label) dt_label_write(&block, label, false, 5, text);
    free(text);
    if (label) {
        label->top = s->y + 1;
        const double height = dt_label_height(&block, label);
        fits = label->top + height <= BOTTOM;
        if (fits) {
            dt_labels_draw(s->svg, &block, FIGURES_X - 1.5, DT_START);
            s->y += height - 1;
        }
    }
    if (block.failed) s->svg->status = DT_E_MEMORY;
    dt_labels_free(&block);
    return fits;
}

/** What stops this string, above all figures. That another one is stopped is said, too. */
static void set_stoppers(dt_sheet *s)
{
    const dt_notices *notices = &s->program->notices;
    bool any = false;
    if (dt_program_runnable(s->program)) return;
    section(s, "Stoppers: NOT RUNNABLE");
    for (size_t i = 0; i < notices->count; ++i) {
        const dt_notice *n = &notices->items[i];
        if (n->string != s->index || dt_notice_gravity(n->code) != DT_STOPPER) continue;
        any = set_notice(s, n);
        if (!any) break;
    }
    if (any) return;
    put(s, FIGURES_X, FIGURES_W, DT_START, true, "the program's stoppers are not this string's");
    s->y += ROW;
}

static void set_review(dt_sheet *s)
{
    dt_review review;
    bool any = false;
    if (dt_review_make(s->program, &review) != DT_OK) {
        s->svg->status = DT_E_MEMORY;
        return;
    }
    for (size_t i = 0; i < review.count; ++i) {
        const dt_notice *n = &s->program->notices.items[review.order[i]];
        if (n->string != s->index) continue;
        if (!any) section(s, "Review");
        any = true;
        if (set_notice(s, n)) continue;
        put(s, FIGURES_X, FIGURES_W, DT_START, true, "more for review stands in the program");
        break;
    }
    dt_review_free(&review);
}

/* ---- the page ---- */

static void set_title(dt_sheet *s)
{
    dt_buffer text = {0};
    dt_labels block = {.width = DT_SHEET_W - 2 * DT_SHEET_MARGIN, .size = 17};
    dt_label *label = dt_labels_add(&block, 0, DT_TEXT, NULL);
    dt_say_string(&text, s->program, s->index);
    dt_buffer_text(&text, is_tieback(s) ? ": running" : ": running and cementing");
    if (text.failed)
        s->svg->status = DT_E_MEMORY;
    else
        dt_label_write(&block, label, true, 1, text.bytes);
    if (label) label->top = 2;
    dt_labels_draw(s->svg, &block, DT_SHEET_MARGIN - 1.5, DT_START);
    dt_buffer_free(&text);
    dt_buffer_text(&text, s->program->well->name);
    dt_buffer_text(&text, is_tieback(s) ? ". Wellhead to liner top " : ". Shoe ");
    dt_say_md_tvd(&text, s->program, s->display, s->item->shoe_md_m, s->item->shoe_tvd_m);
    dt_buffer_text(&text, ", ");
    dt_say_hole(&text, s->program, s->display, s->index);
    if (s->item->job->running.mud_kgm3 > 0) {
        dt_buffer_text(&text, ", mud ");
        dt_say_quantity(&text, s->display, DT_KIND_DENSITY, s->item->job->running.mud_kgm3);
    }
    dt_buffer_text(&text, ". Depths along the hole below the rig floor.");
    block.count = 0;
    block.size = DT_TYPE;
    label = dt_labels_add(&block, 0, DT_TEXT, NULL);
    if (!text.failed) dt_label_write(&block, label, false, 2, text.bytes);
    if (label) label->top = 25;
    dt_labels_draw(s->svg, &block, DT_SHEET_MARGIN - 1.5, DT_START);
    if (text.failed || block.failed) s->svg->status = DT_E_MEMORY;
    dt_buffer_free(&text);
    dt_labels_free(&block);
}

static void set_figures(dt_sheet *s)
{
    const dt_cement *cement = &s->item->job->cement;
    s->y = 52;
    set_stoppers(s);
    set_pipe(s);
    if (s->item->job->running.driven) {
        set_driving(s);
    } else {
        set_running(s);
        set_depths(s);
    }
    if (cement->cemented) {
        set_slurries(s);
        set_pumping(s);
        set_pressures(s);
    }
    set_centralizers(s);
    set_accessories(s);
    set_review(s);
}

dt_status dt_draw_string_sheet(const dt_program *program, size_t index, dt_display display,
                               dt_text *out)
{
    dt_svg svg;
    char prefix[16];
    snprintf(prefix, sizeof prefix, "t%zu", index);
    dt_svg_begin(&svg, &(dt_svg_page){.w = DT_SHEET_W,
                                      .h = DT_SHEET_H,
                                      .prefix = prefix,
                                      .title = "Running and cementing sheet of one string",
                                      .description = "The string with its cement, float equipment "
                                                     "and centralizers, and the figures a crew "
                                                     "needs."});
    dt_sheet sheet = {.program = program,
                      .item = &program->items[index],
                      .index = index,
                      .display = display,
                      .svg = &svg};
    set_title(&sheet);
    dt_draw_string_picture(&sheet, DT_PICTURE_TOP, BOTTOM);
    set_figures(&sheet);
    dt_svg_line(&svg, DT_SHEET_MARGIN, DT_SHEET_H - 18, DT_SHEET_W - DT_SHEET_MARGIN,
                DT_SHEET_H - 18, (dt_ink){.stroke = DT_LINE_FAINT, .width = 0.7});
    dt_svg_text(&svg, DT_SHEET_MARGIN, DT_SHEET_H - 8,
                (dt_type){DT_TYPE, false, DT_TEXT_QUIET, DT_START}, caution);
    return dt_svg_end(&svg, out);
}
