/* Judges a solution without the rows: money from the bill, points from the
 * estimates, rules from the rulebook; and the order of ties. */
#include "program/stage.h"

static bool bought_from(const sw_fitouts *fitouts, const sw_choice *choice, int seller,
                        int64_t *goods) {
    bool any = false;
    for (int l = 0; l < choice->line_count; l++)
        if (fitouts->sources[choice->lines[l].source].seller == seller) {
            any = true;
            *goods += choice->lines[l].counted;
        }
    return any;
}

static void bill_sellers(const sw_program *program, const int *choices, sw_tally *tally) {
    const sw_fitouts *fitouts = program->fitouts;
    for (size_t s = 0; s < fitouts->catalog->seller_count; s++) {
        const sw_seller *seller = &fitouts->catalog->sellers[s];
        bool any = false;
        int64_t goods = 0;
        for (size_t g = 0; g < program->group_count; g++)
            any = bought_from(fitouts, &fitouts->choices[choices[g]], (int)s, &goods) || any;
        if (!any)
            continue;
        tally->minutes += seller->minutes;
        if (seller->has_delivery && !(seller->has_free_from && goods >= seller->free_from))
            tally->cost += sw_landed(fitouts->scenario, seller->delivery);
    }
}

static void bill_charges(const sw_program *program, const int *machine, sw_tally *tally) {
    const sw_fitouts *fitouts = program->fitouts;
    for (size_t c = 0; c < fitouts->catalog->charge_count; c++) {
        const sw_charge *charge = &fitouts->catalog->charges[c];
        bool due = false;
        for (size_t i = 0; i < charge->any_count && !due; i++) {
            const sw_cond *cond = &charge->any[i];
            const sw_fitout *fitout =
                cond->role == SW_NONE ? NULL : &fitouts->fitouts[machine[cond->role]];
            due = sw_cond_truth(fitouts, cond, fitout) != SW_FALSE;
        }
        if (!due)
            continue;
        tally->minutes += charge->minutes;
        tally->cost += sw_landed(fitouts->scenario, charge->amount) +
                       sw_labour(fitouts->scenario, charge->minutes);
    }
}

static bool too_loud(const sw_program *program, const int *machine) {
    const sw_estimates *estimates = program->estimates;
    int64_t limit = program->fitouts->scenario->loudness_limit_milli;
    if (estimates->quiet == SW_NONE || limit < 0)
        return false;
    double now = sw_sound_of(estimates, program->fitouts->present).loudness_sone;
    double then = sw_sound_of(estimates, machine).loudness_sone;
    return then > (double)limit / 1000 && then > now;
}

/* What is billed of the choice: today's where it is held already. */
static int billed(const sw_program *program, size_t group, int choice) {
    const sw_fitouts *fitouts = program->fitouts;
    bool held = program->held != NULL && fitouts->choices[choice].fitout == program->held[group];
    return held ? fitouts->fitouts[fitouts->present[group]].first_choice : choice;
}

int sw_billed_choice(const sw_program *program, int pick) {
    const sw_pick *of = &program->picks[pick];
    return billed(program, (size_t)of->group, of->choice);
}

void sw_bill(sw_tally *tally, const sw_program *program, const int *choices) {
    const sw_fitouts *fitouts = program->fitouts;
    int *machine = program->scratch_machine, *bill = program->scratch_billed;
    *tally = (sw_tally){0};
    for (size_t g = 0; g < program->group_count; g++) {
        bill[g] = billed(program, g, choices[g]);
        const sw_choice *choice = &fitouts->choices[bill[g]];
        const sw_fitout *fitout = &fitouts->fitouts[choice->fitout];
        machine[g] = choice->fitout;
        tally->cost += choice->cost;
        tally->minutes += choice->minutes;
        tally->swaps += fitout->changes ? 1 : 0;
        tally->tasks += fitout->task_count;
    }
    tally->order = tally->swaps * program->swap_order + tally->tasks;
    bill_sellers(program, bill, tally);
    bill_charges(program, machine, tally);
}

/* The class of heat that group `g` runs by in the machine; SW_NONE: by none. */
static int heat_of(const sw_program *program, size_t g, const int *machine) {
    if (program->runs_by[g] == SW_NONE)
        return SW_NONE;
    const sw_running *running = &program->estimates->running[program->runs_by[g]];
    return running
        ->class_of[machine[running->driver] - program->fitouts->first_fitout[running->driver]];
}

static bool runs_otherwise(const sw_program *program, const int *picks, const int *machine) {
    for (size_t g = 0; g < program->group_count; g++)
        if (program->picks[picks[g]].runs != heat_of(program, g, machine))
            return true;
    return false;
}

int sw_pick_in(const sw_program *program, int choice, const int *machine) {
    int pick = program->pick_of[choice];
    if (pick == SW_NONE)
        return SW_NONE;
    size_t group = (size_t)program->picks[pick].group;
    int heat = heat_of(program, group, machine);
    int end = program->groups[group].first + program->groups[group].count;
    for (; pick < end && program->picks[pick].choice == choice; pick++)
        if (program->picks[pick].runs == heat)
            return pick;
    return SW_NONE;
}

sw_status sw_program_check(sw_tally *tally, int *broken, const sw_program *program,
                           const int *picks) {
    int *machine = program->scratch_machine, *choices = program->scratch_choices;
    for (size_t g = 0; g < program->group_count; g++)
        choices[g] = program->picks[picks[g]].choice;
    sw_bill(tally, program, choices);
    for (size_t g = 0; g < program->group_count; g++)
        machine[g] = program->picks[picks[g]].fitout;
    if (runs_otherwise(program, picks, machine)) {
        *broken = SW_RUNS_OTHERWISE;
        return SW_OK;
    }
    if (program->scored)
        tally->points = sw_points(program->estimates, machine, NULL);
    sw_status status = sw_machine_judge(broken, program->book, machine);
    if (status != SW_OK || *broken != SW_NONE)
        return status;
    if (program->minutes_limit >= 0 && tally->minutes > program->minutes_limit)
        *broken = SW_OVER_TIME;
    else if (too_loud(program, machine))
        *broken = SW_OVER_LOUD;
    else if (program->demands != NULL &&
             !sw_demands_met(program->demands, program->estimates, machine))
        *broken = SW_NOT_ENDED;
    return SW_OK;
}

static int order(int64_t a, int64_t b) { return (a > b) - (a < b); }

int sw_tally_compare(const sw_program *program, const sw_tally *a, const int *a_picks,
                     const sw_tally *b, const int *b_picks, bool points_first) {
    int by = points_first ? order(b->points, a->points) : 0;
    by = by != 0 ? by : order(a->cost, b->cost);
    by = by != 0 ? by : order(a->order, b->order);
    for (size_t g = 0; g < program->group_count && by == 0; g++)
        by = order(program->picks[a_picks[g]].bundle_rank, program->picks[b_picks[g]].bundle_rank);
    for (size_t g = 0; g < program->group_count && by == 0; g++)
        by = order(program->picks[a_picks[g]].seller_rank, program->picks[b_picks[g]].seller_rank);
    return by;
}
