/* Relations between the facts and prices of the shipped catalog, as relations.txt
 * states them.
 *
 *     relations RELATIONS names               the names, one a line
 *     relations RELATIONS judge CATALOG       all of them, and at the end the count
 *     relations RELATIONS judge CATALOG NAME  one
 *     relations RELATIONS alter COPY NAME     spoils a copy of the catalog for NAME
 *
 * Ends with 0 when all hold, 1 when one fails, 2 when it could not be told. */
#include <stdio.h>
#include <string.h>

#include "alter.h"
#include "judge.h"

static int judge_all(const book *b, pool *memory, const char *catalog, const char *name) {
    shelf s = {.prices = b->prices, .price_count = b->price_count};
    size_t passed = 0, failed = 0;
    shelf_read(&s, memory, catalog);
    for (size_t i = 0; i < b->count; i++) {
        const relation *r = &b->all[i];
        if (name != NULL && strcmp(r->name, name) != 0)
            continue;
        check_fields(r, &s);
        if (judge(r, &s))
            passed++;
        else
            failed++;
    }
    shelf_close(&s);
    printf("%zu passed, %zu failed\n", passed, failed);
    return failed == 0 ? 0 : 1;
}

static const relation *named(const book *b, const char *name) {
    const relation *r = book_find(b, name);
    if (r == NULL)
        give_up("no relation %s", name);
    return r;
}

int main(int argc, char **argv) {
    pool memory = {0};
    int code = 0;
    if (argc < 3)
        give_up("RELATIONS names | judge CATALOG [NAME] | alter COPY NAME");
    book b = book_read(&memory, argv[1]);
    if (strcmp(argv[2], "names") == 0 && argc == 3) {
        for (size_t i = 0; i < b.count; i++)
            printf("%s\n", b.all[i].name);
    } else if (strcmp(argv[2], "judge") == 0 && (argc == 4 || argc == 5)) {
        const char *name = argc == 5 ? named(&b, argv[4])->name : NULL;
        code = judge_all(&b, &memory, argv[3], name);
    } else if (strcmp(argv[2], "alter") == 0 && argc == 5) {
        alter(named(&b, argv[4]), &memory, argv[3]);
    } else {
        give_up("RELATIONS names | judge CATALOG [NAME] | alter COPY NAME");
    }
    pool_empty(&memory);
    return code;
}
