/*
 * The cheapest sellers for given parts, role by role, depth first. A way is given up when the
 * choices made, the least of those to come and the deliveries that are certain by now reach the
 * best way known: deliveries are certain where no sum of goods waives them.
 */
#include "answer/buying.h"

#include <stdlib.h>
#include <string.h>

typedef struct hunt {
    sw_purchase *out;
    const sw_program *program;
    const sw_allowance *allowance;
    int64_t minutes_most;
    int *order;         /* roles with several choices, those of most first */
    int *choices, *way; /* `way`: [group] under way */
    int **ranked;       /* [group] choices by cost */
    int *count;         /* [group] */
    int64_t *rest;      /* [place in order] the least that the roles from there on cost */
    size_t open;        /* roles in order */
    int *bought;        /* [seller] lines under way */
    bool nobody;        /* sells some of it */
    long long looks;
} hunt;

static int by_cost(const void *left, const void *right, const sw_choice *choices) {
    const sw_choice *a = &choices[*(const int *)left], *b = &choices[*(const int *)right];
    if (a->cost != b->cost)
        return a->cost < b->cost ? -1 : 1;
    return (a > b) - (a < b);
}

/* Few: putting each in its place is the plainest way. */
static void rank_choices(int *list, int count, const sw_choice *choices) {
    for (int i = 1; i < count; i++)
        for (int k = i; k > 0 && by_cost(&list[k - 1], &list[k], choices) > 0; k--) {
            int moved = list[k];
            list[k] = list[k - 1];
            list[k - 1] = moved;
        }
}

static int64_t certain_delivery(const hunt *h, const sw_choice *choice, int step) {
    const sw_fitouts *fitouts = h->program->fitouts;
    int64_t sum = 0;
    for (int l = 0; l < choice->line_count; l++) {
        int seller = fitouts->sources[choice->lines[l].source].seller;
        if (seller == SW_CLIENT)
            continue;
        const sw_seller *of = &fitouts->catalog->sellers[seller];
        bool first = step > 0 ? h->bought[seller]++ == 0 : --h->bought[seller] == 0;
        if (first && of->has_delivery && !of->has_free_from)
            sum += sw_landed(fitouts->scenario, of->delivery);
    }
    return sum;
}

static void settle(hunt *h) {
    sw_tally tally;
    sw_bill(&tally, h->program, h->way);
    if (h->minutes_most >= 0 && tally.minutes > h->minutes_most)
        return;
    if (h->out->found && tally.cost >= h->out->tally.cost)
        return;
    h->out->found = true;
    h->out->tally = tally;
    memcpy(h->out->choices, h->way, h->program->group_count * sizeof *h->way);
}

/* `sum`: what the choices made so far cost, and the deliveries that are certain. The depth is the
 * number of roles. */
static void choose(hunt *h, size_t at, int64_t sum) {
    if (h->out->early)
        return;
    if (++h->looks % 4096 == 0 && sw_time_is_up(h->allowance)) {
        h->out->early = true;
        return;
    }
    if (at == h->open) {
        settle(h);
        return;
    }
    int g = h->order[at];
    for (int i = 0; i < h->count[g]; i++) {
        const sw_choice *choice = &h->program->fitouts->choices[h->ranked[g][i]];
        int64_t with = sum + choice->cost;
        if (h->out->found && with + h->rest[at + 1] >= h->out->tally.cost)
            return;
        int64_t delivery = certain_delivery(h, choice, 1);
        h->way[g] = h->ranked[g][i];
        if (!h->out->found || with + delivery + h->rest[at + 1] < h->out->tally.cost)
            choose(h, at + 1, with + delivery);
        certain_delivery(h, choice, -1);
    }
}

static sw_status make_room(hunt *h) {
    size_t groups = h->program->group_count;
    sw_arena *arena = h->program->arena;
    h->order = SW_NEW(arena, int, groups);
    h->way = SW_NEW(arena, int, groups);
    h->ranked = SW_NEW(arena, int *, groups);
    h->count = SW_NEW(arena, int, groups);
    h->rest = SW_NEW(arena, int64_t, groups + 1);
    h->bought = SW_NEW(arena, int, h->program->fitouts->catalog->seller_count);
    h->out->choices = SW_NEW(arena, int, groups);
    bool all = h->order != NULL && h->way != NULL && h->ranked != NULL && h->count != NULL &&
               h->rest != NULL && h->bought != NULL && h->out->choices != NULL;
    return all ? SW_OK : SW_NO_MEMORY;
}

/* Lists the choices; a role that costs nothing of its own and buys nothing is settled. */
static sw_status list_choices(hunt *h, const int *machine, int64_t *fixed) {
    const sw_fitouts *fitouts = h->program->fitouts;
    *fixed = 0;
    for (size_t g = 0; g < h->program->group_count; g++) {
        const sw_fitout *fitout = &fitouts->fitouts[machine[h->program->groups[g].role]];
        h->count[g] = fitout->choice_count;
        if (fitout->choice_count == 0) {
            h->open = 0;
            h->nobody = true;
            return SW_OK;
        }
        h->ranked[g] = SW_NEW(h->program->arena, int, (size_t)fitout->choice_count);
        if (h->ranked[g] == NULL)
            return SW_NO_MEMORY;
        for (int i = 0; i < fitout->choice_count; i++)
            h->ranked[g][i] = fitout->first_choice + i;
        rank_choices(h->ranked[g], h->count[g], fitouts->choices);
        h->way[g] = h->ranked[g][0];
        if (h->count[g] > 1 || fitouts->choices[h->way[g]].line_count > 0)
            h->order[h->open++] = (int)g;
        else
            *fixed += fitouts->choices[h->way[g]].cost;
    }
    for (size_t i = h->open; i-- > 0;)
        h->rest[i] = h->rest[i + 1] + fitouts->choices[h->ranked[h->order[i]][0]].cost;
    return SW_OK;
}

sw_status sw_buy(sw_purchase *out, const sw_program *program, const int *machine,
                 int64_t minutes_most, const sw_allowance *allowance) {
    hunt h = {.out = out, .program = program, .allowance = allowance, .minutes_most = minutes_most};
    int64_t fixed;
    *out = (sw_purchase){0};
    sw_status status = make_room(&h);
    if (status == SW_OK)
        status = list_choices(&h, machine, &fixed);
    if (status == SW_OK && !h.nobody)
        choose(&h, 0, fixed);
    if (status == SW_OK && out->found)
        out->total = sw_total(program, &out->tally);
    return status;
}

int sw_days_of(const sw_fitouts *fitouts, const sw_choice *choice, int days) {
    for (int l = 0; l < choice->line_count; l++) {
        int own = fitouts->sources[choice->lines[l].source].days;
        days = own > days ? own : days;
    }
    return days;
}
