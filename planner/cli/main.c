/* SPDX-License-Identifier: MIT */
#include <getopt.h>
#include <stdio.h>
#include <string.h>

#include "cli.h"

typedef int (*command_function)(const cli_options *);

/** Which options a command takes, as letters of long_options; '+': several wells in one call. */
typedef struct command {
    const char *name;
    command_function run;
    const char *takes;
    bool needs_input;
    const char *help;
} command;

static const struct option long_options[] = {{"output", required_argument, NULL, 'o'},
                                             {"json", no_argument, NULL, 'j'},
                                             {"units", required_argument, NULL, 'u'},
                                             {"metric", no_argument, NULL, 'm'},
                                             {"od", required_argument, NULL, 'd'},
                                             {"weight", required_argument, NULL, 'w'},
                                             {"grade", required_argument, NULL, 'g'},
                                             {"pipe", required_argument, NULL, 'p'},
                                             {"stock", required_argument, NULL, 's'},
                                             {"bits", required_argument, NULL, 'b'},
                                             {"png", no_argument, NULL, 'P'},
                                             {"pdf", no_argument, NULL, 'D'},
                                             {"form", required_argument, NULL, 'F'},
                                             {"survey", no_argument, NULL, 1},
                                             {"depth", required_argument, NULL, 2},
                                             {"pore", required_argument, NULL, 3},
                                             {"fracture", required_argument, NULL, 4},
                                             {"collapse", required_argument, NULL, 5},
                                             {"overburden", required_argument, NULL, 6},
                                             {"tolerance", required_argument, NULL, 7},
                                             {"into", required_argument, NULL, 8},
                                             {"as", required_argument, NULL, 14},
                                             {"help", no_argument, NULL, 'h'},
                                             {NULL, 0, NULL, 0}};

#define CATALOGUE_HELP                                                                             \
    "  --pipe FILE           add the pipes of FILE to the catalogue\n"                             \
    "  --bits FILE           use the bits of FILE instead of the built-in ones\n"                  \
    "  --stock FILE          use only the pipes that FILE lists\n"

#define UNITS_HELP "  --units field|metric  units of what is printed and drawn (default field)\n"

static const command commands[] = {
    {"plan", cli_plan, "+ojuPDpsbh", true,
     "usage: drawtube plan WELL... [-o DIR] [--json] [--png] [--pdf] [--units field|metric]\n\n"
     "  drawtube plan wells/alder-reach.xml\n"
     "  drawtube plan wells/alder-reach.xml -o out\n"
     "  drawtube plan wells/alder-reach.xml wells/hollinfold.xml -o out\n\n"
     "Plans the casing program of a well file (- is standard input) and prints it as a table.\n"
     "Several wells get a folder each inside DIR, and a line each in a summary.\n\n"
     "  -o, --output DIR      also write program.html, its drawings and program.json\n"
     "  --json                print program.json instead of the table\n"
     "  --png                 with -o: each drawing as PNG as well, 300 dots an inch\n"
     "  --pdf                 with -o: each drawing as PDF as well\n" UNITS_HELP CATALOGUE_HELP},
    {"check", cli_check, "h", true,
     "usage: drawtube check WELL\n\n"
     "  drawtube check wells/alder-reach.xml\n\n"
     "Reads a well file and reports everything that is wrong with it.\n"},
    {"draw", cli_draw, "ouFPDpsbh", true,
     "usage: drawtube draw WELL [-o FILE] [--form page|column|thumbnail] [--png|--pdf]\n"
     "                          [--units field|metric]\n\n"
     "  drawtube draw wells/alder-reach.xml -o schematic.svg\n"
     "  drawtube draw wells/alder-reach.xml --form column --pdf -o schematic.pdf\n\n"
     "Draws the schematic alone, to FILE or to standard output.\n\n"
     "  -o, --output FILE     where to write (- is standard output)\n"
     "  --form FORM           page (default), column for a document, or thumbnail\n"
     "  --png                 as PNG, 300 dots an inch\n"
     "  --pdf                 as PDF\n" UNITS_HELP CATALOGUE_HELP},
    {"start", cli_start, "mh", false,
     "usage: drawtube start [--metric]\n\n"
     "  drawtube start > my-well.xml\n\n"
     "Prints a commented well file to begin from.\n\n"
     "  --metric              in metric units\n"},
    {"rate", cli_rate, "jdwgph", false,
     "usage: drawtube rate --od OD --weight WEIGHT --grade GRADE [--json]\n\n"
     "  drawtube rate --od 9-5/8 --weight 47 --grade L80\n"
     "  drawtube rate --od \"244.5 mm\" --weight \"47 lb/ft\" --grade L80 --json\n\n"
     "Rates one pipe of the catalogue. A bare number is in and lb/ft.\n\n"
     "  --od, --weight, --grade   which pipe\n"
     "  --json                    as JSON\n"
     "  --pipe FILE               add the pipes of FILE to the catalogue\n"},
    {"import", cli_import, "ouh\1\2\3\4\5\6\7\10", true,
     "usage: drawtube import FILE [--pore COLUMN] [--fracture COLUMN] [--collapse COLUMN]\n"
     "                            [--overburden COLUMN] [--depth COLUMN] [--tolerance PRESSURE]\n"
     "                            [--into WELL] [-o FILE]\n"
     "       drawtube import FILE --survey [--into WELL] [-o FILE]\n\n"
     "  drawtube import docs/samples/pressures.las --pore PPG --fracture FG\n"
     "  drawtube import docs/samples/pressures.csv --pore pore --fracture frac --into "
     "wells/alder-reach.xml\n"
     "  drawtube import docs/samples/survey.csv --survey\n\n"
     "Turns pressure tables (LAS 2.0, CSV) and surveys (CSV, WITSML 1.4.1.1) into elements of a\n"
     "well file, thinned on the safe side. A COLUMN is NAME, or NAME:UNIT where the file names no\n"
     "unit. docs/import.md tells the rest.\n\n"
     "  --pore, --fracture, --collapse, --overburden COLUMN   which column is which table\n"
     "  --depth COLUMN        column of the depths, TVD (default: the first)\n"
     "  --tolerance PRESSURE  how far a row may be from the table (default \"10 psi\")\n"
     "  --survey              import survey stations; a CSV needs columns md, inc, azi\n"
     "  --into WELL           print that well file with the elements in it\n"
     "  -o, --output FILE     where to write (default: standard output)\n" UNITS_HELP},
    {"export", cli_export, "opsbh\16", true,
     "usage: drawtube export WELL --as csv|witsml-geometry|witsml-trajectory [-o FILE]\n\n"
     "  drawtube export wells/alder-reach.xml --as csv -o program.csv\n\n"
     "Writes the program for other programs: the table as CSV, holes and pipes as a WITSML "
     "1.4.1.1\n"
     "wbGeometry, or the survey as a WITSML trajectory.\n\n"
     "  --as FORMAT           csv, witsml-geometry or witsml-trajectory\n"
     "  -o, --output FILE     where to write (default: standard output)\n" CATALOGUE_HELP},
};

enum { COMMAND_COUNT = sizeof commands / sizeof *commands };

static const char general_help[] =
    "usage: drawtube COMMAND [WELL] [OPTIONS]\n\n"
    "  drawtube start > my-well.xml        begin a well file\n"
    "  drawtube check my-well.xml          see what is wrong with it\n"
    "  drawtube plan my-well.xml -o out    the casing program, its drawings and data\n"
    "  drawtube draw my-well.xml           the schematic alone, as SVG\n"
    "  drawtube import curves.las --pore PPG --fracture FG   tables from other files\n"
    "  drawtube export my-well.xml --as csv                  the program for other programs\n"
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

static bool set_form(const char *text, cli_options *options)
{
    for (int i = 0; i < DT_FORM_COUNT; ++i) {
        options->form = (dt_form)i;
        if (strcmp(text, dt_form_text(options->form)) == 0) return true;
    }
    fprintf(stderr, "drawtube: --form \"%s\": write page, column or thumbnail\n", text);
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
    case 'P':
        options->png = true;
        return true;
    case 'D':
        options->pdf = true;
        return true;
    case 'F':
        return set_form(value, options);
    case 1:
        options->survey = true;
        return true;
    case 2:
        options->depth_column = value;
        return true;
    case 3:
        options->pore_column = value;
        return true;
    case 4:
        options->fracture_column = value;
        return true;
    case 5:
        options->collapse_column = value;
        return true;
    case 6:
        options->overburden_column = value;
        return true;
    case 7:
        options->tolerance = value;
        return true;
    case 8:
        options->into = value;
        return true;
    case 14:
        options->as = value;
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
    bool many = strchr(c->takes, '+') != NULL;
    bool wrong = c->needs_input ? given < 1 || (given > 1 && !many) : given != 0;
    if (wrong) {
        fprintf(stderr,
                !c->needs_input ? "drawtube: %s takes no file\n"
                : many          ? "drawtube: %s takes at least one well file\n"
                                : "drawtube: %s takes one well file\n",
                c->name);
        return wrong_usage(c);
    }
    options.inputs = argv + 1 + optind;
    options.input_count = given;
    if (given > 0) options.input = options.inputs[0];
    return c->run(&options);
}
