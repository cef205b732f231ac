/* The answer of `phases`: what to buy now that stays right later, then the later phases. */
#include "answer/phases.h"

#include <string.h>

#include "render/differences.h"
#include "render/feel.h"

static bool changes(const sw_phase_told *told, const char *role) {
    for (size_t r = 0; r < told->role_count; r++)
        if (strcmp(told->roles[r], role) == 0)
            return true;
    return false;
}

static const char *money(sw_sheet *s, int64_t minor) {
    return SW_FORMAT(s, "%s %s", sw_sheet_money(s, minor), s->answer->currency);
}

static void phase(sw_sheet *s, const sw_phases *phases, size_t k) {
    const sw_phase_told *told = &phases->phases[k];
    const sw_answer_bundle *before = k > 0 ? &phases->phases[k - 1].stage : NULL;
    int64_t had = k > 0 ? phases->phases[k - 1].spent : 0;
    const char *late = told->role_count == 0 || told->here_in == 0 ? ""
                       : told->here_in == 1                        ? ", here in 1 day"
                                            : SW_FORMAT(s, ", here in %d days", told->here_in);
    sw_page_gap(&s->page);
    sw_sheet_sum(s, "", SW_FORMAT(s, "%s %s%s", k == 0 ? "Now," : "From", told->on, late),
                 sw_sheet_money(s, told->cost));
    sw_sheet_words(s, "     ", SW_FORMAT(s, "%s there to spend.", money(s, told->money - had)));
    bool later = false;
    for (size_t i = k + 1; i < phases->phase_count; i++)
        later = later || phases->phases[i].role_count > 0;
    if (told->role_count == 0)
        sw_sheet_words(s, "     ",
                       later ? "Buy nothing: the money does more in a later phase."
                             : "Buy nothing more: nothing that can be paid would be better.");
    for (size_t i = 0; i < told->stage.swap_count; i++)
        if (changes(told, told->stage.swaps[i].role))
            sw_sheet_swap_line(s, &told->stage.swaps[i]);
    for (size_t i = 0; i < told->stage.task_count; i++)
        if (changes(told, told->stage.tasks[i].role))
            sw_sheet_words(
                s, "     ",
                SW_FORMAT(s, "%s: %s", told->stage.tasks[i].role_name, told->stage.tasks[i].name));
    if (told->role_count > 0)
        sw_sheet_feel(s, "     ", &told->stage, before);
    if (told->money > told->spent)
        sw_sheet_words(s, "     ", SW_FORMAT(s, "Left: %s.", money(s, told->money - told->spent)));
}

/* Points on the average day of all phases. */
static const char *average(sw_sheet *s, const sw_phases *phases, int64_t value) {
    int64_t days = 0;
    for (size_t k = 0; k < phases->phase_count; k++)
        days += phases->phases[k].days;
    return sw_sheet_decimal(s, (double)value / (double)days / 1000, 1);
}

static void greedy_words(sw_sheet *s, const sw_phases *phases) {
    const sw_answer_bundle *now = &phases->phases[0].stage, *greedy = phases->greedy;
    if (greedy == NULL || phases->phase_count < 2)
        return;
    sw_page_heading(&s->page, "If no more money came", NULL);
    if (phases->greedy_too) {
        sw_sheet_words(s, "", "One would buy the same now: nothing of it is in the way later.");
        return;
    }
    sw_sheet_words(
        s, "",
        SW_FORMAT(s, "One would do otherwise now, for %s: %s points until %s instead of %s.",
                  money(s, greedy->cost), sw_sheet_points(s, greedy->points),
                  phases->phases[0].until, sw_sheet_points(s, now->points)));
    sw_sheet_differences(s, greedy, now, "in this plan");
    if (phases->greedy_value >= 0 && phases->greedy_value < phases->value)
        sw_sheet_words(s, "",
                       SW_FORMAT(s,
                                 "But it is in the way later: on the average day of all phases %s "
                                 "points instead of %s.",
                                 average(s, phases, phases->greedy_value),
                                 average(s, phases, phases->value)));
    else if (phases->greedy_value >= 0)
        sw_sheet_words(s, "", "Over all phases it comes to the same.");
}

static void end_words(sw_sheet *s, const sw_phases *phases) {
    sw_page_gap(&s->page);
    sw_sheet_words(s, "",
                   SW_FORMAT(s, "On the average day of all phases: %s points.",
                             average(s, phases, phases->value)));
    if (phases->answer->status != SW_STOPPED_EARLY)
        sw_sheet_words(s, "",
                       "No other plan in which what is bought stays and each phase works within "
                       "its money brings more over the whole time.");
    else if (phases->bound < INT64_MAX)
        sw_sheet_words(s, "",
                       SW_FORMAT(s, "%s: this is the best plan so far; none brings more than %s.",
                                 s->cut_short, average(s, phases, phases->bound)));
    else
        sw_sheet_words(
            s, "", SW_FORMAT(s, "%s: this is the best plan so far, and not proved.", s->cut_short));
}

sw_status sw_render_phases_text(char **out, const sw_phases *phases, sw_text_style style) {
    sw_sheet s;
    const sw_answer *a = phases->answer;
    if (!sw_sheet_start(&s, a, style))
        return SW_NO_MEMORY;
    sw_sheet_head(&s, true);
    if (phases->phase_count == 0) {
        sw_page_gap(&s.page);
        sw_sheet_words(
            &s, "",
            a->status == SW_STOPPED_EARLY
                ? SW_FORMAT(&s, "%s before any plan was found.", s.cut_short)
                : "Nothing fits the first phase with its money, on its day. With that day as the "
                  "scenario's date and that money, \"swapworth plan\" tells what is in the "
                  "way.");
        return sw_sheet_finish(out, &s);
    }
    for (size_t k = 0; k < phases->phase_count; k++)
        phase(&s, phases, k);
    greedy_words(&s, phases);
    end_words(&s, phases);
    sw_sheet_cautions(&s, &phases->phases[phases->phase_count - 1].stage);
    return sw_sheet_finish(out, &s);
}
