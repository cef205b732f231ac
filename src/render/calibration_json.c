/* The calibration file, written anew with one more job. */
#include "render/calibration.h"

#include <stdlib.h>
#include <string.h>

#include "read/bytes.h"
#include "render/json_writer.h"

static void text_unless_none(sw_writer *in, const char *name, const char *text) {
    if (text != NULL)
        sw_writer_text(in, name, text);
}

static void write_pair(sw_writer *in, const sw_pair *pair) {
    sw_writer *out = sw_writer_object(in, NULL);
    sw_writer_text(out, "check", pair->check);
    text_unless_none(out, "use", pair->use);
    sw_writer_exact(out, "foretold", pair->foretold);
    sw_writer_exact(out, "measured", pair->measured);
    text_unless_none(out, "note", pair->note);
}

static void write_job(sw_writer *in, const sw_past_job *job, const char *note) {
    sw_writer *out = sw_writer_object(in, NULL);
    sw_writer_text(out, "job", job->id);
    text_unless_none(out, "date", job->date);
    text_unless_none(out, "note", note);
    sw_writer *pairs = sw_writer_array(out, "pairs");
    for (size_t i = 0; i < job->pair_count; i++)
        write_pair(pairs, &job->pairs[i]);
}

static sw_status write_all(char **out, const sw_calibration *calibration, const sw_past_job *job) {
    sw_writer *root = sw_writer_new();
    bool placed = job == NULL;
    if (root == NULL)
        return SW_NO_MEMORY;
    sw_writer_integer(root, "schema", 1);
    text_unless_none(root, "note", calibration->note);
    sw_writer *jobs = sw_writer_array(root, "jobs");
    for (size_t i = 0; i < calibration->job_count; i++) {
        const sw_past_job *old = &calibration->jobs[i];
        bool same = job != NULL && strcmp(job->id, old->id) == 0;
        const sw_past_job *is = same ? job : old;
        write_job(jobs, is, is->note == NULL ? old->note : is->note);
        placed |= same;
    }
    if (!placed)
        write_job(jobs, job, job->note);
    return sw_writer_finish(out, root);
}

/* A file that could not be read again would be worth nothing to the next job. */
static sw_status read_again(const char *text, const char *file, sw_complaints *complaints) {
    sw_calibration *again = NULL;
    size_t length = strlen(text);
    if (length > SW_FILE_LIMIT) {
        sw_complain(complaints, file, "", "files of at most 20 MiB are read",
                    "begin a new file, and keep the old one", "would be too large with this job");
        return SW_BAD_DATA;
    }
    sw_status status = sw_calibration_parse(&again, file, text, length, complaints);
    sw_calibration_free(again);
    return status;
}

sw_status sw_render_calibration(char **out, const sw_calibration *calibration,
                                const sw_past_job *job, sw_complaints *complaints) {
    char *text = NULL;
    sw_status status = write_all(&text, calibration, job);
    if (status == SW_OK)
        status = read_again(text, calibration->file, complaints);
    if (status == SW_OK)
        *out = text;
    else
        free(text);
    return status;
}
