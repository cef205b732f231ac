/* What bothers the client, sorted into the kinds of complaints.json by the words of interview.json.
 */
#include <string.h>

#include "intake/ask_stage.h"
#include "base/letters.h"

/* So many words before a phrase, a "not" takes it away. */
#define NOT_REACHES 2

typedef struct clause {
    const char *text;
    sw_pieces words; /* in small letters */
} clause;

static bool is_letter(unsigned char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '\'' || c >= 0x80;
}

/* The words in small letters; a typographic apostrophe is one of typewriters. */
static bool cut_words(sw_interview *interview, clause *out) {
    size_t length = strlen(out->text), kept = 0;
    char *plain = SW_ASK_NEW(interview, char, length + 1);
    if (plain == NULL)
        return false;
    for (size_t i = 0; i < length; i++) {
        unsigned char c = (unsigned char)sw_small_letter(out->text[i]);
        if (c == 0xE2 && (unsigned char)out->text[i + 1] == 0x80 &&
            (unsigned char)out->text[i + 2] == 0x99) {
            c = '\'';
            i += 2;
        }
        plain[kept++] = (char)(is_letter(c) ? c : ' ');
    }
    return sw_ask_words(interview, plain, "", &out->words);
}

/* How many words of the clause from `at` on the phrase matches; 0: it does not. */
static size_t matches(const sw_pieces *words, size_t at, const char *phrase) {
    size_t used = 0;
    while (*phrase != '\0') {
        size_t length = strcspn(phrase, " *");
        bool open = phrase[length] == '*';
        if (at + used >= words->count)
            return 0;
        const char *word = words->list[at + used];
        if (strncmp(word, phrase, length) != 0 || (!open && word[length] != '\0'))
            return 0;
        used++;
        phrase += length;
        phrase += *phrase != '\0';
    }
    return used;
}

/* The longest phrase at that place; of equals the one with more letters. */
static const sw_phrase *phrase_at(const sw_interview_form *form, const sw_pieces *words, size_t at,
                                  size_t *used) {
    const sw_phrase *found = NULL;
    *used = 1;
    for (size_t p = 0; p < form->phrase_count; p++) {
        const sw_phrase *phrase = &form->phrases[p];
        size_t count = matches(words, at, phrase->words);
        if (count == 0 || (found != NULL && count < *used) ||
            (found != NULL && count == *used && strlen(phrase->words) <= strlen(found->words)))
            continue;
        found = phrase;
        *used = count;
    }
    return found;
}

static sw_said_trouble *find(sw_told *told, int trouble) {
    for (size_t i = 0; i < told->trouble_count; i++)
        if (told->troubles[i].trouble == trouble)
            return &told->troubles[i];
    return NULL;
}

static void add(sw_interview *interview, int trouble, const char *words) {
    sw_told *told = &interview->told;
    sw_said_trouble *old = find(told, trouble);
    if (old == NULL)
        told->troubles[told->trouble_count++] = (sw_said_trouble){trouble, words};
    else if (strstr(old->words, words) == NULL)
        old->words = sw_ask_format(interview, "%s; %s", old->words, words);
}

/* ---- dangers --------------------------------------------------------------------------------- */

static void add_danger(sw_interview *interview, const sw_danger *danger, const char *words) {
    sw_told *told = &interview->told;
    size_t i = 0;
    while (i < told->danger_count && told->dangers[i].danger != danger)
        i++;
    if (i == told->danger_count)
        told->dangers[told->danger_count++] = (sw_said_danger){danger, words};
    else if (strstr(told->dangers[i].words, words) == NULL)
        told->dangers[i].words = sw_ask_format(interview, "%s; %s", told->dangers[i].words, words);
}

static bool is_told(const sw_danger *danger, const sw_pieces *words) {
    for (size_t at = 0; at < words->count; at++)
        for (size_t p = 0; p < danger->phrase_count; p++)
            if (matches(words, at, danger->phrases[p].words) > 0)
                return true;
    return false;
}

/* A "not" takes no danger away: a warning too many costs a minute. */
static void hear_dangers(sw_interview *interview, const clause *of) {
    for (size_t d = 0; d < interview->form->danger_count; d++)
        if (is_told(&interview->form->dangers[d], &of->words))
            add_danger(interview, &interview->form->dangers[d], of->text);
}

static void warn(sw_interview *interview) {
    const sw_told *told = &interview->told;
    for (size_t i = 0; i < told->danger_count; i++)
        sw_ask_notice(interview,
                      sw_ask_format(interview, "BEWARE (\"%s\"): %s", told->dangers[i].words,
                                    told->dangers[i].danger->says));
}

/* ---- kinds ----------------------------------------------------------------------------------- */

static void sort_clause(sw_interview *interview, const clause *of) {
    size_t not_until = 0, used = 1, count = 0;
    int *heard = SW_ASK_NEW(interview, int, of->words.count);
    for (size_t at = 0; heard != NULL && at < of->words.count; at += used) {
        const sw_phrase *phrase = phrase_at(interview->form, &of->words, at, &used);
        if (phrase == NULL)
            continue;
        if (phrase->kind == SW_PHRASE_NOT)
            not_until = at + used + NOT_REACHES;
        else if (at >= not_until && phrase->kind == SW_PHRASE_FINE)
            count = 0;
        else if (at >= not_until)
            heard[count++] = phrase->trouble;
    }
    for (size_t i = 0; i < count; i++)
        add(interview, heard[i], of->text);
}

/* A point between digits is none that ends a sentence. */
static bool ends_clause(const char *text, const char *at) {
    if (*at == '\0' || strchr(";!?", *at) != NULL)
        return true;
    return *at == '.' &&
           !(at > text && at[-1] >= '0' && at[-1] <= '9' && at[1] >= '0' && at[1] <= '9');
}

static bool sort_text(sw_interview *interview, const char *text) {
    const char *from = text;
    for (const char *at = text;; at++) {
        if (!ends_clause(text, at))
            continue;
        const char *to = at;
        while (from < to && *from == ' ')
            from++;
        while (to > from && to[-1] == ' ')
            to--;
        clause one = {.text = sw_arena_text(interview->turn, from, (size_t)(to - from))};
        interview->failed |= one.text == NULL;
        if (one.text == NULL || !cut_words(interview, &one))
            return false;
        hear_dangers(interview, &one);
        sort_clause(interview, &one);
        from = at + 1;
        if (*at == '\0')
            return !interview->failed;
    }
}

bool sw_ask_hear_complaint(sw_interview *interview, const char *text) {
    sw_told *told = &interview->told;
    told->trouble_count = 0;
    told->troubles =
        SW_ASK_NEW(interview, sw_said_trouble, interview->draft->catalog->trouble_count);
    told->danger_count = 0;
    told->dangers = SW_ASK_NEW(interview, sw_said_danger, interview->form->danger_count);
    if (told->troubles == NULL || told->dangers == NULL)
        return false;
    if (sw_ask_same(text, "none"))
        return true;
    if (!sort_text(interview, text))
        return false;
    warn(interview);
    return true;
}

/* ---- shown and confirmed ------------------------------------------------------------------ */

void sw_ask_offer_sorted(sw_interview *interview, sw_asked *out) {
    const sw_catalog *catalog = interview->draft->catalog;
    const sw_told *told = &interview->told;
    sw_text said = {0};
    out->items = SW_ASK_NEW(interview, const char *, catalog->trouble_count);
    for (size_t t = 0; out->items != NULL && t < catalog->trouble_count; t++)
        out->items[out->item_count++] = catalog->troubles[t].name;
    if (told->trouble_count == 0)
        sw_text_add(&said, "None of the kinds was heard in these words.");
    for (size_t i = 0; i < told->trouble_count; i++)
        sw_text_addf(&said, "%s%s (\"%s\")", i == 0 ? "Understood: " : "; ",
                     catalog->troubles[told->troubles[i].trouble].name, told->troubles[i].words);
    if (told->trouble_count > 0)
        sw_text_add(&said, ".");
    if (told->danger_count > 0)
        sw_text_add(&said, " What was said of danger stays in the job, whatever is chosen here.");
    out->said = sw_ask_keep(interview, &said);
}

bool sw_ask_hear_sorted(sw_interview *interview, const char *text) {
    const sw_catalog *catalog = interview->draft->catalog;
    sw_told *told = &interview->told;
    int *numbers = NULL;
    size_t count = 0;
    if (sw_ask_same(text, "none")) {
        told->trouble_count = 0;
        return true;
    }
    if (sw_ask_same(text, "yes") || sw_ask_same(text, "y")) {
        return told->trouble_count > 0 ||
               sw_ask_refuse(interview, "nothing was understood yet: write the numbers of the "
                                        "kinds that are meant, or none");
    }
    if (!sw_ask_numbers(interview, text, catalog->trouble_count, &numbers, &count))
        return false;
    sw_said_trouble *list = SW_ASK_NEW(interview, sw_said_trouble, count);
    for (size_t i = 0; list != NULL && i < count; i++) {
        const sw_said_trouble *heard = find(told, numbers[i]);
        const char *all = told->typed[SW_TOPIC_COMPLAINT];
        list[i] = (sw_said_trouble){numbers[i], heard != NULL ? heard->words : all};
    }
    told->troubles = list;
    told->trouble_count = count;
    return list != NULL;
}
