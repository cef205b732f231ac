/* Sites that a piece offers, and things that it puts on sites. */
#include "check/stage.h"

#include <string.h>

/* More than this on one piece, and places could not be searched in time. */
#define SITES_LIMIT 64

static bool check_measure(sw_check *check, const sw_node *at, const char *name, int64_t *out) {
    *out = -1;
    return sw_member(at, name).json == NULL ||
           sw_get_milli(check, at, name, SW_OPTIONAL, 0, SW_MILLI_LIMIT, out);
}

static bool check_side(sw_check *check, const sw_node *at, const char **out) {
    return sw_member(at, "side").json == NULL || sw_get_token(check, at, "side", SW_OPTIONAL, out);
}

static bool check_count(sw_check *check, const sw_node *at, int *out) {
    *out = 1;
    return sw_member(at, "count").json == NULL ||
           sw_get_count(check, at, "count", SW_OPTIONAL, 1, SW_COUNT_LIMIT, out);
}

static bool check_length(sw_check *check, const sw_node *list) {
    if (list->json->count <= SITES_LIMIT)
        return true;
    sw_wrong(check, list, "one piece has at most 64 of them",
             "put equal ones together with \"count\"", "has %zu entries", list->json->count);
    return false;
}

/* ---- sites --------------------------------------------------------------------------- */

static bool check_one_taken(sw_check *check, const sw_node *at, sw_site_takes *out) {
    if (!SW_CHECK_NAMES(check, at, "site", "count"))
        return false;
    bool named = sw_get_token(check, at, "site", SW_REQUIRED, &out->site);
    return check_count(check, at, &out->count) && named;
}

static bool check_takes(sw_check *check, const sw_node *at, sw_site *out) {
    sw_node list;
    if (sw_member(at, "takes").json == NULL)
        return true;
    if (!sw_get_list(check, at, "takes", SW_OPTIONAL, 0, SITES_LIMIT, &list))
        return false;
    sw_site_takes *takes = SW_KEEP(check, sw_site_takes, list.json->count);
    bool good = takes != NULL;
    for (size_t i = 0; takes != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        good &= check_one_taken(check, &entry, &takes[i]);
    }
    out->takes = takes;
    out->takes_count = list.json->count;
    return good;
}

static bool check_site(sw_check *check, const sw_node *at, sw_site *out) {
    sw_node sizes;
    if (!SW_CHECK_NAMES(check, at, "site", "kind", "sizes", "count", "depth_mm", "reach_mm", "side",
                        "takes", "caution"))
        return false;
    bool good = sw_get_token(check, at, "site", SW_REQUIRED, &out->site);
    good &= sw_get_token(check, at, "kind", SW_REQUIRED, &out->kind);
    good &= sw_get_list(check, at, "sizes", SW_REQUIRED, 1, SITES_LIMIT, &sizes) &&
            sw_check_tokens(check, &sizes, &out->sizes, &out->size_count);
    good &= check_count(check, at, &out->count);
    good &= check_measure(check, at, "depth_mm", &out->depth_milli);
    good &= check_measure(check, at, "reach_mm", &out->reach_milli);
    good &= check_side(check, at, &out->side);
    good &= sw_member(at, "caution").json == NULL ||
            sw_get_text(check, at, "caution", SW_OPTIONAL, &out->caution);
    return check_takes(check, at, out) && good;
}

static int find_site(const sw_site *sites, size_t count, const char *name) {
    for (size_t i = 0; i < count; i++)
        if (strcmp(sites[i].site, name) == 0)
            return (int)i;
    return SW_NONE;
}

static bool check_distinct(sw_check *check, const sw_node *list, const sw_site *sites,
                           size_t count) {
    bool good = true;
    for (size_t i = 1; i < count; i++)
        if (find_site(sites, i, sites[i].site) != SW_NONE) {
            sw_node at = sw_element(list, i);
            sw_wrong(check, &at, "site names are distinct within a part",
                     "rename one, or put equal sites together with \"count\"",
                     "gives the site \"%s\" a second time", sw_shown(check, sites[i].site));
            good = false;
        }
    return good;
}

/* Points each of a site's `takes` at a site of the same piece. */
static bool resolve_takes(sw_check *check, const sw_node *at, sw_site *site, const sw_site *sites,
                          size_t count) {
    sw_site_takes *takes = SW_KEEP(check, sw_site_takes, site->takes_count);
    sw_node list = sw_member(at, "takes");
    bool good = takes != NULL;
    for (size_t t = 0; takes != NULL && t < site->takes_count; t++) {
        sw_node entry = sw_element(&list, t);
        takes[t] = site->takes[t];
        takes[t].index = find_site(sites, count, takes[t].site);
        if (takes[t].index == SW_NONE) {
            sw_wrong(check, &entry, "a site takes positions of sites of the same piece",
                     "name one of this part's sites", "takes the site \"%s\", which is not here",
                     sw_shown(check, takes[t].site));
            good = false;
        } else if (&sites[takes[t].index] == site) {
            sw_wrong(check, &entry, "a used position is used up already",
                     "name another site, or lower the count of this one",
                     "takes the site \"%s\" itself", sw_shown(check, takes[t].site));
            good = false;
        }
        for (size_t u = 0; u < t && takes[t].index != SW_NONE; u++)
            if (takes[u].index == takes[t].index) {
                sw_wrong(check, &entry, "each site is named once in \"takes\"",
                         "add the counts up in one entry", "takes the site \"%s\" again",
                         sw_shown(check, takes[t].site));
                good = false;
                break;
            }
    }
    site->takes = takes;
    return good;
}

bool sw_check_sites(sw_check *check, const sw_node *list, sw_value *out) {
    size_t count = list->json->count;
    sw_site *sites = check_length(check, list) ? SW_KEEP(check, sw_site, count) : NULL;
    bool good = sites != NULL;
    for (size_t i = 0; sites != NULL && i < count; i++) {
        sw_node at = sw_element(list, i);
        good &= check_site(check, &at, &sites[i]);
    }
    /* With a site's own name in doubt nothing can be said about who names it. */
    if (!good || !check_distinct(check, list, sites, count))
        return false;
    for (size_t i = 0; i < count; i++) {
        sw_node at = sw_element(list, i);
        good &= sites[i].takes_count == 0 || resolve_takes(check, &at, &sites[i], sites, count);
    }
    out->sites = sites;
    out->site_count = count;
    return good;
}

/* ---- things ---------------------------------------------------------------------------- */

/* What a fan moves: above nothing. */
static bool check_moved(sw_check *check, const sw_node *at, const char *name, int64_t *out) {
    *out = -1;
    return sw_member(at, name).json == NULL ||
           sw_get_milli(check, at, name, SW_OPTIONAL, 1, SW_MILLI_LIMIT, out);
}

static bool check_thing(sw_check *check, const sw_node *at, sw_thing *out) {
    int blows = 0;
    if (!SW_CHECK_NAMES(check, at, "kind", "size", "count", "depth_mm", "reach_mm", "side",
                        "air_m3_h", "stall_pa", "blows"))
        return false;
    bool good = sw_get_token(check, at, "kind", SW_REQUIRED, &out->kind);
    good &= sw_get_token(check, at, "size", SW_REQUIRED, &out->size);
    good &= check_count(check, at, &out->count);
    good &= check_measure(check, at, "depth_mm", &out->depth_milli);
    good &= check_measure(check, at, "reach_mm", &out->reach_milli);
    good &= check_moved(check, at, "air_m3_h", &out->air_milli);
    good &= check_moved(check, at, "stall_pa", &out->stall_milli);
    if (sw_member(at, "blows").json != NULL) {
        good &= SW_GET_CHOICE(check, at, "blows", SW_OPTIONAL, &blows, "in", "out");
        out->blows = blows == 0 ? SW_BLOWS_IN : SW_BLOWS_OUT;
    }
    return check_side(check, at, &out->side) && good;
}

bool sw_check_things(sw_check *check, const sw_node *list, sw_value *out) {
    size_t count = list->json->count;
    sw_thing *things = check_length(check, list) ? SW_KEEP(check, sw_thing, count) : NULL;
    bool good = things != NULL;
    for (size_t i = 0; things != NULL && i < count; i++) {
        sw_node at = sw_element(list, i);
        good &= check_thing(check, &at, &things[i]);
    }
    out->things = things;
    out->thing_count = count;
    return good;
}
