/* Listing the clauses of a job, and making the job without some of them. */
#include "answer/clauses.h"

#include <string.h>

typedef struct lister {
    sw_clauses *out;
    sw_arena *arena;
    size_t room;
    bool failed;
} lister;

static void add(lister *l, sw_clause_kind kind, int index, bool bends, const char *group,
                const char *name) {
    const char *id = sw_arena_format(l->arena, "%s%s%s", group, name[0] != '\0' ? ":" : "", name);
    if (id == NULL || l->out->count == l->room)
        l->failed = true;
    else
        l->out->list[l->out->count++] = (sw_clause){kind, index, id, bends};
}

static size_t most_clauses(const sw_scenario *s) {
    size_t most = s->catalog->rule_count + s->must_count + 2 * s->catalog->role_count +
                  s->avoid_count + s->given_count + 5;
    for (size_t r = 0; r < s->catalog->role_count; r++)
        most += 2 * s->machine_count[r];
    return most;
}

static void list_wishes(lister *l, const sw_scenario *s) {
    for (size_t r = 0; r < s->catalog->role_count; r++) {
        const char *id = s->catalog->roles[r].id;
        if (s->keep_role[r])
            add(l, SW_CLAUSE_KEEP_ROLE, (int)r, true, "keep", id);
        if (s->replace_role[r])
            add(l, SW_CLAUSE_REPLACE_ROLE, (int)r, true, "replace", id);
        for (size_t i = 0; i < s->machine_count[r]; i++) {
            int part = s->machine[r][i].part;
            if (s->keep_part[part])
                add(l, SW_CLAUSE_KEEP_PART, part, true, "keep", s->parts[part].id);
            if (s->replace_part[part])
                add(l, SW_CLAUSE_REPLACE_PART, part, true, "replace", s->parts[part].id);
        }
    }
    for (size_t i = 0; i < s->avoid_count; i++)
        add(l, SW_CLAUSE_AVOID, (int)i, true, "avoid", s->avoid[i]);
}

/* The rest that bends first, the rules last: a search for a conflict keeps what stands in
 * front as long as it can, and a client is told of wishes rather than of rules. */
sw_status sw_clauses_make(sw_clauses *out, sw_arena *arena, const sw_scenario *s,
                          bool allow_unknown) {
    *out = (sw_clauses){.scenario = s, .allow_unknown = allow_unknown};
    lister l = {.out = out, .arena = arena, .room = most_clauses(s)};
    out->list = SW_NEW(arena, sw_clause, l.room);
    if (out->list == NULL)
        return SW_NO_MEMORY;
    add(&l, SW_CLAUSE_BUDGET, 0, true, "budget", "");
    for (size_t m = 0; m < s->must_count; m++)
        add(&l, s->musts[m].part != SW_NONE ? SW_CLAUSE_MUST_REPLACE : SW_CLAUSE_MUST_DO, (int)m,
            true, "must", s->musts[m].id);
    list_wishes(&l, s);
    if (s->loudness_limit_milli >= 0)
        add(&l, SW_CLAUSE_LOUDNESS, 0, true, "limit", "loudness_sone");
    if (s->days_limit >= 0)
        add(&l, SW_CLAUSE_DAYS, 0, true, "limit", "days");
    if (s->minutes_limit >= 0)
        add(&l, SW_CLAUSE_MINUTES, 0, true, "limit", "bench_minutes");
    for (size_t g = 0; g < s->given_count; g++)
        if (s->given[g].must_use)
            add(&l, SW_CLAUSE_USE, (int)g, true, "use", s->parts[s->given[g].part].id);
    if (!allow_unknown)
        add(&l, SW_CLAUSE_UNKNOWN, 0, true, "unknown", "");
    for (size_t r = 0; r < s->catalog->rule_count; r++)
        if (s->catalog->rules[r].hard)
            add(&l, SW_CLAUSE_RULE, (int)r, s->catalog->rules[r].bends, "rule",
                s->catalog->rules[r].id);
    return l.failed ? SW_NO_MEMORY : SW_OK;
}

/* ---- the job without some of them -------------------------------------------------------- */

/* Own copies of everything that a dropped clause changes. */
static sw_scenario *copy_scenario(sw_arena *arena, const sw_scenario *s) {
    const size_t roles = s->catalog->role_count, parts = s->part_count;
    sw_scenario *out = SW_NEW(arena, sw_scenario, 1);
    if (out == NULL)
        return NULL;
    *out = *s;
    out->musts = SW_NEW(arena, sw_must, s->must_count);
    out->given = SW_NEW(arena, sw_given, s->given_count);
    out->keep_role = SW_NEW(arena, bool, roles);
    out->replace_role = SW_NEW(arena, bool, roles);
    out->keep_part = SW_NEW(arena, bool, parts);
    out->replace_part = SW_NEW(arena, bool, parts);
    out->avoid_part = SW_NEW(arena, bool, parts);
    if (out->musts == NULL || out->given == NULL || out->keep_role == NULL ||
        out->replace_role == NULL || out->keep_part == NULL || out->replace_part == NULL ||
        out->avoid_part == NULL)
        return NULL;
    if (s->given_count > 0)
        memcpy(out->given, s->given, s->given_count * sizeof *s->given);
    memcpy(out->keep_role, s->keep_role, roles * sizeof *s->keep_role);
    memcpy(out->replace_role, s->replace_role, roles * sizeof *s->replace_role);
    memcpy(out->keep_part, s->keep_part, parts * sizeof *s->keep_part);
    memcpy(out->replace_part, s->replace_part, parts * sizeof *s->replace_part);
    out->must_count = 0;
    return out;
}

/* Makes the scenario what the clause, dropped or not, says of it. */
static void apply(sw_scenario *out, const sw_scenario *s, const sw_clause *clause, bool dropped) {
    switch (clause->kind) {
    case SW_CLAUSE_MUST_REPLACE:
    case SW_CLAUSE_MUST_DO:
        if (!dropped)
            out->musts[out->must_count++] = s->musts[clause->index];
        break;
    case SW_CLAUSE_KEEP_ROLE:
        out->keep_role[clause->index] = !dropped;
        break;
    case SW_CLAUSE_REPLACE_ROLE:
        out->replace_role[clause->index] = !dropped;
        break;
    case SW_CLAUSE_KEEP_PART:
        out->keep_part[clause->index] = !dropped;
        break;
    case SW_CLAUSE_REPLACE_PART:
        out->replace_part[clause->index] = !dropped;
        break;
    case SW_CLAUSE_AVOID:
        for (size_t p = 0; p < s->part_count && !dropped; p++)
            if (sw_is_avoided(&s->parts[p], s->avoid[clause->index]))
                out->avoid_part[p] = true;
        break;
    case SW_CLAUSE_LOUDNESS:
        out->loudness_limit_milli = dropped ? -1 : s->loudness_limit_milli;
        break;
    case SW_CLAUSE_DAYS:
        out->days_limit = dropped ? -1 : s->days_limit;
        break;
    case SW_CLAUSE_MINUTES:
        out->minutes_limit = dropped ? -1 : s->minutes_limit;
        break;
    case SW_CLAUSE_USE:
        out->given[clause->index].must_use = !dropped;
        break;
    default:
        break;
    }
}

sw_status sw_clauses_setup(sw_setup *out, int64_t *limit, const sw_clauses *clauses,
                           const bool *dropped, sw_arena *arena, sw_complaints *complaints) {
    const sw_scenario *s = clauses->scenario;
    sw_scenario *own = copy_scenario(arena, s);
    bool *aside = SW_NEW(arena, bool, s->catalog->rule_count);
    if (own == NULL || aside == NULL)
        return SW_NO_MEMORY;
    bool allow_unknown = clauses->allow_unknown, any_price = false;
    for (size_t i = 0; i < clauses->count; i++) {
        const sw_clause *clause = &clauses->list[i];
        apply(own, s, clause, dropped[i]);
        if (clause->kind == SW_CLAUSE_RULE)
            aside[clause->index] = dropped[i];
        else if (clause->kind == SW_CLAUSE_UNKNOWN)
            allow_unknown = allow_unknown || dropped[i];
        else if (clause->kind == SW_CLAUSE_BUDGET)
            any_price = dropped[i];
    }
    sw_status status = sw_setup_make(out, own, allow_unknown, aside, complaints);
    if (status == SW_OK)
        *limit = any_price ? SW_NO_LIMIT : out->program->budget;
    return status;
}

/* ---- telling ----------------------------------------------------------------------------------
 */

static const char *subject_of(const sw_scenario *s, const sw_clause *clause) {
    switch (clause->kind) {
    case SW_CLAUSE_RULE:
        return s->catalog->rules[clause->index].name;
    case SW_CLAUSE_MUST_REPLACE:
        return s->parts[s->musts[clause->index].part].name;
    case SW_CLAUSE_MUST_DO:
        return s->catalog->tasks[s->musts[clause->index].task].name;
    case SW_CLAUSE_KEEP_ROLE:
    case SW_CLAUSE_REPLACE_ROLE:
        return s->catalog->roles[clause->index].name;
    case SW_CLAUSE_KEEP_PART:
    case SW_CLAUSE_REPLACE_PART:
        return s->parts[clause->index].name;
    case SW_CLAUSE_AVOID:
        return s->avoid[clause->index];
    case SW_CLAUSE_USE:
        return s->parts[s->given[clause->index].part].name;
    default:
        return "";
    }
}

static int64_t number_of(const sw_scenario *s, const sw_clause *clause) {
    switch (clause->kind) {
    case SW_CLAUSE_LOUDNESS:
        return s->loudness_limit_milli;
    case SW_CLAUSE_DAYS:
        return s->days_limit;
    case SW_CLAUSE_MINUTES:
        return s->minutes_limit;
    case SW_CLAUSE_BUDGET:
        return sw_scenario_budget(s);
    default:
        return 0;
    }
}

sw_status sw_clause_tell(sw_answer_clause *out, sw_arena *arena, const sw_clauses *clauses,
                         size_t index) {
    const sw_clause *clause = &clauses->list[index];
    const sw_scenario *scenario = clauses->scenario;
    bool must = clause->kind == SW_CLAUSE_MUST_REPLACE || clause->kind == SW_CLAUSE_MUST_DO;
    *out = (sw_answer_clause){.kind = clause->kind, .number = number_of(scenario, clause)};
    out->id = sw_arena_copy(arena, clause->id);
    out->subject = sw_arena_copy(arena, subject_of(scenario, clause));
    out->why = sw_arena_copy(arena, must ? scenario->musts[clause->index].why : "");
    bool all = out->id != NULL && out->subject != NULL && out->why != NULL;
    return all ? SW_OK : SW_NO_MEMORY;
}
