/*
 * The sweep's labels over weights in doubt: its lanes are the views, its stretches parts of what is
 * open. Where bounds are loose, labels that replace each other see far more than a tree does.
 */
#include "program/doubt_search.h"
#include "program/sweep.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SW_ROOT_ROUNDS 200

typedef struct sweeper {
    sw_doubt *d;
    sw_sweep s;
    sw_asker asker;
    double floor[SW_STRETCHES * SW_LANES]; /* [part * views + view] */
} sweeper;

/* ---- what is open, in parts --------------------------------------------------------- */

static size_t open_count(const sw_archive *a) {
    return a->zone_count + (a->any_equal ? 0 : a->count);
}

static const double *floor_of(const sw_archive *a, size_t i) {
    return i < a->zone_count ? a->zones[i].floor : a->members[i - a->zone_count].floor;
}

static int *part_of(sw_archive *a, size_t i) {
    return i < a->zone_count ? &a->zones[i].part : &a->members[i - a->zone_count].part;
}

static void set_floors(sweeper *w) {
    sw_archive *a = &w->d->archive;
    size_t views = (size_t)w->d->views.count;
    for (size_t i = 0; i < (size_t)SW_STRETCHES * views; i++)
        w->floor[i] = INFINITY;
    for (size_t i = 0; i < open_count(a); i++) {
        double *floor = &w->floor[(size_t)*part_of(a, i) * views];
        for (size_t k = 0; k < views; k++)
            floor[k] = fmin(floor[k], floor_of(a, i)[k]);
    }
}

typedef struct ordered {
    double key;
    size_t index;
} ordered;

static int by_key(const void *left, const void *right) {
    const ordered *a = left, *b = right;
    if (a->key != b->key)
        return a->key < b->key ? -1 : 1;
    return (a->index > b->index) - (a->index < b->index);
}

/* The view in which the floors of these differ most. */
static int widest_view(const sweeper *w, const ordered *list, size_t count) {
    const sw_archive *a = &w->d->archive;
    int widest = 0;
    double most = -1;
    for (int k = 0; k < w->d->views.count; k++) {
        double low = INFINITY, high = -INFINITY;
        for (size_t i = 0; i < count; i++) {
            double x = floor_of(a, list[i].index)[k];
            low = fmin(low, x);
            high = fmax(high, x);
        }
        double spread = high > low ? (high - low) * w->s.lanes.unit[k] : 0;
        if (spread > most) {
            most = spread;
            widest = k;
        }
    }
    return widest;
}

/* Halves by the view in which they differ most, until there are as many parts as there may be. */
static void part(sweeper *w, ordered *list, size_t count, int first, int parts) {
    sw_archive *a = &w->d->archive;
    if (parts == 1 || count == 1) {
        for (size_t i = 0; i < count; i++)
            *part_of(a, list[i].index) = first;
        return;
    }
    int view = widest_view(w, list, count);
    for (size_t i = 0; i < count; i++)
        list[i].key = floor_of(a, list[i].index)[view];
    qsort(list, count, sizeof *list, by_key);
    part(w, list, count / 2, first, parts / 2);
    part(w, list + count / 2, count - count / 2, first + parts / 2, parts - parts / 2);
}

static void part_open(sweeper *w) {
    size_t count = open_count(&w->d->archive);
    ordered *list = malloc((count + 1) * sizeof *list);
    if (list == NULL) {
        w->d->status = SW_NO_MEMORY;
        return;
    }
    for (size_t i = 0; i < count; i++)
        list[i] = (ordered){0, i};
    part(w, list, count, 0, SW_STRETCHES);
    free(list);
    set_floors(w);
}

/* ---- what the sweep asks ---------------------------------------------------------------- */

static double least(void *who, int stretch, int lane) {
    const sweeper *w = who;
    return w->floor[stretch * w->d->views.count + lane];
}

static bool wants(void *who, const int64_t *value, int64_t cost) {
    sweeper *w = who;
    return cost <= w->d->limit && !sw_archive_covers(&w->d->archive, value, cost);
}

static sw_status take(bool *agrees, void *who, const int *picks, const int64_t *value,
                      int64_t cost) {
    sweeper *w = who;
    sw_doubt *d = w->d;
    sw_judged judged = sw_doubt_consider(d, picks);
    *agrees = judged.broken == SW_OVER_TIME || (judged.broken == SW_NONE && judged.cost <= cost);
    for (int e = 0; e < d->views.extremes && judged.broken == SW_NONE; e++)
        *agrees = *agrees && d->value[e] >= value[e];
    if (judged.taken) {
        set_floors(w);
        w->asker.age++;
    }
    return d->status;
}

/* ---- one round ----------------------------------------------------------------------------- */

static int64_t weight_in(const sw_views *v, const int64_t *weight, int criterion) {
    return criterion == SW_NONE || (size_t)criterion >= v->criteria ? 0 : weight[criterion];
}

static void set_lanes(sweeper *w) {
    const sw_views *v = &w->d->views;
    const sw_estimates *estimates = v->of->estimates;
    sw_lanes *lanes = &w->s.lanes;
    lanes->count = v->count;
    for (int k = 0; k < v->count; k++) {
        double all = 0;
        lanes->model[k] = v->view[k].m;
        lanes->scratch[k] = &v->view[k].x;
        for (int e = 0; e < v->extremes; e++) {
            const int64_t *weight = &v->weight[(size_t)e * v->criteria];
            double times = (double)v->view[k].times[e];
            for (size_t c = 0; c < v->criteria; c++)
                all += times * (double)weight[c];
            lanes->speed[k] += times * (double)weight_in(v, weight, estimates->speed);
            lanes->quiet[k] += times * (double)weight_in(v, weight, estimates->quiet);
        }
        lanes->unit[k] = 1 / all;
    }
    lanes->stretches = SW_STRETCHES;
    for (int i = 0; i < SW_STRETCHES; i++)
        lanes->high[i] = w->d->limit;
    w->s.aims = v->extremes;
    for (int e = 0; e < v->extremes; e++) {
        const int64_t *weight = &v->weight[(size_t)e * v->criteria];
        w->s.speed[e] = weight_in(v, weight, estimates->speed);
        w->s.quiet[e] = weight_in(v, weight, estimates->quiet);
        for (size_t c = 0; c < v->criteria; c++)
            if (estimates->added[c] != NULL)
                w->s.base[e] += weight[c] * estimates->added_base[c];
    }
    w->s.added = v->added;
}

static void run(sweeper *w, sw_node *root, double *price, size_t width, bool *complete) {
    sw_doubt *d = w->d;
    size_t prices = (size_t)sw_price_count(w->s.m);
    double bound[SW_LANES];
    d->status = sw_archive_zone(&d->archive);
    if (d->status == SW_OK)
        part_open(w);
    for (int k = 0; k < d->views.count && d->status == SW_OK; k++) {
        bound[k] = sw_lane_bound(&w->s, root, k, price + (size_t)k * prices, SW_ROOT_ROUNDS);
        if (k < d->views.extremes)
            d->most[k] = fmin(d->most[k], bound[k]);
    }
    if (d->status != SW_OK)
        return;
    *complete = !(sw_sweep_room(&w->s, bound) >= 0);
    if (!*complete)
        d->status = sw_sweep_visit(&w->s, root, price, bound, width, complete);
    if (d->status == SW_OK && !*complete)
        sw_doubt_climb(d);
}

sw_status sw_doubt_sweep(sw_doubt *d, double *price, size_t width, bool *complete) {
    sw_request request = sw_request_for(d->program, SW_AIM_BEST);
    request.limit = d->limit;
    sweeper *w = SW_NEW(d->views.arena, sweeper, 1);
    *complete = false;
    if (w == NULL)
        return SW_NO_MEMORY;
    w->d = d;
    w->asker = (sw_asker){w, least, wants, take, 0};
    w->s = (sw_sweep){.program = d->program, .allowance = d->allowance, .asker = &w->asker};
    sw_status status = sw_model_make(&w->s.m, d->program, &request, d->views.out_of_it, true);
    sw_model *m = w->s.m;
    if (status != SW_OK || m == NULL)
        return status;
    sw_node root = {.alive = SW_NEW(m->arena, sw_word, (size_t)m->words + 1),
                    .high = d->program->estimates->level_count - 1};
    status = sw_scratch_make(&w->s.x, m);
    if (root.alive == NULL)
        status = SW_NO_MEMORY;
    if (status == SW_OK && m->due_count <= SW_DUES_MOST) {
        memcpy(root.alive, m->root, (size_t)m->words * sizeof *root.alive);
        set_lanes(w);
        if (sw_node_prune(m, &root, &w->s.x, &status))
            run(w, &root, price, width, complete);
        else
            *complete = status == SW_OK;
        status = status == SW_OK ? d->status : status;
    }
    d->out_of_time = w->s.out_of_time;
    d->labels += w->s.labels;
    free(w->s.pool);
    sw_arena_free(m->arena);
    return status;
}
