/* SPDX-License-Identifier: MIT */
/* The program table as CSV (RFC 4180): a row a section, names and values of program.json. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "data.h"
#include "text.h"
#include "units.h"

/**
 * A cell of text, quoted. What a spreadsheet would compute gets an apostrophe in front, as OWASP's
 * page "CSV Injection" advises: it is shown as text then.
 */
static void say_cell(dt_buffer *out, const char *text)
{
    dt_buffer_text(out, strchr("=+-@", *text) && *text ? "\"'" : "\"");
    for (; *text; ++text) {
        if (*text == '"') dt_buffer_text(out, "\"");
        dt_buffer_bytes(out, text, 1);
    }
    dt_buffer_text(out, "\"");
}

/** 15 digits, as program.json has them; empty where there is no figure. */
static void say_value(dt_buffer *out, double value, double unit)
{
    char text[40] = "";
    if (isfinite(value)) snprintf(text, sizeof text, "%.15g", value / unit);
    dt_buffer_text(out, ",");
    dt_buffer_text(out, text);
}

static void say_text(dt_buffer *out, const char *text)
{
    dt_buffer_text(out, ",");
    say_cell(out, text);
}

static void say_section(dt_buffer *out, const dt_program *program, size_t string, size_t index)
{
    const dt_program_string *item = &program->items[string];
    const dt_section *section = &item->string->sections[index];
    char name[32];
    dt_program_string_name(program, string, name, sizeof name);
    say_cell(out, program->well->name);
    say_text(out, name);
    say_text(out, dt_string_type_text(item->seat->type));
    say_value(out, item->hole_m, DT_M_PER_IN);
    say_value(out, item->od_m, DT_M_PER_IN);
    say_value(out, item->largest_od_m, DT_M_PER_IN);
    say_value(out, section->pipe->weight_kgm, DT_KGM_PER_LBFT);
    say_text(out, section->pipe->grade->name);
    say_text(out, dt_pipe_thread_text(section->pipe, section->thread));
    say_value(out, section->pipe->wall_m, DT_M_PER_IN);
    say_value(out, dt_nest_drift(program->well, section->pipe), DT_M_PER_IN);
    say_value(out, section->top_md_m, DT_M_PER_FT);
    say_value(out, section->base_md_m, DT_M_PER_FT);
    const bool tieback = item->seat->type == DT_TIEBACK; /* has no shoe */
    say_value(out, tieback ? NAN : item->shoe_md_m, DT_M_PER_FT);
    say_value(out, tieback ? NAN : item->shoe_tvd_m, DT_M_PER_FT);
    say_value(out, item->seat->mud_kgm3, DT_KGM3_PER_PPG);
    say_value(out, item->seat->min_fracture_kgm3, DT_KGM3_PER_PPG);
    dt_buffer_text(out, "\r\n");
}

dt_status dt_write_program_csv(const dt_program *program, dt_text *out)
{
    dt_buffer text = {0};
    dt_buffer_text(&text, "well,string,type,hole_in,od_in,coupling_od_in,weight_lbft,grade,thread,"
                          "wall_in,drift_in,top_md_ft,base_md_ft,shoe_md_ft,shoe_tvd_ft,mud_ppg,"
                          "min_fracture_ppg\r\n");
    for (size_t n = 0; n < dt_program_strings(program); ++n) {
        const size_t i = dt_program_at(program, n);
        for (size_t s = 0; s < program->items[i].string->section_count; ++s)
            say_section(&text, program, i, s);
    }
    return dt_buffer_take(&text, out);
}
