/* All dumps of one machine: files and folders, read one after another into one list. */
#ifndef SW_INTAKE_DUMPS_H
#define SW_INTAKE_DUMPS_H

#include "intake/tell.h"

#define SW_DUMPS_LIMIT ((size_t)1000) /* files of one machine */

/* A file that was given or found. */
typedef struct sw_dumps_file {
    const char *path;  /* as it was opened */
    const char *name;  /* as statements name it: the last part of the path, "#2" behind one that is
                        * there already. Folders are left out: they may be called after people. */
    sw_dump_kind kind; /* SW_DUMP_NONE: left aside; `faults` says why */
    size_t statements; /* how many it made */
} sw_dumps_file;

typedef struct sw_dumps {
    sw_statements statements;
    const sw_dumps_file *files; /* as given; those of a folder in the byte order of their names */
    size_t count;
} sw_dumps;

/* Reads `paths`. Of a folder: its regular files whose names do not begin with a point.
 * What a file said that could not be used, and each file left aside, is told in `faults`, which is
 * no error. Errors are complained of in `complaints`: SW_CANNOT_READ for a path that is not there
 * or is neither file nor folder, SW_BAD_DATA for more than SW_DUMPS_LIMIT files or too many
 * statements, SW_NO_MEMORY. Everything lives in `arena`. */
sw_status sw_dumps_read(sw_dumps *out, sw_arena *arena, const char *const *paths, size_t count,
                        sw_complaints *faults, sw_complaints *complaints);

#endif
