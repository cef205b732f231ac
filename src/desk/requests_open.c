/* `open`: a sheet of the desk's job, or one that is there. */
#include "desk/requests.h"

#include <stdlib.h>
#include <string.h>

static const char *last_name(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash == NULL ? path : slash + 1;
}

static void name_or_null(sw_sketch *root, const char *member, const char *text) {
    if (text != NULL)
        sw_sketch_text(root, member, text);
    else
        sw_sketch_copy(root, member, &(sw_json){.kind = SW_JSON_NULL});
}

static void tell(const sw_request *request, const sw_sheet *sheet) {
    const sw_json *json = &(sw_json){.kind = SW_JSON_NULL};
    if (sheet->text != NULL && sw_json_read(&json, request->arena, "job", sheet->text,
                                            sheet->length, request->complaints) != SW_OK) {
        sw_call_reply_json(request->call, 500, NULL);
        return;
    }
    sw_sketch *root = sw_sketch_new(request->arena);
    sw_sketch_text(root, "schema", SW_DESK_SCHEMA);
    sw_sketch_text(root, "sheet", sheet->id);
    sw_sketch_whole(root, "revision", sheet->revision);
    name_or_null(root, "file", sheet->path == NULL ? NULL : last_name(sheet->path));
    name_or_null(root, "catalog", sw_request_catalog(request, request->arena, sheet));
    sw_sketch_copy(root, "job", json);
    sw_reply_sketch(request, 200, root);
}

void sw_answer_open(const sw_request *request) {
    sw_sheet *sheet = NULL;
    if (sw_request_text(request, "sheet") != NULL) {
        sheet = sw_request_sheet(request);
        if (sheet != NULL)
            tell(request, sheet);
        return;
    }
    sw_status status = sw_sheets_open(&sheet, request->desk->sheets, request->desk->job->scenario,
                                      request->complaints);
    if (status == SW_OK)
        tell(request, sheet);
    else if (status == SW_BAD_DATA || status == SW_CANNOT_READ)
        sw_refuse_with(request, 422);
    else
        sw_call_reply_json(request->call, 500, NULL);
}
