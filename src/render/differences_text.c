/* What one bundle holds where another holds something else, line by line. */
#include "render/differences.h"

#include <string.h>

#include "render/sheet.h"

/* Bought parts, told from the pieces of the same part that go out. */
static const char *bought(sw_sheet *s, const sw_answer_swap *swap) {
    const char *line = "";
    for (size_t i = 0; i < swap->in_count; i++) {
        bool again = false;
        for (size_t k = 0; k < swap->out_count; k++)
            again = again || strcmp(swap->in[i].id, swap->out[k].id) == 0;
        line = SW_FORMAT(s, "%s%s%s%s", line, i == 0 ? "" : " and ", sw_sheet_part(s, &swap->in[i]),
                         again ? " (another of the same)" : "");
    }
    return line;
}

static const char *listed(sw_sheet *s, const sw_answer_part *parts, size_t count) {
    const char *line = "";
    for (size_t i = 0; i < count; i++)
        line = SW_FORMAT(s, "%s%s%s", line, i == 0 ? "" : " and ", sw_sheet_part(s, &parts[i]));
    return line;
}

/* "A and B", "A, C kept", "only C kept" or "nothing": what the role then holds. */
const char *sw_sheet_holding(sw_sheet *s, const sw_answer_swap *swap) {
    const char *in = bought(s, swap);
    const char *kept = listed(s, swap->stays, swap->stay_count);
    if (swap->in_count == 0)
        return swap->stay_count == 0 ? "nothing" : SW_FORMAT(s, "only %s kept", kept);
    return swap->stay_count == 0 ? in : SW_FORMAT(s, "%s, %s kept", in, kept);
}

/* What the role holds today, as the swap tells it. */
static const char *today(sw_sheet *s, const sw_answer_swap *swap) {
    if (swap == NULL || (swap->out_count == 0 && swap->stay_count == 0))
        return "nothing, as today";
    const char *out = listed(s, swap->out, swap->out_count);
    const char *kept = listed(s, swap->stays, swap->stay_count);
    bool both = swap->out_count > 0 && swap->stay_count > 0;
    return SW_FORMAT(s, "%s%s%s, as today", out, both ? " and " : "", kept);
}

static void part_lines(sw_sheet *s, const sw_answer_bundle *b, const sw_answer_bundle *best,
                       const char *there) {
    for (size_t i = 0; i < best->swap_count + b->swap_count; i++) {
        bool own = i >= best->swap_count;
        const sw_answer_swap *of = own ? &b->swaps[i - best->swap_count] : &best->swaps[i];
        const sw_answer_swap *one = sw_swap_of(best, of->role), *two = sw_swap_of(b, of->role);
        if ((own && one != NULL) || sw_same_swap(one, two))
            continue;
        sw_sheet_words(s, "      ",
                       SW_FORMAT(s, "%s: %s; %s: %s", of->role_name,
                                 two == NULL ? today(s, one) : sw_sheet_holding(s, two), there,
                                 one == NULL ? today(s, two) : sw_sheet_holding(s, one)));
    }
}

static void task_lines(sw_sheet *s, const sw_answer_bundle *b, const sw_answer_bundle *best) {
    for (size_t i = 0; i < b->task_count; i++)
        if (!sw_does(best, b->tasks[i].id))
            sw_sheet_words(s, "      ", SW_FORMAT(s, "also: %s", b->tasks[i].name));
    for (size_t i = 0; i < best->task_count; i++)
        if (!sw_does(b, best->tasks[i].id))
            sw_sheet_words(s, "      ", SW_FORMAT(s, "not: %s", best->tasks[i].name));
}

void sw_sheet_differences(sw_sheet *s, const sw_answer_bundle *b, const sw_answer_bundle *than,
                          const char *there) {
    part_lines(s, b, than, there);
    task_lines(s, b, than);
}
