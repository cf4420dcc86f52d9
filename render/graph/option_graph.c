/* SPDX-License-Identifier: MIT */
#include <graphviz/gvc.h>
#include <libxml/parser.h>
#include <libxml/tree.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "child.h"
#include "graph.h"
#include "palette.h"
#include "same.h"
#include "wording.h"

#define DT_WIDEST_MM  180.0 /* of the finished drawing: an A4 page with margins */
#define DT_HIGHEST_MM 240.0 /* the same, with a heading above it and a caption below */
#define DT_MM_PER_PT  (25.4 / 72)

/** How many nodes stand beside the chosen one in each rank, and how far apart ranks are, inches. */
typedef struct spread {
    size_t alternatives;
    const char *ranksep;
    bool flat; /* what a node says stands in one line */
} spread;

/** Tried in this order until the drawing fits on a page in type of 8 pt. */
static const spread spreads[] = {{6, "0.42", false}, {6, "0.28", false}, {5, "0.28", false},
                                 {4, "0.24", false}, {3, "0.2", false},  {2, "0.2", false},
                                 {1, "0.16", false}, {0, "0.12", false}, {2, "0.12", true},
                                 {1, "0.1", true},   {0, "0.04", true}};

/** Which nodes of the nest are drawn. */
typedef struct choice {
    const dt_program *program;
    dt_display display;
    bool *hole_shown, *pipe_shown;
    size_t holes, pipes; /* shown */
    const spread *spread;
} choice;

static bool hole_chosen(const choice *c, size_t hole)
{
    size_t string = c->program->nest.holes[hole].string;
    return c->program->strings.items[string].nest_hole == hole;
}

static bool pipe_chosen(const choice *c, size_t pipe)
{
    size_t string = c->program->nest.pipes[pipe].string;
    return c->program->strings.items[string].nest_pipe == pipe;
}

/* ---- what to show ---- */

/** Marks the nodes that an edge joins to the chosen path: candidates for showing. */
static void mark_neighbours(choice *c)
{
    const dt_nest *nest = &c->program->nest;
    for (size_t i = 0; i < nest->fit_count; ++i) {
        size_t hole = nest->fits[i].hole, pipe = nest->fits[i].pipe;
        if (hole_chosen(c, hole)) c->pipe_shown[pipe] = true;
        if (pipe_chosen(c, pipe)) c->hole_shown[hole] = true;
    }
    for (size_t i = 0; i < nest->pass_count; ++i) {
        size_t hole = nest->passes[i].hole, pipe = nest->passes[i].pipe;
        if (hole_chosen(c, hole)) c->pipe_shown[pipe] = true;
        if (pipe_chosen(c, pipe)) c->hole_shown[hole] = true;
    }
}

static double node_size(const choice *c, bool is_pipe, size_t index)
{
    return is_pipe ? c->program->nest.pipes[index].od_m : c->program->nest.holes[index].diameter_m;
}

static size_t node_string(const choice *c, bool is_pipe, size_t index)
{
    return is_pipe ? c->program->nest.pipes[index].string : c->program->nest.holes[index].string;
}

/** Drops the candidate farthest in size from the chosen one, until few enough are left. */
static void thin_rank(choice *c, bool is_pipe, size_t string)
{
    const dt_string *chosen = &c->program->strings.items[string];
    size_t centre = is_pipe ? chosen->nest_pipe : chosen->nest_hole;
    size_t total = is_pipe ? c->program->nest.pipe_count : c->program->nest.hole_count;
    bool *shown = is_pipe ? c->pipe_shown : c->hole_shown;
    for (;;) {
        size_t count = 0, farthest = centre;
        double most = -1;
        for (size_t i = 0; i < total; ++i) {
            if (!shown[i] || i == centre || node_string(c, is_pipe, i) != string) continue;
            double off = fabs(node_size(c, is_pipe, i) - node_size(c, is_pipe, centre));
            ++count;
            if (off > most) {
                most = off;
                farthest = i;
            }
        }
        if (count <= c->spread->alternatives) return;
        shown[farthest] = false;
    }
}

static void choice_free(choice *c)
{
    free(c->hole_shown);
    free(c->pipe_shown);
    c->hole_shown = c->pipe_shown = NULL;
}

static dt_status choice_make(choice *c)
{
    const dt_nest *nest = &c->program->nest;
    c->holes = c->pipes = 0;
    c->hole_shown = calloc(nest->hole_count + 1, sizeof *c->hole_shown);
    c->pipe_shown = calloc(nest->pipe_count + 1, sizeof *c->pipe_shown);
    if (!c->hole_shown || !c->pipe_shown) return DT_E_MEMORY;
    for (size_t k = 0; k < c->program->strings.count; ++k) {
        c->hole_shown[c->program->strings.items[k].nest_hole] = true;
        c->pipe_shown[c->program->strings.items[k].nest_pipe] = true;
    }
    mark_neighbours(c);
    for (size_t k = 0; k < c->program->strings.count; ++k) {
        thin_rank(c, false, k);
        thin_rank(c, true, k);
    }
    for (size_t i = 0; i < nest->hole_count; ++i)
        c->holes += c->hole_shown[i];
    for (size_t i = 0; i < nest->pipe_count; ++i)
        c->pipes += c->pipe_shown[i];
    return DT_OK;
}

/* ---- the graph; built and laid out in the child process only ---- */

/** The library takes its strings without const and does not write to them. */
static char *loose(const char *text)
{
    return (char *)(uintptr_t)text;
}

static void set(void *object, const char *name, const char *value)
{
    agsafeset(object, loose(name), loose(value), loose(""));
}

static void set_label(void *object, dt_buffer *text)
{
    if (!text->failed && text->size) set(object, "label", text->bytes);
    dt_buffer_free(text);
}

static Agnode_t *node_of(Agraph_t *graph, bool is_pipe, size_t index)
{
    char name[DT_NUMBER_SIZE + 1];
    name[0] = is_pipe ? 'p' : 'h';
    dt_number_text((double)index, 0, name + 1);
    return agnode(graph, name, 1);
}

static void style_node(Agnode_t *node, bool chosen, bool unusual)
{
    set(node, "shape", "box");
    set(node, "fontname", chosen ? "Liberation Sans Bold" : "Liberation Sans");
    set(node, "fontcolor", DT_TEXT);
    set(node, "color", chosen ? DT_LINE : DT_LINE_QUIET);
    set(node, "penwidth", chosen ? "2.6" : "0.9");
    if (chosen) set(node, "group", "chosen"); /* keeps the path straight */
    set(node, "style", unusual ? "filled,dashed" : "filled");
    set(node, "fillcolor", chosen ? DT_CHOSEN : DT_PAPER);
}

/** Begins the next line of a node, or goes on in the one there is. */
static void next_line(const choice *c, dt_buffer *text, const char *words)
{
    dt_buffer_text(text, c->spread->flat ? ", " : "\\n");
    dt_buffer_text(text, words);
}

/** "12-1/4 in hole", and in metric the size in mm on a line of its own. */
static void say_node(const choice *c, dt_buffer *text, double size_m, const char *what)
{
    dt_say_size(text, DT_DISPLAY_FIELD, size_m);
    dt_buffer_text(text, what);
    if (c->display != DT_DISPLAY_METRIC) return;
    next_line(c, text, "");
    dt_buffer_number(text, size_m * 1000, 1);
    dt_buffer_text(text, " mm");
}

/** A driven or jetted conductor stands in the nest with a hole of its own size: not a hole. */
static bool is_hole(const choice *c, const dt_nest_hole *hole)
{
    return hole->string > 0 || c->program->well->conductor.method == DT_CONDUCTOR_DRILLED;
}

static void add_hole(const choice *c, Agraph_t *rank, size_t index)
{
    const dt_nest_hole *hole = &c->program->nest.holes[index];
    Agnode_t *node = node_of(rank, false, index);
    bool chosen = hole_chosen(c, index);
    dt_buffer text = {0};
    if (is_hole(c, hole))
        say_node(c, &text, hole->diameter_m, " hole");
    else
        dt_say_hole(&text, c->program, c->display, hole->string);
    if (hole->opened) {
        next_line(c, &text, "opened from ");
        dt_say_size(&text, DT_DISPLAY_FIELD, hole->bit_m);
    }
    if (hole->commonness == DT_BIT_LESS_COMMON) next_line(c, &text, "less common bit");
    if (hole->commonness == DT_BIT_OPENER) next_line(c, &text, "hole opener");
    if (hole->hanger) { /* a hole stands once for each hanger */
        next_line(c, &text, "hanger of line ");
        dt_buffer_number(&text, hole->hanger->line, 0);
    }
    if (chosen) next_line(c, &text, "chosen");
    style_node(node, chosen, hole->opened || hole->commonness != DT_BIT_STANDARD);
    set_label(node, &text);
}

static void add_pipe(const choice *c, Agraph_t *rank, size_t index)
{
    const dt_nest_pipe *pipe = &c->program->nest.pipes[index];
    Agnode_t *node = node_of(rank, true, index);
    bool chosen = pipe_chosen(c, index);
    dt_buffer text = {0};
    say_node(c, &text, pipe->od_m, " pipe");
    /* welded and coupled pipe of one size are two nodes */
    if (pipe->coupling_od_m < pipe->od_m + SAME_DIAMETER_M) next_line(c, &text, "plain end");
    if (chosen) next_line(c, &text, "chosen");
    style_node(node, chosen, false);
    set(node, "style", "filled,rounded");
    set_label(node, &text);
}

/** Lines up a rank by size, left to right, with edges nobody sees. */
static void order_rank(const choice *c, Agraph_t *rank, bool is_pipe, size_t string,
                       Agnode_t *first)
{
    size_t total = is_pipe ? c->program->nest.pipe_count : c->program->nest.hole_count;
    const bool *shown = is_pipe ? c->pipe_shown : c->hole_shown;
    double after = -1;
    size_t after_index = 0;
    for (Agnode_t *previous = first;;) {
        size_t next = total;
        for (size_t i = 0; i < total; ++i) {
            double size = node_size(c, is_pipe, i);
            if (!shown[i] || node_string(c, is_pipe, i) != string) continue;
            bool later = size > after || (size >= after && i > after_index);
            if (later && (next == total || size < node_size(c, is_pipe, next))) next = i;
        }
        if (next == total) return;
        Agnode_t *node = node_of(rank, is_pipe, next);
        if (previous) set(agedge(rank, previous, node, NULL, 1), "style", "invis");
        previous = node;
        after = node_size(c, is_pipe, next);
        after_index = next;
    }
}

static void add_string(const choice *c, Agraph_t *graph, size_t string)
{
    const dt_nest *nest = &c->program->nest;
    Agraph_t *holes = agsubg(graph, NULL, 1), *pipes = agsubg(graph, NULL, 1);
    set(holes, "rank", "same");
    set(pipes, "rank", "same");
    for (size_t i = 0; i < nest->hole_count; ++i)
        if (c->hole_shown[i] && nest->holes[i].string == string) add_hole(c, holes, i);
    for (size_t i = 0; i < nest->pipe_count; ++i)
        if (c->pipe_shown[i] && nest->pipes[i].string == string) add_pipe(c, pipes, i);
    char name[DT_NUMBER_SIZE + 1] = "s";
    dt_number_text((double)string, 0, name + 1);
    Agnode_t *head = agnode(holes, name, 1);
    dt_buffer text = {0};
    dt_say_string(&text, c->program, string);
    set(head, "shape", "plaintext");
    set(head, "fontname", "Liberation Sans Bold");
    set(head, "fontcolor", DT_TEXT_BLUE);
    set_label(head, &text);
    order_rank(c, holes, false, string, head);
    order_rank(c, pipes, true, string, NULL);
}

static Agedge_t *add_edge(Agraph_t *graph, Agnode_t *from, Agnode_t *to, bool chosen)
{
    Agedge_t *edge = agedge(graph, from, to, NULL, 1);
    set(edge, "color", chosen ? DT_LINE : DT_LINE_QUIET);
    set(edge, "penwidth", chosen ? "2.6" : "0.8");
    set(edge, "fontname", chosen ? "Liberation Sans Bold" : "Liberation Sans");
    set(edge, "fontcolor", chosen ? DT_TEXT : DT_TEXT_QUIET);
    set(edge, "fontsize", chosen ? "9" : "8.1");
    set(edge, "weight", chosen ? "40" : "1");
    return edge;
}

static void say_gap(dt_buffer *text, dt_display display, double length_m)
{
    bool metric = display == DT_DISPLAY_METRIC;
    dt_buffer_number(text, metric ? length_m * 1000 : length_m / DT_M_PER_IN, metric ? 1 : 3);
    dt_buffer_text(text, metric ? " mm" : " in");
}

static void add_fits(const choice *c, Agraph_t *graph)
{
    const dt_nest *nest = &c->program->nest;
    for (size_t i = 0; i < nest->fit_count; ++i) {
        const dt_nest_fit *fit = &nest->fits[i];
        bool from = hole_chosen(c, fit->hole), to = pipe_chosen(c, fit->pipe);
        if (!c->hole_shown[fit->hole] || !c->pipe_shown[fit->pipe] || !(from || to)) continue;
        Agedge_t *edge = add_edge(graph, node_of(graph, false, fit->hole),
                                  node_of(graph, true, fit->pipe), from && to);
        if (!is_hole(c, &nest->holes[fit->hole])) continue;
        dt_buffer text = {0};
        if (from && to)
            dt_buffer_text(&text, "\xC2\xA0"
                                  "clearance ");
        say_gap(&text, c->display, fit->radial_clearance_m);
        set_label(edge, &text);
    }
}

/** Drift of the chosen pipe of a string: its narrowest length. */
static double chosen_drift(const choice *c, size_t string)
{
    const dt_string *chosen = &c->program->strings.items[string];
    double drift_m = INFINITY;
    for (size_t i = 0; i < chosen->section_count; ++i)
        drift_m = fmin(drift_m, dt_nest_drift(c->program->well, chosen->sections[i].pipe));
    return drift_m;
}

static void add_passes(const choice *c, Agraph_t *graph)
{
    const dt_nest *nest = &c->program->nest;
    for (size_t i = 0; i < nest->pass_count; ++i) {
        const dt_nest_pass *pass = &nest->passes[i];
        bool from = pipe_chosen(c, pass->pipe), to = hole_chosen(c, pass->hole);
        if (!c->pipe_shown[pass->pipe] || !c->hole_shown[pass->hole] || !(from || to)) continue;
        Agedge_t *edge = add_edge(graph, node_of(graph, true, pass->pipe),
                                  node_of(graph, false, pass->hole), from && to);
        double left_m =
            from ? chosen_drift(c, nest->pipes[pass->pipe].string) - pass->need_drift_m : -1;
        if (!isfinite(left_m) || left_m < -1e-6) continue; /* another weight would be needed */
        dt_buffer text = {0};
        if (to)
            dt_buffer_text(&text, "\xC2\xA0"
                                  "drift left ");
        say_gap(&text, c->display, left_m);
        set_label(edge, &text);
    }
}

static void say_caption(const choice *c, dt_buffer *text)
{
    const dt_nest *nest = &c->program->nest;
    dt_buffer_text(
        text,
        "Holes and pipes that telescope, surface at the top. Heavy and filled: "
        "chosen.\\lNumbers: radial clearance of the coupling in the hole, and "
        "drift the bit leaves.\\lDashed: opened hole, hole opener or less common bit.\\lShown: ");
    dt_buffer_number(text, (double)c->holes, 0);
    dt_buffer_text(text, " of ");
    dt_buffer_number(text, (double)nest->hole_count, 0);
    dt_buffer_text(text, " holes and ");
    dt_buffer_number(text, (double)c->pipes, 0);
    dt_buffer_text(text, " of ");
    dt_buffer_number(text, (double)nest->pipe_count, 0);
    dt_buffer_text(text, " pipes, those next to the chosen path and nearest to it in size; ");
    dt_buffer_number(text, (double)(nest->hole_count + nest->pipe_count - c->holes - c->pipes), 0);
    dt_buffer_text(text, " are not shown.\\l");
}

/** The well's name as the layout engine takes it: without escapes and entities of its own. */
static void say_name(const char *name, dt_buffer *text)
{
    char *clean = NULL;
    if (dt_text_clean(name, &clean) != DT_OK) {
        text->failed = true;
        return;
    }
    for (const char *at = clean; *at; ++at) {
        if (*at == '\\') dt_buffer_text(text, "\\");
        if (*at == '&')
            dt_buffer_text(text, "&amp;");
        else
            dt_buffer_bytes(text, at, 1);
    }
    dt_buffer_text(text, "\\l");
    free(clean);
}

static Agraph_t *build_graph(const choice *c)
{
    Agraph_t *graph = agopen(loose("options"), Agstrictdirected, NULL);
    if (!graph) return NULL;
    const char *const node_defaults[][2] = {{"fontsize", "10"},
                                            {"margin", c->spread->flat ? "0.09,0.02" : "0.09,0.05"},
                                            {"height", c->spread->flat ? "0.22" : "0.3"},
                                            {"width", "0.9"}};
    for (size_t i = 0; i < COUNT_OF(node_defaults); ++i)
        agattr(graph, AGNODE, loose(node_defaults[i][0]), loose(node_defaults[i][1]));
    agattr(graph, AGEDGE, loose("arrowsize"), loose("0.6"));
    set(graph, "rankdir", "TB");
    set(graph, "nodesep", "0.16");
    set(graph, "ranksep", c->spread->ranksep);
    set(graph, "bgcolor", DT_PAPER);
    set(graph, "pad", "0.1");
    set(graph, "fontname", "Liberation Sans");
    set(graph, "fontsize", "9");
    set(graph, "fontcolor", DT_TEXT);
    set(graph, "labelloc", "b");
    set(graph, "labeljust", "l");
    for (size_t k = 0; k < c->program->strings.count; ++k)
        add_string(c, graph, k);
    add_fits(c, graph);
    add_passes(c, graph);
    dt_buffer text = {0};
    say_name(c->program->well->name, &text);
    say_caption(c, &text);
    set_label(graph, &text);
    return graph;
}

/** In a child: the layout engine leaks, is not thread-safe and may crash. */
static int lay_out(const void *context, int out)
{
    Agraph_t *graph = build_graph(context);
    GVC_t *engine = graph ? gvContext() : NULL;
    char *svg = NULL;
    unsigned size = 0;
    if (!engine || gvLayout(engine, graph, "dot") ||
        gvRenderData(engine, graph, "svg", &svg, &size))
        return 1;
    return dt_child_write(out, svg, size) ? 0 : 1;
}

/* ---- the engine's SVG into our profile ---- */

static bool set_prop(xmlNodePtr node, const char *name, const char *value)
{
    return xmlSetProp(node, BAD_CAST name, BAD_CAST value) != NULL;
}

/** Drops comments, puts our font stack in, and makes ids fit to stand beside other drawings. */
static bool tidy(xmlNodePtr node)
{
    bool good = true;
    for (xmlNodePtr next, child = node->children; child && good; child = next) {
        next = child->next;
        if (child->type == XML_COMMENT_NODE) {
            xmlUnlinkNode(child);
            xmlFreeNode(child);
        } else if (child->type == XML_ELEMENT_NODE) {
            good = tidy(child);
        }
    }
    xmlChar *font = xmlGetProp(node, BAD_CAST "font-family");
    if (font) {
        if (xmlStrstr(font, BAD_CAST "Bold")) good &= set_prop(node, "font-weight", "bold");
        good &= set_prop(node, "font-family", DT_FONT_STACK);
        xmlFree(font);
    }
    xmlChar *stroke = xmlGetProp(node, BAD_CAST "stroke");
    if (stroke && xmlStrEqual(stroke, BAD_CAST "transparent"))
        good &= set_prop(node, "stroke", "none");
    xmlFree(stroke);
    xmlChar *id = xmlGetProp(node, BAD_CAST "id");
    if (id) {
        dt_buffer text = {0};
        dt_buffer_text(&text, "options-");
        dt_buffer_text(&text, (const char *)id);
        good &= !text.failed && set_prop(node, "id", text.bytes);
        dt_buffer_free(&text);
        xmlFree(id);
    }
    return good;
}

/** Size in mm, narrowed to a page where the layout came out wider. */
static bool set_size(xmlNodePtr root)
{
    xmlChar *width = xmlGetProp(root, BAD_CAST "width");
    xmlChar *height = xmlGetProp(root, BAD_CAST "height");
    bool good = width && height;
    if (good) {
        double w = strtod((const char *)width, NULL) * DT_MM_PER_PT;
        double h = strtod((const char *)height, NULL) * DT_MM_PER_PT;
        double shrink = w > DT_WIDEST_MM ? DT_WIDEST_MM / w : 1;
        dt_buffer text = {0};
        dt_buffer_number(&text, w * shrink, 2);
        dt_buffer_text(&text, "mm");
        good = !text.failed && set_prop(root, "width", text.bytes);
        text.size = 0;
        dt_buffer_number(&text, h * shrink, 2);
        dt_buffer_text(&text, "mm");
        good = good && !text.failed && set_prop(root, "height", text.bytes);
        dt_buffer_free(&text);
    }
    xmlFree(width);
    xmlFree(height);
    return good;
}

/** Puts an element with an id and a text in front of everything else. */
static bool put_first(xmlNodePtr root, const char *element, const char *id, const char *text)
{
    char *clean;
    if (dt_text_clean(text, &clean) != DT_OK) return false;
    xmlNodePtr node = xmlNewDocNode(root->doc, root->ns, BAD_CAST element, NULL);
    xmlNodePtr words = xmlNewDocText(root->doc, BAD_CAST clean);
    free(clean);
    if (!node || !words) {
        xmlFreeNode(node);
        xmlFreeNode(words);
        return false;
    }
    xmlAddChild(node, words);
    if (root->children)
        xmlAddPrevSibling(root->children, node);
    else
        xmlAddChild(root, node);
    return set_prop(node, "id", id);
}

static dt_status dress(const dt_program *program, const dt_buffer *raw, dt_text *out)
{
    xmlDocPtr doc = xmlReadMemory(raw->bytes, (int)raw->size, NULL, NULL,
                                  XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING);
    xmlNodePtr root = doc ? xmlDocGetRootElement(doc) : NULL;
    if (!root) {
        xmlFreeDoc(doc);
        return DT_E_IO;
    }
    dt_buffer title = {0}, bytes = {0};
    dt_buffer_text(&title, "Holes and pipes that telescope in ");
    dt_buffer_text(&title, program->well->name);
    bool good = !title.failed && tidy(root) && set_size(root) && set_prop(root, "role", "img") &&
                set_prop(root, "aria-labelledby", "options-title options-desc") &&
                put_first(root, "desc", "options-desc",
                          "Graph of hole and pipe sizes from the conductor down. The chosen path "
                          "is heavy, filled and marked chosen.") &&
                put_first(root, "title", "options-title", title.bytes);
    xmlBufferPtr dump = good ? xmlBufferCreate() : NULL;
    if (dump && xmlNodeDump(dump, doc, root, 0, 0) > 0) {
        dt_buffer_bytes(&bytes, (const char *)xmlBufferContent(dump),
                        (size_t)xmlBufferLength(dump));
        dt_buffer_text(&bytes, "\n");
    }
    bool dumped = dump && bytes.size > 1;
    xmlBufferFree(dump);
    xmlFreeDoc(doc);
    dt_buffer_free(&title);
    if (dumped) return dt_buffer_take(&bytes, out);
    dt_buffer_free(&bytes);
    return DT_E_MEMORY;
}

/** A length of the engine's own root element, mm; 0 without one. */
static double raw_mm(const dt_buffer *raw, const char *name)
{
    const char *root = raw->bytes ? strstr(raw->bytes, "<svg ") : NULL;
    const char *at = root ? strstr(root, name) : NULL;
    return at ? strtod(at + strlen(name), NULL) * DT_MM_PER_PT : 0;
}

static bool fits(const dt_buffer *raw)
{
    const double width = raw_mm(raw, "width=\""), height = raw_mm(raw, "height=\"");
    return width > 0 && width <= DT_WIDEST_MM && height <= DT_HIGHEST_MM;
}

dt_status dt_draw_options(const dt_program *program, dt_display display, dt_text *out)
{
    dt_buffer raw = {0};
    dt_status status = DT_OK;
    for (size_t i = 0; i < COUNT_OF(spreads) && status == DT_OK && !fits(&raw); ++i) {
        choice c = {.program = program, .display = display, .spread = &spreads[i]};
        dt_buffer_free(&raw);
        status = choice_make(&c);
        if (status == DT_OK) status = dt_child_run(lay_out, &c, &raw);
        if (status == DT_OK && raw.size == 0) status = DT_E_IO;
        choice_free(&c);
    }
    if (status == DT_OK) status = dress(program, &raw, out);
    dt_buffer_free(&raw);
    return status;
}
