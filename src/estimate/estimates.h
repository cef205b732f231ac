/*
 * What each fit-out does for this client, as whole thousandths of a point.
 * Pure. Formulas and rounding: catalog/FORMATS.md section 8. Made in two
 * steps, because looks are measured against the baseline, which is itself a
 * bundle that the solver finds from costs and rules alone.
 */
#ifndef SW_ESTIMATES_H
#define SW_ESTIMATES_H

#include "fitouts/fitouts.h"

/* One product of one-role factors in the rate of a use's stage. */
typedef struct sw_alternative {
    int use;   /* index into scenario->uses */
    int stage; /* index into the use's stages */
    int64_t offset;
    int64_t *terms; /* [fitout] */
} sw_alternative;

/* A role whose fans turn as fast as the heat of another role asks: its power of sound is a
 * table over that role's classes of heat. */
typedef struct sw_running {
    int role, driver;
    int class_count;
    int *class_of;  /* [fit-out - first of the driver] */
    int64_t *noise; /* [class * fit-outs of the role + fit-out - first of the role] */
} sw_running;

typedef struct sw_estimates {
    sw_arena *arena;
    sw_fitouts *fitouts; /* only the list of parts left out is added to */
    bool *serves;        /* [fitout]: every estimate it needs can be made */

    int speed;                    /* criterion, or SW_NONE when there is none or no use */
    sw_alternative *alternatives; /* use by use */
    size_t alternative_count, alternative_room;
    size_t *first_alternative; /* [use], use_count + 1 entries */
    int64_t *cap;              /* [use] above the baseline; INT64_MAX: none */
    int64_t *speed_base;       /* [use], after sw_estimates_finish */

    int64_t **added;     /* [criterion][fitout]: looks and rated; NULL for others */
    int64_t *added_base; /* [criterion] */

    int quiet;           /* criterion, or SW_NONE when the catalog has none */
    int64_t *noise;      /* [fitout] power; of a running role the least there can be */
    sw_running *running; /* roles that run by another role's heat */
    size_t running_count;
    double *busy;        /* [role] share of its full work, over the client's uses */
    int *loss_class;     /* [fitout]; 0 for roles other than the loss role */
    int64_t *loss_milli; /* [class] */
    int class_count;
    int loss_role;   /* SW_NONE when the loss term is not there */
    double shift_db; /* distance and calibration */
    double calibration_db;
    int level_count;       /* levels 0 .. level_count - 1 on the half-dB grid */
    int64_t *level_power;  /* [level] the largest power it stands for */
    int64_t *level_points; /* [class * level_count + level], before the baseline's */
    bool *level_allowed;   /* likewise, by the limit on loudness */
    int64_t level_base;
} sw_estimates;

/* The part that needs no baseline. Complains of a present part without a fact
 * that an estimate reads. */
sw_status sw_estimates_make(sw_estimates **out, sw_fitouts *fitouts, sw_complaints *complaints);
/* The part that does: `baseline` is a fit-out per role. */
sw_status sw_estimates_finish(sw_estimates *estimates, const int *baseline);
void sw_estimates_free(sw_estimates *estimates);
/* Finished estimates of a job whose criteria all have the weight 1, at these weights instead
 * ([criterion], whole numbers, at least 0): points are exact sums of weight x points. In `arena`;
 * shares the rest with `of`, and is not freed by itself. SW_BAD_DATA: too large for 64 bits. */
sw_status sw_estimates_weighed(sw_estimates *out, sw_arena *arena, const sw_estimates *of,
                               const int64_t *weight);

/* Points of a machine, one fit-out per role; `by_criterion` may be NULL. */
int64_t sw_points(const sw_estimates *estimates, const int *machine, int64_t *by_criterion);

/* The power of a role's sound in a machine. */
int64_t sw_noise_of(const sw_estimates *estimates, int role, const int *machine);
/* How fast a role's fans turn there, 0 to 1 of full speed; 1 for a role that does not run by
 * the heat. */
double sw_speed_of(const sw_estimates *estimates, int role, const int *machine);
/* dB that a level changes by on its way to the seat: by the distance, and by what was measured
 * there (catalog/FORMATS.md section 8). */
double sw_calibration_db(const sw_estimates *estimates);

/* Its sound at the seat. */
typedef struct sw_sound {
    int level; /* on the half-dB grid, before the case and the room */
    int loss_class;
    double level_dba;
    double loudness_sone;
} sw_sound;
sw_sound sw_sound_of(const sw_estimates *estimates, const int *machine);
/* Allows no level that is louder at the seat, though today's be. */
void sw_quieten(sw_estimates *estimates, double sones_most);

/* How far a fit-out's looks agree with the client's taste, 0 to 1. */
double sw_looks_match(const sw_estimates *estimates, int criterion, int fitout);

/* ---- rates that are told -------------------------------------------------------------- */

/* The estimated rate of every stage of a use (index into the scenario's) in a machine. */
sw_status sw_stage_rates(double *rates, sw_arena *arena, const sw_estimates *estimates, int use,
                         const int *machine);

/* [role] How many times faster the client's uses could be without the stages that name the role
 * first: the most over the uses of a fifth of the share or more, each up to what is wanted. */
sw_status sw_held_back_by(double *out, sw_arena *arena, const sw_estimates *estimates,
                          const int *machine);

/* Predicted rate over the present one, with its spread; and what governs. */
typedef struct sw_prediction {
    double low, ratio, high;
    double now; /* the estimate of the present rate */
    int stage_now, stage_then;
} sw_prediction;
sw_status sw_predict(sw_prediction *out, sw_arena *arena, const sw_estimates *estimates, int use,
                     const int *machine);

#endif
