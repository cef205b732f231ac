/* `intake piece`: one role of the machine said anew. */
#include "face/errand.h"
#include "face/intake.h"

#include <stdlib.h>
#include <string.h>

static const char *misuse(const sw_words *words) {
    const char *misplaced = sw_misplaced(words, "intake piece");
    if (misplaced != NULL)
        return misplaced;
    if (words->file_count == 0)
        return "a scenario is missing";
    if (words->file_count == 1)
        return "the role is missing";
    if (words->file_count == 2)
        return "the part is missing; \"none\" says that there is none";
    if (words->files[0][0] == '\0' || (words->output != NULL && words->output[0] == '\0'))
        return "the name of a file is empty";
    return NULL;
}

/* With the scenario on standard output, what was done has no place there. */
static int give(const sw_words *words, const sw_piece *piece, const char *told) {
    sw_words to_screen = *words;
    to_screen.output = NULL;
    int code = sw_give_out(words, sw_piece_scenario(piece), SW_EXIT_ANSWERED);
    if (words->output == NULL || strcmp(words->output, "-") == 0 || code != SW_EXIT_ANSWERED)
        return code;
    return sw_give_out(&to_screen, told, code);
}

int sw_intake_piece(const sw_words *words) {
    const char *wrong = misuse(words);
    if (wrong != NULL)
        return sw_misused(words, wrong);
    sw_words to_screen = *words;
    to_screen.output = NULL;
    sw_piece *piece = NULL;
    char *told = NULL;
    sw_complaints *complaints = sw_complaints_new();
    sw_piece_job job = {.scenario = words->files[0],
                        .catalog = words->catalog,
                        .role = words->files[1],
                        .parts = (const char *const *)words->files + 2,
                        .part_count = (size_t)words->file_count - 2,
                        .own = words->own,
                        .settings = words->settings.words,
                        .setting_count = words->settings.count};
    sw_status status = complaints == NULL ? SW_NO_MEMORY : sw_put_piece(&piece, &job, complaints);
    int code = SW_EXIT_ANSWERED;
    if (status == SW_OK)
        status = sw_render_piece_text(&told, piece, sw_style_of_output(&to_screen));
    if (status == SW_OK && sw_would_change_catalog(words, words->files[0], NULL))
        code = sw_misused(words, sw_over_catalog);
    else if (status == SW_OK)
        code = give(words, piece, told);
    else
        code = sw_end_with(words, complaints, status);
    free(told);
    sw_piece_free(piece);
    sw_complaints_free(complaints);
    return code;
}
