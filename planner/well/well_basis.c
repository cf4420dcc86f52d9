/* SPDX-License-Identifier: MIT */
/* Which basis a well stands on: the one it names or the one of where it stands, with others stacked
 * over it; and which of its values the well file states itself. */
#include <libxml/tree.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "units.h"
#include "well_parts.h"

/* Deeper water than this is drilled as deepwater: common practice, no source; US notices to lessees
 * begin at 500 ft, other lists at 1,000 to 1,500 ft. */
#define SHELF_ENDS_M (1500 * DT_M_PER_FT)

static const char *attribute_of(const xmlNode *node, const char *name)
{
    for (const xmlAttr *at = node ? node->properties : NULL; at; at = at->next)
        if (!at->ns && strcmp((const char *)at->name, name) == 0)
            return at->children ? (const char *)at->children->content : "";
    return NULL;
}

static const xmlNode *element_of(const xmlNode *root, const char *name)
{
    for (const xmlNode *at = root->children; at; at = at->next)
        if (at->type == XML_ELEMENT_NODE && strcmp((const char *)at->name, name) == 0) return at;
    return NULL;
}

/** The basis for where the well stands. A datum that cannot be read is told elsewhere. */
static const char *basis_of_place(const xmlNode *root)
{
    const xmlNode *datum = element_of(root, "datum");
    const char *over = attribute_of(datum, "over"), *water = attribute_of(datum, "water_depth");
    double water_m = 0;
    if (!over || strcmp(over, "sea") != 0) return "land";
    const bool read = water && dt_quantity_parse(water, DT_KIND_LENGTH, &water_m) == DT_PARSE_OK;
    return read && water_m > SHELF_ENDS_M ? "deepwater" : "shelf";
}

static void tell_unknown(const xmlNode *root, const char *unknown, dt_report *report)
{
    char names[512] = "";
    for (size_t i = 0; dt_basis_shipped_name(i); ++i) {
        const size_t used = strlen(names);
        snprintf(names + used, sizeof names - used, "%s%s", used ? ", " : "",
                 dt_basis_shipped_name(i));
    }
    dt_quoted shown = dt_quote(unknown);
    dt_report_add(report, DT_MSG_BASIS_UNKNOWN, (int)xmlGetLineNo(root), "well/@basis",
                  "no basis \"%s\" comes with drawtube", shown.text);
    dt_report_fix(report, "write one or more of %s; a file of your own is given with --basis FILE",
                  names);
}

/** Where the stack goes, and the line that is at fault where layers contradict each other. */
typedef struct stacking {
    dt_report *report;
    int line;
} stacking;

static void tell_contradiction(void *context, int line, const char *where, const char *problem)
{
    (void)line; /* of a file that is told for itself */
    const stacking *s = context;
    dt_report_add(s->report, DT_MSG_BASIS_CONTRADICTS, s->line, where, "once stacked, it %s",
                  problem);
}

/** One layer more; the built-in basis begins anew. */
static dt_status put_over(dt_well *well, const dt_basis *layer)
{
    dt_basis *made = NULL;
    const dt_basis *under = dt_basis_of(well);
    if (layer != dt_basis_built_in()) {
        const dt_status status = dt_basis_stack(under, layer, &made);
        if (status != DT_OK) return status;
    }
    dt_basis_free(well->own_basis);
    well->own_basis = made;
    well->basis = made;
    return DT_OK;
}

static dt_status put_all(dt_well *well, const dt_basis *const *layers, size_t count)
{
    dt_status status = DT_OK;
    for (size_t i = 0; status == DT_OK && i < count; ++i)
        status = put_over(well, layers[i]);
    return status;
}

/** True when one of them says all, so that nothing under it holds. */
static bool begins_anew(const dt_basis *const *over, size_t count)
{
    bool anew = false;
    for (size_t i = 0; i < count; ++i)
        anew = anew || over[i] == dt_basis_built_in();
    return anew;
}

dt_status dt_well_find_basis(const struct _xmlNode *root, const dt_basis *const *over, size_t count,
                             dt_report *report, dt_well *well)
{
    const dt_basis *named[DT_BASIS_MOST_LAYERS];
    char unknown[64];
    stacking s = {report, (int)xmlGetLineNo(root)};
    const char *names = attribute_of(root, "basis");
    well->basis_taken = !names && !begins_anew(over, count);
    const size_t named_count = dt_basis_list(names               ? names
                                             : well->basis_taken ? basis_of_place(root)
                                                                 : "",
                                             named, unknown);
    if (*unknown || (names && named_count == 0)) {
        tell_unknown(root, unknown, report);
        return DT_OK;
    }
    dt_status status = DT_E_DOMAIN;
    if (named_count <= DT_BASIS_MOST_LAYERS) status = put_all(well, named, named_count);
    if (status == DT_OK) status = put_all(well, over, count);
    if (status == DT_E_DOMAIN) {
        dt_report_add(report, DT_MSG_BASIS_TOO_MANY, s.line, "well/@basis",
                      "more than %d bases are stacked", DT_BASIS_MOST);
        return DT_OK;
    }
    if (status == DT_OK && well->own_basis)
        dt_basis_examine(well->own_basis, tell_contradiction, &s);
    return status;
}

/* ---- what the file states itself ---- */

static dt_status note_attribute(dt_stated *stated, const xmlNode *node, const xmlAttr *at)
{
    const char *text = at->children ? (const char *)at->children->content : "";
    const size_t size = strlen(text) + 1;
    stated->text = malloc(size);
    if (!stated->text) return DT_E_MEMORY;
    memcpy(stated->text, text, size);
    stated->line = (int)xmlGetLineNo(node);
    return DT_OK;
}

static void note_rows(dt_stated *tables, const xmlNode *node)
{
    for (int i = 0; i < DT_TABLE_COUNT; ++i) {
        const dt_table_row *about = dt_table_about((dt_custom_table)i);
        if (tables[i].line > 0 || strcmp(about->element, (const char *)node->name) != 0) continue;
        const xmlNode *row = element_of(node, about->row);
        if (row) tables[i].line = (int)xmlGetLineNo(row);
    }
}

dt_status dt_well_note_stated(const struct _xmlNode *root, dt_well *well)
{
    well->stated = calloc(DT_CUSTOM_COUNT + DT_TABLE_COUNT, sizeof *well->stated);
    dt_status status = well->stated ? DT_OK : DT_E_MEMORY;
    for (const xmlNode *node = root->children; status == DT_OK && node; node = node->next) {
        if (node->type != XML_ELEMENT_NODE) continue;
        note_rows(well->stated + DT_CUSTOM_COUNT, node);
        for (const xmlAttr *at = node->properties; status == DT_OK && at; at = at->next) {
            const dt_custom custom =
                dt_custom_find((const char *)node->name, (const char *)at->name);
            if (custom != DT_CUSTOM_COUNT && well->stated[custom].line == 0)
                status = note_attribute(&well->stated[custom], node, at);
        }
    }
    return status;
}

void dt_well_free_basis(dt_well *well)
{
    for (int i = 0; well->stated && i < DT_CUSTOM_COUNT; ++i)
        free(well->stated[i].text);
    free(well->stated);
    dt_basis_free(well->own_basis);
}
