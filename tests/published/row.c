/*
 * row: reads an answer from standard input (the program's plan, or the
 * checker's) and prints its points, cost and parts taken on one line.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cjson/cJSON.h>

static char *read_all(FILE *f)
{
    size_t have = 0, room = 65536;
    char *text = malloc(room);
    while (text) {
        have += fread(text + have, 1, room - have - 1, f);
        if (have + 1 < room)
            break;
        char *more = realloc(text, room *= 2);
        if (!more)
            free(text);
        text = more;
    }
    if (text)
        text[have] = '\0';
    return text;
}

static const char *text_of(const cJSON *object, const char *name)
{
    const cJSON *found = cJSON_GetObjectItemCaseSensitive(object, name);
    return cJSON_IsString(found) ? found->valuestring : "?";
}

static void print_row(const cJSON *answer)
{
    const cJSON *bundles = cJSON_GetObjectItemCaseSensitive(answer, "bundles"), *swap, *in;
    const cJSON *bundle = bundles ? cJSON_GetArrayItem(bundles, 0) : answer;
    int n = 0;
    printf("%s %s ", text_of(bundle, "points"), text_of(bundle, "cost"));
    cJSON_ArrayForEach(swap, cJSON_GetObjectItemCaseSensitive(bundle, "swaps"))
        cJSON_ArrayForEach(in, cJSON_GetObjectItemCaseSensitive(swap, "in"))
            printf("%s%s", n++ ? "," : "", text_of(in, "part"));
    puts(n ? "" : "none");
}

int main(void)
{
    char *text = read_all(stdin);
    cJSON *answer = text ? cJSON_Parse(text) : NULL;
    if (!answer) {
        fputs("row: no JSON on standard input\n", stderr);
        free(text);
        return 1;
    }
    print_row(answer);
    cJSON_Delete(answer);
    free(text);
    return 0;
}
