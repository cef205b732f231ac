/* Faults in anything that is told of the work, one place at a time. */
#include "faults.h"

#include <stdio.h>
#include <string.h>

cJSON *in(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

cJSON *at(const cJSON *list, int i) { return cJSON_GetArrayItem(list, i); }

bool is_said(const cJSON *json, const char *name, const char *value) {
    return !strcmp(text_of(json, name), value);
}

void number_anew(cJSON *answer) {
    cJSON *deed;
    int n = 0;
    cJSON_ArrayForEach(deed, in(answer, "work")) cJSON_SetNumberValue(in(deed, "number"), ++n);
}

static bool put(cJSON *object, const char *name, cJSON *value) {
    if (in(object, name))
        return cJSON_ReplaceItemInObjectCaseSensitive(object, name, must_have(value));
    cJSON_Delete(value);
    return false;
}

static bool put_text(cJSON *object, const char *name, const char *text) {
    return put(object, name, cJSON_CreateString(text));
}

static bool turn_digit(cJSON *object, const char *name) {
    const cJSON *now = in(object, name);
    char text[64];
    if (!cJSON_IsString(now) || !*now->valuestring)
        return false;
    snprintf(text, sizeof text, "%s", now->valuestring);
    char *last = text + strlen(text) - 1;
    *last = *last == '9' ? '7' : (char)(*last + 1 + (*last < '8'));
    return put_text(object, name, text);
}

static bool turn(cJSON *object, const char *name) {
    const cJSON *now = in(object, name);
    return cJSON_IsBool(now) && put(object, name, cJSON_CreateBool(!cJSON_IsTrue(now)));
}

static bool add_to(cJSON *object, const char *name, double by) {
    cJSON *now = in(object, name);
    if (!cJSON_IsNumber(now))
        return false;
    cJSON_SetNumberValue(now, now->valuedouble + by);
    return true;
}

static bool drop_first(cJSON *list) {
    if (!cJSON_GetArraySize(list))
        return false;
    cJSON_DeleteItemFromArray(list, 0);
    return true;
}

static bool add_text(cJSON *list, const char *text) {
    return cJSON_IsArray(list) && cJSON_AddItemToArray(list, must_have(cJSON_CreateString(text)));
}

static bool swap_first_two(cJSON *list) {
    if (cJSON_GetArraySize(list) < 2)
        return false;
    insert_at(list, 0, cJSON_DetachItemFromArray(list, 1));
    return true;
}

/* The first of a list whose member is this; NULL where none is. */
static cJSON *with(const cJSON *list, const char *name, const char *value) {
    cJSON *item;
    cJSON_ArrayForEach(item, list) if (is_said(item, name, value)) return item;
    return NULL;
}

static cJSON *deed(const cJSON *a, const char *does) { return with(in(a, "work"), "does", does); }

/* A step of the file. */
static cJSON *step(const cJSON *a) {
    cJSON *item;
    cJSON_ArrayForEach(item, in(a, "work")) if (cJSON_IsString(in(item, "step"))) return item;
    return NULL;
}

static cJSON *unnamed(const cJSON *a) {
    cJSON *item;
    cJSON_ArrayForEach(item, in(a, "work")) if (is_said(item, "does", "step") &&
                                                !cJSON_IsString(in(item, "step"))) return item;
    return NULL;
}

static cJSON *with_others(const cJSON *a) {
    cJSON *item;
    cJSON_ArrayForEach(item, in(a, "work")) if (cJSON_GetArraySize(in(item, "with"))) return item;
    return NULL;
}

static cJSON *billed(const cJSON *a, bool is_billed) {
    cJSON *item;
    cJSON_ArrayForEach(item, in(a, "work")) if (cJSON_IsTrue(in(item, "billed")) == is_billed &&
                                                in(item, "minutes")->valuedouble > 0) return item;
    return NULL;
}

static bool drop_deed(cJSON *a, const cJSON *which) {
    int place = 0;
    const cJSON *item;
    cJSON_ArrayForEach(item, in(a, "work")) {
        if (item == which) {
            cJSON_DeleteItemFromArray(in(a, "work"), place);
            number_anew(a);
            return true;
        }
        place++;
    }
    return false;
}

static bool repeat_deed(cJSON *a, const cJSON *which) {
    if (!which)
        return false;
    cJSON_AddItemToArray(in(a, "work"), must_have(cJSON_Duplicate(which, true)));
    number_anew(a);
    return true;
}

/* Minutes that stand beside something else; their sum stays. */
static bool move_minutes(cJSON *a) {
    cJSON *from = billed(a, true), *item;
    cJSON_ArrayForEach(item, in(a, "work")) {
        if (!from || item == from || !cJSON_IsTrue(in(item, "billed")))
            continue;
        return add_to(from, "minutes", -1) && add_to(item, "minutes", 1);
    }
    return false;
}

/* What stays and is left alone is taken off and put back all the same. */
static bool lift_for_nothing(const Ground *g, cJSON *a) {
    const cJSON *role, *part, *item;
    cJSON *model = deed(a, "take-out");
    cJSON_ArrayForEach(role, in(a, "machine")) cJSON_ArrayForEach(part, in(role, "parts")) {
        bool lifted = cJSON_IsTrue(in(part, "added"));
        cJSON_ArrayForEach(item, in(a, "work")) lifted =
            lifted || is_said(item, "part", text_of(part, "part"));
        if (lifted || !model)
            continue;
        for (int i = 0; i < 2; i++) {
            cJSON *copy = must_have(cJSON_Duplicate(model, true));
            put_text(copy, "does", i ? "put-back" : "take-off");
            put_text(copy, "role", text_of(role, "role"));
            put_text(copy, "part", text_of(part, "part"));
            put(copy, "count", cJSON_CreateNumber(in(part, "count")->valuedouble));
            put(copy, "with", cJSON_CreateArray());
            put(copy, "minutes", cJSON_CreateNumber(0));
            put(copy, "billed", cJSON_CreateFalse());
            cJSON_AddItemToArray(in(a, "work"), copy);
        }
        number_anew(a);
        (void)g;
        return true;
    }
    return false;
}

/* What left with something else is taken out by itself, after it. */
static bool take_out_alone(cJSON *a) {
    cJSON *from = with_others(a);
    if (!from)
        return false;
    cJSON *gone = cJSON_DetachItemFromArray(in(from, "with"), 0);
    cJSON *copy = must_have(cJSON_Duplicate(from, true));
    put(copy, "with", cJSON_CreateArray());
    put_text(copy, "role", text_of(gone, "role"));
    put_text(copy, "part", text_of(gone, "part"));
    put(copy, "count", cJSON_CreateNumber(in(gone, "count")->valuedouble));
    put(copy, "minutes", cJSON_CreateNumber(0));
    cJSON_Delete(gone);
    insert_at(in(a, "work"), (int)in(from, "number")->valuedouble, copy);
    number_anew(a);
    return true;
}

/* It leaves with the take-out of another role than that of its carrier. */
static bool leave_with_another(cJSON *a) {
    cJSON *from = with_others(a), *item;
    cJSON_ArrayForEach(item, in(a, "work")) {
        if (!from || item == from || !is_said(item, "does", "take-out") ||
            is_said(item, "role", text_of(from, "role")))
            continue;
        cJSON_AddItemToArray(in(item, "with"), cJSON_DetachItemFromArray(in(from, "with"), 0));
        return true;
    }
    return false;
}

static bool give_reason(cJSON *which, const char *name, const char *value) {
    cJSON *list = must_have(cJSON_CreateArray()), *reason = must_have(cJSON_CreateObject());
    must_have(cJSON_AddStringToObject(reason, name, value));
    cJSON_AddItemToArray(list, reason);
    if (which)
        return put(which, "because", list);
    cJSON_Delete(list);
    return false;
}

/* A role that stays as it is, told as the reason. */
static bool blame_another(cJSON *a) {
    const cJSON *role, *part;
    cJSON_ArrayForEach(role, in(a, "machine")) {
        bool same = true;
        cJSON_ArrayForEach(part, in(a, "work")) same =
            same && !is_said(part, "role", text_of(role, "role"));
        cJSON_ArrayForEach(part, in(a, "out")) same =
            same && !is_said(part, "role", text_of(role, "role"));
        if (same)
            return give_reason(deed(a, "fit"), "changes", text_of(role, "role"));
    }
    return false;
}

static cJSON *check_with(const cJSON *a, const char *name) {
    cJSON *item;
    cJSON_ArrayForEach(item, in(a, "checks")) if (cJSON_IsNumber(in(item, name))) return item;
    return NULL;
}

static cJSON *role_with(const cJSON *a, const char *list) {
    cJSON *item;
    cJSON_ArrayForEach(item, in(a, "machine")) if (cJSON_GetArraySize(in(item, list))) return item;
    return NULL;
}

static cJSON *other_stage(const Ground *g, cJSON *a) {
    const cJSON *stage;
    cJSON *one = step(a);
    cJSON_ArrayForEach(
        stage,
        get(g->j->bench, "stages")) if (one && !is_said(one, "stage", text_of(stage, "stage"))) {
        put_text(one, "stage", text_of(stage, "stage"));
        return one;
    }
    return NULL;
}

#define SPOIL(name, does)                                                                          \
    static bool name(const Ground *g, cJSON *a) {                                                  \
        (void)g;                                                                                   \
        return does;                                                                               \
    }

SPOIL(points, turn_digit(a, "points"))
SPOIL(cost, turn_digit(a, "cost"))
SPOIL(days, add_to(a, "days_without", 1))
SPOIL(machine_less, drop_first(in(a, "machine")))
SPOIL(machine_order, swap_first_two(in(a, "machine")))
SPOIL(machine_part, put_text(at(in(role_with(a, "parts"), "parts"), 0), "part", "nothing"))
SPOIL(machine_count, add_to(at(in(role_with(a, "parts"), "parts"), 0), "count", 1))
SPOIL(machine_added, turn(at(in(role_with(a, "parts"), "parts"), 0), "added"))
SPOIL(machine_task, drop_first(in(role_with(a, "tasks"), "tasks")))
SPOIL(number_twice, add_to(at(in(a, "work"), 1), "number", -1))
SPOIL(stage_other, other_stage(g, a) != NULL)
SPOIL(out_as_off, put_text(deed(a, "take-out"), "does", "take-off"))
SPOIL(back_as_fit, put_text(deed(a, "put-back"), "does", "fit"))
SPOIL(fit_as_back, put_text(deed(a, "fit"), "does", "put-back"))
SPOIL(action_role, put_text(deed(a, "fit"), "role", "nothing"))
SPOIL(action_part, put_text(deed(a, "take-out"), "part", "nothing"))
SPOIL(action_count, add_to(deed(a, "fit"), "count", 1))
SPOIL(out_dropped, drop_deed(a, deed(a, "take-out")))
SPOIL(fit_dropped, drop_deed(a, deed(a, "fit")))
SPOIL(fit_twice, repeat_deed(a, deed(a, "fit")))
SPOIL(lay_dropped, drop_deed(a, deed(a, "lay-out")))
SPOIL(off_dropped, drop_deed(a, deed(a, "take-off")))
SPOIL(back_dropped, drop_deed(a, deed(a, "put-back")))
SPOIL(both_dropped, drop_deed(a, deed(a, "take-off")) && drop_deed(a, deed(a, "put-back")))
SPOIL(lifted, lift_for_nothing(g, a))
SPOIL(with_dropped, drop_first(in(with_others(a), "with")))
SPOIL(with_alone, take_out_alone(a))
SPOIL(with_another, leave_with_another(a))
SPOIL(step_dropped, drop_deed(a, step(a)))
SPOIL(step_twice, repeat_deed(a, step(a)))
SPOIL(step_unnamed, put(step(a), "step", cJSON_CreateNull()))
SPOIL(step_named, put_text(unnamed(a), "step", "nothing"))
SPOIL(unnamed_dropped, drop_deed(a, unnamed(a)))
SPOIL(unnamed_whose, give_reason(unnamed(a), "task", "nothing"))
SPOIL(minutes_more, add_to(billed(a, true), "minutes", 5))
SPOIL(minutes_beside, add_to(billed(a, false), "minutes", 5))
SPOIL(minutes_moved, move_minutes(a))
SPOIL(billed_not, turn(billed(a, true), "billed"))
SPOIL(billed_too, turn(billed(a, false), "billed"))
SPOIL(alone_more, add_to(step(a), "alone_minutes", 45))
SPOIL(sum_billed, add_to(in(a, "minutes"), "billed", 1))
SPOIL(sum_beside, add_to(in(a, "minutes"), "beside", 1))
SPOIL(sum_alone, add_to(in(a, "minutes"), "alone", 1))
SPOIL(reason_none, put(at(in(a, "work"), 0), "because", cJSON_CreateArray()))
SPOIL(reason_other, blame_another(a))
SPOIL(reason_cover, give_reason(deed(a, "take-off"), "covers", "nothing"))
SPOIL(reason_step, give_reason(deed(a, "put-back"), "step", "nothing"))
SPOIL(reason_charge, give_reason(step(a), "charge", "nothing"))
SPOIL(slot_left, put_text(at(in(a, "work"), 0), "caution", "Mind {this}."))
SPOIL(lead_less, drop_first(in(a, "leads")))
SPOIL(lead_order, swap_first_two(in(a, "leads")))
SPOIL(lead_need, turn_digit(at(in(a, "leads"), 0), "need"))
SPOIL(lead_there, turn_digit(at(in(a, "leads"), 0), "there"))
SPOIL(lead_takes, turn_digit(at(in(at(in(a, "leads"), 0), "takes"), 0), "amount"))
SPOIL(lead_gives, drop_first(in(at(in(a, "leads"), 0), "gives")))
SPOIL(gone_less, drop_first(in(a, "out")))
SPOIL(gone_count, add_to(at(in(a, "out"), 0), "count", 1))
SPOIL(gone_condition, put_text(at(in(a, "out"), 0), "condition", "nothing"))
SPOIL(gone_to_client, put_text(with(in(a, "out"), "whose", "shop"), "whose", "client"))
SPOIL(gone_to_shop, put_text(with(in(a, "out"), "whose", "client"), "whose", "shop"))
SPOIL(gone_offer, turn_digit(with(in(a, "out"), "whose", "shop"), "offer"))
SPOIL(gone_files, turn(at(in(a, "out"), 0), "keeps_files"))
SPOIL(wiping_not, cJSON_IsString(in(a, "wiping")) && put(a, "wiping", cJSON_CreateNull()))
SPOIL(check_less, drop_first(in(a, "checks")))
SPOIL(check_use, put_text(at(in(a, "checks"), 0), "use", "nothing"))
SPOIL(check_minutes, add_to(at(in(a, "checks"), 0), "minutes", 5))
SPOIL(check_today, add_to(check_with(a, "today"), "today", 1))
SPOIL(check_foretold, add_to(check_with(a, "foretold"), "foretold", 0.01))
SPOIL(check_low, add_to(check_with(a, "low"), "low", 0.01))
SPOIL(check_high, add_to(check_with(a, "high"), "high", -0.01))
SPOIL(call_days, add_to(in(a, "call"), "after_days", 1))
SPOIL(call_less, drop_first(in(in(a, "call"), "asks")))
SPOIL(call_more, add_text(in(in(a, "call"), "asks"), "And what else?"))
SPOIL(hazard_less, drop_first(in(a, "hazards")))

#define FAULT(name)                                                                                \
    { #name, name, false, 0, 0 }
#define PLAIN(name)                                                                                \
    { #name " (judged)", name, true, 0, 0 }

Fault *told_faults(size_t *n) {
    static Fault fault[] = {FAULT(points),         FAULT(cost),
                            FAULT(days),           FAULT(machine_less),
                            FAULT(machine_order),  FAULT(machine_part),
                            FAULT(machine_count),  FAULT(machine_added),
                            FAULT(machine_task),   FAULT(number_twice),
                            PLAIN(number_twice),   FAULT(stage_other),
                            PLAIN(stage_other),    FAULT(out_as_off),
                            PLAIN(out_as_off),     FAULT(back_as_fit),
                            PLAIN(back_as_fit),    FAULT(fit_as_back),
                            PLAIN(fit_as_back),    PLAIN(action_role),
                            PLAIN(action_part),    PLAIN(action_count),
                            PLAIN(out_dropped),    PLAIN(fit_dropped),
                            PLAIN(fit_twice),      PLAIN(lay_dropped),
                            PLAIN(off_dropped),    PLAIN(back_dropped),
                            PLAIN(both_dropped),   PLAIN(lifted),
                            PLAIN(with_dropped),   PLAIN(with_alone),
                            PLAIN(with_another),   PLAIN(step_dropped),
                            PLAIN(step_twice),     PLAIN(step_unnamed),
                            FAULT(step_named),     FAULT(unnamed_dropped),
                            FAULT(unnamed_whose),  PLAIN(minutes_more),
                            FAULT(minutes_beside), FAULT(minutes_moved),
                            PLAIN(billed_not),     PLAIN(billed_too),
                            FAULT(alone_more),     PLAIN(sum_billed),
                            FAULT(sum_beside),     FAULT(sum_alone),
                            PLAIN(reason_none),    PLAIN(reason_other),
                            PLAIN(reason_cover),   PLAIN(reason_step),
                            PLAIN(reason_charge),  PLAIN(slot_left),
                            FAULT(lead_less),      FAULT(lead_order),
                            FAULT(lead_need),      FAULT(lead_there),
                            FAULT(lead_takes),     FAULT(lead_gives),
                            FAULT(gone_less),      FAULT(gone_count),
                            FAULT(gone_condition), FAULT(gone_to_client),
                            FAULT(gone_to_shop),   FAULT(gone_offer),
                            FAULT(gone_files),     FAULT(wiping_not),
                            FAULT(check_less),     FAULT(check_use),
                            FAULT(check_minutes),  FAULT(check_today),
                            FAULT(check_foretold), FAULT(check_low),
                            FAULT(check_high),     FAULT(call_days),
                            FAULT(call_less),      FAULT(call_more),
                            FAULT(hazard_less)};
    *n = sizeof fault / sizeof *fault;
    return fault;
}
