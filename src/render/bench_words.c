/* How the work is said, on the sheet and on the page. */
#include <math.h>
#include <string.h>

#include "render/bench.h"

const char *const sw_bench_does[] = {
    [SW_TAKE_OUT] = "take-out", [SW_TAKE_OFF] = "take-off", [SW_STEP] = "step",
    [SW_LAY_OUT] = "lay-out",   [SW_PUT_BACK] = "put-back", [SW_FIT] = "fit",
};

static const char *piece(sw_sheet *s, const sw_told_piece *of) {
    return of->count > 1 ? SW_FORMAT(s, "%s, %d x %s", of->role_name, of->count, of->name)
                         : SW_FORMAT(s, "%s, %s", of->role_name, of->name);
}

const char *sw_bench_title(sw_sheet *s, const sw_told_action *action) {
    static const char *const verbs[] = {
        [SW_TAKE_OUT] = "Take out", [SW_TAKE_OFF] = "Take off for now", [SW_STEP] = "",
        [SW_LAY_OUT] = "Lay ready", [SW_PUT_BACK] = "Put back",         [SW_FIT] = "Fit",
    };
    if (action->piece.role == NULL)
        return action->words;
    const char *line = SW_FORMAT(s, "%s: %s", verbs[action->does], piece(s, &action->piece));
    for (size_t i = 0; i < action->with_count; i++)
        line = SW_FORMAT(s, "%s%s%s", line, i == 0 ? "; on it, and leaving with it: " : "; ",
                         piece(s, &action->with[i]));
    return line;
}

const char *sw_bench_cause(sw_sheet *s, const sw_told_action *action) {
    const char *line = "";
    if (action->does != SW_TAKE_OFF)
        return line;
    for (size_t i = 0; i < action->cause_count; i++) {
        const sw_told_cause *cause = &action->causes[i];
        const char *so =
            cause->cause == SW_CAUSE_COVERS    ? SW_FORMAT(s, "in the way of: %s", cause->name)
            : cause->cause == SW_CAUSE_CARRIED ? SW_FORMAT(s, "hangs on: %s", cause->name)
                                               : NULL;
        if (so != NULL)
            line = SW_FORMAT(s, "%s%s%s", line, line[0] == '\0' ? "" : "; ", so);
    }
    return line;
}

const char *sw_bench_minutes(sw_sheet *s, int64_t minutes) {
    if (minutes < 60)
        return SW_FORMAT(s, "%lld min", (long long)minutes);
    if (minutes % 60 == 0)
        return SW_FORMAT(s, "%lld h", (long long)(minutes / 60));
    return SW_FORMAT(s, "%lld h %lld min", (long long)(minutes / 60), (long long)(minutes % 60));
}

/* ---- checks
 * ---------------------------------------------------------------------------------------- */

const char *sw_bench_check_name(sw_sheet *s, const sw_told_proof *proof) {
    return proof->use == NULL ? proof->name : SW_FORMAT(s, "%s: %s", proof->name, proof->use_name);
}

static const char *with_unit(sw_sheet *s, const sw_told_proof *proof, const char *number) {
    return proof->unit[0] == '\0' ? number : SW_FORMAT(s, "%s %s", number, proof->unit);
}

const char *sw_bench_value(sw_sheet *s, const sw_told_proof *proof, double value) {
    if (proof->of == SW_PROOF_DONE)
        return value > 0 ? "done, without a fault" : "not done, or with a fault";
    return with_unit(s, proof, sw_sheet_decimal(s, value, proof->digits));
}

const char *sw_bench_read(sw_sheet *s, const sw_told_proof *proof, double value) {
    int digits = proof->digits;
    if (proof->of == SW_PROOF_DONE)
        return sw_bench_value(s, proof, value);
    while (digits < 3 && fabs(value * pow(10, digits) - round(value * pow(10, digits))) > 1e-6)
        digits++;
    return with_unit(s, proof, sw_sheet_decimal(s, value, digits));
}

const char *sw_bench_foretold(sw_sheet *s, const sw_told_proof *proof) {
    if (proof->of == SW_PROOF_DONE)
        return "done, without a fault";
    if (!proof->has_band)
        return "not foretold: measure it all the same";
    if (proof->of == SW_PROOF_MOST)
        return SW_FORMAT(s, "at most %s", sw_bench_value(s, proof, proof->high));
    if (proof->of == SW_PROOF_LEAST)
        return SW_FORMAT(s, "at least %s", sw_bench_value(s, proof, proof->low));
    return with_unit(s, proof,
                     SW_FORMAT(s, "%s (%s to %s)",
                               sw_sheet_decimal(s, proof->foretold, proof->digits),
                               sw_sheet_decimal(s, proof->low, proof->digits),
                               sw_sheet_decimal(s, proof->high, proof->digits)));
}

/* ---- places, leads, what goes
 * ------------------------------------------------------------------------ */

const char *sw_bench_stand(sw_sheet *s, const sw_told_stand *stand) {
    const char *count = stand->count > 1 ? SW_FORMAT(s, "%d x ", stand->count) : "";
    const char *side = stand->side != NULL && strstr(stand->site, stand->side) == NULL
                           ? SW_FORMAT(s, ", at its %s", stand->side)
                           : "";
    const char *blows = stand->blows == NULL              ? ""
                        : strcmp(stand->blows, "in") == 0 ? "; blows into the case"
                                                          : "; blows out of the case";
    const char *what =
        strcmp(stand->part, stand->on_part) == 0
            ? SW_FORMAT(s, "%s %s that came with %s:", stand->kind, stand->size, stand->name)
            : SW_FORMAT(s, "%s (%s %s): on %s,", stand->name, stand->kind, stand->size,
                        stand->on_name);
    return SW_FORMAT(s, "%s%s place \"%s\"%s%s%s", count, what, stand->site, side, blows,
                     stand->new_there ? "" : "; it may stand there already");
}

static const char *amounts(sw_sheet *s, const sw_told_amount *of, size_t count) {
    const char *line = "";
    for (size_t i = 0; i < count; i++)
        line = SW_FORMAT(s, "%s%s%s %s", line, i == 0 ? "" : ", ", of[i].role_name,
                         sw_sheet_text(s, sw_millionths_text(s->arena, of[i].millionths)));
    return line;
}

const char *sw_bench_takers(sw_sheet *s, const sw_told_lead *lead) {
    return SW_FORMAT(s, "%s; there: %s", amounts(s, lead->takes, lead->take_count),
                     amounts(s, lead->gives, lead->give_count));
}

const char *sw_bench_lead(sw_sheet *s, const sw_told_lead *lead) {
    const char *unit = lead->unit[0] == '\0' ? "" : SW_FORMAT(s, " %s", lead->unit);
    return SW_FORMAT(s, "%s of %s%s (%s)",
                     sw_sheet_text(s, sw_millionths_text(s->arena, lead->need)),
                     sw_sheet_text(s, sw_millionths_text(s->arena, lead->there)), unit,
                     sw_bench_takers(s, lead));
}

const char *sw_bench_counted(sw_sheet *s, const sw_told_piece *of) {
    return of->count > 1 ? SW_FORMAT(s, "%d x %s", of->count, of->name) : of->name;
}

const char *sw_bench_owner(sw_sheet *s, const sw_told_out *out) {
    return out->offer > 0
               ? SW_FORMAT(s, "The shop's, bought for %s.", sw_sheet_money(s, out->offer))
               : "The client's: bag it, label it, hand it back.";
}

const char *sw_bench_whose(sw_sheet *s, const sw_bench *bench, const sw_told_out *out) {
    return SW_FORMAT(s, "%s%s%s", sw_bench_owner(s, out),
                     out->keeps_files && bench->wiping[0] != '\0' ? " " : "",
                     out->keeps_files ? bench->wiping : "");
}
