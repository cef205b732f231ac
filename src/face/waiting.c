/* Progress on standard error, and stopping on request. */
#include "face/waiting.h"

#include "face/commands.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <time.h>
#include <unistd.h>

#define SECONDS_OF_SILENCE 1.0
#define SECONDS_BETWEEN_REDRAWS 0.2
#define SECONDS_BETWEEN_LINES 2.0
#define WIDTH_MOST 200

/* ---- signals ----------------------------------------------------------------------------- */

/* A signal handler has no other way to leave word. */
static volatile sig_atomic_t asked_to_stop;
static volatile sig_atomic_t asked_at_tenths; /* seconds of a day, times 10 */

static sig_atomic_t tenths_now(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (sig_atomic_t)((now.tv_sec % 86400) * 10 + now.tv_nsec / 100000000);
}

/* The first time asks, the second ends. What comes within a moment is the first still: timeout(1)
 * and the like tell the program and then its whole group. */
static void on_signal(int number) {
    sig_atomic_t now = tenths_now(), passed = now - asked_at_tenths;
    if (!asked_to_stop) {
        asked_to_stop = 1;
        asked_at_tenths = now;
    } else if (passed < 0 || passed > 3) {
        signal(number, SIG_DFL);
        raise(number); /* delivered when this handler returns */
    }
}

static const int stopping[] = {SIGINT, SIGTERM};

/* What was ignored when the program was started stays so: whoever started it meant that. */
static void handle(int number, void (*handler)(int)) {
    struct sigaction old, new;
    if (sigaction(number, NULL, &old) != 0 || old.sa_handler == SIG_IGN)
        return;
    memset(&new, 0, sizeof new);
    new.sa_handler = handler;
    sigemptyset(&new.sa_mask);
    for (size_t i = 0; i < sizeof stopping / sizeof *stopping; i++)
        sigaddset(&new.sa_mask, stopping[i]);
    new.sa_flags = SA_RESTART; /* a line on standard error is written to its end */
    sigaction(number, &new, NULL);
}

/* ---- what is shown -------------------------------------------------------------------------- */

static int terminal_width(void) {
    struct winsize size;
    int width = ioctl(STDERR_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0 ? size.ws_col : 80;
    return width > WIDTH_MOST ? WIDTH_MOST : width;
}

/* "searching: 12 steps, 4 of them proved, at most 0.42 points more, 3 s" */
static void describe(char *line, size_t room, const sw_waiting *w, double now) {
    const sw_progress *p = &w->last;
    size_t at = (size_t)snprintf(line, room, "%s: ", w->told ? w->doing : "working");
    if (w->told && p->steps > 0 && at < room)
        at += (size_t)snprintf(line + at, room - at, "%lld step%s, %lld of them proved, ",
                               (long long)p->steps, p->steps == 1 ? "" : "s", (long long)p->proved);
    if (w->told && p->gap >= 0 && at < room) {
        /* Rounded up, so that no more than said can be there. */
        long long hundredths = p->gap / 10 + (p->gap % 10 > 0);
        at += (size_t)snprintf(line + at, room - at, "at most %lld.%02lld points more, ",
                               hundredths / 100, hundredths % 100);
    }
    if (at < room)
        snprintf(line + at, room - at, "%.0f s", now - w->begun);
}

static void show(sw_waiting *w) {
    double now = sw_steady_seconds();
    if (now - w->begun < SECONDS_OF_SILENCE ||
        now - w->spoken < (w->as_lines ? SECONDS_BETWEEN_LINES : SECONDS_BETWEEN_REDRAWS))
        return;
    char line[WIDTH_MOST + 1];
    w->spoken = now;
    describe(line, sizeof line, w, now);
    if (w->as_lines) {
        fprintf(stderr, "%s\n", line);
        return;
    }
    int width = terminal_width() - 1; /* the last column would wrap on some terminals */
    fprintf(stderr, "\r%-*.*s", width, width, line);
    fflush(stderr);
    w->shown = true;
}

static void on_progress(void *context, const sw_progress *progress) {
    sw_waiting *w = context;
    if (!w->told || w->last.doing != progress->doing)
        snprintf(w->doing, sizeof w->doing, "%s",
                 progress->doing != NULL ? progress->doing : "working");
    w->last = *progress;
    w->told = true;
    if (w->on_terminal || w->as_lines)
        show(w);
}

/* Asked often, so that the seconds go on even where there is nothing new to tell. */
static bool on_halt(void *context) {
    sw_waiting *w = context;
    if (w->on_terminal || w->as_lines)
        show(w);
    return asked_to_stop != 0;
}

void sw_waiting_begin(sw_waiting *waiting, sw_plan_options *options, bool lines) {
    double now = sw_steady_seconds();
    *waiting = (sw_waiting){.on_terminal = !lines && isatty(STDERR_FILENO) != 0,
                            .as_lines = lines,
                            .begun = now,
                            .spoken = now - SECONDS_BETWEEN_LINES};
    options->tell = on_progress;
    options->halt = on_halt;
    options->context = waiting;
    for (size_t i = 0; i < sizeof stopping / sizeof *stopping; i++)
        handle(stopping[i], on_signal);
}

/* The signals stay with us: a stop that comes just now must not cost the answer, which is
 * being written; a second one still ends the program. */
void sw_waiting_end(sw_waiting *waiting) {
    if (!waiting->shown)
        return;
    fprintf(stderr, "\r%*s\r", terminal_width() - 1, "");
    fflush(stderr);
}
