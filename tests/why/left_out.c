/*
 * What keeps a part from being bought: told where no source is left, of the sources
 * the files have. The page does not say which of several reasons is told of one
 * listing; any that is true of it will do.
 */
#include "driver.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIELDS = 5 };

typedef struct Sources {
    int n, left; /* all, and those that nothing keeps away */
    bool avoided, late, short_of_stock;
} Sources;

typedef struct Job {
    cJSON *scenario, *parts, *roles, *sellers;
} Job;

static cJSON *read_in(const char *folder, const char *name) {
    char path[4096];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    return read_json(path);
}

static const cJSON *find_in(const cJSON *list, const char *name, const char *id) {
    const cJSON *item;
    cJSON_ArrayForEach(item, list) if (!strcmp(text_of(item, name), id)) return item;
    return NULL;
}

static bool lists_text(const cJSON *list, const char *text) {
    const cJSON *item;
    cJSON_ArrayForEach(item, list) if (!strcmp(item->valuestring, text)) return true;
    return false;
}

static int number_or(const cJSON *object, const char *name, int otherwise) {
    const cJSON *found = get(object, name);
    return cJSON_IsNumber(found) ? (int)found->valuedouble : otherwise;
}

static bool is_avoided(const Job *j, const char *part) {
    const cJSON *avoid = get(get(j->scenario, "wishes"), "avoid");
    return lists_text(avoid, part) ||
           lists_text(avoid, text_of(find_in(get(j->parts, "parts"), "id", part), "maker"));
}

/* The fewest pieces that may be added at a time. */
static int fewest(const Job *j, const char *role) {
    const cJSON *counts = get(find_in(get(j->roles, "roles"), "role", role), "counts");
    return counts ? (int)cJSON_GetArrayItem(counts, 0)->valuedouble : 1;
}

static void add_source(Sources *s, bool avoided, bool late, bool short_of_stock) {
    s->n++;
    s->left += !avoided && !late && !short_of_stock;
    s->avoided = s->avoided || avoided;
    s->late = s->late || late;
    s->short_of_stock = s->short_of_stock || short_of_stock;
}

/* Splits a line of the listings in place; the fields carry no quotes here. */
static bool split(char *line, char *field[FIELDS]) {
    for (int i = 0; i < FIELDS; i++) {
        field[i] = line;
        line = strchr(line, ',');
        if (!line)
            return false;
        *line++ = '\0';
    }
    return true;
}

static void add_listings(const Job *j, const char *folder, const char *part, int least,
                         Sources *s) {
    char path[4096], *field[FIELDS];
    const cJSON *limits = get(get(j->scenario, "wishes"), "limits");
    int days = number_or(limits, "days", 1000000);
    snprintf(path, sizeof path, "%s/listings.csv", folder);
    char *text = read_text(path), *rest = NULL;
    for (char *line = strtok_r(text, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
        if (!split(line, field) || strcmp(field[0], part) != 0)
            continue;
        const cJSON *seller = find_in(get(j->sellers, "sellers"), "id", field[1]);
        long here = strtol(field[4], NULL, 10) + number_or(seller, "delivery_days", 0);
        add_source(s, is_avoided(j, part), here > days, strtol(field[3], NULL, 10) < least);
    }
    free(text);
}

static bool is_present(const Job *j, const char *part) {
    const cJSON *role;
    cJSON_ArrayForEach(role,
                       get(j->scenario, "machine")) if (find_in(role, "part", part)) return true;
    return false;
}

static bool is_true(const Sources *s, const char *why) {
    return (!strcmp(why, "avoided") && s->avoided) || (!strcmp(why, "too-late") && s->late) ||
           (!strcmp(why, "no-stock") && s->short_of_stock) ||
           (!strcmp(why, "not-sold") && s->n == 0);
}

static bool same_reasons(Talk *t, const Sources *s, bool present, const cJSON *told) {
    const cJSON *item;
    int n = 0;
    cJSON_ArrayForEach(item, told) {
        const char *why = text_of(item, "why");
        if (!strcmp(why, "unknown"))
            continue;
        n++;
        if (s->left > 0 || !is_true(s, why)) {
            snprintf(t->why, t->size, "left out: the program says %s, of %d sources %d are left",
                     why, s->n, s->left);
            return false;
        }
    }
    if (n == 0 && s->left == 0 && !(s->n == 0 && present)) {
        snprintf(t->why, t->size, "left out: the program gives no reason, yet no source is left");
        return false;
    }
    return true;
}

bool same_left_out(Talk *t, const char *folder, const char *part, const cJSON *program) {
    Sources s = {0};
    const cJSON *told = get(program, "left_out");
    Job j = {read_in(folder, "scenario.json"), read_in(folder, "parts/parts.json"),
             read_in(folder, "roles.json"), read_in(folder, "sellers.json")};
    bool given = find_in(get(j.scenario, "given"), "part", part) != NULL;
    add_listings(&j, folder, part, fewest(&j, text_of(get(program, "part"), "role")), &s);
    /* A gift may come late or be too few; only that it is one is looked at. */
    bool same = given || same_reasons(t, &s, is_present(&j, part), told);
    cJSON_Delete(j.scenario);
    cJSON_Delete(j.parts);
    cJSON_Delete(j.roles);
    cJSON_Delete(j.sellers);
    return same;
}
