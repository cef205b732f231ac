/* The walk over the text: where it is sound, what is mended, where it is cut. */
#include "intake/mend_json.h"

#include <stdlib.h>
#include <string.h>

#include "intake/mend_parts.h"
#include "read/json_scan.h"

/* One less than the gate's, for the list that several texts are put into. */
#define DEPTH_LIMIT 63

typedef struct frame {
    bool is_object;
    size_t first_name, first_byte;
} frame;

/* What may stand next. */
typedef enum due { DUE_FIRST, DUE_NAME, DUE_VALUE, DUE_COMMA } due;

typedef struct walk {
    sw_mend *to;
    frame frames[DEPTH_LIMIT];
    size_t depth, values, roots;
    size_t safe;          /* all before it is sound once what is open is closed */
    size_t comma;         /* where the comma at hand stands, while `after_comma` */
    bool after_comma;     /* not yet known to be a comma between two values */
    bool after_container; /* the last value was a list or an object */
    due due;
    bool stop;
} walk;

static void fault(walk *at, const char *what, const char *why, const char *mend) {
    at->stop = true;
    sw_mend_fault(at->to, what, why, mend);
}

static void too_much_to_mend(walk *at) {
    fault(at, "has too much to be mended", "at most 1,000 places of one file are mended",
          "check that it is the file that was meant, and take the dump again");
}

/* Something else is due than what stands here, which may be the end. */
static void misplaced(walk *at) {
    if (at->to->mended > SW_MEND_LIMIT)
        too_much_to_mend(at);
    else if (at->to->at == at->to->length)
        fault(at, "ends too early", "what stood before the end is used",
              "take the dump again if it was cut off");
    else
        fault(at, "is broken here", "this is no JSON, and what stands behind it cannot be trusted",
              "take the dump again; what stood before is used");
}

/* ---- lists and objects ---------------------------------------------------------------- */

static void open_container(walk *at, bool is_object) {
    if (at->depth == DEPTH_LIMIT) {
        fault(at, "is nested too deep", "lists and objects stand at most 63 deep in one another",
              "check that it is the file that was meant");
        return;
    }
    at->frames[at->depth++] = (frame){is_object, at->to->name_count, at->to->name_bytes.length};
    at->to->at++;
    at->safe = at->to->at;
    at->due = DUE_FIRST;
    at->after_comma = false;
}

static void close_container(walk *at, int byte) {
    const frame *closing = &at->frames[at->depth - 1];
    if ((byte == '}') != closing->is_object || at->due == DUE_VALUE) {
        misplaced(at);
        return;
    }
    if (at->after_comma)
        sw_mend_edit(at->to, SW_MEND_COMMAS, at->comma, 1, "");
    sw_mend_close_names(at->to, closing->first_name, closing->first_byte);
    at->depth--;
    at->to->at++;
    at->safe = at->to->at;
    at->after_comma = false;
    at->after_container = true;
    at->due = DUE_COMMA;
    at->roots += at->depth == 0;
}

/* ---- values --------------------------------------------------------------------------- */

/* The comma before was one between two values: the value before it can be trusted. */
static void settle_comma(walk *at) {
    if (at->after_comma)
        at->safe = at->comma;
    at->after_comma = false;
}

static void name(walk *at) {
    sw_mend *to = at->to;
    settle_comma(at);
    bool named = sw_mend_take_name(to);
    sw_mend_blanks(to);
    if (!named || sw_mend_peek(to) != ':') {
        misplaced(at);
        return;
    }
    to->at++;
    at->due = DUE_VALUE;
}

static void value(walk *at, int byte) {
    sw_mend *to = at->to;
    if (at->values++ == SW_MEND_VALUE_LIMIT) {
        fault(at, "holds too many values", "a dump of one machine holds at most 200,000",
              "check that it is the file that was meant");
        return;
    }
    if (byte == '{' || byte == '[') {
        settle_comma(at);
        open_container(at, byte == '{');
        return;
    }
    bool in_object = at->frames[at->depth - 1].is_object;
    bool missing = in_object && (byte == ',' || byte == '}');
    if (missing)
        sw_mend_edit(to, SW_MEND_WORDS, to->at, 0, "null");
    else if (byte == '"' ? !sw_mend_take_text(to) : !sw_mend_take_word(to)) {
        misplaced(at);
        return;
    }
    settle_comma(at);
    at->due = DUE_COMMA;
    at->after_container = false;
}

/* Between two values there is no comma: after a list or object the next may begin all the same. */
static void no_comma(walk *at, int byte) {
    bool in_object = at->frames[at->depth - 1].is_object;
    if (!at->after_container || (in_object ? byte != '"' : byte != '{')) {
        misplaced(at);
        return;
    }
    sw_mend_edit(at->to, SW_MEND_COMMAS, at->to->at, 0, ",");
    at->due = in_object ? DUE_NAME : DUE_VALUE;
}

static void comma(walk *at) {
    sw_mend *to = at->to;
    if (at->due == DUE_FIRST || at->after_comma) {
        sw_mend_edit(to, SW_MEND_COMMAS, to->at, 1, "");
    } else {
        at->comma = to->at;
        at->after_comma = true;
        at->due = at->frames[at->depth - 1].is_object ? DUE_NAME : DUE_VALUE;
    }
    to->at++;
}

static void inside(walk *at, int byte) {
    bool in_object = at->frames[at->depth - 1].is_object;
    bool bracket = byte == '}' || byte == ']';
    bool holds = in_object ? at->due == DUE_VALUE : at->due != DUE_COMMA && byte != ',' && !bracket;
    if (byte == SW_SCAN_END) {
        misplaced(at);
        return;
    }
    if (holds) {
        value(at, byte);
    } else if (byte == ',') {
        comma(at);
    } else if (bracket) {
        if (at->after_comma)
            at->due = DUE_COMMA;
        close_container(at, byte);
    } else if (at->due == DUE_COMMA) {
        no_comma(at, byte);
    } else if (byte == '"') {
        name(at);
    } else {
        misplaced(at);
    }
}

/* ---- the text ------------------------------------------------------------------------- */

static void outside(walk *at, int byte) {
    sw_mend *to = at->to;
    if (byte == SW_SCAN_END && at->roots > 0) {
        if (at->after_comma)
            sw_mend_edit(to, SW_MEND_COMMAS, at->comma, 1, "");
        at->safe = to->at;
        at->stop = true;
    } else if (byte == SW_SCAN_END) {
        fault(at, "holds no JSON", "a dump begins with { or [", "take the dump again");
    } else if (byte == ',' && at->roots > 0 && !at->after_comma) {
        at->comma = to->at++;
        at->after_comma = true;
    } else if (byte == '{' || byte == '[') {
        if (at->roots > 0 && !at->after_comma)
            sw_mend_edit(to, SW_MEND_SEVERAL, to->at, 0, ",");
        else if (at->roots > 0)
            sw_mend_note(to, SW_MEND_SEVERAL, to->at);
        at->values++;
        open_container(at, byte == '{');
    } else {
        misplaced(at);
    }
}

static void whole_text(walk *at) {
    while (!at->stop && !at->to->no_memory) {
        sw_mend_blanks(at->to);
        int byte = sw_mend_peek(at->to);
        if (at->depth == 0)
            outside(at, byte);
        else
            inside(at, byte);
        if (!at->stop && at->to->mended > SW_MEND_LIMIT)
            too_much_to_mend(at);
    }
}

/* Names behind the cut are gone; those before it are told apart as if their objects closed. */
static void close_what_is_open(walk *at, sw_text *tail) {
    sw_mend_drop_names(at->to, at->safe);
    for (size_t depth = at->depth; depth > 0; depth--) {
        const frame *open = &at->frames[depth - 1];
        if (open->is_object)
            sw_mend_close_names(at->to, open->first_name, open->first_byte);
        sw_text_add(tail, open->is_object ? "}" : "]");
    }
}

static sw_status finish(sw_mended *out, walk *at, sw_arena *arena) {
    sw_text tail = {0}, text = {0};
    bool several = at->to->notes[SW_MEND_SEVERAL].count > 0;
    close_what_is_open(at, &tail);
    if (several)
        sw_text_add(&text, "[");
    sw_mend_apply(at->to, &text, at->safe);
    if (tail.length > 0)
        sw_text_add(&text, tail.bytes);
    if (several)
        sw_text_add(&text, "]");
    bool failed = at->to->no_memory || tail.failed || text.failed;
    bool too_much = at->to->notes[SW_MEND_NAMES].count > SW_MEND_LIMIT;
    if (too_much && !at->to->faulty)
        too_much_to_mend(at);
    out->bytes = failed || too_much ? NULL : sw_arena_text(arena, text.bytes, text.length);
    out->length = text.length;
    sw_text_free(&tail);
    sw_text_free(&text);
    return out->bytes != NULL ? SW_OK : too_much ? SW_BAD_DATA : SW_NO_MEMORY;
}

sw_status sw_mend_json(sw_mended *out, sw_arena *arena, const char *file, const char *bytes,
                       size_t length, sw_complaints *faults) {
    sw_mend to = {.arena = arena, .file = file, .faults = faults};
    walk at = {.to = &to};
    sw_mend_leave_messages(&to, bytes, length);
    if (!to.no_memory)
        whole_text(&at);
    sw_status status = to.no_memory ? SW_NO_MEMORY : at.safe == 0 ? SW_BAD_DATA : SW_OK;
    if (status == SW_OK)
        status = finish(out, &at, arena);
    if (status != SW_NO_MEMORY)
        sw_mend_tell(&to);
    out->whole = !to.faulty;
    sw_mend_free(&to);
    return status;
}
