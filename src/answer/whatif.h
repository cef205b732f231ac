/*
 * The best bundle of a job beside those of the same job with something changed. Meanings:
 * catalog/FORMATS.md section 18. Owned by its arena; each answer owns its own.
 */
#ifndef SW_ANSWER_WHATIF_H
#define SW_ANSWER_WHATIF_H

#include "answer/answer.h"
#include "check/settings.h"

/* How the best bundle of now stands in the changed job. */
typedef enum sw_stands {
    SW_STILL_BEST,
    SW_STILL_BEATEN,
    SW_STILL_DEAR,
    SW_STILL_REFUSED,
    SW_STILL_GONE,
    SW_STILL_OPEN /* there is none now, or it was not settled */
} sw_stands;

typedef struct sw_whatif_case {
    const char *value; /* of what is swept; NULL: nothing is */
    sw_answer *answer; /* its best bundle in bundles[0] */
    sw_stands stands;
    int64_t points, cost;   /* of the bundle of now, where it is best, beaten or dear */
    bool has_points;        /* false: nothing fits there, so nothing is measured against */
    const char *in_the_way; /* refused: the rule's name, or what else; NULL: not known */
} sw_whatif_case;

typedef struct sw_whatif_change {
    const char *path, *value;     /* `value` NULL: many */
    const char *subject, *seller; /* names of what the path is about; NULL: not known */
} sw_whatif_change;

struct sw_whatif {
    sw_arena *arena;
    sw_answer *present;
    sw_whatif_change *changes; /* those with one value */
    size_t change_count;
    sw_whatif_change swept; /* path NULL: nothing is swept */
    sw_whatif_case *cases;
    size_t case_count;
    bool asked_to_stop;
};

sw_status sw_find_whatif(sw_whatif **out, const sw_scenario *scenario, const sw_setting *settings,
                         size_t count, bool allow_unknown, sw_allowance allowance,
                         sw_complaints *complaints);

/* What the path is about; `value` NULL: many. In the arena. */
sw_status sw_change_tell(sw_whatif_change *out, sw_arena *arena, const sw_scenario *scenario,
                         const char *path, const char *value);

#endif
