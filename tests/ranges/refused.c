/*
 * Texts after --set that have to be refused: each line of the file is the exit codes
 * allowed with commas, a tab, and the words of one call with tabs between them; %XX is a
 * byte. A message stands on standard error, nothing on standard output, and no crash.
 */
#include "ranges.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool allows(const char *codes, int code) {
    char *end;
    for (; *codes >= '0' && *codes <= '9'; codes = *end == ',' ? end + 1 : end)
        if (strtol(codes, &end, 10) == code)
            return true;
    return false;
}

/* In place. */
static void unescape(char *text) {
    char *out = text, digits[3] = "";
    for (; *text; text++) {
        bool byte = *text == '%' && text[1] && text[2];
        if (byte) {
            memcpy(digits, text + 1, 2);
            text += 2;
        }
        *out++ = byte ? (char)strtol(digits, NULL, 16) : *text;
    }
    *out = '\0';
}

static int run_line(const Setup *s, const char *scenario, char *words, const char *out,
                    const char *err) {
    Words w = {.n = 0};
    add_word(&w, "%s", s->program);
    add_word(&w, "whatif");
    add_word(&w, "%s", scenario);
    for (char *next; words; words = next) {
        next = strchr(words, '\t');
        if (next)
            *next++ = '\0';
        unescape(words);
        add_word(&w, "%s", words);
    }
    int code = run_child(w.at, out, err);
    drop_words(&w);
    return code;
}

/* A line that allows 0 shows that the table can fail: that one has to be answered. */
static bool judge_line(const Setup *s, const char *scenario, char *line, Talk *t) {
    char out[2048], err[2048], *words = strchr(line, '\t');
    if (!words)
        return fail(t, "no words");
    *words++ = '\0';
    path_of(s, "refused.out", out, sizeof out);
    path_of(s, "refused.err", err, sizeof err);
    int code = run_line(s, scenario, words, out, err);
    char *said = read_whole(out), *complaint = read_whole(err);
    bool refusal = !*said && *complaint;
    bool good = allows(line, code) && (code == 0 ? *said != '\0' : refusal);
    if (!good)
        fail(t, "ended with %d, not %s; output \"%.40s\", message \"%.200s\"", code, line, said,
             complaint);
    if (good && (strstr(complaint, "Sanitizer") || strstr(complaint, "runtime error")))
        good = fail(t, "%.200s", complaint);
    free(said);
    free(complaint);
    return good;
}

int check_refused(const Setup *s, const char *file, const char *scenario) {
    static char why[1024];
    char *text = read_whole(file);
    long passed = 0, failed = 0;
    for (char *line = text, *next; line && *line; line = next) {
        Talk t = {why, sizeof why};
        char shown[256];
        next = strchr(line, '\n');
        if (next)
            *next++ = '\0';
        if (!*line || *line == '#')
            continue;
        snprintf(shown, sizeof shown, "%s", line);
        if (judge_line(s, scenario, line, &t)) {
            passed++;
            continue;
        }
        failed++;
        printf("%s: %s\n", shown, why);
    }
    free(text);
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed ? 1 : 0;
}
