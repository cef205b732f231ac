/* The commands whose answers are papers: for the client, the counter and the bench. */
#include "face/errand.h"

/* The page's map, within what is left of the time. It is beside the question: where points are too
 * large to be weighed there is none, and nobody is told. */
static sw_status ask_page_map(sw_map **out, const sw_errand *e, const sw_options *options,
                              double ends) {
    sw_plan_options rest = e->options;
    sw_complaints *own = sw_complaints_new();
    if (own == NULL)
        return SW_NO_MEMORY;
    double left = ends - rest.now();
    rest.seconds = left > 0 ? left : 0;
    sw_status status = sw_options_get_status(options) == SW_NOTHING_FITS
                           ? SW_OK
                           : sw_ask_map(out, e->scenario, &rest, own);
    sw_complaints_free(own);
    return status == SW_BAD_DATA ? SW_OK : status;
}

static sw_status ask_options(sw_errand *e) {
    sw_options *options = NULL;
    sw_map *map = NULL;
    double ends = e->options.now() + e->options.seconds;
    e->picture_path = sw_wants_page(e->words) ? e->words->output : NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status = sw_ask_options(&options, e->scenario, &e->options, e->complaints);
    if (status == SW_OK && e->picture_path != NULL)
        status = ask_page_map(&map, e, options, ends);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK) {
        sw_options_free(options);
        return status;
    }
    e->code = sw_code_of_status(sw_options_get_status(options), sw_options_are_settled(options));
    status = e->words->json
                 ? sw_render_options_json(&e->text, options)
                 : sw_render_options_text(&e->text, options, sw_style_of_output(e->words));
    if (status == SW_OK && e->picture_path != NULL)
        status = sw_render_options_page(&e->picture, options, map);
    sw_map_free(map);
    sw_options_free(options);
    return status;
}

int sw_command_options(const sw_words *words) {
    return sw_run_errand(words, "options", ask_options);
}

static sw_status ask_bench(sw_errand *e) {
    sw_bench *bench = NULL;
    sw_waiting_begin(&e->waiting, &e->options, e->words->progress);
    sw_status status =
        sw_ask_bench(&bench, e->scenario, e->words->option, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = sw_code_of_status(sw_bench_get_status(bench), sw_bench_is_settled(bench));
    e->picture_path = sw_wants_page(e->words) ? e->words->output : NULL;
    status = e->words->json ? sw_render_bench_json(&e->text, bench)
                            : sw_render_bench_text(&e->text, bench, sw_style_of_output(e->words));
    if (status == SW_OK && e->picture_path != NULL)
        status = sw_render_bench_page(&e->picture, bench);
    sw_bench_free(bench);
    return status;
}

int sw_command_bench(const sw_words *words) { return sw_run_errand(words, "bench", ask_bench); }

/* The calibration file is written last, and only where the answer stands. */
static sw_status ask_handover(sw_errand *e) {
    const sw_words *words = e->words;
    sw_handover *handover = NULL;
    sw_handing handing = {words->option, words->measured, words->record};
    sw_waiting_begin(&e->waiting, &e->options, words->progress);
    sw_status status =
        sw_ask_handover(&handover, e->scenario, &handing, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = sw_code_of_status(sw_handover_get_status(handover), sw_handover_is_settled(handover));
    e->picture_path = sw_wants_page(words) ? words->output : NULL;
    status = words->json ? sw_render_handover_json(&e->text, handover)
                         : sw_render_handover_text(&e->text, handover, sw_style_of_output(words));
    if (status == SW_OK && e->picture_path != NULL)
        status = sw_render_handover_page(&e->picture, handover);
    if (status == SW_OK && words->record != NULL && e->code == SW_EXIT_ANSWERED) {
        status = sw_render_handover_record(&e->record, handover, e->complaints);
        e->record_path = words->record;
    }
    sw_handover_free(handover);
    return status;
}

int sw_command_handover(const sw_words *words) {
    return sw_run_errand(words, "handover", ask_handover);
}
