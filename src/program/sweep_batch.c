/* Which labels of a batch are needed: those that no other one replaces. */
#include "program/sweep_label.h"

#include <stdlib.h>
#include <string.h>

static int order(int64_t a, int64_t b) { return (a > b) - (a < b); }

/* Which of two labels stands first when all else is equal, whatever is added to both. */
static int compare_ties(const sw_growth *w, int at, sw_label *a, sw_label *b) {
    const sw_pass *p = w->p;
    const sw_program *program = p->s->program;
    const int32_t *x = sw_label_items(a, &w->layout[at]), *y = sw_label_items(b, &w->layout[at]);
    int by = order(a->tie, b->tie);
    for (int round = 0; round < 2 && by == 0; round++)
        for (int g = 0; g < p->groups && by == 0; g++) {
            int k = w->position[g];
            if (k >= at)
                continue;
            const sw_pick *i = &program->picks[p->s->m->pick_of[p->model_item[x[k]]]];
            const sw_pick *j = &program->picks[p->s->m->pick_of[p->model_item[y[k]]]];
            by = round == 0 ? order(i->bundle_rank, j->bundle_rank)
                            : order(i->seller_rank, j->seller_rank);
        }
    return by;
}

/* How much dearer dues may make `a` than `b`, whatever comes to both; -1: they may take time
 * that is limited. */
static int64_t risk_of(const sw_growth *w, int at, sw_label *a, sw_label *b) {
    const sw_pass *p = w->p;
    const sw_model *m = p->s->m;
    const sw_layout *l = &w->layout[at];
    const int64_t *x = sw_label_goods(a, l), *y = sw_label_goods(b, l);
    int64_t risk = 0;
    for (int d = 0; d < p->dues; d++) {
        if (!p->rest[at].due_open[d])
            continue;
        const sw_model_due *due = &m->dues[d];
        bool own = (a->due >> d & 1) != 0, other = (b->due >> d & 1) != 0;
        bool more = due->goods == NULL ? !own && other : own && !other;
        if (due->goods != NULL && x[d] < y[d] && x[d] < due->free_from)
            more = true;
        if (due->minutes > 0 && m->minutes_sum != SW_NONE && !own && other)
            return -1;
        risk += more ? due->amount : 0;
    }
    return risk;
}

/* Is `a`, which costs no more, at least as good in everything? The interfaces are the same. */
static bool replaces(const sw_growth *w, int at, sw_label *a, sw_label *b) {
    const sw_pass *p = w->p;
    const sw_layout *l = &w->layout[at];
    if (a->noise > b->noise || a->class != b->class)
        return false;
    const int64_t *x = sw_label_points(a, l), *y = sw_label_points(b, l);
    bool more = false;
    for (int k = 0; k < p->aims; k++) {
        if (x[k] < y[k])
            return false;
        more = more || x[k] > y[k];
    }
    x = sw_label_stages(a, l);
    y = sw_label_stages(b, l);
    for (int k = 0; k < p->stages; k++)
        if (x[k] < y[k])
            return false;
    x = sw_label_amounts(a, l);
    y = sw_label_amounts(b, l);
    for (int i = 0; i < p->sums; i++)
        if (x[i] > y[i])
            return false;
    int64_t risk = p->dues > 0 ? risk_of(w, at, a, b) : 0;
    if (risk < 0 || a->cost + risk > b->cost)
        return false;
    return a->cost + risk < b->cost || more || compare_ties(w, at, a, b) < 0;
}

/* ---- sorting ------------------------------------------------------------------------------- */

uint64_t sw_mix_words(const sw_word *word, int count) {
    uint64_t sum = UINT64_C(0x9E3779B97F4A7C15);
    for (int i = 0; i < count; i++) {
        sum = (sum ^ word[i]) * UINT64_C(0xFF51AFD7ED558CCD);
        sum ^= sum >> 32;
    }
    return sum;
}

typedef struct key {
    uint64_t face;
    int64_t cost, points;
    int32_t index;
} key;

static int by_face(const void *left, const void *right) {
    const key *a = left, *b = right;
    if (a->face != b->face)
        return a->face < b->face ? -1 : 1;
    int by = order(a->cost, b->cost);
    by = by != 0 ? by : order(b->points, a->points);
    return by != 0 ? by : order(a->index, b->index);
}

static bool same_face(const sw_growth *w, int at, sw_label *a, sw_label *b) {
    const sw_layout *l = &w->layout[at];
    return memcmp(sw_label_face(a, l), sw_label_face(b, l),
                  (size_t)l->face_words * sizeof(sw_word)) == 0;
}

/* Comparing more than so many is not worth its time. */
#define SW_COMPARED_MOST 150

/* Marks those that are kept, in the order of the keys; returns how many. */
static int keep_needed(sw_growth *w, int at, const key *keys, int count, int *kept) {
    const sw_batch *batch = &w->batch[at];
    int n = 0, first = 0;
    for (int i = 0; i < count; i++) {
        sw_label *label = sw_label_at(batch, keys[i].index);
        bool needed = true;
        /* Of the same interface: neighbours in the order of the keys. */
        if (i > 0 && (keys[i].face != keys[i - 1].face ||
                      !same_face(w, at, sw_label_at(batch, keys[i - 1].index), label)))
            first = n;
        for (int k = n - 1, compared = 0; k >= first && needed && compared < SW_COMPARED_MOST;
             k--, compared++) {
            sw_label *other = sw_label_at(batch, kept[k]);
            needed = !replaces(w, at, other, label);
        }
        if (needed)
            kept[n++] = keys[i].index;
    }
    return n;
}

/* ---- the most promising ---------------------------------------------------------------------- */

typedef struct promise {
    int64_t spare; /* what it may still lose */
    int32_t index;
} promise;

static int by_promise(const void *left, const void *right) {
    const promise *a = left, *b = right;
    if (a->spare != b->spare)
        return a->spare > b->spare ? -1 : 1;
    return order(a->index, b->index);
}

/* What the label may still lose in a stretch: its room in the narrowest lane. */
static int64_t spare_in(const sw_pass *p, const int32_t *loss, int stretch) {
    const int32_t *gap = &p->gap[(ptrdiff_t)stretch * p->lanes];
    int64_t least = INT64_MAX;
    for (int j = 0; j < p->live; j++) {
        int64_t spare = (int64_t)gap[j] - loss[j];
        least = spare < least ? spare : least;
    }
    return least;
}

/* Takes turns over the stretches: of each the labels with most room. */
static int keep_promising(sw_growth *w, int at, int *kept, int count, promise *list, bool *in) {
    const sw_pass *p = w->p;
    const sw_batch *batch = &w->batch[at];
    const sw_layout *l = &w->layout[at];
    size_t each = w->width / (size_t)(p->stretches < 1 ? 1 : p->stretches) + 1;
    memset(in, 0, (size_t)count);
    for (int stretch = 0; stretch < p->stretches; stretch++) {
        int n = 0;
        for (int i = 0; i < count; i++) {
            sw_label *label = sw_label_at(batch, kept[i]);
            if ((label->open >> stretch & 1) != 0)
                list[n++] = (promise){spare_in(p, sw_label_losses(label, l), stretch), i};
        }
        qsort(list, (size_t)n, sizeof *list, by_promise);
        for (int i = 0; i < n && (size_t)i < each; i++)
            in[list[i].index] = true;
    }
    int n = 0;
    for (int i = 0; i < count; i++) {
        if (in[i])
            kept[n++] = kept[i];
        else
            sw_label_left(w, at, sw_label_at(batch, kept[i]));
    }
    return n;
}

void sw_label_left(sw_growth *w, int at, sw_label *label) {
    const sw_pass *p = w->p;
    const int32_t *loss = sw_label_losses(label, &w->layout[at]);
    w->left_out = true;
    for (uint64_t rest = label->open; rest != 0; rest &= rest - 1) {
        int i = sw_low_bit(rest);
        double above = (double)spare_in(p, loss, i) / p->scale;
        double *left = &p->s->left[i];
        *left = above > *left ? above : *left;
    }
}

/* ---- settling -----------------------------------------------------------------------------------
 */

static int by_index(const void *left, const void *right) {
    return order(*(const int *)left, *(const int *)right);
}

static void move_together(sw_batch *batch, int *kept, int count) {
    qsort(kept, (size_t)count, sizeof *kept, by_index);
    for (int i = 0; i < count; i++)
        if (kept[i] != i)
            memcpy(sw_label_at(batch, i), sw_label_at(batch, kept[i]), batch->size);
    batch->count = count;
}

void sw_batch_settle(sw_growth *w, int at) {
    sw_batch *batch = &w->batch[at];
    const sw_layout *l = &w->layout[at];
    size_t count = (size_t)batch->count;
    key *keys = malloc((count + 1) * sizeof *keys);
    /* Cleared though all is written before it is read: gcc's analyzer does not see that. */
    int *kept = calloc(count + 1, sizeof *kept);
    promise *list = malloc((count + 1) * sizeof *list);
    bool *in = malloc(count + 1);
    if (keys == NULL || kept == NULL || list == NULL || in == NULL)
        w->p->s->status = SW_NO_MEMORY;
    else {
        for (int i = 0; i < batch->count; i++) {
            sw_label *label = sw_label_at(batch, i);
            int64_t points = 0;
            for (int a = 0; a < w->p->aims; a++)
                points += sw_label_points(label, l)[a];
            keys[i] =
                (key){sw_mix_words(sw_label_face(label, l), l->face_words), label->cost, points, i};
        }
        qsort(keys, count, sizeof *keys, by_face);
        int n = keep_needed(w, at, keys, batch->count, kept);
        if (w->width > 0 && (size_t)n > w->width)
            n = keep_promising(w, at, kept, n, list, in);
        move_together(batch, kept, n);
    }
    free(keys);
    free(kept);
    free(list);
    free(in);
}
