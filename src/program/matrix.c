/* A sparse matrix with names: what every linear solver takes. */
#include "program/stage.h"

#include <math.h>
#include <stdlib.h>

int sw_matrix_column(sw_matrix *matrix, const char *name, double lower, double upper,
                     bool integer) {
    if (name == NULL || !SW_GROW(matrix->columns, matrix->column_room, matrix->column_count))
        return SW_NONE;
    matrix->columns[matrix->column_count] =
        (sw_column){.name = name, .lower = lower, .upper = upper, .integer = integer};
    return (int)matrix->column_count++;
}

int sw_matrix_row(sw_matrix *matrix, const char *name, double lower, double upper) {
    if (name == NULL || !SW_GROW(matrix->rows, matrix->row_room, matrix->row_count))
        return SW_NONE;
    matrix->rows[matrix->row_count] =
        (sw_row){.name = name, .lower = lower, .upper = upper, .scale = 1};
    return (int)matrix->row_count++;
}

bool sw_matrix_set(sw_matrix *matrix, int row, int column, double value) {
    sw_row *of = &matrix->rows[row];
    if (value == 0)
        return true;
    if (!isfinite(value) || !SW_GROW(of->entries, of->room, of->count))
        return false;
    of->entries[of->count++] = (sw_entry){column, value};
    return true;
}

static int64_t least_amount(const sw_matrix *matrix, const sw_group *group, const int64_t *amount) {
    int64_t least = INT64_MAX;
    for (int p = group->first; p < group->first + group->count; p++)
        if (matrix->pick_column[p] != SW_NONE && amount[p] < least)
            least = amount[p];
    return least == INT64_MAX ? 0 : least;
}

int sw_matrix_sum(sw_matrix *matrix, const char *name, const int64_t *amount, const bool *in,
                  int64_t limit) {
    const sw_program *program = matrix->program;
    int64_t greatest = 1;
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_group *group = &program->groups[g];
        if (!in[g])
            continue;
        int64_t least = least_amount(matrix, group, amount);
        limit -= least;
        for (int p = group->first; p < group->first + group->count; p++)
            if (matrix->pick_column[p] != SW_NONE && amount[p] - least > greatest)
                greatest = amount[p] - least;
    }
    int row = sw_matrix_row(matrix, name, -INFINITY, (double)limit / (double)greatest);
    if (row == SW_NONE)
        return SW_NONE;
    matrix->rows[row].scale = greatest;
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_group *group = &program->groups[g];
        if (!in[g])
            continue;
        int64_t least = least_amount(matrix, group, amount);
        for (int p = group->first; p < group->first + group->count; p++)
            if (matrix->pick_column[p] != SW_NONE &&
                !sw_matrix_set(matrix, row, matrix->pick_column[p],
                               (double)(amount[p] - least) / (double)greatest))
                return SW_NONE;
    }
    return row;
}

bool sw_matrix_load(sw_matrix *matrix, const sw_load_row *load) {
    if (!SW_GROW(matrix->loads, matrix->load_room, matrix->load_count))
        return false;
    matrix->loads[matrix->load_count++] = *load;
    return true;
}

/* ---- fewer numbers ---------------------------------------------------------------------- */

/* One row laid out by columns. */
typedef struct layout {
    double *value;     /* [column] */
    bool *held;        /* [column] among the row's entries */
    int *group_of;     /* [column] SW_NONE: no pick's */
    bool *touched;     /* [group] */
    double *numbers;   /* [column] for sorting */
    sw_entry *entries; /* [column] */
} layout;

static sw_status make_layout(layout *out, const sw_matrix *m) {
    size_t columns = m->column_count, groups = m->program->group_count;
    *out = (layout){SW_NEW(m->arena, double, columns), SW_NEW(m->arena, bool, columns),
                    SW_NEW(m->arena, int, columns),    SW_NEW(m->arena, bool, groups),
                    SW_NEW(m->arena, double, columns), SW_NEW(m->arena, sw_entry, columns)};
    if (out->value == NULL || out->held == NULL || out->group_of == NULL || out->touched == NULL ||
        out->numbers == NULL || out->entries == NULL)
        return SW_NO_MEMORY;
    for (size_t c = 0; c < columns; c++)
        out->group_of[c] = SW_NONE;
    for (size_t p = 0; p < m->program->pick_count; p++)
        if (m->pick_column[p] != SW_NONE)
            out->group_of[m->pick_column[p]] = m->program->picks[p].group;
    return SW_OK;
}

static int by_number(const void *left, const void *right) {
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

/* The commonest number of the group's picks; of equals nought. */
static double commonest(const sw_matrix *m, const sw_group *group, const layout *row) {
    size_t count = 0, run = 0, most = 0;
    double best = 0;
    for (int p = group->first; p < group->first + group->count; p++)
        if (m->pick_column[p] != SW_NONE)
            row->numbers[count++] = row->value[m->pick_column[p]];
    qsort(row->numbers, count, sizeof *row->numbers, by_number);
    for (size_t i = 0; i < count; i++) {
        run = i > 0 && row->numbers[i] == row->numbers[i - 1] ? run + 1 : 1;
        if (run > most || (run == most && row->numbers[i] == 0)) {
            most = run;
            best = row->numbers[i];
        }
    }
    return best;
}

/* Takes the row's entries out of it into the layout; entries of one column are added. */
static size_t lay_out(layout *out, sw_row *row) {
    size_t count = 0;
    for (size_t e = 0; e < row->count; e++) {
        int column = row->entries[e].column;
        if (!out->held[column])
            out->entries[count++].column = column;
        out->held[column] = true;
        out->value[column] += row->entries[e].value;
        if (out->group_of[column] != SW_NONE)
            out->touched[out->group_of[column]] = true;
    }
    row->count = 0;
    return count;
}

/* Puts what is not nought back, the columns of `m`'s picks first; clears the layout. */
static bool put_back(sw_matrix *m, int row, layout *from, size_t count) {
    bool done = true;
    for (size_t g = 0; g < m->program->group_count; g++) {
        const sw_group *group = &m->program->groups[g];
        for (int p = group->first; p < group->first + group->count && from->touched[g]; p++)
            if (m->pick_column[p] != SW_NONE) {
                done = done &&
                       sw_matrix_set(m, row, m->pick_column[p], from->value[m->pick_column[p]]);
                from->value[m->pick_column[p]] = 0;
            }
        from->touched[g] = false;
    }
    for (size_t i = 0; i < count; i++) {
        int column = from->entries[i].column;
        done = done && sw_matrix_set(m, row, column, from->value[column]);
        from->value[column] = 0;
        from->held[column] = false;
    }
    return done;
}

static bool thin_row(sw_matrix *m, int index, layout *row) {
    size_t count = lay_out(row, &m->rows[index]);
    double shift = 0;
    for (size_t g = 0; g < m->program->group_count; g++) {
        const sw_group *group = &m->program->groups[g];
        double number = row->touched[g] ? commonest(m, group, row) : 0;
        shift += number;
        for (int p = group->first; p < group->first + group->count && number != 0; p++)
            if (m->pick_column[p] != SW_NONE)
                row->value[m->pick_column[p]] -= number;
    }
    m->rows[index].lower -= shift;
    m->rows[index].upper -= shift;
    return put_back(m, index, row, count);
}

sw_status sw_matrix_thin(sw_matrix *m, size_t first) {
    layout row;
    sw_status status = make_layout(&row, m);
    /* The rows "one of each group" come first; thinned, nothing would be left of them. */
    size_t from = first > m->program->group_count ? first : m->program->group_count;
    for (size_t r = from; r < m->row_count && status == SW_OK; r++)
        if (!thin_row(m, (int)r, &row))
            status = SW_NO_MEMORY;
    return status;
}

void sw_matrix_free(sw_matrix *matrix) {
    if (matrix == NULL)
        return;
    for (size_t r = 0; r < matrix->row_count; r++)
        free(matrix->rows[r].entries);
    free(matrix->rows);
    free(matrix->loads);
    free(matrix->columns);
    sw_arena_free(matrix->arena);
}
