/*
 * The ways to go on: every bundle of today's job is looked at, beside the option of the job as it
 * was agreed.
 */
#include "shopping.h"

#include "stays.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct Way {
    const char *name;
    Found found;
} Way;

typedef struct Shopping {
    Offer offer; /* of the job as agreed */
    const Option *option;
    Hunt today;
    bool *to_be_had; /* by role: its parts as agreed can be bought today */
    Complaints complaints;
    const Complaint *end; /* that the option was chosen for; NULL: none */
    long long most;       /* of what may be picked */
    bool ending;          /* only what ends the complaint may be picked */
    Way way[3];
    int ways;
} Shopping;

static void hunt(Hunt *h, World *w, const char *scenario, unsigned long long limit) {
    *h = (Hunt){.w = w, .wide = true};
    load_world(w, scenario);
    make_choices(w);
    learn_today(w);
    find_all(h, limit);
    if (h->n)
        score_all(h);
}

static bool same_parts(const char *a, const char *b) {
    size_t m = strcspn(a, "\t"), n = strcspn(b, "\t");
    return m == n && !memcmp(a, b, m);
}

static const char *agreed_key(const Shopping *s, int role) { return s->option->m.at[role]->key; }

/* Whatever is wished and must be: what the sellers have, in time, and is not avoided. */
static void look_what_is_there(Shopping *s, const char *scenario) {
    World w = {.free_of_wishes = true};
    s->to_be_had = hold(s->today.w, (size_t)s->today.w->roles * sizeof *s->to_be_had);
    load_world(&w, scenario);
    make_choices(&w);
    for (int r = 0; r < w.roles; r++)
        for (int i = 0; i < w.role[r].choices; i++)
            if (same_parts(w.role[r].choice[i].key, agreed_key(s, r)))
                s->to_be_had[r] = true;
    drop_all(&w);
}

/* ---- the ways ---- */

static bool is_same(Hunt *h, const Found *f, const void *about) {
    const Shopping *s = about;
    if (!within(h, f))
        return false;
    set_machine(h->w, f->number, h->at);
    for (int r = 0; r < h->w->roles; r++)
        if (strcmp(h->at[r]->key, agreed_key(s, r)) != 0)
            return false;
    return true;
}

static bool is_least(Hunt *h, const Found *f, const void *about) {
    const Shopping *s = about;
    if (!within(h, f))
        return false;
    set_machine(h->w, f->number, h->at);
    for (int r = 0; r < h->w->roles; r++)
        if (s->to_be_had[r] && !same_parts(h->at[r]->key, agreed_key(s, r)))
            return false;
    return true;
}

static bool is_anew(Hunt *h, const Found *f, const void *about) {
    const Shopping *s = about;
    if (!within(h, f) || f->cost > s->most)
        return false;
    set_machine(h->w, f->number, h->at);
    return !s->ending || ends_in(&s->complaints, s->end, &(Machine){h->at});
}

static const Found *pick_anew(Shopping *s) {
    const Found *found = NULL;
    for (int ending = s->end != NULL; ending >= 0; ending--)
        for (int all = 0; all < 2; all++) {
            s->ending = ending > 0;
            s->most = all ? s->today.w->budget : s->option->found.cost;
            if (!found)
                found = pick(&s->today, is_anew, s);
        }
    return found;
}

static bool alike(Shopping *s, const Found *a, const Found *b) {
    Hunt *h = &s->today;
    set_machine(h->w, a->number, h->at);
    set_machine(h->w, b->number, h->other);
    for (int r = 0; r < h->w->roles; r++)
        if (strcmp(h->at[r]->key, h->other[r]->key) != 0 ||
            strcmp(h->at[r]->from, h->other[r]->from) != 0)
            return false;
    return true;
}

static void add_way(Shopping *s, const char *name, const Found *found) {
    if (!found)
        return;
    for (int i = 0; i < s->ways; i++)
        if (alike(s, &s->way[i].found, found))
            return;
    s->way[s->ways++] = (Way){name, *found};
}

static void find_ways(Shopping *s) {
    const Found *same = pick(&s->today, is_same, s);
    add_way(s, "same", same);
    if (!same)
        add_way(s, "least", pick(&s->today, is_least, s));
    add_way(s, "anew", pick_anew(s));
}

/* ---- on the yardstick of what was agreed ---- */

static bool machine_there(Shopping *s, const Found *f, Machine *out) {
    World *a = s->offer.w;
    Hunt *h = &s->today;
    set_machine(h->w, f->number, h->at);
    out->at = hold(a, (size_t)a->roles * sizeof *out->at);
    for (int r = 0; r < a->roles; r++) {
        out->at[r] = NULL;
        for (int i = 0; i < a->role[r].choices && !out->at[r]; i++)
            if (!strcmp(a->role[r].choice[i].key, h->at[r]->key))
                out->at[r] = &a->role[r].choice[i];
        if (!out->at[r])
            return false;
    }
    return true;
}

static void print_points(Shopping *s, const Found *f) {
    World *a = s->offer.w;
    Machine there;
    long long *by = hold(a, (size_t)a->criteria * sizeof *by);
    bool known = machine_there(s, f, &there), first = true;
    long long points = known ? score_of(a, &there, &s->offer.h->baseline, by) : 0;
    printf(",\"agreed_points\":");
    if (!known) {
        printf("null,\"loss\":null,\"criteria\":null");
        return;
    }
    points_print(points);
    printf(",\"loss\":");
    points_print(s->option->found.points - points);
    printf(",\"criteria\":{");
    for (int i = 0; i < a->criteria; i++) {
        printf("%s\"%s\":", first ? "" : ",", a->criterion[i].id);
        points_print(by[i]);
        first = false;
    }
    putchar('}');
}

static void print_days(Shopping *s, const Found *f) {
    long long days = 0;
    set_machine(s->today.w, f->number, s->today.at);
    for (int r = 0; r < s->today.w->roles; r++)
        for (int i = 0; i < s->today.at[r]->lines; i++)
            if (s->today.at[r]->line[i].listing->days > days)
                days = s->today.at[r]->line[i].listing->days;
    printf(",\"days\":%lld", days);
}

static void print_way(Shopping *s, const Way *way) {
    printf("{\"way\":\"%s\"", way->name);
    print_points(s, &way->found);
    print_days(s, &way->found);
    printf(",\"bundle\":{");
    print_bundle(&s->today, &way->found);
    printf("}}");
}

static void print_agreed(Shopping *s) {
    Hunt *h = s->offer.h;
    printf(",\"agreed\":{");
    print_bundle(h, &s->option->found);
    print_criteria(h, &s->option->found);
    printf("}");
}

static const Complaint *end_of(const Shopping *s) {
    for (int i = 0; s->option->complaint && i < s->complaints.n; i++)
        if (!strcmp(s->complaints.at[i].id, s->option->complaint))
            return &s->complaints.at[i];
    return NULL;
}

int answer_shopping(World *w, const char *today, const Agreed *agreed) {
    World before = {.allow_unknown = w->allow_unknown};
    Hunt h;
    Shopping s = {.ways = 0};
    hunt(&h, &before, agreed->scenario, agreed->limit);
    s.offer = make_offer(&h);
    if (agreed->option < 1 || agreed->option > s.offer.options)
        stop(2, "there is no option %d", agreed->option);
    s.option = &s.offer.option[agreed->option - 1];
    hunt(&s.today, w, today, agreed->limit);
    look_what_is_there(&s, today);
    s.complaints = read_complaints(w);
    s.end = end_of(&s);
    if (s.today.within)
        find_ways(&s);
    printf("{\"status\":\"%s\"", s.ways ? "optimal" : "nothing-fits");
    print_agreed(&s);
    printf(",\"ways\":[");
    for (int i = 0; i < s.ways; i++) {
        printf("%s", i ? "," : "");
        print_way(&s, &s.way[i]);
    }
    printf("]}\n");
    free(s.today.found);
    free(h.found);
    drop_all(&before);
    return s.ways ? 0 : 1;
}
