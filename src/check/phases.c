/* Money that comes on several days. */
#include "check/stage.h"

#include <string.h>

#define SW_PHASES_MOST 12

static bool read_sum(sw_job *job, const sw_node *at, const sw_phase *last, sw_quotes quotes,
                     sw_phase *out) {
    sw_check *check = job->check;
    *out = (sw_phase){.on = "", .until = "", .quotes = quotes};
    if (!SW_CHECK_NAMES(check, at, "on", "sum", "quotes"))
        return false;
    bool good = sw_get_date(check, at, "on", SW_REQUIRED, &out->on, &out->day);
    good = sw_get_money(check, at, "sum", SW_REQUIRED, &out->sum) && good;
    sw_read_quotes(job, at, quotes, &out->quotes);
    if (good && last != NULL && out->day <= last->day) {
        sw_node on = sw_member(at, "on");
        sw_wrong(check, &on, "sums stand in the order of their days",
                 "put it in its place, or add it to the other sum",
                 "is not later than the sum before");
        good = false;
    }
    return good;
}

/* Each lasts until the next, the last until `until`. */
static void close_all(sw_job *job, const sw_node *phases, sw_phase *list, size_t count) {
    sw_check *check = job->check;
    const char *text = "";
    int64_t day = 0;
    if (!sw_get_date(check, phases, "until", SW_REQUIRED, &text, &day))
        return;
    if (day <= list[count - 1].day) {
        sw_node until = sw_member(phases, "until");
        sw_wrong(check, &until, "the last phase lasts until then", "choose a later day",
                 "is not later than the last sum");
        return;
    }
    for (size_t k = 0; k < count; k++) {
        list[k].until = k + 1 < count ? list[k + 1].on : text;
        list[k].days = (k + 1 < count ? list[k + 1].day : day) - list[k].day;
    }
    job->scenario->phases = list;
    job->scenario->phase_count = count;
}

void sw_read_phases(sw_job *job) {
    sw_check *check = job->check;
    sw_node phases, sums;
    if (!sw_get(check, job->root, "phases", SW_OPTIONAL, SW_JSON_OBJECT, &phases))
        return;
    SW_CHECK_NAMES(check, &phases, "until", "sums");
    if (!sw_get_list(check, &phases, "sums", SW_REQUIRED, 1, SW_PHASES_MOST, &sums))
        return;
    sw_phase *list = SW_KEEP(check, sw_phase, sums.json->count);
    sw_quotes quotes = job->scenario->quotes;
    bool good = list != NULL;
    for (size_t i = 0; i < sums.json->count && list != NULL; i++) {
        sw_node at = sw_element(&sums, i);
        good = read_sum(job, &at, i > 0 ? &list[i - 1] : NULL, quotes, &list[i]) && good;
        quotes = list[i].quotes;
    }
    if (good)
        close_all(job, &phases, list, sums.json->count);
}
