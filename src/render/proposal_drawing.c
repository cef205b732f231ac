/* The machine as a few boxes: what is new is black, what goes is hatched, what stays is an outline.
 * Nothing hangs on a colour. */
#include <string.h>

#include "render/differences.h"
#include "render/proposal.h"

#define SCALE 5.0 /* of the picture's thousandths to a unit */
#define WIDTH 200.0
#define HEIGHT 160.0

#define HATCH 6.0 /* between two lines */
#define ARCS_MOST 6
#define SONE_PER_ARC 0.25

typedef enum fate { STAYS, NEW, WORKED_ON, GOES } fate;

static const char *const fates[] = {
    [STAYS] = " fill=\"#ffffff\" stroke=\"#1b2430\" stroke-width=\"1\"",
    [NEW] = " fill=\"#1b2430\" stroke=\"#1b2430\" stroke-width=\"1\"",
    [WORKED_ON] = " fill=\"#ffffff\" stroke=\"#1b2430\" stroke-width=\"1\"",
    [GOES] = " fill=\"#ffffff\" stroke=\"#1b2430\" stroke-width=\"1\" stroke-dasharray=\"4 2\""};

static void place(sw_html *h, const char *command, double x, double y) {
    sw_text_add(&h->out, command);
    sw_svg_number(&h->out, x);
    sw_text_add(&h->out, " ");
    sw_svg_number(&h->out, y);
}

static void hatch(sw_html *h, double x, double y, double width, double height) {
    sw_text_add(&h->out, "<path d=\"");
    for (int line = 1; line * HATCH < width + height; line++) {
        double at = line * HATCH;
        double x1 = at < width ? at : width, y1 = at < width ? 0 : at - width;
        double x2 = at < height ? 0 : at - height, y2 = at < height ? at : height;
        place(h, "M", x + x1, y + y1);
        place(h, "L", x + x2, y + y2);
    }
    sw_text_add(&h->out, "\" stroke=\"#1b2430\" stroke-width=\"0.5\" fill=\"none\"/>");
}

/* A black corner. */
static void corner(sw_html *h, double x, double y, double width) {
    sw_text_add(&h->out, "<path d=\"");
    place(h, "M", x + width - 9, y);
    place(h, "L", x + width, y);
    place(h, "L", x + width, y + 9);
    sw_text_add(&h->out, "Z\"/>");
}

/* A large piece holds others: new, it gets a heavy frame, not a black ground. */
static void box(sw_html *h, double x, double y, double width, double height, fate how) {
    bool large = height > HEIGHT / 2;
    sw_text_add(&h->out, "<rect");
    sw_svg_attribute(&h->out, "x", x);
    sw_svg_attribute(&h->out, "y", y);
    sw_svg_attribute(&h->out, "width", width);
    sw_svg_attribute(&h->out, "height", height);
    sw_text_addf(&h->out, "%s/>",
                 large && how == NEW ? " fill=\"#ffffff\" stroke=\"#1b2430\" stroke-width=\"5\""
                                     : fates[how]);
    if (how == GOES && !large)
        hatch(h, x, y, width, height);
    if (how == WORKED_ON)
        corner(h, x, y, width);
}

static bool is_present(const sw_options *o, const char *role) {
    for (size_t i = 0; i < o->present_count; i++)
        if (strcmp(o->present[i].role, role) == 0)
            return true;
    return false;
}

/* Today: goes where some option takes a piece of it out. False: nothing is drawn. */
static bool fate_today(fate *out, const sw_options *o, const char *role) {
    *out = STAYS;
    for (size_t i = 0; i < o->count; i++) {
        const sw_answer_swap *swap = sw_swap_of(&o->options[i].bundle, role);
        if (swap != NULL && swap->out_count > 0)
            *out = GOES;
    }
    return is_present(o, role);
}

static bool fate_then(fate *out, const sw_options *o, const sw_option *option, const char *role) {
    const sw_answer_swap *swap = sw_swap_of(&option->bundle, role);
    *out = STAYS;
    if (swap != NULL) {
        *out = swap->in_count > 0 ? NEW : WORKED_ON;
        return swap->in_count + swap->stay_count > 0;
    }
    for (size_t i = 0; i < option->bundle.task_count; i++)
        if (strcmp(option->bundle.tasks[i].role, role) == 0)
            *out = WORKED_ON;
    return is_present(o, role);
}

static void label(sw_html *h, const sw_told_place *of, double x, double y, fate how) {
    double width = (double)of->width / SCALE, height = (double)of->height / SCALE;
    const double size = 11;
    if (sw_svg_width(of->label) * size / 14 > width + 4 || height < size + 2)
        return;
    bool large = height > 5 * size, black = how == NEW && height <= HEIGHT / 2;
    sw_svg_text(&h->out, x + width / 2, large ? y + size + 2 : y + height / 2 + size * 0.36,
                SW_SVG_MIDDLE,
                black         ? " fill=\"#ffffff\""
                : how == GOES ? " stroke=\"#ffffff\" stroke-width=\"4\" paint-order=\"stroke\""
                              : "",
                of->label);
}

/* An arc for each quarter of a sone. */
static void sound(sw_html *h, double sone) {
    int arcs = (int)(sone / SONE_PER_ARC + 0.5);
    arcs = arcs > ARCS_MOST ? ARCS_MOST : arcs;
    for (int i = 0; i < arcs; i++) {
        double radius = 8 + 4.5 * i;
        sw_text_add(&h->out, "<path d=\"M");
        sw_svg_number(&h->out, WIDTH + 2 + radius * 0.7);
        sw_text_add(&h->out, " ");
        sw_svg_number(&h->out, HEIGHT / 2 - radius);
        sw_text_add(&h->out, "A");
        sw_svg_number(&h->out, radius * 1.2);
        sw_text_add(&h->out, " ");
        sw_svg_number(&h->out, radius * 1.2);
        sw_text_add(&h->out, " 0 0 1 ");
        sw_svg_number(&h->out, WIDTH + 2 + radius * 0.7);
        sw_text_add(&h->out, " ");
        sw_svg_number(&h->out, HEIGHT / 2 + radius);
        sw_text_add(&h->out, "\" fill=\"none\" stroke=\"#1b2430\" stroke-width=\"1.6\"/>");
    }
}

/* What the drawing shows, for those who do not see it. */
static const char *described(sw_proposal *p, const sw_option *option) {
    sw_sheet *s = &p->html.sheet;
    const sw_answer *a = p->options->plan;
    double sone = option == NULL ? a->loudness_now_sone : option->bundle.loudness_sone;
    const char *sound =
        a->has_sound ? SW_FORMAT(s, ", loudness %s sone", sw_sheet_decimal(s, sone, 2)) : "";
    if (option == NULL)
        return SW_FORMAT(s, "The machine today%s", sound);
    size_t at = (size_t)(option - p->options->options);
    return SW_FORMAT(s, "The machine after option %zu, places changed: %zu%s", at + 1,
                     option->bundle.swap_count, sound);
}

void sw_proposal_drawing(sw_proposal *p, const sw_option *option) {
    sw_html *h = &p->html;
    const sw_options *o = p->options;
    sw_text_add(&h->out, "<svg viewBox=\"-2 -2 236 164\" role=\"img\" font-size=\"11\" "
                         "fill=\"#1b2430\" font-family=\"sans-serif\" aria-label=\"");
    sw_html_text(h, described(p, option));
    sw_text_add(&h->out, "\">");
    for (size_t i = 0; i < o->terms.drawn_count; i++) {
        const sw_told_place *place = &o->terms.drawing[i];
        double x = (double)place->x / SCALE, y = (double)place->y / SCALE;
        fate how;
        if (!(option == NULL ? fate_today(&how, o, place->role)
                             : fate_then(&how, o, option, place->role)))
            continue;
        box(h, x, y, (double)place->width / SCALE, (double)place->height / SCALE, how);
        label(h, place, x, y, how);
    }
    if (o->plan->has_sound)
        sound(h, option == NULL ? o->plan->loudness_now_sone : option->bundle.loudness_sone);
    sw_text_add(&h->out, "</svg>");
}

static void key(sw_html *h, fate how, const char *words) {
    sw_text_add(&h->out, "<svg viewBox=\"0 0 32 20\" aria-hidden=\"true\">");
    box(h, 2, 2, 28, 16, how);
    sw_text_add(&h->out, "</svg> ");
    sw_html_text(h, words);
}

void sw_proposal_drawing_key(sw_proposal *p) {
    sw_html *h = &p->html;
    sw_html_raw(h, "<p class=\"key\"><small>");
    key(h, STAYS, "stays; ");
    key(h, WORKED_ON, "worked on; ");
    key(h, NEW, "something new; ");
    key(h, GOES, "goes in some option");
    sw_html_raw(h, p->options->plan->has_sound ? "; an arc: a quarter of a sone" : "");
    sw_html_raw(h, "</small></p>\n");
}
