/* patterns.json: how texts of suppliers state facts. */
#include "check/profiles.h"
#include "check/stage.h"

static void read_value(sw_check *check, const sw_node *at, const sw_fact *fact,
                       const sw_pattern *of, sw_pattern_fact *out) {
    const char *name = NULL;
    sw_node is = sw_member(at, "is");
    out->times_milli = 1000;
    out->slot = -1;
    if ((is.json != NULL) == (sw_member(at, "of").json != NULL)) {
        sw_wrong(check, at, "a fact is the number of a slot, or one value",
                 "write either \"of\" or \"is\"", "says in no one way what the fact is");
        return;
    }
    if (is.json != NULL) {
        sw_check_value(check, &is, fact, &out->value);
        return;
    }
    sw_get_milli(check, at, "times", SW_OPTIONAL, 1, SW_MILLI_LIMIT, &out->times_milli);
    if (!sw_get_token(check, at, "of", SW_REQUIRED, &name))
        return;
    out->slot = sw_like_slot(&of->like, name);
    if (out->slot < 0) {
        sw_node slot = sw_member(at, "of");
        sw_wrong(check, &slot, "the number comes from a slot of the pattern",
                 "name one of its slots", "names no slot of \"like\": \"%s\"",
                 sw_shown(check, name));
    }
}

static void read_fact(sw_check *check, const sw_node *at, const sw_pattern *of,
                      sw_pattern_fact *out) {
    out->fact = SW_NONE;
    unsigned types = sw_member(at, "of").json != NULL
                         ? SW_TYPE_BIT(SW_NUMBER)
                         : SW_TYPE_BIT(SW_NUMBER) | SW_TYPE_BIT(SW_TOKEN) | SW_TYPE_BIT(SW_FLAG);
    if (!SW_CHECK_NAMES(check, at, "fact", "of", "times", "is") ||
        !sw_get_fact(check, at, "fact", types, &out->fact) || of->role == SW_NONE)
        return;
    sw_node name = sw_member(at, "fact");
    const sw_fact *fact = &check->catalog->facts[out->fact];
    if (fact->derived_role != SW_NONE || fact->built_in)
        sw_wrong(check, &name, "derived facts are made from the other facts", "take it away",
                 "names the derived fact \"%s\"", fact->name);
    else if (sw_check_stands(check, &name, of->role, out->fact))
        read_value(check, at, fact, of, out);
}

static void read_pattern(sw_check *check, const sw_node *at, sw_pattern *out) {
    sw_node list;
    const char *pack = NULL, *source = NULL;
    *out = (sw_pattern){.role = SW_NONE, .pack = -1};
    if (!SW_CHECK_NAMES(check, at, "role", "like", "pack", "facts", "source"))
        return;
    sw_get_index(check, at, "role", SW_REQUIRED, &check->roles, "role", "roles.json", &out->role);
    sw_get_text(check, at, "source", SW_REQUIRED, &source);
    if (!sw_get_like(check, at, &out->like))
        return;
    if (sw_get_token(check, at, "pack", SW_OPTIONAL, &pack) &&
        (out->pack = sw_like_slot(&out->like, pack)) < 0) {
        sw_node slot = sw_member(at, "pack");
        sw_wrong(check, &slot, "the number comes from a slot of the pattern",
                 "name one of its slots", "names no slot of \"like\": \"%s\"",
                 sw_shown(check, pack));
    }
    if (!sw_get_list(check, at, "facts", SW_REQUIRED, 0, 16, &list))
        return;
    sw_pattern_fact *facts = SW_KEEP(check, sw_pattern_fact, list.json->count);
    for (size_t i = 0; facts != NULL && i < list.json->count; i++) {
        sw_node one = sw_element(&list, i);
        read_fact(check, &one, out, &facts[i]);
    }
    out->facts = facts;
    out->fact_count = facts == NULL ? 0 : list.json->count;
}

static void read_pack(sw_check *check, const sw_node *at, sw_pack_word *out) {
    const char *source = NULL;
    sw_node is = sw_member(at, "is");
    *out = (sw_pack_word){.slot = -1};
    if (!SW_CHECK_NAMES(check, at, "like", "is", "source"))
        return;
    sw_get_text(check, at, "source", SW_REQUIRED, &source);
    if (!sw_get_like(check, at, &out->like))
        return;
    out->slot = sw_like_slot(&out->like, "n");
    if (out->like.slot_count > (out->slot >= 0))
        sw_wrong(check, at, "words of a pack have no slot but {n}, which counts its pieces",
                 "name the slot n, or pass over the number with {-}", "has a slot of another name");
    if (sw_get_count(check, at, "is", SW_OPTIONAL, 2, 1000, &out->is) && out->slot >= 0)
        sw_wrong(check, &is, "the slot {n} counts the pieces already", "take one of the two away",
                 "stands beside the slot {n}");
}

static void read_packs(sw_check *check, const sw_node *root) {
    sw_node list;
    if (!sw_get_list(check, root, "packs", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_pack_word *packs = SW_KEEP(check, sw_pack_word, list.json->count);
    for (size_t i = 0; packs != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_pack(check, &at, &packs[i]);
    }
    check->catalog->packs = packs;
    check->catalog->pack_count = packs == NULL ? 0 : list.json->count;
}

void sw_read_patterns(sw_check *check) {
    sw_node root, list;
    if (!sw_has_file(check, "patterns.json") ||
        !sw_open_list(check, "patterns.json", "patterns", 0, SW_SHORT_LIST_LIMIT, &root, &list))
        return;
    SW_CHECK_NAMES(check, &root, "schema", "patterns", "packs");
    read_packs(check, &root);
    sw_pattern *patterns = SW_KEEP(check, sw_pattern, list.json->count);
    for (size_t i = 0; patterns != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_pattern(check, &at, &patterns[i]);
    }
    check->catalog->patterns = patterns;
    check->catalog->pattern_count = patterns == NULL ? 0 : list.json->count;
}
