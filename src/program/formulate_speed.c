/* Speed as rows: a use is worth the least of its stages, so its level stays under
 * each of them. Every term is shifted and clamped to what the level can reach. And it
 * stays under what each role's pick allows by itself: the least over the stages of the
 * pick's term with the most that may stand beside it. Where a role mixes picks that are
 * good at different stages, the stages alone see the best of each. */
#include "program/stage.h"

#include <math.h>

static void stage_ends(const sw_matrix *m, const sw_alternative *stage, int64_t *low,
                       int64_t *high) {
    *low = *high = stage->offset;
    for (size_t g = 0; g < m->program->group_count; g++) {
        int64_t least, most;
        sw_spread(m, &m->program->groups[g], stage->terms, &least, &most);
        *low += least;
        *high += most;
    }
}

/* range x level <= offset + terms - low, every number within 0 .. range. */
static sw_status add_stage(sw_matrix *m, const sw_alternative *stage, const char *name, int column,
                           int64_t low, int64_t range) {
    const sw_program *program = m->program;
    int64_t stage_low, stage_high;
    stage_ends(m, stage, &stage_low, &stage_high);
    if (stage_low >= low + range)
        return SW_OK;
    int64_t enough = low + range - stage_low; /* to take the row to the end of the range */
    int row = sw_matrix_row(m, name, -INFINITY, (double)(stage_low - low) / (double)range);
    if (row == SW_NONE || !sw_matrix_set(m, row, column, 1))
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_group *group = &program->groups[g];
        int64_t least, most;
        sw_spread(m, group, stage->terms, &least, &most);
        for (int p = group->first; p < group->first + group->count; p++) {
            if (m->pick_column[p] == SW_NONE)
                continue;
            int64_t term = stage->terms[program->picks[p].fitout] - least;
            term = term > enough ? enough : term;
            if (!sw_matrix_set(m, row, m->pick_column[p], -(double)term / (double)range))
                return SW_NO_MEMORY;
        }
    }
    return SW_OK;
}

/* [pick] the most that the use can come to with it. */
static sw_status reach_of(int64_t **out, const sw_matrix *m, const sw_least *least) {
    const sw_program *program = m->program;
    int64_t *term = SW_NEW(m->arena, int64_t, program->pick_count);
    int64_t *total = SW_NEW(m->arena, int64_t, program->pick_count);
    int64_t *reach = SW_NEW(m->arena, int64_t, program->pick_count);
    if (term == NULL || total == NULL || reach == NULL)
        return SW_NO_MEMORY;
    for (size_t p = 0; p < program->pick_count; p++)
        reach[p] = least->cap;
    for (size_t s = 0; s < least->count; s++) {
        const sw_alternative *stage = &least->stages[s];
        for (size_t p = 0; p < program->pick_count; p++)
            term[p] = -stage->terms[program->picks[p].fitout];
        sw_status status = sw_least_with(total, &m->pairs, term);
        if (status != SW_OK)
            return status;
        for (size_t p = 0; p < program->pick_count; p++)
            if (m->pairs.in[p] && total[p] != SW_NOTHING_BESIDE &&
                stage->offset - total[p] < reach[p])
                reach[p] = stage->offset - total[p];
    }
    *out = reach;
    return SW_OK;
}

/* range x level <= what the pick of the group reaches. */
static sw_status add_reach(sw_matrix *m, const sw_group *group, const char *name, int column,
                           const int64_t *reach, int64_t low, int64_t range) {
    bool tells = false;
    for (int p = group->first; p < group->first + group->count; p++)
        tells = tells || (m->pairs.in[p] && reach[p] < low + range);
    if (!tells)
        return SW_OK;
    int row = sw_matrix_row(m, name, -INFINITY, 0);
    if (row == SW_NONE || !sw_matrix_set(m, row, column, 1))
        return SW_NO_MEMORY;
    for (int p = group->first; p < group->first + group->count; p++) {
        if (!m->pairs.in[p])
            continue;
        int64_t most = reach[p] - low;
        most = most > range ? range : most < 0 ? 0 : most;
        if (!sw_matrix_set(m, row, m->pick_column[p], -(double)most / (double)range))
            return SW_NO_MEMORY;
    }
    return SW_OK;
}

static sw_status add_reaches(sw_matrix *m, size_t index, int column, const int64_t *reach,
                             int64_t low, int64_t range) {
    sw_status status = SW_OK;
    for (size_t g = 0; g < m->program->group_count && status == SW_OK; g++) {
        const char *name = sw_arena_format(m->arena, "use_%zu_reach_%zu", index, g);
        status = name == NULL
                     ? SW_NO_MEMORY
                     : add_reach(m, &m->program->groups[g], name, column, reach, low, range);
    }
    return status;
}

static sw_status add_least(sw_matrix *m, size_t index) {
    const sw_least *least = &m->program->leasts[index];
    int64_t low = INT64_MAX, high = least->cap;
    for (size_t s = 0; s < least->count; s++) {
        int64_t stage_low, stage_high;
        stage_ends(m, &least->stages[s], &stage_low, &stage_high);
        low = stage_low < low ? stage_low : low;
        high = stage_high < high ? stage_high : high;
    }
    int64_t *reach = NULL;
    sw_status status = reach_of(&reach, m, least);
    if (status != SW_OK)
        return status;
    m->points.constant += (low < high ? low : high) - least->base;
    if (high <= low)
        return SW_OK;
    int64_t range = high - low;
    int column = sw_matrix_column(m, sw_arena_format(m->arena, "use_%zu", index), 0, 1, false);
    if (column == SW_NONE)
        return SW_NO_MEMORY;
    m->columns[column].points = range;
    for (size_t s = 0; s < least->count && status == SW_OK; s++) {
        const char *name = sw_arena_format(m->arena, "use_%zu_stage_%zu", index, s);
        status =
            name == NULL ? SW_NO_MEMORY : add_stage(m, &least->stages[s], name, column, low, range);
    }
    return status == SW_OK ? add_reaches(m, index, column, reach, low, range) : status;
}

sw_status sw_formulate_speed(sw_matrix *m) {
    sw_status status = SW_OK;
    for (size_t u = 0; u < m->program->least_count && status == SW_OK; u++)
        status = add_least(m, u);
    return status;
}
