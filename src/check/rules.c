/* rules.json: what goes with what. Each shape has fields of its own. */
#include "check/stage.h"

#include <string.h>

#define NUMBER SW_TYPE_BIT(SW_NUMBER)
#define TOKEN SW_TYPE_BIT(SW_TOKEN)
#define LIST SW_TYPE_BIT(SW_LIST)

/* ---- supply --------------------------------------------------------------------------- */

static bool read_load(sw_check *check, const sw_node *at, sw_load *out) {
    sw_node term;
    *out = (sw_load){.term = {SW_NONE, SW_NONE}, .factor_milli = 1000};
    if (!SW_CHECK_NAMES(check, at, "fact", "factor", "fixed", "today"))
        return false;
    bool fixed = sw_member(at, "fixed").json != NULL, today = sw_member(at, "today").json != NULL;
    bool fact = sw_member(at, "fact").json != NULL;
    if (fixed + today + fact != 1 || (!fact && sw_member(at, "factor").json != NULL)) {
        sw_wrong(
            check, at,
            "it is a \"fact\", with a \"factor\" or without, a \"fixed\" number, or a fact of the "
            "machine \"today\"",
            "give one of the three", "is none or several of them");
        return false;
    }
    out->today = today;
    if (fixed)
        return sw_get_milli(check, at, "fixed", SW_REQUIRED, -SW_MILLI_LIMIT, SW_MILLI_LIMIT,
                            &out->fixed_milli);
    bool good = sw_get(check, at, today ? "today" : "fact", SW_REQUIRED, SW_JSON_TEXT, &term) &&
                sw_check_term(check, &term, NUMBER, true, &out->term);
    if (sw_member(at, "factor").json != NULL)
        good &=
            sw_get_milli(check, at, "factor", SW_OPTIONAL, 0, INT64_C(1000000), &out->factor_milli);
    return good;
}

static void read_loads(sw_check *check, const sw_node *at, const char *name, const sw_load **out,
                       size_t *count) {
    sw_node list;
    if (!sw_get_list(check, at, name, SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_load *loads = SW_KEEP(check, sw_load, list.json->count);
    for (size_t i = 0; loads != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        read_load(check, &entry, &loads[i]);
    }
    *out = loads;
    *count = loads == NULL ? 0 : list.json->count;
}

/* ---- the shapes ------------------------------------------------------------------------ */

static void read_same(sw_check *check, const sw_node *at, sw_rule *rule) {
    sw_get_term(check, at, "left", TOKEN, &rule->left);
    sw_get_term(check, at, "right", TOKEN, &rule->right);
}

static void read_among(sw_check *check, const sw_node *at, sw_rule *rule) {
    sw_get_term(check, at, "left", TOKEN | LIST, &rule->left);
    sw_get_term(check, at, "right", TOKEN | LIST, &rule->right);
}

static void read_unit(sw_check *check, const sw_node *at, sw_rule *rule) {
    if (sw_member(at, "unit").json != NULL)
        sw_get_token(check, at, "unit", SW_OPTIONAL, &rule->unit);
}

/* Levels of sound pressure and of sound power never meet in one rule. */
typedef struct levels {
    bool pressure, power;
} levels;

static void note_levels(const sw_check *check, const sw_term *term, levels *seen) {
    if (term->fact == SW_NONE || check->catalog->facts[term->fact].combine != SW_POWER)
        return;
    *(check->catalog->facts[term->fact].sound_power ? &seen->power : &seen->pressure) = true;
}

static void check_levels(sw_check *check, const sw_node *at, const levels *seen) {
    if (seen->pressure && seen->power)
        sw_wrong(check, at,
                 "a sound power level says nothing of a distance; ISO 7779 defines both, and they "
                 "do not add up",
                 "turn one into the other first",
                 "joins levels of sound pressure and of sound power");
}

static void read_within(sw_check *check, const sw_node *at, sw_rule *rule) {
    levels seen = {0};
    if (sw_get_term(check, at, "need", NUMBER, &rule->left))
        note_levels(check, &rule->left, &seen);
    if (sw_get_term(check, at, "room", NUMBER, &rule->right))
        note_levels(check, &rule->right, &seen);
    sw_get_terms(check, at, "taken", SW_OPTIONAL, 0, NUMBER, &rule->taken, &rule->taken_count);
    for (size_t i = 0; i < rule->taken_count; i++)
        note_levels(check, &rule->taken[i], &seen);
    check_levels(check, at, &seen);
    read_unit(check, at, rule);
}

static void read_supply(sw_check *check, const sw_node *at, sw_rule *rule) {
    read_loads(check, at, "loads", &rule->loads, &rule->load_count);
    read_loads(check, at, "supplies", &rule->supplies, &rule->supply_count);
    levels seen = {0};
    for (size_t i = 0; i < rule->load_count; i++)
        note_levels(check, &rule->loads[i].term, &seen);
    for (size_t i = 0; i < rule->supply_count; i++)
        note_levels(check, &rule->supplies[i].term, &seen);
    check_levels(check, at, &seen);
    read_unit(check, at, rule);
}

static void read_unlock(sw_check *check, const sw_node *at, sw_rule *rule) {
    sw_get_condition(check, at, "to", SW_NONE, &rule->to);
    sw_get_conditions(check, at, "needs", SW_REQUIRED, 1, SW_NONE, &rule->conds, &rule->cond_count);
}

static void read_clash(sw_check *check, const sw_node *at, sw_rule *rule) {
    sw_get_conditions(check, at, "of", SW_REQUIRED, 2, SW_NONE, &rule->conds, &rule->cond_count);
}

static void read_place(sw_check *check, const sw_node *at, sw_rule *rule) {
    sw_get_token(check, at, "kind", SW_REQUIRED, &rule->kind);
    sw_get_terms(check, at, "things", SW_REQUIRED, 1, SW_TYPE_BIT(SW_THINGS), &rule->things,
                 &rule->thing_count);
    sw_get_terms(check, at, "sites", SW_REQUIRED, 1, SW_TYPE_BIT(SW_SITES), &rule->sites,
                 &rule->site_count);
}

typedef struct shape_form {
    const char *names[14]; /* all that may stand in a rule of this shape */
    size_t name_count;
    void (*read)(sw_check *check, const sw_node *at, sw_rule *rule);
    const char *slots[3]; /* what its sentences may take in */
    size_t slot_count;
} shape_form;

#define COMMON "id", "name", "shape", "level", "bends", "client", "bench", "source"
static const shape_form shapes[] = {
    [SW_SAME] = {{COMMON, "when", "unless", "left", "right"}, 12, read_same, {"left", "right"}, 2},
    [SW_AMONG] =
        {{COMMON, "when", "unless", "left", "right"}, 12, read_among, {"left", "right"}, 2},
    [SW_WITHIN] = {{COMMON, "when", "unless", "need", "room", "taken", "unit"},
                   14,
                   read_within,
                   {"need", "room", "short"},
                   3},
    [SW_SUPPLY] = {{COMMON, "when", "unless", "loads", "supplies", "unit"},
                   13,
                   read_supply,
                   {"need", "room", "short"},
                   3},
    [SW_UNLOCK] = {{COMMON, "when", "unless", "to", "needs"}, 12, read_unlock, {NULL}, 0},
    [SW_CLASH] = {{COMMON, "when", "unless", "of"}, 11, read_clash, {NULL}, 0},
    [SW_PLACE] =
        {{COMMON, "kind", "things", "sites"}, 11, read_place, {"need", "room", "short"}, 3},
};
#undef COMMON

/* ---- sentences --------------------------------------------------------------------------- */

/* "{short}" and its like stand only where the shape can fill them in. */
static void check_slot(sw_check *check, const sw_node *at, const char *slot, const void *of) {
    const shape_form *form = of;
    for (size_t i = 0; i < form->slot_count; i++)
        if (strcmp(slot, form->slots[i]) == 0)
            return;
    sw_wrong(check, at, "a rule of this shape has no such thing to fill in",
             sw_mend_name(check, slot, form->slots, form->slot_count, "take it away"), "holds {%s}",
             sw_shown(check, slot));
}

/* ---- rules ----------------------------------------------------------------------------------- */

static void read_bends(sw_check *check, const sw_node *at, sw_rule *rule) {
    sw_node bends = sw_member(at, "bends");
    if (sw_get_flag(check, at, "bends", SW_OPTIONAL, &rule->bends) && rule->bends && !rule->hard)
        sw_wrong(check, &bends, "a caution forbids nothing that could be set aside",
                 "take it away, or make the rule hard", "is true in a caution");
}

static void read_rule(sw_check *check, const sw_node *at, sw_names *ids, int index, sw_rule *rule) {
    int shape = 0, level = 0;
    *rule = (sw_rule){.id = "", .unit = "", .client = "", .bench = "", .source = ""};
    if (!sw_is_kind(check, at, SW_JSON_OBJECT))
        return;
    rule->id = sw_get_new_id(check, at, ids, index);
    sw_get_text(check, at, "source", SW_REQUIRED, &rule->source);
    if (SW_GET_CHOICE(check, at, "level", SW_REQUIRED, &level, "hard", "caution"))
        rule->hard = level == 0;
    rule->name = rule->id;
    sw_get_text(check, at, "name", SW_OPTIONAL, &rule->name);
    read_bends(check, at, rule);
    if (!SW_GET_CHOICE(check, at, "shape", SW_REQUIRED, &shape, "same", "among", "within", "supply",
                       "unlock", "clash", "place"))
        return;
    const shape_form *form = &shapes[shape];
    rule->shape = (sw_shape)shape;
    sw_check_names(check, at, form->names, form->name_count);
    sw_get_sentence(check, at, "client", check_slot, form, &rule->client);
    sw_get_sentence(check, at, "bench", check_slot, form, &rule->bench);
    if (rule->shape != SW_PLACE) {
        sw_get_conditions(check, at, "when", SW_OPTIONAL, 0, SW_NONE, &rule->when,
                          &rule->when_count);
        sw_get_conditions(check, at, "unless", SW_OPTIONAL, 0, SW_NONE, &rule->unless,
                          &rule->unless_count);
    }
    form->read(check, at, rule);
}

/* All place rules share the positions, each kind by one of them. */
static void check_kinds(sw_check *check, const sw_node *list, const sw_rule *rules) {
    for (size_t i = 0; i < list->json->count; i++)
        for (size_t j = 0; j < i && rules[i].kind != NULL; j++)
            if (rules[j].kind != NULL && strcmp(rules[i].kind, rules[j].kind) == 0) {
                sw_node at = sw_element(list, i);
                sw_node kind = sw_member(&at, "kind");
                sw_wrong(check, &kind, "no two place rules are about the same kind",
                         "put both rules together", "is \"%s\" again, as in the rule \"%s\"",
                         sw_shown(check, rules[i].kind), rules[j].id);
                break;
            }
}

void sw_read_rules(sw_check *check) {
    sw_node root, list;
    sw_names ids = {0};
    if (!sw_open_list(check, "rules.json", "rules", 0, SW_SHORT_LIST_LIMIT, &root, &list))
        return;
    SW_CHECK_NAMES(check, &root, "schema", "rules");
    sw_rule *rules = SW_KEEP(check, sw_rule, list.json->count);
    if (rules == NULL)
        return;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_rule(check, &at, &ids, (int)i, &rules[i]);
    }
    check_kinds(check, &list, rules);
    sw_names_free(&ids);
    check->catalog->rules = rules;
    check->catalog->rule_count = list.json->count;
}
