/* What the renderings of conflicts and mends share. */
#ifndef SW_RENDER_CONFLICT_H
#define SW_RENDER_CONFLICT_H

#include "render/answer_json.h"
#include "render/sheet.h"

void sw_json_conflict(sw_writer *in, const char *name, const sw_answer_conflict *conflict);
void sw_json_mends(sw_writer *in, const sw_answer *answer);
/* The terms as sentences of a list. */
void sw_sheet_clauses(sw_sheet *sheet, const sw_answer_conflict *conflict);
/* Conflict and mends of a job that nothing fits. */
void sw_sheet_conflict(sw_sheet *sheet);

#endif
