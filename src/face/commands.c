/* The commands. */
#include "face/errand.h"

#include "base/base.h"
#include "render/small_json.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

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

static sw_status ask_plan(sw_errand *e) {
    sw_answer *answer = NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status = sw_plan(&answer, e->scenario, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = code_of(answer);
    status = e->words->json ? sw_render_plan_json(&e->text, answer)
                            : sw_render_plan_text(&e->text, answer, sw_style_of_output(e->words));
    sw_answer_free(answer);
    return status;
}

int sw_command_plan(const sw_words *words) { return sw_run_errand(words, "plan", ask_plan); }

static sw_status ask_look(sw_errand *e) {
    sw_look *look = NULL;
    sw_status status = sw_ask_look(&look, e->scenario, &e->options, e->complaints);
    if (status != SW_OK)
        return status;
    e->code = SW_EXIT_ANSWERED;
    status = e->words->json ? sw_render_look_json(&e->text, look)
                            : sw_render_look_text(&e->text, look, sw_style_of_output(e->words));
    sw_look_free(look);
    return status;
}

int sw_command_look(const sw_words *words) { return sw_run_errand(words, "look", ask_look); }

static sw_status ask_explain(sw_errand *e) {
    sw_explain *explain = NULL;
    const char *part = e->words->file_count > 1 ? e->words->files[1] : NULL;
    sw_status status = sw_ask_explain(&explain, e->scenario, part, &e->options, e->complaints);
    if (status != SW_OK)
        return status;
    e->code = SW_EXIT_ANSWERED;
    status = e->words->json
                 ? sw_render_explain_json(&e->text, explain)
                 : sw_render_explain_text(&e->text, explain, sw_style_of_output(e->words));
    sw_explain_free(explain);
    return status;
}

int sw_command_explain(const sw_words *words) {
    return sw_run_errand(words, "explain", ask_explain);
}

static sw_status ask_fits(sw_errand *e) {
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
                            : sw_render_fits_text(&e->text, fits, sw_style_of_output(e->words));
    sw_fits_free(fits);
    return status;
}

int sw_command_fits(const sw_words *words) { return sw_run_errand(words, "fits", ask_fits); }

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
    return sw_render_curve_text(text, answer, sw_style_of_output(words));
}

static sw_status ask_why(sw_errand *e) {
    sw_why *why = NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status = sw_ask_why(&why, e->scenario, e->words->files[1], e->words->over,
                                  &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = sw_code_of_status(sw_why_get_status(why), sw_why_is_settled(why));
    status = e->words->json ? sw_render_why_json(&e->text, why)
                            : sw_render_why_text(&e->text, why, sw_style_of_output(e->words));
    sw_why_free(why);
    return status;
}

int sw_command_why(const sw_words *words) { return sw_run_errand(words, "why", ask_why); }

static sw_status ask_whatif(sw_errand *e) {
    sw_whatif *whatif = NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status = sw_ask_whatif(&whatif, e->scenario, e->words->settings.words,
                                     e->words->settings.count, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = sw_code_of_status(sw_whatif_get_status(whatif), true);
    status = e->words->json ? sw_render_whatif_json(&e->text, whatif)
                            : sw_render_whatif_text(&e->text, whatif, sw_style_of_output(e->words));
    sw_whatif_free(whatif);
    return status;
}

int sw_command_whatif(const sw_words *words) { return sw_run_errand(words, "whatif", ask_whatif); }

static sw_status ask_first(sw_errand *e) {
    sw_first *first = NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status = sw_ask_first(&first, e->scenario, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = sw_code_of_status(sw_first_get_status(first), true);
    status = e->words->json ? sw_render_first_json(&e->text, first)
                            : sw_render_first_text(&e->text, first, sw_style_of_output(e->words));
    sw_first_free(first);
    return status;
}

int sw_command_first(const sw_words *words) { return sw_run_errand(words, "first", ask_first); }

static sw_status ask_phases(sw_errand *e) {
    sw_phases *phases = NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status = sw_ask_phases(&phases, e->scenario, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = sw_code_of_status(sw_phases_get_status(phases), true);
    status = e->words->json ? sw_render_phases_json(&e->text, phases)
                            : sw_render_phases_text(&e->text, phases, sw_style_of_output(e->words));
    sw_phases_free(phases);
    return status;
}

int sw_command_phases(const sw_words *words) { return sw_run_errand(words, "phases", ask_phases); }

static sw_status ask_ranges(sw_errand *e) {
    sw_ranges *ranges = NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status = sw_ask_ranges(&ranges, e->scenario, (const char *const *)e->words->files + 1,
                                     (size_t)e->words->file_count - 1, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = sw_code_of_status(sw_ranges_get_status(ranges), sw_ranges_is_settled(ranges));
    status = e->words->json ? sw_render_ranges_json(&e->text, ranges)
                            : sw_render_ranges_text(&e->text, ranges, sw_style_of_output(e->words));
    sw_ranges_free(ranges);
    return status;
}

int sw_command_ranges(const sw_words *words) { return sw_run_errand(words, "ranges", ask_ranges); }

static sw_status ask_next(sw_errand *e) {
    sw_next *next = NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status = sw_ask_next(&next, e->scenario, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = sw_code_of_status(sw_next_get_status(next), true);
    status = e->words->json ? sw_render_next_json(&e->text, next)
                            : sw_render_next_text(&e->text, next, sw_style_of_output(e->words));
    sw_next_free(next);
    return status;
}

int sw_command_next(const sw_words *words) { return sw_run_errand(words, "ask-next", ask_next); }
static sw_status ask_map(sw_errand *e) {
    sw_map *map = NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status = sw_ask_map(&map, e->scenario, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = sw_code_of_status(sw_map_get_status(map), true);
    status = e->words->json ? sw_render_map_json(&e->text, map)
                            : sw_render_map_text(&e->text, map, sw_style_of_output(e->words));
    e->picture_path = e->words->svg;
    if (status == SW_OK && e->words->svg != NULL)
        status = sw_render_map_svg(&e->picture, map);
    sw_map_free(map);
    return status;
}

int sw_command_map(const sw_words *words) { return sw_run_errand(words, "map", ask_map); }

static sw_status ask_curve(sw_errand *e) {
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

int sw_command_curve(const sw_words *words) { return sw_run_errand(words, "curve", ask_curve); }

static sw_status ask_export(sw_errand *e) {
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

int sw_command_export(const sw_words *words) { return sw_run_errand(words, "export", ask_export); }

static bool is_folder(const char *path) {
    struct stat info;
    return stat(path, &info) == 0 && S_ISDIR(info.st_mode);
}

static sw_status check_one(const char *path, const sw_words *words, sw_complaints *complaints) {
    return is_folder(path) ? sw_catalog_check(path, complaints)
                           : sw_file_check(path, words->catalog, complaints);
}

/* What is wrong with where complaints about these files are to go; NULL: nothing. */
static const char *misuse_of_checked(const sw_words *words) {
    for (int i = 0; i < words->file_count; i++) {
        const char *path = words->files[i];
        if (is_folder(path) ? sw_would_change_folder(words, path)
                            : sw_would_change_catalog(words, path, NULL))
            return sw_over_catalog;
        if (words->output != NULL && sw_is_same_file(words->output, path))
            return "the output would be written over a file that is checked";
    }
    return NULL;
}

int sw_command_check(const sw_words *words) {
    if (words->file_count < 1)
        return sw_misused(
            words,
            "check takes scenarios, what was measured or learnt (files), and catalogs (folders)");
    for (int i = 0; i < words->file_count; i++)
        if (words->files[i][0] == '\0')
            return sw_misused(words, "the name of a file is empty");
    if (words->budget != NULL)
        return sw_misused(words, "check takes no --budget");
    if (sw_misplaced(words, "check") != NULL)
        return sw_misused(words, sw_misplaced(words, "check"));
    if (words->output != NULL && words->output[0] == '\0')
        return sw_misused(words, "the name behind -o is empty");
    if (misuse_of_checked(words) != NULL)
        return sw_misused(words, misuse_of_checked(words));
    sw_complaints *complaints = sw_complaints_new();
    if (complaints == NULL)
        return sw_say_complaints(NULL, SW_NO_MEMORY);
    sw_status worst = SW_OK;
    for (int i = 0; i < words->file_count; i++) {
        sw_status status = check_one(words->files[i], words, complaints);
        worst = status > worst ? status : worst;
    }
    int code = sw_end_with(words, complaints, worst);
    if (worst == SW_OK && !words->json)
        code = sw_give_out(words, "Nothing to complain of.\n", code);
    sw_complaints_free(complaints);
    return code;
}
