/* Fills a rule's sentence with the numbers and tokens of its judgement. */
#include "answer/stage.h"

#include <string.h>

/* "a", "a or b", "a, b or c". */
static void add_tokens(sw_text *text, const sw_value *value) {
    size_t count = value != NULL ? value->token_count : 0;
    for (size_t i = 0; i < count; i++) {
        sw_text_add(text, i == 0 ? "" : i + 1 == count ? " or " : ", ");
        sw_text_add(text, value->tokens[i]);
    }
    if (count == 0)
        sw_text_add(text, "none");
}

static bool add_slot(sw_text *text, const char *name, size_t length, const sw_rule *rule,
                     const sw_judgement *judgement) {
    int64_t unit = rule->shape == SW_PLACE ? 1000000 : 1;
    int64_t excess = judgement->excess < 0 ? -judgement->excess : judgement->excess;
    if (length == 4 && memcmp(name, "need", 4) == 0)
        sw_text_add_millionths(text, judgement->need * unit);
    else if (length == 4 && memcmp(name, "room", 4) == 0)
        sw_text_add_millionths(text, judgement->room * unit);
    else if (length == 5 && memcmp(name, "short", 5) == 0)
        sw_text_add_millionths(text, excess * unit);
    else if (length == 4 && memcmp(name, "left", 4) == 0)
        add_tokens(text, judgement->left);
    else if (length == 5 && memcmp(name, "right", 5) == 0)
        add_tokens(text, judgement->right);
    else
        return false;
    return true;
}

const char *sw_sentence(sw_arena *arena, const char *sentence, const sw_rule *rule,
                        const sw_judgement *judgement) {
    sw_text text = {0};
    sw_text_add(&text, "");
    while (*sentence != '\0') {
        const char *end = *sentence == '{' ? strchr(sentence, '}') : NULL;
        if (end != NULL &&
            add_slot(&text, sentence + 1, (size_t)(end - sentence - 1), rule, judgement)) {
            sentence = end + 1;
            continue;
        }
        sw_text_add_bytes(&text, sentence++, 1);
    }
    const char *out = text.failed
                          ? NULL
                          : sw_arena_text(arena, text.bytes != NULL ? text.bytes : "", text.length);
    sw_text_free(&text);
    return out;
}

const char *sw_tokens_text(sw_arena *arena, const sw_value *value) {
    sw_text text = {0};
    add_tokens(&text, value);
    const char *out = text.failed ? NULL : sw_arena_copy(arena, text.bytes);
    sw_text_free(&text);
    return out;
}
