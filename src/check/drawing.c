/* Where each role stands in the small picture of the machine. */
#include "check/stage.h"

static void read_place(sw_check *check, const sw_node *at, bool *taken, sw_drawn *out) {
    int64_t x = 0, y = 0;
    *out = (sw_drawn){.role = SW_NONE, .label = ""};
    if (!SW_CHECK_NAMES(check, at, "role", "label", "x", "y", "width", "height"))
        return;
    sw_node role = sw_member(at, "role");
    bool named = sw_get_index(check, at, "role", SW_REQUIRED, &check->roles, "role", "roles.json",
                              &out->role);
    if (named && taken[out->role])
        sw_wrong(check, &role, "each role stands in one place", "take one of them away",
                 "stands there already");
    if (named)
        taken[out->role] = true;
    sw_get_text(check, at, "label", SW_REQUIRED, &out->label);
    bool good = sw_get_whole(check, at, "x", SW_REQUIRED, 0, SW_DRAWN_WIDTH, &x);
    good = sw_get_whole(check, at, "y", SW_REQUIRED, 0, SW_DRAWN_HEIGHT, &y) && good;
    good = sw_get_whole(check, at, "width", SW_REQUIRED, 1, SW_DRAWN_WIDTH, &out->width) && good;
    good = sw_get_whole(check, at, "height", SW_REQUIRED, 1, SW_DRAWN_HEIGHT, &out->height) && good;
    out->x = x;
    out->y = y;
    if (good && (x + out->width > SW_DRAWN_WIDTH || y + out->height > SW_DRAWN_HEIGHT))
        sw_wrong(check, at, "the picture is 1000 wide and 800 high", "move it, or make it smaller",
                 "goes over the edge");
}

void sw_read_drawing(sw_check *check, const sw_node *paper) {
    sw_node list;
    if (!sw_get_list(check, paper, "drawing", SW_OPTIONAL, 0, SW_SHORT_LIST_LIMIT, &list))
        return;
    sw_drawn *places = SW_KEEP(check, sw_drawn, list.json->count);
    bool *taken = SW_KEEP(check, bool, check->catalog->role_count);
    for (size_t i = 0; places != NULL && taken != NULL && i < list.json->count; i++) {
        sw_node at = sw_element(&list, i);
        read_place(check, &at, taken, &places[i]);
    }
    check->catalog->paper.drawing = places;
    check->catalog->paper.drawn_count = places == NULL ? 0 : list.json->count;
}
