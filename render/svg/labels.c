/* SPDX-License-Identifier: MIT */
#include "labels.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "font_metrics.h"
#include "same.h"

#define DT_ELLIPSIS  "\xE2\x80\xA6"
#define DT_LABEL_GAP 3.0 /* between boxes */
#define DT_LABEL_PAD 1.5 /* between box and text */

static double advance(unsigned code_point, bool bold)
{
    if (code_point >= 0x20 && code_point <= 0x7E)
        return (bold ? dt_advance_bold : dt_advance_regular)[code_point - 0x20];
    for (size_t i = 0; i < COUNT_OF(dt_advance_ranges); ++i)
        if (code_point >= dt_advance_ranges[i].first && code_point <= dt_advance_ranges[i].last)
            return dt_advance_ranges[i].advance;
    return code_point == 0x2026 ? 1000 : DT_ADVANCE_OTHER;
}

double dt_text_width(const char *text, double size, bool bold)
{
    double sum = 0;
    while (*text) {
        unsigned code_point;
        text += dt_utf8_next(text, &code_point);
        sum += advance(code_point, bold);
    }
    return sum * size / 1000;
}

/** How many bytes of the text fit into the width and into a line, whole characters only. */
static size_t bytes_that_fit(const char *text, double width, double size, bool bold)
{
    double sum = 0;
    size_t used = 0;
    while (text[used]) {
        unsigned code_point;
        size_t length = dt_utf8_next(text + used, &code_point);
        sum += advance(code_point, bold) * size / 1000;
        if (sum > width || used + length + sizeof DT_ELLIPSIS > DT_LINE_BYTES) break;
        used += length;
    }
    return used;
}

static void line_copy(char out[DT_LINE_BYTES], const char *text, size_t count, bool cut)
{
    while (count && text[count - 1] == ' ')
        --count;
    memcpy(out, text, count);
    const char *end = cut ? DT_ELLIPSIS : "";
    memcpy(out + count, end, strlen(end) + 1);
}

void dt_text_fit(const char *text, double width, double size, bool bold, char out[DT_LINE_BYTES])
{
    size_t whole = bytes_that_fit(text, width, size, bold);
    if (!text[whole]) {
        line_copy(out, text, whole, false);
        return;
    }
    double dots = dt_text_width(DT_ELLIPSIS, size, bold);
    line_copy(out, text, bytes_that_fit(text, width - dots, size, bold), true);
}

void dt_labels_free(dt_labels *labels)
{
    free(labels->items);
    labels->items = NULL;
    labels->count = labels->capacity = 0;
}

dt_label *dt_labels_add(dt_labels *labels, double target_y, const char *color, const char *mark)
{
    if (labels->failed) return NULL;
    if (labels->count == labels->capacity) {
        size_t capacity = labels->capacity ? 2 * labels->capacity : 16;
        dt_label *grown = realloc(labels->items, capacity * sizeof *grown);
        if (!grown) {
            labels->failed = true;
            return NULL;
        }
        labels->items = grown;
        labels->capacity = capacity;
    }
    dt_label *label = &labels->items[labels->count++];
    label->target_y = target_y;
    label->order = labels->count;
    label->color = color;
    label->mark = mark;
    label->text_width = label->top = 0;
    label->line_count = 0;
    return label;
}

/** Where to break: after the last space that fits, or inside a word longer than the line. */
static size_t break_point(const char *text, size_t fit)
{
    if (!text[fit]) return fit;
    for (size_t at = fit; at > 0; --at)
        if (text[at] == ' ') return at;
    return fit;
}

void dt_label_write(const dt_labels *labels, dt_label *label, bool bold, size_t most,
                    const char *text)
{
    if (!label) return;
    double width = labels->width - 2 * DT_LABEL_PAD;
    for (size_t n = 0; n < most && *text && label->line_count < DT_LABEL_LINES; ++n) {
        dt_label_line *line = &label->lines[label->line_count++];
        bool last = n + 1 == most || label->line_count == DT_LABEL_LINES;
        line->bold = bold;
        size_t taken = break_point(text, bytes_that_fit(text, width, labels->size, bold));
        if (last || taken == 0) {
            dt_text_fit(text, width, labels->size, bold, line->text);
            n = most;
        } else {
            line_copy(line->text, text, taken, false);
        }
        label->text_width = fmax(label->text_width, dt_text_width(line->text, labels->size, bold));
        text += taken;
        while (*text == ' ')
            ++text;
    }
}

double dt_label_height(const dt_labels *labels, const dt_label *label)
{
    return (double)label->line_count * labels->size * DT_LINE_HEIGHT + 2 * DT_LABEL_PAD;
}

static int by_target(const void *a, const void *b)
{
    const dt_label *left = a, *right = b;
    if (left->target_y < right->target_y) return -1;
    if (left->target_y > right->target_y) return 1;
    return left->order < right->order ? -1 : 1;
}

/** Labels that touch move as one block; its place is the mean of what its members want. */
typedef struct place_block {
    double start, wanted_sum, height;
    size_t count;
} place_block;

static double block_start(const place_block *block, double low, double high)
{
    double start = block->wanted_sum / (double)block->count;
    return fmax(low, fmin(start, high - block->height));
}

/*
 * Least squares under order and spacing is isotonic regression once each label's wanted
 * top is shifted by the height of the labels before it in its block; pooling neighbours
 * that collide solves it exactly, in one pass.
 */
static void place_pool(dt_labels *labels, place_block *blocks, double low, double high)
{
    size_t count = 0;
    for (size_t i = 0; i < labels->count; ++i) {
        double height = dt_label_height(labels, &labels->items[i]) + DT_LABEL_GAP;
        double first = labels->size * DT_LINE_HEIGHT / 2 + DT_LABEL_PAD;
        place_block block = {0, labels->items[i].target_y - first, height, 1};
        block.start = block_start(&block, low, high);
        while (count && blocks[count - 1].start + blocks[count - 1].height > block.start) {
            const place_block *above = &blocks[--count];
            block.wanted_sum =
                above->wanted_sum + block.wanted_sum - above->height * (double)block.count;
            block.height += above->height;
            block.count += above->count;
            block.start = block_start(&block, low, high);
        }
        blocks[count++] = block;
    }
    size_t item = 0;
    for (size_t b = 0; b < count; ++b) {
        double top = blocks[b].start;
        for (size_t n = 0; n < blocks[b].count; ++n, ++item) {
            labels->items[item].top = top;
            top += dt_label_height(labels, &labels->items[item]) + DT_LABEL_GAP;
        }
    }
}

bool dt_labels_place(dt_labels *labels, double low, double high)
{
    if (labels->failed || labels->count == 0) return !labels->failed;
    double need = -DT_LABEL_GAP;
    for (size_t i = 0; i < labels->count; ++i)
        need += dt_label_height(labels, &labels->items[i]) + DT_LABEL_GAP;
    if (need > high - low) return false;
    place_block *blocks = malloc(labels->count * sizeof *blocks);
    if (!blocks) {
        labels->failed = true;
        return false;
    }
    qsort(labels->items, labels->count, sizeof *labels->items, by_target);
    place_pool(labels, blocks, low, high + DT_LABEL_GAP);
    free(blocks);
    return true;
}

void dt_labels_draw(dt_svg *svg, const dt_labels *labels, double x, dt_anchor anchor)
{
    double step = labels->size * DT_LINE_HEIGHT;
    for (size_t i = 0; i < labels->count; ++i) {
        const dt_label *label = &labels->items[i];
        double width = label->text_width + 2 * DT_LABEL_PAD;
        double left = anchor == DT_END ? x + labels->width - width : x;
        double text_x = anchor == DT_END ? left + width - DT_LABEL_PAD : left + DT_LABEL_PAD;
        dt_svg_label_open(svg, (dt_box){left, label->top, width, dt_label_height(labels, label)});
        for (size_t n = 0; n < label->line_count; ++n) {
            dt_type type = {labels->size, label->lines[n].bold,
                            label->lines[n].bold ? label->color : DT_TEXT, anchor};
            double y = label->top + DT_LABEL_PAD + ((double)n + 0.5) * step;
            dt_svg_text(svg, text_x, y, type, label->lines[n].text);
        }
        dt_svg_close(svg);
    }
}
