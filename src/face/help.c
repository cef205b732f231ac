/* `help`: of the program, of one command, and the same as man pages and completions. */
#include "face/guide.h"

#include <string.h>

#define WIDTH 80
#define NAMES 16

void sw_print_wrapped(FILE *to, const char *text, int indent) {
    int column = 0;
    while (*text != '\0') {
        int length = (int)strcspn(text, " ");
        if (column > 0 && column + 1 + length > WIDTH) {
            fputc('\n', to);
            column = 0;
        }
        fprintf(to, "%*s%.*s", column == 0 ? indent : 1, "", length, text);
        column += (column == 0 ? indent : 1) + length;
        text += length;
        text += strspn(text, " ");
    }
    fputc('\n', to);
}

static void print_exit_codes(FILE *to) {
    size_t count;
    const sw_exit_code *codes = sw_exit_codes(&count);
    fputs("\nExit codes\n", to);
    for (size_t i = 0; i < count; i++)
        fprintf(to, "  %-4d%s\n", codes[i].code, codes[i].means);
}

void sw_print_help(FILE *to) {
    size_t count;
    const sw_command *commands = sw_commands_known(&count);
    fputs("swapworth: which swaps in a desktop computer are worth their money\n\n", to);
    fputs("  swapworth COMMAND SCENARIO [OPTION...]       (\"-\" is standard input)\n", to);
    fputs("  swapworth help COMMAND                       what it does, and its options\n", to);
    fputs("\nCommands\n", to);
    for (size_t i = 0; i < count; i++)
        if (commands[i].run != sw_command_intake)
            fprintf(to, "  %-*s%s\n", NAMES, commands[i].name, commands[i].tells);
    fprintf(to, "  %-*s%s\n", NAMES, "help", "this page; help COMMAND: that command's");
    fprintf(to, "  %-*s%s\n", NAMES, "--version", "the version");
    print_exit_codes(to);
}

void sw_print_help_of(FILE *to, const sw_command *command) {
    size_t count;
    const sw_option *options = sw_options_known(&count);
    fprintf(to, "swapworth %s %s\n\n", command->name, command->synopsis);
    sw_print_wrapped(to, command->more, 0);
    fputs("\nOptions\n", to);
    for (size_t i = 0; i < count; i++) {
        if (!sw_option_is_of(&options[i], command->name))
            continue;
        fprintf(to, "  %s%s%s\n", options[i].name, options[i].takes != NULL ? " " : "",
                options[i].takes != NULL ? options[i].takes : "");
        sw_print_wrapped(to, options[i].tells, 8);
    }
    fprintf(to, "\nExample\n  swapworth %s %s\n", command->name, command->example);
}

/* `intake dumps` is two words of the line. */
static const sw_command *asked_for(int argc, char **argv) {
    size_t count;
    const sw_command *commands = sw_commands_known(&count);
    const sw_command *found = argc > 0 ? sw_command_named(argv[0]) : NULL;
    for (size_t i = 0; argc > 1 && i < count; i++) {
        size_t first = strcspn(commands[i].name, " ");
        if (commands[i].name[first] == ' ' && strncmp(commands[i].name, argv[0], first) == 0 &&
            argv[0][first] == '\0' && strcmp(commands[i].name + first + 1, argv[1]) == 0)
            return &commands[i];
    }
    return found;
}

static int unknown(const char *what, const char *word) {
    fprintf(stderr, "swapworth: there is no %s", what);
    sw_say_around(" \"", word, "\".\n");
    return SW_EXIT_USAGE;
}

static int completion(int argc, char **argv) {
    if (argc > 0 && strcmp(argv[0], "bash") == 0)
        sw_print_bash_completion(stdout);
    else if (argc > 0 && strcmp(argv[0], "zsh") == 0)
        sw_print_zsh_completion(stdout);
    else
        return unknown("completion for", argc > 0 ? argv[0] : "");
    return SW_EXIT_ANSWERED;
}

/* A name a line, for who makes files of them. */
static int print_names(void) {
    size_t count;
    const sw_command *commands = sw_commands_known(&count);
    for (size_t i = 0; i < count; i++)
        puts(commands[i].name);
    return SW_EXIT_ANSWERED;
}

int sw_help(int argc, char **argv) {
    bool as_manual = argc > 0 && strcmp(argv[0], "--man") == 0;
    int code = SW_EXIT_ANSWERED;
    if (argc > 0 && strcmp(argv[0], "--completion") == 0) {
        code = completion(argc - 1, argv + 1);
    } else if (argc > 0 && strcmp(argv[0], "--commands") == 0) {
        code = print_names();
    } else {
        argc -= as_manual;
        argv += as_manual;
        const sw_command *command = asked_for(argc, argv);
        if (argc > 0 && command == NULL)
            return unknown("command", argv[0]);
        if (argc > 1 && strcmp(argv[0], "intake") == 0 && strchr(command->name, ' ') == NULL)
            return unknown("kind of intake", argv[1]);
        if (as_manual)
            sw_print_manual(stdout, command);
        else if (command != NULL)
            sw_print_help_of(stdout, command);
        else
            sw_print_help(stdout);
    }
    return sw_end_output(code);
}
