/* What nobody has looked at yet, as text and as JSON. */
#include "render/answer_json.h"
#include "render/sheet.h"

void sw_sheet_to_ask(sw_sheet *s) {
    const sw_answer *a = s->answer;
    if (a->to_ask_count == 0)
        return;
    sw_page_heading(&s->page, "Still to be looked at", NULL);
    for (size_t i = 0; i < a->to_ask_count; i++)
        sw_sheet_words(s, "  - ", SW_FORMAT(s, "%s: %s", a->to_ask[i].role_name, a->to_ask[i].ask));
}

void sw_json_to_ask(sw_writer *in, const sw_answer *answer) {
    sw_writer *list = sw_writer_array(in, "to_ask");
    for (size_t i = 0; i < answer->to_ask_count; i++) {
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "role", answer->to_ask[i].role);
        sw_writer_text(one, "ask", answer->to_ask[i].ask);
    }
}
