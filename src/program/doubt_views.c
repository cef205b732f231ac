/* The views of the search over weights in doubt: the job at single weightings. */
#include "program/doubt_search.h"

#include <stdlib.h>
#include <string.h>

static int64_t common_divisor(int64_t a, int64_t b) {
    while (b != 0) {
        int64_t rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

/* Extremes without common divisors, each once. */
static sw_status take_extremes(sw_views *v, const sw_extremes *extremes) {
    size_t n = extremes->criteria;
    v->weight = SW_NEW(v->arena, int64_t, extremes->count * n);
    v->divisor = SW_NEW(v->arena, int64_t, extremes->count);
    v->which = SW_NEW(v->arena, int, extremes->count);
    if (v->weight == NULL || v->divisor == NULL || v->which == NULL)
        return SW_NO_MEMORY;
    for (size_t e = 0; e < extremes->count; e++) {
        int64_t *to = &v->weight[(size_t)v->extremes * n], divisor = 0;
        for (size_t c = 0; c < n; c++)
            divisor = common_divisor(divisor, extremes->weight[e * n + c]);
        for (size_t c = 0; c < n; c++)
            to[c] = divisor == 0 ? 0 : extremes->weight[e * n + c] / divisor;
        v->divisor[e] = divisor;
        v->which[e] = 0;
        while (memcmp(&v->weight[(size_t)v->which[e] * n], to, n * sizeof *to) != 0)
            v->which[e]++;
        if (v->which[e] == v->extremes)
            v->extremes++;
    }
    return SW_OK;
}

static sw_view *new_view(sw_views *v) {
    sw_view *view = &v->view[v->count++];
    for (int e = 0; e < v->extremes; e++)
        view->times[e] = 0;
    return view;
}

/* The extremes `a` and `b` mixed, others not at all. */
static void mix_two(sw_views *v, const int64_t *part, int a, int b, int times_a, int times_b) {
    if (v->count == SW_VIEWS_MOST)
        return;
    sw_view *view = new_view(v);
    view->times[a] = times_a * part[a];
    view->times[b] = times_b * part[b];
}

/* All extremes mixed, one of them more than the others (SW_NONE: none). */
static void mix_all(sw_views *v, const int64_t *part, int one) {
    if (v->count == SW_VIEWS_MOST)
        return;
    sw_view *view = new_view(v);
    for (int e = 0; e < v->extremes; e++)
        view->times[e] = part[e] * (e == one ? v->extremes : 1);
}

#define SW_CLOSE_PART 100

/* Do the extremes differ so little that one view sees what all see? */
static bool are_close(const sw_views *v, const int64_t *part) {
    int64_t most = 0, apart = 0;
    for (size_t c = 0; c < v->criteria; c++) {
        int64_t low = INT64_MAX, high = 0;
        for (int e = 0; e < v->extremes; e++) {
            int64_t weight = v->weight[(size_t)e * v->criteria + c] * part[e];
            low = weight < low ? weight : low;
            high = weight > high ? weight : high;
        }
        most = high > most ? high : most;
        apart = high - low > apart ? high - low : apart;
    }
    return apart <= most / SW_CLOSE_PART;
}

/* Mixtures: the middle of all, on the way between two extremes, and around the middle, while
 * extremes are few. Any whole multiples will do; these bring the extremes to about one sum. */
static void mix(sw_views *v) {
    int64_t part[SW_EXTREMES_MOST] = {0}, most = 0;
    int n = v->extremes;
    for (int e = 0; e < n; e++) {
        part[e] = 0;
        for (size_t c = 0; c < v->criteria; c++)
            part[e] += v->weight[(size_t)e * v->criteria + c];
        most = part[e] > most ? part[e] : most;
    }
    for (int e = 0; e < n; e++) {
        part[e] = sw_divide(most, part[e], SW_HALF_UP);
        new_view(v)->times[e] = 1;
    }
    if (n == 1)
        return;
    mix_all(v, part, SW_NONE);
    if (are_close(v, part))
        return;
    for (int a = 0; a < n && n <= 6; a++)
        for (int b = a + 1; b < n; b++) {
            if (n > 2)
                mix_two(v, part, a, b, 1, 1);
            for (int side = 0; side < 2 && n <= 3; side++)
                mix_two(v, part, a, b, side == 0 ? 3 : 1, side == 0 ? 1 : 3);
            for (int side = 0; side < 2 && n == 2; side++)
                mix_two(v, part, a, b, side == 0 ? 8 : 1, side == 0 ? 1 : 8);
        }
    for (int e = 0; e < n && (n == 3 || n == 4); e++)
        mix_all(v, part, e);
}

static sw_status make_view(sw_views *v, sw_view *view, int64_t limit, bool *small) {
    int64_t *weight = SW_NEW(v->arena, int64_t, v->criteria);
    sw_pick *picks = SW_NEW(v->arena, sw_pick, v->of->pick_count);
    if (weight == NULL || picks == NULL)
        return SW_NO_MEMORY;
    for (int e = 0; e < v->extremes; e++) {
        view->scale += (double)view->times[e];
        for (size_t c = 0; c < v->criteria; c++) {
            int64_t more;
            if (!sw_multiply(&more, view->times[e], v->weight[(size_t)e * v->criteria + c]) ||
                !sw_add(&weight[c], weight[c], more))
                return SW_BAD_DATA;
        }
    }
    sw_status status = sw_estimates_weighed(&view->estimates, v->arena, v->of->estimates, weight);
    if (status != SW_OK)
        return status;
    memcpy(picks, v->of->picks, v->of->pick_count * sizeof *picks);
    view->program = *v->of;
    view->program.estimates = &view->estimates;
    view->program.picks = picks;
    view->program.known = NULL;
    view->program.known_count = view->program.known_room = 0;
    for (int aim = 0; aim < SW_AIMS; aim++)
        view->program.price_count[aim] = 0;
    status = sw_program_score(&view->program);
    view->request = sw_request_for(&view->program, SW_AIM_BEST);
    view->request.limit = limit;
    if (status == SW_OK)
        status = sw_model_make(&view->m, &view->program, &view->request, v->out_of_it, false);
    *small = view->m != NULL;
    return status == SW_OK && *small ? sw_scratch_make(&view->x, view->m) : status;
}

/* What the picks add by themselves; and which are in no answer, because another of their group can
 * stand for them whatever the weights. */
static sw_status leave_out(sw_views *v) {
    sw_program *of = v->of;
    int64_t **doubtful = SW_NEW(v->arena, int64_t *, (size_t)v->extremes);
    if (doubtful == NULL)
        return SW_NO_MEMORY;
    for (int e = 0; e < v->extremes; e++) {
        doubtful[e] = SW_NEW(v->arena, int64_t, of->pick_count);
        if (doubtful[e] == NULL)
            return SW_NO_MEMORY;
        for (size_t c = 0; c < v->criteria; c++) {
            const int64_t *added = of->estimates->added[c];
            for (size_t p = 0; added != NULL && p < of->pick_count; p++) {
                int64_t more;
                if (!sw_multiply(&more, added[of->picks[p].fitout],
                                 v->weight[(size_t)e * v->criteria + c]) ||
                    !sw_add(&doubtful[e][p], doubtful[e][p], more))
                    return SW_BAD_DATA;
            }
        }
    }
    v->added = doubtful;
    of->doubtful = doubtful;
    of->doubtful_count = (size_t)v->extremes;
    sw_status status = sw_program_presolve(of);
    of->doubtful = NULL;
    for (size_t p = 0; status == SW_OK && p < of->pick_count; p++)
        v->out_of_it[p] = of->picks[p].ahead > 0;
    return status;
}

sw_status sw_views_make(sw_views *v, bool *small, sw_program *of, const sw_extremes *extremes,
                        int64_t limit) {
    *v = (sw_views){.arena = sw_arena_new(), .of = of, .criteria = extremes->criteria};
    *small = true;
    if (v->arena == NULL)
        return SW_NO_MEMORY;
    sw_status status = take_extremes(v, extremes);
    v->view = SW_NEW(v->arena, sw_view, SW_VIEWS_MOST);
    v->out_of_it = SW_NEW(v->arena, bool, of->pick_count);
    if (status != SW_OK || v->view == NULL || v->out_of_it == NULL)
        return SW_NO_MEMORY;
    for (int k = 0; k < SW_VIEWS_MOST; k++) {
        v->view[k].times = SW_NEW(v->arena, int64_t, (size_t)v->extremes);
        if (v->view[k].times == NULL)
            return SW_NO_MEMORY;
    }
    mix(v);
    status = leave_out(v);
    for (int k = 0; k < v->count && status == SW_OK && *small; k++)
        status = make_view(v, &v->view[k], limit, small);
    if (status == SW_OK && *small)
        v->rest = v->view[0].m->cost_worth * (double)v->view[0].m->limit;
    return status;
}

void sw_views_free(sw_views *v) {
    for (int k = 0; v->view != NULL && k < v->count; k++) {
        free(v->view[k].program.known);
        if (v->view[k].m != NULL)
            sw_arena_free(v->view[k].m->arena);
    }
    sw_arena_free(v->arena);
}
