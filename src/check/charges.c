/* charges.json: what is paid once when any of a set of things is so. */
#include "check/stage.h"

static void read_charge(sw_check *check, const sw_node *at, sw_names *ids, int index,
                        sw_charge *charge) {
    *charge = (sw_charge){.id = "", .name = ""};
    if (!SW_CHECK_NAMES(check, at, "id", "name", "amount", "minutes", "for_any"))
        return;
    charge->id = sw_get_new_id(check, at, ids, index);
    sw_get_text(check, at, "name", SW_REQUIRED, &charge->name);
    sw_get_money(check, at, "amount", SW_OPTIONAL, &charge->amount);
    sw_get_whole(check, at, "minutes", SW_OPTIONAL, 0, SW_MINUTES_LIMIT, &charge->minutes);
    sw_get_conditions(check, at, "for_any", SW_REQUIRED, 1, SW_NONE, &charge->any,
                      &charge->any_count);
}

void sw_read_charges(sw_check *check) {
    sw_node root, list;
    sw_names ids = {0};
    if (!sw_open_list(check, "charges.json", "charges", 0, SW_SHORT_LIST_LIMIT, &root, &list))
        return;
    SW_CHECK_NAMES(check, &root, "schema", "charges");
    sw_charge *charges = SW_KEEP(check, sw_charge, list.json->count);
    if (charges == NULL)
        return;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_charge(check, &at, &ids, (int)i, &charges[i]);
    }
    sw_names_free(&ids);
    check->catalog->charges = charges;
    check->catalog->charge_count = list.json->count;
}
