/* How the page of the hand-over says to the client what the sheet says in other words. */
#include "render/handover_paper.h"

const char *sw_outcome_told(sw_outcome outcome) {
    static const char *const words[] = {
        [SW_AS_FORETOLD] = "as promised",   [SW_BETTER] = "better than promised",
        [SW_WORSE] = "worse than promised", [SW_FAILS] = "not as it should be",
        [SW_NOT_MEASURED] = "not measured", [SW_NOT_FORETOLD] = "measured; nothing was promised",
    };
    return words[outcome];
}

const char *sw_cover_warranty(sw_sheet *s, const sw_told_cover *cover) {
    if (cover->warranty_months < 0)
        return "tested here, but not ours to answer for";
    if (cover->warranty_until != NULL)
        return SW_FORMAT(s, "until %s", cover->warranty_until);
    if (cover->warranty_months == 0)
        return "none";
    return SW_FORMAT(s, "%d month%s from the day it came", cover->warranty_months,
                     cover->warranty_months == 1 ? "" : "s");
}

const char *sw_cover_return(sw_sheet *s, const sw_told_cover *cover) {
    if (cover->return_until != NULL)
        return SW_FORMAT(s, "until %s", cover->return_until);
    if (cover->return_days <= 0)
        return "no";
    return SW_FORMAT(s, "for %d day%s from the day it came", cover->return_days,
                     cover->return_days == 1 ? "" : "s");
}

const char *sw_out_told(sw_sheet *s, const sw_bench *bench, const sw_told_out *out) {
    return out->offer > 0 ? SW_FORMAT(s, "sold to us for %s %s", sw_sheet_money(s, out->offer),
                                      bench->options->plan->currency)
                          : "yours, it goes home with you";
}

const char *sw_call_about(sw_sheet *s, const sw_told_trouble *trouble) {
    return trouble->words[0] == '\0'
               ? SW_FORMAT(s, "You complained of this: %s. Is it over?", trouble->name)
               : SW_FORMAT(s, "You said: \"%s\". Is that over?", trouble->words);
}
