/* intake.json: what becomes of the dumps of a machine. The file may be missing. */
#include "check/intake.h"

#include <string.h>

#include "check/stage.h"

/* ---- devices and properties ----------------------------------------------------------- */

static bool get_device(sw_check *check, const sw_node *at, const char *name, sw_need need,
                       const char **out) {
    sw_node found = sw_member(at, name);
    if (!sw_get_token(check, at, name, need, out))
        return false;
    if (sw_device_known(*out))
        return true;
    sw_wrong(check, &found, "FORMATS.md section 29 lists the devices", "take one of those",
             "is no device of a dump: \"%s\"", sw_shown(check, *out));
    *out = NULL;
    return false;
}

static bool check_property(sw_check *check, const sw_node *at, const char *device,
                           const char **property, sw_says *says) {
    if (device == NULL || !sw_check_token(check, at, property))
        return false;
    if (sw_property_says(says, device, *property))
        return true;
    sw_wrong(check, at, "FORMATS.md section 29 lists what dumps say of each device",
             "take a property of that table", "is no property of \"%s\": \"%s\"", device,
             sw_shown(check, *property));
    return false;
}

static bool get_property(sw_check *check, const sw_node *at, const char *name, const char *device,
                         const char **property, sw_says *says) {
    sw_node found;
    return sw_get(check, at, name, SW_REQUIRED, SW_JSON_TEXT, &found) &&
           check_property(check, &found, device, property, says);
}

/* A list whose entries are read one by one into structs of `size` bytes. */
typedef void read_entry(sw_check *check, const sw_node *at, void *out, const void *of);

static void read_list(sw_check *check, const sw_node *at, const char *name, sw_need need,
                      size_t size, read_entry *read, const void *of, const void **out,
                      size_t *count) {
    sw_node list;
    if (!sw_get_list(check, at, name, need, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    char *all = sw_keep(check, list.json->count, size);
    for (size_t i = 0; all != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        if (sw_is_kind(check, &entry, SW_JSON_OBJECT))
            read(check, &entry, all + i * size, of);
    }
    *out = all;
    *count = all == NULL ? 0 : list.json->count;
}

#define READ_LIST(check, at, name, need, read, of, list, count)                                    \
    read_list((check), (at), (name), (need), sizeof *(list), (read), (of),                         \
              (const void **)(void *)&(list), &(count))

/* ---- tests ------------------------------------------------------------------------------ */

static void read_is(sw_check *check, const sw_node *at, sw_device_test *out) {
    out->how = SW_TEST_IS;
    if (out->says == SW_SAYS_TEXT)
        sw_get_token(check, at, "is", SW_REQUIRED, &out->text);
    else if (out->says == SW_SAYS_FLAG)
        sw_get_flag(check, at, "is", SW_REQUIRED, &out->flag);
    else
        sw_get_milli(check, at, "is", SW_REQUIRED, -SW_MILLI_LIMIT, SW_MILLI_LIMIT, &out->milli);
}

static void read_bound(sw_check *check, const sw_node *at, sw_device_test *out) {
    sw_node found = sw_member(at, "least");
    out->how = SW_TEST_LEAST;
    if (out->says != SW_SAYS_NUMBER)
        sw_wrong(check, &found, "only numbers have a least", "take \"is\"",
                 "is about \"%s\", which is no number", out->property);
    sw_get_milli(check, at, "least", SW_REQUIRED, -SW_MILLI_LIMIT, SW_MILLI_LIMIT, &out->milli);
}

static void read_below(sw_check *check, const sw_node *at, const char *device,
                       sw_device_test *out) {
    sw_node found = sw_member(at, "below"), of = sw_member(at, "of");
    sw_says says = SW_SAYS_NUMBER;
    out->how = SW_TEST_BELOW;
    out->of = "";
    if (out->says != SW_SAYS_NUMBER)
        sw_wrong(check, &found, "only numbers are below others", "take \"is\"",
                 "is about \"%s\", which is no number", out->property);
    sw_get_milli(check, at, "below", SW_REQUIRED, 1, SW_MILLI_LIMIT, &out->milli);
    if (get_property(check, at, "of", device, &out->of, &says) && says != SW_SAYS_NUMBER)
        sw_wrong(check, &of, "only numbers are below others", "name a number", "is no number");
}

static void read_stated(sw_check *check, const sw_node *at, sw_device_test *out) {
    bool stated = true;
    out->how = SW_TEST_STATED;
    if (sw_get_flag(check, at, "stated", SW_REQUIRED, &stated) && !stated)
        out->negated = !out->negated;
}

static void read_test(sw_check *check, const sw_node *at, void *made, const void *device) {
    static const char *const forms[] = {"is", "least", "stated"};
    static void (*const readers[])(sw_check *, const sw_node *,
                                   sw_device_test *) = {read_is, read_bound, read_stated};
    sw_device_test *out = made;
    sw_node inner = *at;
    out->text = "";
    if (sw_json_get(at->json, "not") != NULL) {
        SW_CHECK_NAMES(check, at, "not");
        out->negated = true;
        if (!sw_get(check, at, "not", SW_REQUIRED, SW_JSON_OBJECT, &inner))
            return;
    }
    if (sw_json_get(inner.json, "key") != NULL) {
        SW_CHECK_NAMES(check, &inner, "key");
        out->how = SW_TEST_KEY;
        sw_get_token(check, &inner, "key", SW_REQUIRED, &out->text);
        return;
    }
    bool below = sw_json_get(inner.json, "below") != NULL;
    if (below)
        SW_CHECK_NAMES(check, &inner, "property", "below", "of");
    else
        SW_CHECK_NAMES(check, &inner, "property", "is", "least", "stated");
    if (!get_property(check, &inner, "property", device, &out->property, &out->says))
        return;
    if (below) {
        read_below(check, &inner, device, out);
        return;
    }
    size_t said = 0;
    for (size_t f = 0; f < sizeof forms / sizeof *forms; f++)
        if (sw_json_get(inner.json, forms[f]) != NULL && said++ == 0)
            readers[f](check, &inner, out);
    if (said == 0)
        sw_wrong(check, &inner, "a test says what holds of the property",
                 "add one of: is, least, below, stated", "says nothing of \"%s\"", out->property);
    else if (said > 1)
        sw_wrong(check, &inner, "only one thing is tested at a time",
                 "make a test of each: all of a list must hold", "says several things of \"%s\"",
                 out->property);
}

static void read_tests(sw_check *check, const sw_node *at, const char *device,
                       sw_device_tests *out) {
    if (device != NULL)
        READ_LIST(check, at, "when", SW_OPTIONAL, read_test, device, out->all, out->count);
}

/* ---- facts of a piece --------------------------------------------------------------------- */

static const char *const hows[] = {"product", "diagonal"};

static void read_from(sw_check *check, const sw_node *at, const char *device, sw_piece_fact *out,
                      sw_says *says) {
    sw_node list;
    if (!sw_get_list(check, at, "from", SW_REQUIRED, 1, SW_COUNT_LIMIT, &list))
        return;
    const char **from = SW_KEEP(check, const char *, list.json->count);
    for (size_t i = 0; from != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        sw_says of = SW_SAYS_TEXT;
        from[i] = "";
        if (!check_property(check, &entry, device, &from[i], &of))
            continue;
        if (list.json->count > 1 && of != SW_SAYS_NUMBER)
            sw_wrong(check, &entry, "only numbers make one together", "name numbers alone",
                     "is no number");
        *says = of;
    }
    out->from = from;
    out->from_count = from == NULL ? 0 : list.json->count;
}

static void read_per(sw_check *check, const sw_node *at, sw_piece_fact *out) {
    sw_node list;
    if (!sw_get_list(check, at, "per", SW_OPTIONAL, 1, SW_COUNT_LIMIT, &list))
        return;
    int64_t *per = SW_KEEP(check, int64_t, list.json->count);
    for (size_t i = 0; per != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        per[i] = 1000;
        sw_check_milli(check, &entry, 1, SW_MILLI_LIMIT, &per[i]);
    }
    out->per = per;
    out->per_count = per == NULL ? 0 : list.json->count;
}

static void read_words(sw_check *check, const sw_node *at, const sw_fact *fact,
                       sw_piece_fact *out) {
    sw_node words;
    if (!sw_get(check, at, "words", SW_REQUIRED, SW_JSON_OBJECT, &words))
        return;
    sw_word_pair *pairs = SW_KEEP(check, sw_word_pair, words.json->count);
    for (size_t i = 0; pairs != NULL && i < words.json->count; i++) {
        const char *name = words.json->children[i].name;
        pairs[i] = (sw_word_pair){sw_keep_text(check, name), ""};
        sw_node found = sw_member(&words, name);
        if (sw_check_token(check, &found, &pairs[i].to))
            sw_check_listed(check, &found, fact, pairs[i].to);
    }
    out->words = pairs;
    out->word_count = pairs == NULL ? 0 : words.json->count;
}

/* What the fact is made of must be of its type. */
static void check_made(sw_check *check, const sw_node *at, const sw_fact *fact, sw_says says,
                       sw_piece_fact *out) {
    sw_node from = sw_member(at, "from");
    bool fits = fact->type == SW_NUMBER ? says == SW_SAYS_NUMBER
                : fact->type == SW_FLAG ? says == SW_SAYS_FLAG
                                        : fact->type == SW_TOKEN && says == SW_SAYS_TEXT;
    if (out->from_count > 0 && !fits)
        sw_wrong(check, &from, "a number is made of numbers, a flag of a flag, a token of a text",
                 "name other properties, or give the fact a \"value\"",
                 "does not make the fact \"%s\"", fact->name);
    if (out->made == SW_MADE_AS_IT_IS && out->from_count > 1)
        sw_wrong(check, &from, "many properties make one number by a way that is named",
                 "add \"how\": \"product\" or \"diagonal\"", "has many entries");
}

/* A value that is given is made of nothing. */
static void check_alone(sw_check *check, const sw_node *at) {
    static const char *const others[] = {"from", "how", "per", "decimals", "words", "device"};
    for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
        sw_node found = sw_member(at, others[i]);
        if (found.json != NULL)
            sw_wrong(check, &found, "a fact is given by \"value\", or made of what a dump says",
                     "take one of the two away", "stands beside \"value\"");
    }
}

static void read_fact(sw_check *check, const sw_node *at, void *made, const void *form) {
    const sw_piece_form *of = form;
    sw_piece_fact *out = made;
    sw_node value = sw_member(at, "value");
    sw_says says = SW_SAYS_TEXT;
    int how = 0;
    out->decimals = 3;
    SW_CHECK_NAMES(check, at, "fact", "from", "how", "per", "decimals", "when", "of_piece",
                   "device", "words", "value");
    if (!sw_get_fact(check, at, "fact",
                     SW_TYPE_BIT(SW_NUMBER) | SW_TYPE_BIT(SW_TOKEN) | SW_TYPE_BIT(SW_FLAG),
                     &out->fact))
        return;
    sw_node named = sw_member(at, "fact");
    sw_check_stands(check, &named, of->role, out->fact);
    const sw_fact *fact = &check->catalog->facts[out->fact];
    get_device(check, at, "device", SW_OPTIONAL, &out->device);
    read_tests(check, at, of->device, &out->when);
    sw_get_flag(check, at, "of_piece", SW_OPTIONAL, &out->of_piece);
    if (value.json != NULL) {
        out->made = SW_MADE_STATED;
        check_alone(check, at);
        sw_check_value(check, &value, fact, &out->value);
        return;
    }
    read_from(check, at, out->device != NULL ? out->device : of->device, out, &says);
    read_per(check, at, out);
    sw_get_count(check, at, "decimals", SW_OPTIONAL, 0, 3, &out->decimals);
    out->made = SW_MADE_AS_IT_IS;
    if (says == SW_SAYS_TEXT && out->from_count > 0) {
        out->made = SW_MADE_WORD;
        read_words(check, at, fact, out);
    } else if (sw_get_choice(check, at, "how", SW_OPTIONAL, &how, hows, 2)) {
        out->made = how == 0 ? SW_MADE_PRODUCT : SW_MADE_DIAGONAL;
    }
    check_made(check, at, fact, says, out);
}

/* ---- pieces ---------------------------------------------------------------------------------- */

static void read_names(sw_check *check, const sw_node *at, sw_piece_form *out) {
    sw_node list;
    if (!sw_get_list(check, at, "names", SW_REQUIRED, 0, SW_COUNT_LIMIT, &list))
        return;
    const char **names = SW_KEEP(check, const char *, list.json->count);
    for (size_t i = 0; names != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        sw_says says;
        names[i] = "";
        check_property(check, &entry, out->device, &names[i], &says);
    }
    out->names = names;
    out->name_count = names == NULL ? 0 : list.json->count;
}

static void read_piece(sw_check *check, const sw_node *at, void *made, const void *of) {
    sw_piece_form *out = made;
    sw_says says;
    (void)of;
    SW_CHECK_NAMES(check, at, "device", "role", "when", "names", "maker", "facts");
    get_device(check, at, "device", SW_REQUIRED, &out->device);
    bool good = sw_get_index(check, at, "role", SW_REQUIRED, &check->roles, "role", "roles.json",
                             &out->role);
    read_tests(check, at, out->device, &out->when);
    if (!good || out->device == NULL) {
        out->role = SW_NONE;
        return;
    }
    read_names(check, at, out);
    if (sw_member(at, "maker").json != NULL)
        get_property(check, at, "maker", out->device, &out->maker, &says);
    READ_LIST(check, at, "facts", SW_REQUIRED, read_fact, out, out->facts, out->fact_count);
}

static void read_left_out(sw_check *check, const sw_node *at, void *made, const void *of) {
    sw_left_out_form *out = made;
    (void)of;
    out->why = "";
    SW_CHECK_NAMES(check, at, "device", "when", "why");
    get_device(check, at, "device", SW_REQUIRED, &out->device);
    read_tests(check, at, out->device, &out->when);
    sw_get_text(check, at, "why", SW_REQUIRED, &out->why);
}

static void read_doubt(sw_check *check, const sw_node *at, void *made, const void *of) {
    sw_piece_doubt_form *out = made;
    const char *source;
    (void)of;
    out->says = "";
    SW_CHECK_NAMES(check, at, "device", "when", "says", "source");
    get_device(check, at, "device", SW_REQUIRED, &out->device);
    read_tests(check, at, out->device, &out->when);
    sw_get_text(check, at, "says", SW_REQUIRED, &out->says);
    sw_get_text(check, at, "source", SW_REQUIRED, &source);
}

static void read_health(sw_check *check, const sw_node *at, void *made, const void *of) {
    sw_health_form *out = made;
    (void)of;
    *out = (sw_health_form){.why = "", .do_first = "", .source = ""};
    SW_CHECK_NAMES(check, at, "device", "when", "condition", "must", "why", "do_first", "source");
    get_device(check, at, "device", SW_REQUIRED, &out->device);
    read_tests(check, at, out->device, &out->when);
    SW_GET_CHOICE(check, at, "condition", SW_REQUIRED, &out->condition, "good", "worn", "failing",
                  "unproven");
    sw_get_flag(check, at, "must", SW_OPTIONAL, &out->must);
    sw_get_text(check, at, "why", SW_REQUIRED, &out->why);
    sw_get_text(check, at, "do_first", SW_OPTIONAL, &out->do_first);
    sw_get_text(check, at, "source", SW_REQUIRED, &out->source);
}

static void read_question(sw_check *check, const sw_node *at, void *made, const void *of) {
    sw_intake_question *out = made;
    const char *source;
    (void)of;
    out->ask = "";
    SW_CHECK_NAMES(check, at, "role", "unseen", "ask", "source");
    if (!sw_get_index(check, at, "role", SW_REQUIRED, &check->roles, "role", "roles.json",
                      &out->role))
        out->role = SW_NONE;
    sw_get_flag(check, at, "unseen", SW_REQUIRED, &out->unseen);
    sw_get_text(check, at, "ask", SW_REQUIRED, &out->ask);
    sw_get_text(check, at, "source", SW_OPTIONAL, &source);
}

/* ---- readers and what is near ------------------------------------------------------------------
 */

/* Ranks of the readers that the list names; the others come behind, as `behind` has them. */
static void read_ranks(sw_check *check, const sw_node *at, size_t least, const int *behind,
                       int *rank) {
    sw_node list;
    bool seen[SW_READERS] = {false};
    int next = 0;
    for (int r = 0; r < SW_READERS; r++)
        rank[r] = behind != NULL ? behind[r] + SW_READERS : r;
    if (!sw_get_list(check, at, "readers", SW_REQUIRED, least, SW_READERS, &list))
        return;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        const char *name;
        size_t r = 0;
        if (!sw_check_token(check, &entry, &name))
            continue;
        while (r < SW_READERS && strcmp(sw_reader_name(r), name) != 0)
            r++;
        if (r == SW_READERS || seen[r]) {
            sw_wrong(check, &entry, "FORMATS.md section 29 lists the readers, each once",
                     "take one of those", r == SW_READERS ? "is no reader" : "stands there twice");
            continue;
        }
        seen[r] = true;
        rank[r] = next++;
    }
}

static void read_first(sw_check *check, const sw_node *at, void *made, const void *form) {
    const sw_intake_form *of = form;
    sw_reader_order *out = made;
    sw_says says;
    SW_CHECK_NAMES(check, at, "device", "property", "readers");
    if (get_device(check, at, "device", SW_REQUIRED, &out->device))
        get_property(check, at, "property", out->device, &out->property, &says);
    read_ranks(check, at, 1, of->rank, out->rank);
}

static void read_near(sw_check *check, const sw_node *at, void *made, const void *of) {
    sw_near_form *out = made;
    const char *source;
    sw_says says = SW_SAYS_NUMBER;
    (void)of;
    SW_CHECK_NAMES(check, at, "device", "property", "percent", "source");
    if (get_device(check, at, "device", SW_REQUIRED, &out->device) &&
        get_property(check, at, "property", out->device, &out->property, &says) &&
        says != SW_SAYS_NUMBER) {
        sw_node found = sw_member(at, "property");
        sw_wrong(check, &found, "only numbers are near each other", "take a number",
                 "is no number");
    }
    sw_get_milli(check, at, "percent", SW_REQUIRED, 1, 100000, &out->percent_milli);
    sw_get_text(check, at, "source", SW_REQUIRED, &source);
}

static void read_of_pieces(sw_check *check, const sw_node *root, sw_intake_form *out) {
    sw_node list;
    if (!sw_get_list(check, root, "of_pieces", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    int *facts = SW_KEEP(check, int, list.json->count);
    for (size_t i = 0; facts != NULL && i < list.json->count; i++) {
        sw_node entry = sw_element(&list, i);
        facts[i] = SW_NONE;
        if (sw_is_kind(check, &entry, SW_JSON_TEXT))
            facts[i] =
                sw_find(check, &entry, &check->facts, entry.json->text, "fact", "facts.json");
    }
    out->of_pieces = facts;
    out->of_piece_count = facts == NULL ? 0 : list.json->count;
}

static void read_begins(sw_check *check, const sw_node *root, sw_beginning *out) {
    sw_node begins;
    if (!sw_get(check, root, "begins", SW_OPTIONAL, SW_JSON_OBJECT, &begins))
        return;
    SW_CHECK_NAMES(check, &begins, "labour", "tax");
    out->has_labour = sw_get_labour(check, &begins, &out->labour_per_hour);
    out->has_tax = sw_get_tax(check, &begins, &out->tax);
}

/* ---- the file ------------------------------------------------------------------------------- */

void sw_read_intake(sw_check *check) {
    sw_node root;
    if (!sw_has_file(check, "intake.json") ||
        !sw_check_open(check, sw_catalog_path(check, "intake.json"), &root))
        return;
    sw_intake_form *out = SW_KEEP(check, sw_intake_form, 1);
    if (out == NULL)
        return;
    SW_CHECK_NAMES(check, &root, "schema", "readers", "first", "near", "pieces", "left_out",
                   "doubts", "health", "questions", "of_pieces", "begins");
    read_of_pieces(check, &root, out);
    read_begins(check, &root, &out->begins);
    read_ranks(check, &root, SW_READERS, NULL, out->rank);
    READ_LIST(check, &root, "first", SW_OPTIONAL, read_first, out, out->first, out->first_count);
    READ_LIST(check, &root, "near", SW_OPTIONAL, read_near, NULL, out->near, out->near_count);
    READ_LIST(check, &root, "pieces", SW_REQUIRED, read_piece, NULL, out->pieces, out->piece_count);
    READ_LIST(check, &root, "left_out", SW_OPTIONAL, read_left_out, NULL, out->left_out,
              out->left_out_count);
    READ_LIST(check, &root, "doubts", SW_OPTIONAL, read_doubt, NULL, out->doubts, out->doubt_count);
    READ_LIST(check, &root, "health", SW_OPTIONAL, read_health, NULL, out->health,
              out->health_count);
    READ_LIST(check, &root, "questions", SW_OPTIONAL, read_question, NULL, out->questions,
              out->question_count);
    check->catalog->intake = out;
}
