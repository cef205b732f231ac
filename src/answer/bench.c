/* The work order of an option: the frame, and the machine that is made. */
#include "answer/bench.h"

#include <string.h>

#include "answer/best.h"
#include "answer/stands.h"

const char *sw_bench_copy(sw_bench_job *job, const char *text) {
    const char *out = text == NULL ? NULL : sw_arena_copy(job->arena, text);
    job->failed = job->failed || (text != NULL && out == NULL);
    return out;
}

sw_told_piece sw_bench_piece(sw_bench_job *job, int role, int part, int count) {
    const sw_fitouts *fitouts = job->setup->fitouts;
    return (sw_told_piece){.role = sw_bench_copy(job, fitouts->catalog->roles[role].id),
                           .role_name = sw_bench_copy(job, fitouts->catalog->roles[role].name),
                           .part = sw_bench_copy(job, fitouts->scenario->parts[part].id),
                           .name = sw_bench_copy(job, fitouts->scenario->parts[part].name),
                           .count = count};
}

/* ---- the machine -------------------------------------------------------------------------------
 */

static sw_status tell_machine(sw_bench_job *job) {
    sw_bench *bench = job->bench;
    const sw_fitouts *fitouts = job->setup->fitouts;
    const sw_catalog *catalog = fitouts->catalog;
    size_t tasks = 0;
    for (size_t r = 0; r < catalog->role_count; r++)
        tasks += (size_t)fitouts->fitouts[job->machine[r]].task_count;
    bench->pieces = SW_NEW(job->arena, sw_told_piece, job->work.item_count);
    bench->added = SW_NEW(job->arena, bool, job->work.item_count);
    bench->task_roles = SW_NEW(job->arena, const char *, tasks);
    bench->task_ids = SW_NEW(job->arena, const char *, tasks);
    if (bench->pieces == NULL || bench->added == NULL || bench->task_roles == NULL ||
        bench->task_ids == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < job->work.item_count; i++) {
        const sw_item *item = &job->work.items[i];
        if (item->way == SW_GOES)
            continue;
        bench->added[bench->piece_count] = item->way == SW_COMES;
        bench->pieces[bench->piece_count++] =
            sw_bench_piece(job, item->role, item->part, item->count);
    }
    for (size_t r = 0; r < catalog->role_count; r++) {
        const sw_fitout *fitout = &fitouts->fitouts[job->machine[r]];
        for (int t = 0; t < fitout->task_count; t++) {
            bench->task_roles[bench->task_count] = sw_bench_copy(job, catalog->roles[r].id);
            bench->task_ids[bench->task_count++] =
                sw_bench_copy(job, catalog->tasks[fitout->tasks[t]].id);
        }
    }
    return SW_OK;
}

static sw_status tell_frame(sw_bench_job *job) {
    sw_bench *bench = job->bench;
    const sw_bench_form *form = job->setup->fitouts->catalog->bench;
    const sw_fitouts *fitouts = job->setup->fitouts;
    bench->stages = SW_NEW(job->arena, const char *, form->stage_count);
    bench->stage_names = SW_NEW(job->arena, const char *, form->stage_count);
    bench->asks = SW_NEW(job->arena, const char *, form->ask_count);
    if (bench->stages == NULL || bench->stage_names == NULL || bench->asks == NULL)
        return SW_NO_MEMORY;
    bench->stage_count = form->stage_count;
    for (size_t i = 0; i < form->stage_count; i++) {
        bench->stages[i] = sw_bench_copy(job, form->stages[i].id);
        bench->stage_names[i] = sw_bench_copy(job, form->stages[i].name);
    }
    for (size_t i = 0; i < job->work.item_count; i++)
        if (job->work.items[i].way == SW_GOES && form->files[job->work.items[i].role])
            bench->wiping = sw_bench_copy(job, form->wiping);
    bench->call_after_days = form->call_after_days;
    for (size_t i = 0; i < form->ask_count; i++)
        if (sw_work_any(fitouts, job->machine, form->asks[i].any, form->asks[i].any_count))
            bench->asks[bench->ask_count++] = sw_bench_copy(job, form->asks[i].words);
    bench->billed = job->work.billed;
    bench->beside = job->work.beside;
    bench->alone = job->work.alone;
    return SW_OK;
}

/* ---- the whole
 * ----------------------------------------------------------------------------------- */

/* The machine as it is handed over, and the same without what is luck. */
static sw_status find_machines(sw_bench_job *job, const sw_option *option, const bool *left_out) {
    const sw_fitouts *fitouts = job->setup->fitouts;
    size_t roles = fitouts->catalog->role_count;
    int *made = SW_NEW(job->arena, int, roles), *sure = SW_NEW(job->arena, int, roles);
    if (made == NULL || sure == NULL)
        return SW_NO_MEMORY;
    memcpy(made, option->machine, roles * sizeof *made);
    memcpy(sure, option->sure, roles * sizeof *sure);
    job->machine = made;
    job->sure = sure;
    if (left_out == NULL)
        return SW_OK;
    sw_status status = sw_machine_without(made, fitouts, job->arena, option->machine, left_out);
    return status == SW_OK ? sw_machine_without(sure, fitouts, job->arena, option->sure, left_out)
                           : status;
}

static sw_status tell(sw_bench_job *job, sw_complaints *complaints) {
    const sw_setup *setup = job->setup;
    sw_status status =
        sw_measure_machine(&job->then, job->arena, setup->estimates, setup->book, job->machine);
    if (status == SW_OK)
        status = sw_measuring_make(&job->now, job->arena, setup->estimates, setup->fitouts->present,
                                   NULL, 0);
    if (status == SW_OK)
        status = sw_work_make(&job->work, job->arena, setup->fitouts, job->machine, complaints);
    if (status == SW_OK)
        status = tell_frame(job);
    if (status == SW_OK)
        status = tell_machine(job);
    if (status == SW_OK)
        status = sw_bench_tell_actions(job);
    if (status == SW_OK)
        status = sw_bench_tell_places(job);
    if (status == SW_OK)
        status = sw_bench_tell_proofs(job);
    return status == SW_OK && job->failed ? SW_NO_MEMORY : status;
}

sw_status sw_find_bench(sw_bench **out, sw_options *options, const sw_option *option,
                        const sw_setup *setup, const bool *left_out,
                        const sw_calibration *calibration, sw_complaints *complaints) {
    sw_bench_job job = {.setup = setup, .calibration = calibration, .arena = options->plan->arena};
    job.bench = SW_NEW(job.arena, sw_bench, 1);
    if (job.bench == NULL)
        return SW_NO_MEMORY;
    *job.bench = (sw_bench){.options = options, .option = option, .wiping = ""};
    sw_status status = SW_OK;
    if (option != NULL) {
        job.bench->number = (size_t)(option - options->options) + 1;
        status = find_machines(&job, option, left_out);
        if (status == SW_OK)
            status = tell(&job, complaints);
    }
    if (status == SW_OK)
        *out = job.bench;
    return status;
}

void sw_bench_free(sw_bench *bench) {
    if (bench != NULL)
        sw_options_free(bench->options);
}

sw_answer_status sw_bench_get_status(const sw_bench *bench) {
    return sw_options_get_status(bench->options);
}

bool sw_bench_is_settled(const sw_bench *bench) {
    return sw_options_are_settled(bench->options) &&
           (bench->option == NULL || bench->option->proved);
}
