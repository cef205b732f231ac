/* Which present pieces stay and which tasks are done when some parts come in. */
#include "answer/fits.h"

#include <stdlib.h>
#include <string.h>

#define SW_TRIALS_MOST 1000
#define SW_PIECES_MOST 16 /* in one role: FORMATS.md section 2 */

/* The fit-outs without tasks that a role may have on trial, by key. */
typedef struct trial_role {
    int *fitouts;
    int *kept; /* pieces that stay */
    size_t count;
    bool *reach; /* [pieces kept by this role and those behind it] can be had */
} trial_role;

typedef struct trials {
    sw_setup *setup;
    trial_role *roles;
    size_t role_count, most; /* most: pieces that could stay, in all */
    int *machine;            /* under way */
    int *list;               /* trials, one fit-out per role each */
    bool early;              /* the time ran out on one of them */
    size_t count;
} trials;

static int pieces_added(const sw_fitout *fitout, int part) {
    for (int i = 0; i < fitout->added_count; i++)
        if (fitout->added[i].part == part)
            return fitout->added[i].count;
    return 0;
}

/* Does the fit-out add just what is asked of its role? */
static bool as_asked(const sw_fitouts *fitouts, const sw_fitout *fitout, const sw_asked *asked,
                     size_t asked_count) {
    int kinds = 0;
    for (size_t i = 0; i < asked_count; i++) {
        if (fitouts->scenario->parts[asked[i].part].role != fitout->role)
            continue;
        kinds++;
        if (pieces_added(fitout, asked[i].part) != asked[i].count)
            return false;
    }
    return kinds == fitout->added_count && (kinds > 0 || !fitout->changes);
}

static int pieces_kept(const sw_fitout *fitout) {
    int kept = fitout->pieces;
    for (int i = 0; i < fitout->added_count; i++)
        kept -= fitout->added[i].count;
    return kept;
}

static sw_status list_role(trials *t, size_t role, const sw_asked *asked, size_t asked_count) {
    const sw_fitouts *fitouts = t->setup->fitouts;
    trial_role *of = &t->roles[role];
    int first = fitouts->first_fitout[role], end = fitouts->first_fitout[role + 1];
    of->fitouts = SW_NEW(fitouts->arena, int, (size_t)(end - first));
    of->kept = SW_NEW(fitouts->arena, int, (size_t)(end - first));
    if (of->fitouts == NULL || of->kept == NULL)
        return SW_NO_MEMORY;
    int most = 0;
    for (int f = first; f < end; f++) {
        const sw_fitout *fitout = &fitouts->fitouts[f];
        if (fitout->task_count > 0 || !as_asked(fitouts, fitout, asked, asked_count))
            continue;
        of->kept[of->count] = pieces_kept(fitout);
        most = of->kept[of->count] > most ? of->kept[of->count] : most;
        of->fitouts[of->count++] = f;
    }
    t->most += (size_t)most;
    return SW_OK;
}

static sw_status find_reach(trials *t) {
    for (size_t r = t->role_count + 1; r-- > 0;) {
        trial_role *of = &t->roles[r];
        of->reach = SW_NEW(t->setup->fitouts->arena, bool, t->most + SW_PIECES_MOST + 1);
        if (of->reach == NULL)
            return SW_NO_MEMORY;
        if (r == t->role_count)
            of->reach[0] = true;
        for (size_t i = 0; r < t->role_count && i < of->count; i++)
            for (size_t rest = 0; rest <= t->most; rest++)
                if (t->roles[r + 1].reach[rest] && rest + (size_t)of->kept[i] <= t->most)
                    of->reach[rest + (size_t)of->kept[i]] = true;
    }
    return SW_OK;
}

/* Lists the trials that keep `kept` pieces in the roles from `role` on, by keys. The
 * depth is the number of roles. */
static void list_trials(trials *t, size_t role, size_t kept) {
    if (t->count == SW_TRIALS_MOST)
        return;
    if (role == t->role_count) {
        memcpy(&t->list[t->count++ * t->role_count], t->machine, t->role_count * sizeof(int));
        return;
    }
    const trial_role *of = &t->roles[role];
    for (size_t i = 0; i < of->count; i++) {
        if ((size_t)of->kept[i] > kept || !t->roles[role + 1].reach[kept - (size_t)of->kept[i]])
            continue;
        t->machine[role] = of->fitouts[i];
        list_trials(t, role + 1, kept - (size_t)of->kept[i]);
    }
}

static sw_status list_all(trials *t, const sw_asked *asked, size_t asked_count) {
    sw_arena *arena = t->setup->fitouts->arena;
    t->role_count = t->setup->fitouts->catalog->role_count;
    t->roles = SW_NEW(arena, trial_role, t->role_count + 1);
    t->machine = SW_NEW(arena, int, t->role_count);
    t->list = SW_NEW(arena, int, SW_TRIALS_MOST * t->role_count);
    if (t->roles == NULL || t->machine == NULL || t->list == NULL)
        return SW_NO_MEMORY;
    sw_status status = SW_OK;
    for (size_t r = 0; r < t->role_count && status == SW_OK; r++)
        status = list_role(t, r, asked, asked_count);
    if (status == SW_OK)
        status = find_reach(t);
    for (size_t kept = t->most + 1; kept-- > 0 && status == SW_OK;)
        if (t->roles[0].reach[kept])
            list_trials(t, 0, kept);
    return status;
}

static bool same_parts(const sw_fitout *a, const sw_fitout *b) {
    size_t length = strcspn(a->key, "\t");
    return length == strcspn(b->key, "\t") && strncmp(a->key, b->key, length) == 0;
}

/* The machine with the trial's parts that obeys with the fewest tasks. */
static sw_status obey(bool *found, int *machine, trials *t, const int *trial,
                      sw_allowance allowance, sw_complaints *complaints) {
    sw_program *program = t->setup->program;
    const sw_fitouts *fitouts = t->setup->fitouts;
    int broken;
    sw_status status = sw_machine_judge(&broken, t->setup->book, trial);
    *found = status == SW_OK && broken == SW_NONE;
    memcpy(machine, trial, t->role_count * sizeof *machine);
    if (status != SW_OK || *found)
        return status;
    bool *barred = calloc(program->pick_count + 1, sizeof *barred);
    if (barred == NULL)
        return SW_NO_MEMORY;
    for (size_t p = 0; p < program->pick_count; p++) {
        const sw_fitout *fitout = &fitouts->fitouts[program->picks[p].fitout];
        barred[p] = !same_parts(fitout, &fitouts->fitouts[trial[fitout->role]]);
    }
    sw_request request = sw_request_for(program, SW_AIM_CHEAPEST);
    request.limit = SW_NO_LIMIT;
    request.barred = barred;
    sw_solution solution;
    status = sw_solve(&solution, program, &request, allowance, complaints);
    free(barred);
    if (status != SW_OK || !solution.found) {
        t->early = t->early || (status == SW_OK && solution.end == SW_END_EARLY);
        return status;
    }
    *found = true;
    for (size_t g = 0; g < program->group_count; g++)
        machine[g] = program->picks[solution.picks[g]].fitout;
    return SW_OK;
}

static sw_status forbidding(size_t *count, const sw_rulebook *book, bool *forbid, int64_t *excess,
                            const int *machine) {
    sw_status status = sw_machine_forbid(forbid, excess, book, machine);
    *count = 0;
    for (size_t i = 0; i < book->count; i++)
        *count += forbid[i];
    return status;
}

/* None obeys: the trial that the fewest rules forbid. */
static sw_status least_forbidden(int *machine, trials *t) {
    const sw_rulebook *book = t->setup->book;
    bool *forbid = SW_NEW(t->setup->fitouts->arena, bool, book->count);
    int64_t *excess = SW_NEW(t->setup->fitouts->arena, int64_t, book->count);
    if (forbid == NULL || excess == NULL)
        return SW_NO_MEMORY;
    size_t least = SIZE_MAX;
    for (size_t i = 0; i < t->count; i++) {
        size_t count = 0;
        const int *trial = &t->list[i * t->role_count];
        sw_status status = forbidding(&count, book, forbid, excess, trial);
        if (status != SW_OK)
            return status;
        if (count < least)
            memcpy(machine, trial, t->role_count * sizeof *machine);
        least = count < least ? count : least;
    }
    return SW_OK;
}

sw_status sw_trial_machine(int *machine, bool *early, sw_setup *setup, const sw_asked *asked,
                           size_t asked_count, sw_allowance allowance, sw_complaints *complaints) {
    trials t = {.setup = setup};
    bool found = false;
    sw_status status = list_all(&t, asked, asked_count);
    if (status == SW_OK && t.count == 0) {
        sw_complain(complaints, SW_ASKED, "", "roles.json says how many pieces a role holds",
                    "name the part as often as pieces are to come",
                    "with so many pieces of these the role would hold too few or too many");
        return SW_BAD_DATA;
    }
    for (size_t i = 0; i < t.count && status == SW_OK && !found; i++)
        status = obey(&found, machine, &t, &t.list[i * t.role_count], allowance, complaints);
    *early = t.early;
    return status == SW_OK && !found ? least_forbidden(machine, &t) : status;
}
