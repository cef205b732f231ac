/* The job of a seed: drawn by the generator, with what sellers told in two of three. */
#include "ranges.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int below(Job *j, int n) {
    j->dice = j->dice * 6364136223846793005u + 1442695040888963407u;
    return n > 0 ? (int)((j->dice >> 33) % (uint64_t)n) : 0;
}

static const cJSON *any_of(Job *j, const cJSON *list) {
    return cJSON_GetArrayItem(list, below(j, cJSON_GetArraySize(list)));
}

const char *any_part(Job *j) { return text_of(any_of(j, get(j->catalog, "parts")), "id"); }

const char *any_seller(Job *j) { return text_of(any_of(j, get(j->sellers, "sellers")), "id"); }

const char *any_role(Job *j) {
    const cJSON *role = any_of(j, get(j->json, "machine"));
    return role ? role->string : "(none)";
}

bool is_listed(const Job *j, const char *part, const char *seller) {
    char line[256];
    snprintf(line, sizeof line, "\n%s,%s,", part, seller);
    return strstr(j->listings, line) != NULL;
}

/* Who lists it; NULL: nobody. */
static const char *who_lists(Job *j, const char *part) {
    const cJSON *seller;
    cJSON_ArrayForEach(
        seller,
        get(j->sellers,
            "sellers")) if (is_listed(j, part, text_of(seller, "id"))) return text_of(seller, "id");
    return NULL;
}

/* Of one seller, who may be new to the part, or of all who list it. */
static void add_quote(Job *j, cJSON *quotes) {
    cJSON *quote = must_have(cJSON_CreateObject());
    const char *part = any_part(j), *seller = any_seller(j);
    bool all = who_lists(j, part) && below(j, 3) == 0;
    bool fresh = !all && !is_listed(j, part, seller);
    int says = fresh ? 3 | below(j, 2) << 2 : 1 + below(j, 7);
    char money[32];
    cJSON_AddStringToObject(quote, "part", part);
    if (!all)
        cJSON_AddStringToObject(quote, "seller", seller);
    money_of(j, below(j, 4000), money, sizeof money);
    if (says & 1)
        cJSON_AddStringToObject(quote, "price", money);
    if (says & 2)
        cJSON_AddNumberToObject(quote, "stock", below(j, 4));
    if (says & 4)
        cJSON_AddNumberToObject(quote, "days", below(j, 6));
    cJSON_AddItemToArray(quotes, quote);
}

static void add_quotes(Job *j) {
    cJSON *quotes = must_have(cJSON_AddArrayToObject(j->json, "quotes"));
    for (int n = below(j, 4); n >= 0; n--)
        add_quote(j, quotes);
}

static bool draw(Job *j, long seed) {
    char err[2048];
    Words w = {.n = 0};
    path_of(j->s, "draw.err", err, sizeof err);
    add_word(&w, "%s", j->s->generate);
    add_word(&w, "%ld", seed);
    add_word(&w, "%s", j->folder);
    if (seed % 2)
        add_word(&w, "--waivers");
    int code = run_child(w.at, "/dev/null", err);
    drop_words(&w);
    return code == 0 || fail(j->t, "the generator failed");
}

static cJSON *read_in(const Job *j, const char *name) {
    char path[4096];
    snprintf(path, sizeof path, "%s/%s", j->folder, name);
    return must_have(read_tree(path));
}

bool open_job(Job *j, long seed) {
    char path[2048];
    j->dice = (uint64_t)seed * 0x9e3779b97f4a7c15u + 1;
    path_of(j->s, "job", j->folder, sizeof j->folder);
    path_of(j->s, "job/scenario.json", j->scenario, sizeof j->scenario);
    path_of(j->s, "job/changed.json", j->changed, sizeof j->changed);
    path_of(j->s, "job/listings.csv", path, sizeof path);
    if (!draw(j, seed))
        return false;
    j->json = read_in(j, "scenario.json");
    j->catalog = read_in(j, "parts/parts.json");
    j->sellers = read_in(j, "sellers.json");
    j->listings = read_whole(path);
    if (below(j, 3))
        add_quotes(j);
    write_tree(j->scenario, j->json);
    return true;
}

void close_job(Job *j) {
    cJSON_Delete(j->json);
    cJSON_Delete(j->catalog);
    cJSON_Delete(j->sellers);
    free(j->listings);
}
