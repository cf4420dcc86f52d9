/* SPDX-License-Identifier: MIT */
#include <getopt.h>
#include <stdio.h>
#include <string.h>

#include "cli.h"

typedef int (*command_function)(const cli_options *);

/** Which options a command takes, as letters of option_table. */
typedef struct command {
    const char *name;
    command_function run;
    const char *takes;
    bool needs_input;
    const char *help;
} command;

static const struct option long_options[] = {
    {"output", required_argument, NULL, 'o'},   {"json", no_argument, NULL, 'j'},
    {"units", required_argument, NULL, 'u'},    {"metric", no_argument, NULL, 'm'},
    {"od", required_argument, NULL, 'd'},       {"weight", required_argument, NULL, 'w'},
    {"grade", required_argument, NULL, 'g'},    {"pipe", required_argument, NULL, 'p'},
    {"stock", required_argument, NULL, 's'},    {"bits", required_argument, NULL, 'b'},
    {"wall", required_argument, NULL, 'W'},     {"yield", required_argument, NULL, 'Y'},
    {"tensile", required_argument, NULL, 'U'},  {"wear", required_argument, NULL, 'R'},
    {"tension", required_argument, NULL, 'T'},  {"internal", required_argument, NULL, 'I'},
    {"external", required_argument, NULL, 'E'}, {"dogleg", required_argument, NULL, 'D'},
    {"samples", required_argument, NULL, 'n'},  {"seed", required_argument, NULL, 'e'},
    {"threads", required_argument, NULL, 't'},  {"precision", required_argument, NULL, 'r'},
    {"string", required_argument, NULL, 'S'},   {"without", required_argument, NULL, 'X'},
    {"set", required_argument, NULL, 'Q'},      {"only", required_argument, NULL, 'O'},
    {"help", no_argument, NULL, 'h'},           {NULL, 0, NULL, 0}};

#define CATALOGUE_HELP                                                                             \
    "  --pipe FILE           add the pipes of FILE to the catalogue\n"                             \
    "  --bits FILE           use the bits of FILE instead of the built-in ones\n"                  \
    "  --stock FILE          use only the pipes that FILE lists\n"

#define UNITS_HELP "  --units field|metric  units of what is printed and drawn (default field)\n"

static const command commands[] = {
    {"plan", cli_plan, "ojupsbh", true,
     "usage: drawtube plan WELL [-o DIR] [--json] [--units field|metric]\n\n"
     "  drawtube plan wells/alder-reach.xml\n"
     "  drawtube plan wells/alder-reach.xml -o out\n\n"
     "Plans the casing program of a well file (- is standard input) and prints it as a table.\n\n"
     "  -o, --output DIR      also write schematic.svg, window.svg, options.svg, program.json\n"
     "  --json                print program.json instead of the table\n" UNITS_HELP CATALOGUE_HELP},
    {"check", cli_check, "h", true,
     "usage: drawtube check WELL\n\n"
     "  drawtube check wells/alder-reach.xml\n\n"
     "Reads a well file and reports everything that is wrong with it.\n"},
    {"compare", cli_compare, "ojupsbh", true,
     "usage: drawtube compare WELL [-o DIR] [--json] [--units field|metric]\n\n"
     "  drawtube compare wells/mizzenlow-shelf.xml\n"
     "  drawtube compare wells/mizzenlow-shelf.xml -o out\n\n"
     "Finds every program that no other one equals or beats in cost, strings, steel, days, pipe\n"
     "at the objective and spare strings, and holds each against the one that plan chooses.\n\n"
     "  -o, --output DIR      also write compare.html, compare.svg, options.json\n"
     "  --json                print options.json instead of the table\n" UNITS_HELP CATALOGUE_HELP},
    {"draw", cli_draw, "oupsbh", true,
     "usage: drawtube draw WELL [-o FILE] [--units field|metric]\n\n"
     "  drawtube draw wells/alder-reach.xml -o schematic.svg\n\n"
     "Draws the schematic alone, to FILE or to standard output.\n\n"
     "  -o, --output FILE     where to write (- is standard output)\n" UNITS_HELP CATALOGUE_HELP},
    {"start", cli_start, "mh", false,
     "usage: drawtube start [--metric]\n\n"
     "  drawtube start > my-well.xml\n\n"
     "Prints a commented well file to begin from.\n\n"
     "  --metric              in metric units\n"},
    {"rate", cli_rate, "jdwgphWYURTIED", false,
     "usage: drawtube rate --od OD (--weight WEIGHT --grade GRADE | --wall WALL --yield YIELD)\n"
     "                     [LOAD] [--wear WALL] [--json]\n\n"
     "  drawtube rate --od 9-5/8 --weight 47 --grade L80\n"
     "  drawtube rate --od \"244.5 mm\" --weight \"47 lb/ft\" --grade L80 --json\n"
     "  drawtube rate --od 9-5/8 --wall 0.472 --yield 80000\n"
     "  drawtube rate --od 9-5/8 --weight 47 --grade L80 --tension 500 --internal 6000\n\n"
     "Rates one pipe. A bare number is in, lb/ft, psi, 1000 lbf, deg/100 ft.\n\n"
     "  --od, --weight, --grade   which pipe of the catalogue\n"
     "  --wall, --yield           instead: any pipe; --tensile adds its tensile strength\n"
     "  --wear WALL               wall that wear and corrosion have taken, from inside\n"
     "  --tension FORCE           true axial force; a load is any of these four\n"
     "  --internal, --external    pressures\n"
     "  --dogleg DEG              curvature, deg/100 ft\n"
     "  --json                    as JSON\n"
     "  --pipe FILE               add the pipes of FILE to the catalogue\n"},
    {"why", cli_why, "juSXQOpsbh", true,
     "usage: drawtube why WELL [--string N | --without S | --set W | --only W] [--json]\n\n"
     "  drawtube why wells/brackwater-deep.xml --string 3\n"
     "  drawtube why wells/brackwater-deep.xml --without \"string 3\"\n"
     "  drawtube why wells/brackwater-deep.xml --set \"shoe of surface = 3000 ft\"\n"
     "  drawtube why wells/brackwater-deep.xml --only \"9.625 in, 13.375 in, 5 in\"\n\n"
     "Says what binds each choice of the program, or what stands against a wish.\n\n"
     "  --string N            one string, counted from the surface, the conductor first\n"
     "  --without STRING      with one string less\n"
     "  --set WISH            FIELD of STRING = VALUE; FIELD is shoe, hole, pipe, weight, grade,\n"
     "                        thread or type\n"
     "  --only SIZES          with these pipe sizes alone; SIZE for STRING sets one string\n"
     "  --json                as JSON\n" UNITS_HELP CATALOGUE_HELP
     "\nA STRING is \"string 3\" or its name, \"intermediate 2\". Exit 1: the wish is "
     "forbidden.\n"},
    {"odds", cli_odds, "ojunetrpsbh", true,
     "usage: drawtube odds WELL [--samples N] [--seed S] [--threads N] [--precision P] [--json]\n"
     "                          [-o FILE] [--units field|metric]\n\n"
     "  drawtube odds wells/brackwater-deep.xml\n"
     "  drawtube odds wells/brackwater-deep.xml --samples 100000 -o odds.svg\n\n"
     "Says how sure the program is: plans it for many wells drawn from the spreads in the file.\n\n"
     "  --samples N           how many wells are drawn (default 10000)\n"
     "  --seed S              another S draws other wells (default 1)\n"
     "  --threads N           threads to use; the answer is the same (default: all cores)\n"
     "  --precision P         stop when the standard error of the odds is down to P (\"0.5 %\")\n"
     "  --json                as JSON\n"
     "  -o, --output FILE     also draw the odds as SVG\n" UNITS_HELP CATALOGUE_HELP
     "\nCtrl-C prints what is done so far.\n"},
};

enum { COMMAND_COUNT = sizeof commands / sizeof *commands };

static const char general_help[] =
    "usage: drawtube COMMAND [WELL] [OPTIONS]\n\n"
    "  drawtube start > my-well.xml        begin a well file\n"
    "  drawtube check my-well.xml          see what is wrong with it\n"
    "  drawtube plan my-well.xml -o out    the casing program, its drawings and data\n"
    "  drawtube compare my-well.xml        liner or full string: the options side by side\n"
    "  drawtube draw my-well.xml           the schematic alone, as SVG\n"
    "  drawtube why my-well.xml            why it is so, and why not otherwise\n"
    "  drawtube odds my-well.xml           how sure the program is\n"
    "  drawtube rate --od 7 --weight 29 --grade P110   ratings of one pipe\n\n"
    "drawtube COMMAND --help tells more. --version prints the version.\n\n"
    "Exit: 0 done; 1 no program exists; 2 wrong usage; 3 input refused; 4 the system failed.\n\n"
    "A preliminary planning aid: verify pressures and regulations locally, and have a licensed\n"
    "engineer review every program before anything is run.\n";

static const command *find_command(const char *name)
{
    for (size_t i = 0; i < COMMAND_COUNT; ++i)
        if (strcmp(commands[i].name, name) == 0) return &commands[i];
    return NULL;
}

static int wrong_usage(const command *c)
{
    fprintf(stderr, "drawtube: see drawtube %s%s--help\n", c ? c->name : "", c ? " " : "");
    return EXIT_USAGE;
}

static bool set_units(const char *text, cli_options *options)
{
    options->display = strcmp(text, "metric") == 0 ? DT_DISPLAY_METRIC : DT_DISPLAY_FIELD;
    if (options->display == DT_DISPLAY_METRIC || strcmp(text, "field") == 0) return true;
    fprintf(stderr, "drawtube: --units \"%s\": write field or metric\n", text);
    return false;
}

static bool set_option(int letter, const char *value, cli_options *options)
{
    switch (letter) {
    case 'o':
        options->output = value;
        return true;
    case 'j':
        options->json = true;
        return true;
    case 'u':
        return set_units(value, options);
    case 'm':
        options->metric = true;
        return true;
    case 'd':
        options->od = value;
        return true;
    case 'w':
        options->weight = value;
        return true;
    case 'g':
        options->grade = value;
        return true;
    case 'p':
        options->pipe_file = value;
        return true;
    case 's':
        options->stock_file = value;
        return true;
    case 'b':
        options->bits_file = value;
        return true;
    case 'n':
        options->samples = value;
        return true;
    case 'e':
        options->seed = value;
        return true;
    case 't':
        options->threads = value;
        return true;
    case 'r':
        options->precision = value;
        return true;
    case 'S':
        options->string = value;
        return true;
    case 'X':
        options->without = value;
        return true;
    case 'Q':
        options->set = value;
        return true;
    case 'O':
        options->only = value;
        return true;
    case 'W':
        options->wall = value;
        return true;
    case 'Y':
        options->yield = value;
        return true;
    case 'U':
        options->tensile = value;
        return true;
    case 'R':
        options->wear = value;
        return true;
    case 'T':
        options->tension = value;
        return true;
    case 'I':
        options->internal = value;
        return true;
    case 'E':
        options->external = value;
        return true;
    case 'D':
        options->dogleg = value;
        return true;
    default:
        options->help = true;
        return true;
    }
}

static bool read_options(const command *c, int argc, char **argv, cli_options *options)
{
    int letter;
    while ((letter = getopt_long(argc, argv, "o:h", long_options, NULL)) != -1) {
        if (letter == '?') return false;
        if (!strchr(c->takes, letter)) {
            fprintf(stderr, "drawtube: %s has no such option: %s\n", c->name, argv[optind - 1]);
            return false;
        }
        if (!set_option(letter, optarg, options)) return false;
    }
    return true;
}

int main(int argc, char **argv)
{
    if (argc < 2) {
        fputs(general_help, stderr);
        return EXIT_USAGE;
    }
    if (strcmp(argv[1], "--version") == 0)
        return puts("drawtube " DRAWTUBE_VERSION) < 0 ? EXIT_SYSTEM : EXIT_DONE;
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0 ||
        strcmp(argv[1], "help") == 0)
        return fputs(general_help, stdout) < 0 ? EXIT_SYSTEM : EXIT_DONE;
    const command *c = find_command(argv[1]);
    if (!c) {
        fprintf(stderr, "drawtube: there is no command \"%s\"\n", argv[1]);
        return wrong_usage(NULL);
    }
    cli_options options = {.display = DT_DISPLAY_FIELD};
    if (!read_options(c, argc - 1, argv + 1, &options)) return wrong_usage(c);
    if (options.help) return fputs(c->help, stdout) < 0 ? EXIT_SYSTEM : EXIT_DONE;
    int given = argc - 1 - optind;
    if (given != (c->needs_input ? 1 : 0)) {
        fprintf(stderr,
                c->needs_input ? "drawtube: %s takes one well file\n"
                               : "drawtube: %s takes no file\n",
                c->name);
        return wrong_usage(c);
    }
    if (given == 1) options.input = argv[1 + optind];
    return c->run(&options);
}
