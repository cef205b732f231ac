/* The connections: how many there are, how long a request may take to arrive, and what evhttp
 * answers by itself. It has no cap, no deadline for a whole request, and pages of its own for what
 * it cannot read. */
#ifndef SW_DESK_LINES_H
#define SW_DESK_LINES_H

#include <event2/event.h>
#include <event2/http.h>
#include <stdbool.h>

typedef struct sw_lines sw_lines;
typedef struct sw_line sw_line;

/* Listens on 127.0.0.1; `port` 0: one that is free. NULL where that fails (errno). `own_reply`
 * makes what stands in place of evhttp's own page of that status: a whole reply, head and body. */
sw_lines *sw_lines_new(struct event_base *base, struct evhttp *http, int port,
                       void (*own_reply)(struct evbuffer *out, int code));
/* After the evhttp was freed, and before the base. */
void sw_lines_free(sw_lines *lines);
int sw_lines_port(const sw_lines *lines);
/* How many connections there are. */
int sw_lines_count(const sw_lines *lines);

/* The request has arrived whole: its answer may take its time. NULL where the connection is none of
 * ours. */
sw_line *sw_line_arrived(sw_lines *lines, struct evhttp_connection *connection);
/* The answer is on its way, and has a deadline again. */
void sw_line_replying(sw_line *line);

#endif
