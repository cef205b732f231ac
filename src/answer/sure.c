/* N over all weightings that may be right, and what of it is the same in all of it. */
#include "answer/sure.h"

#include <math.h>
#include <string.h>

#include "answer/best.h"
#include "answer/drawn.h"
#include "answer/unsure.h"

/* How many bundles hold what, of one run. */
typedef struct counts {
    size_t bundles;
    bool complete;
    size_t *part; /* [part of the scenario] */
    size_t *same; /* [role] */
    size_t *task; /* [task] */
} counts;

typedef struct work {
    sw_sure *out;
    const sw_scenario *scenario;
    bool allow_unknown;
    sw_allowance allowance;
    sw_complaints *complaints;
    counts base, dear, cheap, wide;
    size_t *drawn_part, *drawn_same, *drawn_task; /* weightings */
} work;

/* ---- counting -----------------------------------------------------------------------------------
 */

static bool counts_new(counts *out, sw_arena *arena, const sw_scenario *scenario) {
    out->part = SW_NEW(arena, size_t, scenario->part_count);
    out->same = SW_NEW(arena, size_t, scenario->catalog->role_count);
    out->task = SW_NEW(arena, size_t, scenario->catalog->task_count);
    return out->part != NULL && out->same != NULL && out->task != NULL;
}

/* Adds `times` to what the bundle of `picks` holds. A part of two kinds in one role counts each. */
static void count_bundle(const sw_program *program, const int *picks, size_t times, size_t *part,
                         size_t *same, size_t *task) {
    for (size_t g = 0; g < program->group_count; g++) {
        const sw_fitout *fitout = &program->fitouts->fitouts[program->picks[picks[g]].fitout];
        if (!fitout->changes)
            same[fitout->role] += times;
        for (int a = 0; a < fitout->added_count; a++)
            part[fitout->added[a].part] += times;
        for (int t = 0; t < fitout->task_count; t++)
            task[fitout->tasks[t]] += times;
    }
}

static void count_set(counts *out, const sw_unsure *unsure) {
    out->bundles = unsure->set.count;
    /* Where nothing fits, that is all there is. */
    out->complete =
        unsure->set.complete || (!unsure->baseline.found && unsure->baseline.end != SW_END_EARLY);
    for (size_t b = 0; b < unsure->set.count; b++)
        count_bundle(unsure->setup.program, unsure->set.bundles[b].picks, 1, out->part, out->same,
                     out->task);
}

/* ---- best at a weighting
 * -------------------------------------------------------------------------- */

static double worth(const sw_undominated_bundle *bundle, const sw_weightings *of,
                    const int64_t *parts) {
    double sum = 0;
    for (size_t c = 0; c < of->criterion_count; c++)
        sum += (double)parts[c] * (double)bundle->by_criterion[of->criteria[c]];
    return sum;
}

/* Products stay below 2^53 for parts up to 2^20 and values up to 2^30: doubles are exact then. */
static size_t best_at(const sw_undominated_set *set, const sw_weightings *of,
                      const int64_t *parts) {
    size_t best = 0;
    for (size_t b = 1; b < set->count; b++)
        if (worth(&set->bundles[b], of, parts) > worth(&set->bundles[best], of, parts))
            best = b;
    return best;
}

static bool count_drawn(work *in, const sw_unsure *unsure) {
    const sw_weightings *of = &in->out->weightings;
    int64_t *drawn = sw_draw_weightings(in->out->arena, in->scenario, of);
    size_t *won = SW_NEW(in->out->arena, size_t, unsure->set.count);
    if (drawn == NULL || won == NULL)
        return false;
    for (size_t k = 0; k < SW_DRAWN_COUNT; k++)
        won[best_at(&unsure->set, of, drawn + k * of->criterion_count)]++;
    for (size_t b = 0; b < unsure->set.count; b++)
        count_bundle(unsure->setup.program, unsure->set.bundles[b].picks, won[b], in->drawn_part,
                     in->drawn_same, in->drawn_task);
    return true;
}

/* The client's own weights as whole numbers. */
static bool own_parts(int64_t *out, const sw_scenario *scenario, const sw_weightings *of) {
    bool swings = false;
    for (size_t c = 0; c < of->criterion_count; c++)
        swings |= scenario->doubt.swing[of->criteria[c]] > 0;
    for (size_t c = 0; c < of->criterion_count; c++) {
        int criterion = of->criteria[c];
        out[c] = scenario->doubt.swing[criterion];
        if (!swings && !sw_round(&out[c], 2520 * scenario->weights[criterion]))
            return false;
    }
    return true;
}

/* ---- regret
 * --------------------------------------------------------------------------------------- */

static void find_regrets(sw_sure *out, const sw_undominated_set *set, const sw_extremes *extremes) {
    for (size_t b = 0; b < set->count; b++) {
        double most = 0;
        for (size_t e = 0; e < extremes->count; e++) {
            double sum = 0;
            for (size_t c = 0; c < extremes->criteria; c++)
                sum += (double)extremes->weight[e * extremes->criteria + c];
            int64_t top = set->bundles[0].value[e];
            for (size_t other = 1; other < set->count; other++)
                if (set->bundles[other].value[e] > top)
                    top = set->bundles[other].value[e];
            double regret = (double)(top - set->bundles[b].value[e]) / sum / 1000;
            most = regret > most ? regret : most;
        }
        out->bundles[b].regret = most;
        if (most < out->bundles[out->least_regret].regret)
            out->least_regret = b;
    }
}

/* ---- telling
 * ---------------------------------------------------------------------------------------- */

static double share_of(size_t part, size_t whole) {
    return whole == 0 ? -1 : (double)part / (double)whole;
}

static void add_thing(work *in, sw_sure_kind kind, int role, const char *id, const char *name,
                      size_t held, size_t drawn, const size_t others[3]) {
    const sw_role *is = &in->scenario->catalog->roles[role];
    sw_sure_thing *out = &in->out->things[in->out->thing_count++];
    double index = share_of(held, in->base.bundles);
    double dear = share_of(others[0], in->dear.bundles);
    double cheap = share_of(others[1], in->cheap.bundles);
    *out = (sw_sure_thing){.kind = kind,
                           .role = is->id,
                           .role_name = is->name,
                           .id = id,
                           .name = name,
                           .index = index,
                           .share = share_of(drawn, SW_DRAWN_COUNT),
                           .least_index = -1,
                           .most_index = -1,
                           .estimates_index = share_of(others[2], in->wide.bundles)};
    out->least_index = out->most_index = index;
    const double ends[] = {dear, cheap};
    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++) {
        if (ends[i] < 0)
            continue;
        out->least_index = ends[i] < out->least_index ? ends[i] : out->least_index;
        out->most_index = ends[i] > out->most_index ? ends[i] : out->most_index;
    }
}

/* Things that no bundle of any run has are not told. */
static bool anywhere(size_t base, const size_t others[3]) {
    return base > 0 || others[0] > 0 || others[1] > 0 || others[2] > 0;
}

static bool tell_things(work *in) {
    const sw_scenario *scenario = in->scenario;
    const sw_catalog *catalog = scenario->catalog;
    in->out->things = SW_NEW(in->out->arena, sw_sure_thing,
                             catalog->role_count + scenario->part_count + catalog->task_count);
    if (in->out->things == NULL)
        return false;
    for (size_t r = 0; r < catalog->role_count; r++) {
        const size_t same[] = {in->dear.same[r], in->cheap.same[r], in->wide.same[r]};
        if (scenario->machine_count[r] > 0 || in->base.same[r] < in->base.bundles)
            add_thing(in, SW_SURE_AS_IT_IS, (int)r, NULL, NULL, in->base.same[r], in->drawn_same[r],
                      same);
        for (size_t p = 0; p < scenario->part_count; p++) {
            const size_t others[] = {in->dear.part[p], in->cheap.part[p], in->wide.part[p]};
            if (scenario->parts[p].role == (int)r && anywhere(in->base.part[p], others))
                add_thing(in, SW_SURE_PART, (int)r, scenario->parts[p].id, scenario->parts[p].name,
                          in->base.part[p], in->drawn_part[p], others);
        }
    }
    for (size_t t = 0; t < catalog->task_count; t++) {
        const size_t others[] = {in->dear.task[t], in->cheap.task[t], in->wide.task[t]};
        if (anywhere(in->base.task[t], others))
            add_thing(in, SW_SURE_TASK, catalog->tasks[t].role, catalog->tasks[t].id,
                      catalog->tasks[t].name, in->base.task[t], in->drawn_task[t], others);
    }
    return true;
}

static sw_status tell_bundles(work *in, const sw_unsure *unsure, const sw_extremes *extremes) {
    sw_sure *out = in->out;
    out->bundles = SW_NEW(out->arena, sw_sure_bundle, unsure->set.count);
    if (out->bundles == NULL)
        return SW_NO_MEMORY;
    out->count = unsure->set.count;
    for (size_t b = 0; b < out->count; b++) {
        const sw_undominated_bundle *from = &unsure->set.bundles[b];
        int64_t *points = SW_NEW(out->arena, int64_t, extremes->criteria);
        if (points == NULL)
            return SW_NO_MEMORY;
        memcpy(points, from->by_criterion, extremes->criteria * sizeof *points);
        out->bundles[b].by_criterion = points;
        sw_status status =
            sw_bundle_describe(&out->bundles[b].bundle, out->answer, unsure->setup.program,
                               from->picks, unsure->baseline.picks);
        if (status != SW_OK)
            return status;
    }
    find_regrets(out, &unsure->set, extremes);
    return SW_OK;
}

/* ---- runs
 * ---------------------------------------------------------------------------------------- */

/* A share of the time that is left. */
static sw_allowance part_of_time(const work *in, double share) {
    sw_allowance allowance = in->allowance;
    if (allowance.now == NULL)
        return allowance;
    double now = allowance.now();
    allowance.ends = now + (in->allowance.ends - now) * share;
    return allowance;
}

/* The job changed: `scenario` may be a copy with other money or another doubt. */
static sw_status run(sw_unsure *unsure, sw_extremes *extremes, work *in,
                     const sw_scenario *scenario, double share) {
    sw_weightings weightings;
    sw_status status = sw_weightings_of(&weightings, in->out->arena, scenario);
    if (status == SW_OK)
        status = sw_spread_extremes(extremes, in->out->arena, &weightings,
                                    scenario->catalog->criterion_count);
    if (status != SW_OK)
        return status;
    status = sw_unsure_make(unsure, scenario, extremes, in->allow_unknown, part_of_time(in, share),
                            in->complaints);
    if (status == SW_BAD_DATA && sw_complaints_count(in->complaints) == 0)
        sw_complain(in->complaints, scenario->file, "$.wishes",
                    "points are whole numbers of 64 bits", "use smaller swings",
                    "weighs so much that points would not be exact");
    return status;
}

static sw_status run_aside(counts *out, work *in, const sw_scenario *scenario, double share) {
    sw_unsure unsure = {0};
    sw_extremes extremes;
    sw_status status = counts_new(out, in->out->arena, in->scenario)
                           ? run(&unsure, &extremes, in, scenario, share)
                           : SW_NO_MEMORY;
    if (status == SW_OK)
        count_set(out, &unsure);
    sw_unsure_free(&unsure);
    return status;
}

static sw_scenario with_prices(const sw_scenario *scenario, int percent) {
    sw_scenario other = *scenario;
    int64_t budget = sw_scenario_budget(scenario);
    other.budget_total = budget * 100 / (100 + percent) + scenario->reserve + scenario->sundries;
    return other;
}

static bool widen(sw_scenario *out, work *in) {
    const sw_weight_doubt *doubt = &in->scenario->doubt;
    size_t count = in->scenario->catalog->criterion_count;
    int percent = in->out->estimates_percent;
    *out = *in->scenario;
    out->doubt.low = SW_NEW(in->out->arena, int64_t, count);
    out->doubt.high = SW_NEW(in->out->arena, int64_t, count);
    if (out->doubt.low == NULL || out->doubt.high == NULL)
        return false;
    for (size_t c = 0; c < count; c++) {
        bool fixed = (int)c == doubt->measure;
        out->doubt.low[c] =
            fixed ? doubt->low[c] : doubt->low[c] * (100 - percent) / (100 + percent);
        out->doubt.high[c] =
            fixed ? doubt->high[c]
                  : (doubt->high[c] * (100 + percent) + 99 - percent) / (100 - percent);
    }
    return true;
}

static sw_status run_others(work *in) {
    sw_scenario dear = with_prices(in->scenario, in->out->prices_percent);
    sw_scenario cheap = with_prices(in->scenario, -in->out->prices_percent), wide;
    if (!widen(&wide, in))
        return SW_NO_MEMORY;
    double parts = 3 + (double)in->out->option_count; /* of the time that is left */
    sw_status status = SW_OK;
    in->dear = in->cheap = in->wide = in->base; /* of nothing off, nothing is other */
    if (in->out->prices_percent > 0) {
        status = run_aside(&in->dear, in, &dear, 1 / parts);
        if (status == SW_OK)
            status = run_aside(&in->cheap, in, &cheap, 1 / (parts - 1));
    }
    if (status == SW_OK && in->out->estimates_percent > 0)
        status = run_aside(&in->wide, in, &wide, 1 / (parts - 2));
    in->out->prices_known = in->dear.complete && in->cheap.complete;
    in->out->estimates_known = in->wide.complete;
    return status;
}

/* ---- the options --------------------------------------------------------------------------------
 */

/* What the option brings, by its fit-outs in this job; false when memory is out. */
static bool value_option(sw_sure_option *option, work *in, const sw_unsure *unsure) {
    const sw_fitouts *fitouts = unsure->setup.fitouts;
    size_t roles = fitouts->catalog->role_count;
    int *machine = SW_NEW(in->out->arena, int, roles);
    int64_t *points = SW_NEW(in->out->arena, int64_t, fitouts->catalog->criterion_count);
    if (machine == NULL || points == NULL)
        return false;
    for (size_t r = 0; r < roles; r++) {
        machine[r] = sw_fitout_with_key(fitouts, (int)r, option->keys[r]);
        if (machine[r] == SW_NONE)
            return false;
    }
    sw_points(unsure->setup.estimates, machine, points);
    option->by_criterion = points;
    return true;
}

static bool value_options(work *in, const sw_unsure *unsure, const sw_extremes *extremes) {
    for (size_t o = 0; o < in->out->option_count; o++) {
        sw_sure_option *option = &in->out->options[o];
        if (!value_option(option, in, unsure))
            return false;
        for (size_t e = 0; e < extremes->count; e++) {
            const int64_t *weight = extremes->weight + e * extremes->criteria;
            double sum = 0, own = 0, top = (double)unsure->set.bundles[0].value[e];
            for (size_t c = 0; c < extremes->criteria; c++) {
                sum += (double)weight[c];
                own += (double)weight[c] * (double)option->by_criterion[c];
            }
            for (size_t b = 1; b < unsure->set.count; b++)
                if ((double)unsure->set.bundles[b].value[e] > top)
                    top = (double)unsure->set.bundles[b].value[e];
            double regret = (top - own) / sum / 1000;
            option->regret = regret > option->regret ? regret : option->regret;
        }
    }
    return true;
}

/* At how many of the weightings is no bundle for the same money worth more? */
static double share_stays(const work *in, const sw_sure_option *option,
                          const sw_undominated_set *set, const int64_t *drawn) {
    const sw_weightings *of = &in->out->weightings;
    size_t stays = 0;
    for (size_t k = 0; k < SW_DRAWN_COUNT; k++) {
        const int64_t *parts = drawn + k * of->criterion_count;
        double own = 0;
        for (size_t c = 0; c < of->criterion_count; c++)
            own += (double)parts[c] * (double)option->by_criterion[of->criteria[c]];
        stays += worth(&set->bundles[best_at(set, of, parts)], of, parts) <= own;
    }
    return share_of(stays, SW_DRAWN_COUNT);
}

/* The factors by which the criterion's swing may be multiplied within W. */
static void allowed_factors(sw_sure_range *out, const work *in, size_t which, const int64_t *own) {
    const sw_weight_doubt *doubt = &in->scenario->doubt;
    const sw_weightings *of = &in->out->weightings;
    int criterion = of->criteria[which];
    *out = (sw_sure_range){.from = 0, .to = INFINITY};
    if (doubt->how == SW_DOUBT_ANY)
        return;
    if (criterion != doubt->measure) {
        out->from = (double)doubt->low[criterion] / (double)own[which];
        out->to = (double)doubt->high[criterion] / (double)own[which];
        return;
    }
    /* The measure stays as it is, so the others move against it. */
    for (size_t c = 0; c < of->criterion_count; c++) {
        double low = (double)doubt->low[of->criteria[c]];
        double high = (double)doubt->high[of->criteria[c]];
        if (c == which)
            continue;
        out->from = fmax(out->from, (double)own[c] / high);
        out->to = fmin(out->to, low > 0 ? (double)own[c] / low : INFINITY);
    }
}

/* Takes away where this bundle is worth more than the option: lead and slope of the option's
 * advantage, which is a straight line in the factor. */
static void narrow(sw_sure_range *range, double lead, double slope) {
    if (slope > 0)
        range->from = fmax(range->from, -lead / slope);
    else if (slope < 0)
        range->to = fmin(range->to, -lead / slope);
    else if (lead < 0)
        range->to = -1;
}

static double share_at(double factor, double own, double others) {
    return isinf(factor) || others <= 0 ? 1 : factor * own / (others + factor * own);
}

/* False when memory is out. */
static bool find_range(sw_sure_option *option, work *in, const sw_undominated_set *set,
                       const int64_t *own) {
    const sw_weightings *of = &in->out->weightings;
    sw_sure_range *ranges = SW_NEW(in->out->arena, sw_sure_range, of->criterion_count);
    if (ranges == NULL)
        return false;
    if (in->scenario->doubt.how == SW_DOUBT_RANKS)
        return true;
    for (size_t c = 0; c < of->criterion_count; c++) {
        double others = 0;
        allowed_factors(&ranges[c], in, c, own);
        for (size_t k = 0; k < of->criterion_count; k++)
            others += k == c ? 0 : (double)own[k];
        for (size_t b = 0; b < set->count; b++) {
            double lead = 0, slope = 0;
            for (size_t k = 0; k < of->criterion_count; k++) {
                double by =
                    (double)own[k] * (double)(option->by_criterion[of->criteria[k]] -
                                              set->bundles[b].by_criterion[of->criteria[k]]);
                *(k == c ? &slope : &lead) += by;
            }
            narrow(&ranges[c], lead, slope);
        }
        if (ranges[c].from > 1 || ranges[c].to < 1)
            return true;
        ranges[c].from_share = share_at(ranges[c].from, (double)own[c], others);
        ranges[c].to_share = share_at(ranges[c].to, (double)own[c], others);
    }
    option->ranges = ranges;
    return true;
}

static sw_status find_stays(work *in) {
    sw_sure *out = in->out;
    int64_t *drawn = sw_draw_weightings(out->arena, in->scenario, &out->weightings);
    int64_t *own = SW_NEW(out->arena, int64_t, out->weightings.criterion_count);
    bool good = drawn != NULL && own != NULL && own_parts(own, in->scenario, &out->weightings);
    sw_status status = good ? SW_OK : SW_NO_MEMORY;
    for (size_t o = 0; o < out->option_count && status == SW_OK; o++) {
        sw_sure_option *option = &out->options[o];
        sw_scenario at = *in->scenario;
        sw_unsure unsure = {0};
        sw_extremes extremes;
        at.budget_total = option->cost + at.reserve + at.sundries;
        status = run(&unsure, &extremes, in, &at, 1.0 / (double)(out->option_count - o));
        bool known = status == SW_OK && unsure.set.complete && unsure.set.count > 0;
        option->stays = known ? share_stays(in, option, &unsure.set, drawn) : -1;
        if (known && !find_range(option, in, &unsure.set, own))
            status = SW_NO_MEMORY;
        sw_unsure_free(&unsure);
    }
    return status;
}

static sw_status tell(work *in, const sw_unsure *unsure, const sw_extremes *extremes) {
    sw_sure *out = in->out;
    int64_t *own = SW_NEW(out->arena, int64_t, out->weightings.criterion_count);
    if (own == NULL || !own_parts(own, in->scenario, &out->weightings))
        return SW_NO_MEMORY;
    count_set(&in->base, unsure);
    /* Where nothing fits, that is all there is. */
    out->complete =
        unsure->set.complete || (!unsure->baseline.found && unsure->baseline.end != SW_END_EARLY);
    if (unsure->set.count == 0)
        return SW_OK;
    if (!count_drawn(in, unsure))
        return SW_NO_MEMORY;
    sw_status status = tell_bundles(in, unsure, extremes);
    if (status == SW_OK && !value_options(in, unsure, extremes))
        status = SW_NO_MEMORY;
    out->best = best_at(&unsure->set, &out->weightings, own);
    return status;
}

static sw_status fill(work *in) {
    sw_sure *out = in->out;
    sw_unsure unsure = {0};
    sw_extremes extremes;
    size_t parts = in->scenario->part_count, roles = in->scenario->catalog->role_count;
    in->drawn_part = SW_NEW(out->arena, size_t, parts);
    in->drawn_same = SW_NEW(out->arena, size_t, roles);
    in->drawn_task = SW_NEW(out->arena, size_t, in->scenario->catalog->task_count);
    sw_status status = sw_answer_start(&out->answer, in->scenario);
    if (status == SW_OK)
        status = sw_weightings_of(&out->weightings, out->arena, in->scenario);
    if (status == SW_OK &&
        (in->drawn_part == NULL || in->drawn_same == NULL || in->drawn_task == NULL ||
         !counts_new(&in->base, out->arena, in->scenario)))
        status = SW_NO_MEMORY;
    if (status != SW_OK)
        return status;
    status = run(&unsure, &extremes, in, in->scenario, 0.4);
    bool fits = status == SW_OK && unsure.baseline.found;
    bool early = status == SW_OK && unsure.baseline.end == SW_END_EARLY;
    if (fits)
        status = tell(in, &unsure, &extremes);
    sw_unsure_free(&unsure);
    if (status != SW_OK)
        return status;
    out->answer->status = early || (fits && !out->complete) ? SW_STOPPED_EARLY
                          : fits                            ? SW_OPTIMAL
                                                            : SW_NOTHING_FITS;
    /* Where nothing fits, other prices and estimates have nothing to change. */
    out->prices_known = out->estimates_known = !fits && !early;
    if (fits && out->count > 0)
        status = run_others(in);
    if (status == SW_OK && fits && out->count > 0)
        status = find_stays(in);
    if (status == SW_OK && fits && out->count > 0 && !tell_things(in))
        status = SW_NO_MEMORY;
    return status;
}

sw_status sw_find_sure(sw_sure **out, const sw_scenario *scenario, const sw_sure_job *job,
                       const sw_sure_option *options, size_t option_count, bool allow_unknown,
                       sw_allowance allowance, sw_complaints *complaints) {
    sw_arena *arena = sw_arena_new();
    sw_sure *sure = arena == NULL ? NULL : SW_NEW(arena, sw_sure, 1);
    if (sure == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    sure->arena = arena;
    sure->options = SW_NEW(arena, sw_sure_option, option_count);
    if (sure->options == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    sure->option_count = option_count;
    if (option_count > 0)
        memcpy(sure->options, options, option_count * sizeof *options);
    sure->prices_percent = job->prices_percent;
    sure->estimates_percent = job->estimates_percent;
    work in = {.out = sure,
               .scenario = scenario,
               .allow_unknown = allow_unknown,
               .allowance = allowance,
               .complaints = complaints};
    sw_status status = fill(&in);
    if (status == SW_OK)
        *out = sure;
    else
        sw_sure_free(sure);
    return status;
}

void sw_sure_free(sw_sure *sure) {
    if (sure == NULL)
        return;
    sw_answer_free(sure->answer);
    sw_arena_free(sure->arena);
}

sw_answer_status sw_sure_get_status(const sw_sure *sure) { return sure->answer->status; }

bool sw_sure_is_settled(const sw_sure *sure) {
    bool settled = sure->complete && sure->prices_known && sure->estimates_known;
    for (size_t o = 0; o < sure->option_count; o++)
        settled = settled && sure->options[o].stays >= 0;
    return settled && sure->options_known;
}
