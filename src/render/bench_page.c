/* The work order as a page: for the bench, to print, to tick and to write on. */
#include <string.h>

#include "render/bench_paper.h"
#include "render/options.h"

/* ---- the head ---------------------------------------------------------------------------------
 */

static void figure(sw_html *h, const char *what, const char *name, int64_t minutes) {
    sw_html_raw(h, "<div>");
    sw_html_element(h, "dt", "", what);
    sw_html_raw(h, "<dd>");
    sw_html_number(h, "job", name, sw_bench_minutes(&h->sheet, minutes));
    sw_html_raw(h, "</dd></div>\n");
}

static void head(sw_bench_paper *p) {
    sw_html *h = &p->html;
    const sw_bench *b = p->bench;
    const char *date = b->options->terms.date;
    sw_paper_start(h, b->options, "Work order");
    if (b->option == NULL)
        return;
    sw_html_raw(h, "<p class=\"dates\">");
    sw_html_text(
        h, SW_FORMAT(&h->sheet, "Option %zu, %s: ", b->number, sw_option_names[b->option->place]));
    sw_html_number(h, "job", "cost", sw_paper_money(h, b->options, b->option->bundle.cost));
    sw_html_raw(h, " in all, ");
    sw_html_number(h, "job", "days", sw_days(&h->sheet, b->option->days_without));
    sw_html_raw(h, " without the machine.");
    if (date[0] != '\0')
        sw_html_text(h, SW_FORMAT(&h->sheet, " Proposed on %s.", date));
    sw_html_raw(h, "</p>\n</header>\n<main>\n");
    sw_html_element(h, "p", " class=\"first\"",
                    "Makers' instructions, local codes and licensed practice come before anything "
                    "that stands here. A power unit is never opened.");
    sw_html_raw(h, "\n");
    if (!sw_bench_is_settled(b))
        sw_html_element(h, "p", " class=\"advice\"",
                        SW_FORMAT(&h->sheet,
                                  "%s: this may not be what was signed. Order nothing and open "
                                  "nothing by it; ask again.",
                                  h->sheet.cut_short));
    sw_html_raw(h, "<dl class=\"figures\">\n");
    figure(h, "At the bench, in the bill", "billed", b->billed);
    figure(h, "At the bench, beside the bill", "beside", b->beside);
    figure(h, "By the machine itself", "alone", b->alone);
    sw_html_raw(h, "</dl>\n");
    if (b->proof_count > 0)
        sw_html_element(h, "p", "", "What is measured at the end comes on top of that.");
    sw_html_raw(h, "\n");
}

static void hazards(sw_bench_paper *p) {
    sw_html *h = &p->html;
    const sw_terms *terms = &p->bench->options->terms;
    bool any = false;
    for (size_t i = 0; i < terms->hazard_count; i++) {
        if (!p->bench->option->hazards[i])
            continue;
        if (!any) {
            sw_paper_section(h, "hurt", "What can hurt, or be lost");
            sw_html_raw(h, "<table class=\"stack\">\n<caption>Before the first screw.</caption>\n"
                           "<thead><tr><th scope=\"col\">What can happen</th><th scope=\"col\">"
                           "What is done about it</th><th scope=\"col\">Where it ends</th></tr>"
                           "</thead>\n<tbody>\n");
        }
        any = true;
        sw_html_raw(h, "<tr>");
        sw_html_element(h, "th", " scope=\"row\" class=\"name\"", terms->hazards[i].danger);
        sw_html_raw(h, " <td>");
        sw_html_text(h, terms->hazards[i].habit);
        sw_html_raw(h, "</td> <td>");
        sw_html_text(h, terms->hazards[i].limit);
        sw_html_raw(h, "</td></tr>\n");
    }
    sw_html_raw(h, any ? "</tbody>\n</table>\n</section>\n" : "");
}

/* ---- places, leads ----------------------------------------------------------------------------
 */

static void places(sw_bench_paper *p) {
    sw_html *h = &p->html;
    const sw_bench *b = p->bench;
    if (b->stand_count == 0)
        return;
    sw_paper_section(h, "places", "Where things stand when it is done");
    sw_html_raw(h, "<div class=\"beside\">\n");
    sw_bench_drawing(p);
    sw_html_raw(h, "<ul class=\"ticks\">\n");
    for (size_t i = 0; i < b->stand_count; i++) {
        sw_html_raw(h, "<li>");
        sw_paper_box(h);
        sw_html_element(h, "span",
                        b->stands[i].new_there ? " class=\"numeral new\"" : " class=\"numeral\"",
                        SW_FORMAT(&h->sheet, "%zu", i + 1));
        sw_html_raw(h, " ");
        sw_html_element(h, "span", "", sw_bench_stand(&h->sheet, &b->stands[i]));
        sw_html_raw(h, "</li>\n");
    }
    sw_html_raw(h, "</ul>\n</div>\n</section>\n");
}

static const char *amount(sw_html *h, int64_t millionths, const char *unit) {
    const char *text = sw_sheet_text(&h->sheet, sw_millionths_text(h->sheet.arena, millionths));
    return unit[0] == '\0' ? text : SW_FORMAT(&h->sheet, "%s %s", text, unit);
}

static void lead(sw_html *h, const sw_told_lead *of, size_t number) {
    const char *name = SW_FORMAT(&h->sheet, "lead-%zu", number);
    sw_html_raw(h, "<tr><th scope=\"row\" class=\"name\">");
    sw_paper_box(h);
    sw_html_text(h, of->name);
    sw_html_raw(h, "</th> <td>");
    sw_paper_label(h, "By");
    sw_html_text(h, sw_bench_takers(&h->sheet, of));
    sw_html_raw(h, "</td> <td class=\"number\">");
    sw_paper_label(h, "Taken");
    sw_html_number(h, name, "need", amount(h, of->need, of->unit));
    sw_html_raw(h, "</td> <td class=\"number\">");
    sw_paper_label(h, "There");
    sw_html_number(h, name, "there", amount(h, of->there, of->unit));
    sw_html_raw(h, "</td></tr>\n");
}

static void leads(sw_bench_paper *p) {
    sw_html *h = &p->html;
    const sw_bench *b = p->bench;
    if (b->lead_count == 0)
        return;
    sw_paper_section(h, "leads", "Leads and headers");
    sw_html_raw(h, "<table class=\"stack\">\n<caption>How many of each are taken, and how many "
                   "there are.</caption>\n<thead><tr><th scope=\"col\">What</th>"
                   "<th scope=\"col\">By which parts</th><th scope=\"col\" class=\"number\">taken"
                   "</th><th scope=\"col\" class=\"number\">there</th></tr></thead>\n<tbody>\n");
    for (size_t i = 0; i < b->lead_count; i++)
        lead(h, &b->leads[i], i + 1);
    sw_html_raw(h, "</tbody>\n</table>\n</section>\n");
}

/* ---- the work ---------------------------------------------------------------------------------
 */

static void sentence(sw_html *h, const char *attributes, const char *text) {
    if (text[0] != '\0')
        sw_html_element(h, "p", attributes, text);
}

static void step_minutes(sw_html *h, const sw_told_action *of, const char *name) {
    sw_html_raw(h, "<td class=\"number\">");
    if (of->minutes > 0)
        sw_html_number(
            h, name, "minutes",
            SW_FORMAT(&h->sheet, of->billed ? "%lld" : "(%lld)", (long long)of->minutes));
    sw_html_raw(h, "</td></tr>\n");
}

static void step(sw_html *h, const sw_told_action *of, size_t number) {
    const char *name = SW_FORMAT(&h->sheet, "step-%zu", number);
    const char *cause = sw_bench_cause(&h->sheet, of);
    sw_html_raw(h, "<tr><td>");
    sw_paper_box(h);
    sw_html_raw(h, "</td><th scope=\"row\" class=\"number\">");
    sw_html_number(h, name, "number", SW_FORMAT(&h->sheet, "%zu", number));
    sw_html_raw(h, "</th> <td>");
    bool handles = of->piece.role != NULL;
    sw_html_element(h, "p", handles ? " class=\"does\"" : "", sw_bench_title(&h->sheet, of));
    if (cause[0] != '\0')
        sw_html_element(h, "p", "", SW_FORMAT(&h->sheet, "It is %s.", cause));
    sentence(h, "", handles ? of->words : "");
    if (of->alone_minutes > 0) {
        sw_html_raw(h, "<p>Runs ");
        sw_html_number(h, name, "alone", sw_bench_minutes(&h->sheet, of->alone_minutes));
        sw_html_raw(h, " by itself.</p>");
    }
    if (of->caution[0] != '\0')
        sentence(h, " class=\"mind\"", SW_FORMAT(&h->sheet, "Mind: %s", of->caution));
    sw_html_raw(h, "</td> ");
    step_minutes(h, of, name);
}

static void stage(sw_html *h, const sw_bench *b, size_t which) {
    bool any = false;
    for (size_t i = 0; i < b->action_count; i++) {
        if (b->actions[i].stage != which)
            continue;
        if (!any) {
            sw_html_raw(h, "<tbody>\n<tr>");
            sw_html_element(h, "th", " class=\"group\" colspan=\"4\" scope=\"rowgroup\"",
                            b->stage_names[which]);
            sw_html_raw(h, "</tr>\n");
        }
        any = true;
        step(h, &b->actions[i], i + 1);
    }
    sw_html_raw(h, any ? "</tbody>\n" : "");
}

static void work(sw_bench_paper *p) {
    sw_html *h = &p->html;
    const sw_bench *b = p->bench;
    sw_paper_section(h, "work", "The work, step by step");
    if (b->action_count == 0) {
        sw_html_element(h, "p", "", "Nothing is done to the machine: it stays as it is.");
        sw_html_raw(h, "\n</section>\n");
        return;
    }
    sw_html_raw(h, "<table class=\"steps\">\n<caption>Tick each step when it is done. Minutes in "
                   "brackets are beside the bill.</caption>\n<thead><tr><td></td>"
                   "<th scope=\"col\" class=\"number\">No.</th><th scope=\"col\">What</th>"
                   "<th scope=\"col\" class=\"number\">min</th></tr></thead>\n");
    for (size_t i = 0; i < b->stage_count; i++)
        stage(h, b, i);
    sw_html_raw(h, "</table>\n</section>\n");
}

/* ---- what comes out ---------------------------------------------------------------------------
 */

static void wiping(sw_html *h, const sw_bench *b) {
    static const char *const under[] = {"What is to be wiped", "Date", "Signature of the client"};
    bool any = false;
    for (size_t i = 0; i < b->out_count; i++)
        any = any || b->out[i].keeps_files;
    if (!any || b->wiping[0] == '\0')
        return;
    sw_html_raw(h, "<div class=\"wipe keep\">\n");
    sw_html_element(h, "p", "", b->wiping);
    sw_html_raw(h, "\n<p>Nothing is wiped before the client has signed here:</p>\n");
    sw_paper_sign(h, under, 3);
    sw_html_raw(h, "</div>\n");
}

static void goes(sw_bench_paper *p) {
    sw_html *h = &p->html;
    const sw_bench *b = p->bench;
    if (b->out_count == 0)
        return;
    sw_paper_section(h, "out", "What comes out, and whose it is");
    sw_html_raw(h, "<ul class=\"ticks\">\n");
    for (size_t i = 0; i < b->out_count; i++) {
        const sw_told_out *out = &b->out[i];
        sw_html_raw(h, "<li>");
        sw_paper_box(h);
        sw_html_raw(h, "<span>");
        sw_html_element(h, "b", "", sw_bench_counted(&h->sheet, &out->piece));
        sw_html_text(h, SW_FORMAT(&h->sheet, " (%s, %s). %s", out->piece.role_name, out->condition,
                                  sw_bench_owner(&h->sheet, out)));
        sw_html_raw(h, out->keeps_files ? " It keeps files.</span></li>\n" : "</span></li>\n");
    }
    sw_html_raw(h, "</ul>\n");
    wiping(h, b);
    sw_html_raw(h, "</section>\n");
}

/* ---- the whole --------------------------------------------------------------------------------
 */

static void signature(sw_bench_paper *p) {
    static const char *const under[] = {"Minutes at the bench, in all", "Date", "Name",
                                        "Signature of the technician"};
    sw_html *h = &p->html;
    sw_html_raw(h, "<section class=\"keep\" aria-labelledby=\"sign\">\n<h2 id=\"sign\">Done and "
                   "measured by</h2>\n");
    sw_html_element(h, "p", "",
                    p->bench->proof_count > 0
                        ? "Every box is ticked or struck out with a reason; what was measured "
                          "stands above."
                        : "Every box is ticked or struck out with a reason.");
    sw_html_raw(h, "\n");
    sw_paper_sign(h, under, 4);
    sw_html_raw(h, "</section>\n");
}

sw_status sw_render_bench_page(char **out, const sw_bench *b) {
    sw_bench_paper p = {.bench = b};
    sw_text_style style = {.width = 80};
    if (!sw_sheet_start(&p.html.sheet, b->options->plan, style))
        return SW_NO_MEMORY;
    head(&p);
    sw_html_beware(&p.html, b->options->plan);
    if (b->option == NULL) {
        sw_paper_no_option(&p.html, b->options);
        return sw_paper_finish(out, &p.html);
    }
    hazards(&p);
    places(&p);
    work(&p);
    leads(&p);
    goes(&p);
    sw_bench_checks(&p);
    signature(&p);
    sw_html_raw(&p.html, "</main>\n");
    return sw_paper_finish(out, &p.html);
}
