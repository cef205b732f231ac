/*
 * What hangs together in a bundle, and what it is worth. A role that was changed
 * leans on another one when a rule forbids putting it back alone and not putting
 * back both; a group's worth is what the best bundle loses when its roles stay as they
 * are and the money may go elsewhere.
 */
#include "answer/stage.h"

typedef struct circle {
    sw_answer *answer;
    const sw_inquiry *inquiry;
    sw_program *program;
    const int *best; /* picks */
    int *machine;    /* [role] fit-outs of the best bundle */
    bool *touched;   /* [role] */
    int *group;      /* [role] the smallest role it hangs together with */
    bool *forbid;    /* [role * rules + rule] with that role put back too */
    int64_t *excess; /* likewise */
} circle;

static sw_status allocate(circle *c) {
    size_t roles = c->program->group_count, rules = c->program->book->count;
    sw_arena *arena = c->program->arena;
    c->machine = SW_NEW(arena, int, roles);
    c->touched = SW_NEW(arena, bool, roles);
    c->group = SW_NEW(arena, int, roles);
    c->forbid = SW_NEW(arena, bool, roles *rules);
    c->excess = SW_NEW(arena, int64_t, roles * rules);
    bool all = c->machine != NULL && c->touched != NULL && c->group != NULL && c->forbid != NULL &&
               c->excess != NULL;
    return all ? SW_OK : SW_NO_MEMORY;
}

static void join(circle *c, size_t a, size_t b) {
    int from = c->group[a], to = c->group[b];
    int low = from < to ? from : to, high = from < to ? to : from;
    for (size_t r = 0; r < c->program->group_count; r++)
        if (c->group[r] == high)
            c->group[r] = low;
}

/* The roles that let the rule hold again when they go back with `role`; of those that
 * differ by how much they ask of it, the one that asks most. */
static void join_by_rule(circle *c, size_t role, size_t rule) {
    size_t rules = c->program->book->count;
    int64_t least = INT64_MAX;
    for (int round = 0; round < 2; round++)
        for (size_t other = 0; other < c->program->group_count; other++) {
            size_t at = other * rules + rule;
            if (!c->touched[other] || other == role || c->forbid[at])
                continue;
            if (round == 0)
                least = c->excess[at] < least ? c->excess[at] : least;
            else if (c->excess[at] == least)
                join(c, role, other);
        }
}

/* Which other roles does `role` lean on? */
static sw_status lean(circle *c, size_t role) {
    const int *present = c->program->fitouts->present;
    const sw_rulebook *book = c->program->book;
    bool *alone = &c->forbid[role * book->count];
    int mine = c->machine[role];
    c->machine[role] = present[role];
    sw_status status = sw_machine_forbid(alone, &c->excess[role * book->count], book, c->machine);
    bool any = false;
    for (size_t i = 0; i < book->count; i++)
        any = any || alone[i];
    for (size_t other = 0; any && other < c->program->group_count && status == SW_OK; other++) {
        if (!c->touched[other] || other == role)
            continue;
        int its = c->machine[other];
        c->machine[other] = present[other];
        status = sw_machine_forbid(&c->forbid[other * book->count], &c->excess[other * book->count],
                                   book, c->machine);
        c->machine[other] = its;
    }
    for (size_t i = 0; i < book->count && status == SW_OK; i++)
        if (alone[i])
            join_by_rule(c, role, i);
    c->machine[role] = mine;
    return status;
}

static sw_status find(circle *c) {
    sw_status status = SW_OK;
    for (size_t r = 0; r < c->program->group_count; r++) {
        c->machine[r] = c->program->picks[c->best[r]].fitout;
        c->touched[r] = c->machine[r] != c->program->fitouts->present[r];
        c->group[r] = (int)r;
    }
    for (size_t r = 0; r < c->program->group_count && status == SW_OK; r++)
        if (c->touched[r])
            status = lean(c, r);
    return status;
}

/* What the bundle would cost with the group put back, whether or not that goes. */
static sw_status cost_of_group(const circle *c, int group, sw_answer_group *out) {
    const sw_program *program = c->program;
    const sw_fitouts *fitouts = program->fitouts;
    int64_t with = 0, without = 0;
    int *choices = SW_NEW(program->arena, int, program->group_count);
    if (choices == NULL)
        return SW_NO_MEMORY;
    for (size_t r = 0; r < program->group_count; r++)
        choices[r] = program->picks[c->best[r]].choice;
    sw_tally tally = {0};
    sw_bill(&tally, program, choices);
    with = sw_total(program, &tally);
    for (size_t r = 0; r < program->group_count; r++)
        if (c->touched[r] && c->group[r] == group)
            choices[r] = fitouts->fitouts[fitouts->present[r]].first_choice;
    sw_bill(&tally, program, choices);
    without = sw_total(program, &tally);
    out->cost = with > without ? with - without : 0;
    return SW_OK;
}

/* Bars what the group's roles may not hold when they stay as they are. */
static bool *barred_by(const circle *c, int group) {
    const sw_program *program = c->program;
    bool *barred = SW_NEW(program->arena, bool, program->pick_count);
    for (size_t p = 0; barred != NULL && p < program->pick_count; p++) {
        const sw_pick *pick = &program->picks[p];
        int role = program->groups[pick->group].role;
        if (!c->touched[role] || c->group[role] != group)
            continue;
        bool swapped = program->picks[c->best[role]].swaps > 0;
        barred[p] = swapped ? pick->swaps > 0 : pick->fitout != program->fitouts->present[role];
    }
    return barred;
}

static sw_status weigh(const circle *c, int group, sw_answer_group *out) {
    sw_answer_other without;
    const int *picks;
    sw_request request = sw_request_for(c->program, SW_AIM_BEST);
    request.barred = barred_by(c, group);
    if (request.barred == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_ask_other(&without, &picks, c->answer, c->inquiry, &request);
    out->settled = !without.open;
    out->needed = out->settled && without.bundle == NULL;
    out->without = without.bundle;
    if (without.bundle != NULL)
        out->worth = c->answer->bundles[0].points - without.bundle->points;
    return status;
}

static sw_status tell(circle *c, int group) {
    const sw_catalog *catalog = c->program->fitouts->catalog;
    sw_arena *arena = c->answer->arena;
    sw_answer_group *out = &c->answer->groups[c->answer->group_count++];
    out->roles = SW_NEW(arena, const char *, c->program->group_count);
    out->role_names = SW_NEW(arena, const char *, c->program->group_count);
    if (out->roles == NULL || out->role_names == NULL)
        return SW_NO_MEMORY;
    for (size_t r = 0; r < c->program->group_count; r++) {
        if (!c->touched[r] || c->group[r] != group)
            continue;
        const char *id = sw_arena_copy(arena, catalog->roles[r].id);
        const char *name = sw_arena_copy(arena, catalog->roles[r].name);
        if (id == NULL || name == NULL)
            return SW_NO_MEMORY;
        out->roles[out->role_count] = id;
        out->role_names[out->role_count++] = name;
        int base = c->program->picks[c->inquiry->baseline[r]].fitout;
        out->must = out->must || base != c->program->fitouts->present[r];
    }
    sw_status status = cost_of_group(c, group, out);
    return status == SW_OK ? weigh(c, group, out) : status;
}

sw_status sw_find_groups(sw_answer *answer, const sw_inquiry *inquiry, const int *best) {
    circle c = {.answer = answer, .inquiry = inquiry, .program = inquiry->program, .best = best};
    sw_status status = allocate(&c);
    answer->groups = SW_NEW(answer->arena, sw_answer_group, c.program->group_count);
    if (answer->groups == NULL)
        return SW_NO_MEMORY;
    if (status == SW_OK)
        status = find(&c);
    for (size_t r = 0; r < c.program->group_count && status == SW_OK; r++)
        if (c.touched[r] && c.group[r] == (int)r)
            status = tell(&c, (int)r);
    return status;
}

sw_status sw_hang_together(int *group, sw_program *program, const int *best) {
    circle c = {.program = program, .best = best};
    sw_status status = allocate(&c);
    if (status == SW_OK)
        status = find(&c);
    for (size_t r = 0; r < program->group_count && status == SW_OK; r++)
        group[r] = c.touched[r] ? c.group[r] : SW_NONE;
    return status;
}
