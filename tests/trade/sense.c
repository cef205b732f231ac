/* Picks answers apart into plain lines, and makes altered copies of JSON files.
 *
 *     sense tell ANSWER               one line per thing said, fields with tabs between
 *     sense set FILE (PATH VALUE)...  prints FILE with VALUE (JSON) standing at each PATH
 *     sense list FILE ARRAY PATH      prints name and value for every object in an array
 *
 * A PATH is names and positions with slashes between. "#x" is the object of an array
 * that is called x, "*" is every element of one, "+" its end; the value "absent" takes away. */
#include <cjson/cJSON.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

_Noreturn static void give_up(const char *what, const char *where) {
    fprintf(stderr, "sense: %s: %s\n", what, where);
    exit(2);
}

static char *read_all(const char *path) {
    FILE *file = fopen(path, "rb");
    if (file == NULL)
        give_up("cannot be read", path);
    char *bytes = NULL;
    size_t room = 0, length = 0, got;
    do {
        if (room - length < 2) {
            char *more = realloc(bytes, room = room * 2 + 4096);
            if (more == NULL)
                give_up("no memory for", path);
            bytes = more;
        }
        got = fread(bytes + length, 1, room - length - 1, file);
        length += got;
        bytes[length] = '\0';
    } while (got > 0);
    fclose(file);
    return bytes;
}

static cJSON *read_json(const char *path) {
    char *text = read_all(path);
    cJSON *root = cJSON_ParseWithOpts(text, NULL, true);
    free(text);
    if (root == NULL)
        give_up("not JSON", path);
    return root;
}

/* ---- tell ---- */

static const cJSON *member(const cJSON *of, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(of, name);
}

static void print_value(const cJSON *value) {
    if (value == NULL || cJSON_IsNull(value)) {
        printf("\t-");
    } else if (cJSON_IsString(value)) {
        printf("\t%s", value->valuestring);
    } else {
        char *text = cJSON_PrintUnformatted(value);
        if (text == NULL)
            give_up("no memory for", "a value");
        printf("\t%s", text);
        cJSON_free(text);
    }
}

/* One line: a word, a number, and the named members of an object, "-" for none. */
static void line(const char *word, int number, const cJSON *of, ...) {
    va_list names;
    printf("%s\t%d", word, number);
    va_start(names, of);
    for (const char *name; (name = va_arg(names, const char *)) != NULL;)
        print_value(member(of, name));
    va_end(names);
    putchar('\n');
}

static void tell_pieces(const char *word, int number, const cJSON *swap) {
    const cJSON *piece, *role = member(swap, "role");
    cJSON_ArrayForEach(piece, member(swap, word)) {
        printf("%s\t%d", word, number);
        print_value(role);
        print_value(member(piece, "part"));
        print_value(member(piece, "count"));
        print_value(member(piece, "seller"));
        print_value(member(piece, "price"));
        print_value(member(piece, "warranty_months"));
        putchar('\n');
    }
}

/* Bundles of a plan and steps of a curve alike. */
static void tell_bundles(const cJSON *bundles) {
    const cJSON *bundle, *one;
    int number = 0;
    cJSON_ArrayForEach(bundle, bundles) {
        line("bundle", ++number, bundle, "points", "cost", NULL);
        cJSON_ArrayForEach(one, member(bundle, "swaps")) {
            line("swap", number, one, "role", "must", "cost", NULL);
            tell_pieces("out", number, one);
            tell_pieces("in", number, one);
            tell_pieces("stays", number, one);
        }
        cJSON_ArrayForEach(one, member(bundle, "tasks"))
            line("task", number, one, "id", "role", "price", NULL);
        cJSON_ArrayForEach(one, member(bundle, "rates"))
            line("rate", number, one, "use", "ratio", NULL);
    }
}

static void tell(const cJSON *answer) {
    const cJSON *group, *role;
    int number = 0;
    line("status", 0, answer, "status", NULL);
    line("unsettled", 0, answer, "unsettled", NULL);
    tell_bundles(member(answer, "bundles"));
    tell_bundles(member(answer, "steps"));
    cJSON_ArrayForEach(group, member(answer, "groups")) {
        line("group", ++number, group, "cost", "worth", "needed", NULL);
        cJSON_ArrayForEach(role, member(group, "roles"))
            printf("touched\t%d\t%s\n", number, role->valuestring);
    }
    const cJSON *verdict = member(answer, "verdict");
    line("advice", 0, verdict, "advice", NULL);
    line("worthwhile", 0, member(verdict, "worthwhile"), "points", "cost", NULL);
}

/* ---- set ---- */

static const char *name_of(const cJSON *object) {
    static const char *const names[] = {"id", "part", "fact", "role", "use", "stage", "observed"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const cJSON *own = member(object, names[i]);
        if (cJSON_IsString(own))
            return own->valuestring;
    }
    return "-";
}

static cJSON *step_into(cJSON *at, const char *step) {
    cJSON *item = NULL;
    if (*step == '#') {
        cJSON_ArrayForEach(item, at) {
            if (strcmp(name_of(item), step + 1) == 0)
                return item;
        }
        return NULL;
    }
    return cJSON_IsArray(at) ? cJSON_GetArrayItem(at, (int)strtol(step, NULL, 10))
                             : cJSON_GetObjectItemCaseSensitive(at, step);
}

static void put(cJSON *at, const char *step, const char *value) {
    cJSON *old = strcmp(step, "+") == 0 ? NULL : step_into(at, step);
    cJSON_Delete(old == NULL ? NULL : cJSON_DetachItemViaPointer(at, old));
    if (strcmp(value, "absent") == 0)
        return;
    cJSON *item = cJSON_Parse(value);
    if (item == NULL)
        give_up("not JSON", value);
    if (cJSON_IsArray(at))
        cJSON_AddItemToArray(at, item);
    else
        cJSON_AddItemToObject(at, step, item);
}

static void set(cJSON *at, const char *path, const char *value) {
    const char *end = strchr(path, '/');
    if (end == NULL) {
        put(at, path, value);
        return;
    }
    char *step = strndup(path, (size_t)(end - path));
    if (step == NULL)
        give_up("no memory for", path);
    cJSON *item = NULL, *below = step_into(at, step);
    if (strcmp(step, "*") == 0) {
        cJSON_ArrayForEach(item, at) { set(item, end + 1, value); }
    } else if (below == NULL) {
        give_up("no such place", path);
    } else {
        set(below, end + 1, value);
    }
    free(step);
}

static void list(const cJSON *all, const char *path) {
    cJSON *one;
    cJSON_ArrayForEach(one, all) {
        cJSON *value = one;
        printf("%s", name_of(one));
        for (const char *at = path, *end; at != NULL && value != NULL; at = end) {
            end = strchr(at, '/');
            char *step = strndup(at, end == NULL ? strlen(at) : (size_t)(end++ - at));
            if (step == NULL)
                give_up("no memory for", path);
            value = step_into(value, step);
            free(step);
        }
        print_value(value);
        putchar('\n');
    }
}

int main(int argc, char **argv) {
    if (argc < 3)
        give_up("tell ANSWER, set FILE (PATH VALUE)..., list FILE ARRAY PATH", "how it is called");
    cJSON *root = read_json(argv[2]);
    if (strcmp(argv[1], "tell") == 0) {
        tell(root);
    } else if (strcmp(argv[1], "list") == 0 && argc == 5) {
        list(member(root, argv[3]), argv[4]);
    } else if (strcmp(argv[1], "set") == 0) {
        for (int i = 3; i + 1 < argc; i += 2)
            set(root, argv[i], argv[i + 1]);
        char *text = cJSON_Print(root);
        if (text == NULL)
            give_up("no memory for", argv[2]);
        puts(text);
        cJSON_free(text);
    } else {
        give_up("no such command", argv[1]);
    }
    cJSON_Delete(root);
    return 0;
}
