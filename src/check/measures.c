/* measures.json: what is told of a machine and never scored. The file may be missing. */
#include <string.h>
#include <sys/stat.h>

#include "check/expression.h"

/* Catalogs from before these files have none of them. */
bool sw_has_file(sw_check *check, const char *name) {
    struct stat about;
    return stat(sw_catalog_path(check, name), &about) == 0;
}

/* ---- tables -------------------------------------------------------------------------- */

static bool read_numbers(sw_check *check, const sw_node *at, const char *name, bool rising,
                         const double **out, size_t *count) {
    sw_node list;
    if (!sw_get_list(check, at, name, SW_REQUIRED, 1, SW_SHORT_LIST_LIMIT, &list))
        return false;
    *count = list.json->count;
    return sw_check_numbers(check, &list, rising, out);
}

static void read_row(sw_check *check, const sw_node *at, sw_table_row *out) {
    size_t gives = 0;
    out->id = sw_keep_text(check, at->name);
    if (!SW_CHECK_NAMES(check, at, "at", "gives"))
        return;
    if (read_numbers(check, at, "at", true, &out->xs, &out->count) &&
        read_numbers(check, at, "gives", false, &out->ys, &gives) && gives != out->count)
        sw_wrong(check, at, "each number of \"at\" gives one of \"gives\"",
                 "make both lists equally long", "has %zu numbers in \"at\" and %zu in \"gives\"",
                 out->count, gives);
}

static void read_table(sw_check *check, const sw_node *at, int index, sw_table *out) {
    sw_node rows;
    int outside = 0;
    *out = (sw_table){.id = "", .source = ""};
    if (!SW_CHECK_NAMES(check, at, "table", "outside", "rows", "source")) {
        check->tables.whole = false;
        return;
    }
    out->id = sw_get_new_name(check, at, "table", &check->tables, index);
    sw_get_text(check, at, "source", SW_REQUIRED, &out->source);
    SW_GET_CHOICE(check, at, "outside", SW_REQUIRED, &outside, "unknown", "ends");
    out->ends_stay = outside == 1;
    if (!sw_get(check, at, "rows", SW_REQUIRED, SW_JSON_OBJECT, &rows))
        return;
    sw_table_row *row = SW_KEEP(check, sw_table_row, rows.json->count);
    for (size_t i = 0; row != NULL && i < rows.json->count; i++) {
        sw_node entry = sw_element(&rows, i);
        if (entry.json->kind == SW_JSON_TEXT && strcmp(entry.name, "note") == 0)
            continue;
        read_row(check, &entry, &row[out->row_count++]);
    }
    out->rows = row;
}

static void read_tables(sw_check *check, const sw_node *root) {
    sw_node list;
    if (sw_member(root, "tables").json == NULL) {
        check->tables.whole = true;
        return;
    }
    if (!sw_get_list(check, root, "tables", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_table *tables = SW_KEEP(check, sw_table, list.json->count);
    if (tables == NULL)
        return;
    check->tables.whole = true;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_table(check, &at, (int)i, &tables[i]);
    }
    check->catalog->tables = tables;
    check->catalog->table_count = list.json->count;
}

/* ---- air and measures ------------------------------------------------------------------ */

static void read_ways(sw_check *check, const sw_node *air) {
    sw_node ways;
    sw_catalog *catalog = check->catalog;
    if (!sw_get(check, air, "ways", SW_OPTIONAL, SW_JSON_OBJECT, &ways))
        return;
    sw_air_way *list = SW_KEEP(check, sw_air_way, ways.json->count);
    for (size_t i = 0; list != NULL && i < ways.json->count; i++) {
        sw_node entry = sw_element(&ways, i);
        int blows = 0;
        if (entry.json->kind == SW_JSON_TEXT && strcmp(entry.name, "note") == 0)
            continue;
        if (!SW_GET_CHOICE(check, &ways, entry.name, SW_REQUIRED, &blows, "in", "out"))
            continue;
        list[catalog->air_way_count++] =
            (sw_air_way){sw_keep_text(check, entry.name), blows == 0 ? SW_BLOWS_IN : SW_BLOWS_OUT};
    }
    catalog->air_ways = list;
}

static void read_air(sw_check *check, const sw_node *root) {
    sw_node air;
    sw_catalog *catalog = check->catalog;
    if (!sw_get(check, root, "air", SW_OPTIONAL, SW_JSON_OBJECT, &air))
        return;
    SW_CHECK_NAMES(check, &air, "things", "vents_cm2", "radiator_of", "ways");
    read_ways(check, &air);
    sw_get_terms(check, &air, "things", SW_REQUIRED, 1, SW_TYPE_BIT(SW_THINGS),
                 &catalog->air_things, &catalog->air_thing_count);
    if (sw_member(&air, "radiator_of").json != NULL)
        sw_get_index(check, &air, "radiator_of", SW_OPTIONAL, &check->roles, "role", "roles.json",
                     &catalog->radiator_role);
    sw_get_term(check, &air, "vents_cm2", SW_TYPE_BIT(SW_NUMBER), &catalog->vents_cm2);
}

/* What is said where a bundle brings the measure nearer to a limit. */
static void read_caution(sw_check *check, const sw_node *at, sw_measure *out) {
    sw_node caution;
    if (!sw_get(check, at, "caution", SW_REQUIRED, SW_JSON_OBJECT, &caution) ||
        !SW_CHECK_NAMES(check, &caution, "least", "client", "bench"))
        return;
    sw_get_milli(check, &caution, "least", SW_REQUIRED, -SW_MILLI_LIMIT, SW_MILLI_LIMIT,
                 &out->least_milli);
    sw_get_text(check, &caution, "client", SW_REQUIRED, &out->client);
    if (sw_member(&caution, "bench").json != NULL)
        sw_get_text(check, &caution, "bench", SW_REQUIRED, &out->bench);
}

static void read_measure(sw_check *check, const sw_node *at, int index, sw_measure *out) {
    int64_t digits = 0;
    *out = (sw_measure){.id = "", .name = "", .unit = "", .source = ""};
    if (!SW_CHECK_NAMES(check, at, "measure", "name", "unit", "digits", "is", "source", "plan",
                        "caution")) {
        check->measures.whole = false;
        return;
    }
    sw_get_text(check, at, "name", SW_REQUIRED, &out->name);
    if (sw_member(at, "unit").json != NULL)
        sw_get_token(check, at, "unit", SW_OPTIONAL, &out->unit);
    if (strcmp(out->unit, "currency") == 0) /* sellers.json was read before */
        out->unit = check->catalog->currency;
    sw_get_text(check, at, "source", SW_REQUIRED, &out->source);
    sw_get_whole(check, at, "digits", SW_OPTIONAL, 0, 3, &digits);
    out->digits = (int)digits;
    sw_get_flag(check, at, "plan", SW_OPTIONAL, &out->plan);
    if (sw_member(at, "caution").json != NULL)
        read_caution(check, at, out);
    sw_expr *expr = SW_KEEP(check, sw_expr, 1);
    sw_node is = sw_member(at, "is");
    if (is.json == NULL)
        sw_wrong(check, at, "it says how the measure is made", "add it", "has no \"is\"");
    sw_nature nature;
    sw_scope_of where = {.role = SW_NONE, .before = index, .measure = true};
    if (expr != NULL && is.json != NULL)
        sw_parse_expression(check, &is, where, expr, &nature);
    out->is = expr;
    out->id = sw_get_new_name(check, at, "measure", &check->measures, index);
}

void sw_read_measures(sw_check *check) {
    sw_node root, list;
    sw_catalog *catalog = check->catalog;
    catalog->vents_cm2 = (sw_term){SW_NONE, SW_NONE};
    catalog->radiator_role = SW_NONE;
    if (!sw_has_file(check, "measures.json")) {
        check->measures.whole = true;
        return;
    }
    if (!sw_open_list(check, "measures.json", "measures", 0, SW_SHORT_LIST_LIMIT, &root, &list))
        return;
    SW_CHECK_NAMES(check, &root, "schema", "tables", "air", "measures");
    read_tables(check, &root);
    read_air(check, &root);
    sw_measure *measures = SW_KEEP(check, sw_measure, list.json->count);
    if (measures == NULL)
        return;
    check->measures.whole = true;
    for (size_t i = 0; i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_measure(check, &at, (int)i, &measures[i]);
    }
    catalog->measures = measures;
    catalog->measure_count = list.json->count;
}
