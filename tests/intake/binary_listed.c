/* Every timing that a display can name by a code alone, against the lists that edid-decode prints
 * of them: a display of just that size, whose own timing is slow, has that rate as its top one. */
#include "binary.h"

#include <stdlib.h>
#include <string.h>

#define BLOCK 128

typedef struct listed {
    unsigned width, height;
    bool interlaced;
    long milli;
} listed;

static void balance(unsigned char *block) {
    unsigned sum = 0;
    for (size_t i = 0; i < BLOCK - 1; i++)
        sum += block[i];
    block[BLOCK - 1] = (unsigned char)(256 - sum % 256);
}

/* A display of this size at 5 Hz, with a CTA-861 block that holds nothing yet. */
static void begin(unsigned char *b, const listed *is) {
    memset(b, 0, 2 * BLOCK);
    memset(b + 1, 0xFF, 6);
    unsigned blank = 100, clock = (is->width + blank) * (is->height + blank) / 2000;
    b[18] = 1;
    b[19] = 4;
    b[20] = 0xA5;
    memset(b + 38, 1, 16);
    b[54] = (unsigned char)clock;
    b[55] = (unsigned char)(clock >> 8);
    b[56] = (unsigned char)is->width;
    b[57] = (unsigned char)blank;
    b[58] = (unsigned char)(is->width >> 8 << 4);
    b[59] = (unsigned char)is->height;
    b[60] = (unsigned char)blank;
    b[61] = (unsigned char)(is->height >> 8 << 4);
    b[75] = b[93] = b[111] = 0x10;
    b[126] = 1;
    b[BLOCK] = 2;
    b[BLOCK + 1] = 3;
    b[BLOCK + 2] = 4;
}

static void expect(tally *count, unsigned char *b, const listed *is, const char *line) {
    balance(b);
    balance(b + BLOCK);
    told of;
    tell(&of, sw_edid_read, (const char *)b, (size_t)2 * BLOCK);
    long top = 0, own = 0;
    for (size_t i = 0; i < of.list.count; i++) {
        top = strcmp(of.list.all[i].property, "top_refresh_hz") == 0 ? (long)of.list.all[i].milli
                                                                     : top;
        own = strcmp(of.list.all[i].property, "refresh_hz") == 0 ? (long)of.list.all[i].milli : own;
    }
    long want = is->interlaced ? own : is->milli;
    check(count, own > 0 && own < 6000 && labs(top - want) <= 1, "top rate is %ld, not %ld: %s",
          top, want, line);
    forget(&of);
}

static bool read_rest(listed *out, const char *line) {
    const char *colon = strchr(line, ':');
    char mark = ' ';
    double hz = 0;
    while (colon != NULL &&
           sscanf(colon + 1, " %ux%u%c %lf Hz", &out->width, &out->height, &mark, &hz) != 4)
        colon = strchr(colon + 1, ':');
    out->interlaced = mark == 'i';
    out->milli = (long)(hz * 1000 + 0.5);
    return colon != NULL && out->width <= 4095; /* no detailed timing is wider */
}

static bool by_code(tally *count, const char *line) {
    unsigned char b[2 * BLOCK];
    unsigned vic;
    listed is;
    if (sscanf(line, "VIC %u:", &vic) != 1 || !read_rest(&is, line))
        return false;
    for (unsigned native = 0; native <= 128 && (native == 0 || vic <= 64); native += 128) {
        begin(b, &is);
        b[BLOCK + 2] = 6;
        b[BLOCK + 4] = 0x41;
        b[BLOCK + 5] = (unsigned char)(vic + native);
        expect(count, b, &is, line);
    }
    begin(b, &is); /* for 4:2:0 alone, behind a block of no interest */
    memcpy(b + BLOCK + 4, "\x23\x09\x07\x07\xE2\x0E", 6);
    b[BLOCK + 2] = 11;
    b[BLOCK + 10] = (unsigned char)vic;
    expect(count, b, &is, line);
    return true;
}

static bool by_bit(tally *count, const char *line) {
    unsigned char b[2 * BLOCK];
    unsigned byte, bit;
    listed is;
    if (sscanf(line, "Byte 0x%x, Bit %u:", &byte, &bit) != 2 || !read_rest(&is, line))
        return false;
    begin(b, &is);
    if (byte < 18)
        b[75] = 0xF7;
    b[byte < 18 ? 72 + byte : byte] |= (unsigned char)(1u << bit);
    expect(count, b, &is, line);
    return true;
}

static bool by_two_bytes(tally *count, const char *line) {
    unsigned char b[2 * BLOCK];
    unsigned first, second;
    listed is;
    const char *codes = strstr(line, "STD: ");
    if (codes == NULL || sscanf(codes, "STD: 0x%x 0x%x", &first, &second) != 2 ||
        !read_rest(&is, line))
        return false;
    begin(b, &is);
    b[52] = (unsigned char)first;
    b[53] = (unsigned char)second;
    expect(count, b, &is, line);
    return true;
}

static void each_line(tally *count, const char *option, bool (*one)(tally *, const char *),
                      long least) {
    char command[64];
    blob text = {0};
    long met = 0;
    snprintf(command, sizeof command, "edid-decode --list-%s 2>/dev/null", option);
    check(count, blob_of_command(&text, command), "edid-decode does not run");
    for (char *line = strtok(text.bytes, "\n"); line != NULL; line = strtok(NULL, "\n"))
        met += one(count, line);
    check(count, met >= least, "%s: only %ld timings are listed", option, met);
    blob_free(&text);
}

void test_listed(tally *count) {
    long before = count->passed + count->failed;
    each_line(count, "vics", by_code, 110);
    each_line(count, "established-timings", by_bit, 61);
    each_line(count, "dmts", by_two_bytes, 40);
    printf("timings told by a code: %ld\n", count->passed + count->failed - before);
}
