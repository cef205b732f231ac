/* The frame of the pages of the work. Their policy lets in their own style by its hash and nothing
 * else. */
#include "render/paper.h"

#include "render/paper_style.h"

static const char *full_title(sw_html *h, const sw_options *options, const char *kind) {
    const char *title = options->plan->title;
    return title[0] == '\0' ? kind : SW_FORMAT(&h->sheet, "%s: %s", kind, title);
}

void sw_paper_start(sw_html *h, const sw_options *options, const char *kind) {
    const char *title = full_title(h, options, kind);
    sw_html_raw(h, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
    sw_text_addf(&h->out,
                 "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
                 "style-src '%s'; base-uri 'none'; form-action 'none'\">\n",
                 paper_style_hash);
    sw_html_raw(h, "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
                   "<meta name=\"referrer\" content=\"no-referrer\">\n");
    sw_html_element(h, "title", "", title);
    sw_html_raw(h, "\n<style>");
    for (size_t i = 0; i < sizeof paper_style / sizeof *paper_style; i++)
        sw_html_raw(h, paper_style[i]);
    sw_html_raw(h, "</style>\n</head>\n<body>\n<header>\n");
    if (options->terms.shop[0] != '\0')
        sw_html_element(h, "p", " class=\"shop\"", options->terms.shop);
    sw_html_element(h, "h1", "", title);
    sw_html_raw(h, "\n");
}

sw_status sw_paper_finish(char **out, sw_html *h) {
    sw_html_raw(h, "</body>\n</html>\n");
    bool failed = h->out.failed || h->sheet.page.text.failed;
    sw_arena_free(h->sheet.arena);
    sw_text_free(&h->sheet.page.text);
    if (failed) {
        sw_text_free(&h->out);
        return SW_NO_MEMORY;
    }
    *out = h->out.bytes;
    return SW_OK;
}

void sw_paper_no_option(sw_html *h, const sw_options *options) {
    sw_html_raw(h, "</header>\n<main>\n");
    sw_html_element(h, "p", "",
                    options->plan->status == SW_NOTHING_FITS
                        ? "For this money and with all that was wished nothing on offer fits, so "
                          "there is no work to speak of."
                        : "The search was stopped before a best machine was known: ask for this "
                          "paper again.");
    sw_html_raw(h, "\n</main>\n");
}

void sw_paper_box(sw_html *h) {
    sw_html_raw(h, "<span class=\"box\" aria-hidden=\"true\">[ ]</span> ");
}

void sw_paper_blank(sw_html *h) {
    sw_html_raw(h, "<span class=\"blank\" aria-hidden=\"true\">________</span> ");
}

void sw_paper_sign(sw_html *h, const char *const *under, size_t count) {
    sw_html_raw(h, "<div class=\"sign\">");
    for (size_t i = 0; i < count; i++)
        sw_html_element(h, "p", "", under[i]);
    sw_html_raw(h, "</div>\n");
}

void sw_paper_label(sw_html *h, const char *label) {
    sw_html_element(h, "span", " class=\"label\"", SW_FORMAT(&h->sheet, "%s: ", label));
}

void sw_paper_list(sw_html *h, const char *attributes, const char *const *texts, size_t count) {
    if (count == 0)
        return;
    sw_text_addf(&h->out, "<ul%s>\n", attributes);
    for (size_t i = 0; i < count; i++) {
        sw_html_element(h, "li", "", texts[i]);
        sw_html_raw(h, "\n");
    }
    sw_html_raw(h, "</ul>\n");
}

void sw_paper_section(sw_html *h, const char *id, const char *heading) {
    sw_text_addf(&h->out, "<section aria-labelledby=\"%s\">\n", id);
    sw_html_element(h, "h2", SW_FORMAT(&h->sheet, " id=\"%s\"", id), heading);
    sw_html_raw(h, "\n");
}

const char *sw_paper_money(sw_html *h, const sw_options *options, int64_t minor) {
    return SW_FORMAT(&h->sheet, "%s %s", sw_sheet_money(&h->sheet, minor), options->plan->currency);
}
