/* The catalog's words for the page, as JSON. */
#include "desk/page_words.h"

#include "check/interview.h"

static void add_uses(sw_writer *root, const sw_catalog *catalog) {
    sw_writer *uses = sw_writer_array(root, "uses");
    for (size_t i = 0; i < catalog->use_count; i++) {
        const sw_use *use = &catalog->uses[i];
        sw_writer *one = sw_writer_object(uses, NULL);
        sw_writer_text(one, "id", use->id);
        sw_writer_text(one, "name", use->name);
        sw_writer_text(one, "unit", use->unit);
        sw_writer *stages = sw_writer_array(one, "stages");
        for (size_t k = 0; k < use->stage_count; k++) {
            sw_writer *stage = sw_writer_object(stages, NULL);
            sw_writer_text(stage, "stage", use->stages[k].id);
            sw_writer_text(stage, "name", use->stages[k].name);
        }
    }
}

static void add_parts(sw_writer *root, const sw_catalog *catalog) {
    sw_writer *parts = sw_writer_array(root, "parts");
    for (size_t i = 0; i < catalog->part_count; i++) {
        sw_writer *one = sw_writer_object(parts, NULL);
        sw_writer_text(one, "id", catalog->parts[i].id);
        sw_writer_text(one, "name", catalog->parts[i].name);
    }
}

static void add_cautions(sw_writer *root, const sw_catalog *catalog) {
    sw_writer *hazards = sw_writer_array(root, "hazards");
    for (size_t i = 0; i < catalog->hazard_count; i++) {
        sw_writer *one = sw_writer_object(hazards, NULL);
        sw_writer_text(one, "id", catalog->hazards[i].id);
        sw_writer_text(one, "danger", catalog->hazards[i].danger);
        sw_writer_text(one, "habit", catalog->hazards[i].habit);
        sw_writer_text(one, "limit", catalog->hazards[i].limit);
    }
    sw_writer *asks = sw_writer_array(root, "asks");
    for (size_t i = 0; i < catalog->paper.ask_count; i++) {
        sw_writer *one = sw_writer_object(asks, NULL);
        sw_writer_text(one, "id", catalog->paper.asks[i].id);
        sw_writer_text(one, "words", catalog->paper.asks[i].words);
    }
}

static void add_scale(sw_writer *scales, const char *fact, int64_t most_milli) {
    sw_writer *one = sw_writer_object(scales, NULL);
    sw_writer_text(one, "fact", fact);
    sw_writer_number(one, "most", (double)most_milli / 1000);
}

/* How far a fact without a unit goes, as the criteria that read it say. */
static void add_scales(sw_writer *root, const sw_catalog *catalog) {
    sw_writer *scales = sw_writer_array(root, "scales");
    for (size_t c = 0; c < catalog->criterion_count; c++) {
        const sw_criterion *criterion = &catalog->criteria[c];
        for (size_t a = 0; a < criterion->aspect_count; a++)
            if (criterion->aspects[a].scale_milli > 0)
                add_scale(scales, catalog->facts[criterion->aspects[a].fact].name,
                          criterion->aspects[a].scale_milli);
        for (size_t f = 0; f < criterion->fact_count; f++)
            add_scale(scales, catalog->facts[criterion->facts[f].fact].name,
                      criterion->scale_milli);
    }
}

static void add_side(sw_writer *pair, const char *name, const sw_taste_side *side) {
    sw_writer *one = sw_writer_object(pair, name);
    sw_writer_text(one, "name", side->name);
    sw_writer *tokens = sw_writer_array(one, "tokens");
    for (size_t i = 0; i < side->token_count; i++)
        sw_writer_text(tokens, NULL, side->tokens[i]);
}

static void add_wishes(sw_writer *root, const sw_catalog *catalog) {
    const sw_interview_form *form = catalog->interview;
    sw_writer *swings = sw_writer_array(root, "swings"), *pairs = sw_writer_array(root, "pairs");
    if (form == NULL)
        return;
    for (size_t i = 0; i < form->swing_count; i++) {
        sw_writer *one = sw_writer_object(swings, NULL);
        sw_writer_text(one, "criterion", catalog->criteria[form->swings[i].criterion].id);
        sw_writer_text(one, "gain", form->swings[i].gain);
    }
    for (size_t i = 0; i < form->pair_count; i++) {
        sw_writer *one = sw_writer_object(pairs, NULL);
        sw_writer_text(one, "fact", catalog->facts[form->pairs[i].fact].name);
        add_side(one, "a", &form->pairs[i].sides[0]);
        add_side(one, "b", &form->pairs[i].sides[1]);
    }
}

void sw_add_page_words(sw_writer *root, const sw_catalog *catalog) {
    add_uses(root, catalog);
    add_parts(root, catalog);
    add_cautions(root, catalog);
    add_wishes(root, catalog);
    add_scales(root, catalog);
}
