/* The answer of `plan` as a person at the counter reads it. */
#include "render/conflict.h"

#include <string.h>

static void musts(sw_sheet *s) {
    const sw_answer *a = s->answer;
    if (a->must_count == 0)
        return;
    sw_page_heading(&s->page,
                    a->has_baseline
                        ? SW_FORMAT(s, "What must be done (%s %s at the least, within the total)",
                                    sw_sheet_money(s, a->baseline.cost), a->currency)
                        : "What must be done",
                    NULL);
    for (size_t m = 0; m < a->must_count; m++) {
        const sw_answer_must *must = &a->musts[m];
        bool part = must->replace != NULL;
        sw_sheet_words(s, "  - ",
                       SW_FORMAT(s, "%s%s.%s%s", part ? "Take out " : "",
                                 part ? must->replace : must->task, must->why[0] != '\0' ? " " : "",
                                 must->why));
    }
}

static void nothing(sw_sheet *s) {
    const sw_answer *a = s->answer;
    if (a->status == SW_STOPPED_EARLY) {
        sw_page_gap(&s->page);
        sw_sheet_words(
            s, "",
            SW_FORMAT(s, "%s before any bundle was found. More time may find one.", s->cut_short));
        return;
    }
    sw_sheet_conflict(s);
}

static void early(sw_sheet *s) {
    const sw_answer *a = s->answer;
    if (a->status != SW_STOPPED_EARLY || a->bundle_count == 0)
        return;
    sw_page_gap(&s->page);
    if (a->bound == INT64_MAX) {
        sw_sheet_words(s, "",
                       SW_FORMAT(s,
                                 "%s: this is the best found so far, and how much better it could "
                                 "get is not known.",
                                 s->cut_short));
        return;
    }
    if (a->bound <= a->bundles[0].points) {
        sw_sheet_words(
            s, "",
            SW_FORMAT(s,
                      "%s: no bundle brings more points than this one, but whether one as "
                      "good costs less was not settled.",
                      s->cut_short));
        return;
    }
    sw_sheet_words(
        s, "",
        SW_FORMAT(s,
                  "%s: this is the best found so far; no bundle brings more than %s "
                  "points (a gap of %s).",
                  s->cut_short, sw_sheet_decimal(s, (double)a->bound / 1000, 1),
                  sw_sheet_decimal(s, (double)(a->bound - a->bundles[0].points) / 1000, 1)));
}

sw_status sw_render_plan_text(char **out, const sw_answer *answer, sw_text_style style) {
    sw_sheet s;
    if (!sw_sheet_start(&s, answer, style))
        return SW_NO_MEMORY;
    sw_sheet_head(&s, true);
    sw_sheet_beware(&s);
    musts(&s);
    if (answer->bundle_count == 0) {
        nothing(&s);
    } else {
        if (!answer->brief)
            sw_sheet_verdict(&s);
        sw_sheet_bundle(&s, &answer->bundles[0]);
        if (!answer->brief)
            sw_sheet_worth(&s);
        sw_sheet_ranked(&s);
    }
    sw_sheet_left_out(&s);
    sw_sheet_to_ask(&s);
    early(&s);
    if (answer->bundle_count > 0)
        sw_sheet_verified(&s);
    sw_sheet_assumed(&s);
    return sw_sheet_finish(out, &s);
}
