/* A label grown by an item of the next group: what it loses, what it leaves the others, whether
 * the rules let it be. */
#include "program/sweep_label.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- dues -------------------------------------------------------------------------------- */

/* Notes a due; what cannot be waived is paid at once. */
void sw_label_comes_due(const sw_growth *w, sw_label *label, int64_t *amounts, int d) {
    const sw_model_due *due = &w->p->s->m->dues[d];
    label->due |= UINT64_C(1) << d;
    if (due->goods == NULL)
        label->cost += due->amount;
    if (w->p->s->m->minutes_sum != SW_NONE)
        amounts[w->p->s->m->minutes_sum] += due->minutes;
}

/* Conditions that still hold. */
static bool flag(const sw_word *flags, int i) { return (flags[i / 64] >> (i % 64) & 1) != 0; }
static void lower_flag(sw_word *flags, int i) { flags[i / 64] &= ~((sw_word)1 << i % 64); }

/* ---- growing -------------------------------------------------------------------------------- */

/* Saturated far below what 32 bits hold, however many terms there are: to count less than is lost
 * only keeps a label longer. */
static int32_t sum_of_losses(int32_t loss, double more) {
    int32_t sum = loss + (more < SW_LOST ? (int32_t)more : SW_LOST);
    return sum < SW_LOST_MOST ? sum : SW_LOST_MOST;
}

/* Adds what a price times a change loses. */
static void lose(const sw_growth *w, int32_t *loss, const double *price, double change) {
    for (int b = 0; b < w->p->lanes; b += SW_BLOCK)
        for (int k = 0; k < SW_BLOCK; k++) {
            double more = price[b + k] * change;
            loss[b + k] = sum_of_losses(loss[b + k], more);
        }
}

/* Closes the stretches that a lane rules out; false when none is left. */
bool sw_label_has_room(const sw_growth *w, sw_label *child, const int32_t *loss) {
    const sw_pass *p = w->p;
    for (uint64_t rest = child->open; rest != 0; rest &= rest - 1) {
        int i = sw_low_bit(rest);
        const int32_t *gap = &p->gap[(ptrdiff_t)i * p->lanes];
        for (int b = 0; b < p->lanes; b += SW_BLOCK) {
            int32_t over = 0;
            for (int k = 0; k < SW_BLOCK; k++)
                over |= gap[b + k] - loss[b + k];
            if (over < 0) {
                child->open &= ~(UINT64_C(1) << i);
                break;
            }
        }
    }
    return child->open != 0;
}

/* Without the stretches of costs below the least that this comes to. */
static uint64_t dear_enough(const sw_growth *w, uint64_t open, int64_t least) {
    const sw_lanes *lanes = &w->p->s->lanes;
    while (open != 0 && lanes->high[sw_low_bit(open)] < least)
        open &= open - 1;
    return open;
}

/* The stretches that some of these neighbours may belong to. */
uint64_t sw_label_open_to(const sw_growth *w, const sw_label *parent, uint64_t open, int size,
                          int item) {
    const sw_pass *p = w->p;
    const int32_t *least = &p->least_loss[size][(size_t)item * (size_t)p->lanes];
    sw_label any = {.open = dear_enough(w, open,
                                        parent->cost + p->least_cost[size][item] +
                                            p->rest[w->at + 1].cost_least)};
    int32_t loss[SW_LANES];
    for (int b = 0; b < p->lanes; b += SW_BLOCK)
        for (int k = 0; k < SW_BLOCK; k++)
            loss[b + k] = w->base[b + k] + least[b + k];
    sw_label_has_room(w, &any, loss);
    return any.open;
}

/* Losses so far plus the item's, in place of what its bucket promised. */
static bool lose_item(sw_growth *w, sw_label *child, int32_t *loss, int item) {
    const sw_pass *p = w->p;
    const int32_t *own = &p->loss[(size_t)item * (size_t)p->lanes];
    const int32_t *more[SW_GROUPS_MOST];
    int at = w->at, count = p->bucket_count[at];
    child->open = dear_enough(w, child->open, child->cost + p->rest[at + 1].cost_least);
    if (child->open == 0)
        return false;
    for (int i = 0; i < count; i++) {
        const sw_completion *t = &p->table[p->bucket[at][i]];
        int k = t->scope_count - 1; /* this position is the last of its scope */
        int entry = w->entry[i] + t->stride[k] * t->class_of[k][item];
        more[i] = &t->loss[(size_t)entry * (size_t)p->lanes];
    }
    for (int b = 0; b < p->lanes; b += SW_BLOCK) {
        int32_t sum[SW_BLOCK];
        for (int k = 0; k < SW_BLOCK; k++)
            sum[k] = w->base[b + k] + own[b + k];
        for (int i = 0; i < count; i++)
            for (int k = 0; k < SW_BLOCK; k++)
                sum[k] += more[i][b + k];
        for (int k = 0; k < SW_BLOCK; k++)
            loss[b + k] = sum[k];
    }
    return true;
}

/* What the item leaves the groups behind it. */
static bool leave_items(const sw_growth *w, const sw_word *from, sw_word *to, int item) {
    const sw_pass *p = w->p;
    int first = p->first_word[w->at + 1];
    const sw_word *clash = &p->clash[(size_t)item * (size_t)p->words];
    from += first - p->first_word[w->at];
    for (int at = w->at + 1; at < p->groups; at++) {
        sw_word any = 0;
        for (int k = p->first_word[at]; k < p->first_word[at + 1]; k++) {
            to[k - first] = from[k - first] & ~clash[k];
            any |= to[k - first];
        }
        if (any == 0)
            return false;
    }
    return true;
}

static bool add_rows(const sw_growth *w, sw_word *flags, int item) {
    const sw_pass *p = w->p;
    const sw_rest *rest = &p->rest[w->at + 1];
    for (int r = 0; r < p->rows; r++) {
        if (!flag(flags, p->sums + r))
            continue;
        if (!p->row_hit[(size_t)item * (size_t)p->rows + (size_t)r])
            lower_flag(flags, p->sums + r);
        else if (!rest->row_open[r] && p->rest[0].row_open[r])
            return false;
    }
    return true;
}

/* Loads. A sum that nothing can break any more is set to its limit, so that labels which
 * differ in it alone are alike. */
static bool add_sums(const sw_growth *w, const sw_label *parent, sw_label *child, sw_word *flags,
                     int32_t *loss, int item) {
    const sw_pass *p = w->p;
    const sw_model *m = p->s->m;
    const sw_rest *rest = &p->rest[w->at + 1];
    const int64_t *from = sw_label_amounts((sw_label *)parent, &w->layout[w->at]);
    int64_t *to = sw_label_amounts(child, &w->layout[w->at + 1]);
    for (int i = 0; i < p->sums; i++) {
        to[i] = from[i];
        if (!p->rest[w->at].sum_open[i] || !flag(flags, i))
            continue;
        if (!p->sum_hit[(size_t)item * (size_t)p->sums + (size_t)i]) {
            lower_flag(flags, i);
            to[i] = 0;
            continue;
        }
        int64_t limit = m->sums[i].limit;
        to[i] += p->amount[(size_t)item * (size_t)p->sums + (size_t)i];
        bool sure = m->sums[i].when_count == 0 || !rest->sum_open[i];
        if (sure && to[i] + rest->amount_least[i] > limit)
            return false;
        int64_t harmless = limit - rest->amount_most[i];
        if (i == m->minutes_sum)
            for (int d = 0; d < p->dues; d++)
                harmless -= m->dues[d].minutes;
        if (to[i] >= harmless)
            continue;
        if (m->sums[i].feature != SW_NONE && w->sum_priced[i])
            lose(w, loss, &p->sum_price[(size_t)i * (size_t)p->lanes], (double)(harmless - to[i]));
        to[i] = harmless;
    }
    return true;
}

/* Charges and deliveries. The bound shared each among the groups that could make it due: once
 * it is, those that do not pay their share too. The last of them settles a waiver. */
static void add_dues(const sw_growth *w, const sw_label *parent, sw_label *child, int32_t *loss,
                     int item) {
    const sw_pass *p = w->p;
    const sw_rest *rest = &p->rest[w->at + 1];
    const int64_t *from = sw_label_goods((sw_label *)parent, &w->layout[w->at]);
    int64_t *to = sw_label_goods(child, &w->layout[w->at + 1]);
    int64_t *amounts = sw_label_amounts(child, &w->layout[w->at + 1]);
    double owed = 0;
    child->due = parent->due;
    for (int d = 0; d < p->dues; d++) {
        int cell = w->at * p->dues + d;
        to[d] = from[d];
        if (!p->due_at[cell])
            continue;
        const sw_model_due *due = &p->s->m->dues[d];
        const sw_due_terms *terms = &p->terms[d];
        double part = terms->none || terms->sure ? 0 : terms->part;
        bool was = (child->due >> d & 1) != 0;
        if (!p->is_due[(size_t)item * (size_t)p->dues + (size_t)d])
            owed += was ? part : 0;
        else if (!was) {
            owed += part * p->due_before[cell];
            sw_label_comes_due(w, child, amounts, d);
        }
        if (due->goods == NULL)
            continue;
        to[d] += p->goods[(size_t)item * (size_t)p->dues + (size_t)d];
        if (rest->due_open[d])
            continue;
        bool waived = to[d] >= due->free_from;
        bool paid = (child->due >> d & 1) != 0 && !waived;
        double counted = terms->none                                 ? 0
                         : terms->sure || (child->due >> d & 1) != 0 ? (double)due->amount
                                                                     : 0;
        counted -= terms->none ? 0 : terms->back * (double)to[d];
        child->cost += paid ? due->amount : 0;
        owed += (paid ? (double)due->amount : 0) - counted;
        child->due &= ~(UINT64_C(1) << d);
        to[d] = 0;
    }
    if (owed > 0)
        lose(w, loss, p->money_price, owed * (1 - 1e-9));
}

/* Stages. None counts for more than the least that its use can still reach. */
static void add_stages(const sw_growth *w, const sw_label *parent, sw_label *child, int32_t *loss,
                       int item) {
    const sw_pass *p = w->p;
    const sw_rest *rest = &p->rest[w->at + 1];
    const int64_t *from = sw_label_stages((sw_label *)parent, &w->layout[w->at]);
    int64_t *to = sw_label_stages(child, &w->layout[w->at + 1]);
    int64_t *points = sw_label_points(child, &w->layout[w->at + 1]);
    const int64_t *term = &p->term[(size_t)item * (size_t)p->stages];
    for (int u = 0; u < p->uses; u++) {
        int first = p->use_first[u], end = p->use_first[u + 1];
        bool open = w->at == 0 || p->rest[w->at].use_open[u];
        if (!open) {
            for (int k = first; k < end; k++)
                to[k] = 0;
            continue;
        }
        int64_t most = INT64_MAX;
        for (int k = first; k < end; k++) {
            to[k] = from[k] + term[k];
            most = to[k] + rest->stage_most[k] < most ? to[k] + rest->stage_most[k] : most;
        }
        for (int k = first; k < end; k++) {
            int64_t enough = most - rest->stage_least[k];
            if (to[k] <= enough)
                continue;
            lose(w, loss, &p->stage_price[(size_t)k * (size_t)p->lanes], (double)(to[k] - enough));
            to[k] = enough;
        }
        if (rest->use_open[u])
            continue;
        for (int a = 0; a < p->aims; a++)
            points[a] += p->s->speed[a] * (most - p->s->program->leasts[u].base);
        for (int k = first; k < end; k++)
            to[k] = 0;
    }
}

static void lose_levels(const sw_growth *w, int32_t *loss, int class, int from, int to, int lanes) {
    const sw_pass *p = w->p;
    const double *a = &p->level_worth[(size_t)(class * p->levels + from) * (size_t)p->lanes];
    const double *b = &p->level_worth[(size_t)(class * p->levels + to) * (size_t)p->lanes];
    for (int j = 0; j < lanes; j++) {
        loss[j] = sum_of_losses(loss[j], a[j] - b[j]);
    }
}

/* Everything that sounds is settled: the level itself in place of its bound. */
static bool close_noise(const sw_growth *w, sw_label *child, int32_t *loss) {
    const sw_pass *p = w->p;
    const sw_estimates *e = p->s->program->estimates;
    int cell = child->class * e->level_count + child->low;
    if (!e->level_allowed[cell])
        return false;
    const double *worth = &p->level_worth[(size_t)cell * (size_t)p->lanes];
    double level = p->scale * (double)e->level_points[cell], noise = (double)child->noise;
    for (int j = 0; j < p->live; j++) {
        double points = level * (p->s->lanes.unit[j] * p->s->lanes.quiet[j]);
        double more = worth[j] - p->noise_price[j] * noise - points;
        loss[j] = sum_of_losses(loss[j], more > 0 ? more : 0);
    }
    int64_t *points = sw_label_points(child, &w->layout[w->at + 1]);
    for (int a = 0; a < p->aims; a++)
        points[a] += p->s->quiet[a] * (e->level_points[cell] - e->level_base);
    child->noise = child->low = 0;
    child->class = 0;
    return true;
}

static bool add_noise(const sw_growth *w, const sw_label *parent, sw_label *child, int32_t *loss,
                      int item) {
    const sw_pass *p = w->p;
    const sw_estimates *e = p->s->program->estimates;
    const sw_rest *rest = &p->rest[w->at + 1];
    child->low = parent->low;
    child->class = parent->class;
    child->noise = parent->noise;
    if (p->levels == 0 || (w->at > 0 && !p->rest[w->at].noise_open))
        return true;
    child->noise += p->noise[item];
    while (child->low < e->level_count - 1 &&
           e->level_power[child->low] < child->noise + rest->noise_least)
        child->low++;
    if (w->at == p->loss_position) {
        child->class = p->loss_class[item];
        lose_levels(w, loss, child->class, 0, child->low, p->lanes);
    } else if (child->class != SW_NONE && child->low > parent->low)
        lose_levels(w, loss, child->class, parent->low, child->low, p->lanes);
    if (!rest->noise_open)
        return close_noise(w, child, loss);
    /* Never above what all together can have: the bound knows no more. */
    int64_t most = e->level_power[child->low];
    most = most < p->rest[0].noise_most ? most : p->rest[0].noise_most;
    int64_t harmless = most - rest->noise_most;
    if (child->noise < harmless) {
        lose(w, loss, p->noise_price, (double)(harmless - child->noise));
        child->noise = harmless;
    }
    return true;
}

static bool add_counts(sw_growth *w, uint16_t *count, int item) {
    const sw_pass *p = w->p;
    if (p->counts == 0 || !p->rest[w->at].placing_open)
        return true;
    const uint16_t *own = &p->count[(size_t)item * (size_t)p->counts];
    for (int c = 0; c < p->counts; c++)
        count[c] = (uint16_t)(count[c] + own[c]);
    return true;
}

/* Grows the label by the item; false when nothing with it has room or is allowed. */
bool sw_label_grow(sw_growth *w, const sw_label *parent, sw_label *child, int item) {
    const sw_pass *p = w->p;
    const sw_layout *from = &w->layout[w->at], *to = &w->layout[w->at + 1];
    int32_t *loss = sw_label_losses(child, to);
    child->cost = parent->cost + p->cost[item];
    child->due = parent->due;
    if (!lose_item(w, child, loss, item) || !sw_label_has_room(w, child, loss))
        return false;
    const sw_word *old = sw_label_face((sw_label *)parent, from);
    sw_word *face = sw_label_face(child, to), *flags = face + to->alive_words;
    if (!leave_items(w, old, face, item))
        return false;
    memcpy(flags, old + from->alive_words,
           (size_t)(to->flag_words + to->count_words) * sizeof *flags);
    const int64_t *was = sw_label_points((sw_label *)parent, from);
    for (int a = 0; a < p->aims; a++)
        sw_label_points(child, to)[a] = was[a] + p->points[item * p->aims + a];
    child->tie = parent->tie + p->tie[item];
    if (!add_rows(w, flags, item) || !add_sums(w, parent, child, flags, loss, item) ||
        !add_noise(w, parent, child, loss, item))
        return false;
    add_stages(w, parent, child, loss, item);
    if (p->dues > 0)
        add_dues(w, parent, child, loss, item);
    if (!sw_label_has_room(w, child, loss) ||
        !add_counts(w, (uint16_t *)(void *)(flags + to->flag_words), item))
        return false;
    memcpy(sw_label_items(child, to), sw_label_items((sw_label *)parent, from),
           (size_t)p->groups * sizeof(int32_t));
    sw_label_items(child, to)[w->at] = item;
    return true;
}

/* ---- places ------------------------------------------------------------------------------- */

/* All that holds things or sites is settled: they must find places. */
bool sw_label_finds_places(sw_growth *w, sw_label *label) {
    const sw_pass *p = w->p;
    const sw_program *program = p->s->program;
    const sw_layout *l = &w->layout[w->at + 1];
    sw_word *face = sw_label_face(label, l) + l->alive_words + l->flag_words;
    size_t bytes = (size_t)l->count_words * sizeof *face;
    size_t slot = (size_t)(sw_mix_words(face, l->count_words) % SW_PLACES_KEPT);
    sw_word *kept = w->place_memory + slot * (size_t)(l->count_words + 1);
    if (kept[0] == 0 || memcmp(kept + 1, face, bytes) != 0) {
        int64_t unplaced = 0, asked = 0;
        const int32_t *items = sw_label_items(label, l);
        for (int g = 0; g < p->groups; g++)
            p->s->x.machine[g] = program->fitouts->present[g];
        for (int at = 0; at <= w->at; at++)
            p->s->x.machine[p->group_at[at]] =
                program->picks[p->s->m->pick_of[p->model_item[items[at]]]].fitout;
        sw_status status =
            sw_unplaced(&unplaced, &asked, program->book, program->book->spare, p->s->x.machine);
        if (status != SW_OK)
            p->s->status = status;
        kept[0] = status == SW_OK && unplaced == 0 ? 2 : 1;
        memcpy(kept + 1, face, bytes);
    }
    bool fits = kept[0] == 2;
    memset(face, 0, bytes);
    return fits;
}
