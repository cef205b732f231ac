/* Rows that wait for a person: why, and what may be said to them. */
#include <string.h>

#include "read/plain.h"
#include "render/prices.h"

/* Text of the list, safe on a terminal. */
const char *sw_list_text(sw_sheet *s, const char *text) {
    sw_text out = {0};
    sw_text_add(&out, "");
    sw_plain_add(&out, text);
    const char *kept = out.failed ? NULL : sw_arena_copy(s->arena, out.bytes);
    sw_text_free(&out);
    return sw_sheet_text(s, kept);
}

const char *sw_list_money(sw_sheet *s, const sw_prices *p, int64_t amount) {
    return sw_sheet_text(s, sw_money_text(s->arena, amount, p->catalog->currency_digits));
}

/* The maker once, where the name begins with it. */
const char *sw_list_row(sw_sheet *s, const sw_price_row *row) {
    size_t maker = strlen(row->maker);
    bool twice = maker > 0 && strncmp(row->name, row->maker, maker) == 0;
    if (maker == 0 || twice)
        return SW_FORMAT(s, "row %zu, %s%s%s", row->row, sw_list_text(s, row->number),
                         row->number[0] != '\0' ? ", " : "", sw_list_text(s, row->name));
    return SW_FORMAT(
        s, "row %zu, %s%s%s%s", row->row, sw_list_text(s, row->number),
        row->number[0] != '\0' ? ", " : "", sw_list_text(s, row->maker),
        SW_FORMAT(s, "%s%s", row->maker[0] != '\0' ? " " : "", sw_list_text(s, row->name)));
}

/* "space_gb 12000, read_mb_s 240"; "" for none. */
static const char *told(sw_sheet *s, const sw_prices *p, const sw_told_fact *facts, size_t count) {
    const char *all = "";
    for (size_t i = 0; i < count; i++) {
        int fact = facts[i].fact;
        const char *value = sw_told_value(s->arena, p->catalog, fact, &facts[i].value);
        all = SW_FORMAT(s, "%s%s%s %s", all, i == 0 ? "" : ", ", p->catalog->facts[fact].name,
                        sw_sheet_text(s, value));
    }
    return all;
}

void sw_list_told(sw_sheet *s, const sw_prices *p, const sw_told_fact *facts, size_t count) {
    if (count > 0)
        sw_sheet_words(s, "      ", SW_FORMAT(s, "its text says: %s", told(s, p, facts, count)));
}

/* ---- why ------------------------------------------------------------------------------------ */

/* One size may be stated of two facts. */
static bool is_told(const sw_price_row *row, size_t index) {
    if (index == 0)
        return false;
    const sw_told_fact *is = &row->clashes[index], *before = &row->clashes[index - 1];
    return is->value.milli == before->value.milli && is->value.token_count == 0 &&
           before->value.token_count == 0 && is->other.milli == before->other.milli;
}

void sw_list_clashes(sw_sheet *s, const sw_prices *p, const sw_price_row *row, const char *indent,
                     const char *who) {
    for (size_t i = 0; i < row->clash_count; i++) {
        const sw_told_fact *is = &row->clashes[i];
        const char *one = sw_told_value(s->arena, p->catalog, is->fact, &is->value);
        const char *two = sw_told_value(s->arena, p->catalog, is->fact, &is->other);
        if (!is_told(row, i))
            sw_sheet_words(s, indent,
                           SW_FORMAT(s, "%sits %s says %s %s, %s %s: which is it?", who,
                                     is->in_remarks ? "text" : "name",
                                     p->catalog->facts[is->fact].name, sw_sheet_text(s, one),
                                     is->in_remarks == is->other_remarks ? "and also"
                                     : is->other_remarks                 ? "its text"
                                                                         : "its name",
                                     sw_sheet_text(s, two)));
    }
}

/* "this seller's price is 127.90 until now". */
static const char *usual(sw_sheet *s, const sw_prices *p, const sw_usual_price *is) {
    const char *low = sw_list_money(s, p, is->low), *high = sw_list_money(s, p, is->high);
    if (!is->others)
        return SW_FORMAT(s, "this seller's price is %s until now", high);
    if (is->low == is->high)
        return SW_FORMAT(s, "the price of others is %s", high);
    return SW_FORMAT(s, "the prices of others are %s to %s", low, high);
}

static void pack_words(sw_sheet *s, const sw_prices *p, const sw_price_row *row) {
    if (row->pack == 1 || row->pieces > 0)
        return;
    sw_sheet_words(
        s, "      ",
        row->pack > 1 ? SW_FORMAT(s, "its text says a pack of %d: of how many pieces is the price?",
                                  row->pack)
                      : "its text says a pack: of how many pieces is the price?");
    if (row->proposals[0].usual.high > 0)
        sw_sheet_words(s, "      ",
                       SW_FORMAT(s, "of one piece %s", usual(s, p, &row->proposals[0].usual)));
}

static void reasons(sw_sheet *s, const sw_prices *p, const sw_price_row *row) {
    if ((row->waits & SW_WAITS_NAME) != 0)
        sw_sheet_words(s, "      ",
                       SW_FORMAT(s, "its number is that of %s, its name is %s: which is it?",
                                 p->catalog->parts[row->held].name,
                                 p->catalog->parts[row->proposals[1].part].name));
    pack_words(s, p, row);
    /* Of what is only alike, the price of the first is enough. */
    for (size_t i = 0; i < row->proposal_count; i++) {
        const sw_proposal_of *is = &row->proposals[i];
        if (is->far && (i == 0 || (row->waits & SW_WAITS_LIKE) == 0))
            sw_sheet_words(s, "      ",
                           SW_FORMAT(s, "far from the price of %s: %s. Is %s right?",
                                     p->catalog->parts[is->part].name, usual(s, p, &is->usual),
                                     sw_list_money(s, p, row->price)));
    }
    if (row->other_price > 0)
        sw_sheet_words(s, "      ",
                       SW_FORMAT(s, "%s was confirmed, not this price",
                                 sw_list_money(s, p, row->other_price)));
    if (row->pieces > 1)
        sw_sheet_words(s, "      ",
                       SW_FORMAT(s, "of %d pieces, as confirmed: %s a piece", row->pieces,
                                 sw_list_money(s, p, row->price)));
    sw_list_clashes(s, p, row, "      ", "");
}

/* "1: Alderbrook T5-440 (alderbrook-t5-440), 60 % alike". */
static const char *proposal(sw_sheet *s, const sw_prices *p, const sw_price_row *row, size_t i) {
    const sw_part *part = &p->catalog->parts[row->proposals[i].part];
    const char *named = SW_FORMAT(s, "%s (%s)", part->name, part->id);
    return row->waits & SW_WAITS_LIKE
               ? SW_FORMAT(s, "%s, %d %% alike", named, row->proposals[i].score)
               : named;
}

void sw_list_waiting(sw_sheet *s, const sw_prices *p, const sw_price_row *row) {
    sw_sheet_sum(s, "  ", sw_list_row(s, row), sw_list_money(s, p, row->stated));
    for (size_t i = 0; i < row->proposal_count; i++)
        sw_sheet_words(s, "      ",
                       SW_FORMAT(s, "%s%s",
                                 (row->waits & (SW_WAITS_LIKE | SW_WAITS_NAME)) == 0 ? "is "
                                 : i == 0                                            ? "perhaps "
                                                                                     : "or ",
                                 proposal(s, p, row, i)));
    sw_list_told(s, p, row->told, row->told_count);
    reasons(s, p, row);
}

/* ---- asking --------------------------------------------------------------------------------- */

/* What may be answered. No is no answer to a price: it would set the row aside for good. */
static const char *answers(sw_sheet *s, const sw_price_row *row) {
    const char *yes = (row->waits & SW_WAITS_PRICE) != 0 ? "y: yes, at that price" : "y: yes";
    if (row->proposal_count > 1)
        yes = SW_FORMAT(s, "1%s%zu: that part", row->proposal_count == 2 ? " or " : " to ",
                        row->proposal_count);
    return SW_FORMAT(s, "%s, l: not now, n: the row is none of our parts, q: end", yes);
}

sw_status sw_render_prices_question(char **out, const sw_prices *p, size_t index,
                                    sw_text_style style) {
    const sw_price_row *row = sw_prices_waiting_row(p, index);
    sw_sheet s;
    if (!sw_sheet_start(&s, NULL, style))
        return SW_NO_MEMORY;
    sw_text_add(&s.page.text, "");
    if (row != NULL) {
        sw_page_gap(&s.page);
        sw_sheet_sum(
            &s, "", sw_list_row(&s, row),
            SW_FORMAT(&s, "%s %s", sw_list_money(&s, p, row->stated), p->catalog->currency));
        if (row->text[0] != '\0')
            sw_sheet_words(&s, "    ", sw_list_text(&s, row->text));
        for (size_t i = 0; i < row->proposal_count; i++)
            sw_sheet_words(&s,
                           row->proposal_count > 1 ? SW_FORMAT(&s, "  %zu: ", i + 1) : "  is it ",
                           SW_FORMAT(&s, "%s?", proposal(&s, p, row, i)));
        sw_list_told(&s, p, row->told, row->told_count);
        reasons(&s, p, row);
        sw_sheet_words(&s, "  ", answers(&s, row));
    }
    return sw_sheet_finish(out, &s);
}
