/*
 * Quiet: the sources of a machine added as powers, fans that turn only as fast as the
 * heat asks, what the case, the distance and the room make of it, and sones.
 */
#include "world.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static double real_of(const cJSON *object, const char *name, double otherwise) {
    const cJSON *found = get(object, name);
    return found ? found->valuedouble : otherwise;
}

static int fact_of(const World *w, const cJSON *object, const char *name) {
    const char *fact = text_of(object, name, NULL);
    return fact ? find_fact(w, fact) : -1;
}

/* Which share of its full work the role does over the client's uses. */
static double busy_share(const World *w, const cJSON *uses, const char *role) {
    const cJSON *wish;
    double done = 0.0, shares = 0.0;
    cJSON_ArrayForEach(wish, get(get(w->job, "wishes"), "uses")) {
        double share = need(wish, "share")->valuedouble;
        const cJSON *use = find_use(uses, text_of(wish, "use", ""));
        done += share * real_of(get(use, "busy"), role, 0.0);
        shares += share;
    }
    return shares > 0.0 ? done / shares : 1.0;
}

static void read_run(World *w, const cJSON *json, const cJSON *uses) {
    const char *busy = text_of(json, "busy", NULL), *least = text_of(json, "least", NULL);
    int own;
    Run *run = &w->quiet.run[find_role(w, text_of(json, "role", ""))];
    *run = (Run){.runs = true, .least = -1, .busy = busy ? busy_share(w, uses, busy) : 1.0};
    split_term(w, need(json, "by")->valuestring, &run->by_role, &run->by);
    split_term(w, need(json, "full")->valuestring, &own, &run->full);
    if (least)
        split_term(w, least, &own, &run->least);
}

void read_quiet(World *w, const cJSON *criterion, const cJSON *uses) {
    Quiet *q = &w->quiet;
    const cJSON *room = get(w->job, "room"), *measured = get(room, "machine_dba"), *json;
    *q = (Quiet){.scored = true, .loss_role = -1};
    q->noise = fact_of(w, criterion, "noise");
    q->declared = fact_of(w, criterion, "declared");
    q->steady = fact_of(w, criterion, "steady");
    q->tone = fact_of(w, criterion, "tone");
    if (get(criterion, "loss"))
        split_term(w, text_of(criterion, "loss", ""), &q->loss_role, &q->loss);
    q->at_m = real_of(criterion, "at_m", 0.5);
    q->distance_m = real_of(room, "distance_m", q->at_m);
    q->room_dba = real_of(room, "level_dba", 25.0);
    q->measured = measured != NULL;
    q->measured_dba = measured ? measured->valuedouble : 0.0;
    q->run = hold(w, (size_t)w->roles * sizeof *q->run);
    cJSON_ArrayForEach(json, get(criterion, "runs")) read_run(w, json, uses);
}

/* A fact that may not stand on the role: NULL. */
static const Cell *cell_of(const World *w, const Choice *c, int fact) {
    return fact >= 0 && w->fact[fact].on[c->role] ? &c->cell[fact] : NULL;
}

static bool add_power(const Cell *cell, long long *power) {
    if (cell && cell->state == UNKNOWN)
        return false;
    *power = cell ? cell->power : 0;
    return true;
}

bool hear(const World *w, Choice *c) {
    const Quiet *q = &w->quiet;
    const double pi = 3.14159265358979323846;
    long long noise, declared;
    if (!q->scored)
        return true;
    if (!add_power(cell_of(w, c, q->noise), &noise) ||
        !add_power(cell_of(w, c, q->declared), &declared) ||
        !add_power(cell_of(w, c, q->steady), &c->hum))
        return false;
    const Cell *tone = cell_of(w, c, q->tone);
    double added = tone && tone->state == KNOWN ? (double)tone->milli / 1000.0 : 0.0;
    c->fans = (double)noise + (double)declared / (2.0 * pi * q->at_m * q->at_m);
    c->whine = pow(10.0, added / 10.0);
    return true;
}

/* A number that is known and above 0, else 0. */
static double above_0(const Cell *cell) {
    return cell->state == KNOWN && cell->milli > 0 ? (double)cell->milli / 1000.0 : 0.0;
}

/* The share of their full speed at which the role's fans turn. */
static double speed_of_fans(const World *w, const Machine *m, int role) {
    const Run *run = &w->quiet.run[role];
    if (!run->runs)
        return 1.0;
    const Cell *heat = &m->at[run->by_role]->cell[run->by];
    double by = above_0(heat);
    double full = above_0(&m->at[role]->cell[run->full]);
    double least = run->least < 0 ? 0.0 : above_0(&m->at[role]->cell[run->least]);
    if (heat->state != KNOWN || full <= 0.0)
        return 1.0;
    double n = pow(run->busy * by / full, 1.25);
    n = n > 1.0 ? 1.0 : n;
    return n < least ? least : n;
}

static long long power_of(const World *w, const Machine *m, int role) {
    const Choice *c = m->at[role];
    return llround(c->fans * pow(speed_of_fans(w, m, role), 5.0) * c->whine) + c->hum;
}

/* N: the machine's level in half decibels, rounded up. */
static int half_decibels(const World *w, const Machine *m) {
    long long power = 0;
    int n = 0;
    for (int r = 0; r < w->roles; r++)
        power += power_of(w, m, r);
    while ((double)power > floor(10.0 * pow(10.0, (double)n / 20.0)))
        n++;
    return n;
}

/* What comes out of the case. */
static double level_outside(const World *w, const Machine *m) {
    const Quiet *q = &w->quiet;
    const Cell *loss = q->loss_role < 0 ? NULL : &m->at[q->loss_role]->cell[q->loss];
    double off = loss && loss->state == KNOWN ? (double)loss->milli / 1000.0 : 0.0;
    return (double)half_decibels(w, m) / 2.0 - off;
}

static double distance_db(const Quiet *q) { return 20.0 * log10(q->at_m / q->distance_m); }

static double power_at(double level) { return pow(10.0, level / 10.0); }

void calibrate(World *w) {
    Quiet *q = &w->quiet;
    if (!q->scored || !q->measured)
        return;
    Machine now = {hold(w, (size_t)w->roles * sizeof *now.at)};
    for (int r = 0; r < w->roles; r++)
        now.at[r] = w->role[r].today;
    double machine = 10.0 * log10(power_at(q->measured_dba) - power_at(q->room_dba));
    q->calibration_db = machine - (level_outside(w, &now) + distance_db(q));
}

double level_at_seat(const World *w, const Machine *m) {
    const Quiet *q = &w->quiet;
    double shift = distance_db(q) + q->calibration_db;
    return 10.0 * log10(power_at(level_outside(w, m) + shift) + power_at(q->room_dba));
}

double sones(const World *w, const Machine *m) {
    if (!w->quiet.scored)
        return 0.0;
    double level = level_at_seat(w, m);
    if (level >= 40.0)
        return pow(2.0, (level - 40.0) / 10.0);
    return pow((level > 0.001 ? level : 0.001) / 40.0, 2.642);
}

void print_sound(const World *w, const Machine *m) {
    printf("{\"seat_dba\":%.6f,\"seat_sone\":%.6f,\"machine_dba\":%.1f,\"calibration_db\":%.6f,"
           "\"sources\":[",
           level_at_seat(w, m), sones(w, m), (double)half_decibels(w, m) / 2.0,
           w->quiet.calibration_db);
    for (int r = 0; r < w->roles; r++)
        printf("%s{\"role\":\"%s\",\"power\":%lld,\"speed\":%.6f}", r ? "," : "", w->role[r].id,
               power_of(w, m, r), speed_of_fans(w, m, r));
    printf("]}");
}
