/*
 * Bucket elimination over the pairs that clash: for the items of earlier groups, the
 * least that the later ones lose in every lane. Items that leave a bucket the same
 * choices are one class. Tables that would grow too large forget a group, which only makes
 * them less sharp.
 */
#include "program/sweep_pass.h"

#include <stdlib.h>
#include <string.h>

#define SW_ENTRIES_MOST 512

typedef struct bucket {
    sw_pass *p;
    int at; /* position */
    sw_completion *table;
    bool heard[SW_GROUPS_MOST]; /* position: its clashes with this one count */
    /* Tables that come in, reduced to what is still heard. */
    const sw_completion *in[SW_GROUPS_MOST];
    int in_count;
} bucket;

static int place_in(const sw_completion *t, int position) {
    for (int k = 0; k < t->scope_count; k++)
        if (t->scope[k] == position)
            return k;
    return SW_NONE;
}

/* The table with the position forgotten: the least over its classes. */
static sw_status forget(const sw_completion **out, sw_pass *p, const sw_completion *t,
                        int position) {
    int gone = place_in(t, position);
    sw_completion *less = SW_NEW(p->arena, sw_completion, 1);
    if (less == NULL)
        return SW_NO_MEMORY;
    less->entries = 1;
    int kept[SW_GROUPS_MOST] = {0};
    for (int k = 0; k < t->scope_count; k++) {
        if (k == gone)
            continue;
        int at = less->scope_count++;
        kept[at] = k;
        less->scope[at] = t->scope[k];
        less->class_of[at] = t->class_of[k];
        less->classes[at] = t->classes[k];
        less->stride[at] = less->entries;
        less->entries *= t->classes[k];
    }
    size_t lanes = (size_t)p->lanes;
    less->loss = SW_NEW(p->arena, int32_t, (size_t)less->entries * lanes);
    if (less->loss == NULL)
        return SW_NO_MEMORY;
    for (int e = 0; e < less->entries; e++) {
        int from = 0;
        for (int k = 0; k < less->scope_count; k++)
            from += e / less->stride[k] % less->classes[k] * t->stride[kept[k]];
        int32_t *to = &less->loss[(size_t)e * lanes];
        for (size_t j = 0; j < lanes; j++)
            to[j] = INT32_MAX;
        for (int c = 0; c < t->classes[gone]; c++) {
            const int32_t *of = &t->loss[(size_t)(from + c * t->stride[gone]) * lanes];
            for (size_t j = 0; j < lanes; j++)
                to[j] = of[j] < to[j] ? of[j] : to[j];
        }
    }
    *out = less;
    return SW_OK;
}

static bool alike(const bucket *b, int position, int x, int y) {
    const sw_pass *p = b->p;
    if (b->heard[position])
        for (int w = p->first_word[b->at]; w < p->first_word[b->at + 1]; w++)
            if (p->clash[(size_t)x * (size_t)p->words + (size_t)w] !=
                p->clash[(size_t)y * (size_t)p->words + (size_t)w])
                return false;
    for (int i = 0; i < b->in_count; i++) {
        int k = place_in(b->in[i], position);
        if (k != SW_NONE && b->in[i]->class_of[k][x] != b->in[i]->class_of[k][y])
            return false;
    }
    return true;
}

/* Numbers the classes of the items at a position; `like`: one item of each. */
static int classify(const bucket *b, int position, int *class_of, int *like) {
    int count = 0;
    SW_EACH_OF (b->p, item, position) {
        int c = 0;
        while (c < count && !alike(b, position, item, like[c]))
            c++;
        if (c == count)
            like[count++] = item;
        class_of[item] = c;
    }
    return count;
}

/* The scope as it is now: what clashes, and what the tables that come in look at. */
static sw_status set_scope(bucket *b, int **like) {
    sw_completion *t = b->table;
    t->scope_count = 0;
    for (int q = 0; q < b->at; q++) {
        bool in = b->heard[q];
        for (int i = 0; i < b->in_count; i++)
            in = in || place_in(b->in[i], q) != SW_NONE;
        if (!in)
            continue;
        int k = t->scope_count++;
        t->scope[k] = q;
        t->class_of[k] = SW_NEW(b->p->arena, int, (size_t)b->p->items + 1);
        if (t->class_of[k] == NULL)
            return SW_NO_MEMORY;
        t->classes[k] = classify(b, q, t->class_of[k], like[k]);
    }
    return SW_OK;
}

static bool too_large(const sw_completion *t) {
    double entries = 1;
    for (int k = 0; k < t->scope_count; k++)
        entries *= t->classes[k];
    return entries > SW_ENTRIES_MOST;
}

/* Forgets the position of most classes. */
static sw_status relax(bucket *b) {
    const sw_completion *t = b->table;
    int most = 0;
    for (int k = 1; k < t->scope_count; k++)
        if (t->classes[k] > t->classes[most])
            most = k;
    int position = t->scope[most];
    b->heard[position] = false;
    for (int i = 0; i < b->in_count; i++)
        if (place_in(b->in[i], position) != SW_NONE) {
            sw_status status = forget(&b->in[i], b->p, b->in[i], position);
            if (status != SW_OK)
                return status;
        }
    return SW_OK;
}

static void least_of(const bucket *b, const int *item_at, int32_t *to, sw_word *free_words) {
    const sw_pass *p = b->p;
    const sw_completion *t = b->table;
    size_t lanes = (size_t)p->lanes;
    int first = p->first_word[b->at], end = p->first_word[b->at + 1];
    for (size_t j = 0; j < lanes; j++)
        to[j] = SW_LOST;
    for (int w = first; w < end; w++)
        free_words[w] = p->all[w];
    for (int k = 0; k < t->scope_count; k++) {
        int q = t->scope[k];
        for (int w = first; b->heard[q] && w < end; w++)
            free_words[w] &= ~p->clash[(size_t)item_at[q] * (size_t)p->words + (size_t)w];
    }
    const int32_t *more[SW_GROUPS_MOST];
    SW_EACH_ITEM (item, free_words, first, end) {
        for (int i = 0; i < b->in_count; i++) {
            const sw_completion *in = b->in[i];
            int entry = 0;
            for (int k = 0; k < in->scope_count; k++)
                entry += in->stride[k] *
                         in->class_of[k][in->scope[k] == b->at ? item : item_at[in->scope[k]]];
            more[i] = &in->loss[(size_t)entry * lanes];
        }
        const int32_t *own = &p->loss[(size_t)item * lanes];
        for (size_t j = 0; j < lanes; j += SW_BLOCK) {
            int32_t sum[SW_BLOCK];
            for (int k = 0; k < SW_BLOCK; k++)
                sum[k] = own[j + (size_t)k];
            for (int i = 0; i < b->in_count; i++)
                for (int k = 0; k < SW_BLOCK; k++)
                    sum[k] += more[i][j + (size_t)k];
            for (int k = 0; k < SW_BLOCK; k++)
                to[j + (size_t)k] = sum[k] < to[j + (size_t)k] ? sum[k] : to[j + (size_t)k];
        }
    }
}

static sw_status fill(bucket *b, int **like) {
    sw_completion *t = b->table;
    t->entries = 1;
    for (int k = 0; k < t->scope_count; k++) {
        t->stride[k] = t->entries;
        t->entries *= t->classes[k];
    }
    t->loss = SW_NEW(b->p->arena, int32_t, (size_t)t->entries * (size_t)b->p->lanes);
    sw_word *free_words = SW_NEW(b->p->arena, sw_word, (size_t)b->p->words + 1);
    if (t->loss == NULL || free_words == NULL)
        return SW_NO_MEMORY;
    int item_at[SW_GROUPS_MOST] = {0};
    for (int e = 0; e < t->entries; e++) {
        for (int k = 0; k < t->scope_count; k++)
            item_at[t->scope[k]] = like[k][e / t->stride[k] % t->classes[k]];
        least_of(b, item_at, &t->loss[(size_t)e * (size_t)b->p->lanes], free_words);
    }
    return SW_OK;
}

static sw_status make_bucket(sw_pass *p, int at, int **like) {
    bucket b = {.p = p, .at = at, .table = &p->table[at]};
    const sw_model *m = p->s->m;
    for (int q = 0; q < at; q++) {
        if (!m->clashing[p->group_at[at] * m->groups + p->group_at[q]])
            continue;
        SW_EACH_OF (p, item, q)
            for (int w = p->first_word[at]; w < p->first_word[at + 1]; w++)
                b.heard[q] =
                    b.heard[q] || p->clash[(size_t)item * (size_t)p->words + (size_t)w] != 0;
    }
    for (int i = 0; i < p->bucket_count[at]; i++)
        b.in[b.in_count++] = &p->table[p->bucket[at][i]];
    sw_status status = set_scope(&b, like);
    while (status == SW_OK && too_large(b.table)) {
        status = relax(&b);
        if (status == SW_OK)
            status = set_scope(&b, like);
    }
    if (status == SW_OK)
        status = fill(&b, like);
    int last = b.table->scope_count - 1;
    if (status == SW_OK && last >= 0) {
        int home = b.table->scope[last];
        p->bucket[home][p->bucket_count[home]++] = at;
    }
    return status;
}

sw_status sw_pass_tables(sw_pass *p) {
    int **like = SW_NEW(p->arena, int *, (size_t)p->groups);
    if (like == NULL)
        return SW_NO_MEMORY;
    for (int k = 0; k < p->groups; k++) {
        like[k] = SW_NEW(p->arena, int, (size_t)p->items + 1);
        if (like[k] == NULL)
            return SW_NO_MEMORY;
    }
    for (int at = p->groups - 1; at >= 0; at--) {
        sw_status status = make_bucket(p, at, like);
        if (status != SW_OK)
            return status;
    }
    return SW_OK;
}
