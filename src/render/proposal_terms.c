/* What to mind, what we may do unasked, and the place to sign. */
#include <string.h>

#include "render/proposal.h"

/* ---- what to mind -------------------------------------------------------------------------------
 */

static bool *flags(sw_proposal *p) {
    bool *in = SW_NEW(p->html.sheet.arena, bool, SW_OPTIONS_MOST);
    p->html.out.failed = p->html.out.failed || in == NULL;
    return in;
}

/* "1, 3" */
static const char *numbers(sw_proposal *p, const bool *in) {
    const char *line = "";
    for (size_t i = 0; i < p->options->count; i++)
        if (in[i])
            line = SW_FORMAT(&p->html.sheet, "%s%s%zu", line, line[0] == '\0' ? "" : ",\xc2\xa0",
                             i + 1);
    return line;
}

static void hazards(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_options *o = p->options;
    bool *in = flags(p), any = false;
    for (size_t i = 0; i < o->count; i++)
        for (size_t k = 0; k < o->terms.hazard_count; k++)
            any = any || o->options[i].hazards[k];
    if (in == NULL || !any)
        return;
    sw_html_raw(h, "<div class=\"wide\" tabindex=\"0\" role=\"group\" aria-labelledby=\"mind\">\n"
                   "<table class=\"care\">\n<caption>Care at the bench and after it. The makers' "
                   "instructions, "
                   "local codes and licensed practice come first.</caption>\n<thead><tr>"
                   "<th scope=\"col\">What can hurt</th><th scope=\"col\">What is done about it"
                   "</th><th scope=\"col\">Where it ends</th><th scope=\"col\">Options</th></tr>"
                   "</thead>\n<tbody>\n");
    for (size_t k = 0; k < o->terms.hazard_count; k++) {
        const sw_told_hazard *hazard = &o->terms.hazards[k];
        for (size_t i = 0; i < o->count; i++)
            in[i] = o->options[i].hazards[k];
        const char *which = numbers(p, in);
        if (which[0] == '\0')
            continue;
        sw_html_raw(h, "<tr>");
        sw_html_element(h, "th", " scope=\"row\"", hazard->danger);
        sw_html_element(h, "td", "", hazard->habit);
        sw_html_element(h, "td", "", hazard->limit);
        sw_html_element(h, "td", "", which);
        sw_html_raw(h, "</tr>\n");
    }
    sw_html_raw(h, "</tbody>\n</table>\n</div>\n");
}

static bool warns(const sw_option *option, const char *words) {
    for (size_t i = 0; i < option->bundle.caution_count; i++)
        if (strcmp(option->bundle.cautions[i].client, words) == 0)
            return true;
    return false;
}

/* Said for an option before this one. */
static bool said(const sw_options *o, size_t option, const char *words) {
    for (size_t i = 0; i < option; i++)
        if (warns(&o->options[i], words))
            return true;
    return false;
}

/* What to know of the machine itself. What tasks warn of is for the bench: its hazards stand in
 * the table. */
static void cautions(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_options *o = p->options;
    bool *in = flags(p), any = false;
    if (in == NULL)
        return;
    for (size_t i = 0; i < o->count; i++)
        for (size_t c = 0; c < o->options[i].bundle.caution_count; c++) {
            const sw_answer_caution *caution = &o->options[i].bundle.cautions[c];
            if (caution->kind == SW_CAUTION_TASK || said(o, i, caution->client))
                continue;
            for (size_t k = 0; k < o->count; k++)
                in[k] = warns(&o->options[k], caution->client);
            sw_html_raw(h, any ? "" : "<ul class=\"two\">\n");
            any = true;
            sw_html_raw(h, "<li>");
            sw_html_text(h, SW_FORMAT(&h->sheet, "%s%s (%s)",
                                      caution->kind == SW_CAUTION_TODAY ? "Already so today: " : "",
                                      caution->client, numbers(p, in)));
            sw_html_raw(h, "</li>\n");
        }
    sw_html_raw(h, any ? "</ul>\n" : "");
}

/* ---- surprises
 * -------------------------------------------------------------------------------------- */

static void asks(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_options *o = p->options;
    bool *in = flags(p);
    if (in == NULL)
        return;
    for (size_t k = 0; k < o->terms.ask_count; k++) {
        for (size_t i = 0; i < o->count; i++)
            in[i] = o->options[i].asks[k];
        const char *which = numbers(p, in);
        if (which[0] == '\0')
            continue;
        sw_html_raw(h, "<li>");
        sw_html_text(h, SW_FORMAT(&h->sheet, "%s (%s)", o->terms.asks[k], which));
        sw_html_raw(h, "</li>\n");
    }
}

static bool asks_any(const sw_options *o) {
    for (size_t k = 0; k < o->terms.ask_count; k++)
        for (size_t i = 0; i < o->count; i++)
            if (o->options[i].asks[k])
                return true;
    return false;
}

static void without_asking(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_terms *t = &p->options->terms;
    if (t->surprise_name == NULL || t->free_count == 0)
        return;
    sw_html_raw(h, "<div>\n<h3>What we do without asking</h3>\n<ul>\n");
    for (size_t i = 0; i < t->free_count; i++)
        sw_html_element(h, "li", "", t->free_to[i]);
    sw_html_raw(h, "</ul>\n</div>\n");
}

static void with_your_word(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_terms *t = &p->options->terms;
    if (t->word_count == 0 && !asks_any(p->options))
        return;
    sw_html_raw(h, "<div>\n<h3>What needs your word before anything is ordered</h3>\n<ul>\n");
    for (size_t i = 0; i < t->word_count; i++)
        sw_html_element(h, "li", "", t->word[i]);
    asks(p);
    sw_html_raw(h,
                "</ul>\n<p>Your signature gives it for the option that you tick. Strike out what "
                "you do not want.</p>\n</div>\n");
}

static void surprises(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_terms *t = &p->options->terms;
    if (t->surprise_name == NULL && !asks_any(p->options))
        return;
    sw_html_raw(h, "<section aria-labelledby=\"ask\">\n<h2 id=\"ask\">How far we may go by "
                   "ourselves</h2>\n");
    if (t->surprise_name != NULL)
        sw_html_element(h, "p", "", SW_FORMAT(&h->sheet, "As agreed: %s.", t->surprise_name));
    sw_html_raw(h, "\n<div class=\"halves\">\n");
    without_asking(p);
    with_your_word(p);
    sw_html_raw(h, "</div>\n</section>\n");
}

/* ---- promises, choice, signature
 * ---------------------------------------------------------------------- */

static void promises(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_terms *t = &p->options->terms;
    bool luck = false;
    for (size_t i = 0; i < p->options->count; i++)
        luck = luck || p->options->options[i].has_chance;
    if (t->promise_count == 0 && !luck)
        return;
    sw_html_raw(h, "<section aria-labelledby=\"promise\">\n<h2 id=\"promise\">What we "
                   "promise</h2>\n<ul class=\"two\">\n");
    for (size_t i = 0; i < t->promise_count; i++)
        sw_html_element(h, "li", "", t->promises[i]);
    if (luck)
        sw_html_element(h, "li", "",
                        "A raised clock is a chance, not a promise: promised are the rates at the "
                        "makers' own clock.");
    sw_html_raw(h, "</ul>\n</section>\n");
}

static void choice(sw_proposal *p) {
    sw_html *h = &p->html;
    sw_sheet *s = &h->sheet;
    const sw_options *o = p->options;
    sw_html_raw(h, "<section class=\"keep\" aria-labelledby=\"sign\">\n<h2 id=\"sign\">Your "
                   "choice</h2>\n<ul class=\"choice\">\n");
    for (size_t i = 0; i < o->count; i++) {
        sw_html_raw(h, "<li><span class=\"box\"></span>");
        sw_html_text(h, SW_FORMAT(s, "Option %zu, %s: %s in all", i + 1,
                                  sw_option_names[o->options[i].place],
                                  sw_proposal_money(p, o->options[i].bundle.cost)));
        sw_html_raw(h, "</li>\n");
    }
    sw_html_raw(h, "<li><span class=\"box\"></span>None of these: the machine stays as it is");
    sw_html_raw(h, o->plan->must_count > 0 ? ", though something must be done" : "");
    sw_html_raw(h, "</li>\n</ul>\n");
    if (o->plan->reserve > 0)
        sw_html_element(h, "p", "",
                        SW_FORMAT(s, "The reserve of %s is touched only with your word.",
                                  sw_proposal_money(p, o->plan->reserve)));
    sw_html_raw(h, "<div class=\"sign\"><p>Name</p><p>Place and date</p><p>Signature of the "
                   "client</p><p>For the shop</p></div>\n</section>\n");
}

void sw_proposal_assumed(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_answer *a = p->options->plan;
    if (a->assumed_count == 0)
        return;
    sw_html_raw(h, "<section aria-labelledby=\"assumed\">\n<h2 id=\"assumed\">What we "
                   "assumed</h2>\n<ul class=\"two\">\n");
    for (size_t i = 0; i < a->assumed_count; i++)
        sw_html_element(h, "li", "", a->assumed[i]);
    sw_html_raw(h, "</ul>\n</section>\n");
}

void sw_proposal_terms(sw_proposal *p) {
    sw_html *h = &p->html;
    sw_html_raw(h, "<section aria-labelledby=\"mind\">\n<h2 id=\"mind\">What to mind, with the "
                   "numbers of the options</h2>\n");
    cautions(p);
    hazards(p);
    sw_html_raw(h, "</section>\n");
    surprises(p);
    promises(p);
    choice(p);
}
