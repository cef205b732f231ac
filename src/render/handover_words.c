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

/* "errors in the memory test; keys and buttons" with that outcome; "" when there are none. */
static const char *with_outcome(sw_sheet *s, const sw_handover *h, sw_outcome outcome,
                                size_t *count) {
    const char *line = "";
    *count = 0;
    for (size_t i = 0; i < h->bench->proof_count; i++) {
        if (h->results[i].outcome != outcome)
            continue;
        line = SW_FORMAT(s, "%s%s%s", line, (*count)++ == 0 ? "" : "; ",
                         sw_bench_check_name(s, &h->bench->proofs[i]));
    }
    return line;
}

const char *sw_handover_sum(sw_sheet *s, const sw_handover *h) {
    size_t counts[SW_OUTCOMES];
    const char *names[SW_OUTCOMES];
    for (size_t i = 0; i < SW_OUTCOMES; i++)
        names[i] = with_outcome(s, h, (sw_outcome)i, &counts[i]);
    const char *line = SW_FORMAT(
        s, "Of %zu checks %zu came out as foretold, %zu better, %zu worse; %zu %s not measured.",
        h->bench->proof_count, counts[SW_AS_FORETOLD], counts[SW_BETTER], counts[SW_WORSE],
        counts[SW_NOT_MEASURED], counts[SW_NOT_MEASURED] == 1 ? "was" : "were");
    return counts[SW_FAILS] == 0 ? line
                                 : SW_FORMAT(s,
                                             "Do not hand it over yet, unless the client has "
                                             "accepted it in writing. Not as it should be: %s. %s",
                                             names[SW_FAILS], line);
}
