/* profiles/ (a folder of JSON files): each supplier's way to write a list. */
#include "check/profiles.h"

#include <stdlib.h>
#include <string.h>

#include "check/stage.h"
#include "read/bytes.h"

const char *const sw_list_column_names[SW_COL_COUNT] = {
    "number", "maker", "name", "text", "price", "stock", "days", "warranty_months", "return_days"};

/* ---- likenesses ---------------------------------------------------------------------------- */

bool sw_get_like(sw_check *check, const sw_node *object, sw_like *out) {
    const char *text = NULL, *fault = NULL;
    sw_node at = sw_member(object, "like");
    if (at.json == NULL || at.json->kind != SW_JSON_TEXT || at.json->text[0] != '\0') {
        if (!sw_get_text(check, object, "like", SW_REQUIRED, &text))
            return false;
    } else {
        text = ""; /* an empty cell */
    }
    if (sw_like_read(out, check->arena, text, &fault))
        return true;
    if (fault == NULL)
        check->no_memory = true;
    else
        sw_wrong(check, &at, "a likeness is read in one way only (FORMATS.md, section 30)",
                 "write letters, blanks, {name}, {-}, and {*} at the end", "%s", fault);
    return false;
}

/* ---- forms of whole numbers ------------------------------------------------------------------ */

static void read_form(sw_check *check, const sw_node *at, int column, sw_list_form *out) {
    bool of_stock = column == SW_COL_STOCK;
    *out = (sw_list_form){.n = -1, .days_slot = -1, .times = 1, .is = -1, .days = -1};
    if (!SW_CHECK_NAMES(check, at, "like", "times", "is", "days", "gone") ||
        !sw_get_like(check, at, &out->like))
        return;
    out->n = sw_like_slot(&out->like, "n");
    out->days_slot = sw_like_slot(&out->like, "days");
    sw_get_count(check, at, "times", SW_OPTIONAL, 1, 1000, &out->times);
    sw_get_count(check, at, "is", SW_OPTIONAL, 0, SW_DAYS_LIMIT, &out->is);
    sw_get_count(check, at, "days", SW_OPTIONAL, 0, SW_DAYS_LIMIT, &out->days);
    sw_get_flag(check, at, "gone", SW_OPTIONAL, &out->gone);
    int known = (out->n >= 0) + (out->days_slot >= 0);
    if (known < out->like.slot_count || (!of_stock && out->days_slot >= 0))
        sw_wrong(check, at, "the slots of a form are {n} and, of stock, {days}",
                 "name the slot n, or pass over the number with {-}", "has a slot of another name");
    if (!of_stock && (out->gone || out->days >= 0))
        sw_wrong(check, at, "only a stock says when a part comes, or that it is gone",
                 "take \"days\" and \"gone\" away", "has what belongs to stock");
    if (out->is < 0 && out->n < 0 && !out->gone)
        sw_wrong(check, at, "nothing else says what it stands for", "add \"is\" or the slot {n}",
                 "says no number");
}

static void read_forms(sw_check *check, const sw_node *root, sw_profile *out) {
    sw_node forms, list;
    if (!sw_get(check, root, "forms", SW_OPTIONAL, SW_JSON_OBJECT, &forms))
        return;
    SW_CHECK_NAMES(check, &forms, "stock", "days", "warranty_months", "return_days");
    for (int c = SW_COL_FIRST_WHOLE; c < SW_COL_COUNT; c++) {
        if (!sw_get_list(check, &forms, sw_list_column_names[c], SW_OPTIONAL, 1,
                         SW_SHORT_LIST_LIMIT, &list))
            continue;
        sw_list_form *all = SW_KEEP(check, sw_list_form, list.json->count);
        if (all == NULL)
            return;
        for (size_t i = 0; i < list.json->count; i++) {
            sw_node at = sw_element(&list, i);
            read_form(check, &at, c, &all[i]);
        }
        out->forms[c - SW_COL_FIRST_WHOLE] = (sw_list_forms){all, list.json->count};
    }
}

/* ---- columns -----------------------------------------------------------------------------------
 */

static void read_width(sw_check *check, const sw_node *root, sw_profile *out) {
    int width = 0;
    sw_node at = sw_member(root, "width");
    bool given = sw_get_count(check, root, "width", out->header ? SW_OPTIONAL : SW_REQUIRED, 1,
                              SW_SHORT_LIST_LIMIT, &width);
    if (given && out->header)
        sw_wrong(check, &at, "the header says how wide the rows are", "take it away",
                 "stands beside a header");
    else
        out->width = (size_t)width;
}

static void read_column(sw_check *check, const sw_node *columns, int c, sw_profile *out) {
    const char *name = sw_list_column_names[c];
    sw_need need = c == SW_COL_NAME || c == SW_COL_PRICE ? SW_REQUIRED : SW_OPTIONAL;
    int place = 0;
    if (out->header)
        sw_get_text(check, columns, name, need, &out->heads[c]);
    else if (sw_get_count(check, columns, name, need, 1,
                          out->width > 0 ? (int64_t)out->width : SW_SHORT_LIST_LIMIT, &place))
        out->places[c] = place - 1;
}

static bool has_column(const sw_profile *profile, int c) {
    return profile->heads[c] != NULL || profile->places[c] >= 0;
}

static void read_columns(sw_check *check, const sw_node *root, sw_profile *out) {
    sw_node columns, otherwise;
    for (int c = 0; c < SW_COL_COUNT; c++)
        out->places[c] = -1;
    if (!sw_get(check, root, "columns", SW_REQUIRED, SW_JSON_OBJECT, &columns))
        return;
    sw_check_names(check, &columns, sw_list_column_names, SW_COL_COUNT);
    for (int c = 0; c < SW_COL_COUNT; c++)
        read_column(check, &columns, c, out);
    bool given = sw_get(check, root, "otherwise", SW_OPTIONAL, SW_JSON_OBJECT, &otherwise);
    if (given)
        SW_CHECK_NAMES(check, &otherwise, "stock", "days", "warranty_months", "return_days");
    for (int c = SW_COL_FIRST_WHOLE; c < SW_COL_COUNT; c++) {
        if (given)
            sw_get_count(check, &otherwise, sw_list_column_names[c],
                         has_column(out, c) ? SW_OPTIONAL : SW_REQUIRED, 0, SW_DAYS_LIMIT,
                         &out->otherwise[c - SW_COL_FIRST_WHOLE]);
        else if (!has_column(out, c) && sw_member(root, "otherwise").json == NULL)
            sw_wrong(check, root, "a listing needs it, and the list has no such column",
                     "add \"otherwise\" with it", "has no \"%s\"", sw_list_column_names[c]);
    }
}

/* ---- prices
 * -------------------------------------------------------------------------------------- */

static bool get_texts(sw_check *check, const sw_node *root, const char *name,
                      const char *const **out, size_t *count) {
    sw_node list;
    if (!sw_get_list(check, root, name, SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return false;
    const char **texts = SW_KEEP(check, const char *, list.json->count);
    for (size_t i = 0; texts != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        texts[i] = "";
        sw_check_token(check, &at, &texts[i]);
    }
    *out = texts;
    *count = texts == NULL ? 0 : list.json->count;
    return true;
}

static void check_marks(sw_check *check, const sw_node *root, const sw_price_style *style) {
    for (size_t i = 0; i < style->grouping_count; i++) {
        const char *mark = style->grouping[i];
        sw_node at = sw_member(root, "grouping");
        if ((mark[0] == style->decimal && mark[1] == '\0') || strpbrk(mark, "0123456789+-") != NULL)
            sw_wrong(check, &at, "a mark between digits means one thing",
                     "name a mark that is no digit, no sign and not the decimal mark",
                     "holds \"%s\"", sw_shown(check, mark));
    }
}

static void read_tax(sw_check *check, const sw_node *root, sw_price_style *out) {
    sw_node tax;
    int list = 0, listings = 0;
    if (!sw_get(check, root, "tax", SW_OPTIONAL, SW_JSON_OBJECT, &tax))
        return;
    SW_CHECK_NAMES(check, &tax, "percent", "list", "listings");
    sw_get_milli(check, &tax, "percent", SW_REQUIRED, 0, INT64_C(100000), &out->tax_milli);
    SW_GET_CHOICE(check, &tax, "list", SW_REQUIRED, &list, "with", "without");
    SW_GET_CHOICE(check, &tax, "listings", SW_REQUIRED, &listings, "with", "without");
    out->has_tax = true;
    out->list_with = list == 0;
    out->listings_with = listings == 0;
}

static void read_price(sw_check *check, const sw_node *root, sw_price_style *out) {
    const char *code = NULL;
    int decimal = 0, decimals = 0, sign = 0, grouped = 0;
    if (sw_get_token(check, root, "currency", SW_REQUIRED, &code) && !check->currency_doubt &&
        strcmp(code, check->catalog->currency) != 0) {
        sw_node at = sw_member(root, "currency");
        sw_wrong(check, &at, "nothing is exchanged: a list is in the currency of the catalog",
                 "ask the supplier for a list in that currency",
                 "is \"%s\", where sellers.json has %s", sw_shown(check, code),
                 check->catalog->currency);
    }
    out->digits = check->catalog->currency_digits;
    SW_GET_CHOICE(check, root, "decimal", SW_REQUIRED, &decimal, ".", ",");
    out->decimal = decimal == 0 ? '.' : ',';
    SW_GET_CHOICE(check, root, "decimals", SW_OPTIONAL, &decimals, "full", "whole-or-full", "up-to",
                  "none");
    out->decimals = (sw_decimals)decimals;
    get_texts(check, root, "grouping", &out->grouping, &out->grouping_count);
    check_marks(check, root, out);
    SW_GET_CHOICE(check, root, "grouped", SW_OPTIONAL, &grouped, "may", "must");
    out->grouped_must = grouped == 1;
    get_texts(check, root, "signs", &out->signs, &out->sign_count);
    for (size_t i = 0; i < out->sign_count; i++)
        if (strpbrk(out->signs[i], "0123456789+-=@") != NULL) {
            sw_node at = sw_member(root, "signs");
            sw_wrong(check, &at, "it could not be told from the number", "name the currency's sign",
                     "holds \"%s\"", sw_shown(check, out->signs[i]));
        }
    SW_GET_CHOICE(check, root, "sign", SW_OPTIONAL, &sign, "either", "before", "behind");
    out->sign_place = (sw_sign_place)sign;
    sw_get_flag(check, root, "sign_must", SW_OPTIONAL, &out->sign_must);
    if (out->sign_must && out->sign_count == 0)
        sw_wrong(check, root, "there is no sign that must stand there", "add \"signs\"",
                 "has \"sign_must\" without \"signs\"");
    read_tax(check, root, out);
}

/* ---- the rest
 * --------------------------------------------------------------------------------------- */

static void read_skips(sw_check *check, const sw_node *root, sw_profile *out) {
    sw_node list;
    if (!sw_get_list(check, root, "skip", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_list_skip *skips = SW_KEEP(check, sw_list_skip, list.json->count);
    for (size_t i = 0; skips != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        int cell = 1;
        if (!SW_CHECK_NAMES(check, &at, "cell", "like"))
            continue;
        sw_get_count(check, &at, "cell", SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &cell);
        sw_get_like(check, &at, &skips[i].like);
        skips[i].cell = (size_t)cell - 1;
    }
    out->skips = skips;
    out->skip_count = skips == NULL ? 0 : list.json->count;
}

static void read_makers(sw_check *check, const sw_node *root, sw_profile *out) {
    sw_node list;
    if (!sw_get_list(check, root, "makers", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_list_maker *makers = SW_KEEP(check, sw_list_maker, list.json->count);
    for (size_t i = 0; makers != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        makers[i] = (sw_list_maker){"", ""};
        if (!SW_CHECK_NAMES(check, &at, "list", "maker"))
            continue;
        sw_get_text(check, &at, "list", SW_REQUIRED, &makers[i].list);
        sw_get_text(check, &at, "maker", SW_REQUIRED, &makers[i].maker);
    }
    out->makers = makers;
    out->maker_count = makers == NULL ? 0 : list.json->count;
}

static void read_dialect(sw_check *check, const sw_node *root, sw_profile *out) {
    static const char delimiters[] = {',', ';', '\t', '|'};
    int encoding = 0, mark = 0, delimiter = 0, lead = 0, twice = 0;
    SW_GET_CHOICE(check, root, "encoding", SW_REQUIRED, &encoding, "utf-8", "windows-1252",
                  "utf-16le", "utf-16be");
    SW_GET_CHOICE(check, root, "mark", SW_OPTIONAL, &mark, "none", "must", "may");
    SW_GET_CHOICE(check, root, "delimiter", SW_REQUIRED, &delimiter, ",", ";", "\t", "|");
    sw_get_count(check, root, "lead", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &lead);
    SW_GET_CHOICE(check, root, "twice", SW_OPTIONAL, &twice, "refuse", "cheapest");
    out->encoding = (sw_encoding)encoding;
    out->mark = (sw_mark)mark;
    out->delimiter = delimiters[delimiter];
    out->quotes = out->header = true;
    sw_get_flag(check, root, "quotes", SW_OPTIONAL, &out->quotes);
    sw_get_flag(check, root, "header", SW_OPTIONAL, &out->header);
    sw_get_flag(check, root, "ends_open", SW_OPTIONAL, &out->ends_open);
    out->step_milli = 2000;
    sw_get_milli(check, root, "step", SW_OPTIONAL, 1100, INT64_C(1000000), &out->step_milli);
    out->lead = (size_t)lead;
    out->takes_cheapest = twice == 1;
}

static void read_profile(sw_check *check, const char *file, sw_names *ids, int index,
                         sw_profile *out) {
    sw_node root;
    const char *path = sw_arena_format(check->arena, "profiles/%s", file);
    *out = (sw_profile){.id = "", .name = "", .seller = SW_NONE};
    if (path == NULL || !sw_check_open(check, sw_catalog_path(check, path), &root))
        return;
    SW_CHECK_NAMES(check, &root, "schema", "id", "name", "seller", "encoding", "mark", "delimiter",
                   "quotes", "lead", "header", "width", "columns", "currency", "signs", "sign",
                   "sign_must", "decimal", "decimals", "grouping", "grouped", "tax", "no_price",
                   "forms", "otherwise", "makers", "skip", "twice", "step", "ends_open");
    out->id = sw_get_new_id(check, &root, ids, index);
    sw_get_text(check, &root, "name", SW_REQUIRED, &out->name);
    sw_get_index(check, &root, "seller", SW_REQUIRED, &check->sellers, "seller", "sellers.json",
                 &out->seller);
    read_dialect(check, &root, out);
    read_width(check, &root, out);
    read_columns(check, &root, out);
    read_price(check, &root, &out->price);
    get_texts(check, &root, "no_price", &out->no_price, &out->no_price_count);
    read_forms(check, &root, out);
    read_skips(check, &root, out);
    read_makers(check, &root, out);
}

void sw_read_profiles(sw_check *check) {
    const char *const *files = NULL;
    size_t count = 0;
    sw_names ids = {0};
    if (!sw_has_file(check, "profiles"))
        return;
    sw_status status =
        sw_folder_list(&files, &count, check->arena, sw_catalog_path(check, "profiles"), ".json",
                       check->complaints);
    check->no_memory |= status == SW_NO_MEMORY;
    check->unreadable |= status == SW_CANNOT_READ;
    check->bad |= status != SW_OK;
    sw_profile *profiles = status == SW_OK ? SW_KEEP(check, sw_profile, count) : NULL;
    if (profiles == NULL)
        return;
    for (size_t i = 0; i < count && !check->no_memory; i++)
        read_profile(check, files[i], &ids, (int)i, &profiles[i]);
    sw_order_by_id(check, &ids, profiles, count, sizeof *profiles);
    sw_names_free(&ids);
    check->catalog->profiles = profiles;
    check->catalog->profile_count = count;
}
