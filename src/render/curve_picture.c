/* The staircase in letters, at the head of the text: braille patterns of two by four dots where
 * the terminal has them, else plain ASCII. */
#include "render/plot.h"
#include "render/sheet.h"

#include <string.h>

#define ROWS 12
#define DOTS_ACROSS 2 /* of a braille pattern */
#define DOTS_DOWN 4

typedef struct canvas {
    sw_plot plot;
    unsigned *cells; /* [row from above][column]: code points, 0 for a space */
    int columns, gutter;
    bool braille;
} canvas;

static void set_cell(canvas *c, int row, int column, unsigned code) {
    if (row >= 0 && row < ROWS && column >= 0 && column < c->columns)
        c->cells[(size_t)row * (size_t)c->columns + (size_t)column] = code;
}

/* A dot, counted from the lower left. */
static void set_dot(canvas *c, int x, int y) {
    static const unsigned bits[DOTS_ACROSS][DOTS_DOWN] = {{0x40, 0x04, 0x02, 0x01},
                                                          {0x80, 0x20, 0x10, 0x08}};
    int row = ROWS - 1 - y / DOTS_DOWN, column = x / DOTS_ACROSS;
    if (row < 0 || row >= ROWS || column >= c->columns)
        return;
    unsigned *cell = &c->cells[(size_t)row * (size_t)c->columns + (size_t)column];
    *cell = (*cell == 0 ? 0x2800 : *cell) | bits[x % DOTS_ACROSS][y % DOTS_DOWN];
}

/* ---- the line ------------------------------------------------------------------------------ */

static int height_of(const canvas *c, const sw_answer_bundle *step, int levels) {
    int height = (int)(sw_axis_share(&c->plot.points, step->points) * levels);
    return height < 0 ? 0 : height >= levels ? levels - 1 : height;
}

/* Column by column of the `across` there are; `mark` sets one place of the line: a run at `low`, or
 * a riser from `low` to `high`. */
static void draw_line(canvas *c, int across, int levels,
                      void (*mark)(canvas *c, int x, int low, int high, bool open)) {
    const sw_answer *a = c->plot.answer;
    int64_t span = c->plot.money.high - c->plot.money.low;
    size_t next = 0;
    int before = height_of(c, &a->bundles[0], levels);
    for (int x = 0; x < across; x++) {
        double cost = (double)c->plot.money.low + (double)span * ((double)x + 0.5) / (double)across;
        while (next < a->bundle_count && (double)a->bundles[next].cost <= cost)
            next++;
        if (next == 0 || (x > 0 && cost > (double)c->plot.end))
            continue;
        int height = height_of(c, &a->bundles[next - 1], levels);
        mark(c, x, before, height, a->bundles[next - 1].open > 0);
        before = height;
    }
}

static void mark_dots(canvas *c, int x, int low, int high, bool open) {
    for (int y = low; y <= high; y++)
        if (!open || (low == high ? x / DOTS_ACROSS : y) % 2 == 0)
            set_dot(c, x, y);
}

/* A run is the floor of its cell, so that a riser ends under it. */
static void mark_letters(canvas *c, int x, int low, int high, bool open) {
    for (int y = low; y < high; y++)
        set_cell(c, ROWS - 1 - y, x, open ? ':' : '|');
    set_cell(c, ROWS - 1 - high, x, open ? '.' : '_');
}

/* ---- letters --------------------------------------------------------------------------------- */

static void add_code(sw_text *out, unsigned code) {
    char bytes[3] = {(char)(0xE0 | code >> 12), (char)(0x80 | (code >> 6 & 0x3F)),
                     (char)(0x80 | (code & 0x3F))};
    char plain = (char)code;
    if (code < 0x80)
        sw_text_add_bytes(out, &plain, 1);
    else
        sw_text_add_bytes(out, bytes, 3);
}

static void add_line(sw_sheet *s, const canvas *c, int row) {
    const unsigned *cells = &c->cells[(size_t)row * (size_t)c->columns];
    int used = c->columns;
    while (used > 0 && cells[used - 1] == 0)
        used--;
    for (int i = 0; i < used; i++)
        add_code(&s->page.text, cells[i] == 0 ? ' ' : cells[i]);
    sw_text_add(&s->page.text, "\n");
}

static const char *points_text(sw_sheet *s, const canvas *c, int64_t tick) {
    return sw_sheet_text(s, sw_axis_text(s->arena, &c->plot.points, tick, 3));
}

static const char *money_text(sw_sheet *s, const canvas *c, int64_t tick) {
    return sw_sheet_text(s, sw_axis_text(s->arena, &c->plot.money, tick, s->answer->digits));
}

/* What stands left of a row: a number where a tick falls into it. */
static const char *row_label(sw_sheet *s, const canvas *c, int row) {
    const sw_axis *axis = &c->plot.points;
    for (int64_t at = axis->first_tick; at <= axis->high; at += axis->step)
        if (ROWS - 1 - (int)(sw_axis_share(axis, at) * ROWS) == row)
            return points_text(s, c, at);
    return "";
}

static int column_of(const canvas *c, int64_t cost) {
    int column = (int)(sw_axis_share(&c->plot.money, cost) * c->columns);
    return column >= c->columns ? c->columns - 1 : column;
}

static void add_rows(sw_sheet *s, const canvas *c) {
    sw_text *out = &s->page.text;
    for (int row = 0; row < ROWS; row++) {
        const char *label = row_label(s, c, row);
        sw_text_add(out, sw_sheet_right(s, label, c->gutter));
        if (c->braille)
            sw_text_add(out, label[0] != '\0' ? "\u2524" : "\u2502");
        else
            sw_text_add(out, label[0] != '\0' ? "+" : "|");
        add_line(s, c, row);
    }
}

static bool is_money_tick(const canvas *c, int column) {
    const sw_axis *axis = &c->plot.money;
    for (int64_t at = axis->first_tick; at <= axis->high; at += axis->step)
        if (column_of(c, at) == column)
            return true;
    return false;
}

static void add_money_axis(sw_sheet *s, const canvas *c) {
    sw_text *out = &s->page.text;
    sw_text_add(out, sw_sheet_right(s, "", c->gutter));
    sw_text_add(out, c->braille ? "\u2514" : "+");
    for (int i = 0; i < c->columns; i++) {
        bool tick = is_money_tick(c, i);
        if (c->braille)
            sw_text_add(out, tick ? "\u252C" : "\u2500");
        else
            sw_text_add(out, tick ? "+" : "-");
    }
    sw_text_add(out, "\n");
}

/* The numbers under their ticks, and the currency at the end of the line. */
static void add_money_labels(sw_sheet *s, const canvas *c) {
    const sw_axis *axis = &c->plot.money;
    const char *currency = s->answer->currency;
    const char *line = "";
    int end = s->page.width - sw_columns(currency) - 1;
    for (int64_t at = axis->first_tick; at <= axis->high; at += axis->step) {
        const char *label = money_text(s, c, at);
        int length = sw_columns(label), used = sw_columns(line);
        int from = c->gutter + 1 + column_of(c, at) - length / 2;
        if (from + length <= end && from > used - (used == 0))
            line = SW_FORMAT(s, "%s%s", line, sw_sheet_right(s, label, from + length - used));
    }
    sw_text_add(&s->page.text, line);
    sw_text_add(&s->page.text, sw_sheet_right(s, currency, s->page.width - sw_columns(line)));
    sw_text_add(&s->page.text, "\n");
}

/* Where the budget stands, in as many words as there is room for. */
static void add_budget(sw_sheet *s, const canvas *c) {
    if (c->plot.budget != SW_BUDGET_SHOWN || c->plot.at_budget == NULL)
        return;
    int column = c->gutter + 1 + column_of(c, s->answer->budget);
    const char *points = sw_sheet_points(s, c->plot.at_budget->points);
    const char *words[] = {SW_FORMAT(s, "budget %s %s: %s points",
                                     sw_sheet_money(s, s->answer->budget), s->answer->currency,
                                     points),
                           SW_FORMAT(s, "budget: %s points", points), "budget"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        int length = sw_columns(words[i]);
        if (column + 2 + length <= s->page.width)
            sw_text_addf(&s->page.text, "%*s^ %s\n", column, "", words[i]);
        else if (column - 1 - length >= 0)
            sw_text_addf(&s->page.text, "%*s%s ^\n", column - 1 - length, "", words[i]);
        else
            continue;
        return;
    }
}

/* ---- the whole --------------------------------------------------------------------------------
 */

static void choose_ticks(sw_sheet *s, canvas *c) {
    sw_axis_tick(&c->plot.points, 5, 3);
    const sw_axis *points = &c->plot.points;
    for (int64_t at = points->first_tick; at <= points->high; at += points->step) {
        int length = sw_columns(points_text(s, c, at));
        c->gutter = length > c->gutter ? length : c->gutter;
    }
    c->columns = s->page.width - c->gutter - 1;
    sw_axis *money = &c->plot.money;
    for (int most = 8; most >= 1; most--) {
        sw_axis_tick(money, most, s->answer->digits);
        int length = 0;
        for (int64_t at = money->first_tick; at <= money->high; at += money->step) {
            int own = sw_columns(money_text(s, c, at));
            length = own > length ? own : length;
        }
        double room = (double)c->columns * (double)money->step / (double)(money->high - money->low);
        if (room >= length + 2)
            return;
    }
}

void sw_sheet_picture(sw_sheet *s, sw_picture picture) {
    canvas c = {.braille = picture == SW_PICTURE_BRAILLE};
    /* One step is said in fewer words than it is drawn. */
    if (picture == SW_PICTURE_NONE || s->answer->bundle_count < 2 ||
        !sw_plot_make(&c.plot, s->answer))
        return;
    choose_ticks(s, &c);
    c.cells = SW_NEW(s->arena, unsigned, (size_t)c.columns *ROWS);
    if (c.cells == NULL) {
        s->page.text.failed = true;
        return;
    }
    bool open = false;
    for (size_t i = 0; i < s->answer->bundle_count; i++)
        open = open || s->answer->bundles[i].open > 0;
    if (c.braille)
        draw_line(&c, c.columns * DOTS_ACROSS, ROWS * DOTS_DOWN, mark_dots);
    else
        draw_line(&c, c.columns, ROWS, mark_letters);
    sw_page_gap(&s->page);
    sw_text_add(&s->page.text, "points\n");
    add_rows(s, &c);
    add_money_axis(s, &c);
    add_money_labels(s, &c);
    add_budget(s, &c);
    if (open)
        sw_sheet_words(s, "", "Dotted: not proved.");
}
