/*
 * Working copies of jobs: a sheet is what one tab of the page has in hand of a job.
 */
#ifndef SW_DESK_SHEETS_H
#define SW_DESK_SHEETS_H

#include "base/base.h"

#define SW_SHEETS_MOST 16

typedef struct sw_sheets sw_sheets;

/* Where the desk stands; every text is copied. */
typedef struct sw_place {
    const char *scenario;  /* NULL: it was begun without one */
    const char *catalog;   /* as --catalog names it; NULL: the one that the job names */
    const char *otherwise; /* the catalog where no job names one */
    const char *date;      /* of today, for drafts: "2026-03-02" */
    const char *temporary; /* the folder for trays */
} sw_place;

typedef struct sw_sheet {
    char id[17];
    char *text; /* NULL: there is no job yet */
    size_t length;
    unsigned revision; /* from 1 */
    char *path;        /* its file; NULL: it has none yet */
    unsigned long used;
} sw_sheet;

sw_sheets *sw_sheets_new(const sw_place *place); /* NULL when memory is out */
void sw_sheets_free(sw_sheets *sheets);
const sw_place *sw_sheets_place(const sw_sheets *sheets);

/* A new sheet of the file at `path`, or of nothing. Where there are SW_SHEETS_MOST, the one that
 * was not used for longest goes. SW_BAD_DATA where the file holds no JSON object. */
sw_status sw_sheets_open(sw_sheet **out, sw_sheets *sheets, const char *path,
                         sw_complaints *complaints);
/* NULL: there is none of that id. */
sw_sheet *sw_sheets_find(sw_sheets *sheets, const char *id);
/* The path that the job is read as. */
const char *sw_sheet_reads_as(const sw_sheets *sheets, const sw_sheet *sheet);

#endif
