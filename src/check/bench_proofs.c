/* The checks of bench.json: what is measured when the work is done. */
#include "check/bench.h"

#include "check/expression.h"

static const char *const forms[] = {"measure", "rates", "most", "least", "done"};
#define FORM_COUNT (sizeof forms / sizeof *forms)

static size_t form_of(sw_check *check, const sw_node *of) {
    size_t found = FORM_COUNT, count = 0;
    for (size_t f = 0; f < FORM_COUNT; f++)
        if (sw_member(of, forms[f]).json != NULL) {
            found = f;
            count++;
        }
    if (count == 1)
        return found;
    sw_wrong(check, of, "a check is of one of: measure, rates, most, least, done",
             count == 0 ? "give one of these" : "make two checks of it",
             count == 0 ? "is of none of them" : "is of two of them");
    return FORM_COUNT;
}

static void read_edge(sw_check *check, const sw_node *of, const char *name, sw_proof *out) {
    int64_t digits = 0;
    sw_node is = sw_member(of, name);
    sw_expr *expr = SW_KEEP(check, sw_expr, 1);
    sw_nature nature;
    sw_scope_of where = {
        .role = SW_NONE, .before = (int)check->catalog->measure_count, .measure = true};
    if (expr != NULL)
        sw_parse_expression(check, &is, where, expr, &nature);
    out->edge = expr;
    if (sw_member(of, "unit").json != NULL)
        sw_get_token(check, of, "unit", SW_OPTIONAL, &out->unit);
    sw_get_whole(check, of, "digits", SW_OPTIONAL, 0, 3, &digits);
    out->digits = (int)digits;
}

static void read_said(sw_check *check, const sw_node *of, const char *name) {
    bool said = true;
    sw_node at = sw_member(of, name);
    if (sw_get_flag(check, of, name, SW_REQUIRED, &said) && !said)
        sw_wrong(check, &at, "it names the kind of the check", "write true", "is false");
}

static void read_of(sw_check *check, const sw_node *at, sw_proof *out) {
    sw_node of;
    if (!sw_get(check, at, "of", SW_REQUIRED, SW_JSON_OBJECT, &of))
        return;
    size_t form = form_of(check, &of);
    if (form == FORM_COUNT)
        return;
    out->of = (sw_proof_of)form;
    bool edge = out->of == SW_PROOF_MOST || out->of == SW_PROOF_LEAST;
    if (edge)
        SW_CHECK_NAMES(check, &of, forms[form], "unit", "digits");
    else
        sw_check_names(check, &of, &forms[form], 1);
    if (out->of == SW_PROOF_MEASURE)
        sw_get_index(check, &of, "measure", SW_REQUIRED, &check->measures, "measure",
                     "measures.json", &out->measure);
    else if (edge)
        read_edge(check, &of, forms[form], out);
    else
        read_said(check, &of, forms[form]);
}

/* How far off a value may be, and which way is better: of what is foretold alone. */
static void read_band(sw_check *check, const sw_node *at, sw_proof *out) {
    int choice = 0;
    int64_t within = 0;
    bool foretold = out->of == SW_PROOF_MEASURE || out->of == SW_PROOF_RATES;
    static const char *const names[] = {"scale", "within", "better"};
    for (size_t i = 0; !foretold && i < 3; i++) {
        sw_node said = sw_member(at, names[i]);
        if (said.json != NULL)
            sw_wrong(check, &said, "it belongs to checks of a measure or of rates", "take it away",
                     "says nothing here");
    }
    if (!foretold)
        return;
    if (SW_GET_CHOICE(check, at, "scale", SW_REQUIRED, &choice, "difference", "ratio"))
        out->ratio = choice == 1;
    if (sw_get_milli(check, at, "within", SW_REQUIRED, 0, SW_MILLI_LIMIT, &within))
        out->within = (double)within / 1000;
    if (SW_GET_CHOICE(check, at, "better", SW_REQUIRED, &choice, "less", "more"))
        out->more = choice == 1;
}

static void read_proof(sw_check *check, const sw_node *at, sw_names *ids, int index,
                       sw_proof *out) {
    *out = (sw_proof){.id = "",
                      .name = "",
                      .of = SW_PROOF_DONE,
                      .measure = SW_NONE,
                      .unit = "",
                      .words = "",
                      .fails = "",
                      .source = ""};
    if (!SW_CHECK_NAMES(check, at, "check", "name", "of", "scale", "within", "better", "any",
                        "words", "minutes", "alone_minutes", "fails", "bars", "source"))
        return;
    out->id = sw_get_new_name(check, at, "check", ids, index);
    sw_get_text(check, at, "name", SW_REQUIRED, &out->name);
    sw_get_flag(check, at, "bars", SW_OPTIONAL, &out->bars);
    read_of(check, at, out);
    read_band(check, at, out);
    sw_get_conditions(check, at, "any", SW_OPTIONAL, 1, SW_NONE, &out->any, &out->any_count);
    sw_get_work_words(check, at, "words", SW_REQUIRED, &out->words);
    sw_get_work_words(check, at, "fails", SW_OPTIONAL, &out->fails);
    sw_get_text(check, at, "source", SW_REQUIRED, &out->source);
    sw_get_whole(check, at, "minutes", SW_OPTIONAL, 0, SW_MINUTES_LIMIT, &out->minutes);
    sw_get_whole(check, at, "alone_minutes", SW_OPTIONAL, 0, SW_MINUTES_LIMIT, &out->alone_minutes);
}

void sw_read_proofs(sw_check *check, const sw_node *root, sw_bench_form *bench) {
    sw_node list;
    sw_names ids = {0};
    if (!sw_get_list(check, root, "checks", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_proof *proofs = SW_KEEP(check, sw_proof, list.json->count);
    for (size_t i = 0; proofs != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_proof(check, &at, &ids, (int)i, &proofs[i]);
    }
    sw_names_free(&ids);
    bench->proofs = proofs;
    bench->proof_count = proofs == NULL ? 0 : list.json->count;
}
