/* Rows to parts: proposals by the words that they share. Weights and scores are whole numbers, so
 * that every machine proposes the same. */
#include <stdlib.h>
#include <string.h>

#include "intake/price_stage.h"
#include "base/letters.h"

#define WORDS_MOST 64       /* of one text */
#define COMMON_WORD 2000    /* parts; a word of more finds none */
#define SCORE_LEAST 50      /* percent */
#define CANDIDATES_MOST 100 /* whose facts are looked at */

/* ---- words ---------------------------------------------------------------------------------- */

static bool is_digit(char byte) { return byte >= '0' && byte <= '9'; }

static bool is_letter(char byte) {
    return (sw_small_letter(byte) >= 'a' && sw_small_letter(byte) <= 'z') ||
           (unsigned char)byte >= 0x80;
}

/* The next word from `*at` on into the scratch text; false when there is none. */
static bool next_word(sw_pricing *in, const char **at) {
    const char *text = *at;
    in->key.length = 0;
    for (size_t blank = 0; *text != '\0' && ((blank = sw_blank_length(text)) > 0 ||
                                             (!is_letter(*text) && !is_digit(*text)));)
        text += blank > 0 ? blank : 1;
    bool digits = is_digit(*text);
    for (; digits ? is_digit(*text) : is_letter(*text) && sw_blank_length(text) == 0; text++) {
        char byte = sw_small_letter(*text);
        sw_text_add_bytes(&in->key, &byte, 1);
    }
    *at = text;
    in->no_memory |= in->key.failed;
    return in->key.length > 0 && !in->key.failed;
}

static bool holds(const int *list, size_t count, int word) {
    for (size_t i = 0; i < count; i++)
        if (list[i] == word)
            return true;
    return false;
}

static int by_number(const void *left, const void *right) {
    int a = *(const int *)left, b = *(const int *)right;
    return (a > b) - (a < b);
}

/* ---- the parts' words ------------------------------------------------------------------------ */

static size_t words_of_part(sw_pricing *in, const sw_part *part, int *out) {
    size_t count = 0;
    const char *const texts[] = {part->maker, part->name};
    for (size_t t = 0; t < 2; t++)
        for (const char *at = texts[t]; count < WORDS_MOST && next_word(in, &at);) {
            int word = sw_names_find(&in->lexicon.words, in->key.bytes);
            if (word == SW_NONE) {
                const char *kept = sw_arena_copy(in->scratch, in->key.bytes);
                word = (int)in->lexicon.words.count;
                if (kept == NULL || !sw_names_add(&in->lexicon.words, kept, word)) {
                    in->no_memory = true;
                    return count;
                }
            }
            if (!holds(out, count, word))
                out[count++] = word;
        }
    qsort(out, count, sizeof *out, by_number);
    return count;
}

static bool gather_words(sw_pricing *in) {
    sw_lexicon *to = &in->lexicon;
    size_t parts = in->catalog->part_count, room = 0, count = 0;
    int *all = NULL, of_part[WORDS_MOST];
    for (size_t p = 0; p < parts && !in->no_memory; p++) {
        size_t words = words_of_part(in, &in->catalog->parts[p], of_part);
        to->part_first[p] = (int)count;
        for (size_t i = 0; i < words && !in->no_memory; i++) {
            in->no_memory = !SW_GROW(all, room, count);
            if (!in->no_memory)
                all[count++] = of_part[i];
        }
    }
    to->part_first[parts] = (int)count;
    to->part_words = SW_NEW(in->scratch, int, count);
    in->no_memory |= to->part_words == NULL;
    if (!in->no_memory && count > 0)
        memcpy(to->part_words, all, count * sizeof *all);
    free(all);
    return !in->no_memory;
}

static int weight_of(size_t parts, size_t with) {
    int weight = 1;
    for (size_t twice = with * 2; with > 0 && twice <= parts; twice *= 2)
        weight++;
    return weight;
}

static void turn_round(sw_pricing *in) {
    sw_lexicon *to = &in->lexicon;
    size_t parts = in->catalog->part_count, words = to->words.count;
    int total = to->part_first[parts];
    to->offsets = SW_NEW(in->scratch, int, words + 1);
    to->word_weight = SW_NEW(in->scratch, int, words);
    to->parts_of = SW_NEW(in->scratch, int, (size_t)total);
    int *filled = SW_NEW(in->scratch, int, words);
    if (to->offsets == NULL || to->word_weight == NULL || to->parts_of == NULL || filled == NULL) {
        in->no_memory = true;
        return;
    }
    for (int i = 0; i < total; i++)
        to->offsets[to->part_words[i] + 1]++;
    for (size_t w = 0; w < words; w++) {
        to->word_weight[w] = weight_of(parts, (size_t)to->offsets[w + 1]);
        to->offsets[w + 1] += to->offsets[w];
    }
    for (size_t p = 0; p < parts; p++)
        for (int i = to->part_first[p]; i < to->part_first[p + 1]; i++) {
            int word = to->part_words[i];
            to->parts_of[to->offsets[word] + filled[word]++] = (int)p;
            to->part_weight[p] += to->word_weight[word];
        }
}

void sw_lexicon_make(sw_pricing *in) {
    sw_lexicon *to = &in->lexicon;
    size_t parts = in->catalog->part_count;
    to->part_first = SW_NEW(in->scratch, int, parts + 1);
    to->part_weight = SW_NEW(in->scratch, int, parts);
    to->shared = SW_NEW(in->scratch, int, parts);
    to->near = SW_NEW(in->scratch, sw_proposal_of, parts);
    if (to->part_first == NULL || to->part_weight == NULL || to->shared == NULL || to->near == NULL)
        in->no_memory = true;
    else if (gather_words(in))
        turn_round(in);
}

/* ---- the row's words ---------------------------------------------------------------------------
 */

typedef struct row_words {
    int known[WORDS_MOST];
    size_t known_count;
    const char *others[WORDS_MOST]; /* that no part has */
    size_t other_count;
    int weight;
} row_words;

static void add_other(sw_pricing *in, row_words *to, sw_text *texts, size_t *offsets) {
    for (size_t i = 0; i < to->other_count; i++)
        if (strcmp(texts->bytes + offsets[i], in->key.bytes) == 0)
            return;
    offsets[to->other_count++] = texts->length;
    sw_text_add_bytes(texts, in->key.bytes, in->key.length + 1);
    in->no_memory |= texts->failed;
    to->weight++;
}

static void words_of_row(sw_pricing *in, const sw_price_row *row, row_words *to) {
    const char *const texts[] = {row->maker, row->name};
    size_t offsets[WORDS_MOST];
    sw_text others = {0};
    *to = (row_words){.weight = 0};
    for (size_t t = 0; t < 2; t++)
        for (const char *at = texts[t]; to->known_count + to->other_count < WORDS_MOST &&
                                        !in->no_memory && next_word(in, &at);) {
            int word = sw_names_find(&in->lexicon.words, in->key.bytes);
            if (word == SW_NONE) {
                add_other(in, to, &others, offsets);
            } else if (!holds(to->known, to->known_count, word)) {
                to->known[to->known_count++] = word;
                to->weight += in->lexicon.word_weight[word];
            }
        }
    sw_text_free(&others);
}

/* ---- proposals
 * ------------------------------------------------------------------------------------ */

static int by_score(const void *left, const void *right) {
    const sw_proposal_of *a = left, *b = right;
    if (a->score != b->score)
        return a->score < b->score ? 1 : -1;
    return (a->part > b->part) - (a->part < b->part);
}

static int parts_with(const sw_lexicon *lexicon, int word) {
    return lexicon->offsets[word + 1] - lexicon->offsets[word];
}

/* Parts that share a word that is not too common, with the weight that they share. */
static size_t gather_near(sw_lexicon *lexicon, const row_words *words) {
    size_t count = 0;
    for (size_t i = 0; i < words->known_count; i++) {
        int word = words->known[i];
        if (parts_with(lexicon, word) > COMMON_WORD)
            continue;
        for (int k = lexicon->offsets[word]; k < lexicon->offsets[word + 1]; k++) {
            int part = lexicon->parts_of[k];
            if (lexicon->shared[part] == 0)
                lexicon->near[count++].part = part;
            lexicon->shared[part] += lexicon->word_weight[word];
        }
    }
    return count;
}

static int common_weight(const sw_lexicon *lexicon, const row_words *words, int part) {
    int weight = 0;
    for (size_t i = 0; i < words->known_count; i++) {
        int word = words->known[i];
        if (parts_with(lexicon, word) <= COMMON_WORD)
            continue;
        const int *of = lexicon->part_words + lexicon->part_first[part];
        size_t count = (size_t)(lexicon->part_first[part + 1] - lexicon->part_first[part]);
        if (bsearch(&word, of, count, sizeof word, by_number) != NULL)
            weight += lexicon->word_weight[word];
    }
    return weight;
}

static size_t score_near(sw_lexicon *lexicon, const row_words *words, size_t count) {
    size_t good = 0;
    for (size_t i = 0; i < count; i++) {
        int part = lexicon->near[i].part;
        int shared = lexicon->shared[part] + common_weight(lexicon, words, part);
        int score = 200 * shared / (words->weight + lexicon->part_weight[part]);
        lexicon->shared[part] = 0;
        if (score >= SCORE_LEAST)
            lexicon->near[good++] = (sw_proposal_of){.part = part, .score = score};
    }
    return good;
}

static void keep_reading(sw_pricing *in, const sw_price_reading *read, sw_price_row *row) {
    row->pack = read->pack;
    row->told = sw_price_keep_facts(in, read->facts, read->count);
    row->told_count = row->told == NULL ? 0 : read->count;
    row->clashes = sw_price_keep_facts(in, read->facts + read->count, read->clash_count);
    row->clash_count = row->clashes == NULL ? 0 : read->clash_count;
}

void sw_price_propose(sw_pricing *in, sw_price_row *row) {
    row_words words;
    sw_price_reading read = {.pack = 1};
    int role = SW_NONE, maker = sw_price_maker(in, row->maker);
    words_of_row(in, row, &words);
    if (in->no_memory)
        return;
    size_t count = score_near(&in->lexicon, &words, gather_near(&in->lexicon, &words));
    qsort(in->lexicon.near, count, sizeof *in->lexicon.near, by_score);
    for (size_t i = 0; i < count && i < CANDIDATES_MOST && row->proposal_count < SW_PROPOSALS;
         i++) {
        int part = in->lexicon.near[i].part;
        const sw_part *is = &in->catalog->parts[part];
        bool good =
            maker == SW_NONE || in->maker_of[part] == SW_NONE || in->maker_of[part] == maker;
        if (good && is->role != role) {
            role = is->role;
            sw_price_facts(in, row, role, &read);
        }
        for (size_t f = 0; f < read.count && good; f++)
            good = !sw_price_contradicts(is, &read.facts[f]);
        if (good)
            row->proposals[row->proposal_count++] = in->lexicon.near[i];
        if (good && row->proposal_count == 1)
            keep_reading(in, &read, row);
    }
}
