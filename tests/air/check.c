/*
 * air-network [--spoil N]: the air of the program (sw_air_through) against a network solved by
 * another method, on 200 random cases of a fixed seed; and both against closed forms. `--faults`
 * prints how many faults there are to plant.
 */
#include "case.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { RANDOM_CASES = 200 };

static const double relative = 1e-6;

typedef struct Count {
    size_t passed, failed;
} Count;

/* Below these an answer is 0 but for rounding. A flow goes with the root of a pressure: where a
 * fan stalls, the last bits of its pressure are a ten millionth of its free flow. */
typedef struct Floor {
    double pa, m3_h;
} Floor;

static Floor floor_of(const Case *box) {
    Floor floor = {0, 0};
    for (size_t f = 0; f < box->fans; f++) {
        floor.pa = fmax(floor.pa, 1e-12 * box->fan[f].stall_pa);
        floor.m3_h = fmax(floor.m3_h, 1e-7 * box->fan[f].free_m3_h);
    }
    return floor;
}

static bool near(double a, double b, double floor) {
    return isfinite(a) && isfinite(b) &&
           fabs(a - b) <= fmax(relative * fmax(fabs(a), fabs(b)), floor);
}

static bool same(const char *what, double a, double b, double floor, const char *whose,
                 const Case *box) {
    if (near(a, b, floor))
        return true;
    printf("FAILED %s: %s is %.12g, %s has %.12g\n", box->name, what, a, whose, b);
    return false;
}

static bool same_air(const Case *box, const Found *a, const Found *b, const char *whose) {
    Floor floor = floor_of(box);
    bool good = same("inside_pa", a->air.inside_pa, b->air.inside_pa, floor.pa, whose, box);
    good &= same("in_m3_h", a->air.in_m3_h, b->air.in_m3_h, floor.m3_h, whose, box);
    good &= same("out_m3_h", a->air.out_m3_h, b->air.out_m3_h, floor.m3_h, whose, box);
    good &= same("through_m3_h", a->air.through_m3_h, b->air.through_m3_h, floor.m3_h, whose, box);
    for (size_t f = 0; f < box->fans; f++) {
        char what[32];
        snprintf(what, sizeof what, "fan %zu", f + 1);
        good &= same(what, a->fan_m3_h[f], b->fan_m3_h[f], floor.m3_h, whose, box);
    }
    return good;
}

static void show(const Case *box) {
    printf("    vents %.9g cm2;", box->vents_cm2);
    for (size_t f = 0; f < box->fans; f++)
        printf(" %s %.9g m3/h %.9g Pa;", box->fan[f].blows_in ? "in" : "out", box->fan[f].free_m3_h,
               box->fan[f].stall_pa);
    puts("");
}

static void count(Count *counts, bool good, const Case *box) {
    if (good) {
        counts->passed++;
        return;
    }
    counts->failed++;
    show(box);
}

static bool ask_program(Found *found, const Case *box) {
    *found = (Found){.fan_m3_h = {0}};
    if (sw_air_through(&found->air, found->fan_m3_h, box->fan, box->fans, box->vents_cm2) == SW_OK)
        return true;
    printf("FAILED %s: the program refuses it\n", box->name);
    return false;
}

static bool ask(Found *found, const Case *box, Dice *dice, Fault fault) {
    if (ask_network(found, box, dice, fault))
        return true;
    printf("FAILED %s: the network does not settle\n", box->name);
    return false;
}

static void try_random(Count *counts, Fault fault) {
    Dice dice = 20251128;
    for (size_t i = 0; i < RANDOM_CASES; i++) {
        Case box;
        Found program, network;
        draw_case(&box, i, &dice);
        size_t length = strlen(box.name);
        snprintf(box.name + length, sizeof box.name - length, ", random case %zu", i);
        bool good = ask(&network, &box, &dice, fault) && ask_program(&program, &box) &&
                    same_air(&box, &program, &network, "the network");
        count(counts, good, &box);
    }
}

/* The closed form twice: it holds the network up as well as the program. */
static void try_known(Count *counts, Fault fault) {
    Dice dice = 15;
    for (size_t i = 0; i < known_cases(); i++) {
        Case box;
        Found wanted, program, network;
        known_case(i, &box, &wanted);
        count(counts,
              ask_program(&program, &box) && same_air(&box, &program, &wanted, "the closed form"),
              &box);
        count(counts,
              ask(&network, &box, &dice, fault) &&
                  same_air(&box, &network, &wanted, "(of the network) the closed form"),
              &box);
    }
}

/* The flows of the single fans need not be asked for. */
static void try_without_flows(Count *counts) {
    Case box;
    Found wanted, found = {.fan_m3_h = {0}};
    known_case(known_cases() - 1, &box, &wanted);
    sw_status status = sw_air_through(&found.air, NULL, box.fan, box.fans, box.vents_cm2);
    memcpy(found.fan_m3_h, wanted.fan_m3_h, sizeof found.fan_m3_h);
    count(counts, status == SW_OK && same_air(&box, &found, &wanted, "the closed form"), &box);
}

/* Neither a fan nor an area may be less than nothing, and a fan not even nothing. */
static void try_refused(Count *counts) {
    static const struct {
        double free_m3_h, stall_pa, vents_cm2;
    } bad[] = {{0, 10, 50},  {-5, 10, 50},  {NAN, 10, 50}, {60, 0, 50},
               {60, -1, 50}, {60, NAN, 50}, {60, 10, -1},  {60, 10, NAN}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        Case box = {.name = "not to be had",
                    .fans = 2,
                    .fan = {{60, 10, true}, {bad[i].free_m3_h, bad[i].stall_pa, false}},
                    .vents_cm2 = bad[i].vents_cm2};
        sw_air air = {.inside_pa = 77};
        sw_status status = sw_air_through(&air, NULL, box.fan, box.fans, box.vents_cm2);
        if (status != SW_BAD_DATA || air.inside_pa != 77)
            printf("FAILED %s: status %d\n", box.name, (int)status);
        count(counts, status == SW_BAD_DATA && air.inside_pa == 77, &box);
    }
}

int main(int argc, char **argv) {
    Fault fault = NO_FAULT;
    if (argc == 2 && strcmp(argv[1], "--faults") == 0) {
        printf("%d\n", FAULTS - 1);
        return 0;
    }
    if (argc == 3 && strcmp(argv[1], "--spoil") == 0)
        fault = (Fault)strtol(argv[2], NULL, 10);
    if ((argc != 1 && argc != 3) || fault < NO_FAULT || fault >= FAULTS ||
        (argc == 3 && fault == NO_FAULT)) {
        fputs("air-network [--spoil N | --faults]\n", stderr);
        return 2;
    }
    Count counts = {0, 0};
    try_random(&counts, fault);
    try_known(&counts, fault);
    try_without_flows(&counts);
    try_refused(&counts);
    printf("%zu passed, %zu failed\n", counts.passed, counts.failed);
    return counts.failed == 0 ? 0 : 1;
}
