/* binary DATA WORK SEED CASES BLOBS: see binary.sh. */
#include "binary.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#define SHOWN_LIMIT 40

void check(tally *count, bool holds, const char *format, ...) {
    if (holds) {
        count->passed++;
        return;
    }
    count->failed++;
    if (count->shown++ >= SHOWN_LIMIT)
        return;
    va_list arguments;
    va_start(arguments, format);
    printf("FAILED ");
    vprintf(format, arguments);
    printf("\n");
    va_end(arguments);
}

static void out_of_memory(void) {
    fprintf(stderr, "no memory\n");
    exit(2);
}

/* ---- what a reader told ------------------------------------------------------------------ */

void tell(told *out, reader *read, const char *bytes, size_t length) {
    out->arena = sw_arena_new();
    out->complaints = sw_complaints_new();
    char *exact = malloc(length == 0 ? 1 : length);
    if (out->arena == NULL || out->complaints == NULL || exact == NULL)
        out_of_memory();
    memcpy(exact, bytes, length);
    sw_statements_begin(&out->list, out->arena);
    out->status = read(&out->list, "file", exact, length, out->complaints);
    free(exact);
}

void forget(told *is) {
    sw_arena_free(is->arena);
    sw_complaints_free(is->complaints);
}

void as_text(char *out, size_t room, const sw_statement *is) {
    int at = snprintf(out, room, "%s%s%s %s ", is->device, is->key[0] == '\0' ? "" : ":", is->key,
                      is->property);
    char *rest = out + (at < 0 || (size_t)at >= room ? 0 : at);
    size_t left = room - (size_t)(rest - out);
    if (is->says == SW_SAYS_TEXT)
        snprintf(rest, left, "%s", is->text);
    else if (is->says == SW_SAYS_FLAG)
        snprintf(rest, left, "%s", is->flag ? "true" : "false");
    else if (is->milli % 1000 == 0)
        snprintf(rest, left, "%lld", (long long)(is->milli / 1000));
    else
        snprintf(rest, left, "%lld.%03lld", (long long)(is->milli / 1000),
                 (long long)(is->milli % 1000));
}

bool tells(const told *is, const char *statement) {
    char text[4096];
    for (size_t i = 0; i < is->list.count; i++) {
        as_text(text, sizeof text, &is->list.all[i]);
        if (strcmp(text, statement) == 0)
            return true;
    }
    return false;
}

size_t missing(const told *from, const told *other, char *named, size_t room) {
    char text[4096];
    size_t count = 0;
    for (size_t i = 0; i < from->list.count; i++) {
        as_text(text, sizeof text, &from->list.all[i]);
        if (tells(other, text))
            continue;
        count++;
        snprintf(named, room, "%s", text);
    }
    return count;
}

/* ---- files and programs ------------------------------------------------------------------- */

void blob_add(blob *is, const void *bytes, size_t length) {
    while (is->length + length + 1 > is->room) {
        is->room = is->room == 0 ? 1024 : is->room * 2;
        is->bytes = realloc(is->bytes, is->room);
        if (is->bytes == NULL)
            out_of_memory();
    }
    if (length > 0)
        memcpy(is->bytes + is->length, bytes, length);
    is->length += length;
    is->bytes[is->length] = '\0';
}

void blob_free(blob *is) {
    free(is->bytes);
    *is = (blob){0};
}

static bool drain(blob *out, FILE *from) {
    char block[4096];
    for (size_t got; (got = fread(block, 1, sizeof block, from)) > 0;)
        blob_add(out, block, got);
    blob_add(out, "", 0);
    return !ferror(from);
}

bool blob_read(blob *out, const char *path) {
    FILE *file = fopen(path, "rb");
    bool read = file != NULL && drain(out, file);
    if (file != NULL)
        fclose(file);
    return read;
}

void blob_write(const blob *is, const char *path) {
    FILE *file = fopen(path, "wb");
    if (file == NULL || fwrite(is->bytes, 1, is->length, file) != is->length || fclose(file) != 0) {
        fprintf(stderr, "%s cannot be written\n", path);
        exit(2);
    }
}

bool blob_of_command(blob *out, const char *command) {
    FILE *pipe = popen(command, "r");
    if (pipe == NULL)
        return false;
    bool read = drain(out, pipe);
    pclose(pipe);
    return read;
}

/* ---- dice ----------------------------------------------------------------------------------- */

uint64_t roll(uint64_t *dice) {
    uint64_t z = *dice += UINT64_C(0x9E3779B97F4A7C15);
    z = (z ^ z >> 30) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ z >> 27) * UINT64_C(0x94D049BB133111EB);
    return z ^ z >> 31;
}

unsigned below(uint64_t *dice, unsigned most) { return (unsigned)(roll(dice) % most); }

bool one_in(uint64_t *dice, unsigned most) { return below(dice, most) == 0; }

int main(int count, char **arguments) {
    if (count != 6) {
        fprintf(stderr, "binary DATA WORK SEED CASES BLOBS\n");
        return 64;
    }
    const char *data = arguments[1], *work = arguments[2];
    uint64_t seed = strtoull(arguments[3], NULL, 10);
    long cases = strtol(arguments[4], NULL, 10), blobs = strtol(arguments[5], NULL, 10);
    tally all = {0};
    test_facts(&all, data, work);
    printf("published values and samples: %ld\n", all.passed + all.failed);
    test_listed(&all);
    test_dmi(&all, work, seed, cases);
    test_edid(&all, work, seed, cases);
    test_hostile(&all, data, seed, blobs, blobs >= 20000);
    printf("%ld passed, %ld failed\n", all.passed, all.failed);
    return all.failed == 0 ? 0 : 1;
}
