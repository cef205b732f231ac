/* After every row was read: two rows of one part, what changed, other sellers' rows, new parts. */
#include <stdlib.h>
#include <string.h>

#include "intake/price_stage.h"
#include "base/letters.h"
#include "read/bytes.h"

/* ---- two rows of one part -------------------------------------------------------------------- */

static int by_part(const void *left, const void *right) {
    const sw_price_row *a = *(const sw_price_row *const *)left;
    const sw_price_row *b = *(const sw_price_row *const *)right;
    if (a->part != b->part)
        return a->part < b->part ? -1 : 1;
    return (a->row > b->row) - (a->row < b->row);
}

/* For each part the first row that waits although the part is known; NULL when memory is out. */
static const sw_price_row **held_rows(sw_pricing *in) {
    const sw_price_row **out = SW_NEW(in->scratch, const sw_price_row *, in->catalog->part_count);
    in->no_memory |= out == NULL;
    for (size_t i = in->prices->row_count; out != NULL && i-- > 0;)
        if (in->prices->rows[i].fate == SW_ROW_WAITING && in->prices->rows[i].held != SW_NONE)
            out[in->prices->rows[i].held] = &in->prices->rows[i];
    return out;
}

/* Listed rows, by part, then row; NULL when memory is out. */
static sw_price_row **listed_rows(sw_pricing *in, size_t *count) {
    sw_price_row **out = SW_NEW(in->scratch, sw_price_row *, in->prices->row_count);
    *count = 0;
    for (size_t i = 0; out != NULL && i < in->prices->row_count; i++)
        if (in->prices->rows[i].fate == SW_ROW_LISTED)
            out[(*count)++] = &in->prices->rows[i];
    if (out == NULL)
        in->no_memory = true;
    else
        qsort(out, *count, sizeof *out, by_part);
    return out;
}

static bool is_better(const sw_price_row *a, const sw_price_row *b) {
    if ((a->whole[0] > 0) != (b->whole[0] > 0))
        return a->whole[0] > 0;
    return a->price < b->price;
}

static void refuse_all(sw_pricing *in, sw_price_row **rows, size_t count) {
    for (size_t i = 0; i < count; i++) {
        const char *what =
            sw_arena_format(in->arena, "is one of %zu rows of one part, as is row %zu", count,
                            rows[i == 0 ? 1 : 0]->row);
        in->no_memory |= what == NULL;
        sw_price_refuse(
            rows[i], sw_list_column_names[SW_COL_NUMBER], rows[i]->number, what,
            "a seller lists a part once, and which is meant is not for the program to say",
            "confirm one of them as none of ours, or say in the profile: \"twice\": "
            "\"cheapest\"");
    }
}

static void keep_best(sw_price_row **rows, size_t count) {
    size_t best = 0;
    for (size_t i = 1; i < count; i++)
        if (is_better(rows[i], rows[best]))
            best = i;
    for (size_t i = 0; i < count; i++)
        if (i != best) {
            rows[i]->fate = SW_ROW_TWICE;
            rows[i]->kept = rows[best]->row;
        }
}

void sw_price_twice(sw_pricing *in) {
    size_t count = 0;
    sw_price_row **rows = listed_rows(in, &count);
    for (size_t from = 0, to; !in->no_memory && from < count; from = to) {
        for (to = from + 1; to < count && rows[to]->part == rows[from]->part;)
            to++;
        if (to - from > 1 && in->profile->takes_cheapest)
            keep_best(rows + from, to - from);
        else if (to - from > 1)
            refuse_all(in, rows + from, to - from);
    }
}

/* ---- what changed -------------------------------------------------------------------------------
 */

void sw_price_changes(sw_pricing *in) {
    size_t count = 0, at = 0, used = 0;
    sw_price_row **rows = listed_rows(in, &count);
    const sw_price_row **held = held_rows(in);
    const sw_catalog *catalog = in->catalog;
    sw_price_change *out = SW_NEW(in->arena, sw_price_change, count + catalog->listing_count);
    if (in->no_memory || out == NULL) {
        in->no_memory = true;
        return;
    }
    for (size_t i = 0; i < catalog->listing_count; i++) {
        const sw_listing *before = &catalog->listings[i];
        if (before->seller != in->profile->seller)
            continue;
        for (; at < count && rows[at]->part < before->part; at++)
            out[used++] = (sw_price_change){.part = rows[at]->part, .after = rows[at]};
        bool same = at < count && rows[at]->part == before->part;
        out[used++] = (sw_price_change){.part = before->part,
                                        .before = before,
                                        .after = same ? rows[at] : NULL,
                                        .held = same ? NULL : held[before->part]};
        at += same;
        in->prices->listed_before++;
        in->prices->taken_away += !same;
    }
    for (; at < count; at++)
        out[used++] = (sw_price_change){.part = rows[at]->part, .after = rows[at]};
    in->prices->changes = out;
    in->prices->change_count = used;
    in->prices->empty = true;
    for (size_t i = 0; i < in->prices->row_count; i++)
        in->prices->empty = in->prices->empty && in->prices->rows[i].fate <= SW_ROW_SKIPPED;
}

/* ---- other sellers' rows
 * -------------------------------------------------------------------------- */

sw_status sw_price_others(sw_pricing *in, sw_complaints *complaints) {
    const char *bytes = NULL,
               *path = sw_arena_format(in->arena, "%s/listings.csv", in->catalog->folder);
    const char *seller = in->catalog->sellers[in->profile->seller].id;
    size_t length = 0;
    sw_csv table;
    if (path == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_bytes_read(&bytes, &length, in->scratch, path, complaints);
    if (status == SW_OK)
        status = sw_csv_read(&table, in->arena, path, bytes, length, complaints);
    if (status != SW_OK)
        return status;
    const char *const **others = SW_NEW(in->arena, const char *const *, table.count);
    if (others == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < table.count; i++)
        if (strcmp(table.rows[i].cells[1], seller) != 0)
            others[in->prices->other_count++] = table.rows[i].cells;
    in->prices->others = others;
    return SW_OK;
}

/* ---- new parts
 * -------------------------------------------------------------------------------------- */

#define ID_BYTES 64

/* Maker and name as an id. */
static void add_slug(sw_text *out, const char *text) {
    for (; *text != '\0'; text++) {
        char byte = sw_small_letter(*text);
        bool good = (byte >= 'a' && byte <= 'z') || (byte >= '0' && byte <= '9');
        if (good)
            sw_text_add_bytes(out, &byte, 1);
        else if (out->length > 0 && out->bytes[out->length - 1] != '-')
            sw_text_add(out, "-");
    }
}

static const char *id_for(sw_pricing *in, const sw_names *ids, const sw_price_row *row) {
    sw_text slug = {0};
    const char *id = NULL;
    add_slug(&slug, row->maker);
    if (slug.length > 0)
        sw_text_add(&slug, "-");
    add_slug(&slug, row->name);
    while (slug.length > 0 && (slug.length > ID_BYTES - 8 || slug.bytes[slug.length - 1] == '-'))
        slug.bytes[--slug.length] = '\0';
    if (slug.length == 0)
        sw_text_add(&slug, "part");
    /* No two rows share a number, so that few are tried. */
    for (size_t i = row->row - 1; !slug.failed; i++) {
        id = i + 1 == row->row ? sw_arena_copy(in->arena, slug.bytes)
                               : sw_arena_format(in->arena, "%s-%zu", slug.bytes, i);
        if (id == NULL || sw_names_find(ids, id) == SW_NONE)
            break;
    }
    in->no_memory |= slug.failed || id == NULL;
    sw_text_free(&slug);
    return id == NULL ? "" : id;
}

/* The maker as the catalog writes it. */
static const char *maker_of(sw_pricing *in, const char *maker) {
    int found = sw_price_maker(in, maker);
    for (size_t p = 0; found != SW_NONE && p < in->catalog->part_count; p++)
        if (in->maker_of[p] == found)
            return in->catalog->parts[p].maker;
    return maker;
}

static void add_new(sw_pricing *in, sw_new_part *out, const sw_names *ids, const sw_price_row *row,
                    const sw_confirmed *is) {
    sw_price_reading read;
    *out = (sw_new_part){.row = row,
                         .id = is->id == NULL ? id_for(in, ids, row) : is->id,
                         .maker = maker_of(in, row->maker),
                         .role = is->role};
    sw_price_facts(in, row, is->role, &read);
    out->facts = sw_price_keep_facts(in, read.facts, read.count);
    out->fact_count = out->facts == NULL ? 0 : read.count;
}

/* Ids that a new part may not have: those of the catalog and those that a person gave. */
static void gather_ids(sw_pricing *in, sw_names *ids) {
    for (size_t p = 0; p < in->catalog->part_count; p++)
        in->no_memory |= !sw_names_add(ids, in->catalog->parts[p].id, (int)p);
    for (size_t i = 0; i < in->prices->confirmed_count; i++) {
        const char *id = in->prices->confirmed[i].id;
        if (id != NULL && sw_names_find(ids, id) == SW_NONE)
            in->no_memory |= !sw_names_add(ids, id, (int)i);
    }
}

void sw_price_news(sw_pricing *in) {
    sw_names ids = {0};
    if (in->prices->fates[SW_ROW_NEW] == 0)
        return;
    gather_ids(in, &ids);
    sw_new_part *news = SW_NEW(in->arena, sw_new_part, in->prices->fates[SW_ROW_NEW]);
    bool *done = SW_NEW(in->scratch, bool, in->prices->confirmed_count);
    in->no_memory |= news == NULL || done == NULL;
    for (size_t i = 0; i < in->prices->row_count && !in->no_memory; i++) {
        const sw_price_row *row = &in->prices->rows[i];
        const sw_confirmed *is = row->fate == SW_ROW_NEW ? sw_confirmed_find(in, row) : NULL;
        if (is == NULL || done[is - in->prices->confirmed])
            continue;
        done[is - in->prices->confirmed] = true;
        sw_new_part *out = &news[in->prices->new_count];
        add_new(in, out, &ids, row, is);
        if (sw_names_find(&ids, out->id) == SW_NONE)
            in->no_memory |= !sw_names_add(&ids, out->id, (int)in->prices->new_count);
        in->prices->new_count++;
    }
    in->prices->news = news;
    sw_names_free(&ids);
}
