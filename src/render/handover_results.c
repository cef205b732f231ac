/* Promised against measured: what has a drawing, what was looked at, what was not measured. */
#include "render/handover_paper.h"

static bool is_drawn(sw_proof_of of) { return of != SW_PROOF_DONE; }

/* ---- how it went, in one look -----------------------------------------------------------------
 */

static void count(sw_html *h, const sw_handover *of, sw_outcome outcome, bool always) {
    size_t number = 0;
    for (size_t i = 0; i < of->bench->proof_count; i++)
        number += of->results[i].outcome == outcome;
    if (number == 0 && !always)
        return;
    sw_html_raw(h, "<div>");
    sw_html_element(h, "dt", "", sw_outcome_told(outcome));
    sw_html_raw(h, "<dd>");
    sw_html_number(h, "count", sw_outcomes[outcome], SW_FORMAT(&h->sheet, "%zu", number));
    sw_html_raw(h, "</dd></div>\n");
}

static void counts(sw_handover_paper *p) {
    sw_html *h = &p->html;
    sw_html_raw(h, "<dl class=\"figures\">\n");
    count(h, p->handover, SW_AS_FORETOLD, true);
    count(h, p->handover, SW_BETTER, false);
    count(h, p->handover, SW_WORSE, false);
    count(h, p->handover, SW_FAILS, false);
    count(h, p->handover, SW_NOT_FORETOLD, false);
    count(h, p->handover, SW_NOT_MEASURED, false);
    sw_html_raw(h, "</dl>\n");
}

/* ---- what has a number ------------------------------------------------------------------------
 */

static void promised(sw_html *h, const sw_told_proof *proof, const char *name) {
    sw_html_raw(h, " <td>");
    sw_paper_label(h, "Promised");
    if (!proof->has_band) {
        sw_html_raw(h, "nothing</td>");
        return;
    }
    sw_html_number(h, name, "promised", sw_bench_foretold(&h->sheet, proof));
    if (proof->calibrated) {
        sw_html_raw(h, "<br><small>");
        sw_html_text(h,
                     SW_FORMAT(&h->sheet, "as %zu jobs of ours have shown", proof->learnt.pairs));
        sw_html_raw(h, "</small>");
    }
    sw_html_raw(h, "</td>");
}

static void before(sw_html *h, const sw_told_proof *proof, const sw_told_result *result,
                   const char *name) {
    sw_html_raw(h, " <td>");
    if (result->has_before || proof->has_today) {
        sw_paper_label(h, "Before");
        sw_html_number(h, name, "before",
                       result->has_before ? sw_bench_read(&h->sheet, proof, result->before)
                                          : sw_bench_value(&h->sheet, proof, proof->today));
    }
    sw_html_raw(h, "</td>");
}

static void row(sw_html *h, const sw_handover *of, size_t i) {
    const sw_told_proof *proof = &of->bench->proofs[i];
    const sw_told_result *result = &of->results[i];
    const char *name = SW_FORMAT(&h->sheet, "check-%zu", i + 1);
    sw_html_raw(h, "<tr>");
    sw_html_element(h, "th", " scope=\"row\" class=\"name\"",
                    proof->use == NULL ? proof->name : proof->use_name);
    sw_html_raw(h, " <td class=\"drawn\">");
    sw_handover_bar(h, proof, result);
    sw_html_raw(h, "</td>");
    before(h, proof, result, name);
    promised(h, proof, name);
    sw_html_raw(h, " <td>");
    sw_paper_label(h, "Measured");
    sw_html_number(h, name, "measured", sw_bench_read(&h->sheet, proof, result->value));
    sw_html_raw(h, "</td> <td class=\"result\">");
    sw_paper_label(h, "So it is");
    sw_html_number(h, name, "outcome", sw_outcome_told(result->outcome));
    if (result->below_promise)
        sw_html_raw(h, "<br><small>below the least promised: we look at it again</small>");
    sw_html_raw(h, "</td></tr>\n");
}

/* Checks of the kinds from `first` to `last` that were measured. */
static void table(sw_handover_paper *p, const char *id, const char *heading, sw_proof_of first,
                  sw_proof_of last) {
    sw_html *h = &p->html;
    const sw_bench *b = p->handover->bench;
    bool any = false;
    for (size_t i = 0; i < b->proof_count; i++) {
        sw_proof_of of = b->proofs[i].of;
        if (of < first || of > last || !p->handover->results[i].measured)
            continue;
        if (!any) {
            sw_text_addf(&h->out, "<table class=\"stack results\" aria-labelledby=\"%s\">\n", id);
            sw_html_element(h, "caption", SW_FORMAT(&h->sheet, " id=\"%s\"", id), heading);
            sw_html_raw(h, "\n<thead><tr><th scope=\"col\">What</th><th scope=\"col\">Drawn</th>"
                           "<th scope=\"col\">Before</th><th scope=\"col\">Promised</th>"
                           "<th scope=\"col\">Measured</th><th scope=\"col\">So it is</th></tr>"
                           "</thead>\n<tbody>\n");
        }
        any = true;
        row(h, p->handover, i);
    }
    sw_html_raw(h, any ? "</tbody>\n</table>\n" : "");
}

/* ---- what was looked at, and what was not ------------------------------------------------------
 */

static void looked_at(sw_handover_paper *p) {
    sw_html *h = &p->html;
    const sw_bench *b = p->handover->bench;
    bool any = false;
    for (size_t i = 0; i < b->proof_count; i++) {
        const sw_told_result *result = &p->handover->results[i];
        if (is_drawn(b->proofs[i].of) || !result->measured)
            continue;
        sw_html_raw(h, any ? "" : "<h3>Looked at</h3>\n<ul class=\"two\">\n");
        any = true;
        sw_html_raw(h, "<li>");
        sw_html_text(h, b->proofs[i].name);
        sw_html_raw(h, ": <b>");
        sw_html_number(h, SW_FORMAT(&h->sheet, "check-%zu", i + 1), "outcome",
                       result->outcome == SW_AS_FORETOLD ? "in order"
                                                         : sw_outcome_told(result->outcome));
        sw_html_raw(h, "</b></li>\n");
    }
    sw_html_raw(h, any ? "</ul>\n" : "");
}

static void not_measured(sw_handover_paper *p) {
    sw_html *h = &p->html;
    const sw_bench *b = p->handover->bench;
    bool any = false;
    for (size_t i = 0; i < b->proof_count; i++) {
        if (p->handover->results[i].measured)
            continue;
        sw_html_raw(h, any ? "" : "<h3>Not measured</h3>\n<ul class=\"two\">\n");
        any = true;
        sw_html_raw(h, "<li>");
        sw_html_text(h, sw_bench_check_name(&h->sheet, &b->proofs[i]));
        if (is_drawn(b->proofs[i].of) && b->proofs[i].has_band) {
            sw_html_raw(h, ", promised ");
            sw_html_number(h, SW_FORMAT(&h->sheet, "check-%zu", i + 1), "promised",
                           sw_bench_foretold(&h->sheet, &b->proofs[i]));
        }
        sw_html_raw(h, "</li>\n");
    }
    sw_html_raw(h, any ? "</ul>\n" : "");
}

void sw_handover_results(sw_handover_paper *p) {
    sw_html *h = &p->html;
    const sw_bench *b = p->handover->bench;
    bool drawn = false;
    if (b->proof_count == 0)
        return;
    for (size_t i = 0; i < b->proof_count; i++)
        drawn = drawn || (p->handover->results[i].measured && is_drawn(b->proofs[i].of));
    sw_paper_section(h, "results", "Promised and measured");
    counts(p);
    if (drawn)
        sw_handover_bar_key(h);
    table(p, "pace", "How fast it is at what you do", SW_PROOF_RATES, SW_PROOF_RATES);
    table(p, "rest", "What else we foretold", SW_PROOF_MEASURE, SW_PROOF_MEASURE);
    table(p, "limits", "What must keep within a limit", SW_PROOF_MOST, SW_PROOF_LEAST);
    looked_at(p);
    not_measured(p);
    sw_html_raw(h, "</section>\n");
}
