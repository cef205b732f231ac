/* One bundle as a person at the counter reads it: what goes and comes, the bill,
 * what it brings, what to mind. */
#include "render/sheet.h"

#include <string.h>

const char *sw_sheet_part(sw_sheet *s, const sw_answer_part *part) {
    const char *count = part->count > 1 ? SW_FORMAT(s, "%d x ", part->count) : "";
    bool worn = part->condition[0] != '\0' && strcmp(part->condition, "good") != 0;
    return SW_FORMAT(s, "%s%s%s%s%s", count, part->name, worn ? " (" : "",
                     worn ? part->condition : "", worn ? ")" : "");
}

static const char *bought(sw_sheet *s, const sw_answer_part *part) {
    const char *days = part->days == 0   ? ""
                       : part->days == 1 ? ", here in 1 day"
                                         : SW_FORMAT(s, ", here in %d days", part->days);
    return SW_FORMAT(s, "%s, from %s%s", sw_sheet_part(s, part), part->seller_name, days);
}

static bool goes_out(const sw_answer_swap *swap, const char *part) {
    for (size_t i = 0; i < swap->out_count; i++)
        if (strcmp(swap->out[i].id, part) == 0)
            return true;
    return false;
}

static void swap_lines(sw_sheet *s, const sw_answer_swap *swap) {
    sw_sheet_words(s, "  ", SW_FORMAT(s, "%s%s", swap->role_name, swap->must ? " (a must)" : ""));
    for (size_t i = 0; i < swap->out_count; i++) {
        const sw_answer_part *part = &swap->out[i];
        const char *line = sw_sheet_part(s, part);
        if (part->hoped > 0)
            line = SW_FORMAT(s, "%s (might sell for %s, not counted)", line,
                             sw_sheet_money(s, part->hoped));
        if (part->offer > 0)
            sw_sheet_sum(s, "    out   ", SW_FORMAT(s, "%s, firm offer", line),
                         SW_FORMAT(s, "-%s", sw_sheet_money(s, part->offer)));
        else
            sw_sheet_words(s, "    out   ", line);
    }
    for (size_t i = 0; i < swap->in_count; i++)
        sw_sheet_sum(s, "    in    ",
                     SW_FORMAT(s, "%s%s", bought(s, &swap->in[i]),
                               goes_out(swap, swap->in[i].id) ? " (another of the same)" : ""),
                     sw_sheet_money(s, swap->in[i].price));
    for (size_t i = 0; i < swap->stay_count; i++)
        sw_sheet_words(s, "    stays ", sw_sheet_part(s, &swap->stays[i]));
}

/* Where a swap stands by its cost, the dearest first. */
static size_t place_of(const sw_answer_bundle *b, size_t swap) {
    size_t place = 0;
    for (size_t i = 0; i < b->swap_count; i++)
        place += b->swaps[i].cost > b->swaps[swap].cost ||
                 (i < swap && b->swaps[i].cost == b->swaps[swap].cost);
    return place;
}

static void swaps(sw_sheet *s, const sw_answer_bundle *b) {
    if (b->swap_count == 0) {
        sw_page_heading(&s->page,
                        s->answer->status == SW_OPTIMAL
                            ? "No part is worth swapping for this money."
                            : "No swap was found so far.",
                        NULL);
        return;
    }
    sw_page_heading(&s->page,
                    s->answer->advice == SW_ADVICE_KEEP ? "Swaps that all the money would buy"
                                                        : "Swaps",
                    s->answer->currency);
    for (int must = 1; must >= 0; must--)
        for (size_t rank = 0; rank < b->swap_count; rank++)
            for (size_t i = 0; i < b->swap_count; i++)
                if (b->swaps[i].must == (must == 1) && place_of(b, i) == rank)
                    swap_lines(s, &b->swaps[i]);
}

static const char *minutes(sw_sheet *s, int64_t count) {
    return SW_FORMAT(s, "%lld min", (long long)count);
}

static void tasks(sw_sheet *s, const sw_answer_bundle *b) {
    if (b->task_count == 0)
        return;
    sw_page_heading(&s->page, "Work that needs no new part", s->answer->currency);
    for (size_t i = 0; i < b->task_count; i++) {
        const sw_answer_task *task = &b->tasks[i];
        const char *line = SW_FORMAT(s, "%s: %s (%s%s)", task->role_name, task->name,
                                     minutes(s, task->minutes), task->must ? ", a must" : "");
        if (task->price > 0)
            sw_sheet_sum(s, "  ", line, sw_sheet_money(s, task->price));
        else
            sw_sheet_words(s, "  ", line);
    }
}

static void bill_line(sw_sheet *s, const char *left, int64_t amount) {
    if (amount != 0)
        sw_sheet_sum(s, "  ", left, sw_sheet_money(s, amount));
}

/* All firm offers for what is taken out, counted or not. */
static int64_t offered(const sw_answer_bundle *b) {
    int64_t sum = 0;
    for (size_t i = 0; i < b->swap_count; i++)
        for (size_t k = 0; k < b->swaps[i].out_count; k++)
            sum += b->swaps[i].out[k].offer;
    return sum;
}

static void bill(sw_sheet *s, const sw_answer_bundle *b) {
    const sw_answer *a = s->answer;
    sw_page_heading(&s->page, "The bill", a->currency);
    bill_line(s, "parts", b->goods);
    if (b->offers > 0)
        sw_sheet_sum(s, "  ",
                     b->offers < offered(b)
                         ? "less firm offers, up to the price of what comes in their place"
                         : "less firm offers for parts taken out",
                     SW_FORMAT(s, "-%s", sw_sheet_money(s, b->offers)));
    bill_line(s, "consumables for the work", b->task_prices);
    for (size_t i = 0; i < b->due_count; i++) {
        if (b->dues[i].waived)
            sw_sheet_sum(s, "  ", SW_FORMAT(s, "%s, free at this sum", b->dues[i].name),
                         sw_sheet_money(s, 0));
        else
            bill_line(s, b->dues[i].name, b->dues[i].amount);
    }
    int64_t errands = 0;
    for (size_t i = 0; i < b->due_count; i++)
        errands += b->dues[i].errand ? b->dues[i].minutes : 0;
    const char *work = SW_FORMAT(s, "bench work, %s", minutes(s, b->minutes - errands));
    if (errands > 0)
        work = SW_FORMAT(s, "%s (and %s of errands, not charged)", work, minutes(s, errands));
    if (b->minutes > 0)
        sw_sheet_sum(s, "  ", work, sw_sheet_money(s, b->labour));
    bill_line(s, "tax", b->tax);
    sw_sheet_sum(s, "  ", "total", sw_sheet_money(s, b->cost));
    sw_sheet_sum(s, "  ", "left of the money to spend", sw_sheet_money(s, a->budget - b->cost));
}

/* Tenths of a point that add up to the tenths of the whole: the criterion that
 * rounding wronged most makes up for it. */
static void share_tenths(const sw_answer *a, const sw_answer_bundle *b, int64_t *tenths) {
    int64_t left = sw_divide(b->points, 100, SW_HALF_UP);
    for (size_t c = 0; c < a->criterion_count; c++) {
        tenths[c] = sw_divide(b->by_criterion[c], 100, SW_HALF_UP);
        left -= tenths[c];
    }
    for (; left != 0; left += left > 0 ? -1 : 1) {
        size_t most = 0;
        int64_t worst = INT64_MIN;
        for (size_t c = 0; c < a->criterion_count; c++) {
            int64_t owed = b->by_criterion[c] - tenths[c] * 100;
            owed = left > 0 ? owed : -owed;
            if (a->weights[c] > 0 && owed > worst) {
                worst = owed;
                most = c;
            }
        }
        tenths[most] += left > 0 ? 1 : -1;
    }
}

static void points(sw_sheet *s, const sw_answer_bundle *b) {
    const sw_answer *a = s->answer;
    int64_t *tenths = SW_NEW(s->arena, int64_t, a->criterion_count);
    if (tenths == NULL) {
        s->page.text.failed = true;
        return;
    }
    share_tenths(a, b, tenths);
    sw_page_heading(&s->page, "What it brings", "points");
    for (size_t c = 0; c < a->criterion_count; c++)
        if (a->weights[c] > 0)
            sw_sheet_sum(s, "  ", a->criterion_names[c],
                         sw_sheet_decimal(s, (double)tenths[c] / 10, 1));
    sw_sheet_sum(s, "  ", "together", sw_sheet_decimal(s, (double)b->points / 1000, 1));
}

const char *sw_louder(double ratio) {
    if (ratio > 1.05)
        return "louder than today";
    if (ratio > 0.95)
        return "as loud as today";
    if (ratio > 0.8)
        return "a little quieter";
    if (ratio > 0.71)
        return "about three quarters as loud";
    if (ratio > 0.58)
        return "about two thirds as loud";
    if (ratio > 0.42)
        return "about half as loud";
    if (ratio > 0.29)
        return "about a third as loud";
    return ratio > 0.2 ? "about a quarter as loud" : "less than a fifth as loud";
}

static void sound(sw_sheet *s, const sw_answer_bundle *b) {
    const sw_answer *a = s->answer;
    if (!a->has_sound)
        return;
    sw_sheet_words(
        s, "  ",
        SW_FORMAT(
            s, "Sound at the seat: %s dB(A) now, %s dB(A) then; %s sone now, %s sone then: %s.",
            sw_sheet_decimal(s, a->level_now_dba, 1), sw_sheet_decimal(s, b->level_dba, 1),
            sw_sheet_decimal(s, a->loudness_now_sone, 1), sw_sheet_decimal(s, b->loudness_sone, 1),
            sw_louder(b->loudness_sone / a->loudness_now_sone)));
}

/* " (110 to 131)", where the estimate leaves room for doubt. */
static const char *spread(sw_sheet *s, const sw_answer_rate *rate) {
    int digits = rate->rate_then < 10 ? 1 : 0;
    const char *low = sw_sheet_decimal(s, rate->rate_low, digits);
    const char *high = sw_sheet_decimal(s, rate->rate_high, digits);
    return strcmp(low, high) == 0 ? "" : SW_FORMAT(s, " (%s to %s)", low, high);
}

static void rates(sw_sheet *s, const sw_answer_bundle *b) {
    for (size_t i = 0; i < b->rate_count; i++) {
        const sw_answer_rate *rate = &b->rates[i];
        const char *limits =
            strcmp(rate->limit_now, rate->limit_then) == 0
                ? SW_FORMAT(s, "held back by %s, before and after", rate->limit_now)
                : SW_FORMAT(s, "held back by %s now, by %s then", rate->limit_now,
                            rate->limit_then);
        bool same = rate->ratio > 0.995 && rate->ratio < 1.005;
        const char *line = SW_FORMAT(s, "%s: %s times today's rate; %s.", rate->use_name,
                                     sw_sheet_decimal(s, rate->ratio, 2), limits);
        if (same)
            line = SW_FORMAT(s, "%s: as today; %s.", rate->use_name, limits);
        else if (rate->rate_now > 0)
            line = SW_FORMAT(s, "%s: %s %s now, about %s%s then; %s.", rate->use_name,
                             sw_sheet_decimal(s, rate->rate_now, rate->rate_now < 10 ? 1 : 0),
                             rate->unit,
                             sw_sheet_decimal(s, rate->rate_then, rate->rate_then < 10 ? 1 : 0),
                             spread(s, rate), limits);
        sw_sheet_words(s, "  ", line);
    }
}

static const char *measured(sw_sheet *s, const sw_answer_measure *m, const sw_interval *value) {
    const char *low = sw_sheet_decimal(s, value->low, m->digits);
    const char *high = sw_sheet_decimal(s, value->high, m->digits);
    const char *mid = sw_sheet_decimal(s, value->mid, m->digits);
    return strcmp(low, high) == 0 ? mid : SW_FORMAT(s, "%s (%s to %s)", mid, low, high);
}

/* Those that change by what is shown, a line each. */
static void measures(sw_sheet *s, const sw_answer_bundle *b) {
    bool any = false;
    for (size_t i = 0; i < b->measure_count; i++) {
        const sw_answer_measure *m = &b->measures[i];
        const char *now = measured(s, m, &m->now), *then = measured(s, m, &m->then);
        const char *unit =
            strcmp(m->unit, "1") == 0 || m->unit[0] == '\0' ? "" : SW_FORMAT(s, " %s", m->unit);
        if (strcmp(now, then) == 0)
            continue;
        if (!any)
            sw_page_heading(&s->page, "Estimated", "now; then");
        any = true;
        sw_sheet_sum(s, "  ", m->name, SW_FORMAT(s, "%s; %s%s", now, then, unit));
    }
}

void sw_sheet_cautions(sw_sheet *s, const sw_answer_bundle *b) {
    if (b->caution_count == 0)
        return;
    sw_page_heading(&s->page, "Mind", NULL);
    for (size_t i = 0; i < b->caution_count; i++) {
        sw_sheet_words(s,
                       b->cautions[i].kind == SW_CAUTION_TODAY ? "  - Already so today: " : "  - ",
                       b->cautions[i].client);
        if (b->cautions[i].bench != NULL &&
            strcmp(b->cautions[i].bench, b->cautions[i].client) != 0)
            sw_sheet_words(s, "    Bench: ", b->cautions[i].bench);
    }
}

void sw_sheet_bundle(sw_sheet *s, const sw_answer_bundle *b) {
    swaps(s, b);
    tasks(s, b);
    bill(s, b);
    points(s, b);
    sw_page_gap(&s->page);
    sound(s, b);
    rates(s, b);
    measures(s, b);
    sw_sheet_cautions(s, b);
}
