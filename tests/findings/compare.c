/* An answer of `look` against its line of the table. */
#include "findings.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool is_made(const table_line *line) { return strcmp(line->KIND, "made") == 0; }
bool is_far(const table_line *line) { return strcmp(line->KIND, "far") == 0; }
bool is_below(const table_line *line) { return strcmp(line->KIND, "below") == 0; }
static bool is_unknown(const table_line *line) { return strcmp(line->KIND, "unknown") == 0; }

static char why[1024]; /* what a line fails for; this test only */

static bool fails(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(why, sizeof why, format, arguments);
    va_end(arguments);
    return false;
}

static cJSON *read_answer(const char *folder, const table_line *line) {
    char *path = case_path(folder, line, ".out"), *text = read_file(path);
    cJSON *answer = text == NULL ? NULL : cJSON_Parse(text);
    if (answer == NULL || at(answer, "findings") == NULL || at(answer, "not_known") == NULL) {
        char *told = case_path(folder, line, ".err"), *complaint = read_file(told);
        fails("no answer: %.300s %.300s", complaint == NULL ? "" : complaint,
              text == NULL ? "" : text);
        cJSON_Delete(answer);
        answer = NULL;
        free(complaint);
        free(told);
    }
    free(text);
    free(path);
    return answer;
}

/* ---- what must be so of every answer ------------------------------------------------------ */

static bool same_text(const cJSON *a, const cJSON *b, const char *name) {
    return strcmp(text_at(a, name), text_at(b, name)) == 0;
}

/* Told as the catalog has it, in whole sentences. */
static bool check_told(const cJSON *told, const cJSON *forms) {
    const char *id = text_at(told, "finding");
    const cJSON *form = with_text(forms, "finding", id);
    if (form == NULL)
        return fails("%s is not in the catalog", id);
    if (!same_text(told, form, "kind") || !same_text(told, form, "about"))
        return fails("%s is %s about %s", id, text_at(told, "kind"), text_at(told, "about"));
    if (cJSON_IsTrue(at(told, "must")) != cJSON_IsTrue(at(form, "must")))
        return fails("%s: a must and no must at once", id);
    static const char *const sentences[] = {"evidence", "means"};
    for (int i = 0; i < 2; i++) {
        const char *text = text_at(told, sentences[i]);
        if (*text == '\0' || strpbrk(text, "{}") != NULL || strstr(text, "not known") != NULL)
            return fails("%s: its sentence is not whole: %s", id, text);
    }
    return true;
}

static bool check_all_told(const cJSON *answer, const cJSON *forms) {
    const cJSON *told;
    bool must = true;
    cJSON_ArrayForEach(told, at(answer, "findings")) {
        bool this_must = cJSON_IsTrue(at(told, "must"));
        if (!check_told(told, forms))
            return false;
        if (this_must && !must)
            return fails("%s is a must and stands behind others", text_at(told, "finding"));
        must = this_must;
    }
    return true;
}

/* ---- what the line expects --------------------------------------------------------------------
 */

/* [says="TEXT"] [task=ID] [also=ID,..] [MEASURE=NUMBER] [ROLE.FACT] [-] */
typedef struct expected {
    cJSON *also;
    const cJSON *answer, *own; /* the finding itself, if it was made */
    const char *id;
    bool named; /* ROLE.FACT stood there */
} expected;

static void read_also(cJSON *also, const char *list) {
    while (*list != '\0') {
        size_t length = strcspn(list, ",");
        char *one = copy(list, length);
        cJSON_AddItemToArray(also, cJSON_CreateString(one));
        free(one);
        list += length + (list[length] == ',');
    }
}

static bool check_says(const expected *e, const char *quoted) {
    size_t length = strlen(quoted);
    if (length < 3 || quoted[0] != '"')
        give_up("not a text: %s", quoted);
    char *text = copy(quoted + 1, length - 2);
    const char *evidence = text_at(e->own, "evidence");
    bool good = strstr(evidence, text) != NULL || fails("it says: %s", evidence);
    free(text);
    return good;
}

static bool check_task(const expected *e, const char *id) {
    const cJSON *mend = with_text(at(e->own, "mends"), "task", id);
    return (mend != NULL && cJSON_IsTrue(at(mend, "offered"))) ||
           fails("the task %s is not offered", id);
}

static bool check_measure(const expected *e, const char *word, const char *is) {
    char *id = copy(word, (size_t)(is - word));
    const cJSON *measure = with_text(at(e->answer, "measures"), "measure", id);
    const cJSON *value = at(measure, "value");
    char *end;
    double wanted = strtod(is + 1, &end);
    /* The table writes as many digits as were worked out. */
    const char *point = strchr(is, '.');
    double step = point == NULL ? 1 : pow(10, -(double)strlen(point + 1));
    bool good = *end == '\0' && cJSON_IsNumber(value) &&
                fabs(value->valuedouble - wanted) <= 0.5 * step + 1e-9;
    if (!good)
        fails("%s is %.6g", id, cJSON_IsNumber(value) ? value->valuedouble : NAN);
    free(id);
    return good;
}

/* The finding is not known, and it is this fact that lacks. */
static bool check_lack(const expected *e, const char *word) {
    const cJSON *entry = with_text(at(e->answer, "not_known"), "finding", e->id);
    if (entry == NULL)
        return fails("it is not among what is not known");
    char *lack = joined(text_at(entry, "role"), ".", text_at(entry, "fact"));
    bool good = strcmp(lack, word) == 0 || fails("it lacks %s", lack);
    free(lack);
    return good;
}

static bool check_word(expected *e, const char *word) {
    const char *is = strchr(word, '=');
    if (strcmp(word, "-") == 0)
        return true;
    if (starts(word, "also=")) {
        read_also(e->also, word + 5);
        return true;
    }
    if (starts(word, "says="))
        return check_says(e, word + 5);
    if (starts(word, "task="))
        return check_task(e, word + 5);
    if (is != NULL)
        return check_measure(e, word, is);
    e->named = true;
    return check_lack(e, word);
}

/* No other finding is made, but those of which the line tells. */
static bool check_others(const expected *e) {
    const cJSON *told, *also;
    cJSON_ArrayForEach(told, at(e->answer, "findings")) {
        const char *id = text_at(told, "finding");
        if (strcmp(id, e->id) != 0 && !list_has(e->also, id))
            return fails("%s as well", id);
    }
    cJSON_ArrayForEach(also, e->also) {
        if (with_text(at(e->answer, "findings"), "finding", also->valuestring) == NULL)
            return fails("without %s", also->valuestring);
    }
    return true;
}

static bool check_line(const table_line *line, const cJSON *answer, const cJSON *forms) {
    expected e = {.also = cJSON_CreateArray(), .answer = answer, .id = line->FINDING};
    e.own = with_text(at(answer, "findings"), "finding", line->FINDING);
    bool good = check_all_told(answer, forms);
    if (good && (e.own != NULL) != (is_made(line) || is_far(line)))
        good =
            fails(e.own == NULL ? "it is not made" : "it is made: %s", text_at(e.own, "evidence"));
    const char *words = line->EXPECTED;
    char *word;
    while (good && (word = next_word(&words)) != NULL) {
        good = check_word(&e, word);
        free(word);
    }
    good = good && check_others(&e);
    if (good && is_unknown(line) != e.named)
        good = fails("an unknown line names the fact that lacks, and only such a line");
    if (good && !is_unknown(line) && cJSON_GetArraySize(at(answer, "not_known")) > 0)
        good = fails("%s is not known",
                     text_at(cJSON_GetArrayItem(at(answer, "not_known"), 0), "finding"));
    cJSON_Delete(e.also);
    return good;
}

static void tell(const table_line *line, bool good) {
    if (good)
        printf("good %d %s\n", line->number, line->FINDING);
    else
        printf("FAILED line %d: %s, %s: %s\n", line->number, line->FINDING, line->KIND, why);
}

int check_cases(const table *t, const char *findings_path, const char *folder) {
    cJSON *file = read_json(findings_path);
    int code = GOOD;
    for (size_t i = 0; i < t->count; i++) {
        if (!is_case(&t->lines[i]))
            continue;
        cJSON *answer = read_answer(folder, &t->lines[i]);
        bool good = answer != NULL && check_line(&t->lines[i], answer, at(file, "findings"));
        tell(&t->lines[i], good);
        code = good ? code : BAD;
        cJSON_Delete(answer);
    }
    cJSON_Delete(file);
    return code;
}

/* Of a finding without a bound nothing moved. */
static bool moves(const table_line *line, const cJSON *forms) {
    const cJSON *form = with_text(forms, "finding", line->FINDING), *condition;
    cJSON_ArrayForEach(condition, at(form, "when")) {
        bool negated;
        if (has_bound(bare(condition, &negated)))
            return true;
    }
    return false;
}

int check_moved(const table *t, const char *findings_path, const char *folder, bool tighter) {
    cJSON *file = read_json(findings_path);
    int code = GOOD;
    for (size_t i = 0; i < t->count; i++) {
        const table_line *line = &t->lines[i];
        if (!(tighter ? is_made(line) : is_below(line)) || !moves(line, at(file, "findings")))
            continue;
        cJSON *answer = read_answer(folder, line);
        bool made = with_text(at(answer, "findings"), "finding", line->FINDING) != NULL;
        bool good = answer != NULL && made != tighter;
        if (answer != NULL && !good)
            fails("this is not at the edge: the bounds may move, and nothing changes");
        tell(line, good);
        code = good ? code : BAD;
        cJSON_Delete(answer);
    }
    cJSON_Delete(file);
    return code;
}
