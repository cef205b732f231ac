/*
 * sweep frontier COUNT
 * sweep job SCENARIO SAMPLES BOXES [--halts] [--pieces N]
 * sweep memory SCENARIO MB
 * each with --seed N. Ends with "N passed, N failed".
 */
#include "sweep.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct asked {
    long samples, boxes, pieces;
    bool halts;
} asked;

static void one_job(const char *file, const asked *a) {
    job j;
    sw_frontier curve = {0};
    bundles samples = {0};
    bool given_up = false;
    if (!job_open(&j, file))
        return;
    held("job", j.groups <= SW_GROUPS_MOST, "%s: %zu roles", file, j.groups);
    /* Where nothing fits, the program has no points, and nobody sweeps it. */
    if (j.cheapest != NULL)
        check_boxes(&j, a->boxes);
    if (j.cheapest != NULL && whole_curve(&curve, &given_up, &j) && a->samples > 0) {
        if (!sample(&samples, &j, &curve, (size_t)a->samples))
            abort();
        check_samples(&j, &curve, &samples);
        check_labels(&j, &curve, &samples);
    }
    if (curve.count > 0 && a->halts)
        check_halts(&j, &curve);
    if (a->pieces > 0)
        check_pieces(&j, a->pieces);
    bundles_free(&samples);
    sw_frontier_free(&curve);
    job_close(&j);
}

static long number(const char *text) { return strtol(text, NULL, 10); }

int main(int argc, char **argv) {
    asked a = {0};
    const char *words[4] = {0};
    int count = 0;
    setvbuf(stdout, NULL, _IOLBF, 0);
    for (int i = 1; i < argc; i++) {
        bool more = i + 1 < argc;
        if (strcmp(argv[i], "--halts") == 0)
            a.halts = true;
        else if (strcmp(argv[i], "--pieces") == 0 && more)
            a.pieces = number(argv[++i]);
        else if (strcmp(argv[i], "--seed") == 0 && more)
            chance_start(strtoull(argv[++i], NULL, 10));
        else if (count < 4)
            words[count++] = argv[i];
    }
    if (count == 2 && strcmp(words[0], "frontier") == 0)
        check_frontier(number(words[1]));
    else if (count == 4 && strcmp(words[0], "job") == 0) {
        a.samples = number(words[2]);
        a.boxes = number(words[3]);
        one_job(words[1], &a);
    } else if (count == 3 && strcmp(words[0], "memory") == 0)
        check_memory(words[1], strtod(words[2], NULL));
    else {
        fprintf(stderr, "sweep frontier COUNT | job SCENARIO SAMPLES BOXES [--halts] [--pieces N] "
                        "| memory SCENARIO MB [--seed N]\n");
        return 64;
    }
    return tell_counts();
}
