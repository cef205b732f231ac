/* The shape `place`: things on sites, where using one site may take others
 * away. Exact: the least number of things that must stay without a site. */
#include "rules/stage.h"

#include <stdlib.h>
#include <string.h>

/* A site of the machine, with the positions that things may use. */
typedef struct open_site {
    const sw_site *site;
    size_t base; /* where its piece's list starts in `sites`, for takes */
    int free;    /* positions that are not taken away */
    int limit;   /* how many may be used, once that is decided; -1 before */
    bool seen;   /* by the search for a place under way */
} open_site;

typedef struct loose_thing {
    const sw_thing *thing;
    const bool *usable; /* [site] of this thing's own rule and fitting */
    int count;
    int *on;   /* [site] how many of it stand there */
    int *best; /* [site] likewise, in the best placing so far */
    int rule, role;
} loose_thing;

typedef struct placing {
    open_site *sites;
    size_t site_count, site_room;
    loose_thing *things;
    size_t thing_count, thing_room;
    int tries;      /* placings looked at */
    bool sheltered; /* nothing may stand on sites with a caution */
} placing;

/* Sites that take each other in circles can be used in more ways than anyone can
 * try. Machines need a few hundred tries; beyond this the data is refused. */
#define SW_TRIES_MOST 100000

bool sw_thing_fits(const sw_thing *thing, const sw_site *site) {
    if (strcmp(thing->kind, site->kind) != 0)
        return false;
    if (thing->depth_milli >= 0 && site->depth_milli >= 0 && thing->depth_milli > site->depth_milli)
        return false;
    if (thing->reach_milli >= 0 && site->reach_milli >= 0 && thing->reach_milli < site->reach_milli)
        return false;
    if (thing->side != NULL && (site->side == NULL || strcmp(thing->side, site->side) != 0))
        return false;
    for (size_t i = 0; i < site->size_count; i++)
        if (strcmp(site->sizes[i], thing->size) == 0)
            return true;
    return false;
}

static int room_on(const open_site *site) { return site->limit < 0 ? site->free : site->limit; }

static int used_on(const placing *p, size_t site) {
    int used = 0;
    for (size_t t = 0; t < p->thing_count; t++)
        used += p->things[t].on[site];
    return used;
}

/* Finds a position for one more piece of thing `t`, moving others along when it
 * must. Each site is looked at once, so the depth is bounded by their number. */
static bool place_one(placing *p, size_t t) {
    for (size_t s = 0; s < p->site_count; s++) {
        if (!p->things[t].usable[s] || p->sites[s].seen)
            continue;
        p->sites[s].seen = true;
        if (used_on(p, s) < room_on(&p->sites[s])) {
            p->things[t].on[s]++;
            return true;
        }
        for (size_t other = 0; other < p->thing_count; other++)
            if (p->things[other].on[s] > 0 && place_one(p, other)) {
                p->things[other].on[s]--;
                p->things[t].on[s]++;
                return true;
            }
    }
    return false;
}

/* The least number of things without a site while every site keeps its room:
 * one augmenting path after another, as in bipartite matching. */
static int64_t missed_with_rooms(placing *p) {
    int64_t missed = 0;
    for (size_t t = 0; t < p->thing_count; t++)
        memset(p->things[t].on, 0, p->site_count * sizeof *p->things[t].on);
    for (size_t t = 0; t < p->thing_count; t++)
        for (int n = 0; n < p->things[t].count; n++) {
            for (size_t s = 0; s < p->site_count; s++)
                p->sites[s].seen = false;
            missed += place_one(p, t) ? 0 : 1;
        }
    return missed;
}

/* Takes `sign` times what one used position of the site takes from others; false
 * when a site is left with less than it is to use. */
static bool take(placing *p, size_t site, int sign) {
    const open_site *from = &p->sites[site];
    bool enough = true;
    for (size_t t = 0; t < from->site->takes_count; t++) {
        open_site *other = &p->sites[from->base + (size_t)from->site->takes[t].index];
        other->free -= sign * from->site->takes[t].count;
        enough = enough && other->free >= (other->limit > 0 ? other->limit : 0);
    }
    return enough;
}

static int64_t keep_best(placing *p, int64_t missed) {
    for (size_t t = 0; t < p->thing_count; t++)
        memcpy(p->things[t].best, p->things[t].on, p->site_count * sizeof *p->things[t].on);
    return missed;
}

/* Tries how many positions each taking site may use, from site `at` on: few are
 * used by few. Sites not yet decided take nothing, which is
 * a bound from below: nothing better lies behind a bound no better than `best`. */
static int64_t search(placing *p, size_t at, int64_t best) {
    while (at < p->site_count && p->sites[at].site->takes_count == 0)
        at++;
    if (++p->tries > SW_TRIES_MOST)
        return best;
    int64_t missed = missed_with_rooms(p);
    if (missed >= best)
        return best;
    if (at == p->site_count)
        return keep_best(p, missed);
    int most = p->sites[at].free, used = 0;
    bool enough = true;
    for (; used <= most && enough && best > 0; used++) {
        p->sites[at].limit = used;
        best = search(p, at + 1, best);
        enough = take(p, at, 1);
    }
    for (; used > 0; used--)
        take(p, at, -1);
    p->sites[at].limit = -1;
    return best;
}

static sw_status add_sites(placing *p, const sw_value *value) {
    size_t base = p->site_count;
    for (size_t i = 0; value->state == SW_KNOWN && i < value->site_count; i++) {
        if (!SW_GROW(p->sites, p->site_room, p->site_count))
            return SW_NO_MEMORY;
        const sw_site *site = &value->sites[i];
        p->sites[p->site_count++] = (open_site){site, base, site->count, -1, false};
    }
    return SW_OK;
}

static bool term_covers(const sw_term *terms, size_t count, int role, int fact) {
    for (size_t i = 0; i < count; i++)
        if (terms[i].fact == fact && (terms[i].role == SW_EVERY_ROLE || terms[i].role == role))
            return true;
    return false;
}

/* Every site list of the machine, whoever uses it, so that `takes` can reach
 * any of them; `owner` remembers where each came from. */
static sw_status gather_sites(const sw_fitouts *fitouts, const int *machine, placing *p,
                              sw_term **owner) {
    size_t room = 0, roles = fitouts->catalog->role_count;
    for (size_t r = 0; r < roles; r++)
        for (size_t f = 0; f < fitouts->catalog->fact_count; f++) {
            if (fitouts->catalog->facts[f].type != SW_SITES || fitouts->slot[r][f] == SW_NONE)
                continue;
            size_t before = p->site_count;
            sw_status status =
                add_sites(p, sw_fitout_value(fitouts, &fitouts->fitouts[machine[r]], (int)f));
            if (status != SW_OK)
                return status;
            for (size_t s = before; s < p->site_count; s++) {
                if (!SW_GROW(*owner, room, s))
                    return SW_NO_MEMORY;
                (*owner)[s] = (sw_term){(int)r, (int)f};
            }
        }
    return SW_OK;
}

static sw_status gather_things(const sw_rulebook *book, int index, const int *machine, placing *p,
                               const sw_term *owner, size_t left_out, sw_arena *scratch) {
    const sw_fitouts *fitouts = book->fitouts;
    const sw_rule *rule = &book->rules[index];
    for (size_t t = 0; t < rule->thing_count; t++)
        for (size_t r = 0; r < fitouts->catalog->role_count; r++) {
            if (rule->things[t].role != SW_EVERY_ROLE && rule->things[t].role != (int)r)
                continue;
            const sw_value *value =
                sw_fitout_value(fitouts, &fitouts->fitouts[machine[r]], rule->things[t].fact);
            for (size_t i = 0; value->state == SW_KNOWN && i < value->thing_count; i++) {
                const sw_thing *thing = &value->things[i];
                if (strcmp(thing->kind, rule->kind) != 0)
                    continue;
                bool *usable = SW_NEW(scratch, bool, p->site_count);
                int *on = SW_NEW(scratch, int, p->site_count);
                int *best = SW_NEW(scratch, int, p->site_count);
                if (usable == NULL || on == NULL || best == NULL ||
                    !SW_GROW(p->things, p->thing_room, p->thing_count))
                    return SW_NO_MEMORY;
                for (size_t s = 0; s < p->site_count; s++)
                    usable[s] =
                        s == left_out ||
                        (owner[s].role != SW_NONE && sw_thing_fits(thing, p->sites[s].site) &&
                         !(p->sheltered && p->sites[s].site->caution != NULL) &&
                         term_covers(rule->sites, rule->site_count, owner[s].role, owner[s].fact));
                p->things[p->thing_count++] =
                    (loose_thing){thing, usable, thing->count, on, best, index, (int)r};
            }
        }
    return SW_OK;
}

/* The first unknown list that the rule reads, into `out`; true when there is. */
static bool unknown_list(const sw_fitouts *fitouts, const sw_term *terms, size_t count,
                         const int *machine, sw_judgement *out) {
    for (size_t t = 0; t < count; t++)
        for (size_t r = 0; r < fitouts->catalog->role_count; r++) {
            if (terms[t].role != SW_EVERY_ROLE && terms[t].role != (int)r)
                continue;
            const sw_value *value =
                sw_fitout_value(fitouts, &fitouts->fitouts[machine[r]], terms[t].fact);
            if (value->state == SW_UNKNOWN) {
                out->verdict = SW_UNJUDGED;
                out->unknown_role = (int)r;
                out->unknown_fact = terms[t].fact;
                return true;
            }
        }
    return false;
}

static bool unknown_rule(const sw_fitouts *fitouts, const sw_rule *rule, const int *machine,
                         sw_judgement *out) {
    return unknown_list(fitouts, rule->things, rule->thing_count, machine, out) ||
           unknown_list(fitouts, rule->sites, rule->site_count, machine, out);
}

/* For every rule a site of its own for what may stay without one: `spare` pieces
 * (NULL: none). */
static sw_status add_spare(placing *p, sw_term **owner, size_t count, const int *spare) {
    static const sw_site nowhere = {.site = "", .kind = "", .depth_milli = -1, .reach_milli = -1};
    size_t room = p->site_count;
    for (size_t i = 0; i < count; i++) {
        if (!SW_GROW(p->sites, p->site_room, p->site_count) ||
            !SW_GROW(*owner, room, p->site_count))
            return SW_NO_MEMORY;
        (*owner)[p->site_count] = (sw_term){SW_NONE, SW_NONE};
        p->sites[p->site_count++] =
            (open_site){&nowhere, 0, spare != NULL ? spare[i] : 0, -1, false};
    }
    return SW_OK;
}

/* Where each thing of the best placing stands. */
static sw_status tell_stands(const placing *p, const sw_term *owner, sw_placement *out,
                             sw_arena *arena) {
    size_t most = 0;
    for (size_t t = 0; t < p->thing_count; t++)
        for (size_t s = 0; s < p->site_count; s++)
            most += p->things[t].best[s] > 0;
    out->stands = SW_NEW(arena, sw_stand, most);
    if (out->stands == NULL)
        return SW_NO_MEMORY;
    for (size_t t = 0; t < p->thing_count; t++)
        for (size_t s = 0; s < p->site_count; s++) {
            const loose_thing *thing = &p->things[t];
            if (thing->best[s] == 0 || owner[s].role == SW_NONE)
                continue;
            out->stands[out->stand_count++] =
                (sw_stand){thing->rule,      thing->thing,  thing->role,
                           p->sites[s].site, owner[s].role, thing->best[s]};
        }
    return SW_OK;
}

/* Places the things of the rules `of` together: how many are asked for, and how
 * many are left that may not be; where they stand when `arena` is there. */
static sw_status place_all(const sw_rulebook *book, const int *of, const int *spare, size_t count,
                           const int *machine, bool sheltered, sw_placement *out, sw_arena *arena) {
    placing p = {.sheltered = sheltered};
    sw_term *owner = NULL;
    *out = (sw_placement){0};
    sw_arena *scratch = sw_arena_new();
    sw_status status =
        scratch == NULL ? SW_NO_MEMORY : gather_sites(book->fitouts, machine, &p, &owner);
    size_t first_spare = p.site_count;
    if (status == SW_OK)
        status = add_spare(&p, &owner, count, spare);
    for (size_t i = 0; i < count && status == SW_OK; i++)
        status = gather_things(book, of[i], machine, &p, owner, first_spare + i, scratch);
    for (size_t t = 0; t < p.thing_count; t++)
        out->asked += p.things[t].count;
    if (status == SW_OK)
        out->left = out->asked == 0 ? 0 : search(&p, 0, out->asked + 1);
    if (p.tries > SW_TRIES_MOST)
        status = SW_BAD_DATA;
    if (status == SW_OK && arena != NULL)
        status = tell_stands(&p, owner, out, arena);
    sw_arena_free(scratch);
    free(owner);
    free(p.sites);
    free(p.things);
    return status;
}

sw_status sw_judge_place(const sw_rulebook *book, int rule, const int *machine, sw_judgement *out) {
    sw_placement found;
    if (unknown_rule(book->fitouts, &book->rules[rule], machine, out))
        return SW_OK;
    sw_status status = place_all(book, &rule, NULL, 1, machine, false, &found, NULL);
    out->need = found.asked;
    out->excess = found.left;
    out->room = out->need - out->excess;
    out->verdict = out->need == 0 ? SW_MOOT : out->excess > 0 ? SW_BROKEN : SW_HOLDS;
    return status;
}

static bool asks(const sw_rulebook *book, size_t rule, const int *machine) {
    sw_judgement ignored = {0};
    return book->rules[rule].shape == SW_PLACE && book->rules[rule].hard &&
           !unknown_rule(book->fitouts, &book->rules[rule], machine, &ignored);
}

/* The hard place rules that ask, and what each may leave; both freed by the caller. */
static sw_status asking(const sw_rulebook *book, const int *spare, const int *machine, int **of,
                        int **may_leave, size_t *count) {
    *of = calloc(book->count + 1, sizeof **of);
    *may_leave = calloc(book->count + 1, sizeof **may_leave);
    *count = 0;
    if (*of == NULL || *may_leave == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < book->count; i++)
        if (asks(book, i, machine)) {
            (*may_leave)[*count] = spare[i];
            (*of)[(*count)++] = (int)i;
        }
    return SW_OK;
}

sw_status sw_unplaced(int64_t *out, int64_t *asked, const sw_rulebook *book, const int *spare,
                      const int *machine) {
    int *of, *may_leave;
    size_t count;
    sw_placement found = {0};
    sw_status status = asking(book, spare, machine, &of, &may_leave, &count);
    if (status == SW_OK)
        status = place_all(book, of, may_leave, count, machine, false, &found, NULL);
    *out = found.left;
    *asked = found.asked;
    free(of);
    free(may_leave);
    return status;
}

sw_status sw_place_things(sw_placement *out, sw_arena *arena, const sw_rulebook *book,
                          const int *machine) {
    int *of, *may_leave;
    size_t count;
    sw_status status = asking(book, book->spare, machine, &of, &may_leave, &count);
    if (status == SW_OK)
        status = place_all(book, of, may_leave, count, machine, true, out, arena);
    if (status == SW_OK && out->left > 0)
        status = place_all(book, of, may_leave, count, machine, false, out, arena);
    for (size_t i = 0; i < count && status == SW_OK; i++)
        out->spare += may_leave[i];
    free(of);
    free(may_leave);
    return status;
}

/* The first rule keeps as few things out as it can, then the second ... */
sw_status sw_spare_make(sw_rulebook *book) {
    const int *present = book->fitouts->present;
    int64_t missed = 0, all = 0;
    sw_status status = sw_unplaced(&missed, &all, book, book->spare, present);
    if (status != SW_OK || missed == 0)
        return status;
    for (size_t i = 0; i < book->count; i++)
        book->spare[i] = (int)all;
    for (size_t i = 0; i < book->count && status == SW_OK; i++) {
        book->spare[i] = -1;
        do {
            book->spare[i]++;
            status = sw_unplaced(&missed, &all, book, book->spare, present);
        } while (status == SW_OK && missed > 0);
    }
    return status;
}
