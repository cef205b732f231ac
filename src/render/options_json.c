/* The answer of `options` as JSON: README.md lists the fields. */
#include "answer/options.h"

#include <math.h>

#include "render/conflict.h"
#include "render/options.h"

static const char *const rules[] = {
    [SW_OPTION_ENDS_COMPLAINT] = "ends-complaint", [SW_OPTION_KEEPS_MONEY] = "keeps-money",
    [SW_OPTION_BEST_RATE] = "best-rate",           [SW_OPTION_BEND] = "bend",
    [SW_OPTION_NESTED_BEND] = "nested-bend",       [SW_OPTION_BEST] = "best"};

static void add_troubles(sw_writer *in, const sw_options *options) {
    sw_writer *list = sw_writer_array(in, "complaints");
    for (size_t t = 0; t < options->trouble_count; t++) {
        const sw_told_trouble *told = &options->troubles[t];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "complaint", told->id);
        sw_writer_text(one, "use", told->use);
        sw_writer_text(one, "words", told->words);
        sw_writer_bool(one, "shows", told->shows);
        if (told->shows && told->settled)
            sw_writer_bool(one, "ended_within_budget", told->ended);
        else
            sw_writer_text(one, "ended_within_budget", NULL);
        if (told->shows && told->settled && !told->ended && told->least >= 0)
            sw_writer_money(one, "costs_at_least", told->least, options->plan->digits);
        else
            sw_writer_text(one, "costs_at_least", NULL);
    }
}

static void add_step(sw_writer *in, const sw_answer *answer, const sw_answer_bundle *step) {
    sw_writer_money(in, "cost", step->cost, answer->digits);
    sw_writer_milli(in, "points", step->points, 3);
}

static void add_curve(sw_writer *in, const sw_options *options) {
    const sw_answer *curve = options->curve;
    sw_writer *out = sw_writer_object(in, "curve");
    sw_writer_money(out, "to", curve->curve_to, curve->digits);
    sw_writer_bool(out, "proved", curve->status == SW_OPTIMAL);
    sw_writer *list = sw_writer_array(out, "steps");
    for (size_t i = 0; i < curve->bundle_count; i++) {
        sw_writer *one = sw_writer_object(list, NULL);
        add_step(one, curve, &curve->bundles[i]);
        if (options->plan->has_sound) {
            sw_writer_rounded(one, "level_dba", curve->bundles[i].level_dba, 1);
            sw_writer_rounded(one, "loudness_sone", curve->bundles[i].loudness_sone, 2);
        }
    }
}

static void add_promised(sw_writer *in, const sw_option *option) {
    sw_writer *list = sw_writer_array(in, "promised");
    for (size_t i = 0; i < option->promised_count; i++) {
        const sw_answer_rate *rate = &option->promised[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "use", rate->use);
        sw_writer_text(one, "unit", rate->unit);
        sw_writer_rounded(one, "ratio", rate->ratio, 2);
        sw_writer_rounded(one, "ratio_low", rate->low, 2);
        sw_writer_rounded(one, "ratio_high", rate->high, 2);
        if (rate->rate_now > 0) {
            sw_writer_rounded(one, "rate_now", rate->rate_now, 1);
            sw_writer_rounded(one, "rate", rate->rate_then, 1);
            sw_writer_rounded(one, "low", rate->rate_low, 1);
            sw_writer_rounded(one, "high", rate->rate_high, 1);
        }
    }
    sw_writer_bool(in, "chance", option->has_chance);
}

static void add_next(sw_writer *in, const sw_answer *answer, const sw_option *option) {
    if (option->next == NULL) {
        sw_writer_text(in, "next_step", NULL);
    } else {
        sw_writer *next = sw_writer_object(in, "next_step");
        add_step(next, answer, option->next);
        sw_writer_money(next, "more_cost", option->next->cost - option->bundle.cost,
                        answer->digits);
        sw_writer_milli(next, "more_points", option->next->points - option->bundle.points, 3);
    }
    if (option->hundred == NULL) {
        sw_writer_text(in, "next_hundred", NULL);
        return;
    }
    sw_writer *hundred = sw_writer_object(in, "next_hundred");
    add_step(hundred, answer, option->hundred);
    sw_writer_milli(hundred, "more_points", option->hundred->points - option->bundle.points, 3);
}

static void add_given_up(sw_writer *in, const sw_options *options, const sw_option *option) {
    sw_writer *list = sw_writer_array(in, "given_up");
    for (size_t i = 0; i < option->given_up_count; i++) {
        const sw_given_up *given = &option->given_up[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "to", sw_option_places[options->options[given->to].place]);
        sw_writer *parts = sw_writer_array(one, "parts");
        for (size_t p = 0; p < given->count; p++) {
            sw_writer *part = sw_writer_object(parts, NULL);
            sw_writer_text(part, "part", given->parts[p].id);
            sw_writer_text(part, "name", given->parts[p].name);
            sw_writer_integer(part, "count", given->parts[p].count);
            sw_writer_money(part, "price", given->parts[p].price, options->plan->digits);
        }
        sw_writer_money(one, "price", given->price, options->plan->digits);
    }
}

static void add_option(sw_writer *list, const sw_options *options, const sw_option *option) {
    const sw_answer *answer = options->plan;
    sw_writer *one = sw_writer_object(list, NULL);
    bool ends = option->rule == SW_OPTION_ENDS_COMPLAINT;
    sw_writer_text(one, "option", sw_option_places[option->place]);
    sw_writer_text(one, "rule", rules[option->rule]);
    sw_writer_text(one, "complaint", ends ? options->troubles[option->trouble].id : NULL);
    sw_writer_bool(one, "proved", option->proved);
    sw_json_bundle(sw_writer_object(one, "bundle"), answer, &option->bundle);
    sw_writer *ended = sw_writer_array(one, "ends");
    for (size_t t = 0; t < options->trouble_count; t++)
        if (options->troubles[t].shows && option->ends[t])
            sw_writer_text(ended, NULL, options->troubles[t].id);
    add_promised(one, option);
    sw_writer_integer(one, "days_without", option->days_without);
    if (option->has_looks)
        sw_writer_rounded(one, "nearer_to_taste_percent", 100 * option->looks_nearer, 0);
    add_next(one, answer, option);
    sw_writer *asks = sw_writer_array(one, "asks");
    for (size_t a = 0; a < options->terms.ask_count; a++)
        if (option->asks[a])
            sw_writer_text(asks, NULL, options->terms.ask_ids[a]);
    sw_writer *hazards = sw_writer_array(one, "hazards");
    for (size_t h = 0; h < options->terms.hazard_count; h++)
        if (option->hazards[h])
            sw_writer_text(hazards, NULL, options->terms.hazards[h].id);
    add_given_up(one, options, option);
}

static void add_nesting(sw_writer *in, const sw_options *options) {
    if (!options->has_nested) {
        sw_writer_text(in, "nesting", NULL);
        return;
    }
    sw_writer *nesting = sw_writer_object(in, "nesting");
    sw_writer_milli(nesting, "points_lost", options->nested_loss, 3);
    sw_writer_bool(nesting, "taken", options->nested_taken);
    sw_json_bundle(sw_writer_object(nesting, "bundle"), options->plan, &options->nested);
}

sw_status sw_render_options_json(char **out, const sw_options *options) {
    static const char *const advices[] = {[SW_ADVICE_NONE] = NULL,
                                          [SW_ADVICE_SPEND] = "spend",
                                          [SW_ADVICE_LESS] = "spend-less",
                                          [SW_ADVICE_KEEP] = "keep"};
    const sw_answer *answer = options->plan;
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
    sw_writer_text(root, "valid_until",
                   options->terms.valid_until[0] != '\0' ? options->terms.valid_until : NULL);
    sw_writer_text(root, "advice", advices[answer->advice]);
    sw_writer_bool(root, "at_its_end", answer->at_its_end);
    add_troubles(root, options);
    sw_json_beware(root, answer);
    sw_json_to_ask(root, answer);
    sw_json_assumed(root, answer);
    sw_writer *list = sw_writer_array(root, "options");
    for (size_t i = 0; i < options->count; i++)
        add_option(list, options, &options->options[i]);
    if (options->count > 0) {
        add_nesting(root, options);
        if (options->knee != NULL)
            add_step(sw_writer_object(root, "knee"), answer, options->knee);
        else
            sw_writer_text(root, "knee", NULL);
        add_curve(root, options);
    }
    if (answer->status == SW_NOTHING_FITS) {
        sw_json_conflict(root, "conflict", &answer->conflict);
        sw_json_mends(root, answer);
    }
    return sw_writer_finish(out, root);
}
