/* The frontier against a plain list of everything that was added to it. */
#include "sweep.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define GROUPS 3
#define PICKS 4 /* in each group */
#define COSTS 24

typedef struct fake {
    sw_program program;
    sw_pick picks[GROUPS * PICKS];
} fake;

/* Ranks that often tie, so that the order of ties is asked for. */
static void make_fake(fake *f) {
    memset(f, 0, sizeof *f);
    f->program.group_count = GROUPS;
    f->program.picks = f->picks;
    for (int i = 0; i < GROUPS * PICKS; i++) {
        f->picks[i].bundle_rank = (int)draw(3);
        f->picks[i].seller_rank = i % PICKS;
    }
}

typedef struct list {
    sw_tally tally[64];
    int picks[64][GROUPS];
    int count;
} list;

/* Whatever costs less than `from` counts at that cost. */
static int best_at(const fake *f, const list *l, const sw_frontier *front, int64_t budget) {
    int best = SW_NONE;
    budget = budget > front->from ? budget : front->from;
    for (int i = 0; i < l->count; i++)
        if (l->tally[i].cost <= budget && l->tally[i].points >= front->points_least &&
            (best == SW_NONE || sw_tally_compare(&f->program, &l->tally[i], l->picks[i],
                                                 &l->tally[best], l->picks[best], true) < 0))
            best = i;
    return best;
}

static const sw_tread *tread_for(const sw_frontier *f, int64_t budget) {
    const sw_tread *at = NULL;
    for (size_t i = 0; i < f->count; i++)
        if (f->treads[i].tally.cost <= budget)
            at = &f->treads[i];
    return at;
}

static void add_random(list *l, sw_frontier *front) {
    int at = l->count++;
    sw_tally *t = &l->tally[at];
    memset(t, 0, sizeof *t);
    t->cost = (int64_t)draw(COSTS);
    t->points = t->cost / 2 + (int64_t)draw(8);
    t->order = (int64_t)draw(2);
    for (int g = 0; g < GROUPS; g++)
        l->picks[at][g] = g * PICKS + (int)draw(PICKS);
    if (sw_frontier_add(front, t, l->picks[at]) != SW_OK)
        abort();
}

static bool rises(const sw_frontier *f) {
    for (size_t i = 1; i < f->count; i++)
        if (f->treads[i].tally.cost <= f->treads[i - 1].tally.cost ||
            f->treads[i].tally.points <= f->treads[i - 1].tally.points)
            return false;
    return true;
}

/* Would a bundle of this cost and these points be a step, or tie with one? */
static bool wanted(const fake *f, const list *l, const sw_frontier *front, int64_t cost,
                   int64_t points) {
    if (cost > front->to || points < front->points_least)
        return false;
    int best = best_at(f, l, front, cost);
    return best == SW_NONE || points > l->tally[best].points ||
           (points == l->tally[best].points && cost <= l->tally[best].cost);
}

static void check_least(const fake *f, const list *l, const sw_frontier *front) {
    int64_t low = (int64_t)draw(COSTS), high = low + (int64_t)draw(COSTS);
    double money = (double)draw(40) / 8, least = INFINITY;
    double got = sw_frontier_least(front, money, low, high);
    bool any = false;
    /* What costs less than `from` counts as if it cost that much: the first stretch has it. */
    int64_t first = low > front->from ? low : 0, last = high < front->to ? high : front->to;
    if (low <= front->from && high < front->from)
        last = -1;
    for (int64_t cost = first; cost <= last; cost++)
        for (int64_t points = -4; points < COSTS + 8; points++)
            if (wanted(f, l, front, cost, points)) {
                any = any || best_at(f, l, front, cost) == SW_NONE;
                least = fmin(least, (double)points - money * (double)cost);
            }
    if (any) /* nothing is known at some cost: anything would be wanted there */
        held("frontier-least", got == -INFINITY, "not everything is wanted: %g", got);
    else
        held("frontier-least", got <= least + 1e-9, "%g, by definition %g (money %g, %lld to %lld)",
             got, least, money, (long long)low, (long long)high);
    /* And no less than it need be, where nothing but the definition counts. */
    if (!any && front->points_least == INT64_MIN)
        held("frontier-least-sharp", got >= least - 1e-9, "%g, by definition %g", got, least);
}

static void one_frontier(void) {
    fake f;
    list l = {.count = 0};
    make_fake(&f);
    sw_frontier front = {.program = &f.program, .to = COSTS - 1, .points_least = INT64_MIN};
    front.from = draw(2) == 0 ? 0 : (int64_t)draw(COSTS);
    if (draw(3) == 0)
        front.to = front.from + (int64_t)draw((uint64_t)(COSTS - front.from));
    if (draw(4) == 0)
        front.points_least = (int64_t)draw(10);
    int count = 1 + (int)draw(60);
    for (int i = 0; i < count; i++) {
        add_random(&l, &front);
        int64_t budget = front.from + (int64_t)draw((uint64_t)(front.to - front.from + 1));
        int best = best_at(&f, &l, &front, budget);
        const sw_tread *tread = tread_for(&front, budget);
        bool same = (best == SW_NONE) == (tread == NULL);
        /* Equal ranks can make two bundles tie wholly: either will do. */
        same =
            same && (tread == NULL || sw_tally_compare(&f.program, &tread->tally, tread->picks,
                                                       &l.tally[best], l.picks[best], true) == 0);
        held("frontier-best", same, "not the best of %d at %lld (from %lld)", l.count,
             (long long)budget, (long long)front.from);
        held("frontier-rises", rises(&front), "%zu treads", front.count);
        int64_t cost = (int64_t)draw(COSTS), points = (int64_t)draw(COSTS);
        held("frontier-wants",
             sw_frontier_wants(&front, cost, points) == wanted(&f, &l, &front, cost, points),
             "cost %lld, %lld points (from %lld to %lld)", (long long)cost, (long long)points,
             (long long)front.from, (long long)front.to);
        check_least(&f, &l, &front);
    }
    sw_frontier_free(&front);
}

void check_frontier(long count) {
    for (long i = 0; i < count; i++)
        one_frontier();
    put_to_the_test("frontier-best", count);
    put_to_the_test("frontier-least", count);
    put_to_the_test("frontier-least-sharp", count / 4);
}
