/* A case full of fans, and what is found for it: by the program, by the network, in closed form. */
#ifndef AIR_CASE_H
#define AIR_CASE_H

#include "swapworth.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { MOST_FANS = 6 };

typedef struct Case {
    char name[96];
    size_t fans;
    sw_air_fan fan[MOST_FANS];
    double vents_cm2;
} Case;

typedef struct Found {
    sw_air air;
    double fan_m3_h[MOST_FANS];
} Found;

/* Faults that can be planted in the network, each of which must be noticed. */
typedef enum Fault {
    NO_FAULT,
    OTHER_DISCHARGE, /* 0.6001, not 0.6 */
    OTHER_DENSITY,   /* 1.2 kg/m3, not 1.204 */
    VENT_LOST,       /* the parts of the vents add up to a ten thousandth less */
    FAN_SHORT,       /* the stages of a fan add up to a ten thousandth less */
    HOUR_SHORT,      /* 3,599 s */
    FAULTS
} Fault;

typedef uint64_t Dice; /* splitmix64 */
uint64_t roll(Dice *dice);
int below(Dice *dice, int n);
double between(Dice *dice, double least, double most);
double spread(Dice *dice, double least, double most); /* as often in each decade */

/* express.c: the case as a network whose edges the dice choose. False: it did not settle. */
bool ask_network(Found *found, const Case *box, Dice *dice, Fault fault);

/* draw.c */
void draw_case(Case *box, size_t number, Dice *dice);

/* known.c: cases whose answer has a closed form; the count of them, and one. */
size_t known_cases(void);
void known_case(size_t number, Case *box, Found *found);

#endif
