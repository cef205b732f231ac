/*
 * Entry prices: what one seller may ask for the part so that the best bundle holds
 * it; bundles that buy it elsewhere are left aside. Points do not hang on the price. On either side
 * of the sum from which delivery is waived a bundle costs the more the more is asked, so each has
 * at most two spans of prices at which it costs no more than so much.
 */
#include "why.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct Span {
    long long from, to;
} Span;

typedef struct Spans {
    int n, room;
    Span *at;
} Spans;

static void add_span(World *w, Spans *s, Span span) {
    if (span.from > span.to)
        return;
    s->at = grow(w, s->at, s->n, &s->room, sizeof *s->at);
    s->at[s->n++] = span;
}

static int by_from(const void *a, const void *b) {
    const Span *x = a, *y = b;
    return x->from < y->from ? -1 : x->from > y->from;
}

/* Rising, and those that touch made one. */
static void tidy_spans(Spans *s) {
    int n = 0;
    if (s->n)
        qsort(s->at, (size_t)s->n, sizeof *s->at, by_from);
    for (int i = 0; i < s->n; i++) {
        if (n && s->at[i].from <= s->at[n - 1].to + 1) {
            if (s->at[i].to > s->at[n - 1].to)
                s->at[n - 1].to = s->at[i].to;
        } else {
            s->at[n++] = s->at[i];
        }
    }
    s->n = n;
}

/* The lowest listing of those who can send it, then the first by id. */
Listing *who_is_asked(const World *w, int part) {
    Listing *best = NULL;
    int enough = 1;
    while (!w->role[w->part[part].role].count[enough])
        enough++;
    for (int i = 0; i < w->listings; i++) {
        Listing *l = &w->listing[i];
        if (l->part != part || l->seller == w->sellers - 1 || l->stock < enough)
            continue;
        if (!best || l->price < best->price ||
            (l->price == best->price &&
             strcmp(w->seller[l->seller].id, w->seller[best->seller].id) < 0))
            best = l;
    }
    return best;
}

bool is_given(const World *w, const char *part) {
    const cJSON *json;
    cJSON_ArrayForEach(
        json, cJSON_GetObjectItemCaseSensitive(
                  w->job, "given")) if (!strcmp(text_of(json, "part", ""), part)) return true;
    return false;
}

/* How a bundle stands to the listing: buys from it, or the same part elsewhere. */
typedef enum { LEAVES, BUYS, ELSEWHERE } Deal;

static Deal deal_of(const Asked *a, const Found *f) {
    set_machine(a->w, f->number, a->h->at);
    const Choice *c = a->h->at[a->role];
    for (int i = 0; i < c->lines; i++) {
        if (c->line[i].listing == a->listing)
            return BUYS;
        if (c->line[i].listing->part == a->listing->part)
            return ELSEWHERE;
    }
    return LEAVES;
}

bool buys(const Asked *a, const Found *f) { return deal_of(a, f) == BUYS; }

long long cost_at(Asked *a, const Found *f, long long price) {
    World *w = a->w;
    long long minutes;
    a->listing->price = price;
    set_machine(w, f->number, a->h->at);
    Choice *c = &w->role[a->role].choice[a->h->at[a->role] - w->role[a->role].choice];
    c->minutes = 0;
    price_choice(w, c);
    return cost_of(w, &(Machine){a->h->at}, &minutes);
}

long long waived_from(Asked *a, const Found *f) {
    const Seller *s = &a->w->seller[a->listing->seller];
    long long goods = 0, count = 0;
    if (!s->has_free)
        return DEAREST + 1LL;
    set_machine(a->w, f->number, a->h->at);
    for (int r = 0; r < a->w->roles; r++)
        for (int i = 0; i < a->h->at[r]->lines; i++) {
            const Line *line = &a->h->at[r]->line[i];
            if (line->listing == a->listing)
                count += line->count;
            else if (line->listing->seller == a->listing->seller)
                goods += line->listing->price * line->count;
        }
    return goods >= s->free_from ? 0 : (s->free_from - goods + count - 1) / count;
}

/* The highest price within `in` at which the bundle costs at most so much, given
 * that there it rises; below in.from when there is none. */
static long long last_affordable(Asked *a, const Found *f, long long most, Span in) {
    long long good = in.from - 1, bad = in.to + 1;
    if (in.from > in.to || cost_at(a, f, in.from) > most)
        return good;
    good = in.from;
    while (bad - good > 1) {
        long long middle = good + (bad - good) / 2;
        if (cost_at(a, f, middle) <= most)
            good = middle;
        else
            bad = middle;
    }
    return good;
}

/* Adds the prices at which the bundle, which buys the part, costs at most so much. */
static void add_affordable(Asked *a, const Found *f, long long most, Spans *out) {
    long long waived = waived_from(a, f);
    waived = waived > DEAREST + 1LL ? DEAREST + 1LL : waived;
    add_span(a->w, out, (Span){0, last_affordable(a, f, most, (Span){0, waived - 1})});
    add_span(a->w, out, (Span){waived, last_affordable(a, f, most, (Span){waived, DEAREST})});
}

static bool may_stand(Hunt *h, const Found *f, const void *about) {
    return within(h, f) && deal_of(about, f) == LEAVES;
}

/* What a bundle that buys the part may cost to come before the rival; -1: nothing. */
static long long most_to_beat(Asked *a, const Found *f, const Found *rival) {
    if (!rival || f->points > rival->points)
        return a->w->budget;
    if (f->points < rival->points)
        return -1;
    Found evenly = {.number = f->number, .cost = rival->cost, .points = rival->points};
    return comes_first(a->h, &evenly, rival) ? rival->cost : rival->cost - 1;
}

/* The best of what does not hang on the price is the one to beat. */
static Spans held_at(Asked *a) {
    Hunt *h = a->h;
    Spans out = {0};
    const Found *rival = pick(h, may_stand, a);
    if (rival) {
        set_machine(a->w, rival->number, h->at);
        if (holds(a->w, h->at, a->part)) {
            add_span(a->w, &out, (Span){0, DEAREST});
            return out;
        }
    }
    for (size_t i = 0; i < h->n; i++) {
        const Found *f = &h->found[i];
        long long most = most_to_beat(a, f, rival);
        if (most >= 0 && buys(a, f))
            add_affordable(a, f, most, &out);
    }
    tidy_spans(&out);
    return out;
}

static bool holds_best(Asked *a) {
    Hunt *h = a->h;
    const Found *best = NULL;
    for (size_t i = 0; i < h->n; i++)
        if (within(h, &h->found[i]) && deal_of(a, &h->found[i]) != ELSEWHERE &&
            (!best || comes_first(h, &h->found[i], best)))
            best = &h->found[i];
    if (best)
        set_machine(a->w, best->number, h->at);
    return best && holds(a->w, h->at, a->part);
}

static void ask_all(Asked *a, long long price) {
    for (size_t i = 0; i < a->h->n; i++)
        if (buys(a, &a->h->found[i]))
            a->h->found[i].cost = cost_at(a, &a->h->found[i], price);
}

/* The page read word for word: every price, every bundle. Up to the budget with
 * what the pieces taken out may bring; above that nothing with it bought fits. */
static Spans held_at_each(Asked *a) {
    Spans out = {0};
    const Role *r = &a->w->role[a->role];
    long long top = a->w->budget + 1;
    for (int i = 0; i < r->presents; i++)
        top += r->present[i].offer * r->present[i].count;
    for (long long price = 0; price <= top; price++) {
        ask_all(a, price);
        if (holds_best(a))
            add_span(a->w, &out, (Span){price, price == top ? DEAREST : price});
    }
    tidy_spans(&out);
    return out;
}

static void print_spans(const World *w, const Spans *s) {
    printf(",\"intervals\":[");
    for (int i = 0; i < s->n; i++) {
        printf("%s{\"from\":", i ? "," : "");
        money_print(w, s->at[i].from);
        printf(",\"to\":");
        money_print(w, s->at[i].to);
        putchar('}');
    }
    putchar(']');
}

/* Whether a price can bring any bundle to where delivery is waived. */
static bool has_waiver(const Asked *a) {
    const Seller *s = &a->w->seller[a->listing->seller];
    return s->has_free && s->free_from > 0 && s->delivery > 0;
}

/* Everything as it was listed. */
void put_back_price(Asked *a, long long price) {
    World *w = a->w;
    ask_all(a, price);
    a->listing->price = price;
    for (int c = 0; c < w->role[a->role].choices; c++) {
        w->role[a->role].choice[c].minutes = 0;
        price_choice(w, &w->role[a->role].choice[c]);
    }
}

void print_entry(Hunt *h, const Why *why) {
    World *w = h->w;
    int part = find_part(w, why->part);
    Asked a = {.h = h, .w = w, .part = why->part};
    a.listing = part < 0 || is_given(w, why->part) ? NULL : who_is_asked(w, part);
    printf(",\"entry\":");
    if (!a.listing) {
        printf("null");
        return;
    }
    a.role = w->part[part].role;
    long long price = a.listing->price;
    printf("{\"seller\":\"%s\",\"price\":", w->seller[a.listing->seller].id);
    money_print(w, price);
    Spans held = why->each_price ? held_at_each(&a) : held_at(&a);
    put_back_price(&a, price);
    print_spans(w, &held);
    printf(",\"settled\":true,\"waiver\":%s}", has_waiver(&a) ? "true" : "false");
}
