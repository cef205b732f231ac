/*
 * requests SCENARIO SEED COUNT [--spoil]: draws requests of every kind (most points or least cost,
 * a limit, points at least, bundles listed before, a solution to start from, picks out of the
 * question) and asks two methods that share no step, the search over its own bounds and the linear
 * solver: the same end and the same bundle, or one that no order of ties tells apart. Then the
 * linear solver without the time to end: what it has obeys the request, and its bound holds. With
 * --spoil the search is asked for something else: that must be noticed. Looks into the library: not
 * one of the tests that know nothing of it.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "answer/setup.h"
#include "program/search.h"
#include "program/stage.h"

#define LISTED_MOST 4

typedef struct job {
    const char *file;
    sw_program *program;
    sw_complaints *complaints;
    bool spoil;
    long agreed, differed, given_up, none;
    long long nodes;
    const int *seen[LISTED_MOST]; /* answers of before */
    size_t seen_count;
    int64_t points; /* the most there are at the budget */
} job;

static uint64_t state;

static uint64_t draw(uint64_t below) {
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return state % below;
}

static double late(void) { return 1; }

/* Enough is had after so many questions whether it is. */
static bool enough(void *context) {
    long *left = context;
    return --*left < 0;
}

static sw_request draw_request(job *j) {
    sw_request r = sw_request_for(j->program, draw(3) == 0 ? SW_AIM_CHEAPEST : SW_AIM_BEST);
    uint64_t how = draw(4);
    if (how == 0)
        r.limit = SW_NO_LIMIT;
    else if (how == 1)
        r.limit = (int64_t)draw((uint64_t)(r.limit > 0 ? r.limit : 1) + 1);
    if (j->points > 0 && draw(3) == 0)
        r.points_least = (int64_t)draw((uint64_t)j->points + 1);
    if (draw(3) == 0) {
        r.listed = j->seen;
        r.listed_count = draw(j->seen_count + 1);
        r.apart = r.listed_count > 0 ? (int)draw(3) : 0;
    }
    if (j->seen_count > 0 && r.listed_count == 0 && draw(2) == 0)
        r.start = j->seen[draw(j->seen_count)];
    return r;
}

static void remember(job *j, const sw_solution *found) {
    if (found->found && j->seen_count < LISTED_MOST)
        j->seen[j->seen_count++] = found->picks;
    if (found->found && found->tally.points > j->points)
        j->points = found->tally.points;
}

static void judge(job *j, bool good, const char *what, const sw_request *r, const sw_solution *a,
                  const sw_solution *b) {
    *(good ? &j->agreed : &j->differed) += 1;
    if (!good)
        printf("FAILED %s: %s, aim %d, limit %lld: end %d points %lld cost %lld, end %d points "
               "%lld cost "
               "%lld\n",
               j->file, what, (int)r->aim, (long long)r->limit, (int)a->end,
               (long long)a->tally.points, (long long)a->tally.cost, (int)b->end,
               (long long)b->tally.points, (long long)b->tally.cost);
}

static bool obeys(const job *j, const sw_request *r, const sw_solution *s) {
    sw_tally tally;
    int broken = SW_NONE;
    return sw_program_check(&tally, &broken, j->program, s->picks) == SW_OK && broken == SW_NONE &&
           tally.cost == s->tally.cost && tally.points == s->tally.points &&
           tally.cost <= r->limit && tally.points >= r->points_least;
}

static sw_status stopped(job *j, const sw_request *r, const bool *out, const sw_solution *right) {
    long left = (long)draw(12);
    sw_allowance allowances[] = {{.seconds = 60, .now = late, .ends = 0},
                                 {.seconds = 60, .halt = enough, .context = &left}};
    sw_solution got = {0};
    sw_status status =
        sw_solve_linear(&got, j->program, r, out, allowances[draw(2)], j->complaints);
    if (status != SW_OK)
        return status;
    bool good = !got.found || (obeys(j, r, &got) && right->found);
    if (got.end != SW_END_EARLY)
        good = good && got.end == right->end &&
               (!got.found || got.tally.points == right->tally.points);
    else if (r->aim == SW_AIM_BEST && right->found)
        good = good && got.bound >= right->tally.points;
    judge(j, good, "stopped early", r, right, &got);
    return SW_OK;
}

static sw_status one(job *j, bool *out) {
    sw_request r = draw_request(j);
    sw_request asked = r;
    sw_solution a = {0}, b = {0};
    bool given_up = false;
    memset(out, 0, j->program->pick_count);
    for (size_t p = 0; p < j->program->pick_count && r.start == NULL && r.listed_count == 0; p++)
        out[p] = draw(12) == 0;
    if (j->spoil && asked.limit != SW_NO_LIMIT)
        asked.limit /= 2;
    sw_allowance allowance = {.seconds = 60};
    sw_status status = sw_search(&a, &given_up, j->program, &asked, out, allowance, 200000);
    j->nodes += a.nodes;
    if (status == SW_OK && (given_up || a.end == SW_END_EARLY)) {
        j->given_up++;
        return SW_OK;
    }
    if (status == SW_OK)
        status = sw_solve_linear(&b, j->program, &r, out, allowance, j->complaints);
    if (status != SW_OK)
        return status;
    bool good = a.end == b.end && a.found == b.found;
    if (good && a.found)
        good = obeys(j, &r, &a) && obeys(j, &r, &b) &&
               sw_request_compare(j->program, &r, &a.tally, a.picks, &b.tally, b.picks) == 0;
    j->none += a.found ? 0 : 1;
    judge(j, good, "search and linear solver", &r, &a, &b);
    remember(j, &b);
    return stopped(j, &r, out, &b);
}

/* ---- the linear program at one bundle -------------------------------------------------- */

static bool draw_obeying(const job *j, int *picks, sw_tally *tally) {
    const sw_program *p = j->program;
    int machine[64], choices[64], broken = SW_NONE;
    for (size_t g = 0; g < p->group_count; g++) {
        const sw_group *group = &p->groups[g];
        if (group->count == 0)
            return false;
        const sw_pick *pick = &p->picks[group->first + (int)draw((uint64_t)group->count)];
        machine[g] = pick->fitout;
        choices[g] = pick->choice;
    }
    for (size_t g = 0; g < p->group_count; g++) {
        picks[g] = sw_pick_in(p, choices[g], machine);
        if (picks[g] == SW_NONE || p->picks[picks[g]].dropped)
            return false;
    }
    return sw_program_check(tally, &broken, p, picks) == SW_OK && broken == SW_NONE;
}

/* The least of the measure at the bundle: its columns at 1, the others of its groups at 0. */
static sw_status least_at(int64_t *out, bool *found, sw_matrix *m, const sw_linear *measure,
                          int sign, const sw_allowance *allowance) {
    double *objective = calloc(m->column_count, sizeof *objective);
    double *value = calloc(m->column_count, sizeof *value);
    sw_glpk_result result = {.value = value};
    sw_status status = objective == NULL || value == NULL ? SW_NO_MEMORY : SW_OK;
    for (size_t c = 0; status == SW_OK && c < m->column_count; c++)
        objective[c] = sign * (double)measure->coefficient[c];
    if (status == SW_OK)
        status = sw_glpk_minimise(&result, m, objective, 0, 60, allowance);
    *found = status == SW_OK && result.end == SW_GLPK_FOUND;
    double exact = sign * result.objective + (double)measure->constant;
    *out = *found ? (int64_t)(exact + (exact < 0 ? -0.5 : 0.5)) : 0;
    free(objective);
    free(value);
    return status;
}

/* Of a column that is no choice GLPK lets a hundred-thousandth through. */
static int64_t slack_of(const sw_matrix *m) {
    double sum = 0;
    for (size_t c = (size_t)m->pick_columns; c < m->column_count; c++)
        sum += (double)llabs(m->columns[c].points);
    return (int64_t)(sum * 1e-5);
}

static sw_status one_bundle(job *j) {
    int picks[64];
    sw_tally tally;
    sw_matrix *m = NULL;
    int64_t points = 0, cost = 0;
    bool dear = false, good = false;
    sw_allowance allowance = {.seconds = 60};
    for (int tries = 0; !draw_obeying(j, picks, &tally); tries++)
        if (tries > 400)
            return SW_OK;
    sw_status status = sw_matrix_make(&m, j->program, NULL, SW_NO_LIMIT);
    for (size_t g = 0; status == SW_OK && g < j->program->group_count; g++) {
        const sw_group *group = &j->program->groups[g];
        for (int p = group->first; p < group->first + group->count; p++)
            if (m->pick_column[p] != SW_NONE && p != picks[g])
                m->columns[m->pick_column[p]].upper = 0;
    }
    if (status == SW_OK)
        status = least_at(&points, &good, m, &m->points, -1, &allowance);
    if (status == SW_OK)
        status = least_at(&cost, &dear, m, &m->cost, 1, &allowance);
    good = good && dear && llabs(points - tally.points) <= slack_of(m) && cost == tally.cost;
    if (status == SW_OK)
        *(good ? &j->agreed : &j->differed) += 1;
    if (status == SW_OK && !good)
        printf("FAILED %s: a bundle of %lld points for %lld comes to %lld for %lld in the linear "
               "program\n",
               j->file, (long long)tally.points, (long long)tally.cost, (long long)points,
               (long long)cost);
    sw_matrix_free(m);
    return status;
}

int main(int argc, char **argv) {
    job j = {.file = argc > 1 ? argv[1] : "",
             .spoil = argc == 5 && strcmp(argv[4], "--spoil") == 0};
    if (argc < 4 || (argc > 4 && !j.spoil)) {
        fprintf(stderr, "requests SCENARIO SEED COUNT [--spoil]\n");
        return 64;
    }
    state = strtoull(argv[2], NULL, 10) * 0x9E3779B97F4A7C15u + 88172645463325252u;
    sw_scenario *scenario = NULL;
    sw_setup setup = {0};
    j.complaints = sw_complaints_new();
    sw_status status = sw_scenario_read(&scenario, j.file, NULL, j.complaints);
    if (status == SW_OK)
        status = sw_setup_make(&setup, scenario, scenario->allow_unknown, NULL, j.complaints);
    if (status == SW_OK)
        status = sw_setup_score(&setup, NULL);
    j.program = setup.program;
    bool *out = status == SW_OK ? calloc(j.program->pick_count + 1, sizeof *out) : NULL;
    if (status == SW_OK && out == NULL)
        status = SW_NO_MEMORY;
    for (long i = 0, count = strtol(argv[3], NULL, 10); i < count && status == SW_OK; i++)
        status = one(&j, out);
    if (status == SW_OK && j.program->group_count > 64)
        status = SW_INTERNAL;
    for (long i = 0, count = strtol(argv[3], NULL, 10); i < count && status == SW_OK && !j.spoil;
         i++)
        status = one_bundle(&j);
    if (status != SW_OK)
        printf("FAILED %s: status %d\n", j.file, (int)status);
    printf("%ld agreed, %ld differed, %ld without a bundle, %ld given up, %lld nodes\n", j.agreed,
           j.differed, j.none, j.given_up, j.nodes);
    free(out);
    sw_setup_free(&setup);
    sw_scenario_free(scenario);
    sw_complaints_free(j.complaints);
    return status == SW_OK && j.differed == 0 ? 0 : 1;
}
