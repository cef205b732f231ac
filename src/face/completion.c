/* Completion of the command line in bash and in zsh. */
#include "face/guide.h"

#include <string.h>

static bool takes(const sw_option *option, const char *what) {
    return option->takes != NULL && strcmp(option->takes, what) == 0;
}

/* Words that one may choose among: "same|least|anew". */
static bool has_choices(const sw_option *option) {
    return option->takes != NULL && strchr(option->takes, '|') != NULL;
}

static void put_choices(FILE *to, const char *choices) {
    for (; *choices != '\0'; choices++)
        fputc(*choices == '|' ? ' ' : *choices, to);
}

/* The names of commands that stand first in the line, or (`kinds`) second behind "intake". */
static void put_commands(FILE *to, bool kinds) {
    size_t count;
    const sw_command *commands = sw_commands_known(&count);
    for (size_t i = 0; i < count; i++) {
        const char *blank = strchr(commands[i].name, ' ');
        if ((blank != NULL) == kinds)
            fprintf(to, "%s ", kinds ? blank + 1 : commands[i].name);
    }
}

static void put_option_names(FILE *to, const char *command) {
    size_t count;
    const sw_option *options = sw_options_known(&count);
    for (size_t i = 0; i < count; i++)
        if (sw_option_is_of(&options[i], command))
            fprintf(to, "%s ", options[i].name);
}

/* ---- bash ----------------------------------------------------------------------------- */

static void put_names_that_take(FILE *to, bool (*which)(const sw_option *)) {
    size_t count;
    const sw_option *options = sw_options_known(&count);
    const char *between = "";
    for (size_t i = 0; i < count; i++) {
        if (!which(&options[i]))
            continue;
        fprintf(to, "%s%s", between, options[i].name);
        between = "|";
    }
}

static bool takes_file(const sw_option *option) { return takes(option, "FILE"); }
static bool takes_folder(const sw_option *option) { return takes(option, "DIR"); }
static bool takes_other(const sw_option *option) {
    return option->takes != NULL && !takes_file(option) && !takes_folder(option) &&
           !has_choices(option);
}

/* What may stand behind the word before. */
static void put_bash_values(FILE *to) {
    size_t count;
    const sw_option *options = sw_options_known(&count);
    fputs("    case $before in\n    ", to);
    put_names_that_take(to, takes_file);
    fputs(") mapfile -t COMPREPLY < <(compgen -f -- \"$word\"); compopt -o filenames 2>/dev/null; "
          "return ;;\n    ",
          to);
    put_names_that_take(to, takes_folder);
    fputs(") mapfile -t COMPREPLY < <(compgen -d -- \"$word\"); compopt -o filenames 2>/dev/null; "
          "return ;;\n    ",
          to);
    for (size_t i = 0; i < count; i++) {
        if (!has_choices(&options[i]))
            continue;
        fprintf(to, "%s) mapfile -t COMPREPLY < <(compgen -W '", options[i].name);
        put_choices(to, options[i].takes);
        fputs("' -- \"$word\"); return ;;\n    ", to);
    }
    put_names_that_take(to, takes_other);
    fputs(") return ;;\n    esac\n", to);
}

void sw_print_bash_completion(FILE *to) {
    size_t count;
    const sw_command *commands = sw_commands_known(&count);
    fputs("# bash completion for swapworth; made by swapworth help --completion bash\n"
          "_swapworth() {\n"
          "    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]}\n"
          "    local command=${COMP_WORDS[1]} options=\n"
          "    COMPREPLY=()\n"
          "    if [ \"$COMP_CWORD\" -eq 1 ] || { [ \"$command\" = help ] && "
          "[ \"$COMP_CWORD\" -eq 2 ]; }; then\n"
          "        mapfile -t COMPREPLY < <(compgen -W '",
          to);
    put_commands(to, false);
    fputs("help --help --version' -- \"$word\")\n        return\n    fi\n"
          "    if [ \"$command\" = intake ] && [ \"$COMP_CWORD\" -eq 2 ]; then\n"
          "        mapfile -t COMPREPLY < <(compgen -W '",
          to);
    put_commands(to, true);
    fputs("' -- \"$word\")\n        return\n    fi\n"
          "    [ \"$command\" = intake ] && command=\"intake ${COMP_WORDS[2]}\"\n",
          to);
    put_bash_values(to);
    fputs("    case $command in\n", to);
    for (size_t i = 0; i < count; i++) {
        fprintf(to, "    '%s') options='", commands[i].name);
        put_option_names(to, commands[i].name);
        fputs("--help' ;;\n", to);
    }
    fputs("    *) return ;;\n    esac\n"
          "    if [[ $word == -* ]]; then\n"
          "        mapfile -t COMPREPLY < <(compgen -W \"$options\" -- \"$word\")\n"
          "    else\n"
          "        mapfile -t COMPREPLY < <(compgen -f -- \"$word\")\n"
          "        compopt -o filenames 2>/dev/null\n"
          "    fi\n}\ncomplete -F _swapworth swapworth\n",
          to);
}

/* ---- zsh ------------------------------------------------------------------------------ */

/* Within '..' and within the [..] or the :..: of a specification. */
static void put_zsh_text(FILE *to, const char *text) {
    for (; *text != '\0'; text++) {
        if (*text == '\'')
            fputs("'\\''", to);
        else if (strchr("[]:\\", *text) != NULL)
            fprintf(to, "\\%c", *text);
        else
            fputc(*text, to);
    }
}

static void put_zsh_option(FILE *to, const sw_option *option) {
    fprintf(to, " \\\n            '%s%s[", option->list != 0 ? "*" : "", option->name);
    put_zsh_text(to, option->tells);
    fputc(']', to);
    if (option->takes != NULL) {
        fputc(':', to);
        put_zsh_text(to, option->takes);
        fputc(':', to);
    }
    if (takes_file(option))
        fputs("_files", to);
    else if (takes_folder(option))
        fputs("_files -/", to);
    else if (has_choices(option)) {
        fputc('(', to);
        put_choices(to, option->takes);
        fputc(')', to);
    }
    fputc('\'', to);
}

static void put_zsh_commands(FILE *to, const char *name, bool kinds) {
    size_t count;
    const sw_command *commands = sw_commands_known(&count);
    fprintf(to, "    %s=(\n", name);
    for (size_t i = 0; i < count; i++) {
        const char *blank = strchr(commands[i].name, ' ');
        if ((blank != NULL) != kinds)
            continue;
        fprintf(to, "        '%s:", kinds ? blank + 1 : commands[i].name);
        put_zsh_text(to, commands[i].tells);
        fputs("'\n", to);
    }
    fputs(kinds ? "    )\n" : "        'help:what a command does, and its options'\n    )\n", to);
}

void sw_print_zsh_completion(FILE *to) {
    size_t count, option_count;
    const sw_command *commands = sw_commands_known(&count);
    const sw_option *options = sw_options_known(&option_count);
    fputs("#compdef swapworth\n# made by swapworth help --completion zsh\n_swapworth() {\n"
          "    local command\n    local -a commands kinds\n",
          to);
    put_zsh_commands(to, "commands", false);
    put_zsh_commands(to, "kinds", true);
    fputs("    if (( CURRENT == 2 )); then\n        _describe -t commands command commands\n"
          "        return\n    fi\n"
          "    command=${words[2]}\n"
          "    if [[ $command == help ]]; then\n"
          "        (( CURRENT == 3 )) && _describe -t commands command commands\n"
          "        return\n    fi\n"
          "    if [[ $command == intake ]] && (( CURRENT == 3 )); then\n"
          "        _describe -t commands kind kinds\n        return\n    fi\n"
          "    if [[ $command == intake ]]; then\n"
          "        command=\"intake ${words[3]}\"\n        shift words\n        (( CURRENT-- ))\n"
          "    fi\n    shift words\n    (( CURRENT-- ))\n    case $command in\n",
          to);
    for (size_t i = 0; i < count; i++) {
        if (commands[i].run == sw_command_intake)
            continue;
        fprintf(to, "    '%s')\n        _arguments", commands[i].name);
        for (size_t o = 0; o < option_count; o++)
            if (sw_option_is_of(&options[o], commands[i].name))
                put_zsh_option(to, &options[o]);
        fputs(" \\\n            '*:file:_files'\n        ;;\n", to);
    }
    fputs("    esac\n}\n"
          "if [[ $funcstack[1] == _swapworth ]]; then\n    _swapworth \"$@\"\nelse\n"
          "    compdef _swapworth swapworth\nfi\n",
          to);
}
