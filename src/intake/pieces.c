/* Devices become pieces: by the first of intake.json's entries whose tests hold. */
#include "intake/survey.h"
#include "base/letters.h"

#include <stdlib.h>
#include <string.h>

#include "intake/match.h"

#define PIECE_LIMIT 16 /* of one part, and entries of a role: FORMATS.md section 10 */

typedef struct making {
    sw_survey *survey;
    const sw_intake_form *form;
    sw_seen_piece *pieces;
    sw_left_device *left;
    int *found; /* room for all parts */
} making;

/* ---- which part it is -------------------------------------------------------------------- */

static const char *text_of(const sw_device *device, const char *property) {
    const sw_settled *settled = property == NULL ? NULL : sw_device_says(device, property);
    return settled != NULL && settled->all[0]->says == SW_SAYS_TEXT ? settled->all[0]->text : NULL;
}

/* The first property that names it decides; a further one only where that names no part. */
static bool find_part(making *in, sw_seen_piece *out, const sw_piece_form *form) {
    const sw_catalog *catalog = in->survey->catalog;
    const char *maker = text_of(out->device, form->maker);
    size_t count = 0;
    for (size_t n = 0; n < form->name_count; n++) {
        const char *text = text_of(out->device, form->names[n]);
        if (text == NULL)
            continue;
        if (out->named == NULL)
            out->named = sw_device_says(out->device, form->names[n])->all[0];
        if (count == 0)
            count = sw_parts_named(catalog, out->role, maker, text, in->found, 0);
    }
    if (count == 1)
        out->part = in->found[0];
    if (count < 2)
        return true;
    int *choices = SW_NEW(in->survey->arena, int, count);
    if (choices == NULL)
        return false;
    memcpy(choices, in->found, count * sizeof *choices);
    out->choices = choices;
    out->choice_count = count;
    return true;
}

static bool begins_with_word(const char *text, const char *word) {
    for (; *word != '\0'; text++, word++)
        if (sw_small_letter(*text) != sw_small_letter(*word))
            return false;
    return *text == '\0' || *text == ' ';
}

static bool find_nearest(making *in, sw_seen_piece *piece) {
    const sw_catalog *catalog = in->survey->catalog;
    const char **names = SW_NEW(in->survey->arena, const char *, catalog->part_count);
    size_t count = 0;
    if (names == NULL)
        return false;
    for (size_t p = 0; p < catalog->part_count; p++)
        if (catalog->parts[p].role == piece->role) {
            names[count] = catalog->parts[p].name;
            in->found[count++] = (int)p;
        }
    const char *near = sw_nearest(piece->named->text, names, count);
    for (size_t n = 0; n < count && near == NULL; n++)
        if (begins_with_word(piece->named->text, names[n]))
            near = names[n];
    for (size_t n = 0; n < count && near != NULL && piece->nearest == SW_NONE; n++)
        if (names[n] == near)
            piece->nearest = in->found[n];
    return true;
}

/* "MAKER NAME", or only what the role is called. */
static const char *name_of(making *in, const sw_seen_piece *piece, const sw_piece_form *form) {
    sw_arena *arena = in->survey->arena;
    const char *maker = text_of(piece->device, form->maker);
    if (piece->named == NULL)
        return sw_arena_format(arena, "%s %s (seen, not named)",
                               in->survey->catalog->roles[piece->role].name, piece->device->key);
    if (maker == NULL || begins_with_word(piece->named->text, maker))
        return piece->named->text;
    return sw_arena_format(arena, "%s %s", maker, piece->named->text);
}

static const char *own_id(making *in, const char *word, int role) {
    const sw_survey *survey = in->survey;
    size_t before = 0;
    for (size_t p = 0; p < survey->piece_count; p++)
        before +=
            in->pieces[p].role == role && (in->pieces[p].part == SW_NONE || in->pieces[p].copies);
    if (before == 0)
        return sw_arena_format(survey->arena, "%s-%s", word, survey->catalog->roles[role].id);
    return sw_arena_format(survey->arena, "%s-%s-%zu", word, survey->catalog->roles[role].id,
                           before + 1);
}

/* ---- equal pieces -------------------------------------------------------------------------- */

static bool same_facts(const sw_seen_piece *a, const sw_seen_piece *b) {
    if (a->fact_count != b->fact_count)
        return false;
    for (size_t f = 0; f < a->fact_count; f++) {
        const sw_value *x = &a->facts[f].value, *y = &b->facts[f].value;
        if (a->facts[f].fact != b->facts[f].fact || x->milli != y->milli ||
            x->token_count != y->token_count)
            return false;
        for (size_t t = 0; t < x->token_count; t++)
            if (strcmp(x->tokens[t], y->tokens[t]) != 0)
                return false;
    }
    return true;
}

static bool same_piece(const sw_seen_piece *a, const sw_seen_piece *b) {
    return a->role == b->role && a->part == b->part && a->health == b->health &&
           (a->part != SW_NONE || strcmp(a->name, b->name) == 0) && same_facts(a, b);
}

static size_t entries_of(const making *in, int role) {
    size_t count = 0;
    for (size_t p = 0; p < in->survey->piece_count; p++)
        count += in->pieces[p].role == role;
    return count;
}

/* A part stands at most once in a role: a second piece of it, that differs, brings its facts. */
static bool stands_already(const making *in, const sw_seen_piece *piece) {
    for (size_t p = 0; p < in->survey->piece_count; p++)
        if (piece->part != SW_NONE && in->pieces[p].part == piece->part &&
            in->pieces[p].role == piece->role)
            return true;
    return false;
}

static const sw_health_form *health_of(const making *in, const sw_device *device) {
    for (size_t h = 0; h < in->form->health_count; h++)
        if (strcmp(in->form->health[h].device, device->kind) == 0 &&
            sw_tests_hold_of_any(&in->form->health[h].when, device))
            return &in->form->health[h];
    return NULL;
}

static void leave(making *in, const sw_device *device, const char *why) {
    in->left[in->survey->left_count++] = (sw_left_device){device, why, health_of(in, device)};
}

/* What is in doubt of an equal piece is told of the entry, with the place of that piece. */
static bool add_doubts(making *in, sw_seen_piece *to, const sw_seen_piece *from) {
    const char **all = SW_NEW(in->survey->arena, const char *, to->doubt_count + from->doubt_count);
    if (all == NULL)
        return false;
    if (to->doubt_count > 0)
        memcpy(all, to->doubts, to->doubt_count * sizeof *all);
    size_t count = to->doubt_count;
    for (size_t d = 0; d < from->doubt_count; d++) {
        bool told = false;
        for (size_t t = 0; t < to->doubt_count; t++)
            told |= strcmp(to->doubts[t], from->doubts[d]) == 0;
        if (told)
            continue;
        all[count] =
            sw_arena_format(in->survey->arena, "%s: %s", from->device->key, from->doubts[d]);
        if (all[count++] == NULL)
            return false;
    }
    to->doubts = all;
    to->doubt_count = count;
    return true;
}

static bool add_piece(making *in, sw_seen_piece *piece) {
    sw_survey *survey = in->survey;
    for (size_t p = 0; p < survey->piece_count; p++)
        if (same_piece(&in->pieces[p], piece)) {
            if (in->pieces[p].count == PIECE_LIMIT) {
                leave(in, piece->device, "a scenario holds at most 16 pieces of one kind");
                return true;
            }
            in->pieces[p].count++;
            return add_doubts(in, &in->pieces[p], piece);
        }
    if (entries_of(in, piece->role) >= PIECE_LIMIT) {
        leave(in, piece->device, "a scenario holds at most 16 kinds of piece in one role");
        return true;
    }
    piece->copies = stands_already(in, piece);
    piece->id = piece->part != SW_NONE && !piece->copies ? survey->catalog->parts[piece->part].id
                                                         : own_id(in, "seen", piece->role);
    in->pieces[survey->piece_count++] = *piece;
    return piece->id != NULL;
}

/* ---- one device ------------------------------------------------------------------------------ */

static bool make_piece(making *in, const sw_device *device, const sw_piece_form *form) {
    sw_survey *survey = in->survey;
    sw_seen_piece piece = {.role = form->role, .device = device, .part = SW_NONE, .count = 1};
    sw_doubts doubts = {.arena = survey->arena};
    bool good = find_part(in, &piece, form);
    if (good && piece.choice_count > 0)
        sw_add_doubt(&doubts, "its name could mean %zu parts of the catalog", piece.choice_count);
    for (size_t d = 0; d < in->form->doubt_count; d++)
        if (strcmp(in->form->doubts[d].device, device->kind) == 0 &&
            sw_tests_hold(&in->form->doubts[d].when, device))
            sw_add_doubt(&doubts, "%s", in->form->doubts[d].says);
    sw_device_doubts(&doubts, survey, device);
    good = good && sw_piece_facts(&piece, survey, form, &doubts);
    const char **kept = good ? SW_NEW(survey->arena, const char *, doubts.count) : NULL;
    if (kept != NULL && doubts.count > 0)
        memcpy(kept, doubts.all, doubts.count * sizeof *kept);
    piece.doubts = kept;
    piece.doubt_count = doubts.count;
    good = kept != NULL && !doubts.no_memory;
    free(doubts.all);
    piece.health = health_of(in, device);
    piece.nearest = SW_NONE;
    if (good && piece.part == SW_NONE && piece.choice_count == 0 && piece.named != NULL)
        good = find_nearest(in, &piece);
    piece.name =
        piece.part != SW_NONE ? survey->catalog->parts[piece.part].name : name_of(in, &piece, form);
    return good && piece.name != NULL && add_piece(in, &piece);
}

static bool take_device(making *in, const sw_device *device) {
    const sw_intake_form *form = in->form;
    for (size_t l = 0; l < form->left_out_count; l++)
        if (strcmp(form->left_out[l].device, device->kind) == 0 &&
            sw_tests_hold(&form->left_out[l].when, device)) {
            leave(in, device, form->left_out[l].why);
            return true;
        }
    for (size_t p = 0; p < form->piece_count; p++)
        if (strcmp(form->pieces[p].device, device->kind) == 0 &&
            sw_tests_hold(&form->pieces[p].when, device))
            return make_piece(in, device, &form->pieces[p]);
    leave(in, device, NULL);
    return true;
}

/* ---- what nobody looked at ---------------------------------------------------------------------
 */

static bool add_unseen(making *in, int role) {
    sw_survey *survey = in->survey;
    const sw_role *is = &survey->catalog->roles[role];
    sw_seen_piece piece = {.role = role, .part = SW_NONE, .nearest = SW_NONE, .count = is->least};
    piece.id = sw_arena_format(survey->arena, "unseen-%s", is->id);
    piece.name = sw_arena_format(survey->arena, "%s (not looked at yet)", is->name);
    in->pieces[survey->piece_count++] = piece;
    return piece.id != NULL && piece.name != NULL;
}

static bool add_questions(making *in) {
    sw_survey *survey = in->survey;
    const sw_intake_question **questions =
        SW_NEW(survey->arena, const sw_intake_question *, in->form->question_count);
    if (questions == NULL)
        return false;
    for (size_t q = 0; q < in->form->question_count; q++) {
        const sw_intake_question *question = &in->form->questions[q];
        bool seen = false, unnamed = false;
        for (size_t p = 0; p < survey->piece_count; p++)
            if (in->pieces[p].role == question->role) {
                seen |= in->pieces[p].device != NULL;
                unnamed |= in->pieces[p].device != NULL && in->pieces[p].named == NULL;
            }
        if (question->unseen ? !seen || unnamed : seen)
            questions[survey->question_count++] = question;
    }
    survey->questions = questions;
    return true;
}

sw_status sw_make_pieces(sw_survey *survey) {
    const sw_catalog *catalog = survey->catalog;
    static const sw_intake_form nothing = {.rank = {0}};
    making in = {
        .survey = survey,
        .form = catalog->intake != NULL ? catalog->intake : &nothing,
        .pieces = SW_NEW(survey->arena, sw_seen_piece, survey->devices.count + catalog->role_count),
        .left = SW_NEW(survey->arena, sw_left_device, survey->devices.count),
        .found = SW_NEW(survey->arena, int, catalog->part_count)};
    bool good = in.pieces != NULL && in.left != NULL && in.found != NULL;
    survey->pieces = in.pieces;
    survey->left = in.left;
    for (size_t d = 0; d < survey->devices.count && good; d++)
        good = take_device(&in, &survey->devices.all[d]);
    for (size_t r = 0; r < catalog->role_count && good; r++)
        if (catalog->roles[r].least > 0 && entries_of(&in, (int)r) == 0)
            good = add_unseen(&in, (int)r);
    return good && add_questions(&in) ? SW_OK : SW_NO_MEMORY;
}
