/* Expressions of derived facts and stages: the closed grammar, and for a stage
 * what may join facts of several roles. */
#include "check/stage.h"

#include <string.h>

#define SEVERAL_ROLES (-4)
/* A stage whose least-ofs multiply out into more products than this would swamp
 * every table made from it. */
#define WAYS_LIMIT 256

/* Where an expression stands. */
typedef struct scope {
    int role;     /* of a derived fact; SW_NONE in a stage */
    int before;   /* derived: facts from here on are not known yet */
    bool spreads; /* in a stage, reached through product, least and power alone */
} scope;

/* What an expression turned out to be. */
typedef struct nature {
    int role;    /* SW_NONE, a role, SEVERAL_ROLES */
    size_t ways; /* products of a stage when its least-ofs are spread */
} nature;

static bool parse(sw_check *check, const sw_node *at, scope where, sw_expr *out, nature *is);

/* ---- numbers and facts -------------------------------------------------------------- */

static bool parse_number(sw_check *check, const sw_node *at, scope where, sw_expr *out) {
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

static bool check_own(sw_check *check, const sw_node *at, scope where, const sw_expr *is) {
    if (where.role == SW_NONE)
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

static bool parse_fact(sw_check *check, const sw_node *at, scope where, sw_expr *out) {
    sw_term term = {0};
    out->op = SW_EXPR_FACT;
    if (!sw_check_term(check, at, SW_TYPE_BIT(SW_NUMBER) | SW_TYPE_BIT(SW_FLAG), false, &term))
        return false;
    out->role = term.role;
    out->fact = term.fact;
    return check_own(check, at, where, out);
}

/* ---- operators ------------------------------------------------------------------------ */

static int join_roles(int a, int b) {
    if (a == SW_NONE || a == b)
        return b;
    return b == SW_NONE ? a : SEVERAL_ROLES;
}

static size_t join_ways(sw_expr_op op, size_t a, size_t b) {
    size_t ways = op == SW_EXPR_LEAST ? a + b : a * b;
    return ways > WAYS_LIMIT ? WAYS_LIMIT + 1 : ways;
}

/* Each of a list of operands; the same for power, log2 and table, which have one. */
static bool parse_operands(sw_check *check, const sw_node *list, size_t count, scope where,
                           sw_expr *out, nature *is) {
    sw_expr *operands = SW_KEEP(check, sw_expr, count);
    bool good = operands != NULL;
    *is = (nature){SW_NONE, out->op == SW_EXPR_LEAST ? 0 : 1};
    for (size_t i = 0; operands != NULL && i < count; i++) {
        sw_node at = sw_element(list, i);
        nature one;
        if (!parse(check, &at, where, &operands[i], &one)) {
            good = false;
            continue;
        }
        is->role = join_roles(is->role, one.role);
        is->ways = join_ways(out->op, is->ways, one.ways);
    }
    out->operands = operands;
    out->count = count;
    return good;
}

static bool parse_joined(sw_check *check, const sw_node *at, scope where, sw_expr *out,
                         nature *is) {
    if (!sw_is_kind(check, at, SW_JSON_ARRAY))
        return false;
    if (at->json->count == 0 || at->json->count > SW_SHORT_LIST_LIMIT) {
        sw_wrong(check, at, "it takes one operand or more, up to 1000", "add the operands",
                 "has %zu operands", at->json->count);
        return false;
    }
    return parse_operands(check, at, at->json->count, where, out, is);
}

static bool parse_power(sw_check *check, const sw_node *at, scope where, sw_expr *out, nature *is) {
    int64_t exponent = 0;
    if (!sw_is_kind(check, at, SW_JSON_ARRAY))
        return false;
    if (at->json->count != 2) {
        sw_wrong(check, at, "power takes an expression and an exponent", "give just these two",
                 "has %zu entries", at->json->count);
        return false;
    }
    sw_node second = sw_element(at, 1);
    bool good = sw_check_milli(check, &second, -SW_MILLI_LIMIT, SW_MILLI_LIMIT, &exponent);
    if (good && where.spreads && exponent <= 0) {
        sw_wrong(check, &second, "in a stage more of a factor never makes the rate smaller",
                 "make a derived fact of the power and name that", "is not positive");
        good = false;
    }
    out->number = second.json->number;
    return parse_operands(check, at, 1, where, out, is) && good;
}

/* log2, and the `of` of a table. */
static bool parse_one(sw_check *check, const sw_node *at, scope where, sw_expr *out, nature *is) {
    sw_expr *operand = SW_KEEP(check, sw_expr, 1);
    out->operands = operand;
    out->count = 1;
    return operand != NULL && parse(check, at, where, operand, is);
}

/* ---- look-ups ------------------------------------------------------------------------- */

static bool parse_numbers(sw_check *check, const sw_node *list, bool rising, const double **out) {
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

static bool parse_table(sw_check *check, const sw_node *at, scope where, sw_expr *out, nature *is) {
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
    good &= has_xs && parse_numbers(check, &xs, true, &out->xs);
    good &= has_ys && parse_numbers(check, &ys, false, &out->ys);
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

static bool parse_pick(sw_check *check, const sw_node *at, scope where, sw_expr *out, nature *is) {
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
        *is = (nature){term.role, 1};
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

typedef bool parser(sw_check *check, const sw_node *at, scope where, sw_expr *out, nature *is);

typedef struct operator_form {
    const char *name;
    sw_expr_op op;
    parser *parse;
    bool joins_roles;
} operator_form;

static const operator_form forms[] = {
    {"sum", SW_EXPR_SUM, parse_joined, false},    {"product", SW_EXPR_PRODUCT, parse_joined, true},
    {"least", SW_EXPR_LEAST, parse_joined, true}, {"most", SW_EXPR_MOST, parse_joined, false},
    {"power", SW_EXPR_POWER, parse_power, true},  {"log2", SW_EXPR_LOG2, parse_one, false},
    {"table", SW_EXPR_TABLE, parse_table, false}, {"pick", SW_EXPR_PICK, parse_pick, false},
};
#define FORM_COUNT (sizeof forms / sizeof *forms)

/* The member that names the operator; a "note" may stand beside it. */
static const operator_form *find_form(sw_check *check, const sw_node *at, sw_node *inner) {
    const char *names[FORM_COUNT];
    const operator_form *found = NULL;
    size_t count = 0;
    for (size_t f = 0; f < FORM_COUNT; f++) {
        names[f] = forms[f].name;
        sw_node member = sw_member(at, forms[f].name);
        if (member.json == NULL)
            continue;
        found = &forms[f];
        *inner = member;
        count++;
    }
    sw_check_names(check, at, names, FORM_COUNT);
    size_t listed = count + (sw_member(at, "note").json != NULL);
    if (count != 1 && listed == at->json->count)
        sw_wrong(check, at,
                 "an expression is a number, a term or one of: sum, product, least, most, power, "
                 "log2, table, pick",
                 "name one operator", "names %zu operators", count);
    return count == 1 ? found : NULL;
}

/* Checks that hold for every operator in a stage. */
static bool check_nature(sw_check *check, const sw_node *at, scope where, const operator_form *form,
                         const nature *is) {
    if (is->role == SEVERAL_ROLES && !form->joins_roles) {
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
static bool parse(sw_check *check, const sw_node *at, scope where, sw_expr *out, nature *is) {
    *out = (sw_expr){.op = SW_EXPR_NUMBER, .role = SW_NONE, .fact = SW_NONE};
    *is = (nature){SW_NONE, 1};
    if (at->json->kind == SW_JSON_NUMBER)
        return parse_number(check, at, where, out);
    if (at->json->kind == SW_JSON_TEXT) {
        bool good = parse_fact(check, at, where, out);
        is->role = out->role;
        return good;
    }
    sw_node inner;
    if (!sw_is_kind(check, at, SW_JSON_OBJECT))
        return false;
    const operator_form *form = find_form(check, at, &inner);
    if (form == NULL)
        return false;
    out->op = form->op;
    scope within = where;
    within.spreads = where.spreads && form->joins_roles;
    if (!form->parse(check, &inner, within, out, is) || !check_nature(check, at, where, form, is))
        return false;
    if (!form->joins_roles)
        is->ways = 1;
    return true;
}

bool sw_check_expression(sw_check *check, const sw_node *at, int role, int before, sw_expr *out) {
    nature is;
    scope where = {.role = role, .before = before, .spreads = role == SW_NONE};
    return parse(check, at, where, out, &is);
}
