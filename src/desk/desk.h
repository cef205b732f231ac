/* The desk: one page for one bench, served to this machine alone. FORMATS.md sections 37, 38. */
#ifndef SW_DESK_DESK_H
#define SW_DESK_DESK_H

#include "base/base.h"

typedef struct sw_desk_job {
    const char *scenario;  /* NULL: one begins with dumps */
    const char *catalog;   /* NULL: the one that the job names */
    const char *otherwise; /* the catalog where no job names one */
    const char *date;      /* of today: "2026-03-02" */
    int port;              /* 0: one that is free */
    int seconds;           /* for each question, as behind --seconds */
    /* One command line of the program, as main has it; runs in a process of its own. */
    int (*run)(int argc, char **argv);
    double (*now)(void); /* seconds on a steady clock */
    /* Told once, when the page may be opened; false ends the desk. */
    bool (*begun)(const char *address);
} sw_desk_job;

/* Until a signal ends it (section 37): SW_OK then. SW_BAD_DATA and SW_CANNOT_READ: the job is none,
 * or there is no sound catalog;
 * SW_CANNOT_WRITE: there is no such port to be had, or no room for files; without a complaint: the
 * address could not be told. */
sw_status sw_desk_run(const sw_desk_job *job, sw_complaints *complaints);

#endif
