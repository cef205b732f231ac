/*
 * Labels and their batches. A label is one block of memory: the head, then the items taken, the
 * points that are certain, the open stages, the loads, the losses by lane, and its interface (what
 * it leaves the groups behind it, which conditions still hold, what must be placed); a layout says
 * where.
 */
#ifndef SW_PROGRAM_SWEEP_LABEL_H
#define SW_PROGRAM_SWEEP_LABEL_H

#include "program/sweep_pass.h"

typedef struct sw_label {
    int64_t cost, tie, noise;
    int low, class; /* lowest level it can have; loss class, or SW_NONE */
    uint64_t due;   /* dues that are paid, or to be unless waived */
    uint64_t open;  /* stretches that it may still belong to */
} sw_label;

typedef struct sw_layout {
    size_t size, item, points, stage, amount, goods, loss, face;
    int first_word, alive_words, flag_words, count_words, face_words;
} sw_layout;

typedef struct sw_batch {
    char *bytes;
    size_t size; /* of a label */
    int count, room;
} sw_batch;

/* Answers about places remembered: they depend on what is to be placed and where, which labels
 * share. */
#define SW_PLACES_KEPT 4096

/* A pass at work. */
typedef struct sw_growth {
    sw_pass *p;
    size_t width;
    sw_layout layout[SW_GROUPS_MOST + 1];
    sw_batch batch[SW_GROUPS_MOST + 1];
    int position[SW_GROUPS_MOST]; /* [group] */
    int at;                       /* position that is being settled */
    int entry[SW_GROUPS_MOST];    /* of the tables of its bucket, its own item left out */
    int32_t *base;                /* [lane] losses without what its bucket promised */
    bool *sum_priced;
    sw_word *place_memory; /* per slot: 0 nothing, 1 no place, 2 all placed; then the counts */
    bool left_out;
    long long looked;
    unsigned long long age;
} sw_growth;

static inline sw_label *sw_label_at(const sw_batch *batch, int i) {
    return (sw_label *)(void *)(batch->bytes + (size_t)i * batch->size);
}
static inline int32_t *sw_label_items(sw_label *label, const sw_layout *l) {
    return (int32_t *)(void *)((char *)label + l->item);
}
static inline int64_t *sw_label_points(sw_label *label, const sw_layout *l) {
    return (int64_t *)(void *)((char *)label + l->points);
}
static inline int64_t *sw_label_stages(sw_label *label, const sw_layout *l) {
    return (int64_t *)(void *)((char *)label + l->stage);
}
static inline int64_t *sw_label_amounts(sw_label *label, const sw_layout *l) {
    return (int64_t *)(void *)((char *)label + l->amount);
}
static inline int64_t *sw_label_goods(sw_label *label, const sw_layout *l) {
    return (int64_t *)(void *)((char *)label + l->goods);
}
static inline int32_t *sw_label_losses(sw_label *label, const sw_layout *l) {
    return (int32_t *)(void *)((char *)label + l->loss);
}
static inline sw_word *sw_label_face(sw_label *label, const sw_layout *l) {
    return (sw_word *)(void *)((char *)label + l->face);
}

/* Notes a due of the label; what cannot be waived is paid at once. `amounts`: of its sums. */
void sw_label_comes_due(const sw_growth *growth, sw_label *label, int64_t *amounts, int due);
/* Closes the stretches that a lane rules out; false when none is left. */
bool sw_label_has_room(const sw_growth *growth, sw_label *label, const int32_t *loss);
/* Of the stretches `open`, those that some of the neighbours of number `item` (0: SW_FEW, 1:
 * SW_MANY of them) may belong to. */
uint64_t sw_label_open_to(const sw_growth *growth, const sw_label *parent, uint64_t open, int size,
                          int item);
/* Grows the label by the item; false when nothing with it has room or is allowed. */
bool sw_label_grow(sw_growth *growth, const sw_label *parent, sw_label *child, int item);
/* Once all that holds things or sites is settled: do they find places? */
bool sw_label_finds_places(sw_growth *growth, sw_label *label);

uint64_t sw_mix_words(const sw_word *words, int count);
/* Takes out of the batch at a position what others in it make needless; keeps the `width` most
 * promising where that is asked for. */
void sw_batch_settle(sw_growth *growth, int at);
/* Notes that a label was left out: the sweep is not complete there. */
void sw_label_left(sw_growth *growth, int at, sw_label *label);

#endif
