/* Which way new fans blow, by the sides on which they find a place. */
#ifndef SW_ANSWER_STANDS_H
#define SW_ANSWER_STANDS_H

#include "estimate/measures.h"
#include "rules/rules.h"

/* Which way a fan on this site blows that does not say so itself. */
sw_blows sw_blows_at(const sw_catalog *catalog, const sw_site *site);
/* The measures of a machine whose new fans stand where there is a place for them. */
sw_status sw_measure_machine(sw_measuring *out, sw_arena *arena, const sw_estimates *estimates,
                             const sw_rulebook *book, const int *machine);

#endif
