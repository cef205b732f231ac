/* Who may ask: FORMATS.md section 37, "Defence". */
#ifndef SW_DESK_HTTP_GATE_H
#define SW_DESK_HTTP_GATE_H

#include <event2/http.h>
#include <stdbool.h>

#define SW_API_PATH "/api/"
#define SW_HEADERS_MOST 16384
#define SW_BODY_MOST 65536

typedef struct sw_refusal {
    int code;
    const char *what, *why, *mend;
} sw_refusal;

bool sw_gate_lets_in(sw_refusal *out, struct evhttp_request *request, int port, const char *token);
/* The methods of that path. */
const char *sw_gate_allows(const char *path);
/* What is said of a request that evhttp did not understand. */
sw_refusal sw_gate_unreadable(int code);

#endif
