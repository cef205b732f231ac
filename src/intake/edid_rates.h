/* How often a display shows whole pictures of its own size: the most over all timings it lists. */
#ifndef SW_INTAKE_EDID_RATES_H
#define SW_INTAKE_EDID_RATES_H

#include "base/base.h"

#define SW_EDID_BLOCK 128

typedef struct sw_edid_bytes {
    const unsigned char *from;
    size_t length;
} sw_edid_bytes;

/* Interlaced timings show half pictures: their rate is none (0). */
typedef struct sw_edid_timing {
    unsigned width, height;
    int64_t milli_hz;
} sw_edid_timing;

typedef struct sw_edid_rates {
    unsigned width, height; /* the display's own size */
    int64_t exact;          /* thousandths of a Hz: of timings that are told in full */
    int64_t nominal;        /* of those told by a rate in whole Hz, which the true one is near to */
    bool unread;            /* there are timings in a form that is not read here */
} sw_edid_rates;

/* The 18 bytes of a detailed timing (E-EDID 3.10.2); false when they are none. */
bool sw_edid_detailed(sw_edid_timing *out, sw_edid_bytes in);

/* Each adds what is of the display's own size. */
void sw_edid_add_timing(sw_edid_rates *rates, const sw_edid_timing *timing);
void sw_edid_add_base(sw_edid_rates *rates, const unsigned char *block, int revision);
/* `block` is sound. */
void sw_edid_add_extension(sw_edid_rates *rates, const unsigned char *block, size_t extensions);
/* Is it no DisplayID section, or one whose own checksum holds? */
bool sw_edid_section_sound(const unsigned char *block);
/* A short video descriptor of CTA-861: the code of a timing. */
void sw_edid_add_vic(sw_edid_rates *rates, unsigned descriptor);

/* The most; 0 when none was met. A nominal rate counts only where it is a Hz above. */
int64_t sw_edid_top(const sw_edid_rates *rates);

#endif
