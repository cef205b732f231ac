/* How a price list's report is told. */
#ifndef SW_RENDER_PRICES_H
#define SW_RENDER_PRICES_H

#include "intake/prices.h"
#include "render/sheet.h"

/* "waiting", as JSON names it; and as people read it. */
extern const char *const sw_fate_names[SW_ROW_FATES];
extern const char *const sw_fate_words[SW_ROW_FATES];

/* What a change is, as a set. */
typedef enum sw_change_kind {
    SW_CHANGE_NEW,
    SW_CHANGE_GONE,
    SW_CHANGE_HELD,
    SW_CHANGE_DEARER,
    SW_CHANGE_CHEAPER,
    SW_CHANGE_STOCK,
    SW_CHANGE_TERMS,
    SW_CHANGE_KINDS
} sw_change_kind;
extern const char *const sw_change_names[SW_CHANGE_KINDS];
bool sw_change_is(const sw_price_change *change, sw_change_kind kind);

/* Text of the list, safe on a terminal; an amount; who a row is; facts that a row's text states. */
const char *sw_list_text(sw_sheet *s, const char *text);
const char *sw_list_money(sw_sheet *s, const sw_prices *p, int64_t amount);
const char *sw_list_row(sw_sheet *s, const sw_price_row *row);
void sw_list_told(sw_sheet *s, const sw_prices *p, const sw_told_fact *facts, size_t count);
/* Two values that one row's text states of a fact. */
void sw_list_clashes(sw_sheet *s, const sw_prices *p, const sw_price_row *row, const char *indent,
                     const char *who);
/* A row that waits, and why. */
void sw_list_waiting(sw_sheet *s, const sw_prices *p, const sw_price_row *row);

/* A fact's value with no more digits than it has; arena-owned, NULL when out. */
const char *sw_told_value(sw_arena *arena, const sw_catalog *catalog, int fact,
                          const sw_value *value);

#endif
