/* The list of statements, and what of a text counts as saying nothing. */
#include "intake/statements.h"
#include "base/letters.h"

#include <string.h>

#include "read/utf8.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* ---- words for "not known" ------------------------------------------------------------ */

/* What firmware and the tools that print it write where they know nothing: common practice, no
 * source, but for the first five lines, which are dmidecode's own. Whole texts, case aside; '#'
 * stands for digits. */
static const char *const unknown_words[] = {
    "unknown", "not specified", "unspecified", "not provided", "not available", "not applicable",
    "not present", "not settable", "not set", "no module installed", "none", "other",
    "<out of spec>", "<bad index>", "undefined", "<undefined>", "[empty]", "empty", "reserved",
    /* the makers of boards and firmware */
    "to be filled by o.e.m.", "to be filled by o.e.m", "to be filled by oem", "to be filled",
    "filled by oem", "fill by oem", "o.e.m.", "oem", "default string", "default", "n/a", "na",
    "null", "(null)", "nil", "invalid", "not defined", "unassigned", "[unknown]", "(unknown)",
    "<unknown>", "unknown vendor", "unknown manufacturer", "no dimm", "no asset tag",
    "no asset information", "no serial number", "system manufacturer", "system product name",
    "system version", "system name", "system serial number", "system sku", "chassis manufacturer",
    "chassis manufacture", "chassis version", "chassis serial number", "base board manufacturer",
    "base board product name", "base board version", "base board serial number",
    "board manufacturer", "board product name", "manufacturer", "product name", "part number",
    "serial number", "asset tag", "version",
    /* numbered fillers */
    "manufacturer#", "partnum#", "modulepartnumber#", "sernum#", "assettagnum#", "a#_manufacturer#",
    "a#_partnum#", "a#_sernum#", "a#_assettagnum#", "array#_partnumber#", "dimm#_manufacturer",
    "dimm#_partnum", "unknown#", "undefined#"};

static bool is_digit(char at) { return at >= '0' && at <= '9'; }

static bool is_letter(char at) { return sw_small_letter(at) >= 'a' && sw_small_letter(at) <= 'z'; }

static bool matches(const char *text, const char *word) {
    while (*word != '\0') {
        if (*word == '#') {
            if (!is_digit(*text))
                return false;
            while (is_digit(*text))
                text++;
            word++;
        } else if (sw_small_letter(*text++) != *word++) {
            return false;
        }
    }
    return *text == '\0';
}

/* Nothing but zeros and marks, perhaps behind "0x": "0000", "--", "0x00". */
static bool is_filler(const char *text) {
    if (text[0] == '0' && sw_small_letter(text[1]) == 'x')
        text += 2;
    for (; *text != '\0'; text++)
        if (is_letter(*text) || (is_digit(*text) && *text != '0') || (unsigned char)*text >= 0x80)
            return false;
    return true;
}

/* Four or more of one of the letters that people fill fields with: "XXXX", "ffffffff". */
static bool is_run(const char *text) {
    char first = sw_small_letter(text[0]);
    if (first != 'x' && first != 'f')
        return false;
    size_t length = 0;
    while (sw_small_letter(text[length]) == first)
        length++;
    return text[length] == '\0' && length >= 4;
}

bool sw_says_unknown(const char *clean) {
    if (is_filler(clean) || is_run(clean))
        return true;
    for (size_t i = 0; i < COUNT(unknown_words); i++)
        if (matches(clean, unknown_words[i]))
            return true;
    return false;
}

/* ---- cleaning ------------------------------------------------------------------------- */

static uint32_t code_point(const unsigned char *at, size_t bytes) {
    if (bytes == 1)
        return at[0];
    uint32_t point = at[0] & (0xFFu >> (bytes + 1));
    for (size_t i = 1; i < bytes; i++)
        point = point << 6 | (at[i] & 0x3Fu);
    return point;
}

/* Controls, and the marks that turn or hide what stands beside them (Unicode, general categories
 * Cc, and of Cf those of direction and of no width; the two separators of lines). */
static bool is_unseen(uint32_t point) {
    return point < 0x20 || (point >= 0x7F && point <= 0x9F) || point == 0xAD || point == 0x61C ||
           (point >= 0x200B && point <= 0x200F) || (point >= 0x2028 && point <= 0x202E) ||
           (point >= 0x2060 && point <= 0x206F) || point == 0xFEFF ||
           (point >= 0xFFF9 && point <= 0xFFFB);
}

static void add_clean(sw_text *out, const char *bytes, size_t length) {
    for (size_t at = 0; at < length && out->length <= SW_STATEMENT_TEXT_LIMIT;) {
        const unsigned char *next = (const unsigned char *)bytes + at;
        size_t width = sw_utf8_length(next, length - at);
        if (width == 0)
            sw_text_add(out, "\xEF\xBF\xBD");
        else if (!is_unseen(code_point(next, width)))
            sw_text_add_bytes(out, bytes + at, width);
        at += width == 0 ? 1 : width;
    }
}

/* Where a blank begins at or ends before a byte: ASCII's own and the one that does not break. */
static size_t blank_at(const char *at, size_t left) {
    if (left >= 1 && at[0] == ' ')
        return 1;
    return left >= 2 && memcmp(at, "\xC2\xA0", 2) == 0 ? 2 : 0;
}

static size_t blank_before(const char *end, size_t length) {
    if (length >= 1 && end[-1] == ' ')
        return 1;
    return length >= 2 && memcmp(end - 2, "\xC2\xA0", 2) == 0 ? 2 : 0;
}

const char *sw_statement_clean(sw_statements *list, const char *bytes, size_t length) {
    sw_text text = {0};
    add_clean(&text, bytes, length);
    const char *from = text.bytes;
    size_t left = text.length;
    bool too_long = text.length > SW_STATEMENT_TEXT_LIMIT;
    for (size_t blank; left > 0 && (blank = blank_at(from, left)) > 0; left -= blank)
        from += blank;
    for (size_t blank; left > 0 && (blank = blank_before(from + left, left)) > 0;)
        left -= blank;
    const char *kept = NULL;
    if (!text.failed && left > 0 && !too_long) {
        kept = sw_arena_text(list->arena, from, left);
        list->failed |= kept == NULL;
    }
    list->failed |= text.failed;
    sw_text_free(&text);
    return kept;
}

const char *sw_statement_text(sw_statements *list, const char *bytes, size_t length) {
    const char *clean = sw_statement_clean(list, bytes, length);
    return clean == NULL || sw_says_unknown(clean) ? NULL : clean;
}

const char *sw_statement_key_apart(sw_statements *list, const char *key, const char *const *taken,
                                   size_t count) {
    const char *tried = key;
    for (size_t number = 2;; number++) {
        size_t at = 0;
        while (at < count && (taken[at] == NULL || strcmp(taken[at], tried) != 0))
            at++;
        if (at == count)
            return tried;
        tried = sw_arena_format(list->arena, "%s #%zu", key, number);
        if (tried == NULL) {
            list->failed = true;
            return NULL;
        }
    }
}

/* ---- the list ------------------------------------------------------------------------- */

void sw_statements_begin(sw_statements *list, sw_arena *arena) {
    *list = (sw_statements){.arena = arena};
}

/* Arrays in the arena grow by copies twice as large; what they leave behind is as much again. */
static bool make_room(sw_statements *list, void **array, size_t *room, size_t count, size_t size) {
    if (count < *room)
        return true;
    size_t wanted = *room == 0 ? 64 : *room * 2;
    void *moved = sw_arena_alloc(list->arena, wanted, size);
    if (moved == NULL) {
        list->failed = true;
        return false;
    }
    if (count > 0)
        memcpy(moved, *array, count * size);
    *array = moved;
    *room = wanted;
    return true;
}

/* A copy, or the copy made last when it says the same: files, devices and keys repeat. */
static const char *copy_or_share(sw_statements *list, const char *text, const char *last) {
    if (last != NULL && strcmp(text, last) == 0)
        return last;
    const char *copy = sw_arena_copy(list->arena, text);
    list->failed |= copy == NULL;
    return copy;
}

static const char *clean_key(sw_statements *list, const char *key) {
    const char *clean = key == NULL ? NULL : sw_statement_clean(list, key, strlen(key));
    return clean == NULL ? "" : clean;
}

/* Room and all texts but the value's; NULL when nothing may be added. */
static sw_statement *add(sw_statements *list, const sw_about *about, const char *property,
                         sw_says says) {
    if (!sw_statement_known(about->device, property, says)) {
        list->misuse = true;
        return NULL;
    }
    list->full |= list->count >= SW_STATEMENTS_LIMIT;
    if (list->full || list->failed ||
        !make_room(list, (void **)&list->all, &list->room, list->count, sizeof *list->all))
        return NULL;
    static const sw_statement nothing = {0};
    const sw_statement *last = list->count > 0 ? &list->all[list->count - 1] : &nothing;
    sw_statement made = {.says = says, .text = ""};
    made.device = copy_or_share(list, about->device, last->device);
    made.key = copy_or_share(list, clean_key(list, about->key), last->key);
    made.property = copy_or_share(list, property, NULL);
    made.file = copy_or_share(list, about->file, last->file);
    made.place = copy_or_share(list, clean_key(list, about->place), last->place);
    if (list->failed)
        return NULL;
    sw_statement *added = &list->all[list->count++];
    *added = made;
    return added;
}

void sw_state_text(sw_statements *list, const sw_about *about, const char *property,
                   const char *bytes, size_t length) {
    const char *text = sw_statement_text(list, bytes, length);
    sw_statement *added = text == NULL ? NULL : add(list, about, property, SW_SAYS_TEXT);
    if (added != NULL)
        added->text = text;
}

void sw_state_milli(sw_statements *list, const sw_about *about, const char *property,
                    int64_t milli) {
    sw_statement *added = add(list, about, property, SW_SAYS_NUMBER);
    if (added != NULL)
        added->milli = milli;
}

void sw_state_whole(sw_statements *list, const sw_about *about, const char *property,
                    int64_t number) {
    int64_t milli = 0;
    if (sw_multiply(&milli, number, 1000))
        sw_state_milli(list, about, property, milli);
}

void sw_state_real(sw_statements *list, const sw_about *about, const char *property,
                   double number) {
    int64_t milli = 0;
    if (sw_round(&milli, number * 1000))
        sw_state_milli(list, about, property, milli);
}

void sw_state_flag(sw_statements *list, const sw_about *about, const char *property, bool flag) {
    sw_statement *added = add(list, about, property, SW_SAYS_FLAG);
    if (added != NULL)
        added->flag = flag;
}

void sw_state_private(sw_statements *list, const sw_about *about, const char *kind,
                      const char *bytes, size_t length) {
    const char *value = sw_statement_text(list, bytes, length);
    if (value == NULL)
        return;
    list->full |= list->private_count >= SW_STATEMENTS_LIMIT;
    if (list->full || list->failed ||
        !make_room(list, (void **)&list->privates, &list->private_room, list->private_count,
                   sizeof *list->privates))
        return;
    const char *key = clean_key(list, about->key);
    const char *device = key[0] == '\0' ? sw_arena_copy(list->arena, about->device)
                                        : sw_arena_format(list->arena, "%s:%s", about->device, key);
    sw_private made = {device, copy_or_share(list, kind, NULL), value,
                       copy_or_share(list, about->file, NULL)};
    list->failed |= device == NULL;
    if (!list->failed)
        list->privates[list->private_count++] = made;
}

sw_status sw_statements_end(const sw_statements *list, sw_complaints *complaints) {
    if (list->failed)
        return SW_NO_MEMORY;
    if (list->misuse) {
        sw_complain(complaints, "", "", "only properties that the format lists are told", "",
                    "a reader of dumps made a statement that is none");
        return SW_INTERNAL;
    }
    if (list->full) {
        sw_complain(complaints, "", "", "at most 100,000 statements of one machine are kept",
                    "give the dumps of one machine at a time",
                    "the dumps say more than one machine can");
        return SW_BAD_DATA;
    }
    return SW_OK;
}
