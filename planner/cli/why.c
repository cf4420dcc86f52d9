/* SPDX-License-Identifier: MIT */
/* why: reasons, and reasons against a what-if. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli.h"

/** The wishes of one call, the options that said them, and how the user said them. */
typedef struct wish_list {
    dt_wish_words items[3];
    const char *options[3];
    size_t count;
    char words[400];
} wish_list;

static void add_wish(dt_wish_kind kind, const char *option, const char *text, wish_list *list)
{
    if (!text) return;
    size_t used = strlen(list->words);
    snprintf(list->words + used, sizeof list->words - used, "%s%s %.120s", used ? ", " : "", option,
             text);
    list->options[list->count] = option;
    list->items[list->count++] = (dt_wish_words){kind, text};
}

static wish_list list_wishes(const cli_options *options)
{
    wish_list list = {.count = 0};
    add_wish(DT_WISH_WITHOUT, "without", options->without, &list);
    add_wish(DT_WISH_SET, "set", options->set, &list);
    add_wish(DT_WISH_ONLY, "only", options->only, &list);
    return list;
}

static int print(dt_status status, dt_text *text)
{
    if (status != DT_OK) return cli_fail(status);
    int code = cli_print(text);
    dt_text_free(text);
    return code;
}

/** Exit 1 when the wish is forbidden, so that no such program exists, or its program cannot be run.
 */
static int answer_wishes(const cli_options *options, const dt_program *program)
{
    const wish_list list = list_wishes(options);
    dt_verdict *verdict = NULL;
    dt_wish_problem problem = {0};
    dt_text text = {0};
    dt_status status = dt_verdict_open(program, list.items, list.count, &verdict, &problem);
    if (problem.text.bytes)
        fprintf(stderr, "drawtube: --%s: %s\n", list.options[problem.wish],
                cli_shown(problem.text.bytes).text);
    dt_text_free(&problem.text);
    if (status == DT_E_INPUT) return EXIT_USAGE;
    if (status != DT_OK) return cli_fail(status);
    status = options->json
                 ? dt_write_verdict_json(program, verdict, list.words, &text)
                 : dt_write_verdict_text(program, verdict, list.words, options->display, &text);
    int code = print(status, &text);
    const dt_program *wished = dt_verdict_program(verdict);
    if (code == EXIT_DONE && !(wished && dt_program_runnable(wished))) code = EXIT_NO_PROGRAM;
    dt_verdict_close(verdict);
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
    dt_why *why = NULL;
    dt_text text = {0};
    dt_status status = dt_why_open(program, string, &why);
    if (status != DT_OK) return cli_fail(status);
    status = options->json ? dt_write_why_json(program, why, &text)
                           : dt_write_why_text(program, why, options->display, &text);
    dt_why_close(why);
    return print(status, &text);
}

int cli_why(cli_options *options)
{
    cli_planned planned = {0};
    bool wished = options->without || options->set || options->only;
    if (wished && options->string) {
        fprintf(stderr, "drawtube: --string explains a string; it does not go with --without, "
                        "--set or --only\n");
        return EXIT_USAGE;
    }
    int code = cli_make_plan(options, &planned);
    if (code == EXIT_DONE)
        code = wished ? answer_wishes(options, planned.program) : explain(options, planned.program);
    if (planned.program) cli_say_runnable(options, planned.program);
    cli_planned_free(&planned);
    return code;
}
