/* The forms of an expression that measures alone may use. */
#include "check/expression.h"
#include "formulas/formulas.h"

#include <string.h>

static bool parse_measure(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out,
                          sw_nature *is) {
    (void)is;
    if (!sw_is_kind(check, at, SW_JSON_TEXT))
        return false;
    out->index = sw_find(check, at, &check->measures, at->json->text, "measure", "measures.json");
    if (out->index == SW_NONE || out->index < where.before)
        return out->index != SW_NONE;
    sw_wrong(check, at, "a measure is made from those listed before it",
             "change the order of the list", "names \"%s\", which is not made yet",
             sw_shown(check, at->json->text));
    return false;
}

static bool parse_about(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out,
                        sw_nature *is) {
    (void)where;
    (void)is;
    double numbers[3];
    if (!sw_is_kind(check, at, SW_JSON_ARRAY))
        return false;
    if (at->json->count != 3) {
        sw_wrong(check, at, "it is the least, the likely and the most", "give three numbers",
                 "has %zu entries", at->json->count);
        return false;
    }
    for (size_t i = 0; i < 3; i++) {
        int64_t milli = 0;
        sw_node entry = sw_element(at, i);
        if (!sw_check_milli(check, &entry, -SW_MILLI_LIMIT, SW_MILLI_LIMIT, &milli))
            return false;
        numbers[i] = entry.json->number;
    }
    out->least = numbers[0];
    out->number = numbers[1];
    out->most = numbers[2];
    if (numbers[0] <= numbers[1] && numbers[1] <= numbers[2])
        return true;
    sw_wrong(check, at, "it is the least, the likely and the most", "put them in order",
             "is not in order");
    return false;
}

static bool parse_two(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out,
                      sw_nature *is) {
    if (!sw_is_kind(check, at, SW_JSON_ARRAY))
        return false;
    if (at->json->count == 2)
        return sw_parse_operands(check, at, 2, where, out, is);
    sw_wrong(check, at, "it is of two expressions, in this order", "give two", "has %zu entries",
             at->json->count);
    return false;
}

static bool parse_formula(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out,
                          sw_nature *is) {
    sw_node of;
    if (!sw_is_kind(check, at, SW_JSON_TEXT))
        return false;
    const char **names = SW_KEEP(check, const char *, sw_formula_count());
    if (names == NULL)
        return false;
    out->index = SW_NONE;
    for (size_t f = 0; f < sw_formula_count(); f++) {
        names[f] = sw_formula_at(f)->name;
        if (strcmp(names[f], at->json->text) == 0)
            out->index = (int)f;
    }
    if (out->index == SW_NONE) {
        sw_wrong(
            check, at, "the formulas are the functions of swapworth.h without sw_",
            sw_mend_name(check, at->json->text, names, sw_formula_count(), "name one of these"),
            "names the formula \"%s\", which is not known", sw_shown(check, at->json->text));
        return false;
    }
    size_t count = (size_t)sw_formula_at((size_t)out->index)->arguments;
    return sw_get_list(check, at->up, "of", SW_REQUIRED, count, count, &of) &&
           sw_parse_operands(check, &of, count, where, out, is);
}

static bool parse_row(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out,
                      sw_nature *is) {
    sw_term term = {0};
    if (!SW_CHECK_NAMES(check, at, "table", "row", "at"))
        return false;
    bool good = sw_get_index(check, at, "table", SW_REQUIRED, &check->tables, "table",
                             "measures.json", &out->index);
    good = sw_get_term(check, at, "row", SW_TYPE_BIT(SW_TOKEN), &term) && good;
    out->role = term.role;
    out->fact = term.fact;
    sw_node x = sw_member(at, "at");
    if (x.json == NULL) {
        sw_wrong(check, at, "it says where in the row to look", "add it", "has no \"at\"");
        return false;
    }
    sw_expr *operand = SW_KEEP(check, sw_expr, 1);
    out->operands = operand;
    out->count = 1;
    return operand != NULL && sw_parse_expression(check, &x, where, operand, is) && good;
}

static bool parse_role(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out,
                       sw_nature *is) {
    (void)where;
    (void)is;
    if (!sw_is_kind(check, at, SW_JSON_TEXT))
        return false;
    out->role = sw_find(check, at, &check->roles, at->json->text, "role", "roles.json");
    return out->role != SW_NONE;
}

static bool parse_word(sw_check *check, const sw_node *at, const char *const *words, size_t count,
                       sw_expr *out) {
    if (!sw_is_kind(check, at, SW_JSON_TEXT))
        return false;
    for (size_t w = 0; w < count; w++)
        if (strcmp(words[w], at->json->text) == 0) {
            out->index = (int)w;
            return true;
        }
    sw_wrong(check, at, "only what the program knows may be asked for",
             sw_mend_name(check, at->json->text, words, count, "see section 15 of FORMATS.md"),
             "is \"%s\", which is not known", sw_shown(check, at->json->text));
    return false;
}

static bool parse_sound(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out,
                        sw_nature *is) {
    (void)where;
    static const char *const words[] = {"seat_dba", "seat_sone", "machine_dba", "calibration_db"};
    bool good = parse_word(check, at, words, sizeof words / sizeof *words, out);
    is->pressure = good && (out->index == SW_SEAT_DBA || out->index == SW_MACHINE_DBA);
    return good;
}

static bool parse_air(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out,
                      sw_nature *is) {
    (void)where;
    (void)is;
    static const char *const words[] = {"through_m3_h", "in_m3_h", "out_m3_h", "inside_pa",
                                        "radiator_heat_out"};
    return parse_word(check, at, words, sizeof words / sizeof *words, out);
}

static bool parse_client(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out,
                         sw_nature *is) {
    (void)where;
    (void)is;
    static const char *const words[] = {"room_c",  "room_dba",   "distance_m", "price_per_kwh",
                                        "mains_v", "work_hours", "idle_hours"};
    return parse_word(check, at, words, sizeof words / sizeof *words, out);
}

const sw_form sw_measure_forms[] = {
    {"measure", SW_EXPR_MEASURE, parse_measure, true},
    {"about", SW_EXPR_ABOUT, parse_about, true},
    {"difference", SW_EXPR_DIFFERENCE, parse_two, true},
    {"quotient", SW_EXPR_QUOTIENT, parse_two, true},
    {"formula", SW_EXPR_FORMULA, parse_formula, true},
    {"row", SW_EXPR_ROW, parse_row, true},
    {"busy", SW_EXPR_BUSY, parse_role, true},
    {"sound", SW_EXPR_SOUND, parse_sound, true},
    {"share_of_sound", SW_EXPR_SHARE_OF_SOUND, parse_role, true},
    {"speed_of", SW_EXPR_SPEED_OF, parse_role, true},
    {"held_back_by", SW_EXPR_HELD_BACK_BY, parse_role, true},
    {"air", SW_EXPR_AIR, parse_air, true},
    {"client", SW_EXPR_CLIENT, parse_client, true},
};
const size_t sw_measure_form_count = sizeof sw_measure_forms / sizeof *sw_measure_forms;
