/* Facts of a piece out of what its device says. */
#include "intake/survey.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void sw_add_doubt(sw_doubts *doubts, const char *format, ...) {
    va_list arguments, again;
    va_start(arguments, format);
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    char *text = length < 0 ? NULL : SW_NEW(doubts->arena, char, (size_t)length + 1);
    if (text == NULL || !SW_GROW(doubts->all, doubts->room, doubts->count)) {
        doubts->no_memory = true;
    } else {
        vsnprintf(text, (size_t)length + 1, format, again);
        doubts->all[doubts->count++] = text;
    }
    va_end(again);
}

const char *sw_value_shown(sw_arena *arena, const sw_fact *fact, const sw_value *value) {
    if (value->state != SW_KNOWN)
        return "not known";
    if (fact->type == SW_FLAG)
        return value->milli != 0 ? "yes" : "no";
    if (fact->type == SW_NUMBER)
        return sw_milli_exact(arena, value->milli);
    sw_text text = {0};
    for (size_t i = 0; i < value->token_count; i++)
        sw_text_addf(&text, "%s%s", i > 0 ? ", " : "", value->tokens[i]);
    const char *shown =
        text.failed ? NULL : sw_arena_copy(arena, text.bytes == NULL ? "" : text.bytes);
    sw_text_free(&text);
    return shown;
}

void sw_device_doubts(sw_doubts *doubts, const sw_survey *survey, const sw_device *device) {
    for (size_t i = 0; i < device->count; i++) {
        const sw_settled *at = &device->settled[i];
        for (size_t s = 1; at->doubtful && s < at->count; s++) {
            if (!sw_contradicts(survey->catalog->intake, at->all[0], at->all[s]))
                continue;
            const char *told = sw_contradiction_told(doubts->arena, at->all[0], at->all[s]);
            doubts->no_memory |= told == NULL;
            if (told != NULL)
                sw_add_doubt(doubts, "%s", told);
        }
    }
}

/* ---- making one --------------------------------------------------------------------------- */

/* The device whose properties a fact reads: the piece's own, or the only one of another kind. */
static const sw_device *source_of(const sw_survey *survey, const sw_piece_fact *form,
                                  const sw_device *own) {
    const sw_device *only = NULL;
    if (form->device == NULL)
        return own;
    for (size_t i = 0; i < survey->devices.count; i++) {
        if (strcmp(survey->devices.all[i].kind, form->device) != 0)
            continue;
        if (only != NULL)
            return NULL;
        only = &survey->devices.all[i];
    }
    return only;
}

static bool all_said(sw_seen_fact *out, sw_arena *arena, const sw_piece_fact *form,
                     const sw_device *device, bool *no_memory) {
    const sw_statement **from = SW_NEW(arena, const sw_statement *, form->from_count);
    if (from == NULL) {
        *no_memory = true;
        return false;
    }
    for (size_t i = 0; i < form->from_count; i++) {
        const sw_settled *settled = sw_device_says(device, form->from[i]);
        if (settled == NULL)
            return false;
        from[i] = settled->all[0];
    }
    out->from = from;
    out->from_count = form->from_count;
    return true;
}

static bool make_number(int64_t *out, const sw_piece_fact *form, const sw_seen_fact *seen) {
    double number = form->made == SW_MADE_DIAGONAL ? 0 : 1;
    for (size_t i = 0; i < seen->from_count; i++) {
        double one = (double)seen->from[i]->milli / 1000;
        if (form->made == SW_MADE_DIAGONAL)
            number += one * one;
        else
            number *= one;
    }
    if (form->made == SW_MADE_DIAGONAL)
        number = sqrt(number);
    for (size_t i = 0; i < form->per_count; i++)
        number /= (double)form->per[i] / 1000;
    return sw_round_to(out, number, form->decimals);
}

static bool make_word(sw_value *out, sw_arena *arena, const sw_piece_fact *form, const char *text,
                      bool *no_memory) {
    for (size_t i = 0; i < form->word_count; i++) {
        if (strcmp(form->words[i].from, text) != 0)
            continue;
        const char **tokens = SW_NEW(arena, const char *, 1);
        if (tokens == NULL) {
            *no_memory = true;
            return false;
        }
        tokens[0] = form->words[i].to;
        *out = (sw_value){.state = SW_KNOWN, .tokens = tokens, .token_count = 1};
        return true;
    }
    return false;
}

/* False: there is no such fact here. */
static bool make_fact(sw_seen_fact *out, const sw_survey *survey, const sw_piece_fact *form,
                      const sw_device *own, sw_doubts *doubts) {
    const sw_fact *fact = &survey->catalog->facts[form->fact];
    *out = (sw_seen_fact){.fact = form->fact, .of_piece = form->of_piece};
    if (!sw_tests_hold(&form->when, own))
        return false;
    if (form->made == SW_MADE_STATED) {
        out->value = form->value;
        return true;
    }
    const sw_device *device = source_of(survey, form, own);
    if (device == NULL || !all_said(out, survey->arena, form, device, &doubts->no_memory))
        return false;
    const sw_statement *first = out->from[0];
    out->value.state = SW_KNOWN;
    if (form->made == SW_MADE_WORD) {
        if (make_word(&out->value, survey->arena, form, first->text, &doubts->no_memory))
            return true;
        sw_add_doubt(doubts, "%s: \"%s\" (%s, %s) is a word that intake.json does not list",
                     fact->name, first->text, first->file, first->place);
        return false;
    }
    if (fact->type == SW_FLAG) {
        out->value.milli = first->flag ? 1000 : 0;
        return true;
    }
    if (make_number(&out->value.milli, form, out) && out->value.milli >= fact->least_milli &&
        out->value.milli <= fact->most_milli)
        return true;
    const char *said = sw_statement_value(survey->arena, first);
    if (said == NULL)
        doubts->no_memory = true;
    else
        sw_add_doubt(doubts, "%s: \"%s\" (%s, %s) makes a number that the fact does not allow",
                     fact->name, said, first->file, first->place);
    return false;
}

/* ---- against the catalog -------------------------------------------------------------------- */

static bool same_value(const sw_value *a, const sw_value *b) {
    if (a->milli != b->milli || a->token_count != b->token_count)
        return false;
    for (size_t i = 0; i < a->token_count; i++)
        if (strcmp(a->tokens[i], b->tokens[i]) != 0)
            return false;
    return true;
}

static void compare_with_catalog(const sw_survey *survey, const sw_seen_piece *piece,
                                 const sw_seen_fact *seen, sw_doubts *doubts) {
    const sw_fact *fact = &survey->catalog->facts[seen->fact];
    const sw_value *is = &survey->catalog->parts[piece->part].values[seen->fact];
    if (is->state != SW_KNOWN || same_value(is, &seen->value))
        return;
    const char *kept = sw_value_shown(survey->arena, fact, is);
    const char *told = sw_value_shown(survey->arena, fact, &seen->value);
    if (kept == NULL || told == NULL)
        doubts->no_memory = true;
    else if (seen->from_count == 0)
        sw_add_doubt(doubts, "%s: the catalog has %s for this part, intake.json %s", fact->name,
                     kept, told);
    else
        sw_add_doubt(doubts, "%s: the catalog has %s for this part, the dumps %s (%s, %s)",
                     fact->name, kept, told, seen->from[0]->file, seen->from[0]->place);
}

bool sw_piece_facts(sw_seen_piece *out, sw_survey *survey, const sw_piece_form *form,
                    sw_doubts *doubts) {
    sw_seen_fact *facts = SW_NEW(survey->arena, sw_seen_fact, form->fact_count);
    if (facts == NULL)
        return false;
    out->facts = facts;
    for (size_t f = 0; f < form->fact_count; f++) {
        sw_seen_fact *seen = &facts[out->fact_count];
        bool stated = false;
        for (size_t before = 0; before < out->fact_count; before++)
            stated |= facts[before].fact == form->facts[f].fact;
        if (stated || !make_fact(seen, survey, &form->facts[f], out->device, doubts))
            continue;
        if (out->part != SW_NONE && !seen->of_piece)
            compare_with_catalog(survey, out, seen, doubts);
        else
            out->fact_count++;
    }
    return !doubts->no_memory;
}
