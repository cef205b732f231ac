/* Lines of plain text, no wider than the page. */
#include "render/page.h"

#include <string.h>

#define SW_SUM_GAP 2 /* columns between a line and its sum */

int sw_columns(const char *text) {
    int columns = 0;
    for (; *text != '\0'; text++)
        columns += ((unsigned char)*text & 0xC0) != 0x80;
    return columns;
}

static void spaces(sw_page *page, int count) {
    for (int i = 0; i < count; i++)
        sw_text_add(&page->text, " ");
}

/* U+202A to U+202E and U+2066 to U+2069 turn the direction of all that stands behind them. */
static bool turns(const unsigned char *at, size_t left) {
    return left >= 3 && at[0] == 0xE2 &&
           ((at[1] == 0x80 && at[2] >= 0xAA && at[2] <= 0xAE) ||
            (at[1] == 0x81 && at[2] >= 0xA6 && at[2] <= 0xA9));
}

/* Neither control characters of names and titles nor marks of direction must reach a terminal. */
static void add_plain(sw_text *text, const char *bytes, size_t length) {
    for (size_t i = 0; i < length; i++) {
        unsigned char byte = (unsigned char)bytes[i];
        bool c1 = byte == 0xC2 && i + 1 < length && (unsigned char)bytes[i + 1] < 0xA0;
        bool turned = turns((const unsigned char *)bytes + i, length - i);
        if (byte < 0x20 || byte == 0x7F || c1 || turned)
            sw_text_add(text, "?");
        else
            sw_text_add_bytes(text, &bytes[i], 1);
        i += turned ? 2 : c1 ? 1 : 0;
    }
}

/* Wraps into `width` columns; leaves the last line open and returns how many
 * columns it holds. */
static int wrap(sw_page *page, const char *lead, const char *text, int width) {
    int indent = sw_columns(lead), at = indent;
    if (indent > width / 2)
        indent = 4;
    sw_text_add(&page->text, lead);
    bool first = true;
    while (*text != '\0') {
        size_t length = strcspn(text, " ");
        int columns = 0;
        for (size_t i = 0; i < length; i++)
            columns += ((unsigned char)text[i] & 0xC0) != 0x80;
        if (!first && at + 1 + columns > width) {
            sw_text_add(&page->text, "\n");
            spaces(page, indent);
            at = indent;
            first = true;
        }
        if (!first) {
            sw_text_add(&page->text, " ");
            at++;
        }
        add_plain(&page->text, text, length);
        at += columns;
        first = false;
        text += length;
        text += strspn(text, " ");
    }
    return at;
}

void sw_page_words(sw_page *page, const char *lead, const char *text) {
    wrap(page, lead, text, page->width);
    sw_text_add(&page->text, "\n");
}

void sw_page_sum(sw_page *page, const char *lead, const char *left, const char *right) {
    int room = page->width - sw_columns(right) - SW_SUM_GAP;
    int at = wrap(page, lead, left, room);
    spaces(page, page->width - sw_columns(right) - at);
    sw_text_add(&page->text, right);
    sw_text_add(&page->text, "\n");
}

static void begin_bold(sw_page *page) {
    if (page->bold)
        sw_text_add(&page->text, "\033[1m");
}

static void end_bold(sw_page *page) {
    if (page->bold)
        sw_text_add(&page->text, "\033[0m");
}

void sw_page_heading(sw_page *page, const char *heading, const char *right) {
    sw_page_gap(page);
    begin_bold(page);
    if (right != NULL)
        sw_page_sum(page, "", heading, right);
    else
        sw_page_words(page, "", heading);
    end_bold(page);
}

void sw_page_title(sw_page *page, const char *title) {
    begin_bold(page);
    sw_page_words(page, "", title);
    end_bold(page);
}

void sw_page_gap(sw_page *page) { sw_text_add(&page->text, "\n"); }
