/* The hand-over as text. */
#include <string.h>

#include "render/conflict.h"
#include "render/handover.h"
#include "render/options.h"

static void head(sw_sheet *s, const sw_handover *h) {
    const sw_option *option = h->bench->option;
    const char *stop = sw_handover_stop(s, h);
    if (stop[0] != '\0')
        sw_sheet_words(s, "", stop);
    sw_sheet_head(s, false);
    sw_sheet_words(s, "",
                   SW_FORMAT(s, "Hand-over of job %s, option %zu (%s)%s%s.", h->job,
                             h->bench->number, sw_option_names[option->place],
                             h->date == NULL ? "" : ", on ", h->date == NULL ? "" : h->date));
    sw_sheet_words(s, "", sw_handover_sum(s, h));
}

/* ---- promised and measured --------------------------------------------------------------------
 */

static const char *before(sw_sheet *s, const sw_told_proof *proof, const sw_told_result *result) {
    if (proof->of == SW_PROOF_DONE || (!result->has_before && !proof->has_today))
        return "";
    return SW_FORMAT(s, " Before the work: %s.",
                     sw_bench_value(s, proof, result->has_before ? result->before : proof->today));
}

static void result(sw_sheet *s, const sw_handover *h, size_t at) {
    const sw_told_proof *proof = &h->bench->proofs[at];
    const sw_told_result *of = &h->results[at];
    sw_sheet_sum(s, "  ", sw_bench_check_name(s, proof),
                 of->measured ? sw_bench_value(s, proof, of->value) : "");
    sw_sheet_words(s, "    ",
                   SW_FORMAT(s, "Foretold: %s.%s So it is %s.%s", sw_bench_foretold(s, proof),
                             before(s, proof, of), sw_outcome_words(of->outcome),
                             of->below_promise
                                 ? " It lies below the least that was promised: we look at it "
                                   "again, without charge."
                                 : ""));
}

static void results(sw_sheet *s, const sw_handover *h) {
    size_t open = 0;
    for (size_t i = 0; i < h->bench->proof_count; i++)
        open += h->results[i].outcome == SW_NOT_MEASURED;
    sw_page_heading(&s->page, "Foretold and measured", "measured");
    for (size_t i = 0; i < h->bench->proof_count; i++)
        if (h->results[i].outcome != SW_NOT_MEASURED)
            result(s, h, i);
    if (open == 0)
        return;
    sw_page_heading(&s->page, "Not measured", NULL);
    for (size_t i = 0; i < h->bench->proof_count; i++)
        if (h->results[i].outcome == SW_NOT_MEASURED)
            sw_sheet_words(s, "  - ", sw_bench_check_name(s, &h->bench->proofs[i]));
}

/* ---- the rest
 * ------------------------------------------------------------------------------------ */

static void list(sw_sheet *s, const char *heading, const char *const *texts, size_t count) {
    if (count > 0)
        sw_page_heading(&s->page, heading, NULL);
    for (size_t i = 0; i < count; i++)
        sw_sheet_words(s, "  - ", texts[i]);
}

static void parts(sw_sheet *s, const sw_handover *h) {
    if (h->cover_count > 0)
        sw_page_heading(&s->page, "What is new in it", NULL);
    for (size_t i = 0; i < h->cover_count; i++) {
        const sw_told_cover *cover = &h->covers[i];
        const char *count = cover->count > 1 ? SW_FORMAT(s, "%d x ", cover->count) : "";
        sw_sheet_words(s, "  - ",
                       SW_FORMAT(s, "%s%s (%s), %s.", count, cover->name, cover->role_name,
                                 sw_cover_words(s, cover)));
    }
    if (h->bench->out_count > 0)
        sw_page_heading(&s->page, "What came out, and whose it is", NULL);
    for (size_t i = 0; i < h->bench->out_count; i++)
        sw_sheet_words(s, "  - ",
                       SW_FORMAT(s, "%s (%s). %s", h->bench->out[i].piece.name,
                                 h->bench->out[i].piece.role_name,
                                 sw_handover_whose(s, h->bench, &h->bench->out[i])));
}

static void call(sw_sheet *s, const sw_handover *h) {
    const sw_options *o = h->bench->options;
    sw_page_heading(&s->page, "The call a week later",
                    h->call_on == NULL ? SW_FORMAT(s, "after %d days", h->bench->call_after_days)
                                       : h->call_on);
    for (size_t t = 0; t < o->trouble_count; t++)
        if (h->bench->option->ends[t] && o->troubles[t].shows)
            sw_sheet_words(s, "  - ",
                           SW_FORMAT(s, "You said: \"%s\". Is that over?",
                                     o->troubles[t].words[0] != '\0' ? o->troubles[t].words
                                                                     : o->troubles[t].name));
    for (size_t i = 0; i < h->bench->ask_count; i++)
        sw_sheet_words(s, "  - ", h->bench->asks[i]);
}

sw_status sw_render_handover_text(char **out, const sw_handover *h, sw_text_style style) {
    sw_sheet s;
    const sw_answer *a = h->bench->options->plan;
    if (!sw_sheet_start(&s, a, style))
        return SW_NO_MEMORY;
    if (h->bench->option == NULL) {
        sw_sheet_head(&s, true);
        sw_sheet_beware(&s);
        sw_page_gap(&s.page);
        if (a->status == SW_NOTHING_FITS)
            sw_sheet_conflict(&s);
        else
            sw_sheet_no_best(&s);
        return sw_sheet_finish(out, &s);
    }
    head(&s, h);
    sw_sheet_beware(&s);
    results(&s, h);
    list(&s, "Left out, or taken back", h->left_out, h->left_out_count);
    list(&s, "Notes", h->notes, h->note_count);
    parts(&s, h);
    call(&s, h);
    return sw_sheet_finish(out, &s);
}
