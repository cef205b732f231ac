/* Expressions as people write them, and what they read. */
#include <stdio.h>
#include <string.h>

#include "answer/explain.h"
#include "answer/look.h"
#include "formulas/formulas.h"

static const char *const sound_words[] = {"level at the seat", "loudness at the seat",
                                          "level of the machine", "calibration"};
static const char *const air_words[] = {"air through the case", "air of the fans blowing in",
                                        "air of the fans blowing out", "pressure inside",
                                        "radiator blows out"};
static const char *const client_words[] = {"room temperature",
                                           "room level",
                                           "distance to the seat",
                                           "price of electricity",
                                           "mains voltage",
                                           "hours of work",
                                           "idle hours"};

const char *sw_number_text(sw_arena *arena, double value) {
    int64_t millionths = 0;
    /* Six decimals; beyond that whole numbers. */
    if (sw_round(&millionths, value * 1e6))
        return sw_millionths_text(arena, millionths);
    return sw_arena_format(arena, "%.6g", value);
}

static const char *fact_name(sw_arena *arena, const sw_catalog *catalog, const sw_expr *expr) {
    return sw_arena_format(arena, "%s.%s", catalog->roles[expr->role].id,
                           catalog->facts[expr->fact].name);
}

/* The name of what an expression without operands reads, NULL for lack of memory; false for
 * operators. */
static bool leaf_name(const char **out, sw_arena *arena, const sw_catalog *catalog,
                      const sw_expr *expr) {
    switch (expr->op) {
    case SW_EXPR_FACT:
        *out = fact_name(arena, catalog, expr);
        return true;
    case SW_EXPR_EVERY:
        *out = sw_arena_format(arena, "all %s together", catalog->facts[expr->fact].name);
        return true;
    case SW_EXPR_MEASURE:
        *out = sw_arena_copy(arena, catalog->measures[expr->index].id);
        return true;
    case SW_EXPR_BUSY:
        *out = sw_arena_format(arena, "busy share of the %s", catalog->roles[expr->role].name);
        return true;
    case SW_EXPR_SOUND:
        *out = sound_words[expr->index];
        return true;
    case SW_EXPR_SHARE_OF_SOUND:
        *out = sw_arena_format(arena, "share of sound of the %s", catalog->roles[expr->role].name);
        return true;
    case SW_EXPR_SPEED_OF:
        *out = sw_arena_format(arena, "speed of the %s", catalog->roles[expr->role].name);
        return true;
    case SW_EXPR_HELD_BACK_BY:
        *out = sw_arena_format(arena, "uses without the stages of the %s, over today's rate",
                               catalog->roles[expr->role].name);
        return true;
    case SW_EXPR_AIR:
        *out = air_words[expr->index];
        return true;
    case SW_EXPR_CLIENT:
        *out = client_words[expr->index];
        return true;
    default:
        return false;
    }
}

static void add(sw_text *text, sw_arena *arena, const sw_catalog *catalog, const sw_expr *expr,
                bool inside);

static void add_number(sw_text *text, sw_arena *arena, double value) {
    const char *number = sw_number_text(arena, value);
    if (number == NULL)
        text->failed = true;
    else
        sw_text_add(text, number);
}

static void add_joined(sw_text *text, sw_arena *arena, const sw_catalog *catalog,
                       const sw_expr *expr, const char *between, bool inside) {
    for (size_t i = 0; i < expr->count; i++) {
        sw_text_add(text, i > 0 ? between : "");
        add(text, arena, catalog, &expr->operands[i], inside);
    }
}

static void add_points(sw_text *text, sw_arena *arena, const sw_expr *expr) {
    sw_text_add(text, " (");
    for (size_t i = 0; i < expr->point_count; i++) {
        sw_text_add(text, i > 0 ? ", " : "");
        if (expr->op == SW_EXPR_TABLE)
            add_number(text, arena, expr->xs[i]);
        else
            sw_text_add(text, expr->tokens[i]);
        sw_text_add(text, ": ");
        add_number(text, arena, expr->ys[i]);
    }
    if (expr->op == SW_EXPR_PICK) {
        sw_text_add(text, expr->point_count > 0 ? ", else " : "else ");
        add_number(text, arena, expr->number);
    }
    sw_text_add(text, ")");
}

/* "{1} / {2}" with the operands in place. */
static void add_formula(sw_text *text, sw_arena *arena, const sw_catalog *catalog,
                        const sw_expr *expr) {
    const char *form = sw_formula_at((size_t)expr->index)->text;
    for (; *form != '\0'; form++) {
        if (form[0] == '{' && form[1] >= '1' && form[1] <= '9' && form[2] == '}') {
            add(text, arena, catalog, &expr->operands[form[1] - '1'], true);
            form += 2;
        } else {
            sw_text_add_bytes(text, form, 1);
        }
    }
}

static void add_power(sw_text *text, sw_arena *arena, const sw_catalog *catalog,
                      const sw_expr *expr) {
    add(text, arena, catalog, &expr->operands[0], true);
    sw_text_add(text, "^");
    add_number(text, arena, expr->number);
    if (expr->least < expr->most) {
        sw_text_add(text, " [");
        add_number(text, arena, expr->least);
        sw_text_add(text, " to ");
        add_number(text, arena, expr->most);
        sw_text_add(text, "]");
    }
}

static void add_operator(sw_text *text, sw_arena *arena, const sw_catalog *catalog,
                         const sw_expr *expr) {
    switch (expr->op) {
    case SW_EXPR_NUMBER:
        add_number(text, arena, expr->number);
        return;
    case SW_EXPR_ABOUT:
        add_number(text, arena, expr->number);
        sw_text_add(text, " [");
        add_number(text, arena, expr->least);
        sw_text_add(text, " to ");
        add_number(text, arena, expr->most);
        sw_text_add(text, "]");
        return;
    case SW_EXPR_SUM:
        add_joined(text, arena, catalog, expr, " + ", false);
        return;
    case SW_EXPR_DIFFERENCE:
        add_joined(text, arena, catalog, expr, " - ", true);
        return;
    case SW_EXPR_PRODUCT:
        add_joined(text, arena, catalog, expr, " x ", true);
        return;
    case SW_EXPR_QUOTIENT:
        add_joined(text, arena, catalog, expr, " / ", true);
        return;
    case SW_EXPR_LEAST:
    case SW_EXPR_MOST:
        sw_text_add(text, expr->op == SW_EXPR_LEAST ? "least of (" : "most of (");
        add_joined(text, arena, catalog, expr, "; ", false);
        sw_text_add(text, ")");
        return;
    case SW_EXPR_POWER:
        add_power(text, arena, catalog, expr);
        return;
    case SW_EXPR_LOG2:
        sw_text_add(text, "log2 of ");
        add(text, arena, catalog, &expr->operands[0], true);
        return;
    case SW_EXPR_TABLE:
        sw_text_add(text, "table at ");
        add(text, arena, catalog, &expr->operands[0], true);
        add_points(text, arena, expr);
        return;
    case SW_EXPR_PICK:
        sw_text_addf(text, "by %s.%s", catalog->roles[expr->role].id,
                     catalog->facts[expr->fact].name);
        add_points(text, arena, expr);
        return;
    case SW_EXPR_ROW:
        sw_text_addf(text, "table %s, row %s.%s, at ", catalog->tables[expr->index].id,
                     catalog->roles[expr->role].id, catalog->facts[expr->fact].name);
        add(text, arena, catalog, &expr->operands[0], true);
        return;
    default:
        add_formula(text, arena, catalog, expr);
    }
}

static bool stands_alone(const sw_expr *expr) {
    return expr->op == SW_EXPR_NUMBER || expr->op == SW_EXPR_LEAST || expr->op == SW_EXPR_MOST ||
           expr->op == SW_EXPR_ABOUT || expr->op == SW_EXPR_PICK || expr->op == SW_EXPR_TABLE;
}

/* Recursion is bounded: the file's nesting is at most 64. */
static void add(sw_text *text, sw_arena *arena, const sw_catalog *catalog, const sw_expr *expr,
                bool inside) {
    const char *leaf = NULL;
    if (leaf_name(&leaf, arena, catalog, expr)) {
        if (leaf == NULL)
            text->failed = true;
        else
            sw_text_add(text, leaf);
        return;
    }
    bool braces = inside && !stands_alone(expr);
    sw_text_add(text, braces ? "(" : "");
    add_operator(text, arena, catalog, expr);
    sw_text_add(text, braces ? ")" : "");
}

const char *sw_formula_text(sw_arena *arena, const sw_catalog *catalog, const sw_expr *expr) {
    sw_text text = {0};
    sw_text_add(&text, "");
    add(&text, arena, catalog, expr, false);
    const char *out = text.failed ? NULL : sw_arena_copy(arena, text.bytes);
    sw_text_free(&text);
    return out;
}

/* ---- what it reads -------------------------------------------------------------------------- */

static const char *interval_text(sw_arena *arena, const sw_interval *value) {
    if (value->state != SW_KNOWN)
        return value->state == SW_VOID ? "none" : "not known";
    const char *mid = sw_number_text(arena, value->mid);
    if (value->low == value->high || mid == NULL)
        return mid;
    const char *low = sw_number_text(arena, value->low);
    const char *high = sw_number_text(arena, value->high);
    return low == NULL || high == NULL ? NULL
                                       : sw_arena_format(arena, "%s [%s to %s]", mid, low, high);
}

static sw_status add_input(sw_explain_value *out, const char *name, const char *value) {
    if (name == NULL || value == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < out->input_count; i++)
        if (strcmp(out->inputs[i].name, name) == 0)
            return SW_OK;
    out->inputs[out->input_count++] = (sw_explain_input){name, value};
    return SW_OK;
}

static size_t count_leaves(const sw_expr *expr) {
    size_t count = 2;
    for (size_t i = 0; i < expr->count; i++)
        count += count_leaves(&expr->operands[i]);
    return count;
}

static sw_status collect(sw_explain_value *out, sw_arena *arena, const sw_measuring *m,
                         const sw_expr *expr) {
    const sw_catalog *catalog = m->estimates->fitouts->catalog;
    const char *leaf = NULL;
    if (expr->op == SW_EXPR_ROW || expr->op == SW_EXPR_PICK) {
        const sw_fitouts *fitouts = m->estimates->fitouts;
        const sw_value *value =
            sw_fitout_value(fitouts, &fitouts->fitouts[m->machine[expr->role]], expr->fact);
        sw_status status = add_input(out, fact_name(arena, catalog, expr),
                                     sw_value_text(arena, &catalog->facts[expr->fact], value));
        if (status != SW_OK)
            return status;
    } else if (leaf_name(&leaf, arena, catalog, expr)) {
        sw_interval value = sw_measured(m, expr);
        return add_input(out, leaf, interval_text(arena, &value));
    }
    for (size_t i = 0; i < expr->count; i++) {
        sw_status status = collect(out, arena, m, &expr->operands[i]);
        if (status != SW_OK)
            return status;
    }
    return SW_OK;
}

sw_status sw_formula_inputs(sw_explain_value *out, sw_arena *arena, const sw_measuring *measuring,
                            const sw_expr *expr) {
    out->inputs = SW_NEW(arena, sw_explain_input, count_leaves(expr));
    return out->inputs == NULL ? SW_NO_MEMORY : collect(out, arena, measuring, expr);
}

bool sw_formula_reads(const sw_catalog *catalog, const sw_expr *expr, int role) {
    bool of_role = expr->op == SW_EXPR_FACT || expr->op == SW_EXPR_PICK ||
                   expr->op == SW_EXPR_ROW || expr->op == SW_EXPR_SHARE_OF_SOUND ||
                   expr->op == SW_EXPR_SPEED_OF || expr->op == SW_EXPR_HELD_BACK_BY;
    if (of_role && expr->role == role)
        return true;
    if (expr->op == SW_EXPR_EVERY && catalog->facts[expr->fact].on_role[role])
        return true;
    if (expr->op == SW_EXPR_MEASURE)
        return sw_formula_reads(catalog, catalog->measures[expr->index].is, role);
    for (size_t i = 0; i < expr->count; i++)
        if (sw_formula_reads(catalog, &expr->operands[i], role))
            return true;
    return false;
}
