/* One question about one scenario: from the words to what is given out. */
#include "face/errand.h"
#include "base/letters.h"

#include "render/small_json.h"

#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

int sw_misused(const sw_words *words, const char *what) {
    if (sw_looks_lacked_memory())
        return sw_say_complaints(NULL, SW_NO_MEMORY);
    fprintf(stderr, "swapworth: %s.\n", what);
    sw_say_usage(words);
    return SW_EXIT_USAGE;
}

static sw_plan_options options_of(const sw_words *words) {
    sw_plan_options options = sw_plan_options_default();
    if (words->seconds > 0)
        options.seconds = words->seconds;
    if (words->best > 0)
        options.best = words->best;
    options.apart = words->apart;
    options.brief = words->brief;
    options.now = sw_steady_seconds;
    options.allow_unknown = words->allow_unknown;
    options.verify = words->verify;
    options.calibration = words->calibration;
    return options;
}

/* Looking at the machine needs no wishes: a draft will do. */
static sw_status read_scenario(sw_scenario **out, const sw_words *words, const char *command,
                               sw_complaints *complaints) {
    bool looks = strcmp(command, "look") == 0;
    sw_status status = (looks ? sw_scenario_read_draft
                              : sw_scenario_read)(out, words->files[0], words->catalog, complaints);
    if (status == SW_OK && words->budget != NULL)
        status = sw_scenario_set_budget(*out, words->budget, complaints);
    return status;
}

static bool ends_in_utf8(const char *locale) {
    const char *set = strchr(locale, '.');
    static const char *const names[] = {".UTF-8", ".utf8", ".UTF8", ".utf-8"};
    for (size_t i = 0; set != NULL && i < sizeof names / sizeof *names; i++)
        if (strncmp(set, names[i], strlen(names[i])) == 0)
            return true;
    return false;
}

/* By the environment, as POSIX orders its names: the program itself stays in the C locale. */
static bool terminal_takes_utf8(void) {
    static const char *const names[] = {"LC_ALL", "LC_CTYPE", "LANG"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const char *locale = getenv(names[i]);
        if (locale != NULL && locale[0] != '\0')
            return ends_in_utf8(locale);
    }
    return false;
}

/* The terminal's width, bold headings where it can and may show them, and a fine picture where it
 * has the letters: the bare console ("linux") has not. 80 plain columns when the output is no
 * terminal. */
sw_text_style sw_style_of_output(const sw_words *words) {
    struct winsize size;
    sw_text_style style = {.width = 80, .picture = SW_PICTURE_PLAIN};
    if (words->output != NULL || !isatty(STDOUT_FILENO))
        return style;
    if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0)
        style.width = size.ws_col;
    const char *no_color = getenv("NO_COLOR"), *term = getenv("TERM");
    bool able = term != NULL && term[0] != '\0' && strcmp(term, "dumb") != 0;
    style.bold = (no_color == NULL || no_color[0] == '\0') && able;
    if (able && strcmp(term, "linux") != 0 && terminal_takes_utf8())
        style.picture = SW_PICTURE_BRAILLE;
    return style;
}

/* The exit code of an answer that is settled or is not. */
int sw_code_of_status(sw_answer_status status, bool settled) {
    static const int codes[] = {[SW_OPTIMAL] = SW_EXIT_ANSWERED,
                                [SW_NOTHING_FITS] = SW_EXIT_NOTHING_FITS,
                                [SW_STOPPED_EARLY] = SW_EXIT_STOPPED_EARLY};
    return status == SW_OPTIMAL && !settled ? SW_EXIT_STOPPED_EARLY : codes[status];
}

/* In capitals or not. */
static bool ends_in(const char *text, const char *end) {
    size_t length = strlen(text), of = strlen(end);
    for (size_t i = 0; length >= of && i < of; i++) {
        if (sw_small_letter(text[length - of + i]) != end[i])
            return false;
    }
    return length >= of;
}

/* `-o NAME.html` asks for the page; the text or JSON then goes to standard output. */
bool sw_wants_page(const sw_words *words) {
    return words->output != NULL &&
           (ends_in(words->output, ".html") || ends_in(words->output, ".htm"));
}

/* Complaints as JSON go to standard output too, so that a program that reads
 * the answer learns why there is none. */
int sw_end_with(const sw_words *words, const sw_complaints *complaints, sw_status status) {
    char *text = NULL;
    if (words->json && status != SW_NO_MEMORY &&
        sw_render_complaints_json(&text, complaints) != SW_OK)
        status = SW_NO_MEMORY;
    int code = sw_say_complaints(complaints, status);
    const sw_complaint *first = sw_complaints_get(complaints, 0);
    if (code == SW_EXIT_BAD_DATA && first != NULL &&
        (strncmp(first->file, "--", 2) == 0 || strcmp(first->file, "PART") == 0 ||
         strcmp(first->file, "ROLE") == 0))
        code = SW_EXIT_USAGE;
    if (text != NULL)
        code = sw_give_out(words, text, code);
    free(text);
    return code;
}

/* The picture first: where it cannot be written the answer is still given, and the exit code
 * tells. */
static int give_both(const sw_words *words, const sw_errand *e) {
    int code = e->code;
    sw_words rest = *words;
    if (e->picture != NULL)
        code = sw_write_file(e->picture_path, e->picture, code);
    if (e->record != NULL && code != SW_EXIT_INTERNAL)
        code = sw_write_file(e->record_path, e->record, code);
    if (code == SW_EXIT_INTERNAL) /* that memory is lacking is told once */
        return code;
    if (e->picture_path != NULL && e->picture_path == words->output)
        rest.output = NULL;
    return sw_give_out(&rest, e->text, code);
}

/* Reads the scenario, lets `ask` fill in text and code, gives the text out. */
int sw_run_errand(const sw_words *words, const char *command, sw_status (*ask)(sw_errand *)) {
    const char *misuse = sw_misuse_of_one(words, command);
    if (misuse != NULL)
        return sw_misused(words, misuse);
    sw_errand e = {.words = words, .options = options_of(words), .complaints = sw_complaints_new()};
    sw_status status = e.complaints == NULL
                           ? SW_NO_MEMORY
                           : read_scenario(&e.scenario, words, command, e.complaints);
    bool into_catalog = sw_would_change_catalog(words, words->files[0], e.scenario);
    if (status == SW_OK && !into_catalog)
        status = ask(&e);
    int code = into_catalog      ? sw_misused(words, sw_over_catalog)
               : status == SW_OK ? give_both(words, &e)
                                 : sw_end_with(words, e.complaints, status);
    free(e.text);
    free(e.picture);
    free(e.record);
    sw_scenario_free(e.scenario);
    sw_complaints_free(e.complaints);
    return code;
}
