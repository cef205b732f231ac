/* Good bundles early: the better what is known, the less need be looked at. */
#include "program/doubt_search.h"

#include <string.h>

sw_judged sw_doubt_consider(sw_doubt *d, const int *picks) {
    const sw_program *program = d->program;
    sw_tally tally;
    sw_judged judged = {.broken = SW_NONE};
    if (d->status != SW_OK)
        return judged;
    d->status = sw_program_check(&tally, &judged.broken, program, picks);
    judged.cost = tally.cost;
    if (d->status != SW_OK || judged.broken != SW_NONE || tally.cost > d->limit)
        return judged;
    for (size_t g = 0; g < program->group_count; g++)
        program->scratch_machine[g] = program->picks[picks[g]].fitout;
    sw_points(program->estimates, program->scratch_machine, d->points);
    sw_values(&d->views, d->points, d->value);
    d->status = sw_archive_take(&judged.taken, &d->archive, d->value, &tally, picks);
    return judged;
}

static bool clashes(const sw_doubt *d, int g, int item) {
    const sw_model *m = d->views.view[0].m;
    const sw_word *clash = &m->clash[(size_t)item * (size_t)m->words];
    for (int h = 0; h < m->groups; h++)
        if (h != g && d->at[h] != SW_NONE && sw_is_alive(clash, d->at[h]))
            return true;
    return false;
}

static void place(sw_doubt *d) {
    const sw_model *m = d->views.view[0].m;
    for (int g = 0; g < m->groups; g++) {
        d->at[g] = SW_NONE;
        SW_EACH_ITEM (item, m->root, m->first_word[g], m->first_word[g + 1])
            if (m->pick_of[item] == d->picks[g])
                d->at[g] = item;
    }
}

static void try_neighbours(sw_doubt *d) {
    const sw_model *m = d->views.view[0].m;
    sw_sums_clear(&d->sums);
    for (int g = 0; g < m->groups; g++)
        sw_sums_add(&d->sums, d->picks[g], 1);
    for (int g = 0; g < m->groups; g++) {
        int own = d->picks[g];
        sw_sums_add(&d->sums, own, -1);
        SW_EACH_ITEM (item, m->root, m->first_word[g], m->first_word[g + 1]) {
            int pick = m->pick_of[item];
            if (pick == own)
                continue;
            sw_sums_add(&d->sums, pick, 1);
            if (d->sums.cost <= d->limit) {
                sw_sums_points(&d->sums, d->points);
                sw_values(&d->views, d->points, d->value);
                if (!sw_archive_covers(&d->archive, d->value, d->sums.cost) &&
                    !clashes(d, g, item)) {
                    d->picks[g] = pick;
                    sw_doubt_consider(d, d->picks);
                    d->picks[g] = own;
                }
            }
            sw_sums_add(&d->sums, pick, -1);
        }
        sw_sums_add(&d->sums, own, 1);
    }
}

void sw_doubt_climb(sw_doubt *d) {
    size_t groups = d->program->group_count;
    for (bool more = true; more && d->status == SW_OK;) {
        more = false;
        for (size_t i = 0; i < d->archive.count && !more; i++) {
            sw_member *member = &d->archive.members[i];
            if (member->climbed)
                continue;
            member->climbed = more = true;
            memcpy(d->picks, member->picks, groups * sizeof *d->picks);
        }
        if (!more || sw_doubt_time_is_up(d))
            return;
        place(d);
        try_neighbours(d);
    }
}
