/* Why a change against what was agreed is free, or is asked: for the sheet and the document. */
#include "render/shopping.h"

const char *const sw_way_names[] = {
    [SW_WAY_SAME] = "same", [SW_WAY_LEAST] = "least", [SW_WAY_ANEW] = "anew"};
const char *const sw_agreed_kinds[] = {[SW_CHANGED_PARTS] = "parts",
                                       [SW_CHANGED_SELLER] = "seller",
                                       [SW_CHANGED_TOTAL] = "total",
                                       [SW_CHANGED_DAY] = "day"};

static int64_t more_cost(const sw_shopping *shopping) {
    return shopping->taken->cost - shopping->option->bundle.cost;
}

static int more_days(const sw_shopping *shopping) {
    return shopping->taken->longest_days + shopping->later_by -
           shopping->option->bundle.longest_days;
}

static const char *joined(sw_sheet *s, const char *line, bool so, const char *words) {
    if (!so)
        return line;
    return line[0] == '\0' ? words : SW_FORMAT(s, "%s; %s", line, words);
}

static const char *in_all(sw_sheet *s, const sw_shopping *shopping, const char *line) {
    line = joined(s, line, more_cost(shopping) > 0, "all together costs more than was agreed");
    return joined(s, line, more_days(shopping) > 0, "the last of it comes after the day agreed");
}

static bool points_known(const sw_shopping *shopping) {
    for (size_t i = 0; i < shopping->way_count; i++)
        if (&shopping->ways[i].bundle == shopping->taken)
            return shopping->ways[i].has_points;
    return true;
}

/* "it brings less for quiet and looks" */
static const char *poorer(sw_sheet *s, const sw_shopping *shopping, const char *line) {
    const sw_answer *a = shopping->options->plan;
    const char *names = "";
    for (size_t c = 0; c < a->criterion_count; c++)
        if (shopping->worse[c])
            names =
                SW_FORMAT(s, "%s%s%s", names, names[0] == '\0' ? "" : ", ", a->criterion_names[c]);
    line = joined(s, line, names[0] != '\0', SW_FORMAT(s, "it brings less for %s", names));
    return joined(s, line, !points_known(shopping),
                  "what it brings was not known when this was agreed");
}

static const char *seller_asks(sw_sheet *s, const sw_shopping *shopping,
                               const sw_agreed_change *change) {
    const char *line = "";
    if (!shopping->allows_seller && !shopping->allows_part)
        return "the client wants to be asked before another seller is taken";
    if (!shopping->allows_seller)
        return in_all(s, shopping, line);
    line = joined(s, line, change->dearer, "it costs more there");
    line = joined(s, line, change->later, "it comes after the day agreed");
    line = joined(s, line, change->less_warranty, "its warranty is shorter");
    line = joined(s, line, change->less_return, "the time to give it back is shorter");
    return shopping->allows_part ? in_all(s, shopping, line) : line;
}

static const char *parts_ask(sw_sheet *s, const sw_shopping *shopping) {
    if (!shopping->allows_as_good && !shopping->allows_part)
        return "the client wants to be asked before anything else is put in or done";
    const char *line = in_all(s, shopping, "");
    return shopping->allows_part ? line : poorer(s, shopping, line);
}

static const char *asks(sw_sheet *s, const sw_shopping *shopping, const sw_agreed_change *change) {
    const char *currency = shopping->options->plan->currency;
    int days;
    switch (change->kind) {
    case SW_CHANGED_TOTAL:
        return SW_FORMAT(s, "all together costs %s %s more than was agreed",
                         sw_sheet_money(s, more_cost(shopping)), currency);
    case SW_CHANGED_DAY:
        days = more_days(shopping);
        return SW_FORMAT(s, "the last of it comes %d day%s after the day agreed", days,
                         days == 1 ? "" : "s");
    case SW_CHANGED_SELLER:
        return seller_asks(s, shopping, change);
    default:
        return parts_ask(s, shopping);
    }
}

const char *sw_sheet_because(sw_sheet *s, const sw_shopping *shopping,
                             const sw_agreed_change *change) {
    const char *why = "";
    switch (change->free_by) {
    case SW_FREE_NOT:
        return asks(s, shopping, change);
    case SW_FREE_SELLER:
        why = "the same parts for no more, by the day agreed, with no shorter warranty or return";
        break;
    case SW_FREE_AS_GOOD:
        why = "nothing that the client weighs gets worse, for no more in all, by the day agreed";
        break;
    case SW_FREE_PART:
        why = "no more in all, and by the day agreed";
        break;
    }
    return SW_FORMAT(s, "%s: the client chose \"%s\"", why, shopping->options->terms.surprise_name);
}
