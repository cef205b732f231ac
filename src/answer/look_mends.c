/* What a finding's mend brings and takes: the present machine with that one thing done. */
#include <string.h>

#include "answer/look.h"
#include "answer/stage.h"
#include "answer/stands.h"

typedef struct trial {
    const sw_look_job *job;
    int *choices, *machine;          /* [role] the present machine, and what is tried in it */
    int64_t idle_cost, idle_minutes; /* what the untouched machine is billed */
} trial;

static const sw_fitouts *fitouts_of(const trial *t) { return t->job->setup->fitouts; }

static sw_status start(trial *t, const sw_look_job *job) {
    const sw_fitouts *fitouts = job->setup->fitouts;
    size_t roles = fitouts->catalog->role_count;
    *t = (trial){.job = job,
                 .choices = SW_NEW(job->look->arena, int, roles),
                 .machine = SW_NEW(job->look->arena, int, roles)};
    if (t->choices == NULL || t->machine == NULL)
        return SW_NO_MEMORY;
    for (size_t r = 0; r < roles; r++) {
        t->machine[r] = fitouts->present[r];
        t->choices[r] = fitouts->fitouts[fitouts->present[r]].first_choice;
    }
    sw_tally tally;
    sw_bill(&tally, job->setup->program, t->choices);
    t->idle_cost = sw_total(job->setup->program, &tally);
    t->idle_minutes = tally.minutes;
    return SW_OK;
}

static void put(trial *t, int role, int choice) {
    t->choices[role] = choice;
    t->machine[role] = fitouts_of(t)->choices[choice].fitout;
}

static bool is_quiet_enough(const trial *t) {
    const sw_estimates *e = t->job->setup->estimates;
    if (e->quiet == SW_NONE)
        return true;
    sw_sound sound = sw_sound_of(e, t->machine);
    return e->level_allowed[sound.loss_class * e->level_count + sound.level];
}

/* Rules and limits; money when `paid`. */
static sw_status obeys(bool *out, const trial *t, const sw_tally *tally, bool paid) {
    const sw_setup *setup = t->job->setup;
    int broken = SW_NONE;
    *out = false;
    if (paid && tally->cost > sw_bill_limit(fitouts_of(t)->scenario,
                                            sw_scenario_budget(fitouts_of(t)->scenario)))
        return SW_OK;
    if (setup->program->minutes_limit >= 0 && tally->minutes > setup->program->minutes_limit)
        return SW_OK;
    if (!is_quiet_enough(t))
        return SW_OK;
    sw_status status = sw_machine_judge(&broken, setup->book, t->machine);
    *out = status == SW_OK && broken == SW_NONE;
    return status;
}

static void tell_numbers(sw_look_mend *out, const trial *t, const sw_tally *tally) {
    const sw_program *program = t->job->setup->program;
    out->offered = true;
    out->points = sw_points(t->job->setup->estimates, t->machine, NULL);
    out->cost = sw_total(program, tally) - t->idle_cost;
    out->minutes = tally->minutes - t->idle_minutes;
}

/* ---- a task --------------------------------------------------------------------------- */

/* The fit-out that keeps today's parts and does this task alone. */
static int fitout_with_task(const sw_fitouts *fitouts, int task) {
    int role = fitouts->catalog->tasks[task].role;
    for (int f = fitouts->first_fitout[role]; f < fitouts->first_fitout[role + 1]; f++) {
        const sw_fitout *fitout = &fitouts->fitouts[f];
        if (!fitout->changes && fitout->task_count == 1 && fitout->tasks[0] == task)
            return f;
    }
    return SW_NONE;
}

static sw_status try_task(sw_look_mend *out, trial *t, int task) {
    const sw_fitouts *fitouts = fitouts_of(t);
    int fitout = fitout_with_task(fitouts, task);
    bool good = false;
    if (fitout == SW_NONE || !t->job->setup->estimates->serves[fitout])
        return SW_OK;
    put(t, fitouts->fitouts[fitout].role, fitouts->fitouts[fitout].first_choice);
    sw_tally tally;
    sw_bill(&tally, t->job->setup->program, t->choices);
    sw_status status = obeys(&good, t, &tally, false);
    if (status == SW_OK && good)
        tell_numbers(out, t, &tally);
    return status;
}

/* ---- another part in the role ------------------------------------------------------------ */

typedef struct candidate {
    int choice;
    int64_t points, cost;
} candidate;

/* Which comes first in the order of FORMATS.md section 11: fit-outs stand by their keys, and
 * choices by their sellers, in byte order already. */
static bool before(const sw_fitouts *fitouts, const candidate *a, const candidate *b) {
    if (a->points != b->points)
        return a->points > b->points;
    if (a->cost != b->cost)
        return a->cost < b->cost;
    const sw_choice *x = &fitouts->choices[a->choice], *y = &fitouts->choices[b->choice];
    int tasks_a = fitouts->fitouts[x->fitout].task_count;
    int tasks_b = fitouts->fitouts[y->fitout].task_count;
    if (tasks_a != tasks_b)
        return tasks_a < tasks_b;
    if (x->fitout != y->fitout)
        return x->fitout < y->fitout;
    return strcmp(x->seller_key, y->seller_key) < 0;
}

static sw_status list_candidates(candidate *list, size_t *count, trial *t, int role) {
    const sw_fitouts *fitouts = fitouts_of(t);
    *count = 0;
    for (int f = fitouts->first_fitout[role]; f < fitouts->first_fitout[role + 1]; f++) {
        const sw_fitout *fitout = &fitouts->fitouts[f];
        if (!fitout->changes || fitout->task_count > 0 || !fitout->allowed ||
            !t->job->setup->estimates->serves[f])
            continue;
        for (int c = 0; c < fitout->choice_count; c++) {
            sw_tally tally;
            put(t, role, fitout->first_choice + c);
            sw_bill(&tally, t->job->setup->program, t->choices);
            list[(*count)++] =
                (candidate){fitout->first_choice + c,
                            sw_points(t->job->setup->estimates, t->machine, NULL), tally.cost};
        }
    }
    return SW_OK;
}

/* What was observed of a role's pieces is gone with them. */
static bool observed_is_gone(const trial *t, int role) {
    const sw_scenario *scenario = fitouts_of(t)->scenario;
    const sw_fitout *fitout = &fitouts_of(t)->fitouts[t->machine[role]];
    bool stays = false;
    for (size_t i = 0; i < scenario->machine_count[role]; i++)
        stays = stays || fitout->kept[i] > 0;
    for (size_t i = 0; i < scenario->must_count; i++)
        if (scenario->musts[i].part != SW_NONE &&
            scenario->parts[scenario->musts[i].part].role == role)
            return true; /* the fit-out is allowed, so that piece is out */
    return !stays;
}

/* Still made on the machine under trial? */
static sw_status still_made(bool *out, const trial *t, int role, const sw_finding_form *finding) {
    sw_measuring measuring;
    bool gone = observed_is_gone(t, role);
    sw_status status = sw_measure_machine(&measuring, t->job->look->arena, t->job->setup->estimates,
                                          t->job->setup->book, t->machine);
    sw_truth all = SW_TRUE;
    for (size_t i = 0; i < finding->when_count && status == SW_OK; i++) {
        const sw_finding_cond *cond = &finding->when[i];
        bool observed = !cond->on_measure && cond->cond.op == SW_COND_OBSERVED;
        all = sw_truth_and(all, observed && gone && !cond->cond.negated
                                    ? SW_FALSE
                                    : sw_finding_truth(&measuring, cond));
    }
    *out = all == SW_TRUE;
    return status;
}

static sw_status name_part(sw_look_new_part *out, const trial *t, const sw_line *line) {
    const sw_fitouts *fitouts = fitouts_of(t);
    sw_arena *arena = t->job->look->arena;
    const sw_source *source = &fitouts->sources[line->source];
    const sw_part *part = &fitouts->scenario->parts[source->part];
    bool given = source->seller == SW_CLIENT;
    const sw_seller *seller = given ? NULL : &fitouts->catalog->sellers[source->seller];
    *out = (sw_look_new_part){.part = sw_arena_copy(arena, part->id),
                              .name = sw_arena_copy(arena, part->name),
                              .count = line->count,
                              .seller = sw_arena_copy(arena, given ? "client" : seller->id),
                              .seller_name =
                                  sw_arena_copy(arena, given ? "the client" : seller->name)};
    return out->part != NULL && out->name != NULL && out->seller != NULL && out->seller_name != NULL
               ? SW_OK
               : SW_NO_MEMORY;
}

static sw_status name_parts(sw_look_mend *out, const trial *t, int choice) {
    const sw_choice *of = &fitouts_of(t)->choices[choice];
    const sw_fitout *fitout = &fitouts_of(t)->fitouts[of->fitout];
    sw_status status = SW_OK;
    int added = 0;
    out->parts = SW_NEW(t->job->look->arena, sw_look_new_part, SW_KINDS_MOST);
    if (out->parts == NULL)
        return SW_NO_MEMORY;
    for (int i = 0; i < fitout->added_count; i++)
        added += fitout->added[i].count;
    out->some_stay = fitout->pieces > added;
    for (int i = 0; i < of->line_count && status == SW_OK; i++)
        status = name_part(&out->parts[out->part_count++], t, &of->lines[i]);
    return status;
}

static sw_status try_candidate(bool *found, sw_look_mend *out, trial *t, int role, int choice,
                               const sw_finding_form *finding) {
    sw_tally tally;
    bool good = false, made = false;
    put(t, role, choice);
    sw_bill(&tally, t->job->setup->program, t->choices);
    sw_status status = obeys(&good, t, &tally, true);
    if (status == SW_OK && good)
        status = still_made(&made, t, role, finding);
    *found = status == SW_OK && good && !made;
    if (!*found)
        return status;
    tell_numbers(out, t, &tally);
    return name_parts(out, t, choice);
}

static sw_status try_parts(sw_look_mend *out, trial *t, int role, const sw_finding_form *finding) {
    const sw_fitouts *fitouts = fitouts_of(t);
    size_t most = 0, count = 0;
    for (int f = fitouts->first_fitout[role]; f < fitouts->first_fitout[role + 1]; f++)
        most += (size_t)fitouts->fitouts[f].choice_count;
    candidate *list = SW_NEW(t->job->look->arena, candidate, most + 1);
    if (list == NULL)
        return SW_NO_MEMORY;
    sw_status status = list_candidates(list, &count, t, role);
    bool found = false;
    while (count > 0 && status == SW_OK && !found) {
        size_t best = 0;
        for (size_t i = 1; i < count; i++)
            if (before(fitouts, &list[i], &list[best]))
                best = i;
        status = try_candidate(&found, out, t, role, list[best].choice, finding);
        list[best] = list[--count];
    }
    return status;
}

/* ---- the whole --------------------------------------------------------------------------- */

sw_status sw_find_mend(sw_look_mend *out, const sw_look_job *job, const sw_finding_form *finding,
                       const sw_mend_form *form) {
    const sw_catalog *catalog = job->setup->fitouts->catalog;
    sw_arena *arena = job->look->arena;
    trial t;
    *out = (sw_look_mend){.how = form->how};
    sw_status status = start(&t, job);
    if (status != SW_OK)
        return status;
    switch (form->how) {
    case SW_MEND_TASK:
        out->task = sw_arena_copy(arena, catalog->tasks[form->task].id);
        out->name = sw_arena_copy(arena, catalog->tasks[form->task].name);
        if (catalog->tasks[form->task].caution != NULL)
            out->caution = sw_arena_copy(arena, catalog->tasks[form->task].caution);
        return out->task == NULL || out->name == NULL ? SW_NO_MEMORY
                                                      : try_task(out, &t, form->task);
    case SW_MEND_REPLACE:
        out->role_name = sw_arena_copy(arena, catalog->roles[form->role].name);
        return out->role_name == NULL ? SW_NO_MEMORY : try_parts(out, &t, form->role, finding);
    default:
        out->text = sw_arena_copy(arena, form->text);
        out->offered = true;
        out->minutes = form->minutes;
        out->cost = sw_landed(job->setup->fitouts->scenario, form->price) +
                    sw_labour(job->setup->fitouts->scenario, form->minutes);
        return out->text == NULL ? SW_NO_MEMORY : SW_OK;
    }
}
