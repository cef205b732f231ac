/*
 * prices lists PROGRAM FOLDER FROM COUNT      lists in all dialects, read exactly or refused
 * prices spoilt PROGRAM FOLDER FROM COUNT     cut, in other encodings, with bytes put in
 * prices bombs PROGRAM FOLDER                 large and hostile files
 * prices facts PROGRAM FOLDER CATALOG TABLE   what texts state
 *
 * FOLDER holds a catalog (without parts, sellers and listings) and is written into.
 */
#include "prices.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

int passed, failed;

void check(bool good, const char *format, ...) {
    va_list arguments;
    passed += good;
    failed += !good;
    if (good || failed > 20)
        return;
    va_start(arguments, format);
    printf("FAILED ");
    vprintf(format, arguments);
    printf("\n");
    va_end(arguments);
}

int ask(const char *program, const char *folder, const char *list, const char *confirm,
        const char *out, cJSON **report) {
    char catalog[1024], answer[1024], errors[1024];
    char *argv[16] = {(char *)program, "intake",    "prices", (char *)list, "--profile",
                      "list",          "--catalog", catalog,  "--json",     "--whole"};
    int count = 10;
    snprintf(catalog, sizeof catalog, "%s/catalog", folder);
    snprintf(answer, sizeof answer, "%s/report.json", folder);
    snprintf(errors, sizeof errors, "%s/errors", folder);
    if (confirm != NULL) {
        argv[count++] = "--confirm";
        argv[count++] = (char *)confirm;
    }
    if (out != NULL) {
        argv[count++] = "-o";
        argv[count++] = (char *)out;
    }
    int code = run_child(argv, answer, errors);
    *report = read_tree(answer);
    return code;
}

/* ---- judging ----------------------------------------------------------------------------------
 */

static const char *text_of(const cJSON *object, const char *name) {
    const cJSON *found = cJSON_GetObjectItemCaseSensitive(object, name);
    return cJSON_IsString(found) ? found->valuestring : "";
}

static int number_of(const cJSON *object, const char *name) {
    const cJSON *found = cJSON_GetObjectItemCaseSensitive(object, name);
    return cJSON_IsNumber(found) ? found->valueint : -1;
}

static void money(char *out, size_t room, int64_t minor, int digits) {
    int64_t one = digits == 3 ? 1000 : 100;
    snprintf(out, room, "%lld.%0*lld", (long long)(minor / one), digits, (long long)(minor % one));
}

static void judge_row(const sample *it, uint64_t seed, int i, const cJSON *row) {
    const truth *t = &it->rows[i];
    char price[32];
    money(price, sizeof price, t->price, it->in.digits);
    check(strcmp(text_of(row, "fate"), t->fate) == 0, "list %llu row %d is %s, should be %s (%s)",
          (unsigned long long)seed, i + 1, text_of(row, "fate"), t->fate, text_of(row, "cell"));
    check(number_of(row, "row") == i + 1, "list %llu row %d says it is %d",
          (unsigned long long)seed, i + 1, number_of(row, "row"));
    if (strcmp(t->fate, "refused") == 0) {
        check(strcmp(text_of(row, "column"), t->column == NULL ? "" : t->column) == 0,
              "list %llu row %d is refused for %s, should be for %s", (unsigned long long)seed,
              i + 1, text_of(row, "column"), t->column == NULL ? "" : t->column);
        check(text_of(row, "what")[0] != '\0' && text_of(row, "why")[0] != '\0' &&
                  text_of(row, "mend")[0] != '\0',
              "list %llu row %d is refused without saying what, why or how to mend it",
              (unsigned long long)seed, i + 1);
    }
    bool priced = strcmp(t->fate, "listed") == 0 || strcmp(t->fate, "waiting") == 0 ||
                  strcmp(t->fate, "unmatched") == 0 || strcmp(t->fate, "twice") == 0;
    if (priced)
        check(strcmp(text_of(row, "price"), price) == 0 && number_of(row, "stock") == t->stock &&
                  number_of(row, "days") == t->days,
              "list %llu row %d: %s, %d pieces, %d days; should be %s, %d, %d",
              (unsigned long long)seed, i + 1, text_of(row, "price"), number_of(row, "stock"),
              number_of(row, "days"), price, t->stock, t->days);
    else
        check(cJSON_GetObjectItemCaseSensitive(row, "price") == NULL,
              "list %llu row %d has a price although it is %s", (unsigned long long)seed, i + 1,
              t->fate);
    if (strcmp(t->fate, "listed") == 0)
        check(strcmp(text_of(row, "part"), it->parts[t->part].id) == 0,
              "list %llu row %d is of %s, should be of %s", (unsigned long long)seed, i + 1,
              text_of(row, "part"), it->parts[t->part].id);
    if (strcmp(t->fate, "waiting") == 0) {
        const cJSON *list = cJSON_GetObjectItemCaseSensitive(row, "proposals");
        check(strcmp(text_of(cJSON_GetArrayItem(list, 0), "part"), it->parts[t->part].id) == 0 &&
                  cJSON_GetObjectItemCaseSensitive(row, "part") == NULL,
              "list %llu row %d: %s is proposed, should be %s", (unsigned long long)seed, i + 1,
              text_of(cJSON_GetArrayItem(list, 0), "part"), it->parts[t->part].id);
    }
}

static void judge_counts(const sample *it, uint64_t seed, const cJSON *report) {
    const cJSON *fates = cJSON_GetObjectItemCaseSensitive(report, "fates"), *one;
    int sum = 0;
    cJSON_ArrayForEach(one, fates) {
        int count = 0;
        for (int i = 0; i < it->row_count; i++)
            count += strcmp(it->rows[i].fate, one->string) == 0;
        check(one->valueint == count, "list %llu counts %d %s, should be %d",
              (unsigned long long)seed, one->valueint, one->string, count);
        sum += one->valueint;
    }
    check(sum == it->row_count && number_of(report, "row_count") == it->row_count,
          "list %llu accounts for %d of %d rows", (unsigned long long)seed, sum, it->row_count);
}

void judge(const sample *it, uint64_t seed, int code, const cJSON *report, const char *listings) {
    const cJSON *rows = cJSON_GetObjectItemCaseSensitive(report, "rows"), *row;
    int i = 0;
    check(code == (it->faulty ? 65 : 0), "list %llu ends with %d", (unsigned long long)seed, code);
    check(report != NULL && cJSON_GetArraySize(rows) == it->row_count,
          "list %llu reports %d rows of %d", (unsigned long long)seed, cJSON_GetArraySize(rows),
          it->row_count);
    if (cJSON_GetArraySize(rows) != it->row_count)
        return;
    cJSON_ArrayForEach(row, rows) judge_row(it, seed, i++, row);
    judge_counts(it, seed, report);
    if (it->faulty)
        check(access(listings, F_OK) != 0, "list %llu wrote listings in spite of refused rows",
              (unsigned long long)seed);
    else if (access(listings, F_OK) != 0)
        check(false, "list %llu wrote no listings", (unsigned long long)seed);
    else {
        char *got = read_whole(listings);
        check(strcmp(got, it->listings.bytes) == 0, "list %llu wrote other listings",
              (unsigned long long)seed);
        free(got);
    }
}

/* ---- lists
 * ---------------------------------------------------------------------------------------- */

static bool is_on_hold(const sample *it, const char *id) {
    for (int i = 0; i < it->row_count; i++)
        if (it->rows[i].held && strcmp(it->parts[it->rows[i].part].id, id) == 0)
            return true;
    return false;
}

/* Before against after, part by part. */
static void judge_changes(const sample *it, uint64_t seed, const cJSON *report) {
    const cJSON *changes = cJSON_GetObjectItemCaseSensitive(report, "changes"), *one;
    cJSON_ArrayForEach(one, changes) {
        char line[64], is[128] = "", *found;
        const cJSON *kind, *after = cJSON_GetObjectItemCaseSensitive(one, "after");
        int price = 0, stock = 0;
        cJSON_ArrayForEach(kind, cJSON_GetObjectItemCaseSensitive(one, "is")) {
            strncat(is, kind->valuestring, sizeof is - strlen(is) - 2);
            strcat(is, " ");
        }
        snprintf(line, sizeof line, "\n%s,counter,", text_of(one, "part"));
        found = strstr(it->old.bytes, line);
        if (found != NULL)
            sscanf(found + strlen(line), "%d,%d", &price, &stock);
        double now = atof(text_of(after, "price"));
        bool good =
            found == NULL ? strcmp(is, "new ") == 0
            : after == NULL
                ? strcmp(is, is_on_hold(it, text_of(one, "part")) ? "on-hold " : "gone ") == 0
                : (strstr(is, "dearer") != NULL) == (now > price) &&
                      (strstr(is, "cheaper") != NULL) == (now < price) &&
                      (strstr(is, "stock") != NULL) == (number_of(after, "stock") != stock);
        check(good, "list %llu: %s is said to be %s", (unsigned long long)seed,
              text_of(one, "part"), is);
    }
}

static void one_list(const char *program, const char *folder, uint64_t seed) {
    sample it;
    char catalog[1024], list[1024], confirm[1024], out[1024], listings[1100];
    cJSON *report = NULL;
    make_sample(&it, seed, seed % 2 == 0);
    snprintf(catalog, sizeof catalog, "%s/catalog", folder);
    snprintf(list, sizeof list, "%s/list.txt", folder);
    snprintf(confirm, sizeof confirm, "%s/confirm.json", folder);
    snprintf(out, sizeof out, "%s/out.csv", folder);
    snprintf(listings, sizeof listings, "%s/listings.csv", catalog);
    write_catalog(&it, catalog);
    write_file(list, it.file.bytes, it.file.length);
    unlink(out);
    int code = ask(program, folder, list, confirm, NULL, &report);
    check(access(out, F_OK) != 0, "list %llu: a dry run wrote", (unsigned long long)seed);
    cJSON_Delete(report);
    code = ask(program, folder, list, confirm, out, &report);
    judge(&it, seed, code, report, out);
    judge_changes(&it, seed, report);
    cJSON_Delete(report);
    if (!it.faulty && access(out, F_OK) == 0) { /* round trip */
        write_file(listings, it.listings.bytes, it.listings.length);
        unlink(out);
        bool same = read_again(&it);
        code = ask(program, folder, list, confirm, out, &report);
        int changes = cJSON_GetArraySize(cJSON_GetObjectItemCaseSensitive(report, "changes"));
        check((changes == 0) == same, "list %llu changes what it has just written",
              (unsigned long long)seed);
        judge(&it, seed, code, report, out);
        cJSON_Delete(report);
    }
    free_sample(&it);
}

int main(int argc, char **argv) {
    if (argc == 6 && strcmp(argv[1], "lists") == 0)
        for (int i = 0; i < atoi(argv[5]); i++)
            one_list(argv[2], argv[3], (uint64_t)(atoi(argv[4]) + i));
    else if (argc == 6 && strcmp(argv[1], "spoilt") == 0)
        for (int i = 0; i < atoi(argv[5]); i++)
            spoil_lists(argv[2], argv[3], (uint64_t)(atoi(argv[4]) + i), 12);
    else if (argc == 4 && strcmp(argv[1], "bombs") == 0)
        bombs(argv[2], argv[3]);
    else if (argc == 6 && strcmp(argv[1], "facts") == 0)
        facts(argv[2], argv[4], argv[3], argv[5]);
    else
        return 2;
    printf("%d passed, %d failed\n", passed, failed);
    return failed == 0 ? 0 : 1;
}
