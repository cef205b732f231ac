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

/* The version, here alone: file names, packages and pages take it from these two lines. */
#define SW_VERSION "0.1.0"
#define SW_VERSION_DATE "2026-11-29"

/* The version of the library that runs, which may be another than the header's: "0.1.0". */
const char *sw_version(void);

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
/* The same of a draft, in which wishes and budget may be missing still: enough to look at the
 * machine. */
sw_status sw_scenario_read_draft(sw_scenario **out, const char *path, const char *catalog,
                                 sw_complaints *complaints);
void sw_scenario_free(sw_scenario *scenario);

/* Reads and checks a catalog folder alone. */
sw_status sw_catalog_check(const char *folder, sw_complaints *complaints);

/* Reads and checks one file by what it holds: a scenario, what was measured (FORMATS.md section
 * 27; its tasks and uses only where `catalog` is not NULL), what the shop has learnt (section
 * 28). */
sw_status sw_file_check(const char *path, const char *catalog, sw_complaints *complaints);

/* Replaces the scenario's total budget by `text` ("650.00"). */
sw_status sw_scenario_set_budget(sw_scenario *scenario, const char *text,
                                 sw_complaints *complaints);

/* One change of a scenario: FORMATS.md section 18. `value` is one value, not many. */
typedef struct sw_change {
    const char *path, *value;
} sw_change;

/* A scenario like `base` but for the changes, read and checked anew against the same catalog;
 * `base` must outlive it. Complaints name the file "--set". A budget set by sw_scenario_set_budget
 * is not carried over. */
sw_status sw_scenario_change(sw_scenario **out, const sw_scenario *base, const sw_change *changes,
                             size_t count, sw_complaints *complaints);

/* Reads an amount in the scenario's currency, for the option named in complaints. */
sw_status sw_scenario_money(int64_t *out, const sw_scenario *scenario, const char *option,
                            const char *text, sw_complaints *complaints);

/* ---- the machine from its dumps: FORMATS.md section 29 -------------------------------- */

typedef struct sw_survey sw_survey;

typedef struct sw_survey_job {
    const char *const *paths; /* files and folders */
    size_t path_count;
    const char *catalog; /* a folder */
    const char *named;   /* the same as the draft is to name it */
    const char *date;    /* of the draft: "2026-03-02" */
} sw_survey_job;

/* What of the dumps could not be used is told in the survey and is no failure while something
 * could. */
sw_status sw_read_survey(sw_survey **out, const sw_survey_job *job, sw_complaints *complaints);
void sw_survey_free(sw_survey *survey);
/* The draft of a scenario, and the private details for the job card; they live with the survey. */
const char *sw_survey_draft(const sw_survey *survey);
const char *sw_survey_card(const sw_survey *survey);
/* One role of a scenario's machine said anew; the files are only read. Wishes and budget may be
 * missing. */
typedef struct sw_piece sw_piece;

typedef struct sw_piece_job {
    const char *scenario, *catalog; /* `catalog` NULL: the one that it names */
    const char *bytes;              /* that stand for the scenario's file; NULL: the file itself */
    size_t length;
    const char *role;
    const char *const *parts; /* ids, numbers or names; "none" alone: the role is empty */
    size_t part_count;
    bool own;                    /* a name that the catalog does not have is a piece of its own */
    const char *const *settings; /* "FACT=VALUE" */
    size_t setting_count;
} sw_piece_job;

sw_status sw_put_piece(sw_piece **out, const sw_piece_job *job, sw_complaints *complaints);
void sw_piece_free(sw_piece *piece);
/* The new scenario as text; lives with the piece. */
const char *sw_piece_scenario(const sw_piece *piece);

sw_status sw_render_survey_json(char **out, const sw_survey *survey);

/* ---- the best bundle ----------------------------------------------------------- */

/* How far the solving is: told from time to time to whoever waits. */
typedef struct sw_progress {
    const char *doing; /* "searching", "proving"; plain English, constant */
    int64_t steps;     /* of the curve, found so far; 0 where one bundle is asked for */
    int64_t proved;    /* of these, proved */
    int64_t gap;       /* no bundle has more points than those found and these; -1: not known */
    double share;      /* of the work, 0 to 1; below 0: not known */
} sw_progress;

typedef struct sw_plan_options {
    double seconds;               /* time allowed for solving; default 60 */
    double (*now)(void);          /* seconds on any steady clock, so that `seconds` bounds the
                                     whole call; NULL: it bounds every single run of the solver */
    bool allow_unknown;           /* let parts with unknown facts in, with a caution */
    bool brief;                   /* plan: the bundles alone, not what their parts are worth, nor
                                     what other sums would bring */
    int best;                     /* plan: ranked bundles asked for, 1 (default) to SW_BEST_MOST */
    int apart;                    /* plan: roles in which each differs from those before; 0: any */
    int64_t curve_from, curve_to; /* curve: costs in minor units; `curve_to` -1: no end */
    const char *calibration;      /* plan, curve, options, bench, hand-over: a file of what the
                                     shop's own jobs taught; NULL: none */
    const char *not_of_job;       /* a job of that file that does not count: this one; or NULL */
    bool verify;                  /* plan, curve: let GLPK prove every bundle of the answer again */
    /* Called now and then while solving, NULL: not. When `halt` says true, it ends as if
     * the time had run out. */
    void (*tell)(void *context, const sw_progress *progress);
    bool (*halt)(void *context);
    void *context;
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
typedef enum sw_picture {
    SW_PICTURE_NONE,
    SW_PICTURE_PLAIN,  /* ASCII */
    SW_PICTURE_BRAILLE /* UTF-8: braille patterns and lines of boxes */
} sw_picture;
typedef struct sw_text_style {
    int width;
    bool bold;
    sw_picture picture; /* of the curve, at its head */
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
/* The staircase and its envelope as a picture: SVG 1.1, UTF-8, nothing from outside. */
sw_status sw_render_curve_svg(char **out, const sw_answer *answer);

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

/* ---- what if, what first, what later ------------------------------------------- */

/* The best bundle beside those of changed jobs: `settings` are "PATH=VALUE" texts,
 * catalog/FORMATS.md section 18. Complaints about them name the file "--set". */
typedef struct sw_whatif sw_whatif;
sw_status sw_ask_whatif(sw_whatif **out, const sw_scenario *scenario, const char *const *settings,
                        size_t count, const sw_plan_options *options, sw_complaints *complaints);
void sw_whatif_free(sw_whatif *whatif);
/* Of many cases: nothing fits only where nothing fits in any. */
sw_answer_status sw_whatif_get_status(const sw_whatif *whatif);
sw_status sw_render_whatif_json(char **out, const sw_whatif *whatif);
sw_status sw_render_whatif_text(char **out, const sw_whatif *whatif, sw_text_style style);

/* In which order the groups of the best bundle bring most points soonest: section 19. */
typedef struct sw_first sw_first;
sw_status sw_ask_first(sw_first **out, const sw_scenario *scenario, const sw_plan_options *options,
                       sw_complaints *complaints);
void sw_first_free(sw_first *first);
sw_answer_status sw_first_get_status(const sw_first *first);
sw_status sw_render_first_json(char **out, const sw_first *first);
sw_status sw_render_first_text(char **out, const sw_first *first, sw_text_style style);

/* What to buy when, where the money comes in phases: section 20. SW_BAD_DATA where the scenario
 * has none. */
typedef struct sw_phases sw_phases;
sw_status sw_ask_phases(sw_phases **out, const sw_scenario *scenario,
                        const sw_plan_options *options, sw_complaints *complaints);
void sw_phases_free(sw_phases *phases);
sw_answer_status sw_phases_get_status(const sw_phases *phases);
sw_status sw_render_phases_json(char **out, const sw_phases *phases);
sw_status sw_render_phases_text(char **out, const sw_phases *phases, sw_text_style style);

/* Over which budgets, prices and weights the best bundle stays best: section 21. `parts`: ids of
 * parts whose prices are asked beside those of the bundle's own. */
typedef struct sw_ranges sw_ranges;
sw_status sw_ask_ranges(sw_ranges **out, const sw_scenario *scenario, const char *const *parts,
                        size_t count, const sw_plan_options *options, sw_complaints *complaints);
void sw_ranges_free(sw_ranges *ranges);
sw_answer_status sw_ranges_get_status(const sw_ranges *ranges);
bool sw_ranges_is_settled(const sw_ranges *ranges);
sw_status sw_render_ranges_json(char **out, const sw_ranges *ranges);
sw_status sw_render_ranges_text(char **out, const sw_ranges *ranges, sw_text_style style);

/* Which question about weights is worth most to be asked next: sections 33 and 36. */
typedef struct sw_next sw_next;
sw_status sw_ask_next(sw_next **out, const sw_scenario *scenario, const sw_plan_options *options,
                      sw_complaints *complaints);
void sw_next_free(sw_next *next);
sw_answer_status sw_next_get_status(const sw_next *next);
sw_status sw_render_next_json(char **out, const sw_next *next);
sw_status sw_render_next_text(char **out, const sw_next *next, sw_text_style style);
/* Which bundle is best, whichever way up to three criteria are weighed: section 35. */
typedef struct sw_map sw_map;
sw_status sw_ask_map(sw_map **out, const sw_scenario *scenario, const sw_plan_options *options,
                     sw_complaints *complaints);
void sw_map_free(sw_map *map);
sw_answer_status sw_map_get_status(const sw_map *map);
sw_status sw_render_map_json(char **out, const sw_map *map);
sw_status sw_render_map_text(char **out, const sw_map *map, sw_text_style style);
/* The map as a picture: SVG 1.1, UTF-8, nothing from outside. */
sw_status sw_render_map_svg(char **out, const sw_map *map);

/* ---- three options for the client ----------------------------------------------- */

/* The cheapest that ends what the client complains of, the best for the budget, and between them
 * where the curve bends: catalog/FORMATS.md sections 22 to 24. The page is HTML that needs nothing
 * from outside, to be read on a screen or on paper, and signed. */
typedef struct sw_options sw_options;
sw_status sw_ask_options(sw_options **out, const sw_scenario *scenario,
                         const sw_plan_options *options, sw_complaints *complaints);
void sw_options_free(sw_options *options);
sw_answer_status sw_options_get_status(const sw_options *options);
bool sw_options_are_settled(const sw_options *options);
sw_status sw_render_options_json(char **out, const sw_options *options);
sw_status sw_render_options_text(char **out, const sw_options *options, sw_text_style style);
/* `map`: what would be best if the client weighed otherwise; NULL: the page says nothing of it. */
sw_status sw_render_options_page(char **out, const sw_options *options, const sw_map *map);

/* ---- the papers of the job ------------------------------------------------------- */

/* Of each, `option` counts from 1 as sw_ask_options lists them; 0: the only one. Complaints about
 * it name the file "--option". */

/* What to buy where, and what to do when a listing is gone: section 25. */
typedef struct sw_shopping sw_shopping;
typedef struct sw_errands {
    int option;
    const char *const *settings; /* "PATH=VALUE": section 18; complaints name "--set" */
    size_t setting_count;
    const char *const *gone; /* "PART" or "PART@SELLER"; complaints name "--gone" */
    size_t gone_count;
    const char *take; /* "same", "least", "anew"; NULL: as section 25 chooses */
} sw_errands;
sw_status sw_ask_shopping(sw_shopping **out, const sw_scenario *scenario, const sw_errands *errands,
                          const sw_plan_options *options, sw_complaints *complaints);
void sw_shopping_free(sw_shopping *shopping);
sw_answer_status sw_shopping_get_status(const sw_shopping *shopping);
bool sw_shopping_is_settled(const sw_shopping *shopping);
sw_status sw_render_shopping_json(char **out, const sw_shopping *shopping);
sw_status sw_render_shopping_csv(char **out, const sw_shopping *shopping);
sw_status sw_render_shopping_text(char **out, const sw_shopping *shopping, sw_text_style style);
sw_status sw_render_survey_text(char **out, const sw_survey *survey, sw_text_style style);
sw_status sw_render_piece_text(char **out, const sw_piece *piece, sw_text_style style);

/* The work order and what is measured afterwards, with the band foretold of each: section 26. */
typedef struct sw_bench sw_bench;
sw_status sw_ask_bench(sw_bench **out, const sw_scenario *scenario, int option,
                       const sw_plan_options *options, sw_complaints *complaints);
void sw_bench_free(sw_bench *bench);
sw_answer_status sw_bench_get_status(const sw_bench *bench);
bool sw_bench_is_settled(const sw_bench *bench);
sw_status sw_render_bench_json(char **out, const sw_bench *bench);
sw_status sw_render_bench_text(char **out, const sw_bench *bench, sw_text_style style);
sw_status sw_render_bench_page(char **out, const sw_bench *bench);

/* Promised against measured, for the client: section 27. `measured` is a file of that section. */
typedef struct sw_handover sw_handover;
typedef struct sw_handing {
    int option;
    const char *measured;
    const char *record; /* may not be there yet; NULL: none */
} sw_handing;
sw_status sw_ask_handover(sw_handover **out, const sw_scenario *scenario, const sw_handing *handing,
                          const sw_plan_options *options, sw_complaints *complaints);
void sw_handover_free(sw_handover *handover);
sw_answer_status sw_handover_get_status(const sw_handover *handover);
bool sw_handover_is_settled(const sw_handover *handover);
sw_status sw_render_handover_json(char **out, const sw_handover *handover);
sw_status sw_render_handover_text(char **out, const sw_handover *handover, sw_text_style style);
sw_status sw_render_handover_page(char **out, const sw_handover *handover);
/* The file at `record` with this job's pairs in it: yours to write. */
sw_status sw_render_handover_record(char **out, const sw_handover *handover,
                                    sw_complaints *complaints);

/* ---- what is wrong with the machine, and how each number came about ------------ */

/* Findings about the present machine: catalog/FORMATS.md sections 15 and 16. */
typedef struct sw_look sw_look;
sw_status sw_ask_look(sw_look **out, const sw_scenario *scenario, const sw_plan_options *options,
                      sw_complaints *complaints);
void sw_look_free(sw_look *look);
sw_status sw_render_look_json(char **out, const sw_look *look);
sw_status sw_render_look_text(char **out, const sw_look *look, sw_text_style style);

/* Every number of the present machine, formula by formula; with `part` (or NULL), what
 * changes with it: section 17. */
typedef struct sw_explain sw_explain;
sw_status sw_ask_explain(sw_explain **out, const sw_scenario *scenario, const char *part,
                         const sw_plan_options *options, sw_complaints *complaints);
void sw_explain_free(sw_explain *explain);
sw_status sw_render_explain_json(char **out, const sw_explain *explain);
sw_status sw_render_explain_text(char **out, const sw_explain *explain, sw_text_style style);

/* ---- what is right whatever the client prefers: FORMATS.md section 34 ------------------- */

typedef struct sw_sure sw_sure;

typedef struct sw_sure_job {
    int prices_percent, estimates_percent; /* 0 to 50: how far prices, and estimates, may be off */
    bool options;                          /* the three options too */
} sw_sure_job;

sw_status sw_ask_sure(sw_sure **out, const sw_scenario *scenario, const sw_sure_job *job,
                      const sw_plan_options *options, sw_complaints *complaints);
void sw_sure_free(sw_sure *sure);
sw_answer_status sw_sure_get_status(const sw_sure *sure);
bool sw_sure_is_settled(const sw_sure *sure);
sw_status sw_render_sure_json(char **out, const sw_sure *sure);
sw_status sw_render_sure_text(char **out, const sw_sure *sure, sw_text_style style);

/* ---- the interview -----------------------------------------------------------------
 *
 * Question by question from a draft scenario to a whole one: catalog/FORMATS.md section 31. Nothing
 * is printed, read or written but the draft; the answers are texts, as they are typed. */

typedef struct sw_interview sw_interview;
typedef enum sw_interview_state {
    SW_INTERVIEW_ASKS,
    SW_INTERVIEW_AGREED, /* all was answered and agreed to */
    SW_INTERVIEW_QUIT
} sw_interview_state;

/* Of the draft wishes and budget may be missing. `result`: where the scenario is to stand, from
 * where its catalog must be found too; NULL: in the draft's place. */
sw_status sw_interview_begin(sw_interview **out, const char *path, const char *result,
                             const char *catalog, sw_complaints *complaints);
/* The same of bytes that stand for the file at `path`. */
sw_status sw_interview_begin_bytes(sw_interview **out, const char *path, const char *bytes,
                                   size_t length, const char *catalog, sw_complaints *complaints);
void sw_interview_free(sw_interview *interview);
/* What heads the papers, in the place of the draft's title; complaints name "--title". */
sw_status sw_interview_title(sw_interview *interview, const char *title, sw_complaints *complaints);
sw_interview_state sw_interview_get_state(const sw_interview *interview);
/* Before a question is shown: what is told beside it of the machine as it stands, where that can be
 * estimated. */
sw_status sw_interview_estimate(sw_interview *interview);
/* What is asked now, behind what is to be said to the last answer. */
sw_status sw_render_interview_text(char **out, const sw_interview *interview, sw_text_style style);
/* One answer, any bytes; it need not end in NUL. */
sw_status sw_interview_answer(sw_interview *interview, const char *bytes, size_t length);
/* All answers of a file, to the very last question. */
sw_status sw_interview_play(sw_interview *interview, const char *path, sw_complaints *complaints);
/* The answers that count so far, as such a file; free() it. */
sw_status sw_interview_answers(char **out, const sw_interview *interview);
/* The text of the scenario that the answers make of the draft, read and checked; free() it. */
sw_status sw_interview_scenario(char **out, sw_interview *interview, sw_complaints *complaints);
/* ---- a supplier's price list -------------------------------------------------------- */

/* What became of each row of a list, and what it changes: section 30. Nothing is written. */
typedef struct sw_prices sw_prices;
typedef struct sw_price_list {
    const char *path, *catalog; /* a list ("-" is standard input), a folder */
    const char *called;         /* as the list is told of; NULL: by its path */
    const char *profile;        /* complaints about it name the file "--profile" */
    const char *confirm;        /* NULL: none */
    bool confirm_may_miss;      /* a file that is not there yet says nothing */
} sw_price_list;
sw_status sw_prices_read(sw_prices **out, const sw_price_list *list, sw_complaints *complaints);
void sw_prices_free(sw_prices *prices);
/* While any row is refused there are no listings to write. */
size_t sw_prices_refused(const sw_prices *prices);
/* Would it take away more than a third of what this seller lists, or has it no rows? Then a person
 * is to say that the list is whole before listings are written. */
bool sw_prices_shrinks(const sw_prices *prices);
sw_status sw_render_prices_text(char **out, const sw_prices *prices, sw_text_style style);
sw_status sw_render_prices_json(char **out, const sw_prices *prices);
/* The new listings.csv, whole; SW_BAD_DATA while any row is refused. */
sw_status sw_render_prices_listings(char **out, const sw_prices *prices);
/* A parts file of the rows that were confirmed as new. */
sw_status sw_render_prices_parts(char **out, const sw_prices *prices);
/* Rows that wait for a person, counted from 0: the question and what may be answered, whether it
 * was answered (two rows may be alike), how many parts are proposed, whether it may be a pack, the
 * answer (the proposal counted from 1, or 0: none of ours; pieces that its price is of, or 0: not
 * said), and the file of all that was said. */
size_t sw_prices_waiting(const sw_prices *prices);
sw_status sw_render_prices_question(char **out, const sw_prices *prices, size_t index,
                                    sw_text_style style);
bool sw_prices_is_said(const sw_prices *prices, size_t index);
size_t sw_prices_choices(const sw_prices *prices, size_t index);
bool sw_prices_is_pack(const sw_prices *prices, size_t index);
sw_status sw_prices_say(sw_prices *prices, size_t index, int choice, int pieces);
sw_status sw_render_prices_confirmed(char **out, const sw_prices *prices);
/* The profiles of a catalog, a line each. */
sw_status sw_render_profiles(char **out, const char *catalog, sw_complaints *complaints);

/* ---- formulas --------------------------------------------------------------------
 *
 * Pure functions of plain numbers, units in the names; the measures of a catalog call
 * them by name without `sw_`. Outside what a formula is for they return NAN. */

/* Sound. Levels in dB; a pressure level says at what distance, a power level stands for the
 * source alone, and the two are never added (ISO 7779 defines both). */
typedef enum sw_level_kind { SW_SOUND_PRESSURE, SW_SOUND_POWER } sw_level_kind;
typedef struct sw_level {
    sw_level_kind kind;
    double db;
    double distance_m; /* of a pressure level */
} sw_level;
/* 10 lg of the sum of 10^(L/10). SW_BAD_DATA when kinds or distances differ, or for none. */
sw_status sw_levels_add(sw_level *out, const sw_level *levels, size_t count);
/* The pressure level at a distance: of a power level over a half sphere (ISO 3744's
 * geometry), of a pressure level by the distance law. */
sw_level sw_level_at(sw_level level, double distance_m);
/* What is left of a level when the background is taken away; NAN unless it is above it. */
double sw_level_without_db(double level_db, double background_db);
double sw_distance_change_db(double from_m, double to_m);                /* -20 lg(to / from) */
double sw_half_sphere_db(double power_level_db, double distance_m);      /* Lw - 10 lg(2 pi r^2) */
double sw_whole_sphere_db(double power_level_db, double distance_m);     /* Lw - 10 lg(4 pi r^2) */
double sw_declared_level_db(double mean_bel, double adder_bel);          /* ISO 9296 */
double sw_fan_flow_ratio(double speed_ratio, double diameter_ratio);     /* n d^3: fan laws */
double sw_fan_pressure_ratio(double speed_ratio, double diameter_ratio); /* n^2 d^2 */
double sw_fan_power_ratio(double speed_ratio, double diameter_ratio);    /* n^3 d^5 */
double sw_fan_level_change_db(double speed_ratio);                       /* 50 lg n */
double sw_fan_size_change_db(double diameter_ratio, double density_ratio); /* 70 lg d + 20 lg rho */
double sw_sones(double level_phon); /* ISO 532-1: 2^((L-40)/10); (L/40)^2.642 below 40 */
double sw_phons(double sones);      /* its inverse */

/* Heat and air. Air: 1.204 kg/m3, 1006 J/(kg K). */
double sw_air_density_kg_m3(double pressure_pa, double temperature_c); /* p / (287.058 T) */
double sw_air_flow_m3_h(double heat_w, double rise_k);                 /* P / (rho cp dT) */
double sw_air_rise_k(double heat_w, double flow_m3_h);
double sw_cfm_from_m3_h(double flow_m3_h);
double sw_m3_h_from_cfm(double flow_cfm);
double sw_pa_from_mm_water(double mm_water);
double sw_btu_h_from_w(double watts);
double sw_temperature_c(double ambient_c, double heat_w, double resistance_k_w);
double sw_resistance_k_w(double full_k_w, double speed_share); /* R x n^-0.8 */
double sw_speed_share(double full_k_w, double wanted_k_w);     /* the n that gives it, at most 1 */

/* A fan is a source of pressure stall_pa x (1 - (q/free)|q/free|) in the way it blows. */
typedef struct sw_air_fan {
    double free_m3_h, stall_pa;
    bool blows_in;
} sw_air_fan;
typedef struct sw_air {
    double inside_pa;         /* over the room's */
    double in_m3_h, out_m3_h; /* what the fans blowing in and out move */
    double through_m3_h;      /* all that comes in */
} sw_air;
/* The pressure at which all flows add up to 0; `fan_m3_h` [count] or NULL: each fan's flow along
 * the way it blows. SW_BAD_DATA for a fan or an area that is not positive (an area of 0 is none).
 */
sw_status sw_air_through(sw_air *out, double *fan_m3_h, const sw_air_fan *fans, size_t count,
                         double vents_cm2);

/* Power. */
double sw_wall_w(double output_w, double efficiency_percent);
double sw_energy_kwh_a_year(double watts, double hours_a_day);                /* 365 days */
double sw_switching_w(double capacitance_nf, double clock_ghz, double volts); /* C f V^2 */
/* heat x ((1 - leak) f V^2 + leak V^2): switching and leakage. */
double sw_raised_heat_w(double heat_w, double leak_share, double clock_ratio, double volt_ratio);

/* Links and displays. GB, MB: powers of ten. */
double sw_memory_gb_s(double mt_s, double channels);  /* 8 bytes a transfer: JESD79-4, JESD79-5 */
double sw_pcie_gb_s(double generation, double lanes); /* payload after coding; 1 to 6 */
double sw_sata_mb_s(double line_gbit_s);              /* 8b/10b */
double sw_usb_mb_s(double line_gbit_s);               /* 0.48, 5, 10, 20 */
double sw_tmds_gbit_s(double clock_mhz);              /* HDMI: 24 bit a clock */
double sw_frl_gbit_s(double line_gbit_s);             /* HDMI 2.1: 16b/18b */
double sw_displayport_gbit_s(double lane_gbit_s, double lanes); /* 8b/10b; from 10: 128b/132b */
double sw_pixels_per_inch(double width_px, double height_px, double diagonal_in);
double sw_frame_ms(double rate_hz);
double sw_slots_covered(double thickness_mm); /* 20.32 mm each, rounded up */

typedef enum sw_blanking { SW_CVT, SW_CVT_REDUCED, SW_CVT_REDUCED_2 } sw_blanking;
typedef struct sw_timing {
    double clock_mhz;
    int total_width, total_height;
    double refresh_hz; /* that the clock's steps leave */
} sw_timing;
/* VESA CVT 1.1 and 1.2, without margins and interlace. SW_BAD_DATA outside 64 to 32,768 pixels
 * and 10 to 1,000 Hz. */
sw_status sw_mode_timing(sw_timing *out, int width_px, int height_px, double refresh_hz,
                         sw_blanking blanking);
double sw_mode_gbit_s(double clock_mhz, double bits_a_pixel);
/* The same with reduced blanking and 24 bits, in one. */
double sw_picture_gbit_s(double width_px, double height_px, double refresh_hz);

/* Spread of measured values. */
/* The t that Student's distribution with so many degrees of freedom (1 to 10,000,000) stays below
 * with this probability: Abramowitz and Stegun 26.7; tables: NIST/SEMATECH e-Handbook 1.3.6.7.2. */
double sw_student_t(double probability, double degrees);
/* One value more of `count` normal ones lies with probability `share` so near to their mean:
 * t s sqrt(1 + 1/n), s with n - 1 (prediction interval, ISO 16269-8, from memory). */
double sw_next_half_width(double deviation, double count, double share);

/* The integer program in CPLEX LP or free MPS form: minimise minus the points
 * (the constant is dropped and stated in a comment). malloc'd: free() it. */
typedef enum sw_export_form { SW_EXPORT_LP, SW_EXPORT_MPS } sw_export_form;
sw_status sw_export(char **out, const sw_scenario *scenario, const sw_plan_options *options,
                    sw_export_form form, sw_complaints *complaints);

#ifdef __cplusplus
}
#endif

#endif
