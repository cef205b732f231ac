/* The interview: which question is next, and whether an answer to it is taken. */
#include "intake/ask.h"

#include <stdlib.h>
#include <string.h>

#include "check/fields.h"
#include "intake/ask_stage.h"
#include "read/bytes.h"
#include "read/plain.h"

/* Words of the client may be joined behind one another: well within SW_TEXT_BYTES. */
#define ANSWER_BYTES 1000
#define TITLE_BYTES 200

/* ---- the fold -------------------------------------------------------------------------------- */

static size_t topic_count(const sw_interview_form *form, sw_topic before) {
    size_t count = 0;
    for (size_t t = 0; t < (size_t)before; t++)
        count += form->topics[t].id != NULL;
    return count;
}

static sw_asked ask_topic(sw_interview *interview, sw_topic topic) {
    const sw_interview_form *form = interview->form;
    sw_asked out = {.kind = SW_ASKED_TOPIC,
                    .topic = topic,
                    .id = form->topics[topic].id,
                    .number = topic_count(form, topic) + 1,
                    .of = topic_count(form, SW_TOPIC_COUNT),
                    .said = ""};
    out.now = sw_ask_stands(interview, topic);
    sw_ask_offer(interview, topic, &out);
    return out;
}

/* What comes of an answer: the first is number 0. */
static bool ask_more(sw_interview *interview, sw_topic topic, size_t which, sw_asked *out) {
    const char *typed = interview->told.typed[topic];
    *out = (sw_asked){.topic = topic, .said = ""};
    if (topic != SW_TOPIC_COMPLAINT)
        return sw_ask_doubt(interview, topic, which, out);
    if (which > 0 || interview->told.said[topic] != SW_ANSWERED || sw_ask_same(typed, "none"))
        return false;
    out->kind = SW_ASKED_SORTED;
    out->id = "sorted";
    sw_ask_offer_sorted(interview, out);
    return true;
}

static const char *summary(sw_interview *interview, sw_topic topic) {
    const sw_told *told = &interview->told;
    const sw_topic_form *form = &interview->form->topics[topic];
    const char *now = sw_ask_stands(interview, topic);
    const char *text = told->said[topic] == SW_ANSWERED ? sw_ask_tells(interview, topic)
                       : now != NULL                    ? now
                                                        : form->assumed;
    const char *how = told->said[topic] == SW_ANSWERED ? "" : now != NULL ? " (as it stood)" : "";
    return sw_ask_format(interview, "%s%s: %s", form->name, how, text);
}

static const char *heading(sw_interview *interview) {
    const char *title = interview->title != NULL ? interview->title : interview->draft->title;
    return sw_ask_format(interview, "What heads the papers: \"%s\"%s", title,
                         interview->title != NULL ? "" : "; --title TEXT gives another");
}

static void ask_to_agree(sw_interview *interview) {
    sw_asked *out = &interview->asked;
    *out = (sw_asked){.kind = SW_ASKED_AGREE, .id = "agree", .said = ""};
    const sw_told *told = &interview->told;
    out->items = SW_ASK_NEW(interview, const char *, 1 + SW_TOPIC_COUNT + told->danger_count);
    for (size_t i = 0; out->items != NULL && i < told->danger_count; i++)
        out->items[out->item_count++] =
            sw_ask_format(interview, "Beware: \"%s\"", told->dangers[i].words);
    for (size_t t = 0; out->items != NULL && t < SW_TOPIC_COUNT; t++)
        if (interview->told.said[t] != SW_NOT_ASKED)
            out->items[out->item_count++] = summary(interview, (sw_topic)t);
    if (out->items != NULL)
        out->items[out->item_count++] = heading(interview);
}

static void start_told(sw_interview *interview) {
    interview->told = (sw_told){.total = -1,
                                .reserve = -1,
                                .loudness_milli = SW_LIMIT_UNSAID,
                                .days = SW_LIMIT_UNSAID,
                                .minutes = SW_LIMIT_UNSAID,
                                .surprise = SW_NONE};
    for (size_t t = 0; t < SW_TOPIC_COUNT; t++)
        interview->told.typed[t] = "";
    sw_ask_list_stayers(interview);
    sw_ask_list_makers(interview);
}

/* Puts one topic to what was said; false where something about it is to be asked now. */
static bool pass(sw_interview *interview, sw_topic topic, size_t *at) {
    sw_told *told = &interview->told;
    if (sw_ask_applies(interview, topic)) {
        if (*at == interview->entry_count) {
            interview->asked = ask_topic(interview, topic);
            return false;
        }
        const char *text = interview->entries[(*at)++].text;
        told->said[topic] = text[0] == '\0' ? SW_SKIPPED : SW_ANSWERED;
        told->typed[topic] = text;
        if (text[0] != '\0')
            sw_ask_hear(interview, topic, text);
        /* Without memory what was heard is not there whole. */
        if (interview->failed)
            return false;
    }
    sw_ask_settle(interview, topic);
    sw_asked more;
    for (size_t which = 0; ask_more(interview, topic, which, &more); which++) {
        if (*at == interview->entry_count) {
            interview->asked = more;
            return false;
        }
        const char *text = interview->entries[(*at)++].text;
        if (more.kind == SW_ASKED_SORTED)
            sw_ask_hear_sorted(interview, text);
    }
    return true;
}

static void fold(sw_interview *interview) {
    size_t at = 0;
    interview->loudness_now_sone = -1;
    sw_arena_free(interview->turn);
    interview->turn = sw_arena_new();
    if (interview->turn == NULL) {
        interview->failed = true;
        return;
    }
    start_told(interview);
    interview->state = SW_INTERVIEW_ASKS;
    for (size_t t = 0; t < SW_TOPIC_COUNT && !interview->failed; t++)
        if (!pass(interview, (sw_topic)t, &at))
            return;
    ask_to_agree(interview);
    if (at < interview->entry_count)
        interview->state = SW_INTERVIEW_AGREED;
}

/* ---- answers
 * ------------------------------------------------------------------------------------- */

static void take(sw_interview *interview, const char *text) {
    const sw_asked *asked = &interview->asked;
    if (!SW_GROW(interview->entries, interview->entry_room, interview->entry_count)) {
        interview->failed = true;
        return;
    }
    interview->entries[interview->entry_count++] =
        (sw_entry){asked->topic, asked->kind == SW_ASKED_TOPIC, asked->id, text};
}

/* Forgets the last question of that topic and all behind it; SW_TOPIC_COUNT: the last of any. */
static bool forget(sw_interview *interview, sw_topic topic) {
    for (size_t i = interview->entry_count; i > 0; i--) {
        const sw_entry *entry = &interview->entries[i - 1];
        if (!entry->main || (topic != SW_TOPIC_COUNT && entry->topic != topic))
            continue;
        interview->entry_count = i - 1;
        return true;
    }
    return false;
}

static bool is_yes(const char *text) { return sw_ask_same(text, "yes") || sw_ask_same(text, "y"); }

static bool is_no(const char *text) { return sw_ask_same(text, "no") || sw_ask_same(text, "n"); }

/* An answer to what came of a question. */
static bool hear_more(sw_interview *interview, const char *text) {
    const sw_asked *asked = &interview->asked;
    if (asked->kind == SW_ASKED_SORTED && text[0] != '\0')
        return sw_ask_hear_sorted(interview, text);
    if (asked->kind == SW_ASKED_SORTED)
        return sw_ask_refuse(interview, "say whether it was understood: write yes, the numbers of "
                                        "the kinds that are meant, or none");
    if (is_yes(text))
        return true;
    if (!is_no(text))
        return sw_ask_refuse(interview, "this takes yes or no");
    if (asked->kind == SW_ASKED_AGREE)
        return sw_ask_refuse(interview, "write back as often as it takes to come to the question, "
                                        "or quit, and nothing is written");
    if (!forget(interview, sw_ask_again(asked->topic)))
        forget(interview, SW_TOPIC_COUNT);
    return false;
}

static void hear(sw_interview *interview, const char *text) {
    const sw_asked *asked = &interview->asked;
    bool taken = asked->kind == SW_ASKED_TOPIC
                     ? text[0] == '\0' || sw_ask_hear(interview, asked->topic, text)
                     : hear_more(interview, text);
    const char *notice = taken ? interview->notice : "";
    if (taken)
        take(interview, text);
    fold(interview); /* hears all answers anew */
    interview->notice = notice;
}

/* The answer without blanks around it and the line's end; NULL after a refusal. */
static const char *clean(sw_interview *interview, const char *bytes, size_t length) {
    while (length > 0 && strchr(" \t\r\n", bytes[length - 1]) != NULL && bytes[length - 1] != '\0')
        length--;
    while (length > 0 && (*bytes == ' ' || *bytes == '\t')) {
        bytes++;
        length--;
    }
    if (length > ANSWER_BYTES) {
        sw_ask_refuse(interview, "the answer is longer than %d bytes: say it in fewer words",
                      ANSWER_BYTES);
        return NULL;
    }
    char *text = sw_arena_text(interview->arena, bytes, length);
    interview->failed |= text == NULL;
    for (size_t i = 0; text != NULL && i < length; i++)
        if (text[i] == '\t')
            text[i] = ' ';
    if (text != NULL && !sw_is_plain(text, length)) {
        sw_ask_refuse(interview, "there are characters in the answer that cannot be seen, or that "
                                 "are no UTF-8: write it again in plain letters");
        return NULL;
    }
    return text;
}

sw_status sw_interview_answer(sw_interview *interview, const char *bytes, size_t length) {
    interview->refusal = interview->notice = "";
    interview->explains = false;
    if (interview->state != SW_INTERVIEW_ASKS)
        return SW_OK;
    const char *text = clean(interview, bytes, length);
    if (text == NULL)
        return interview->failed ? SW_NO_MEMORY : SW_OK;
    if (strcmp(text, "?") == 0) {
        interview->explains = true;
    } else if (sw_ask_same(text, "quit")) {
        interview->state = SW_INTERVIEW_QUIT;
    } else if (sw_ask_same(text, "back")) {
        if (!forget(interview, SW_TOPIC_COUNT))
            sw_ask_refuse(interview, "this is the first question: there is none to go back to");
        fold(interview);
        interview->notice = "";
    } else {
        hear(interview, text);
    }
    return interview->failed ? SW_NO_MEMORY : SW_OK;
}

/* ---- begin and end
 * ----------------------------------------------------------------------------------- */

static sw_status keep_bytes(sw_interview *interview, const char *bytes, size_t length) {
    interview->bytes = sw_arena_text(interview->arena, bytes, length);
    interview->length = length;
    return interview->bytes == NULL ? SW_NO_MEMORY : SW_OK;
}

static sw_status read_draft(sw_interview *interview, const char *bytes, size_t length,
                            sw_complaints *complaints) {
    sw_status status = bytes != NULL ? keep_bytes(interview, bytes, length)
                                     : sw_bytes_read(&interview->bytes, &interview->length,
                                                     interview->arena, interview->path, complaints);
    if (status == SW_OK)
        status = sw_scenario_read_bytes(&interview->draft, interview->path, interview->bytes,
                                        interview->length, interview->catalog, true, complaints);
    if (status != SW_OK)
        return status;
    interview->form = interview->draft->catalog->interview;
    if (interview->form != NULL)
        return SW_OK;
    sw_complain(complaints, interview->draft->catalog->folder, "",
                "what is asked stands in interview.json (catalog/FORMATS.md section 31)",
                "add that file, or write the wishes into the scenario by hand",
                "has no interview.json");
    return SW_BAD_DATA;
}

/* Told before anything is asked: a catalog's path counts from the scenario's own folder. */
static sw_status read_elsewhere(sw_interview *interview, const char *result,
                                sw_complaints *complaints) {
    sw_scenario *there = NULL;
    if (result == NULL || interview->catalog != NULL)
        return SW_OK;
    sw_status status = sw_scenario_read_bytes(&there, result, interview->bytes, interview->length,
                                              NULL, true, complaints);
    sw_scenario_free(there);
    return status;
}

/* `bytes` NULL: the file at the path. */
static sw_status begin(sw_interview **out, const char *path, const char *bytes, size_t length,
                       const char *result, const char *catalog, sw_complaints *complaints) {
    sw_arena *arena = sw_arena_new();
    sw_interview *interview = arena == NULL ? NULL : SW_NEW(arena, sw_interview, 1);
    if (interview == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    *interview = (sw_interview){.arena = arena,
                                .path = sw_arena_copy(arena, path),
                                .catalog = catalog,
                                .refusal = "",
                                .notice = ""};
    if (catalog != NULL)
        interview->catalog = sw_arena_copy(arena, catalog);
    sw_status status = interview->path == NULL || (catalog != NULL && interview->catalog == NULL)
                           ? SW_NO_MEMORY
                           : read_draft(interview, bytes, length, complaints);
    if (status == SW_OK)
        status = read_elsewhere(interview, result, complaints);
    if (status == SW_OK) {
        fold(interview);
        status = interview->failed ? SW_NO_MEMORY : SW_OK;
    }
    if (status == SW_OK)
        *out = interview;
    else
        sw_interview_free(interview);
    return status;
}

sw_status sw_interview_begin(sw_interview **out, const char *path, const char *result,
                             const char *catalog, sw_complaints *complaints) {
    return begin(out, path, NULL, 0, result, catalog, complaints);
}

sw_status sw_interview_begin_bytes(sw_interview **out, const char *path, const char *bytes,
                                   size_t length, const char *catalog, sw_complaints *complaints) {
    return begin(out, path, bytes, length, NULL, catalog, complaints);
}

sw_status sw_interview_title(sw_interview *interview, const char *title,
                             sw_complaints *complaints) {
    size_t length = strlen(title);
    if (length == 0 || length > TITLE_BYTES || !sw_is_plain(title, length)) {
        sw_complain(complaints, "--title", "", "it stands at the head of every paper",
                    "write up to 200 bytes of plain letters", "is no text that can be printed");
        return SW_BAD_DATA;
    }
    interview->title = sw_arena_copy(interview->arena, title);
    return interview->title == NULL ? SW_NO_MEMORY : SW_OK;
}

void sw_interview_free(sw_interview *interview) {
    if (interview == NULL)
        return;
    sw_scenario_free(interview->draft);
    sw_arena_free(interview->turn);
    free(interview->entries);
    sw_arena_free(interview->arena);
}

sw_interview_state sw_interview_get_state(const sw_interview *interview) {
    return interview->state;
}
