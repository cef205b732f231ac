/* Judges whether a file is one JSON value in UTF-8 and prints what stands in it:
 *
 *     json FILE [PATH...]
 *
 * A PATH is names and positions with points between ("bundles.0.cost"); "#" at its
 * end is a count. One line each; "absent" for what is not there. */
#include <cjson/cJSON.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char *read_all(const char *path, size_t *length) {
    FILE *file = fopen(path, "rb");
    char *bytes = NULL;
    size_t room = 0, got;
    *length = 0;
    if (file == NULL)
        return NULL;
    do {
        if (room - *length < 2) {
            char *more = realloc(bytes, room = room * 2 + 4096);
            if (more == NULL)
                break;
            bytes = more;
        }
        got = fread(bytes + *length, 1, room - *length - 1, file);
        *length += got;
        bytes[*length] = '\0';
    } while (got > 0);
    fclose(file);
    return bytes;
}

/* The shape of the bytes; overlong forms and surrogates are not what is at stake. */
static bool is_utf8(const char *text) {
    for (const unsigned char *at = (const unsigned char *)text; *at != '\0';) {
        int behind = *at < 0x80                  ? 0
                     : *at >= 0xC2 && *at < 0xE0 ? 1
                     : *at >= 0xE0 && *at < 0xF0 ? 2
                     : *at >= 0xF0 && *at < 0xF5 ? 3
                                                 : -1;
        if (behind < 0)
            return false;
        for (at++; behind > 0; behind--, at++)
            if (*at < 0x80 || *at > 0xBF)
                return false;
    }
    return true;
}

static bool is_position(const char *step) {
    return *step != '\0' && step[strspn(step, "0123456789")] == '\0';
}

static void print_item(const cJSON *item) {
    if (cJSON_IsString(item)) {
        puts(item->valuestring);
        return;
    }
    char *text = cJSON_PrintUnformatted(item);
    puts(text != NULL ? text : "no memory");
    cJSON_free(text);
}

/* Splits `path` where its points stand. */
static void print_path(const cJSON *item, char *path) {
    for (char *step = path, *next; step != NULL && item != NULL; step = next) {
        next = strchr(step, '.');
        if (next != NULL)
            *next++ = '\0';
        if (strcmp(step, "#") == 0) {
            printf("%d\n", cJSON_GetArraySize(item));
            return;
        }
        item = cJSON_IsArray(item) && is_position(step)
                   ? cJSON_GetArrayItem(item, (int)strtol(step, NULL, 10))
                   : cJSON_GetObjectItemCaseSensitive(item, step);
    }
    if (item == NULL)
        puts("absent");
    else
        print_item(item);
}

int main(int argc, char **argv) {
    size_t length;
    if (argc < 2)
        return 64;
    char *text = read_all(argv[1], &length);
    if (text == NULL || length != strlen(text) || !is_utf8(text)) {
        puts("not UTF-8");
        free(text);
        return 1;
    }
    const char *end = NULL;
    cJSON *root = cJSON_ParseWithOpts(text, &end, true);
    if (root == NULL)
        puts("not JSON");
    for (int i = 2; root != NULL && i < argc; i++)
        print_path(root, argv[i]);
    int code = root != NULL ? 0 : 1;
    cJSON_Delete(root);
    free(text);
    return code;
}
