/* Sets the trial up, and tells what every rule says of its machine. */
#include "answer/fits.h"

#include <stdlib.h>
#include <string.h>

#include "answer/stage.h"

int sw_part_named(const sw_scenario *scenario, const char *id, sw_complaints *complaints) {
    for (size_t p = 0; p < scenario->part_count; p++)
        if (strcmp(scenario->parts[p].id, id) == 0)
            return (int)p;
    const char **ids = calloc(scenario->part_count + 1, sizeof *ids);
    for (size_t p = 0; ids != NULL && p < scenario->part_count; p++)
        ids[p] = scenario->parts[p].id;
    const char *near = ids == NULL ? NULL : sw_nearest(id, ids, scenario->part_count);
    sw_text mend = {0};
    if (near != NULL)
        sw_text_addf(&mend, "did you mean \"%s\"?", near);
    sw_complain(complaints, SW_ASKED, "", "parts are named by their ids",
                mend.bytes != NULL ? mend.bytes : "look the id up in the catalog's parts",
                "no part of the catalog or of the scenario has the id \"%s\"", id);
    sw_text_free(&mend);
    free(ids);
    return SW_NONE;
}

/* ---- the question ---------------------------------------------------------------- */

static bool allowed_count(const sw_role *role, int count) {
    for (size_t i = 0; i < role->count_count; i++)
        if (role->counts[i] == count)
            return true;
    return false;
}

/* "1, 2 or 4" */
static const char *counts_of(sw_arena *arena, const sw_role *role) {
    const char *text = "";
    for (size_t i = 0; i < role->count_count && text != NULL; i++)
        text = sw_arena_format(arena, "%s%s%d", text,
                               i == 0                       ? ""
                               : i + 1 == role->count_count ? " or "
                                                            : ", ",
                               role->counts[i]);
    return text != NULL ? text : "some";
}

/* What a role can take of new parts is its own affair: roles.json. */
static sw_status check_asked(sw_arena *arena, const sw_scenario *scenario, const sw_asked *asked,
                             size_t count, sw_complaints *complaints) {
    size_t before = sw_complaints_count(complaints);
    for (size_t i = 0; i < count; i++) {
        const sw_role *role = &scenario->catalog->roles[scenario->parts[asked[i].part].role];
        const char *id = scenario->parts[asked[i].part].id;
        int kinds = 0, pieces = 0;
        for (size_t k = 0; k < count; k++)
            if (scenario->parts[asked[k].part].role == scenario->parts[asked[i].part].role) {
                kinds++;
                pieces += asked[k].count;
            }
        if (!allowed_count(role, asked[i].count))
            sw_complain(
                complaints, SW_ASKED, id, "roles.json says how many of one part may be added",
                "ask about as many as it takes",
                "%d piece%s of it; the role %s takes %s new of one kind at once", asked[i].count,
                asked[i].count == 1 ? "" : "s", role->name, counts_of(arena, role));
        else if (kinds > role->new_kinds || pieces > role->most)
            sw_complain(
                complaints, SW_ASKED, id, "roles.json says how many new kinds and pieces it takes",
                "ask about fewer parts at once",
                "%d kind%s and %d piece%s for the %s, which takes %d new kind%s and %d piece%s",
                kinds, kinds == 1 ? "" : "s", pieces, pieces == 1 ? "" : "s", role->name,
                role->new_kinds, role->new_kinds == 1 ? "" : "s", role->most,
                role->most == 1 ? "" : "s");
    }
    return sw_complaints_count(complaints) > before ? SW_BAD_DATA : SW_OK;
}

/* ---- the job in which nothing counts but what goes with what ------------------------ */

typedef struct trial_job {
    sw_scenario scenario;
    sw_catalog catalog;
} trial_job;

static sw_status make_job(trial_job *job, sw_arena *arena, const sw_scenario *scenario,
                          const sw_asked *asked, size_t count) {
    const sw_catalog *catalog = scenario->catalog;
    job->scenario = *scenario;
    job->catalog = *catalog;
    sw_scenario *s = &job->scenario;
    sw_catalog *c = &job->catalog;
    sw_task *tasks = SW_NEW(arena, sw_task, c->task_count);
    s->keep_role = SW_NEW(arena, bool, c->role_count);
    s->replace_role = SW_NEW(arena, bool, c->role_count);
    s->keep_part = SW_NEW(arena, bool, s->part_count);
    s->replace_part = SW_NEW(arena, bool, s->part_count);
    s->avoid_part = SW_NEW(arena, bool, s->part_count);
    s->given = SW_NEW(arena, sw_given, count);
    if (tasks == NULL || s->keep_role == NULL || s->replace_role == NULL || s->keep_part == NULL ||
        s->replace_part == NULL || s->avoid_part == NULL || s->given == NULL)
        return SW_NO_MEMORY;
    for (size_t t = 0; t < c->task_count; t++) {
        tasks[t] = catalog->tasks[t];
        tasks[t].price = 0;
        tasks[t].minutes = 0;
    }
    for (size_t i = 0; i < count; i++)
        s->given[i] = (sw_given){.part = asked[i].part, .count = asked[i].count};
    c->tasks = tasks;
    c->listing_count = c->charge_count = c->criterion_count = 0;
    s->catalog = c;
    s->given_count = count;
    s->must_count = s->use_count = s->taste_count = 0;
    s->days_limit = -1;
    s->minutes_limit = s->loudness_limit_milli = -1;
    s->labour_per_hour = 0;
    return SW_OK;
}

/* ---- what the rules say ----------------------------------------------------------------- */

typedef struct teller {
    sw_fits *fits;
    const sw_setup *setup;
    const int *machine;
} teller;

static const sw_scenario *scenario_of(const teller *t) { return t->setup->fitouts->scenario; }
static const sw_role *role_of(const teller *t, int role) {
    return &t->setup->fitouts->catalog->roles[role];
}

static const char *copy(const teller *t, const char *text, sw_status *status) {
    const char *own = text == NULL ? NULL : sw_arena_copy(t->fits->arena, text);
    if (text != NULL && own == NULL)
        *status = SW_NO_MEMORY;
    return own;
}

/* A place rule by itself may leave as many things as its spare ones. */
static sw_fits_says says(const sw_rulebook *book, size_t rule, const sw_judgement *judgement,
                         const int *machine) {
    bool hard = book->rules[rule].hard;
    bool allowed = sw_rule_allows(book, rule, judgement, machine);
    if (book->rules[rule].shape == SW_PLACE && judgement->verdict == SW_BROKEN)
        allowed = judgement->excess <= book->spare[rule];
    switch (judgement->verdict) {
    case SW_MOOT:
        return SW_SAYS_MOOT;
    case SW_HOLDS:
        return SW_SAYS_HOLDS;
    case SW_BROKEN:
        return !hard ? SW_SAYS_MIND : allowed ? SW_SAYS_TODAY : SW_SAYS_REFUSED;
    default:
        return hard && !sw_rule_touched(book, rule, machine) ? SW_SAYS_TODAY : SW_SAYS_UNKNOWN;
    }
}

/* The present parts that the rule reads and that stay: "the Board and the Case". */
static const char *kept_by_rule(const teller *t, size_t rule) {
    const sw_fitouts *fitouts = t->setup->fitouts;
    const char *text = NULL;
    for (size_t r = 0; r < fitouts->catalog->role_count; r++) {
        const sw_fitout *fitout = &fitouts->fitouts[t->machine[r]];
        if (!sw_rule_reads(fitouts, &t->setup->book->rules[rule], (int)r))
            continue;
        for (size_t i = 0; i < scenario_of(t)->machine_count[r]; i++)
            if (fitout->kept[i] > 0) {
                const char *name = scenario_of(t)->parts[scenario_of(t)->machine[r][i].part].name;
                text = text == NULL ? sw_arena_copy(t->fits->arena, name)
                                    : sw_arena_format(t->fits->arena, "%s, %s", text, name);
            }
    }
    return text;
}

static sw_status tell_unknown(const teller *t, const sw_judgement *judgement, sw_fits_rule *out) {
    const sw_catalog *catalog = t->setup->fitouts->catalog;
    sw_status status = SW_OK;
    if (judgement->unknown_role >= 0) {
        out->unknown_role = copy(t, role_of(t, judgement->unknown_role)->id, &status);
        out->unknown_role_name = copy(t, role_of(t, judgement->unknown_role)->name, &status);
    }
    if (judgement->unknown_fact >= 0) {
        out->unknown_fact = copy(t, catalog->facts[judgement->unknown_fact].name, &status);
        out->unknown_meaning = copy(t, catalog->facts[judgement->unknown_fact].meaning, &status);
    }
    return status;
}

/* The shape in rules.json: the rulebook spells an unlock as clashes. */
static sw_shape written_shape(const teller *t, const char *id) {
    const sw_catalog *catalog = t->setup->fitouts->catalog;
    for (size_t r = 0; r < catalog->rule_count; r++)
        if (strcmp(catalog->rules[r].id, id) == 0)
            return catalog->rules[r].shape;
    return SW_CLASH;
}

static sw_status tell_rule(const teller *t, size_t index, sw_fits_rule *out) {
    const sw_rulebook *book = t->setup->book;
    const sw_rule *rule = &book->rules[index];
    sw_judgement judgement;
    sw_status status = sw_rule_judge(&judgement, book, index, t->machine);
    if (status != SW_OK)
        return status;
    int64_t unit = rule->shape == SW_PLACE ? 1000000 : 1;
    *out = (sw_fits_rule){.shape = written_shape(t, rule->id),
                          .hard = rule->hard,
                          .says = says(book, index, &judgement, t->machine),
                          .need = judgement.need * unit,
                          .room = judgement.room * unit};
    out->rule = copy(t, rule->id, &status);
    out->name = copy(t, rule->name, &status);
    out->unit = copy(t, rule->unit, &status);
    if (judgement.left != NULL) {
        out->left = sw_tokens_text(t->fits->arena, judgement.left);
        out->right = sw_tokens_text(t->fits->arena, judgement.right);
        if (out->left == NULL || out->right == NULL)
            return SW_NO_MEMORY;
    }
    if (judgement.verdict == SW_BROKEN) {
        out->client = sw_sentence(t->fits->arena, rule->client, rule, &judgement);
        out->bench = sw_sentence(t->fits->arena, rule->bench, rule, &judgement);
        out->kept = kept_by_rule(t, index);
        if (out->client == NULL || out->bench == NULL)
            return SW_NO_MEMORY;
    }
    if (status == SW_OK && judgement.verdict == SW_UNJUDGED)
        status = tell_unknown(t, &judgement, out);
    return status;
}

static sw_status tell_rules(const teller *t) {
    sw_fits *fits = t->fits;
    const sw_rulebook *book = t->setup->book;
    fits->rules = SW_NEW(fits->arena, sw_fits_rule, book->count);
    if (fits->rules == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < book->count; i++) {
        sw_status status = tell_rule(t, i, &fits->rules[fits->rule_count++]);
        if (status != SW_OK)
            return status;
        const sw_fits_rule *rule = &fits->rules[i];
        if (rule->says == SW_SAYS_REFUSED)
            fits->verdict = SW_FITS_REFUSED;
        if (rule->says == SW_SAYS_UNKNOWN && rule->hard && !book->allow_unknown &&
            fits->verdict == SW_FITS)
            fits->verdict = SW_FITS_UNKNOWN;
    }
    return SW_OK;
}

/* ---- the machine and its places ----------------------------------------------------------- */

static sw_status tell_piece(const teller *t, int role, int part, int count, bool kept,
                            sw_fits_piece *out) {
    sw_status status = SW_OK;
    *out = (sw_fits_piece){.count = count, .kept = kept};
    out->role = copy(t, role_of(t, role)->id, &status);
    out->role_name = copy(t, role_of(t, role)->name, &status);
    out->part = copy(t, scenario_of(t)->parts[part].id, &status);
    out->name = copy(t, scenario_of(t)->parts[part].name, &status);
    return status;
}

static sw_status tell_role(const teller *t, int role) {
    sw_fits *fits = t->fits;
    const sw_fitout *fitout = &t->setup->fitouts->fitouts[t->machine[role]];
    sw_status status = SW_OK;
    for (size_t i = 0; i < scenario_of(t)->machine_count[role] && status == SW_OK; i++) {
        const sw_present *present = &scenario_of(t)->machine[role][i];
        if (fitout->kept[i] > 0)
            status = tell_piece(t, role, present->part, fitout->kept[i], true,
                                &fits->pieces[fits->piece_count++]);
        if (fitout->kept[i] < present->count && status == SW_OK)
            status = tell_piece(t, role, present->part, present->count - fitout->kept[i], false,
                                &fits->out[fits->out_count++]);
    }
    for (int i = 0; i < fitout->added_count && status == SW_OK; i++)
        status = tell_piece(t, role, fitout->added[i].part, fitout->added[i].count, false,
                            &fits->pieces[fits->piece_count++]);
    for (int i = 0; i < fitout->task_count && status == SW_OK; i++) {
        const sw_task *task = &t->setup->fitouts->catalog->tasks[fitout->tasks[i]];
        sw_fits_task *out = &fits->tasks[fits->task_count++];
        out->id = copy(t, task->id, &status);
        out->name = copy(t, task->name, &status);
        out->role = copy(t, role_of(t, role)->id, &status);
        out->role_name = copy(t, role_of(t, role)->name, &status);
    }
    return status;
}

static sw_status tell_machine(const teller *t) {
    sw_fits *fits = t->fits;
    const sw_fitouts *fitouts = t->setup->fitouts;
    size_t pieces = 0, out = 0, tasks = 0;
    for (size_t r = 0; r < fitouts->catalog->role_count; r++) {
        pieces += scenario_of(t)->machine_count[r] + SW_KINDS_MOST;
        out += scenario_of(t)->machine_count[r];
        tasks += (size_t)fitouts->fitouts[t->machine[r]].task_count;
    }
    fits->pieces = SW_NEW(fits->arena, sw_fits_piece, pieces);
    fits->out = SW_NEW(fits->arena, sw_fits_piece, out);
    fits->tasks = SW_NEW(fits->arena, sw_fits_task, tasks);
    if (fits->pieces == NULL || fits->out == NULL || fits->tasks == NULL)
        return SW_NO_MEMORY;
    sw_status status = SW_OK;
    for (size_t r = 0; r < fitouts->catalog->role_count && status == SW_OK; r++)
        status = tell_role(t, (int)r);
    return status;
}

static sw_status tell_stand(const teller *t, const sw_stand *stand, sw_fits_stand *out) {
    sw_status status = SW_OK;
    const sw_part *parts = scenario_of(t)->parts;
    out->kind = copy(t, stand->thing->kind, &status);
    out->size = copy(t, stand->thing->size, &status);
    out->count = stand->count;
    out->part = copy(t, parts[stand->thing->part].id, &status);
    out->name = copy(t, parts[stand->thing->part].name, &status);
    out->role = copy(t, role_of(t, stand->role)->id, &status);
    out->on_part = copy(t, parts[stand->site->part].id, &status);
    out->on_name = copy(t, parts[stand->site->part].name, &status);
    out->on_role = copy(t, role_of(t, stand->site_role)->id, &status);
    out->site = copy(t, stand->site->site, &status);
    out->caution = copy(t, stand->site->caution, &status);
    return status;
}

static sw_status tell_places(const teller *t) {
    sw_fits *fits = t->fits;
    sw_placement placement;
    sw_status status = sw_place_things(&placement, fits->arena, t->setup->book, t->machine);
    if (status != SW_OK)
        return status;
    fits->places_asked = placement.asked;
    fits->places_left = placement.left;
    fits->places_spare = placement.spare;
    if (placement.left > 0)
        fits->verdict = SW_FITS_REFUSED;
    fits->stands = SW_NEW(fits->arena, sw_fits_stand, placement.stand_count);
    if (fits->stands == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < placement.stand_count && status == SW_OK; i++)
        status = tell_stand(t, &placement.stands[i], &fits->stands[fits->stand_count++]);
    return status;
}

/* ---- the whole ---------------------------------------------------------------------------------
 */

static sw_status tell(sw_fits *fits, sw_setup *setup, const sw_asked *asked, size_t count,
                      sw_allowance allowance, sw_complaints *complaints) {
    int *machine = SW_NEW(fits->arena, int, setup->fitouts->catalog->role_count);
    if (machine == NULL)
        return SW_NO_MEMORY;
    sw_status status =
        sw_trial_machine(machine, &fits->unsettled, setup, asked, count, allowance, complaints);
    teller t = {fits, setup, machine};
    if (status == SW_OK)
        status = tell_machine(&t);
    if (status == SW_OK)
        status = tell_rules(&t);
    if (status == SW_OK)
        status = tell_places(&t);
    return status;
}

sw_status sw_find_fits(sw_fits **out, const sw_scenario *scenario, const sw_asked *asked,
                       size_t asked_count, bool allow_unknown, sw_allowance allowance,
                       sw_complaints *complaints) {
    sw_arena *arena = sw_arena_new();
    sw_fits *fits = arena == NULL ? NULL : SW_NEW(arena, sw_fits, 1);
    if (fits == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    trial_job job;
    sw_setup setup = {0};
    size_t before = sw_complaints_count(complaints);
    fits->arena = arena;
    fits->asked = asked_count > 0;
    fits->title = sw_arena_copy(arena, scenario->title);
    sw_status status = fits->title == NULL
                           ? SW_NO_MEMORY
                           : check_asked(arena, scenario, asked, asked_count, complaints);
    if (status == SW_OK)
        status = make_job(&job, arena, scenario, asked, asked_count);
    if (status == SW_OK)
        status = sw_setup_make(&setup, &job.scenario, allow_unknown, NULL, complaints);
    if (status == SW_OK)
        status = tell(fits, &setup, asked, asked_count, allowance, complaints);
    sw_setup_free(&setup);
    if (status == SW_BAD_DATA && sw_complaints_count(complaints) == before)
        sw_complain_of_sites(scenario, complaints);
    if (status == SW_OK)
        *out = fits;
    else
        sw_fits_free(fits);
    return status;
}

sw_fits_verdict sw_fits_get_verdict(const sw_fits *fits) { return fits->verdict; }

bool sw_fits_is_settled(const sw_fits *fits) { return !fits->unsettled; }

void sw_fits_free(sw_fits *fits) {
    if (fits != NULL)
        sw_arena_free(fits->arena);
}
