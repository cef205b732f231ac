/* Which weightings may be right: FORMATS.md section 33. */
#include "check/stage.h"

#include <string.h>

#define FACTOR_MILLI 1500 /* of swings of which nothing is said */
#define FACTOR_MOST_MILLI 100000
#define WEIGHED_MOST 7 /* criteria of which each combination of lows and highs is an extreme */

/* The first of the largest swings; SW_NONE when there is none above 0. */
static int find_measure(const sw_scenario *scenario, size_t count) {
    int measure = SW_NONE;
    for (size_t c = 0; c < count; c++)
        if (scenario->doubt.high[c] > 0 &&
            (measure == SW_NONE || scenario->doubt.high[c] > scenario->doubt.high[measure]))
            measure = (int)c;
    return measure;
}

static void spread_by(sw_weight_doubt *doubt, size_t count, int64_t factor_milli) {
    for (size_t c = 0; c < count; c++) {
        if ((int)c == doubt->measure)
            continue;
        doubt->low[c] = doubt->low[c] * 1000 / factor_milli;
        doubt->high[c] = (doubt->high[c] * factor_milli + 999) / 1000;
    }
}

static void read_range(sw_job *job, const sw_node *at) {
    sw_check *check = job->check;
    sw_weight_doubt *doubt = &job->scenario->doubt;
    int64_t low = 0, high = 0;
    int criterion = sw_find(check, at, &check->criteria, at->name, "criterion", "criteria.json");
    if (!sw_is_kind(check, at, SW_JSON_ARRAY))
        return;
    if (at->json->count != 2) {
        sw_wrong(check, at, "a swing in doubt lies between two numbers", "write [LOW, HIGH]",
                 "has %zu entries", at->json->count);
        return;
    }
    sw_node first = sw_element(at, 0), second = sw_element(at, 1);
    bool good = sw_check_milli(check, &first, 0, SW_MILLI_LIMIT, &low);
    good &= sw_check_milli(check, &second, 0, SW_MILLI_LIMIT, &high);
    if (!good || criterion == SW_NONE)
        return;
    if (low > high)
        sw_wrong(check, at, "the lower of the two comes first", "change the two over",
                 "begins with the higher number");
    else if (criterion == doubt->measure)
        sw_wrong(check, at, "the largest swing is what the others are measured by",
                 "take it away here", "is of the criterion with the largest swing");
    else if (doubt->high[criterion] == 0)
        sw_wrong(check, at, "a swing that is in doubt is one of \"swings\"",
                 "give it a swing above 0", "is of a criterion without a swing");
    else {
        doubt->low[criterion] = low;
        doubt->high[criterion] = high;
    }
}

static void read_ranges(sw_job *job, const sw_node *ranges) {
    for (size_t i = 0; i < ranges->json->count; i++) {
        sw_node at = sw_element(ranges, i);
        if (strcmp(at.name, "note") == 0)
            sw_is_kind(job->check, &at, SW_JSON_TEXT);
        else
            read_range(job, &at);
    }
}

/* The one form that it has; false after a complaint. */
static bool has_one_form(sw_check *check, const sw_node *doubt) {
    size_t forms = 0;
    static const char *const names[] = {"factor", "swings", "any"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        forms += sw_member(doubt, names[i]).json != NULL;
    if (forms != 1)
        sw_wrong(check, doubt, "doubt about weights is of one kind",
                 "give one of: factor, swings, any",
                 forms == 0 ? "says nothing" : "says two things");
    return forms == 1;
}

static void read_stated(sw_job *job, const sw_node *at) {
    sw_check *check = job->check;
    sw_weight_doubt *doubt = &job->scenario->doubt;
    size_t count = check->catalog->criterion_count;
    int64_t factor = FACTOR_MILLI;
    bool any = true;
    sw_node ranges;
    if (!SW_CHECK_NAMES(check, at, "factor", "swings", "any") || !has_one_form(check, at))
        return;
    if (sw_member(at, "any").json != NULL) {
        sw_node found = sw_member(at, "any");
        if (sw_get_flag(check, at, "any", SW_REQUIRED, &any) && !any)
            sw_wrong(check, &found, "it says that nothing is known", "write true, or a factor of 1",
                     "is false");
        doubt->how = SW_DOUBT_ANY;
        return;
    }
    if (doubt->how == SW_DOUBT_RANKS) {
        sw_wrong(check, at, "an order alone allows every weighting in that order",
                 "take the doubt away, or give swings", "is about swings, where \"ranks\" stand");
        return;
    }
    if (sw_get_milli(check, at, "factor", SW_OPTIONAL, 1000, FACTOR_MOST_MILLI, &factor))
        spread_by(doubt, count, factor);
    else if (sw_get(check, at, "swings", SW_OPTIONAL, SW_JSON_OBJECT, &ranges))
        read_ranges(job, &ranges);
}

void sw_read_doubt(sw_job *job, const sw_node *wishes) {
    sw_check *check = job->check;
    sw_weight_doubt *doubt = &job->scenario->doubt;
    size_t count = check->catalog->criterion_count, weighed = 0;
    sw_node at = sw_member(wishes, "doubt"), found;
    doubt->how = sw_member(wishes, "ranks").json != NULL ? SW_DOUBT_RANKS : SW_DOUBT_SWINGS;
    doubt->measure = find_measure(job->scenario, count);
    for (size_t c = 0; c < count; c++)
        weighed += doubt->high[c] > 0;
    if (at.json == NULL && doubt->how == SW_DOUBT_SWINGS && weighed <= WEIGHED_MOST)
        spread_by(doubt, count, FACTOR_MILLI);
    else if (sw_get(check, wishes, "doubt", SW_OPTIONAL, SW_JSON_OBJECT, &found))
        read_stated(job, &found);
    if (at.json != NULL && doubt->how == SW_DOUBT_SWINGS && weighed > WEIGHED_MOST)
        sw_wrong(check, &at, "each combination of lows and highs is looked at",
                 "give fewer criteria a swing", "is about %zu criteria, at most %d", weighed,
                 WEIGHED_MOST);
}
