/*
 * Planted faults: the program's answer spoiled in one place, each of which the check must find in
 * every errand that has such a place.
 */
#include "shopping.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef bool (*Spoil)(cJSON *answer); /* false where it has no place for it */

static cJSON *in(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static cJSON *at(const cJSON *list, int i) { return cJSON_GetArrayItem(list, i); }

static bool put(cJSON *object, const char *name, cJSON *value) {
    if (!in(object, name)) {
        cJSON_Delete(value);
        return false;
    }
    return cJSON_ReplaceItemInObjectCaseSensitive(object, name, must_have(value));
}

/* "12.30" to "12.31"; "2026-03-09" to "2026-03-00". */
static bool turn_digit(cJSON *object, const char *name) {
    char text[128];
    const cJSON *now = in(object, name);
    if (!cJSON_IsString(now) || !*now->valuestring)
        return false;
    snprintf(text, sizeof text, "%s", now->valuestring);
    char *last = text + strlen(text) - 1;
    *last = *last == '9' ? '0' : (char)(*last + 1);
    return put(object, name, cJSON_CreateString(text));
}

static bool turn(cJSON *object, const char *name) {
    const cJSON *now = in(object, name);
    return cJSON_IsBool(now) && put(object, name, cJSON_CreateBool(!cJSON_IsTrue(now)));
}

static bool add_to(cJSON *object, const char *name, double by) {
    cJSON *now = in(object, name);
    if (!cJSON_IsNumber(now))
        return false;
    cJSON_SetNumberValue(now, now->valuedouble + by);
    return true;
}

static bool drop(cJSON *list, int i) {
    if (cJSON_GetArraySize(list) <= i)
        return false;
    cJSON_DeleteItemFromArray(list, i);
    return true;
}

static bool none(cJSON *object, const char *name) {
    return in(object, name) && !cJSON_IsNull(in(object, name)) &&
           put(object, name, cJSON_CreateNull());
}

static bool some(cJSON *object, const char *name, const char *text) {
    return cJSON_IsNull(in(object, name)) && put(object, name, cJSON_CreateString(text));
}

static cJSON *way(const cJSON *a) { return at(in(a, "ways"), 0); }
static cJSON *order(const cJSON *a) { return at(in(a, "orders"), 0); }
static cJSON *line(const cJSON *a) { return at(in(order(a), "lines"), 0); }

static cJSON *change(const cJSON *a, const char *kind) {
    cJSON *one;
    cJSON_ArrayForEach(one, in(a, "changes")) if (!strcmp(text_of(one, "kind"), kind)) return one;
    return NULL;
}

static cJSON *with_work(const cJSON *a, const char *name) {
    cJSON *one;
    cJSON_ArrayForEach(one, in(a, "changes")) if (cJSON_GetArraySize(in(one, name)) > 0) return one;
    return NULL;
}

static bool take_other(cJSON *a) {
    const char *now = text_of(a, "taken");
    cJSON *one;
    cJSON_ArrayForEach(one, in(a, "ways")) if (strcmp(text_of(one, "way"), now) != 0) return put(
        a, "taken", cJSON_CreateString(text_of(one, "way")));
    return false;
}

static bool swap_orders(cJSON *a) {
    cJSON *list = in(a, "orders");
    if (cJSON_GetArraySize(list) < 2)
        return false;
    return cJSON_InsertItemInArray(list, 0, cJSON_DetachItemFromArray(list, 1));
}

static bool repeat_line(cJSON *a) {
    return line(a) &&
           cJSON_AddItemToArray(in(order(a), "lines"), must_have(cJSON_Duplicate(line(a), true)));
}

static bool invent_change(cJSON *a) {
    cJSON *one;
    if (change(a, "day"))
        return false;
    one = must_have(cJSON_CreateObject());
    cJSON_AddStringToObject(one, "kind", "day");
    cJSON_AddNullToObject(one, "role");
    cJSON_AddTrueToObject(one, "word");
    cJSON_AddStringToObject(one, "because", "it comes a day later");
    return cJSON_AddItemToArray(in(a, "changes"), one);
}

#define SPOIL(name, does)                                                                          \
    static bool name(cJSON *a) { return does; }

SPOIL(option, add_to(in(a, "option"), "number", 1))
SPOIL(place, put(in(a, "option"), "place", cJSON_CreateString("last")))
SPOIL(proved, turn(in(a, "option"), "proved"))
SPOIL(agreed_cost, turn_digit(in(a, "agreed"), "cost"))
SPOIL(agreed_points, turn_digit(in(a, "agreed"), "points"))
SPOIL(agreed_days, add_to(in(a, "agreed"), "days", 1))
SPOIL(changed, turn(a, "changed"))
SPOIL(other_taken, take_other(a))
SPOIL(way_less, drop(in(a, "ways"), 0))
SPOIL(way_name, put(way(a), "way", cJSON_CreateString("other")))
SPOIL(way_open, turn(way(a), "proved"))
SPOIL(way_cost, turn_digit(way(a), "cost"))
SPOIL(way_more, turn_digit(way(a), "more_cost"))
SPOIL(way_points, turn_digit(way(a), "points"))
SPOIL(way_loss, turn_digit(way(a), "loss"))
SPOIL(way_days, add_to(way(a), "days", 1))
SPOIL(way_swap, drop(in(in(way(a), "bundle"), "swaps"), 0))
SPOIL(parts_left_out, change(a, "parts") && drop(in(a, "changes"), 0))
SPOIL(parts_word, turn(change(a, "parts"), "word"))
SPOIL(parts_role, put(change(a, "parts"), "role", cJSON_CreateString("nothing")))
SPOIL(parts_as_seller, put(change(a, "parts"), "kind", cJSON_CreateString("seller")))
SPOIL(parts_from, drop(in(change(a, "parts"), "from"), 0))
SPOIL(parts_to, drop(in(change(a, "parts"), "to"), 0))
SPOIL(parts_count, add_to(at(in(change(a, "parts"), "to"), 0), "count", 1))
SPOIL(work_from, drop(in(with_work(a, "work_from"), "work_from"), 0))
SPOIL(work_to, drop(in(with_work(a, "work_to"), "work_to"), 0))
SPOIL(seller_word, turn(change(a, "seller"), "word"))
SPOIL(seller_as_parts, put(change(a, "seller"), "kind", cJSON_CreateString("parts")))
SPOIL(seller_to, put(at(in(change(a, "seller"), "to"), 0), "seller", cJSON_CreateString("x")))
SPOIL(total_free, turn(change(a, "total"), "word"))
SPOIL(total_as_day, put(change(a, "total"), "kind", cJSON_CreateString("day")))
SPOIL(day_free, turn(change(a, "day"), "word"))
SPOIL(day_invented, invent_change(a))
SPOIL(order_less, drop(in(a, "orders"), 0))
SPOIL(orders_turned, swap_orders(a))
SPOIL(order_seller, put(order(a), "seller", cJSON_CreateString("nobody")))
SPOIL(order_name, put(order(a), "name", cJSON_CreateString("Nobody")))
SPOIL(order_goods, turn_digit(order(a), "goods"))
SPOIL(order_delivery, turn_digit(order(a), "delivery"))
SPOIL(order_waived, turn(order(a), "waived"))
SPOIL(order_sum, turn_digit(order(a), "sum"))
SPOIL(order_days, add_to(order(a), "days", 1))
SPOIL(line_less, drop(in(order(a), "lines"), 0))
SPOIL(line_twice, repeat_line(a))
SPOIL(line_part, put(line(a), "part", cJSON_CreateString("nothing")))
SPOIL(line_role, put(line(a), "role", cJSON_CreateString("nothing")))
SPOIL(line_count, add_to(line(a), "count", 1))
SPOIL(line_each, turn_digit(line(a), "price_each"))
SPOIL(line_price, turn_digit(line(a), "price"))
SPOIL(line_days, add_to(line(a), "days", 1))
SPOIL(line_here, turn_digit(line(a), "here_on"))
SPOIL(line_here_none, none(line(a), "here_on"))
SPOIL(line_warranty, turn_digit(line(a), "warranty_until"))
SPOIL(line_warranty_none, none(line(a), "warranty_until"))
SPOIL(line_warranty_some, some(line(a), "warranty_until", "2026-03-03"))
SPOIL(line_months, add_to(line(a), "warranty_months", 1))
SPOIL(line_return, turn_digit(line(a), "return_until"))
SPOIL(line_return_none, none(line(a), "return_until"))
SPOIL(line_back, add_to(line(a), "return_days", 1))
SPOIL(line_changed, turn(line(a), "changed"))
SPOIL(shelf_less, drop(in(a, "shelf"), 0))
SPOIL(shelf_price, turn_digit(at(in(a, "shelf"), 0), "price"))
SPOIL(goods, turn_digit(a, "goods"))
SPOIL(deliveries, turn_digit(a, "deliveries"))
SPOIL(to_pay, turn_digit(a, "to_pay"))
SPOIL(before_tax, turn(a, "before_tax"))
SPOIL(days, add_to(a, "days", 1))
SPOIL(last_on, turn_digit(a, "last_on"))
SPOIL(last_none, none(a, "last_on"))
SPOIL(last_some, some(a, "last_on", "2026-03-03"))

typedef struct Fault {
    const char *name;
    Spoil spoil;
    long met, found;
} Fault;

#define FAULT(name)                                                                                \
    { #name, name, 0, 0 }

static Fault faults[] = {FAULT(option),
                         FAULT(place),
                         FAULT(proved),
                         FAULT(agreed_cost),
                         FAULT(agreed_points),
                         FAULT(agreed_days),
                         FAULT(changed),
                         FAULT(other_taken),
                         FAULT(way_less),
                         FAULT(way_name),
                         FAULT(way_open),
                         FAULT(way_cost),
                         FAULT(way_more),
                         FAULT(way_points),
                         FAULT(way_loss),
                         FAULT(way_days),
                         FAULT(way_swap),
                         FAULT(parts_left_out),
                         FAULT(parts_word),
                         FAULT(parts_role),
                         FAULT(parts_as_seller),
                         FAULT(parts_from),
                         FAULT(parts_to),
                         FAULT(parts_count),
                         FAULT(work_from),
                         FAULT(work_to),
                         FAULT(seller_word),
                         FAULT(seller_as_parts),
                         FAULT(seller_to),
                         FAULT(total_free),
                         FAULT(total_as_day),
                         FAULT(day_free),
                         FAULT(day_invented),
                         FAULT(order_less),
                         FAULT(orders_turned),
                         FAULT(order_seller),
                         FAULT(order_name),
                         FAULT(order_goods),
                         FAULT(order_delivery),
                         FAULT(order_waived),
                         FAULT(order_sum),
                         FAULT(order_days),
                         FAULT(line_less),
                         FAULT(line_twice),
                         FAULT(line_part),
                         FAULT(line_role),
                         FAULT(line_count),
                         FAULT(line_each),
                         FAULT(line_price),
                         FAULT(line_days),
                         FAULT(line_here),
                         FAULT(line_here_none),
                         FAULT(line_warranty),
                         FAULT(line_warranty_none),
                         FAULT(line_warranty_some),
                         FAULT(line_months),
                         FAULT(line_return),
                         FAULT(line_return_none),
                         FAULT(line_back),
                         FAULT(line_changed),
                         FAULT(shelf_less),
                         FAULT(shelf_price),
                         FAULT(goods),
                         FAULT(deliveries),
                         FAULT(to_pay),
                         FAULT(before_tax),
                         FAULT(days),
                         FAULT(last_on),
                         FAULT(last_none),
                         FAULT(last_some)};

/* ---- faults of the CSV -------------------------------------------------------------------- */

static char *text_copy(const char *text) {
    char *copy = malloc(strlen(text) + 2);
    if (!copy)
        give_up("memory");
    return strcpy(copy, text);
}

/* Its last row taken away; the guard of its first name; its last digit of money. */
static bool spoil_csv(char *csv, int how) {
    char *end = csv + strlen(csv), *row = strstr(csv, "\r\n"),
         *quote = row ? strchr(row, '"') : NULL;
    if (!quote)
        return false;
    if (how == 0) {
        for (end -= 2; end > csv && end[-1] != '\n'; end--)
            ;
        *end = '\0';
        return true;
    }
    char *mark = how == 1 ? strstr(row, "\"'=") : strstr(row, ",true\r\n");
    if (!mark)
        return false;
    if (how == 1)
        memmove(mark + 1, mark + 2, strlen(mark + 2) + 1);
    else
        memcpy(mark, ",frue", 5);
    return true;
}

/* ---- in every errand that has a place for it ------------------------------------------------- */

static void spoil_one(Fault *f, Case *c, const Errand *e) {
    static char why[4096];
    static Tally y;
    Talk t = {why, sizeof why};
    cJSON *right = c->answer;
    c->answer = must_have(cJSON_Duplicate(right, true));
    if (f->spoil(c->answer) && !cJSON_Compare(c->answer, right, true)) {
        bool found = !right_answer(&t, c, e, &y);
        f->met++;
        f->found += found;
        if (!found)
            printf("%s: not noticed with option %d, %s\n", f->name, e->option,
                   e->words[0] ? e->words[1] : "as agreed");
    }
    cJSON_Delete(c->answer);
    c->answer = right;
}

static void spoil_rows(long met[3], long found[3], const Case *c) {
    static char why[4096];
    Talk t = {why, sizeof why};
    for (int how = 0; how < 3; how++) {
        char *csv = text_copy(c->csv);
        if (spoil_csv(csv, how)) {
            met[how]++;
            found[how] += !right_csv(&t, c->answer, csv);
        }
        free(csv);
    }
}

typedef struct Planting {
    long csv_met[3], csv_found[3], wrong;
} Planting;

/* Whether it stands as long as nothing is spoiled. */
static void plant(Planting *p, Case *c, const Errand *e) {
    static char why[4096];
    static Tally y;
    Talk t = {why, sizeof why};
    if (!ask_errand(c, e, &t) || !right_answer(&t, c, e, &y)) {
        p->wrong++;
        printf("nothing spoiled: %s\n", why);
    } else {
        for (size_t i = 0; i < sizeof faults / sizeof *faults; i++)
            spoil_one(&faults[i], c, e);
        spoil_rows(p->csv_met, p->csv_found, c);
    }
    end_errand(c);
}

static void plant_gone(Planting *p, Case *c, int option, const char *part, const char *seller) {
    char word[256];
    snprintf(word, sizeof word, "%s@%s", part, seller);
    Errand e = {.option = option, .words = {"--gone", word}, .changed = true};
    c->now = must_have(cJSON_Duplicate(c->job, true));
    cJSON *quotes = in(c->now, "quotes"), *one = must_have(cJSON_CreateObject());
    quotes = quotes ? quotes : must_have(cJSON_AddArrayToObject(c->now, "quotes"));
    cJSON_AddStringToObject(one, "part", part);
    cJSON_AddStringToObject(one, "seller", seller);
    cJSON_AddNumberToObject(one, "stock", 0);
    cJSON_AddItemToArray(quotes, one);
    plant(p, c, &e);
}

static void plant_seed(Planting *p, const Setup *s, long seed) {
    static char why[4096];
    Case c;
    Talk t = {why, sizeof why};
    if (!draw_case(&c, s, seed, &t))
        p->wrong++;
    for (int i = 0; i < cJSON_GetArraySize(get(c.options, "options")); i++) {
        const cJSON *swap, *part;
        c.now = must_have(cJSON_Duplicate(c.job, true));
        plant(p, &c, &(Errand){.option = i + 1});
        cJSON_ArrayForEach(swap, get(get(at(get(c.options, "options"), i), "bundle"), "swaps"))
            cJSON_ArrayForEach(part,
                               get(swap, "in")) if (strcmp(text_of(part, "seller"), "client") != 0)
                plant_gone(p, &c, i + 1, text_of(part, "part"), text_of(part, "seller"));
    }
    end_case(&c);
}

static bool all_met(const Planting *p) {
    for (size_t i = 0; i < sizeof faults / sizeof *faults; i++)
        if (!faults[i].met)
            return false;
    return p->csv_met[0] && p->csv_met[1] && p->csv_met[2];
}

int check_faults(const Setup *s) {
    static const char *const rows[] = {"csv: a row less", "csv: no guard", "csv: another word"};
    Planting p = {.wrong = 0};
    long passed = 0, failed;
    for (long seed = 2001; seed < 2100 && !all_met(&p); seed++)
        plant_seed(&p, s, seed);
    failed = p.wrong;
    for (size_t i = 0; i < sizeof faults / sizeof *faults; i++) {
        bool good = faults[i].met > 0 && faults[i].met == faults[i].found;
        passed += good;
        failed += !good;
        if (!good)
            printf("%s: met %ld times, found %ld times\n", faults[i].name, faults[i].met,
                   faults[i].found);
    }
    for (int i = 0; i < 3; i++) {
        bool good = p.csv_met[i] > 0 && p.csv_met[i] == p.csv_found[i];
        passed += good;
        failed += !good;
        if (!good)
            printf("%s: met %ld times, found %ld times\n", rows[i], p.csv_met[i], p.csv_found[i]);
    }
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed ? 1 : 0;
}
