/*
 * papers FIRST COUNT | --faults, with [--generate P] [--brute P] [--program P] --work FOLDER:
 * for each seed a random job with a bench; the program's work for each of its options against
 * the checker's, and against what must hold of any work. Then one changed role is put back, by
 * the checker alone and, with a wish to keep it, by the program: what was there for it alone
 * must be gone. --faults: that a wrong answer is found, whatever is wrong with it.
 */
#include "papers.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* ---- what was met ---- */

static bool is(const cJSON *json, const char *name, const char *value) {
    return !strcmp(text_of(json, name), value);
}

static bool lists_any(const cJSON *json, const char *name) {
    return cJSON_GetArraySize(get(json, name)) > 0;
}

static void count_deed(Tally *y, const Job *j, const cJSON *deed) {
    const cJSON *step;
    y->take_out += is(deed, "does", "take-out");
    y->take_off += is(deed, "does", "take-off");
    y->lay_out += is(deed, "does", "lay-out");
    y->fit += is(deed, "does", "fit");
    y->steps += is(deed, "does", "step");
    y->with += lists_any(deed, "with");
    y->of_tasks += cJSON_IsString(get(deed, "task"));
    y->of_charges += cJSON_IsString(get(deed, "charge"));
    y->unnamed += is(deed, "does", "step") && !cJSON_IsString(get(deed, "step"));
    cJSON_ArrayForEach(step, get(j->bench, "steps")) {
        if (!is(step, "step", text_of(deed, "step")))
            continue;
        y->lifts += lists_any(step, "lifts");
        y->reaches += lists_any(step, "reaches");
    }
}

static void count_stages(Tally *y, const Job *j, const cJSON *checker) {
    const cJSON *stage, *deed;
    bool machine = false, before = false, behind = false;
    cJSON_ArrayForEach(stage, get(j->bench, "stages")) {
        machine = machine || cJSON_IsTrue(get(stage, "machine"));
        cJSON_ArrayForEach(deed, get(checker, "work")) {
            bool here = is(deed, "stage", text_of(stage, "stage"));
            before = before || (here && !machine);
            behind = behind || (here && machine && !cJSON_IsTrue(get(stage, "machine")));
        }
    }
    y->before_machine += before;
    y->behind_machine += behind;
}

static void count(Tally *y, const Job *j, const cJSON *machine, const cJSON *checker) {
    const cJSON *json, *minutes = get(checker, "minutes");
    y->options++;
    y->unchanged += !any_change(j, machine);
    y->no_file += !j->bench;
    cJSON_ArrayForEach(json, get(checker, "work")) count_deed(y, j, json);
    cJSON_ArrayForEach(json, get(checker, "covers")) y->covers +=
        cJSON_IsTrue(get(json, "today")) || cJSON_IsTrue(get(json, "then"));
    cJSON_ArrayForEach(json, get(checker, "out")) {
        y->shop += is(json, "whose", "shop");
        y->client += is(json, "whose", "client");
        y->files += cJSON_IsTrue(get(json, "keeps_files"));
    }
    y->leads += lists_any(checker, "leads");
    y->checks += lists_any(checker, "checks");
    y->alone += minutes && get(minutes, "alone")->valuedouble > 0;
    count_stages(y, j, checker);
}

/* ---- one option ---- */

static bool right_end(Talk *t, const cJSON *program, int code, int wanted) {
    if (code != wanted)
        return fail(t, "bench ended with %d, not %d", code, wanted);
    return wanted == 65 || program || fail(t, "bench gave no JSON");
}

static bool says_settled(Talk *t, const cJSON *program, const cJSON *option, int number) {
    const cJSON *told = get(get(program, "option"), "number");
    if (!is(program, "status", "optimal") || !cJSON_IsFalse(get(program, "unsettled")))
        return fail(t, "bench does not say that all is settled");
    if (!is(get(program, "option"), "place", text_of(option, "option")) || !cJSON_IsNumber(told) ||
        (int)told->valuedouble != number)
        return fail(t, "bench tells another option");
    return true;
}

static bool check_option(const Setup *s, const Job *j, int number, Talk *t, Tally *y) {
    const cJSON *option = cJSON_GetArrayItem(get(j->options, "options"), number - 1);
    cJSON *machine = machine_of(j, get(option, "bundle"));
    cJSON *checker = ask_checker(s, j, machine, t);
    int code = 0;
    cJSON *program = checker ? ask_program(s, j, number, &code) : NULL;
    bool circular = cJSON_IsTrue(get(checker, "circular"));
    bool good = checker && right_end(t, program, code, circular ? 65 : 0);
    if (good && !circular)
        good = says_settled(t, program, option, number) &&
               same_work(t, checker, machine, option, program) &&
               judge_work(t, j, machine, checker, program);
    if (checker && !circular)
        count(y, j, machine, checker);
    y->circular += circular;
    cJSON_Delete(program);
    cJSON_Delete(checker);
    cJSON_Delete(machine);
    return good;
}

/* ---- a swap less ---- */

/* The role that a seed puts back: one of those that the machine changes; NULL: there is none. */
static const char *role_to_keep(const Job *j, const cJSON *machine, long seed) {
    const cJSON *json;
    const char *found[64];
    int n = 0;
    cJSON_ArrayForEach(
        json, get(j->roles, "roles")) if (n < 64 && role_changes(j, machine, text_of(json, "role")))
        found[n++] = text_of(json, "role");
    return n ? found[seed % n] : NULL;
}

/* Nothing is done for the role itself: at most it is in the way of something else. */
static bool is_left_alone(Talk *t, const cJSON *answer, const char *role) {
    const cJSON *deed, *reason;
    cJSON_ArrayForEach(deed, get(answer, "work")) {
        bool lift = is(deed, "does", "take-off") || is(deed, "does", "put-back");
        if (is(deed, "role", role) && !lift)
            return fail(t, "%s is kept, and there is still a %s of it", role,
                        text_of(deed, "does"));
        cJSON_ArrayForEach(reason, get(deed, "because")) if (
            is(reason, "changes",
               role)) return fail(t, "%s is kept, and something is done because it changes", role);
    }
    return true;
}

/* The checker's own: the work of the machine with the role put back stands by itself. */
static bool check_put_back(const Setup *s, const Job *j, const cJSON *option, const char *role,
                           const cJSON *machine, Talk *t, Tally *y) {
    cJSON *less = machine_without(j, machine, role);
    cJSON *checker = ask_checker(s, j, less, t);
    bool good = checker != NULL;
    if (good && !cJSON_IsTrue(get(checker, "circular"))) {
        cJSON *answer = right_answer(j, checker, less, option, 1);
        good = judge_work(t, j, less, checker, answer) && is_left_alone(t, answer, role);
        cJSON_Delete(answer);
        y->put_back++;
    }
    cJSON_Delete(checker);
    cJSON_Delete(less);
    return good;
}

static void write_kept(const Setup *s, const Job *j, const char *role, char *path, size_t size) {
    cJSON *job = must_have(cJSON_Duplicate(j->job, true));
    cJSON *wishes = cJSON_GetObjectItemCaseSensitive(job, "wishes");
    cJSON *keep = cJSON_GetObjectItemCaseSensitive(wishes, "keep");
    path_in(s, "job/kept.json", path, size);
    keep = keep ? keep : must_have(cJSON_AddArrayToObject(wishes, "keep"));
    cJSON_AddItemToArray(keep, must_have(cJSON_CreateString(role)));
    char *text = cJSON_Print(job);
    FILE *f = fopen(path, "w");
    if (!text || !f || fputs(text, f) < 0 || fclose(f) != 0)
        give_up(path);
    cJSON_free(text);
    cJSON_Delete(job);
}

/* The program's: with a wish to keep the role. A must or a string may not let it. */
static bool check_kept(const Setup *s, const Job *j, const char *role, Talk *t, Tally *y) {
    char path[2048];
    Job kept;
    write_kept(s, j, role, path, sizeof path);
    Talk own = {t->why, t->size};
    bool good = read_job(s, path, &kept, &own);
    int n = good ? cJSON_GetArraySize(get(kept.options, "options")) : 0;
    if (!n) {
        y->kept_away++;
        free_job(&kept);
        return true;
    }
    good = check_option(s, &kept, n, t, y);
    cJSON *program = good ? answer_in(s, "program.json") : NULL;
    if (program)
        good = is_left_alone(t, program, role);
    y->kept_job++;
    cJSON_Delete(program);
    free_job(&kept);
    return good;
}

static bool check_less(const Setup *s, const Job *j, long seed, Talk *t, Tally *y) {
    const cJSON *options = get(j->options, "options");
    const cJSON *full = cJSON_GetArrayItem(options, cJSON_GetArraySize(options) - 1);
    cJSON *machine = machine_of(j, get(full, "bundle"));
    const char *role = role_to_keep(j, machine, seed);
    bool good = !role || (check_put_back(s, j, full, role, machine, t, y) &&
                          (seed % 2 || check_kept(s, j, role, t, y)));
    cJSON_Delete(machine);
    return good;
}

/* ---- all ---- */

static bool check_nothing(const Setup *s, const Job *j, Talk *t, Tally *y) {
    int code = 0;
    cJSON *program = ask_program(s, j, 1, &code);
    bool good = code == 1 && is(program, "status", "nothing-fits");
    y->nothing_fits++;
    cJSON_Delete(program);
    return good || fail(t, "nothing fits, and bench ended with %d", code);
}

/* A catalog in which something hangs on itself is refused whatever is asked. */
static bool check_refused(const Setup *s, const Job *j, Talk *t, Tally *y) {
    int code = 0;
    cJSON *today = machine_of(j, NULL), *checker = ask_checker(s, j, today, t);
    cJSON *program = ask_program(s, j, 1, &code);
    bool good = checker && (cJSON_IsTrue(get(checker, "circular")) ||
                            fail(t, "options ended with 65, and nothing hangs on itself"));
    if (good && code != 65)
        good = fail(t, "options refuses the catalog, and bench ended with %d", code);
    y->refused++;
    cJSON_Delete(program);
    cJSON_Delete(checker);
    cJSON_Delete(today);
    return good;
}

static bool check_seed(const Setup *s, long seed, Talk *t, Tally *y) {
    Job j;
    bool good = draw_job(s, seed, &j, t);
    int n = good ? cJSON_GetArraySize(get(j.options, "options")) : 0;
    y->jobs++;
    if (good && !n)
        good = j.code == 65 ? check_refused(s, &j, t, y) : check_nothing(s, &j, t, y);
    for (int i = 1; good && i <= n; i++)
        good = check_option(s, &j, i, t, y);
    if (good && n)
        good = check_less(s, &j, seed, t, y);
    free_job(&j);
    return good;
}

/* A run of some length that met nothing of a kind has not tested it. */
static long missed(const Setup *s, const Tally *y) {
    const long met[] = {y->refused,        y->nothing_fits, y->circular, y->unchanged,
                        y->no_file,        y->alone,        y->take_out, y->take_off,
                        y->lay_out,        y->fit,          y->with,     y->steps,
                        y->of_tasks,       y->of_charges,   y->unnamed,  y->lifts,
                        y->reaches,        y->covers,       y->leads,    y->shop,
                        y->client,         y->files,        y->checks,   y->before_machine,
                        y->behind_machine, y->put_back,     y->kept_job};
    long none = 0;
    for (size_t i = 0; s->count >= 200 && i < sizeof met / sizeof *met; i++)
        none += met[i] == 0;
    if (none)
        printf("%ld kinds of work were never met\n", none);
    return none;
}

static void tell(const Tally *y) {
    printf("%ld jobs, %ld refused, %ld where nothing fits; %ld options with work, %ld in a circle, "
           "%ld of the "
           "untouched machine, %ld without a bench.json\n",
           y->jobs, y->refused, y->nothing_fits, y->options, y->circular, y->unchanged, y->no_file);
    printf("work: %ld out, %ld of them with others, %ld off, %ld laid out, %ld fitted; %ld steps, "
           "%ld of tasks, %ld of charges, %ld without one in the file, %ld that lift, %ld that "
           "reach; %ld covers that hold\n",
           y->take_out, y->with, y->take_off, y->lay_out, y->fit, y->steps, y->of_tasks,
           y->of_charges, y->unnamed, y->lifts, y->reaches, y->covers);
    printf("told: %ld with leads, %ld gone to the shop and %ld to the client, %ld with files, %ld "
           "with checks, %ld with minutes alone, %ld with work before the machine's stage, %ld "
           "behind it; %ld roles put back, %ld kept, %ld that could not be\n",
           y->leads, y->shop, y->client, y->files, y->checks, y->alone, y->before_machine,
           y->behind_machine, y->put_back, y->kept_job, y->kept_away);
}

static int check_seeds(const Setup *s) {
    static char why[4096];
    long passed = 0, failed = 0;
    Tally y = {0};
    for (long seed = s->first; seed < s->first + s->count; seed++) {
        Talk t = {why, sizeof why};
        why[0] = '\0';
        if (check_seed(s, seed, &t, &y)) {
            passed++;
            continue;
        }
        failed++;
        printf("seed %ld: %s\n", seed, why);
        fflush(stdout);
    }
    tell(&y);
    failed += missed(s, &y);
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed ? 1 : 0;
}

static bool read_valued(Setup *s, const char *name, const char *value) {
    const char **into = !strcmp(name, "--generate")  ? &s->generate
                        : !strcmp(name, "--brute")   ? &s->brute
                        : !strcmp(name, "--program") ? &s->program
                        : !strcmp(name, "--work")    ? &s->work
                                                     : NULL;
    if (into)
        *into = value;
    return into != NULL;
}

int main(int argc, char **argv) {
    Setup s = {.generate = "build/tests/generate",
               .brute = "build/tests/brute",
               .program = "build/swapworth"};
    const char *word[2] = {NULL};
    int words = 0;
    for (int i = 1; i < argc; i++) {
        if (i + 1 < argc && read_valued(&s, argv[i], argv[i + 1]))
            i++;
        else if (words < 2)
            word[words++] = argv[i];
    }
    if (!words || !s.work) {
        fputs("papers FIRST COUNT | --faults, with --work FOLDER [--generate P] [--brute P]"
              " [--program P]\n",
              stderr);
        return 2;
    }
    if (mkdir(s.work, 0777) != 0 && errno != EEXIST)
        give_up(s.work);
    if (!strcmp(word[0], "--faults"))
        return check_faults(&s);
    s.first = strtol(word[0], NULL, 10);
    s.count = words == 2 ? strtol(word[1], NULL, 10) : 1;
    return check_seeds(&s);
}
