/* The money side of a job: budget, labour, tax. */
#include "check/stage.h"

#include <string.h>

static void read_budget(sw_job *job) {
    sw_check *check = job->check;
    sw_scenario *scenario = job->scenario;
    sw_node budget;
    sw_need need = check->draft ? SW_OPTIONAL : SW_REQUIRED;
    if (!sw_get(check, job->root, "budget", need, SW_JSON_OBJECT, &budget))
        return;
    SW_CHECK_NAMES(check, &budget, "total", "reserve", "sundries");
    sw_get_money(check, &budget, "total", need, &scenario->budget_total);
    sw_get_money(check, &budget, "reserve", SW_OPTIONAL, &scenario->reserve);
    sw_get_money(check, &budget, "sundries", SW_OPTIONAL, &scenario->sundries);
}

bool sw_get_labour(sw_check *check, const sw_node *object, int64_t *per_hour) {
    sw_node labour;
    if (!sw_get(check, object, "labour", SW_OPTIONAL, SW_JSON_OBJECT, &labour))
        return false;
    SW_CHECK_NAMES(check, &labour, "rate_per_hour");
    return sw_get_money(check, &labour, "rate_per_hour", SW_OPTIONAL, per_hour);
}

bool sw_get_tax(sw_check *check, const sw_node *object, sw_tax *tax) {
    sw_node found;
    int prices = SW_PRICES_WITH_TAX, rounding = SW_HALF_UP, per = 0;
    if (!sw_get(check, object, "tax", SW_OPTIONAL, SW_JSON_OBJECT, &found))
        return false;
    SW_CHECK_NAMES(check, &found, "percent", "prices", "round", "per");
    bool good = sw_get_milli(check, &found, "percent", SW_REQUIRED, 0, INT64_C(100000),
                             &tax->percent_milli);
    SW_GET_CHOICE(check, &found, "prices", SW_OPTIONAL, &prices, "with", "without");
    SW_GET_CHOICE(check, &found, "round", SW_OPTIONAL, &rounding, "half-up", "half-even");
    SW_GET_CHOICE(check, &found, "per", SW_OPTIONAL, &per, "line", "invoice");
    tax->prices = (sw_tax_prices)prices;
    tax->rounding = (sw_rounding)rounding;
    tax->per_invoice = per == 1;
    return good;
}

static void read_currency(sw_job *job) {
    sw_check *check = job->check;
    const char *code = NULL;
    if (!sw_get_token(check, job->root, "currency", SW_REQUIRED, &code) || check->currency_doubt ||
        strcmp(code, check->catalog->currency) == 0)
        return;
    sw_node at = sw_member(job->root, "currency");
    sw_wrong(check, &at, "a job is reckoned in the currency of its catalog",
             "use a catalog with prices in the job's currency",
             "is \"%s\", where sellers.json has %s", sw_shown(check, code),
             check->catalog->currency);
}

void sw_read_money(sw_job *job) {
    read_currency(job);
    read_budget(job);
    sw_get_labour(job->check, job->root, &job->scenario->labour_per_hour);
    sw_get_tax(job->check, job->root, &job->scenario->tax);
}
