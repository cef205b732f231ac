/* Sound as rows: exactly one level and loss class is chosen; all powers together
 * stay under the level's; and every source by itself keeps the level above what
 * it alone rules out. A bare sum of powers has a very weak relaxation. */
#include "program/stage.h"

#include <math.h>

typedef struct sound {
    int64_t least_sum, most_sum; /* of the groups' powers */
    int64_t *least;              /* [group] */
    int low, high;               /* levels that can occur */
    int *level_column;           /* [class * level_count + level] or SW_NONE */
    int *up_to;                  /* [level] 1 when the chosen level is at most this */
    sw_load_row noise;           /* without a limit */
    int *first;                  /* [pick] the least level that it leaves */
} sound;

static int level_for(const sw_estimates *estimates, int64_t power) {
    int level = 0;
    while (level < estimates->level_count - 1 && estimates->level_power[level] < power)
        level++;
    return level;
}

static sw_status noise_load(sw_load_row *out, const sw_matrix *m) {
    const sw_program *program = m->program;
    int64_t *amount = SW_NEW(m->arena, int64_t, program->pick_count);
    bool *in = SW_NEW(m->arena, bool, program->group_count);
    if (amount == NULL || in == NULL)
        return SW_NO_MEMORY;
    for (size_t p = 0; p < program->pick_count; p++)
        amount[p] = program->picks[p].noise;
    for (size_t g = 0; g < program->group_count; g++)
        in[g] = true;
    *out = (sw_load_row){.name = "noise", .amount = amount, .in = in, .when_column = SW_NONE};
    return SW_OK;
}

static void spread_noise(const sw_matrix *m, const sw_group *group, int64_t *least, int64_t *most) {
    *least = INT64_MAX;
    *most = 0;
    for (int p = group->first; p < group->first + group->count; p++) {
        int64_t noise = m->program->picks[p].noise;
        if (m->pick_column[p] == SW_NONE)
            continue;
        *least = noise < *least ? noise : *least;
        *most = noise > *most ? noise : *most;
    }
    if (*least > *most)
        *least = *most = 0;
}

static sw_status measure_sound(sw_matrix *m, sound *s) {
    const sw_program *program = m->program;
    const sw_estimates *estimates = program->estimates;
    int64_t *total = SW_NEW(m->arena, int64_t, program->pick_count);
    s->least = SW_NEW(m->arena, int64_t, program->group_count);
    s->first = SW_NEW(m->arena, int, program->pick_count);
    if (total == NULL || s->least == NULL || s->first == NULL)
        return SW_NO_MEMORY;
    sw_status status = noise_load(&s->noise, m);
    if (status == SW_OK)
        status = sw_least_with(total, &m->pairs, s->noise.amount);
    if (status != SW_OK)
        return status;
    for (size_t p = 0; p < program->pick_count; p++)
        s->first[p] = m->pairs.in[p] ? level_for(estimates, total[p]) : 0;
    for (size_t g = 0; g < program->group_count; g++) {
        int64_t most;
        spread_noise(m, &program->groups[g], &s->least[g], &most);
        s->least_sum += s->least[g];
        s->most_sum += most;
    }
    s->low = level_for(estimates, s->least_sum);
    s->high = level_for(estimates, s->most_sum);
    return SW_OK;
}

static sw_status add_levels(sw_matrix *m, sound *s) {
    const sw_estimates *estimates = m->program->estimates;
    int count = estimates->level_count, classes = estimates->class_count;
    s->level_column = SW_NEW(m->arena, int, (size_t)(count * classes));
    s->up_to = SW_NEW(m->arena, int, (size_t)count);
    if (s->level_column == NULL || s->up_to == NULL)
        return SW_NO_MEMORY;
    int one = sw_matrix_row(m, "one_level", 1, 1);
    if (one == SW_NONE)
        return SW_NO_MEMORY;
    for (int level = s->low; level <= s->high; level++) {
        int chain = sw_matrix_row(m, sw_arena_format(m->arena, "level_chain_%d", level), 0, 0);
        s->up_to[level] =
            sw_matrix_column(m, sw_arena_format(m->arena, "up_to_%d", level), 0, 1, false);
        if (chain == SW_NONE || s->up_to[level] == SW_NONE ||
            !sw_matrix_set(m, chain, s->up_to[level], 1) ||
            (level > s->low && !sw_matrix_set(m, chain, s->up_to[level - 1], -1)))
            return SW_NO_MEMORY;
        for (int class = 0; class < classes; class ++) {
            int cell = class * count + level;
            s->level_column[cell] = SW_NONE;
            if (!estimates->level_allowed[cell])
                continue;
            const char *name = sw_arena_format(m->arena, "level_%d_%d", level, class);
            s->level_column[cell] = sw_matrix_column(m, name, 0, 1, true);
            if (s->level_column[cell] == SW_NONE)
                return SW_NO_MEMORY;
            if (m->program->scored)
                m->columns[s->level_column[cell]].points = estimates->level_points[cell];
            if (!sw_matrix_set(m, chain, s->level_column[cell], -1) ||
                !sw_matrix_set(m, one, s->level_column[cell], 1))
                return SW_NO_MEMORY;
        }
    }
    return SW_OK;
}

/* The chosen level's loss class is the one of the chosen case. */
static sw_status add_class_rows(sw_matrix *m, const sound *s) {
    const sw_program *program = m->program;
    const sw_estimates *estimates = program->estimates;
    const sw_group *group = &program->groups[estimates->loss_role];
    for (int class = 0; class < estimates->class_count; class ++) {
        int row = sw_matrix_row(m, sw_arena_format(m->arena, "loss_class_%d", class), 0, 0);
        if (row == SW_NONE)
            return SW_NO_MEMORY;
        for (int p = group->first; p < group->first + group->count; p++)
            if (m->pick_column[p] != SW_NONE &&
                estimates->loss_class[program->picks[p].fitout] == class &&
                !sw_matrix_set(m, row, m->pick_column[p], 1))
                return SW_NO_MEMORY;
        for (int level = s->low; level <= s->high; level++) {
            int column = s->level_column[class * estimates->level_count + level];
            if (column != SW_NONE && !sw_matrix_set(m, row, column, -1))
                return SW_NO_MEMORY;
        }
    }
    return SW_OK;
}

/* All powers together against the level's: scaled by a power in the middle. */
static sw_status add_power_row(sw_matrix *m, const sound *s) {
    const sw_program *program = m->program;
    const sw_estimates *estimates = program->estimates;
    int middle = (s->low + s->high) / 2;
    double scale = (double)estimates->level_power[middle];
    scale = scale > 1 ? scale : 1;
    int row = sw_matrix_row(m, "power", -INFINITY, -(double)s->least_sum / scale);
    if (row == SW_NONE)
        return SW_NO_MEMORY;
    for (size_t p = 0; p < program->pick_count; p++) {
        int64_t power = program->picks[p].noise - s->least[program->picks[p].group];
        if (m->pick_column[p] != SW_NONE &&
            !sw_matrix_set(m, row, m->pick_column[p], (double)power / scale))
            return SW_NO_MEMORY;
    }
    for (int level = s->low; level <= s->high; level++)
        for (int class = 0; class < estimates->class_count; class ++) {
            int column = s->level_column[class * estimates->level_count + level];
            int64_t power = estimates->level_power[level];
            power = power < s->most_sum ? power : s->most_sum;
            if (column != SW_NONE && !sw_matrix_set(m, row, column, -(double)power / scale))
                return SW_NO_MEMORY;
        }
    return SW_OK;
}

/* A pick too loud for a level, even beside the quietest of all others that may stand
 * there, keeps the level above it: one row per group and level where that changes. */
static sw_status add_thresholds(sw_matrix *m, const sound *s, size_t g) {
    const sw_program *program = m->program;
    const sw_group *group = &program->groups[g];
    for (int level = s->low; level < s->high; level++) {
        bool changes = false;
        for (int p = group->first; p < group->first + group->count && !changes; p++)
            changes = m->pairs.in[p] && s->first[p] == level + 1;
        if (!changes)
            continue;
        int row =
            sw_matrix_row(m, sw_arena_format(m->arena, "loud_%zu_%d", g, level), -INFINITY, 1);
        if (row == SW_NONE || !sw_matrix_set(m, row, s->up_to[level], 1))
            return SW_NO_MEMORY;
        for (int p = group->first; p < group->first + group->count; p++)
            if (m->pairs.in[p] && s->first[p] > level &&
                !sw_matrix_set(m, row, m->pick_column[p], 1))
                return SW_NO_MEMORY;
    }
    return SW_OK;
}

/* What each level stands for, for cuts to be made from. */
static sw_status add_loads(sw_matrix *m, const sound *s) {
    sw_load_row load = s->noise;
    for (int level = s->low; level < s->high; level++) {
        load.limit = m->program->estimates->level_power[level];
        load.when_column = s->up_to[level];
        if (!sw_matrix_load(m, &load))
            return SW_NO_MEMORY;
    }
    return SW_OK;
}

sw_status sw_formulate_sound(sw_matrix *m) {
    sound all = {0};
    sound *s = &all;
    sw_status status = measure_sound(m, s);
    if (status == SW_OK)
        status = add_levels(m, s);
    if (status == SW_OK)
        status = add_class_rows(m, s);
    if (status == SW_OK)
        status = add_power_row(m, s);
    for (size_t g = 0; g < m->program->group_count && status == SW_OK; g++)
        status = add_thresholds(m, s, g);
    return status == SW_OK ? add_loads(m, s) : status;
}
