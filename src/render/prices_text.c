/* A price list's report for a person: what was read, what not and why, and what changes. */
#include "render/prices.h"

#include <string.h>

#include "read/plain.h"

/* Text of the list, safe on a terminal. */
static const char *plain(sw_sheet *s, const char *text) {
    sw_text out = {0};
    sw_text_add(&out, "");
    sw_plain_add(&out, text);
    const char *kept = out.failed ? NULL : sw_arena_copy(s->arena, out.bytes);
    sw_text_free(&out);
    return sw_sheet_text(s, kept);
}

static const char *money(sw_sheet *s, const sw_prices *p, int64_t amount) {
    return sw_sheet_text(s, sw_money_text(s->arena, amount, p->catalog->currency_digits));
}

static const char *part_name(const sw_prices *p, int part) { return p->catalog->parts[part].name; }

/* The maker once, where the name begins with it. */
static const char *who(sw_sheet *s, const sw_price_row *row) {
    size_t maker = strlen(row->maker);
    bool twice = maker > 0 && strncmp(row->name, row->maker, maker) == 0;
    if (maker == 0 || twice)
        return SW_FORMAT(s, "row %zu, %s%s%s", row->row, plain(s, row->number),
                         row->number[0] != '\0' ? ", " : "", plain(s, row->name));
    return SW_FORMAT(s, "row %zu, %s%s%s%s", row->row, plain(s, row->number),
                     row->number[0] != '\0' ? ", " : "", plain(s, row->maker),
                     SW_FORMAT(s, "%s%s", row->maker[0] != '\0' ? " " : "", plain(s, row->name)));
}

/* ---- what became of the rows ---------------------------------------------------------------- */

static void counts(sw_sheet *s, const sw_prices *p) {
    sw_page_heading(&s->page, "The rows of the file", SW_FORMAT(s, "%zu", p->row_count));
    for (int f = SW_ROW_FATES - 1; f >= 0; f--)
        if (p->fates[f] > 0)
            sw_sheet_sum(s, "  ", sw_fate_words[f], SW_FORMAT(s, "%zu", p->fates[f]));
}

static void refused(sw_sheet *s, const sw_price_row *row) {
    const char *column = row->column[0] != '\0' ? SW_FORMAT(s, ", %s", row->column) : "";
    const char *cell = row->cell[0] != '\0' ? SW_FORMAT(s, " \"%s\"", plain(s, row->cell)) : "";
    sw_sheet_words(s, "  ", SW_FORMAT(s, "row %zu%s:%s %s.", row->row, column, cell, row->what));
    sw_sheet_words(s, "    ", SW_FORMAT(s, "Why: %s.", row->why));
    sw_sheet_words(s, "    ", SW_FORMAT(s, "To mend it: %s.", row->mend));
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

static void told_words(sw_sheet *s, const sw_prices *p, const sw_told_fact *facts, size_t count) {
    if (count > 0)
        sw_sheet_words(s, "      ", SW_FORMAT(s, "its text says: %s", told(s, p, facts, count)));
}

static void waiting(sw_sheet *s, const sw_prices *p, const sw_price_row *row) {
    sw_sheet_sum(s, "  ", who(s, row), money(s, p, row->price));
    for (size_t i = 0; i < row->proposal_count; i++)
        sw_sheet_words(s, "      ",
                       SW_FORMAT(s, "%s%s (%s), %d %% alike", i == 0 ? "perhaps " : "or ",
                                 part_name(p, row->proposals[i].part),
                                 p->catalog->parts[row->proposals[i].part].id,
                                 row->proposals[i].score));
    told_words(s, p, row->told, row->told_count);
    if (row->pack > 1)
        sw_sheet_words(
            s, "      ",
            SW_FORMAT(s, "its text says that it is a pack of %d, and the price of all", row->pack));
}

static void other(sw_sheet *s, const sw_prices *p, const sw_price_row *row) {
    switch (row->fate) {
    case SW_ROW_SKIPPED:
        sw_sheet_words(s, "  ", SW_FORMAT(s, "row %zu: %s", row->row, plain(s, row->cell)));
        break;
    case SW_ROW_NO_PRICE:
    case SW_ROW_GONE:
        sw_sheet_words(
            s, "  ", SW_FORMAT(s, "%s: %s \"%s\"", who(s, row), row->column, plain(s, row->cell)));
        break;
    case SW_ROW_TWICE:
        sw_sheet_words(s, "  ", SW_FORMAT(s, "%s: row %zu was taken", who(s, row), row->kept));
        break;
    case SW_ROW_NOT_OURS:
        sw_sheet_words(s, "  ", who(s, row));
        break;
    case SW_ROW_UNMATCHED:
        sw_sheet_sum(s, "  ", who(s, row), money(s, p, row->price));
        break;
    default:
        sw_sheet_words(s, "  ", SW_FORMAT(s, "row %zu", row->row));
    }
}

static void rows_of(sw_sheet *s, const sw_prices *p, sw_price_fate fate, const char *heading) {
    if (p->fates[fate] == 0)
        return;
    sw_page_heading(&s->page, heading, NULL);
    for (size_t i = 0; i < p->row_count; i++) {
        const sw_price_row *row = &p->rows[i];
        if (row->fate != fate)
            continue;
        if (fate == SW_ROW_REFUSED)
            refused(s, row);
        else if (fate == SW_ROW_WAITING)
            waiting(s, p, row);
        else
            other(s, p, row);
    }
}

static void new_parts(sw_sheet *s, const sw_prices *p) {
    if (p->new_count > 0)
        sw_page_heading(&s->page, "New parts: --parts FILE writes them", NULL);
    for (size_t i = 0; i < p->new_count; i++) {
        const sw_new_part *is = &p->news[i];
        sw_sheet_sum(s, "  ", who(s, is->row), money(s, p, is->row->price));
        sw_sheet_words(s, "      ",
                       SW_FORMAT(s, "%s, as %s", p->catalog->roles[is->role].name, is->id));
        told_words(s, p, is->facts, is->fact_count);
    }
}

/* Rows that say nothing, as numbers and stretches: "1 to 3, 9". */
static void silent_rows(sw_sheet *s, const sw_prices *p) {
    sw_text list = {0};
    for (size_t i = 0, to; i < p->row_count; i = to) {
        to = i + 1;
        if (p->rows[i].fate > SW_ROW_BLANK)
            continue;
        while (to < p->row_count && p->rows[to].fate <= SW_ROW_BLANK)
            to++;
        sw_text_addf(&list, "%s%zu", list.length > 0 ? ", " : "", i + 1);
        if (to > i + 1)
            sw_text_addf(&list, " to %zu", to);
    }
    s->page.text.failed |= list.failed;
    if (list.length > 0)
        sw_sheet_words(s, "  ", SW_FORMAT(s, "Headings and blank rows: %s.", list.bytes));
    sw_text_free(&list);
}

/* ---- doubts and changes ------------------------------------------------------------------------
 */

static void doubts_of(sw_sheet *s, const sw_prices *p, const sw_price_row *row) {
    const sw_part *part = &p->catalog->parts[row->part];
    for (size_t i = 0; i < row->doubt_count; i++) {
        int fact = row->doubts[i].fact;
        const char *told = sw_told_value(s->arena, p->catalog, fact, &row->doubts[i].value);
        const char *known = sw_told_value(s->arena, p->catalog, fact, &part->values[fact]);
        sw_sheet_words(s, "  ",
                       SW_FORMAT(s, "row %zu, %s: the list says %s %s, the catalog %s", row->row,
                                 part->name, p->catalog->facts[fact].name, sw_sheet_text(s, told),
                                 sw_sheet_text(s, known)));
    }
    if (row->pack > 1)
        sw_sheet_words(s, "  ",
                       SW_FORMAT(s,
                                 "row %zu, %s: the list says a pack of %d, and the price is of all",
                                 row->row, part->name, row->pack));
}

static void doubts(sw_sheet *s, const sw_prices *p) {
    bool any = false;
    for (size_t i = 0; i < p->row_count; i++) {
        const sw_price_row *row = &p->rows[i];
        if (row->fate != SW_ROW_LISTED || (row->doubt_count == 0 && row->pack <= 1))
            continue;
        if (!any)
            sw_page_heading(&s->page, "In doubt: listed, but look again", NULL);
        any = true;
        doubts_of(s, p, row);
    }
}

static const char *term(sw_sheet *s, const char *before, const char *name, int from, int to,
                        const char *unit) {
    if (from == to)
        return before;
    return SW_FORMAT(s, "%s%s%s %d to %d%s", before, before[0] != '\0' ? ", " : "", name, from, to,
                     unit);
}

static const char *terms(sw_sheet *s, const sw_price_change *c) {
    const int *w = c->after->whole;
    const char *days = term(s, "", "days", c->before->days, w[1], "");
    const char *warranty = term(s, days, "warranty", c->before->warranty_months, w[2], " months");
    return term(s, warranty, "return", c->before->return_days, w[3], " days");
}

static const char *change_right(sw_sheet *s, const sw_prices *p, const sw_price_change *c,
                                sw_change_kind kind) {
    if (c->before == NULL)
        return money(s, p, c->after->price);
    if (c->after == NULL)
        return money(s, p, c->before->price);
    if (kind == SW_CHANGE_STOCK)
        return SW_FORMAT(s, "%d to %d pieces", c->before->stock, c->after->whole[0]);
    if (kind == SW_CHANGE_TERMS)
        return terms(s, c);
    return SW_FORMAT(s, "%s to %s", money(s, p, c->before->price), money(s, p, c->after->price));
}

/* A list that was cut between two rows looks like this. */
static void whole_list(sw_sheet *s, const sw_prices *p) {
    size_t gone = 0, before = 0;
    for (size_t i = 0; i < p->change_count; i++) {
        before += p->changes[i].before != NULL;
        gone += p->changes[i].after == NULL;
    }
    if (gone * 3 > before)
        sw_sheet_words(s, "",
                       SW_FORMAT(s,
                                 "Of the %zu parts that this seller lists until now %zu are "
                                 "gone: is the list whole, and of all that is sold?",
                                 before, gone));
}

static void changes(sw_sheet *s, const sw_prices *p) {
    static const char *const headings[SW_CHANGE_KINDS] = {
        "New",    "Gone: listed until now, and not in this list",
        "Dearer", "Cheaper",
        "Stock",  "Days, warranty, return"};
    size_t all = 0;
    for (int kind = 0; kind < SW_CHANGE_KINDS; kind++) {
        size_t count = 0;
        for (size_t i = 0; i < p->change_count; i++) {
            const sw_price_change *c = &p->changes[i];
            if (!sw_change_is(c, (sw_change_kind)kind))
                continue;
            if (count++ == 0)
                sw_page_heading(&s->page, headings[kind],
                                kind < SW_CHANGE_STOCK ? p->catalog->currency : NULL);
            sw_sheet_sum(s, "  ", part_name(p, c->part),
                         change_right(s, p, c, (sw_change_kind)kind));
        }
        all += count;
    }
    sw_page_gap(&s->page);
    if (all == 0)
        sw_sheet_words(s, "", "Nothing changes in the listings of this seller.");
    whole_list(s, p);
}

sw_status sw_render_prices_text(char **out, const sw_prices *p, sw_text_style style) {
    sw_sheet s;
    if (!sw_sheet_start(&s, NULL, style))
        return SW_NO_MEMORY;
    sw_page_title(&s.page, p->profile->name);
    sw_sheet_words(&s, "",
                   SW_FORMAT(&s, "%s: prices of %s in %s, read as the profile %s says.",
                             plain(&s, p->file), p->catalog->sellers[p->profile->seller].name,
                             p->catalog->currency, p->profile->id));
    counts(&s, p);
    silent_rows(&s, p);
    rows_of(&s, p, SW_ROW_REFUSED, "Refused: nothing is written while these stand");
    rows_of(&s, p, SW_ROW_WAITING, "Wait for a person: --confirm FILE, with --ask row by row");
    rows_of(&s, p, SW_ROW_UNMATCHED, "Like no part of the catalog");
    new_parts(&s, p);
    rows_of(&s, p, SW_ROW_NO_PRICE, "Without a price");
    rows_of(&s, p, SW_ROW_GONE, "No longer sold");
    rows_of(&s, p, SW_ROW_TWICE, "A second row of a part");
    rows_of(&s, p, SW_ROW_NOT_OURS, "None of ours, as confirmed");
    rows_of(&s, p, SW_ROW_SKIPPED, "Passed over, as the profile says");
    doubts(&s, p);
    changes(&s, p);
    if (p->unused > 0) {
        sw_page_gap(&s.page);
        sw_sheet_words(&s, "", SW_FORMAT(&s, "Confirmed, and not in this list: %zu.", p->unused));
    }
    return sw_sheet_finish(out, &s);
}

/* ---- asking
 * --------------------------------------------------------------------------------------- */

sw_status sw_render_prices_question(char **out, const sw_prices *p, size_t index,
                                    sw_text_style style) {
    const sw_price_row *row = sw_prices_waiting_row(p, index);
    sw_sheet s;
    if (!sw_sheet_start(&s, NULL, style))
        return SW_NO_MEMORY;
    sw_text_add(&s.page.text, "");
    if (row != NULL) {
        sw_page_gap(&s.page);
        sw_sheet_sum(&s, "", who(&s, row),
                     SW_FORMAT(&s, "%s %s", money(&s, p, row->price), p->catalog->currency));
        if (row->text[0] != '\0')
            sw_sheet_words(&s, "    ", plain(&s, row->text));
        sw_sheet_words(&s, "  is it ",
                       SW_FORMAT(&s, "%s (%s)? %d %% alike", part_name(p, row->proposals[0].part),
                                 p->catalog->parts[row->proposals[0].part].id,
                                 row->proposals[0].score));
        told_words(&s, p, row->told, row->told_count);
        if (row->pack > 1)
            sw_sheet_words(&s, "  ", SW_FORMAT(&s, "Its text says a pack of %d.", row->pack));
    }
    return sw_sheet_finish(out, &s);
}

sw_status sw_render_profiles(char **out, const char *folder, sw_complaints *complaints) {
    sw_catalog *catalog = NULL;
    sw_sheet s;
    sw_status status = sw_catalog_read(&catalog, folder, complaints);
    if (status != SW_OK)
        return status;
    if (!sw_sheet_start(&s, NULL, (sw_text_style){0})) {
        sw_catalog_free(catalog);
        return SW_NO_MEMORY;
    }
    sw_text_add(&s.page.text, "");
    for (size_t i = 0; i < catalog->profile_count; i++)
        sw_sheet_words(&s, "  ",
                       SW_FORMAT(&s, "%s: %s", catalog->profiles[i].id, catalog->profiles[i].name));
    if (catalog->profile_count == 0)
        sw_sheet_words(&s, "  ", SW_FORMAT(&s, "none: there is nothing in %s/profiles", folder));
    sw_catalog_free(catalog);
    return sw_sheet_finish(out, &s);
}
