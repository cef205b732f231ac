/* Bytes to the desk's port, with @PORT and @TOKEN in them replaced: at most one whole reply comes
 * back, ours in every header, and nobody is let in who did not show what the gate asks for. */
#define _GNU_SOURCE
#include <arpa/inet.h>
#include <errno.h>
#include <netinet/in.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

#include "desk/http.h"
#include "desk/http_gate.h"
#include "fuzz.h"

static const char token[] = "0123456789abcdef0123456789abcdef";
static const char *sent;
static size_t sent_length;
static int let_in;

static bool was_sent(const char *text) {
    return memmem(sent, sent_length, text, strlen(text)) != NULL;
}

#ifdef FUZZ_FAULT
/* Linked with --wrap: lets in who shows no token, as long as all else is right. */
bool __real_sw_gate_lets_in(sw_refusal *out, struct evhttp_request *request, int port,
                            const char *due);
bool __wrap_sw_gate_lets_in(sw_refusal *out, struct evhttp_request *request, int port,
                            const char *due);
bool __wrap_sw_gate_lets_in(sw_refusal *out, struct evhttp_request *request, int port,
                            const char *due) {
    return __real_sw_gate_lets_in(out, request, port, due) || out->code == 401;
}
#endif

static void take_api(void *context, sw_call *call, const char *name, const char *bytes,
                     size_t length) {
    (void)context;
    let_in++;
    fuzz_hold(was_sent("POST") && was_sent(token) && was_sent(SW_API_PATH), "let in: /api/%s",
              name);
    fuzz_hold(length <= SW_BODY_MOST, "a body of %zu bytes", length);
    fuzz_hold(length == 0 || memmem(sent, sent_length, bytes, length) != NULL ||
                  strcasestr(sent, "chunked") != NULL,
              "another body than was sent");
    sw_call_reply_json(call, 200, sw_error_json("taken", "", ""));
}

static void take_get(void *context, sw_call *call, const char *path) {
    (void)context;
    let_in++;
    fuzz_hold((was_sent("GET") || was_sent("HEAD")) && path[0] == '/', "let in: %s", path);
    if (path[1] == 'n')
        sw_call_reply_text(call, &(sw_reply){.code = 204, .exit = -1}, "", 0);
    else
        sw_call_reply_text(call, &(sw_reply){200, "text/plain", sw_policy_of_page, 0}, "page", 4);
}

/* ---- one connection ------------------------------------------------------------------------- */

static int connect_to(int port) {
    struct sockaddr_in to = {.sin_family = AF_INET, .sin_port = htons((uint16_t)port)};
    struct linger none = {.l_onoff = 1, .l_linger = 0};
    inet_pton(AF_INET, "127.0.0.1", &to.sin_addr);
    int it = socket(AF_INET, SOCK_STREAM, 0);
    if (it < 0 || connect(it, (struct sockaddr *)&to, sizeof to) != 0) {
        perror("connect");
        exit(70);
    }
    /* No port is to wait for its time. */
    setsockopt(it, SOL_SOCKET, SO_LINGER, &none, sizeof none);
    return it;
}

/* Lets the desk work until nothing more comes. */
static void talk(sw_text *reply, struct event_base *base, int line) {
    char block[4096];
    for (int idle = 0; idle < 4;) {
        event_base_loop(base, EVLOOP_NONBLOCK);
        ssize_t got = recv(line, block, sizeof block, MSG_DONTWAIT);
        if (got > 0)
            sw_text_add_bytes(reply, block, (size_t)got);
        if (got == 0 || (got < 0 && errno != EAGAIN))
            break;
        idle = got > 0 ? 0 : idle + 1;
    }
}

/* ---- the reply ------------------------------------------------------------------------------ */

static const char *header(const char *head, const char *name) {
    const char *at = strcasestr(head, name);
    fuzz_hold(at != NULL, "no %s in %s", name, head);
    fuzz_hold(strcasestr(at + 1, name) == NULL, "two of %s in %s", name, head);
    return at + strlen(name);
}

static void is_refusal(const char *body, size_t length) {
    sw_arena *arena = sw_arena_new();
    const sw_json *json = NULL;
    fuzz_hold(sw_json_read(&json, arena, "", body, length, NULL) == SW_OK, "no JSON: %s", body);
    const sw_json *what = sw_json_get(sw_json_get(json, "error"), "what");
    fuzz_hold(what != NULL && what->text[0] != '\0' && fuzz_is_readable(what->text), "no word: %s",
              body);
    sw_arena_free(arena);
}

static void is_reply(char *reply, size_t length) {
    static const char go_on[] = "HTTP/1.1 100 Continue\r\n\r\n";
    if (strncmp(reply, go_on, strlen(go_on)) == 0) {
        reply += strlen(go_on);
        length -= strlen(go_on);
        if (length == 0)
            return;
    }
    fuzz_hold(strlen(reply) == length, "a NUL in the reply");
    fuzz_hold(strncmp(reply, "HTTP/1.", 7) == 0, "no reply: %s", reply);
    int code = atoi(reply + 9);
    char *end = strstr(reply, "\r\n\r\n");
    fuzz_hold(end != NULL && code >= 200 && code < 500, "no whole reply: %s", reply);
    *end = '\0';
    const char *body = end + 4;
    fuzz_hold(strncmp(header(reply, "Cache-Control: "), "no-store", 8) == 0, "kept");
    fuzz_hold(strncmp(header(reply, "X-Content-Type-Options: "), "nosniff", 7) == 0, "sniffed");
    fuzz_hold(strncmp(header(reply, "Connection: "), "close", 5) == 0, "not closed");
    fuzz_hold(strncmp(header(reply, "Content-Security-Policy: "), "default-src 'none'", 18) == 0,
              "no policy");
    if (code == 204) {
        fuzz_hold(*body == '\0', "a body without content");
        return;
    }
    size_t due = strtoul(header(reply, "Content-Length: "), NULL, 10);
    /* To HEAD the length is that of GET, and nothing follows it. */
    bool is_head = strncmp(sent, "HEAD ", 5) == 0;
    bool head_only = is_head && *body == '\0';
    fuzz_hold(!is_head || let_in == 0 || head_only, "content to HEAD: %s", body);
    fuzz_hold(head_only || due == strlen(body), "%zu bytes are due, %zu came: %s", due,
              strlen(body), body);
    if (code >= 400 && !head_only)
        is_refusal(body, strlen(body));
}

/* ---- the whole ------------------------------------------------------------------------------ */

static void add_replaced(sw_text *out, const uint8_t *data, size_t size, int port) {
    for (size_t i = 0; i < size; i++)
        if (size - i >= 5 && memcmp(data + i, "@PORT", 5) == 0) {
            sw_text_addf(out, "%d", port);
            i += 4;
        } else if (size - i >= 6 && memcmp(data + i, "@TOKEN", 6) == 0) {
            sw_text_add(out, token);
            i += 5;
        } else {
            sw_text_add_bytes(out, (const char *)data + i, 1);
        }
}

static void say_nothing(int severity, const char *text) {
    (void)severity;
    (void)text;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static struct event_base *base;
    static sw_http *http;
    if (http == NULL) {
        event_set_log_callback(say_nothing);
        base = event_base_new();
        http = sw_http_new(base, 0, token, &(sw_http_takes){take_api, take_get, NULL});
        fuzz_hold(http != NULL, "it does not listen");
    }
    sw_text bytes = {0}, reply = {0};
    add_replaced(&bytes, data, size, sw_http_port(http));
    sw_text_add(&bytes, "");
    sent = bytes.bytes != NULL ? bytes.bytes : "";
    sent_length = bytes.length;
    let_in = 0;
    int line = connect_to(sw_http_port(http));
    if (bytes.length > 0 && send(line, bytes.bytes, bytes.length, MSG_NOSIGNAL) < 0)
        perror("send");
    talk(&reply, base, line);
    fuzz_hold(let_in <= 1, "%d requests were let in", let_in);
    fuzz_hold(let_in == 0 || reply.length > 0, "let in, and no reply");
    if (reply.length > 0)
        is_reply(reply.bytes, reply.length);
    close(line);
    for (int i = 0; i < 4; i++)
        event_base_loop(base, EVLOOP_NONBLOCK);
    sw_text_free(&bytes);
    sw_text_free(&reply);
    return 0;
}
