/*
 * The order of the work that makes one machine out of another: what comes off, what goes on, and
 * the steps between. Meanings: catalog/FORMATS.md section 26. In indexes of the job; in an arena.
 */
#ifndef SW_ANSWER_WORK_H
#define SW_ANSWER_WORK_H

#include "check/bench.h"
#include "fitouts/fitouts.h"

typedef enum sw_item_way { SW_GOES, SW_STAYS, SW_COMES } sw_item_way;

/* Pieces of one part in one role. */
typedef struct sw_item {
    int role, part, count;
    int present; /* of what was there: its place in the scenario's machine; else SW_NONE */
    sw_item_way way;
    const bool *before, *after; /* [role] carriers in the present machine, in the new one */
    bool rides;
    bool acts;       /* what goes and comes, but for what leaves with another; what is lifted */
    int leaves_with; /* an item, or SW_NONE */
} sw_item;

typedef enum sw_does { SW_TAKE_OUT, SW_TAKE_OFF, SW_STEP, SW_LAY_OUT, SW_PUT_BACK, SW_FIT } sw_does;

typedef struct sw_action {
    sw_does does;
    int item;         /* SW_NONE: a step */
    int step;         /* of bench.json; SW_NONE: of a task or charge that has none there */
    int task, charge; /* whose minutes it takes; SW_NONE */
    int stage;
    int64_t minutes, alone_minutes;
    bool billed;
} sw_action;

typedef struct sw_work {
    const sw_fitouts *fitouts;
    const sw_bench_form *form;
    const int *machine; /* [role] fit-outs */
    bool changes;       /* some part differs, or some task is done */
    sw_item *items;
    size_t item_count;
    bool *worked_on; /* [role] */
    bool *lifted;    /* [role] something that stays comes off */
    bool *asked_off; /* [role] by a step */
    bool *reached;   /* [role] by a step that works on it where it is */
    bool *comes_off; /* [role] something that goes or is lifted comes off by itself */
    int *going;      /* [role] an item that goes, or SW_NONE */
    bool *steps;     /* [step] there */
    /* [role x role] the first lies over the second in the present machine, in the new one */
    bool *old_over, *new_over;
    sw_action *actions; /* in their order */
    size_t action_count;
    int64_t billed, beside, alone; /* minutes */
} sw_work;

/* SW_BAD_DATA where things wait for each other in a circle. `machine` must outlive the work. */
sw_status sw_work_make(sw_work *out, sw_arena *arena, const sw_fitouts *fitouts, const int *machine,
                       sw_complaints *complaints);

bool sw_is_off(sw_does does); /* take-out, take-off */
bool sw_is_on(sw_does does);  /* put-back, fit */

/* ---- between its files ---------------------------------------------------------------------- */

bool sw_covers(const sw_work *work, const bool *which, int role, int under);
/* The items, and which of them act. */
sw_status sw_work_items(sw_work *work, sw_arena *arena);
/* The actions in their order. */
sw_status sw_work_order(sw_work *work, sw_arena *arena, sw_complaints *complaints);
/* Any of the conditions true or unknown in the machine; true where there are none. */
bool sw_work_any(const sw_fitouts *fitouts, const int *machine, const sw_cond *any, size_t count);
bool sw_work_all(const sw_fitouts *fitouts, const int *machine, const sw_cond *all, size_t count);

#endif
