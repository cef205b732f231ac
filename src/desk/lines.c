/* The connections. A bufferevent is held for each: evhttp takes its callbacks away when it lets go
 * of one, by which its end is known even where no request ever came. */
#include "desk/lines.h"

#include <arpa/inet.h>
#include <errno.h>
#include <event2/buffer.h>
#include <event2/bufferevent.h>
#include <event2/listener.h>
#include <fcntl.h>
#include <netinet/in.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

#define LINES_MOST 16
#define SECONDS_TO_ARRIVE 5
#define SECONDS_TO_LEAVE 60
#define SECONDS_TO_STOP 5 /* sending what is not read any more */
#define MILLISECONDS_BETWEEN_SWEEPS 20

struct sw_line {
    sw_lines *lines;
    struct bufferevent *bufferevent;
    struct event *deadline, *mend;
    bool ours; /* what is written comes from us */
    int kept;  /* the socket once more, while what a client still sends is thrown away; -1: none */
    struct event *rest;
    sw_line *next;
};

struct sw_lines {
    struct event_base *base;
    struct evconnlistener *listener;
    struct event *full;  /* the listener's socket, while there are as many as may be */
    struct event *sweep; /* looks for ends while that is so */
    void (*own_reply)(struct evbuffer *out, int code);
    sw_line *first;
    int count, port;
    bool is_full;
};

/* ---- one connection ------------------------------------------------------------------------- */

static bool is_let_go(const sw_line *line) {
    bufferevent_data_cb read = NULL, write = NULL;
    bufferevent_event_cb event = NULL;
    void *context = NULL;
    bufferevent_getcb(line->bufferevent, &read, &write, &event, &context);
    return read == NULL && write == NULL && event == NULL;
}

static bool is_over(const sw_line *line) { return is_let_go(line) && line->kept < 0; }

static void close_kept(sw_line *line) {
    if (line->rest != NULL)
        event_free(line->rest);
    line->rest = NULL;
    if (line->kept >= 0)
        close(line->kept);
    line->kept = -1;
}

static void line_free(sw_line *line) {
    close_kept(line);
    if (line->deadline != NULL)
        event_free(line->deadline);
    if (line->mend != NULL)
        event_free(line->mend);
    bufferevent_decref(line->bufferevent);
    free(line);
}

/* Evhttp sees the end of the connection, and lets go of it. */
static void on_deadline(evutil_socket_t none, short what, void *context) {
    sw_line *line = context;
    (void)none;
    (void)what;
    close_kept(line);
    if (!is_let_go(line))
        shutdown(bufferevent_getfd(line->bufferevent), SHUT_RDWR);
}

static void set_deadline(sw_line *line, int seconds) {
    event_add(line->deadline, &(struct timeval){.tv_sec = seconds});
}

static void on_rest(evutil_socket_t socket, short what, void *context) {
    sw_line *line = context;
    char thrown_away[16384];
    (void)what;
    ssize_t got = recv(socket, thrown_away, sizeof thrown_away, MSG_DONTWAIT);
    if (got == 0 || (got < 0 && errno != EAGAIN && errno != EINTR))
        close_kept(line);
}

/* A socket that is closed with bytes in it that nobody read is reset, and the client may lose the
 * reply by that: RFC 9112 section 9.6. */
static void keep_reading(sw_line *line) {
    line->kept = fcntl(bufferevent_getfd(line->bufferevent), F_DUPFD_CLOEXEC, 0);
    if (line->kept < 0)
        return;
    line->rest = event_new(line->lines->base, line->kept, EV_READ | EV_PERSIST, on_rest, line);
    if (line->rest == NULL || event_add(line->rest, NULL) != 0)
        close_kept(line);
}

/* What is written, and not by us, is evhttp's own page or a "100 Continue". */
static void on_output(struct evbuffer *buffer, const struct evbuffer_cb_info *info, void *context) {
    sw_line *line = context;
    (void)buffer;
    if (info->n_added > 0 && !line->ours)
        event_active(line->mend, EV_WRITE, 0);
}

/* Runs before the first byte is written: that takes a turn of the loop. */
static void on_mend(evutil_socket_t none, short what, void *context) {
    sw_line *line = context;
    char head[24] = ""; /* "HTTP/1.1 400 Bad Request"; the version is what was asked with */
    (void)none;
    (void)what;
    if (line->ours || is_let_go(line))
        return;
    struct evbuffer *out = bufferevent_get_output(line->bufferevent);
    if (evbuffer_copyout(out, head, sizeof head - 1) != (ssize_t)sizeof head - 1)
        return;
    const char *blank = memchr(head, ' ', sizeof head - 4);
    int code =
        blank == NULL ? 0 : (blank[1] - '0') * 100 + (blank[2] - '0') * 10 + (blank[3] - '0');
    if (code < 400 || code > 599)
        return;
    line->ours = true;
    evbuffer_unfreeze(out, 1);
    evbuffer_drain(out, evbuffer_get_length(out));
    line->lines->own_reply(out, code);
    evbuffer_freeze(out, 1);
    /* What stands behind would be read as another request, and evhttp would answer that by itself.
     */
    struct evbuffer *in = bufferevent_get_input(line->bufferevent);
    evbuffer_drain(in, evbuffer_get_length(in));
    keep_reading(line);
    set_deadline(line, SECONDS_TO_STOP);
}

sw_line *sw_line_arrived(sw_lines *lines, struct evhttp_connection *connection) {
    struct bufferevent *of = evhttp_connection_get_bufferevent(connection);
    for (sw_line *line = lines->first; line != NULL; line = line->next)
        if (line->bufferevent == of) {
            event_del(line->deadline);
            return line;
        }
    return NULL;
}

void sw_line_replying(sw_line *line) {
    line->ours = true;
    set_deadline(line, SECONDS_TO_LEAVE);
}

/* ---- all of them ---------------------------------------------------------------------------- */

static void sweep(sw_lines *lines) {
    for (sw_line **at = &lines->first; *at != NULL;) {
        sw_line *line = *at;
        if (!is_over(line)) {
            at = &line->next;
            continue;
        }
        *at = line->next;
        lines->count--;
        line_free(line);
    }
    if (lines->is_full && lines->count < LINES_MOST) {
        lines->is_full = false;
        event_del(lines->full);
        event_del(lines->sweep);
        evconnlistener_enable(lines->listener);
    }
}

static void on_sweep(evutil_socket_t none, short what, void *context) {
    (void)none;
    (void)what;
    sweep(context);
}

/* One connection too many is closed at once; those that wait longer would wait for nothing. */
static void on_full(evutil_socket_t listening, short what, void *context) {
    sw_lines *lines = context;
    (void)what;
    sweep(lines);
    if (!lines->is_full)
        return;
    int refused = accept(listening, NULL, NULL);
    if (refused >= 0)
        close(refused);
}

/* Nothing more is accepted until the sweep finds that there is room. */
static void fill_up(sw_lines *lines) {
    lines->is_full = true;
    evconnlistener_disable(lines->listener);
    event_add(lines->full, NULL);
    event_add(lines->sweep, &(struct timeval){.tv_usec = MILLISECONDS_BETWEEN_SWEEPS * 1000L});
}

/* Evhttp asks for a bufferevent with each connection that it accepts. Where none can be had it
 * makes one of its own, which is not counted: no more is accepted just then. */
static struct bufferevent *on_accept(struct event_base *base, void *context) {
    sw_lines *lines = context;
    sweep(lines);
    sw_line *line = calloc(1, sizeof *line);
    struct bufferevent *bufferevent = bufferevent_socket_new(base, -1, 0);
    if (line == NULL || bufferevent == NULL) {
        free(line);
        fill_up(lines);
        return bufferevent;
    }
    *line = (sw_line){.lines = lines, .bufferevent = bufferevent, .kept = -1, .next = lines->first};
    bufferevent_incref(bufferevent);
    lines->first = line;
    line->deadline = evtimer_new(base, on_deadline, line);
    line->mend = event_new(base, -1, 0, on_mend, line);
    if (line->deadline != NULL && line->mend != NULL) {
        set_deadline(line, SECONDS_TO_ARRIVE);
        evbuffer_add_cb(bufferevent_get_output(bufferevent), on_output, line);
    }
    if (++lines->count >= LINES_MOST)
        fill_up(lines);
    return bufferevent;
}

static bool listen_on(sw_lines *lines, struct evhttp *http, int port) {
    struct sockaddr_in at = {.sin_family = AF_INET, .sin_port = htons((uint16_t)port)};
    socklen_t length = sizeof at;
    at.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    lines->listener = evconnlistener_new_bind(lines->base, NULL, NULL,
                                              LEV_OPT_CLOSE_ON_FREE | LEV_OPT_CLOSE_ON_EXEC |
                                                  LEV_OPT_REUSEABLE | LEV_OPT_DISABLED,
                                              64, (struct sockaddr *)&at, sizeof at);
    if (lines->listener == NULL)
        return false;
    evutil_socket_t socket = evconnlistener_get_fd(lines->listener);
    lines->full = event_new(lines->base, socket, EV_READ | EV_PERSIST, on_full, lines);
    lines->sweep = event_new(lines->base, -1, EV_PERSIST, on_sweep, lines);
    if (lines->full == NULL || lines->sweep == NULL ||
        getsockname(socket, (struct sockaddr *)&at, &length) != 0 ||
        evhttp_bind_listener(http, lines->listener) == NULL) {
        evconnlistener_free(lines->listener);
        return false;
    }
    lines->port = ntohs(at.sin_port);
    evhttp_set_bevcb(http, on_accept, lines);
    evconnlistener_enable(lines->listener);
    return true;
}

sw_lines *sw_lines_new(struct event_base *base, struct evhttp *http, int port,
                       void (*own_reply)(struct evbuffer *out, int code)) {
    sw_lines *lines = calloc(1, sizeof *lines);
    if (lines == NULL)
        return NULL;
    *lines = (sw_lines){.base = base, .own_reply = own_reply};
    if (listen_on(lines, http, port))
        return lines;
    int why = errno;
    sw_lines_free(lines);
    errno = why;
    return NULL;
}

void sw_lines_free(sw_lines *lines) {
    if (lines == NULL)
        return;
    while (lines->first != NULL) {
        sw_line *line = lines->first;
        lines->first = line->next;
        line_free(line);
    }
    if (lines->full != NULL)
        event_free(lines->full);
    if (lines->sweep != NULL)
        event_free(lines->sweep);
    free(lines);
}

int sw_lines_port(const sw_lines *lines) { return lines->port; }

int sw_lines_count(const sw_lines *lines) { return lines->count; }
