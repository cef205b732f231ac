/* Namespaces of NVMe drives, wherever in the tree they stand. */
#include "intake/nvme_list.h"

bool sw_nvme_list_is(const sw_json *root) {
    const sw_json *devices = sw_dump_get(root, "Devices");
    return devices != NULL && devices->kind == SW_JSON_ARRAY;
}

static void keep_private(const sw_part *part) {
    static const char *const kinds[][2] = {{"serial number", "SerialNumber"},
                                           {"UUID", "HostID"},
                                           {"host name", "HostNQN"},
                                           {"world wide name", "SubsystemNQN"}};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        sw_part_private(part, kinds[i][0], kinds[i][1]);
}

/* Flat, the device's path and model stand beside the size; else the namespace has a name, and the
 * model is its controller's. */
static void space(const sw_dump *dump, const sw_json *object, const sw_json *controller,
                  const char *place, const char *controller_place) {
    const sw_json *path = sw_dump_get(object, "DevicePath");
    const sw_json *name = path != NULL ? path : sw_dump_get(object, "NameSpace");
    const char *drive = sw_dump_drive(dump, sw_dump_text(name), false);
    if (drive == NULL)
        return;
    sw_part part = {dump, object, "drive", drive, place};
    sw_part model = {dump, controller, "drive", drive, controller_place};
    int64_t bytes = 0;
    if (sw_dump_whole(&bytes, sw_dump_get(object, "PhysicalSize")) && bytes > 0)
        sw_part_whole(&part, "size_bytes", "PhysicalSize");
    if (controller == NULL)
        model = part;
    sw_part_text(&model, "model", "ModelNumber");
    keep_private(&model);
}

/* Namespaces that hang at a subsystem are its controllers': of several, that of the first is named
 * only when all are one model. */
static const sw_json *only_controller(const sw_json *controllers) {
    if (controllers == NULL || controllers->kind != SW_JSON_ARRAY || controllers->count == 0)
        return NULL;
    const char *model = sw_dump_text(sw_dump_get(&controllers->children[0], "ModelNumber"));
    for (size_t i = 0; i < controllers->count; i++)
        if (model == NULL ||
            !sw_dump_is(sw_dump_get(&controllers->children[i], "ModelNumber"), model))
            return NULL;
    return &controllers->children[0];
}

typedef struct level {
    const sw_json *controller;
    const char *controller_place;
} level;

static void walk(const sw_dump *dump, const sw_json *object, const char *place, level at);

static void walk_all(const sw_dump *dump, const sw_json *object, const char *name,
                     const char *place, level at) {
    const sw_json *list = sw_dump_get(object, name);
    const char *here = sw_dump_member(dump, place, name);
    for (size_t i = 0; list != NULL && list->kind == SW_JSON_ARRAY && i < list->count; i++)
        walk(dump, &list->children[i], sw_dump_element(dump, here, i), at);
}

/* Recursion is bounded by the gate. */
static void walk(const sw_dump *dump, const sw_json *object, const char *place, level at) {
    const sw_json *controllers = sw_dump_get(object, "Controllers");
    sw_part part = {dump, object, "drive", sw_dump_text(sw_dump_get(object, "Controller")), place};
    level below = at;
    if (sw_dump_get(object, "Controller") != NULL)
        below = (level){object, place};
    else if (controllers != NULL)
        below = (level){only_controller(controllers),
                        sw_dump_element(dump, sw_dump_member(dump, place, "Controllers"), 0)};
    if (controllers != NULL || sw_dump_get(object, "Subsystems") != NULL)
        keep_private(&part);
    space(dump, object, at.controller, place, at.controller_place);
    walk_all(dump, object, "Subsystems", place, below);
    walk_all(dump, object, "Controllers", place, below);
    walk_all(dump, object, "Namespaces", place, below);
}

void sw_nvme_list_read(const sw_dump *dump, const sw_json *root) {
    walk_all(dump, root, "Devices", "$", (level){NULL, ""});
}
