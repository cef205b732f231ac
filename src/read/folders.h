/* Folders of others: what may not be written into, and how files name them. */
#ifndef SW_READ_FOLDERS_H
#define SW_READ_FOLDERS_H

#include "base/base.h"

/* Would writing to `path` change what the folder (of a catalog: with its folder "parts") holds, by
 * whatever name or link? Devices and pipes are no part of it; `path` may be NULL. Where memory does
 * not do to tell, *no_memory is set, else left; what is answered then means nothing. */
bool sw_path_changes_folder(const char *folder, const char *path, bool *no_memory);

/* What the file at `path` is to call the folder, to be freed; NULL when memory is out. What cannot
 * be found is named as it was given, and likewise without a file (NULL, "-"). */
char *sw_folder_seen_from(const char *folder, const char *path);

#endif
