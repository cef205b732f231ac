/* The only file that knows GLPK. GLPK ends the process on a broken promise or
 * lack of memory; the error hook turns that into a status. Cuts stay off: with
 * the MIP presolver they can abort. */
#include "program/stage.h"

#include <errno.h>
#include <glpk.h>
#include <math.h>
#include <setjmp.h>
#include <stdlib.h>

typedef struct session {
    glp_prob *problem;
    int *index;    /* [1..] columns of the row being added */
    double *value; /* [1..] */
    int *place;    /* [column] where it stands in `index`, when `index` says so */
    double bound;
    bool has_bound;
    bool no_memory; /* GLPK gave up for want of it */
    jmp_buf out;
    const sw_allowance *allowance; /* whoever waits may have had enough */
} session;

static void give_up(void *info) {
    session *s = info;
    s->no_memory = errno == ENOMEM;
    longjmp(s->out, 1);
}

/* Before it gives up GLPK tells why on standard output, where answers stand. */
static int say_nothing(void *info, const char *text) {
    (void)info;
    (void)text;
    return 1;
}

/* The first call of GLPK ends the process where this one only fails. */
static bool begin(session *s) {
    if (glp_init_env() > 1)
        return false;
    glp_term_hook(say_nothing, NULL);
    glp_error_hook(give_up, s);
    errno = 0;
    return true;
}

static bool finite_or_open(double x) { return !isnan(x); }

static int bound_type(double lower, double upper) {
    if (isinf(lower))
        return isinf(upper) ? GLP_FR : GLP_UP;
    if (isinf(upper))
        return GLP_LO;
    return lower < upper ? GLP_DB : GLP_FX;
}

/* GLPK answers a NaN or infinite coefficient with a false optimum. */
static bool all_finite(const sw_matrix *matrix, const double *objective, double constant) {
    bool good = isfinite(constant);
    for (size_t c = 0; c < matrix->column_count; c++)
        good = good && isfinite(objective[c]) && finite_or_open(matrix->columns[c].lower) &&
               finite_or_open(matrix->columns[c].upper);
    for (size_t r = 0; r < matrix->row_count; r++) {
        good =
            good && finite_or_open(matrix->rows[r].lower) && finite_or_open(matrix->rows[r].upper);
        for (size_t e = 0; e < matrix->rows[r].count; e++)
            good = good && isfinite(matrix->rows[r].entries[e].value);
    }
    return good;
}

static void add_columns(session *s, const sw_matrix *matrix, const double *objective,
                        double constant) {
    glp_add_cols(s->problem, (int)matrix->column_count);
    glp_set_obj_dir(s->problem, GLP_MIN);
    glp_set_obj_coef(s->problem, 0, constant);
    for (size_t c = 0; c < matrix->column_count; c++) {
        const sw_column *column = &matrix->columns[c];
        glp_set_col_kind(s->problem, (int)c + 1, column->integer ? GLP_IV : GLP_CV);
        glp_set_col_bnds(s->problem, (int)c + 1, bound_type(column->lower, column->upper),
                         column->lower, column->upper);
        glp_set_obj_coef(s->problem, (int)c + 1, objective[c]);
    }
}

/* Entries of one column are added up, as the measure of the row means it. */
static void add_row(session *s, const sw_matrix *matrix, size_t r) {
    const sw_row *row = &matrix->rows[r];
    int used = 0;
    for (size_t e = 0; e < row->count; e++) {
        int column = row->entries[e].column + 1, at = s->place[column];
        if (at < 1 || at > used || s->index[at] != column) {
            at = ++used;
            s->place[column] = at;
            s->index[at] = column;
            s->value[at] = 0;
        }
        s->value[at] += row->entries[e].value;
    }
    glp_set_row_bnds(s->problem, (int)r + 1, bound_type(row->lower, row->upper), row->lower,
                     row->upper);
    glp_set_mat_row(s->problem, (int)r + 1, used, s->index, s->value);
}

static void watch(glp_tree *tree, void *info) {
    session *s = info;
    int best = glp_ios_best_node(tree);
    if (s->allowance->halt != NULL && s->allowance->halt(s->allowance->context))
        glp_ios_terminate(tree);
    if (best == 0)
        return;
    s->bound = glp_ios_node_bound(tree, best);
    s->has_bound = isfinite(s->bound) && s->bound > -1e300;
}

static int milliseconds(double seconds) {
    double all = seconds * 1000;
    return all < 1 ? 1 : all > 2e9 ? 2000000000 : (int)all;
}

static int solve(session *s, double seconds) {
    glp_iocp options;
    glp_init_iocp(&options);
    options.msg_lev = GLP_MSG_OFF;
    options.presolve = GLP_ON;
    options.mip_gap = 0;
    options.cb_func = watch;
    options.cb_info = s;
    options.tm_lim = milliseconds(seconds);
    return glp_intopt(s->problem, &options);
}

static void read_result(sw_glpk_result *result, const session *s, int code) {
    int status = glp_mip_status(s->problem);
    int columns = glp_get_num_cols(s->problem);
    result->found = status == GLP_OPT || status == GLP_FEAS;
    if (code == GLP_ENOPFS || (code == 0 && status == GLP_NOFEAS))
        result->end = SW_GLPK_NONE;
    else if (code == 0 && status == GLP_OPT)
        result->end = SW_GLPK_FOUND;
    else if (code == GLP_ETMLIM || code == GLP_ESTOP)
        result->end = SW_GLPK_TIME;
    else
        result->end = SW_GLPK_FAILED;
    if (result->end == SW_GLPK_NONE)
        result->found = false;
    for (int c = 1; c <= columns && result->found; c++)
        result->value[c - 1] = glp_mip_col_val(s->problem, c);
    result->objective = result->found ? glp_mip_obj_val(s->problem) : 0;
    result->bound = s->has_bound ? s->bound : -INFINITY;
}

static void run(session *s, sw_glpk_result *result, const sw_matrix *matrix,
                const double *objective, double constant, double seconds) {
    glp_term_out(GLP_OFF);
    s->problem = glp_create_prob();
    add_columns(s, matrix, objective, constant);
    glp_add_rows(s->problem, (int)matrix->row_count);
    for (size_t r = 0; r < matrix->row_count; r++)
        add_row(s, matrix, r);
    read_result(result, s, solve(s, seconds));
    glp_delete_prob(s->problem);
}

static void finish(session *s) {
    free(s->index);
    free(s->value);
    free(s->place);
    free(s);
}

static session *start(size_t columns) {
    session *s = calloc(1, sizeof *s);
    if (s == NULL)
        return NULL;
    s->index = calloc(columns + 1, sizeof *s->index);
    s->value = calloc(columns + 1, sizeof *s->value);
    s->place = calloc(columns + 1, sizeof *s->place);
    if (s->index != NULL && s->value != NULL && s->place != NULL)
        return s;
    finish(s);
    return NULL;
}

/* False where GLPK gave up: everything that it held is gone with its environment then. A function
 * of its own, so that no variable is held across the jump. */
static bool run_whole(session *s, sw_glpk_result *result, const sw_matrix *matrix,
                      const double *objective, double constant, double seconds) {
    if (setjmp(s->out) != 0) {
        glp_error_hook(NULL, NULL);
        return false;
    }
    run(s, result, matrix, objective, constant, seconds);
    glp_error_hook(NULL, NULL);
    return true;
}

sw_status sw_glpk_minimise(sw_glpk_result *result, const sw_matrix *matrix, const double *objective,
                           double constant, double seconds, const sw_allowance *allowance) {
    result->end = SW_GLPK_FAILED;
    result->found = false;
    if (!all_finite(matrix, objective, constant) || matrix->column_count == 0 ||
        matrix->row_count == 0)
        return SW_OK;
    session *s = start(matrix->column_count);
    if (s == NULL)
        return SW_NO_MEMORY;
    s->allowance = allowance;
    if (!begin(s)) {
        finish(s);
        return SW_NO_MEMORY;
    }
    sw_status status = SW_OK;
    if (!run_whole(s, result, matrix, objective, constant, seconds)) {
        glp_free_env();
        result->end = SW_GLPK_FAILED;
        result->found = false;
        status = s->no_memory ? SW_NO_MEMORY : SW_OK;
    }
    finish(s);
    return status;
}

/* ---- the relaxation ------------------------------------------------------------------ */

struct sw_relaxation {
    session *session;
    const sw_matrix *matrix;
    const double *objective;
    size_t rows; /* of the matrix that GLPK has */
    bool lost;
};

sw_status sw_relaxation_open(sw_relaxation **out, const sw_matrix *matrix,
                             const double *objective) {
    sw_relaxation *of = calloc(1, sizeof *of);
    session *s = of == NULL ? NULL : start(matrix->column_count);
    if (s == NULL) {
        free(of);
        return SW_NO_MEMORY;
    }
    *of = (sw_relaxation){.session = s, .matrix = matrix, .objective = objective};
    *out = of;
    return SW_OK;
}

/* What the matrix got since the last run. */
static void catch_up(sw_relaxation *of) {
    session *s = of->session;
    const sw_matrix *m = of->matrix;
    if (m->row_count > of->rows)
        glp_add_rows(s->problem, (int)(m->row_count - of->rows));
    for (; of->rows < m->row_count; of->rows++)
        add_row(s, m, of->rows);
    for (size_t c = 0; c < m->column_count; c++)
        if (m->columns[c].upper <= m->columns[c].lower)
            glp_set_col_bnds(s->problem, (int)c + 1, GLP_FX, m->columns[c].lower,
                             m->columns[c].lower);
}

/* The dual method starts from the last optimum, which added rows leave dual feasible. */
static void relax(sw_relaxed *out, sw_relaxation *of, double seconds) {
    session *s = of->session;
    bool first = s->problem == NULL;
    glp_term_out(GLP_OFF);
    if (first) {
        s->problem = glp_create_prob();
        add_columns(s, of->matrix, of->objective, 0);
    }
    catch_up(of);
    if (first)
        glp_adv_basis(s->problem, 0);
    glp_smcp options;
    glp_init_smcp(&options);
    options.msg_lev = GLP_MSG_OFF;
    options.meth = first ? GLP_PRIMAL : GLP_DUALP;
    options.tm_lim = milliseconds(seconds);
    out->solved = glp_simplex(s->problem, &options) == 0 && glp_get_status(s->problem) == GLP_OPT;
    if (!out->solved)
        return;
    out->bound = glp_get_obj_val(s->problem);
    for (size_t c = 0; c < of->matrix->column_count; c++)
        out->value[c] = glp_get_col_prim(s->problem, (int)c + 1);
    for (size_t r = 0; r < of->matrix->row_count; r++)
        out->price[r] = glp_get_row_dual(s->problem, (int)r + 1);
}

static bool relax_whole(sw_relaxed *out, sw_relaxation *of, double seconds) {
    if (setjmp(of->session->out) != 0) {
        glp_error_hook(NULL, NULL);
        return false;
    }
    relax(out, of, seconds);
    glp_error_hook(NULL, NULL);
    return true;
}

sw_status sw_relaxation_solve(sw_relaxed *out, sw_relaxation *of, double seconds) {
    out->solved = false;
    if (of->lost || !all_finite(of->matrix, of->objective, 0) || of->matrix->row_count == 0 ||
        of->matrix->column_count == 0)
        return SW_OK;
    if (!begin(of->session))
        return SW_NO_MEMORY;
    if (!relax_whole(out, of, seconds)) {
        glp_free_env();
        of->lost = true;
        out->solved = false;
        if (of->session->no_memory)
            return SW_NO_MEMORY;
    }
    return SW_OK;
}

void sw_relaxation_close(sw_relaxation *of) {
    if (of == NULL)
        return;
    if (!of->lost && of->session->problem != NULL)
        glp_delete_prob(of->session->problem);
    finish(of->session);
    free(of);
}
