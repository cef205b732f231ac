/* The curve as JSON and as CSV (RFC 4180). */
#include "render/answer_json.h"

#include <string.h>

static void add_envelope(sw_writer *root, const sw_answer *answer) {
    sw_writer *envelope = sw_writer_array(root, "envelope");
    for (size_t i = 0; i < answer->envelope_count; i++) {
        const sw_answer_slope *slope = &answer->envelope[i];
        sw_writer *one = sw_writer_object(envelope, NULL);
        sw_writer_money(one, "from", answer->bundles[slope->from].cost, answer->digits);
        sw_writer_money(one, "to", answer->bundles[slope->to].cost, answer->digits);
        if (slope->price_millionths >= 0)
            sw_writer_millionths(one, "price_of_point", slope->price_millionths);
        else
            sw_writer_text(one, "price_of_point", NULL);
        if (slope->per_hundred >= 0)
            sw_writer_milli(one, "points_per_100", slope->per_hundred, 3);
        else
            sw_writer_text(one, "points_per_100", NULL);
    }
}

/* What may still be hidden above the step: null where nobody knows. */
static void add_open(sw_writer *step, int64_t open) {
    if (open < INT64_MAX)
        sw_writer_milli(step, "open", open, 3);
    else
        sw_writer_text(step, "open", NULL);
}

sw_status sw_render_curve_json(char **out, const sw_answer *answer) {
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_writer_integer(root, "schema", 1);
    sw_writer_text(root, "status", sw_json_statuses[answer->status]);
    sw_json_ending(root, answer);
    sw_writer_text(root, "title", answer->title);
    sw_writer_text(root, "currency", answer->currency);
    sw_writer_money(root, "from", answer->curve_from, answer->digits);
    if (answer->curve_to >= 0)
        sw_writer_money(root, "to", answer->curve_to, answer->digits);
    else
        sw_writer_text(root, "to", NULL);
    if (answer->needed > 0)
        sw_writer_money(root, "needed", answer->needed, answer->digits);
    sw_writer *steps = sw_writer_array(root, "steps");
    for (size_t i = 0; i < answer->bundle_count; i++) {
        const sw_answer_bundle *step = &answer->bundles[i];
        sw_writer *one = sw_writer_object(steps, NULL);
        sw_writer_money(one, "cost", step->cost, answer->digits);
        sw_writer_milli(one, "points", step->points, 3);
        add_open(one, step->open);
        sw_json_swaps(one, answer, step);
        sw_json_tasks(one, answer, step);
        sw_writer_integer(one, "minutes", step->minutes);
        sw_writer_integer(one, "longest_days", step->longest_days);
        sw_json_sound(one, answer, step);
        sw_json_rates(one, step);
    }
    if (answer->status == SW_STOPPED_EARLY)
        sw_writer_bool(root, "envelope_so_far", true);
    add_envelope(root, answer);
    return sw_writer_finish(out, root);
}

/* A field in quotes, each quote of its own doubled. */
static void quoted(sw_text *out, const char *text) {
    for (; *text != '\0'; text++) {
        sw_text_add_bytes(out, text, 1);
        if (*text == '"')
            sw_text_add(out, "\"");
    }
}

static void add_in(sw_text *out, const sw_answer_bundle *step) {
    const char *between = "";
    sw_text_add(out, "\"");
    for (size_t i = 0; i < step->swap_count; i++)
        for (size_t k = 0; k < step->swaps[i].in_count; k++, between = "; ") {
            const sw_answer_part *part = &step->swaps[i].in[k];
            sw_text_addf(out, "%s%d x ", between, part->count);
            quoted(out, part->id);
            sw_text_add(out, " from ");
            quoted(out, part->seller);
        }
    sw_text_add(out, "\"");
}

static void add_out(sw_text *out, const sw_answer_bundle *step) {
    const char *between = "";
    sw_text_add(out, "\"");
    for (size_t i = 0; i < step->swap_count; i++)
        for (size_t k = 0; k < step->swaps[i].out_count; k++, between = "; ") {
            sw_text_addf(out, "%s%d x ", between, step->swaps[i].out[k].count);
            quoted(out, step->swaps[i].out[k].id);
        }
    sw_text_add(out, "\"");
}

static void add_work(sw_text *out, const sw_answer_bundle *step) {
    sw_text_add(out, "\"");
    for (size_t i = 0; i < step->task_count; i++) {
        sw_text_add(out, i == 0 ? "" : "; ");
        quoted(out, step->tasks[i].id);
    }
    sw_text_add(out, "\"");
}

sw_status sw_render_curve_csv(char **out, const sw_answer *answer) {
    sw_text text = {0};
    sw_arena *scratch = sw_arena_new();
    if (scratch == NULL)
        return SW_NO_MEMORY;
    sw_text_addf(&text, "cost_%s,points,in,out,tasks,open_points\r\n", answer->currency);
    for (size_t i = 0; i < answer->bundle_count; i++) {
        const sw_answer_bundle *step = &answer->bundles[i];
        const char *cost = sw_money_text(scratch, step->cost, answer->digits);
        const char *points = sw_milli_text(scratch, step->points, 3);
        const char *open =
            step->open < INT64_MAX ? sw_milli_text(scratch, step->open, 3) : ""; /* not known */
        text.failed = text.failed || cost == NULL || points == NULL || open == NULL;
        sw_text_addf(&text, "%s,%s,", cost == NULL ? "" : cost, points == NULL ? "" : points);
        add_in(&text, step);
        sw_text_add(&text, ",");
        add_out(&text, step);
        sw_text_add(&text, ",");
        add_work(&text, step);
        sw_text_addf(&text, ",%s\r\n", open);
    }
    sw_arena_free(scratch);
    if (text.failed || text.bytes == NULL) {
        sw_text_free(&text);
        return SW_NO_MEMORY;
    }
    *out = text.bytes;
    return SW_OK;
}
