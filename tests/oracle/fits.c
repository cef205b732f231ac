/*
 * Trials by plain enumeration: every way to keep pieces beside the named parts,
 * then every set of tasks on each trial in turn.
 */
#include "fits.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { COUNTED = 1000, MOST_TRIALS = 4000000 };

typedef struct Asked { /* what one role is to get */
    Line line[32];
    Listing parcel[32];
    int lines;
} Asked;

typedef struct Options { /* one role's bare fit-outs, then one fit-out's task sets */
    Choice *at;
    int n, room;
    const Asked *asked;
} Options;

typedef struct Course { /* one trial: which fit-out of each role */
    int *which;
    int kept;
    const Options *all;
    const World *w;
} Course;

/* An own part of the present machine, which may be bought as it is. */
static int adopt(World *w, const char *id) {
    for (int r = 0; r < w->roles; r++)
        for (int i = 0; i < w->role[r].presents; i++) {
            const Present *p = &w->role[r].present[i];
            if (strcmp(p->id, id) != 0)
                continue;
            w->part = grow(w, w->part, w->parts, &w->part_room, sizeof *w->part);
            w->part[w->parts] = (Part){.id = id, .maker = "", .role = r, .cell = p->cell};
            return w->parts++;
        }
    return -1;
}

static bool gather(World *w, char *const *part, int parts, Asked *asked, const char **why) {
    for (int i = 0; i < parts; i++) {
        int at = find_part(w, part[i]), k = 0;
        at = at < 0 ? adopt(w, part[i]) : at;
        *why = "no such part";
        if (at < 0)
            return false;
        Asked *a = &asked[w->part[at].role];
        while (k < a->lines && a->parcel[k].part != at)
            k++;
        *why = "too many kinds";
        if (k == 32)
            return false;
        if (k == a->lines)
            a->parcel[a->lines++] = (Listing){.part = at, .seller = w->sellers - 1};
        a->line[k] = (Line){&a->parcel[k], a->line[k].count + 1};
    }
    return true;
}

static bool may_ask(const World *w, int role, const Asked *a, const char **why) {
    const Role *r = &w->role[role];
    *why = "too many kinds";
    if (a->lines > r->kinds)
        return false;
    *why = "so many of one part are not added";
    for (int i = 0; i < a->lines; i++)
        if (a->line[i].count > r->most || !r->count[a->line[i].count])
            return false;
    return true;
}

static Choice *more(World *w, Options *o) {
    o->at = grow(w, o->at, o->n, &o->room, sizeof *o->at);
    return &o->at[o->n++];
}

static void add_bare(World *w, int role, const int *kept, void *about) {
    Options *o = about;
    Choice c = fit_out(w, role, kept, o->asked->line, o->asked->lines);
    if (c.pieces < w->role[role].least || c.pieces > w->role[role].most)
        return;
    settle(w, &c);
    c.key = key_of(w, &c);
    *more(w, o) = c;
}

static bool list_options(World *w, const Asked *asked, Options *all, const char **why) {
    for (int r = 0; r < w->roles; r++) {
        all[r].asked = &asked[r];
        if (!asked[r].lines) {
            w->role[r].today->key = key_of(w, w->role[r].today);
            *more(w, &all[r]) = *w->role[r].today;
            continue;
        }
        int *kept = hold(w, (size_t)w->role[r].presents * sizeof *kept);
        if (!may_ask(w, r, &asked[r], why))
            return false;
        each_kept(w, r, kept, 0, (Stay){add_bare, &all[r]});
        *why = "more pieces than the role holds, or fewer";
        if (!all[r].n)
            return false;
    }
    return true;
}

static int by_course(const void *a, const void *b) {
    const Course *x = a, *y = b;
    if (x->kept != y->kept)
        return x->kept > y->kept ? -1 : 1;
    for (int r = 0; r < x->w->roles; r++) {
        int d = strcmp(x->all[r].at[x->which[r]].key, y->all[r].at[y->which[r]].key);
        if (d)
            return d;
    }
    return 0;
}

static int kept_in(const World *w, const Choice *c) {
    int n = 0;
    for (int i = 0; i < w->role[c->role].presents; i++)
        n += c->kept[i];
    return n;
}

/* Every trial there is, in the page's order. */
static Course *list_courses(World *w, const Options *all, long *n) {
    *n = 1;
    for (int r = 0; r < w->roles; r++) {
        *n *= all[r].n;
        if (*n > MOST_TRIALS)
            stop(3, "more trials than the checker holds");
    }
    Course *list = hold(w, (size_t)*n * sizeof *list);
    for (long i = 0; i < *n; i++) {
        long number = i;
        Course *c = &list[i];
        *c = (Course){.which = hold(w, (size_t)w->roles * sizeof *c->which), .all = all, .w = w};
        for (int r = 0; r < w->roles; r++) {
            c->which[r] = (int)(number % all[r].n);
            c->kept += kept_in(w, &all[r].at[c->which[r]]);
            number /= all[r].n;
        }
    }
    qsort(list, (size_t)*n, sizeof *list, by_course);
    return list;
}

static void add_tasked(World *w, Choice c, void *about) {
    Options *o = about;
    c.key = key_of(w, &c);
    *more(w, o) = c;
}

/* Fewest tasks, then role by role the smaller key. */
static bool is_before(const World *w, const Choice **a, const Choice **b) {
    int d = 0;
    for (int r = 0; r < w->roles; r++)
        d += a[r]->tasks - b[r]->tasks;
    for (int r = 0; !d && r < w->roles; r++)
        d = strcmp(a[r]->key, b[r]->key);
    return d < 0;
}

/* Tries every set of tasks on one trial; true when some machine obeys. */
static bool try_course(World *w, const Course *c, const Choice **best) {
    Options *o = hold(w, (size_t)w->roles * sizeof *o);
    const Choice **at = hold(w, (size_t)w->roles * sizeof *at);
    long n = 1;
    bool found = false;
    for (int r = 0; r < w->roles; r++) {
        each_task_set(w, &c->all[r].at[c->which[r]], (Sink){add_tasked, &o[r]});
        n *= o[r].n;
        if (n > MOST_TRIALS)
            stop(3, "more sets of tasks than the checker holds");
    }
    for (long i = 0; i < n; i++) {
        long number = i;
        for (int r = 0; r < w->roles; r++) {
            at[r] = &o[r].at[number % o[r].n];
            number /= o[r].n;
        }
        if ((found && !is_before(w, at, best)) || !rules_allow(w, &(Machine){at}))
            continue;
        memcpy(best, at, (size_t)w->roles * sizeof *at);
        found = true;
    }
    return found;
}

static bool is_place(const Rule *r) { return !strcmp(r->shape, "place"); }

/* How many hard rules forbid it: all place rules are one, each need of an unlock is one. */
static int forbidding(const World *w, const Machine *m) {
    int n = 0;
    bool places = !places_allow(w, m);
    for (int i = 0; i < w->rules; i++)
        for (int p = 0; p < parts_of(&w->rule[i]); p++) {
            bool allows = clause_allows(w, &w->rule[i], p, m);
            if (is_place(&w->rule[i]))
                places = places || !allows;
            else
                n += !allows;
        }
    return n + places;
}

static void set_bare(const World *w, const Course *c, const Choice **at) {
    for (int r = 0; r < w->roles; r++)
        at[r] = &c->all[r].at[c->which[r]];
}

static void choose_trial(World *w, const Course *list, long n, Trial *out) {
    int least = -1;
    const Choice **at = hold(w, (size_t)w->roles * sizeof *at);
    n = n > COUNTED ? COUNTED : n;
    for (long i = 0; i < n && !out->obeys; i++) {
        out->obeys = try_course(w, &list[i], out->at);
        out->number = i + 1;
    }
    for (long i = 0; i < n && !out->obeys; i++) {
        set_bare(w, &list[i], at);
        int forbid = forbidding(w, &(Machine){at});
        if (least >= 0 && forbid >= least)
            continue;
        least = forbid;
        out->number = i + 1;
        memcpy(out->at, at, (size_t)w->roles * sizeof *at);
    }
}

bool find_trial(World *w, char *const *part, int parts, Trial *out, const char **why) {
    Asked *asked = hold(w, (size_t)w->roles * sizeof *asked);
    Options *all = hold(w, (size_t)w->roles * sizeof *all);
    long n;
    if (!gather(w, part, parts, asked, why) || !list_options(w, asked, all, why))
        return false;
    const Course *list = list_courses(w, all, &n);
    *out = (Trial){.at = hold(w, (size_t)w->roles * sizeof *out->at)};
    choose_trial(w, list, n, out);
    return true;
}
