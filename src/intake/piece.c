#include "intake/piece.h"

#include <stdlib.h>
#include <string.h>

#include "check/fields.h"
#include "check/intake.h"
#include "intake/match.h"
#include "read/json_text.h"
#include "read/plain.h"

typedef struct work {
    sw_piece *out;
    const sw_piece_job *job;
    const sw_catalog *catalog;
    sw_complaints *complaints;
    int *found;                   /* room for all parts */
    const char **ids;             /* [part of the job] */
    bool *own;                    /* [part of the job] its own part */
    sw_sketch *facts;             /* what --set says of all of them */
    sw_sketch **facts_of;         /* [part of the job] of that one alone */
    const sw_json *set, **set_of; /* the same, read back */
} work;

static sw_status wrong(work *in, const char *option, const char *why, const char *mend,
                       const char *what, const char *shown) {
    sw_text plain = {0};
    sw_plain_add(&plain, shown);
    if (!plain.failed)
        sw_complain(in->complaints, option, "", why, mend, "%s \"%s\"", what,
                    plain.bytes == NULL ? "" : plain.bytes);
    bool failed = plain.failed;
    sw_text_free(&plain);
    return failed ? SW_NO_MEMORY : SW_BAD_DATA;
}

static const char *near_name(work *in, const char *name, const char *const *known, size_t count,
                             const char *otherwise) {
    const char *near = sw_nearest(name, known, count);
    return near == NULL
               ? otherwise
               : sw_arena_format(in->out->arena, "did you mean \"%s\"? Else %s", near, otherwise);
}

/* ---- the words ------------------------------------------------------------------------------ */

static sw_status find_role(work *in) {
    const sw_catalog *catalog = in->catalog;
    const char **names = SW_NEW(in->out->arena, const char *, catalog->role_count);
    if (names == NULL)
        return SW_NO_MEMORY;
    in->out->role = SW_NONE;
    for (size_t r = 0; r < catalog->role_count; r++) {
        names[r] = catalog->roles[r].id;
        if (strcmp(names[r], in->job->role) == 0)
            in->out->role = (int)r;
    }
    if (in->out->role != SW_NONE)
        return SW_OK;
    return wrong(in, "ROLE", "roles.json lists what a machine is made of",
                 near_name(in, in->job->role, names, catalog->role_count, "take a role of these"),
                 "is no role:", in->job->role);
}

static sw_status not_one(work *in, const char *word, size_t count) {
    const sw_catalog *catalog = in->catalog;
    const char **names = SW_NEW(in->out->arena, const char *, catalog->part_count);
    sw_text choices = {0};
    size_t known = 0;
    if (names == NULL)
        return SW_NO_MEMORY;
    for (size_t p = 0; p < catalog->part_count; p++)
        if (catalog->parts[p].role == in->out->role)
            names[known++] = catalog->parts[p].id;
    if (count == 0)
        return wrong(
            in, "PART", "a piece is a part of the catalog, or is described by its facts",
            near_name(in, word, names, known, "add --own and describe it by --set FACT=VALUE"),
            "is no part of this role:", word);
    for (size_t i = 0; i < count && i < 8; i++)
        sw_text_addf(&choices, "%s%s", i == 0 ? "take one of these ids: " : ", ",
                     catalog->parts[in->found[i]].id);
    const char *mend = choices.failed ? NULL : sw_arena_copy(in->out->arena, choices.bytes);
    sw_text_free(&choices);
    return wrong(in, "PART", "several parts of the catalog are called that", mend,
                 "could be more than one part:", word);
}

/* An id that neither the catalog nor the scenario has. */
static const char *own_id(work *in) {
    const sw_scenario *before = in->out->before;
    const char *role = in->catalog->roles[in->out->role].id;
    for (size_t number = 1;; number++) {
        const char *id = number == 1 ? sw_arena_format(in->out->arena, "own-%s", role)
                                     : sw_arena_format(in->out->arena, "own-%s-%zu", role, number);
        bool taken = false;
        for (size_t p = 0; id != NULL && p < before->part_count; p++)
            taken |= strcmp(before->parts[p].id, id) == 0;
        for (size_t i = 0; id != NULL && i < in->job->part_count; i++)
            taken |= in->ids[i] != NULL && strcmp(in->ids[i], id) == 0;
        if (!taken)
            return id;
    }
}

static bool says_none(const work *in) {
    return in->job->part_count == 1 && strcmp(in->job->parts[0], "none") == 0;
}

/* The scenario's own part of this role with that id or name: its id; NULL where there is none. */
static const char *own_part_called(const work *in, const char *word) {
    const sw_scenario *before = in->out->before;
    for (size_t i = 0; i < before->machine_count[in->out->role]; i++) {
        const sw_part *part = &before->parts[before->machine[in->out->role][i].part];
        bool own = (size_t)before->machine[in->out->role][i].part >= in->catalog->part_count;
        if (strcmp(part->id, word) == 0 || (own && sw_same_number(part->name, word)))
            return part->id;
    }
    return NULL;
}

static sw_status find_parts(work *in) {
    for (size_t i = 0; i < in->job->part_count && !says_none(in); i++) {
        const char *word = in->job->parts[i];
        size_t before = 0;
        while (strcmp(in->job->parts[before], word) != 0)
            before++;
        if (before < i) {
            in->ids[i] = in->ids[before];
            in->own[i] = in->own[before];
            continue;
        }
        in->ids[i] = own_part_called(in, word);
        if (in->ids[i] != NULL)
            continue;
        size_t count = sw_parts_named(in->catalog, in->out->role, NULL, word, in->found, 0);
        in->own[i] = count == 0 && in->job->own && word[0] != '\0';
        if (in->own[i] && !sw_is_plain(word, strlen(word)))
            return wrong(in, "PART", "names are UTF-8 without control characters",
                         "type it anew in plain letters", "cannot be written:", word);
        if (count != 1 && !in->own[i])
            return not_one(in, word, count);
        in->ids[i] = in->own[i] ? own_id(in) : in->catalog->parts[in->found[0]].id;
        if (in->ids[i] == NULL)
            return SW_NO_MEMORY;
    }
    return SW_OK;
}

/* ---- facts ----------------------------------------------------------------------------------- */

static bool put_number(sw_sketch *facts, const char *name, const char *value) {
    int64_t milli = 0;
    bool below = value[0] == '-';
    if (!sw_money_parse(&milli, value + below, 3))
        return false;
    sw_sketch_milli(facts, name, below ? -milli : milli);
    return true;
}

static bool put_flag(sw_sketch *facts, const char *name, const char *value) {
    bool yes = strcmp(value, "yes") == 0 || strcmp(value, "true") == 0;
    if (!yes && strcmp(value, "no") != 0 && strcmp(value, "false") != 0)
        return false;
    sw_sketch_truth(facts, name, yes);
    return true;
}

static bool put_list(work *in, sw_sketch *to, const char *name, const char *value) {
    sw_sketch *list = sw_sketch_array(to, name);
    while (*value != '\0') {
        size_t length = strcspn(value, ",");
        const char *token = sw_arena_text(in->out->arena, value, length);
        if (token == NULL)
            return false;
        sw_sketch_text(list, NULL, token);
        value += length + (value[length] == ',');
    }
    return true;
}

static bool put_fact(work *in, sw_sketch *to, const sw_fact *fact, const char *value) {
    switch (fact->type) {
    case SW_NUMBER:
        return put_number(to, fact->name, value);
    case SW_FLAG:
        return put_flag(to, fact->name, value);
    case SW_LIST:
        return put_list(in, to, fact->name, value);
    case SW_TOKEN:
        sw_sketch_text(to, fact->name, value);
        return true;
    case SW_SITES:
    case SW_THINGS:
        return false;
    }
    return false;
}

static const char *how_to_write(const sw_fact *fact) {
    switch (fact->type) {
    case SW_NUMBER:
        return "write a number with a decimal point, at most three decimals";
    case SW_FLAG:
        return "write yes or no";
    case SW_LIST:
        return "write its texts with commas between them";
    case SW_TOKEN:
        return "write one of the words that facts.json lists";
    case SW_SITES:
    case SW_THINGS:
        return "put it into the part's facts in the scenario or the catalog: it is more than one "
               "word can say";
    }
    return "";
}

/* "PART:FACT=VALUE" is of that part alone. */
static const char *behind_part(sw_sketch **to, const work *in, const char *setting) {
    const char *colon = strchr(setting, ':'), *equals = strchr(setting, '=');
    if (colon == NULL || equals == NULL || colon > equals)
        return setting;
    size_t length = (size_t)(colon - setting);
    for (size_t i = 0; i < in->job->part_count && !says_none(in); i++) {
        const char *const names[] = {in->job->parts[i], in->ids[i]};
        for (size_t n = 0; n < sizeof names / sizeof *names; n++)
            if (strlen(names[n]) == length && strncmp(names[n], setting, length) == 0) {
                *to = in->facts_of[i];
                return colon + 1;
            }
    }
    return setting;
}

static sw_status read_setting(work *in, const char *whole) {
    const sw_catalog *catalog = in->catalog;
    sw_sketch *to = in->facts;
    const char *setting = behind_part(&to, in, whole);
    const char *equals = strchr(setting, '=');
    const char **names = SW_NEW(in->out->arena, const char *, catalog->fact_count);
    const char *name =
        equals == NULL ? NULL : sw_arena_text(in->out->arena, setting, (size_t)(equals - setting));
    size_t known = 0;
    const sw_fact *fact = NULL;
    if (equals == NULL)
        return wrong(in, "--set", "it states a fact of the piece", "write FACT=VALUE",
                     "has no \"=\":", setting);
    if (names == NULL || name == NULL)
        return SW_NO_MEMORY;
    for (size_t f = 0; f < catalog->fact_count; f++) {
        const sw_fact *at = &catalog->facts[f];
        if (!at->on_role[in->out->role] || at->derived_role != SW_NONE || at->built_in)
            continue;
        names[known++] = at->name;
        if (strcmp(at->name, name) == 0)
            fact = at;
    }
    if (fact == NULL)
        return wrong(in, "--set", "facts.json says which facts stand on which role",
                     near_name(in, name, names, known, "take a fact of this role"),
                     "names no fact of this role:", name);
    if (!put_fact(in, to, fact, equals + 1))
        return wrong(in, "--set", fact->meaning, how_to_write(fact), "cannot be read:", setting);
    return SW_OK;
}

static sw_status read_settings(work *in) {
    sw_status status = SW_OK;
    bool no_memory = (in->facts = sw_sketch_new(in->out->arena)) == NULL;
    for (size_t i = 0; i < in->job->part_count && !no_memory; i++)
        no_memory = (in->facts_of[i] = sw_sketch_new(in->out->arena)) == NULL;
    if (no_memory)
        return SW_NO_MEMORY;
    for (size_t s = 0; s < in->job->setting_count && status == SW_OK; s++)
        status = read_setting(in, in->job->settings[s]);
    return status;
}

/* ---- the new entries ----------------------------------------------------------------------------
 */

/* Copies what `facts` says over what is in `in`. */
static void put_facts(sw_sketch *in, const sw_json *facts) {
    for (size_t f = 0; facts != NULL && f < facts->count; f++)
        sw_sketch_copy(in, facts->children[f].name, &facts->children[f]);
}

static bool is_of_piece(const work *in, const char *name) {
    const sw_intake_form *form = in->catalog->intake;
    for (size_t f = 0; form != NULL && f < form->of_piece_count; f++)
        if (strcmp(in->catalog->facts[form->of_pieces[f]].name, name) == 0)
            return true;
    for (size_t p = 0; form != NULL && p < form->piece_count; p++)
        for (size_t f = 0; form->pieces[p].role == in->out->role && f < form->pieces[p].fact_count;
             f++)
            if (form->pieces[p].facts[f].of_piece &&
                strcmp(in->catalog->facts[form->pieces[p].facts[f].fact].name, name) == 0)
                return true;
    return false;
}

/* The note of a piece that is now another part: what named it before. */
static void put_note(work *in, sw_sketch *entry, const sw_json *old) {
    const sw_json *note = sw_json_get(old, "note"), *name = sw_json_get(old, "name");
    const sw_json *part = sw_json_get(old, "part");
    const char *was = name != NULL && name->kind == SW_JSON_TEXT ? name->text : part->text;
    const char *before = note != NULL && note->kind == SW_JSON_TEXT ? note->text : "";
    size_t room = SW_TEXT_BYTES - strlen("Named by hand; before: . ") - strlen(was);
    size_t length = strlen(before) > room ? room : strlen(before);
    while (length > 0 && length < strlen(before) && ((unsigned char)before[length] & 0xc0) == 0x80)
        length--;
    const char *text = sw_arena_format(in->out->arena, "Named by hand; before: %s.%s%.*s", was,
                                       length > 0 ? " " : "", (int)length, before);
    if (text != NULL)
        sw_sketch_text(entry, "note", text);
}

/* One part in place of one entry: what was said of the very piece stays true. */
static void keep_of(work *in, sw_sketch *entry, sw_sketch *facts, const sw_json *old) {
    static const char *const kept[] = {"count", "condition", "offer", "hoped"};
    for (size_t k = 0; k < sizeof kept / sizeof *kept; k++)
        if (sw_json_get(old, kept[k]) != NULL)
            sw_sketch_copy(entry, kept[k], sw_json_get(old, kept[k]));
    const sw_json *said = sw_json_get(old, "facts");
    for (size_t f = 0; said != NULL && f < said->count; f++)
        if (is_of_piece(in, said->children[f].name))
            sw_sketch_copy(facts, said->children[f].name, &said->children[f]);
    put_note(in, entry, old);
}

static const sw_json *entry_of(const sw_json *old, const char *id) {
    for (size_t e = 0; old != NULL && e < old->count; e++) {
        const sw_json *part = sw_json_get(&old->children[e], "part");
        if (part != NULL && part->kind == SW_JSON_TEXT && strcmp(part->text, id) == 0)
            return &old->children[e];
    }
    return NULL;
}

/* A part that was there already keeps all that is known of it. */
static sw_status put_entry(work *in, sw_sketch *list, size_t which, const sw_json *old,
                           const sw_json *only) {
    const sw_json *same = entry_of(old, in->ids[which]);
    sw_sketch *entry = sw_sketch_object(list, NULL);
    size_t count = 0;
    for (size_t i = 0; i < in->job->part_count; i++)
        count += strcmp(in->ids[i], in->ids[which]) == 0;
    for (size_t m = 0; same != NULL && m < same->count; m++)
        sw_sketch_copy(entry, same->children[m].name, &same->children[m]);
    sw_sketch_text(entry, "part", in->ids[which]);
    if (in->own[which])
        sw_sketch_text(entry, "name", in->job->parts[which]);
    if (count > 1)
        sw_sketch_whole(entry, "count", (int64_t)count);
    sw_sketch *facts = sw_sketch_get(entry, "facts");
    if (facts == NULL)
        facts = sw_sketch_object(entry, "facts");
    if (same == NULL && only != NULL)
        keep_of(in, entry, facts, only);
    put_facts(facts, in->set);
    for (size_t i = 0; i < in->job->part_count; i++)
        if (strcmp(in->ids[i], in->ids[which]) == 0)
            put_facts(facts, in->set_of[i]);
    if (sw_sketch_count(facts) == 0 && !in->own[which])
        sw_sketch_remove(entry, "facts");
    return entry == NULL ? SW_NO_MEMORY : SW_OK;
}

/* --set as a tree, to be copied into each entry. */
static sw_status read_back(const sw_json **out, work *in, const sw_sketch *facts) {
    char *text = NULL;
    sw_status status = sw_sketch_write(&text, facts);
    if (status == SW_OK)
        status = sw_json_read(out, in->out->arena, "--set", text, strlen(text), in->complaints);
    free(text);
    if (status == SW_BAD_DATA)
        return wrong(in, "--set", "texts are UTF-8 without control characters",
                     "type it anew in plain letters", "cannot be read:", in->job->settings[0]);
    return status;
}

static sw_status read_all_back(work *in) {
    sw_status status = read_back(&in->set, in, in->facts);
    for (size_t i = 0; i < in->job->part_count && status == SW_OK; i++)
        status = read_back(&in->set_of[i], in, in->facts_of[i]);
    return status;
}

static sw_status put_entries(work *in, sw_sketch *root, const sw_json *old) {
    const char *role = in->catalog->roles[in->out->role].id;
    const sw_json *only = old != NULL && old->count == 1 ? &old->children[0] : NULL;
    sw_status status = read_all_back(in);
    if (status != SW_OK)
        return status;
    if (in->job->part_count != 1)
        only = NULL;
    sw_sketch *machine = sw_sketch_get(root, "machine");
    if (says_none(in)) {
        sw_sketch_remove(machine, role);
        return SW_OK;
    }
    sw_sketch *list = sw_sketch_array(machine, role);
    for (size_t i = 0; i < in->job->part_count && status == SW_OK; i++) {
        bool first = true;
        for (size_t before = 0; before < i; before++)
            first &= strcmp(in->ids[before], in->ids[i]) != 0;
        if (first)
            status = put_entry(in, list, i, old, only);
    }
    return status;
}

/* ---- what spoke of the old pieces
 * ----------------------------------------------------------------- */

/* What the id of an old piece becomes: itself, the one part in its place, or NULL where it went. */
static const char *now_called(const work *in, const sw_json *old, const char *id) {
    if (entry_of(old, id) == NULL)
        return id;
    for (size_t i = 0; i < in->job->part_count && !says_none(in); i++)
        if (strcmp(in->ids[i], id) == 0)
            return id;
    return old->count == 1 && in->job->part_count == 1 && !says_none(in) ? in->ids[0] : NULL;
}

/* A list of the wishes that names parts. */
static void rename_in(work *in, sw_sketch *wishes, const sw_json *had, const char *name,
                      const sw_json *old) {
    const sw_json *list = had == NULL ? NULL : sw_json_get(had, name);
    if (list == NULL || list->kind != SW_JSON_ARRAY)
        return;
    sw_sketch *made = sw_sketch_array(wishes, name);
    for (size_t i = 0; i < list->count; i++) {
        const char *now = now_called(in, old, list->children[i].text);
        if (now != NULL)
            sw_sketch_text(made, NULL, now);
    }
}

static void rename_musts(work *in, sw_sketch *root, const sw_json *json, const sw_json *old) {
    const sw_json *musts = sw_json_get(json, "musts");
    if (musts == NULL || musts->kind != SW_JSON_ARRAY)
        return;
    sw_sketch *made = sw_sketch_array(root, "musts");
    for (size_t m = 0; m < musts->count; m++) {
        const sw_json *part = sw_json_get(&musts->children[m], "replace");
        const char *now = part == NULL ? "" : now_called(in, old, part->text);
        if (now == NULL)
            continue;
        sw_sketch_copy(made, NULL, &musts->children[m]);
        if (part != NULL)
            sw_sketch_text(sw_sketch_element(made, sw_sketch_count(made) - 1), "replace", now);
    }
    if (sw_sketch_count(made) == 0)
        sw_sketch_remove(root, "musts");
}

static void close_questions(work *in, sw_sketch *root, const sw_json *json) {
    const char *role = in->catalog->roles[in->out->role].id;
    const sw_json *list = sw_json_get(json, "to_ask");
    if (list == NULL || list->kind != SW_JSON_ARRAY)
        return;
    sw_sketch *made = sw_sketch_array(root, "to_ask");
    for (size_t q = 0; q < list->count; q++) {
        const sw_json *of = sw_json_get(&list->children[q], "role");
        if (of == NULL || strcmp(of->text, role) != 0)
            sw_sketch_copy(made, NULL, &list->children[q]);
    }
    if (sw_sketch_count(made) == 0)
        sw_sketch_remove(root, "to_ask");
}

/* ---- the whole ---------------------------------------------------------------------------------
 */

static sw_status change(work *in) {
    const sw_json *json = sw_scenario_json(in->out->before);
    const sw_json *machine = sw_json_get(json, "machine");
    const sw_json *old = sw_json_get(machine, in->catalog->roles[in->out->role].id);
    sw_sketch *root = sw_sketch_of(in->out->arena, json);
    char *text = NULL;
    sw_status status = put_entries(in, root, old);
    if (status != SW_OK)
        return status;
    rename_musts(in, root, json, old);
    rename_in(in, sw_sketch_get(root, "wishes"), sw_json_get(json, "wishes"), "keep", old);
    rename_in(in, sw_sketch_get(root, "wishes"), sw_json_get(json, "wishes"), "replace", old);
    close_questions(in, root, json);
    status = sw_sketch_write(&text, root);
    if (status == SW_BAD_DATA)
        status = wrong(in, "PART", "names are UTF-8 without control characters",
                       "type it anew in plain letters", "cannot be written:", in->job->parts[0]);
    if (status == SW_OK) {
        in->out->text = sw_arena_copy(in->out->arena, text);
        status = in->out->text == NULL ? SW_NO_MEMORY : SW_OK;
    }
    free(text);
    return status;
}

static sw_status fill(work *in) {
    const sw_piece_job *job = in->job;
    sw_piece *out = in->out;
    sw_status status =
        job->bytes == NULL
            ? sw_scenario_read_draft(&out->before, job->scenario, job->catalog, in->complaints)
            : sw_scenario_read_bytes(&out->before, job->scenario, job->bytes, job->length,
                                     job->catalog, true, in->complaints);
    if (status != SW_OK)
        return status;
    in->catalog = out->before->catalog;
    in->found = SW_NEW(out->arena, int, in->catalog->part_count);
    in->ids = SW_NEW(out->arena, const char *, job->part_count);
    in->own = SW_NEW(out->arena, bool, job->part_count);
    in->facts_of = SW_NEW(out->arena, sw_sketch *, job->part_count);
    in->set_of = SW_NEW(out->arena, const sw_json *, job->part_count);
    if (in->found == NULL || in->ids == NULL || in->own == NULL || in->facts_of == NULL ||
        in->set_of == NULL)
        return SW_NO_MEMORY;
    status = find_role(in);
    if (status == SW_OK)
        status = find_parts(in);
    if (status == SW_OK)
        status = read_settings(in);
    if (status == SW_OK)
        status = change(in);
    return status != SW_OK
               ? status
               : sw_scenario_read_bytes(&out->after, job->scenario, out->text, strlen(out->text),
                                        job->catalog, true, in->complaints);
}

sw_status sw_put_piece(sw_piece **out, const sw_piece_job *job, sw_complaints *complaints) {
    sw_arena *arena = sw_arena_new();
    sw_piece *piece = arena == NULL ? NULL : SW_NEW(arena, sw_piece, 1);
    if (piece == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    piece->arena = arena;
    work in = {.out = piece, .job = job, .complaints = complaints};
    sw_status status = fill(&in);
    if (status == SW_OK)
        *out = piece;
    else
        sw_piece_free(piece);
    return status;
}

void sw_piece_free(sw_piece *piece) {
    if (piece == NULL)
        return;
    sw_scenario_free(piece->before);
    sw_scenario_free(piece->after);
    sw_arena_free(piece->arena);
}

const char *sw_piece_scenario(const sw_piece *piece) { return piece->text; }
