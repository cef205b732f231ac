/* What comes in and goes out over HTTP: FORMATS.md section 37. The defence stands in
 * http_gate.c, before any handler. */
#ifndef SW_DESK_HTTP_H
#define SW_DESK_HTTP_H

#include "base/base.h"

#include <event2/buffer.h>
#include <event2/event.h>

#define SW_DESK_SCHEMA "swapworth-desk-1"
#define SW_TOKEN_DIGITS 32

typedef struct sw_http sw_http;
/* One request, from its arrival to its reply or to the end of its connection. */
typedef struct sw_call sw_call;

typedef struct sw_http_takes {
    /* A POST to /api/NAME that passed the gate; the bytes live until the call's reply. */
    void (*api)(void *context, sw_call *call, const char *name, const char *bytes, size_t length);
    /* A GET or HEAD of that path, which may be anything. */
    void (*get)(void *context, sw_call *call, const char *path);
    void *context;
} sw_http_takes;

/* NULL where it cannot listen (errno) or memory is out (ENOMEM). `token` must outlive it. */
sw_http *sw_http_new(struct event_base *base, int port, const char *token,
                     const sw_http_takes *takes);
void sw_http_free(sw_http *http);
int sw_http_port(const sw_http *http);

/* ---- replies: each ends the call ------------------------------------------------------------ */

/* What a page may do; NULL: nothing at all. */
extern const char sw_policy_of_page[];

typedef struct sw_reply {
    int code;
    const char *type, *policy; /* NULL: JSON, and nothing allowed */
    int exit;                  /* told in X-Desk-Exit; -1: not */
} sw_reply;

/* Takes the bytes out of `body`, which remains the caller's. */
void sw_call_reply(sw_call *call, const sw_reply *reply, struct evbuffer *body);
void sw_call_reply_text(sw_call *call, const sw_reply *reply, const char *text, size_t length);
/* JSON that is malloc'd, and freed here; NULL: memory ran out. */
void sw_call_reply_json(sw_call *call, int code, char *json);
/* {"schema","error":{"what","why","mend"}}: plain sentences without a full stop. */
void sw_call_refuse(sw_call *call, int code, const char *what, const char *why, const char *mend);

/* Calls `left` when the connection ends before the reply; the call is gone then. */
void sw_call_watch(sw_call *call, void (*left)(void *context), void *context);

/* The same as text: malloc'd, NULL when memory is out. */
char *sw_error_json(const char *what, const char *why, const char *mend);

#endif
