/* The numbers that stand on the pieces of the present machine. */
#include "trial.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

cJSON *scenario_of(const Job *job) { return in_job(job, "scenario.json", NULL); }

double number_of(const cJSON *in, const char *name, double otherwise) {
    const cJSON *number = member(in, name);
    return cJSON_IsNumber(number) ? number->valuedouble : otherwise;
}

static const cJSON *part_by_id(const Job *job, const char *id) {
    const cJSON *part;
    for (size_t d = 0; d < job->count; d++)
        cJSON_ArrayForEach(part, member(job->docs[d].root, "parts")) {
            if (strcmp(text_of(part, "id"), id) == 0)
                return part;
        }
    return NULL;
}

cJSON *quiet_of(const Job *job) {
    cJSON *one;
    cJSON_ArrayForEach(one, in_job(job, "criteria.json", "criteria")) {
        if (strcmp(text_of(one, "kind"), "quiet") == 0)
            return one;
    }
    return NULL;
}

const cJSON *derived_by_name(const Job *job, const char *fact) {
    const cJSON *one;
    cJSON_ArrayForEach(one, in_job(job, "facts.json", "derived")) {
        if (strcmp(text_of(one, "fact"), fact) == 0)
            return one;
    }
    return NULL;
}

/* Whether the text is the term role.fact, or *.fact. */
static bool is_term(const char *text, const char *role, const char *fact) {
    const char *dot = strchr(text, '.');
    if (dot == NULL || strcmp(dot + 1, fact) != 0)
        return false;
    size_t length = (size_t)(dot - text);
    return (length == 1 && *text == '*') || role == NULL ||
           (strlen(role) == length && strncmp(text, role, length) == 0);
}

bool mentions(const cJSON *json, const char *role, const char *fact) {
    if (cJSON_IsString(json))
        return is_term(json->valuestring, role, fact);
    const cJSON *one;
    cJSON_ArrayForEach(one, json) {
        if (mentions(one, role, fact))
            return true;
    }
    return false;
}

bool is_pace(const char *fact) {
    static const char *const paces[] = {"single_rate", "all_rate", "raster_rate", "speed_mt_s",
                                        "read_mb_s",   "pace_a",   "pace_b",      "pace_c"};
    for (size_t i = 0; i < sizeof paces / sizeof *paces; i++)
        if (strcmp(fact, paces[i]) == 0)
            return true;
    return false;
}

static void add_number(Numbers *numbers, Number number) {
    numbers->all = grown(numbers->all, (numbers->count + 1) * sizeof *numbers->all);
    numbers->all[numbers->count++] = number;
}

static const cJSON *stated(const Job *job, const cJSON *piece, const char *fact) {
    const cJSON *own = member(member(piece, "facts"), fact);
    return own != NULL ? own
                       : member(member(part_by_id(job, text_of(piece, "part")), "facts"), fact);
}

/* What moves air is a number of a thing. */
static void add_things(Numbers *numbers, Number number, const cJSON *things) {
    static const char *const details[] = {"air_m3_h", "stall_pa"};
    const cJSON *thing;
    number.thing = -1;
    cJSON_ArrayForEach(thing, things) {
        number.thing++;
        for (size_t i = 0; i < sizeof details / sizeof *details; i++) {
            number.detail = details[i];
            number.value = number_of(thing, details[i], NAN);
            if (isfinite(number.value))
                add_number(numbers, number);
        }
    }
}

static void add_fact(Numbers *numbers, Number number, const cJSON *fact, const cJSON *value) {
    if (strcmp(text_of(fact, "type"), "things") == 0) {
        number.least = 0.001;
        number.most = 1000;
        add_things(numbers, number, value);
    } else if (cJSON_IsNumber(value)) {
        number.thing = -1;
        number.value = value->valuedouble;
        number.least = number_of(fact, "least", -1000000);
        number.most = number_of(fact, "most", 1000000);
        add_number(numbers, number);
    }
}

static bool stands_on(const cJSON *fact, const char *role) {
    const cJSON *one;
    cJSON_ArrayForEach(one, member(fact, "roles")) {
        if (strcmp(one->valuestring, role) == 0)
            return true;
    }
    return false;
}

void list_numbers(Numbers *numbers, const Job *job) {
    const cJSON *role, *piece, *fact;
    *numbers = (Numbers){.count = 0};
    cJSON_ArrayForEach(role, member(scenario_of(job), "machine")) {
        int at = 0;
        cJSON_ArrayForEach(piece, role) {
            cJSON_ArrayForEach(fact, in_job(job, "facts.json", "facts")) {
                const char *name = text_of(fact, "fact");
                Number number = {.role = role->string, .fact = name, .piece = at};
                if (stands_on(fact, role->string))
                    add_fact(numbers, number, fact, stated(job, piece, name));
            }
            at++;
        }
    }
}

static cJSON *must(cJSON *json) {
    if (json == NULL)
        die("out of memory");
    return json;
}

static void put(cJSON *in, const char *name, cJSON *value) {
    cJSON_DeleteItemFromObjectCaseSensitive(in, name);
    if (!cJSON_AddItemToObject(in, name, must(value)))
        die("out of memory");
}

void set_number(Job *copy, const Number *number, double value) {
    cJSON *machine = member(scenario_of(copy), "machine");
    cJSON *piece = cJSON_GetArrayItem(member(machine, number->role), number->piece);
    if (member(piece, "facts") == NULL)
        put(piece, "facts", cJSON_CreateObject());
    cJSON *facts = member(piece, "facts");
    if (number->thing < 0) {
        put(facts, number->fact, cJSON_CreateNumber(value));
        return;
    }
    cJSON *things = must(cJSON_Duplicate(stated(copy, piece, number->fact), true));
    put(cJSON_GetArrayItem(things, number->thing), number->detail, cJSON_CreateNumber(value));
    put(facts, number->fact, things);
}

bool more_of(Run *run, const Number *number, double least_times, double most_times, double *more) {
    double wanted = number->value * between(run, least_times, most_times);
    *more = ceil(fmin(wanted, number->most) * 1000 - 1e-6) / 1000;
    return *more > number->value && *more <= number->most;
}
