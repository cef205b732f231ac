/* Marks of SVG: https://www.w3.org/TR/SVG11/. */
#include "render/svg.h"

#include <math.h>
#include <string.h>

void sw_svg_number(sw_text *out, double number) {
    int64_t tenths = 0;
    if (!sw_round(&tenths, number * 10))
        tenths = 0;
    uint64_t size = tenths < 0 ? 0 - (uint64_t)tenths : (uint64_t)tenths;
    sw_text_addf(out, "%s%llu", tenths < 0 ? "-" : "", (unsigned long long)(size / 10));
    if (size % 10 != 0)
        sw_text_addf(out, ".%u", (unsigned)(size % 10));
}

/* Bytes of the code point at `text`. */
static size_t bytes_of(const char *text) {
    size_t length = 1;
    while (((unsigned char)text[length] & 0xC0) == 0x80)
        length++;
    return length;
}

static unsigned long code_point(const char *text, size_t length) {
    static const unsigned char masks[] = {0xFF, 0xFF, 0x1F, 0x0F, 0x07};
    unsigned long code = (unsigned char)text[0];
    if (length > 1 && length <= 4)
        code &= masks[length];
    for (size_t i = 1; i < length; i++)
        code = code << 6 | ((unsigned char)text[i] & 0x3F);
    return code;
}

/* Characters that XML 1.0 forbids or discourages, and those that turn the direction of what
 * stands beside them. */
static bool is_fit(unsigned long code) {
    bool control = code < 0x20 || (code >= 0x7F && code < 0xA0);
    bool turns = (code >= 0x202A && code <= 0x202E) || (code >= 0x2066 && code <= 0x2069);
    return !control && !turns && (code & 0xFFFE) != 0xFFFE && (code < 0xFDD0 || code > 0xFDEF);
}

void sw_svg_escape(sw_text *out, const char *text) {
    for (size_t length; *text != '\0'; text += length) {
        length = bytes_of(text);
        if (!is_fit(code_point(text, length)))
            sw_text_add(out, "?");
        else if (*text == '&')
            sw_text_add(out, "&amp;");
        else if (*text == '<')
            sw_text_add(out, "&lt;");
        else if (*text == '>')
            sw_text_add(out, "&gt;");
        else if (*text == '"')
            sw_text_add(out, "&quot;");
        else
            sw_text_add_bytes(out, text, length);
    }
}

void sw_svg_attribute(sw_text *out, const char *name, double number) {
    sw_text_addf(out, " %s=\"", name);
    sw_svg_number(out, number);
    sw_text_add(out, "\"");
}

void sw_svg_text(sw_text *out, double x, double y, sw_svg_anchor anchor, const char *look,
                 const char *text) {
    static const char *const anchors[] = {
        [SW_SVG_START] = "",
        [SW_SVG_MIDDLE] = " text-anchor=\"middle\"",
        [SW_SVG_END] = " text-anchor=\"end\"",
    };
    sw_text_add(out, "<text");
    sw_svg_attribute(out, "x", x);
    sw_svg_attribute(out, "y", y);
    sw_text_addf(out, "%s%s>", anchors[anchor], look);
    sw_svg_escape(out, text);
    sw_text_add(out, "</text>\n");
}

void sw_svg_line(sw_text *out, double x1, double y1, double x2, double y2, const char *look) {
    sw_text_add(out, "<line");
    sw_svg_attribute(out, "x1", x1);
    sw_svg_attribute(out, "y1", y1);
    sw_svg_attribute(out, "x2", x2);
    sw_svg_attribute(out, "y2", y2);
    sw_text_addf(out, "%s/>\n", look);
}

/* Widths of a common wide face (sans-serif, 14), rounded up by class. */
static double width_of(unsigned long code) {
    if (code >= 0x1100 && (code < 0x2000 || code >= 0x2E80))
        return 14; /* East Asia, and signs that are pictures */
    if (code >= 'A' && code <= 'Z')
        return code == 'M' || code == 'W' ? 13.5 : code == 'I' ? 4.5 : 10;
    if (code == 'm' || code == 'w')
        return 13;
    if (code < 0x80 && strchr(" .,:;'|!()[]-/fijlrt", (int)code) != NULL)
        return 5.5;
    return 9;
}

double sw_svg_width(const char *text) {
    double width = 0;
    for (size_t length; *text != '\0'; text += length) {
        length = bytes_of(text);
        width += width_of(code_point(text, length));
    }
    return width;
}

const char *sw_svg_next_line(sw_arena *arena, const char **text, double width) {
    const char *start = *text + strspn(*text, " "), *at = start, *last_break = NULL;
    double used = 0;
    if (*start == '\0')
        return NULL;
    while (*at != '\0') {
        size_t length = bytes_of(at);
        double more = width_of(code_point(at, length));
        if (*at == ' ')
            last_break = at;
        if (used + more > width && at > start) {
            at = last_break != NULL ? last_break : at;
            break;
        }
        used += more;
        at += length;
    }
    *text = at;
    return sw_arena_text(arena, start, (size_t)(at - start));
}
