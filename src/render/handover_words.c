/* How the hand-over is said, on the sheet and on the page. */
#include "render/handover.h"

const char *const sw_outcomes[] = {
    [SW_AS_FORETOLD] = "as-foretold",
    [SW_BETTER] = "better",
    [SW_WORSE] = "worse",
    [SW_FAILS] = "fails",
    [SW_NOT_MEASURED] = "not-measured",
    [SW_NOT_FORETOLD] = "not-foretold",
};

const char *sw_outcome_words(sw_outcome outcome) {
    static const char *const words[] = {
        [SW_AS_FORETOLD] = "as foretold",   [SW_BETTER] = "better than foretold",
        [SW_WORSE] = "worse than foretold", [SW_FAILS] = "not as it should be",
        [SW_NOT_MEASURED] = "not measured", [SW_NOT_FORETOLD] = "measured; nothing was foretold",
    };
    return words[outcome];
}

static const char *months(sw_sheet *s, const sw_told_cover *cover) {
    if (cover->warranty_until != NULL)
        return SW_FORMAT(s, "warranty until %s", cover->warranty_until);
    if (cover->warranty_months <= 0)
        return "no warranty";
    return SW_FORMAT(s, "warranty for %d month%s from the day it came", cover->warranty_months,
                     cover->warranty_months == 1 ? "" : "s");
}

static const char *back(sw_sheet *s, const sw_told_cover *cover) {
    if (cover->return_until != NULL)
        return SW_FORMAT(s, "can go back until %s", cover->return_until);
    if (cover->return_days <= 0)
        return "cannot go back";
    return SW_FORMAT(s, "can go back for %d day%s from the day it came", cover->return_days,
                     cover->return_days == 1 ? "" : "s");
}

const char *sw_cover_words(sw_sheet *s, const sw_told_cover *cover) {
    if (cover->warranty_months < 0)
        return "brought by you: tested here, but not ours to answer for";
    return SW_FORMAT(s, "from %s: %s; %s", cover->seller_name, months(s, cover), back(s, cover));
}

const char *sw_handover_whose(sw_sheet *s, const sw_bench *bench, const sw_told_out *out) {
    const char *files =
        out->keeps_files && bench->wiping[0] != '\0' ? SW_FORMAT(s, " %s", bench->wiping) : "";
    if (out->offer > 0)
        return SW_FORMAT(s, "Sold to us for %s %s.%s", sw_sheet_money(s, out->offer),
                         bench->options->plan->currency, files);
    return SW_FORMAT(s, "Yours: it goes home with you, in a bag with its label.%s", files);
}

/* "errors in the memory test; keys and buttons" with that outcome, of those that bar the hand-over
 * or of the others; "" when there are none. */
static const char *with_outcome(sw_sheet *s, const sw_handover *h, sw_outcome outcome, bool bars,
                                size_t *count) {
    const char *line = "";
    for (size_t i = 0; i < h->bench->proof_count; i++) {
        if (h->results[i].outcome != outcome || h->bench->proofs[i].bars != bars)
            continue;
        line = SW_FORMAT(s, "%s%s%s", line, line[0] == '\0' ? "" : "; ",
                         sw_bench_check_name(s, &h->bench->proofs[i]));
        (*count)++;
    }
    return line;
}

const char *sw_handover_stop(sw_sheet *s, const sw_handover *h) {
    size_t count = 0;
    const char *failed = with_outcome(s, h, SW_FAILS, true, &count);
    const char *open = with_outcome(s, h, SW_NOT_MEASURED, true, &count);
    const char *line = "";
    if (failed[0] != '\0')
        line = SW_FORMAT(s,
                         "Do not hand it over: %s. That is not as it should be, and nobody can "
                         "accept it.%s",
                         failed, open[0] == '\0' ? "" : " ");
    if (open[0] != '\0')
        line = SW_FORMAT(s, "%sNot finished: measure before it goes out: %s.", line, open);
    return line;
}

const char *sw_handover_sum(sw_sheet *s, const sw_handover *h) {
    size_t counts[SW_OUTCOMES] = {0};
    const char *others = "";
    for (size_t i = 0; i < SW_OUTCOMES; i++) {
        const char *free = with_outcome(s, h, (sw_outcome)i, false, &counts[i]);
        with_outcome(s, h, (sw_outcome)i, true, &counts[i]);
        others = i == SW_FAILS ? free : others;
    }
    const char *line = SW_FORMAT(
        s, "Of %zu checks %zu came out as foretold, %zu better, %zu worse; %zu %s not measured.",
        h->bench->proof_count, counts[SW_AS_FORETOLD], counts[SW_BETTER], counts[SW_WORSE],
        counts[SW_NOT_MEASURED], counts[SW_NOT_MEASURED] == 1 ? "was" : "were");
    return others[0] == '\0'
               ? line
               : SW_FORMAT(s,
                           "Only with the client's word in writing: %s. That is not as it should "
                           "be. %s",
                           others, line);
}
