/* SPDX-License-Identifier: MIT */
/* Completion for bash and zsh, made from the tables of commands and options. */
#include <stdio.h>
#include <string.h>

#include "cli.h"

/** Every name of the table that is wanted, separated by spaces. */
static void print_commands(void)
{
    size_t count;
    const cli_command *commands = cli_command_table(&count);
    for (size_t i = 0; i < count; ++i)
        printf("%s%s", i ? " " : "", commands[i].name);
}

static void print_options_of(const cli_command *command)
{
    size_t count;
    const cli_option *options = cli_option_table(&count);
    const char *space = "";
    for (size_t i = 0; i < count; ++i) {
        if (!strchr(command->takes, options[i].letter)) continue;
        printf("%s--%s", space, options[i].name);
        space = " ";
    }
}

/** The options whose value is a file, as one pattern of case. */
static void print_file_options(void)
{
    size_t count;
    const cli_option *options = cli_option_table(&count);
    printf("-o");
    for (size_t i = 0; i < count; ++i)
        if (options[i].values && strcmp(options[i].values, "FILE") == 0)
            printf("|--%s", options[i].name);
}

/** True for options with words to choose from. */
static bool has_words(const cli_option *option)
{
    return option->values && option->values[0] && strcmp(option->values, "FILE") != 0;
}

/** The words of an option whose value may be a file instead, or NULL. */
static const char *words_beside_file(const cli_option *option)
{
    static const char file[] = "FILE ";
    const bool either = strncmp(option->values, file, sizeof file - 1) == 0;
    return either ? option->values + sizeof file - 1 : NULL;
}

static void print_bash_words(const cli_option *option)
{
    const char *beside = words_beside_file(option);
    printf("    --%s) COMPREPLY=($(compgen %s-W \"%s\" -- \"$current\")); return ;;\n",
           option->name, beside ? "-f " : "", beside ? beside : option->values);
}

static void print_zsh_words(const cli_option *option)
{
    const char *beside = words_beside_file(option);
    printf("    --%s) compadd -- %s%s; return ;;\n", option->name, beside ? beside : option->values,
           beside ? "; _files" : "");
}

static void print_bash(void)
{
    size_t count;
    const cli_option *options = cli_option_table(&count);
    printf(
        "# bash completion of drawtube; made by drawtube completion bash\n"
        "_drawtube()\n{\n"
        "    local current=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} options=\n"
        "    COMPREPLY=()\n"
        "    if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
        "        COMPREPLY=($(compgen -W \"");
    print_commands();
    printf(" --help --version\" -- \"$current\"))\n        return\n    fi\n"
           "    case $before in\n");
    for (size_t i = 0; i < count; ++i)
        if (has_words(&options[i])) print_bash_words(&options[i]);
    printf("    ");
    print_file_options();
    printf(") COMPREPLY=($(compgen -f -- \"$current\")); return ;;\n    esac\n"
           "    case ${COMP_WORDS[1]} in\n");
    const cli_command *commands = cli_command_table(&count);
    for (size_t i = 0; i < count; ++i) {
        printf("    %s) options=\"", commands[i].name);
        print_options_of(&commands[i]);
        printf("\" ;;\n");
    }
    printf("    esac\n"
           "    case $current in\n"
           "    -*) COMPREPLY=($(compgen -W \"$options\" -- \"$current\")) ;;\n"
           "    *) COMPREPLY=($(compgen -f -- \"$current\")) ;;\n"
           "    esac\n}\n"
           "complete -o filenames -F _drawtube drawtube\n");
}

static void print_zsh(void)
{
    size_t count;
    const cli_option *options = cli_option_table(&count);
    printf("#compdef drawtube\n"
           "# zsh completion of drawtube; made by drawtube completion zsh\n"
           "_drawtube() {\n"
           "    local -a options\n"
           "    if (( CURRENT == 2 )); then\n        compadd -- ");
    print_commands();
    printf(" --help --version\n        return\n    fi\n"
           "    case $words[CURRENT-1] in\n");
    for (size_t i = 0; i < count; ++i)
        if (has_words(&options[i])) print_zsh_words(&options[i]);
    printf("    ");
    print_file_options();
    printf(") _files; return ;;\n    esac\n    case $words[2] in\n");
    const cli_command *commands = cli_command_table(&count);
    for (size_t i = 0; i < count; ++i) {
        printf("    %s) options=(", commands[i].name);
        print_options_of(&commands[i]);
        printf(") ;;\n");
    }
    printf("    esac\n"
           "    if [[ $words[CURRENT] == -* ]]; then\n        compadd -- $options\n"
           "    else\n        _files\n    fi\n}\n"
           "_drawtube \"$@\"\n");
}

int cli_completion(cli_options *options)
{
    bool zsh = strcmp(options->input, "zsh") == 0;
    if (!zsh && strcmp(options->input, "bash") != 0) {
        fprintf(stderr, "drawtube: completion: write bash or zsh\n");
        return EXIT_USAGE;
    }
    if (zsh)
        print_zsh();
    else
        print_bash();
    return cli_flush();
}
