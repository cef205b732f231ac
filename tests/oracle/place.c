/*
 * Places: every thing that asks tries every position in turn, or is left over;
 * the least number left over is what counts. Exact, by backtracking.
 */
#include "world.h"

#include <string.h>

enum { HELD = 512 };

typedef struct Site {
    const cJSON *json;
    int rule; /* -1: no rule uses it, yet others may take its positions away */
    int room;
    int piece;
} Site;

typedef struct Thing {
    const cJSON *json;
    int rule;
    int on; /* the site it was last tried on; -1: left out */
} Thing;

typedef struct Hall {
    Site site[HELD];
    Thing thing[HELD];
    int sites, things;
    int best;
    int spare[256]; /* things of a rule that may stay without a site */
    Which which;
} Hall;

static bool fits(const Thing *t, const Site *s) {
    const cJSON *size;
    const char *side = text_of(t->json, "side", NULL);
    const cJSON *deep = cJSON_GetObjectItemCaseSensitive(t->json, "depth_mm");
    const cJSON *depth = cJSON_GetObjectItemCaseSensitive(s->json, "depth_mm");
    const cJSON *far = cJSON_GetObjectItemCaseSensitive(s->json, "reach_mm");
    const cJSON *reach = cJSON_GetObjectItemCaseSensitive(t->json, "reach_mm");
    bool sized = false;
    if (far && reach && milli_of(reach) < milli_of(far))
        return false;
    if (t->rule != s->rule)
        return false;
    cJSON_ArrayForEach(size, cJSON_GetObjectItemCaseSensitive(s->json, "sizes")) sized =
        sized || !strcmp(size->valuestring, text_of(t->json, "size", ""));
    if (deep && depth && milli_of(deep) > milli_of(depth))
        return false;
    return sized && (!side || !strcmp(side, text_of(s->json, "side", "")));
}

/* Uses (or with sign -1 gives back) one position; says whether it all is there. */
static bool use(Hall *hall, int at, int sign) {
    Site *s = &hall->site[at];
    const cJSON *take;
    bool there = true;
    s->room -= sign;
    there = s->room >= 0;
    cJSON_ArrayForEach(take, cJSON_GetObjectItemCaseSensitive(
                                 s->json, "takes")) for (int i = 0; i < hall->sites; i++) {
        Site *other = &hall->site[i];
        if (other->piece != s->piece ||
            strcmp(text_of(other->json, "site", ""), text_of(take, "site", "")) != 0)
            continue;
        other->room -= sign * (int)number_of(take, "count", 1);
        there = there && other->room >= 0;
    }
    return there;
}

static bool same_text(const cJSON *a, const cJSON *b, const char *name) {
    return !strcmp(text_of(a, name, ""), text_of(b, name, ""));
}

static bool same_number(const cJSON *a, const cJSON *b, const char *name) {
    const cJSON *x = cJSON_GetObjectItemCaseSensitive(a, name);
    const cJSON *y = cJSON_GetObjectItemCaseSensitive(b, name);
    return x && y ? milli_of(x) == milli_of(y) : !x == !y;
}

static bool alike(const Thing *a, const Thing *b) {
    return a->rule == b->rule && same_text(a->json, b->json, "size") &&
           same_text(a->json, b->json, "side") && same_number(a->json, b->json, "depth_mm") &&
           same_number(a->json, b->json, "reach_mm");
}

/* Things that are alike stand beside each other, so that each may go on from where
 * the one before it stands: in whatever order, it is the same. */
static void add_thing(Hall *hall, Thing t) {
    int at = hall->things++;
    for (; at > 0 && !alike(&hall->thing[at - 1], &t); at--)
        ;
    at = at ? at : hall->things - 1;
    memmove(&hall->thing[at + 1], &hall->thing[at],
            (size_t)(hall->things - 1 - at) * sizeof hall->thing[at]);
    hall->thing[at] = t;
}

static int first_site(const Hall *hall, int at) {
    if (at == 0 || !alike(&hall->thing[at - 1], &hall->thing[at]))
        return 0;
    return hall->thing[at - 1].on < 0 ? hall->sites : hall->thing[at - 1].on;
}

static void try_thing(Hall *hall, int at, int left) {
    if (left >= hall->best)
        return;
    if (at == hall->things) {
        hall->best = left;
        return;
    }
    for (int i = first_site(hall, at); i < hall->sites; i++) {
        if (!fits(&hall->thing[at], &hall->site[i]))
            continue;
        hall->thing[at].on = i;
        if (use(hall, i, 1))
            try_thing(hall, at + 1, left);
        use(hall, i, -1);
        if (hall->best == 0)
            return;
    }
    hall->thing[at].on = -1;
    int *spare = &hall->spare[hall->thing[at].rule];
    bool may = (*spare)-- > 0;
    try_thing(hall, at + 1, may ? left : left + 1);
    (*spare)++;
}

int rule_for(const World *w, const bool *asks, int role, int fact, const char *kind, bool site) {
    for (int i = 0; i < w->rules; i++) {
        const Spots *list = site ? &w->rule[i].right : &w->rule[i].left;
        if (!asks[i] || strcmp(w->rule[i].kind, kind) != 0)
            continue;
        for (int k = 0; k < list->n; k++)
            if (list->at[k].role == role && list->at[k].fact == fact)
                return i;
    }
    return -1;
}

static void bring(const World *w, Hall *hall, const bool *asks, int role, int fact, int piece,
                  const cJSON *list) {
    const cJSON *json;
    cJSON_ArrayForEach(json, list) {
        bool site = cJSON_HasObjectItem(json, "site");
        int rule = rule_for(w, asks, role, fact, text_of(json, "kind", ""), site);
        int count = (int)number_of(json, "count", 1);
        if (site && hall->which == PLAIN_SITES && cJSON_HasObjectItem(json, "caution"))
            rule = -1;
        if (hall->sites + 1 > HELD || hall->things + count > HELD)
            stop(2, "more things and sites than the checker holds");
        if (site)
            hall->site[hall->sites++] = (Site){json, rule, count, piece};
        for (int i = 0; !site && rule >= 0 && i < count; i++)
            add_thing(hall, (Thing){json, rule, -1});
    }
}

int left_over(const World *w, const Machine *m, const bool *asks, const int *spare) {
    return left_over_on(w, m, asks, spare, ANY_SITE);
}

int left_over_on(const World *w, const Machine *m, const bool *asks, const int *spare,
                 Which which) {
    Hall hall = {.which = which};
    for (int i = 0; i < w->rules; i++)
        hall.spare[i] = spare[i];
    int number = 0;
    for (int r = 0; r < w->roles; r++) {
        const Choice *c = m->at[r];
        for (int p = 0; p < c->pieces; p++, number++)
            for (int f = 0; f < w->facts; f++)
                if (w->fact[f].type == SPOTS && w->fact[f].on[r] &&
                    c->piece[p].cell[f].state == KNOWN)
                    bring(w, &hall, asks, r, f, number, c->piece[p].cell[f].spots);
    }
    hall.best = hall.things + 1;
    try_thing(&hall, 0, 0);
    return hall.best;
}
