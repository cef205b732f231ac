/* The machine as its dumps tell it, for the technician. */
#include <string.h>

#include "intake/survey.h"
#include "render/sheet.h"

typedef struct telling {
    sw_page page;
    sw_arena *arena;
    const sw_survey *survey;
} telling;

#define SAID(t, ...) said((t), sw_arena_format((t)->arena, __VA_ARGS__))

/* "" in place of NULL: lack of memory shows at the end, in the page. */
static const char *said(telling *t, const char *text) {
    t->page.text.failed |= text == NULL;
    return text == NULL ? "" : text;
}

static const char *things(telling *t, size_t count, const char *one, const char *many) {
    return SAID(t, "%zu %s", count, count == 1 ? one : many);
}

/* ---- files ----------------------------------------------------------------------------------- */

static void tell_files(telling *t) {
    const sw_dumps *dumps = &t->survey->dumps;
    sw_page_heading(&t->page, "Files", NULL);
    for (size_t f = 0; f < dumps->count; f++) {
        const sw_dumps_file *file = &dumps->files[f];
        if (file->kind == SW_DUMP_NONE)
            sw_page_words(&t->page, "  - ", SAID(t, "%s: left aside", file->name));
        else
            sw_page_words(&t->page, "  - ",
                          SAID(t, "%s: %s, %s", file->name, sw_dump_kind_name(file->kind),
                               things(t, file->statements, "statement", "statements")));
    }
}

static void tell_faults(telling *t) {
    const sw_complaints *faults = t->survey->faults;
    size_t told = 0;
    if (sw_complaints_count(faults) == 0)
        return;
    sw_page_heading(&t->page, "What could not be used", NULL);
    for (const sw_complaint *c; (c = sw_complaints_get(faults, told)) != NULL; told++)
        sw_page_words(&t->page, "  - ",
                      SAID(t, "%s%s%s: %s (%s); %s.", c->file, c->place[0] != '\0' ? ", " : "",
                           c->place, c->what, c->why, c->mend));
    if (sw_complaints_count(faults) > told)
        sw_page_words(
            &t->page, "  - ",
            SAID(t, "and %s",
                 things(t, sw_complaints_count(faults) - told, "more", "more of the kind")));
}

/* Dumps of two machines in one folder contradict each other in nearly everything. */
static void tell_mixture(telling *t) {
    sw_text names = {0};
    if (t->survey->mixed_count == 0)
        return;
    for (size_t m = 0; m < t->survey->mixed_count; m++)
        sw_text_addf(&names, "%s%s", m > 0 ? ", " : "", t->survey->mixed[m]);
    sw_page_heading(&t->page, "Of one machine?", NULL);
    sw_page_words(
        &t->page, "  ! ",
        SAID(t,
             "The dumps know more than one piece here: %s. Are they all of this machine, and "
             "of one start? (Drives may change their names from one start to the next.) "
             "Where they are not, take all dumps anew in one go, into a folder of their own. "
             "Until then do not trust what is told of these.",
             names.bytes == NULL ? "" : names.bytes));
    t->page.text.failed |= names.failed;
    sw_text_free(&names);
}

/* ---- pieces ---------------------------------------------------------------------------------- */

static const char *fact_shown(telling *t, const sw_seen_fact *seen) {
    const sw_fact *fact = &t->survey->catalog->facts[seen->fact];
    return SAID(t, "%s %s", fact->name, said(t, sw_value_shown(t->arena, fact, &seen->value)));
}

static void tell_facts(telling *t, const sw_seen_piece *piece) {
    sw_text line = {0};
    for (size_t f = 0; f < piece->fact_count; f++)
        sw_text_addf(&line, "%s%s", f > 0 ? "; " : "", fact_shown(t, &piece->facts[f]));
    if (piece->fact_count > 0)
        sw_page_words(&t->page, "      ", line.bytes == NULL ? "" : line.bytes);
    t->page.text.failed |= line.failed;
    sw_text_free(&line);
}

static void tell_choices(telling *t, const sw_seen_piece *piece) {
    const sw_catalog *catalog = t->survey->catalog;
    for (size_t c = 0; c < piece->choice_count; c++)
        sw_page_words(&t->page, "        ",
                      SAID(t, "%s (%s)", catalog->parts[piece->choices[c]].name,
                           catalog->parts[piece->choices[c]].id));
}

static void tell_piece(telling *t, const sw_seen_piece *piece) {
    const sw_role *role = &t->survey->catalog->roles[piece->role];
    const char *count = piece->count > 1 ? SAID(t, "%d x ", piece->count) : "";
    const char *known = piece->device == NULL    ? ""
                        : piece->part == SW_NONE ? " - not a part of the catalog"
                        : piece->copies          ? " - in the catalog, and not as the one before"
                                                 : "";
    const char *name = piece->device == NULL ? "not looked at yet" : piece->name;
    sw_page_words(&t->page, "  - ", SAID(t, "%s: %s%s%s", role->name, count, name, known));
    tell_facts(t, piece);
    for (size_t d = 0; d < piece->doubt_count; d++)
        sw_page_words(&t->page, "      ? ", piece->doubts[d]);
    tell_choices(t, piece);
    if (piece->nearest != SW_NONE)
        sw_page_words(&t->page, "      ",
                      SAID(t, "the nearest name in the catalog: %s (%s)",
                           t->survey->catalog->parts[piece->nearest].name,
                           t->survey->catalog->parts[piece->nearest].id));
}

static void tell_role(telling *t, int role) {
    const sw_role *is = &t->survey->catalog->roles[role];
    int pieces = 0;
    for (size_t p = 0; p < t->survey->piece_count; p++)
        if (t->survey->pieces[p].role == role) {
            tell_piece(t, &t->survey->pieces[p]);
            pieces += t->survey->pieces[p].count;
        }
    if (pieces > is->most)
        sw_page_words(&t->page, "      ? ",
                      SAID(t,
                           "%d of these, where a machine of this catalog has %d at most: are all "
                           "of them in use?",
                           pieces, is->most));
}

static void tell_pieces(telling *t) {
    sw_page_heading(&t->page, "The machine", NULL);
    for (size_t r = 0; r < t->survey->catalog->role_count; r++)
        tell_role(t, (int)r);
}

static void tell_ailing(telling *t, bool *begun, const char *name, const sw_device *device,
                        const sw_health_form *health) {
    if (health == NULL)
        return;
    if (!*begun)
        sw_page_heading(&t->page, "What cannot wait", NULL);
    *begun = true;
    sw_page_words(&t->page, "  ! ", SAID(t, "%s (%s): %s", name, device->key, health->why));
    if (health->do_first[0] != '\0')
        sw_page_words(&t->page, "    ", health->do_first);
}

static const char *device_name(telling *t, const sw_device *device);

static void tell_health(telling *t) {
    bool begun = false;
    for (size_t p = 0; p < t->survey->piece_count; p++)
        tell_ailing(t, &begun, t->survey->pieces[p].name, t->survey->pieces[p].device,
                    t->survey->pieces[p].health);
    for (size_t l = 0; l < t->survey->left_count; l++)
        tell_ailing(t, &begun, device_name(t, t->survey->left[l].device), t->survey->left[l].device,
                    t->survey->left[l].health);
}

/* ---- the rest -------------------------------------------------------------------------------- */

static const char *device_name(telling *t, const sw_device *device) {
    static const char *const names[] = {"name", "model", "product", "type", "version", "maker"};
    const char *key = device->key[0] != '\0' ? SAID(t, " %s", device->key) : "";
    for (size_t n = 0; n < sizeof names / sizeof *names; n++) {
        const sw_settled *settled = sw_device_says(device, names[n]);
        if (settled != NULL && settled->all[0]->says == SW_SAYS_TEXT)
            return SAID(t, "%s%s: %s", device->kind, key, settled->all[0]->text);
    }
    return SAID(t, "%s%s", device->kind, key);
}

/* What contradicts itself of a device that became no piece. */
static void tell_device_doubts(telling *t, const sw_device *device) {
    for (size_t i = 0; i < device->count; i++) {
        const sw_settled *at = &device->settled[i];
        for (size_t s = 1; at->doubtful && s < at->count; s++)
            if (sw_contradicts(t->survey->catalog->intake, at->all[0], at->all[s]))
                sw_page_words(&t->page, "      ? ",
                              said(t, sw_contradiction_told(t->arena, at->all[0], at->all[s])));
    }
}

static void tell_left(telling *t, const char *heading, bool with_why) {
    bool begun = false;
    for (size_t l = 0; l < t->survey->left_count; l++) {
        const sw_left_device *left = &t->survey->left[l];
        if ((left->why != NULL) != with_why)
            continue;
        if (!begun)
            sw_page_heading(&t->page, heading, NULL);
        begun = true;
        const char *name = device_name(t, left->device);
        sw_page_words(&t->page, "  - ", with_why ? SAID(t, "%s: %s", name, left->why) : name);
        tell_device_doubts(t, left->device);
    }
}

static void tell_questions(telling *t) {
    if (t->survey->question_count == 0)
        return;
    sw_page_heading(&t->page, "What no dump can tell", NULL);
    for (size_t q = 0; q < t->survey->question_count; q++) {
        const sw_intake_question *question = t->survey->questions[q];
        sw_page_words(
            &t->page, "  - ",
            SAID(t, "%s: %s", t->survey->catalog->roles[question->role].name, question->ask));
    }
    sw_page_gap(&t->page);
    sw_page_words(
        &t->page, "",
        "Each is answered by: swapworth intake piece DRAFT ROLE PART -o DRAFT (ROLE as in "
        "roles.json: power, case, cooler, ..). What stays open is treated as not known. "
        "Wishes and money come from: swapworth intake ask DRAFT.");
}

/* The work of the bench costs what the shop says; where it says nothing, nothing: that is told. */
static void tell_beginning(telling *t) {
    const sw_catalog *catalog = t->survey->catalog;
    const sw_beginning *begins = catalog->intake != NULL ? &catalog->intake->begins : NULL;
    const char *labour = "nothing is charged for the work";
    const char *tax = "no tax is added to the prices";
    if (begins != NULL && begins->has_labour)
        labour = SAID(
            t, "work at %s %s an hour",
            said(t, sw_money_text(t->arena, begins->labour_per_hour, catalog->currency_digits)),
            catalog->currency);
    if (begins != NULL && begins->has_tax)
        tax = SAID(t, "%s %% tax %s the prices",
                   said(t, sw_milli_text(t->arena, begins->tax.percent_milli,
                                         begins->tax.percent_milli % 1000 == 0 ? 0 : 3)),
                   begins->tax.prices == SW_PRICES_WITH_TAX ? "in" : "on top of");
    sw_page_gap(&t->page);
    sw_page_words(&t->page, "",
                  SAID(t, "The draft begins with: %s, %s (intake.json, \"begins\").", labour, tax));
}

static void tell_privates(telling *t) {
    size_t count = t->survey->dumps.statements.private_count;
    if (count == 0)
        return;
    sw_page_gap(&t->page);
    sw_page_words(&t->page, "",
                  SAID(t,
                       "Private: %s (serial numbers, addresses and the like) in the dumps. None "
                       "of it is in the draft; --card FILE puts it on the job card.",
                       things(t, count, "detail", "details")));
}

sw_status sw_render_survey_text(char **out, const sw_survey *survey, sw_text_style style) {
    telling t = {.page = {.width = style.width, .bold = style.bold},
                 .arena = sw_arena_new(),
                 .survey = survey};
    if (t.arena == NULL)
        return SW_NO_MEMORY;
    sw_page_title(&t.page, "The machine as its dumps tell it");
    tell_files(&t);
    tell_faults(&t);
    tell_mixture(&t);
    tell_health(&t);
    tell_pieces(&t);
    tell_left(&t, "Seen, and left out", true);
    tell_left(&t, "Seen, and no part of a scenario", false);
    tell_questions(&t);
    tell_beginning(&t);
    tell_privates(&t);
    sw_arena_free(t.arena);
    if (t.page.text.failed) {
        sw_text_free(&t.page.text);
        return SW_NO_MEMORY;
    }
    *out = t.page.text.bytes;
    return SW_OK;
}
