/* Names of a catalog as JSON. */
#include "desk/names.h"

#include "check/catalog.h"
#include "check/profiles.h"
#include "desk/http.h"
#include "desk/page_words.h"
#include "render/json_writer.h"
#include "render/small_json.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void named(sw_writer *list, const char *id, const char *name) {
    sw_writer *one = sw_writer_object(list, NULL);
    sw_writer_text(one, "id", id);
    sw_writer_text(one, "name", name);
}

/* ---- words ---------------------------------------------------------------------------------- */

static const char *const criterion_kinds[] = {
    [SW_SPEED] = "speed", [SW_QUIET] = "quiet", [SW_LOOKS] = "looks", [SW_RATED] = "rated"};

static void add_criteria(sw_writer *root, const sw_catalog *catalog) {
    sw_writer *criteria = sw_writer_array(root, "criteria");
    for (size_t i = 0; i < catalog->criterion_count; i++) {
        sw_writer *one = sw_writer_object(criteria, NULL);
        sw_writer_text(one, "id", catalog->criteria[i].id);
        sw_writer_text(one, "name", catalog->criteria[i].name);
        sw_writer_text(one, "kind", criterion_kinds[catalog->criteria[i].kind]);
    }
}

static void add_tasks(sw_writer *root, const sw_catalog *catalog) {
    sw_writer *tasks = sw_writer_array(root, "tasks");
    for (size_t i = 0; i < catalog->task_count; i++) {
        const sw_task *task = &catalog->tasks[i];
        sw_writer *one = sw_writer_object(tasks, NULL);
        sw_writer_text(one, "id", task->id);
        sw_writer_text(one, "name", task->name);
        sw_writer_text(one, "role", catalog->roles[task->role].id);
    }
}

static void add_words(sw_writer *root, const sw_catalog *catalog) {
    sw_writer_text(root, "currency", catalog->currency);
    sw_writer_integer(root, "digits", catalog->currency_digits);
    sw_writer *roles = sw_writer_array(root, "roles");
    for (size_t i = 0; i < catalog->role_count; i++)
        named(roles, catalog->roles[i].id, catalog->roles[i].name);
    add_criteria(root, catalog);
    sw_add_page_words(root, catalog);
    add_tasks(root, catalog);
    sw_writer *sellers = sw_writer_array(root, "sellers");
    for (size_t i = 0; i < catalog->seller_count; i++)
        named(sellers, catalog->sellers[i].id, catalog->sellers[i].name);
    sw_writer *troubles = sw_writer_array(root, "complaints");
    for (size_t i = 0; i < catalog->trouble_count; i++)
        named(troubles, catalog->troubles[i].id, catalog->troubles[i].name);
    sw_writer *seen = sw_writer_array(root, "observations");
    for (size_t i = 0; i < catalog->observation_count; i++)
        named(seen, catalog->observations[i].id, catalog->observations[i].meaning);
    sw_writer *surprises = sw_writer_array(root, "surprises");
    for (size_t i = 0; i < catalog->paper.surprise_count; i++)
        named(surprises, catalog->paper.surprises[i].id, catalog->paper.surprises[i].name);
}

/* ---- parts ---------------------------------------------------------------------------------- */

static void add_value(sw_writer *facts, const sw_fact *fact, const sw_value *value) {
    if (value->state != SW_KNOWN || fact->derived_role != SW_NONE || fact->built_in)
        return;
    switch (fact->type) {
    case SW_NUMBER:
        sw_writer_exact(facts, fact->name, (double)value->milli / 1000.0);
        return;
    case SW_FLAG:
        sw_writer_bool(facts, fact->name, value->milli != 0);
        return;
    case SW_TOKEN:
        if (value->token_count > 0)
            sw_writer_text(facts, fact->name, value->tokens[0]);
        return;
    case SW_LIST: {
        sw_writer *list = sw_writer_array(facts, fact->name);
        for (size_t i = 0; i < value->token_count; i++)
            sw_writer_text(list, NULL, value->tokens[i]);
        return;
    }
    default: /* sites and things are for the rules, not for a picker */
        return;
    }
}

static void add_listings(sw_writer *one, const sw_catalog *catalog, int part) {
    sw_writer *list = sw_writer_array(one, "listings");
    for (size_t i = 0; i < catalog->listing_count; i++) {
        const sw_listing *listing = &catalog->listings[i];
        if (listing->part != part)
            continue;
        sw_writer *offer = sw_writer_object(list, NULL);
        sw_writer_text(offer, "seller", catalog->sellers[listing->seller].id);
        sw_writer_money(offer, "price", listing->price, catalog->currency_digits);
        sw_writer_integer(offer, "stock", listing->stock);
        sw_writer_integer(offer, "days", listing->days);
    }
}

static void add_parts(sw_writer *root, const sw_catalog *catalog, const char *role) {
    sw_writer *list = sw_writer_array(root, "parts");
    for (size_t i = 0; i < catalog->part_count; i++) {
        const sw_part *part = &catalog->parts[i];
        const char *of = catalog->roles[part->role].id;
        if (role != NULL && strcmp(of, role) != 0)
            continue;
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "id", part->id);
        sw_writer_text(one, "name", part->name);
        sw_writer_text(one, "maker", part->maker);
        sw_writer_text(one, "role", of);
        sw_writer *facts = sw_writer_object(one, "facts");
        for (size_t j = 0; j < catalog->fact_count; j++)
            add_value(facts, &catalog->facts[j], &part->values[j]);
        add_listings(one, catalog, (int)i);
    }
}

/* ---- in the worker -------------------------------------------------------------------------- */

static void add_profiles(sw_writer *root, const sw_catalog *catalog) {
    sw_writer *list = sw_writer_array(root, "profiles");
    for (size_t i = 0; i < catalog->profile_count; i++) {
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "id", catalog->profiles[i].id);
        sw_writer_text(one, "title", catalog->profiles[i].name);
    }
}

static sw_status write_names(char **out, const sw_catalog *catalog, const sw_naming *naming) {
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_writer_text(root, "schema", SW_DESK_SCHEMA);
    switch (naming->kind) {
    case SW_NAME_PARTS:
        add_parts(root, catalog, naming->role);
        break;
    case SW_NAME_WORDS:
        add_words(root, catalog);
        break;
    case SW_NAME_PROFILES:
        add_profiles(root, catalog);
        break;
    }
    return sw_writer_finish(out, root);
}

int sw_names_print(const sw_naming *naming) {
    char *text = NULL;
    sw_catalog *catalog = NULL;
    sw_complaints *complaints = sw_complaints_new();
    if (complaints == NULL)
        return 70;
    sw_status status = sw_catalog_read(&catalog, naming->catalog, complaints);
    if (status == SW_OK)
        status = write_names(&text, catalog, naming);
    int code = status == SW_OK ? 0 : status == SW_NO_MEMORY ? 70 : 65;
    if (code == 65 && sw_render_complaints_json(&text, complaints) != SW_OK)
        code = 70;
    if (text != NULL)
        fputs(text, stdout);
    free(text);
    sw_catalog_free(catalog);
    sw_complaints_free(complaints);
    return code;
}

sw_status sw_names_check(const char *folder, sw_complaints *complaints) {
    sw_catalog *catalog = NULL;
    sw_status status = sw_catalog_read(&catalog, folder, complaints);
    sw_catalog_free(catalog);
    return status;
}
