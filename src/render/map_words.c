/* The words of the weight map. */
#include "render/map.h"

#include "render/differences.h"

#include <math.h>
#include <string.h>

#define FELT 0.75 /* points, about half a percent; below that a change is not named */

const char *sw_map_mark(sw_sheet *s, size_t place, sw_map_voice voice) {
    if (voice == SW_MAP_TO_BENCH)
        return SW_FORMAT(s, "%zu", place + 1);
    const char *mark = "";
    for (size_t left = place + 1; left > 0; left = (left - 1) / 26)
        mark = SW_FORMAT(s, "%c%s", (int)('A' + (left - 1) % 26), mark);
    return mark;
}

const char *sw_map_name(sw_sheet *s, size_t place, sw_map_voice voice) {
    return SW_FORMAT(s, "%s %s", voice == SW_MAP_TO_BENCH ? "bundle" : "machine",
                     sw_map_mark(s, place, voice));
}

const char *sw_map_percent(sw_sheet *s, double share) {
    double percent = 100 * share;
    if (percent > 0 && percent < 0.1)
        return "<0.1 %";
    /* Nothing that is not all is told as all. */
    if (percent < 100 && percent > 99.5)
        return percent > 99.9 ? ">99.9 %" : SW_FORMAT(s, "%s %%", sw_sheet_decimal(s, percent, 1));
    return SW_FORMAT(s, "%s %%", sw_sheet_decimal(s, percent, percent < 9.95 ? 1 : 0));
}

const char *sw_map_axis_name(const sw_map *map, size_t axis) {
    return map->answer->criterion_names[map->axes[axis].criterion];
}

/* ---- what a bundle does -------------------------------------------------------------------- */

static const char *faster(sw_sheet *s, double points) {
    double ratio = exp2(points / 100);
    if (fabs(points) < FELT)
        return "no faster";
    if (ratio >= 1.5)
        return SW_FORMAT(s, "%s times as fast", sw_sheet_decimal(s, ratio, 1));
    return SW_FORMAT(s, "%s %% %s", sw_sheet_decimal(s, 100 * fabs(ratio - 1), 0),
                     ratio > 1 ? "faster" : "slower");
}

static const char *quieter(sw_sheet *s, double points) {
    double ratio = exp2(-points / 100);
    if (fabs(points) < FELT)
        return "no quieter";
    if (ratio > 0.45 && ratio < 0.55)
        return "half as loud";
    return SW_FORMAT(s, "%s %% %s", sw_sheet_decimal(s, 100 * fabs(ratio - 1), 0),
                     ratio < 1 ? "quieter" : "louder");
}

static const char *nicer(sw_sheet *s, double points) {
    if (fabs(points) < 0.5)
        return "looks as before";
    return SW_FORMAT(s, "looks %s %% %s the taste", sw_sheet_decimal(s, fabs(points), 0),
                     points > 0 ? "nearer to" : "further from");
}

static const char *better(sw_sheet *s, const char *name, double points) {
    if (fabs(points) < 0.5)
        return SW_FORMAT(s, "%s as before", name);
    return SW_FORMAT(s, "%s %s by %s of 100", name, points > 0 ? "better" : "worse",
                     sw_sheet_decimal(s, fabs(points), 0));
}

static const char *on_axis(sw_sheet *s, const sw_map *map, size_t axis,
                           const sw_answer_bundle *bundle) {
    size_t c = map->axes[axis].criterion;
    const char *kind = map->answer->criterion_kinds[c];
    double points = (double)bundle->by_criterion[c] / 1000;
    if (strcmp(kind, "speed") == 0)
        return faster(s, points);
    if (strcmp(kind, "quiet") == 0)
        return quieter(s, points);
    if (strcmp(kind, "looks") == 0)
        return nicer(s, points);
    return better(s, map->answer->criterion_names[c], points);
}

static const char *on_axes(sw_sheet *s, const sw_map *map, const sw_map_place *place) {
    const char *line = "";
    for (size_t a = 0; a < map->axis_count; a++)
        line = SW_FORMAT(s, "%s%s%s", line, a > 0 ? ", " : "", on_axis(s, map, a, &place->bundle));
    return line;
}

static const char *told_apart(sw_sheet *s, const char *line, const sw_answer_bundle *b,
                              const sw_answer_bundle *other) {
    for (size_t i = 0; i < b->swap_count; i++)
        if (sw_swap_of(other, b->swaps[i].role) == NULL)
            return SW_FORMAT(s, "%s, with %s", line, b->swaps[i].role_name);
    for (size_t i = 0; i < other->swap_count; i++)
        if (sw_swap_of(b, other->swaps[i].role) == NULL)
            return SW_FORMAT(s, "%s, without %s", line, other->swaps[i].role_name);
    for (size_t i = 0; i < b->swap_count; i++) {
        const sw_answer_swap *swap = &b->swaps[i], *than = sw_swap_of(other, swap->role);
        if (swap->in_count > 0 && !sw_same_swap(swap, than))
            return SW_FORMAT(s, "%s, with %s", line, sw_sheet_part(s, &swap->in[0]));
    }
    return line;
}

const char *sw_map_does(sw_sheet *s, const sw_map *map, const sw_map_place *place) {
    const char *line = on_axes(s, map, place);
    for (size_t p = 0; p < map->place_count; p++)
        if (&map->places[p] != place && strcmp(on_axes(s, map, &map->places[p]), line) == 0)
            return told_apart(s, line, &place->bundle, &map->places[p].bundle);
    return line;
}

const char *sw_map_changes(sw_sheet *s, const sw_map_place *place) {
    const sw_answer_bundle *b = &place->bundle;
    const char *in = "", *out = "", *work = "";
    for (size_t i = 0; i < b->swap_count; i++) {
        const char **list = b->swaps[i].in_count > 0 ? &in : &out;
        *list =
            SW_FORMAT(s, "%s%s%s", *list, (*list)[0] != '\0' ? ", " : "", b->swaps[i].role_name);
    }
    for (size_t i = 0; i < b->task_count; i++) {
        bool again = sw_swap_of(b, b->tasks[i].role) != NULL;
        for (size_t k = 0; k < i; k++)
            again = again || strcmp(b->tasks[k].role, b->tasks[i].role) == 0;
        if (!again)
            work = SW_FORMAT(s, "%s%s%s", work, work[0] != '\0' ? ", " : "", b->tasks[i].role_name);
    }
    const char *line = in[0] != '\0' ? SW_FORMAT(s, "new: %s", in) : "nothing new";
    if (out[0] != '\0')
        line = SW_FORMAT(s, "%s; out: %s", line, out);
    return work[0] != '\0' ? SW_FORMAT(s, "%s; work on: %s", line, work) : line;
}

/* ---- where the client stands ----------------------------------------------------------------- */

const char *sw_map_answer(sw_sheet *s, const sw_map *map) {
    const char *line = "";
    for (size_t a = 0; a < map->axis_count; a++)
        line = SW_FORMAT(s, "%s%s%s %s", line, a > 0 ? ", " : "", sw_map_axis_name(map, a),
                         sw_map_percent(s, map->axes[a].at));
    return line;
}

static const char *moves(sw_sheet *s, const sw_map *map, int axis, double by) {
    double from = map->axes[axis].at, to = from + by;
    return SW_FORMAT(s, "%s (%s to %s)", sw_map_axis_name(map, (size_t)axis),
                     sw_map_percent(s, from), sw_map_percent(s, to < 0 ? 0 : to));
}

const char *sw_map_change_words(sw_sheet *s, const sw_map *map, sw_map_voice voice) {
    const sw_map_change *change = &map->change;
    if (!map->has_change)
        return map->place_count > 1
                   ? "None: whatever weight moves from one to another, the same stays best."
                   : "None: it is best however they are weighed.";
    if (change->share <= 0)
        return SW_FORMAT(s, "None needed: at this very answer %s is as good.",
                         sw_map_name(s, change->then, voice));
    return SW_FORMAT(s, "If %s of the weight moves from %s to %s, %s is better from there.",
                     sw_map_percent(s, change->share), moves(s, map, change->from, -change->share),
                     moves(s, map, change->to, change->share), sw_map_name(s, change->then, voice));
}

/* The next of those that have some of the likely weightings, by their number. */
const char *sw_map_likely_words(sw_sheet *s, const sw_map *map, sw_map_voice voice) {
    const char *said_by = voice == SW_MAP_TO_BENCH ? "the client" : "you";
    const char *line = "";
    size_t said = 0;
    bool *told = SW_NEW(s->arena, bool, map->place_count);
    if (told == NULL)
        s->page.text.failed = true;
    while (told != NULL && said < map->place_count) {
        size_t most = map->place_count;
        for (size_t p = 0; p < map->place_count; p++)
            if (!told[p] && map->places[p].of_likely > 0 &&
                (most == map->place_count ||
                 map->places[p].of_likely > map->places[most].of_likely))
                most = p;
        if (most == map->place_count)
            break;
        told[most] = true;
        const char *share = sw_map_percent(s, map->places[most].of_likely);
        const char *name = sw_map_name(s, most, voice);
        if (map->places[most].of_likely >= 1)
            return SW_FORMAT(s, "In all ways to weigh that fit what %s said %s is best.", said_by,
                             name);
        line = said == 0 ? SW_FORMAT(s, "%s is best in %s", name, share)
                         : SW_FORMAT(s, "%s, %s in %s", line, name, share);
        said++;
        if (said == 4)
            break;
    }
    return SW_FORMAT(s, "Of the ways to weigh that fit what %s said %s.", said_by, line);
}

const char *sw_map_others(sw_sheet *s, const sw_map *map) {
    const sw_answer *a = map->answer;
    const char *names = "";
    size_t count = 0;
    for (size_t c = 0; c < a->criterion_count; c++) {
        bool drawn = false;
        for (size_t k = 0; k < map->axis_count; k++)
            drawn = drawn || map->axes[k].criterion == c;
        if (!drawn && a->weights[c] > 0) {
            names = SW_FORMAT(s, "%s%s%s", names, count > 0 ? " and " : "", a->criterion_names[c]);
            count++;
        }
    }
    if (count == 0)
        return "";
    return SW_FORMAT(s,
                     "%s %s %s %% of all weight wherever one looks, in the corners too; the "
                     "shares told here are of the rest.",
                     names, count > 1 ? "keep their" : "keeps its",
                     sw_sheet_text(s, sw_milli_text(s->arena, map->others_milli * 100, 1)));
}

const char *sw_map_corner_words(sw_sheet *s, const sw_map *map, const char *axis_name) {
    if (map->others_milli <= 0)
        return SW_FORMAT(s, "all weight on %s", axis_name);
    return SW_FORMAT(s, "all weight but %s %% on %s",
                     sw_sheet_text(s, sw_milli_text(s->arena, map->others_milli * 100, 1)),
                     axis_name);
}

const char *sw_map_nothing(const sw_map *map) {
    if (map->place_count > 0)
        return map->axis_count > 1
                   ? NULL
                   : "One thing alone counts for this client: there is nothing to weigh against "
                     "it.";
    if (map->answer->status == SW_NOTHING_FITS)
        return "Nothing fits this job.";
    return map->answer->asked_to_stop ? "It was stopped on request before any bundle was found."
                                      : "The time ran out before any bundle was found.";
}

const char *sw_map_open(sw_sheet *s, const sw_map *map, sw_map_voice voice) {
    if (map->answer->status != SW_STOPPED_EARLY)
        return "";
    const char *whose = voice == SW_MAP_TO_BENCH ? "the client's" : "your";
    const char *things = voice == SW_MAP_TO_BENCH ? "bundles" : "machines";
    double proved = 0;
    for (size_t p = 0; p < map->place_count; p++)
        proved += map->places[p].is_proved ? map->places[p].area : 0;
    const char *gap = "";
    if (map->short_of == 0)
        gap = SW_FORMAT(s, " At %s answer nothing is better.", whose);
    else if (map->short_of < INT64_MAX)
        gap = SW_FORMAT(s, " At %s answer none can bring more than %s points more.", whose,
                        sw_sheet_points(s, map->short_of));
    if (proved > 0)
        return SW_FORMAT(s,
                         "%s before all %s were known. Where the borders are whole (%s of all ways "
                         "to weigh), nothing is better; elsewhere others may be.%s",
                         s->cut_short, things, sw_map_percent(s, proved), gap);
    return SW_FORMAT(s,
                     "%s before all %s were known: others may be better here or there, and "
                     "the borders may move.%s",
                     s->cut_short, things, gap);
}
