/* The program as linear rows. The formulation was chosen for tight relaxations:
 * logical rows hold only ones, sums are shifted and clamped, sound is a choice
 * of one level with a chain of thresholds. */
#include "program/stage.h"

#include <math.h>

typedef struct columns {
    int *charge;      /* [due] 1 when it is paid */
    int *waiver;      /* [due] 1 when it is waived, SW_NONE without waiver */
} columns;

static sw_status ok(bool good) { return good ? SW_OK : SW_NO_MEMORY; }

static sw_status add_picks(sw_matrix *m) {
    const sw_program *program = m->program;
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_group *group = &program->groups[g];
        const char *role = program->fitouts->catalog->roles[group->role].id;
        int row = sw_matrix_row(m, sw_arena_format(m->arena, "one_%s", role), 1, 1);
        if (row == SW_NONE)
            return SW_NO_MEMORY;
        for (int p = group->first; p < group->first + group->count; p++) {
            m->pick_column[p] = SW_NONE;
            if (program->picks[p].dropped)
                continue;
            const char *name = sw_arena_format(m->arena, "x_%s_%d", role, p - group->first);
            m->pick_column[p] = sw_matrix_column(m, name, 0, 1, true);
            if (m->pick_column[p] == SW_NONE || !sw_matrix_set(m, row, m->pick_column[p], 1))
                return SW_NO_MEMORY;
        }
    }
    return SW_OK;
}

static bool put_set(sw_matrix *m, int row, const sw_set *set) {
    for (size_t i = 0; i < set->count; i++)
        if (m->pick_column[set->picks[i]] != SW_NONE &&
            !sw_matrix_set(m, row, m->pick_column[set->picks[i]], 1))
            return false;
    return true;
}

static sw_status add_not_alls(sw_matrix *m) {
    const sw_program *program = m->program;
    for (size_t i = 0; i < program->not_all_count; i++) {
        const sw_not_all *of = &program->not_alls[i];
        const char *name = sw_arena_format(m->arena, "%s_%zu",
                                           program->book->rules[of->rule].id, i);
        int row = sw_matrix_row(m, name, -INFINITY, (double)of->count - 1);
        if (row == SW_NONE)
            return SW_NO_MEMORY;
        for (size_t s = 0; s < of->count; s++)
            if (!put_set(m, row, &of->sets[s]))
                return SW_NO_MEMORY;
    }
    return SW_OK;
}

static const sw_set *when_of(const sw_sum *sum, size_t group) {
    for (size_t i = 0; i < sum->when_count; i++)
        if (sum->when[i].group == (int)group)
            return &sum->when[i];
    return NULL;
}

static bool in_set(const sw_set *set, int pick) {
    size_t low = 0, high = set->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (set->picks[middle] < pick)
            low = middle + 1;
        else
            high = middle;
    }
    return low < set->count && set->picks[low] == pick;
}

/* The greatest amount of the group where the row counts; false without any. */
static bool greatest_of(const sw_matrix *m, const sw_sum *sum, size_t g, int64_t *greatest) {
    const sw_group *group = &m->program->groups[g];
    const sw_set *when = when_of(sum, g);
    bool any = false;
    for (int p = group->first; p < group->first + group->count; p++) {
        if (m->pick_column[p] == SW_NONE || (when != NULL && !in_set(when, p)))
            continue;
        if (!any || sum->amount[p] > *greatest)
            *greatest = sum->amount[p];
        any = true;
    }
    return any;
}

/* An amount never needs to be lower than what satisfies the row whatever
 * stands beside it; picks that switch the row off get just that. */
static sw_status add_sum(sw_matrix *m, const sw_sum *sum, size_t index) {
    const sw_program *program = m->program;
    int64_t *amount = SW_NEW(m->arena, int64_t, program->pick_count);
    int64_t *greatest = SW_NEW(m->arena, int64_t, program->group_count);
    bool *in = SW_NEW(m->arena, bool, program->group_count);
    if (amount == NULL || greatest == NULL || in == NULL)
        return SW_NO_MEMORY;
    int64_t most = 0;
    for (size_t g = 0; g < program->group_count; g++) {
        bool body = sum->in[g];
        in[g] = body || when_of(sum, g) != NULL;
        if (in[g] && !greatest_of(m, sum, g, &greatest[g]))
            return SW_OK;
        greatest[g] = body ? greatest[g] : 0;
        most += greatest[g];
    }
    if (most <= sum->limit)
        return SW_OK;
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_group *group = &program->groups[g];
        const sw_set *when = when_of(sum, g);
        int64_t enough = sum->limit - (most - greatest[g]);
        for (int p = group->first; in[g] && p < group->first + group->count; p++) {
            bool off = when != NULL && !in_set(when, p);
            int64_t own = sum->in[g] ? sum->amount[p] : 0;
            amount[p] = off || own < enough ? enough : own;
        }
    }
    const char *name =
        sw_arena_format(m->arena, "%s_sum_%zu", program->book->rules[sum->rule].id, index);
    return ok(sw_matrix_sum(m, name, amount, in, sum->limit) != SW_NONE);
}

static int most_things(const sw_matrix *m, const sw_thing_type *thing) {
    int sum = 0;
    for (size_t g = 0; g < m->program->group_count; g++) {
        const sw_group *group = &m->program->groups[g];
        int most = 0;
        for (int p = group->first; p < group->first + group->count; p++)
            if (m->pick_column[p] != SW_NONE && thing->count[p] > most)
                most = thing->count[p];
        sum += most;
    }
    return sum;
}

static bool put_counts(sw_matrix *m, int row, const int *count, double factor) {
    for (size_t p = 0; p < m->program->pick_count; p++)
        if (m->pick_column[p] != SW_NONE && count[p] != 0 &&
            !sw_matrix_set(m, row, m->pick_column[p], factor * count[p]))
            return false;
    return true;
}

static bool put_silence(sw_matrix *m, int row, const bool *silent, double value) {
    for (size_t p = 0; silent != NULL && p < m->program->pick_count; p++)
        if (m->pick_column[p] != SW_NONE && silent[p] &&
            !sw_matrix_set(m, row, m->pick_column[p], value))
            return false;
    return true;
}

/* One row per kind of thing: placed + missed >= wanted. */
static sw_status add_thing(sw_matrix *m, size_t t, int *placed, int missed_row) {
    const sw_placing *placing = &m->program->placing;
    const sw_thing_type *thing = &placing->things[t];
    int most = most_things(m, thing);
    int row = sw_matrix_row(m, sw_arena_format(m->arena, "place_%zu", t), 0, INFINITY);
    int missed = sw_matrix_column(m, sw_arena_format(m->arena, "missed_%zu", t), 0,
                                  (double)placing->unplaced, true);
    if (row == SW_NONE || missed == SW_NONE || !sw_matrix_set(m, row, missed, 1) ||
        !sw_matrix_set(m, missed_row, missed, 1) || !put_counts(m, row, thing->count, -1) ||
        !put_silence(m, row, placing->silent[thing->rule], most))
        return SW_NO_MEMORY;
    for (size_t s = 0; s < placing->site_count; s++) {
        placed[s] = SW_NONE;
        if (!placing->sites[s].usable[t])
            continue;
        placed[s] = sw_matrix_column(m, sw_arena_format(m->arena, "y_%zu_%zu", t, s), 0, most, true);
        if (placed[s] == SW_NONE || !sw_matrix_set(m, row, placed[s], 1))
            return SW_NO_MEMORY;
    }
    return SW_OK;
}

/* One row per kind of site: used + taken away <= positions. */
static sw_status add_site(sw_matrix *m, size_t s, const int *placed) {
    const sw_placing *placing = &m->program->placing;
    int row = sw_matrix_row(m, sw_arena_format(m->arena, "site_%zu", s), -INFINITY, 0);
    if (row == SW_NONE || !put_counts(m, row, placing->sites[s].count, -1))
        return SW_NO_MEMORY;
    for (size_t other = 0; other < placing->site_count; other++) {
        double uses = other == s ? 1 : 0;
        for (size_t k = 0; k < placing->sites[other].take_count; k++)
            if (placing->sites[other].takes[k].type == (int)s)
                uses += placing->sites[other].takes[k].count;
        for (size_t t = 0; t < placing->thing_count; t++) {
            int column = placed[t * placing->site_count + other];
            if (column != SW_NONE && !sw_matrix_set(m, row, column, uses))
                return SW_NO_MEMORY;
        }
    }
    return SW_OK;
}

static sw_status add_placing(sw_matrix *m) {
    const sw_placing *placing = &m->program->placing;
    if (placing->thing_count == 0)
        return SW_OK;
    int *placed = SW_NEW(m->arena, int, placing->thing_count * placing->site_count);
    int missed = sw_matrix_row(m, "missed", -INFINITY, (double)placing->unplaced);
    if (placed == NULL || missed == SW_NONE)
        return SW_NO_MEMORY;
    sw_status status = SW_OK;
    for (size_t t = 0; t < placing->thing_count && status == SW_OK; t++)
        status = add_thing(m, t, &placed[t * placing->site_count], missed);
    for (size_t s = 0; s < placing->site_count && status == SW_OK; s++)
        status = add_site(m, s, placed);
    return status;
}

/* Per group: the picks that make the charge due <= paid + waived. */
static sw_status add_due_rows(sw_matrix *m, size_t d, const columns *c) {
    const sw_program *program = m->program;
    const sw_due *due = &program->dues[d];
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_group *group = &program->groups[g];
        int row = SW_NONE;
        for (int p = group->first; p < group->first + group->count; p++) {
            if (!due->due[p] || m->pick_column[p] == SW_NONE)
                continue;
            if (row == SW_NONE) {
                row = sw_matrix_row(m, sw_arena_format(m->arena, "due_%zu_%zu", d, g), -INFINITY,
                                    0);
                if (row == SW_NONE || !sw_matrix_set(m, row, c->charge[d], -1) ||
                    (c->waiver[d] != SW_NONE && !sw_matrix_set(m, row, c->waiver[d], -1)))
                    return SW_NO_MEMORY;
            }
            if (!sw_matrix_set(m, row, m->pick_column[p], 1))
                return SW_NO_MEMORY;
        }
    }
    return SW_OK;
}

/* Waived only when the goods reach the sum: share of it by each pick. */
static sw_status add_waiver(sw_matrix *m, size_t d, const columns *c) {
    const sw_due *due = &m->program->dues[d];
    double sum = due->free_from > 0 ? (double)due->free_from : 1;
    int row = sw_matrix_row(m, sw_arena_format(m->arena, "waive_%zu", d), 0, INFINITY);
    if (row == SW_NONE || !sw_matrix_set(m, row, c->waiver[d], due->free_from > 0 ? -1 : 0))
        return SW_NO_MEMORY;
    for (size_t p = 0; p < m->program->pick_count; p++) {
        double goods = (double)due->goods[p] / sum;
        if (m->pick_column[p] != SW_NONE &&
            !sw_matrix_set(m, row, m->pick_column[p], goods > 1 ? 1 : goods))
            return SW_NO_MEMORY;
    }
    return SW_OK;
}

static sw_status add_dues(sw_matrix *m, columns *c) {
    const sw_program *program = m->program;
    c->charge = SW_NEW(m->arena, int, program->due_count);
    c->waiver = SW_NEW(m->arena, int, program->due_count);
    if (c->charge == NULL || c->waiver == NULL)
        return SW_NO_MEMORY;
    for (size_t d = 0; d < program->due_count; d++) {
        const sw_due *due = &program->dues[d];
        c->charge[d] = sw_matrix_column(m, sw_arena_format(m->arena, "charge_%zu", d),
                                        due->always ? 1 : 0, 1, true);
        c->waiver[d] = SW_NONE;
        if (due->goods != NULL)
            c->waiver[d] =
                sw_matrix_column(m, sw_arena_format(m->arena, "waived_%zu", d), 0, 1, true);
        if (c->charge[d] == SW_NONE || (due->goods != NULL && c->waiver[d] == SW_NONE))
            return SW_NO_MEMORY;
        sw_status status = add_due_rows(m, d, c);
        if (status == SW_OK && due->goods != NULL)
            status = add_waiver(m, d, c);
        if (status != SW_OK)
            return status;
    }
    return SW_OK;
}

/* A budget-like row: picks' amounts and the dues' amounts under a limit. */
static sw_status add_limit(sw_matrix *m, const char *name, const int64_t *amount,
                           const int64_t *due_amount, const columns *c, int64_t limit) {
    const sw_program *program = m->program;
    bool *in = SW_NEW(m->arena, bool, program->group_count);
    if (in == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++)
        in[g] = true;
    int row = sw_matrix_sum(m, name, amount, in, limit);
    if (row == SW_NONE)
        return SW_NO_MEMORY;
    for (size_t d = 0; d < program->due_count; d++)
        if (!sw_matrix_set(m, row, c->charge[d],
                           (double)due_amount[d] / (double)m->rows[row].scale))
            return SW_NO_MEMORY;
    return SW_OK;
}

static sw_status add_limits(sw_matrix *m, const columns *c) {
    const sw_program *program = m->program;
    int64_t *cost = SW_NEW(m->arena, int64_t, program->pick_count);
    int64_t *minutes = SW_NEW(m->arena, int64_t, program->pick_count);
    int64_t *due_cost = SW_NEW(m->arena, int64_t, program->due_count);
    int64_t *due_minutes = SW_NEW(m->arena, int64_t, program->due_count);
    if (cost == NULL || minutes == NULL || due_cost == NULL || due_minutes == NULL)
        return SW_NO_MEMORY;
    for (size_t p = 0; p < program->pick_count; p++) {
        cost[p] = program->picks[p].cost;
        minutes[p] = program->picks[p].minutes;
    }
    for (size_t d = 0; d < program->due_count; d++) {
        due_cost[d] = program->dues[d].amount;
        due_minutes[d] = program->dues[d].minutes;
    }
    m->budget_row = (int)m->row_count;
    sw_status status = add_limit(m, "budget", cost, due_cost, c, program->budget);
    if (status == SW_OK && program->minutes_limit >= 0)
        status = add_limit(m, "minutes", minutes, due_minutes, c, program->minutes_limit);
    return status;
}

/* ---- points ------------------------------------------------------------------- */

static void spread_of(const sw_matrix *m, const sw_group *group, const int64_t *terms,
                      int64_t *least, int64_t *most) {
    *least = INT64_MAX;
    *most = INT64_MIN;
    for (int p = group->first; p < group->first + group->count; p++) {
        if (m->pick_column[p] == SW_NONE)
            continue;
        int64_t term = terms[m->program->picks[p].fitout];
        *least = term < *least ? term : *least;
        *most = term > *most ? term : *most;
    }
    if (*least > *most)
        *least = *most = 0;
}

static void stage_ends(const sw_matrix *m, const sw_alternative *stage, int64_t *low,
                       int64_t *high) {
    *low = *high = stage->offset;
    for (size_t g = 0; g < m->program->group_count; g++) {
        int64_t least, most;
        spread_of(m, &m->program->groups[g], stage->terms, &least, &most);
        *low += least;
        *high += most;
    }
}

/* range x level <= offset + terms - low, every number within 0 .. range. */
static sw_status add_stage(sw_matrix *m, const sw_alternative *stage, const char *name,
                           int column, int64_t low, int64_t range) {
    const sw_program *program = m->program;
    int64_t stage_low, stage_high;
    stage_ends(m, stage, &stage_low, &stage_high);
    if (stage_low >= low + range)
        return SW_OK;
    int row = sw_matrix_row(m, name, -INFINITY, (double)(stage_low - low) / (double)range);
    if (row == SW_NONE || !sw_matrix_set(m, row, column, 1))
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_group *group = &program->groups[g];
        int64_t least, most;
        spread_of(m, group, stage->terms, &least, &most);
        for (int p = group->first; p < group->first + group->count; p++) {
            if (m->pick_column[p] == SW_NONE)
                continue;
            int64_t term = stage->terms[program->picks[p].fitout] - least;
            term = term > range ? range : term;
            if (!sw_matrix_set(m, row, m->pick_column[p], -(double)term / (double)range))
                return SW_NO_MEMORY;
        }
    }
    return SW_OK;
}

static sw_status add_least(sw_matrix *m, size_t index, int *column_of, int64_t *range_of) {
    const sw_least *least = &m->program->leasts[index];
    int64_t low = INT64_MAX, high = least->cap;
    for (size_t s = 0; s < least->count; s++) {
        int64_t stage_low, stage_high;
        stage_ends(m, &least->stages[s], &stage_low, &stage_high);
        low = stage_low < low ? stage_low : low;
        high = stage_high < high ? stage_high : high;
    }
    m->points.constant += (low < high ? low : high) - least->base;
    column_of[index] = SW_NONE;
    if (high <= low)
        return SW_OK;
    int64_t range = high - low;
    int column = sw_matrix_column(m, sw_arena_format(m->arena, "use_%zu", index), 0, 1, false);
    if (column == SW_NONE)
        return SW_NO_MEMORY;
    column_of[index] = column;
    range_of[index] = range;
    sw_status status = SW_OK;
    for (size_t s = 0; s < least->count && status == SW_OK; s++) {
        const char *name = sw_arena_format(m->arena, "use_%zu_stage_%zu", index, s);
        status = name == NULL ? SW_NO_MEMORY
                              : add_stage(m, &least->stages[s], name, column, low, range);
    }
    return status;
}

/* ---- sound ----------------------------------------------------------------------- */

typedef struct sound {
    int64_t least_sum, most_sum; /* of the groups' powers */
    int64_t *least;              /* [group] */
    int low, high;               /* levels that can occur */
    int *level_column;           /* [class * level_count + level] or SW_NONE */
    int *up_to;                  /* [level] 1 when the chosen level is at most this */
} sound;

static int level_for(const sw_estimates *estimates, int64_t power) {
    int level = 0;
    while (level < estimates->level_count - 1 && estimates->level_power[level] < power)
        level++;
    return level;
}

static sw_status measure_sound(sw_matrix *m, sound *s) {
    const sw_program *program = m->program;
    const sw_estimates *estimates = program->estimates;
    s->least = SW_NEW(m->arena, int64_t, program->group_count);
    if (s->least == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++) {
        int64_t most;
        spread_of(m, &program->groups[g], estimates->noise, &s->least[g], &most);
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
            if (s->level_column[cell] == SW_NONE ||
                !sw_matrix_set(m, chain, s->level_column[cell], -1) ||
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
    double scale = (double)estimates->level_power[(s->low + s->high) / 2];
    scale = scale > 1 ? scale : 1;
    int row = sw_matrix_row(m, "power", -INFINITY, -(double)s->least_sum / scale);
    if (row == SW_NONE)
        return SW_NO_MEMORY;
    for (size_t p = 0; p < program->pick_count; p++) {
        int64_t power = estimates->noise[program->picks[p].fitout] -
                        s->least[program->picks[p].group];
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

/* A pick too loud for a level, even beside the quietest of all others, keeps
 * the level above it: one row per group and level where that changes. */
static sw_status add_thresholds(sw_matrix *m, const sound *s, size_t g) {
    const sw_program *program = m->program;
    const sw_estimates *estimates = program->estimates;
    const sw_group *group = &program->groups[g];
    int64_t others = s->least_sum - s->least[g];
    for (int level = s->low; level < s->high; level++) {
        bool changes = false;
        for (int p = group->first; p < group->first + group->count && !changes; p++)
            changes = m->pick_column[p] != SW_NONE &&
                      level_for(estimates, estimates->noise[program->picks[p].fitout] + others) ==
                          level + 1;
        if (!changes)
            continue;
        int row = sw_matrix_row(m, sw_arena_format(m->arena, "loud_%zu_%d", g, level), -INFINITY,
                                1);
        if (row == SW_NONE || !sw_matrix_set(m, row, s->up_to[level], 1))
            return SW_NO_MEMORY;
        for (int p = group->first; p < group->first + group->count; p++)
            if (m->pick_column[p] != SW_NONE &&
                estimates->noise[program->picks[p].fitout] + others >
                    estimates->level_power[level] &&
                !sw_matrix_set(m, row, m->pick_column[p], 1))
                return SW_NO_MEMORY;
    }
    return SW_OK;
}

static sw_status add_sound(sw_matrix *m, sound *s) {
    sw_status status = measure_sound(m, s);
    if (status == SW_OK)
        status = add_levels(m, s);
    if (status == SW_OK)
        status = add_class_rows(m, s);
    if (status == SW_OK)
        status = add_power_row(m, s);
    for (size_t g = 0; g < m->program->group_count && status == SW_OK; g++)
        status = add_thresholds(m, s, g);
    return status;
}

/* ---- measures -------------------------------------------------------------------- */

#define SW_VALUE_SCALE_MOST INT64_C(300000)

static sw_status measure_value(sw_matrix *m) {
    m->value_scale = m->program->budget < SW_VALUE_SCALE_MOST ? m->program->budget + 1 : 0;
    for (size_t c = 0; c < m->column_count && m->value_scale > 0; c++) {
        int64_t points;
        if (!sw_multiply(&points, m->points.coefficient[c], -m->value_scale) ||
            !sw_add(&m->value.coefficient[c], points, m->cost.coefficient[c]))
            m->value_scale = 0;
    }
    int64_t constant;
    if (!sw_multiply(&constant, m->points.constant, -m->value_scale))
        m->value_scale = 0;
    m->value.constant = m->value_scale > 0 ? constant : 0;
    return SW_OK;
}

static sw_status measure_all(sw_matrix *m, const columns *c, const sound *s,
                             const int *use_column, const int64_t *use_range) {
    const sw_program *program = m->program;
    sw_measure *all[4] = {&m->points, &m->cost, &m->order, &m->value};
    for (int i = 0; i < 4; i++) {
        all[i]->coefficient = SW_NEW(m->arena, int64_t, m->column_count);
        if (all[i]->coefficient == NULL)
            return SW_NO_MEMORY;
    }
    for (size_t p = 0; p < program->pick_count; p++) {
        int column = m->pick_column[p];
        if (column == SW_NONE)
            continue;
        m->points.coefficient[column] = program->picks[p].points;
        m->cost.coefficient[column] = program->picks[p].cost;
        m->order.coefficient[column] = program->picks[p].swaps * program->swap_order +
                                       program->picks[p].tasks;
    }
    for (size_t d = 0; d < program->due_count; d++)
        m->cost.coefficient[c->charge[d]] = program->dues[d].amount;
    for (size_t u = 0; u < program->least_count && program->scored; u++)
        if (use_column[u] != SW_NONE)
            m->points.coefficient[use_column[u]] = use_range[u];
    m->points.constant -= program->points_base;
    if (!program->levelled || !program->scored)
        return measure_value(m);
    m->points.constant -= program->estimates->level_base;
    for (int class = 0; class < program->estimates->class_count; class ++)
        for (int level = s->low; level <= s->high; level++) {
            int cell = class * program->estimates->level_count + level;
            if (s->level_column[cell] != SW_NONE)
                m->points.coefficient[s->level_column[cell]] =
                    program->estimates->level_points[cell];
        }
    return measure_value(m);
}

static sw_status formulate(sw_matrix *m) {
    const sw_program *program = m->program;
    columns c;
    sound s = {0};
    int *use_column = SW_NEW(m->arena, int, program->least_count);
    int64_t *use_range = SW_NEW(m->arena, int64_t, program->least_count);
    m->pick_column = SW_NEW(m->arena, int, program->pick_count);
    if (m->pick_column == NULL || use_column == NULL || use_range == NULL)
        return SW_NO_MEMORY;
    sw_status status = add_picks(m);
    if (status == SW_OK)
        status = add_not_alls(m);
    for (size_t i = 0; i < program->sum_count && status == SW_OK; i++)
        status = add_sum(m, &program->sums[i], i);
    if (status == SW_OK)
        status = add_placing(m);
    if (status == SW_OK)
        status = add_dues(m, &c);
    if (status == SW_OK)
        status = add_limits(m, &c);
    for (size_t u = 0; u < program->least_count && program->scored && status == SW_OK; u++)
        status = add_least(m, u, use_column, use_range);
    if (status == SW_OK && program->levelled)
        status = add_sound(m, &s);
    return status == SW_OK ? measure_all(m, &c, &s, use_column, use_range) : status;
}

sw_status sw_matrix_make(sw_matrix **out, const sw_program *program) {
    sw_arena *arena = sw_arena_new();
    sw_matrix *matrix = arena == NULL ? NULL : SW_NEW(arena, sw_matrix, 1);
    if (matrix == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    matrix->arena = arena;
    matrix->program = program;
    sw_status status = formulate(matrix);
    if (status == SW_OK)
        *out = matrix;
    else
        sw_matrix_free(matrix);
    return status;
}
