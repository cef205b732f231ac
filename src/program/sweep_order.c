/*
 * In which order the groups are settled: the reverse of an elimination that each time
 * takes the group which knows fewest of the others (least fill), groups with stages of the uses
 * as late as can be. Groups without a choice come first: they close what they can; groups that
 * share nothing but the money come last.
 */
#include "program/sweep_pass.h"

#include <math.h>
#include <string.h>

typedef struct ties {
    int groups;
    double pair[SW_GROUPS_MOST][SW_GROUPS_MOST]; /* clash, or do by fill-in */
    int items[SW_GROUPS_MOST];
    bool left[SW_GROUPS_MOST];
} ties;

#define SW_PAIR_WEIGHT 4
/* Stages that are settled early close the uses, which tells labels apart by points alone. */
#define SW_STAGE_WEIGHT 20

static bool any_clash(const sw_model *m, const sw_word *alive, int g, int h) {
    if (!m->clashing[g * m->groups + h])
        return false;
    SW_EACH_ITEM (item, alive, m->first_word[g], m->first_word[g + 1]) {
        const sw_word *row = &m->clash[(size_t)item * (size_t)m->words];
        for (int w = m->first_word[h]; w < m->first_word[h + 1]; w++)
            if ((row[w] & alive[w]) != 0)
                return true;
    }
    return false;
}

/* Does the feature differ among the group's items? */
static bool moves(const sw_model *m, const sw_word *alive, int g, int feature) {
    double first = NAN;
    SW_EACH_ITEM (item, alive, m->first_word[g], m->first_word[g + 1]) {
        double x = m->feature[(size_t)item * (size_t)m->features + (size_t)feature];
        if (isnan(first))
            first = x;
        else if (x != first)
            return true;
    }
    return false;
}

static double score(const sw_model *m, const ties *t, const bool *moved, int g) {
    double sum = 0;
    for (int h = 0; h < t->groups; h++)
        if (t->left[h] && h != g && t->pair[g][h] != 0)
            sum += SW_PAIR_WEIGHT;
    for (int f = 2; f < m->features; f++) {
        bool shared = false;
        for (int h = 0; h < t->groups && moved[g * m->features + f]; h++)
            shared = shared || (t->left[h] && h != g && moved[h * m->features + f]);
        bool stage = f >= m->first_stage && f < m->first_stage + m->stages;
        sum += shared ? (stage ? SW_STAGE_WEIGHT : 1) : 0;
    }
    return sum;
}

static void eliminate(ties *t, int g) {
    t->left[g] = false;
    for (int a = 0; a < t->groups; a++)
        for (int b = 0; b < t->groups; b++)
            if (a != b && t->left[a] && t->left[b] && t->pair[g][a] != 0 && t->pair[g][b] != 0)
                t->pair[a][b] = 1;
}

void sw_pass_order(sw_pass *p, const sw_word *alive) {
    const sw_model *m = p->s->m;
    ties t = {.groups = m->groups};
    bool *moved = SW_NEW(p->arena, bool, (size_t)(m->groups * m->features) + 1);
    int first = 0, last = m->groups;
    for (int g = 0; g < m->groups; g++) {
        t.items[g] = sw_bits_count(alive, m->first_word[g], m->first_word[g + 1]);
        t.left[g] = t.items[g] > 1;
        if (!t.left[g])
            p->group_at[first++] = g;
        for (int h = 0; h < g; h++)
            t.pair[g][h] = t.pair[h][g] = any_clash(m, alive, g, h) ? 1 : 0;
        for (int f = 0; f < m->features && moved != NULL; f++)
            moved[g * m->features + f] = moves(m, alive, g, f);
    }
    while (last > first) {
        int best = SW_NONE;
        double least = 0;
        for (int g = 0; g < m->groups; g++) {
            if (!t.left[g])
                continue;
            double own = moved == NULL ? 0 : score(m, &t, moved, g);
            if (best == SW_NONE || own < least || (own == least && t.items[g] > t.items[best])) {
                best = g;
                least = own;
            }
        }
        if (best == SW_NONE) /* never: as many are left as there are places */
            break;
        p->group_at[--last] = best;
        eliminate(&t, best);
    }
}
