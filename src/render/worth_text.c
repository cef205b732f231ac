/* What each part of the best bundle is worth and what its money is: the last and
 * the next step, the verdict, and the bundles that come after. */
#include "render/differences.h"
#include "render/sheet.h"

#include <stdlib.h>
#include <string.h>

static bool in_group(const sw_answer_group *group, const char *role) {
    for (size_t i = 0; group != NULL && i < group->role_count; i++)
        if (strcmp(group->roles[i], role) == 0)
            return true;
    return false;
}

/* "the display and the case fans": roles in which `other` buys something else. */
static const char *elsewhere(sw_sheet *s, const sw_answer_bundle *best,
                             const sw_answer_bundle *other, const sw_answer_group *group) {
    const char *line = "";
    size_t count = 0;
    for (size_t i = 0; i < other->swap_count; i++) {
        const sw_answer_swap *swap = &other->swaps[i];
        if (in_group(group, swap->role) || swap->in_count == 0 ||
            sw_same_swap(swap, sw_swap_of(best, swap->role)))
            continue;
        line = SW_FORMAT(s, "%s%s%s", line, count == 0 ? "" : ", ", swap->role_name);
        count++;
    }
    return line;
}

/* ---- what is lost without a group ---------------------------------------------------- */

static size_t worst_criterion(const sw_answer *a, const sw_answer_bundle *b,
                              const sw_answer_bundle *without) {
    size_t worst = 0;
    for (size_t c = 1; c < a->criterion_count; c++)
        if (b->by_criterion[c] - without->by_criterion[c] >
            b->by_criterion[worst] - without->by_criterion[worst])
            worst = c;
    return worst;
}

/* The use whose rate falls most, or NULL when none falls by a hundredth: both have the job's uses
 * in one order. */
static const sw_answer_rate *worst_use(const sw_answer_bundle *b, const sw_answer_bundle *without,
                                       const sw_answer_rate **then) {
    const sw_answer_rate *worst = NULL;
    double least = 0.99;
    for (size_t i = 0; i < b->rate_count; i++) {
        double fall = without->rates[i].ratio / b->rates[i].ratio;
        if (fall >= least)
            continue;
        least = fall;
        worst = &b->rates[i];
        *then = &without->rates[i];
    }
    return worst;
}

const char *sw_sheet_rate(sw_sheet *s, const sw_answer_rate *rate) {
    if (rate->rate_now > 0)
        return SW_FORMAT(s, "%s %s", sw_sheet_decimal(s, rate->rate_then, rate->rate_then < 10),
                         rate->unit);
    return SW_FORMAT(s, "%s times today's rate", sw_sheet_decimal(s, rate->ratio, 2));
}

static const char *loss(sw_sheet *s, const sw_answer_group *group) {
    const sw_answer *a = s->answer;
    const sw_answer_bundle *b = &a->bundles[0], *without = group->without;
    size_t c = worst_criterion(a, b, without);
    const sw_answer_rate *then = NULL, *use = worst_use(b, without, &then);
    bool speed = use != NULL && strcmp(a->criterion_kinds[c], "speed") == 0;
    bool quiet = a->has_sound && strcmp(a->criterion_kinds[c], "quiet") == 0;
    if (speed && use->rate_now > 0)
        return SW_FORMAT(s, "%s at %s, not %s", use->use_name,
                         sw_sheet_decimal(s, then->rate_then, then->rate_then < 10),
                         sw_sheet_rate(s, use));
    if (speed)
        return SW_FORMAT(s, "%s at %s, not %s times today's rate", use->use_name,
                         sw_sheet_decimal(s, then->ratio, 2), sw_sheet_decimal(s, use->ratio, 2));
    const char *louder = sw_sheet_decimal(s, without->loudness_sone, 2);
    const char *quieter = sw_sheet_decimal(s, b->loudness_sone, 2);
    if (quiet && strcmp(louder, quieter) != 0)
        return SW_FORMAT(s, "%s sone at the seat, not %s", louder, quieter);
    return SW_FORMAT(s, "%s points of %s, not %s", sw_sheet_points(s, without->by_criterion[c]),
                     a->criterion_names[c], sw_sheet_points(s, b->by_criterion[c]));
}

static const char *reason(sw_sheet *s, const sw_answer_group *group) {
    if (!group->settled)
        return SW_FORMAT(s, "%s before its worth was settled.", s->cut_short);
    if (group->needed)
        return group->must ? "A must: no bundle obeys without it."
                           : "No bundle obeys the rules and wishes without it.";
    const char *lead = group->must ? "A must in one way or another; as today" : "Without it";
    if (group->worth == 0)
        return SW_FORMAT(s,
                         "%s just as many points can be had: it saves money, or comes first "
                         "among equals.",
                         lead);
    const char *money = elsewhere(s, &s->answer->bundles[0], group->without, group);
    return SW_FORMAT(s, "%s: %s%s%s.", lead, loss(s, group),
                     money[0] != '\0' ? "; other choices then for: " : "", money);
}

static const char *names(sw_sheet *s, const sw_answer_group *group) {
    const char *line = "";
    for (size_t i = 0; i < group->role_count; i++)
        line = SW_FORMAT(s, "%s%s%s", line, i == 0 ? "" : " + ", group->role_names[i]);
    return line;
}

static int by_worth(const void *left, const void *right) {
    const sw_answer_group *a = *(const sw_answer_group *const *)left;
    const sw_answer_group *b = *(const sw_answer_group *const *)right;
    if (a->needed != b->needed)
        return a->needed ? -1 : 1;
    if (a->worth != b->worth)
        return a->worth > b->worth ? -1 : 1;
    return strcmp(a->roles[0], b->roles[0]);
}

static void group_lines(sw_sheet *s, const sw_answer_group *group) {
    bool has = group->settled && !group->needed;
    int64_t rate = has ? sw_per_hundred(s->answer, group->worth, group->cost) : -1;
    const char *worth = has ? sw_sheet_points(s, group->worth) : "-";
    const char *per = rate < 0 ? "-" : sw_sheet_points(s, rate);
    const char *right =
        SW_FORMAT(s, "%s %s %s", sw_sheet_right(s, sw_sheet_money(s, group->cost), 10),
                  sw_sheet_right(s, worth, 8), sw_sheet_right(s, per, 8));
    sw_sheet_sum(s, "  ", names(s, group), right);
    sw_sheet_words(s, "      ", reason(s, group));
}

void sw_sheet_worth(sw_sheet *s) {
    const sw_answer *a = s->answer;
    if (a->group_count == 0)
        return;
    const sw_answer_group **order = SW_NEW(s->arena, const sw_answer_group *, a->group_count);
    if (order == NULL) {
        s->page.text.failed = true;
        return;
    }
    for (size_t i = 0; i < a->group_count; i++)
        order[i] = &a->groups[i];
    qsort(order, a->group_count, sizeof *order, by_worth);
    sw_page_heading(&s->page, "What each of these is worth by itself",
                    SW_FORMAT(s, "%s %s %s", sw_sheet_right(s, a->currency, 10),
                              sw_sheet_right(s, "points", 8), sw_sheet_right(s, "per 100", 8)));
    sw_sheet_words(s, "  ",
                   "Points lost when it is left as it is today and the money may go elsewhere. "
                   "The worths do not add up.");
    for (size_t i = 0; i < a->group_count; i++)
        group_lines(s, order[i]);
}

/* ---- last and next money, verdict --------------------------------------------------- */

static const char *rate_between(sw_sheet *s, const sw_answer_bundle *high,
                                const sw_answer_bundle *low) {
    return sw_sheet_points(
        s, sw_per_hundred(s->answer, high->points - low->points, high->cost - low->cost));
}

static void last_money(sw_sheet *s) {
    const sw_answer *a = s->answer;
    const sw_answer_bundle *best = &a->bundles[0], *last = a->last.bundle;
    if (a->last.open)
        sw_sheet_words(s, "  ",
                       SW_FORMAT(s, "%s before the step below was settled.", s->cut_short));
    if (last == NULL)
        return;
    const char *what = elsewhere(s, last, best, NULL);
    sw_sheet_words(s, "  ",
                   SW_FORMAT(s, "The last %s %s (from %s to %s) bring %s points, %s per 100%s%s%s.",
                             sw_sheet_money(s, best->cost - last->cost), a->currency,
                             sw_sheet_money(s, last->cost), sw_sheet_money(s, best->cost),
                             sw_sheet_points(s, best->points - last->points),
                             rate_between(s, best, last), what[0] != '\0' ? " (" : "", what,
                             what[0] != '\0' ? ")" : ""));
}

static void next_money(sw_sheet *s) {
    const sw_answer *a = s->answer;
    const sw_answer_bundle *best = &a->bundles[0], *next = a->next.bundle;
    if (a->next.open) {
        sw_sheet_words(s, "  ", SW_FORMAT(s, "%s before the next step was settled.", s->cut_short));
        return;
    }
    if (next == NULL) {
        sw_sheet_words(s, "  ", "More money than this brings no more points, however much it is.");
        return;
    }
    const char *what = elsewhere(s, best, next, NULL);
    sw_sheet_words(s, "  ",
                   SW_FORMAT(s,
                             "Up to %s %s nothing changes. From %s, which is %s more than there "
                             "is to spend, there are %s points more%s%s%s.",
                             sw_sheet_money(s, next->cost - 1), a->currency,
                             sw_sheet_money(s, next->cost),
                             sw_sheet_money(s, next->cost - sw_sheet_to_spend(a)),
                             sw_sheet_points(s, next->points - best->points),
                             what[0] != '\0' ? " (" : "", what, what[0] != '\0' ? ")" : ""));
}

static void keep_words(sw_sheet *s) {
    const sw_answer *a = s->answer;
    const char *per = sw_sheet_points(s, a->worth_at_least_milli);
    const sw_answer_bundle *rate = a->best_rate.bundle, *first = a->first.bundle;
    const char *lead = "Keep your money";
    if (a->baseline.cost > 0)
        lead = SW_FORMAT(s, "Do what must be done, for %s %s, and keep the rest of your money",
                         sw_sheet_money(s, a->baseline.cost), a->currency);
    if (rate == NULL || first == NULL)
        sw_sheet_words(s, "", SW_FORMAT(s, "%s: no more of it brings a single point.", lead));
    else
        sw_sheet_words(
            s, "",
            SW_FORMAT(s,
                      "%s: at its best it brings %s points per 100 %s (%s points for %s more), and "
                      "under %s per 100 it is to be kept.",
                      lead, rate_between(s, rate, first), a->currency,
                      sw_sheet_points(s, rate->points - first->points),
                      sw_sheet_money(s, rate->cost - first->cost), per));
    if (first == NULL || first->points <= 0)
        return;
    const char *cost = a->baseline.cost > 0 ? "costs no more than that" : "costs nothing";
    sw_sheet_words(s, "",
                   SW_FORMAT(s,
                             "Do what %s: it brings %s points. Below stands what all the money "
                             "would buy.",
                             cost, sw_sheet_points(s, first->points)));
}

static void less_words(sw_sheet *s) {
    const sw_answer *a = s->answer;
    const sw_answer_bundle *best = &a->bundles[0], *worth = a->worthwhile.bundle;
    const char *what = elsewhere(s, worth, best, NULL);
    sw_sheet_words(
        s, "",
        SW_FORMAT(s,
                  "Worth its money: %s %s for %s points. The %s more that all the money buys bring "
                  "%s points, %s per 100%s%s%s; under %s per 100 it is to be kept.",
                  sw_sheet_money(s, worth->cost), a->currency, sw_sheet_points(s, worth->points),
                  sw_sheet_money(s, best->cost - worth->cost),
                  sw_sheet_points(s, best->points - worth->points), rate_between(s, best, worth),
                  what[0] != '\0' ? " (" : "", what, what[0] != '\0' ? ")" : "",
                  sw_sheet_points(s, a->worth_at_least_milli)));
}

void sw_sheet_verdict(sw_sheet *s) {
    const sw_answer *a = s->answer;
    bool open = a->advice == SW_ADVICE_NONE && a->worth_at_least_milli >= 0;
    if (a->advice != SW_ADVICE_NONE || a->at_its_end || open)
        sw_page_heading(&s->page, "Verdict", NULL);
    if (open)
        sw_sheet_words(
            s, "", SW_FORMAT(s, "%s before it was settled what is worth its money.", s->cut_short));
    if (a->at_its_end)
        sw_sheet_words(s, "",
                       SW_FORMAT(s,
                                 "This machine is at its end: the best bundle renews %zu of the "
                                 "%zu places that make it what it is. Think of another machine.",
                                 a->renewed, a->renewable));
    if (a->advice == SW_ADVICE_KEEP)
        keep_words(s);
    else if (a->advice == SW_ADVICE_LESS)
        less_words(s);
    else if (a->advice == SW_ADVICE_SPEND)
        sw_sheet_words(s, "",
                       SW_FORMAT(s,
                                 "Worth its money: spending less loses at least %s points for each "
                                 "100 %s kept.",
                                 sw_sheet_points(s, a->worth_at_least_milli), a->currency));
}

/* ---- the bundles that come after ------------------------------------------------- */

void sw_sheet_ranked(sw_sheet *s) {
    const sw_answer *a = s->answer;
    if (a->first.bundle != NULL || a->next.bundle != NULL || a->next.open) {
        sw_page_heading(&s->page, "The last money and the next", NULL);
        last_money(s);
        next_money(s);
    }
    if (a->asked_count < 2)
        return;
    sw_page_heading(
        &s->page,
        a->apart > 0 ? SW_FORMAT(s, "Next best, each in %d role%s or more unlike all before",
                                 a->apart, a->apart == 1 ? "" : "s")
                     : "Next best",
        SW_FORMAT(s, "%s %s", sw_sheet_right(s, a->currency, 10), sw_sheet_right(s, "points", 8)));
    for (size_t i = 0; i < a->bundle_count; i++) {
        const sw_answer_bundle *b = &a->bundles[i];
        sw_sheet_sum(
            s, "  ",
            SW_FORMAT(s, "%d. %s", b->rank, i == 0 ? "the best, as above" : "unlike the best in:"),
            SW_FORMAT(
                s, "%s %s", sw_sheet_right(s, sw_sheet_money(s, b->cost), 10),
                sw_sheet_right(
                    s, SW_FORMAT(s, "%s", sw_sheet_text(s, sw_milli_text(s->arena, b->points, 3))),
                    8)));
        if (i > 0) {
            sw_sheet_differences(s, b, &a->bundles[0], "in the best");
        }
    }
    if (a->bundle_count < (size_t)a->asked_count)
        sw_sheet_words(s, "  ",
                       a->unsettled
                           ? SW_FORMAT(s, "%s before the others were settled.", s->cut_short)
                           : "There are no others.");
}
