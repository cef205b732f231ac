/* The program's own way of waiting (src/face/waiting.c) with a solver that only waits:
 *
 *     waiting tell|forced|halt SECONDS
 *
 * `tell` reports progress a few times a second, `forced` too and asks for lines, `halt` only
 * asks whether to stop. Says "asked" when it was, else "over" after the seconds. */
#include "face/commands.h"
#include "face/waiting.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

int main(int argc, char **argv) {
    if (argc != 3)
        return 64;
    bool tells = strcmp(argv[1], "halt") != 0;
    sw_waiting waiting;
    sw_plan_options options = sw_plan_options_default();
    sw_waiting_begin(&waiting, &options, strcmp(argv[1], "forced") == 0);
    printf("ready\n");
    fflush(stdout);
    bool asked = false;
    double end = sw_steady_seconds() + strtod(argv[2], NULL);
    /* Goes on after the first request, as a solver deep in its work would. */
    while (sw_steady_seconds() < end) {
        nanosleep(&(struct timespec){.tv_nsec = 50000000}, NULL);
        sw_progress progress = {"searching", 12, 4, 421, 0.5};
        if (tells)
            options.tell(options.context, &progress);
        asked = options.halt(options.context) || asked;
    }
    sw_waiting_end(&waiting);
    puts(asked ? "asked" : "over");
    return 0;
}
