/* Which question about weights is worth asking next: catalog/FORMATS.md section 36. Owned by its
 * answer's arena. */
#ifndef SW_ANSWER_NEXT_H
#define SW_ANSWER_NEXT_H

#include "answer/answer.h"
#include "answer/drawn.h"

typedef enum sw_next_kind {
    SW_NEXT_WORTH, /* is it worth so much or more, beside so much for the other? */
    SW_NEXT_TWICE, /* is it worth twice the other or more? */
    SW_NEXT_MORE   /* is it worth as much as the other, or more? */
} sw_next_kind;

typedef struct sw_next_answer {
    size_t given;  /* of the weightings drawn */
    size_t bundle; /* best then: of the answer's bundles; where it is given at all */
} sw_next_answer;

typedef struct sw_next_question {
    sw_next_kind kind;
    int criterion, other;              /* of the catalog */
    int64_t worth_milli, beside_milli; /* SW_NEXT_WORTH */
    int64_t value;                     /* thousandths of a point, rounded */
    sw_next_answer answers[2];         /* yes, no */
} sw_next_question;

struct sw_next {
    sw_answer *answer; /* bundles[0]: best at the mean of all; the others: best after an answer */
    int *criteria;     /* that may weigh */
    size_t criterion_count;
    const char **gains; /* [criterion of the catalog] what its swing is, in words; or NULL */
    size_t found;       /* non-dominated bundles */
    sw_next_question *questions;
    size_t question_count;
    int asked; /* of most value; SW_NONE: none is worth it */
};

sw_status sw_find_question(sw_next **out, const sw_scenario *scenario, bool allow_unknown,
                           sw_allowance allowance, sw_complaints *complaints);

#endif
