/* Bundles found while weights are in doubt, and the zones that they leave open. */
#include "program/doubt_search.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void free_zone(sw_zone *zone) {
    free(zone->corner);
    free(zone->floor);
}

static void free_member(sw_member *member) {
    free(member->picks);
    free(member->value);
    free(member->floor);
}

static bool new_zone(const sw_archive *a, sw_zone *out, const int64_t *corner) {
    const sw_views *v = a->views;
    sw_zone made = {.corner = malloc((size_t)v->extremes * sizeof *made.corner),
                    .floor = malloc((size_t)v->count * sizeof *made.floor)};
    if (made.corner == NULL || made.floor == NULL) {
        free_zone(&made);
        return false;
    }
    memcpy(made.corner, corner, (size_t)v->extremes * sizeof *corner);
    *out = made;
    return true;
}

/* Values are whole, so those of a bundle of the zone are 1 above its corner at the least. */
static void set_floor(const sw_archive *a, sw_zone *zone) {
    const sw_views *v = a->views;
    for (int k = 0; k < v->count; k++) {
        double sum = 0;
        for (int e = 0; e < v->extremes; e++)
            if (v->view[k].times[e] > 0)
                sum += zone->corner[e] == INT64_MIN
                           ? -INFINITY
                           : (double)v->view[k].times[e] * (double)(zone->corner[e] + 1);
        zone->floor[k] = sum - v->rest;
    }
}

void sw_archive_open(sw_archive *a, const sw_views *views, bool any_equal) {
    *a = (sw_archive){.views = views, .any_equal = any_equal};
}

void sw_archive_close(sw_archive *a) {
    for (size_t z = 0; z < a->zone_count; z++)
        free_zone(&a->zones[z]);
    for (size_t i = 0; i < a->count; i++)
        free_member(&a->members[i]);
    free(a->zones);
    free(a->members);
}

typedef enum relation { APART, EQUAL, BELOW, ABOVE } relation;

/* How `x` stands to `y`. */
static relation relate(const sw_views *v, const int64_t *x, const int64_t *y) {
    bool more = false, less = false;
    for (int e = 0; e < v->extremes && !(more && less); e++) {
        more = more || x[e] > y[e];
        less = less || x[e] < y[e];
    }
    return more && less ? APART : more ? ABOVE : less ? BELOW : EQUAL;
}

static bool covers(const sw_archive *a, const sw_member *member, const int64_t *value,
                   int64_t cost) {
    relation is = relate(a->views, value, member->value);
    return is == BELOW || (is == EQUAL && (a->any_equal || cost > member->tally.cost));
}

bool sw_archive_covers(sw_archive *a, const int64_t *value, int64_t cost) {
    if (a->last < a->count && covers(a, &a->members[a->last], value, cost))
        return true;
    for (size_t i = 0; i < a->count; i++)
        if (covers(a, &a->members[i], value, cost)) {
            a->last = i;
            return true;
        }
    return false;
}

/* ---- zones ---------------------------------------------------------------------------- */

static bool lies_in(const sw_views *v, const sw_zone *inner, const sw_zone *outer) {
    for (int e = 0; e < v->extremes; e++)
        if (inner->corner[e] < outer->corner[e])
            return false;
    return true;
}

static bool holds(const sw_views *v, const sw_zone *zone, const int64_t *value) {
    for (int e = 0; e < v->extremes; e++)
        if (value[e] <= zone->corner[e])
            return false;
    return true;
}

/* Does another zone hold all of this one? */
static bool is_within_other(const sw_archive *a, const sw_zone *zone, size_t end, size_t but) {
    for (size_t z = 0; z < end; z++)
        if (z != but && a->zones[z].corner != NULL && lies_in(a->views, zone, &a->zones[z]))
            return true;
    return false;
}

/* More zones than this cost more time than they save. Zones that are not cut hold bundles that a
 * member dominates: these are looked at in vain, and refused. */
#define SW_ZONES_MOST 500

/* Each zone that holds the new member falls into as many as there are extremes: above the member
 * in one of them. */
static sw_status cut_zones(sw_archive *a, const int64_t *value) {
    const sw_views *v = a->views;
    size_t kept = 0, cut = 0, old = a->zone_count;
    for (size_t z = 0; z < old; z++)
        cut += holds(v, &a->zones[z], value);
    if (cut == 0 || old + cut * (size_t)v->extremes > SW_ZONES_MOST)
        return SW_OK;
    cut = 0;
    sw_zone *pieces = malloc((old + 1) * sizeof *pieces);
    if (pieces == NULL)
        return SW_NO_MEMORY;
    for (size_t z = 0; z < old; z++) {
        if (holds(v, &a->zones[z], value))
            pieces[cut++] = a->zones[z];
        else
            a->zones[kept++] = a->zones[z];
    }
    a->zone_count = kept;
    sw_status status = SW_OK;
    for (size_t z = 0; z < cut; z++)
        for (int e = 0; e < v->extremes && status == SW_OK; e++) {
            sw_zone zone;
            int64_t below = pieces[z].corner[e];
            pieces[z].corner[e] = value[e];
            if (!SW_GROW(a->zones, a->zone_room, a->zone_count) ||
                !new_zone(a, &zone, pieces[z].corner))
                status = SW_NO_MEMORY;
            else {
                zone.part = pieces[z].part;
                a->zones[a->zone_count++] = zone;
            }
            pieces[z].corner[e] = below;
        }
    /* A piece within another zone says nothing of its own. */
    size_t end = a->zone_count;
    for (size_t z = kept; z < end; z++)
        if (is_within_other(a, &a->zones[z], end, z)) {
            free_zone(&a->zones[z]);
            a->zones[z] = (sw_zone){0};
        }
    for (size_t z = kept; z < end; z++)
        if (a->zones[z].corner != NULL) {
            set_floor(a, &a->zones[z]);
            a->zones[kept++] = a->zones[z];
        }
    a->zone_count = kept;
    for (size_t z = 0; z < cut; z++)
        free_zone(&pieces[z]);
    free(pieces);
    return status;
}

/* Members that are good at all weights cut most: the best in the middle come first. */
sw_status sw_archive_zone(sw_archive *a) {
    const sw_views *v = a->views;
    int64_t corner[SW_EXTREMES_MOST];
    int middle = v->extremes > 1 ? v->extremes : 0;
    for (size_t z = 0; z < a->zone_count; z++)
        free_zone(&a->zones[z]);
    a->zone_count = 0;
    a->zoned = true;
    for (int e = 0; e < v->extremes; e++)
        corner[e] = INT64_MIN;
    if (!SW_GROW(a->zones, a->zone_room, a->zone_count) || !new_zone(a, &a->zones[0], corner))
        return SW_NO_MEMORY;
    set_floor(a, &a->zones[a->zone_count++]);
    for (size_t i = 1; i < a->count; i++)
        for (size_t k = i; k > 0 && a->members[k].floor[middle] > a->members[k - 1].floor[middle];
             k--) {
            sw_member other = a->members[k];
            a->members[k] = a->members[k - 1];
            a->members[k - 1] = other;
        }
    sw_status status = SW_OK;
    for (size_t i = 0; i < a->count && status == SW_OK; i++)
        status = cut_zones(a, a->members[i].value);
    return status;
}

/* ---- members --------------------------------------------------------------------------- */

static void set_worth(const sw_archive *a, sw_member *member) {
    const sw_views *v = a->views;
    for (int k = 0; k < v->count; k++) {
        double sum = 0;
        for (int e = 0; e < v->extremes; e++)
            sum += (double)v->view[k].times[e] * (double)member->value[e];
        member->floor[k] = sum - v->view[k].m->cost_worth * (double)member->tally.cost;
    }
}

/* That of a zone which holds it: what cannot reach the one cannot reach the other. */
static int part_for(const sw_archive *a, const int64_t *value) {
    for (size_t z = 0; z < a->zone_count; z++)
        if (holds(a->views, &a->zones[z], value))
            return a->zones[z].part;
    return 0;
}

static sw_status add_member(sw_archive *a, const int64_t *value, const sw_tally *tally,
                            const int *picks) {
    const sw_views *v = a->views;
    size_t groups = v->of->group_count, extremes = (size_t)v->extremes;
    if (!SW_GROW(a->members, a->room, a->count))
        return SW_NO_MEMORY;
    sw_member *member = &a->members[a->count];
    *member = (sw_member){.picks = malloc(groups * sizeof *member->picks + 1),
                          .value = malloc(extremes * sizeof *member->value),
                          .floor = malloc((size_t)v->count * sizeof *member->floor),
                          .tally = *tally,
                          .part = part_for(a, value)};
    if (member->picks == NULL || member->value == NULL || member->floor == NULL) {
        free_member(member);
        return SW_NO_MEMORY;
    }
    memcpy(member->picks, picks, groups * sizeof *picks);
    memcpy(member->value, value, extremes * sizeof *value);
    set_worth(a, member);
    a->count++;
    return SW_OK;
}

sw_status sw_archive_take(bool *taken, sw_archive *a, const int64_t *value, const sw_tally *tally,
                          const int *picks) {
    const sw_views *v = a->views;
    *taken = false;
    for (size_t i = 0; i < a->count; i++) {
        sw_member *member = &a->members[i];
        relation is = relate(v, value, member->value);
        if (is == BELOW)
            return SW_OK;
        if (is != EQUAL)
            continue;
        if (sw_tally_compare(v->of, tally, picks, &member->tally, member->picks, false) < 0) {
            memcpy(member->picks, picks, v->of->group_count * sizeof *picks);
            member->tally = *tally;
            member->climbed = false;
            set_worth(a, member);
            *taken = true;
        }
        return SW_OK;
    }
    size_t kept = 0;
    for (size_t i = 0; i < a->count; i++) {
        if (relate(v, a->members[i].value, value) == BELOW)
            free_member(&a->members[i]);
        else
            a->members[kept++] = a->members[i];
    }
    a->count = kept;
    *taken = true;
    sw_status status = add_member(a, value, tally, picks);
    return status == SW_OK && a->zoned ? cut_zones(a, value) : status;
}
