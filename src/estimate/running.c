/* The power of each source of sound: levels as stated, fans slowed to what the heat asks.
 * catalog/FORMATS.md section 8, quiet. */
#include "estimate/stage.h"

#include <math.h>
#include <stdlib.h>

#define PI 3.14159265358979323846

static const sw_criterion *criterion_of(const sw_estimates *estimates) {
    return &estimates->fitouts->catalog->criteria[estimates->quiet];
}

static const sw_runs *runs_of(const sw_estimates *estimates, int role) {
    const sw_criterion *criterion = criterion_of(estimates);
    for (size_t i = 0; i < criterion->runs_count; i++)
        if (criterion->runs[i].role == role)
            return &criterion->runs[i];
    return NULL;
}

sw_status sw_busy_make(sw_estimates *estimates) {
    const sw_scenario *scenario = estimates->fitouts->scenario;
    size_t roles = scenario->catalog->role_count;
    estimates->busy = SW_NEW(estimates->arena, double, roles);
    if (estimates->busy == NULL)
        return SW_NO_MEMORY;
    for (size_t r = 0; r < roles; r++) {
        int64_t shares = 0, busy = 0;
        for (size_t u = 0; u < scenario->use_count; u++) {
            const sw_use *use = &scenario->catalog->uses[scenario->uses[u].use];
            shares += scenario->uses[u].share_milli;
            busy += scenario->uses[u].share_milli * use->busy_milli[r];
        }
        estimates->busy[r] = shares > 0 ? (double)busy / (double)(shares * 1000) : 1;
    }
    return SW_OK;
}

static double known_or(const sw_value *value, double otherwise) {
    return value->state == SW_KNOWN ? (double)value->milli / 1000 : otherwise;
}

/* How fast the fans of `fitout` turn when `by` stands in the role that drives them. */
static double speed_with(const sw_estimates *estimates, const sw_runs *runs,
                         const sw_fitout *fitout, const sw_fitout *by) {
    const sw_fitouts *fitouts = estimates->fitouts;
    const sw_value *heat = sw_fitout_value(fitouts, by, runs->by.fact);
    const sw_value *full = sw_fitout_value(fitouts, fitout, runs->full.fact);
    if (heat->state != SW_KNOWN || full->state != SW_KNOWN || full->milli <= 0)
        return 1;
    double given = heat->milli > 0 ? (double)heat->milli / 1000 : 0;
    double least = runs->least.fact == SW_NONE
                       ? 0
                       : known_or(sw_fitout_value(fitouts, fitout, runs->least.fact), 0);
    double asked = estimates->busy[runs->busy] * given / ((double)full->milli / 1000);
    double speed = pow(asked, 1.25);
    speed = speed < 1 ? speed : 1;
    return speed > least ? speed : least;
}

static int64_t power_of(const sw_fitouts *fitouts, const sw_fitout *fitout, int fact) {
    return fact == SW_NONE ? 0 : sw_fitout_value(fitouts, fitout, fact)->power;
}

static int64_t power_at_speed(const sw_estimates *estimates, const sw_fitout *fitout,
                              double speed) {
    const sw_fitouts *fitouts = estimates->fitouts;
    const sw_criterion *criterion = criterion_of(estimates);
    double at = (double)criterion->at_milli / 1000;
    double moving =
        (double)power_of(fitouts, fitout, criterion->noise_fact) +
        (double)power_of(fitouts, fitout, criterion->declared_fact) / (2 * PI * at * at);
    double tone = criterion->tone_fact == SW_NONE
                      ? 0
                      : known_or(sw_fitout_value(fitouts, fitout, criterion->tone_fact), 0);
    int64_t power = 0;
    if (!sw_round(&power, moving * pow(speed, 5) * pow(10, tone / 10)))
        power = INT64_MAX / 64;
    return power + power_of(fitouts, fitout, criterion->steady_fact);
}

static sw_status check_known(sw_estimates *estimates, size_t f, int fact,
                             sw_complaints *complaints) {
    sw_fitouts *fitouts = estimates->fitouts;
    const sw_fitout *fitout = &fitouts->fitouts[f];
    if (fact == SW_NONE || sw_fitout_value(fitouts, fitout, fact)->state != SW_UNKNOWN)
        return SW_OK;
    estimates->serves[f] = false;
    if (fitouts->present[fitout->role] == (int)f)
        sw_complain_of_fact(fitouts, fitout->role, fact, "how loud the machine is depends on it",
                            complaints);
    return sw_leave_out(fitouts, fitout, fact);
}

/* Classes of the driver's fit-outs by the heat they give. */
static sw_status classify(sw_estimates *estimates, const sw_runs *runs, sw_running *out,
                          int *one_of) {
    const sw_fitouts *fitouts = estimates->fitouts;
    int first = fitouts->first_fitout[out->driver];
    int end = fitouts->first_fitout[out->driver + 1];
    for (int f = first; f < end; f++) {
        const sw_value *heat = sw_fitout_value(fitouts, &fitouts->fitouts[f], runs->by.fact);
        int class = 0;
        for (; class < out->class_count; class ++) {
            const sw_value *other =
                sw_fitout_value(fitouts, &fitouts->fitouts[one_of[class]], runs->by.fact);
            if (other->state == heat->state && other->milli == heat->milli)
                break;
        }
        if (class == out->class_count)
            one_of[out->class_count++] = f;
        out->class_of[f - first] = class;
    }
    return SW_OK;
}

static sw_status make_table(sw_estimates *estimates, const sw_runs *runs, sw_running *out) {
    const sw_fitouts *fitouts = estimates->fitouts;
    size_t drivers =
        (size_t)(fitouts->first_fitout[out->driver + 1] - fitouts->first_fitout[out->driver]);
    int first = fitouts->first_fitout[out->role];
    int count = fitouts->first_fitout[out->role + 1] - first;
    int *one_of = SW_NEW(estimates->arena, int, drivers);
    out->class_of = SW_NEW(estimates->arena, int, drivers);
    if (one_of == NULL || out->class_of == NULL)
        return SW_NO_MEMORY;
    sw_status status = classify(estimates, runs, out, one_of);
    out->noise = SW_NEW(estimates->arena, int64_t, (size_t)(out->class_count * count));
    if (status != SW_OK || out->noise == NULL)
        return SW_NO_MEMORY;
    for (int class = 0; class < out->class_count; class ++)
        for (int k = 0; k < count; k++) {
            const sw_fitout *fitout = &fitouts->fitouts[first + k];
            double speed = speed_with(estimates, runs, fitout, &fitouts->fitouts[one_of[class]]);
            int64_t power = power_at_speed(estimates, fitout, speed);
            out->noise[class * count + k] = power;
            if (class == 0 || power < estimates->noise[first + k])
                estimates->noise[first + k] = power;
        }
    return SW_OK;
}

static sw_status make_running(sw_estimates *estimates) {
    const sw_criterion *criterion = criterion_of(estimates);
    estimates->running = SW_NEW(estimates->arena, sw_running, criterion->runs_count);
    if (estimates->running == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < criterion->runs_count; i++) {
        const sw_runs *runs = &criterion->runs[i];
        if (runs->by.role == runs->role)
            continue;
        sw_running *out = &estimates->running[estimates->running_count++];
        *out = (sw_running){.role = runs->role, .driver = runs->by.role};
        sw_status status = make_table(estimates, runs, out);
        if (status != SW_OK)
            return status;
    }
    return SW_OK;
}

sw_status sw_running_make(sw_estimates *estimates, sw_complaints *complaints) {
    const sw_fitouts *fitouts = estimates->fitouts;
    const sw_criterion *criterion = criterion_of(estimates);
    sw_status status = SW_OK;
    for (size_t f = 0; f < fitouts->fitout_count && status == SW_OK; f++) {
        const sw_fitout *fitout = &fitouts->fitouts[f];
        const sw_runs *runs = runs_of(estimates, fitout->role);
        bool own = runs != NULL && runs->by.role == fitout->role;
        double speed = own ? speed_with(estimates, runs, fitout, fitout) : 1;
        estimates->noise[f] = power_at_speed(estimates, fitout, speed);
        status = check_known(estimates, f, criterion->noise_fact, complaints);
        if (status == SW_OK)
            status = check_known(estimates, f, criterion->declared_fact, complaints);
        if (status == SW_OK)
            status = check_known(estimates, f, criterion->steady_fact, complaints);
    }
    return status == SW_OK ? make_running(estimates) : status;
}

int64_t sw_noise_of(const sw_estimates *estimates, int role, const int *machine) {
    const sw_fitouts *fitouts = estimates->fitouts;
    for (size_t i = 0; i < estimates->running_count; i++) {
        const sw_running *running = &estimates->running[i];
        if (running->role != role)
            continue;
        int first = fitouts->first_fitout[role];
        int count = fitouts->first_fitout[role + 1] - first;
        int driver = machine[running->driver] - fitouts->first_fitout[running->driver];
        return running->noise[running->class_of[driver] * count + machine[role] - first];
    }
    return estimates->noise[machine[role]];
}

double sw_speed_of(const sw_estimates *estimates, int role, const int *machine) {
    const sw_fitouts *fitouts = estimates->fitouts;
    const sw_runs *runs = estimates->quiet == SW_NONE ? NULL : runs_of(estimates, role);
    return runs == NULL ? 1
                        : speed_with(estimates, runs, &fitouts->fitouts[machine[role]],
                                     &fitouts->fitouts[machine[runs->by.role]]);
}
