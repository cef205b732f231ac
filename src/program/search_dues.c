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

/* What of the dues is certain in the node, and what open ones cost each item that
 * would make them due: an equal part of the sum per group that could. A waiver that
 * may come gives back the share of its sum that the goods reach: never less than
 * the truth gives. */
double sw_share_dues(const sw_model *m, const sw_node *node, sw_scratch *x) {
    double certain = 0;
    memset(x->share, 0, (size_t)m->items * sizeof *x->share);
    for (size_t d = 0; d < m->due_count; d++) {
        const sw_model_due *due = &m->dues[d];
        if (node->mode != NULL && node->mode[d] != SW_MODE_OPEN) {
            certain += node->mode[d] == SW_MODE_PAID ? (double)due->amount : 0;
            continue;
        }
        due_state state = state_of_due(m, node, due);
        if (state.free || (state.may_waive && due->free_from == 0))
            continue;
        double part = state.groups > 0 ? (double)due->amount / state.groups : 0;
        double back = state.may_waive ? (double)due->amount / (double)due->free_from : 0;
        certain += state.sure ? (double)due->amount : 0;
        for (size_t s = 0; s < due->set_count; s++) {
            int first = m->first_word[due->sets[s].group];
            for (int w = first; w < m->first_word[due->sets[s].group + 1]; w++)
                for (sw_word in = due->sets[s].word[w - first] & node->alive[w]; in != 0;
                     in &= in - 1) {
                    int item = w * 64 + sw_low_bit(in);
                    if (!state.sure)
                        x->share[item] += part;
                    if (state.may_waive)
                        x->share[item] -= back * (double)due->goods[m->pick_of[item]];
                }
        }
    }
    return certain;
}

int64_t sw_certain_dues(const sw_model *m, const sw_node *node) {
    int64_t sum = 0;
    for (size_t d = 0; d < m->due_count; d++) {
        if (node->mode != NULL && node->mode[d] != SW_MODE_OPEN) {
            sum += node->mode[d] == SW_MODE_PAID ? m->dues[d].amount : 0;
            continue;
        }
        due_state state = state_of_due(m, node, &m->dues[d]);
        sum += state.sure && !state.may_waive ? m->dues[d].amount : 0;
    }
    return sum;
}
