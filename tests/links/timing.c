/* Timings of modes, one a line: reads "width height refresh blanking" (blanking 0: CVT, 1:
 * reduced, 2: reduced, second version), prints the same with the clock in kHz, both totals
 * and the refresh behind it. A mode the library refuses prints "refused". */
#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "swapworth.h"

static const sw_blanking blankings[] = {SW_CVT, SW_CVT_REDUCED, SW_CVT_REDUCED_2};

int main(void) {
    int width, height, blanking;
    double refresh;
    int fields;
    while ((fields = scanf("%d %d %lf %d", &width, &height, &refresh, &blanking)) == 4) {
        if (blanking < 0 || blanking > 2)
            break;
        sw_timing timing;
        printf("%d %d %g %d ", width, height, refresh, blanking);
        if (sw_mode_timing(&timing, width, height, refresh, blankings[blanking]) != SW_OK) {
            puts("refused");
            continue;
        }
        /* Steps of 1 kHz at the finest: what is not whole would be lost in printing. */
        double khz = timing.clock_mhz * 1000.0;
        if (fabs(khz - nearbyint(khz)) > 1e-6)
            printf("%.9f", khz);
        else
            printf("%.0f", nearbyint(khz));
        printf(" %d %d %.6f\n", timing.total_width, timing.total_height, timing.refresh_hz);
    }
    if (fields == EOF)
        return EXIT_SUCCESS;
    fputs("timing: a line is not width, height, refresh, blanking\n", stderr);
    return EXIT_FAILURE;
}
