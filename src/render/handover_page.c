/* The hand-over as a page: for the client to read, to keep and to sign. */
#include <string.h>

#include "render/handover_paper.h"
#include "render/options.h"

/* ---- the head ---------------------------------------------------------------------------------
 */

static void head(sw_handover_paper *p) {
    sw_html *h = &p->html;
    const sw_handover *of = p->handover;
    const sw_bench *b = of->bench;
    sw_paper_start(h, b->options, "Hand-over");
    if (b->option == NULL)
        return;
    sw_html_raw(h, "<p class=\"dates\">");
    sw_html_text(h, SW_FORMAT(&h->sheet, "Job %s", of->job));
    if (of->date != NULL) {
        sw_html_raw(h, ", handed over on ");
        sw_html_number(h, "job", "date", of->date);
    }
    sw_html_text(h, SW_FORMAT(&h->sheet, ". Agreed: option %zu, %s, ", b->number,
                              sw_option_names[b->option->place]));
    sw_html_number(h, "job", "cost", sw_paper_money(h, b->options, b->option->bundle.cost));
    sw_html_raw(h, " in all.</p>\n</header>\n<main>\n");
}

/* ---- what is not as promised -------------------------------------------------------------------
 */

static bool is_short(const sw_told_result *result) {
    return result->outcome == SW_WORSE || result->outcome == SW_FAILS || result->below_promise;
}

static const char *shortfall(sw_html *h, const sw_told_proof *proof, const sw_told_result *result) {
    sw_sheet *s = &h->sheet;
    const char *name = sw_bench_check_name(s, proof);
    if (proof->of == SW_PROOF_DONE)
        return SW_FORMAT(s, "%s: %s.", name, sw_outcome_told(result->outcome));
    return SW_FORMAT(s, "%s: measured %s, promised %s.%s", name,
                     sw_bench_read(s, proof, result->value), sw_bench_foretold(s, proof),
                     result->below_promise ? " We look at it again, without charge." : "");
}

/* Before everything else: whoever holds the paper must not miss it. */
static void stop(sw_handover_paper *p) {
    const char *words = sw_handover_stop(&p->html.sheet, p->handover);
    if (words[0] == '\0')
        return;
    sw_html_raw(&p->html,
                "<section class=\"advice\" aria-labelledby=\"stop\">\n<h2 id=\"stop\">Not "
                "ready to be handed over</h2>\n");
    sw_html_element(&p->html, "p", "", words);
    sw_html_raw(&p->html, "</section>\n");
}

static void not_as_promised(sw_handover_paper *p) {
    static const char *const under[] = {"What I accept", "Date", "Signature of the client"};
    sw_html *h = &p->html;
    const sw_handover *of = p->handover;
    bool any = false, fails = false;
    for (size_t i = 0; i < of->bench->proof_count; i++) {
        if (!is_short(&of->results[i]))
            continue;
        fails = fails || (of->results[i].outcome == SW_FAILS && !of->bench->proofs[i].bars);
        if (!any)
            sw_html_raw(h, "<section class=\"advice\" aria-labelledby=\"short\">\n<h2 id=\"short\">"
                           "What is not as promised</h2>\n<ul>\n");
        any = true;
        sw_html_element(h, "li", "", shortfall(h, &of->bench->proofs[i], &of->results[i]));
        sw_html_raw(h, "\n");
    }
    sw_html_raw(h, any ? "</ul>\n" : "");
    if (fails) {
        sw_html_raw(h,
                    "<p>What is not as it should be, and hurts nobody, goes out only if you accept "
                    "it here:</p>\n");
        sw_paper_sign(h, under, 3);
    }
    sw_html_raw(h, any ? "</section>\n" : "");
}

/* ---- what was done -----------------------------------------------------------------------------
 */

static const char *counted(sw_html *h, const sw_answer_part *part) {
    return part->count > 1 ? SW_FORMAT(&h->sheet, "%d x %s", part->count, part->name) : part->name;
}

static void came(sw_html *h, const sw_answer_swap *swap) {
    sw_html_raw(h, " <td>");
    sw_paper_label(h, "Came");
    for (size_t i = 0; i < swap->in_count; i++) {
        sw_html_raw(h, i > 0 ? "<br>" : "");
        sw_html_text(h, counted(h, &swap->in[i]));
    }
    sw_html_raw(h, swap->in_count == 0 ? "nothing</td>" : "</td>");
}

/* What went out of a role, and whose it is. */
static void went(sw_html *h, const sw_bench *b, const char *role) {
    bool any = false;
    sw_html_raw(h, " <td>");
    sw_paper_label(h, "Went");
    for (size_t i = 0; i < b->out_count; i++) {
        if (strcmp(b->out[i].piece.role, role) != 0)
            continue;
        sw_html_raw(h, any ? "<br>" : "");
        any = true;
        sw_html_text(h, SW_FORMAT(&h->sheet, "%s (%s): %s",
                                  sw_bench_counted(&h->sheet, &b->out[i].piece),
                                  b->out[i].condition, sw_out_told(&h->sheet, b, &b->out[i])));
    }
    sw_html_raw(h, any ? "</td></tr>\n" : "nothing</td></tr>\n");
}

static bool is_done(const sw_bench *b, const sw_answer_task *task) {
    for (size_t i = 0; i < b->task_count; i++)
        if (strcmp(b->task_ids[i], task->id) == 0 && strcmp(b->task_roles[i], task->role) == 0)
            return true;
    return false;
}

static void tasks(sw_html *h, const sw_bench *b) {
    const sw_answer_bundle *bundle = &b->option->bundle;
    bool any = false;
    for (size_t i = 0; i < bundle->task_count; i++) {
        if (!is_done(b, &bundle->tasks[i]))
            continue;
        sw_html_raw(h, any ? "" : "<h3>Work done besides</h3>\n<ul class=\"two\">\n");
        any = true;
        sw_html_element(
            h, "li", "",
            SW_FORMAT(&h->sheet, "%s (%s)", bundle->tasks[i].name, bundle->tasks[i].role_name));
        sw_html_raw(h, "\n");
    }
    sw_html_raw(h, any ? "</ul>\n" : "");
}

/* The client's word that a drive may be wiped. */
static void wiping(sw_html *h, const sw_bench *b) {
    static const char *const under[] = {"What is to be wiped", "Date", "Signature of the client"};
    bool any = false;
    for (size_t i = 0; i < b->out_count; i++)
        any = any || b->out[i].keeps_files;
    if (!any || b->wiping[0] == '\0')
        return;
    sw_html_raw(h, "<div class=\"wipe keep\">\n");
    sw_html_element(h, "p", "", b->wiping);
    sw_html_raw(h, "\n");
    sw_paper_sign(h, under, 3);
    sw_html_raw(h, "</div>\n");
}

static void done(sw_handover_paper *p) {
    sw_html *h = &p->html;
    const sw_bench *b = p->handover->bench;
    const sw_answer_bundle *bundle = &b->option->bundle;
    sw_paper_section(h, "done", "What was done");
    if (bundle->swap_count == 0 && bundle->task_count == 0)
        sw_html_element(h, "p", "", "Nothing: the machine stays as it is.");
    if (bundle->swap_count > 0)
        sw_html_raw(h, "<table class=\"stack\">\n<caption>What came, what went, and whose it is "
                       "now.</caption>\n<thead><tr><th scope=\"col\">Place</th><th scope=\"col\">"
                       "Came</th><th scope=\"col\">Went</th></tr></thead>\n<tbody>\n");
    for (size_t i = 0; i < bundle->swap_count; i++) {
        sw_html_raw(h, "<tr>");
        sw_html_element(h, "th", " scope=\"row\" class=\"name\"", bundle->swaps[i].role_name);
        came(h, &bundle->swaps[i]);
        went(h, b, bundle->swaps[i].role);
    }
    sw_html_raw(h, bundle->swap_count > 0 ? "</tbody>\n</table>\n" : "");
    tasks(h, b);
    wiping(h, b);
    sw_html_raw(h, "</section>\n");
}

/* ---- left out, looked at again, notes -----------------------------------------------------------
 */

static void texts(sw_html *h, const char *id, const char *heading, const char *before,
                  const char *const *list, size_t count) {
    if (count == 0)
        return;
    sw_paper_section(h, id, heading);
    if (before[0] != '\0')
        sw_html_element(h, "p", "", before);
    sw_paper_list(h, "", list, count);
    sw_html_raw(h, "</section>\n");
}

static void lists(sw_handover_paper *p) {
    const sw_handover *of = p->handover;
    texts(&p->html, "again", "What we look at again, without charge",
          "It runs below the least that we promised:", of->look_again, of->look_again_count);
    texts(&p->html, "left", "Left out, or taken back",
          "What is promised above is promised of the machine without it.", of->left_out,
          of->left_out_count);
    texts(&p->html, "notes", "Notes from the bench", "", of->notes, of->note_count);
}

/* ---- warranty -----------------------------------------------------------------------------------
 */

static void until(sw_html *h, const char *label, const char *name, const char *what,
                  const char *text, bool is_day) {
    sw_html_raw(h, is_day ? " <td class=\"day\">" : " <td>");
    sw_paper_label(h, label);
    sw_html_number(h, name, what, text);
    sw_html_raw(h, "</td>");
}

static void cover(sw_html *h, const sw_told_cover *of, size_t number) {
    const char *name = SW_FORMAT(&h->sheet, "part-%zu", number);
    sw_html_raw(h, "<tr><th scope=\"row\"><span class=\"name\">");
    sw_html_text(h,
                 of->count > 1 ? SW_FORMAT(&h->sheet, "%d x %s", of->count, of->name) : of->name);
    sw_html_raw(h, "</span>");
    sw_html_text(h, SW_FORMAT(&h->sheet, " (%s)", of->role_name));
    sw_html_raw(h, "</th> <td>");
    sw_paper_label(h, "From");
    sw_html_text(h, of->warranty_months < 0 ? "brought by you" : of->seller_name);
    sw_html_raw(h, "</td>");
    until(h, "Here since", name, "here", of->here_on == NULL ? "" : of->here_on, true);
    until(h, "Warranty", name, "warranty", sw_cover_warranty(&h->sheet, of),
          of->warranty_until != NULL);
    until(h, "Can go back", name, "return", sw_cover_return(&h->sheet, of),
          of->return_until != NULL);
    sw_html_raw(h, "</tr>\n");
}

static void covers(sw_handover_paper *p) {
    sw_html *h = &p->html;
    const sw_handover *of = p->handover;
    if (of->cover_count == 0)
        return;
    sw_paper_section(h, "cover", "Warranty, and until when a part can go back");
    sw_html_raw(h, "<table class=\"stack\">\n<caption>Keep this paper with the sellers' "
                   "papers.</caption>\n<thead><tr><th scope=\"col\">Part</th><th scope=\"col\">"
                   "From</th><th scope=\"col\">Here since</th><th scope=\"col\">Warranty</th>"
                   "<th scope=\"col\">Can go back</th></tr></thead>\n<tbody>\n");
    for (size_t i = 0; i < of->cover_count; i++)
        cover(h, &of->covers[i], i + 1);
    sw_html_raw(h, "</tbody>\n</table>\n</section>\n");
}

/* ---- what to watch, the call
 * --------------------------------------------------------------------- */

static void watch(sw_handover_paper *p) {
    sw_html *h = &p->html;
    const sw_answer_bundle *bundle = &p->handover->bench->option->bundle;
    sw_paper_section(h, "watch", "What to watch");
    sw_html_raw(h, "<ul>\n<li>At smoke, a smell of burning, or liquid: switch off, pull the mains "
                   "plug, leave it off and call us.</li>\n<li>Never open the power unit. For all "
                   "that is inside, the makers' instructions come first.</li>\n<li>Keep a copy of "
                   "your files away from this machine.</li>\n");
    for (size_t i = 0; i < bundle->caution_count; i++) {
        const sw_answer_caution *caution = &bundle->cautions[i];
        if (caution->kind == SW_CAUTION_TASK)
            continue;
        sw_html_element(h, "li", "",
                        SW_FORMAT(&h->sheet, "%s%s",
                                  caution->kind == SW_CAUTION_TODAY ? "As it was before: " : "",
                                  caution->client));
        sw_html_raw(h, "\n");
    }
    sw_html_raw(h, "</ul>\n</section>\n");
}

static void ended(sw_html *h, const sw_bench *b) {
    const sw_options *o = b->options;
    for (size_t t = 0; t < o->trouble_count; t++) {
        if (!b->option->ends[t] || !o->troubles[t].shows)
            continue;
        sw_html_element(h, "li", "", sw_call_about(&h->sheet, &o->troubles[t]));
        sw_html_raw(h, "\n");
    }
}

static void call(sw_handover_paper *p) {
    sw_html *h = &p->html;
    const sw_handover *of = p->handover;
    sw_paper_section(h, "call", "We call you");
    sw_html_raw(h, "<p>");
    if (of->call_on != NULL) {
        sw_html_raw(h, "On ");
        sw_html_number(h, "call", "on", of->call_on);
        sw_html_raw(h, ", to ask how it goes.");
    } else {
        sw_html_number(h, "call", "after",
                       SW_FORMAT(&h->sheet, "%d days", of->bench->call_after_days));
        sw_html_raw(h, " after today, to ask how it goes.");
    }
    sw_html_raw(h, " Write down here what strikes you until then:</p>\n<ul class=\"asked\">\n");
    ended(h, of->bench);
    for (size_t i = 0; i < of->bench->ask_count; i++) {
        sw_html_element(h, "li", "", of->bench->asks[i]);
        sw_html_raw(h, "\n");
    }
    sw_html_raw(h, "</ul>\n</section>\n");
}

/* ---- the whole
 * ----------------------------------------------------------------------------------- */

static void signature(sw_html *h) {
    static const char *const reach[] = {"Ask for", "Telephone", "When we are there"};
    static const char *const under[] = {"Date", "Name", "Signature of the client", "For the shop"};
    sw_html_raw(h, "<section class=\"keep\" aria-labelledby=\"reach\">\n<h2 id=\"reach\">If "
                   "something is not right before that: call us</h2>\n");
    sw_paper_sign(h, reach, 3);
    sw_html_raw(h, "</section>\n<section class=\"keep\" aria-labelledby=\"sign\">\n"
                   "<h2 id=\"sign\">Handed over</h2>\n<p>The machine, what came out of it and is "
                   "yours, and this paper were handed over, and shown.</p>\n");
    sw_paper_sign(h, under, 4);
    sw_html_raw(h, "</section>\n");
}

sw_status sw_render_handover_page(char **out, const sw_handover *handover) {
    sw_handover_paper p = {.handover = handover};
    sw_text_style style = {.width = 80};
    if (!sw_sheet_start(&p.html.sheet, handover->bench->options->plan, style))
        return SW_NO_MEMORY;
    head(&p);
    sw_html_beware(&p.html, handover->bench->options->plan);
    if (handover->bench->option == NULL) {
        sw_paper_no_option(&p.html, handover->bench->options);
        return sw_paper_finish(out, &p.html);
    }
    stop(&p);
    not_as_promised(&p);
    done(&p);
    sw_handover_results(&p);
    lists(&p);
    covers(&p);
    watch(&p);
    call(&p);
    signature(&p.html);
    sw_html_raw(&p.html, "</main>\n");
    return sw_paper_finish(out, &p.html);
}
