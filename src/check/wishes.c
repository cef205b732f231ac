/* What the client must have and wishes for. */
#include "check/stage.h"

#include <string.h>

#define SW_WORTH_LIMIT INT64_C(1000000) /* a thousand points per 100 */

/* ---- musts -------------------------------------------------------------------------- */

static void read_must(sw_job *job, const sw_node *at, sw_names *ids, int index, sw_must *out) {
    sw_check *check = job->check;
    *out = (sw_must){.id = "", .why = "", .part = SW_NONE, .task = SW_NONE};
    if (!SW_CHECK_NAMES(check, at, "id", "replace", "do", "why"))
        return;
    out->id = sw_get_new_id(check, at, ids, index);
    sw_get_text(check, at, "why", SW_OPTIONAL, &out->why);
    bool replaces = sw_member(at, "replace").json != NULL;
    bool does = sw_member(at, "do").json != NULL;
    if (replaces == does) {
        sw_wrong(check, at, "a must replaces one present part or does one task",
                 "give \"replace\" or \"do\"; write two musts for two things",
                 replaces ? "has both \"replace\" and \"do\""
                          : "has neither \"replace\" nor \"do\"");
        return;
    }
    if (does)
        sw_get_index(check, at, "do", SW_REQUIRED, &check->tasks, "task", "tasks.json", &out->task);
    else
        sw_get_index(check, at, "replace", SW_REQUIRED, &job->present, "present part",
                     "the scenario's machine", &out->part);
}

void sw_read_musts(sw_job *job) {
    sw_check *check = job->check;
    sw_node list;
    sw_names ids = {0};
    if (!sw_get_list(check, job->root, "musts", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_must *musts = SW_KEEP(check, sw_must, list.json->count);
    for (size_t i = 0; musts != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_must(job, &at, &ids, (int)i, &musts[i]);
    }
    sw_names_free(&ids);
    job->scenario->musts = musts;
    job->scenario->must_count = musts == NULL ? 0 : list.json->count;
}

/* ---- weights: which of them may be right is told in doubt.c
 * -------------------------------------------------------------------------- */

static void read_swings(sw_job *job, const sw_node *swings) {
    sw_check *check = job->check;
    int64_t sum = 0;
    bool good = true;
    for (size_t i = 0; i < swings->json->count; i++) {
        sw_node at = sw_element(swings, i);
        int64_t swing = 0;
        if (strcmp(at.name, "note") == 0) {
            good &= sw_is_kind(check, &at, SW_JSON_TEXT);
            continue;
        }
        int criterion =
            sw_find(check, &at, &check->criteria, at.name, "criterion", "criteria.json");
        good &= sw_check_milli(check, &at, 0, SW_MILLI_LIMIT, &swing) && criterion != SW_NONE;
        sum += swing;
        if (criterion != SW_NONE) {
            job->scenario->weights[criterion] = (double)swing;
            job->scenario->doubt.swing[criterion] = swing;
            job->scenario->doubt.low[criterion] = job->scenario->doubt.high[criterion] = swing;
        }
    }
    if (good && sum == 0 && !check->draft)
        sw_wrong(check, swings, "with no swing above 0 nothing is worth anything",
                 "give 100 to the swing that matters most, and the others beside it",
                 "has no swing above 0");
    for (size_t c = 0; c < check->catalog->criterion_count && sum > 0; c++)
        job->scenario->weights[c] /= (double)sum;
}

/* Rank-order centroid: w_k = (1/n) sum over i = k..n of 1/i. */
static void read_ranks(sw_job *job, const sw_node *ranks) {
    sw_check *check = job->check;
    size_t count = ranks->json->count;
    double sum = 0;
    int *ranked = SW_KEEP(check, int, count);
    for (size_t k = count; k >= 1 && ranked != NULL; k--) {
        sw_node at = sw_element(ranks, k - 1);
        int criterion = SW_NONE;
        sum += 1.0 / (double)k;
        if (sw_is_kind(check, &at, SW_JSON_TEXT))
            criterion =
                sw_find(check, &at, &check->criteria, at.json->text, "criterion", "criteria.json");
        if (criterion == SW_NONE)
            continue;
        if (job->scenario->weights[criterion] > 0)
            sw_wrong(check, &at, "each criterion has one rank", "keep one of the two",
                     "ranks \"%s\", which stands further down too", sw_shown(check, at.json->text));
        job->scenario->weights[criterion] = sum / (double)count;
        ranked[k - 1] = criterion;
    }
    job->scenario->doubt.ranked = ranked;
    job->scenario->doubt.ranked_count = ranked == NULL ? 0 : count;
}

static void read_weights(sw_job *job, const sw_node *wishes) {
    sw_node found;
    bool swings = sw_member(wishes, "swings").json != NULL;
    bool ranks = sw_member(wishes, "ranks").json != NULL;
    if (!swings && !ranks && job->check->draft)
        return;
    if (swings == ranks)
        sw_wrong(job->check, wishes, "what matters is said by swings, or by ranks alone",
                 "give \"swings\" or \"ranks\"",
                 swings ? "has both \"swings\" and \"ranks\""
                        : "has neither \"swings\" nor \"ranks\"");
    else if (swings && sw_get(job->check, wishes, "swings", SW_REQUIRED, SW_JSON_OBJECT, &found))
        read_swings(job, &found);
    else if (ranks &&
             sw_get_list(job->check, wishes, "ranks", SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &found))
        read_ranks(job, &found);
}

/* ---- uses and taste -------------------------------------------------------------------- */

static void read_use(sw_job *job, const sw_node *at, sw_names *seen, sw_wanted_use *out) {
    sw_check *check = job->check;
    *out = (sw_wanted_use){.use = SW_NONE};
    if (!SW_CHECK_NAMES(check, at, "use", "share", "rate_now", "rate_wanted"))
        return;
    sw_get_milli(check, at, "share", SW_REQUIRED, 1, SW_MILLI_LIMIT, &out->share_milli);
    sw_get_milli(check, at, "rate_now", SW_OPTIONAL, 1, SW_MILLI_LIMIT, &out->rate_now_milli);
    sw_get_milli(check, at, "rate_wanted", SW_OPTIONAL, 1, SW_MILLI_LIMIT, &out->rate_wanted_milli);
    if (sw_member(at, "rate_wanted").json != NULL && sw_member(at, "rate_now").json == NULL)
        sw_wrong(check, at, "what is wanted counts from what is had",
                 "measure the rate now and add \"rate_now\", or take \"rate_wanted\" away",
                 "has \"rate_wanted\" without \"rate_now\"");
    if (!sw_get_index(check, at, "use", SW_REQUIRED, &check->uses, "use", "uses.json", &out->use))
        return;
    sw_node place = sw_member(at, "use");
    sw_register(check, &place, seen, check->catalog->uses[out->use].id, 0);
}

static void read_uses(sw_job *job, const sw_node *wishes) {
    sw_check *check = job->check;
    sw_node list;
    sw_names seen = {0};
    if (!sw_get_list(check, wishes, "uses", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_wanted_use *uses = SW_KEEP(check, sw_wanted_use, list.json->count);
    for (size_t i = 0; uses != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_use(job, &at, &seen, &uses[i]);
    }
    sw_names_free(&seen);
    job->scenario->uses = uses;
    job->scenario->use_count = uses == NULL ? 0 : list.json->count;
}

/* A weight on speed with no use to measure it by would be lost without a word. */
static void check_speed(sw_job *job, const sw_node *wishes) {
    const sw_catalog *catalog = job->check->catalog;
    sw_node uses = sw_member(wishes, "uses");
    if (job->check->draft && uses.json == NULL)
        return;
    if (uses.json != NULL && (uses.json->kind != SW_JSON_ARRAY || uses.json->count > 0))
        return;
    for (size_t c = 0; c < catalog->criterion_count; c++)
        if (catalog->criteria[c].kind == SW_SPEED && catalog->criteria[c].id[0] != '\0' &&
            job->scenario->weights[c] > 0)
            sw_wrong(job->check, wishes, "speed is measured by what the machine is used for",
                     "name a use in \"uses\", or give speed no weight",
                     "weighs \"%s\" but names no use", catalog->criteria[c].id);
}

static bool read_one_taste(sw_check *check, const sw_node *at, sw_taste *out) {
    int fact = sw_find(check, at, &check->facts, at->name, "fact", "facts.json");
    if (fact == SW_NONE || check->fact_doubt[fact])
        return false;
    if (check->catalog->facts[fact].type != SW_TOKEN) {
        sw_wrong(check, at, "a taste is about a token fact", "name a token fact",
                 "is about \"%s\", which is none", check->catalog->facts[fact].name);
        return false;
    }
    if (!sw_is_kind(check, at, SW_JSON_ARRAY))
        return false;
    out->fact = fact;
    return sw_check_fact_tokens(check, at, &check->catalog->facts[fact], &out->tokens,
                                &out->token_count);
}

static void read_taste(sw_job *job, const sw_node *wishes) {
    sw_check *check = job->check;
    sw_node taste;
    if (!sw_get(check, wishes, "taste", SW_OPTIONAL, SW_JSON_OBJECT, &taste))
        return;
    sw_taste *tastes = SW_KEEP(check, sw_taste, taste.json->count);
    size_t count = 0;
    for (size_t i = 0; tastes != NULL && i < taste.json->count; i++) {
        sw_node at = sw_element(&taste, i);
        if (strcmp(at.name, "note") == 0)
            sw_is_kind(check, &at, SW_JSON_TEXT);
        else if (read_one_taste(check, &at, &tastes[count]))
            count++;
    }
    job->scenario->tastes = tastes;
    job->scenario->taste_count = count;
}

/* ---- limits ------------------------------------------------------------------------------- */

static void read_limits(sw_job *job, const sw_node *wishes) {
    sw_check *check = job->check;
    sw_scenario *scenario = job->scenario;
    sw_node limits;
    if (!sw_get(check, wishes, "limits", SW_OPTIONAL, SW_JSON_OBJECT, &limits))
        return;
    SW_CHECK_NAMES(check, &limits, "loudness_sone", "days", "bench_minutes");
    sw_get_milli(check, &limits, "loudness_sone", SW_OPTIONAL, 0, SW_MILLI_LIMIT,
                 &scenario->loudness_limit_milli);
    sw_get_count(check, &limits, "days", SW_OPTIONAL, 0, SW_DAYS_LIMIT, &scenario->days_limit);
    sw_get_whole(check, &limits, "bench_minutes", SW_OPTIONAL, 0, SW_MINUTES_LIMIT,
                 &scenario->minutes_limit);
}

void sw_read_wishes(sw_job *job) {
    sw_check *check = job->check;
    sw_node wishes;
    if (!sw_get(check, job->root, "wishes", check->draft ? SW_OPTIONAL : SW_REQUIRED,
                SW_JSON_OBJECT, &wishes)) {
        sw_no_keeping(job);
        return;
    }
    SW_CHECK_NAMES(check, &wishes, "swings", "ranks", "uses", "taste", "keep", "replace", "avoid",
                   "limits", "worth_at_least", "doubt");
    sw_get_milli(check, &wishes, "worth_at_least", SW_OPTIONAL, 0, SW_WORTH_LIMIT,
                 &job->scenario->worth_at_least_milli);
    read_weights(job, &wishes);
    sw_read_doubt(job, &wishes);
    read_uses(job, &wishes);
    check_speed(job, &wishes);
    read_taste(job, &wishes);
    sw_read_keeping(job, &wishes);
    read_limits(job, &wishes);
}
