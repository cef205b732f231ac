/* Every number of the machine as a formula with its inputs; with a part put into its role
 * beside it. */
#include "answer/explain.h"

#include <math.h>
#include <string.h>

#include "answer/look.h"
#include "answer/stands.h"

typedef struct teller {
    sw_explain *explain;
    sw_arena *arena;
    const sw_setup *setup;
    sw_measuring now, with;
    bool both; /* `with` is told too */
    int only;  /* only lines that read this role; SW_NONE: all */
    size_t room;
} teller;

static const sw_catalog *catalog_of(const teller *t) { return t->setup->fitouts->catalog; }

/* NULL: there was no memory for the text, or there is none for the copy. */
static const char *copy(const teller *t, const char *text) {
    return text == NULL ? NULL : sw_arena_copy(t->arena, text);
}

static sw_explain_line *next_line(teller *t, sw_line_of of, const char *id, const char *name) {
    sw_explain_line *line = &t->explain->lines[t->explain->line_count++];
    *line = (sw_explain_line){.of = of,
                              .id = copy(t, id),
                              .name = copy(t, name),
                              .formula = "",
                              .unit = "",
                              .source = "",
                              .digits = 3};
    return line;
}

static void exactly(sw_explain_value *out, double value) {
    out->state = SW_KNOWN;
    out->low = out->value = out->high = value;
}

static sw_status add_input(const teller *t, sw_explain_value *out, const char *name,
                           const char *value) {
    if (name == NULL || value == NULL)
        return SW_NO_MEMORY;
    (void)t;
    out->inputs[out->input_count++] = (sw_explain_input){name, value};
    return SW_OK;
}

/* ---- stages ------------------------------------------------------------------------------ */

static sw_status tell_stages(teller *t, size_t use) {
    const sw_scenario *scenario = t->setup->fitouts->scenario;
    const sw_use *of = &scenario->catalog->uses[scenario->uses[use].use];
    double *now = SW_NEW(t->arena, double, of->stage_count);
    double *with = SW_NEW(t->arena, double, of->stage_count);
    if (now == NULL || with == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_stage_rates(now, t->arena, t->setup->estimates, (int)use, t->now.machine);
    if (status == SW_OK && t->both)
        status = sw_stage_rates(with, t->arena, t->setup->estimates, (int)use, t->with.machine);
    for (size_t s = 0; s < of->stage_count && status == SW_OK; s++) {
        const sw_expr *rate = of->stages[s].rate;
        if (t->only != SW_NONE && !sw_formula_reads(catalog_of(t), rate, t->only))
            continue;
        sw_explain_line *line = next_line(
            t, SW_LINE_STAGE, sw_arena_format(t->arena, "%s.%s", of->id, of->stages[s].id),
            sw_arena_format(t->arena, "%s: %s", of->name, of->stages[s].name));
        line->formula = sw_formula_text(t->arena, catalog_of(t), rate);
        line->unit = copy(t, of->unit);
        line->digits = 1;
        exactly(&line->now, now[s]);
        status = sw_formula_inputs(&line->now, t->arena, &t->now, rate);
        if (status == SW_OK && t->both) {
            exactly(&line->with, with[s]);
            status = sw_formula_inputs(&line->with, t->arena, &t->with, rate);
        }
        if (line->id == NULL || line->name == NULL || line->formula == NULL || line->unit == NULL)
            return SW_NO_MEMORY;
    }
    return status;
}

/* ---- sound --------------------------------------------------------------------------------- */

static sw_status level_input(const teller *t, sw_explain_value *out, const sw_fitout *fitout,
                             int fact, const char *name) {
    int64_t milli = 0;
    if (fact == SW_NONE)
        return SW_OK;
    const sw_value *value = sw_fitout_value(t->setup->fitouts, fitout, fact);
    if (value->power == 0 || !sw_round_to(&milli, 10 * log10((double)value->power / 10), 2))
        return SW_OK;
    const char *level = sw_milli_text(t->arena, milli, 2);
    return add_input(t, out, name,
                     level == NULL ? NULL : sw_arena_format(t->arena, "%s dB", level));
}

static sw_status number_input(const teller *t, sw_explain_value *out, const sw_measuring *m,
                              const sw_term *term) {
    const sw_fitouts *fitouts = t->setup->fitouts;
    if (term->fact == SW_NONE)
        return SW_OK;
    const sw_fact *fact = &fitouts->catalog->facts[term->fact];
    const sw_value *value =
        sw_fitout_value(fitouts, &fitouts->fitouts[m->machine[term->role]], term->fact);
    return add_input(
        t, out,
        sw_arena_format(t->arena, "%s.%s", fitouts->catalog->roles[term->role].id, fact->name),
        sw_value_text(t->arena, fact, value));
}

static sw_status source_value(const teller *t, sw_explain_value *out, const sw_measuring *m,
                              int role) {
    const sw_estimates *estimates = t->setup->estimates;
    const sw_criterion *quiet = &catalog_of(t)->criteria[estimates->quiet];
    const sw_fitout *fitout = &t->setup->fitouts->fitouts[m->machine[role]];
    double power = (double)sw_noise_of(estimates, role, m->machine);
    out->inputs = SW_NEW(t->arena, sw_explain_input, 10);
    if (out->inputs == NULL)
        return SW_NO_MEMORY;
    out->state = power > 0 ? SW_KNOWN : SW_VOID;
    out->low = out->value = out->high = power > 0 ? 10 * log10(power / 10) : 0;
    sw_status status = level_input(t, out, fitout, quiet->noise_fact, "level as stated");
    if (status == SW_OK)
        status = level_input(t, out, fitout, quiet->declared_fact, "sound power as declared");
    if (status == SW_OK)
        status = level_input(t, out, fitout, quiet->steady_fact, "steady level");
    const sw_term tone = {role, quiet->tone_fact};
    if (status == SW_OK && quiet->tone_fact != SW_NONE &&
        catalog_of(t)->facts[quiet->tone_fact].on_role[role])
        status = number_input(t, out, m, &tone);
    for (size_t i = 0; i < quiet->runs_count && status == SW_OK; i++) {
        const sw_runs *runs = &quiet->runs[i];
        if (runs->role != role)
            continue;
        status =
            add_input(t, out, "busy share", sw_number_text(t->arena, estimates->busy[runs->busy]));
        const sw_term *terms[] = {&runs->by, &runs->full, &runs->least};
        for (size_t k = 0; k < 3 && status == SW_OK; k++)
            status = number_input(t, out, m, terms[k]);
        if (status == SW_OK)
            status = add_input(t, out, "speed n",
                               sw_number_text(t->arena, sw_speed_of(estimates, role, m->machine)));
    }
    return status;
}

static sw_status tell_source(teller *t, int role) {
    const sw_role *of = &catalog_of(t)->roles[role];
    const sw_criterion *quiet = &catalog_of(t)->criteria[t->setup->estimates->quiet];
    bool runs = false;
    for (size_t i = 0; i < quiet->runs_count; i++)
        runs = runs || quiet->runs[i].role == role;
    if (sw_noise_of(t->setup->estimates, role, t->now.machine) == 0 &&
        (!t->both || sw_noise_of(t->setup->estimates, role, t->with.machine) == 0))
        return SW_OK;
    sw_explain_line *line = next_line(t, SW_LINE_SOUND, of->id, of->name);
    line->formula =
        runs ? "10 lg of 10^(L/10) x n^5 x 10^(tone/10), and steady sounds added as powers; n = "
               "(busy x heat / full)^1.25, at most 1, at least its least"
             : "10 lg of 10^(L/10) x 10^(tone/10), and steady sounds added as powers";
    line->unit = "dB(A)";
    line->source = "levels add as powers, any acoustics handbook; 50 lg of the speed, fan laws, "
                   "ASHRAE, AMCA 201, from memory";
    line->digits = 1;
    sw_status status = source_value(t, &line->now, &t->now, role);
    if (status == SW_OK && t->both)
        status = source_value(t, &line->with, &t->with, role);
    return line->id == NULL || line->name == NULL ? SW_NO_MEMORY : status;
}

static sw_status seat_value(const teller *t, sw_explain_value *out, const sw_measuring *m,
                            bool sones) {
    const sw_estimates *estimates = t->setup->estimates;
    sw_sound sound = sw_sound_of(estimates, m->machine);
    exactly(out, sones ? sound.loudness_sone : sound.level_dba);
    out->inputs = SW_NEW(t->arena, sw_explain_input, 4);
    if (out->inputs == NULL)
        return SW_NO_MEMORY;
    if (sones)
        return add_input(t, out, "level at the seat", sw_number_text(t->arena, sound.level_dba));
    sw_status status = add_input(t, out, "all sources, up to the next half dB",
                                 sw_number_text(t->arena, sound.level / 2.0));
    if (status == SW_OK)
        status = add_input(
            t, out, "loss of the case",
            sw_number_text(t->arena, (double)estimates->loss_milli[sound.loss_class] / 1000));
    if (status == SW_OK)
        status = add_input(t, out, "distance and calibration",
                           sw_number_text(t->arena, estimates->shift_db));
    if (status == SW_OK)
        status = add_input(
            t, out, "room",
            sw_number_text(t->arena, (double)t->setup->fitouts->scenario->room_milli / 1000));
    return status;
}

static sw_status tell_seat(teller *t, bool sones) {
    sw_explain_line *line = next_line(t, SW_LINE_SOUND, sones ? "loudness" : "seat",
                                      sones ? "loudness at the seat" : "level at the seat");
    line->formula = sones ? "2^((L-40)/10) from 40 up, (L/40)^2.642 below"
                          : "10 lg(10^((sources - loss + distance and calibration)/10) + "
                            "10^(room/10))";
    line->unit = sones ? "sone" : "dB(A)";
    line->source = sones ? "ISO 532-1, dB(A) standing in for phon" : "any acoustics handbook";
    line->digits = sones ? 2 : 1;
    sw_status status = seat_value(t, &line->now, &t->now, sones);
    if (status == SW_OK && t->both)
        status = seat_value(t, &line->with, &t->with, sones);
    return line->id == NULL || line->name == NULL ? SW_NO_MEMORY : status;
}

static sw_status tell_sound(teller *t) {
    if (t->setup->estimates->quiet == SW_NONE)
        return SW_OK;
    sw_status status = SW_OK;
    for (size_t r = 0; r < catalog_of(t)->role_count && status == SW_OK; r++)
        if (t->only == SW_NONE || t->only == (int)r)
            status = tell_source(t, (int)r);
    if (status == SW_OK)
        status = tell_seat(t, false);
    return status == SW_OK ? tell_seat(t, true) : status;
}

/* ---- looks and rated ------------------------------------------------------------------------- */

static sw_status facts_of_looks(const teller *t, sw_explain_value *out, const sw_measuring *m,
                                int criterion, int role) {
    const sw_fitouts *fitouts = t->setup->fitouts;
    const sw_criterion *looks = &catalog_of(t)->criteria[criterion];
    exactly(out, sw_looks_match(t->setup->estimates, criterion, m->machine[role]));
    out->inputs = SW_NEW(t->arena, sw_explain_input, looks->aspect_count);
    sw_status status = out->inputs == NULL ? SW_NO_MEMORY : SW_OK;
    for (size_t a = 0; a < looks->aspect_count && status == SW_OK; a++) {
        const sw_fact *fact = &catalog_of(t)->facts[looks->aspects[a].fact];
        const sw_value *value =
            sw_fitout_value(fitouts, &fitouts->fitouts[m->machine[role]], looks->aspects[a].fact);
        if (value->state == SW_KNOWN)
            status = add_input(
                t, out,
                sw_arena_format(
                    t->arena, "%s (weight %s)", fact->name,
                    sw_number_text(t->arena, (double)looks->aspects[a].weight_milli / 1000)),
                sw_value_text(t->arena, fact, value));
    }
    return status;
}

static sw_status tell_looks(teller *t, int criterion) {
    const sw_criterion *looks = &catalog_of(t)->criteria[criterion];
    for (size_t s = 0; s < looks->shows_count; s++) {
        int role = looks->shows[s].role;
        if (t->only != SW_NONE && t->only != role)
            continue;
        sw_explain_line *line = next_line(
            t, SW_LINE_LOOKS, catalog_of(t)->roles[role].id,
            sw_arena_format(t->arena, "looks of the %s", catalog_of(t)->roles[role].name));
        line->formula = "sum of weight x agreement with the client's taste, over the weights of "
                        "the aspects that count";
        line->source = "weighted mean; weights by common practice, no source";
        line->digits = 2;
        sw_status status = facts_of_looks(t, &line->now, &t->now, criterion, role);
        if (status == SW_OK && t->both)
            status = facts_of_looks(t, &line->with, &t->with, criterion, role);
        if (status != SW_OK || line->id == NULL || line->name == NULL)
            return SW_NO_MEMORY;
    }
    return SW_OK;
}

static sw_status tell_rated(teller *t, int criterion) {
    const sw_criterion *rated = &catalog_of(t)->criteria[criterion];
    for (size_t i = 0; i < rated->fact_count; i++)
        for (size_t r = 0; r < catalog_of(t)->role_count; r++) {
            const sw_term *term = &rated->facts[i];
            bool here = (term->role == (int)r || term->role == SW_EVERY_ROLE) &&
                        catalog_of(t)->facts[term->fact].on_role[r];
            if (!here || (t->only != SW_NONE && t->only != (int)r))
                continue;
            const sw_expr expr = {.op = SW_EXPR_FACT, .role = (int)r, .fact = term->fact};
            sw_explain_line *line = next_line(t, SW_LINE_RATED, rated->id, rated->name);
            const char *formula = sw_formula_text(t->arena, catalog_of(t), &expr);
            const char *scale = sw_number_text(t->arena, (double)rated->scale_milli / 1000);
            if (formula == NULL || scale == NULL)
                return SW_NO_MEMORY;
            line->formula = sw_arena_format(t->arena, "%s of %s", formula, scale);
            line->digits = 1;
            const sw_measuring *ms[] = {&t->now, &t->with};
            sw_explain_value *values[] = {&line->now, &line->with};
            for (int k = 0; k < (t->both ? 2 : 1); k++) {
                sw_interval value = sw_measured(ms[k], &expr);
                values[k]->state = value.state;
                values[k]->low = values[k]->value = values[k]->high = value.mid;
            }
            if (line->id == NULL || line->name == NULL || line->formula == NULL)
                return SW_NO_MEMORY;
        }
    return SW_OK;
}

/* ---- measures -----------------------------------------------------------------------------------
 */

static sw_status measure_value(const teller *t, sw_explain_value *out, const sw_measuring *m,
                               size_t index) {
    const sw_interval *value = &m->values[index];
    out->state = value->state;
    out->low = value->low;
    out->value = value->mid;
    out->high = value->high;
    return sw_formula_inputs(out, t->arena, m, catalog_of(t)->measures[index].is);
}

static sw_status tell_measures(teller *t) {
    const sw_catalog *catalog = catalog_of(t);
    for (size_t i = 0; i < catalog->measure_count; i++) {
        const sw_measure *measure = &catalog->measures[i];
        if (t->only != SW_NONE && !sw_formula_reads(catalog, measure->is, t->only))
            continue;
        sw_explain_line *line = next_line(t, SW_LINE_MEASURE, measure->id, measure->name);
        line->formula = sw_formula_text(t->arena, catalog, measure->is);
        line->unit = copy(t, measure->unit);
        line->source = copy(t, measure->source);
        line->digits = measure->digits;
        sw_status status = measure_value(t, &line->now, &t->now, i);
        if (status == SW_OK && t->both)
            status = measure_value(t, &line->with, &t->with, i);
        if (status != SW_OK || line->id == NULL || line->name == NULL || line->formula == NULL ||
            line->unit == NULL || line->source == NULL)
            return SW_NO_MEMORY;
    }
    return SW_OK;
}

/* ---- the whole ------------------------------------------------------------------------------- */

static size_t lines_most(const teller *t) {
    const sw_catalog *catalog = catalog_of(t);
    size_t count = catalog->role_count + 2 + catalog->measure_count;
    for (size_t u = 0; u < catalog->use_count; u++)
        count += catalog->uses[u].stage_count;
    for (size_t c = 0; c < catalog->criterion_count; c++)
        count += catalog->criteria[c].shows_count +
                 catalog->criteria[c].fact_count * catalog->role_count;
    return count;
}

static sw_status tell_lines(teller *t) {
    const sw_scenario *scenario = t->setup->fitouts->scenario;
    sw_status status = SW_OK;
    t->explain->lines = SW_NEW(t->arena, sw_explain_line, lines_most(t));
    if (t->explain->lines == NULL)
        return SW_NO_MEMORY;
    for (size_t u = 0; u < scenario->use_count && status == SW_OK; u++)
        status = tell_stages(t, u);
    if (status == SW_OK)
        status = tell_sound(t);
    for (size_t c = 0; c < scenario->catalog->criterion_count && status == SW_OK; c++) {
        if (scenario->catalog->criteria[c].kind == SW_LOOKS)
            status = tell_looks(t, (int)c);
        else if (scenario->catalog->criteria[c].kind == SW_RATED)
            status = tell_rated(t, (int)c);
    }
    return status == SW_OK ? tell_measures(t) : status;
}

static sw_status tell_points(teller *t) {
    size_t criteria = catalog_of(t)->criterion_count;
    t->explain->points_now = SW_NEW(t->arena, int64_t, criteria);
    t->explain->points_with = SW_NEW(t->arena, int64_t, criteria);
    if (t->explain->points_now == NULL || t->explain->points_with == NULL)
        return SW_NO_MEMORY;
    sw_points(t->setup->estimates, t->now.machine, t->explain->points_now);
    if (!t->both)
        return SW_OK;
    sw_points(t->setup->estimates, t->with.machine, t->explain->points_with);
    t->explain->points_formula = SW_NEW(t->arena, const char *, criteria);
    if (t->explain->points_formula == NULL)
        return SW_NO_MEMORY;
    for (size_t c = 0; c < criteria; c++) {
        t->explain->points_formula[c] = sw_points_formula(t->arena, t->setup->estimates, (int)c,
                                                          t->now.machine, t->with.machine);
        if (t->explain->points_formula[c] == NULL)
            return SW_NO_MEMORY;
    }
    return SW_OK;
}

static bool holds_today(const sw_scenario *scenario, int part) {
    int role = scenario->parts[part].role;
    for (size_t i = 0; i < scenario->machine_count[role]; i++)
        if (strcmp(scenario->parts[scenario->machine[role][i].part].id, scenario->parts[part].id) ==
            0)
            return true;
    return false;
}

/* The present machine with the part in its role, and the first rule that forbids it. */
static sw_status put_in(teller *t, int *machine, const sw_asked *asked) {
    const sw_fitouts *fitouts = t->setup->fitouts;
    int role = fitouts->scenario->parts[asked->part].role, best = SW_NONE;
    memcpy(machine, fitouts->present, fitouts->catalog->role_count * sizeof *machine);
    for (int f = fitouts->first_fitout[role]; f < fitouts->first_fitout[role + 1]; f++) {
        const sw_fitout *fitout = &fitouts->fitouts[f];
        if (fitout->added_count != 1 || fitout->added[0].part != asked->part ||
            fitout->added[0].count != asked->count || fitout->task_count > 0)
            continue;
        int broken = SW_NONE;
        machine[role] = f;
        sw_status status = sw_machine_judge(&broken, t->setup->book, machine);
        if (status != SW_OK)
            return status;
        bool more = best == SW_NONE || fitout->pieces > fitouts->fitouts[best].pieces;
        if (more && (broken == SW_NONE || best == SW_NONE || t->explain->obstacle != NULL)) {
            best = f;
            t->explain->obstacle =
                broken == SW_NONE ? NULL : copy(t, t->setup->book->rules[broken].name);
        } else if (broken == SW_NONE && t->explain->obstacle != NULL) {
            best = f;
            t->explain->obstacle = NULL;
        }
    }
    machine[role] = best == SW_NONE ? fitouts->present[role] : best;
    return SW_OK;
}

/* The job with the part to be had for nothing. */
static sw_status make_job(sw_scenario *job, sw_arena *arena, const sw_scenario *scenario,
                          const sw_asked *asked) {
    *job = *scenario;
    job->given = SW_NEW(arena, sw_given, scenario->given_count + 1);
    if (job->given == NULL)
        return SW_NO_MEMORY;
    size_t at = 0;
    job->given_count = 0;
    for (size_t i = 0; i < scenario->given_count; i++)
        if (scenario->given[i].part != asked->part)
            job->given[job->given_count++] = scenario->given[i];
    while (at < job->given_count &&
           strcmp(scenario->parts[job->given[at].part].id, scenario->parts[asked->part].id) < 0)
        at++;
    for (size_t i = job->given_count++; i > at; i--)
        job->given[i] = job->given[i - 1];
    job->given[at] = (sw_given){.part = asked->part, .count = asked->count};
    return SW_OK;
}

static sw_status tell(sw_explain *explain, const sw_setup *setup, const sw_asked *asked) {
    teller t = {.explain = explain, .arena = explain->arena, .setup = setup, .only = SW_NONE};
    const sw_scenario *scenario = setup->fitouts->scenario;
    if (asked != NULL)
        t.only = scenario->parts[asked->part].role;
    t.both = asked != NULL && !explain->present;
    int *machine = SW_NEW(t.arena, int, scenario->catalog->role_count);
    if (machine == NULL)
        return SW_NO_MEMORY;
    sw_status status =
        sw_measuring_make(&t.now, t.arena, setup->estimates, setup->fitouts->present, NULL, 0);
    if (status == SW_OK && asked != NULL && t.both)
        status = put_in(&t, machine, asked);
    if (status == SW_OK && t.both)
        status = sw_measure_machine(&t.with, t.arena, setup->estimates, setup->book, machine);
    if (status == SW_OK)
        status = tell_lines(&t);
    return status == SW_OK ? tell_points(&t) : status;
}

static sw_status start(sw_explain **out, const sw_scenario *scenario, const sw_asked *asked) {
    sw_answer *answer = NULL;
    sw_status status = sw_answer_start(&answer, scenario);
    if (status != SW_OK)
        return status;
    sw_explain *explain = SW_NEW(answer->arena, sw_explain, 1);
    if (explain == NULL) {
        sw_answer_free(answer);
        return SW_NO_MEMORY;
    }
    explain->arena = answer->arena;
    explain->answer = answer;
    *out = explain;
    if (asked == NULL)
        return SW_OK;
    const sw_part *part = &scenario->parts[asked->part];
    explain->part = sw_arena_copy(answer->arena, part->id);
    explain->name = sw_arena_copy(answer->arena, part->name);
    explain->role_name = sw_arena_copy(answer->arena, scenario->catalog->roles[part->role].name);
    explain->present = holds_today(scenario, asked->part);
    return explain->part == NULL || explain->name == NULL || explain->role_name == NULL
               ? SW_NO_MEMORY
               : SW_OK;
}

sw_status sw_find_explain(sw_explain **out, const sw_scenario *scenario, int part,
                          bool allow_unknown, sw_complaints *complaints) {
    sw_explain *explain = NULL;
    sw_setup setup = {0};
    sw_scenario job = *scenario;
    sw_asked asked = {part, 1};
    size_t before = sw_complaints_count(complaints);
    if (part != SW_NONE)
        asked.count = scenario->catalog->roles[scenario->parts[part].role].counts[0];
    sw_status status = start(&explain, scenario, part == SW_NONE ? NULL : &asked);
    if (status == SW_OK && part != SW_NONE && !explain->present)
        status = make_job(&job, explain->arena, scenario, &asked);
    if (status == SW_OK)
        status = sw_setup_make(&setup, &job, allow_unknown, NULL, complaints);
    if (status == SW_OK)
        status = sw_setup_score(&setup, NULL);
    if (status == SW_OK)
        status = tell(explain, &setup, part == SW_NONE ? NULL : &asked);
    sw_setup_free(&setup);
    if (status == SW_BAD_DATA && sw_complaints_count(complaints) == before)
        sw_complain_of_sites(scenario, complaints);
    if (status == SW_OK)
        *out = explain;
    else
        sw_explain_free(explain);
    return status;
}

void sw_explain_free(sw_explain *explain) {
    if (explain != NULL)
        sw_answer_free(explain->answer);
}
