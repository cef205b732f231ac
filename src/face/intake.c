/* What comes in: `intake KIND ..`, each kind a command of its own. */
#include "face/intake.h"

#include <string.h>

typedef struct kind {
    const char *name;
    int (*run)(const sw_words *words); /* `files` begins behind the kind */
    const char *usage;
} kind;

static const kind kinds[] = {
    {"dumps", sw_intake_dumps,
     "intake dumps FILE|FOLDER... [-o DRAFT] [--card FILE] [--catalog DIR] [--date D] [--json]"},
    {"piece", sw_intake_piece,
     "intake piece SCENARIO ROLE PART... [--own] [--set FACT=VALUE...] [-o FILE]"},
    {"ask", sw_intake_ask,
     "intake ask SCENARIO [-o FILE] [--title TEXT] [--answers FILE] [--keep-answers FILE]\n"
     "                                        [--catalog DIR]"},
    {"prices", sw_intake_prices,
     "intake prices FILE --profile P [-o LISTINGS.csv] [--catalog DIR] [--confirm FILE [--ask]]\n"
     "                                        [--parts FILE] [--whole] [--json]: a supplier's\n"
     "                                        price list becomes listings; without -o nothing\n"
     "                                        is written"},
    {NULL, NULL, NULL},
};

int sw_command_intake(const sw_words *words) {
    const char *name = words->file_count > 0 ? words->files[0] : NULL;
    for (const kind *k = kinds; k->name != NULL; k++) {
        if (name == NULL || strcmp(name, k->name) != 0)
            continue;
        sw_words rest = *words;
        rest.usage = k->usage;
        rest.files++;
        rest.file_count--;
        return k->run(&rest);
    }
    if (name == NULL)
        fputs("swapworth: intake of what?\n", stderr);
    else
        sw_say_around("swapworth: there is no intake of \"", name, "\".\n");
    for (const kind *k = kinds; k->name != NULL; k++)
        fprintf(stderr, "  swapworth %s\n", k->usage);
    return SW_EXIT_USAGE;
}
