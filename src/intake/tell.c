/* From bytes to a reader. */
#include "intake/tell.h"

#include <string.h>

#include "intake/dmi_text.h"
#include "intake/edid.h"
#include "intake/lsblk.h"
#include "intake/lscpu.h"
#include "intake/lshw.h"
#include "intake/lspci.h"
#include "intake/mend_json.h"
#include "intake/nvme_list.h"
#include "intake/sensors.h"
#include "intake/smartctl.h"
#include "intake/smbios.h"

static const char *const names[SW_DUMP_KINDS] = {"",
                                                 "dmidecode --dump-bin",
                                                 "dmidecode",
                                                 "lscpu -J",
                                                 "lsblk -J",
                                                 "lspci -mm",
                                                 "lshw -json",
                                                 "EDID",
                                                 "sensors -j",
                                                 "nvme list -o json",
                                                 "smartctl -j -a"};

const char *sw_dump_kind_name(sw_dump_kind kind) {
    return kind < SW_DUMP_KINDS ? names[kind] : NULL;
}

static void aside(const sw_dump *dump, const char *what, const char *why, const char *mend) {
    sw_complain(dump->faults, dump->file, "", why, mend, "%s", what);
}

static void unknown(const sw_dump *dump) {
    aside(dump, "is none of the dumps that are read, and was left aside",
          "a file is told by what it holds",
          "dmidecode (text or --dump-bin), lscpu -J, lsblk -J, lspci -mm, lshw -json, sensors -j, "
          "nvme list -o json, smartctl -j -a and EDID are read; take it with one of these");
}

/* ---- JSON ------------------------------------------------------------------------------- */

typedef struct reader {
    sw_dump_kind kind;
    bool (*is)(const sw_json *root);
    void (*read)(const sw_dump *dump, const sw_json *root);
} reader;

static const reader readers[] = {{SW_DUMP_LSCPU, sw_lscpu_is, sw_lscpu_read},
                                 {SW_DUMP_LSBLK, sw_lsblk_is, sw_lsblk_read},
                                 {SW_DUMP_NVME_LIST, sw_nvme_list_is, sw_nvme_list_read},
                                 {SW_DUMP_SMARTCTL, sw_smartctl_is, sw_smartctl_read},
                                 {SW_DUMP_LSHW, sw_lshw_is, sw_lshw_read},
                                 {SW_DUMP_SENSORS, sw_sensors_is, sw_sensors_read}};

static const reader *reader_of(const sw_json *root) {
    for (size_t i = 0; i < sizeof readers / sizeof *readers; i++)
        if (readers[i].is(root))
            return &readers[i];
    return NULL;
}

/* What the mending has to tell is told only of a file that is a dump, or was to be one. */
static void pass_on(sw_complaints *to, const sw_complaints *from) {
    const sw_complaint *one = NULL;
    for (size_t i = 0; (one = sw_complaints_get(from, i)) != NULL; i++)
        sw_complain(to, one->file, one->place, one->why, one->mend, "%s", one->what);
}

static sw_status read_tree(sw_dump_kind *out, sw_dump *dump, const sw_mended *mended,
                           sw_complaints *mending) {
    const sw_json *root = NULL;
    sw_status status =
        sw_json_read(&root, dump->scratch, dump->file, mended->bytes, mended->length, mending);
    const reader *to = status == SW_OK ? reader_of(root) : NULL;
    if (status == SW_OK && mended->whole && root->count == 0)
        aside(dump, "holds no device, and was left aside",
              "the tool found none, or had no right to look",
              "nothing needs mending where there is none; else take it again as root");
    if (to == NULL)
        return status;
    *out = to->kind;
    dump->whole = mended->whole;
    dump->doubtful = sw_dump_doubtful(root);
    pass_on(dump->faults, mending);
    to->read(dump, root);
    return SW_OK;
}

static bool begins_as_json(const char *bytes, size_t length) {
    size_t at = 0;
    while (at < length && strchr(" \t\r\n", bytes[at]) != NULL && bytes[at] != '\0')
        at++;
    return at < length && (bytes[at] == '{' || bytes[at] == '[');
}

static sw_status read_json(sw_dump_kind *out, sw_dump *dump, const char *bytes, size_t length) {
    sw_complaints *mending = sw_complaints_new();
    sw_mended mended = {0};
    if (mending == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_mend_json(&mended, dump->scratch, dump->file, bytes, length, mending);
    if (status == SW_OK)
        status = read_tree(out, dump, &mended, mending);
    if (*out == SW_DUMP_NONE && begins_as_json(bytes, length))
        pass_on(dump->faults, mending);
    sw_complaints_free(mending);
    return status == SW_BAD_DATA ? SW_OK : status;
}

/* ---- all of them ------------------------------------------------------------------------- */

/* Empty but for blanks and zeros: the kernel's EDID file of a socket without a display, say. */
static bool is_empty(const char *bytes, size_t length) {
    for (size_t i = 0; i < length; i++)
        if (bytes[i] != '\0' && bytes[i] != ' ' && bytes[i] != '\n' && bytes[i] != '\r')
            return false;
    return true;
}

/* Its own faults it tells; what it said before them counts. */
static sw_status told(sw_dump_kind *out, sw_dump_kind kind, sw_status status) {
    *out = kind;
    return status == SW_BAD_DATA ? SW_OK : status;
}

static sw_status tell_text(sw_dump_kind *out, sw_dump *dump, const char *bytes, size_t length) {
    size_t decoded = 0;
    const char *text = sw_dump_decode(&decoded, dump->scratch, bytes, length);
    if (text == NULL)
        return SW_NO_MEMORY;
    if (sw_dmi_text_is(text, decoded))
        return told(out, SW_DUMP_DMIDECODE,
                    sw_dmi_text_read(dump->list, dump->file, text, decoded, dump->faults));
    if (sw_lspci_is(text, decoded)) {
        *out = SW_DUMP_LSPCI;
        sw_lspci_read(dump, text, decoded);
        return SW_OK;
    }
    return read_json(out, dump, text, decoded);
}

static sw_status tell(sw_dump_kind *out, sw_dump *dump, const char *bytes, size_t length) {
    if (sw_smbios_is(bytes, length))
        return told(out, SW_DUMP_SMBIOS,
                    sw_smbios_read(dump->list, dump->file, bytes, length, dump->faults));
    if (sw_edid_is(bytes, length))
        return told(out, SW_DUMP_EDID,
                    sw_edid_read(dump->list, dump->file, bytes, length, dump->faults));
    return tell_text(out, dump, bytes, length);
}

sw_status sw_dump_tell(sw_dump_kind *out, sw_statements *list, const char *file, const char *bytes,
                       size_t length, sw_complaints *faults) {
    sw_dump dump = {list, sw_arena_new(), file, faults, true, false};
    size_t before = list->count, complained = sw_complaints_count(faults);
    *out = SW_DUMP_NONE;
    if (dump.scratch == NULL)
        return SW_NO_MEMORY;
    sw_status status = SW_OK;
    if (is_empty(bytes, length))
        aside(&dump, "is empty, and was left aside", "the tool had nothing to say, or no right to",
              "take it again as root if something is missing");
    else
        status = tell(out, &dump, bytes, length);
    bool silent = sw_complaints_count(faults) == complained;
    if (status == SW_OK && silent && *out == SW_DUMP_NONE)
        unknown(&dump);
    else if (status == SW_OK && silent && list->count == before)
        aside(&dump, "says nothing that is used", "it is a dump, and nothing in it is known here",
              "nothing needs mending where there is no such device; else take it again as root and "
              "in English (LC_ALL=C)");
    sw_arena_free(dump.scratch);
    return list->failed ? SW_NO_MEMORY : status;
}
