/* Things on sites as counts per pick: kinds of things, kinds of sites, which
 * goes on which, and what a used site takes away. */
#include "program/stage.h"

#include <string.h>

/* Adds to every pick of the fit-out, whoever sells it and whatever heat it runs by. */
static void count_on_picks(const sw_program *program, const sw_fitout *fitout, int add,
                           int *count) {
    for (int c = fitout->first_choice; c < fitout->first_choice + fitout->choice_count; c++) {
        int pick = program->pick_of[c];
        for (;
             pick != SW_NONE && pick < (int)program->pick_count && program->picks[pick].choice == c;
             pick++)
            count[pick] += add;
    }
}

static bool equal_text(const char *a, const char *b) {
    return a == NULL || b == NULL ? a == b : strcmp(a, b) == 0;
}

static bool like_things(const sw_thing *a, const sw_thing *b) {
    return strcmp(a->kind, b->kind) == 0 && strcmp(a->size, b->size) == 0 &&
           a->depth_milli == b->depth_milli && a->reach_milli == b->reach_milli &&
           equal_text(a->side, b->side);
}

static bool like_sites(const sw_site *a, const sw_site *b) {
    if (strcmp(a->kind, b->kind) != 0 || a->depth_milli != b->depth_milli ||
        a->reach_milli != b->reach_milli || !equal_text(a->side, b->side) ||
        a->size_count != b->size_count)
        return false;
    for (size_t i = 0; i < a->size_count; i++)
        if (strcmp(a->sizes[i], b->sizes[i]) != 0)
            return false;
    return true;
}

static bool term_covers(const sw_term *terms, size_t count, int role, int fact) {
    for (size_t i = 0; i < count; i++)
        if (terms[i].fact == fact && (terms[i].role == SW_EVERY_ROLE || terms[i].role == role))
            return true;
    return false;
}

static sw_status count_thing(sw_program *program, int rule, const sw_thing *thing,
                             const sw_fitout *fitout) {
    sw_placing *placing = &program->placing;
    size_t t = 0;
    while (t < placing->thing_count &&
           !(placing->things[t].rule == rule && like_things(placing->things[t].like, thing)))
        t++;
    if (t == placing->thing_count) {
        if (!SW_GROW(placing->things, placing->thing_room, placing->thing_count))
            return SW_NO_MEMORY;
        placing->things[t] =
            (sw_thing_type){thing, rule, SW_NEW(program->arena, int, program->pick_count)};
        if (placing->things[t].count == NULL)
            return SW_NO_MEMORY;
        placing->thing_count++;
    }
    count_on_picks(program, fitout, thing->count, placing->things[t].count);
    return SW_OK;
}

static sw_status count_things(sw_program *program, int rule) {
    const sw_rule *of = &program->book->rules[rule];
    const sw_fitouts *fitouts = program->fitouts;
    for (size_t f = 0; f < fitouts->fitout_count; f++)
        for (size_t t = 0; t < of->thing_count; t++) {
            const sw_fitout *fitout = &fitouts->fitouts[f];
            const sw_term *term = &of->things[t];
            if (term->role != SW_EVERY_ROLE && term->role != fitout->role)
                continue;
            const sw_value *value = sw_fitout_value(fitouts, fitout, term->fact);
            for (size_t i = 0; value->state == SW_KNOWN && i < value->thing_count; i++) {
                if (strcmp(value->things[i].kind, of->kind) != 0)
                    continue;
                sw_status status = count_thing(program, rule, &value->things[i], fitout);
                if (status != SW_OK)
                    return status;
            }
        }
    return SW_OK;
}

/* May a thing type stand on a site of this role's fact? */
static bool usable(const sw_program *program, const sw_thing_type *thing, const sw_site *site,
                   int role, int fact) {
    const sw_rule *rule = &program->book->rules[thing->rule];
    return sw_thing_fits(thing->like, site) &&
           term_covers(rule->sites, rule->site_count, role, fact);
}

static bool same_use(const sw_program *program, const bool *a, const bool *b) {
    return memcmp(a, b, program->placing.thing_count * sizeof *a) == 0;
}

static sw_status new_site(sw_program *program, const sw_site *like, const bool *uses, bool own,
                          int *index) {
    sw_placing *placing = &program->placing;
    if (!SW_GROW(placing->sites, placing->site_room, placing->site_count))
        return SW_NO_MEMORY;
    int *count = SW_NEW(program->arena, int, program->pick_count);
    if (count == NULL)
        return SW_NO_MEMORY;
    *index = (int)placing->site_count;
    placing->sites[placing->site_count++] =
        (sw_site_type){.like = like, .count = count, .usable = uses, .own = own};
    return SW_OK;
}

static void count_site(sw_program *program, int type, const sw_fitout *fitout, int count) {
    count_on_picks(program, fitout, count, program->placing.sites[type].count);
}

/* Is the site part of any taking away in its list? Those keep a type of their
 * own, so that positions of one piece are not lent to another. */
static bool entangled(const sw_value *value, size_t site) {
    if (value->sites[site].takes_count > 0)
        return true;
    for (size_t s = 0; s < value->site_count; s++)
        for (size_t t = 0; t < value->sites[s].takes_count; t++)
            if ((size_t)value->sites[s].takes[t].index == site)
                return true;
    return false;
}

static sw_status fill_takes(sw_program *program, const sw_value *value, const int *types) {
    for (size_t s = 0; s < value->site_count; s++) {
        const sw_site *site = &value->sites[s];
        sw_site_take *takes = SW_NEW(program->arena, sw_site_take, site->takes_count);
        if (takes == NULL)
            return SW_NO_MEMORY;
        for (size_t t = 0; t < site->takes_count; t++)
            takes[t] = (sw_site_take){types[site->takes[t].index], site->takes[t].count};
        if (site->takes_count == 0)
            continue;
        program->placing.sites[types[s]].takes = takes;
        program->placing.sites[types[s]].take_count = site->takes_count;
    }
    return SW_OK;
}

static sw_status count_site_list(sw_program *program, const sw_fitout *fitout, int fact) {
    const sw_value *value = sw_fitout_value(program->fitouts, fitout, fact);
    sw_placing *placing = &program->placing;
    if (value->state != SW_KNOWN || value->site_count == 0)
        return SW_OK;
    int *types = SW_NEW(program->arena, int, value->site_count);
    if (types == NULL)
        return SW_NO_MEMORY;
    for (size_t s = 0; s < value->site_count; s++) {
        const sw_site *site = &value->sites[s];
        bool *uses = SW_NEW(program->arena, bool, placing->thing_count);
        if (uses == NULL)
            return SW_NO_MEMORY;
        for (size_t t = 0; t < placing->thing_count; t++)
            uses[t] = usable(program, &placing->things[t], site, fitout->role, fact);
        bool own = entangled(value, s);
        size_t at = 0;
        while (!own && at < placing->site_count &&
               !(!placing->sites[at].own && like_sites(placing->sites[at].like, site) &&
                 same_use(program, placing->sites[at].usable, uses)))
            at++;
        types[s] = (int)at;
        if (own || at == placing->site_count) {
            sw_status status = new_site(program, site, uses, own, &types[s]);
            if (status != SW_OK)
                return status;
        }
        count_site(program, types[s], fitout, site->count);
    }
    return fill_takes(program, value, types);
}

static sw_status count_sites(sw_program *program) {
    const sw_fitouts *fitouts = program->fitouts;
    for (size_t f = 0; f < fitouts->fitout_count; f++)
        for (size_t fact = 0; fact < fitouts->catalog->fact_count; fact++) {
            if (fitouts->catalog->facts[fact].type != SW_SITES ||
                fitouts->slot[fitouts->fitouts[f].role][fact] == SW_NONE)
                continue;
            sw_status status = count_site_list(program, &fitouts->fitouts[f], (int)fact);
            if (status != SW_OK)
                return status;
        }
    return SW_OK;
}

static bool reads_unknown(const sw_program *program, const sw_rule *rule, const sw_fitout *fitout) {
    const sw_term *lists[2] = {rule->things, rule->sites};
    size_t counts[2] = {rule->thing_count, rule->site_count};
    for (int l = 0; l < 2; l++)
        for (size_t i = 0; i < counts[l]; i++)
            if ((lists[l][i].role == SW_EVERY_ROLE || lists[l][i].role == fitout->role) &&
                sw_fitout_value(program->fitouts, fitout, lists[l][i].fact)->state == SW_UNKNOWN)
                return true;
    return false;
}

/* An unknown list forbids new parts in the rule's roles, or makes it silent. */
static sw_status lower_unknown(sw_program *program, int rule) {
    const sw_fitouts *fitouts = program->fitouts;
    const sw_rule *of = &program->book->rules[rule];
    bool *unknown = SW_NEW(program->arena, bool, fitouts->fitout_count);
    bool *both = SW_NEW(program->arena, bool, fitouts->fitout_count);
    bool *adds = SW_NEW(program->arena, bool, fitouts->fitout_count);
    bool *silent = SW_NEW(program->arena, bool, program->pick_count);
    if (unknown == NULL || both == NULL || adds == NULL || silent == NULL)
        return SW_NO_MEMORY;
    bool any = false;
    for (size_t f = 0; f < fitouts->fitout_count; f++) {
        unknown[f] = reads_unknown(program, of, &fitouts->fitouts[f]);
        adds[f] = program->book->touches[rule][f];
        both[f] = unknown[f] && adds[f];
        any = any || unknown[f];
    }
    if (!any)
        return SW_OK;
    for (size_t p = 0; p < program->pick_count; p++)
        silent[p] = unknown[program->picks[p].fitout];
    program->placing.silent[rule] = silent;
    sw_status status = SW_OK;
    for (size_t u = 0; u < program->group_count && status == SW_OK; u++)
        for (size_t a = 0; a < program->group_count && status == SW_OK; a++) {
            sw_set sets[2];
            if (program->book->allow_unknown || !sw_rule_reads(fitouts, of, (int)u) ||
                !sw_rule_reads(fitouts, of, (int)a))
                continue;
            status = sw_set_make(&sets[0], program, (int)u, u == a ? both : unknown);
            if (status == SW_OK && u != a)
                status = sw_set_make(&sets[1], program, (int)a, adds);
            if (status == SW_OK)
                status = sw_not_all_add(program, rule, sets, u == a ? 1 : 2);
        }
    return status;
}

sw_status sw_lower_place(sw_program *program) {
    program->placing.silent = SW_NEW(program->arena, bool *, program->book->count);
    sw_status status = program->placing.silent == NULL ? SW_NO_MEMORY : SW_OK;
    for (size_t r = 0; r < program->book->count && status == SW_OK; r++) {
        if (program->book->rules[r].shape != SW_PLACE || !program->book->rules[r].hard)
            continue;
        status = lower_unknown(program, (int)r);
        if (status == SW_OK)
            status = count_things(program, (int)r);
    }
    if (status != SW_OK || program->placing.thing_count == 0)
        return status;
    return count_sites(program);
}
