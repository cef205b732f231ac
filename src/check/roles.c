/* roles.json: what kinds of place a machine has. */
#include "check/stage.h"

#define ROLE_LIMIT 64

static bool check_counts(sw_check *check, const sw_node *list, int most, int *counts) {
    for (size_t i = 0; i < list->json->count; i++) {
        sw_node at = sw_element(list, i);
        if (!sw_is_kind(check, &at, SW_JSON_NUMBER))
            return false;
        double number = at.json->number;
        double above = i == 0 ? 0 : counts[i - 1];
        if (number != (int)(number < 0 || number > SW_COUNT_LIMIT ? 0 : number) ||
            number <= above || number > most) {
            sw_wrong(check, &at, "counts are whole numbers that rise from 1 or more up to \"most\"",
                     "put them in order, each once, none above \"most\"", "is out of place");
            return false;
        }
        counts[i] = (int)number;
    }
    return true;
}

static void read_counts(sw_check *check, const sw_node *at, sw_role *role) {
    sw_node list;
    bool given = sw_member(at, "counts").json != NULL;
    size_t count = (size_t)role->most;
    if (given) {
        if (!sw_get_list(check, at, "counts", SW_OPTIONAL, 1, SW_COUNT_LIMIT, &list))
            return;
        count = list.json->count;
    }
    int *counts = SW_KEEP(check, int, count);
    if (counts == NULL || (given && !check_counts(check, &list, role->most, counts)))
        return;
    for (size_t i = 0; i < count && !given; i++)
        counts[i] = (int)i + 1;
    role->counts = counts;
    role->count_count = count;
}

static void read_pieces(sw_check *check, const sw_node *at, sw_role *role) {
    int kept = 0;
    role->least = 0;
    role->most = 1;
    role->new_kinds = 1;
    sw_get_count(check, at, "least", SW_OPTIONAL, 0, SW_COUNT_LIMIT, &role->least);
    bool has_most = sw_member(at, "most").json == NULL ||
                    sw_get_count(check, at, "most", SW_OPTIONAL, 0, SW_COUNT_LIMIT, &role->most);
    sw_get_count(check, at, "new_kinds", SW_OPTIONAL, 1, 2, &role->new_kinds);
    if (SW_GET_CHOICE(check, at, "kept", SW_OPTIONAL, &kept, "any", "all-or-none"))
        role->all_or_none = kept == 1;
    if (!has_most)
        return;
    if (role->least > role->most) {
        sw_wrong(check, at, "a role holds between \"least\" and \"most\" pieces",
                 "make \"most\" at least as large as \"least\"", "has least %d above most %d",
                 role->least, role->most);
        role->least = 0; /* no machine is judged by it */
    }
    read_counts(check, at, role);
}

static void read_role(sw_check *check, const sw_node *at, int index, sw_role *role) {
    role->id = role->name = "";
    if (!SW_CHECK_NAMES(check, at, "role", "name", "least", "most", "kept", "new_kinds", "counts",
                        "minutes")) {
        check->roles.whole = false;
        return;
    }
    if (!sw_get_id(check, at, "role", SW_REQUIRED, &role->id)) {
        check->roles.whole = false;
    } else {
        sw_node id = sw_member(at, "role");
        sw_register(check, &id, &check->roles, role->id, index);
    }
    sw_get_text(check, at, "name", SW_REQUIRED, &role->name);
    sw_get_whole(check, at, "minutes", SW_OPTIONAL, 0, SW_MINUTES_LIMIT, &role->minutes);
    read_pieces(check, at, role);
}

/* Which roles make the machine a new one when most of them change. */
static void read_renewal(sw_check *check, const sw_node *root) {
    sw_catalog *catalog = check->catalog;
    sw_node renewal, list;
    if (sw_member(root, "renewal").json == NULL ||
        !sw_get(check, root, "renewal", SW_OPTIONAL, SW_JSON_OBJECT, &renewal) ||
        !SW_CHECK_NAMES(check, &renewal, "roles", "share") ||
        !sw_get_list(check, &renewal, "roles", SW_REQUIRED, 1, ROLE_LIMIT, &list))
        return;
    sw_get_milli(check, &renewal, "share", SW_REQUIRED, 1, 1000, &catalog->renewal_share_milli);
    bool *renews = SW_KEEP(check, bool, catalog->role_count);
    for (size_t i = 0; renews != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        int role = SW_NONE;
        if (sw_is_kind(check, &at, SW_JSON_TEXT))
            role = sw_find(check, &at, &check->roles, at.json->text, "role", "roles.json");
        if (role != SW_NONE)
            renews[role] = true;
    }
    catalog->renews = renews;
}

void sw_read_roles(sw_check *check) {
    sw_node root, list;
    sw_catalog *catalog = check->catalog;
    if (!sw_open_list(check, "roles.json", "roles", 1, ROLE_LIMIT, &root, &list))
        return;
    SW_CHECK_NAMES(check, &root, "schema", "roles", "renewal");
    sw_role *roles = SW_KEEP(check, sw_role, list.json->count);
    if (roles == NULL)
        return;
    check->roles.whole = true;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_role(check, &at, (int)i, &roles[i]);
    }
    catalog->roles = roles;
    catalog->role_count = list.json->count;
    sw_order_by_id(check, &check->roles, roles, catalog->role_count, sizeof *roles);
    read_renewal(check, &root);
}
