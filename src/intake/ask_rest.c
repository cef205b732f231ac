/* Money, what stays, what is not bought, limits, surprises. */
#include <stdlib.h>
#include <string.h>

#include "check/stage.h"
#include "intake/ask_stage.h"

#define LATER_MOST 11 /* with the sum of now, as many as a scenario takes */

/* ---- money -------------------------------------------------------------------------------- */

/* "650 EUR" is what people write. */
static void drop_currency(const sw_interview *interview, sw_pieces *words) {
    size_t kept = 0;
    for (size_t i = 0; i < words->count; i++)
        if (!sw_ask_same(words->list[i], interview->draft->catalog->currency))
            words->list[kept++] = words->list[i];
    words->count = kept;
}

bool sw_ask_hear_budget(sw_interview *interview, const char *text) {
    sw_told *told = &interview->told;
    sw_pieces things, words;
    if (!sw_ask_things(interview, text, &things))
        return false;
    if (things.count == 0 || things.count > 2)
        return sw_ask_refuse(interview,
                             "write one sum, and behind a comma the reserve: 650, reserve 30");
    if (!sw_ask_words(interview, things.list[0], "", &words))
        return false;
    drop_currency(interview, &words);
    if (!sw_ask_money(interview, words.count == 1 ? words.list[0] : things.list[0], &told->total))
        return false;
    if (things.count == 1)
        return true;
    if (!sw_ask_words(interview, things.list[1], "", &words))
        return false;
    drop_currency(interview, &words);
    if (words.count != 2 || !sw_ask_same(words.list[0], "reserve"))
        return sw_ask_refuse(interview,
                             "\"%s\" is no reserve: write the word before the sum, as in: 650, "
                             "reserve 30",
                             sw_ask_shown(interview, things.list[1]));
    return sw_ask_money(interview, words.list[1], &told->reserve);
}

static bool hear_sum(sw_interview *interview, const char *thing) {
    sw_told *told = &interview->told;
    sw_pieces words;
    sw_said_sum one = {.on = ""};
    if (!sw_ask_words(interview, thing, "", &words))
        return false;
    drop_currency(interview, &words);
    const char *shown = sw_ask_shown(interview, thing);
    bool ends = words.count == 2 && sw_ask_same(words.list[0], "until");
    if (words.count != 2 || !sw_date_parse(&one.day, words.list[ends ? 1 : 0]))
        return sw_ask_refuse(interview,
                             "\"%s\": write a day of the calendar and its sum, and the end behind "
                             "\"until\", as in: 2026-06-01 200, until 2027-03-01",
                             shown);
    if (ends) {
        told->until = words.list[1];
        told->until_day = one.day;
        return true;
    }
    one.on = words.list[0];
    if (!sw_ask_money(interview, words.list[1], &one.sum))
        return false;
    if (told->sum_count > 0 && one.day <= told->sums[told->sum_count - 1].day)
        return sw_ask_refuse(interview,
                             "%s is not later than %s: write the sums in the order of their days, "
                             "one for a day",
                             one.on, told->sums[told->sum_count - 1].on);
    told->sums[told->sum_count++] = one;
    return true;
}

/* What is counted as money of now must still be an amount. */
static bool early_sums_fit(sw_interview *interview) {
    const sw_told *told = &interview->told;
    int64_t total = told->total >= 0 ? told->total : interview->draft->budget_total;
    for (size_t i = 0; i < told->sum_count; i++) {
        if (told->sums[i].day > interview->draft->day)
            break;
        if (sw_ask_doubt_form(interview, SW_DOUBT_LATER) == NULL)
            return sw_ask_refuse(interview,
                                 "%s is not after the day of this paper, %s: add its "
                                 "sum to the money of now",
                                 told->sums[i].on, interview->draft->date);
        total += told->sums[i].sum;
    }
    return total <= SW_MONEY_LIMIT ||
           sw_ask_refuse(interview, "the sums that are there already come to more than an amount "
                                    "can be: write smaller ones");
}

bool sw_ask_hear_later(sw_interview *interview, const char *text) {
    sw_told *told = &interview->told;
    sw_pieces things;
    told->sum_count = 0;
    told->until = NULL;
    if (sw_ask_same(text, "none"))
        return true;
    if (!sw_ask_things(interview, text, &things))
        return false;
    if (things.count < 2 || things.count > LATER_MOST + 1)
        return sw_ask_refuse(interview,
                             "write 1 to %d days with their sums, then the end, as in: 2026-06-01 "
                             "200, until 2027-03-01",
                             LATER_MOST);
    told->sums = SW_ASK_NEW(interview, sw_said_sum, things.count);
    if (told->sums == NULL)
        return false;
    for (size_t i = 0; i < things.count; i++) {
        if (told->until != NULL)
            return sw_ask_refuse(interview, "\"until\" stands last: write the sums before it");
        if (!hear_sum(interview, things.list[i]))
            return false;
    }
    if (told->until == NULL)
        return sw_ask_refuse(interview,
                             "until when it is looked ahead is not said: write \"until\" "
                             "and a day behind the sums");
    if (told->sum_count == 0 || told->until_day <= told->sums[told->sum_count - 1].day ||
        told->until_day <= interview->draft->day)
        return sw_ask_refuse(interview,
                             "%s is not later than the last sum and the day of this "
                             "paper, %s: choose a later day",
                             told->until, interview->draft->date);
    return early_sums_fit(interview);
}

/* ---- what stays ------------------------------------------------------------------------------ */

/* Why that piece cannot stay; NULL: it can. */
static const char *must_go(sw_interview *interview, int role, int part) {
    const sw_scenario *draft = interview->draft;
    if (draft->replace_part[part] || draft->replace_role[role])
        return "it is to be replaced";
    for (size_t m = 0; m < draft->must_count; m++)
        if (draft->musts[m].part == part)
            return draft->musts[m].why[0] != '\0' ? draft->musts[m].why : "it must be replaced";
    return NULL;
}

static void add_stayer(sw_interview *interview, int role, int part, const char *why) {
    sw_told *told = &interview->told;
    const sw_scenario *draft = interview->draft;
    bool kept = draft->keep_role[role];
    if (part != SW_NONE)
        kept = kept || draft->keep_part[part];
    told->stayers[told->stayer_count++] = (sw_stayer){role, part, why, kept};
}

static void list_role(sw_interview *interview, int role) {
    const sw_scenario *draft = interview->draft;
    const char *why = NULL;
    for (size_t i = 0; i < draft->machine_count[role] && why == NULL; i++)
        why = must_go(interview, role, draft->machine[role][i].part);
    if (draft->machine_count[role] == 0)
        return;
    add_stayer(interview, role, SW_NONE, why);
    sw_stayer *whole = &interview->told.stayers[interview->told.stayer_count - 1];
    bool all = true;
    for (size_t i = 0; i < draft->machine_count[role]; i++) {
        int part = draft->machine[role][i].part;
        all = all && draft->keep_part[part];
        if (draft->machine_count[role] > 1)
            add_stayer(interview, role, part, must_go(interview, role, part));
    }
    whole->kept = whole->kept || all;
}

void sw_ask_list_stayers(sw_interview *interview) {
    const sw_scenario *draft = interview->draft;
    size_t room = 0;
    for (size_t r = 0; r < draft->catalog->role_count; r++)
        room += draft->machine_count[r] + 1;
    interview->told.stayers = SW_ASK_NEW(interview, sw_stayer, room);
    for (size_t r = 0; interview->told.stayers != NULL && r < draft->catalog->role_count; r++)
        list_role(interview, (int)r);
}

/* With a role all of its pieces stay. */
static void spread(sw_told *told) {
    for (size_t i = 0; i < told->stayer_count; i++)
        for (size_t k = 0;
             told->stayers[i].kept && told->stayers[i].part == SW_NONE && k < told->stayer_count;
             k++)
            if (told->stayers[k].role == told->stayers[i].role)
                told->stayers[k].kept = true;
}

static bool keep_one(sw_interview *interview, size_t at) {
    sw_stayer *one = &interview->told.stayers[at];
    if (one->must_go != NULL)
        return sw_ask_refuse(interview, "number %zu cannot stay (%s): leave it out", at + 1,
                             sw_ask_shown(interview, one->must_go));
    one->kept = true;
    return true;
}

/* All that can stay; what cannot is told. */
static void keep_all(sw_interview *interview) {
    const sw_scenario *draft = interview->draft;
    sw_text gone = {0};
    for (size_t i = 0; i < interview->told.stayer_count; i++) {
        sw_stayer *one = &interview->told.stayers[i];
        one->kept = one->must_go == NULL;
        bool several = draft->machine_count[one->role] > 1;
        if (one->kept || (several && one->part == SW_NONE))
            continue;
        int part = several ? one->part : draft->machine[one->role][0].part;
        sw_text_addf(&gone, "%s%s (%s)", gone.length > 0 ? "; " : "",
                     sw_ask_shown(interview, draft->parts[part].name),
                     sw_ask_shown(interview, one->must_go));
    }
    if (gone.length > 0)
        sw_ask_notice(interview,
                      sw_ask_format(interview, "All stays but what cannot: %s", gone.bytes));
    interview->failed |= gone.failed;
    sw_text_free(&gone);
}

bool sw_ask_hear_keep(sw_interview *interview, const char *text) {
    sw_told *told = &interview->told;
    int *numbers = NULL;
    size_t count = 0;
    for (size_t i = 0; i < told->stayer_count; i++)
        told->stayers[i].kept = false;
    if (sw_ask_same(text, "none"))
        return true;
    if (sw_ask_same(text, "all")) {
        keep_all(interview);
    } else {
        if (!sw_ask_numbers(interview, text, told->stayer_count, &numbers, &count))
            return false;
        for (size_t i = 0; i < count; i++)
            if (!keep_one(interview, (size_t)numbers[i]))
                return false;
    }
    spread(told);
    return true;
}

/* ---- what is not bought ------------------------------------------------------------------------
 */

static int by_bytes(const void *left, const void *right) {
    return strcmp(*(const char *const *)left, *(const char *const *)right);
}

void sw_ask_list_makers(sw_interview *interview) {
    const sw_scenario *draft = interview->draft;
    sw_told *told = &interview->told;
    size_t count = 0;
    told->makers = SW_ASK_NEW(interview, const char *, draft->catalog->part_count);
    told->avoided = SW_ASK_NEW(interview, bool, draft->catalog->part_count);
    if (told->makers == NULL || told->avoided == NULL)
        return;
    for (size_t p = 0; p < draft->catalog->part_count; p++)
        if (draft->catalog->parts[p].maker[0] != '\0')
            told->makers[count++] = draft->catalog->parts[p].maker;
    if (count > 0)
        qsort(told->makers, count, sizeof *told->makers, by_bytes);
    for (size_t i = 0; i < count; i++)
        if (told->maker_count == 0 ||
            strcmp(told->makers[told->maker_count - 1], told->makers[i]) != 0)
            told->makers[told->maker_count++] = told->makers[i];
    for (size_t m = 0; m < told->maker_count; m++)
        for (size_t a = 0; a < draft->avoid_count; a++)
            told->avoided[m] = told->avoided[m] || strcmp(draft->avoid[a], told->makers[m]) == 0;
}

static bool avoid_maker(sw_interview *interview, size_t maker) {
    sw_told *told = &interview->told;
    if (told->avoided[maker])
        return sw_ask_refuse(interview, "%s stands there twice: write it once",
                             sw_ask_shown(interview, told->makers[maker]));
    told->avoided[maker] = true;
    return true;
}

static bool hear_maker(sw_interview *interview, const char *thing) {
    const sw_told *told = &interview->told;
    int *numbers = NULL;
    size_t count = 0;
    if (thing[0] >= '0' && thing[0] <= '9') {
        if (!sw_ask_numbers(interview, thing, told->maker_count, &numbers, &count))
            return false;
        for (size_t i = 0; i < count; i++)
            if (!avoid_maker(interview, (size_t)numbers[i]))
                return false;
        return true;
    }
    for (size_t m = 0; m < told->maker_count; m++)
        if (sw_ask_same(thing, told->makers[m]))
            return avoid_maker(interview, m);
    const char *near = sw_nearest(thing, told->makers, told->maker_count);
    return sw_ask_refuse(
        interview, "\"%s\" is no maker of the list: %s%s%s", sw_ask_shown(interview, thing),
        near == NULL ? "write its number or its name" : "did you mean ",
        near == NULL ? "" : sw_ask_shown(interview, near), near == NULL ? "" : "?");
}

bool sw_ask_hear_avoid(sw_interview *interview, const char *text) {
    sw_told *told = &interview->told;
    sw_pieces things;
    for (size_t m = 0; m < told->maker_count; m++)
        told->avoided[m] = false;
    if (sw_ask_same(text, "none"))
        return true;
    if (!sw_ask_things(interview, text, &things))
        return false;
    for (size_t i = 0; i < things.count; i++)
        if (!hear_maker(interview, things.list[i]))
            return false;
    return things.count > 0 || sw_ask_refuse(interview, "no maker stands there: write a number");
}

/* ---- limits
 * -------------------------------------------------------------------------------------- */

static bool hear_limit(sw_interview *interview, const char *thing) {
    sw_told *told = &interview->told;
    static const char *const names[] = {"loudness", "days", "minutes"};
    int64_t *const places[] = {&told->loudness_milli, &told->days, &told->minutes};
    static const int64_t most[] = {0, SW_DAYS_LIMIT, SW_MINUTES_LIMIT};
    sw_pieces words;
    size_t which = 0;
    if (!sw_ask_words(interview, thing, "", &words))
        return false;
    bool unit = words.count == 3 && sw_ask_same(words.list[0], names[0]) &&
                (sw_ask_same(words.list[2], "sone") || sw_ask_same(words.list[2], "sones"));
    words.count -= unit;
    while (which < 3 && (words.count != 2 || !sw_ask_same(words.list[0], names[which])))
        which++;
    if (which == 3)
        return sw_ask_refuse(interview,
                             "\"%s\" is no limit: write loudness, days or minutes and a number, as "
                             "in: loudness 2.5, days 6, minutes 180",
                             sw_ask_shown(interview, thing));
    if (*places[which] != SW_LIMIT_UNSAID)
        return sw_ask_refuse(interview, "%s stands there twice: write it once", names[which]);
    if (sw_ask_same(words.list[1], "none")) {
        *places[which] = SW_LIMIT_NONE;
        return true;
    }
    bool good = which == 0 ? sw_ask_milli(words.list[1], places[0])
                           : sw_ask_whole(words.list[1], 0, most[which], places[which]);
    return good || sw_ask_refuse(interview,
                                 which == 0 ? "\"%s\" is no loudness: write sone in digits, with a "
                                              "point for decimals, as in 2.5"
                                            : "\"%s\" is no whole number of days or minutes that "
                                              "can be counted with: write digits, as in 6",
                                 sw_ask_shown(interview, words.list[1]));
}

bool sw_ask_hear_limits(sw_interview *interview, const char *text) {
    sw_told *told = &interview->told;
    sw_pieces things;
    told->loudness_milli = told->days = told->minutes = SW_LIMIT_UNSAID;
    if (sw_ask_same(text, "none")) {
        told->loudness_milli = told->days = told->minutes = SW_LIMIT_NONE;
        return true;
    }
    if (!sw_ask_things(interview, text, &things))
        return false;
    for (size_t i = 0; i < things.count; i++)
        if (!hear_limit(interview, things.list[i]))
            return false;
    return things.count > 0 || sw_ask_refuse(interview, "no limit stands there: write days 6");
}

/* ---- surprises
 * ------------------------------------------------------------------------------------ */

bool sw_ask_hear_surprise(sw_interview *interview, const char *text) {
    int *numbers = NULL;
    size_t count = 0;
    size_t most = interview->draft->catalog->paper.surprise_count;
    if (!sw_ask_numbers(interview, text, most, &numbers, &count))
        return false;
    if (count != 1)
        return sw_ask_refuse(interview, "only one of them can hold: write one number");
    interview->told.surprise = numbers[0];
    return true;
}
