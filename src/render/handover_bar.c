/* A check as a bar: the promised band hatched, a ring for the value before, a black diamond for
 * what is measured now. They differ by their shape, so that a printer without colour will do. */
#include "render/handover_paper.h"

#include <math.h>

#define WIDTH 200.0
#define HEIGHT 38.0
#define MIDDLE 15.0
#define BAND 14.0 /* high */
#define EDGE 8.0  /* free at both ends */
#define LEAST_BAND 3.0
#define HATCH 5.0

#define INK "stroke=\"#1b2430\""

typedef struct scale {
    double from, to; /* of values */
} scale;

static double at(const scale *s, double value) {
    double share = (value - s->from) / (s->to - s->from);
    share = share < 0 ? 0 : share > 1 ? 1 : share;
    return EDGE + share * (WIDTH - 2 * EDGE);
}

static void take(scale *s, bool known, double value) {
    if (!known || !isfinite(value))
        return;
    s->from = value < s->from ? value : s->from;
    s->to = value > s->to ? value : s->to;
}

static bool has_before(const sw_told_proof *proof, const sw_told_result *result) {
    return result->has_before || proof->has_today;
}

static double before(const sw_told_proof *proof, const sw_told_result *result) {
    return result->has_before ? result->before : proof->today;
}

/* From nothing where things are told by how many times more they are; else what is there, with
 * room beside it. */
static scale scale_of(const sw_told_proof *proof, const sw_told_result *result) {
    scale s = {INFINITY, -INFINITY};
    bool foretold = proof->of == SW_PROOF_MEASURE || proof->of == SW_PROOF_RATES;
    take(&s, proof->has_band, proof->low);
    take(&s, proof->has_band, proof->high);
    take(&s, result->measured, result->value);
    take(&s, has_before(proof, result), before(proof, result));
    if ((!foretold || proof->ratio) && s.from > 0)
        s.from = 0;
    double room = s.to > s.from ? (s.to - s.from) / 12 : 1;
    s.to += room;
    if (s.from != 0)
        s.from -= room;
    return s;
}

static void coordinate(sw_html *h, const char *command, double x, double y) {
    sw_text_add(&h->out, command);
    sw_svg_number(&h->out, x);
    sw_text_add(&h->out, " ");
    sw_svg_number(&h->out, y);
}

/* A white box with lines aslant in it. */
static void band(sw_html *h, double x, double end, double middle) {
    double width = end - x < LEAST_BAND ? LEAST_BAND : end - x, top = middle - BAND / 2;
    sw_text_add(&h->out, "<rect");
    sw_svg_attribute(&h->out, "x", x);
    sw_svg_attribute(&h->out, "y", top);
    sw_svg_attribute(&h->out, "width", width);
    sw_svg_attribute(&h->out, "height", BAND);
    sw_text_add(&h->out, " fill=\"#ffffff\" " INK " stroke-width=\"1.5\"/><path d=\"");
    coordinate(h, "M", x, top + BAND);
    for (int line = 1; line * HATCH < width + BAND; line++) {
        double s = line * HATCH;
        double low = s < BAND ? 0 : s - BAND, high = s < width ? s : width;
        coordinate(h, "M", x + low, top + (s < BAND ? s : BAND));
        coordinate(h, "L", x + high, top + (s < width ? 0 : s - width));
    }
    sw_text_add(&h->out, "\" fill=\"none\" " INK " stroke-width=\"0.6\"/>");
}

static void ring(sw_html *h, double x, double y) {
    sw_text_add(&h->out, "<circle");
    sw_svg_attribute(&h->out, "cx", x);
    sw_svg_attribute(&h->out, "cy", y);
    sw_text_add(&h->out, " r=\"7\" fill=\"#ffffff\" " INK " stroke-width=\"2\"/>");
}

static void diamond(sw_html *h, double x, double y) {
    sw_text_add(&h->out, "<path d=\"");
    coordinate(h, "M", x, y - 12);
    coordinate(h, "L", x + 5, y);
    coordinate(h, "L", x, y + 12);
    coordinate(h, "L", x - 5, y);
    sw_text_add(&h->out, "Z\" fill=\"#1b2430\" stroke=\"#ffffff\" stroke-width=\"1\"/>");
}

/* Which way is better: of what is foretold alone, for the rest the band says it. */
static void better(sw_html *h, const sw_told_proof *proof) {
    if (proof->of != SW_PROOF_MEASURE && proof->of != SW_PROOF_RATES)
        return;
    double y = HEIGHT - 8, end = proof->more ? WIDTH - 2 : 2, turn = proof->more ? -1 : 1;
    sw_text_add(&h->out, "<path d=\"");
    coordinate(h, "M", end, y);
    coordinate(h, "L", end + turn * 8, y - 4);
    coordinate(h, "L", end + turn * 8, y + 4);
    sw_text_add(&h->out, "Z\" fill=\"#1b2430\"/>");
    sw_svg_text(&h->out, end + turn * 12, y + 4, proof->more ? SW_SVG_END : SW_SVG_START, "",
                "better");
}

/* The drawing in words. */
static const char *described(sw_html *h, const sw_told_proof *proof, const sw_told_result *result) {
    sw_sheet *s = &h->sheet;
    const char *was =
        has_before(proof, result)
            ? SW_FORMAT(s, ", before %s", sw_bench_value(s, proof, before(proof, result)))
            : "";
    return SW_FORMAT(
        s, "Drawn: measured %s%s%s", sw_bench_read(s, proof, result->value),
        proof->has_band ? SW_FORMAT(s, ", promised %s", sw_bench_foretold(s, proof)) : "", was);
}

void sw_handover_bar(sw_html *h, const sw_told_proof *proof, const sw_told_result *result) {
    scale s = scale_of(proof, result);
    sw_text_addf(&h->out,
                 "<svg viewBox=\"0 0 %d %d\" role=\"img\" font-size=\"11\" fill=\"#1b2430\" "
                 "font-family=\"sans-serif\" aria-label=\"",
                 (int)WIDTH, (int)HEIGHT);
    sw_html_text(h, described(h, proof, result));
    sw_text_add(&h->out, "\">");
    sw_svg_line(&h->out, 0, MIDDLE, WIDTH, MIDDLE, " " INK " stroke-width=\"1\"");
    if (proof->has_band)
        band(h, isfinite(proof->low) ? at(&s, proof->low) : 0,
             isfinite(proof->high) ? at(&s, proof->high) : WIDTH, MIDDLE);
    if (has_before(proof, result))
        ring(h, at(&s, before(proof, result)), MIDDLE);
    if (result->measured)
        diamond(h, at(&s, result->value), MIDDLE);
    better(h, proof);
    sw_text_add(&h->out, "</svg>");
}

void sw_handover_bar_key(sw_html *h) {
    const char *open = "<svg viewBox=\"0 0 40 26\" aria-hidden=\"true\">";
    sw_html_raw(h, "<p class=\"key\"><small>");
    sw_text_add(&h->out, open);
    band(h, 3, 37, 13);
    sw_html_raw(h, "</svg> promised; ");
    sw_text_add(&h->out, open);
    diamond(h, 20, 13);
    sw_html_raw(h, "</svg> measured now; ");
    sw_text_add(&h->out, open);
    ring(h, 20, 13);
    sw_html_raw(h, "</svg> before the work. Each drawing has a scale of its own.</small></p>\n");
}
