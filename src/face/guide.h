/* What there is to know of commands and options: one table of each. The reader of words, --help,
 * the man pages and the completions are made of them. */
#ifndef SW_FACE_GUIDE_H
#define SW_FACE_GUIDE_H

#include "face/commands.h"

typedef struct sw_option {
    const char *name;
    const char *takes;         /* "FILE", "DIR", "one|two", .. ; NULL: a flag */
    const char *of;            /* the commands it belongs to, with commas */
    const char *tells;         /* what it does: no full stop */
    size_t text, flag, number; /* offsets in sw_words; 0: not of that kind */
    size_t list;               /* offset of a list that it goes behind; its count follows */
    int least, most;           /* of a number */
} sw_option;

const sw_option *sw_options_known(size_t *count);
bool sw_option_is_of(const sw_option *option, const char *command);

typedef struct sw_command {
    const char *name;                  /* "plan", "intake dumps" */
    int (*run)(const sw_words *words); /* NULL: a kind of the command that the name begins with */
    const char *synopsis;              /* the words behind the name, without the options */
    const char *tells;                 /* in one line: no full stop */
    const char *more;                  /* whole sentences */
    const char *example;               /* the words behind the name */
} sw_command;

const sw_command *sw_commands_known(size_t *count);
/* By its name; NULL: there is none. */
const sw_command *sw_command_named(const char *name);

typedef struct sw_exit_code {
    int code;
    const char *means;
} sw_exit_code;

const sw_exit_code *sw_exit_codes(size_t *count);

/* `help ..`, and --help behind a command: its exit code. */
int sw_help(int argc, char **argv);
void sw_print_help(FILE *to);
void sw_print_help_of(FILE *to, const sw_command *command);
/* Text broken at blanks, each line behind `indent` blanks. */
void sw_print_wrapped(FILE *to, const char *text, int indent);
/* A page of the manual, in man(7); NULL: of the program itself. */
void sw_print_manual(FILE *to, const sw_command *command);
void sw_print_bash_completion(FILE *to);
void sw_print_zsh_completion(FILE *to);

#endif
