/* SPDX-License-Identifier: MIT */
#include "wording.h"

#include <math.h>
#include <string.h>

#include "same.h"

/** Thousands separated by commas in front of the decimal point. */
static void say_grouped(dt_buffer *out, const char *number)
{
    size_t whole = strcspn(number, ".");
    size_t sign = number[0] == '-';
    for (size_t i = 0; i < whole; ++i) {
        if (i > sign && (whole - i) % 3 == 0) dt_buffer_text(out, ",");
        dt_buffer_bytes(out, number + i, 1);
    }
    dt_buffer_text(out, number + whole);
}

void dt_say_depth_number(dt_buffer *out, dt_display display, double depth_m)
{
    char number[DT_NUMBER_SIZE];
    bool field = display == DT_DISPLAY_FIELD;
    dt_number_text(dt_display_value(display, DT_KIND_LENGTH, depth_m), field ? 0 : 1, number);
    if (field)
        say_grouped(out, number);
    else
        dt_buffer_text(out, number);
}

/* Between a number and its unit a line must not break; drawn, it is a plain space. */
#define DT_HARD_SPACE "\xC2\xA0"

void dt_say_depth(dt_buffer *out, dt_display display, double depth_m)
{
    dt_say_depth_number(out, display, depth_m);
    dt_buffer_text(out, DT_HARD_SPACE);
    dt_buffer_text(out, dt_display_unit(display, DT_KIND_LENGTH));
}

void dt_say_range(dt_buffer *out, dt_display display, double top_m, double base_m)
{
    dt_say_depth_number(out, display, top_m);
    dt_buffer_text(out, " to ");
    dt_say_depth(out, display, base_m);
}

bool dt_is_deviated(const dt_program *program)
{
    for (size_t i = 0; i < program->count; ++i)
        if (fabs(program->items[i].shoe_md_m - program->items[i].shoe_tvd_m) > 0.05) return true;
    return false;
}

void dt_say_md_tvd(dt_buffer *out, const dt_program *program, dt_display display, double md_m,
                   double tvd_m)
{
    if (!dt_is_deviated(program) || !isfinite(md_m)) {
        dt_say_depth(out, display, tvd_m);
        if (dt_is_deviated(program)) dt_buffer_text(out, DT_HARD_SPACE "TVD");
        return;
    }
    dt_say_depth(out, display, md_m);
    if (fabs(md_m - tvd_m) < 0.05) {
        dt_buffer_text(out, DT_HARD_SPACE "MD and TVD");
        return;
    }
    dt_buffer_text(out, DT_HARD_SPACE "MD / ");
    dt_say_depth(out, display, tvd_m);
    dt_buffer_text(out, DT_HARD_SPACE "TVD");
}

void dt_say_size(dt_buffer *out, dt_display display, double diameter_m)
{
    char inches[48];
    dt_inch_text(diameter_m, inches, sizeof inches);
    dt_buffer_text(out, inches);
    dt_buffer_text(out, DT_HARD_SPACE "in");
    if (display != DT_DISPLAY_METRIC) return;
    dt_buffer_text(out, " (");
    dt_buffer_number(out, diameter_m * 1000, 1);
    dt_buffer_text(out, DT_HARD_SPACE "mm)");
}

void dt_say_quantity(dt_buffer *out, dt_display display, dt_kind kind, double si)
{
    char text[64];
    dt_display_text(display, kind, si, text, sizeof text);
    size_t number = strcspn(text, " ");
    dt_buffer_bytes(out, text, number);
    if (!text[number]) return;
    dt_buffer_text(out, DT_HARD_SPACE);
    dt_buffer_text(out, text + number + 1);
}

void dt_say_string(dt_buffer *out, const dt_program *program, size_t index)
{
    const dt_program_string *item = &program->items[index];
    char inches[48];
    dt_inch_text(item->od_m, inches, sizeof inches);
    dt_buffer_text(out, inches);
    dt_buffer_text(out, " in ");
    char name[64];
    dt_program_string_name(program, index, name, sizeof name);
    dt_buffer_text(out, name);
    if (item->seat->type == DT_LINER) dt_buffer_text(out, " liner");
}

void dt_say_hole(dt_buffer *out, const dt_program *program, dt_display display, size_t index)
{
    const dt_program_string *item = &program->items[index];
    dt_conductor_method method = program->well->conductor.method;
    if (item->seat->type == DT_TIEBACK) {
        dt_buffer_text(out, "no hole of its own");
        return;
    }
    if (item->seat->role == DT_CONDUCTOR && method != DT_CONDUCTOR_DRILLED) {
        dt_buffer_text(out, method == DT_CONDUCTOR_DRIVEN ? "driven, no hole" : "jetted in");
        return;
    }
    dt_say_size(out, display, item->hole_m);
    dt_buffer_text(out, " hole");
    if (!item->opened) return;
    dt_buffer_text(out, " opened from ");
    dt_say_size(out, display, item->bit_m);
}

double dt_round_step(double least)
{
    double power = pow(10, floor(log10(least)));
    static const double steps[] = {1, 2, 5, 10};
    for (size_t i = 0; i < 4; ++i)
        if (steps[i] * power >= least * (1 - TIE)) return steps[i] * power;
    return 10 * power;
}

void dt_say_document(dt_buffer *out, const dt_well *well)
{
    const char *const texts[] = {well->document.revision, well->document.author,
                                 well->document.date};
    bool any = false;
    for (size_t i = 0; i < sizeof texts / sizeof *texts; ++i) {
        if (!texts[i]) continue;
        if (any) dt_buffer_text(out, ", ");
        if (i == 0) dt_buffer_text(out, "Revision ");
        dt_buffer_text(out, texts[i]);
        any = true;
    }
}
