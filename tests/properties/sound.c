/* One more fan, more heat: never quieter. */
#include "trial.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool names_role(const char *term, const char *role) {
    size_t length = strcspn(term, ".");
    return strlen(role) == length && strncmp(term, role, length) == 0;
}

static const cJSON *fact_by_name(const Job *job, const char *name) {
    const cJSON *one;
    cJSON_ArrayForEach(one, in_job(job, "facts.json", "facts")) {
        if (strcmp(text_of(one, "fact"), name) == 0)
            return one;
    }
    return NULL;
}

static bool has_text(const cJSON *list, const char *text) {
    const cJSON *one;
    cJSON_ArrayForEach(one, list) {
        if (strcmp(one->valuestring, text) == 0)
            return true;
    }
    return false;
}

/* The levels of the machine, and at the seat, told before and after. */
static void compare_levels(const cJSON *before, const cJSON *after, char *wrong, size_t size,
                           bool *moved) {
    static const char *const names[] = {"machine_dba", "seat_dba", "seat_sone"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        double level = level_in(before, names[i]), then = level_in(after, names[i]);
        *moved = *moved || then > level;
        if (!(then >= level - 1e-9))
            snprintf(wrong, size, "%s %.9g, then %.9g", names[i], level, then);
    }
}

/* Asks before and after `change` on a copy that is ready, and compares the levels. */
static void try_louder(Run *run, Property property, Pair *pair, const Number *number, double more,
                       void (*change)(Run *, Job *, const Number *, double)) {
    char wrong[256] = "";
    bool moved = false;
    pair->before = ask(run, property, LOOK, &pair->copy);
    change(run, &pair->copy, number, more);
    if (pair->before == NULL || (pair->after = ask_again(run, property, LOOK, &pair->copy)) == NULL)
        return;
    compare_levels(pair->before, pair->after, wrong, sizeof wrong, &moved);
    say_change(wrong, sizeof wrong, number, more);
    tell(run, property, wrong, moved);
}

/* ---- one more fan ---- */

/* Fans that turn as the heat asks share it: two of them may well be quieter than one. The
 * property is that of fans that do not, so the role is let run at full speed. */
static void stop_running(Job *copy, const char *role) {
    cJSON *runs = member(quiet_of(copy), "runs");
    for (int i = cJSON_GetArraySize(runs) - 1; i >= 0; i--)
        if (strcmp(text_of(cJSON_GetArrayItem(runs, i), "role"), role) == 0)
            cJSON_DeleteItemFromArray(runs, i);
}

/* A piece that is heard, in the role of the fans; where there is no such role, in any one but
 * that of the case's loss. */
static bool draw_heard(Run *run, Number *drawn) {
    const cJSON *quiet = quiet_of(&run->job);
    const char *noise = text_of(quiet, "noise"), *loss = text_of(quiet, "loss");
    bool fans = has_text(member(fact_by_name(&run->job, noise), "roles"), "fans");
    Numbers numbers;
    uint64_t seen = 0;
    list_numbers(&numbers, &run->job);
    for (size_t i = 0; i < numbers.count; i++) {
        const Number *one = &numbers.all[i];
        bool wanted = fans ? strcmp(one->role, "fans") == 0 : !names_role(loss, one->role);
        if (strcmp(one->fact, noise) == 0 && wanted && below(run, ++seen) == 0)
            *drawn = *one;
    }
    free(numbers.all);
    return seen > 0;
}

static void add_piece(Run *run, Job *copy, const Number *number, double count) {
    cJSON *machine = member(scenario_of(copy), "machine");
    cJSON *piece = cJSON_GetArrayItem(member(machine, number->role), number->piece);
    double now = number_of(piece, "count", 1);
    (void)run;
    cJSON_DeleteItemFromObjectCaseSensitive(piece, "count");
    if (cJSON_AddNumberToObject(piece, "count", now + count) == NULL)
        die("out of memory");
}

/* Another kind of fan out of the catalog, such as can be heard. */
static void add_part(Run *run, Job *copy, const Number *number, double unused) {
    cJSON *list = member(member(scenario_of(copy), "machine"), number->role), *part, *piece;
    const char *id = NULL;
    uint64_t seen = 0;
    (void)unused;
    for (size_t d = 0; d < copy->count; d++)
        cJSON_ArrayForEach(part, member(copy->docs[d].root, "parts")) {
            bool there = false;
            cJSON_ArrayForEach(piece, list) there =
                there || strcmp(text_of(piece, "part"), text_of(part, "id")) == 0;
            if (!there && strcmp(text_of(part, "role"), number->role) == 0 &&
                cJSON_IsNumber(member(member(part, "facts"), number->fact)) &&
                below(run, ++seen) == 0)
                id = text_of(part, "id");
        }
    if (id == NULL)
        return;
    piece = cJSON_CreateObject();
    if (cJSON_AddStringToObject(piece, "part", id) == NULL || !cJSON_AddItemToArray(list, piece))
        die("out of memory");
}

void try_one_more(Run *run) {
    Number number;
    if (quiet_of(&run->job) == NULL || !draw_heard(run, &number))
        return;
    Pair pair;
    start_pair(run, &pair);
    take_measurements_out(&pair.copy);
    stop_running(&pair.copy, number.role);
    bool other_kind = !run->drawn && below(run, 2) == 0;
    try_louder(run, ONE_MORE, &pair, &number, (double)(1 + below(run, 3)),
               other_kind ? add_part : add_piece);
    end_pair(&pair);
}

/* ---- more heat ---- */

/* Whether the term is the fact of the role, or a derived fact that is made of it. */
bool comes_from(const Job *job, const char *term, const char *role, const char *fact) {
    const char *dot = strchr(term, '.');
    if (dot == NULL || !names_role(term, role))
        return false;
    const cJSON *derived = derived_by_name(job, dot + 1);
    return strcmp(dot + 1, fact) == 0 || mentions(member(derived, "is"), role, fact);
}

/* What some fans turn by, and what no fan is sized by. */
static bool is_heat(const Job *job, const Number *number) {
    const cJSON *run;
    bool by = false;
    cJSON_ArrayForEach(run, member(quiet_of(job), "runs")) {
        by = by || comes_from(job, text_of(run, "by"), number->role, number->fact);
        if (comes_from(job, text_of(run, "full"), number->role, number->fact) ||
            comes_from(job, text_of(run, "least"), number->role, number->fact))
            return false;
    }
    return by;
}

/* Fans of no heat turn at full speed (section 8: known and above 0), so only a heat that is
 * there can grow. */
static bool draw_heat(Run *run, Number *drawn) {
    Numbers numbers;
    uint64_t seen = 0;
    list_numbers(&numbers, &run->job);
    for (size_t i = 0; i < numbers.count; i++)
        if (numbers.all[i].value > 0 && is_heat(&run->job, &numbers.all[i]) &&
            below(run, ++seen) == 0)
            *drawn = numbers.all[i];
    free(numbers.all);
    return seen > 0;
}

static void set_more(Run *run, Job *copy, const Number *number, double more) {
    (void)run;
    set_number(copy, number, more);
}

void try_more_heat(Run *run) {
    Number number;
    double more;
    if (quiet_of(&run->job) == NULL || !draw_heat(run, &number) ||
        !more_of(run, &number, 1.001, 3, &more))
        return;
    Pair pair;
    start_pair(run, &pair);
    take_measurements_out(&pair.copy);
    try_louder(run, MORE_HEAT, &pair, &number, more, set_more);
    end_pair(&pair);
}
