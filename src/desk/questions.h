/* The questions that the page may ask and the papers that it may have made, as words of the
 * command line: one table, FORMATS.md section 37. */
#ifndef SW_DESK_QUESTIONS_H
#define SW_DESK_QUESTIONS_H

#include "read/json.h"

typedef struct sw_question sw_question;

/* NULL: there is no such question, or paper. */
const sw_question *sw_question_find(const char *name);
const sw_question *sw_paper_find(const char *name);
/* Of a paper: where the command writes it, counted from its folder (NULL: on standard output), and
 * what it is ("text/html"). */
const char *sw_paper_file(const sw_question *paper);
const char *sw_paper_type(const sw_question *paper);
/* Where a file that came with the question stands for the command, counted from its folder. */
const char *sw_given_folder(void);
const char *sw_given_file(void);

/* What every command line holds beside the words of the question. */
typedef struct sw_asking {
    const char *file, *catalog; /* `catalog` NULL: the one that the file names */
    int seconds;
} sw_asking;

/* Arguments like main's, NULL behind the last. */
typedef struct sw_command_line {
    int count;
    char **words;
    const char *given; /* the text of the file that came with it; NULL: none */
} sw_command_line;

/* `words`: the JSON object of the question's words, or NULL. A complaint tells which word is wrong:
 * SW_BAD_DATA. All lives in the arena. */
sw_status sw_question_words(sw_command_line *out, sw_arena *arena, const sw_question *question,
                            const sw_json *words, const sw_asking *asking,
                            sw_complaints *complaints);

#endif
