/* Lists that are spoilt: no crash, and never a wrong price. */
#include "prices.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *text_of(const cJSON *object, const char *name) {
    const cJSON *found = cJSON_GetObjectItemCaseSensitive(object, name);
    return cJSON_IsString(found) ? found->valuestring : "";
}

/* Whatever is listed, waits or is like nothing has the price that the sample's row of that number
 * and name has. */
static void judge_prices(const sample *it, uint64_t seed, const char *how, int code,
                         const cJSON *report) {
    const cJSON *row;
    check(code == 0 || code == 65, "list %llu %s: ended with %d", (unsigned long long)seed, how,
          code);
    check(report != NULL, "list %llu %s: no JSON", (unsigned long long)seed, how);
    cJSON_ArrayForEach(row, cJSON_GetObjectItemCaseSensitive(report, "rows")) {
        const char *id = text_of(row, "part");
        bool good = id[0] == '\0', known = false;
        for (int i = 0; i < it->row_count && !good; i++) {
            char price[32];
            const truth *t = &it->rows[i];
            int64_t one = it->in.digits == 3 ? 1000 : 100;
            if (t->part < 0 || strcmp(it->parts[t->part].id, id) != 0)
                continue;
            known = true;
            snprintf(price, sizeof price, "%lld.%0*lld", (long long)(t->price / one), it->in.digits,
                     (long long)(t->price % one));
            good = strcmp(price, text_of(row, "price")) == 0 ||
                   strcmp(text_of(row, "fate"), "refused") == 0;
        }
        check(good, "list %llu %s: %s at the wrong price %s (%s)", (unsigned long long)seed, how,
              id, text_of(row, "price"), known ? "known" : "unknown");
    }
}

static void read_spoilt(const char *program, const char *folder, const sample *it, uint64_t seed,
                        const char *how, const text *file) {
    char list[1024], confirm[1024];
    cJSON *report = NULL;
    snprintf(list, sizeof list, "%s/list.txt", folder);
    snprintf(confirm, sizeof confirm, "%s/confirm.json", folder);
    write_file(list, file->bytes, file->length);
    int code = ask(program, folder, list, confirm, NULL, &report);
    judge_prices(it, seed, how, code, report);
    cJSON_Delete(report);
}

static void put_in(text *out, const text *from, size_t at, const char *bytes, size_t length) {
    empty(out);
    add_bytes(out, from->bytes, at);
    add_bytes(out, bytes, length);
    add_bytes(out, from->bytes + at, from->length - at);
}

/* Anywhere, or in the last cell of a row. */
static size_t cut_of(const text *file) {
    size_t at = (size_t)draw((int)file->length), back = (size_t)draw(8);
    if (one_in(4))
        return at;
    while (at < file->length && file->bytes[at] != '\n')
        at++;
    return at > back ? at - back : at;
}

void spoil_lists(const char *program, const char *folder, uint64_t seed, int rounds) {
    static const char *const encodings[] = {"utf-8", "windows-1252", "utf-16le", "utf-16be"};
    static const struct {
        const char *bytes;
        size_t length;
        const char *how;
    } put[] = {{"\0", 1, "with a NUL"},
               {"\"", 1, "with a quote"},
               {"\xFF", 1, "with a bad byte"},
               {"\xC3", 1, "with half a letter"},
               {"\r", 1, "with a carriage return"},
               {"\xED\xA0\x80", 3, "with a surrogate"},
               {"\n", 1, "with a line end"},
               {",", 1, "with a comma"},
               {";", 1, "with a semicolon"},
               {"|", 1, "with a bar"},
               {"\t", 1, "with a tab"},
               {"-", 1, "with a hyphen"},
               {".", 1, "with a point"},
               {"=", 1, "with a sign of equality"},
               {" ", 1, "with a blank"}};
    sample it;
    char catalog[1024];
    text file = {0};
    make_sample(&it, seed, false);
    snprintf(catalog, sizeof catalog, "%s/catalog", folder);
    write_catalog(&it, catalog);
    sow(seed + 77);
    for (int i = 0; i < 4; i++)
        for (int mark = 0; mark < 2; mark++) {
            encode(&file, &it.list, encodings[i], mark == 1);
            read_spoilt(program, folder, &it, seed, "in another encoding", &file);
        }
    for (int i = 0; i < rounds; i++) {
        empty(&file);
        add_bytes(&file, it.file.bytes, cut_of(&it.file));
        read_spoilt(program, folder, &it, seed, "cut", &file);
        /* A mark put between digits may make a good price of another one: only what cannot do so
         * goes anywhere, the rest in front of a line. */
        int which = draw(15);
        size_t at = (size_t)draw((int)it.file.length);
        bool wide = strncmp(it.in.encoding, "utf-16", 6) == 0;
        if (which >= 6 || wide)
            for (at = wide ? at & ~(size_t)1 : at; at > 0 && it.file.bytes[at - 1] != '\n';)
                at--;
        put_in(&file, &it.file, at, put[which].bytes, put[which].length);
        read_spoilt(program, folder, &it, seed, put[which].how, &file);
    }
    free(file.bytes);
    free_sample(&it);
}

/* ---- bombs
 * ------------------------------------------------------------------------------------------ */

static void repeat(text *to, const char *bytes, size_t total) {
    size_t length = strlen(bytes);
    while (to->length < total)
        add_bytes(to, bytes, length);
}

static void bomb(const char *program, const char *folder, const sample *it, const char *how,
                 const text *body, bool all_refused) {
    char list[1024];
    cJSON *report = NULL;
    text file = {0};
    snprintf(list, sizeof list, "%s/list.txt", folder);
    encode(&file, body, it->in.encoding, it->in.has_mark);
    write_file(list, file.bytes, file.length);
    int code = ask(program, folder, list, NULL, NULL, &report);
    check(code == 65 || (code == 0 && !all_refused), "%s: ended with %d", how, code);
    const cJSON *row;
    cJSON_ArrayForEach(row, cJSON_GetObjectItemCaseSensitive(report, "rows"))
        check(text_of(row, "part")[0] == '\0', "%s: listed %s", how, text_of(row, "part"));
    cJSON_Delete(report);
    free(file.bytes);
}

void bombs(const char *program, const char *folder) {
    sample it;
    char catalog[1024], line[256];
    text body = {0};
    uint64_t seed = 1;
    for (;; seed++) { /* a list with quotes and a header, in UTF-8 */
        make_sample(&it, seed, false);
        if (it.in.quotes && it.in.header && it.in.lead == 0 &&
            strcmp(it.in.encoding, "utf-8") == 0 && it.in.delimiter == ';' && it.in.has_maker)
            break;
        free_sample(&it);
    }
    snprintf(catalog, sizeof catalog, "%s/catalog", folder);
    write_catalog(&it, catalog);
    const char *header_end = strchr(it.list.bytes, '\n') + 1;
    size_t header = (size_t)(header_end - it.list.bytes);
#define BEGIN (empty(&body), add_bytes(&body, it.list.bytes, header))
    BEGIN;
    repeat(&body, "9", 10 << 20);
    add(&body, "\n");
    bomb(program, folder, &it, "a line of 10 MB", &body, true);
    BEGIN;
    repeat(&body, "\"", 10 << 20);
    add(&body, "\n");
    bomb(program, folder, &it, "10 MB of quotes", &body, true);
    BEGIN;
    repeat(&body, ";", 10 << 20);
    add(&body, "\n");
    bomb(program, folder, &it, "10 MB of delimiters", &body, false);
    BEGIN;
    repeat(&body, "\n", 1 << 20);
    bomb(program, folder, &it, "a million empty lines", &body, true);
    BEGIN;
    repeat(&body, "quern amber;1;", 2 << 20);
    add(&body, "\n");
    bomb(program, folder, &it, "cells without end", &body, true);
    BEGIN;
    for (int i = 0; i < 4000; i++) {
        snprintf(line, sizeof line, "quern trestle lintel amber basalt cobalt dusk %d alder birch",
                 i);
        const char *cells[6] = {"", "Alder", line, "=1+1", "=2", "@SUM(A1)"};
        for (int place = 0; place < 6; place++)
            for (int k = 0; k < 6; k++)
                if (it.in.order[k] == place)
                    add(&body, "%s%s", place == 0 ? "" : ";", cells[k]);
        add(&body, "\n");
    }
    bomb(program, folder, &it, "formulas", &body, true);
    empty(&body);
    bomb(program, folder, &it, "nothing at all", &body, true);
#undef BEGIN
    free(body.bytes);
    free_sample(&it);
}
