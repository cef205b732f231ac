/* Every role that is not as agreed is told, and whether the client is asked, by the page's rules.
 */
#include "shopping.h"

#include <stdio.h>
#include <string.h>

typedef struct Whole {                                 /* the one taken against what was agreed */
    bool dearer, later, poorer, seller, as_good, part; /* the last three: what is allowed */
    long days;
} Whole;

typedef struct Side { /* of one role */
    const char *role;
    const cJSON *from, *to; /* swaps; NULL: as today */
} Side;

/* ---- what differs ---- */

static bool same_list(const cJSON *a, const cJSON *b, bool sellers) {
    if (cJSON_GetArraySize(a) != cJSON_GetArraySize(b))
        return false;
    for (int i = 0; i < cJSON_GetArraySize(a); i++) {
        const cJSON *x = cJSON_GetArrayItem(a, i), *y = cJSON_GetArrayItem(b, i);
        if (strcmp(text_of(x, "part"), text_of(y, "part")) != 0 ||
            get(x, "count")->valuedouble != get(y, "count")->valuedouble ||
            (sellers && strcmp(text_of(x, "seller"), text_of(y, "seller")) != 0))
            return false;
    }
    return true;
}

static bool same_parts(const Side *s, bool sellers) {
    return same_list(get(s->from, "in"), get(s->to, "in"), sellers) &&
           same_list(get(s->from, "out"), get(s->to, "out"), false);
}

/* The work of a role, one by one: returns the next id behind `after`; NULL at the end. */
static const char *work_after(const cJSON *bundle, const char *role, const char *after) {
    const cJSON *task;
    bool found = after == NULL;
    cJSON_ArrayForEach(task, get(bundle, "tasks")) {
        if (strcmp(text_of(task, "role"), role) != 0)
            continue;
        if (found)
            return text_of(task, "id");
        found = !strcmp(text_of(task, "id"), after);
    }
    return NULL;
}

static bool same_work(const cJSON *a, const cJSON *b, const char *role) {
    const char *x = work_after(a, role, NULL), *y = work_after(b, role, NULL);
    while (x && y && !strcmp(x, y)) {
        x = work_after(a, role, x);
        y = work_after(b, role, y);
    }
    return !x && !y;
}

static bool is_work(Talk *t, const cJSON *told, const cJSON *bundle, const char *role) {
    const char *id = NULL;
    const cJSON *item;
    cJSON_ArrayForEach(item, told) {
        id = work_after(bundle, role, id);
        if (!id || !cJSON_IsString(item) || strcmp(id, item->valuestring) != 0)
            return fail(t, "work of %s", role);
    }
    return !work_after(bundle, role, id) || fail(t, "work of %s left out", role);
}

/* ---- all that the role holds ---- */

static int count_of(const cJSON *list, const char *part, const char *seller) {
    const cJSON *item;
    int count = 0;
    cJSON_ArrayForEach(item, list) {
        const cJSON *by = get(item, "seller");
        bool right =
            !seller ? !cJSON_IsString(by) : cJSON_IsString(by) && !strcmp(by->valuestring, seller);
        if (!strcmp(text_of(item, "part"), part) && right)
            count += (int)get(item, "count")->valuedouble;
    }
    return count;
}

static bool is_holding(Talk *t, const Case *c, const cJSON *told, const cJSON *swap,
                       const char *role) {
    const cJSON *piece;
    int all = 0, bought = 0, counted = 0;
    cJSON_ArrayForEach(piece, get(get(c->job, "machine"), role)) {
        const char *part = text_of(piece, "part");
        const cJSON *n = get(piece, "count"), *out;
        int stays = n ? (int)n->valuedouble : 1;
        cJSON_ArrayForEach(out, get(swap, "out")) if (!strcmp(text_of(out, "part"), part)) stays -=
            (int)get(out, "count")->valuedouble;
        if (count_of(told, part, NULL) != stays)
            return fail(t, "%s of %s stay in other numbers", part, role);
        all += stays;
    }
    cJSON_ArrayForEach(piece, get(swap, "in")) {
        int count = (int)get(piece, "count")->valuedouble;
        if (count_of(told, text_of(piece, "part"), text_of(piece, "seller")) != count)
            return fail(t, "%s is not told in %s", text_of(piece, "part"), role);
        bought += count;
    }
    cJSON_ArrayForEach(piece, told) counted += (int)get(piece, "count")->valuedouble;
    return counted == all + bought || fail(t, "more is told of %s than it holds", role);
}

/* ---- free, or to be asked ---- */

static const cJSON *in_with(const cJSON *swap, const char *part) {
    const cJSON *item;
    cJSON_ArrayForEach(item, get(swap, "in")) if (!strcmp(text_of(item, "part"), part)) return item;
    return NULL;
}

static double number(const cJSON *object, const char *name) {
    const cJSON *found = get(object, name);
    return found ? found->valuedouble : 0; /* what is given has neither warranty nor return */
}

/* "same parts and tasks in the role, its goods for no more than in A, no part of it later than D,
 * warranty and return of each part no shorter" */
static bool seller_is_free(const Side *s, const Whole *w) {
    long long before = 0, now = 0;
    const cJSON *item;
    cJSON_ArrayForEach(item, get(s->from, "in")) before += money_of(text_of(item, "price"));
    cJSON_ArrayForEach(item, get(s->to, "in")) {
        const cJSON *was = in_with(s->from, text_of(item, "part"));
        now += money_of(text_of(item, "price"));
        if (number(item, "days") > (double)w->days ||
            number(item, "warranty_months") < number(was, "warranty_months") ||
            number(item, "return_days") < number(was, "return_days"))
            return false;
    }
    return now <= before;
}

static bool asks(const Side *s, const Whole *w, bool seller_alone, Tally *y) {
    bool within = !w->dearer && !w->later;
    if (seller_alone && w->seller && seller_is_free(s, w)) {
        y->free_seller++;
        return false;
    }
    if (!seller_alone && w->as_good && within && !w->poorer) {
        y->free_good++;
        return false;
    }
    y->free_part += w->part && within;
    return !(w->part && within);
}

static const cJSON *allowances(const Case *c) {
    const cJSON *named = get(c->job, "surprise"), *one, *list = get(c->paper, "surprises");
    if (!named)
        return list ? get(list->child, "allows") : NULL;
    cJSON_ArrayForEach(one, list) if (!strcmp(text_of(one, "surprise"),
                                              named->valuestring)) return get(one, "allows");
    return NULL;
}

static bool allows(const Case *c, const char *what) {
    const cJSON *item;
    cJSON_ArrayForEach(item, allowances(c)) if (!strcmp(item->valuestring, what)) return true;
    return false;
}

static const cJSON *way_of(const Case *c) {
    const cJSON *way;
    cJSON_ArrayForEach(way,
                       get(c->oracle, "ways")) if (!strcmp(text_of(way, "way"),
                                                           text_of(c->answer, "taken"))) return way;
    return NULL;
}

static Whole compare(const Case *c) {
    const cJSON *way = way_of(c), *agreed = get(c->oracle, "agreed"), *points;
    Whole w = {.days = (long)get(c->agreed, "longest_days")->valuedouble};
    w.seller = allows(c, "seller");
    w.as_good = allows(c, "as-good");
    w.part = allows(c, "part");
    w.dearer = money_of(text_of(get(way, "bundle"), "cost")) > money_of(text_of(agreed, "cost"));
    w.later = get(way, "days")->valuedouble > (double)w.days;
    w.poorer = cJSON_IsNull(get(way, "criteria"));
    cJSON_ArrayForEach(points, get(agreed, "criteria")) w.poorer =
        w.poorer ||
        money_of(text_of(get(way, "criteria"), points->string)) < money_of(points->valuestring);
    return w;
}

/* ---- the list ---- */

static bool is_change(Talk *t, const cJSON *told, const char *kind, const char *role, bool word) {
    char what[160];
    snprintf(what, sizeof what, "change of %s (%s)", role ? role : "the whole", kind);
    if (!told)
        return fail(t, "%s is not told", what);
    const cJSON *of = get(told, "role"), *asked = get(told, "word");
    if (!same_text(t, what, kind, text_of(told, "kind")))
        return false;
    if (role ? !cJSON_IsString(of) || strcmp(of->valuestring, role) != 0 : !cJSON_IsNull(of))
        return fail(t, "%s is of another role", what);
    if (!cJSON_IsBool(asked) || cJSON_IsTrue(asked) != word)
        return fail(t, "%s: it %s the client's word", what, word ? "needs" : "does not need");
    return strlen(text_of(told, "because")) > 10 || fail(t, "%s: no reason", what);
}

static bool right_role(Talk *t, const Case *c, const char *role, const Whole *w, const cJSON **told,
                       Tally *y) {
    const cJSON *taken = taken_bundle(c);
    Side s = {role, swap_of(c->agreed, role), swap_of(taken, role)};
    bool parts = !same_parts(&s, false) || !same_work(c->agreed, taken, role);
    if (!parts && same_parts(&s, true))
        return true;
    bool word = asks(&s, w, !parts, y);
    y->asked += word;
    if (!is_change(t, *told, parts ? "parts" : "seller", role, word) ||
        !is_holding(t, c, get(*told, "from"), s.from, role) ||
        !is_holding(t, c, get(*told, "to"), s.to, role) ||
        !is_work(t, get(*told, "work_from"), c->agreed, role) ||
        !is_work(t, get(*told, "work_to"), taken, role))
        return false;
    *told = (*told)->next;
    return true;
}

/* Roles in byte order of their ids: the one behind `after`. */
static const char *role_after(const Case *c, const char *after) {
    const cJSON *role;
    const char *next = NULL;
    cJSON_ArrayForEach(role, get(c->roles, "roles")) {
        const char *id = text_of(role, "role");
        if ((!after || strcmp(id, after) > 0) && (!next || strcmp(id, next) < 0))
            next = id;
    }
    return next;
}

bool right_changes(Talk *t, const Case *c, Tally *y) {
    const cJSON *told = get(c->answer, "changes")->child;
    if (!strcmp(text_of(c->answer, "taken"), "as-agreed") || !taken_bundle(c))
        return !told || fail(t, "changes, and nothing to change");
    Whole w = compare(c);
    for (const char *role = role_after(c, NULL); role; role = role_after(c, role))
        if (!right_role(t, c, role, &w, &told, y))
            return false;
    if (w.dearer) {
        if (!is_change(t, told, "total", NULL, true))
            return false;
        told = told->next;
    }
    if (w.later) {
        if (!is_change(t, told, "day", NULL, true))
            return false;
        told = told->next;
    }
    return !told || fail(t, "a change is told that is none: %s", text_of(told, "kind"));
}
