/* Requests in, replies out: what evhttp does, with our headers on all of it. */
#include "desk/http.h"

#include "desk/http_gate.h"
#include "desk/lines.h"
#include "read/plain.h"
#include "render/json_writer.h"

#include <errno.h>
#include <event2/bufferevent.h>
#include <event2/http.h>
#include <event2/http_struct.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>

struct sw_http {
    struct event_base *base;
    struct evhttp *evhttp;
    sw_lines *lines;
    const char *token;
    sw_http_takes takes;
    sw_call *first;
};

struct sw_call {
    sw_http *http;
    struct evhttp_request *request;
    sw_line *line;
    struct event *closed;
    void (*left)(void *context);
    void *context;
    sw_call *next;
};

static const char nothing_allowed[] = "default-src 'none'; frame-ancestors 'none'";
const char sw_policy_of_page[] =
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; "
    "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

static const struct {
    const char *name, *value;
} always[] = {
    {"Cache-Control", "no-store"},
    {"X-Content-Type-Options", "nosniff"},
    {"Referrer-Policy", "no-referrer"},
    {"Cross-Origin-Resource-Policy", "same-origin"},
    {"Cross-Origin-Opener-Policy", "same-origin"},
    {"Connection", "close"},
};

#define JSON_TYPE "application/json; charset=utf-8"

static const struct {
    int code;
    const char *phrase;
} phrases[] = {
    {200, "OK"},
    {204, "No Content"},
    {400, "Bad Request"},
    {401, "Unauthorized"},
    {403, "Forbidden"},
    {404, "Not Found"},
    {405, "Method Not Allowed"},
    {409, "Conflict"},
    {413, "Content Too Large"},
    {415, "Unsupported Media Type"},
    {422, "Unprocessable Content"},
    {500, "Internal Server Error"},
    {503, "Service Unavailable"},
};

static const char *phrase_of(int code) {
    for (size_t i = 0; i < sizeof phrases / sizeof *phrases; i++)
        if (phrases[i].code == code)
            return phrases[i].phrase;
    return "Error";
}

char *sw_error_json(const char *what, const char *why, const char *mend) {
    char *text = NULL;
    sw_text plain = {0}; /* names of what was asked stand in it */
    sw_plain_keep(&plain, what);
    sw_writer *root = plain.failed ? NULL : sw_writer_new();
    if (root == NULL) {
        sw_text_free(&plain);
        return NULL;
    }
    sw_writer_text(root, "schema", SW_DESK_SCHEMA);
    sw_writer *error = sw_writer_object(root, "error");
    sw_writer_text(error, "what", plain.bytes != NULL ? plain.bytes : "");
    sw_text_free(&plain);
    sw_writer_text(error, "why", why);
    sw_writer_text(error, "mend", mend);
    return sw_writer_finish(&text, root) == SW_OK ? text : NULL;
}

/* ---- one call ------------------------------------------------------------------------------- */

static void unlink_call(sw_call *call) {
    for (sw_call **at = &call->http->first; *at != NULL; at = &(*at)->next)
        if (*at == call) {
            *at = call->next;
            break;
        }
    if (call->closed != NULL)
        event_free(call->closed);
}

/* The connection ended: whoever works on the reply learns it. */
static void on_end(struct evhttp_connection *connection, void *context) {
    sw_call *call = context;
    (void)connection;
    unlink_call(call);
    if (call->left != NULL)
        call->left(call->context);
    free(call);
}

/* A connection that was reset is a read to libevent, as is what a client sends too early. */
static bool still_stands(evutil_socket_t socket) {
    int error = 0;
    socklen_t length = sizeof error;
    char byte;
    if (getsockopt(socket, SOL_SOCKET, SO_ERROR, &error, &length) != 0 || error != 0)
        return false;
    ssize_t got = recv(socket, &byte, 1, MSG_PEEK | MSG_DONTWAIT);
    return got > 0 || (got < 0 && (errno == EAGAIN || errno == EINTR));
}

/* Evhttp reads nothing while a reply is worked out, so it would not see the end. */
static void on_closed(evutil_socket_t socket, short what, void *context) {
    sw_call *call = context;
    if ((what & EV_CLOSED) == 0 && still_stands(socket))
        return;
    evhttp_connection_free(evhttp_request_get_connection(call->request));
}

void sw_call_watch(sw_call *call, void (*left)(void *context), void *context) {
    call->left = left;
    call->context = context;
}

static void add_number(struct evkeyvalq *headers, const char *name, size_t number) {
    char digits[24];
    snprintf(digits, sizeof digits, "%zu", number);
    evhttp_add_header(headers, name, digits);
}

void sw_call_reply(sw_call *call, const sw_reply *reply, struct evbuffer *body) {
    struct evhttp_request *request = call->request;
    struct evkeyvalq *headers = evhttp_request_get_output_headers(request);
    for (size_t i = 0; i < sizeof always / sizeof *always; i++)
        evhttp_add_header(headers, always[i].name, always[i].value);
    evhttp_add_header(headers, "Content-Security-Policy",
                      reply->policy != NULL ? reply->policy : nothing_allowed);
    if (reply->code != 204)
        evhttp_add_header(headers, "Content-Type", reply->type != NULL ? reply->type : JSON_TYPE);
    if (reply->code == 405)
        evhttp_add_header(headers, "Allow", sw_gate_allows(evhttp_request_get_uri(request)));
    if (reply->exit >= 0)
        add_number(headers, "X-Desk-Exit", (size_t)reply->exit);
    /* Evhttp tells the length only to some, and sends content to HEAD as well. */
    size_t length = body == NULL ? 0 : evbuffer_get_length(body);
    if (reply->code != 204)
        add_number(headers, "Content-Length", length);
    if (evhttp_request_get_command(request) == EVHTTP_REQ_HEAD)
        body = NULL;
    /* It repeats the version that was asked in, whatever that was: RFC 9112 section 2.3. */
    if (request->major != 1 || (request->minor != 0 && request->minor != 1)) {
        request->major = 1;
        request->minor = 1;
    }
    /* Nor does it ever close after a CONNECT. */
    if (evhttp_request_get_command(request) == EVHTTP_REQ_CONNECT)
        request->type = EVHTTP_REQ_GET;
    /* From one that was asked for another host, as proxies are, it takes "Connection" away. */
    request->flags &= ~EVHTTP_PROXY_REQUEST;
    evhttp_connection_set_closecb(evhttp_request_get_connection(request), NULL, NULL);
    sw_line_replying(call->line);
    unlink_call(call);
    free(call);
    evhttp_send_reply(request, reply->code, phrase_of(reply->code), body);
}

void sw_call_reply_text(sw_call *call, const sw_reply *reply, const char *text, size_t length) {
    struct evbuffer *body = evbuffer_new();
    if (body != NULL && length > 0 && evbuffer_add(body, text, length) != 0) {
        evbuffer_free(body);
        body = NULL;
    }
    /* Without a body a reply is still one. */
    sw_call_reply(call, reply, body);
    if (body != NULL)
        evbuffer_free(body);
}

void sw_call_reply_json(sw_call *call, int code, char *json) {
    static const char out_of_memory[] =
        "{\"schema\":\"" SW_DESK_SCHEMA "\",\"error\":{\"what\":\"memory ran out\",\"why\":\"\","
        "\"mend\":\"close other programs and try again\"}}\n";
    const char *text = json != NULL ? json : out_of_memory;
    sw_call_reply_text(call, &(sw_reply){.code = json != NULL ? code : 500, .exit = -1}, text,
                       strlen(text));
    free(json);
}

void sw_call_refuse(sw_call *call, int code, const char *what, const char *why, const char *mend) {
    sw_call_reply_json(call, code, sw_error_json(what, why, mend));
}

/* ---- what evhttp says by itself ------------------------------------------------------------- */

/* A method that it does not know is 501 to evhttp; to the desk it is one that it does not allow.
 * What it has other codes for (417) is a request that is not understood. */
static void own_reply(struct evbuffer *out, int code) {
    const sw_refusal refusal = sw_gate_unreadable(code == 501 ? 405 : code);
    code = refusal.code;
    char *body = sw_error_json(refusal.what, refusal.why, refusal.mend);
    evbuffer_add_printf(out, "HTTP/1.1 %d %s\r\n", code, phrase_of(code));
    for (size_t i = 0; i < sizeof always / sizeof *always; i++)
        evbuffer_add_printf(out, "%s: %s\r\n", always[i].name, always[i].value);
    evbuffer_add_printf(out, "Content-Security-Policy: %s\r\nContent-Type: " JSON_TYPE "\r\n",
                        nothing_allowed);
    if (code == 405)
        evbuffer_add_printf(out, "Allow: GET, HEAD, POST\r\n");
    evbuffer_add_printf(out, "Content-Length: %zu\r\n\r\n%s", body != NULL ? strlen(body) : 0,
                        body != NULL ? body : "");
    free(body);
}

/* ---- requests ------------------------------------------------------------------------------- */

static sw_call *call_new(sw_http *http, struct evhttp_request *request) {
    struct evhttp_connection *connection = evhttp_request_get_connection(request);
    sw_line *line = sw_line_arrived(http->lines, connection);
    sw_call *call = line == NULL ? NULL : calloc(1, sizeof *call);
    if (call == NULL)
        return NULL;
    *call = (sw_call){.http = http, .request = request, .line = line, .next = http->first};
    http->first = call;
    evhttp_connection_set_closecb(connection, on_end, call);
    evutil_socket_t socket = bufferevent_getfd(evhttp_connection_get_bufferevent(connection));
    call->closed =
        event_new(http->base, socket, EV_READ | EV_CLOSED | EV_ET | EV_PERSIST, on_closed, call);
    if (call->closed != NULL)
        event_add(call->closed, NULL);
    return call;
}

static void on_request(struct evhttp_request *request, void *context) {
    sw_http *http = context;
    sw_call *call = call_new(http, request);
    if (call == NULL) {
        evhttp_connection_free(evhttp_request_get_connection(request));
        return;
    }
    sw_refusal refusal = {0};
    if (!sw_gate_lets_in(&refusal, request, sw_lines_port(http->lines), http->token)) {
        sw_call_refuse(call, refusal.code, refusal.what, refusal.why, refusal.mend);
        return;
    }
    const char *path = evhttp_request_get_uri(request);
    if (evhttp_request_get_command(request) != EVHTTP_REQ_POST) {
        http->takes.get(http->takes.context, call, path);
        return;
    }
    struct evbuffer *in = evhttp_request_get_input_buffer(request);
    size_t length = evbuffer_get_length(in);
    const char *bytes = length == 0 ? "" : (const char *)evbuffer_pullup(in, -1);
    if (bytes == NULL)
        sw_call_reply_json(call, 500, NULL);
    else
        http->takes.api(http->takes.context, call, path + strlen(SW_API_PATH), bytes, length);
}

sw_http *sw_http_new(struct event_base *base, int port, const char *token,
                     const sw_http_takes *takes) {
    sw_http *http = calloc(1, sizeof *http);
    if (http == NULL)
        return NULL;
    *http = (sw_http){.base = base, .evhttp = evhttp_new(base), .token = token, .takes = *takes};
    errno = ENOMEM;
    if (http->evhttp != NULL)
        http->lines = sw_lines_new(base, http->evhttp, port, own_reply);
    if (http->lines == NULL) {
        int why = errno;
        sw_http_free(http);
        errno = why;
        return NULL;
    }
    evhttp_set_max_headers_size(http->evhttp, SW_HEADERS_MOST);
    evhttp_set_max_body_size(http->evhttp, SW_BODY_MOST);
    /* Those that are not served reach the gate too, which says so. */
    evhttp_set_allowed_methods(http->evhttp, 0xFFFF);
    evhttp_set_gencb(http->evhttp, on_request, http);
    return http;
}

void sw_http_free(sw_http *http) {
    if (http == NULL)
        return;
    if (http->evhttp != NULL)
        evhttp_free(http->evhttp);
    sw_lines_free(http->lines);
    free(http);
}

int sw_http_port(const sw_http *http) { return sw_lines_port(http->lines); }
