/* The random client: the present machine, what counts, wishes, money. */
#include "generate.h"

#include <stdio.h>
#include <string.h>

static int first_part(const Draw *d, int role) {
    for (int i = 0; i < d->parts; i++)
        if (d->part[i].role == role)
            return i;
    return -1;
}

static cJSON *draw_present(Draw *d, cJSON *list, int role, bool catalog, int count) {
    static const char *const conditions[] = {"good", "worn", "failing", "unproven"};
    cJSON *json = next_object(list);
    int part = catalog ? first_part(d, role) : new_part(d, role, false);
    text_in(json, "part", d->part[part].id);
    if (count != 1 || chance(d, 30))
        number_in(json, "count", count);
    if (chance(d, 40))
        text_in(json, "condition", one_of(d, 4, conditions));
    if (chance(d, 40))
        money_in(d, json, "offer", between(d, 0, 5) * 400);
    if (chance(d, 20))
        money_in(d, json, "hoped", 2500);
    if (!catalog)
        text_in(json, "name", "An old part");
    if (!catalog)
        put_in(json, "facts", draw_piece_facts(d, role, true));
    for (int i = 0; catalog && i < d->facts; i++)
        if (d->fact[i].on[role] && d->fact[i].type == NUMBER && chance(d, 8)) {
            cJSON *facts = cJSON_GetObjectItem(json, "facts");
            put_in(facts ? facts : object_in(json, "facts"), d->fact[i].name,
                   draw_value(d, &d->fact[i]));
        }
    return json;
}

/* Ways to keep some of what is there, by how many pieces stay. */
static void count_kept(Role *r, const int *count, int n) {
    memset(r->kept_by_total, 0, sizeof r->kept_by_total);
    r->kept_by_total[0] = 1;
    if (r->whole) {
        r->kept_by_total[r->held] += r->held > 0;
        return;
    }
    for (int i = 0; i < n; i++)
        for (int total = 39; total >= 0; total--)
            for (int k = 1; k <= count[i] && k <= total; k++)
                r->kept_by_total[total] += r->kept_by_total[total - k];
}

void draw_machine(Draw *d) {
    cJSON *machine = object_in(d->scenario, "machine");
    for (int r = 0; r < d->roles; r++) {
        Role *role = &d->role[r];
        int n = role->most == 1 ? 1 : between(d, 1, 2), count[2] = {0, 0};
        if (role->least == 0 && chance(d, 35))
            n = 0;
        if (n == 0) {
            count_kept(role, count, 0);
            if (chance(d, 50))
                array_in(machine, role->id);
            continue;
        }
        cJSON *list = array_in(machine, role->id);
        for (int i = 0; i < n; i++) {
            bool catalog = i == 0 && chance(d, 70);
            count[i] = between(d, 1, role->most > 2 ? 2 : 1);
            if (role->held + count[i] > role->most)
                break;
            draw_present(d, list, r, catalog, count[i]);
            role->held += count[i];
        }
        count_kept(role, count, n);
    }
}

/* An upper bound on how many bundles there are. */
double combinations(const Draw *d) {
    double all = 1;
    for (int i = 0; i < d->roles; i++) {
        const Role *r = &d->role[i];
        double fit_outs = 1, by_new[40] = {0};
        by_new[0] = 1;
        for (int a = 1; a < 20; a++) {
            by_new[a] += r->new_by_total[a];
            for (int b = 1; r->kinds == 2 && b < 20; b++)
                by_new[a + b] += r->new_by_total[a] * r->new_by_total[b] / 2;
        }
        for (int a = 0; a < 40; a++)
            for (int b = 0; b < 40; b++)
                if (a + b >= r->least && a + b <= r->most)
                    fit_outs += r->kept_by_total[a] * by_new[b];
        all *= fit_outs * (1 << r->tasks);
    }
    return all;
}

static int pace_role(Draw *d) {
    int role = 0;
    for (int tries = 0; tries < 100; tries++) {
        role = below(d, d->roles);
        for (int i = 0; i < d->facts; i++)
            if (d->fact[i].pace && d->fact[i].on[role])
                return role;
    }
    return role;
}

static cJSON *draw_factor(Draw *d) {
    int depth = between(d, 0, 2);
    return draw_expression(d, pace_role(d), depth, true);
}

static cJSON *draw_rate(Draw *d, int depth) {
    static const double exponents[] = {0.15, 0.5, 0.7, 1, 1.5};
    int what = depth <= 0 ? 0 : below(d, 5);
    if (what == 0)
        return draw_factor(d);
    cJSON *outer = object();
    if (what == 1) {
        cJSON *pair = array_in(outer, "power");
        put_next(pair, draw_rate(d, depth - 1));
        put_next(pair, cJSON_CreateNumber(exponents[below(d, 5)]));
        return outer;
    }
    cJSON *list = array_in(outer, what == 2 ? "least" : "product");
    int n = between(d, 1, 3);
    if (chance(d, 40))
        put_next(list, cJSON_CreateNumber(what == 2 ? 60 : 0.52));
    for (int i = 0; i < n; i++)
        put_next(list, draw_rate(d, depth - 1));
    return outer;
}

/* How many products a rate spreads into. */
static double products_of(const cJSON *is) {
    const cJSON *op = cJSON_IsObject(is) ? is->child : NULL, *item;
    double n = 1;
    if (!op)
        return 1;
    if (!strcmp(op->string, "power"))
        return products_of(op->child);
    if (!strcmp(op->string, "product"))
        cJSON_ArrayForEach(item, op) n *= products_of(item);
    if (!strcmp(op->string, "least")) {
        n = 0;
        cJSON_ArrayForEach(item, op) n += products_of(item);
    }
    return n;
}

static cJSON *draw_fair_rate(Draw *d) {
    cJSON *rate = draw_rate(d, between(d, 0, 3));
    while (products_of(rate) > 256) {
        cJSON_Delete(rate);
        rate = draw_rate(d, between(d, 0, 3));
    }
    return rate;
}

static void draw_uses(Draw *d) {
    char id[ID];
    d->uses_file = file_of("uses");
    d->uses = between(d, 1, 2);
    for (int u = 0; u < d->uses; u++) {
        cJSON *json = next_object(cJSON_GetObjectItem(d->uses_file, "uses"));
        snprintf(id, sizeof id, "use-%d", u);
        text_in(json, "id", id);
        text_in(json, "name", "a use");
        text_in(json, "unit", "frames/s");
        cJSON *stages = array_in(json, "stages");
        int n = between(d, 1, 3);
        for (int s = 0; s < n; s++) {
            cJSON *stage = next_object(stages);
            snprintf(id, sizeof id, "stage-%d", s);
            text_in(stage, "stage", id);
            text_in(stage, "name", "a stage");
            put_in(stage, "rate", draw_fair_rate(d));
        }
    }
}

static cJSON *start_criterion(Draw *d, const char *id, const char *kind) {
    cJSON *json = next_object(cJSON_GetObjectItem(d->criteria_file, "criteria"));
    text_in(json, "id", id);
    text_in(json, "name", id);
    text_in(json, "kind", kind);
    return json;
}

static void draw_looks(Draw *d) {
    cJSON *json = start_criterion(d, "looks", "looks");
    cJSON *shows = array_in(json, "shows");
    int first = below(d, d->roles), n = between(d, 1, 3 < d->roles ? 3 : d->roles);
    for (int i = 0; i < n; i++) {
        cJSON *show = next_object(shows);
        text_in(show, "role", d->role[(first + i) % d->roles].id);
        number_in(show, "weight", between(d, 1, 3) * 10);
    }
    cJSON *aspects = array_in(json, "aspects"), *aspect;
    aspect = next_object(aspects);
    text_in(aspect, "fact", "finish");
    number_in(aspect, "weight", 3);
    if (chance(d, 50)) {
        aspect = next_object(aspects);
        text_in(aspect, "fact", "tier");
        number_in(aspect, "weight", 2);
    }
    if (chance(d, 60)) {
        aspect = next_object(aspects);
        text_in(aspect, "fact", "tidiness");
        number_in(aspect, "weight", 2);
        number_in(aspect, "scale", 10);
    }
}

static void draw_rated(Draw *d, const char *id) {
    char text[64];
    cJSON *json = start_criterion(d, id, "rated");
    cJSON *facts = array_in(json, "facts");
    int role;
    if (d->close || chance(d, 50)) {
        text_next(facts, chance(d, 60) ? "*.score_pt" : "*.grade_pt");
    } else {
        int fact = any_fact(d, NUMBER, &role);
        snprintf(text, sizeof text, "%s.%s", d->role[role].id, d->fact[fact].name);
        text_next(facts, text);
    }
    number_in(json, "scale", d->close ? between(d, 1, 3) * 20 : chance(d, 50) ? 10 : 3);
}

void draw_criteria(Draw *d) {
    int role;
    char text[64];
    d->criteria_file = file_of("criteria");
    d->speed = chance(d, d->focus == RATES ? 100 : d->close ? 35 : 75);
    d->quiet = chance(d, d->focus == RATES || d->close ? 20 : 55);
    if (d->speed)
        start_criterion(d, "speed", "speed");
    if (d->quiet) {
        cJSON *json = start_criterion(d, "quiet", "quiet");
        text_in(json, "noise", "noise_dba");
        for (role = 0; role < d->roles; role++)
            for (int i = 0; i < d->facts; i++)
                if (d->fact[i].on[role] && !strcmp(d->fact[i].name, "loss_db"))
                    snprintf(text, sizeof text, "%s.loss_db", d->role[role].id);
        text_in(json, "loss", text);
    }
    if (chance(d, d->close ? 20 : 50))
        draw_looks(d);
    if (d->close || chance(d, 70))
        draw_rated(d, "merit");
    if (chance(d, 30) || cJSON_GetArraySize(cJSON_GetObjectItem(d->criteria_file, "criteria")) == 0)
        draw_rated(d, "feel");
    draw_uses(d);
}

static void draw_weights(Draw *d, cJSON *wishes) {
    const cJSON *list = cJSON_GetObjectItem(d->criteria_file, "criteria"), *json;
    bool ranks = chance(d, 25);
    cJSON *to = ranks ? array_in(wishes, "ranks") : object_in(wishes, "swings");
    int n = cJSON_GetArraySize(list), first = below(d, n);
    bool positive = false;
    for (int i = 0; i < n; i++) {
        json = cJSON_GetArrayItem(list, (first + i) % n);
        const char *id = cJSON_GetObjectItem(json, "id")->valuestring;
        bool speed = !strcmp(id, "speed"), last = i == n - 1;
        int swing = (speed || (last && !positive)) ? between(d, 1, 5) * 20 : between(d, 0, 5) * 20;
        if (!speed && !last && chance(d, 15))
            continue;
        positive = positive || swing > 0;
        if (ranks)
            text_next(to, id);
        else
            number_in(to, id, swing);
    }
}

static void draw_use_wishes(Draw *d, cJSON *wishes) {
    char id[ID];
    cJSON *uses = array_in(wishes, "uses");
    for (int u = 0; u < d->uses; u++) {
        if (u > 0 && chance(d, 20))
            continue;
        cJSON *json = next_object(uses);
        snprintf(id, sizeof id, "use-%d", u);
        text_in(json, "use", id);
        number_in(json, "share", between(d, 1, 3) * 20);
        if (chance(d, 50)) {
            number_in(json, "rate_now", between(d, 3, 5) * 10);
            number_in(json, "rate_wanted", between(d, 3, 12) * 10);
        }
    }
}

static const char *present_id(Draw *d, int *role) {
    const cJSON *machine = cJSON_GetObjectItem(d->scenario, "machine");
    for (int tries = 0; tries < 40; tries++) {
        *role = below(d, d->roles);
        const cJSON *list = cJSON_GetObjectItem(machine, d->role[*role].id);
        int n = cJSON_GetArraySize(list);
        if (n)
            return cJSON_GetObjectItem(cJSON_GetArrayItem(list, below(d, n)), "part")->valuestring;
    }
    return NULL;
}

static void draw_limits(Draw *d, cJSON *wishes) {
    cJSON *limits = object_in(wishes, "limits");
    if (d->quiet && chance(d, 35))
        number_in(limits, "loudness_sone", between(d, 0, 4) * 0.3 + 0.3);
    if (chance(d, 25))
        number_in(limits, "days", between(d, 1, 7));
    if (chance(d, 20))
        number_in(limits, "bench_minutes", between(d, 1, 9) * 20);
}

/* Points per 100 of the currency: mostly where prices and points of the other dice
 * make the money worth some, not all, of what it buys. */
static void draw_worth(Draw *d, cJSON *wishes) {
    static const int most[] = {1000, 15000, 40000, 150000};
    int milli = between(d, 100, most[below(d, 4)]);
    if (d->digits == 3 && chance(d, 50) && milli <= 100000)
        milli *= 10;
    if (d->digits == 0 && chance(d, 50))
        milli = milli / 50 + 1;
    if (chance(d, 5))
        milli = 0;
    number_in(wishes, "worth_at_least", milli / 1000.0);
}

static void draw_wishes(Draw *d) {
    static const char *const finishes[] = {"black", "white", "silver"};
    cJSON *wishes = object_in(d->scenario, "wishes");
    int role = 0;
    draw_weights(d, wishes);
    if (d->speed)
        draw_use_wishes(d, wishes);
    if (chance(d, 80)) {
        cJSON *taste = object_in(wishes, "taste");
        text_next(array_in(taste, "finish"), one_of(d, 3, finishes));
        if (chance(d, 50))
            text_next(array_in(taste, "tier"), "top");
    }
    const char *keep = chance(d, 20) ? present_id(d, &role) : NULL;
    int kept = role;
    if (keep && role != d->must_role)
        text_next(array_in(wishes, "keep"), chance(d, 50) ? keep : d->role[role].id);
    const char *replace = chance(d, 12) ? present_id(d, &role) : NULL;
    if (replace && (!keep || kept != role))
        text_next(array_in(wishes, "replace"), chance(d, 50) ? replace : d->role[role].id);
    if (chance(d, 20)) {
        cJSON *avoid = array_in(wishes, "avoid");
        int part = below(d, d->parts);
        if (d->part[part].catalog && chance(d, 60))
            text_next(avoid, d->part[part].maker);
        else if (d->part[part].listings)
            text_next(avoid, d->part[part].id);
    }
    if (chance(d, 60))
        draw_limits(d, wishes);
    if (chance(d, 70))
        draw_worth(d, wishes);
}

static void draw_given_own(Draw *d, cJSON *json, int role) {
    text_in(json, "part", d->part[new_part(d, role, false)].id);
    text_in(json, "role", d->role[role].id);
    text_in(json, "name", "A gift");
    put_in(json, "facts", draw_piece_facts(d, role, false));
}

static void draw_given(Draw *d) {
    cJSON *given = array_in(d->scenario, "given");
    int role = below(d, d->roles), part = below(d, d->parts), count = between(d, 1, 2);
    cJSON *json = next_object(given);
    bool own = chance(d, 50) || !d->part[part].catalog, must_use = chance(d, 35);
    if (own)
        draw_given_own(d, json, role);
    else
        text_in(json, "part", d->part[part].id);
    /* What may stand in the machine today would be in every bundle anyway. */
    if (!own && first_part(d, d->part[part].role) == part)
        must_use = false;
    number_in(json, "count", count);
    cJSON *strings = array_in(json, "strings");
    if (must_use)
        text_next(strings, "must-use");
    if (chance(d, 30))
        text_next(strings, chance(d, 50) ? "must-show" : "no-resale");
    if (chance(d, 40))
        text_in(json, "arrives_on", chance(d, 50) ? "2026-03-01" : "2026-02-27");
    Role *r = &d->role[own ? role : d->part[part].role];
    for (int k = 1; k <= r->most && k <= count; k++)
        r->new_by_total[k] += r->count[k];
}

static void draw_musts(Draw *d) {
    int role;
    const char *part = chance(d, 60) || !d->tasks ? present_id(d, &role) : NULL;
    cJSON *musts = array_in(d->scenario, "musts");
    if (!part && !d->tasks)
        return;
    cJSON *json = next_object(musts);
    text_in(json, "id", "must-1");
    if (part)
        d->must_role = role;
    if (part)
        text_in(json, "replace", part);
    else
        text_in(json, "do", d->task[below(d, d->tasks)]);
    text_in(json, "why", "it is failing");
}

static void draw_money(Draw *d) {
    static const int totals[] = {0, 1500, 3000, 5000, 8000, 12000, 20000, 100000};
    static const int lowest[] = {0, 0, 1, 245, 333, 500, 666, 999, 1000};
    static const double percents[] = {0, 7, 8.25, 10, 19, 20};
    cJSON *budget = object_in(d->scenario, "budget");
    money_in(d, budget, "total", chance(d, 12) ? lowest[below(d, 9)] : totals[between(d, 1, 7)]);
    if (chance(d, 25))
        money_in(d, budget, "reserve", between(d, 0, 4) * 500);
    if (chance(d, 25))
        money_in(d, budget, "sundries", 300);
    if (chance(d, 60))
        money_in(d, object_in(d->scenario, "labour"), "rate_per_hour", between(d, 0, 5) * 725);
    if (d->untaxed || chance(d, 20))
        return;
    cJSON *tax = object_in(d->scenario, "tax");
    number_in(tax, "percent", percents[below(d, 6)]);
    text_in(tax, "prices", chance(d, 75) ? "without" : "with");
    text_in(tax, "round", chance(d, 50) ? "half-up" : "half-even");
    text_in(tax, "per", chance(d, 50) ? "line" : "invoice");
}

void draw_scenario(Draw *d) {
    cJSON *s = d->scenario;
    number_in(s, "schema", 1);
    d->must_role = -1;
    text_in(s, "title", "A random job");
    text_in(s, "catalog", ".");
    text_in(s, "currency", d->currency);
    text_in(s, "date", "2026-02-26");
    if (chance(d, 35))
        draw_given(d);
    cJSON *observed = array_in(s, "observed");
    if (chance(d, 70))
        text_next(observed, "seen-1");
    if (chance(d, 25))
        draw_musts(d);
    draw_wishes(d);
    if (chance(d, 40))
        number_in(object_in(s, "room"), "level_dba", between(d, 2, 4) * 10);
    draw_money(d);
    if (chance(d, 40))
        flag_in(s, "allow_unknown", chance(d, 60));
}
