/* The desk from its beginning to its end: one loop, one token, one private folder. */
#include "desk/desk.h"

#include "base/leftovers.h"
#include "desk/names.h"
#include "desk/requests.h"

#include <errno.h>
#include <event2/event.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static void on_signal(evutil_socket_t number, short what, void *base) {
    (void)number;
    (void)what;
    event_base_loopbreak(base);
}

/* Libevent's own words are no sentences of ours, and what they tell is told in replies. */
static void say_nothing(int severity, const char *text) {
    (void)severity;
    (void)text;
}

/* Where the system keeps what is temporary. */
static const char *temporary(void) {
    const char *named = getenv("TMPDIR");
    return named != NULL && named[0] == '/' ? named : "/tmp";
}

static char *private_folder(void) {
    char *path = sw_leftover_name(temporary(), SW_LEFTOVER_FOLDER);
    if (path != NULL && mkdtemp(path) != NULL)
        return path;
    free(path);
    return NULL;
}

/* The job must be one at the beginning; each `open` reads it anew. */
static sw_status check_job(sw_desk *desk, sw_complaints *complaints) {
    sw_desk_sheet *sheet = NULL;
    if (desk->job->scenario == NULL)
        return SW_OK;
    sw_status status = sw_sheets_open(&sheet, desk->sheets, desk->job->scenario, complaints);
    sw_arena *arena = status == SW_OK ? sw_arena_new() : NULL;
    const char *catalog = NULL;
    if (status == SW_OK)
        status = arena == NULL ? SW_NO_MEMORY : sw_desk_catalog(&catalog, desk, arena, sheet);
    if (status == SW_OK && catalog != NULL) {
        desk->catalog = strdup(catalog);
        status = desk->catalog == NULL ? SW_NO_MEMORY : SW_OK;
    }
    sw_arena_free(arena);
    return status;
}

static sw_status no_port(const sw_desk_job *job, sw_complaints *complaints) {
    char port[16];
    if (errno == ENOMEM)
        return SW_NO_MEMORY;
    snprintf(port, sizeof port, "%d", job->port);
    sw_complain(complaints, "--port", port, strerror(errno),
                "leave --port out: one that is free is taken then",
                "cannot be listened on at 127.0.0.1");
    return SW_CANNOT_WRITE;
}

/* Of a job that names none that is told in answers: it can be a draft's. All others must be there
 * and sound: nothing can be asked without. */
static sw_status check_catalog(const sw_desk *desk, sw_complaints *complaints) {
    const sw_desk_job *job = desk->job;
    const char *folder = job->catalog != NULL    ? job->catalog
                         : job->scenario == NULL ? job->otherwise
                                                 : desk->catalog;
    return folder == NULL ? SW_OK : sw_names_check(folder, complaints);
}

/* A terminal that is closed hangs up: what is private in temporary files must not outlive it. Nor
 * may it what a key ends (SIGQUIT). */
static const int stopping[SW_DESK_SIGNALS] = {SIGINT, SIGTERM, SIGHUP, SIGQUIT};

/* nohup(1) has the desk outlive its terminal: whoever started it so meant that. */
static bool outlives_terminal(void) {
    struct sigaction now;
    return sigaction(SIGHUP, NULL, &now) == 0 && now.sa_handler == SIG_IGN;
}

/* Before anything is made that must be taken away: what arrives until the desk serves is kept. */
static bool hear_signals(sw_desk *desk) {
    for (size_t i = 0; i < SW_DESK_SIGNALS; i++) {
        if (stopping[i] == SIGHUP && outlives_terminal())
            continue;
        desk->stops[i] = evsignal_new(desk->base, stopping[i], on_signal, desk->base);
        if (desk->stops[i] == NULL || event_add(desk->stops[i], NULL) != 0)
            return false;
    }
    return true;
}

static void ignore_signals(sw_desk *desk) {
    for (size_t i = 0; i < SW_DESK_SIGNALS; i++)
        if (desk->stops[i] != NULL)
            event_free(desk->stops[i]);
}

static sw_status set_up(sw_desk *desk, sw_complaints *complaints) {
    const sw_desk_job *job = desk->job;
    const sw_http_takes takes = {sw_take_api, sw_take_get, desk};
    desk->base = event_base_new();
    if (desk->base == NULL || !hear_signals(desk))
        return SW_NO_MEMORY;
    sw_sweep_leftovers(temporary(), SW_LEFTOVER_FOLDER);
    desk->folder = private_folder();
    if (desk->folder == NULL) {
        sw_complain(complaints, "TMPDIR", "", strerror(errno),
                    "give TMPDIR a folder that may be written to",
                    "has no room for the desk's temporary files");
        return SW_CANNOT_WRITE;
    }
    desk->held = sw_leftover_hold(desk->folder);
    desk->sheets = sw_sheets_new(&(sw_place){.scenario = job->scenario,
                                             .catalog = job->catalog,
                                             .otherwise = job->otherwise,
                                             .date = job->date,
                                             .temporary = desk->folder});
    desk->papers = sw_papers_made_new();
    if (desk->sheets == NULL || desk->papers == NULL)
        return SW_NO_MEMORY;
    sw_sweep_leftovers(sw_sheets_folder(desk->sheets), SW_LEFTOVER_SAVE);
    sw_status status = check_job(desk, complaints);
    if (status == SW_OK)
        status = check_catalog(desk, complaints);
    if (status != SW_OK)
        return status;
    if (!sw_random_digits(desk->token, SW_TOKEN_DIGITS))
        return SW_INTERNAL;
    desk->workers = sw_workers_new(desk->base, desk->folder, job->seconds);
    if (desk->workers == NULL)
        return SW_NO_MEMORY;
    desk->http = sw_http_new(desk->base, job->port, desk->token, &takes);
    return desk->http == NULL ? no_port(job, complaints) : SW_OK;
}

static void take_down(sw_desk *desk) {
    sw_workers_free(desk->workers);
    sw_http_free(desk->http);
    sw_papers_made_free(desk->papers);
    sw_sheets_free(desk->sheets);
    if (desk->folder != NULL)
        sw_folder_remove(desk->folder);
    if (desk->held >= 0)
        close(desk->held);
    ignore_signals(desk);
    if (desk->base != NULL)
        event_base_free(desk->base);
    free(desk->folder);
    free(desk->catalog);
}

static sw_status serve(sw_desk *desk) {
    char address[80];
    snprintf(address, sizeof address, "http://127.0.0.1:%d/#%s", sw_http_port(desk->http),
             desk->token);
    if (!desk->job->begun(address))
        return SW_CANNOT_WRITE;
    return event_base_dispatch(desk->base) < 0 ? SW_INTERNAL : SW_OK;
}

sw_status sw_desk_run(const sw_desk_job *job, sw_complaints *complaints) {
    sw_desk desk = {.job = job, .held = -1};
    event_set_log_callback(say_nothing);
    signal(SIGPIPE, SIG_IGN); /* who left is told of by the connection */
    signal(SIGXFSZ, SIG_IGN); /* a write past the largest size must fail, so that it is told */
    sw_status status = set_up(&desk, complaints);
    if (status == SW_OK)
        status = serve(&desk);
    take_down(&desk);
    return status;
}
