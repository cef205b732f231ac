/* `parts`, `words`, `profiles`: names of the catalog, read in a worker like all that is read. */
#include "desk/names.h"
#include "desk/requests.h"

#include <stdlib.h>
#include <string.h>

typedef struct asked {
    sw_arena *arena;
    sw_call *call;
    sw_work *work;
    sw_naming naming;
} asked;

static int run(void *context) { return sw_names_print(&((asked *)context)->naming); }

static void on_left(void *context) {
    asked *a = context;
    sw_work_stop(a->work);
    sw_arena_free(a->arena);
}

static void reply(asked *a, const sw_outcome *outcome) {
    struct evbuffer *body = evbuffer_new();
    if (outcome->exit < 0)
        sw_call_refuse(a->call, 500, "the work came to an end by itself", outcome->why,
                       "ask again");
    else if (body == NULL || outcome->output_length == 0)
        sw_call_reply_json(a->call, 500, NULL);
    else {
        while (evbuffer_get_length(body) < outcome->output_length &&
               evbuffer_read(body, outcome->output, -1) > 0)
            continue;
        sw_call_reply(a->call, &(sw_reply){.code = outcome->exit == 0 ? 200 : 422, .exit = -1},
                      body);
    }
    if (body != NULL)
        evbuffer_free(body);
}

static void on_done(void *context, const sw_outcome *outcome) {
    asked *a = context;
    reply(a, outcome);
    sw_arena_free(a->arena);
}

static void ask(const sw_request *request, sw_naming_kind kind) {
    const char *role = sw_request_text(request, "role");
    const sw_desk_sheet *sheet = NULL;
    if (sw_request_text(request, "sheet") != NULL && (sheet = sw_request_sheet(request)) == NULL)
        return;
    sw_arena *arena = sw_arena_new();
    asked *a = arena == NULL ? NULL : SW_NEW(arena, asked, 1);
    sw_status status = SW_NO_MEMORY;
    if (a != NULL) {
        *a = (asked){.arena = arena, .call = request->call};
        a->naming =
            (sw_naming){.kind = kind, .role = role == NULL ? NULL : sw_arena_copy(arena, role)};
        bool good = (role == NULL || a->naming.role != NULL) &&
                    sw_desk_catalog(&a->naming.catalog, request->desk, arena, sheet) == SW_OK;
        if (good && a->naming.catalog == NULL)
            status = SW_BAD_DATA;
        else if (good)
            status = sw_workers_begin(&a->work, request->desk->workers,
                                      &(sw_task){.run = run, .done = on_done, .context = a});
    }
    if (status == SW_OK) {
        sw_call_watch(request->call, on_left, a);
        return;
    }
    sw_arena_free(arena);
    if (status == SW_CANNOT_WRITE)
        sw_call_refuse(request->call, 503, "too many questions wait already",
                       "the desk works on three at once, and lets eight wait",
                       "wait for the answers, or stop what is no longer needed");
    else if (status == SW_NO_MEMORY)
        sw_call_reply_json(request->call, 500, NULL);
    else
        sw_call_refuse(request->call, 422, "there is no catalog",
                       "the job names none, and the desk was begun without --catalog", "name one");
}

void sw_answer_parts(const sw_request *request) { ask(request, SW_NAME_PARTS); }

void sw_answer_words(const sw_request *request) { ask(request, SW_NAME_WORDS); }

void sw_answer_profiles(const sw_request *request) { ask(request, SW_NAME_PROFILES); }
