/* What a role holds now, and what is still open. */
#include "intake/piece.h"
#include "render/page.h"

sw_status sw_render_piece_text(char **out, const sw_piece *piece, sw_text_style style) {
    const sw_scenario *after = piece->after;
    const sw_role *role = &after->catalog->roles[piece->role];
    sw_page page = {.width = style.width, .bold = style.bold};
    sw_text line = {0};
    sw_text_addf(&line, "%s: ", role->name);
    for (size_t i = 0; i < after->machine_count[piece->role]; i++) {
        const sw_present *at = &after->machine[piece->role][i];
        if (at->count > 1)
            sw_text_addf(&line, "%s%d x ", i > 0 ? ", " : "", at->count);
        else if (i > 0)
            sw_text_add(&line, ", ");
        sw_text_addf(&line, "%s (%s)", after->parts[at->part].name, after->parts[at->part].id);
    }
    if (after->machine_count[piece->role] == 0)
        sw_text_add(&line, "none");
    sw_page_words(&page, "", line.bytes != NULL ? line.bytes : "");
    page.text.failed |= line.failed;
    sw_text_free(&line);
    if (after->to_ask_count > 0)
        sw_page_words(&page, "", "Still to be looked at:");
    for (size_t q = 0; q < after->to_ask_count; q++)
        sw_page_words(&page, "  - ", after->to_ask[q].ask);
    if (page.text.failed) {
        sw_text_free(&page.text);
        return SW_NO_MEMORY;
    }
    *out = page.text.bytes;
    return SW_OK;
}
