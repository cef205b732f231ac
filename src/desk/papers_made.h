/* Papers that were made and wait to be fetched, each by a ticket that cannot be guessed. */
#ifndef SW_DESK_PAPERS_MADE_H
#define SW_DESK_PAPERS_MADE_H

#include "base/base.h"

#define SW_TICKET_DIGITS 32

typedef struct sw_papers_made sw_papers_made;

typedef struct sw_paper_made {
    char ticket[SW_TICKET_DIGITS + 1];
    const char *type; /* "text/html" */
    char *bytes;      /* malloc'd */
    size_t length;
    double until; /* seconds on the desk's clock */
} sw_paper_made;

sw_papers_made *sw_papers_made_new(void);
void sw_papers_made_free(sw_papers_made *papers);
/* Takes `bytes` over in any case; the ticket, or NULL when memory or randomness is out. The oldest
 * goes where there are many. */
const char *sw_paper_keep(sw_papers_made *papers, const char *type, char *bytes, size_t length,
                          double now);
/* NULL: there is none of that ticket, or no longer. */
const sw_paper_made *sw_paper_made_find(sw_papers_made *papers, const char *ticket, double now);

/* So many hexadecimal digits, a multiple of 2 up to 32, from the system's source of randomness. */
bool sw_random_digits(char *out, size_t digits);

#endif
