/* The facts of a fit-out: its pieces' facts, changed by the tasks done on
 * them, combined as facts.json says; then the derived facts. */
#include "fitouts/stage.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const sw_value *sw_fitout_value(const sw_fitouts *fitouts, const sw_fitout *fitout, int fact) {
    static const sw_value nothing = {.state = SW_VOID};
    int slot = fitouts->slot[fitout->role][fact];
    return slot == SW_NONE ? &nothing : &fitout->values[slot];
}

static void apply_effect(const sw_fitouts *fitouts, int role, const sw_effect *effect,
                         sw_value *values) {
    sw_value *value = &values[fitouts->slot[role][effect->fact]];
    switch (effect->op) {
    case SW_EFFECT_SET:
        *value = effect->set;
        break;
    case SW_EFFECT_SET_FROM:
        *value = values[fitouts->slot[role][effect->from]];
        break;
    case SW_EFFECT_ADD:
        if (value->state == SW_KNOWN)
            value->milli += effect->milli;
        break;
    case SW_EFFECT_TIMES:
        if (value->state == SW_KNOWN)
            value->milli = sw_divide(value->milli * effect->milli, 1000, SW_HALF_UP);
        break;
    }
    /* Keeps every later product within 64 bits. */
    if (value->state == SW_KNOWN &&
        (value->milli > SW_MILLI_LIMIT || value->milli < -SW_MILLI_LIMIT))
        *value = (sw_value){.state = SW_UNKNOWN};
}

static void make_piece(const sw_fitouts *fitouts, const sw_fitout *fitout, int part, int count,
                       bool kept, sw_piece *out) {
    const sw_catalog *catalog = fitouts->catalog;
    int role = fitout->role;
    out->part = part;
    out->count = count;
    for (size_t fact = 0; fact < catalog->fact_count; fact++)
        if (fitouts->slot[role][fact] != SW_NONE)
            out->values[fitouts->slot[role][fact]] = fitouts->scenario->parts[part].values[fact];
    for (int t = 0; t < fitout->task_count; t++) {
        const sw_task *task = &catalog->tasks[fitout->tasks[t]];
        if (!task->any_piece && !kept)
            continue;
        for (size_t e = 0; e < task->effect_count; e++)
            apply_effect(fitouts, role, &task->effects[e], out->values);
    }
}

/* Levels above 140 dB count as 140: louder than any machine, and their powers
 * still add up within 64 bits. */
static int64_t power_of(int64_t milli) {
    int64_t power = 0;
    milli = milli > 140000 ? 140000 : milli;
    sw_round(&power, 10.0 * pow(10.0, (double)milli / 10000.0));
    return power;
}

static void combine_numbers(sw_combine combine, const sw_piece *pieces, size_t count, int slot,
                            sw_value *out) {
    for (size_t i = 0; i < count; i++) {
        const sw_value *value = &pieces[i].values[slot];
        if (value->state != SW_KNOWN)
            continue;
        if (combine == SW_SUM)
            out->milli += value->milli * pieces[i].count;
        else if (combine == SW_POWER)
            out->power += power_of(value->milli) * pieces[i].count;
        else if (i == 0 ||
                 (combine == SW_LEAST ? value->milli < out->milli : value->milli > out->milli))
            out->milli = value->milli;
    }
    if (combine != SW_POWER)
        return;
    if (out->power == 0 ||
        !sw_round(&out->milli, 1000.0 * (10.0 * log10((double)out->power / 10.0))))
        out->state = SW_VOID;
}

/* What the pieces that state it come to, where others do not. */
static void combine_some(sw_combine combine, const sw_piece *pieces, size_t count, int slot,
                         sw_value *out) {
    for (size_t i = 0; i < count && (combine == SW_LEAST || combine == SW_MOST); i++) {
        const sw_value *value = &pieces[i].values[slot];
        bool further = combine == SW_LEAST ? value->milli < out->milli : value->milli > out->milli;
        if (value->state != SW_KNOWN || (out->some && !further))
            continue;
        out->milli = value->milli;
        out->some = true;
    }
}

static void combine_flags(sw_combine combine, const sw_piece *pieces, size_t count, int slot,
                          sw_value *out) {
    out->milli = pieces[0].values[slot].milli;
    for (size_t i = 1; i < count; i++) {
        int64_t flag = pieces[i].values[slot].milli;
        if (combine == SW_ALL ? flag < out->milli : flag > out->milli)
            out->milli = flag;
    }
}

static int by_text(const void *left, const void *right) {
    return strcmp(*(const char *const *)left, *(const char *const *)right);
}

static size_t holders_of(const char *token, const sw_piece *pieces, size_t count, int slot) {
    size_t holders = 0;
    for (size_t i = 0; i < count; i++)
        for (size_t t = 0; t < pieces[i].values[slot].token_count; t++)
            if (strcmp(pieces[i].values[slot].tokens[t], token) == 0) {
                holders++;
                break;
            }
    return holders;
}

static sw_status combine_tokens(const sw_fitouts *fitouts, sw_combine combine,
                                const sw_piece *pieces, size_t count, int slot, sw_value *out) {
    size_t most = 0, used = 0;
    for (size_t i = 0; i < count; i++)
        most += pieces[i].values[slot].token_count;
    const char **tokens = SW_NEW(fitouts->arena, const char *, most);
    if (tokens == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < count; i++)
        for (size_t t = 0; t < pieces[i].values[slot].token_count; t++) {
            const char *token = pieces[i].values[slot].tokens[t];
            if (combine != SW_COMMON || holders_of(token, pieces, count, slot) == count)
                tokens[used++] = token;
        }
    qsort(tokens, used, sizeof *tokens, by_text);
    size_t distinct = 0;
    for (size_t i = 0; i < used; i++)
        if (distinct == 0 || strcmp(tokens[distinct - 1], tokens[i]) != 0)
            tokens[distinct++] = tokens[i];
    out->tokens = tokens;
    out->token_count = distinct;
    return SW_OK;
}

/* Sites and things of every piece, one after another; a piece's own list stays
 * together, and `takes` indexes are moved along with it. */
static sw_status join_sites(const sw_fitouts *fitouts, const sw_piece *pieces, size_t count,
                            int slot, sw_value *out) {
    size_t most = 0;
    for (size_t i = 0; i < count; i++)
        most += pieces[i].values[slot].site_count * (size_t)pieces[i].count;
    sw_site *sites = SW_NEW(fitouts->arena, sw_site, most);
    if (sites == NULL)
        return SW_NO_MEMORY;
    size_t used = 0;
    for (size_t i = 0; i < count; i++)
        for (int n = 0; n < pieces[i].count; n++) {
            const sw_value *value = &pieces[i].values[slot];
            size_t base = used;
            for (size_t s = 0; s < value->site_count; s++) {
                sw_site *site = &sites[used++];
                *site = value->sites[s];
                site->part = pieces[i].part;
                sw_site_takes *takes = SW_NEW(fitouts->arena, sw_site_takes, site->takes_count);
                if (takes == NULL)
                    return SW_NO_MEMORY;
                for (size_t t = 0; t < site->takes_count; t++) {
                    takes[t] = site->takes[t];
                    takes[t].index += (int)base;
                }
                site->takes = takes;
            }
        }
    out->sites = sites;
    out->site_count = used;
    return SW_OK;
}

static sw_status join_things(const sw_fitouts *fitouts, const sw_piece *pieces, size_t count,
                             int slot, sw_value *out) {
    size_t most = 0;
    for (size_t i = 0; i < count; i++)
        most += pieces[i].values[slot].thing_count;
    sw_thing *things = SW_NEW(fitouts->arena, sw_thing, most);
    if (things == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < count; i++)
        for (size_t t = 0; t < pieces[i].values[slot].thing_count; t++) {
            things[out->thing_count] = pieces[i].values[slot].things[t];
            things[out->thing_count].part = pieces[i].part;
            things[out->thing_count++].count *= pieces[i].count;
        }
    out->things = things;
    return SW_OK;
}

static sw_status combine(const sw_fitouts *fitouts, const sw_fact *fact, const sw_piece *pieces,
                         size_t count, int slot, sw_value *out) {
    *out = (sw_value){.state = SW_KNOWN};
    for (size_t i = 0; i < count; i++)
        if (pieces[i].values[slot].state == SW_UNKNOWN)
            out->state = SW_UNKNOWN;
    if (out->state == SW_UNKNOWN) {
        combine_some(fact->combine, pieces, count, slot, out);
        return SW_OK;
    }
    if (count == 0 && fact->combine != SW_SUM && fact->combine != SW_JOINED) {
        out->state = SW_VOID;
        return SW_OK;
    }
    switch (fact->type) {
    case SW_NUMBER:
        combine_numbers(fact->combine, pieces, count, slot, out);
        return SW_OK;
    case SW_FLAG:
        combine_flags(fact->combine, pieces, count, slot, out);
        return SW_OK;
    case SW_SITES:
        return join_sites(fitouts, pieces, count, slot, out);
    case SW_THINGS:
        return join_things(fitouts, pieces, count, slot, out);
    default:
        return combine_tokens(fitouts, fact->combine, pieces, count, slot, out);
    }
}

static void derive(const sw_fitouts *fitouts, const sw_fact *fact, const sw_fitout *fitout,
                   sw_value *out) {
    sw_number number = sw_expr_value(fitouts, fact->is, fitout);
    *out = (sw_value){.state = number.state};
    if (number.state == SW_KNOWN && !sw_round(&out->milli, number.value * 1000.0))
        out->state = SW_UNKNOWN;
}

static size_t make_pieces(const sw_fitouts *fitouts, const sw_fitout *fitout, sw_piece *pieces) {
    size_t present = fitouts->scenario->machine_count[fitout->role], count = 0;
    for (size_t i = 0; i < present; i++)
        if (fitout->kept[i] > 0)
            make_piece(fitouts, fitout, fitouts->scenario->machine[fitout->role][i].part,
                       fitout->kept[i], true, &pieces[count++]);
    for (int i = 0; i < fitout->added_count; i++)
        make_piece(fitouts, fitout, fitout->added[i].part, fitout->added[i].count, false,
                   &pieces[count++]);
    return count;
}

sw_piece *sw_pieces_make(const sw_fitouts *fitouts, int role) {
    size_t most = fitouts->scenario->machine_count[role] + SW_KINDS_MOST;
    sw_piece *pieces = SW_NEW(fitouts->arena, sw_piece, most);
    for (size_t i = 0; i < most && pieces != NULL; i++) {
        pieces[i].values = SW_NEW(fitouts->arena, sw_value, (size_t)fitouts->slot_count[role]);
        if (pieces[i].values == NULL)
            return NULL;
    }
    return pieces;
}

sw_status sw_values_make(sw_fitouts *fitouts, sw_fitout *fitout, sw_piece *pieces) {
    const sw_catalog *catalog = fitouts->catalog;
    int role = fitout->role;
    sw_value *values = SW_NEW(fitouts->arena, sw_value, (size_t)fitouts->slot_count[role]);
    if (values == NULL)
        return SW_NO_MEMORY;
    sw_status status = SW_OK;
    size_t count = make_pieces(fitouts, fitout, pieces);
    fitout->values = values;
    for (size_t fact = 0; fact < catalog->fact_count && status == SW_OK; fact++) {
        int slot = fitouts->slot[role][fact];
        if (slot == SW_NONE)
            continue;
        if (catalog->facts[fact].derived_role != SW_NONE)
            derive(fitouts, &catalog->facts[fact], fitout, &values[slot]);
        else
            status = combine(fitouts, &catalog->facts[fact], pieces, count, slot, &values[slot]);
    }
    return status;
}
