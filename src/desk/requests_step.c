/* The requests that mend a job: at once, or in a worker whose answer comes back as bytes. */
#include "desk/requests.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Exit codes of the worker, as those of the command line. */
#define NO_MEMORY 70
#define NOT_WRITTEN 74

/* One heavy step; it owns itself through its arena. */
typedef struct stepping {
    sw_arena *arena;
    sw_desk *desk;
    sw_call *call;
    sw_work *work;
    const sw_step_kind *kind;
    const char *bytes; /* of the body */
    size_t length;
} stepping;

static void reply(sw_call *call, sw_step *step) {
    if (step->answer == NULL)
        sw_call_reply_json(call, 500, NULL);
    else
        sw_call_reply_text(call, &(sw_reply){.code = step->status, .exit = -1}, step->answer,
                           step->length);
    sw_step_free(step);
}

/* ---- in the worker -------------------------------------------------------------------------- */

/* Sheets and trays are as they were when the worker was forked. */
static int run(void *context) {
    stepping *s = context;
    const sw_json *body = NULL;
    sw_complaints *complaints = sw_complaints_new();
    sw_step step = {0};
    char *bytes = NULL;
    size_t length = 0;
    if (complaints == NULL ||
        sw_json_read(&body, s->arena, "request", s->bytes, s->length, complaints) != SW_OK)
        return NO_MEMORY; /* the body was read before, in the desk */
    sw_step_run(&step, s->kind, s->desk->sheets, body);
    if (!sw_step_pack(&bytes, &length, &step))
        return NO_MEMORY;
    bool good = fwrite(bytes, 1, length, stdout) == length && fflush(stdout) == 0;
    free(bytes);
    sw_step_free(&step);
    sw_complaints_free(complaints);
    return good ? 0 : NOT_WRITTEN;
}

/* ---- in the desk ---------------------------------------------------------------------------- */

static void on_left(void *context) {
    stepping *s = context;
    sw_work_stop(s->work);
    sw_arena_free(s->arena);
}

static bool read_step(sw_step *out, const sw_outcome *outcome) {
    char *bytes = sw_file_bytes(outcome->output, outcome->output_length);
    bool good = bytes != NULL && sw_step_unpack(out, bytes, outcome->output_length);
    free(bytes);
    return good;
}

static void tell_failure(sw_call *call, int exit) {
    static const char mend[] = "ask again; the job in hand is as it was";
    if (exit == NO_MEMORY)
        sw_call_refuse(call, 500, "the work could not be done", "memory ran out",
                       "close other programs and ask again; the job in hand is as it was");
    else if (exit == NOT_WRITTEN)
        sw_call_refuse(call, 500, "the answer could not be kept",
                       "there is no room where temporary files lie, or it is larger than 256 MiB",
                       "make room there and ask again; the job in hand is as it was");
    else if (exit == 0)
        sw_call_refuse(call, 500, "the answer could not be read",
                       "its temporary file is cut off or cannot be read, or memory ran out", mend);
    else
        sw_call_refuse(call, 500, "the work could not be done",
                       "it ended with an exit code that it has no word for", mend);
}

static void on_done(void *context, const sw_outcome *outcome) {
    stepping *s = context;
    sw_step step = {0};
    if (outcome->exit < 0) {
        sw_call_refuse(s->call, 500, "the work came to an end by itself", outcome->why,
                       "ask again; the job in hand is as it was");
    } else if (outcome->exit != 0 || !read_step(&step, outcome)) {
        tell_failure(s->call, outcome->exit);
    } else {
        sw_step_settle(&step, s->desk->sheets);
        reply(s->call, &step);
    }
    sw_arena_free(s->arena);
}

/* ---- from the request ----------------------------------------------------------------------- */

static stepping *stepping_new(const sw_request *request, const sw_step_kind *kind,
                              const char *bytes, size_t length) {
    sw_arena *arena = sw_arena_new();
    stepping *s = arena == NULL ? NULL : SW_NEW(arena, stepping, 1);
    const char *kept = s == NULL ? NULL : sw_arena_text(arena, bytes, length);
    if (kept == NULL) {
        sw_arena_free(arena);
        return NULL;
    }
    *s = (stepping){.arena = arena,
                    .desk = request->desk,
                    .call = request->call,
                    .kind = kind,
                    .bytes = kept,
                    .length = length};
    return s;
}

static void begin(const sw_request *request, const sw_step_kind *kind, const char *bytes,
                  size_t length) {
    stepping *s = stepping_new(request, kind, bytes, length);
    sw_status status =
        s == NULL ? SW_NO_MEMORY
                  : sw_workers_begin(&s->work, request->desk->workers,
                                     &(sw_task){.run = run, .done = on_done, .context = s});
    if (status == SW_OK) {
        sw_call_watch(request->call, on_left, s);
        return;
    }
    if (status == SW_CANNOT_WRITE)
        sw_call_refuse(request->call, 503, "too many questions wait already",
                       "the desk works on three at once, and lets eight wait",
                       "wait for the answers, or stop what is no longer needed");
    else
        sw_call_reply_json(request->call, 500, NULL);
    if (s != NULL)
        sw_arena_free(s->arena);
}

void sw_answer_step(const sw_request *request, const sw_step_kind *kind, const char *bytes,
                    size_t length) {
    sw_step step = {0};
    const char *id = sw_request_text(request, "sheet");
    if (sw_step_is_heavy(kind)) {
        /* A use that is noticed in the worker alone goes with it. */
        if (id != NULL)
            sw_sheets_find(request->desk->sheets, id);
        begin(request, kind, bytes, length);
        return;
    }
    sw_step_run(&step, kind, request->desk->sheets, request->body);
    sw_step_settle(&step, request->desk->sheets);
    reply(request->call, &step);
}
