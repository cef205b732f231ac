/*
 * Cases made by hand: each is a small job with what has to come out, worked out on paper
 * in its note. What is expected is a part of the answer: members that are named have to
 * be there, lists have to be as long. Checker and program are both held against it.
 */
#include "later.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static const char *const shelf[] = {"roles.json",   "facts.json",        "tasks.json",
                                    "charges.json", "observations.json", "criteria.json",
                                    "uses.json",    "sellers.json"};

static void make_folder(const Setup *s, const char *name) {
    char path[2048];
    path_of(s, name, path, sizeof path);
    if (mkdir(path, 0777) != 0 && errno != EEXIST)
        give_up(path);
}

static void put_file(const Setup *s, const char *name, const char *text) {
    char path[2048], within[256];
    snprintf(within, sizeof within, "case/%s", name);
    path_of(s, within, path, sizeof path);
    write_text(path, text);
}

static void put_json(const Setup *s, const char *name, const cJSON *json) {
    char *text = cJSON_Print(json);
    if (!text)
        give_up("memory");
    put_file(s, name, text);
    cJSON_free(text);
}

static cJSON *file_with(const char *name, cJSON *list) {
    cJSON *file = cJSON_CreateObject();
    if (!file || !list)
        give_up("memory");
    cJSON_AddNumberToObject(file, "schema", 1);
    cJSON_AddItemToObject(file, name, list);
    return file;
}

/* {"part":FACTS,..} by role. */
static cJSON *parts_of(const cJSON *roles) {
    cJSON *list = cJSON_CreateArray();
    const cJSON *role, *part;
    cJSON_ArrayForEach(role, roles) cJSON_ArrayForEach(part, role) {
        cJSON *json = cJSON_CreateObject();
        cJSON_AddStringToObject(json, "id", part->string);
        cJSON_AddStringToObject(json, "role", role->string);
        cJSON_AddStringToObject(json, "name", part->string);
        cJSON_AddStringToObject(json, "maker", "A maker");
        cJSON_AddItemToObject(json, "facts", cJSON_Duplicate(part, true));
        cJSON_AddItemToArray(list, json);
    }
    return list;
}

static void put_shelf(const Setup *s, const char *file) {
    char path[2048];
    const char *slash = strrchr(file, '/');
    for (size_t i = 0; i < sizeof shelf / sizeof *shelf; i++) {
        snprintf(path, sizeof path, "%.*s/shop/%s", slash ? (int)(slash - file) : 1,
                 slash ? file : ".", shelf[i]);
        char *text = read_text(path);
        put_file(s, shelf[i], text);
        free(text);
    }
}

static void put_listings(const Setup *s, const cJSON *rows) {
    char text[16384] = "part,seller,price,stock,days,warranty_months,return_days\n";
    const cJSON *row;
    cJSON_ArrayForEach(row, rows) {
        size_t have = strlen(text);
        if (snprintf(text + have, sizeof text - have, "%s,24,14\n", row->valuestring) >=
            (int)(sizeof text - have))
            give_up("too many listings");
    }
    put_file(s, "listings.csv", text);
}

static cJSON *scenario_of(const cJSON *one) {
    cJSON *job = cJSON_Parse("{\"schema\":1,\"title\":\"A case\",\"catalog\":\".\","
                             "\"currency\":\"EUR\",\"date\":\"2026-03-02\"}");
    const cJSON *item;
    if (!job)
        give_up("memory");
    cJSON_ArrayForEach(item, get(one, "job"))
        cJSON_AddItemToObject(job, item->string, cJSON_Duplicate(item, true));
    if (!get(job, "machine"))
        cJSON_AddItemToObject(
            job, "machine",
            cJSON_Parse("{\"drives\":[{\"part\":\"old-disk\",\"name\":\"Old disk\","
                        "\"facts\":{}}]}"));
    if (!get(job, "wishes"))
        cJSON_AddItemToObject(job, "wishes", cJSON_Parse("{\"swings\":{\"merit\":1}}"));
    if (!get(job, "budget"))
        cJSON_AddItemToObject(job, "budget", cJSON_Parse("{\"total\":\"1000\"}"));
    return job;
}

static void put_case(const Setup *s, const char *file, const cJSON *one) {
    make_folder(s, "case");
    make_folder(s, "case/parts");
    put_shelf(s, file);
    cJSON *parts = file_with("parts", parts_of(get(one, "parts")));
    cJSON *rules = file_with("rules", get(one, "rules") ? cJSON_Duplicate(get(one, "rules"), true)
                                                        : cJSON_CreateArray());
    cJSON *job = scenario_of(one);
    put_json(s, "parts/parts.json", parts);
    put_json(s, "rules.json", rules);
    put_json(s, "scenario.json", job);
    put_listings(s, get(one, "sells"));
    cJSON_Delete(parts);
    cJSON_Delete(rules);
    cJSON_Delete(job);
}

static bool matches(Talk *t, const char *where, const cJSON *wanted, const cJSON *got);

static bool list_matches(Talk *t, const char *where, const cJSON *wanted, const cJSON *got) {
    char inner[256];
    if (cJSON_GetArraySize(wanted) != cJSON_GetArraySize(got)) {
        snprintf(t->why, t->size, "%s has %d, not %d", where, cJSON_GetArraySize(got),
                 cJSON_GetArraySize(wanted));
        return false;
    }
    for (int i = 0; i < cJSON_GetArraySize(wanted); i++) {
        snprintf(inner, sizeof inner, "%s.%d", where, i);
        if (!matches(t, inner, cJSON_GetArrayItem(wanted, i), cJSON_GetArrayItem(got, i)))
            return false;
    }
    return true;
}

static bool matches(Talk *t, const char *where, const cJSON *wanted, const cJSON *got) {
    char inner[256];
    const cJSON *item;
    if (cJSON_IsArray(wanted))
        return list_matches(t, where, wanted, got);
    if (cJSON_IsObject(wanted)) {
        cJSON_ArrayForEach(item, wanted) {
            snprintf(inner, sizeof inner, "%s.%s", where, item->string);
            if (!matches(t, inner, item, get(got, item->string)))
                return false;
        }
        return cJSON_IsObject(got) || (snprintf(t->why, t->size, "%s is not there", where), false);
    }
    if (cJSON_Compare(wanted, got, true))
        return true;
    char *a = cJSON_PrintUnformatted(wanted), *b = got ? cJSON_PrintUnformatted(got) : NULL;
    snprintf(t->why, t->size, "%s is %.80s, not %.80s", where, b ? b : "missing", a ? a : "?");
    cJSON_free(a);
    cJSON_free(b);
    return false;
}

static void count(const char *name, const char *who, bool good, const char *why, long *passed,
                  long *failed) {
    *(good ? passed : failed) += 1;
    if (!good)
        printf("%s: %s: %s\n", name, who, why);
}

static void check_case(const Setup *s, const char *file, const cJSON *one, long *passed,
                       long *failed) {
    char why[1024] = "", scenario[2048];
    Talk t = {why, sizeof why};
    const char *name = text_of(one, "case");
    Command c = !strcmp(text_of(one, "ask"), "first") ? FIRST : PHASES;
    cJSON *oracle, *program;
    put_case(s, file, one);
    path_of(s, "case/scenario.json", scenario, sizeof scenario);
    /* Some are beyond the checker: only the paper speaks for them. */
    if (cJSON_IsTrue(get(one, "unchecked"))) {
        int code;
        oracle = NULL;
        bool answered = s->stand_in || ask_program(s, c, scenario, &program, &code, &t);
        count(name, "asked", answered, why, passed, failed);
        if (s->stand_in || !answered)
            return;
    } else {
        count(name, "compared", same_answers(s, c, scenario, &oracle, &program, &t), why, passed,
              failed);
    }
    if (oracle)
        count(name, "the checker", matches(&t, "answer", get(one, "expect"), oracle), why, passed,
              failed);
    if (program)
        count(name, "the program", matches(&t, "answer", get(one, "expect"), program), why, passed,
              failed);
    cJSON_Delete(oracle);
    cJSON_Delete(program);
}

int check_later_cases(const Setup *s, const char *file) {
    cJSON *cases = read_json(file);
    const cJSON *one;
    long passed = 0, failed = 0;
    cJSON_ArrayForEach(one, cases) check_case(s, file, one, &passed, &failed);
    cJSON_Delete(cases);
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed || !passed ? 1 : 0;
}

bool write_case(const Setup *s, const char *file, const char *name, char *scenario, size_t size,
                Command *command) {
    cJSON *cases = read_json(file);
    const cJSON *one;
    bool found = false;
    cJSON_ArrayForEach(one, cases) if (!strcmp(text_of(one, "case"), name)) {
        put_case(s, file, one);
        path_of(s, "case/scenario.json", scenario, size);
        *command = !strcmp(text_of(one, "ask"), "first") ? FIRST : PHASES;
        found = true;
    }
    cJSON_Delete(cases);
    return found;
}
