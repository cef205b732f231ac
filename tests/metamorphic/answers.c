/*
 * Reads answers of the program, to compare two of them.
 *
 *     answers best ANSWER           prints the best bundle's points in thousandths,
 *                                   or nothing-fits
 *     answers bundles ANSWER        prints the bundles
 *     answers twice ANSWER ANSWER   the second differs in money alone, and there is
 *                                   twice as much; prints the first place where not
 *     answers paid ANSWER           ends with 0 when the best bundle costs anything
 */
#include "job.h"

#include <inttypes.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const cJSON *best_of(const cJSON *answer) {
    return cJSON_GetArrayItem(member(answer, "bundles"), 0);
}

/* An answer that stopped early proves nothing, so only the two others may come here. */
static bool fits(const cJSON *answer) {
    const char *status = text_of(answer, "status");
    if (strcmp(status, "nothing-fits") == 0)
        return false;
    if (strcmp(status, "optimal") != 0 || best_of(answer) == NULL)
        die("the status is \"%s\"", status);
    return true;
}

static void print_best(const cJSON *answer) {
    if (fits(answer))
        printf("%" PRId64 "\n", thousandths(text_of(best_of(answer), "points")));
    else
        puts("nothing-fits");
}

static void print_bundles(const cJSON *answer) {
    if (!fits(answer)) {
        puts("nothing-fits");
        return;
    }
    char *text = cJSON_Print(member(answer, "bundles"));
    if (text == NULL)
        die("out of memory");
    puts(text);
    cJSON_free(text);
}

static bool names_money(const char *name) {
    static const char *const money[] = {"budget", "budget_total", "needed", "reserve", "sundries",
                                        "cost",   "offer",        "hoped",  "price",   "amount",
                                        "parts",  "offers",       "tasks",  "charges", "labour",
                                        "tax",    "total",        "left"};
    for (size_t i = 0; i < sizeof money / sizeof *money; i++)
        if (strcmp(name, money[i]) == 0)
            return true;
    return false;
}

static bool same_value(const cJSON *a, const cJSON *b, const char *name) {
    if (!cJSON_IsString(a))
        return cJSON_Compare(a, b, true);
    if (names_money(name))
        return 2 * thousandths(a->valuestring) == thousandths(b->valuestring);
    /* Half the points for each coin, but for the rounding of each. */
    if (strcmp(name, "points_per_100") == 0)
        return llabs(2 * thousandths(b->valuestring) - thousandths(a->valuestring)) <= 1;
    return strcmp(a->valuestring, b->valuestring) == 0;
}

/* Says where b is not a with its money doubled. */
static bool is_twice(const cJSON *a, const cJSON *b, const char *name, const char *path) {
    if (a->type == b->type && (cJSON_IsArray(a) || cJSON_IsObject(a)) &&
        cJSON_GetArraySize(a) == cJSON_GetArraySize(b)) {
        bool good = true;
        const cJSON *left = a->child, *right = b->child;
        for (; good && left != NULL; left = left->next, right = right->next) {
            const char *own = left->string == NULL ? "[]" : left->string;
            char *below = joined(path, "/", own);
            good = strcmp(own, right->string == NULL ? "[]" : right->string) == 0 &&
                   is_twice(left, right, own, below);
            if (!good && cJSON_IsString(left) && cJSON_IsString(right))
                printf("%s: \"%s\" and \"%s\"\n", below, left->valuestring, right->valuestring);
            free(below);
        }
        return good;
    }
    bool good =
        a->type == b->type && !cJSON_IsArray(a) && !cJSON_IsObject(a) && same_value(a, b, name);
    if (!good && !cJSON_IsString(a))
        printf("%s differs\n", path);
    return good;
}

int main(int argc, char **argv) {
    bool two = argc > 1 && strcmp(argv[1], "twice") == 0;
    if (argc != 3 + two) {
        fputs("answers best|bundles|paid ANSWER, or twice ANSWER ANSWER\n", stderr);
        return 2;
    }
    cJSON *answer = json_file(argv[2]), *other = two ? json_file(argv[3]) : NULL;
    bool good = true;
    if (two)
        good = is_twice(answer, other, "", "");
    else if (strcmp(argv[1], "best") == 0)
        print_best(answer);
    else if (strcmp(argv[1], "bundles") == 0)
        print_bundles(answer);
    else
        good = fits(answer) && thousandths(text_of(best_of(answer), "cost")) > 0;
    cJSON_Delete(other);
    cJSON_Delete(answer);
    return good ? 0 : 1;
}
