/* The orders as CSV (RFC 4180), for a spreadsheet or the shop's own books. */
#include <string.h>

#include "render/shopping.h"

/* A text in quotes, each quote of its own doubled. Programs that calculate take a text for a
 * formula where it begins like one: an apostrophe before it keeps it a text. */
static void add_text(sw_text *out, const char *text) {
    sw_text_add(out, "\"");
    if (text[0] != '\0' && strchr("=+-@\t\r", text[0]) != NULL)
        sw_text_add(out, "'");
    for (; *text != '\0'; text++) {
        sw_text_add_bytes(out, text, 1);
        if (*text == '"')
            sw_text_add(out, "\"");
    }
    sw_text_add(out, "\"");
}

static const char *shown(const char *date) { return date == NULL ? "" : date; }

static void add_line(sw_text *out, sw_sheet *s, const sw_order *order, size_t number,
                     const sw_ordered *line) {
    sw_text_addf(out, "%zu,", number);
    add_text(out, order->name);
    sw_text_addf(out, ",%s,", line->part->id);
    add_text(out, line->part->name);
    sw_text_addf(out, ",%s,%d,%s,%s,%s,%d,%s,%s,%s,%s\r\n", line->role, line->part->count,
                 sw_sheet_money(s, line->price_each), sw_sheet_money(s, line->part->price),
                 s->answer->currency, line->part->days, shown(line->here_on),
                 shown(line->warranty_until), shown(line->return_until),
                 line->changed ? "true" : "false");
}

static void add_delivery(sw_text *out, sw_sheet *s, const sw_order *order, size_t number) {
    const char *amount = sw_sheet_money(s, order->delivery);
    sw_text_addf(out, "%zu,", number);
    add_text(out, order->name);
    sw_text_addf(out, ",,\"delivery\",,1,%s,%s,%s,%d,%s,,,false\r\n", amount, amount,
                 s->answer->currency, order->days, shown(order->here_on));
}

sw_status sw_render_shopping_csv(char **out, const sw_shopping *shopping) {
    sw_text text = {0};
    sw_sheet s;
    if (!sw_sheet_start(&s, shopping->options->plan, (sw_text_style){0}))
        return SW_NO_MEMORY;
    sw_text_add(&text, "order,seller,part,name,role,count,price_each,price,currency,days,here_on,"
                       "warranty_until,return_until,changed\r\n");
    for (size_t i = 0; i < shopping->order_count; i++) {
        const sw_order *order = &shopping->orders[i];
        for (size_t k = 0; k < order->count; k++)
            add_line(&text, &s, order, i + 1, &order->lines[k]);
        if (order->has_delivery)
            add_delivery(&text, &s, order, i + 1);
    }
    text.failed = text.failed || s.page.text.failed;
    sw_arena_free(s.arena);
    sw_text_free(&s.page.text);
    if (text.failed || text.bytes == NULL) {
        sw_text_free(&text);
        return SW_NO_MEMORY;
    }
    *out = text.bytes;
    return SW_OK;
}
