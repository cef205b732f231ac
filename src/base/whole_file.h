/*
 * Files written whole or not at all: a new file beside the old one is settled on the disk, takes
 * its place in one step, and then the folder is settled, so that the name outlives a power cut too.
 * What programs that were ended by force have left in the folder goes first (base/leftovers.h).
 */
#ifndef SW_BASE_WHOLE_FILE_H
#define SW_BASE_WHOLE_FILE_H

#include <stdbool.h>
#include <stddef.h>

typedef struct sw_whole_file {
    const char *path; /* follow links first: a link would be replaced */
    const char *bytes;
    size_t length;
    bool is_private; /* its owner alone may read it; else the rights of what it takes the place of,
                        or of any new file */
    /* Puts the file `beside` into its place; false with errno. NULL: by rename(2). */
    bool (*put)(void *context, const char *beside);
    void *context;
} sw_whole_file;

typedef enum sw_file_end {
    SW_FILE_WRITTEN,
    SW_FILE_NOT_BEGUN,  /* nothing could be made there: errno */
    SW_FILE_NOT_WRITTEN /* errno; nothing of it is left, but where only the folder could not be
                           settled */
} sw_file_end;

sw_file_end sw_whole_file_write(const sw_whole_file *whole);

/* All of the bytes into an open file, or false with errno. */
bool sw_bytes_write(int file, const char *bytes, size_t length);

#endif
