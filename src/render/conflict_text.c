/* What is in the way when nothing fits, and what mends it. */
#include "render/conflict.h"

#include <string.h>

#define SW_MENDS_SHOWN 5

/* What the term asks. */
static const char *asks(sw_sheet *s, const sw_answer_clause *c) {
    long long number = (long long)c->number;
    switch (c->kind) {
    case SW_CLAUSE_RULE:
        return SW_FORMAT(s, "The rule: %s.", c->subject);
    case SW_CLAUSE_MUST_REPLACE:
        return SW_FORMAT(s, "A must: %s comes out.", c->subject);
    case SW_CLAUSE_MUST_DO:
        return SW_FORMAT(s, "A must: %s.", c->subject);
    case SW_CLAUSE_KEEP_ROLE:
        return SW_FORMAT(s, "A wish: the %s left as now.", c->subject);
    case SW_CLAUSE_KEEP_PART:
        return SW_FORMAT(s, "A wish: %s stays.", c->subject);
    case SW_CLAUSE_REPLACE_ROLE:
        return SW_FORMAT(s, "A wish: nothing of today's %s stays.", c->subject);
    case SW_CLAUSE_REPLACE_PART:
        return SW_FORMAT(s, "A wish: %s goes.", c->subject);
    case SW_CLAUSE_AVOID:
        return SW_FORMAT(s, "A wish: nothing of %s.", c->subject);
    case SW_CLAUSE_LOUDNESS:
        return SW_FORMAT(s, "A limit: at most %s sone at the seat.",
                         sw_sheet_decimal(s, (double)c->number / 1000, 1));
    case SW_CLAUSE_DAYS:
        return SW_FORMAT(s, "A limit: everything here within %lld day%s.", number,
                         number == 1 ? "" : "s");
    case SW_CLAUSE_MINUTES:
        return SW_FORMAT(s, "A limit: at most %lld min at the bench.", number);
    case SW_CLAUSE_USE:
        return SW_FORMAT(s, "A promise: %s, given, is used.", c->subject);
    case SW_CLAUSE_UNKNOWN:
        return "Parts of which a fact is unknown are left out.";
    default:
        return SW_FORMAT(s, "The budget: %s %s to spend.", sw_sheet_money(s, c->number),
                         s->answer->currency);
    }
}

/* A sentence to stand within another. */
static const char *without_stop(sw_sheet *s, const char *sentence) {
    char *own = sw_arena_copy(s->arena, sentence);
    size_t length = strlen(sentence);
    if (own != NULL && length > 0 && own[length - 1] == '.')
        own[length - 1] = '\0';
    return sw_sheet_text(s, own);
}

/* What is done when it is dropped. */
static const char *drops(sw_sheet *s, const sw_answer_clause *c, const sw_answer_mend *mend) {
    long long number = (long long)c->number;
    switch (c->kind) {
    case SW_CLAUSE_RULE:
        return SW_FORMAT(s, "set the rule aside: %s", c->subject);
    case SW_CLAUSE_MUST_REPLACE:
        return SW_FORMAT(s, "leave %s in, which was a must%s%s", c->subject,
                         c->why[0] != '\0' ? ": " : "", without_stop(s, c->why));
    case SW_CLAUSE_MUST_DO:
        return SW_FORMAT(s, "leave undone, which was a must: %s%s%s", c->subject,
                         c->why[0] != '\0' ? ": " : "", without_stop(s, c->why));
    case SW_CLAUSE_KEEP_ROLE:
        return SW_FORMAT(s, "let the %s change", c->subject);
    case SW_CLAUSE_KEEP_PART:
        return SW_FORMAT(s, "let %s go", c->subject);
    case SW_CLAUSE_REPLACE_ROLE:
        return SW_FORMAT(s, "let today's %s stay", c->subject);
    case SW_CLAUSE_REPLACE_PART:
        return SW_FORMAT(s, "let %s stay", c->subject);
    case SW_CLAUSE_AVOID:
        return SW_FORMAT(s, "take %s after all", c->subject);
    case SW_CLAUSE_LOUDNESS:
        return SW_FORMAT(s, "let it be louder than %s sone",
                         sw_sheet_decimal(s, (double)c->number / 1000, 1));
    case SW_CLAUSE_DAYS:
        return SW_FORMAT(s, "wait longer than %lld day%s", number, number == 1 ? "" : "s");
    case SW_CLAUSE_MINUTES:
        return SW_FORMAT(s, "take more than %lld min at the bench", number);
    case SW_CLAUSE_USE:
        return SW_FORMAT(s, "leave %s out, although it was given to be used", c->subject);
    case SW_CLAUSE_UNKNOWN:
        return "let parts in of which a fact is unknown (--allow-unknown), each with a caution";
    default:
        return SW_FORMAT(
            s, "spend %s %s more, %s in all",
            sw_sheet_money(s, mend->needed - sw_sheet_to_spend(s->answer)), s->answer->currency,
            sw_sheet_money(s, mend->needed + s->answer->reserve + s->answer->sundries));
    }
}

void sw_sheet_clauses(sw_sheet *s, const sw_answer_conflict *conflict) {
    for (size_t i = 0; i < conflict->clause_count; i++)
        sw_sheet_words(s, "  - ", asks(s, &conflict->clauses[i]));
}

static const char *capital(sw_sheet *s, const char *line) {
    char *own = sw_arena_copy(s->arena, line);
    if (own != NULL && own[0] >= 'a' && own[0] <= 'z')
        own[0] = (char)(own[0] - 'a' + 'A');
    return sw_sheet_text(s, own);
}

static void mend(sw_sheet *s, const sw_answer_mend *m, int rank) {
    const char *line = "";
    for (size_t i = 0; i < m->clause_count; i++)
        line = SW_FORMAT(s, "%s%s%s", line, i == 0 ? "" : ", and ", drops(s, &m->clauses[i], m));
    const sw_answer_bundle *b = &m->bundle;
    sw_sheet_words(s, "  ", SW_FORMAT(s, "%d. %s.", rank, capital(s, line)));
    sw_sheet_words(
        s, "     ",
        SW_FORMAT(
            s, "The best bundle then: %s points above the machine of today, for %s %s, %lld min.",
            sw_sheet_points(s, b->points), sw_sheet_money(s, b->cost), s->answer->currency,
            (long long)b->minutes));
    for (size_t i = 0; i < b->swap_count; i++)
        sw_sheet_words(
            s, "       - ",
            SW_FORMAT(s, "%s: %s", b->swaps[i].role_name, sw_sheet_holding(s, &b->swaps[i])));
    for (size_t i = 0; i < b->task_count; i++)
        sw_sheet_words(s, "       - ", b->tasks[i].name);
}

static void mends(sw_sheet *s) {
    const sw_answer *a = s->answer;
    if (!a->mends_settled && a->mend_count == 0) {
        sw_sheet_words(s, "",
                       SW_FORMAT(s, "%s before it was settled what would mend it.", s->cut_short));
        return;
    }
    if (a->mend_count == 0) {
        sw_sheet_words(s, "", "No wish, must, limit or money that bends would mend it.");
        return;
    }
    sw_page_heading(&s->page,
                    a->mends_settled ? "What would mend it, the best first"
                                     : "What would mend it (not all ways were looked at)",
                    NULL);
    for (size_t i = 0; i < a->mend_count && i < SW_MENDS_SHOWN; i++)
        mend(s, &a->mends[i], (int)i + 1);
    if (a->mend_count > SW_MENDS_SHOWN)
        sw_sheet_words(s, "  ",
                       SW_FORMAT(s, "... and %zu other ways (--json lists them).",
                                 a->mend_count - SW_MENDS_SHOWN));
}

void sw_sheet_conflict(sw_sheet *s) {
    const sw_answer_conflict *c = &s->answer->conflict;
    sw_page_gap(&s->page);
    if (!c->settled) {
        sw_sheet_words(s, "",
                       SW_FORMAT(s, "Nothing fits. %s before it was settled what is in the way.",
                                 s->cut_short));
        return;
    }
    sw_sheet_words(
        s, "",
        c->clause_count == 1
            ? "Nothing fits. This cannot be met:"
            : "Nothing fits. These cannot all be met, whatever else is given up, and each "
              "of them has its part in it:");
    sw_sheet_clauses(s, c);
    mends(s);
}
