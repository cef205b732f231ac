/* From the structures of an SMBIOS table to statements. */
#include "intake/dmi.h"

#include <string.h>

sw_dmi_structure sw_dmi_unknown(sw_dmi_type type) {
    return (sw_dmi_structure){.type = type,
                              .place = "",
                              .handle = SW_DMI_NONE,
                              .cores = SW_DMI_NONE,
                              .threads = SW_DMI_NONE,
                              .max_mhz = SW_DMI_NONE,
                              .current_mhz = SW_DMI_NONE,
                              .slots = SW_DMI_NONE,
                              .most_milli_gb = SW_DMI_NONE,
                              .array = SW_DMI_NONE,
                              .size_milli_mb = SW_DMI_NONE,
                              .rated_mt_s = SW_DMI_NONE,
                              .configured_mt_s = SW_DMI_NONE,
                              .populated = SW_DMI_NONE};
}

bool sw_dmi_is_read(uint64_t type) {
    return type <= SW_DMI_PROCESSOR || type == SW_DMI_SLOT || type == SW_DMI_ARRAY ||
           type == SW_DMI_MODULE;
}

int64_t sw_dmi_milli_gb(int64_t kib) {
    int64_t milli = 0;
    if (kib < 0 || !sw_multiply(&milli, kib, 1000))
        return SW_DMI_NONE;
    return sw_divide(milli, INT64_C(1024) * 1024, SW_HALF_UP);
}

/* ---- one value ------------------------------------------------------------------------ */

static void say(sw_statements *list, const sw_about *about, const char *property,
                const char *text) {
    if (text != NULL)
        sw_state_text(list, about, property, text, strlen(text));
}

/* A count or a rate of 0 is the standard's "unknown". */
static void count_up(sw_statements *list, const sw_about *about, const char *property,
                     int64_t number) {
    if (number > 0)
        sw_state_whole(list, about, property, number);
}

static void hide(sw_statements *list, const sw_about *about, const char *kind, const char *text) {
    if (text != NULL)
        sw_state_private(list, about, kind, text, strlen(text));
}

static void hide_all(sw_statements *list, const sw_about *about, const sw_dmi_structure *is) {
    hide(list, about, "serial number", is->serial);
    hide(list, about, "asset tag", is->asset);
    hide(list, about, "UUID", is->uuid);
}

/* ---- one structure -------------------------------------------------------------------- */

static void state_firmware(sw_statements *list, const sw_about *about, const sw_dmi_structure *is) {
    say(list, about, "maker", is->maker);
    say(list, about, "version", is->version);
    say(list, about, "date", is->date);
}

static void state_product(sw_statements *list, const sw_about *about, const sw_dmi_structure *is) {
    say(list, about, "maker", is->maker);
    say(list, about, "product", is->product);
    say(list, about, "version", is->version);
}

static void state_chassis(sw_statements *list, const sw_about *about, const sw_dmi_structure *is) {
    say(list, about, "maker", is->maker);
    say(list, about, "form", is->kind);
}

static void state_processor(sw_statements *list, const sw_about *about,
                            const sw_dmi_structure *is) {
    say(list, about, "name", is->version);
    say(list, about, "maker", is->maker);
    say(list, about, "socket", is->name);
    say(list, about, "upgrade", is->upgrade);
    count_up(list, about, "cores", is->cores);
    count_up(list, about, "threads", is->threads);
    count_up(list, about, "max_mhz", is->max_mhz);
    count_up(list, about, "current_mhz", is->current_mhz);
    if (is->populated != SW_DMI_NONE)
        sw_state_flag(list, about, "populated", is->populated != 0);
}

static void state_array(sw_statements *list, const sw_about *about, const sw_dmi_structure *is) {
    count_up(list, about, "slots", is->slots);
    if (is->most_milli_gb > 0)
        sw_state_milli(list, about, "most_gb", is->most_milli_gb);
}

static void state_module(sw_statements *list, const sw_about *about, const sw_dmi_structure *is) {
    if (is->size_milli_mb >= 0)
        sw_state_milli(list, about, "size_mb", is->size_milli_mb);
    say(list, about, "type", is->kind);
    say(list, about, "form", is->form);
    if (is->size_milli_mb == 0)
        return; /* what else an empty slot says was true of a module long gone */
    count_up(list, about, "rated_mt_s", is->rated_mt_s);
    count_up(list, about, "configured_mt_s", is->configured_mt_s);
    say(list, about, "maker", is->maker);
    say(list, about, "part_number", is->part_number);
}

static void state_slot(sw_statements *list, const sw_about *about, const sw_dmi_structure *is) {
    say(list, about, "type", is->kind);
    say(list, about, "usage", is->usage);
}

typedef void teller(sw_statements *list, const sw_about *about, const sw_dmi_structure *is);

typedef struct told_as {
    sw_dmi_type type;
    const char *device;
    teller *tell;
} told_as;

static const told_as tellers[] = {
    {SW_DMI_FIRMWARE, "firmware", state_firmware},
    {SW_DMI_SYSTEM, "system", state_product},
    {SW_DMI_BOARD, "board", state_product},
    {SW_DMI_CHASSIS, "chassis", state_chassis},
    {SW_DMI_PROCESSOR, "processor", state_processor},
    {SW_DMI_SLOT, "slot", state_slot},
    {SW_DMI_ARRAY, "memory-array", state_array},
    {SW_DMI_MODULE, "memory-module", state_module},
};

static const told_as *teller_of(sw_dmi_type type) {
    for (size_t i = 0; i < sizeof tellers / sizeof *tellers; i++)
        if (tellers[i].type == type)
            return &tellers[i];
    return NULL;
}

/* ---- which structures count ----------------------------------------------------------- */

typedef struct table {
    sw_statements *list;
    const char *file;
    const sw_dmi_structure *all;
    size_t count;
    const char **keys;  /* of each, NULL while it has none */
    const char **names; /* of each, clean, NULL where it has none */
} table;

static bool is_word(const char *text, const char *word) {
    return text != NULL && strcmp(text, word) == 0;
}

/* Memory for pictures, firmware or caches is no memory to be swapped; "unknown" may be. */
static bool is_other_memory(const sw_dmi_structure *array) {
    return array->use != NULL && !is_word(array->use, "System Memory") &&
           !sw_says_unknown(array->use);
}

static bool hangs_on_other_memory(const table *in, const sw_dmi_structure *module) {
    for (size_t i = 0; i < in->count && module->array != SW_DMI_NONE; i++)
        if (in->all[i].type == SW_DMI_ARRAY && in->all[i].handle == module->array)
            return is_other_memory(&in->all[i]);
    return false;
}

/* Helpers of the central processor have structures of their own. */
static bool is_other_processor(const sw_dmi_structure *is) {
    return is_word(is->kind, "Math Processor") || is_word(is->kind, "DSP Processor") ||
           is_word(is->kind, "Video Processor");
}

/* Of several boards the motherboard counts, else the first that does not say what it is: risers
 * and cards have structures of their own. */
static size_t the_one(const table *in, sw_dmi_type type) {
    size_t first = in->count;
    for (size_t i = 0; i < in->count; i++) {
        const sw_dmi_structure *is = &in->all[i];
        if (is->type != type)
            continue;
        if (type == SW_DMI_BOARD && is_word(is->kind, "Motherboard"))
            return i;
        if (type == SW_DMI_BOARD && is->kind != NULL && !sw_says_unknown(is->kind))
            continue;
        first = first == in->count ? i : first;
    }
    return first;
}

static bool counts(const table *in, size_t at) {
    const sw_dmi_structure *is = &in->all[at];
    switch (is->type) {
    case SW_DMI_FIRMWARE:
    case SW_DMI_SYSTEM:
    case SW_DMI_BOARD:
    case SW_DMI_CHASSIS:
        return the_one(in, is->type) == at;
    case SW_DMI_PROCESSOR:
        return !is_other_processor(is);
    case SW_DMI_ARRAY:
        return !is_other_memory(is);
    case SW_DMI_MODULE:
        return !hangs_on_other_memory(in, is);
    default:
        return true;
    }
}

/* ---- keys ----------------------------------------------------------------------------- */

static size_t number_of(const table *in, size_t at) {
    size_t number = 0;
    for (size_t i = 0; i < at; i++)
        number += in->all[i].type == in->all[at].type && counts(in, i);
    return number;
}

static const char *clean_or_null(sw_statements *list, const char *text) {
    return text == NULL ? NULL : sw_statement_text(list, text, strlen(text));
}

static bool shares_name(const table *in, size_t at) {
    for (size_t i = 0; i < in->count; i++)
        if (i != at && in->all[i].type == in->all[at].type && in->names[i] != NULL &&
            strcmp(in->names[i], in->names[at]) == 0 && counts(in, i))
            return true;
    return false;
}

/* Some boards call every module "DIMM 0" and put what tells them apart into the bank. */
static const char *named(const table *in, size_t at) {
    const char *name = in->names[at];
    if (name == NULL)
        return sw_arena_format(in->list->arena, "number %zu", number_of(in, at) + 1);
    const char *bank = shares_name(in, at) ? clean_or_null(in->list, in->all[at].bank) : NULL;
    return bank == NULL ? name : sw_arena_format(in->list->arena, "%s, %s", name, bank);
}

static const char *key_of(const table *in, size_t at) {
    const sw_dmi_structure *is = &in->all[at];
    const char *key = "";
    if (is->type == SW_DMI_PROCESSOR || is->type == SW_DMI_ARRAY)
        key = sw_arena_format(in->list->arena, "%zu", number_of(in, at));
    else if (is->type == SW_DMI_SLOT || is->type == SW_DMI_MODULE)
        key = named(in, at);
    in->list->failed |= key == NULL;
    return key;
}

/* Equal names of one type after the banks had their say: "#2". Types do not share keys, so that
 * a slot and a module may have one name. */
static const char *key_apart(const table *in, const char **taken, size_t at, const char *key) {
    sw_dmi_type type = in->all[at].type;
    if (type != SW_DMI_SLOT && type != SW_DMI_MODULE)
        return key;
    for (size_t i = 0; i < at; i++)
        taken[i] = in->all[i].type == type ? in->keys[i] : NULL;
    return sw_statement_key_apart(in->list, key, taken, at);
}

static bool begin(table *out, sw_statements *list, const char *file,
                  const sw_dmi_structure *structures, size_t count) {
    *out = (table){list,
                   file,
                   structures,
                   count,
                   SW_NEW(list->arena, const char *, count),
                   SW_NEW(list->arena, const char *, count)};
    list->failed |= out->keys == NULL || out->names == NULL;
    for (size_t i = 0; i < count && !list->failed; i++)
        out->names[i] = clean_or_null(list, structures[i].name);
    return !list->failed;
}

void sw_dmi_state(sw_statements *list, const char *file, const sw_dmi_structure *structures,
                  size_t count) {
    table in;
    const char **taken = SW_NEW(list->arena, const char *, count);
    list->failed |= taken == NULL;
    if (!begin(&in, list, file, structures, count))
        return;
    for (size_t i = 0; i < count && !list->failed; i++) {
        const told_as *as = teller_of(structures[i].type);
        if (as == NULL || !counts(&in, i))
            continue;
        const char *key = key_of(&in, i);
        in.keys[i] = key == NULL ? NULL : key_apart(&in, taken, i, key);
        if (in.keys[i] == NULL)
            return;
        sw_about about = {as->device, in.keys[i], file, structures[i].place};
        as->tell(list, &about, &structures[i]);
        hide_all(list, &about, &structures[i]);
    }
}
