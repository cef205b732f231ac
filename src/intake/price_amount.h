/* A price as a profile says that it is written, exactly, or not at all. */
#ifndef SW_INTAKE_PRICE_AMOUNT_H
#define SW_INTAKE_PRICE_AMOUNT_H

#include "check/profiles.h"

/* Minor units as the list has them. False with what is wrong with the cell, a plain sentence's end
 * ("has 3 digits behind the decimal mark"). */
bool sw_amount_read(int64_t *out, const sw_price_style *style, const char *cell, const char **what);
/* From the list's side of tax to that of the listings. False beyond the money there may be. */
bool sw_amount_tax(int64_t *amount, const sw_price_style *style);
/* How the profile would write 1234 and 56 hundredths; NULL when memory is out. */
const char *sw_amount_example(sw_arena *arena, const sw_price_style *style);

#endif
