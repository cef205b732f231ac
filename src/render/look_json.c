/* `look --json`: README.md lists the fields. */
#include "render/answer_json.h"
#include "render/json_writer.h"
#include "render/look.h"

static const char *const kind_words[] = {[SW_LIMITS] = "limits",
                                         [SW_LOUD] = "loud",
                                         [SW_NEAR_ITS_LIMIT] = "near-its-limit",
                                         [SW_SET_WRONGLY] = "set-wrong",
                                         [SW_WORN_OUT] = "worn"};

const char *sw_finding_kind_word(sw_finding_kind kind) { return kind_words[kind]; }

static void write_mend(sw_writer *in, const sw_look *look, const sw_look_mend *mend) {
    static const char *const hows[] = {"task", "replace", "do"};
    sw_writer *one = sw_writer_object(in, NULL);
    sw_writer_text(one, "how", hows[mend->how]);
    if (mend->how == SW_MEND_TASK)
        sw_writer_text(one, "task", mend->task);
    if (mend->how == SW_MEND_REPLACE) {
        sw_writer_text(one, "part", mend->part_count > 0 ? mend->parts[0].part : NULL);
        sw_writer_text(one, "seller", mend->part_count > 0 ? mend->parts[0].seller : NULL);
        sw_writer *parts = sw_writer_array(one, "parts");
        for (size_t p = 0; p < mend->part_count; p++) {
            sw_writer *part = sw_writer_object(parts, NULL);
            sw_writer_text(part, "part", mend->parts[p].part);
            sw_writer_integer(part, "count", mend->parts[p].count);
            sw_writer_text(part, "seller", mend->parts[p].seller);
        }
        sw_writer_bool(one, "some_stay", mend->some_stay);
    }
    if (mend->how == SW_MEND_DO)
        sw_writer_text(one, "text", mend->text);
    sw_writer_bool(one, "offered", mend->offered);
    if (!mend->offered)
        return;
    sw_writer_milli(one, "points", mend->points, 3);
    sw_writer_money(one, "cost", mend->cost, look->answer->digits);
    sw_writer_integer(one, "minutes", mend->minutes);
    sw_writer_number(one, "points_per_minute",
                     (double)mend->points / 1000 / (double)(mend->minutes > 0 ? mend->minutes : 1));
    sw_writer_bool(one, "first", mend->first);
}

static void write_findings(sw_writer *root, const sw_look *look) {
    sw_writer *list = sw_writer_array(root, "findings");
    for (size_t i = 0; i < look->finding_count; i++) {
        const sw_look_finding *finding = &look->findings[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "finding", finding->id);
        sw_writer_text(one, "kind", sw_finding_kind_word(finding->kind));
        sw_writer_bool(one, "must", finding->must);
        sw_writer_text(one, "about", finding->about);
        sw_writer_text(one, "evidence", finding->evidence);
        sw_writer_text(one, "means", finding->means);
        if (finding->caution != NULL)
            sw_writer_text(one, "caution", finding->caution);
        sw_writer *mends = sw_writer_array(one, "mends");
        for (size_t m = 0; m < finding->mend_count; m++)
            write_mend(mends, look, &finding->mends[m]);
    }
    list = sw_writer_array(root, "not_known");
    for (size_t i = 0; i < look->unknown_count; i++) {
        const sw_look_unknown *unknown = &look->unknowns[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "finding", unknown->finding);
        sw_writer_text(one, "about", unknown->about);
        if (unknown->role != NULL)
            sw_writer_text(one, "role", unknown->role);
        if (unknown->fact != NULL)
            sw_writer_text(one, "fact", unknown->fact);
        if (unknown->measure != NULL)
            sw_writer_text(one, "measure", unknown->measure);
        sw_writer_text(one, "meaning", unknown->meaning);
    }
}

static void write_uses(sw_writer *root, const sw_look *look) {
    sw_writer *list = sw_writer_array(root, "uses");
    for (size_t u = 0; u < look->use_count; u++) {
        const sw_look_use *use = &look->uses[u];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "use", use->id);
        sw_writer_text(one, "unit", use->unit);
        sw_writer_number(one, "share", use->share);
        if (use->rate_now > 0)
            sw_writer_number(one, "rate_now", use->rate_now);
        sw_writer_text(one, "governed_by", use->stages[use->governs].id);
        sw_writer *stages = sw_writer_array(one, "stages");
        for (size_t s = 0; s < use->stage_count; s++) {
            sw_writer *stage = sw_writer_object(stages, NULL);
            sw_writer_text(stage, "stage", use->stages[s].id);
            sw_writer_number(stage, "rate", use->stages[s].rate);
            sw_writer_number(stage, "behind", use->stages[s].behind);
        }
    }
}

static void write_sound(sw_writer *root, const sw_look *look) {
    sw_writer *sound = sw_writer_object(root, "sound");
    if (!look->answer->has_sound)
        return;
    sw_writer_number(sound, "seat_dba", look->seat_dba);
    sw_writer_number(sound, "seat_sone", look->seat_sone);
    sw_writer_number(sound, "machine_dba", look->machine_dba);
    sw_writer_number(sound, "room_dba", look->room_dba);
    sw_writer_number(sound, "calibration_db", look->calibration_db);
    sw_writer *list = sw_writer_array(sound, "sources");
    for (size_t i = 0; i < look->source_count; i++) {
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "role", look->sources[i].role);
        sw_writer_number(one, "level_db", look->sources[i].level_db);
        sw_writer_number(one, "share", look->sources[i].share);
        sw_writer_number(one, "speed", look->sources[i].speed);
    }
}

static void write_looks(sw_writer *root, const sw_look *look) {
    sw_writer *list = sw_writer_array(root, "looks");
    for (size_t i = 0; i < look->show_count; i++) {
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "role", look->shows[i].role);
        sw_writer_number(one, "weight", look->shows[i].weight);
        sw_writer_number(one, "match", look->shows[i].match);
    }
}

static void write_measures(sw_writer *root, const sw_look *look) {
    static const char *const states[] = {
        [SW_UNKNOWN] = "unknown", [SW_VOID] = "void", [SW_KNOWN] = "known"};
    sw_writer *list = sw_writer_array(root, "measures");
    for (size_t i = 0; i < look->measure_count; i++) {
        const sw_look_measure *measure = &look->measures[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "measure", measure->id);
        sw_writer_text(one, "name", measure->name);
        sw_writer_text(one, "unit", measure->unit);
        sw_writer_text(one, "state", states[measure->state]);
        if (measure->state == SW_KNOWN) {
            sw_writer_number(one, "low", measure->low);
            sw_writer_number(one, "value", measure->value);
            sw_writer_number(one, "high", measure->high);
        }
        if (measure->state == SW_UNKNOWN)
            sw_writer_text(one, "lacks", measure->lacks);
    }
}

sw_status sw_render_look_json(char **out, const sw_look *look) {
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_writer_integer(root, "schema", 1);
    sw_writer_text(root, "title", look->answer->title);
    sw_writer_text(root, "currency", look->answer->currency);
    sw_writer *musts = sw_writer_array(root, "musts");
    for (size_t i = 0; i < look->answer->must_count; i++) {
        sw_writer *one = sw_writer_object(musts, NULL);
        sw_writer_text(one, "id", look->answer->musts[i].id);
        sw_writer_text(one, "why", look->answer->musts[i].why);
    }
    sw_json_beware(root, look->answer);
    sw_json_to_ask(root, look->answer);
    write_findings(root, look);
    write_uses(root, look);
    write_sound(root, look);
    write_looks(root, look);
    write_measures(root, look);
    return sw_writer_finish(out, root);
}
