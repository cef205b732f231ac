/* What must be said with a bundle: cautions of rules, what falls short today
 * and still does, what comes near its limit, what was let in unknown, warnings of tasks, strings on
 * donated parts. */
#include "answer/stage.h"

#include <string.h>

typedef struct caution_list {
    sw_arena *arena;
    sw_answer_caution *list;
    size_t count, most;
    sw_status status;
} caution_list;

#define SW_SITES_SAID 16 /* different cautions of sites: nobody reads more */

static void add(caution_list *list, sw_caution_kind kind, const char *id, const char *client,
                const char *bench) {
    bool has_bench = bench != NULL;
    id = sw_arena_copy(list->arena, id);
    client = client == NULL ? NULL : sw_arena_copy(list->arena, client);
    bench = has_bench ? sw_arena_copy(list->arena, bench) : NULL;
    if (id == NULL || client == NULL || (has_bench && bench == NULL))
        list->status = SW_NO_MEMORY;
    else
        list->list[list->count++] = (sw_answer_caution){kind, id, client, bench};
}

/* An unlock is several clashes of one rule: it is said once. */
static bool said_already(const caution_list *list, const char *id) {
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->list[i].id, id) == 0)
            return true;
    return false;
}

static void add_unknown(caution_list *list, const sw_rulebook *book, const sw_rule *rule,
                        const sw_judgement *judgement) {
    const sw_catalog *catalog = book->fitouts->catalog;
    const char *text = sw_arena_format(
        list->arena, "Not known of the %s: %s. So the rule %s could not be checked.",
        judgement->unknown_role >= 0 ? catalog->roles[judgement->unknown_role].name : "machine",
        judgement->unknown_fact >= 0 ? catalog->facts[judgement->unknown_fact].meaning : "a fact",
        rule->id);
    add(list, SW_CAUTION_UNKNOWN, rule->id, text, NULL);
}

static void add_rule(caution_list *list, const sw_rulebook *book, size_t index,
                     const int *machine) {
    const sw_rule *rule = &book->rules[index];
    sw_judgement judgement;
    sw_status status = sw_rule_judge(&judgement, book, index, machine);
    if (status != SW_OK)
        list->status = status;
    if (status != SW_OK || said_already(list, rule->id))
        return;
    if (judgement.verdict == SW_UNJUDGED && sw_rule_touched(book, index, machine))
        add_unknown(list, book, rule, &judgement);
    if (judgement.verdict != SW_BROKEN)
        return;
    const char *client = sw_sentence(list->arena, rule->client, rule, &judgement);
    const char *bench = sw_sentence(list->arena, rule->bench, rule, &judgement);
    if (bench == NULL) /* not as a caution that has none */
        list->status = SW_NO_MEMORY;
    else
        add(list, rule->hard ? SW_CAUTION_TODAY : SW_CAUTION_RULE, rule->id, client, bench);
}

static void add_given(caution_list *list, const sw_fitouts *fitouts, const sw_fitout *fitout) {
    const sw_scenario *scenario = fitouts->scenario;
    for (size_t g = 0; g < scenario->given_count; g++) {
        const sw_given *given = &scenario->given[g];
        bool held = false;
        for (int i = 0; i < fitout->added_count; i++)
            held = held || fitout->added[i].part == given->part;
        if (!held || !(given->must_show || given->no_resale))
            continue;
        const sw_part *part = &scenario->parts[given->part];
        const char *text =
            sw_arena_format(list->arena, "%s was given on conditions: %s%s%s.", part->name,
                            given->must_show ? "it must be in plain view" : "",
                            given->must_show && given->no_resale ? ", and " : "",
                            given->no_resale ? "it may not be sold on" : "");
        add(list, SW_CAUTION_GIVEN, part->id, text, NULL);
    }
}

/* A measure that the bundle brings nearer to its limit than it is today. */
static void add_near(caution_list *list, const sw_catalog *catalog,
                     const sw_answer_bundle *bundle) {
    for (size_t i = 0; i < bundle->measure_count; i++) {
        const sw_answer_measure *measure = &bundle->measures[i];
        const sw_measure *of = catalog->measures;
        while (strcmp(of->id, measure->id) != 0)
            of++;
        double least = (double)of->least_milli / 1000;
        if (of->client != NULL && measure->then.mid < least && measure->then.mid < measure->now.mid)
            add(list, SW_CAUTION_NEAR, of->id, of->client, of->bench);
    }
}

/* What is said of the sites that things stand on. */
static void add_sites(caution_list *list, const sw_rulebook *book, const int *machine) {
    sw_placement placement;
    sw_status status = sw_place_things(&placement, list->arena, book, machine);
    if (status != SW_OK) {
        list->status = status;
        return;
    }
    for (size_t i = 0; i < placement.stand_count; i++) {
        const sw_stand *stand = &placement.stands[i];
        bool said = stand->site->caution == NULL;
        for (size_t k = 0; k < i && !said; k++)
            said = placement.stands[k].site->caution != NULL &&
                   strcmp(placement.stands[k].site->caution, stand->site->caution) == 0;
        if (!said && list->count < list->most)
            add(list, SW_CAUTION_RULE, book->rules[stand->rule].id, stand->site->caution, NULL);
    }
}

sw_status sw_cautions_describe(sw_answer_bundle *out, sw_arena *arena, const sw_rulebook *book,
                               const int *machine) {
    const sw_fitouts *fitouts = book->fitouts;
    const sw_catalog *catalog = fitouts->catalog;
    size_t most = book->count * 2 + catalog->task_count + fitouts->scenario->given_count +
                  catalog->measure_count;
    caution_list list = {arena, SW_NEW(arena, sw_answer_caution, most + SW_SITES_SAID), 0,
                         most + SW_SITES_SAID, SW_OK};
    if (list.list == NULL)
        return SW_NO_MEMORY;
    for (size_t r = 0; r < catalog->role_count; r++) {
        const sw_fitout *fitout = &fitouts->fitouts[machine[r]];
        for (int t = 0; t < fitout->task_count; t++) {
            const sw_task *task = &catalog->tasks[fitout->tasks[t]];
            if (task->caution != NULL)
                add(&list, SW_CAUTION_TASK, task->id, task->caution, NULL);
        }
        add_given(&list, fitouts, fitout);
    }
    for (size_t i = 0; i < book->count && list.status == SW_OK; i++)
        add_rule(&list, book, i, machine);
    add_near(&list, catalog, out);
    if (list.status == SW_OK)
        add_sites(&list, book, machine);
    out->cautions = list.list;
    out->caution_count = list.count;
    return list.status;
}
