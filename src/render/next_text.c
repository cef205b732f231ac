/* The answer of `ask-next`: one question in words that can be put to the client. */
#include "answer/next.h"

#include <string.h>

#include "render/sheet.h"

/* ---- the question ---------------------------------------------------------------------------- */

/* "half as loud"; of a criterion whose swing has no words "Name from worst to best". */
static const char *gain(sw_sheet *s, const sw_next *next, int criterion) {
    const char *words = next->gains[criterion], *name = s->answer->criterion_names[criterion];
    if (words != NULL)
        return words;
    bool rated = strcmp(s->answer->criterion_kinds[criterion], "rated") == 0;
    return rated ? SW_FORMAT(s, "%s from worst to best", name)
                 : SW_FORMAT(s, "a whole step in %s", name);
}

static const char *question(sw_sheet *s, const sw_next *next, const sw_next_question *of) {
    const char *one = gain(s, next, of->criterion), *other = gain(s, next, of->other);
    switch (of->kind) {
    case SW_NEXT_WORTH:
        return SW_FORMAT(s, "If \"%s\" is worth %s to you, is \"%s\" worth %s or more?", other,
                         sw_sheet_figures(s, of->beside_milli, 3), one,
                         sw_sheet_figures(s, of->worth_milli, 3));
    case SW_NEXT_TWICE:
        return SW_FORMAT(s, "Is \"%s\" worth twice as much to you as \"%s\", or more?", one, other);
    default:
        return SW_FORMAT(s, "Is \"%s\" worth as much to you as \"%s\", or more?", one, other);
    }
}

/* To the tenth; below it two digits, and "under 0.01" for what is next to nothing. */
static const char *value(sw_sheet *s, int64_t thousandths) {
    if (thousandths == 0)
        return "0";
    if (thousandths < 5)
        return "under 0.01";
    return sw_sheet_text(s, sw_milli_text(s->arena, thousandths, thousandths < 950 ? 2 : 1));
}

/* ---- what would be bought -------------------------------------------------------------------- */

static void whole(sw_sheet *s, const sw_answer_bundle *b) {
    if (b->swap_count + b->task_count == 0)
        sw_sheet_words(s, "  - ", "Nothing: the machine stays as it is.");
    for (size_t i = 0; i < b->swap_count; i++)
        sw_sheet_words(
            s, "  - ",
            SW_FORMAT(s, "%s: %s", b->swaps[i].role_name, sw_sheet_holding(s, &b->swaps[i])));
    for (size_t i = 0; i < b->task_count; i++)
        sw_sheet_words(s, "  - ", b->tasks[i].name);
}

static void after(sw_sheet *s, const sw_next_answer *of, const char *said) {
    const sw_answer *a = s->answer;
    const sw_answer_bundle *then = &a->bundles[of->bundle];
    if (of->given == 0)
        return;
    const char *share = sw_sheet_decimal(s, 100.0 * (double)of->given / SW_DRAWN_COUNT, 0);
    sw_page_gap(&s->page);
    if (of->bundle == 0) {
        sw_sheet_words(s, "  ",
                       SW_FORMAT(s,
                                 "If %s (%s %% of what may be right): the same is bought as above.",
                                 said, share));
        return;
    }
    sw_sheet_words(s, "  ",
                   SW_FORMAT(s, "If %s (%s %% of what may be right): for %s %s", said, share,
                             sw_sheet_money(s, then->cost), a->currency));
    sw_sheet_differences(s, then, &a->bundles[0], "above");
}

static void asked(sw_sheet *s, const sw_next *next) {
    const sw_next_question *of = &next->questions[next->asked];
    sw_page_heading(&s->page, "Ask next", NULL);
    sw_sheet_words(s, "  ", question(s, next, of));
    sw_page_gap(&s->page);
    sw_sheet_words(s, "",
                   SW_FORMAT(s,
                             "Knowing the answer brings %s points on average over the weights that "
                             "may be right.",
                             value(s, of->value)));
}

static void nothing_to_ask(sw_sheet *s, const sw_next *next) {
    int64_t most = 0;
    for (size_t q = 0; q < next->question_count; q++)
        most = next->questions[q].value > most ? next->questions[q].value : most;
    const char *so_far = s->answer->status == SW_STOPPED_EARLY ? ", as far as was found" : "";
    sw_page_heading(&s->page, "Nothing to ask", NULL);
    if (next->question_count == 0)
        sw_sheet_words(s, "", "It no longer matters: nothing about the weights is in doubt.");
    else if (s->answer->bundle_count == 1)
        sw_sheet_words(
            s, "",
            SW_FORMAT(s, "It no longer matters: after every answer the same would be bought%s.",
                      so_far));
    else
        sw_sheet_words(s, "",
                       SW_FORMAT(s,
                                 "It no longer matters: no answer brings more than %s points on "
                                 "average%s (0.05 would be worth a question).",
                                 value(s, most), so_far));
}

static void table(sw_sheet *s, const sw_next *next) {
    if (next->question_count == 0)
        return;
    sw_page_heading(&s->page, "All questions about weights", "points");
    for (size_t q = 0; q < next->question_count; q++)
        sw_sheet_sum(s, "  - ", question(s, next, &next->questions[q]),
                     value(s, next->questions[q].value));
}

static void now(sw_sheet *s) {
    const sw_answer_bundle *best = &s->answer->bundles[0];
    sw_page_heading(&s->page,
                    SW_FORMAT(s, "What would be bought without asking, for %s %s",
                              sw_sheet_money(s, best->cost), s->answer->currency),
                    NULL);
    whole(s, best);
}

static void skipped(sw_sheet *s) {
    const sw_answer *a = s->answer;
    sw_page_gap(&s->page);
    sw_sheet_words(s, "",
                   SW_FORMAT(s, "Only questions about how much each wish counts are valued here%s",
                             a->assumed_count > 0
                                 ? "; what of the interview was left open may matter more:"
                                 : "."));
    for (size_t i = 0; i < a->assumed_count; i++)
        sw_sheet_words(s, "  - ", a->assumed[i]);
}

static void early(sw_sheet *s) {
    if (s->answer->status != SW_STOPPED_EARLY)
        return;
    sw_page_gap(&s->page);
    sw_sheet_words(s, "",
                   SW_FORMAT(s,
                             "%s before all bundles that may be best were found: all of this is of "
                             "those found. With more time (--seconds) it may be complete.",
                             s->cut_short));
}

sw_status sw_render_next_text(char **out, const sw_next *next, sw_text_style style) {
    sw_sheet s;
    const sw_answer *a = next->answer;
    if (!sw_sheet_start(&s, a, style))
        return SW_NO_MEMORY;
    sw_sheet_head(&s, true);
    if (a->bundle_count == 0) {
        sw_page_gap(&s.page);
        sw_sheet_no_best(&s);
        return sw_sheet_finish(out, &s);
    }
    if (next->asked == SW_NONE)
        nothing_to_ask(&s, next);
    else
        asked(&s, next);
    now(&s);
    if (next->asked != SW_NONE) {
        const sw_next_question *of = &next->questions[next->asked];
        after(&s, &of->answers[0], "yes");
        after(&s, &of->answers[1], "no");
    }
    table(&s, next);
    skipped(&s);
    early(&s);
    return sw_sheet_finish(out, &s);
}
