/*
 * Stands between a program and the C library, and lets one call fail. Told by the environment:
 *
 *     FAILING_WHAT=alloc|io|kill   which calls are meant
 *     FAILING_AT=K FAILING_AS=V    the K-th of them (from 1) fails in its V-th way (from 0)
 *     FAILING_EACH=REPORT          every call in every way, each in a fork of its own that is
 * judged when it ends; where the program begins to write files this ends FAILING_STRIDE=N of the
 * calls whose way through the program was tried before, each N-th (1: all) FAILING_SHARE=N of the
 * ways not tried before one in N (1: all) FAILING_SEEN=FILE            the ways tried before, and
 * kept for the next program FAILING_RIGHT=FOLDER         what is right: `out`, `err`, `code`
 *     FAILING_COUNT=FILE           how many calls there were, where files began to be written, how
 *                                  many moments, which call failed and how
 *     FAILING_WHAT=kill FAILING_KILL=N  ended by force at the N-th moment since files are written
 */
#ifndef FAILING_H
#define FAILING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef enum call { CALL_ALLOC, CALL_OPEN, CALL_READ, CALL_WRITE, CALL_SETTLE, CALL_CHANGE } call;

/* What a call may get instead of a result. */
#define GOES_ON 0
#define FALLS_SHORT (-1) /* a byte of what was asked for */

typedef struct setup {
    bool allocs, io, each;
    long at, as, stride, share, count;
    long written;       /* the count when files began to be written; 0: not yet */
    long kill, moments; /* moments since then, and the one to end at */
    bool begun;
    long long waited;               /* nanoseconds for forks */
    const char *failed, *failed_so; /* the call that was let fail, and how */
    bool off;                       /* calls of our own */
    bool is_child;
    int lasting; /* fails from now on */
    const char *report, *seen, *right, *told;
} setup;

extern setup failing;

/* GOES_ON, FALLS_SHORT or the errno of a failure that is due. */
int failing_now(call of, uintptr_t caller);
/* From here on files are made: a fork would write into the same ones. */
void failing_writes(void);
/* How many ways there are for a call to fail, and the way's errno; -1 behind the last. */
int failing_way(call of, int way);
const char *failing_way_name(call of, int way);

/* One fork for each way in which this call may fail. In a fork: the way; in the program: GOES_ON.
 */
int failing_fork(call of, uintptr_t caller);
/* Is the way through the program to this call new? */
bool failing_is_new_way(uintptr_t caller);
void failing_ways_read(void);
void failing_ways_keep(void);
void failing_judged(void);
/* Calls that are no part of the program begin and end: the writing of the counts of coverage. */
void failing_rest(bool rests);

#endif
