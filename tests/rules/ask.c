/* The JSON side of tests/rules/run.sh: asks a plan whether what a case expects
 * came out, lists the rules of a rules.json, or writes one without a rule.
 *
 *     ask EXPECTATION... < plan.json      0 all true, 1 one is not (it is named)
 *     ask --list < rules.json             one rule id a line
 *     ask --drop RULE < rules.json        the same file without that rule
 *     ask --drop-leads RULE < bench.json  the same file, its leads without that rule
 *
 * Anything else that goes wrong is exit code 2. */
#include <cjson/cJSON.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { YES = 0, NO = 1, WRONG = 2 };

static char *read_all(FILE *in) {
    size_t room = 1 << 16, used = 0;
    char *text = malloc(room);
    while (text != NULL) {
        used += fread(text + used, 1, room - used - 1, in);
        if (used < room - 1)
            break;
        room *= 2;
        char *more = realloc(text, room);
        if (more == NULL)
            free(text);
        text = more;
    }
    if (text != NULL)
        text[used] = '\0';
    return text;
}

static const cJSON *at(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static bool has_text(const cJSON *object, const char *name, const char *text) {
    const char *found = cJSON_GetStringValue(at(object, name));
    return found != NULL && strcmp(found, text) == 0;
}

/* Whether a list of objects has one whose field is this text. */
static bool listed(const cJSON *list, const char *field, const char *text) {
    const cJSON *item;
    cJSON_ArrayForEach(item, list) {
        if (has_text(item, field, text))
            return true;
    }
    return false;
}

/* Pieces of a part that the bundle's swaps bring ("in") or take ("out"). */
static int moved(const cJSON *bundle, const char *way, const char *part) {
    int pieces = 0;
    const cJSON *swap, *line;
    cJSON_ArrayForEach(swap, at(bundle, "swaps")) {
        cJSON_ArrayForEach(line, at(swap, way)) {
            if (has_text(line, "part", part))
                pieces += (int)cJSON_GetNumberValue(at(line, "count"));
        }
    }
    return pieces;
}

static bool warned(const cJSON *bundle, const char *rule) {
    const cJSON *caution;
    cJSON_ArrayForEach(caution, at(bundle, "cautions")) {
        if (has_text(caution, "kind", "rule") && has_text(caution, "id", rule))
            return true;
    }
    return false;
}

/* "in:part" wants any number of pieces, "in:part*2" two of them. */
static int ask_pieces(const cJSON *bundle, const char *way, const char *what) {
    const char *star = strchr(what, '*');
    size_t length = star == NULL ? strlen(what) : (size_t)(star - what);
    char *part = malloc(length + 1);
    if (part == NULL)
        return WRONG;
    memcpy(part, what, length);
    part[length] = '\0';
    int pieces = moved(bundle, way, part);
    free(part);
    bool as_wanted = star == NULL ? pieces > 0 : pieces == (int)strtol(star + 1, NULL, 10);
    return as_wanted ? YES : NO;
}

static int ask(const cJSON *bundle, const char *expectation) {
    bool denied = strncmp(expectation, "no-", 3) == 0;
    const char *way = denied ? expectation + 3 : expectation;
    const char *what = strchr(way, ':');
    int answer = WRONG;
    if (what == NULL || what[1] == '\0')
        return WRONG;
    what++;
    if (strncmp(way, "in:", 3) == 0)
        answer = ask_pieces(bundle, "in", what);
    else if (strncmp(way, "out:", 4) == 0)
        answer = ask_pieces(bundle, "out", what);
    else if (strncmp(way, "task:", 5) == 0)
        answer = listed(at(bundle, "tasks"), "id", what) ? YES : NO;
    else if (strncmp(way, "caution:", 8) == 0)
        answer = warned(bundle, what) ? YES : NO;
    return denied && answer != WRONG ? (answer == YES ? NO : YES) : answer;
}

static int ask_all(const cJSON *plan, int count, char **expectations) {
    const cJSON *bundle = cJSON_GetArrayItem(at(plan, "bundles"), 0);
    if (!has_text(plan, "status", "optimal") || bundle == NULL) {
        fprintf(stderr, "the plan has no proven best bundle\n");
        return WRONG;
    }
    for (int i = 0; i < count; i++) {
        int answer = ask(bundle, expectations[i]);
        if (answer != YES) {
            fprintf(stderr, "%s %s\n",
                    answer == NO ? "not so:" : "not an expectation:", expectations[i]);
            return answer;
        }
    }
    return YES;
}

static int list_rules(const cJSON *file) {
    const cJSON *rule;
    cJSON_ArrayForEach(rule, at(file, "rules")) {
        const char *id = cJSON_GetStringValue(at(rule, "id"));
        if (id == NULL)
            return WRONG;
        puts(id);
    }
    return YES;
}

static int drop_rule(cJSON *file, const char *id) {
    cJSON *rules = cJSON_GetObjectItemCaseSensitive(file, "rules");
    for (int i = 0; i < cJSON_GetArraySize(rules); i++) {
        if (!has_text(cJSON_GetArrayItem(rules, i), "id", id))
            continue;
        cJSON_DeleteItemFromArray(rules, i);
        char *text = cJSON_Print(file);
        if (text == NULL || puts(text) < 0)
            return WRONG;
        free(text);
        return YES;
    }
    fprintf(stderr, "there is no rule %s\n", id);
    return WRONG;
}

static int drop_leads(cJSON *file, const char *id) {
    cJSON *leads = cJSON_GetObjectItemCaseSensitive(file, "leads");
    for (int i = cJSON_GetArraySize(leads) - 1; i >= 0; i--) {
        const char *lead = cJSON_GetStringValue(cJSON_GetArrayItem(leads, i));
        if (lead != NULL && strcmp(lead, id) == 0)
            cJSON_DeleteItemFromArray(leads, i);
    }
    char *text = cJSON_Print(file);
    int code = text == NULL || puts(text) < 0 ? WRONG : YES;
    free(text);
    return code;
}

int main(int argc, char **argv) {
    char *text = read_all(stdin);
    cJSON *file = text == NULL ? NULL : cJSON_Parse(text);
    int code = WRONG;
    if (file == NULL)
        fprintf(stderr, "what came in is not JSON\n");
    else if (argc == 2 && strcmp(argv[1], "--list") == 0)
        code = list_rules(file);
    else if (argc == 3 && strcmp(argv[1], "--drop") == 0)
        code = drop_rule(file, argv[2]);
    else if (argc == 3 && strcmp(argv[1], "--drop-leads") == 0)
        code = drop_leads(file, argv[2]);
    else if (argc > 1)
        code = ask_all(file, argc - 1, argv + 1);
    cJSON_Delete(file);
    free(text);
    return code;
}
