/* The JSON side of tests/rules/edges.sh: makes a scenario of every case of the
 * table edges.txt, and holds the answers against what the table expects.
 *
 *     edge write TABLE BASE FACTS DIR   DIR/LINE.json for each case; prints LINE and the
 *                                       words of the command, one case a line
 *     edge check TABLE DIR              DIR/LINE.out against the table; one line a case
 *     edge needs TABLE RULES FACTS      does every rule have its cases? one line a rule
 *     edge said TABLE DIR               rule, client's and bench's sentence, where broken
 *
 * Exit code 0 all good, 1 something is not (lines that begin with FAILED), 2 no answer. */
#include <cjson/cJSON.h>
#include "edge.h"

#include <ctype.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- a scenario from a line -------------------------------------------------------------- */

typedef struct job {
    const table *table;
    const cJSON *shelf;     /* role: {"name","facts"}, pieces that may come in */
    const cJSON *absent_of; /* facts.json, when what is not stated is to be stated */
    cJSON *scenario, *machine, *given, *observed, *musts, *replace, *keep;
} job;

static char *role_word(const char *word, int *count) {
    const char *star = strchr(word, '*');
    *count = star == NULL ? 1 : (int)strtol(star + 1, NULL, 10);
    return copy(word, star == NULL ? strlen(word) : (size_t)(star - word));
}

static cJSON *piece_of(const job *j, const char *id_start, const char *role, int count) {
    const cJSON *from = at(j->shelf, role);
    if (from == NULL)
        give_up("the base knows no piece of the role \"%s\"", role);
    cJSON *piece = cJSON_Duplicate(from, true);
    char *id = joined(id_start, role, "");
    cJSON_AddStringToObject(piece, "part", id);
    cJSON_AddNumberToObject(piece, "count", count);
    free(id);
    return piece;
}

static void put_in(job *j, const char *word) {
    int count;
    char *role = role_word(word, &count);
    cJSON_DeleteItemFromObjectCaseSensitive(j->machine, role);
    cJSON *list = cJSON_AddArrayToObject(j->machine, role);
    cJSON_AddItemToArray(list, piece_of(j, "here-", role, count));
    free(role);
}

static void bring(job *j, const char *word) {
    int count;
    char *role = role_word(word, &count);
    cJSON *piece = piece_of(j, "new-", role, count);
    cJSON_AddStringToObject(piece, "role", role);
    cJSON_AddItemToArray(j->given, piece);
    free(role);
}

static cJSON *absent_value(const job *j, const char *fact) {
    const cJSON *of = with_text(at(j->absent_of, "facts"), "fact", fact);
    const cJSON *absent = at(of, "absent");
    if (absent == NULL)
        give_up("facts.json gives \"%s\" no absent value", fact);
    return cJSON_Duplicate(absent, true);
}

/* ROLE.FACT=VALUE, on the new part of the role if there is one, else on the present. */
static void set_fact(job *j, const char *word) {
    const char *dot = strchr(word, '.'), *is = strchr(word, '=');
    if (dot == NULL || is == NULL || is < dot)
        give_up("not a change: %s", word);
    char *role = copy(word, (size_t)(dot - word));
    char *fact = copy(dot + 1, (size_t)(is - dot - 1));
    cJSON *piece = with_text(j->given, "role", role);
    if (piece == NULL)
        piece = cJSON_GetArrayItem(at(j->machine, role), 0);
    cJSON *facts = at(piece, "facts");
    if (facts == NULL)
        give_up("%s: there is no piece of that role", word);
    bool unstated = strcmp(is + 1, "?") == 0;
    cJSON_DeleteItemFromObjectCaseSensitive(facts, fact);
    if (!unstated || j->absent_of != NULL) {
        cJSON *value = unstated ? absent_value(j, fact) : cJSON_Parse(is + 1);
        if (value == NULL)
            give_up("%s: the value is no JSON", word);
        cJSON_AddItemToObject(facts, fact, value);
    }
    free(role);
    free(fact);
}

static void unsee(job *j, const char *observation) {
    for (int i = 0; i < cJSON_GetArraySize(j->observed); i++)
        if (strcmp(cJSON_GetStringValue(cJSON_GetArrayItem(j->observed, i)), observation) == 0) {
            cJSON_DeleteItemFromArray(j->observed, i);
            return;
        }
    give_up("\"%s\" is not observed in the base", observation);
}

static void add_must(job *j, const char *task) {
    cJSON *must = cJSON_CreateObject();
    cJSON_AddStringToObject(must, "id", task);
    cJSON_AddStringToObject(must, "do", task);
    cJSON_AddStringToObject(must, "why", "the case asks for it");
    cJSON_AddItemToArray(j->musts, must);
}

static void apply(job *j, const char *words);

static void apply_base(job *j, const char *name) {
    for (size_t i = 0; i < j->table->count; i++)
        if (is_base(&j->table->lines[i]) && strcmp(j->table->lines[i].KIND, name) == 0) {
            apply(j, j->table->lines[i].CHANGES);
            return;
        }
    give_up("there is no base \"%s\"", name);
}

static void apply_word(job *j, const char *word) {
    if (starts(word, "base="))
        apply_base(j, word + 5);
    else if (starts(word, "there="))
        put_in(j, word + 6);
    else if (starts(word, "none="))
        cJSON_DeleteItemFromObjectCaseSensitive(j->machine, word + 5);
    else if (starts(word, "new="))
        bring(j, word + 4);
    else if (starts(word, "seen="))
        cJSON_AddItemToArray(j->observed, cJSON_CreateString(word + 5));
    else if (starts(word, "unseen="))
        unsee(j, word + 7);
    else if (starts(word, "must="))
        add_must(j, word + 5);
    else if (starts(word, "replace="))
        cJSON_AddItemToArray(j->replace, cJSON_CreateString(word + 8));
    else if (starts(word, "keep="))
        cJSON_AddItemToArray(j->keep, cJSON_CreateString(word + 5));
    else
        set_fact(j, word);
}

static void apply(job *j, const char *words) {
    char *word;
    while ((word = next_word(&words)) != NULL) {
        if (strcmp(word, "-") != 0)
            apply_word(j, word);
        free(word);
    }
}

/* What is done, and what comes in with it, only a plan can be asked. */
static bool asks_plan(const char *changes) {
    return strstr(changes, "must=") != NULL || strstr(changes, "replace=") != NULL ||
           strstr(changes, "keep=") != NULL;
}

static void must_use_all(const job *j) {
    cJSON *given;
    cJSON_ArrayForEach(given, j->given) {
        cJSON_AddItemToArray(cJSON_AddArrayToObject(given, "strings"),
                             cJSON_CreateString("must-use"));
    }
}

static job start_job(const table *t, const cJSON *base, const cJSON *absent_of) {
    job j = {.table = t, .shelf = at(base, "pieces"), .absent_of = absent_of};
    j.scenario = cJSON_Duplicate(at(base, "scenario"), true);
    j.machine = cJSON_AddObjectToObject(j.scenario, "machine");
    j.given = cJSON_AddArrayToObject(j.scenario, "given");
    j.observed = at(j.scenario, "observed");
    j.musts = cJSON_AddArrayToObject(j.scenario, "musts");
    j.replace = cJSON_AddArrayToObject(at(j.scenario, "wishes"), "replace");
    j.keep = cJSON_AddArrayToObject(at(j.scenario, "wishes"), "keep");
    if (j.machine == NULL || j.given == NULL || j.observed == NULL || j.keep == NULL)
        give_up("the base lacks a scenario with what is observed and wished");
    const cJSON *role;
    cJSON_ArrayForEach(role, at(base, "stands")) { put_in(&j, cJSON_GetStringValue(role)); }
    return j;
}

static void save(const cJSON *json, const char *folder, int number, const char *end) {
    char name[64];
    snprintf(name, sizeof name, "/%d%s", number, end);
    char *path = joined(folder, name, "");
    char *text = cJSON_Print(json);
    FILE *out = fopen(path, "wb");
    bool good = text != NULL && out != NULL && fputs(text, out) >= 0;
    good = (out == NULL || fclose(out) == 0) && good;
    if (!good)
        give_up("%s cannot be written", path);
    free(text);
    free(path);
}

static void tell_command(const job *j, const table_line *line, const char *end) {
    bool plan = asks_plan(line->CHANGES);
    printf("%d%s %s", line->number, end, plan ? "plan" : "fits");
    const cJSON *given;
    cJSON_ArrayForEach(given, j->given) {
        int count = plan ? 0 : (int)cJSON_GetNumberValue(at(given, "count"));
        for (int i = 0; i < count; i++)
            printf(" %s", text_at(given, "part"));
    }
    putchar('\n');
}

static void write_case(const table *t, const table_line *line, const cJSON *base,
                       const cJSON *absent_of, const char *folder) {
    const char *end = absent_of == NULL ? "" : "-stated";
    job j = start_job(t, base, absent_of);
    apply(&j, line->CHANGES);
    tell_command(&j, line, end);
    if (asks_plan(line->CHANGES))
        must_use_all(&j);
    char *file_end = joined(end, ".json", "");
    save(j.scenario, folder, line->number, file_end);
    free(file_end);
    cJSON_Delete(j.scenario);
}

static int write_all(const char *table_path, const char *base_path, const char *facts_path,
                     const char *folder) {
    table t = read_table(table_path);
    cJSON *base = read_json(base_path), *facts = read_json(facts_path);
    for (size_t i = 0; i < t.count; i++) {
        if (!is_case(&t.lines[i]))
            continue;
        write_case(&t, &t.lines[i], base, NULL, folder);
        if (strcmp(t.lines[i].KIND, "absent") == 0)
            write_case(&t, &t.lines[i], base, facts, folder);
    }
    cJSON_Delete(base);
    cJSON_Delete(facts);
    free_table(&t);
    return GOOD;
}

/* ---- an answer against its line ------------------------------------------------------------ */

/* VERDICT [NEED/ROOM] [ROLE.FACT] [left=TEXT] [right=TEXT] [does=TASK] [places=N]
 * [also=RULE:VERDICT,..] */
typedef struct expected {
    char *verdict, *names, *left, *right, *does;
    double need, room, places; /* places: things that find none together */
    bool measured;
    cJSON *also; /* RULE:VERDICT texts */
} expected;

static char *unquoted(const char *text) {
    size_t length = strlen(text);
    return length >= 2 && text[0] == '"' ? copy(text + 1, length - 2) : copy(text, length);
}

static void read_also(expected *e, const char *list) {
    while (*list != '\0') {
        size_t length = strcspn(list, ",");
        char *one = copy(list, length);
        cJSON_AddItemToArray(e->also, cJSON_CreateString(one));
        free(one);
        list += length + (list[length] == ',');
    }
}

static void read_expectation(expected *e, char *word) {
    char *slash = strchr(word, '/');
    if (starts(word, "left="))
        e->left = unquoted(word + 5);
    else if (starts(word, "right="))
        e->right = unquoted(word + 6);
    else if (starts(word, "does="))
        e->does = unquoted(word + 5);
    else if (starts(word, "places="))
        e->places = strtod(word + 7, NULL);
    else if (starts(word, "also="))
        read_also(e, word + 5);
    else if (slash != NULL) {
        e->measured = true;
        e->need = strtod(word, NULL);
        e->room = strtod(slash + 1, NULL);
    } else if (strchr(word, '.') != NULL)
        e->names = unquoted(word);
    else
        give_up("not an expectation: %s", word);
}

static expected read_expected(const char *words) {
    expected e = {.also = cJSON_CreateArray(), .verdict = next_word(&words)};
    char *word;
    while ((word = next_word(&words)) != NULL) {
        read_expectation(&e, word);
        free(word);
    }
    return e;
}

static void free_expected(expected *e) {
    free(e->verdict);
    free(e->names);
    free(e->left);
    free(e->right);
    free(e->does);
    cJSON_Delete(e->also);
}

static char why[1024]; /* what a line fails for; this test only */

static bool fails(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(why, sizeof why, format, arguments);
    va_end(arguments);
    return false;
}

static bool quiet(const cJSON *rule) {
    return has_text(rule, "verdict", "holds") || has_text(rule, "verdict", "moot");
}

/* What the rule says: the entry that is not quiet, if one is, else one that holds. */
static const cJSON *entry_of(const cJSON *rules, const char *id, int *loud) {
    const cJSON *rule, *found = NULL;
    *loud = 0;
    cJSON_ArrayForEach(rule, rules) {
        if (!has_text(rule, "rule", id))
            continue;
        *loud += quiet(rule) ? 0 : 1;
        if (found == NULL || (quiet(found) && !has_text(rule, "verdict", "moot")))
            found = rule;
    }
    return found;
}

static bool same_number(const cJSON *rule, const char *name, double value) {
    const char *text = cJSON_GetStringValue(at(rule, name));
    return text != NULL && fabs(strtod(text, NULL) - value) < 1e-9;
}

static bool check_figures(const cJSON *rule, const expected *e) {
    bool has = at(rule, "need") != NULL;
    if (e->measured && !(same_number(rule, "need", e->need) && same_number(rule, "room", e->room)))
        return fails("need %s, room %s", text_at(rule, "need"), text_at(rule, "room"));
    if (has && !e->measured && !has_text(rule, "verdict", "unknown"))
        return fails("need %s, room %s, of which the table says nothing", text_at(rule, "need"),
                     text_at(rule, "room"));
    return true;
}

/* An edge is an edge: nothing to spare at equality, one unit at most past it. */
static bool check_edge(const table_line *line, const expected *e) {
    double past = e->need - e->room;
    if (!e->measured)
        return true;
    if (strcmp(line->KIND, "equal") == 0 && fabs(past) > 1e-9)
        return fails("this is not at equality");
    if (strcmp(line->KIND, "past") == 0 && (past <= 0 || past > 1 + 1e-9))
        return fails("this is not one unit past it");
    return true;
}

static bool check_tokens(const cJSON *rule, const expected *e) {
    if (e->left != NULL && !has_text(rule, "left", e->left))
        return fails("left is \"%s\"", text_at(rule, "left"));
    if (e->right != NULL && !has_text(rule, "right", e->right))
        return fails("right is \"%s\"", text_at(rule, "right"));
    return true;
}

static bool check_name(const cJSON *rule, const expected *e) {
    const cJSON *unknown = at(rule, "unknown");
    char *names = joined(text_at(unknown, "role"), ".", text_at(unknown, "fact"));
    bool good = e->names == NULL || strcmp(names, e->names) == 0 ||
                fails("the fact it names is \"%s\"", names);
    free(names);
    return good;
}

/* Whoever hears that something is broken hears it in whole sentences. */
static bool check_sentences(const cJSON *rule) {
    static const char *const which[] = {"client", "bench"};
    bool broken = has_text(rule, "verdict", "refused") || has_text(rule, "verdict", "mind");
    for (int i = 0; i < 2 && broken; i++) {
        const char *text = text_at(rule, which[i]);
        if (*text == '\0' || strpbrk(text, "{}") != NULL)
            return fails("the sentence for the %s is not whole: %s", which[i], text);
    }
    return true;
}

/* No other rule says anything, but those of which the table tells. */
static bool check_others(const cJSON *rules, const char *id, const expected *e) {
    const cJSON *rule, *also;
    cJSON_ArrayForEach(rule, rules) {
        if (quiet(rule) || has_text(rule, "rule", id))
            continue;
        char *said = joined(text_at(rule, "rule"), ":", text_at(rule, "verdict"));
        bool told = list_has(e->also, said) || fails("%s as well", said);
        free(said);
        if (!told)
            return false;
    }
    cJSON_ArrayForEach(also, e->also) {
        int loud;
        const char *colon = strchr(also->valuestring, ':');
        char *name = copy(also->valuestring, colon == NULL ? strlen(also->valuestring)
                                                           : (size_t)(colon - also->valuestring));
        const cJSON *entry = entry_of(rules, name, &loud);
        bool there = colon != NULL && has_text(entry, "verdict", colon + 1);
        free(name);
        if (!there)
            return fails("not so: %s", also->valuestring);
    }
    return true;
}

static bool check_whole(const expected *e, const cJSON *answer) {
    const cJSON *rule, *left = at(at(answer, "places"), "left");
    bool refused = e->places > 0, unknown = false;
    if (e->places > 0 && (left == NULL || left->valuedouble != e->places))
        return fails("other than %g things find no place together", e->places);
    cJSON_ArrayForEach(rule, at(answer, "rules")) {
        refused |= has_text(rule, "verdict", "refused");
        unknown |= has_text(rule, "verdict", "unknown") && has_text(rule, "level", "hard");
    }
    const char *should = refused ? "refused" : unknown ? "unknown" : "fits";
    return has_text(answer, "verdict", should) ||
           fails("as a whole \"%s\", where its rules make it \"%s\"", text_at(answer, "verdict"),
                 should);
}

static bool check_task(const cJSON *tasks, const expected *e) {
    if (e->does == NULL)
        return cJSON_GetArraySize(tasks) == 0 ||
               fails("it does %s", text_at(cJSON_GetArrayItem(tasks, 0), "id"));
    return with_text(tasks, "id", e->does) != NULL || fails("it does not do %s", e->does);
}

static bool check_fits(const table_line *line, const expected *e, const cJSON *answer) {
    int loud;
    const cJSON *rules = at(answer, "rules"), *rule = entry_of(rules, line->RULE, &loud);
    if (rule == NULL)
        return fails("the answer does not speak of it");
    if (!has_text(rule, "verdict", e->verdict))
        return fails("it says \"%s\"", text_at(rule, "verdict"));
    if (loud > 1)
        return fails("%d of its needs speak up", loud);
    return check_figures(rule, e) && check_edge(line, e) && check_tokens(rule, e) &&
           check_name(rule, e) && check_sentences(rule) && check_others(rules, line->RULE, e) &&
           check_task(at(answer, "tasks"), e) && check_whole(e, answer);
}

/* A plan says done, mind (done, with the rule's caution), forbidden (by the rule among
 * others) or unknown (by what is not stated among others). */
static bool check_plan(const table_line *line, const expected *e, const cJSON *answer) {
    const cJSON *bundle = cJSON_GetArrayItem(at(answer, "bundles"), 0);
    const cJSON *terms = at(at(answer, "conflict"), "terms");
    char *term = joined("rule:", line->RULE, "");
    bool broken = list_has(terms, term), caution = false;
    const char *says = "something else";
    free(term);
    const cJSON *one;
    cJSON_ArrayForEach(one, at(bundle, "cautions")) {
        caution |= has_text(one, "kind", "rule") && has_text(one, "id", line->RULE);
    }
    if (has_text(answer, "status", "optimal"))
        says = caution ? "mind" : "done";
    else if (has_text(answer, "status", "nothing-fits"))
        says = !broken ? "impossible" : list_has(terms, "unknown") ? "unknown" : "forbidden";
    if (strcmp(says, e->verdict) != 0)
        return fails("it says \"%s\" (%s)", says, text_at(answer, "status"));
    return bundle == NULL || check_task(at(bundle, "tasks"), e);
}

static char *answer_path(const char *folder, int number, const char *end) {
    char name[64];
    snprintf(name, sizeof name, "/%d%s.out", number, end);
    return joined(folder, name, "");
}

static cJSON *read_answer(const char *folder, const table_line *line, const char *end) {
    char *path = answer_path(folder, line->number, end), *text = read_file(path);
    cJSON *answer = text == NULL ? NULL : cJSON_Parse(text);
    if (answer != NULL && (at(answer, "complaints") != NULL || at(answer, "status") == NULL) &&
        at(answer, "rules") == NULL && at(answer, "status") == NULL) {
        cJSON_Delete(answer);
        answer = NULL;
    }
    if (answer == NULL)
        fails("no answer: %.600s", text == NULL ? path : text);
    free(path);
    free(text);
    return answer;
}

/* That nothing is stated must say the same as the absent value, to the last byte. */
static bool check_absent(const table_line *line, const char *folder) {
    if (strcmp(line->KIND, "absent") != 0)
        return true;
    char *path = answer_path(folder, line->number, ""), *bare = read_file(path);
    char *stated_path = answer_path(folder, line->number, "-stated");
    char *stated = read_file(stated_path);
    bool good = strstr(line->CHANGES, "=?") != NULL || fails("nothing is left unstated");
    if (good && (bare == NULL || stated == NULL || strcmp(bare, stated) != 0))
        good = fails("the absent value, stated, says otherwise");
    free(path);
    free(bare);
    free(stated_path);
    free(stated);
    return good;
}

static bool check_line(const table_line *line, const char *folder) {
    cJSON *answer = read_answer(folder, line, "");
    if (answer == NULL)
        return false;
    expected e = read_expected(line->EXPECTED);
    bool good = e.verdict == NULL          ? fails("nothing is expected of it")
                : asks_plan(line->CHANGES) ? check_plan(line, &e, answer)
                                           : check_fits(line, &e, answer);
    good = good && check_absent(line, folder);
    free_expected(&e);
    cJSON_Delete(answer);
    return good;
}

static int check_all(const char *table_path, const char *folder) {
    table t = read_table(table_path);
    int code = GOOD;
    for (size_t i = 0; i < t.count; i++) {
        const table_line *line = &t.lines[i];
        if (!is_case(line))
            continue;
        bool good = check_line(line, folder);
        if (good)
            printf("good %d\n", line->number);
        else
            printf("FAILED %d: %s %s: %s; expected %s\n", line->number, line->RULE, line->KIND, why,
                   line->EXPECTED);
        code = good ? code : BAD;
    }
    free_table(&t);
    return code;
}

static int say_all(const char *table_path, const char *folder) {
    table t = read_table(table_path);
    for (size_t i = 0; i < t.count; i++) {
        int loud;
        cJSON *answer = is_case(&t.lines[i]) ? read_answer(folder, &t.lines[i], "") : NULL;
        const cJSON *rule = entry_of(at(answer, "rules"), t.lines[i].RULE, &loud);
        if (at(rule, "client") != NULL)
            printf("%s (%s)\n    client: %s\n    bench:  %s\n", t.lines[i].RULE, t.lines[i].KIND,
                   text_at(rule, "client"), text_at(rule, "bench"));
        cJSON_Delete(answer);
    }
    free_table(&t);
    return GOOD;
}

int main(int argc, char **argv) {
    if (argc == 6 && strcmp(argv[1], "write") == 0)
        return write_all(argv[2], argv[3], argv[4], argv[5]);
    if (argc == 4 && strcmp(argv[1], "check") == 0)
        return check_all(argv[2], argv[3]);
    if (argc == 5 && strcmp(argv[1], "needs") == 0)
        return needs_all(argv[2], argv[3], argv[4]);
    if (argc == 4 && strcmp(argv[1], "said") == 0)
        return say_all(argv[2], argv[3]);
    give_up("write TABLE BASE FACTS DIR, check TABLE DIR, needs TABLE RULES FACTS, or said "
            "TABLE DIR");
    return WRONG;
}
