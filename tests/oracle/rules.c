/*
 * The rules as questions put to one machine: does it apply, what does it find,
 * and may that pass, given what is found on the machine as it stands today.
 */
#include "world.h"

#include <limits.h>
#include <string.h>

static const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static void read_fact_cond(World *w, const cJSON *json, Cond *c) {
    const cJSON *is = get(json, "is"), *item;
    split_term(w, text_of(json, "fact", ""), &c->role, &c->fact);
    c->kind = RANGE;
    c->low = LLONG_MIN;
    c->high = LLONG_MAX;
    if (get(json, "least"))
        c->low = milli_of(get(json, "least"));
    if (get(json, "most"))
        c->high = milli_of(get(json, "most"));
    if (cJSON_IsBool(is))
        c->low = c->high = cJSON_IsTrue(is) ? 1000 : 0;
    if (cJSON_IsNumber(is))
        c->low = c->high = milli_of(is);
    if (cJSON_IsString(is)) {
        c->kind = IS;
        bag_add(w, &c->bag, intern(w, is->valuestring));
    }
    if (get(json, "has")) {
        c->kind = HAS;
        bag_add(w, &c->bag, intern(w, get(json, "has")->valuestring));
    }
    if (get(json, "one_of")) {
        c->kind = ONE_OF;
        cJSON_ArrayForEach(item, get(json, "one_of"))
            bag_add(w, &c->bag, intern(w, item->valuestring));
    }
}

static bool is_observed(const World *w, const char *id) {
    const cJSON *item;
    cJSON_ArrayForEach(item,
                       get(w->job, "observed")) if (!strcmp(item->valuestring, id)) return true;
    return false;
}

Cond *read_cond(World *w, const cJSON *json) {
    Cond *c = hold(w, sizeof *c);
    c->role = -1;
    if (get(json, "fact")) {
        read_fact_cond(w, json, c);
    } else if (get(json, "task")) {
        c->kind = TASK;
        c->task = find_task(w, text_of(json, "task", ""));
        c->role = w->task[c->task].role;
    } else if (get(json, "changes")) {
        c->kind = CHANGES;
        c->role = find_role(w, text_of(json, "changes", ""));
    } else if (get(json, "holds")) {
        c->kind = HOLDS;
        c->part = text_of(json, "holds", "");
        c->role = w->part[find_part(w, c->part)].role;
    } else if (get(json, "empty")) {
        c->kind = EMPTY;
        c->role = find_role(w, text_of(json, "empty", ""));
    } else if (get(json, "observed")) {
        c->kind = OBSERVED;
        c->observed = is_observed(w, text_of(json, "observed", ""));
    } else {
        c->kind = NOT;
        c->inner = read_cond(w, need(json, "not"));
        c->role = c->inner->role;
    }
    return c;
}

Conds read_conds(World *w, const cJSON *array) {
    Conds list = {0, NULL};
    const cJSON *item;
    list.at = hold(w, (size_t)cJSON_GetArraySize(array) * sizeof *list.at);
    cJSON_ArrayForEach(item, array) list.at[list.n++] = *read_cond(w, item);
    return list;
}

static Truth ask_fact(const Cond *c, const Cell *cell) {
    if (cell->state != KNOWN)
        return cell->state == UNKNOWN ? MAYBE : NO;
    if (c->kind == RANGE)
        return cell->milli >= c->low && cell->milli <= c->high ? YES : NO;
    if (c->kind == IS && cell->bag.n != 1)
        return NO;
    for (int i = 0; i < c->bag.n; i++)
        if (bag_has(&cell->bag, c->bag.name[i]))
            return YES;
    return NO;
}

static Truth ask_choice(const Cond *c, const Choice *choice) {
    if (c->kind == CHANGES)
        return choice->changed ? YES : NO;
    if (c->kind == EMPTY)
        return choice->pieces == 0 ? YES : NO;
    if (c->kind == TASK) {
        for (int i = 0; i < choice->tasks; i++)
            if (choice->task[i] == c->task)
                return YES;
        return NO;
    }
    if (c->kind == HOLDS) {
        for (int i = 0; i < choice->pieces; i++)
            if (!strcmp(choice->piece[i].id, c->part))
                return YES;
        return NO;
    }
    return ask_fact(c, &choice->cell[c->fact]);
}

Truth ask(const World *w, const Cond *c, const Machine *m) {
    if (c->kind == OBSERVED)
        return c->observed ? YES : NO;
    if (c->kind == NOT) {
        Truth inner = ask(w, c->inner, m);
        return inner == MAYBE ? MAYBE : inner == YES ? NO : YES;
    }
    return ask_choice(c, m->at[c->role]);
}

static void add_body(World *w, Rule *r, int role) {
    for (int i = 0; i < r->bodies; i++)
        if (r->body[i] == role)
            return;
    if (!r->body)
        r->body = hold(w, (size_t)w->roles * sizeof *r->body);
    if (role >= 0)
        r->body[r->bodies++] = role;
}

/* One term, with the star spread over every role the fact may stand on. */
static void add_spots(World *w, Rule *r, Spots *list, const char *term, long long factor) {
    int role, fact;
    split_term(w, term, &role, &fact);
    Spot *fresh = hold(w, (size_t)(list->n + w->roles) * sizeof *fresh);
    if (list->n)
        memcpy(fresh, list->at, (size_t)list->n * sizeof *fresh);
    list->at = fresh;
    for (int i = 0; i < w->roles; i++)
        if (role < 0 ? w->fact[fact].on[i] : i == role) {
            list->at[list->n++] = (Spot){.role = i, .fact = fact, .factor = factor};
            add_body(w, r, i);
        }
}

static void add_fixed(World *w, Spots *list, long long fixed) {
    Spot *fresh = hold(w, (size_t)(list->n + 1) * sizeof *fresh);
    if (list->n)
        memcpy(fresh, list->at, (size_t)list->n * sizeof *fresh);
    list->at = fresh;
    list->at[list->n++] = (Spot){.role = -1, .fixed = fixed};
}

/* A number of the machine as it stands: known once that is. */
static void add_today(World *w, Spots *list, const char *term) {
    int role, fact;
    split_term(w, term, &role, &fact);
    for (int i = 0; i < w->roles; i++)
        if (role < 0 ? w->fact[fact].on[i] : i == role) {
            add_fixed(w, list, 0);
            list->at[list->n - 1].fact = fact;
            list->at[list->n - 1].factor = i;
            list->at[list->n - 1].today = true;
        }
}

static void settle_today(Spots *list, const Machine *today) {
    for (int i = 0; i < list->n; i++) {
        Spot *s = &list->at[i];
        if (s->today && today->at[s->factor]->cell[s->fact].state == KNOWN)
            s->fixed = rule_number(&today->at[s->factor]->cell[s->fact]);
    }
}

static void read_terms(World *w, Rule *r, Spots *list, const cJSON *json) {
    const cJSON *item;
    if (cJSON_IsString(json))
        add_spots(w, r, list, json->valuestring, 1000);
    cJSON_ArrayForEach(item, json) {
        if (cJSON_IsString(item))
            add_spots(w, r, list, item->valuestring, 1000);
        else if (get(item, "today"))
            add_today(w, list, text_of(item, "today", ""));
        else if (get(item, "fixed"))
            add_fixed(w, list, milli_of(get(item, "fixed")));
        else
            add_spots(w, r, list, text_of(item, "fact", ""),
                      get(item, "factor") ? milli_of(get(item, "factor")) : 1000);
    }
}

static void read_rule(World *w, Rule *r, const cJSON *json) {
    static const char *const lefts[] = {"left", "need", "loads", "things"};
    static const char *const rights[] = {"right", "room", "supplies", "sites"};
    r->id = text_of(json, "id", "");
    r->shape = text_of(json, "shape", "");
    r->kind = text_of(json, "kind", "");
    r->hard = !strcmp(text_of(json, "level", ""), "hard");
    r->bends = cJSON_IsTrue(get(json, "bends"));
    r->when = read_conds(w, get(json, "when"));
    r->unless = read_conds(w, get(json, "unless"));
    for (int i = 0; i < 4; i++) {
        read_terms(w, r, &r->left, get(json, lefts[i]));
        read_terms(w, r, &r->right, get(json, rights[i]));
    }
    read_terms(w, r, &r->taken, get(json, "taken"));
    r->of = read_conds(w, get(json, "of"));
    r->needs = read_conds(w, get(json, "needs"));
    if (get(json, "to"))
        r->to = read_cond(w, get(json, "to"));
    for (int i = 0; i < r->of.n; i++)
        add_body(w, r, r->of.at[i].role);
    int parts = r->needs.n ? r->needs.n : 1;
    r->now = hold(w, (size_t)parts * sizeof *r->now);
}

void read_rules(World *w, const cJSON *file) {
    const cJSON *list = need(file, "rules"), *json;
    w->rule = hold(w, (size_t)cJSON_GetArraySize(list) * sizeof *w->rule);
    cJSON_ArrayForEach(json,
                       list) if (!w->without || strcmp(w->without, text_of(json, "id", "")) != 0)
        read_rule(w, &w->rule[w->rules++], json);
}

static const Cell *look(const Spot *s, const Machine *m) { return &m->at[s->role]->cell[s->fact]; }

static bool any_unknown(const Spots *list, const Machine *m) {
    for (int i = 0; i < list->n; i++)
        if (list->at[i].role >= 0 && look(&list->at[i], m)->state == UNKNOWN)
            return true;
    return false;
}

static long long add_up(const Spots *list, const Machine *m) {
    long long sum = 0;
    for (int i = 0; i < list->n; i++) {
        const Spot *s = &list->at[i];
        sum += s->role < 0 ? s->fixed * 1000 : rule_number(look(s, m)) * s->factor;
    }
    return sum;
}

static Finding short_by(long long by) {
    return (Finding){.how = by > 0 ? SHORT : FINE, .by = by > 0 ? by : 0};
}

static Finding examine_bags(const World *w, const Rule *r, const Machine *m) {
    const Cell *left = look(&r->left.at[0], m), *right = look(&r->right.at[0], m);
    if (left->state == BLANK || right->state == BLANK)
        return (Finding){.how = FINE};
    if (left->state == UNKNOWN || right->state == UNKNOWN)
        return (Finding){.how = UNSURE};
    int shared = 0;
    for (int i = 0; i < left->bag.n; i++)
        shared += bag_has(&right->bag, left->bag.name[i]);
    bool holds = shared == left->bag.n;
    if (!strcmp(r->shape, "same"))
        holds = holds && right->bag.n == left->bag.n;
    else if (w->fact[r->left.at[0].fact].type == LIST)
        holds = shared > 0;
    return (Finding){.how = holds ? FINE : SHORT, .by = !holds};
}

static Finding examine_within(const Rule *r, const Machine *m) {
    State need_state = look(&r->left.at[0], m)->state, room_state = look(&r->right.at[0], m)->state;
    if (need_state == BLANK || room_state == BLANK)
        return (Finding){.how = FINE};
    if (need_state == UNKNOWN || room_state == UNKNOWN || any_unknown(&r->taken, m))
        return (Finding){.how = UNSURE};
    return short_by(add_up(&r->left, m) - add_up(&r->right, m) + add_up(&r->taken, m));
}

static Finding from_all(Truth all) {
    return (Finding){.how = all == YES ? SHORT : all == MAYBE ? UNSURE : FINE, .by = all == YES};
}

static Truth both(Truth a, Truth b) { return a < b ? a : b; }

/* `part` is which need of an unlock is asked about. */
Finding examine(const World *w, const Rule *r, int part, const Machine *m) {
    if (!strcmp(r->shape, "within"))
        return examine_within(r, m);
    if (!strcmp(r->shape, "supply")) {
        if (any_unknown(&r->left, m) || any_unknown(&r->right, m))
            return (Finding){.how = UNSURE};
        return short_by(add_up(&r->left, m) - add_up(&r->right, m));
    }
    if (!strcmp(r->shape, "unlock")) {
        Truth has = ask(w, &r->needs.at[part], m);
        return from_all(both(ask(w, r->to, m), has == MAYBE ? MAYBE : has == YES ? NO : YES));
    }
    if (!strcmp(r->shape, "clash")) {
        Truth all = YES;
        for (int i = 0; i < r->of.n; i++)
            all = both(all, ask(w, &r->of.at[i], m));
        return from_all(all);
    }
    if (!strcmp(r->shape, "place"))
        return (Finding){.how =
                             any_unknown(&r->left, m) || any_unknown(&r->right, m) ? UNSURE : FINE};
    return examine_bags(w, r, m);
}

/* Whether the text of an expression names the fact, or a derived one that does. */
static bool mentions(const World *w, const cJSON *is, int role, const char *fact) {
    const cJSON *item;
    if (cJSON_IsString(is)) {
        const char *dot = strchr(is->valuestring, '.');
        if (!dot)
            return false;
        if (!strcmp(dot + 1, fact))
            return true;
        for (int d = 0; d < w->facts; d++)
            if (w->fact[d].is && w->fact[d].on[role] && !strcmp(w->fact[d].name, dot + 1))
                return mentions(w, w->fact[d].is, role, fact);
        return false;
    }
    cJSON_ArrayForEach(item, is) if (mentions(w, item, role, fact)) return true;
    return false;
}

static bool spot_feels(const World *w, int role, int fact, int its_role, const char *changed) {
    if (role != its_role || fact < 0)
        return false;
    return !strcmp(w->fact[fact].name, changed) ||
           (w->fact[fact].is && mentions(w, w->fact[fact].is, role, changed));
}

static bool spots_feel(const World *w, const Spots *list, int role, const char *changed) {
    for (int i = 0; i < list->n; i++)
        if (spot_feels(w, list->at[i].role, list->at[i].fact, role, changed))
            return true;
    return false;
}

static bool cond_feels(const World *w, const Cond *c, int role, const char *changed) {
    if (c->kind == NOT)
        return cond_feels(w, c->inner, role, changed);
    bool about_fact = c->kind == IS || c->kind == RANGE || c->kind == HAS || c->kind == ONE_OF;
    return about_fact && spot_feels(w, c->role, c->fact, role, changed);
}

static bool cond_names(const Cond *c, int task) {
    return c->kind == NOT ? cond_names(c->inner, task) : c->kind == TASK && c->task == task;
}

/* The conditions that are the rule's own: all of a clash, or of one need of an unlock. */
static int own_conds(const Rule *r, int part, const Cond *out[]) {
    int n = 0;
    if (r->to) {
        out[n++] = r->to;
        out[n++] = &r->needs.at[part];
    }
    for (int i = 0; !r->to && i < r->of.n && n < 64; i++)
        out[n++] = &r->of.at[i];
    return n;
}

static bool task_touches(const World *w, const Rule *r, int part, int task) {
    const Cond *own[64];
    int n = own_conds(r, part, own);
    for (int i = 0; i < n; i++)
        if (cond_names(own[i], task))
            return true;
    const cJSON *effect;
    int role = w->task[task].role;
    cJSON_ArrayForEach(effect, w->task[task].effects) {
        const char *fact = text_of(effect, "fact", "");
        if (spots_feel(w, &r->left, role, fact) || spots_feel(w, &r->right, role, fact) ||
            spots_feel(w, &r->taken, role, fact))
            return true;
        for (int i = 0; i < n; i++)
            if (cond_feels(w, own[i], role, fact))
                return true;
    }
    return false;
}

static bool role_touched(const World *w, const Rule *r, int part, const Machine *m, int role) {
    if (role < 0)
        return false;
    const Choice *c = m->at[role];
    for (int i = 0; i < c->tasks; i++)
        if (task_touches(w, r, part, c->task[i]))
            return true;
    return c->adds;
}

bool body_touched(const World *w, const Rule *r, int part, const Machine *m) {
    if (r->to)
        return role_touched(w, r, part, m, r->to->role) ||
               role_touched(w, r, part, m, r->needs.at[part].role);
    for (int i = 0; i < r->bodies; i++)
        if (role_touched(w, r, part, m, r->body[i]))
            return true;
    return false;
}

bool applies(const World *w, const Rule *r, const Machine *m) {
    for (int i = 0; i < r->when.n; i++)
        if (ask(w, &r->when.at[i], m) == NO)
            return false;
    for (int i = 0; i < r->unless.n; i++)
        if (ask(w, &r->unless.at[i], m) == YES)
            return false;
    return true;
}

/* An unlock is one clash for each of its needs. */
int parts_of(const Rule *r) { return r->to ? r->needs.n : 1; }

static bool is_place(const Rule *r) { return !strcmp(r->shape, "place"); }

bool part_allows(const World *w, const Rule *r, int part, const Machine *m) {
    Finding f = examine(w, r, part, m), now = r->now[part];
    bool measured = !strcmp(r->shape, "within") || !strcmp(r->shape, "supply");
    if (f.how == FINE)
        return true;
    if (f.how == UNSURE)
        return w->allow_unknown || !body_touched(w, r, part, m);
    if (measured)
        return f.by <= (now.how == SHORT ? now.by : 0);
    return now.how == SHORT && !body_touched(w, r, part, m);
}

void who_asks(const World *w, const Machine *m, bool *asks) {
    for (int i = 0; i < w->rules; i++) {
        const Rule *r = &w->rule[i];
        asks[i] = is_place(r) && r->hard && !r->dropped && examine(w, r, 0, m).how == FINE;
    }
}

/* Rule by rule in file order the fewest that can be without a site today while
 * the rules behind it may leave out anything. */
static void learn_spare(World *w, const Machine *today, const bool *asks) {
    if (w->rules > 256)
        stop(2, "more rules than the checker holds");
    w->spare = hold(w, (size_t)w->rules * sizeof *w->spare);
    for (int i = 0; i < w->rules; i++)
        w->spare[i] = 1000000;
    for (int i = 0; i < w->rules; i++)
        for (w->spare[i] = 0; left_over(w, today, asks, w->spare) > 0;)
            w->spare[i]++;
}

void learn_today(World *w) {
    const Choice **at = hold(w, (size_t)w->roles * sizeof *at);
    bool *asks = hold(w, (size_t)w->rules * sizeof *asks);
    for (int i = 0; i < w->roles; i++)
        at[i] = w->role[i].today;
    Machine today = {at};
    for (int i = 0; i < w->rules; i++) {
        Rule *r = &w->rule[i];
        settle_today(&r->left, &today);
        settle_today(&r->right, &today);
        for (int p = 0; p < parts_of(r); p++)
            if (applies(w, r, &today))
                r->now[p] = examine(w, r, p, &today);
    }
    who_asks(w, &today, asks);
    learn_spare(w, &today, asks);
}

bool clause_allows(const World *w, const Rule *r, int part, const Machine *m) {
    return !r->hard || r->dropped || !applies(w, r, m) || part_allows(w, r, part, m);
}

/* What one hard rule says; a place rule here only whether it is sure enough. */
bool rule_allows(const World *w, const Rule *r, const Machine *m) {
    for (int p = 0; p < parts_of(r); p++)
        if (!clause_allows(w, r, p, m))
            return false;
    return true;
}

long long short_of(const World *w, const Rule *r, const Machine *m) {
    bool is_within = !strcmp(r->shape, "within");
    if (!applies(w, r, m) || examine(w, r, 0, m).how == UNSURE)
        return 0;
    if (is_within &&
        (look(&r->left.at[0], m)->state == BLANK || look(&r->right.at[0], m)->state == BLANK))
        return 0;
    return add_up(&r->left, m) - add_up(&r->right, m) + add_up(&r->taken, m);
}

bool places_allow(const World *w, const Machine *m) {
    bool asks[256] = {false};
    if (w->rules > 256)
        stop(2, "more rules than the checker holds");
    who_asks(w, m, asks);
    return left_over(w, m, asks, w->spare) == 0;
}

bool rules_allow(const World *w, const Machine *m) {
    for (int i = 0; i < w->rules; i++)
        if (!rule_allows(w, &w->rule[i], m))
            return false;
    return places_allow(w, m);
}
