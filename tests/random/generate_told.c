/*
 * What a job may say that no bundle hangs on: ends of exponents, air of fans, the
 * warmth of the room, electricity. Drawn last of all.
 */
#include "generate.h"

#include <math.h>
#include <string.h>

static cJSON *get(const cJSON *json, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(json, name);
}

static double whole_milli(double x) { return (double)llround(1000.0 * x) / 1000.0; }

/* The ends between which an exponent may lie; of positive ones positive. */
static void add_ends(Draw *d, cJSON *pair) {
    double e = cJSON_GetArrayItem(pair, 1)->valuedouble;
    double low = e > 0.0 ? e * 0.5 : e - 0.5, high = e > 0.0 ? e * 1.5 : e + 0.5;
    if (cJSON_GetArraySize(pair) != 2 || !chance(d, 60))
        return;
    put_next(pair, cJSON_CreateNumber(chance(d, 20) ? e : whole_milli(low)));
    put_next(pair, cJSON_CreateNumber(chance(d, 20) ? e : whole_milli(high)));
}

static void draw_ends(Draw *d, cJSON *json) {
    cJSON *child;
    if (cJSON_IsArray(json) && json->string && !strcmp(json->string, "power"))
        add_ends(d, json);
    cJSON_ArrayForEach(child, json) draw_ends(d, child);
}

static void draw_air(Draw *d, cJSON *things) {
    static const double airs[] = {40, 68.5, 110}, stalls[] = {12, 25.5, 0.9};
    cJSON *thing;
    cJSON_ArrayForEach(thing, things) {
        bool some = chance(d, 15); /* says less than all three */
        if (!get(thing, "kind") || get(thing, "site") ||
            strcmp(get(thing, "kind")->valuestring, "fan") != 0 || !chance(d, 45))
            continue;
        if (!some || chance(d, 50))
            number_in(thing, "air_m3_h", airs[below(d, 3)]);
        if (!some || chance(d, 50))
            number_in(thing, "stall_pa", stalls[below(d, 3)]);
        if (!some || chance(d, 50))
            text_in(thing, "blows", chance(d, 50) ? "in" : "out");
    }
}

static void draw_all_air(Draw *d) {
    cJSON *json, *inner;
    cJSON_ArrayForEach(json, get(d->parts_file, "parts"))
        draw_air(d, get(get(json, "facts"), "things"));
    cJSON_ArrayForEach(json, get(d->scenario, "machine")) cJSON_ArrayForEach(inner, json)
        draw_air(d, get(get(inner, "facts"), "things"));
    cJSON_ArrayForEach(json, get(d->scenario, "given"))
        draw_air(d, get(get(json, "facts"), "things"));
    cJSON_ArrayForEach(json, get(d->tasks_file, "tasks"))
        cJSON_ArrayForEach(inner, get(json, "effects")) draw_air(d, get(inner, "set"));
}

static void draw_electricity(Draw *d) {
    cJSON *json = object_in(d->scenario, "electricity");
    money_in(d, json, "price_per_kwh", between(d, 0, 90));
    if (chance(d, 60))
        number_in(json, "mains_v", chance(d, 50) ? 115 : 230);
    number_in(json, "work_hours_a_day", between(d, 0, 12));
    number_in(json, "idle_hours_a_day", between(d, 0, 12));
}

void draw_told(Draw *d) {
    draw_ends(d, get(d->uses_file, "uses"));
    draw_ends(d, get(d->facts_file, "derived"));
    if (chance(d, 60))
        draw_all_air(d);
    if (chance(d, 25)) {
        cJSON *room = get(d->scenario, "room");
        number_in(room ? room : object_in(d->scenario, "room"), "temperature_c", between(d, 5, 45));
    }
    if (chance(d, 25))
        draw_electricity(d);
}
