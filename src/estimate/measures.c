/* Values of measures: expressions over a whole machine, in intervals. */
#include "estimate/measures.h"

#include <math.h>
#include <string.h>

#include "formulas/formulas.h"

static const sw_interval nothing = {.state = SW_VOID};

static sw_interval unknown(sw_lack lack) {
    return (sw_interval){.state = SW_UNKNOWN, .lack = lack};
}

static sw_interval unknown_word(const char *text) {
    return unknown((sw_lack){SW_NONE, SW_NONE, text, text});
}

/* A number that is none tells nothing. */
static sw_interval between(double low, double mid, double high) {
    if (!isfinite(low) || !isfinite(mid) || !isfinite(high))
        return unknown_word("numbers that the formula is for");
    return (sw_interval){.state = SW_KNOWN, .low = low, .mid = mid, .high = high};
}

static sw_interval exactly(double value) { return between(value, value, value); }

static const sw_fitout *fitout_in(const sw_measuring *m, int role) {
    return &m->estimates->fitouts->fitouts[m->machine[role]];
}

static sw_lack lack_of(const sw_measuring *m, int role, int fact) {
    const sw_fact *of = &m->estimates->fitouts->catalog->facts[fact];
    return (sw_lack){role, fact, of->name, of->meaning};
}

/* ---- leaves ----------------------------------------------------------------------------- */

static sw_interval of_fact(const sw_measuring *m, int role, int fact) {
    const sw_expr expr = {.op = SW_EXPR_FACT, .role = role, .fact = fact};
    sw_number number = sw_expr_value(m->estimates->fitouts, &expr, fitout_in(m, role));
    if (number.state == SW_UNKNOWN)
        return unknown(lack_of(m, role, fact));
    return number.state == SW_VOID ? nothing : exactly(number.value);
}

static sw_interval of_every_role(const sw_measuring *m, int fact) {
    const sw_catalog *catalog = m->estimates->fitouts->catalog;
    double sum = 0;
    for (size_t r = 0; r < catalog->role_count; r++) {
        if (!catalog->facts[fact].on_role[r])
            continue;
        sw_interval one = of_fact(m, (int)r, fact);
        if (one.state == SW_UNKNOWN)
            return one;
        sum += one.state == SW_KNOWN ? one.mid : 0;
    }
    return exactly(sum);
}

static sw_interval of_sound(const sw_measuring *m, int word) {
    if (m->estimates->quiet == SW_NONE)
        return nothing;
    sw_sound sound = sw_sound_of(m->estimates, m->machine);
    switch (word) {
    case SW_SEAT_DBA:
        return exactly(sound.level_dba);
    case SW_SEAT_SONE:
        return exactly(sound.loudness_sone);
    case SW_MACHINE_DBA:
        return exactly(sound.level / 2.0);
    default:
        return exactly(sw_calibration_db(m->estimates));
    }
}

static sw_interval share_of_sound(const sw_measuring *m, int role) {
    const sw_estimates *estimates = m->estimates;
    double sum = 0;
    if (estimates->quiet == SW_NONE)
        return nothing;
    for (size_t r = 0; r < estimates->fitouts->catalog->role_count; r++)
        sum += (double)sw_noise_of(estimates, (int)r, m->machine);
    return sum > 0 ? exactly((double)sw_noise_of(estimates, role, m->machine) / sum) : nothing;
}

static sw_interval of_air(const sw_measuring *m, int word) {
    if (word == SW_RADIATOR_HEAT_OUT)
        return exactly(m->radiator_out ? 1 : 0);
    if (!m->air_known)
        return unknown(m->air_lack);
    switch (word) {
    case SW_THROUGH_M3_H:
        return exactly(m->air.through_m3_h);
    case SW_IN_M3_H:
        return exactly(m->air.in_m3_h);
    case SW_OUT_M3_H:
        return exactly(m->air.out_m3_h);
    default:
        return exactly(m->air.inside_pa);
    }
}

static sw_interval stated(int64_t milli, const char *name) {
    return milli < 0 ? unknown_word(name) : exactly((double)milli / 1000);
}

static sw_interval of_client(const sw_measuring *m, int word) {
    const sw_scenario *scenario = m->estimates->fitouts->scenario;
    switch (word) {
    case SW_ROOM_C:
        return stated(scenario->room_c_milli, "the room's temperature");
    case SW_ROOM_DBA:
        return stated(scenario->room_milli, "the room's level");
    case SW_DISTANCE_M:
        return stated(scenario->distance_milli, "the distance to the seat");
    case SW_PRICE_PER_KWH:
        return scenario->kwh_minor < 0 ? unknown_word("the price of electricity")
                                       : exactly((double)scenario->kwh_minor /
                                                 pow(10, scenario->catalog->currency_digits));
    case SW_MAINS_V:
        return exactly((double)scenario->mains_v);
    case SW_WORK_HOURS:
        return stated(scenario->work_hours_milli, "hours of work a day");
    default:
        return stated(scenario->idle_hours_milli, "idle hours a day");
    }
}

/* ---- operators -------------------------------------------------------------------------- */

typedef double binary(double a, double b);
static double sum_of(double a, double b) { return a + b; }
static double product_of(double a, double b) { return a * b; }
static double least_of(double a, double b) { return a < b ? a : b; }
static double most_of(double a, double b) { return a > b ? a : b; }
static double quotient_of(double a, double b) { return a / b; }

static sw_interval by_corners(binary *of, sw_interval a, sw_interval b) {
    double corners[4] = {of(a.low, b.low), of(a.low, b.high), of(a.high, b.low),
                         of(a.high, b.high)};
    double low = corners[0], high = corners[0];
    for (int i = 1; i < 4; i++) {
        low = least_of(low, corners[i]);
        high = most_of(high, corners[i]);
    }
    return between(low, of(a.mid, b.mid), high);
}

static sw_interval by_ends(binary *of, sw_interval a, sw_interval b) {
    return between(of(a.low, b.low), of(a.mid, b.mid), of(a.high, b.high));
}

static sw_interval join_two(sw_expr_op op, sw_interval a, sw_interval b) {
    switch (op) {
    case SW_EXPR_SUM:
        return by_ends(sum_of, a, b);
    case SW_EXPR_PRODUCT:
        return by_corners(product_of, a, b);
    case SW_EXPR_LEAST:
        return by_ends(least_of, a, b);
    default:
        return by_ends(most_of, a, b);
    }
}

/* Void operands are passed over. */
static sw_interval joined(const sw_measuring *m, const sw_expr *expr) {
    sw_interval all = nothing;
    for (size_t i = 0; i < expr->count; i++) {
        sw_interval one = sw_measured(m, &expr->operands[i]);
        if (one.state == SW_UNKNOWN)
            return one;
        if (one.state == SW_KNOWN)
            all = all.state == SW_KNOWN ? join_two(expr->op, all, one) : one;
        if (all.state == SW_UNKNOWN)
            return all;
    }
    return all;
}

static sw_interval of_two(const sw_measuring *m, const sw_expr *expr) {
    sw_interval a = sw_measured(m, &expr->operands[0]), b = sw_measured(m, &expr->operands[1]);
    if (a.state != SW_KNOWN)
        return a;
    if (b.state != SW_KNOWN)
        return b;
    if (expr->op == SW_EXPR_DIFFERENCE)
        return between(a.low - b.high, a.mid - b.mid, a.high - b.low);
    if (b.low <= 0 && b.high >= 0)
        return unknown_word("something other than 0 to divide by");
    return by_corners(quotient_of, a, b);
}

static sw_interval of_formula(const sw_measuring *m, const sw_expr *expr) {
    const sw_formula *formula = sw_formula_at((size_t)expr->index);
    sw_interval of[SW_FORMULA_ARGUMENTS] = {{0}};
    double x[SW_FORMULA_ARGUMENTS] = {0};
    for (int i = 0; i < formula->arguments; i++) {
        of[i] = sw_measured(m, &expr->operands[i]);
        if (of[i].state != SW_KNOWN)
            return of[i];
        x[i] = of[i].mid;
    }
    double mid = formula->of(x), low = mid, high = mid;
    for (int corner = 0; corner < 1 << formula->arguments; corner++) {
        for (int i = 0; i < formula->arguments; i++)
            x[i] = corner >> i & 1 ? of[i].high : of[i].low;
        double value = formula->of(x);
        if (!isfinite(value))
            return unknown_word("numbers that the formula is for");
        low = least_of(low, value);
        high = most_of(high, value);
    }
    return between(low, mid, high);
}

typedef struct line {
    const double *xs, *ys;
    size_t count;
} line;

static double on_line(const line *l, double x) { return sw_line_at(l->xs, l->ys, l->count, x); }

static sw_interval on_interval(const line *l, sw_interval x) {
    double low = least_of(on_line(l, x.low), on_line(l, x.high));
    double high = most_of(on_line(l, x.low), on_line(l, x.high));
    for (size_t i = 0; i < l->count; i++)
        if (l->xs[i] > x.low && l->xs[i] < x.high) {
            low = least_of(low, l->ys[i]);
            high = most_of(high, l->ys[i]);
        }
    return between(low, on_line(l, x.mid), high);
}

static sw_interval on_row(const sw_table *table, const char *token, sw_interval x) {
    for (size_t r = 0; r < table->row_count; r++) {
        const sw_table_row *row = &table->rows[r];
        if (strcmp(row->id, token) != 0)
            continue;
        line l = {row->xs, row->ys, row->count};
        if (!table->ends_stay && (x.mid < l.xs[0] || x.mid > l.xs[l.count - 1]))
            return unknown_word(table->id);
        return on_interval(&l, x);
    }
    return unknown_word(table->id);
}

static sw_interval of_row(const sw_measuring *m, const sw_expr *expr) {
    const sw_fitouts *fitouts = m->estimates->fitouts;
    const sw_value *value = sw_fitout_value(fitouts, fitout_in(m, expr->role), expr->fact);
    if (value->state == SW_UNKNOWN)
        return unknown(lack_of(m, expr->role, expr->fact));
    sw_interval x = sw_measured(m, &expr->operands[0]);
    if (x.state != SW_KNOWN || value->state == SW_VOID || value->token_count == 0)
        return x.state == SW_UNKNOWN ? x : nothing;
    sw_interval all = nothing;
    for (size_t t = 0; t < value->token_count; t++) {
        sw_interval one = on_row(&fitouts->catalog->tables[expr->index], value->tokens[t], x);
        if (one.state == SW_UNKNOWN)
            return one;
        all = all.state == SW_KNOWN ? by_ends(least_of, all, one) : one;
    }
    return all;
}

static sw_interval of_pick(const sw_measuring *m, const sw_expr *expr) {
    sw_number number = sw_expr_value(m->estimates->fitouts, expr, fitout_in(m, expr->role));
    if (number.state == SW_UNKNOWN)
        return unknown(lack_of(m, expr->role, expr->fact));
    return number.state == SW_VOID ? nothing : exactly(number.value);
}

static sw_interval of_one(const sw_measuring *m, const sw_expr *expr) {
    sw_interval x = sw_measured(m, &expr->operands[0]);
    if (x.state != SW_KNOWN)
        return x;
    if (expr->op == SW_EXPR_TABLE) {
        line l = {expr->xs, expr->ys, expr->point_count};
        return on_interval(&l, x);
    }
    if (expr->op == SW_EXPR_LOG2)
        return between(log2(x.low), log2(x.mid), log2(x.high));
    double e = expr->number;
    double a = pow(x.low, e), b = pow(x.high, e);
    return between(least_of(a, b), pow(x.mid, e), most_of(a, b));
}

/* Recursion is bounded: the file's nesting is at most 64, and measures were made before. */
sw_interval sw_measured(const sw_measuring *m, const sw_expr *expr) {
    switch (expr->op) {
    case SW_EXPR_NUMBER:
        return exactly(expr->number);
    case SW_EXPR_FACT:
        return of_fact(m, expr->role, expr->fact);
    case SW_EXPR_EVERY:
        return of_every_role(m, expr->fact);
    case SW_EXPR_PICK:
        return of_pick(m, expr);
    case SW_EXPR_MEASURE:
        return m->values[expr->index];
    case SW_EXPR_ABOUT:
        return between(expr->least, expr->number, expr->most);
    case SW_EXPR_BUSY:
        return exactly(m->estimates->busy[expr->role]);
    case SW_EXPR_SOUND:
        return of_sound(m, expr->index);
    case SW_EXPR_SHARE_OF_SOUND:
        return share_of_sound(m, expr->role);
    case SW_EXPR_SPEED_OF:
        return exactly(sw_speed_of(m->estimates, expr->role, m->machine));
    case SW_EXPR_HELD_BACK_BY:
        return exactly(m->held_back[expr->role]);
    case SW_EXPR_AIR:
        return of_air(m, expr->index);
    case SW_EXPR_CLIENT:
        return of_client(m, expr->index);
    case SW_EXPR_DIFFERENCE:
    case SW_EXPR_QUOTIENT:
        return of_two(m, expr);
    case SW_EXPR_FORMULA:
        return of_formula(m, expr);
    case SW_EXPR_ROW:
        return of_row(m, expr);
    case SW_EXPR_POWER:
    case SW_EXPR_LOG2:
    case SW_EXPR_TABLE:
        return of_one(m, expr);
    default:
        return joined(m, expr);
    }
}

/* One drive with bad sectors is enough, whatever nobody knows of the other: of a fact that
 * combines as the most, "at least n" is true once a piece says so. */
static bool some_piece_tells(const sw_measuring *m, const sw_cond *cond) {
    if (cond->negated || (cond->op != SW_COND_LEAST && cond->op != SW_COND_MOST))
        return false;
    const sw_value *value =
        sw_fitout_value(m->estimates->fitouts, fitout_in(m, cond->role), cond->fact);
    sw_combine combine = m->estimates->fitouts->catalog->facts[cond->fact].combine;
    if (!value->some)
        return false;
    return cond->op == SW_COND_LEAST ? combine == SW_MOST && value->milli >= cond->milli
                                     : combine == SW_LEAST && value->milli <= cond->milli;
}

sw_truth sw_finding_truth(const sw_measuring *m, const sw_finding_cond *cond) {
    const sw_fitouts *fitouts = m->estimates->fitouts;
    if (!cond->on_measure) {
        int role = cond->cond.role;
        if (role != SW_NONE && some_piece_tells(m, &cond->cond))
            return SW_TRUE;
        return sw_cond_truth(fitouts, &cond->cond, role == SW_NONE ? NULL : fitout_in(m, role));
    }
    sw_interval value = m->values[cond->measure];
    if (value.state == SW_UNKNOWN)
        return SW_MAYBE;
    bool holds = value.state == SW_KNOWN &&
                 (cond->at_least ? value.mid >= cond->bound : value.mid <= cond->bound);
    return holds != cond->negated ? SW_TRUE : SW_FALSE;
}

/* ---- air ----------------------------------------------------------------------------------- */

typedef struct fans {
    sw_air_fan *list;
    size_t count;
} fans;

static bool moves_air(const sw_thing *thing) {
    return strcmp(thing->kind, "fan") == 0 || strcmp(thing->kind, "radiator") == 0;
}

static void add_fans(fans *all, const sw_thing *thing, sw_blows blows, int count) {
    for (int i = 0; i < count; i++)
        all->list[all->count++] =
            (sw_air_fan){(double)thing->air_milli / 1000, (double)thing->stall_milli / 1000,
                         blows == SW_BLOWS_IN};
}

/* Things that do not say which way they blow, by where they stand. False when one of them
 * stands nowhere. */
static bool add_standing(const sw_measuring *m, const sw_thing *thing, fans *all) {
    int left = thing->count;
    for (size_t i = 0; i < m->stand_count; i++)
        if (m->stands[i].thing == thing && m->stands[i].blows != SW_BLOWS_UNSTATED &&
            m->stands[i].count <= left) {
            add_fans(all, thing, m->stands[i].blows, m->stands[i].count);
            left -= m->stands[i].count;
        }
    return left == 0;
}

static bool take_in(sw_measuring *m, int role, int fact, fans *all) {
    const sw_catalog *catalog = m->estimates->fitouts->catalog;
    const sw_value *value = sw_fitout_value(m->estimates->fitouts, fitout_in(m, role), fact);
    m->air_lack = (sw_lack){role, fact, catalog->facts[fact].name,
                            "which way each fan blows, its air and its pressure"};
    if (value->state == SW_UNKNOWN)
        return false;
    for (size_t t = 0; t < value->thing_count; t++) {
        const sw_thing *thing = &value->things[t];
        bool moves = thing->air_milli > 0 && thing->stall_milli > 0;
        bool radiator = strcmp(thing->kind, "radiator") == 0;
        if (radiator && role == catalog->radiator_role && thing->blows == SW_BLOWS_OUT)
            m->radiator_out = true;
        if (moves && thing->blows != SW_BLOWS_UNSTATED)
            add_fans(all, thing, thing->blows, thing->count);
        else if (moves_air(thing) && (!moves || !add_standing(m, thing, all)))
            return false;
    }
    return true;
}

static size_t count_things(const sw_measuring *m) {
    const sw_catalog *catalog = m->estimates->fitouts->catalog;
    size_t count = 0;
    for (size_t r = 0; r < catalog->role_count; r++)
        for (size_t f = 0; f < catalog->fact_count; f++) {
            const sw_value *value =
                sw_fitout_value(m->estimates->fitouts, fitout_in(m, (int)r), (int)f);
            for (size_t t = 0; t < value->thing_count; t++)
                count += (size_t)value->things[t].count;
        }
    return count;
}

static sw_status find_air(sw_measuring *m, sw_arena *arena) {
    const sw_catalog *catalog = m->estimates->fitouts->catalog;
    fans all = {SW_NEW(arena, sw_air_fan, (count_things(m) + 1) * (catalog->air_thing_count + 1)),
                0};
    if (all.list == NULL)
        return SW_NO_MEMORY;
    m->air_lack = (sw_lack){SW_NONE, SW_NONE, "air", "measures.json says nothing of air"};
    if (catalog->vents_cm2.fact == SW_NONE)
        return SW_OK;
    for (size_t i = 0; i < catalog->air_thing_count; i++) {
        const sw_term *term = &catalog->air_things[i];
        for (size_t r = 0; r < catalog->role_count; r++)
            if ((term->role == SW_EVERY_ROLE || term->role == (int)r) &&
                catalog->facts[term->fact].on_role[r] && !take_in(m, (int)r, term->fact, &all))
                return SW_OK;
    }
    sw_interval vents = of_fact(m, catalog->vents_cm2.role, catalog->vents_cm2.fact);
    m->air_lack = vents.lack;
    m->air_known = vents.state != SW_UNKNOWN &&
                   sw_air_through(&m->air, NULL, all.list, all.count,
                                  vents.state == SW_KNOWN ? vents.mid : 0) == SW_OK;
    return SW_OK;
}

sw_status sw_measuring_make(sw_measuring *out, sw_arena *arena, const sw_estimates *estimates,
                            const int *machine, const sw_air_stand *stands, size_t stand_count) {
    const sw_catalog *catalog = estimates->fitouts->catalog;
    *out = (sw_measuring){.arena = arena,
                          .estimates = estimates,
                          .machine = machine,
                          .stands = stands,
                          .stand_count = stand_count};
    out->values = SW_NEW(arena, sw_interval, catalog->measure_count);
    out->held_back = SW_NEW(arena, double, catalog->role_count);
    if (out->values == NULL || out->held_back == NULL || find_air(out, arena) != SW_OK ||
        sw_held_back_by(out->held_back, arena, estimates, machine) != SW_OK)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < catalog->measure_count; i++)
        out->values[i] = sw_measured(out, catalog->measures[i].is);
    return SW_OK;
}
