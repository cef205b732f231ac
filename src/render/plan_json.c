/* The answer of `plan` as JSON, schema 1: README.md lists the fields. */
#include "render/conflict.h"

const char *const sw_json_statuses[] = {"optimal", "nothing-fits", "stopped-early"};

void sw_json_stopped(sw_writer *in, bool stopped, bool asked_to) {
    if (stopped)
        sw_writer_text(in, "stopped", asked_to ? "asked" : "time");
}

void sw_json_ending(sw_writer *in, const sw_answer *answer) {
    static const char *const verdicts[] = {
        [SW_VERIFIED_ALL] = "all", [SW_VERIFIED_SOME] = "some", [SW_VERIFIED_NONE] = "none"};
    sw_json_stopped(in, answer->unsettled || answer->status == SW_STOPPED_EARLY,
                    answer->asked_to_stop);
    if (answer->verified == SW_VERIFIED_NOT_ASKED)
        return;
    sw_writer *verified = sw_writer_object(in, "verified");
    sw_writer_text(verified, "verdict", verdicts[answer->verified]);
    sw_writer_integer(verified, "bundles", (int64_t)answer->verify_count);
    sw_writer_integer(verified, "proved", (int64_t)answer->verified_count);
}

static void add_left_out(sw_writer *in, const sw_answer *answer) {
    sw_writer *list = sw_writer_array(in, "look_up");
    for (size_t i = 0; i < answer->look_up_count; i++) {
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "part", answer->look_ups[i].part);
        sw_writer_text(one, "fact", answer->look_ups[i].fact);
        sw_writer_text(one, "meaning", answer->look_ups[i].meaning);
    }
    sw_writer *out = sw_writer_object(in, "left_out");
    sw_writer_integer(out, "too_late", (int64_t)answer->left_out_late);
    sw_writer_integer(out, "no_stock", (int64_t)answer->left_out_no_stock);
    sw_writer_integer(out, "avoided", (int64_t)answer->left_out_avoided);
}

sw_status sw_render_plan_json(char **out, const sw_answer *answer) {
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_writer_integer(root, "schema", 1);
    sw_writer_text(root, "status", sw_json_statuses[answer->status]);
    sw_writer_bool(root, "unsettled", answer->unsettled || answer->status == SW_STOPPED_EARLY);
    sw_json_ending(root, answer);
    sw_writer_text(root, "title", answer->title);
    sw_writer_text(root, "currency", answer->currency);
    sw_writer_money(root, "budget", answer->budget, answer->digits);
    sw_writer_money(root, "budget_total", answer->budget_total, answer->digits);
    sw_writer_money(root, "reserve", answer->reserve, answer->digits);
    sw_writer_money(root, "sundries", answer->sundries, answer->digits);
    sw_json_beware(root, answer);
    sw_json_to_ask(root, answer);
    sw_json_assumed(root, answer);
    if (answer->status == SW_STOPPED_EARLY) {
        bool known = answer->bound < INT64_MAX && answer->bundle_count > 0;
        if (known) {
            sw_writer_milli(root, "bound", answer->bound, 3);
            sw_writer_milli(root, "gap", answer->bound - answer->bundles[0].points, 3);
        } else {
            sw_writer_text(root, "bound", NULL);
            sw_writer_text(root, "gap", NULL);
        }
    }
    if (answer->needed > 0)
        sw_writer_money(root, "needed", answer->needed, answer->digits);
    sw_writer *musts = sw_writer_array(root, "musts");
    for (size_t m = 0; m < answer->must_count; m++) {
        sw_writer *one = sw_writer_object(musts, NULL);
        sw_writer_text(one, "id", answer->musts[m].id);
        sw_writer_text(one, "why", answer->musts[m].why);
    }
    if (answer->has_baseline) {
        sw_writer *baseline = sw_writer_object(root, "baseline");
        sw_writer_money(baseline, "cost", answer->baseline.cost, answer->digits);
        sw_json_swaps(baseline, answer, &answer->baseline);
        sw_json_tasks(baseline, answer, &answer->baseline);
    }
    sw_writer *bundles = sw_writer_array(root, "bundles");
    for (size_t b = 0; b < answer->bundle_count; b++) {
        sw_writer *one = sw_writer_object(bundles, NULL);
        sw_writer_integer(one, "rank", answer->bundles[b].rank);
        sw_json_bundle(one, answer, &answer->bundles[b]);
    }
    if (answer->bundle_count > 0 && !answer->brief)
        sw_json_worth(root, answer);
    if (answer->status == SW_NOTHING_FITS) {
        sw_json_conflict(root, "conflict", &answer->conflict);
        sw_json_mends(root, answer);
    }
    add_left_out(root, answer);
    return sw_writer_finish(out, root);
}
