/* The answer of `whatif` as JSON: README.md lists the fields. */
#include "answer/whatif.h"

#include "render/answer_json.h"

static const char *const stands[] = {
    [SW_STILL_BEST] = "best",       [SW_STILL_BEATEN] = "beaten", [SW_STILL_DEAR] = "dear",
    [SW_STILL_REFUSED] = "refused", [SW_STILL_GONE] = "gone",     [SW_STILL_OPEN] = "open"};

static void add_answer(sw_writer *in, const sw_answer *answer) {
    sw_writer_text(in, "status", sw_json_statuses[answer->status]);
    sw_writer_money(in, "budget", answer->budget, answer->digits);
    if (answer->status == SW_STOPPED_EARLY && answer->bundle_count > 0 && answer->bound < INT64_MAX)
        sw_writer_milli(in, "bound", answer->bound, 3);
    if (answer->bundle_count > 0)
        sw_json_bundle(sw_writer_object(in, "bundle"), answer, &answer->bundles[0]);
    else
        sw_writer_text(in, "bundle", NULL);
}

static void add_case(sw_writer *list, const sw_whatif_case *one) {
    sw_writer *in = sw_writer_object(list, NULL);
    sw_writer_text(in, "value", one->value);
    add_answer(in, one->answer);
    sw_writer_text(in, "stands", stands[one->stands]);
    if (one->stands <= SW_STILL_DEAR) {
        if (one->has_points)
            sw_writer_milli(in, "stands_points", one->points, 3);
        sw_writer_money(in, "stands_cost", one->cost, one->answer->digits);
    }
    if (one->in_the_way != NULL)
        sw_writer_text(in, "in_the_way", one->in_the_way);
}

sw_status sw_render_whatif_json(char **out, const sw_whatif *whatif) {
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_answer_status status = sw_whatif_get_status(whatif);
    sw_writer_integer(root, "schema", 1);
    sw_writer_text(root, "status", sw_json_statuses[status]);
    sw_writer_bool(root, "unsettled", status == SW_STOPPED_EARLY);
    sw_json_stopped(root, status == SW_STOPPED_EARLY, whatif->asked_to_stop);
    sw_writer_text(root, "title", whatif->present->title);
    sw_writer_text(root, "currency", whatif->present->currency);
    sw_writer *changes = sw_writer_array(root, "changes");
    for (size_t i = 0; i < whatif->change_count; i++) {
        sw_writer *one = sw_writer_object(changes, NULL);
        sw_writer_text(one, "path", whatif->changes[i].path);
        sw_writer_text(one, "value", whatif->changes[i].value);
    }
    sw_writer_text(root, "swept", whatif->swept.path);
    add_answer(sw_writer_object(root, "present"), whatif->present);
    sw_writer *cases = sw_writer_array(root, "cases");
    for (size_t i = 0; i < whatif->case_count; i++)
        add_case(cases, &whatif->cases[i]);
    return sw_writer_finish(out, root);
}
