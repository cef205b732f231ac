/* The page's own files, as embed_page.sh made them part of the program. */
#include "desk/assets.h"

#include "desk/page_files.h"

#include <string.h>

const sw_asset *sw_asset_find(const char *path) {
    for (size_t i = 0; i < sizeof page_files / sizeof *page_files; i++)
        if (strcmp(page_files[i].path, path) == 0)
            return &page_files[i];
    return NULL;
}
