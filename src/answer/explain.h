/*
 * How each number came about, formula by formula with its inputs. Meanings:
 * catalog/FORMATS.md section 17. Owned by its arena.
 */
#ifndef SW_ANSWER_EXPLAIN_H
#define SW_ANSWER_EXPLAIN_H

#include "answer/answer.h"
#include "answer/fits.h"
#include "estimate/measures.h"

typedef enum sw_line_of {
    SW_LINE_STAGE,
    SW_LINE_SOUND,
    SW_LINE_LOOKS,
    SW_LINE_RATED,
    SW_LINE_MEASURE
} sw_line_of;

typedef struct sw_explain_input {
    const char *name, *value; /* value "" for a word of the formula's own */
} sw_explain_input;

typedef struct sw_explain_value {
    sw_state state;
    double low, value, high;
    sw_explain_input *inputs;
    size_t input_count;
} sw_explain_value;

typedef struct sw_explain_line {
    sw_line_of of;
    const char *id, *name, *formula, *unit, *source;
    int digits;
    sw_explain_value now, with; /* `with`: with the part in its role */
} sw_explain_line;

struct sw_explain {
    sw_arena *arena;
    sw_answer *answer;
    const char *part, *name; /* NULL: not asked */
    const char *role_name;
    bool present;         /* the part is in the machine today: only its lines are told */
    const char *obstacle; /* name of the first rule that forbids the part there, or NULL */
    sw_explain_line *lines;
    size_t line_count;
    int64_t *points_now, *points_with; /* [criterion] against the present machine */
    const char **points_formula;       /* [criterion] of points_with */
};

/* `part` SW_NONE: the whole present machine. */
sw_status sw_find_explain(sw_explain **out, const sw_scenario *scenario, int part,
                          bool allow_unknown, sw_complaints *complaints);

/* ---- between its files ------------------------------------------------------------ */

/* An expression as people write it: "1.2 x load + 0.4 x graphics load_w". NULL when memory is
 * out. */
const char *sw_formula_text(sw_arena *arena, const sw_catalog *catalog, const sw_expr *expr);
/* What it reads, each once, with its value on the machine. */
sw_status sw_formula_inputs(sw_explain_value *out, sw_arena *arena, const sw_measuring *measuring,
                            const sw_expr *expr);
/* How the points of a criterion are made of rates, sones and looks, in numbers. */
const char *sw_points_formula(sw_arena *arena, const sw_estimates *estimates, int criterion,
                              const int *now, const int *with);
/* Does it read a fact of the role, straight or through measures? */
bool sw_formula_reads(const sw_catalog *catalog, const sw_expr *expr, int role);
const char *sw_number_text(sw_arena *arena, double value);

#endif
