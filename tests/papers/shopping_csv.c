/* The CSV, read by the letter of RFC 4180, against the JSON. */
#include "shopping.h"

#include <stdio.h>
#include <string.h>

enum { COLUMNS = 14, CELL = 512 };

typedef struct Row {
    char cell[COLUMNS][CELL];
    int cells;
} Row;

/* One row; returns where the next begins, NULL where it is no CSV. */
static const char *read_row(const char *at, Row *row) {
    row->cells = 0;
    while (row->cells < COLUMNS) {
        char *out = row->cell[row->cells++];
        size_t n = 0;
        bool quoted = *at == '"';
        at += quoted;
        while (*at && (quoted ? *at != '"' || at[1] == '"' : !strchr(",\r\n\"", *at))) {
            at += quoted && *at == '"';
            if (n + 1 < CELL)
                out[n++] = *at;
            at++;
        }
        out[n] = '\0';
        if (quoted && *at++ != '"')
            return NULL;
        if (*at == ',')
            at++;
        else
            return at[0] == '\r' && at[1] == '\n' ? at + 2 : NULL;
    }
    return NULL;
}

/* What a text looks like when it may not be taken for a formula. */
static bool is_guarded(const char *cell, const char *text) {
    bool formula = *text && strchr("=+-@\t\r", *text);
    return formula ? *cell == '\'' && !strcmp(cell + 1, text) : !strcmp(cell, text);
}

static const char *or_none(const cJSON *object, const char *name) {
    const cJSON *found = get(object, name);
    return cJSON_IsString(found) ? found->valuestring : "";
}

static bool is_line(const Row *r, const cJSON *answer, const cJSON *order, int number,
                    const cJSON *line) {
    char text[64];
    const struct {
        int cell;
        const char *name;
    } same[] = {{2, "part"},         {4, "role"},     {6, "price_each"},
                {7, "price"},        {10, "here_on"}, {11, "warranty_until"},
                {12, "return_until"}};
    snprintf(text, sizeof text, "%d", number);
    if (r->cells != COLUMNS || strcmp(r->cell[0], text) != 0 ||
        !is_guarded(r->cell[1], text_of(order, "name")) ||
        !is_guarded(r->cell[3], text_of(line, "name")))
        return false;
    for (size_t i = 0; i < sizeof same / sizeof *same; i++)
        if (strcmp(r->cell[same[i].cell], or_none(line, same[i].name)) != 0)
            return false;
    snprintf(text, sizeof text, "%.0f", get(line, "count")->valuedouble);
    if (strcmp(r->cell[5], text) != 0 || strcmp(r->cell[8], text_of(answer, "currency")) != 0)
        return false;
    snprintf(text, sizeof text, "%.0f", get(line, "days")->valuedouble);
    return !strcmp(r->cell[9], text) &&
           !strcmp(r->cell[13], cJSON_IsTrue(get(line, "changed")) ? "true" : "false");
}

static bool is_delivery(const Row *r, const cJSON *order) {
    return r->cells == COLUMNS && !*r->cell[2] && !*r->cell[4] && !strcmp(r->cell[3], "delivery") &&
           is_guarded(r->cell[1], text_of(order, "name")) &&
           !strcmp(r->cell[7], text_of(order, "delivery"));
}

bool right_csv(Talk *t, const cJSON *answer, const char *csv) {
    static Row row, ahead;
    const cJSON *order, *line;
    const char *at = read_row(csv, &row);
    long long sum = 0;
    int number = 0;
    if (!at || row.cells != COLUMNS || strcmp(row.cell[13], "changed") != 0)
        return fail(t, "the head of the CSV");
    cJSON_ArrayForEach(order, get(answer, "orders")) {
        number++;
        cJSON_ArrayForEach(line, get(order, "lines")) {
            at = *at ? read_row(at, &row) : NULL;
            if (!at || !is_line(&row, answer, order, number, line))
                return fail(t, "the CSV's row of %s", text_of(line, "part"));
            sum += money_of(row.cell[7]);
        }
        bool delivered = *at && read_row(at, &ahead) && !*ahead.cell[2];
        if (delivered !=
                (money_of(text_of(order, "delivery")) > 0 || cJSON_IsTrue(get(order, "waived"))) &&
            !(delivered && is_delivery(&ahead, order)))
            return fail(t, "the CSV's delivery by %s", text_of(order, "seller"));
        if (!delivered)
            continue;
        at = read_row(at, &row);
        if (!is_delivery(&row, order))
            return fail(t, "the CSV's delivery by %s", text_of(order, "seller"));
        sum += money_of(row.cell[7]);
    }
    if (*at)
        return fail(t, "more in the CSV than is ordered");
    return sum == money_of(text_of(answer, "to_pay")) || fail(t, "the CSV adds up to other sums");
}
