/* Messages, edits, and what is told of them. */
#include "intake/mend_parts.h"

#include <stdlib.h>
#include <string.h>

#include "read/json_scan.h"

/* ---- messages between the lines ------------------------------------------------------- */

/* Error output that went into the same file can break in anywhere, since it is not held back as
 * the data is: these beginnings are cut out wherever they stand, to the end of their line. (The
 * first is that of `sensors`, the second that of `lshw`; from memory.) */
static const char *const break_ins[] = {"ERROR: Can't get ", "WARNING: output may be incomplete"};

static bool breaks_in(const char *at, size_t left) {
    for (size_t i = 0; i < sizeof break_ins / sizeof *break_ins; i++) {
        size_t length = strlen(break_ins[i]);
        if (left >= length && memcmp(at, break_ins[i], length) == 0)
            return true;
    }
    return false;
}

static bool is_letter(char byte) {
    return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z');
}

static bool is_word_of_json(const char *at, size_t length) {
    static const char *const words[] = {"true", "false", "null", "nan", "inf", "infinity"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        size_t same = 0;
        while (same < length && words[i][same] != '\0' && (at[same] | 0x20) == words[i][same])
            same++;
        if (same == length && words[i][same] == '\0')
            return true;
    }
    return false;
}

/* A line that begins with a word is a message: in JSON only its few words do, and what is damaged
 * goes on as JSON does. */
static bool is_message(const char *line, size_t left) {
    size_t at = 0;
    while (at < left && (line[at] == ' ' || line[at] == '\t'))
        at++;
    size_t begin = at;
    while (at < left && is_letter(line[at]))
        at++;
    bool goes_on = at < left && line[at] != '\0' && strchr("\"{}[],", line[at]) != NULL;
    return at > begin && !goes_on && !is_word_of_json(line + begin, at - begin);
}

static size_t to_line_end(const char *at, size_t left) {
    const char *end = memchr(at, '\n', left);
    return end == NULL ? left : (size_t)(end - at);
}

static void leave_line_end(sw_mend *to) {
    if (!SW_GROW(to->line_ends, to->line_end_room, to->line_end_count))
        to->no_memory = true;
    else
        to->line_ends[to->line_end_count++] = to->text.length;
}

void sw_mend_leave_messages(sw_mend *to, const char *bytes, size_t length) {
    bool line_begins = true;
    size_t kept = 0; /* what stands between it and `at` is still to be copied */
    for (size_t at = 0; at < length && !to->no_memory;) {
        bool whole_line = line_begins && is_message(bytes + at, length - at);
        if (!whole_line && !breaks_in(bytes + at, length - at)) {
            line_begins = bytes[at++] == '\n';
            continue;
        }
        sw_text_add_bytes(&to->text, bytes + kept, at - kept);
        sw_mend_note(to, SW_MEND_MESSAGES, to->text.length);
        at += to_line_end(bytes + at, length - at);
        if (!whole_line && at < length) {
            leave_line_end(to);
            at++;
        }
        kept = at;
        line_begins = false;
    }
    sw_text_add_bytes(&to->text, bytes + kept, length - kept);
    to->no_memory |= to->text.failed;
    to->length = to->text.length;
}

void sw_mend_free(sw_mend *to) {
    sw_text_free(&to->text);
    sw_text_free(&to->name_bytes);
    free(to->line_ends);
    free(to->changes);
    free(to->names);
}

int sw_mend_peek(const sw_mend *to) {
    return to->at < to->length ? (unsigned char)to->text.bytes[to->at] : SW_SCAN_END;
}

void sw_mend_blanks(sw_mend *to) {
    for (int byte = sw_mend_peek(to); byte == ' ' || byte == '\t' || byte == '\r' || byte == '\n';
         byte = sw_mend_peek(to))
        to->at++;
}

/* ---- edits ---------------------------------------------------------------------------- */

typedef struct place {
    size_t line, byte; /* from 1 */
} place;

static place place_of(const sw_mend *to, size_t at) {
    place is = {1, 1};
    for (size_t i = 0; i < at && i < to->text.length; i++) {
        is.byte++;
        if (to->text.bytes[i] == '\n')
            is = (place){is.line + 1, 1};
    }
    for (size_t i = 0; i < to->line_end_count && to->line_ends[i] <= at; i++)
        is.line++;
    return is;
}

void sw_mend_note(sw_mend *to, sw_mend_kind kind, size_t at) {
    sw_mend_seen *seen = &to->notes[kind];
    if (seen->count++ == 0 || at < seen->first)
        seen->first = at;
    /* Messages are left aside, not mended. */
    to->mended += kind != SW_MEND_MESSAGES;
}

void sw_mend_edit(sw_mend *to, sw_mend_kind kind, size_t at, size_t drop, const char *put) {
    sw_mend_note(to, kind, at);
    if (!SW_GROW(to->changes, to->change_room, to->change_count)) {
        to->no_memory = true;
        return;
    }
    to->changes[to->change_count] = (sw_mend_change){at, drop, to->change_count, put};
    to->change_count++;
}

static int by_place(const void *left, const void *right) {
    const sw_mend_change *a = left, *b = right;
    if (a->at != b->at)
        return a->at < b->at ? -1 : 1;
    return (a->order > b->order) - (a->order < b->order);
}

void sw_mend_apply(sw_mend *to, sw_text *out, size_t length) {
    if (to->change_count > 1)
        qsort(to->changes, to->change_count, sizeof *to->changes, by_place);
    size_t done = 0;
    for (size_t i = 0; i < to->change_count; i++) {
        const sw_mend_change *change = &to->changes[i];
        if (change->at < done || change->at >= length)
            continue;
        sw_text_add_bytes(out, to->text.bytes + done, change->at - done);
        sw_text_add(out, change->put);
        done = change->at + change->drop;
    }
    if (done < length)
        sw_text_add_bytes(out, to->text.bytes + done, length - done);
}

/* ---- telling -------------------------------------------------------------------------- */

void sw_mend_fault(sw_mend *to, const char *what, const char *why, const char *mend) {
    place is = place_of(to, to->at);
    const char *where = sw_arena_format(to->arena, "line %zu, byte %zu", is.line, is.byte);
    to->faulty = true;
    to->no_memory |= where == NULL;
    if (where != NULL)
        sw_complain(to->faults, to->file, where, why, mend, "%s", what);
}

void sw_mend_tell(sw_mend *to) {
    static const struct {
        const char *what, *why, *mend;
    } told[SW_MEND_KINDS] = {
        {"messages of the tool between the data", "they are no data and are passed over",
         "read them: the tool may lack a right; keep them out with 2>/dev/null"},
        {"places without a value that JSON can hold, such as NaN",
         "the tool knew nothing there, and nothing is taken from there", "nothing needs mending"},
        {"names given again in one object", "which one is meant is not known: they are kept apart",
         "look at the devices of one name by eye"},
        {"bytes that are no text", "they were replaced; all around them was read",
         "check names that hold such a mark by eye"},
        {"commas too many or too few", "they were set right; no value hangs on them",
         "nothing needs mending"},
        {"more texts behind the first", "all of them were read", "nothing needs mending"},
    };
    for (size_t kind = 0; kind < SW_MEND_KINDS; kind++) {
        const sw_mend_seen *seen = &to->notes[kind];
        if (seen->count == 0)
            continue;
        const char *where = sw_arena_format(to->arena, "line %zu", place_of(to, seen->first).line);
        to->no_memory |= where == NULL;
        if (where != NULL)
            sw_complain(to->faults, to->file, where, told[kind].why, told[kind].mend,
                        "%s: %zu, here the first", told[kind].what, seen->count);
    }
}
