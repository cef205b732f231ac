/* Quiet: sources add as powers, the sum is read up to a half-dB grid, the case
 * takes some away, the room adds its own; what counts is loudness in sones. */
#include "estimate/stage.h"

#include <math.h>
#include <stdlib.h>

#define SW_LEVEL_MOST 400 /* 200 dB: beyond any sum of powers we can hold */

static double decibels(double power) { return 10 * log10(power); }

static double at_seat(const sw_estimates *estimates, int level, int class) {
    double loss = (double)estimates->loss_milli[class] / 1000;
    double room = (double)estimates->fitouts->scenario->room_milli / 1000;
    return decibels(pow(10, (level / 2.0 - loss + estimates->shift_db) / 10) + pow(10, room / 10));
}

static sw_status make_classes(sw_estimates *estimates, const sw_term *loss) {
    const sw_fitouts *fitouts = estimates->fitouts;
    estimates->loss_role = loss->role;
    size_t first = (size_t)fitouts->first_fitout[loss->role];
    size_t end = (size_t)fitouts->first_fitout[loss->role + 1];
    estimates->loss_milli = SW_NEW(estimates->arena, int64_t, end - first + 1);
    if (estimates->loss_milli == NULL)
        return SW_NO_MEMORY;
    for (size_t f = first; f < end; f++) {
        const sw_value *value = sw_fitout_value(fitouts, &fitouts->fitouts[f], loss->fact);
        int64_t milli = value->state == SW_KNOWN ? value->milli : 0;
        int class = 0;
        while (class < estimates->class_count && estimates->loss_milli[class] != milli)
            class ++;
        if (class == estimates->class_count)
            estimates->loss_milli[estimates->class_count++] = milli;
        estimates->loss_class[f] = class;
    }
    return SW_OK;
}

static int64_t loudest(const sw_estimates *estimates) {
    const sw_fitouts *fitouts = estimates->fitouts;
    int64_t sum = 0;
    for (size_t r = 0; r < fitouts->catalog->role_count; r++) {
        int64_t most = 0;
        for (int f = fitouts->first_fitout[r]; f < fitouts->first_fitout[r + 1]; f++)
            most = estimates->noise[f] > most ? estimates->noise[f] : most;
        for (size_t i = 0; i < estimates->running_count; i++) {
            const sw_running *running = &estimates->running[i];
            int count = fitouts->first_fitout[r + 1] - fitouts->first_fitout[r];
            for (int k = 0; running->role == (int)r && k < running->class_count * count; k++)
                most = running->noise[k] > most ? running->noise[k] : most;
        }
        if (!sw_add(&sum, sum, most))
            return INT64_MAX;
    }
    return sum;
}

static int64_t power_at(int level) {
    double power = floor(10 * pow(10, level / 20.0));
    return power < 9e18 ? (int64_t)power : INT64_MAX;
}

static sw_status make_levels(sw_estimates *estimates) {
    int64_t most = loudest(estimates);
    int count = 1;
    while (power_at(count - 1) < most && count < SW_LEVEL_MOST)
        count++;
    estimates->level_count = count;
    size_t cells = (size_t)count * (size_t)estimates->class_count;
    estimates->level_power = SW_NEW(estimates->arena, int64_t, (size_t)count);
    estimates->level_points = SW_NEW(estimates->arena, int64_t, cells);
    estimates->level_allowed = SW_NEW(estimates->arena, bool, cells);
    if (estimates->level_power == NULL || estimates->level_points == NULL ||
        estimates->level_allowed == NULL)
        return SW_NO_MEMORY;
    double weight = estimates->fitouts->scenario->weights[estimates->quiet];
    for (int level = 0; level < count; level++) {
        estimates->level_power[level] = power_at(level);
        if (level == count - 1 && estimates->level_power[level] < most)
            estimates->level_power[level] = most;
        for (int class = 0; class < estimates->class_count; class ++)
            estimates->level_points[class * count + level] =
                sw_thousandths(-100 * weight * log2(sw_sones(at_seat(estimates, level, class))));
    }
    return SW_OK;
}

static void make_limit(sw_estimates *estimates) {
    const sw_fitouts *fitouts = estimates->fitouts;
    double limit = (double)fitouts->scenario->loudness_limit_milli / 1000;
    double now = sw_sound_of(estimates, fitouts->present).loudness_sone;
    for (int class = 0; class < estimates->class_count; class ++)
        for (int level = 0; level < estimates->level_count; level++) {
            double sones = sw_sones(at_seat(estimates, level, class));
            estimates->level_allowed[class * estimates->level_count + level] =
                limit < 0 || sones <= limit || sones <= now;
        }
}

void sw_quieten(sw_estimates *estimates, double sones_most) {
    for (int class = 0; class < estimates->class_count; class ++)
        for (int level = 0; level < estimates->level_count; level++)
            if (sw_sones(at_seat(estimates, level, class)) > sones_most)
                estimates->level_allowed[class * estimates->level_count + level] = false;
}

/* Least level of the grid that holds the power. */
static int level_of(int64_t power) {
    int level = 0;
    while (power_at(level) < power && level < SW_LEVEL_MOST)
        level++;
    return level;
}

/* By the distance; and by what a level measured at the seat says of the present machine. */
static void make_shift(sw_estimates *estimates, const sw_criterion *criterion) {
    const sw_fitouts *fitouts = estimates->fitouts;
    const sw_scenario *scenario = fitouts->scenario;
    double at = (double)criterion->at_milli / 1000;
    double seat = scenario->distance_milli < 0 ? at : (double)scenario->distance_milli / 1000;
    estimates->shift_db = sw_distance_change_db(at, seat);
    if (scenario->machine_milli < 0)
        return;
    int64_t power = 0;
    for (size_t r = 0; r < fitouts->catalog->role_count; r++)
        if (!sw_add(&power, power, sw_noise_of(estimates, (int)r, fitouts->present)))
            power = INT64_MAX;
    int class = estimates->loss_class[fitouts->present[estimates->loss_role]];
    double told =
        level_of(power) / 2.0 - (double)estimates->loss_milli[class] / 1000 + estimates->shift_db;
    estimates->calibration_db = sw_level_without_db((double)scenario->machine_milli / 1000,
                                                    (double)scenario->room_milli / 1000) -
                                told;
    estimates->shift_db += estimates->calibration_db;
}

double sw_calibration_db(const sw_estimates *estimates) { return estimates->calibration_db; }

sw_status sw_quiet_make(sw_estimates *estimates, sw_complaints *complaints) {
    const sw_fitouts *fitouts = estimates->fitouts;
    estimates->noise = SW_NEW(estimates->arena, int64_t, fitouts->fitout_count);
    estimates->loss_class = SW_NEW(estimates->arena, int, fitouts->fitout_count);
    if (estimates->noise == NULL || estimates->loss_class == NULL)
        return SW_NO_MEMORY;
    if (estimates->quiet == SW_NONE)
        return SW_OK;
    const sw_criterion *criterion = &fitouts->catalog->criteria[estimates->quiet];
    sw_status status = sw_running_make(estimates, complaints);
    if (status == SW_OK)
        status = make_classes(estimates, &criterion->loss);
    if (status == SW_OK)
        make_shift(estimates, criterion);
    if (status == SW_OK)
        status = make_levels(estimates);
    if (status == SW_OK)
        make_limit(estimates);
    return status;
}

sw_sound sw_sound_of(const sw_estimates *estimates, const int *machine) {
    sw_sound sound = {0};
    if (estimates->quiet == SW_NONE)
        return sound;
    int64_t power = 0;
    for (size_t r = 0; r < estimates->fitouts->catalog->role_count; r++)
        if (!sw_add(&power, power, sw_noise_of(estimates, (int)r, machine)))
            power = INT64_MAX;
    while (sound.level < estimates->level_count - 1 && estimates->level_power[sound.level] < power)
        sound.level++;
    sound.loss_class = estimates->loss_class[machine[estimates->loss_role]];
    sound.level_dba = at_seat(estimates, sound.level, sound.loss_class);
    sound.loudness_sone = sw_sones(sound.level_dba);
    return sound;
}

static int64_t points_of(const sw_estimates *estimates, const int *machine) {
    if (estimates->quiet == SW_NONE)
        return 0;
    sw_sound sound = sw_sound_of(estimates, machine);
    return estimates->level_points[sound.loss_class * estimates->level_count + sound.level];
}

void sw_quiet_finish(sw_estimates *estimates, const int *baseline) {
    estimates->level_base = points_of(estimates, baseline);
}

int64_t sw_quiet_points(const sw_estimates *estimates, const int *machine) {
    return points_of(estimates, machine) - estimates->level_base;
}
