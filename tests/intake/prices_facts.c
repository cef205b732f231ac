/* What the shipped patterns read from texts: a table of role, text and facts. */
#include "prices.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void one(const char *program, const char *catalog, const char *folder, const char *role,
                const char *told, const char *wanted) {
    char list[1024], confirm[1024], answer[1024], errors[1024];
    text file = {0}, said = {0}, got = {0};
    snprintf(list, sizeof list, "%s/list.txt", folder);
    snprintf(confirm, sizeof confirm, "%s/said.json", folder);
    snprintf(answer, sizeof answer, "%s/report.json", folder);
    snprintf(errors, sizeof errors, "%s/errors", folder);
    add(&file, "Number\tName\tNow\tLeft\r\n\t\"thing ");
    for (const char *at = told; *at != '\0'; at++)
        add(&file, *at == '"' ? "\"\"" : "%c", *at);
    add(&file, "\"\t12,50\t1\r\n");
    cJSON *root = cJSON_CreateObject(), *rows, *row;
    cJSON_AddNumberToObject(root, "schema", 1);
    cJSON_AddStringToObject(root, "profile", "millrace-clearance");
    rows = cJSON_AddArrayToObject(root, "rows");
    cJSON_AddItemToArray(rows, row = cJSON_CreateObject());
    add(&got, "thing %s", told);
    cJSON_AddStringToObject(row, "name", got.bytes);
    cJSON_AddBoolToObject(row, "new", true);
    cJSON_AddStringToObject(row, "role", role);
    char *json = cJSON_PrintUnformatted(root);
    add(&said, "%s", json);
    free(json);
    cJSON_Delete(root);
    write_file(list, file.bytes, file.length);
    write_file(confirm, said.bytes, said.length);
    char *argv[] = {
        (char *)program, "intake",        "prices",    list,    "--profile", "millrace-clearance",
        "--catalog",     (char *)catalog, "--confirm", confirm, "--json",    NULL};
    int code = run_child(argv, answer, errors);
    root = read_tree(answer);
    const cJSON *fact,
        *new_part = cJSON_GetArrayItem(cJSON_GetObjectItemCaseSensitive(root, "new_parts"), 0);
    empty(&got);
    cJSON_ArrayForEach(fact, cJSON_GetObjectItemCaseSensitive(new_part, "facts"))
        add(&got, "%s%s %s", got.length > 0 ? ", " : "",
            cJSON_GetObjectItemCaseSensitive(fact, "fact")->valuestring,
            cJSON_GetObjectItemCaseSensitive(fact, "value")->valuestring);
    check(code == 0 && new_part != NULL && strcmp(got.bytes, wanted) == 0,
          "%s \"%s\" says \"%s\", should say \"%s\" (%d)", role, told, got.bytes, wanted, code);
    cJSON_Delete(root);
    free(file.bytes);
    free(said.bytes);
    free(got.bytes);
}

void facts(const char *program, const char *catalog, const char *folder, const char *table) {
    char *lines = read_whole(table), *next = NULL;
    for (char *line = lines; line != NULL && *line != '\0'; line = next) {
        next = strchr(line, '\n');
        if (next != NULL)
            *next++ = '\0';
        char *told = strstr(line, " | "), *wanted = told == NULL ? NULL : strstr(told + 3, " | ");
        if (line[0] == '#' || wanted == NULL)
            continue;
        *told = *wanted = '\0';
        one(program, catalog, folder, line, told + 3, wanted + 3);
    }
    free(lines);
}
