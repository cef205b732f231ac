/*
 * A drawn job that counts quiet, given more to hear: declared sound power, sources
 * that never slow down, tones, fans that turn as the heat asks, the distance, a
 * measured level. Drawn after all else, so that the rest of a seed stays what it is.
 */
#include "generate.h"

#include <stdio.h>
#include <string.h>

enum { HEAT, COOLING, LEAST_SPEED, DECLARED, STEADY, TONE, HEARD };

typedef struct Heard { /* the facts of sound that a job has */
    Fact fact[HEARD];
    bool there[HEARD];
    cJSON *runs;
    int running[2], by[2]; /* roles */
    int n;
} Heard;

static const Fact vocabulary[HEARD] = {
    [HEAT] = {.name = "heat_w",
              .values = {"35", "65", "95", "125", "170"},
              .least = -500,
              .most = 5000},
    [COOLING] = {.name = "cooling_w",
                 .values = {"65", "95", "130", "180", "250"},
                 .least = -500,
                 .most = 5000},
    [LEAST_SPEED] = {.name = "least_speed", .values = {"0", "0.2", "0.3", "0.5", "0.8"}, .most = 1},
    [DECLARED] = {.name = "sound_power_dba",
                  .values = {"28", "33", "36.5", "41", "48"},
                  .least = -20,
                  .most = 90},
    [STEADY] = {.name = "pump_dba", .values = {"12", "18", "22.5", "30"}, .least = -20, .most = 90},
    [TONE] = {.name = "tone_db", .values = {"0", "1.5", "3", "6"}, .least = -30, .most = 90},
};

/* In close jobs these stand in: a step of the level or none lies between them. */
static const char *const close_calls[HEARD][5] = {
    [HEAT] = {"95", "95.5", "96", "97.25"},   [COOLING] = {"130", "130.001", "131", "133"},
    [LEAST_SPEED] = {"0.5", "0.501", "0.51"}, [DECLARED] = {"33", "33.001", "33.002", "33.25"},
    [STEADY] = {"20", "20.001", "20.5"},      [TONE] = {"0", "0.001", "0.25", "0.5"},
};

static cJSON *get(const cJSON *json, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(json, name);
}

static cJSON *number(const char *text) { return must(cJSON_CreateNumber(read_number(text))); }

static int role_named(const Draw *d, const char *id) {
    for (int r = 0; r < d->roles; r++)
        if (!strcmp(d->role[r].id, id))
            return r;
    return -1;
}

static bool stands_on(const Draw *d, const char *fact, int role) {
    for (int i = 0; i < d->facts; i++)
        if (!strcmp(d->fact[i].name, fact))
            return d->fact[i].on[role];
    return false;
}

static void term_in(const Draw *d, cJSON *json, const char *name, int role, const char *fact) {
    char text[96];
    snprintf(text, sizeof text, "%s.%s", d->role[role].id, fact);
    text_in(json, name, text);
}

/* ---- which roles run, and by whose heat ---- */

static int role_to_run(Draw *d, const Heard *h) {
    int role = below(d, d->roles);
    for (int tries = 0; tries < 60; tries++, role = below(d, d->roles)) {
        bool taken = h->n > 0 && h->running[0] == role;
        if (!taken && (tries >= 40 || (d->role[role].held && stands_on(d, "noise_dba", role))))
            return role;
    }
    return -1;
}

/* Better one whose work may change the heat. */
static int role_of_heat(Draw *d, int running) {
    int role = running;
    if (chance(d, 20))
        return role;
    for (int tries = 0; tries < 40; tries++) {
        role = below(d, d->roles);
        if (role != running && d->role[role].held && (tries > 15 || d->role[role].tasks))
            return role;
    }
    return role;
}

/* A derived number of one role, or the fact that it is made of. */
static void derive(Draw *d, const char *name, int role, const char *of, bool times) {
    char text[96];
    cJSON *json = next_object(get(d->facts_file, "derived"));
    text_in(json, "fact", name);
    text_in(json, "role", d->role[role].id);
    cJSON *list = array_in(object_in(json, "is"), times ? "product" : "sum");
    snprintf(text, sizeof text, "%s.%s", d->role[role].id, of);
    text_next(list, text);
    put_next(list, number(times ? "1.2" : "15.5"));
    text_in(json, "meaning", "random");
    text_in(json, "source", "dice");
}

static const char *heat_term(Draw *d, Heard *h, int role) {
    static const char *const names[] = {"drawn_w", "drawn_too_w"};
    const char *name = names[h->n];
    h->there[HEAT] = h->fact[HEAT].on[role] = true;
    if (!chance(d, 20))
        return "heat_w";
    derive(d, name, role, "heat_w", chance(d, 50));
    return name;
}

static const char *cooling_term(Draw *d, Heard *h, int role) {
    static const char *const names[] = {"carried_w", "carried_too_w"};
    const char *name = names[h->n];
    h->there[COOLING] = h->fact[COOLING].on[role] = true;
    if (!chance(d, 15))
        return "cooling_w";
    derive(d, name, role, "cooling_w", chance(d, 50));
    return name;
}

static void draw_run(Draw *d, Heard *h) {
    int role = role_to_run(d, h);
    if (role < 0)
        return;
    int by =
        h->n && chance(d, 50) ? (chance(d, 50) ? h->by[0] : h->running[0]) : role_of_heat(d, role);
    int busy = chance(d, 85) ? by : below(d, d->roles);
    /* What rules and tasks know of already. */
    bool old = stands_on(d, "load_w", by) && stands_on(d, "supply_w", role) && chance(d, 25);
    cJSON *json = next_object(h->runs);
    text_in(json, "role", d->role[role].id);
    term_in(d, json, "by", by, old ? "load_w" : heat_term(d, h, by));
    text_in(json, "busy", d->role[busy].id);
    term_in(d, json, "full", role, old ? "supply_w" : cooling_term(d, h, role));
    h->there[LEAST_SPEED] = h->fact[LEAST_SPEED].on[role] = true;
    term_in(d, json, "least", role, "least_speed");
    h->running[h->n] = role;
    h->by[h->n++] = by;
}

/* ---- the facts and where they stand ---- */

static const char *way_to_combine(Draw *d, int which) {
    static const char *const sums[] = {"sum", "most"}, *const lows[] = {"sum", "least"};
    if (which == DECLARED || which == STEADY)
        return "power";
    return one_of(d, 2, which == COOLING ? lows : sums);
}

static void write_fact(Draw *d, Fact *f, int which) {
    cJSON *json = next_object(get(d->facts_file, "facts"));
    bool power = which == DECLARED || which == STEADY;
    text_in(json, "fact", f->name);
    text_in(json, "type", "number");
    cJSON *roles = array_in(json, "roles");
    for (int r = 0; r < d->roles; r++)
        if (f->on[r])
            text_next(roles, d->role[r].id);
    text_in(json, "combine", which == LEAST_SPEED ? "most" : way_to_combine(d, which));
    if (which == DECLARED)
        text_in(json, "quantity", "power");
    else if (power && chance(d, 40))
        text_in(json, "quantity", "pressure");
    number_in(json, "least", f->least);
    number_in(json, "most", f->most);
    f->absent = chance(d, power ? 75 : 20);
    if (f->absent && power)
        text_in(json, "absent", "silent");
    else if (f->absent)
        put_in(json, "absent", draw_value(d, f));
    text_in(json, "meaning", "random");
    text_in(json, "source", "dice");
}

static void draw_where(Draw *d, Heard *h) {
    for (int i = 0; i < HEARD; i++) {
        Fact *f = &h->fact[i];
        if (!h->there[i])
            continue;
        for (int r = 0; r < d->roles; r++)
            f->on[r] = f->on[r] || chance(d, i == LEAST_SPEED ? 10 : 35);
        if (i == TONE && h->n)
            f->on[h->running[0]] = true;
        f->on[below(d, d->roles)] = true;
        write_fact(d, f, i);
    }
}

static bool stands_today(const Draw *d, const char *part) {
    const cJSON *role, *json;
    cJSON_ArrayForEach(role, get(d->scenario, "machine")) cJSON_ArrayForEach(
        json, role) if (!strcmp(get(json, "part")->valuestring, part)) return true;
    return false;
}

static void state_facts(Draw *d, const Heard *h, cJSON *facts, int role, bool present) {
    for (int i = 0; i < HEARD; i++) {
        const Fact *f = &h->fact[i];
        bool sure = present && (i == DECLARED || i == STEADY) && !f->absent;
        int percent = i == LEAST_SPEED || i == TONE ? 80 : f->absent ? 60 : 95;
        if (h->there[i] && f->on[role] && (sure || chance(d, percent)))
            put_in(facts, f->name, draw_value(d, f));
    }
}

/* A present piece of the catalog: some facts of its own. */
static void state_otherwise(Draw *d, const Heard *h, cJSON *piece, int role) {
    for (int i = 0; i < HEARD; i++) {
        if (!h->there[i] || !h->fact[i].on[role] || !chance(d, 8))
            continue;
        cJSON *facts = get(piece, "facts");
        put_in(facts ? facts : object_in(piece, "facts"), h->fact[i].name,
               draw_value(d, &h->fact[i]));
    }
}

static void state_all(Draw *d, const Heard *h) {
    cJSON *list, *json;
    cJSON_ArrayForEach(json, get(d->parts_file, "parts"))
        state_facts(d, h, get(json, "facts"), role_named(d, get(json, "role")->valuestring),
                    stands_today(d, get(json, "id")->valuestring));
    cJSON_ArrayForEach(list, get(d->scenario, "machine")) cJSON_ArrayForEach(json, list) {
        if (get(json, "name"))
            state_facts(d, h, get(json, "facts"), role_named(d, list->string), true);
        else
            state_otherwise(d, h, json, role_named(d, list->string));
    }
    cJSON_ArrayForEach(json, get(d->scenario, "given")) if (get(json, "role"))
        state_facts(d, h, get(json, "facts"), role_named(d, get(json, "role")->valuestring), false);
}

/* ---- work, rules, uses ---- */

static void draw_effect(Draw *d, cJSON *effects, const Fact *f, int which) {
    static const char *const adds[HEARD] = {"-20", "25", "0", "-3.5", "2", "-1.5"};
    static const char *const times[HEARD] = {"0.85", "1.2", "0.85", "1", "1", "0.5"};
    cJSON *effect = next_object(effects);
    text_in(effect, "fact", f->name);
    int what = below(d, 3);
    if (what == 0 || (which == LEAST_SPEED && what == 1))
        put_in(effect, "set", draw_value(d, f));
    else
        put_in(effect, what == 1 ? "add" : "times", number((what == 1 ? adds : times)[which]));
}

static void draw_effects(Draw *d, const Heard *h) {
    cJSON *json;
    cJSON_ArrayForEach(json, get(d->tasks_file, "tasks")) {
        int role = role_named(d, get(json, "role")->valuestring);
        for (int i = 0; i < HEARD; i++)
            if (h->there[i] && h->fact[i].on[role] && chance(d, i <= COOLING ? 60 : 25))
                draw_effect(d, get(json, "effects"), &h->fact[i], i);
    }
}

static cJSON *start_rule(Draw *d, const char *id, const char *shape) {
    cJSON *json = next_object(get(d->rules_file, "rules"));
    text_in(json, "id", id);
    text_in(json, "shape", shape);
    text_in(json, "level", chance(d, 60) ? "hard" : "caution");
    text_in(json, "client", "This does not go together.");
    text_in(json, "bench", "See the rule.");
    text_in(json, "source", "dice");
    return json;
}

static int role_with(Draw *d, const Fact *f) {
    int role = below(d, d->roles);
    while (!f->on[role])
        role = (role + 1) % d->roles;
    return role;
}

static void draw_rules_of_sound(Draw *d, const Heard *h) {
    if (h->there[HEAT] && h->there[COOLING] && chance(d, 25)) {
        cJSON *json = start_rule(d, "sound-heat", "within");
        term_in(d, json, "need", role_with(d, &h->fact[HEAT]), "heat_w");
        term_in(d, json, "room", role_with(d, &h->fact[COOLING]), "cooling_w");
    }
    if (h->there[DECLARED] && chance(d, 25)) {
        cJSON *list = array_in(start_rule(d, "sound-declared", "clash"), "of");
        int role = role_with(d, &h->fact[DECLARED]);
        cJSON *cond = next_object(list);
        term_in(d, cond, "fact", role, "sound_power_dba");
        put_in(cond, "least", draw_value(d, &h->fact[DECLARED]));
        text_in(next_object(list), "changes",
                d->role[chance(d, 60) ? role : below(d, d->roles)].id);
    }
}

static bool is_asked(const cJSON *runs, const char *role) {
    const cJSON *run;
    cJSON_ArrayForEach(run, runs) if (!strcmp(get(run, "busy")->valuestring, role)) return true;
    return false;
}

/* Shares of full work; a role that is left out does none. */
static void draw_busy(Draw *d, const cJSON *runs) {
    static const double shares[] = {1, 0.9, 0.75, 0.6, 0.333, 0.05, 0};
    cJSON *use;
    cJSON_ArrayForEach(use, get(d->uses_file, "uses")) {
        if (!runs && !chance(d, 60))
            continue;
        cJSON *busy = object_in(use, "busy");
        for (int r = 0; r < d->roles; r++) {
            bool asked = is_asked(runs, d->role[r].id);
            if (chance(d, asked ? 90 : 40))
                number_in(busy, d->role[r].id, shares[below(d, asked && chance(d, 80) ? 5 : 7)]);
        }
    }
}

/* ---- the criterion and the room ---- */

static void draw_room(Draw *d) {
    static const double distances[] = {0.3, 0.5, 0.7, 1, 1.5, 2, 0.05, 10};
    static const double above[] = {3, 3.5, 5, 8, 12.5, 18, 25};
    cJSON *room = get(d->scenario, "room");
    if (!room)
        room = object_in(d->scenario, "room");
    if (chance(d, 55))
        number_in(room, "distance_m", distances[below(d, chance(d, 85) ? 6 : 8)]);
    double level = get(room, "level_dba") ? get(room, "level_dba")->valuedouble : 25;
    if (chance(d, 45))
        number_in(room, "machine_dba", level + above[below(d, 7)]);
}

static cJSON *quiet_criterion(const Draw *d) {
    cJSON *json;
    cJSON_ArrayForEach(
        json, get(d->criteria_file, "criteria")) if (!strcmp(get(json, "kind")->valuestring,
                                                             "quiet")) return json;
    return NULL;
}

static void draw_criterion(Draw *d, Heard *h, cJSON *json) {
    static const double metres[] = {0.5, 0.6, 1, 0.3, 2};
    static const char *const names[HEARD] = {
        [DECLARED] = "declared", [STEADY] = "steady", [TONE] = "tone"};
    if (chance(d, 55))
        number_in(json, "at_m", metres[below(d, 5)]);
    for (int i = DECLARED; i <= TONE; i++) {
        h->there[i] = chance(d, 55);
        if (h->there[i])
            text_in(json, names[i], h->fact[i].name);
    }
    if (!chance(d, 80))
        return;
    h->runs = array_in(json, "runs");
    draw_run(d, h);
    if (chance(d, 40))
        draw_run(d, h);
}

/* So that it is heard in the answer. */
static void favour(Draw *d, const char *id) {
    cJSON *swings = get(get(d->scenario, "wishes"), "swings");
    if (!swings || !chance(d, 65))
        return;
    cJSON_DeleteItemFromObjectCaseSensitive(swings, id);
    number_in(swings, id, between(d, 4, 10) * 20);
}

void draw_sound(Draw *d) {
    Heard h = {.n = 0};
    cJSON *json = chance(d, 85) ? quiet_criterion(d) : NULL;
    memcpy(h.fact, vocabulary, sizeof vocabulary);
    for (int i = 0; d->close && i < HEARD; i++)
        memcpy(h.fact[i].values, close_calls[i], sizeof close_calls[i]);
    if (json) {
        draw_criterion(d, &h, json);
        draw_where(d, &h);
        state_all(d, &h);
        draw_effects(d, &h);
        draw_rules_of_sound(d, &h);
        draw_room(d);
        favour(d, get(json, "id")->valuestring);
    }
    draw_busy(d, h.runs);
}
