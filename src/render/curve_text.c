/* The curve as a table: what each step costs more and brings more. */
#include "render/differences.h"
#include "render/sheet.h"

/* What comes in, what holds fewer, what is as today again, against the step before. */
static void changes(sw_sheet *s, const sw_answer_bundle *before, const sw_answer_bundle *b) {
    const char *in = "", *fewer = "", *back = "";
    for (size_t i = 0; i < b->swap_count; i++) {
        const sw_answer_swap *swap = &b->swaps[i];
        if (before != NULL && sw_same_swap(sw_swap_of(before, swap->role), swap))
            continue;
        for (size_t k = 0; k < swap->in_count; k++)
            in = SW_FORMAT(s, "%s%s%s", in, in[0] == '\0' ? "" : ", ",
                           sw_sheet_part(s, &swap->in[k]));
        if (swap->in_count == 0)
            fewer = SW_FORMAT(s, "%s%s%s", fewer, fewer[0] == '\0' ? "" : ", ", swap->role_name);
    }
    for (size_t i = 0; before != NULL && i < before->swap_count; i++)
        if (sw_swap_of(b, before->swaps[i].role) == NULL)
            back = SW_FORMAT(s, "%s%s%s", back, back[0] == '\0' ? "" : ", ",
                             before->swaps[i].role_name);
    if (in[0] != '\0')
        sw_sheet_words(s, "      in: ", in);
    if (fewer[0] != '\0')
        sw_sheet_words(s, "      fewer: ", fewer);
    if (back[0] != '\0')
        sw_sheet_words(s, "      as today again: ", back);
}

/* The tasks of `b` that `other` does not do. */
static void work(sw_sheet *s, const char *lead, const sw_answer_bundle *b,
                 const sw_answer_bundle *other) {
    const char *line = "";
    for (size_t i = 0; b != NULL && i < b->task_count; i++)
        if (!sw_does(other, b->tasks[i].id))
            line = SW_FORMAT(s, "%s%s%s", line, line[0] == '\0' ? "" : ", ", b->tasks[i].name);
    if (line[0] != '\0')
        sw_sheet_words(s, lead, line);
}

static const char *per_hundred(sw_sheet *s, const sw_answer_bundle *before,
                               const sw_answer_bundle *b) {
    if (before == NULL)
        return "-";
    return sw_sheet_points(
        s, sw_per_hundred(s->answer, b->points - before->points, b->cost - before->cost));
}

/* Rounded up: no more than said may be there. */
static void open_words(sw_sheet *s, const sw_answer_bundle *b) {
    if (b->open == INT64_MAX)
        sw_sheet_words(s, "      ", "Not proved: how much more may be possible here is not known.");
    else if (b->open > 0)
        sw_sheet_words(s, "      ",
                       SW_FORMAT(s, "Up to %s points more may be possible here.",
                                 sw_sheet_points(s, (b->open / 100 + (b->open % 100 > 0)) * 100)));
}

/* Four columns, closer together on a narrow page. */
static const char *step_columns(sw_sheet *s, const char *cost, const char *points, const char *more,
                                const char *per) {
    bool narrow = s->page.width < 48;
    return SW_FORMAT(s, "%s %s %s %s", sw_sheet_right(s, cost, narrow ? 9 : 10),
                     sw_sheet_right(s, points, narrow ? 7 : 8),
                     sw_sheet_right(s, more, narrow ? 7 : 8),
                     sw_sheet_right(s, per, narrow ? 7 : 10));
}

static void step(sw_sheet *s, const sw_answer_bundle *before, const sw_answer_bundle *b) {
    const char *more =
        before == NULL ? "-" : SW_FORMAT(s, "+%s", sw_sheet_points(s, b->points - before->points));
    const char *right = step_columns(s, sw_sheet_money(s, b->cost), sw_sheet_points(s, b->points),
                                     more, per_hundred(s, before, b));
    sw_sheet_sum(s, "  ", SW_FORMAT(s, "%d.", b->rank), right);
    open_words(s, b);
    changes(s, before, b);
    work(s, "      work: ", b, before);
    work(s, "      work no more: ", before, b);
}

/* ---- the envelope ------------------------------------------------------------------- */

static const char *slope_columns(sw_sheet *s, const char *from, const char *to, const char *price,
                                 const char *per) {
    int wide = s->page.width < 48 ? 8 : 10;
    return SW_FORMAT(s, "%s %s %s %s", sw_sheet_right(s, from, wide), sw_sheet_right(s, to, wide),
                     sw_sheet_right(s, price, wide), sw_sheet_right(s, per, wide));
}

static void envelope(sw_sheet *s) {
    const sw_answer *a = s->answer;
    if (a->envelope_count == 0)
        return;
    bool whole = a->status == SW_OPTIMAL;
    sw_page_heading(&s->page, whole ? "Price of a point" : "Price of a point so far", NULL);
    sw_sheet_words(s, "  ",
                   SW_FORMAT(s,
                             "What a point costs, in %s, along the straight lines that lie over "
                             "all steps%s. Where it costs more than it is worth to you, stop.",
                             a->currency,
                             whole ? "" : " found so far; with more time the prices may change"));
    sw_sheet_sum(s, "  ", "", slope_columns(s, "from", "to", "a point", "per 100"));
    for (size_t i = 0; i < a->envelope_count; i++) {
        const sw_answer_slope *slope = &a->envelope[i];
        bool told = slope->price_millionths >= 0, rated = slope->per_hundred >= 0;
        sw_sheet_sum(s, "  ", "",
                     slope_columns(s, sw_sheet_money(s, a->bundles[slope->from].cost),
                                   sw_sheet_money(s, a->bundles[slope->to].cost),
                                   told ? sw_sheet_figures(s, slope->price_millionths, 6) : "-",
                                   !rated ? "-"
                                   : slope->per_hundred == 0
                                       ? "<0.001"
                                       : sw_sheet_figures(s, slope->per_hundred, 3)));
    }
}

/* ---- how it ended --------------------------------------------------------------------- */

static void early_words(sw_sheet *s) {
    const sw_answer *a = s->answer;
    size_t open = 0;
    for (size_t i = 0; i < a->bundle_count; i++)
        open += a->bundles[i].open > 0;
    if (a->bundle_count == 0)
        sw_sheet_words(s, "", SW_FORMAT(s, "%s before any step was found.", s->cut_short));
    else if (open == 0)
        sw_sheet_words(s, "",
                       SW_FORMAT(s,
                                 "%s: the steps above are proved; whether there are others was "
                                 "not settled.",
                                 s->cut_short));
    else
        sw_sheet_words(s, "",
                       SW_FORMAT(s,
                                 "%s: of the %zu step%s above %zu %s proved. What may still be "
                                 "possible at the others is said there.",
                                 s->cut_short, a->bundle_count, a->bundle_count == 1 ? "" : "s",
                                 a->bundle_count - open,
                                 a->bundle_count - open == 1 ? "is" : "are"));
}

/* `needed`: what the least bundle takes, where that is known. */
static void nothing_words(sw_sheet *s) {
    const sw_answer *a = s->answer;
    const char *asked = a->curve_to < 0 ? "" : sw_sheet_money(s, a->curve_to);
    if (a->curve_to < 0)
        sw_sheet_words(s, "",
                       "Nothing fits, at any price: \"swapworth plan\" tells what is in the way.");
    else if (a->needed > 0)
        sw_sheet_words(s, "",
                       SW_FORMAT(s, "Nothing fits up to %s %s: it takes at least %s %s.", asked,
                                 a->currency, sw_sheet_money(s, a->needed), a->currency));
    else
        sw_sheet_words(s, "", SW_FORMAT(s, "Nothing fits up to %s %s.", asked, a->currency));
}

static void end_words(sw_sheet *s) {
    const sw_answer *a = s->answer;
    const sw_answer_bundle *top = a->bundle_count > 0 ? &a->bundles[a->bundle_count - 1] : NULL;
    sw_page_gap(&s->page);
    if (a->status == SW_STOPPED_EARLY)
        early_words(s);
    else if (top == NULL)
        nothing_words(s);
    else if (a->curve_to < 0)
        sw_sheet_words(s, "",
                       SW_FORMAT(s, "Beyond %s %s no money brings more points.",
                                 sw_sheet_money(s, top->cost), a->currency));
    else
        sw_sheet_words(s, "",
                       SW_FORMAT(s, "Asked for up to %s %s; beyond, the curve may rise on.",
                                 sw_sheet_money(s, a->curve_to), a->currency));
}

sw_status sw_render_curve_text(char **out, const sw_answer *answer, sw_text_style style) {
    sw_sheet s;
    if (!sw_sheet_start(&s, answer, style))
        return SW_NO_MEMORY;
    sw_sheet_head(&s, false);
    sw_sheet_picture(&s, style.picture);
    sw_page_heading(&s.page, "Step",
                    step_columns(&s, answer->currency, "points", "more", "per 100"));
    if (answer->bundle_count > 1)
        sw_sheet_words(&s, "  ", "Each step is told by what differs from the one before it.");
    for (size_t i = 0; i < answer->bundle_count; i++)
        step(&s, i > 0 ? &answer->bundles[i - 1] : NULL, &answer->bundles[i]);
    envelope(&s);
    end_words(&s);
    if (answer->bundle_count > 0)
        sw_sheet_verified(&s);
    return sw_sheet_finish(out, &s);
}
