/* The answer of `ask-next` as JSON: README.md lists the fields. */
#include "answer/next.h"

#include "render/answer_json.h"

static const char *const statuses[] = {"complete", "nothing-fits", "stopped-early"};
static const char *const kinds[] = {"worth", "twice", "more"};

static void add_answers(sw_writer *in, const sw_next_question *of) {
    static const char *const names[] = {"yes", "no"};
    sw_writer *list = sw_writer_array(in, "answers");
    for (size_t i = 0; i < 2; i++) {
        const sw_next_answer *answer = &of->answers[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "answer", names[i]);
        sw_writer_integer(one, "of_drawn", (int64_t)answer->given);
        if (answer->given > 0)
            sw_writer_integer(one, "bundle", (int64_t)answer->bundle);
        else
            sw_writer_text(one, "bundle", NULL);
    }
}

static void add_questions(sw_writer *root, const sw_next *next) {
    const char **ids = next->answer->criterion_ids;
    sw_writer *list = sw_writer_array(root, "questions");
    for (size_t q = 0; q < next->question_count; q++) {
        const sw_next_question *of = &next->questions[q];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "is", kinds[of->kind]);
        sw_writer_text(one, "criterion", ids[of->criterion]);
        sw_writer_text(one, "other", ids[of->other]);
        if (of->kind == SW_NEXT_WORTH) {
            sw_writer_milli(one, "worth", of->worth_milli, 3);
            sw_writer_milli(one, "beside", of->beside_milli, 3);
        }
        sw_writer_milli(one, "value", of->value, 3);
        add_answers(one, of);
    }
}

static void add_bundles(sw_writer *root, const sw_next *next) {
    const sw_answer *answer = next->answer;
    sw_writer *list = sw_writer_array(root, "bundles");
    for (size_t b = 0; b < answer->bundle_count; b++) {
        const sw_answer_bundle *bundle = &answer->bundles[b];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer *points = sw_writer_object(one, "points");
        for (size_t c = 0; c < next->criterion_count; c++)
            sw_writer_milli(points, answer->criterion_ids[next->criteria[c]],
                            bundle->by_criterion[next->criteria[c]], 3);
        sw_writer_money(one, "cost", bundle->cost, answer->digits);
        sw_json_swaps(one, answer, bundle);
        sw_json_tasks(one, answer, bundle);
    }
}

sw_status sw_render_next_json(char **out, const sw_next *next) {
    const sw_answer *answer = next->answer;
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_writer_integer(root, "schema", 1);
    sw_writer_text(root, "status", statuses[answer->status]);
    sw_json_stopped(root, answer->status == SW_STOPPED_EARLY, answer->asked_to_stop);
    sw_writer_text(root, "title", answer->title);
    sw_writer_text(root, "currency", answer->currency);
    sw_writer_money(root, "budget", answer->budget, answer->digits);
    sw_writer *criteria = sw_writer_array(root, "criteria");
    for (size_t c = 0; c < next->criterion_count; c++)
        sw_writer_text(criteria, NULL, answer->criterion_ids[next->criteria[c]]);
    sw_writer_integer(root, "drawn", SW_DRAWN_COUNT);
    sw_writer_integer(root, "found", (int64_t)next->found);
    if (next->asked == SW_NONE)
        sw_writer_text(root, "ask", NULL);
    else
        sw_writer_integer(root, "ask", next->asked);
    add_questions(root, next);
    add_bundles(root, next);
    sw_json_assumed(root, answer);
    return sw_writer_finish(out, root);
}
