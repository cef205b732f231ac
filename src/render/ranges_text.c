/* The answer of `ranges`: how far things may move before another bundle is better. */
#include "answer/ranges.h"

#include "render/sheet.h"

static const char *money(sw_sheet *s, int64_t minor) {
    return SW_FORMAT(s, "%s %s", sw_sheet_money(s, minor), s->answer->currency);
}

static void budget(sw_sheet *s, const sw_ranges *r) {
    const sw_answer *a = s->answer;
    const char *aside = a->reserve + a->sundries > 0 ? " in all" : "";
    sw_page_heading(&s->page, "Money", NULL);
    if (!r->budget_settled)
        sw_sheet_words(
            s, "  ",
            SW_FORMAT(s, "From %s%s on; %s before it was settled how far up.",
                      money(s, r->budget_from), aside,
                      a->asked_to_stop ? "it was stopped on request" : "the time ran out"));
    else if (r->budget_to == SW_NO_END)
        sw_sheet_words(s, "  ",
                       SW_FORMAT(s, "From %s%s on: no money buys anything better.",
                                 money(s, r->budget_from), aside));
    else
        sw_sheet_words(s, "  ",
                       SW_FORMAT(s, "From %s to %s%s (there are %s now).", money(s, r->budget_from),
                                 money(s, r->budget_to), aside, money(s, a->budget_total)));
}

static const char *span(sw_sheet *s, const sw_range_price *p) {
    if (p->from == 0 && p->to == SW_NO_END)
        return p->bought ? "whatever it costs there" : "whatever it costs";
    if (p->to == 0)
        return "only while it is free";
    if (p->to == SW_NO_END)
        return SW_FORMAT(s, "as long as it costs no less than %s", money(s, p->from));
    if (p->from == 0)
        return SW_FORMAT(s, "up to %s", money(s, p->to));
    return p->from == p->to ? SW_FORMAT(s, "at %s alone", money(s, p->from))
                            : SW_FORMAT(s, "from %s to %s", money(s, p->from), money(s, p->to));
}

static void prices(sw_sheet *s, const sw_ranges *r) {
    if (r->price_count == 0)
        return;
    sw_page_heading(&s->page, "Prices, one at a time", NULL);
    for (size_t i = 0; i < r->price_count; i++) {
        const sw_range_price *p = &r->prices[i];
        sw_sheet_words(s, "  - ",
                       SW_FORMAT(s, "%s at %s, %s now%s: %s%s.", p->name, p->seller_name,
                                 money(s, p->now), p->bought ? "" : " (not bought)", span(s, p),
                                 p->settled ? "" : ", and maybe further: not settled"));
    }
}

static void weights(sw_sheet *s, const sw_ranges *r) {
    if (r->weight_count == 0)
        return;
    sw_page_heading(&s->page, "What counts, one at a time", NULL);
    for (size_t i = 0; i < r->weight_count; i++) {
        const sw_range_weight *w = &r->weights[i];
        const char *now = sw_sheet_text(s, sw_milli_text(s->arena, w->now_milli, 0));
        const char *where = !w->settled       ? "not settled"
                            : w->from > w->to ? "at no other whole percent"
                            : w->from == 0 && w->to == 100
                                ? "at any weight"
                                : SW_FORMAT(s, "from %d to %d %%", w->from, w->to);
        sw_sheet_words(s, "  - ",
                       SW_FORMAT(s, "%s, %s %% of the whole now: %s.", w->name, now, where));
    }
}

sw_status sw_render_ranges_text(char **out, const sw_ranges *ranges, sw_text_style style) {
    sw_sheet s;
    const sw_answer *a = ranges->answer;
    if (!sw_sheet_start(&s, a, style))
        return SW_NO_MEMORY;
    sw_sheet_head(&s, true);
    sw_page_gap(&s.page);
    if (a->status != SW_OPTIMAL)
        sw_sheet_no_best(&s);
    else {
        sw_sheet_words(
            &s, "",
            SW_FORMAT(&s,
                      "The best bundle, of %s points for %s, stays the best while one of "
                      "these moves this far and all else stays as it is.",
                      sw_sheet_points(&s, a->bundles->points), money(&s, a->bundles->cost)));
        budget(&s, ranges);
        prices(&s, ranges);
        weights(&s, ranges);
        if (!sw_ranges_is_settled(ranges)) {
            sw_page_gap(&s.page);
            sw_sheet_words(&s, "",
                           a->asked_to_stop
                               ? "It was stopped on request before all of this was settled."
                               : "Not all of this could be settled; with more time (--seconds) it "
                                 "may be.");
        }
    }
    return sw_sheet_finish(out, &s);
}
