/*
 * Points, in whole thousandths: the speed of uses, quiet, looks and ratings, each
 * measured against the baseline.
 */
#include "world.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static long long thousandths(double x) { return llround(1000.0 * x); }

static const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static double weight_of(const World *w, const char *id) {
    const cJSON *wishes = get(w->job, "wishes"), *swings = get(wishes, "swings"), *item;
    const cJSON *ranks = get(wishes, "ranks");
    double sum = 0.0, tail = 0.0;
    if (!ranks) {
        cJSON_ArrayForEach(item, swings) sum += item->valuedouble;
        return get(swings, id) ? get(swings, id)->valuedouble / sum : 0.0;
    }
    int n = cJSON_GetArraySize(ranks), k = 0;
    while (k < n && strcmp(cJSON_GetArrayItem(ranks, k)->valuestring, id) != 0)
        k++;
    for (int i = k; i < n; i++)
        tail += 1.0 / (double)(i + 1);
    return tail / (double)n;
}

typedef struct Tracks {
    int n;
    Track *at;
} Tracks;

typedef struct Exponent { /* and the ends between which it may lie */
    double is, low, high;
} Exponent;

static const cJSON *first_op(const cJSON *is) {
    const cJSON *op = is->child;
    while (op && !strcmp(op->string, "note"))
        op = op->next;
    return op;
}

static int role_in(const World *w, const cJSON *is) {
    int role = -1, fact;
    const cJSON *item;
    if (cJSON_IsString(is) && strchr(is->valuestring, '.')) {
        split_term(w, is->valuestring, &role, &fact);
        return role;
    }
    if (cJSON_IsArray(is) || cJSON_IsObject(is))
        cJSON_ArrayForEach(item,
                           is) if (role < 0 && !(item->string && (!strcmp(item->string, "note") ||
                                                                  !strcmp(item->string, "from"))))
            role = role_in(w, item);
    return role;
}

/* Exponents of powers over powers multiply, and so do their ends. */
static Exponent raise(Exponent e, const cJSON *pair) {
    double by = cJSON_GetArrayItem(pair, 1)->valuedouble;
    const cJSON *low = cJSON_GetArrayItem(pair, 2), *high = cJSON_GetArrayItem(pair, 3);
    return (Exponent){e.is * by, e.low * (low ? low->valuedouble : by),
                      e.high * (high ? high->valuedouble : by)};
}

static Tracks spread(World *w, const cJSON *is, Exponent exponent, Tracks in);

static Tracks spread_least(World *w, const cJSON *list, Exponent exponent, Tracks in) {
    Tracks out = {0, NULL};
    const cJSON *item;
    cJSON_ArrayForEach(item, list) {
        Tracks more = spread(w, item, exponent, in);
        Track *fresh = hold(w, (size_t)(out.n + more.n) * sizeof *fresh);
        if (out.n)
            memcpy(fresh, out.at, (size_t)out.n * sizeof *fresh);
        memcpy(fresh + out.n, more.at, (size_t)more.n * sizeof *fresh);
        out = (Tracks){out.n + more.n, fresh};
    }
    return out;
}

/* Every track of `in`, multiplied by what `is` can be. */
static Tracks spread(World *w, const cJSON *is, Exponent exponent, Tracks in) {
    const cJSON *op = cJSON_IsObject(is) ? first_op(is) : NULL, *item;
    if (op && !strcmp(op->string, "least"))
        return spread_least(w, op, exponent, in);
    if (op && !strcmp(op->string, "power"))
        return spread(w, cJSON_GetArrayItem(op, 0), raise(exponent, op), in);
    if (op && !strcmp(op->string, "product")) {
        cJSON_ArrayForEach(item, op) in = spread(w, item, exponent, in);
        return in;
    }
    Tracks out = {in.n, hold(w, (size_t)in.n * sizeof *out.at)};
    for (int i = 0; i < in.n; i++) {
        Track *t = &out.at[i];
        *t = in.at[i];
        if (cJSON_IsNumber(is)) {
            t->plain += exponent.is * log2(is->valuedouble);
            continue;
        }
        t->factor = hold(w, (size_t)(t->factors + 1) * sizeof *t->factor);
        if (t->factors)
            memcpy(t->factor, in.at[i].factor, (size_t)t->factors * sizeof *t->factor);
        t->factor[t->factors++] =
            (Factor){role_in(w, is), is, exponent.is, exponent.low, exponent.high};
    }
    return out;
}

const cJSON *find_use(const cJSON *uses, const char *id) {
    const cJSON *json;
    cJSON_ArrayForEach(json,
                       need(uses, "uses")) if (!strcmp(text_of(json, "id", ""), id)) return json;
    stop(2, "no use %s", id);
}

static double speed_weight(const World *w) {
    for (int i = 0; i < w->criteria; i++)
        if (!strcmp(w->criterion[i].kind, "speed"))
            return w->criterion[i].weight;
    return 0.0;
}

static void read_use(World *w, Use *use, const cJSON *json) {
    const cJSON *stage;
    double weight = speed_weight(w);
    cJSON_ArrayForEach(stage, need(json, "stages")) {
        Track *empty = hold(w, sizeof *empty);
        *empty = (Track){.use = (int)(use - w->use)};
        Tracks all = spread(w, need(stage, "rate"), (Exponent){1.0, 1.0, 1.0}, (Tracks){1, empty});
        for (int i = 0; i < all.n; i++) {
            w->track = grow(w, w->track, w->tracks, &w->track_room, sizeof *w->track);
            all.at[i].base = thousandths(100.0 * weight * use->share * all.at[i].plain);
            w->track[w->tracks++] = all.at[i];
        }
    }
}

static void read_uses(World *w, const cJSON *uses) {
    const cJSON *list = get(get(w->job, "wishes"), "uses"), *json;
    double shares = 0.0;
    w->use = hold(w, (size_t)cJSON_GetArraySize(list) * sizeof *w->use);
    cJSON_ArrayForEach(json, list) shares += need(json, "share")->valuedouble;
    cJSON_ArrayForEach(json, list) {
        Use *use = &w->use[w->uses++];
        const cJSON *now = get(json, "rate_now"), *wanted = get(json, "rate_wanted");
        use->id = text_of(json, "use", "");
        use->share = need(json, "share")->valuedouble / shares;
        use->capped = now && wanted;
        if (use->capped)
            use->ratio = wanted->valuedouble / now->valuedouble;
        read_use(w, use, find_use(uses, use->id));
    }
}

void read_criteria(World *w, const cJSON *criteria, const cJSON *uses) {
    const cJSON *list = need(criteria, "criteria"), *json;
    bool speed = false;
    w->criterion = hold(w, (size_t)cJSON_GetArraySize(list) * sizeof *w->criterion);
    cJSON_ArrayForEach(json, list) {
        Criterion *c = &w->criterion[w->criteria++];
        c->id = text_of(json, "id", "");
        c->kind = text_of(json, "kind", "");
        c->json = json;
        c->weight = weight_of(w, c->id);
        speed = speed || !strcmp(c->kind, "speed");
        if (!strcmp(c->kind, "quiet"))
            read_quiet(w, json, uses);
    }
    if (speed)
        read_uses(w, uses);
}

static bool score_speed(World *w, Choice *c) {
    double weight = speed_weight(w);
    for (int t = 0; t < w->tracks; t++) {
        const Track *track = &w->track[t];
        double sum = 0.0;
        for (int i = 0; i < track->factors; i++) {
            const Factor *f = &track->factor[i];
            double x = 0.0;
            if (f->role != c->role)
                continue;
            State state = reckon(w, f->is, c, &x);
            if (state == UNKNOWN || (state == KNOWN && x <= 0.0))
                return false;
            if (state == KNOWN)
                sum += f->exponent * log2(x);
        }
        c->score[t] = thousandths(100.0 * weight * w->use[track->use].share * sum);
    }
    return true;
}

/* Fills the columns that need no baseline; false when the choice cannot serve. */
bool can_serve(World *w, Choice *c) {
    c->score = hold(w, (size_t)(w->tracks + w->criteria) * sizeof *c->score);
    return hear(w, c) && score_speed(w, c);
}

static double hit_of(const World *w, const cJSON *aspect, const Cell *cell) {
    const cJSON *scale = get(aspect, "scale"), *item;
    if (scale) {
        double x = (double)cell->milli / 1000.0 / scale->valuedouble;
        return x < 0.0 ? 0.0 : x > 1.0 ? 1.0 : x;
    }
    int hits = 0;
    cJSON_ArrayForEach(item, get(get(get(w->job, "wishes"), "taste"),
                                 text_of(aspect, "fact", ""))) for (int i = 0; i < cell->bag.n; i++)
        hits += !strcmp(w->name[cell->bag.name[i]], item->valuestring);
    return (double)hits / (double)cell->bag.n;
}

double match_of(const World *w, const Criterion *k, const Choice *c) {
    const cJSON *aspect;
    double sum = 0.0, weights = 0.0;
    cJSON_ArrayForEach(aspect, get(k->json, "aspects")) {
        const char *name = text_of(aspect, "fact", "");
        int fact = find_fact(w, name);
        bool named = get(aspect, "scale") || get(get(get(w->job, "wishes"), "taste"), name);
        if (!w->fact[fact].on[c->role] || c->cell[fact].state != KNOWN || !named)
            continue;
        double weight = need(aspect, "weight")->valuedouble;
        sum += weight * hit_of(w, aspect, &c->cell[fact]);
        weights += weight;
    }
    return weights > 0.0 ? sum / weights : 0.0;
}

double shown(const World *w, const Criterion *k, int role) {
    const cJSON *show;
    double all = 0.0, mine = 0.0;
    cJSON_ArrayForEach(show, get(k->json, "shows")) {
        double weight = need(show, "weight")->valuedouble;
        all += weight;
        if (!strcmp(text_of(show, "role", ""), w->role[role].id))
            mine += weight;
    }
    return mine / all;
}

/* From whole thousandths, so that a half stays a half where the weight allows. */
static long long rating(const World *w, const Criterion *k, const Choice *c) {
    const cJSON *term;
    double scale = need(k->json, "scale")->valuedouble, milli = 0.0;
    cJSON_ArrayForEach(term, get(k->json, "facts")) {
        int role, fact;
        split_term(w, term->valuestring, &role, &fact);
        if ((role < 0 ? w->fact[fact].on[c->role] : role == c->role) &&
            c->cell[fact].state == KNOWN)
            milli += (double)c->cell[fact].milli;
    }
    return llround(100.0 * k->weight * milli / scale);
}

/* The columns of looks and ratings; looks are measured against the baseline. */
void score_choices(World *w, const Machine *base) {
    for (int i = 0; i < w->criteria; i++) {
        const Criterion *k = &w->criterion[i];
        bool looks = !strcmp(k->kind, "looks");
        double now = 0.0;
        for (int r = 0; looks && r < w->roles; r++)
            now += shown(w, k, r) * match_of(w, k, base->at[r]);
        for (int r = 0; r < w->roles; r++)
            for (int c = 0; c <= w->role[r].choices; c++) {
                Choice *choice = c < w->role[r].choices ? &w->role[r].choice[c] : w->role[r].today;
                if (!strcmp(k->kind, "rated"))
                    choice->score[w->tracks + i] = rating(w, k, choice);
                else if (looks && 1.0 - now >= 1e-9)
                    choice->score[w->tracks + i] = thousandths(
                        100.0 * k->weight * shown(w, k, r) * match_of(w, k, choice) / (1.0 - now));
            }
    }
}

static long long speed_of(const World *w, int use, const Machine *m) {
    long long least = 0;
    bool none = true;
    for (int t = 0; t < w->tracks; t++) {
        if (w->track[t].use != use)
            continue;
        long long v = w->track[t].base;
        for (int r = 0; r < w->roles; r++)
            v += m->at[r]->score[t];
        least = none || v < least ? v : least;
        none = false;
    }
    return least;
}

static long long speed_gain(const World *w, const Criterion *k, const Machine *m,
                            const Machine *base) {
    long long sum = 0;
    for (int u = 0; u < w->uses; u++) {
        const Use *use = &w->use[u];
        long long gain = speed_of(w, u, m) - speed_of(w, u, base);
        if (use->capped) {
            long long cap = thousandths(100.0 * k->weight * use->share * log2(use->ratio));
            cap = cap < 0 ? 0 : cap;
            gain = gain > cap ? cap : gain;
        }
        sum += gain;
    }
    return sum;
}

static long long quiet_points(const World *w, const Criterion *k, const Machine *m) {
    return thousandths(-100.0 * k->weight * log2(sones(w, m)));
}

long long score_of(const World *w, const Machine *m, const Machine *base, long long *by_criterion) {
    long long sum = 0;
    for (int i = 0; i < w->criteria; i++) {
        const Criterion *k = &w->criterion[i];
        long long points = 0;
        if (!strcmp(k->kind, "speed"))
            points = speed_gain(w, k, m, base);
        else if (!strcmp(k->kind, "quiet"))
            points = quiet_points(w, k, m) - quiet_points(w, k, base);
        else
            for (int r = 0; r < w->roles; r++)
                points += m->at[r]->score[w->tracks + i] - base->at[r]->score[w->tracks + i];
        if (by_criterion)
            by_criterion[i] = points;
        sum += points;
    }
    return sum;
}
