/* The scenario that the answers make of the draft. */
#include <stdlib.h>
#include <string.h>

#include "intake/ask_splice.h"
#include "intake/ask_stage.h"
#include "read/json.h"
#include "read/json_text.h"

typedef struct making {
    sw_interview *interview;
    const sw_json *before; /* the draft */
    sw_sketch *root, *wishes;
} making;

static bool answered(const making *m, sw_topic topic) {
    return m->interview->told.said[topic] == SW_ANSWERED;
}

/* ---- complaints, uses ---------------------------------------------------------------------------
 */

static void make_complaints(making *m) {
    const sw_told *told = &m->interview->told;
    const sw_catalog *catalog = m->interview->draft->catalog;
    if (!answered(m, SW_TOPIC_COMPLAINT))
        return;
    if (told->trouble_count == 0) {
        sw_sketch_remove(m->root, "complaints");
        return;
    }
    sw_sketch *list = sw_sketch_array(m->root, "complaints");
    for (size_t t = 0; t < told->trouble_count; t++) {
        sw_sketch *one = sw_sketch_object(list, NULL);
        sw_sketch_text(one, "complaint", catalog->troubles[told->troubles[t].trouble].id);
        sw_sketch_text(one, "words", told->troubles[t].words);
    }
}

/* The draft's entry of that use; NULL: it has none. */
static const sw_json *use_before(const making *m, const char *id) {
    const sw_json *wishes = sw_json_get(m->before, "wishes");
    const sw_json *uses = wishes == NULL ? NULL : sw_json_get(wishes, "uses");
    for (size_t u = 0; uses != NULL && u < uses->count; u++) {
        const sw_json *named = sw_json_get(&uses->children[u], "use");
        if (named != NULL && strcmp(named->text, id) == 0)
            return &uses->children[u];
    }
    return NULL;
}

static void put_rate(sw_sketch *use, const char *name, int64_t milli) {
    if (milli > 0)
        sw_sketch_milli(use, name, milli);
    else if (milli == 0)
        sw_sketch_remove(use, name);
}

static void make_uses(making *m) {
    const sw_told *told = &m->interview->told;
    bool none_before = m->interview->draft->use_count == 0;
    if (!answered(m, SW_TOPIC_USES) && !answered(m, SW_TOPIC_RATES) && !none_before)
        return;
    sw_sketch *list = sw_sketch_array(m->wishes, "uses");
    for (size_t u = 0; u < told->use_count; u++) {
        const sw_said_use *said = &told->uses[u];
        const char *id = m->interview->draft->catalog->uses[said->use].id;
        const sw_json *before = use_before(m, id);
        if (before != NULL)
            sw_sketch_copy(list, NULL, before);
        else
            sw_sketch_object(list, NULL);
        sw_sketch *one = sw_sketch_element(list, u);
        sw_sketch_text(one, "use", id);
        sw_sketch_milli(one, "share", said->share_milli);
        put_rate(one, "rate_now", said->now_milli);
        put_rate(one, "rate_wanted", said->wanted_milli);
    }
}

/* ---- what matters, taste
 * --------------------------------------------------------------------------- */

static const char *swing_id(const making *m, int swing) {
    const sw_catalog *catalog = m->interview->draft->catalog;
    return catalog->criteria[m->interview->form->swings[swing].criterion].id;
}

static void make_ranks(making *m) {
    const sw_told *told = &m->interview->told;
    sw_sketch_remove(m->wishes, "swings");
    sw_sketch *list = sw_sketch_array(m->wishes, "ranks");
    for (size_t k = 0; k < told->order_count; k++)
        sw_sketch_text(list, NULL, swing_id(m, told->order[k]));
    sw_sketch_move(m->wishes, "ranks", NULL);
}

/* Ranks become the numbers that the first preset gives them where others are weighed too. */
static void make_swings(making *m) {
    sw_interview *interview = m->interview;
    const sw_told *told = &interview->told;
    const sw_catalog *catalog = interview->draft->catalog;
    const int64_t *worth = sw_ask_worths(interview);
    sw_sketch *swings = sw_sketch_get(m->wishes, "swings");
    if (swings == NULL) {
        swings = sw_sketch_object(m->wishes, "swings");
        for (size_t c = 0; c < catalog->criterion_count; c++) {
            int64_t milli = 0;
            if (sw_round(&milli, 100000 * interview->draft->weights[c]) && milli > 0)
                sw_sketch_milli(swings, catalog->criteria[c].id, milli);
        }
    }
    sw_sketch_remove(m->wishes, "ranks");
    for (size_t s = 0; s < interview->form->swing_count; s++)
        sw_sketch_remove(swings, swing_id(m, (int)s));
    for (size_t k = told->order_count; worth != NULL && k > 0; k--) {
        int swing = told->order[k - 1];
        if (worth[swing] == 0)
            continue;
        sw_sketch_milli(swings, swing_id(m, swing), worth[swing]);
        sw_sketch_move(swings, swing_id(m, swing), NULL);
    }
    sw_sketch_move(m->wishes, "swings", NULL);
}

static void make_weights(making *m) {
    if (!answered(m, SW_TOPIC_ORDER) && sw_ask_weights_stand(m->interview))
        return;
    if (!answered(m, SW_TOPIC_ORDER) || sw_ask_by_ranks(m->interview))
        make_ranks(m);
    else
        make_swings(m);
}

/* Of each fact that a pair asks about; others stay. */
static void make_taste(making *m) {
    const sw_interview *interview = m->interview;
    const sw_interview_form *form = interview->form;
    const sw_told *told = &interview->told;
    if (!answered(m, SW_TOPIC_TASTE))
        return;
    sw_sketch *taste = sw_sketch_get(m->wishes, "taste");
    if (taste == NULL)
        taste = sw_sketch_object(m->wishes, "taste");
    for (size_t p = 0; p < form->pair_count; p++)
        sw_sketch_remove(taste, interview->draft->catalog->facts[form->pairs[p].fact].name);
    for (size_t p = 0; p < form->pair_count; p++) {
        const char *fact = interview->draft->catalog->facts[form->pairs[p].fact].name;
        if (told->sides[p] == SW_NONE)
            continue;
        const sw_taste_side *side = &form->pairs[p].sides[told->sides[p]];
        if (sw_sketch_get(taste, fact) != NULL)
            continue;
        sw_sketch *list = sw_sketch_array(taste, fact);
        for (size_t t = 0; t < side->token_count; t++)
            sw_sketch_text(list, NULL, side->tokens[t]);
    }
    if (sw_sketch_count(taste) == 0)
        sw_sketch_remove(m->wishes, "taste");
}

/* ---- what stays, what is not bought, limits
 * ----------------------------------------------------------- */

/* A list of names, or none of it where it is empty. */
static void drop_if_empty(making *m, const char *name, const sw_sketch *list) {
    if (sw_sketch_count(list) == 0)
        sw_sketch_remove(m->wishes, name);
}

static bool whole_role_stays(const sw_told *told, int role) {
    for (size_t i = 0; i < told->stayer_count; i++)
        if (told->stayers[i].role == role && told->stayers[i].part == SW_NONE)
            return told->stayers[i].kept;
    return false;
}

/* Roles without a piece, of which nothing was asked, stay as they were. */
static void make_keep(making *m) {
    const sw_scenario *draft = m->interview->draft;
    const sw_told *told = &m->interview->told;
    if (!answered(m, SW_TOPIC_KEEP))
        return;
    sw_sketch *list = sw_sketch_array(m->wishes, "keep");
    for (size_t i = 0; i < told->stayer_count; i++) {
        const sw_stayer *one = &told->stayers[i];
        if (!one->kept || (one->part != SW_NONE && whole_role_stays(told, one->role)))
            continue;
        sw_sketch_text(list, NULL,
                       one->part == SW_NONE ? draft->catalog->roles[one->role].id
                                            : draft->parts[one->part].id);
    }
    for (size_t r = 0; r < draft->catalog->role_count; r++)
        if (draft->keep_role[r] && draft->machine_count[r] == 0)
            sw_sketch_text(list, NULL, draft->catalog->roles[r].id);
    drop_if_empty(m, "keep", list);
}

static bool is_maker(const sw_told *told, const char *name) {
    for (size_t k = 0; k < told->maker_count; k++)
        if (strcmp(told->makers[k], name) == 0)
            return true;
    return false;
}

/* Single parts that are avoided stay so. */
static void make_avoid(making *m) {
    const sw_scenario *draft = m->interview->draft;
    const sw_told *told = &m->interview->told;
    if (!answered(m, SW_TOPIC_AVOID))
        return;
    sw_sketch *list = sw_sketch_array(m->wishes, "avoid");
    for (size_t k = 0; k < told->maker_count; k++)
        if (told->avoided[k])
            sw_sketch_text(list, NULL, told->makers[k]);
    for (size_t a = 0; a < draft->avoid_count; a++)
        if (!is_maker(told, draft->avoid[a]))
            sw_sketch_text(list, NULL, draft->avoid[a]);
    drop_if_empty(m, "avoid", list);
}

static void put_limit(sw_sketch *limits, const char *name, int64_t said, bool milli) {
    if (said == SW_LIMIT_NONE)
        sw_sketch_remove(limits, name);
    else if (said != SW_LIMIT_UNSAID && milli)
        sw_sketch_milli(limits, name, said);
    else if (said != SW_LIMIT_UNSAID)
        sw_sketch_whole(limits, name, said);
}

static void make_limits(making *m) {
    const sw_told *told = &m->interview->told;
    if (!answered(m, SW_TOPIC_LIMITS))
        return;
    sw_sketch *limits = sw_sketch_get(m->wishes, "limits");
    if (limits == NULL)
        limits = sw_sketch_object(m->wishes, "limits");
    put_limit(limits, "loudness_sone", told->loudness_milli, true);
    put_limit(limits, "days", told->days, false);
    put_limit(limits, "bench_minutes", told->minutes, false);
    drop_if_empty(m, "limits", limits);
}

/* ---- money
 * ------------------------------------------------------------------------------------------- */

/* With what is there already of the sums named as later ones. */
static int64_t total_now(const making *m) {
    const sw_told *told = &m->interview->told;
    const sw_scenario *draft = m->interview->draft;
    int64_t total = told->total >= 0 ? told->total : draft->budget_total;
    for (size_t i = 0; answered(m, SW_TOPIC_LATER) && i < told->sum_count; i++)
        if (told->sums[i].day <= draft->day)
            total += told->sums[i].sum;
    return total;
}

static void make_budget(making *m) {
    const sw_told *told = &m->interview->told;
    const sw_json *before = sw_json_get(m->before, "budget");
    int64_t total = total_now(m);
    bool there = before != NULL && sw_json_get(before, "total") != NULL;
    if (there && !answered(m, SW_TOPIC_BUDGET) && total == m->interview->draft->budget_total)
        return;
    sw_sketch *budget = sw_sketch_get(m->root, "budget");
    if (budget == NULL)
        budget = sw_sketch_object(m->root, "budget");
    sw_sketch_text(budget, "total", sw_ask_money_text(m->interview, total));
    if (told->reserve >= 0)
        sw_sketch_text(budget, "reserve", sw_ask_money_text(m->interview, told->reserve));
}

/* What sellers told for that day stays with it. */
static const sw_json *quotes_on(const making *m, const char *on) {
    const sw_json *phases = sw_json_get(m->before, "phases");
    const sw_json *sums = phases == NULL ? NULL : sw_json_get(phases, "sums");
    for (size_t i = 0; sums != NULL && i < sums->count; i++) {
        const sw_json *day = sw_json_get(&sums->children[i], "on");
        if (day != NULL && strcmp(day->text, on) == 0)
            return sw_json_get(&sums->children[i], "quotes");
    }
    return NULL;
}

static void put_sum(making *m, sw_sketch *list, const char *on, int64_t sum) {
    sw_sketch *one = sw_sketch_object(list, NULL);
    const sw_json *quotes = quotes_on(m, on);
    sw_sketch_text(one, "on", on);
    sw_sketch_text(one, "sum", sw_ask_money_text(m->interview, sum));
    if (quotes != NULL)
        sw_sketch_copy(one, "quotes", quotes);
}

static void make_later(making *m) {
    const sw_told *told = &m->interview->told;
    const sw_scenario *draft = m->interview->draft;
    if (!answered(m, SW_TOPIC_LATER))
        return;
    if (told->until == NULL) {
        sw_sketch_remove(m->root, "phases");
        return;
    }
    sw_sketch *phases = sw_sketch_get(m->root, "phases");
    if (phases == NULL)
        phases = sw_sketch_object(m->root, "phases");
    sw_sketch_text(phases, "until", told->until);
    sw_sketch *list = sw_sketch_array(phases, "sums");
    put_sum(m, list, draft->date, total_now(m));
    for (size_t i = 0; i < told->sum_count; i++)
        if (told->sums[i].day > draft->day)
            put_sum(m, list, told->sums[i].on, told->sums[i].sum);
}

static void make_surprise(making *m) {
    const sw_paper *paper = &m->interview->draft->catalog->paper;
    if (answered(m, SW_TOPIC_SURPRISE))
        sw_sketch_text(m->root, "surprise", paper->surprises[m->interview->told.surprise].id);
}

/* ---- what was assumed
 * --------------------------------------------------------------------------------- */

static int topic_of(const making *m, const char *sentence) {
    for (int t = 0; t < SW_TOPIC_COUNT; t++) {
        const sw_topic_form *form = &m->interview->form->topics[t];
        if (form->id != NULL && strcmp(form->assumed, sentence) == 0)
            return t;
    }
    return SW_NONE;
}

/* Where nothing stood, skipping means to assume. */
static bool assumes(const making *m, int topic) {
    return m->interview->told.said[topic] == SW_SKIPPED &&
           sw_ask_stands(m->interview, (sw_topic)topic) == NULL;
}

static bool is_assumed_already(const making *m, const char *sentence) {
    const sw_scenario *draft = m->interview->draft;
    for (size_t i = 0; i < draft->assumed_count; i++)
        if (strcmp(draft->assumed[i], sentence) == 0)
            return true;
    return false;
}

/* What the order assumed is no longer so once it was said, nor what follows from it. */
static bool still_so(const making *m, const char *sentence) {
    int topic = topic_of(m, sentence);
    if (topic == SW_NONE)
        return true;
    if (topic == SW_TOPIC_WORTH && answered(m, SW_TOPIC_ORDER))
        return m->interview->told.said[topic] == SW_SKIPPED;
    return !answered(m, (sw_topic)topic);
}

static void make_assumed(making *m) {
    const sw_scenario *draft = m->interview->draft;
    sw_sketch *list = sw_sketch_array(m->root, "assumed");
    for (size_t i = 0; i < draft->assumed_count; i++)
        if (still_so(m, draft->assumed[i]))
            sw_sketch_text(list, NULL, draft->assumed[i]);
    for (int t = 0; t < SW_TOPIC_COUNT; t++) {
        const char *sentence = m->interview->form->topics[t].assumed;
        if (assumes(m, t) && !is_assumed_already(m, sentence))
            sw_sketch_text(list, NULL, sentence);
    }
    if (sw_sketch_count(list) == 0)
        sw_sketch_remove(m->root, "assumed");
}

/* ---- dangers
 * ------------------------------------------------------------------------------------------ */

static void add_once(sw_sketch *list, const sw_scenario *draft, const char **added, size_t *count,
                     const char *sentence) {
    for (size_t i = 0; i < draft->beware_count; i++)
        if (strcmp(draft->beware[i], sentence) == 0)
            return;
    for (size_t i = 0; i < *count; i++)
        if (strcmp(added[i], sentence) == 0)
            return;
    added[(*count)++] = sentence;
    sw_sketch_text(list, NULL, sentence);
}

/* What stands there stays: only a person who found the cause takes it away. */
static void make_beware(making *m) {
    sw_interview *interview = m->interview;
    const sw_told *told = &interview->told;
    const sw_scenario *draft = interview->draft;
    size_t count = 0;
    const char **added = SW_ASK_NEW(interview, const char *, 2 * told->danger_count);
    if (told->danger_count == 0 || added == NULL)
        return;
    sw_sketch *list = sw_sketch_array(m->root, "beware");
    for (size_t i = 0; i < draft->beware_count; i++)
        sw_sketch_text(list, NULL, draft->beware[i]);
    for (size_t i = 0; i < told->danger_count; i++) {
        add_once(list, draft, added, &count,
                 sw_ask_format(interview, "The client says: \"%s\".", told->dangers[i].words));
        add_once(list, draft, added, &count, told->dangers[i].danger->says);
    }
}

/* ---- the whole
 * ------------------------------------------------------------------------------------------ */

/* What is new stands where such files have it. */
static void order_members(making *m) {
    static const char *const order[] = {"schema", "title",      "catalog", "currency", "date",
                                        "note",   "machine",    "given",   "observed", "musts",
                                        "wishes", "complaints", "beware",  "surprise", "assumed",
                                        "room",   "budget",     "phases"};
    size_t last = 0;
    for (size_t i = 1; i < sizeof order / sizeof *order; i++) {
        if (sw_sketch_get(m->root, order[i]) == NULL)
            continue;
        if (sw_json_get(m->before, order[i]) == NULL)
            sw_sketch_move(m->root, order[i], order[last]);
        last = i;
    }
}

static sw_sketch *make(sw_interview *interview, sw_arena *arena) {
    making m = {.interview = interview, .before = sw_scenario_json(interview->draft)};
    m.root = sw_sketch_of(arena, m.before);
    if (m.root == NULL)
        return NULL;
    m.wishes = sw_sketch_get(m.root, "wishes");
    if (m.wishes == NULL)
        m.wishes = sw_sketch_object(m.root, "wishes");
    if (interview->title != NULL)
        sw_sketch_text(m.root, "title", interview->title);
    make_complaints(&m);
    make_beware(&m);
    make_uses(&m);
    make_weights(&m);
    make_taste(&m);
    make_keep(&m);
    make_avoid(&m);
    make_limits(&m);
    make_budget(&m);
    make_later(&m);
    make_surprise(&m);
    make_assumed(&m);
    order_members(&m);
    return m.root;
}

static sw_status write_scenario(char **out, sw_interview *interview, sw_arena *arena) {
    char *before = NULL, *after = NULL;
    sw_status status =
        sw_sketch_write(&before, sw_sketch_of(arena, sw_scenario_json(interview->draft)));
    if (status == SW_OK)
        status = sw_sketch_write(&after, make(interview, arena));
    if (status == SW_OK)
        status = sw_splice(out, interview->bytes, before, after, 1);
    free(before);
    free(after);
    return status;
}

sw_status sw_interview_scenario(char **out, sw_interview *interview, sw_complaints *complaints) {
    sw_arena *arena = sw_arena_new();
    sw_scenario *again = NULL;
    char *text = NULL;
    if (arena == NULL)
        return SW_NO_MEMORY;
    sw_status status = write_scenario(&text, interview, arena);
    sw_arena_free(arena);
    if (status == SW_OK && (text == NULL || interview->failed))
        status = SW_NO_MEMORY;
    if (status == SW_OK)
        status = sw_scenario_read_bytes(&again, interview->path, text, strlen(text),
                                        interview->catalog, false, complaints);
    sw_scenario_free(again);
    if (status == SW_OK)
        *out = text;
    else
        free(text);
    return status;
}
