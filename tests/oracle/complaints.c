/*
 * What the client complains of: each complaint with its ends, held against today's
 * machine and against any other.
 */
#include "options.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

const cJSON *open_maybe(World *w, const char *name) {
    char *path = hold(w, strlen(w->catalog) + strlen(name) + 2);
    strcat(strcat(strcpy(path, w->catalog), "/"), name);
    FILE *f = fopen(path, "rb");
    if (!f)
        return NULL;
    fclose(f);
    return open_json(w, path);
}

Machine machine_today(World *w) {
    Machine m = {hold(w, (size_t)w->roles * sizeof *m.at)};
    for (int r = 0; r < w->roles; r++)
        m.at[r] = w->role[r].today;
    return m;
}

/* ---- reading ---- */

static bool is_by_today(const cJSON *json) {
    return get(json, "times") || get(json, "of") || get(json, "plus");
}

static Need read_need(World *w, const cJSON *json) {
    Need n = {.times = 1000};
    int role;
    if (!is_by_today(json)) {
        n.cond = read_cond(w, json);
        return n;
    }
    split_term(w, text_of(json, "fact", ""), &n.role, &n.fact);
    n.of = n.fact;
    if (get(json, "of"))
        split_term(w, text_of(json, "of", ""), &role, &n.of);
    if (get(json, "times"))
        n.times = milli_of(get(json, "times"));
    if (get(json, "plus"))
        n.plus = milli_of(get(json, "plus"));
    return n;
}

static End read_end(World *w, const cJSON *json) {
    static const char *const names[] = {"must", "loudness", "rate", "looks", "any"};
    End e = {.kind = MUST};
    const cJSON *value = NULL, *item;
    for (int i = 0; i < 5; i++)
        if (get(json, names[i])) {
            e.kind = (int)MUST + i;
            value = get(json, names[i]);
        }
    if (!value)
        stop(2, "an end of no known kind");
    if (cJSON_IsNumber(value)) {
        e.number = value->valuedouble;
        e.milli = milli_of(value);
    }
    if (e.kind != ANY)
        return e;
    e.need = hold(w, (size_t)cJSON_GetArraySize(value) * sizeof *e.need);
    cJSON_ArrayForEach(item, value) e.need[e.needs++] = read_need(w, item);
    return e;
}

/* The one that is named, else the first of those with the largest share. */
static int use_of(const World *w, const char *named) {
    int best = -1;
    for (int u = 0; u < w->uses; u++) {
        if (named && !strcmp(w->use[u].id, named))
            return u;
        if (best < 0 || w->use[u].share > w->use[best].share)
            best = u;
    }
    if (named || best < 0)
        stop(2, "the client has no use %s", named ? named : "at all");
    return best;
}

static Complaint read_complaint(World *w, const cJSON *list, const cJSON *said) {
    const cJSON *json, *end, *mine = NULL;
    Complaint c = {.id = text_of(said, "complaint", "")};
    cJSON_ArrayForEach(json, list) if (!strcmp(text_of(json, "complaint", ""), c.id)) mine = json;
    if (!mine)
        stop(2, "no complaint %s", c.id);
    c.end = hold(w, (size_t)cJSON_GetArraySize(get(mine, "ends")) * sizeof *c.end);
    cJSON_ArrayForEach(end, get(mine, "ends")) {
        c.end[c.ends] = read_end(w, end);
        if (c.end[c.ends++].kind != RATE || c.use)
            continue;
        c.which_use = use_of(w, text_of(said, "use", NULL));
        c.use = w->use[c.which_use].id;
    }
    return c;
}

/* ---- rates, in millionths of a doubling ---- */

static long long millionths(double x) { return llround(1e6 * x); }

static int column_of(const World *w, const Choice *c) {
    const Role *r = &w->role[c->role];
    return c == r->today ? r->choices : (int)(c - r->choice);
}

static long long doubling(const World *w, const Track *track, const Choice *c) {
    double sum = 0.0;
    for (int i = 0; i < track->factors; i++) {
        const Factor *f = &track->factor[i];
        double x = 1.0;
        if (f->role == c->role && reckon(w, f->is, c, &x) == KNOWN)
            sum += f->exponent * log2(x);
    }
    return millionths(sum);
}

static long long least_of(const Complaints *c, int use, const Machine *m) {
    const World *w = c->w;
    long long least = 0;
    bool any = false;
    for (int t = 0; t < w->tracks; t++) {
        if (w->track[t].use != use)
            continue;
        long long v = millionths(w->track[t].plain);
        for (int r = 0; r < w->roles; r++)
            v += c->doublings[r][column_of(w, m->at[r]) * w->tracks + t];
        least = !any || v < least ? v : least;
        any = true;
    }
    return least;
}

static void make_doublings(Complaints *c) {
    World *w = c->w;
    c->doublings = hold(w, (size_t)w->roles * sizeof *c->doublings);
    for (int r = 0; r < w->roles; r++) {
        const Role *role = &w->role[r];
        c->doublings[r] =
            hold(w, (size_t)(role->choices + 1) * (size_t)w->tracks * sizeof **c->doublings);
        for (int i = 0; i <= role->choices; i++)
            for (int t = 0; t < w->tracks; t++)
                c->doublings[r][i * w->tracks + t] =
                    doubling(w, &w->track[t], i < role->choices ? &role->choice[i] : role->today);
    }
    c->least_today = hold(w, (size_t)w->uses * sizeof *c->least_today);
    for (int u = 0; u < w->uses; u++)
        c->least_today[u] = least_of(c, u, &c->today);
}

/* ---- looks, in millionths ---- */

static long long looks_of(const Complaints *c, const Machine *m) {
    long long sum = 0;
    for (int r = 0; r < c->w->roles; r++)
        sum += c->looks[r][column_of(c->w, m->at[r])];
    return sum;
}

static void make_looks(Complaints *c) {
    World *w = c->w;
    const Criterion *k = NULL;
    for (int i = w->criteria - 1; i >= 0; i--)
        if (!strcmp(w->criterion[i].kind, "looks"))
            k = &w->criterion[i];
    if (!k)
        stop(2, "looks are complained of, and no criterion is about them");
    c->looks = hold(w, (size_t)w->roles * sizeof *c->looks);
    for (int r = 0; r < w->roles; r++) {
        const Role *role = &w->role[r];
        c->looks[r] = hold(w, (size_t)(role->choices + 1) * sizeof **c->looks);
        for (int i = 0; i <= role->choices; i++)
            c->looks[r][i] =
                millionths(shown(w, k, r) *
                           match_of(w, k, i < role->choices ? &role->choice[i] : role->today));
    }
    c->looks_today = looks_of(c, &c->today);
}

Complaints read_complaints(World *w) {
    const cJSON *said = get(w->job, "complaints"), *json;
    Complaints c = {.w = w, .today = machine_today(w)};
    c.sones_today = sones(w, &c.today);
    c.at = hold(w, (size_t)cJSON_GetArraySize(said) * sizeof *c.at);
    if (cJSON_GetArraySize(said) > 8)
        stop(2, "more complaints than the checker holds");
    const cJSON *file = cJSON_GetArraySize(said) ? open_maybe(w, "complaints.json") : NULL;
    cJSON_ArrayForEach(json, said) c.at[c.n++] = read_complaint(w, need(file, "complaints"), json);
    for (int i = 0; i < c.n; i++)
        for (int e = 0; e < c.at[i].ends; e++) {
            if (c.at[i].end[e].kind == RATE && !c.doublings)
                make_doublings(&c);
            if (c.at[i].end[e].kind == LOOKS && !c.looks)
                make_looks(&c);
        }
    for (int i = 0; i < c.n; i++) {
        c.at[i].shows = !ends_in(&c, &c.at[i], &c.today);
        for (int e = 0; e < c.at[i].ends; e++)
            c.at[i].shows = c.at[i].shows || c.at[i].end[e].kind == MUST;
    }
    return c;
}

/* ---- ends ---- */

static bool rate_holds(const Complaints *c, const Complaint *one, const End *e, const Machine *m) {
    const Use *use = &c->w->use[one->which_use];
    double t = use->capped && use->ratio < e->number ? use->ratio : e->number;
    long long more = (long long)floor(1e6 * log2(t)) - 10;
    return least_of(c, one->which_use, m) >= c->least_today[one->which_use] + more;
}

static bool looks_hold(const Complaints *c, const End *e, const Machine *m) {
    long long missing = 1000000 - c->looks_today, product = e->milli * missing;
    long long more = product / 1000;
    if (product > 0 && product % 1000 != 0)
        more++;
    return looks_of(c, m) >= c->looks_today + more;
}

static bool need_holds(const Complaints *c, const Need *n, const Machine *m) {
    if (n->cond)
        return ask(c->w, n->cond, m) == YES;
    const Cell *then = &m->at[n->role]->cell[n->fact];
    const Cell *now = &c->today.at[n->role]->cell[n->of];
    if (then->state != KNOWN || now->state != KNOWN)
        return false;
    return then->milli * 1000 >= n->times * now->milli + n->plus * 1000;
}

static bool end_holds(const Complaints *c, const Complaint *one, const End *e, const Machine *m) {
    bool any = false;
    switch (e->kind) {
    case MUST:
        return cJSON_GetArraySize(get(c->w->job, "musts")) > 0;
    case LOUDNESS:
        return c->w->quiet.scored && sones(c->w, m) <= e->number * c->sones_today + 1e-9;
    case RATE:
        return rate_holds(c, one, e, m);
    case LOOKS:
        return looks_hold(c, e, m);
    case ANY:
        for (int i = 0; i < e->needs; i++)
            any = any || need_holds(c, &e->need[i], m);
        return any;
    }
    return false;
}

bool ends_in(const Complaints *c, const Complaint *one, const Machine *m) {
    for (int i = 0; i < one->ends; i++)
        if (!end_holds(c, one, &one->end[i], m))
            return false;
    return true;
}
