/* The command line: reads the words, runs one command, prints its answer on
 * standard output and everything else on standard error. */
#include "face/guide.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

/* "--help" or "-h" before any "--". */
static bool asks_for_help(int argc, char **argv) {
    for (int i = 1; i < argc && strcmp(argv[i], "--") != 0; i++)
        if (strcmp(argv[i], "--help") == 0 || strcmp(argv[i], "-h") == 0)
            return true;
    return false;
}

/* Behind the name of a command it is help of that command. */
static int give_help(int argc, char **argv) {
    if (argc < 2 || sw_command_named(argv[1]) == NULL)
        return sw_help(0, NULL);
    return sw_help(argc > 2 && argv[2][0] != '-' && strcmp(argv[1], "intake") == 0 ? 2 : 1,
                   argv + 1);
}

static int unknown_command(const char *name) {
    if (name != NULL)
        sw_say_around("swapworth: there is no command \"", name, "\".\n\n");
    sw_print_help(stderr);
    return SW_EXIT_USAGE;
}

int sw_run_line(int argc, char **argv) {
    if (argc >= 2 && strcmp(argv[1], "help") == 0)
        return sw_help(argc - 2, argv + 2);
    if (asks_for_help(argc, argv))
        return give_help(argc, argv);
    if (argc >= 2 && strcmp(argv[1], "--version") == 0) {
        printf("swapworth %s\n", sw_version());
        return sw_end_output(SW_EXIT_ANSWERED);
    }
    const sw_command *command = argc >= 2 ? sw_command_named(argv[1]) : NULL;
    if (command == NULL || command->run == NULL)
        return unknown_command(argc >= 2 ? argv[1] : NULL);
    sw_words words;
    int code = sw_words_read(&words, argc - 2, argv + 2, command);
    if (code == SW_EXIT_ANSWERED)
        code = command->run(&words);
    sw_words_free(&words);
    return code;
}

/* A file that is opened while a standard one is closed would get its number, and with it what is
 * meant for the standard one: in its place stands what can neither be read nor written. */
static void hold_standard_files(void) {
    for (int file = STDIN_FILENO; file <= STDERR_FILENO; file++)
        if (fcntl(file, F_GETFD) < 0 && errno == EBADF)
            open("/dev/null", file == STDIN_FILENO ? O_WRONLY : O_RDONLY);
}

int main(int argc, char **argv) {
    hold_standard_files();
    return sw_run_line(argc, argv);
}
