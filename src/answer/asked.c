/* What the interview tells of the machine as it stands, by the answers so far. */
#include <stdlib.h>
#include <string.h>

#include "estimate/estimates.h"
#include "intake/ask.h"

static sw_status estimate(double *out, const sw_scenario *scenario, sw_complaints *complaints) {
    sw_fitouts *fitouts = NULL;
    sw_estimates *estimates = NULL;
    sw_status status = sw_fitouts_make(&fitouts, scenario, complaints);
    if (status == SW_OK)
        status = sw_estimates_make(&estimates, fitouts, complaints);
    if (status == SW_OK && estimates->quiet != SW_NONE)
        *out = sw_sound_of(estimates, fitouts->present).loudness_sone;
    sw_estimates_free(estimates);
    sw_fitouts_free(fitouts);
    return status;
}

/* A draft may lack facts that this takes: then nothing is told, and nothing is complained of. */
sw_status sw_interview_estimate(sw_interview *interview) {
    char *text = NULL;
    sw_scenario *scenario = NULL;
    double sones = -1;
    if (interview->state != SW_INTERVIEW_ASKS || interview->asked.kind != SW_ASKED_TOPIC ||
        interview->asked.topic != SW_TOPIC_LIMITS)
        return SW_OK;
    sw_complaints *unheard = sw_complaints_new();
    if (unheard == NULL)
        return SW_NO_MEMORY;
    sw_status status = sw_interview_scenario(&text, interview, unheard);
    if (status == SW_OK)
        status = sw_scenario_read_bytes(&scenario, interview->path, text, strlen(text),
                                        interview->catalog, false, unheard);
    if (status == SW_OK)
        status = estimate(&sones, scenario, unheard);
    interview->loudness_now_sone = status == SW_OK ? sones : -1;
    sw_scenario_free(scenario);
    free(text);
    sw_complaints_free(unheard);
    return status == SW_NO_MEMORY ? status : SW_OK;
}
