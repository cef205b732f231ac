/* What may be wrong with the words of a command, before anything is read. */
#include "face/errand.h"

#include <string.h>

/* Would what is written go over the scenario it is read from? */
static bool output_is_input(const sw_words *words) {
    return (words->output != NULL && sw_is_same_file(words->output, words->files[0])) ||
           (words->svg != NULL && sw_is_same_file(words->svg, words->files[0]));
}

const char sw_over_catalog[] =
    "the output would be written into the catalog's folder, among the files that are read";

/* What is wrong with where the picture is to go; NULL: nothing. */
static const char *misuse_of_picture(const sw_words *words) {
    if (words->svg == NULL)
        return NULL;
    if (words->svg[0] == '\0')
        return "the name behind --svg is empty";
    if (strcmp(words->svg, "-") == 0)
        return "--svg takes the name of a file: standard output is for the answer itself";
    if (words->output != NULL && sw_is_same_file(words->svg, words->output))
        return "--svg and -o name the same file";
    return NULL;
}

/* Files that a command reads beside the scenario, or writes beside its answer. */
static const char *misuse_of_papers(const sw_words *words) {
    const char *const names[] = {words->measured, words->calibration, words->record};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        if (names[i] == NULL)
            continue;
        if (names[i][0] == '\0')
            return "the name of a file is empty";
        if (words->output != NULL && sw_is_same_file(words->output, names[i]))
            return "-o names a file that is read";
    }
    if (words->record == NULL)
        return NULL;
    if (strcmp(words->record, "-") == 0)
        return "--record takes the name of a file: it is read and written anew";
    if (sw_is_same_file(words->record, words->files[0]) ||
        sw_is_same_file(words->record, words->measured))
        return "--record would write over a file that is read";
    return NULL;
}

/* Options that belong to one command alone. */
const char *sw_misplaced(const sw_words *words, const char *command) {
    bool plans = strcmp(command, "plan") == 0, draws = strcmp(command, "curve") == 0;
    bool asks = strcmp(command, "whatif") == 0, buys = strcmp(command, "shopping") == 0;
    bool pieces = strcmp(command, "intake piece") == 0;
    bool takes = strcmp(command, "intake dumps") == 0;
    bool works = strcmp(command, "bench") == 0, ends = strcmp(command, "handover") == 0;
    bool serves = strcmp(command, "desk") == 0, checks = strcmp(command, "check") == 0;
    bool waits = strncmp(command, "intake", 6) != 0 && strcmp(command, "look") != 0 &&
                 strcmp(command, "explain") != 0 && !checks && strcmp(command, "export") != 0 &&
                 !serves;
    if (strcmp(command, "export") != 0 && (words->lp || words->mps))
        return "--lp and --mps belong to export";
    if (!plans && (words->best > 0 || words->apart > 0))
        return "--best and --apart belong to plan";
    if (!plans && words->brief)
        return "--brief belongs to plan";
    if (!draws && (words->from != NULL || words->to != NULL))
        return "--from and --to belong to curve";
    if (!draws && !buys && words->csv)
        return "--csv belongs to curve and shopping";
    if (!buys && !works && !ends && words->option > 0)
        return "--option belongs to shopping, bench and handover";
    if (!buys && (words->gone.count > 0 || words->take != NULL))
        return "--gone and --take belong to shopping";
    if (!ends && (words->measured != NULL || words->record != NULL))
        return "--measured and --record belong to handover";
    if (!works && !ends && !plans && !draws && strcmp(command, "options") != 0 &&
        words->calibration != NULL)
        return "--calibration belongs to plan, curve, options, bench and handover";
    if (ends && words->measured == NULL)
        return "handover takes --measured FILE: what was measured when the work was done";
    if (!draws && strcmp(command, "map") != 0 && words->svg != NULL)
        return "--svg belongs to curve and map";
    if (!draws && !plans && words->verify)
        return "--verify belongs to plan and curve";
    if (!waits && words->progress)
        return "--progress belongs to the commands that solve: plan, curve, why, fits, whatif, "
               "first, phases, options, ranges, map, sure, ask-next, shopping, bench and handover";
    if (!asks && !buys && !pieces && words->settings.count > 0)
        return "--set belongs to whatif, shopping and intake piece";
    if (strncmp(command, "intake", 6) == 0 &&
        (words->budget != NULL || words->seconds > 0 || words->allow_unknown))
        return "--budget, --seconds and --allow-unknown belong to the commands that plan";
    if (!waits && !serves && words->seconds > 0)
        return "--seconds belongs to the commands that solve, and to desk";
    if (checks && words->allow_unknown)
        return "check takes no --allow-unknown: it judges no part";
    if (pieces && words->json)
        return "intake piece takes no --json: what it writes is a scenario";
    if (strcmp(command, "intake ask") != 0 &&
        (words->title != NULL || words->answers != NULL || words->keep_answers != NULL))
        return "--title, --answers and --keep-answers belong to intake ask";
    if (strcmp(command, "sure") != 0 &&
        (words->prices >= 0 || words->estimates >= 0 || words->options))
        return "--prices, --estimates and --options belong to sure";
    if (!serves && words->port > 0)
        return "--port belongs to desk";
    if (!pieces && words->own)
        return "--own belongs to intake piece";
    if (!takes && (words->card != NULL || words->date != NULL))
        return "--card and --date belong to intake dumps";
    if (asks && words->settings.count == 0)
        return "whatif takes at least one --set PATH=VALUE";
    if (asks && words->budget != NULL)
        return "whatif takes --set budget.total=M, not --budget";
    if (strcmp(command, "phases") == 0 && words->budget != NULL)
        return "phases takes no --budget: its money stands in the scenario";
    if (draws && words->budget != NULL)
        return "curve takes --from and --to, not --budget";
    if (strcmp(command, "fits") == 0 && words->budget != NULL)
        return "fits takes no --budget: money plays no part in it";
    if (strcmp(command, "why") != 0 && words->over != NULL)
        return "--over belongs to why";
    if (strcmp(command, "intake prices") != 0 &&
        (words->profile != NULL || words->confirm != NULL || words->parts != NULL || words->ask ||
         words->whole))
        return "--profile, --confirm, --parts, --ask and --whole belong to intake prices";
    if (words->json && words->csv)
        return "either --json or --csv";
    return NULL;
}

/* What is wrong with the words of a command about one scenario; NULL: nothing. */
const char *sw_misuse_of_one(const sw_words *words, const char *command) {
    bool names_part = strcmp(command, "why") == 0, names_parts = strcmp(command, "fits") == 0;
    names_parts = names_parts || strcmp(command, "ranges") == 0;
    if (words->file_count == 0)
        return "a scenario is missing";
    if (names_part && words->file_count != 2)
        return words->file_count == 1 ? "a part is missing" : "one part at a time, please";
    if (strcmp(command, "explain") == 0 && words->file_count > 2)
        return "one part at a time, please";
    if (words->file_count > 1 && !names_part && !names_parts && strcmp(command, "explain") != 0)
        return "one scenario at a time, please";
    if (words->files[0][0] == '\0')
        return "the name of the scenario is empty";
    if (words->output != NULL && words->output[0] == '\0')
        return "the name behind -o is empty";
    if (strcmp(command, "export") == 0 && words->lp == words->mps)
        return "export takes either --lp or --mps";
    if (output_is_input(words))
        return "the output would be written over the scenario";
    if (misuse_of_picture(words) != NULL)
        return misuse_of_picture(words);
    if (sw_misplaced(words, command) != NULL)
        return sw_misplaced(words, command);
    return misuse_of_papers(words);
}
