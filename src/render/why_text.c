/* The answer of `why` as a person at the counter reads it. */
#include "answer/why.h"

#include <string.h>

#include "render/conflict.h"
#include "render/differences.h"
#include "render/fits.h"

static const char *cost(sw_sheet *s, const sw_answer_bundle *b) {
    return SW_FORMAT(s, "%s %s", sw_sheet_money(s, b->cost), s->answer->currency);
}

static const char *points(sw_sheet *s, int64_t thousandths) {
    const char *text = sw_milli_text(s->arena, thousandths, 1);
    bool tiny = thousandths != 0 && thousandths > -50 && thousandths < 50;
    return sw_sheet_text(s, tiny ? sw_milli_text(s->arena, thousandths, 3) : text);
}

/* "speed 40.1 (44.3), quiet 3.0 (1.2)": the criteria in which two bundles differ. */
static const char *criteria(sw_sheet *s, const sw_answer_bundle *b, const sw_answer_bundle *than) {
    const sw_answer *a = s->answer;
    const char *line = "";
    for (size_t c = 0; c < a->criterion_count; c++)
        if (b->by_criterion[c] != than->by_criterion[c])
            line = SW_FORMAT(s, "%s%s%s %s (%s)", line, line[0] == '\0' ? "" : ", ",
                             a->criterion_names[c], points(s, b->by_criterion[c]),
                             points(s, than->by_criterion[c]));
    return line;
}

static void compare(sw_sheet *s, const sw_answer_bundle *b, const sw_answer_bundle *than,
                    const char *there) {
    const char *line = criteria(s, b, than);
    if (line[0] != '\0')
        sw_sheet_words(s, "  ", SW_FORMAT(s, "Points (%s in brackets): %s.", there, line));
    sw_sheet_differences(s, b, than, there);
}

/* ---- where it stands -------------------------------------------------------------------- */

static void in_words(sw_sheet *s, const sw_why *why) {
    const sw_answer_bundle *best = &s->answer->bundles[0], *without = why->without.bundle;
    sw_sheet_words(s, "",
                   SW_FORMAT(s, "It is in the best bundle, of %s points for %s.",
                             points(s, best->points), cost(s, best)));
    if (why->without.open) {
        sw_sheet_words(s, "",
                       SW_FORMAT(s, "%s before the best without it was settled.", s->cut_short));
        return;
    }
    if (without == NULL) {
        sw_sheet_words(s, "", "No bundle within the budget obeys without it.");
        return;
    }
    sw_sheet_words(
        s, "",
        SW_FORMAT(s, "Without it the best would be %s points for %s: %s.",
                  points(s, without->points), cost(s, without),
                  best->points == without->points
                      ? "as many, but it would cost more or come later among equals"
                      : SW_FORMAT(s, "%s fewer", points(s, best->points - without->points))));
    compare(s, without, best, "with it");
}

static void beaten_words(sw_sheet *s, const sw_why *why) {
    const sw_answer_bundle *best = &s->answer->bundles[0], *with = why->with.bundle;
    const sw_answer_swap *there = sw_swap_of(best, why->role);
    sw_sheet_words(
        s, "",
        SW_FORMAT(s, "It is beaten. The best bundle, of %s points for %s, has in its place: %s.",
                  points(s, best->points), cost(s, best),
                  there == NULL ? "what is there today" : sw_sheet_holding(s, there)));
    const char *behind = best->points == with->points
                             ? "no points fewer, but it costs more or comes later among equals"
                             : SW_FORMAT(s, "%s fewer", points(s, best->points - with->points));
    sw_sheet_words(s, "",
                   SW_FORMAT(s, "The best bundle with it brings %s points for %s: %s.",
                             points(s, with->points), cost(s, with), behind));
    compare(s, with, best, "in the best");
}

static void dear_words(sw_sheet *s, const sw_why *why) {
    const sw_answer_bundle *cheapest = why->cheapest.bundle;
    sw_sheet_words(s, "",
                   SW_FORMAT(s,
                             "It is too dear: a bundle with it takes at least %s, and there are %s "
                             "to spend: %s more.",
                             cost(s, cheapest), sw_sheet_money(s, s->answer->budget),
                             sw_sheet_money(s, cheapest->cost - s->answer->budget)));
}

static void never_words(sw_sheet *s, const sw_why *why) {
    if (!why->refusal.settled) {
        sw_sheet_words(
            s, "",
            SW_FORMAT(s,
                      "No bundle may hold it, whatever it costs. %s before it was settled what "
                      "refuses it.",
                      s->cut_short));
        return;
    }
    if (why->refusal.clause_count == 0) {
        sw_sheet_words(s, "", "No bundle can hold it. What stands in its way:");
        return;
    }
    sw_sheet_words(s, "",
                   "No bundle may hold it, whatever it costs: beside everything on offer it cannot "
                   "meet all of these.");
    sw_sheet_clauses(s, &why->refusal);
}

static void left_out(sw_sheet *s, const sw_why *why) {
    for (size_t i = 0; i < why->left_out_count; i++) {
        const sw_why_left_out *out = &why->left_out[i];
        const char *line = "it comes later than the client can wait.";
        if (strcmp(out->why, "no-stock") == 0)
            line = "no seller has it in stock.";
        else if (strcmp(out->why, "avoided") == 0)
            line = "the client wishes to avoid it, or its maker.";
        else if (strcmp(out->why, "not-sold") == 0)
            line = "no seller lists it.";
        else if (strcmp(out->why, "unknown") == 0)
            line = SW_FORMAT(s, "nobody has stated its %s (%s).", out->fact, out->meaning);
        sw_sheet_words(s, "  - ", line);
    }
}

static void standing(sw_sheet *s, const sw_why *why) {
    sw_page_heading(&s->page, SW_FORMAT(s, "Why %s (%s)", why->name, why->role_name), NULL);
    if (why->standing == SW_STANDS_IN)
        in_words(s, why);
    else if (why->with.open || (why->cheapest.open && why->standing != SW_STANDS_BEATEN))
        sw_sheet_words(
            s, "", SW_FORMAT(s, "%s before it was settled whether it can be in.", s->cut_short));
    else if (why->standing == SW_STANDS_BEATEN)
        beaten_words(s, why);
    else if (why->standing == SW_STANDS_DEAR)
        dear_words(s, why);
    else
        never_words(s, why);
    left_out(s, why);
}

/* ---- what refuses it today ----------------------------------------------------------------- */

static void refusals(sw_sheet *s, const sw_fits *trial) {
    for (size_t i = 0; i < trial->rule_count; i++) {
        const sw_fits_rule *rule = &trial->rules[i];
        bool again = i > 0 && strcmp(rule->rule, trial->rules[i - 1].rule) == 0 &&
                     rule->says == trial->rules[i - 1].says;
        bool forbids =
            rule->says == SW_SAYS_REFUSED || (rule->says == SW_SAYS_UNKNOWN && rule->hard);
        if (!forbids || again)
            continue;
        sw_sheet_fits_rule(s, rule);
        if (rule->kept != NULL)
            sw_sheet_words(s, "      ", SW_FORMAT(s, "What stays there: %s.", rule->kept));
    }
    if (trial->places_left > 0)
        sw_sheet_words(
            s, "  - ",
            SW_FORMAT(s, "things without a place: %lld.", (long long)trial->places_left));
}

/* What the cheapest bundle with it changes beside it, where it does not go in by itself. */
static void along(sw_sheet *s, const sw_why *why) {
    const sw_answer_bundle *cheapest = why->cheapest.bundle;
    if (cheapest == NULL || why->along_count == 0 || why->trial->verdict == SW_FITS)
        return;
    sw_sheet_words(s, "",
                   SW_FORMAT(s,
                             "The cheapest bundle with it takes %s in all, and changes these too:",
                             cost(s, cheapest)));
    for (size_t i = 0; i < why->along_count; i++) {
        const sw_answer_swap *swap = sw_swap_of(cheapest, why->along[i]);
        sw_sheet_words(s, "  - ",
                       SW_FORMAT(s, "%s: %s", why->along_names[i],
                                 swap == NULL ? "as today" : sw_sheet_holding(s, swap)));
    }
}

static void trial(sw_sheet *s, const sw_why *why) {
    if (why->trial == NULL)
        return;
    sw_page_heading(&s->page, "Put into the machine as it is today", NULL);
    if (why->trial->verdict == SW_FITS) {
        sw_sheet_words(s, "", why->trial->task_count > 0 ? "It fits, with this work:" : "It fits.");
        for (size_t i = 0; i < why->trial->task_count; i++)
            sw_sheet_words(s, "  - ", why->trial->tasks[i].name);
    } else {
        sw_sheet_words(s, "",
                       why->trial->verdict == SW_FITS_UNKNOWN ? "It cannot be told yet:"
                                                              : "It does not fit as it is:");
        refusals(s, why->trial);
    }
    along(s, why);
}

/* ---- prices and weights ------------------------------------------------------------------------
 */

static const char *interval(sw_sheet *s, const sw_range *range) {
    if (range->from == 0 && range->to == SW_MONEY_LIMIT)
        return "at any price, as it is there already, in";
    if (range->from == 0)
        return SW_FORMAT(s, "up to %s", sw_sheet_money(s, range->to));
    if (range->from == range->to)
        return SW_FORMAT(s, "at %s", sw_sheet_money(s, range->to));
    return SW_FORMAT(s, "from %s to %s", sw_sheet_money(s, range->from),
                     sw_sheet_money(s, range->to));
}

static void entry(sw_sheet *s, const sw_why *why) {
    const sw_why_entry *e = &why->entry;
    if (e->seller == NULL)
        return;
    sw_page_heading(&s->page, "Its price", NULL);
    const char *listed = SW_FORMAT(s, "%s asks %s %s.", e->seller_name, sw_sheet_money(s, e->price),
                                   s->answer->currency);
    if (!e->settled) {
        sw_sheet_words(s, "",
                       SW_FORMAT(s, "%s %s before all prices were settled at which it is in.",
                                 listed, s->cut_short));
        return;
    }
    if (e->interval_count == 0) {
        sw_sheet_words(
            s, "",
            SW_FORMAT(s, "%s At no price, not even for nothing, would it be in the best bundle.",
                      listed));
        return;
    }
    const char *line = "";
    for (size_t i = 0; i < e->interval_count; i++)
        line = SW_FORMAT(s, "%s%s%s", line, i == 0 ? "" : ", and again ",
                         interval(s, &e->intervals[i]));
    sw_sheet_words(s, "",
                   SW_FORMAT(s, "%s It would be in the best bundle %s %s%s.", listed, line,
                             s->answer->currency,
                             e->interval_count > 1
                                 ? " (where the goods reach free delivery, more is paid for it)"
                                 : ""));
}

/* "from 0 to 37 % and from 80 to 100 %" */
static const char *percents(sw_sheet *s, const sw_range *list, size_t count) {
    const char *line = "";
    for (size_t i = 0; i < count; i++) {
        const char *one =
            list[i].from == list[i].to
                ? SW_FORMAT(s, "at %d %%", (int)list[i].from)
                : SW_FORMAT(s, "from %d to %d %%", (int)list[i].from, (int)list[i].to);
        line = SW_FORMAT(s, "%s%s%s", line, i == 0 ? "" : " and ", one);
    }
    return line;
}

static const char *where(sw_sheet *s, const sw_why_weight *weight) {
    bool all =
        weight->range_count == 1 && weight->ranges[0].from == 0 && weight->ranges[0].to == 100;
    const char *open =
        weight->open_count == 0
            ? ""
            : SW_FORMAT(s, "; not settled %s", percents(s, weight->open, weight->open_count));
    if (weight->open_count == 1 && weight->open[0].from == 0 && weight->open[0].to == 100)
        return "not settled";
    if (all)
        return "it is in at any weight";
    if (weight->range_count == 0)
        return SW_FORMAT(s, "it is in at no weight%s%s",
                         weight->open_count > 0 ? " that was settled" : "", open);
    return SW_FORMAT(s, "it is in %s%s", percents(s, weight->ranges, weight->range_count), open);
}

static void weights(sw_sheet *s, const sw_why *why) {
    if (why->weight_count == 0)
        return;
    sw_page_heading(&s->page, "If something else mattered more", NULL);
    bool open = false;
    for (size_t i = 0; i < why->weight_count; i++)
        open = open || why->weights[i].open_count > 0;
    if (open)
        sw_sheet_words(s, "", SW_FORMAT(s, "%s before all of this was settled.", s->cut_short));
    for (size_t i = 0; i < why->weight_count; i++) {
        const sw_why_weight *weight = &why->weights[i];
        sw_sheet_words(s, "  - ",
                       SW_FORMAT(s, "%s, %s %% of the whole now: %s.", weight->name,
                                 sw_sheet_text(s, sw_milli_text(s->arena, weight->now_milli, 0)),
                                 where(s, weight)));
    }
}

/* ---- over another -------------------------------------------------------------------------------
 */

static void over(sw_sheet *s, const sw_why *why) {
    const sw_why_over *o = &why->over;
    if (o->part == NULL)
        return;
    sw_page_heading(&s->page, SW_FORMAT(s, "%s over %s", why->name, o->name), NULL);
    if (o->this.open || o->other.open) {
        sw_sheet_words(s, "", SW_FORMAT(s, "%s before this was settled.", s->cut_short));
        return;
    }
    const sw_answer_bundle *this = o->this.bundle, *other = o->other.bundle;
    if (this == NULL || other == NULL) {
        sw_sheet_words(s, "",
                       this == NULL && other == NULL
                           ? "No bundle within the budget holds one of them and not the other."
                           : SW_FORMAT(s, "Within the budget no bundle holds %s and not %s.",
                                       this == NULL ? why->name : o->name,
                                       this == NULL ? o->name : why->name));
        return;
    }
    int64_t ahead = this->points - other->points;
    sw_sheet_words(s, "",
                   SW_FORMAT(s,
                             "With %s and not %s the best is %s points for %s; the other way round "
                             "%s points for %s: %s.",
                             why->name, o->name, points(s, this->points), cost(s, this),
                             points(s, other->points), cost(s, other),
                             ahead == 0
                                 ? "as many"
                                 : SW_FORMAT(s, "%s %s", points(s, ahead < 0 ? -ahead : ahead),
                                             ahead > 0 ? "more" : "fewer")));
    compare(s, this, other, SW_FORMAT(s, "with %s", o->name));
}

sw_status sw_render_why_text(char **out, const sw_why *why, sw_text_style style) {
    sw_sheet s;
    if (!sw_sheet_start(&s, why->answer, style))
        return SW_NO_MEMORY;
    sw_sheet_head(&s, true);
    if (why->answer->status == SW_OPTIMAL) {
        standing(&s, why);
        trial(&s, why);
        over(&s, why);
        entry(&s, why);
        weights(&s, why);
    } else {
        sw_page_gap(&s.page);
        sw_sheet_words(
            &s, "",
            why->answer->status == SW_NOTHING_FITS
                ? "Nothing fits this job as it stands: \"swapworth plan\" tells what is in the way."
                : SW_FORMAT(&s, "%s before the best bundle was settled.", s.cut_short));
    }
    return sw_sheet_finish(out, &s);
}
