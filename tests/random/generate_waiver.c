/* A drawn job altered: dear deliveries that many sums waive, and just the money that
 * makes the waiver matter. */
#include "generate.h"

static void put_money(Draw *d, cJSON *json, const char *name, int hundredths) {
    cJSON_DeleteItemFromObject(json, name);
    money_in(d, json, name, hundredths);
}

/* The sum is among the prices of parts, or just beside one. */
static int draw_sum(Draw *d) {
    static const int sums[] = {500, 1000, 1500, 2000, 2050, 3000, 4500, 6000, 9900};
    int sum = sums[below(d, 9)];
    return sum + below(d, 3) - 1;
}

void draw_waivers(Draw *d) {
    int delivery = 0, sum = 0;
    cJSON *json, *budget = cJSON_GetObjectItem(d->scenario, "budget");
    cJSON_ArrayForEach(json, cJSON_GetObjectItem(d->sellers_file, "sellers")) {
        delivery = between(d, 2, 12) * 245;
        sum = draw_sum(d);
        put_money(d, json, "delivery", delivery);
        put_money(d, json, "free_from", sum);
    }
    if (chance(d, 20))
        return;
    cJSON_DeleteItemFromObject(budget, "reserve");
    cJSON_DeleteItemFromObject(budget, "sundries");
    put_money(d, budget, "total", sum + between(d, 0, delivery + 1500));
}
