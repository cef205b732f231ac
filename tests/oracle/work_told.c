/* What is told beside the work: leads, what goes and whose it is, checks, the call. */
#include "work.h"

#include "options.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

/* ---- leads ---- */

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

static long long amount_of(const Spot *s, const Machine *m) {
    return s->role < 0 ? s->fixed * 1000 : rule_number(look(s, m)) * s->factor;
}

/* What one role is there with; of all roles where `role` is -1, what is fixed too. */
static long long add_up(const Spots *list, const Machine *m, int role) {
    long long sum = 0;
    for (int i = 0; i < list->n; i++)
        if (role < 0 || list->at[i].role == role)
            sum += amount_of(&list->at[i], m);
    return sum;
}

static void print_shares(const Work *k, const char *name, const Spots *one, const Spots *two) {
    bool first = true;
    printf(",\"%s\":[", name);
    for (int r = 0; r < k->w->roles; r++) {
        long long sum = add_up(one, &k->m, r) + (two ? add_up(two, &k->m, r) : 0);
        if (!sum)
            continue;
        printf("%s{\"role\":\"%s\"", first ? "" : ",", k->w->role[r].id);
        print_exact("amount", sum);
        putchar('}');
        first = false;
    }
    putchar(']');
}

static bool has_blank_end(const Rule *r, const Machine *m) {
    return !strcmp(r->shape, "within") &&
           (look(&r->left.at[0], m)->state == BLANK || look(&r->right.at[0], m)->state == BLANK);
}

static void print_leads(const Work *k) {
    const World *w = k->w;
    const cJSON *id;
    bool first = true;
    printf(",\"leads\":[");
    cJSON_ArrayForEach(id, in_bench(k, "leads")) for (int i = 0; i < w->rules; i++) {
        const Rule *r = &w->rule[i];
        if (strcmp(r->id, id->valuestring) != 0 || !applies(w, r, &k->m) ||
            has_blank_end(r, &k->m) || examine(w, r, 0, &k->m).how == UNSURE)
            continue;
        long long need = add_up(&r->left, &k->m, -1);
        if (need <= 0)
            continue;
        printf("%s{\"rule\":\"%s\"", first ? "" : ",", r->id);
        print_exact("need", need);
        print_exact("there", add_up(&r->right, &k->m, -1) - add_up(&r->taken, &k->m, -1));
        print_shares(k, "takes", &r->left, NULL);
        print_shares(k, "gives", &r->right, NULL);
        putchar('}');
        first = false;
    }
    putchar(']');
}

/* ---- what goes ---- */

static bool keeps_files(const Work *k, int role) {
    const cJSON *name;
    cJSON_ArrayForEach(name, in_bench(k, "files")) if (!strcmp(name->valuestring,
                                                               k->w->role[role].id)) return true;
    return false;
}

static const cJSON *present_json(const Work *k, const Item *item) {
    const cJSON *json;
    cJSON_ArrayForEach(json, get(get(k->w->job, "machine"),
                                 k->w->role[item->role].id)) if (!strcmp(text_of(json, "part", ""),
                                                                         item->part)) return json;
    stop(2, "%s is not in the machine", item->part);
}

/* For all pieces; nothing is no offer. */
static void print_offer_of(const Work *k, const Item *item, const cJSON *json) {
    long long offer = item->count * money_of(k->w, text_of(json, "offer", "0"));
    printf(",\"whose\":\"%s\",\"offer\":", offer ? "shop" : "client");
    if (offer)
        money_print(k->w, offer);
    else
        printf("null");
}

static bool smaller(const Item *a, const Item *b) {
    return a->role != b->role ? a->role < b->role : strcmp(a->part, b->part) < 0;
}

/* The next item that goes, behind the last one told; NULL: there is none. */
static const Item *next_gone(const Work *k, const Item *last) {
    const Item *next = NULL;
    for (int i = 0; i < k->items; i++) {
        const Item *item = &k->item[i];
        if (item->fate == GOES && (!last || smaller(last, item)) && (!next || smaller(item, next)))
            next = item;
    }
    return next;
}

static void print_out(const Work *k) {
    bool files = false, first = true;
    printf(",\"out\":[");
    for (const Item *item = NULL; (item = next_gone(k, item)) != NULL; first = false) {
        const cJSON *json = present_json(k, item);
        printf("%s{\"role\":\"%s\",\"part\":\"%s\",\"count\":%d,\"condition\":\"%s\"",
               first ? "" : ",", k->w->role[item->role].id, item->part, item->count,
               text_of(json, "condition", "good"));
        print_offer_of(k, item, json);
        printf(",\"keeps_files\":%s}", keeps_files(k, item->role) ? "true" : "false");
        files = files || keeps_files(k, item->role);
    }
    printf("],\"wiping\":%s", files && in_bench(k, "wiping") ? "true" : "false");
}

/* ---- checks ---- */

typedef struct Span {
    State state;
    double low, mid, high;
} Span;

static Span plain(double x) { return (Span){KNOWN, x, x, x}; }

static Span span_of(const Work *k, const cJSON *is);

static Span span_of_sum(const Work *k, const cJSON *list) {
    const cJSON *item;
    Span sum = {BLANK, 0, 0, 0};
    cJSON_ArrayForEach(item, list) {
        Span one = span_of(k, item);
        if (one.state == UNKNOWN)
            return one;
        if (one.state == BLANK)
            continue;
        sum = (Span){KNOWN, sum.low + one.low, sum.mid + one.mid, sum.high + one.high};
    }
    return sum;
}

/* Of the page's expressions those that the random jobs have. */
static Span span_of(const Work *k, const cJSON *is) {
    int role, fact;
    if (cJSON_IsNumber(is))
        return plain(is->valuedouble);
    if (cJSON_IsString(is)) {
        split_term(k->w, is->valuestring, &role, &fact);
        Span one = plain(k->m.at[role]->cell[fact].real);
        one.state = k->m.at[role]->cell[fact].state;
        return one;
    }
    const cJSON *about = get(is, "about");
    if (!about)
        return span_of_sum(k, need(is, "sum"));
    return (Span){KNOWN, cJSON_GetArrayItem(about, 0)->valuedouble,
                  cJSON_GetArrayItem(about, 1)->valuedouble,
                  cJSON_GetArrayItem(about, 2)->valuedouble};
}

static void print_number(const char *name, bool known, double x) {
    if (known)
        printf(",\"%s\":%.9g", name, x);
    else
        printf(",\"%s\":null", name);
}

static void print_check_start(const cJSON *json, const char *use, bool *first) {
    printf("%s{\"check\":\"%s\",\"use\":", *first ? "" : ",", text_of(json, "check", ""));
    if (use)
        printf("\"%s\"", use);
    else
        printf("null");
    *first = false;
}

static void print_check_end(const cJSON *json, const char *of) {
    printf(",\"of\":\"%s\",\"minutes\":%lld,\"alone_minutes\":%lld}", of,
           number_of(json, "minutes", 0), number_of(json, "alone_minutes", 0));
}

static void widen(const cJSON *json, Span *s) {
    double within = get(json, "within") ? get(json, "within")->valuedouble : 0.0;
    bool ratio = !strcmp(text_of(json, "scale", ""), "ratio");
    s->low = ratio ? s->low / (1.0 + within) : s->low - within;
    s->high = ratio ? s->high * (1.0 + within) : s->high + within;
}

static void print_rates(Work *k, const cJSON *json, bool *first) {
    const cJSON *uses = get(get(k->w->job, "wishes"), "uses"), *wish = uses ? uses->child : NULL;
    Machine sure = without_chance(k->w, &k->m);
    for (int u = 0; u < k->w->uses && wish; u++, wish = wish->next) {
        if (!get(wish, "rate_now"))
            continue;
        double now = get(wish, "rate_now")->valuedouble;
        Rate r = rate_of(k->w, u, &k->o, &sure);
        Span s = {KNOWN, now * r.low, now * r.ratio, now * r.high};
        widen(json, &s);
        print_check_start(json, k->w->use[u].id, first);
        print_number("today", true, now);
        print_number("foretold", r.known, s.mid);
        print_number("low", r.known, s.low);
        print_number("high", r.known, s.high);
        print_check_end(json, "rates");
    }
}

static void print_check(Work *k, const cJSON *json, bool *first) {
    const cJSON *of = need(json, "of"), *most = get(of, "most"), *least = get(of, "least");
    if (get(of, "rates")) {
        print_rates(k, json, first);
        return;
    }
    print_check_start(json, NULL, first);
    if (most || least) {
        Span s = span_of(k, most ? most : least);
        print_number("low", s.state == KNOWN && least, s.high);
        print_number("high", s.state == KNOWN && most, s.low);
    }
    print_check_end(json, most ? "most" : least ? "least" : "done");
}

static void print_checks(Work *k) {
    const cJSON *json;
    bool first = true;
    printf(",\"checks\":[");
    cJSON_ArrayForEach(json, in_bench(k, "checks")) if (k->changes && is_asked(k, json))
        print_check(k, json, &first);
    putchar(']');
}

/* ---- the call ---- */

static void print_call(const Work *k) {
    const cJSON *call = in_bench(k, "call"), *json;
    bool first = true;
    printf(",\"call\":{\"after_days\":%lld,\"asks\":[", number_of(call, "after_days", 7));
    cJSON_ArrayForEach(json, get(call, "asks")) if (is_asked(k, json)) {
        printf("%s\"%s\"", first ? "" : ",", text_of(json, "words", ""));
        first = false;
    }
    printf("]}");
}

void print_told(Work *k) {
    print_leads(k);
    print_out(k);
    print_checks(k);
    print_call(k);
}
