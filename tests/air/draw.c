/* Random cases: every tenth of one kind, so that none is left to chance. */
#include "case.h"

#include <math.h>
#include <stdio.h>

uint64_t roll(Dice *dice) {
    uint64_t z = *dice += UINT64_C(0x9E3779B97F4A7C15);
    z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
    return z ^ (z >> 31);
}

int below(Dice *dice, int n) { return (int)(roll(dice) % (uint64_t)n); }

double between(Dice *dice, double least, double most) {
    return least + (most - least) * ((double)(roll(dice) >> 11) / 9007199254740992.0);
}

double spread(Dice *dice, double least, double most) {
    return exp(between(dice, log(least), log(most)));
}

/* A 40 mm fan at its slowest moves a few m3/h, a 200 mm one some hundred. */
static void draw_fan(sw_air_fan *fan, Dice *dice, bool blows_in) {
    *fan = (sw_air_fan){
        .free_m3_h = spread(dice, 4, 350), .stall_pa = spread(dice, 0.2, 60), .blows_in = blows_in};
}

static void draw_fans(Case *box, Dice *dice, size_t least) {
    box->fans = least + (size_t)below(dice, MOST_FANS + 1 - (int)least);
    for (size_t f = 0; f < box->fans; f++)
        draw_fan(&box->fan[f], dice, below(dice, 2) == 1);
}

static void name(Case *box, const char *text) { snprintf(box->name, sizeof box->name, "%s", text); }

/* The first is far stronger, so that air comes back through the others. */
static void draw_reversed(Case *box, Dice *dice) {
    bool blows_in = below(dice, 2) == 1;
    draw_fans(box, dice, 2);
    for (size_t f = 0; f < box->fans; f++)
        box->fan[f].blows_in = blows_in;
    box->fan[0].stall_pa = spread(dice, 60, 300);
    box->fan[0].free_m3_h = spread(dice, 150, 600);
    box->vents_cm2 = below(dice, 3) == 0 ? 0 : spread(dice, 1, 40);
    name(box, "air comes back");
}

static void draw_closed(Case *box, Dice *dice) {
    draw_fans(box, dice, 2);
    box->fan[0].blows_in = true;
    box->fan[1].blows_in = false;
    name(box, "no vents, fans both ways");
}

static void draw_one_way(Case *box, Dice *dice, bool blows_in) {
    draw_fans(box, dice, 1);
    for (size_t f = 0; f < box->fans; f++)
        box->fan[f].blows_in = blows_in;
    box->vents_cm2 = below(dice, 3) == 0 ? 0 : spread(dice, 5, 900);
    name(box, blows_in ? "only in" : "only out");
}

/* Rows of the same fan, as people buy them. */
static void draw_alike(Case *box, Dice *dice) {
    draw_fans(box, dice, 2);
    for (size_t f = 1; f < box->fans; f++) {
        box->fan[f].free_m3_h = box->fan[0].free_m3_h;
        box->fan[f].stall_pa = box->fan[0].stall_pa;
    }
    box->vents_cm2 = below(dice, 4) == 0 ? 0 : spread(dice, 5, 900);
    name(box, "all fans alike");
}

void draw_case(Case *box, size_t number, Dice *dice) {
    *box = (Case){.fans = 0};
    switch (number % 10) {
    case 0:
        draw_closed(box, dice);
        return;
    case 1:
        draw_one_way(box, dice, false);
        return;
    case 2:
        draw_fans(box, dice, 0);
        box->vents_cm2 = spread(dice, 0.001, 1);
        name(box, "tiny vents");
        return;
    case 3:
        draw_fans(box, dice, 0);
        box->vents_cm2 = spread(dice, 2000, 40000);
        name(box, "huge vents");
        return;
    case 4:
        draw_reversed(box, dice);
        return;
    case 5:
        draw_alike(box, dice);
        return;
    case 6:
        draw_one_way(box, dice, true);
        return;
    default:
        draw_fans(box, dice, 0);
        box->vents_cm2 = below(dice, 8) == 0 ? 0 : spread(dice, 5, 900);
        name(box, "anything");
        return;
    }
}
