/*
 * What was dropped on a page: files in a private folder, by names that are labels only. The files
 * stand under names of our own making, each in a folder of its own.
 */
#ifndef SW_DESK_TRAY_H
#define SW_DESK_TRAY_H

#include "base/base.h"

#define SW_TRAY_FILES 64
#define SW_TRAY_FILE_BYTES ((size_t)16 * 1024 * 1024)
#define SW_TRAY_BYTES ((size_t)64 * 1024 * 1024)
#define SW_TRAY_PART_LETTERS 45000
#define SW_TRAY_NAME_BYTES 100

typedef struct sw_tray sw_tray;

typedef struct sw_tray_file {
    char *name; /* as it was given */
    char *path;
    size_t bytes;
    unsigned parts, of; /* how many are there, of how many */
} sw_tray_file;

/* One part of a file. */
typedef struct sw_tray_part {
    const char *name, *data; /* base64 */
    unsigned part, of;       /* from 1 */
} sw_tray_part;

/* In `*tray`, which is made in the folder `temporary` where there is none yet. The first part of a
 * name that is there begins that file anew. SW_BAD_DATA, SW_CANNOT_WRITE after a complaint; the
 * tray is then as it was, but for the file whose first part was refused or could not be written. */
sw_status sw_tray_put(sw_tray **tray, const char *temporary, const sw_tray_part *part,
                      sw_complaints *complaints);
/* False: there is no file of that name. */
bool sw_tray_drop(sw_tray *tray, const char *name);
size_t sw_tray_count(const sw_tray *tray); /* of NULL: 0 */
const sw_tray_file *sw_tray_get(const sw_tray *tray, size_t index);
/* The file of that name, NULL where there is none. */
const sw_tray_file *sw_tray_find(const sw_tray *tray, const char *name);
bool sw_tray_is_whole(const sw_tray_file *file);
/* With its folder and all that lies in it. */
void sw_tray_free(sw_tray *tray);

/* RFC 4648 section 4, to the letter: padded, no other letters, no bits left over. False: it is not
 * that. `out` has room for 3 bytes of each 4 letters. */
bool sw_base64_read(unsigned char *out, size_t *length, const char *text, size_t letters);

#endif
