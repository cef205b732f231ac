/* Expressions of derived facts and stages: the closed grammar, and for a stage
 * what may join facts of several roles. */
#include "check/expression.h"

#include <string.h>

/* A stage whose least-ofs multiply out into more products than this would swamp
 * every table made from it. */
#define WAYS_LIMIT 256

/* ---- numbers and facts -------------------------------------------------------------- */

static bool parse_number(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out) {
    int64_t milli = 0;
    if (!sw_check_milli(check, at, -SW_MILLI_LIMIT, SW_MILLI_LIMIT, &milli))
        return false;
    if (where.spreads && milli <= 0) {
        sw_wrong(check, at, "a stage takes the logarithm of each of its factors",
                 "write a number above 0", "is not positive");
        return false;
    }
    out->op = SW_EXPR_NUMBER;
    out->number = at->json->number;
    return true;
}

static bool check_own(sw_check *check, const sw_node *at, sw_scope_of where, const sw_expr *is) {
    if (where.role == SW_NONE || where.measure)
        return true;
    if (is->role != where.role) {
        sw_wrong(check, at, "a derived fact is made from facts of its own role alone",
                 "name a fact of that role", "names a fact of the role \"%s\"",
                 check->catalog->roles[is->role].id);
        return false;
    }
    if (is->fact >= where.before) {
        sw_wrong(check, at, "a derived fact is made from facts listed before it",
                 "change the order of the list, or name another fact",
                 "names \"%s\", which is not made yet", check->catalog->facts[is->fact].name);
        return false;
    }
    return true;
}

static bool parse_fact(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out) {
    sw_term term = {0};
    out->op = SW_EXPR_FACT;
    if (!sw_check_term(check, at, SW_TYPE_BIT(SW_NUMBER) | SW_TYPE_BIT(SW_FLAG), where.measure,
                       &term))
        return false;
    out->role = term.role;
    out->fact = term.fact;
    if (term.role == SW_EVERY_ROLE)
        out->op = SW_EXPR_EVERY;
    return check_own(check, at, where, out);
}

/* ---- operators ------------------------------------------------------------------------ */

static int join_roles(int a, int b) {
    if (a == SW_NONE || a == b)
        return b;
    return b == SW_NONE ? a : SW_SEVERAL_ROLES;
}

static size_t join_ways(sw_expr_op op, size_t a, size_t b) {
    size_t ways = op == SW_EXPR_LEAST ? a + b : a * b;
    return ways > WAYS_LIMIT ? WAYS_LIMIT + 1 : ways;
}

/* Each of a list of operands; the same for power, log2 and table, which have one. */
bool sw_parse_operands(sw_check *check, const sw_node *list, size_t count, sw_scope_of where,
                       sw_expr *out, sw_nature *is) {
    sw_expr *operands = SW_KEEP(check, sw_expr, count);
    bool good = operands != NULL;
    *is = (sw_nature){.role = SW_NONE, .ways = out->op == SW_EXPR_LEAST ? 0 : 1};
    for (size_t i = 0; operands != NULL && i < count; i++) {
        sw_node at = sw_element(list, i);
        sw_nature one;
        if (!sw_parse_expression(check, &at, where, &operands[i], &one)) {
            good = false;
            continue;
        }
        is->role = join_roles(is->role, one.role);
        is->ways = join_ways(out->op, is->ways, one.ways);
        is->pressure |= one.pressure;
        is->power |= one.power;
    }
    out->operands = operands;
    out->count = count;
    return good;
}

static bool parse_joined(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out,
                         sw_nature *is) {
    if (!sw_is_kind(check, at, SW_JSON_ARRAY))
        return false;
    if (at->json->count == 0 || at->json->count > SW_SHORT_LIST_LIMIT) {
        sw_wrong(check, at, "it takes one operand or more, up to 1000", "add the operands",
                 "has %zu operands", at->json->count);
        return false;
    }
    return sw_parse_operands(check, at, at->json->count, where, out, is);
}

/* The third and fourth entry of a power. */
static bool parse_ends(sw_check *check, const sw_node *at, int64_t exponent, sw_expr *out) {
    int64_t least = 0, most = 0;
    sw_node third = sw_element(at, 2), fourth = sw_element(at, 3);
    bool good = sw_check_milli(check, &third, -SW_MILLI_LIMIT, SW_MILLI_LIMIT, &least);
    good = sw_check_milli(check, &fourth, -SW_MILLI_LIMIT, SW_MILLI_LIMIT, &most) && good;
    out->least = third.json->number;
    out->most = fourth.json->number;
    if (!good || (least <= exponent && exponent <= most))
        return good;
    sw_wrong(check, at, "the exponent lies between its ends", "put the ends in order around it",
             "has ends on one side of the exponent");
    return false;
}

static bool parse_power(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out,
                        sw_nature *is) {
    int64_t exponent = 0;
    if (!sw_is_kind(check, at, SW_JSON_ARRAY))
        return false;
    if (at->json->count != 2 && at->json->count != 4) {
        sw_wrong(check, at,
                 "power takes an expression and an exponent, and may name the ends between which "
                 "the exponent lies",
                 "give two entries or four", "has %zu entries", at->json->count);
        return false;
    }
    sw_node second = sw_element(at, 1);
    bool good = sw_check_milli(check, &second, -SW_MILLI_LIMIT, SW_MILLI_LIMIT, &exponent);
    if (good && where.spreads && exponent <= 0) {
        sw_wrong(check, &second, "in a stage more of a factor never makes the rate smaller",
                 "make a derived fact of the power and name that", "is not positive");
        good = false;
    }
    out->number = out->least = out->most = second.json->number;
    if (at->json->count == 4)
        good = parse_ends(check, at, exponent, out) && good;
    return sw_parse_operands(check, at, 1, where, out, is) && good;
}

/* log2, and the `of` of a table. */
static bool parse_one(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out,
                      sw_nature *is) {
    sw_expr *operand = SW_KEEP(check, sw_expr, 1);
    out->operands = operand;
    out->count = 1;
    return operand != NULL && sw_parse_expression(check, at, where, operand, is);
}

/* ---- look-ups ------------------------------------------------------------------------- */

bool sw_check_numbers(sw_check *check, const sw_node *list, bool rising, const double **out) {
    double *numbers = SW_KEEP(check, double, list->json->count);
    bool good = numbers != NULL;
    for (size_t i = 0; numbers != NULL && i < list->json->count; i++) {
        int64_t milli = 0;
        sw_node at = sw_element(list, i);
        if (!sw_check_milli(check, &at, -SW_MILLI_LIMIT, SW_MILLI_LIMIT, &milli)) {
            good = false;
            continue;
        }
        numbers[i] = at.json->number;
        if (rising && i > 0 && good && numbers[i] <= numbers[i - 1]) {
            sw_wrong(check, &at, "the numbers of \"at\" rise from each to the next",
                     "put them in order, each once", "is not above the one before it");
            good = false;
        }
    }
    *out = numbers;
    return good;
}

static bool parse_table(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out,
                        sw_nature *is) {
    sw_node of = {0}, xs = {0}, ys = {0};
    if (!SW_CHECK_NAMES(check, at, "of", "at", "gives"))
        return false;
    of = sw_member(at, "of");
    bool good = of.json != NULL;
    if (!good)
        sw_wrong(check, at, "nothing stands in for it", "add it", "has no \"of\"");
    else
        good = parse_one(check, &of, where, out, is);
    bool has_xs = sw_get_list(check, at, "at", SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &xs);
    bool has_ys = sw_get_list(check, at, "gives", SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &ys);
    good &= has_xs && sw_check_numbers(check, &xs, true, &out->xs);
    good &= has_ys && sw_check_numbers(check, &ys, false, &out->ys);
    if (has_xs && has_ys && xs.json->count != ys.json->count) {
        sw_wrong(check, at, "each number of \"at\" gives one of \"gives\"",
                 "make both lists equally long", "has %zu numbers in \"at\" and %zu in \"gives\"",
                 xs.json->count, ys.json->count);
        return false;
    }
    out->point_count = has_xs ? xs.json->count : 0;
    return good;
}

static bool parse_choices(sw_check *check, const sw_node *from, const sw_fact *fact, sw_expr *out) {
    size_t count = 0;
    const char **tokens = SW_KEEP(check, const char *, from->json->count);
    double *ys = SW_KEEP(check, double, from->json->count);
    bool good = tokens != NULL && ys != NULL;
    for (size_t i = 0; tokens != NULL && ys != NULL && i < from->json->count; i++) {
        int64_t milli = 0;
        sw_node at = sw_element(from, i);
        if (at.json->kind == SW_JSON_TEXT && strcmp(at.name, "note") == 0)
            continue;
        if (!sw_check_milli(check, &at, -SW_MILLI_LIMIT, SW_MILLI_LIMIT, &milli) ||
            !sw_check_listed(check, &at, fact, at.name)) {
            good = false;
            continue;
        }
        tokens[count] = sw_keep_text(check, at.name);
        ys[count++] = at.json->number;
    }
    out->tokens = tokens;
    out->ys = ys;
    out->point_count = count;
    return good;
}

static bool parse_pick(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out,
                       sw_nature *is) {
    sw_term term = {0};
    sw_node from, of;
    int64_t otherwise = 0;
    if (!SW_CHECK_NAMES(check, at, "of", "from", "else"))
        return false;
    bool good = sw_get_term(check, at, "of", SW_TYPE_BIT(SW_TOKEN), &term);
    if (good) {
        of = sw_member(at, "of");
        out->role = term.role;
        out->fact = term.fact;
        *is = (sw_nature){.role = term.role, .ways = 1};
        good = check_own(check, &of, where, out);
    }
    bool has_from = sw_get(check, at, "from", SW_REQUIRED, SW_JSON_OBJECT, &from);
    if (has_from && good)
        good = parse_choices(check, &from, &check->catalog->facts[term.fact], out);
    if (!sw_get_milli(check, at, "else", SW_REQUIRED, -SW_MILLI_LIMIT, SW_MILLI_LIMIT, &otherwise))
        return false;
    out->number = sw_member(at, "else").json->number;
    return good && has_from;
}

/* ---- the whole -------------------------------------------------------------------------- */

static const sw_form forms[] = {
    {"sum", SW_EXPR_SUM, parse_joined, false},    {"product", SW_EXPR_PRODUCT, parse_joined, true},
    {"least", SW_EXPR_LEAST, parse_joined, true}, {"most", SW_EXPR_MOST, parse_joined, false},
    {"power", SW_EXPR_POWER, parse_power, true},  {"log2", SW_EXPR_LOG2, parse_one, false},
    {"table", SW_EXPR_TABLE, parse_table, false}, {"pick", SW_EXPR_PICK, parse_pick, false},
};
#define FORM_COUNT (sizeof forms / sizeof *forms)

static size_t form_count(sw_scope_of where) {
    return FORM_COUNT + (where.measure ? sw_measure_form_count : 0);
}

static const sw_form *form_at(size_t index) {
    return index < FORM_COUNT ? &forms[index] : &sw_measure_forms[index - FORM_COUNT];
}

/* "sum, product, least" */
static const char *form_names(sw_check *check, sw_scope_of where) {
    const char *text = "an expression is a number, a term or one of:";
    for (size_t f = 0; f < form_count(where) && text != NULL; f++)
        text = sw_arena_format(check->scratch, "%s%s %s", text, f > 0 ? "," : "", form_at(f)->name);
    if (text == NULL)
        check->no_memory = true;
    return text == NULL ? "" : text;
}

/* The member that names the operator; a "note" may stand beside it, and what a formula is of. */
static const sw_form *find_form(sw_check *check, const sw_node *at, sw_scope_of where,
                                sw_node *inner) {
    size_t total = form_count(where), count = 0;
    const char **names = SW_KEEP(check, const char *, total + 1);
    const sw_form *found = NULL;
    if (names == NULL)
        return NULL;
    for (size_t f = 0; f < total; f++) {
        names[f] = form_at(f)->name;
        sw_node member = sw_member(at, names[f]);
        if (member.json == NULL)
            continue;
        found = form_at(f);
        *inner = member;
        count++;
    }
    bool formula = found != NULL && found->op == SW_EXPR_FORMULA;
    names[total] = "of";
    sw_check_names(check, at, names, total + (formula ? 1 : 0));
    size_t listed = count + (sw_member(at, "note").json != NULL) +
                    (formula && sw_member(at, "of").json != NULL);
    if (count != 1 && listed == at->json->count)
        sw_wrong(check, at, form_names(check, where), "name one operator", "names %zu operators",
                 count);
    return count == 1 ? found : NULL;
}

/* Levels of sound pressure and of sound power never meet in one expression; a formula may
 * turn one into the other. */
static bool check_levels(sw_check *check, const sw_node *at, const sw_form *form, sw_nature *is) {
    if (form->op == SW_EXPR_FORMULA)
        is->pressure = is->power = false;
    if (!is->pressure || !is->power)
        return true;
    sw_wrong(check, at,
             "a sound power level says nothing of a distance; ISO 7779 defines both, and they do "
             "not add up",
             "turn one into the other first", "joins levels of sound pressure and of sound power");
    return false;
}

/* Checks that hold for every operator in a stage. */
static bool check_nature(sw_check *check, const sw_node *at, sw_scope_of where, const sw_form *form,
                         const sw_nature *is) {
    if (is->role == SW_SEVERAL_ROLES && !form->joins_roles) {
        sw_wrong(check, at, "only product, least and power may stand over facts of several roles",
                 "split it into one-role expressions joined by product or least",
                 "joins facts of several roles");
        return false;
    }
    if (where.spreads && !form->joins_roles && is->role == SW_NONE) {
        sw_wrong(check, at, "each factor of a stage is about one role",
                 "write the number it comes to", "names no fact");
        return false;
    }
    if (is->ways > WAYS_LIMIT) {
        sw_wrong(check, at, "a stage spreads into at most 256 products",
                 "make derived facts of what is about one role", "spreads into too many products");
        return false;
    }
    return true;
}

/* Recursion is bounded: the file's nesting is at most 64. */
bool sw_parse_expression(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out,
                         sw_nature *is) {
    *out = (sw_expr){.op = SW_EXPR_NUMBER, .role = SW_NONE, .fact = SW_NONE};
    *is = (sw_nature){.role = SW_NONE, .ways = 1};
    if (at->json->kind == SW_JSON_NUMBER)
        return parse_number(check, at, where, out);
    if (at->json->kind == SW_JSON_TEXT) {
        bool good = parse_fact(check, at, where, out);
        is->role = out->role;
        if (good && check->catalog->facts[out->fact].combine == SW_POWER)
            *(check->catalog->facts[out->fact].sound_power ? &is->power : &is->pressure) = true;
        return good;
    }
    sw_node inner;
    if (!sw_is_kind(check, at, SW_JSON_OBJECT))
        return false;
    const sw_form *form = find_form(check, at, where, &inner);
    if (form == NULL)
        return false;
    out->op = form->op;
    sw_scope_of within = where;
    within.spreads = where.spreads && form->joins_roles;
    if (!form->parse(check, &inner, within, out, is) || !check_levels(check, at, form, is) ||
        (!where.measure && !check_nature(check, at, where, form, is)))
        return false;
    if (!form->joins_roles)
        is->ways = 1;
    return true;
}

bool sw_check_expression(sw_check *check, const sw_node *at, int role, int before, sw_expr *out) {
    sw_nature is;
    sw_scope_of where = {.role = role, .before = before, .spreads = role == SW_NONE};
    return sw_parse_expression(check, at, where, out, &is);
}
