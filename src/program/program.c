/* The program as a whole: groups and picks from the choices, rows from the
 * rules, points from the estimates. */
#include "program/stage.h"

#include <stdlib.h>
#include <string.h>

typedef struct ranked {
    const char *key;
    int pick;
} ranked;

static int by_key(const void *left, const void *right) {
    const ranked *a = left, *b = right;
    int order = strcmp(a->key, b->key);
    return order != 0 ? order : (a->pick > b->pick) - (a->pick < b->pick);
}

static sw_status rank_sellers(sw_program *program, const sw_group *group) {
    ranked *all = SW_NEW(program->arena, ranked, (size_t)group->count);
    if (all == NULL)
        return SW_NO_MEMORY;
    for (int i = 0; i < group->count; i++) {
        int pick = group->first + i;
        all[i] = (ranked){program->fitouts->choices[program->picks[pick].choice].seller_key, pick};
    }
    qsort(all, (size_t)group->count, sizeof *all, by_key);
    int rank = 0;
    for (int i = 0; i < group->count; i++) {
        if (i > 0 && strcmp(all[i - 1].key, all[i].key) != 0)
            rank++;
        program->picks[all[i].pick].seller_rank = rank;
    }
    return SW_OK;
}

/* Fit-outs with the same parts stand together in the order of the keys. */
static bool same_parts(const sw_fitout *a, const sw_fitout *b) {
    size_t length = strcspn(a->key, "\t");
    return length == strcspn(b->key, "\t") && strncmp(a->key, b->key, length) == 0;
}

typedef struct ranks {
    int parts, bundle;
    const sw_fitout *last;
} ranks;

static void add_pick(sw_program *program, int group, int choice, int runs, int64_t noise,
                     ranks *at) {
    const sw_fitouts *fitouts = program->fitouts;
    const sw_choice *of = &fitouts->choices[choice];
    const sw_fitout *fitout = &fitouts->fitouts[of->fitout];
    if (at->last != NULL && !same_parts(at->last, fitout))
        at->parts++;
    if (at->last != NULL && strcmp(at->last->key, fitout->key) != 0)
        at->bundle++;
    at->last = fitout;
    program->picks[program->pick_count++] = (sw_pick){
        .group = group,
        .choice = choice,
        .fitout = of->fitout,
        .cost = of->cost,
        .minutes = of->minutes,
        .swaps = fitout->changes ? 1 : 0,
        .tasks = fitout->task_count,
        .parts_rank = at->parts,
        .bundle_rank = at->bundle,
        .noise = noise,
        .runs = runs,
    };
}

/* A choice of a running role stands in the program once for every class of heat that its
 * driver may give: what it sounds like depends on nothing else then. `heats` is NULL where the role
 * runs by nothing. */
static void add_choice(sw_program *program, int group, int choice, const bool *heats, ranks *at) {
    const sw_fitouts *fitouts = program->fitouts;
    const sw_estimates *estimates = program->estimates;
    int fitout = fitouts->choices[choice].fitout;
    program->pick_of[choice] = (int)program->pick_count;
    program->swap_order += fitouts->fitouts[fitout].task_count;
    if (heats == NULL) {
        add_pick(program, group, choice, SW_NONE, estimates->noise[fitout], at);
        return;
    }
    const sw_running *running = &estimates->running[program->runs_by[group]];
    int first = fitouts->first_fitout[group], count = fitouts->first_fitout[group + 1] - first;
    for (int c = 0; c < running->class_count; c++)
        if (heats[c])
            add_pick(program, group, choice, c, running->noise[c * count + fitout - first], at);
}

/* The classes of heat that the fit-outs of the driver in the program give. */
static sw_status mark_heats(const sw_program *program, int group, bool **out) {
    const sw_fitouts *fitouts = program->fitouts;
    *out = NULL;
    if (program->runs_by[group] == SW_NONE)
        return SW_OK;
    const sw_running *running = &program->estimates->running[program->runs_by[group]];
    bool *heats = SW_NEW(program->arena, bool, (size_t)running->class_count);
    if (heats == NULL)
        return SW_NO_MEMORY;
    int first = fitouts->first_fitout[running->driver];
    for (int f = first; f < fitouts->first_fitout[running->driver + 1]; f++)
        if (fitouts->fitouts[f].allowed && program->estimates->serves[f])
            heats[running->class_of[f - first]] = true;
    *out = heats;
    return SW_OK;
}

/* Which groups run by another, and how many picks there can be. */
static sw_status find_running(sw_program *program, size_t *most) {
    const sw_fitouts *fitouts = program->fitouts;
    const sw_estimates *estimates = program->estimates;
    program->runs_by = SW_NEW(program->arena, int, program->group_count);
    if (program->runs_by == NULL)
        return SW_NO_MEMORY;
    *most = fitouts->choice_count;
    for (size_t g = 0; g < program->group_count; g++)
        program->runs_by[g] = SW_NONE;
    for (size_t i = 0; i < estimates->running_count && program->levelled; i++) {
        const sw_running *running = &estimates->running[i];
        int role = running->role;
        program->runs_by[role] = (int)i;
        for (int f = fitouts->first_fitout[role]; f < fitouts->first_fitout[role + 1]; f++)
            *most += (size_t)(fitouts->fitouts[f].choice_count * running->class_count);
    }
    return SW_OK;
}

static sw_status make_picks(sw_program *program) {
    const sw_fitouts *fitouts = program->fitouts;
    program->group_count = fitouts->catalog->role_count;
    program->groups = SW_NEW(program->arena, sw_group, program->group_count);
    size_t most = 0;
    sw_status status = find_running(program, &most);
    program->picks = status == SW_OK ? SW_NEW(program->arena, sw_pick, most) : NULL;
    program->pick_of = SW_NEW(program->arena, int, fitouts->choice_count);
    program->scratch_machine = SW_NEW(program->arena, int, program->group_count);
    program->scratch_choices = SW_NEW(program->arena, int, program->group_count);
    program->scratch_billed = SW_NEW(program->arena, int, program->group_count);
    if (program->groups == NULL || program->picks == NULL || program->pick_of == NULL ||
        program->scratch_machine == NULL || program->scratch_choices == NULL ||
        program->scratch_billed == NULL)
        return SW_NO_MEMORY;
    program->swap_order = 1;
    for (size_t c = 0; c < fitouts->choice_count; c++)
        program->pick_of[c] = SW_NONE;
    for (size_t g = 0; g < program->group_count; g++) {
        int first = (int)program->pick_count;
        ranks at = {0};
        bool *heats;
        if (mark_heats(program, (int)g, &heats) != SW_OK)
            return SW_NO_MEMORY;
        for (int f = fitouts->first_fitout[g]; f < fitouts->first_fitout[g + 1]; f++) {
            const sw_fitout *fitout = &fitouts->fitouts[f];
            if (!fitout->allowed || !program->estimates->serves[f])
                continue;
            for (int c = 0; c < fitout->choice_count; c++)
                add_choice(program, (int)g, fitout->first_choice + c, heats, &at);
        }
        program->groups[g] = (sw_group){(int)g, first, (int)program->pick_count - first};
        status = rank_sellers(program, &program->groups[g]);
        if (status != SW_OK)
            return status;
    }
    return SW_OK;
}

/* Picks of a running role beside picks of its driver that give other heat. */
static sw_status lower_running(sw_program *program) {
    const sw_fitouts *fitouts = program->fitouts;
    for (size_t g = 0; g < program->group_count; g++) {
        if (program->runs_by[g] == SW_NONE)
            continue;
        const sw_running *running = &program->estimates->running[program->runs_by[g]];
        int first = fitouts->first_fitout[running->driver];
        for (int c = 0; c < running->class_count; c++) {
            sw_set sets[2] = {{.group = (int)g}, {.group = running->driver}};
            for (int s = 0; s < 2; s++) {
                const sw_group *group = &program->groups[sets[s].group];
                int *picks = SW_NEW(program->arena, int, (size_t)group->count);
                if (picks == NULL)
                    return SW_NO_MEMORY;
                for (int p = group->first; p < group->first + group->count; p++) {
                    const sw_pick *pick = &program->picks[p];
                    if (s == 0 ? pick->runs == c : running->class_of[pick->fitout - first] != c)
                        picks[sets[s].count++] = p;
                }
                sets[s].picks = picks;
            }
            sw_status status = sw_not_all_add(program, SW_NONE, sets, 2);
            if (status != SW_OK)
                return status;
        }
    }
    return SW_OK;
}

static sw_status lower_rules(sw_program *program) {
    sw_status status = SW_OK;
    for (size_t r = 0; r < program->book->count && status == SW_OK; r++) {
        const sw_rule *rule = &program->book->rules[r];
        if (!rule->hard || rule->shape == SW_PLACE)
            continue;
        if (rule->shape == SW_CLASH)
            status = sw_lower_clash(program, (int)r);
        else if (rule->shape == SW_SUPPLY || (rule->shape == SW_WITHIN && rule->taken_count > 0))
            status = sw_lower_sum(program, (int)r);
        else
            status = sw_lower_pair(program, (int)r);
    }
    return status == SW_OK ? sw_lower_place(program) : status;
}

sw_status sw_program_make(sw_program **out, const sw_fitouts *fitouts, const sw_rulebook *book,
                          const sw_estimates *estimates, const sw_demands *demands) {
    sw_arena *arena = sw_arena_new();
    sw_program *program = arena == NULL ? NULL : SW_NEW(arena, sw_program, 1);
    if (program == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    program->arena = arena;
    program->fitouts = fitouts;
    program->book = book;
    program->estimates = estimates;
    program->demands = demands;
    program->levelled =
        estimates->quiet != SW_NONE &&
        (fitouts->scenario->weights[estimates->quiet] > 0 ||
         fitouts->scenario->loudness_limit_milli >= 0 || (demands != NULL && demands->has_sones));
    sw_status status = make_picks(program);
    if (status == SW_OK)
        status = lower_running(program);
    if (status == SW_OK)
        status = lower_rules(program);
    if (status == SW_OK && demands != NULL)
        status = sw_lower_demands(program);
    if (status == SW_OK)
        status = sw_lower_money(program);
    if (status == SW_OK)
        *out = program;
    else
        sw_program_free(program);
    return status;
}

sw_status sw_program_score(sw_program *program) {
    const sw_estimates *estimates = program->estimates;
    const sw_scenario *scenario = program->fitouts->scenario;
    size_t criteria = program->fitouts->catalog->criterion_count;
    program->points_base = 0;
    for (size_t p = 0; p < program->pick_count; p++)
        program->picks[p].points = 0;
    for (size_t c = 0; c < criteria; c++) {
        if (estimates->added[c] == NULL)
            continue;
        program->points_base += estimates->added_base[c];
        for (size_t p = 0; p < program->pick_count; p++)
            program->picks[p].points += estimates->added[c][program->picks[p].fitout];
    }
    program->leasts = SW_NEW(program->arena, sw_least, scenario->use_count);
    if (program->leasts == NULL)
        return SW_NO_MEMORY;
    program->least_count = 0;
    for (size_t u = 0; u < scenario->use_count; u++) {
        size_t first = estimates->first_alternative[u];
        size_t count = estimates->first_alternative[u + 1] - first;
        if (count == 0)
            continue;
        int64_t base = estimates->speed_base[u], cap = estimates->cap[u];
        program->leasts[program->least_count++] =
            (sw_least){(int)u, &estimates->alternatives[first], count,
                       cap == INT64_MAX ? INT64_MAX : base + cap, base};
    }
    program->scored = true;
    return SW_OK;
}

sw_status sw_program_hold(sw_program *program, const int *held) {
    program->held = held;
    for (size_t p = 0; p < program->pick_count; p++) {
        sw_pick *pick = &program->picks[p];
        const sw_choice *choice = &program->fitouts->choices[sw_billed_choice(program, (int)p)];
        const sw_fitout *fitout = &program->fitouts->fitouts[choice->fitout];
        pick->cost = choice->cost;
        pick->minutes = choice->minutes;
        pick->swaps = fitout->changes ? 1 : 0;
        pick->tasks = fitout->task_count;
    }
    return sw_lower_money(program);
}

void sw_program_free(sw_program *program) {
    if (program == NULL)
        return;
    free(program->not_alls);
    free(program->sums);
    free(program->placing.things);
    free(program->placing.sites);
    free(program->dues);
    free(program->known);
    sw_arena_free(program->due_arena);
    sw_arena_free(program->arena);
}
