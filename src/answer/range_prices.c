/*
 * The prices of one listing around the present one over which a bundle stays best.
 *
 * Where no sum of goods waives the seller's delivery, what any bundle costs rises with the price,
 * and the lead of one bundle over another that holds as many of the part goes one way: a bundle
 * that is best at both ends of a range is best all along. So the far end is asked; what wins there
 * is cut off at the price where it begins to win; and so on. Where delivery may be waived, costs
 * can fall as the price rises. There a range is clear when no rival wins even with the cheapest
 * price of the range and the goods of the dearest; each that might is looked at by itself, between
 * the prices at which its delivery or ours becomes free.
 */
#include "answer/ranges.h"

#include <stdlib.h>
#include <string.h>

#include "answer/buying.h"

#define ASKED_MOST 5000   /* requests for one end */
#define LOOKS_MOST 200000 /* prices looked at for one end */
#define LISTED_MOST 8
#define SUMS_MOST 2000

typedef struct prices {
    const sw_staying *job;
    sw_program *program;
    sw_fitouts *fitouts;
    const int *picks; /* of the bundle */
    const int *own;   /* [role] its fit-outs */
    int64_t points, now;
    int listing, role;
    bool waives; /* the seller's delivery may be waived */
    int64_t free_from;
    int asked, looks;
    bool open;
} prices;

/* A bundle that may come before ours at some prices. */
typedef struct rival {
    int *machine;
    bool more; /* has more points */
    bool first_of_equals;
    bool other_count; /* buys the part too, but another number of it */
} rival;

static int64_t least(int64_t a, int64_t b) { return a < b ? a : b; }
static int64_t most(int64_t a, int64_t b) { return a > b ? a : b; }

/* How many pieces of the part the fit-out buys. */
static int pieces_of(const prices *p, int fitout) {
    const sw_fitout *of = &p->fitouts->fitouts[fitout];
    int part = p->fitouts->catalog->listings[p->listing].part;
    for (int i = 0; i < of->added_count; i++)
        if (of->added[i].part == part)
            return of->added[i].count;
    return 0;
}

/* ---- what a bundle costs at a price ----------------------------------------------------- */

static void put_price(prices *p, int64_t price, int64_t counted) {
    sw_choices_reprice(p->fitouts, p->listing, price, counted);
}

/* Its least bill with that price; INT64_MAX when it cannot be had. */
static sw_status bill_at(int64_t *out, prices *p, const int *machine, int64_t price,
                         int64_t counted) {
    sw_purchase bought;
    if (++p->looks > LOOKS_MOST || sw_time_is_up(&p->job->allowance))
        p->open = true;
    put_price(p, price, counted);
    sw_status status =
        sw_buy(&bought, p->program, machine, p->program->minutes_limit, &p->job->allowance);
    p->open = p->open || bought.early;
    *out = status == SW_OK && bought.found ? bought.tally.cost : INT64_MAX;
    return status;
}

/* Is our bundle surely ahead of the rival (NULL: surely within the budget) at all prices between
 * the two? At one price it says how it is. */
static sw_status is_sure(bool *sure, prices *p, const rival *r, int64_t a, int64_t b) {
    int64_t low = least(a, b), high = most(a, b), own = 0, other = 0;
    sw_status status = SW_OK;
    if (r == NULL || !r->more)
        status = bill_at(&own, p, p->own, high, low);
    if (status == SW_OK && r != NULL)
        status = bill_at(&other, p, r->machine, low, high);
    if (r == NULL)
        *sure = own <= p->program->budget;
    else if (r->more)
        *sure = other > p->program->budget;
    else
        *sure = other > own || (other == own && !r->first_of_equals);
    return status;
}

typedef struct span {
    int64_t near, far;
} span;

/* The price nearest to `near`, on the way to `far`, at which it is not ahead; `*any` false: none. A
 * span that is not sure is halved; spans wait on a stack that holds at most one for each halving.
 */
static sw_status nearest_by_halving(bool *any, int64_t *at, prices *p, const rival *r, int64_t near,
                                    int64_t far) {
    span stack[80];
    int count = 0;
    stack[count++] = (span){near, far};
    *any = false;
    while (count > 0 && !p->open) {
        span one = stack[--count];
        bool sure = false;
        sw_status status = is_sure(&sure, p, r, one.near, one.far);
        if (status != SW_OK)
            return status;
        if (sure)
            continue;
        if (one.near == one.far) {
            *any = true;
            *at = one.near;
            return SW_OK;
        }
        int64_t middle = one.near + (one.far - one.near) / 2;
        int64_t then = one.near < one.far ? middle + 1 : middle - 1;
        stack[count++] = (span){then, one.far};
        stack[count++] = (span){one.near, middle};
    }
    return SW_OK;
}

/* The same where the lead goes one way. It is ahead at `near` or just before it. */
static sw_status turning_point(bool *any, int64_t *at, prices *p, const rival *r, int64_t near,
                               int64_t far) {
    bool sure = false;
    sw_status status = is_sure(&sure, p, r, far, far);
    *any = status == SW_OK && !sure;
    int64_t step = near <= far ? 1 : -1, good = near - step, bad = far;
    while (status == SW_OK && *any && (bad - good) * step > 1 && !p->open) {
        int64_t middle = good + (bad - good) / 2;
        status = is_sure(&sure, p, r, middle, middle);
        if (sure)
            good = middle;
        else
            bad = middle;
    }
    *at = bad;
    return status;
}

/* ---- where delivery begins to be free ---------------------------------------------------- */

/* Different numbers. */
typedef struct numbers {
    int64_t *at;
    size_t count, room;
} numbers;

static sw_status add_number(numbers *n, int64_t x) {
    for (size_t i = 0; i < n->count; i++)
        if (n->at[i] == x)
            return SW_OK;
    if (!SW_GROW(n->at, n->room, n->count))
        return SW_NO_MEMORY;
    n->at[n->count++] = x;
    return SW_OK;
}

/* What the choice buys from the seller beside the part. */
static int64_t goods_of(const prices *p, const sw_choice *choice) {
    int seller = p->fitouts->catalog->listings[p->listing].seller;
    int64_t goods = 0;
    for (int l = 0; l < choice->line_count; l++) {
        const sw_source *source = &p->fitouts->sources[choice->lines[l].source];
        if (source->seller == seller && source->listing != p->listing)
            goods += choice->lines[l].counted;
    }
    return goods;
}

/* Every sum of goods beside the part that the machine may be bought with. */
static sw_status add_sums(numbers *sums, prices *p, const int *machine) {
    sw_status status = add_number(sums, 0);
    for (size_t g = 0; g < p->program->group_count && status == SW_OK; g++) {
        const sw_fitout *of = &p->fitouts->fitouts[machine[g]];
        size_t before = sums->count;
        for (int c = of->first_choice; c < of->first_choice + of->choice_count; c++) {
            int64_t goods = goods_of(p, &p->fitouts->choices[c]);
            for (size_t i = 0; goods > 0 && i < before && status == SW_OK; i++)
                status = add_number(sums, sums->at[i] + goods);
        }
        if (sums->count > SUMS_MOST) {
            p->open = true;
            return SW_OK;
        }
    }
    return status;
}

/* The prices at which a sum of goods with so many pieces of the part reaches free delivery. */
static sw_status add_bends(numbers *bends, prices *p, const int *machine) {
    numbers sums = {0};
    int pieces = pieces_of(p, machine[p->role]);
    sw_status status = pieces > 0 && p->waives ? add_sums(&sums, p, machine) : SW_OK;
    for (size_t i = 0; i < sums.count && status == SW_OK; i++)
        if (sums.at[i] < p->free_from)
            status = add_number(bends, (p->free_from - sums.at[i] + pieces - 1) / pieces);
    free(sums.at);
    return status;
}

/* The end of the stretch from `from` towards `far` in which nothing becomes free. */
static int64_t next_bend(const numbers *bends, int64_t from, int64_t far) {
    int64_t step = from <= far ? 1 : -1, to = far;
    for (size_t i = 0; i < bends->count; i++) {
        /* A bend is the first price at which it is free. */
        int64_t last = step > 0 ? bends->at[i] - 1 : bends->at[i];
        if ((last - from) * step >= 0 && (to - last) * step > 0)
            to = last;
    }
    return to;
}

/* In a stretch without bends. */
static sw_status nearest_straight(bool *any, int64_t *at, prices *p, const rival *r, int64_t near,
                                  int64_t far) {
    bool sure = false;
    if (r != NULL && r->other_count)
        return nearest_by_halving(any, at, p, r, near, far);
    sw_status status = is_sure(&sure, p, r, near, near);
    *any = !sure;
    *at = near;
    return status == SW_OK && sure && near != far ? turning_point(any, at, p, r, near, far)
                                                  : status;
}

/* The price nearest to `near`, on the way to `far`, at which it is not ahead, stretch by stretch.
 */
static sw_status nearest_bad(bool *any, int64_t *at, prices *p, const rival *r, int64_t near,
                             int64_t far) {
    numbers bends = {0};
    int64_t step = near <= far ? 1 : -1;
    sw_status status = add_bends(&bends, p, p->own);
    if (status == SW_OK && r != NULL)
        status = add_bends(&bends, p, r->machine);
    *any = false;
    for (int64_t from = near; status == SW_OK && !*any && !p->open && (far - from) * step >= 0;) {
        int64_t to = next_bend(&bends, from, far);
        status = nearest_straight(any, at, p, r, from, to);
        from = to + step;
    }
    free(bends.at);
    return status;
}

/* Cuts the range off before the rival wins. */
static sw_status cut(prices *p, const rival *r, int64_t near, int64_t *far, bool *any) {
    int64_t at = 0;
    sw_status status = nearest_bad(any, &at, p, r, near, *far);
    if (status == SW_OK && *any)
        *far = near <= *far ? at - 1 : at + 1;
    return status;
}

/* ---- rivals --------------------------------------------------------------------------------- */

static bool same_machine(const prices *p, const int *picks) {
    for (size_t g = 0; g < p->program->group_count; g++)
        if (p->program->picks[picks[g]].fitout != p->own[g])
            return false;
    return true;
}

static sw_status take_rival(rival *out, prices *p, const sw_solution *found) {
    const sw_program *program = p->program;
    out->machine = SW_NEW(program->arena, int, program->group_count);
    if (out->machine == NULL)
        return SW_NO_MEMORY;
    out->more = found->tally.points > p->points;
    int64_t order = 0;
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_pick *ours = &program->picks[p->picks[g]];
        out->machine[g] = program->picks[found->picks[g]].fitout;
        order += ours->swaps * program->swap_order + ours->tasks;
    }
    int by = (found->tally.order > order) - (found->tally.order < order);
    for (size_t g = 0; g < program->group_count && by == 0; g++) {
        int theirs = program->picks[found->picks[g]].bundle_rank;
        int ours = program->picks[p->picks[g]].bundle_rank;
        by = (theirs > ours) - (theirs < ours);
    }
    out->first_of_equals = by < 0;
    int pieces = pieces_of(p, out->machine[p->role]);
    out->other_count = pieces > 0 && pieces != pieces_of(p, p->own[p->role]);
    return SW_OK;
}

static sw_status ask(sw_solution *out, prices *p, sw_request request) {
    *out = (sw_solution){.end = SW_END_EARLY};
    if (++p->asked > ASKED_MOST) {
        p->open = true;
        return SW_OK;
    }
    sw_status status = sw_program_reprice(p->program, p->role);
    if (status == SW_OK)
        status = sw_solve(out, p->program, &request, p->job->allowance, p->job->complaints);
    bool enough = request.any && out->found;
    p->open = p->open || (status == SW_OK && out->end == SW_END_EARLY && !enough);
    return status;
}

/* What is best at one price? */
static sw_status ask_at(bool *stays, sw_solution *found, prices *p, int64_t price) {
    put_price(p, price, price);
    sw_status status = ask(found, p, sw_request_for(p->program, SW_AIM_BEST));
    *stays = status == SW_OK && !p->open && found->found && same_machine(p, found->picks);
    return status;
}

/* A bundle that may win within the range: one with more points that can be paid with the cheapest
 * price of it and the goods of the dearest, else one with as many for no more than ours costs at
 * most. Ours is listed first. */
static sw_status find_rival(sw_solution *out, prices *p, const bool *barred,
                            const int *const *listed, size_t count, int64_t low, int64_t high) {
    int64_t bill = 0;
    sw_request request = sw_request_for(p->program, SW_AIM_BEST);
    request.barred = barred;
    request.points_alone = true;
    /* Ours has fewer points than is asked for, and is a good start. */
    request.listed = listed + 1;
    request.listed_count = count - 1;
    sw_status status = bill_at(&bill, p, p->own, high, low);
    put_price(p, low, high);
    if (status == SW_OK)
        status = ask(out, p, request);
    if (status != SW_OK || p->open || (out->found && out->tally.points > p->points))
        return status;
    request.listed = listed;
    request.listed_count = count;
    request.any = true;
    request.points_least = p->points;
    request.limit = least(bill, p->program->budget);
    return ask(out, p, request);
}

/* Rivals among the bundles that are not `barred` (NULL: none is), one after another: the range is
 * cut off where one wins, else it is listed and the next asked for. `*clear`: none is left; false:
 * too many were listed. */
static sw_status clear_rivals(bool *clear, prices *p, const bool *barred, int64_t near,
                              int64_t *far) {
    const int *listed[LISTED_MOST + 1] = {p->picks};
    int64_t step = near <= *far ? 1 : -1;
    *clear = false;
    for (size_t count = 1; count <= LISTED_MOST && !p->open && (*far - near) * step >= 0;) {
        sw_solution found;
        rival r;
        bool any = false;
        sw_status status =
            find_rival(&found, p, barred, listed, count, least(near, *far), most(near, *far));
        if (status != SW_OK || p->open)
            return status;
        if (!found.found) {
            *clear = true;
            return SW_OK;
        }
        status = take_rival(&r, p, &found);
        if (status == SW_OK)
            status = cut(p, &r, near, far, &any);
        if (status != SW_OK)
            return status;
        if (!any)
            listed[count++] = found.picks;
    }
    return SW_OK;
}

/* ---- one stretch of prices ------------------------------------------------------------------ */

/* The part of the range next to `near` over which no rival that is not `barred` wins: `*far` moves
 * in. Where too many may win the range is parted. */
static sw_status settle_by_rivals(prices *p, const bool *barred, int64_t near, int64_t *far) {
    int64_t step = near <= *far ? 1 : -1, at = near, end = *far;
    while ((*far - at) * step >= 0 && !p->open) {
        bool any = false, clear = false;
        int64_t asked_to = end;
        sw_status status = cut(p, NULL, at, &end, &any);
        if (status == SW_OK && (end - at) * step >= 0)
            status = clear_rivals(&clear, p, barred, at, &end);
        if (status != SW_OK || p->open)
            return status;
        if (!clear && end == at) {
            sw_solution found;
            status = ask_at(&clear, &found, p, at);
            if (status != SW_OK || p->open)
                return status;
            end = clear ? end : at - step;
        }
        if (end != asked_to && (clear || (end - at) * step < 0)) {
            *far = end;
            return SW_OK;
        }
        if (clear) {
            /* What comes next is much like it: twice as far at most. */
            int64_t twice = 2 * ((end - at) * step + 1);
            at = end + step;
            end = (*far - at) * step > twice ? at + step * twice : *far;
        } else {
            end = at + (end - at) / 2;
        }
    }
    return SW_OK;
}

/* Of the bundles that buy another number of the part than ours, does one win within the range? */
static sw_status cut_other_counts(prices *p, int64_t near, int64_t *far) {
    sw_program *program = p->program;
    int own = pieces_of(p, p->own[p->role]);
    bool *barred = SW_NEW(program->arena, bool, program->pick_count);
    bool worth = false;
    if (barred == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < program->pick_count; i++) {
        if (program->picks[i].group != p->role)
            continue;
        int pieces = pieces_of(p, program->picks[i].fitout);
        barred[i] = pieces == own || pieces == 0;
        worth = worth || !barred[i];
    }
    return worth ? settle_by_rivals(p, barred, near, far) : SW_OK;
}

/* Where costs rise with the price. */
static sw_status settle_one_way(prices *p, int64_t near, int64_t *far) {
    int64_t step = near <= *far ? 1 : -1;
    bool any = false;
    sw_status status = cut(p, NULL, near, far, &any);
    while (status == SW_OK && !p->open && (*far - near) * step >= 0) {
        sw_solution found;
        rival r;
        bool stays = false;
        status = ask_at(&stays, &found, p, *far);
        if (status != SW_OK || p->open || stays)
            break;
        status = take_rival(&r, p, &found);
        if (status == SW_OK)
            status = cut(p, &r, near, far, &any);
        if (status == SW_OK && !any)
            p->open = true;
    }
    bool left = (*far - near) * step >= 0;
    return status == SW_OK && left && !p->open ? cut_other_counts(p, near, far) : status;
}

/* From the present price to `far`, the stretch below `free_from` by itself. */
static sw_status settle_side(prices *p, int64_t far, int64_t *out) {
    int64_t step = far >= p->now ? 1 : -1, at = p->now, last = at;
    p->asked = p->looks = 0;
    p->open = false;
    sw_status status = SW_OK;
    while ((far - at) * step > 0 && status == SW_OK && !p->open) {
        int64_t next = at + step, end = far;
        bool below = p->waives && next < p->free_from;
        if (step > 0 && below && far >= p->free_from)
            end = p->free_from - 1;
        if (p->waives && step < 0 && !below && far < p->free_from)
            end = p->free_from;
        int64_t wanted = end;
        status = below ? settle_by_rivals(p, NULL, next, &end) : settle_one_way(p, next, &end);
        if (p->open)
            break;
        last = end;
        if (end != wanted)
            break;
        at = end;
    }
    *out = last;
    return status;
}

sw_status sw_find_price_range(sw_range_price *out, const sw_staying *job, int listing, int role) {
    sw_program *program = job->job->setup.program;
    sw_fitouts *fitouts = job->job->setup.fitouts;
    const sw_listing *of = &fitouts->catalog->listings[listing];
    const sw_seller *seller = &fitouts->catalog->sellers[of->seller];
    int *own = SW_NEW(program->arena, int, program->group_count);
    if (own == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++)
        own[g] = program->picks[job->job->best.picks[g]].fitout;
    prices p = {.job = job,
                .program = program,
                .fitouts = fitouts,
                .picks = job->job->best.picks,
                .own = own,
                .points = job->job->best.tally.points,
                .now = of->price,
                .listing = listing,
                .role = role,
                .waives = seller->has_delivery && seller->has_free_from && seller->delivery > 0,
                .free_from = seller->free_from};
    sw_status status = settle_side(&p, 0, &out->from);
    bool open = p.open;
    if (status == SW_OK)
        status = settle_side(&p, SW_MONEY_LIMIT, &out->to);
    out->settled = !open && !p.open;
    if (out->to == SW_MONEY_LIMIT)
        out->to = SW_NO_END;
    put_price(&p, of->price, of->counted);
    return status == SW_OK ? sw_program_reprice(program, role) : status;
}
