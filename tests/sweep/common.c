/* Counts, chance, jobs, bundles. See sweep.h. */
#include "sweep.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- counting -------------------------------------------------------------------------- */

#define SAID_MOST 3
typedef struct count {
    const char *name;
    long passed, failed;
} count;

static count counts[64];
static int count_count;

static count *count_of(const char *name) {
    for (int i = 0; i < count_count; i++)
        if (strcmp(counts[i].name, name) == 0)
            return &counts[i];
    if (count_count == 64)
        abort();
    counts[count_count] = (count){.name = name};
    return &counts[count_count++];
}

void held(const char *name, bool good, const char *detail, ...) {
    count *c = count_of(name);
    if (good) {
        c->passed++;
        return;
    }
    if (c->failed++ < SAID_MOST) {
        va_list rest;
        va_start(rest, detail);
        printf("FAILED %s: ", name);
        vprintf(detail, rest);
        printf("\n");
        va_end(rest);
    }
}

void put_to_the_test(const char *name, long least) {
    const count *c = count_of(name);
    if (c->passed + c->failed < least)
        held("put-to-the-test", false, "%s: only %ld times", name, c->passed + c->failed);
}

int tell_counts(void) {
    int passed = 0, failed = 0;
    for (int i = 0; i < count_count; i++) {
        printf("%-24s %8ld held %6ld did not\n", counts[i].name, counts[i].passed,
               counts[i].failed);
        passed += counts[i].failed == 0;
        failed += counts[i].failed > 0;
    }
    printf("%d passed, %d failed\n", passed, failed);
    return failed == 0 && passed > 0 ? 0 : 1;
}

/* ---- chance ------------------------------------------------------------------------------ */

static uint64_t state = 88172645463325252u;

void chance_start(uint64_t seed) { state = seed * 0x9E3779B97F4A7C15u + 88172645463325252u; }

uint64_t draw(uint64_t below) {
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return (state >> 11) % below;
}

/* ---- jobs ------------------------------------------------------------------------------- */

bool job_open(job *out, const char *file) {
    *out = (job){.file = file, .complaints = sw_complaints_new()};
    sw_plan_options options = sw_plan_options_default();
    options.seconds = 600;
    sw_status status = sw_scenario_read(&out->scenario, file, NULL, out->complaints);
    if (status == SW_OK)
        status = sw_run_make(&out->run, out->scenario, &options, true, out->complaints);
    out->program = out->run.setup.program;
    if (status == SW_OK && out->run.baseline.found)
        status = sw_program_presolve(out->program);
    if (status != SW_OK) {
        const sw_complaint *first = sw_complaints_get(out->complaints, 0);
        held("job", false, "%s: status %d: %s", file, (int)status, first ? first->what : "");
        return false;
    }
    out->groups = out->program->group_count;
    out->cheapest = out->run.baseline.found ? out->run.baseline.picks : NULL;
    out->program->known_count = 0;
    return true;
}

void job_close(job *j) {
    sw_run_free(&j->run);
    sw_scenario_free(j->scenario);
    sw_complaints_free(j->complaints);
}

sw_allowance long_enough(void) { return (sw_allowance){.seconds = 600}; }

bool obeys(const job *j, sw_tally *tally, const int *picks) {
    int broken = SW_NONE;
    if (sw_program_check(tally, &broken, j->program, picks) != SW_OK)
        abort();
    return broken == SW_NONE;
}

/* ---- bundles ----------------------------------------------------------------------------- */

bool bundles_add(bundles *to, const sw_tally *tally, const int *picks) {
    if (to->count == to->room) {
        size_t room = to->room == 0 ? 64 : to->room * 2;
        sw_tally *tallies = realloc(to->tally, room * sizeof *tallies);
        if (tallies == NULL)
            return false;
        to->tally = tallies;
        int *more = realloc(to->picks, room * to->groups * sizeof *more);
        if (more == NULL)
            return false;
        to->picks = more;
        to->room = room;
    }
    to->tally[to->count] = *tally;
    memcpy(&to->picks[to->count++ * to->groups], picks, to->groups * sizeof *picks);
    return true;
}

const int *bundle_at(const bundles *all, size_t i) { return &all->picks[i * all->groups]; }

void bundles_free(bundles *all) {
    free(all->tally);
    free(all->picks);
    *all = (bundles){.groups = all->groups};
}

static const bundles *sorted;
static const job *sorted_job;

static int by_cost_then_best(const void *left, const void *right) {
    size_t a = *(const size_t *)left, b = *(const size_t *)right;
    int64_t x = sorted->tally[a].cost, y = sorted->tally[b].cost;
    if (x != y)
        return x < y ? -1 : 1;
    return sw_tally_compare(sorted_job->program, &sorted->tally[a], bundle_at(sorted, a),
                            &sorted->tally[b], bundle_at(sorted, b), true);
}

bool staircase(bundles *out, const job *j, const bundles *all, int64_t from, int64_t to) {
    size_t *at = malloc((all->count + 1) * sizeof *at);
    *out = (bundles){.groups = all->groups};
    if (at == NULL)
        return false;
    for (size_t i = 0; i < all->count; i++)
        at[i] = i;
    sorted = all;
    sorted_job = j;
    qsort(at, all->count, sizeof *at, by_cost_then_best);
    bool good = true;
    for (size_t i = 0; i < all->count && good; i++) {
        const sw_tally *t = &all->tally[at[i]];
        if (t->cost > to)
            break;
        size_t last = out->count;
        if (last > 0 && t->points <= out->tally[last - 1].points)
            continue;
        if (last > 0 && t->cost <= from)
            out->count--; /* a better one at `from` */
        good = bundles_add(out, t, bundle_at(all, at[i]));
    }
    free(at);
    return good;
}

bool same_steps(const sw_frontier *f, const bundles *steps, size_t groups) {
    if (f->count != steps->count)
        return false;
    for (size_t i = 0; i < f->count; i++)
        if (f->treads[i].tally.cost != steps->tally[i].cost ||
            f->treads[i].tally.points != steps->tally[i].points ||
            memcmp(f->treads[i].picks, bundle_at(steps, i), groups * sizeof(int)) != 0)
            return false;
    return true;
}

/* ---- curves and samples ------------------------------------------------------------------ */

bool whole_curve(sw_frontier *out, bool *given_up, const job *j) {
    bool proved = false;
    *out = (sw_frontier){.to = SW_NO_LIMIT, .points_least = INT64_MIN};
    sw_status status =
        sw_solve_curve(out, given_up, &proved, j->program, j->cheapest, long_enough());
    held("curve-ends", status == SW_OK && (*given_up || proved), "%s: status %d, proved %d",
         j->file, (int)status, proved);
    return status == SW_OK && proved && !*given_up;
}

/* Picks stand for the heat they run by: the one that fits the rest is taken. */
static bool settle_heat(const job *j, int *picks) {
    int machine[SW_GROUPS_MOST], choice[SW_GROUPS_MOST];
    for (size_t g = 0; g < j->groups; g++) {
        machine[g] = j->program->picks[picks[g]].fitout;
        choice[g] = j->program->picks[picks[g]].choice;
    }
    for (size_t g = 0; g < j->groups; g++)
        if ((picks[g] = sw_pick_in(j->program, choice[g], machine)) == SW_NONE)
            return false;
    return true;
}

bool sample(bundles *out, const job *j, const sw_frontier *near, size_t wanted) {
    int picks[SW_GROUPS_MOST];
    sw_tally tally;
    *out = (bundles){.groups = j->groups};
    for (size_t i = 0; i < near->count; i++)
        if (!bundles_add(out, &near->treads[i].tally, near->treads[i].picks))
            return false;
    for (size_t tries = 0; tries < 20 * wanted && out->count < near->count + wanted; tries++) {
        memcpy(picks, near->treads[draw(near->count)].picks, j->groups * sizeof *picks);
        size_t changes = 1 + draw(tries % 4 == 0 ? 6 : 2);
        for (size_t k = 0; k < changes; k++) {
            size_t g = draw(j->groups);
            const sw_group *group = &j->program->groups[g];
            picks[g] = group->first + (int)draw((uint64_t)group->count);
        }
        if (settle_heat(j, picks) && obeys(j, &tally, picks) && !bundles_add(out, &tally, picks))
            return false;
    }
    return true;
}
