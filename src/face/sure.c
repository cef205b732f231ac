/* The command `sure`. */
#include "face/errand.h"

#define PRICES_PERCENT 5
#define ESTIMATES_PERCENT 10

static sw_status ask_sure(sw_errand *e) {
    const sw_words *words = e->words;
    sw_sure *sure = NULL;
    sw_sure_job job = {.prices_percent = words->prices >= 0 ? words->prices : PRICES_PERCENT,
                       .estimates_percent =
                           words->estimates >= 0 ? words->estimates : ESTIMATES_PERCENT,
                       .options = words->options};
    sw_waiting_begin(&e->waiting, &e->options, words->progress);
    sw_status status = sw_ask_sure(&sure, e->scenario, &job, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = sw_code_of_status(sw_sure_get_status(sure), sw_sure_is_settled(sure));
    status = words->json ? sw_render_sure_json(&e->text, sure)
                         : sw_render_sure_text(&e->text, sure, sw_style_of_output(words));
    sw_sure_free(sure);
    return status;
}

int sw_command_sure(const sw_words *words) { return sw_run_errand(words, "sure", ask_sure); }
