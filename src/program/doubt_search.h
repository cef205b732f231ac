/*
 * The search for all non-dominated bundles: what its files share.
 *
 * One tree for all weights. A node is looked at from several *views*: weightings (the extremes
 * and mixtures of them) under each of which the job is the plain program with other points,
 * so the Lagrangian bound of search_bound.c holds for it. The bundles found so far leave *zones*
 * open: boxes of points by extreme that none of them dominates or equals (upper bound sets of
 * multi-objective optimisation: Klamroth, Lacour & Vanderpooten, EJOR 245 (2015) 767-778). A node
 * is done when every zone, and the place of every known bundle, lies above its bound in some view.
 * Bounds are binary64 with a slack; what is found is compared in whole numbers.
 */
#ifndef SW_PROGRAM_DOUBT_SEARCH_H
#define SW_PROGRAM_DOUBT_SEARCH_H

#include "program/doubt.h"
#include "program/search.h"

#define SW_VIEWS_MOST 64

/* ---- views ------------------------------------------------------------------------ */

typedef struct sw_view {
    sw_estimates estimates;
    sw_program program;
    sw_request request;
    int64_t *times; /* [extreme] how often it is in the mixture */
    double scale;   /* their sum */
    sw_model *m;
    sw_scratch x;
} sw_view;

typedef struct sw_views {
    sw_arena *arena;
    sw_program *of; /* at weight 1 */
    size_t criteria;
    int extremes;
    int64_t *weight;  /* [extreme * criteria + criterion], without common divisors, each once */
    int *which;       /* [extreme as given] */
    int64_t *divisor; /* [extreme as given] that was taken out */
    int64_t **added;  /* [extreme][pick] what the picks add by themselves */
    bool *out_of_it;  /* [pick] another can stand for it, whatever the weights */
    int count;
    sw_view *view; /* the extremes come first */
    double rest;   /* what a bundle's cost may take from its worth in every view; below 1 */
} sw_views;

/* `*small`: false when the models would take too much memory. */
sw_status sw_views_make(sw_views *views, bool *small, sw_program *of, const sw_extremes *extremes,
                        int64_t limit);
void sw_views_free(sw_views *views);

/* ---- what was found ------------------------------------------------------------------ */

typedef struct sw_member {
    int *picks;
    sw_tally tally;
    int64_t *value; /* [extreme] */
    double *floor;  /* [view] its worth there */
    bool climbed;   /* its neighbours were looked at */
    int part;       /* of what is open: see doubt_sweep.c */
} sw_member;

typedef struct sw_zone {
    int64_t *corner; /* [extreme] every value must be above; INT64_MIN: any is */
    double *floor;   /* [view] no bundle of the zone is worth less there */
    int part;        /* pieces of a zone belong to its part */
} sw_zone;

typedef struct sw_archive {
    const sw_views *views;
    sw_member *members;
    size_t count, room;
    sw_zone *zones;
    size_t zone_count, zone_room;
    bool any_equal; /* of equal values none is better for its cost */
    bool zoned;     /* there are zones */
    size_t last;    /* the member that dominated last: likely again */
} sw_archive;

void sw_archive_open(sw_archive *archive, const sw_views *views, bool any_equal);
/* Makes the zones that the members leave open; from then on new members cut them. */
sw_status sw_archive_zone(sw_archive *archive);
void sw_archive_close(sw_archive *archive);
/* Some member dominates these values, or has the same and costs less. */
bool sw_archive_covers(sw_archive *archive, const int64_t *value, int64_t cost);
/* Takes the bundle in unless it is dominated, or an equal one comes before it. */
sw_status sw_archive_take(bool *taken, sw_archive *archive, const int64_t *value,
                          const sw_tally *tally, const int *picks);

/* ---- counting ------------------------------------------------------------------------- */

/* A bundle's sums, changed pick by pick. */
typedef struct sw_sums {
    const sw_views *views;
    int64_t cost, noise; /* cost without dues */
    int64_t *stage;      /* [alternative of the program's leasts, one after the other] */
    int64_t *added;      /* [criterion] */
    int loss_class;
} sw_sums;

sw_status sw_sums_make(sw_sums *sums, const sw_views *views);
void sw_sums_clear(sw_sums *sums);
/* `times` is 1 or -1. */
void sw_sums_add(sw_sums *sums, int pick, int times);
void sw_sums_points(const sw_sums *sums, int64_t *by_criterion);
void sw_values(const sw_views *views, const int64_t *by_criterion, int64_t *value);

/* ---- the search -------------------------------------------------------------------------- */

typedef struct sw_doubt {
    sw_program *program;
    int64_t limit;
    sw_allowance allowance;
    sw_views views;
    sw_archive archive;
    sw_sums sums;
    int64_t *points, *value;             /* [criterion], [extreme]: of the bundle looked at */
    int *picks, *at;                     /* [group] */
    size_t *zone, zone_count, zone_room; /* open in the node looked at */
    size_t *member, member_count, member_room;
    bool *fresh;  /* [view] its scratch holds the node's worths */
    double *most; /* [extreme] no bundle is worth more there */
    bool out_of_time, gave_up;
    long long labels, nodes, nodes_most; /* gives up beyond so many nodes */
    sw_status status;
} sw_doubt;

typedef struct sw_judged {
    int broken; /* as of sw_program_check */
    int64_t cost;
    bool taken; /* it is a member now */
} sw_judged;

/* Judges a bundle and keeps it where it belongs; its values are in `doubt->value` then. */
sw_judged sw_doubt_consider(sw_doubt *doubt, const int *picks);
/* Exchanges one pick of each bundle found, until no exchange finds another. */
void sw_doubt_climb(sw_doubt *doubt);
bool sw_doubt_time_is_up(sw_doubt *doubt);
/* By labels; `price`: [view * prices] to start from, improved; `width` of each batch (0: all). Not
 * complete: the time ran out, or labels were left out, or this job is not for it. */
sw_status sw_doubt_sweep(sw_doubt *doubt, double *price, size_t width, bool *complete);

#endif
