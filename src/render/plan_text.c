/* The answer of `plan` as a person at the counter reads it. */
#include "answer/answer.h"
#include "render/page.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct sheet {
    sw_page page;
    const sw_answer *answer;
    sw_arena *arena; /* scratch for the pieces of lines */
} sheet;

static const char *money(sheet *s, int64_t minor) {
    const char *text = sw_money_text(s->arena, minor, s->answer->digits);
    return text != NULL ? text : "";
}

static const char *decimal(sheet *s, double x, int decimals) {
    int64_t milli = 0;
    const char *text = sw_round(&milli, x * 1000) ? sw_milli_text(s->arena, milli, decimals) : NULL;
    return text != NULL ? text : "";
}

static const char *formatted(const char *text) { return text != NULL ? text : ""; }
#define FORMAT(s, ...) formatted(sw_arena_format((s)->arena, __VA_ARGS__))

static void words(sheet *s, const char *lead, const char *text) {
    sw_page_words(&s->page, lead, text);
}

static void sum(sheet *s, const char *lead, const char *left, const char *right) {
    sw_page_sum(&s->page, lead, left, right);
}

static void head(sheet *s) {
    const sw_answer *a = s->answer;
    if (a->title[0] != '\0')
        words(s, "", a->title);
    const char *reserve =
        a->reserve > 0 ? FORMAT(s, "%s kept in reserve", money(s, a->reserve)) : "";
    const char *sundries =
        a->sundries > 0 ? FORMAT(s, "%s for sundries", money(s, a->sundries)) : "";
    bool both = a->reserve > 0 && a->sundries > 0;
    if (a->reserve > 0 || a->sundries > 0)
        words(s, "",
              FORMAT(s, "To spend: %s %s (%s, less %s%s%s).", money(s, a->budget), a->currency,
                     money(s, a->budget_total), reserve, both ? " and " : "", sundries));
    else
        words(s, "", FORMAT(s, "To spend: %s %s.", money(s, a->budget), a->currency));
}

static void musts(sheet *s) {
    const sw_answer *a = s->answer;
    if (a->must_count == 0)
        return;
    sw_page_heading(&s->page,
                    a->has_baseline
                        ? FORMAT(s, "What must be done (%s %s at the least, within the total)",
                                 money(s, a->baseline.cost), a->currency)
                        : "What must be done",
                    NULL);
    for (size_t m = 0; m < a->must_count; m++) {
        const sw_answer_must *must = &a->musts[m];
        bool part = must->replace != NULL;
        words(s, "  - ",
              FORMAT(s, "%s%s.%s%s", part ? "Take out " : "", part ? must->replace : must->task,
                     must->why[0] != '\0' ? " " : "", must->why));
    }
}

static const char *named(sheet *s, const sw_answer_part *part) {
    const char *count = part->count > 1 ? FORMAT(s, "%d x ", part->count) : "";
    bool worn = part->condition[0] != '\0' && strcmp(part->condition, "good") != 0;
    return FORMAT(s, "%s%s%s%s%s", count, part->name, worn ? " (" : "", worn ? part->condition : "",
                  worn ? ")" : "");
}

static const char *bought(sheet *s, const sw_answer_part *part) {
    const char *days = part->days == 0   ? ""
                       : part->days == 1 ? ", here in 1 day"
                                         : FORMAT(s, ", here in %d days", part->days);
    return FORMAT(s, "%s, from %s%s", named(s, part), part->seller_name, days);
}

static void swap_lines(sheet *s, const sw_answer_swap *swap) {
    words(s, "  ", FORMAT(s, "%s%s", swap->role_name, swap->must ? " (a must)" : ""));
    for (size_t i = 0; i < swap->out_count; i++) {
        const sw_answer_part *part = &swap->out[i];
        const char *line = named(s, part);
        if (part->hoped > 0)
            line = FORMAT(s, "%s (might sell for %s, not counted)", line, money(s, part->hoped));
        if (part->offer > 0)
            sum(s, "    out   ", FORMAT(s, "%s, firm offer", line),
                FORMAT(s, "-%s", money(s, part->offer)));
        else
            words(s, "    out   ", line);
    }
    for (size_t i = 0; i < swap->in_count; i++)
        sum(s, "    in    ", bought(s, &swap->in[i]), money(s, swap->in[i].price));
    for (size_t i = 0; i < swap->stay_count; i++)
        words(s, "    stays ", named(s, &swap->stays[i]));
}

/* Where a swap stands by its cost, the dearest first. */
static size_t place_of(const sw_answer_bundle *b, size_t swap) {
    size_t place = 0;
    for (size_t i = 0; i < b->swap_count; i++)
        place += b->swaps[i].cost > b->swaps[swap].cost ||
                 (i < swap && b->swaps[i].cost == b->swaps[swap].cost);
    return place;
}

static void swaps(sheet *s, const sw_answer_bundle *b) {
    if (b->swap_count == 0) {
        sw_page_heading(&s->page,
                        s->answer->status == SW_OPTIMAL
                            ? "No part is worth swapping for this money."
                            : "No swap was found in the time there was.",
                        NULL);
        return;
    }
    sw_page_heading(&s->page, "Swaps", s->answer->currency);
    for (int must = 1; must >= 0; must--)
        for (size_t rank = 0; rank < b->swap_count; rank++)
            for (size_t i = 0; i < b->swap_count; i++)
                if (b->swaps[i].must == (must == 1) && place_of(b, i) == rank)
                    swap_lines(s, &b->swaps[i]);
}

static const char *minutes(sheet *s, int64_t count) {
    return FORMAT(s, "%lld min", (long long)count);
}

static void tasks(sheet *s, const sw_answer_bundle *b) {
    if (b->task_count == 0)
        return;
    sw_page_heading(&s->page, "Work that needs no new part", s->answer->currency);
    for (size_t i = 0; i < b->task_count; i++) {
        const sw_answer_task *task = &b->tasks[i];
        const char *line = FORMAT(s, "%s: %s (%s%s)", task->role_name, task->name,
                                  minutes(s, task->minutes), task->must ? ", a must" : "");
        if (task->price > 0)
            sum(s, "  ", line, money(s, task->price));
        else
            words(s, "  ", line);
    }
}

static void bill_line(sheet *s, const char *left, int64_t amount) {
    if (amount != 0)
        sum(s, "  ", left, money(s, amount));
}

/* All firm offers for what is taken out, counted or not. */
static int64_t offered(const sw_answer_bundle *b) {
    int64_t sum = 0;
    for (size_t i = 0; i < b->swap_count; i++)
        for (size_t k = 0; k < b->swaps[i].out_count; k++)
            sum += b->swaps[i].out[k].offer;
    return sum;
}

static void bill(sheet *s, const sw_answer_bundle *b) {
    const sw_answer *a = s->answer;
    sw_page_heading(&s->page, "The bill", a->currency);
    bill_line(s, "parts", b->goods);
    if (b->offers > 0)
        sum(s, "  ",
            b->offers < offered(b)
                ? "less firm offers, up to the price of what comes in their place"
                : "less firm offers for parts taken out",
            FORMAT(s, "-%s", money(s, b->offers)));
    bill_line(s, "consumables for the work", b->task_prices);
    for (size_t i = 0; i < b->due_count; i++) {
        if (b->dues[i].waived)
            sum(s, "  ", FORMAT(s, "%s, free at this sum", b->dues[i].name), money(s, 0));
        else
            bill_line(s, b->dues[i].name, b->dues[i].amount);
    }
    int64_t errands = 0;
    for (size_t i = 0; i < b->due_count; i++)
        errands += b->dues[i].errand ? b->dues[i].minutes : 0;
    const char *work = FORMAT(s, "bench work, %s", minutes(s, b->minutes - errands));
    if (errands > 0)
        work = FORMAT(s, "%s (and %s of errands, not charged)", work, minutes(s, errands));
    if (b->minutes > 0)
        sum(s, "  ", work, money(s, b->labour));
    bill_line(s, "tax", b->tax);
    sum(s, "  ", "total", money(s, b->cost));
    sum(s, "  ", "left of the money to spend", money(s, a->budget - b->cost));
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

static void points(sheet *s, const sw_answer_bundle *b) {
    const sw_answer *a = s->answer;
    int64_t *tenths = SW_NEW(s->arena, int64_t, a->criterion_count);
    if (tenths == NULL)
        return;
    share_tenths(a, b, tenths);
    sw_page_heading(&s->page, "What it brings", "points");
    for (size_t c = 0; c < a->criterion_count; c++)
        if (a->weights[c] > 0)
            sum(s, "  ", a->criterion_names[c], decimal(s, (double)tenths[c] / 10, 1));
    sum(s, "  ", "together", decimal(s, (double)b->points / 1000, 1));
}

static const char *louder(double ratio) {
    if (ratio > 1.05)
        return "louder than today";
    if (ratio > 0.95)
        return "as loud as today";
    if (ratio > 0.85)
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

static void sound(sheet *s, const sw_answer_bundle *b) {
    const sw_answer *a = s->answer;
    if (!a->has_sound)
        return;
    words(s, "  ",
          FORMAT(s,
                 "Sound at the seat: %s dB(A) now, %s dB(A) then; %s sone now, %s sone then: %s.",
                 decimal(s, a->level_now_dba, 1), decimal(s, b->level_dba, 1),
                 decimal(s, a->loudness_now_sone, 1), decimal(s, b->loudness_sone, 1),
                 louder(b->loudness_sone / a->loudness_now_sone)));
}

static void rates(sheet *s, const sw_answer_bundle *b) {
    for (size_t i = 0; i < b->rate_count; i++) {
        const sw_answer_rate *rate = &b->rates[i];
        const char *limits =
            strcmp(rate->limit_now, rate->limit_then) == 0
                ? FORMAT(s, "held back by %s, before and after", rate->limit_now)
                : FORMAT(s, "held back by %s now, by %s then", rate->limit_now, rate->limit_then);
        bool same = rate->ratio > 0.995 && rate->ratio < 1.005;
        const char *line = FORMAT(s, "%s: %s times today's rate; %s.", rate->use_name,
                                  decimal(s, rate->ratio, 2), limits);
        if (same)
            line = FORMAT(s, "%s: as today; %s.", rate->use_name, limits);
        else if (rate->rate_now > 0)
            line = FORMAT(s, "%s: %s %s now, about %s then; %s.", rate->use_name,
                          decimal(s, rate->rate_now, rate->rate_now < 10 ? 1 : 0), rate->unit,
                          decimal(s, rate->rate_then, rate->rate_then < 10 ? 1 : 0), limits);
        words(s, "  ", line);
    }
}

static void cautions(sheet *s, const sw_answer_bundle *b) {
    if (b->caution_count == 0)
        return;
    sw_page_heading(&s->page, "Mind", NULL);
    for (size_t i = 0; i < b->caution_count; i++) {
        words(s, b->cautions[i].kind == SW_CAUTION_TODAY ? "  - Already so today: " : "  - ",
              b->cautions[i].client);
        if (b->cautions[i].bench != NULL &&
            strcmp(b->cautions[i].bench, b->cautions[i].client) != 0)
            words(s, "    Bench: ", b->cautions[i].bench);
    }
}

/* Adds "3 parts too late" to a list, or nothing. */
static const char *counted(sheet *s, const char *line, size_t count, const char *why) {
    if (count == 0)
        return line;
    bool first = strchr(line, ',') == NULL && strstr(line, "part") == NULL;
    return FORMAT(s, "%s%s %zu part%s %s", line, first ? "" : ",", count, count == 1 ? "" : "s",
                  why);
}

static void left_out(sheet *s) {
    const sw_answer *a = s->answer;
    if (a->look_up_count > 0) {
        sw_page_heading(&s->page, "Left out until someone looks these up", NULL);
        for (size_t i = 0; i < a->look_up_count; i++)
            words(s, "  - ", FORMAT(s, "%s: %s", a->look_ups[i].name, a->look_ups[i].meaning));
    }
    if (a->left_out_late + a->left_out_no_stock + a->left_out_avoided == 0)
        return;
    sw_page_gap(&s->page);
    const char *line = "Not offered:";
    line = counted(s, line, a->left_out_late, "too late");
    line = counted(s, line, a->left_out_no_stock, "out of stock");
    line = counted(s, line, a->left_out_avoided, "to be avoided");
    words(s, "", FORMAT(s, "%s.", line));
}

static void nothing(sheet *s) {
    const sw_answer *a = s->answer;
    sw_page_gap(&s->page);
    if (a->status == SW_STOPPED_EARLY) {
        words(s, "", "The time ran out before any bundle was found. More time may find one.");
        return;
    }
    if (a->needed_open) {
        words(s, "",
              "Nothing fits this budget. How much more it takes was not settled in the time.");
        return;
    }
    if (a->needed > 0)
        words(s, "",
              FORMAT(s,
                     "Nothing fits this budget. What must be done takes at least %s %s: %s more.",
                     money(s, a->needed), a->currency, money(s, a->needed - a->budget)));
    else
        words(s, "",
              "Nothing fits, at any price: the musts, the wishes and their limits (loudness, days, "
              "bench minutes) contradict the rules, the parts at hand or each other.");
}

static void early(sheet *s) {
    const sw_answer *a = s->answer;
    if (a->status != SW_STOPPED_EARLY || a->bundle_count == 0)
        return;
    sw_page_gap(&s->page);
    if (a->bound == INT64_MAX) {
        words(s, "",
              "The time ran out: this is the best found so far, and how much better it could "
              "get is not known.");
        return;
    }
    if (a->bound <= a->bundles[0].points) {
        words(s, "",
              "The time ran out: no bundle brings more points than this one, but whether one as "
              "good costs less was not settled.");
        return;
    }
    words(s, "",
          FORMAT(s,
                 "The time ran out: this is the best found so far; no bundle brings more than %s "
                 "points (a gap of %s).",
                 decimal(s, (double)a->bound / 1000, 1),
                 decimal(s, (double)(a->bound - a->bundles[0].points) / 1000, 1)));
}

sw_status sw_render_plan_text(char **out, const sw_answer *answer, int width) {
    int columns = width <= 0 ? 80 : width < 40 ? 40 : width > 100 ? 100 : width;
    sheet s = {.page = {.width = columns}, .answer = answer, .arena = sw_arena_new()};
    if (s.arena == NULL)
        return SW_NO_MEMORY;
    head(&s);
    musts(&s);
    if (answer->bundle_count == 0)
        nothing(&s);
    for (size_t b = 0; b < answer->bundle_count; b++) {
        swaps(&s, &answer->bundles[b]);
        tasks(&s, &answer->bundles[b]);
        bill(&s, &answer->bundles[b]);
        points(&s, &answer->bundles[b]);
        sw_page_gap(&s.page);
        sound(&s, &answer->bundles[b]);
        rates(&s, &answer->bundles[b]);
        cautions(&s, &answer->bundles[b]);
    }
    left_out(&s);
    early(&s);
    sw_arena_free(s.arena);
    if (s.page.text.failed || s.page.text.bytes == NULL) {
        sw_text_free(&s.page.text);
        return SW_NO_MEMORY;
    }
    *out = s.page.text.bytes;
    return SW_OK;
}
