/* What the files of this folder share among themselves. */
#ifndef SW_PROGRAM_STAGE_H
#define SW_PROGRAM_STAGE_H

#include "program/program.h"

/* ---- lowering ------------------------------------------------------------------- */

/* Adds "not all of these at once". Sets of one group are intersected; a row
 * with an empty set says nothing; a row with one set drops its picks. */
sw_status sw_not_all_add(sw_program *program, int rule, const sw_set *sets, size_t count);

/* The picks of `group` whose fit-out is marked. */
sw_status sw_set_make(sw_set *out, sw_program *program, int group, const bool *marked);
sw_status sw_set_both(sw_set *out, sw_program *program, const sw_set *a, const sw_set *b);

/* Where a rule applies: per role a mark on every fit-out (NULL: everywhere).
 * `never` when an observation alone switches it off. */
typedef struct sw_scope {
    bool **applies; /* [role][fitout] */
    bool never;
} sw_scope;
sw_status sw_scope_make(sw_scope *out, sw_program *program, const sw_rule *rule);
/* The sets of the scope's roles other than those in `but`. */
sw_status sw_scope_sets(sw_set *sets, size_t *count, sw_program *program, const sw_scope *scope,
                        const bool *but);

sw_status sw_lower_pair(sw_program *program, int rule);
sw_status sw_lower_sum(sw_program *program, int rule);
sw_status sw_lower_clash(sw_program *program, int rule);
sw_status sw_lower_place(sw_program *program);
sw_status sw_lower_demands(sw_program *program);
sw_status sw_lower_money(sw_program *program);
/* The choice that the pick is billed as: today's where it is held already. */
int sw_billed_choice(const sw_program *program, int pick);

/* ---- the matrix ------------------------------------------------------------------- */

typedef struct sw_column {
    const char *name;
    double lower, upper; /* upper may be INFINITY */
    bool integer;
    int64_t points, cost, order; /* what one of it adds to each measure */
} sw_column;

typedef struct sw_entry {
    int column;
    double value;
} sw_entry;

typedef struct sw_row {
    const char *name;
    double lower, upper; /* +-INFINITY for none */
    int64_t scale;       /* what its whole numbers were divided by, at least 1 */
    sw_entry *entries;
    size_t count, room;
} sw_row;

/* What a solution comes to, linearly: sum of coefficients + constant. */
typedef struct sw_linear {
    int64_t *coefficient; /* [column] */
    int64_t constant;
} sw_linear;

/* A sum over the picks that stays within a limit. */
typedef struct sw_load_row {
    const char *name;
    int64_t *amount;    /* [pick]; picks that switch the row off have what satisfies it */
    const bool *in;     /* [group] */
    const int64_t *due; /* [due] what a charge adds; NULL: nothing */
    int64_t limit;
    int when_column; /* the limit holds when this column is 1; SW_NONE: always */
} sw_load_row;

/* Which picks are left, and which of them may not stand together. */
typedef struct sw_pairs {
    const sw_program *program;
    bool *in; /* [pick] */
    int words;
    int *bit_of;     /* [pick] */
    uint64_t *apart; /* [bit][word]; NULL when it would take too much memory */
} sw_pairs;

/* Fills in the rest of `pairs`: its program and the picks that are in it are set. Takes
 * away picks that can be in no solution. */
sw_status sw_pairs_make(sw_pairs *pairs, sw_arena *arena, const sw_load_row *loads,
                        size_t load_count);
bool sw_apart(const sw_pairs *pairs, int a, int b);
/* For each pick its amount and the least of every other group that may stand beside it,
 * added up. `total` and `amount`: [pick]. */
#define SW_NOTHING_BESIDE INT64_MAX /* some group has no pick that may */
sw_status sw_least_with(int64_t *total, const sw_pairs *pairs, const int64_t *amount);

typedef struct sw_matrix {
    sw_arena *arena;
    const sw_program *program;
    int64_t limit; /* on the bill */
    sw_column *columns;
    size_t column_count, column_room;
    sw_row *rows;
    size_t row_count, row_room;
    int *pick_column; /* [pick], SW_NONE when it is not in the matrix */
    int pick_columns; /* they come first */
    sw_pairs pairs;
    sw_load_row *loads; /* the sums that are rows */
    size_t load_count, load_room;
    int *charge_column;            /* [due] */
    sw_linear points, cost, order; /* order: swaps and tasks */
    /* -points x value_scale + cost, in one: least is best. Used while the budget
     * is small enough for the solver's tolerances to see a single minor unit. */
    sw_linear value;
    int64_t value_scale; /* 0: not used */
} sw_matrix;

/* Over the picks that are not `out_of_it` ([pick], NULL: all that no rule drops). */
sw_status sw_matrix_make(sw_matrix **out, const sw_program *program, const bool *out_of_it,
                         int64_t limit);
void sw_matrix_free(sw_matrix *matrix);

int sw_matrix_column(sw_matrix *matrix, const char *name, double lower, double upper,
                     bool integer); /* SW_NONE when memory is out */
int sw_matrix_row(sw_matrix *matrix, const char *name, double lower, double upper);
bool sw_matrix_set(sw_matrix *matrix, int row, int column, double value);

/* Exactly one pick of each group is taken, so a row may lose a number from all picks of a
 * group and from its ends: the commonest, so that most of its numbers vanish. Rows from
 * `first` on. */
sw_status sw_matrix_thin(sw_matrix *matrix, size_t first);
bool sw_matrix_load(sw_matrix *matrix, const sw_load_row *load);

/* A row over the picks: sum of amount[pick] x pick (+ what the caller adds to
 * the same row before) <= limit, with each group's least amount moved to the
 * right and everything divided by the greatest number left. */
int sw_matrix_sum(sw_matrix *matrix, const char *name, const int64_t *amount, const bool *in,
                  int64_t limit);

/* The parts of the formulation. Each sets what its columns add to the measures. */
sw_status sw_formulate_place(sw_matrix *matrix);
sw_status sw_formulate_money(sw_matrix *matrix);
/* Money and minutes as sums over the picks: at most two. */
#define SW_LIMIT_ROWS 2
sw_status sw_limit_rows(sw_load_row *rows, size_t *count, const sw_matrix *matrix);
sw_status sw_formulate_speed(sw_matrix *matrix);
sw_status sw_formulate_sound(sw_matrix *matrix);
/* The least and greatest of a group's values by fit-out, over what is left. */
void sw_spread(const sw_matrix *matrix, const sw_group *group, const int64_t *by_fitout,
               int64_t *least, int64_t *most);

/* ---- GLPK -------------------------------------------------------------------------- */

typedef enum sw_glpk_end { SW_GLPK_FOUND, SW_GLPK_NONE, SW_GLPK_TIME, SW_GLPK_FAILED } sw_glpk_end;

typedef struct sw_glpk_result {
    sw_glpk_end end;
    bool found;       /* also when out of time */
    double *value;    /* [column]; caller's array */
    double objective; /* when found */
    double bound;     /* below every solution, when out of time; may be -INFINITY */
} sw_glpk_result;

/* Minimises constant + sum of objective[column] x column. A constant that
 * brings the optimum near 0 keeps GLPK's relative tolerances small. Never aborts
 * the process: GLPK's fatal errors end as SW_GLPK_FAILED. */
sw_status sw_glpk_minimise(sw_glpk_result *result, const sw_matrix *matrix, const double *objective,
                           double constant, double seconds, const sw_allowance *allowance);

/* The relaxation: the program without whole numbers. Kept between runs: rows that the
 * matrix got and columns that it closed in between are seen by the next. */
typedef struct sw_relaxation sw_relaxation;

typedef struct sw_relaxed {
    bool solved; /* false: no optimum, or none in time */
    double bound;
    double *value; /* [column]; caller's array */
    double *price; /* [row]; caller's array */
} sw_relaxed;

sw_status sw_relaxation_open(sw_relaxation **out, const sw_matrix *matrix, const double *objective);
sw_status sw_relaxation_solve(sw_relaxed *out, sw_relaxation *relaxation, double seconds);
void sw_relaxation_close(sw_relaxation *relaxation);

/* Adds rows that the relaxation breaks, for an objective to be minimised; closes picks
 * with which it goes above `most` (INFINITY: none). Each run may take `seconds`. */
sw_status sw_matrix_tighten(sw_matrix *matrix, const double *objective, double most,
                            double seconds);

/* Answers the request with a linear solver alone. */
sw_status sw_solve_linear(sw_solution *out, sw_program *program, const sw_request *request,
                          const bool *out_of_it, sw_allowance allowance, sw_complaints *complaints);

#endif
