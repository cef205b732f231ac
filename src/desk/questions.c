/* Questions and papers by table: their words become those of the command line. */
#include "desk/questions.h"

#include "read/json_text.h"
#include "read/plain.h"

#include <stdio.h>
#include <string.h>

#define WORDS_MOST 5

/* How a word stands on the command line. */
typedef enum word_kind {
    VALUE, /* "--option value": a text or a number */
    FLAG,  /* "--option", where it is true */
    LIST,  /* "--option text" for each of a list of texts */
    PART,  /* a text by itself, behind the scenario */
    PARTS, /* a list of these */
    GIVEN  /* "--option FILE": a text that becomes a file beside the job */
} word_kind;

typedef struct word {
    const char *name, *option;
    word_kind kind;
    bool needed;
} word;

struct sw_question {
    const char *name, *command;
    word words[WORDS_MOST];
    const char *option, *file; /* of a paper: what makes the command write it, and where */
    const char *type;
    bool plain;   /* without --json */
    bool untimed; /* the command takes no --seconds */
};

#define BUDGET                                                                                     \
    { "budget", "--budget", VALUE, false }
#define OPTION                                                                                     \
    { "option", "--option", VALUE, false }
#define MEASURED                                                                                   \
    { "measured", "--measured", GIVEN, true }
#define ASK(of, ...)                                                                               \
    {                                                                                              \
        .name = (of), .command = (of), .words = { __VA_ARGS__ }                                    \
    }

static const sw_question questions[] = {
    ASK("plan", {"best", "--best", VALUE, false}, {"apart", "--apart", VALUE, false},
        {"brief", "--brief", FLAG, false}, BUDGET),
    ASK("curve", {"from", "--from", VALUE, false}, {"to", "--to", VALUE, false}),
    {.name = "look", .command = "look", .words = {BUDGET}, .untimed = true},
    ASK("options", BUDGET),
    ASK("whatif", {"settings", "--set", LIST, true}),
    ASK("first", BUDGET),
    {.name = "phases", .command = "phases"},
    ASK("ranges", {"parts", NULL, PARTS, false}, BUDGET),
    ASK("sure", {"prices", "--prices", VALUE, false}, {"estimates", "--estimates", VALUE, false},
        {"options", "--options", FLAG, false}, BUDGET),
    ASK("map", BUDGET),
    ASK("ask-next", BUDGET),
    ASK("fits", {"parts", NULL, PARTS, false}),
    ASK("why", {"part", NULL, PART, true}, {"over", "--over", VALUE, false}, BUDGET),
    {.name = "explain",
     .command = "explain",
     .words = {{"part", NULL, PART, false}, BUDGET},
     .untimed = true},
    ASK("shopping", OPTION, {"gone", "--gone", LIST, false}, {"settings", "--set", LIST, false},
        {"take", "--take", VALUE, false}, BUDGET),
    ASK("bench", OPTION, BUDGET),
    ASK("handover", OPTION, MEASURED, BUDGET),
    {.name = "check", .command = "check", .untimed = true},
};

#define PAPER(of, by, ...)                                                                         \
    { .name = (of), .command = (by), .plain = true, __VA_ARGS__ }
#define PAGE .option = "-o", .file = "paper/page.html", .type = "text/html"
#define PICTURE .option = "--svg", .file = "paper/picture.svg", .type = "image/svg+xml"

static const sw_question papers[] = {
    PAPER("proposal", "options", PAGE),
    PAPER("bench", "bench", PAGE, .words = {OPTION}),
    PAPER("handover", "handover", PAGE, .words = {OPTION, MEASURED}),
    PAPER("map", "map", PICTURE),
    PAPER("curve", "curve", PICTURE),
    PAPER("shopping", "shopping", .type = "text/plain", .words = {OPTION}),
};

static const sw_question *find(const sw_question *in, size_t count, const char *name) {
    for (size_t i = 0; i < count; i++)
        if (strcmp(in[i].name, name) == 0)
            return &in[i];
    return NULL;
}

const sw_question *sw_question_find(const char *name) {
    return find(questions, sizeof questions / sizeof *questions, name);
}

const sw_question *sw_paper_find(const char *name) {
    return find(papers, sizeof papers / sizeof *papers, name);
}

const char *sw_paper_file(const sw_question *paper) { return paper->file; }

const char *sw_paper_type(const sw_question *paper) { return paper->type; }

const char *sw_given_folder(void) { return "given"; }

const char *sw_given_file(void) { return "given/measured.json"; }

/* ---- one command line ----------------------------------------------------------------------- */

typedef struct line {
    sw_arena *arena;
    sw_command_line *out;
    size_t room;
    sw_complaints *complaints;
    sw_status status;
} line;

static void add(line *l, const char *text) {
    char *copy = text == NULL ? NULL : sw_arena_copy(l->arena, text);
    if (l->status == SW_OK && copy == NULL)
        l->status = SW_NO_MEMORY;
    if (l->status == SW_OK && (size_t)l->out->count < l->room)
        l->out->words[l->out->count++] = copy;
}

static void wrong(line *l, const char *name, const char *due) {
    sw_text plain = {0};
    sw_plain_add(&plain, name);
    l->status = plain.failed ? SW_NO_MEMORY : SW_BAD_DATA;
    if (!plain.failed)
        sw_complain(l->complaints, "words", plain.bytes != NULL ? plain.bytes : "",
                    "the words of a question are those of its command", due,
                    "is not what the question takes");
    sw_text_free(&plain);
}

static const char *value_text(const line *l, const sw_json *value) {
    return value->kind == SW_JSON_TEXT ? value->text : sw_json_number_text(l->arena, value->number);
}

static bool is_list_of_texts(const sw_json *value) {
    for (size_t i = 0; value->kind == SW_JSON_ARRAY && i < value->count; i++)
        if (value->children[i].kind != SW_JSON_TEXT)
            return false;
    return value->kind == SW_JSON_ARRAY;
}

/* The words that go before the scenario (`behind` false), or behind it. */
static void add_word(line *l, const word *of, const sw_json *value, bool behind) {
    if ((of->kind == PART || of->kind == PARTS) != behind)
        return;
    switch (of->kind) {
    case VALUE:
        if (value->kind != SW_JSON_TEXT && value->kind != SW_JSON_NUMBER) {
            wrong(l, of->name, "give a text or a number");
            return;
        }
        add(l, of->option);
        add(l, value_text(l, value));
        return;
    case FLAG:
        if (value->kind != SW_JSON_BOOL)
            wrong(l, of->name, "give true or false");
        else if (value->truth)
            add(l, of->option);
        return;
    case PART:
        if (value->kind != SW_JSON_TEXT)
            wrong(l, of->name, "give one text");
        else
            add(l, value->text);
        return;
    case GIVEN:
        if (value->kind != SW_JSON_TEXT) {
            wrong(l, of->name, "give the file's text");
            return;
        }
        l->out->given = sw_arena_copy(l->arena, value->text);
        if (l->out->given == NULL)
            l->status = SW_NO_MEMORY;
        add(l, of->option);
        add(l, sw_given_file());
        return;
    case LIST:
    case PARTS:
        if (!is_list_of_texts(value)) {
            wrong(l, of->name, "give a list of texts");
            return;
        }
        for (size_t i = 0; i < value->count; i++) {
            if (of->kind == LIST)
                add(l, of->option);
            add(l, value->children[i].text);
        }
        return;
    }
}

static void add_words(line *l, const sw_question *question, const sw_json *words, bool behind) {
    for (size_t i = 0; i < WORDS_MOST && question->words[i].name != NULL; i++) {
        const sw_json *value = sw_json_get(words, question->words[i].name);
        if (value != NULL && l->status == SW_OK)
            add_word(l, &question->words[i], value, behind);
    }
}

/* Words that the question does not have, and words that it cannot do without. */
static void check_names(line *l, const sw_question *question, const sw_json *words) {
    for (size_t i = 0; words != NULL && i < words->count && l->status == SW_OK; i++) {
        bool known = false;
        for (size_t j = 0; j < WORDS_MOST && question->words[j].name != NULL; j++)
            known = known || strcmp(words->children[i].name, question->words[j].name) == 0;
        if (!known)
            wrong(l, words->children[i].name, "leave it out: the question has no such word");
    }
    for (size_t j = 0; j < WORDS_MOST && question->words[j].name != NULL; j++) {
        const sw_json *value = sw_json_get(words, question->words[j].name);
        bool empty = value == NULL || (value->kind == SW_JSON_ARRAY && value->count == 0);
        if (question->words[j].needed && empty && l->status == SW_OK)
            wrong(l, question->words[j].name, "say it: the question cannot do without");
    }
}

/* All words that could be added, and those that are always there. */
static size_t room_for(const sw_json *words) {
    size_t room = 20;
    for (size_t i = 0; words != NULL && i < words->count; i++)
        room += 2 + 2 * words->children[i].count;
    return room;
}

sw_status sw_question_words(sw_command_line *out, sw_arena *arena, const sw_question *question,
                            const sw_json *words, const sw_asking *asking,
                            sw_complaints *complaints) {
    line l = {.arena = arena, .out = out, .room = room_for(words), .complaints = complaints};
    char seconds[16];
    *out = (sw_command_line){.words = SW_NEW(arena, char *, l.room + 1)};
    if (out->words == NULL)
        return SW_NO_MEMORY;
    check_names(&l, question, words);
    add(&l, "swapworth");
    add(&l, question->command);
    if (!question->plain)
        add(&l, "--json");
    if (asking->catalog != NULL) {
        add(&l, "--catalog");
        add(&l, asking->catalog);
    }
    snprintf(seconds, sizeof seconds, "%d", asking->seconds);
    if (!question->untimed) {
        add(&l, "--seconds");
        add(&l, seconds);
    }
    if (question->option != NULL) {
        add(&l, question->option);
        add(&l, question->file);
    }
    add_words(&l, question, words, false);
    add(&l, "--");
    /* "-" alone would be standard input, even there. */
    add(&l, strcmp(asking->file, "-") == 0 ? "./-" : asking->file);
    add_words(&l, question, words, true);
    return l.status;
}
