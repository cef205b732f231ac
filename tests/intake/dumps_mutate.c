/* Dumps that were damaged: nothing that the sound one does not say, but for what was changed. */
#include "dumps.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SECONDS 2.0

/* What a line says without whom: "PROPERTY | VALUE". */
static const char *saying(const char *line) { return strstr(line, " | ") + 3; }

static bool is_said(const lines *of, const char *what) {
    for (size_t i = 0; i < of->count; i++)
        if (strcmp(saying(of->all[i]), what) == 0)
            return true;
    return false;
}

/* How many lines are not among the sound ones, and what of them is said there of nobody. */
static size_t added(const lines *sound, const lines *damaged, size_t *unsaid) {
    size_t count = 0;
    const char *last = "";
    *unsaid = 0;
    for (size_t i = 0; i < damaged->count; i++) {
        if (has_line(sound, damaged->all[i]))
            continue;
        const char *what = saying(damaged->all[i]);
        count++;
        if (!is_said(sound, what) && strcmp(what, last) != 0) {
            ++*unsaid;
            last = what;
        }
    }
    return count;
}

static const char *first_added(const lines *sound, const lines *damaged) {
    for (size_t i = 0; i < damaged->count; i++)
        if (!has_line(sound, damaged->all[i]))
            return damaged->all[i];
    return "";
}

/* A copy with nothing behind its end. */
static char *copy_of(const char *bytes, size_t length) {
    char *copy = malloc(length == 0 ? 1 : length);
    if (copy == NULL)
        exit(2);
    memcpy(copy, bytes, length);
    return copy;
}

typedef struct sample {
    const char *name;
    char *bytes;
    size_t length;
    said sound;
} sample;

static bool is_between(const sample *of, size_t at) {
    if (of->sound.kind == SW_DUMP_LSPCI)
        return at > 0 && of->bytes[at - 1] == '\n';
    while (at > 0 && strchr(" \n,", of->bytes[at - 1]) != NULL)
        at--;
    return at > 1 && of->bytes[at - 1] == '}' && of->bytes[at - 2] == '\n';
}

static void cut(const sample *of) {
    for (size_t at = 0; at < of->length; at += 7) {
        char *bytes = copy_of(of->bytes, at);
        said is;
        size_t unsaid = 0;
        ask(&is, bytes, at, false);
        check(added(&of->sound.statements, &is.statements, &unsaid) == 0 &&
                  added(&of->sound.privates, &is.privates, &unsaid) == 0,
              "%s cut at %zu says %s", of->name, at,
              first_added(&of->sound.statements, &is.statements));
        /* Of lines and of texts in a row nobody can tell that more of them were to come. */
        bool between = is_between(of, at);
        check(is.kind == SW_DUMP_NONE || is.statements.count == of->sound.statements.count ||
                  is.faults.count > 0 || between,
              "%s cut at %zu says less, and nobody is told", of->name, at);
        check(is.seconds < SECONDS, "%s cut at %zu takes %.1f s", of->name, at, is.seconds);
        free_said(&is);
        free(bytes);
    }
}

/* One bit changes one value, or whom values are said of, but not more than one value. */
static void flip(const sample *of) {
    static const unsigned char bits[] = {0x01, 0x02, 0x10, 0x20, 0x80};
    for (size_t at = 0; at < of->length; at += 3) {
        char *bytes = copy_of(of->bytes, of->length);
        bytes[at] = (char)((unsigned char)bytes[at] ^ bits[at / 3 % sizeof bits]);
        said is;
        size_t unsaid = 0;
        ask(&is, bytes, of->length, false);
        added(&of->sound.statements, &is.statements, &unsaid);
        check(unsaid <= 1, "%s with byte %zu changed says %zu new things, as %s", of->name, at,
              unsaid, first_added(&of->sound.statements, &is.statements));
        check(is.seconds < SECONDS, "%s with byte %zu changed takes %.1f s", of->name, at,
              is.seconds);
        free_said(&is);
        free(bytes);
    }
}

/* ---- names given again ----------------------------------------------------------------------- */

/* `"name": value,` on a line of its own, where the value is a text or a number. */
static bool is_member(const char *line, size_t length, size_t *value) {
    size_t at = 0;
    while (at < length && line[at] == ' ')
        at++;
    const char *close =
        at < length && line[at] == '"' ? memchr(line + at + 1, '"', length - at - 1) : NULL;
    if (close == NULL || length < 2 || line[length - 1] != ',')
        return false;
    at = (size_t)(close - line) + 1;
    while (at < length && (line[at] == ' ' || line[at] == ':'))
        at++;
    *value = at + (line[at] == '"');
    char first = line[at], inner = line[*value];
    return (first == '"' || (first >= '1' && first <= '9')) && inner > ' ' && inner != '"' &&
           inner != '\\';
}

/* The line again behind itself, as it is or with the first byte of its value changed. */
static void repeat_line(const sample *of, size_t at, size_t length, size_t value, bool other) {
    size_t end = at + length + 1;
    char *bytes = malloc(of->length + length + 1);
    if (bytes == NULL)
        exit(2);
    memcpy(bytes, of->bytes, end);
    memcpy(bytes + end, of->bytes + at, length + 1);
    memcpy(bytes + end + length + 1, of->bytes + end, of->length - end);
    if (other)
        bytes[end + value] = bytes[end + value] == '7' ? '8' : '7';
    said is;
    size_t unsaid = 0;
    ask(&is, bytes, of->length + length + 1, false);
    size_t more = added(&of->sound.statements, &is.statements, &unsaid);
    check(more == 0 && (other || is.statements.count == of->sound.statements.count),
          "%s with the line at %zu %s: %zu statements, %s", of->name, at,
          other ? "again but different" : "again", is.statements.count,
          first_added(&of->sound.statements, &is.statements));
    check(is.faults.count > of->sound.faults.count || of->sound.faults.count > 0,
          "%s with the line at %zu again: nobody is told", of->name, at);
    free_said(&is);
    free(bytes);
}

static void repeat(const sample *of) {
    for (size_t at = 0; at < of->length;) {
        const char *end = memchr(of->bytes + at, '\n', of->length - at);
        if (end == NULL)
            return;
        size_t length = (size_t)(end - of->bytes) - at, value = 0;
        if (is_member(of->bytes + at, length, &value)) {
            repeat_line(of, at, length, value, false);
            repeat_line(of, at, length, value, true);
        }
        at += length + 1;
    }
}

/* ---- other encodings ---------------------------------------------------------------------------
 */

static void same_as_sound(const sample *of, const char *bytes, size_t length, const char *how) {
    said is;
    size_t unsaid = 0;
    char *copy = copy_of(bytes, length);
    ask(&is, copy, length, false);
    check(is.kind == of->sound.kind && is.statements.count == of->sound.statements.count &&
              added(&of->sound.statements, &is.statements, &unsaid) == 0,
          "%s %s says %zu things, not %zu", of->name, how, is.statements.count,
          of->sound.statements.count);
    free_said(&is);
    free(copy);
}

static void encode(const sample *of) {
    char *bytes = malloc(of->length * 2 + 3);
    if (bytes == NULL)
        exit(2);
    for (size_t i = 0; i < of->length; i++)
        if ((unsigned char)of->bytes[i] >= 0x80 || of->bytes[i] == 0) {
            free(bytes);
            return; /* widening byte by byte is UTF-16 for ASCII alone */
        }
    memcpy(bytes, "\xEF\xBB\xBF", 3);
    memcpy(bytes + 3, of->bytes, of->length);
    same_as_sound(of, bytes, of->length + 3, "behind a mark of UTF-8");
    for (int big = 0; big < 2; big++) {
        memcpy(bytes, big ? "\xFE\xFF" : "\xFF\xFE", 2);
        for (size_t i = 0; i < of->length; i++) {
            bytes[2 + 2 * i + (big ? 0 : 1)] = 0;
            bytes[2 + 2 * i + (big ? 1 : 0)] = of->bytes[i];
        }
        same_as_sound(of, bytes, of->length * 2 + 2, big ? "in UTF-16BE" : "in UTF-16LE");
        same_as_sound(of, bytes + 2, of->length * 2, "in UTF-16 without a mark");
    }
    free(bytes);
}

/* A text opened in the middle of the sample, so deep that nothing may follow it there. */
static void bomb(const sample *of) {
    const char *half = memchr(of->bytes + of->length / 2, '{', of->length - of->length / 2);
    size_t at = half == NULL ? of->length : (size_t)(half - of->bytes), deep = 100000;
    char *bytes = malloc(of->length + deep);
    if (bytes == NULL)
        exit(2);
    memcpy(bytes, of->bytes, at);
    memset(bytes + at, '[', deep);
    memcpy(bytes + at + deep, of->bytes + at, of->length - at);
    said is;
    size_t unsaid = 0;
    ask(&is, bytes, of->length + deep, false);
    check(added(&of->sound.statements, &is.statements, &unsaid) == 0 && is.faults.count > 0,
          "%s with a bomb in it says %s", of->name,
          first_added(&of->sound.statements, &is.statements));
    check(is.seconds < SECONDS, "%s with a bomb in it takes %.1f s", of->name, is.seconds);
    free_said(&is);
    free(bytes);
}

void test_mutations(char *const *files, size_t count) {
    for (size_t i = 0; i < count; i++) {
        sample of = {.name =
                         strrchr(files[i], '/') == NULL ? files[i] : strrchr(files[i], '/') + 1};
        of.bytes = whole_file(&of.length, files[i]);
        ask(&of.sound, of.bytes, of.length, false);
        sort_lines(&of.sound.statements);
        sort_lines(&of.sound.privates);
        check(of.sound.statements.count > 0, "%s says nothing", of.name);
        cut(&of);
        flip(&of);
        repeat(&of);
        encode(&of);
        if (of.sound.kind != SW_DUMP_LSPCI)
            bomb(&of);
        free_said(&of.sound);
        free(of.bytes);
    }
}

/* ---- bombs
 * ----------------------------------------------------------------------------------------- */

static void hostile(const char *begin, const char *again, const char *end, size_t bytes) {
    size_t first = strlen(begin), each = strlen(again), last = strlen(end);
    size_t times = (bytes - first - last) / each, length = first + times * each + last;
    char *text = malloc(length);
    if (text == NULL)
        exit(2);
    memcpy(text, begin, first);
    for (size_t i = 0; i < times; i++)
        memcpy(text + first + i * each, again, each);
    memcpy(text + first + times * each, end, last);
    said is;
    ask(&is, text, length, false);
    check(is.statements.count == 0, "%zu times \"%.20s\" says %s", times, again,
          is.statements.count > 0 ? is.statements.all[0] : "");
    check(is.faults.count > 0 && is.faults.count < 20, "%zu times \"%.20s\": %zu are told", times,
          again, is.faults.count);
    check(is.seconds < SECONDS, "\"%.20s\" %zu times \"%.20s\" takes %.1f s", begin, times, again,
          is.seconds);
    free_said(&is);
    free(text);
}

void test_hostile(size_t megabytes) {
    static const char *const bombs[][3] = {
        {"", "1,", ""},
        {"[", "1,", ""},
        {"[", "1,", "1]"},
        {"{\"lscpu\":[", "1,", "1]}"},
        {"{", "\"a\":1,", "\"b\":1}"},
        {"{\"smartctl\":", "{\"a\":", ""},
        {"", "[", ""},
        {"", "{\"children\":[", ""},
        {"{\"blockdevices\":[", "{},", "{}]}"},
        {"{\"blockdevices\":[", ",", "]}"},
        {"{\"x\":{\"Adapter\":\"a\",\"t\":{", "\"temp1_max\":1,", "\"temp2_max\":1}}}"},
        {"{\"x\":{", "\"temp\":{},", "\"Adapter\":\"a\"}}"},
        {"{", "\"a\\u0000\":1,", "\"b\":1}"},
        {"{\"lscpu\":\"", "\\", "\"}"},
        {"{\"lscpu\":\"", "\xFF", "\"}"},
        {"{\"lscpu\":\"", "\"", "\"}"},
        {"", "ERROR: Can't get value of subfeature x\n", "{}"},
        {"{", "ERROR: Can't get ", "}"},
        {"", "\n", "x"},
        {"", "warning\n", ""},
        {"", "00:00.0 \"", ""},
        {"", "00:00.0 \"a\" \"b\"\n", ""},
        {"00:00.0 \"", "\\\"", ""},
        {"{\"id\":\"x\",\"class\":\"system\",\"children\":[",
         "{\"id\":\"bank\",\"class\":\"memory\",\"description\":\"x\",\"slot\":\"A\"},", "{}]}"},
        {"{\"smartctl\":{},\"a\":", "9", "}"},
        {"{\"Devices\":[", "{\"Controllers\":[{}]},", "{}]}"},
        {"", "{}", ""},
        {"", "\xFF\xFE", "{"},
    };
    for (size_t i = 0; i < sizeof bombs / sizeof *bombs; i++)
        hostile(bombs[i][0], bombs[i][1], bombs[i][2], megabytes * 1000 * 1000);
    unsigned long long state = 1;
    for (int i = 0; i < 300; i++) {
        char bytes[600];
        for (size_t at = 0; at < sizeof bytes; at++) {
            static const char of[] = "{}[]\",:\\0123-.eEtruefalsnN \n#\"\"{}[]:,";
            state = state * 6364136223846793005u + 1442695040888963407u;
            bytes[at] = i % 2 == 0 ? of[(state >> 33) % (sizeof of - 1)] : (char)(state >> 40);
        }
        said is;
        char *copy = copy_of(bytes, sizeof bytes);
        ask(&is, copy, sizeof bytes, false);
        check(is.statements.count == 0, "noise says %s",
              is.statements.count ? is.statements.all[0] : "");
        free_said(&is);
        free(copy);
    }
}
