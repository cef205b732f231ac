/* Curves that are interrupted, pieces of curves, and what a curve takes of memory. */
#include "../bench/measure.h"
#include "sweep.h"

#include <stdlib.h>
#include <string.h>

/* ---- interrupted ------------------------------------------------------------------------------
 */

typedef struct patience {
    long calls, most;
    bool out;
} patience;

static bool has_had_enough(void *context) {
    patience *p = context;
    p->out = p->out || ++p->calls >= p->most;
    return p->out;
}

/* A step of a curve, whoever told it. */
typedef struct told {
    int64_t cost, points, open;
} told;

/* Points of the whole curve at a budget; its first step is known to be affordable. */
static int64_t true_points(const told *curve, size_t count, int64_t budget) {
    int64_t points = INT64_MIN;
    for (size_t i = 0; i < count && curve[i].cost <= budget; i++)
        points = curve[i].points;
    return points;
}

/* Points change at true and at told steps alone: a budget at each of both stands for all. */
static void hold_against(const char *file, const told *steps, size_t count, const told *whole,
                         size_t whole_count, long calls) {
    size_t at = 0;
    for (size_t i = 0; i < count; i++) {
        held("halted-rises",
             i == 0 || (steps[i].cost > steps[i - 1].cost && steps[i].points > steps[i - 1].points),
             "%s, halt %ld: step %zu", file, calls, i);
        held("halted-not-above", steps[i].points <= true_points(whole, whole_count, steps[i].cost),
             "%s, halt %ld: %lld points for %lld", file, calls, (long long)steps[i].points,
             (long long)steps[i].cost);
        if (i > 0 && steps[i].open != steps[i - 1].open && steps[i].open != INT64_MAX)
            held("halted-open-differs", true, "");
    }
    for (size_t b = 0; b < whole_count + count; b++) {
        int64_t budget = b < whole_count ? whole[b].cost : steps[b - whole_count].cost;
        for (at = count; at > 0 && steps[at - 1].cost > budget;)
            at--;
        if (at == 0)
            continue; /* nothing is told of so little money */
        const told *step = &steps[at - 1];
        int64_t most = true_points(whole, whole_count, budget);
        if (step->open == INT64_MAX)
            continue;
        held("halted-open", step->open >= 0 && most <= step->points + step->open,
             "%s, halt %ld: %lld points at %lld, told %lld and %lld open", file, calls,
             (long long)most, (long long)budget, (long long)step->points, (long long)step->open);
        if (step->open == 0)
            held("halted-closed", most == step->points, "%s, halt %ld: %lld points at %lld", file,
                 calls, (long long)most, (long long)budget);
        else
            held("halted-still-open", true, "");
    }
}

static told *told_of_answer(const sw_answer *answer) {
    told *steps = calloc(answer->bundle_count + 1, sizeof *steps);
    if (steps == NULL)
        abort();
    for (size_t i = 0; i < answer->bundle_count; i++)
        steps[i] =
            (told){answer->bundles[i].cost, answer->bundles[i].points, answer->bundles[i].open};
    return steps;
}

static told *told_of_treads(const sw_frontier *f, bool proved) {
    told *steps = calloc(f->count + 1, sizeof *steps);
    if (steps == NULL)
        abort();
    for (size_t i = 0; i < f->count; i++)
        steps[i] = (told){f->treads[i].tally.cost, f->treads[i].tally.points,
                          proved ? 0 : f->treads[i].open};
    return steps;
}

static void halt_sweep(const job *j, const told *whole, size_t whole_count, patience *p) {
    sw_frontier f = {.to = SW_NO_LIMIT, .points_least = INT64_MIN};
    sw_allowance allowance = {.seconds = 600, .halt = has_had_enough, .context = p};
    bool given_up = false, proved = false;
    sw_status status = sw_solve_curve(&f, &given_up, &proved, j->program, j->cheapest, allowance);
    held("halted-ends", status == SW_OK && !given_up && (proved || p->out),
         "%s, halt %ld: status %d, given up %d, proved %d", j->file, p->most, (int)status, given_up,
         proved);
    for (size_t i = 0; i < f.count; i++) {
        sw_tally tally;
        held("halted-is-real",
             obeys(j, &tally, f.treads[i].picks) && tally.cost == f.treads[i].tally.cost &&
                 tally.points == f.treads[i].tally.points,
             "%s, halt %ld: step %zu", j->file, p->most, i);
    }
    told *steps = told_of_treads(&f, proved);
    if (!given_up)
        hold_against(j->file, steps, f.count, whole, whole_count, p->most);
    held("halted-has-the-cheapest", f.count > 0 && steps[0].cost == whole[0].cost,
         "%s, halt %ld: %zu steps", j->file, p->most, f.count);
    free(steps);
    sw_frontier_free(&f);
}

/* The call as anybody makes it: halts count from its start. */
static void halt_call(const job *j, const told *whole, size_t whole_count, patience *p) {
    sw_plan_options options = sw_plan_options_default();
    sw_answer *answer = NULL;
    options.seconds = 600;
    options.halt = has_had_enough;
    options.context = p;
    sw_status status = sw_curve(&answer, j->scenario, &options, j->complaints);
    held("halted-answers", status == SW_OK, "%s, halt %ld: status %d", j->file, p->most,
         (int)status);
    if (status != SW_OK)
        return;
    told *steps = told_of_answer(answer);
    hold_against(j->file, steps, answer->bundle_count, whole, whole_count, p->most);
    if (answer->status == SW_OPTIMAL)
        held("halted-optimal-is-whole",
             answer->bundle_count == whole_count &&
                 memcmp(steps, whole, whole_count * sizeof *whole) == 0,
             "%s, halt %ld: %zu steps of %zu", j->file, p->most, answer->bundle_count, whole_count);
    else
        held("halted-says-so", answer->status == SW_STOPPED_EARLY && p->out, "%s, halt %ld",
             j->file, p->most);
    free(steps);
    sw_answer_free(answer);
}

/* 1, 2, 3, 5, 8 ... until nothing is interrupted any more. */
static void halt_growing(const job *j, const told *whole, size_t whole_count,
                         void (*halt)(const job *, const told *, size_t, patience *)) {
    long before = 1;
    for (long most = 1; most < 1000000;) {
        patience p = {.most = most};
        halt(j, whole, whole_count, &p);
        if (!p.out)
            return;
        long next = before + most;
        before = most;
        most = next;
    }
}

void check_halts(const job *j, const sw_frontier *curve) {
    told *bills = told_of_treads(curve, true);
    halt_growing(j, bills, curve->count, halt_sweep);
    free(bills);
    sw_plan_options options = sw_plan_options_default();
    sw_answer *answer = NULL;
    options.seconds = 600;
    sw_status status = sw_curve(&answer, j->scenario, &options, j->complaints);
    held("whole-answer", status == SW_OK && answer->status == SW_OPTIMAL, "%s: status %d", j->file,
         (int)status);
    if (status == SW_OK && answer->status == SW_OPTIMAL) {
        told *whole = told_of_answer(answer);
        halt_growing(j, whole, answer->bundle_count, halt_call);
        free(whole);
    }
    sw_answer_free(answer);
}

/* ---- pieces ------------------------------------------------------------------------------- */

static bool same_bundle(const sw_answer_bundle *a, const sw_answer_bundle *b) {
    bool same = a->cost == b->cost && a->points == b->points && a->swap_count == b->swap_count &&
                a->task_count == b->task_count && a->open == 0;
    for (size_t s = 0; same && s < a->swap_count; s++) {
        const sw_answer_swap *x = &a->swaps[s], *y = &b->swaps[s];
        same = strcmp(x->role, y->role) == 0 && x->in_count == y->in_count;
        for (size_t i = 0; same && i < x->in_count; i++)
            same = strcmp(x->in[i].id, y->in[i].id) == 0 &&
                   strcmp(x->in[i].seller, y->in[i].seller) == 0;
    }
    return same;
}

/* Steps of the whole from the one that holds at `from` on. */
static void one_piece(const job *j, const sw_answer *whole, int64_t from, int64_t to) {
    sw_plan_options options = sw_plan_options_default();
    sw_answer *piece = NULL;
    options.seconds = 600;
    options.curve_from = from;
    options.curve_to = to;
    sw_status status = sw_curve(&piece, j->scenario, &options, j->complaints);
    held("piece-ends", status == SW_OK && piece->status != SW_STOPPED_EARLY, "%s: status %d",
         j->file, (int)status);
    if (status != SW_OK)
        return;
    size_t first = 0, end = 0;
    while (end < whole->bundle_count && whole->bundles[end].cost <= to)
        end++;
    while (first + 1 < end && whole->bundles[first + 1].cost <= from)
        first++;
    bool same = piece->bundle_count == end - first;
    for (size_t i = 0; same && i < piece->bundle_count; i++)
        same = same_bundle(&piece->bundles[i], &whole->bundles[first + i]);
    held(from == to ? "piece-of-one-cost" : "piece", same,
         "%s: %zu steps from %lld to %lld, %zu of the whole", j->file, piece->bundle_count,
         (long long)from, (long long)to, end - first);
    sw_answer_free(piece);
}

/* A cost along the curve, a little before its start, or beyond its end; often right at a step. */
static int64_t draw_cost(const sw_answer *whole) {
    int64_t first = whole->bundles[0].cost, last = whole->bundles[whole->bundle_count - 1].cost;
    int64_t cost = first * 9 / 10 + (int64_t)draw((uint64_t)(last * 11 / 10 - first * 9 / 10 + 2));
    if (draw(2) == 0)
        cost = whole->bundles[draw(whole->bundle_count)].cost - (int64_t)draw(2);
    return cost < 0 ? 0 : cost;
}

void check_pieces(const job *j, long count) {
    sw_plan_options options = sw_plan_options_default();
    sw_answer *whole = NULL;
    options.seconds = 600;
    sw_status status = sw_curve(&whole, j->scenario, &options, j->complaints);
    bool good = status == SW_OK && whole->status == SW_OPTIMAL && whole->bundle_count > 0;
    for (long i = 0; i < count && good; i++) {
        int64_t a = draw_cost(whole), b = i % 3 == 0 ? a : draw_cost(whole);
        one_piece(j, whole, a < b ? a : b, a < b ? b : a);
    }
    if (status == SW_OK)
        sw_answer_free(whole);
}

/* ---- memory ------------------------------------------------------------------------------- */

void check_memory(const char *file, double most_mb) {
    bench_curve curve;
    bool good = bench_ask_curve(&curve, file, 600);
    held("memory-curve", good && curve.proved, "%s: no whole curve", file);
    if (good)
        held("memory", curve.peak_mb < most_mb, "%s: %.1f MB", file, curve.peak_mb);
    if (good)
        printf("%s: %zu steps, %.1f MB at the peak, %.1f s\n", file, curve.count, curve.peak_mb,
               curve.all_s);
    free(curve.steps);
}
