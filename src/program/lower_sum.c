/* Sums over several roles (supply, within with something taken) as rows: the
 * sum itself where everything is known, and what unknown facts forbid. */
#include "program/stage.h"

/* A fit-out's share of need - room; false when it reads an unknown value. */
static bool share_of(const sw_program *program, const sw_rule *rule, const sw_fitout *fitout,
                     int64_t *share) {
    const sw_fitouts *fitouts = program->fitouts;
    bool known = true;
    *share = 0;
    int64_t amount = 0;
    if (rule->shape == SW_WITHIN) {
        const sw_term *sides[2] = {&rule->left, &rule->right};
        for (int s = 0; s < 2; s++)
            if (sides[s]->role == fitout->role) {
                known = sw_term_amount(fitouts, fitout, sides[s], 1000, &amount) && known;
                *share += s == 0 ? amount : -amount;
            }
        for (size_t i = 0; i < rule->taken_count; i++)
            if (rule->taken[i].role == SW_EVERY_ROLE || rule->taken[i].role == fitout->role) {
                known = sw_term_amount(fitouts, fitout, &rule->taken[i], 1000, &amount) && known;
                *share += amount;
            }
        return known;
    }
    for (size_t i = 0; i < rule->load_count + rule->supply_count; i++) {
        const sw_load *load =
            i < rule->load_count ? &rule->loads[i] : &rule->supplies[i - rule->load_count];
        if (load->term.fact == SW_NONE || load->today ||
            (load->term.role != SW_EVERY_ROLE && load->term.role != fitout->role))
            continue;
        known = sw_term_amount(fitouts, fitout, &load->term, load->factor_milli, &amount) && known;
        *share += i < rule->load_count ? amount : -amount;
    }
    return known;
}

static bool is_fixed(const sw_load *load) { return load->today || load->term.fact == SW_NONE; }

static int64_t fixed_part(const sw_fitouts *fitouts, const sw_rule *rule) {
    int64_t fixed = 0;
    for (size_t i = 0; i < rule->load_count; i++)
        if (is_fixed(&rule->loads[i]))
            fixed += sw_load_fixed(fitouts, &rule->loads[i]);
    for (size_t i = 0; i < rule->supply_count; i++)
        if (is_fixed(&rule->supplies[i]))
            fixed -= sw_load_fixed(fitouts, &rule->supplies[i]);
    return fixed;
}

/* A within is moot where its need or its room is void: narrow the scope. */
static sw_status narrow_to_stated(sw_program *program, const sw_rule *rule, sw_scope *scope) {
    const sw_fitouts *fitouts = program->fitouts;
    const sw_term *sides[2] = {&rule->left, &rule->right};
    for (int s = 0; s < 2; s++) {
        int role = sides[s]->role;
        bool *applies = scope->applies[role];
        bool fresh = applies == NULL;
        if (fresh)
            applies = SW_NEW(program->arena, bool, fitouts->fitout_count);
        if (applies == NULL)
            return SW_NO_MEMORY;
        for (int f = fitouts->first_fitout[role]; f < fitouts->first_fitout[role + 1]; f++) {
            const sw_value *value = sw_fitout_value(fitouts, &fitouts->fitouts[f], sides[s]->fact);
            applies[f] = (fresh || applies[f]) && value->state != SW_VOID;
        }
        scope->applies[role] = applies;
    }
    return SW_OK;
}

typedef struct sum_marks {
    bool *body;         /* [group] */
    bool *unknown;      /* [fitout] reads an unknown value */
    bool *adds;         /* [fitout] touches the rule */
    bool *unknown_adds; /* [fitout] both */
    bool *known;        /* [fitout] */
    bool any_unknown;
} sum_marks;

static sw_status make_marks(sw_program *program, int rule, sum_marks *marks, int64_t *share) {
    const sw_fitouts *fitouts = program->fitouts;
    const sw_rule *of = &program->book->rules[rule];
    size_t count = fitouts->fitout_count;
    *marks = (sum_marks){SW_NEW(program->arena, bool, program->group_count),
                         SW_NEW(program->arena, bool, count),
                         SW_NEW(program->arena, bool, count),
                         SW_NEW(program->arena, bool, count),
                         SW_NEW(program->arena, bool, count),
                         false};
    if (marks->body == NULL || marks->unknown == NULL || marks->adds == NULL ||
        marks->unknown_adds == NULL || marks->known == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++)
        marks->body[g] = sw_rule_reads(fitouts, of, (int)g);
    for (size_t f = 0; f < count; f++) {
        const sw_fitout *fitout = &fitouts->fitouts[f];
        bool known = share_of(program, of, fitout, &share[f]);
        bool body = marks->body[fitout->role];
        marks->unknown[f] = body && !known;
        marks->known[f] = known;
        marks->adds[f] = program->book->touches[rule][f];
        marks->unknown_adds[f] = marks->unknown[f] && marks->adds[f];
        marks->any_unknown = marks->any_unknown || marks->unknown[f];
    }
    return SW_OK;
}

/* An unknown value forbids the machine once any body role is touched. */
static sw_status forbid_unknown(sw_program *program, int rule, const sw_scope *scope,
                                const sum_marks *marks) {
    sw_set *sets = SW_NEW(program->arena, sw_set, program->group_count + 2);
    if (sets == NULL)
        return SW_NO_MEMORY;
    sw_status status = SW_OK;
    for (size_t u = 0; u < program->group_count && status == SW_OK; u++)
        for (size_t a = 0; a < program->group_count && status == SW_OK; a++) {
            if (!marks->body[u] || !marks->body[a])
                continue;
            size_t count = u == a ? 1 : 2;
            status = sw_set_make(&sets[0], program, (int)u,
                                 u == a ? marks->unknown_adds : marks->unknown);
            if (status == SW_OK && u != a)
                status = sw_set_make(&sets[1], program, (int)a, marks->adds);
            if (status == SW_OK)
                status = sw_scope_sets(sets, &count, program, scope, NULL);
            if (status == SW_OK)
                status = sw_not_all_add(program, rule, sets, count);
        }
    return status;
}

static sw_status add_sum(sw_program *program, int rule, const sw_scope *scope,
                         const sum_marks *marks, const int64_t *share) {
    sw_sum sum = {.rule = rule, .in = marks->body};
    sum.amount = SW_NEW(program->arena, int64_t, program->pick_count);
    sum.when = SW_NEW(program->arena, sw_set, program->group_count * 2);
    if (sum.amount == NULL || sum.when == NULL)
        return SW_NO_MEMORY;
    const sw_judgement *now = &program->book->now[rule];
    sum.limit = (now->verdict == SW_BROKEN ? now->excess : 0) -
                fixed_part(program->fitouts, &program->book->rules[rule]);
    for (size_t p = 0; p < program->pick_count; p++)
        if (marks->body[program->picks[p].group])
            sum.amount[p] = share[program->picks[p].fitout];
    sw_status status = sw_scope_sets(sum.when, &sum.when_count, program, scope, NULL);
    for (size_t g = 0; g < program->group_count && status == SW_OK && marks->any_unknown; g++) {
        sw_set known;
        if (!marks->body[g])
            continue;
        status = sw_set_make(&known, program, (int)g, marks->known);
        size_t at = 0;
        while (at < sum.when_count && sum.when[at].group != (int)g)
            at++;
        if (status == SW_OK && at < sum.when_count)
            status = sw_set_both(&sum.when[at], program, &sum.when[at], &known);
        else if (status == SW_OK && known.count < (size_t)program->groups[g].count)
            sum.when[sum.when_count++] = known;
    }
    if (status != SW_OK)
        return status;
    if (!SW_GROW(program->sums, program->sum_room, program->sum_count))
        return SW_NO_MEMORY;
    program->sums[program->sum_count++] = sum;
    return SW_OK;
}

sw_status sw_lower_sum(sw_program *program, int rule) {
    const sw_rule *of = &program->book->rules[rule];
    sw_scope scope;
    sum_marks marks;
    int64_t *share = SW_NEW(program->arena, int64_t, program->fitouts->fitout_count);
    sw_status status = share == NULL ? SW_NO_MEMORY : sw_scope_make(&scope, program, of);
    if (status != SW_OK || scope.never)
        return status;
    if (of->shape == SW_WITHIN)
        status = narrow_to_stated(program, of, &scope);
    if (status == SW_OK)
        status = make_marks(program, rule, &marks, share);
    if (status == SW_OK && marks.any_unknown && !program->book->allow_unknown)
        status = forbid_unknown(program, rule, &scope, &marks);
    return status == SW_OK ? add_sum(program, rule, &scope, &marks, share) : status;
}
