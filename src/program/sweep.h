/*
 * The sweep: the best bundle at every budget in one pass.
 *
 * The money axis is cut into stretches, each watched by a lane: a price of money at which
 * no bundle has more points, less its cost at that price, than the lane's bound
 * (Lagrangian relaxation, search_bound.c). A bundle that belongs on the curve loses, in the
 * lane of its cost, no more against that bound than the best bundles known leave room for.
 *
 * Groups are then settled one after the other. A label is a choice in the first groups with
 * all that the others must know of it: what it cost, its points, stages still open, noise,
 * loads, and which items it leaves them. Per lane it carries what it has lost at the least,
 * with the best that can still come (tables of the best completion, by bucket elimination:
 * Dechter 1999); it goes when no lane has room for it, or when another label of the same
 * interface is at least as good in everything. Labels are worked off depth first in
 * batches, so memory is bounded; the first passes keep only the most promising ones and find
 * good bundles, the last keeps all that have room and proves.
 *
 * Charges and deliveries are counted as they come due; what may still be waived is paid when
 * the last group that could win the waiver is settled, and stands between two labels as the
 * most that it can make one dearer than the other.
 */
#ifndef SW_PROGRAM_SWEEP_H
#define SW_PROGRAM_SWEEP_H

#include "program/frontier.h"
#include "program/search.h"

#define SW_LANES 64
#define SW_BLOCK 8             /* lanes in a row, so that the compiler can use wide registers */
#define SW_LOST (1 << 24)      /* of one item or term */
#define SW_LOST_MOST (1 << 29) /* of a label */

#define SW_STRETCHES 64

typedef struct sw_lanes {
    int count;
    double money[SW_LANES]; /* points of one minor unit; falls */
    int stretches;
    int64_t low[SW_STRETCHES], high[SW_STRETCHES]; /* their costs, rising */
    /* Whose bounds each lane has: the sweep's own model at its price of money, or a view's. */
    sw_model *model[SW_LANES];
    sw_scratch *scratch[SW_LANES];
    double unit[SW_LANES];                   /* losses are counted in so many of its own */
    double speed[SW_LANES], quiet[SW_LANES]; /* what the program's points are worth in it */
} sw_lanes;

/* Where weights are in doubt: what a pass asks of who looks for the bundles. Stretches are then
 * parts of what is open, all of them up to the limit, and lanes are views. */
typedef struct sw_asker {
    void *who;
    /* The least worth in a lane of what a stretch holds. */
    double (*least)(void *who, int stretch, int lane);
    bool (*wants)(void *who, const int64_t *points, int64_t cost);
    /* `*agrees`: the bundle is allowed, and as good as was counted. */
    sw_status (*take)(bool *agrees, void *who, const int *picks, const int64_t *points,
                      int64_t cost);
    unsigned long long age; /* rises when what is open changed */
} sw_asker;

#define SW_AIMS_MOST 64

#define SW_DUES_MOST 64

typedef struct sw_sweep {
    sw_program *program;
    sw_model *m;
    sw_scratch x;
    sw_allowance allowance;
    sw_lanes lanes;
    sw_frontier *frontier; /* NULL: an asker has it */
    sw_asker *asker;
    int aims; /* numbers of points that a label has, one for every extreme weighting; 1 otherwise */
    int64_t speed[SW_AIMS_MOST], quiet[SW_AIMS_MOST]; /* [aim] weight of the program's points */
    int64_t base[SW_AIMS_MOST];                       /* [aim] subtracted once */
    int64_t *const *added;                            /* [aim][pick]; NULL: the picks' points */
    sw_status status;
    bool out_of_time, proved, proving;
    bool disagreed;   /* a whole label was refused by the rules themselves */
    long long labels; /* looked at so far */
    double share;     /* of the round that is done */
    char *pool;       /* of labels; every pass uses it anew */
    size_t room;
    double left[SW_STRETCHES]; /* by how much what was left out might beat the frontier */
} sw_sweep;

/* Fills the frontier, whose `from` and `to` are set, with the best bundles over its costs.
 * `*given_up`: the job is not for it (too large, or it found itself at odds with the rules).
 * `*proved`: nothing better is left; else the treads say how much may be. */
sw_status sw_sweep_run(sw_frontier *frontier, bool *given_up, bool *proved, sw_program *program,
                       const sw_request *request, const bool *out_of_it, sw_allowance allowance);

/* Points are one number, and every lane looks at the sweep's own model. */
void sw_sweep_plain(sw_sweep *sweep);
/* One round over all that is alive in the root: `width` as in sw_pass_run. */
sw_status sw_sweep_visit(sw_sweep *sweep, sw_node *root, const double *price, const double *bound,
                         size_t width, bool *complete);

/* ---- lanes ------------------------------------------------------------------------ */

/* The least worth in a lane of the bundles that a stretch is about. */
double sw_sweep_least(const sw_sweep *sweep, int stretch, int lane);
/* What a minor unit of money is worth in a lane at its prices. */
double sw_lane_money(const sw_sweep *sweep, int lane, const double *price);

/* The prices of a node, lane by lane: [lane * sw_price_count]. */
/* Chooses the lanes for the costs from `low` to `high`; fills `price` with good prices for
 * the whole job. */
void sw_lanes_make(sw_sweep *sweep, sw_node *root, double *price);
/* Cuts the costs anew by the steps now known; the lanes stay. */
void sw_lanes_cut(sw_sweep *sweep);
/* Improves the prices of a lane in the node, and returns its bound. */
double sw_lane_bound(sw_sweep *sweep, sw_node *node, int lane, double *price, int rounds);

/* What a label may lose: [stretch * lanes + lane], below 0 where the lane rules the stretch out.
 * A bundle that belongs to a stretch has room in every lane. */
void sw_sweep_gaps(const sw_sweep *sweep, const double *bound, double *gap);
/* The widest room that a stretch has in its narrowest lane; below 0: none has any. */
double sw_sweep_room(const sw_sweep *sweep, const double *bound);

/* ---- passes ------------------------------------------------------------------------ */

/* All bundles of the node; `width`: labels kept of each batch (0: all). `*complete` turns
 * false when a label that had room was left out. */
sw_status sw_pass_run(sw_sweep *sweep, const sw_node *node, const double *price,
                      const double *bound, size_t width, bool *complete);

#endif
