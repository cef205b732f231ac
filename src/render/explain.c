/* The answer of `explain`, as text and as JSON. */
#include <string.h>

#include "answer/explain.h"
#include "render/json_writer.h"
#include "render/sheet.h"

/* ---- text ------------------------------------------------------------------------------- */

static const char *value_text(sw_sheet *s, const sw_explain_line *line,
                              const sw_explain_value *value) {
    if (value->state != SW_KNOWN)
        return value->state == SW_VOID ? "nothing there" : "not known";
    const char *unit = strcmp(line->unit, "1") == 0 || line->unit[0] == '\0'
                           ? ""
                           : SW_FORMAT(s, " %s", line->unit);
    const char *mid = sw_sheet_decimal(s, value->value, line->digits);
    const char *low = sw_sheet_decimal(s, value->low, line->digits);
    const char *high = sw_sheet_decimal(s, value->high, line->digits);
    if (strcmp(low, high) == 0)
        return SW_FORMAT(s, "%s%s", mid, unit);
    return SW_FORMAT(s, "%s%s [%s to %s]", mid, unit, low, high);
}

static const char *inputs_text(sw_sheet *s, const sw_explain_value *value) {
    const char *line = "";
    for (size_t i = 0; i < value->input_count; i++)
        line = SW_FORMAT(s, "%s%s%s = %s", line, i > 0 ? "; " : "", value->inputs[i].name,
                         value->inputs[i].value);
    return line;
}

static void write_line(sw_sheet *s, const sw_explain *e, const sw_explain_line *line) {
    bool both = e->part != NULL && !e->present;
    sw_sheet_words(
        s, "  - ",
        SW_FORMAT(s, "%s: %s%s", line->name, value_text(s, line, &line->now),
                  both ? SW_FORMAT(s, "; with the part %s", value_text(s, line, &line->with))
                       : ""));
    sw_sheet_words(s, "      = ", line->formula);
    if (line->now.input_count > 0)
        sw_sheet_words(s, "      ", inputs_text(s, &line->now));
    if (both && line->with.input_count > 0 &&
        strcmp(inputs_text(s, &line->now), inputs_text(s, &line->with)) != 0)
        sw_sheet_words(s, "      with the part: ", inputs_text(s, &line->with));
    if (line->source[0] != '\0')
        sw_sheet_words(s, "      source: ", line->source);
}

static const char *const headings[] = {
    [SW_LINE_STAGE] = "Speed: each stage by itself, before it is fitted to a measured rate",
    [SW_LINE_SOUND] = "Sound",
    [SW_LINE_LOOKS] = "Looks",
    [SW_LINE_RATED] = "Rated",
    [SW_LINE_MEASURE] = "Measures",
};

static void points(sw_sheet *s, const sw_explain *e) {
    const sw_answer *a = e->answer;
    if (e->part == NULL || e->present)
        return;
    sw_page_heading(&s->page, "Points against the machine as it stands", "points");
    int64_t sum = 0;
    for (size_t c = 0; c < a->criterion_count; c++) {
        sum += e->points_with[c];
        if (a->weights[c] <= 0)
            continue;
        sw_sheet_sum(s, "  ", a->criterion_names[c], sw_sheet_points(s, e->points_with[c]));
        sw_sheet_words(s, "      = ", e->points_formula[c]);
    }
    sw_sheet_sum(s, "  ", "together", sw_sheet_points(s, sum));
}

static void question(sw_sheet *s, const sw_explain *e) {
    if (e->part == NULL)
        return;
    sw_page_gap(&s->page);
    if (e->present) {
        sw_sheet_words(s, "",
                       SW_FORMAT(s, "%s is in the machine: what the %s has to do with.", e->name,
                                 e->role_name));
        return;
    }
    sw_sheet_words(
        s, "",
        SW_FORMAT(s, "%s put into the machine as it stands, nothing else changed.", e->name));
    if (e->obstacle != NULL)
        sw_sheet_words(
            s, "",
            SW_FORMAT(s, "The rules do not let it in like that (%s): ask with fits.", e->obstacle));
}

sw_status sw_render_explain_text(char **out, const sw_explain *e, sw_text_style style) {
    sw_sheet s;
    if (!sw_sheet_start(&s, e->answer, style))
        return SW_NO_MEMORY;
    sw_sheet_head(&s, false);
    question(&s, e);
    points(&s, e);
    for (size_t i = 0; i < e->line_count; i++) {
        if (i == 0 || e->lines[i - 1].of != e->lines[i].of)
            sw_page_heading(&s.page, headings[e->lines[i].of], NULL);
        write_line(&s, e, &e->lines[i]);
    }
    return sw_sheet_finish(out, &s);
}

/* ---- JSON -------------------------------------------------------------------------------- */

static void write_value(sw_writer *in, const sw_explain_value *value) {
    static const char *const states[] = {
        [SW_UNKNOWN] = "unknown", [SW_VOID] = "void", [SW_KNOWN] = "known"};
    sw_writer_text(in, "state", states[value->state]);
    if (value->state == SW_KNOWN) {
        sw_writer_number(in, "low", value->low);
        sw_writer_number(in, "value", value->value);
        sw_writer_number(in, "high", value->high);
    }
    sw_writer *inputs = sw_writer_array(in, "inputs");
    for (size_t i = 0; i < value->input_count; i++) {
        sw_writer *one = sw_writer_object(inputs, NULL);
        sw_writer_text(one, "name", value->inputs[i].name);
        sw_writer_text(one, "value", value->inputs[i].value);
    }
}

sw_status sw_render_explain_json(char **out, const sw_explain *e) {
    static const char *const ofs[] = {"stage", "sound", "looks", "rated", "measure"};
    bool both = e->part != NULL && !e->present;
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_writer_integer(root, "schema", 1);
    sw_writer_text(root, "title", e->answer->title);
    sw_writer_text(root, "part", e->part);
    if (e->part != NULL)
        sw_writer_bool(root, "present", e->present);
    if (e->obstacle != NULL)
        sw_writer_text(root, "obstacle", e->obstacle);
    sw_writer *list = sw_writer_array(root, "points");
    for (size_t c = 0; c < e->answer->criterion_count; c++) {
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "criterion", e->answer->criterion_ids[c]);
        sw_writer_milli(one, "points", both ? e->points_with[c] : e->points_now[c], 3);
        if (both)
            sw_writer_text(one, "formula", e->points_formula[c]);
    }
    list = sw_writer_array(root, "lines");
    for (size_t i = 0; i < e->line_count; i++) {
        const sw_explain_line *line = &e->lines[i];
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "of", ofs[line->of]);
        sw_writer_text(one, "id", line->id);
        sw_writer_text(one, "name", line->name);
        sw_writer_text(one, "formula", line->formula);
        sw_writer_text(one, "unit", line->unit);
        sw_writer_text(one, "source", line->source);
        write_value(one, &line->now);
        if (both)
            write_value(sw_writer_object(one, "with"), &line->with);
    }
    return sw_writer_finish(out, root);
}
