/* The answer of `fits` as JSON: README.md lists the fields. */
#include "render/fits.h"

#include "render/answer_json.h"

static const char *const shapes[] = {
    [SW_SAME] = "same",     [SW_AMONG] = "among", [SW_WITHIN] = "within", [SW_SUPPLY] = "supply",
    [SW_UNLOCK] = "unlock", [SW_CLASH] = "clash", [SW_PLACE] = "place"};
static const char *const verdicts[] = {
    [SW_FITS] = "fits", [SW_FITS_UNKNOWN] = "unknown", [SW_FITS_REFUSED] = "refused"};
const char *const sw_fits_words[] = {
    [SW_SAYS_MOOT] = "moot",       [SW_SAYS_HOLDS] = "holds", [SW_SAYS_TODAY] = "today",
    [SW_SAYS_REFUSED] = "refused", [SW_SAYS_MIND] = "mind",   [SW_SAYS_UNKNOWN] = "unknown"};

static void add_piece(sw_writer *list, const sw_fits_piece *piece, bool with_kept) {
    sw_writer *one = sw_writer_object(list, NULL);
    sw_writer_text(one, "role", piece->role);
    sw_writer_text(one, "part", piece->part);
    sw_writer_text(one, "name", piece->name);
    sw_writer_integer(one, "count", piece->count);
    if (with_kept)
        sw_writer_bool(one, "kept", piece->kept);
}

static void add_rule(sw_writer *list, const sw_fits_rule *rule) {
    sw_writer *one = sw_writer_object(list, NULL);
    sw_writer_text(one, "rule", rule->rule);
    sw_writer_text(one, "name", rule->name);
    sw_writer_text(one, "level", rule->hard ? "hard" : "caution");
    sw_writer_text(one, "shape", shapes[rule->shape]);
    sw_writer_text(one, "verdict", sw_fits_words[rule->says]);
    if (sw_fits_measured(rule)) {
        sw_writer_millionths(one, "need", rule->need);
        sw_writer_millionths(one, "room", rule->room);
        if (rule->shape != SW_PLACE)
            sw_writer_text(one, "unit", rule->unit);
    }
    if (rule->left != NULL) {
        sw_writer_text(one, "left", rule->left);
        sw_writer_text(one, "right", rule->right);
    }
    if (rule->client != NULL) {
        sw_writer_text(one, "client", rule->client);
        sw_writer_text(one, "bench", rule->bench);
    }
    if (rule->unknown_fact == NULL)
        return;
    sw_writer *unknown = sw_writer_object(one, "unknown");
    sw_writer_text(unknown, "role", rule->unknown_role);
    sw_writer_text(unknown, "fact", rule->unknown_fact);
}

static void add_places(sw_writer *in, const sw_fits *fits) {
    sw_writer *places = sw_writer_object(in, "places");
    sw_writer_integer(places, "asked", fits->places_asked);
    sw_writer_integer(places, "left", fits->places_left);
    sw_writer_integer(places, "spare", fits->places_spare);
    sw_writer *list = sw_writer_array(places, "stand");
    for (size_t i = 0; i < fits->stand_count; i++) {
        const sw_fits_stand *stand = &fits->stands[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "kind", stand->kind);
        sw_writer_text(one, "size", stand->size);
        sw_writer_integer(one, "count", stand->count);
        sw_writer_text(one, "part", stand->part);
        sw_writer_text(one, "role", stand->role);
        sw_writer_text(one, "on_part", stand->on_part);
        sw_writer_text(one, "on_role", stand->on_role);
        sw_writer_text(one, "site", stand->site);
        if (stand->caution != NULL)
            sw_writer_text(one, "caution", stand->caution);
    }
}

void sw_json_fits(sw_writer *in, const sw_fits *fits) {
    sw_writer_text(in, "verdict", verdicts[fits->verdict]);
    sw_writer_bool(in, "unsettled", fits->unsettled);
    sw_json_stopped(in, fits->unsettled, fits->asked_to_stop);
    sw_writer *pieces = sw_writer_array(in, "pieces");
    for (size_t i = 0; i < fits->piece_count; i++)
        add_piece(pieces, &fits->pieces[i], true);
    sw_writer *out = sw_writer_array(in, "out");
    for (size_t i = 0; i < fits->out_count; i++)
        add_piece(out, &fits->out[i], false);
    sw_writer *tasks = sw_writer_array(in, "tasks");
    for (size_t i = 0; i < fits->task_count; i++) {
        sw_writer *one = sw_writer_object(tasks, NULL);
        sw_writer_text(one, "id", fits->tasks[i].id);
        sw_writer_text(one, "name", fits->tasks[i].name);
        sw_writer_text(one, "role", fits->tasks[i].role);
    }
    sw_writer *rules = sw_writer_array(in, "rules");
    for (size_t i = 0; i < fits->rule_count; i++)
        add_rule(rules, &fits->rules[i]);
    add_places(in, fits);
}

sw_status sw_render_fits_json(char **out, const sw_fits *fits) {
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_writer_integer(root, "schema", 1);
    sw_writer_text(root, "title", fits->title);
    sw_json_fits(root, fits);
    return sw_writer_finish(out, root);
}
