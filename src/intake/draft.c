/* The draft of a scenario, and the job card with what is private. */
#include "intake/survey.h"

#include <stdlib.h>
#include <string.h>

#include "read/json_text.h"

#define NOTE_BYTES 2000

static const char *const conditions[] = {"good", "worn", "failing", "unproven"};

/* ---- values ------------------------------------------------------------------------------ */

static void put_tokens(sw_sketch *in, const char *name, const sw_value *value) {
    sw_sketch *list = sw_sketch_array(in, name);
    for (size_t t = 0; t < value->token_count; t++)
        sw_sketch_text(list, NULL, value->tokens[t]);
}

static void put_milli(sw_sketch *in, const char *name, int64_t milli) {
    if (milli >= 0)
        sw_sketch_milli(in, name, milli);
}

static void put_site(sw_sketch *in, const sw_site *site) {
    sw_sketch_text(in, "site", site->site);
    sw_sketch_text(in, "kind", site->kind);
    sw_sketch *sizes = sw_sketch_array(in, "sizes");
    for (size_t s = 0; s < site->size_count; s++)
        sw_sketch_text(sizes, NULL, site->sizes[s]);
    sw_sketch_whole(in, "count", site->count);
    put_milli(in, "depth_mm", site->depth_milli);
    put_milli(in, "reach_mm", site->reach_milli);
    if (site->side != NULL)
        sw_sketch_text(in, "side", site->side);
    sw_sketch *takes = site->takes_count > 0 ? sw_sketch_array(in, "takes") : NULL;
    for (size_t t = 0; t < site->takes_count; t++) {
        sw_sketch *taken = sw_sketch_object(takes, NULL);
        sw_sketch_text(taken, "site", site->takes[t].site);
        sw_sketch_whole(taken, "count", site->takes[t].count);
    }
    if (site->caution != NULL)
        sw_sketch_text(in, "caution", site->caution);
}

static void put_thing(sw_sketch *in, const sw_thing *thing) {
    sw_sketch_text(in, "kind", thing->kind);
    sw_sketch_text(in, "size", thing->size);
    sw_sketch_whole(in, "count", thing->count);
    put_milli(in, "depth_mm", thing->depth_milli);
    put_milli(in, "reach_mm", thing->reach_milli);
    if (thing->side != NULL)
        sw_sketch_text(in, "side", thing->side);
    put_milli(in, "air_m3_h", thing->air_milli);
    put_milli(in, "stall_pa", thing->stall_milli);
    if (thing->blows != SW_BLOWS_UNSTATED)
        sw_sketch_text(in, "blows", thing->blows == SW_BLOWS_IN ? "in" : "out");
}

static void put_value(sw_sketch *in, const sw_fact *fact, const sw_value *value) {
    sw_sketch *list = NULL;
    switch (fact->type) {
    case SW_NUMBER:
        sw_sketch_milli(in, fact->name, value->milli);
        return;
    case SW_FLAG:
        sw_sketch_truth(in, fact->name, value->milli != 0);
        return;
    case SW_TOKEN:
        sw_sketch_text(in, fact->name, value->tokens[0]);
        return;
    case SW_LIST:
        put_tokens(in, fact->name, value);
        return;
    case SW_SITES:
        list = sw_sketch_array(in, fact->name);
        for (size_t s = 0; s < value->site_count; s++)
            put_site(sw_sketch_object(list, NULL), &value->sites[s]);
        return;
    case SW_THINGS:
        list = sw_sketch_array(in, fact->name);
        for (size_t t = 0; t < value->thing_count; t++)
            put_thing(sw_sketch_object(list, NULL), &value->things[t]);
        return;
    }
}

static void put_part_facts(sw_sketch *in, const sw_catalog *catalog, const sw_part *part) {
    for (size_t f = 0; f < catalog->fact_count; f++) {
        const sw_fact *fact = &catalog->facts[f];
        if (part->values[f].state == SW_KNOWN && fact->derived_role == SW_NONE && !fact->built_in)
            put_value(in, fact, &part->values[f]);
    }
}

/* ---- where it stands ------------------------------------------------------------------------- */

static void tell_place(sw_text *note, const char *what, const sw_statement *at) {
    sw_text_addf(note, "%s%s %s, %s", note->length > 0 ? "; " : "Seen: ", what, at->file,
                 at->place);
}

/* What does not fit is cut at a whole character: the report has all of it. */
static void put_note(sw_sketch *in, const sw_survey *survey, const sw_seen_piece *piece) {
    sw_text note = {0};
    if (piece->named != NULL)
        tell_place(&note, "name", piece->named);
    for (size_t f = 0; f < piece->fact_count; f++)
        if (piece->facts[f].from_count > 0)
            tell_place(&note, survey->catalog->facts[piece->facts[f].fact].name,
                       piece->facts[f].from[0]);
    for (size_t d = 0; d < piece->doubt_count; d++)
        sw_text_addf(&note, "%s%s",
                     note.length == 0 ? "In doubt: "
                     : d == 0         ? ". In doubt: "
                                      : "; ",
                     piece->doubts[d]);
    if (note.length > NOTE_BYTES) {
        size_t end = NOTE_BYTES - 3;
        while (end > 0 && ((unsigned char)note.bytes[end] & 0xc0) == 0x80)
            end--;
        memcpy(note.bytes + end, "...", 4);
    }
    if (note.length > 0 && !note.failed)
        sw_sketch_text(in, "note", note.bytes);
    sw_text_free(&note);
}

/* ---- the machine ------------------------------------------------------------------------------
 */

static void put_piece(sw_sketch *in, const sw_survey *survey, const sw_seen_piece *piece) {
    const sw_catalog *catalog = survey->catalog;
    bool own = piece->part == SW_NONE || piece->copies;
    sw_sketch_text(in, "part", piece->id);
    if (own)
        sw_sketch_text(in, "name", piece->name);
    if (piece->count > 1)
        sw_sketch_whole(in, "count", piece->count);
    if (piece->health != NULL)
        sw_sketch_text(in, "condition", conditions[piece->health->condition]);
    sw_sketch *facts = own || piece->fact_count > 0 ? sw_sketch_object(in, "facts") : NULL;
    if (piece->copies)
        put_part_facts(facts, catalog, &catalog->parts[piece->part]);
    for (size_t f = 0; f < piece->fact_count; f++)
        put_value(facts, &catalog->facts[piece->facts[f].fact], &piece->facts[f].value);
    put_note(in, survey, piece);
}

static void put_machine(sw_sketch *root, const sw_survey *survey) {
    sw_sketch *machine = sw_sketch_object(root, "machine");
    for (size_t r = 0; r < survey->catalog->role_count; r++) {
        sw_sketch *list = NULL;
        for (size_t p = 0; p < survey->piece_count; p++) {
            if (survey->pieces[p].role != (int)r)
                continue;
            if (list == NULL)
                list = sw_sketch_array(machine, survey->catalog->roles[r].id);
            put_piece(sw_sketch_object(list, NULL), survey, &survey->pieces[p]);
        }
    }
}

static void put_musts(sw_sketch *root, const sw_survey *survey) {
    sw_sketch *musts = NULL;
    for (size_t p = 0; p < survey->piece_count; p++) {
        const sw_seen_piece *piece = &survey->pieces[p];
        if (piece->health == NULL || !piece->health->must)
            continue;
        if (musts == NULL)
            musts = sw_sketch_array(root, "musts");
        sw_sketch *must = sw_sketch_object(musts, NULL);
        const char *id = sw_arena_format(survey->arena, "ailing-%.56s", piece->id);
        sw_sketch_text(must, "id", id);
        sw_sketch_text(must, "replace", piece->id);
        sw_sketch_text(must, "why", piece->health->why);
    }
}

static void put_questions(sw_sketch *root, const sw_survey *survey) {
    sw_sketch *list = survey->question_count > 0 ? sw_sketch_array(root, "to_ask") : NULL;
    for (size_t q = 0; q < survey->question_count; q++) {
        sw_sketch *question = sw_sketch_object(list, NULL);
        const sw_intake_question *is = survey->questions[q];
        sw_sketch_text(question, "role", survey->catalog->roles[is->role].id);
        sw_sketch_text(question, "ask", is->ask);
    }
}

static sw_status keep_text(const char **out, sw_arena *arena, const sw_sketch *root) {
    char *text = NULL;
    sw_status status = sw_sketch_write(&text, root);
    if (status == SW_OK) {
        *out = sw_arena_copy(arena, text);
        status = *out == NULL ? SW_NO_MEMORY : SW_OK;
    }
    free(text);
    return status;
}

static void put_beginning(sw_sketch *root, const sw_survey *survey) {
    const sw_catalog *catalog = survey->catalog;
    const sw_beginning *begins = catalog->intake != NULL ? &catalog->intake->begins : NULL;
    if (begins != NULL && begins->has_labour) {
        const char *rate =
            sw_money_text(survey->arena, begins->labour_per_hour, catalog->currency_digits);
        sw_sketch_text(sw_sketch_object(root, "labour"), "rate_per_hour", rate);
    }
    if (begins == NULL || !begins->has_tax)
        return;
    sw_sketch *tax = sw_sketch_object(root, "tax");
    sw_sketch_milli(tax, "percent", begins->tax.percent_milli);
    sw_sketch_text(tax, "prices", begins->tax.prices == SW_PRICES_WITH_TAX ? "with" : "without");
    sw_sketch_text(tax, "round", begins->tax.rounding == SW_HALF_UP ? "half-up" : "half-even");
    sw_sketch_text(tax, "per", begins->tax.per_invoice ? "invoice" : "line");
}

sw_status sw_make_draft(sw_survey *survey, const char *catalog, const char *date) {
    sw_sketch *root = sw_sketch_new(survey->arena);
    sw_sketch_whole(root, "schema", 1);
    const char *title = date == NULL
                            ? "The machine looked over"
                            : sw_arena_format(survey->arena, "The machine looked over on %s", date);
    sw_sketch_text(root, "title", title);
    sw_sketch_text(root, "catalog", catalog);
    sw_sketch_text(root, "currency", survey->catalog->currency);
    if (date != NULL)
        sw_sketch_text(root, "date", date);
    put_machine(root, survey);
    put_musts(root, survey);
    put_beginning(root, survey);
    put_questions(root, survey);
    return keep_text(&survey->draft, survey->arena, root);
}

sw_status sw_make_card(sw_survey *survey) {
    const sw_statements *list = &survey->dumps.statements;
    sw_sketch *root = sw_sketch_new(survey->arena);
    sw_sketch_whole(root, "schema", 1);
    sw_sketch *privates = sw_sketch_array(root, "private");
    for (size_t p = 0; p < list->private_count; p++) {
        sw_sketch *one = sw_sketch_object(privates, NULL);
        sw_sketch_text(one, "device", list->privates[p].device);
        sw_sketch_text(one, "kind", list->privates[p].kind);
        sw_sketch_text(one, "value", list->privates[p].value);
        sw_sketch_text(one, "file", list->privates[p].file);
    }
    return keep_text(&survey->card, survey->arena, root);
}
