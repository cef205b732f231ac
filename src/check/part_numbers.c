/* The makers' own numbers of parts. */
#include "check/profiles.h"
#include "base/letters.h"

#include <string.h>

#include "check/stage.h"

#define NUMBER_LIMIT 16

void sw_number_key(sw_text *text, const char *number) {
    for (const char *at = number; *at != '\0';) {
        size_t blank = sw_blank_length(at);
        char byte = sw_capital_letter(*at);
        if (blank == 0 && byte != '-')
            sw_text_add_bytes(text, &byte, 1);
        at += blank == 0 ? 1 : blank;
    }
}

bool sw_same_maker(const char *a, const char *b) {
    size_t i = 0;
    while (a[i] != '\0' && sw_capital_letter(a[i]) == sw_capital_letter(b[i]))
        i++;
    return a[i] == b[i];
}

/* "MAKER\nNUMBER", for the makers' numbers of all parts. */
static const char *full_key(sw_check *check, const char *maker, const char *number) {
    sw_text text = {0};
    for (; *maker != '\0'; maker++) {
        char byte = sw_capital_letter(*maker);
        sw_text_add_bytes(&text, &byte, 1);
    }
    sw_text_add(&text, "\n");
    size_t before = text.length;
    sw_number_key(&text, number);
    bool empty = text.length == before;
    const char *kept = text.failed || empty ? NULL : sw_arena_copy(check->arena, text.bytes);
    check->no_memory |= text.failed || (kept == NULL && !empty);
    sw_text_free(&text);
    return kept;
}

void sw_read_part_numbers(sw_check *check, const sw_node *at, int index, sw_part *part) {
    sw_node list;
    if (!sw_get_list(check, at, "numbers", SW_OPTIONAL, 1, NUMBER_LIMIT, &list))
        return;
    const char **numbers = SW_KEEP(check, const char *, list.json->count);
    for (size_t i = 0; numbers != NULL && i < list.json->count; i++) {
        sw_node one = sw_element(&list, i);
        numbers[i] = "";
        if (!sw_check_token(check, &one, &numbers[i]))
            continue;
        const char *key = full_key(check, part->maker, numbers[i]);
        if (key == NULL && !check->no_memory)
            sw_wrong(check, &one, "blanks and hyphens do not count", "write the maker's number",
                     "is nothing but blanks and hyphens");
        else if (key != NULL && sw_names_find(&check->numbers, key) != SW_NONE)
            sw_wrong(check, &one, "a price list could not tell which of the two is meant",
                     "keep it at the part that it belongs to",
                     "is a number that another part of this maker has, or this one: \"%s\"",
                     sw_shown(check, numbers[i]));
        else if (key != NULL && !sw_names_add(&check->numbers, key, index))
            check->no_memory = true;
    }
    part->numbers = numbers;
    part->number_count = numbers == NULL ? 0 : list.json->count;
}
