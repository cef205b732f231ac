/* Sentences with things to fill in: "{need} mm". */
#include <string.h>

#include "check/stage.h"

void sw_get_sentence(sw_check *check, const sw_node *at, const char *name, sw_slot_check *good,
                     const void *of, const char **out) {
    if (!sw_get_text(check, at, name, SW_REQUIRED, out))
        return;
    sw_node place = sw_member(at, name);
    for (const char *open = strpbrk(*out, "{}"); open != NULL; open = strpbrk(open + 1, "{}")) {
        const char *close = *open == '{' ? strpbrk(open + 1, "{}") : NULL;
        if (close == NULL || *close != '}') {
            sw_wrong(check, &place, "braces hold the name of what is filled in",
                     "write the braces in pairs, or take them away", "has a brace by itself");
            return;
        }
        const char *slot = sw_arena_text(check->scratch, open + 1, (size_t)(close - open - 1));
        if (slot == NULL)
            check->no_memory = true;
        else
            good(check, &place, slot, of);
        open = close;
    }
}
