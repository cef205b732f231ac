/*
 * The interview as far as a list of answers leads: nothing of it is kept between requests. What is
 * told is told as at a terminal; the question at hand comes in its parts too, for a page to show.
 */
#include "desk/steps.h"

#include <stdlib.h>
#include <string.h>

#include "intake/ask.h"

#define ANSWERS_MOST 400

static const sw_text_style style = {.width = 80};

static sw_status say(sw_step_work *r, sw_interview *interview) {
    char *said = NULL;
    sw_status status = sw_interview_estimate(interview);
    if (status == SW_OK)
        status = sw_render_interview_text(&said, interview, style);
    if (status == SW_OK)
        sw_put_text(r, NULL, said);
    free(said);
    return status;
}

static bool asks(const sw_interview *interview) {
    return sw_interview_get_state(interview) == SW_INTERVIEW_ASKS;
}

static sw_status too_many(sw_step_work *r, size_t index) {
    sw_complain(r->complaints, "the answers", "", "the interview had come to its end before it",
                "take it away", "hold one too many, number %zu", index + 1);
    return SW_BAD_DATA;
}

static sw_status answer_all(sw_step_work *r, sw_interview *interview, const char *const *answers,
                            size_t count) {
    sw_put_open(r, "said", '[');
    sw_status status = say(r, interview);
    for (size_t i = 0; i < count && status == SW_OK; i++) {
        if (!asks(interview))
            return too_many(r, i);
        status = sw_interview_answer(interview, answers[i], strlen(answers[i]));
        if (status == SW_OK)
            status = say(r, interview);
    }
    sw_put_close(r, ']');
    return status;
}

static void tell_items(sw_step_work *r, const sw_asked *asked) {
    sw_put_open(r, "items", '[');
    for (size_t i = 0; i < asked->item_count; i++) {
        sw_put_open(r, NULL, '{');
        sw_put_whole(r, "number",
                     asked->numbers != NULL ? (unsigned long)asked->numbers[i] : i + 1);
        sw_put_text(r, "text", asked->items[i]);
        sw_put_close(r, '}');
    }
    sw_put_close(r, ']');
}

static void tell_question(sw_step_work *r, const sw_interview *interview) {
    const sw_asked *asked = &interview->asked;
    if (!asks(interview)) {
        sw_put_json(r, "ask", NULL, 0);
        return;
    }
    sw_put_open(r, "ask", '{');
    sw_put_text(r, "id", asked->id);
    if (asked->kind == SW_ASKED_TOPIC) {
        const sw_topic_form *form = &interview->form->topics[asked->topic];
        sw_put_text(r, "question", form->ask);
        sw_put_text(r, "help", form->why);
        sw_put_text(r, "write", form->write);
        sw_put_text(r, "skipped", asked->now != NULL ? "it stays as it stands" : form->assumed);
        sw_put_whole(r, "number", asked->number);
        sw_put_whole(r, "of", asked->of);
    } else {
        sw_put_text(r, "question",
                    asked->kind == SW_ASKED_AGREE ? "Shall it be written so?" : asked->said);
    }
    sw_put_text(r, "now", asked->now);
    tell_items(r, asked);
    sw_put_close(r, '}');
}

static sw_status tell_draft(sw_step_work *r, sw_interview *interview) {
    char *draft = NULL;
    bool takes = sw_step_truth(r, "take");
    if (sw_interview_get_state(interview) != SW_INTERVIEW_AGREED) {
        sw_put_json(r, "draft", NULL, 0);
        if (!takes)
            return SW_OK;
        sw_complain(r->complaints, "the interview", "", "it is taken when all was agreed to",
                    "answer what is asked", "is not finished");
        return SW_BAD_DATA;
    }
    sw_status status = sw_interview_scenario(&draft, interview, r->complaints);
    if (status == SW_OK) {
        sw_put_json(r, "draft", draft, strlen(draft));
        status = takes ? sw_step_take(r, draft, strlen(draft)) : SW_OK;
    }
    free(draft);
    return status;
}

static sw_status hold(sw_step_work *r, sw_interview *interview, const char *const *answers,
                      size_t count) {
    const char *title = sw_step_member(r, "title");
    sw_status status = title == NULL ? SW_OK : sw_interview_title(interview, title, r->complaints);
    sw_put_text(r, "sheet", r->sheet->id);
    sw_put_whole(r, "revision", r->sheet->revision + sw_step_truth(r, "take"));
    if (status == SW_OK)
        status = answer_all(r, interview, answers, count);
    if (status != SW_OK)
        return status;
    const sw_asked *asked = &interview->asked;
    tell_question(r, interview);
    sw_put_text(r, "refused", interview->refusal[0] != '\0' ? interview->refusal : NULL);
    sw_put_truth(r, "needs_yes",
                 asks(interview) &&
                     (asked->kind == SW_ASKED_DOUBT || asked->kind == SW_ASKED_AGREE));
    sw_put_truth(r, "left", sw_interview_get_state(interview) == SW_INTERVIEW_QUIT);
    return tell_draft(r, interview);
}

sw_status sw_step_interview(sw_step_work *r) {
    const char *const *answers = NULL;
    size_t count = 0;
    sw_interview *interview = NULL;
    sw_status status = sw_step_texts(&answers, &count, r, "answers");
    if (status == SW_OK && count > ANSWERS_MOST) {
        sw_complain(r->complaints, "the answers", "", "an interview has fewer questions than that",
                    "begin it anew", "are more than 400");
        return SW_BAD_DATA;
    }
    if (status == SW_OK)
        status = sw_interview_begin_bytes(&interview, sw_sheet_reads_as(r->sheets, r->sheet),
                                          r->sheet->text, r->sheet->length,
                                          sw_sheets_place(r->sheets)->catalog, r->complaints);
    if (status == SW_OK)
        status = hold(r, interview, answers, count);
    sw_interview_free(interview);
    return status;
}
