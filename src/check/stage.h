/* What the files of this folder share: one reader for each kind of thing. */
#ifndef SW_CHECK_STAGE_H
#define SW_CHECK_STAGE_H

#include "check/bench.h"
#include "check/fields.h"
#include "check/scenario.h"
#include "read/like.h"

/* ---- terms, expressions, conditions ---------------------------------------------- */

/* The fact types that may stand at a place, as bits. */
#define SW_TYPE_BIT(type) (1u << (type))
#define SW_ANY_TYPE (~0u)

/* A text "role.fact" ("*.fact" only where `any_role`) whose fact has one of
 * `types`. */
bool sw_check_term(sw_check *check, const sw_node *at, unsigned types, bool any_role, sw_term *out);
bool sw_get_term(sw_check *check, const sw_node *object, const char *name, unsigned types,
                 sw_term *out);
/* A list of at least `least` terms; "*" is allowed. */
bool sw_get_terms(sw_check *check, const sw_node *object, const char *name, sw_need need,
                  size_t least, unsigned types, const sw_term **out, size_t *count);
/* The member names a fact of one of `types`. */
bool sw_get_fact(sw_check *check, const sw_node *object, const char *name, unsigned types,
                 int *out);
/* That the fact may stand on the role. */
bool sw_check_stands(sw_check *check, const sw_node *at, int role, int fact);

/* A list of numbers, each above the one before it where `rising`. */
bool sw_check_numbers(sw_check *check, const sw_node *list, bool rising, const double **out);

/* The rate of a stage, or (`role` not SW_NONE) a derived fact of that role that
 * may use facts below index `before`. */
bool sw_check_expression(sw_check *check, const sw_node *at, int role, int before, sw_expr *out);

/* `own_role` not SW_NONE: only observations and facts of that role. */
bool sw_get_condition(sw_check *check, const sw_node *object, const char *name, int own_role,
                      sw_cond *out);
bool sw_check_condition(sw_check *check, const sw_node *at, sw_cond *out);
bool sw_get_conditions(sw_check *check, const sw_node *object, const char *name, sw_need need,
                       size_t least, int own_role, const sw_cond **out, size_t *count);

/* ---- sentences ---------------------------------------------------------------------- */

/* Complains of a slot that cannot be filled in. */
typedef void sw_slot_check(sw_check *check, const sw_node *at, const char *slot, const void *of);
/* A sentence with slots in braces, each held against `good`. */
void sw_get_sentence(sw_check *check, const sw_node *at, const char *name, sw_slot_check *good,
                     const void *of, const char **out);

/* ---- values ------------------------------------------------------------------------ */

/* One value of the fact, as a part would state it. */
bool sw_check_value(sw_check *check, const sw_node *at, const sw_fact *fact, sw_value *out);
bool sw_check_sites(sw_check *check, const sw_node *list, sw_value *out);
bool sw_check_things(sw_check *check, const sw_node *list, sw_value *out);
/* That the fact lists the token, when it lists any. */
bool sw_check_listed(sw_check *check, const sw_node *at, const sw_fact *fact, const char *token);
/* A list of distinct tokens of a token or list fact. */
bool sw_check_fact_tokens(sw_check *check, const sw_node *list, const sw_fact *fact,
                          const char *const **out, size_t *count);

/* The values of a part on `role` that states nothing. */
sw_value *sw_silent_values(sw_check *check, int role);
/* Writes what the object `facts` states over `values`. */
void sw_check_stated(sw_check *check, const sw_node *facts, int role, sw_value *values);

/* ---- the files of a catalog --------------------------------------------------------- */

void sw_read_roles(sw_check *check);
void sw_read_facts(sw_check *check);
void sw_read_sellers(sw_check *check);
void sw_read_observations(sw_check *check);
void sw_read_tasks(sw_check *check);
void sw_read_parts(sw_check *check);
void sw_read_rules(sw_check *check);
void sw_read_charges(sw_check *check);
void sw_read_criteria(sw_check *check);
void sw_read_uses(sw_check *check);
void sw_read_listings(sw_check *check);
void sw_read_measures(sw_check *check);
void sw_read_findings(sw_check *check);
void sw_read_troubles(sw_check *check);
void sw_read_hazards(sw_check *check);
void sw_read_paper(sw_check *check);
void sw_read_drawing(sw_check *check, const sw_node *paper);
void sw_read_bench(sw_check *check);
void sw_read_interview(sw_check *check);
void sw_read_profiles(sw_check *check);
void sw_read_patterns(sw_check *check);
void sw_read_part_numbers(sw_check *check, const sw_node *at, int index, sw_part *part);
/* The member "like" of a profile or pattern. */
bool sw_get_like(sw_check *check, const sw_node *object, sw_like *out);
void sw_read_steps(sw_check *check, const sw_node *root, const sw_names *stages,
                   sw_bench_form *bench);
void sw_read_proofs(sw_check *check, const sw_node *root, sw_bench_form *bench);
void sw_read_intake(sw_check *check);
/* A list of roles; a sentence with {measure-id}, {role} and {role.fact}. */
void sw_get_work_roles(sw_check *check, const sw_node *at, const char *name, const int **out,
                       size_t *count);
void sw_get_work_words(sw_check *check, const sw_node *at, const char *name, sw_need need,
                       const char **out);

/* Is there such a file in the catalog's folder? */
bool sw_has_file(sw_check *check, const char *name);

/* Opens `name` in the catalog's folder and gives the list that it holds under
 * `list`, of `least` to `most` entries. */
bool sw_open_list(sw_check *check, const char *name, const char *list, size_t least, size_t most,
                  sw_node *root, sw_node *out);
const char *sw_catalog_path(sw_check *check, const char *name);

sw_catalog *sw_catalog_new(void); /* NULL when memory is out */
/* Fills `check->catalog` with what is good; the check's flags say the rest. */
void sw_catalog_fill(sw_check *check, const char *folder);

/* Puts structs whose first member is their id in byte order of it, and registers
 * the ids anew. */
void sw_order_by_id(sw_check *check, sw_names *names, void *things, size_t count, size_t size);
/* Reads the id of a new entry and registers it; else the list is not whole. Gives
 * "" then. */
const char *sw_get_new_id(sw_check *check, const sw_node *at, sw_names *names, int index);
/* The same of the id that stands under `member`. */
const char *sw_get_new_name(sw_check *check, const sw_node *at, const char *member, sw_names *names,
                            int index);

/* ---- the parts of a scenario ---------------------------------------------------------- */

typedef struct sw_job {
    sw_check *check;
    sw_scenario *scenario;
    const sw_node *root;
    sw_names present; /* present part ids, to indexes of scenario parts */
    sw_names own;     /* ids of parts that the catalog does not have */
    int64_t day;      /* the scenario's date */
    bool has_day;
} sw_job;

void sw_read_machine(sw_job *job);
void sw_read_given(sw_job *job);
void sw_read_musts(sw_job *job);
void sw_read_wishes(sw_job *job);
/* After the weights: which of them may be right. */
void sw_read_doubt(sw_job *job, const sw_node *wishes);
void sw_read_money(sw_job *job);
/* The members "labour" and "tax" of a scenario, or of what drafts begin with. */
bool sw_get_labour(sw_check *check, const sw_node *object, int64_t *per_hour);
bool sw_get_tax(sw_check *check, const sw_node *object, sw_tax *tax);
/* Quotes that `object` lists; `before`: those that count already. */
void sw_read_quotes(sw_job *job, const sw_node *object, sw_quotes before, sw_quotes *out);
void sw_read_phases(sw_job *job);
/* After the wishes: a complaint may be about one of the client's uses. */
void sw_read_stated_troubles(sw_job *job);
void sw_read_surprise(sw_job *job);
/* `root` with one change more, in the check's scratch: FORMATS.md section 18. Complains at the
 * file of the check. A bare word has its `due`, null until a check says what is due. */
bool sw_change_json(const sw_json **root, sw_check *check, const char *path, const char *value);
/* Nothing is kept, replaced or avoided. */
void sw_no_keeping(sw_job *job);
/* keep, replace and avoid; and that they go together with the musts. */
void sw_read_keeping(sw_job *job, const sw_node *wishes);

/* A part that the scenario brings itself, with what `at` states. NULL after a
 * complaint. */
sw_part *sw_read_own_part(sw_job *job, const sw_node *at, const char *id, int role);
/* Puts a part behind the scenario's others; SW_NONE when there is no room. */
int sw_add_part(sw_job *job, const sw_part *part);
/* How many parts of its own a scenario may have. */
size_t sw_own_part_limit(const sw_catalog *catalog);

/* Days from 0001-01-01 to a date of the form 2026-03-02; false when it is none. */
bool sw_date_parse(int64_t *out, const char *text);
/* The member, which is a date; false after a complaint or when it is not there. */
bool sw_get_date(sw_check *check, const sw_node *object, const char *name, sw_need need,
                 const char **text, int64_t *day);

/* ---- what was measured ------------------------------------------------------------------ */

/* Reads the "check" of an entry and its "use", where it has one. `known` are those of the entries
 * before it in the list: none may be about both again. */
void sw_get_check_and_use(sw_check *check, const sw_node *at, sw_names *known, const char **id,
                          const char **use);

#endif
