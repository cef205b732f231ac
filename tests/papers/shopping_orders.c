/* The orders against the bundle that is taken, and against the catalog's own files. */
#include "shopping.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct Offer { /* what the seller says of the part today */
    bool found;
    long long price;
    long days, warranty, back; /* warranty -1: the client's own */
} Offer;

static const cJSON *seller_with(const Case *c, const char *id) {
    const cJSON *one;
    cJSON_ArrayForEach(one,
                       get(c->sellers, "sellers")) if (!strcmp(text_of(one, "id"), id)) return one;
    return NULL;
}

static long whole_of(const cJSON *object, const char *name) {
    const cJSON *found = get(object, name);
    return found ? (long)found->valuedouble : 0;
}

/* Digits behind the point of money as the program writes it. */
static int digits_of(const Case *c) {
    const char *text = text_of(c->answer, "to_pay"), *point = strchr(text, '.');
    return point ? (int)strlen(point + 1) : 0;
}

static long long full_money(const Case *c, const char *text) {
    const char *point = strchr(text, '.');
    long long minor = money_of(text);
    for (int i = point ? (int)strlen(point + 1) : 0; i < digits_of(c); i++)
        minor *= 10;
    return minor;
}

/* "part,seller,price,stock,days,warranty,return" of the catalog. */
static Offer listed(const Case *c, const char *part, const char *seller) {
    char head[256];
    Offer o = {.found = false};
    snprintf(head, sizeof head, "\n%s,%s,", part, seller);
    const char *at = strstr(c->listings, head);
    if (!at)
        return o;
    char price[64] = "", rest[128] = "";
    if (sscanf(at + strlen(head), "%63[^,],%127[^\r\n]", price, rest) != 2)
        return o;
    char *next = rest;
    strtol(next, &next, 10); /* stock */
    o.days = strtol(next + 1, &next, 10);
    o.warranty = strtol(next + 1, &next, 10);
    o.back = strtol(next + 1, &next, 10);
    o.found = true;
    o.price = full_money(c, price);
    return o;
}

static Offer offered(const Case *c, const char *part, const char *seller) {
    const cJSON *quote;
    Offer o = listed(c, part, seller);
    cJSON_ArrayForEach(quote, get(c->now, "quotes")) {
        const cJSON *by = get(quote, "seller");
        if (strcmp(text_of(quote, "part"), part) != 0 ||
            (by ? strcmp(by->valuestring, seller) != 0 : !o.found))
            continue;
        o.found = true;
        if (get(quote, "price"))
            o.price = full_money(c, text_of(quote, "price"));
        if (get(quote, "days"))
            o.days = whole_of(quote, "days");
    }
    o.days += whole_of(seller_with(c, seller), "delivery_days");
    return o;
}

static Offer given(const Case *c, const char *part) {
    const cJSON *one;
    cJSON_ArrayForEach(one, get(c->now, "given")) {
        const char *name = get(one, "part") ? text_of(one, "part") : text_of(one, "id");
        if (strcmp(name, part) != 0)
            continue;
        Offer o = {.found = true, .warranty = -1, .back = -1};
        if (get(one, "arrives_on") && get(c->now, "date"))
            o.days =
                days_to(read_date(text_of(c->now, "date")), read_date(text_of(one, "arrives_on")));
        return o;
    }
    return (Offer){.found = false};
}

/* ---- one line ---- */

static bool right_dates(Talk *t, const Case *c, const cJSON *line, const Offer *o, Tally *y) {
    const char *part = text_of(line, "part");
    if (!get(c->now, "date"))
        return (cJSON_IsNull(get(line, "here_on")) && cJSON_IsNull(get(line, "warranty_until")) &&
                cJSON_IsNull(get(line, "return_until"))) ||
               fail(t, "%s: a day, and the job has no date", part);
    Date here = days_later(read_date(text_of(c->now, "date")), o->days);
    y->dates++;
    if (!is_date(get(line, "here_on"), here))
        return fail(t, "%s: here on %s", part, text_of(line, "here_on"));
    const cJSON *until = get(line, "warranty_until"), *back = get(line, "return_until");
    if (o->warranty > 0 ? !is_date(until, months_later(here, o->warranty)) : !cJSON_IsNull(until))
        return fail(t, "%s: warranty until %s", part, text_of(line, "warranty_until"));
    if (o->back > 0 ? !is_date(back, days_later(here, o->back)) : !cJSON_IsNull(back))
        return fail(t, "%s: return until %s", part, text_of(line, "return_until"));
    return true;
}

static bool was_agreed(const Case *c, const cJSON *line, const char *seller) {
    const cJSON *in;
    cJSON_ArrayForEach(
        in, get(swap_of(c->agreed, text_of(line, "role")),
                "in")) if (!strcmp(text_of(in, "part"), text_of(line, "part")) &&
                           !strcmp(text_of(in, "seller"), seller) &&
                           get(in, "count")->valuedouble == get(line, "count")->valuedouble &&
                           !strcmp(text_of(in, "price"), text_of(line, "price"))) return true;
    return false;
}

static bool is_length(const cJSON *told, long want) {
    return want < 0 ? cJSON_IsNull(told) : is_whole(told, want);
}

static bool right_line(Talk *t, const Case *c, const cJSON *line, const char *seller, Tally *y) {
    const char *part = text_of(line, "part");
    bool client = !strcmp(seller, "client");
    Offer o = client ? given(c, part) : offered(c, part, seller);
    long count = whole_of(line, "count");
    if (!o.found)
        return fail(t, "%s is not listed by %s", part, seller);
    if (!is_money(line, "price_each", o.price) || !is_money(line, "price", o.price * count))
        return fail(t, "%s costs %s each, %s in all", part, text_of(line, "price_each"),
                    text_of(line, "price"));
    if (!is_whole(get(line, "days"), o.days))
        return fail(t, "%s: other days than %ld", part, o.days);
    if (!is_length(get(line, "warranty_months"), o.warranty) ||
        !is_length(get(line, "return_days"), o.back))
        return fail(t, "%s: other warranty or return", part);
    const cJSON *changed = get(line, "changed");
    if (!cJSON_IsBool(changed) || cJSON_IsTrue(changed) == was_agreed(c, line, seller))
        return fail(t, "%s: whether it is as agreed", part);
    return right_dates(t, c, line, &o, y);
}

/* ---- one order ---- */

/* 0 is no charge: then nothing is waived either. */
static bool right_delivery(Talk *t, const Case *c, const cJSON *order, long long goods,
                           long long *delivery, Tally *y) {
    const char *id = text_of(order, "seller");
    const cJSON *seller = seller_with(c, id);
    bool charged = get(seller, "delivery") && full_money(c, text_of(seller, "delivery")) > 0;
    bool waived =
        charged && get(seller, "free_from") && goods >= full_money(c, text_of(seller, "free_from"));
    *delivery = charged && !waived ? full_money(c, text_of(seller, "delivery")) : 0;
    y->waived += waived;
    y->brought += !strcmp(id, "client");
    if (!is_money(order, "delivery", *delivery) || cJSON_IsTrue(get(order, "waived")) != waived)
        return fail(t, "delivery by %s: %s", id, text_of(order, "delivery"));
    return (is_money(order, "goods", goods) && is_money(order, "sum", goods + *delivery)) ||
           fail(t, "sums of %s", id);
}

static bool in_order(const cJSON *before, const cJSON *line) {
    int by = before ? strcmp(text_of(before, "role"), text_of(line, "role")) : -1;
    return by < 0 || (by == 0 && strcmp(text_of(before, "part"), text_of(line, "part")) < 0);
}

static bool right_order(Talk *t, const Case *c, const cJSON *order, long long *goods,
                        long long *delivery, long *days, Tally *y) {
    const cJSON *line, *before = NULL;
    long last = 0;
    *goods = 0;
    if (!cJSON_GetArraySize(get(order, "lines")))
        return fail(t, "an order of nothing");
    cJSON_ArrayForEach(line, get(order, "lines")) {
        if (!in_order(before, line))
            return fail(t, "the lines of %s are not in order", text_of(order, "seller"));
        if (!right_line(t, c, line, text_of(order, "seller"), y))
            return false;
        *goods += money_of(text_of(line, "price"));
        last = whole_of(line, "days") > last ? whole_of(line, "days") : last;
        before = line;
    }
    *days = last > *days ? last : *days;
    if (!is_whole(get(order, "days"), last))
        return fail(t, "days of %s", text_of(order, "seller"));
    const cJSON *seller = seller_with(c, text_of(order, "seller"));
    if (seller && strcmp(text_of(seller, "name"), text_of(order, "name")) != 0)
        return fail(t, "the name of %s", text_of(order, "seller"));
    return right_delivery(t, c, order, *goods, delivery, y);
}

/* ---- all of them ---- */

static const cJSON *line_of(const Case *c, const char *role, const cJSON *in) {
    const cJSON *order, *line;
    cJSON_ArrayForEach(order, get(c->answer, "orders")) {
        if (strcmp(text_of(order, "seller"), text_of(in, "seller")) != 0)
            continue;
        cJSON_ArrayForEach(line, get(order, "lines")) if (!strcmp(text_of(line, "role"), role) &&
                                                          !strcmp(text_of(line, "part"),
                                                                  text_of(in, "part"))) return line;
    }
    return NULL;
}

static bool all_ordered(Talk *t, const Case *c, const cJSON *bundle) {
    const cJSON *swap, *in, *order;
    int bought = 0, ordered = 0;
    cJSON_ArrayForEach(swap, get(bundle, "swaps")) cJSON_ArrayForEach(in, get(swap, "in")) {
        const cJSON *line = line_of(c, text_of(swap, "role"), in);
        bought++;
        if (!line || whole_of(line, "count") != whole_of(in, "count"))
            return fail(t, "%s is not ordered as often as needed", text_of(in, "part"));
    }
    cJSON_ArrayForEach(order, get(c->answer, "orders")) ordered +=
        cJSON_GetArraySize(get(order, "lines"));
    return bought == ordered || fail(t, "%d lines for %d parts", ordered, bought);
}

/* As the bundle's own bill has it. */
static bool adds_up(Talk *t, const cJSON *bundle, long long goods, long long deliveries) {
    const cJSON *charge;
    long long billed = 0;
    cJSON_ArrayForEach(charge,
                       get(bundle, "charges")) if (!strncmp(text_of(charge, "id"), "delivery-", 9))
        billed += money_of(text_of(charge, "amount"));
    if (goods != money_of(text_of(get(bundle, "bill"), "parts")))
        return fail(t, "goods are not those of the bill");
    return billed == deliveries || fail(t, "deliveries are not those of the bill");
}

static bool right_shelf(Talk *t, const Case *c, const cJSON *bundle, Tally *y) {
    const cJSON *task, *told = get(c->answer, "shelf")->child;
    cJSON_ArrayForEach(task, get(bundle, "tasks")) {
        if (!money_of(text_of(task, "price")))
            continue;
        y->shelf++;
        if (!told || strcmp(text_of(told, "task"), text_of(task, "id")) != 0 ||
            !is_money(told, "price", money_of(text_of(task, "price"))))
            return fail(t, "%s is not told of the shelf", text_of(task, "id"));
        told = told->next;
    }
    return !told || fail(t, "too much from the shelf");
}

static bool right_end(Talk *t, const Case *c, long days) {
    const cJSON *tax = get(c->now, "tax"), *last = get(c->answer, "last_on");
    const cJSON *percent = get(tax, "percent");
    bool before = !strcmp(text_of(tax, "prices"), "without") && percent && percent->valuedouble > 0;
    if (cJSON_IsTrue(get(c->answer, "before_tax")) != before)
        return fail(t, "whether tax comes on top");
    if (!is_whole(get(c->answer, "days"), days))
        return fail(t, "days until the last part is here");
    if (!get(c->now, "date"))
        return cJSON_IsNull(last) || fail(t, "a last day, and the job has no date");
    return (is_date(last, days_later(read_date(text_of(c->now, "date")), days)) &&
            !strcmp(text_of(c->answer, "job_date"), text_of(c->now, "date"))) ||
           fail(t, "the last day");
}

static bool right_nothing(Talk *t, const Case *c) {
    const cJSON *a = c->answer;
    if (!is_money(a, "goods", 0) || !is_money(a, "deliveries", 0) || !is_money(a, "to_pay", 0) ||
        !is_whole(get(a, "days"), 0) || !cJSON_IsNull(get(a, "last_on")) ||
        !cJSON_IsFalse(get(a, "before_tax")))
        return fail(t, "nothing is bought, and it costs or lasts");
    return same_count(t, "what is from the shelf", NULL, get(a, "shelf")) &&
           same_count(t, "orders", NULL, get(a, "orders"));
}

bool right_orders(Talk *t, const Case *c, Tally *y) {
    const cJSON *bundle = taken_bundle(c), *order, *before = NULL;
    long long all = 0, deliveries = 0, goods = 0, delivery = 0;
    long days = 0;
    if (!bundle)
        return right_nothing(t, c);
    cJSON_ArrayForEach(order, get(c->answer, "orders")) {
        if (before && strcmp(text_of(before, "seller"), text_of(order, "seller")) >= 0)
            return fail(t, "the orders are not in order");
        if (!right_order(t, c, order, &goods, &delivery, &days, y))
            return false;
        all += goods;
        deliveries += delivery;
        before = order;
    }
    if (!is_money(c->answer, "goods", all) || !is_money(c->answer, "deliveries", deliveries) ||
        !is_money(c->answer, "to_pay", all + deliveries))
        return fail(t, "the sums");
    return all_ordered(t, c, bundle) && adds_up(t, bundle, all, deliveries) &&
           right_shelf(t, c, bundle, y) && right_end(t, c, days);
}
