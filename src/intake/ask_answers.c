/* Answers from a file, and to one: the very texts that are typed. */
#include <string.h>

#include "check/fields.h"
#include "intake/ask_stage.h"
#include "read/json_text.h"

static const char *asked_id(const sw_interview *interview) {
    return interview->state == SW_INTERVIEW_ASKS ? interview->asked.id : NULL;
}

static const char *why_not(const sw_interview *interview) {
    return interview->refusal[0] != '\0' ? interview->refusal
                                         : "answers stand in the order in which they are asked for";
}

/* False after a complaint. */
static bool play_one(sw_interview *interview, sw_check *check, const sw_node *at) {
    sw_node question = sw_member(at, "question"), answer = sw_member(at, "answer");
    const char *id = NULL, *asked = asked_id(interview);
    if (!SW_CHECK_NAMES(check, at, "question", "answer") ||
        !sw_get_id(check, at, "question", SW_REQUIRED, &id))
        return false;
    if (answer.json == NULL) {
        sw_wrong(check, at, "each entry is a question and its answer",
                 "add \"answer\"; empty text skips the question", "has no \"answer\"");
        return false;
    }
    if (!sw_is_kind(check, &answer, SW_JSON_TEXT))
        return false;
    if (asked == NULL) {
        sw_wrong(check, at, "all questions were answered before it", "take it away",
                 "answers \"%s\", where nothing is asked", id);
        return false;
    }
    if (strcmp(id, asked) != 0) {
        sw_wrong(check, &question, why_not(interview), "answer what is asked here",
                 "answers \"%s\", where \"%s\" is asked", id, asked);
        return false;
    }
    sw_status status = sw_interview_answer(interview, answer.json->text, strlen(answer.json->text));
    check->no_memory |= status == SW_NO_MEMORY;
    return status == SW_OK;
}

static void play(sw_interview *interview, sw_check *check, const sw_node *root) {
    sw_node list;
    if (!SW_CHECK_NAMES(check, root, "schema", "answers") ||
        !sw_get_list(check, root, "answers", SW_REQUIRED, 0, SW_LIST_LIMIT, &list))
        return;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        if (!play_one(interview, check, &at))
            return;
    }
    const char *asked = asked_id(interview);
    if (asked != NULL)
        sw_wrong(check, &list, why_not(interview),
                 "answer it too, with empty text to skip it; the last is \"agree\"",
                 "end where \"%s\" is asked", asked);
}

sw_status sw_interview_play(sw_interview *interview, const char *path, sw_complaints *complaints) {
    sw_check check = sw_check_start(complaints);
    sw_node root;
    check.arena = interview->arena;
    if (sw_check_open(&check, path, &root))
        play(interview, &check, &root);
    sw_status status = sw_check_status(&check);
    sw_check_end(&check);
    return status;
}

sw_status sw_interview_answers(char **out, const sw_interview *interview) {
    sw_arena *arena = sw_arena_new();
    if (arena == NULL)
        return SW_NO_MEMORY;
    sw_sketch *root = sw_sketch_new(arena);
    sw_sketch_whole(root, "schema", 1);
    sw_sketch *list = sw_sketch_array(root, "answers");
    for (size_t i = 0; i < interview->entry_count; i++) {
        sw_sketch *one = sw_sketch_object(list, NULL);
        sw_sketch_text(one, "question", interview->entries[i].id);
        sw_sketch_text(one, "answer", interview->entries[i].text);
    }
    sw_status status = sw_sketch_write(out, root);
    sw_arena_free(arena);
    return status;
}
