/* The answer of `bench` as JSON: README.md lists the fields. */
#include "render/bench.h"

#include <math.h>
#include <string.h>

#include "render/answer_json.h"
#include "render/bench_parts.h"
#include "render/options.h"

static void add_piece(sw_writer *in, const sw_told_piece *piece) {
    sw_writer_text(in, "role", piece->role);
    sw_writer_text(in, "part", piece->part);
    sw_writer_text(in, "name", piece->name);
    sw_writer_integer(in, "count", piece->count);
}

/* ---- the machine -------------------------------------------------------------------------------
 */

static bool is_of(const char *role, const char *other) { return strcmp(role, other) == 0; }

static void add_role(sw_writer *list, const sw_bench *b, const char *role) {
    sw_writer *one = sw_writer_object(list, NULL);
    sw_writer_text(one, "role", role);
    sw_writer *parts = sw_writer_array(one, "parts");
    for (size_t i = 0; i < b->piece_count; i++) {
        if (!is_of(b->pieces[i].role, role))
            continue;
        sw_writer *part = sw_writer_object(parts, NULL);
        sw_writer_text(part, "part", b->pieces[i].part);
        sw_writer_integer(part, "count", b->pieces[i].count);
        sw_writer_bool(part, "added", b->added[i]);
    }
    sw_writer *tasks = sw_writer_array(one, "tasks");
    for (size_t i = 0; i < b->task_count; i++)
        if (is_of(b->task_roles[i], role))
            sw_writer_text(tasks, NULL, b->task_ids[i]);
}

/* The first of a role that the lists name next, in byte order; both are in that order. */
static void add_machine(sw_writer *in, const sw_bench *b) {
    sw_writer *list = sw_writer_array(in, "machine");
    size_t piece = 0, task = 0;
    while (piece < b->piece_count || task < b->task_count) {
        const char *role = piece < b->piece_count ? b->pieces[piece].role : b->task_roles[task];
        if (task < b->task_count && strcmp(b->task_roles[task], role) < 0)
            role = b->task_roles[task];
        add_role(list, b, role);
        while (piece < b->piece_count && is_of(b->pieces[piece].role, role))
            piece++;
        while (task < b->task_count && is_of(b->task_roles[task], role))
            task++;
    }
}

/* ---- the work
 * ------------------------------------------------------------------------------------ */

static void add_causes(sw_writer *in, const sw_told_action *action) {
    static const char *const names[] = {
        [SW_CAUSE_CHANGES] = "changes", [SW_CAUSE_TASK] = "task",
        [SW_CAUSE_CHARGE] = "charge",   [SW_CAUSE_STEP] = "step",
        [SW_CAUSE_COVERS] = "covers",   [SW_CAUSE_CARRIED] = "carried-by",
        [SW_CAUSE_SO] = "so",           [SW_CAUSE_ALWAYS] = "always",
    };
    sw_writer *list = sw_writer_array(in, "because");
    for (size_t i = 0; i < action->cause_count; i++) {
        sw_writer *one = sw_writer_object(list, NULL);
        if (action->causes[i].cause == SW_CAUSE_ALWAYS)
            sw_writer_bool(one, "always", true);
        else
            sw_writer_text(one, names[action->causes[i].cause], action->causes[i].id);
    }
}

static void add_action(sw_writer *list, const sw_bench *b, const sw_told_action *action,
                       size_t number) {
    sw_writer *one = sw_writer_object(list, NULL);
    sw_writer_integer(one, "number", (int64_t)number);
    sw_writer_text(one, "stage", b->stages[action->stage]);
    sw_writer_text(one, "does", sw_bench_does[action->does]);
    sw_writer_text(one, "step", action->step);
    if (action->piece.role != NULL) {
        add_piece(one, &action->piece);
    } else {
        sw_writer_text(one, "role", NULL);
        sw_writer_text(one, "part", NULL);
        sw_writer_text(one, "name", NULL);
        sw_writer_text(one, "count", NULL);
    }
    sw_writer *with = sw_writer_array(one, "with");
    for (size_t i = 0; i < action->with_count; i++)
        add_piece(sw_writer_object(with, NULL), &action->with[i]);
    sw_writer_text(one, "words", action->words);
    sw_writer_text(one, "caution", action->caution[0] == '\0' ? NULL : action->caution);
    sw_writer_integer(one, "minutes", action->minutes);
    sw_writer_integer(one, "alone_minutes", action->alone_minutes);
    sw_writer_bool(one, "billed", action->billed);
    add_causes(one, action);
}

static void add_minutes(sw_writer *in, const sw_bench *b) {
    sw_writer *out = sw_writer_object(in, "minutes");
    sw_writer_integer(out, "billed", b->billed);
    sw_writer_integer(out, "beside", b->beside);
    sw_writer_integer(out, "alone", b->alone);
}

/* ---- places, leads, what goes
 * ---------------------------------------------------------------------- */

static void add_stands(sw_writer *in, const sw_bench *b) {
    sw_writer *list = sw_writer_array(in, "stands");
    for (size_t i = 0; i < b->stand_count; i++) {
        const sw_told_stand *stand = &b->stands[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "kind", stand->kind);
        sw_writer_text(one, "size", stand->size);
        sw_writer_integer(one, "count", stand->count);
        sw_writer_text(one, "role", stand->role);
        sw_writer_text(one, "part", stand->part);
        sw_writer_text(one, "name", stand->name);
        sw_writer_text(one, "on_role", stand->on_role);
        sw_writer_text(one, "on_part", stand->on_part);
        sw_writer_text(one, "on_name", stand->on_name);
        sw_writer_text(one, "site", stand->site);
        sw_writer_text(one, "side", stand->side);
        sw_writer_text(one, "blows", stand->blows);
    }
}

static void add_amounts(sw_writer *in, const char *name, const sw_told_amount *of, size_t count) {
    sw_writer *list = sw_writer_array(in, name);
    for (size_t i = 0; i < count; i++) {
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "role", of[i].role);
        sw_writer_millionths(one, "amount", of[i].millionths);
    }
}

static void add_leads(sw_writer *in, const sw_bench *b) {
    sw_writer *list = sw_writer_array(in, "leads");
    for (size_t i = 0; i < b->lead_count; i++) {
        const sw_told_lead *lead = &b->leads[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "rule", lead->rule);
        sw_writer_text(one, "name", lead->name);
        sw_writer_millionths(one, "need", lead->need);
        sw_writer_millionths(one, "there", lead->there);
        add_amounts(one, "takes", lead->takes, lead->take_count);
        add_amounts(one, "gives", lead->gives, lead->give_count);
    }
}

static void add_out(sw_writer *in, const sw_bench *b) {
    sw_writer *list = sw_writer_array(in, "out");
    for (size_t i = 0; i < b->out_count; i++) {
        const sw_told_out *out = &b->out[i];
        sw_writer *one = sw_writer_object(list, NULL);
        add_piece(one, &out->piece);
        sw_writer_text(one, "condition", out->condition);
        sw_writer_text(one, "whose", out->offer > 0 ? "shop" : "client");
        if (out->offer > 0)
            sw_writer_money(one, "offer", out->offer, b->options->plan->digits);
        else
            sw_writer_text(one, "offer", NULL);
        sw_writer_bool(one, "keeps_files", out->keeps_files);
    }
}

/* ---- checks
 * ---------------------------------------------------------------------------------------- */

static void number_or_null(sw_writer *in, const char *name, bool known, double number) {
    if (known && isfinite(number))
        sw_writer_number(in, name, number);
    else
        sw_writer_text(in, name, NULL);
}

static void add_learnt(sw_writer *in, const sw_told_proof *proof) {
    if (!proof->calibrated) {
        sw_writer_text(in, "calibrated", NULL);
        return;
    }
    sw_writer *out = sw_writer_object(in, "calibrated");
    sw_writer_integer(out, "pairs", (int64_t)proof->learnt.pairs);
    sw_writer_number(out, "bias", proof->learnt.bias);
    sw_writer_number(out, "spread", proof->learnt.spread);
}

void sw_json_proof(sw_writer *one, const sw_told_proof *proof) {
    static const char *const ofs[] = {"measure", "rates", "most", "least", "done"};
    bool foretold = proof->of == SW_PROOF_MEASURE || proof->of == SW_PROOF_RATES;
    sw_writer_text(one, "check", proof->id);
    sw_writer_text(one, "use", proof->use);
    sw_writer_text(one, "name", proof->name);
    sw_writer_text(one, "unit", proof->unit[0] == '\0' ? NULL : proof->unit);
    sw_writer_integer(one, "digits", proof->digits);
    sw_writer_text(one, "of", ofs[proof->of]);
    sw_writer_text(one, "scale", !foretold ? NULL : proof->ratio ? "ratio" : "difference");
    sw_writer_text(one, "better", !foretold ? NULL : proof->more ? "more" : "less");
    sw_writer_bool(one, "bars", proof->bars);
    number_or_null(one, "today", proof->has_today, proof->today);
    number_or_null(one, "foretold", foretold && proof->has_band, proof->foretold);
    number_or_null(one, "low", proof->has_band, proof->low);
    number_or_null(one, "high", proof->has_band, proof->high);
    add_learnt(one, proof);
}

static void add_checks(sw_writer *in, const sw_bench *b) {
    sw_writer *list = sw_writer_array(in, "checks");
    for (size_t i = 0; i < b->proof_count; i++) {
        const sw_told_proof *proof = &b->proofs[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_json_proof(one, proof);
        sw_writer_text(one, "words", proof->words);
        sw_writer_text(one, "fails", proof->fails[0] == '\0' ? NULL : proof->fails);
        sw_writer_integer(one, "minutes", proof->minutes);
        sw_writer_integer(one, "alone_minutes", proof->alone_minutes);
    }
}

static void add_hazards(sw_writer *in, const sw_bench *b) {
    const sw_terms *terms = &b->options->terms;
    sw_writer *list = sw_writer_array(in, "hazards");
    for (size_t i = 0; i < terms->hazard_count; i++) {
        if (!b->option->hazards[i])
            continue;
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "hazard", terms->hazards[i].id);
        sw_writer_text(one, "danger", terms->hazards[i].danger);
        sw_writer_text(one, "habit", terms->hazards[i].habit);
        sw_writer_text(one, "limit", terms->hazards[i].limit);
    }
}

static void add_call(sw_writer *in, const sw_bench *b) {
    sw_writer *call = sw_writer_object(in, "call");
    sw_writer_integer(call, "after_days", b->call_after_days);
    sw_writer *asks = sw_writer_array(call, "asks");
    for (size_t i = 0; i < b->ask_count; i++)
        sw_writer_text(asks, NULL, b->asks[i]);
}

/* ---- the whole
 * --------------------------------------------------------------------------------------- */

void sw_json_bench_frame(sw_writer *root, const sw_bench *b) {
    const sw_answer *a = b->options->plan;
    const char *date = b->options->terms.date;
    sw_writer_integer(root, "schema", 1);
    sw_writer_text(root, "status", sw_json_statuses[a->status]);
    sw_writer_bool(root, "unsettled", !sw_bench_is_settled(b));
    sw_json_stopped(root, !sw_bench_is_settled(b), a->asked_to_stop);
    sw_writer_text(root, "title", a->title);
    sw_writer_text(root, "currency", a->currency);
    sw_writer_text(root, "job_date", date[0] == '\0' ? NULL : date);
    if (b->option == NULL) {
        sw_writer_text(root, "option", NULL);
        return;
    }
    sw_writer *option = sw_writer_object(root, "option");
    sw_writer_integer(option, "number", (int64_t)b->number);
    sw_writer_text(option, "place", sw_option_places[b->option->place]);
    sw_writer_bool(option, "proved", b->option->proved);
    sw_writer_milli(root, "points", b->option->bundle.points, 3);
    sw_writer_money(root, "cost", b->option->bundle.cost, a->digits);
    sw_writer_integer(root, "days_without", b->option->days_without);
}

sw_status sw_render_bench_json(char **out, const sw_bench *b) {
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_json_bench_frame(root, b);
    sw_json_beware(root, b->options->plan);
    if (b->option == NULL)
        return sw_writer_finish(out, root);
    add_machine(root, b);
    sw_writer *work = sw_writer_array(root, "work");
    for (size_t i = 0; i < b->action_count; i++)
        add_action(work, b, &b->actions[i], i + 1);
    add_minutes(root, b);
    add_stands(root, b);
    add_leads(root, b);
    add_out(root, b);
    add_checks(root, b);
    sw_writer_text(root, "wiping", b->wiping[0] == '\0' ? NULL : b->wiping);
    add_call(root, b);
    add_hazards(root, b);
    return sw_writer_finish(out, root);
}
