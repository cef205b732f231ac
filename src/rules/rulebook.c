/* The rules of one job: judged one by one or together, with what is unknown
 * and what falls short today taken into account. */
#include "rules/stage.h"

#include <string.h>

/* `fact` SW_NONE asks for any fact of the role. */
static bool term_names(const sw_fitouts *fitouts, const sw_term *term, int role, int fact) {
    if (term->fact == SW_NONE || (fact != SW_NONE && term->fact != fact))
        return false;
    return term->role == role ||
           (term->role == SW_EVERY_ROLE && fitouts->slot[role][term->fact] != SW_NONE);
}

static bool terms_name(const sw_fitouts *fitouts, const sw_term *terms, size_t count, int role,
                       int fact) {
    for (size_t i = 0; i < count; i++)
        if (term_names(fitouts, &terms[i], role, fact))
            return true;
    return false;
}

static bool loads_name(const sw_fitouts *fitouts, const sw_load *loads, size_t count, int role,
                       int fact) {
    for (size_t i = 0; i < count; i++)
        if (!loads[i].today && term_names(fitouts, &loads[i].term, role, fact))
            return true;
    return false;
}

static bool conds_name(const sw_rule *rule, int role, int fact) {
    for (size_t i = 0; i < rule->cond_count; i++)
        if (rule->conds[i].role == role &&
            (fact == SW_NONE ||
             (rule->conds[i].op <= SW_COND_ONE_OF && rule->conds[i].fact == fact)))
            return true;
    return false;
}

static bool reads(const sw_fitouts *fitouts, const sw_rule *rule, int role, int fact) {
    switch (rule->shape) {
    case SW_SAME:
    case SW_AMONG:
    case SW_WITHIN:
        return term_names(fitouts, &rule->left, role, fact) ||
               term_names(fitouts, &rule->right, role, fact) ||
               terms_name(fitouts, rule->taken, rule->taken_count, role, fact);
    case SW_SUPPLY:
        return loads_name(fitouts, rule->loads, rule->load_count, role, fact) ||
               loads_name(fitouts, rule->supplies, rule->supply_count, role, fact);
    case SW_PLACE:
        return terms_name(fitouts, rule->things, rule->thing_count, role, fact) ||
               terms_name(fitouts, rule->sites, rule->site_count, role, fact);
    default:
        return conds_name(rule, role, fact);
    }
}

bool sw_rule_reads(const sw_fitouts *fitouts, const sw_rule *rule, int role) {
    return reads(fitouts, rule, role, SW_NONE);
}

bool sw_rule_reads_fact(const sw_fitouts *fitouts, const sw_rule *rule, int role, int fact) {
    return reads(fitouts, rule, role, fact);
}

bool sw_rule_touched(const sw_rulebook *book, size_t rule, const int *machine) {
    for (size_t r = 0; r < book->fitouts->catalog->role_count; r++)
        if (book->touches[rule][machine[r]])
            return true;
    return false;
}

/* An unknown condition counts towards the rule: better asked than missed. */
static bool applies(const sw_fitouts *fitouts, const sw_rule *rule, const int *machine) {
    for (size_t i = 0; i < rule->when_count; i++)
        if (sw_on_machine(fitouts, &rule->when[i], machine) == SW_FALSE)
            return false;
    for (size_t i = 0; i < rule->unless_count; i++)
        if (sw_on_machine(fitouts, &rule->unless[i], machine) == SW_TRUE)
            return false;
    return true;
}

sw_status sw_rule_judge(sw_judgement *out, const sw_rulebook *book, size_t rule,
                        const int *machine) {
    const sw_rule *of = &book->rules[rule];
    *out = (sw_judgement){.verdict = SW_MOOT, .unknown_role = SW_NONE, .unknown_fact = SW_NONE};
    if (!applies(book->fitouts, of, machine))
        return SW_OK;
    switch (of->shape) {
    case SW_WITHIN:
        sw_judge_within(book->fitouts, of, machine, out);
        break;
    case SW_SUPPLY:
        sw_judge_supply(book->fitouts, of, machine, out);
        break;
    case SW_CLASH:
        sw_judge_clash(book->fitouts, of, machine, out);
        break;
    case SW_PLACE:
        return sw_judge_place(book, (int)rule, machine, out);
    default:
        sw_judge_tokens(book->fitouts, of, machine, out);
        break;
    }
    return SW_OK;
}

bool sw_rule_allows(const sw_rulebook *book, size_t rule, const sw_judgement *judgement,
                    const int *machine) {
    const sw_rule *of = &book->rules[rule];
    const sw_judgement *now = &book->now[rule];
    if (!of->hard || judgement->verdict == SW_MOOT || judgement->verdict == SW_HOLDS)
        return true;
    if (judgement->verdict == SW_UNJUDGED)
        return book->allow_unknown || !sw_rule_touched(book, rule, machine);
    if (of->shape == SW_PLACE)
        return true;
    if (of->shape == SW_WITHIN || of->shape == SW_SUPPLY)
        return now->verdict == SW_BROKEN && judgement->excess <= now->excess;
    return now->verdict == SW_BROKEN && !sw_rule_touched(book, rule, machine);
}

sw_status sw_machine_judge(int *rule, const sw_rulebook *book, const int *machine) {
    int first_place = SW_NONE;
    *rule = SW_NONE;
    for (size_t i = 0; i < book->count; i++) {
        sw_judgement judgement;
        if (!book->rules[i].hard)
            continue;
        sw_status status = sw_rule_judge(&judgement, book, i, machine);
        if (status != SW_OK)
            return status;
        if (!sw_rule_allows(book, i, &judgement, machine)) {
            *rule = (int)i;
            return SW_OK;
        }
        if (book->rules[i].shape == SW_PLACE && first_place == SW_NONE)
            first_place = (int)i;
    }
    if (first_place == SW_NONE)
        return SW_OK;
    int64_t unplaced = 0, asked = 0;
    sw_status status = sw_unplaced(&unplaced, &asked, book, book->spare, machine);
    if (status == SW_OK && unplaced > 0)
        *rule = first_place;
    return status;
}

sw_status sw_machine_forbid(bool *forbid, int64_t *excess, const sw_rulebook *book,
                            const int *machine) {
    int first_place = SW_NONE;
    for (size_t i = 0; i < book->count; i++) {
        sw_judgement judgement;
        forbid[i] = false;
        excess[i] = 0;
        if (!book->rules[i].hard)
            continue;
        sw_status status = sw_rule_judge(&judgement, book, i, machine);
        if (status != SW_OK)
            return status;
        forbid[i] = !sw_rule_allows(book, i, &judgement, machine);
        if (book->rules[i].shape == SW_WITHIN || book->rules[i].shape == SW_SUPPLY)
            excess[i] = judgement.excess;
        if (book->rules[i].shape != SW_PLACE)
            continue;
        if (first_place == SW_NONE)
            first_place = (int)i;
        else if (forbid[i]) {
            forbid[first_place] = true;
            forbid[i] = false;
        }
    }
    if (first_place == SW_NONE)
        return SW_OK;
    int64_t unplaced = 0, asked = 0;
    sw_status status = sw_unplaced(&unplaced, &asked, book, book->spare, machine);
    forbid[first_place] = forbid[first_place] || (status == SW_OK && unplaced > 0);
    return status;
}

static sw_status spell_out(sw_rulebook *book) {
    const sw_catalog *catalog = book->fitouts->catalog;
    size_t most = 0;
    for (size_t i = 0; i < catalog->rule_count; i++)
        most += catalog->rules[i].shape == SW_UNLOCK ? catalog->rules[i].cond_count : 1;
    book->rules = SW_NEW(book->arena, sw_rule, most);
    book->now = SW_NEW(book->arena, sw_judgement, most);
    book->spare = SW_NEW(book->arena, int, most);
    if (book->rules == NULL || book->now == NULL || book->spare == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < catalog->rule_count; i++) {
        const sw_rule *rule = &catalog->rules[i];
        size_t parts = rule->shape == SW_UNLOCK ? rule->cond_count : 1;
        for (size_t n = 0; n < parts; n++) {
            sw_rule *clash = &book->rules[book->count];
            *clash = *rule;
            book->count++;
            if (rule->shape != SW_UNLOCK)
                continue;
            sw_cond *both = SW_NEW(book->arena, sw_cond, 2);
            if (both == NULL)
                return SW_NO_MEMORY;
            both[0] = rule->to;
            both[1] = rule->conds[n];
            both[1].negated = !both[1].negated;
            clash->shape = SW_CLASH;
            clash->conds = both;
            clash->cond_count = 2;
        }
    }
    return SW_OK;
}

void sw_complain_of_sites(const sw_scenario *scenario, sw_complaints *complaints) {
    sw_complain(complaints, scenario->file, "",
                "every way to use them has to be tried, and there are too many",
                "give the parts fewer sites with \"takes\", or fewer positions on them",
                "the sites of this machine or of the parts for it take each other away in circles");
}

sw_status sw_rulebook_make(sw_rulebook **out, const sw_fitouts *fitouts, bool allow_unknown) {
    sw_arena *arena = sw_arena_new();
    sw_rulebook *book = arena == NULL ? NULL : SW_NEW(arena, sw_rulebook, 1);
    if (book == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    book->arena = arena;
    book->fitouts = fitouts;
    book->allow_unknown = allow_unknown;
    sw_status status = spell_out(book);
    if (status == SW_OK)
        status = sw_touches_make(book);
    for (size_t i = 0; i < book->count && status == SW_OK; i++)
        status = sw_rule_judge(&book->now[i], book, i, fitouts->present);
    if (status == SW_OK)
        status = sw_spare_make(book);
    if (status == SW_OK)
        *out = book;
    else
        sw_rulebook_free(book);
    return status;
}

void sw_rulebook_set_aside(sw_rulebook *book, const char *id) {
    for (size_t i = 0; i < book->count; i++)
        if (strcmp(book->rules[i].id, id) == 0)
            book->rules[i].hard = false;
}

void sw_rulebook_free(sw_rulebook *book) {
    if (book != NULL)
        sw_arena_free(book->arena);
}
