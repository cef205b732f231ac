/* What the sheets and the JSON of `look` share. */
#ifndef SW_RENDER_LOOK_H
#define SW_RENDER_LOOK_H

#include "answer/look.h"
#include "render/sheet.h"

/* "limits", "loud", ... as in findings.json. */
const char *sw_finding_kind_word(sw_finding_kind kind);
#endif
