/* The answer of `first` as JSON: README.md lists the fields. */
#include "answer/first.h"

#include "render/answer_json.h"

static const char *const reasons[] = {[SW_TOGETHER_ALONE] = "alone",
                                      [SW_TOGETHER_FREE] = "free",
                                      [SW_TOGETHER_NEEDS] = "needs",
                                      [SW_TOGETHER_SAVES] = "saves",
                                      [SW_TOGETHER_WORSE] = "worse"};

static void add_groups(sw_writer *root, const sw_first *first) {
    sw_writer *list = sw_writer_array(root, "groups");
    for (size_t g = 0; g < first->group_count; g++) {
        const sw_first_group *group = &first->groups[g];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_integer(one, "number", (int64_t)g + 1);
        sw_writer *roles = sw_writer_array(one, "roles");
        for (size_t r = 0; r < group->role_count; r++)
            sw_writer_text(roles, NULL, group->roles[r]);
        sw_writer_bool(one, "must", group->must);
        if (first->settled)
            sw_writer_money(one, "alone", group->alone, first->answer->digits);
    }
}

static void add_purchases(sw_writer *root, const sw_first *first) {
    const sw_answer *answer = first->answer;
    sw_writer *list = sw_writer_array(root, "purchases");
    for (size_t i = 0; i < first->purchase_count; i++) {
        const sw_first_purchase *p = &first->purchases[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer *groups = sw_writer_array(one, "groups");
        for (size_t g = 0; g < p->group_count; g++)
            sw_writer_integer(groups, NULL, p->groups[g] + 1);
        sw_writer_text(one, "together", reasons[p->together]);
        sw_writer_money(one, "cost", p->cost, answer->digits);
        sw_writer_money(one, "apart", p->apart, answer->digits);
        sw_writer_money(one, "spent", p->spent, answer->digits);
        sw_writer_integer(one, "days", p->days);
        sw_json_bundle(sw_writer_object(one, "stage"), answer, &p->stage);
    }
}

sw_status sw_render_first_json(char **out, const sw_first *first) {
    const sw_answer *answer = first->answer;
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    bool stopped = sw_first_get_status(first) == SW_STOPPED_EARLY;
    sw_writer_integer(root, "schema", 1);
    sw_writer_text(root, "status", sw_json_statuses[sw_first_get_status(first)]);
    sw_writer_bool(root, "unsettled", stopped);
    sw_json_stopped(root, stopped, answer->asked_to_stop);
    sw_writer_text(root, "title", answer->title);
    sw_writer_text(root, "currency", answer->currency);
    sw_writer_money(root, "budget", answer->budget, answer->digits);
    if (answer->bundle_count > 0)
        sw_json_bundle(sw_writer_object(root, "bundle"), answer, answer->bundles);
    else
        sw_writer_text(root, "bundle", NULL);
    add_groups(root, first);
    if (answer->status == SW_OPTIMAL && first->settled) {
        sw_writer_money(root, "horizon", first->horizon, answer->digits);
        sw_writer_integer(root, "area", first->area);
    }
    add_purchases(root, first);
    return sw_writer_finish(out, root);
}
