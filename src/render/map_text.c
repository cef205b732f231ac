/* The answer of `map` in words: which bundle is best where. */
#include "render/map.h"

static const char *money(sw_sheet *s, int64_t minor) {
    return SW_FORMAT(s, "%s %s", sw_sheet_money(s, minor), s->answer->currency);
}

static void answer(sw_sheet *s, const sw_map *map) {
    const sw_map_place *here = &map->places[map->here];
    sw_page_heading(&s->page, "At the client's answer", NULL);
    sw_sheet_words(s, "  ",
                   SW_FORMAT(s, "%s: bundle %zu is best, %s for %s: %s.", sw_map_answer(s, map),
                             map->here + 1, sw_map_does(s, map, here), money(s, here->bundle.cost),
                             sw_map_changes(s, here)));
    sw_sheet_words(
        s, "  ",
        SW_FORMAT(s, "How sure that is. %s", sw_map_likely_words(s, map, SW_MAP_TO_BENCH)));
    sw_sheet_words(s, "  ",
                   SW_FORMAT(s, "The nearest change to another bundle. %s",
                             sw_map_change_words(s, map, SW_MAP_TO_BENCH)));
}

static void corners(sw_sheet *s, const sw_map *map) {
    sw_page_heading(&s->page, "Where one thing alone counts", NULL);
    for (size_t a = 0; a < map->axis_count; a++)
        sw_sheet_words(s, "  ",
                       SW_FORMAT(s, "With %s: bundle %zu.",
                                 sw_map_corner_words(s, map, sw_map_axis_name(map, a)),
                                 map->axes[a].best + 1));
}

static const char *brings(sw_sheet *s, const sw_map *map, const sw_map_place *place) {
    const char *line = "";
    for (size_t a = 0; a < map->axis_count; a++)
        line = SW_FORMAT(s, "%s%s%s %s", line, a > 0 ? ", " : "", sw_map_axis_name(map, a),
                         sw_sheet_points(s, place->bundle.by_criterion[map->axes[a].criterion]));
    return line;
}

static void places(sw_sheet *s, const sw_map *map) {
    sw_page_heading(&s->page, "The bundles, those best most often first", "of all ways to weigh");
    for (size_t p = 0; p < map->place_count; p++) {
        const sw_map_place *place = &map->places[p];
        sw_sheet_sum(s, "  ", SW_FORMAT(s, "%zu. %s", p + 1, sw_map_does(s, map, place)),
                     sw_map_percent(s, place->area));
        sw_sheet_words(
            s, "     ",
            SW_FORMAT(s, "%s; %s", money(s, place->bundle.cost), sw_map_changes(s, place)));
        sw_sheet_words(s, "     ",
                       SW_FORMAT(s, "points, where each counts alone: %s", brings(s, map, place)));
    }
}

sw_status sw_render_map_text(char **out, const sw_map *map, sw_text_style style) {
    sw_sheet s;
    if (!sw_sheet_start(&s, map->answer, style))
        return SW_NO_MEMORY;
    sw_sheet_head(&s, true);
    if (map->place_count == 0) {
        sw_page_gap(&s.page);
        sw_sheet_no_best(&s);
        return sw_sheet_finish(out, &s);
    }
    if (sw_map_open(&s, map, SW_MAP_TO_BENCH)[0] != '\0') {
        sw_page_gap(&s.page);
        sw_sheet_words(&s, "", sw_map_open(&s, map, SW_MAP_TO_BENCH));
    }
    answer(&s, map);
    if (map->axis_count > 1) {
        corners(&s, map);
        places(&s, map);
    } else {
        sw_page_gap(&s.page);
        sw_sheet_words(&s, "", sw_map_nothing(map));
    }
    if (sw_map_others(&s, map)[0] != '\0') {
        sw_page_gap(&s.page);
        sw_sheet_words(&s, "", sw_map_others(&s, map));
    }
    if (map->answer->must_count > 0) {
        sw_page_gap(&s.page);
        sw_sheet_words(&s, "",
                       "Faster and quieter are told against the machine in which only what must "
                       "be done is done.");
    }
    return sw_sheet_finish(out, &s);
}
