/* The sentences that the sheet and the page about the options share. */
#include "render/options.h"

#include <string.h>

const char *const sw_option_places[] = {
    [SW_FIRST] = "first", [SW_MIDDLE] = "middle", [SW_FULL] = "full"};
const char *const sw_option_names[] = {
    [SW_FIRST] = "First step", [SW_MIDDLE] = "Middle way", [SW_FULL] = "Full measure"};

const char *sw_option_reason(sw_sheet *s, const sw_options *options, const sw_option *option) {
    switch (option->rule) {
    case SW_OPTION_ENDS_COMPLAINT:
        return SW_FORMAT(s, "the least money that ends \"%s\"",
                         options->troubles[option->trouble].name);
    case SW_OPTION_KEEPS_MONEY:
        return "what can be done without buying more than must be: the rest of the money is better "
               "kept";
    case SW_OPTION_BEST_RATE:
        return "most for each coin of all that can be bought";
    case SW_OPTION_BEND:
        if (options->knee != NULL && options->knee->cost == option->bundle.cost)
            return SW_FORMAT(
                s, "the best balance: each 100 %s up to here bring more than those beyond",
                options->plan->currency);
        return "between the two: the best balance of those that end the same and are of another "
               "kind";
    case SW_OPTION_NESTED_BEND:
        return "between the two, so that no part bought on the way is given up";
    default:
        return "the most that all the money to spend can bring";
    }
}

const char *sw_option_enders(sw_sheet *s, const sw_options *options, size_t trouble) {
    const char *line = NULL;
    size_t count = 0, said = 0;
    for (size_t i = 0; i < options->count; i++)
        count += options->options[i].ends[trouble];
    for (size_t i = 0; i < options->count; i++) {
        if (!options->options[i].ends[trouble])
            continue;
        said++;
        line = said == 1 ? SW_FORMAT(s, "option%s %zu", count > 1 ? "s" : "", i + 1)
                         : SW_FORMAT(s, "%s%s %zu", line, said == count ? " and" : ",", i + 1);
    }
    return line;
}

const char *sw_option_fate(sw_sheet *s, const sw_options *options, size_t trouble) {
    const sw_told_trouble *told = &options->troubles[trouble];
    const sw_answer *a = options->plan;
    if (options->count == 0)
        return "";
    if (!told->shows)
        return "In the figures of this machine it does not show: let us look at it together.";
    const char *enders = sw_option_enders(s, options, trouble);
    if (enders != NULL)
        return SW_FORMAT(s, "Ended by %s (%s).", enders, told->goal);
    if (!told->settled)
        return "Whether it can be ended for the money there is was not settled.";
    if (told->ended)
        return SW_FORMAT(s,
                         "It could be ended for the money there is (%s), but none of these "
                         "options does: other things bring more.",
                         told->goal);
    if (told->least < 0)
        return told->lacks_must
                   ? "It waits for a look at the bench: what has to be done for it is not known "
                     "yet."
                   : SW_FORMAT(s,
                               "Nothing that is on offer and may be changed ends it (%s), whatever "
                               "it costs.",
                               told->goal);
    return SW_FORMAT(s, "The money there is does not end it (%s): that takes %s %s at the least.",
                     told->goal, sw_sheet_money(s, told->least), a->currency);
}

const char *sw_option_rate(sw_sheet *s, const sw_answer_rate *rate) {
    bool known = rate->rate_now > 0;
    int digits = !known ? 2 : rate->rate_then < 10 ? 1 : 0;
    const char *mid = sw_sheet_decimal(s, known ? rate->rate_then : rate->ratio, digits);
    const char *low = sw_sheet_decimal(s, known ? rate->rate_low : rate->low, digits);
    const char *high = sw_sheet_decimal(s, known ? rate->rate_high : rate->high, digits);
    const char *unit = known ? rate->unit : "times today's rate";
    return strcmp(low, high) == 0 ? SW_FORMAT(s, "%s %s", mid, unit)
                                  : SW_FORMAT(s, "%s (%s to %s) %s", mid, low, high, unit);
}

/* What would be back: complaints that this option ends and the other does not. */
static const char *back(sw_sheet *s, const sw_options *options, const sw_option *option,
                        const sw_option *to) {
    const char *line = "";
    for (size_t t = 0; t < options->trouble_count; t++)
        if (options->troubles[t].shows && option->ends[t] && !to->ends[t])
            line = SW_FORMAT(s, "%s; \"%s\" would be back", line, options->troubles[t].name);
    return line;
}

const char *sw_option_going_on(sw_sheet *s, const sw_options *options, const sw_option *option,
                               const sw_given_up *given) {
    const char *paid = "", *free = "";
    for (size_t i = 0; i < given->count; i++) {
        const char **list = given->parts[i].price > 0 ? &paid : &free;
        *list = SW_FORMAT(s, "%s%s%s", *list, (*list)[0] == '\0' ? "" : ", ",
                          sw_sheet_part(s, &given->parts[i]));
    }
    const char *line = SW_FORMAT(s, "to option %zu: no part bought is given up", given->to + 1);
    if (paid[0] != '\0')
        line = SW_FORMAT(s, "to option %zu: gives up %s, bought for %s %s", given->to + 1, paid,
                         sw_sheet_money(s, given->price), options->plan->currency);
    if (free[0] != '\0')
        line = SW_FORMAT(s, "%s%s %s, which cost its fitting alone",
                         paid[0] != '\0' ? line : SW_FORMAT(s, "to option %zu:", given->to + 1),
                         paid[0] != '\0' ? ", and" : " gives up", free);
    return SW_FORMAT(s, "%s%s", line, back(s, options, option, &options->options[given->to]));
}

const char *sw_option_more(sw_sheet *s, const sw_options *options, const sw_option *option) {
    const sw_answer *a = options->plan;
    const char *line = "";
    if (option->next == NULL && options->curve->status == SW_OPTIMAL)
        return SW_FORMAT(s, "Up to %s %s nothing brings more.",
                         sw_sheet_money(s, options->curve->curve_to), a->currency);
    if (option->instead != NULL)
        line = SW_FORMAT(
            s, "For the same money %s points could be had, but that complaint would stay.",
            sw_sheet_points(s, option->instead->points));
    else if (option->next != NULL)
        line = SW_FORMAT(s, "%s %s more would bring %s points more%s.",
                         sw_sheet_money(s, option->next->cost - option->bundle.cost), a->currency,
                         sw_sheet_points(s, option->next->points - option->bundle.points),
                         option->next_ends ? "" : ", but not end that complaint");
    if (option->hundred != NULL && option->hundred->points > option->bundle.points)
        line = SW_FORMAT(s, "%s%sThe next 100 %s would bring %s points more.", line,
                         line[0] == '\0' ? "" : " ", a->currency,
                         sw_sheet_points(s, option->hundred->points - option->bundle.points));
    else if (option->hundred != NULL)
        line = SW_FORMAT(s, "%s%sThe next 100 %s would bring nothing.", line,
                         line[0] == '\0' ? "" : " ", a->currency);
    return line;
}

const char *sw_days(sw_sheet *s, int days) {
    return days == 0 ? "no day" : days == 1 ? "1 day" : SW_FORMAT(s, "%d days", days);
}
