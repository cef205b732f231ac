/* Which way new fans blow: by the side of the site, as measures.json says. */
#include "answer/stands.h"

#include <string.h>

sw_blows sw_blows_at(const sw_catalog *catalog, const sw_site *site) {
    for (size_t i = 0; i < catalog->air_way_count && site->side != NULL; i++)
        if (strcmp(catalog->air_ways[i].side, site->side) == 0)
            return catalog->air_ways[i].blows;
    return SW_BLOWS_UNSTATED;
}

sw_status sw_measure_machine(sw_measuring *out, sw_arena *arena, const sw_estimates *estimates,
                             const sw_rulebook *book, const int *machine) {
    sw_placement placement;
    sw_status status = sw_place_things(&placement, arena, book, machine);
    if (status != SW_OK)
        return status;
    sw_air_stand *stands = SW_NEW(arena, sw_air_stand, placement.stand_count);
    if (stands == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < placement.stand_count; i++)
        stands[i] =
            (sw_air_stand){placement.stands[i].thing,
                           sw_blows_at(estimates->fitouts->catalog, placement.stands[i].site),
                           placement.stands[i].count};
    return sw_measuring_make(out, arena, estimates, machine, stands, placement.stand_count);
}
