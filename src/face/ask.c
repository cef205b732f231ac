/* `intake ask`: the interview at a terminal, or from a file of answers. */
#include "face/errand.h"
#include "face/intake.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Far more than an answer may have; what is behind it in a line is thrown away unread. */
#define LINE_BYTES 65536

/* ---- signals ------------------------------------------------------------------------------------
 */

static const int ending[] = {SIGINT, SIGTERM, SIGHUP};
static const char nothing_written[] = "\nNothing was written.\n";

/* Nothing is written before the last answer, so the signal may end the program as it always does.
 */
static void on_signal(int number) {
    ssize_t told = write(STDERR_FILENO, nothing_written, sizeof nothing_written - 1);
    (void)told;
    signal(number, SIG_DFL);
    raise(number);
}

/* What was ignored when the program was started stays so. */
static void on_ending(void (*handler)(int)) {
    for (size_t i = 0; i < sizeof ending / sizeof *ending; i++) {
        struct sigaction old;
        if (sigaction(ending[i], NULL, &old) == 0 && old.sa_handler != SIG_IGN)
            signal(ending[i], handler);
    }
}

/* ---- one line
 * ------------------------------------------------------------------------------------- */

typedef struct line {
    char *bytes;
    size_t length, room;
} line;

static bool add_byte(line *to, char byte) {
    if (to->length == to->room) {
        size_t room = to->room == 0 ? 256 : to->room * 2;
        char *bytes = realloc(to->bytes, room);
        if (bytes == NULL)
            return false;
        to->bytes = bytes;
        to->room = room;
    }
    to->bytes[to->length++] = byte;
    return true;
}

/* False at the end of the input: a line that has none was not sent off. */
static bool read_line(line *out) {
    int byte = EOF;
    out->length = 0;
    while ((byte = getc(stdin)) != EOF && byte != '\n')
        if (out->length < LINE_BYTES && !add_byte(out, (char)byte))
            return false;
    return byte == '\n';
}

/* ---- the dialogue
 * ----------------------------------------------------------------------------------- */

static bool show(const sw_interview *interview, sw_text_style style) {
    char *text = NULL;
    if (sw_render_interview_text(&text, interview, style) != SW_OK)
        return false;
    bool good = fputs(text, stdout) >= 0;
    if (sw_interview_get_state(interview) == SW_INTERVIEW_ASKS)
        good = fputs("> ", stdout) >= 0 && good;
    free(text);
    return sw_close_output(stdout) && good;
}

static const char how_to_answer[] =
    "An empty line skips a question, \"back\" goes to the one before, \"?\" tells why\n"
    "it is asked, \"quit\" ends and writes nothing.\n";

/* Until all is agreed to, the client leaves, or the input ends. */
static sw_status talk(const sw_words *words, sw_interview *interview) {
    sw_words to_screen = *words;
    to_screen.output = NULL;
    sw_text_style style = sw_style_of_output(&to_screen);
    line answer = {0};
    sw_status status = SW_OK;
    on_ending(on_signal);
    printf("%s is written only when all is answered and you say yes.\n%s",
           words->output != NULL ? "The new scenario" : "The scenario", how_to_answer);
    while (status == SW_OK && sw_interview_get_state(interview) == SW_INTERVIEW_ASKS) {
        status = sw_interview_estimate(interview);
        if (status != SW_OK)
            break;
        if (!show(interview, style)) {
            status = SW_CANNOT_WRITE;
            break;
        }
        if (!read_line(&answer))
            break;
        status =
            sw_interview_answer(interview, answer.bytes == NULL ? "" : answer.bytes, answer.length);
    }
    free(answer.bytes);
    return status;
}

/* ---- what is written
 * ----------------------------------------------------------------------------------- */

static int write_all(const sw_words *words, sw_interview *interview, sw_complaints *complaints) {
    char *scenario = NULL, *answers = NULL;
    sw_words to = *words;
    to.output = words->output != NULL ? words->output : words->files[0];
    int code = SW_EXIT_ANSWERED;
    sw_status status = sw_interview_scenario(&scenario, interview, complaints);
    if (status == SW_OK)
        status = sw_interview_answers(&answers, interview);
    if (status != SW_OK)
        code = sw_end_with(words, complaints, status);
    on_ending(SIG_IGN);
    if (status == SW_OK && words->keep_answers != NULL)
        code = sw_write_file(words->keep_answers, answers, code);
    if (status == SW_OK && code == SW_EXIT_ANSWERED)
        code = sw_give_out(&to, scenario, code);
    if (code == SW_EXIT_ANSWERED && words->answers == NULL)
        printf("\nWritten. What it comes to: swapworth plan FILE\n");
    free(scenario);
    free(answers);
    return code;
}

static int cannot_show(void) {
    fputs("swapworth: cannot write to standard output. Nothing was written.\n", stderr);
    return SW_EXIT_CANNOT_WRITE;
}

static int end(const sw_words *words, sw_interview *interview, sw_status status,
               sw_complaints *complaints) {
    if (status == SW_CANNOT_WRITE)
        return cannot_show();
    if (status != SW_OK)
        return sw_end_with(words, complaints, status);
    if (sw_interview_get_state(interview) == SW_INTERVIEW_AGREED)
        return write_all(words, interview, complaints);
    fputs(nothing_written, stderr);
    return SW_EXIT_STOPPED_EARLY;
}

/* ---- words
 * --------------------------------------------------------------------------------------------- */

static bool is_input(const sw_words *words, const char *path) {
    return sw_is_same_file(path, words->files[0]) ||
           (words->answers != NULL && sw_is_same_file(path, words->answers));
}

static const char *misuse_of_names(const sw_words *words) {
    const char *const names[] = {words->files[0], words->output, words->answers,
                                 words->keep_answers};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (names[i] != NULL && names[i][0] == '\0')
            return "the name of a file is empty";
    if (words->keep_answers != NULL && strcmp(words->keep_answers, "-") == 0)
        return "--keep-answers takes the name of a file";
    if (words->keep_answers != NULL && is_input(words, words->keep_answers))
        return "--keep-answers would write over a file that is read";
    if (words->keep_answers != NULL && words->output != NULL &&
        sw_is_same_file(words->keep_answers, words->output))
        return "--keep-answers and -o name the same file";
    if (words->output != NULL && words->answers != NULL &&
        sw_is_same_file(words->output, words->answers))
        return "-o names a file that is read";
    return NULL;
}

static const char *misuse(const sw_words *words) {
    if (words->file_count == 0)
        return "a scenario is missing";
    if (words->file_count > 1)
        return "one scenario at a time, please";
    if (sw_misplaced(words, "intake ask") != NULL)
        return sw_misplaced(words, "intake ask");
    if (words->json || words->budget != NULL || words->card != NULL || words->date != NULL)
        return "intake ask takes no --json, --budget, --card or --date";
    bool from_input = strcmp(words->files[0], "-") == 0;
    bool to_output = words->output != NULL && strcmp(words->output, "-") == 0;
    if ((from_input || to_output) && words->answers == NULL)
        return "standard input and output are for the talk: name files, or give --answers FILE";
    if (from_input && (words->output == NULL || strcmp(words->answers, "-") == 0))
        return "with the scenario from standard input, name its output and the answers: -o FILE "
               "--answers FILE";
    return misuse_of_names(words);
}

static bool would_change_catalog(const sw_words *words) {
    sw_words kept = {.output = words->keep_answers};
    return sw_would_change_catalog(words, words->files[0], NULL) ||
           (words->keep_answers != NULL && sw_would_change_catalog(&kept, words->files[0], NULL));
}

int sw_intake_ask(const sw_words *words) {
    const char *wrong = misuse(words);
    if (wrong == NULL && would_change_catalog(words))
        wrong = sw_over_catalog;
    if (wrong != NULL)
        return sw_misused(words, wrong);
    bool to_file = words->output != NULL && strcmp(words->output, "-") != 0;
    const char *result = to_file ? words->output : NULL;
    sw_interview *interview = NULL;
    sw_complaints *complaints = sw_complaints_new();
    sw_status status = complaints == NULL ? SW_NO_MEMORY
                                          : sw_interview_begin(&interview, words->files[0], result,
                                                               words->catalog, complaints);
    if (status == SW_OK && words->title != NULL)
        status = sw_interview_title(interview, words->title, complaints);
    if (status == SW_OK)
        status = words->answers != NULL ? sw_interview_play(interview, words->answers, complaints)
                                        : talk(words, interview);
    int code = end(words, interview, status, complaints);
    sw_interview_free(interview);
    sw_complaints_free(complaints);
    return code;
}
