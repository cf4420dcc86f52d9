/* SPDX-License-Identifier: MIT */
/* page: wells and the whole planner as one HTML file: docs/live-page.md. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli.h"

#if defined(DT_HAVE_PAGE)

/* The page without its wells, up to where they stand and from there (render/page/compose.sh). */
extern const char dt_embedded_page_head[];
extern const size_t dt_embedded_page_head_size;
extern const char dt_embedded_page_tail[];
extern const size_t dt_embedded_page_tail_size;

static void put_base64(FILE *out, const char *bytes, size_t size)
{
    static const char digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    for (size_t i = 0; i < size; i += 3) {
        unsigned long group = 0;
        for (size_t k = 0; k < 3; ++k)
            group = group << 8 | (i + k < size ? (unsigned char)bytes[i + k] : 0u);
        for (size_t k = 0; k < 4; ++k)
            fputc(i + k > size ? '=' : digits[group >> (18 - 6 * k) & 63], out);
    }
}

/** A JSON string in which nothing can end the element it stands in. Names are shown, not obeyed. */
static void put_name(FILE *out, const char *path)
{
    const cli_words shown = cli_shown(path);
    fputc('"', out);
    for (const char *c = shown.text; *c; ++c)
        if (strchr("\"\\<>&", *c) || (unsigned char)*c < 32)
            fprintf(out, "\\u%04x", (unsigned)*c);
        else
            fputc(*c, out);
    fputc('"', out);
}

/** The name without its folders: those of this machine are nobody's business. */
static const char *file_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

/** A basis that is stacked over what the wells name: a file goes along, one of ours is named. */
static int put_basis(FILE *out, const char *word)
{
    char *text = NULL;
    size_t size = 0;
    const int code = cli_basis_text(word, &text, &size);
    if (code != EXIT_DONE) return code;
    fputs("{\"name\":", out);
    put_name(out, text ? file_name(word) : word);
    if (text) {
        fputs(",\"text\":\"", out);
        put_base64(out, text, size);
        fputc('"', out);
    }
    fputc('}', out);
    free(text);
    return EXIT_DONE;
}

/** The units a well is written in; a page takes in files that cannot be read, too, and shows why.
 */
static void take_units(const char *text, size_t size, dt_display *display)
{
    dt_report *report = NULL;
    dt_well *well = NULL;
    if (dt_report_open("", &report) == DT_OK && dt_well_parse(text, size, report, &well) == DT_OK)
        *display = dt_well_display(well);
    dt_well_free(well);
    dt_report_close(report);
}

/** The name of a file, and after it what stands in it. */
static void put_file(FILE *out, const char *path, const char *text, size_t size)
{
    put_name(out, file_name(path));
    fputs(",\"text\":\"", out);
    put_base64(out, text, size);
    fputs("\"}", out);
}

/** display: NULL, or where the units of the well go. */
static int put_well(FILE *out, const char *path, dt_display *display)
{
    char *text = NULL;
    size_t size = 0;
    const int code = cli_read(path, DT_WELL_MAX_BYTES, &text, &size);
    if (code != EXIT_DONE) return code;
    if (display) take_units(text, size, display);
    fputs("{\"file\":", out);
    put_file(out, path, text, size);
    free(text);
    return EXIT_DONE;
}

/** A file that changes the catalogue: kind is the option's name. count: how many stand before it.
 */
static int put_list(FILE *out, const char *kind, const char *path, int *count)
{
    if (!path) return EXIT_DONE;
    char *text = NULL;
    size_t size = 0;
    const int code = cli_read(path, DT_CATALOGUE_MAX_BYTES, &text, &size);
    if (code != EXIT_DONE) return code;
    fprintf(out, "%s{\"kind\":\"%s\",\"name\":", (*count)++ ? "," : "", kind);
    put_file(out, path, text, size);
    free(text);
    return EXIT_DONE;
}

/** The pipe, bits and stock of --pipe, --bits and --stock, in the order in which they apply. They
 * are refused here as plan refuses them: the page would have nobody to ask. */
static int put_catalogue(FILE *out, const cli_options *options)
{
    dt_catalogue *tried = NULL;
    int code = cli_load_catalogue(options, &tried);
    dt_catalogue_close(tried);
    int count = 0;
    fputs("\"catalogue\":[", out);
    if (code == EXIT_DONE) code = put_list(out, "pipe", options->pipe_file, &count);
    if (code == EXIT_DONE) code = put_list(out, "bits", options->bits_file, &count);
    if (code == EXIT_DONE) code = put_list(out, "stock", options->stock_file, &count);
    fputs("],", out);
    return code;
}

static int put_page(FILE *out, const cli_options *options)
{
    fwrite(dt_embedded_page_head, 1, dt_embedded_page_head_size, out);
    fputc('{', out);
    int code = put_catalogue(out, options);
    dt_display display = options->display; /* unless --units is given, the first well's */
    fputs("\"bases\":[", out);
    for (size_t i = 0; code == EXIT_DONE && i < options->basis_count; ++i) {
        if (i > 0) fputc(',', out);
        code = put_basis(out, options->basis[i]);
    }
    fputs("],\"wells\":[", out);
    for (int i = 0; code == EXIT_DONE && i < options->input_count; ++i) {
        if (i > 0) fputc(',', out);
        code = put_well(out, options->inputs[i], i == 0 && !options->units_given ? &display : NULL);
    }
    fprintf(out, "],\"units\":%d}", (int)display); /* as the engine counts them */
    fwrite(dt_embedded_page_tail, 1, dt_embedded_page_tail_size, out);
    return code;
}

int cli_page(cli_options *options)
{
    dt_text page = {0};
    FILE *out = open_memstream(&page.bytes, &page.size);
    if (!out) return cli_fail(DT_E_MEMORY);
    int code = put_page(out, options);
    if (fclose(out) != 0 && code == EXIT_DONE) code = cli_fail(DT_E_MEMORY);
    if (code == EXIT_DONE) code = cli_write_file(options->output ? options->output : "-", &page);
    free(page.bytes);
    return code;
}

#else

int cli_page(cli_options *options)
{
    (void)options;
    fputs("drawtube: page: this drawtube was built without the live page; install Debian's clang, "
          "lld, wasi-libc, libclang-rt-14-dev-wasm32, binaryen and dpkg-dev, and build again with\n"
          "  cmake -S . -B build -DDRAWTUBE_PAGE=ON && cmake --build build -j2\n",
          stderr);
    return EXIT_USAGE;
}

#endif
