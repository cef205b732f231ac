/* The command `shopping`. */
#include "face/errand.h"

static sw_status render(sw_errand *e, const sw_shopping *shopping) {
    if (e->words->json)
        return sw_render_shopping_json(&e->text, shopping);
    return e->words->csv
               ? sw_render_shopping_csv(&e->text, shopping)
               : sw_render_shopping_text(&e->text, shopping, sw_style_of_output(e->words));
}

static sw_status ask_shopping(sw_errand *e) {
    const sw_words *words = e->words;
    sw_shopping *shopping = NULL;
    sw_errands errands = {.option = words->option,
                          .settings = words->settings.words,
                          .setting_count = words->settings.count,
                          .gone = words->gone.words,
                          .gone_count = words->gone.count,
                          .take = words->take};
    sw_waiting_begin(&e->waiting, &e->options, words->progress);
    sw_status status =
        sw_ask_shopping(&shopping, e->scenario, &errands, &e->options, e->complaints);
    sw_waiting_end(&e->waiting);
    if (status != SW_OK)
        return status;
    e->code = sw_code_of_status(sw_shopping_get_status(shopping), sw_shopping_is_settled(shopping));
    status = render(e, shopping);
    sw_shopping_free(shopping);
    return status;
}

int sw_command_shopping(const sw_words *words) {
    return sw_run_errand(words, "shopping", ask_shopping);
}
