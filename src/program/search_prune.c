/* What the rules and limits take away from a node: pairs that clash, rows over
 * many groups, money, bundles already listed, things without a site. */
#include "program/search.h"

#include <string.h>

static bool empty(const sw_model *m, const sw_node *node, int g) {
    for (int w = m->first_word[g]; w < m->first_word[g + 1]; w++)
        if (node->alive[w] != 0)
            return false;
    return true;
}

static void kill_item(sw_node *node, int item) {
    node->alive[item / 64] &= ~((sw_word)1 << item % 64);
}

/* ---- pairs --------------------------------------------------------------------------- */

/* An item that clashes with all that is left of another group. */
static bool without_partner(const sw_model *m, const sw_node *node, int item, int g) {
    const sw_word *clash = &m->clash[(size_t)item * (size_t)m->words];
    for (int w = m->first_word[g]; w < m->first_word[g + 1]; w++)
        if ((node->alive[w] & ~clash[w]) != 0)
            return false;
    return true;
}

static bool prune_pairs(const sw_model *m, sw_node *node, bool *changed) {
    for (int g = 0; g < m->groups; g++) {
        for (int h = 0; h < m->groups; h++) {
            if (!m->clashing[g * m->groups + h])
                continue;
            SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1])
                if (without_partner(m, node, item, h)) {
                    kill_item(node, item);
                    *changed = true;
                }
        }
        if (empty(m, node, g))
            return false;
    }
    return true;
}

/* ---- rows over many groups -------------------------------------------------------------- */

/* Surely hit: nothing alive outside. Surely missed: nothing alive inside. */
static void hit_by(const sw_model *m, const sw_node *node, const sw_bits *set, bool *all,
                   bool *none) {
    int first = m->first_word[set->group];
    *all = *none = true;
    for (int w = first; w < m->first_word[set->group + 1]; w++) {
        sw_word in = set->word[w - first];
        *all = *all && (node->alive[w] & ~in) == 0;
        *none = *none && (node->alive[w] & in) == 0;
    }
}

static bool prune_not_all(const sw_model *m, sw_node *node, const sw_model_not_all *row,
                          bool *changed) {
    const sw_bits *open = NULL;
    for (size_t s = 0; s < row->count; s++) {
        bool all, none;
        hit_by(m, node, &row->sets[s], &all, &none);
        if (none || (!all && open != NULL))
            return true;
        if (!all)
            open = &row->sets[s];
    }
    if (open == NULL)
        return false;
    int first = m->first_word[open->group];
    for (int w = first; w < m->first_word[open->group + 1]; w++) {
        *changed = *changed || (node->alive[w] & open->word[w - first]) != 0;
        node->alive[w] &= ~open->word[w - first];
    }
    return true;
}

static bool counts(const sw_model *m, const sw_node *node, const sw_model_sum *sum) {
    for (size_t w = 0; w < sum->when_count; w++) {
        bool all, none;
        hit_by(m, node, &sum->when[w], &all, &none);
        if (!all)
            return false;
    }
    return true;
}

/* Items whose amount, with the least of all others, is over the limit. */
static bool prune_amounts(const sw_model *m, sw_node *node, const int64_t *amount, const bool *in,
                          int64_t limit, bool *changed) {
    int64_t least[SW_GROUPS_MOST], sum = 0;
    for (int g = 0; g < m->groups; g++) {
        least[g] = 0;
        bool any = false;
        if (in != NULL && !in[g])
            continue;
        SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1]) {
            int64_t own = amount[m->pick_of[item]];
            if (!any || own < least[g])
                least[g] = own;
            any = true;
        }
        sum += least[g];
    }
    if (sum > limit)
        return false;
    for (int g = 0; g < m->groups; g++) {
        if (in != NULL && !in[g])
            continue;
        SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1])
            if (sum - least[g] + amount[m->pick_of[item]] > limit) {
                kill_item(node, item);
                *changed = true;
            }
    }
    return true;
}

/* The same of a feature that all groups add to (whole numbers below 2^53: exact). */
static bool prune_feature(const sw_model *m, sw_node *node, int feature, double limit,
                          bool *changed) {
    double least[SW_GROUPS_MOST], sum = 0;
    const double *value = &m->feature[feature];
    size_t stride = (size_t)m->features;
    for (int g = 0; g < m->groups; g++) {
        bool any = false;
        least[g] = 0;
        SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1]) {
            double own = value[(size_t)item * stride];
            if (!any || own < least[g])
                least[g] = own;
            any = true;
        }
        sum += least[g];
    }
    if (sum > limit)
        return false;
    for (int g = 0; g < m->groups; g++)
        SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1])
            if (sum - least[g] + value[(size_t)item * stride] > limit) {
                kill_item(node, item);
                *changed = true;
            }
    return true;
}

static bool prune_cost(const sw_model *m, sw_node *node, bool *changed) {
    return prune_feature(m, node, 0, (double)(m->limit - sw_certain_dues(m, node)), changed);
}

/* No louder than the levels still looked at. */
static bool prune_noise(const sw_model *m, sw_node *node, bool *changed) {
    const sw_estimates *e = m->program->estimates;
    if (m->first_row == m->noise || node->high >= e->level_count - 1)
        return true;
    return prune_feature(m, node, m->noise, (double)e->level_power[node->high], changed);
}

static bool prune_rows(const sw_model *m, sw_node *node, bool *changed) {
    for (size_t i = 0; i < m->not_all_count; i++)
        if (!prune_not_all(m, node, &m->not_alls[i], changed))
            return false;
    for (size_t i = 0; i < m->sum_count; i++)
        if (counts(m, node, &m->sums[i]) &&
            !prune_amounts(m, node, m->sums[i].amount, m->sums[i].in, m->sums[i].limit, changed))
            return false;
    return prune_noise(m, node, changed) && prune_cost(m, node, changed);
}

/* ---- bundles already listed ------------------------------------------------------------- */

static bool alike(const sw_model *m, int item, int listed) {
    const sw_pick *a = &m->program->picks[m->pick_of[item]], *b = &m->program->picks[listed];
    return m->request->apart > 0 ? a->parts_rank == b->parts_rank
                                 : a->bundle_rank == b->bundle_rank;
}

static bool prune_listed(const sw_model *m, sw_node *node, const int *listed, bool *changed) {
    int must = m->request->apart > 0 ? m->request->apart : 1, may = 0, have = 0;
    for (int g = 0; g < m->groups; g++) {
        bool any_alike = false, any_other = false;
        SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1]) {
            bool like = alike(m, item, listed[g]);
            any_alike = any_alike || like;
            any_other = any_other || !like;
        }
        may += any_other;
        have += any_other && !any_alike;
    }
    if (may < must)
        return false;
    for (int g = 0; g < m->groups && may == must && have < must; g++) {
        bool any_other = false;
        SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1])
            any_other = any_other || !alike(m, item, listed[g]);
        SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1])
            if (any_other && alike(m, item, listed[g])) {
                kill_item(node, item);
                *changed = true;
            }
    }
    return true;
}

/* ---- places -------------------------------------------------------------------------------- */

/* Once everything that holds things or sites is settled, they must find places. */
static bool prune_places(const sw_model *m, const sw_node *node, sw_scratch *x, sw_status *status) {
    const sw_program *program = m->program;
    if (!m->places)
        return true;
    for (int g = 0; g < m->groups; g++) {
        int count = 0;
        x->machine[g] = program->fitouts->present[g];
        SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1]) {
            int fitout = program->picks[m->pick_of[item]].fitout;
            /* The same holding from several sellers takes the same places. */
            if (count == 0 || fitout != x->machine[g])
                count++;
            x->machine[g] = fitout;
        }
        if (m->placed[g] && count > 1)
            return true;
    }
    int64_t unplaced = 0, asked = 0;
    *status = sw_unplaced(&unplaced, &asked, program->book, program->book->spare, x->machine);
    return *status == SW_OK && unplaced == 0;
}

bool sw_node_prune(const sw_model *m, sw_node *node, sw_scratch *x, sw_status *status) {
    for (bool changed = true; changed;) {
        changed = false;
        if (!prune_pairs(m, node, &changed) || !prune_rows(m, node, &changed))
            return false;
        for (size_t i = 0; i < m->request->listed_count; i++)
            if (!prune_listed(m, node, m->request->listed[i], &changed))
                return false;
    }
    return prune_places(m, node, x, status);
}
