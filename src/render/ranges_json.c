/* The answer of `ranges` as JSON: README.md lists the fields. */
#include "answer/ranges.h"

#include "render/answer_json.h"

static void add_end(sw_writer *in, const char *name, int64_t minor, int digits) {
    if (minor == SW_NO_END)
        sw_writer_text(in, name, NULL);
    else
        sw_writer_money(in, name, minor, digits);
}

static void add_prices(sw_writer *root, const sw_ranges *ranges) {
    int digits = ranges->answer->digits;
    sw_writer *list = sw_writer_array(root, "prices");
    for (size_t i = 0; i < ranges->price_count; i++) {
        const sw_range_price *price = &ranges->prices[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "part", price->part);
        sw_writer_text(one, "name", price->name);
        sw_writer_text(one, "seller", price->seller);
        sw_writer_bool(one, "bought", price->bought);
        sw_writer_money(one, "now", price->now, digits);
        sw_writer_money(one, "from", price->from, digits);
        add_end(one, "to", price->to, digits);
        sw_writer_bool(one, "settled", price->settled);
    }
}

static void add_weights(sw_writer *root, const sw_ranges *ranges) {
    sw_writer *list = sw_writer_array(root, "weights");
    for (size_t i = 0; i < ranges->weight_count; i++) {
        const sw_range_weight *weight = &ranges->weights[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "criterion", weight->criterion);
        sw_writer_number(one, "now_percent", (double)weight->now_milli / 1000);
        sw_writer_integer(one, "from", weight->from);
        sw_writer_integer(one, "to", weight->to);
        sw_writer_bool(one, "settled", weight->settled);
    }
}

sw_status sw_render_ranges_json(char **out, const sw_ranges *ranges) {
    const sw_answer *answer = ranges->answer;
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    bool open = answer->status == SW_STOPPED_EARLY ||
                (answer->status == SW_OPTIMAL && !sw_ranges_is_settled(ranges));
    sw_writer_integer(root, "schema", 1);
    sw_writer_text(root, "status", sw_json_statuses[answer->status]);
    sw_writer_bool(root, "unsettled", open);
    sw_json_stopped(root, open, answer->asked_to_stop);
    sw_writer_text(root, "title", answer->title);
    sw_writer_text(root, "currency", answer->currency);
    if (answer->bundle_count == 0 || answer->status != SW_OPTIMAL) {
        sw_writer_text(root, "bundle", NULL);
        return sw_writer_finish(out, root);
    }
    sw_json_bundle(sw_writer_object(root, "bundle"), answer, answer->bundles);
    sw_writer *budget = sw_writer_object(root, "budget");
    sw_writer_money(budget, "now", answer->budget_total, answer->digits);
    sw_writer_money(budget, "from", ranges->budget_from, answer->digits);
    add_end(budget, "to", ranges->budget_to, answer->digits);
    sw_writer_bool(budget, "settled", ranges->budget_settled);
    add_prices(root, ranges);
    add_weights(root, ranges);
    return sw_writer_finish(out, root);
}
