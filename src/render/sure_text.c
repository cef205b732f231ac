/* What is right whatever the client turns out to like, for the technician. */
#include <math.h>
#include <string.h>

#include "answer/sure.h"
#include "render/sheet.h"

static const char *percent(sw_sheet *s, double share) {
    return SW_FORMAT(s, "%s %%", sw_sheet_decimal(s, 100 * share, 0));
}

/* ---- the weights --------------------------------------------------------------------------------
 */

static void weights(sw_sheet *s, const sw_sure *sure) {
    const sw_weightings *of = &sure->weightings;
    sw_page_heading(&s->page, "Which weights may be right", NULL);
    for (size_t c = 0; c < of->criterion_count; c++) {
        double least = 1, most = 0;
        for (size_t e = 0; e < of->extreme_count; e++) {
            double sum = 0;
            for (size_t k = 0; k < of->criterion_count; k++)
                sum += (double)of->extremes[e][k];
            double share = (double)of->extremes[e][c] / sum;
            least = share < least ? share : least;
            most = share > most ? share : most;
        }
        const char *name = s->answer->criterion_names[of->criteria[c]];
        const char *own = percent(s, s->answer->weights[of->criteria[c]]);
        bool one = most - least < 0.005;
        sw_sheet_words(s, "  - ",
                       one ? SW_FORMAT(s, "%s: %s of the weight", name, own)
                           : SW_FORMAT(s, "%s: %s to %s of the weight (answered: %s)", name,
                                       sw_sheet_decimal(s, 100 * least, 0), percent(s, most), own));
    }
}

/* ---- things
 * --------------------------------------------------------------------------------------- */

static const char *thing_name(sw_sheet *s, const sw_sure_thing *thing) {
    if (thing->kind == SW_SURE_AS_IT_IS)
        return SW_FORMAT(s, "%s as it is", thing->role_name);
    return thing->kind == SW_SURE_TASK ? thing->name
                                       : SW_FORMAT(s, "%s (%s)", thing->name, thing->role_name);
}

/* What shakes the index: prices, estimates. */
static const char *shaken(sw_sheet *s, const sw_sure *sure, const sw_sure_thing *thing) {
    const char *line = "";
    if (thing->least_index >= 0 && thing->most_index - thing->least_index >= 0.005)
        line = SW_FORMAT(s, "; %s to %s with prices %d %% off",
                         sw_sheet_decimal(s, 100 * thing->least_index, 0),
                         percent(s, thing->most_index), sure->prices_percent);
    if (thing->estimates_index >= 0 && (thing->estimates_index - thing->index >= 0.005 ||
                                        thing->index - thing->estimates_index >= 0.005))
        line = SW_FORMAT(s, "%s; %s with estimates %d %% off", line,
                         percent(s, thing->estimates_index), sure->estimates_percent);
    return line;
}

typedef bool belongs(const sw_sure_thing *thing);

static bool is_sure_part(const sw_sure_thing *thing) {
    return thing->kind == SW_SURE_PART && thing->index >= 1;
}

static bool is_sure_task(const sw_sure_thing *thing) {
    return thing->kind == SW_SURE_TASK && thing->index >= 1;
}

static bool is_left_alone(const sw_sure_thing *thing) {
    return thing->kind == SW_SURE_AS_IT_IS && thing->index >= 1;
}

static bool is_open(const sw_sure_thing *thing) { return thing->index > 0 && thing->index < 1; }

static bool is_close(const sw_sure_thing *thing) {
    return thing->index <= 0 && thing->kind != SW_SURE_AS_IT_IS;
}

static void list(sw_sheet *s, const sw_sure *sure, const char *heading, belongs *wanted,
                 bool with_shares) {
    bool begun = false;
    for (size_t i = 0; i < sure->thing_count; i++) {
        const sw_sure_thing *thing = &sure->things[i];
        if (!wanted(thing))
            continue;
        if (!begun)
            sw_page_heading(&s->page, heading, NULL);
        begun = true;
        const char *name = thing_name(s, thing), *more = shaken(s, sure, thing);
        sw_sheet_words(
            s, "  - ",
            with_shares ? SW_FORMAT(s,
                                    "%s: in %s of these bundles, in the best at %s of the "
                                    "weightings%s",
                                    name, percent(s, thing->index), percent(s, thing->share), more)
                        : SW_FORMAT(s, "%s%s", name, more));
    }
}

/* ---- bundles
 * ---------------------------------------------------------------------------------------- */

static void bundle(sw_sheet *s, const sw_sure *sure, size_t which) {
    const sw_sure_bundle *b = &sure->bundles[which];
    const char *points = "";
    for (size_t c = 0; c < sure->weightings.criterion_count; c++) {
        int criterion = sure->weightings.criteria[c];
        points = SW_FORMAT(s, "%s%s%s %s", points, c > 0 ? ", " : "",
                           s->answer->criterion_names[criterion],
                           sw_sheet_points(s, b->by_criterion[criterion]));
    }
    for (size_t i = 0; i < b->bundle.swap_count; i++)
        sw_sheet_words(s, "  - ",
                       SW_FORMAT(s, "%s: %s", b->bundle.swaps[i].role_name,
                                 sw_sheet_holding(s, &b->bundle.swaps[i])));
    for (size_t i = 0; i < b->bundle.task_count; i++)
        sw_sheet_words(s, "  - ", b->bundle.tasks[i].name);
    if (b->bundle.swap_count + b->bundle.task_count == 0)
        sw_sheet_words(s, "  - ", "everything stays as it is");
    sw_sheet_words(
        s, "    ",
        SW_FORMAT(s, "%s %s in all. With all weight on one of them it brings, in points: %s.",
                  sw_sheet_money(s, b->bundle.cost), s->answer->currency, points));
    sw_sheet_words(s, "    ",
                   SW_FORMAT(s,
                             "If the weights are elsewhere, it brings at most %s points less than "
                             "what would be best there.",
                             sw_sheet_decimal(s, b->regret, 1)));
}

static void bundles(sw_sheet *s, const sw_sure *sure) {
    sw_page_heading(&s->page, "Best at the weights that were answered", NULL);
    bundle(s, sure, sure->best);
    if (sure->best == sure->least_regret) {
        sw_sheet_words(s, "", "No bundle can be regretted less.");
        return;
    }
    sw_page_heading(&s->page, "Least to be regretted, wherever the weights are", NULL);
    bundle(s, sure, sure->least_regret);
}

/* "20 % too high to 50 % too low": how far an estimate may be off. */
static const char *off_by(sw_sheet *s, const sw_sure_range *range) {
    const char *from = sw_sheet_decimal(s, 100 * (1 - range->from), 0);
    return isinf(range->to) ? SW_FORMAT(s, "%s %% too high, or too low by any", from)
                            : SW_FORMAT(s, "%s %% too high to %s %% too low", from,
                                        sw_sheet_decimal(s, 100 * (range->to - 1), 0));
}

static void ranges(sw_sheet *s, const sw_sure *sure, const sw_sure_option *option) {
    for (size_t c = 0; c < sure->weightings.criterion_count && option->ranges != NULL; c++) {
        const sw_sure_range *range = &option->ranges[c];
        sw_sheet_words(
            s, "      ",
            SW_FORMAT(s, "while %s has %s to %s of the weight, or what it brings is estimated %s",
                      s->answer->criterion_names[sure->weightings.criteria[c]],
                      sw_sheet_decimal(s, 100 * range->from_share, 0), percent(s, range->to_share),
                      off_by(s, range)));
    }
}

static void options(sw_sheet *s, const sw_sure *sure) {
    if (sure->option_count == 0)
        return;
    sw_page_heading(&s->page, "The options that were offered", NULL);
    for (size_t o = 0; o < sure->option_count; o++) {
        const sw_sure_option *option = &sure->options[o];
        const char *stays =
            option->stays < 0
                ? "whether it stays the best for its money was not settled in the time"
                : SW_FORMAT(s, "it is the best for its money at %s of the weightings",
                            percent(s, option->stays));
        sw_sheet_words(s, "  - ",
                       SW_FORMAT(s,
                                 "option %zu (%s), %s %s: at most %s points less than what would "
                                 "be best with all the money; %s",
                                 option->number, option->place, sw_sheet_money(s, option->cost),
                                 s->answer->currency, sw_sheet_decimal(s, option->regret, 1),
                                 stays));
        ranges(s, sure, option);
    }
    if (!sure->options_known)
        sw_sheet_words(
            s, "",
            SW_FORMAT(s, "%s while the options were sought: they may be others.", s->cut_short));
}

sw_status sw_render_sure_text(char **out, const sw_sure *sure, sw_text_style style) {
    sw_sheet s;
    if (!sw_sheet_start(&s, sure->answer, style))
        return SW_NO_MEMORY;
    s.cut_short = sw_cut_short(sure->answer->asked_to_stop);
    sw_sheet_head(&s, true);
    sw_sheet_beware(&s);
    if (sure->count == 0) {
        sw_page_gap(&s.page);
        sw_sheet_words(&s, "",
                       sure->answer->status == SW_NOTHING_FITS
                           ? "Nothing fits: no bundle obeys the rules, musts, wishes and budget. "
                             "plan tells what is in the way."
                           : SW_FORMAT(&s, "%s before any bundle was found.", s.cut_short));
        return sw_sheet_finish(out, &s);
    }
    weights(&s, sure);
    sw_page_gap(&s.page);
    sw_sheet_words(
        &s, "",
        SW_FORMAT(&s,
                  "%zu bundle%s of which no other is at least as good at all these "
                  "weights, and better at some.%s",
                  sure->count, sure->count == 1 ? "" : "s",
                  sure->complete ? "" : " There may be more, and some may not be of them:"));
    if (!sure->complete)
        sw_sheet_words(&s, "", SW_FORMAT(&s, "%s before all were found.", s.cut_short));
    list(&s, sure, "Buy it whatever they prefer", is_sure_part, false);
    list(&s, sure, "Do it whatever they prefer", is_sure_task, false);
    list(&s, sure, "Leave it as it is whatever they prefer", is_left_alone, false);
    list(&s, sure, "Ask: it hangs on what they prefer", is_open, true);
    list(&s, sure, "Only with other prices or estimates", is_close, false);
    bundles(&s, sure);
    options(&s, sure);
    if (!sure->prices_known || !sure->estimates_known)
        sw_sheet_words(&s, "", "What other prices and estimates do was not settled in the time.");
    return sw_sheet_finish(out, &s);
}
