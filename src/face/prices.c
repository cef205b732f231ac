/* `intake prices`: a supplier's list in, listings out, a person asked in between. */
#include "face/errand.h"
#include "face/intake.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char *catalog_of(const sw_words *words) {
    return words->catalog == NULL ? words->standing_catalog : words->catalog;
}

/* ---- what is wrong with the words ------------------------------------------------------------ */

static const char *misuse_of_written(const sw_words *words) {
    const char *const names[] = {words->output, words->parts, words->ask ? words->confirm : NULL};
    const char *const read[] = {words->files[0], words->confirm};
    for (size_t i = 0; i < 3; i++) {
        if (names[i] == NULL)
            continue;
        if (names[i][0] == '\0')
            return "the name of a file is empty";
        if (strcmp(names[i], "-") == 0)
            return "-o, --parts and --confirm take the names of files: the report goes to standard "
                   "output";
        for (size_t k = 0; k < 2; k++)
            if (read[k] != NULL && read[k] != names[i] && sw_is_same_file(names[i], read[k]))
                return "what is written would go over a file that is read";
        for (size_t k = 0; k < i; k++)
            if (names[k] != NULL && sw_is_same_file(names[i], names[k]))
                return "two of the files to be written are one";
    }
    return NULL;
}

static bool is_listings(const char *path, const char *folder) {
    size_t room = strlen(folder) + sizeof "/listings.csv";
    char *listings = malloc(room);
    if (listings == NULL)
        return sw_yes_without_memory();
    snprintf(listings, room, "%s/listings.csv", folder);
    bool is = sw_is_same_file(path, listings);
    free(listings);
    return is;
}

/* The listings are what this command is for; no other file of the catalog is written over. */
static bool goes_into_catalog(const sw_words *words) {
    const char *const names[] = {words->output, words->parts, words->ask ? words->confirm : NULL};
    for (size_t i = 0; i < 3; i++) {
        sw_words one = {.output = names[i]};
        if (names[i] != NULL && sw_would_change_folder(&one, catalog_of(words)) &&
            !(i == 0 && is_listings(names[i], catalog_of(words))))
            return true;
    }
    return sw_looks_lacked_memory();
}

static const char *misuse(const sw_words *words) {
    if (words->file_count != 1)
        return words->file_count == 0 ? "a price list is missing" : "one list at a time, please";
    if (words->files[0][0] == '\0' || catalog_of(words)[0] == '\0')
        return "the name of a file is empty";
    if (words->budget != NULL || words->option > 0)
        return "intake prices takes no --budget and no --option";
    if (sw_misplaced(words, "intake prices") != NULL)
        return sw_misplaced(words, "intake prices");
    if (words->ask && words->confirm == NULL)
        return "--ask writes what was said into a file: name it with --confirm FILE";
    if (words->ask && (strcmp(words->files[0], "-") == 0 || !isatty(STDIN_FILENO)))
        return "--ask needs a terminal to ask on; without one write the file of --confirm by hand";
    if (words->confirm != NULL && strcmp(words->confirm, "-") == 0 &&
        strcmp(words->files[0], "-") == 0)
        return "only one file can be standard input";
    if (goes_into_catalog(words))
        return sw_over_catalog;
    return misuse_of_written(words);
}

/* Which profiles there are, and why one must be named. */
static int without_profile(const sw_words *words) {
    sw_complaints *complaints = sw_complaints_new();
    char *profiles = NULL;
    sw_status status = complaints == NULL
                           ? SW_NO_MEMORY
                           : sw_render_profiles(&profiles, catalog_of(words), complaints);
    int code = SW_EXIT_USAGE;
    if (status == SW_OK)
        fprintf(stderr,
                "swapworth: which profile? A price like 1,234 is more than a thousand in one list "
                "and\nlittle more than one in another; only a profile says which, so none is "
                "guessed.\nName one with --profile:\n%s",
                profiles);
    else
        code = sw_end_with(words, complaints, status);
    free(profiles);
    sw_complaints_free(complaints);
    return code;
}

/* ---- asking
 * -------------------------------------------------------------------------------------- */

typedef enum said { SAID_NO = -1, SAID_LATER = -2, SAID_END = -3, SAID_NOTHING = -4 } said;

/* One line from the terminal, of which the first letter or digit counts; EOF at the end. */
static int hear(void) {
    int first = EOF, byte = 0;
    while ((byte = getchar()) != EOF && byte != '\n')
        if (first == EOF && byte != ' ' && byte != '\t')
            first = byte;
    return byte == EOF && first == EOF ? EOF : first == EOF ? '\n' : first;
}

/* The choice, counted from 1, or what was said instead of one. */
static int understood(int letter, size_t choices) {
    if (letter >= '1' && letter <= '9' && (size_t)(letter - '0') <= choices)
        return letter - '0';
    switch (letter) {
    case 'y':
    case 'Y':
        return choices == 1 ? 1 : SAID_NOTHING;
    case 'n':
    case 'N':
        return SAID_NO;
    case 'l':
    case 'L':
    case '\n':
        return SAID_LATER;
    case 'q':
    case 'Q':
    case EOF:
        return SAID_END;
    default:
        return SAID_NOTHING;
    }
}

/* 1 to 1000, and nothing else in the line; 0: none. */
static int hear_pieces(void) {
    int number = 0, byte = 0;
    bool good = true;
    while ((byte = getchar()) != EOF && byte != '\n') {
        good = good && byte >= '0' && byte <= '9' && number <= 1000;
        number = good ? number * 10 + (byte - '0') : 0;
    }
    return good && number <= 1000 ? number : 0;
}

static sw_status keep(const sw_prices *prices, const char *path, int *code) {
    char *text = NULL;
    sw_status status = sw_render_prices_confirmed(&text, prices);
    if (status == SW_OK)
        *code = sw_write_file(path, text, SW_EXIT_ANSWERED);
    free(text);
    return status;
}

/* One question; *is gets what was said. */
static sw_status ask_one(sw_prices *prices, size_t index, size_t count, int *is) {
    size_t choices = sw_prices_choices(prices, index);
    char *question = NULL;
    int pieces = 0;
    sw_status status =
        sw_render_prices_question(&question, prices, index, (sw_text_style){.width = 80});
    if (status != SW_OK)
        return status;
    fprintf(stderr, "%s  (%zu of %zu) ", question, index + 1, count);
    free(question);
    while ((*is = understood(hear(), choices)) == SAID_NOTHING)
        fputs(choices == 1 ? "  y, l, n or q, please: " : "  a number, l, n or q, please: ",
              stderr);
    if (*is > 0 && sw_prices_is_pack(prices, index)) {
        fputs("  how many pieces is that price of (1: of one; nothing: later)? ", stderr);
        pieces = hear_pieces();
        *is = pieces == 0 ? SAID_LATER : *is;
    }
    return *is > 0          ? sw_prices_say(prices, index, *is, pieces)
           : *is == SAID_NO ? sw_prices_say(prices, index, 0, 0)
                            : SW_OK;
}

/* What was said is kept after each answer: whoever breaks off loses none. */
static sw_status ask_all(sw_prices *prices, const char *path, bool *any, int *code) {
    sw_status status = SW_OK;
    size_t count = sw_prices_waiting(prices);
    for (size_t i = 0; i < count && status == SW_OK && *code == SW_EXIT_ANSWERED; i++) {
        int is = SAID_LATER;
        if (sw_prices_is_said(prices, i))
            continue;
        status = ask_one(prices, i, count, &is);
        if (status != SW_OK || is == SAID_END)
            break;
        if (is == SAID_LATER)
            continue;
        *any = true;
        status = keep(prices, path, code);
    }
    fputs("\n", stderr);
    if (*any && status == SW_OK && *code == SW_EXIT_ANSWERED)
        fprintf(stderr, "What was said is kept in %s.\n\n", path);
    return status;
}

/* Asks, and reads the list again with what was said. */
static sw_status ask(sw_prices **prices, const sw_words *words, const sw_price_list *list,
                     int *code, sw_complaints *complaints) {
    bool any = false;
    sw_status status = ask_all(*prices, words->confirm, &any, code);
    if (status != SW_OK || !any || *code != SW_EXIT_ANSWERED)
        return status;
    sw_prices_free(*prices);
    *prices = NULL;
    return sw_prices_read(prices, list, complaints);
}

/* ---- giving out
 * ------------------------------------------------------------------------------------ */

static sw_status write_one(const char *path, const sw_prices *prices,
                           sw_status (*render)(char **out, const sw_prices *prices), int *code) {
    char *text = NULL;
    if (path == NULL || *code != SW_EXIT_ANSWERED)
        return SW_OK;
    sw_status status = render(&text, prices);
    if (status == SW_OK)
        *code = sw_write_file(path, text, SW_EXIT_ANSWERED);
    free(text);
    return status;
}

/* A list that lost half its rows looks like one of a seller who lost half his parts. */
static sw_status write_listings(const sw_words *words, const sw_prices *prices, int *code) {
    if (words->output == NULL || words->whole || !sw_prices_shrinks(prices) ||
        *code != SW_EXIT_ANSWERED)
        return write_one(words->output, prices, sw_render_prices_listings, code);
    fputs("swapworth: ", stderr);
    sw_say_plain(words->output);
    fputs(" was not written: the list takes away more than a third of what this\n"
          "seller lists, or has no rows. Where the list is whole, say --whole.\n",
          stderr);
    *code = SW_EXIT_BAD_DATA;
    return SW_OK;
}

static sw_status give(const sw_words *words, const sw_prices *prices, int *code) {
    sw_words report = *words;
    char *text = NULL;
    report.output = NULL;
    sw_status status = words->json
                           ? sw_render_prices_json(&text, prices)
                           : sw_render_prices_text(&text, prices, sw_style_of_output(&report));
    if (sw_prices_refused(prices) > 0) {
        *code = SW_EXIT_BAD_DATA;
        fprintf(stderr, "swapworth: %zu %s refused: %s.\n", sw_prices_refused(prices),
                sw_prices_refused(prices) == 1 ? "row is" : "rows are",
                words->output != NULL || words->parts != NULL ? "nothing was written"
                                                              : "the report says which and why");
    }
    if (status == SW_OK)
        status = write_one(words->parts, prices, sw_render_prices_parts, code);
    status = status == SW_OK ? write_listings(words, prices, code) : status;
    if (status == SW_OK)
        *code = sw_give_out(&report, text, *code);
    free(text);
    return status;
}

int sw_intake_prices(const sw_words *words) {
    const char *wrong = misuse(words);
    if (wrong != NULL)
        return sw_misused(words, wrong);
    if (words->profile == NULL)
        return without_profile(words);
    const sw_price_list list = {.path = words->files[0],
                                .catalog = catalog_of(words),
                                .profile = words->profile,
                                .confirm = words->confirm,
                                .confirm_may_miss = words->ask};
    sw_complaints *complaints = sw_complaints_new();
    sw_prices *prices = NULL;
    int code = SW_EXIT_ANSWERED;
    sw_status status =
        complaints == NULL ? SW_NO_MEMORY : sw_prices_read(&prices, &list, complaints);
    if (status == SW_OK && words->ask)
        status = ask(&prices, words, &list, &code, complaints);
    if (status == SW_OK && code == SW_EXIT_ANSWERED)
        status = give(words, prices, &code);
    if (status != SW_OK) {
        sw_words report = *words;
        report.output = NULL;
        code = sw_end_with(&report, complaints, status);
    }
    sw_prices_free(prices);
    sw_complaints_free(complaints);
    return code;
}
