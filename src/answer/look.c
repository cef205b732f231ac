/* The machine as it stands: findings, what governs each use, sources of sound, measures. */
#include "answer/look.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "answer/stage.h"

static const char *copy(const sw_look *look, const char *text, bool *failed) {
    const char *out = sw_arena_copy(look->arena, text == NULL ? "" : text);
    *failed = *failed || out == NULL;
    return out == NULL ? "" : out;
}

static const sw_catalog *catalog_of(const sw_look_job *job) { return job->setup->fitouts->catalog; }

sw_truth sw_finding_made(const sw_measuring *measuring, const sw_finding_form *form) {
    sw_truth all = SW_TRUE;
    for (size_t i = 0; i < form->when_count; i++)
        all = sw_truth_and(all, sw_finding_truth(measuring, &form->when[i]));
    return all;
}

/* ---- findings ---------------------------------------------------------------------------- */

/* Points a minute, compared as fractions. */
static bool better(const sw_look_mend *a, const sw_look_mend *b) {
    if (b == NULL || a->offered != b->offered)
        return b == NULL || a->offered;
    int64_t minutes_a = a->minutes > 0 ? a->minutes : 1,
            minutes_b = b->minutes > 0 ? b->minutes : 1;
    int64_t left = a->points * minutes_b, right = b->points * minutes_a;
    return left != right ? left > right : a->cost < b->cost;
}

/* Does the finding speak of what one of the scenario's musts is about? */
static bool is_must(const sw_look_job *job, const sw_finding_form *form) {
    const sw_scenario *scenario = job->setup->fitouts->scenario;
    for (size_t i = 0; i < scenario->must_count; i++) {
        const sw_must *must = &scenario->musts[i];
        for (size_t k = 0; k < form->mend_count && must->task != SW_NONE; k++)
            if (form->mends[k].how == SW_MEND_TASK && form->mends[k].task == must->task)
                return true;
        if (must->part != SW_NONE && form->kind == SW_WORN_OUT &&
            form->about == scenario->parts[must->part].role)
            return true;
    }
    return form->must;
}

static sw_status tell_finding(sw_look_finding *out, const sw_look_job *job,
                              const sw_finding_form *form) {
    const sw_look *look = job->look;
    const sw_role *about = &catalog_of(job)->roles[form->about];
    bool failed = false;
    *out = (sw_look_finding){.id = copy(look, form->id, &failed),
                             .kind = form->kind,
                             .must = is_must(job, form),
                             .about = copy(look, about->id, &failed),
                             .about_name = copy(look, about->name, &failed),
                             .mends = SW_NEW(look->arena, sw_look_mend, form->mend_count)};
    if (form->caution[0] != '\0')
        out->caution = copy(look, form->caution, &failed);
    out->evidence = sw_finding_sentence(look->arena, job->measuring, form->evidence);
    out->means = sw_finding_sentence(look->arena, job->measuring, form->means);
    if (failed || out->mends == NULL || out->evidence == NULL || out->means == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < form->mend_count; i++) {
        sw_status status = sw_find_mend(&out->mends[i], job, form, &form->mends[i]);
        if (status != SW_OK)
            return status;
        out->mend_count++;
        if (better(&out->mends[i], out->own))
            out->own = &out->mends[i];
    }
    if (out->own != NULL && out->own->offered)
        out->mends[out->own - out->mends].first = true;
    else
        out->own = NULL;
    return SW_OK;
}

static sw_status tell_unknown(sw_look_unknown *out, const sw_look_job *job,
                              const sw_finding_form *form) {
    const sw_look *look = job->look;
    const sw_catalog *catalog = catalog_of(job);
    const sw_finding_cond *cond = form->when;
    bool failed = false;
    while (sw_finding_truth(job->measuring, cond) != SW_MAYBE)
        cond++;
    *out = (sw_look_unknown){.finding = copy(look, form->id, &failed),
                             .about = copy(look, catalog->roles[form->about].id, &failed),
                             .about_name = copy(look, catalog->roles[form->about].name, &failed)};
    if (cond->on_measure) {
        const sw_lack *lack = &job->measuring->values[cond->measure].lack;
        out->measure = copy(look, catalog->measures[cond->measure].id, &failed);
        if (lack->role != SW_NONE) {
            out->role = copy(look, catalog->roles[lack->role].id, &failed);
            out->role_name = copy(look, catalog->roles[lack->role].name, &failed);
            out->fact = copy(look, catalog->facts[lack->fact].name, &failed);
        }
        out->meaning =
            copy(look, lack->about != NULL ? lack->about : catalog->measures[cond->measure].name,
                 &failed);
    } else {
        out->role = copy(look, catalog->roles[cond->cond.role].id, &failed);
        out->role_name = copy(look, catalog->roles[cond->cond.role].name, &failed);
        out->fact = copy(look, catalog->facts[cond->cond.fact].name, &failed);
        out->meaning = copy(look, catalog->facts[cond->cond.fact].meaning, &failed);
    }
    return failed ? SW_NO_MEMORY : SW_OK;
}

static int by_use(const void *left, const void *right) {
    const sw_look_finding *a = left, *b = right;
    if (a->must != b->must)
        return a->must ? -1 : 1;
    if (a->own == NULL || b->own == NULL) {
        if (a->own != b->own)
            return a->own != NULL ? -1 : 1;
        return strcmp(a->id, b->id);
    }
    if (better(a->own, b->own) != better(b->own, a->own))
        return better(a->own, b->own) ? -1 : 1;
    return strcmp(a->id, b->id);
}

static sw_status tell_findings(const sw_look_job *job) {
    sw_look *look = job->look;
    const sw_catalog *catalog = catalog_of(job);
    look->has_forms = catalog->finding_count > 0;
    look->findings = SW_NEW(look->arena, sw_look_finding, catalog->finding_count);
    look->unknowns = SW_NEW(look->arena, sw_look_unknown, catalog->finding_count);
    if (look->findings == NULL || look->unknowns == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < catalog->finding_count; i++) {
        const sw_finding_form *form = &catalog->findings[i];
        sw_truth made = sw_finding_made(job->measuring, form);
        sw_status status = SW_OK;
        if (made == SW_TRUE)
            status = tell_finding(&look->findings[look->finding_count++], job, form);
        else if (made == SW_MAYBE)
            status = tell_unknown(&look->unknowns[look->unknown_count++], job, form);
        if (status != SW_OK)
            return status;
    }
    qsort(look->findings, look->finding_count, sizeof *look->findings, by_use);
    return SW_OK;
}

/* ---- uses, sound, looks, measures ----------------------------------------------------------- */

static sw_status tell_use(sw_look_use *out, const sw_look_job *job, size_t use, int64_t shares) {
    const sw_scenario *scenario = job->setup->fitouts->scenario;
    const sw_wanted_use *wanted = &scenario->uses[use];
    const sw_use *of = &scenario->catalog->uses[wanted->use];
    const sw_look *look = job->look;
    bool failed = false;
    *out = (sw_look_use){.id = copy(look, of->id, &failed),
                         .name = copy(look, of->name, &failed),
                         .unit = copy(look, of->unit, &failed),
                         .share = (double)wanted->share_milli / (double)shares,
                         .rate_now = (double)wanted->rate_now_milli / 1000,
                         .stages = SW_NEW(look->arena, sw_look_stage, of->stage_count),
                         .stage_count = of->stage_count};
    double *rates = SW_NEW(look->arena, double, of->stage_count);
    if (failed || out->stages == NULL || rates == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_stage_rates(rates, look->arena, job->setup->estimates, (int)use,
                                      job->measuring->machine);
    for (size_t s = 1; s < of->stage_count; s++)
        if (rates[s] < rates[out->governs])
            out->governs = s;
    double least = rates[out->governs];
    double measured = out->rate_now > 0 ? out->rate_now / least : 1;
    for (size_t s = 0; s < of->stage_count; s++)
        out->stages[s] = (sw_look_stage){.id = copy(look, of->stages[s].id, &failed),
                                         .name = copy(look, of->stages[s].name, &failed),
                                         .rate = rates[s] * measured,
                                         .behind = rates[s] / least};
    return failed ? SW_NO_MEMORY : status;
}

static sw_status tell_uses(const sw_look_job *job) {
    const sw_scenario *scenario = job->setup->fitouts->scenario;
    sw_look *look = job->look;
    int64_t shares = 0;
    look->uses = SW_NEW(look->arena, sw_look_use, scenario->use_count);
    if (look->uses == NULL)
        return SW_NO_MEMORY;
    for (size_t u = 0; u < scenario->use_count; u++)
        shares += scenario->uses[u].share_milli;
    for (size_t u = 0; u < scenario->use_count; u++) {
        sw_status status = tell_use(&look->uses[u], job, u, shares);
        if (status != SW_OK)
            return status;
        look->use_count++;
    }
    return SW_OK;
}

static int by_loudness(const void *left, const void *right) {
    const sw_look_source *a = left, *b = right;
    if (a->share != b->share)
        return a->share > b->share ? -1 : 1;
    return strcmp(a->role, b->role);
}

static sw_status tell_sound(const sw_look_job *job) {
    sw_look *look = job->look;
    const sw_estimates *estimates = job->setup->estimates;
    const sw_catalog *catalog = catalog_of(job);
    const int *machine = job->measuring->machine;
    bool failed = false;
    double sum = 0;
    if (estimates->quiet == SW_NONE)
        return SW_OK;
    sw_sound sound = sw_sound_of(estimates, machine);
    look->answer->has_sound = true;
    look->seat_dba = sound.level_dba;
    look->seat_sone = sound.loudness_sone;
    look->machine_dba = sound.level / 2.0;
    look->room_dba = (double)estimates->fitouts->scenario->room_milli / 1000;
    look->calibration_db = sw_calibration_db(estimates);
    look->sources = SW_NEW(look->arena, sw_look_source, catalog->role_count);
    if (look->sources == NULL)
        return SW_NO_MEMORY;
    for (size_t r = 0; r < catalog->role_count; r++)
        sum += (double)sw_noise_of(estimates, (int)r, machine);
    for (size_t r = 0; r < catalog->role_count; r++) {
        double power = (double)sw_noise_of(estimates, (int)r, machine);
        if (power <= 0)
            continue;
        look->sources[look->source_count++] =
            (sw_look_source){.role = copy(look, catalog->roles[r].id, &failed),
                             .role_name = copy(look, catalog->roles[r].name, &failed),
                             .level_db = 10 * log10(power / 10),
                             .share = power / sum,
                             .speed = sw_speed_of(estimates, (int)r, machine)};
    }
    qsort(look->sources, look->source_count, sizeof *look->sources, by_loudness);
    return failed ? SW_NO_MEMORY : SW_OK;
}

static sw_status tell_looks(const sw_look_job *job) {
    sw_look *look = job->look;
    const sw_catalog *catalog = catalog_of(job);
    bool failed = false;
    for (size_t c = 0; c < catalog->criterion_count; c++) {
        const sw_criterion *looks = &catalog->criteria[c];
        if (looks->kind != SW_LOOKS)
            continue;
        double all = 0;
        look->shows = SW_NEW(look->arena, sw_look_show, looks->shows_count);
        if (look->shows == NULL)
            return SW_NO_MEMORY;
        for (size_t s = 0; s < looks->shows_count; s++)
            all += (double)looks->shows[s].weight_milli;
        for (size_t s = 0; s < looks->shows_count; s++) {
            const sw_role *role = &catalog->roles[looks->shows[s].role];
            look->shows[look->show_count++] = (sw_look_show){
                .role = copy(look, role->id, &failed),
                .role_name = copy(look, role->name, &failed),
                .weight = (double)looks->shows[s].weight_milli / all,
                .match = sw_looks_match(job->setup->estimates, (int)c,
                                        job->measuring->machine[looks->shows[s].role])};
        }
    }
    return failed ? SW_NO_MEMORY : SW_OK;
}

static sw_status tell_measures(const sw_look_job *job) {
    sw_look *look = job->look;
    const sw_catalog *catalog = catalog_of(job);
    bool failed = false;
    look->measures = SW_NEW(look->arena, sw_look_measure, catalog->measure_count);
    if (look->measures == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < catalog->measure_count; i++) {
        const sw_measure *measure = &catalog->measures[i];
        const sw_interval *value = &job->measuring->values[i];
        look->measures[look->measure_count++] = (sw_look_measure){
            .id = copy(look, measure->id, &failed),
            .name = copy(look, measure->name, &failed),
            .unit = copy(look, measure->unit, &failed),
            .digits = measure->digits,
            .state = value->state,
            .low = value->low,
            .value = value->mid,
            .high = value->high,
            .lacks = copy(look, value->lack.text, &failed),
            .lacks_role_name = copy(look,
                                    value->state != SW_UNKNOWN || value->lack.role == SW_NONE
                                        ? ""
                                        : catalog->roles[value->lack.role].name,
                                    &failed),
            .lacks_about = copy(look, value->lack.about, &failed)};
    }
    return failed ? SW_NO_MEMORY : SW_OK;
}

/* ---- the whole ----------------------------------------------------------------------------------
 */

static sw_status tell_all(sw_look *look, const sw_setup *setup) {
    sw_measuring measuring;
    sw_status status = sw_measuring_make(&measuring, look->arena, setup->estimates,
                                         setup->fitouts->present, NULL, 0);
    sw_look_job job = {look, setup, &measuring};
    if (status == SW_OK)
        status = tell_findings(&job);
    if (status == SW_OK)
        status = tell_uses(&job);
    if (status == SW_OK)
        status = tell_sound(&job);
    if (status == SW_OK)
        status = tell_looks(&job);
    return status == SW_OK ? tell_measures(&job) : status;
}

sw_status sw_find_look(sw_look **out, const sw_scenario *scenario, bool allow_unknown,
                       sw_complaints *complaints) {
    sw_answer *answer = NULL;
    sw_setup setup = {0};
    sw_look *look = NULL;
    size_t before = sw_complaints_count(complaints);
    sw_status status = sw_answer_start(&answer, scenario);
    if (status == SW_OK && (look = SW_NEW(answer->arena, sw_look, 1)) == NULL)
        status = SW_NO_MEMORY;
    if (status == SW_OK) {
        look->arena = answer->arena;
        look->answer = answer;
        status = sw_setup_make(&setup, scenario, allow_unknown, NULL, complaints);
    }
    if (status == SW_OK)
        status = sw_setup_score(&setup, NULL);
    if (status == SW_OK)
        status = tell_all(look, &setup);
    sw_setup_free(&setup);
    if (status == SW_BAD_DATA && sw_complaints_count(complaints) == before)
        sw_complain_of_sites(scenario, complaints);
    if (status == SW_OK)
        *out = look;
    else
        sw_answer_free(answer);
    return status;
}

void sw_look_free(sw_look *look) {
    if (look != NULL)
        sw_answer_free(look->answer);
}
