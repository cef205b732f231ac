/* The answer of `look` as the bench reads it. */
#include <math.h>
#include <string.h>

#include "render/look.h"

static const char *number(sw_sheet *s, double x, int digits) {
    return sw_sheet_decimal(s, x, digits);
}

/* As many digits as a rate deserves. */
static const char *rate_text(sw_sheet *s, double rate) {
    return number(s, rate, rate < 9.95 ? 1 : 0);
}

/* "312 W", "58 (51 to 71) deg C": no finer than the measure's digits. */
static const char *measure_text(sw_sheet *s, const sw_look_measure *m) {
    bool counts = strcmp(m->unit, "1") == 0 || m->unit[0] == '\0';
    const char *unit = counts ? "" : SW_FORMAT(s, " %s", m->unit);
    if (m->state == SW_VOID)
        return "nothing to measure";
    if (m->state == SW_UNKNOWN)
        return "not known";
    const char *low = number(s, m->low, m->digits), *high = number(s, m->high, m->digits);
    if (strcmp(low, high) == 0)
        return SW_FORMAT(s, "%s%s", number(s, m->value, m->digits), unit);
    return SW_FORMAT(s, "%s (%s to %s)%s", number(s, m->value, m->digits), low, high, unit);
}

/* ---- findings ---------------------------------------------------------------------------- */

static const char *const kind_headings[] = {[SW_LIMITS] = "it holds back",
                                            [SW_LOUD] = "it is loud",
                                            [SW_NEAR_ITS_LIMIT] = "near its limit",
                                            [SW_SET_WRONGLY] = "set or mounted wrongly",
                                            [SW_WORN_OUT] = "worn or failing"};

/* "2 x A, from X, and B, from Y, beside what stays" */
static const char *new_parts(sw_sheet *s, const sw_look_mend *mend) {
    const char *line = "";
    for (size_t i = 0; i < mend->part_count; i++) {
        const sw_look_new_part *part = &mend->parts[i];
        const char *count = part->count > 1 ? SW_FORMAT(s, "%d x ", part->count) : "";
        line = SW_FORMAT(s, "%s%s%s%s, from %s", line, i > 0 ? ", and " : "", count, part->name,
                         part->seller_name);
    }
    return SW_FORMAT(s, "%s%s", line, mend->some_stay ? ", beside pieces that stay" : "");
}

static const char *what_to_do(sw_sheet *s, const sw_look_mend *mend) {
    size_t length = mend->how == SW_MEND_DO ? strlen(mend->text) : 0;
    switch (mend->how) {
    case SW_MEND_TASK:
        return mend->name;
    case SW_MEND_REPLACE:
        if (!mend->offered)
            return SW_FORMAT(s,
                             "new in place of the %s: nothing within the client's wishes, the "
                             "money, rules and limits mends it",
                             mend->role_name);
        return mend->part_count == 0 ? SW_FORMAT(s, "take it out of the %s", mend->role_name)
                                     : new_parts(s, mend);
    default: /* a sentence; what it takes follows in brackets */
        return length > 0 && mend->text[length - 1] == '.'
                   ? SW_FORMAT(s, "%.*s", (int)length - 1, mend->text)
                   : mend->text;
    }
}

static const char *what_it_takes(sw_sheet *s, const sw_look_mend *mend) {
    const char *money =
        mend->cost == 0 ? "costs nothing"
                        : SW_FORMAT(s, "%s %s", sw_sheet_money(s, mend->cost), s->answer->currency);
    const char *points =
        mend->points == 0 ? "" : SW_FORMAT(s, ", %s points", sw_sheet_points(s, mend->points));
    return SW_FORMAT(s, "%lld min, %s%s", (long long)mend->minutes, money, points);
}

static void mends(sw_sheet *s, const sw_look_finding *finding) {
    for (size_t m = 0; m < finding->mend_count; m++) {
        const sw_look_mend *mend = &finding->mends[m];
        if (mend->how == SW_MEND_TASK && !mend->offered)
            continue;
        const char *lead = "      repair: ";
        if (mend->offered)
            sw_sheet_words(s, lead,
                           SW_FORMAT(s, "%s (%s).", what_to_do(s, mend), what_it_takes(s, mend)));
        else
            sw_sheet_words(s, lead, SW_FORMAT(s, "%s.", what_to_do(s, mend)));
        bool again = finding->caution != NULL && mend->caution != NULL &&
                     strstr(finding->caution, mend->caution) != NULL;
        if (mend->caution != NULL && !again)
            sw_sheet_words(s, "      caution: ", mend->caution);
    }
}

static void findings(sw_sheet *s, const sw_look *look) {
    if (look->finding_count == 0) {
        sw_page_heading(&s->page, "Found", NULL);
        sw_sheet_words(s, "  - ",
                       look->has_forms ? "Nothing that the catalog's findings know of."
                                       : "The catalog has no findings to look for "
                                         "(findings.json).");
        return;
    }
    for (size_t i = 0; i < look->finding_count; i++) {
        const sw_look_finding *finding = &look->findings[i];
        bool first_must = i == 0 && finding->must;
        bool first_other = !finding->must && (i == 0 || look->findings[i - 1].must);
        if (first_must)
            sw_page_heading(&s->page, "Found: this first", NULL);
        if (first_other)
            sw_page_heading(&s->page, "Found: most for the minute at the bench first", NULL);
        sw_sheet_words(s, "  - ",
                       SW_FORMAT(s, "%s, %s. %s", finding->about_name, kind_headings[finding->kind],
                                 finding->evidence));
        sw_sheet_words(s, "      ", finding->means);
        mends(s, finding);
        if (finding->caution != NULL)
            sw_sheet_words(s, "      caution: ", finding->caution);
    }
}

static void unknowns(sw_sheet *s, const sw_look *look) {
    if (look->unknown_count == 0)
        return;
    sw_page_heading(&s->page, "Look up or measure, so that nothing is missed", NULL);
    for (size_t i = 0; i < look->unknown_count; i++) {
        const sw_look_unknown *unknown = &look->unknowns[i];
        bool said = false;
        for (size_t k = 0; k < i && !said; k++)
            said = strcmp(look->unknowns[k].meaning, unknown->meaning) == 0;
        if (said)
            continue;
        sw_sheet_words(
            s, "  - ",
            unknown->fact != NULL
                ? SW_FORMAT(s, "%s: %s (%s)", unknown->role_name, unknown->meaning, unknown->fact)
                : SW_FORMAT(s, "%s: %s", unknown->about_name, unknown->meaning));
    }
}

/* ---- uses, sound, measures --------------------------------------------------------------------
 */

static void use(sw_sheet *s, const sw_look_use *u) {
    const sw_look_stage *governs = &u->stages[u->governs];
    const char *measured = u->rate_now > 0 ? "measured" : "estimated";
    sw_sheet_words(s, "  - ",
                   SW_FORMAT(s, "%s (%s %% of the time): %s %s, %s. Held back by %s.", u->name,
                             number(s, u->share * 100, 0), rate_text(s, governs->rate), u->unit,
                             measured, governs->name));
    const char *line = "";
    for (size_t i = 0; i < u->stage_count; i++) {
        const sw_look_stage *stage = &u->stages[i];
        if (i == u->governs)
            continue;
        line = SW_FORMAT(s, "%s%s%s would allow %s (%s times)", line, line[0] != '\0' ? "; " : "",
                         stage->name, rate_text(s, stage->rate), number(s, stage->behind, 2));
    }
    if (line[0] != '\0')
        sw_sheet_words(s, "      ", SW_FORMAT(s, "%s.", line));
}

static void uses(sw_sheet *s, const sw_look *look) {
    if (look->use_count == 0) {
        sw_page_gap(&s->page);
        sw_sheet_words(s, "",
                       "No uses are named yet: what is told of usual work is told of full work.");
        return;
    }
    sw_page_heading(&s->page, "What holds each use back", NULL);
    for (size_t u = 0; u < look->use_count; u++)
        use(s, &look->uses[u]);
}

static void sound(sw_sheet *s, const sw_look *look) {
    if (!look->answer->has_sound)
        return;
    sw_page_heading(&s->page, "What is heard", NULL);
    sw_sheet_words(
        s, "  ",
        SW_FORMAT(s, "%s dB(A) at the seat at usual work, %s sone, the room's own %s dB(A) in it.",
                  number(s, look->seat_dba, 1), number(s, look->seat_sone, 1),
                  number(s, look->room_dba, 0)));
    if (fabs(look->calibration_db) >= 0.05)
        sw_sheet_words(s, "  ",
                       SW_FORMAT(s,
                                 "All levels are moved by %s dB, so that today's agrees with what "
                                 "was measured.",
                                 number(s, look->calibration_db, 1)));
    if (look->source_count > 0)
        sw_sheet_words(s, "  ",
                       "Sources as stated near the machine, before the case and the way "
                       "to the seat:");
    for (size_t i = 0; i < look->source_count; i++) {
        const sw_look_source *source = &look->sources[i];
        const char *turning = source->speed < 0.995 ? SW_FORMAT(s, ", fans at %s %% of their speed",
                                                                number(s, source->speed * 100, 0))
                                                    : "";
        const char *share = source->share < 0.005 ? "next to nothing"
                                                  : SW_FORMAT(s, "%s %% of the sound power",
                                                              number(s, source->share * 100, 0));
        sw_sheet_words(s, "  - ",
                       SW_FORMAT(s, "%s: %s dB(A), %s%s.", source->role_name,
                                 number(s, source->level_db, 0), share, turning));
    }
}

/* What nobody stated, and all that cannot be told without it. */
static void lacking(sw_sheet *s, const sw_look *look) {
    bool any = false;
    for (size_t i = 0; i < look->measure_count; i++) {
        const sw_look_measure *first = &look->measures[i];
        bool said = first->state != SW_UNKNOWN;
        for (size_t k = 0; k < i && !said; k++)
            said = look->measures[k].state == SW_UNKNOWN &&
                   strcmp(look->measures[k].lacks, first->lacks) == 0;
        if (said)
            continue;
        const char *line = "";
        for (size_t k = i; k < look->measure_count; k++)
            if (look->measures[k].state == SW_UNKNOWN &&
                strcmp(look->measures[k].lacks, first->lacks) == 0)
                line = SW_FORMAT(s, "%s%s%s", line, line[0] != '\0' ? "; " : "",
                                 look->measures[k].name);
        if (!any)
            sw_page_heading(&s->page, "Not stated, so not told", NULL);
        any = true;
        sw_sheet_words(
            s, "  - ",
            SW_FORMAT(s, "%s%s%s. Without it nothing is told of: %s.", first->lacks_role_name,
                      first->lacks_role_name[0] != '\0' ? ": " : "", first->lacks_about, line));
    }
}

static void measures(sw_sheet *s, const sw_look *look) {
    bool any = false;
    for (size_t i = 0; i < look->measure_count; i++) {
        const sw_look_measure *measure = &look->measures[i];
        if (measure->state != SW_KNOWN)
            continue;
        if (!any)
            sw_page_heading(&s->page, "Estimated of the machine as it stands", NULL);
        any = true;
        sw_sheet_sum(s, "  ", measure->name, measure_text(s, measure));
    }
    lacking(s, look);
}

static void musts(sw_sheet *s, const sw_look *look) {
    const sw_answer *a = look->answer;
    if (a->must_count == 0)
        return;
    sw_page_heading(&s->page, "What must be done", NULL);
    for (size_t i = 0; i < a->must_count; i++) {
        const char *what = a->musts[i].replace != NULL
                               ? SW_FORMAT(s, "Take out %s.", a->musts[i].replace)
                               : SW_FORMAT(s, "Do: %s.", a->musts[i].task);
        sw_sheet_words(s, "  - ", SW_FORMAT(s, "%s %s", what, a->musts[i].why));
    }
}

sw_status sw_render_look_text(char **out, const sw_look *look, sw_text_style style) {
    sw_sheet s;
    if (!sw_sheet_start(&s, look->answer, style))
        return SW_NO_MEMORY;
    sw_sheet_head(&s, false);
    sw_sheet_beware(&s);
    musts(&s, look);
    findings(&s, look);
    uses(&s, look);
    sound(&s, look);
    measures(&s, look);
    unknowns(&s, look);
    sw_sheet_to_ask(&s);
    sw_page_gap(&s.page);
    sw_sheet_words(&s, "",
                   "Estimates: measure before and after. Mains off and unplugged before the case "
                   "is opened; makers' instructions and local codes come first.");
    return sw_sheet_finish(out, &s);
}
