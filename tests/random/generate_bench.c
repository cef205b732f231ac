/*
 * A drawn job with how its work is done at the bench: stages, what hangs on what, what covers
 * what, steps of every form, leads, files, checks, the call. Drawn from dice of its own, after
 * all else, so that the rest of a seed stays what it is; in most jobs more changes at once than
 * the client would want otherwise.
 *
 * Roles have a hidden order: each hangs on earlier ones, so that few jobs go round in a circle.
 * Wild and tangled jobs do not keep to it.
 */
#include "generate.h"

#include <stdio.h>
#include <string.h>

enum { MOST_STEPS = 9, MOST_STAGES = 4 };

typedef enum { EARLY, AMID, LATE } Phase; /* before what comes off; between; once it is on */

typedef struct Plan {
    int order[MAX_ROLES]; /* the hidden order of the roles */
    bool wild, tangled;   /* covers and steps, or what hangs on what, keep to no order */
    bool built;           /* as machines are: a case, a board in it, and on the board what rides */
    const char *stage[MOST_STAGES];
    int stages, machine; /* which of them says machine */
    int steps;
    char step[MOST_STEPS][ID];
    int stage_of[MOST_STEPS];
    Phase phase[MOST_STEPS];
    int rank[MOST_STEPS]; /* the hidden order of the steps */
    bool task_used[MAX_TASKS];
    bool charge_used[8];
} Plan;

static cJSON *get(const cJSON *json, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(json, name);
}

static cJSON *item_of(const cJSON *list, int i) { return cJSON_GetArrayItem(list, i); }

static void shuffle(Draw *d, int *at, int n) {
    for (int i = 0; i < n; i++)
        at[i] = i;
    for (int i = 0; i < n; i++) {
        int k = between(d, i, n - 1), held = at[i];
        at[i] = at[k];
        at[k] = held;
    }
}

/* A role that comes before this place of the hidden order; any where order is not kept. */
static const char *role_before(Draw *d, const Plan *p, int place, bool any) {
    int at = any && chance(d, 40) ? below(d, d->roles) : below(d, place);
    return d->role[p->order[at]].id;
}

static bool lists(const cJSON *array, const char *text) {
    const cJSON *item;
    cJSON_ArrayForEach(item, array) if (!strcmp(item->valuestring, text)) return true;
    return false;
}

static void text_once(cJSON *array, const char *text) {
    if (!lists(array, text))
        text_next(array, text);
}

/* ---- sentences ---- */

/* Text with a slot at times: a fact of a role, or what the role holds. */
static void words_in(Draw *d, cJSON *json, const char *name, const char *plain) {
    char text[160];
    int role = below(d, d->roles), fact = fact_on(d, role, chance(d, 70) ? NUMBER : TOKEN);
    if (chance(d, 60))
        snprintf(text, sizeof text, "%s", plain);
    else if (fact < 0 || chance(d, 50))
        snprintf(text, sizeof text, "%s Mind {%s}.", plain, d->role[role].id);
    else
        snprintf(text, sizeof text, "%s It is {%s.%s}.", plain, d->role[role].id,
                 d->fact[fact].name);
    text_in(json, name, text);
}

/* ---- stages, mounts, covers ---- */

static void draw_stages(Draw *d, Plan *p, cJSON *bench) {
    static const char *const ids[MOST_STAGES] = {"before", "work", "9-after", "a-late"};
    int order[MOST_STAGES];
    cJSON *list = array_in(bench, "stages");
    shuffle(d, order, MOST_STAGES);
    p->stages = between(d, 1, MOST_STAGES);
    p->machine = below(d, p->stages);
    for (int i = 0; i < p->stages; i++) {
        cJSON *json = next_object(list);
        p->stage[i] = ids[order[i]];
        text_in(json, "stage", p->stage[i]);
        text_in(json, "name", "A stage");
        if (i == p->machine)
            flag_in(json, "machine", true);
    }
}

static void draw_sites_of(Draw *d, const Plan *p, int place, cJSON *json) {
    static const char *const kinds[] = {"fan", "drive"};
    cJSON *list = array_in(json, "sites");
    for (int i = 0, first = below(d, 2); i < between(d, 1, 2); i++) {
        cJSON *site = next_object(list);
        text_in(site, "kind", kinds[(first + i) % 2]);
        text_in(site, "of", role_before(d, p, place, p->tangled));
    }
}

/* What it hangs on; in a machine built as machines are one thing, mostly the second. */
static void draw_on(Draw *d, const Plan *p, int place, cJSON *json) {
    cJSON *list = array_in(json, "on");
    if (p->built && place > 0 && chance(d, 90)) {
        text_next(list, d->role[p->order[place > 1]].id);
        return;
    }
    for (int i = place ? between(d, 1, chance(d, 75) ? 1 : 2) : 0; i > 0; i--)
        text_once(list, role_before(d, p, place, p->tangled));
}

static void draw_mount(Draw *d, const Plan *p, int place, cJSON *json) {
    bool on = place > 0 && chance(d, p->built ? 95 : 85);
    bool rides = chance(d, p->built ? (place > 1 ? 85 : 5) : 55);
    text_in(json, "role", d->role[p->order[place]].id);
    if (on || chance(d, 30))
        draw_on(d, p, place, json);
    if (place > 0 && chance(d, p->built ? 10 : on ? 20 : 60))
        draw_sites_of(d, p, place, json);
    if (rides || chance(d, 20))
        flag_in(json, "rides", rides);
    words_in(d, json, "take", "Take it out.");
    words_in(d, json, "fit", "Fit it.");
    words_in(d, json, "lay", "Lay it on the bench.");
}

static void draw_mounts(Draw *d, const Plan *p, cJSON *bench) {
    int order[MAX_ROLES];
    shuffle(d, order, d->roles);
    if (chance(d, 5))
        return;
    if (chance(d, 60)) /* from the inside outwards, as a shop would write it */
        for (int i = 0; i < d->roles; i++)
            order[i] = i;
    cJSON *list = array_in(bench, "mounts");
    for (int i = 0; i < d->roles; i++)
        if (chance(d, p->built ? 97 : 88))
            draw_mount(d, p, order[i], next_object(list));
}

static void draw_conds(Draw *d, cJSON *parent, const char *name, int n) {
    cJSON *list = array_in(parent, name);
    for (int i = 0; i < n; i++)
        put_next(list, draw_cond(d));
}

static const cJSON *mount_of(const cJSON *bench, const char *role) {
    const cJSON *mount;
    cJSON_ArrayForEach(mount, get(bench, "mounts")) if (!strcmp(get(mount, "role")->valuestring,
                                                                role)) return mount;
    return NULL;
}

/* Whether the role hangs on the other, straight or through more; `depth` for tangled ones. */
static bool hangs_on(const cJSON *bench, const char *role, const char *other, int depth) {
    const cJSON *mount = mount_of(bench, role), *item;
    cJSON_ArrayForEach(item,
                       get(mount, "on")) if (!strcmp(item->valuestring, other) ||
                                             (depth && hangs_on(bench, item->valuestring, other,
                                                                depth - 1))) return true;
    cJSON_ArrayForEach(item, get(mount, "sites")) {
        const char *of = get(item, "of")->valuestring;
        if (!strcmp(of, other) || (depth && hangs_on(bench, of, other, depth - 1)))
            return true;
    }
    return false;
}

/* What rides may cover only what rides beside it, as a cooler does on a board: what else it
 * covered could come off neither before nor after it. */
static bool may_cover(const Draw *d, const cJSON *bench, const char *role, const char *over) {
    bool top = cJSON_IsTrue(get(mount_of(bench, role), "rides"));
    bool under = cJSON_IsTrue(get(mount_of(bench, over), "rides"));
    return !top || (under && !hangs_on(bench, role, over, d->roles));
}

static void draw_covers(Draw *d, const Plan *p, cJSON *bench) {
    cJSON *list = array_in(bench, "covers");
    for (int i = between(d, 0, 6); i > 0; i--) {
        int place = between(d, 1, d->roles - 1);
        const char *role = d->role[p->order[place]].id;
        const char *over = role_before(d, p, place, p->wild);
        if (!strcmp(over, role) || (!p->wild && !may_cover(d, bench, role, over)))
            continue;
        cJSON *json = next_object(list);
        text_in(json, "role", role);
        text_in(json, "over", over);
        if (chance(d, 45))
            draw_conds(d, json, "when", between(d, 1, 2));
    }
}

/* ---- steps ---- */

static int free_task(Draw *d, Plan *p) {
    int task = d->tasks ? below(d, d->tasks) : -1;
    if (task < 0 || p->task_used[task])
        return -1;
    p->task_used[task] = true;
    return task;
}

static const char *free_charge(Draw *d, Plan *p) {
    const cJSON *list = get(d->charges_file, "charges");
    int n = cJSON_GetArraySize(list), at = below(d, n);
    if (!n || p->charge_used[at])
        return NULL;
    p->charge_used[at] = true;
    return get(item_of(list, at), "id")->valuestring;
}

/* Whose step it is: a task's, a charge's or nobody's, which states minutes of its own. */
static void draw_owner(Draw *d, Plan *p, cJSON *json) {
    int what = below(d, 10), task = what < 4 ? free_task(d, p) : -1;
    const char *charge = what >= 4 && what < 6 ? free_charge(d, p) : NULL;
    if (task >= 0)
        text_in(json, "task", d->task[task]);
    else if (charge)
        text_in(json, "charge", charge);
    else if (chance(d, 75))
        number_in(json, "minutes", between(d, 0, 4) * 3);
    if (chance(d, 25))
        number_in(json, "alone_minutes", between(d, 0, 3) * 45);
}

static void draw_when(Draw *d, cJSON *json) {
    if (chance(d, 45))
        draw_conds(d, json, "any", between(d, 1, 3));
    if (chance(d, 20))
        draw_conds(d, json, "all", between(d, 1, 2));
    if (chance(d, 20))
        draw_conds(d, json, "was", 1);
}

static void name_roles(Draw *d, cJSON *json, const char *name) {
    cJSON *list = array_in(json, name);
    for (int i = chance(d, 75) ? 1 : 2; i > 0; i--)
        text_once(list, d->role[below(d, d->roles)].id);
}

static void draw_action_ref(Draw *d, cJSON *list, const char *what) {
    char text[ID + 8];
    snprintf(text, sizeof text, "%s:%s", what,
             chance(d, 25) ? "*" : d->role[below(d, d->roles)].id);
    text_once(list, text);
}

/* Other steps that the hidden order puts before it, or after it. */
static void draw_step_refs(Draw *d, const Plan *p, int step, cJSON *list, bool after) {
    for (int i = 0; i < p->steps; i++) {
        bool earlier = p->rank[i] < p->rank[step];
        if (i != step && (earlier == after || (p->wild && chance(d, 10))) && chance(d, 25))
            text_once(list, p->step[i]);
    }
}

static cJSON *refs_of(cJSON *json, const char *name) {
    cJSON *list = get(json, name);
    return list ? list : array_in(json, name);
}

static void drop_empty(cJSON *json, const char *name) {
    if (!cJSON_GetArraySize(get(json, name)))
        cJSON_DeleteItemFromObjectCaseSensitive(json, name);
}

static void draw_refs(Draw *d, const Plan *p, int step, cJSON *json) {
    Phase phase = p->wild ? (Phase)below(d, 3) : p->phase[step];
    if (chance(d, 40))
        draw_step_refs(d, p, step, refs_of(json, "after"), true);
    if (chance(d, 40))
        draw_step_refs(d, p, step, refs_of(json, "before"), false);
    /* In another stage they ask nothing. */
    if (phase == EARLY && chance(d, 60))
        draw_action_ref(d, refs_of(json, "before"), chance(d, 75) ? "off" : "on");
    if (phase != EARLY && chance(d, 60))
        draw_action_ref(d, refs_of(json, "after"), phase == LATE ? "on" : "off");
    if (phase == AMID && chance(d, 60))
        draw_action_ref(d, refs_of(json, "before"), "on");
    drop_empty(json, "after");
    drop_empty(json, "before");
}

static void draw_step(Draw *d, Plan *p, int step, cJSON *json) {
    bool machine = p->stage_of[step] == p->machine;
    text_in(json, "step", p->step[step]);
    text_in(json, "stage", p->stage[p->stage_of[step]]);
    draw_owner(d, p, json);
    draw_when(d, json);
    words_in(d, json, "words", "Do it.");
    if (machine && (p->phase[step] == AMID || p->wild) && chance(d, 40))
        name_roles(d, json, "lifts");
    if (machine && (p->phase[step] == AMID || p->wild) && chance(d, 45))
        name_roles(d, json, "reaches");
    draw_refs(d, p, step, json);
    if (chance(d, 20))
        words_in(d, json, "caution", "Take care.");
    text_in(json, "source", "dice");
}

static void draw_steps(Draw *d, Plan *p, cJSON *bench) {
    static const char *const ids[MOST_STEPS] = {"paste", "a-step", "0-step", "zz", "b2",
                                                "b10",   "b-1",    "off",    "on"};
    cJSON *list = array_in(bench, "steps");
    p->steps = between(d, 0, MOST_STEPS);
    shuffle(d, p->rank, p->steps);
    for (int i = 0; i < p->steps; i++) {
        snprintf(p->step[i], ID, "%s", ids[i]);
        p->stage_of[i] = chance(d, 65) ? p->machine : below(d, p->stages);
        p->phase[i] = (Phase)(3 * p->rank[i] / p->steps);
    }
    for (int i = 0; i < p->steps; i++)
        draw_step(d, p, i, next_object(list));
}

/* ---- what is told beside ---- */

static void draw_leads(Draw *d, cJSON *bench) {
    const cJSON *rules = get(d->rules_file, "rules"), *rule;
    cJSON *list = array_in(bench, "leads");
    bool backwards = chance(d, 30);
    for (int i = 0, n = cJSON_GetArraySize(rules); i < n; i++) {
        rule = item_of(rules, backwards ? n - 1 - i : i);
        const char *shape = get(rule, "shape")->valuestring;
        if ((!strcmp(shape, "within") || !strcmp(shape, "supply")) && chance(d, 75))
            text_next(list, get(rule, "id")->valuestring);
    }
}

static void draw_files(Draw *d, cJSON *bench) {
    cJSON *list = array_in(bench, "files");
    for (int i = between(d, 0, 2); i > 0; i--)
        text_once(list, d->role[below(d, d->roles)].id);
    text_in(bench, "wiping", "What is on it is wiped, or goes back with it.");
}

/* A number known so well, or a fact as it is, or both together. */
static cJSON *draw_limit(Draw *d) {
    int role = below(d, d->roles), fact = fact_on(d, role, NUMBER);
    char text[2 * ID + 32];
    cJSON *json = object();
    if (chance(d, 40)) {
        cJSON *about = array_in(json, "about");
        for (int i = 0; i < 3; i++)
            put_next(about, cJSON_CreateNumber(70 + 5 * i));
        return json;
    }
    cJSON_Delete(json);
    if (fact < 0 || chance(d, 30))
        return must(cJSON_CreateNumber(between(d, 0, 9) * 10));
    snprintf(text, sizeof text, "%s.%s", d->role[role].id, d->fact[fact].name);
    if (chance(d, 60))
        return must(cJSON_CreateString(text));
    json = object();
    cJSON *sum = array_in(json, "sum");
    text_next(sum, text);
    put_next(sum, cJSON_CreateNumber(2.5));
    return json;
}

static void draw_of(Draw *d, cJSON *json, bool rates) {
    static const double within[] = {0, 0.05, 0.1, 0.5, 2};
    cJSON *of = object_in(json, "of");
    int what = below(d, 4);
    if (rates && what < 2) {
        flag_in(of, "rates", true);
        text_in(json, "scale", chance(d, 50) ? "ratio" : "difference");
        number_in(json, "within", within[below(d, 5)]);
        text_in(json, "better", "more");
    } else if (what < 3) {
        put_in(of, chance(d, 50) ? "most" : "least", draw_limit(d));
        text_in(of, "unit", "W");
        number_in(of, "digits", below(d, 3));
    } else {
        flag_in(of, "done", true);
    }
}

static void draw_checks(Draw *d, cJSON *bench) {
    static const char *const ids[] = {"memory-test", "a-check", "0-check", "rates", "drives"};
    cJSON *list = array_in(bench, "checks");
    for (int i = between(d, 0, 5); i > 0; i--) {
        cJSON *json = next_object(list);
        text_in(json, "check", ids[i - 1]);
        text_in(json, "name", "A check");
        draw_of(d, json, d->speed);
        if (chance(d, 40))
            draw_conds(d, json, "any", between(d, 1, 2));
        words_in(d, json, "words", "See that it is so.");
        if (chance(d, 60))
            number_in(json, "minutes", between(d, 0, 3) * 5);
        if (chance(d, 30))
            number_in(json, "alone_minutes", 480);
        if (chance(d, 40))
            text_in(json, "fails", "Look again.");
        text_in(json, "source", "dice");
    }
}

static void draw_call(Draw *d, cJSON *bench) {
    cJSON *call = object_in(bench, "call");
    if (chance(d, 70))
        number_in(call, "after_days", between(d, 1, 30));
    cJSON *list = array_in(call, "asks");
    for (int i = between(d, 0, 3); i > 0; i--) {
        char words[32];
        cJSON *json = next_object(list);
        if (chance(d, 60))
            draw_conds(d, json, "any", between(d, 1, 2));
        snprintf(words, sizeof words, "Question %d?", i);
        text_in(json, "words", words);
    }
}

/* ---- more that changes at once ---- */

static bool is_kept(const Draw *d, int role) {
    const cJSON *keep, *piece;
    const cJSON *pieces = get(get(d->scenario, "machine"), d->role[role].id);
    cJSON_ArrayForEach(keep, get(get(d->scenario, "wishes"), "keep")) {
        if (!strcmp(keep->valuestring, d->role[role].id))
            return true;
        cJSON_ArrayForEach(piece, pieces) if (!strcmp(keep->valuestring,
                                                      get(piece, "part")->valuestring)) return true;
    }
    return false;
}

static bool has_listing(const Draw *d, int role) {
    for (int i = 0; i < d->parts; i++)
        if (d->part[i].role == role && d->part[i].listings)
            return true;
    return false;
}

static void allow_much(Draw *d) {
    cJSON *rule, *budget = get(d->scenario, "budget");
    cJSON_ArrayForEach(rule, get(d->rules_file, "rules")) if (chance(d, 75)) {
        cJSON_ReplaceItemInObjectCaseSensitive(rule, "level", must(cJSON_CreateString("caution")));
        cJSON_DeleteItemFromObjectCaseSensitive(rule, "bends");
    }
    cJSON_DeleteItemFromObjectCaseSensitive(get(d->scenario, "wishes"), "limits");
    cJSON_DeleteItemFromObjectCaseSensitive(budget, "total");
    money_in(d, budget, "total", 90000);
}

/* What the client wants replaced; much hangs on what goes. */
static void draw_turnover(Draw *d, const Plan *p) {
    cJSON *wishes = get(d->scenario, "wishes"), *replace = get(wishes, "replace");
    if (!chance(d, 65))
        return;
    allow_much(d);
    for (int i = between(d, 1, 3); i > 0; i--) {
        int role = p->built && chance(d, 50) ? p->order[1] : below(d, d->roles);
        if (!d->role[role].held || is_kept(d, role) || !has_listing(d, role))
            continue;
        replace = replace ? replace : array_in(wishes, "replace");
        text_once(replace, d->role[role].id);
    }
}

void draw_bench(Draw *d, uint64_t seed) {
    Plan p = {.wild = false};
    d->state = seed * UINT64_C(0x9FB21C651E98DF25) + 5;
    shuffle(d, p.order, d->roles);
    p.wild = chance(d, 10);
    p.tangled = chance(d, 3);
    p.built = chance(d, 45);
    draw_turnover(d, &p);
    if (chance(d, 4))
        return;
    cJSON *bench = d->bench_file = object();
    number_in(bench, "schema", 1);
    draw_stages(d, &p, bench);
    draw_mounts(d, &p, bench);
    if (chance(d, 85))
        draw_covers(d, &p, bench);
    if (chance(d, 92))
        draw_steps(d, &p, bench);
    if (chance(d, 80))
        draw_leads(d, bench);
    if (chance(d, 60))
        draw_files(d, bench);
    if (chance(d, 75))
        draw_checks(d, bench);
    if (chance(d, 60))
        draw_call(d, bench);
}
