/* Charges and deliveries in a node: which are certain, and what open ones cost at
 * the least. */
#include "program/search.h"

#include <string.h>

typedef struct due_state {
    bool sure, free; /* surely due; surely waived */
    int groups;      /* that could make it due */
    bool may_waive;
} due_state;

static due_state state_of_due(const sw_model *m, const sw_node *node, const sw_model_due *due) {
    due_state state = {.sure = due->always};
    int64_t least = 0, most = 0;
    for (size_t s = 0; s < due->set_count; s++) {
        int first = m->first_word[due->sets[s].group];
        int end = m->first_word[due->sets[s].group + 1];
        int64_t low = INT64_MAX, high = 0;
        bool all = true, any = false;
        for (int w = first; w < end; w++) {
            sw_word in = due->sets[s].word[w - first];
            all = all && (node->alive[w] & ~in) == 0;
            any = any || (node->alive[w] & in) != 0;
        }
        state.sure = state.sure || all;
        state.groups += any;
        if (due->goods == NULL || !any)
            continue;
        SW_EACH_ITEM (item, node->alive, first, end) {
            int64_t goods = due->goods[m->pick_of[item]];
            low = goods < low ? goods : low;
            high = goods > high ? goods : high;
        }
        least += low;
        most += high;
    }
    state.free = due->goods != NULL && least >= due->free_from && least > 0;
    state.may_waive = due->goods != NULL && most >= due->free_from;
    return state;
}

sw_due_terms sw_terms_of_due(const sw_model *m, const sw_node *node, size_t due) {
    const sw_model_due *d = &m->dues[due];
    due_state state = state_of_due(m, node, d);
    return (sw_due_terms){
        .none = state.free || (state.may_waive && d->free_from == 0),
        .sure = state.sure,
        .may_waive = state.may_waive,
        .part = state.groups > 0 ? (double)d->amount / state.groups : 0,
        .back = state.may_waive ? (double)d->amount / (double)d->free_from : 0,
    };
}

/* What of the dues is certain in the node, and what open ones cost each item that
 * would make them due: an equal part of the sum per group that could. A waiver that
 * may come gives back the share of its sum that the goods reach: never less than
 * the truth gives. */
double sw_share_dues(const sw_model *m, const sw_node *node, sw_scratch *x) {
    double certain = 0;
    memset(x->share, 0, (size_t)m->items * sizeof *x->share);
    for (size_t d = 0; d < m->due_count; d++) {
        const sw_model_due *due = &m->dues[d];
        sw_due_terms terms = sw_terms_of_due(m, node, d);
        if (terms.none)
            continue;
        certain += terms.sure ? (double)due->amount : 0;
        for (size_t s = 0; s < due->set_count; s++) {
            int first = m->first_word[due->sets[s].group];
            for (int w = first; w < m->first_word[due->sets[s].group + 1]; w++)
                for (sw_word in = due->sets[s].word[w - first] & node->alive[w]; in != 0;
                     in &= in - 1) {
                    int item = w * 64 + sw_low_bit(in);
                    if (!terms.sure)
                        x->share[item] += terms.part;
                    if (terms.may_waive)
                        x->share[item] -= terms.back * (double)due->goods[m->pick_of[item]];
                }
        }
    }
    return certain;
}

int64_t sw_certain_dues(const sw_model *m, const sw_node *node) {
    int64_t sum = 0;
    for (size_t d = 0; d < m->due_count; d++) {
        due_state state = state_of_due(m, node, &m->dues[d]);
        sum += state.sure && !state.may_waive ? m->dues[d].amount : 0;
    }
    return sum;
}
