/* The case from its open side, its front to the right: what stands at which side and which way the
 * air goes there; what stands inside, in the places of the shop's own drawing. What is new is
 * black, what was there is an outline; nothing hangs on a colour. */
#include <string.h>

#include "render/bench_paper.h"

/* The picture, and the case in it. */
#define WIDTH 380.0
#define HEIGHT 300.0
#define CASE_X 70.0
#define CASE_Y 46.0
#define CASE_WIDTH 240.0
#define CASE_HEIGHT 208.0

#define THICK 20.0 /* of what stands at a side */
#define LONGEST 62.0
#define GAP 5.0
#define NO_ARROW 22 /* of the picture's height is free where no arrow stands */
#define ARROW 24.0
#define RADIUS 8.5
#define LABEL 13.0 /* from the head of a box to the foot of its label */

#define INK " fill=\"none\" stroke=\"#1b2430\""
#define NEW_LOOK " fill=\"#1b2430\" stroke=\"#1b2430\" stroke-width=\"1.5\""
#define OLD_LOOK " fill=\"#ffffff\" stroke=\"#1b2430\" stroke-width=\"1.5\""

typedef struct box {
    double x, y, width, height;
} box;

/* ---- marks ------------------------------------------------------------------------------------
 */

static void rectangle(sw_html *h, box of, const char *look) {
    sw_text_add(&h->out, "<rect");
    sw_svg_attribute(&h->out, "x", of.x);
    sw_svg_attribute(&h->out, "y", of.y);
    sw_svg_attribute(&h->out, "width", of.width);
    sw_svg_attribute(&h->out, "height", of.height);
    sw_text_addf(&h->out, "%s/>", look);
}

static void numeral(sw_html *h, double x, double y, size_t number, bool black) {
    sw_svg_text(&h->out, x, y + 4.5, SW_SVG_MIDDLE,
                black ? " font-weight=\"bold\" fill=\"#ffffff\"" : " font-weight=\"bold\"",
                SW_FORMAT(&h->sheet, "%zu", number));
}

static void marker(sw_html *h, double x, double y, size_t number, bool black) {
    sw_text_add(&h->out, "<circle");
    sw_svg_attribute(&h->out, "cx", x);
    sw_svg_attribute(&h->out, "cy", y);
    sw_svg_attribute(&h->out, "r", RADIUS);
    sw_text_addf(&h->out, "%s/>", black ? NEW_LOOK : OLD_LOOK);
    numeral(h, x, y, number, black);
}

static void point(sw_html *h, const char *command, double x, double y) {
    sw_text_add(&h->out, command);
    sw_svg_number(&h->out, x);
    sw_text_add(&h->out, " ");
    sw_svg_number(&h->out, y);
}

/* From (x, y) by ARROW along the axis that (across, down) names. */
static void arrow(sw_html *h, double x, double y, double across, double down) {
    double x2 = x + across * ARROW, y2 = y + down * ARROW;
    sw_text_add(&h->out, "<path d=\"");
    point(h, "M", x, y);
    point(h, "L", x2 - across * 6, y2 - down * 6);
    sw_text_add(&h->out, "\"" INK " stroke-width=\"3\"/><path d=\"");
    point(h, "M", x2, y2);
    point(h, "L", x2 - across * 10 + down * 6, y2 - down * 10 + across * 6);
    point(h, "L", x2 - across * 10 - down * 6, y2 - down * 10 - across * 6);
    sw_text_add(&h->out, "Z\" fill=\"#1b2430\"/>");
}

/* ---- sides ------------------------------------------------------------------------------------
 */

/* `across`, `down`: out of the case. */
typedef struct side {
    const char *name;
    double across, down;
} side;

static const side sides[] = {
    {"front", 1, 0}, {"rear", -1, 0}, {"top", 0, -1}, {"floor", 0, 1}, {"side", 0, 0}};
#define SIDES (sizeof sides / sizeof *sides)

static bool is_at(const sw_told_stand *stand, const side *at) {
    return stand->side != NULL && strcmp(stand->side, at->name) == 0;
}

static int pieces_at(const sw_bench *b, const side *at) {
    int count = 0;
    for (size_t i = 0; i < b->stand_count; i++)
        if (is_at(&b->stands[i], at))
            count += b->stands[i].count;
    return count;
}

/* Where piece `number` of `count` stands, inside the wall. */
static box place_at(const side *at, int number, int count) {
    bool upright = at->across != 0;
    double along = upright ? CASE_HEIGHT : CASE_WIDTH, slot = along / count;
    double length = slot - GAP < LONGEST ? slot - GAP : LONGEST;
    double middle = (number + 0.5) * slot;
    if (upright)
        return (box){at->across > 0 ? CASE_X + CASE_WIDTH - THICK - 3 : CASE_X + 3,
                     CASE_Y + middle - length / 2, THICK, length};
    return (box){CASE_X + middle - length / 2,
                 at->down > 0 ? CASE_Y + CASE_HEIGHT - THICK - 3 : CASE_Y + 3, length, THICK};
}

static void air(sw_html *h, const side *at, box piece, bool in) {
    double x = piece.x + piece.width / 2, y = piece.y + piece.height / 2;
    double near = 4, turn = in ? -1 : 1, start = in ? near + ARROW : near;
    if (at->across != 0)
        x = at->across > 0 ? CASE_X + CASE_WIDTH : CASE_X;
    else
        y = at->down > 0 ? CASE_Y + CASE_HEIGHT : CASE_Y;
    arrow(h, x + at->across * start, y + at->down * start, at->across * turn, at->down * turn);
    if (at->across != 0)
        sw_svg_text(&h->out, x + at->across * (near + ARROW + 4), y + 4.5,
                    at->across > 0 ? SW_SVG_START : SW_SVG_END, "", in ? "in" : "out");
    else
        sw_svg_text(&h->out, x + 10, y + at->down * (near + ARROW / 2) + 4.5, SW_SVG_START, "",
                    in ? "in" : "out");
}

static void draw_side(sw_html *h, const sw_bench *b, const side *at) {
    int count = pieces_at(b, at), number = 0;
    for (size_t i = 0; i < b->stand_count; i++) {
        const sw_told_stand *stand = &b->stands[i];
        for (int k = 0; k < stand->count && is_at(stand, at); k++, number++) {
            box piece = place_at(at, number, count);
            rectangle(h, piece, stand->new_there ? NEW_LOOK : OLD_LOOK);
            numeral(h, piece.x + piece.width / 2, piece.y + piece.height / 2, i + 1,
                    stand->new_there);
            if (stand->blows != NULL)
                air(h, at, piece, strcmp(stand->blows, "in") == 0);
        }
    }
}

static void name_sides(sw_html *h) {
    const char *look = " font-style=\"italic\"";
    sw_svg_text(&h->out, CASE_X + CASE_WIDTH + 5, CASE_Y + CASE_HEIGHT + 4, SW_SVG_START, look,
                "front");
    sw_svg_text(&h->out, CASE_X - 5, CASE_Y + CASE_HEIGHT + 4, SW_SVG_END, look, "rear");
    sw_svg_text(&h->out, CASE_X, CASE_Y - 8, SW_SVG_START, look, "top");
    sw_svg_text(&h->out, CASE_X, CASE_Y + CASE_HEIGHT + 18, SW_SVG_START, look, "floor");
}

/* The panel that the picture looks through: its pieces hang in the air, with a word. */
static void draw_panel(sw_html *h, const sw_bench *b) {
    const side *panel = &sides[SIDES - 1];
    int count = pieces_at(b, panel), number = 0;
    if (count == 0)
        return;
    box all = {CASE_X + 40, CASE_Y + CASE_HEIGHT * 0.72, CASE_WIDTH - 90, 34};
    rectangle(h, all, INK " stroke-width=\"1\" stroke-dasharray=\"4 3\"");
    sw_svg_text(&h->out, all.x + 5, all.y - 4, SW_SVG_START, " font-style=\"italic\"",
                "in the side panel");
    for (size_t i = 0; i < b->stand_count; i++) {
        const sw_told_stand *stand = &b->stands[i];
        for (int k = 0; k < stand->count && is_at(stand, panel); k++, number++) {
            double x = all.x + (number + 0.5) * all.width / count - 9;
            marker(h, x, all.y + all.height / 2, i + 1, stand->new_there);
            if (stand->blows != NULL)
                sw_svg_text(&h->out, x + RADIUS + 3, all.y + all.height / 2 + 4.5, SW_SVG_START, "",
                            stand->blows);
        }
    }
}

/* ---- inside -----------------------------------------------------------------------------------
 */

static const sw_told_place *drawn(const sw_terms *terms, const char *role) {
    for (size_t i = 0; i < terms->drawn_count; i++)
        if (strcmp(terms->drawing[i].role, role) == 0)
            return &terms->drawing[i];
    return NULL;
}

static bool is_sided(const sw_told_stand *stand) {
    for (size_t i = 0; i < SIDES; i++)
        if (is_at(stand, &sides[i]))
            return true;
    return false;
}

/* The role whose sides are known: the first of them. */
static const char *case_of(const sw_bench *b) {
    for (size_t i = 0; i < b->stand_count; i++)
        if (is_sided(&b->stands[i]))
            return b->stands[i].on_role;
    return NULL;
}

/* The place of what stands inside: that of what it stands on; in the case, its own. */
static const sw_told_place *inside(const sw_bench *b, const sw_told_stand *stand,
                                   const char *house) {
    const sw_terms *terms = &b->options->terms;
    const sw_told_place *around = drawn(terms, house);
    const sw_told_place *place =
        drawn(terms, strcmp(stand->on_role, house) == 0 ? stand->role : stand->on_role);
    bool in = around != NULL && place != NULL && place != around && place->x >= around->x &&
              place->y >= around->y && place->x + place->width <= around->x + around->width &&
              place->y + place->height <= around->y + around->height;
    return in && !is_sided(stand) ? place : NULL;
}

/* Inside what stands at the sides, so that neither hides the other. */
static box scaled(const sw_terms *terms, const sw_told_place *place, const char *house) {
    const sw_told_place *around = drawn(terms, house);
    const double margin = THICK + 8;
    double wide = (CASE_WIDTH - 2 * margin) / (double)around->width;
    double high = (CASE_HEIGHT - 2 * margin) / (double)around->height;
    return (box){CASE_X + margin + (double)(place->x - around->x) * wide,
                 CASE_Y + margin + (double)(place->y - around->y) * high,
                 (double)place->width * wide, (double)place->height * high};
}

static int markers_in(const sw_bench *b, const sw_told_place *place, const char *house) {
    int count = 0;
    for (size_t i = 0; i < b->stand_count; i++)
        count += inside(b, &b->stands[i], house) == place;
    return count;
}

/* Markers from the foot of the box upwards, a few in each row. */
static void draw_inside(sw_html *h, const sw_bench *b, const sw_told_place *place,
                        const char *house) {
    box of = scaled(&b->options->terms, place, house);
    const double step = 2 * RADIUS + 2;
    int across = (int)((of.width - 4) / step), number = 0;
    across = across < 1 ? 1 : across;
    int rows = (markers_in(b, place, house) + across - 1) / across;
    rectangle(h, of, INK " stroke-width=\"1\"");
    if (rows * step + LABEL + 4 <= of.height && sw_svg_width(place->label) <= of.width + 6)
        sw_svg_text(&h->out, of.x + of.width / 2, of.y + LABEL, SW_SVG_MIDDLE, "", place->label);
    for (size_t i = 0; i < b->stand_count; i++) {
        if (inside(b, &b->stands[i], house) != place)
            continue;
        int row = number / across, column = number % across;
        marker(h, of.x + 3 + RADIUS + column * step, of.y + of.height - 3 - RADIUS - row * step,
               i + 1, b->stands[i].new_there);
        number++;
    }
}

static void draw_insides(sw_html *h, const sw_bench *b, const char *house) {
    for (size_t d = 0; d < b->options->terms.drawn_count; d++) {
        const sw_told_place *place = &b->options->terms.drawing[d];
        if (markers_in(b, place, house) > 0)
            draw_inside(h, b, place, house);
    }
}

/* ---- the whole --------------------------------------------------------------------------------
 */

static void key(sw_html *h, const char *look, const char *words) {
    sw_text_add(&h->out, "<svg viewBox=\"0 0 32 20\" aria-hidden=\"true\">");
    rectangle(h, (box){3, 3, 26, 14}, look);
    sw_text_add(&h->out, "</svg> ");
    sw_html_text(h, words);
}

void sw_bench_drawing(sw_bench_paper *p) {
    sw_html *h = &p->html;
    const sw_bench *b = p->bench;
    const char *house = case_of(b);
    if (house == NULL)
        return;
    sw_html_raw(h, "<figure>\n");
    int above = pieces_at(b, &sides[2]) > 0 ? 0 : NO_ARROW;
    int below = pieces_at(b, &sides[3]) > 0 ? 0 : NO_ARROW;
    sw_text_addf(&h->out,
                 "<svg viewBox=\"0 %d %d %d\" role=\"img\" font-size=\"13\" fill=\"#1b2430\" "
                 "font-family=\"sans-serif\" aria-label=\"The case from its open side, front to "
                 "the right, with the numbers of the list and which way the air goes\">",
                 above, (int)WIDTH, (int)HEIGHT - above - below);
    rectangle(h, (box){CASE_X, CASE_Y, CASE_WIDTH, CASE_HEIGHT}, INK " stroke-width=\"2\"");
    draw_insides(h, b, house);
    for (size_t i = 0; i + 1 < SIDES; i++)
        draw_side(h, b, &sides[i]);
    draw_panel(h, b);
    name_sides(h);
    sw_text_add(&h->out, "</svg>\n<p class=\"key\"><small>");
    key(h, NEW_LOOK, "new there; ");
    key(h, OLD_LOOK,
        "as before; arrow: which way the air goes. The numbers are those of the "
        "list.");
    sw_html_raw(h, "</small></p>\n</figure>\n");
}
