/*
 * Pairs that clash, inside the bound. Along a forest of ties between groups the
 * best choice is found exactly: from the leaves to the roots each group's items
 * learn the best that fits below them, then from the roots to the leaves the best
 * of the whole tree with them (max-sum on a tree; Dechter 1999, Bucket elimination).
 */
#include "program/search.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- the forest ------------------------------------------------------------------- */

static double density(const sw_model *m, int g, int h) {
    double pairs = 0, all = 0;
    SW_EACH_ITEM (item, m->root, m->first_word[g], m->first_word[g + 1]) {
        const sw_word *row = &m->clash[(size_t)item * (size_t)m->words];
        for (int w = m->first_word[h]; w < m->first_word[h + 1]; w++) {
            for (sw_word in = row[w] & m->root[w]; in != 0; in &= in - 1)
                pairs++;
            for (sw_word in = m->root[w]; in != 0; in &= in - 1)
                all++;
        }
    }
    return all > 0 ? pairs / all : 0;
}

static bool same_row(const sw_model *m, int a, int b, int g) {
    size_t first = (size_t)m->first_word[g], count = (size_t)m->first_word[g + 1] - first;
    const sw_word *x = &m->clash[(size_t)a * (size_t)m->words + first];
    const sw_word *y = &m->clash[(size_t)b * (size_t)m->words + first];
    return memcmp(x, y, count * sizeof *x) == 0;
}

/* Numbers the classes of `g` by what they clash with in `other`; one item of each
 * in `like`. */
static int classify(const sw_model *m, int g, int other, int *class_of, int *like) {
    int count = 0;
    SW_EACH_ITEM (item, m->root, m->first_word[g], m->first_word[g + 1]) {
        int c = 0;
        while (c < count && !same_row(m, item, like[c], other))
            c++;
        if (c == count)
            like[count++] = item;
        class_of[item] = c;
    }
    return count;
}

static sw_status tie(sw_model *m, int g, int parent) {
    sw_tie *t = &m->ties[g];
    size_t items = (size_t)m->items;
    int *like = SW_NEW(m->arena, int, items + 1), *over = SW_NEW(m->arena, int, items + 1);
    t->class_of = SW_NEW(m->arena, int, items + 1);
    t->parent_class_of = SW_NEW(m->arena, int, items + 1);
    if (like == NULL || over == NULL || t->class_of == NULL || t->parent_class_of == NULL)
        return SW_NO_MEMORY;
    t->parent = parent;
    t->classes = classify(m, g, parent, t->class_of, like);
    t->over = classify(m, parent, g, t->parent_class_of, over);
    t->agree = SW_NEW(m->arena, bool, (size_t)t->classes *(size_t)t->over + 1);
    if (t->agree == NULL)
        return SW_NO_MEMORY;
    for (int c = 0; c < t->classes; c++)
        for (int p = 0; p < t->over; p++)
            t->agree[c * t->over + p] =
                !sw_is_alive(&m->clash[(size_t)like[c] * (size_t)m->words], over[p]);
    return SW_OK;
}

/* The heaviest forest, as Prim grows it: each time the group that clashes most with
 * one that is in already; a new root when none clashes. */
sw_status sw_model_tie(sw_model *m) {
    size_t groups = (size_t)m->groups;
    double *weight = SW_NEW(m->arena, double, groups *groups);
    bool *in = SW_NEW(m->arena, bool, groups);
    m->ties = SW_NEW(m->arena, sw_tie, groups);
    m->tie_order = SW_NEW(m->arena, int, groups);
    if (weight == NULL || in == NULL || m->ties == NULL || m->tie_order == NULL)
        return SW_NO_MEMORY;
    for (int g = 0; g < m->groups; g++)
        for (int h = 0; h < g; h++)
            if (m->clashing[g * m->groups + h])
                weight[g * m->groups + h] = weight[h * m->groups + g] = density(m, g, h);
    for (int n = 0; n < m->groups; n++) {
        int next = SW_NONE, parent = SW_NONE;
        double most = 0;
        for (int g = 0; g < m->groups; g++)
            for (int h = 0; h < m->groups && !in[g]; h++)
                if (in[h] && weight[g * m->groups + h] > most) {
                    most = weight[g * m->groups + h];
                    next = g;
                    parent = h;
                }
        for (int g = 0; g < m->groups && next == SW_NONE; g++)
            if (!in[g])
                next = g;
        m->tie_order[n] = next;
        in[next] = true;
        m->ties[next].parent = SW_NONE;
        if (parent == SW_NONE)
            continue;
        sw_status status = tie(m, next, parent);
        if (status != SW_OK)
            return status;
    }
    return SW_OK;
}

bool sw_scratch_tie(sw_scratch *x, const sw_model *m) {
    size_t groups = (size_t)m->groups;
    x->own = SW_NEW(m->arena, double, (size_t)m->items + 1);
    x->class_best = SW_NEW(m->arena, double *, groups);
    x->class_item = SW_NEW(m->arena, int *, groups);
    x->message = SW_NEW(m->arena, double *, groups);
    x->class_above = SW_NEW(m->arena, double, (size_t)m->items + 1);
    bool all = x->own != NULL && x->class_best != NULL && x->class_item != NULL &&
               x->message != NULL && x->class_above != NULL;
    for (int g = 0; g < m->groups && all; g++) {
        const sw_tie *t = &m->ties[g];
        x->class_best[g] = SW_NEW(m->arena, double, (size_t)t->classes + 1);
        x->class_item[g] = SW_NEW(m->arena, int, (size_t)t->classes + 1);
        x->message[g] = SW_NEW(m->arena, double, (size_t)t->over + 1);
        all = x->class_best[g] != NULL && x->class_item[g] != NULL && x->message[g] != NULL;
    }
    return all;
}

/* ---- from the leaves to the roots ------------------------------------------------------ */

static void send_up(const sw_model *m, const sw_node *node, sw_scratch *x, int g) {
    const sw_tie *t = &m->ties[g];
    for (int c = 0; c < t->classes; c++)
        x->class_best[g][c] = -INFINITY;
    SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1]) {
        int c = t->class_of[item];
        if (x->own[item] > x->class_best[g][c]) {
            x->class_best[g][c] = x->own[item];
            x->class_item[g][c] = item;
        }
    }
    for (int p = 0; p < t->over; p++) {
        double best = -INFINITY;
        for (int c = 0; c < t->classes; c++)
            if (t->agree[c * t->over + p] && x->class_best[g][c] > best)
                best = x->class_best[g][c];
        x->message[g][p] = best;
    }
    SW_EACH_ITEM (item, node->alive, m->first_word[t->parent], m->first_word[t->parent + 1])
        x->own[item] += x->message[g][t->parent_class_of[item]];
}

/* ---- from the roots to the leaves ------------------------------------------------------ */

static void send_down(const sw_model *m, const sw_node *node, sw_scratch *x, int g) {
    const sw_tie *t = &m->ties[g];
    double *above = x->message[g]; /* what the parent's class comes to without this tree */
    double *outside = x->class_best[g];
    int parent_class = t->parent_class_of[x->at[t->parent]];
    double best = -INFINITY;
    for (int c = 0; c < t->classes; c++)
        if (t->agree[c * t->over + parent_class] && x->class_best[g][c] > best) {
            best = x->class_best[g][c];
            x->at[g] = x->class_item[g][c];
        }
    double *of_class = x->class_above;
    for (int p = 0; p < t->over; p++)
        of_class[p] = -INFINITY;
    SW_EACH_ITEM (item, node->alive, m->first_word[t->parent], m->first_word[t->parent + 1]) {
        int p = t->parent_class_of[item];
        if (isfinite(above[p]) && x->value[item] - above[p] > of_class[p])
            of_class[p] = x->value[item] - above[p];
    }
    for (int c = 0; c < t->classes; c++) {
        outside[c] = -INFINITY;
        for (int p = 0; p < t->over; p++)
            if (t->agree[c * t->over + p] && of_class[p] > outside[c])
                outside[c] = of_class[p];
    }
    SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1])
        x->value[item] = x->own[item] + outside[t->class_of[item]];
    x->best[g] = x->best[t->parent];
}

double sw_tree_weigh(const sw_model *m, const sw_node *node, sw_scratch *x) {
    double sum = 0;
    for (int g = 0; g < m->groups; g++)
        SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1])
            x->own[item] = x->value[item];
    for (int n = m->groups - 1; n >= 0; n--)
        if (m->ties[m->tie_order[n]].parent != SW_NONE)
            send_up(m, node, x, m->tie_order[n]);
    for (int n = 0; n < m->groups; n++) {
        int g = m->tie_order[n];
        if (m->ties[g].parent != SW_NONE) {
            send_down(m, node, x, g);
            continue;
        }
        x->best[g] = -INFINITY;
        SW_EACH_ITEM (item, node->alive, m->first_word[g], m->first_word[g + 1]) {
            x->value[item] = x->own[item];
            if (x->own[item] > x->best[g]) {
                x->best[g] = x->own[item];
                x->at[g] = item;
            }
        }
        sum += x->best[g];
        if (!isfinite(sum))
            return -INFINITY;
    }
    return sum;
}
