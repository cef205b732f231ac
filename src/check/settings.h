/* What stands behind --set: FORMATS.md section 18. */
#ifndef SW_CHECK_SETTINGS_H
#define SW_CHECK_SETTINGS_H

#include "base/base.h"

#define SW_VALUES_MOST 200

typedef struct sw_setting {
    const char *path;
    const char **values; /* more than one: a sweep */
    size_t count;
} sw_setting;

/* "PATH=VALUE". In the arena; `text` must outlive it. Complaints name the file "--set". */
sw_status sw_setting_read(sw_setting *out, sw_arena *arena, const char *text,
                          sw_complaints *complaints);

#endif
