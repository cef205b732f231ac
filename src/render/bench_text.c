/* The work order as text, with boxes to tick by hand. */
#include <string.h>

#include "render/bench.h"
#include "render/conflict.h"
#include "render/options.h"

#define SW_INDENT "         "

/* ---- the head ---------------------------------------------------------------------------------
 */

static void head(sw_sheet *s, const sw_bench *b) {
    const sw_answer *a = b->options->plan;
    const sw_option *option = b->option;
    if (!sw_bench_is_settled(b))
        sw_sheet_words(s, "",
                       SW_FORMAT(s,
                                 "%s: this may not be what was signed. Order nothing and open "
                                 "nothing by it; ask again.",
                                 s->cut_short));
    sw_sheet_head(s, false);
    sw_sheet_words(s, "",
                   SW_FORMAT(s,
                             "Work order for option %zu, %s: %s %s in all, %s without the "
                             "machine.",
                             b->number, sw_option_names[option->place],
                             sw_sheet_money(s, option->bundle.cost), a->currency,
                             sw_days(s, option->days_without)));
    sw_sheet_words(s, "",
                   SW_FORMAT(s,
                             "At the bench: %s that are in the bill, %s beside it, and %s that "
                             "the machine works by itself. What is measured at the end comes "
                             "on top of that.",
                             sw_bench_minutes(s, b->billed), sw_bench_minutes(s, b->beside),
                             sw_bench_minutes(s, b->alone)));
    sw_sheet_words(s, "",
                   "Makers' instructions, local codes and licensed practice come before anything "
                   "that stands here. A power unit is never opened.");
}

static void hazards(sw_sheet *s, const sw_bench *b) {
    const sw_terms *terms = &b->options->terms;
    bool any = false;
    for (size_t i = 0; i < terms->hazard_count; i++) {
        if (!b->option->hazards[i])
            continue;
        if (!any)
            sw_page_heading(&s->page, "What can hurt, or be lost", NULL);
        any = true;
        sw_sheet_words(s, "  - ",
                       SW_FORMAT(s, "%s %s %s", terms->hazards[i].danger, terms->hazards[i].habit,
                                 terms->hazards[i].limit));
    }
}

/* ---- the work
 * ------------------------------------------------------------------------------------ */

static void action(sw_sheet *s, const sw_told_action *of, size_t number) {
    const char *lead = SW_FORMAT(s, "%4zu [ ] ", number);
    const char *minutes = of->minutes > 0 ? SW_FORMAT(s, "%lld", (long long)of->minutes) : "";
    if (minutes[0] == '\0')
        sw_sheet_words(s, lead, sw_bench_title(s, of));
    else
        sw_sheet_sum(s, lead, sw_bench_title(s, of), minutes);
    const char *cause = sw_bench_cause(s, of);
    if (cause[0] != '\0')
        sw_sheet_words(s, SW_INDENT, SW_FORMAT(s, "(%s)", cause));
    if (of->piece.role != NULL && of->words[0] != '\0')
        sw_sheet_words(s, SW_INDENT, of->words);
    if (of->alone_minutes > 0)
        sw_sheet_words(s, SW_INDENT,
                       SW_FORMAT(s, "Runs %s by itself.", sw_bench_minutes(s, of->alone_minutes)));
    if (of->caution[0] != '\0')
        sw_sheet_words(s, SW_INDENT, SW_FORMAT(s, "Mind: %s", of->caution));
}

static void work(sw_sheet *s, const sw_bench *b) {
    size_t number = 0;
    for (size_t stage = 0; stage < b->stage_count; stage++) {
        bool any = false;
        for (size_t i = 0; i < b->action_count; i++) {
            if (b->actions[i].stage != stage)
                continue;
            if (!any)
                sw_page_heading(&s->page, b->stage_names[stage], "min");
            any = true;
            action(s, &b->actions[i], ++number);
        }
    }
    if (b->action_count > 0)
        return;
    sw_page_gap(&s->page);
    sw_sheet_words(s, "", "Nothing is done to the machine: it stays as it is.");
}

/* ---- places, leads, what goes
 * ---------------------------------------------------------------------- */

static void places(sw_sheet *s, const sw_bench *b) {
    if (b->stand_count > 0)
        sw_page_heading(&s->page, "Where things stand when it is done", NULL);
    for (size_t i = 0; i < b->stand_count; i++)
        sw_sheet_words(s, "  [ ] ", sw_bench_stand(s, &b->stands[i]));
    if (b->lead_count > 0)
        sw_page_heading(&s->page, "Leads and headers", NULL);
    for (size_t i = 0; i < b->lead_count; i++)
        sw_sheet_words(s, "  [ ] ",
                       SW_FORMAT(s, "%s: %s", b->leads[i].name, sw_bench_lead(s, &b->leads[i])));
}

static void goes(sw_sheet *s, const sw_bench *b) {
    if (b->out_count > 0)
        sw_page_heading(&s->page, "What comes out, and whose it is", NULL);
    for (size_t i = 0; i < b->out_count; i++) {
        const sw_told_out *out = &b->out[i];
        const char *count = out->piece.count > 1 ? SW_FORMAT(s, "%d x ", out->piece.count) : "";
        sw_sheet_words(s, "  [ ] ",
                       SW_FORMAT(s, "%s%s (%s, %s). %s", count, out->piece.name,
                                 out->piece.role_name, out->condition, sw_bench_whose(s, b, out)));
    }
}

/* ---- checks
 * ------------------------------------------------------------------------------------------ */

static void check(sw_sheet *s, const sw_told_proof *proof) {
    const char *today =
        proof->has_today ? SW_FORMAT(s, "; today %s", sw_bench_value(s, proof, proof->today)) : "";
    if (proof->of == SW_PROOF_DONE)
        sw_sheet_words(s, "  [ ] ", sw_bench_check_name(s, proof));
    else
        sw_sheet_sum(s, "  [ ] ", sw_bench_check_name(s, proof), "measured ________");
    sw_sheet_words(s, "      ",
                   SW_FORMAT(s, "Foretold: %s%s.%s", sw_bench_foretold(s, proof), today,
                             proof->calibrated
                                 ? SW_FORMAT(s,
                                             " From %zu of the shop's own jobs: 9 in 10 such "
                                             "jobs lie within.",
                                             proof->learnt.pairs)
                                 : ""));
    sw_sheet_words(s, "      ", proof->words);
    if (proof->minutes + proof->alone_minutes > 0)
        sw_sheet_words(s, "      ",
                       proof->alone_minutes > 0
                           ? SW_FORMAT(s, "Takes %s, and %s by itself.",
                                       sw_bench_minutes(s, proof->minutes),
                                       sw_bench_minutes(s, proof->alone_minutes))
                           : SW_FORMAT(s, "Takes %s.", sw_bench_minutes(s, proof->minutes)));
    if (proof->fails[0] != '\0')
        sw_sheet_words(s, "      ", SW_FORMAT(s, "If not: %s", proof->fails));
}

static void checks(sw_sheet *s, const sw_bench *b) {
    if (b->proof_count > 0)
        sw_page_heading(&s->page, "Before it is handed over: what is measured", NULL);
    for (size_t i = 0; i < b->proof_count; i++)
        check(s, &b->proofs[i]);
}

sw_status sw_render_bench_text(char **out, const sw_bench *b, sw_text_style style) {
    sw_sheet s;
    const sw_answer *a = b->options->plan;
    if (!sw_sheet_start(&s, a, style))
        return SW_NO_MEMORY;
    if (b->option == NULL) {
        sw_sheet_head(&s, true);
        sw_sheet_beware(&s);
        sw_page_gap(&s.page);
        if (a->status == SW_NOTHING_FITS)
            sw_sheet_conflict(&s);
        else
            sw_sheet_no_best(&s);
        return sw_sheet_finish(out, &s);
    }
    head(&s, b);
    sw_sheet_beware(&s);
    hazards(&s, b);
    work(&s, b);
    places(&s, b);
    goes(&s, b);
    checks(&s, b);
    return sw_sheet_finish(out, &s);
}
