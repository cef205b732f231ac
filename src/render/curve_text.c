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

static void step(sw_sheet *s, const sw_answer_bundle *before, const sw_answer_bundle *b) {
    const char *more =
        before == NULL ? "-" : SW_FORMAT(s, "+%s", sw_sheet_points(s, b->points - before->points));
    const char *right =
        SW_FORMAT(s, "%s %s %s %s", sw_sheet_right(s, sw_sheet_money(s, b->cost), 10),
                  sw_sheet_right(s, sw_sheet_points(s, b->points), 8), sw_sheet_right(s, more, 8),
                  sw_sheet_right(s, per_hundred(s, before, b), 10));
    sw_sheet_sum(s, "  ", SW_FORMAT(s, "%d.", b->rank), right);
    changes(s, before, b);
    work(s, "      work: ", b, before);
    work(s, "      work no more: ", before, b);
}

static void end_words(sw_sheet *s) {
    const sw_answer *a = s->answer;
    const sw_answer_bundle *top = a->bundle_count > 0 ? &a->bundles[a->bundle_count - 1] : NULL;
    sw_page_gap(&s->page);
    if (a->status == SW_STOPPED_EARLY)
        sw_sheet_words(s, "",
                       top == NULL ? "The time ran out before any step was settled."
                                   : "The time ran out: the steps above are proved, those that "
                                     "cost less were not settled.");
    else if (top == NULL)
        sw_sheet_words(
            s, "",
            a->curve_to < 0
                ? "Nothing fits, at any price: \"swapworth plan\" tells what is in the way."
                : "Nothing fits up to this cost.");
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
    sw_page_heading(&s.page, "Step",
                    SW_FORMAT(&s, "%s %s %s %s", sw_sheet_right(&s, answer->currency, 10),
                              sw_sheet_right(&s, "points", 8), sw_sheet_right(&s, "more", 8),
                              sw_sheet_right(&s, "per 100", 10)));
    if (answer->bundle_count > 1)
        sw_sheet_words(&s, "  ", "Each step is told by what differs from the one before it.");
    for (size_t i = 0; i < answer->bundle_count; i++)
        step(&s, i > 0 ? &answer->bundles[i - 1] : NULL, &answer->bundles[i]);
    end_words(&s);
    return sw_sheet_finish(out, &s);
}
