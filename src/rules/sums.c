/* The shapes `within` and `supply`: lengths, watts, leads, ports. Exact, in
 * millionths: thousandths of the fact times thousandths of the factor. */
#include "rules/stage.h"

bool sw_term_amount(const sw_fitouts *fitouts, const sw_fitout *fitout, const sw_term *term,
                    int64_t factor_milli, int64_t *out) {
    const sw_value *value = sw_fitout_value(fitouts, fitout, term->fact);
    *out = value->state == SW_KNOWN ? value->milli * factor_milli : 0;
    return value->state != SW_UNKNOWN;
}

/* Adds a term over its role, or over every role; notes the first unknown. */
static void add_term(const sw_fitouts *fitouts, const sw_term *term, int64_t factor_milli,
                     const int *machine, int64_t *sum, sw_judgement *out) {
    size_t roles = fitouts->catalog->role_count;
    for (size_t r = 0; r < roles; r++) {
        if (term->role != SW_EVERY_ROLE && term->role != (int)r)
            continue;
        int64_t amount = 0;
        if (!sw_term_amount(fitouts, &fitouts->fitouts[machine[r]], term, factor_milli, &amount) &&
            out->verdict != SW_UNJUDGED) {
            out->verdict = SW_UNJUDGED;
            out->unknown_role = (int)r;
            out->unknown_fact = term->fact;
        }
        *sum += amount;
    }
}

static void settle(sw_judgement *out) {
    out->excess = out->need - out->room;
    if (out->verdict != SW_UNJUDGED)
        out->verdict = out->excess > 0 ? SW_BROKEN : SW_HOLDS;
}

static sw_state state_of(const sw_fitouts *fitouts, const sw_term *term, const int *machine) {
    return sw_fitout_value(fitouts, &fitouts->fitouts[machine[term->role]], term->fact)->state;
}

void sw_judge_within(const sw_fitouts *fitouts, const sw_rule *rule, const int *machine,
                     sw_judgement *out) {
    if (state_of(fitouts, &rule->left, machine) == SW_VOID ||
        state_of(fitouts, &rule->right, machine) == SW_VOID)
        return;
    int64_t taken = 0;
    add_term(fitouts, &rule->left, 1000, machine, &out->need, out);
    add_term(fitouts, &rule->right, 1000, machine, &out->room, out);
    for (size_t i = 0; i < rule->taken_count; i++)
        add_term(fitouts, &rule->taken[i], 1000, machine, &taken, out);
    out->room -= taken;
    settle(out);
}

/* What nobody has stated of today's machine asks for nothing. */
int64_t sw_load_fixed(const sw_fitouts *fitouts, const sw_load *load) {
    sw_judgement unheard = {.verdict = SW_HOLDS};
    int64_t sum = 0;
    if (!load->today)
        return load->fixed_milli * 1000;
    add_term(fitouts, &load->term, load->factor_milli, fitouts->present, &sum, &unheard);
    return sum;
}

static void add_loads(const sw_fitouts *fitouts, const sw_load *loads, size_t count,
                      const int *machine, int64_t *sum, sw_judgement *out) {
    for (size_t i = 0; i < count; i++) {
        if (loads[i].today || loads[i].term.fact == SW_NONE)
            *sum += sw_load_fixed(fitouts, &loads[i]);
        else
            add_term(fitouts, &loads[i].term, loads[i].factor_milli, machine, sum, out);
    }
}

void sw_judge_supply(const sw_fitouts *fitouts, const sw_rule *rule, const int *machine,
                     sw_judgement *out) {
    add_loads(fitouts, rule->loads, rule->load_count, machine, &out->need, out);
    add_loads(fitouts, rule->supplies, rule->supply_count, machine, &out->room, out);
    settle(out);
}
