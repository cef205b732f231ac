/* What every sheet begins and ends with, and how it writes numbers. */
#include "render/sheet.h"

#include <string.h>

const char *sw_cut_short(bool asked_to) {
    return asked_to ? "It was stopped on request" : "The time ran out";
}

bool sw_sheet_start(sw_sheet *sheet, const sw_answer *answer, sw_text_style style) {
    int width = style.width <= 0    ? 80
                : style.width < 40  ? 40
                : style.width > 100 ? 100
                                    : style.width;
    *sheet = (sw_sheet){.page = {.width = width, .bold = style.bold},
                        .answer = answer,
                        .arena = sw_arena_new(),
                        .cut_short = sw_cut_short(answer != NULL && answer->asked_to_stop)};
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

const char *sw_sheet_figures(sw_sheet *sheet, int64_t number, int decimals) {
    sw_text text = {0};
    sw_text_add_figures(&text, number, decimals);
    const char *out = text.failed ? NULL : sw_arena_copy(sheet->arena, text.bytes);
    sw_text_free(&text);
    return sw_sheet_text(sheet, out);
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
    if (a->learnt_jobs > 0)
        sw_sheet_words(s, "",
                       SW_FORMAT(s,
                                 "Rates, levels and measures are told as %zu of the shop's own "
                                 "jobs taught, where these say enough.",
                                 a->learnt_jobs));
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

void sw_sheet_no_best(sw_sheet *s) {
    if (s->answer->status == SW_NOTHING_FITS)
        sw_sheet_words(s, "",
                       "Nothing fits this job: \"swapworth plan\" tells what is in the way.");
    else
        sw_sheet_words(s, "", SW_FORMAT(s, "%s before the best bundle was settled.", s->cut_short));
}

void sw_sheet_verified(sw_sheet *s) {
    const sw_answer *a = s->answer;
    if (a->verified == SW_VERIFIED_NOT_ASKED)
        return;
    sw_page_gap(&s->page);
    if (a->verified == SW_VERIFIED_ALL)
        sw_sheet_words(s, "", "Every bundle above was proved again by the linear solver (GLPK).");
    else if (a->verified == SW_VERIFIED_NONE)
        sw_sheet_words(s, "",
                       "None of the bundles above was proved again by the linear solver (GLPK).");
    else
        sw_sheet_words(s, "",
                       SW_FORMAT(s,
                                 "Proved again by the linear solver (GLPK): %zu of the %zu bundles "
                                 "above. The others it did not settle.",
                                 a->verified_count, a->verify_count));
}
