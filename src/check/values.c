/* Values of facts: what one piece may state, and what stands when it states
 * nothing. */
#include "check/stage.h"

#include <string.h>

bool sw_check_listed(sw_check *check, const sw_node *at, const sw_fact *fact, const char *token) {
    if (fact->tokens == NULL)
        return true;
    for (size_t i = 0; i < fact->token_count; i++)
        if (strcmp(fact->tokens[i], token) == 0)
            return true;
    const char *otherwise = sw_arena_format(
        check->scratch, "choose one of the %zu tokens that facts.json lists", fact->token_count);
    sw_wrong(check, at, "facts.json lists the tokens that the fact takes",
             sw_mend_name(check, token, fact->tokens, fact->token_count, otherwise),
             "is \"%s\", which \"%s\" does not list", sw_shown(check, token), fact->name);
    return false;
}

bool sw_check_fact_tokens(sw_check *check, const sw_node *list, const sw_fact *fact,
                          const char *const **out, size_t *count) {
    const char *const *tokens = NULL;
    size_t length = 0;
    bool good = true;
    if (!sw_check_tokens(check, list, &tokens, &length))
        return false;
    for (size_t i = 0; i < list->json->count; i++) {
        sw_node at = sw_element(list, i);
        good &= sw_check_listed(check, &at, fact, at.json->text);
    }
    if (!good)
        return false;
    *out = tokens;
    *count = length;
    return true;
}

static bool check_one_token(sw_check *check, const sw_node *at, const sw_fact *fact,
                            sw_value *out) {
    const char **tokens = SW_KEEP(check, const char *, 1);
    if (tokens == NULL || !sw_check_token(check, at, &tokens[0]) ||
        !sw_check_listed(check, at, fact, tokens[0]))
        return false;
    out->tokens = tokens;
    out->token_count = 1;
    return true;
}

static bool check_list(sw_check *check, const sw_node *at, sw_value *out) {
    if (!sw_is_kind(check, at, SW_JSON_ARRAY))
        return false;
    if (at->json->count > SW_SHORT_LIST_LIMIT) {
        sw_wrong(check, at, "a list fact has at most 1000 texts", "shorten it", "has %zu entries",
                 at->json->count);
        return false;
    }
    return sw_check_tokens(check, at, &out->tokens, &out->token_count);
}

static bool check_flag(sw_check *check, const sw_node *at, sw_value *out) {
    if (!sw_is_kind(check, at, SW_JSON_BOOL))
        return false;
    out->milli = at->json->truth ? 1000 : 0;
    return true;
}

bool sw_check_value(sw_check *check, const sw_node *at, const sw_fact *fact, sw_value *out) {
    sw_value value = {.state = SW_KNOWN};
    bool good = false;
    switch (fact->type) {
    case SW_NUMBER:
        good = sw_check_milli(check, at, fact->least_milli, fact->most_milli, &value.milli);
        break;
    case SW_TOKEN:
        good = check_one_token(check, at, fact, &value);
        break;
    case SW_LIST:
        good = check_list(check, at, &value);
        break;
    case SW_FLAG:
        good = check_flag(check, at, &value);
        break;
    case SW_SITES:
        good = sw_is_kind(check, at, SW_JSON_ARRAY) && sw_check_sites(check, at, &value);
        break;
    case SW_THINGS:
        good = sw_is_kind(check, at, SW_JSON_ARRAY) && sw_check_things(check, at, &value);
        break;
    }
    if (good)
        *out = value;
    return good;
}

sw_value *sw_silent_values(sw_check *check, int role) {
    const sw_catalog *catalog = check->catalog;
    sw_value *values = SW_KEEP(check, sw_value, catalog->fact_count);
    if (values == NULL)
        return NULL;
    for (size_t f = 0; f < catalog->fact_count; f++) {
        const sw_fact *fact = &catalog->facts[f];
        if (fact->derived_role != SW_NONE || role == SW_NONE || !fact->on_role[role])
            values[f] = (sw_value){.state = SW_VOID};
        else
            values[f] = fact->absent;
    }
    return values;
}

static void check_stated_one(sw_check *check, const sw_node *at, int role, sw_value *values) {
    int fact = sw_find(check, at, &check->facts, at->name, "fact", "facts.json");
    if (fact == SW_NONE || check->fact_doubt[fact])
        return;
    const sw_fact *is = &check->catalog->facts[fact];
    if (is->derived_role != SW_NONE || is->built_in) {
        sw_wrong(check, at, "derived facts are made from the other facts", "take it away",
                 "states the derived fact \"%s\"", is->name);
        return;
    }
    if (role == SW_NONE || sw_check_stands(check, at, role, fact))
        sw_check_value(check, at, is, &values[fact]);
}

void sw_check_stated(sw_check *check, const sw_node *facts, int role, sw_value *values) {
    for (size_t i = 0; i < facts->json->count; i++) {
        sw_node at = sw_element(facts, i);
        if (strcmp(at.name, "note") == 0)
            sw_is_kind(check, &at, SW_JSON_TEXT);
        else
            check_stated_one(check, &at, role, values);
    }
}
