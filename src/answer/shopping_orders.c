/* What is bought where: an order for each seller, with its days and dates. */
#include "answer/shopping.h"

#include <string.h>

typedef struct ordering {
    sw_shopping_job *job;
    const sw_answer_bundle *bundle;
    bool failed;
} ordering;

/* "2026-03-09"; NULL where the job has no date. */
static const char *date_of(ordering *o, int64_t day) {
    const char *text = o->job->scenario->day < 0 ? NULL : sw_date_text(o->job->out->arena, day);
    o->failed = o->failed || (text == NULL && o->job->scenario->day >= 0);
    return text;
}

static bool is_client(const char *seller) { return strcmp(seller, "client") == 0; }

/* Is the very line in what was agreed? */
static bool was_agreed(const ordering *o, const char *role, const sw_answer_part *part) {
    const sw_answer_swap *swap = sw_bundle_swap(&o->job->out->option->bundle, role);
    for (size_t i = 0; swap != NULL && i < swap->in_count; i++) {
        const sw_answer_part *in = &swap->in[i];
        if (strcmp(in->id, part->id) == 0 && strcmp(in->seller, part->seller) == 0 &&
            in->count == part->count && in->price == part->price)
            return true;
    }
    return false;
}

static void add_line(ordering *o, sw_order *order, const sw_answer_swap *swap,
                     const sw_answer_part *part) {
    int64_t here = o->job->scenario->day + part->days;
    sw_ordered *line = &order->lines[order->count++];
    *line = (sw_ordered){.role = swap->role,
                         .role_name = swap->role_name,
                         .part = part,
                         .price_each = part->price / part->count,
                         .here_on = date_of(o, here),
                         .changed = !was_agreed(o, swap->role, part)};
    if (part->warranty_months > 0)
        line->warranty_until = date_of(
            o, o->job->scenario->day < 0 ? 0 : sw_months_after(here, part->warranty_months));
    if (part->return_days > 0)
        line->return_until = date_of(o, here + part->return_days);
    order->goods += part->price;
    order->days = part->days > order->days ? part->days : order->days;
}

/* In byte order of the sellers; swaps stand in byte order of their roles, parts in theirs. */
static sw_order *order_at(ordering *o, const sw_answer_part *part, size_t most) {
    sw_shopping *out = o->job->out;
    size_t at = 0;
    while (at < out->order_count && strcmp(out->orders[at].seller, part->seller) < 0)
        at++;
    if (at < out->order_count && strcmp(out->orders[at].seller, part->seller) == 0)
        return &out->orders[at];
    for (size_t i = out->order_count++; i > at; i--)
        out->orders[i] = out->orders[i - 1];
    out->orders[at] = (sw_order){.seller = part->seller,
                                 .name = part->seller_name,
                                 .lines = SW_NEW(out->arena, sw_ordered, most),
                                 .free_from = -1};
    o->failed = o->failed || out->orders[at].lines == NULL;
    return &out->orders[at];
}

/* The seller's charge as the bundle's bill has it. */
static void add_delivery(const ordering *o, sw_order *order) {
    const sw_catalog *catalog = o->job->scenario->catalog;
    static const char head[] = "delivery-";
    for (size_t i = 0; i < o->bundle->due_count; i++) {
        const sw_answer_charge *due = &o->bundle->dues[i];
        if (due->errand || strncmp(due->id, head, strlen(head)) != 0 ||
            strcmp(due->id + strlen(head), order->seller) != 0)
            continue;
        order->has_delivery = true;
        order->delivery = due->amount;
        order->waived = due->waived;
    }
    for (size_t s = 0; s < catalog->seller_count && order->has_delivery; s++)
        if (strcmp(catalog->sellers[s].id, order->seller) == 0 && catalog->sellers[s].has_free_from)
            order->free_from = catalog->sellers[s].free_from;
}

static size_t count_lines(const sw_answer_bundle *bundle) {
    size_t count = 0;
    for (size_t s = 0; s < bundle->swap_count; s++)
        count += bundle->swaps[s].in_count;
    return count;
}

sw_status sw_shopping_orders(sw_shopping_job *job) {
    sw_shopping *out = job->out;
    ordering o = {job, out->taken, false};
    size_t most = count_lines(o.bundle);
    out->orders = SW_NEW(out->arena, sw_order, most);
    if (out->orders == NULL)
        return SW_NO_MEMORY;
    for (size_t s = 0; s < o.bundle->swap_count; s++) {
        const sw_answer_swap *swap = &o.bundle->swaps[s];
        for (size_t i = 0; i < swap->in_count && !o.failed; i++) {
            sw_order *order = order_at(&o, &swap->in[i], most);
            if (!o.failed)
                add_line(&o, order, swap, &swap->in[i]);
        }
    }
    for (size_t i = 0; i < out->order_count && !o.failed; i++) {
        sw_order *order = &out->orders[i];
        if (!is_client(order->seller))
            add_delivery(&o, order);
        order->here_on = date_of(&o, job->scenario->day + order->days);
        out->goods += order->goods;
        out->deliveries += order->delivery;
    }
    const sw_tax *tax = &job->scenario->tax;
    out->before_tax = tax->prices == SW_PRICES_WITHOUT_TAX && tax->percent_milli > 0;
    out->last_on = date_of(&o, job->scenario->day + out->taken->longest_days);
    return o.failed ? SW_NO_MEMORY : SW_OK;
}
