/* The answer of `whatif` as one would tell it on the telephone. */
#include "answer/whatif.h"

#include <math.h>
#include <string.h>

#include "render/change_words.h"
#include "render/differences.h"

static const char *heading(sw_sheet *s, const sw_whatif *w) {
    const char *line = "";
    for (size_t i = 0; i < w->change_count; i++)
        line = SW_FORMAT(s, "%s%s%s", line, i == 0 ? "If " : " and ",
                         sw_sheet_change(s, &w->changes[i], w->changes[i].value));
    return line;
}

/* ---- one case -------------------------------------------------------------------------------- */

static const char *money(sw_sheet *s, int64_t minor) {
    return SW_FORMAT(s, "%s %s", sw_sheet_money(s, minor), s->answer->currency);
}

/* "12.30 EUR more", "12.30 EUR less", "as much". */
static const char *more_money(sw_sheet *s, int64_t by) {
    return by == 0 ? "as much as now"
                   : SW_FORMAT(s, "%s %s than now", money(s, by < 0 ? -by : by),
                               by < 0 ? "less" : "more");
}

/* To the tenth, where it is one: else the thousandths that there are. */
static const char *points(sw_sheet *s, int64_t thousandths) {
    bool tiny = thousandths != 0 && thousandths > -50 && thousandths < 50;
    return sw_sheet_text(s, sw_milli_text(s->arena, thousandths, tiny ? 3 : 1));
}

static void sound(sw_sheet *s, const sw_answer_bundle *b, const sw_answer_bundle *now) {
    const char *then = sw_sheet_decimal(s, b->loudness_sone, 1);
    const char *before = sw_sheet_decimal(s, now->loudness_sone, 1);
    if (s->answer->has_sound && strcmp(then, before) != 0)
        sw_sheet_words(s, "  ",
                       SW_FORMAT(s, "Loudness: %s sone (%s dB(A)) instead of %s sone (%s dB(A)).",
                                 then, sw_sheet_decimal(s, b->level_dba, 1), before,
                                 sw_sheet_decimal(s, now->level_dba, 1)));
}

static const char *rate(sw_sheet *s, const sw_answer_rate *r) {
    if (r->rate_now > 0)
        return SW_FORMAT(s, "%s %s", sw_sheet_decimal(s, r->rate_then, r->rate_then < 10 ? 1 : 0),
                         r->unit);
    return SW_FORMAT(s, "%s times today's rate", sw_sheet_decimal(s, r->ratio, 2));
}

static void rates(sw_sheet *s, const sw_answer_bundle *b, const sw_answer_bundle *now) {
    for (size_t i = 0; i < b->rate_count; i++)
        for (size_t k = 0; k < now->rate_count; k++) {
            const sw_answer_rate *then = &b->rates[i], *before = &now->rates[k];
            if (strcmp(then->use, before->use) != 0 || fabs(then->ratio - before->ratio) < 0.005)
                continue;
            const char *told = rate(s, then), *was = rate(s, before);
            if (strcmp(told, was) != 0)
                sw_sheet_words(
                    s, "  ",
                    SW_FORMAT(s, "%s: about %s instead of %s.", then->use_name, told, was));
        }
}

static void stands_words(sw_sheet *s, const sw_whatif_case *one) {
    const char *line = NULL;
    const sw_answer *a = one->answer;
    switch (one->stands) {
    case SW_STILL_BEST:
        line = "What is best now stays the best.";
        break;
    case SW_STILL_BEATEN:
        line =
            SW_FORMAT(s, "What is best now would still do: it brings %s points for %s then%s.",
                      points(s, one->points), money(s, one->cost),
                      a->status != SW_OPTIMAL || one->points != a->bundles[0].points
                          ? ""
                          : ", as many, but it costs more, does more or comes later among equals");
        break;
    case SW_STILL_DEAR:
        line = SW_FORMAT(s, "What is best now would cost %s, %s more than there is.",
                         money(s, one->cost), money(s, one->cost - a->budget));
        break;
    case SW_STILL_REFUSED:
        line = one->in_the_way == NULL
                   ? "What is best now would not do any more."
                   : SW_FORMAT(s, "What is best now would not do any more. In its way: %s.",
                               one->in_the_way);
        break;
    case SW_STILL_GONE:
        line = "What is best now could not be had as it is.";
        break;
    case SW_STILL_OPEN:
        return;
    }
    sw_sheet_words(s, "", line);
}

static void nothing_words(sw_sheet *s, const sw_whatif_case *one) {
    if (one->answer->status == SW_NOTHING_FITS)
        sw_sheet_words(s, "",
                       "Nothing would fit. \"swapworth plan\" tells what is in the way once it is "
                       "written into the scenario.");
    else
        sw_sheet_words(s, "", SW_FORMAT(s, "%s before any bundle was found.", s->cut_short));
}

static void early_words(sw_sheet *s, const sw_answer *a) {
    if (a->status != SW_STOPPED_EARLY || a->bundle_count == 0)
        return;
    if (a->bound < INT64_MAX)
        sw_sheet_words(s, "",
                       SW_FORMAT(s, "%s: this is the best so far; none has more than %s points.",
                                 s->cut_short, sw_sheet_points(s, a->bound)));
    else
        sw_sheet_words(s, "",
                       SW_FORMAT(s, "%s: this is the best so far, and not proved.", s->cut_short));
}

static bool same_weights(const sw_answer *a, const sw_answer *b) {
    for (size_t c = 0; c < a->criterion_count; c++)
        if (a->weights[c] != b->weights[c])
            return false;
    return true;
}

/* How the points stand to those of now: to what the bundle of now would bring then, else, where
 * points mean the same, to what it brings. */
static const char *gain_words(sw_sheet *s, const sw_whatif *w) {
    const sw_whatif_case *one = &w->cases[0];
    bool beaten = one->stands == SW_STILL_BEATEN;
    if (!beaten && (w->present->bundle_count == 0 || !same_weights(w->present, one->answer)))
        return "";
    int64_t by =
        one->answer->bundles->points - (beaten ? one->points : w->present->bundles->points);
    if (by == 0)
        return "";
    return SW_FORMAT(s, "; it brings %s points %s%s", points(s, by < 0 ? -by : by),
                     by < 0 ? "fewer" : "more", beaten ? " than that" : " than now");
}

static void lone_case(sw_sheet *s, const sw_whatif *w) {
    const sw_whatif_case *one = &w->cases[0];
    const sw_answer *then = one->answer;
    const sw_answer_bundle *now = w->present->bundle_count > 0 ? w->present->bundles : NULL;
    sw_page_heading(&s->page, heading(s, w), NULL);
    if (then->bundle_count == 0) {
        nothing_words(s, one);
        stands_words(s, one);
        return;
    }
    const sw_answer_bundle *b = then->bundles;
    stands_words(s, one);
    if (one->stands != SW_STILL_BEST) {
        sw_sheet_words(
            s, "",
            SW_FORMAT(s, "The best is then %s points for %s%s%s.", points(s, b->points),
                      money(s, b->cost),
                      now == NULL ? "" : SW_FORMAT(s, ", %s", more_money(s, b->cost - now->cost)),
                      gain_words(s, w)));
        if (now != NULL) {
            sw_sheet_words(s, "", "What is not as in the best of now:");
            sw_sheet_differences(s, b, now, "now");
        }
    } else {
        sw_sheet_words(
            s, "",
            SW_FORMAT(s, "It is then %s points for %s%s.", points(s, b->points), money(s, b->cost),
                      now == NULL ? "" : SW_FORMAT(s, ", %s", more_money(s, b->cost - now->cost))));
    }
    if (now != NULL) {
        sound(s, b, now);
        rates(s, b, now);
    }
    if (now != NULL && !same_weights(w->present, then))
        sw_sheet_words(s, "",
                       "Points by other weights are another measure: those told as of then do not "
                       "compare with those of now.");
    early_words(s, then);
}

/* ---- a sweep --------------------------------------------------------------------------------- */

static const char *columns(sw_sheet *s, const char *cost, const char *points_text,
                           const char *loud) {
    return SW_FORMAT(s, "%s %s %s", sw_sheet_right(s, cost, 10), sw_sheet_right(s, points_text, 8),
                     sw_sheet_right(s, loud, 8));
}

static bool same_bundle(const sw_answer_bundle *a, const sw_answer_bundle *b) {
    if (a->swap_count != b->swap_count || a->task_count != b->task_count)
        return false;
    for (size_t i = 0; i < a->swap_count; i++)
        if (!sw_same_swap(&a->swaps[i], sw_swap_of(b, a->swaps[i].role)))
            return false;
    for (size_t i = 0; i < a->task_count; i++)
        if (!sw_does(b, a->tasks[i].id))
            return false;
    return true;
}

static void row(sw_sheet *s, const sw_whatif_case *one, const sw_answer_bundle *before) {
    const sw_answer *a = one->answer;
    if (a->bundle_count == 0) {
        sw_sheet_sum(s, "  ", one->value,
                     a->status == SW_NOTHING_FITS ? "nothing fits" : "not settled");
        return;
    }
    const sw_answer_bundle *b = a->bundles;
    sw_sheet_sum(s, "  ",
                 SW_FORMAT(s, "%s%s%s", one->value, one->stands == SW_STILL_BEST ? " (as now)" : "",
                           a->status == SW_STOPPED_EARLY ? " (so far)" : ""),
                 columns(s, sw_sheet_money(s, b->cost), points(s, b->points),
                         a->has_sound ? sw_sheet_decimal(s, b->loudness_sone, 1) : "-"));
    if (before != NULL && !same_bundle(before, b))
        sw_sheet_differences(s, b, before, "before");
}

static void sweep(sw_sheet *s, const sw_whatif *w) {
    const sw_whatif_change *c = &w->swept;
    const char *what = sw_sheet_change(s, c, "X");
    sw_page_heading(&s->page,
                    w->change_count == 0 ? SW_FORMAT(s, "If %s", what)
                                         : SW_FORMAT(s, "%s and %s", heading(s, w), what),
                    columns(s, s->answer->currency, "points", "sone"));
    const sw_answer_bundle *before = NULL;
    for (size_t i = 0; i < w->case_count; i++) {
        const sw_answer *a = w->cases[i].answer;
        row(s, &w->cases[i], before);
        before = a->bundle_count > 0 ? a->bundles : before;
    }
    bool early = false;
    for (size_t i = 0; i < w->case_count; i++)
        early = early || w->cases[i].answer->status == SW_STOPPED_EARLY;
    if (early)
        sw_sheet_words(s, "",
                       SW_FORMAT(s, "%s: lines that are \"so far\" or not settled are not proved.",
                                 s->cut_short));
}

sw_status sw_render_whatif_text(char **out, const sw_whatif *w, sw_text_style style) {
    sw_sheet s;
    const sw_answer *a = w->present;
    if (!sw_sheet_start(&s, a, style))
        return SW_NO_MEMORY;
    s.cut_short = sw_cut_short(w->asked_to_stop);
    sw_sheet_head(&s, true);
    sw_page_heading(&s.page, "As it is", NULL);
    if (a->bundle_count > 0)
        sw_sheet_words(&s, "",
                       SW_FORMAT(&s, "The best is %s points for %s.",
                                 points(&s, a->bundles->points), money(&s, a->bundles->cost)));
    else
        sw_sheet_words(&s, "",
                       a->status == SW_NOTHING_FITS
                           ? "Nothing fits this job: \"swapworth plan\" tells what is in the way."
                           : SW_FORMAT(&s, "%s before any bundle was found.", s.cut_short));
    early_words(&s, a);
    if (w->swept.path == NULL)
        lone_case(&s, w);
    else
        sweep(&s, w);
    return sw_sheet_finish(out, &s);
}
