/*
 * A case as a network. The room is place 0 and the inside of the case another; what stands
 * between them is taken apart into edges that must do the same:
 *
 *   openings beside each other   areas add
 *   openings behind each other   1/A^2 adds: the same flow, pressures add
 *   a fan in stages              the same flow, pressures add: parts of the stall pressure
 *   a fan as narrower ones       the same pressure, flows add: parts of the free flow
 *   a fan behind an opening      the curve's fall is split between the two
 */
#include "case.h"
#include "network.h"

#include <math.h>

enum { ROOM, INSIDE };

typedef struct Plan {
    Network net;
    Dice *dice;
    Fault fault;
    size_t first[MOST_FANS + 2]; /* edges of a fan: first[i] to first[i + 1]; then the vents */
    bool counted[MOST_EDGES];    /* the one edge of a row that tells its flow */
} Plan;

static double hour_s(const Plan *plan) { return plan->fault == HOUR_SHORT ? 3599 : 3600; }

/* dp = rho/2 (Q / (0.6 A))^2 */
static double orifice(const Plan *plan, double area_m2) {
    double discharge = plan->fault == OTHER_DISCHARGE ? 0.6001 : 0.6;
    double density = plan->fault == OTHER_DENSITY ? 1.2 : 1.204;
    return density / (2 * discharge * discharge * area_m2 * area_m2);
}

/* Two edges in a row, the second of which tells the flow. */
static void add_row(Plan *plan, size_t from, size_t to, const double source[2],
                    const double resistance[2]) {
    size_t middle = network_place(&plan->net);
    network_edge(&plan->net, from, middle, source[0], resistance[0]);
    plan->counted[plan->net.edges] = true;
    network_edge(&plan->net, middle, to, source[1], resistance[1]);
}

static void add_single(Plan *plan, size_t from, size_t to, double source, double resistance) {
    plan->counted[plan->net.edges] = true;
    network_edge(&plan->net, from, to, source, resistance);
}

static void add_opening(Plan *plan, double area_m2) {
    double all = orifice(plan, area_m2), u = between(plan->dice, 0.1, 0.9);
    bool turned = below(plan->dice, 2) == 1;
    size_t from = turned ? INSIDE : ROOM, to = turned ? ROOM : INSIDE;
    if (below(plan->dice, 3) == 0)
        add_row(plan, from, to, (double[]){0, 0}, (double[]){u * all, (1 - u) * all});
    else
        add_single(plan, from, to, 0, all);
}

static void add_vents(Plan *plan, double area_m2) {
    int parts = 1 + below(plan->dice, 4);
    double left = area_m2 * (plan->fault == VENT_LOST ? 0.9999 : 1);
    for (int i = parts; i > 1; i--) {
        double one = left * between(plan->dice, 0.05, 0.9);
        add_opening(plan, one);
        left -= one;
    }
    add_opening(plan, left);
}

static void add_fan(Plan *plan, const sw_air_fan *fan) {
    size_t from = fan->blows_in ? ROOM : INSIDE, to = fan->blows_in ? INSIDE : ROOM;
    double free_m3_s = fan->free_m3_h / hour_s(plan);
    double stall = fan->stall_pa * (plan->fault == FAN_SHORT ? 0.9999 : 1);
    double fall = fan->stall_pa / (free_m3_s * free_m3_s), u = between(plan->dice, 0.1, 0.9);
    double rest = 1 - u;
    switch (below(plan->dice, 4)) {
    case 0:
        add_row(plan, from, to, (double[]){u * stall, rest * stall},
                (double[]){u * fall, rest * fall});
        break;
    case 1:
        add_single(plan, from, to, stall, fall / (u * u));
        add_single(plan, from, to, stall, fall / (rest * rest));
        break;
    case 2:
        add_row(plan, from, to, (double[]){0, stall}, (double[]){u * fall, rest * fall});
        break;
    default:
        add_single(plan, from, to, stall, fall);
        break;
    }
}

/* What comes out of the room and what goes into it. */
static double from_room(const Network *net) {
    double sum = 0;
    for (size_t e = 0; e < net->edges; e++) {
        double out = net->edge[e].from == ROOM ? net->edge[e].flow_m3_s : 0;
        out -= net->edge[e].to == ROOM ? net->edge[e].flow_m3_s : 0;
        sum += fmax(out, 0);
    }
    return sum;
}

static void read_off(const Plan *plan, const Case *box, Found *found) {
    const Network *net = &plan->net;
    *found = (Found){.air = {.inside_pa = net->pressure_pa[INSIDE],
                             .through_m3_h = from_room(net) * hour_s(plan)}};
    for (size_t f = 0; f < box->fans; f++) {
        double sum = 0;
        for (size_t e = plan->first[f]; e < plan->first[f + 1]; e++)
            sum += plan->counted[e] ? net->edge[e].flow_m3_s : 0;
        found->fan_m3_h[f] = sum * hour_s(plan);
        if (box->fan[f].blows_in)
            found->air.in_m3_h += found->fan_m3_h[f];
        else
            found->air.out_m3_h += found->fan_m3_h[f];
    }
}

bool ask_network(Found *found, const Case *box, Dice *dice, Fault fault) {
    Plan plan = {.dice = dice, .fault = fault};
    network_start(&plan.net);
    network_place(&plan.net);
    for (size_t f = 0; f < box->fans; f++) {
        plan.first[f] = plan.net.edges;
        add_fan(&plan, &box->fan[f]);
    }
    plan.first[box->fans] = plan.net.edges;
    if (box->vents_cm2 > 0)
        add_vents(&plan, box->vents_cm2 / 10000);
    if (!network_solve(&plan.net))
        return false;
    read_off(&plan, box, found);
    return true;
}
