/* Runs another program with its output in a file, and reads what it wrote. */
#ifndef FITS_CHILD_H
#define FITS_CHILD_H

#include <cjson/cJSON.h>

void give_up(const char *what);
/* The exit code, or -1 when it was ended by a signal. argv ends with NULL. */
int run_child(char *const argv[], const char *out, const char *err);
/* The caller frees it. */
char *read_whole(const char *path);
/* NULL where it is no JSON. */
cJSON *read_tree(const char *path);

#endif
