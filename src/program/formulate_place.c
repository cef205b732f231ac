/* Things on sites as rows: for every kind of thing, placed + missed >= wanted; for
 * every kind of site, used + taken away <= positions. */
#include "program/stage.h"

#include <math.h>

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
static sw_status add_thing(sw_matrix *m, size_t t, int *placed, const int *missed_row) {
    const sw_placing *placing = &m->program->placing;
    const sw_thing_type *thing = &placing->things[t];
    int most = most_things(m, thing);
    int row = sw_matrix_row(m, sw_arena_format(m->arena, "place_%zu", t), 0, INFINITY);
    int missed = sw_matrix_column(m, sw_arena_format(m->arena, "missed_%zu", t), 0,
                                  m->program->book->spare[thing->rule], true);
    if (row == SW_NONE || missed == SW_NONE || !sw_matrix_set(m, row, missed, 1) ||
        !sw_matrix_set(m, missed_row[thing->rule], missed, 1) ||
        !put_counts(m, row, thing->count, -1) ||
        !put_silence(m, row, placing->silent[thing->rule], most))
        return SW_NO_MEMORY;
    for (size_t s = 0; s < placing->site_count; s++) {
        placed[s] = SW_NONE;
        if (!placing->sites[s].usable[t])
            continue;
        placed[s] =
            sw_matrix_column(m, sw_arena_format(m->arena, "y_%zu_%zu", t, s), 0, most, true);
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

sw_status sw_formulate_place(sw_matrix *m) {
    const sw_placing *placing = &m->program->placing;
    if (placing->thing_count == 0)
        return SW_OK;
    const sw_rulebook *book = m->program->book;
    int *placed = SW_NEW(m->arena, int, placing->thing_count * placing->site_count);
    int *missed = SW_NEW(m->arena, int, book->count);
    if (placed == NULL || missed == NULL)
        return SW_NO_MEMORY;
    /* Each rule may leave out as many as it does today. */
    for (size_t r = 0; r < book->count; r++) {
        if (book->rules[r].shape != SW_PLACE || !book->rules[r].hard)
            continue;
        missed[r] =
            sw_matrix_row(m, sw_arena_format(m->arena, "missed_%zu", r), -INFINITY, book->spare[r]);
        if (missed[r] == SW_NONE)
            return SW_NO_MEMORY;
    }
    sw_status status = SW_OK;
    for (size_t t = 0; t < placing->thing_count && status == SW_OK; t++)
        status = add_thing(m, t, &placed[t * placing->site_count], missed);
    for (size_t s = 0; s < placing->site_count && status == SW_OK; s++)
        status = add_site(m, s, placed);
    return status;
}
