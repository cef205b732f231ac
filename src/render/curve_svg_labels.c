/* Where words can stand in the picture of a curve. */
#include "render/curve_svg.h"

#include <math.h>

/* How high the staircase stands at x; below everything where it has not begun. */
static double stairs_at(const sw_drawing *d, double x) {
    const sw_answer *a = d->answer;
    size_t low = 0, high = a->bundle_count; /* the first step right of x */
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (sw_drawing_x(d, a->bundles[middle].cost) <= x)
            low = middle + 1;
        else
            high = middle;
    }
    return low == 0 ? INFINITY : sw_drawing_y(d, a->bundles[low - 1].points);
}

static double envelope_at(const sw_drawing *d, double x) {
    const sw_answer *a = d->answer;
    for (size_t i = 0; i < a->envelope_count; i++) {
        const sw_answer_bundle *from = &a->bundles[a->envelope[i].from];
        const sw_answer_bundle *to = &a->bundles[a->envelope[i].to];
        double left = sw_drawing_x(d, from->cost), right = sw_drawing_x(d, to->cost);
        double low = sw_drawing_y(d, from->points), high = sw_drawing_y(d, to->points);
        if (x >= left && x <= right && right > left)
            return low + (high - low) * (x - left) / (right - left);
    }
    return stairs_at(d, x);
}

/* A line that only rises goes through a box unless it enters above it or leaves below it. */
static bool goes_through(double enters, double leaves, const sw_svg_box *box) {
    return enters >= box->top && leaves <= box->bottom;
}

static bool overlap(const sw_svg_box *a, const sw_svg_box *b) {
    return a->left < b->right && b->left < a->right && a->top < b->bottom && b->top < a->bottom;
}

static bool is_free(const sw_drawing *d, const sw_svg_box *box) {
    if (box->left < d->frame.left + 3 || box->right > SW_SVG_WIDTH - 4 || box->top < d->frame.top ||
        box->bottom > d->frame.bottom - 1)
        return false;
    if (goes_through(stairs_at(d, box->left), stairs_at(d, box->right), box) ||
        goes_through(envelope_at(d, box->left), envelope_at(d, box->right), box))
        return false;
    double budget = sw_drawing_x(d, d->answer->budget);
    if (d->plot.budget == SW_BUDGET_SHOWN && budget > box->left - 2 && budget < box->right + 2)
        return false;
    for (size_t i = 0; i < d->answer->bundle_count; i++) {
        int64_t ceiling;
        if (!sw_plot_ceiling(&ceiling, &d->plot, &d->answer->bundles[i]))
            continue;
        double y = sw_drawing_y(d, ceiling), x = sw_drawing_x(d, d->answer->bundles[i].cost);
        double end = i + 1 < d->answer->bundle_count
                         ? sw_drawing_x(d, d->answer->bundles[i + 1].cost)
                         : d->frame.right;
        if (y > box->top && y < box->bottom && x < box->right && end > box->left)
            return false;
    }
    for (size_t i = 0; i < d->label_count; i++)
        if (overlap(box, &d->labels[i]))
            return false;
    return true;
}

bool sw_drawing_label(sw_drawing *d, const char *text, const sw_svg_place *places, size_t count) {
    double width = sw_svg_width(text);
    for (size_t i = 0; i < count && d->label_count < SW_SVG_LABELS_MOST && text[0] != '\0'; i++) {
        const sw_svg_place *p = &places[i];
        double left = p->anchor == SW_SVG_START    ? p->x
                      : p->anchor == SW_SVG_MIDDLE ? p->x - width / 2
                                                   : p->x - width;
        sw_svg_box box = {left - 2, p->y - 13, left + width + 2, p->y + 4};
        if (!is_free(d, &box))
            continue;
        d->labels[d->label_count++] = box;
        sw_svg_text(&d->body, p->x, p->y, p->anchor, "", text);
        return true;
    }
    return false;
}
