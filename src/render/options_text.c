/* The options as a person at the counter reads them. */
#include <string.h>

#include "render/conflict.h"
#include "render/feel.h"
#include "render/options.h"

#define SW_COLUMN 11

static void troubles(sw_sheet *s, const sw_options *o) {
    if (o->trouble_count == 0)
        return;
    sw_page_heading(&s->page, "What the client complains of", NULL);
    for (size_t t = 0; t < o->trouble_count; t++) {
        const sw_told_trouble *told = &o->troubles[t];
        const char *words = told->words[0] == '\0' ? "" : SW_FORMAT(s, ": \"%s\"", told->words);
        const char *use = told->use == NULL ? "" : SW_FORMAT(s, " (%s)", told->use_name);
        sw_sheet_words(s, "  - ",
                       SW_FORMAT(s, "%s%s%s. %s", told->name, use, words, sw_option_fate(s, o, t)));
    }
}

/* ---- side by side ------------------------------------------------------------------------ */

static void row(sw_sheet *s, const sw_options *o, const char *label, const char *today,
                const char *const *cells) {
    const char *line = sw_sheet_right(s, today, SW_COLUMN);
    for (size_t i = 0; i < o->count; i++)
        line = SW_FORMAT(s, "%s%s", line, sw_sheet_right(s, cells[i], SW_COLUMN));
    sw_sheet_sum(s, "  ", label, line);
}

static void rate_rows(sw_sheet *s, const sw_options *o) {
    const char *cells[SW_OPTIONS_MOST];
    const sw_option *last = &o->options[o->count - 1];
    for (size_t u = 0; u < last->promised_count; u++) {
        const sw_answer_rate *rate = &last->promised[u];
        bool known = rate->rate_now > 0;
        for (size_t i = 0; i < o->count; i++) {
            const sw_answer_rate *own = &o->options[i].promised[u];
            cells[i] = known ? sw_sheet_decimal(s, own->rate_then, own->rate_then < 10 ? 1 : 0)
                             : sw_sheet_decimal(s, own->ratio, 2);
        }
        row(s, o, SW_FORMAT(s, "%s, %s", rate->use_name, known ? rate->unit : "times today's rate"),
            known ? sw_sheet_decimal(s, rate->rate_now, rate->rate_now < 10 ? 1 : 0) : "1.00",
            cells);
    }
}

static void side_by_side(sw_sheet *s, const sw_options *o) {
    const sw_answer *a = o->plan;
    const char *cells[SW_OPTIONS_MOST];
    const char *heads = sw_sheet_right(s, "today", SW_COLUMN);
    for (size_t i = 0; i < o->count; i++)
        heads = SW_FORMAT(s, "%s%s", heads,
                          sw_sheet_right(s, SW_FORMAT(s, "option %zu", i + 1), SW_COLUMN));
    sw_page_heading(&s->page, "Side by side", heads);
    for (size_t i = 0; i < o->count; i++)
        cells[i] = sw_sheet_money(s, o->options[i].bundle.cost);
    row(s, o, SW_FORMAT(s, "in all, %s", a->currency), "", cells);
    for (size_t i = 0; i < o->count; i++)
        cells[i] = sw_sheet_points(s, o->options[i].bundle.points);
    row(s, o, "points",
        a->baseline.swap_count + a->baseline.task_count > 0 ? "" : sw_sheet_points(s, 0), cells);
    for (size_t i = 0; i < o->count; i++)
        cells[i] = sw_sheet_decimal(s, o->options[i].bundle.loudness_sone, 2);
    if (a->has_sound)
        row(s, o, "loudness, sone", sw_sheet_decimal(s, a->loudness_now_sone, 2), cells);
    rate_rows(s, o);
    for (size_t i = 0; i < o->count; i++)
        cells[i] = SW_FORMAT(s, "%d", o->options[i].days_without);
    row(s, o, "days without the machine", "", cells);
}

/* ---- one by one ---------------------------------------------------------------------------- */

static void work(sw_sheet *s, const sw_answer_bundle *b) {
    for (size_t i = 0; i < b->task_count; i++)
        sw_sheet_words(s, "     ", SW_FORMAT(s, "%s: %s", b->tasks[i].role_name, b->tasks[i].name));
    if (b->swap_count + b->task_count == 0)
        sw_sheet_words(s, "     ", "Nothing changes: the machine stays as it is.");
}

static void promise(sw_sheet *s, const sw_option *option) {
    if (!option->has_chance)
        return;
    sw_sheet_words(s, "     ",
                   "The raised clock is a chance, not a promise: promised are the rates of the "
                   "table above. With luck:");
    for (size_t i = 0; i < option->bundle.rate_count; i++)
        sw_sheet_words(s, "       ",
                       SW_FORMAT(s, "%s: %s", option->bundle.rates[i].use_name,
                                 sw_option_rate(s, &option->bundle.rates[i])));
}

static void one(sw_sheet *s, const sw_options *o, size_t at) {
    const sw_option *option = &o->options[at];
    const sw_answer_bundle *b = &option->bundle;
    sw_page_gap(&s->page);
    sw_sheet_sum(s, "",
                 SW_FORMAT(s, "%zu. %s (%s)", at + 1, sw_option_names[option->place],
                           sw_option_reason(s, o, option)),
                 sw_sheet_money(s, b->cost));
    for (size_t i = 0; i < b->swap_count; i++)
        sw_sheet_swap_line(s, &b->swaps[i]);
    work(s, b);
    sw_sheet_feel(s, "     ", b, NULL);
    promise(s, option);
    const char *more = sw_option_more(s, o, option);
    if (more[0] != '\0')
        sw_sheet_words(s, "     ", more);
    for (size_t i = 0; i < option->given_up_count; i++)
        sw_sheet_words(s, "     ",
                       SW_FORMAT(s, "Going on later %s.",
                                 sw_option_going_on(s, o, option, &option->given_up[i])));
    if (!option->proved)
        sw_sheet_words(
            s, "     ",
            SW_FORMAT(s, "%s: that it is the best of its kind was not proved.", s->cut_short));
}

static void between(sw_sheet *s, const sw_options *o) {
    if (!o->has_nested || o->nested_loss == 0)
        return;
    sw_page_gap(&s->page);
    sw_sheet_words(
        s, "",
        SW_FORMAT(s,
                  o->nested_taken
                      ? "The middle way is chosen so that it holds all of the first step and "
                        "nothing that the full measure does not: that costs %s points."
                      : "A middle way that holds all of the first step and nothing that the full "
                        "measure does not would cost %s points: too much.",
                  sw_sheet_points(s, o->nested_loss)));
}

/* Each option says of itself whether it is proved; what else is open is said here. */
static void left_open(sw_sheet *s, const sw_options *o) {
    bool told = !o->plan->unsettled;
    for (size_t i = 0; i < o->count; i++)
        told = told || !o->options[i].proved;
    if (told)
        return;
    sw_page_gap(&s->page);
    sw_sheet_words(s, "",
                   SW_FORMAT(s, "%s before all was settled: there may be an option beside these.",
                             s->cut_short));
}

sw_status sw_render_options_text(char **out, const sw_options *o, sw_text_style style) {
    sw_sheet s;
    const sw_answer *a = o->plan;
    if (!sw_sheet_start(&s, a, style))
        return SW_NO_MEMORY;
    sw_sheet_head(&s, true);
    sw_sheet_beware(&s);
    troubles(&s, o);
    if (o->count == 0) {
        sw_page_gap(&s.page);
        if (a->status == SW_NOTHING_FITS)
            sw_sheet_conflict(&s);
        else
            sw_sheet_no_best(&s);
        sw_sheet_assumed(&s);
        return sw_sheet_finish(out, &s);
    }
    sw_sheet_verdict(&s);
    side_by_side(&s, o);
    for (size_t i = 0; i < o->count; i++)
        one(&s, o, i);
    between(&s, o);
    left_open(&s, o);
    sw_sheet_assumed(&s);
    sw_sheet_to_ask(&s);
    return sw_sheet_finish(out, &s);
}
