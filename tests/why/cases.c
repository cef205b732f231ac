/*
 * Cases made by hand, where the right answer can be worked out on paper: each is
 * written as a small job, put to the checker and to the program, and both are held
 * against what the case expects and against each other. cases/cases.txt says how a
 * case is written.
 */
#include "driver.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static const char *const shelf[] = {"roles.json",   "facts.json",        "tasks.json",
                                    "charges.json", "observations.json", "criteria.json",
                                    "uses.json",    "sellers.json"};

typedef struct Case {
    const Setup *s;
    const char *folder; /* of the cases */
    char name[64], part[64], over[64];
    cJSON *scenario, *parts, *rules;
    char listings[8192];
    cJSON *answer[2]; /* checker, program */
    long passed, failed;
} Case;

static const char *const speaker[] = {"the checker", "the program"};

static void fail(Case *c, const char *who, const char *what) {
    c->failed++;
    printf("%s, %s: %s: %s\n", c->name, c->part, who, what);
}

static void clear(Case *c) {
    cJSON_Delete(c->scenario);
    cJSON_Delete(c->parts);
    cJSON_Delete(c->rules);
    for (int i = 0; i < 2; i++) {
        cJSON_Delete(c->answer[i]);
        c->answer[i] = NULL;
    }
}

static cJSON *parse(const char *text) {
    cJSON *json = cJSON_Parse(text);
    if (!json) {
        errno = 0;
        give_up(text);
    }
    return json;
}

static void start(Case *c, const char *name) {
    clear(c);
    snprintf(c->name, sizeof c->name, "%s", name);
    c->scenario = parse("{\"schema\":1,\"title\":\"A case\",\"catalog\":\".\",\"currency\":\"EUR\","
                        "\"machine\":{},\"wishes\":{\"swings\":{\"merit\":1}},"
                        "\"budget\":{\"total\":\"0\"}}");
    c->parts = parse("{\"schema\":1,\"parts\":[]}");
    c->rules = parse("{\"schema\":1,\"rules\":[]}");
    snprintf(c->listings, sizeof c->listings,
             "part,seller,price,stock,days,warranty_months,return_days\n");
}

static char *word(char **rest) {
    char *w = *rest + strspn(*rest, " ");
    size_t length = strcspn(w, " ");
    *rest = w + length;
    if (**rest)
        *(*rest)++ = '\0';
    return w;
}

static void add_part(Case *c, char *rest) {
    cJSON *json = cJSON_CreateObject();
    const char *id = word(&rest), *role = word(&rest);
    cJSON_AddStringToObject(json, "id", id);
    cJSON_AddStringToObject(json, "role", role);
    cJSON_AddStringToObject(json, "name", id);
    cJSON_AddStringToObject(json, "maker", "A maker");
    cJSON_AddItemToObject(json, "facts", parse(*rest ? rest : "{}"));
    cJSON_AddItemToArray(cJSON_GetObjectItem(c->parts, "parts"), json);
}

static void add_listing(Case *c, char *rest) {
    size_t have = strlen(c->listings);
    const char *part = word(&rest), *seller = word(&rest), *price = word(&rest);
    const char *stock = word(&rest);
    snprintf(c->listings + have, sizeof c->listings - have, "%s,%s,%s,%s,0,24,14\n", part, seller,
             price, *stock ? stock : "9");
}

static void set_member(Case *c, char *rest) {
    const char *name = word(&rest);
    cJSON_DeleteItemFromObject(c->scenario, name);
    cJSON_AddItemToObject(c->scenario, name, parse(rest));
}

static void make_folder(const char *path) {
    if (mkdir(path, 0777) != 0 && errno != EEXIST)
        give_up(path);
}

static void write_folder(const Case *c, const char *folder) {
    char path[4096], name[128];
    path_of(c->s, folder, path, sizeof path);
    make_folder(path);
    snprintf(name, sizeof name, "%s/parts", folder);
    path_of(c->s, name, path, sizeof path);
    make_folder(path);
    for (size_t i = 0; i < sizeof shelf / sizeof *shelf; i++) {
        snprintf(path, sizeof path, "%s/shop/%s", c->folder, shelf[i]);
        char *text = read_text(path);
        snprintf(name, sizeof name, "%s/%s", folder, shelf[i]);
        path_of(c->s, name, path, sizeof path);
        write_text(path, text);
        free(text);
    }
    snprintf(name, sizeof name, "%s/parts/parts.json", folder);
    path_of(c->s, name, path, sizeof path);
    write_json(path, c->parts);
    snprintf(name, sizeof name, "%s/rules.json", folder);
    path_of(c->s, name, path, sizeof path);
    write_json(path, c->rules);
    snprintf(name, sizeof name, "%s/listings.csv", folder);
    path_of(c->s, name, path, sizeof path);
    write_text(path, c->listings);
    snprintf(name, sizeof name, "%s/scenario.json", folder);
    path_of(c->s, name, path, sizeof path);
    write_json(path, c->scenario);
}

/* Both are asked; what they differ in is a failure by itself. */
static void put_question(Case *c, char *rest) {
    char scenario[2048], folder[2048], why[1024] = "";
    Talk t = {why, sizeof why};
    Tally tally = {0};
    int code[2] = {0, 0};
    snprintf(c->part, sizeof c->part, "%s", word(&rest));
    snprintf(c->over, sizeof c->over, "%s", strcmp(word(&rest), "over") == 0 ? word(&rest) : "");
    write_folder(c, "job");
    write_folder(c, "priced");
    path_of(c->s, "job/scenario.json", scenario, sizeof scenario);
    path_of(c->s, "job", folder, sizeof folder);
    Question q = {scenario, c->part, *c->over ? c->over : NULL};
    for (int i = 0; i < 2; i++) {
        cJSON_Delete(c->answer[i]);
        c->answer[i] = NULL;
        if (!ask_why(c->s, i == 1, &q, &c->answer[i], &code[i], &t))
            fail(c, speaker[i], why);
    }
    if (!c->answer[0] || !c->answer[1])
        return;
    if (!same_why(&t, c->answer[0], code[0], c->answer[1], code[1]) ||
        (get(c->answer[1], "left_out") &&
         !(same_left_out(&t, folder, c->part, c->answer[1]) &&
           same_refusal(c->s, &t, folder, &q, c->answer[0], c->answer[1], &tally))) ||
        !check_ends(c->s, &t, c->part, get(c->answer[0], "entry"), &tally))
        fail(c, "compared", why);
    else
        c->passed++;
}

/* ---- answers in the words of the cases ---- */

typedef struct Words {
    char at[512];
} Words;

static void say(Words *w, const char *between, const char *text) {
    size_t have = strlen(w->at);
    snprintf(w->at + have, sizeof w->at - have, "%s%s", have ? between : "", text);
}

static Words put_in(const cJSON *bundle) {
    Words w = {""};
    const cJSON *swap, *in;
    cJSON_ArrayForEach(swap, get(bundle, "swaps")) cJSON_ArrayForEach(in, get(swap, "in"))
        say(&w, "+", text_of(in, "part"));
    if (!*w.at)
        say(&w, "", !bundle || cJSON_IsNull(bundle) ? "none" : "nothing");
    return w;
}

static Words intervals_of(const cJSON *entry) {
    Words w = {""};
    const cJSON *i;
    char from[32], to[32], both[80];
    if (!entry || cJSON_IsNull(entry))
        return (Words){"none"};
    cJSON_ArrayForEach(i, get(entry, "intervals")) {
        money_text(minor_units(get(i, "from"), "EUR"), "EUR", from, sizeof from);
        money_text(minor_units(get(i, "to"), "EUR"), "EUR", to, sizeof to);
        snprintf(both, sizeof both, "%s..%s", from, to);
        say(&w, " ", both);
    }
    return *w.at ? w : (Words){"never"};
}

static Words along_of(const cJSON *answer) {
    Words w = {""};
    const cJSON *role;
    cJSON_ArrayForEach(role, get(answer, "along")) say(&w, " ", role->valuestring);
    return *w.at ? w : (Words){"none"};
}

static Words reasons_of(const cJSON *answer) {
    Words w = {""};
    const cJSON *item;
    cJSON_ArrayForEach(item, get(answer, "left_out")) say(&w, " ", text_of(item, "why"));
    return *w.at ? w : (Words){"none"};
}

static Words refusal_of(const cJSON *answer) {
    Words w = {""};
    const cJSON *item;
    cJSON_ArrayForEach(item, get(get(answer, "refusal"), "terms")) say(&w, " ", item->valuestring);
    return *w.at ? w : (Words){"none"};
}

static const cJSON *bundle_in(const cJSON *answer, const char *what) {
    bool in_over = !strcmp(what, "this") || !strcmp(what, "other");
    if (!strcmp(what, "cheapest"))
        what = "cheapest_with";
    return get(in_over ? get(answer, "over") : answer, what);
}

static Words in_words(const cJSON *answer, const char *what) {
    Words w = {""};
    if (!strcmp(what, "entry"))
        return intervals_of(get(answer, "entry"));
    if (!strcmp(what, "along"))
        return along_of(answer);
    if (!strcmp(what, "left-out"))
        return reasons_of(answer);
    if (!strcmp(what, "refusal"))
        return refusal_of(answer);
    if (!strcmp(what, "seller"))
        say(&w, "", text_of(get(answer, "entry"), "seller"));
    else if (!strcmp(what, "standing") || !strcmp(what, "status"))
        say(&w, "", text_of(answer, what));
    else if (!strcmp(what, "behind"))
        say(&w, "", cJSON_IsNull(get(answer, what)) ? "none" : text_of(answer, what));
    else
        return put_in(bundle_in(answer, what));
    return w;
}

static void check_words(Case *c, int i, const char *what, const char *wanted) {
    char why[1200];
    Words got = in_words(c->answer[i], what);
    /* The checker does not tell what is read from the files, or what may be any of many. */
    if ((!strcmp(what, "left-out") || !strcmp(what, "refusal")) && !get(c->answer[i], "left_out"))
        return;
    if (!strcmp(got.at, wanted)) {
        c->passed++;
        return;
    }
    snprintf(why, sizeof why, "%s is %s, not %s", what, got.at, wanted);
    fail(c, speaker[i], why);
}

/* CRITERION, then one letter for each run of percents: i in, o out, e either; as
 * "o0 e50 i51": from 0 out, from 50 either, from 51 in. */
static void check_weight(Case *c, int i, char *rest) {
    const char *id = word(&rest);
    const cJSON *w, *found = NULL, *range;
    char wanted[101], why[256], last = 'e';
    cJSON_ArrayForEach(w, get(c->answer[i], "weights")) if (!strcmp(text_of(w, "criterion"), id))
        found = w;
    memset(wanted, 'e', sizeof wanted);
    for (char *run = word(&rest); *run; run = word(&rest)) {
        last = *run;
        for (long p = strtol(run + 1, NULL, 10); p <= 100; p++)
            wanted[p] = last;
    }
    for (int p = 0; p <= 100; p++) {
        bool in = false;
        cJSON_ArrayForEach(range, get(found, "ranges")) in =
            in || (get(range, "from")->valuedouble <= p && p <= get(range, "to")->valuedouble);
        if (wanted[p] == 'e' || in == (wanted[p] == 'i'))
            continue;
        snprintf(why, sizeof why, "weight of %s at %d percent is %s", id, p, in ? "in" : "out");
        fail(c, speaker[i], why);
        return;
    }
    if (found)
        c->passed++;
    else
        fail(c, speaker[i], "the criterion is not weighed");
}

static void expect(Case *c, char *rest) {
    for (int i = 0; i < 2; i++) {
        char copy[512];
        snprintf(copy, sizeof copy, "%s", rest);
        char *at = copy, *what = word(&at);
        if (!c->answer[i])
            continue;
        if (!strcmp(what, "weight"))
            check_weight(c, i, at);
        else
            check_words(c, i, what, at);
    }
}

static void set_budget(Case *c, const char *total) {
    cJSON *budget = cJSON_CreateObject();
    cJSON_AddStringToObject(budget, "total", total);
    cJSON_DeleteItemFromObject(c->scenario, "budget");
    cJSON_AddItemToObject(c->scenario, "budget", budget);
}

static void set_rules(Case *c, const char *rest) {
    cJSON_DeleteItemFromObject(c->rules, "rules");
    cJSON_AddItemToObject(c->rules, "rules", parse(rest));
}

/* False at a line that begins no case and adds nothing to one. */
static bool obey(Case *c, char *line) {
    char *rest = line;
    const char *what = word(&rest);
    rest += strspn(rest, " ");
    if (!strcmp(what, "case"))
        start(c, rest);
    else if (!c->scenario)
        return false;
    else if (!strcmp(what, "part"))
        add_part(c, rest);
    else if (!strcmp(what, "sells"))
        add_listing(c, rest);
    else if (!strcmp(what, "set"))
        set_member(c, rest);
    else if (!strcmp(what, "rules"))
        set_rules(c, rest);
    else if (!strcmp(what, "budget"))
        set_budget(c, rest);
    else if (!strcmp(what, "ask"))
        put_question(c, rest);
    else if (!strcmp(what, "expect"))
        expect(c, rest);
    else
        return false;
    return true;
}

/* Runs the lines; where `only` is given, of that case up to its first question. */
static void run_lines(Case *c, char *text, const char *only) {
    char *rest = NULL, shown[256];
    for (char *line = strtok_r(text, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
        snprintf(shown, sizeof shown, "%s", line);
        if (*line == '#' || !line[strspn(line, " ")])
            continue;
        bool begins = !strncmp(line, "case ", 5);
        if (only && begins && c->answer[0])
            return;
        if (only && (begins ? strcmp(line + 5, only) != 0 : !c->scenario || c->answer[0]))
            continue;
        if (!obey(c, line)) {
            errno = 0;
            give_up(shown);
        }
    }
}

static Case open_case(const Setup *s, const char *file, char *folder, size_t size) {
    snprintf(folder, size, "%s", file);
    char *slash = strrchr(folder, '/');
    snprintf(slash ? slash : folder, 2, "%s", slash ? "" : ".");
    return (Case){.s = s, .folder = folder};
}

int check_cases(const Setup *s, const char *file) {
    char folder[2048], *text = read_text(file);
    Case c = open_case(s, file, folder, sizeof folder);
    run_lines(&c, text, NULL);
    free(text);
    clear(&c);
    printf("%ld passed, %ld failed\n", c.passed, c.failed);
    return c.failed || !c.passed ? 1 : 0;
}

bool answer_case(const Setup *s, const char *file, const char *name, cJSON **out, int *code,
                 Talk *t) {
    char folder[2048], *text = read_text(file);
    Case c = open_case(s, file, folder, sizeof folder);
    run_lines(&c, text, name);
    free(text);
    *out = c.answer[0];
    c.answer[0] = NULL;
    *code = *out && !strcmp(text_of(*out, "status"), "nothing-fits") ? 1 : 0;
    if (!*out || c.failed)
        snprintf(t->why, t->size, "the case %s does not stand", name);
    bool good = *out && !c.failed;
    clear(&c);
    return good;
}
