/*
 * The integer program: plain whole numbers, nothing of computers. One group
 * per role, of which exactly one choice is taken; rows that remember the rule
 * they came from; what points are made of. Both solvers read this and it alone.
 */
#ifndef SW_PROGRAM_H
#define SW_PROGRAM_H

#include "estimate/demands.h"
#include "rules/rules.h"

typedef struct sw_group {
    int role;
    int first, count; /* choices */
} sw_group;

typedef struct sw_pick {
    int group;
    int choice; /* index into the fit-outs' choices */
    int fitout;
    int64_t cost; /* minor units of the bill */
    int64_t minutes;
    int64_t noise;  /* power of its sound */
    int runs;       /* class of the heat it runs by, of its role's driver; SW_NONE: by none */
    int64_t points; /* what it adds by itself, thousandths; after sw_program_score */
    int swaps, tasks;
    int parts_rank;  /* within the group: equal for equal parts */
    int bundle_rank; /* within the group, by key: equal for equal parts and tasks */
    int seller_rank; /* within the group, by seller key */
    bool dropped;    /* breaks a rule whatever stands beside it */
    /* After sw_program_presolve: how many other holdings of this role do at least
     * as well whatever stands beside them. */
    int ahead;       /* with other parts or tasks; INT_MAX: the same from another seller */
    int ahead_apart; /* with other parts; INT_MAX: the same parts */
} sw_pick;

/* Some picks of one group, rising. */
typedef struct sw_set {
    int group;
    const int *picks;
    size_t count;
} sw_set;

/* Not every set may be hit at once. */
typedef struct sw_not_all {
    int rule;     /* of the rulebook; SW_NONE: a role runs by another's heat, or a demand */
    sw_set *sets; /* at most one per group */
    size_t count;
} sw_not_all;

/* Sum of amounts <= limit, when every `when` set is hit. */
typedef struct sw_sum {
    int rule;        /* of the rulebook; SW_NONE: a demand */
    int64_t *amount; /* [pick]; 0 where the group has no part in it */
    bool *in;        /* [group] */
    int64_t limit;
    sw_set *when; /* at most one per group */
    size_t when_count;
} sw_sum;

/* A kind of thing to be placed, over the whole program. */
typedef struct sw_thing_type {
    const sw_thing *like; /* kind, size, depth, side */
    int rule;
    int *count; /* [pick] */
} sw_thing_type;

typedef struct sw_site_take {
    int type, count;
} sw_site_take;

/* A kind of site. Sites that take others away are kept piece by piece. */
typedef struct sw_site_type {
    const sw_site *like;
    int *count; /* [pick] positions */
    const sw_site_take *takes;
    size_t take_count;
    const bool *usable; /* [thing type] */
    bool own;           /* takes or is taken: not shared with any other piece */
} sw_site_type;

typedef struct sw_placing {
    sw_thing_type *things;
    size_t thing_count, thing_room;
    sw_site_type *sites;
    size_t site_count, site_room;
    /* A rule whose lists are unknown asks nothing: picks that make it so. */
    bool **silent; /* [rule of the rulebook] -> [pick] or NULL */
} sw_placing;

/* Paid once when any of the picks is taken; waived when the goods of the picks
 * taken reach `free_from`. */
typedef struct sw_due {
    int charge, seller; /* which charge of the catalog, or which seller's delivery */
    bool always;
    int64_t amount, minutes;
    bool *due;      /* [pick] */
    int64_t *goods; /* [pick]; NULL when there is no waiver */
    int64_t free_from;
} sw_due;

/* min(cap, least over stages of offset + sum of terms) - base. */
typedef struct sw_least {
    int use;
    const sw_alternative *stages;
    size_t count;
    int64_t cap; /* on the least itself; INT64_MAX: none */
    int64_t base;
} sw_least;

typedef enum sw_aim {
    SW_AIM_CHEAPEST,  /* least cost, fewest swaps, fewest tasks, ids: the baseline */
    SW_AIM_BEST,      /* most points, then as above */
    SW_AIM_WORTHWHILE /* most of points x point_worth - total x cost_worth, then least cost
                         and on; asked of the search alone */
} sw_aim;

#define SW_AIMS 3

typedef struct sw_program {
    sw_arena *arena;
    const sw_fitouts *fitouts;
    const sw_rulebook *book;
    const sw_estimates *estimates;
    sw_group *groups;
    size_t group_count;
    sw_pick *picks; /* group by group, in the order of the choices */
    size_t pick_count;
    int *pick_of; /* [choice] its first pick, or SW_NONE when it is not in the program */
    sw_not_all *not_alls;
    size_t not_all_count, not_all_room;
    sw_sum *sums;
    size_t sum_count, sum_room;
    sw_placing placing;
    sw_due *dues;
    size_t due_count, due_room;
    sw_arena *due_arena;   /* of what the dues point to */
    int64_t budget;        /* of the scenario, on the bill */
    int64_t minutes_limit; /* -1: none */
    int64_t swap_order;    /* more than all tasks together: a swap in sw_tally.order */
    /* after sw_program_score */
    bool scored;
    sw_least *leasts;
    size_t least_count;
    int64_t points_base; /* subtracted once: the baseline's own additive points */
    bool levelled;       /* noise is limited or scored: the estimates' level tables count */
    int *runs_by;        /* [group] index into the estimates' running roles, or SW_NONE */
    /* good bundles found by earlier requests (picks, in the arena) */
    int **known;
    size_t known_count, known_room;
    /* The prices that bounded the last request of each aim: the next one's are near. */
    double *prices[SW_AIMS];
    int price_count[SW_AIMS];
    const int *held;           /* [group] see sw_program_hold; NULL: nothing is held */
    const sw_demands *demands; /* that every bundle must meet; NULL: none */
    /* Where weights are in doubt: what the presolve compares instead of the picks' points, each
     * [pick]. NULL: the points. */
    int64_t *const *doubtful;
    size_t doubtful_count;
    int *scratch_machine, *scratch_choices, *scratch_billed; /* [group] of check and bill */
} sw_program;

/* Costs, rules, musts and limits; no points yet. `demands` (NULL: none) must live as long; where
 * they limit the loudness, the estimates were told (sw_quieten). */
sw_status sw_program_make(sw_program **out, const sw_fitouts *fitouts, const sw_rulebook *book,
                          const sw_estimates *estimates, const sw_demands *demands);
/* Adds the points, once the estimates are finished. */
sw_status sw_program_score(sw_program *program);
/* What was bought before costs nothing now: a role that holds the fit-out `held` ([group], SW_NONE:
 * none; NULL: nothing is held any more) is billed as today's. Points and rules see it as it is. The
 * array must live as long as it is held. */
sw_status sw_program_hold(sw_program *program, const int *held);
/* Counts what each pick has ahead of it. After sw_program_score. */
sw_status sw_program_presolve(sw_program *program);
/* Takes in what choices of one group cost now; what the presolve counted there is forgotten. */
sw_status sw_program_reprice(sw_program *program, int group);
void sw_program_free(sw_program *program);

/* ---- judging a solution without the rows ----------------------------------------- */

/* One pick per group, and what it comes to. */
typedef struct sw_tally {
    int64_t points, cost, minutes; /* cost: the bill, before invoice tax */
    int swaps, tasks;
    int64_t order; /* swaps first, then tasks, in one number */
} sw_tally;

/* Counts money and points from the choices and estimates, and judges every rule
 * and limit but the budget. `*broken` is SW_NONE, a rule of the rulebook, or one
 * of these. */
#define SW_OVER_TIME (-2)
#define SW_OVER_LOUD (-3)
#define SW_RUNS_OTHERWISE (-4) /* a pick that stands for other heat than there is */
#define SW_NOT_ENDED (-5)      /* a demand is not met */
sw_status sw_program_check(sw_tally *tally, int *broken, const sw_program *program,
                           const int *picks);

/* The pick of a choice that runs by the heat of `machine` (a fit-out per group); SW_NONE when
 * the choice is not in the program. */
int sw_pick_in(const sw_program *program, int choice, const int *machine);

/* The money and time of any machine, one choice per group, whether allowed or
 * not; no points. */
void sw_bill(sw_tally *tally, const sw_program *program, const int *choices);

/* The order of ties: less than 0 when `a` is better. */
int sw_tally_compare(const sw_program *program, const sw_tally *a, const int *a_picks,
                     const sw_tally *b, const int *b_picks, bool points_first);

/* ---- solving ------------------------------------------------------------------------ */

#define SW_NO_LIMIT INT64_MAX

/* What is asked of the solver. */
typedef struct sw_request {
    sw_aim aim;
    int64_t limit;        /* on the bill, or SW_NO_LIMIT */
    int64_t points_least; /* bundles with fewer do not count; INT64_MIN: all do */
    int64_t point_worth, cost_worth;
    /* Bundles already listed (one pick per group each): others are asked for, that
     * differ from each in the parts of `apart` roles at least; 0: in parts or tasks. */
    const int *const *listed;
    size_t listed_count;
    int apart;
    const bool *barred; /* [pick] may not be taken, or NULL */
    bool points_alone;  /* SW_AIM_BEST: any bundle of the most points will do, whatever it costs
                           within the limit */
    bool any;           /* the first bundle found will do: is there one? It may end early then */
    const int *start;   /* a solution known to be good, or NULL */
} sw_request;

sw_request sw_request_for(const sw_program *program, sw_aim aim);
/* The bill with its invoice tax. */
int64_t sw_total(const sw_program *program, const sw_tally *tally);
/* points x point_worth - total x cost_worth. */
int64_t sw_request_worth(const sw_program *program, const sw_request *request,
                         const sw_tally *tally);
/* Less than 0 when `a` answers the request better. */
int sw_request_compare(const sw_program *program, const sw_request *request, const sw_tally *a,
                       const int *a_picks, const sw_tally *b, const int *b_picks);

typedef enum sw_end { SW_END_PROVED, SW_END_NOTHING, SW_END_EARLY } sw_end;

typedef struct sw_solution {
    sw_end end;
    bool found;
    int *picks; /* [group]; owned by the program's arena */
    sw_tally tally;
    int64_t bound;   /* early and SW_AIM_BEST: no bundle has more points than this */
    long long nodes; /* that the search looked at; 0: it was not asked */
} sw_solution;

/* How long it may take: until `ends` by the steady clock `now`; without a clock
 * every single run of the solver may take `seconds`. */
typedef struct sw_allowance {
    double seconds;
    double (*now)(void);
    double ends;
    /* See sw_plan_options. */
    void (*tell)(void *context, const sw_progress *progress);
    bool (*halt)(void *context);
    void *context;
} sw_allowance;

/* No time is left, or whoever waits has had enough. */
static inline bool sw_time_is_up(const sw_allowance *allowance) {
    return (allowance->now != NULL && allowance->now() >= allowance->ends) ||
           (allowance->halt != NULL && allowance->halt(allowance->context));
}

/* Every solution is judged by sw_program_check before it counts; one that breaks
 * a rule by the solver's rounding is cut off and the solver runs again. */
sw_status sw_solve(sw_solution *out, sw_program *program, const sw_request *request,
                   sw_allowance allowance, sw_complaints *complaints);

/* Asks the linear solver alone: does it prove the same bundle to be the answer? */
sw_status sw_prove_again(bool *same, sw_program *program, const sw_request *request,
                         const int *picks, sw_allowance allowance, sw_complaints *complaints);

/* The best bundles at every cost from `out->from` to `out->to`, in one pass; `cheapest` is the
 * cheapest bundle there is. `*given_up`: this job is not for it, ask step by step. `*proved`: the
 * curve is complete; else its treads say what is open. */
typedef struct sw_frontier sw_frontier;
sw_status sw_solve_curve(sw_frontier *out, bool *given_up, bool *proved, sw_program *program,
                         const int *cheapest, sw_allowance allowance);

/* A bundle of this program that is likely to be good: later requests start from it. The picks
 * are in the program's arena. */
sw_status sw_program_know(sw_program *program, int *picks);

/* The program as text for another solver: points only. */
sw_status sw_program_write(sw_text *out, const sw_program *program, sw_export_form form);

#endif
