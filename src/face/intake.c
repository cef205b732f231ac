/* What comes in: `intake KIND ..`, each kind a command of its own. */
#include "face/guide.h"
#include "face/intake.h"

#include <string.h>

typedef struct kind {
    const char *name;                  /* of the command, as the table of commands has it */
    int (*run)(const sw_words *words); /* `files` begins behind the kind */
} kind;

static const kind kinds[] = {
    {"intake dumps", sw_intake_dumps},
    {"intake piece", sw_intake_piece},
    {"intake ask", sw_intake_ask},
    {"intake prices", sw_intake_prices},
};

int sw_command_intake(const sw_words *words) {
    const char *name = words->file_count > 0 ? words->files[0] : NULL;
    for (size_t k = 0; k < sizeof kinds / sizeof *kinds; k++) {
        if (name == NULL || strcmp(name, kinds[k].name + strlen("intake ")) != 0)
            continue;
        sw_words rest = *words;
        rest.of = sw_command_named(kinds[k].name);
        rest.files++;
        rest.file_count--;
        return kinds[k].run(&rest);
    }
    if (name == NULL)
        fputs("swapworth: intake of what?\n", stderr);
    else
        sw_say_around("swapworth: there is no intake of \"", name, "\".\n");
    for (size_t k = 0; k < sizeof kinds / sizeof *kinds; k++)
        fprintf(stderr, "  swapworth %s %s\n", kinds[k].name,
                sw_command_named(kinds[k].name)->synopsis);
    return SW_EXIT_USAGE;
}
