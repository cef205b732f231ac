/* The options side by side: what one will notice, what changes, what it costs, how long it takes.
 */
#include <string.h>

#include "render/differences.h"
#include "render/proposal.h"

/* ---- rows ----------------------------------------------------------------------------------- */

static void group(sw_proposal *p, const char *name) {
    sw_html *h = &p->html;
    sw_text_addf(&h->out,
                 "</tbody>\n<tbody>\n<tr><th class=\"group\" scope=\"rowgroup\" "
                 "colspan=\"%zu\">",
                 p->options->count + 2);
    sw_html_text(h, name);
    sw_html_raw(h, "</th></tr>\n");
}

static void begin(sw_proposal *p, const char *look, const char *label, const char *today) {
    sw_html *h = &p->html;
    sw_text_addf(&h->out, "<tr%s>", look);
    sw_html_element(h, "th", " scope=\"row\"", label);
    sw_html_element(h, "td", "", today);
}

static void number_cell(sw_proposal *p, const sw_option *option, const char *name,
                        const char *number, const char *rest) {
    sw_html *h = &p->html;
    sw_html_raw(h, "<td>");
    sw_html_number(h, sw_proposal_place(option), name, number);
    sw_html_text(h, rest);
    sw_html_raw(h, "</td>");
}

static void end_row(sw_proposal *p) { sw_html_raw(&p->html, "</tr>\n"); }

/* ---- what is noticed ------------------------------------------------------------------------- */

static void loudness(sw_proposal *p) {
    sw_sheet *s = &p->html.sheet;
    const sw_options *o = p->options;
    const sw_answer *a = o->plan;
    if (!a->has_sound)
        return;
    begin(p, "", "loudness at the seat",
          SW_FORMAT(s, "%s sone (%s dB(A))", sw_sheet_decimal(s, a->loudness_now_sone, 2),
                    sw_sheet_decimal(s, a->level_now_dba, 1)));
    for (size_t i = 0; i < o->count; i++) {
        const sw_answer_bundle *b = &o->options[i].bundle;
        number_cell(p, &o->options[i], "sone",
                    SW_FORMAT(s, "%s sone", sw_sheet_decimal(s, b->loudness_sone, 2)),
                    SW_FORMAT(s, " (%s dB(A)): %s", sw_sheet_decimal(s, b->level_dba, 1),
                              sw_louder(b->loudness_sone / a->loudness_now_sone)));
    }
    end_row(p);
}

static int digits_of(const sw_answer_rate *rate) {
    return rate->rate_now <= 0 ? 2 : rate->rate_then < 10 ? 1 : 0;
}

static const char *chance(sw_sheet *s, const sw_option *option, size_t use) {
    if (!option->has_chance || use >= option->bundle.rate_count)
        return "";
    const sw_answer_rate *sure = &option->promised[use], *lucky = &option->bundle.rates[use];
    if (lucky->ratio < sure->ratio * 1.005)
        return "";
    return SW_FORMAT(s, "; with luck %s, not promised", sw_option_rate(s, lucky));
}

static void rate_cell(sw_proposal *p, const sw_option *option, size_t use) {
    sw_html *h = &p->html;
    sw_sheet *s = &h->sheet;
    const sw_answer_rate *rate = &option->promised[use];
    bool known = rate->rate_now > 0;
    int digits = digits_of(rate);
    const char *low = sw_sheet_decimal(s, known ? rate->rate_low : rate->low, digits);
    const char *high = sw_sheet_decimal(s, known ? rate->rate_high : rate->high, digits);
    const char *place = sw_proposal_place(option);
    sw_html_raw(h, "<td>");
    sw_html_number(h, place, SW_FORMAT(s, "rate-%s", rate->use),
                   sw_sheet_decimal(s, known ? rate->rate_then : rate->ratio, digits));
    if (strcmp(low, high) != 0) {
        sw_html_raw(h, " (");
        sw_html_number(h, place, SW_FORMAT(s, "low-%s", rate->use), low);
        sw_html_raw(h, " to ");
        sw_html_number(h, place, SW_FORMAT(s, "high-%s", rate->use), high);
        sw_html_raw(h, ")");
    }
    sw_html_text(h, SW_FORMAT(s, " %s%s%s", known ? rate->unit : "times today's",
                              rate->ratio < 0.995 ? ": slower than today" : "",
                              chance(s, option, use)));
    sw_html_raw(h, "</td>");
}

static void rates(sw_proposal *p) {
    sw_sheet *s = &p->html.sheet;
    const sw_options *o = p->options;
    for (size_t u = 0; u < o->options[0].promised_count; u++) {
        const sw_answer_rate *rate = &o->options[0].promised[u];
        bool known = rate->rate_now > 0;
        begin(p, "", rate->use_name,
              known ? SW_FORMAT(s, "%s %s",
                                sw_sheet_decimal(s, rate->rate_now, rate->rate_now < 10 ? 1 : 0),
                                rate->unit)
                    : "1 (not measured)");
        for (size_t i = 0; i < o->count; i++)
            rate_cell(p, &o->options[i], u);
        end_row(p);
    }
}

static void looks(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_options *o = p->options;
    if (!o->options[0].has_looks)
        return;
    begin(p, "", "looks", "as it is");
    for (size_t i = 0; i < o->count; i++) {
        const char *share = sw_sheet_decimal(&h->sheet, 100 * o->options[i].looks_nearer, 0);
        sw_html_element(h, "td", "",
                        o->options[i].looks_nearer < 0
                            ? SW_FORMAT(&h->sheet, "farther from your taste (%s %%)", share)
                            : SW_FORMAT(&h->sheet, "%s %% of the way to your taste", share));
    }
    end_row(p);
}

/* What is judged side by side, in hundredths of its scale. */
static void rated(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_options *o = p->options;
    const sw_answer *a = o->plan;
    for (size_t c = 0; c < a->criterion_count; c++) {
        bool any = false;
        for (size_t i = 0; i < o->count; i++)
            any = any || o->options[i].bundle.by_criterion[c] != 0;
        if (!any || a->weights[c] <= 0 || strcmp(a->criterion_kinds[c], "rated") != 0)
            continue;
        begin(p, "", a->criterion_names[c], "as it is");
        for (size_t i = 0; i < o->count; i++) {
            double share = (double)o->options[i].bundle.by_criterion[c] / (1000 * a->weights[c]);
            sw_html_element(
                h, "td", "",
                share == 0
                    ? "as today"
                    : SW_FORMAT(&h->sheet, "%s by %s of 100 marks", share > 0 ? "better" : "worse",
                                sw_sheet_decimal(&h->sheet, share > 0 ? share : -share, 0)));
        }
        end_row(p);
    }
}

static void ended(sw_proposal *p) {
    const sw_options *o = p->options;
    for (size_t t = 0; t < o->trouble_count; t++) {
        if (!o->troubles[t].shows)
            continue;
        begin(p, "", o->troubles[t].name, "so it is");
        for (size_t i = 0; i < o->count; i++)
            sw_html_element(&p->html, "td", "", o->options[i].ends[t] ? "ended" : "not ended");
        end_row(p);
    }
}

/* ---- what changes ---- */

static bool works_on(const sw_option *option, const char *role) {
    for (size_t i = 0; i < option->bundle.task_count; i++)
        if (strcmp(option->bundle.tasks[i].role, role) == 0)
            return true;
    return false;
}

static const sw_holding *today_of(const sw_options *o, const char *role) {
    for (size_t i = 0; i < o->present_count; i++)
        if (strcmp(o->present[i].role, role) == 0)
            return &o->present[i];
    return NULL;
}

static bool goes(const sw_options *o, const char *role, const char *part) {
    for (size_t i = 0; i < o->count; i++) {
        const sw_answer_swap *swap = sw_swap_of(&o->options[i].bundle, role);
        for (size_t k = 0; swap != NULL && k < swap->out_count; k++)
            if (strcmp(swap->out[k].id, part) == 0)
                return true;
    }
    return false;
}

/* What it brings when it goes: whose it is then is said above. NULL: nothing. */
static const char *brings(sw_proposal *p, const sw_answer_part *part) {
    sw_sheet *s = &p->html.sheet;
    const char *hope = part->hoped > 0 ? SW_FORMAT(s, "sold by you it might bring %s, not counted",
                                                   sw_sheet_money(s, part->hoped))
                                       : "";
    if (part->offer > 0)
        return SW_FORMAT(s, "if it goes, up to %s off what replaces it%s%s",
                         sw_sheet_money(s, part->offer), hope[0] == '\0' ? "" : "; ", hope);
    return hope[0] == '\0' ? NULL : hope;
}

static void today_cell(sw_proposal *p, const char *role) {
    sw_html *h = &p->html;
    const sw_holding *today = today_of(p->options, role);
    sw_html_raw(h, "<td>");
    if (today == NULL)
        sw_html_raw(h, "none");
    for (size_t i = 0; today != NULL && i < today->count; i++) {
        sw_html_raw(h, "<p>");
        sw_html_text(h, sw_sheet_part(&h->sheet, &today->parts[i]));
        const char *sum =
            goes(p->options, role, today->parts[i].id) ? brings(p, &today->parts[i]) : NULL;
        if (sum != NULL)
            sw_html_element(h, "small", "", SW_FORMAT(&h->sheet, " (%s)", sum));
        sw_html_raw(h, "</p>");
    }
    sw_html_raw(h, "</td>");
}

static const char *terms_of(sw_proposal *p, const sw_answer_part *part) {
    sw_sheet *s = &p->html.sheet;
    const char *here = part->days > 0 ? SW_FORMAT(s, ", here in %s", sw_days(s, part->days)) : "";
    if (part->warranty_months < 0)
        return SW_FORMAT(s, "brought by you%s", here);
    return SW_FORMAT(s, "%s%s, %s%s; warranty %s, return %s", sw_sheet_money(s, part->price),
                     part->count > 1 ? " together" : "", part->seller_name, here,
                     part->warranty_months > 0 ? SW_FORMAT(s, "%d months", part->warranty_months)
                                               : "none",
                     part->return_days > 0 ? sw_days(s, part->return_days) : "none");
}

static bool is_there_today(const sw_options *o, const char *role, const char *part) {
    const sw_holding *today = today_of(o, role);
    for (size_t i = 0; today != NULL && i < today->count; i++)
        if (strcmp(today->parts[i].id, part) == 0)
            return true;
    return false;
}

static void comes(sw_proposal *p, const char *role, const sw_answer_part *part, bool for_all) {
    sw_html *h = &p->html;
    sw_html_raw(h, "<p><strong>");
    sw_html_raw(h, is_there_today(p->options, role, part->id) ? "another " : "");
    sw_html_text(h, sw_sheet_part(&h->sheet, part));
    sw_html_raw(h, "</strong> ");
    sw_html_element(h, "small", "",
                    SW_FORMAT(&h->sheet, "%s%s", terms_of(p, part),
                              for_all ? "; replaces all of today's" : ""));
    sw_html_raw(h, "</p>");
}

static const char *named(sw_proposal *p, const sw_answer_part *parts, size_t count) {
    const char *line = "";
    for (size_t i = 0; i < count; i++)
        line = SW_FORMAT(&p->html.sheet, "%s%s%s", line, i == 0 ? "" : ", ",
                         sw_sheet_part(&p->html.sheet, &parts[i]));
    return line;
}

/* Something comes in place of all that is there. */
static bool all_go(const sw_answer_swap *swap) {
    return swap->in_count > 0 && swap->out_count > 0 && swap->stay_count == 0;
}

static void change_cell(sw_proposal *p, const sw_option *option, const char *role) {
    sw_html *h = &p->html;
    const sw_answer_swap *swap = sw_swap_of(&option->bundle, role);
    for (size_t i = 0; swap != NULL && i < swap->in_count; i++)
        comes(p, role, &swap->in[i], i + 1 == swap->in_count && all_go(swap));
    if (swap != NULL && swap->stay_count > 0)
        sw_html_element(h, "p", "",
                        SW_FORMAT(&h->sheet, "stays: %s", named(p, swap->stays, swap->stay_count)));
    if (swap != NULL && swap->out_count > 0 && !all_go(swap)) {
        sw_html_raw(h, "<p>");
        sw_html_element(h, "small", "",
                        SW_FORMAT(&h->sheet, "goes: %s", named(p, swap->out, swap->out_count)));
        sw_html_raw(h, "</p>");
    }
    for (size_t i = 0; i < option->bundle.task_count; i++)
        if (strcmp(option->bundle.tasks[i].role, role) == 0)
            sw_html_element(h, "p", " class=\"bench\"", option->bundle.tasks[i].name);
    if (swap == NULL && !works_on(option, role))
        sw_html_element(h, "p", "", today_of(p->options, role) == NULL ? "none" : "stays");
}

/* As the cell before it, where that says the same. */
static void change_cells(sw_proposal *p, const char *role) {
    sw_html *h = &p->html;
    const sw_options *o = p->options;
    sw_text before = {0};
    for (size_t i = 0; i < o->count; i++) {
        size_t at = h->out.length;
        sw_html_raw(h, "<td>");
        size_t from = h->out.length;
        change_cell(p, &o->options[i], role);
        if (h->out.failed)
            break;
        const char *own = h->out.bytes + from;
        bool changes =
            sw_swap_of(&o->options[i].bundle, role) != NULL || works_on(&o->options[i], role);
        bool same = i > 0 && changes && before.bytes != NULL && strcmp(before.bytes, own) == 0;
        if (!same) {
            sw_text_free(&before);
            sw_text_add(&before, own);
        } else {
            h->out.length = at;
            h->out.bytes[at] = '\0';
            sw_html_text(h, "");
            sw_text_addf(&h->out, "<td>as in option %zu", i);
        }
        sw_html_raw(h, "</td>");
    }
    h->out.failed = h->out.failed || before.failed;
    sw_text_free(&before);
}

/* What the role costs where most is spent on it; -1: nothing happens there. */
static int64_t most_spent(const sw_options *o, const char *role) {
    int64_t most = -1;
    for (size_t i = 0; i < o->count; i++) {
        const sw_answer_swap *swap = sw_swap_of(&o->options[i].bundle, role);
        int64_t cost = swap != NULL ? swap->cost + 1 : works_on(&o->options[i], role) ? 0 : -1;
        most = cost > most ? cost : most;
    }
    return most;
}

typedef struct changed_role {
    const char *role, *name;
    int64_t spent;
} changed_role;

static size_t put(changed_role *list, size_t count, const sw_options *o, const char *role,
                  const char *name) {
    changed_role one = {role, name, most_spent(o, role)};
    size_t at = count;
    for (size_t i = 0; i < count; i++)
        if (strcmp(list[i].role, role) == 0)
            return count;
    for (; at > 0 && list[at - 1].spent < one.spent; at--)
        list[at] = list[at - 1];
    list[at] = one;
    return count + 1;
}

static size_t room_of(const sw_options *o) {
    size_t room = 0;
    for (size_t i = 0; i < o->count; i++)
        room += o->options[i].bundle.swap_count + o->options[i].bundle.task_count;
    return room;
}

static void changes(sw_proposal *p) {
    const sw_options *o = p->options;
    changed_role *list = SW_NEW(p->html.sheet.arena, changed_role, room_of(o) + 1);
    size_t count = 0;
    if (list == NULL) {
        p->html.out.failed = true;
        return;
    }
    for (size_t i = 0; i < o->count; i++) {
        const sw_answer_bundle *b = &o->options[i].bundle;
        for (size_t k = 0; k < b->swap_count; k++)
            count = put(list, count, o, b->swaps[k].role, b->swaps[k].role_name);
        for (size_t k = 0; k < b->task_count; k++)
            count = put(list, count, o, b->tasks[k].role, b->tasks[k].role_name);
    }
    for (size_t i = 0; i < count; i++) {
        sw_html_raw(&p->html, "<tr>");
        sw_html_element(&p->html, "th", " scope=\"row\"", list[i].name);
        today_cell(p, list[i].role);
        change_cells(p, list[i].role);
        end_row(p);
    }
}

static void stays(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_options *o = p->options;
    const char *line = "";
    for (size_t i = 0; i < o->present_count; i++) {
        const sw_holding *today = &o->present[i];
        if (most_spent(o, today->role) >= 0)
            continue;
        const char *parts = "";
        for (size_t k = 0; k < today->count; k++)
            parts = SW_FORMAT(&h->sheet, "%s%s%s", parts, k == 0 ? "" : ", ",
                              sw_sheet_part(&h->sheet, &today->parts[k]));
        line = SW_FORMAT(&h->sheet, "%s%s%s (%s)", line, line[0] == '\0' ? "" : "; ",
                         today->role_name, parts);
    }
    sw_html_raw(h, "<tr><th scope=\"row\">stays in every option</th>");
    sw_text_addf(&h->out, "<td colspan=\"%zu\">", o->count + 1);
    sw_html_text(h, line[0] == '\0' ? "nothing else is in the machine" : line);
    sw_html_raw(h, "</td></tr>\n");
}

/* ---- what it costs ---- */

static int64_t delivery_of(const sw_answer_bundle *b) {
    int64_t sum = 0;
    for (size_t i = 0; i < b->due_count; i++)
        sum += strncmp(b->dues[i].id, "delivery-", 9) == 0 ? b->dues[i].amount : 0;
    return sum;
}

typedef enum bill_line { GOODS, OFFERS, PRICES, DELIVERY, OTHERS, LABOUR, TAX, TOTAL } bill_line;

static int64_t amount_of(const sw_answer_bundle *b, bill_line line) {
    switch (line) {
    case GOODS:
        return b->goods;
    case OFFERS:
        return -b->offers;
    case PRICES:
        return b->task_prices;
    case DELIVERY:
        return delivery_of(b);
    case OTHERS:
        return b->charges - delivery_of(b);
    case LABOUR:
        return b->labour;
    case TAX:
        return b->tax;
    default:
        return b->cost;
    }
}

static void bill(sw_proposal *p) {
    static const struct {
        const char *name, *label, *today;
    } lines[] = {[GOODS] = {"goods", "parts", ""},
                 [OFFERS] = {"offers", "old parts, taken off", ""},
                 [PRICES] = {"prices", "small materials", ""},
                 [DELIVERY] = {"delivery", "delivery", ""},
                 [OTHERS] = {"charges", "other charges", ""},
                 [LABOUR] = {"labour", "bench work", ""},
                 [TAX] = {"tax", "tax", ""},
                 [TOTAL] = {"total", "in all", ""}};
    const sw_options *o = p->options;
    for (int l = GOODS; l <= TOTAL; l++) {
        bool any = l == TOTAL || l == GOODS;
        for (size_t i = 0; i < o->count; i++)
            any = any || amount_of(&o->options[i].bundle, (bill_line)l) != 0;
        if (!any)
            continue;
        begin(p, l == TOTAL ? " class=\"sum\"" : "", lines[l].label, lines[l].today);
        for (size_t i = 0; i < o->count; i++)
            number_cell(p, &o->options[i], lines[l].name,
                        sw_proposal_money(p, amount_of(&o->options[i].bundle, (bill_line)l)), "");
        end_row(p);
    }
}

static void kept_back(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_options *o = p->options;
    const sw_answer *a = o->plan;
    if (a->reserve + a->sundries == 0)
        return;
    begin(p, "",
          a->reserve == 0    ? "at the most, with sundries"
          : a->sundries == 0 ? "at the most, with the reserve"
                             : "at the most, with reserve and sundries",
          "");
    for (size_t i = 0; i < o->count; i++)
        sw_html_element(h, "td", "",
                        sw_proposal_money(p, o->options[i].bundle.cost + a->reserve + a->sundries));
    end_row(p);
}

/* ---- time, and later
 * ------------------------------------------------------------------------------ */

static void times(sw_proposal *p) {
    sw_html *h = &p->html;
    sw_sheet *s = &h->sheet;
    const sw_options *o = p->options;
    begin(p, "", "parts are here in", "");
    for (size_t i = 0; i < o->count; i++)
        sw_html_element(h, "td", "",
                        o->options[i].bundle.longest_days == 0
                            ? "at once"
                            : sw_days(s, o->options[i].bundle.longest_days));
    end_row(p);
    begin(p, "", "then without it for", "");
    for (size_t i = 0; i < o->count; i++)
        number_cell(p, &o->options[i], "days", sw_days(s, o->options[i].days_without), "");
    end_row(p);
}

static void next_cell(sw_proposal *p, const sw_option *option) {
    sw_html *h = &p->html;
    sw_sheet *s = &h->sheet;
    const char *place = sw_proposal_place(option);
    sw_html_raw(h, "<td>");
    if (option->hundred != NULL && option->hundred->points > option->bundle.points) {
        sw_html_number(
            h, place, "hundred-points",
            SW_FORMAT(s, "%s points",
                      sw_sheet_points(s, option->hundred->points - option->bundle.points)));
        sw_html_text(h, " more");
    } else {
        sw_html_text(h, option->hundred != NULL ? "nothing" : "not known");
    }
    sw_html_raw(h, "</td>");
}

static void step_cell(sw_proposal *p, const sw_option *option) {
    sw_html *h = &p->html;
    sw_sheet *s = &h->sheet;
    const char *place = sw_proposal_place(option);
    sw_html_raw(h, "<td>");
    if (option->instead != NULL)
        sw_html_element(h, "p", "",
                        SW_FORMAT(s,
                                  "for the same money %s points could be had, but that complaint "
                                  "would stay;",
                                  sw_sheet_points(s, option->instead->points)));
    if (option->next != NULL) {
        sw_html_raw(h, "for ");
        sw_html_number(h, place, "next-sum",
                       sw_proposal_money(p, option->next->cost - option->bundle.cost));
        sw_html_raw(h, " more: ");
        sw_html_number(h, place, "next-points",
                       SW_FORMAT(s, "%s points",
                                 sw_sheet_points(s, option->next->points - option->bundle.points)));
        sw_html_raw(h, option->next_ends ? "" : ", but it does not end that complaint");
    } else {
        sw_html_text(h, p->options->curve->status != SW_OPTIMAL
                            ? "not known"
                            : SW_FORMAT(s, "none up to %s",
                                        sw_proposal_money(p, p->options->curve->curve_to)));
    }
    sw_html_raw(h, "</td>");
}

static void later(sw_proposal *p) {
    sw_html *h = &p->html;
    sw_sheet *s = &h->sheet;
    const sw_options *o = p->options;
    begin(p, "", "points",
          o->plan->baseline.swap_count + o->plan->baseline.task_count > 0 ? "" : "0.0 points");
    for (size_t i = 0; i < o->count; i++)
        number_cell(p, &o->options[i], "points",
                    SW_FORMAT(s, "%s points", sw_sheet_points(s, o->options[i].bundle.points)), "");
    end_row(p);
    begin(p, "", SW_FORMAT(s, "next 100 %s bring", o->plan->currency), "");
    for (size_t i = 0; i < o->count; i++)
        next_cell(p, &o->options[i]);
    end_row(p);
    begin(p, "", "next step up", "");
    for (size_t i = 0; i < o->count; i++)
        step_cell(p, &o->options[i]);
    end_row(p);
    if (o->count < 2)
        return;
    begin(p, "", "going on later", "");
    for (size_t i = 0; i < o->count; i++) {
        sw_html_raw(h, "<td>");
        for (size_t g = 0; g < o->options[i].given_up_count; g++)
            sw_html_element(h, "p", "",
                            sw_option_going_on(s, o, &o->options[i], &o->options[i].given_up[g]));
        sw_html_raw(h, "</td>");
    }
    end_row(p);
}

/* ---- the whole
 * -------------------------------------------------------------------------------------- */

static void heads(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_options *o = p->options;
    sw_html_raw(h, "<thead>\n<tr><th scope=\"col\">What</th><th scope=\"col\">Today</th>");
    for (size_t i = 0; i < o->count; i++) {
        sw_text_addf(&h->out,
                     "<th scope=\"col\"><span class=\"numeral\">%zu</span> Option %zu: ", i + 1,
                     i + 1);
        sw_html_text(h, sw_option_names[o->options[i].place]);
        sw_html_raw(h, "</th>");
    }
    sw_html_raw(h, "</tr>\n</thead>\n<tbody>\n");
    begin(p, "", "why this one", "");
    for (size_t i = 0; i < o->count; i++)
        sw_html_element(h, "td", "", sw_option_reason(&h->sheet, o, &o->options[i]));
    end_row(p);
}

static void sketch(sw_proposal *p, const char *name, const sw_option *option) {
    sw_html *h = &p->html;
    sw_html_raw(h, "<div>\n");
    sw_html_element(h, "p", "", name);
    sw_proposal_drawing(p, option);
    sw_html_raw(h, "\n</div>\n");
}

static void sketches(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_options *o = p->options;
    if (o->terms.drawn_count == 0)
        return;
    sw_html_raw(h, "<div class=\"sketches\">\n");
    sketch(p, "Today", NULL);
    for (size_t i = 0; i < o->count; i++)
        sketch(p, SW_FORMAT(&h->sheet, "After option %zu", i + 1), &o->options[i]);
    sw_html_raw(h, "</div>\n");
    sw_proposal_drawing_key(p);
}

void sw_proposal_table(sw_proposal *p) {
    sw_html *h = &p->html;
    const sw_options *o = p->options;
    static const char *const counted[] = {"", "One way to go", "Two ways to go",
                                          "Three ways to go"};
    sw_html_raw(h, "<section aria-labelledby=\"ways\">\n");
    sw_html_element(h, "h2", " id=\"ways\"", counted[o->count]);
    sw_html_raw(h, "\n");
    sketches(p);
    sw_html_element(h, "p", "",
                    SW_FORMAT(&h->sheet,
                              "Numbers in brackets: what it may come to at the least and the most. "
                              "%s",
                              sw_proposal_weights(p)));
    sw_html_raw(h, "<div class=\"wide\" tabindex=\"0\" role=\"group\" "
                   "aria-labelledby=\"ways\">\n<table class=\"side\">\n");
    sw_html_raw(h, "<caption>The options side by side</caption>\n");
    heads(p);
    group(p, "What you will notice");
    loudness(p);
    rates(p);
    looks(p);
    rated(p);
    ended(p);
    group(p, "What comes, what goes (it is yours, unless we take it off the price), what "
             "stays; bench work in italics");
    changes(p);
    stays(p);
    group(p, "What you pay");
    bill(p);
    kept_back(p);
    group(p, "How long it takes");
    times(p);
    group(p, "What more money would bring");
    later(p);
    sw_html_raw(h, "</tbody>\n</table>\n</div>\n");
    if (o->has_nested && o->nested_taken && o->nested_loss > 0)
        sw_html_element(h, "p", "",
                        SW_FORMAT(&h->sheet,
                                  "The middle way holds all of the first step and nothing that the "
                                  "full measure does not; without that it would bring %s points "
                                  "more for its money.",
                                  sw_sheet_points(&h->sheet, o->nested_loss)));
    sw_html_raw(h, "</section>\n");
}
