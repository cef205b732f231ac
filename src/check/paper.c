/* proposal.json and hazards.json: what the shop's paper says beside the bundles; and how far this
 * client may be surprised. Both files may be missing. */
#include "check/stage.h"

#include <string.h>

#define DAYS_VALID 14
#define DAY_MINUTES 240
#define TEST_DAYS 1
#define NEST_SHARE_MILLI 20
#define PAPER_DAYS_LIMIT 1000 /* nobody holds a price for longer */
#define MINUTES_OF_A_DAY 1440

/* ---- sentences --------------------------------------------------------------------------------
 */

static void read_sentences(sw_check *check, const sw_node *at, const char *name, sw_need need,
                           const char *const **out, size_t *count) {
    sw_node list;
    if (!sw_get_list(check, at, name, need, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    const char **texts = SW_KEEP(check, const char *, list.json->count);
    for (size_t i = 0; texts != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        texts[i] = "";
        sw_check_text(check, &entry, &texts[i]);
    }
    *out = texts;
    *count = texts == NULL ? 0 : list.json->count;
}

/* ---- surprises --------------------------------------------------------------------------------
 */

/* What may be done without asking, as the shopping counts it. */
static void read_allowance(sw_check *check, const sw_node *at, sw_surprise *out) {
    static const char *const words[] = {"seller", "as-good", "part"};
    bool *const allows[] = {&out->allows_seller, &out->allows_as_good, &out->allows_part};
    size_t count = sizeof words / sizeof *words, which = 0;
    while (which < count && strcmp(at->json->text, words[which]) != 0)
        which++;
    if (which == count)
        sw_wrong(check, at, "it is one of: seller, as-good, part",
                 sw_mend_name(check, at->json->text, words, count, "choose one of these"),
                 "is \"%s\"", sw_shown(check, at->json->text));
    else if (*allows[which])
        sw_wrong(check, at, "once is enough", "take one away", "stands there twice");
    else
        *allows[which] = true;
}

static void read_allowed(sw_check *check, const sw_node *at, sw_surprise *out) {
    sw_node list;
    if (!sw_get_list(check, at, "allows", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        if (sw_is_kind(check, &entry, SW_JSON_TEXT))
            read_allowance(check, &entry, out);
    }
}

static void read_surprise(sw_check *check, const sw_node *at, int index, sw_surprise *out) {
    *out = (sw_surprise){.id = "", .name = ""};
    if (!SW_CHECK_NAMES(check, at, "surprise", "name", "free", "word", "allows")) {
        check->surprises.whole = false;
        return;
    }
    out->id = sw_get_new_name(check, at, "surprise", &check->surprises, index);
    sw_get_text(check, at, "name", SW_REQUIRED, &out->name);
    read_sentences(check, at, "free", SW_REQUIRED, &out->free_to, &out->free_count);
    read_sentences(check, at, "word", SW_REQUIRED, &out->word, &out->word_count);
    read_allowed(check, at, out);
}

static void read_surprises(sw_check *check, const sw_node *root, sw_paper *out) {
    sw_node list;
    if (sw_member(root, "surprises").json == NULL) {
        check->surprises.whole = true;
        return;
    }
    if (!sw_get_list(check, root, "surprises", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_surprise *surprises = SW_KEEP(check, sw_surprise, list.json->count);
    check->surprises.whole = surprises != NULL;
    for (size_t i = 0; surprises != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_surprise(check, &at, (int)i, &surprises[i]);
    }
    out->surprises = surprises;
    out->surprise_count = surprises == NULL ? 0 : list.json->count;
}

/* ---- asks -------------------------------------------------------------------------------------
 */

static const char *const forms[] = {"warranty_most", "return_most", "given", "fact",     "task",
                                    "changes",       "holds",       "empty", "observed", "not"};
#define FORM_COUNT (sizeof forms / sizeof *forms)
#define OWN_FORMS 3 /* the others are those of conditions */

/* The one form that it has; FORM_COUNT after a complaint. */
static size_t find_form(sw_check *check, const sw_node *at) {
    size_t found = FORM_COUNT, count = 0;
    if (!sw_is_kind(check, at, SW_JSON_OBJECT))
        return FORM_COUNT;
    for (size_t f = 0; f < FORM_COUNT; f++)
        if (sw_json_get(at->json, forms[f]) != NULL) {
            found = f;
            count++;
        }
    if (count == 1)
        return found;
    const char *mend = at->json->count == 0 ? "give one of these"
                                            : sw_mend_name(check, at->json->children[0].name, forms,
                                                           FORM_COUNT, "give one of these");
    sw_wrong(check, at, "it is a condition, or one of: warranty_most, return_most, given",
             count == 0 ? mend : "write two entries: one of them is enough",
             count == 0 ? "is no condition" : "is two conditions in one");
    return FORM_COUNT;
}

static void read_ask_when(sw_check *check, const sw_node *at, sw_ask_when *out) {
    bool given = true;
    size_t form = find_form(check, at);
    if (form == FORM_COUNT)
        return;
    if (form >= OWN_FORMS) {
        out->how = SW_ASK_COND;
        sw_check_condition(check, at, &out->cond);
        return;
    }
    sw_check_names(check, at, &forms[form], 1);
    sw_node found = sw_member(at, forms[form]);
    out->how = form == 0 ? SW_ASK_WARRANTY : form == 1 ? SW_ASK_RETURN : SW_ASK_GIVEN;
    if (out->how != SW_ASK_GIVEN)
        sw_get_count(check, at, forms[form], SW_REQUIRED, 0, SW_DAYS_LIMIT, &out->most);
    else if (sw_get_flag(check, at, "given", SW_REQUIRED, &given) && !given)
        sw_wrong(check, &found, "it is said where given parts need the client's word",
                 "write true, or take it away", "is false");
}

static void read_ask(sw_check *check, const sw_node *at, sw_names *ids, int index, sw_ask *out) {
    sw_node list;
    *out = (sw_ask){.id = "", .words = ""};
    if (!SW_CHECK_NAMES(check, at, "ask", "any", "words"))
        return;
    out->id = sw_get_new_name(check, at, "ask", ids, index);
    sw_get_text(check, at, "words", SW_REQUIRED, &out->words);
    if (!sw_get_list(check, at, "any", SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_ask_when *any = SW_KEEP(check, sw_ask_when, list.json->count);
    for (size_t i = 0; any != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        read_ask_when(check, &entry, &any[i]);
    }
    out->any = any;
    out->any_count = any == NULL ? 0 : list.json->count;
}

static void read_asks(sw_check *check, const sw_node *root, sw_paper *out) {
    sw_node list;
    sw_names ids = {0};
    if (!sw_get_list(check, root, "asks", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_ask *asks = SW_KEEP(check, sw_ask, list.json->count);
    for (size_t i = 0; asks != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_ask(check, &at, &ids, (int)i, &asks[i]);
    }
    sw_names_free(&ids);
    out->asks = asks;
    out->ask_count = asks == NULL ? 0 : list.json->count;
}

/* ---- the paper --------------------------------------------------------------------------------
 */

void sw_read_paper(sw_check *check) {
    sw_node root;
    sw_paper *paper = &check->catalog->paper;
    *paper = (sw_paper){.shop = "",
                        .valid_days = DAYS_VALID,
                        .test_days = TEST_DAYS,
                        .bench_minutes_a_day = DAY_MINUTES,
                        .nest_share_milli = NEST_SHARE_MILLI};
    if (!sw_has_file(check, "proposal.json")) {
        check->surprises.whole = true; /* then no scenario can name one */
        return;
    }
    if (!sw_check_open(check, sw_catalog_path(check, "proposal.json"), &root))
        return;
    SW_CHECK_NAMES(check, &root, "schema", "shop", "valid_days", "bench_minutes_a_day", "test_days",
                   "nest_share", "surprises", "asks", "promises", "drawing");
    sw_get_text(check, &root, "shop", SW_REQUIRED, &paper->shop);
    sw_get_count(check, &root, "valid_days", SW_OPTIONAL, 1, PAPER_DAYS_LIMIT, &paper->valid_days);
    sw_get_count(check, &root, "test_days", SW_OPTIONAL, 0, PAPER_DAYS_LIMIT, &paper->test_days);
    sw_get_whole(check, &root, "bench_minutes_a_day", SW_OPTIONAL, 1, MINUTES_OF_A_DAY,
                 &paper->bench_minutes_a_day);
    sw_get_milli(check, &root, "nest_share", SW_OPTIONAL, 0, 1000, &paper->nest_share_milli);
    read_surprises(check, &root, paper);
    read_asks(check, &root, paper);
    read_sentences(check, &root, "promises", SW_OPTIONAL, &paper->promises, &paper->promise_count);
    sw_read_drawing(check, &root);
}

/* ---- hazards ----------------------------------------------------------------------------------
 */

static void read_hazard(sw_check *check, const sw_node *at, sw_names *ids, int index,
                        sw_hazard *out) {
    *out = (sw_hazard){.id = "", .danger = "", .habit = "", .limit = "", .source = ""};
    if (!SW_CHECK_NAMES(check, at, "hazard", "any", "danger", "habit", "limit", "source"))
        return;
    out->id = sw_get_new_name(check, at, "hazard", ids, index);
    sw_get_conditions(check, at, "any", SW_REQUIRED, 1, SW_NONE, &out->any, &out->any_count);
    sw_get_text(check, at, "danger", SW_REQUIRED, &out->danger);
    sw_get_text(check, at, "habit", SW_REQUIRED, &out->habit);
    sw_get_text(check, at, "limit", SW_REQUIRED, &out->limit);
    sw_get_text(check, at, "source", SW_REQUIRED, &out->source);
}

void sw_read_hazards(sw_check *check) {
    sw_node root, list;
    sw_names ids = {0};
    if (!sw_has_file(check, "hazards.json"))
        return;
    if (!sw_open_list(check, "hazards.json", "hazards", 0, SW_SHORT_LIST_LIMIT, &root, &list))
        return;
    SW_CHECK_NAMES(check, &root, "schema", "hazards");
    sw_hazard *hazards = SW_KEEP(check, sw_hazard, list.json->count);
    for (size_t i = 0; hazards != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_hazard(check, &at, &ids, (int)i, &hazards[i]);
    }
    sw_names_free(&ids);
    check->catalog->hazards = hazards;
    check->catalog->hazard_count = hazards == NULL ? 0 : list.json->count;
}

/* ---- what the client names --------------------------------------------------------------------
 */

void sw_read_surprise(sw_job *job) {
    sw_check *check = job->check;
    sw_scenario *scenario = job->scenario;
    scenario->surprise = check->catalog->paper.surprise_count > 0 ? 0 : SW_NONE;
    sw_get_index(check, job->root, "surprise", SW_OPTIONAL, &check->surprises, "surprise",
                 "proposal.json", &scenario->surprise);
}
