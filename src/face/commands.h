/* What the commands share: their words, exit codes and output. */
#ifndef SW_FACE_COMMANDS_H
#define SW_FACE_COMMANDS_H

#include "swapworth.h"

#include <stdio.h>

enum {
    SW_EXIT_ANSWERED = 0,
    SW_EXIT_NOTHING_FITS = 1,
    SW_EXIT_STOPPED_EARLY = 2,
    SW_EXIT_USAGE = 64,
    SW_EXIT_BAD_DATA = 65,
    SW_EXIT_CANNOT_READ = 66,
    SW_EXIT_INTERNAL = 70,
    SW_EXIT_CANNOT_CREATE = 73,
    SW_EXIT_CANNOT_WRITE = 74
};

/* What stands behind an option that may stand many times, in order; owned. */
typedef struct sw_word_list {
    const char **words;
    size_t count;
} sw_word_list;

typedef struct sw_words {
    char **files; /* the words that are not options */
    int file_count;
    const struct sw_command *of; /* the command that they were read for */
    char *standing_catalog;      /* where neither an option nor a scenario names one; owned */
    const char *catalog, *budget, *output, *from, *to, *over, *svg; /* NULL when not given */
    int seconds, best, apart;                                       /* 0 when not given */
    bool own;                                                       /* intake piece */
    bool options;                                                   /* sure */
    bool brief;                                                     /* plan */
    int prices, estimates; /* sure: percent; -1 when not given */
    bool json, csv, lp, mps, allow_unknown, verify, progress;
    sw_word_list settings, gone; /* behind --set, --gone */
    const char *take, *measured, *record, *calibration;
    const char *card, *date;               /* intake */
    const char *answers, *keep_answers;    /* intake ask */
    const char *title;                     /* likewise */
    int option;                            /* 0 when not given */
    int port;                              /* likewise */
    const char *profile, *confirm, *parts; /* of intake prices */
    bool ask, whole;
} sw_words;

/* Reads the words behind the command's name; an exit code, with what is wrong said on stderr. The
 * words that are not options are moved to the front of `argv`. */
int sw_words_read(sw_words *out, int argc, char **argv, const struct sw_command *of);
void sw_words_free(sw_words *words);

int sw_command_plan(const sw_words *words);
int sw_command_look(const sw_words *words);
int sw_command_explain(const sw_words *words);
int sw_command_fits(const sw_words *words);
int sw_command_why(const sw_words *words);
int sw_command_curve(const sw_words *words);
int sw_command_whatif(const sw_words *words);
int sw_command_first(const sw_words *words);
int sw_command_options(const sw_words *words);
int sw_command_shopping(const sw_words *words);
int sw_command_bench(const sw_words *words);
int sw_command_handover(const sw_words *words);
int sw_command_phases(const sw_words *words);
int sw_command_ranges(const sw_words *words);
int sw_command_next(const sw_words *words);
int sw_command_map(const sw_words *words);
int sw_command_check(const sw_words *words);
int sw_command_export(const sw_words *words);
int sw_command_intake(const sw_words *words);
int sw_command_sure(const sw_words *words);
int sw_command_desk(const sw_words *words);

/* The folder "catalog" where there is one, else the one that was installed with the program, where
 * that is there; free() it. NULL: no memory. */
char *sw_standing_catalog(void);
/* How the command is called, on standard error: its words, then where its options are told. */
void sw_say_usage(const sw_words *words);

/* One command line, as main has it: its exit code. */
int sw_run_line(int argc, char **argv);

/* Text to standard output or to `-o`; an exit code other than `code` when that
 * fails. */
int sw_give_out(const sw_words *words, const char *text, int code);
/* Text to a file, whole or not at all. */
int sw_write_file(const char *path, const char *text, int code);
/* The same, for the eyes of its owner alone. */
int sw_write_private_file(const char *path, const char *text, int code);
/* These look before anything is written. Where memory does not do to tell they answer yes, and
 * sw_misused then tells that memory is out. */
bool sw_looks_lacked_memory(void);
bool sw_yes_without_memory(void);
/* Do both names stand for one file, that is there or would be made? */
bool sw_is_same_file(const char *path, const char *other);
/* Is there a scenario at `path` that has wishes already? */
bool sw_has_wishes(const char *path);
/* Would what is written with `-o` or `--svg` go into that folder, or over a file in it? */
bool sw_would_change_folder(const sw_words *words, const char *folder);
/* The same of the catalogs of the job at `path`: the one it names, the one of `--catalog`.
 * `scenario` is NULL where it was not read. */
bool sw_would_change_catalog(const sw_words *words, const char *path, const sw_scenario *scenario);
bool sw_close_output(FILE *stream);
/* `code`, where all that was printed on standard output has gone out; else says why not. */
int sw_end_output(int code);
/* Text of any origin on standard error: of bounded length, and nothing in it that moves the cursor.
 */
void sw_say_plain(const char *text);
void sw_say_around(const char *before, const char *text, const char *after);
/* Prints the complaints and turns a status into an exit code. */
int sw_say_complaints(const sw_complaints *complaints, sw_status status);
/* Seconds on a steady clock. */
double sw_steady_seconds(void);

#endif
