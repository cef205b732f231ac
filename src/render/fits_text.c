/* The answer of `fits` as the bench reads it. */
#include "render/fits.h"

#include <string.h>

bool sw_fits_measured(const sw_fits_rule *rule) {
    bool numbers = rule->shape == SW_WITHIN || rule->shape == SW_SUPPLY || rule->shape == SW_PLACE;
    return numbers && rule->says != SW_SAYS_MOOT && rule->unknown_fact == NULL;
}

static const char *amount(sw_sheet *s, int64_t millionths, const char *unit) {
    sw_text text = {0};
    sw_text_add_millionths(&text, millionths);
    const char *out = text.failed ? NULL : sw_arena_copy(s->arena, text.bytes);
    sw_text_free(&text);
    return SW_FORMAT(s, "%s%s%s", sw_sheet_text(s, out), unit[0] != '\0' ? " " : "", unit);
}

const char *sw_sheet_clearance(sw_sheet *s, const sw_fits_rule *rule) {
    if (rule->left != NULL)
        return SW_FORMAT(s, "%s against %s", rule->left, rule->right);
    if (!sw_fits_measured(rule))
        return "";
    const char *need = amount(s, rule->need, rule->unit), *room = amount(s, rule->room, rule->unit);
    int64_t spare = rule->room - rule->need;
    /* No finer than the numbers it is the difference of. */
    if (rule->need >= 10000000 || rule->room >= 10000000)
        spare = 100000 * sw_divide(spare, 100000, SW_HALF_UP);
    if (rule->shape == SW_PLACE)
        return spare == 0 ? SW_FORMAT(s, "%s to place, all find one", need)
                          : SW_FORMAT(s, "%s to place, %s find one", need, room);
    if (rule->need == 0)
        return SW_FORMAT(s, "none needed, %s there", room);
    if (spare == 0)
        return SW_FORMAT(s, "%s needed, %s there, nothing to spare", need, room);
    return SW_FORMAT(s, "%s needed, %s there, %s %s", need, room,
                     amount(s, spare < 0 ? -spare : spare, rule->unit),
                     spare > 0 ? "to spare" : "short");
}

static const char *heading_line(sw_sheet *s, const sw_fits_rule *rule) {
    const char *clearance = sw_sheet_clearance(s, rule);
    return SW_FORMAT(s, "%s%s%s.", rule->name, clearance[0] != '\0' ? ": " : "", clearance);
}

void sw_sheet_fits_rule(sw_sheet *s, const sw_fits_rule *rule) {
    if (rule->unknown_fact != NULL) {
        sw_sheet_words(s, "  - ",
                       SW_FORMAT(s, "%s: nobody has stated %s of the %s (%s).", rule->name,
                                 rule->unknown_fact, rule->unknown_role_name,
                                 rule->unknown_meaning));
        return;
    }
    sw_sheet_words(s, "  - ", heading_line(s, rule));
    if (rule->client == NULL)
        return;
    sw_sheet_words(s, "      ", rule->client);
    if (strcmp(rule->client, rule->bench) != 0)
        sw_sheet_words(s, "      Bench: ", rule->bench);
}

static size_t count_of(const sw_fits *fits, sw_fits_says says) {
    size_t count = 0;
    for (size_t i = 0; i < fits->rule_count; i++)
        count += fits->rules[i].says == says;
    return count;
}

static bool same_rule(const sw_fits_rule *a, const sw_fits_rule *b) {
    return strcmp(a->rule, b->rule) == 0 && a->says == b->says;
}

/* The needs of one unlock say the same sentences: once is enough. */
static void section(sw_sheet *s, const sw_fits *fits, sw_fits_says says, const char *heading) {
    if (count_of(fits, says) == 0)
        return;
    sw_page_heading(&s->page, heading, NULL);
    for (size_t i = 0; i < fits->rule_count; i++)
        if (fits->rules[i].says == says &&
            (i == 0 || !same_rule(&fits->rules[i - 1], &fits->rules[i])))
            sw_sheet_fits_rule(s, &fits->rules[i]);
}

static bool compares(const sw_fits_rule *rule) {
    return rule->left != NULL || sw_fits_measured(rule);
}

/* What is compared line by line, and the rest in one breath. */
static void holding(sw_sheet *s, const sw_fits *fits) {
    const char *rest = "";
    if (count_of(fits, SW_SAYS_HOLDS) > 0)
        sw_page_heading(&s->page, "Holds", NULL);
    for (size_t i = 0; i < fits->rule_count; i++) {
        const sw_fits_rule *rule = &fits->rules[i];
        bool again = i > 0 && same_rule(&fits->rules[i - 1], rule);
        if (rule->says != SW_SAYS_HOLDS || again)
            continue;
        if (compares(rule))
            sw_sheet_fits_rule(s, rule);
        else
            rest = SW_FORMAT(s, "%s%s%s", rest, rest[0] == '\0' ? "" : "; ", rule->name);
    }
    if (rest[0] != '\0')
        sw_sheet_words(s, "  - ", SW_FORMAT(s, "nothing against: %s.", rest));
}

static const char *pieces(sw_sheet *s, const sw_fits_piece *piece) {
    return piece->count > 1
               ? SW_FORMAT(s, "%s: %d x %s", piece->role_name, piece->count, piece->name)
               : SW_FORMAT(s, "%s: %s", piece->role_name, piece->name);
}

static bool role_changes(const sw_fits *fits, const char *role) {
    for (size_t i = 0; i < fits->piece_count; i++)
        if (!fits->pieces[i].kept && strcmp(fits->pieces[i].role, role) == 0)
            return true;
    return false;
}

static void question(sw_sheet *s, const sw_fits *fits) {
    if (!fits->asked) {
        sw_page_heading(&s->page, "The machine as it stands, by the rules", NULL);
        return;
    }
    sw_page_heading(&s->page, "May these go with what stays?", NULL);
    for (size_t i = 0; i < fits->piece_count; i++)
        if (!fits->pieces[i].kept)
            sw_sheet_words(s, "  in    ", pieces(s, &fits->pieces[i]));
    for (size_t i = 0; i < fits->out_count; i++)
        sw_sheet_words(s, "  out   ", pieces(s, &fits->out[i]));
    for (size_t i = 0; i < fits->piece_count; i++)
        if (fits->pieces[i].kept && role_changes(fits, fits->pieces[i].role))
            sw_sheet_words(s, "  stays ", pieces(s, &fits->pieces[i]));
}

static void verdict(sw_sheet *s, const sw_fits *fits) {
    sw_page_gap(&s->page);
    size_t refused = count_of(fits, SW_SAYS_REFUSED);
    if (fits->unsettled)
        sw_sheet_words(s, "",
                       SW_FORMAT(s,
                                 "%s: what is said below holds of one way to do it, and there "
                                 "may be a better one.",
                                 s->cut_short));
    if (fits->verdict == SW_FITS)
        sw_sheet_words(s, "",
                       !fits->asked           ? "No rule is broken beyond what is told below."
                       : fits->task_count > 0 ? "It fits, with this work:"
                                              : "It fits.");
    else if (fits->verdict == SW_FITS_UNKNOWN)
        sw_sheet_words(s, "",
                       "It cannot be told yet: what is listed under \"Not known\" has to be looked "
                       "up first.");
    else if (refused > 0)
        sw_sheet_words(s, "", "It does not fit as it is.");
    else
        sw_sheet_words(s, "", "It does not fit as it is: not all things find a place together.");
    for (size_t i = 0; i < fits->task_count; i++)
        sw_sheet_words(s, "  - ",
                       SW_FORMAT(s, "%s: %s", fits->tasks[i].role_name, fits->tasks[i].name));
}

static void stands(sw_sheet *s, const sw_fits *fits) {
    if (fits->places_asked == 0)
        return;
    sw_page_heading(&s->page, "Where everything could stand", NULL);
    for (size_t i = 0; i < fits->stand_count; i++) {
        const sw_fits_stand *stand = &fits->stands[i];
        const char *count = stand->count > 1 ? SW_FORMAT(s, "%d x ", stand->count) : "";
        sw_sheet_words(s, "  - ",
                       SW_FORMAT(s, "%s, %s: %s%s %s of %s", stand->on_name, stand->site, count,
                                 stand->kind, stand->size, stand->name));
        if (stand->caution != NULL)
            sw_sheet_words(s, "      ", stand->caution);
    }
    if (fits->places_left > 0)
        sw_sheet_words(s, "  - ",
                       SW_FORMAT(s, "without a place: %lld", (long long)fits->places_left));
}

sw_status sw_render_fits_text(char **out, const sw_fits *fits, sw_text_style style) {
    sw_sheet s;
    if (!sw_sheet_start(&s, NULL, style))
        return SW_NO_MEMORY;
    s.cut_short = sw_cut_short(fits->asked_to_stop);
    if (fits->title[0] != '\0')
        sw_page_title(&s.page, fits->title);
    question(&s, fits);
    verdict(&s, fits);
    section(&s, fits, SW_SAYS_REFUSED, "Refused");
    section(&s, fits, SW_SAYS_UNKNOWN, "Not known");
    section(&s, fits, SW_SAYS_TODAY, "Falls short today already, and no worse than now");
    section(&s, fits, SW_SAYS_MIND, "Mind");
    stands(&s, fits);
    holding(&s, fits);
    size_t moot = count_of(fits, SW_SAYS_MOOT);
    if (moot > 0) {
        sw_page_gap(&s.page);
        sw_sheet_words(&s, "",
                       SW_FORMAT(&s, "Rules with nothing to judge on this machine: %zu.", moot));
    }
    return sw_sheet_finish(out, &s);
}
