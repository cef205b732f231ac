/*
 * Temporary files and folders that carry the number of the process that made them, so that those of
 * a desk that was ended by force can be told from those of one at work.
 */
#ifndef SW_BASE_LEFTOVERS_H
#define SW_BASE_LEFTOVERS_H

#include "base/base.h"

typedef enum sw_leftover {
    SW_LEFTOVER_SAVE,  /* a file beside a job: ".swapworth-desk-PID-XXXXXX" */
    SW_LEFTOVER_FOLDER /* a folder: "swapworth-desk-PID-XXXXXX" */
} sw_leftover;

/* "FOLDER/NAME" for mkstemp or mkdtemp; to be freed, NULL when memory is out. */
char *sw_leftover_name(const char *folder, sw_leftover kind);
/* Holds the folder against sweeps of those who cannot see this process, as from another container
 * that shares /tmp: until the file is closed or the process ends. -1: it cannot be held. */
int sw_leftover_hold(const char *folder);
/* Takes away those in `folder` that belong to this user and whose maker is gone. */
void sw_sweep_leftovers(const char *folder, sw_leftover kind);

#endif
