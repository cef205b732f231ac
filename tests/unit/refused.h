/* One place of a good file is changed, and exactly one complaint is expected. */
#ifndef REFUSED_H
#define REFUSED_H

#include "shelf.h"

typedef struct row {
    const char *from, *to; /* in the file, the first time it is there */
    const char *place, *what, *mend;
} row;

static bool has(const char *text, const char *part) {
    return part == NULL || strstr(text, part) != NULL;
}

/* Reads the shelf, in which one place of `file` was changed. */
static void expect_refused(shelf *made, const char *file, const row *is) {
    shelf_read(made);
    size_t count = sw_complaints_count(made->complaints);
    cr_expect_eq(made->status, SW_BAD_DATA, "%s -> %s: %s", is->from, is->to, shelf_said(made));
    cr_expect_null(made->scenario);
    cr_expect_eq(count, 1, "%s -> %s: %zu complaints", is->from, is->to, count);
    const sw_complaint *first = sw_complaints_get(made->complaints, 0);
    if (first != NULL) {
        size_t length = strlen(first->file), tail = strlen(file);
        cr_expect(length >= tail && strcmp(first->file + length - tail, file) == 0, "%s",
                  first->file);
        cr_expect_str_eq(first->place, is->place, "%s -> %s: at %s", is->from, is->to,
                         first->place);
        cr_expect(has(first->what, is->what), "%s -> %s: %s", is->from, is->to, first->what);
        cr_expect(has(first->mend, is->mend), "%s -> %s: %s", is->from, is->to, first->mend);
        cr_expect(first->why[0] != '\0' && first->mend[0] != '\0', "%s", first->what);
    }
    for (size_t i = 1; i < count && i < 4; i++)
        cr_log_warn("also %s: %s", sw_complaints_get(made->complaints, i)->place,
                    sw_complaints_get(made->complaints, i)->what);
    shelf_free(made);
}

static void expect_one(const char *file, const row *is) {
    shelf made = shelf_make(file, is->from, is->to);
    expect_refused(&made, file, is);
}

static void expect_each(const char *file, const row *rows, size_t count) {
    for (size_t i = 0; i < count; i++)
        expect_one(file, &rows[i]);
}

#endif
