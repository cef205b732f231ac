/* Labels worked off depth first, batch by batch. */
#include "program/sweep_label.h"

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
        l->points = l->item + aligned((size_t)p->groups * sizeof(int32_t));
        l->stage = l->points + (size_t)p->aims * sizeof(int64_t);
        l->amount = l->stage + (size_t)p->stages * sizeof(int64_t);
        l->goods = l->amount + (size_t)p->sums * sizeof(int64_t);
        l->loss = l->goods + (size_t)p->dues * sizeof(int64_t);
        l->face = l->loss + (size_t)p->lanes * sizeof(int32_t);
        l->face_words = l->alive_words + l->flag_words + l->count_words;
        l->size = aligned(l->face + (size_t)l->face_words * sizeof(sw_word));
    }
}

/* ---- the first label ---------------------------------------------------------------------- */

static void start(sw_growth *w, sw_label *label) {
    const sw_pass *p = w->p;
    const sw_layout *l = &w->layout[0];
    memset(label, 0, l->size);
    label->cost = p->start_cost;
    for (int a = 0; a < p->aims; a++)
        sw_label_points(label, l)[a] = -p->s->base[a];
    label->low = p->levels > 0 ? p->node->low : 0;
    label->class = p->loss_position == SW_NONE ? 0 : SW_NONE;
    label->open = p->stretches == 64 ? ~UINT64_C(0) : (UINT64_C(1) << p->stretches) - 1;
    int64_t *stage = sw_label_stages(label, l);
    for (int k = 0; k < p->stages; k++)
        stage[k] = p->start_stage[k];
    for (int d = 0; d < p->dues; d++)
        if (p->s->m->dues[d].always)
            sw_label_comes_due(w, label, sw_label_amounts(label, l), d);
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

/* How often the clock is read. */
#define SW_LABELS_A_LOOK 4096

/* ---- one batch to the next ------------------------------------------------------------------ */

static void explore(sw_growth *w, int at, const sw_batch *batch);

/* For the curve. */
static void take_step(sw_sweep *s, const int *picks, int64_t points, int64_t cost) {
    sw_tally tally;
    int broken = SW_NONE;
    s->status = sw_program_check(&tally, &broken, s->program, picks);
    if (s->status != SW_OK || broken == SW_OVER_TIME)
        return;
    if (broken != SW_NONE || tally.points < points || tally.cost > cost)
        s->disagreed = true;
    else
        s->status = sw_frontier_add(s->frontier, &tally, picks);
}

static bool wants(const sw_sweep *s, const int64_t *points, int64_t cost) {
    return s->asker != NULL ? s->asker->wants(s->asker->who, points, cost)
                            : sw_frontier_wants(s->frontier, cost, points[0]);
}

static unsigned long long age_of(const sw_sweep *s) {
    return s->asker != NULL ? s->asker->age : s->frontier->age;
}

static void leaf(sw_growth *w, const sw_batch *batch) {
    const sw_pass *p = w->p;
    sw_sweep *s = p->s;
    const sw_layout *l = &w->layout[p->groups];
    int *picks = s->x.picks;
    for (int i = 0; i < batch->count && s->status == SW_OK; i++) {
        sw_label *label = sw_label_at(batch, i);
        const int64_t *points = sw_label_points(label, l);
        if (!wants(s, points, label->cost))
            continue;
        bool agrees = true;
        const int32_t *items = sw_label_items(label, l);
        for (int at = 0; at < p->groups; at++)
            picks[p->group_at[at]] = s->m->pick_of[p->model_item[items[at]]];
        if (s->asker == NULL)
            take_step(s, picks, points[0], label->cost);
        else
            s->status = s->asker->take(&agrees, s->asker->who, picks, points, label->cost);
        s->disagreed = s->disagreed || !agrees;
    }
    if (w->age != age_of(s))
        sw_pass_gaps((sw_pass *)p);
    w->age = age_of(s);
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
        uint64_t open = alive == 0 ? 0 : sw_label_open_to(w, parent, parent->open, 1, word);
        for (int few = 0; few < SW_MANY / SW_FEW && open != 0; few++) {
            sw_word rest = alive >> (few * SW_FEW) & ((1 << SW_FEW) - 1);
            uint64_t near = rest == 0 ? 0 : sw_label_open_to(w, parent, open, 0, word * 8 + few);
            for (; rest != 0 && near != 0; rest &= rest - 1) {
                sw_label *child = sw_label_at(next, next->count);
                child->open = near;
                p->s->labels++;
                if (!sw_label_grow(w, parent, child, word * 64 + few * SW_FEW + sw_low_bit(rest)) ||
                    (places && !sw_label_finds_places(w, child)))
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
        s->allowance.tell(
            s->allowance.context,
            &(sw_progress){.doing = s->proving ? "proving" : "searching",
                           .steps = s->frontier != NULL ? (int64_t)s->frontier->count : 0,
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
        if (!sw_label_has_room(w, label, sw_label_losses(label, &w->layout[at])))
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
        p->s->pool = NULL;
        p->s->room = 0;
        char *pool = malloc(used);
        if (pool == NULL)
            return SW_NO_MEMORY;
        p->s->pool = pool;
        p->s->room = used;
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
    sw_growth w = {.p = p, .width = width, .age = age_of(p->s)};
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
