/* Statements settled: one value for each property of each device, and what contradicts it. */
#ifndef SW_INTAKE_SETTLE_H
#define SW_INTAKE_SETTLE_H

#include "check/intake.h"
#include "intake/dumps.h"

/* One property. `all[0]` counts, the others say the same or contradict it. */
typedef struct sw_settled {
    const char *property;
    const sw_statement *const *all; /* in the order in which they count */
    size_t count;
    bool doubtful; /* one of them contradicts the first */
} sw_settled;

typedef struct sw_device {
    const char *kind, *key;
    const sw_settled *settled; /* in byte order of the property */
    size_t count;
} sw_device;

typedef struct sw_devices {
    const sw_device *all; /* in byte order of kind, then of key */
    size_t count;
} sw_devices;

/* Everything lives in `arena` and leans on `dumps`. SW_NO_MEMORY or SW_OK. */
sw_status sw_settle(sw_devices *out, sw_arena *arena, const sw_dumps *dumps,
                    const sw_intake_form *form);

/* NULL when the device does not say. */
const sw_settled *sw_device_says(const sw_device *device, const char *property);
/* Does this statement contradict the one that counts? */
bool sw_contradicts(const sw_intake_form *form, const sw_statement *counts,
                    const sw_statement *other);
bool sw_tests_hold(const sw_device_tests *tests, const sw_device *device);
/* Do they hold of what any statement says? Of two readings of a drive the worse one counts. */
bool sw_tests_hold_of_any(const sw_device_tests *tests, const sw_device *device);

/* What one contradiction says, as a sentence without its full stop; NULL when memory is out. */
const char *sw_contradiction_told(sw_arena *arena, const sw_statement *counts,
                                  const sw_statement *other);

/* A statement's value as people read it: text as it is, numbers without needless zeros, yes or no.
 * "" when memory is out. */
const char *sw_statement_value(sw_arena *arena, const sw_statement *statement);

#endif
