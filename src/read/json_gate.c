/* One pass over the bytes, before any parser sees them: RFC 8259 to the letter,
 * and bounds on what the parser will have to hold. */
#include "read/json_gate.h"

#include <stdlib.h>
#include <string.h>

#include "read/json_scan.h"

/* A name of an object that is still open. */
typedef struct open_name {
    size_t offset;    /* of its decoded text in `name_bytes` */
    const char *text; /* set only while names are compared */
    size_t line;
} open_name;

typedef struct frame {
    bool is_object;
    size_t first_name, first_byte; /* what to drop when it closes */
} frame;

typedef struct gate {
    sw_scan scan;
    frame frames[SW_JSON_DEPTH_LIMIT];
    size_t depth;
    size_t values;
    open_name *names;
    size_t name_count, name_room;
    sw_text name_bytes;
} gate;

/* ---- names ------------------------------------------------------------------------ */

static bool keep_name(gate *in) {
    sw_scan *scan = &in->scan;
    size_t offset = in->name_bytes.length, line = scan->line;
    if (sw_scan_peek(scan) == SW_SCAN_END)
        return sw_scan_fail(scan, "an object is still open", "close it, or restore the cut-off end",
                            "ends too early");
    if (sw_scan_peek(scan) != '"')
        return sw_scan_fail(scan, "a name in quotes stands before each value of an object",
                            "write the name in double quotes; take away a comma too many",
                            "has no name where one is due");
    if (!sw_scan_string(scan, &in->name_bytes))
        return false;
    sw_text_add_bytes(&in->name_bytes, "", 1);
    if (in->name_bytes.failed || !SW_GROW(in->names, in->name_room, in->name_count)) {
        scan->no_memory = true;
        return false;
    }
    in->names[in->name_count++] = (open_name){.offset = offset, .line = line};
    sw_scan_blanks(scan);
    if (sw_scan_peek(scan) != ':')
        return sw_scan_fail(scan, "a colon stands between a name and its value", "add the colon",
                            "has no colon behind a name");
    scan->at++;
    return true;
}

static int by_name_then_line(const void *left, const void *right) {
    const open_name *a = left, *b = right;
    int order = strcmp(a->text, b->text);
    return order != 0 ? order : (a->line > b->line) - (a->line < b->line);
}

/* The names of the object that closes are the last ones: complain of each that
 * came before, and drop them. */
static void close_names(gate *in, const frame *closing) {
    size_t count = in->name_count - closing->first_name;
    if (count == 0)
        return;
    open_name *names = in->names + closing->first_name;
    for (size_t i = 0; i < count; i++)
        names[i].text = in->name_bytes.bytes + names[i].offset;
    if (count > 1)
        qsort(names, count, sizeof *names, by_name_then_line);
    for (size_t i = 1; i < count; i++)
        if (strcmp(names[i].text, names[i - 1].text) == 0)
            sw_scan_repeated(&in->scan, names[i].text, names[i].line);
    in->name_count = closing->first_name;
    in->name_bytes.length = closing->first_byte;
}

/* ---- values ----------------------------------------------------------------------- */

static bool open_frame(gate *in, bool is_object) {
    if (in->depth == SW_JSON_DEPTH_LIMIT)
        return sw_scan_fail(&in->scan, "lists and objects stand at most 64 deep in one another",
                            "flatten the data", "is nested too deep");
    in->frames[in->depth++] = (frame){
        .is_object = is_object, .first_name = in->name_count, .first_byte = in->name_bytes.length};
    in->scan.at++;
    return true;
}

static void close_frame(gate *in) {
    const frame *closing = &in->frames[--in->depth];
    if (closing->is_object)
        close_names(in, closing);
    in->scan.at++;
}

static bool literal(gate *in, const char *word) {
    sw_scan *scan = &in->scan;
    size_t length = strlen(word);
    if (scan->length - scan->at < length || memcmp(scan->bytes + scan->at, word, length) != 0)
        return sw_scan_fail(scan, "the words of JSON are true, false and null",
                            "spell it out, or put text into double quotes",
                            "holds a word that JSON does not have");
    scan->at += length;
    return true;
}

/* Opens a list or object, or passes over one plain value; `*whole` says whether
 * the value is complete. */
static bool value(gate *in, bool *whole) {
    sw_scan *scan = &in->scan;
    if (in->values++ == SW_JSON_VALUE_LIMIT)
        return sw_scan_fail(scan, "at most 400,000 values are read from one file", "split the file",
                            "holds too many values");
    *whole = true;
    int byte = sw_scan_peek(scan);
    switch (byte) {
    case '{':
    case '[':
        if (!open_frame(in, byte == '{'))
            return false;
        sw_scan_blanks(scan);
        *whole = sw_scan_peek(scan) == (byte == '{' ? '}' : ']');
        if (*whole)
            close_frame(in);
        return true;
    case '"':
        return sw_scan_string(scan, NULL);
    case 't':
        return literal(in, "true");
    case 'f':
        return literal(in, "false");
    case 'n':
        return literal(in, "null");
    case SW_SCAN_END:
        return sw_scan_fail(scan, "a value is due here", "add it, or restore the cut-off end",
                            "ends too early");
    case ',':
    case ']':
    case '}':
        return sw_scan_fail(scan, "a value is due here", "add it, or take away a comma too many",
                            "has no value where one is due");
    default:
        return sw_scan_number(scan);
    }
}

/* ---- the text --------------------------------------------------------------------- */

static bool between_values(gate *in, bool *closed) {
    sw_scan *scan = &in->scan;
    const frame *open = &in->frames[in->depth - 1];
    int byte = sw_scan_peek(scan);
    *closed = byte == (open->is_object ? '}' : ']');
    if (*closed) {
        close_frame(in);
        return true;
    }
    if (byte == SW_SCAN_END)
        return sw_scan_fail(scan, "a list or an object is still open",
                            "close it, or restore the cut-off end", "ends too early");
    if (byte != ',')
        return sw_scan_fail(scan, "a comma stands between two values",
                            "add the comma, or the bracket that closes",
                            "has no comma where one is due");
    scan->at++;
    return true;
}

/* Everything behind the opening of a list or object up to its next value. */
static bool before_value(gate *in) {
    sw_scan_blanks(&in->scan);
    if (in->depth > 0 && in->frames[in->depth - 1].is_object && !keep_name(in))
        return false;
    sw_scan_blanks(&in->scan);
    return true;
}

static bool whole_text(gate *in) {
    for (bool more = true; more;) {
        bool complete = false;
        if (!before_value(in) || !value(in, &complete))
            return false;
        sw_scan_blanks(&in->scan);
        more = !complete || in->depth > 0;
        while (complete && in->depth > 0) {
            if (!between_values(in, &complete))
                return false;
            sw_scan_blanks(&in->scan);
            more = in->depth > 0;
        }
    }
    if (in->scan.at != in->scan.length)
        return sw_scan_fail(&in->scan, "a file holds one value and nothing behind it",
                            "take away what stands behind the value", "goes on behind its end");
    return true;
}

sw_status sw_json_gate(const char *file, const char *bytes, size_t length,
                       sw_complaints *complaints) {
    gate in = {.scan = {.file = file,
                        .bytes = (const unsigned char *)bytes,
                        .length = length,
                        .line = 1,
                        .complaints = complaints}};
    if (length >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0)
        sw_scan_fail(&in.scan, "JSON carries no byte order mark (RFC 8259, 8.1)",
                     "save the file as UTF-8 without a byte order mark",
                     "starts with a byte order mark");
    else
        whole_text(&in);
    free(in.names);
    sw_text_free(&in.name_bytes);
    if (in.scan.no_memory)
        return SW_NO_MEMORY;
    return in.scan.bad ? SW_BAD_DATA : SW_OK;
}
