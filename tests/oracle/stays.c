/*
 * The job with one thing other than it is, asked again for its best bundle: another
 * total, another price of one seller, another weight. Every bundle is priced and
 * scored again.
 */
#include "stays.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_WORDS = 4 };

typedef struct Change { /* the words of a change, parted at its colons */
    char *word[MOST_WORDS];
    int words;
} Change;

static Change split(World *w, const char *text) {
    Change c = {.words = 0};
    char *at = hold(w, strlen(text) + 1);
    strcpy(at, text);
    while (at && c.words < MOST_WORDS) {
        char *colon = strchr(at, ':');
        c.word[c.words++] = at;
        if (colon)
            *colon++ = '\0';
        at = colon;
    }
    return c;
}

bool same_fit_outs(const World *w, const Choice **a, const Choice **b) {
    for (int r = 0; r < w->roles; r++)
        if (strcmp(a[r]->key, b[r]->key) != 0)
            return false;
    return true;
}

static bool is_x(Hunt *h, const Found *f, const Choice **x) {
    set_machine(h->w, f->number, h->at);
    return same_fit_outs(h->w, h->at, x);
}

static bool is_affordable(Hunt *h, const Found *f, const void *about) {
    (void)about;
    return within(h, f);
}

/* How far the first of X's comes before the first of all others, in points. */
static void print_lead(Hunt *h, const Choice **x) {
    long long mine = LLONG_MIN, others = LLONG_MIN;
    for (size_t i = 0; i < h->n; i++) {
        if (!within(h, &h->found[i]))
            continue;
        long long *most = is_x(h, &h->found[i], x) ? &mine : &others;
        if (h->found[i].points > *most)
            *most = h->found[i].points;
    }
    printf(",\"lead\":");
    if (mine == LLONG_MIN || others == LLONG_MIN)
        printf("null");
    else
        points_print(mine - others);
}

static void print_answer_to(Hunt *h, const char *change, const Choice **x) {
    const Found *best = pick(h, is_affordable, NULL);
    printf("{\"change\":\"%s\",\"stays\":%s", change, best && is_x(h, best, x) ? "true" : "false");
    print_lead(h, x);
    printf(",\"bundle\":");
    if (best) {
        putchar('{');
        print_bundle(h, best);
        putchar('}');
    } else {
        printf("null");
    }
    putchar('}');
}

static void at_total(Hunt *h, const Change *c, const char *text, const Choice **x) {
    World *w = h->w;
    long long budget = w->budget, total = money_of(w, c->word[1]) - w->set_aside;
    w->budget = total < 0 ? 0 : total;
    print_answer_to(h, text, x);
    w->budget = budget;
}

static Listing *listing_of(World *w, const char *part, const char *seller) {
    for (int i = 0; i < w->listings; i++)
        if (!strcmp(w->part[w->listing[i].part].id, part) &&
            !strcmp(w->seller[w->listing[i].seller].id, seller))
            return &w->listing[i];
    stop(2, "%s does not sell %s", seller, part);
}

/* Every choice of the role, and then every bundle, from its own lines. */
static void price_all(Hunt *h, int role) {
    World *w = h->w;
    long long minutes;
    for (int i = 0; i < w->role[role].choices; i++) {
        w->role[role].choice[i].minutes = 0;
        price_choice(w, &w->role[role].choice[i]);
    }
    for (size_t i = 0; i < h->n; i++) {
        set_machine(w, h->found[i].number, h->at);
        h->found[i].cost = cost_of(w, &(Machine){h->at}, &minutes);
    }
}

static void at_price(Hunt *h, const Change *c, const char *text, const Choice **x) {
    Listing *l = listing_of(h->w, c->word[1], c->word[2]);
    int role = h->w->part[l->part].role;
    long long price = l->price;
    l->price = money_of(h->w, c->word[3]);
    price_all(h, role);
    print_answer_to(h, text, x);
    l->price = price;
    price_all(h, role);
}

static void score_again(Hunt *h, const double *weight) {
    weigh(h, weight);
    for (size_t i = 0; i < h->n; i++) {
        set_machine(h->w, h->found[i].number, h->at);
        h->found[i].points = score_of(h->w, &(Machine){h->at}, &h->baseline, NULL);
    }
}

static void at_weight(Hunt *h, const Change *c, const char *text, const Choice **x) {
    World *w = h->w;
    int which = -1;
    double *now = hold(w, (size_t)w->criteria * sizeof *now);
    double *then = hold(w, (size_t)w->criteria * sizeof *then);
    for (int i = 0; i < w->criteria; i++) {
        now[i] = w->criterion[i].weight;
        which = !strcmp(w->criterion[i].id, c->word[1]) ? i : which;
    }
    if (which < 0)
        stop(2, "there is no criterion \"%s\"", c->word[1]);
    share_out(now, w->criteria, which, (int)strtol(c->word[2], NULL, 10), then);
    score_again(h, then);
    print_answer_to(h, text, x);
    score_again(h, now);
}

static void print_change(Hunt *h, const char *text, const Choice **x) {
    Change c = split(h->w, text);
    if (c.words == 2 && !strcmp(c.word[0], "budget"))
        at_total(h, &c, text, x);
    else if (c.words == 4 && !strcmp(c.word[0], "price"))
        at_price(h, &c, text, x);
    else if (c.words == 3 && !strcmp(c.word[0], "weight"))
        at_weight(h, &c, text, x);
    else
        stop(2, "\"%s\" is no change", text);
}

void print_stays(Hunt *h, char **change, int changes) {
    World *w = h->w;
    const Choice **x = hold(w, (size_t)w->roles * sizeof *x);
    set_machine(w, h->best.number, x);
    printf(",\"at\":[");
    for (int i = 0; i < changes; i++) {
        if (i)
            putchar(',');
        print_change(h, change[i], x);
    }
    putchar(']');
}
