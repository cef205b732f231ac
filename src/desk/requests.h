/* The requests of the page by name, and what their handlers share. */
#ifndef SW_DESK_REQUESTS_H
#define SW_DESK_REQUESTS_H

#include "desk/desk.h"
#include "desk/http.h"
#include "desk/papers_made.h"
#include "desk/sheets.h"
#include "desk/step.h"
#include "desk/workers.h"
#include "read/json.h"
#include "read/json_text.h"

#define SW_DESK_SIGNALS 4

typedef struct sw_desk {
    const sw_desk_job *job;
    struct event_base *base;
    sw_http *http;
    sw_workers *workers;
    sw_sheets *sheets;
    sw_papers_made *papers;
    char *folder;  /* private, for all that is temporary */
    int held;      /* that folder, against sweeps of others; -1: not */
    char *catalog; /* of the job as it was at the beginning; NULL: none is named */
    char token[SW_TOKEN_DIGITS + 1];
    struct event *stops[SW_DESK_SIGNALS]; /* signals that end it */
} sw_desk;

/* One request in hand. The arena goes when the handler returns. */
typedef struct sw_request {
    sw_desk *desk;
    sw_call *call;
    sw_arena *arena;
    const sw_json *body;
    sw_complaints *complaints;
} sw_request;

/* For sw_http_takes; the context is the desk. */
void sw_take_api(void *desk, sw_call *call, const char *name, const char *bytes, size_t length);
void sw_take_get(void *desk, sw_call *call, const char *path);

/* ---- what handlers need --------------------------------------------------------------------- */

/* The text member of that name; NULL where there is none. */
const char *sw_request_text(const sw_request *request, const char *name);
/* The sheet that the request names. NULL: there is none, and that is told. */
sw_desk_sheet *sw_request_sheet(const sw_request *request);
/* The same, and it holds a job. */
sw_desk_sheet *sw_request_job(const sw_request *request);
/* The catalog that a sheet's job is read with, as a command run from anywhere finds it; `sheet`
 * NULL or without a job: the desk's. `*out` NULL where none is named. Lives in the arena.
 * SW_NO_MEMORY. */
sw_status sw_desk_catalog(const char **out, const sw_desk *desk, sw_arena *arena,
                          const sw_desk_sheet *sheet);
/* Ends the request with its complaints, as the command line prints them with --json. */
void sw_refuse_with(const sw_request *request, int code);
void sw_reply_sketch(const sw_request *request, int code, const sw_sketch *root);
/* What stands in an open file, NUL behind it, to be freed; NULL: it cannot be read. */
char *sw_file_bytes(int file, size_t length);
/* The same as `count` texts of an array. */
const char **sw_texts_of(sw_arena *arena, const sw_json *list);

/* ---- the handlers --------------------------------------------------------------------------- */

/* The bytes are those of the body. */
void sw_answer_step(const sw_request *request, const sw_step_kind *kind, const char *bytes,
                    size_t length);
void sw_answer_ask(const sw_request *request);
void sw_answer_paper(const sw_request *request);
void sw_answer_parts(const sw_request *request);
void sw_answer_words(const sw_request *request);
void sw_answer_profiles(const sw_request *request);

#endif
