/*
 * What the readers of dumps in JSON share: where they state, and how values are taken from a tree
 * that a tool wrote in one of its versions. A value that is not of a kind that is due, or is given
 * twice and differs, is as good as absent.
 */
#ifndef SW_INTAKE_DUMP_H
#define SW_INTAKE_DUMP_H

#include "intake/statements.h"
#include "read/json.h"

typedef struct sw_dump {
    sw_statements *list;
    sw_arena *scratch; /* places and keys while the file is read */
    const char *file;  /* as statements name it */
    sw_complaints *faults;
    bool whole;    /* nothing was cut: what is not there is not there */
    bool doubtful; /* something stands twice with two values: things cannot be counted */
} sw_dump;

/* The member of that name; NULL when absent, null, or when mending told "NAME #2" apart from it and
 * that one says something else. */
const sw_json *sw_dump_get(const sw_json *object, const char *name);
/* Down a path of members: "smart_status.passed". */
const sw_json *sw_dump_down(const sw_json *object, const char *path);

/* Does any object hold a name twice with two values? */
bool sw_dump_doubtful(const sw_json *root);

/* Text, or NULL. */
const char *sw_dump_text(const sw_json *value);
bool sw_dump_is(const sw_json *value, const char *text);
/* A whole number from 0 to 2^53, written as a number or as digits in a text. */
bool sw_dump_whole(int64_t *out, const sw_json *value);
bool sw_dump_real(double *out, const sw_json *value);
/* true and false, 1 and 0, and both in quotes. */
bool sw_dump_flag(bool *out, const sw_json *value);

/* "PLACE[number]" and "PLACE.name" in scratch; "" when memory is out, which the list keeps. */
const char *sw_dump_element(const sw_dump *dump, const char *place, size_t number);
const char *sw_dump_member(const sw_dump *dump, const char *place, const char *name);
/* Copies of the bytes in scratch. */
const char *sw_dump_copy(const sw_dump *dump, const char *bytes, size_t length);

/* A device, and the object that speaks of it. */
typedef struct sw_part {
    const sw_dump *dump;
    const sw_json *object;
    const char *device, *key, *place;
} sw_part;

/* State the member at `path` of the part, when it is of the kind that is due. */
void sw_part_text(const sw_part *part, const char *property, const char *path);
void sw_part_whole(const sw_part *part, const char *property, const char *path);
void sw_part_flag(const sw_part *part, const char *property, const char *path);
/* Keep what is private: a text, or each text of a list. */
void sw_part_private(const sw_part *part, const char *kind, const char *path);
/* Where the member stands. */
sw_about sw_part_about(const sw_part *part, const char *path);

/* "sda" of "/dev/sda"; "nvme0n1" of "/dev/nvme0" too, with `controllers`. NULL when it is not the
 * kernel's name of a drive, as paths with a serial number in them are not. */
const char *sw_dump_drive(const sw_dump *dump, const char *path, bool controllers);

/* "00:02.0" of "0000:00:02.0", which is how both `lspci` and `lshw` come to one name; with a
 * domain that is not 0 it stays. NULL when it is no PCI address. `*length` is what it took. */
const char *sw_dump_pci(const sw_dump *dump, const char *text, size_t left, size_t *length);

/* Identifiers of PCI that stand behind a name: "Example [8086]", "Card [8086:1111]". How long the
 * name before them is, without blanks at its end; `*id` is the last four digits in scratch, NULL
 * when there are none. */
size_t sw_dump_name(const sw_dump *dump, const char *text, size_t length, const char **id);

/* The four digits at `text` as all tools spell them, in scratch. */
const char *sw_dump_code(const sw_dump *dump, const char *text);

#endif
