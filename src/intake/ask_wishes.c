/* What the machine is used for, what matters, and what is to the client's taste. */
#include <string.h>

#include "intake/ask_stage.h"
#include "base/letters.h"

#define WORTH_MOST_MILLI 1000000
#define FIRST_WORTH_MILLI 100000

/* ---- uses --------------------------------------------------------------------------------- */

/* By number, id or name; SW_NONE when it is none. */
static int which_use(const sw_catalog *catalog, const char *word) {
    int64_t number = 0;
    if (sw_ask_is_whole(word))
        return sw_ask_whole(word, 1, (int64_t)catalog->use_count, &number) ? (int)number - 1
                                                                           : SW_NONE;
    for (size_t u = 0; u < catalog->use_count; u++)
        if (sw_ask_same(word, catalog->uses[u].id) || sw_ask_same(word, catalog->uses[u].name))
            return (int)u;
    return SW_NONE;
}

static const char *without_percent(sw_interview *interview, const char *word) {
    size_t length = strlen(word);
    if (length < 2 || word[length - 1] != '%')
        return word;
    return sw_ask_format(interview, "%.*s", (int)(length - 1), word);
}

/* One blank between words, and none before a percent sign. */
static const char *tidy(sw_interview *interview, const char *thing) {
    sw_pieces words;
    sw_text out = {0};
    if (!sw_ask_words(interview, thing, "", &words))
        return "";
    for (size_t i = 0; i < words.count; i++)
        sw_text_addf(&out, "%s%s", i > 0 && strcmp(words.list[i], "%") != 0 ? " " : "",
                     words.list[i]);
    return sw_ask_keep(interview, &out);
}

static bool hear_use(sw_interview *interview, const char *typed) {
    const sw_catalog *catalog = interview->draft->catalog;
    sw_told *told = &interview->told;
    const char *thing = tidy(interview, typed);
    const char *last = strrchr(thing, ' ');
    const char *shown = sw_ask_shown(interview, thing);
    int64_t share = 0;
    if (last == NULL)
        return sw_ask_refuse(interview,
                             "\"%s\" names no use with its share: write the number of the use and "
                             "its share, as in: 1 60, 4 40",
                             shown);
    if (!sw_ask_milli(without_percent(interview, last + 1), &share) || share == 0)
        return sw_ask_refuse(interview,
                             "in \"%s\" the share is no number above 0 that can be counted with: "
                             "write digits, at most three of them behind a point, as in 60 or "
                             "12.5",
                             shown);
    const char *word = sw_ask_format(interview, "%.*s", (int)(last - thing), thing);
    int use = which_use(catalog, word);
    if (use == SW_NONE)
        return sw_ask_refuse(interview, "\"%s\" is no use of the list: write its number, 1 to %zu",
                             sw_ask_shown(interview, word), catalog->use_count);
    for (size_t i = 0; i < told->use_count; i++)
        if (told->uses[i].use == use)
            return sw_ask_refuse(interview, "%s stands there twice: write it once",
                                 catalog->uses[use].name);
    told->uses[told->use_count++] = (sw_said_use){use, share, -1, -1};
    return true;
}

/* A complaint that stands, and names a use, needs that use. */
static bool complaint_keeps_use(sw_interview *interview) {
    const sw_scenario *draft = interview->draft;
    const sw_told *told = &interview->told;
    if (told->said[SW_TOPIC_COMPLAINT] == SW_ANSWERED)
        return true;
    for (size_t t = 0; t < draft->trouble_count; t++) {
        const sw_stated_trouble *stated = &draft->troubles[t];
        if (stated->use == SW_NONE)
            continue;
        int use = draft->uses[stated->use].use;
        bool there = false;
        for (size_t i = 0; i < told->use_count; i++)
            there |= told->uses[i].use == use;
        if (!there)
            return sw_ask_refuse(
                interview,
                "the complaint \"%s\" is about %s: name it as well, or go back and "
                "say anew what bothers you",
                draft->catalog->troubles[stated->trouble].name, draft->catalog->uses[use].name);
    }
    return true;
}

bool sw_ask_hear_uses(sw_interview *interview, const char *text) {
    sw_told *told = &interview->told;
    sw_pieces things;
    if (!sw_ask_things(interview, text, &things))
        return false;
    if (things.count == 0)
        return sw_ask_refuse(interview, "no use stands there: write a number and a share");
    told->uses = SW_ASK_NEW(interview, sw_said_use, interview->draft->catalog->use_count);
    told->use_count = 0;
    for (size_t i = 0; told->uses != NULL && i < things.count; i++)
        if (!hear_use(interview, things.list[i]))
            return false;
    return told->uses != NULL && complaint_keeps_use(interview);
}

/* ---- rates --------------------------------------------------------------------------------- */

/* "1 (fast play), 4 (photo work)" */
static const char *named_uses(sw_interview *interview) {
    const sw_told *told = &interview->told;
    sw_text named = {0};
    for (size_t i = 0; i < told->use_count; i++)
        sw_text_addf(&named, "%s%d (%s)", i == 0 ? "" : ", ", told->uses[i].use + 1,
                     interview->draft->catalog->uses[told->uses[i].use].name);
    return sw_ask_keep(interview, &named);
}

/* The client's use of that number or name; NULL after a refusal. */
static sw_said_use *use_of_client(sw_interview *interview, const char *word) {
    sw_told *told = &interview->told;
    int use = which_use(interview->draft->catalog, word);
    for (size_t i = 0; i < told->use_count; i++)
        if (told->uses[i].use == use)
            return &told->uses[i];
    sw_ask_refuse(interview,
                  "\"%s\" is none of the uses that were named: write one of %s, or go back and "
                  "name it",
                  sw_ask_shown(interview, word), named_uses(interview));
    return NULL;
}

/* How many of the words are the use: rates stand behind it, two at most. */
static size_t use_words(const sw_pieces *words) {
    size_t count = words->count;
    int64_t rate = 0;
    if (sw_ask_is_whole(words->list[0]))
        return 1;
    while (count > 1 && count + 2 > words->count && sw_ask_milli(words->list[count - 1], &rate))
        count--;
    return count;
}

static bool hear_rate(sw_interview *interview, const char *thing) {
    const sw_catalog *catalog = interview->draft->catalog;
    sw_pieces words;
    int64_t rate[2] = {0, 0};
    if (!sw_ask_words(interview, thing, "", &words))
        return false;
    size_t first = use_words(&words);
    if (words.count < first + 1 || words.count > first + 2)
        return sw_ask_refuse(interview,
                             "\"%s\": write the number or the name of the use, its rate today and "
                             "(where there is one) the rate wanted, as in: 1 48 90",
                             sw_ask_shown(interview, thing));
    sw_text name = {0};
    for (size_t i = 0; i < first; i++)
        sw_text_addf(&name, "%s%s", i == 0 ? "" : " ", words.list[i]);
    sw_said_use *use = use_of_client(interview, sw_ask_keep(interview, &name));
    if (use == NULL)
        return false;
    for (size_t i = first; i < words.count; i++)
        if (!sw_ask_milli(words.list[i], &rate[i - first]) || rate[i - first] == 0)
            return sw_ask_refuse(
                interview,
                "\"%s\" is no rate above 0 that can be counted with: write digits, "
                "at most three of them behind a point, as in 48 or 13.5",
                sw_ask_shown(interview, words.list[i]));
    if (use->now_milli >= 0)
        return sw_ask_refuse(interview, "%s stands there twice: write it once",
                             catalog->uses[use->use].name);
    use->now_milli = rate[0];
    use->wanted_milli = rate[1];
    return true;
}

bool sw_ask_hear_rates(sw_interview *interview, const char *text) {
    sw_told *told = &interview->told;
    sw_pieces things;
    if (sw_ask_same(text, "none")) {
        for (size_t u = 0; u < told->use_count; u++)
            told->uses[u].now_milli = told->uses[u].wanted_milli = 0;
        return true;
    }
    if (!sw_ask_things(interview, text, &things))
        return false;
    if (things.count == 0)
        return sw_ask_refuse(interview, "no rate stands there: write a number and a rate");
    for (size_t i = 0; i < things.count; i++)
        if (!hear_rate(interview, things.list[i]))
            return false;
    return true;
}

/* ---- what matters ---------------------------------------------------------------------------- */

bool sw_ask_hear_order(sw_interview *interview, const char *text) {
    sw_told *told = &interview->told;
    return sw_ask_numbers(interview, text, interview->form->swing_count, &told->order,
                          &told->order_count);
}

static size_t place_of(const sw_told *told, int swing) {
    size_t place = 0;
    while (place < told->order_count && told->order[place] != swing)
        place++;
    return place;
}

static void use_preset(sw_interview *interview, const sw_preset *preset) {
    sw_told *told = &interview->told;
    for (size_t k = 0; k < told->order_count; k++) {
        size_t at = k < preset->worth_count ? k : preset->worth_count - 1;
        told->worth_milli[told->order[k]] = preset->worth_milli[at];
    }
}

static bool hear_one_worth(sw_interview *interview, const char *thing, bool *heard) {
    const sw_told *told = &interview->told;
    sw_pieces words;
    int64_t number = 0, worth = 0;
    if (!sw_ask_words(interview, thing, "", &words))
        return false;
    const char *shown = sw_ask_shown(interview, thing);
    if (words.count != 2 ||
        !sw_ask_whole(words.list[0], 1, (int64_t)interview->form->swing_count, &number) ||
        !sw_ask_milli(words.list[1], &worth) || worth > WORTH_MOST_MILLI)
        return sw_ask_refuse(interview,
                             "\"%s\": write the number of a wish and what it is worth beside the "
                             "first, which is worth 100, as in: 2 60",
                             shown);
    int swing = (int)number - 1;
    size_t place = place_of(told, swing);
    if (place == told->order_count)
        return sw_ask_refuse(interview,
                             "%d was left out of the order: leave it out here, or go back and put "
                             "it in its place",
                             (int)number);
    if (place == 0 && worth != FIRST_WORTH_MILLI)
        return sw_ask_refuse(interview, "the first is worth 100: say what the others are worth "
                                        "beside it, or go back and change the order");
    if (heard[swing])
        return sw_ask_refuse(interview, "%d stands there twice: write it once", (int)number);
    heard[swing] = true;
    told->worth_milli[swing] = worth;
    return true;
}

bool sw_ask_hear_worth(sw_interview *interview, const char *text) {
    const sw_interview_form *form = interview->form;
    sw_told *told = &interview->told;
    sw_pieces things;
    told->worth_milli = SW_ASK_NEW(interview, int64_t, form->swing_count);
    bool *heard = SW_ASK_NEW(interview, bool, form->swing_count);
    if (told->worth_milli == NULL || heard == NULL)
        return false;
    for (size_t p = 0; p < form->preset_count; p++)
        if (sw_ask_same(text, form->presets[p].id)) {
            use_preset(interview, &form->presets[p]);
            return true;
        }
    if (!sw_ask_things(interview, text, &things))
        return false;
    told->worth_milli[told->order[0]] = FIRST_WORTH_MILLI;
    for (size_t i = 0; i < things.count; i++)
        if (!hear_one_worth(interview, things.list[i], heard))
            return false;
    for (size_t k = 1; k < told->order_count; k++)
        if (!heard[told->order[k]])
            return sw_ask_refuse(interview,
                                 "what %d is worth is not said: write it as well; 0 where it is "
                                 "worth nothing",
                                 told->order[k] + 1);
    return true;
}

/* ---- taste -------------------------------------------------------------------------------------
 */

/* "3b": the pair and the side; false when it is none. */
static bool read_side(const char *word, size_t pairs, size_t *pair, int *side) {
    size_t length = strlen(word);
    char digits[4] = "";
    int64_t number = 0;
    if (length < 2 || length > 3)
        return false;
    char letter = sw_small_letter(word[length - 1]);
    memcpy(digits, word, length - 1);
    if ((letter != 'a' && letter != 'b') || !sw_ask_whole(digits, 1, (int64_t)pairs, &number))
        return false;
    *pair = (size_t)number - 1;
    *side = letter - 'a';
    return true;
}

bool sw_ask_hear_taste(sw_interview *interview, const char *text) {
    sw_told *told = &interview->told;
    size_t pairs = interview->form->pair_count;
    sw_pieces words;
    told->sides = SW_ASK_NEW(interview, int, pairs);
    if (told->sides == NULL || !sw_ask_words(interview, text, ",;", &words))
        return false;
    for (size_t p = 0; p < pairs; p++)
        told->sides[p] = SW_NONE;
    if (sw_ask_same(text, "none"))
        return true;
    for (size_t i = 0; i < words.count; i++) {
        size_t pair = 0;
        int side = 0;
        if (!read_side(words.list[i], pairs, &pair, &side))
            return sw_ask_refuse(
                interview,
                "\"%s\" is no pair with its side: write the number of the pair and "
                "a or b, without a blank between, as in: 1a 3b",
                sw_ask_shown(interview, words.list[i]));
        if (told->sides[pair] != SW_NONE)
            return sw_ask_refuse(interview, "pair %zu stands there twice: write it once", pair + 1);
        told->sides[pair] = side;
    }
    return words.count > 0 || sw_ask_refuse(interview, "no pair stands there: write 1a or 1b");
}

/* ---- what the wishes come to -------------------------------------------------------------------
 */

bool sw_ask_weights_stand(const sw_interview *interview) {
    const sw_scenario *draft = interview->draft;
    size_t weighed = 0;
    for (size_t c = 0; c < draft->catalog->criterion_count; c++)
        weighed += draft->weights[c] > 0;
    return weighed > 1 || (weighed == 1 && draft->use_count > 0);
}

static bool is_asked_about(const sw_interview *interview, size_t criterion) {
    for (size_t s = 0; s < interview->form->swing_count; s++)
        if (interview->form->swings[s].criterion == (int)criterion)
            return true;
    return false;
}

bool sw_ask_weighs_others(const sw_interview *interview) {
    const sw_scenario *draft = interview->draft;
    for (size_t c = 0; c < draft->catalog->criterion_count; c++)
        if (draft->weights[c] > 0 && !is_asked_about(interview, c))
            return true;
    return false;
}

bool sw_ask_by_ranks(const sw_interview *interview) {
    const sw_told *told = &interview->told;
    return told->said[SW_TOPIC_WORTH] != SW_ANSWERED &&
           !(sw_ask_weighs_others(interview) && interview->form->preset_count > 0);
}

int64_t *sw_ask_worths(sw_interview *interview) {
    sw_told *told = &interview->told;
    if (told->said[SW_TOPIC_WORTH] == SW_ANSWERED)
        return told->worth_milli;
    told->worth_milli = SW_ASK_NEW(interview, int64_t, interview->form->swing_count);
    if (told->worth_milli != NULL && interview->form->preset_count > 0)
        use_preset(interview, &interview->form->presets[0]);
    return told->worth_milli;
}

double *sw_ask_weights(sw_interview *interview) {
    sw_told *told = &interview->told;
    const sw_interview_form *form = interview->form;
    double *weights = SW_ASK_NEW(interview, double, form->swing_count);
    if (weights == NULL)
        return NULL;
    if (told->said[SW_TOPIC_ORDER] != SW_ANSWERED && sw_ask_weights_stand(interview)) {
        for (size_t s = 0; s < form->swing_count; s++)
            weights[s] = interview->draft->weights[form->swings[s].criterion];
        return weights;
    }
    const int64_t *worth = sw_ask_by_ranks(interview) ? NULL : sw_ask_worths(interview);
    double sum = 0;
    for (size_t k = told->order_count; k > 0; k--) {
        sum += 1.0 / (double)k;
        weights[told->order[k - 1]] =
            worth != NULL ? (double)worth[told->order[k - 1]] : sum / (double)told->order_count;
    }
    return weights;
}
