/* SPDX-License-Identifier: MIT */
#include "well.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "same.h"
#include "well_parts.h"
#include "what_if.h"

/** Depths closer than this are the same depth when the conductor is put on the rounding step. */

extern const char dt_embedded_start_field[];
extern const char dt_embedded_start_metric[];
extern const char dt_embedded_start_land_field[], dt_embedded_start_land_metric[];
extern const char dt_embedded_start_shelf_field[], dt_embedded_start_shelf_metric[];
extern const char dt_embedded_start_deepwater_field[], dt_embedded_start_deepwater_metric[];
extern const char dt_embedded_start_geothermal_field[], dt_embedded_start_geothermal_metric[];

const char *dt_role_text(dt_role role)
{
    static const char *const texts[DT_ROLE_COUNT] = {
        [DT_CONDUCTOR] = "conductor",
        [DT_SURFACE] = "surface",
        [DT_INTERMEDIATE] = "intermediate",
        [DT_PRODUCTION] = "production",
    };
    return (size_t)role < DT_ROLE_COUNT ? texts[role] : "unknown";
}

const char *dt_string_type_text(dt_string_type type)
{
    switch (type) {
    case DT_FULL:
        return "full";
    case DT_LINER:
        return "liner";
    case DT_TIEBACK:
        return "tieback";
    case DT_TYPE_UNSAID:
        break;
    }
    return "unsaid";
}

bool dt_margin_given(const dt_margin *margin)
{
    return margin->emw_kgm3 > 0 || margin->pressure_pa > 0;
}

const char *dt_test_rule_words(dt_test_rule rule)
{
    static const char *const words_of[DT_TEST_COUNT] = {
#define TEST_WORDS(name, word, words) [DT_TEST_##name] = words,
        DT_TEST_LIST(TEST_WORDS)
#undef TEST_WORDS
    };
    return (size_t)rule < DT_TEST_COUNT ? words_of[rule] : "unsaid";
}

const char *const *dt_interval_kinds(void)
{
    static const char *const kinds[] = {
        "lost-circulation",
        "salt",
        "shale",
        "reactive-shale",
        "unstable",
        "gas",
        "shallow-gas",
        "water-flow",
        "depleted",
        "overpressure",
        "coal",
        "fault",
        "other",
        NULL,
    };
    return kinds;
}

const char *dt_well_starter(bool metric)
{
    return metric ? dt_embedded_start_metric : dt_embedded_start_field;
}

const char *dt_well_starter_on(const char *basis, bool metric)
{
    static const struct {
        const char *basis, *field, *metric;
    } starters[] = {
        {"land", dt_embedded_start_land_field, dt_embedded_start_land_metric},
        {"shelf", dt_embedded_start_shelf_field, dt_embedded_start_shelf_metric},
        {"deepwater", dt_embedded_start_deepwater_field, dt_embedded_start_deepwater_metric},
        {"geothermal", dt_embedded_start_geothermal_field, dt_embedded_start_geothermal_metric},
    };
    for (size_t i = 0; i < sizeof starters / sizeof *starters; ++i)
        if (strcmp(starters[i].basis, basis) == 0)
            return metric ? starters[i].metric : starters[i].field;
    return NULL;
}

double dt_normal_pore(const dt_well *well)
{
    return well->sticking.given ? well->sticking.normal_pore_kgm3
                                : dt_custom_value_of(well, DT_CUSTOM_NORMAL_PORE);
}

size_t dt_well_riserless(const dt_well *well)
{
    if (!well->bop_at_seabed) return 0;
    return well->conductor.bop ? 1 : 2;
}

static double sea_kgm3(const dt_well *well)
{
    return dt_custom_or(well, well->conductor.sea_gradient_kgm3, DT_CUSTOM_SEA_GRADIENT);
}

double dt_well_sea_kgm2(const dt_well *well)
{
    return sea_kgm3(well) * well->water_depth_m;
}

double dt_well_sea_column_pa(const dt_well *well, double mud_kgm3, double tvd_m)
{
    const double in_water_m = fmin(tvd_m - well->rig_floor_m, well->water_depth_m);
    const double below_m = tvd_m - dt_well_ground_m(well);
    return DT_STANDARD_GRAVITY *
           (sea_kgm3(well) * fmax(in_water_m, 0) + mud_kgm3 * fmax(below_m, 0));
}

double dt_well_ground_m(const dt_well *well)
{
    return well->rig_floor_m + well->water_depth_m;
}

double dt_conductor_penetration_m(const dt_well *well)
{
    const dt_conductor *c = &well->conductor;
    double x = isfinite(c->flowline_m) ? c->flowline_m : well->rig_floor_m;
    double y = well->over_sea ? well->water_depth_m : 0;
    double sea =
        well->over_sea ? dt_custom_or(well, c->sea_gradient_kgm3, DT_CUSTOM_SEA_GRADIENT) : 0;
    return ((x + y) * c->returns_gradient_kgm3 - y * sea) /
           (c->soil_gradient_kgm3 - c->returns_gradient_kgm3);
}

double dt_conductor_shoe_m(const dt_well *well)
{
    if (isfinite(well->conductor.depth_m)) return well->conductor.depth_m;
    double penetration_m = dt_conductor_penetration_m(well);
    if (isnan(penetration_m)) return NAN;
    double exact_m = dt_well_ground_m(well) + fmax(penetration_m, 0);
    double step_m = well->seats.round_to_m;
    if (!isfinite(step_m) || step_m <= 0) return exact_m;
    return step_m * ceil(exact_m / step_m - SAME_DEPTH_M / step_m);
}

bool dt_has_document(const dt_well *well)
{
    const dt_document *document = &well->document;
    return document->revision || document->author || document->date;
}

void dt_well_free(dt_well *well)
{
    if (!well) return;
    free(well->name);
    free(well->note);
    free(well->document.revision);
    free(well->document.author);
    free(well->document.date);
    free(well->stations);
    dt_offsets_free(well);
    free(well->pore.points);
    free(well->fracture.points);
    free(well->fracture_from.ratios);
    free(well->fracture_from.tests);
    free(well->fracture_from.point_ratio);
    free(well->kick.rows);
    free(well->collapse.points);
    free(well->overburden.points);
    for (size_t i = 0; i < well->interval_count; ++i) {
        free(well->intervals[i].name);
        free(well->intervals[i].kind);
    }
    free(well->intervals);
    for (size_t i = 0; i < well->pay_count; ++i)
        free(well->pays[i].name);
    free(well->pays);
    free(well->sizes.clearances);
    for (size_t i = 0; i < well->slurry_count; ++i)
        free(well->slurries[i].name);
    free(well->slurries);
    for (size_t i = 0; i < well->pin_count; ++i) {
        dt_pin *pin = &well->pins[i];
        free(pin->grade);
        free(pin->thread);
        for (size_t k = 0; k < pin->cement_count; ++k)
            free(pin->cement[k].slurry);
        free(pin->cement);
    }
    free(well->pins);
    free(well->prices.currency);
    for (size_t i = 0; i < well->prices.pipe_count; ++i)
        free(well->prices.pipes[i].grade);
    free(well->prices.pipes);
    for (size_t i = 0; i < well->prices.thread_count; ++i)
        free(well->prices.threads[i].thread);
    free(well->prices.threads);
    free(well->prices.bits);
    free(well->times.drilling);
    free(well->times.running);
    free(well->wishes.forbidden);
    free(well->cementing.lead);
    free(well->cementing.tail);
    free(well->cementing.strengths);
    free(well->caliper);
    free(well->loads.tests);
    free(well->hangers.items);
    free(well->thermal.points);
    free(well->thermal.deratings);
    dt_well_free_basis(well);
    free(well);
}

/** Length in bytes of the control character at `at`, 0 when there is none. */
static size_t control_length(const char *at)
{
    unsigned char first = (unsigned char)at[0];
    if ((first < 0x20 && first != 0) || first == 0x7F) return 1;
    /* C1, U+0080 to U+009F: terminals obey some of them */
    if (first == 0xC2 && (unsigned char)at[1] >= 0x80 && (unsigned char)at[1] <= 0x9F) return 2;
    /* U+2028 and U+2029 end a line; U+202A to U+202E and U+2066 to U+2069 turn the order of what
     * follows, so that a name reads as another; U+FEFF is not seen at all */
    if (strncmp(at, "\xE2\x80", 2) == 0 && (unsigned char)at[2] >= 0xA8 &&
        (unsigned char)at[2] <= 0xAE)
        return 3;
    if (strncmp(at, "\xE2\x81", 2) == 0 && (unsigned char)at[2] >= 0xA6 &&
        (unsigned char)at[2] <= 0xA9)
        return 3;
    return strncmp(at, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
}

bool dt_has_controls(const char *text)
{
    for (; *text; ++text)
        if (control_length(text)) return true;
    return false;
}

dt_quoted dt_quote(const char *text)
{
    static const char more[] = "...";
    dt_quoted quoted;
    size_t used = 0, room = sizeof quoted.text - sizeof more;
    while (*text) {
        size_t control = control_length(text);
        size_t length = control ? control : 1;
        while (!control && ((unsigned char)text[length] & 0xC0) == 0x80)
            ++length; /* a character of UTF-8 is never cut in half */
        if (used + length > room) {
            memcpy(quoted.text + used, more, sizeof more);
            return quoted;
        }
        if (control)
            quoted.text[used++] = '?';
        else
            for (size_t i = 0; i < length; ++i)
                quoted.text[used++] = text[i];
        text += length;
    }
    quoted.text[used] = '\0';
    return quoted;
}

bool dt_file_has_text(const char *text, size_t size, dt_report *report)
{
    if (size > DT_WELL_MAX_BYTES) {
        dt_report_add(report, DT_MSG_FILE_TOO_BIG, 0, NULL, "the file has more than %.0f MiB",
                      (double)DT_WELL_MAX_BYTES / 1048576.0);
        return false;
    }
    size_t at = 0;
    while (at < size && strchr(" \t\r\n", text[at]) && text[at])
        ++at;
    if (at == size) dt_report_add(report, DT_MSG_FILE_EMPTY, 0, NULL, "the file is empty");
    return at < size;
}

dt_status dt_well_parse(const char *text, size_t size, dt_report *report, dt_well **out)
{
    return dt_well_parse_on(text, size, NULL, 0, report, out);
}

dt_status dt_well_parse_on(const char *text, size_t size, const dt_basis *const *over, size_t count,
                           dt_report *report, dt_well **out)
{
    return dt_well_parse_with(text, size, over, count, NULL, 0, report, out, NULL);
}

/** What is otherwise than the file states it. */
typedef struct what_if {
    const char *const *changes;
    size_t count;
    dt_text *problem;
} what_if;

static dt_status change_well(const what_if *what, dt_well *well)
{
    char *words = NULL;
    const dt_status status = dt_well_what_if(well, what->changes, what->count, &words);
    if (words && what->problem) *what->problem = (dt_text){words, strlen(words)};
    if (!what->problem) free(words);
    return status;
}

/** From a tree that fits the schema to a checked model. */
static dt_status read_well(struct _xmlDoc *doc, const dt_basis *const *over, size_t count,
                           const what_if *what, dt_report *report, dt_well *well)
{
    dt_well_gaps gaps = {0};
    dt_status status = dt_well_find_basis(dt_well_root(doc), over, count, report, well);
    if (status == DT_OK) status = dt_well_read(doc, report, well, &gaps);
    if (status == DT_OK) status = dt_well_note_stated(dt_well_root(doc), well);
    if (status == DT_OK && report->errors == 0) status = change_well(what, well);
    if (status == DT_OK) dt_well_check_known(well, &gaps, report);
    return status;
}

dt_status dt_well_parse_with(const char *text, size_t size, const dt_basis *const *over,
                             size_t count, const char *const *changes, size_t change_count,
                             dt_report *report, dt_well **out, dt_text *problem)
{
    const what_if what = {changes, change_count, problem};
    dt_status status = DT_E_INPUT;
    struct _xmlDoc *doc = NULL;
    dt_well *well = NULL;

    if (!dt_file_has_text(text, size, report)) goto done;
    status = dt_well_open(text, size, report, &doc);
    if (status != DT_OK) goto done;
    if (doc) {
        status = DT_E_MEMORY;
        well = calloc(1, sizeof *well);
        if (well) status = read_well(doc, over, count, &what, report, well);
        if (status != DT_OK) goto done;
    }
    status = report->errors || !doc ? DT_E_INPUT : DT_OK;
done:
    if (report->out_of_memory) status = DT_E_MEMORY;
    dt_report_sort(report);
    dt_well_free_doc(doc);
    if (status == DT_OK)
        *out = well;
    else
        dt_well_free(well);
    return status;
}
