/*
 * Covers: of these amounts one at least stays low, for together they go over a limit.
 * As many rows of ones as there are such sets follow from a sum; this finds, for each
 * sum, the one that a solution of the relaxation breaks most: of every group the picks
 * from some amount on, such that the amounts together exceed the limit and little of
 * the solution is missing from them.
 */
#include "program/cuts.h"

#include <math.h>
#include <stdlib.h>

#define SW_COVER_STEPS 48 /* of the table over what may be missing */

/* The picks of the group from some amount on. */
typedef struct option {
    int64_t gain;   /* that amount, above the group's least */
    double missing; /* what the solution takes of the group below it */
} option;

/* A group of picks, or a charge by itself. */
typedef struct member {
    int group; /* SW_NONE: a charge */
    int column;
    int64_t least;
    option *options; /* both rise */
    int count;
    bool taken;
    int64_t gain;
} member;

typedef struct cover {
    const sw_load_row *load;
    member *members;
    int count;
    int64_t room; /* of the limit, above the least of all members */
} cover;

static int by_gain(const void *left, const void *right) {
    const option *a = left, *b = right;
    return (a->gain > b->gain) - (a->gain < b->gain);
}

/* Turns what is taken of each amount into options. */
static void accumulate(member *of) {
    qsort(of->options, (size_t)of->count, sizeof *of->options, by_gain);
    double below = 0;
    int kept = 0;
    for (int i = 0; i < of->count; i++) {
        option at = of->options[i];
        if (at.gain > 0 && (kept == 0 || of->options[kept - 1].gain < at.gain))
            of->options[kept++] = (option){at.gain, below};
        below += at.missing;
    }
    of->count = kept;
}

static sw_status gather_group(cover *c, const sw_cuts *cuts, size_t g) {
    const sw_matrix *m = cuts->matrix;
    const sw_group *group = &m->program->groups[g];
    const int64_t *amount = c->load->amount;
    member *out = &c->members[c->count++];
    size_t support = 0;
    int64_t least = INT64_MAX;
    for (int p = group->first; p < group->first + group->count; p++)
        if (m->pairs.in[p]) {
            least = amount[p] < least ? amount[p] : least;
            support += sw_taken(cuts, p) > 0 ? 1 : 0;
        }
    *out = (member){.group = (int)g, .column = SW_NONE, .least = support > 0 ? least : 0};
    out->options = SW_NEW(cuts->arena, option, support);
    if (out->options == NULL)
        return SW_NO_MEMORY;
    for (int p = group->first; p < group->first + group->count; p++)
        if (m->pairs.in[p] && sw_taken(cuts, p) > 0)
            out->options[out->count++] = (option){amount[p] - least, sw_taken(cuts, p)};
    accumulate(out);
    c->room -= out->least;
    return SW_OK;
}

static sw_status gather(cover *c, const sw_cuts *cuts) {
    const sw_matrix *m = cuts->matrix;
    const sw_program *program = m->program;
    c->room = c->load->limit;
    c->members = SW_NEW(cuts->arena, member, program->group_count + program->due_count);
    if (c->members == NULL)
        return SW_NO_MEMORY;
    for (size_t g = 0; g < program->group_count; g++) {
        sw_status status = c->load->in[g] ? gather_group(c, cuts, g) : SW_OK;
        if (status != SW_OK)
            return status;
    }
    for (size_t d = 0; d < program->due_count && c->load->due != NULL; d++) {
        if (c->load->due[d] <= 0)
            continue;
        int column = m->charge_column[d];
        option *one = SW_NEW(cuts->arena, option, 1);
        if (one == NULL)
            return SW_NO_MEMORY;
        *one = (option){c->load->due[d], fmax(0, 1 - cuts->value[column])};
        c->members[c->count++] =
            (member){.group = SW_NONE, .column = column, .options = one, .count = 1};
    }
    return SW_OK;
}

static int steps_of(double missing, double step) { return (int)ceil(missing / step - 1e-6); }

/* The most gain for every number of steps missing, member by member. */
static void fill_table(const cover *c, int64_t *most, int *chosen, double step) {
    for (int s = 0; s <= SW_COVER_STEPS; s++)
        most[s] = 0;
    for (int i = 0; i < c->count; i++)
        for (int s = SW_COVER_STEPS; s >= 0; s--) {
            const member *of = &c->members[i];
            int64_t best = most[s];
            int *which = &chosen[i * (SW_COVER_STEPS + 1) + s];
            *which = SW_NONE;
            for (int k = 0; k < of->count && steps_of(of->options[k].missing, step) <= s; k++) {
                int64_t sum =
                    most[s - steps_of(of->options[k].missing, step)] + of->options[k].gain;
                if (sum > best) {
                    best = sum;
                    *which = k;
                }
            }
            most[s] = best;
        }
}

/* Chooses an option of some members: more than the room, with the least missing. */
static sw_status choose(bool *found, cover *c, const sw_cuts *cuts, double missing_most) {
    int64_t most[SW_COVER_STEPS + 1];
    double step = missing_most / SW_COVER_STEPS;
    int *chosen = SW_NEW(cuts->arena, int, (size_t)c->count *(SW_COVER_STEPS + 1));
    if (chosen == NULL)
        return SW_NO_MEMORY;
    fill_table(c, most, chosen, step);
    int s = 0;
    while (s <= SW_COVER_STEPS && most[s] <= c->room)
        s++;
    *found = s <= SW_COVER_STEPS;
    for (int i = c->count - 1; i >= 0 && *found; i--) {
        member *of = &c->members[i];
        int which = chosen[i * (SW_COVER_STEPS + 1) + s];
        of->taken = which != SW_NONE;
        if (!of->taken)
            continue;
        of->gain = of->options[which].gain;
        s -= steps_of(of->options[which].missing, step);
    }
    return SW_OK;
}

/* Members go, and amounts come down, as far as the sum still exceeds the room: fewer
 * members and more picks make the row say more. */
static void widen(cover *c) {
    int64_t sum = 0;
    for (int i = 0; i < c->count; i++)
        sum += c->members[i].taken ? c->members[i].gain : 0;
    for (int i = 0; i < c->count; i++) {
        member *of = &c->members[i];
        if (!of->taken || sum - of->gain <= c->room)
            continue;
        sum -= of->gain;
        of->taken = false;
    }
    for (int i = 0; i < c->count; i++) {
        member *of = &c->members[i];
        int64_t enough = c->room - (sum - of->gain) + 1;
        if (!of->taken || of->group == SW_NONE)
            continue;
        sum += enough - of->gain;
        of->gain = enough;
    }
}

static bool put_member(sw_matrix *m, int row, const cover *c, const member *of, int64_t gain) {
    if (of->group == SW_NONE)
        return of->options[0].gain < gain || sw_matrix_set(m, row, of->column, 1);
    const sw_group *group = &m->program->groups[of->group];
    for (int p = group->first; p < group->first + group->count; p++)
        if (m->pairs.in[p] && c->load->amount[p] - of->least >= gain &&
            !sw_matrix_set(m, row, m->pick_column[p], 1))
            return false;
    return true;
}

/* At most all members but one. Where the limit always holds, any other member with as
 * much as the greatest of them counts too: it may stand for each. */
static sw_status add_row(const cover *c, sw_cuts *cuts) {
    sw_matrix *m = cuts->matrix;
    bool always = c->load->when_column == SW_NONE;
    int64_t greatest = 0;
    int count = 0;
    for (int i = 0; i < c->count; i++)
        if (c->members[i].taken) {
            count++;
            greatest = c->members[i].gain > greatest ? c->members[i].gain : greatest;
        }
    const char *name = sw_arena_format(m->arena, "cover_%s_%d", c->load->name, cuts->added++);
    int row = sw_matrix_row(m, name, -INFINITY, always ? count - 1 : count);
    if (row == SW_NONE || (!always && !sw_matrix_set(m, row, c->load->when_column, 1)))
        return SW_NO_MEMORY;
    for (int i = 0; i < c->count; i++) {
        const member *of = &c->members[i];
        if ((of->taken || always) && !put_member(m, row, c, of, of->taken ? of->gain : greatest))
            return SW_NO_MEMORY;
    }
    return SW_OK;
}

sw_status sw_cut_cover(sw_cuts *cuts, const sw_load_row *load) {
    double full = load->when_column == SW_NONE ? 1 : cuts->value[load->when_column];
    cover c = {.load = load};
    bool found = false;
    if (full < 2 * SW_CUT_BREACH)
        return SW_OK;
    sw_status status = gather(&c, cuts);
    if (status == SW_OK && c.room >= 0)
        status = choose(&found, &c, cuts, full - SW_CUT_BREACH);
    if (status != SW_OK || !found)
        return status;
    widen(&c);
    return add_row(&c, cuts);
}
