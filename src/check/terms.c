/* Terms: "role.fact", and "*.fact" for every role that the fact may stand on. */
#include "check/stage.h"

#include <string.h>

static const char *const type_words[] = {"number", "token", "list", "flag", "sites", "things"};

/* "a number or token fact is due here" */
static const char *types_due(sw_check *check, unsigned types) {
    const char *due = "a ";
    const char *between = "";
    for (unsigned t = 0; t < sizeof type_words / sizeof *type_words && due != NULL; t++)
        if ((types & SW_TYPE_BIT(t)) != 0) {
            due = sw_arena_format(check->scratch, "%s%s%s", due, between, type_words[t]);
            between = " or ";
        }
    if (due != NULL)
        due = sw_arena_format(check->scratch, "%s fact is due here", due);
    if (due == NULL)
        check->no_memory = true;
    return due == NULL ? "" : due;
}

static bool check_type(sw_check *check, const sw_node *at, int fact, unsigned types) {
    const sw_fact *is = &check->catalog->facts[fact];
    if (check->fact_doubt[fact])
        return false;
    if ((types & SW_TYPE_BIT(is->type)) != 0)
        return true;
    sw_wrong(check, at, types_due(check, types), "name another fact",
             "names \"%s\", which is a %s fact", is->name, type_words[is->type]);
    return false;
}

bool sw_check_stands(sw_check *check, const sw_node *at, int role, int fact) {
    const sw_fact *is = &check->catalog->facts[fact];
    if (check->fact_doubt[fact])
        return false;
    if (is->on_role[role])
        return true;
    sw_wrong(check, at, "facts.json says on which roles a fact stands",
             "name another role or fact, or add the role to the fact",
             "has the fact \"%s\" on the role \"%s\", where it does not stand", is->name,
             check->catalog->roles[role].id);
    return false;
}

static bool find_role(sw_check *check, const sw_node *at, const char *text, const char *point,
                      bool any_role, int *out) {
    if (point - text == 1 && text[0] == '*') {
        *out = SW_EVERY_ROLE;
        if (!any_role)
            sw_wrong(check, at, "one role is meant here", "name the role in place of the *",
                     "names every role");
        return any_role;
    }
    const char *role = sw_arena_text(check->scratch, text, (size_t)(point - text));
    if (role == NULL) {
        check->no_memory = true;
        return false;
    }
    *out = sw_find(check, at, &check->roles, role, "role", "roles.json");
    return *out != SW_NONE;
}

bool sw_check_term(sw_check *check, const sw_node *at, unsigned types, bool any_role,
                   sw_term *out) {
    sw_term term;
    if (!sw_is_kind(check, at, SW_JSON_TEXT))
        return false;
    const char *text = at->json->text;
    const char *point = strchr(text, '.');
    if (point == NULL) {
        sw_wrong(check, at, "a term is a role, a point and a fact, like memory.speed_mt_s",
                 "name the role in front of the fact", "is no term: \"%s\"", sw_shown(check, text));
        return false;
    }
    bool has_role = find_role(check, at, text, point, any_role, &term.role);
    term.fact = sw_find(check, at, &check->facts, point + 1, "fact", "facts.json");
    if (!has_role || term.fact == SW_NONE || !check_type(check, at, term.fact, types))
        return false;
    if (term.role != SW_EVERY_ROLE && !sw_check_stands(check, at, term.role, term.fact))
        return false;
    *out = term;
    return true;
}

bool sw_get_term(sw_check *check, const sw_node *object, const char *name, unsigned types,
                 sw_term *out) {
    sw_node found;
    return sw_get(check, object, name, SW_REQUIRED, SW_JSON_TEXT, &found) &&
           sw_check_term(check, &found, types, false, out);
}

bool sw_get_terms(sw_check *check, const sw_node *object, const char *name, sw_need need,
                  size_t least, unsigned types, const sw_term **out, size_t *count) {
    sw_node list;
    if (!sw_get_list(check, object, name, need, least, SW_SHORT_LIST_LIMIT, &list))
        return false;
    sw_term *terms = SW_KEEP(check, sw_term, list.json->count);
    bool good = terms != NULL;
    for (size_t i = 0; terms != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        good &= sw_check_term(check, &at, types, true, &terms[i]);
    }
    if (!good)
        return false;
    *out = terms;
    *count = list.json->count;
    return true;
}

bool sw_get_fact(sw_check *check, const sw_node *object, const char *name, unsigned types,
                 int *out) {
    sw_node found;
    if (!sw_get(check, object, name, SW_REQUIRED, SW_JSON_TEXT, &found))
        return false;
    int fact = sw_find(check, &found, &check->facts, found.json->text, "fact", "facts.json");
    if (fact == SW_NONE || !check_type(check, &found, fact, types))
        return false;
    *out = fact;
    return true;
}
