/* SPDX-License-Identifier: MIT */
/* rate and start: the commands that read no well. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli.h"
#include "drawtube/units.h"

#define SAME_DIAMETER_M (0.0005 * DT_M_PER_IN)

int cli_start(const cli_options *options)
{
    const char *starter = dt_well_starter(options->metric);
    if (fputs(starter, stdout) >= 0 && fflush(stdout) == 0) return EXIT_DONE;
    return cli_fail(DT_E_IO);
}

/** "9-5/8" or "5/8" of an inch; false when the text is not of that form. */
static bool read_fraction(const char *text, double *metres)
{
    unsigned whole = 0, top = 0, bottom = 0;
    char rest = 0;
    if (sscanf(text, "%3u-%3u/%3u%c", &whole, &top, &bottom, &rest) != 3) {
        whole = 0;
        if (sscanf(text, "%3u/%3u%c", &top, &bottom, &rest) != 2) return false;
    }
    if (bottom == 0 || top >= bottom) return false;
    *metres = (whole + (double)top / bottom) * DT_M_PER_IN;
    return true;
}

/** A quantity of the command line: with its unit, or bare in the field unit of the option. */
static bool read_quantity(const char *option, const char *text, dt_kind kind, double bare_factor,
                          double *si)
{
    double bare = 0;
    if (kind == DT_KIND_DIAMETER && read_fraction(text, si)) return true;
    if (dt_quantity_parse(text, kind, si) == DT_PARSE_OK && *si > 0) return true;
    if (dt_number_parse(text, &bare) == DT_PARSE_OK && bare > 0) {
        *si = bare * bare_factor;
        return true;
    }
    fprintf(stderr,
            "drawtube: --%s \"%s\" is not a positive quantity; write a number and one of %s\n",
            option, text, dt_unit_choices(kind));
    return false;
}

/** Says which pipes of that OD there are, so that the next try can succeed. */
static int say_not_found(const dt_catalogue *catalogue, double od_m, const cli_options *options)
{
    fprintf(stderr, "drawtube: no pipe of OD %s, weight %s, grade %s in the catalogue", options->od,
            options->weight, options->grade);
    double last = -1;
    bool any = false;
    for (size_t i = 0; i < catalogue->pipe_count; ++i) {
        const dt_pipe *pipe = &catalogue->pipes[i];
        if (fabs(pipe->od_m - od_m) > SAME_DIAMETER_M) continue;
        if (pipe->weight_kgm != last)
            fprintf(stderr, "%s\n  %.2f lb/ft:", any ? "" : "; of that OD there are",
                    pipe->weight_kgm / DT_KGM_PER_LBFT);
        fprintf(stderr, " %s", pipe->grade->name);
        last = pipe->weight_kgm;
        any = true;
    }
    fprintf(stderr, "\n");
    return EXIT_REFUSED;
}

static int print_rating(const cli_options *options, const dt_catalogue *catalogue,
                        const dt_pipe *pipe)
{
    dt_rating rating;
    dt_text text = {0};
    dt_status status = dt_rate(catalogue, pipe, &rating);
    if (status == DT_OK)
        status = options->json ? dt_write_rating_json(pipe, &rating, &text)
                               : dt_write_rating_table(pipe, &rating, &text);
    if (status != DT_OK) return cli_fail(status);
    int code = cli_print(&text);
    dt_text_free(&text);
    return code;
}

int cli_rate(const cli_options *options)
{
    if (!options->od || !options->weight || !options->grade) {
        fprintf(stderr, "drawtube: rate needs --od, --weight and --grade\n");
        return EXIT_USAGE;
    }
    double od = 0, weight = 0;
    if (!read_quantity("od", options->od, DT_KIND_DIAMETER, DT_M_PER_IN, &od) ||
        !read_quantity("weight", options->weight, DT_KIND_LINEAR_MASS, DT_KGM_PER_LBFT, &weight))
        return EXIT_USAGE;
    dt_catalogue catalogue = {0};
    int code = cli_load_catalogue(options, &catalogue);
    if (code != EXIT_DONE) return code;
    const dt_pipe *pipe = dt_pipe_find(&catalogue, od, weight, options->grade);
    code = pipe ? print_rating(options, &catalogue, pipe) : say_not_found(&catalogue, od, options);
    dt_catalogue_free(&catalogue);
    return code;
}
