/* SPDX-License-Identifier: MIT */
#include <getopt.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include "cli.h"

/* ---- options: one table for parsing, completion and the tests of help and manual ---- */

#define AT(member) offsetof(cli_options, member)

static const cli_option options_table[] = {
    {"output", 'o', CLI_TEXT, AT(output), "FILE"},
    {"json", 'j', CLI_FLAG, AT(json), NULL},
    {"units", 'u', CLI_UNITS, 0, "field metric mixed"},
    {"metric", 'm', CLI_FLAG, AT(metric), NULL},
    {"od", 'D', CLI_TEXT, AT(od), ""},
    {"weight", 'w', CLI_TEXT, AT(weight), ""},
    {"grade", 'g', CLI_TEXT, AT(grade), ""},
    {"wall", 'W', CLI_TEXT, AT(wall), ""},
    {"yield", 'Y', CLI_TEXT, AT(yield), ""},
    {"tensile", 'U', CLI_TEXT, AT(tensile), ""},
    {"wear", 'R', CLI_TEXT, AT(wear), ""},
    {"tension", 'T', CLI_TEXT, AT(tension), ""},
    {"internal", 'I', CLI_TEXT, AT(internal), ""},
    {"external", 'E', CLI_TEXT, AT(external), ""},
    {"dogleg", 'L', CLI_TEXT, AT(dogleg), ""},
    {"pipe", 'p', CLI_TEXT, AT(pipe_file), "FILE"},
    {"stock", 's', CLI_TEXT, AT(stock_file), "FILE"},
    {"bits", 'b', CLI_TEXT, AT(bits_file), "FILE"},
    {"samples", 'N', CLI_TEXT, AT(samples), ""},
    {"seed", '1', CLI_TEXT, AT(seed), ""},
    {"threads", '2', CLI_TEXT, AT(threads), ""},
    {"precision", '3', CLI_TEXT, AT(precision), ""},
    {"string", 'S', CLI_TEXT, AT(string), ""},
    {"without", 'X', CLI_TEXT, AT(without), ""},
    {"set", 'Q', CLI_TEXT, AT(set), ""},
    {"only", 'O', CLI_TEXT, AT(only), ""},
    {"png", 'P', CLI_FLAG, AT(png), NULL},
    {"compare", 'c', CLI_FLAG, AT(compare), NULL},
    {"all", 'M', CLI_FLAG, AT(all), NULL},
    {"pdf", 'A', CLI_FLAG, AT(pdf), NULL},
    {"docx", 'x', CLI_FLAG, AT(docx), NULL},
    {"report-pdf", 'r', CLI_FLAG, AT(report_pdf), NULL},
    {"form", 'F', CLI_FORM, 0, "page column thumbnail"},
    {"survey", 'v', CLI_FLAG, AT(survey), NULL},
    {"offsets", 'K', CLI_FLAG, AT(offsets), NULL},
    {"depth", 'y', CLI_TEXT, AT(depth_column), ""},
    {"pore", 'd', CLI_TEXT, AT(pore_column), ""},
    {"fracture", 'e', CLI_TEXT, AT(fracture_column), ""},
    {"collapse", 'f', CLI_TEXT, AT(collapse_column), ""},
    {"overburden", 'l', CLI_TEXT, AT(overburden_column), ""},
    {"tolerance", 't', CLI_TEXT, AT(tolerance), ""},
    {"into", 'i', CLI_TEXT, AT(into), "FILE"},
    {"basis", 'B', CLI_BASIS, 0,
     "FILE bare land shelf deepwater geothermal platform us-ocs us-onshore texas louisiana norway"},
    {"as", 'a', CLI_TEXT, AT(as), "csv witsml-geometry witsml-trajectory"},
    {"with", 'q', CLI_CHANGE, 0, ""},
    {"help", 'h', CLI_FLAG, AT(help), NULL},
};

enum { OPTION_COUNT = COUNT_OF(options_table) };

#define CATALOGUE_HELP                                                                             \
    "  --pipe FILE           add the pipes of FILE to the catalogue\n"                             \
    "  --bits FILE           use the bits of FILE instead of the built-in ones\n"                  \
    "  --stock FILE          use only the pipes that FILE lists\n"

#define BASIS_HELP                                                                                 \
    "  --basis FILE|NAME     stack a basis over what the well names; may stand several times\n"

#define THREADS_HELP                                                                               \
    "  --threads N           of several wells, so many at once (default: all cores)\n"

#define WITH_HELP                                                                                  \
    "  --with CHANGE         what if the well were otherwise; may stand several times\n"

#define UNITS_HELP                                                                                 \
    "  --units SYSTEM        units of what is printed and drawn (default: the well file's): "      \
    "field,\n"                                                                                     \
    "                        metric, or mixed: metric, but inches and lb/ft\n"

#define FIELD_HELP                                                                                 \
    "  --units SYSTEM        units of what is printed (default: the file's): field, metric, "      \
    "mixed\n"

static const cli_command commands[] = {
    {"plan", cli_plan, "+ojuMcPAxr2psbhBq", true,
     "usage: drawtube plan WELL... [-o DIR] [--json] [--all] [--compare] [--png] [--pdf]\n"
     "                        [--docx] [--report-pdf] [--units field|metric|mixed]\n\n"
     "  drawtube plan wells/alder-reach.xml\n"
     "  drawtube plan wells/alder-reach.xml --all\n"
     "  drawtube plan wells/alder-reach.xml -o out\n"
     "  drawtube plan wells/alder-reach.xml wells/hollinfold.xml -o out\n"
     "  drawtube plan wells/alder-reach.xml --with \"fracture at 9000 ft -0.3 ppg\"\n\n"
     "Plans the casing program of a well file (- is standard input) and prints it as a table.\n"
     "Several wells get a folder each inside DIR, and a row each in a table.\n\n"
     "  -o, --output DIR      also write program.html, its drawings and program.json\n"
     "  --json                print program.json instead of the table\n"
     "  --all                 all that is for review and all that was assumed, with sources\n"
     "  --compare             with -o: the options side by side in program.html; takes longer\n"
     "  --png                 with -o: each drawing as PNG as well, 300 dots an inch\n"
     "  --pdf                 with -o: each drawing as PDF as well\n"
     "  --docx                with -o: the report for a word processor, too, as program.docx\n"
     "  --report-pdf          with -o: the report printed as program.pdf, by a browser that is\n"
     "                        there (chromium)\n" THREADS_HELP WITH_HELP UNITS_HELP CATALOGUE_HELP
         BASIS_HELP
     "\nExit 1: there is no program, or the one printed is NOT RUNNABLE: the stoppers above its\n"
     "table say why.\n"},
    {"check", cli_check, "hB", true,
     "usage: drawtube check WELL [--basis FILE|NAME]\n\n"
     "  drawtube check wells/alder-reach.xml\n\n"
     "Reads a well file and reports everything that is wrong with it.\n\n" BASIS_HELP},
    {"compare", cli_compare, "+ojupsbhBq", true,
     "usage: drawtube compare WELL [-o DIR] [--json] [--units field|metric|mixed]\n"
     "       drawtube compare WELL OTHER [-o DIR] [--json] [--units field|metric|mixed]\n\n"
     "  drawtube compare wells/mizzenlow-shelf.xml\n"
     "  drawtube compare wells/mizzenlow-shelf.xml -o out\n"
     "  drawtube compare wells/alder-reach.xml wells/hollinfold.xml -o out\n\n"
     "Finds every program that no other one equals or beats in cost, strings, steel, days, pipe\n"
     "at the objective and contingency strings, and holds each against the one that plan chooses.\n"
     "Of two wells, says what differs between the programs that plan chooses.\n\n"
     "  -o, --output DIR      also write compare.html, compare.svg, options.json; of two wells\n"
     "                        changes.txt, changes.json and changes.svg, both drawn beside\n"
     "                        each other\n"
     "  --json                print options.json, of two wells changes.json, instead of the "
     "table\n" WITH_HELP UNITS_HELP CATALOGUE_HELP BASIS_HELP},
    {"draw", cli_draw, "ouFPApsbhBq", true,
     "usage: drawtube draw WELL [-o FILE] [--form page|column|thumbnail] [--png|--pdf]\n"
     "                          [--units field|metric|mixed]\n\n"
     "  drawtube draw wells/alder-reach.xml -o schematic.svg\n"
     "  drawtube draw wells/alder-reach.xml --form column --pdf -o schematic.pdf\n\n"
     "Draws the schematic alone, to FILE or to standard output.\n\n"
     "  -o, --output FILE     where to write (- is standard output)\n"
     "  --form FORM           page (default), column for a document, or thumbnail\n"
     "  --png                 as PNG, 300 dots an inch\n"
     "  --pdf                 as PDF\n" WITH_HELP UNITS_HELP CATALOGUE_HELP BASIS_HELP},
    {"start", cli_start, "mhB", false,
     "usage: drawtube start [--basis land|shelf|deepwater|geothermal] [--metric]\n\n"
     "  drawtube start > my-well.xml\n"
     "  drawtube start --basis deepwater > my-well.xml\n\n"
     "Prints a commented well file to begin from: all that is often stated, or with a basis only\n"
     "what that does not give.\n\n"
     "  --basis NAME          for a well of that kind: land, shelf, deepwater or geothermal\n"
     "  --metric              in metric units\n"},
    {"rate", cli_rate, "jDwgphWYURTIEL", false,
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
    {"why", cli_why, "juSXQOpsbhBq", true,
     "usage: drawtube why WELL [--string N | --without S | --set C | --only S] [--json]\n\n"
     "  drawtube why wells/brackwater-deep.xml --string 3\n"
     "  drawtube why wells/brackwater-deep.xml --without \"string 3\"\n"
     "  drawtube why wells/brackwater-deep.xml --set \"shoe of surface = 3000 ft\"\n"
     "  drawtube why wells/brackwater-deep.xml --only \"9.625 in, 13.375 in, 5 in\"\n\n"
     "Says what binds each choice of the program, or what stands against a what-if.\n\n"
     "  --string N            one string, counted from the surface, the conductor first\n"
     "  --without STRING      with one string less\n"
     "  --set CHANGE          FIELD of STRING = VALUE; FIELD is shoe, hole, pipe, weight, grade,\n"
     "                        thread or type\n"
     "  --only SIZES          with these pipe sizes alone; SIZE for STRING sets one string\n"
     "  --json                as JSON\n" WITH_HELP UNITS_HELP CATALOGUE_HELP BASIS_HELP
     "\nA STRING is \"string 3\" or its name, \"intermediate 2\". Exit 1: that is "
     "forbidden.\n"},
    {"odds", cli_odds, "ojuN123psbhBq", true,
     "usage: drawtube odds WELL [--samples N] [--seed S] [--threads N] [--precision P] [--json]\n"
     "                          [-o FILE] [--units field|metric|mixed]\n\n"
     "  drawtube odds wells/brackwater-deep.xml\n"
     "  drawtube odds wells/brackwater-deep.xml --samples 100000 -o odds.svg\n\n"
     "Says how sure the program is: plans it for many wells drawn from the spreads in the file.\n\n"
     "  --samples N           how many wells are drawn (default 10000)\n"
     "  --seed S              another S draws other wells (default 1)\n"
     "  --threads N           threads to use; the answer is the same (default: all cores)\n"
     "  --precision P         stop when the standard error of the odds is down to P (\"0.5 %\")\n"
     "  --json                as JSON\n"
     "  -o, --output FILE     also draw the odds as SVG\n" WITH_HELP UNITS_HELP CATALOGUE_HELP
         BASIS_HELP "\nCtrl-C prints what is done so far.\n"},
    {"import", cli_import, "ouhvKydeflti", true,
     "usage: drawtube import FILE [--pore COLUMN] [--fracture COLUMN] [--collapse COLUMN]\n"
     "                            [--overburden COLUMN] [--depth COLUMN] [--tolerance PRESSURE]\n"
     "                            [--into WELL] [-o FILE]\n"
     "       drawtube import FILE --survey [--into WELL] [-o FILE]\n"
     "       drawtube import FILE --offsets [--into WELL] [-o FILE]\n\n"
     "  drawtube import docs/samples/pressures.las --pore PPG --fracture FG\n"
     "  drawtube import docs/samples/pressures.csv --pore pore --fracture frac --into "
     "wells/alder-reach.xml\n"
     "  drawtube import docs/samples/survey.csv --survey\n"
     "  drawtube import docs/samples/offsets.csv --offsets\n\n"
     "Turns pressure tables (LAS 2.0, CSV), surveys (CSV, WITSML 1.4.1.1) and offset wells (CSV)\n"
     "into elements of a well file, tables thinned on the safe side. A COLUMN is NAME, or "
     "NAME:UNIT where the file names no\n"
     "unit. docs/import.md tells the rest.\n\n"
     "  --pore, --fracture, --collapse, --overburden COLUMN   which column is which table\n"
     "  --depth COLUMN        column of the depths, TVD (default: the first)\n"
     "  --tolerance PRESSURE  how far a row may be from the table (default \"10 psi\")\n"
     "  --survey              import survey stations; a CSV needs columns md, inc, azi\n"
     "  --offsets             import offset wells; a CSV with columns well, distance, rig_floor,\n"
     "                        water_depth, what, depth, emw\n"
     "  --into WELL           print that well file with the elements in it\n"
     "  -o, --output FILE     where to write (default: standard output)\n" FIELD_HELP},
    {"export", cli_export, "opsbhaBq", true,
     "usage: drawtube export WELL --as csv|witsml-geometry|witsml-trajectory [-o FILE]\n\n"
     "  drawtube export wells/alder-reach.xml --as csv -o program.csv\n\n"
     "Writes the program for other programs: the table as CSV, holes and pipes as a WITSML "
     "1.4.1.1\n"
     "wbGeometry, or the survey as a WITSML trajectory.\n\n"
     "  --as FORMAT           csv, witsml-geometry or witsml-trajectory\n"
     "  -o, --output FILE     where to write (default: standard output)\n" WITH_HELP CATALOGUE_HELP
         BASIS_HELP},
    {"page", cli_page, "+oupsbBh", true,
     "usage: drawtube page WELL... [-o FILE] [--units field|metric|mixed]\n\n"
     "  drawtube page wells/brackwater-deep.xml -o meeting.html\n\n"
     "Writes one HTML file with the wells and the whole planner inside: whoever opens it, "
     "offline,\n"
     "moves points and seats and sees the program follow. docs/live-page.md tells the rest.\n\n"
     "  -o, --output FILE     where to write (default: standard output)\n" UNITS_HELP CATALOGUE_HELP
         BASIS_HELP},
    {"completion", cli_completion, "h", true,
     "usage: drawtube completion bash|zsh\n\n"
     "  drawtube completion bash > ~/.local/share/bash-completion/completions/drawtube\n\n"
     "Prints what the shell needs to complete commands and options.\n"},
};

enum { COMMAND_COUNT = COUNT_OF(commands) };

const cli_option *cli_option_table(size_t *count)
{
    *count = OPTION_COUNT;
    return options_table;
}

const cli_command *cli_command_table(size_t *count)
{
    *count = COMMAND_COUNT;
    return commands;
}

static const char general_help[] =
    "usage: drawtube COMMAND [WELL] [OPTIONS]\n\n"
    "  drawtube start > my-well.xml        begin a well file\n"
    "  drawtube check my-well.xml          see what is wrong with it\n"
    "  drawtube plan my-well.xml -o out    the casing program, its drawings and data\n"
    "  drawtube compare my-well.xml        liner or full string: the options side by side\n"
    "  drawtube draw my-well.xml           the schematic alone, as SVG\n"
    "  drawtube why my-well.xml            why it is so, and why not otherwise\n"
    "  drawtube odds my-well.xml           how sure the program is\n"
    "  drawtube page my-well.xml -o meeting.html   all of it in one file that anyone can open\n"
    "  drawtube import curves.las --pore PPG --fracture FG   tables from other files\n"
    "  drawtube export my-well.xml --as csv                  the program for other programs\n"
    "  drawtube rate --od 7 --weight 29 --grade P110   ratings of one pipe\n\n"
    "drawtube COMMAND --help tells more. --version prints the version.\n\n"
    "Exit: 0 done; 1 no program exists, or the one planned is not runnable; 2 wrong usage;\n"
    "3 input refused; 4 the system failed.\n\n"
    "A preliminary planning aid: verify pressures and regulations locally, and have a licensed\n"
    "engineer review every program before anything is run.\n";

static const cli_command *find_command(const char *name)
{
    for (size_t i = 0; i < COMMAND_COUNT; ++i)
        if (strcmp(commands[i].name, name) == 0) return &commands[i];
    return NULL;
}

static int wrong_usage(const cli_command *c)
{
    fprintf(stderr, "drawtube: see drawtube %s%s--help\n", c ? c->name : "", c ? " " : "");
    return EXIT_USAGE;
}

static bool set_units(const char *text, cli_options *options)
{
    options->units_given = true;
    static const char *const words[] = {"field", "metric", "mixed"};
    for (size_t i = 0; i < COUNT_OF(words); ++i) {
        if (strcmp(text, words[i]) != 0) continue;
        options->display = (dt_display)i;
        return true;
    }
    fprintf(stderr, "drawtube: --units \"%s\": write field, metric or mixed\n", text);
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

static bool add_basis(const char *text, cli_options *options)
{
    if (options->basis_count < DT_BASIS_MOST) {
        options->basis[options->basis_count++] = text;
        return true;
    }
    fprintf(stderr, "drawtube: --basis stands more than %d times\n", DT_BASIS_MOST);
    return false;
}

static bool add_change(const char *text, cli_options *options)
{
    if (options->change_count < CLI_MOST_CHANGES) {
        options->changes[options->change_count++] = text;
        return true;
    }
    fprintf(stderr, "drawtube: --with stands more than %d times\n", CLI_MOST_CHANGES);
    return false;
}

static bool set_option(const cli_option *row, const char *value, cli_options *options)
{
    void *member = (char *)options + row->member;
    switch (row->kind) {
    case CLI_FLAG:
        *(bool *)member = true;
        return true;
    case CLI_TEXT:
        *(const char **)member = value;
        return true;
    case CLI_UNITS:
        return set_units(value, options);
    case CLI_FORM:
        return set_form(value, options);
    case CLI_BASIS:
        return add_basis(value, options);
    case CLI_CHANGE:
        return add_change(value, options);
    }
    return false;
}

static bool read_options(const cli_command *c, int argc, char **argv, cli_options *options)
{
    struct option long_options[OPTION_COUNT + 1] = {{0}};
    for (size_t i = 0; i < OPTION_COUNT; ++i) {
        int has_value = options_table[i].kind == CLI_FLAG ? no_argument : required_argument;
        long_options[i] =
            (struct option){options_table[i].name, has_value, NULL, options_table[i].letter};
    }
    int letter;
    opterr = 0; /* its messages do not begin as ours do */
    while ((letter = getopt_long(argc, argv, ":o:h", long_options, NULL)) != -1) {
        size_t row = 0;
        while (row < OPTION_COUNT && options_table[row].letter != letter)
            ++row;
        if (letter == ':') {
            fprintf(stderr, "drawtube: %s needs a value\n", cli_shown(argv[optind - 1]).text);
            return false;
        }
        if (row == OPTION_COUNT || !strchr(c->takes, letter)) {
            const char *name = row < OPTION_COUNT ? options_table[row].name : argv[optind - 1];
            const char short_name[] = {'-', (char)optopt, '\0'};
            fprintf(stderr, "drawtube: %s has no such option: %s%s\n", c->name,
                    row < OPTION_COUNT ? "--" : "",
                    cli_shown(row == OPTION_COUNT && optopt ? short_name : name).text);
            return false;
        }
        if (!set_option(&options_table[row], optarg, options)) return false;
    }
    return true;
}

/** How many files stand after the options; false after a message when that is wrong. */
static bool count_files(const cli_command *c, int given)
{
    bool many = strchr(c->takes, '+') != NULL;
    if (c->needs_input ? given == 1 || (given > 1 && many) : given == 0) return true;
    fprintf(stderr,
            !c->needs_input ? "drawtube: %s takes no file\n"
            : many          ? "drawtube: %s takes at least one file\n"
                            : "drawtube: %s takes one file\n",
            c->name);
    return false;
}

static int print_text(const char *words)
{
    fputs(words, stdout);
    return cli_flush();
}

int main(int argc, char **argv)
{
    cli_guard();
    if (argc < 2) {
        fputs(general_help, stderr);
        return EXIT_USAGE;
    }
    if (strcmp(argv[1], "--version") == 0) return print_text("drawtube " DRAWTUBE_VERSION "\n");
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0 ||
        strcmp(argv[1], "help") == 0)
        return print_text(general_help);
    const cli_command *c = find_command(argv[1]);
    if (!c) {
        fprintf(stderr, "drawtube: there is no command \"%s\"\n", argv[1]);
        return wrong_usage(NULL);
    }
    cli_options options = {.display = DT_DISPLAY_FIELD};
    if (!read_options(c, argc - 1, argv + 1, &options)) return wrong_usage(c);
    if (options.help) return print_text(c->help);
    if (options.output && !*options.output) {
        fprintf(stderr, "drawtube: -o needs a name\n");
        return wrong_usage(c);
    }
    int given = argc - 1 - optind;
    if (!count_files(c, given)) return wrong_usage(c);
    options.inputs = argv + 1 + optind;
    options.input_count = given;
    if (given > 0) options.input = options.inputs[0];
    return c->run(&options);
}
