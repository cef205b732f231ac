/* The answer of `first`: what to buy when, and what it is like after each purchase. */
#include "answer/first.h"

#include <string.h>

#include "render/feel.h"

static bool is_of(const sw_first *first, const sw_first_purchase *p, const char *role) {
    for (size_t g = 0; g < p->group_count; g++) {
        const sw_first_group *group = &first->groups[p->groups[g]];
        for (size_t r = 0; r < group->role_count; r++)
            if (strcmp(group->roles[r], role) == 0)
                return true;
    }
    return false;
}

static bool has_must(const sw_first *first, const sw_first_purchase *p) {
    for (size_t g = 0; g < p->group_count; g++)
        if (first->groups[p->groups[g]].must)
            return true;
    return false;
}

static void contents(sw_sheet *s, const sw_first *first, const sw_first_purchase *p) {
    for (size_t i = 0; i < p->stage.swap_count; i++)
        if (is_of(first, p, p->stage.swaps[i].role))
            sw_sheet_swap_line(s, &p->stage.swaps[i]);
    for (size_t i = 0; i < p->stage.task_count; i++)
        if (is_of(first, p, p->stage.tasks[i].role))
            sw_sheet_words(
                s, "     ",
                SW_FORMAT(s, "%s: %s", p->stage.tasks[i].role_name, p->stage.tasks[i].name));
}

static void reason(sw_sheet *s, const sw_first_purchase *p) {
    const char *line = NULL;
    if (p->together == SW_TOGETHER_FREE)
        line = "All this costs nothing: do it at once.";
    else if (p->together == SW_TOGETHER_NEEDS)
        line = "All at once: one without the other would not work.";
    else if (p->together == SW_TOGETHER_SAVES)
        line = SW_FORMAT(s, "All at once: one by one it would cost %s %s more.",
                         sw_sheet_money(s, p->apart - p->cost), s->answer->currency);
    else if (p->together == SW_TOGETHER_WORSE)
        line = "All at once: in between the machine would be worse than before.";
    if (line != NULL)
        sw_sheet_words(s, "     ", line);
}

static const char *where(sw_sheet *s, size_t at, size_t count) {
    static const char *const words[] = {"First", "Then", "Last"};
    bool last = at > 0 && at + 1 == count;
    return SW_FORMAT(s, "%zu. %s", at + 1, words[at == 0 ? 0 : last ? 2 : 1]);
}

static void purchase(sw_sheet *s, const sw_first *first, size_t at) {
    const sw_first_purchase *p = &first->purchases[at];
    const sw_answer_bundle *before = at > 0 ? &first->purchases[at - 1].stage : NULL;
    const char *here = p->days == 0   ? ""
                       : p->days == 1 ? ", here in 1 day"
                                      : SW_FORMAT(s, ", here in %d days", p->days);
    sw_page_gap(&s->page);
    sw_sheet_sum(s, "",
                 SW_FORMAT(s, "%s%s%s", where(s, at, first->purchase_count),
                           has_must(first, p) ? " (a must)" : "", here),
                 p->cost == 0 ? "nothing" : sw_sheet_money(s, p->cost));
    contents(s, first, p);
    reason(s, p);
    sw_sheet_feel(s, "     ", &p->stage, before);
    int64_t over = p->spent - s->answer->budget;
    if (at > 0)
        sw_sheet_words(s, "     ",
                       SW_FORMAT(s, "Spent by then: %s %s%s.", sw_sheet_money(s, p->spent),
                                 s->answer->currency,
                                 over > 0 ? SW_FORMAT(s, ", %s more than there is now",
                                                      sw_sheet_money(s, over))
                                          : ""));
}

static void together_words(sw_sheet *s, const sw_first *first) {
    const sw_answer_bundle *best = s->answer->bundles;
    int64_t spent = first->purchases[first->purchase_count - 1].spent;
    sw_page_gap(&s->page);
    if (first->purchase_count > 1 && spent > best->cost)
        sw_sheet_words(s, "",
                       SW_FORMAT(s,
                                 "All in one order would cost %s %s, %s less than one after the "
                                 "other%s.",
                                 sw_sheet_money(s, best->cost), s->answer->currency,
                                 sw_sheet_money(s, spent - best->cost),
                                 spent > s->answer->budget
                                     ? SW_FORMAT(s, ", which takes %s more than there is",
                                                 sw_sheet_money(s, spent - s->answer->budget))
                                     : ""));
    else if (first->purchase_count > 1)
        sw_sheet_words(s, "", "Buying one after the other costs no more than one order.");
    sw_sheet_words(s, "",
                   "Of all orders in which the machine works after each purchase, this one brings "
                   "most soonest for the money spent.");
    if (first->has_threshold)
        sw_sheet_words(s, "",
                       "Whether each step is worth its money to the client, the verdict of "
                       "\"swapworth plan\" tells.");
}

sw_status sw_render_first_text(char **out, const sw_first *first, sw_text_style style) {
    sw_sheet s;
    const sw_answer *a = first->answer;
    if (!sw_sheet_start(&s, a, style))
        return SW_NO_MEMORY;
    sw_sheet_head(&s, true);
    sw_page_gap(&s.page);
    if (a->status != SW_OPTIMAL)
        sw_sheet_no_best(&s);
    else if (!first->settled)
        sw_sheet_words(&s, "", SW_FORMAT(&s, "%s before the order was settled.", s.cut_short));
    else if (first->purchase_count == 0)
        sw_sheet_words(&s, "", "There is nothing to buy or do: the machine stays as it is.");
    else {
        sw_sheet_words(&s, "",
                       SW_FORMAT(&s, "The best bundle, of %s points for %s %s, bought bit by bit:",
                                 sw_sheet_points(&s, a->bundles->points),
                                 sw_sheet_money(&s, a->bundles->cost), a->currency));
        for (size_t i = 0; i < first->purchase_count; i++)
            purchase(&s, first, i);
        together_words(&s, first);
        sw_sheet_cautions(&s, &first->purchases[first->purchase_count - 1].stage);
    }
    return sw_sheet_finish(out, &s);
}
