/* A question of the interview as it stands on the terminal. */
#include <string.h>

#include "intake/ask.h"
#include "read/plain.h"
#include "read/utf8.h"
#include "render/page.h"

typedef struct prompt {
    sw_page page;
    const sw_interview *interview;
    sw_arena *arena;
} prompt;

static const char *text(prompt *p, const char *made) {
    p->page.text.failed |= made == NULL;
    return made == NULL ? "" : made;
}

#define FORMAT(p, ...) text((p), sw_arena_format((p)->arena, __VA_ARGS__))

/* ---- lists ------------------------------------------------------------------------------------
 */

#define COLUMN_GAP 2

static int number_of(const sw_asked *asked, size_t item) {
    return asked->numbers != NULL ? asked->numbers[item] : (int)item + 1;
}

/* Short items stand in columns, so that a long list needs no scrolling. */
static void items(prompt *p) {
    const sw_asked *asked = &p->interview->asked;
    int widest = 0;
    for (size_t i = 0; i < asked->item_count; i++)
        if (sw_columns(asked->items[i]) > widest)
            widest = sw_columns(asked->items[i]);
    int each = widest + 5 + COLUMN_GAP;
    size_t columns =
        asked->item_count < 10 || each * 2 > p->page.width ? 1 : (size_t)(p->page.width / each);
    size_t rows = (asked->item_count + columns - 1) / columns;
    for (size_t r = 0; r < rows; r++) {
        const char *line = "";
        for (size_t i = r; i + rows < asked->item_count && columns > 1; i += rows) {
            int pad = each - 5 - sw_columns(asked->items[i]);
            line = FORMAT(p, "%s%3d  %s%*s", line, number_of(asked, i), asked->items[i], pad, "");
        }
        size_t last = r;
        while (columns > 1 && last + rows < asked->item_count)
            last += rows;
        if (columns == 1) {
            sw_page_words(&p->page, FORMAT(p, "%3d  ", number_of(asked, r)), asked->items[r]);
            continue;
        }
        sw_text_addf(&p->page.text, "%s%3d  %s\n", line, number_of(asked, last),
                     asked->items[last]);
    }
}

/* ---- questions ---------------------------------------------------------------------------------
 */

static void loudness(prompt *p) {
    int64_t tenths = 0;
    if (p->interview->loudness_now_sone < 0 ||
        !sw_round(&tenths, 10 * p->interview->loudness_now_sone))
        return;
    sw_page_words(&p->page, "  ",
                  FORMAT(p, "Today's machine is estimated at %s sone at the seat, in these uses.",
                         text(p, sw_milli_text(p->arena, 100 * tenths, 1))));
}

static void topic(prompt *p) {
    const sw_asked *asked = &p->interview->asked;
    const sw_topic_form *form = &p->interview->form->topics[asked->topic];
    sw_page_gap(&p->page);
    sw_page_words(&p->page, FORMAT(p, "%zu of %zu  ", asked->number, asked->of), form->ask);
    if (p->interview->explains) {
        sw_page_words(&p->page, "  Why: ", form->why);
        sw_page_words(&p->page, "  When skipped: ",
                      asked->now != NULL ? "it stays as it stands." : form->assumed);
        sw_page_words(&p->page, "  Words: ",
                      "\"back\" goes to the question before, \"quit\" ends and writes nothing, an "
                      "empty line skips, \"?\" tells why it is asked.");
    }
    if (form->scale[0] != '\0')
        sw_page_words(&p->page, "  ", form->scale);
    if (asked->said[0] != '\0')
        sw_page_words(&p->page, "  ", asked->said);
    loudness(p);
    items(p);
    if (asked->now != NULL)
        sw_page_words(&p->page, "  As it stands: ", asked->now);
    sw_page_words(&p->page, "  Write: ", form->write);
}

static void more(prompt *p) {
    const sw_asked *asked = &p->interview->asked;
    sw_page_gap(&p->page);
    sw_page_words(&p->page, "", asked->said);
    if (p->interview->explains)
        sw_page_words(&p->page, "  Why: ",
                      "what was understood, and what seems to contradict, is read back, so that "
                      "nothing is changed without your word.");
    items(p);
    if (asked->kind == SW_ASKED_SORTED)
        sw_page_words(&p->page, "  Write: ",
                      p->interview->told.trouble_count > 0
                          ? "yes; or the numbers of the kinds that are meant, the worst first; or "
                            "none"
                          : "the numbers of the kinds that are meant, the worst first; or none");
    else
        sw_page_words(&p->page, "  Write: ", "yes, it stays so; no, it is asked once more");
}

static void agree(prompt *p) {
    const sw_asked *asked = &p->interview->asked;
    sw_page_gap(&p->page);
    sw_page_words(&p->page, "", "This is what was understood:");
    for (size_t i = 0; i < asked->item_count; i++)
        sw_page_words(&p->page, "  - ", asked->items[i]);
    sw_page_words(&p->page, "", "Shall it be written so?");
    sw_page_words(&p->page, "  Write: ",
                  "yes; back, to go to the last question; quit, and nothing is written");
}

/* Names come from files of others: what moves the cursor or turns the writing round must not reach
 * a terminal. The text is UTF-8, as all that was read. */
static sw_text plain(const sw_text *made) {
    sw_text out = {0};
    for (size_t i = 0; i < made->length;) {
        size_t step = sw_utf8_length((const unsigned char *)made->bytes + i, made->length - i);
        step = step == 0 ? 1 : step;
        if (made->bytes[i] == '\n' || sw_is_plain(made->bytes + i, step))
            sw_text_add_bytes(&out, made->bytes + i, step);
        else
            sw_text_add(&out, "?");
        i += step;
    }
    sw_text_add(&out, "");
    return out;
}

/* Reasons stand without a point at their end; a question has its own mark. */
static const char *sentence(prompt *p, const char *reason) {
    size_t length = strlen(reason);
    return length > 0 && reason[length - 1] == '?' ? reason : FORMAT(p, "%s.", reason);
}

/* Before the next question. */
static void notices(prompt *p) {
    const char *at = p->interview->notice;
    while (*at != '\0') {
        size_t length = strcspn(at, "\n");
        sw_page_gap(&p->page);
        sw_page_words(&p->page, "", FORMAT(p, "%.*s", (int)length, at));
        at += length;
        at += *at != '\0';
    }
}

sw_status sw_render_interview_text(char **out, const sw_interview *interview, sw_text_style style) {
    prompt p = {.page = {.width = style.width < 40 ? 40 : style.width},
                .interview = interview,
                .arena = sw_arena_new()};
    if (p.arena == NULL)
        return SW_NO_MEMORY;
    if (interview->refusal[0] != '\0') {
        sw_page_gap(&p.page);
        sw_page_words(&p.page, "Not taken: ", sentence(&p, interview->refusal));
    }
    if (interview->notice[0] != '\0')
        notices(&p);
    if (interview->state == SW_INTERVIEW_ASKS) {
        if (interview->asked.kind == SW_ASKED_TOPIC)
            topic(&p);
        else if (interview->asked.kind == SW_ASKED_AGREE)
            agree(&p);
        else
            more(&p);
    }
    sw_arena_free(p.arena);
    sw_text safe = plain(&p.page.text);
    safe.failed |= p.page.text.failed;
    sw_text_free(&p.page.text);
    if (safe.failed) {
        sw_text_free(&safe);
        return SW_NO_MEMORY;
    }
    *out = safe.bytes;
    return SW_OK;
}
