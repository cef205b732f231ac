/* What changes for whoever sits in front of the machine. */
#include "render/feel.h"

#include <math.h>
#include <string.h>

static const char *joined(sw_sheet *s, const sw_answer_part *parts, size_t count, bool sellers) {
    const char *line = "";
    for (size_t i = 0; i < count; i++) {
        const sw_answer_part *part = &parts[i];
        bool sold = sellers && part->seller_name != NULL && part->seller_name[0] != '\0';
        line = SW_FORMAT(s, "%s%s%s%s%s", line, i == 0 ? "" : " and ", sw_sheet_part(s, part),
                         sold ? " from " : "", sold ? part->seller_name : "");
    }
    return line;
}

void sw_sheet_swap_line(sw_sheet *s, const sw_answer_swap *swap) {
    const char *out = joined(s, swap->out, swap->out_count, false);
    if (swap->in_count == 0)
        sw_sheet_words(s, "     ", SW_FORMAT(s, "%s: %s goes out", swap->role_name, out));
    else
        sw_sheet_words(s, "     ",
                       SW_FORMAT(s, "%s: %s%s%s%s%s", swap->role_name,
                                 joined(s, swap->in, swap->in_count, true),
                                 swap->out_count > 0 ? " in place of " : "", out,
                                 swap->stay_count > 0 ? "; what stays: " : "",
                                 joined(s, swap->stays, swap->stay_count, false)));
}

/* The rate of the use in the stage before; today's is 1 of itself. */
static double ratio_before(const sw_answer_bundle *before, const sw_answer_rate *rate) {
    for (size_t i = 0; before != NULL && i < before->rate_count; i++)
        if (strcmp(before->rates[i].use, rate->use) == 0)
            return before->rates[i].ratio;
    return 1;
}

static const char *number(sw_sheet *s, double x) { return sw_sheet_decimal(s, x, x < 10 ? 1 : 0); }

static const char *rate_words(sw_sheet *s, const sw_answer_rate *rate, double before) {
    if (rate->rate_now > 0)
        return SW_FORMAT(s, "%s: about %s %s, %s before", rate->use_name,
                         number(s, rate->rate_then), rate->unit,
                         number(s, rate->rate_now * before));
    return SW_FORMAT(s, "%s: %s times today's rate", rate->use_name,
                     sw_sheet_decimal(s, rate->ratio, 2));
}

/* Is it another number as it is told? */
static bool shows_change(sw_sheet *s, const sw_answer_rate *rate, double before) {
    if (fabs(rate->ratio - before) < 0.005 * before)
        return false;
    return rate->rate_now <= 0 ||
           strcmp(number(s, rate->rate_then), number(s, rate->rate_now * before)) != 0;
}

void sw_sheet_feel(sw_sheet *s, const char *lead, const sw_answer_bundle *stage,
                   const sw_answer_bundle *before) {
    const sw_answer *a = s->answer;
    const char *line =
        SW_FORMAT(s, "Then it stands at %s points", sw_sheet_points(s, stage->points));
    if (before != NULL && stage->points < before->points)
        line = SW_FORMAT(s, "%s, %s fewer than before: what comes later makes up for it", line,
                         sw_sheet_points(s, before->points - stage->points));
    for (size_t i = 0; i < stage->rate_count; i++) {
        double was = ratio_before(before, &stage->rates[i]);
        if (shows_change(s, &stage->rates[i], was))
            line = SW_FORMAT(s, "%s; %s", line, rate_words(s, &stage->rates[i], was));
    }
    double was = before != NULL ? before->loudness_sone : a->loudness_now_sone;
    const char *then = sw_sheet_decimal(s, stage->loudness_sone, 1);
    const char *loud = sw_sheet_decimal(s, was, 1);
    if (a->has_sound && strcmp(then, loud) != 0)
        line = SW_FORMAT(s, "%s; loudness: %s sone, %s before", line, then, loud);
    sw_sheet_words(s, lead, SW_FORMAT(s, "%s.", line));
}
