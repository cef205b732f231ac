/* A price list's report for programs: every row once, and what changes. */
#include <stdlib.h>
#include <string.h>

#include "render/json_writer.h"
#include "render/prices.h"

static const char *part_id(const sw_prices *p, int part) { return p->catalog->parts[part].id; }

static void text_unless_empty(sw_writer *in, const char *name, const char *text) {
    if (text != NULL && text[0] != '\0')
        sw_writer_text(in, name, text);
}

static void write_facts(sw_writer *in, const char *name, const sw_prices *p, sw_arena *arena,
                        const sw_told_fact *facts, size_t count) {
    sw_writer *list = count == 0 ? NULL : sw_writer_array(in, name);
    for (size_t i = 0; i < count; i++) {
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "fact", p->catalog->facts[facts[i].fact].name);
        sw_writer_text(one, "value",
                       sw_told_value(arena, p->catalog, facts[i].fact, &facts[i].value));
    }
}

static void write_priced(sw_writer *in, const sw_prices *p, const sw_price_row *row) {
    sw_writer_money(in, "price", row->price, p->catalog->currency_digits);
    for (int w = 0; w < SW_COL_WHOLE_COUNT; w++)
        sw_writer_integer(in, sw_list_column_names[SW_COL_FIRST_WHOLE + w], row->whole[w]);
    if (row->stated != row->price)
        sw_writer_money(in, "stated", row->stated, p->catalog->currency_digits);
    if (row->pack != 1)
        sw_writer_integer(in, "pack", row->pack);
    if (row->pieces > 0)
        sw_writer_integer(in, "pieces", row->pieces);
}

static void write_waits(sw_writer *in, const sw_price_row *row) {
    static const char *const names[] = {"like", "name", "pack", "price"};
    sw_writer *list = row->waits == 0 ? NULL : sw_writer_array(in, "waits");
    for (int i = 0; i < 4; i++)
        if ((row->waits & 1u << i) != 0)
            sw_writer_text(list, NULL, names[i]);
}

static void write_proposal(sw_writer *in, const sw_prices *p, const sw_proposal_of *is) {
    int digits = p->catalog->currency_digits;
    sw_writer *out = sw_writer_object(in, NULL);
    sw_writer_text(out, "part", part_id(p, is->part));
    sw_writer_integer(out, "score", is->score);
    if (!is->far)
        return;
    sw_writer *usual = sw_writer_object(out, "far_from");
    sw_writer_money(usual, "from", is->usual.low, digits);
    sw_writer_money(usual, "to", is->usual.high, digits);
    sw_writer_text(usual, "of", is->usual.others ? "others" : "seller");
}

static void write_clashes(sw_writer *in, const sw_prices *p, sw_arena *arena,
                          const sw_price_row *row) {
    sw_writer *list = row->clash_count == 0 ? NULL : sw_writer_array(in, "clashes");
    for (size_t i = 0; i < row->clash_count; i++) {
        const sw_told_fact *is = &row->clashes[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "fact", p->catalog->facts[is->fact].name);
        sw_writer_text(one, "value", sw_told_value(arena, p->catalog, is->fact, &is->value));
        sw_writer_text(one, "other", sw_told_value(arena, p->catalog, is->fact, &is->other));
    }
}

static void write_row(sw_writer *out, const sw_prices *p, sw_arena *arena,
                      const sw_price_row *row) {
    sw_writer_integer(out, "row", (int64_t)row->row);
    sw_writer_integer(out, "line", (int64_t)row->line);
    sw_writer_text(out, "fate", sw_fate_names[row->fate]);
    text_unless_empty(out, "number", row->number);
    text_unless_empty(out, "maker", row->maker);
    text_unless_empty(out, "name", row->name);
    text_unless_empty(out, "column", row->column);
    text_unless_empty(out, "cell", row->cell);
    text_unless_empty(out, "what", row->what);
    text_unless_empty(out, "why", row->why);
    text_unless_empty(out, "mend", row->mend);
    if (row->fate >= SW_ROW_NEW)
        write_priced(out, p, row);
    if (row->part != SW_NONE) {
        sw_writer_text(out, "part", part_id(p, row->part));
        sw_writer_text(out, "by", row->confirmed ? "person" : "number");
    }
    if (row->fate == SW_ROW_TWICE)
        sw_writer_integer(out, "kept", (int64_t)row->kept);
    write_waits(out, row);
    sw_writer *proposals = row->proposal_count == 0 ? NULL : sw_writer_array(out, "proposals");
    for (size_t i = 0; i < row->proposal_count; i++)
        write_proposal(proposals, p, &row->proposals[i]);
    write_facts(out, "told", p, arena, row->told, row->told_count);
    write_facts(out, "doubts", p, arena, row->doubts, row->doubt_count);
    write_clashes(out, p, arena, row);
}

static void write_change(sw_writer *in, const sw_prices *p, const sw_price_change *c) {
    int digits = p->catalog->currency_digits;
    sw_writer *out = sw_writer_object(in, NULL);
    sw_writer_text(out, "part", part_id(p, c->part));
    sw_writer *kinds = sw_writer_array(out, "is");
    for (int kind = 0; kind < SW_CHANGE_KINDS; kind++)
        if (sw_change_is(c, (sw_change_kind)kind))
            sw_writer_text(kinds, NULL, sw_change_names[kind]);
    if (c->before != NULL) {
        sw_writer *before = sw_writer_object(out, "before");
        sw_writer_money(before, "price", c->before->price, digits);
        sw_writer_integer(before, "stock", c->before->stock);
        sw_writer_integer(before, "days", c->before->days);
        sw_writer_integer(before, "warranty_months", c->before->warranty_months);
        sw_writer_integer(before, "return_days", c->before->return_days);
    }
    if (c->after != NULL) {
        sw_writer *after = sw_writer_object(out, "after");
        sw_writer_integer(after, "row", (int64_t)c->after->row);
        write_priced(after, p, c->after);
    }
}

static bool is_change(const sw_price_change *c) {
    for (int kind = 0; kind < SW_CHANGE_KINDS; kind++)
        if (sw_change_is(c, (sw_change_kind)kind))
            return true;
    return false;
}

/* Everything but the rows. */
static sw_status write_root(char **out, const sw_prices *p, sw_arena *arena) {
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_writer_integer(root, "schema", 1);
    sw_writer_text(root, "file", p->file);
    sw_writer_text(root, "profile", p->profile->id);
    sw_writer_text(root, "seller", p->catalog->sellers[p->profile->seller].id);
    sw_writer_text(root, "currency", p->catalog->currency);
    sw_writer_integer(root, "row_count", (int64_t)p->row_count);
    sw_writer *fates = sw_writer_object(root, "fates");
    for (int f = 0; f < SW_ROW_FATES; f++)
        sw_writer_integer(fates, sw_fate_names[f], (int64_t)p->fates[f]);
    sw_writer_integer(root, "listed_before", (int64_t)p->listed_before);
    sw_writer_integer(root, "taken_away", (int64_t)p->taken_away);
    sw_writer_bool(root, "asks_whether_whole", sw_prices_shrinks(p));
    sw_writer_integer(root, "confirmed_elsewhere", (int64_t)p->unused);
    sw_writer *news = sw_writer_array(root, "new_parts");
    for (size_t i = 0; i < p->new_count; i++) {
        sw_writer *one = sw_writer_object(news, NULL);
        sw_writer_integer(one, "row", (int64_t)p->news[i].row->row);
        sw_writer_text(one, "id", p->news[i].id);
        sw_writer_text(one, "role", p->catalog->roles[p->news[i].role].id);
        write_facts(one, "facts", p, arena, p->news[i].facts, p->news[i].fact_count);
    }
    sw_writer *changes = sw_writer_array(root, "changes");
    for (size_t i = 0; i < p->change_count; i++)
        if (is_change(&p->changes[i]))
            write_change(changes, p, &p->changes[i]);
    return sw_writer_finish(out, root);
}

/* One row's object, by itself: a tree of a million rows would be some gigabytes. */
static sw_status add_row(sw_text *text, const sw_prices *p, const sw_price_row *row) {
    sw_writer *one = sw_writer_new();
    sw_arena *arena = sw_arena_new();
    char *json = NULL;
    if (one == NULL || arena == NULL) {
        if (one != NULL && sw_writer_finish(&json, one) == SW_OK)
            free(json);
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    write_row(one, p, arena, row);
    sw_status status = sw_writer_finish(&json, one);
    if (status == SW_OK) {
        size_t length = strlen(json);
        while (length > 0 && json[length - 1] == '\n')
            length--;
        sw_text_add_bytes(text, json, length);
    }
    free(json);
    sw_arena_free(arena);
    return text->failed ? SW_NO_MEMORY : status;
}

sw_status sw_render_prices_json(char **out, const sw_prices *p) {
    sw_arena *arena = sw_arena_new();
    char *root = NULL;
    sw_text text = {0};
    sw_status status = arena == NULL ? SW_NO_MEMORY : write_root(&root, p, arena);
    sw_arena_free(arena);
    if (status != SW_OK)
        return status;
    /* The rows go in before the brace that ends the root. */
    size_t end = strlen(root);
    while (end > 0 && root[end - 1] != '}')
        end--;
    while (end > 0 && (root[end - 1] == '}' || root[end - 1] == '\n'))
        end--;
    sw_text_add_bytes(&text, root, end);
    free(root);
    sw_text_add(&text, ",\n\t\"rows\":\t[");
    for (size_t i = 0; i < p->row_count && status == SW_OK; i++) {
        sw_text_add(&text, i == 0 ? "" : ", ");
        status = add_row(&text, p, &p->rows[i]);
    }
    sw_text_add(&text, "]\n}\n");
    if (text.failed || status != SW_OK) {
        sw_text_free(&text);
        return SW_NO_MEMORY;
    }
    *out = text.bytes;
    return SW_OK;
}
