/*
 * What goes with what, judged on a whole machine (one fit-out per role).
 * This is the plain reading of catalog/FORMATS.md section 5: it re-judges
 * every answer of the solvers and shares nothing with the rows they solve.
 */
#ifndef SW_RULES_H
#define SW_RULES_H

#include "fitouts/fitouts.h"

typedef enum sw_verdict {
    SW_MOOT, /* does not apply, or nothing to compare */
    SW_HOLDS,
    SW_BROKEN,
    SW_UNJUDGED /* a fact is unknown */
} sw_verdict;

typedef struct sw_judgement {
    sw_verdict verdict;
    int64_t need, room;             /* within and supply: millionths; place: things asked for,
                                       things that found a site */
    int64_t excess;                 /* need - room */
    int unknown_role, unknown_fact; /* the first unknown value, else SW_NONE */
    const sw_value *left, *right;   /* sets that were compared; NULL when none */
} sw_judgement;

/* The rules of a catalog for one scenario: an `unlock` is spelled out as one
 * clash per need, so no rule here has that shape; and what the present machine
 * does with each, the measure of "no worse than now". */
typedef struct sw_rulebook {
    sw_arena *arena;
    const sw_fitouts *fitouts;
    sw_rule *rules;
    size_t count;
    sw_judgement *now; /* [rule] on the present machine */
    bool **touches; /* [rule][fitout] the fit-out touches the rule: catalog/FORMATS.md section 5 */
    int *spare;     /* [rule] things of a place rule that have no site today */
    bool allow_unknown;
} sw_rulebook;

/* Where things are placed, SW_BAD_DATA without a complaint means that the sites
 * take each other away in more ways than can be tried: sw_complain_of_sites. */
void sw_complain_of_sites(const sw_scenario *scenario, sw_complaints *complaints);

sw_status sw_rulebook_make(sw_rulebook **out, const sw_fitouts *fitouts, bool allow_unknown);
void sw_rulebook_free(sw_rulebook *book);
/* The rule forbids nothing from now on; what falls short today stays as measured. */
void sw_rulebook_set_aside(sw_rulebook *book, const char *id);

/* `machine` is a fit-out index per role. A place rule is judged by itself. */
sw_status sw_rule_judge(sw_judgement *out, const sw_rulebook *book, size_t rule,
                        const int *machine);

/* May the machine stand, as far as this rule and judgement go? Counts unknown
 * facts and shortfalls of today. True for cautions and for known place rules. */
bool sw_rule_allows(const sw_rulebook *book, size_t rule, const sw_judgement *judgement,
                    const int *machine);

/* Things left without a site, at least, by the hard place rules together, beyond
 * the `spare` [rule] that each may leave; and how many things ask for one. */
sw_status sw_unplaced(int64_t *out, int64_t *asked, const sw_rulebook *book, const int *spare,
                      const int *machine);

/* Things of a kind standing on a site. */
typedef struct sw_stand {
    int rule; /* of the rulebook */
    const sw_thing *thing;
    int role; /* the thing's */
    const sw_site *site;
    int site_role;
    int count;
} sw_stand;

typedef struct sw_placement {
    int64_t asked; /* things of the hard place rules */
    int64_t left;  /* without a site, beyond the spare ones */
    int64_t spare; /* things that may be left */
    sw_stand *stands;
    size_t stand_count;
} sw_placement;

/* Where the things of the hard place rules stand: off the sites with a caution where
 * that can be. The stands live in `arena`. */
sw_status sw_place_things(sw_placement *out, sw_arena *arena, const sw_rulebook *book,
                          const int *machine);

/* The first hard rule that forbids the machine, or SW_NONE in `rule`. Place
 * rules forbid together: the first of them stands for all. */
sw_status sw_machine_judge(int *rule, const sw_rulebook *book, const int *machine);

/* Which hard rules forbid the machine (place rules together: the first of them),
 * and the shortfall of within and supply, 0 of others. Both: [rule]. */
sw_status sw_machine_forbid(bool *forbid, int64_t *excess, const sw_rulebook *book,
                            const int *machine);

/* ---- pieces of a judgement that the lowering to rows needs too --------------- */

/* Is `role` one that the rule's own fields name? */
bool sw_rule_reads(const sw_fitouts *fitouts, const sw_rule *rule, int role);
/* Do the rule's own fields read this fact on this role? */
bool sw_rule_reads_fact(const sw_fitouts *fitouts, const sw_rule *rule, int role, int fact);
/* Does some fit-out of the machine touch the rule? */
bool sw_rule_touched(const sw_rulebook *book, size_t rule, const int *machine);
/* A fit-out's amount for a term times a factor, in millionths; void is 0.
 * False when unknown. */
bool sw_term_amount(const sw_fitouts *fitouts, const sw_fitout *fitout, const sw_term *term,
                    int64_t factor_milli, int64_t *out);
/* A load that no choice changes, in millionths: a fixed one, or one of the machine today. */
int64_t sw_load_fixed(const sw_fitouts *fitouts, const sw_load *load);
/* Do two known sets agree under `same` / `among`? */
bool sw_tokens_same(const sw_value *left, const sw_value *right);
bool sw_tokens_among(const sw_value *left, bool left_is_list, const sw_value *right);
/* May this thing go on this site? (kind, size, depth, side) */
bool sw_thing_fits(const sw_thing *thing, const sw_site *site);

#endif
