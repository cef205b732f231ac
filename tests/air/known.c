/*
 * Cases with an answer in closed form. A fan gives p0 (1 - (Q/Q0)^2), openings take k Q^2, and the
 * air flows where the two curves cross: with K = k Q0^2 / p0 one fan moves Q0 / sqrt(1 + K), n of
 * them beside each other n Q0 / sqrt(1 + n^2 K). (Operating point, fans in parallel and in series:
 * AMCA Publication 201, from memory; the algebra is done beside each case.)
 */
#include "case.h"

#include <math.h>
#include <stdio.h>

enum { IN = true, OUT = false };

static const double q0 = 90, p0 = 12; /* the fan of most cases, m3/h and Pa */

static void put_fans(Case *box, size_t count, bool blows_in, double q, double p) {
    for (size_t i = 0; i < count; i++)
        box->fan[box->fans++] = (sw_air_fan){.free_m3_h = q, .stall_pa = p, .blows_in = blows_in};
}

/* The area whose orifice takes `pa` at the flow: dp = 1.204/2 (Q / (0.6 A))^2. */
static double area_cm2(double m3_h, double pa) {
    return m3_h / 3600 / 0.6 / sqrt(2 * pa / 1.204) * 10000;
}

static void each_fan(Found *found, size_t from, size_t count, double m3_h) {
    for (size_t i = 0; i < count; i++)
        found->fan_m3_h[from + i] = m3_h;
}

static void nothing(Case *box, Found *found) {
    (void)box;
    (void)found; /* no fans, no vents: 0 everywhere */
}

static void only_vents(Case *box, Found *found) {
    box->vents_cm2 = 240;
    (void)found; /* nothing drives the air */
}

static void shut_in(Case *box, Found *found) {
    put_fans(box, 1, IN, q0, p0);
    found->air.inside_pa = p0; /* no way out: the fan stalls */
}

static void shut_out(Case *box, Found *found) {
    put_fans(box, 1, OUT, q0, p0);
    found->air.inside_pa = -p0;
}

/* n fans against vents with a given K: each moves x Q0, x = 1 / sqrt(1 + n^2 K); the vents take
 * K p0 at the flow Q0. */
static void beside(Case *box, Found *found, size_t n, double k, bool blows_in) {
    put_fans(box, n, blows_in, q0, p0);
    box->vents_cm2 = area_cm2(q0, k * p0);
    double x = 1 / sqrt(1 + (double)(n * n) * k), all = (double)n * x * q0;
    each_fan(found, 0, n, x * q0);
    found->air = (sw_air){.inside_pa = (blows_in ? 1 : -1) * p0 * (1 - x * x),
                          .in_m3_h = blows_in ? all : 0,
                          .out_m3_h = blows_in ? 0 : all,
                          .through_m3_h = all};
}

static void one_half_way(Case *box, Found *found) { beside(box, found, 1, 1, IN); }
static void one_choked(Case *box, Found *found) { beside(box, found, 1, 3, IN); }
static void one_free(Case *box, Found *found) { beside(box, found, 1, 0.0001, OUT); }
static void two_beside(Case *box, Found *found) { beside(box, found, 2, 2, IN); }
static void three_beside(Case *box, Found *found) { beside(box, found, 3, 8.0 / 9, OUT); }
static void six_beside(Case *box, Found *found) { beside(box, found, 6, 0.5, IN); }

/* n alike in, n alike out, with or without vents: no pressure, and the flows add. */
static void balanced(Case *box, Found *found, size_t n) {
    put_fans(box, n, IN, q0, p0);
    put_fans(box, n, OUT, q0, p0);
    each_fan(found, 0, 2 * n, q0);
    double all = (double)n * q0;
    found->air = (sw_air){.in_m3_h = all, .out_m3_h = all, .through_m3_h = all};
}

static void in_and_out(Case *box, Found *found) { balanced(box, found, 1); }

static void two_and_two(Case *box, Found *found) { balanced(box, found, 2); }

static void three_and_three_vented(Case *box, Found *found) {
    balanced(box, found, 3);
    box->vents_cm2 = 300;
}

/* Two in, one out, all alike, no vents: 2 sqrt(1 - y) = sqrt(1 + y), y = 3/5 of p0. The one that
 * blows out is driven beyond its free flow. */
static void two_against_one(Case *box, Found *found) {
    put_fans(box, 2, IN, q0, p0);
    put_fans(box, 1, OUT, q0, p0);
    double all = q0 * sqrt(1.6);
    each_fan(found, 0, 2, all / 2);
    each_fan(found, 2, 1, all);
    found->air =
        (sw_air){.inside_pa = 0.6 * p0, .in_m3_h = all, .out_m3_h = all, .through_m3_h = all};
}

/* Two unlike fans in a row: (p1 + p2) = (p1/Q1^2 + p2/Q2^2) Q^2. 9 + 16 = (1 + 4) Q^2 in units
 * of 30 m3/h: Q = sqrt(5) x 30, and 9 - 5 = 4 Pa are left inside. */
static void unlike_in_a_row(Case *box, Found *found) {
    put_fans(box, 1, IN, 90, 9);
    put_fans(box, 1, OUT, 60, 16);
    double q = 30 * sqrt(5);
    each_fan(found, 0, 2, q);
    found->air = (sw_air){.inside_pa = 4, .in_m3_h = q, .out_m3_h = q, .through_m3_h = q};
}

/* Two unlike fans both in, no vents: what one brings goes back through the other. Inside
 * 20 - 2 x^2 = 8 + 1 x^2 in units of 20 m3/h: x = 2, 12 Pa. */
static void back_through_the_weaker(Case *box, Found *found) {
    put_fans(box, 1, IN, 20 * sqrt(10), 20);
    put_fans(box, 1, IN, 20 * sqrt(8), 8);
    found->fan_m3_h[0] = 40;
    found->fan_m3_h[1] = -40;
    found->air = (sw_air){.inside_pa = 12, .through_m3_h = 40};
}

/* The same with vents: 40 m3/h more go out through them, and the strong fan is stronger:
 * 44 - 2 x^2 with x = 4 are the same 12 Pa, 80 m3/h of which 40 go back. */
static void back_with_vents(Case *box, Found *found) {
    put_fans(box, 1, OUT, 20 * sqrt(22), 44);
    put_fans(box, 1, OUT, 20 * sqrt(8), 8);
    box->vents_cm2 = area_cm2(40, 12);
    found->fan_m3_h[0] = 80;
    found->fan_m3_h[1] = -40;
    found->air = (sw_air){.inside_pa = -12, .out_m3_h = 40, .through_m3_h = 80};
}

/* The strong one holds the weak one exactly at its stall: no air through it. */
static void held_at_stall(Case *box, Found *found) {
    put_fans(box, 1, IN, 100, 25);
    put_fans(box, 1, IN, 70, 16);
    box->vents_cm2 = area_cm2(60, 16); /* 25 (1 - 0.6^2) = 16 */
    found->fan_m3_h[0] = 60;
    found->air = (sw_air){.inside_pa = 16, .in_m3_h = 60, .through_m3_h = 60};
}

/* A fan that blows in is overcome by one that blows out far harder, no vents: the air still goes
 * its way, faster than free. 5 x^2 = 1 + 44 in units of 50 m3/h: x = 3, inside 1 - 9 = -8 Pa. */
static void dragged_along(Case *box, Found *found) {
    put_fans(box, 1, IN, 50, 1);
    put_fans(box, 1, OUT, 50 * sqrt(11), 44);
    each_fan(found, 0, 2, 150);
    found->air = (sw_air){.inside_pa = -8, .in_m3_h = 150, .out_m3_h = 150, .through_m3_h = 150};
}

/* Two in and one out with vents: 100 in each at 9 Pa, 60 out at 9 Pa, 140 out of the vents. */
static void all_at_once(Case *box, Found *found) {
    put_fans(box, 2, IN, 100 / sqrt(0.25), 12); /* 12 (1 - 1/4) = 9 */
    put_fans(box, 1, OUT, 30, 3);               /* 3 ((60/30)^2 - 1) = 9 */
    box->vents_cm2 = area_cm2(140, 9);
    each_fan(found, 0, 2, 100);
    found->fan_m3_h[2] = 60;
    found->air = (sw_air){.inside_pa = 9, .in_m3_h = 200, .out_m3_h = 60, .through_m3_h = 200};
}

typedef struct Known {
    const char *name;
    void (*make)(Case *, Found *);
} Known;

static const Known known[] = {
    {"nothing at all", nothing},
    {"vents alone", only_vents},
    {"one in, shut", shut_in},
    {"one out, shut", shut_out},
    {"one in, K 1", one_half_way},
    {"one in, K 3", one_choked},
    {"one out, K 1/10000", one_free},
    {"two in, K 2", two_beside},
    {"three out, K 8/9", three_beside},
    {"six in, K 1/2", six_beside},
    {"one in, one out, alike", in_and_out},
    {"two in, two out, alike", two_and_two},
    {"three in, three out, alike, vents", three_and_three_vented},
    {"two in, one out, alike", two_against_one},
    {"one in, one out, unlike", unlike_in_a_row},
    {"two in, unlike, shut", back_through_the_weaker},
    {"two out, unlike, vents", back_with_vents},
    {"one held at its stall", held_at_stall},
    {"one dragged along", dragged_along},
    {"in, out and vents", all_at_once},
};

size_t known_cases(void) { return sizeof known / sizeof *known; }

void known_case(size_t number, Case *box, Found *found) {
    *box = (Case){.fans = 0};
    *found = (Found){.fan_m3_h = {0}};
    snprintf(box->name, sizeof box->name, "%s", known[number].name);
    known[number].make(box, found);
}
