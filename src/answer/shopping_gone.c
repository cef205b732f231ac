/* From the words of the errand to today's job: changes first, then the listings that are gone. */
#include "answer/shopping.h"

#include <stdlib.h>
#include <string.h>

#include "read/plain.h"

typedef struct errand {
    sw_shopping *out;
    const sw_scenario *scenario;
    const sw_errands *asked;
    sw_change *changes; /* the budget, the settings, then what is gone */
    size_t count;
    sw_complaints *complaints;
} errand;

/* ---- complaints ------------------------------------------------------------------------------ */

/* `near` NULL: nothing like it is known. */
static sw_status refuse(const errand *e, const char *option, const char *word, const char *what,
                        const char *why, const char *near, const char *mend) {
    sw_text shown = {0}, guess = {0};
    sw_plain_add(&shown, word);
    if (near != NULL)
        sw_text_addf(&guess, "did you mean \"%s\"?", near);
    sw_complain(e->complaints, option, shown.bytes == NULL ? "" : shown.bytes, why,
                guess.bytes == NULL ? mend : guess.bytes, "%s", what);
    bool failed = shown.failed || guess.failed;
    sw_text_free(&shown);
    sw_text_free(&guess);
    return failed ? SW_NO_MEMORY : SW_BAD_DATA;
}

static const char *nearest_part(const sw_scenario *scenario, const char *id) {
    const char **ids = calloc(scenario->part_count + 1, sizeof *ids);
    for (size_t p = 0; ids != NULL && p < scenario->part_count; p++)
        ids[p] = scenario->parts[p].id;
    const char *near = ids == NULL ? NULL : sw_nearest(id, ids, scenario->part_count);
    free(ids);
    return near;
}

static const char *nearest_seller(const sw_catalog *catalog, const char *id) {
    const char **ids = calloc(catalog->seller_count + 1, sizeof *ids);
    for (size_t s = 0; ids != NULL && s < catalog->seller_count; s++)
        ids[s] = catalog->sellers[s].id;
    const char *near = ids == NULL ? NULL : sw_nearest(id, ids, catalog->seller_count);
    free(ids);
    return near;
}

/* ---- what is gone ---------------------------------------------------------------------------- */

static int part_with(const sw_scenario *scenario, const char *id) {
    for (size_t p = 0; p < scenario->part_count; p++)
        if (strcmp(scenario->parts[p].id, id) == 0)
            return (int)p;
    return SW_NONE;
}

static int seller_with(const sw_catalog *catalog, const char *id) {
    for (size_t s = 0; s < catalog->seller_count; s++)
        if (strcmp(catalog->sellers[s].id, id) == 0)
            return (int)s;
    return SW_NONE;
}

static bool is_listed(const sw_catalog *catalog, int part, int seller) {
    for (size_t i = 0; i < catalog->listing_count; i++)
        if (catalog->listings[i].part == part &&
            (seller == SW_NONE || catalog->listings[i].seller == seller))
            return true;
    return false;
}

static sw_status check_seller(const errand *e, const char *word, const char *seller) {
    if (strcmp(seller, "client") == 0)
        return refuse(e, "--gone", word, "is about what the client brings",
                      "it is no listing of a shop", NULL,
                      "write --set given.PART=null, as the scenario names it");
    return refuse(e, "--gone", word, "names no seller", "behind the @ stands the id of a seller",
                  nearest_seller(e->scenario->catalog, seller), "look the id up in sellers.json");
}

/* "PART" or "PART@SELLER", of a listing that there is in `scenario`. */
static sw_status read_gone(errand *e, const sw_scenario *scenario, const char *word) {
    sw_arena *arena = e->out->arena;
    const sw_catalog *catalog = scenario->catalog;
    size_t length = strcspn(word, "@");
    const char *id = sw_arena_text(arena, word, length);
    const char *seller = word[length] == '@' ? word + length + 1 : NULL;
    if (id == NULL)
        return SW_NO_MEMORY;
    int part = part_with(scenario, id), by = SW_NONE;
    if (part == SW_NONE)
        return refuse(e, "--gone", word, "names no part",
                      "a part is named by its id, as in a listing", nearest_part(scenario, id),
                      "look the id up in the catalog's parts");
    if (seller != NULL)
        by = seller_with(catalog, seller);
    if (seller != NULL && by == SW_NONE)
        return check_seller(e, word, seller);
    if (!is_listed(catalog, part, by))
        return refuse(e, "--gone", word,
                      seller == NULL ? "is a part that nobody lists"
                                     : "is a part that this seller does not list",
                      "only what is listed can be gone", NULL,
                      seller == NULL ? "leave it out" : "name a seller who lists it, or none");
    const char *name = scenario->parts[part].name;
    sw_gone *gone = &e->out->gone[e->out->gone_count++];
    *gone = (sw_gone){.part = id, .name = sw_arena_copy(arena, name)};
    if (seller != NULL) {
        gone->seller = sw_arena_copy(arena, seller);
        gone->seller_name = sw_arena_copy(arena, catalog->sellers[by].name);
    }
    bool all = gone->name != NULL &&
               (seller == NULL || (gone->seller != NULL && gone->seller_name != NULL));
    return all ? SW_OK : SW_NO_MEMORY;
}

/* A quote of its own behind all others, since a later one counts over those before it: no element
 * goes by "+". Ids hold nothing that JSON would have to escape. */
static sw_status quote_gone(errand *e, const sw_gone *gone) {
    const char *value =
        gone->seller == NULL
            ? sw_arena_format(e->out->arena, "{\"part\":\"%s\",\"stock\":0}", gone->part)
            : sw_arena_format(e->out->arena, "{\"part\":\"%s\",\"seller\":\"%s\",\"stock\":0}",
                              gone->part, gone->seller);
    e->changes[e->count++] = (sw_change){"quotes.+", value};
    return value == NULL ? SW_NO_MEMORY : SW_OK;
}

static sw_status read_all_gone(errand *e) {
    const sw_scenario *scenario = e->scenario;
    sw_scenario *changed = NULL;
    sw_status status = SW_OK;
    if (e->asked->gone_count == 0)
        return SW_OK;
    /* A change may have brought the listing. */
    if (e->asked->setting_count > 0)
        status = sw_scenario_change(&changed, scenario, e->changes, e->count, e->complaints);
    if (changed != NULL)
        scenario = changed;
    for (size_t i = 0; i < e->asked->gone_count && (status == SW_OK || status == SW_BAD_DATA);
         i++) {
        sw_status one = read_gone(e, scenario, e->asked->gone[i]);
        status = one == SW_OK ? status : one;
    }
    for (size_t i = 0; i < e->out->gone_count && status == SW_OK; i++)
        status = quote_gone(e, &e->out->gone[i]);
    sw_scenario_free(changed);
    return status;
}

/* ---- changes --------------------------------------------------------------------------------- */

/* A total of --budget is not in the scenario's file. */
static sw_status keep_budget(errand *e) {
    const char *total = sw_money_text(e->out->arena, e->scenario->budget_total,
                                      e->scenario->catalog->currency_digits);
    e->changes[e->count++] = (sw_change){"budget.total", total};
    return total == NULL ? SW_NO_MEMORY : SW_OK;
}

static sw_status read_setting(errand *e, const char *text) {
    sw_setting setting;
    sw_status status = sw_setting_read(&setting, e->out->arena, text, e->complaints);
    if (status != SW_OK)
        return status;
    if (setting.count != 1)
        return refuse(e, "--set", setting.path, "has many values",
                      "shopping is for the one job as it is today", NULL, "give one value");
    e->changes[e->count++] = (sw_change){setting.path, setting.values[0]};
    return sw_change_tell(&e->out->settings[e->out->setting_count++], e->out->arena, e->scenario,
                          setting.path, setting.values[0]);
}

static sw_status read_settings(errand *e) {
    sw_status status = SW_OK;
    for (size_t i = 0; i < e->asked->setting_count; i++) {
        sw_status one = read_setting(e, e->asked->settings[i]);
        if (one == SW_NO_MEMORY)
            return one;
        status = one == SW_OK ? status : one;
    }
    return status;
}

/* ---- the way --------------------------------------------------------------------------------- */

static sw_status read_take(sw_way *asked, const errand *e) {
    static const char *const names[] = {"same", "least", "anew"};
    const char *take = e->asked->take;
    *asked = SW_NO_WAY;
    if (take == NULL)
        return SW_OK;
    for (int i = 0; i < SW_WAYS; i++)
        if (strcmp(take, names[i]) == 0)
            *asked = (sw_way)i;
    if (*asked == SW_NO_WAY)
        return refuse(e, "--take", take, "is no way to go on", "the ways are same, least and anew",
                      sw_nearest(take, names, SW_WAYS), "choose one of these");
    if (e->asked->setting_count + e->asked->gone_count == 0)
        return refuse(e, "--take", take, "has nothing to go on from",
                      "without --gone or --set it is bought as agreed", NULL,
                      "name what is gone, or leave --take out");
    return SW_OK;
}

static sw_status make_room(errand *e) {
    sw_arena *arena = e->out->arena;
    e->changes = SW_NEW(arena, sw_change, 1 + e->asked->setting_count + e->asked->gone_count);
    e->out->settings = SW_NEW(arena, sw_whatif_change, e->asked->setting_count);
    e->out->gone = SW_NEW(arena, sw_gone, e->asked->gone_count);
    bool all = e->changes != NULL && e->out->settings != NULL && e->out->gone != NULL;
    return all ? SW_OK : SW_NO_MEMORY;
}

sw_status sw_shopping_start(sw_shopping **out, sw_scenario **today, sw_way *asked,
                            const sw_scenario *scenario, const sw_errands *errands,
                            sw_complaints *complaints) {
    sw_arena *arena = sw_arena_new();
    sw_shopping *shopping = arena == NULL ? NULL : SW_NEW(arena, sw_shopping, 1);
    if (shopping == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    *shopping = (sw_shopping){.arena = arena, .taken_way = SW_NO_WAY, .same_costs = -1};
    errand e = {shopping, scenario, errands, NULL, 0, complaints};
    *today = NULL;
    sw_status status = make_room(&e);
    if (status == SW_OK)
        status = read_take(asked, &e);
    if (status == SW_OK)
        status = keep_budget(&e);
    if (status == SW_OK)
        status = read_settings(&e);
    if (status == SW_OK)
        status = read_all_gone(&e);
    if (status == SW_OK && e.count > 1)
        status = sw_scenario_change(today, scenario, e.changes, e.count, complaints);
    if (status == SW_OK)
        *out = shopping;
    else
        sw_shopping_free(shopping);
    return status;
}
