/* What is wrong with the machine today: what the client said, and what the bench sees. */
#include <string.h>

#include "render/proposal.h"

#define SW_FINDINGS_SAID 6 /* more, and nobody reads them; `look` tells all */

static void complaints(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_options *o = p->options;
    if (o->trouble_count == 0)
        return;
    sw_html_raw(h, "<h3>What you told us</h3>\n<ul>\n");
    for (size_t t = 0; t < o->trouble_count; t++) {
        const sw_told_trouble *told = &o->troubles[t];
        sw_html_raw(h, "<li><strong>");
        sw_html_text(h, told->name);
        sw_html_raw(h, "</strong>");
        if (told->use != NULL)
            sw_html_text(h, SW_FORMAT(&h->sheet, " (%s)", told->use_name));
        if (told->words[0] != '\0')
            sw_html_text(h, SW_FORMAT(&h->sheet, ": \xe2\x80\x9c%s\xe2\x80\x9d", told->words));
        sw_html_raw(h, ". ");
        sw_html_text(h, sw_option_fate(&h->sheet, o, t));
        sw_html_raw(h, "</li>\n");
    }
    sw_html_raw(h, "</ul>\n");
}

static void musts(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_answer *a = p->options->plan;
    if (a->must_count == 0)
        return;
    sw_html_raw(h, "<h3>What must be done in any case</h3>\n<ul>\n");
    for (size_t m = 0; m < a->must_count; m++) {
        const sw_answer_must *must = &a->musts[m];
        sw_html_raw(h, "<li>");
        sw_html_text(h, SW_FORMAT(&h->sheet, "%s%s. %s",
                                  must->replace != NULL ? "Take out " : "Work: ",
                                  must->replace != NULL ? must->replace : must->task, must->why));
        sw_html_raw(h, "</li>\n");
    }
    sw_html_raw(h, "</ul>\n");
}

/* One finding of each kind about a role: what comes first says most. */
static bool said_before(const sw_look *look, size_t at) {
    for (size_t i = 0; i < at; i++)
        if (look->findings[i].kind == look->findings[at].kind &&
            strcmp(look->findings[i].about, look->findings[at].about) == 0)
            return true;
    return false;
}

static void findings(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_look *look = p->options->look;
    size_t said = 0;
    if (look->finding_count == 0) {
        sw_html_element(h, "p", "",
                        look->has_forms ? "The bench found nothing wrong with the machine."
                                        : "The machine was not looked over.");
        return;
    }
    sw_html_raw(h, "<h3>What the bench found</h3>\n<ul class=\"two\">\n");
    for (size_t i = 0; i < look->finding_count && said < SW_FINDINGS_SAID; i++) {
        const sw_look_finding *finding = &look->findings[i];
        if (said_before(look, i))
            continue;
        said++;
        sw_html_raw(h, "<li><strong>");
        sw_html_text(h, finding->about_name);
        sw_html_raw(h, "</strong>: ");
        sw_html_text(h, finding->evidence);
        sw_html_raw(h, " ");
        sw_html_text(h, finding->means);
        sw_html_raw(h, "</li>\n");
    }
    sw_html_raw(h, "</ul>\n");
    if (look->finding_count > said)
        sw_html_element(h, "p", "",
                        SW_FORMAT(&h->sheet, "And %zu of less weight: ask us for the list.",
                                  look->finding_count - said));
}

void sw_proposal_wrong(sw_proposal *p) {
    sw_html *h = &p->html;
    sw_html_raw(h, "<section aria-labelledby=\"wrong\">\n<h2 id=\"wrong\">What is wrong "
                   "today</h2>\n");
    complaints(p);
    musts(p);
    findings(p);
    sw_html_raw(h, "</section>\n");
}
