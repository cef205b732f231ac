/* The ways to go on from what was agreed, in the job as it is today. */
#include "answer/shopping.h"

#include <stdlib.h>
#include <string.h>

#include "answer/best.h"

typedef struct way_search {
    sw_shopping_job *job;
    sw_program *program;   /* today's */
    const char **agreed;   /* [role] keys of the machine that was agreed */
    const int *same_picks; /* NULL: what was agreed cannot be bought within the budget */
} way_search;

/* ---- parts and work by their keys ----------------------------------------------------------- */

static const char **keys_of(sw_shopping_job *job, const sw_fitouts *fitouts, const int *machine) {
    size_t roles = fitouts->catalog->role_count;
    const char **keys = SW_NEW(job->out->arena, const char *, roles);
    for (size_t r = 0; keys != NULL && r < roles; r++) {
        keys[r] = sw_arena_copy(job->out->arena, fitouts->fitouts[machine[r]].key);
        if (keys[r] == NULL)
            return NULL;
    }
    return keys;
}

static bool same_parts(const char *a, const char *b) {
    size_t length = strcspn(a, "\t");
    return length == strcspn(b, "\t") && strncmp(a, b, length) == 0;
}

static const char *key_of(const sw_program *program, int pick) {
    return program->fitouts->fitouts[program->picks[pick].fitout].key;
}

/* Can the parts agreed for the role be had today, whatever is done to them? */
static bool can_be_bought(const way_search *s, size_t role) {
    const sw_fitouts *fitouts = s->program->fitouts;
    for (int f = fitouts->first_fitout[role]; f < fitouts->first_fitout[role + 1]; f++)
        if (fitouts->fitouts[f].choice_count > 0 &&
            same_parts(fitouts->fitouts[f].key, s->agreed[role]))
            return true;
    return false;
}

/* Bars what is not as agreed: other parts or work in any role (`same`), or other parts in the
 * roles whose parts can be bought. `*none`: a role has nothing left. NULL when memory is out. */
static bool *bar(bool *none, const way_search *s, bool same) {
    const sw_program *program = s->program;
    bool *barred = SW_NEW(program->arena, bool, program->pick_count);
    *none = false;
    for (size_t g = 0; barred != NULL && g < program->group_count; g++) {
        const sw_group *group = &program->groups[g];
        const char *agreed = s->agreed[group->role];
        bool held = same || can_be_bought(s, (size_t)group->role), any = false;
        for (int p = group->first; p < group->first + group->count; p++) {
            const char *key = key_of(program, p);
            barred[p] = held && !(same ? strcmp(key, agreed) == 0 : same_parts(key, agreed));
            any = any || !barred[p];
        }
        *none = *none || !any;
    }
    return barred;
}

/* ---- asking -----------------------------------------------------------------------------------
 */

static sw_status ask(sw_solution *out, sw_program *program, const way_search *s, sw_aim aim,
                     int64_t limit, const bool *barred) {
    sw_request request = sw_request_for(program, aim);
    request.limit = limit;
    request.barred = barred;
    return sw_solve(out, program, &request, s->job->allowance, s->job->complaints);
}

static bool same_sellers(const sw_answer_bundle *a, const sw_answer_bundle *b) {
    for (size_t i = 0; i < a->swap_count; i++) {
        const sw_answer_swap *own = &a->swaps[i], *other = sw_bundle_swap(b, own->role);
        for (size_t k = 0; other != NULL && k < own->in_count && k < other->in_count; k++)
            if (strcmp(own->in[k].seller, other->in[k].seller) != 0)
                return false;
    }
    return true;
}

static bool same_bundle(const sw_told_way *a, const sw_told_way *b, size_t roles) {
    for (size_t r = 0; r < roles; r++)
        if (strcmp(a->keys[r], b->keys[r]) != 0)
            return false;
    return same_sellers(&a->bundle, &b->bundle);
}

/* By what the machine brings in the job as agreed, where it has such a one. */
static sw_status measure(sw_told_way *way, const sw_shopping_job *job, const sw_program *program,
                         const int *picks) {
    const sw_setup *agreed = job->agreed_setup;
    int *machine = sw_machine_in(agreed->fitouts, program, picks);
    if (machine == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++)
        if (machine[g] == SW_NONE || !agreed->estimates->serves[machine[g]])
            return SW_OK;
    way->has_points = true;
    way->bundle.points = sw_points(agreed->estimates, machine, way->bundle.by_criterion);
    return SW_OK;
}

static sw_status tell(way_search *s, sw_way name, const int *picks, bool proved) {
    sw_shopping_job *job = s->job;
    sw_shopping *out = job->out;
    sw_told_way *way = &out->ways[out->way_count];
    int *machine = SW_NEW(s->program->arena, int, s->program->group_count);
    if (machine == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < s->program->group_count; g++)
        machine[g] = s->program->picks[picks[g]].fitout;
    *way = (sw_told_way){.way = name, .proved = proved};
    way->keys = keys_of(job, s->program->fitouts, machine);
    if (way->keys == NULL)
        return SW_NO_MEMORY;
    sw_status status =
        sw_bundle_describe(&way->bundle, out->today, s->program, picks, job->baseline);
    if (status == SW_OK)
        status = measure(way, job, s->program, picks);
    for (size_t i = 0; i < out->way_count; i++)
        if (same_bundle(&out->ways[i], way, s->program->group_count)) {
            out->ways[i].proved = out->ways[i].proved || proved;
            /* Where its own question is open, it may yet turn out to be another bundle. */
            out->way_open = out->way_open || !proved;
            if (job->asked == name)
                job->asked = out->ways[i].way;
            return status;
        }
    out->way_count++;
    return status;
}

/* ---- the ways ---------------------------------------------------------------------------------
 */

static sw_status find_same(way_search *s) {
    sw_solution found;
    bool none;
    const bool *barred = bar(&none, s, true);
    if (barred == NULL || none)
        return barred == NULL ? SW_NO_MEMORY : SW_OK;
    sw_status status = ask(&found, s->program, s, SW_AIM_CHEAPEST, s->program->budget, barred);
    if (status == SW_OK && found.found) {
        s->same_picks = found.picks;
        return tell(s, SW_WAY_SAME, found.picks, found.end == SW_END_PROVED);
    }
    if (status != SW_OK)
        return status;
    s->job->out->way_open = s->job->out->way_open || found.end == SW_END_EARLY;
    if (found.end == SW_END_NOTHING)
        status = ask(&found, s->program, s, SW_AIM_CHEAPEST, SW_NO_LIMIT, barred);
    if (status == SW_OK && found.end == SW_END_PROVED)
        s->job->out->same_costs = sw_total(s->program, &found.tally);
    return status;
}

static sw_status find_least(way_search *s) {
    sw_solution found;
    bool none;
    const bool *barred = bar(&none, s, false);
    if (barred == NULL || none)
        return barred == NULL ? SW_NO_MEMORY : SW_OK;
    sw_status status = ask(&found, s->program, s, SW_AIM_BEST, s->program->budget, barred);
    if (status != SW_OK)
        return status;
    if (found.found)
        return tell(s, SW_WAY_LEAST, found.picks, found.end == SW_END_PROVED);
    s->job->out->way_open = s->job->out->way_open || found.end == SW_END_EARLY;
    return SW_OK;
}

/* The first in the order that costs no more than was agreed, else within the budget; `*sure` turns
 * false where the time ran out on the way. */
static sw_status ask_anew(sw_solution *out, bool *sure, sw_program *program, const way_search *s) {
    int64_t budget = program->budget;
    int64_t agreed = sw_bill_limit(s->job->scenario, s->job->out->option->bundle.cost);
    int64_t limit = agreed < budget ? agreed : budget;
    sw_status status = ask(out, program, s, SW_AIM_BEST, limit, NULL);
    *sure = *sure && (status != SW_OK || out->end != SW_END_EARLY);
    if (status == SW_OK && !out->found && limit < budget) {
        status = ask(out, program, s, SW_AIM_BEST, budget, NULL);
        *sure = *sure && (status != SW_OK || out->end != SW_END_EARLY);
    }
    return status;
}

/* The complaint that the option was signed for, as today's job states it; NULL: none. */
static const sw_stated_trouble *trouble_of(const sw_shopping_job *job) {
    const sw_option *option = job->out->option;
    if (option->rule != SW_OPTION_ENDS_COMPLAINT)
        return NULL;
    int trouble = job->agreed->troubles[option->trouble].trouble;
    for (size_t t = 0; t < job->scenario->trouble_count; t++)
        if (job->scenario->troubles[t].trouble == trouble)
            return &job->scenario->troubles[t];
    return NULL;
}

/* A job of its own, in which only bundles count that end the complaint; points as in today's. */
static sw_status make_ending(sw_setup *out, const way_search *s, const sw_stated_trouble *trouble) {
    sw_shopping_job *job = s->job;
    int *machine = SW_NEW(s->program->arena, int, s->program->group_count);
    if (machine == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < s->program->group_count; g++)
        machine[g] = s->program->picks[job->baseline[g]].fitout;
    sw_status status = sw_setup_make_ending(out, job->scenario, job->setup->book->allow_unknown,
                                            trouble, job->complaints);
    if (status != SW_OK)
        return status;
    status = sw_setup_score_by(out, machine);
    if (status == SW_OK)
        status = sw_program_presolve(out->program);
    if (status != SW_OK)
        sw_setup_free(out);
    return status;
}

/* The same bundle in today's own program; NULL: none was found. */
static sw_status carry_over(const int **picks, const way_search *s, const sw_program *from,
                            const sw_solution *found) {
    const sw_program *to = s->program;
    int *out = SW_NEW(to->arena, int, to->group_count);
    int *choices = SW_NEW(to->arena, int, to->group_count);
    *picks = NULL;
    if (!found->found)
        return SW_OK;
    if (out == NULL || choices == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < to->group_count; g++)
        choices[g] = from->picks[found->picks[g]].choice;
    if (!sw_picks_of(out, to, choices))
        return SW_INTERNAL;
    *picks = out;
    return SW_OK;
}

static sw_status find_ending(const int **picks, bool *sure, const way_search *s,
                             const sw_stated_trouble *trouble) {
    sw_setup ending;
    sw_solution found;
    sw_status status = make_ending(&ending, s, trouble);
    if (status != SW_OK)
        return status;
    status = ask_anew(&found, sure, ending.program, s);
    if (status == SW_OK)
        status = carry_over(picks, s, ending.program, &found);
    sw_setup_free(&ending);
    return status;
}

static sw_status find_anew(way_search *s) {
    const sw_stated_trouble *trouble = trouble_of(s->job);
    const int *picks = NULL;
    bool sure = true;
    sw_status status = trouble == NULL ? SW_OK : find_ending(&picks, &sure, s, trouble);
    if (status == SW_OK && picks == NULL) {
        sw_solution found;
        status = ask_anew(&found, &sure, s->program, s);
        picks = status == SW_OK && found.found ? found.picks : NULL;
    }
    if (status == SW_OK && picks != NULL)
        return tell(s, SW_WAY_ANEW, picks, sure);
    s->job->out->way_open = s->job->out->way_open || !sure;
    return status;
}

/* ---- the one that is taken --------------------------------------------------------------------
 */

static bool is_there(const sw_shopping *out, sw_way way) {
    for (size_t i = 0; i < out->way_count; i++)
        if (out->ways[i].way == way)
            return true;
    return false;
}

static sw_status refuse_way(const sw_shopping_job *job) {
    static const char *const names[] = {"same", "least", "anew"};
    const sw_shopping *out = job->out;
    bool as_agreed = job->asked == SW_WAY_LEAST && is_there(out, SW_WAY_SAME);
    sw_complain(job->complaints, "--take", names[job->asked],
                as_agreed ? "what was agreed can be bought as it is: nothing has to be given up"
                          : "only ways that there are can be taken",
                "leave --take out to see which there are", "is not there today");
    return SW_BAD_DATA;
}

static sw_status take(sw_shopping_job *job) {
    sw_shopping *out = job->out;
    const sw_told_way *found = out->way_count > 0 ? &out->ways[0] : NULL;
    if (out->way_count == 0)
        return SW_OK;
    if (job->asked != SW_NO_WAY && !is_there(out, job->asked))
        return out->way_open ? SW_OK : refuse_way(job);
    for (size_t i = out->way_count; i-- > 0;)
        if (job->asked == SW_NO_WAY ? out->ways[i].bundle.cost <= out->option->bundle.cost
                                    : out->ways[i].way == job->asked)
            found = &out->ways[i];
    out->taken = &found->bundle;
    out->taken_way = found->way;
    return SW_OK;
}

sw_status sw_shopping_ways(sw_shopping_job *job) {
    way_search s = {.job = job, .program = job->setup->program};
    sw_shopping *out = job->out;
    s.agreed = keys_of(job, job->agreed_setup->fitouts, out->option->machine);
    if (s.agreed == NULL)
        return SW_NO_MEMORY;
    sw_status status = find_same(&s);
    if (status == SW_OK && job->baseline != NULL && s.same_picks == NULL)
        status = find_least(&s);
    if (status == SW_OK && job->baseline != NULL)
        status = find_anew(&s);
    out->nothing_today = out->way_count == 0;
    out->way_open = out->way_open || job->end == SW_END_EARLY;
    return status == SW_OK ? take(job) : status;
}
