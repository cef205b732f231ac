/* compare PROGRAM FOLDER [EXPECTED]: one job worked by hand against the program. Each line
 * of expected.txt (or EXPECTED) is
 *
 *     COMMAND [ARGS] | JSON-PATH | VALUE | TOLERANCE
 *
 * A path is names with points between; [id] takes the element of an array that has a member
 * saying so (a measure, use, stage, role, finding, id, criterion or part), [0] the first; # at its
 * end is how many elements an array has. The value (none) stands for null and for a
 * member that is not there. With the tolerance 0 texts are the same bytes. */
#include <cjson/cJSON.h>
#include <errno.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

/* What is left of a decimal when it was read as binary. */
static const double SLACK = 1e-9;

typedef struct Job {
    const char *program;
    char *scenario;
    char *asked; /* the command whose answer `said` is: the same one is not run twice */
    cJSON *said;
    long good, bad;
} Job;

typedef struct Line {
    char *command, *path, *value, *tolerance;
} Line;

static void give_up(const char *what) {
    fprintf(stderr, "compare: %s: %s\n", what, strerror(errno));
    exit(2);
}

static void *or_give_up(void *memory) {
    if (!memory)
        give_up("memory");
    return memory;
}

static char *joined(const char *folder, const char *name) {
    size_t room = strlen(folder) + strlen(name) + 2;
    char *path = or_give_up(malloc(room));
    snprintf(path, room, "%s/%s", folder, name);
    return path;
}

/* ---- asking the program ---------------------------------------------------------- */

static char *read_all(int from) {
    size_t have = 0, room = 65536;
    char *text = or_give_up(malloc(room));
    for (;;) {
        ssize_t got = read(from, text + have, room - have - 1);
        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0)
            give_up("reading the answer");
        if (got == 0)
            break;
        have += (size_t)got;
        if (have + 1 == room)
            text = or_give_up(realloc(text, room *= 2));
    }
    text[have] = '\0';
    return text;
}

/* PROGRAM COMMAND scenario ARGS --json; cuts `command` up. */
static char **arguments(const Job *job, char *command) {
    size_t most = strlen(command) / 2 + 5, count = 0;
    char **argv = or_give_up(calloc(most, sizeof *argv)), *rest = NULL;
    argv[count++] = (char *)job->program;
    for (char *word = strtok_r(command, " ", &rest); word; word = strtok_r(NULL, " ", &rest)) {
        argv[count++] = word;
        if (count == 2)
            argv[count++] = job->scenario;
    }
    argv[count] = "--json";
    return argv;
}

static cJSON *answer_of(char **argv) {
    int ends[2];
    if (pipe(ends) != 0)
        give_up("pipe");
    pid_t child = fork();
    if (child < 0)
        give_up("fork");
    if (child == 0) {
        dup2(ends[1], STDOUT_FILENO);
        close(ends[0]);
        close(ends[1]);
        execv(argv[0], argv);
        _exit(127);
    }
    close(ends[1]);
    char *text = read_all(ends[0]);
    close(ends[0]);
    while (waitpid(child, NULL, 0) < 0)
        if (errno != EINTR)
            give_up("waiting");
    cJSON *tree = cJSON_Parse(text);
    free(text);
    return tree;
}

static void ask(Job *job, const char *command) {
    if (job->asked && !strcmp(job->asked, command))
        return;
    free(job->asked);
    cJSON_Delete(job->said);
    job->asked = or_give_up(strdup(command));
    char *words = or_give_up(strdup(command));
    char **argv = arguments(job, words);
    job->said = answer_of(argv);
    free(argv);
    free(words);
}

/* ---- finding the value ------------------------------------------------------------ */

static bool is_called(const cJSON *item, const char *key) {
    static const char *const names[] = {"measure", "use", "stage",     "role",
                                        "finding", "id",  "criterion", "part"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const cJSON *name = cJSON_GetObjectItemCaseSensitive(item, names[i]);
        if (cJSON_IsString(name) && !strcmp(name->valuestring, key))
            return true;
    }
    return false;
}

static const cJSON *element(const cJSON *list, const char *key) {
    char *end;
    long index = strtol(key, &end, 10);
    if (end != key && *end == '\0')
        return cJSON_GetArrayItem(list, (int)index);
    const cJSON *item;
    cJSON_ArrayForEach(item, list) if (is_called(item, key)) return item;
    return NULL;
}

/* NULL where the path leads nowhere; cuts `path` up. */
static const cJSON *follow(const cJSON *at, char *path) {
    char *rest = NULL;
    for (char *step = strtok_r(path, ".[", &rest); at && step; step = strtok_r(NULL, ".[", &rest)) {
        size_t last = strlen(step) - 1;
        if (step[last] == ']') {
            step[last] = '\0';
            at = element(at, step);
        } else
            at = cJSON_GetObjectItemCaseSensitive(at, step);
    }
    return at;
}

/* As the program printed it, for texts and whole numbers; malloc'd. */
static char *shown(const cJSON *at) {
    if (!at || cJSON_IsNull(at))
        return or_give_up(strdup("(none)"));
    if (cJSON_IsString(at))
        return or_give_up(strdup(at->valuestring));
    return or_give_up(cJSON_PrintUnformatted(at));
}

static char *found(const cJSON *said, const char *path) {
    char *steps = or_give_up(strdup(path)), *text;
    size_t length = strlen(steps);
    bool counted = length > 2 && !strcmp(steps + length - 2, ".#");
    if (counted)
        steps[length - 2] = '\0';
    const cJSON *at = follow(said, steps);
    if (counted && cJSON_IsArray(at)) {
        text = or_give_up(malloc(24));
        snprintf(text, 24, "%d", cJSON_GetArraySize(at));
    } else
        text = shown(at);
    free(steps);
    return text;
}

/* ---- comparing ---------------------------------------------------------------------- */

static bool is_number(const char *text, double *value) {
    char *end;
    *value = strtod(text, &end);
    return end != text && *end == '\0' && isfinite(*value);
}

/* A JSON number says 15.1 and 15.10 alike; money and points are texts and say every figure. */
static bool same(const char *got, const Line *line, bool number) {
    double a, b, tolerance;
    if (!is_number(line->tolerance, &tolerance))
        return false;
    if (tolerance <= 0 && !number)
        return !strcmp(got, line->value);
    return is_number(got, &a) && is_number(line->value, &b) && fabs(a - b) <= tolerance + SLACK;
}

static bool leads_to_number(const cJSON *said, const char *path) {
    char *steps = or_give_up(strdup(path));
    bool number = cJSON_IsNumber(follow(said, steps));
    free(steps);
    return number;
}

static void judge(Job *job, const Line *line) {
    ask(job, line->command);
    char *got = found(job->said, line->path);
    if (job->said && same(got, line, leads_to_number(job->said, line->path)))
        job->good++;
    else {
        job->bad++;
        printf("%s: %s: %s: got %s, expected %s (within %s)\n", job->scenario, line->command,
               line->path, job->said ? got : "no answer", line->value, line->tolerance);
    }
    free(got);
}

static char *trimmed(char *text) {
    text += strspn(text, " \t");
    size_t length = strlen(text);
    while (length > 0 && strchr(" \t\r\n", text[length - 1]))
        text[--length] = '\0';
    return text;
}

static bool cut(Line *line, char *text) {
    char **fields[] = {&line->command, &line->path, &line->value, &line->tolerance};
    for (size_t i = 0; i < 4; i++) {
        char *bar = strchr(text, '|');
        if ((i < 3) != (bar != NULL))
            return false;
        if (bar)
            *bar = '\0';
        *fields[i] = trimmed(text);
        text = bar ? bar + 1 : text;
    }
    return *line->command && *line->path;
}

static void judge_all(Job *job, FILE *expected) {
    char *text = NULL;
    size_t room = 0;
    while (getline(&text, &room, expected) >= 0) {
        Line line;
        char *start = trimmed(text);
        if (*start == '\0' || *start == '#')
            continue;
        if (cut(&line, start))
            judge(job, &line);
        else {
            job->bad++;
            printf("%s: a line does not have four fields\n", job->scenario);
        }
    }
    free(text);
}

int main(int argc, char **argv) {
    if (argc < 3 || argc > 4) {
        fprintf(stderr, "compare PROGRAM FOLDER [EXPECTED]\n");
        return 2;
    }
    Job job = {.program = argv[1], .scenario = joined(argv[2], "scenario.json")};
    char *path = argc == 4 ? or_give_up(strdup(argv[3])) : joined(argv[2], "expected.txt");
    FILE *expected = fopen(path, "r");
    if (!expected)
        give_up(path);
    judge_all(&job, expected);
    fclose(expected);
    printf("%ld passed, %ld failed\n", job.good, job.bad);
    cJSON_Delete(job.said);
    free(job.asked);
    free(job.scenario);
    free(path);
    return job.bad > 0 || job.good == 0;
}
