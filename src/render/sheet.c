/* What every sheet begins and ends with, and how it writes numbers. */
#include "render/sheet.h"

#include <string.h>

bool sw_sheet_start(sw_sheet *sheet, const sw_answer *answer, sw_text_style style) {
    int width = style.width <= 0    ? 80
                : style.width < 40  ? 40
                : style.width > 100 ? 100
                                    : style.width;
    *sheet = (sw_sheet){
        .page = {.width = width, .bold = style.bold}, .answer = answer, .arena = sw_arena_new()};
    return sheet->arena != NULL;
}

sw_status sw_sheet_finish(char **out, sw_sheet *sheet) {
    sw_arena_free(sheet->arena);
    if (sheet->page.text.failed || sheet->page.text.bytes == NULL) {
        sw_text_free(&sheet->page.text);
        return SW_NO_MEMORY;
    }
    *out = sheet->page.text.bytes;
    return SW_OK;
}

const char *sw_sheet_text(sw_sheet *sheet, const char *text) {
    if (text != NULL)
        return text;
    sheet->page.text.failed = true;
    return "";
}

const char *sw_sheet_money(sw_sheet *sheet, int64_t minor) {
    return sw_sheet_text(sheet, sw_money_text(sheet->arena, minor, sheet->answer->digits));
}

const char *sw_sheet_decimal(sw_sheet *sheet, double x, int decimals) {
    int64_t milli = 0;
    return sw_round_to(&milli, x, decimals)
               ? sw_sheet_text(sheet, sw_milli_text(sheet->arena, milli, decimals))
               : "";
}

const char *sw_sheet_points(sw_sheet *sheet, int64_t thousandths) {
    return sw_sheet_text(sheet, sw_milli_text(sheet->arena, thousandths, 1));
}

const char *sw_sheet_right(sw_sheet *sheet, const char *text, int columns) {
    int missing = columns - sw_columns(text);
    return missing <= 0 ? text : SW_FORMAT(sheet, "%*s%s", missing, "", text);
}

void sw_sheet_words(sw_sheet *sheet, const char *lead, const char *text) {
    sw_page_words(&sheet->page, lead, text);
}

void sw_sheet_sum(sw_sheet *sheet, const char *lead, const char *left, const char *right) {
    sw_page_sum(&sheet->page, lead, left, right);
}

int64_t sw_sheet_to_spend(const sw_answer *answer) {
    return answer->budget_total - answer->reserve - answer->sundries;
}

void sw_sheet_head(sw_sheet *s, bool money_too) {
    const sw_answer *a = s->answer;
    if (a->title[0] != '\0')
        sw_page_title(&s->page, a->title);
    if (!money_too)
        return;
    const char *reserve =
        a->reserve > 0 ? SW_FORMAT(s, "%s kept in reserve", sw_sheet_money(s, a->reserve)) : "";
    const char *sundries =
        a->sundries > 0 ? SW_FORMAT(s, "%s for sundries", sw_sheet_money(s, a->sundries)) : "";
    bool both = a->reserve > 0 && a->sundries > 0;
    if (a->reserve > 0 || a->sundries > 0)
        sw_sheet_words(s, "",
                       SW_FORMAT(s, "To spend: %s %s (%s, less %s%s%s).",
                                 sw_sheet_money(s, a->budget), a->currency,
                                 sw_sheet_money(s, a->budget_total), reserve, both ? " and " : "",
                                 sundries));
    else
        sw_sheet_words(s, "",
                       SW_FORMAT(s, "To spend: %s %s.", sw_sheet_money(s, a->budget), a->currency));
}

/* Adds "3 parts too late" to a list, or nothing. */
static const char *counted(sw_sheet *s, const char *line, size_t count, const char *why) {
    if (count == 0)
        return line;
    bool first = strchr(line, ',') == NULL && strstr(line, "part") == NULL;
    return SW_FORMAT(s, "%s%s %zu part%s %s", line, first ? "" : ",", count, count == 1 ? "" : "s",
                     why);
}

void sw_sheet_left_out(sw_sheet *s) {
    const sw_answer *a = s->answer;
    if (a->look_up_count > 0) {
        sw_page_heading(&s->page, "Left out until someone looks these up", NULL);
        for (size_t i = 0; i < a->look_up_count; i++)
            sw_sheet_words(s, "  - ",
                           SW_FORMAT(s, "%s: %s", a->look_ups[i].name, a->look_ups[i].meaning));
    }
    if (a->left_out_late + a->left_out_no_stock + a->left_out_avoided == 0)
        return;
    sw_page_gap(&s->page);
    const char *line = "Not offered:";
    line = counted(s, line, a->left_out_late, "too late");
    line = counted(s, line, a->left_out_no_stock, "out of stock");
    line = counted(s, line, a->left_out_avoided, "to be avoided");
    sw_sheet_words(s, "", SW_FORMAT(s, "%s.", line));
}
