/*
 * Of two groups, the picks of one that may not stand beside picks of the other, as rows
 * of ones: of these and those at most one. With the rows of all such sets the
 * relaxation of two groups by themselves is exact, whatever parts them; only those that
 * a solution breaks are written.
 */
#include "program/cuts.h"

#include <math.h>

#define SW_SUPPORT_MOST 10 /* picks of one group whose subsets are tried */

typedef struct support {
    int picks[SW_SUPPORT_MOST];
    int count;
} support;

static support support_of(const sw_cuts *cuts, size_t g) {
    const sw_group *group = &cuts->matrix->program->groups[g];
    support out = {.count = 0};
    for (int p = group->first; p < group->first + group->count && out.count < SW_SUPPORT_MOST; p++)
        if (cuts->matrix->pairs.in[p] && sw_taken(cuts, p) > 0)
            out.picks[out.count++] = p;
    return out;
}

static bool apart_from_all(const sw_pairs *pairs, int pick, const int *others, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (!sw_apart(pairs, pick, others[i]))
            return false;
    return true;
}

/* All picks of the group that may stand beside none of the others. */
static sw_set refused_by(const sw_cuts *cuts, size_t g, const sw_set *others, int *room) {
    const sw_pairs *pairs = &cuts->matrix->pairs;
    const sw_group *group = &pairs->program->groups[g];
    size_t count = 0;
    for (int p = group->first; p < group->first + group->count; p++)
        if (pairs->in[p] && apart_from_all(pairs, p, others->picks, others->count))
            room[count++] = p;
    return (sw_set){(int)g, room, count};
}

/* How much the solution takes of a subset of one support, and of what the other holds
 * that all of it refuses. */
static double taken_together(const sw_cuts *cuts, const support *a, unsigned subset,
                             const support *b, int *some, size_t *count) {
    double sum = 0;
    *count = 0;
    for (int i = 0; i < a->count; i++)
        if (subset >> i & 1) {
            sum += sw_taken(cuts, a->picks[i]);
            some[(*count)++] = a->picks[i];
        }
    for (int i = 0; i < b->count; i++)
        if (apart_from_all(&cuts->matrix->pairs, b->picks[i], some, *count))
            sum += sw_taken(cuts, b->picks[i]);
    return sum;
}

static sw_status add_row(sw_cuts *cuts, const sw_set *left, const sw_set *right) {
    sw_matrix *m = cuts->matrix;
    const sw_role *roles = m->program->fitouts->catalog->roles;
    const char *name =
        sw_arena_format(m->arena, "apart_%s_%s_%d", roles[m->program->groups[left->group].role].id,
                        roles[m->program->groups[right->group].role].id, cuts->added++);
    int row = sw_matrix_row(m, name, -INFINITY, 1);
    if (row == SW_NONE)
        return SW_NO_MEMORY;
    const sw_set *sets[2] = {left, right};
    for (int s = 0; s < 2; s++)
        for (size_t i = 0; i < sets[s]->count; i++)
            if (!sw_matrix_set(m, row, m->pick_column[sets[s]->picks[i]], 1))
                return SW_NO_MEMORY;
    return SW_OK;
}

/* The row that is broken most, made as wide as it can be. `room`: two of [pick]. */
static sw_status cut_pair(sw_cuts *cuts, size_t g, size_t h, int *room[2]) {
    support a = support_of(cuts, g), b = support_of(cuts, h);
    int some[SW_SUPPORT_MOST];
    size_t count;
    double most = 1 + SW_CUT_BREACH;
    unsigned best = 0;
    for (unsigned subset = 1; subset < 1U << a.count; subset++) {
        double sum = taken_together(cuts, &a, subset, &b, some, &count);
        if (sum > most) {
            most = sum;
            best = subset;
        }
    }
    if (best == 0)
        return SW_OK;
    taken_together(cuts, &a, best, &b, some, &count);
    sw_set core = {(int)g, some, count};
    sw_set right = refused_by(cuts, h, &core, room[1]);
    sw_set left = refused_by(cuts, g, &right, room[0]);
    return add_row(cuts, &left, &right);
}

sw_status sw_cut_pairs(sw_cuts *cuts) {
    const sw_program *program = cuts->matrix->program;
    if (cuts->matrix->pairs.apart == NULL)
        return SW_OK;
    int *room[2] = {SW_NEW(cuts->arena, int, program->pick_count),
                    SW_NEW(cuts->arena, int, program->pick_count)};
    if (room[0] == NULL || room[1] == NULL)
        return SW_NO_MEMORY;
    sw_status status = SW_OK;
    for (size_t g = 0; g < program->group_count && status == SW_OK; g++)
        for (size_t h = g + 1; h < program->group_count && status == SW_OK; h++)
            status = cut_pair(cuts, g, h, room);
    return status;
}
