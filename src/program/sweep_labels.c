/* Labels: grown group by group, judged, compared, worked off depth first. */
#include "program/sweep_label.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- layouts ------------------------------------------------------------------------------- */

static size_t aligned(size_t bytes) { return (bytes + 7) / 8 * 8; }

static void lay_out(sw_growth *w) {
    const sw_pass *p = w->p;
    for (int at = 0; at < p->groups; at++)
        w->position[p->group_at[at]] = at;
    for (int at = 0; at <= p->groups; at++) {
        sw_layout *l = &w->layout[at];
        l->first_word = p->first_word[at];
        l->alive_words = p->words - l->first_word;
        l->flag_words = (p->sums + p->rows + 63) / 64;
        l->count_words = (int)(aligned((size_t)p->counts * sizeof(uint16_t)) / sizeof(sw_word));
        l->item = sizeof(sw_label);
        l->stage = l->item + aligned((size_t)p->groups * sizeof(int32_t));
        l->amount = l->stage + (size_t)p->stages * sizeof(int64_t);
        l->goods = l->amount + (size_t)p->sums * sizeof(int64_t);
        l->loss = l->goods + (size_t)p->dues * sizeof(int64_t);
        l->face = l->loss + (size_t)p->lanes * sizeof(int32_t);
        l->face_words = l->alive_words + l->flag_words + l->count_words;
        l->size = aligned(l->face + (size_t)l->face_words * sizeof(sw_word));
    }
}

/* ---- the first label ---------------------------------------------------------------------- */

static bool flag(const sw_word *flags, int i) { return (flags[i / 64] >> (i % 64) & 1) != 0; }
static void lower_flag(sw_word *flags, int i) { flags[i / 64] &= ~((sw_word)1 << i % 64); }

/* Notes a due; what cannot be waived is paid at once. */
static void come_due(const sw_growth *w, sw_label *label, int64_t *amounts, int d) {
    const sw_model_due *due = &w->p->s->m->dues[d];
    label->due |= UINT64_C(1) << d;
    if (due->goods == NULL)
        label->cost += due->amount;
    if (w->p->s->m->minutes_sum != SW_NONE)
        amounts[w->p->s->m->minutes_sum] += due->minutes;
}

static void start(sw_growth *w, sw_label *label) {
    const sw_pass *p = w->p;
    const sw_layout *l = &w->layout[0];
    memset(label, 0, l->size);
    label->cost = p->start_cost;
    label->points = p->start_points;
    label->low = p->levels > 0 ? p->node->low : 0;
    label->class = p->loss_position == SW_NONE ? 0 : SW_NONE;
    label->open = p->stretches == 64 ? ~UINT64_C(0) : (UINT64_C(1) << p->stretches) - 1;
    int64_t *stage = sw_label_stages(label, l);
    for (int k = 0; k < p->stages; k++)
        stage[k] = p->start_stage[k];
    for (int d = 0; d < p->dues; d++)
        if (p->s->m->dues[d].always)
            come_due(w, label, sw_label_amounts(label, l), d);
    int32_t *loss = sw_label_losses(label, l);
    for (int at = 0; at < p->groups; at++)
        if (p->table[at].scope_count == 0)
            for (int j = 0; j < p->lanes; j++)
                loss[j] += p->table[at].loss[j];
    sw_word *face = sw_label_face(label, l);
    memcpy(face, p->all, (size_t)l->alive_words * sizeof *face);
    sw_word *flags = face + l->alive_words;
    for (int i = 0; i < p->sums + p->rows; i++)
        flags[i / 64] |= (sw_word)1 << i % 64;
}

/* ---- growing -------------------------------------------------------------------------------- */

/* Adds what a price times a change loses. */
static void lose(const sw_growth *w, int32_t *loss, const double *price, double change) {
    for (int b = 0; b < w->p->lanes; b += SW_BLOCK)
        for (int k = 0; k < SW_BLOCK; k++) {
            double more = price[b + k] * change;
            more = more < SW_LOST ? more : SW_LOST;
            loss[b + k] += (int32_t)more;
        }
}

/* Closes the stretches that a lane rules out; false when none is left. */
static bool has_room(const sw_growth *w, sw_label *child, const int32_t *loss) {
    const sw_pass *p = w->p;
    for (uint64_t rest = child->open; rest != 0; rest &= rest - 1) {
        int i = sw_low_bit(rest);
        const int32_t *gap = &p->gap[i * p->lanes];
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
static uint64_t open_to(const sw_growth *w, const sw_label *parent, uint64_t open, int size,
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
    has_room(w, &any, loss);
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
            come_due(w, child, amounts, d);
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
        child->points += most - p->s->program->leasts[u].base;
        for (int k = first; k < end; k++)
            to[k] = 0;
    }
}

static void lose_levels(const sw_growth *w, int32_t *loss, int class, int from, int to, int lanes) {
    const sw_pass *p = w->p;
    const double *a = &p->level_worth[(size_t)(class * p->levels + from) * (size_t)p->lanes];
    const double *b = &p->level_worth[(size_t)(class * p->levels + to) * (size_t)p->lanes];
    for (int j = 0; j < lanes; j++) {
        double more = a[j] - b[j];
        loss[j] += more < SW_LOST ? (int32_t)more : SW_LOST;
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
    double points = p->scale * (double)e->level_points[cell], noise = (double)child->noise;
    for (int j = 0; j < p->lanes; j++) {
        double more = worth[j] - p->noise_price[j] * noise - points;
        more = more < SW_LOST ? more : SW_LOST;
        loss[j] += more > 0 ? (int32_t)more : 0;
    }
    child->points += e->level_points[cell] - e->level_base;
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
static bool grow(sw_growth *w, const sw_label *parent, sw_label *child, int item) {
    const sw_pass *p = w->p;
    const sw_layout *from = &w->layout[w->at], *to = &w->layout[w->at + 1];
    int32_t *loss = sw_label_losses(child, to);
    child->cost = parent->cost + p->cost[item];
    child->due = parent->due;
    if (!lose_item(w, child, loss, item) || !has_room(w, child, loss))
        return false;
    const sw_word *old = sw_label_face((sw_label *)parent, from);
    sw_word *face = sw_label_face(child, to), *flags = face + to->alive_words;
    if (!leave_items(w, old, face, item))
        return false;
    memcpy(flags, old + from->alive_words,
           (size_t)(to->flag_words + to->count_words) * sizeof *flags);
    child->points = parent->points + p->points[item];
    child->tie = parent->tie + p->tie[item];
    if (!add_rows(w, flags, item) || !add_sums(w, parent, child, flags, loss, item) ||
        !add_noise(w, parent, child, loss, item))
        return false;
    add_stages(w, parent, child, loss, item);
    if (p->dues > 0)
        add_dues(w, parent, child, loss, item);
    if (!has_room(w, child, loss) ||
        !add_counts(w, (uint16_t *)(void *)(flags + to->flag_words), item))
        return false;
    memcpy(sw_label_items(child, to), sw_label_items((sw_label *)parent, from),
           (size_t)p->groups * sizeof(int32_t));
    sw_label_items(child, to)[w->at] = item;
    return true;
}

/* ---- places ------------------------------------------------------------------------------- */

/* Answers remembered: the places depend on what is to be placed and where, which labels
 * share. */
#define SW_PLACES_KEPT 4096

/* All that holds things or sites is settled: they must find places. */
static bool finds_places(sw_growth *w, sw_label *label) {
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

/* How often the clock is read. */
#define SW_LABELS_A_LOOK 4096

/* ---- one batch to the next ------------------------------------------------------------------ */

static void explore(sw_growth *w, int at, const sw_batch *batch);

static void leaf(sw_growth *w, const sw_batch *batch) {
    const sw_pass *p = w->p;
    sw_sweep *s = p->s;
    const sw_layout *l = &w->layout[p->groups];
    int *picks = s->x.picks;
    for (int i = 0; i < batch->count && s->status == SW_OK; i++) {
        sw_label *label = sw_label_at(batch, i);
        if (!sw_frontier_wants(s->frontier, label->cost, label->points))
            continue;
        sw_tally tally;
        int broken = SW_NONE;
        const int32_t *items = sw_label_items(label, l);
        for (int at = 0; at < p->groups; at++)
            picks[p->group_at[at]] = s->m->pick_of[p->model_item[items[at]]];
        s->status = sw_program_check(&tally, &broken, s->program, picks);
        if (s->status != SW_OK)
            return;
        if (broken == SW_OVER_TIME)
            continue;
        if (broken != SW_NONE || tally.points < label->points || tally.cost > label->cost) {
            s->disagreed = true;
            continue;
        }
        s->status = sw_frontier_add(s->frontier, &tally, picks);
    }
    if (w->age != s->frontier->age)
        sw_pass_gaps((sw_pass *)p);
    w->age = s->frontier->age;
}

static void work_off(sw_growth *w, int at) {
    sw_batch *batch = &w->batch[at];
    sw_batch_settle(w, at);
    explore(w, at, batch);
    batch->count = 0;
}

/* Where the tables of the bucket start for the parent, and what they promised. */
static void look_up(sw_growth *w, const sw_label *parent) {
    const sw_pass *p = w->p;
    const sw_layout *l = &w->layout[w->at];
    const int32_t *items = sw_label_items((sw_label *)parent, l);
    const int32_t *loss = sw_label_losses((sw_label *)parent, l);
    const sw_completion *own = &p->table[w->at];
    int entry = 0;
    for (int k = 0; k < own->scope_count; k++)
        entry += own->stride[k] * own->class_of[k][items[own->scope[k]]];
    const int32_t *promised = &own->loss[(size_t)entry * (size_t)p->lanes];
    for (int j = 0; j < p->lanes; j++)
        w->base[j] = loss[j] - promised[j];
    for (int i = 0; i < p->bucket_count[w->at]; i++) {
        const sw_completion *t = &p->table[p->bucket[w->at][i]];
        w->entry[i] = 0;
        for (int k = 0; k + 1 < t->scope_count; k++)
            w->entry[i] += t->stride[k] * t->class_of[k][items[t->scope[k]]];
    }
}

static void expand(sw_growth *w, int at, const sw_label *parent) {
    const sw_pass *p = w->p;
    const sw_word *face = sw_label_face((sw_label *)parent, &w->layout[at]);
    sw_batch *next = &w->batch[at + 1];
    int first = p->first_word[at], end = p->first_word[at + 1];
    w->at = at;
    look_up(w, parent);
    bool places = p->rest[at].placing_open && !p->rest[at + 1].placing_open;
    for (int word = first; word < end; word++) {
        sw_word alive = face[word - first];
        uint64_t open = alive == 0 ? 0 : open_to(w, parent, parent->open, 1, word);
        for (int few = 0; few < SW_MANY / SW_FEW && open != 0; few++) {
            sw_word rest = alive >> (few * SW_FEW) & ((1 << SW_FEW) - 1);
            uint64_t near = rest == 0 ? 0 : open_to(w, parent, open, 0, word * 8 + few);
            for (; rest != 0 && near != 0; rest &= rest - 1) {
                sw_label *child = sw_label_at(next, next->count);
                child->open = near;
                p->s->labels++;
                if (!grow(w, parent, child, word * 64 + few * SW_FEW + sw_low_bit(rest)) ||
                    (places && !finds_places(w, child)))
                    continue;
                next->count++;
            }
        }
    }
}

static bool interrupted(sw_growth *w) {
    sw_sweep *s = w->p->s;
    if (s->status != SW_OK || s->out_of_time)
        return true;
    if (s->labels - w->looked < SW_LABELS_A_LOOK)
        return false;
    w->looked = s->labels;
    s->out_of_time = sw_time_is_up(&s->allowance);
    if (s->allowance.tell != NULL)
        s->allowance.tell(s->allowance.context,
                          &(sw_progress){.doing = s->proving ? "proving" : "searching",
                                         .steps = (int64_t)s->frontier->count,
                                         .gap = -1,
                                         .share = s->share});
    return s->out_of_time;
}

/* What was not looked at stays open. */
static void leave_open(sw_growth *w, int at, const sw_batch *batch, int from) {
    for (int i = from; i < batch->count; i++)
        sw_label_left(w, at, sw_label_at(batch, i));
}

static void explore(sw_growth *w, int at, const sw_batch *batch) {
    const sw_pass *p = w->p;
    if (at == p->groups) {
        leaf(w, batch);
        return;
    }
    sw_batch *next = &w->batch[at + 1];
    int most = 0;
    for (int k = p->first_word[at]; k < p->first_word[at + 1]; k++)
        for (sw_word rest = p->all[k]; rest != 0; rest &= rest - 1)
            most++;
    for (int i = 0; i < batch->count; i++) {
        if (interrupted(w)) {
            leave_open(w, at, batch, i);
            leave_open(w, at + 1, next, 0);
            next->count = 0;
            return;
        }
        sw_label *label = sw_label_at(batch, i);
        if (!has_room(w, label, sw_label_losses(label, &w->layout[at])))
            continue;
        expand(w, at, label);
        if (next->count + most < next->room)
            continue;
        sw_batch_settle(w, at + 1);
        if (next->count > next->room / 2)
            work_off(w, at + 1);
    }
    if (next->count > 0)
        work_off(w, at + 1);
}

/* ---- a pass ------------------------------------------------------------------------------------
 */

static int widest_group(const sw_pass *p) {
    int widest = 0;
    for (int at = 0; at < p->groups; at++) {
        int count = 64 * (p->first_word[at + 1] - p->first_word[at]);
        widest = count > widest ? count : widest;
    }
    return widest;
}

/* Bytes of labels, if the groups are not very large. */
#define SW_POOL ((size_t)32 << 20)

static sw_status make_batches(sw_growth *w) {
    const sw_pass *p = w->p;
    size_t share = SW_POOL / (size_t)(p->groups + 1), used = 0;
    size_t least = (size_t)widest_group(p) * 4 + 64;
    for (int at = 0; at <= p->groups; at++) {
        size_t room = share / w->layout[at].size;
        room = room < least ? least : room;
        room = at == 0 ? 1 : room;
        w->batch[at] = (sw_batch){.size = w->layout[at].size, .room = (int)room};
        used += (room + 1) * w->layout[at].size;
    }
    if (used > p->s->room) {
        free(p->s->pool);
        p->s->pool = malloc(used);
        p->s->room = p->s->pool == NULL ? 0 : used;
        if (p->s->pool == NULL)
            return SW_NO_MEMORY;
    }
    used = 0;
    for (int at = 0; at <= p->groups; at++) {
        w->batch[at].bytes = p->s->pool + used;
        used += (size_t)(w->batch[at].room + 1) * w->layout[at].size;
    }
    w->base = SW_NEW(p->arena, int32_t, (size_t)p->lanes);
    w->sum_priced = SW_NEW(p->arena, bool, (size_t)p->sums + 1);
    w->place_memory =
        SW_NEW(p->arena, sw_word, ((size_t)w->layout[0].count_words + 1) * SW_PLACES_KEPT);
    if (w->base == NULL || w->sum_priced == NULL || w->place_memory == NULL)
        return SW_NO_MEMORY;
    for (int i = 0; i < p->sums; i++)
        for (int j = 0; j < p->live; j++)
            w->sum_priced[i] =
                w->sum_priced[i] || p->sum_price[(size_t)i * (size_t)p->lanes + (size_t)j] > 0;
    return SW_OK;
}

sw_status sw_pass_labels(sw_pass *p, size_t width, bool *complete) {
    sw_growth w = {.p = p, .width = width, .age = p->s->frontier->age};
    lay_out(&w);
    sw_status status = make_batches(&w);
    w.looked = p->s->labels;
    if (status == SW_OK) {
        start(&w, sw_label_at(&w.batch[0], 0));
        w.batch[0].count = 1;
        explore(&w, 0, &w.batch[0]);
        status = p->s->status;
    }
    *complete = *complete && !w.left_out && !p->s->out_of_time;
    return status;
}
