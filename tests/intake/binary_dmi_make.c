/* Made-up SMBIOS tables: every structure that is read and some that are not, of any length, with
 * codes, numbers and strings of all kinds; then the same spoilt. */
#include "binary.h"

#include <string.h>

/* ---- strings --------------------------------------------------------------------------------- */

static const char *const known[] = {
    "Alder Works",   "Brook-9",   "C3",           "Dune Memory Co",  "E 4400 Plus",
    "Fern/2: rev b", "DIMM_A1",   "P0 CHANNEL A", "CPU 0",           "1.0.7",
    "03/14/2031",    "M-8 (x16)", "  padded  ",   "A \"quoted\" one"};
static const char *const not_known[] = {"To Be Filled By O.E.M.",
                                        "Default string",
                                        "Unknown",
                                        "Not Specified",
                                        "0000000000",
                                        "--",
                                        "System Product Name",
                                        "XXXXXXXX",
                                        "N/A",
                                        "   "};
static const char *const with_dots[] = {"Zo\xC3\xAB"
                                        "Q",
                                        "Two\tWords", "Caf\xE9-Z",
                                        "Del\x7F"
                                        "B"};

typedef struct making {
    blob *out;
    bool *dotted;
    uint64_t *dice;
    unsigned char formatted[128];
    size_t length;
    blob strings;
    unsigned string_count;
} making;

static void random_string(making *in) {
    char text[24];
    size_t length = 1 + below(in->dice, 20);
    text[0] = (char)('A' + below(in->dice, 26)); /* never filler alone */
    for (size_t i = 1; i < length; i++)
        text[i] = (char)(' ' + below(in->dice, 95));
    blob_add(&in->strings, text, length);
}

/* Adds a string and gives its number; now and then 0, or a number that has no string. */
static unsigned char string(making *in) {
    unsigned kind = below(in->dice, 20);
    if (kind == 0)
        return 0;
    if (kind == 1)
        return (unsigned char)(in->string_count + 5);
    if (kind <= 10) {
        const char *text = known[below(in->dice, 14)];
        blob_add(&in->strings, text, strlen(text));
    } else if (kind <= 12) {
        const char *text = not_known[below(in->dice, 10)];
        blob_add(&in->strings, text, strlen(text));
    } else if (kind == 13 && one_in(in->dice, 4)) {
        const char *text = with_dots[below(in->dice, 4)];
        blob_add(&in->strings, text, strlen(text));
        *in->dotted = true;
    } else {
        random_string(in);
    }
    blob_add(&in->strings, "", 1);
    return (unsigned char)++in->string_count;
}

/* ---- fields ------------------------------------------------------------------------------------
 */

static void put(making *in, size_t at, uint64_t number, size_t bytes) {
    for (size_t i = 0; i < bytes && at + i < sizeof in->formatted; i++)
        in->formatted[at + i] = (unsigned char)(number >> 8 * i);
}

static void begin(making *in, unsigned type, unsigned handle, size_t length) {
    for (size_t i = 0; i < sizeof in->formatted; i++)
        in->formatted[i] = (unsigned char)roll(in->dice);
    in->length = length;
    in->strings.length = 0;
    in->string_count = 0;
    put(in, 0, type, 1);
    put(in, 1, length, 1);
    put(in, 2, handle, 2);
}

static void end(making *in) {
    blob_add(in->out, in->formatted, in->length);
    blob_add(in->out, in->strings.bytes == NULL ? "" : in->strings.bytes, in->strings.length);
    blob_add(in->out, "\0\0", in->strings.length == 0 ? 2 : 1);
}

/* A code that the standard has, mostly. */
static unsigned code(making *in, unsigned most) {
    return one_in(in->dice, 12) ? below(in->dice, 256) : 1 + below(in->dice, most);
}

static size_t length_of(making *in, const unsigned char *lengths, size_t count) {
    return one_in(in->dice, 6) ? 4 + below(in->dice, 96)
                               : lengths[below(in->dice, (unsigned)count)];
}

#define LENGTH(in, ...)                                                                            \
    length_of(in, (const unsigned char[]){__VA_ARGS__},                                            \
              sizeof((const unsigned char[]){__VA_ARGS__}))

static void make_firmware(making *in, unsigned handle) {
    begin(in, 0, handle, LENGTH(in, 0x12, 0x13, 0x14, 0x18, 0x1A));
    put(in, 4, string(in), 1);
    put(in, 5, string(in), 1);
    put(in, 8, string(in), 1);
    end(in);
}

static void make_system(making *in, unsigned handle) {
    begin(in, 1, handle, LENGTH(in, 0x08, 0x19, 0x1B));
    for (size_t at = 4; at < 8; at++)
        put(in, at, string(in), 1);
    if (one_in(in->dice, 5))
        memset(in->formatted + 8, one_in(in->dice, 2) ? 0 : 0xFF, 16);
    put(in, 0x19, string(in), 1);
    put(in, 0x1A, string(in), 1);
    end(in);
}

static void make_board(making *in, unsigned handle) {
    begin(in, 2, handle, LENGTH(in, 0x08, 0x0F));
    for (size_t at = 4; at < 9; at++)
        put(in, at, string(in), 1);
    put(in, 0x0A, string(in), 1);
    put(in, 0x0D, one_in(in->dice, 2) ? 10 : code(in, 13), 1);
    put(in, 0x0E, 0, 1);
    end(in);
}

static void make_chassis(making *in, unsigned handle) {
    begin(in, 3, handle, LENGTH(in, 0x09, 0x0D, 0x11, 0x15, 0x16));
    put(in, 4, string(in), 1);
    put(in, 5, code(in, 36) | (one_in(in->dice, 3) ? 0x80u : 0), 1);
    for (size_t at = 6; at < 9; at++)
        put(in, at, string(in), 1);
    put(in, 0x13, 0, 2);
    put(in, 0x15, string(in), 1);
    end(in);
}

static void make_count(making *in, size_t small, size_t large) {
    put(in, small, one_in(in->dice, 4) ? 0xFF : below(in->dice, 130), 1);
    put(in, large, one_in(in->dice, 8) ? 0xFFFF : below(in->dice, 400), 2);
}

static void make_processor(making *in, unsigned handle) {
    begin(in, 4, handle, LENGTH(in, 0x1A, 0x20, 0x23, 0x28, 0x2A, 0x30, 0x32));
    put(in, 4, string(in), 1);
    put(in, 5, one_in(in->dice, 4) ? code(in, 6) : 3, 1);
    put(in, 7, string(in), 1);
    put(in, 0x10, string(in), 1);
    put(in, 0x14, one_in(in->dice, 6) ? 0 : below(in->dice, 6000), 2);
    put(in, 0x16, one_in(in->dice, 6) ? 0 : below(in->dice, 6000), 2);
    put(in, 0x19, code(in, 63), 1);
    for (size_t at = 0x20; at < 0x23; at++)
        put(in, at, string(in), 1);
    make_count(in, 0x23, 0x2A);
    make_count(in, 0x25, 0x2E);
    end(in);
}

static void make_slot(making *in, unsigned handle) {
    begin(in, 9, handle, LENGTH(in, 0x0C, 0x0D, 0x11));
    put(in, 4, string(in), 1);
    put(in, 5, one_in(in->dice, 2) ? 0xA5 + below(in->dice, 33) : code(in, 40), 1);
    put(in, 6, code(in, 14), 1);
    put(in, 7, code(in, 5), 1);
    end(in);
}

/* Sizes of one or two units, since dmidecode leaves out what is below. */
static void make_array(making *in, unsigned handle) {
    begin(in, 16, handle, LENGTH(in, 0x0F, 0x17));
    uint64_t amount = 1 + below(in->dice, 100000);
    put(in, 4, code(in, 10), 1);
    put(in, 5, one_in(in->dice, 4) ? code(in, 7) : 3, 1);
    if (in->length >= 0x17 && one_in(in->dice, 3)) {
        put(in, 7, 0x80000000u, 4);
        put(in, 0x0F, amount << (10 + 10 * below(in->dice, 4)), 8);
    } else {
        uint64_t kib = amount << (one_in(in->dice, 2) ? 10 : 0);
        put(in, 7, one_in(in->dice, 12) ? 0x80000000u : kib, 4);
        put(in, 0x0F, 0, 8);
    }
    put(in, 0x0D, below(in->dice, 40), 2);
    end(in);
}

static void make_module_size(making *in) {
    static const unsigned sizes[] = {0, 0xFFFF, 0x7FFF, 0x4000, 0x2000, 1024, 0x8080, 0xFFFE, 3000};
    put(in, 0x0C, one_in(in->dice, 6) ? roll(in->dice) : sizes[below(in->dice, 9)], 2);
    uint64_t large = one_in(in->dice, 2) ? (uint64_t)(1 + below(in->dice, 64)) << 15
                                         : 1 + below(in->dice, 0x7FFFFFF);
    put(in, 0x1C, one_in(in->dice, 10) ? 0 : large, 4);
}

static void make_module(making *in, unsigned handle, unsigned array) {
    begin(in, 17, handle, LENGTH(in, 0x15, 0x1B, 0x1C, 0x22, 0x28, 0x54, 0x5C));
    put(in, 4, array, 2);
    make_module_size(in);
    put(in, 0x0E, code(in, 17), 1);
    put(in, 0x10, string(in), 1);
    put(in, 0x11, string(in), 1);
    put(in, 0x12, code(in, 36), 1);
    put(in, 0x15,
        one_in(in->dice, 5)   ? 0xFFFF
        : one_in(in->dice, 6) ? 0
                              : below(in->dice, 9000),
        2);
    for (size_t at = 0x17; at < 0x1B; at++)
        put(in, at, string(in), 1);
    put(in, 0x20,
        one_in(in->dice, 5)   ? 0xFFFF
        : one_in(in->dice, 6) ? 0
                              : below(in->dice, 9000),
        2);
    put(in, 0x2B, string(in), 1);
    put(in, 0x54, one_in(in->dice, 4) ? 0 : below(in->dice, 200000), 4);
    put(in, 0x58, one_in(in->dice, 4) ? 0 : below(in->dice, 200000), 4);
    end(in);
}

/* What is not read, and must not be taken for what is. */
static void make_other(making *in, unsigned handle) {
    static const unsigned char types[] = {7, 8, 11, 13, 19, 32, 41, 126, 221};
    begin(in, types[below(in->dice, 9)], handle, 4 + below(in->dice, 40));
    for (unsigned i = below(in->dice, 4); i > 0; i--)
        string(in);
    end(in);
}

static void make_any(making *in, unsigned handle, unsigned *array) {
    switch (below(in->dice, 12)) {
    case 0:
        make_firmware(in, handle);
        break;
    case 1:
        make_system(in, handle);
        break;
    case 2:
        make_board(in, handle);
        break;
    case 3:
        make_chassis(in, handle);
        break;
    case 4:
    case 5:
        make_processor(in, handle);
        break;
    case 6:
        make_slot(in, handle);
        break;
    case 7:
        *array = handle;
        make_array(in, handle);
        break;
    case 8:
    case 9:
    case 10:
        make_module(in, handle, *array);
        break;
    default:
        make_other(in, handle);
    }
}

/* ---- the entry point
 * -------------------------------------------------------------------------------- */

static unsigned char balance(const unsigned char *bytes, size_t from, size_t to) {
    unsigned sum = 0;
    for (size_t i = from; i < to; i++)
        sum += bytes[i];
    return (unsigned char)(256 - sum % 256);
}

static void mend_entry(unsigned char *bytes, size_t length) {
    if (length >= 24 && memcmp(bytes, "_SM3_", 5) == 0) {
        bytes[5] = 0;
        bytes[5] = balance(bytes, 0, 24);
    } else if (length >= 31) {
        bytes[21] = bytes[4] = 0;
        bytes[21] = balance(bytes, 16, 31);
        bytes[4] = balance(bytes, 0, 31);
    }
}

static void add_entry(blob *out, const blob *table, unsigned count, bool is_new, uint64_t *dice) {
    unsigned char entry[32] = {0};
    memcpy(entry, is_new ? "_SM3_" : "_SM_", is_new ? 5 : 4);
    if (is_new) {
        entry[6] = 24;
        entry[7] = 3;
        entry[8] = (unsigned char)below(dice, 6);
        entry[10] = 1;
        for (size_t i = 0; i < 4; i++)
            entry[12 + i] = (unsigned char)(table->length >> 8 * i);
        entry[16] = 32;
    } else {
        entry[5] = 31;
        entry[6] = 2;
        entry[7] = (unsigned char)(6 + below(dice, 3));
        memcpy(entry + 16, "_DMI_", 5);
        entry[22] = (unsigned char)table->length;
        entry[23] = (unsigned char)(table->length >> 8);
        entry[24] = 32;
        entry[28] = (unsigned char)count;
        entry[29] = (unsigned char)(count >> 8);
        entry[30] = 0x28;
    }
    mend_entry(entry, sizeof entry);
    blob_add(out, entry, sizeof entry);
    blob_add(out, table->bytes, table->length);
}

void make_dmi(blob *out, bool *dotted, uint64_t *dice) {
    blob table = {0};
    making in = {.out = &table, .dotted = dotted, .dice = dice};
    unsigned count = 1 + below(dice, 24), array = 0xFFFE;
    *dotted = false;
    for (unsigned i = 0; i < count; i++)
        make_any(&in, i, &array);
    begin(&in, 127, count, 4);
    end(&in);
    add_entry(out, &table, count + 1, one_in(dice, 2), dice);
    blob_free(&table);
    blob_free(&in.strings);
}

/* Cut short, bits turned over, lengths changed: never so that the sums give it away. */
void spoil_dmi(blob *is, uint64_t *dice) {
    unsigned kind = below(dice, 4);
    if (kind == 0 && is->length > 40)
        is->length = 36 + below(dice, (unsigned)is->length - 36);
    for (unsigned i = below(dice, 6) + 1; kind == 1 && i > 0 && is->length > 33; i--)
        is->bytes[32 + below(dice, (unsigned)is->length - 32)] ^= (char)(1u << below(dice, 8));
    if (kind == 2 && is->length > 40) /* the first structure's length */
        is->bytes[33] = (char)below(dice, 256);
    if (kind == 3) { /* what the entry point tells of the table */
        bool is_new = memcmp(is->bytes, "_SM3_", 5) == 0;
        is->bytes[is_new ? 12 : one_in(dice, 2) ? 22 : 28] = (char)below(dice, 256);
    }
    mend_entry((unsigned char *)is->bytes, is->length);
}
