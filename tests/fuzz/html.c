/* Texts in a page: however hostile, they stay within their element or attribute, and read back as
 * what they were. */
#include <stdlib.h>
#include <string.h>

#include "fuzz.h"
#include "read/utf8.h"
#include "render/html.h"

/* The character that a writer puts for `at`: XML 1.0 section 2.2 and what turns the direction of
 * text aside, which becomes "?". */
static bool is_kept(const unsigned char *at, size_t length) {
    unsigned long code = at[0];
    if (length > 1) {
        code = at[0] & (0xFFu >> (length + 1));
        for (size_t i = 1; i < length; i++)
            code = code << 6 | (at[i] & 0x3Fu);
    }
    bool turns = (code >= 0x202A && code <= 0x202E) || (code >= 0x2066 && code <= 0x2069);
    bool none = (code & 0xFFFE) == 0xFFFE || (code >= 0xFDD0 && code <= 0xFDEF);
    return code >= 0x20 && !(code >= 0x7F && code < 0xA0) && !turns && !none;
}

/* Passes over `mark`, which must stand there. */
static const char *past(const char *at, const char *mark) {
    fuzz_hold(strncmp(at, mark, strlen(mark)) == 0, "\"%s\" is due at \"%.60s\"", mark, at);
    return at + strlen(mark);
}

/* Passes over the text as it must have been written, up to what ends it. */
static const char *past_text(const char *at, const char *text) {
    static const struct {
        char sign;
        const char *marks;
    } signs[] = {{'&', "&amp;"}, {'<', "&lt;"}, {'>', "&gt;"}, {'"', "&quot;"}, {0, NULL}};
    size_t left = strlen(text);
    for (size_t length; left > 0; text += length, left -= length) {
        length = sw_utf8_length((const unsigned char *)text, left);
        const char *marks = NULL;
        for (size_t i = 0; signs[i].marks != NULL; i++)
            marks = signs[i].sign == *text ? signs[i].marks : marks;
        if (marks != NULL) {
            at = past(at, marks);
        } else if (!is_kept((const unsigned char *)text, length)) {
            at = past(at, "?");
        } else {
            fuzz_hold(strncmp(at, text, length) == 0, "\"%.20s\" became \"%.20s\"", text, at);
            at += length;
        }
    }
    return at;
}

/* Text cut into lines loses nothing but blanks. */
static void lines_of(const char *text) {
    sw_arena *arena = sw_arena_new();
    const char *left = text, *line = NULL, *whole = text;
    size_t lines = 0;
    while ((line = sw_svg_next_line(arena, &left, 60)) != NULL) {
        whole += strspn(whole, " ");
        fuzz_hold(line[0] != '\0' && strncmp(whole, line, strlen(line)) == 0, "line %zu", lines);
        fuzz_hold(sw_utf8_length((const unsigned char *)line, strlen(line)) > 0, "a torn letter");
        whole += strlen(line);
        fuzz_hold(++lines <= strlen(text), "lines without end");
    }
    fuzz_hold(whole[strspn(whole, " ")] == '\0', "what is behind the last line is lost");
    sw_arena_free(arena);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    sw_html h = {0};
    sw_text picture = {0};
    char *text = fuzz_utf8(data, size);
    sw_html_element(&h, "p", " class=\"a\"", text);
    sw_html_number(&h, "1", "cost", text);
    sw_html_raw(&h, "<a title=\"");
    sw_html_text(&h, text);
    sw_html_raw(&h, "\">");
    sw_svg_text(&picture, 1, 2.5, SW_SVG_END, "", text);
#ifdef FUZZ_FAULT
    char *gone = strstr(h.out.bytes, "&lt;/");
    if (gone != NULL)
        memcpy(gone, "<!--", 4);
#endif
    const char *at = past(h.out.bytes, "<p class=\"a\">");
    at = past(past_text(at, text), "</p><span data-is=\"1.cost\">");
    at = past(past_text(at, text), "</span><a title=\"");
    at = past(past_text(at, text), "\">");
    fuzz_hold(*at == '\0', "more than was written");
    at = past(picture.bytes, "<text x=\"1\" y=\"2.5\" text-anchor=\"end\">");
    at = past(past_text(at, text), "</text>\n");
    fuzz_hold(*at == '\0', "more than was drawn");
    lines_of(text);
    sw_text_free(&h.out);
    sw_text_free(&picture);
    free(text);
    return 0;
}
