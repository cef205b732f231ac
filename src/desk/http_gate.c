/* Who may ask. Evhttp takes requests with two Host headers or none, and knows of no origin. */
#include "desk/http_gate.h"

#include <event2/http_struct.h>
#include <event2/keyvalq_struct.h>
#include <event2/util.h>
#include <stdio.h>
#include <string.h>

/* The value of a header that must stand exactly once; NULL otherwise. */
static const char *alone(struct evhttp_request *request, const char *name) {
    const char *value = NULL;
    const struct evkeyvalq *headers = evhttp_request_get_input_headers(request);
    for (const struct evkeyval *at = headers->tqh_first; at != NULL; at = at->next.tqe_next) {
        if (evutil_ascii_strcasecmp(at->key, name) != 0)
            continue;
        if (value != NULL)
            return NULL;
        value = at->value;
    }
    return value;
}

static bool stands(struct evhttp_request *request, const char *name) {
    return evhttp_find_header(evhttp_request_get_input_headers(request), name) != NULL;
}

static bool is_post(struct evhttp_request *request) {
    return evhttp_request_get_command(request) == EVHTTP_REQ_POST;
}

static bool is_api(const char *path) {
    return strncmp(path, SW_API_PATH, strlen(SW_API_PATH)) == 0;
}

const char *sw_gate_allows(const char *path) { return is_api(path) ? "POST" : "GET, HEAD"; }

static bool is_served(struct evhttp_request *request, const char *path) {
    enum evhttp_cmd_type method = evhttp_request_get_command(request);
    if (is_api(path))
        return method == EVHTTP_REQ_POST;
    return method == EVHTTP_REQ_GET || method == EVHTTP_REQ_HEAD;
}

/* A name that was made to point here afterwards ("rebinding") still stands in Host. */
static bool host_is_ours(const char *host, int port) {
    static const char *const names[] = {"127.0.0.1", "localhost"};
    char ours[32];
    for (size_t i = 0; host != NULL && i < sizeof names / sizeof *names; i++) {
        snprintf(ours, sizeof ours, "%s:%d", names[i], port);
        if (strcmp(host, ours) == 0)
            return true;
    }
    return false;
}

/* Another page of the same browser has another origin. */
static bool origin_is_ours(const char *origin, const char *host) {
    static const char scheme[] = "http://";
    return origin != NULL && strncmp(origin, scheme, strlen(scheme)) == 0 &&
           strcmp(origin + strlen(scheme), host) == 0;
}

/* "application/json", with charset=utf-8 or without: a form of another page cannot send it. */
static bool type_is_json(const char *type) {
    static const char json[] = "application/json", charset[] = "charset=utf-8";
    if (type == NULL || evutil_ascii_strncasecmp(type, json, strlen(json)) != 0)
        return false;
    type += strlen(json);
    type += strspn(type, " \t");
    if (*type == '\0')
        return true;
    if (*type++ != ';')
        return false;
    type += strspn(type, " \t");
    return evutil_ascii_strcasecmp(type, charset) == 0;
}

/* In a time that tells nothing of how much of it was right. */
static bool token_is_ours(const char *told, const char *token) {
    size_t length = strlen(token);
    if (told == NULL || strlen(told) != length)
        return false;
    unsigned char differ = 0;
    for (size_t i = 0; i < length; i++)
        differ |= (unsigned char)(told[i] ^ token[i]);
    return differ == 0;
}

static size_t header_bytes(struct evhttp_request *request) {
    size_t bytes = 0;
    const struct evkeyvalq *headers = evhttp_request_get_input_headers(request);
    for (const struct evkeyval *at = headers->tqh_first; at != NULL; at = at->next.tqe_next)
        bytes += strlen(at->key) + strlen(at->value) + 4;
    return bytes;
}

static bool refuse(sw_refusal *out, int code, const char *what, const char *why, const char *mend) {
    *out = (sw_refusal){code, what, why, mend};
    return false;
}

/* "+2" and " 2" are numbers to evhttp. */
static bool is_whole_number(const char *text) {
    return text != NULL && text[0] != '\0' && strspn(text, "0123456789") == strlen(text);
}

/* What can be read in two ways is not read. (Two ways to tell the length: libevent 2.1.12 as Debian
 * mended it in 2026 refuses them itself, others may not.) */
static bool is_plain(sw_refusal *out, struct evhttp_request *request) {
    const char *uri = evhttp_request_get_uri(request);
    bool version = request->major == 1 && (request->minor == 0 || request->minor == 1);
    if (!version || uri == NULL || uri[0] != '/' || header_bytes(request) > SW_HEADERS_MOST)
        *out = sw_gate_unreadable(400);
    else if (stands(request, "Transfer-Encoding") && stands(request, "Content-Length"))
        return refuse(out, 400, "the request tells its length in two ways",
                      "what follows could be taken for another request",
                      "send either Content-Length or Transfer-Encoding");
    else if (stands(request, "Content-Length") &&
             !is_whole_number(alone(request, "Content-Length")))
        return refuse(out, 400, "the request tells its length twice, or not as a whole number",
                      "what follows could be taken for another request", "send one Content-Length");
    else
        return true;
    return false;
}

static bool lets_in_post(sw_refusal *out, struct evhttp_request *request, const char *host,
                         const char *token) {
    if (!origin_is_ours(alone(request, "Origin"), host))
        return refuse(out, 403, "the request does not come from the desk's own page",
                      "other pages of the browser may not ask the desk anything",
                      "open the address that swapworth desk printed");
    if (!type_is_json(alone(request, "Content-Type")))
        return refuse(out, 415, "the request is not JSON",
                      "the desk takes application/json in UTF-8, and nothing else",
                      "send Content-Type: application/json");
    if (!token_is_ours(alone(request, "X-Desk-Token"), token))
        return refuse(out, 401, "the request lacks the desk's token, or has another",
                      "only who was given the address may ask; a desk begun anew has a new token",
                      "open the address that swapworth desk printed, with all behind the #");
    return true;
}

bool sw_gate_lets_in(sw_refusal *out, struct evhttp_request *request, int port, const char *token) {
    if (!is_plain(out, request))
        return false;
    const char *host = alone(request, "Host"), *path = evhttp_request_get_uri(request);
    if (!host_is_ours(host, port))
        return refuse(out, 403, "the request is not for this desk",
                      "its Host header must be 127.0.0.1 or localhost with the desk's port, once",
                      "open the address that swapworth desk printed");
    if (!is_served(request, path))
        return refuse(out, 405, "this is not asked for in that way",
                      "questions are sent by POST, the page's files fetched by GET",
                      "use the method that Allow names");
    return !is_post(request) || lets_in_post(out, request, host, token);
}

sw_refusal sw_gate_unreadable(int code) {
    if (code == 413)
        return (sw_refusal){413, "the request is too long", "a body has at most 64 kB",
                            "send it in parts"};
    if (code == 405)
        return (sw_refusal){405, "this is not asked for in that way",
                            "questions are sent by POST, the page's files fetched by GET",
                            "use GET or POST"};
    if (code >= 500)
        return (sw_refusal){code, "the desk could not answer",
                            "a fault of the program, or no memory", "try again"};
    return (sw_refusal){400, "the request could not be understood",
                        "it is no HTTP/1.1, asks for no path, or its headers have over 16 kB",
                        "ask as the desk's own page does"};
}
