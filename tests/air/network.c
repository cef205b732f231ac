/*
 * Steady flow by the content of the network (Millar 1951, from memory): of all flows that add
 * up to 0 at every place the true ones make
 *
 *     sum over edges of  resistance x |q|^3 / 3 - source x q
 *
 * least, and the pressures are the multipliers of the places. The content is strictly convex,
 * so Newton's steps with a search along each of them come to its only low point. (For pipes the
 * same steps are known as the global gradient method, Todini and Pilati 1987, from memory.)
 * Nothing here looks for a pressure at which a sum of flows is 0.
 */
#include "network.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_STEPS = 400, MOST_HALVINGS = 60 };

typedef long double Real;

typedef struct Step {
    Real flow[MOST_EDGES], pressure[MOST_PLACES], change[MOST_EDGES];
    bool held[MOST_PLACES]; /* at 0 Pa: one place of each piece of the network */
} Step;

static void too_many(const char *what) {
    fprintf(stderr, "network: too many %s\n", what);
    exit(2);
}

void network_start(Network *net) {
    memset(net, 0, sizeof *net);
    net->places = 1;
}

size_t network_place(Network *net) {
    if (net->places == MOST_PLACES)
        too_many("places");
    return net->places++;
}

void network_edge(Network *net, size_t from, size_t to, double source_pa, double resistance) {
    if (net->edges == MOST_EDGES)
        too_many("edges");
    net->edge[net->edges++] =
        (Edge){.from = from, .to = to, .source_pa = source_pa, .resistance = resistance};
}

/* Marks what hangs together with `place`. */
static void reach(const Network *net, size_t place, bool *reached) {
    reached[place] = true;
    for (size_t e = 0; e < net->edges; e++) {
        size_t from = net->edge[e].from, to = net->edge[e].to;
        if (from == place && !reached[to])
            reach(net, to, reached);
        if (to == place && !reached[from])
            reach(net, from, reached);
    }
}

static void hold_places(const Network *net, bool *held) {
    bool reached[MOST_PLACES] = {false};
    for (size_t p = 0; p < net->places; p++) {
        held[p] = !reached[p];
        if (held[p])
            reach(net, p, reached);
    }
}

/* What is left of the edge's pressure balance at the flow q. */
static Real unbalance(const Edge *edge, const Step *s, Real q) {
    return edge->source_pa - edge->resistance * q * fabsl(q) -
           (s->pressure[edge->to] - s->pressure[edge->from]);
}

/* Flows near 0 would make the slope of q|q| vanish; `floor` keeps it up. */
static Real slope(const Edge *edge, const Step *s, size_t e, Real floor) {
    return 2 * edge->resistance * fmaxl(fabsl(s->flow[e]), floor);
}

/* Gauss with pivots on a symmetric positive matrix; the answer comes in `right`. */
static void eliminate(Real m[MOST_PLACES][MOST_PLACES], Real *right, size_t n) {
    for (size_t k = 0; k < n; k++) {
        size_t best = k;
        for (size_t i = k + 1; i < n; i++)
            if (fabsl(m[i][k]) > fabsl(m[best][k]))
                best = i;
        for (size_t j = 0; j < n; j++) {
            Real held = m[k][j];
            m[k][j] = m[best][j];
            m[best][j] = held;
        }
        Real held = right[k];
        right[k] = right[best];
        right[best] = held;
        for (size_t i = k + 1; i < n; i++) {
            Real f = m[i][k] / m[k][k];
            for (size_t j = k; j < n; j++)
                m[i][j] -= f * m[k][j];
            right[i] -= f * right[k];
        }
    }
    for (size_t k = n; k-- > 0;) {
        for (size_t j = k + 1; j < n; j++)
            right[k] -= m[k][j] * right[j];
        right[k] /= m[k][k];
    }
}

/* The pressures with which the changes of the flows add up to 0 at every place. */
static void find_pressures(const Network *net, Step *s, Real floor) {
    static Real m[MOST_PLACES][MOST_PLACES];
    memset(m, 0, sizeof m);
    memset(s->pressure, 0, sizeof s->pressure);
    for (size_t e = 0; e < net->edges; e++) {
        const Edge *edge = &net->edge[e];
        Real q = s->flow[e], ease = 1 / slope(edge, s, e, floor);
        Real drive = (edge->source_pa - edge->resistance * q * fabsl(q)) * ease;
        m[edge->from][edge->from] += ease;
        m[edge->to][edge->to] += ease;
        m[edge->from][edge->to] -= ease;
        m[edge->to][edge->from] -= ease;
        s->pressure[edge->from] -= drive;
        s->pressure[edge->to] += drive;
    }
    for (size_t p = 0; p < net->places; p++) {
        if (!s->held[p])
            continue;
        for (size_t i = 0; i < net->places; i++)
            m[p][i] = m[i][p] = 0;
        m[p][p] = 1;
        s->pressure[p] = 0;
    }
    eliminate(m, s->pressure, net->places);
}

static void find_changes(const Network *net, Step *s, Real floor) {
    find_pressures(net, s, floor);
    for (size_t e = 0; e < net->edges; e++)
        s->change[e] = unbalance(&net->edge[e], s, s->flow[e]) / slope(&net->edge[e], s, e, floor);
}

/* How fast the content rises at `t` along the step; the pressures take no part in the sum,
 * since the changes add up to 0 at every place, but keep it exact near the end. */
static Real rise(const Network *net, const Step *s, Real t) {
    Real sum = 0;
    for (size_t e = 0; e < net->edges; e++)
        sum -= s->change[e] * unbalance(&net->edge[e], s, s->flow[e] + t * s->change[e]);
    return sum;
}

/* The whole step, or as much of it as goes down. */
static Real search(const Network *net, const Step *s) {
    if (rise(net, s, 1) <= 0.9L * fabsl(rise(net, s, 0)))
        return 1;
    Real low = 0, high = 1;
    for (int i = 0; i < MOST_HALVINGS; i++) {
        Real middle = (low + high) / 2;
        if (rise(net, s, middle) < 0)
            low = middle;
        else
            high = middle;
    }
    return (low + high) / 2;
}

/* The flow that the strongest source would move through the easiest edge. */
static Real scale_of(const Network *net) {
    Real source = 0, resistance = INFINITY;
    for (size_t e = 0; e < net->edges; e++) {
        source = fmaxl(source, fabsl((Real)net->edge[e].source_pa));
        resistance = fminl(resistance, net->edge[e].resistance);
    }
    return source > 0 ? sqrtl(source / resistance) : 0;
}

static Real take_step(const Network *net, Step *s, Real floor) {
    Real most = 0;
    find_changes(net, s, floor);
    Real t = search(net, s);
    for (size_t e = 0; e < net->edges; e++) {
        s->flow[e] += t * s->change[e];
        most = fmaxl(most, fabsl(t * s->change[e]));
    }
    return most;
}

bool network_solve(Network *net) {
    static Step s;
    memset(&s, 0, sizeof s);
    hold_places(net, s.held);
    Real scale = scale_of(net), least = 1e-13L * scale, floor = scale;
    bool settled = scale <= 0;
    for (int i = 0; !settled && i < MOST_STEPS; i++) {
        settled = take_step(net, &s, floor) < least && floor <= least;
        floor = fmaxl(floor / 8, least);
    }
    for (size_t e = 0; e < net->edges; e++)
        net->edge[e].flow_m3_s = (double)s.flow[e];
    for (size_t p = 0; p < net->places; p++)
        net->pressure_pa[p] = (double)s.pressure[p];
    return settled;
}
