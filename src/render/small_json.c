/* Complaints and exports for programs to read. */
#include "render/small_json.h"

#include "render/json_writer.h"

sw_status sw_render_complaints_json(char **out, const sw_complaints *complaints) {
    if (sw_complaints_lack_memory(complaints))
        return SW_NO_MEMORY;
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_writer_integer(root, "schema", 1);
    sw_writer_integer(root, "count", (int64_t)sw_complaints_count(complaints));
    sw_writer *list = sw_writer_array(root, "complaints");
    const sw_complaint *c;
    for (size_t i = 0; (c = sw_complaints_get(complaints, i)) != NULL; i++) {
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "file", c->file);
        sw_writer_text(one, "place", c->place);
        sw_writer_text(one, "what", c->what);
        sw_writer_text(one, "why", c->why);
        sw_writer_text(one, "mend", c->mend);
    }
    return sw_writer_finish(out, root);
}

sw_status sw_render_export_json(char **out, const char *form, const char *text) {
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_writer_integer(root, "schema", 1);
    sw_writer_text(root, "form", form);
    sw_writer_text(root, "text", text);
    return sw_writer_finish(out, root);
}
