/* The command `desk`. */
#include "desk/desk.h"

#include "face/commands.h"
#include "face/errand.h"

#include <time.h>

#define DEFAULT_SECONDS 60

static bool tell_address(const char *address) {
    printf("%s\n", address);
    return sw_close_output(stdout);
}

/* What is wrong with the words; NULL: nothing. */
static const char *misuse(const sw_words *words) {
    if (words->file_count > 1)
        return "one scenario at a time, please";
    if (words->file_count == 1 && words->files[0][0] == '\0')
        return "the name of the scenario is empty";
    if (words->file_count == 1 && words->files[0][0] == '-' && words->files[0][1] == '\0')
        return "desk takes the name of a file: the job is read again and saved there";
    if (words->catalog != NULL && words->catalog[0] == '\0')
        return "the name behind --catalog is empty";
    if (words->budget != NULL || words->output != NULL || words->allow_unknown || words->json)
        return "desk takes no --budget, -o, --allow-unknown and --json: they belong to its "
               "questions";
    return sw_misplaced(words, "desk");
}

static const char *today(char *date, size_t room) {
    time_t now = time(NULL);
    struct tm day;
    if (localtime_r(&now, &day) == NULL || strftime(date, room, "%Y-%m-%d", &day) == 0)
        return "1970-01-01";
    return date;
}

int sw_command_desk(const sw_words *words) {
    char date[sizeof "99999-12-31"];
    const char *wrong = misuse(words);
    if (wrong != NULL)
        return sw_misused(words, wrong);
    sw_desk_job job = {.scenario = words->file_count > 0 ? words->files[0] : NULL,
                       .catalog = words->catalog,
                       .otherwise = words->standing_catalog,
                       .date = today(date, sizeof date),
                       .port = words->port,
                       .seconds = words->seconds > 0 ? words->seconds : DEFAULT_SECONDS,
                       .run = sw_run_line,
                       .now = sw_steady_seconds,
                       .begun = tell_address};
    sw_complaints *complaints = sw_complaints_new();
    sw_status status = complaints == NULL ? SW_NO_MEMORY : sw_desk_run(&job, complaints);
    int code = sw_say_complaints(complaints, status);
    if (status == SW_CANNOT_WRITE && sw_complaints_count(complaints) > 0)
        code = SW_EXIT_CANNOT_CREATE;
    else if (status == SW_CANNOT_WRITE)
        fputs("swapworth: cannot write to standard output.\n", stderr);
    sw_complaints_free(complaints);
    return code;
}
