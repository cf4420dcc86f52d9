/* SPDX-License-Identifier: MIT */
/* rate and start: the commands that read no well. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli.h"

/* What the library holds to be one diameter, and an angle in its unit. */
#define SAME_DIAMETER_M (0.0005 * DT_M_PER_IN)
#define RAD_PER_DEG     (3.14159265358979323846 / 180)

int cli_start(cli_options *options)
{
    const char *starter = dt_well_starter(options->metric);
    if (options->basis_count > 1) {
        fprintf(stderr, "drawtube: start begins from one basis\n");
        return EXIT_USAGE;
    }
    if (options->basis_count == 1) {
        starter = dt_well_starter_on(options->basis[0], options->metric);
        if (!starter) {
            fprintf(stderr,
                    "drawtube: start --basis \"%s\": write land, shelf, deepwater or geothermal\n",
                    cli_shown(options->basis[0]).text);
            return EXIT_USAGE;
        }
    }
    fputs(starter, stdout);
    return cli_flush();
}

/** "9-5/8", "9 5/8" or "5/8", of an inch as pipe sizes are said; false for another text. */
static bool read_fraction(const char *text, double *metres)
{
    char inches[24];
    const int size = snprintf(inches, sizeof inches, "%s in", text);
    return strchr(text, '/') && size > 0 && (size_t)size < sizeof inches &&
           dt_quantity_parse(inches, DT_KIND_DIAMETER, metres) == DT_PARSE_OK;
}

/** Past it no formula is meant, and squares of the number no longer fit (from memory). */
typedef struct range {
    double least, most;
    const char *words;
} range;

static const range PIPE_SIZE = {0.0001, 60 * DT_M_PER_IN,
                                "walls begin at 0.004 in and pipes end at 60 in"};
static const range PIPE_WEIGHT = {1, 1500, "pipes weigh from 1 to 1000 lb/ft"};
static const range STRENGTH = {1, 1e10, "strengths of steel are from 20,000 to 400,000 psi"};
static const range WEAR = {0, 60 * DT_M_PER_IN, "what is worn off is from nothing to the wall"};
static const range FORCE = {-1e8, 1e8, "no pipe bears more than 22,000 klbf, pull or push"};
static const range PRESSURE = {0, 1e9, "a pressure is from 0 to 145,000 psi"};
static const range DOGLEG = {0, 10, "wells bend by less than 100 deg/100 ft"};

static bool in_range(const char *option, const char *text, range allowed, double si)
{
    if (si >= allowed.least && si <= allowed.most) return true;
    fprintf(stderr, "drawtube: --%s \"%s\" is too %s: %s\n", option, text,
            si < allowed.least ? "small" : "large", allowed.words);
    return false;
}

/** A quantity of the command line: with its unit, or bare in the field unit of the option. */
static bool read_quantity(const char *option, const char *text, dt_kind kind, double bare_factor,
                          range allowed, double *si)
{
    double bare = 0;
    if (kind == DT_KIND_DIAMETER && read_fraction(text, si))
        return in_range(option, text, allowed, *si);
    if (dt_quantity_parse(text, kind, si) == DT_PARSE_OK && *si > 0)
        return in_range(option, text, allowed, *si);
    if (dt_number_parse(text, &bare) == DT_PARSE_OK && bare > 0) {
        *si = bare * bare_factor;
        return in_range(option, text, allowed, *si);
    }
    fprintf(stderr,
            "drawtube: --%s \"%s\" is not a positive quantity; write a number, with a decimal "
            "point, and one of "
            "%s\n",
            option, text, dt_unit_choices(kind));
    return false;
}

/** Says which pipes of that OD there are, so that the next try can succeed. */
static int say_not_found(const dt_catalogue *catalogue, double od_m, const cli_options *options)
{
    fprintf(stderr, "drawtube: no pipe of OD %s, weight %s, grade %s in the catalogue",
            cli_shown(options->od).text, cli_shown(options->weight).text,
            cli_shown(options->grade).text);
    double last = -1;
    const char *grade = ""; /* a pipe has a row for each thread: its grade is told once */
    bool any = false;
    dt_pipe_view pipe;
    for (size_t i = 0; dt_catalogue_pipe(catalogue, i, &pipe) == DT_OK; ++i) {
        if (fabs(pipe.od_m - od_m) > SAME_DIAMETER_M) continue;
        bool heavier = pipe.weight_kgm != last;
        if (heavier)
            fprintf(stderr, "%s\n  %.2f lb/ft:", any ? "" : "; of that OD there are",
                    pipe.weight_kgm / DT_KGM_PER_LBFT);
        if (heavier || strcmp(pipe.grade, grade) != 0) fprintf(stderr, " %s", pipe.grade);
        last = pipe.weight_kgm;
        grade = pipe.grade;
        any = true;
    }
    fprintf(stderr, "\n");
    return EXIT_REFUSED;
}

/** A quantity that may be 0 or less. */
static bool read_any(const char *option, const char *text, dt_kind kind, double bare_factor,
                     range allowed, double *si)
{
    double bare = 0;
    if (!text) return true; /* stays 0 */
    if (dt_quantity_parse(text, kind, si) == DT_PARSE_OK)
        return in_range(option, text, allowed, *si);
    if (dt_number_parse(text, &bare) == DT_PARSE_OK) {
        *si = bare * bare_factor;
        return in_range(option, text, allowed, *si);
    }
    fprintf(stderr,
            "drawtube: --%s \"%s\" is no quantity; write a number, with a decimal point, and one "
            "of %s\n",
            option, text, dt_unit_choices(kind));
    return false;
}

/** deg/100 ft, a bare number. */
static bool read_dogleg(const char *text, double *radm)
{
    double degrees = 0;
    if (!text) return true;
    if (dt_number_parse(text, &degrees) == DT_PARSE_OK && degrees >= 0) {
        *radm = degrees * RAD_PER_DEG / (100 * DT_M_PER_FT);
        return in_range("dogleg", text, DOGLEG, *radm);
    }
    fprintf(stderr, "drawtube: --dogleg \"%s\" is not a number of deg/100 ft\n", text);
    return false;
}

static bool read_load(const cli_options *options, dt_pipe_load *load, bool *given)
{
    *given = options->tension || options->internal || options->external || options->dogleg;
    if (!read_any("tension", options->tension, DT_KIND_FORCE, 1000 * DT_N_PER_LBF, FORCE,
                  &load->axial_n) ||
        !read_any("internal", options->internal, DT_KIND_PRESSURE, DT_PA_PER_PSI, PRESSURE,
                  &load->inside_pa) ||
        !read_any("external", options->external, DT_KIND_PRESSURE, DT_PA_PER_PSI, PRESSURE,
                  &load->outside_pa) ||
        !read_dogleg(options->dogleg, &load->curvature_radm))
        return false;
    return true;
}

static int print_rating(const cli_options *options, const dt_catalogue *catalogue,
                        const dt_pipe_view *pipe, double wear_m, const dt_pipe_load *load)
{
    dt_rated *rated = NULL;
    dt_text text = {0};
    dt_status status = dt_rated_open(catalogue, pipe, wear_m, load, &rated);
    if (status == DT_OK)
        status =
            options->json ? dt_write_rated_json(rated, &text) : dt_write_rated_table(rated, &text);
    dt_rated_close(rated);
    if (status == DT_E_DOMAIN) {
        fprintf(stderr, "drawtube: the formulas do not reach this pipe or this load: the wall is "
                        "under half the OD, yield strength from 20,000 to 160,000 psi, tension "
                        "below the pipe's yield\n");
        return EXIT_REFUSED;
    }
    if (status != DT_OK) return cli_fail(status);
    int code = cli_print(&text);
    dt_text_free(&text);
    return code;
}

/** A pipe the catalogue does not have: plain ends, and no drift of its own. */
static bool make_pipe(const cli_options *options, double od, dt_pipe_view *pipe)
{
    double wall = 0, yield = 0, tensile = NAN;
    if (!read_quantity("wall", options->wall, DT_KIND_DIAMETER, DT_M_PER_IN, PIPE_SIZE, &wall) ||
        !read_quantity("yield", options->yield, DT_KIND_PRESSURE, DT_PA_PER_PSI, STRENGTH,
                       &yield) ||
        (options->tensile && !read_quantity("tensile", options->tensile, DT_KIND_PRESSURE,
                                            DT_PA_PER_PSI, STRENGTH, &tensile)))
        return false;
    dt_pipe_plain(od, wall, yield, tensile, pipe);
    return true;
}

static bool read_wear(const cli_options *options, const dt_pipe_view *pipe, double *wear_m)
{
    if (!options->wear) return true;
    if (!read_any("wear", options->wear, DT_KIND_DIAMETER, DT_M_PER_IN, WEAR, wear_m)) return false;
    if (*wear_m >= 0 && *wear_m < pipe->wall_m) return true;
    fprintf(stderr, "drawtube: --wear \"%s\" leaves no wall of %.3f in\n", options->wear,
            pipe->wall_m / DT_M_PER_IN);
    return false;
}

/** Which pipe is meant; false when the options do not say, or say two. */
static bool options_are_whole(const cli_options *o)
{
    const bool listed = o->weight && o->grade, made = o->wall && o->yield;
    if (o->od && listed && !o->wall && !o->yield && !o->tensile) return true;
    if (o->od && made && !o->weight && !o->grade) return true;
    fprintf(stderr, "drawtube: rate needs --od and either --weight and --grade, or --wall and "
                    "--yield\n");
    return false;
}

int cli_rate(cli_options *options)
{
    double od = 0, weight = 0;
    bool loaded = false;
    dt_pipe_load load = {0};
    if (!options_are_whole(options) || !read_load(options, &load, &loaded)) return EXIT_USAGE;
    if (!read_quantity("od", options->od, DT_KIND_DIAMETER, DT_M_PER_IN, PIPE_SIZE, &od) ||
        (options->weight && !read_quantity("weight", options->weight, DT_KIND_LINEAR_MASS,
                                           DT_KGM_PER_LBFT, PIPE_WEIGHT, &weight)))
        return EXIT_USAGE;
    dt_catalogue *catalogue = NULL;
    int code = cli_load_catalogue(options, &catalogue);
    if (code != EXIT_DONE) return code;
    dt_pipe_view pipe = {0};
    double wear_m = 0;
    if (!options->wall && dt_catalogue_find(catalogue, od, weight, options->grade, &pipe) != DT_OK)
        code = say_not_found(catalogue, od, options);
    else if ((options->wall && !make_pipe(options, od, &pipe)) ||
             !read_wear(options, &pipe, &wear_m))
        code = EXIT_USAGE;
    else
        code = print_rating(options, catalogue, &pipe, wear_m, loaded ? &load : NULL);
    dt_catalogue_close(catalogue);
    return code;
}
