/* Random expressions, conditions, derived facts, tasks, rules and charges. */
#include "generate.h"

#include <stdio.h>
#include <string.h>

static void term_text(const Draw *d, int role, int fact, char *out, size_t size) {
    snprintf(out, size, "%s.%s", role < 0 ? "*" : d->role[role].id,
             fact < 0 ? "pieces" : d->fact[fact].name);
}

static cJSON *term(const Draw *d, int role, int fact) {
    char text[96];
    term_text(d, role, fact, text, sizeof text);
    return must(cJSON_CreateString(text));
}

static cJSON *number(const char *text) { return must(cJSON_CreateNumber(read_number(text))); }

static int find_named(const Draw *d, const char *name) {
    for (int i = 0; i < d->facts; i++)
        if (!strcmp(d->fact[i].name, name))
            return i;
    return -1;
}

static cJSON *pace_leaf(Draw *d, int role) {
    int found[MAX_FACTS], n = 0;
    for (int i = 0; i < d->facts; i++)
        if (d->fact[i].on[role] && d->fact[i].pace)
            found[n++] = i;
    if (!n)
        return number("2");
    return term(d, role, found[below(d, n)]);
}

static cJSON *free_leaf(Draw *d, int role) {
    static const char *const numbers[] = {"-1", "0", "0.5", "1", "2", "10"};
    int what = below(d, 10), fact = fact_on(d, role, what < 7 ? NUMBER : FLAG);
    if (what == 9)
        return number(one_of(d, 6, numbers));
    return term(d, role, what == 8 ? -1 : fact);
}

static cJSON *draw_table(Draw *d, int role, int depth, bool pace) {
    cJSON *outer = object(), *table = object_in(outer, "table");
    int n = between(d, 1, 4), x = pace ? 1 : between(d, -2, 3);
    put_in(table, "of", draw_expression(d, role, depth - 1, pace));
    cJSON *at = array_in(table, "at"), *gives = array_in(table, "gives");
    for (int i = 0; i < n; i++) {
        put_next(at, cJSON_CreateNumber(x));
        put_next(gives, cJSON_CreateNumber(pace ? 2 * (i + 1) : between(d, -4, 30)));
        x += between(d, 1, 8);
    }
    return outer;
}

static cJSON *draw_pick(Draw *d, int role, bool pace) {
    static const char *const values[] = {"0.5", "1", "2", "4"};
    int fact = pace ? find_named(d, "tier") : fact_on(d, role, TOKEN);
    if (fact < 0 || !d->fact[fact].on[role])
        return pace ? pace_leaf(d, role) : free_leaf(d, role);
    cJSON *outer = object(), *pick = object_in(outer, "pick");
    put_in(pick, "of", term(d, role, fact));
    cJSON *from = object_in(pick, "from");
    for (int i = 0; i < 3; i++)
        if (i == 0 || chance(d, 70))
            put_in(from, d->fact[fact].values[i], number(one_of(d, 4, values)));
    put_in(pick, "else", number(one_of(d, 4, values)));
    return outer;
}

static cJSON *draw_many(Draw *d, int role, int depth, bool pace) {
    static const char *const ops[] = {"sum", "product", "least", "most"};
    const char *op = one_of(d, 4, ops);
    cJSON *outer = object(), *list = array_in(outer, op);
    int n = between(d, 1, 3);
    put_next(list, draw_expression(d, role, depth - 1, pace));
    for (int i = 1; i < n; i++) {
        if (pace && (!strcmp(op, "product") || chance(d, 40)))
            put_next(list, number(chance(d, 50) ? "0.5" : "3"));
        else
            put_next(list, draw_expression(d, role, depth - 1, pace));
    }
    return outer;
}

static cJSON *draw_log(Draw *d, int role, int depth, bool pace) {
    cJSON *outer = object();
    int plain = find_named(d, "pace_a");
    if (pace && d->fact[plain].on[role] && chance(d, 50)) {
        put_in(outer, "log2", term(d, role, plain));
        return outer;
    }
    if (!pace) {
        put_in(outer, "log2", draw_expression(d, role, depth - 1, false));
        return outer;
    }
    cJSON *list = array_in(object_in(outer, "log2"), "sum");
    put_next(list, draw_expression(d, role, depth - 1, true));
    put_next(list, number("1.5"));
    return outer;
}

static cJSON *draw_power(Draw *d, int role, int depth, bool pace) {
    static const char *const positive[] = {"0.5", "0.15", "1", "1.5"};
    static const char *const any[] = {"0.5", "2", "1", "-1", "0"};
    cJSON *outer = object(), *pair = array_in(outer, "power");
    put_next(pair, draw_expression(d, role, depth - 1, pace));
    put_next(pair, number(pace ? one_of(d, 4, positive) : one_of(d, 5, any)));
    return outer;
}

/* `pace`: positive, and known whenever the role's pace facts are. */
cJSON *draw_expression(Draw *d, int role, int depth, bool pace) {
    int what = depth <= 0 ? 0 : below(d, 10);
    if (pace && d->focus == RATES && chance(d, 30))
        what = 9;
    if (what < 2)
        return pace ? pace_leaf(d, role) : free_leaf(d, role);
    if (what < 6)
        return draw_many(d, role, depth, pace);
    if (what == 6)
        return draw_power(d, role, depth, pace);
    if (what == 7)
        return draw_table(d, role, depth, pace);
    return what == 8 ? draw_pick(d, role, pace) : draw_log(d, role, depth, pace);
}

static bool has_pace(const Draw *d, int role) {
    for (int i = 0; i < d->facts; i++)
        if (d->fact[i].on[role] && d->fact[i].pace)
            return true;
    return false;
}

void draw_derived(Draw *d) {
    static const char *const names[] = {"made_a", "made_b", "made_c", "made_d"};
    int n = between(d, 1, 4);
    for (int i = 0; i < n; i++) {
        int role = below(d, d->roles);
        bool pace = has_pace(d, role) && chance(d, 40);
        cJSON *json = next_object(cJSON_GetObjectItem(d->facts_file, "derived"));
        text_in(json, "fact", names[i]);
        text_in(json, "role", d->role[role].id);
        put_in(json, "is", draw_expression(d, role, between(d, 1, 3), pace));
        text_in(json, "meaning", "random");
        text_in(json, "source", "dice");
        Fact *f = &d->fact[d->facts++];
        *f = (Fact){.name = names[i], .type = DERIVED, .combine = "", .pace = pace};
        f->values[0] = "2";
        f->values[1] = "6";
        f->on[role] = true;
    }
}

static void draw_number_cond(Draw *d, cJSON *json, int fact) {
    static const char *const ops[] = {"least", "most", "least", "most", "is"};
    const Fact *f = &d->fact[fact];
    int n = 0;
    while (n < 8 && f->values[n])
        n++;
    const char *value = f->values[below(d, n)];
    put_in(json, one_of(d, 5, ops), number(value));
}

/* A condition on a fact of the role; something seen when it has none. */
static cJSON *draw_fact_cond(Draw *d, int role) {
    static const Type types[] = {NUMBER, NUMBER, NUMBER, TOKEN, LIST, FLAG, TOKEN};
    Type type = types[below(d, 7)];
    int fact = fact_on(d, role, type);
    if (fact < 0) {
        cJSON *other = object();
        text_in(other, "observed", "seen-1");
        return other;
    }
    cJSON *json = object();
    put_in(json, "fact", term(d, role, fact));
    const Fact *f = &d->fact[fact];
    if (type == NUMBER) {
        draw_number_cond(d, json, fact);
    } else if (type == FLAG) {
        flag_in(json, "is", chance(d, 50));
    } else if (type == TOKEN && chance(d, 50)) {
        text_in(json, "is", f->values[below(d, 3)]);
    } else if (chance(d, 50)) {
        text_in(json, "has", f->values[below(d, 3)]);
    } else {
        cJSON *list = array_in(json, "one_of");
        int first = below(d, 3);
        text_next(list, f->values[first]);
        if (chance(d, 50))
            text_next(list, f->values[(first + 1) % 3]);
    }
    return json;
}

static int catalog_part(Draw *d) {
    int part = below(d, d->parts);
    while (!d->part[part].catalog)
        part = below(d, d->parts);
    return part;
}

cJSON *draw_cond(Draw *d) {
    int what = below(d, 100), role = below(d, d->roles);
    if (what < 50)
        return draw_fact_cond(d, role);
    cJSON *json = object();
    if (what < 58 && d->tasks)
        text_in(json, "task", d->task[below(d, d->tasks)]);
    else if (what < 70)
        text_in(json, "changes", d->role[role].id);
    else if (what < 77)
        text_in(json, "holds", d->part[catalog_part(d)].id);
    else if (what < 83)
        text_in(json, "empty", d->role[role].id);
    else if (what < 88)
        text_in(json, "observed", chance(d, 50) ? "seen-1" : "seen-2");
    else
        put_in(json, "not", draw_cond(d));
    return json;
}

static void draw_conds(Draw *d, cJSON *parent, const char *name, int n) {
    cJSON *list = array_in(parent, name);
    for (int i = 0; i < n; i++)
        put_next(list, draw_cond(d));
}

void draw_observations(Draw *d) {
    d->observations_file = file_of("observations");
    for (int i = 1; i <= 2; i++) {
        cJSON *json = next_object(cJSON_GetObjectItem(d->observations_file, "observations"));
        text_in(json, "id", i == 1 ? "seen-1" : "seen-2");
        text_in(json, "meaning", "seen on the bench");
    }
}

static void draw_number_effect(Draw *d, cJSON *effect, int role, const Fact *f) {
    static const char *const times[] = {"0.85", "1.003", "1.5", "2", "2"};
    bool power = !strcmp(f->combine, "power");
    int what = below(d, 4), from = fact_on(d, role, NUMBER);
    const Fact *g = &d->fact[from];
    bool same = g->type == NUMBER && g->pace == f->pace && strcmp(g->combine, "power") != 0 &&
                g->least >= 0 && f->least >= 0 && g->most <= f->most;
    if (what == 0 && same && !power)
        text_in(effect, "set_from", g->name);
    else if (what <= 1)
        put_in(effect, "set", draw_value(d, f));
    else if (what == 2)
        put_in(effect, "add",
               number(f->pace         ? "1.5"
                      : power         ? "-3.5"
                      : chance(d, 70) ? "10"
                                      : "-1"));
    else
        put_in(effect, "times", number(one_of(d, 5, times)));
}

static void draw_effect(Draw *d, cJSON *effects, int role) {
    static const Type types[] = {NUMBER, NUMBER, NUMBER, TOKEN, LIST, FLAG};
    int fact = fact_on(d, role, types[below(d, 6)]);
    /* Better an effect that a criterion sees. */
    for (int i = 0; i < 3; i++) {
        static const char *const seen[] = {"noise_dba", "score_pt", "pace_a", "pace_b", "finish"};
        int better = find_named(d, one_of(d, 5, seen));
        if (chance(d, 35) && d->fact[better].on[role])
            fact = better;
    }
    if (fact < 0 || d->fact[fact].type == DERIVED)
        return;
    const Fact *f = &d->fact[fact];
    int other = fact_on(d, role, f->type);
    cJSON *effect = next_object(effects);
    text_in(effect, "fact", f->name);
    if (f->type == NUMBER)
        draw_number_effect(d, effect, role, f);
    else if (f->type != TOKEN && d->fact[other].type == f->type && chance(d, 40))
        text_in(effect, "set_from", d->fact[other].name);
    else
        put_in(effect, "set", draw_value(d, f));
}

static void draw_task(Draw *d, int role) {
    static const char *const ids[] = {"tune", "tune-2", "t10", "t2", "wipe", "wash"};
    char family[2 * ID];
    cJSON *json = next_object(cJSON_GetObjectItem(d->tasks_file, "tasks"));
    snprintf(d->task[d->tasks], ID, "%s", ids[d->tasks]);
    d->task_role[d->tasks] = role;
    text_in(json, "id", d->task[d->tasks++]);
    text_in(json, "name", "a task");
    text_in(json, "role", d->role[role].id);
    text_in(json, "applies_to", chance(d, 60) ? "kept" : "any");
    snprintf(family, sizeof family, "family-%s", d->role[role].id);
    if (chance(d, 50))
        text_in(json, "family", family);
    number_in(json, "minutes", chance(d, 40) ? 0 : between(d, 1, 4) * 5);
    if (chance(d, 40))
        money_in(d, json, "price", between(d, 0, 3) * 150);
    cJSON *needs = array_in(json, "needs");
    if (chance(d, 25))
        text_in(next_object(needs), "observed", chance(d, 80) ? "seen-1" : "seen-2");
    if (chance(d, 20))
        put_next(needs, draw_fact_cond(d, role));
    cJSON *effects = array_in(json, "effects");
    int n = between(d, 0, 3);
    n += between(d, 0, 1);
    for (int i = 0; i < n; i++)
        draw_effect(d, effects, role);
    text_in(json, "source", "dice");
    d->role[role].tasks++;
}

void draw_tasks(Draw *d) {
    d->tasks_file = file_of("tasks");
    int n = d->size == SMALL ? between(d, 0, 4) : between(d, 0, MAX_TASKS);
    if (d->focus == TASKS)
        n = MAX_TASKS;
    for (int i = 0; i < n; i++) {
        int role = i && chance(d, 35) ? d->task_role[d->tasks - 1] : below(d, d->roles);
        if (d->role[role].tasks < 2)
            draw_task(d, role);
    }
}

static void term_in(Draw *d, cJSON *json, const char *name, const char *fact, Type type,
                    bool star) {
    int named = fact ? find_named(d, fact) : -1, role = below(d, d->roles);
    for (int tries = 0; named >= 0 && tries < 50 && !d->fact[named].on[role]; tries++)
        role = below(d, d->roles);
    if (named < 0 || !d->fact[named].on[role])
        named = any_fact(d, type, &role);
    cJSON *text = term(d, star ? -1 : role, named);
    if (name)
        put_in(json, name, text);
    else
        put_next(json, text);
}

static void draw_same(Draw *d, cJSON *json) {
    term_in(d, json, "left", chance(d, 70) ? "socket" : NULL, TOKEN, false);
    term_in(d, json, "right", chance(d, 70) ? "socket" : NULL, TOKEN, false);
}

static void draw_among(Draw *d, cJSON *json) {
    bool token = chance(d, 65);
    term_in(d, json, "left",
            token           ? "socket"
            : chance(d, 50) ? "takes"
                            : "brings",
            token ? TOKEN : LIST, false);
    if (chance(d, 80))
        term_in(d, json, "right", chance(d, 50) ? "takes" : "brings", LIST, false);
    else
        term_in(d, json, "right", "socket", TOKEN, false);
}

static void draw_within(Draw *d, cJSON *json) {
    bool plain = chance(d, 75);
    term_in(d, json, "need", plain ? "need_mm" : NULL, NUMBER, false);
    term_in(d, json, "room", plain ? "room_mm" : NULL, NUMBER, false);
    if (!chance(d, 40))
        return;
    cJSON *taken = array_in(json, "taken");
    bool star = chance(d, 40);
    term_in(d, taken, NULL, chance(d, 80) ? "taken_mm" : NULL, NUMBER, star);
}

static void draw_side(Draw *d, cJSON *list, const char *fact) {
    static const char *const factors[] = {"0.5", "1.2", "2", "0.149", "0"};
    int n = chance(d, 75) ? 1 : 2;
    for (int i = 0; i < n; i++) {
        cJSON *json = next_object(list);
        if (i == 1 && chance(d, 40)) {
            number_in(json, "fixed", between(d, 0, 3) * 5 + 0.5);
            continue;
        }
        bool star = chance(d, 60);
        term_in(d, json, "fact", i == 0 && chance(d, 85) ? fact : NULL, NUMBER, star);
        if (chance(d, 40))
            put_in(json, "factor", number(one_of(d, 5, factors)));
    }
}

static void draw_supply(Draw *d, cJSON *json) {
    bool watts = chance(d, 60);
    draw_side(d, array_in(json, "loads"), watts ? "load_w" : "plugs");
    if (chance(d, 15)) {
        number_in(next_object(array_in(json, "supplies")), "fixed", between(d, 0, 9) * 5);
        return;
    }
    draw_side(d, array_in(json, "supplies"), watts ? "supply_w" : "headers");
}

static void draw_shape(Draw *d, cJSON *json, int shape) {
    switch (shape) {
    case 0:
        draw_same(d, json);
        break;
    case 1:
        draw_among(d, json);
        break;
    case 2:
        draw_within(d, json);
        break;
    case 3:
        draw_supply(d, json);
        break;
    case 4:
        put_in(json, "to", draw_cond(d));
        draw_conds(d, json, "needs", between(d, 1, 3));
        break;
    default:
        draw_conds(d, json, "of", between(d, 2, 3));
        break;
    }
}

static cJSON *start_rule(Draw *d, const char *id, const char *shape) {
    cJSON *json = next_object(cJSON_GetObjectItem(d->rules_file, "rules"));
    text_in(json, "id", id);
    text_in(json, "shape", shape);
    text_in(json, "level", chance(d, 80) ? "hard" : "caution");
    text_in(json, "client", "This does not go together.");
    text_in(json, "bench", "See the rule.");
    text_in(json, "source", "dice");
    return json;
}

static void draw_place(Draw *d, const char *kind) {
    char id[ID];
    snprintf(id, sizeof id, "place-%s", kind);
    cJSON *json = start_rule(d, id, "place");
    text_in(json, "kind", kind);
    cJSON *things = array_in(json, "things"), *sites = array_in(json, "sites");
    term_in(d, things, NULL, "things", THINGS, chance(d, 70));
    term_in(d, sites, NULL, "sites", SITES, chance(d, 70));
}

void draw_rules(Draw *d) {
    static const char *const shapes[] = {"same", "among", "within", "supply", "unlock", "clash"};
    char id[ID];
    d->rules_file = file_of("rules");
    int n = d->size == SMALL ? between(d, 2, 7) : between(d, 6, 14);
    if (d->focus != ANYTHING)
        n /= 2; /* the rest is to be felt */
    for (int i = 0; i < n; i++) {
        int shape = below(d, 6);
        snprintf(id, sizeof id, "%s-%d", shapes[shape], i);
        cJSON *json = start_rule(d, id, shapes[shape]);
        draw_shape(d, json, shape);
        if (chance(d, 25))
            draw_conds(d, json, "when", between(d, 1, 2));
        if (chance(d, 20))
            draw_conds(d, json, "unless", between(d, 1, 2));
    }
    if (chance(d, d->focus == PLACES ? 100 : 50))
        draw_place(d, "fan");
    if (chance(d, d->focus == PLACES ? 90 : 40))
        draw_place(d, "drive");
}

/* Mostly about work; at times about the state of the machine, present or not. */
static cJSON *draw_charge_cond(Draw *d) {
    if (chance(d, 15))
        return draw_cond(d);
    cJSON *json = object();
    if (d->tasks && chance(d, 30))
        text_in(json, "task", d->task[below(d, d->tasks)]);
    else if (chance(d, 20))
        text_in(json, "holds", d->part[catalog_part(d)].id);
    else
        text_in(json, "changes", d->role[below(d, d->roles)].id);
    return json;
}

void draw_charges(Draw *d) {
    char id[ID];
    d->charges_file = file_of("charges");
    int n = between(d, 0, 3);
    for (int i = 0; i < n; i++) {
        cJSON *json = next_object(cJSON_GetObjectItem(d->charges_file, "charges"));
        snprintf(id, sizeof id, "charge-%d", i);
        text_in(json, "id", id);
        text_in(json, "name", "a charge");
        money_in(d, json, "amount", between(d, 0, 3) * 333);
        number_in(json, "minutes", between(d, 0, 2) * 10);
        cJSON *any = array_in(json, "for_any");
        for (int k = between(d, 1, 3); k > 0; k--)
            put_next(any, draw_charge_cond(d));
    }
}
