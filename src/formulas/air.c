/* Air through a case: fans and openings between the inside and the room, one pressure
 * inside. Flows fall as that pressure rises, so there is one at which they add up to 0. */
#include "swapworth.h"

#include <math.h>

#define AIR_KG_M3 1.204
#define ORIFICE 0.6 /* discharge of a sharp opening: ISO 5167's order of size */
#define HALVINGS 200

/* Flow against its loss: sign(x) sqrt(|x|). */
static double root(double x) { return x < 0 ? -sqrt(-x) : sqrt(x); }

/* Along the way it blows, m3/h, with `against` Pa in its way. */
static double fan_flow(const sw_air_fan *fan, double against) {
    return fan->free_m3_h * root(1 - against / fan->stall_pa);
}

/* In through the openings, m3/h, at `inside` Pa. */
static double vent_flow(double vents_cm2, double inside) {
    double m_s = ORIFICE * root(-2 * inside / AIR_KG_M3);
    return m_s * vents_cm2 / 1e4 * 3600;
}

static double net_inflow(const sw_air_fan *fans, size_t count, double vents_cm2, double inside) {
    double sum = vent_flow(vents_cm2, inside);
    for (size_t i = 0; i < count; i++)
        sum += fans[i].blows_in ? fan_flow(&fans[i], inside) : -fan_flow(&fans[i], -inside);
    return sum;
}

static double balance(const sw_air_fan *fans, size_t count, double vents_cm2) {
    double most = 0;
    for (size_t i = 0; i < count; i++)
        most = fans[i].stall_pa > most ? fans[i].stall_pa : most;
    double low = -most, high = most;
    for (int i = 0; i < HALVINGS && low < high; i++) {
        double middle = low + (high - low) / 2;
        if (net_inflow(fans, count, vents_cm2, middle) > 0)
            low = middle;
        else
            high = middle;
    }
    return low + (high - low) / 2;
}

sw_status sw_air_through(sw_air *out, double *fan_m3_h, const sw_air_fan *fans, size_t count,
                         double vents_cm2) {
    for (size_t i = 0; i < count; i++)
        if (!(fans[i].free_m3_h > 0 && isfinite(fans[i].free_m3_h) && fans[i].stall_pa > 0 &&
              isfinite(fans[i].stall_pa)))
            return SW_BAD_DATA;
    if (!(vents_cm2 >= 0 && isfinite(vents_cm2)))
        return SW_BAD_DATA;
    sw_air air = {.inside_pa = count > 0 ? balance(fans, count, vents_cm2) : 0};
    double vents = vent_flow(vents_cm2, air.inside_pa);
    air.through_m3_h = vents > 0 ? vents : 0;
    for (size_t i = 0; i < count; i++) {
        double flow = fan_flow(&fans[i], fans[i].blows_in ? air.inside_pa : -air.inside_pa);
        double inward = fans[i].blows_in ? flow : -flow;
        *(fans[i].blows_in ? &air.in_m3_h : &air.out_m3_h) += flow;
        air.through_m3_h += inward > 0 ? inward : 0;
        if (fan_m3_h != NULL)
            fan_m3_h[i] = flow;
    }
    *out = air;
    return SW_OK;
}
