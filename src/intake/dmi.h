/*
 * What an SMBIOS table says, whether read from its bytes or from dmidecode's text: the structures
 * that matter here with their fields, and the one way from them to statements (DMTF DSP0134).
 */
#ifndef SW_INTAKE_DMI_H
#define SW_INTAKE_DMI_H

#include "intake/statements.h"

#define SW_DMI_LIMIT 512        /* structures kept; more are no desktop computer */
#define SW_DMI_NONE INT64_C(-1) /* a number that is not known */

/* DSP0134's numbers. */
typedef enum sw_dmi_type {
    SW_DMI_FIRMWARE = 0,
    SW_DMI_SYSTEM = 1,
    SW_DMI_BOARD = 2,
    SW_DMI_CHASSIS = 3,
    SW_DMI_PROCESSOR = 4,
    SW_DMI_SLOT = 9,
    SW_DMI_ARRAY = 16,
    SW_DMI_MODULE = 17
} sw_dmi_type;

/* Texts are as they stood (cleaned later), NULL where there is none; numbers SW_DMI_NONE. */
typedef struct sw_dmi_structure {
    sw_dmi_type type;
    int64_t handle;
    const char *place;
    const char *maker, *product, *version, *date, *part_number;
    const char *serial, *asset, *uuid;
    const char *name; /* processor socket, slot designation, memory locator */
    const char *bank; /* memory bank locator */
    const char *kind; /* of board, chassis, processor, slot, memory: the standard's word */
    const char *form, *upgrade, *usage;
    const char *use; /* of a memory array */
    int64_t cores, threads, max_mhz, current_mhz;
    int64_t slots, most_milli_gb, array; /* `array`: the handle of a module's array */
    int64_t size_milli_mb, rated_mt_s, configured_mt_s;
    int64_t populated; /* 0, 1 */
} sw_dmi_structure;

/* A structure of which nothing is known yet. */
sw_dmi_structure sw_dmi_unknown(sw_dmi_type type);
/* Is this number one of a type that is read? */
bool sw_dmi_is_read(uint64_t type);

/* States what the structures say, in their order. One firmware, system, board (one
 * that is a motherboard or does not say what it is) and chassis: the first. Processors that are no
 * central ones, and arrays and modules of other than system memory, are left aside. An empty memory
 * slot has a size, a type and a form alone. Modules (and slots) of one name are told apart by their
 * banks, then by "#2". */
void sw_dmi_state(sw_statements *list, const char *file, const sw_dmi_structure *structures,
                  size_t count);

/* A memory array's most, from kB, in thousandths of a GB; SW_DMI_NONE when it is too much. */
int64_t sw_dmi_milli_gb(int64_t kib);

/* The standard's words for its codes; NULL where it has none or the code says "unknown". */
const char *sw_dmi_chassis(unsigned code);
const char *sw_dmi_processor(unsigned code);
const char *sw_dmi_upgrade(unsigned code);
const char *sw_dmi_board(unsigned code);
const char *sw_dmi_slot(unsigned code);
const char *sw_dmi_slot_width(unsigned code);
const char *sw_dmi_slot_usage(unsigned code);
const char *sw_dmi_array_use(unsigned code);
const char *sw_dmi_memory(unsigned code);
const char *sw_dmi_memory_form(unsigned code);

#endif
