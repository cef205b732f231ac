#include "intake/match.h"
#include "base/letters.h"

#include <string.h>

static bool is_filling(char at) { return at == ' ' || at == '-'; }

bool sw_same_number(const char *a, const char *b) {
    size_t count = 0;
    for (;; a++, b++, count++) {
        while (is_filling(*a))
            a++;
        while (is_filling(*b))
            b++;
        if (sw_small_letter(*a) != sw_small_letter(*b))
            return false;
        if (*a == '\0')
            return count > 0;
    }
}

/* "MAKER TEXT" against `name`, without putting them together. */
static bool same_behind_maker(const char *maker, const char *text, const char *name) {
    for (; *maker != '\0'; maker++) {
        if (is_filling(*maker))
            continue;
        while (is_filling(*name))
            name++;
        if (sw_small_letter(*maker) != sw_small_letter(*name++))
            return false;
    }
    return sw_same_number(text, name);
}

static bool is_named(const sw_part *part, const char *maker, const char *text) {
    for (size_t n = 0; n < part->number_count; n++)
        if (sw_same_number(part->numbers[n], text))
            return true;
    return strcmp(part->id, text) == 0 || sw_same_number(part->name, text) ||
           (maker != NULL && same_behind_maker(maker, text, part->name));
}

size_t sw_parts_named(const sw_catalog *catalog, int role, const char *maker, const char *text,
                      int *found, size_t count) {
    for (size_t p = 0; p < catalog->part_count; p++) {
        if (catalog->parts[p].role != role || !is_named(&catalog->parts[p], maker, text))
            continue;
        size_t seen = 0;
        while (seen < count && found[seen] != (int)p)
            seen++;
        if (seen == count)
            found[count++] = (int)p;
    }
    return count;
}
