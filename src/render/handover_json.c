/* The answer of `handover` as JSON: README.md lists the fields. */
#include "render/handover.h"

#include "render/answer_json.h"
#include "render/bench_parts.h"
#include "render/calibration.h"
#include "render/json_writer.h"

static void number_or_null(sw_writer *in, const char *name, bool known, double number) {
    if (known)
        sw_writer_number(in, name, number);
    else
        sw_writer_text(in, name, NULL);
}

static void add_results(sw_writer *root, const sw_handover *h) {
    sw_writer *list = sw_writer_array(root, "checks");
    for (size_t i = 0; i < h->bench->proof_count; i++) {
        const sw_told_proof *proof = &h->bench->proofs[i];
        const sw_told_result *result = &h->results[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_json_proof(one, proof);
        number_or_null(one, "before", result->has_before, result->before);
        number_or_null(one, "measured", result->measured, result->value);
        sw_writer_text(one, "outcome", sw_outcomes[result->outcome]);
        sw_writer_bool(one, "below_promise", result->below_promise);
    }
}

static void add_covers(sw_writer *root, const sw_handover *h) {
    sw_writer *list = sw_writer_array(root, "parts");
    for (size_t i = 0; i < h->cover_count; i++) {
        const sw_told_cover *cover = &h->covers[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "part", cover->part);
        sw_writer_text(one, "name", cover->name);
        sw_writer_integer(one, "count", cover->count);
        sw_writer_text(one, "here_on", cover->here_on);
        sw_writer_text(one, "warranty_until", cover->warranty_until);
        sw_writer_text(one, "return_until", cover->return_until);
    }
}

static void add_texts(sw_writer *root, const char *name, const char *const *texts, size_t count) {
    sw_writer *list = sw_writer_array(root, name);
    for (size_t i = 0; i < count; i++)
        sw_writer_text(list, NULL, texts[i]);
}

sw_status sw_render_handover_json(char **out, const sw_handover *h) {
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_json_bench_frame(root, h->bench);
    sw_writer_text(root, "job", h->job);
    sw_writer_text(root, "date", h->date);
    sw_json_beware(root, h->bench->options->plan);
    if (h->bench->option == NULL)
        return sw_writer_finish(out, root);
    add_results(root, h);
    add_texts(root, "look_again", h->look_again, h->look_again_count);
    add_texts(root, "left_out", h->left_out, h->left_out_count);
    add_texts(root, "notes", h->notes, h->note_count);
    add_covers(root, h);
    sw_writer *call = sw_writer_object(root, "call");
    sw_writer_text(call, "on", h->call_on);
    sw_writer_integer(call, "after_days", h->bench->call_after_days);
    add_texts(call, "asks", h->bench->asks, h->bench->ask_count);
    return sw_writer_finish(out, root);
}

sw_status sw_render_handover_record(char **out, const sw_handover *h, sw_complaints *complaints) {
    if (h->past == NULL)
        return SW_INTERNAL;
    return sw_render_calibration(out, h->past, h->bench->option == NULL ? NULL : &h->record,
                                 complaints);
}
