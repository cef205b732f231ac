/* The program as text, so that anyone can put it to another solver: CPLEX LP
 * or free MPS. MPS has no agreed sense for a constant in the objective, so it
 * is minimised without one and a comment says what to add. */
#include "program/stage.h"

#include <math.h>
#include <stdio.h>

/* A double that reads back as itself, with a point whatever the locale. */
static void add_number(sw_text *out, double number) {
    char digits[32];
    snprintf(digits, sizeof digits, "%.17g", number);
    for (char *c = digits; *c != '\0'; c++)
        if (!((*c >= '0' && *c <= '9') || *c == '-' || *c == '+' || *c == 'e'))
            *c = '.';
    sw_text_add(out, digits);
}

/* Ids hold hyphens, which the LP form reads as a minus; nothing else in a name
 * needs care, and ids hold no underscores. */
static void add_name(sw_text *out, const char *name) {
    for (; *name != '\0'; name++)
        sw_text_add_bytes(out, *name == '-' ? "_" : name, 1);
}

static void add_comment(sw_text *out, const sw_matrix *m, char mark) {
    const sw_program *program = m->program;
    const sw_fitouts *fitouts = program->fitouts;
    sw_text_addf(out, "%c minimise minus the points, in thousandths of a point\n", mark);
    sw_text_addf(out, "%c points = %lld - objective\n", mark, (long long)m->points.constant);
    size_t left_out = 0;
    for (size_t p = 0; p < program->pick_count; p++)
        left_out += m->pick_column[p] == SW_NONE ? 1 : 0;
    sw_text_addf(out, "%c %zu choices that no bundle within the budget can hold are left out\n",
                 mark, left_out);
    sw_text_addf(out, "%c what the others are: column, price in minor units, parts and tasks\n",
                 mark);
    for (size_t p = 0; p < program->pick_count; p++) {
        if (m->pick_column[p] == SW_NONE)
            continue;
        sw_text_addf(out, "%c ", mark);
        add_name(out, m->columns[m->pick_column[p]].name);
        sw_text_addf(out, " %lld", (long long)program->picks[p].cost);
        const char *key = fitouts->fitouts[program->picks[p].fitout].key;
        sw_text_add(out, *key != '\0' ? " " : " nothing");
        for (; *key != '\0'; key++)
            if (*key == '\n')
                sw_text_add(out, key[1] != '\0' ? " " : "");
            else if (*key == '\t')
                sw_text_add(out, "do:");
            else
                sw_text_add_bytes(out, key, 1);
        sw_text_add(out, "\n");
    }
}

static void add_term(sw_text *out, double value, const char *name) {
    sw_text_add(out, value < 0 ? " - " : " + ");
    add_number(out, fabs(value));
    sw_text_add(out, " ");
    add_name(out, name);
    sw_text_add(out, "\n");
}

static void add_lp_row(sw_text *out, const sw_matrix *m, size_t r) {
    const sw_row *row = &m->rows[r];
    sw_text_addf(out, " r%zu_", r);
    add_name(out, row->name);
    sw_text_add(out, ":\n");
    for (size_t e = 0; e < row->count; e++)
        add_term(out, row->entries[e].value, m->columns[row->entries[e].column].name);
    /* An empty row may still be impossible, and must say so. */
    if (row->count == 0)
        add_term(out, 0, m->columns[0].name);
    bool equal = row->lower == row->upper;
    sw_text_add(out, equal ? " = " : isinf(row->lower) ? " <= " : " >= ");
    add_number(out, isinf(row->lower) ? row->upper : row->lower);
    sw_text_add(out, "\n");
}

static void write_lp(sw_text *out, const sw_matrix *m) {
    add_comment(out, m, '\\');
    sw_text_add(out, "Minimize\n minus_points:\n");
    bool any = false;
    for (size_t c = 0; c < m->column_count; c++)
        if (m->points.coefficient[c] != 0) {
            add_term(out, -(double)m->points.coefficient[c], m->columns[c].name);
            any = true;
        }
    if (!any)
        add_term(out, 0, m->columns[0].name);
    sw_text_add(out, "Subject To\n");
    for (size_t r = 0; r < m->row_count; r++)
        add_lp_row(out, m, r);
    sw_text_add(out, "Bounds\n");
    for (size_t c = 0; c < m->column_count; c++) {
        sw_text_add(out, " ");
        add_number(out, m->columns[c].lower);
        sw_text_add(out, " <= ");
        add_name(out, m->columns[c].name);
        sw_text_add(out, " <= ");
        add_number(out, m->columns[c].upper);
        sw_text_add(out, "\n");
    }
    sw_text_add(out, "General\n");
    for (size_t c = 0; c < m->column_count; c++)
        if (m->columns[c].integer) {
            sw_text_add(out, " ");
            add_name(out, m->columns[c].name);
            sw_text_add(out, "\n");
        }
    sw_text_add(out, "End\n");
}

/* Columns of one MPS section need their entries column by column. */
static sw_status add_mps_columns(sw_text *out, const sw_matrix *m) {
    size_t total = 0;
    for (size_t r = 0; r < m->row_count; r++)
        total += m->rows[r].count;
    size_t *first = SW_NEW(m->arena, size_t, m->column_count + 2);
    sw_entry *entries = SW_NEW(m->arena, sw_entry, total); /* column: the row */
    if (first == NULL || entries == NULL)
        return SW_NO_MEMORY;
    for (size_t r = 0; r < m->row_count; r++)
        for (size_t e = 0; e < m->rows[r].count; e++)
            first[m->rows[r].entries[e].column + 2]++;
    for (size_t c = 0; c < m->column_count; c++)
        first[c + 2] += first[c + 1];
    for (size_t r = 0; r < m->row_count; r++)
        for (size_t e = 0; e < m->rows[r].count; e++) {
            const sw_entry *entry = &m->rows[r].entries[e];
            entries[first[entry->column + 1]++] = (sw_entry){(int)r, entry->value};
        }
    bool inside = false;
    for (size_t c = 0; c < m->column_count; c++) {
        if (m->columns[c].integer != inside)
            sw_text_addf(out, " MARKER 'MARKER' '%s'\n", inside ? "INTEND" : "INTORG");
        inside = m->columns[c].integer;
        sw_text_add(out, " ");
        add_name(out, m->columns[c].name);
        sw_text_add(out, " minus_points ");
        add_number(out, (double)-m->points.coefficient[c]);
        sw_text_add(out, "\n");
        for (size_t e = first[c]; e < first[c + 1]; e++) {
            sw_text_add(out, " ");
            add_name(out, m->columns[c].name);
            sw_text_addf(out, " r%d ", entries[e].column);
            add_number(out, entries[e].value);
            sw_text_add(out, "\n");
        }
    }
    if (inside)
        sw_text_add(out, " MARKER 'MARKER' 'INTEND'\n");
    return SW_OK;
}

static sw_status write_mps(sw_text *out, const sw_matrix *m) {
    add_comment(out, m, '*');
    sw_text_add(out, "NAME swapworth\nROWS\n N minus_points\n");
    for (size_t r = 0; r < m->row_count; r++) {
        const sw_row *row = &m->rows[r];
        const char *sense = row->lower == row->upper ? "E" : isinf(row->lower) ? "L" : "G";
        sw_text_addf(out, " %s r%zu\n", sense, r);
    }
    sw_text_add(out, "COLUMNS\n");
    sw_status status = add_mps_columns(out, m);
    sw_text_add(out, "RHS\n");
    for (size_t r = 0; r < m->row_count; r++) {
        const sw_row *row = &m->rows[r];
        sw_text_addf(out, " RHS r%zu ", r);
        add_number(out, isinf(row->lower) ? row->upper : row->lower);
        sw_text_add(out, "\n");
    }
    sw_text_add(out, "BOUNDS\n");
    for (size_t c = 0; c < m->column_count; c++) {
        sw_text_add(out, " LO BND ");
        add_name(out, m->columns[c].name);
        sw_text_add(out, " ");
        add_number(out, m->columns[c].lower);
        sw_text_add(out, "\n UP BND ");
        add_name(out, m->columns[c].name);
        sw_text_add(out, " ");
        add_number(out, m->columns[c].upper);
        sw_text_add(out, "\n");
    }
    sw_text_add(out, "ENDATA\n");
    return status;
}

/* What the relaxation may take to find rows. */
#define SW_WRITE_SECONDS 10.0

static sw_status tighten(sw_matrix *m) {
    double *objective = SW_NEW(m->arena, double, m->column_count);
    if (objective == NULL)
        return SW_NO_MEMORY;
    for (size_t c = 0; c < m->column_count; c++)
        objective[c] = -(double)m->points.coefficient[c];
    return sw_matrix_tighten(m, objective, INFINITY, SW_WRITE_SECONDS);
}

sw_status sw_program_write(sw_text *out, const sw_program *program, sw_export_form form) {
    sw_matrix *matrix = NULL;
    sw_status status = sw_matrix_make(&matrix, program, NULL, program->budget);
    if (status != SW_OK)
        return status;
    status = tighten(matrix);
    if (status == SW_OK && form == SW_EXPORT_LP)
        write_lp(out, matrix);
    else if (status == SW_OK)
        status = write_mps(out, matrix);
    sw_matrix_free(matrix);
    return status == SW_OK && out->failed ? SW_NO_MEMORY : status;
}
