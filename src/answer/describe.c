/* A solution in the words of the catalog: what goes, what comes, from whom,
 * and every line of the bill. */
#include "answer/learning.h"
#include "answer/stage.h"
#include "answer/stands.h"

#include <string.h>

typedef struct teller {
    sw_answer *answer;
    sw_arena *arena;
    const sw_program *program;
    const sw_fitouts *fitouts;
    sw_answer_bundle *bundle;
    bool failed;
} teller;

static const char *copy(teller *t, const char *text) {
    const char *out = text == NULL ? NULL : sw_arena_copy(t->arena, text);
    t->failed = t->failed || (text != NULL && out == NULL);
    return out;
}

static const char *const condition_names[] = {"good", "worn", "failing", "unproven"};

static sw_answer_part present_part(teller *t, const sw_present *present, int count) {
    const sw_part *part = &t->fitouts->scenario->parts[present->part];
    return (sw_answer_part){.id = copy(t, part->id),
                            .name = copy(t, part->name),
                            .count = count,
                            .condition = condition_names[present->condition],
                            .warranty_months = -1,
                            .return_days = -1,
                            .offer = present->offer * count,
                            .hoped = present->hoped * count};
}

static sw_answer_part added_part(teller *t, const sw_line *line) {
    const sw_catalog *catalog = t->fitouts->catalog;
    const sw_source *source = &t->fitouts->sources[line->source];
    const sw_part *part = &t->fitouts->scenario->parts[source->part];
    bool client = source->seller == SW_CLIENT;
    sw_answer_part out = {.id = copy(t, part->id),
                          .name = copy(t, part->name),
                          .count = line->count,
                          .condition = "",
                          .price = line->goods,
                          .days = source->days,
                          .warranty_months = -1,
                          .return_days = -1};
    out.seller = client ? "client" : copy(t, catalog->sellers[source->seller].id);
    out.seller_name = client ? "the client" : copy(t, catalog->sellers[source->seller].name);
    if (!client) {
        out.warranty_months = catalog->listings[source->listing].warranty_months;
        out.return_days = catalog->listings[source->listing].return_days;
    }
    return out;
}

static void tell_present(teller *t, const sw_fitout *fitout, sw_answer_swap *swap) {
    const sw_scenario *scenario = t->fitouts->scenario;
    for (size_t i = 0; i < scenario->machine_count[fitout->role]; i++) {
        const sw_present *present = &scenario->machine[fitout->role][i];
        int gone = present->count - fitout->kept[i];
        if (gone > 0)
            swap->out[swap->out_count++] = present_part(t, present, gone);
        if (fitout->kept[i] > 0)
            swap->stays[swap->stay_count++] = present_part(t, present, fitout->kept[i]);
    }
}

static void tell_swap(teller *t, const sw_choice *choice, bool must) {
    const sw_fitouts *fitouts = t->fitouts;
    const sw_fitout *fitout = &fitouts->fitouts[choice->fitout];
    const sw_role *role = &fitouts->catalog->roles[fitout->role];
    sw_answer_bundle *bundle = t->bundle;
    size_t present = fitouts->scenario->machine_count[fitout->role];
    sw_answer_swap *swap = &bundle->swaps[bundle->swap_count];
    *swap = (sw_answer_swap){.role = copy(t, role->id),
                             .role_name = copy(t, role->name),
                             .must = must,
                             .out = SW_NEW(t->arena, sw_answer_part, present),
                             .in = SW_NEW(t->arena, sw_answer_part, 2),
                             .stays = SW_NEW(t->arena, sw_answer_part, present),
                             .minutes = role->minutes};
    t->failed = t->failed || swap->out == NULL || swap->in == NULL || swap->stays == NULL;
    if (t->failed)
        return;
    bundle->swap_count++;
    tell_present(t, fitout, swap);
    int64_t landed = 0;
    for (int i = 0; i < choice->line_count; i++) {
        swap->in[swap->in_count++] = added_part(t, &choice->lines[i]);
        landed += choice->lines[i].landed;
        bundle->goods += choice->lines[i].goods;
        bundle->tax += choice->lines[i].landed - choice->lines[i].goods;
        int days = fitouts->sources[choice->lines[i].source].days;
        bundle->longest_days = days > bundle->longest_days ? days : bundle->longest_days;
    }
    int64_t counted = fitout->offers < landed ? fitout->offers : landed;
    bundle->offers += counted;
    swap->cost = landed - counted;
    bundle->labour += sw_labour_net(fitouts->scenario, role->minutes);
    bundle->tax += sw_labour(fitouts->scenario, role->minutes) -
                   sw_labour_net(fitouts->scenario, role->minutes);
}

static bool has_task(const sw_fitout *fitout, int task) {
    for (int i = 0; fitout != NULL && i < fitout->task_count; i++)
        if (fitout->tasks[i] == task)
            return true;
    return false;
}

/* Tasks stand in byte order of their ids. */
static sw_answer_task *room_for_task(sw_answer_bundle *bundle, const char *id) {
    size_t at = bundle->task_count++;
    for (; at > 0 && strcmp(bundle->tasks[at - 1].id, id) > 0; at--)
        bundle->tasks[at] = bundle->tasks[at - 1];
    return &bundle->tasks[at];
}

static void tell_tasks(teller *t, const sw_fitout *fitout, const sw_fitout *base) {
    const sw_scenario *scenario = t->fitouts->scenario;
    const sw_catalog *catalog = t->fitouts->catalog;
    for (int i = 0; i < fitout->task_count; i++) {
        const sw_task *task = &catalog->tasks[fitout->tasks[i]];
        *room_for_task(t->bundle, task->id) =
            (sw_answer_task){.id = copy(t, task->id),
                             .name = copy(t, task->name),
                             .role = copy(t, catalog->roles[task->role].id),
                             .role_name = copy(t, catalog->roles[task->role].name),
                             .caution = copy(t, task->caution),
                             .price = task->price,
                             .minutes = task->minutes,
                             .chance = task->chance,
                             .must = has_task(base, fitout->tasks[i])};
        t->bundle->task_prices += task->price;
        t->bundle->labour += sw_labour_net(scenario, task->minutes);
        t->bundle->tax += sw_landed(scenario, task->price) - task->price +
                          sw_labour(scenario, task->minutes) -
                          sw_labour_net(scenario, task->minutes);
    }
}

static bool due_now(const sw_program *program, const sw_due *due, const int *picks,
                    int64_t *goods) {
    bool any = due->always;
    for (size_t g = 0; g < program->group_count; g++) {
        any = any || due->due[picks[g]];
        *goods += due->goods != NULL ? due->goods[picks[g]] : 0;
    }
    return any;
}

/* The dues of the program tell which charges there are; the sums come from the
 * catalog again. */
static void tell_due(teller *t, const sw_due *due, const int *picks) {
    const sw_scenario *scenario = t->fitouts->scenario;
    const sw_catalog *catalog = t->fitouts->catalog;
    int64_t goods = 0;
    if (!due_now(t->program, due, picks, &goods))
        return;
    bool waived = due->goods != NULL && goods >= due->free_from;
    int64_t amount = due->charge != SW_NONE ? catalog->charges[due->charge].amount
                     : due->minutes > 0     ? 0
                                            : catalog->sellers[due->seller].delivery;
    int64_t labour = due->charge != SW_NONE ? sw_labour_net(scenario, due->minutes) : 0;
    sw_answer_charge *out = &t->bundle->dues[t->bundle->due_count++];
    *out = (sw_answer_charge){
        .amount = waived ? 0 : amount, .minutes = due->minutes, .waived = waived};
    if (due->charge != SW_NONE) {
        out->id = copy(t, catalog->charges[due->charge].id);
        out->name = copy(t, catalog->charges[due->charge].name);
    } else {
        const sw_seller *seller = &catalog->sellers[due->seller];
        bool errand = due->minutes > 0;
        out->errand = errand;
        out->id = sw_arena_format(t->arena, errand ? "errand-%s" : "delivery-%s", seller->id);
        out->name =
            sw_arena_format(t->arena, errand ? "errand for %s" : "delivery by %s", seller->name);
        t->failed = t->failed || out->id == NULL || out->name == NULL;
    }
    t->bundle->charges += out->amount;
    t->bundle->labour += labour;
    t->bundle->tax +=
        sw_landed(scenario, out->amount) - out->amount + sw_landed(scenario, labour) - labour;
}

sw_status sw_rates_describe(sw_answer_rate **out, size_t *count, sw_arena *arena,
                            const sw_estimates *estimates, const int *machine) {
    const sw_scenario *scenario = estimates->fitouts->scenario;
    teller t = {.arena = arena};
    *count = 0;
    *out = SW_NEW(arena, sw_answer_rate, scenario->use_count);
    for (size_t u = 0; *out != NULL && u < scenario->use_count; u++) {
        const sw_use *use = &scenario->catalog->uses[scenario->uses[u].use];
        sw_prediction then;
        if (estimates->speed == SW_NONE)
            break;
        if (sw_predict(&then, arena, estimates, (int)u, machine) != SW_OK)
            return SW_NO_MEMORY;
        if (then.stage_now == SW_NONE || then.stage_then == SW_NONE)
            continue;
        double measured = (double)scenario->uses[u].rate_now_milli / 1000;
        (*out)[(*count)++] =
            (sw_answer_rate){.use = copy(&t, use->id),
                             .use_name = copy(&t, use->name),
                             .unit = copy(&t, use->unit),
                             .rate_now = measured,
                             .rate_then = measured * then.ratio,
                             .rate_low = measured * then.low,
                             .rate_high = measured * then.high,
                             .low = then.low,
                             .high = then.high,
                             .ratio = then.ratio,
                             .limit_now = copy(&t, use->stages[then.stage_now].name),
                             .limit_then = copy(&t, use->stages[then.stage_then].name)};
    }
    return *out == NULL || t.failed ? SW_NO_MEMORY : SW_OK;
}

static sw_status tell_measures(teller *t, const int *machine) {
    const sw_catalog *catalog = t->fitouts->catalog;
    const sw_program *program = t->program;
    sw_measuring now, then;
    if (catalog->measure_count == 0)
        return SW_OK;
    t->bundle->measures = SW_NEW(t->arena, sw_answer_measure, catalog->measure_count);
    if (t->bundle->measures == NULL)
        return SW_NO_MEMORY;
    sw_status status =
        sw_measuring_make(&now, t->arena, program->estimates, t->fitouts->present, NULL, 0);
    if (status == SW_OK)
        status = sw_measure_machine(&then, t->arena, program->estimates, program->book, machine);
    for (size_t i = 0; i < catalog->measure_count && status == SW_OK; i++) {
        const sw_measure *measure = &catalog->measures[i];
        if (!measure->plan || now.values[i].state != SW_KNOWN || then.values[i].state != SW_KNOWN)
            continue;
        t->bundle->measures[t->bundle->measure_count++] =
            (sw_answer_measure){.id = copy(t, measure->id),
                                .name = copy(t, measure->name),
                                .unit = copy(t, measure->unit),
                                .digits = measure->digits,
                                .now = now.values[i],
                                .then = then.values[i]};
    }
    return status;
}

static bool allocate(teller *t) {
    const sw_catalog *catalog = t->fitouts->catalog;
    sw_answer_bundle *b = t->bundle;
    b->by_criterion = SW_NEW(t->arena, int64_t, catalog->criterion_count);
    b->swaps = SW_NEW(t->arena, sw_answer_swap, catalog->role_count);
    b->tasks = SW_NEW(t->arena, sw_answer_task, catalog->task_count);
    b->dues = SW_NEW(t->arena, sw_answer_charge, t->program->due_count);
    return b->by_criterion != NULL && b->swaps != NULL && b->tasks != NULL && b->dues != NULL;
}

static void tell_groups(teller *t, const int *picks, const int *base) {
    const sw_program *program = t->program;
    for (size_t g = 0; g < program->group_count && !t->failed; g++) {
        const sw_choice *choice = &t->fitouts->choices[program->picks[picks[g]].choice];
        const sw_fitout *fitout = &t->fitouts->fitouts[choice->fitout];
        const sw_fitout *must =
            base == NULL ? NULL : &t->fitouts->fitouts[program->picks[base[g]].fitout];
        if (fitout->changes)
            tell_swap(t, choice, must != NULL && must->changes);
        if (!t->failed)
            tell_tasks(t, fitout, must);
    }
}

sw_status sw_bundle_describe(sw_answer_bundle *out, sw_answer *answer, const sw_program *program,
                             const int *picks, const int *base) {
    teller t = {answer, answer->arena, program, program->fitouts, out, false};
    *out = (sw_answer_bundle){.rank = 1};
    int *machine = SW_NEW(answer->arena, int, program->group_count);
    if (machine == NULL || !allocate(&t))
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++)
        machine[g] = program->picks[picks[g]].fitout;
    sw_tally tally;
    int broken = SW_NONE;
    sw_status status = sw_program_check(&tally, &broken, program, picks);
    if (status != SW_OK)
        return status;
    out->points = tally.points;
    if (program->scored)
        sw_points(program->estimates, machine, out->by_criterion);
    out->minutes = tally.minutes;
    int64_t invoice_tax = sw_invoice_tax(program->fitouts->scenario, tally.cost);
    out->cost = tally.cost + invoice_tax;
    tell_groups(&t, picks, base);
    for (size_t d = 0; d < program->due_count && !t.failed; d++)
        tell_due(&t, &program->dues[d], picks);
    out->tax += invoice_tax;
    status = sw_rates_describe(&out->rates, &out->rate_count, answer->arena, program->estimates,
                               machine);
    if (status == SW_OK)
        status = tell_measures(&t, machine);
    if (status != SW_OK)
        return status;
    sw_sound sound = sw_sound_of(program->estimates, machine);
    out->level_dba = sound.level_dba;
    out->loudness_sone = sound.loudness_sone;
    if (t.failed)
        return SW_NO_MEMORY;
    sw_learn_bundle(out, t.fitouts->catalog, answer->learnt);
    return sw_cautions_describe(out, answer->arena, program->book, machine);
}
