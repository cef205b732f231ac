/* Made-up EDIDs: a base block with any identity, input, size and timings, with CTA-861 and
 * DisplayID blocks; then the same spoilt. */
#include "binary.h"

#include <string.h>

#define BLOCK 128

static void balance(unsigned char *block) {
    unsigned sum = 0;
    for (size_t i = 0; i < BLOCK - 1; i++)
        sum += block[i];
    block[BLOCK - 1] = (unsigned char)(256 - sum % 256);
}

typedef struct size {
    unsigned width, height;
} size;

static const size sizes[] = {{1920, 1080}, {2560, 1440}, {3840, 2160}, {1280, 1024}, {1366, 768},
                             {3440, 1440}, {1920, 1200}, {1680, 1050}, {2560, 1080}, {1600, 1200},
                             {1024, 768},  {800, 600},   {1440, 900}};

/* 18 bytes: E-EDID 3.10.2. */
static void put_detailed(unsigned char *b, size is, unsigned hz, unsigned mm_across,
                         unsigned mm_down, bool interlaced, uint64_t *dice) {
    unsigned across_blank = 80 + below(dice, 600), down_blank = 10 + below(dice, 60);
    unsigned down = interlaced ? is.height / 2 : is.height;
    uint64_t clock = (uint64_t)(is.width + across_blank) * (down + down_blank) * hz / 10000;
    clock = clock > 65535 ? 65535 - below(dice, 999) : clock + below(dice, 3);
    b[0] = (unsigned char)clock;
    b[1] = (unsigned char)(clock >> 8);
    b[2] = (unsigned char)is.width;
    b[3] = (unsigned char)across_blank;
    b[4] = (unsigned char)((is.width >> 8) << 4 | across_blank >> 8);
    b[5] = (unsigned char)down;
    b[6] = (unsigned char)down_blank;
    b[7] = (unsigned char)((down >> 8) << 4 | down_blank >> 8);
    b[8] = 8;
    b[9] = 8;
    b[10] = 0x11;
    b[11] = 0;
    b[12] = (unsigned char)mm_across;
    b[13] = (unsigned char)mm_down;
    b[14] = (unsigned char)((mm_across >> 8) << 4 | mm_down >> 8);
    b[15] = b[16] = 0;
    b[17] = (unsigned char)(0x18 | (interlaced ? 0x80 : 0));
}

static void put_text(unsigned char *b, unsigned tag, uint64_t *dice) {
    static const char *const texts[] = {"ROOM 27",   "Wide Pane 34C", "Q",
                                        "Desk-24 b", "0000",          "Unknown"};
    const char *text = texts[below(dice, 6)];
    size_t length = strlen(text);
    memset(b, 0, 5);
    b[3] = (unsigned char)tag;
    memset(b + 5, ' ', 13);
    memcpy(b + 5, text, length);
    if (length < 13)
        b[5 + length] = '\n';
}

static void put_dummy(unsigned char *b) {
    memset(b, 0, 18);
    b[3] = 0x10;
}

static void put_limits(unsigned char *b, uint64_t *dice) {
    static const unsigned char limits[18] = {0,  0, 0,  0xFD, 0,  48, 144, 30, 160,
                                             30, 1, 10, 32,   32, 32, 32,  32, 32};
    memcpy(b, limits, 18);
    b[6] = (unsigned char)(60 + below(dice, 140));
}

/* 06h to 0Bh: E-EDID 3.10.3.9; the last four bits are not used. */
static void put_established_three(unsigned char *b, uint64_t *dice) {
    memset(b, 0, 18);
    b[3] = 0xF7;
    b[5] = 10;
    for (size_t i = 6; i < 12; i++)
        b[i] = (unsigned char)(roll(dice) & roll(dice));
    b[11] &= 0xF0;
}

static void put_standard(unsigned char *b, uint64_t *dice) {
    size is = sizes[below(dice, 13)];
    static const unsigned shapes[] = {0, 1, 2, 3};
    if (one_in(dice, 3)) {
        b[0] = b[1] = 1;
        return;
    }
    b[0] = (unsigned char)(is.width / 8 - 31);
    if (is.width > 2288)
        b[0] = 209; /* 1920 */
    b[1] = (unsigned char)(shapes[below(dice, 4)] << 6 | (one_in(dice, 2) ? 0 : below(dice, 64)));
}

static void put_descriptor(unsigned char *b, size native, uint64_t *dice) {
    switch (below(dice, 8)) {
    case 0:
        put_text(b, 0xFC, dice);
        break;
    case 1:
        put_text(b, 0xFF, dice);
        break;
    case 2:
        put_limits(b, dice);
        break;
    case 3:
        put_established_three(b, dice);
        break;
    case 4:
    case 5:
        put_detailed(b, one_in(dice, 2) ? native : sizes[below(dice, 13)], 50 + below(dice, 120), 0,
                     0, one_in(dice, 8), dice);
        break;
    case 6:
        memset(b, 0, 18);
        b[3] = 0xFA;
        for (size_t i = 0; i < 6; i++)
            put_standard(b + 5 + 2 * i, dice);
        b[17] = 10;
        break;
    default:
        put_dummy(b);
    }
}

static void put_sizes(unsigned char *base, unsigned *across, unsigned *down, uint64_t *dice) {
    *across = 300 + below(dice, 900);
    *down = 180 + below(dice, 500);
    base[21] = (unsigned char)((*across + 5) / 10);
    base[22] = (unsigned char)((*down + 5) / 10);
    if (one_in(dice, 8))
        base[21] = base[22] = 0;
    if (one_in(dice, 10))
        base[below(dice, 2) + 21] = 0;
    if (one_in(dice, 8))
        *across = *down = 0;
    if (one_in(dice, 8)) { /* the shape where the size belongs */
        *across = 160;
        *down = 90;
    }
}

static void make_base(unsigned char *b, size native, uint64_t *dice) {
    unsigned across, down;
    memset(b + 1, 0xFF, 6);
    unsigned maker =
        (1 + below(dice, 26)) << 10 | (1 + below(dice, 26)) << 5 | (1 + below(dice, 26));
    b[8] = (unsigned char)(maker >> 8);
    b[9] = (unsigned char)maker;
    for (size_t i = 10; i < 16; i++)
        b[i] = (unsigned char)roll(dice);
    b[16] = (unsigned char)(one_in(dice, 4) ? 0xFF : below(dice, 54));
    b[17] = (unsigned char)(13 + below(dice, 18));
    b[18] = 1;
    b[19] = (unsigned char)(3 + below(dice, 2));
    b[20] = (unsigned char)(one_in(dice, 6) ? 0x0E
                            : b[19] == 3    ? 0x80 | below(dice, 2)
                                            : 0x80 | below(dice, 8) << 4 | below(dice, 6));
    put_sizes(b, &across, &down, dice);
    b[23] = 120;
    b[24] = 0x0A;
    for (size_t i = 35; i < 38; i++)
        b[i] = (unsigned char)(one_in(dice, 2) ? 0 : roll(dice));
    b[37] &= 0x80;
    for (size_t i = 38; i < 54; i += 2)
        put_standard(b + i, dice);
    put_detailed(b + 54, native, 24 + below(dice, 90), across, down, one_in(dice, 12), dice);
    for (size_t i = 72; i < 126; i += 18)
        put_descriptor(b + i, native, dice);
}

/* CTA-861: codes of timings, sound, what is of no interest, detailed timings. */
static void make_cta(unsigned char *b, size native, unsigned extensions, uint64_t *dice) {
    size_t at = 4;
    b[0] = 2;
    b[1] = 3;
    b[3] = (unsigned char)(below(dice, 2) << 6);
    if (one_in(dice, 5) == false) {
        unsigned codes = 1 + below(dice, 20);
        b[at++] = (unsigned char)(2 << 5 | codes);
        for (unsigned i = 0; i < codes; i++) {
            unsigned vic = one_in(dice, 3) ? 193 + below(dice, 27) : 1 + below(dice, 127);
            b[at++] = (unsigned char)(vic <= 64 && one_in(dice, 4) ? vic + 128 : vic);
        }
    }
    if (one_in(dice, 2)) {
        static const unsigned char sound[] = {0x23, 0x09, 0x07, 0x07};
        memcpy(b + at, sound, sizeof sound);
        at += sizeof sound;
    }
    if (one_in(dice, 3)) { /* for 4:2:0 alone */
        static const unsigned char codes[] = {0xE3, 0x0E, 0x61, 0x60};
        memcpy(b + at, codes, sizeof codes);
        at += sizeof codes;
    }
    if (one_in(dice, 4)) { /* as many blocks as the base block tells, as HDMI 2.1 has it told */
        b[at++] = 0xE2;
        b[at++] = 0x78;
        b[at++] = (unsigned char)extensions;
    }
    b[2] = (unsigned char)at;
    for (; at + 18 <= 127 && !one_in(dice, 3); at += 18)
        put_detailed(b + at, one_in(dice, 4) ? sizes[below(dice, 13)] : native,
                     50 + below(dice, 190), 0, 0, one_in(dice, 8), dice);
}

/* DisplayID 1.2 with one or two timings of type I. */
static void make_displayid(unsigned char *b, size native, uint64_t *dice) {
    unsigned count = 1 + below(dice, 2), sum = 0;
    b[0] = 0x70;
    b[1] = 0x12;
    b[2] = (unsigned char)(3 + 20 * count);
    b[5] = 3;
    b[7] = (unsigned char)(20 * count);
    for (unsigned i = 0; i < count; i++) {
        unsigned char *t = b + 8 + 20 * (size_t)i;
        size is = one_in(dice, 3) ? sizes[below(dice, 13)] : native;
        unsigned across_blank = 80 + below(dice, 200), down_blank = 10 + below(dice, 90);
        uint64_t clock = (uint64_t)(is.width + across_blank) * (is.height + down_blank) *
                         (60 + below(dice, 140)) / 10000;
        unsigned values[] = {is.width - 1,  across_blank - 1, 7, 31,
                             is.height - 1, down_blank - 1,   2, 4};
        t[0] = (unsigned char)clock;
        t[1] = (unsigned char)(clock >> 8);
        t[2] = (unsigned char)(clock >> 16);
        t[3] = 8;
        for (size_t v = 0; v < 8; v++) {
            t[4 + 2 * v] = (unsigned char)values[v];
            t[5 + 2 * v] = (unsigned char)(values[v] >> 8);
        }
    }
    size_t end = 5 + (size_t)b[2];
    for (size_t i = 1; i < end; i++)
        sum += b[i];
    b[end] = (unsigned char)(256 - sum % 256);
}

void make_edid(blob *out, uint64_t *dice) {
    unsigned char blocks[3][BLOCK] = {{0}, {0}, {0}};
    unsigned count = 0;
    size native = sizes[below(dice, 13)];
    bool has_displayid = one_in(dice, 3);
    make_base(blocks[0], native, dice);
    if (!one_in(dice, 3))
        make_cta(blocks[++count], native, has_displayid ? 2 : 1, dice);
    if (has_displayid)
        make_displayid(blocks[++count], native, dice);
    blocks[0][126] = (unsigned char)count;
    for (unsigned i = 0; i <= count; i++) {
        balance(blocks[i]);
        blob_add(out, blocks[i], BLOCK);
    }
}

/* Bits turned over with the sums mended, sums broken, blocks missing. */
void spoil_edid(blob *is, uint64_t *dice) {
    unsigned kind = below(dice, 6);
    size_t blocks = is->length / BLOCK, block = below(dice, (unsigned)blocks);
    unsigned char *at = (unsigned char *)is->bytes + block * BLOCK;
    if (kind <= 3) {
        for (unsigned i = 1 + below(dice, 4); i > 0; i--)
            at[8 + below(dice, 118)] ^= (unsigned char)(1u << below(dice, 8));
        ((unsigned char *)is->bytes)[18] = 1;
        ((unsigned char *)is->bytes)[126] = (unsigned char)(blocks - 1);
        for (size_t i = 0; i < blocks; i++)
            balance((unsigned char *)is->bytes + i * BLOCK);
    } else if (kind == 4) {
        at[8 + below(dice, 118)] ^= 0x20;
    } else if (blocks > 1) {
        is->length -= 1 + below(dice, BLOCK);
    }
}
