/* The answer of `phases` as JSON: README.md lists the fields. */
#include "answer/phases.h"

#include "render/answer_json.h"

static void add_phase(sw_writer *list, const sw_answer *answer, const sw_phase_told *told) {
    sw_writer *one = sw_writer_object(list, NULL);
    sw_writer_text(one, "on", told->on);
    sw_writer_text(one, "until", told->until);
    sw_writer_integer(one, "days", told->days);
    sw_writer_money(one, "money", told->money, answer->digits);
    sw_writer_money(one, "spent", told->spent, answer->digits);
    sw_writer_milli(one, "points", told->stage.points, 3);
    if (told->role_count == 0) {
        sw_writer_text(one, "purchase", NULL);
    } else {
        sw_writer *purchase = sw_writer_object(one, "purchase");
        sw_writer_money(purchase, "cost", told->cost, answer->digits);
        sw_writer_integer(purchase, "here_in", told->here_in);
        sw_writer *roles = sw_writer_array(purchase, "roles");
        for (size_t r = 0; r < told->role_count; r++)
            sw_writer_text(roles, NULL, told->roles[r]);
    }
    sw_json_bundle(sw_writer_object(one, "stage"), answer, &told->stage);
}

sw_status sw_render_phases_json(char **out, const sw_phases *phases) {
    const sw_answer *answer = phases->answer;
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    bool stopped = answer->status == SW_STOPPED_EARLY;
    sw_writer_integer(root, "schema", 1);
    sw_writer_text(root, "status", sw_json_statuses[answer->status]);
    sw_writer_bool(root, "unsettled", stopped);
    sw_json_stopped(root, stopped, answer->asked_to_stop);
    sw_writer_text(root, "title", answer->title);
    sw_writer_text(root, "currency", answer->currency);
    sw_writer_money(root, "reserve", answer->reserve, answer->digits);
    sw_writer_money(root, "sundries", answer->sundries, answer->digits);
    if (phases->phase_count > 0) {
        sw_writer_integer(root, "value", phases->value);
        if (stopped && phases->bound < INT64_MAX)
            sw_writer_integer(root, "value_bound", phases->bound);
    }
    sw_writer *list = sw_writer_array(root, "phases");
    for (size_t k = 0; k < phases->phase_count; k++)
        add_phase(list, answer, &phases->phases[k]);
    if (phases->greedy != NULL) {
        sw_json_bundle(sw_writer_object(root, "greedy"), answer, phases->greedy);
        sw_writer_bool(root, "greedy_too", phases->greedy_too);
        if (phases->greedy_value >= 0)
            sw_writer_integer(root, "greedy_value", phases->greedy_value);
    } else {
        sw_writer_text(root, "greedy", NULL);
    }
    return sw_writer_finish(out, root);
}
