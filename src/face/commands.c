/* The commands. */
#include "face/commands.h"

#include "render/small_json.h"

#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <unistd.h>

static int misused(const sw_words *words, const char *what) {
    fprintf(stderr, "swapworth: %s.\n  swapworth %s\n", what, words->usage);
    return SW_EXIT_USAGE;
}

static sw_plan_options options_of(const sw_words *words) {
    sw_plan_options options = sw_plan_options_default();
    options.seconds = words->seconds;
    options.now = sw_steady_seconds;
    options.allow_unknown = words->allow_unknown;
    return options;
}

static sw_status read_scenario(sw_scenario **out, const sw_words *words,
                               sw_complaints *complaints) {
    sw_status status = sw_scenario_read(out, words->files[0], words->catalog, complaints);
    if (status == SW_OK && words->budget != NULL)
        status = sw_scenario_set_budget(*out, words->budget, complaints);
    return status;
}

/* Would the answer be written over the scenario it is read from? */
static bool output_is_input(const sw_words *words) {
    struct stat in, out;
    return words->output != NULL && stat(words->output, &out) == 0 && S_ISREG(out.st_mode) &&
           stat(words->files[0], &in) == 0 && in.st_dev == out.st_dev && in.st_ino == out.st_ino;
}

/* What is wrong with the words of a command that takes one scenario; NULL: nothing. */
static const char *misuse_of_one(const sw_words *words, bool exports) {
    if (words->file_count != 1)
        return words->file_count == 0 ? "a scenario is missing" : "one scenario at a time, please";
    if (words->files[0][0] == '\0')
        return "the name of the scenario is empty";
    if (words->output != NULL && words->output[0] == '\0')
        return "the name behind -o is empty";
    if (!exports && (words->lp || words->mps))
        return "--lp and --mps belong to export";
    if (exports && words->lp == words->mps)
        return "export takes either --lp or --mps";
    if (output_is_input(words))
        return "the output would be written over the scenario";
    return NULL;
}

/* Columns of the terminal, 80 when the output is not one. */
static int width_of_output(const sw_words *words) {
    struct winsize size;
    if (words->output == NULL && isatty(STDOUT_FILENO) &&
        ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0)
        return size.ws_col;
    return 80;
}

static int code_of(const sw_answer *answer) {
    switch (sw_answer_get_status(answer)) {
    case SW_OPTIMAL:
        return SW_EXIT_ANSWERED;
    case SW_NOTHING_FITS:
        return SW_EXIT_NOTHING_FITS;
    default:
        return SW_EXIT_STOPPED_EARLY;
    }
}

/* Complaints as JSON go to standard output too, so that a program that reads
 * the answer learns why there is none. */
static int end_with(const sw_words *words, const sw_complaints *complaints, sw_status status) {
    int code = sw_say_complaints(complaints, status);
    const sw_complaint *first = sw_complaints_get(complaints, 0);
    if (code == SW_EXIT_BAD_DATA && first != NULL && strcmp(first->file, "--budget") == 0)
        code = SW_EXIT_USAGE;
    char *text = NULL;
    if (words->json && status != SW_NO_MEMORY &&
        sw_render_complaints_json(&text, complaints) == SW_OK)
        code = sw_give_out(words, text, code);
    free(text);
    return code;
}

int sw_command_plan(const sw_words *words) {
    const char *misuse = misuse_of_one(words, false);
    if (misuse != NULL)
        return misused(words, misuse);
    sw_complaints *complaints = sw_complaints_new();
    sw_scenario *scenario = NULL;
    sw_answer *answer = NULL;
    char *text = NULL;
    sw_plan_options options = options_of(words);
    sw_status status =
        complaints == NULL ? SW_NO_MEMORY : read_scenario(&scenario, words, complaints);
    if (status == SW_OK)
        status = sw_plan(&answer, scenario, &options, complaints);
    if (status == SW_OK)
        status = words->json ? sw_render_plan_json(&text, answer)
                             : sw_render_plan_text(&text, answer, width_of_output(words));
    int code = status == SW_OK ? sw_give_out(words, text, code_of(answer))
                               : end_with(words, complaints, status);
    free(text);
    sw_answer_free(answer);
    sw_scenario_free(scenario);
    sw_complaints_free(complaints);
    return code;
}

int sw_command_export(const sw_words *words) {
    const char *misuse = misuse_of_one(words, true);
    if (misuse != NULL)
        return misused(words, misuse);
    sw_complaints *complaints = sw_complaints_new();
    sw_scenario *scenario = NULL;
    char *text = NULL;
    sw_plan_options options = options_of(words);
    sw_status status =
        complaints == NULL ? SW_NO_MEMORY : read_scenario(&scenario, words, complaints);
    if (status == SW_OK)
        status = sw_export(&text, scenario, &options, words->lp ? SW_EXPORT_LP : SW_EXPORT_MPS,
                           complaints);
    char *json = NULL;
    if (status == SW_OK && words->json)
        status = sw_render_export_json(&json, words->lp ? "lp" : "mps", text);
    int code = status == SW_OK ? sw_give_out(words, words->json ? json : text, SW_EXIT_ANSWERED)
                               : end_with(words, complaints, status);
    free(json);
    free(text);
    sw_scenario_free(scenario);
    sw_complaints_free(complaints);
    return code;
}

static bool is_folder(const char *path) {
    struct stat info;
    return stat(path, &info) == 0 && S_ISDIR(info.st_mode);
}

static sw_status check_one(const char *path, const sw_words *words, sw_complaints *complaints) {
    if (is_folder(path))
        return sw_catalog_check(path, complaints);
    sw_scenario *scenario = NULL;
    sw_status status = sw_scenario_read(&scenario, path, words->catalog, complaints);
    sw_scenario_free(scenario);
    return status;
}

int sw_command_check(const sw_words *words) {
    if (words->file_count < 1)
        return misused(words, "check takes scenarios (files) and catalogs (folders)");
    for (int i = 0; i < words->file_count; i++)
        if (words->files[i][0] == '\0')
            return misused(words, "the name of a file is empty");
    if (words->lp || words->mps || words->budget != NULL)
        return misused(words, "check takes no --lp, --mps or --budget");
    sw_complaints *complaints = sw_complaints_new();
    if (complaints == NULL)
        return sw_say_complaints(NULL, SW_NO_MEMORY);
    sw_status worst = SW_OK;
    for (int i = 0; i < words->file_count; i++) {
        sw_status status = check_one(words->files[i], words, complaints);
        worst = status > worst ? status : worst;
    }
    int code = end_with(words, complaints, worst);
    if (worst == SW_OK && !words->json)
        code = sw_give_out(words, "Nothing to complain of.\n", code);
    sw_complaints_free(complaints);
    return code;
}
