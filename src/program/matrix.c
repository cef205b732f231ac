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

void sw_matrix_free(sw_matrix *matrix) {
    if (matrix == NULL)
        return;
    for (size_t r = 0; r < matrix->row_count; r++)
        free(matrix->rows[r].entries);
    free(matrix->rows);
    free(matrix->columns);
    sw_arena_free(matrix->arena);
}
