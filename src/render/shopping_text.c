/* The shopping as the technician takes it to the counters. */
#include <string.h>

#include "render/change_words.h"
#include "render/options.h"
#include "render/shopping.h"

static const char *money(sw_sheet *s, int64_t minor) {
    return SW_FORMAT(s, "%s %s", sw_sheet_money(s, minor), s->answer->currency);
}

/* "in 3 days, on 2026-03-05"; "at once" */
static const char *when(sw_sheet *s, int days, const char *date) {
    const char *in = days == 0 ? "at once" : SW_FORMAT(s, "in %s", sw_days(s, days));
    return date == NULL ? in : SW_FORMAT(s, "%s, on %s", in, date);
}

/* ", the last part here in 3 days"; "" where no part comes */
static const char *last_part(sw_sheet *s, const sw_answer_bundle *b) {
    for (size_t i = 0; i < b->swap_count; i++)
        if (b->swaps[i].in_count > 0)
            return SW_FORMAT(s, ", the last part here %s", when(s, b->longest_days, NULL));
    return "";
}

/* ---- what was agreed ---------------------------------------------------------------------------
 */

static void agreed(sw_sheet *s, const sw_shopping *shopping) {
    const sw_option *option = shopping->option;
    const sw_answer_bundle *b = &option->bundle;
    sw_sheet_words(s, "",
                   SW_FORMAT(s, "Agreed: option %zu (%s), %s in all, %s points%s.",
                             shopping->number, sw_option_names[option->place], money(s, b->cost),
                             sw_sheet_points(s, b->points), last_part(s, b)));
    if (!option->proved)
        sw_sheet_words(s, "",
                       SW_FORMAT(s, "%s: that this option is the best of its kind was not proved.",
                                 s->cut_short));
    else if (shopping->options->plan->unsettled)
        sw_sheet_words(
            s, "",
            SW_FORMAT(s, "%s: other options were not settled; this one is proved.", s->cut_short));
}

static void happened(sw_sheet *s, const sw_shopping *shopping) {
    sw_page_heading(&s->page, "What is not as it was", NULL);
    for (size_t i = 0; i < shopping->setting_count; i++)
        sw_sheet_words(
            s, "  - ",
            SW_FORMAT(s, "%s.",
                      sw_sheet_change(s, &shopping->settings[i], shopping->settings[i].value)));
    for (size_t i = 0; i < shopping->gone_count; i++) {
        const sw_gone *gone = &shopping->gone[i];
        sw_sheet_words(s, "  - ",
                       gone->seller == NULL
                           ? SW_FORMAT(s, "%s is gone: nobody has it any more.", gone->name)
                           : SW_FORMAT(s, "%s is gone at %s.", gone->name, gone->seller_name));
    }
}

/* ---- ways to go on -----------------------------------------------------------------------------
 */

static const char *loss(sw_sheet *s, const sw_shopping *shopping, const sw_told_way *way) {
    int64_t lost = shopping->option->bundle.points - way->bundle.points;
    if (!way->has_points)
        return "the points lost are not known";
    if (lost == 0)
        return "no loss";
    const char *by =
        lost > -50 && lost < 50 ? "less than 0.1" : sw_sheet_points(s, lost < 0 ? -lost : lost);
    return lost < 0 ? SW_FORMAT(s, "no loss: %s points more", by)
                    : SW_FORMAT(s, "loss: %s points", by);
}

static const char *more_money(sw_sheet *s, int64_t by) {
    return by == 0 ? "as much as agreed"
                   : SW_FORMAT(s, "%s %s", money(s, by < 0 ? -by : by), by < 0 ? "less" : "more");
}

static const char *what_way(const sw_shopping *shopping, const sw_told_way *way) {
    switch (way->way) {
    case SW_WAY_SAME:
        return "All that was agreed, bought where it can be had today";
    case SW_WAY_LEAST:
        return "What can be had of what was agreed, and the best that goes with it";
    default:
        return way->bundle.cost <= shopping->option->bundle.cost
                   ? "Chosen anew, for no more than was agreed"
                   : "Chosen anew, for all the money there is";
    }
}

static void one_way(sw_sheet *s, const sw_shopping *shopping, const sw_told_way *way) {
    const sw_answer_bundle *b = &way->bundle;
    static const char *const leads[] = {"  same   ", "  least  ", "  anew   "};
    bool taken = shopping->taken == b;
    int64_t more = b->cost - shopping->option->bundle.cost;
    sw_sheet_words(s, leads[way->way],
                   SW_FORMAT(s, "%s%s: %s, %s (%s)%s.%s", taken ? "(taken) " : "",
                             what_way(shopping, way), loss(s, shopping, way), money(s, b->cost),
                             more_money(s, more), last_part(s, b),
                             way->proved ? "" : " That none is better was not proved."));
}

static void to_take_another(sw_sheet *s, const sw_shopping *shopping) {
    const char *others = "";
    for (size_t i = 0; i < shopping->way_count; i++)
        if (&shopping->ways[i].bundle != shopping->taken)
            others = SW_FORMAT(s, "%s%s--take %s", others, others[0] == '\0' ? "" : " or ",
                               sw_way_names[shopping->ways[i].way]);
    if (others[0] != '\0')
        sw_sheet_words(s, "", SW_FORMAT(s, "To go another way: %s.", others));
}

static void over_budget(sw_sheet *s, const sw_shopping *shopping) {
    if (shopping->same_costs < 0)
        return;
    sw_sheet_words(
        s, "",
        SW_FORMAT(s, "All that was agreed would cost %s today: %s more than there is to spend.",
                  money(s, shopping->same_costs),
                  money(s, shopping->same_costs - shopping->today->budget)));
}

static void ways(sw_sheet *s, const sw_shopping *shopping) {
    sw_page_heading(&s->page, "Ways to go on", NULL);
    if (shopping->way_count == 0)
        sw_sheet_words(s, "",
                       shopping->way_open
                           ? SW_FORMAT(s, "%s before any way was found.", s->cut_short)
                           : "Nothing fits today: neither what was agreed nor anything else. "
                             "\"swapworth plan\" tells what is in the way once it is written into "
                             "the scenario.");
    for (size_t i = 0; i < shopping->way_count; i++)
        one_way(s, shopping, &shopping->ways[i]);
    over_budget(s, shopping);
    if (shopping->way_count > 0 && shopping->way_open)
        sw_sheet_words(s, "",
                       SW_FORMAT(s, "%s: there may be other ways, and better ones.", s->cut_short));
    if (shopping->taken != NULL)
        to_take_another(s, shopping);
}

/* ---- what changes ------------------------------------------------------------------------------
 */

static const char *holding(sw_sheet *s, const sw_answer_part *parts, size_t count,
                           const sw_answer_task *const *work, size_t work_count) {
    const char *line = "";
    for (size_t i = 0; i < count; i++) {
        const sw_answer_part *part = &parts[i];
        const char *times = part->count > 1 ? SW_FORMAT(s, "%d x ", part->count) : "";
        bool sold = part->seller != NULL;
        line = SW_FORMAT(s, "%s%s%s%s%s%s", line, i == 0 ? "" : " and ", times, part->name,
                         sold ? " from " : " as it stands", sold ? part->seller_name : "");
    }
    line = count == 0 ? "nothing" : line;
    for (size_t i = 0; i < work_count; i++)
        line = SW_FORMAT(s, "%s, %s", line, work[i]->name);
    return line;
}

static const char *what_changes(sw_sheet *s, const sw_shopping *shopping,
                                const sw_agreed_change *c) {
    const sw_answer_bundle *from = &shopping->option->bundle, *to = shopping->taken;
    if (c->kind == SW_CHANGED_TOTAL)
        return SW_FORMAT(s, "the sum: %s, not %s.", money(s, to->cost), money(s, from->cost));
    if (c->kind == SW_CHANGED_DAY)
        return SW_FORMAT(s, "the day: the last part here %s.",
                         when(s, to->longest_days, shopping->last_on));
    return SW_FORMAT(s, "%s: %s; agreed was %s.", c->role_name,
                     holding(s, c->to, c->to_count, c->work_to, c->work_to_count),
                     holding(s, c->from, c->from_count, c->work_from, c->work_from_count));
}

static void changes(sw_sheet *s, const sw_shopping *shopping) {
    bool word = false;
    sw_page_heading(&s->page, "What changes against what was agreed", NULL);
    if (shopping->change_count == 0)
        sw_sheet_words(s, "", "Nothing changes: all is bought as agreed.");
    for (size_t i = 0; i < shopping->change_count; i++) {
        const sw_agreed_change *change = &shopping->changes[i];
        bool asks = change->free_by == SW_FREE_NOT;
        sw_sheet_words(s, "  - ", what_changes(s, shopping, change));
        sw_sheet_words(s, "    ",
                       SW_FORMAT(s, "%s: %s.",
                                 asks ? "Needs the client's word before it is ordered" : "Free",
                                 sw_sheet_because(s, shopping, change)));
        word = word || asks;
    }
    if (word)
        sw_sheet_words(s, "", "Order nothing of this before the client has agreed to it.");
}

/* ---- orders ------------------------------------------------------------------------------------
 */

static const char *warranty(sw_sheet *s, const sw_ordered *line) {
    int months = line->part->warranty_months;
    if (months <= 0)
        return "no warranty";
    return line->warranty_until != NULL
               ? SW_FORMAT(s, "warranty until %s", line->warranty_until)
               : SW_FORMAT(s, "warranty %d month%s", months, months == 1 ? "" : "s");
}

static const char *back(sw_sheet *s, const sw_ordered *line) {
    int days = line->part->return_days;
    if (days <= 0)
        return "no return";
    return line->return_until != NULL ? SW_FORMAT(s, "return until %s", line->return_until)
                                      : SW_FORMAT(s, "return for %s", sw_days(s, days));
}

static void one_line(sw_sheet *s, const sw_ordered *line, bool brought) {
    const sw_answer_part *part = line->part;
    const char *each = part->count > 1 && !brought
                           ? SW_FORMAT(s, ", %s each", sw_sheet_money(s, line->price_each))
                           : "";
    const char *left = SW_FORMAT(s, "%s: %s%s%s", line->role_name, sw_sheet_part(s, part), each,
                                 line->changed ? " (not as agreed)" : "");
    if (brought) {
        sw_sheet_words(s, "  ", left);
        sw_sheet_words(s, "     ", SW_FORMAT(s, "here %s", when(s, part->days, line->here_on)));
        return;
    }
    sw_sheet_sum(s, "  ", left, sw_sheet_money(s, part->price));
    sw_sheet_words(s, "     ",
                   SW_FORMAT(s, "here %s; %s; %s", when(s, part->days, line->here_on),
                             warranty(s, line), back(s, line)));
}

static void delivery(sw_sheet *s, const sw_order *order) {
    if (order->waived)
        sw_sheet_sum(s, "  ", SW_FORMAT(s, "delivery, free from %s", money(s, order->free_from)),
                     sw_sheet_money(s, 0));
    else if (order->has_delivery)
        sw_sheet_sum(s, "  ",
                     order->free_from < 0
                         ? "delivery"
                         : SW_FORMAT(s, "delivery (free from %s)", money(s, order->free_from)),
                     sw_sheet_money(s, order->delivery));
}

static void one_order(sw_sheet *s, const sw_order *order) {
    bool brought = strcmp(order->seller, "client") == 0;
    if (brought)
        sw_page_heading(&s->page, "The client brings", NULL);
    else
        sw_page_heading(&s->page, SW_FORMAT(s, "Order from %s", order->name), s->answer->currency);
    for (size_t i = 0; i < order->count; i++)
        one_line(s, &order->lines[i], brought);
    delivery(s, order);
    if (!brought)
        sw_sheet_sum(s, "  ", "together", sw_sheet_money(s, order->goods + order->delivery));
}

static void shelf(sw_sheet *s, const sw_answer_bundle *b) {
    bool any = false;
    for (size_t i = 0; i < b->task_count; i++) {
        if (b->tasks[i].price == 0)
            continue;
        if (!any)
            sw_page_heading(&s->page, "From the shop's own shelf", s->answer->currency);
        any = true;
        sw_sheet_sum(s, "  ", SW_FORMAT(s, "%s: %s", b->tasks[i].role_name, b->tasks[i].name),
                     sw_sheet_money(s, b->tasks[i].price));
    }
}

static void to_pay(sw_sheet *s, const sw_shopping *shopping) {
    bool any = shopping->order_count > 0;
    sw_page_heading(&s->page, any ? "To pay the sellers" : "Nothing has to be bought.",
                    any ? s->answer->currency : NULL);
    if (!any)
        return;
    sw_sheet_sum(s, "  ", "goods", sw_sheet_money(s, shopping->goods));
    sw_sheet_sum(s, "  ", "deliveries", sw_sheet_money(s, shopping->deliveries));
    sw_sheet_sum(s, "  ", shopping->before_tax ? "in all, before tax" : "in all",
                 sw_sheet_money(s, shopping->goods + shopping->deliveries));
    sw_sheet_words(s, "",
                   SW_FORMAT(s, "The last part is here %s.",
                             when(s, shopping->taken->longest_days, shopping->last_on)));
}

sw_status sw_render_shopping_text(char **out, const sw_shopping *shopping, sw_text_style style) {
    sw_sheet s;
    const sw_answer *plan = shopping->options->plan;
    if (!sw_sheet_start(&s, plan, style))
        return SW_NO_MEMORY;
    s.cut_short = sw_cut_short(shopping->asked_to_stop);
    sw_sheet_head(&s, false);
    sw_sheet_beware(&s);
    if (shopping->option == NULL) {
        if (plan->status != SW_NOTHING_FITS && shopping->number > 0)
            sw_sheet_words(
                &s, "",
                SW_FORMAT(&s, "%s before option %zu was found.", s.cut_short, shopping->number));
        else
            sw_sheet_no_best(&s);
        return sw_sheet_finish(out, &s);
    }
    agreed(&s, shopping);
    if (shopping->today != NULL) {
        happened(&s, shopping);
        ways(&s, shopping);
    }
    if (shopping->today != NULL && shopping->taken != NULL)
        changes(&s, shopping);
    if (shopping->taken == NULL)
        return sw_sheet_finish(out, &s);
    for (size_t i = 0; i < shopping->order_count; i++)
        one_order(&s, &shopping->orders[i]);
    shelf(&s, shopping->taken);
    to_pay(&s, shopping);
    return sw_sheet_finish(out, &s);
}
