/*
 * Changes a copied job in place in ways whose effect on the answer is known. It
 * shares no code with the program.
 *
 *     change shuffle SEED FOLDER        the same job, everything in another order
 *     change whole FOLDER               no tax, no threshold, labour that needs no rounding
 *     change double FOLDER              every amount of money twice what it was
 *     change level FOLDER               no delivery is waived
 *     change worse SEED FOLDER [ANSWER] one more part, the same as another but dearer
 *                                       (as one that ANSWER buys, where it can be);
 *                                       ends with 3 when no part can be copied
 *     change budgets FOLDER             prints budgets, in rising order
 *
 * FOLDER holds scenario.json beside the catalog's files.
 */
#include "job.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NOTHING_TO_COPY = 3, BAD_USE = 2 };

typedef uint64_t Dice;

static uint64_t below(Dice *dice, uint64_t count) {
    uint64_t z = *dice += UINT64_C(0x9E3779B97F4A7C15);
    z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
    return (z ^ (z >> 31)) % count;
}

static void change_amount(cJSON *in, const char *name, int64_t times, int64_t step) {
    cJSON *money = cJSON_GetObjectItemCaseSensitive(in, name);
    if (money == NULL)
        return;
    if (!cJSON_IsString(money))
        die("%s is not text", name);
    int64_t now = thousandths(money->valuestring) * times;
    char *text = amount(now / step * step);
    if (cJSON_SetValuestring(money, text) == NULL)
        die("out of memory");
    free(text);
}

static void shuffle_children(Dice *dice, cJSON *of) {
    size_t count = 0;
    cJSON *one, **all = NULL;
    cJSON_ArrayForEach(one, of) {
        all = grown(all, (count + 1) * sizeof *all);
        all[count++] = one;
    }
    if (count < 2) {
        free(all);
        return;
    }
    for (size_t i = count - 1; i > 0; i--) {
        size_t other = below(dice, i + 1);
        one = all[i];
        all[i] = all[other];
        all[other] = one;
    }
    for (size_t i = 0; i < count; i++) {
        all[i]->next = i + 1 < count ? all[i + 1] : NULL;
        all[i]->prev = all[i > 0 ? i - 1 : count - 1];
    }
    of->child = all[0];
    free(all);
}

static void shuffle_members(Dice *dice, cJSON *json) {
    if (cJSON_IsObject(json))
        shuffle_children(dice, json);
    cJSON *one;
    cJSON_ArrayForEach(one, json) shuffle_members(dice, one);
}

/* Only lists whose order means nothing and shows nowhere. */
static void shuffle(Job *job, Dice *dice) {
    static const char *const lists[] = {"parts",        "sellers", "roles",   "tasks",
                                        "observations", "given",   "observed"};
    static const char *const wishes[] = {"keep", "replace", "avoid"};
    for (size_t d = 0; d < job->count; d++) {
        cJSON *root = job->docs[d].root, *one;
        shuffle_members(dice, root);
        for (size_t i = 0; i < sizeof lists / sizeof *lists; i++)
            if (cJSON_IsArray(member(root, lists[i])))
                shuffle_children(dice, member(root, lists[i]));
        cJSON_ArrayForEach(one, member(root, "machine")) shuffle_children(dice, one);
        for (size_t i = 0; i < 3; i++)
            if (member(member(root, "wishes"), wishes[i]) != NULL)
                shuffle_children(dice, member(member(root, "wishes"), wishes[i]));
    }
    char ***rows = job->listings.rows;
    for (size_t i = job->listings.count; i-- > 2;) {
        size_t other = 1 + below(dice, i);
        char **row = rows[i];
        rows[i] = rows[other];
        rows[other] = row;
    }
}

/* ---- money ---- */

static int64_t smallest_coin(const Job *job) {
    const char *currency = text_of(in_job(job, "scenario.json", NULL), "currency");
    return strcmp(currency, "JPY") == 0 ? 1000 : strcmp(currency, "TND") == 0 ? 1 : 10;
}

/* minutes x rate / 60 is a whole number of coins when the rate is 60 times one. */
static void make_whole(Job *job) {
    cJSON *scenario = in_job(job, "scenario.json", NULL);
    /* The points per money that the client asks for are a price too. */
    cJSON *wishes = cJSON_GetObjectItemCaseSensitive(scenario, "wishes");
    cJSON_DeleteItemFromObjectCaseSensitive(wishes, "worth_at_least");
    cJSON_DeleteItemFromObjectCaseSensitive(scenario, "tax");
    change_amount(member(scenario, "labour"), "rate_per_hour", 1, 60 * smallest_coin(job));
}

static void double_money(Job *job) {
    cJSON *scenario = in_job(job, "scenario.json", NULL), *one, *piece;
    for (size_t r = 1; r < job->listings.count; r++) {
        char **price = &job->listings.rows[r][2];
        int64_t now = thousandths(*price);
        free(*price);
        *price = amount(2 * now);
    }
    cJSON_ArrayForEach(one, in_job(job, "sellers.json", "sellers")) {
        change_amount(one, "delivery", 2, 1);
        change_amount(one, "free_from", 2, 1);
    }
    cJSON_ArrayForEach(one, in_job(job, "charges.json", "charges"))
        change_amount(one, "amount", 2, 1);
    cJSON_ArrayForEach(one, in_job(job, "tasks.json", "tasks")) change_amount(one, "price", 2, 1);
    cJSON_ArrayForEach(one, member(scenario, "machine")) cJSON_ArrayForEach(piece, one) {
        change_amount(piece, "offer", 2, 1);
        change_amount(piece, "hoped", 2, 1);
    }
    change_amount(member(scenario, "labour"), "rate_per_hour", 2, 1);
    change_amount(member(scenario, "budget"), "total", 2, 1);
    change_amount(member(scenario, "budget"), "reserve", 2, 1);
    change_amount(member(scenario, "budget"), "sundries", 2, 1);
}

static void print_budgets(const Job *job) {
    static const int64_t quarters[] = {0, 1, 2, 3, 4, 6, 12};
    int64_t coin = smallest_coin(job);
    int64_t total =
        thousandths(text_of(member(in_job(job, "scenario.json", NULL), "budget"), "total"));
    if (total == 0)
        total = 100000;
    for (size_t i = 0; i < sizeof quarters / sizeof *quarters; i++) {
        char *text = amount(total * quarters[i] / 4 / coin * coin);
        puts(text);
        free(text);
    }
}

/* Without this a dearer part could spare its own delivery. */
static void drop_waivers(Job *job) {
    cJSON *one;
    cJSON_ArrayForEach(one, in_job(job, "sellers.json", "sellers"))
        cJSON_DeleteItemFromObjectCaseSensitive(one, "free_from");
}

/* ---- worse ---- */

static bool holds(const cJSON *json, const char *part) {
    if (strcmp(text_of(json, "holds"), part) == 0)
        return true;
    const cJSON *one;
    cJSON_ArrayForEach(one, json) if (holds(one, part)) return true;
    return false;
}

static bool avoided(const Job *job, const char *part) {
    cJSON *one, *wishes = member(in_job(job, "scenario.json", NULL), "wishes");
    cJSON_ArrayForEach(one, member(wishes, "avoid")) if (cJSON_IsString(one) &&
                                                         strcmp(one->valuestring, part) ==
                                                             0) return true;
    return false;
}

static bool listed(const Job *job, const char *part) {
    for (size_t r = 1; r < job->listings.count; r++)
        if (strcmp(job->listings.rows[r][0], part) == 0)
            return true;
    return false;
}

/* Where two kinds may be added, the copy beside the part is more than the part alone. */
static bool takes_one_kind(const Job *job, const char *role) {
    cJSON *one;
    cJSON_ArrayForEach(one, in_job(job, "roles.json", "roles")) {
        const cJSON *kinds = member(one, "new_kinds");
        if (strcmp(text_of(one, "role"), role) == 0)
            return kinds == NULL || kinds->valuedouble < 1.5;
    }
    return false;
}

static bool can_be_copied(const Job *job, const cJSON *part) {
    const char *id = text_of(part, "id");
    return takes_one_kind(job, text_of(part, "role")) && listed(job, id) && !avoided(job, id) &&
           !holds(in_job(job, "rules.json", NULL), id) &&
           !holds(in_job(job, "tasks.json", NULL), id) &&
           !holds(in_job(job, "charges.json", NULL), id);
}

static bool bought(const cJSON *answer, const char *part) {
    const cJSON *swap, *in;
    cJSON_ArrayForEach(swap, member(cJSON_GetArrayItem(member(answer, "bundles"), 0), "swaps"))
        cJSON_ArrayForEach(in, member(swap, "in")) if (strcmp(text_of(in, "part"), part) ==
                                                       0) return true;
    return false;
}

/* One of the parts that can be copied; of those bought, when the answer buys any. */
static cJSON *drawn_part(const Job *job, const cJSON *answer, Dice *dice, cJSON **file) {
    cJSON *drawn = NULL, *part;
    uint64_t seen = 0;
    for (int only_bought = answer != NULL; only_bought >= 0 && drawn == NULL; only_bought--)
        for (size_t d = 0; d < job->count; d++)
            cJSON_ArrayForEach(part, member(job->docs[d].root, "parts")) {
                if (!can_be_copied(job, part) ||
                    (only_bought && !bought(answer, text_of(part, "id"))) ||
                    below(dice, ++seen) != 0)
                    continue;
                drawn = part;
                *file = member(job->docs[d].root, "parts");
            }
    return drawn;
}

static bool known_up_to(const cJSON *list, const char *name, const char *id) {
    const cJSON *one;
    cJSON_ArrayForEach(one, list) if (strcmp(text_of(one, name), id) >= 0) return true;
    return false;
}

/* Behind every id of the job, so that it comes last where nothing else tells parts apart. */
static char *last_id(const Job *job) {
    char *id = joined("zz", "", "");
    for (bool again = true; again;) {
        const cJSON *scenario = in_job(job, "scenario.json", NULL), *role;
        again = known_up_to(member(scenario, "given"), "part", id);
        cJSON_ArrayForEach(role, member(scenario, "machine")) again =
            again || known_up_to(role, "part", id);
        for (size_t d = 0; d < job->count; d++)
            again = again || known_up_to(member(job->docs[d].root, "parts"), "id", id);
        if (again) {
            char *longer = joined(id, "z", "");
            free(id);
            id = longer;
        }
    }
    return id;
}

static char **dearer_row(char **row, const char *id) {
    size_t count = 0;
    while (row[count] != NULL)
        count++;
    char **copy = grown(NULL, (count + 1) * sizeof *copy);
    for (size_t i = 0; i < count; i++)
        copy[i] = joined(i == 0 ? id : row[i], "", "");
    free(copy[2]);
    copy[2] = amount(thousandths(row[2]) + 1000);
    copy[count] = NULL;
    return copy;
}

static int add_worse(Job *job, Dice *dice, const char *answer_path) {
    cJSON *answer = answer_path == NULL ? NULL : json_file(answer_path), *file = NULL;
    cJSON *part = drawn_part(job, answer, dice, &file);
    cJSON_Delete(answer);
    if (part == NULL)
        return NOTHING_TO_COPY;
    char *id = last_id(job);
    cJSON *copy = cJSON_Duplicate(part, true);
    /* The maker's number is of the one part. */
    cJSON_DeleteItemFromObject(copy, "numbers");
    if (copy == NULL || cJSON_SetValuestring(member(copy, "id"), id) == NULL ||
        !cJSON_AddItemToArray(file, copy))
        die("out of memory");
    size_t before = job->listings.count;
    for (size_t r = 1; r < before; r++)
        if (strcmp(job->listings.rows[r][0], text_of(part, "id")) == 0)
            append_row(&job->listings, dearer_row(job->listings.rows[r], id));
    printf("%s\n", text_of(part, "id"));
    free(id);
    return 0;
}

/* ---- which change ---- */

static int change(Job *job, const char *what, Dice dice, const char *answer) {
    int code = 0;
    if (strcmp(what, "shuffle") == 0)
        shuffle(job, &dice);
    else if (strcmp(what, "whole") == 0)
        make_whole(job);
    else if (strcmp(what, "double") == 0)
        double_money(job);
    else if (strcmp(what, "level") == 0)
        drop_waivers(job);
    else if (strcmp(what, "worse") == 0)
        code = add_worse(job, &dice, answer);
    else
        code = BAD_USE;
    return code;
}

int main(int argc, char **argv) {
    bool seeded = argc > 1 && (strcmp(argv[1], "shuffle") == 0 || strcmp(argv[1], "worse") == 0);
    if (argc < 3 + seeded) {
        fputs("change shuffle|whole|double|level|worse|budgets [SEED] FOLDER [ANSWER]\n", stderr);
        return BAD_USE;
    }
    Dice dice = seeded ? strtoull(argv[2], NULL, 10) * 1000003 : 0;
    Job job;
    open_job(&job, argv[2 + seeded]);
    int code = 0;
    if (strcmp(argv[1], "budgets") == 0)
        print_budgets(&job);
    else if ((code = change(&job, argv[1], dice, argv[3 + seeded])) == 0)
        write_job(&job);
    close_job(&job);
    return code;
}
