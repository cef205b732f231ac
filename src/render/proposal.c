/* The proposal: one page of HTML that needs nothing from outside, reads without its script, prints
 * on a few sheets, and is signed. Its policy lets in its own style and script by their hashes and
 * nothing else, so that no text of a catalog can ever be run. */
#include "render/proposal.h"

#include <string.h>

#include "render/proposal_script.h"
#include "render/proposal_style.h"

const char *sw_proposal_place(const sw_option *option) { return sw_option_places[option->place]; }

const char *sw_proposal_money(sw_proposal *p, int64_t minor) {
    sw_sheet *s = &p->html.sheet;
    return SW_FORMAT(s, "%s %s", sw_sheet_money(s, minor), p->options->plan->currency);
}

const char *sw_proposal_which(sw_proposal *p, const bool *in) {
    sw_sheet *s = &p->html.sheet;
    size_t count = p->options->count, all = 0, said = 0;
    const char *line = NULL;
    for (size_t i = 0; i < count; i++)
        all += in[i];
    if (all == count && count > 1)
        return "every option";
    for (size_t i = 0; i < count; i++) {
        if (!in[i])
            continue;
        said++;
        line = said == 1 ? SW_FORMAT(s, "option%s %zu", all > 1 ? "s" : "", i + 1)
                         : SW_FORMAT(s, "%s%s %zu", line, said == all ? " and" : ",", i + 1);
    }
    return line;
}

static void lines(sw_html *h, const char *const *list, size_t count) {
    for (size_t i = 0; i < count; i++)
        sw_html_raw(h, list[i]);
}

static void start(sw_proposal *p) {
    sw_html *h = &p->html;
    const char *title = p->options->plan->title;
    sw_html_raw(h, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
    sw_text_addf(&h->out,
                 "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
                 "style-src '%s'; script-src '%s'; base-uri 'none'; form-action 'none'\">\n",
                 proposal_style_hash, proposal_script_hash);
    sw_html_raw(h, "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
                   "<meta name=\"referrer\" content=\"no-referrer\">\n");
    sw_html_element(h, "title", "",
                    title[0] == '\0' ? "Proposal" : SW_FORMAT(&h->sheet, "Proposal: %s", title));
    sw_html_raw(h, "\n<style>");
    lines(h, proposal_style, sizeof proposal_style / sizeof *proposal_style);
    sw_html_raw(h, "</style>\n</head>\n<body>\n");
}

static void money_to_spend(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_answer *a = p->options->plan;
    sw_html_raw(h, "<p>To spend: ");
    sw_html_number(h, "job", "to-spend", sw_proposal_money(p, a->budget));
    if (a->reserve > 0 || a->sundries > 0) {
        sw_html_text(
            h, SW_FORMAT(&h->sheet, ", which is %s less ", sw_proposal_money(p, a->budget_total)));
        if (a->reserve > 0) {
            sw_html_number(h, "job", "reserve", sw_proposal_money(p, a->reserve));
            sw_html_raw(h, " kept in reserve");
        }
        if (a->sundries > 0) {
            sw_html_raw(h, a->reserve > 0 ? " and " : "");
            sw_html_number(h, "job", "sundries", sw_proposal_money(p, a->sundries));
            sw_html_raw(h, " for sundries");
        }
    }
    sw_html_raw(h, ".</p>\n");
}

static void head(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_terms *t = &p->options->terms;
    const char *title = p->options->plan->title;
    sw_html_raw(h, "<header>\n");
    if (t->shop[0] != '\0')
        sw_html_element(h, "p", " class=\"shop\"", t->shop);
    sw_html_element(h, "h1", "",
                    title[0] == '\0' ? "Proposal" : SW_FORMAT(&h->sheet, "Proposal: %s", title));
    sw_html_raw(h, "<p class=\"dates\">");
    if (t->date[0] != '\0') {
        sw_html_text(h, SW_FORMAT(&h->sheet, "Made on %s, valid until ", t->date));
        sw_html_number(h, "job", "valid-until", t->valid_until);
        sw_html_raw(h, ".</p>\n");
    } else {
        sw_html_text(h, SW_FORMAT(&h->sheet, "Valid for %d days from the day it is handed over.",
                                  t->valid_days));
        sw_html_raw(h, "</p>\n");
    }
    money_to_spend(p);
    sw_html_raw(h, "</header>\n<main>\n");
}

/* ---- what we advise -------------------------------------------------------------------------- */

/* "option 2 keeps within that, option 3 does not" */
static const char *within(sw_proposal *p, int64_t sum) {
    const sw_options *o = p->options;
    bool under[SW_OPTIONS_MOST] = {0}, over[SW_OPTIONS_MOST] = {0};
    for (size_t i = 0; i < o->count; i++) {
        under[i] = o->options[i].bundle.cost <= sum;
        over[i] = !under[i];
    }
    const char *in = sw_proposal_which(p, under), *out = sw_proposal_which(p, over);
    if (in == NULL)
        return "no option keeps within that";
    if (out == NULL)
        return SW_FORMAT(&p->html.sheet, "%s keeps within that", in);
    bool many = strchr(in, ' ') != NULL && strncmp(in, "options", 7) == 0;
    return SW_FORMAT(&p->html.sheet, "%s %s within that, %s not", in, many ? "keep" : "keeps", out);
}

/* Where none of the options is what so much money buys at best. */
static const char *besides(sw_proposal *p, const sw_answer_bundle *worthwhile) {
    const sw_options *o = p->options;
    for (size_t i = 0; i < o->count; i++)
        if (o->options[i].bundle.cost == worthwhile->cost)
            return "";
    return SW_FORMAT(&p->html.sheet,
                     " That sum itself would bring %s points: ask us for it if no option pleases.",
                     sw_sheet_points(&p->html.sheet, worthwhile->points));
}

static const char *advice(sw_proposal *p) {
    sw_sheet *s = &p->html.sheet;
    const sw_options *o = p->options;
    const sw_answer *a = o->plan;
    const char *threshold = sw_sheet_points(s, a->worth_at_least_milli);
    if (a->advice == SW_ADVICE_KEEP) {
        const sw_answer_bundle *free = a->first.bundle;
        const char *still = free == NULL || free->points <= 0 ? ""
                            : free->cost == 0
                                ? " What costs nothing is worth doing all the same."
                                : " What must be paid in any case is worth doing well.";
        return SW_FORMAT(s,
                         "Keep your money. You said that 100 %s should bring %s points at the "
                         "least: nothing on offer does.%s",
                         a->currency, threshold, still);
    }
    if (a->advice == SW_ADVICE_LESS && a->worthwhile.bundle != NULL)
        return SW_FORMAT(s,
                         "Spend up to %s: %s. You said that 100 %s should bring %s points at the "
                         "least; what comes beyond that sum, up to your %s, brings less.%s",
                         sw_proposal_money(p, a->worthwhile.bundle->cost),
                         within(p, a->worthwhile.bundle->cost), a->currency, threshold,
                         sw_proposal_money(p, a->budget), besides(p, a->worthwhile.bundle));
    return NULL;
}

/* What 100 points stand for, weight by weight. */
const char *sw_proposal_weights(sw_proposal *p) {
    sw_sheet *s = &p->html.sheet;
    const sw_answer *a = p->options->plan;
    const char *line = "";
    for (size_t c = 0; c < a->criterion_count; c++) {
        const char *kind = a->criterion_kinds[c];
        if (a->weights[c] <= 0)
            continue;
        const char *swing =
            strcmp(kind, "speed") == 0   ? "twice as fast in all you do"
            : strcmp(kind, "quiet") == 0 ? "half as loud"
            : strcmp(kind, "looks") == 0
                ? "all that shows to your taste"
                : SW_FORMAT(s, "\"%s\" from the worst to the best", a->criterion_names[c]);
        line = SW_FORMAT(s, "%s%s%s %s", line, line[0] == '\0' ? "" : ", ", swing,
                         sw_sheet_decimal(s, 100 * a->weights[c], 0));
    }
    return SW_FORMAT(s,
                     "Points say how much of what you asked for is reached. By your own weights: "
                     "%s. The machine with no more done than must be has 0.",
                     line);
}

static bool is_proved(const sw_options *o) {
    for (size_t i = 0; i < o->count; i++)
        if (!o->options[i].proved)
            return false;
    return o->curve->status == SW_OPTIMAL;
}

static void verdict(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_answer *a = p->options->plan;
    const char *words = p->options->count > 0 ? advice(p) : NULL;
    bool end = p->options->count > 0 && a->at_its_end;
    bool open = p->options->count > 0 && !is_proved(p->options);
    if (words == NULL && !end && !open)
        return;
    sw_html_raw(h, "<section class=\"advice\" aria-labelledby=\"advice\">\n<h2 id=\"advice\">Our "
                   "advice</h2>\n");
    if (open)
        sw_html_element(h, "p", "",
                        "Do not sign yet: this paper was made before the search had ended. The "
                        "options are the best that were found, and better ones may exist.");
    if (words != NULL)
        sw_html_element(h, "p", "", words);
    if (end)
        sw_html_element(
            h, "p", "",
            SW_FORMAT(&h->sheet,
                      "This machine is near its end: the full measure renews %zu of the %zu parts "
                      "that make it what it is. Think of another machine before you sign for that.",
                      a->renewed, a->renewable));
    sw_html_raw(h, "</section>\n");
}

static void no_options(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_answer *a = p->options->plan;
    sw_html_raw(h, "<section aria-labelledby=\"none\">\n<h2 id=\"none\">What we can offer</h2>\n");
    if (a->status != SW_NOTHING_FITS)
        sw_html_element(h, "p", "",
                        "The search was stopped before a best machine was known: ask for this "
                        "paper again.");
    else
        sw_html_element(h, "p", "",
                        "For this money and with all that was wished, nothing on offer fits. What "
                        "stands in the way, and what would mend it, we tell you at the counter.");
    sw_html_raw(h, "</section>\n");
}

static void end(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_options *o = p->options;
    sw_html_raw(h, "</main>\n<footer>\n");
    bool proved = o->count > 0 && is_proved(o);
    if (o->count > 0)
        sw_html_element(h, "p", "",
                        proved ? "Each option was proved to be the best of its kind among all that "
                                 "is on offer and fits: no other choice does better by its rule."
                               : "The search was stopped early: the options are the best that were "
                                 "found, not proved to be the best there are.");
    sw_html_raw(h, "</footer>\n");
    if (o->count > 0) {
        sw_proposal_data(p);
        sw_html_raw(h, "<script>");
        lines(h, proposal_script, sizeof proposal_script / sizeof *proposal_script);
        sw_html_raw(h, "</script>\n");
    }
    sw_html_raw(h, "</body>\n</html>\n");
}

sw_status sw_render_options_page(char **out, const sw_options *options, const sw_map *map) {
    sw_proposal p = {.options = options, .map = map};
    sw_text_style style = {.width = 80};
    if (!sw_sheet_start(&p.html.sheet, options->plan, style))
        return SW_NO_MEMORY;
    start(&p);
    head(&p);
    sw_html_beware(&p.html, options->plan);
    verdict(&p);
    sw_proposal_wrong(&p);
    if (options->count > 0) {
        sw_proposal_table(&p);
        sw_proposal_curve(&p);
        sw_proposal_map(&p);
        sw_proposal_assumed(&p);
        sw_proposal_terms(&p);
    } else {
        no_options(&p);
        sw_proposal_assumed(&p);
    }
    end(&p);
    bool failed = p.html.out.failed || p.html.sheet.page.text.failed;
    sw_arena_free(p.html.sheet.arena);
    sw_text_free(&p.html.sheet.page.text);
    if (failed) {
        sw_text_free(&p.html.out);
        return SW_NO_MEMORY;
    }
    *out = p.html.out.bytes;
    return SW_OK;
}
