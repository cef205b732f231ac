/* A price list's report for a person: what was read, what not and why, and what changes. */
#include "render/prices.h"

static const char *part_name(const sw_prices *p, int part) { return p->catalog->parts[part].name; }

#define LINES_MOST 20 /* of one list; JSON has all */

/* ---- what became of the rows ---------------------------------------------------------------- */

static void counts(sw_sheet *s, const sw_prices *p) {
    sw_page_heading(&s->page, "The rows of the file", SW_FORMAT(s, "%zu", p->row_count));
    for (int f = SW_ROW_FATES - 1; f >= 0; f--)
        if (p->fates[f] > 0)
            sw_sheet_sum(s, "  ", sw_fate_words[f], SW_FORMAT(s, "%zu", p->fates[f]));
}

static void refused(sw_sheet *s, const sw_price_row *row) {
    const char *column = row->column[0] != '\0' ? SW_FORMAT(s, ", %s", row->column) : "";
    const char *cell =
        row->cell[0] != '\0' ? SW_FORMAT(s, " \"%s\"", sw_list_text(s, row->cell)) : "";
    sw_sheet_words(s, "  ", SW_FORMAT(s, "row %zu%s:%s %s.", row->row, column, cell, row->what));
    sw_sheet_words(s, "    ", SW_FORMAT(s, "Why: %s.", row->why));
    sw_sheet_words(s, "    ", SW_FORMAT(s, "To mend it: %s.", row->mend));
}

static void other(sw_sheet *s, const sw_prices *p, const sw_price_row *row) {
    switch (row->fate) {
    case SW_ROW_SKIPPED:
        sw_sheet_words(s, "  ", SW_FORMAT(s, "row %zu: %s", row->row, sw_list_text(s, row->cell)));
        break;
    case SW_ROW_NO_PRICE:
    case SW_ROW_GONE:
        sw_sheet_words(s, "  ",
                       SW_FORMAT(s, "%s: %s \"%s\"", sw_list_row(s, row), row->column,
                                 sw_list_text(s, row->cell)));
        break;
    case SW_ROW_TWICE:
        sw_sheet_words(s, "  ",
                       SW_FORMAT(s, "%s: row %zu was taken", sw_list_row(s, row), row->kept));
        break;
    case SW_ROW_NOT_OURS:
        sw_sheet_words(s, "  ", sw_list_row(s, row));
        break;
    case SW_ROW_UNMATCHED:
        sw_sheet_sum(s, "  ", sw_list_row(s, row), sw_list_money(s, p, row->price));
        break;
    default:
        sw_sheet_words(s, "  ", SW_FORMAT(s, "row %zu", row->row));
    }
}

/* What a list was cut by. */
static void and_more(sw_sheet *s, size_t count) {
    if (count > LINES_MOST)
        sw_sheet_words(s, "  ", SW_FORMAT(s, "and %zu more (--json has all)", count - LINES_MOST));
}

static void rows_of(sw_sheet *s, const sw_prices *p, sw_price_fate fate, const char *heading) {
    size_t count = 0;
    if (p->fates[fate] == 0)
        return;
    sw_page_heading(&s->page, heading, NULL);
    for (size_t i = 0; i < p->row_count && count < LINES_MOST; i++) {
        const sw_price_row *row = &p->rows[i];
        if (row->fate != fate)
            continue;
        count++;
        if (fate == SW_ROW_REFUSED)
            refused(s, row);
        else if (fate == SW_ROW_WAITING)
            sw_list_waiting(s, p, row);
        else
            other(s, p, row);
    }
    and_more(s, p->fates[fate]);
}

static void new_parts(sw_sheet *s, const sw_prices *p) {
    if (p->new_count > 0)
        sw_page_heading(&s->page, "New parts: --parts FILE writes them", NULL);
    for (size_t i = 0; i < p->new_count && i < LINES_MOST; i++) {
        const sw_new_part *is = &p->news[i];
        sw_sheet_sum(s, "  ", sw_list_row(s, is->row), sw_list_money(s, p, is->row->price));
        sw_sheet_words(s, "      ",
                       SW_FORMAT(s, "%s, as %s", p->catalog->roles[is->role].name, is->id));
        sw_list_told(s, p, is->facts, is->fact_count);
    }
    and_more(s, p->new_count);
}

/* Rows that say nothing, as numbers and stretches: "1 to 3, 9". */
static void silent_rows(sw_sheet *s, const sw_prices *p) {
    sw_text list = {0};
    size_t count = 0;
    for (size_t i = 0, to; i < p->row_count; i = to) {
        to = i + 1;
        if (p->rows[i].fate > SW_ROW_BLANK)
            continue;
        if (count++ == LINES_MOST) {
            sw_text_add(&list, " and more");
            break;
        }
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
    const char *who = SW_FORMAT(s, "row %zu, %s", row->row, part->name);
    for (size_t i = 0; i < row->doubt_count; i++) {
        int fact = row->doubts[i].fact;
        const char *told = sw_told_value(s->arena, p->catalog, fact, &row->doubts[i].value);
        const char *known = sw_told_value(s->arena, p->catalog, fact, &part->values[fact]);
        sw_sheet_words(s, "  ",
                       SW_FORMAT(s, "%s: the list says %s %s, the catalog %s", who,
                                 p->catalog->facts[fact].name, sw_sheet_text(s, told),
                                 sw_sheet_text(s, known)));
    }
    sw_list_clashes(s, p, row, "  ", SW_FORMAT(s, "%s: ", who));
    if (row->pieces > 1)
        sw_sheet_words(s, "  ",
                       SW_FORMAT(s,
                                 "%s: %s for %d pieces, as confirmed, listed at %s a piece: is it "
                                 "sold singly?",
                                 who, sw_list_money(s, p, row->stated), row->pieces,
                                 sw_list_money(s, p, row->price)));
}

static bool is_doubtful(const sw_price_row *row) {
    return row->fate == SW_ROW_LISTED &&
           (row->doubt_count > 0 || row->clash_count > 0 || row->pieces > 1);
}

static void doubts(sw_sheet *s, const sw_prices *p) {
    size_t count = 0;
    for (size_t i = 0; i < p->row_count; i++)
        if (is_doubtful(&p->rows[i]) && count++ < LINES_MOST) {
            if (count == 1)
                sw_page_heading(&s->page, "In doubt: listed, but look again", NULL);
            doubts_of(s, p, &p->rows[i]);
        }
    and_more(s, count);
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
        return sw_list_money(s, p, c->after->price);
    if (c->after == NULL)
        return sw_list_money(s, p, c->before->price);
    if (kind == SW_CHANGE_STOCK)
        return SW_FORMAT(s, "%d to %d pieces", c->before->stock, c->after->whole[0]);
    if (kind == SW_CHANGE_TERMS)
        return terms(s, c);
    return SW_FORMAT(s, "%s to %s", sw_list_money(s, p, c->before->price),
                     sw_list_money(s, p, c->after->price));
}

/* A list that was cut between two rows looks like this. */
static void whole_list(sw_sheet *s, const sw_prices *p) {
    if (!sw_prices_shrinks(p))
        return;
    if (p->listed_before == 0)
        sw_sheet_words(s, "", "The list has no rows. Is it whole?");
    else
        sw_sheet_words(s, "",
                       SW_FORMAT(s,
                                 "Of the %zu parts that this seller lists until now this list "
                                 "takes %zu away. Is it whole, and of all that is sold? "
                                 "Listings are written with --whole alone, which says: this list "
                                 "is whole.",
                                 p->listed_before, p->taken_away));
}

static void changes(sw_sheet *s, const sw_prices *p) {
    static const char *const headings[SW_CHANGE_KINDS] = {
        "New",
        "Gone: listed until now, and not in this list",
        "On hold until a person has spoken: listed as until now, with stock 0",
        "Dearer",
        "Cheaper",
        "Stock",
        "Days, warranty, return"};
    size_t all = 0;
    for (int kind = 0; kind < SW_CHANGE_KINDS; kind++) {
        size_t count = 0;
        for (size_t i = 0; i < p->change_count; i++) {
            const sw_price_change *c = &p->changes[i];
            if (!sw_change_is(c, (sw_change_kind)kind))
                continue;
            if (count++ >= LINES_MOST)
                continue;
            if (count == 1)
                sw_page_heading(&s->page, headings[kind],
                                kind < SW_CHANGE_STOCK ? p->catalog->currency : NULL);
            sw_sheet_sum(s, "  ", part_name(p, c->part),
                         change_right(s, p, c, (sw_change_kind)kind));
        }
        and_more(s, count);
        all += count;
    }
    if (all > 0)
        return;
    sw_page_gap(&s->page);
    sw_sheet_words(s, "", "Nothing changes in the listings of this seller.");
}

sw_status sw_render_prices_text(char **out, const sw_prices *p, sw_text_style style) {
    sw_sheet s;
    if (!sw_sheet_start(&s, NULL, style))
        return SW_NO_MEMORY;
    sw_page_title(&s.page, p->profile->name);
    sw_sheet_words(&s, "",
                   SW_FORMAT(&s, "%s: prices of %s in %s, read as the profile %s says.",
                             sw_list_text(&s, p->file),
                             p->catalog->sellers[p->profile->seller].name, p->catalog->currency,
                             p->profile->id));
    whole_list(&s, p);
    counts(&s, p);
    silent_rows(&s, p);
    rows_of(&s, p, SW_ROW_REFUSED, "Refused: nothing is written while these stand");
    rows_of(&s, p, SW_ROW_WAITING, "Wait for a person: --confirm FILE, with --ask row by row");
    doubts(&s, p);
    rows_of(&s, p, SW_ROW_UNMATCHED, "Like no part of the catalog");
    new_parts(&s, p);
    rows_of(&s, p, SW_ROW_NO_PRICE, "Without a price");
    rows_of(&s, p, SW_ROW_GONE, "No longer sold");
    rows_of(&s, p, SW_ROW_TWICE, "A second row of a part");
    rows_of(&s, p, SW_ROW_NOT_OURS, "None of ours, as confirmed");
    rows_of(&s, p, SW_ROW_SKIPPED, "Passed over, as the profile says");
    changes(&s, p);
    if (p->unused > 0) {
        sw_page_gap(&s.page);
        sw_sheet_words(&s, "", SW_FORMAT(&s, "Confirmed, and not in this list: %zu.", p->unused));
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
