/* What is held against what, told as sentences with numbers. Nothing is changed here: a yes lets
 * it stand, a no asks again. */
#include <math.h>
#include <string.h>

#include "intake/ask_stage.h"

typedef struct slot {
    const char *name, *text;
} slot;

const sw_doubt_form *sw_ask_doubt_form(const sw_interview *interview, sw_doubt doubt) {
    for (size_t d = 0; d < interview->form->doubt_count; d++)
        if (interview->form->doubts[d].doubt == doubt)
            return &interview->form->doubts[d];
    return NULL;
}

static const char *fill(sw_interview *interview, const char *sentence, const slot *slots) {
    sw_text out = {0};
    while (*sentence != '\0') {
        size_t plain = strcspn(sentence, "{");
        sw_text_add_bytes(&out, sentence, plain);
        sentence += plain;
        if (*sentence == '\0')
            break;
        size_t length = strcspn(++sentence, "}");
        for (const slot *s = slots; s->name != NULL; s++)
            if (strlen(s->name) == length && strncmp(s->name, sentence, length) == 0)
                sw_text_add(&out, s->text);
        sentence += length + (sentence[length] == '}');
    }
    return sw_ask_keep(interview, &out);
}

/* Counts down to the doubt that is asked for. */
typedef struct hunt {
    sw_interview *interview;
    size_t left;
    sw_asked *out;
    bool found;
} hunt;

static void raise(hunt *h, const sw_doubt_form *form, const slot *slots) {
    if (form == NULL || h->found || h->left-- > 0)
        return;
    h->found = true;
    h->out->kind = SW_ASKED_DOUBT;
    h->out->id = form->id;
    h->out->said = fill(h->interview, form->says, slots);
}

/* ---- one by one -------------------------------------------------------------------------------
 */

static void shares(hunt *h) {
    sw_interview *interview = h->interview;
    const sw_told *told = &interview->told;
    int64_t sum = 0;
    if (told->said[SW_TOPIC_USES] != SW_ANSWERED)
        return;
    for (size_t u = 0; u < told->use_count; u++)
        sum += told->uses[u].share_milli;
    if (sum != 100000)
        raise(h, sw_ask_doubt_form(interview, SW_DOUBT_SHARES),
              (const slot[]){{"sum", sw_ask_milli_text(interview, sum)}, {NULL, NULL}});
}

static void rates(hunt *h) {
    sw_interview *interview = h->interview;
    const sw_told *told = &interview->told;
    for (size_t u = 0; u < told->use_count; u++) {
        const sw_said_use *use = &told->uses[u];
        if (use->wanted_milli <= 0 || use->wanted_milli > use->now_milli)
            continue;
        raise(h, sw_ask_doubt_form(interview, SW_DOUBT_RATE_DOWN),
              (const slot[]){{"use", interview->draft->catalog->uses[use->use].name},
                             {"now", sw_ask_milli_text(interview, use->now_milli)},
                             {"wanted", sw_ask_milli_text(interview, use->wanted_milli)},
                             {NULL, NULL}});
    }
}

static void rank_against_worth(hunt *h) {
    sw_interview *interview = h->interview;
    const sw_told *told = &interview->told;
    const sw_swing_form *swings = interview->form->swings;
    if (told->said[SW_TOPIC_WORTH] != SW_ANSWERED)
        return;
    for (size_t k = 1; k < told->order_count; k++) {
        int first = told->order[k - 1], second = told->order[k];
        if (told->worth_milli[second] > told->worth_milli[first])
            raise(h, sw_ask_doubt_form(interview, SW_DOUBT_RANK),
                  (const slot[]){{"first", swings[first].gain},
                                 {"second", swings[second].gain},
                                 {NULL, NULL}});
    }
}

static bool complains_of(const sw_interview *interview, int trouble) {
    const sw_told *told = &interview->told;
    const sw_scenario *draft = interview->draft;
    if (told->said[SW_TOPIC_COMPLAINT] == SW_ANSWERED) {
        for (size_t t = 0; t < told->trouble_count; t++)
            if (told->troubles[t].trouble == trouble)
                return true;
        return false;
    }
    for (size_t t = 0; t < draft->trouble_count; t++)
        if (draft->troubles[t].trouble == trouble)
            return true;
    return false;
}

static void complaint_without_weight(hunt *h, const double *weights) {
    sw_interview *interview = h->interview;
    const sw_told *told = &interview->told;
    if (told->said[SW_TOPIC_COMPLAINT] != SW_ANSWERED && told->said[SW_TOPIC_ORDER] != SW_ANSWERED)
        return;
    for (size_t d = 0; d < interview->form->doubt_count; d++) {
        const sw_doubt_form *form = &interview->form->doubts[d];
        if (form->doubt == SW_DOUBT_WEIGHT && weights[form->criterion] <= 0 &&
            complains_of(interview, form->trouble))
            raise(h, form, (const slot[]){{NULL, NULL}});
    }
}

/* What the client would give up of `of` for a step that is worth so many of its own steps, in
 * percent: a swing of speed or of loudness is a doubling, of others the whole of it. */
static double given_up_percent(sw_criterion_kind kind, double steps) {
    if (kind == SW_SPEED)
        return 100 * (1 - exp2(-steps));
    if (kind == SW_QUIET)
        return 100 * (exp2(steps) - 1);
    return 100 * steps;
}

static void trade(hunt *h, const double *weights) {
    sw_interview *interview = h->interview;
    const sw_told *told = &interview->told;
    const sw_doubt_form *form = sw_ask_doubt_form(interview, SW_DOUBT_TRADE);
    const sw_swing_form *swings = interview->form->swings;
    if (form == NULL || told->said[SW_TOPIC_ORDER] != SW_ANSWERED)
        return;
    int first = told->order[0];
    sw_criterion_kind kind = interview->draft->catalog->criteria[swings[first].criterion].kind;
    for (size_t k = 1; k < told->order_count; k++) {
        int gained = told->order[k];
        double percent = 0;
        int64_t whole = 0;
        if (weights[gained] > 0 && weights[first] > 0)
            percent = given_up_percent(kind, weights[gained] / weights[first]);
        if (percent <= 0 || !sw_round(&whole, percent))
            continue;
        const char *number =
            whole == 0 ? "less than 1" : sw_ask_format(interview, "%lld", (long long)whole);
        const char *loss =
            fill(interview, swings[first].loss, (const slot[]){{"number", number}, {NULL, NULL}});
        raise(h, form, (const slot[]){{"gain", swings[gained].gain}, {"loss", loss}, {NULL, NULL}});
    }
}

static void taste(hunt *h) {
    const sw_told *told = &h->interview->told;
    if (told->said[SW_TOPIC_TASTE] != SW_ANSWERED)
        return;
    for (size_t p = 0; p < h->interview->form->pair_count; p++)
        if (told->sides[p] != SW_NONE)
            return;
    raise(h, sw_ask_doubt_form(h->interview, SW_DOUBT_TASTE), (const slot[]){{NULL, NULL}});
}

static void reserve(hunt *h) {
    sw_interview *interview = h->interview;
    const sw_told *told = &interview->told;
    if (told->said[SW_TOPIC_BUDGET] != SW_ANSWERED || told->total <= 0)
        return;
    int64_t kept = (told->reserve >= 0 ? told->reserve : interview->draft->reserve) +
                   interview->draft->sundries;
    if (kept >= told->total)
        raise(h, sw_ask_doubt_form(interview, SW_DOUBT_RESERVE),
              (const slot[]){{"total", sw_ask_money_text(interview, told->total)},
                             {"kept", sw_ask_money_text(interview, kept)},
                             {NULL, NULL}});
}

static void later(hunt *h) {
    sw_interview *interview = h->interview;
    const sw_told *told = &interview->told;
    for (size_t i = 0; told->said[SW_TOPIC_LATER] == SW_ANSWERED && i < told->sum_count; i++)
        if (told->sums[i].day <= interview->draft->day)
            raise(h, sw_ask_doubt_form(interview, SW_DOUBT_LATER),
                  (const slot[]){{"day", told->sums[i].on},
                                 {"today", interview->draft->date},
                                 {"sum", sw_ask_money_text(interview, told->sums[i].sum)},
                                 {NULL, NULL}});
}

static void all_kept(hunt *h) {
    sw_interview *interview = h->interview;
    const sw_told *told = &interview->told;
    int64_t total = told->total >= 0 ? told->total : interview->draft->budget_total;
    if (told->said[SW_TOPIC_KEEP] != SW_ANSWERED || total == 0)
        return;
    /* Of a role with several pieces these tell. */
    for (size_t i = 0; i < told->stayer_count; i++)
        if (!told->stayers[i].kept && (told->stayers[i].part != SW_NONE ||
                                       interview->draft->machine_count[told->stayers[i].role] == 1))
            return;
    raise(h, sw_ask_doubt_form(interview, SW_DOUBT_KEPT),
          (const slot[]){{"total", sw_ask_money_text(interview, total)}, {NULL, NULL}});
}

bool sw_ask_doubt(sw_interview *interview, sw_topic topic, size_t which, sw_asked *out) {
    hunt h = {.interview = interview, .left = which, .out = out};
    const double *weights = topic == SW_TOPIC_WORTH ? sw_ask_weights(interview) : NULL;
    switch (topic) {
    case SW_TOPIC_USES:
        shares(&h);
        break;
    case SW_TOPIC_RATES:
        rates(&h);
        break;
    case SW_TOPIC_WORTH:
        if (weights == NULL)
            break;
        rank_against_worth(&h);
        complaint_without_weight(&h, weights);
        trade(&h, weights);
        break;
    case SW_TOPIC_TASTE:
        taste(&h);
        break;
    case SW_TOPIC_BUDGET:
        reserve(&h);
        break;
    case SW_TOPIC_LATER:
        later(&h);
        break;
    case SW_TOPIC_KEEP:
        all_kept(&h);
        break;
    default:
        break;
    }
    return h.found;
}

sw_topic sw_ask_again(sw_topic topic) { return topic == SW_TOPIC_WORTH ? SW_TOPIC_ORDER : topic; }
