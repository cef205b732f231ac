/* Of each question: is it asked, what stands already, what there is to choose from. */
#include <string.h>

#include "intake/ask_stage.h"
#include "read/json.h"

/* ---- is it asked ------------------------------------------------------------------------------
 */

static bool looks_count(sw_interview *interview) {
    const sw_catalog *catalog = interview->draft->catalog;
    const double *weights = sw_ask_weights(interview);
    for (size_t s = 0; weights != NULL && s < interview->form->swing_count; s++)
        if (weights[s] > 0 &&
            catalog->criteria[interview->form->swings[s].criterion].kind == SW_LOOKS)
            return true;
    return false;
}

bool sw_ask_applies(sw_interview *interview, sw_topic topic) {
    const sw_interview_form *form = interview->form;
    const sw_told *told = &interview->told;
    const sw_catalog *catalog = interview->draft->catalog;
    if (form->topics[topic].id == NULL)
        return false;
    switch (topic) {
    case SW_TOPIC_COMPLAINT:
        return catalog->trouble_count > 0;
    case SW_TOPIC_RATES:
        return told->use_count > 0;
    case SW_TOPIC_ORDER:
        return form->swing_count > 0;
    case SW_TOPIC_WORTH:
        return told->said[SW_TOPIC_ORDER] == SW_ANSWERED && told->order_count > 1;
    case SW_TOPIC_TASTE:
        return form->pair_count > 0 && looks_count(interview);
    case SW_TOPIC_LATER:
        return interview->draft->day >= 0;
    case SW_TOPIC_KEEP:
        return told->stayer_count > 0;
    case SW_TOPIC_AVOID:
        return told->maker_count > 0;
    case SW_TOPIC_SURPRISE:
        return catalog->paper.surprise_count > 0;
    default:
        return true;
    }
}

/* ---- what stands -------------------------------------------------------------------------------
 */

static void put(sw_text *text, const char *more) {
    sw_text_addf(text, "%s%s", text->length > 0 ? ", " : "", more);
}

static void troubles_stand(const sw_interview *interview, sw_text *out) {
    const sw_scenario *draft = interview->draft;
    for (size_t t = 0; t < draft->trouble_count; t++)
        put(out, draft->catalog->troubles[draft->troubles[t].trouble].name);
}

static void uses_stand(sw_interview *interview, sw_text *out) {
    const sw_scenario *draft = interview->draft;
    for (size_t u = 0; u < draft->use_count; u++)
        put(out, sw_ask_format(interview, "%s %s", draft->catalog->uses[draft->uses[u].use].name,
                               sw_ask_milli_text(interview, draft->uses[u].share_milli)));
}

static void rates_stand(sw_interview *interview, sw_text *out) {
    const sw_scenario *draft = interview->draft;
    for (size_t u = 0; u < draft->use_count; u++) {
        const sw_wanted_use *use = &draft->uses[u];
        if (use->rate_now_milli == 0)
            continue;
        put(out, sw_ask_format(interview, "%s %s %s", draft->catalog->uses[use->use].name,
                               sw_ask_milli_text(interview, use->rate_now_milli),
                               draft->catalog->uses[use->use].unit));
        if (use->rate_wanted_milli > 0)
            sw_text_addf(out, " (wanted %s)", sw_ask_milli_text(interview, use->rate_wanted_milli));
    }
}

static void weights_stand(sw_interview *interview, sw_text *out) {
    const sw_scenario *draft = interview->draft;
    if (!sw_ask_weights_stand(interview))
        return;
    for (size_t c = 0; c < draft->catalog->criterion_count; c++) {
        int64_t percent = 0;
        if (draft->weights[c] > 0 && sw_round(&percent, 100 * draft->weights[c]))
            put(out, sw_ask_format(interview, "%s %lld %%", draft->catalog->criteria[c].name,
                                   (long long)percent));
    }
}

static void taste_stands(const sw_interview *interview, sw_text *out) {
    const sw_scenario *draft = interview->draft;
    for (size_t t = 0; t < draft->taste_count; t++)
        for (size_t k = 0; k < draft->tastes[t].token_count; k++) {
            const char *name = draft->catalog->facts[draft->tastes[t].fact].name;
            if (k == 0)
                put(out, name);
            sw_text_addf(out, " %s", draft->tastes[t].tokens[k]);
        }
}

static void budget_stands(sw_interview *interview, sw_text *out) {
    const sw_scenario *draft = interview->draft;
    if (draft->budget_total == 0)
        return;
    put(out, sw_ask_format(interview, "%s %s", sw_ask_money_text(interview, draft->budget_total),
                           draft->catalog->currency));
    if (draft->reserve > 0)
        put(out,
            sw_ask_format(interview, "reserve %s", sw_ask_money_text(interview, draft->reserve)));
}

static void later_stands(sw_interview *interview, sw_text *out) {
    const sw_scenario *draft = interview->draft;
    for (size_t k = 0; k < draft->phase_count; k++)
        put(out, sw_ask_format(interview, "%s %s", draft->phases[k].on,
                               sw_ask_money_text(interview, draft->phases[k].sum)));
    if (draft->phase_count > 0)
        put(out, sw_ask_format(interview, "until %s", draft->phases[draft->phase_count - 1].until));
}

static void keep_stands(const sw_interview *interview, sw_text *out) {
    const sw_scenario *draft = interview->draft;
    for (size_t r = 0; r < draft->catalog->role_count; r++) {
        if (draft->keep_role[r])
            put(out, draft->catalog->roles[r].name);
        for (size_t i = 0; i < draft->machine_count[r]; i++)
            if (draft->keep_part[draft->machine[r][i].part])
                put(out, draft->parts[draft->machine[r][i].part].name);
    }
}

static void limits_stand(sw_interview *interview, sw_text *out) {
    const sw_scenario *draft = interview->draft;
    if (draft->loudness_limit_milli >= 0)
        put(out, sw_ask_format(interview, "loudness %s sone",
                               sw_ask_milli_text(interview, draft->loudness_limit_milli)));
    if (draft->days_limit >= 0)
        put(out, sw_ask_format(interview, "days %d", draft->days_limit));
    if (draft->minutes_limit >= 0)
        put(out, sw_ask_format(interview, "minutes %lld", (long long)draft->minutes_limit));
}

const char *sw_ask_stands(sw_interview *interview, sw_topic topic) {
    const sw_scenario *draft = interview->draft;
    sw_text text = {0};
    switch (topic) {
    case SW_TOPIC_COMPLAINT:
        troubles_stand(interview, &text);
        break;
    case SW_TOPIC_USES:
        uses_stand(interview, &text);
        break;
    case SW_TOPIC_RATES:
        rates_stand(interview, &text);
        break;
    case SW_TOPIC_ORDER:
        weights_stand(interview, &text);
        break;
    case SW_TOPIC_TASTE:
        taste_stands(interview, &text);
        break;
    case SW_TOPIC_BUDGET:
        budget_stands(interview, &text);
        break;
    case SW_TOPIC_LATER:
        later_stands(interview, &text);
        break;
    case SW_TOPIC_KEEP:
        keep_stands(interview, &text);
        break;
    case SW_TOPIC_AVOID:
        for (size_t a = 0; a < draft->avoid_count; a++)
            put(&text, draft->avoid[a]);
        break;
    case SW_TOPIC_LIMITS:
        limits_stand(interview, &text);
        break;
    case SW_TOPIC_SURPRISE:
        if (sw_json_get(sw_scenario_json(draft), "surprise") != NULL && draft->surprise != SW_NONE)
            put(&text, draft->catalog->paper.surprises[draft->surprise].name);
        break;
    default:
        break;
    }
    bool none = text.length == 0 && !text.failed;
    const char *kept = sw_ask_keep(interview, &text);
    return none ? NULL : kept;
}

/* ---- what there is to choose from
 * ---------------------------------------------------------------- */

static void item(sw_asked *out, const char *text) {
    if (out->items != NULL)
        out->items[out->item_count++] = text;
}

static void offer_uses(sw_interview *interview, sw_asked *out) {
    const sw_catalog *catalog = interview->draft->catalog;
    out->items = SW_ASK_NEW(interview, const char *, catalog->use_count);
    for (size_t u = 0; u < catalog->use_count; u++)
        item(out, catalog->uses[u].name);
}

static void offer_rates(sw_interview *interview, sw_asked *out) {
    const sw_told *told = &interview->told;
    out->items = SW_ASK_NEW(interview, const char *, told->use_count);
    int *numbers = SW_ASK_NEW(interview, int, told->use_count);
    out->numbers = numbers;
    for (size_t u = 0; numbers != NULL && u < told->use_count; u++) {
        numbers[u] = told->uses[u].use + 1; /* as the question before counts them */
        const sw_use *use = &interview->draft->catalog->uses[told->uses[u].use];
        item(out, sw_ask_format(interview, "%s, in %s", use->name, use->unit));
    }
}

static const char *swing_text(sw_interview *interview, int swing) {
    const sw_swing_form *form = &interview->form->swings[swing];
    return sw_ask_format(interview, "%s: %s",
                         interview->draft->catalog->criteria[form->criterion].name, form->gain);
}

static void offer_swings(sw_interview *interview, sw_asked *out, bool presets) {
    const sw_interview_form *form = interview->form;
    out->items = SW_ASK_NEW(interview, const char *, form->swing_count);
    for (size_t s = 0; s < form->swing_count; s++)
        item(out, swing_text(interview, (int)s));
    if (!presets)
        return;
    sw_text said = {0};
    const sw_told *told = &interview->told;
    sw_text_addf(&said, "First: %s. ", swing_text(interview, told->order[0]));
    for (size_t p = 0; p < form->preset_count; p++)
        sw_text_addf(&said, "%s\"%s\": %s", p == 0 ? "Words: " : "; ", form->presets[p].id,
                     form->presets[p].name);
    out->said = sw_ask_keep(interview, &said);
}

static void offer_pairs(sw_interview *interview, sw_asked *out) {
    const sw_interview_form *form = interview->form;
    out->items = SW_ASK_NEW(interview, const char *, form->pair_count);
    for (size_t p = 0; p < form->pair_count; p++)
        item(out, sw_ask_format(interview, "a: %s; b: %s", form->pairs[p].sides[0].name,
                                form->pairs[p].sides[1].name));
}

static void offer_stayers(sw_interview *interview, sw_asked *out) {
    const sw_scenario *draft = interview->draft;
    const sw_told *told = &interview->told;
    out->items = SW_ASK_NEW(interview, const char *, told->stayer_count);
    for (size_t i = 0; i < told->stayer_count; i++) {
        const sw_stayer *one = &told->stayers[i];
        const char *role = draft->catalog->roles[one->role].name;
        int part = one->part != SW_NONE                   ? one->part
                   : draft->machine_count[one->role] == 1 ? draft->machine[one->role][0].part
                                                          : SW_NONE;
        item(out, sw_ask_format(interview, "%s: %s%s", role,
                                part == SW_NONE ? "all" : draft->parts[part].name,
                                one->must_go != NULL ? " (cannot stay)" : ""));
    }
}

/* The sum is asked for with work and tax, so what these come to is told. */
static const char *work_counts(sw_interview *interview) {
    const sw_scenario *draft = interview->draft;
    if (draft->labour_per_hour == 0)
        return "No labour rate is set: work counts nothing.";
    return sw_ask_format(interview, "Work counts %s an hour.",
                         sw_ask_money_text(interview, draft->labour_per_hour));
}

static const char *tax_counts(sw_interview *interview) {
    const sw_tax *tax = &interview->draft->tax;
    if (sw_json_get(sw_scenario_json(interview->draft), "tax") == NULL)
        return "No tax is set: none is added to what is listed.";
    if (tax->prices == SW_PRICES_WITH_TAX)
        return "Prices and work are listed with tax.";
    return sw_ask_format(interview, "%s %% of tax come on top.",
                         sw_ask_milli_text(interview, tax->percent_milli));
}

void sw_ask_offer(sw_interview *interview, sw_topic topic, sw_asked *out) {
    const sw_paper *paper = &interview->draft->catalog->paper;
    switch (topic) {
    case SW_TOPIC_BUDGET:
        out->said =
            sw_ask_format(interview, "Sums are in %s. %s %s", interview->draft->catalog->currency,
                          work_counts(interview), tax_counts(interview));
        break;
    case SW_TOPIC_LATER:
        out->said =
            sw_ask_format(interview, "Sums are in %s.", interview->draft->catalog->currency);
        break;
    case SW_TOPIC_USES:
        offer_uses(interview, out);
        break;
    case SW_TOPIC_RATES:
        offer_rates(interview, out);
        break;
    case SW_TOPIC_ORDER:
        offer_swings(interview, out, false);
        break;
    case SW_TOPIC_WORTH:
        offer_swings(interview, out, true);
        break;
    case SW_TOPIC_TASTE:
        offer_pairs(interview, out);
        break;
    case SW_TOPIC_KEEP:
        offer_stayers(interview, out);
        break;
    case SW_TOPIC_AVOID:
        out->items = interview->told.makers;
        out->item_count = interview->told.maker_count;
        break;
    case SW_TOPIC_SURPRISE:
        out->items = SW_ASK_NEW(interview, const char *, paper->surprise_count);
        for (size_t s = 0; s < paper->surprise_count; s++)
            item(out, paper->surprises[s].name);
        break;
    default:
        break;
    }
}

/* ---- answers
 * -------------------------------------------------------------------------------------- */

bool sw_ask_hear(sw_interview *interview, sw_topic topic, const char *text) {
    static bool (*const hear[SW_TOPIC_COUNT])(sw_interview *, const char *) = {
        [SW_TOPIC_COMPLAINT] = sw_ask_hear_complaint, [SW_TOPIC_USES] = sw_ask_hear_uses,
        [SW_TOPIC_RATES] = sw_ask_hear_rates,         [SW_TOPIC_ORDER] = sw_ask_hear_order,
        [SW_TOPIC_WORTH] = sw_ask_hear_worth,         [SW_TOPIC_TASTE] = sw_ask_hear_taste,
        [SW_TOPIC_BUDGET] = sw_ask_hear_budget,       [SW_TOPIC_LATER] = sw_ask_hear_later,
        [SW_TOPIC_KEEP] = sw_ask_hear_keep,           [SW_TOPIC_AVOID] = sw_ask_hear_avoid,
        [SW_TOPIC_LIMITS] = sw_ask_hear_limits,       [SW_TOPIC_SURPRISE] = sw_ask_hear_surprise};
    return hear[topic](interview, text);
}

/* The uses that stand, or those that are assumed. */
static void settle_uses(sw_interview *interview) {
    sw_told *told = &interview->told;
    const sw_scenario *draft = interview->draft;
    const sw_interview_form *form = interview->form;
    bool stand = draft->use_count > 0;
    size_t count = stand ? draft->use_count : form->use_count;
    told->uses = SW_ASK_NEW(interview, sw_said_use, count);
    for (size_t u = 0; told->uses != NULL && u < count; u++)
        told->uses[u] =
            (sw_said_use){stand ? draft->uses[u].use : form->uses[u].use,
                          stand ? draft->uses[u].share_milli : form->uses[u].share_milli, -1, -1};
    told->use_count = told->uses == NULL ? 0 : count;
}

void sw_ask_settle(sw_interview *interview, sw_topic topic) {
    sw_told *told = &interview->told;
    const sw_interview_form *form = interview->form;
    if (topic == SW_TOPIC_USES && told->said[topic] != SW_ANSWERED)
        settle_uses(interview);
    if (topic == SW_TOPIC_ORDER && told->said[topic] != SW_ANSWERED) {
        told->order = SW_ASK_NEW(interview, int, form->order_count);
        told->order_count = told->order == NULL ? 0 : form->order_count;
        for (size_t i = 0; i < told->order_count; i++)
            told->order[i] = form->order[i];
    }
}
