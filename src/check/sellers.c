/* sellers.json and observations.json: who sells, and what may be observed. */
#include "check/stage.h"

#include <string.h>

static void read_currency(sw_check *check, const sw_node *root) {
    const char *code = NULL;
    sw_catalog *catalog = check->catalog;
    if (!sw_get_token(check, root, "currency", SW_REQUIRED, &code))
        return;
    int digits = sw_currency_digits(code);
    if (digits < 0) {
        sw_node at = sw_member(root, "currency");
        sw_wrong(check, &at, "prices are held in minor units of an ISO 4217 currency",
                 "write the code in three capital letters, like EUR",
                 "is no currency that is known: \"%s\"", sw_shown(check, code));
        return;
    }
    memcpy(catalog->currency, code, 4);
    catalog->currency_digits = digits;
    check->currency_doubt = false;
}

static void read_delivery(sw_check *check, const sw_node *at, sw_seller *seller) {
    seller->has_delivery = sw_member(at, "delivery").json != NULL;
    seller->has_free_from = sw_member(at, "free_from").json != NULL;
    sw_get_money(check, at, "delivery", SW_OPTIONAL, &seller->delivery);
    sw_get_money(check, at, "free_from", SW_OPTIONAL, &seller->free_from);
    if (seller->has_free_from && !seller->has_delivery) {
        sw_node free_from = sw_member(at, "free_from");
        sw_wrong(check, &free_from, "there is no charge that it could waive",
                 "add \"delivery\", or take it away", "stands without \"delivery\"");
    }
    sw_get_count(check, at, "delivery_days", SW_OPTIONAL, 0, SW_DAYS_LIMIT, &seller->delivery_days);
    sw_get_whole(check, at, "minutes", SW_OPTIONAL, 0, SW_MINUTES_LIMIT, &seller->minutes);
}

static void read_seller(sw_check *check, const sw_node *at, int index, sw_seller *seller) {
    seller->id = seller->name = "";
    if (!SW_CHECK_NAMES(check, at, "id", "name", "delivery", "free_from", "delivery_days",
                        "minutes")) {
        check->sellers.whole = false;
        return;
    }
    seller->id = sw_get_new_id(check, at, &check->sellers, index);
    if (strcmp(seller->id, "client") == 0) {
        sw_node id = sw_member(at, "id");
        sw_wrong(check, &id, "the client is the seller of given parts", "choose another id",
                 "is \"client\"");
    }
    sw_get_text(check, at, "name", SW_REQUIRED, &seller->name);
    read_delivery(check, at, seller);
}

void sw_read_sellers(sw_check *check) {
    sw_node root, list;
    sw_catalog *catalog = check->catalog;
    if (!sw_open_list(check, "sellers.json", "sellers", 0, SW_LIST_LIMIT, &root, &list))
        return;
    SW_CHECK_NAMES(check, &root, "schema", "currency", "sellers");
    read_currency(check, &root);
    sw_seller *sellers = SW_KEEP(check, sw_seller, list.json->count);
    if (sellers == NULL)
        return;
    check->sellers.whole = true;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_seller(check, &at, (int)i, &sellers[i]);
    }
    catalog->sellers = sellers;
    catalog->seller_count = list.json->count;
    sw_order_by_id(check, &check->sellers, sellers, catalog->seller_count, sizeof *sellers);
}

void sw_read_observations(sw_check *check) {
    sw_node root, list;
    sw_catalog *catalog = check->catalog;
    if (!sw_open_list(check, "observations.json", "observations", 0, SW_LIST_LIMIT, &root, &list))
        return;
    SW_CHECK_NAMES(check, &root, "schema", "observations");
    sw_observation *all = SW_KEEP(check, sw_observation, list.json->count);
    if (all == NULL)
        return;
    check->observations.whole = true;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        all[i] = (sw_observation){.id = "", .meaning = ""};
        if (!SW_CHECK_NAMES(check, &at, "id", "meaning")) {
            check->observations.whole = false;
            continue;
        }
        all[i].id = sw_get_new_id(check, &at, &check->observations, (int)i);
        sw_get_text(check, &at, "meaning", SW_REQUIRED, &all[i].meaning);
    }
    catalog->observations = all;
    catalog->observation_count = list.json->count;
}
