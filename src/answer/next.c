/* The non-dominated bundles once, the weightings drawn once; then each question divides these in
 * two. All sums are whole numbers: which question comes first hangs on no rounding. */
#include "answer/next.h"

#include <string.h>

#include "answer/unsure.h"
#include "check/interview.h"

#define UNIT (INT64_C(1) << 20) /* what a weighting adds up to, but for rounding down */
#define WHOLE ((sw_wide)SW_DRAWN_COUNT * UNIT) /* what all add up to */
#define MATTERS 50                             /* thousandths of a point */

__extension__ typedef __int128 sw_wide;

typedef struct asking {
    sw_next *out;
    sw_arena *arena; /* scratch */
    const sw_scenario *scenario;
    sw_weightings weightings;
    const sw_undominated_set *set;
    const int64_t *drawn; /* [drawn * criteria + criterion of the list] */
    int64_t *even;        /* the same, each brought to UNIT */
    size_t best;          /* at the mean of all */
    size_t *told;         /* [bundle of the set] place in the answer, plus 1; 0: not told */
    size_t *telling;      /* [bundle of the answer] which of the set */
    sw_wide most;         /* of the values so far */
} asking;

/* ---- the best at a mean ---------------------------------------------------------------------- */

static sw_wide worth_at(const asking *a, const int64_t *sums, size_t bundle) {
    sw_wide worth = 0;
    for (size_t c = 0; c < a->weightings.criterion_count; c++)
        worth += (sw_wide)sums[c] * a->set->bundles[bundle].by_criterion[a->weightings.criteria[c]];
    return worth;
}

static size_t best_at(const asking *a, const int64_t *sums) {
    size_t best = 0;
    sw_wide most = worth_at(a, sums, 0);
    for (size_t b = 1; b < a->set->count; b++) {
        sw_wide worth = worth_at(a, sums, b);
        if (worth > most) {
            most = worth;
            best = b;
        }
    }
    return best;
}

/* The answer's place of a bundle of the set, taken in when it is not yet there. */
static size_t place_of(asking *a, size_t bundle) {
    if (a->told[bundle] == 0) {
        a->telling[a->out->answer->bundle_count++] = bundle;
        a->told[bundle] = a->out->answer->bundle_count;
    }
    return a->told[bundle] - 1;
}

static void bring_to_unit(asking *a) {
    size_t count = a->weightings.criterion_count;
    for (size_t k = 0; k < SW_DRAWN_COUNT; k++) {
        const int64_t *from = a->drawn + k * count;
        int64_t sum = 0;
        for (size_t c = 0; c < count; c++)
            sum += from[c];
        for (size_t c = 0; c < count && sum > 0; c++)
            a->even[k * count + c] = from[c] * UNIT / sum;
    }
}

/* ---- questions ------------------------------------------------------------------------------- */

static size_t place_in_list(const asking *a, int criterion) {
    size_t place = 0;
    while (a->weightings.criteria[place] != criterion)
        place++;
    return place;
}

static bool says_yes(const sw_next_question *of, int64_t one, int64_t other) {
    switch (of->kind) {
    case SW_NEXT_WORTH:
        return one >= of->worth_milli;
    case SW_NEXT_TWICE:
        return one >= 2 * other;
    default:
        return one >= other;
    }
}

/* What the answers bring, and what is best after each. */
static void ask(asking *a, sw_next_question *of, int64_t *sums) {
    size_t count = a->weightings.criterion_count;
    size_t one = place_in_list(a, of->criterion), other = place_in_list(a, of->other);
    sw_wide value = 0;
    memset(sums, 0, 2 * count * sizeof *sums);
    for (size_t k = 0; k < SW_DRAWN_COUNT; k++) {
        const int64_t *drawn = a->drawn + k * count;
        size_t side = says_yes(of, drawn[one], drawn[other]) ? 0 : 1;
        of->answers[side].given++;
        for (size_t c = 0; c < count; c++)
            sums[side * count + c] += a->even[k * count + c];
    }
    for (size_t side = 0; side < 2; side++) {
        if (of->answers[side].given == 0)
            continue;
        size_t best = best_at(a, sums + side * count);
        value += worth_at(a, sums + side * count, best) - worth_at(a, sums + side * count, a->best);
        of->answers[side].bundle = place_of(a, best);
    }
    of->value = (int64_t)((value + WHOLE / 2) / WHOLE);
    if (value >= MATTERS * WHOLE && value > a->most) {
        a->most = value;
        a->out->asked = (int)(of - a->out->questions);
    }
}

static void add(asking *a, sw_next_question question) {
    a->out->questions[a->out->question_count++] = question;
}

static void list_swings(asking *a) {
    const sw_weight_doubt *doubt = &a->scenario->doubt;
    for (size_t c = 0; c < a->weightings.criterion_count; c++) {
        int criterion = a->weightings.criteria[c];
        int64_t low = doubt->low[criterion], high = doubt->high[criterion];
        if (low < high)
            add(a, (sw_next_question){.kind = SW_NEXT_WORTH,
                                      .criterion = criterion,
                                      .other = doubt->measure,
                                      .worth_milli = (low + high) / 2,
                                      .beside_milli = doubt->high[doubt->measure]});
    }
}

static void list_questions(asking *a) {
    const sw_weight_doubt *doubt = &a->scenario->doubt;
    const sw_weightings *of = &a->weightings;
    if (doubt->how == SW_DOUBT_SWINGS)
        list_swings(a);
    else if (doubt->how == SW_DOUBT_RANKS)
        for (size_t k = 0; k + 1 < doubt->ranked_count; k++)
            add(a, (sw_next_question){.kind = SW_NEXT_TWICE,
                                      .criterion = doubt->ranked[k],
                                      .other = doubt->ranked[k + 1]});
    else
        for (size_t i = 0; i < of->criterion_count; i++)
            for (size_t j = i + 1; j < of->criterion_count; j++)
                add(a, (sw_next_question){.kind = SW_NEXT_MORE,
                                          .criterion = of->criteria[i],
                                          .other = of->criteria[j]});
}

/* ---- what is told ---------------------------------------------------------------------------- */

static sw_status tell_bundles(asking *a, const sw_unsure *unsure) {
    sw_answer *answer = a->out->answer;
    sw_status status = SW_OK;
    for (size_t b = 0; b < answer->bundle_count && status == SW_OK; b++)
        status = sw_bundle_describe(&answer->bundles[b], answer, unsure->setup.program,
                                    a->set->bundles[a->telling[b]].picks, unsure->baseline.picks);
    return status;
}

static sw_status tell_criteria(asking *a) {
    sw_next *out = a->out;
    const sw_catalog *catalog = a->scenario->catalog;
    const sw_interview_form *interview = catalog->interview;
    size_t count = a->weightings.criterion_count;
    out->criteria = SW_NEW(out->answer->arena, int, count);
    out->gains = SW_NEW(out->answer->arena, const char *, catalog->criterion_count);
    if (out->criteria == NULL || out->gains == NULL)
        return SW_NO_MEMORY;
    memcpy(out->criteria, a->weightings.criteria, count * sizeof *out->criteria);
    out->criterion_count = count;
    for (size_t i = 0; interview != NULL && i < interview->swing_count; i++) {
        const char *gain = sw_arena_copy(out->answer->arena, interview->swings[i].gain);
        if (gain == NULL)
            return SW_NO_MEMORY;
        out->gains[interview->swings[i].criterion] = gain;
    }
    return SW_OK;
}

static sw_status ask_all(asking *a, const sw_unsure *unsure) {
    sw_answer *answer = a->out->answer;
    size_t count = a->weightings.criterion_count, found = a->set->count;
    size_t room = count * count + 1;
    a->even = SW_NEW(a->arena, int64_t, SW_DRAWN_COUNT * count);
    a->told = SW_NEW(a->arena, size_t, found);
    a->telling = SW_NEW(a->arena, size_t, found);
    a->drawn = sw_draw_weightings(a->arena, a->scenario, &a->weightings);
    a->out->questions = SW_NEW(answer->arena, sw_next_question, room);
    answer->bundles = SW_NEW(answer->arena, sw_answer_bundle, found);
    int64_t *sums = SW_NEW(a->arena, int64_t, 2 * count);
    if (a->even == NULL || a->told == NULL || a->telling == NULL || a->drawn == NULL ||
        a->out->questions == NULL || answer->bundles == NULL || sums == NULL)
        return SW_NO_MEMORY;
    bring_to_unit(a);
    for (size_t k = 0; k < SW_DRAWN_COUNT; k++)
        for (size_t c = 0; c < count; c++)
            sums[c] += a->even[k * count + c];
    a->best = best_at(a, sums);
    place_of(a, a->best);
    list_questions(a);
    for (size_t q = 0; q < a->out->question_count; q++)
        ask(a, &a->out->questions[q], sums);
    return tell_bundles(a, unsure);
}

/* ---- the whole ------------------------------------------------------------------------------- */

static sw_status answer_with(asking *a, sw_unsure *unsure) {
    sw_answer *answer = a->out->answer;
    sw_end end = unsure->baseline.end;
    a->set = &unsure->set;
    a->out->found = a->set->count;
    answer->status = !unsure->baseline.found && end != SW_END_EARLY ? SW_NOTHING_FITS
                     : unsure->set.complete                         ? SW_OPTIMAL
                                                                    : SW_STOPPED_EARLY;
    return a->set->count > 0 ? ask_all(a, unsure) : SW_OK;
}

static sw_status find(asking *a, bool allow_unknown, sw_allowance allowance,
                      sw_complaints *complaints) {
    sw_extremes extremes;
    sw_unsure unsure;
    sw_status status = sw_weightings_of(&a->weightings, a->arena, a->scenario);
    if (status == SW_OK)
        status = tell_criteria(a);
    if (status == SW_OK)
        status = sw_spread_extremes(&extremes, a->arena, &a->weightings,
                                    a->scenario->catalog->criterion_count);
    if (status != SW_OK)
        return status;
    size_t before = sw_complaints_count(complaints);
    status = sw_unsure_make(&unsure, a->scenario, &extremes, allow_unknown, allowance, complaints);
    bool untold = status == SW_BAD_DATA && sw_complaints_count(complaints) == before;
    if (untold && unsure.setup.program == NULL)
        sw_complain_of_sites(a->scenario, complaints);
    else if (untold)
        sw_complain(complaints, a->scenario->file, "$.wishes.doubt",
                    "each bundle's points are added up at the ends of what may be",
                    "give swings and factor of an ordinary size", "makes numbers too large");
    if (status == SW_OK)
        status = answer_with(a, &unsure);
    a->set = NULL; /* it goes */
    sw_unsure_free(&unsure);
    return status;
}

sw_status sw_find_question(sw_next **out, const sw_scenario *scenario, bool allow_unknown,
                           sw_allowance allowance, sw_complaints *complaints) {
    sw_answer *answer = NULL;
    asking a = {.scenario = scenario, .arena = sw_arena_new()};
    sw_status status = a.arena == NULL ? SW_NO_MEMORY : sw_answer_start(&answer, scenario);
    if (status == SW_OK) {
        a.out = SW_NEW(answer->arena, sw_next, 1);
        status = a.out == NULL ? SW_NO_MEMORY : SW_OK;
    }
    if (status == SW_OK) {
        *a.out = (sw_next){.answer = answer, .asked = SW_NONE};
        status = find(&a, allow_unknown, allowance, complaints);
    }
    sw_arena_free(a.arena);
    if (status == SW_OK)
        *out = a.out;
    else
        sw_answer_free(answer);
    return status;
}

void sw_next_free(sw_next *next) {
    if (next != NULL)
        sw_answer_free(next->answer);
}

sw_answer_status sw_next_get_status(const sw_next *next) { return next->answer->status; }
