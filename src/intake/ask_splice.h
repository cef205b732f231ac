/* One JSON object's text with some of its members replaced. */
#ifndef SW_INTAKE_ASK_SPLICE_H
#define SW_INTAKE_ASK_SPLICE_H

#include "base/base.h"

/* `after` and `before` are texts of one writer; `source` is what `before` was made of, as its file
 * has it. Members that are the same in both keep the bytes of the source: those of the object
 * itself
 * (`levels` 1), also those of its objects (2), and so on. free() it. */
sw_status sw_splice(char **out, const char *source, const char *before, const char *after,
                    int levels);

#endif
