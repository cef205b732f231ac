/*
 * What the rules say of the machine that is judged, and everything about places
 * that a placement can be held against.
 */
#include "fits.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct Said {
    const char *verdict;
    bool shows; /* need and room */
    long long need, room;
    bool broken;
} Said;

static bool is(const Rule *r, const char *shape) { return !strcmp(r->shape, shape); }

/* Millionths, without needless zeros. */
static void print_exact(const char *name, long long millionths) {
    long long size = llabs(millionths);
    char part[16];
    snprintf(part, sizeof part, ".%06lld", size % 1000000);
    for (size_t n = strlen(part); n && (part[n - 1] == '0' || part[n - 1] == '.'); n--)
        part[n - 1] = '\0';
    printf(",\"%s\":\"%s%lld%s\"", name, millionths < 0 ? "-" : "", size / 1000000, part);
}

static const Cell *look(const Spot *s, const Machine *m) { return &m->at[s->role]->cell[s->fact]; }

static bool is_void(const Spots *list, const Machine *m) {
    return list->n && list->at[0].role >= 0 && look(&list->at[0], m)->state == BLANK;
}

static bool compares(const Rule *r, const Machine *m) {
    bool two = is(r, "same") || is(r, "among") || is(r, "within");
    return !two || (!is_void(&r->left, m) && !is_void(&r->right, m));
}

static long long add_up(const Spots *list, const Machine *m) {
    long long sum = 0;
    for (int i = 0; i < list->n; i++) {
        const Spot *s = &list->at[i];
        sum += s->role < 0 ? s->fixed * 1000 : rule_number(look(s, m)) * s->factor;
    }
    return sum;
}

/* ---- places ---- */

typedef void (*Each)(const World *w, const Machine *m, int role, int piece, int fact,
                     const cJSON *entry, void *about);

static void each_entry(const World *w, const Machine *m, Each each, void *about) {
    int number = 0;
    for (int r = 0; r < w->roles; r++)
        for (int p = 0; p < m->at[r]->pieces; p++, number++)
            for (int f = 0; f < w->facts; f++) {
                const Cell *cell = &m->at[r]->piece[p].cell[f];
                const cJSON *entry;
                if (w->fact[f].type == SPOTS && w->fact[f].on[r] && cell->state == KNOWN)
                    cJSON_ArrayForEach(entry, cell->spots) each(w, m, r, number, f, entry, about);
            }
}

typedef struct Tally {
    const bool *asks;
    int things;
} Tally;

static void tally(const World *w, const Machine *m, int role, int piece, int fact,
                  const cJSON *entry, void *about) {
    Tally *t = about;
    (void)m;
    (void)piece;
    if (!cJSON_HasObjectItem(entry, "site") &&
        rule_for(w, t->asks, role, fact, text_of(entry, "kind", ""), false) >= 0)
        t->things += (int)number_of(entry, "count", 1);
}

static int things_of(const World *w, const Machine *m, const bool *asks) {
    Tally t = {asks, 0};
    each_entry(w, m, tally, &t);
    return t.things;
}

static bool *alone(World *w, int rule) {
    bool *asks = hold(w, (size_t)w->rules * sizeof *asks);
    asks[rule] = true;
    return asks;
}

static int left_alone(World *w, const Machine *m, int rule) {
    int *none = hold(w, (size_t)w->rules * sizeof *none);
    return left_over(w, m, alone(w, rule), none);
}

static Said say_place(World *w, int rule, const Machine *m) {
    int things = things_of(w, m, alone(w, rule)), left = left_alone(w, m, rule);
    Said s = {"holds", true, things * 1000000LL, (things - left) * 1000000LL, left > 0};
    if (!things)
        s = (Said){"moot", false, 0, 0, false};
    else if (left && !w->rule[rule].hard)
        s.verdict = "mind";
    else if (left)
        s.verdict = left <= w->spare[rule] ? "today" : "refused";
    return s;
}

/* ---- verdicts ---- */

static Said say(World *w, int rule, int part, const Machine *m) {
    const Rule *r = &w->rule[rule];
    Finding f = examine(w, r, part, m);
    Said s = {.verdict = "moot"};
    if (!applies(w, r, m) || !compares(r, m))
        return s;
    if (f.how == UNSURE) {
        s.verdict = r->hard && !body_touched(w, r, part, m) ? "today" : "unknown";
        return s;
    }
    if (is(r, "place"))
        return say_place(w, rule, m);
    s.broken = f.how == SHORT;
    s.shows = is(r, "within") || is(r, "supply");
    s.need = add_up(&r->left, m);
    s.room = add_up(&r->right, m) - add_up(&r->taken, m);
    s.verdict = f.how == FINE                ? "holds"
                : !r->hard                   ? "mind"
                : part_allows(w, r, part, m) ? "today"
                                             : "refused";
    return s;
}

/* ---- what is unknown ---- */

static void print_one_unknown(const World *w, int role, int fact, bool *first) {
    printf("%s{\"role\":\"%s\",\"fact\":\"%s\"}", *first ? "" : ",", w->role[role].id,
           w->fact[fact].name);
    *first = false;
}

static void print_unknown_spots(const World *w, const Spots *list, const Machine *m, bool *first) {
    for (int i = 0; i < list->n; i++)
        if (list->at[i].role >= 0 && look(&list->at[i], m)->state == UNKNOWN)
            print_one_unknown(w, list->at[i].role, list->at[i].fact, first);
}

static void print_unknown_cond(const World *w, const Cond *c, const Machine *m, bool *first) {
    if (ask(w, c, m) != MAYBE)
        return;
    while (c->kind == NOT)
        c = c->inner;
    print_one_unknown(w, c->role, c->fact, first);
}

/* Any of these may be named as what is not known. */
static void print_unknowns(const World *w, const Rule *r, int part, const Machine *m) {
    bool first = true;
    printf(",\"unknowns\":[");
    print_unknown_spots(w, &r->left, m, &first);
    print_unknown_spots(w, &r->right, m, &first);
    print_unknown_spots(w, &r->taken, m, &first);
    for (int i = 0; i < r->of.n; i++)
        print_unknown_cond(w, &r->of.at[i], m, &first);
    if (r->to) {
        print_unknown_cond(w, r->to, m, &first);
        print_unknown_cond(w, &r->needs.at[part], m, &first);
    }
    putchar(']');
}

/* ---- the answer ---- */

static void print_piece(const World *w, int role, const char *id, int count, const char *kept,
                        bool *first) {
    printf("%s{\"role\":\"%s\",\"part\":\"%s\",\"count\":%d", *first ? "" : ",", w->role[role].id,
           id, count);
    if (kept)
        printf(",\"kept\":%s", kept);
    putchar('}');
    *first = false;
}

static int by_present(const void *a, const void *b) {
    return strcmp((*(const Present *const *)a)->id, (*(const Present *const *)b)->id);
}

/* Of one role, in byte order: what stays or what comes out. */
static void print_present(World *w, const Choice *c, bool out, bool *first) {
    const Role *r = &w->role[c->role];
    const Present **sorted = hold(w, (size_t)r->presents * sizeof *sorted);
    for (int i = 0; i < r->presents; i++)
        sorted[i] = &r->present[i];
    if (r->presents)
        qsort(sorted, (size_t)r->presents, sizeof *sorted, by_present);
    for (int i = 0; i < r->presents; i++) {
        int kept = c->kept[sorted[i] - r->present];
        int n = out ? sorted[i]->count - kept : kept;
        if (n)
            print_piece(w, c->role, sorted[i]->id, n, out ? NULL : "true", first);
    }
}

static void print_added(const World *w, const Choice *c, bool *first) {
    for (int round = 0, last = -1; round < c->lines; round++) {
        int next = -1;
        for (int i = 0; i < c->lines; i++) {
            const char *id = w->part[c->line[i].listing->part].id;
            if ((last < 0 || strcmp(id, w->part[c->line[last].listing->part].id) > 0) &&
                (next < 0 || strcmp(id, w->part[c->line[next].listing->part].id) < 0))
                next = i;
        }
        last = next;
        print_piece(w, c->role, w->part[c->line[next].listing->part].id, c->line[next].count,
                    "false", first);
    }
}

static void print_machine(World *w, const Machine *m) {
    bool first = true;
    printf(",\"pieces\":[");
    for (int r = 0; r < w->roles; r++) {
        print_present(w, m->at[r], false, &first);
        print_added(w, m->at[r], &first);
    }
    first = true;
    printf("],\"out\":[");
    for (int r = 0; r < w->roles; r++)
        print_present(w, m->at[r], true, &first);
    first = true;
    printf("],\"tasks\":[");
    for (int r = 0; r < w->roles; r++)
        for (int i = 0; i < m->at[r]->tasks; i++) {
            printf("%s\"%s\"", first ? "" : ",", w->task[m->at[r]->task[i]].id);
            first = false;
        }
    putchar(']');
}

static void print_rules(World *w, const Machine *m) {
    bool first = true;
    printf(",\"rules\":[");
    for (int i = 0; i < w->rules; i++)
        for (int p = 0; p < parts_of(&w->rule[i]); p++) {
            Said s = say(w, i, p, m);
            printf("%s{\"rule\":\"%s\",\"verdict\":\"%s\",\"broken\":%s", first ? "" : ",",
                   w->rule[i].id, s.verdict, s.broken ? "true" : "false");
            first = false;
            if (s.shows) {
                print_exact("need", s.need);
                print_exact("room", s.room);
            }
            print_unknowns(w, &w->rule[i], p, m);
            putchar('}');
        }
    putchar(']');
}

typedef struct Listed {
    const bool *asks;
    bool first;
} Listed;

static void print_entry(const World *w, const Machine *m, int role, int piece, int fact,
                        const cJSON *entry, void *about) {
    Listed *l = about;
    int number = piece;
    for (int r = 0; r < role; r++)
        number -= m->at[r]->pieces;
    bool site = cJSON_HasObjectItem(entry, "site");
    int rule = rule_for(w, l->asks, role, fact, text_of(entry, "kind", ""), site);
    char *text = cJSON_PrintUnformatted(entry);
    printf("%s{\"piece\":%d,\"role\":\"%s\",\"part\":\"%s\",\"rule\":", l->first ? "" : ",", piece,
           w->role[role].id, m->at[role]->piece[number].id);
    if (rule < 0)
        printf("null");
    else
        printf("\"%s\"", w->rule[rule].id);
    printf(",\"%s\":%s}", site ? "at" : "thing", text ? text : "null");
    cJSON_free(text);
    l->first = false;
}

/* `plain` is what is left when no site with a caution is used. */
static void print_places(World *w, const Machine *m) {
    bool *asks = hold(w, (size_t)w->rules * sizeof *asks);
    bool first = true;
    who_asks(w, m, asks);
    printf(",\"places\":{\"asked\":%d,\"left\":%d,\"plain\":%d,\"spares\":[", things_of(w, m, asks),
           left_over(w, m, asks, w->spare), left_over_on(w, m, asks, w->spare, PLAIN_SITES));
    for (int i = 0; i < w->rules; i++)
        if (asks[i]) {
            printf("%s{\"rule\":\"%s\",\"asks\":%d,\"spare\":%d}", first ? "" : ",", w->rule[i].id,
                   things_of(w, m, alone(w, i)), w->spare[i]);
            first = false;
        }
    printf("],\"entries\":[");
    each_entry(w, m, print_entry, &(Listed){asks, true});
    printf("]}");
}

/* "unknown" when what forbids is only that something is not known. */
static const char *verdict_of(const World *w, const Machine *m) {
    bool unsure = false, broken = !places_allow(w, m);
    for (int i = 0; i < w->rules; i++)
        for (int p = 0; p < parts_of(&w->rule[i]); p++) {
            if (clause_allows(w, &w->rule[i], p, m))
                continue;
            bool unknown = examine(w, &w->rule[i], p, m).how == UNSURE;
            unsure = unsure || unknown;
            broken = broken || !unknown;
        }
    return broken ? "refused" : unsure ? "unknown" : "fits";
}

void print_trial(World *w, const Trial *t) {
    Machine m = {t->at};
    printf("{\"verdict\":\"%s\",\"trial\":%ld", verdict_of(w, &m), t->number);
    print_machine(w, &m);
    print_rules(w, &m);
    print_places(w, &m);
    putchar('}');
}

int answer_fits(World *w, char *const *part, int parts) {
    Trial t;
    const char *why = "";
    if (!find_trial(w, part, parts, &t, &why)) {
        printf("{\"verdict\":\"no-question\",\"why\":\"%s\"}\n", why);
        return 64;
    }
    print_trial(w, &t);
    putchar('\n');
    return t.obeys ? 0 : 1;
}
