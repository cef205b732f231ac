/* Rows to parts: by the makers' numbers. */
#include <stdlib.h>
#include <string.h>

#include "intake/price_stage.h"
#include "base/letters.h"

static int by_key(const void *left, const void *right) {
    const sw_numbered *a = left, *b = right;
    int order = strcmp(a->key, b->key);
    return order != 0 ? order : (a->part > b->part) - (a->part < b->part);
}

void sw_numbered_sort(sw_numbered *list, size_t count) { qsort(list, count, sizeof *list, by_key); }

size_t sw_numbered_find(const sw_numbered *list, size_t count, const char *key) {
    size_t low = 0, high = count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (strcmp(list[middle].key, key) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* The maker in capitals, in the scratch text. */
static const char *maker_key(sw_pricing *in, const char *maker) {
    in->key.length = 0;
    sw_text_add(&in->key, "");
    for (; *maker != '\0'; maker++) {
        char byte = sw_capital_letter(*maker);
        sw_text_add_bytes(&in->key, &byte, 1);
    }
    in->no_memory |= in->key.failed;
    return in->key.failed ? "" : in->key.bytes;
}

int sw_price_maker(sw_pricing *in, const char *maker) {
    return maker[0] == '\0' || in->makers.count == 0
               ? SW_NONE
               : sw_names_find(&in->makers, maker_key(in, maker));
}

static void index_maker(sw_pricing *in, size_t part) {
    const char *maker = in->catalog->parts[part].maker;
    in->maker_of[part] = SW_NONE;
    if (maker[0] == '\0')
        return;
    int found = sw_price_maker(in, maker);
    if (found == SW_NONE) {
        found = (int)in->makers.count;
        const char *kept = sw_arena_copy(in->scratch, maker_key(in, maker));
        in->no_memory |= kept == NULL || !sw_names_add(&in->makers, kept, found);
    }
    in->maker_of[part] = found;
}

static void index_numbers(sw_pricing *in, size_t part) {
    const sw_part *is = &in->catalog->parts[part];
    for (size_t i = 0; i < is->number_count; i++) {
        in->key.length = 0;
        sw_number_key(&in->key, is->numbers[i]);
        const char *kept = in->key.failed ? NULL : sw_arena_copy(in->scratch, in->key.bytes);
        in->no_memory |= kept == NULL;
        in->numbered[in->numbered_count++] = (sw_numbered){kept == NULL ? "" : kept, (int)part};
    }
}

void sw_price_index(sw_pricing *in) {
    const sw_catalog *catalog = in->catalog;
    size_t numbers = 0;
    for (size_t p = 0; p < catalog->part_count; p++)
        numbers += catalog->parts[p].number_count;
    in->numbered = SW_NEW(in->scratch, sw_numbered, numbers);
    in->maker_of = SW_NEW(in->scratch, int, catalog->part_count);
    if (in->numbered == NULL || in->maker_of == NULL) {
        in->no_memory = true;
        return;
    }
    for (size_t p = 0; p < catalog->part_count && !in->no_memory; p++) {
        index_maker(in, p);
        index_numbers(in, p);
    }
    sw_numbered_sort(in->numbered, in->numbered_count);
    if (!in->no_memory)
        sw_price_doubts_index(in);
    if (!in->no_memory)
        sw_lexicon_make(in);
}

void sw_price_index_free(sw_pricing *in) {
    sw_names_free(&in->makers);
    sw_names_free(&in->lexicon.words);
    sw_names_free(&in->confirmed);
    sw_text_free(&in->key);
}

int sw_price_by_number(sw_pricing *in, const sw_price_row *row) {
    int maker = sw_price_maker(in, row->maker), found = SW_NONE;
    in->key.length = 0;
    sw_text_add(&in->key, "");
    sw_number_key(&in->key, row->number);
    in->no_memory |= in->key.failed;
    if (in->key.failed || in->key.length == 0 || (row->maker[0] != '\0' && maker == SW_NONE))
        return SW_NONE;
    size_t low = sw_numbered_find(in->numbered, in->numbered_count, in->key.bytes);
    for (; low < in->numbered_count && strcmp(in->numbered[low].key, in->key.bytes) == 0; low++) {
        int part = in->numbered[low].part;
        if (maker != SW_NONE && in->maker_of[part] != maker)
            continue;
        if (found != SW_NONE)
            return SW_NONE;
        found = part;
    }
    return found;
}
