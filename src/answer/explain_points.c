/* How the points of a criterion come from the numbers above them, written out. */
#include <math.h>

#include "answer/explain.h"

typedef struct writing {
    sw_arena *arena;
    bool no_memory;
} writing;

static const char *rounded(writing *w, double x, int decimals) {
    int64_t milli = 0;
    const char *text =
        sw_round_to(&milli, x, decimals) ? sw_milli_text(w->arena, milli, decimals) : "?";
    w->no_memory = w->no_memory || text == NULL;
    return text == NULL ? "" : text;
}

/* "100 x 0.54 x (0.5 x log2(72.1 / 60.0) + ...)", each use up to what the client wants. */
static const char *speed(writing *w, const sw_estimates *estimates, const int *with,
                         double weight) {
    const sw_scenario *scenario = estimates->fitouts->scenario;
    const char *terms = "";
    int64_t shares = 0;
    for (size_t u = 0; u < scenario->use_count; u++)
        shares += scenario->uses[u].share_milli;
    for (size_t u = 0; u < scenario->use_count && terms != NULL; u++) {
        const sw_wanted_use *use = &scenario->uses[u];
        sw_prediction then;
        if (sw_predict(&then, w->arena, estimates, (int)u, with) != SW_OK)
            return NULL;
        double ratio = then.ratio;
        bool capped = use->rate_now_milli > 0 && use->rate_wanted_milli > 0;
        double most = capped ? fmax(1, (double)use->rate_wanted_milli / (double)use->rate_now_milli)
                             : INFINITY;
        terms = sw_arena_format(w->arena, "%s%s%s x log2(%s%s)", terms, u > 0 ? " + " : "",
                                rounded(w, (double)use->share_milli / (double)shares, 3),
                                rounded(w, fmin(ratio, most), 3),
                                ratio > most ? ", all that is wanted" : "");
    }
    return terms == NULL ? NULL
                         : sw_arena_format(w->arena,
                                           "100 x %s x (%s), rate then over rate now, use by "
                                           "use",
                                           rounded(w, weight, 3), terms);
}

static double looks_of(const sw_estimates *estimates, int criterion, const int *machine) {
    const sw_criterion *looks = &estimates->fitouts->catalog->criteria[criterion];
    double all = 0, sum = 0;
    for (size_t s = 0; s < looks->shows_count; s++)
        all += (double)looks->shows[s].weight_milli;
    for (size_t s = 0; s < looks->shows_count; s++)
        sum += (double)looks->shows[s].weight_milli / all *
               sw_looks_match(estimates, criterion, machine[looks->shows[s].role]);
    return sum;
}

static const char *formula(writing *w, const sw_estimates *estimates, int criterion, const int *now,
                           const int *with) {
    const sw_catalog *catalog = estimates->fitouts->catalog;
    double weight = estimates->fitouts->scenario->weights[criterion];
    switch (catalog->criteria[criterion].kind) {
    case SW_SPEED:
        return estimates->speed == SW_NONE ? "" : speed(w, estimates, with, weight);
    case SW_QUIET:
        return sw_arena_format(w->arena, "-100 x %s x log2(%s sone / %s sone)",
                               rounded(w, weight, 3),
                               rounded(w, sw_sound_of(estimates, with).loudness_sone, 3),
                               rounded(w, sw_sound_of(estimates, now).loudness_sone, 3));
    case SW_LOOKS: {
        double before = looks_of(estimates, criterion, now);
        double after = looks_of(estimates, criterion, with);
        return sw_arena_format(w->arena,
                               "100 x %s x (%s - %s) / (1 - %s): of what is missing to the "
                               "client's taste",
                               rounded(w, weight, 3), rounded(w, after, 3), rounded(w, before, 3),
                               rounded(w, before, 3));
    }
    default:
        return sw_arena_format(
            w->arena, "100 x %s x (rated then - rated now) / %s", rounded(w, weight, 3),
            rounded(w, (double)catalog->criteria[criterion].scale_milli / 1000, 0));
    }
}

const char *sw_points_formula(sw_arena *arena, const sw_estimates *estimates, int criterion,
                              const int *now, const int *with) {
    writing w = {.arena = arena};
    const char *text = formula(&w, estimates, criterion, now, with);
    return w.no_memory ? NULL : text;
}
