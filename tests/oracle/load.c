/*
 * Reads the catalog folder and the scenario into the checker's world. It takes
 * the data to be valid: the program's own reader is what is tested on bad data.
 */
#include "world.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static char *join(World *w, const char *folder, const char *name) {
    char *path = hold(w, strlen(folder) + strlen(name) + 2);
    strcpy(path, folder);
    strcat(path, "/");
    return strcat(path, name);
}

static int by_role_id(const void *a, const void *b) {
    return strcmp(((const Role *)a)->id, ((const Role *)b)->id);
}

static void read_renewal(World *w, const cJSON *json) {
    const cJSON *role;
    w->renewal_share = get(json, "share") ? milli_of(get(json, "share")) : 0;
    cJSON_ArrayForEach(role, get(json, "roles")) w->role[find_role(w, role->valuestring)].renewal =
        true;
}

/* Roles are kept in byte order of their ids; nothing depends on the file's order. */
static void read_roles(World *w, const cJSON *file) {
    const cJSON *json, *count;
    w->role = hold(w, (size_t)cJSON_GetArraySize(need(file, "roles")) * sizeof *w->role);
    cJSON_ArrayForEach(json, need(file, "roles")) {
        Role *r = &w->role[w->roles++];
        r->id = text_of(json, "role", "");
        r->least = (int)number_of(json, "least", 0);
        r->most = (int)number_of(json, "most", 1);
        r->kinds = (int)number_of(json, "new_kinds", 1);
        r->minutes = (int)number_of(json, "minutes", 0);
        r->whole = !strcmp(text_of(json, "kept", "any"), "all-or-none");
        r->count = hold(w, 32 * sizeof *r->count);
        for (int i = 1; i <= r->most && !get(json, "counts"); i++)
            r->count[i] = true;
        cJSON_ArrayForEach(count, get(json, "counts")) r->count[(int)count->valuedouble] = true;
    }
    qsort(w->role, (size_t)w->roles, sizeof *w->role, by_role_id);
    read_renewal(w, get(file, "renewal"));
}

static int by_task_id(const void *a, const void *b) {
    return strcmp(((const Task *)a)->id, ((const Task *)b)->id);
}

void read_tasks(World *w, const cJSON *file) {
    const cJSON *list = get(file, "tasks"), *json;
    w->task = hold(w, (size_t)cJSON_GetArraySize(list) * sizeof *w->task);
    cJSON_ArrayForEach(json, list) {
        Task *t = &w->task[w->tasks++];
        t->id = text_of(json, "id", "");
        t->family = text_of(json, "family", NULL);
        t->role = find_role(w, text_of(json, "role", ""));
        t->any = !strcmp(text_of(json, "applies_to", ""), "any");
        t->chance = cJSON_IsTrue(get(json, "chance"));
        t->minutes = (int)number_of(json, "minutes", 0);
        t->price = money_of(w, text_of(json, "price", "0"));
        t->effects = get(json, "effects");
        t->needs = read_conds(w, get(json, "needs"));
    }
    qsort(w->task, (size_t)w->tasks, sizeof *w->task, by_task_id);
}

static void read_charges(World *w, const cJSON *file) {
    const cJSON *list = get(file, "charges"), *json;
    w->charge = hold(w, (size_t)cJSON_GetArraySize(list) * sizeof *w->charge);
    cJSON_ArrayForEach(json, list) {
        Charge *c = &w->charge[w->charges++];
        c->id = text_of(json, "id", "");
        c->amount = money_of(w, text_of(json, "amount", "0"));
        c->minutes = (int)number_of(json, "minutes", 0);
        c->any = read_conds(w, get(json, "for_any"));
    }
}

static int add_part(World *w, const char *id, const cJSON *json) {
    w->part = grow(w, w->part, w->parts, &w->part_room, sizeof *w->part);
    int role = find_role(w, text_of(json, "role", ""));
    w->part[w->parts] = (Part){.id = id, .maker = text_of(json, "maker", ""), .role = role};
    w->part[w->parts].cell = read_cells(w, role, get(json, "facts"), NULL);
    return w->parts++;
}

static int by_path(const void *a, const void *b) {
    return strcmp(*(char *const *)a, *(char *const *)b);
}

static void read_parts(World *w, const char *folder) {
    char **path = NULL;
    int n = 0, room = 0;
    DIR *d = opendir(folder);
    const struct dirent *entry;
    const cJSON *json;
    if (!d)
        stop(2, "%s: no such folder", folder);
    while ((entry = readdir(d)) != NULL) {
        const char *dot = strrchr(entry->d_name, '.');
        if (!dot || strcmp(dot, ".json") != 0)
            continue;
        path = grow(w, path, n, &room, sizeof *path);
        path[n++] = join(w, folder, entry->d_name);
    }
    closedir(d);
    if (n)
        qsort(path, (size_t)n, sizeof *path, by_path);
    for (int i = 0; i < n; i++)
        cJSON_ArrayForEach(json, need(open_json(w, path[i]), "parts"))
            add_part(w, text_of(json, "id", ""), json);
}

static void read_sellers(World *w, const cJSON *file) {
    const cJSON *list = get(file, "sellers"), *json;
    w->seller = hold(w, (size_t)(cJSON_GetArraySize(list) + 1) * sizeof *w->seller);
    cJSON_ArrayForEach(json, list) {
        Seller *s = &w->seller[w->sellers++];
        s->id = text_of(json, "id", "");
        s->delivery = money_of(w, text_of(json, "delivery", "0"));
        s->has_free = get(json, "free_from") != NULL;
        s->free_from = money_of(w, text_of(json, "free_from", "0"));
        s->days = (int)number_of(json, "delivery_days", 0);
        s->minutes = (int)number_of(json, "minutes", 0);
    }
    w->seller[w->sellers++] = (Seller){.id = "client"};
}

/* One field of a CSV line, unquoted in place; moves *at past its comma. */
static char *field(char **at) {
    char *start = *at, *out = start, *p = start;
    bool quoted = *p == '"';
    p += quoted;
    while (*p && (quoted || (*p != ',' && *p != '\n' && *p != '\r'))) {
        if (quoted && *p == '"') {
            if (p[1] != '"') {
                quoted = false;
                p++;
                continue;
            }
            p++;
        }
        *out++ = *p++;
    }
    while (*p == '\r')
        p++;
    *at = *p ? p + 1 : p;
    *out = '\0';
    return start;
}

static int find_seller(const World *w, const char *id) {
    for (int i = 0; i < w->sellers; i++)
        if (!strcmp(w->seller[i].id, id))
            return i;
    stop(2, "no seller %s", id);
}

static bool avoided(const World *w, const Part *p) {
    const cJSON *item;
    cJSON_ArrayForEach(item, get(get(w->job, "wishes"),
                                 "avoid")) if (!strcmp(item->valuestring, p->id) ||
                                               !strcmp(item->valuestring, p->maker)) return true;
    return false;
}

static void add_listing(World *w, Listing l) {
    w->listing = grow(w, w->listing, w->listings, &w->listing_room, sizeof *w->listing);
    w->listing[w->listings++] = l;
}

static void leave_out_listings(World *w) {
    int n = 0;
    for (int i = 0; i < w->listings; i++) {
        const Listing *l = &w->listing[i];
        if (!avoided(w, &w->part[l->part]) && !(w->has_days && l->days > w->days))
            w->listing[n++] = *l;
    }
    w->listings = n;
}

static void read_listings(World *w, const char *path) {
    size_t length;
    char *at = slurp(w, path, &length);
    for (int i = 0; i < 7; i++)
        field(&at);
    while (*at) {
        char *part = field(&at), *seller = field(&at), *price = field(&at);
        char *stock = field(&at), *days = field(&at);
        char *warranty = field(&at), *returns = field(&at);
        Listing l = {.part = find_part(w, part), .seller = find_seller(w, seller)};
        if (l.part < 0)
            stop(2, "%s: no part %s", path, part);
        l.price = money_of(w, price);
        l.stock = strtoll(stock, NULL, 10);
        l.days = strtoll(days, NULL, 10) + w->seller[l.seller].days;
        l.warranty_months = (int)strtol(warranty, NULL, 10);
        l.return_days = (int)strtol(returns, NULL, 10);
        add_listing(w, l);
    }
}

/* Days since a fixed day, by counting in years that begin in March. */
static long long day_of(const char *date) {
    long long y = strtoll(date, NULL, 10), m = strtoll(date + 5, NULL, 10);
    long long d = strtoll(date + 8, NULL, 10);
    y -= m <= 2;
    m = (m + 9) % 12;
    return 365 * y + y / 4 - y / 100 + y / 400 + (153 * m + 2) / 5 + d;
}

static bool lists_string(const cJSON *array, const char *text) {
    const cJSON *item;
    cJSON_ArrayForEach(item, array) if (!strcmp(item->valuestring, text)) return true;
    return false;
}

static void read_given(World *w) {
    const cJSON *json;
    cJSON_ArrayForEach(json, get(w->job, "given")) {
        const char *id = text_of(json, "part", ""), *here = text_of(json, "arrives_on", NULL);
        Listing l = {.part = find_part(w, id), .seller = w->sellers - 1};
        if (l.part < 0)
            l.part = add_part(w, id, json);
        l.stock = number_of(json, "count", 1);
        l.must_use = lists_string(get(json, "strings"), "must-use");
        if (here)
            l.days = day_of(here) - day_of(text_of(w->job, "date", here));
        add_listing(w, l);
    }
}

static void read_machine(World *w) {
    const cJSON *role, *json;
    cJSON_ArrayForEach(role, get(w->job, "machine")) {
        int at = find_role(w, role->string);
        Role *r = &w->role[at];
        r->present = hold(w, (size_t)cJSON_GetArraySize(role) * sizeof *r->present);
        cJSON_ArrayForEach(json, role) {
            Present *p = &r->present[r->presents++];
            p->id = text_of(json, "part", "");
            p->count = (int)number_of(json, "count", 1);
            p->offer = money_of(w, text_of(json, "offer", "0"));
            int known = find_part(w, p->id);
            p->cell = read_cells(w, at, get(json, "facts"), known < 0 ? NULL : w->part[known].cell);
        }
    }
}

static int digits_of(const char *currency) {
    static const char *const none[] = {"JPY", "KRW", "CLP", "ISK", "VND", "XAF", "XOF", "XPF"};
    static const char *const three[] = {"BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"};
    for (size_t i = 0; i < sizeof none / sizeof *none; i++)
        if (!strcmp(none[i], currency))
            return 0;
    for (size_t i = 0; i < sizeof three / sizeof *three; i++)
        if (!strcmp(three[i], currency))
            return 3;
    return 2;
}

static void read_terms_of_work(World *w) {
    const cJSON *budget = get(w->job, "budget"), *tax = get(w->job, "tax");
    const cJSON *limits = get(get(w->job, "wishes"), "limits");
    const char *total = w->budget_text ? w->budget_text : text_of(budget, "total", "0");
    w->set_aside = money_of(w, text_of(budget, "reserve", "0")) +
                   money_of(w, text_of(budget, "sundries", "0"));
    w->budget = money_of(w, total) - w->set_aside;
    w->budget = w->budget < 0 ? 0 : w->budget;
    w->rate = money_of(w, text_of(get(w->job, "labour"), "rate_per_hour", "0"));
    w->tax = get(tax, "percent") ? milli_of(get(tax, "percent")) : 0;
    w->tax_without = !strcmp(text_of(tax, "prices", "with"), "without");
    w->tax_invoice = !strcmp(text_of(tax, "per", "line"), "invoice");
    w->tax_even = !strcmp(text_of(tax, "round", "half-up"), "half-even");
    w->allow_unknown = w->allow_unknown || cJSON_IsTrue(get(w->job, "allow_unknown"));
    const cJSON *worth = get(get(w->job, "wishes"), "worth_at_least");
    w->has_worth = worth != NULL;
    w->worth_at_least = worth ? milli_of(worth) : 0;
    w->has_days = get(limits, "days") != NULL;
    w->days = number_of(limits, "days", 0);
    w->has_bench = get(limits, "bench_minutes") != NULL;
    w->bench_minutes = number_of(limits, "bench_minutes", 0);
    w->has_loudness = get(limits, "loudness_sone") != NULL;
    w->loudness = w->has_loudness ? get(limits, "loudness_sone")->valuedouble : 0.0;
}

static char *catalog_folder(World *w, const char *scenario) {
    const char *named = text_of(w->job, "catalog", "."), *slash = strrchr(scenario, '/');
    if (named[0] == '/' || !slash)
        return join(w, named[0] == '/' ? "" : ".", named);
    char *folder = hold(w, (size_t)(slash - scenario) + 1);
    memcpy(folder, scenario, (size_t)(slash - scenario));
    return join(w, folder, named);
}

/* What was told for the job, then with each of the sums that count. */
static void take_quotes(World *w) {
    const cJSON *sums = get(get(w->job, "phases"), "sums");
    apply_quotes(w, get(w->job, "quotes"));
    for (int i = 0; i < w->sums; i++)
        apply_quotes(w, get(cJSON_GetArrayItem(sums, i), "quotes"));
}

void load_world(World *w, const char *scenario) {
    w->job = open_json(w, scenario);
    drop_wishes(w, w->tree[w->trees - 1]);
    char *catalog = catalog_folder(w, scenario);
    w->catalog = catalog;
    w->currency_digits = digits_of(text_of(w->job, "currency", ""));
    read_terms_of_work(w);
    read_roles(w, open_json(w, join(w, catalog, "roles.json")));
    read_facts(w, open_json(w, join(w, catalog, "facts.json")));
    read_parts(w, join(w, catalog, "parts"));
    read_tasks(w, open_json(w, join(w, catalog, "tasks.json")));
    read_charges(w, open_json(w, join(w, catalog, "charges.json")));
    read_sellers(w, open_json(w, join(w, catalog, "sellers.json")));
    read_rules(w, open_json(w, join(w, catalog, "rules.json")));
    read_listings(w, join(w, catalog, "listings.csv"));
    take_quotes(w);
    read_given(w);
    leave_out_listings(w);
    read_machine(w);
    read_criteria(w, open_json(w, join(w, catalog, "criteria.json")),
                  open_json(w, join(w, catalog, "uses.json")));
}
