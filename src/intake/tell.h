/* What a dump is, told by what it holds and never by its name, and the reader that it goes to. */
#ifndef SW_INTAKE_TELL_H
#define SW_INTAKE_TELL_H

#include "intake/statements.h"

typedef enum sw_dump_kind {
    SW_DUMP_NONE, /* none of these */
    SW_DUMP_SMBIOS,
    SW_DUMP_DMIDECODE,
    SW_DUMP_LSCPU,
    SW_DUMP_LSBLK,
    SW_DUMP_LSPCI,
    SW_DUMP_LSHW,
    SW_DUMP_EDID,
    SW_DUMP_SENSORS,
    SW_DUMP_NVME_LIST,
    SW_DUMP_SMARTCTL,
    SW_DUMP_KINDS
} sw_dump_kind;

/* The command or standard that makes one: "lscpu -J". NULL beyond them; "" for none. */
const char *sw_dump_kind_name(sw_dump_kind kind);

/* Tells what it is and states what it says; `file` is how statements name it. What could not be
 * used is told in `faults`; an unknown file is no error. SW_NO_MEMORY or SW_OK. */
sw_status sw_dump_tell(sw_dump_kind *out, sw_statements *list, const char *file, const char *bytes,
                       size_t length, sw_complaints *faults);

/* UTF-8 without a byte order mark, from UTF-8 with one or UTF-16 of either order, with or without a
 * mark, as shells of other systems write it; anything else stays as it is. In the arena or `bytes`
 * itself; NULL when memory is out. */
const char *sw_dump_decode(size_t *decoded, sw_arena *arena, const char *bytes, size_t length);

#endif
