/* The calibration file. It names checks and uses by id and no catalog: it may be older than the
 * checks, and hold some that are no more. */
#include "check/calibration.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>

#include "check/stage.h"

/* ---- pairs ----------------------------------------------------------------------------- */

static void register_once(sw_check *check, const sw_node *at, sw_names *known, const char *id,
                          const char *use) {
    const char *both = use == NULL
                           ? sw_arena_format(check->scratch, "\"%s\"", id)
                           : sw_arena_format(check->scratch, "\"%s\" and its use \"%s\"", id, use);
    bool known_already = both != NULL && sw_names_find(known, both) != SW_NONE;
    if (known_already)
        sw_wrong(check, at, "a list has one entry for each check, or for each of its uses",
                 "keep the one that was measured last", "is about %s a second time", both);
    else
        check->no_memory |= both == NULL || !sw_names_add(known, both, 0);
}

void sw_get_check_and_use(sw_check *check, const sw_node *at, sw_names *known, const char **id,
                          const char **use) {
    bool is_about_use = sw_member(at, "use").json != NULL;
    bool good = sw_get_id(check, at, "check", SW_REQUIRED, id);
    if (is_about_use)
        good &= sw_get_id(check, at, "use", SW_REQUIRED, use);
    if (good)
        register_once(check, at, known, *id, *use);
}

/* The file is written anew with every job: what people noted in it stays. */
static const char *note_of(sw_check *check, const sw_node *at) {
    const sw_json *note = sw_json_get(at->json, "note");
    return note == NULL || note->kind != SW_JSON_TEXT ? NULL : sw_keep_text(check, note->text);
}

static void read_pair(sw_check *check, const sw_node *at, sw_names *known, sw_pair *out) {
    *out = (sw_pair){.check = ""};
    if (!SW_CHECK_NAMES(check, at, "check", "use", "foretold", "measured"))
        return;
    out->note = note_of(check, at);
    sw_get_check_and_use(check, at, known, &out->check, &out->use);
    sw_get_number(check, at, "foretold", SW_REQUIRED, SW_MEASURED_LIMIT, &out->foretold);
    sw_get_number(check, at, "measured", SW_REQUIRED, SW_MEASURED_LIMIT, &out->measured);
}

static void read_pairs(sw_check *check, const sw_node *job, sw_past_job *out) {
    sw_node list;
    sw_names known = {0};
    if (!sw_get_list(check, job, "pairs", SW_REQUIRED, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_pair *pairs = SW_KEEP(check, sw_pair, list.json->count);
    for (size_t i = 0; pairs != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_pair(check, &at, &known, &pairs[i]);
    }
    sw_names_free(&known);
    out->pairs = pairs;
    out->pair_count = pairs == NULL ? 0 : list.json->count;
}

/* ---- jobs ------------------------------------------------------------------------------ */

static void read_job(sw_check *check, const sw_node *at, sw_names *ids, int index,
                     sw_past_job *out) {
    int64_t day = 0;
    *out = (sw_past_job){.id = ""};
    if (!SW_CHECK_NAMES(check, at, "job", "date", "pairs"))
        return;
    out->id = sw_get_new_name(check, at, "job", ids, index);
    out->note = note_of(check, at);
    sw_get_date(check, at, "date", SW_OPTIONAL, &out->date, &day);
    read_pairs(check, at, out);
}

static void read_root(sw_check *check, const sw_node *root, sw_calibration *out) {
    sw_node list;
    sw_names ids = {0};
    SW_CHECK_NAMES(check, root, "schema", "jobs");
    out->note = note_of(check, root);
    if (!sw_get_list(check, root, "jobs", SW_REQUIRED, 0, SW_LIST_LIMIT, &list))
        return;
    sw_past_job *jobs = SW_KEEP(check, sw_past_job, list.json->count);
    for (size_t i = 0; jobs != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_job(check, &at, &ids, (int)i, &jobs[i]);
    }
    sw_names_free(&ids);
    out->jobs = jobs;
    out->job_count = jobs == NULL ? 0 : list.json->count;
}

/* ---- the whole ------------------------------------------------------------------------- */

static sw_calibration *calibration_new(void) {
    sw_arena *arena = sw_arena_new();
    sw_calibration *calibration = arena == NULL ? NULL : SW_NEW(arena, sw_calibration, 1);
    if (calibration == NULL) {
        sw_arena_free(arena);
        return NULL;
    }
    calibration->arena = arena;
    calibration->file = "";
    return calibration;
}

void sw_calibration_free(sw_calibration *calibration) {
    if (calibration != NULL)
        sw_arena_free(calibration->arena);
}

/* What makes the tree: a file, or bytes that are there already. */
typedef struct source {
    const char *file, *bytes; /* bytes NULL: to be read from the file */
    size_t length;
} source;

static bool open_source(sw_check *check, const source *from, sw_node *root) {
    const sw_json *json = NULL;
    if (from->bytes == NULL)
        return sw_check_open(check, from->file, root);
    check->file = sw_keep_text(check, from->file);
    check->scratch = sw_arena_new();
    sw_status status = check->scratch == NULL || check->no_memory
                           ? SW_NO_MEMORY
                           : sw_json_read(&json, check->scratch, check->file, from->bytes,
                                          from->length, check->complaints);
    check->no_memory |= status == SW_NO_MEMORY;
    check->bad |= status != SW_OK;
    return status == SW_OK && sw_check_root(check, json, root);
}

static sw_status read_source(sw_calibration **out, const source *from, sw_complaints *complaints) {
    sw_node root;
    sw_check check = sw_check_start(complaints);
    sw_calibration *made = calibration_new();
    if (made == NULL)
        return SW_NO_MEMORY;
    check.arena = made->arena;
    if (open_source(&check, from, &root))
        read_root(&check, &root, made);
    made->file = check.file;
    sw_status status = sw_check_status(&check);
    if (status == SW_OK)
        *out = made;
    else
        sw_calibration_free(made);
    sw_check_end(&check);
    return status;
}

sw_status sw_calibration_read(sw_calibration **out, const char *path, sw_complaints *complaints) {
    return read_source(out, &(source){.file = path}, complaints);
}

sw_status sw_calibration_parse(sw_calibration **out, const char *file, const char *bytes,
                               size_t length, sw_complaints *complaints) {
    return read_source(out, &(source){.file = file, .bytes = bytes, .length = length}, complaints);
}

sw_status sw_calibration_begin(sw_calibration **out, const char *path, sw_complaints *complaints) {
    struct stat about;
    if (strcmp(path, "-") == 0 || stat(path, &about) == 0 || errno != ENOENT)
        return sw_calibration_read(out, path, complaints);
    sw_calibration *made = calibration_new();
    const char *file = made == NULL ? NULL : sw_arena_copy(made->arena, path);
    if (file == NULL) {
        sw_calibration_free(made);
        return SW_NO_MEMORY;
    }
    made->file = file;
    *out = made;
    return SW_OK;
}
