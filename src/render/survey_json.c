/* The machine as its dumps tell it, as JSON: README.md lists the fields. Nothing private. */
#include <stdlib.h>

#include "intake/survey.h"
#include "render/json_writer.h"

static void add_statement(sw_writer *in, const char *name, const sw_statement *of) {
    sw_writer *one = sw_writer_object(in, name);
    if (of->says == SW_SAYS_TEXT)
        sw_writer_text(one, "value", of->text);
    else if (of->says == SW_SAYS_FLAG)
        sw_writer_bool(one, "value", of->flag);
    else
        sw_writer_number(one, "value", (double)of->milli / 1000);
    sw_writer_text(one, "file", of->file);
    sw_writer_text(one, "place", of->place);
}

static void add_files(sw_writer *root, const sw_dumps *dumps) {
    sw_writer *files = sw_writer_array(root, "files");
    for (size_t f = 0; f < dumps->count; f++) {
        sw_writer *one = sw_writer_object(files, NULL);
        sw_writer_text(one, "file", dumps->files[f].name);
        sw_writer_text(
            one, "kind",
            dumps->files[f].kind == SW_DUMP_NONE ? NULL : sw_dump_kind_name(dumps->files[f].kind));
        sw_writer_integer(one, "statements", (int64_t)dumps->files[f].statements);
    }
}

static void add_faults(sw_writer *root, const sw_complaints *faults) {
    sw_writer *list = sw_writer_array(root, "faults");
    const sw_complaint *c;
    for (size_t i = 0; (c = sw_complaints_get(faults, i)) != NULL; i++) {
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "file", c->file);
        sw_writer_text(one, "place", c->place);
        sw_writer_text(one, "what", c->what);
        sw_writer_text(one, "why", c->why);
        sw_writer_text(one, "mend", c->mend);
    }
}

static void add_devices(sw_writer *root, const sw_survey *survey) {
    sw_writer *devices = sw_writer_array(root, "devices");
    for (size_t d = 0; d < survey->devices.count; d++) {
        const sw_device *device = &survey->devices.all[d];
        sw_writer *one = sw_writer_object(devices, NULL);
        sw_writer_text(one, "device", device->kind);
        sw_writer_text(one, "key", device->key);
        sw_writer *says = sw_writer_object(one, "says");
        for (size_t p = 0; p < device->count; p++) {
            const sw_settled *settled = &device->settled[p];
            sw_writer *property = sw_writer_object(says, settled->property);
            add_statement(property, "counts", settled->all[0]);
            sw_writer *others = sw_writer_array(property, "contradicts");
            for (size_t s = 1; settled->doubtful && s < settled->count; s++)
                if (sw_contradicts(survey->catalog->intake, settled->all[0], settled->all[s]))
                    add_statement(others, NULL, settled->all[s]);
        }
    }
}

static void add_pieces(sw_writer *root, const sw_survey *survey) {
    const sw_catalog *catalog = survey->catalog;
    sw_writer *pieces = sw_writer_array(root, "pieces");
    for (size_t p = 0; p < survey->piece_count; p++) {
        const sw_seen_piece *piece = &survey->pieces[p];
        sw_writer *one = sw_writer_object(pieces, NULL);
        sw_writer_text(one, "role", catalog->roles[piece->role].id);
        sw_writer_text(one, "part", piece->id);
        sw_writer_text(one, "name", piece->name);
        sw_writer_bool(one, "in_catalog", piece->part != SW_NONE);
        sw_writer_bool(one, "seen", piece->device != NULL);
        sw_writer_integer(one, "count", piece->count);
        sw_writer *choices = sw_writer_array(one, "choices");
        for (size_t c = 0; c < piece->choice_count; c++)
            sw_writer_text(choices, NULL, catalog->parts[piece->choices[c]].id);
        sw_writer_text(one, "nearest",
                       piece->nearest == SW_NONE ? NULL : catalog->parts[piece->nearest].id);
        sw_writer *doubts = sw_writer_array(one, "doubts");
        for (size_t d = 0; d < piece->doubt_count; d++)
            sw_writer_text(doubts, NULL, piece->doubts[d]);
        sw_writer_text(one, "health", piece->health == NULL ? NULL : piece->health->why);
    }
}

static void add_rest(sw_writer *root, const sw_survey *survey) {
    sw_writer *mixed = sw_writer_array(root, "mixed");
    for (size_t m = 0; m < survey->mixed_count; m++)
        sw_writer_text(mixed, NULL, survey->mixed[m]);
    sw_writer *left = sw_writer_array(root, "left_out");
    for (size_t l = 0; l < survey->left_count; l++) {
        sw_writer *one = sw_writer_object(left, NULL);
        sw_writer_text(one, "device", survey->left[l].device->kind);
        sw_writer_text(one, "key", survey->left[l].device->key);
        sw_writer_text(one, "why", survey->left[l].why);
        sw_writer_text(one, "health",
                       survey->left[l].health == NULL ? NULL : survey->left[l].health->why);
    }
    sw_writer *questions = sw_writer_array(root, "to_ask");
    for (size_t q = 0; q < survey->question_count; q++) {
        sw_writer *one = sw_writer_object(questions, NULL);
        sw_writer_text(one, "role", survey->catalog->roles[survey->questions[q]->role].id);
        sw_writer_text(one, "ask", survey->questions[q]->ask);
    }
    sw_writer_integer(root, "private_details", (int64_t)survey->dumps.statements.private_count);
}

sw_status sw_render_survey_json(char **out, const sw_survey *survey) {
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_writer_integer(root, "schema", 1);
    add_files(root, &survey->dumps);
    add_faults(root, survey->faults);
    add_devices(root, survey);
    add_pieces(root, survey);
    add_rest(root, survey);
    return sw_writer_finish(out, root);
}
