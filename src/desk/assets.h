/* The page's own files, which are part of the program. */
#ifndef SW_DESK_ASSETS_H
#define SW_DESK_ASSETS_H

#include <stddef.h>

typedef struct sw_asset {
    const char *path, *type;
    const char *const *lines;
    size_t line_count;
} sw_asset;

/* NULL: there is none at that path. */
const sw_asset *sw_asset_find(const char *path);

#endif
