/* What a role holds now, what went with it, and what is still open. */
#include <string.h>

#include "intake/piece.h"
#include "render/page.h"

typedef struct telling {
    sw_page page;
    const sw_piece *piece;
} telling;

#define TELL(t, lead, ...)                                                                         \
    do {                                                                                           \
        sw_text line = {0};                                                                        \
        sw_text_addf(&line, __VA_ARGS__);                                                          \
        sw_page_words(&(t)->page, (lead), line.bytes != NULL ? line.bytes : "");                   \
        (t)->page.text.failed |= line.failed;                                                      \
        sw_text_free(&line);                                                                       \
    } while (0)

static const char *const conditions[] = {
    [SW_GOOD] = "", [SW_WORN] = ", worn", [SW_FAILING] = ", failing", [SW_UNPROVEN] = ", unproven"};

static bool holds(const sw_scenario *scenario, int role, const char *id) {
    for (size_t i = 0; i < scenario->machine_count[role]; i++)
        if (strcmp(scenario->parts[scenario->machine[role][i].part].id, id) == 0)
            return true;
    return false;
}

static void tell_pieces(telling *t) {
    const sw_scenario *after = t->piece->after;
    const sw_role *role = &after->catalog->roles[t->piece->role];
    if (after->machine_count[t->piece->role] == 0)
        TELL(t, "", "%s: none", role->name);
    for (size_t i = 0; i < after->machine_count[t->piece->role]; i++) {
        const sw_present *at = &after->machine[t->piece->role][i];
        const char *name = after->parts[at->part].name, *id = after->parts[at->part].id;
        if (at->count > 1)
            TELL(t, "", "%s: %d x %s (%s%s)", role->name, at->count, name, id,
                 conditions[at->condition]);
        else
            TELL(t, "", "%s: %s (%s%s)", role->name, name, id, conditions[at->condition]);
    }
}

static void tell_gone(telling *t) {
    const sw_scenario *before = t->piece->before;
    for (size_t i = 0; i < before->machine_count[t->piece->role]; i++) {
        const sw_present *at = &before->machine[t->piece->role][i];
        const sw_part *part = &before->parts[at->part];
        bool nobody_looked = strncmp(part->id, "unseen-", strlen("unseen-")) == 0;
        if (!nobody_looked && !holds(t->piece->after, t->piece->role, part->id))
            TELL(t, "  - ", "no longer there: %s (%s%s)", part->name, part->id,
                 conditions[at->condition]);
    }
}

static void tell_musts(telling *t) {
    const sw_scenario *before = t->piece->before, *after = t->piece->after;
    for (size_t m = 0; m < before->must_count; m++) {
        bool stays = false;
        for (size_t n = 0; n < after->must_count; n++)
            stays |= strcmp(before->musts[m].id, after->musts[n].id) == 0;
        if (!stays)
            TELL(t, "  ! ", "a must went with it: %s", before->musts[m].why);
    }
}

static void tell_questions(telling *t) {
    const sw_scenario *before = t->piece->before, *after = t->piece->after;
    for (size_t q = 0; q < before->to_ask_count; q++)
        if (before->to_ask[q].role == t->piece->role)
            TELL(t, "  - ", "closed: %s", before->to_ask[q].ask);
    if (after->to_ask_count > 0)
        TELL(t, "", "Still to be looked at:");
    for (size_t q = 0; q < after->to_ask_count; q++)
        TELL(t, "  - ", "%s: %s", after->catalog->roles[after->to_ask[q].role].name,
             after->to_ask[q].ask);
}

sw_status sw_render_piece_text(char **out, const sw_piece *piece, sw_text_style style) {
    telling t = {.page = {.width = style.width, .bold = style.bold}, .piece = piece};
    tell_pieces(&t);
    tell_gone(&t);
    tell_musts(&t);
    tell_questions(&t);
    if (t.page.text.failed) {
        sw_text_free(&t.page.text);
        return SW_NO_MEMORY;
    }
    *out = t.page.text.bytes;
    return SW_OK;
}
