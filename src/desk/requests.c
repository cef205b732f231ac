/* Requests by table: their names, the members of their bodies, their handlers. */
#include "desk/requests.h"

#include "desk/assets.h"
#include "render/small_json.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define MEMBERS_MOST 6

typedef struct member {
    const char *name;
    sw_json_kind kind;
    bool needed;
} member;

typedef struct request_kind {
    const char *name;
    void (*answer)(const sw_request *request);
    member members[MEMBERS_MOST];
} request_kind;

static const request_kind kinds[] = {
    {"ask",
     sw_answer_ask,
     {{"sheet", SW_JSON_TEXT, true},
      {"question", SW_JSON_TEXT, true},
      {"set", SW_JSON_ARRAY, false},
      {"words", SW_JSON_OBJECT, false}}},
    {"paper",
     sw_answer_paper,
     {{"sheet", SW_JSON_TEXT, true},
      {"paper", SW_JSON_TEXT, true},
      {"set", SW_JSON_ARRAY, false},
      {"option", SW_JSON_NUMBER, false},
      {"measured", SW_JSON_TEXT, false}}},
    {"parts", sw_answer_parts, {{"sheet", SW_JSON_TEXT, true}, {"role", SW_JSON_TEXT, false}}},
    {"words", sw_answer_words, {{"sheet", SW_JSON_TEXT, false}}},
    {"profiles", sw_answer_profiles, {{"sheet", SW_JSON_TEXT, false}}},
};

static const request_kind *find(const char *name) {
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (strcmp(kinds[i].name, name) == 0)
            return &kinds[i];
    return NULL;
}

/* ---- the members of a body ------------------------------------------------------------------ */

static void wrong(const sw_request *request, const char *name, const char *mend) {
    sw_complain(request->complaints, "request", name, "each request has its members, and no others",
                mend, "is not what the request takes");
}

static bool are_texts(const sw_json *list) {
    for (size_t i = 0; i < list->count; i++)
        if (list->children[i].kind != SW_JSON_TEXT)
            return false;
    return true;
}

static const member *member_of(const request_kind *kind, const char *name) {
    for (size_t i = 0; i < MEMBERS_MOST && kind->members[i].name != NULL; i++)
        if (strcmp(kind->members[i].name, name) == 0)
            return &kind->members[i];
    return NULL;
}

static bool check_members(const sw_request *request, const request_kind *kind) {
    const sw_json *body = request->body;
    for (size_t i = 0; i < body->count; i++) {
        const sw_json *value = &body->children[i];
        const member *of = member_of(kind, value->name);
        if (of == NULL)
            wrong(request, value->name, "leave it out: there is no such member");
        else if (value->kind != of->kind)
            wrong(request, value->name, "give it as FORMATS.md section 37 says");
        else if (value->kind == SW_JSON_ARRAY && !are_texts(value))
            wrong(request, value->name, "give a list of texts");
    }
    for (size_t i = 0; i < MEMBERS_MOST && kind->members[i].name != NULL; i++)
        if (kind->members[i].needed && sw_json_get(body, kind->members[i].name) == NULL)
            wrong(request, kind->members[i].name, "add it: it is missing");
    return sw_complaints_count(request->complaints) == 0;
}

/* ---- what handlers need --------------------------------------------------------------------- */

const char *sw_request_text(const sw_request *request, const char *name) {
    const sw_json *value = sw_json_get(request->body, name);
    return value != NULL && value->kind == SW_JSON_TEXT ? value->text : NULL;
}

sw_desk_sheet *sw_request_sheet(const sw_request *request) {
    const char *id = sw_request_text(request, "sheet");
    sw_desk_sheet *sheet = id == NULL ? NULL : sw_sheets_find(request->desk->sheets, id);
    if (sheet == NULL)
        sw_call_refuse(request->call, 404, "there is no such sheet",
                       "the desk was begun anew, or many others were opened since",
                       "open the job again");
    return sheet;
}

sw_desk_sheet *sw_request_job(const sw_request *request) {
    sw_desk_sheet *sheet = sw_request_sheet(request);
    if (sheet == NULL || sheet->text != NULL)
        return sheet;
    sw_call_refuse(request->call, 422, "there is no job yet",
                   "the desk was begun without one, and no draft was taken",
                   "read the dumps of the machine first");
    return NULL;
}

const char **sw_texts_of(sw_arena *arena, const sw_json *list) {
    size_t count = list == NULL ? 0 : list->count;
    const char **texts = SW_NEW(arena, const char *, count + 1);
    for (size_t i = 0; texts != NULL && i < count; i++) {
        texts[i] = sw_arena_copy(arena, list->children[i].text);
        if (texts[i] == NULL)
            return NULL;
    }
    return texts;
}

void sw_refuse_with(const sw_request *request, int code) {
    char *text = NULL;
    if (sw_render_complaints_json(&text, request->complaints) != SW_OK)
        text = NULL;
    sw_call_reply_json(request->call, code, text);
}

void sw_reply_sketch(const sw_request *request, int code, const sw_sketch *root) {
    char *text = NULL;
    if (root == NULL || sw_sketch_write(&text, root) != SW_OK)
        text = NULL;
    sw_call_reply_json(request->call, code, text);
}

char *sw_file_bytes(int file, size_t length) {
    char *bytes = malloc(length + 1);
    size_t at = 0;
    while (bytes != NULL && at < length) {
        ssize_t got = read(file, bytes + at, length - at);
        if (got <= 0) {
            free(bytes);
            return NULL;
        }
        at += (size_t)got;
    }
    if (bytes != NULL)
        bytes[length] = '\0';
    return bytes;
}

sw_status sw_desk_catalog(const char **out, const sw_desk *desk, sw_arena *arena,
                          const sw_desk_sheet *sheet) {
    const char *folder = desk->job->catalog;
    sw_status status = SW_OK;
    if (folder == NULL && sheet != NULL && sheet->text != NULL)
        status = sw_sheet_catalog(&folder, arena, desk->sheets, sheet);
    else if (folder == NULL)
        folder = desk->catalog != NULL ? desk->catalog : desk->job->otherwise;
    *out = folder;
    char *whole = folder == NULL ? NULL : realpath(folder, NULL);
    if (whole != NULL) {
        *out = sw_arena_copy(arena, whole);
        status = *out == NULL ? SW_NO_MEMORY : SW_OK;
    } else if (folder != NULL && errno == ENOMEM) {
        status = SW_NO_MEMORY;
    }
    free(whole);
    return status;
}

/* ---- in ------------------------------------------------------------------------------------- */

static void answer(const sw_request *request, const request_kind *kind) {
    if (request->body->kind != SW_JSON_OBJECT) {
        sw_complain(request->complaints, "request", "", "each request is a JSON object",
                    "send {} at the least", "is no JSON object");
        sw_refuse_with(request, 400);
    } else if (!check_members(request, kind)) {
        sw_refuse_with(request, 400);
    } else {
        kind->answer(request);
    }
}

void sw_take_api(void *context, sw_call *call, const char *name, const char *bytes, size_t length) {
    sw_request request = {.desk = context, .call = call};
    const request_kind *kind = find(name);
    const sw_step_kind *step = sw_step_named(name);
    if (kind == NULL && step == NULL) {
        sw_call_refuse(call, 404, "the desk knows no such request", "",
                       "FORMATS.md section 37 lists them");
        return;
    }
    request.arena = sw_arena_new();
    request.complaints = sw_complaints_new();
    sw_status status = request.arena == NULL || request.complaints == NULL
                           ? SW_NO_MEMORY
                           : sw_json_read(&request.body, request.arena, "request", bytes, length,
                                          request.complaints);
    if (status == SW_OK && step != NULL)
        sw_answer_step(&request, step, bytes, length);
    else if (status == SW_OK)
        answer(&request, kind);
    else if (status == SW_BAD_DATA)
        sw_refuse_with(&request, 400);
    else
        sw_call_reply_json(call, 500, NULL);
    sw_complaints_free(request.complaints);
    sw_arena_free(request.arena);
}

/* ---- files and papers ----------------------------------------------------------------------- */

static void give_asset(sw_call *call, const sw_asset *asset) {
    sw_text text = {0};
    for (size_t i = 0; i < asset->line_count; i++)
        sw_text_add(&text, asset->lines[i]);
    if (text.failed)
        sw_call_reply_json(call, 500, NULL);
    else
        sw_call_reply_text(call, &(sw_reply){200, asset->type, sw_policy_of_page, -1}, text.bytes,
                           text.length);
    sw_text_free(&text);
}

/* A page of ours names what it may do in its own head; nothing else may do anything, but for the
 * pictures' own styles. */
static const char *policy_of(sw_arena *arena, const sw_paper_made *paper) {
    static const char lead[] = "<meta http-equiv=\"Content-Security-Policy\" content=\"";
    const char *at = strcmp(paper->type, "text/html") == 0 ? strstr(paper->bytes, lead) : NULL;
    if (at == NULL)
        return "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'";
    at += strlen(lead);
    return sw_arena_format(arena, "%.*s; frame-ancestors 'none'", (int)strcspn(at, "\""), at);
}

static void give_paper(sw_desk *desk, sw_call *call, const char *ticket) {
    const sw_paper_made *paper = sw_paper_made_find(desk->papers, ticket, desk->job->now());
    sw_arena *arena = paper == NULL ? NULL : sw_arena_new();
    if (paper == NULL) {
        sw_call_refuse(call, 404, "there is no such paper, or no longer",
                       "papers are kept for ten minutes", "have it made again");
        return;
    }
    const char *policy = arena == NULL ? NULL : policy_of(arena, paper);
    const char *type =
        arena == NULL ? NULL : sw_arena_format(arena, "%s; charset=utf-8", paper->type);
    sw_call_reply_text(call, &(sw_reply){200, type, policy, -1}, paper->bytes, paper->length);
    sw_arena_free(arena);
}

void sw_take_get(void *context, sw_call *call, const char *path) {
    static const char papers[] = "/paper/";
    const sw_asset *asset = sw_asset_find(path);
    if (asset != NULL)
        give_asset(call, asset);
    else if (strcmp(path, "/favicon.ico") == 0)
        sw_call_reply_text(call, &(sw_reply){.code = 204, .exit = -1}, "", 0);
    else if (strncmp(path, papers, strlen(papers)) == 0)
        give_paper(context, call, path + strlen(papers));
    else
        sw_call_refuse(call, 404, "the desk has no such page", "",
                       "open the address that swapworth desk printed");
}
