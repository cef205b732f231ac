/* What text, JSON and picture of the weight map share: its words. */
#ifndef SW_RENDER_MAP_H
#define SW_RENDER_MAP_H

#include "answer/map.h"
#include "render/sheet.h"

/* The sheets of these only lend their arena and the answer's money; nothing is added to them. */

/* Whom it speaks to: at the bench, of the client, with numbers; or to the client, on a page where
 * numbers are options, with letters. */
typedef enum sw_map_voice { SW_MAP_TO_BENCH, SW_MAP_TO_CLIENT } sw_map_voice;

/* "3", "C" */
const char *sw_map_mark(sw_sheet *sheet, size_t place, sw_map_voice voice);
/* "bundle 3", "machine C" */
const char *sw_map_name(sw_sheet *sheet, size_t place, sw_map_voice voice);
/* "43 %", "4.3 %", "<0.1 %" */
const char *sw_map_percent(sw_sheet *sheet, double share);
const char *sw_map_axis_name(const sw_map *map, size_t axis);
/* "1.6 times as fast, half as loud, looks 70 % nearer to the taste"; where another does the same, a
 * role by which they differ. */
const char *sw_map_does(sw_sheet *sheet, const sw_map *map, const sw_map_place *place);
/* "new: graphics card, cooler; work on: fans"; "nothing new" */
const char *sw_map_changes(sw_sheet *sheet, const sw_map_place *place);
/* "Speed 59 %, Quiet 29 %, Looks 12 %" */
const char *sw_map_answer(sw_sheet *sheet, const sw_map *map);
/* "if 12 % of the weight moves from Speed (59 to 47 %) to Quiet (29 to 41 %), 3 is as good" */
const char *sw_map_change_words(sw_sheet *sheet, const sw_map *map, sw_map_voice voice);
/* "Of the ways to weigh that fit what the client said bundle 1 is best in 83 %, bundle 2 in 17 %."
 */
const char *sw_map_likely_words(sw_sheet *sheet, const sw_map *map, sw_map_voice voice);
/* "all weight on Speed"; "all weight but 7.1 % on Speed", where others keep theirs */
const char *sw_map_corner_words(sw_sheet *sheet, const sw_map *map, const char *axis_name);
/* What other criteria weigh; "" where there are none. */
const char *sw_map_others(sw_sheet *sheet, const sw_map *map);
/* What was not settled; "" where all was. */
const char *sw_map_open(sw_sheet *sheet, const sw_map *map, sw_map_voice voice);
/* Why there is no map; NULL: there is one. */
const char *sw_map_nothing(const sw_map *map);

#endif
