/* Names that stand on a page, in a terminal and in other people's folders: whoever reads one must
 * see all of it. */
#include "desk/sheet_name.h"

#include <stdbool.h>
#include <string.h>

#include "read/plain.h"

#define BYTES_MOST 100
#define ENDING ".json"

/* All blanks of Unicode (category Zs), as UTF-8. */
static const char *const blanks[] = {" ",
                                     "\xC2\xA0",
                                     "\xE1\x9A\x80",
                                     "\xE2\x80\x80",
                                     "\xE2\x80\x81",
                                     "\xE2\x80\x82",
                                     "\xE2\x80\x83",
                                     "\xE2\x80\x84",
                                     "\xE2\x80\x85",
                                     "\xE2\x80\x86",
                                     "\xE2\x80\x87",
                                     "\xE2\x80\x88",
                                     "\xE2\x80\x89",
                                     "\xE2\x80\x8A",
                                     "\xE2\x80\xAF",
                                     "\xE2\x81\x9F",
                                     "\xE3\x80\x80"};

static bool ends_in(const char *text, size_t length, const char *with) {
    size_t end = strlen(with);
    return length >= end && memcmp(text + length - end, with, end) == 0;
}

static bool has_blank_at_end(const char *text, size_t length) {
    for (size_t i = 0; i < sizeof blanks / sizeof *blanks; i++)
        if (strncmp(text, blanks[i], strlen(blanks[i])) == 0 || ends_in(text, length, blanks[i]))
            return true;
    return false;
}

const char *sw_sheet_name_fault(const char *name) {
    size_t length = strlen(name), ending = sizeof ENDING - 1;
    if (length > BYTES_MOST)
        return "it has more than 100 bytes";
    if (!sw_is_plain(name, length))
        return "it holds control characters, or what cannot be seen";
    if (has_blank_at_end(name, length))
        return "it begins or ends with a blank, which is easily overlooked";
    if (strchr(name, '/') != NULL)
        return "it holds a slash: a job's file stands in the folder that the desk works in";
    if (strchr(name, '\\') != NULL)
        return "it holds a backslash, which other systems read as a folder's end";
    if (name[0] == '.')
        return "it begins with a point, which would hide it";
    if (name[0] == '-')
        return "it begins with a hyphen, which commands read as an option";
    if (length <= ending || !ends_in(name, length, ENDING))
        return "it does not end in .json, with a name before that";
    if (has_blank_at_end(name, length - ending))
        return "it has a blank before .json, which is easily overlooked";
    return NULL;
}
