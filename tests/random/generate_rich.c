/*
 * A drawn job altered after all else is drawn, so that seeds stay what they are:
 * richer in what places and names can say, crowded with pieces, or so tight that
 * often nothing fits.
 */
#include "generate.h"

#include <stdio.h>
#include <string.h>

static cJSON *get(const cJSON *json, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(json, name);
}

/* ---- sites and things ---- */

static void enrich_site(Draw *d, cJSON *site) {
    if (chance(d, 35))
        number_in(site, "reach_mm", between(d, 1, 4) * 50);
    if (chance(d, 35))
        text_in(site, "caution", "Mind this site.");
}

static void enrich_thing(Draw *d, cJSON *thing) {
    if (chance(d, 45))
        number_in(thing, "reach_mm", between(d, 1, 4) * 50);
    if (chance(d, 10) && !get(thing, "count"))
        number_in(thing, "count", 3);
}

/* A second site to take from, where there is a third. */
static void take_more(Draw *d, cJSON *sites) {
    cJSON *site = cJSON_GetArrayItem(sites, below(d, cJSON_GetArraySize(sites)));
    cJSON *takes = get(site, "takes"), *other;
    if (cJSON_GetArraySize(takes) != 1 || !chance(d, 40))
        return;
    const char *mine = get(site, "site")->valuestring;
    const char *taken = get(cJSON_GetArrayItem(takes, 0), "site")->valuestring;
    cJSON_ArrayForEach(other, sites) {
        const char *name = get(other, "site")->valuestring;
        if (!strcmp(name, mine) || !strcmp(name, taken))
            continue;
        text_in(next_object(takes), "site", name);
        return;
    }
}

static void enrich_facts(Draw *d, cJSON *facts) {
    cJSON *entry;
    cJSON_ArrayForEach(entry, get(facts, "sites")) enrich_site(d, entry);
    if (cJSON_GetArraySize(get(facts, "sites")))
        take_more(d, get(facts, "sites"));
    cJSON_ArrayForEach(entry, get(facts, "things")) enrich_thing(d, entry);
}

static bool must_be_known(const Draw *d, const char *name) {
    for (int i = 0; i < d->facts; i++)
        if (!strcmp(d->fact[i].name, name))
            return d->fact[i].pace || d->fact[i].vital || !strcmp(d->fact[i].combine, "power");
    return false;
}

static void forget_some(Draw *d, cJSON *facts, int percent) {
    for (cJSON *fact = facts ? facts->child : NULL, *next; fact; fact = next) {
        next = fact->next;
        if (!must_be_known(d, fact->string) && chance(d, percent))
            cJSON_DeleteItemFromObjectCaseSensitive(facts, fact->string);
    }
}

static void enrich_parts(Draw *d) {
    int forget = chance(d, 40) ? 12 : 2;
    cJSON *json, *role;
    cJSON_ArrayForEach(json, get(d->parts_file, "parts")) {
        enrich_facts(d, get(json, "facts"));
        forget_some(d, get(json, "facts"), forget);
    }
    cJSON_ArrayForEach(role, get(d->scenario, "machine")) cJSON_ArrayForEach(json, role) {
        enrich_facts(d, get(json, "facts"));
        forget_some(d, get(json, "facts"), forget / 2);
    }
    cJSON_ArrayForEach(json, get(d->scenario, "given")) enrich_facts(d, get(json, "facts"));
}

/* Parts that nobody sells. */
static void add_unsold(Draw *d) {
    for (int r = 0; r < d->roles; r++) {
        if (!chance(d, 40) || d->parts + 2 > MAX_PARTS)
            continue;
        int part = new_part(d, r, true);
        cJSON *json = next_object(get(d->parts_file, "parts"));
        text_in(json, "id", d->part[part].id);
        text_in(json, "role", d->role[r].id);
        text_in(json, "name", "A part nobody sells");
        text_in(json, "maker", "Maker Four");
        put_in(json, "facts", draw_piece_facts(d, r, false));
    }
}

/* ---- rules and tasks ---- */

static void enrich_rules(Draw *d) {
    cJSON *json;
    cJSON_ArrayForEach(json, get(d->rules_file, "rules")) {
        const char *shape = get(json, "shape")->valuestring;
        bool sum = !strcmp(shape, "within") || !strcmp(shape, "supply");
        bool sets = !strcmp(shape, "same") || !strcmp(shape, "among");
        bool hard = !strcmp(get(json, "level")->valuestring, "hard");
        if (chance(d, 50))
            text_in(json, "name", "what this is about");
        if (sum && chance(d, 50))
            text_in(json, "unit", chance(d, 50) ? "mm" : "W");
        if (hard && chance(d, 50))
            flag_in(json, "bends", chance(d, 80));
        if ((!sum && !sets) || !chance(d, 50))
            continue;
        cJSON_DeleteItemFromObject(json, "bench");
        text_in(json, "bench", sum ? "{need} of {room}, {short} short." : "{left} on {right}.");
    }
}

static int fact_named(const Draw *d, const char *name) {
    for (int i = 0; i < d->facts; i++)
        if (!strcmp(d->fact[i].name, name))
            return i;
    return -1;
}

static int role_named(const Draw *d, const char *id) {
    for (int r = 0; r < d->roles; r++)
        if (!strcmp(d->role[r].id, id))
            return r;
    return -1;
}

/* Work that makes sites or takes things away. */
static void enrich_tasks(Draw *d) {
    static const char *const names[] = {"sites", "things"};
    cJSON *json;
    cJSON_ArrayForEach(json, get(d->tasks_file, "tasks")) {
        int role = role_named(d, get(json, "role")->valuestring);
        const char *name = names[below(d, 2)];
        if (!d->fact[fact_named(d, name)].on[role] || !chance(d, 60))
            continue;
        cJSON *effect = next_object(get(json, "effects"));
        text_in(effect, "fact", name);
        put_in(effect, "set",
               chance(d, 70) ? draw_spots(d, !strcmp(name, "sites")) : must(cJSON_CreateArray()));
    }
}

void draw_rich(Draw *d) {
    add_unsold(d);
    enrich_parts(d);
    enrich_rules(d);
    enrich_tasks(d);
}

/* ---- many pieces ---- */

static cJSON *role_json(const Draw *d, int role) {
    cJSON *json;
    cJSON_ArrayForEach(json,
                       get(d->roles_file, "roles")) if (!strcmp(get(json, "role")->valuestring,
                                                                d->role[role].id)) return json;
    return NULL;
}

static void set_number(cJSON *json, const char *name, double x) {
    cJSON_DeleteItemFromObjectCaseSensitive(json, name);
    number_in(json, name, x);
}

static void widen(Draw *d, int role) {
    Role *r = &d->role[role];
    cJSON *json = role_json(d, role);
    r->most += between(d, 1, 3);
    set_number(json, "most", r->most);
    set_number(json, "new_kinds", between(d, 1, 2));
    if (chance(d, 60))
        cJSON_DeleteItemFromObjectCaseSensitive(json, "counts");
}

static void fill_up(Draw *d, int role) {
    Role *r = &d->role[role];
    cJSON *machine = get(d->scenario, "machine"), *list = get(machine, r->id);
    list = list ? list : array_in(machine, r->id);
    int wanted = between(d, 0, 3);
    wanted += chance(d, 10) ? r->most : 0;
    while (wanted-- > 0 && d->parts + 1 < MAX_PARTS && r->held < r->most + 2) {
        int count = chance(d, 70) ? 1 : 2;
        if (r->held + count > r->most && !chance(d, 20))
            return;
        cJSON *json = next_object(list);
        text_in(json, "part", d->part[new_part(d, role, false)].id);
        text_in(json, "name", "One more old part");
        number_in(json, "count", count);
        put_in(json, "facts", draw_piece_facts(d, role, true));
        r->held += count;
    }
}

void draw_crowd(Draw *d) {
    for (int r = 0; r < d->roles; r++) {
        if (!chance(d, 45))
            continue;
        widen(d, r);
        fill_up(d, r);
    }
}

/* ---- tight jobs ---- */

typedef struct Claims { /* roles whose pieces some wish or must speaks of */
    bool of[MAX_ROLES];
} Claims;

static int role_of_present(const Draw *d, const char *id) {
    const cJSON *role, *json;
    cJSON_ArrayForEach(role, get(d->scenario, "machine"))
        cJSON_ArrayForEach(json, role) if (!strcmp(get(json, "part")->valuestring,
                                                   id)) return role_named(d, role->string);
    return role_named(d, id);
}

static void claim(const Draw *d, Claims *c, const char *name) {
    int role = name ? role_of_present(d, name) : -1;
    if (role >= 0)
        c->of[role] = true;
}

static Claims claims_of(const Draw *d) {
    static const char *const lists[] = {"keep", "replace"};
    Claims c = {{false}};
    const cJSON *item;
    for (int i = 0; i < 2; i++)
        cJSON_ArrayForEach(item, get(get(d->scenario, "wishes"), lists[i]))
            claim(d, &c, item->valuestring);
    cJSON_ArrayForEach(item, get(d->scenario, "musts")) if (get(item, "replace"))
        claim(d, &c, get(item, "replace")->valuestring);
    return c;
}

static cJSON *array_of(cJSON *parent, const char *name) {
    cJSON *array = get(parent, name);
    return array ? array : array_in(parent, name);
}

static bool lists(const cJSON *array, const char *text) {
    const cJSON *item;
    cJSON_ArrayForEach(item, array) if (!strcmp(item->valuestring, text)) return true;
    return false;
}

/* A present piece of a role that nothing speaks of yet; the role is then claimed. */
static const char *claim_piece(Draw *d, Claims *c, int *role) {
    *role = below(d, d->roles);
    const cJSON *list = get(get(d->scenario, "machine"), d->role[*role].id);
    int n = cJSON_GetArraySize(list);
    if (!n || c->of[*role])
        return NULL;
    c->of[*role] = true;
    return get(cJSON_GetArrayItem(list, below(d, n)), "part")->valuestring;
}

static void add_wishes(Draw *d, Claims *c, const char *name, int most) {
    cJSON *wishes = get(d->scenario, "wishes");
    int role;
    for (int n = between(d, 0, most); n > 0; n--) {
        const char *piece = claim_piece(d, c, &role);
        if (piece)
            text_next(array_of(wishes, name), chance(d, 50) ? piece : d->role[role].id);
    }
}

static void add_must(Draw *d, Claims *c, int number) {
    char id[ID];
    int role;
    const char *piece = chance(d, 80) ? claim_piece(d, c, &role) : NULL;
    if (!piece && (!d->tasks || chance(d, 60)))
        return;
    cJSON *must = next_object(array_of(d->scenario, "musts"));
    snprintf(id, sizeof id, "must-%d", 10 + number);
    text_in(must, "id", id);
    text_in(must, piece ? "replace" : "do", piece ? piece : d->task[below(d, d->tasks)]);
    text_in(must, "why", "it is wanted");
}

static void add_avoids(Draw *d) {
    cJSON *avoid = array_of(get(d->scenario, "wishes"), "avoid");
    for (int n = between(d, 0, 3); n > 0; n--) {
        const Part *p = &d->part[below(d, d->parts)];
        const char *name = chance(d, 40) ? p->maker : p->id;
        if (p->catalog && name && !lists(avoid, name))
            text_next(avoid, name);
    }
}

static void tighten_limits(Draw *d) {
    cJSON *wishes = get(d->scenario, "wishes");
    cJSON *limits = get(wishes, "limits") ? get(wishes, "limits") : object_in(wishes, "limits");
    if (chance(d, 40))
        set_number(limits, "days", between(d, 0, 3));
    if (chance(d, 40))
        set_number(limits, "bench_minutes", between(d, 0, 4) * 5);
    if (d->quiet && chance(d, 40))
        set_number(limits, "loudness_sone", between(d, 1, 4) * 0.1);
}

static void insist(Draw *d) {
    cJSON *json;
    cJSON_ArrayForEach(json,
                       get(d->scenario, "given")) if (chance(d, 50) &&
                                                      !lists(get(json, "strings"), "must-use"))
        text_next(array_of(json, "strings"), "must-use");
}

void draw_tight(Draw *d) {
    static const int totals[] = {0, 1, 500, 1000, 1500, 3000, 5000, 20000};
    cJSON *budget = get(d->scenario, "budget");
    Claims c = claims_of(d);
    add_wishes(d, &c, "keep", 2);
    add_wishes(d, &c, "replace", 2);
    for (int n = between(d, 0, 2); n > 0; n--)
        add_must(d, &c, n);
    add_avoids(d);
    tighten_limits(d);
    insist(d);
    if (!chance(d, 70))
        return;
    cJSON_DeleteItemFromObjectCaseSensitive(budget, "total");
    money_in(d, budget, "total", totals[below(d, 8)]);
}
