/* `ask` and `paper`: a command of the program in a worker, on the text of a sheet. */
#include "base/whole_file.h"
#include "desk/questions.h"
#include "desk/requests.h"
#include "render/small_json.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* One question from its request to its reply; it owns itself through its arena. */
typedef struct asked {
    sw_arena *arena;
    sw_desk *desk;
    sw_call *call;
    sw_work *work;
    const sw_question *paper; /* NULL: a question */
    sw_command_line line;
    /* Changes that come first, and the text that they are made in. */
    const char **settings;
    size_t setting_count;
    const char *name, *text, *catalog;
    size_t length;
} asked;

/* ---- in the worker -------------------------------------------------------------------------- */

static bool put_file(const char *name, const char *bytes, size_t length) {
    int file = open(name, O_WRONLY | O_TRUNC);
    bool good = file >= 0 && sw_bytes_write(file, bytes, length);
    return file >= 0 && close(file) == 0 && good;
}

/* In a folder of its own: the job may have any name. */
static bool give_file(const char *text) {
    if (mkdir(sw_given_folder(), 0700) != 0)
        return false;
    int file = open(sw_given_file(), O_WRONLY | O_CREAT | O_EXCL, 0600);
    bool good = file >= 0 && sw_bytes_write(file, text, strlen(text));
    return file >= 0 && close(file) == 0 && good;
}

/* The file of the job becomes the changed one. 0, or the exit code where that cannot be: complaints
 * are told as the command tells them. */
static int change(const asked *a, sw_complaints *complaints, sw_complaints *unsaid) {
    char *text = NULL;
    sw_changed changed = {0};
    sw_status status = sw_text_change(&changed, a->text, a->length, a->name, a->catalog,
                                      a->settings, a->setting_count, unsaid, complaints);
    if (status == SW_OK) {
        bool good = put_file(a->name, changed.text, changed.length);
        free(changed.text);
        return good ? 0 : 73;
    }
    if (status == SW_NO_MEMORY || sw_render_complaints_json(&text, complaints) != SW_OK)
        return 70;
    fputs(text, stdout);
    free(text);
    return status == SW_BAD_DATA ? 64 : 70;
}

static int run(void *context) {
    asked *a = context;
    int code = 0;
    if (a->setting_count > 0) {
        sw_complaints *complaints = sw_complaints_new(), *unsaid = sw_complaints_new();
        code = complaints == NULL || unsaid == NULL ? 70 : change(a, complaints, unsaid);
        sw_complaints_free(complaints);
        sw_complaints_free(unsaid);
    }
    if (code != 0)
        return code;
    if (a->paper != NULL && sw_paper_file(a->paper) != NULL && mkdir("paper", 0700) != 0)
        return 73;
    if (a->line.given != NULL && !give_file(a->line.given))
        return 73;
    return a->desk->job->run(a->line.count, a->line.words);
}

/* ---- in the desk ---------------------------------------------------------------------------- */

static void asked_free(asked *a) {
    if (a != NULL)
        sw_arena_free(a->arena);
}

/* The connection ended: nobody waits for the answer. */
static void on_left(void *context) {
    asked *a = context;
    sw_work_stop(a->work);
    asked_free(a);
}

static int code_of(int exit) {
    switch (exit) {
    case 0:
    case 1:
    case 2:
        return 200;
    case 64:
        return 400;
    case 65:
        return 422;
    default:
        return 500;
    }
}

/* What the command said on standard error, as one sentence: its first line. */
static const char *sentence(sw_arena *arena, const char *told) {
    static const char lead[] = "swapworth: ";
    if (strncmp(told, lead, strlen(lead)) == 0)
        told += strlen(lead);
    size_t length = strcspn(told, "\n");
    if (length > 0 && told[length - 1] == '.')
        length--;
    return length == 0 ? "the command told nothing" : sw_arena_text(arena, told, length);
}

/* More time mends what came to an end by itself, but no word that is wrong and no missing file. */
static const char *mend_of(int exit) {
    switch (exit) {
    case 64:
        return "say it as the command line takes it";
    case 66:
        return "put it where the job looks for it, and ask again";
    default:
        return "ask again; where that does not help, ask for less or give it more --seconds";
    }
}

static void reply_error(asked *a, int code, int exit, const char *what, const char *why) {
    char *json = sw_error_json(what, why, mend_of(exit));
    if (json == NULL) {
        sw_call_reply_json(a->call, 500, NULL);
        return;
    }
    sw_call_reply_text(a->call, &(sw_reply){.code = code, .exit = exit}, json, strlen(json));
    free(json);
}

/* All that the command printed, byte for byte. */
static void reply_output(asked *a, const sw_outcome *outcome) {
    struct evbuffer *body = evbuffer_new();
    int file = dup(outcome->output);
    if (body == NULL || file < 0 ||
        evbuffer_add_file(body, file, 0, (ev_off_t)outcome->output_length) != 0) {
        if (file >= 0)
            close(file);
        sw_call_reply_json(a->call, 500, NULL);
    } else {
        sw_call_reply(a->call, &(sw_reply){.code = code_of(outcome->exit), .exit = outcome->exit},
                      body);
    }
    if (body != NULL)
        evbuffer_free(body);
}

static void on_answer(void *context, const sw_outcome *outcome) {
    asked *a = context;
    int code = code_of(outcome->exit);
    if (outcome->exit < 0)
        reply_error(a, 500, -1, "the work came to an end by itself", outcome->why);
    else if (code == 500 || outcome->output_length == 0)
        reply_error(a, code == 200 ? 500 : code, outcome->exit,
                    "the question could not be answered", sentence(a->arena, outcome->told));
    else
        reply_output(a, outcome);
    asked_free(a);
}

/* ---- papers --------------------------------------------------------------------------------- */

static char *paper_bytes(const asked *a, const sw_outcome *outcome, size_t *length) {
    struct stat info;
    *length = outcome->output_length;
    if (sw_paper_file(a->paper) == NULL)
        return sw_file_bytes(outcome->output, *length);
    const char *path = sw_arena_format(a->arena, "%s/%s", outcome->folder, sw_paper_file(a->paper));
    int file = path == NULL ? -1 : open(path, O_RDONLY | O_NOFOLLOW);
    char *bytes = NULL;
    if (file >= 0 && fstat(file, &info) == 0) {
        *length = (size_t)info.st_size;
        bytes = sw_file_bytes(file, *length);
    }
    if (file >= 0)
        close(file);
    return bytes;
}

static void reply_ticket(asked *a, int exit, const char *ticket) {
    char *text = NULL;
    sw_sketch *root = sw_sketch_new(a->arena);
    sw_sketch_text(root, "schema", SW_DESK_SCHEMA);
    sw_sketch_text(root, "ticket", ticket);
    sw_sketch_whole(root, "exit", exit);
    if (sw_sketch_write(&text, root) != SW_OK)
        text = NULL;
    sw_call_reply_json(a->call, 200, text);
}

/* Without the option --json complaints stand on standard error alone, as sentences. */
static void on_paper(void *context, const sw_outcome *outcome) {
    asked *a = context;
    size_t length = 0;
    char *bytes =
        outcome->exit >= 0 && outcome->exit <= 2 ? paper_bytes(a, outcome, &length) : NULL;
    if (outcome->exit < 0)
        reply_error(a, 500, -1, "the work came to an end by itself", outcome->why);
    else if (bytes == NULL)
        reply_error(a, outcome->exit <= 2 ? 422 : code_of(outcome->exit), outcome->exit,
                    "the paper could not be made", sentence(a->arena, outcome->told));
    else {
        const char *ticket = sw_paper_keep(a->desk->papers, sw_paper_type(a->paper), bytes, length,
                                           a->desk->job->now());
        if (ticket == NULL)
            sw_call_reply_json(a->call, 500, NULL);
        else
            reply_ticket(a, outcome->exit, ticket);
    }
    asked_free(a);
}

/* ---- from the request ----------------------------------------------------------------------- */

static const char *last_name(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash == NULL ? path : slash + 1;
}

static asked *asked_new(const sw_request *request, const sw_question *paper) {
    sw_arena *arena = sw_arena_new();
    asked *a = arena == NULL ? NULL : SW_NEW(arena, asked, 1);
    if (a == NULL) {
        sw_arena_free(arena);
        return NULL;
    }
    *a = (asked){.arena = arena, .desk = request->desk, .call = request->call, .paper = paper};
    return a;
}

static bool keep_changes(asked *a, const sw_request *request, const sw_desk_sheet *sheet,
                         const sw_asking *asking) {
    const sw_json *set = sw_json_get(request->body, "set");
    if (set == NULL || set->count == 0)
        return true;
    a->settings = sw_texts_of(a->arena, set);
    a->setting_count = set->count;
    a->name = sw_arena_copy(a->arena, asking->file);
    a->text = sw_arena_text(a->arena, sheet->text, sheet->length);
    a->length = sheet->length;
    a->catalog = asking->catalog;
    return a->settings != NULL && a->name != NULL && a->text != NULL;
}

static void begin(const sw_request *request, const sw_question *question, bool is_paper,
                  const sw_json *words) {
    sw_desk *desk = request->desk;
    sw_desk_sheet *sheet = sw_request_job(request);
    if (sheet == NULL)
        return;
    asked *a = asked_new(request, is_paper ? question : NULL);
    if (a == NULL) {
        sw_call_reply_json(request->call, 500, NULL);
        return;
    }
    sw_asking asking = {.file = last_name(sw_sheet_reads_as(desk->sheets, sheet)),
                        .seconds = desk->job->seconds};
    sw_status status = sw_desk_catalog(&asking.catalog, desk, a->arena, sheet);
    if (status == SW_OK)
        status =
            sw_question_words(&a->line, a->arena, question, words, &asking, request->complaints);
    if (status == SW_OK && !keep_changes(a, request, sheet, &asking))
        status = SW_NO_MEMORY;
    if (status == SW_OK)
        status = sw_workers_begin(&a->work, desk->workers,
                                  &(sw_task){.run = run,
                                             .done = is_paper ? on_paper : on_answer,
                                             .context = a,
                                             .name = asking.file,
                                             .text = sheet->text,
                                             .length = sheet->length});
    if (status == SW_OK) {
        sw_call_watch(request->call, on_left, a);
        return;
    }
    if (status == SW_BAD_DATA)
        sw_refuse_with(request, 400);
    else if (status == SW_CANNOT_WRITE)
        sw_call_refuse(request->call, 503, "too many questions wait already",
                       "the desk works on three at once, and lets eight wait",
                       "wait for the answers, or stop what is no longer needed");
    else
        sw_call_reply_json(request->call, 500, NULL);
    asked_free(a);
}

void sw_answer_ask(const sw_request *request) {
    const sw_question *question = sw_question_find(sw_request_text(request, "question"));
    if (question == NULL)
        sw_call_refuse(request->call, 400, "the desk knows no such question", "",
                       "FORMATS.md section 37 lists them");
    else
        begin(request, question, false, sw_json_get(request->body, "words"));
}

/* Of the words of a paper only the option and what was measured may be told. */
void sw_answer_paper(const sw_request *request) {
    const sw_question *paper = sw_paper_find(sw_request_text(request, "paper"));
    const sw_json *option = sw_json_get(request->body, "option"),
                  *measured = sw_json_get(request->body, "measured");
    sw_json told[2];
    sw_json words = {.kind = SW_JSON_OBJECT, .children = told};
    if (option != NULL)
        told[words.count++] = *option;
    if (measured != NULL)
        told[words.count++] = *measured;
    if (paper == NULL)
        sw_call_refuse(request->call, 400, "the desk makes no such paper", "",
                       "FORMATS.md section 37 lists them");
    else
        begin(request, paper, true, &words);
}
