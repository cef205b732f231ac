/* What the parts of a plan are worth, and the curve around it, as JSON. */
#include "render/answer_json.h"

static void add_group(sw_writer *list, const sw_answer *answer, const sw_answer_group *group) {
    sw_writer *one = sw_writer_object(list, NULL);
    sw_writer *roles = sw_writer_array(one, "roles");
    for (size_t i = 0; i < group->role_count; i++)
        sw_writer_text(roles, NULL, group->roles[i]);
    sw_writer_bool(one, "must", group->must);
    sw_writer_bool(one, "needed", group->needed);
    sw_writer_money(one, "cost", group->cost, answer->digits);
    bool has = group->settled && !group->needed;
    int64_t rate = has ? sw_per_hundred(answer, group->worth, group->cost) : -1;
    if (has)
        sw_writer_milli(one, "worth", group->worth, 3);
    else
        sw_writer_text(one, "worth", NULL);
    if (rate >= 0)
        sw_writer_milli(one, "points_per_100", rate, 3);
    else
        sw_writer_text(one, "points_per_100", NULL);
    if (group->without != NULL) {
        sw_writer *without = sw_writer_object(one, "without");
        sw_writer_milli(without, "points", group->without->points, 3);
        sw_writer_money(without, "cost", group->without->cost, answer->digits);
        sw_json_swaps(without, answer, group->without);
        sw_json_tasks(without, answer, group->without);
    }
}

static void add_step(sw_writer *in, const char *name, const sw_answer *answer,
                     const sw_answer_other *other, const sw_answer_other *rate_above) {
    if (other->bundle == NULL) {
        sw_writer_text(in, name, NULL);
        return;
    }
    sw_writer *one = sw_writer_object(in, name);
    sw_writer_milli(one, "points", other->bundle->points, 3);
    sw_writer_money(one, "cost", other->bundle->cost, answer->digits);
    if (rate_above != NULL && rate_above->bundle != NULL) {
        const sw_answer_bundle *low = rate_above->bundle;
        int64_t rate = sw_per_hundred(answer, other->bundle->points - low->points,
                                      other->bundle->cost - low->cost);
        sw_writer_milli(one, "points_per_100", rate, 3);
    }
    sw_json_swaps(one, answer, other->bundle);
    sw_json_tasks(one, answer, other->bundle);
}

void sw_json_worth(sw_writer *in, const sw_answer *answer) {
    static const char *const advice[] = {[SW_ADVICE_NONE] = NULL,
                                         [SW_ADVICE_SPEND] = "spend",
                                         [SW_ADVICE_LESS] = "spend-less",
                                         [SW_ADVICE_KEEP] = "keep"};
    sw_writer *groups = sw_writer_array(in, "groups");
    for (size_t i = 0; i < answer->group_count; i++)
        add_group(groups, answer, &answer->groups[i]);
    add_step(in, "last", answer, &answer->last, NULL);
    add_step(in, "next", answer, &answer->next, NULL);
    sw_writer *verdict = sw_writer_object(in, "verdict");
    add_step(verdict, "first", answer, &answer->first, NULL);
    add_step(verdict, "best_rate", answer, &answer->best_rate, &answer->first);
    add_step(verdict, "worthwhile", answer, &answer->worthwhile, NULL);
    if (answer->worth_at_least_milli >= 0)
        sw_writer_milli(verdict, "worth_at_least", answer->worth_at_least_milli, 3);
    else
        sw_writer_text(verdict, "worth_at_least", NULL);
    sw_writer_text(verdict, "advice", advice[answer->advice]);
    sw_writer_bool(verdict, "at_its_end", answer->at_its_end);
}
