/* What is measured before the machine goes out, with room for what is read. */
#include "render/bench_paper.h"

static const char *takes(sw_html *h, const sw_told_proof *proof) {
    sw_sheet *s = &h->sheet;
    if (proof->minutes + proof->alone_minutes == 0)
        return "";
    if (proof->alone_minutes == 0)
        return SW_FORMAT(s, "Takes %s.", sw_bench_minutes(s, proof->minutes));
    if (proof->minutes == 0)
        return SW_FORMAT(s, "Takes %s by itself.", sw_bench_minutes(s, proof->alone_minutes));
    return SW_FORMAT(s, "Takes %s, and %s by itself.", sw_bench_minutes(s, proof->minutes),
                     sw_bench_minutes(s, proof->alone_minutes));
}

static void how(sw_html *h, const sw_told_proof *proof) {
    const char *minutes = takes(h, proof);
    sw_html_raw(h, " <td class=\"how\">");
    if (proof->words[0] != '\0' || minutes[0] != '\0')
        sw_html_element(h, "p", "",
                        SW_FORMAT(&h->sheet, "%s%s%s", proof->words,
                                  proof->words[0] != '\0' && minutes[0] != '\0' ? " " : "",
                                  minutes));
    if (proof->fails[0] != '\0') {
        sw_html_raw(h, "<p><b>If not:</b> ");
        sw_html_text(h, proof->fails);
        sw_html_raw(h, "</p>");
    }
    sw_html_raw(h, "</td>");
}

static void today(sw_html *h, const sw_told_proof *proof, const char *name) {
    sw_html_raw(h, " <td>");
    if (proof->has_today) {
        sw_paper_label(h, "Today");
        sw_html_number(h, name, "today", sw_bench_value(&h->sheet, proof, proof->today));
    }
    sw_html_raw(h, "</td>");
}

static void foretold(sw_html *h, const sw_told_proof *proof, const char *name) {
    sw_html_raw(h, " <td>");
    sw_paper_label(h, "Foretold");
    sw_html_number(h, name, "foretold", sw_bench_foretold(&h->sheet, proof));
    if (proof->calibrated) {
        sw_html_raw(h, "<br><small>");
        sw_html_text(h, SW_FORMAT(&h->sheet,
                                  "From %zu of the shop's own jobs: 9 in 10 such jobs lie within.",
                                  proof->learnt.pairs));
        sw_html_raw(h, "</small>");
    }
    sw_html_raw(h, "</td>");
}

static void measured(sw_html *h, const sw_told_proof *proof) {
    sw_html_raw(h, " <td>");
    if (proof->of == SW_PROOF_DONE) {
        sw_paper_label(h, "In order");
        sw_html_raw(h, "<span class=\"pair\">");
        sw_paper_box(h);
        sw_html_raw(h, "yes</span> <span class=\"pair\">");
        sw_paper_box(h);
        sw_html_raw(h, "no</span>");
    } else {
        sw_paper_label(h, "Measured");
        sw_paper_blank(h);
        sw_html_text(h, proof->unit);
    }
    sw_html_raw(h, "</td></tr>\n");
}

void sw_bench_checks(sw_bench_paper *p) {
    sw_html *h = &p->html;
    const sw_bench *b = p->bench;
    if (b->proof_count == 0)
        return;
    sw_paper_section(h, "checks", "Before it is handed over: what is measured");
    sw_html_raw(h, "<table class=\"stack\">\n<caption>What does not hold goes back to the bench, "
                   "or is told to the client before the machine goes out.</caption>\n<thead><tr>"
                   "<th scope=\"col\">Check</th><th scope=\"col\">How, and what to do if not</th>"
                   "<th scope=\"col\">Today</th><th scope=\"col\">Foretold</th><th scope=\"col\">"
                   "Measured</th></tr></thead>\n<tbody>\n");
    for (size_t i = 0; i < b->proof_count; i++) {
        const sw_told_proof *proof = &b->proofs[i];
        const char *name = SW_FORMAT(&h->sheet, "check-%zu", i + 1);
        sw_html_raw(h, "<tr>");
        sw_html_element(h, "th", " scope=\"row\" class=\"name\"",
                        sw_bench_check_name(&h->sheet, proof));
        how(h, proof);
        today(h, proof, name);
        foretold(h, proof, name);
        measured(h, proof);
    }
    sw_html_raw(h, "</tbody>\n</table>\n</section>\n");
}
