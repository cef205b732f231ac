/* Sentences of findings, with the numbers of the machine filled in. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "answer/look.h"
#include "answer/stage.h"

const char *sw_value_text(sw_arena *arena, const sw_fact *fact, const sw_value *value) {
    if (value->some)
        return sw_millionths_text(arena, value->milli * 1000);
    if (value->state != SW_KNOWN)
        return value->state == SW_VOID ? "none" : "not known";
    if (fact->type == SW_FLAG)
        return value->milli != 0 ? "yes" : "no";
    if (fact->type == SW_NUMBER)
        return sw_millionths_text(arena, value->milli * 1000);
    return sw_tokens_text(arena, value);
}

/* A number with the digits it deserves. */
static const char *number_text(sw_arena *arena, double value, int digits) {
    int64_t milli = 0;
    return sw_round_to(&milli, value, digits) ? sw_milli_text(arena, milli, digits)
                                              : "beyond all numbers";
}

/* What the role holds: "Old Name and New Name". */
static const char *names_text(sw_arena *arena, const sw_measuring *m, const char *id) {
    const sw_fitouts *fitouts = m->estimates->fitouts;
    const sw_scenario *scenario = fitouts->scenario;
    const char *out = "";
    for (size_t r = 0; r < fitouts->catalog->role_count && out != NULL; r++) {
        const sw_fitout *fitout = &fitouts->fitouts[m->machine[r]];
        if (strcmp(fitouts->catalog->roles[r].id, id) != 0)
            continue;
        for (size_t i = 0; i < scenario->machine_count[r] + (size_t)fitout->added_count; i++) {
            size_t k = i - scenario->machine_count[r];
            bool there = i < scenario->machine_count[r];
            if (there && fitout->kept[i] == 0)
                continue;
            int part = there ? scenario->machine[r][i].part : fitout->added[k].part;
            out = out == NULL ? NULL
                              : sw_arena_format(arena, "%s%s%s", out, out[0] == '\0' ? "" : " and ",
                                                scenario->parts[part].name);
        }
    }
    return out;
}

static const char *measure_text(sw_arena *arena, const sw_measuring *m, const char *id) {
    const sw_catalog *catalog = m->estimates->fitouts->catalog;
    for (size_t i = 0; i < catalog->measure_count; i++)
        if (strcmp(catalog->measures[i].id, id) == 0)
            return m->values[i].state != SW_KNOWN
                       ? "not known"
                       : number_text(arena, m->values[i].mid, catalog->measures[i].digits);
    return names_text(arena, m, id);
}

static const char *fact_text(sw_arena *arena, const sw_measuring *m, const char *slot,
                             const char *point) {
    const sw_fitouts *fitouts = m->estimates->fitouts;
    const sw_catalog *catalog = fitouts->catalog;
    for (size_t r = 0; r < catalog->role_count; r++) {
        const char *role = catalog->roles[r].id;
        if (strlen(role) != (size_t)(point - slot) || strncmp(role, slot, strlen(role)) != 0)
            continue;
        for (size_t f = 0; f < catalog->fact_count; f++)
            if (strcmp(catalog->facts[f].name, point + 1) == 0)
                return sw_value_text(
                    arena, &catalog->facts[f],
                    sw_fitout_value(fitouts, &fitouts->fitouts[m->machine[r]], (int)f));
    }
    return "";
}

const char *sw_finding_sentence(sw_arena *arena, const sw_measuring *measuring,
                                const char *sentence) {
    sw_text text = {0};
    sw_text_add(&text, "");
    while (*sentence != '\0') {
        const char *close = *sentence == '{' ? strchr(sentence, '}') : NULL;
        if (close == NULL) {
            sw_text_add_bytes(&text, sentence++, 1);
            continue;
        }
        const char *slot = sw_arena_text(arena, sentence + 1, (size_t)(close - sentence - 1));
        const char *point = slot == NULL ? NULL : strchr(slot, '.');
        const char *filled = slot == NULL    ? NULL
                             : point == NULL ? measure_text(arena, measuring, slot)
                                             : fact_text(arena, measuring, slot, point);
        if (filled == NULL)
            text.failed = true;
        else
            sw_text_add(&text, filled);
        sentence = close + 1;
    }
    const char *out = text.failed
                          ? NULL
                          : sw_arena_text(arena, text.bytes != NULL ? text.bytes : "", text.length);
    sw_text_free(&text);
    return out;
}
