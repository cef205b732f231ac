/* facts.json: every fact once, its type, and how it combines. */
#include "check/stage.h"

#include <string.h>

#define FACT_LIMIT 1000

static const unsigned combines_of[] = {
    [SW_NUMBER] = 1u << SW_SUM | 1u << SW_LEAST | 1u << SW_MOST | 1u << SW_POWER,
    [SW_TOKEN] = 1u << SW_EACH,
    [SW_LIST] = 1u << SW_COMMON | 1u << SW_EITHER,
    [SW_FLAG] = 1u << SW_ALL | 1u << SW_ANY,
    [SW_SITES] = 1u << SW_JOINED,
    [SW_THINGS] = 1u << SW_JOINED,
};
static const char *const combine_mends[] = {
    [SW_NUMBER] = "choose sum, least, most or power",
    [SW_TOKEN] = "choose each",
    [SW_LIST] = "choose common or either",
    [SW_FLAG] = "choose all or any",
    [SW_SITES] = "choose joined",
    [SW_THINGS] = "choose joined",
};

/* ---- names ------------------------------------------------------------------------- */

static void register_fact(sw_check *check, const sw_node *at, int index) {
    sw_node name = sw_member(at, "fact");
    sw_fact *fact = &check->catalog->facts[index];
    if (name.json == NULL || name.json->kind != SW_JSON_TEXT || !sw_is_fact_name(name.json->text) ||
        strcmp(name.json->text, "pieces") == 0) {
        check->facts.whole = false;
        check->fact_doubt[index] = true;
        return;
    }
    fact->name = sw_keep_text(check, name.json->text);
    if (!sw_register(check, &name, &check->facts, fact->name, index))
        check->fact_doubt[index] = true;
}

/* The role of a derived fact is known before the expressions are read, so that
 * one that comes too early can be told from one that stands elsewhere. */
static void place_derived(sw_check *check, const sw_node *at, int index) {
    sw_fact *fact = &check->catalog->facts[index];
    const sw_json *role = sw_json_get(at->json, "role");
    int found = role == NULL || role->kind != SW_JSON_TEXT
                    ? SW_NONE
                    : sw_names_find(&check->roles, role->text);
    fact->derived_role = found;
    if (found == SW_NONE)
        check->fact_doubt[index] = true;
    else
        ((bool *)fact->on_role)[found] = true;
}

/* The complaint about a name that could not be registered. */
static bool check_name(sw_check *check, const sw_node *at) {
    sw_node name;
    if (!sw_get(check, at, "fact", SW_REQUIRED, SW_JSON_TEXT, &name))
        return false;
    if (!sw_is_fact_name(name.json->text)) {
        sw_wrong(check, &name,
                 "fact names are lower-case letters, digits and underscores, at most 64",
                 "rename it, and start it with a letter", "is no fact name: \"%s\"",
                 sw_shown(check, name.json->text));
        return false;
    }
    if (strcmp(name.json->text, "pieces") == 0) {
        sw_wrong(check, &name, "every role has the fact \"pieces\" already", "rename it",
                 "is the name of a built-in fact");
        return false;
    }
    return true;
}

/* ---- facts that parts state ----------------------------------------------------------- */

static bool read_on_roles(sw_check *check, const sw_node *at, bool *on_role) {
    sw_node list;
    if (!sw_get_list(check, at, "roles", SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &list))
        return false;
    bool good = true;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        int role = SW_NONE;
        if (sw_is_kind(check, &entry, SW_JSON_TEXT))
            role = sw_find(check, &entry, &check->roles, entry.json->text, "role", "roles.json");
        if (role == SW_NONE) {
            good = false;
        } else if (on_role[role]) {
            sw_wrong(check, &entry, "its roles are distinct", "take one of the two away",
                     "names the role \"%s\" twice", sw_shown(check, entry.json->text));
            good = false;
        } else {
            on_role[role] = true;
        }
    }
    return good;
}

static bool read_combine(sw_check *check, const sw_node *at, sw_fact *fact) {
    int combine = 0;
    sw_node found = sw_member(at, "combine");
    if (!SW_GET_CHOICE(check, at, "combine", SW_REQUIRED, &combine, "sum", "least", "most", "power",
                       "each", "common", "either", "all", "any", "joined"))
        return false;
    if ((combines_of[fact->type] & 1u << combine) == 0) {
        sw_wrong(check, &found, "each type of fact combines in its own ways",
                 combine_mends[fact->type], "is \"%s\"", found.json->text);
        return false;
    }
    fact->combine = (sw_combine)combine;
    return true;
}

/* A member that only facts of another type have. */
static bool refuse(sw_check *check, const sw_node *at, const char *name, const char *why) {
    sw_node found = sw_member(at, name);
    if (found.json == NULL)
        return true;
    sw_wrong(check, &found, why, "take it away", "does not belong to a fact of this type");
    return false;
}

static bool read_bounds(sw_check *check, const sw_node *at, sw_fact *fact) {
    if (fact->type != SW_NUMBER) {
        bool good = refuse(check, at, "least", "only number facts have bounds");
        return refuse(check, at, "most", "only number facts have bounds") && good;
    }
    bool good = sw_get_milli(check, at, "least", SW_REQUIRED, -SW_MILLI_LIMIT, SW_MILLI_LIMIT,
                             &fact->least_milli);
    good &= sw_get_milli(check, at, "most", SW_REQUIRED, -SW_MILLI_LIMIT, SW_MILLI_LIMIT,
                         &fact->most_milli);
    if (good && fact->least_milli > fact->most_milli) {
        sw_wrong(check, at, "a number lies between \"least\" and \"most\"", "swap the two",
                 "has \"least\" above \"most\"");
        return false;
    }
    return good;
}

static bool read_tokens(sw_check *check, const sw_node *at, sw_fact *fact) {
    sw_node list;
    if (fact->type != SW_TOKEN)
        return refuse(check, at, "tokens", "only token facts list their tokens");
    if (sw_member(at, "tokens").json == NULL)
        return true;
    return sw_get_list(check, at, "tokens", SW_OPTIONAL, 1, SW_SHORT_LIST_LIMIT, &list) &&
           sw_check_tokens(check, &list, &fact->tokens, &fact->token_count);
}

static bool read_quantity(sw_check *check, const sw_node *at, sw_fact *fact) {
    int quantity = 0;
    sw_node found = sw_member(at, "quantity");
    if (found.json == NULL)
        return true;
    if (fact->combine != SW_POWER) {
        sw_wrong(check, &found, "only levels that add up as powers are of pressure or power",
                 "take it away", "does not belong to this fact");
        return false;
    }
    bool good = SW_GET_CHOICE(check, at, "quantity", SW_OPTIONAL, &quantity, "pressure", "power");
    fact->sound_power = quantity == 1;
    return good;
}

static bool read_absent(sw_check *check, const sw_node *at, sw_fact *fact) {
    sw_node absent = sw_member(at, "absent");
    if (absent.json == NULL)
        return true;
    if (fact->combine == SW_POWER && absent.json->kind == SW_JSON_TEXT &&
        strcmp(absent.json->text, "silent") == 0) {
        fact->absent.state = SW_VOID;
        return true;
    }
    return sw_check_value(check, &absent, fact, &fact->absent);
}

static bool read_fact(sw_check *check, const sw_node *at, sw_fact *fact) {
    int type = 0;
    if (!SW_CHECK_NAMES(check, at, "fact", "type", "roles", "combine", "least", "most", "tokens",
                        "absent", "meaning", "source", "quantity"))
        return false;
    bool good = check_name(check, at);
    good &= read_on_roles(check, at, (bool *)fact->on_role);
    sw_get_text(check, at, "meaning", SW_REQUIRED, &fact->meaning);
    sw_get_text(check, at, "source", SW_REQUIRED, &fact->source);
    /* Everything else depends on the type. */
    if (!SW_GET_CHOICE(check, at, "type", SW_REQUIRED, &type, "number", "token", "list", "flag",
                       "sites", "things"))
        return false;
    fact->type = (sw_fact_type)type;
    bool shaped = read_combine(check, at, fact);
    shaped &= read_bounds(check, at, fact);
    shaped &= read_tokens(check, at, fact);
    shaped = shaped && read_quantity(check, at, fact);
    return shaped && read_absent(check, at, fact) && good;
}

/* ---- derived facts ---------------------------------------------------------------------- */

static bool read_derived(sw_check *check, const sw_node *at, int index, sw_fact *fact) {
    int role = SW_NONE;
    if (!SW_CHECK_NAMES(check, at, "fact", "role", "is", "meaning", "source"))
        return false;
    bool good = check_name(check, at);
    sw_get_text(check, at, "meaning", SW_REQUIRED, &fact->meaning);
    sw_get_text(check, at, "source", SW_REQUIRED, &fact->source);
    sw_node is = sw_member(at, "is");
    if (is.json == NULL)
        sw_wrong(check, at, "it says how the fact is made", "add it", "has no \"is\"");
    if (!sw_get_index(check, at, "role", SW_REQUIRED, &check->roles, "role", "roles.json", &role))
        return false;
    sw_expr *expr = SW_KEEP(check, sw_expr, 1);
    if (expr == NULL || is.json == NULL || !sw_check_expression(check, &is, role, index, expr))
        return false;
    fact->is = expr;
    return good;
}

/* ---- the file ----------------------------------------------------------------------------- */

static bool make_room(sw_check *check, size_t count) {
    sw_catalog *catalog = check->catalog;
    catalog->facts = SW_KEEP(check, sw_fact, count);
    check->fact_doubt = SW_KEEP(check, bool, count);
    bool *on_role = SW_KEEP(check, bool, count * catalog->role_count);
    if (check->no_memory)
        return false;
    for (size_t f = 0; f < count; f++)
        catalog->facts[f] = (sw_fact){.name = "",
                                      .on_role = on_role + f * catalog->role_count,
                                      .derived_role = SW_NONE,
                                      .least_milli = -SW_MILLI_LIMIT,
                                      .most_milli = SW_MILLI_LIMIT,
                                      .meaning = "",
                                      .source = ""};
    catalog->fact_count = count;
    return true;
}

/* How many pieces a fit-out holds: a fact of every role that each piece states
 * as one and nobody may state otherwise. */
static void add_pieces(sw_check *check, const sw_node *root, int index) {
    sw_fact *fact = &check->catalog->facts[index];
    fact->name = "pieces";
    fact->type = SW_NUMBER;
    fact->combine = SW_SUM;
    fact->built_in = true;
    fact->absent = (sw_value){.state = SW_KNOWN, .milli = 1000};
    fact->meaning = "how many pieces";
    for (size_t r = 0; r < check->catalog->role_count; r++)
        ((bool *)fact->on_role)[r] = true;
    sw_register(check, root, &check->facts, fact->name, index);
}

/* `pieces` stands behind the facts that parts state and before the derived ones,
 * which may use it. */
static int index_of(size_t entry, size_t plain) { return (int)(entry < plain ? entry : entry + 1); }

void sw_read_facts(sw_check *check) {
    sw_node root, list, derived = {0};
    if (!sw_open_list(check, "facts.json", "facts", 0, FACT_LIMIT, &root, &list))
        return;
    SW_CHECK_NAMES(check, &root, "schema", "facts", "derived");
    size_t plain = list.json->count, more = 0;
    bool has_derived = sw_member(&root, "derived").json == NULL ||
                       sw_get_list(check, &root, "derived", SW_OPTIONAL, 0, FACT_LIMIT, &derived);
    if (derived.json != NULL)
        more = derived.json->count;
    if (!make_room(check, plain + more + 1))
        return;
    check->facts.whole = has_derived;
    add_pieces(check, &root, (int)plain);
    for (size_t i = 0; i < plain + more; i++) {
        sw_node at = i < plain ? sw_element(&list, i) : sw_element(&derived, i - plain);
        register_fact(check, &at, index_of(i, plain));
        if (i >= plain)
            place_derived(check, &at, index_of(i, plain));
    }
    for (size_t i = 0; i < plain + more; i++) {
        sw_node at = i < plain ? sw_element(&list, i) : sw_element(&derived, i - plain);
        int index = index_of(i, plain);
        sw_fact *fact = &check->catalog->facts[index];
        if (i < plain ? !read_fact(check, &at, fact) : !read_derived(check, &at, index, fact))
            check->fact_doubt[index] = true;
    }
}
