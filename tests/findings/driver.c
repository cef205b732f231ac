/* The JSON side of tests/findings/run.sh.
 *
 *     driver ask TABLE HEALTHY PROGRAM CATALOG DIR   writes and asks every case: DIR/LINE.out
 *     driver check TABLE FINDINGS DIR                the answers against the table
 *     driver moved TABLE FINDINGS DIR tighter|looser with all bounds moved: is every edge one?
 *     driver needs TABLE FINDINGS FACTS              has every finding its lines?
 *     driver move FINDINGS tighter|looser            prints findings.json, all bounds moved
 *
 * Exit code 0 all good, 1 something is not (lines that begin with FAILED), 2 no answer. */
#include "findings.h"

#include <stdio.h>
#include <string.h>

static bool says(const char *word, const char *wanted) { return strcmp(word, wanted) == 0; }

static bool is_tighter(const char *word) {
    if (!says(word, "tighter") && !says(word, "looser"))
        give_up("tighter or looser, not %s", word);
    return says(word, "tighter");
}

static int run(int count, char **words) {
    const char *what = count > 1 ? words[1] : "";
    if (says(what, "move") && count == 4)
        return move_bounds(words[2], is_tighter(words[3]));
    if (count < 5)
        return WRONG;
    table t = read_table(words[2]);
    int code = WRONG;
    if (says(what, "ask") && count == 7) {
        write_cases(&t, words[3], words[6]);
        ask_cases(&t, words[4], words[5], words[6]);
        code = GOOD;
    } else if (says(what, "check") && count == 5)
        code = check_cases(&t, words[3], words[4]);
    else if (says(what, "moved") && count == 6)
        code = check_moved(&t, words[3], words[4], is_tighter(words[5]));
    else if (says(what, "needs") && count == 5)
        code = check_needs(&t, words[3], words[4]);
    free_table(&t);
    return code;
}

int main(int argc, char **argv) {
    int code = run(argc, argv);
    if (code == WRONG)
        fprintf(stderr, "driver: not understood; see the top of driver.c\n");
    return code;
}
