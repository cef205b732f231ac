/* `sure --json`: README.md lists the fields. */
#include "answer/sure.h"
#include "render/answer_json.h"

static void add_number(sw_writer *in, const char *name, double share, int decimals) {
    if (share < 0)
        sw_writer_text(in, name, NULL);
    else
        sw_writer_rounded(in, name, share, decimals);
}

/* Index and shares to four decimals, as text. */
static void add_share(sw_writer *in, const char *name, double share) {
    int64_t whole = 0;
    sw_arena *arena = sw_arena_new();
    char *text = NULL;
    if (share >= 0 && sw_round(&whole, share * 10000) && arena != NULL)
        text = sw_arena_format(arena, "%lld.%04lld", (long long)(whole / 10000),
                               (long long)(whole % 10000));
    sw_writer_text(in, name, text);
    sw_arena_free(arena);
}

static void add_thing(sw_writer *one, const sw_sure_thing *thing) {
    add_share(one, "index", thing->index);
    add_share(one, "share", thing->share);
    sw_writer *prices = sw_writer_array(one, "prices");
    if (thing->least_index >= 0) {
        add_share(prices, NULL, thing->least_index);
        add_share(prices, NULL, thing->most_index);
    }
    add_share(one, "estimates", thing->estimates_index);
}

static void add_roles(sw_writer *root, const sw_sure *sure) {
    sw_writer *roles = sw_writer_array(root, "roles"), *role = NULL, *parts = NULL;
    const char *last = "";
    for (size_t i = 0; i < sure->thing_count; i++) {
        const sw_sure_thing *thing = &sure->things[i];
        if (thing->kind == SW_SURE_TASK)
            continue;
        if (sw_text_compare(last, thing->role) != 0) {
            role = sw_writer_object(roles, NULL);
            sw_writer_text(role, "role", thing->role);
            parts = NULL;
            last = thing->role;
        }
        if (thing->kind == SW_SURE_AS_IT_IS) {
            add_thing(sw_writer_object(role, "as_it_is"), thing);
            continue;
        }
        if (parts == NULL)
            parts = sw_writer_array(role, "parts");
        sw_writer *one = sw_writer_object(parts, NULL);
        sw_writer_text(one, "part", thing->id);
        add_thing(one, thing);
    }
    sw_writer *tasks = sw_writer_array(root, "tasks");
    for (size_t i = 0; i < sure->thing_count; i++)
        if (sure->things[i].kind == SW_SURE_TASK) {
            sw_writer *one = sw_writer_object(tasks, NULL);
            sw_writer_text(one, "task", sure->things[i].id);
            add_thing(one, &sure->things[i]);
        }
}

/* Shares of all weight between which the option stays the best for its money. */
static void add_ranges(sw_writer *one, const sw_sure *sure, const sw_sure_range *ranges) {
    sw_writer *list = sw_writer_object(one, "weights");
    for (size_t c = 0; c < sure->weightings.criterion_count && ranges != NULL; c++) {
        sw_writer *range =
            sw_writer_array(list, sure->answer->criterion_ids[sure->weightings.criteria[c]]);
        add_share(range, NULL, ranges[c].from_share);
        add_share(range, NULL, ranges[c].to_share);
    }
}

static void add_weightings(sw_writer *root, const sw_sure *sure) {
    const sw_weightings *of = &sure->weightings;
    sw_writer *criteria = sw_writer_array(root, "criteria");
    for (size_t c = 0; c < of->criterion_count; c++)
        sw_writer_text(criteria, NULL, sure->answer->criterion_ids[of->criteria[c]]);
    sw_writer *extremes = sw_writer_array(root, "extremes");
    for (size_t e = 0; e < of->extreme_count; e++) {
        sw_writer *one = sw_writer_array(extremes, NULL);
        for (size_t c = 0; c < of->criterion_count; c++)
            sw_writer_integer(one, NULL, of->extremes[e][c]);
    }
}

static void add_bundles(sw_writer *root, const sw_sure *sure) {
    const sw_answer *answer = sure->answer;
    sw_writer *list = sw_writer_array(root, "bundles");
    for (size_t b = 0; b < sure->count; b++) {
        const sw_sure_bundle *bundle = &sure->bundles[b];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer *points = sw_writer_object(one, "points");
        for (size_t c = 0; c < sure->weightings.criterion_count; c++) {
            int criterion = sure->weightings.criteria[c];
            sw_writer_milli(points, answer->criterion_ids[criterion],
                            bundle->by_criterion[criterion], 3);
        }
        sw_writer_money(one, "cost", bundle->bundle.cost, answer->digits);
        add_number(one, "regret", bundle->regret, 3);
        sw_json_swaps(one, answer, &bundle->bundle);
        sw_json_tasks(one, answer, &bundle->bundle);
    }
}

sw_status sw_render_sure_json(char **out, const sw_sure *sure) {
    static const char *const statuses[] = {[SW_OPTIMAL] = "complete",
                                           [SW_NOTHING_FITS] = "nothing-fits",
                                           [SW_STOPPED_EARLY] = "stopped-early"};
    const sw_answer *answer = sure->answer;
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_writer_integer(root, "schema", 1);
    sw_writer_text(root, "status", statuses[answer->status]);
    sw_writer_text(root, "title", answer->title);
    sw_writer_text(root, "currency", answer->currency);
    sw_writer_money(root, "budget", answer->budget, answer->digits);
    sw_json_beware(root, answer);
    add_weightings(root, sure);
    sw_writer_integer(root, "prices_percent", sure->prices_percent);
    sw_writer_bool(root, "prices_complete", sure->prices_known);
    sw_writer_integer(root, "estimates_percent", sure->estimates_percent);
    sw_writer_bool(root, "estimates_complete", sure->estimates_known);
    add_bundles(root, sure);
    add_roles(root, sure);
    if (sure->option_count > 0 || !sure->options_known)
        sw_writer_bool(root, "options_complete", sure->options_known);
    sw_writer *options = sw_writer_array(root, "options");
    for (size_t o = 0; o < sure->option_count; o++) {
        sw_writer *one = sw_writer_object(options, NULL);
        sw_writer_text(one, "option", sure->options[o].place);
        sw_writer_money(one, "cost", sure->options[o].cost, answer->digits);
        add_number(one, "regret", sure->options[o].regret, 3);
        add_share(one, "stays", sure->options[o].stays);
        add_ranges(one, sure, sure->options[o].ranges);
    }
    if (sure->count > 0) {
        sw_writer_integer(root, "best", (int64_t)sure->best);
        sw_writer_integer(root, "least_regret", (int64_t)sure->least_regret);
    }
    return sw_writer_finish(out, root);
}
