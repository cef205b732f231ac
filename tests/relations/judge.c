/* Runs a relation's variables over the shelf, counts the cases it speaks about, and
 * tells of each case in which it does not hold. Too few cases fail it as well: a
 * relation that has nothing to say about the shelf proves nothing. */
#include "judge.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "value.h"

enum { TOLD = 8 };

typedef struct member {
    value a, b, by;
    const char *who;
    double rank_a, rank_b;
} member;

typedef struct court {
    const relation *r;
    const shelf *s;
    standing at;
    pool kept; /* ranked members and what was found */
    size_t cases, failed, found;
    member *members;
    size_t member_count, member_room;
    const char **seen; /* distinct values found for the case at hand */
    size_t seen_count, seen_room;
} court;

/* ---- telling ---- */

static const char *text_of(const cJSON *record, const char *name) {
    return cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(record, name));
}

static const char *name_of(pool *to, const cJSON *record) {
    const char *part = text_of(record, "part"), *seller = text_of(record, "seller");
    const char *id = text_of(record, "id");
    if (part != NULL && seller != NULL)
        return join(to, join(to, part, " at "), seller);
    if (id != NULL)
        return id;
    const char *site = text_of(record, "site");
    return site != NULL ? site : text_of(record, "kind");
}

static const char *who(court *c, pool *to, size_t count) {
    const char *all = "";
    for (size_t i = 0; i < count; i++) {
        const char *name = name_of(to, c->at.records[i]);
        all = join(to, join(to, all, i > 0 ? ", " : ""), name == NULL ? "?" : name);
    }
    return all;
}

/* The facts that the expression reads, each once. */
static const char *numbers(court *c, const node *n, const char *so_far) {
    pool *to = c->at.scratch;
    if (n == NULL)
        return so_far;
    if (n->op == OP_LET)
        return numbers(c, c->r->lets[n->who].is, so_far);
    if (n->op == OP_FIELD && c->at.records[n->who] != NULL) {
        const char name[] = {' ', c->r->ranges[n->who].name, '.', '\0'};
        const char *fact = join(to, join(to, name, n->text), " ");
        if (strstr(so_far, fact) != NULL)
            return so_far;
        return join(to, join(to, so_far, fact), join(to, value_text(to, value_of(&c->at, n)), ";"));
    }
    for (size_t i = 0; i < 3 && n->op != OP_ONE_OF && n->op != OP_ALIKE; i++)
        so_far = numbers(c, n->kids[i], so_far);
    return n->op == OP_ONE_OF ? numbers(c, n->kids[0], so_far) : so_far;
}

static void tell(court *c, const char *names, const char *what) {
    if (c->failed++ == 0)
        printf("FAILED %s: %s\n", c->r->name, c->r->says);
    if (c->failed <= TOLD)
        printf("    %s:%s\n", names, what);
}

/* ---- one case ---- */

static void run(court *c, size_t from, size_t end, void (*each)(court *));

static void note_distinct(court *c) {
    const char *text = value_text(c->at.scratch, value_of(&c->at, c->r->distinct));
    for (size_t i = 0; i < c->seen_count; i++)
        if (strcmp(c->seen[i], text) == 0)
            return;
    if (c->seen_count == c->seen_room) {
        size_t room = c->seen_room == 0 ? 16 : c->seen_room * 2;
        const char **all = pool_take(&c->kept, room * sizeof *all);
        if (c->seen_count > 0)
            memcpy(all, c->seen, c->seen_count * sizeof *all);
        c->seen = all;
        c->seen_room = room;
    }
    c->seen[c->seen_count++] = pool_text(&c->kept, text, strlen(text));
    c->found++;
}

static void match(court *c) {
    if (!all_true(&c->at, &c->r->with))
        return;
    if (c->r->distinct != NULL)
        note_distinct(c);
    else
        c->found++;
}

static void judge_some(court *c) {
    c->found = c->seen_count = 0;
    c->cases++;
    run(c, c->r->for_count, c->r->range_count, match);
    for (size_t i = c->r->for_count; i < c->r->range_count; i++)
        c->at.records[i] = NULL;
    if (c->r->none ? c->found == 0 : c->found >= c->r->finds)
        return;
    const char *what =
        join(c->at.scratch, " found ", decimal_text(c->at.scratch, (double)c->found));
    const char *facts = "";
    for (size_t i = 0; i < c->r->with.count; i++)
        facts = numbers(c, c->r->with.all[i], facts);
    tell(c, who(c, c->at.scratch, c->r->for_count),
         join(c->at.scratch, join(c->at.scratch, what, *facts ? ", with" : ""), facts));
}

static void judge_holds(court *c) {
    if (any_unknown(&c->at, &c->r->holds))
        return;
    c->cases++;
    if (all_true(&c->at, &c->r->holds))
        return;
    const char *facts = "";
    for (size_t i = 0; i < c->r->holds.count; i++)
        facts = numbers(c, c->r->holds.all[i], facts);
    tell(c, who(c, c->at.scratch, c->r->for_count), facts);
}

static value keep_value(court *c, value v) {
    if (v.kind == TEXT)
        v.text = pool_text(&c->kept, v.text, strlen(v.text));
    return v;
}

static void gather(court *c) {
    value a = value_of(&c->at, c->r->rank_a), b = value_of(&c->at, c->r->rank_b);
    value by = {.kind = NUMBER};
    if (c->r->rank_by != NULL)
        by = value_of(&c->at, c->r->rank_by);
    if (a.kind == UNKNOWN || b.kind == UNKNOWN || by.kind == UNKNOWN)
        return;
    if (c->member_count == c->member_room) {
        size_t room = c->member_room == 0 ? 64 : c->member_room * 2;
        member *all = pool_take(&c->kept, room * sizeof *all);
        if (c->member_count > 0)
            memcpy(all, c->members, c->member_count * sizeof *all);
        c->members = all;
        c->member_room = room;
    }
    const char *name = who(c, &c->kept, c->r->for_count);
    c->members[c->member_count++] = (member){
        .a = keep_value(c, a), .b = keep_value(c, b), .by = keep_value(c, by), .who = name};
}

static void one_case(court *c) {
    if (all_true(&c->at, &c->r->where)) {
        if (c->r->rank_a != NULL)
            gather(c);
        else if (c->r->range_count > c->r->for_count)
            judge_some(c);
        else
            judge_holds(c);
    }
    pool_empty(c->at.scratch);
}

static bool of_role(const range *over, const cJSON *part) {
    for (size_t i = 0; i < over->role_count; i++)
        if (strcmp(over->roles[i], "any") == 0 ||
            strcmp(over->roles[i], text_of(part, "role")) == 0)
            return true;
    return false;
}

static void run(court *c, size_t from, size_t end, void (*each)(court *)) {
    if (from == end) {
        each(c);
        return;
    }
    const range *over = &c->r->ranges[from];
    if (over->of_other) {
        const cJSON *item,
            *list = cJSON_GetObjectItemCaseSensitive(c->at.records[over->other], over->field);
        cJSON_ArrayForEach(item, list) {
            c->at.records[from] = item;
            run(c, from + 1, end, each);
        }
        return;
    }
    const records *all = strcmp(over->roles[0], "listing") == 0  ? &c->s->listings
                         : strcmp(over->roles[0], "seller") == 0 ? &c->s->sellers
                                                                 : &c->s->parts;
    for (size_t i = 0; i < all->count; i++) {
        if (all == &c->s->parts && !of_role(over, all->all[i]))
            continue;
        bool twice = false;
        for (size_t k = 0; k < from; k++)
            twice = twice || c->at.records[k] == all->all[i];
        if (twice)
            continue;
        c->at.records[from] = all->all[i];
        run(c, from + 1, end, each);
    }
}

/* ---- rank correlation ---- */

static int by_group_and_a(const void *x, const void *y) {
    const member *p = x, *q = y;
    int order = compare(p->by, q->by);
    return order != 0 ? order : compare(p->a, q->a);
}

static int by_b(const void *x, const void *y) {
    return compare(((const member *)x)->b, ((const member *)y)->b);
}

/* Ties share the middle of their places. The members are sorted by that value. */
static void give_ranks(member *m, size_t count, bool first) {
    for (size_t i = 0, end; i < count; i = end) {
        for (end = i + 1; end < count; end++)
            if (compare(first ? m[i].a : m[i].b, first ? m[end].a : m[end].b) != 0)
                break;
        for (size_t k = i; k < end; k++)
            *(first ? &m[k].rank_a : &m[k].rank_b) = (double)(i + end - 1) / 2;
    }
}

/* Spearman's: the correlation of the ranks. All equal on one side: 0. */
static double correlation(member *m, size_t count) {
    double middle = (double)(count - 1) / 2, ab = 0, aa = 0, bb = 0;
    give_ranks(m, count, true);
    qsort(m, count, sizeof *m, by_b);
    give_ranks(m, count, false);
    for (size_t i = 0; i < count; i++) {
        double a = m[i].rank_a - middle, b = m[i].rank_b - middle;
        ab += a * b;
        aa += a * a;
        bb += b * b;
    }
    return aa > 0 && bb > 0 ? ab / sqrt(aa * bb) : 0;
}

static const member *farthest(const member *m, size_t count) {
    const member *far = m;
    for (size_t i = 1; i < count; i++)
        if (fabs(m[i].rank_a - m[i].rank_b) > fabs(far->rank_a - far->rank_b))
            far = &m[i];
    return far;
}

static void judge_rank(court *c) {
    if (c->member_count > 1)
        qsort(c->members, c->member_count, sizeof *c->members, by_group_and_a);
    for (size_t i = 0, end; i < c->member_count; i = end) {
        member *m = c->members + i;
        for (end = i + 1; end < c->member_count; end++)
            if (compare(m->by, c->members[end].by) != 0)
                break;
        if (end - i < 4) /* too few for an order to mean anything */
            continue;
        c->cases += end - i;
        value by = m->by;
        double r = correlation(m, end - i);
        if (r >= c->r->rank_least)
            continue;
        const member *far = farthest(m, end - i);
        pool *to = c->at.scratch;
        const char *what = join(to, join(to, " rank correlation ", decimal_text(to, r)),
                                join(to, ", farthest off ", far->who));
        tell(c, c->r->rank_by == NULL ? "all" : value_text(to, by), what);
    }
}

/* ---- fields ---- */

static void check_node(const relation *r, const shelf *s, const node *n) {
    for (; n != NULL; n = n->next) {
        if (n->op == OP_FIELD && !shelf_has_field(s, n->text))
            give_up("relation %s: nothing has the fact %s", r->name, n->text);
        for (size_t i = 0; i < 3; i++)
            check_node(r, s, n->kids[i]);
    }
}

void check_fields(const relation *r, const shelf *s) {
    const conditions *const lists[] = {&r->where, &r->with, &r->holds};
    for (size_t i = 0; i < 3; i++)
        for (size_t k = 0; k < lists[i]->count; k++)
            check_node(r, s, lists[i]->all[k]);
    for (size_t i = 0; i < r->let_count; i++)
        check_node(r, s, r->lets[i].is);
    check_node(r, s, r->rank_a);
    check_node(r, s, r->rank_b);
    check_node(r, s, r->rank_by);
    check_node(r, s, r->distinct);
    for (size_t i = 0; i < r->range_count; i++) {
        const range *over = &r->ranges[i];
        bool known = over->of_other && shelf_has_field(s, over->field);
        for (size_t k = 0; k < over->role_count; k++) {
            const char *role = over->roles[k];
            known = strcmp(role, "any") == 0 || strcmp(role, "listing") == 0 ||
                    strcmp(role, "seller") == 0;
            for (size_t p = 0; p < s->parts.count && !known; p++)
                known = strcmp(role, text_of(s->parts.all[p], "role")) == 0;
            if (!known)
                break;
        }
        if (!known)
            give_up("relation %s: nothing for %c to run over", r->name, over->name);
    }
}

bool judge(const relation *r, const shelf *s) {
    pool scratch = {0};
    court c = {.r = r, .s = s};
    c.at.of = r;
    c.at.scratch = &scratch;
    run(&c, 0, r->for_count, one_case);
    if (r->rank_a != NULL)
        judge_rank(&c);
    if (c.failed > TOLD)
        printf("    and %zu more\n", c.failed - TOLD);
    if (c.cases < r->cases) {
        if (c.failed++ == 0)
            printf("FAILED %s: %s\n", r->name, r->says);
        printf("    it speaks of %zu cases, where %zu at least are wanted\n", c.cases, r->cases);
    }
    pool_empty(&scratch);
    pool_empty(&c.kept);
    return c.failed == 0;
}
