/*
 * That the driver can fail: the checker's own answer is spoiled in one place after
 * another, and each time the comparison has to say so; then the ends of the entry
 * prices are moved, and planning at them has to say so.
 */
#include "driver.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef void (*Spoil)(cJSON *answer);

static cJSON *in(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static void replace_text(cJSON *object, const char *name, const char *text) {
    cJSON_ReplaceItemInObjectCaseSensitive(object, name, cJSON_CreateString(text));
}

static void replace_null(cJSON *object, const char *name) {
    cJSON_ReplaceItemInObjectCaseSensitive(object, name, cJSON_CreateNull());
}

/* One minor unit more or less, in euro. */
static void move(cJSON *object, const char *name, int by) {
    char money[32];
    money_text(minor_units(in(object, name), "EUR") + by, "EUR", money, sizeof money);
    replace_text(object, name, money);
}

static cJSON *interval(cJSON *a, int i) {
    return cJSON_GetArrayItem(in(in(a, "entry"), "intervals"), i);
}

static cJSON *weight(cJSON *a, int i) { return cJSON_GetArrayItem(in(a, "weights"), i); }

static cJSON *first_in(cJSON *bundle) {
    return cJSON_GetArrayItem(in(cJSON_GetArrayItem(in(bundle, "swaps"), 0), "in"), 0);
}

static void move_range(cJSON *a, const char *name, double by) {
    cJSON *end = in(cJSON_GetArrayItem(in(weight(a, 0), "ranges"), 0), name);
    cJSON_SetNumberValue(end, end->valuedouble + by);
}

static void standing(cJSON *a) { replace_text(a, "standing", "dear"); }
static void present(cJSON *a) {
    cJSON_ReplaceItemInObjectCaseSensitive(in(a, "part"), "present", cJSON_CreateTrue());
}
static void cost_of_best(cJSON *a) { move(in(a, "best"), "cost", 1); }
static void points_of_with(cJSON *a) { replace_text(in(a, "with"), "points", "1.001"); }
static void no_with(cJSON *a) { replace_null(a, "with"); }
static void no_without_name(cJSON *a) { cJSON_DeleteItemFromObject(a, "without"); }
static void seller_of_without(cJSON *a) {
    replace_text(first_in(in(a, "without")), "seller", "west");
}
static void count_of_cheapest(cJSON *a) {
    cJSON_SetNumberValue(in(first_in(in(a, "cheapest_with")), "count"), 2);
}
static void along_less(cJSON *a) { cJSON_DeleteItemFromArray(in(a, "along"), 0); }
static void along_other(cJSON *a) {
    cJSON_ReplaceItemInArray(in(a, "along"), 0, cJSON_CreateString("fans"));
}
static void behind(cJSON *a) { replace_text(a, "behind", "0.001"); }
static void no_entry(cJSON *a) { replace_null(a, "entry"); }
static void asked(cJSON *a) { replace_text(in(a, "entry"), "seller", "west"); }
static void first_to_more(cJSON *a) { move(interval(a, 0), "to", 1); }
static void second_from_less(cJSON *a) { move(interval(a, 1), "from", -1); }
static void second_to_less(cJSON *a) { move(interval(a, 1), "to", -1); }
static void second_none(cJSON *a) { cJSON_DeleteItemFromArray(in(in(a, "entry"), "intervals"), 1); }
static void entry_unsettled(cJSON *a) {
    cJSON_ReplaceItemInObjectCaseSensitive(in(a, "entry"), "settled", cJSON_CreateFalse());
}
static void range_less(cJSON *a) { move_range(a, "to", -1); }
static void range_more(cJSON *a) { move_range(a, "from", -2); }
static void criterion_less(cJSON *a) { cJSON_DeleteItemFromArray(in(a, "weights"), 0); }
static void weight_now(cJSON *a) { replace_text(weight(a, 0), "now", "49.999"); }
static void no_this(cJSON *a) { replace_null(in(a, "over"), "this"); }
static void points_of_other(cJSON *a) { replace_text(in(in(a, "over"), "other"), "points", "1"); }
static void no_over(cJSON *a) { cJSON_DeleteItemFromObject(a, "over"); }
static void unsettled(cJSON *a) {
    cJSON_ReplaceItemInObjectCaseSensitive(a, "unsettled", cJSON_CreateTrue());
}

typedef struct Fault {
    const char *says; /* what has to be in the report */
    Spoil spoil;
} Fault;

static const Fault faults[] = {
    {"standing", standing},
    {"present", present},
    {"cost", cost_of_best},
    {"points", points_of_with},
    {"with", no_with},
    {"without", no_without_name},
    {"seller", seller_of_without},
    {"cheapest", count_of_cheapest},
    {"along", along_less},
    {"along", along_other},
    {"behind", behind},
    {"entry", no_entry},
    {"asked", asked},
    {"price 1, to", first_to_more},
    {"price 2, from", second_from_less},
    {"price 2, to", second_to_less},
    {"intervals", second_none},
    {"settle", entry_unsettled},
    {"percent", range_less},
    {"percent", range_more},
    {"weighed", criterion_less},
    {"weight of", weight_now},
    {"this", no_this},
    {"points", points_of_other},
    {"over", no_over},
    {"settled", unsettled},
};

/* Ends moved by one minor unit: planning at them has to find each. */
static const Fault moved_ends[] = {
    {"but", first_to_more}, {"but", second_from_less}, {"but", second_to_less}};

static void count(const char *what, int i, bool good, const char *why, long *passed, long *failed) {
    *(good ? passed : failed) += 1;
    if (!good)
        printf("%s %d: %s\n", what, i, *why ? why : "not found");
}

static cJSON *spoiled(const cJSON *answer, Spoil spoil) {
    cJSON *copy = cJSON_Duplicate(answer, true);
    if (!copy)
        give_up("memory");
    spoil(copy);
    return copy;
}

static void check_spoiled(const cJSON *answer, int i, long *passed, long *failed) {
    char why[1024] = "";
    Talk t = {why, sizeof why};
    cJSON *copy = spoiled(answer, faults[i].spoil);
    bool found = !cJSON_Compare(copy, answer, true) && !same_why(&t, answer, 0, copy, 0) &&
                 strstr(why, faults[i].says);
    count("fault", i, found, why, passed, failed);
    cJSON_Delete(copy);
}

static void check_moved(const Setup *s, const cJSON *answer, int i, long *passed, long *failed) {
    char why[1024] = "";
    Talk t = {why, sizeof why};
    Tally tally = {0};
    cJSON *copy = spoiled(answer, moved_ends[i].spoil);
    const char *part = text_of(get(answer, "part"), "part");
    bool found =
        !check_ends(s, &t, part, get(copy, "entry"), &tally) && strstr(why, moved_ends[i].says);
    count("moved end", i, found, why, passed, failed);
    cJSON_Delete(copy);
}

typedef struct Refusal { /* what the program is made to tell */
    const char *left_out, *refusal;
    const char *says; /* NULL: it is right */
} Refusal;

/* Of the case "never": north sells the card, and only the rule keeps it out. */
static const Refusal refusals[] = {
    {"[]", "{\"settled\":true,\"terms\":[\"rule:room\"]}", NULL},
    {"[{\"why\":\"not-sold\"}]", "{\"settled\":true,\"terms\":[\"rule:room\"]}", "left out"},
    {"[]", "{\"settled\":true,\"terms\":[]}", "some bundle holds"},
    {"[]", "{\"settled\":true,\"terms\":[\"rule:room\",\"unknown\"]}", "without unknown"},
    {"[]", "{\"settled\":true,\"terms\":[\"rule:nowhere\"]}", "no term"},
    {"[]", "{\"settled\":false,\"terms\":[\"rule:room\"]}", "settle"},
    {"[]", "null", "none"},
};

static void check_refusals(const Setup *s, const char *file, long *passed, long *failed) {
    char why[1024] = "", folder[2048], scenario[2048];
    Talk t = {why, sizeof why};
    Tally tally = {0};
    cJSON *answer;
    int code;
    if (!answer_case(s, file, "never", &answer, &code, &t)) {
        count("case", 0, false, why, passed, failed);
        return;
    }
    path_of(s, "job", folder, sizeof folder);
    path_of(s, "job/scenario.json", scenario, sizeof scenario);
    const char *part = text_of(get(answer, "part"), "part");
    for (size_t i = 0; i < sizeof refusals / sizeof *refusals; i++) {
        const Refusal *r = &refusals[i];
        cJSON *copy = cJSON_Duplicate(answer, true);
        why[0] = '\0';
        cJSON_AddItemToObject(copy, "left_out", cJSON_Parse(r->left_out));
        cJSON_AddItemToObject(copy, "refusal", cJSON_Parse(r->refusal));
        bool same =
            same_left_out(&t, folder, part, copy) &&
            same_refusal(s, &t, folder, &(Question){scenario, part, NULL}, answer, copy, &tally);
        count("refusal", (int)i, r->says ? !same && strstr(why, r->says) : same, why, passed,
              failed);
        cJSON_Delete(copy);
    }
    cJSON_Delete(answer);
}

int check_faults(const Setup *s, const char *file) {
    char why[1024] = "";
    Talk t = {why, sizeof why};
    cJSON *answer;
    int code;
    long passed = 0, failed = 0;
    /* The checker speaks for both, so that only the driver is tried. */
    Setup alone = *s;
    alone.stand_in = true;
    if (!answer_case(&alone, file, "faults", &answer, &code, &t)) {
        printf("%s\n0 passed, 1 failed\n", why);
        return 1;
    }
    count("itself", 0, same_why(&t, answer, code, answer, code), why, &passed, &failed);
    count("exit code", 0, !same_why(&t, answer, 0, answer, 1), why, &passed, &failed);
    for (size_t i = 0; i < sizeof faults / sizeof *faults; i++)
        check_spoiled(answer, (int)i, &passed, &failed);
    for (size_t i = 0; i < sizeof moved_ends / sizeof *moved_ends; i++)
        check_moved(&alone, answer, (int)i, &passed, &failed);
    cJSON_Delete(answer);
    check_refusals(&alone, file, &passed, &failed);
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed ? 1 : 0;
}
