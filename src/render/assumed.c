/* What nobody said and was assumed, as text and as JSON. */
#include "render/answer_json.h"
#include "render/sheet.h"

void sw_sheet_assumed(sw_sheet *s) {
    const sw_answer *a = s->answer;
    if (a->assumed_count == 0)
        return;
    sw_page_heading(&s->page, "What we assumed", NULL);
    for (size_t i = 0; i < a->assumed_count; i++)
        sw_sheet_words(s, "  - ", a->assumed[i]);
}

void sw_json_assumed(sw_writer *in, const sw_answer *answer) {
    sw_writer *list = sw_writer_array(in, "assumed");
    for (size_t i = 0; i < answer->assumed_count; i++)
        sw_writer_text(list, NULL, answer->assumed[i]);
}
