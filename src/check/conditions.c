/* Conditions: one thing that is or is not so about one role. */
#include "check/stage.h"

#include <string.h>

typedef enum form {
    FORM_FACT,
    FORM_TASK,
    FORM_CHANGES,
    FORM_HOLDS,
    FORM_EMPTY,
    FORM_OBSERVED,
    FORM_NOT,
    FORM_COUNT
} form;

static const char *const form_names[FORM_COUNT] = {"fact",  "task",     "changes", "holds",
                                                   "empty", "observed", "not"};

/* The one member that says which form it is; FORM_COUNT after a complaint. */
static form find_form(sw_check *check, const sw_node *at) {
    form found = FORM_COUNT;
    size_t count = 0;
    if (!sw_is_kind(check, at, SW_JSON_OBJECT))
        return FORM_COUNT;
    for (int f = 0; f < FORM_COUNT; f++)
        if (sw_json_get(at->json, form_names[f]) != NULL) {
            found = (form)f;
            count++;
        }
    if (count == 1)
        return found;
    const char *mend = at->json->count == 0
                           ? "name one of these"
                           : sw_mend_name(check, at->json->children[0].name, form_names, FORM_COUNT,
                                          "name one of these");
    sw_wrong(check, at,
             "a condition is about one of: fact, task, changes, holds, empty, observed, not", mend,
             count == 0 ? "is no condition" : "is two conditions in one");
    return FORM_COUNT;
}

/* ---- facts ------------------------------------------------------------------------- */

/* A comparison, and the types of fact that it may stand with. */
typedef struct comparison {
    const char *name;
    sw_cond_op op;
    unsigned types;
} comparison;

static const comparison comparisons[] = {
    {"is", SW_COND_IS, SW_TYPE_BIT(SW_NUMBER) | SW_TYPE_BIT(SW_FLAG) | SW_TYPE_BIT(SW_TOKEN)},
    {"least", SW_COND_LEAST, SW_TYPE_BIT(SW_NUMBER)},
    {"most", SW_COND_MOST, SW_TYPE_BIT(SW_NUMBER)},
    {"has", SW_COND_HAS, SW_TYPE_BIT(SW_TOKEN) | SW_TYPE_BIT(SW_LIST)},
    {"one_of", SW_COND_ONE_OF, SW_TYPE_BIT(SW_TOKEN) | SW_TYPE_BIT(SW_LIST)},
};
#define COMPARISON_COUNT (sizeof comparisons / sizeof *comparisons)

static const comparison *find_comparison(sw_check *check, const sw_node *at) {
    const comparison *found = NULL;
    size_t count = 0, others = 1; /* the fact */
    for (size_t i = 0; i < COMPARISON_COUNT; i++)
        if (sw_json_get(at->json, comparisons[i].name) != NULL) {
            found = &comparisons[i];
            count++;
        }
    others += sw_json_get(at->json, "note") != NULL;
    /* A name that is not known was complained of, and is the reason. */
    if (count != 1 && count + others == at->json->count)
        sw_wrong(check, at, "a fact is held against one of: is, least, most, has, one_of",
                 "give one; write two conditions for two bounds", "compares the fact %zu times",
                 count);
    return count == 1 ? found : NULL;
}

static bool read_token(sw_check *check, const sw_node *at, const sw_fact *fact, sw_cond *out) {
    const char **tokens = SW_KEEP(check, const char *, 1);
    if (tokens == NULL || !sw_check_token(check, at, &tokens[0]) ||
        !sw_check_listed(check, at, fact, tokens[0]))
        return false;
    out->tokens = tokens;
    out->token_count = 1;
    return true;
}

static bool read_compared(sw_check *check, const sw_node *at, const sw_fact *fact, sw_cond *out) {
    if (out->op == SW_COND_ONE_OF) {
        if (!sw_is_kind(check, at, SW_JSON_ARRAY))
            return false;
        if (at->json->count == 0) {
            sw_wrong(check, at, "with nothing to share it is never true", "name one or more",
                     "is empty");
            return false;
        }
        return sw_check_fact_tokens(check, at, fact, &out->tokens, &out->token_count);
    }
    if (fact->type == SW_TOKEN || fact->type == SW_LIST)
        return read_token(check, at, fact, out);
    if (fact->type == SW_NUMBER)
        return sw_check_milli(check, at, -SW_MILLI_LIMIT, SW_MILLI_LIMIT, &out->milli);
    if (!sw_is_kind(check, at, SW_JSON_BOOL))
        return false;
    out->milli = at->json->truth ? 1000 : 0;
    return true;
}

static bool read_fact(sw_check *check, const sw_node *at, sw_cond *out) {
    sw_term term;
    SW_CHECK_NAMES(check, at, "fact", "is", "least", "most", "has", "one_of");
    const comparison *is = find_comparison(check, at);
    bool named = sw_get_term(check, at, "fact", is == NULL ? SW_ANY_TYPE : is->types, &term);
    if (is == NULL || !named)
        return false;
    sw_node compared = sw_member(at, is->name);
    out->op = is->op;
    out->role = term.role;
    out->fact = term.fact;
    return read_compared(check, &compared, &check->catalog->facts[term.fact], out);
}

/* ---- the other forms ------------------------------------------------------------------ */

static bool read_named(sw_check *check, const sw_node *at, form is, sw_cond *out) {
    sw_check_names(check, at, &form_names[is], 1);
    const char *name = form_names[is];
    switch (is) {
    case FORM_TASK:
        out->op = SW_COND_TASK;
        if (!sw_get_index(check, at, name, SW_REQUIRED, &check->tasks, "task", "tasks.json",
                          &out->index))
            return false;
        out->role = check->catalog->tasks[out->index].role;
        return true;
    case FORM_HOLDS:
        out->op = SW_COND_HOLDS;
        if (!sw_get_index(check, at, name, SW_REQUIRED, &check->parts, "part", "catalog/parts",
                          &out->index))
            return false;
        out->role = check->catalog->parts[out->index].role;
        return true;
    case FORM_OBSERVED:
        out->op = SW_COND_OBSERVED;
        return sw_get_index(check, at, name, SW_REQUIRED, &check->observations, "observation",
                            "observations.json", &out->index);
    default:
        out->op = is == FORM_CHANGES ? SW_COND_CHANGES : SW_COND_EMPTY;
        return sw_get_index(check, at, name, SW_REQUIRED, &check->roles, "role", "roles.json",
                            &out->role);
    }
}

/* That a task needs only what can be said before any task is chosen. */
static bool check_own(sw_check *check, const sw_node *at, int own_role, form is,
                      const sw_cond *cond) {
    if (own_role == SW_NONE || is == FORM_OBSERVED || (is == FORM_FACT && cond->role == own_role))
        return true;
    sw_wrong(check, at, "a task needs observations and facts of its own role, nothing else",
             "write a rule of shape unlock for what it needs elsewhere",
             is == FORM_FACT ? "is about a fact of another role"
                             : "is about neither a fact nor an observation");
    return false;
}

static bool read_condition(sw_check *check, const sw_node *at, int own_role, sw_cond *out) {
    *out = (sw_cond){.role = SW_NONE, .fact = SW_NONE, .index = SW_NONE};
    form is = find_form(check, at);
    if (is == FORM_NOT) {
        /* Recursion is bounded: the file's nesting is at most 64. */
        sw_check_names(check, at, &form_names[FORM_NOT], 1);
        sw_node inner = sw_member(at, "not");
        if (!read_condition(check, &inner, own_role, out))
            return false;
        out->negated = !out->negated;
        return true;
    }
    if (is == FORM_COUNT)
        return false;
    return (is == FORM_FACT ? read_fact(check, at, out) : read_named(check, at, is, out)) &&
           check_own(check, at, own_role, is, out);
}

bool sw_check_condition(sw_check *check, const sw_node *at, sw_cond *out) {
    return read_condition(check, at, SW_NONE, out);
}

bool sw_get_condition(sw_check *check, const sw_node *object, const char *name, int own_role,
                      sw_cond *out) {
    sw_node found;
    return sw_get(check, object, name, SW_REQUIRED, SW_JSON_OBJECT, &found) &&
           read_condition(check, &found, own_role, out);
}

bool sw_get_conditions(sw_check *check, const sw_node *object, const char *name, sw_need need,
                       size_t least, int own_role, const sw_cond **out, size_t *count) {
    sw_node list;
    if (!sw_get_list(check, object, name, need, least, SW_SHORT_LIST_LIMIT, &list))
        return false;
    sw_cond *conds = SW_KEEP(check, sw_cond, list.json->count);
    bool good = conds != NULL;
    for (size_t i = 0; conds != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        good &= read_condition(check, &at, own_role, &conds[i]);
    }
    if (!good)
        return false;
    *out = conds;
    *count = list.json->count;
    return true;
}
