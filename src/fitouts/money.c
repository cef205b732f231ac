/* Tax and labour, in minor units, rounded as the scenario declares. */
#include "fitouts/fitouts.h"

/* percent_milli 8250 is 8.25 %: amount x 8250 / 100,000. */
static int64_t tax_on(const sw_scenario *scenario, int64_t amount) {
    return sw_divide(amount * scenario->tax.percent_milli, 100000, scenario->tax.rounding);
}

int64_t sw_landed(const sw_scenario *scenario, int64_t amount) {
    if (scenario->tax.prices == SW_PRICES_WITH_TAX || scenario->tax.per_invoice)
        return amount;
    return amount + tax_on(scenario, amount);
}

int64_t sw_invoice_tax(const sw_scenario *scenario, int64_t bill) {
    if (scenario->tax.prices == SW_PRICES_WITH_TAX || !scenario->tax.per_invoice)
        return 0;
    return tax_on(scenario, bill);
}

/* bill + tax(bill) never falls as the bill grows, so bisection is exact. */
int64_t sw_bill_limit(const sw_scenario *scenario, int64_t budget) {
    int64_t low = 0, high = budget;
    while (low < high) {
        int64_t middle = low + (high - low + 1) / 2;
        if (middle + sw_invoice_tax(scenario, middle) <= budget)
            low = middle;
        else
            high = middle - 1;
    }
    return low;
}

int64_t sw_labour_net(const sw_scenario *scenario, int64_t minutes) {
    return sw_divide(minutes * scenario->labour_per_hour, 60, SW_HALF_UP);
}

int64_t sw_labour(const sw_scenario *scenario, int64_t minutes) {
    return sw_landed(scenario, sw_labour_net(scenario, minutes));
}
