/* HTML as the WHATWG describes it, the part that XML would take too. */
#include "render/html.h"

void sw_html_raw(sw_html *h, const char *marks) { sw_text_add(&h->out, marks); }

void sw_html_text(sw_html *h, const char *text) { sw_svg_escape(&h->out, text); }

void sw_html_element(sw_html *h, const char *tag, const char *attributes, const char *text) {
    sw_text_addf(&h->out, "<%s%s>", tag, attributes);
    sw_html_text(h, text);
    sw_text_addf(&h->out, "</%s>", tag);
}

void sw_html_number(sw_html *h, const char *option, const char *name, const char *text) {
    sw_text_addf(&h->out, "<span data-is=\"%s.%s\">", option, name);
    sw_html_text(h, text);
    sw_html_raw(h, "</span>");
}
