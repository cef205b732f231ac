/* From files to the draft, in one go. */
#include "intake/survey.h"

#include "check/stage.h"

static sw_status check_date(const char *date, sw_complaints *complaints) {
    int64_t day;
    if (date == NULL || sw_date_parse(&day, date))
        return SW_OK;
    sw_complain(complaints, "--date", "", "dates are written like 2026-03-02",
                "write the day of the job like that", "is no date of the calendar");
    return SW_BAD_DATA;
}

/* Then what could not be used is all that there is to tell. */
static sw_status nothing_said(const sw_survey *survey, const sw_survey_job *job,
                              sw_complaints *complaints) {
    const sw_complaint *c;
    for (size_t i = 0; (c = sw_complaints_get(survey->faults, i)) != NULL; i++)
        sw_complain(complaints, c->file, c->place, c->why, c->mend, "%s", c->what);
    sw_complain(complaints, job->paths[0], "", "a draft is made of what dumps say",
                "take the dumps anew: the script of the README does",
                "holds no dump of a machine that says anything, nor do the others");
    return SW_BAD_DATA;
}

static sw_status fill(sw_survey *survey, const sw_survey_job *job, sw_complaints *complaints) {
    sw_status status = check_date(job->date, complaints);
    if (status == SW_OK)
        status = sw_catalog_read(&survey->catalog, job->catalog, complaints);
    if (status == SW_OK)
        status = sw_dumps_read(&survey->dumps, survey->arena, job->paths, job->path_count,
                               survey->faults, complaints);
    if (status == SW_OK && survey->dumps.statements.count == 0)
        status = nothing_said(survey, job, complaints);
    if (status == SW_OK)
        status =
            sw_settle(&survey->devices, survey->arena, &survey->dumps, survey->catalog->intake);
    if (status == SW_OK)
        status = sw_find_mixture(survey);
    if (status == SW_OK)
        status = sw_make_pieces(survey);
    if (status == SW_OK)
        status = sw_make_draft(survey, job->named, job->date);
    if (status == SW_OK)
        status = sw_make_card(survey);
    return status;
}

sw_status sw_read_survey(sw_survey **out, const sw_survey_job *job, sw_complaints *complaints) {
    sw_arena *arena = sw_arena_new();
    sw_survey *survey = arena == NULL ? NULL : SW_NEW(arena, sw_survey, 1);
    if (survey == NULL) {
        sw_arena_free(arena);
        return SW_NO_MEMORY;
    }
    survey->arena = arena;
    survey->faults = sw_complaints_new();
    sw_status status = survey->faults == NULL ? SW_NO_MEMORY : fill(survey, job, complaints);
    if (status == SW_OK)
        *out = survey;
    else
        sw_survey_free(survey);
    return status;
}

void sw_survey_free(sw_survey *survey) {
    if (survey == NULL)
        return;
    sw_complaints_free(survey->faults);
    sw_catalog_free(survey->catalog);
    sw_arena_free(survey->arena);
}

const char *sw_survey_draft(const sw_survey *survey) { return survey->draft; }

const char *sw_survey_card(const sw_survey *survey) { return survey->card; }
