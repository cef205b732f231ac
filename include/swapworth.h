/*
 * swapworth: which swaps in a desktop computer are worth their money, for one
 * client, under a budget and the rules of what goes with what.
 *
 *     sw_complaints *complaints = sw_complaints_new();
 *     sw_scenario *scenario = NULL;
 *     if (sw_scenario_read(&scenario, "job.json", NULL, complaints) == SW_OK) {
 *         sw_answer *answer = NULL;
 *         sw_plan_options options = sw_plan_options_default();
 *         if (sw_plan(&answer, scenario, &options, complaints) == SW_OK)
 *             ... sw_render_plan_text(&text, answer, 80) ...
 *         sw_answer_free(answer);
 *     }
 *     sw_scenario_free(scenario);
 *     sw_complaints_free(complaints);
 *
 * Conventions. Functions that can fail return an sw_status and write through a
 * leading `out`, only on SW_OK; what comes through `out` is yours to free with
 * the type's own free function, which accepts NULL. Money is int64 in minor
 * units of the scenario's ISO 4217 currency; points are int64 thousandths of a
 * point. Nothing is global; one scenario may be used from one thread at a time.
 */
#ifndef SWAPWORTH_H
#define SWAPWORTH_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

#define SW_VERSION "0.1.0"

/* How a call ended. "Nothing fits" and "stopped early" are answers, not
 * failures: see sw_answer_status. */
typedef enum sw_status {
    SW_OK = 0,
    SW_BAD_DATA,     /* the data is wrong; the complaints say where */
    SW_CANNOT_READ,  /* a file could not be opened or read */
    SW_CANNOT_WRITE, /* a file could not be written */
    SW_NO_MEMORY,
    SW_INTERNAL /* a promise of the program's own was broken; a complaint says which */
} sw_status;

/* ---- complaints: what is wrong with the data ------------------------------- */

typedef struct sw_complaints sw_complaints;

typedef struct sw_complaint {
    const char *file;  /* as the caller named it */
    const char *place; /* "line 7" or "$.machine.memory[0]"; "" for the whole file */
    const char *what;
    const char *why;
    const char *mend;
} sw_complaint;

sw_complaints *sw_complaints_new(void); /* NULL when memory is out */
void sw_complaints_free(sw_complaints *complaints);
size_t sw_complaints_count(const sw_complaints *complaints); /* all, kept or not */
/* NULL beyond the kept ones (the first 200); the texts live as long as the
 * complaints do. */
const sw_complaint *sw_complaints_get(const sw_complaints *complaints, size_t index);

/* ---- one client's job -------------------------------------------------------- */

typedef struct sw_scenario sw_scenario;

/* Reads and checks the scenario at `path` ("-" is standard input) with the
 * catalog it names, or with the one in the folder `catalog` when that is not
 * NULL. All complaints of all files are gathered before it gives up. */
sw_status sw_scenario_read(sw_scenario **out, const char *path, const char *catalog,
                           sw_complaints *complaints);
void sw_scenario_free(sw_scenario *scenario);

/* Reads and checks a catalog folder alone. */
sw_status sw_catalog_check(const char *folder, sw_complaints *complaints);

/* Replaces the scenario's total budget by `text` ("650.00"). */
sw_status sw_scenario_set_budget(sw_scenario *scenario, const char *text,
                                 sw_complaints *complaints);

/* Reads an amount in the scenario's currency, for the option named in complaints. */
sw_status sw_scenario_money(int64_t *out, const sw_scenario *scenario, const char *option,
                            const char *text, sw_complaints *complaints);

/* ---- the best bundle ----------------------------------------------------------- */

typedef struct sw_plan_options {
    double seconds;               /* time allowed for solving; default 60 */
    double (*now)(void);          /* seconds on any steady clock, so that `seconds` bounds the
                                     whole call; NULL: it bounds every single run of the solver */
    bool allow_unknown;           /* let parts with unknown facts in, with a caution */
    int best;                     /* plan: ranked bundles asked for, 1 (default) to SW_BEST_MOST */
    int apart;                    /* plan: roles in which each differs from those before; 0: any */
    int64_t curve_from, curve_to; /* curve: costs in minor units; `curve_to` -1: no end */
} sw_plan_options;

#define SW_BEST_MOST 64

sw_plan_options sw_plan_options_default(void);

typedef enum sw_answer_status {
    SW_OPTIMAL,      /* proved: no bundle is better under the order of ties */
    SW_NOTHING_FITS, /* no bundle obeys the rules, musts, wishes and budget */
    SW_STOPPED_EARLY /* out of time: best so far and a bound on the rest */
} sw_answer_status;

typedef struct sw_answer sw_answer;

sw_status sw_plan(sw_answer **out, const sw_scenario *scenario, const sw_plan_options *options,
                  sw_complaints *complaints);
void sw_answer_free(sw_answer *answer);
sw_answer_status sw_answer_get_status(const sw_answer *answer);
/* False when the time ran out on something told beside the bundles. */
bool sw_answer_is_settled(const sw_answer *answer);

/* The answer as JSON or as text no wider than `width` columns (0: 80), with the
 * headings in bold on a terminal that can. The text is malloc'd: free() it. */
typedef struct sw_text_style {
    int width;
    bool bold;
} sw_text_style;
sw_status sw_render_plan_json(char **out, const sw_answer *answer);
sw_status sw_render_plan_text(char **out, const sw_answer *answer, sw_text_style style);

/* Best points against money: every step of the staircase between two costs. The
 * answer is rendered by these and no others. */
sw_status sw_curve(sw_answer **out, const sw_scenario *scenario, const sw_plan_options *options,
                   sw_complaints *complaints);
sw_status sw_render_curve_json(char **out, const sw_answer *answer);
sw_status sw_render_curve_csv(char **out, const sw_answer *answer);
sw_status sw_render_curve_text(char **out, const sw_answer *answer, sw_text_style style);

/* ---- what goes with what ------------------------------------------------------- */

typedef enum sw_fits_verdict { SW_FITS, SW_FITS_UNKNOWN, SW_FITS_REFUSED } sw_fits_verdict;

typedef struct sw_fits sw_fits;

/* May these parts go with what stays? Parts by id, each as often as pieces of it; none:
 * what the rules say of the present machine. Of the options only the time and
 * `allow_unknown` count. Complaints about the parts name the file "PART". */
sw_status sw_ask_fits(sw_fits **out, const sw_scenario *scenario, const char *const *parts,
                      size_t count, const sw_plan_options *options, sw_complaints *complaints);
void sw_fits_free(sw_fits *fits);
sw_fits_verdict sw_fits_get_verdict(const sw_fits *fits);
bool sw_fits_is_settled(const sw_fits *fits); /* false when the time ran out */
sw_status sw_render_fits_json(char **out, const sw_fits *fits);
sw_status sw_render_fits_text(char **out, const sw_fits *fits, sw_text_style style);

/* Why is the part in the best bundle, or is not? By its id; `over`: the id of another part
 * that it is compared with, or NULL. */
typedef struct sw_why sw_why;
sw_status sw_ask_why(sw_why **out, const sw_scenario *scenario, const char *part, const char *over,
                     const sw_plan_options *options, sw_complaints *complaints);
void sw_why_free(sw_why *why);
sw_answer_status sw_why_get_status(const sw_why *why);
bool sw_why_is_settled(const sw_why *why);
sw_status sw_render_why_json(char **out, const sw_why *why);
sw_status sw_render_why_text(char **out, const sw_why *why, sw_text_style style);

/* The integer program in CPLEX LP or free MPS form: minimise minus the points
 * (the constant is dropped and stated in a comment). malloc'd: free() it. */
typedef enum sw_export_form { SW_EXPORT_LP, SW_EXPORT_MPS } sw_export_form;
sw_status sw_export(char **out, const sw_scenario *scenario, const sw_plan_options *options,
                    sw_export_form form, sw_complaints *complaints);

#ifdef __cplusplus
}
#endif

#endif
