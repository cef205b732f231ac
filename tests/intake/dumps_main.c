/*
 * dumps facts TABLE FOLDER     every dump that the table names says what the table says
 * dumps shapes FILE..          dumps just taken by the tools of this machine are taken for what
 * they are dumps mutations FILE..       cut, flipped, with keys repeated, in other encodings dumps
 * hostile                bombs: no crash, nothing stated, no more than two seconds each dumps
 * folders DATA           files and folders, what is left aside, conflicts
 */
#include "dumps.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

size_t passed, failed;

void check(bool holds, const char *format, ...) {
    passed += holds;
    failed += !holds;
    if (holds || failed > 40)
        return;
    va_list arguments;
    va_start(arguments, format);
    printf("FAILED ");
    vprintf(format, arguments);
    printf("\n");
    va_end(arguments);
}

/* ---- lines ---------------------------------------------------------------------------- */

static void *or_end(void *memory) {
    if (memory == NULL) {
        fprintf(stderr, "no memory\n");
        exit(2);
    }
    return memory;
}

char *joined(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    char *text = or_end(malloc((size_t)length + 1));
    va_start(arguments, format);
    vsnprintf(text, (size_t)length + 1, format, arguments);
    va_end(arguments);
    return text;
}

void add_line(lines *to, char *line) {
    if (to->count == to->room) {
        to->room = to->room == 0 ? 64 : to->room * 2;
        to->all = or_end(realloc(to->all, to->room * sizeof *to->all));
    }
    to->all[to->count++] = line;
}

static int by_text(const void *a, const void *b) {
    return strcmp(*(char *const *)a, *(char *const *)b);
}

void sort_lines(lines *of) {
    if (of->count > 1)
        qsort(of->all, of->count, sizeof *of->all, by_text);
}

bool has_line(const lines *sorted, const char *line) {
    return sorted->count > 0 &&
           bsearch(&line, sorted->all, sorted->count, sizeof *sorted->all, by_text) != NULL;
}

void free_lines(lines *of) {
    for (size_t i = 0; i < of->count; i++)
        free(of->all[i]);
    free(of->all);
    *of = (lines){0};
}

char *whole_file(size_t *length, const char *path) {
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        fprintf(stderr, "%s cannot be read\n", path);
        exit(2);
    }
    size_t room = 1 << 16;
    char *bytes = or_end(malloc(room));
    *length = 0;
    for (size_t got; (got = fread(bytes + *length, 1, room - *length, file)) > 0;) {
        *length += got;
        if (*length == room)
            bytes = or_end(realloc(bytes, room *= 2));
    }
    fclose(file);
    /* Not a byte more than it holds, so that a read beyond it is seen. */
    return or_end(realloc(bytes, *length == 0 ? 1 : *length));
}

/* ---- asking the library ----------------------------------------------------------------- */

static char *value_of(const sw_statement *is) {
    if (is->says == SW_SAYS_TEXT)
        return joined("\"%s\"", is->text);
    if (is->says == SW_SAYS_FLAG)
        return joined("%s", is->flag ? "true" : "false");
    long long milli = is->milli, size = milli < 0 ? -milli : milli;
    char *text = joined("%s%lld.%03lld", milli < 0 ? "-" : "", size / 1000, size % 1000);
    for (size_t end = strlen(text); text[end - 1] == '0' || text[end - 1] == '.'; end--) {
        bool point = text[end - 1] == '.';
        text[end - 1] = '\0';
        if (point)
            break;
    }
    return text;
}

static void add_statement(said *out, const sw_statement *is, bool with_places) {
    char *value = value_of(is);
    const char *colon = is->key[0] == '\0' ? "" : ":";
    add_line(&out->statements,
             joined("%s%s%s | %s | %s%s%s", is->device, colon, is->key, is->property, value,
                    with_places ? " | " : "", with_places ? is->place : ""));
    free(value);
}

void ask(said *out, const char *bytes, size_t length, bool with_places) {
    sw_arena *arena = or_end(sw_arena_new());
    sw_complaints *faults = or_end(sw_complaints_new());
    sw_statements list;
    *out = (said){0};
    sw_statements_begin(&list, arena);
    clock_t begin = clock();
    sw_status status = sw_dump_tell(&out->kind, &list, "dump", bytes, length, faults);
    out->seconds = (double)(clock() - begin) / CLOCKS_PER_SEC;
    check(status == SW_OK && !list.misuse && !list.failed, "the reader itself failed: %d", status);
    for (size_t i = 0; i < list.count; i++)
        add_statement(out, &list.all[i], with_places);
    for (size_t i = 0; i < list.private_count; i++)
        add_line(&out->privates, joined("- %s | %s | %s", list.privates[i].device,
                                        list.privates[i].kind, list.privates[i].value));
    const sw_complaint *fault = NULL;
    for (size_t i = 0; (fault = sw_complaints_get(faults, i)) != NULL; i++)
        add_line(&out->faults, joined("! %s | %s", fault->place, fault->what));
    sw_complaints_free(faults);
    sw_arena_free(arena);
}

void free_said(said *of) {
    free_lines(&of->statements);
    free_lines(&of->privates);
    free_lines(&of->faults);
}

/* ------------------------------------------------------------------------------------------ */

/* Of every kind that the tools of one machine make, nothing private may stand in a statement. */
void test_shapes(char *const *files, size_t count) {
    for (size_t i = 0; i + 1 < count; i += 2) {
        size_t length = 0;
        char *bytes = whole_file(&length, files[i]);
        said is;
        ask(&is, bytes, length, false);
        check(strcmp(sw_dump_kind_name(is.kind), files[i + 1]) == 0, "%s is taken for \"%s\"",
              files[i], sw_dump_kind_name(is.kind));
        for (size_t j = 0; j < is.privates.count; j++) {
            const char *value = strrchr(is.privates.all[j], '|') + 2;
            bool seen = false;
            for (size_t k = 0; k < is.statements.count; k++)
                seen |= strlen(value) > 3 && strstr(is.statements.all[k], value) != NULL;
            check(!seen, "%s: what is private stands in a statement", files[i]);
        }
        check(is.kind == SW_DUMP_NONE || is.statements.count > 0 || is.faults.count > 0,
              "%s says nothing, and nobody is told", files[i]);
        free_said(&is);
        free(bytes);
    }
}

int main(int count, char **words) {
    const char *what = count > 1 ? words[1] : "";
    char *const *files = words + 2;
    size_t given = count > 2 ? (size_t)count - 2 : 0;
    if (strcmp(what, "facts") == 0 && given == 2)
        test_facts(files[0], files[1]);
    else if (strcmp(what, "shapes") == 0)
        test_shapes(files, given);
    else if (strcmp(what, "mutations") == 0)
        test_mutations(files, given);
    else if (strcmp(what, "hostile") == 0 && given == 1)
        test_hostile(strtoul(files[0], NULL, 10));
    else if (strcmp(what, "folders") == 0 && given == 1)
        test_folders(files[0]);
    else
        return 64;
    printf("%zu passed, %zu failed\n", passed, failed);
    return failed == 0 ? 0 : 1;
}
