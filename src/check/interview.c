/* interview.json: what is asked of a client. The file may be missing. */
#include "check/interview.h"

#include <string.h>

#include "check/stage.h"

#define SWINGS_MOST 9
#define PRESET_WORTH_MOST 100000
#define PAIRS_MOST 26

const char *const sw_topic_ids[SW_TOPIC_COUNT] = {"complaint", "uses",  "rates",  "order",
                                                  "worth",     "taste", "budget", "later",
                                                  "keep",      "avoid", "limits", "surprise"};
const char *const sw_doubt_ids[SW_DOUBT_COUNT] = {"shares",  "rate-down",    "rank-against-worth",
                                                  "trade",   "weight",       "taste-unsaid",
                                                  "reserve", "later-before", "all-kept"};

/* The names of what this file itself lists. */
typedef struct reading {
    sw_check *check;
    sw_interview_form *form;
    sw_names swings; /* criteria that a swing is about */
    sw_names facts;  /* that a pair is about */
} reading;

typedef void read_entry(reading *r, const sw_node *at, void *out);

/* The entries of a list, each read into a struct of `size` bytes. */
static void read_list(reading *r, const sw_node *root, const char *name, size_t most, size_t size,
                      read_entry *read, const void **out, size_t *count) {
    sw_node list;
    if (!sw_get_list(r->check, root, name, SW_REQUIRED, 0, most, &list))
        return;
    char *made = sw_keep(r->check, list.json->count, size);
    for (size_t i = 0; made != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        read(r, &entry, made + i * size);
    }
    *out = made;
    *count = made == NULL ? 0 : list.json->count;
}

#define READ_LIST(r, root, name, most, list, count, read)                                          \
    read_list((r), (root), (name), (most), sizeof *(list), (read), (const void **)(void *)&(list), \
              &(count))

/* ---- questions -------------------------------------------------------------------------- */

static void read_topic(reading *r, const sw_node *at) {
    sw_check *check = r->check;
    int topic = 0;
    if (!SW_CHECK_NAMES(check, at, "question", "name", "ask", "why", "write", "assumed", "scale") ||
        !sw_get_choice(check, at, "question", SW_REQUIRED, &topic, sw_topic_ids, SW_TOPIC_COUNT))
        return;
    sw_topic_form *out = &r->form->topics[topic];
    if (out->id != NULL) {
        sw_node place = sw_member(at, "question");
        sw_wrong(check, &place, "each is asked once", "take one of the two away",
                 "stands there twice: \"%s\"", out->id);
        return;
    }
    *out = (sw_topic_form){sw_topic_ids[topic], "", "", "", "", "", ""};
    sw_get_text(check, at, "name", SW_REQUIRED, &out->name);
    sw_get_text(check, at, "ask", SW_REQUIRED, &out->ask);
    sw_get_text(check, at, "why", SW_REQUIRED, &out->why);
    sw_get_text(check, at, "write", SW_REQUIRED, &out->write);
    sw_get_text(check, at, "assumed", SW_REQUIRED, &out->assumed);
    sw_get_text(check, at, "scale", SW_OPTIONAL, &out->scale);
}

static void read_topics(reading *r, const sw_node *root) {
    sw_node list;
    if (!sw_get_list(r->check, root, "questions", SW_REQUIRED, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_topic(r, &at);
    }
}

/* ---- sentences --------------------------------------------------------------------------- */

static const char *const slots_of[SW_DOUBT_COUNT][4] = {
    [SW_DOUBT_SHARES] = {"sum"},
    [SW_DOUBT_RATE_DOWN] = {"use", "now", "wanted"},
    [SW_DOUBT_RANK] = {"first", "second"},
    [SW_DOUBT_TRADE] = {"gain", "loss"},
    [SW_DOUBT_RESERVE] = {"total", "kept"},
    [SW_DOUBT_LATER] = {"day", "today", "sum"},
    [SW_DOUBT_KEPT] = {"total"},
};
static const char *const loss_slots[4] = {"number"};

static void check_slot(sw_check *check, const sw_node *at, const char *slot, const void *of) {
    const char *const *known = of;
    size_t count = 0;
    for (; count < 4 && known[count] != NULL; count++)
        if (strcmp(slot, known[count]) == 0)
            return;
    sw_wrong(check, at, "only what is known at this place can be filled in",
             sw_mend_name(check, slot, known, count, "take it away"),
             "fills in \"%s\", which is not known here", sw_shown(check, slot));
}

/* ---- swings, presets, taste ---------------------------------------------------------------- */

static void read_swing(reading *r, const sw_node *at, void *made) {
    sw_swing_form *out = made;
    sw_check *check = r->check;
    *out = (sw_swing_form){.criterion = SW_NONE, .gain = "", .loss = ""};
    if (!SW_CHECK_NAMES(check, at, "criterion", "gain", "loss"))
        return;
    sw_get_text(check, at, "gain", SW_REQUIRED, &out->gain);
    sw_get_sentence(check, at, "loss", check_slot, loss_slots, &out->loss);
    if (!sw_get_index(check, at, "criterion", SW_REQUIRED, &check->criteria, "criterion",
                      "criteria.json", &out->criterion))
        return;
    sw_node place = sw_member(at, "criterion");
    sw_register(check, &place, &r->swings, check->catalog->criteria[out->criterion].id,
                (int)at->index);
}

static void read_preset(reading *r, const sw_node *at, void *made) {
    sw_preset *out = made;
    sw_check *check = r->check;
    sw_node list;
    *out = (sw_preset){.id = "", .name = ""};
    if (!SW_CHECK_NAMES(check, at, "preset", "name", "worth"))
        return;
    sw_get_id(check, at, "preset", SW_REQUIRED, &out->id);
    sw_get_text(check, at, "name", SW_REQUIRED, &out->name);
    if (!sw_get_list(check, at, "worth", SW_REQUIRED, 1, SWINGS_MOST, &list))
        return;
    int64_t *worth = SW_KEEP(check, int64_t, list.json->count);
    for (size_t i = 0; worth != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        bool good = sw_check_milli(check, &entry, i == 0 ? 1 : 0, PRESET_WORTH_MOST, &worth[i]);
        if (good && i > 0 && worth[i] > worth[i - 1])
            sw_wrong(check, &entry, "what is wanted less is worth less",
                     "let the numbers fall, or stay", "is above the one before it");
    }
    out->worth_milli = worth;
    out->worth_count = worth == NULL ? 0 : list.json->count;
}

static void read_side(reading *r, const sw_node *pair, const char *name, int fact,
                      sw_taste_side *out) {
    sw_check *check = r->check;
    sw_node at, list;
    *out = (sw_taste_side){.name = ""};
    if (!sw_get(check, pair, name, SW_REQUIRED, SW_JSON_OBJECT, &at) ||
        !SW_CHECK_NAMES(check, &at, "name", "tokens"))
        return;
    sw_get_text(check, &at, "name", SW_REQUIRED, &out->name);
    if (sw_get_list(check, &at, "tokens", SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &list) &&
        fact != SW_NONE && !check->fact_doubt[fact])
        sw_check_fact_tokens(check, &list, &check->catalog->facts[fact], &out->tokens,
                             &out->token_count);
}

static void read_pair(reading *r, const sw_node *at, void *made) {
    sw_taste_pair *out = made;
    sw_check *check = r->check;
    *out = (sw_taste_pair){.fact = SW_NONE};
    if (!SW_CHECK_NAMES(check, at, "fact", "a", "b"))
        return;
    if (sw_get_fact(check, at, "fact", SW_TYPE_BIT(SW_TOKEN), &out->fact)) {
        sw_node place = sw_member(at, "fact");
        sw_register(check, &place, &r->facts, check->catalog->facts[out->fact].name, 0);
    }
    read_side(r, at, "a", out->fact, &out->sides[0]);
    read_side(r, at, "b", out->fact, &out->sides[1]);
}

/* ---- words -------------------------------------------------------------------------------- */

/* Small letters, digits and apostrophes, single blanks, a star at the end. */
static bool is_phrase(const char *text) {
    static const char letters[] = "abcdefghijklmnopqrstuvwxyz0123456789'";
    const char *at = text;
    while (*at != '\0') {
        size_t length = 0;
        for (; at[length] != '\0' &&
               ((unsigned char)at[length] >= 0x80 || strchr(letters, at[length]) != NULL);)
            length++;
        if (length == 0)
            return false;
        at += length;
        if (*at == '*')
            return at[1] == '\0';
        if (*at == ' ')
            at++;
        else if (*at != '\0')
            return false;
        else
            return true;
    }
    return false;
}

static void add_phrase(reading *r, const sw_node *at, sw_phrase made, sw_names *seen,
                       sw_phrase *list, size_t *count) {
    sw_check *check = r->check;
    const char *words = "";
    if (!sw_check_text(check, at, &words))
        return;
    if (!is_phrase(words)) {
        sw_wrong(check, at, "words are compared in small letters, one blank between them",
                 "write small letters, with a * at the very end for any ending",
                 "is no word or words");
        return;
    }
    made.words = words;
    if (sw_register(check, at, seen, words, 0))
        list[(*count)++] = made;
}

static void read_words(reading *r, const sw_node *root) {
    sw_check *check = r->check;
    static const char *const others[] = {"not", "fine"};
    static const sw_phrase_kind kinds[] = {SW_PHRASE_NOT, SW_PHRASE_FINE};
    sw_node groups, list, other[2] = {{0}, {0}};
    sw_names seen = {0};
    size_t room = 0, count = 0;
    if (!sw_get_list(check, root, "words", SW_REQUIRED, 0, SW_SHORT_LIST_LIMIT, &groups))
        return;
    for (size_t k = 0; k < 2; k++)
        if (sw_get_list(check, root, others[k], SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &other[k]))
            room += other[k].json->count;
    for (size_t i = 0; i < groups.json->count; i++) {
        const sw_json *words = sw_json_get(&groups.json->children[i], "words");
        room += words != NULL ? words->count : 0;
    }
    sw_phrase *phrases = SW_KEEP(check, sw_phrase, room);
    for (size_t k = 0; k < 2 && phrases != NULL; k++)
        for (size_t i = 0; other[k].json != NULL && i < other[k].json->count; i++) {
            sw_node word = sw_element(&other[k], i);
            add_phrase(r, &word, (sw_phrase){.kind = kinds[k], .trouble = SW_NONE}, &seen, phrases,
                       &count);
        }
    for (size_t i = 0; phrases != NULL && i < groups.json->count; i++) {
        sw_node at = sw_element(&groups, i);
        int trouble = SW_NONE;
        if (!SW_CHECK_NAMES(check, &at, "complaint", "words"))
            continue;
        sw_get_index(check, &at, "complaint", SW_REQUIRED, &check->troubles, "complaint",
                     "complaints.json", &trouble);
        if (!sw_get_list(check, &at, "words", SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &list))
            continue;
        for (size_t w = 0; w < list.json->count; w++) {
            sw_node word = sw_element(&list, w);
            add_phrase(r, &word, (sw_phrase){.trouble = trouble}, &seen, phrases, &count);
        }
    }
    sw_names_free(&seen);
    r->form->phrases = phrases;
    r->form->phrase_count = count;
}

static void read_danger(reading *r, const sw_node *at, sw_danger *out) {
    sw_check *check = r->check;
    sw_node list;
    sw_names seen = {0};
    const char *source = NULL;
    *out = (sw_danger){.id = "", .says = ""};
    if (!SW_CHECK_NAMES(check, at, "danger", "words", "says", "source"))
        return;
    sw_get_id(check, at, "danger", SW_REQUIRED, &out->id);
    sw_get_text(check, at, "says", SW_REQUIRED, &out->says);
    sw_get_text(check, at, "source", SW_REQUIRED, &source);
    if (!sw_get_list(check, at, "words", SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_phrase *phrases = SW_KEEP(check, sw_phrase, list.json->count);
    for (size_t w = 0; phrases != NULL && w < list.json->count; w++) {
        sw_node word = sw_element(&list, w);
        add_phrase(r, &word, (sw_phrase){.trouble = SW_NONE}, &seen, phrases, &out->phrase_count);
    }
    sw_names_free(&seen);
    out->phrases = phrases;
}

static void read_dangers(reading *r, const sw_node *root) {
    sw_node list;
    if (!sw_get_list(r->check, root, "dangers", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_danger *made = SW_KEEP(r->check, sw_danger, list.json->count);
    for (size_t i = 0; made != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_danger(r, &at, &made[i]);
    }
    r->form->dangers = made;
    r->form->danger_count = made == NULL ? 0 : list.json->count;
}

/* ---- checks, and what is assumed ------------------------------------------------------------- */

static void read_doubt(reading *r, const sw_node *at, void *made) {
    sw_doubt_form *out = made;
    sw_check *check = r->check;
    int doubt = 0;
    *out = (sw_doubt_form){
        .doubt = SW_DOUBT_COUNT, .trouble = SW_NONE, .criterion = SW_NONE, .id = "", .says = ""};
    if (!sw_is_kind(check, at, SW_JSON_OBJECT) ||
        !sw_get_choice(check, at, "check", SW_REQUIRED, &doubt, sw_doubt_ids, SW_DOUBT_COUNT))
        return;
    out->id = sw_doubt_ids[doubt];
    sw_get_sentence(check, at, "says", check_slot, slots_of[doubt], &out->says);
    if (doubt != SW_DOUBT_WEIGHT) {
        if (SW_CHECK_NAMES(check, at, "check", "says"))
            out->doubt = (sw_doubt)doubt;
        return;
    }
    if (SW_CHECK_NAMES(check, at, "check", "says", "complaint", "criterion") &&
        sw_get_index(check, at, "complaint", SW_REQUIRED, &check->troubles, "complaint",
                     "complaints.json", &out->trouble) &&
        sw_get_index(check, at, "criterion", SW_REQUIRED, &r->swings, "swing", "this file",
                     &out->criterion))
        out->doubt = SW_DOUBT_WEIGHT;
}

static void read_use(reading *r, const sw_node *at, void *made) {
    sw_assumed_use *out = made;
    sw_check *check = r->check;
    *out = (sw_assumed_use){.use = SW_NONE};
    if (!SW_CHECK_NAMES(check, at, "use", "share"))
        return;
    sw_get_index(check, at, "use", SW_REQUIRED, &check->uses, "use", "uses.json", &out->use);
    sw_get_milli(check, at, "share", SW_REQUIRED, 1, SW_MILLI_LIMIT, &out->share_milli);
}

/* Of twice the same the scenario would be refused. */
static void check_uses(reading *r, const sw_node *assumes) {
    sw_node list = sw_member(assumes, "uses");
    sw_names seen = {0};
    for (size_t i = 0; i < r->form->use_count; i++) {
        sw_node at = sw_element(&list, i), place = sw_member(&at, "use");
        if (r->form->uses[i].use != SW_NONE)
            sw_register(r->check, &place, &seen, r->check->catalog->uses[r->form->uses[i].use].id,
                        0);
    }
    sw_names_free(&seen);
}

static void read_order(reading *r, const sw_node *assumes) {
    sw_check *check = r->check;
    sw_node list;
    sw_names seen = {0};
    if (!sw_get_list(check, assumes, "order", SW_REQUIRED, 1, SWINGS_MOST, &list))
        return;
    int *order = SW_KEEP(check, int, list.json->count);
    size_t count = 0;
    for (size_t i = 0; order != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        if (!sw_is_kind(check, &at, SW_JSON_TEXT))
            continue;
        int swing = sw_find(check, &at, &r->swings, at.json->text, "swing", "this file");
        if (swing != SW_NONE && sw_register(check, &at, &seen, at.json->text, 0))
            order[count++] = swing;
    }
    sw_names_free(&seen);
    r->form->order = order;
    r->form->order_count = count;
}

static void read_assumes(reading *r, const sw_node *root) {
    sw_node at;
    if (!sw_get(r->check, root, "assumes", SW_REQUIRED, SW_JSON_OBJECT, &at) ||
        !SW_CHECK_NAMES(r->check, &at, "uses", "order"))
        return;
    READ_LIST(r, &at, "uses", SW_SHORT_LIST_LIMIT, r->form->uses, r->form->use_count, read_use);
    check_uses(r, &at);
    if (r->form->use_count == 0) {
        sw_node list = sw_member(&at, "uses");
        if (list.json != NULL && list.json->kind == SW_JSON_ARRAY)
            sw_wrong(r->check, &list, "speed is measured by what the machine is used for",
                     "name at least one use", "names no use");
    }
    read_order(r, &at);
}

void sw_read_interview(sw_check *check) {
    sw_node root;
    if (!sw_has_file(check, "interview.json") ||
        !sw_check_open(check, sw_catalog_path(check, "interview.json"), &root))
        return;
    reading r = {.check = check, .form = SW_KEEP(check, sw_interview_form, 1)};
    if (r.form == NULL)
        return;
    SW_CHECK_NAMES(check, &root, "schema", "questions", "swings", "presets", "pairs", "words",
                   "not", "fine", "dangers", "checks", "assumes");
    read_topics(&r, &root);
    r.swings.whole = check->criteria.whole;
    READ_LIST(&r, &root, "swings", SWINGS_MOST, r.form->swings, r.form->swing_count, read_swing);
    READ_LIST(&r, &root, "presets", SW_SHORT_LIST_LIMIT, r.form->presets, r.form->preset_count,
              read_preset);
    READ_LIST(&r, &root, "pairs", PAIRS_MOST, r.form->pairs, r.form->pair_count, read_pair);
    read_words(&r, &root);
    read_dangers(&r, &root);
    READ_LIST(&r, &root, "checks", SW_SHORT_LIST_LIMIT, r.form->doubts, r.form->doubt_count,
              read_doubt);
    read_assumes(&r, &root);
    sw_names_free(&r.swings);
    sw_names_free(&r.facts);
    check->catalog->interview = r.form;
}
