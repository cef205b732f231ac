/* Files as bytes: size-capped, "-" is standard input. */
#ifndef SW_READ_BYTES_H
#define SW_READ_BYTES_H

#include "base/base.h"

/* So that no file takes long to refuse: catalog/FORMATS.md section 1. */
#define SW_FILE_LIMIT ((size_t)20 * 1024 * 1024)

/* The whole file, NUL behind it, owned by `arena`. A failure is complained of:
 * SW_CANNOT_READ (missing, a folder, no right), SW_BAD_DATA (too large),
 * SW_NO_MEMORY. */
sw_status sw_bytes_read(const char **out, size_t *length, sw_arena *arena, const char *path,
                        sw_complaints *complaints);

/* How many things in `folder` are not regular files, but for names that begin with a point; 0 where
 * it cannot be opened. */
sw_status sw_folder_others(size_t *out, sw_arena *arena, const char *folder);

/* Names of the regular files in `folder` that end in `suffix`, in byte order. */
sw_status sw_folder_list(const char *const **out, size_t *count, sw_arena *arena,
                         const char *folder, const char *suffix, sw_complaints *complaints);

#endif
