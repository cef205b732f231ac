/* complaints.json: what clients complain of, and when a machine ends it; and which of them this
 * client states. (A sw_complaint is about a file.) The file may be missing. */
#include "check/stage.h"

#include <string.h>

/* ---- needs ------------------------------------------------------------------------------------
 */

/* Terms of a need: thousandths times thousandths stay within 64 bits. */
#define TIMES_LIMIT_MILLI 1000000

static const char *const bounds[] = {"is", "least", "most", "has", "one_of"};
static const char *const todays[] = {"times", "of", "plus"};
static const char *const fact_names[] = {"fact",   "is",    "least", "most", "has",
                                         "one_of", "times", "of",    "plus"};
#define FACT_NAME_COUNT (sizeof fact_names / sizeof *fact_names)

static size_t count_of(const sw_node *at, const char *const *names, size_t count) {
    size_t found = 0;
    for (size_t i = 0; i < count; i++)
        found += sw_json_get(at->json, names[i]) != NULL;
    return found;
}

/* Both terms are of one role: the bundle is judged fit-out by fit-out. */
static bool read_of(sw_check *check, const sw_node *at, sw_relief_need *out) {
    sw_term of;
    sw_node found = sw_member(at, "of");
    out->of = out->fact;
    if (found.json == NULL)
        return true;
    if (!sw_get_term(check, at, "of", SW_TYPE_BIT(SW_NUMBER), &of))
        return false;
    if (of.role != out->role) {
        sw_wrong(check, &found, "a need reads one role", "name a fact of the same role",
                 "is of the role \"%s\", not of \"%s\"", check->catalog->roles[of.role].id,
                 check->catalog->roles[out->role].id);
        return false;
    }
    out->of = of.fact;
    return true;
}

static bool read_by_today(sw_check *check, const sw_node *at, sw_relief_need *out) {
    sw_term term;
    out->by_today = true;
    out->times_milli = 1000;
    SW_CHECK_NAMES(check, at, "fact", "times", "of", "plus");
    bool good = sw_get_term(check, at, "fact", SW_TYPE_BIT(SW_NUMBER), &term);
    if (good) {
        out->role = term.role;
        out->fact = term.fact;
        good = read_of(check, at, out);
    }
    sw_get_milli(check, at, "times", SW_OPTIONAL, 0, TIMES_LIMIT_MILLI, &out->times_milli);
    sw_get_milli(check, at, "plus", SW_OPTIONAL, -SW_MILLI_LIMIT, SW_MILLI_LIMIT, &out->plus_milli);
    return good;
}

static bool read_need(sw_check *check, const sw_node *at, sw_relief_need *out) {
    *out = (sw_relief_need){.role = SW_NONE, .fact = SW_NONE, .of = SW_NONE};
    size_t bound = count_of(at, bounds, sizeof bounds / sizeof *bounds);
    size_t today = count_of(at, todays, sizeof todays / sizeof *todays);
    if (bound > 0 && today > 0) {
        sw_wrong(check, at, "a fact is held against a bound, or against what it is today",
                 "write two needs, or take one of the two away", "compares the fact in two ways");
        return false;
    }
    if (today > 0)
        return read_by_today(check, at, out);
    if (bound == 0 && sw_json_get(at->json, "fact") != NULL) {
        size_t known = 1 + (sw_json_get(at->json, "note") != NULL);
        sw_check_names(check, at, fact_names, FACT_NAME_COUNT);
        /* A name that is not known was complained of, and is the reason. */
        if (known == at->json->count)
            sw_wrong(check, at,
                     "a fact is held against one of: is, least, most, has, one_of, times, of, plus",
                     "give one", "compares the fact with nothing");
        return false;
    }
    if (!sw_check_condition(check, at, &out->cond))
        return false;
    out->role = out->cond.role;
    if (out->cond.op != SW_COND_OBSERVED)
        return true;
    sw_wrong(check, at, "a need is about a role, whose parts may change", "name what ends it",
             "is about an observation");
    return false;
}

static bool read_needs(sw_check *check, const sw_node *at, sw_relief *out) {
    sw_node list;
    if (!sw_get_list(check, at, "any", SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &list))
        return false;
    sw_relief_need *needs = SW_KEEP(check, sw_relief_need, list.json->count);
    bool good = needs != NULL;
    for (size_t i = 0; needs != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        good &= read_need(check, &entry, &needs[i]);
    }
    out->needs = needs;
    out->need_count = list.json->count;
    return good;
}

/* ---- ends -------------------------------------------------------------------------------------
 */

/* In the order of sw_relief_how, with the thousandths between which its size lies. */
static const struct {
    const char *name;
    int64_t least_milli, most_milli;
} hows[] = {{"must", 0, 0},
            {"loudness", 1, 1000},
            {"rate", 1001, 100000},
            {"looks", 1, 1000},
            {"any", 0, 0}};
#define HOW_COUNT (sizeof hows / sizeof *hows)

static const char *const how_names[HOW_COUNT] = {"must", "loudness", "rate", "looks", "any"};

/* The one way in which it ends; HOW_COUNT after a complaint. */
static size_t find_how(sw_check *check, const sw_node *at) {
    size_t found = HOW_COUNT, count = 0;
    if (!sw_is_kind(check, at, SW_JSON_OBJECT))
        return HOW_COUNT;
    for (size_t h = 0; h < HOW_COUNT; h++)
        if (sw_json_get(at->json, how_names[h]) != NULL) {
            found = h;
            count++;
        }
    if (count == 1 && sw_check_names(check, at, &how_names[found], 1))
        return found;
    const char *mend = at->json->count == 0
                           ? "give one of these"
                           : sw_mend_name(check, at->json->children[0].name, how_names, HOW_COUNT,
                                          "give one of these");
    sw_wrong(check, at, "a complaint ends by one of: must, loudness, rate, looks, any",
             count == 0 ? mend : "write two entries: all of them must hold",
             count == 0 ? "is no way to end it" : "is two ways in one");
    return HOW_COUNT;
}

/* What nothing measures would never be there, and the complaint would never end. */
static bool is_measured(sw_check *check, const sw_node *at, sw_criterion_kind kind) {
    const sw_catalog *catalog = check->catalog;
    for (size_t c = 0; c < catalog->criterion_count; c++)
        if (catalog->criteria[c].kind == kind)
            return true;
    if (check->criteria.whole)
        sw_wrong(check, at, "a criterion of criteria.json says how it is measured",
                 "take it away, or add that criterion", "is measured by no criterion");
    return false;
}

static bool read_must(sw_check *check, const sw_node *at) {
    bool truth = true;
    if (!sw_get_flag(check, at, "must", SW_REQUIRED, &truth))
        return false;
    sw_node found = sw_member(at, "must");
    if (!truth)
        sw_wrong(check, &found, "it is said where the musts end the complaint",
                 "write true, or take it away", "is false");
    return truth;
}

static bool read_end(sw_check *check, const sw_node *at, sw_relief *out) {
    size_t how = find_how(check, at);
    if (how == HOW_COUNT)
        return false;
    out->how = (sw_relief_how)how;
    if (out->how == SW_RELIEF_MUST)
        return read_must(check, at);
    if (out->how == SW_RELIEF_ANY)
        return read_needs(check, at, out);
    sw_node found = sw_member(at, hows[how].name);
    return sw_check_milli(check, &found, hows[how].least_milli, hows[how].most_milli,
                          &out->milli) &&
           (out->how != SW_RELIEF_LOUDNESS || is_measured(check, &found, SW_QUIET)) &&
           (out->how != SW_RELIEF_LOOKS || is_measured(check, &found, SW_LOOKS));
}

/* None where one of them was complained of: nothing is judged by the others then. */
static void read_ends(sw_check *check, const sw_node *at, sw_trouble *out) {
    sw_node list;
    if (!sw_get_list(check, at, "ends", SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_relief *ends = SW_KEEP(check, sw_relief, list.json->count);
    bool good = ends != NULL;
    for (size_t i = 0; ends != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        good &= read_end(check, &entry, &ends[i]);
    }
    out->ends = ends;
    out->end_count = good ? list.json->count : 0;
}

/* ---- the file ---------------------------------------------------------------------------------
 */

static void read_trouble(sw_check *check, const sw_node *at, int index, sw_trouble *out) {
    *out = (sw_trouble){.id = "", .name = "", .goal = "", .source = ""};
    if (!SW_CHECK_NAMES(check, at, "complaint", "name", "ends", "goal", "source")) {
        check->troubles.whole = false;
        return;
    }
    out->id = sw_get_new_name(check, at, "complaint", &check->troubles, index);
    sw_get_text(check, at, "name", SW_REQUIRED, &out->name);
    read_ends(check, at, out);
    sw_get_text(check, at, "goal", SW_REQUIRED, &out->goal);
    sw_get_text(check, at, "source", SW_REQUIRED, &out->source);
}

void sw_read_troubles(sw_check *check) {
    sw_node root, list;
    if (!sw_has_file(check, "complaints.json")) {
        check->troubles.whole = true; /* then no scenario can state one */
        return;
    }
    if (!sw_open_list(check, "complaints.json", "complaints", 0, SW_SHORT_LIST_LIMIT, &root, &list))
        return;
    SW_CHECK_NAMES(check, &root, "schema", "complaints");
    sw_trouble *troubles = SW_KEEP(check, sw_trouble, list.json->count);
    if (troubles == NULL)
        return;
    check->troubles.whole = true;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_trouble(check, &at, (int)i, &troubles[i]);
    }
    check->catalog->troubles = troubles;
    check->catalog->trouble_count = list.json->count;
}

/* ---- what the client states -------------------------------------------------------------------
 */

/* The uses that the client names, to their places in the scenario. */
static bool add_uses(sw_job *job, sw_names *uses) {
    const sw_scenario *scenario = job->scenario;
    sw_node wishes = sw_member(job->root, "wishes"), list = sw_member(&wishes, "uses");
    uses->whole = wishes.json != NULL && wishes.json->kind == SW_JSON_OBJECT &&
                  (list.json == NULL || list.json->kind == SW_JSON_ARRAY);
    for (size_t u = 0; u < scenario->use_count; u++) {
        int use = scenario->uses[u].use;
        if (use == SW_NONE)
            uses->whole = false;
        else if (sw_names_find(uses, job->check->catalog->uses[use].id) == SW_NONE &&
                 !sw_names_add(uses, job->check->catalog->uses[use].id, (int)u))
            job->check->no_memory = true;
    }
    return !job->check->no_memory;
}

static int largest_use(const sw_scenario *scenario) {
    int found = SW_NONE;
    for (size_t u = 0; u < scenario->use_count; u++)
        if (found == SW_NONE || scenario->uses[u].share_milli > scenario->uses[found].share_milli)
            found = (int)u;
    return found;
}

static bool needs_use(const sw_trouble *trouble) {
    for (size_t e = 0; e < trouble->end_count; e++)
        if (trouble->ends[e].how == SW_RELIEF_RATE)
            return true;
    return false;
}

static void read_its_use(sw_job *job, const sw_node *at, const sw_names *uses,
                         sw_stated_trouble *out) {
    sw_check *check = job->check;
    const sw_trouble *trouble = &check->catalog->troubles[out->trouble];
    sw_node named = sw_member(at, "use");
    if (!needs_use(trouble)) {
        if (named.json != NULL && trouble->end_count > 0)
            sw_wrong(check, &named, "only what ends by a rate is about a use", "take it away",
                     "belongs to a complaint that no use ends");
        return;
    }
    if (named.json != NULL) {
        sw_get_index(check, at, "use", SW_OPTIONAL, uses, "use", "the scenario", &out->use);
        return;
    }
    out->use = largest_use(job->scenario);
    if (out->use == SW_NONE && uses->whole && !check->draft)
        sw_wrong(check, at, "it ends when one of the client's uses is faster",
                 "name a use in \"uses\" of the wishes, or take the complaint away",
                 "needs a use, and the client names none");
}

static void read_stated(sw_job *job, const sw_node *at, const sw_names *uses, sw_names *seen,
                        sw_stated_trouble *out) {
    sw_check *check = job->check;
    *out = (sw_stated_trouble){.trouble = SW_NONE, .use = SW_NONE, .words = ""};
    if (!SW_CHECK_NAMES(check, at, "complaint", "use", "words"))
        return;
    sw_get_text(check, at, "words", SW_OPTIONAL, &out->words);
    if (!sw_get_index(check, at, "complaint", SW_REQUIRED, &check->troubles, "complaint",
                      "complaints.json", &out->trouble))
        return;
    sw_node place = sw_member(at, "complaint");
    sw_register(check, &place, seen, check->catalog->troubles[out->trouble].id, 0);
    read_its_use(job, at, uses, out);
}

void sw_read_stated_troubles(sw_job *job) {
    sw_check *check = job->check;
    sw_node list;
    sw_names uses = {0}, seen = {0};
    if (!sw_get_list(check, job->root, "complaints", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_stated_trouble *stated = SW_KEEP(check, sw_stated_trouble, list.json->count);
    bool ready = add_uses(job, &uses) && stated != NULL;
    for (size_t i = 0; ready && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_stated(job, &at, &uses, &seen, &stated[i]);
    }
    sw_names_free(&uses);
    sw_names_free(&seen);
    job->scenario->troubles = stated;
    job->scenario->trouble_count = ready ? list.json->count : 0;
}
