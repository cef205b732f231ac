/* The stage as a whole: every criterion, and the points of a machine. */
#include "estimate/stage.h"

#include <math.h>
#include <stdlib.h>

#define SW_POINTS_LIMIT INT64_C(1000000000000) /* thousandths in one term */

int64_t sw_thousandths(double points) {
    int64_t out = 0;
    if (!sw_round(&out, 1000.0 * points) || out > SW_POINTS_LIMIT || out < -SW_POINTS_LIMIT)
        return points > 0 ? SW_POINTS_LIMIT : -SW_POINTS_LIMIT;
    return out;
}

void sw_complain_of_fact(const sw_fitouts *fitouts, int role, int fact, const char *why,
                         sw_complaints *complaints) {
    const sw_catalog *catalog = fitouts->catalog;
    const char *name = fact == SW_NONE ? "pieces" : catalog->facts[fact].name;
    char *place = sw_arena_format(fitouts->arena, "$.machine.%s", catalog->roles[role].id);
    char *mend = sw_arena_format(
        fitouts->arena,
        "state \"%s\" in the facts of the present part, in the scenario or the catalog (swapworth "
        "intake piece names the part, or states a fact by --set)",
        name);
    sw_complain(complaints, fitouts->scenario->file, place, why, mend,
                "the present %s lacks a usable %s", catalog->roles[role].name, name);
}

sw_status sw_leave_out(sw_fitouts *fitouts, const sw_fitout *fitout, int fact) {
    for (int i = 0; i < fitout->added_count; i++) {
        const sw_value *value = &fitouts->scenario->parts[fitout->added[i].part].values[fact];
        if (value->state == SW_UNKNOWN &&
            !sw_left_out_add(fitouts, fitout->added[i].part, SW_OUT_UNKNOWN, fact))
            return SW_NO_MEMORY;
    }
    return SW_OK;
}

static sw_status allocate(sw_estimates *estimates) {
    const sw_fitouts *fitouts = estimates->fitouts;
    size_t criteria = fitouts->catalog->criterion_count;
    estimates->serves = SW_NEW(estimates->arena, bool, fitouts->fitout_count);
    estimates->added = SW_NEW(estimates->arena, int64_t *, criteria);
    estimates->added_base = SW_NEW(estimates->arena, int64_t, criteria);
    if (estimates->serves == NULL || estimates->added == NULL || estimates->added_base == NULL)
        return SW_NO_MEMORY;
    for (size_t f = 0; f < fitouts->fitout_count; f++)
        estimates->serves[f] = true;
    return SW_OK;
}

static void find_kinds(sw_estimates *estimates) {
    const sw_scenario *scenario = estimates->fitouts->scenario;
    for (size_t c = 0; c < scenario->catalog->criterion_count; c++) {
        sw_criterion_kind kind = scenario->catalog->criteria[c].kind;
        if (kind == SW_SPEED && scenario->use_count > 0)
            estimates->speed = (int)c;
        if (kind == SW_QUIET)
            estimates->quiet = (int)c;
    }
}

sw_status sw_estimates_make(sw_estimates **out, sw_fitouts *fitouts, sw_complaints *complaints) {
    sw_arena *arena = sw_arena_new();
    sw_estimates *estimates = arena == NULL ? NULL : SW_NEW(arena, sw_estimates, 1);
    if (estimates == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    estimates->arena = arena;
    estimates->fitouts = fitouts;
    estimates->speed = estimates->quiet = estimates->loss_role = SW_NONE;
    size_t before = sw_complaints_count(complaints);
    sw_status status = allocate(estimates);
    if (status == SW_OK) {
        find_kinds(estimates);
        status = sw_busy_make(estimates);
    }
    if (status == SW_OK) {
        status = sw_speed_make(estimates, complaints);
    }
    if (status == SW_OK)
        status = sw_quiet_make(estimates, complaints);
    if (status == SW_OK && sw_complaints_count(complaints) > before)
        status = SW_BAD_DATA;
    if (status == SW_OK)
        *out = estimates;
    else
        sw_estimates_free(estimates);
    return status;
}

static int64_t added_points(const sw_estimates *estimates, size_t criterion, const int *machine) {
    int64_t points = 0;
    for (size_t r = 0; r < estimates->fitouts->catalog->role_count; r++)
        points += estimates->added[criterion][machine[r]];
    return points;
}

sw_status sw_estimates_finish(sw_estimates *estimates, const int *baseline) {
    const sw_catalog *catalog = estimates->fitouts->catalog;
    sw_status status = sw_speed_finish(estimates, baseline);
    sw_quiet_finish(estimates, baseline);
    for (size_t c = 0; c < catalog->criterion_count && status == SW_OK; c++) {
        sw_criterion_kind kind = catalog->criteria[c].kind;
        if (kind == SW_LOOKS)
            status = sw_looks_make(estimates, (int)c, baseline);
        else if (kind == SW_RATED)
            status = sw_rated_make(estimates, (int)c);
        if (status == SW_OK && estimates->added[c] != NULL)
            estimates->added_base[c] = added_points(estimates, c, baseline);
    }
    return status;
}

int64_t sw_points(const sw_estimates *estimates, const int *machine, int64_t *by_criterion) {
    int64_t sum = 0;
    for (size_t c = 0; c < estimates->fitouts->catalog->criterion_count; c++) {
        int64_t points = 0;
        if ((int)c == estimates->speed)
            points = sw_speed_points(estimates, machine);
        else if ((int)c == estimates->quiet)
            points = sw_quiet_points(estimates, machine);
        else if (estimates->added[c] != NULL)
            points = added_points(estimates, c, machine) - estimates->added_base[c];
        if (by_criterion != NULL)
            by_criterion[c] = points;
        sum += points;
    }
    return sum;
}

void sw_estimates_free(sw_estimates *estimates) {
    if (estimates == NULL)
        return;
    free(estimates->alternatives);
    sw_arena_free(estimates->arena);
}
