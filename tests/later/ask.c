/* Puts the two questions to the checker and to the program. */
#include "later.h"

#include <stdio.h>

static const char *const command_name[] = {"first", "phases"};
static const char *const option_name[] = {"--first", "--phases"};
static const char *const most_tried[] = {"4000000", "400000"};

bool ask_checker(const Setup *s, Command command, const char *scenario, const cJSON *said,
                 cJSON **out, int *code, Talk *t) {
    char path[2048];
    const char *words[] = {s->brute,
                           option_name[command],
                           scenario,
                           "--limit",
                           most_tried[command],
                           said ? "--judge" : NULL,
                           path,
                           NULL};
    path_of(s, "said.json", path, sizeof path);
    if (said)
        write_json(path, said);
    return ask(s, words, out, code, t);
}

bool ask_program(const Setup *s, Command command, const char *scenario, cJSON **out, int *code,
                 Talk *t) {
    const char *words[] = {s->program, command_name[command], scenario, "--json", NULL};
    if (s->stand_in)
        return ask_checker(s, command, scenario, NULL, out, code, t);
    return ask(s, words, out, code, t);
}

bool same_answers(const Setup *s, Command command, const char *scenario, cJSON **oracle,
                  cJSON **program, Talk *t) {
    int a, b;
    *oracle = *program = NULL;
    if (!ask_program(s, command, scenario, program, &b, t))
        return false;
    if (!ask_checker(s, command, scenario, command == PHASES ? *program : NULL, oracle, &a, t))
        return false;
    return command == FIRST ? same_first(t, *oracle, a, *program, b)
                            : same_phases(t, *oracle, a, *program, b);
}
