/* Every way to buy one fit-out, and what it costs. */
#include "fitouts/stage.h"

static sw_line make_line(const sw_fitouts *fitouts, int source, int count) {
    const sw_source *from = &fitouts->sources[source];
    int64_t goods = from->price * count;
    return (sw_line){source, count, goods, from->counted * count,
                     sw_landed(fitouts->scenario, goods)};
}

static void add_money(const sw_fitouts *fitouts, const sw_fitout *fitout, sw_choice *choice) {
    const sw_scenario *scenario = fitouts->scenario;
    const sw_role *role = &fitouts->catalog->roles[fitout->role];
    for (int i = 0; i < choice->line_count; i++)
        choice->cost += choice->lines[i].landed;
    /* A surplus from offers goes back to the client; it pays for nothing else. */
    choice->cost = choice->cost > fitout->offers ? choice->cost - fitout->offers : 0;
    if (fitout->changes) {
        choice->minutes += role->minutes;
        choice->cost += sw_labour(scenario, role->minutes);
    }
    for (int i = 0; i < fitout->task_count; i++) {
        const sw_task *task = &fitouts->catalog->tasks[fitout->tasks[i]];
        choice->minutes += task->minutes;
        choice->cost += sw_landed(scenario, task->price) + sw_labour(scenario, task->minutes);
    }
}

void sw_choices_reprice(sw_fitouts *fitouts, int listing, int64_t price, int64_t counted) {
    for (size_t s = 0; s < fitouts->source_count; s++)
        if (fitouts->sources[s].listing == listing) {
            fitouts->sources[s].price = price;
            fitouts->sources[s].counted = counted;
        }
    for (size_t c = 0; c < fitouts->choice_count; c++) {
        sw_choice *choice = &fitouts->choices[c];
        bool touched = false;
        for (int l = 0; l < choice->line_count; l++) {
            sw_line *line = &choice->lines[l];
            if (fitouts->sources[line->source].listing != listing)
                continue;
            *line = make_line(fitouts, line->source, line->count);
            touched = true;
        }
        if (!touched)
            continue;
        choice->cost = choice->minutes = 0;
        add_money(fitouts, &fitouts->fitouts[choice->fitout], choice);
    }
}

static const char *seller_key(const sw_fitouts *fitouts, const sw_choice *choice) {
    const char *ids[2] = {"", ""};
    for (int i = 0; i < choice->line_count; i++) {
        int seller = fitouts->sources[choice->lines[i].source].seller;
        ids[i] = seller == SW_CLIENT ? "client" : fitouts->catalog->sellers[seller].id;
    }
    return sw_arena_format(fitouts->arena, "%s\n%s", ids[0], ids[1]);
}

static sw_status append(sw_fitouts *fitouts, int fitout, const int *sources,
                        sw_complaints *complaints) {
    sw_fitout *of = &fitouts->fitouts[fitout];
    int role_first = fitouts->fitouts[fitouts->first_fitout[of->role]].first_choice;
    if (fitouts->choice_count - (size_t)role_first >= SW_CHOICE_LIMIT)
        return sw_too_many(fitouts, of->role, complaints);
    sw_choice choice = {.fitout = fitout, .line_count = of->added_count};
    for (int i = 0; i < of->added_count && i < SW_KINDS_MOST; i++)
        choice.lines[i] = make_line(fitouts, sources[i], of->added[i].count);
    add_money(fitouts, of, &choice);
    choice.seller_key = seller_key(fitouts, &choice);
    if (choice.seller_key == NULL ||
        !SW_GROW(fitouts->choices, fitouts->choice_room, fitouts->choice_count))
        return SW_NO_MEMORY;
    fitouts->choices[fitouts->choice_count++] = choice;
    of->choice_count++;
    return SW_OK;
}

static bool sells(const sw_fitouts *fitouts, size_t source, const sw_added *added) {
    return fitouts->sources[source].part == added->part &&
           fitouts->sources[source].stock >= added->count;
}

static size_t first_source(const sw_fitouts *fitouts, int part) {
    size_t low = 0, high = fitouts->source_count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (fitouts->sources[middle].part < part)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* A part that must be used is the one given, not one bought: false when a part of
 * the fit-out breaks that. */
static bool uses_given(const sw_fitouts *fitouts, const sw_fitout *of, const int *sources) {
    const sw_scenario *scenario = fitouts->scenario;
    for (size_t g = 0; g < scenario->given_count; g++)
        for (int i = 0; scenario->given[g].must_use && i < of->added_count && i < SW_KINDS_MOST;
             i++)
            if (of->added[i].part == scenario->given[g].part &&
                fitouts->sources[sources[i]].seller != SW_CLIENT)
                return false;
    return true;
}

/* Fills sources[at..] in every way. At most two levels deep. */
static sw_status fill(sw_fitouts *fitouts, int fitout, int at, int *sources,
                      sw_complaints *complaints) {
    const sw_fitout *of = &fitouts->fitouts[fitout];
    if (at == of->added_count || at == SW_KINDS_MOST)
        return !uses_given(fitouts, of, sources) ? SW_OK
                                                 : append(fitouts, fitout, sources, complaints);
    sw_status status = SW_OK;
    for (size_t s = first_source(fitouts, of->added[at].part);
         s < fitouts->source_count && fitouts->sources[s].part == of->added[at].part &&
         status == SW_OK;
         s++)
        if (sells(fitouts, s, &of->added[at])) {
            sources[at] = (int)s;
            status = fill(fitouts, fitout, at + 1, sources, complaints);
        }
    return status;
}

sw_status sw_choices_make(sw_fitouts *fitouts, int fitout, sw_complaints *complaints) {
    int sources[SW_KINDS_MOST] = {SW_NONE, SW_NONE};
    fitouts->fitouts[fitout].first_choice = (int)fitouts->choice_count;
    return fill(fitouts, fitout, 0, sources, complaints);
}
