/* Cut, random and half-random bytes: no crash (the sanitizers watch), and nothing told that the
 * whole would not tell. */
#include "binary.h"

#include <string.h>

typedef struct source {
    const char *name;
    reader *read;
} source;

static const source kinds[] = {
    {"SMBIOS", sw_smbios_read}, {"text", sw_dmi_text_read}, {"EDID", sw_edid_read}};

/* All that is told of the first `length` bytes is told of all of them. */
static void cut_at(tally *count, const source *by, const char *name, const blob *is,
                   const told *whole, size_t length) {
    told cut;
    char named[4096] = "";
    tell(&cut, by->read, is->bytes, length);
    size_t extra = missing(&cut, whole, named, sizeof named);
    check(count, extra == 0, "%s cut at %zu: told is %s", name, length, named);
    check(count, cut.status == SW_OK || sw_complaints_count(cut.complaints) > 0,
          "%s cut at %zu: no complaint", name, length);
    check(count, sw_statements_end(&cut.list, cut.complaints) == SW_OK, "%s cut at %zu: the list",
          name, length);
    forget(&cut);
}

static void cut_everywhere(tally *count, const source *by, const char *data, const char *name,
                           size_t step) {
    char path[4096];
    snprintf(path, sizeof path, "%s/%s", data, name);
    blob is = {0};
    told whole;
    check(count, blob_read(&is, path), "%s cannot be read", path);
    tell(&whole, by->read, is.bytes, is.length);
    for (size_t length = 0; length < is.length; length += step)
        cut_at(count, by, name, &is, &whole, length);
    /* A binary description that is cut is complained of. */
    for (size_t length = 0; by->read != sw_dmi_text_read && length < is.length; length += step) {
        told cut;
        tell(&cut, by->read, is.bytes, length);
        check(count, cut.status == SW_BAD_DATA, "%s cut at %zu: taken for whole", name, length);
        forget(&cut);
    }
    forget(&whole);
    blob_free(&is);
}

static void add_random(blob *out, size_t length, uint64_t *dice) {
    for (size_t i = 0; i < length; i++)
        blob_add(out, (char[]){(char)roll(dice)}, 1);
}

/* Words of dmidecode in any order, with any bytes between them. */
static void add_words(blob *out, uint64_t *dice) {
    static const char *const words[] = {"Handle 0x0011, DMI type 17, 40 bytes\n",
                                        "Memory Device\n",
                                        "\tSize: ",
                                        "16 GB",
                                        "\n",
                                        "\r\n",
                                        "\t",
                                        "Speed: 3200 MT/s\n",
                                        "Locator: A\n",
                                        ":",
                                        "Handle 0x",
                                        "DMI type ",
                                        "99999999999999999999",
                                        "Processor Information\n",
                                        "Status: ",
                                        "Populated",
                                        "\xFF\xFE",
                                        "\xEF\xBB\xBF",
                                        "Type: x16 Other\n",
                                        "Handle 0x1, DMI type 4\n",
                                        "Use: Flash Memory\n"};
    for (unsigned i = below(dice, 60); i > 0; i--) {
        const char *word = words[below(dice, 21)];
        blob_add(out, word, strlen(word));
        if (one_in(dice, 6))
            add_random(out, 1 + below(dice, 3), dice);
    }
}

static unsigned char balance(const char *bytes, size_t from, size_t to) {
    unsigned sum = 0;
    for (size_t i = from; i < to; i++)
        sum += (unsigned char)bytes[i];
    return (unsigned char)(256 - sum % 256);
}

/* Bytes that pass for an entry point or a base block, and anything behind them. */
static void make_half_random(blob *out, unsigned kind, uint64_t *dice) {
    static const char old[33] = "_SM_\0\x1f\2\x8\0\0\0\0\0\0\0\0_DMI_\0\xff\1\x20\0\0\0\xff\0\x28";
    static const char new[25] = "_SM3_\0\x18\3\3\0\1\0\xff\1\0\0\x18\0\0\0\0\0\0";
    static const char base[9] = "\0\xff\xff\xff\xff\xff\xff";
    if (kind == 0)
        blob_add(out, old, 32);
    if (kind == 1)
        blob_add(out, new, 24);
    if (kind == 2)
        blob_add(out, base, 8);
    add_random(out, kind == 2 ? 120 + 128 * (size_t)below(dice, 4) : below(dice, 600), dice);
    if (kind == 0) {
        out->bytes[21] = (char)balance(out->bytes, 16, 31);
        out->bytes[4] = 0;
        out->bytes[4] = (char)balance(out->bytes, 0, 31);
    }
    if (kind == 1) {
        out->bytes[5] = 0;
        out->bytes[5] = (char)balance(out->bytes, 0, 24);
    }
    for (size_t at = 0; kind == 2 && at + 128 <= out->length; at += 128) {
        out->bytes[18] = 1;
        if (at > 0)
            out->bytes[at] = one_in(dice, 2) ? 2 : 0x70;
        out->bytes[126] = (char)(out->length / 128 - 1);
        out->bytes[at + 127] = (char)balance(out->bytes, at, at + 127);
    }
}

/* Every reader survives every blob. Bytes that begin like none of the kinds tell nothing. */
static void one_blob(tally *count, const blob *is, long number, bool is_plain) {
    for (size_t k = 0; k < sizeof kinds / sizeof *kinds; k++) {
        told of;
        tell(&of, kinds[k].read, is->bytes == NULL ? "" : is->bytes, is->length);
        check(count, sw_statements_end(&of.list, of.complaints) == SW_OK, "blob %ld: the list",
              number);
        check(count, of.status == SW_OK || sw_complaints_count(of.complaints) > 0,
              "blob %ld: no complaint", number);
        check(count, !is_plain || (of.list.count == 0 && of.status == SW_BAD_DATA),
              "blob %ld: %s told of random bytes", number, kinds[k].name);
        for (size_t i = 0; i < of.list.count; i++)
            check(count, of.list.all[i].says != SW_SAYS_TEXT || of.list.all[i].text[0] != '\0',
                  "blob %ld: an empty text", number);
        forget(&of);
    }
}

void test_hostile(tally *count, const char *data, uint64_t seed, long cases, bool every_length) {
    long before = count->passed + count->failed;
    size_t step = every_length ? 1 : 13;
    cut_everywhere(count, &kinds[0], data, "synth.dmi", step);
    cut_everywhere(count, &kinds[0], data, "board.dmi", step);
    cut_everywhere(count, &kinds[1], data, "dmi.txt", step);
    cut_everywhere(count, &kinds[2], data, "synth.edid", step);
    cut_everywhere(count, &kinds[2], data, "display.edid", step);
    for (long i = 0; i < cases; i++) {
        uint64_t dice = seed * 9000011 + (uint64_t)i;
        unsigned sort = below(&dice, 6);
        blob is = {0};
        if (sort <= 2)
            make_half_random(&is, sort, &dice);
        else if (sort == 3)
            add_words(&is, &dice);
        else
            add_random(&is, below(&dice, 400), &dice);
        one_blob(count, &is, i, sort >= 4);
        blob_free(&is);
    }
    printf("cut at every %zu bytes, and %ld blobs: checks: %ld\n", step, cases,
           count->passed + count->failed - before);
}
