/* Lists of parts to ask about: mostly a few roles with a part each, some of them
 * twice; now and then the empty list, many of one role, or no part at all. */
#include "lists.h"

#include <string.h>

#include "member.h"

int roll(Dice *d, int n) { /* splitmix64 */
    uint64_t z = (d->state += UINT64_C(0x9E3779B97F4A7C15));
    z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
    return n <= 1 ? 0 : (int)((z ^ (z >> 31)) % (uint64_t)n);
}

static void add(Pool *p, const char *id, const char *role) {
    for (int i = 0; i < p->n; i++)
        if (!strcmp(p->id[i], id))
            return;
    if (p->n == MOST_POOL)
        return;
    p->id[p->n] = id;
    p->role[p->n++] = role;
}

Pool pool_of(const cJSON *roles, const cJSON *parts, const cJSON *scenario) {
    Pool p = {.n = 0, .roles = roles};
    const cJSON *json, *role;
    cJSON_ArrayForEach(json, get(parts, "parts"))
        add(&p, text_at(json, "id"), text_at(json, "role"));
    cJSON_ArrayForEach(json, get(scenario, "given"))
        add(&p, text_at(json, "part"), text_at(json, "role"));
    cJSON_ArrayForEach(role, get(scenario, "machine")) cJSON_ArrayForEach(json, role)
        add(&p, text_at(json, "part"), role->string);
    return p;
}

static int some_of_role(Dice *d, const Pool *p, const char *role) {
    int at = roll(d, p->n);
    for (int tries = 0; tries < 60 && role && strcmp(p->role[at], role) != 0; tries++)
        at = roll(d, p->n);
    return at;
}

static bool is_role_in(const Pool *p, const char *role, const int *at, int n) {
    for (int i = 0; i < n; i++)
        if (!strcmp(p->role[at[i]], role))
            return true;
    return false;
}

/* A part of a role that is not named yet, if the dice find one. */
static int some_other(Dice *d, const Pool *p, const int *at, int n) {
    int one = roll(d, p->n);
    for (int tries = 0; tries < 20 && is_role_in(p, p->role[one], at, n); tries++)
        one = roll(d, p->n);
    return one;
}

/* Mostly so many as the role takes of one part. */
static int draw_count(Dice *d, const Pool *p, const char *role) {
    const cJSON *json;
    if (roll(d, 6) == 0)
        return 1 + roll(d, 3);
    cJSON_ArrayForEach(json, get(p->roles, "roles")) {
        const cJSON *counts = get(json, "counts");
        if (strcmp(text_at(json, "role"), role) != 0)
            continue;
        if (cJSON_GetArraySize(counts))
            return cJSON_GetArrayItem(counts, roll(d, cJSON_GetArraySize(counts)))->valueint;
        return roll(d, 3) ? 1 : 1 + roll(d, (int)number_at(json, "most", 1));
    }
    return 1;
}

int draw_list(Dice *d, const Pool *p, const char **out) {
    int at[MOST_NAMED], n = 0, named = roll(d, 12) ? 1 + roll(d, 4) : 0;
    bool one_role = roll(d, 14) == 0;
    for (int i = 0; i < named; i++) {
        int part = one_role && i ? some_of_role(d, p, p->role[at[0]]) : some_other(d, p, at, n);
        int pieces = draw_count(d, p, p->role[part]);
        for (int k = 0; k < pieces && n < MOST_NAMED; k++)
            at[n++] = part;
    }
    for (int i = n - 1; i > 0; i--) { /* in any order */
        int k = roll(d, i + 1), held = at[i];
        at[i] = at[k];
        at[k] = held;
    }
    for (int i = 0; i < n; i++)
        out[i] = p->id[at[i]];
    if (n && roll(d, 40) == 0)
        out[roll(d, n)] = "no-such-part";
    return n;
}
