/* The random vocabulary: roles, facts and where they stand, parts, sellers. */
#include "generate.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Ids whose byte order is not what the eye expects. */
static const char *const role_ids[] = {"a",  "a-b", "a0", "ab",  "b",  "b-1",
                                       "b1", "c",   "0",  "0-9", "9z", "zz"};

static const Fact vocabulary[] = {
    {.name = "load_w",
     .type = NUMBER,
     .combine = "sum",
     .values = {"0", "10", "12.5", "20"},
     .most = 800},
    {.name = "supply_w",
     .type = NUMBER,
     .combine = "sum",
     .values = {"10", "20", "30", "50"},
     .most = 800},
    {.name = "plugs", .type = NUMBER, .combine = "sum", .values = {"0", "1", "2"}, .most = 9},
    {.name = "headers",
     .type = NUMBER,
     .combine = "sum",
     .values = {"0", "1", "2", "4"},
     .most = 9},
    {.name = "need_mm",
     .type = NUMBER,
     .combine = "most",
     .values = {"10", "20", "20.5", "30"},
     .most = 90},
    {.name = "room_mm",
     .type = NUMBER,
     .combine = "least",
     .values = {"10", "20", "30", "40"},
     .most = 90},
    {.name = "taken_mm", .type = NUMBER, .combine = "sum", .values = {"0", "5", "10"}, .most = 90},
    {.name = "pace_a",
     .type = NUMBER,
     .combine = "least",
     .pace = true,
     .values = {"2", "4", "8", "16"},
     .least = 0.001,
     .most = 900},
    {.name = "pace_b",
     .type = NUMBER,
     .combine = "most",
     .pace = true,
     .values = {"50", "75", "100", "133.333"},
     .least = 0.001,
     .most = 900},
    {.name = "pace_c",
     .type = NUMBER,
     .combine = "sum",
     .pace = true,
     .values = {"2", "3", "6"},
     .least = 0.001,
     .most = 900},
    {.name = "noise_dba",
     .type = NUMBER,
     .combine = "power",
     .values = {"20", "25", "28.5", "33", "40"},
     .least = -20,
     .most = 90},
    {.name = "loss_db",
     .type = NUMBER,
     .combine = "most",
     .values = {"0", "1.5", "3", "6"},
     .most = 20},
    {.name = "score_pt",
     .type = NUMBER,
     .combine = "most",
     .values = {"2", "5", "5.5", "8"},
     .most = 20},
    {.name = "grade_pt",
     .type = NUMBER,
     .combine = "sum",
     .values = {"-2", "0", "1", "3"},
     .least = -9,
     .most = 20},
    {.name = "tidiness",
     .type = NUMBER,
     .combine = "least",
     .values = {"2", "7", "10", "12"},
     .most = 20},
    {.name = "socket", .type = TOKEN, .combine = "each", .values = {"S1", "S2", "S3"}},
    {.name = "tier",
     .type = TOKEN,
     .combine = "each",
     .vital = true,
     .values = {"low", "mid", "top"}},
    {.name = "finish", .type = TOKEN, .combine = "each", .values = {"black", "white", "silver"}},
    {.name = "takes", .type = LIST, .combine = "common", .values = {"S1", "S2", "S3"}},
    {.name = "brings", .type = LIST, .combine = "either", .values = {"S1", "S2", "S3"}},
    {.name = "open", .type = FLAG, .combine = "all", .values = {"true", "false"}},
    {.name = "bright", .type = FLAG, .combine = "any", .values = {"true", "false"}},
    {.name = "sites", .type = SITES, .combine = "joined"},
    {.name = "things", .type = THINGS, .combine = "joined"},
};

/* In close jobs these stand in: most steps are worth a thousandth of a point. */
static const Fact close_calls[] = {
    {.name = "pace_b", .values = {"100", "100.001", "100.002", "100.003"}},
    {.name = "score_pt", .values = {"5", "5.001", "5.002", "5.003"}},
    {.name = "grade_pt", .values = {"-0.001", "0", "0.001", "0.002"}},
    {.name = "noise_dba", .values = {"25", "25.001", "25.002", "25.003"}},
};

static void bring_close(Fact *f) {
    for (size_t i = 0; i < sizeof close_calls / sizeof *close_calls; i++)
        if (!strcmp(f->name, close_calls[i].name))
            memcpy(f->values, close_calls[i].values, sizeof f->values);
}

static void draw_counts(Draw *d, Role *r, cJSON *json) {
    if (r->most == 0 || chance(d, 50)) {
        for (int i = 1; i <= r->most; i++)
            r->count[i] = true;
        return;
    }
    cJSON *counts = array_in(json, "counts");
    for (int i = 1; i <= r->most; i++)
        r->count[i] = chance(d, 50) || (i == r->most && cJSON_GetArraySize(counts) == 0);
    for (int i = 1; i <= r->most; i++)
        if (r->count[i])
            put_next(counts, cJSON_CreateNumber(i));
    if (cJSON_GetArraySize(counts) == 0) {
        r->count[r->most] = true;
        put_next(counts, cJSON_CreateNumber(r->most));
    }
}

/* When a machine is at its end: some roles, and the share of them that changes. */
static void draw_renewal(Draw *d) {
    static const double shares[] = {0.001, 0.25, 0.333, 0.5, 0.667, 0.75, 1};
    cJSON *json = object_in(d->roles_file, "renewal");
    cJSON *roles = array_in(json, "roles");
    int n = between(d, 1, 3), first = below(d, d->roles);
    for (int i = 0; i < n; i++)
        text_next(roles, d->role[(first + i) % d->roles].id);
    number_in(json, "share", shares[below(d, 7)]);
}

void draw_roles(Draw *d) {
    const int pool = (int)(sizeof role_ids / sizeof *role_ids);
    int order[sizeof role_ids / sizeof *role_ids];
    d->roles_file = file_of("roles");
    cJSON *list = cJSON_GetObjectItem(d->roles_file, "roles");
    d->roles = d->size == SMALL ? between(d, 3, 6) : between(d, 8, MAX_ROLES);
    for (int i = 0; i < pool; i++)
        order[i] = i;
    for (int i = 0; i < d->roles; i++) {
        int k = between(d, i, pool - 1), held = order[i];
        order[i] = order[k];
        order[k] = held;
        Role *r = &d->role[i];
        cJSON *json = next_object(list);
        snprintf(r->id, sizeof r->id, "%s", role_ids[order[i]]);
        text_in(json, "role", r->id);
        text_in(json, "name", "a role");
        r->most = chance(d, 50) ? 1 : between(d, 1, 4);
        r->least = chance(d, 50) ? 1 : 0;
        r->whole = r->most > 1 && chance(d, 30);
        r->kinds = r->most > 1 && chance(d, 60) ? 2 : 1;
        if (r->least || chance(d, 50))
            number_in(json, "least", r->least);
        if (r->most != 1 || chance(d, 50))
            number_in(json, "most", r->most);
        if (r->whole || chance(d, 20))
            text_in(json, "kept", r->whole ? "all-or-none" : "any");
        if (r->kinds == 2 || chance(d, 20))
            number_in(json, "new_kinds", r->kinds);
        draw_counts(d, r, json);
        if (chance(d, 70))
            number_in(json, "minutes", between(d, 0, 3) * 10 + 5);
    }
    if (chance(d, 75))
        draw_renewal(d);
}

cJSON *draw_value(Draw *d, const Fact *f) {
    int n = 0;
    cJSON *array;
    while (n < 8 && f->values[n])
        n++;
    switch (f->type) {
    case NUMBER:
        return must(cJSON_CreateNumber(read_number(one_of(d, n, f->values))));
    case FLAG:
        return must(cJSON_CreateBool(chance(d, 50)));
    case TOKEN:
        return must(cJSON_CreateString(one_of(d, n, f->values)));
    default:
        array = must(cJSON_CreateArray());
        for (int i = 0; i < n; i++)
            if (chance(d, 60))
                text_next(array, f->values[i]);
        return array;
    }
}

static const char *const kinds[] = {"fan", "drive"};
static const char *const sizes[] = {"small", "large"};
static const char *const sides[] = {"front", "top"};

static cJSON *draw_sites(Draw *d) {
    static const char *const names[] = {"one", "two", "three"};
    cJSON *array = must(cJSON_CreateArray());
    int n = between(d, 1, 3);
    for (int i = 0; i < n; i++) {
        cJSON *json = next_object(array);
        text_in(json, "site", names[i]);
        text_in(json, "kind", one_of(d, 2, kinds));
        cJSON *list = array_in(json, "sizes");
        int which = below(d, 3);
        for (int k = 0; k < 2; k++)
            if (which == 2 || which == k)
                text_next(list, sizes[k]);
        if (chance(d, 60))
            number_in(json, "count", between(d, 1, 2));
        if (chance(d, 60))
            number_in(json, "depth_mm", between(d, 1, 3) * 10);
        if (chance(d, 40))
            text_in(json, "side", one_of(d, 2, sides));
        if (n > 1 && chance(d, 55)) {
            cJSON *take = next_object(array_in(json, "takes"));
            text_in(take, "site", names[(i + between(d, 1, n - 1)) % n]);
            if (chance(d, 60))
                number_in(take, "count", between(d, 1, 2));
        }
    }
    return array;
}

static cJSON *draw_things(Draw *d, bool present) {
    cJSON *array = must(cJSON_CreateArray());
    int n = present && d->focus == PLACES ? between(d, 0, 1) : between(d, 0, 2);
    for (int i = 0; i < n; i++) {
        cJSON *json = next_object(array);
        text_in(json, "kind", one_of(d, 2, kinds));
        text_in(json, "size", one_of(d, 2, sizes));
        if (chance(d, 25))
            number_in(json, "count", between(d, 1, 2));
        if (chance(d, 60))
            number_in(json, "depth_mm", between(d, 1, 3) * 10);
        if (chance(d, 30))
            text_in(json, "side", one_of(d, 2, sides));
    }
    return array;
}

cJSON *draw_spots(Draw *d, bool sites) { return sites ? draw_sites(d) : draw_things(d, false); }

static cJSON *draw_any_value(Draw *d, const Fact *f, bool present) {
    if (f->type == SITES)
        return draw_sites(d);
    return f->type == THINGS ? draw_things(d, present) : draw_value(d, f);
}

/* What absence of the fact means, for some facts. */
static void draw_absent(Draw *d, Fact *f, cJSON *json) {
    if (!chance(d, f->type == SITES || f->type == THINGS ? 60 : 25))
        return;
    f->absent = true;
    if (!strcmp(f->combine, "power"))
        text_in(json, "absent", "silent");
    else if (f->type == LIST || f->type == SITES || f->type == THINGS)
        array_in(json, "absent");
    else
        put_in(json, "absent", draw_value(d, f));
}

static void write_fact(Draw *d, Fact *f, cJSON *json) {
    static const char *const types[] = {"number", "token", "list", "flag", "sites", "things"};
    text_in(json, "fact", f->name);
    text_in(json, "type", types[f->type]);
    cJSON *roles = array_in(json, "roles");
    for (int r = 0; r < d->roles; r++)
        if (f->on[r])
            text_next(roles, d->role[r].id);
    text_in(json, "combine", f->combine);
    if (f->type == NUMBER) {
        number_in(json, "least", f->least);
        number_in(json, "most", f->most);
    }
    if (f->type == TOKEN && chance(d, 50)) {
        cJSON *tokens = array_in(json, "tokens");
        for (int i = 0; i < 3; i++)
            text_next(tokens, f->values[i]);
    }
    draw_absent(d, f, json);
    text_in(json, "meaning", "random");
    text_in(json, "source", "dice");
}

void draw_facts(Draw *d) {
    d->facts_file = file_of("facts");
    array_in(d->facts_file, "derived");
    d->facts = (int)(sizeof vocabulary / sizeof *vocabulary);
    for (int i = 0; i < d->facts; i++) {
        Fact *f = &d->fact[i];
        *f = vocabulary[i];
        if (d->close)
            bring_close(f);
        for (int r = 0; r < d->roles; r++) {
            bool spots = f->type == SITES || f->type == THINGS;
            f->on[r] = chance(d, !spots ? 50 : d->focus == PLACES ? 75 : 40);
            if (d->close && strstr(f->name, "_pt") && chance(d, 70))
                f->on[r] = true;
            if (!strcmp(f->name, "pace_c") && !can_be_pace(d, r))
                f->on[r] = false;
        }
        if (strcmp(f->name, "pace_c") != 0)
            f->on[below(d, d->roles)] = true;
        bool anywhere = false;
        for (int r = 0; r < d->roles; r++)
            anywhere = anywhere || f->on[r];
        if (anywhere)
            write_fact(d, f, next_object(cJSON_GetObjectItem(d->facts_file, "facts")));
    }
}

/* A role that is never empty, so that even a sum on it is positive. */
bool can_be_pace(const Draw *d, int role) { return d->role[role].least > 0; }

/* What is there today tends to be slow, poor and loud, so that swaps pay. */
static cJSON *draw_old_value(Draw *d, const Fact *f) {
    bool noise = !strcmp(f->combine, "power"), score = !strcmp(f->name, "score_pt");
    cJSON *one = draw_any_value(d, f, true);
    if (!noise && !score && !f->pace)
        return one;
    cJSON *two = draw_any_value(d, f, true);
    bool first = noise ? one->valuedouble > two->valuedouble : one->valuedouble < two->valuedouble;
    cJSON_Delete(first ? two : one);
    return first ? one : two;
}

cJSON *draw_piece_facts(Draw *d, int role, bool present) {
    cJSON *facts = object();
    for (int i = 0; i < d->facts; i++) {
        const Fact *f = &d->fact[i];
        bool noise = f->type == NUMBER && !strcmp(f->combine, "power");
        if (!f->on[role] || f->type == DERIVED)
            continue;
        bool slow = !strcmp(f->name, "pace_a") && chance(d, 12); /* its log2 is no rate */
        bool sure = present && (f->pace || f->vital || noise);
        int percent = f->absent ? 60 : f->pace || noise ? 98 : 96;
        if (sure ? !f->absent || chance(d, 60) : chance(d, percent))
            put_in(facts, f->name,
                   present ? draw_old_value(d, f)
                   : slow  ? must(cJSON_CreateNumber(1))
                           : draw_any_value(d, f, false));
    }
    return facts;
}

int new_part(Draw *d, int role, bool catalog) {
    Part *p = &d->part[d->parts];
    if (d->parts == MAX_PARTS) {
        fputs("generate: more parts than it holds\n", stderr);
        exit(2);
    }
    *p = (Part){.role = role, .catalog = catalog};
    switch (below(d, 4)) {
    case 0:
        snprintf(p->id, sizeof p->id, "p%d", d->parts);
        break;
    case 1:
        snprintf(p->id, sizeof p->id, "p-%d", d->parts);
        break;
    case 2:
        snprintf(p->id, sizeof p->id, "%dp", d->parts);
        break;
    default:
        snprintf(p->id, sizeof p->id, "q%d-x", d->parts);
        break;
    }
    return d->parts++;
}

static void list_part(Draw *d, int part) {
    char line[160], price[32];
    static const int prices[] = {0, 500, 999, 1000, 1500, 2000, 2050, 3000, 4500, 6000, 9900};
    Role *r = &d->role[d->part[part].role];
    int n = chance(d, 65) ? 1 : 2, first = below(d, d->sellers);
    for (int i = 0; i < n && i < d->sellers; i++) {
        int stock = chance(d, 85) ? between(d, 2, 9) : between(d, 0, 1);
        int asked = prices[below(d, 11)];
        asked += d->close && chance(d, 30);
        money_text(d, asked, price, sizeof price);
        int length = snprintf(line, sizeof line, "%s,seller-%d,%s,%d,%d,24,14\n", d->part[part].id,
                              (first + i) % d->sellers, price, stock, between(d, 0, 4));
        if (d->listings_length + (size_t)length + 1 > d->listings_room) {
            d->listings_room = d->listings_room * 2 + 4096;
            d->listings = must(realloc(d->listings, d->listings_room));
        }
        memcpy(d->listings + d->listings_length, line, (size_t)length + 1);
        d->listings_length += (size_t)length;
        d->part[part].listings++;
        for (int k = 1; k <= r->most && k <= stock; k++)
            r->new_by_total[k] += r->count[k];
    }
}

void draw_parts(Draw *d) {
    static const char *const makers[] = {"Maker One", "Maker Two", "Maker Three"};
    d->parts_file = file_of("parts");
    cJSON *list = cJSON_GetObjectItem(d->parts_file, "parts");
    for (int r = 0; r < d->roles; r++) {
        int n = d->size == SMALL ? between(d, 1, d->lavish) : between(d, 4, 12);
        for (int i = 0; i < n; i++) {
            int part = new_part(d, r, true);
            bool present = i == 0; /* may stand in the machine: full in what must be known */
            cJSON *json = next_object(list);
            text_in(json, "id", d->part[part].id);
            text_in(json, "role", d->role[r].id);
            text_in(json, "name", "A part");
            d->part[part].maker = one_of(d, 3, makers);
            text_in(json, "maker", d->part[part].maker);
            put_in(json, "facts", draw_piece_facts(d, r, present));
            if (!present || chance(d, 40))
                list_part(d, part);
        }
    }
}

void draw_sellers(Draw *d) {
    static const char header[] = "part,seller,price,stock,days,warranty_months,return_days\n";
    d->sellers_file = file_of("sellers");
    text_in(d->sellers_file, "currency", d->currency);
    d->sellers = between(d, 1, 3);
    for (int i = 0; i < d->sellers; i++) {
        char id[ID];
        cJSON *json = next_object(cJSON_GetObjectItem(d->sellers_file, "sellers"));
        snprintf(id, sizeof id, "seller-%d", i);
        text_in(json, "id", id);
        text_in(json, "name", "A seller");
        if (chance(d, 70)) {
            money_in(d, json, "delivery", between(d, 0, 4) * 245);
            if (chance(d, 60))
                money_in(d, json, "free_from", between(d, 0, 4) * 2000);
        }
        number_in(json, "delivery_days", between(d, 0, 4));
        number_in(json, "minutes", between(d, 0, 2) * 10);
    }
    d->listings_room = 4096;
    d->listings = must(realloc(d->listings, d->listings_room));
    memcpy(d->listings, header, sizeof header);
    d->listings_length = sizeof header - 1;
}

/* A fact of the type that stands on the role, or -1. */
int fact_on(Draw *d, int role, Type type) {
    int found[MAX_FACTS], n = 0;
    for (int i = 0; i < d->facts; i++) {
        bool number = type == NUMBER && d->fact[i].type == DERIVED;
        if (d->fact[i].on[role] && (d->fact[i].type == type || number))
            found[n++] = i;
    }
    return n ? found[below(d, n)] : -1;
}

int any_fact(Draw *d, Type type, int *role) {
    for (int tries = 0; tries < 50; tries++) {
        *role = below(d, d->roles);
        int fact = fact_on(d, *role, type);
        if (fact >= 0)
            return fact;
    }
    return -1;
}
