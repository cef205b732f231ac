/* What can hurt in this very machine, as text, as JSON and on a page: before all else. */
#include "render/answer_json.h"
#include "render/html.h"
#include "render/sheet.h"

void sw_sheet_beware(sw_sheet *s) {
    const sw_answer *a = s->answer;
    if (a->beware_count == 0)
        return;
    sw_page_heading(&s->page, "Beware", NULL);
    for (size_t i = 0; i < a->beware_count; i++)
        sw_sheet_words(s, "  ! ", a->beware[i]);
}

void sw_json_beware(sw_writer *in, const sw_answer *answer) {
    sw_writer *list = sw_writer_array(in, "beware");
    for (size_t i = 0; i < answer->beware_count; i++)
        sw_writer_text(list, NULL, answer->beware[i]);
}

void sw_html_beware(sw_html *h, const sw_answer *answer) {
    if (answer->beware_count == 0)
        return;
    sw_html_raw(h, "<section aria-labelledby=\"beware\">\n<h2 id=\"beware\">Beware</h2>\n<ul>\n");
    for (size_t i = 0; i < answer->beware_count; i++)
        sw_html_element(h, "li", "", answer->beware[i]);
    sw_html_raw(h, "</ul>\n</section>\n");
}
