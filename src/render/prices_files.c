/* The files that a price list gives: listings, what was confirmed, new parts. */
#include <stdlib.h>
#include <string.h>

#include "render/json_writer.h"
#include "render/prices.h"

#define TOKEN_BYTES 64

/* ---- listings ----------------------------------------------------------------------------------
 */

/* One line: another seller's cells as they were, a row of the list, or a listing on hold. */
typedef struct line {
    const char *part, *seller;
    const char *const *cells;
    const sw_price_row *row;
    const sw_listing *held;
} line;

static int by_part_and_seller(const void *left, const void *right) {
    const line *a = left, *b = right;
    int order = strcmp(a->part, b->part);
    return order != 0 ? order : strcmp(a->seller, b->seller);
}

static void add_line(sw_text *out, const line *is, sw_arena *arena, int digits) {
    if (is->cells != NULL) {
        for (int i = 0; i < 7; i++)
            sw_text_addf(out, "%s%s", i == 0 ? "" : ",", is->cells[i]);
    } else {
        const int held[] = {0, is->held == NULL ? 0 : is->held->days,
                            is->held == NULL ? 0 : is->held->warranty_months,
                            is->held == NULL ? 0 : is->held->return_days};
        const int *w = is->held == NULL ? is->row->whole : held;
        const char *price =
            sw_money_text(arena, is->held == NULL ? is->row->price : is->held->price, digits);
        out->failed |= price == NULL;
        sw_text_addf(out, "%s,%s,%s,%d,%d,%d,%d", is->part, is->seller, price == NULL ? "" : price,
                     w[0], w[1], w[2], w[3]);
    }
    sw_text_add(out, "\n");
}

sw_status sw_render_prices_listings(char **out, const sw_prices *p) {
    size_t count = 0;
    sw_text text = {0};
    if (p->fates[SW_ROW_REFUSED] > 0)
        return SW_BAD_DATA;
    sw_arena *arena = sw_arena_new();
    line *lines = arena == NULL ? NULL : SW_NEW(arena, line, p->other_count + p->change_count);
    if (lines == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    for (size_t i = 0; i < p->other_count; i++)
        lines[count++] =
            (line){.part = p->others[i][0], .seller = p->others[i][1], .cells = p->others[i]};
    for (size_t i = 0; i < p->change_count; i++) {
        const sw_price_change *c = &p->changes[i];
        if (c->after != NULL || c->held != NULL)
            lines[count++] = (line){.part = p->catalog->parts[c->part].id,
                                    .seller = p->catalog->sellers[p->profile->seller].id,
                                    .row = c->after,
                                    .held = c->after == NULL ? c->before : NULL};
    }
    qsort(lines, count, sizeof *lines, by_part_and_seller);
    sw_text_add(&text, "part,seller,price,stock,days,warranty_months,return_days\n");
    for (size_t i = 0; i < count; i++)
        add_line(&text, &lines[i], arena, p->catalog->currency_digits);
    sw_arena_free(arena);
    if (text.failed) {
        sw_text_free(&text);
        return SW_NO_MEMORY;
    }
    *out = text.bytes;
    return SW_OK;
}

/* ---- what was confirmed
 * -------------------------------------------------------------------------- */

static void write_confirmed(sw_writer *in, const sw_prices *p, const sw_confirmed *is) {
    sw_writer *out = sw_writer_object(in, NULL);
    if (is->number[0] != '\0')
        sw_writer_text(out, "number", is->number);
    if (is->maker[0] != '\0')
        sw_writer_text(out, "maker", is->maker);
    sw_writer_text(out, "name", is->name);
    if (is->is_new) {
        sw_writer_bool(out, "new", true);
        sw_writer_text(out, "role", p->catalog->roles[is->role].id);
        if (is->id != NULL)
            sw_writer_text(out, "id", is->id);
    } else {
        sw_writer_text(out, "part", is->part == SW_NONE ? NULL : p->catalog->parts[is->part].id);
    }
    if (is->price > 0)
        sw_writer_money(out, "price", is->price, p->catalog->currency_digits);
    if (is->pieces > 0)
        sw_writer_integer(out, "pieces", is->pieces);
    if (is->note != NULL)
        sw_writer_text(out, "note", is->note);
}

sw_status sw_render_prices_confirmed(char **out, const sw_prices *p) {
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_writer_integer(root, "schema", 1);
    if (p->confirmed_note != NULL)
        sw_writer_text(root, "note", p->confirmed_note);
    sw_writer_text(root, "profile", p->profile->id);
    sw_writer *rows = sw_writer_array(root, "rows");
    for (size_t i = 0; i < p->confirmed_count; i++)
        write_confirmed(rows, p, &p->confirmed[i]);
    return sw_writer_finish(out, root);
}

/* ---- new parts
 * --------------------------------------------------------------------------------------- */

static void write_fact(sw_writer *in, const sw_prices *p, const sw_told_fact *fact) {
    const sw_fact *is = &p->catalog->facts[fact->fact];
    if (is->type == SW_NUMBER)
        sw_writer_exact(in, is->name, (double)fact->value.milli / 1000);
    else if (is->type == SW_FLAG)
        sw_writer_bool(in, is->name, fact->value.milli != 0);
    else
        sw_writer_text(in, is->name, fact->value.tokens[0]);
}

static void write_part(sw_writer *in, const sw_prices *p, const sw_new_part *is) {
    const sw_price_row *row = is->row;
    sw_text note = {0};
    sw_writer *out = sw_writer_object(in, NULL);
    sw_writer_text(out, "id", is->id);
    sw_writer_text(out, "role", p->catalog->roles[is->role].id);
    sw_writer_text(out, "name", row->name);
    if (is->maker[0] != '\0')
        sw_writer_text(out, "maker", is->maker);
    if (row->number[0] != '\0' && strlen(row->number) <= TOKEN_BYTES)
        sw_writer_text(sw_writer_array(out, "numbers"), NULL, row->number);
    sw_writer *facts = sw_writer_object(out, "facts");
    for (size_t i = 0; i < is->fact_count; i++)
        write_fact(facts, p, &is->facts[i]);
    sw_text_addf(
        &note, "from the list of %s; the facts are read from its text%s%s, to be looked up",
        p->catalog->sellers[p->profile->seller].name, row->text[0] == '\0' ? "" : ": ", row->text);
    sw_writer_text(out, "note", note.failed ? NULL : note.bytes);
    sw_text_free(&note);
}

sw_status sw_render_prices_parts(char **out, const sw_prices *p) {
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_writer_integer(root, "schema", 1);
    sw_writer *parts = sw_writer_array(root, "parts");
    for (size_t i = 0; i < p->new_count; i++)
        write_part(parts, p, &p->news[i]);
    return sw_writer_finish(out, root);
}
