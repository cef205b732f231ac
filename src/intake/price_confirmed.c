/* What a person has said of rows: the file behind --confirm. */
#include <errno.h>
#include <string.h>
#include <sys/stat.h>

#include "check/stage.h"
#include "intake/price_stage.h"

static const char *key_of(sw_pricing *in, const char *number, const char *maker, const char *name) {
    const char *const texts[] = {number, "\n", maker, "\n", name};
    in->key.length = 0;
    for (size_t i = 0; i < 5; i++)
        sw_text_add(&in->key, texts[i]);
    in->no_memory |= in->key.failed;
    return in->key.failed ? "" : in->key.bytes;
}

/* Said of no maker, it holds for no row of another maker than the part's. */
static bool holds_for(sw_pricing *in, const sw_confirmed *said, const sw_price_row *row) {
    int maker = sw_price_maker(in, row->maker);
    return said->part == SW_NONE || maker == SW_NONE || in->maker_of[said->part] == SW_NONE ||
           in->maker_of[said->part] == maker;
}

sw_confirmed *sw_confirmed_find(sw_pricing *in, const sw_price_row *row) {
    if (in->confirmed.count == 0)
        return NULL;
    int found = sw_names_find(&in->confirmed, key_of(in, row->number, row->maker, row->name));
    if (found != SW_NONE || row->maker[0] == '\0')
        return found == SW_NONE ? NULL : &in->prices->confirmed[found];
    found = sw_names_find(&in->confirmed, key_of(in, row->number, "", row->name));
    return found != SW_NONE && holds_for(in, &in->prices->confirmed[found], row)
               ? &in->prices->confirmed[found]
               : NULL;
}

/* ---- reading --------------------------------------------------------------------------------- */

static int index_of_part(const sw_catalog *catalog, const char *id) {
    size_t low = 0, high = catalog->part_count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        int order = strcmp(catalog->parts[middle].id, id);
        if (order == 0)
            return (int)middle;
        if (order < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return SW_NONE;
}

static int index_of_role(const sw_catalog *catalog, const char *id) {
    for (size_t i = 0; i < catalog->role_count; i++)
        if (strcmp(catalog->roles[i].id, id) == 0)
            return (int)i;
    return SW_NONE;
}

static void read_part(sw_pricing *in, sw_check *check, const sw_node *at, sw_confirmed *out) {
    const char *id = NULL;
    sw_node part = sw_member(at, "part");
    if (part.json == NULL)
        sw_wrong(check, at, "it says what the row is",
                 "add \"part\": an id, or null for none of ours",
                 "has neither \"part\" nor \"new\"");
    else if (part.json->kind != SW_JSON_NULL && sw_check_id(check, &part, &id) &&
             (out->part = index_of_part(in->catalog, id)) == SW_NONE)
        sw_wrong(check, &part, "only parts of the catalog can be listed",
                 "name a part of catalog/parts, or say \"new\"",
                 "names the part \"%s\", which is not known", sw_shown(check, id));
}

static void read_new(sw_pricing *in, sw_check *check, const sw_node *at, sw_confirmed *out) {
    const char *role = NULL;
    if (sw_member(at, "part").json != NULL)
        sw_wrong(check, at, "a new part is none of the catalog's", "take \"part\" or \"new\" away",
                 "has \"part\" beside \"new\"");
    sw_get_id(check, at, "id", SW_OPTIONAL, &out->id);
    sw_node named = sw_member(at, "role");
    if (sw_get_token(check, at, "role", SW_REQUIRED, &role) &&
        (out->role = index_of_role(in->catalog, role)) == SW_NONE)
        sw_wrong(check, &named, "a part is of a role that roles.json lists", "name one of these",
                 "names the role \"%s\", which is not known", sw_shown(check, role));
    /* Once its part stands in the catalog it is new no more. */
    if (out->id != NULL)
        out->part = index_of_part(in->catalog, out->id);
    out->is_new = out->part == SW_NONE;
}

static void read_maker(sw_check *check, const sw_node *at, sw_confirmed *out) {
    sw_node maker = sw_member(at, "maker");
    if (maker.json != NULL && (maker.json->kind != SW_JSON_TEXT || maker.json->text[0] != '\0'))
        sw_get_text(check, at, "maker", SW_REQUIRED, &out->maker);
}

static void read_amounts(sw_check *check, const sw_node *at, sw_confirmed *out) {
    bool price = sw_get_money(check, at, "price", SW_OPTIONAL, &out->price);
    bool pieces = sw_get_count(check, at, "pieces", SW_OPTIONAL, 1, 1000, &out->pieces);
    sw_node part = sw_member(at, "part");
    if ((price || pieces) && (part.json == NULL || part.json->kind == SW_JSON_NULL))
        sw_wrong(check, at, "they belong to a part of the catalog",
                 "name the \"part\", or take them away", "has \"price\" or \"pieces\" of no part");
}

static void read_row(sw_pricing *in, sw_check *check, const sw_node *at, size_t index) {
    sw_confirmed *out = &in->prices->confirmed[index];
    *out = (sw_confirmed){.number = "", .maker = "", .name = "", .part = SW_NONE, .role = SW_NONE};
    if (!SW_CHECK_NAMES(check, at, "number", "maker", "name", "part", "new", "role", "id", "price",
                        "pieces"))
        return;
    sw_node number = sw_member(at, "number");
    if (number.json != NULL && (number.json->kind != SW_JSON_TEXT || number.json->text[0] != '\0'))
        sw_get_text(check, at, "number", SW_REQUIRED, &out->number);
    read_maker(check, at, out);
    sw_get_text(check, at, "name", SW_REQUIRED, &out->name);
    sw_get_text(check, at, "note", SW_OPTIONAL, &out->note);
    sw_get_flag(check, at, "new", SW_OPTIONAL, &out->is_new);
    if (out->is_new)
        read_new(in, check, at, out);
    else if (sw_member(at, "role").json != NULL || sw_member(at, "id").json != NULL)
        sw_wrong(check, at, "they belong to a part that is new",
                 "add \"new\": true, or take them away", "has \"role\" or \"id\" without \"new\"");
    else
        read_part(in, check, at, out);
    read_amounts(check, at, out);
    const char *key = sw_arena_copy(in->arena, key_of(in, out->number, out->maker, out->name));
    if (key == NULL || check->bad)
        check->no_memory |= key == NULL;
    else if (sw_names_find(&in->confirmed, key) != SW_NONE)
        sw_wrong(check, at, "a row is one thing", "keep one of the two",
                 "confirms a row that stands above already");
    else if (!sw_names_add(&in->confirmed, key, (int)index))
        check->no_memory = true;
}

/* Two new parts cannot have one id. */
static void check_ids(sw_pricing *in, sw_check *check, const sw_node *list) {
    sw_names ids = {0};
    for (size_t i = 0; i < in->prices->confirmed_count && !check->no_memory; i++) {
        const sw_confirmed *is = &in->prices->confirmed[i];
        sw_node at = sw_element(list, i);
        if (is->is_new && is->id != NULL)
            sw_register(check, &at, &ids, is->id, (int)i);
    }
    sw_names_free(&ids);
}

static void read_root(sw_pricing *in, sw_check *check, const sw_node *root) {
    const char *profile = NULL;
    sw_node list, named = sw_member(root, "profile");
    SW_CHECK_NAMES(check, root, "schema", "profile", "rows");
    if (sw_get_token(check, root, "profile", SW_REQUIRED, &profile) &&
        strcmp(profile, in->profile->id) != 0)
        sw_wrong(check, &named, "what was confirmed holds for the list of one supplier",
                 "name the file that belongs to this profile", "is \"%s\", where the profile is %s",
                 sw_shown(check, profile), in->profile->id);
    sw_get_text(check, root, "note", SW_OPTIONAL, &in->prices->confirmed_note);
    if (!sw_get_list(check, root, "rows", SW_REQUIRED, 0, 1000000, &list))
        return;
    for (size_t i = 0; i < list.json->count && !check->no_memory; i++) {
        sw_node at = sw_element(&list, i);
        if (!SW_GROW(in->prices->confirmed, in->prices->confirmed_room, i)) {
            check->no_memory = true;
            return;
        }
        in->prices->confirmed_count = i + 1;
        read_row(in, check, &at, i);
    }
    check_ids(in, check, &list);
}

sw_status sw_confirmed_read(sw_pricing *in, const char *path, bool may_miss) {
    struct stat about;
    sw_node root;
    if (path == NULL || (may_miss && stat(path, &about) != 0 && errno == ENOENT))
        return SW_OK;
    sw_check check = sw_check_start(in->complaints);
    check.arena = in->arena;
    check.catalog = in->prices->catalog; /* whose currency the prices are in */
    check.currency_doubt = false;
    if (sw_check_open(&check, path, &root))
        read_root(in, &check, &root);
    sw_status status = sw_check_status(&check);
    sw_check_end(&check);
    return status;
}
