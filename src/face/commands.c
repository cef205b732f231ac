/* The commands. */
#include "face/commands.h"

#include "face/waiting.h"

#include "base/base.h"
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
    if (words->seconds > 0)
        options.seconds = words->seconds;
    if (words->best > 0)
        options.best = words->best;
    options.apart = words->apart;
    options.now = sw_steady_seconds;
    options.allow_unknown = words->allow_unknown;
    options.verify = words->verify;
    return options;
}

static sw_status read_scenario(sw_scenario **out, const sw_words *words,
                               sw_complaints *complaints) {
    sw_status status = sw_scenario_read(out, words->files[0], words->catalog, complaints);
    if (status == SW_OK && words->budget != NULL)
        status = sw_scenario_set_budget(*out, words->budget, complaints);
    return status;
}

/* Would what is written go over the scenario it is read from? */
static bool output_is_input(const sw_words *words) {
    return (words->output != NULL && sw_is_same_file(words->output, words->files[0])) ||
           (words->svg != NULL && sw_is_same_file(words->svg, words->files[0]));
}

static const char over_catalog[] =
    "the output would be written into the catalog's folder, among the files that are read";

/* What is wrong with where the picture is to go; NULL: nothing. */
static const char *misuse_of_picture(const sw_words *words) {
    if (words->svg == NULL)
        return NULL;
    if (words->svg[0] == '\0')
        return "the name behind --svg is empty";
    if (strcmp(words->svg, "-") == 0)
        return "--svg takes the name of a file: standard output is for the answer itself";
    if (words->output != NULL && sw_is_same_file(words->svg, words->output))
        return "--svg and -o name the same file";
    return NULL;
}

/* Options that belong to one command alone. */
static const char *misplaced(const sw_words *words, const char *command) {
    bool plans = strcmp(command, "plan") == 0, draws = strcmp(command, "curve") == 0;
    bool asks = strcmp(command, "whatif") == 0;
    bool waits = strcmp(command, "look") != 0 && strcmp(command, "explain") != 0 &&
                 strcmp(command, "check") != 0 && strcmp(command, "export") != 0;
    if (strcmp(command, "export") != 0 && (words->lp || words->mps))
        return "--lp and --mps belong to export";
    if (!plans && (words->best > 0 || words->apart > 0))
        return "--best and --apart belong to plan";
    if (!draws && (words->from != NULL || words->to != NULL || words->csv))
        return "--from, --to and --csv belong to curve";
    if (!draws && words->svg != NULL)
        return "--svg belongs to curve";
    if (!draws && !plans && words->verify)
        return "--verify belongs to plan and curve";
    if (!waits && words->progress)
        return "--progress belongs to the commands that solve: plan, curve, why, fits, whatif, "
               "first, phases, options and ranges";
    if (!asks && words->setting_count > 0)
        return "--set belongs to whatif";
    if (asks && words->setting_count == 0)
        return "whatif takes at least one --set PATH=VALUE";
    if (asks && words->budget != NULL)
        return "whatif takes --set budget.total=M, not --budget";
    if (strcmp(command, "phases") == 0 && words->budget != NULL)
        return "phases takes no --budget: its money stands in the scenario";
    if (draws && words->budget != NULL)
        return "curve takes --from and --to, not --budget";
    if (strcmp(command, "fits") == 0 && words->budget != NULL)
        return "fits takes no --budget: money plays no part in it";
    if (strcmp(command, "why") != 0 && words->over != NULL)
        return "--over belongs to why";
    if (words->json && words->csv)
        return "either --json or --csv";
    return NULL;
}

/* What is wrong with the words of a command about one scenario; NULL: nothing. */
static const char *misuse_of_one(const sw_words *words, const char *command) {
    bool names_part = strcmp(command, "why") == 0, names_parts = strcmp(command, "fits") == 0;
    names_parts = names_parts || strcmp(command, "ranges") == 0;
    if (words->file_count == 0)
        return "a scenario is missing";
    if (names_part && words->file_count != 2)
        return words->file_count == 1 ? "a part is missing" : "one part at a time, please";
    if (strcmp(command, "explain") == 0 && words->file_count > 2)
        return "one part at a time, please";
    if (words->file_count > 1 && !names_part && !names_parts && strcmp(command, "explain") != 0)
        return "one scenario at a time, please";
    if (words->files[0][0] == '\0')
        return "the name of the scenario is empty";
    if (words->output != NULL && words->output[0] == '\0')
        return "the name behind -o is empty";
    if (strcmp(command, "export") == 0 && words->lp == words->mps)
        return "export takes either --lp or --mps";
    if (output_is_input(words))
        return "the output would be written over the scenario";
    if (misuse_of_picture(words) != NULL)
        return misuse_of_picture(words);
    return misplaced(words, command);
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
static sw_text_style style_of_output(const sw_words *words) {
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

static int code_of(const sw_answer *answer) {
    switch (sw_answer_get_status(answer)) {
    case SW_OPTIMAL:
        return sw_answer_is_settled(answer) ? SW_EXIT_ANSWERED : SW_EXIT_STOPPED_EARLY;
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
    if (code == SW_EXIT_BAD_DATA && first != NULL &&
        (strncmp(first->file, "--", 2) == 0 || strcmp(first->file, "PART") == 0))
        code = SW_EXIT_USAGE;
    char *text = NULL;
    if (words->json && status != SW_NO_MEMORY &&
        sw_render_complaints_json(&text, complaints) == SW_OK)
        code = sw_give_out(words, text, code);
    free(text);
    return code;
}

/* One question about one scenario, from the words to the text of the answer. */
typedef struct errand {
    const sw_words *words;
    sw_scenario *scenario;
    sw_plan_options options;
    sw_complaints *complaints;
    sw_waiting waiting;
    char *text;
    char *picture; /* a second thing to give out, or NULL */
    const char *picture_path;
    int code;
} errand;

/* The picture first: where it cannot be written the answer is still given, and the exit code
 * tells. */
static int give_both(const sw_words *words, const errand *e) {
    int code = e->code;
    sw_words rest = *words;
    if (e->picture != NULL)
        code = sw_write_file(e->picture_path, e->picture, code);
    if (e->picture_path != NULL && e->picture_path == words->output)
        rest.output = NULL;
    return sw_give_out(&rest, e->text, code);
}

/* Reads the scenario, lets `ask` fill in text and code, gives the text out. */
static int run_errand(const sw_words *words, const char *command, sw_status (*ask)(errand *)) {
    const char *misuse = misuse_of_one(words, command);
    if (misuse != NULL)
        return misused(words, misuse);
    errand e = {.words = words, .options = options_of(words), .complaints = sw_complaints_new()};
    sw_status status =
        e.complaints == NULL ? SW_NO_MEMORY : read_scenario(&e.scenario, words, e.complaints);
    bool into_catalog = sw_would_change_catalog(words, words->files[0], e.scenario);
    if (status == SW_OK && !into_catalog)
        status = ask(&e);
    int code = into_catalog      ? misused(words, over_catalog)
               : status == SW_OK ? give_both(words, &e)
                                 : end_with(words, e.complaints, status);
    free(e.text);
    free(e.picture);
    sw_scenario_free(e.scenario);
    sw_complaints_free(e.complaints);
    return code;
}

static sw_status ask_plan(errand *e) {
    sw_answer *answer = NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status = sw_plan(&answer, e->scenario, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = code_of(answer);
    status = e->words->json ? sw_render_plan_json(&e->text, answer)
                            : sw_render_plan_text(&e->text, answer, style_of_output(e->words));
    sw_answer_free(answer);
    return status;
}

int sw_command_plan(const sw_words *words) { return run_errand(words, "plan", ask_plan); }

static sw_status ask_look(errand *e) {
    sw_look *look = NULL;
    sw_status status = sw_ask_look(&look, e->scenario, &e->options, e->complaints);
    if (status != SW_OK)
        return status;
    e->code = SW_EXIT_ANSWERED;
    status = e->words->json ? sw_render_look_json(&e->text, look)
                            : sw_render_look_text(&e->text, look, style_of_output(e->words));
    sw_look_free(look);
    return status;
}

int sw_command_look(const sw_words *words) { return run_errand(words, "look", ask_look); }

static sw_status ask_explain(errand *e) {
    sw_explain *explain = NULL;
    const char *part = e->words->file_count > 1 ? e->words->files[1] : NULL;
    sw_status status = sw_ask_explain(&explain, e->scenario, part, &e->options, e->complaints);
    if (status != SW_OK)
        return status;
    e->code = SW_EXIT_ANSWERED;
    status = e->words->json ? sw_render_explain_json(&e->text, explain)
                            : sw_render_explain_text(&e->text, explain, style_of_output(e->words));
    sw_explain_free(explain);
    return status;
}

int sw_command_explain(const sw_words *words) { return run_errand(words, "explain", ask_explain); }

static sw_status ask_fits(errand *e) {
    static const int codes[] = {[SW_FITS] = SW_EXIT_ANSWERED,
                                [SW_FITS_UNKNOWN] = SW_EXIT_NOTHING_FITS,
                                [SW_FITS_REFUSED] = SW_EXIT_NOTHING_FITS};
    sw_fits *fits = NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status = sw_ask_fits(&fits, e->scenario, (const char *const *)e->words->files + 1,
                                   (size_t)e->words->file_count - 1, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = sw_fits_is_settled(fits) ? codes[sw_fits_get_verdict(fits)] : SW_EXIT_STOPPED_EARLY;
    status = e->words->json ? sw_render_fits_json(&e->text, fits)
                            : sw_render_fits_text(&e->text, fits, style_of_output(e->words));
    sw_fits_free(fits);
    return status;
}

int sw_command_fits(const sw_words *words) { return run_errand(words, "fits", ask_fits); }

/* Reads --from and --to; they may not be the wrong way round. */
static sw_status read_ends(sw_plan_options *options, const sw_words *words,
                           const sw_scenario *scenario, sw_complaints *complaints) {
    sw_status status = SW_OK;
    if (words->from != NULL)
        status =
            sw_scenario_money(&options->curve_from, scenario, "--from", words->from, complaints);
    if (status == SW_OK && words->to != NULL)
        status = sw_scenario_money(&options->curve_to, scenario, "--to", words->to, complaints);
    if (status != SW_OK || words->to == NULL || options->curve_from <= options->curve_to)
        return status;
    sw_complain(complaints, "--from", "", "the curve goes from the lower cost to the higher",
                "exchange --from and --to", "lies above --to");
    return SW_BAD_DATA;
}

static sw_status render_curve(char **text, const sw_words *words, const sw_answer *answer) {
    if (words->json)
        return sw_render_curve_json(text, answer);
    if (words->csv)
        return sw_render_curve_csv(text, answer);
    return sw_render_curve_text(text, answer, style_of_output(words));
}

/* The exit code of an answer that is settled or is not. */
static int code_of_status(sw_answer_status status, bool settled) {
    static const int codes[] = {[SW_OPTIMAL] = SW_EXIT_ANSWERED,
                                [SW_NOTHING_FITS] = SW_EXIT_NOTHING_FITS,
                                [SW_STOPPED_EARLY] = SW_EXIT_STOPPED_EARLY};
    return status == SW_OPTIMAL && !settled ? SW_EXIT_STOPPED_EARLY : codes[status];
}

static sw_status ask_why(errand *e) {
    sw_why *why = NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status = sw_ask_why(&why, e->scenario, e->words->files[1], e->words->over,
                                  &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = code_of_status(sw_why_get_status(why), sw_why_is_settled(why));
    status = e->words->json ? sw_render_why_json(&e->text, why)
                            : sw_render_why_text(&e->text, why, style_of_output(e->words));
    sw_why_free(why);
    return status;
}

int sw_command_why(const sw_words *words) { return run_errand(words, "why", ask_why); }

static sw_status ask_whatif(errand *e) {
    sw_whatif *whatif = NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status = sw_ask_whatif(&whatif, e->scenario, e->words->settings,
                                     e->words->setting_count, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = code_of_status(sw_whatif_get_status(whatif), true);
    status = e->words->json ? sw_render_whatif_json(&e->text, whatif)
                            : sw_render_whatif_text(&e->text, whatif, style_of_output(e->words));
    sw_whatif_free(whatif);
    return status;
}

int sw_command_whatif(const sw_words *words) { return run_errand(words, "whatif", ask_whatif); }

static sw_status ask_first(errand *e) {
    sw_first *first = NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status = sw_ask_first(&first, e->scenario, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = code_of_status(sw_first_get_status(first), true);
    status = e->words->json ? sw_render_first_json(&e->text, first)
                            : sw_render_first_text(&e->text, first, style_of_output(e->words));
    sw_first_free(first);
    return status;
}

int sw_command_first(const sw_words *words) { return run_errand(words, "first", ask_first); }

static sw_status ask_phases(errand *e) {
    sw_phases *phases = NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status = sw_ask_phases(&phases, e->scenario, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = code_of_status(sw_phases_get_status(phases), true);
    status = e->words->json ? sw_render_phases_json(&e->text, phases)
                            : sw_render_phases_text(&e->text, phases, style_of_output(e->words));
    sw_phases_free(phases);
    return status;
}

/* In capitals or not. */
static bool ends_in(const char *text, const char *end) {
    size_t length = strlen(text), of = strlen(end);
    for (size_t i = 0; length >= of && i < of; i++) {
        char letter = text[length - of + i];
        letter = letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter;
        if (letter != end[i])
            return false;
    }
    return length >= of;
}

/* `-o NAME.html` asks for the page; the text or JSON then goes to standard output. */
static bool wants_page(const sw_words *words) {
    return words->output != NULL &&
           (ends_in(words->output, ".html") || ends_in(words->output, ".htm"));
}

static sw_status ask_options(errand *e) {
    sw_options *options = NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status = sw_ask_options(&options, e->scenario, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = code_of_status(sw_options_get_status(options), sw_options_are_settled(options));
    e->picture_path = wants_page(e->words) ? e->words->output : NULL;
    status = e->words->json ? sw_render_options_json(&e->text, options)
                            : sw_render_options_text(&e->text, options, style_of_output(e->words));
    if (status == SW_OK && e->picture_path != NULL)
        status = sw_render_options_page(&e->picture, options);
    sw_options_free(options);
    return status;
}

int sw_command_options(const sw_words *words) { return run_errand(words, "options", ask_options); }

int sw_command_phases(const sw_words *words) { return run_errand(words, "phases", ask_phases); }

static sw_status ask_ranges(errand *e) {
    sw_ranges *ranges = NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status = sw_ask_ranges(&ranges, e->scenario, (const char *const *)e->words->files + 1,
                                     (size_t)e->words->file_count - 1, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = code_of_status(sw_ranges_get_status(ranges), sw_ranges_is_settled(ranges));
    status = e->words->json ? sw_render_ranges_json(&e->text, ranges)
                            : sw_render_ranges_text(&e->text, ranges, style_of_output(e->words));
    sw_ranges_free(ranges);
    return status;
}

int sw_command_ranges(const sw_words *words) { return run_errand(words, "ranges", ask_ranges); }

static sw_status ask_curve(errand *e) {
    sw_answer *answer = NULL;
    sw_status status = read_ends(&e->options, e->words, e->scenario, e->complaints);
    if (status != SW_OK)
        return status;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    status = sw_curve(&answer, e->scenario, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = code_of(answer);
    status = render_curve(&e->text, e->words, answer);
    e->picture_path = e->words->svg;
    if (status == SW_OK && e->words->svg != NULL)
        status = sw_render_curve_svg(&e->picture, answer);
    sw_answer_free(answer);
    return status;
}

int sw_command_curve(const sw_words *words) { return run_errand(words, "curve", ask_curve); }

static sw_status ask_export(errand *e) {
    char *text = NULL;
    sw_export_form form = e->words->lp ? SW_EXPORT_LP : SW_EXPORT_MPS;
    sw_status status = sw_export(&text, e->scenario, &e->options, form, e->complaints);
    e->code = SW_EXIT_ANSWERED;
    if (status != SW_OK || !e->words->json) {
        e->text = text;
        return status;
    }
    status = sw_render_export_json(&e->text, e->words->lp ? "lp" : "mps", text);
    free(text);
    return status;
}

int sw_command_export(const sw_words *words) { return run_errand(words, "export", ask_export); }

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

/* What is wrong with where complaints about these files are to go; NULL: nothing. */
static const char *misuse_of_checked(const sw_words *words) {
    for (int i = 0; i < words->file_count; i++) {
        const char *path = words->files[i];
        if (is_folder(path) ? sw_would_change_folder(words, path)
                            : sw_would_change_catalog(words, path, NULL))
            return over_catalog;
        if (words->output != NULL && sw_is_same_file(words->output, path))
            return "the output would be written over a file that is checked";
    }
    return NULL;
}

int sw_command_check(const sw_words *words) {
    if (words->file_count < 1)
        return misused(words, "check takes scenarios (files) and catalogs (folders)");
    for (int i = 0; i < words->file_count; i++)
        if (words->files[i][0] == '\0')
            return misused(words, "the name of a file is empty");
    if (words->budget != NULL)
        return misused(words, "check takes no --budget");
    if (misplaced(words, "check") != NULL)
        return misused(words, misplaced(words, "check"));
    if (words->output != NULL && words->output[0] == '\0')
        return misused(words, "the name behind -o is empty");
    if (misuse_of_checked(words) != NULL)
        return misused(words, misuse_of_checked(words));
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
