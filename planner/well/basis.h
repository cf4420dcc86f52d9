/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_BASIS_H
#define DRAWTUBE_BASIS_H

#include <stdbool.h>
#include <stddef.h>

#include "findings.h"
#include "units.h"
#include "well.h"

/*
 * A basis holds what is taken where a well says nothing, each value with its source: docs/basis.md.
 * Which customs there are is customs.def's; their values are a basis file's alone. The built-in one
 * is compiled from planner/well/basis/built-in.xml.
 */

/** One value that a basis holds. */
typedef enum dt_custom {
#define DT_CUSTOM(name, place, element, attribute, form, kind, choices, words) DT_CUSTOM_##name,
#include "customs.def"
    DT_CUSTOM_COUNT
} dt_custom;

/** One table or series of values. */
typedef enum dt_custom_table {
#define DT_CUSTOM_TABLE(name, element, row, type, words)  DT_TABLE_##name,
#define DT_CUSTOM_SERIES(name, element, row, type, words) DT_TABLE_##name,
#include "customs.def"
    DT_TABLE_COUNT
} dt_custom_table;

/** One column of a table. */
typedef enum dt_custom_column {
#define DT_CUSTOM_COLUMN(table, name, need, attribute, form, kind, choices, member, words)         \
    DT_COLUMN_##table##_##name,
#include "customs.def"
    DT_COLUMN_COUNT
} dt_custom_column;

typedef enum dt_custom_form {
    DT_FORM_NUMBER,
    DT_FORM_QUANTITY,
    DT_FORM_MARGIN,
    DT_FORM_WORD,
    DT_FORM_NAME
} dt_custom_form;

/** What customs.def says of a value. */
typedef struct dt_custom_row {
    const char *element, *attribute; /* of the well file, or of a basis file alone */
    bool basis_only;
    dt_custom_form form;
    dt_kind kind;        /* of a quantity; else DT_KIND_COUNT */
    const char *choices; /* of a word: "no|yes" */
    const char *words;   /* for people */
} dt_custom_row;

/** What customs.def says of a table. */
typedef struct dt_table_row {
    const char *element, *row; /* <row> stands in <element> */
    bool series;               /* kept in the order of the file; else the first column grows */
    size_t size, line_offset;  /* of the row's struct */
    const char *type;          /* its name */
    const char *words;
} dt_table_row;

/** What customs.def says of a column. */
typedef struct dt_column_row {
    dt_custom_table table;
    bool must; /* be stated in each row; else NAN is allowed */
    const char *attribute;
    dt_custom_form form;
    dt_kind kind;
    const char *choices;
    size_t offset; /* of a double; of an int for a word, of a string for a name */
    const char *member, *words;
} dt_column_row;

/* Rows of tables that a well file does not have. */

typedef struct dt_role_customs {
    int role; /* dt_role */
    double excess, wait_s;
    int test; /* dt_test_rule */
    double test_pressure_pa;
    int line;
} dt_role_customs;

typedef struct dt_name_custom {
    const char *text;
    int line;
} dt_name_custom;

typedef struct dt_number_custom {
    double number;
    int line;
} dt_number_custom;

typedef struct dt_circulating_custom {
    double up_to_m, ecd_kgm3;
    int line;
} dt_circulating_custom;

typedef struct dt_surface_custom {
    double objective_to_m;
    double least_m, most_m; /* below ground; NAN: no limit */
    int line;
} dt_surface_custom;

typedef struct dt_open_hole_custom {
    double up_to_m, most_m; /* NAN: no limit */
    int line;
} dt_open_hole_custom;

/** Customary spread of a well that has no spreads of its own: one standard deviation. */
typedef struct dt_spread_custom {
    int class; /* a dt_spread_class */
    double pore_kgm3, fracture_kgm3;
    double length_m; /* over which the errors go together */
    int line;
} dt_spread_custom;

/** The row of the class that the well names; NULL when it names none. */
const dt_spread_custom *dt_spread_custom_of(const dt_well *well);

/** Pipe that is usual as a string of a role; NAN: any. */
typedef struct dt_role_sizes {
    int role; /* a dt_role */
    double least_m, most_m;
    double lateral_most_m; /* in place of most_m in a well that ends in a lateral, for a completion
                            * that needs no more */
    int line;
} dt_role_sizes;

/** A hole and the pipe that is run in it; 1 is tried first. */
typedef struct dt_pair_custom {
    double hole_m, od_m, order;
    int role;   /* a dt_role; -1: of any */
    int opened; /* 1: in a hole that is opened below the pipe above; else in one that is drilled */
    int line;
} dt_pair_custom;

/** Pipe commonly stocked; grades and threads are separated by blanks. */
typedef struct dt_stock_custom {
    double od_m, weight_kgm;
    const char *grade, *thread;
    int line;
} dt_stock_custom;

typedef struct dt_joint_custom {
    double range, joint_m;
    int line;
} dt_joint_custom;

typedef struct dt_rate_custom {
    double from_m, per_hour;
    int line;
} dt_rate_custom;

/** One value of a basis. */
typedef struct dt_custom_value {
    double si;          /* SI; of a word its place among the choices; NAN for a name */
    bool pressure;      /* a margin that is a pressure */
    const char *text;   /* as the basis spells it: "500 ft" */
    const char *source; /* where it comes from */
    int line;
    int layer; /* of dt_basis.layers: the file that says it */
} dt_custom_value;

typedef struct dt_table_value {
    const void *rows; /* of the type of customs.def */
    size_t count;     /* one at least; 0 in a layer that states none */
    int layer;
} dt_table_value;

/** A file that had a part in a basis. */
typedef struct dt_basis_layer {
    const char *name;
    const char *as_of; /* edition of the rules in it; NULL: it says none */
} dt_basis_layer;

/** So many files stand on one another at most, the built-in one with them. */
#define DT_BASIS_MOST_LAYERS 12

/** A whole basis: every custom has a value. Or a layer, what one file states: the texts of all
 * other values are NULL. */
struct dt_basis {
    const char *name; /* of the file; of a stack all names, separated by blanks */
    dt_basis_layer layers[DT_BASIS_MOST_LAYERS]; /* from the lowest */
    size_t layer_count;
    dt_custom_value values[DT_CUSTOM_COUNT];
    dt_table_value tables[DT_TABLE_COUNT];
    const char *column_sources[DT_COLUMN_COUNT];
};

/** Element, attribute, form and words of a value, a table or a column; static storage. */
const dt_custom_row *dt_custom_about(dt_custom custom);
const dt_table_row *dt_table_about(dt_custom_table table);
const dt_column_row *dt_column_about(dt_custom_column column);

/** The value that stands for an attribute; DT_CUSTOM_COUNT when none does. */
dt_custom dt_custom_find(const char *element, const char *attribute);

/** The basis that is compiled in; static storage. */
const dt_basis *dt_basis_built_in(void);

/**
 * Names of shipped bases, separated by blanks, become layers; dt_basis_shipped() knows one name.
 * @param[out] layers  static storage; room for DT_BASIS_MOST_LAYERS.
 * @param[out] unknown receives the first name that none has, cut to its size; "" when all are
 * known.
 * @return how many layers there are; more than DT_BASIS_MOST_LAYERS when they are too many.
 */
size_t dt_basis_list(const char *names, const dt_basis **layers, char unknown[64]);

/** What a well stands on: its own basis, or the built-in one (also for NULL). */
const dt_basis *dt_basis_of(const dt_well *well);

/** dt_well_start() for a well that stands on another basis than the built-in one; borrowed. */
void dt_well_start_on(dt_well *well, const dt_basis *basis);

/** The value of a well's basis in SI: a number, or a quantity of the custom's kind. */
double dt_custom_value_of(const dt_well *well, dt_custom custom);

/** What the well states, or where that is NAN the value of its basis. */
double dt_custom_or(const dt_well *well, double stated, dt_custom custom);

/** A margin of the well's basis. */
dt_margin dt_custom_margin(const dt_well *well, dt_custom custom);

/** A word of the well's basis, as its place among the choices: a value of the enumeration. */
int dt_custom_word(const dt_well *well, dt_custom custom);

/** As the well's basis spells the value, "500 ft"; for a name the name. Owned by the basis. */
const char *dt_custom_text(const dt_well *well, dt_custom custom);

/** Where a value of the well's basis comes from, and the file that says it: of a column of rows,
 * too, counted from DT_CUSTOM_COUNT. Owned by the basis. */
void dt_custom_origin(const dt_well *well, int value, const char **file, const char **source);

/** Where the value of the well's basis comes from. Owned by the basis. */
const char *dt_custom_source(const dt_well *well, dt_custom custom);

/** Rows of a table of the well's basis, of the type that customs.def names; *count receives how
 * many. Owned by the basis. */
const void *dt_custom_rows(const dt_well *well, dt_custom_table table, size_t *count);

/** Hears of one thing wrong with a basis file. `where` is as in "design/@burst". */
typedef void (*dt_basis_problem)(void *context, int line, const char *where, const char *problem);

struct _xmlNode;

/**
 * Reads a basis from the root of its tree. Everything wrong is told, not the first alone.
 *
 * @param[in]  root     element <basis>, from a parser that the file could be trusted to.
 * @param[in]  under    what holds where the file says nothing; NULL: it must say all.
 * @param[in]  problem  called for each thing wrong, with `context`.
 * @param[out] out      freed by dt_basis_free(); set only on DT_OK.
 * @return DT_OK; DT_E_INPUT when a problem was told; DT_E_MEMORY.
 */
dt_status dt_basis_read(const struct _xmlNode *root, const dt_basis *under,
                        dt_basis_problem problem, void *context, dt_basis **out);

/**
 * What one file states and nothing else: a layer, for dt_basis_stack(). As dt_basis_read().
 */
dt_status dt_basis_read_layer(const struct _xmlNode *root, dt_basis_problem problem, void *context,
                              dt_basis **out);

/**
 * A layer over a whole basis: what it states goes before what is under it. A table goes as a whole.
 * @param[out] out  owns all of it, freed by dt_basis_free().
 * @return DT_OK; DT_E_DOMAIN when there are too many layers; DT_E_MEMORY.
 */
dt_status dt_basis_stack(const dt_basis *under, const dt_basis *layer, dt_basis **out);

/** What the values of a whole basis mean together (tables that would never be met, limits that
 * cross). Lines are those of the layer that states the value. */
void dt_basis_examine(const dt_basis *basis, dt_basis_problem problem, void *context);

/**
 * Holds a basis file against the schema, reads it and checks its values as those of a well file are
 * checked; findings go to the report.
 * @param[out] out  a layer; dt_basis_free(). DT_OK, DT_E_INPUT or DT_E_MEMORY.
 */
dt_status dt_basis_open(const char *text, size_t size, dt_report *report, dt_basis **out);

/** Frees a basis of dt_basis_read() or dt_basis_stack(), never a compiled one; NULL is allowed. */
void dt_basis_free(dt_basis *basis);

#endif
