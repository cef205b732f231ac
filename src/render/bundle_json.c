/* One bundle as JSON: README.md lists the fields. */
#include "render/answer_json.h"

static void add_parts(sw_writer *in, const char *name, const sw_answer *answer,
                      const sw_answer_part *parts, size_t count, bool bought) {
    sw_writer *list = sw_writer_array(in, name);
    for (size_t i = 0; i < count; i++) {
        const sw_answer_part *part = &parts[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "part", part->id);
        sw_writer_text(one, "name", part->name);
        sw_writer_integer(one, "count", part->count);
        if (!bought) {
            sw_writer_text(one, "condition", part->condition);
            sw_writer_money(one, "offer", part->offer, answer->digits);
            sw_writer_money(one, "hoped", part->hoped, answer->digits);
            continue;
        }
        sw_writer_text(one, "seller", part->seller);
        sw_writer_money(one, "price", part->price, answer->digits);
        sw_writer_integer(one, "days", part->days);
        if (part->warranty_months >= 0)
            sw_writer_integer(one, "warranty_months", part->warranty_months);
        if (part->return_days >= 0)
            sw_writer_integer(one, "return_days", part->return_days);
    }
}

void sw_json_swaps(sw_writer *in, const sw_answer *answer, const sw_answer_bundle *bundle) {
    sw_writer *list = sw_writer_array(in, "swaps");
    for (size_t i = 0; i < bundle->swap_count; i++) {
        const sw_answer_swap *swap = &bundle->swaps[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "role", swap->role);
        sw_writer_bool(one, "must", swap->must);
        add_parts(one, "out", answer, swap->out, swap->out_count, false);
        add_parts(one, "in", answer, swap->in, swap->in_count, true);
        add_parts(one, "stays", answer, swap->stays, swap->stay_count, false);
        sw_writer_money(one, "cost", swap->cost, answer->digits);
        sw_writer_integer(one, "minutes", swap->minutes);
    }
}

void sw_json_tasks(sw_writer *in, const sw_answer *answer, const sw_answer_bundle *bundle) {
    sw_writer *list = sw_writer_array(in, "tasks");
    for (size_t i = 0; i < bundle->task_count; i++) {
        const sw_answer_task *task = &bundle->tasks[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "id", task->id);
        sw_writer_text(one, "name", task->name);
        sw_writer_text(one, "role", task->role);
        sw_writer_bool(one, "must", task->must);
        sw_writer_money(one, "price", task->price, answer->digits);
        sw_writer_integer(one, "minutes", task->minutes);
    }
}

static void add_bill(sw_writer *in, const sw_answer *answer, const sw_answer_bundle *bundle) {
    sw_writer *bill = sw_writer_object(in, "bill");
    sw_writer_money(bill, "parts", bundle->goods, answer->digits);
    sw_writer_money(bill, "offers", bundle->offers, answer->digits);
    sw_writer_money(bill, "tasks", bundle->task_prices, answer->digits);
    sw_writer_money(bill, "charges", bundle->charges, answer->digits);
    sw_writer_money(bill, "labour", bundle->labour, answer->digits);
    sw_writer_money(bill, "tax", bundle->tax, answer->digits);
    sw_writer_money(bill, "total", bundle->cost, answer->digits);
    sw_writer_money(bill, "left", answer->budget - bundle->cost, answer->digits);
    sw_writer *list = sw_writer_array(in, "charges");
    for (size_t i = 0; i < bundle->due_count; i++) {
        const sw_answer_charge *due = &bundle->dues[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "id", due->id);
        sw_writer_text(one, "name", due->name);
        sw_writer_money(one, "amount", due->amount, answer->digits);
        sw_writer_bool(one, "waived", due->waived);
        sw_writer_bool(one, "errand", due->errand);
        sw_writer_integer(one, "minutes", due->minutes);
    }
}

void sw_json_sound(sw_writer *in, const sw_answer *answer, const sw_answer_bundle *bundle) {
    if (!answer->has_sound)
        return;
    sw_writer *sound = sw_writer_object(in, "sound");
    sw_writer_rounded(sound, "level_now_dba", answer->level_now_dba, 1);
    sw_writer_rounded(sound, "level_dba", bundle->level_dba, 1);
    sw_writer_rounded(sound, "loudness_now_sone", answer->loudness_now_sone, 2);
    sw_writer_rounded(sound, "loudness_sone", bundle->loudness_sone, 2);
}

static void add_measures(sw_writer *in, const sw_answer_bundle *bundle) {
    sw_writer *measures = bundle->measure_count > 0 ? sw_writer_array(in, "measures") : NULL;
    for (size_t i = 0; i < bundle->measure_count; i++) {
        const sw_answer_measure *measure = &bundle->measures[i];
        sw_writer *one = sw_writer_object(measures, NULL);
        sw_writer_text(one, "measure", measure->id);
        sw_writer_text(one, "unit", measure->unit);
        sw_writer_number(one, "now_low", measure->now.low);
        sw_writer_number(one, "now", measure->now.mid);
        sw_writer_number(one, "now_high", measure->now.high);
        sw_writer_number(one, "low", measure->then.low);
        sw_writer_number(one, "value", measure->then.mid);
        sw_writer_number(one, "high", measure->then.high);
    }
}

void sw_json_rates(sw_writer *in, const sw_answer_bundle *bundle) {
    sw_writer *list = sw_writer_array(in, "rates");
    for (size_t i = 0; i < bundle->rate_count; i++) {
        const sw_answer_rate *rate = &bundle->rates[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "use", rate->use);
        sw_writer_text(one, "unit", rate->unit);
        sw_writer_rounded(one, "ratio", rate->ratio, 2);
        if (rate->rate_now > 0) {
            sw_writer_rounded(one, "rate_now", rate->rate_now, 1);
            sw_writer_rounded(one, "rate", rate->rate_then, 1);
            sw_writer_rounded(one, "rate_low", rate->rate_low, 1);
            sw_writer_rounded(one, "rate_high", rate->rate_high, 1);
        }
        sw_writer_text(one, "limited_now_by", rate->limit_now);
        sw_writer_text(one, "limited_by", rate->limit_then);
    }
}

static const char *const caution_kinds[] = {"rule",  "falls-short-today", "unknown", "task",
                                            "given", "near-its-limit"};

static void add_cautions(sw_writer *in, const sw_answer_bundle *bundle) {
    sw_writer *list = sw_writer_array(in, "cautions");
    for (size_t i = 0; i < bundle->caution_count; i++) {
        const sw_answer_caution *caution = &bundle->cautions[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "kind", caution_kinds[caution->kind]);
        sw_writer_text(one, "id", caution->id);
        sw_writer_text(one, "client", caution->client);
        if (caution->bench != NULL)
            sw_writer_text(one, "bench", caution->bench);
    }
}

void sw_json_bundle(sw_writer *in, const sw_answer *answer, const sw_answer_bundle *bundle) {
    sw_writer_milli(in, "points", bundle->points, 3);
    sw_writer_money(in, "cost", bundle->cost, answer->digits);
    sw_writer *criteria = sw_writer_object(in, "criteria");
    for (size_t c = 0; c < answer->criterion_count; c++) {
        sw_writer *one = sw_writer_object(criteria, answer->criterion_ids[c]);
        sw_writer_milli(one, "points", bundle->by_criterion[c], 3);
        sw_writer_rounded(one, "weight", answer->weights[c], 3);
    }
    sw_json_swaps(in, answer, bundle);
    sw_json_tasks(in, answer, bundle);
    add_bill(in, answer, bundle);
    sw_writer_integer(in, "minutes", bundle->minutes);
    sw_writer_integer(in, "longest_days", bundle->longest_days);
    sw_json_sound(in, answer, bundle);
    add_measures(in, bundle);
    sw_json_rates(in, bundle);
    add_cautions(in, bundle);
}
