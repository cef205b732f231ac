/*
 * The work for one bundle: reads the bundle's machine and the catalog's bench.json, and says
 * which steps are there.
 */
#include "work.h"

#include "options.h"

#include <string.h>

static const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

const cJSON *in_bench(const Work *k, const char *name) { return get(k->bench, name); }

/* ---- the bundle's machine ---- */

static void take_part(World *w, int role, const cJSON *json, int *kept, Line *line, int *lines) {
    const Role *r = &w->role[role];
    const char *part = text_of(json, "part", "");
    int count = (int)number_of(json, "count", 1);
    if (cJSON_IsTrue(get(json, "added"))) {
        Listing *l = hold(w, sizeof *l);
        *l = (Listing){.part = find_part(w, part), .seller = w->sellers - 1};
        if (l->part < 0 || *lines == 2)
            stop(2, "%s cannot be added", part);
        line[(*lines)++] = (Line){l, count};
        return;
    }
    for (int i = 0; i < r->presents; i++)
        if (!strcmp(r->present[i].id, part)) {
            if (count > r->present[i].count)
                stop(2, "%s: more pieces stay than there are", part);
            kept[i] = count;
            return;
        }
    stop(2, "%s is not there today", part);
}

static const Choice *choice_of(World *w, int role, const cJSON *json) {
    Line line[2];
    int lines = 0, *kept = hold(w, (size_t)w->role[role].presents * sizeof *kept);
    const cJSON *item;
    Choice *c = hold(w, sizeof *c);
    cJSON_ArrayForEach(item, get(json, "parts")) take_part(w, role, item, kept, line, &lines);
    *c = fit_out(w, role, kept, line, lines);
    c->task = hold(w, (size_t)w->tasks * sizeof *c->task);
    for (int t = 0; t < w->tasks; t++)
        cJSON_ArrayForEach(item, get(json, "tasks")) if (!strcmp(item->valuestring, w->task[t].id))
            c->task[c->tasks++] = t;
    if (c->tasks != cJSON_GetArraySize(get(json, "tasks")))
        stop(2, "a task that there is not, or one twice");
    settle(w, c);
    return c;
}

/* What is not named holds nothing. */
static Machine read_machine(World *w, const cJSON *list) {
    const cJSON *json, *mine;
    Machine m = {hold(w, (size_t)w->roles * sizeof *m.at)};
    for (int r = 0; r < w->roles; r++) {
        mine = NULL;
        cJSON_ArrayForEach(json, list) if (!strcmp(text_of(json, "role", ""), w->role[r].id)) mine =
            json;
        m.at[r] = choice_of(w, r, mine);
    }
    return m;
}

/* ---- bench.json ---- */

const char *stage_name(const Work *k, int stage) {
    const cJSON *list = in_bench(k, "stages");
    return list ? text_of(cJSON_GetArrayItem(list, stage), "stage", "") : "work";
}

static void read_stages(Work *k) {
    const cJSON *json;
    int at = 0;
    k->stages = k->bench ? cJSON_GetArraySize(in_bench(k, "stages")) : 1;
    cJSON_ArrayForEach(json, in_bench(k, "stages")) {
        if (cJSON_IsTrue(get(json, "machine")))
            k->machine_stage = at;
        at++;
    }
}

static int find_stage(const Work *k, const char *id) {
    for (int i = 0; i < k->stages; i++)
        if (!strcmp(stage_name(k, i), id))
            return i;
    stop(2, "no stage %s", id);
}

static void read_mounts(Work *k) {
    const cJSON *json;
    int place = 0;
    k->mount = hold(k->w, (size_t)k->w->roles * sizeof *k->mount);
    cJSON_ArrayForEach(json, in_bench(k, "mounts"))
        k->mount[find_role(k->w, text_of(json, "role", ""))] = (Mount){json, place++};
}

static bool names_role(const Work *k, int role, int other) {
    const cJSON *json;
    const char *id = k->w->role[other].id;
    cJSON_ArrayForEach(
        json, get(k->mount[role].json, "on")) if (!strcmp(json->valuestring, id)) return true;
    cJSON_ArrayForEach(json, get(k->mount[role].json, "sites")) if (!strcmp(text_of(json, "of", ""),
                                                                            id)) return true;
    return false;
}

/* Marks what the role hangs on, straight or through others. */
static void mark_under(const Work *k, int role, bool *under) {
    for (int r = 0; r < k->w->roles; r++)
        if (names_role(k, role, r) && !under[r]) {
            under[r] = true;
            mark_under(k, r, under);
        }
}

static bool hangs_on_itself(const Work *k) {
    for (int r = 0; r < k->w->roles; r++) {
        bool *under = hold(k->w, (size_t)k->w->roles * sizeof *under);
        mark_under(k, r, under);
        if (under[r])
            return true;
    }
    return false;
}

static Truth ask_json(const Work *k, const cJSON *cond, const Machine *m) {
    return ask(k->w, read_cond(k->w, cond), m);
}

bool any_may(const Work *k, const cJSON *conds, const Machine *m) {
    const cJSON *cond;
    cJSON_ArrayForEach(cond, conds) if (ask_json(k, cond, m) != NO) return true;
    return false;
}

bool all_may(const Work *k, const cJSON *conds, const Machine *m) {
    const cJSON *cond;
    cJSON_ArrayForEach(cond, conds) if (ask_json(k, cond, m) == NO) return false;
    return true;
}

bool is_asked(const Work *k, const cJSON *json) {
    return !get(json, "any") || any_may(k, get(json, "any"), &k->m);
}

static void read_covers(Work *k) {
    const cJSON *list = in_bench(k, "covers"), *json;
    k->cover = hold(k->w, (size_t)cJSON_GetArraySize(list) * sizeof *k->cover);
    cJSON_ArrayForEach(json, list) k->cover[k->covers++] = (Cover){
        find_role(k->w, text_of(json, "role", "")), find_role(k->w, text_of(json, "over", "")),
        all_may(k, get(json, "when"), &k->o), all_may(k, get(json, "when"), &k->m)};
}

/* ---- steps ---- */

static bool is_done(const Work *k, int task) {
    const Choice *c = k->m.at[k->w->task[task].role];
    for (int i = 0; i < c->tasks; i++)
        if (c->task[i] == task)
            return true;
    return false;
}

bool charge_is_due(const Work *k, int charge) {
    const Conds *any = &k->w->charge[charge].any;
    for (int i = 0; i < any->n; i++)
        if (ask(k->w, &any->at[i], &k->m) != NO)
            return true;
    return false;
}

static int find_charge(const World *w, const char *id) {
    for (int i = 0; i < w->charges; i++)
        if (!strcmp(w->charge[i].id, id))
            return i;
    stop(2, "no charge %s", id);
}

static void time_step(const World *w, Chore *s) {
    if (s->task >= 0)
        s->minutes = w->task[s->task].minutes;
    else if (s->charge >= 0)
        s->minutes = w->charge[s->charge].minutes;
}

static Chore read_step(const Work *k, const cJSON *json) {
    const char *task = text_of(json, "task", NULL), *charge = text_of(json, "charge", NULL);
    Chore s = {.id = text_of(json, "step", ""), .json = json, .task = -1, .charge = -1};
    s.stage = find_stage(k, text_of(json, "stage", ""));
    s.minutes = number_of(json, "minutes", 0);
    s.alone = number_of(json, "alone_minutes", 0);
    if (task)
        s.task = find_task(k->w, task);
    if (charge)
        s.charge = find_charge(k->w, charge);
    time_step(k->w, &s);
    s.there = k->changes && is_asked(k, json) && all_may(k, get(json, "all"), &k->m) &&
              all_may(k, get(json, "was"), &k->o) && (s.task < 0 || is_done(k, s.task)) &&
              (s.charge < 0 || charge_is_due(k, s.charge));
    return s;
}

/* All of its minutes are to be somewhere: a step that is not there stands for nothing. */
static bool has_step(const Work *k, int task, int charge) {
    for (int i = 0; i < k->steps; i++)
        if (k->step[i].there && k->step[i].task == task && k->step[i].charge == charge)
            return true;
    return false;
}

static void add_step(Work *k, int task, int charge, int stage) {
    Chore s = {.task = task, .charge = charge, .stage = stage, .there = true};
    time_step(k->w, &s);
    k->step[k->steps++] = s;
}

static void add_charges(Work *k) {
    for (int i = 0; i < k->w->charges; i++) /* in the order of their file */
        if (k->w->charge[i].minutes && charge_is_due(k, i) && !has_step(k, -1, i))
            add_step(k, -1, i, k->stages - 1);
}

static void read_steps(Work *k) {
    const cJSON *list = in_bench(k, "steps"), *json;
    int room = cJSON_GetArraySize(list) + k->w->tasks + k->w->charges;
    k->step = hold(k->w, (size_t)room * sizeof *k->step);
    cJSON_ArrayForEach(json, list) k->step[k->steps++] = read_step(k, json);
    for (int t = 0; t < k->w->tasks; t++) /* these are in byte order */
        if (is_done(k, t) && !has_step(k, t, -1))
            add_step(k, t, -1, k->machine_stage);
    add_charges(k);
}

int answer_work(World *w, const char *machine) {
    make_todays(w);
    Work k = {.w = w, .o = machine_today(w)};
    k.m = read_machine(w, need(open_json(w, machine), "machine"));
    k.bench = open_maybe(w, "bench.json");
    for (int r = 0; r < w->roles; r++)
        k.changes = k.changes || k.m.at[r]->changed || k.m.at[r]->tasks;
    read_stages(&k);
    read_mounts(&k);
    k.circular = hangs_on_itself(&k);
    read_covers(&k);
    read_steps(&k);
    list_items(&k);
    touch(&k);
    order_work(&k);
    print_work(&k);
    return k.circular ? 65 : 0;
}
