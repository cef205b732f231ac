/* Conflicts and mends as JSON: README.md lists the fields. */
#include "render/conflict.h"

static void add_terms(sw_writer *in, const sw_answer_clause *clauses, size_t count) {
    sw_writer *list = sw_writer_array(in, "terms");
    for (size_t i = 0; i < count; i++)
        sw_writer_text(list, NULL, clauses[i].id);
}

void sw_json_conflict(sw_writer *in, const char *name, const sw_answer_conflict *conflict) {
    sw_writer *one = sw_writer_object(in, name);
    add_terms(one, conflict->clauses, conflict->clause_count);
    sw_writer_bool(one, "settled", conflict->settled);
}

void sw_json_mends(sw_writer *in, const sw_answer *answer) {
    sw_writer *list = sw_writer_array(in, "mends");
    for (size_t i = 0; i < answer->mend_count; i++) {
        const sw_answer_mend *mend = &answer->mends[i];
        sw_writer *one = sw_writer_object(list, NULL);
        add_terms(one, mend->clauses, mend->clause_count);
        for (size_t c = 0; c < mend->clause_count; c++)
            if (mend->clauses[c].kind == SW_CLAUSE_BUDGET)
                sw_writer_money(one, "needed", mend->needed, answer->digits);
        sw_json_bundle(sw_writer_object(one, "bundle"), answer, &mend->bundle);
    }
    sw_writer_bool(in, "mends_settled", answer->mends_settled);
}
