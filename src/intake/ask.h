/*
 * An interview under way: what was asked, what was answered, what is asked next. It is a fold over
 * the answers that were taken, so that going back is to forget the last ones, and a file of
 * answers is that list. catalog/FORMATS.md section 31.
 */
#ifndef SW_INTAKE_ASK_H
#define SW_INTAKE_ASK_H

#include "check/interview.h"
#include "check/scenario.h"

/* What an answer is to. */
typedef enum sw_asked_kind {
    SW_ASKED_TOPIC,
    SW_ASKED_SORTED, /* are the words sorted right? */
    SW_ASKED_DOUBT,
    SW_ASKED_AGREE,
    SW_ASKED_NOTHING
} sw_asked_kind;

typedef struct sw_asked {
    sw_asked_kind kind;
    sw_topic topic;     /* that it is about */
    const char *id;     /* as answers name it */
    size_t number, of;  /* of a topic: its place among those that there are */
    const char *said;   /* what the question is about: a doubt, what was understood; "" */
    const char *now;    /* what the draft says already; NULL: nothing */
    const char **items; /* to choose from by number; of the last question, what was taken */
    const int *numbers; /* of the items; NULL: from 1 on */
    size_t item_count;
} sw_asked;

typedef enum sw_said { SW_NOT_ASKED, SW_SKIPPED, SW_ANSWERED } sw_said;

typedef struct sw_said_trouble {
    int trouble;
    const char *words;
} sw_said_trouble;

typedef struct sw_said_danger {
    const sw_danger *danger;
    const char *words;
} sw_said_danger;

typedef struct sw_said_use {
    int use;
    int64_t share_milli, now_milli, wanted_milli; /* rates: -1: as they were; 0: taken away */
} sw_said_use;

typedef struct sw_said_sum {
    const char *on;
    int64_t day, sum;
} sw_said_sum;

/* What may stay: a role, or a piece of it. */
typedef struct sw_stayer {
    int role, part;      /* part: SW_NONE for the role */
    const char *must_go; /* why it cannot; NULL */
    bool kept;
} sw_stayer;

#define SW_LIMIT_UNSAID (-1)
#define SW_LIMIT_NONE (-2)

typedef struct sw_told {
    sw_said said[SW_TOPIC_COUNT];
    const char *typed[SW_TOPIC_COUNT];
    sw_said_trouble *troubles;
    size_t trouble_count;
    sw_said_danger *dangers; /* as they were first heard */
    size_t danger_count;
    sw_said_use *uses; /* the client's, whether said now or before or assumed */
    size_t use_count;
    int *order; /* places in the form's swings */
    size_t order_count;
    int64_t *worth_milli;   /* [swing] */
    int *sides;             /* [pair] 0, 1, or SW_NONE */
    int64_t total, reserve; /* minor units, -1: not said */
    sw_said_sum *sums;      /* later ones */
    size_t sum_count;
    const char *until;
    int64_t until_day;
    sw_stayer *stayers;
    size_t stayer_count;
    const char **makers; /* all there are, sorted */
    bool *avoided;       /* [maker] */
    size_t maker_count;
    int64_t loudness_milli, days, minutes;
    int surprise;
} sw_told;

/* An answer that was taken. */
typedef struct sw_entry {
    sw_topic topic;
    bool main; /* to the question itself, not to one that came of it */
    const char *id, *text;
} sw_entry;

struct sw_interview {
    sw_arena *arena, *turn; /* of the whole; of the fold at hand */
    sw_scenario *draft;
    const sw_interview_form *form;
    const char *path, *catalog; /* as given */
    const char *title;          /* NULL: the draft's */
    const char *bytes;          /* the draft's text */
    size_t length;
    sw_entry *entries;
    size_t entry_count, entry_room;
    sw_told told;
    sw_asked asked;
    const char *refusal;      /* of the last answer; "" when it was taken */
    const char *notice;       /* what is to be told of one that was taken, by lines; "" */
    double loudness_now_sone; /* told beside the limits; below 0: not known */
    bool explains, failed;
    sw_interview_state state;
};

#endif
