/*
 * Whether things can stand where the program says. The program names parts, not
 * pieces, so each of its lines is tried on every piece it may be about; then every
 * position is counted.
 */
#include "compare.h"

#include <stdio.h>
#include <string.h>

#include "member.h"

enum { MOST = 400, MOST_TRIES = 2000000 };

typedef struct Entry { /* a site or a thing on one piece of the machine */
    const cJSON *json, *it;
    long left; /* positions, or things that stand nowhere yet */
} Entry;

typedef struct Hall {
    Entry site[MOST], thing[MOST];
    int sites, things;
    const cJSON *line[MOST]; /* once for each thing that it speaks of */
    int lines;
    int on_thing[MOST], on_site[MOST]; /* per line, what it was taken to be */
    long tries;
} Hall;

static bool read_hall(Talk *t, Hall *h, const cJSON *checker, const cJSON *program) {
    const cJSON *entry;
    cJSON_ArrayForEach(entry, get(get(checker, "places"), "entries")) {
        const cJSON *at = get(entry, "at"), *thing = get(entry, "thing");
        if (h->sites == MOST || h->things == MOST)
            return complain(t, "more places than the driver holds");
        if (at)
            h->site[h->sites++] = (Entry){entry, at, number_at(at, "count", 1)};
        else if (!cJSON_IsNull(get(entry, "rule")))
            h->thing[h->things++] = (Entry){entry, thing, number_at(thing, "count", 1)};
    }
    cJSON_ArrayForEach(entry, get(get(program, "places"), "stand")) {
        long count = number_at(entry, "count", 0);
        if (count < 1 || h->lines + count > MOST)
            return complain(t, "a line about %ld things", count);
        for (; count > 0; count--)
            h->line[h->lines++] = entry;
    }
    return true;
}

static bool same(const cJSON *a, const char *x, const cJSON *b, const char *y) {
    return !strcmp(text_at(a, x), text_at(b, y));
}

static bool enough(const cJSON *thing, const cJSON *site) {
    const cJSON *deep = get(thing, "depth_mm"), *depth = get(site, "depth_mm");
    const cJSON *reach = get(thing, "reach_mm"), *far = get(site, "reach_mm");
    if (deep && depth && depth->valuedouble < deep->valuedouble)
        return false;
    if (reach && far && far->valuedouble > reach->valuedouble)
        return false;
    return !get(thing, "side") || same(thing, "side", site, "side");
}

static bool fits(const Entry *thing, const Entry *site) {
    const cJSON *size;
    bool sized = false;
    cJSON_ArrayForEach(size, get(site->it, "sizes")) sized =
        sized || !strcmp(size->valuestring, text_at(thing->it, "size"));
    return sized && same(thing->json, "rule", site->json, "rule") &&
           same(thing->it, "kind", site->it, "kind") && enough(thing->it, site->it);
}

static void use(Hall *h, int at, long count) {
    const Entry *s = &h->site[at];
    const cJSON *take;
    h->site[at].left -= count;
    cJSON_ArrayForEach(take, get(s->it, "takes")) for (int i = 0; i < h->sites; i++) {
        Entry *other = &h->site[i];
        if (number_at(other->json, "piece", -1) == number_at(s->json, "piece", -2) &&
            same(other->it, "site", take, "site"))
            other->left -= count * number_at(take, "count", 1);
    }
}

static bool all_there(const Hall *h) {
    for (int i = 0; i < h->sites; i++)
        if (h->site[i].left < 0)
            return false;
    return true;
}

static bool may_be_thing(const Hall *h, int line, int at) {
    const cJSON *l = h->line[line];
    const Entry *e = &h->thing[at];
    return same(e->it, "kind", l, "kind") && same(e->it, "size", l, "size") &&
           same(e->json, "part", l, "part") && same(e->json, "role", l, "role") && e->left > 0;
}

static bool may_be_site(const Hall *h, int line, int at) {
    const cJSON *l = h->line[line];
    const Entry *e = &h->site[at];
    return same(e->it, "site", l, "site") && same(e->json, "part", l, "on_part") &&
           same(e->json, "role", l, "on_role");
}

/* What a line speaks of more than once goes on from where it was. */
static bool is_behind(const Hall *h, int line, int thing, int site) {
    if (line == 0 || h->line[line] != h->line[line - 1])
        return true;
    int t = h->on_thing[line - 1], s = h->on_site[line - 1];
    return thing > t || (thing == t && site >= s);
}

static bool place_line(Hall *h, int line) {
    if (line == h->lines)
        return true;
    for (int t = 0; t < h->things; t++) {
        if (!may_be_thing(h, line, t))
            continue;
        for (int s = 0; s < h->sites && h->tries < MOST_TRIES; s++) {
            h->tries++;
            if (!may_be_site(h, line, s) || !fits(&h->thing[t], &h->site[s]) ||
                !is_behind(h, line, t, s))
                continue;
            h->on_thing[line] = t;
            h->on_site[line] = s;
            h->thing[t].left--;
            use(h, s, 1);
            if (all_there(h) && place_line(h, line + 1))
                return true;
            use(h, s, -1);
            h->thing[t].left++;
        }
    }
    return false;
}

static bool cautions_well(Talk *t, const Hall *h, long plain) {
    for (int i = 0; i < h->lines; i++) {
        const cJSON *site = h->site[h->on_site[i]].it;
        if (!same(h->line[i], "caution", site, "caution"))
            return complain(t, "a thing on site %s: the caution says %s, not %s",
                            text_at(site, "site"), text_at(h->line[i], "caution"),
                            text_at(site, "caution"));
        if (plain == 0 && get(site, "caution"))
            return complain(t, "a thing on site %s with a caution, though all can do without",
                            text_at(site, "site"));
    }
    return true;
}

static long without_site(const Hall *h, const char *rule) {
    long n = 0;
    for (int i = 0; i < h->things; i++)
        if (!strcmp(text_at(h->thing[i].json, "rule"), rule))
            n += h->thing[i].left;
    return n;
}

static bool counts_well(Talk *t, const Hall *h, const cJSON *checker, const cJSON *program) {
    const cJSON *rule;
    long left = 0, spares = 0;
    cJSON_ArrayForEach(rule, get(checker, "spares")) {
        long out = without_site(h, text_at(rule, "rule")), spare = number_at(rule, "spare", 0);
        left += out > spare ? out - spare : 0;
        spares += spare;
    }
    if (left != number_at(program, "left", -1))
        return complain(t, "%ld things stand nowhere beyond the spare ones, the program says %ld",
                        left, number_at(program, "left", -1));
    if (spares != number_at(program, "spare", -1))
        return complain(t, "%ld things are without a site today, the program says %ld", spares,
                        number_at(program, "spare", -1));
    return true;
}

/* A thing that is left out as spare might simply stand on a free position, and for
 * no caution that nobody needs. The page does not forbid it. */
static bool some_idle(Hall *h, long plain) {
    for (int i = 0; i < h->things; i++)
        for (int s = 0; h->thing[i].left > 0 && s < h->sites; s++) {
            if (!fits(&h->thing[i], &h->site[s]) || (plain == 0 && get(h->site[s].it, "caution")))
                continue;
            use(h, s, 1);
            bool free = all_there(h);
            use(h, s, -1);
            if (free)
                return true;
        }
    return false;
}

bool stands_well(Talk *t, const cJSON *checker, const cJSON *program, bool *idle) {
    Hall h = {.sites = 0};
    const cJSON *a = get(checker, "places"), *b = get(program, "places");
    if (!read_hall(t, &h, checker, program))
        return false;
    if (!place_line(&h, 0))
        return complain(t, "things cannot stand as told%s",
                        h.tries < MOST_TRIES ? "" : " (as far as was tried)");
    *idle = some_idle(&h, number_at(a, "plain", 0));
    return cautions_well(t, &h, number_at(a, "plain", 0)) && counts_well(t, &h, a, b);
}
