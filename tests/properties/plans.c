/* A faster part in the shops: points and rates of the best bundle. */
#include "trial.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Whether a rule, the needs of a task, a charge or a criterion of its own reads the fact, straight
 * or through derived facts: then a faster part is another part. */
static bool read_elsewhere(const Job *job, const char *role, const char *fact, int depth) {
    static const char *const files[] = {"rules.json", "tasks.json", "charges.json",
                                        "criteria.json"};
    for (size_t i = 0; i < sizeof files / sizeof *files; i++)
        if (mentions(in_job(job, files[i], NULL), role, fact))
            return true;
    const cJSON *derived;
    cJSON_ArrayForEach(derived, in_job(job, "facts.json", "derived")) {
        if (depth < 20 && strcmp(text_of(derived, "role"), role) == 0 &&
            mentions(member(derived, "is"), role, fact) &&
            read_elsewhere(job, role, text_of(derived, "fact"), depth + 1))
            return true;
    }
    return false;
}

static bool is_present(const Job *job, const char *id) {
    const cJSON *role, *piece;
    cJSON_ArrayForEach(role, member(scenario_of(job), "machine")) {
        cJSON_ArrayForEach(piece, role) {
            if (strcmp(text_of(piece, "part"), id) == 0)
                return true;
        }
    }
    return false;
}

typedef struct Target {
    cJSON *part; /* of the copy */
    const char *fact;
} Target;

static bool bundle_buys(const cJSON *bundle, const char *id) {
    const cJSON *swap, *in;
    cJSON_ArrayForEach(swap, member(bundle, "swaps")) {
        cJSON_ArrayForEach(in, member(swap, "in")) {
            if (strcmp(text_of(in, "part"), id) == 0)
                return true;
        }
    }
    return false;
}

/* A part that is not in the machine, and a fact of its pace; with a plan one that the best bundle
 * buys and the baseline does not. */
static bool draw_target(Run *run, const Job *copy, const cJSON *plan, Target *target) {
    const cJSON *best = cJSON_GetArrayItem(member(plan, "bundles"), 0);
    uint64_t seen = 0;
    cJSON *part, *fact;
    for (size_t d = 0; d < copy->count; d++)
        cJSON_ArrayForEach(part, member(copy->docs[d].root, "parts")) {
            const char *id = text_of(part, "id");
            if (is_present(copy, id) ||
                (plan != NULL &&
                 (!bundle_buys(best, id) || bundle_buys(member(plan, "baseline"), id))))
                continue;
            cJSON_ArrayForEach(fact, member(part, "facts")) {
                if (is_pace(fact->string) && cJSON_IsNumber(fact) &&
                    !read_elsewhere(copy, text_of(part, "role"), fact->string, 0) &&
                    below(run, ++seen) == 0)
                    *target = (Target){.part = part, .fact = fact->string};
            }
        }
    return seen > 0;
}

static bool role_has_must(const Job *copy, const cJSON *role) {
    const cJSON *one, *piece;
    cJSON_ArrayForEach(one, member(scenario_of(copy), "musts")) {
        cJSON_ArrayForEach(piece, role) {
            if (strcmp(text_of(one, "replace"), text_of(piece, "part")) == 0)
                return true;
        }
    }
    return false;
}

/* The whole catalog takes long: all but a few roles stay as they are. */
static void make_small(Run *run, Job *copy, const char *open) {
    cJSON *scenario = scenario_of(copy), *wishes = member(scenario, "wishes"), *role;
    cJSON_DeleteItemFromObjectCaseSensitive(scenario, "given");
    cJSON_DeleteItemFromObjectCaseSensitive(wishes, "keep");
    cJSON_DeleteItemFromObjectCaseSensitive(wishes, "replace");
    cJSON *keep = cJSON_AddArrayToObject(wishes, "keep");
    cJSON_ArrayForEach(role, member(scenario, "machine")) {
        if (strcmp(role->string, open) == 0 || role_has_must(copy, role) || below(run, 6) == 0)
            continue;
        if (!cJSON_AddItemToArray(keep, cJSON_CreateString(role->string)))
            die("out of memory");
    }
}

/* Speed alone, and one use, so that no use is slower for the sake of another; and money, so that
 * something is bought. */
static bool ask_one_use(Run *run, Job *copy) {
    cJSON *wishes = member(scenario_of(copy), "wishes"), *uses = member(wishes, "uses"), *one;
    int count = cJSON_GetArraySize(uses);
    bool counts = false;
    cJSON_ArrayForEach(one, in_job(copy, "criteria.json", "criteria")) counts =
        counts || strcmp(text_of(one, "id"), "speed") == 0;
    if (count == 0 || !counts)
        return false;
    for (uint64_t drop = (uint64_t)count - 1; drop > 0; drop--)
        cJSON_DeleteItemFromArray(uses, (int)below(run, drop + 1));
    cJSON_DeleteItemFromObjectCaseSensitive(uses->child, "rate_wanted");
    /* What is complained of may be a use that is gone now. */
    cJSON_DeleteItemFromObjectCaseSensitive(scenario_of(copy), "complaints");
    cJSON_DeleteItemFromObjectCaseSensitive(wishes, "ranks");
    cJSON_DeleteItemFromObjectCaseSensitive(wishes, "swings");
    if (cJSON_AddNumberToObject(cJSON_AddObjectToObject(wishes, "swings"), "speed", 100) == NULL)
        die("out of memory");
    cJSON *budget = member(scenario_of(copy), "budget");
    cJSON_DeleteItemFromObjectCaseSensitive(budget, "total");
    if (cJSON_AddStringToObject(budget, "total", "2000") == NULL)
        die("out of memory");
    return true;
}

static double ratio_in(const cJSON *bundle) {
    const char *text = text_of(cJSON_GetArrayItem(member(bundle, "rates"), 0), "ratio");
    return *text == '\0' ? NAN : (double)thousandths(text) / 1000;
}

/* Points are measured against the baseline, so it must be the same one, without the part. */
static bool comparable(const cJSON *before, const cJSON *after, const char *id) {
    return !bundle_buys(member(before, "baseline"), id) &&
           cJSON_Compare(member(before, "baseline"), member(after, "baseline"), true);
}

static bool same_bundle(const cJSON *best, const cJSON *then) {
    return cJSON_Compare(member(best, "swaps"), member(then, "swaps"), true) &&
           cJSON_Compare(member(best, "tasks"), member(then, "tasks"), true);
}

/* Of one and the same bundle no use is slower. */
static void compare_uses(const cJSON *best, const cJSON *then, char *wrong, size_t size) {
    static const char *const names[] = {"ratio", "rate"};
    const cJSON *use;
    int at = 0;
    cJSON_ArrayForEach(use, member(best, "rates")) {
        const cJSON *now = cJSON_GetArrayItem(member(then, "rates"), at++);
        for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
            const char *rate = text_of(use, names[i]), *more = text_of(now, names[i]);
            if (*rate != '\0' && (*more == '\0' || thousandths(more) < thousandths(rate)))
                snprintf(wrong, size, "%s, %s %s, then %s", text_of(use, "use"), names[i], rate,
                         more);
        }
    }
}

/* With one use the rate follows the points but for their rounding and the text's. */
static void compare_plans(const cJSON *before, const cJSON *after, bool rate, char *wrong,
                          size_t size, bool *moved) {
    const cJSON *best = cJSON_GetArrayItem(member(before, "bundles"), 0);
    const cJSON *then = cJSON_GetArrayItem(member(after, "bundles"), 0);
    if (strcmp(text_of(before, "status"), text_of(after, "status")) != 0) {
        snprintf(wrong, size, "%s, then %s", text_of(before, "status"), text_of(after, "status"));
        return;
    }
    if (best == NULL || then == NULL)
        return;
    const char *points = text_of(best, "points"), *more = text_of(then, "points");
    *moved = thousandths(more) > thousandths(points);
    if (thousandths(more) < thousandths(points))
        snprintf(wrong, size, "%s points, then %s", points, more);
    else if (rate && !(ratio_in(then) >= ratio_in(best) - 0.0101))
        snprintf(wrong, size, "%.9g times today's rate, then %.9g", ratio_in(best), ratio_in(then));
    else if (same_bundle(best, then))
        compare_uses(best, then, wrong, size);
}

static double raise_target(Run *run, const Job *job, const Target *target) {
    cJSON *fact = member(member(target->part, "facts"), target->fact);
    const cJSON *one;
    double most = 1000000, now = fact->valuedouble;
    cJSON_ArrayForEach(one, in_job(job, "facts.json", "facts")) {
        if (strcmp(text_of(one, "fact"), target->fact) == 0)
            most = number_of(one, "most", most);
    }
    double more = floor(fmin(now * between(run, 1.02, 3), most) * 1000) / 1000;
    cJSON_SetNumberValue(fact, fmax(more, now));
    return now;
}

static void compare_pair(Run *run, Property property, const Pair *pair, const Target *target,
                         double now) {
    char wrong[256] = "";
    bool moved = false;
    compare_plans(pair->before, pair->after, property == FASTER_USE, wrong, sizeof wrong, &moved);
    size_t length = strlen(wrong);
    if (length > 0)
        snprintf(wrong + length, sizeof wrong - length, " (%s of %s from %.9g to %.9g)",
                 target->fact, text_of(target->part, "id"), now,
                 number_of(member(target->part, "facts"), target->fact, NAN));
    tell(run, property, wrong, moved);
}

static void try_plans(Run *run, Property property) {
    Pair pair;
    Target target = {NULL, NULL};
    start_pair(run, &pair);
    if (draw_target(run, &pair.copy, NULL, &target) &&
        (property == FASTER_PART || ask_one_use(run, &pair.copy))) {
        if (!run->drawn)
            make_small(run, &pair.copy, text_of(target.part, "role"));
        pair.before = ask(run, property, PLAN, &pair.copy);
        if (pair.before != NULL && below(run, 4) > 0)
            draw_target(run, &pair.copy, pair.before, &target);
        double now = raise_target(run, &pair.copy, &target);
        if (pair.before != NULL &&
            (pair.after = ask_again(run, property, PLAN, &pair.copy)) != NULL &&
            comparable(pair.before, pair.after, text_of(target.part, "id")))
            compare_pair(run, property, &pair, &target, now);
    }
    end_pair(&pair);
}

void try_faster_part(Run *run) { try_plans(run, FASTER_PART); }
void try_faster_use(Run *run) { try_plans(run, FASTER_USE); }
