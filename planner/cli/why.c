/* SPDX-License-Identifier: MIT */
/* why: reasons, and reasons against a wish. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli.h"
#include "why.h"

/** The wishes of one call and how the user said them. */
typedef struct wish_list {
    dt_wish items[3];
    size_t count;
    char words[400];
} wish_list;

static int add_wish(const dt_program *program, dt_wish_kind kind, const char *option,
                    const char *text, wish_list *list)
{
    if (!text) return EXIT_DONE;
    char *problem = NULL;
    dt_status status = dt_wish_read(program, kind, text, &list->items[list->count], &problem);
    if (problem) fprintf(stderr, "drawtube: --%s: %s\n", option, cli_shown(problem).text);
    free(problem);
    if (status == DT_E_INPUT) return EXIT_USAGE;
    if (status != DT_OK) return cli_fail(status);
    size_t used = strlen(list->words);
    snprintf(list->words + used, sizeof list->words - used, "%s%s %.120s", used ? ", " : "", option,
             text);
    ++list->count;
    return EXIT_DONE;
}

static int read_wishes(const cli_options *options, const dt_program *program, wish_list *list)
{
    int code = add_wish(program, DT_WISH_WITHOUT, "without", options->without, list);
    if (code == EXIT_DONE) code = add_wish(program, DT_WISH_SET, "set", options->set, list);
    if (code == EXIT_DONE) code = add_wish(program, DT_WISH_ONLY, "only", options->only, list);
    return code;
}

static int print(dt_status status, dt_text *text)
{
    if (status != DT_OK) return cli_fail(status);
    int code = cli_print(text);
    dt_text_free(text);
    return code;
}

/** Exit 1 when the wish is forbidden: then no such program exists. */
static int answer_wishes(const cli_options *options, const dt_program *program,
                         const wish_list *list)
{
    dt_verdict verdict;
    dt_text text = {0};
    dt_status status = dt_wish_judge(program, list->items, list->count, &verdict);
    if (status != DT_OK) return cli_fail(status);
    status = options->json
                 ? dt_write_verdict_json(program, &verdict, list->words, &text)
                 : dt_write_verdict_text(program, &verdict, list->words, options->display, &text);
    int code = print(status, &text);
    if (code == EXIT_DONE && !verdict.possible) code = EXIT_NO_PROGRAM;
    dt_verdict_free(&verdict);
    return code;
}

static int explain(const cli_options *options, const dt_program *program)
{
    size_t string = DT_NO_INDEX;
    if (options->string) {
        char *end = NULL;
        unsigned long number = strtoul(options->string, &end, 10);
        if (end == options->string || *end != '\0' || number < 1 ||
            number > dt_program_strings(program)) {
            fprintf(stderr, "drawtube: --string \"%s\": write 1 to %zu, counted from the surface\n",
                    options->string, dt_program_strings(program));
            return EXIT_USAGE;
        }
        string = dt_program_at(program, number - 1);
    }
    dt_why why = {0};
    dt_text text = {0};
    dt_status status = dt_why_explain(program, string, &why);
    if (status != DT_OK) return cli_fail(status);
    status = options->json ? dt_write_why_json(program, &why, &text)
                           : dt_write_why_text(program, &why, options->display, &text);
    dt_why_free(&why);
    return print(status, &text);
}

int cli_why(const cli_options *options)
{
    cli_planned planned = {0};
    wish_list wishes = {.count = 0};
    bool wished = options->without || options->set || options->only;
    if (wished && options->string) {
        fprintf(stderr, "drawtube: --string explains a string; it does not go with a wish\n");
        return EXIT_USAGE;
    }
    int code = cli_make_plan(options, &planned);
    if (code == EXIT_DONE) code = read_wishes(options, planned.program, &wishes);
    if (code == EXIT_DONE)
        code = wished ? answer_wishes(options, planned.program, &wishes)
                      : explain(options, planned.program);
    cli_planned_free(&planned);
    return code;
}
