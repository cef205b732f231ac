/* The answer of `map` as JSON: README.md lists the fields. */
#include "answer/map.h"

#include "render/answer_json.h"

static const char *axis_id(const sw_map *map, size_t axis) {
    return map->answer->criterion_ids[map->axes[axis].criterion];
}

static void add_corners(sw_writer *in, const char *name, const sw_map *map,
                        const sw_map_corner *corners, size_t count) {
    sw_writer *list = sw_writer_array(in, name);
    for (size_t k = 0; k < count; k++) {
        sw_writer *corner = sw_writer_array(list, NULL);
        for (size_t a = 0; a < map->axis_count; a++)
            sw_writer_exact(corner, NULL, corners[k].share[a]);
    }
}

static void add_axes(sw_writer *root, const sw_map *map) {
    sw_writer *list = sw_writer_array(root, "axes");
    for (size_t a = 0; a < map->axis_count; a++) {
        sw_writer *one = sw_writer_object(list, NULL);
        sw_writer_text(one, "criterion", axis_id(map, a));
        sw_writer_text(one, "name", map->answer->criterion_names[map->axes[a].criterion]);
        sw_writer_exact(one, "at", map->axes[a].at);
        sw_writer_integer(one, "best", (int64_t)map->axes[a].best + 1);
    }
}

static void add_place(sw_writer *list, const sw_map *map, size_t place) {
    const sw_answer *a = map->answer;
    const sw_map_place *p = &map->places[place];
    sw_writer *one = sw_writer_object(list, NULL);
    sw_writer_integer(one, "number", (int64_t)place + 1);
    sw_writer_exact(one, "area", p->area);
    sw_writer_bool(one, "proved", p->is_proved);
    sw_writer_exact(one, "of_likely", p->of_likely);
    add_corners(one, "corners", map, p->corners, p->corner_count);
    sw_writer_money(one, "cost", p->bundle.cost, a->digits);
    sw_writer_milli(one, "points", p->bundle.points, 3);
    sw_writer *brings = sw_writer_array(one, "brings");
    for (size_t c = 0; c < a->criterion_count; c++) {
        if (a->weights[c] <= 0)
            continue;
        sw_writer *points = sw_writer_object(brings, NULL);
        sw_writer_text(points, "criterion", a->criterion_ids[c]);
        sw_writer_milli(points, "points", p->bundle.by_criterion[c], 3);
    }
    sw_json_swaps(one, a, &p->bundle);
    sw_json_tasks(one, a, &p->bundle);
}

static void add_change(sw_writer *root, const sw_map *map) {
    if (!map->has_change) {
        sw_writer_text(root, "nearest_change", NULL);
        return;
    }
    sw_writer *change = sw_writer_object(root, "nearest_change");
    sw_writer_exact(change, "share", map->change.share);
    sw_writer_text(change, "from", axis_id(map, (size_t)map->change.from));
    sw_writer_text(change, "to", axis_id(map, (size_t)map->change.to));
    sw_writer_integer(change, "then", (int64_t)map->change.then + 1);
}

sw_status sw_render_map_json(char **out, const sw_map *map) {
    const sw_answer *answer = map->answer;
    sw_writer *root = sw_writer_new();
    if (root == NULL)
        return SW_NO_MEMORY;
    bool open = answer->status == SW_STOPPED_EARLY;
    sw_writer_integer(root, "schema", 1);
    sw_writer_text(root, "status", sw_json_statuses[answer->status]);
    sw_json_stopped(root, open, answer->asked_to_stop);
    sw_writer_text(root, "title", answer->title);
    sw_writer_text(root, "currency", answer->currency);
    add_axes(root, map);
    sw_writer_milli(root, "others", map->others_milli, 3);
    if (map->place_count == 0) {
        sw_writer_array(root, "regions");
        return sw_writer_finish(out, root);
    }
    sw_writer_integer(root, "here", (int64_t)map->here + 1);
    add_change(root, map);
    if (open && map->short_of < INT64_MAX)
        sw_writer_milli(root, "short_of", map->short_of, 3);
    else if (open)
        sw_writer_text(root, "short_of", NULL);
    add_corners(root, "likely", map, map->likely, map->likely_count);
    sw_writer *list = sw_writer_array(root, "regions");
    for (size_t p = 0; p < map->place_count; p++)
        add_place(list, map, p);
    return sw_writer_finish(out, root);
}
