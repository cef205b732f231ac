/* The parts of an answer that belong to the job, not to one bundle. */
#include "answer/stage.h"

#include <stdlib.h>
#include <string.h>

static sw_status copy_musts(sw_answer *answer, const sw_scenario *scenario) {
    answer->musts = SW_NEW(answer->arena, sw_answer_must, scenario->must_count);
    if (answer->musts == NULL)
        return SW_NO_MEMORY;
    for (size_t m = 0; m < scenario->must_count; m++) {
        answer->musts[m].id = sw_arena_copy(answer->arena, scenario->musts[m].id);
        answer->musts[m].why = sw_arena_copy(answer->arena, scenario->musts[m].why);
        const sw_must *must = &scenario->musts[m];
        if (must->part != SW_NONE)
            answer->musts[m].replace =
                sw_arena_copy(answer->arena, scenario->parts[must->part].name);
        if (must->task != SW_NONE)
            answer->musts[m].task =
                sw_arena_copy(answer->arena, scenario->catalog->tasks[must->task].name);
        if (answer->musts[m].id == NULL || answer->musts[m].why == NULL ||
            (must->part != SW_NONE && answer->musts[m].replace == NULL) ||
            (must->task != SW_NONE && answer->musts[m].task == NULL))
            return SW_NO_MEMORY;
        answer->must_count++;
    }
    return SW_OK;
}

static sw_status copy_criteria(sw_answer *answer, const sw_scenario *scenario) {
    static const char *const kinds[] = {
        [SW_SPEED] = "speed", [SW_QUIET] = "quiet", [SW_LOOKS] = "looks", [SW_RATED] = "rated"};
    size_t count = scenario->catalog->criterion_count;
    answer->criterion_ids = SW_NEW(answer->arena, const char *, count);
    answer->criterion_names = SW_NEW(answer->arena, const char *, count);
    answer->criterion_kinds = SW_NEW(answer->arena, const char *, count);
    answer->weights = SW_NEW(answer->arena, double, count);
    if (answer->criterion_ids == NULL || answer->criterion_names == NULL ||
        answer->criterion_kinds == NULL || answer->weights == NULL)
        return SW_NO_MEMORY;
    for (size_t c = 0; c < count; c++) {
        const sw_criterion *criterion = &scenario->catalog->criteria[c];
        answer->criterion_ids[c] = sw_arena_copy(answer->arena, criterion->id);
        answer->criterion_names[c] = sw_arena_copy(answer->arena, criterion->name);
        answer->criterion_kinds[c] = kinds[criterion->kind];
        answer->weights[c] = scenario->weights[c];
        if (answer->criterion_ids[c] == NULL || answer->criterion_names[c] == NULL)
            return SW_NO_MEMORY;
    }
    answer->criterion_count = count;
    return SW_OK;
}

static sw_status copy_sentences(const char *const **out, sw_arena *arena,
                                const char *const *sentences, size_t count) {
    const char **texts = SW_NEW(arena, const char *, count);
    for (size_t i = 0; texts != NULL && i < count; i++) {
        texts[i] = sw_arena_copy(arena, sentences[i]);
        if (texts[i] == NULL)
            return SW_NO_MEMORY;
    }
    *out = texts;
    return texts == NULL ? SW_NO_MEMORY : SW_OK;
}

static sw_status copy_said(sw_answer *answer, const sw_scenario *scenario) {
    answer->assumed_count = scenario->assumed_count;
    answer->beware_count = scenario->beware_count;
    sw_status status =
        copy_sentences(&answer->assumed, answer->arena, scenario->assumed, scenario->assumed_count);
    return status != SW_OK ? status
                           : copy_sentences(&answer->beware, answer->arena, scenario->beware,
                                            scenario->beware_count);
}

static sw_status copy_to_ask(sw_answer *answer, const sw_scenario *scenario) {
    size_t count = scenario->to_ask_count;
    answer->to_ask = SW_NEW(answer->arena, sw_answer_open, count);
    if (answer->to_ask == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < count; i++) {
        const sw_role *role = &scenario->catalog->roles[scenario->to_ask[i].role];
        sw_answer_open open = {sw_arena_copy(answer->arena, role->id),
                               sw_arena_copy(answer->arena, role->name),
                               sw_arena_copy(answer->arena, scenario->to_ask[i].ask)};
        if (open.role == NULL || open.role_name == NULL || open.ask == NULL)
            return SW_NO_MEMORY;
        answer->to_ask[answer->to_ask_count++] = open;
    }
    return SW_OK;
}

sw_status sw_answer_start(sw_answer **out, const sw_scenario *scenario) {
    sw_arena *arena = sw_arena_new();
    sw_answer *answer = arena == NULL ? NULL : SW_NEW(arena, sw_answer, 1);
    if (answer == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    answer->arena = arena;
    answer->status = SW_NOTHING_FITS;
    answer->worth_at_least_milli = -1;
    answer->curve_to = -1;
    answer->title = sw_arena_copy(arena, scenario->title);
    answer->currency = sw_arena_copy(arena, scenario->catalog->currency);
    answer->digits = scenario->catalog->currency_digits;
    answer->budget_total = scenario->budget_total;
    answer->reserve = scenario->reserve;
    answer->sundries = scenario->sundries;
    answer->budget = sw_scenario_budget(scenario);
    sw_status status = answer->title == NULL || answer->currency == NULL ? SW_NO_MEMORY : SW_OK;
    if (status == SW_OK)
        status = copy_musts(answer, scenario);
    if (status == SW_OK)
        status = copy_said(answer, scenario);
    if (status == SW_OK)
        status = copy_criteria(answer, scenario);
    if (status == SW_OK)
        status = copy_to_ask(answer, scenario);
    if (status == SW_OK)
        *out = answer;
    else
        sw_answer_free(answer);
    return status;
}

/* Would a hard rule be left without this fact if the fit-out stood in `machine`? */
static sw_status asks_for(bool *asks, const sw_rulebook *book, int *machine, int fitout, int fact) {
    int role = book->fitouts->fitouts[fitout].role, before = machine[role];
    sw_status status = SW_OK;
    machine[role] = fitout;
    for (size_t r = 0; r < book->count && status == SW_OK && !*asks; r++) {
        sw_judgement judgement;
        if (!book->rules[r].hard || !sw_rule_reads_fact(book->fitouts, &book->rules[r], role, fact))
            continue;
        status = sw_rule_judge(&judgement, book, r, machine);
        *asks = status == SW_OK && judgement.verdict == SW_UNJUDGED;
    }
    machine[role] = before;
    return status;
}

/* A fit-out that adds nothing but this part, and that the wishes allow. */
static int fit_out_of(const sw_fitouts *fitouts, int part) {
    int role = fitouts->scenario->parts[part].role;
    for (int f = fitouts->first_fitout[role]; f < fitouts->first_fitout[role + 1]; f++) {
        const sw_fitout *fitout = &fitouts->fitouts[f];
        if (fitout->allowed && fitout->added_count == 1 && fitout->added[0].part == part)
            return f;
    }
    return SW_NONE;
}

/* New parts that could not be judged in this machine for want of a fact. */
static sw_status find_unknown(sw_fitouts *fitouts, const sw_rulebook *book, int *machine) {
    const sw_catalog *catalog = fitouts->catalog;
    for (size_t s = 0; s < fitouts->source_count; s++) {
        int part = fitouts->sources[s].part;
        int role = fitouts->scenario->parts[part].role, fitout = fit_out_of(fitouts, part);
        if (fitout == SW_NONE || (s > 0 && fitouts->sources[s - 1].part == part))
            continue;
        for (size_t f = 0; f < catalog->fact_count; f++) {
            bool asks = false;
            if (fitouts->slot[role][f] == SW_NONE ||
                fitouts->scenario->parts[part].values[f].state != SW_UNKNOWN)
                continue;
            sw_status status = asks_for(&asks, book, machine, fitout, (int)f);
            if (status == SW_OK && asks && !sw_left_out_add(fitouts, part, SW_OUT_UNKNOWN, (int)f))
                status = SW_NO_MEMORY;
            if (status != SW_OK)
                return status;
        }
    }
    return SW_OK;
}

static int by_part_and_fact(const void *left, const void *right) {
    const sw_answer_look_up *a = left, *b = right;
    int by = strcmp(a->part, b->part);
    return by != 0 ? by : strcmp(a->fact, b->fact);
}

static sw_status copy_left_out(sw_answer *answer, const sw_fitouts *fitouts) {
    answer->look_ups = SW_NEW(answer->arena, sw_answer_look_up, fitouts->left_out_count);
    if (answer->look_ups == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < fitouts->left_out_count; i++) {
        const sw_left_out *out = &fitouts->left_out[i];
        answer->left_out_late += out->why == SW_OUT_TOO_LATE ? 1 : 0;
        answer->left_out_no_stock += out->why == SW_OUT_NO_STOCK ? 1 : 0;
        answer->left_out_avoided += out->why == SW_OUT_AVOIDED ? 1 : 0;
        if (out->why != SW_OUT_UNKNOWN)
            continue;
        const sw_part *part = &fitouts->scenario->parts[out->part];
        const sw_fact *fact = &fitouts->catalog->facts[out->fact];
        sw_answer_look_up *look_up = &answer->look_ups[answer->look_up_count++];
        look_up->part = sw_arena_copy(answer->arena, part->id);
        look_up->name = sw_arena_copy(answer->arena, part->name);
        look_up->fact = sw_arena_copy(answer->arena, fact->name);
        look_up->meaning = sw_arena_copy(answer->arena, fact->meaning);
        if (look_up->part == NULL || look_up->name == NULL || look_up->fact == NULL ||
            look_up->meaning == NULL)
            return SW_NO_MEMORY;
    }
    qsort(answer->look_ups, answer->look_up_count, sizeof *answer->look_ups, by_part_and_fact);
    return SW_OK;
}

sw_status sw_answer_finish(sw_answer *answer, sw_fitouts *fitouts, const sw_rulebook *book,
                           const sw_estimates *estimates, int *machine) {
    answer->has_sound = estimates->quiet != SW_NONE;
    sw_sound sound = sw_sound_of(estimates, fitouts->present);
    answer->level_now_dba = sound.level_dba;
    answer->loudness_now_sone = sound.loudness_sone;
    sw_status status = book->allow_unknown ? SW_OK : find_unknown(fitouts, book, machine);
    return status == SW_OK ? copy_left_out(answer, fitouts) : status;
}

int64_t sw_hundred(const sw_answer *answer) {
    int64_t minor = 100;
    for (int i = 0; i < answer->digits; i++)
        minor *= 10;
    return minor;
}

int64_t sw_per_hundred(const sw_answer *answer, int64_t points, int64_t cost) {
    int64_t scaled;
    return cost > 0 && sw_multiply(&scaled, points, sw_hundred(answer))
               ? sw_divide(scaled, cost, SW_HALF_UP)
               : -1;
}

sw_answer_status sw_answer_get_status(const sw_answer *answer) { return answer->status; }

bool sw_answer_is_settled(const sw_answer *answer) { return !answer->unsettled; }

void sw_answer_free(sw_answer *answer) {
    if (answer != NULL)
        sw_arena_free(answer->arena);
}
