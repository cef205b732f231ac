/* What a job's file may be called. */
#ifndef SW_DESK_SHEET_NAME_H
#define SW_DESK_SHEET_NAME_H

/* Why the name is none for a job's file, as a plain sentence without a full stop; NULL: it is one.
 */
const char *sw_sheet_name_fault(const char *name);

#endif
