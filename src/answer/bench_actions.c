/* The actions of a work order in words, each with its cause. */
#include "answer/bench.h"

#include <string.h>

/* ---- causes -------------------------------------------------------------------------------------
 */

static void cause(sw_told_action *out, sw_cause cause, const char *id, const char *name) {
    out->causes[out->cause_count++] = (sw_told_cause){cause, id, name};
}

static void cause_role(sw_bench_job *job, sw_told_action *out, sw_cause of, int role) {
    const sw_role *about = &job->setup->fitouts->catalog->roles[role];
    cause(out, of, sw_bench_copy(job, about->id), sw_bench_copy(job, about->name));
}

static bool hangs_on(const sw_item *item, size_t role) {
    return item->before[role] || item->after[role];
}

static bool lifts(const sw_step *step, int role) {
    for (size_t i = 0; i < step->lift_count; i++)
        if (step->lifts[i] == role)
            return true;
    return false;
}

/* Why a piece that stays has to come off. */
static void causes_of_lifting(sw_bench_job *job, sw_told_action *out, const sw_item *item) {
    const sw_work *work = &job->work;
    for (size_t r = 0; r < job->setup->fitouts->catalog->role_count; r++) {
        if (hangs_on(item, r) && (work->going[r] != SW_NONE || (!item->rides && work->lifted[r])))
            cause_role(job, out, SW_CAUSE_CARRIED, (int)r);
        if (work->worked_on[r] && (sw_covers(work, work->old_over, item->role, (int)r) ||
                                   sw_covers(work, work->new_over, item->role, (int)r)))
            cause_role(job, out, SW_CAUSE_COVERS, (int)r);
    }
    for (size_t s = 0; s < work->form->step_count; s++)
        if (work->steps[s] && lifts(&work->form->steps[s], item->role))
            cause(out, SW_CAUSE_STEP, sw_bench_copy(job, work->form->steps[s].id), NULL);
}

/* What a condition is about, as the catalog names it. */
static void cause_cond(sw_bench_job *job, sw_told_action *out, const sw_cond *cond) {
    const sw_catalog *catalog = job->setup->fitouts->catalog;
    const char *so = NULL;
    if (cond->op == SW_COND_CHANGES && !cond->negated) {
        cause_role(job, out, SW_CAUSE_CHANGES, cond->role);
        return;
    }
    if (cond->op == SW_COND_TASK && !cond->negated) {
        cause(out, SW_CAUSE_TASK, sw_bench_copy(job, catalog->tasks[cond->index].id),
              sw_bench_copy(job, catalog->tasks[cond->index].name));
        return;
    }
    if (cond->op == SW_COND_OBSERVED)
        so = sw_bench_copy(job, catalog->observations[cond->index].id);
    else if (cond->fact != SW_NONE && (cond->op <= SW_COND_ONE_OF))
        so = sw_arena_format(job->arena, "%s.%s", catalog->roles[cond->role].id,
                             catalog->facts[cond->fact].name);
    else
        so = sw_bench_copy(job, catalog->roles[cond->role].id);
    job->failed = job->failed || so == NULL;
    cause(out, SW_CAUSE_SO, so, NULL);
}

static void causes_of_step(sw_bench_job *job, sw_told_action *out, const sw_action *action) {
    const sw_fitouts *fitouts = job->setup->fitouts;
    const sw_step *step = action->step == SW_NONE ? NULL : &job->work.form->steps[action->step];
    if (action->task != SW_NONE)
        cause(out, SW_CAUSE_TASK, sw_bench_copy(job, fitouts->catalog->tasks[action->task].id),
              sw_bench_copy(job, fitouts->catalog->tasks[action->task].name));
    if (action->charge != SW_NONE)
        cause(out, SW_CAUSE_CHARGE,
              sw_bench_copy(job, fitouts->catalog->charges[action->charge].id),
              sw_bench_copy(job, fitouts->catalog->charges[action->charge].name));
    for (size_t i = 0; step != NULL && i < step->any_count; i++)
        if (sw_work_any(fitouts, job->machine, &step->any[i], 1))
            cause_cond(job, out, &step->any[i]);
    for (size_t i = 0; step != NULL && i < step->all_count; i++)
        cause_cond(job, out, &step->all[i]);
    for (size_t i = 0; step != NULL && i < step->was_count; i++)
        cause_cond(job, out, &step->was[i]);
    if (out->cause_count == 0)
        cause(out, SW_CAUSE_ALWAYS, NULL, NULL);
}

/* ---- words
 * --------------------------------------------------------------------------------------- */

static const char *sentence(sw_bench_job *job, const sw_measuring *of, const char *words) {
    const char *out = words[0] == '\0' ? "" : sw_finding_sentence(job->arena, of, words);
    job->failed = job->failed || out == NULL;
    return out;
}

static const char *words_of_item(sw_bench_job *job, const sw_action *action, const sw_item *item) {
    int mount = job->work.form->mount_of[item->role];
    if (mount == SW_NONE)
        return "";
    const sw_mount *of = &job->work.form->mounts[mount];
    if (sw_is_off(action->does))
        return sentence(job, &job->now, of->take);
    return sentence(job, &job->then, action->does == SW_LAY_OUT ? of->lay : of->fit);
}

/* The item that it leaves with in the end, which comes out by itself; SW_NONE: with none. */
static int leaves_with(const sw_work *work, int item) {
    int with = work->items[item].leaves_with;
    while (with != SW_NONE && !work->items[with].acts)
        with = work->items[with].leaves_with;
    return with;
}

static void tell_item(sw_bench_job *job, sw_told_action *out, const sw_action *action) {
    const sw_work *work = &job->work;
    const sw_item *item = &work->items[action->item];
    out->piece = sw_bench_piece(job, item->role, item->part, item->count);
    out->words = words_of_item(job, action, item);
    if (item->way == SW_STAYS)
        causes_of_lifting(job, out, item);
    else
        cause_role(job, out, SW_CAUSE_CHANGES, item->role);
    for (size_t i = 0; action->does == SW_TAKE_OUT && i < work->item_count; i++)
        if (leaves_with(work, (int)i) == action->item)
            out->with[out->with_count++] =
                sw_bench_piece(job, work->items[i].role, work->items[i].part, work->items[i].count);
}

static void tell_step(sw_bench_job *job, sw_told_action *out, const sw_action *action) {
    const sw_catalog *catalog = job->setup->fitouts->catalog;
    const sw_step *step = action->step == SW_NONE ? NULL : &job->work.form->steps[action->step];
    const sw_task *task = action->task == SW_NONE ? NULL : &catalog->tasks[action->task];
    const char *caution = step != NULL ? step->caution : "";
    if (step != NULL) {
        out->step = sw_bench_copy(job, step->id);
        out->words = sentence(job, &job->then, step->words);
    } else {
        out->words =
            sw_bench_copy(job, task != NULL ? task->name : catalog->charges[action->charge].name);
    }
    if (caution[0] == '\0' && task != NULL && task->caution != NULL)
        out->caution = sw_bench_copy(job, task->caution);
    else
        out->caution = sentence(job, &job->then, caution);
    causes_of_step(job, out, action);
}

static size_t causes_most(const sw_bench_job *job, const sw_action *action) {
    size_t roles = job->setup->fitouts->catalog->role_count;
    const sw_step *step = action->step == SW_NONE ? NULL : &job->work.form->steps[action->step];
    return step == NULL ? 2 * roles + job->work.form->step_count + 3
                        : step->any_count + step->all_count + step->was_count + 3;
}

sw_status sw_bench_tell_actions(sw_bench_job *job) {
    const sw_work *work = &job->work;
    job->bench->actions = SW_NEW(job->arena, sw_told_action, work->action_count);
    if (job->bench->actions == NULL)
        return SW_NO_MEMORY;
    for (size_t n = 0; n < work->action_count; n++) {
        const sw_action *action = &work->actions[n];
        sw_told_action *out = &job->bench->actions[job->bench->action_count++];
        *out = (sw_told_action){.stage = (size_t)action->stage,
                                .does = action->does,
                                .words = "",
                                .caution = "",
                                .minutes = action->minutes,
                                .alone_minutes = action->alone_minutes,
                                .billed = action->billed};
        out->causes = SW_NEW(job->arena, sw_told_cause, causes_most(job, action));
        out->with = SW_NEW(job->arena, sw_told_piece, work->item_count);
        if (out->causes == NULL || out->with == NULL)
            return SW_NO_MEMORY;
        if (action->item != SW_NONE)
            tell_item(job, out, action);
        else
            tell_step(job, out, action);
    }
    return SW_OK;
}
