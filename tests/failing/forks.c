/* A fork for each way in which a call may fail: it goes on to its own end, and is judged there,
 * while the program waits and then goes on as if nothing had been. */
#include "failing.h"

#include <dirent.h>
#include <errno.h>
#include <execinfo.h>
#include <fcntl.h>
#include <link.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#define SECONDS_MOST 60
#define FILES_MOST 64
#define FRAMES_MOST 10
#define TEXT_MOST (1 << 22)

/* ---- ways through the program ------------------------------------------------------------------
 */

#define WAYS_MOST (1 << 20)
static uint64_t *ways_tried;
static size_t ways_known;

static bool add_way(uint64_t way) {
    way += way == 0;
    size_t at = way % WAYS_MOST;
    for (; ways_tried[at] != 0; at = (at + 1) % WAYS_MOST)
        if (ways_tried[at] == way)
            return false;
    if (ways_known >= WAYS_MOST / 2)
        return true;
    ways_tried[at] = way;
    ways_known++;
    return true;
}

void failing_ways_read(void) {
    void *frames[2];
    backtrace(frames, 2); /* what it needs is loaded with the first */
    ways_tried = mmap(NULL, WAYS_MOST * sizeof *ways_tried, PROT_READ | PROT_WRITE,
                      MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
    FILE *file = failing.seen == NULL ? NULL : fopen(failing.seen, "rb");
    uint64_t way = 0;
    while (file != NULL && fread(&way, sizeof way, 1, file) == 1)
        add_way(way);
    if (file != NULL)
        fclose(file);
}

void failing_ways_keep(void) {
    FILE *file = failing.seen == NULL ? NULL : fopen(failing.seen, "wb");
    for (size_t i = 0; file != NULL && i < WAYS_MOST; i++)
        if (ways_tried[i] != 0)
            fwrite(&ways_tried[i], sizeof ways_tried[i], 1, file);
    if (file != NULL)
        fclose(file);
}

typedef struct lookup {
    uintptr_t address, offset;
} lookup;

static int find_object(struct dl_phdr_info *info, size_t size, void *into) {
    lookup *l = into;
    (void)size;
    for (int i = 0; i < info->dlpi_phnum; i++) {
        uintptr_t from = info->dlpi_addr + info->dlpi_phdr[i].p_vaddr;
        if (l->address >= from && l->address < from + info->dlpi_phdr[i].p_memsz) {
            l->offset = l->address - info->dlpi_addr;
            return 1;
        }
    }
    return 0;
}

/* Calls from one place at one depth: of these so many are looked at closely, then few. */
#define CLOSELY 200
#define FEW 64
#define PLACES_MOST (1 << 16)
static unsigned short seen_here[PLACES_MOST];

static bool is_worth_a_look(uintptr_t caller, uintptr_t depth) {
    unsigned short *seen = &seen_here[(caller * 31 + depth) * UINT64_C(0x9E3779B97F4A7C15) >> 48];
    if (*seen < CLOSELY)
        return (*seen)++ < CLOSELY;
    *seen = CLOSELY + (unsigned short)((*seen - CLOSELY + 1) % FEW);
    return *seen == CLOSELY;
}

/* By where the program was called from, wherever the system has put it this time. */
bool failing_is_new_way(uintptr_t caller) {
    if (!is_worth_a_look(caller, (uintptr_t)__builtin_frame_address(0)))
        return false;
    void *frames[FRAMES_MOST];
    int count = backtrace(frames, FRAMES_MOST);
    uint64_t hash = 1469598103934665603u;
    for (int i = 0; i < count; i++) {
        lookup l = {(uintptr_t)frames[i], 0};
        dl_iterate_phdr(find_object, &l);
        hash = (hash ^ l.offset) * 1099511628211u;
    }
    return add_way(hash) && (hash >> 20) % (uint64_t)failing.share == 0;
}

/* ---- what is right -----------------------------------------------------------------------------
 */

typedef struct text {
    char *bytes;
    size_t length;
} text;

/* Memory of our own kind, so that the program's is not touched. */
static text file_text(int file) {
    text out = {mmap(NULL, TEXT_MOST, PROT_READ | PROT_WRITE,
                     MAP_PRIVATE | MAP_ANONYMOUS | MAP_NORESERVE, -1, 0),
                0};
    ssize_t got = 0;
    while (file >= 0 && out.length < TEXT_MOST - 1 &&
           (got = pread(file, out.bytes + out.length, TEXT_MOST - 1 - out.length,
                        (off_t)out.length)) > 0)
        out.length += (size_t)got;
    return out;
}

static void drop(text *t) { munmap(t->bytes, TEXT_MOST); }

static text right(const char *name) {
    char path[4096];
    snprintf(path, sizeof path, "%s/%s", failing.right, name);
    int file = open(path, O_RDONLY);
    text out = file_text(file);
    if (file >= 0)
        close(file);
    return out;
}

static bool same(const text *a, const text *b) {
    return a->length == b->length && memcmp(a->bytes, b->bytes, a->length) == 0;
}

/* ---- the verdict -------------------------------------------------------------------------------
 */

static long tried, wrong, goes_on;
static FILE *report;

static void blame(call of, int way, const char *what, int status, const text *errors) {
    char head[300];
    size_t length = 0;
    for (; length < errors->length && length < sizeof head - 1; length++)
        head[length] = errors->bytes[length] == '\n' ? '|' : errors->bytes[length];
    head[length] = '\0';
    wrong++;
    fprintf(report, "WRONG %ld %s: %s (status %x): %s\n", failing.count, failing_way_name(of, way),
            what, (unsigned)status, head);
    if (wrong <= 300) {
        void *frames[24];
        int count = backtrace(frames, 24);
        fprintf(report, "  at");
        for (int i = 3; i < count; i++) {
            lookup l = {(uintptr_t)frames[i], 0};
            dl_iterate_phdr(find_object, &l);
            fprintf(report, " %lx", (unsigned long)l.offset);
        }
        fprintf(report, "\n");
    }
}

static bool says(const text *errors, const char *what) {
    return strstr(errors->bytes, what) != NULL;
}

/* How often. */
static int times(const text *errors, const char *what) {
    int count = 0;
    for (const char *at = errors->bytes; (at = strstr(at, what)) != NULL; at += strlen(what))
        count++;
    return count;
}

/* The same across the ends of lines: where a report breaks them depends on what it has to tell. */
static bool says_in_report(const text *told, const char *what) {
    const char *from = told->bytes;
    for (const char *at = from; *at != '\0'; at++) {
        const char *a = at, *b = what;
        while (*b != '\0' && *a != '\0') {
            if (*b == ' ' && (*a == ' ' || *a == '\n')) {
                b++;
                while (*a == ' ' || *a == '\n')
                    a++;
            } else if (*a == *b) {
                a++;
                b++;
            } else {
                break;
            }
        }
        if (*b == '\0')
            return true;
    }
    return false;
}

/* What is wrong with an end; NULL: nothing. The sentence of lacking memory stands alone in its
 * line, once; a file's names the reason. */
static const char *fault_of(call of, int error, int status, const text *out, const text *errors) {
    static text right_out, right_errors, right_code;
    if (right_out.bytes == NULL) {
        right_out = right("out");
        right_errors = right("err");
        right_code = right("code");
    }
    if (WIFSIGNALED(status))
        return WTERMSIG(status) == SIGALRM ? "did not end" : "was ended by a signal";
    int code = WEXITSTATUS(status), usual = atoi(right_code.bytes);
    if (same(out, &right_out) && same(errors, &right_errors) && code == usual) {
        goes_on++;
        return NULL;
    }
    /* One of many files is left aside, and the report says why. */
    if (of != CALL_ALLOC && code == usual && error != FALLS_SHORT &&
        says_in_report(out, strerror(error)))
        return NULL;
    if (code == usual && code != 70 && !same(out, &right_out))
        return "another answer, and no word of it";
    if (code == usual && !same(errors, &right_errors))
        return "the usual code, and other complaints";
    if (of == CALL_ALLOC) {
        if ((code == 73 || code == 74) && says(errors, strerror(ENOMEM)))
            return NULL;
        if (code != 70)
            return "an exit code that means something else";
        if (times(errors, "out of memory") != 1 || !says(errors, "swapworth: out of memory.\n"))
            return "no sentence of lacking memory";
        return NULL;
    }
    if (code != 66 && code != 70 && code != 73 && code != 74)
        return "an exit code that means something else";
    if (error == FALLS_SHORT)
        return "a short read or write is no failure";
    if (!says(errors, strerror(error)))
        return "the reason is not told";
    return NULL;
}

void failing_judged(void) {
    if (report == NULL)
        report = fopen(failing.report, "w");
    if (report == NULL)
        return;
    fprintf(report, "TRIED %ld WRONG %ld AS-IF-NOTHING %ld CALLS %ld WRITES-FROM %ld\n", tried,
            wrong, goes_on, failing.count, failing.begun ? failing.written : -1);
    fclose(report);
}

/* ---- the fork ----------------------------------------------------------------------------------
 */

/* What the program has told so far, in a file of the fork's own in that place. */
static int copy_of(int file) {
    int copy = memfd_create("told", MFD_CLOEXEC);
    char block[4096];
    off_t at = 0, end = lseek(file, 0, SEEK_CUR);
    while (at < end) {
        size_t want = (size_t)(end - at) < sizeof block ? (size_t)(end - at) : sizeof block;
        ssize_t got = pread(file, block, want, at);
        if (got <= 0 || write(copy, block, (size_t)got) != got)
            break;
        at += got;
    }
    return copy;
}

static off_t places[FILES_MOST];

static void keep_places(void) {
    for (int file = 0; file < FILES_MOST; file++)
        places[file] = lseek(file, 0, SEEK_CUR);
}

static void restore_places(void) {
    for (int file = 0; file < FILES_MOST; file++)
        if (places[file] >= 0)
            lseek(file, places[file], SEEK_SET);
}

/* In the fork: the way's number; in the program: -1. */
static int try_way(call of, int way) {
    int out = copy_of(STDOUT_FILENO), errors = copy_of(STDERR_FILENO), status = 0;
    keep_places();
    pid_t pid = fork();
    if (pid == 0) {
        dup2(out, STDOUT_FILENO);
        dup2(errors, STDERR_FILENO);
        close(out);
        close(errors);
        alarm(SECONDS_MOST);
        failing.is_child = true;
        return way;
    }
    while (pid > 0 && waitpid(pid, &status, 0) < 0 && errno == EINTR)
        continue;
    restore_places();
    text said = file_text(out), complained = file_text(errors);
    const char *fault =
        pid < 0 ? "no fork" : fault_of(of, failing_way(of, way), status, &said, &complained);
    tried++;
    if (fault != NULL)
        blame(of, way, fault, status, &complained);
    drop(&said);
    drop(&complained);
    close(out);
    close(errors);
    return -1;
}

int failing_fork(call of, uintptr_t caller) {
    int error = errno, due = GOES_ON;
    struct timespec begun, ended;
    failing.off = true;
    clock_gettime(CLOCK_MONOTONIC, &begun);
    if (report == NULL) {
        report = fopen(failing.report, "w");
        if (report != NULL)
            setvbuf(report, NULL, _IOLBF, 0);
    }
    bool is_new = failing_is_new_way(caller);
    if (report != NULL && (is_new || failing.count % failing.stride == 0))
        for (int way = 0; failing_way_name(of, way) != NULL && !failing.is_child; way++)
            if (try_way(of, way) >= 0) {
                due = failing_way(of, way);
                if (of == CALL_ALLOC && way == 1)
                    failing.lasting = due;
            }
    if (!failing.is_child) {
        clock_gettime(CLOCK_MONOTONIC, &ended);
        failing.waited +=
            (ended.tv_sec - begun.tv_sec) * 1000000000LL + ended.tv_nsec - begun.tv_nsec;
    }
    failing.off = false;
    errno = error;
    return due;
}
