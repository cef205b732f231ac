/* The answer of `why` as JSON: README.md lists the fields. */
#include "answer/why.h"

#include "render/conflict.h"
#include "render/fits.h"

static const char *const standings[] = {[SW_STANDS_IN] = "in",
                                        [SW_STANDS_BEATEN] = "beaten",
                                        [SW_STANDS_DEAR] = "dear",
                                        [SW_STANDS_NEVER] = "never"};

static void add_bundle(sw_writer *in, const char *name, const sw_why *why,
                       const sw_answer_other *other) {
    if (other->bundle == NULL)
        sw_writer_text(in, name, NULL);
    else
        sw_json_bundle(sw_writer_object(in, name), why->answer, other->bundle);
}

static void add_left_out(sw_writer *root, const sw_why *why) {
    sw_writer *list = sw_writer_array(root, "left_out");
    for (size_t i = 0; i < why->left_out_count; i++) {
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "why", why->left_out[i].why);
        if (why->left_out[i].fact != NULL)
            sw_writer_text(one, "fact", why->left_out[i].fact);
    }
}

static void add_entry(sw_writer *root, const sw_why *why) {
    if (why->entry.seller == NULL) {
        sw_writer_text(root, "entry", NULL);
        return;
    }
    int digits = why->answer->digits;
    sw_writer *entry = sw_writer_object(root, "entry");
    sw_writer_text(entry, "seller", why->entry.seller);
    sw_writer_money(entry, "price", why->entry.price, digits);
    sw_writer *list = sw_writer_array(entry, "intervals");
    for (size_t i = 0; i < why->entry.interval_count; i++) {
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_money(one, "from", why->entry.intervals[i].from, digits);
        sw_writer_money(one, "to", why->entry.intervals[i].to, digits);
    }
    sw_writer_bool(entry, "settled", why->entry.settled);
}

static void add_percents(sw_writer *in, const char *name, const sw_range *ranges, size_t count) {
    sw_writer *list = sw_writer_array(in, name);
    for (size_t r = 0; r < count; r++) {
        sw_writer *range = sw_writer_object(list, NULL);
        sw_writer_integer(range, "from", ranges[r].from);
        sw_writer_integer(range, "to", ranges[r].to);
    }
}

static void add_weights(sw_writer *root, const sw_why *why) {
    sw_writer *list = sw_writer_array(root, "weights");
    for (size_t i = 0; i < why->weight_count; i++) {
        const sw_why_weight *weight = &why->weights[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "criterion", weight->criterion);
        sw_writer_milli(one, "now", weight->now_milli, 3);
        add_percents(one, "ranges", weight->ranges, weight->range_count);
        add_percents(one, "open", weight->open, weight->open_count);
        sw_writer_bool(one, "settled", weight->open_count == 0);
    }
}

static void add_over(sw_writer *root, const sw_why *why) {
    if (why->over.part == NULL)
        return;
    sw_writer *over = sw_writer_object(root, "over");
    sw_writer_text(over, "part", why->over.part);
    add_bundle(over, "this", why, &why->over.this);
    add_bundle(over, "other", why, &why->over.other);
}

static void add_answer(sw_writer *root, const sw_why *why) {
    const sw_answer *answer = why->answer;
    bool open = why->standing != SW_STANDS_IN && why->standing != SW_STANDS_BEATEN &&
                (why->with.open || why->cheapest.open);
    sw_writer_text(root, "standing", open ? "open" : standings[why->standing]);
    add_left_out(root, why);
    if (why->trial != NULL)
        sw_json_fits(sw_writer_object(root, "trial"), why->trial);
    else
        sw_writer_text(root, "trial", NULL);
    add_bundle(root, "best", why, &(sw_answer_other){&answer->bundles[0], false});
    add_bundle(root, "with", why, &why->with);
    add_bundle(root, "without", why, &why->without);
    add_bundle(root, "cheapest_with", why, &why->cheapest);
    sw_writer *along = sw_writer_array(root, "along");
    for (size_t i = 0; i < why->along_count; i++)
        sw_writer_text(along, NULL, why->along[i]);
    if (why->with.bundle != NULL)
        sw_writer_milli(root, "behind", answer->bundles[0].points - why->with.bundle->points, 3);
    else
        sw_writer_text(root, "behind", NULL);
    add_entry(root, why);
    add_weights(root, why);
    add_over(root, why);
    if (why->standing == SW_STANDS_NEVER && !open)
        sw_json_conflict(root, "refusal", &why->refusal);
}

sw_status sw_render_why_json(char **out, const sw_why *why) {
    const sw_answer *answer = why->answer;
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_writer_integer(root, "schema", 1);
    sw_writer_text(root, "title", answer->title);
    sw_writer_text(root, "currency", answer->currency);
    sw_writer_money(root, "budget", answer->budget, answer->digits);
    sw_writer_text(root, "status", sw_json_statuses[answer->status]);
    sw_writer_bool(root, "unsettled", answer->unsettled || answer->status == SW_STOPPED_EARLY);
    sw_json_ending(root, answer);
    sw_writer *part = sw_writer_object(root, "part");
    sw_writer_text(part, "part", why->part);
    sw_writer_text(part, "name", why->name);
    sw_writer_text(part, "role", why->role);
    sw_writer_bool(part, "present", why->present);
    if (answer->status == SW_OPTIMAL)
        add_answer(root, why);
    return sw_writer_finish(out, root);
}
