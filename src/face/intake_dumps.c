/* `intake dumps`: files in, the draft and the job card out, and what was found on standard output.
 */
#include "face/errand.h"
#include "face/intake.h"

#include "read/folders.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

/* ---- words ------------------------------------------------------------------------------------
 */

static const char *today(char *date, size_t size) {
    time_t now = time(NULL);
    struct tm local;
    return localtime_r(&now, &local) != NULL && strftime(date, size, "%Y-%m-%d", &local) > 0 ? date
                                                                                             : NULL;
}

/* May the file be written: not over a dump, nor among them, nor into the catalog? */
static bool would_disturb(const sw_words *words, const char *path, const char *catalog) {
    sw_words written = {.output = path};
    bool would = path != NULL && sw_would_change_folder(&written, catalog);
    for (int f = 0; path != NULL && f < words->file_count; f++)
        would = would || sw_is_same_file(path, words->files[f]) ||
                sw_would_change_folder(&written, words->files[f]);
    return would;
}

static const char *misuse(const sw_words *words, const char *catalog) {
    const char *misplaced = sw_misplaced(words, "intake dumps");
    if (misplaced != NULL)
        return misplaced;
    if (words->file_count == 0)
        return "the dumps are missing: name files, or the folder that holds them";
    if ((words->output != NULL && words->output[0] == '\0') ||
        (words->card != NULL && words->card[0] == '\0'))
        return "the name of a file is empty";
    if (words->card != NULL && strcmp(words->card, "-") == 0)
        return "--card takes the name of a file: what is private is not for the screen";
    if (words->card != NULL && words->output != NULL && sw_is_same_file(words->card, words->output))
        return "--card and -o name the same file";
    if (words->output != NULL && sw_has_wishes(words->output))
        return "-o would write over a job that has wishes already: name another file, or take that "
               "one away";
    if (would_disturb(words, words->output, catalog) || would_disturb(words, words->card, catalog))
        return "what is written would lie among the dumps or in the catalog: name another folder";
    return NULL;
}

/* ---- the command -------------------------------------------------------------------------------
 */

static sw_status render(char **out, const sw_words *words, const sw_survey *survey) {
    sw_words to_screen = *words;
    to_screen.output = NULL;
    return words->json ? sw_render_survey_json(out, survey)
                       : sw_render_survey_text(out, survey, sw_style_of_output(&to_screen));
}

/* With the draft on standard output the report has no place there: it goes nowhere. */
static int give(const sw_words *words, const sw_survey *survey, const char *report) {
    int code = SW_EXIT_ANSWERED;
    sw_words to_screen = *words;
    to_screen.output = NULL;
    if (words->card != NULL)
        code = sw_write_private_file(words->card, sw_survey_card(survey), code);
    if (code == SW_EXIT_ANSWERED && words->output != NULL)
        code = sw_give_out(words, sw_survey_draft(survey), code);
    if (words->output != NULL && strcmp(words->output, "-") == 0)
        return code;
    return sw_give_out(&to_screen, report, code);
}

static int take(const sw_words *words, const sw_survey_job *job, sw_complaints *complaints) {
    sw_survey *survey = NULL;
    char *report = NULL;
    sw_status status = sw_read_survey(&survey, job, complaints);
    if (status == SW_OK)
        status = render(&report, words, survey);
    int code =
        status == SW_OK ? give(words, survey, report) : sw_end_with(words, complaints, status);
    free(report);
    sw_survey_free(survey);
    return code;
}

int sw_intake_dumps(const sw_words *words) {
    const char *catalog = words->catalog != NULL ? words->catalog : words->standing_catalog;
    const char *wrong = misuse(words, catalog);
    if (wrong != NULL)
        return sw_misused(words, wrong);
    char date[sizeof "99999-12-31"];
    char *named = sw_folder_seen_from(catalog, words->output);
    sw_complaints *complaints = sw_complaints_new();
    int code = SW_EXIT_INTERNAL;
    if (named != NULL && complaints != NULL) {
        sw_survey_job job = {.paths = (const char *const *)words->files,
                             .path_count = (size_t)words->file_count,
                             .catalog = catalog,
                             .named = named,
                             .date = words->date != NULL ? words->date : today(date, sizeof date)};
        code = take(words, &job, complaints);
    } else {
        sw_say_complaints(NULL, SW_NO_MEMORY);
    }
    free(named);
    sw_complaints_free(complaints);
    return code;
}
