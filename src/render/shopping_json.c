/* The answer of `shopping` as JSON: README.md lists the fields. */
#include <stdlib.h>

#include "render/answer_json.h"
#include "render/options.h"
#include "render/shopping.h"

typedef struct teller {
    const sw_shopping *shopping;
    sw_sheet sheet; /* lends its scratch to sentences */
    int digits;
} teller;

static void add_option(sw_writer *root, const teller *t) {
    const sw_option *option = t->shopping->option;
    if (option == NULL) {
        sw_writer_text(root, "option", NULL);
        sw_writer_text(root, "agreed", NULL);
        return;
    }
    sw_writer *one = sw_writer_object(root, "option");
    sw_writer_integer(one, "number", (int64_t)t->shopping->number);
    sw_writer_text(one, "place", sw_option_places[option->place]);
    sw_writer_bool(one, "proved", option->proved);
    sw_writer *agreed = sw_writer_object(root, "agreed");
    sw_writer_money(agreed, "cost", option->bundle.cost, t->digits);
    sw_writer_milli(agreed, "points", option->bundle.points, 3);
    sw_writer_integer(agreed, "days", option->bundle.longest_days);
}

/* What is not as it was when it was agreed. */
static void add_asked(sw_writer *root, const sw_shopping *shopping) {
    sw_writer *gone = sw_writer_array(root, "gone");
    for (size_t i = 0; i < shopping->gone_count; i++) {
        sw_writer *one = sw_writer_object(gone, NULL);
        sw_writer_text(one, "part", shopping->gone[i].part);
        sw_writer_text(one, "seller", shopping->gone[i].seller);
    }
    sw_writer *set = sw_writer_array(root, "set");
    for (size_t i = 0; i < shopping->setting_count; i++) {
        sw_writer *one = sw_writer_object(set, NULL);
        sw_writer_text(one, "path", shopping->settings[i].path);
        sw_writer_text(one, "value", shopping->settings[i].value);
    }
}

/* ---- ways --------------------------------------------------------------------------------------
 */

static void add_difference(sw_writer *in, const char *name, int64_t minor, int digits,
                           sw_sheet *scratch) {
    const char *text =
        sw_sheet_text(scratch, sw_money_text(scratch->arena, minor < 0 ? -minor : minor, digits));
    sw_writer_text(in, name, SW_FORMAT(scratch, "%s%s", minor < 0 ? "-" : "", text));
}

static void add_way(sw_writer *list, teller *t, const sw_told_way *way) {
    const sw_answer_bundle *agreed = &t->shopping->option->bundle;
    sw_writer *one = sw_writer_object(list, NULL);
    sw_writer_text(one, "way", sw_way_names[way->way]);
    sw_writer_bool(one, "proved", way->proved);
    sw_writer_money(one, "cost", way->bundle.cost, t->digits);
    if (way->has_points) {
        sw_writer_milli(one, "points", way->bundle.points, 3);
        sw_writer_milli(one, "loss", agreed->points - way->bundle.points, 3);
    } else {
        sw_writer_text(one, "points", NULL);
        sw_writer_text(one, "loss", NULL);
    }
    add_difference(one, "more_cost", way->bundle.cost - agreed->cost, t->digits, &t->sheet);
    sw_writer_integer(one, "days", way->bundle.longest_days);
    sw_json_bundle(sw_writer_object(one, "bundle"), t->shopping->today, &way->bundle);
}

static void add_ways(sw_writer *root, teller *t) {
    const sw_shopping *shopping = t->shopping;
    bool changed = shopping->setting_count + shopping->gone_count > 0;
    sw_writer_bool(root, "changed", changed);
    add_asked(root, shopping);
    sw_writer_text(root, "taken",
                   shopping->taken == NULL            ? NULL
                   : shopping->taken_way == SW_NO_WAY ? "as-agreed"
                                                      : sw_way_names[shopping->taken_way]);
    sw_writer *list = sw_writer_array(root, "ways");
    for (size_t i = 0; i < shopping->way_count; i++)
        add_way(list, t, &shopping->ways[i]);
    if (shopping->same_costs >= 0)
        sw_writer_money(root, "same_costs", shopping->same_costs, t->digits);
    else
        sw_writer_text(root, "same_costs", NULL);
}

/* ---- changes -----------------------------------------------------------------------------------
 */

static void add_holding(sw_writer *in, const char *name, const sw_answer_part *parts,
                        size_t count) {
    sw_writer *list = sw_writer_array(in, name);
    for (size_t i = 0; i < count; i++) {
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "part", parts[i].id);
        sw_writer_text(one, "name", parts[i].name);
        sw_writer_integer(one, "count", parts[i].count);
        sw_writer_text(one, "seller", parts[i].seller);
    }
}

static void add_work(sw_writer *in, const char *name, const sw_answer_task *const *work,
                     size_t count) {
    sw_writer *list = sw_writer_array(in, name);
    for (size_t i = 0; i < count; i++)
        sw_writer_text(list, NULL, work[i]->id);
}

static void add_changes(sw_writer *root, teller *t) {
    sw_writer *list = sw_writer_array(root, "changes");
    for (size_t i = 0; i < t->shopping->change_count; i++) {
        const sw_agreed_change *change = &t->shopping->changes[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "kind", sw_agreed_kinds[change->kind]);
        sw_writer_text(one, "role", change->role);
        add_holding(one, "from", change->from, change->from_count);
        add_holding(one, "to", change->to, change->to_count);
        add_work(one, "work_from", change->work_from, change->work_from_count);
        add_work(one, "work_to", change->work_to, change->work_to_count);
        sw_writer_bool(one, "word", change->free_by == SW_FREE_NOT);
        sw_writer_text(one, "because", sw_sheet_because(&t->sheet, t->shopping, change));
    }
}

/* ---- orders ------------------------------------------------------------------------------------
 */

static void add_length(sw_writer *in, const char *name, int length) {
    if (length < 0)
        sw_writer_text(in, name, NULL); /* what the client brings has none */
    else
        sw_writer_integer(in, name, length);
}

static void add_line(sw_writer *list, const teller *t, const sw_ordered *line) {
    sw_writer *one = sw_writer_object(list, NULL);
    sw_writer_text(one, "role", line->role);
    sw_writer_text(one, "part", line->part->id);
    sw_writer_text(one, "name", line->part->name);
    sw_writer_integer(one, "count", line->part->count);
    sw_writer_money(one, "price_each", line->price_each, t->digits);
    sw_writer_money(one, "price", line->part->price, t->digits);
    sw_writer_integer(one, "days", line->part->days);
    sw_writer_text(one, "here_on", line->here_on);
    sw_writer_text(one, "warranty_until", line->warranty_until);
    sw_writer_text(one, "return_until", line->return_until);
    add_length(one, "warranty_months", line->part->warranty_months);
    add_length(one, "return_days", line->part->return_days);
    sw_writer_bool(one, "changed", line->changed);
}

static void add_orders(sw_writer *root, const teller *t) {
    const sw_shopping *shopping = t->shopping;
    sw_writer *list = sw_writer_array(root, "orders");
    for (size_t i = 0; i < shopping->order_count; i++) {
        const sw_order *order = &shopping->orders[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "seller", order->seller);
        sw_writer_text(one, "name", order->name);
        sw_writer *lines = sw_writer_array(one, "lines");
        for (size_t k = 0; k < order->count; k++)
            add_line(lines, t, &order->lines[k]);
        sw_writer_money(one, "goods", order->goods, t->digits);
        sw_writer_money(one, "delivery", order->delivery, t->digits);
        sw_writer_bool(one, "waived", order->waived);
        sw_writer_money(one, "sum", order->goods + order->delivery, t->digits);
        sw_writer_integer(one, "days", order->days);
    }
    sw_writer *shelf = sw_writer_array(root, "shelf");
    for (size_t i = 0; shopping->taken != NULL && i < shopping->taken->task_count; i++) {
        const sw_answer_task *task = &shopping->taken->tasks[i];
        if (task->price == 0)
            continue;
        sw_writer *one = sw_writer_object(shelf, NULL);
        sw_writer_text(one, "task", task->id);
        sw_writer_text(one, "name", task->name);
        sw_writer_money(one, "price", task->price, t->digits);
    }
    sw_writer_money(root, "goods", shopping->goods, t->digits);
    sw_writer_money(root, "deliveries", shopping->deliveries, t->digits);
    sw_writer_money(root, "to_pay", shopping->goods + shopping->deliveries, t->digits);
    sw_writer_bool(root, "before_tax", shopping->before_tax);
    sw_writer_integer(root, "days", shopping->taken == NULL ? 0 : shopping->taken->longest_days);
    sw_writer_text(root, "last_on", shopping->last_on);
}

sw_status sw_render_shopping_json(char **out, const sw_shopping *shopping) {
    const sw_answer *plan = shopping->options->plan;
    sw_answer_status status = sw_shopping_get_status(shopping);
    bool open = status == SW_STOPPED_EARLY || !sw_shopping_is_settled(shopping);
    teller t = {.shopping = shopping, .digits = plan->digits};
    if (!sw_sheet_start(&t.sheet, plan, (sw_text_style){0}))
        return SW_NO_MEMORY;
    sw_writer *root = sw_writer_new();
    if (root == NULL) {
        sw_arena_free(t.sheet.arena);
        return SW_NO_MEMORY;
    }
    sw_writer_integer(root, "schema", 1);
    sw_writer_text(root, "status", sw_json_statuses[status]);
    sw_writer_bool(root, "unsettled", open);
    sw_json_stopped(root, open, shopping->asked_to_stop);
    sw_writer_text(root, "title", plan->title);
    sw_writer_text(root, "currency", plan->currency);
    sw_writer_text(root, "job_date", shopping->date);
    sw_json_beware(root, plan);
    add_option(root, &t);
    add_ways(root, &t);
    add_changes(root, &t);
    add_orders(root, &t);
    sw_arena_free(t.sheet.arena);
    bool failed = t.sheet.page.text.failed;
    sw_text_free(&t.sheet.page.text);
    sw_status end = sw_writer_finish(out, root);
    if (end == SW_OK && failed) {
        free(*out);
        *out = NULL;
        return SW_NO_MEMORY;
    }
    return end;
}
