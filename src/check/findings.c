/* findings.json: what may be wrong with a machine, and what mends it. The file may be
 * missing. */
#include <string.h>

#include "check/stage.h"

/* ---- when ------------------------------------------------------------------------------ */

static bool read_on_measure(sw_check *check, const sw_node *at, sw_finding_cond *out) {
    bool least = sw_member(at, "least").json != NULL, most = sw_member(at, "most").json != NULL;
    int64_t milli = 0;
    if (!SW_CHECK_NAMES(check, at, "measure", "least", "most"))
        return false;
    if (least == most) {
        sw_wrong(check, at, "a measure is held against one bound",
                 "give \"least\" or \"most\"; write two conditions for two bounds",
                 least ? "has two bounds" : "has no bound");
        return false;
    }
    const char *name = least ? "least" : "most";
    out->on_measure = true;
    out->at_least = least;
    bool named = sw_get_index(check, at, "measure", SW_REQUIRED, &check->measures, "measure",
                              "measures.json", &out->measure);
    if (!sw_get_milli(check, at, name, SW_REQUIRED, -SW_MILLI_LIMIT, SW_MILLI_LIMIT, &milli))
        return false;
    out->bound = sw_member(at, name).json->number;
    return named;
}

static bool is_about_measure(const sw_json *json) {
    while (json != NULL && json->kind == SW_JSON_OBJECT) {
        if (sw_json_get(json, "measure") != NULL)
            return true;
        json = sw_json_get(json, "not");
    }
    return false;
}

/* `not` of a measure is unwrapped here; any other goes to the conditions of the rules. */
static bool read_cond(sw_check *check, const sw_node *at, sw_finding_cond *out) {
    if (!sw_is_kind(check, at, SW_JSON_OBJECT))
        return false;
    if (sw_member(at, "measure").json != NULL)
        return read_on_measure(check, at, out);
    sw_node inner = sw_member(at, "not");
    if (inner.json == NULL || !is_about_measure(inner.json))
        return sw_check_condition(check, at, &out->cond);
    /* Recursion is bounded: the file's nesting is at most 64. */
    bool good = SW_CHECK_NAMES(check, at, "not") && read_cond(check, &inner, out);
    out->negated = !out->negated;
    return good;
}

static bool read_when(sw_check *check, const sw_node *at, sw_finding_form *out) {
    sw_node list;
    if (!sw_get_list(check, at, "when", SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &list))
        return false;
    sw_finding_cond *conds = SW_KEEP(check, sw_finding_cond, list.json->count);
    bool good = conds != NULL;
    for (size_t i = 0; conds != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        conds[i] = (sw_finding_cond){.measure = SW_NONE};
        good = read_cond(check, &entry, &conds[i]) && good;
    }
    out->when = conds;
    out->when_count = list.json->count;
    return good;
}

/* ---- mends ------------------------------------------------------------------------------ */

static void read_mend(sw_check *check, const sw_node *at, sw_mend_form *out) {
    *out = (sw_mend_form){.task = SW_NONE, .role = SW_NONE, .text = ""};
    if (!SW_CHECK_NAMES(check, at, "task", "replace", "do", "minutes", "price"))
        return;
    size_t count = 0;
    static const char *const hows[] = {"task", "replace", "do"};
    for (size_t h = 0; h < 3; h++)
        if (sw_member(at, hows[h]).json != NULL) {
            out->how = (sw_mend_how)h;
            count++;
        }
    bool timed = sw_member(at, "minutes").json != NULL || sw_member(at, "price").json != NULL;
    if (count != 1 || (timed && out->how != SW_MEND_DO)) {
        sw_wrong(check, at,
                 "a mend is a task, a role to replace, or something to do with its minutes and "
                 "price",
                 "give one of: task, replace, do", "is neither one of them nor alone");
        return;
    }
    if (out->how == SW_MEND_TASK)
        sw_get_index(check, at, "task", SW_REQUIRED, &check->tasks, "task", "tasks.json",
                     &out->task);
    else if (out->how == SW_MEND_REPLACE)
        sw_get_index(check, at, "replace", SW_REQUIRED, &check->roles, "role", "roles.json",
                     &out->role);
    else
        sw_get_text(check, at, "do", SW_REQUIRED, &out->text);
    sw_get_whole(check, at, "minutes", SW_OPTIONAL, 0, SW_MINUTES_LIMIT, &out->minutes);
    sw_get_money(check, at, "price", SW_OPTIONAL, &out->price);
}

static void read_mends(sw_check *check, const sw_node *at, sw_finding_form *out) {
    sw_node list;
    if (!sw_get_list(check, at, "mends", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_mend_form *mends = SW_KEEP(check, sw_mend_form, list.json->count);
    for (size_t i = 0; mends != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        read_mend(check, &entry, &mends[i]);
    }
    out->mends = mends;
    out->mend_count = mends == NULL ? 0 : list.json->count;
}

/* ---- sentences ----------------------------------------------------------------------------- */

/* "{measure-id}" or "{role.fact}". */
static void check_slot(sw_check *check, const sw_node *at, const char *slot, const void *of) {
    (void)of;
    const char *point = strchr(slot, '.');
    if (point == NULL) {
        sw_find(check, at, &check->measures, slot, "measure", "measures.json");
        return;
    }
    const char *name = sw_arena_text(check->scratch, slot, (size_t)(point - slot));
    if (name == NULL) {
        check->no_memory = true;
        return;
    }
    int role = sw_find(check, at, &check->roles, name, "role", "roles.json");
    int fact = sw_find(check, at, &check->facts, point + 1, "fact", "facts.json");
    if (role != SW_NONE && fact != SW_NONE)
        sw_check_stands(check, at, role, fact);
}

/* ---- the file ---------------------------------------------------------------------------------
 */

static void read_finding(sw_check *check, const sw_node *at, int index, sw_finding_form *out) {
    int kind = 0;
    *out = (sw_finding_form){
        .id = "", .about = SW_NONE, .evidence = "", .means = "", .caution = "", .source = ""};
    if (!SW_CHECK_NAMES(check, at, "finding", "kind", "must", "about", "when", "evidence", "means",
                        "mends", "caution", "source")) {
        check->findings.whole = false;
        return;
    }
    sw_node id = sw_member(at, "finding");
    if (sw_get_id(check, at, "finding", SW_REQUIRED, &out->id))
        sw_register(check, &id, &check->findings, out->id, index);
    SW_GET_CHOICE(check, at, "kind", SW_REQUIRED, &kind, "limits", "loud", "near-its-limit",
                  "set-wrong", "worn");
    out->kind = (sw_finding_kind)kind;
    sw_get_flag(check, at, "must", SW_OPTIONAL, &out->must);
    sw_get_index(check, at, "about", SW_REQUIRED, &check->roles, "role", "roles.json", &out->about);
    read_when(check, at, out);
    sw_get_sentence(check, at, "evidence", check_slot, NULL, &out->evidence);
    sw_get_sentence(check, at, "means", check_slot, NULL, &out->means);
    read_mends(check, at, out);
    if (sw_member(at, "caution").json != NULL)
        sw_get_text(check, at, "caution", SW_OPTIONAL, &out->caution);
    sw_get_text(check, at, "source", SW_REQUIRED, &out->source);
}

void sw_read_findings(sw_check *check) {
    sw_node root, list;
    if (!sw_has_file(check, "findings.json"))
        return;
    if (!sw_open_list(check, "findings.json", "findings", 0, SW_SHORT_LIST_LIMIT, &root, &list))
        return;
    SW_CHECK_NAMES(check, &root, "schema", "findings");
    sw_finding_form *findings = SW_KEEP(check, sw_finding_form, list.json->count);
    if (findings == NULL)
        return;
    check->findings.whole = true;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_finding(check, &at, (int)i, &findings[i]);
    }
    check->catalog->findings = findings;
    check->catalog->finding_count = list.json->count;
}
