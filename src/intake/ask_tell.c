/* What was answered, in words to be agreed to. */
#include <string.h>

#include "intake/ask_stage.h"

static void put(sw_text *text, const char *more) {
    sw_text_addf(text, "%s%s", text->length > 0 ? ", " : "", more);
}

static void tell_troubles(sw_interview *interview, sw_text *out) {
    const sw_told *told = &interview->told;
    for (size_t t = 0; t < told->trouble_count; t++)
        put(out, sw_ask_format(interview, "%s (\"%s\")",
                               interview->draft->catalog->troubles[told->troubles[t].trouble].name,
                               told->troubles[t].words));
}

static const char *use_name(const sw_interview *interview, size_t use) {
    return interview->draft->catalog->uses[interview->told.uses[use].use].name;
}

static void tell_uses(sw_interview *interview, sw_text *out) {
    const sw_told *told = &interview->told;
    for (size_t u = 0; u < told->use_count; u++)
        put(out, sw_ask_format(interview, "%s %s %%", use_name(interview, u),
                               sw_ask_milli_text(interview, told->uses[u].share_milli)));
}

static void tell_rates(sw_interview *interview, sw_text *out) {
    const sw_told *told = &interview->told;
    for (size_t u = 0; u < told->use_count; u++) {
        const sw_said_use *use = &told->uses[u];
        if (use->now_milli <= 0)
            continue;
        put(out, sw_ask_format(interview, "%s %s %s", use_name(interview, u),
                               sw_ask_milli_text(interview, use->now_milli),
                               interview->draft->catalog->uses[use->use].unit));
        if (use->wanted_milli > 0)
            sw_text_addf(out, " (wanted %s)", sw_ask_milli_text(interview, use->wanted_milli));
    }
}

static void tell_order(sw_interview *interview, sw_text *out, bool with_worth) {
    const sw_told *told = &interview->told;
    for (size_t k = 0; k < told->order_count; k++) {
        int swing = told->order[k];
        const char *gain = interview->form->swings[swing].gain;
        put(out, with_worth ? sw_ask_format(interview, "%s %s", gain,
                                            sw_ask_milli_text(interview, told->worth_milli[swing]))
                            : gain);
    }
}

static void tell_taste(const sw_interview *interview, sw_text *out) {
    for (size_t p = 0; p < interview->form->pair_count; p++)
        if (interview->told.sides[p] != SW_NONE)
            put(out, interview->form->pairs[p].sides[interview->told.sides[p]].name);
}

static void tell_budget(sw_interview *interview, sw_text *out) {
    const sw_told *told = &interview->told;
    put(out, sw_ask_format(interview, "%s %s", sw_ask_money_text(interview, told->total),
                           interview->draft->catalog->currency));
    if (told->reserve >= 0)
        put(out,
            sw_ask_format(interview, "reserve %s", sw_ask_money_text(interview, told->reserve)));
}

static void tell_later(sw_interview *interview, sw_text *out) {
    const sw_told *told = &interview->told;
    for (size_t i = 0; i < told->sum_count; i++)
        put(out,
            sw_ask_format(interview, "%s %s%s", told->sums[i].on,
                          sw_ask_money_text(interview, told->sums[i].sum),
                          told->sums[i].day <= interview->draft->day ? " (counted as money of now)"
                                                                     : ""));
    if (told->until != NULL)
        put(out, sw_ask_format(interview, "until %s", told->until));
}

static void tell_keep(sw_interview *interview, sw_text *out) {
    const sw_scenario *draft = interview->draft;
    const sw_told *told = &interview->told;
    bool whole = false;
    for (size_t i = 0; i < told->stayer_count; i++) {
        const sw_stayer *one = &told->stayers[i];
        if (one->part == SW_NONE)
            whole = one->kept;
        if (one->kept && (one->part == SW_NONE || !whole))
            put(out, one->part == SW_NONE ? draft->catalog->roles[one->role].name
                                          : draft->parts[one->part].name);
    }
}

static void tell_limit(sw_interview *interview, sw_text *out, const char *name, int64_t said,
                       const char *number) {
    if (said == SW_LIMIT_NONE)
        put(out, sw_ask_format(interview, "no limit on %s", name));
    else if (said != SW_LIMIT_UNSAID)
        put(out, sw_ask_format(interview, "%s at most %s", name, number));
}

static void tell_limits(sw_interview *interview, sw_text *out) {
    const sw_told *told = &interview->told;
    tell_limit(
        interview, out, "loudness", told->loudness_milli,
        sw_ask_format(interview, "%s sone", sw_ask_milli_text(interview, told->loudness_milli)));
    tell_limit(interview, out, "days", told->days,
               sw_ask_format(interview, "%lld", (long long)told->days));
    tell_limit(interview, out, "minutes", told->minutes,
               sw_ask_format(interview, "%lld", (long long)told->minutes));
}

const char *sw_ask_tells(sw_interview *interview, sw_topic topic) {
    const sw_told *told = &interview->told;
    sw_text text = {0};
    switch (topic) {
    case SW_TOPIC_COMPLAINT:
        tell_troubles(interview, &text);
        break;
    case SW_TOPIC_USES:
        tell_uses(interview, &text);
        break;
    case SW_TOPIC_RATES:
        tell_rates(interview, &text);
        break;
    case SW_TOPIC_ORDER:
        tell_order(interview, &text, false);
        break;
    case SW_TOPIC_WORTH:
        tell_order(interview, &text, true);
        break;
    case SW_TOPIC_TASTE:
        tell_taste(interview, &text);
        break;
    case SW_TOPIC_BUDGET:
        tell_budget(interview, &text);
        break;
    case SW_TOPIC_LATER:
        tell_later(interview, &text);
        break;
    case SW_TOPIC_KEEP:
        tell_keep(interview, &text);
        break;
    case SW_TOPIC_AVOID:
        for (size_t m = 0; m < told->maker_count; m++)
            if (told->avoided[m])
                put(&text, told->makers[m]);
        break;
    case SW_TOPIC_LIMITS:
        tell_limits(interview, &text);
        break;
    case SW_TOPIC_SURPRISE:
        put(&text, interview->draft->catalog->paper.surprises[told->surprise].name);
        break;
    case SW_TOPIC_COUNT:
        break;
    }
    if (text.length == 0)
        sw_text_add(&text, "none");
    return sw_ask_keep(interview, &text);
}
