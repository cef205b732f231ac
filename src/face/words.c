/* Options by table. */
#include "face/commands.h"

#include <stdlib.h>
#include <string.h>

typedef struct option {
    const char *name;
    size_t text, flag, number; /* offsets in sw_words; 0: not of that kind */
    size_t list;               /* offset of a list that it goes behind; its count follows */
    int least, most;           /* of a number */
} option;

#define TEXT(field) .text = offsetof(sw_words, field)
#define LIST(field) .list = offsetof(sw_words, field)
#define FLAG(field) .flag = offsetof(sw_words, field)
#define NUMBER(field, low, high) .number = offsetof(sw_words, field), .least = (low), .most = (high)

static const option options[] = {
    {"--catalog", TEXT(catalog)},
    {"--budget", TEXT(budget)},
    {"--from", TEXT(from)},
    {"--to", TEXT(to)},
    {"--over", TEXT(over)},
    {"-o", TEXT(output)},
    {"--svg", TEXT(svg)},
    {"--set", LIST(settings)},
    {"--gone", LIST(gone)},
    {"--take", TEXT(take)},
    {"--measured", TEXT(measured)},
    {"--record", TEXT(record)},
    {"--calibration", TEXT(calibration)},
    {"--own", FLAG(own)},
    {"--options", FLAG(options)},
    {"--card", TEXT(card)},
    {"--date", TEXT(date)},
    {"--answers", TEXT(answers)},
    {"--title", TEXT(title)},
    {"--keep-answers", TEXT(keep_answers)},
    {"--profile", TEXT(profile)},
    {"--confirm", TEXT(confirm)},
    {"--parts", TEXT(parts)},
    {"--ask", FLAG(ask)},
    {"--whole", FLAG(whole)},
    {"--option", NUMBER(option, 1, 3)},
    {"--port", NUMBER(port, 0, 65535)},
    {"--prices", NUMBER(prices, 0, 50)},
    {"--estimates", NUMBER(estimates, 0, 50)},
    {"--seconds", NUMBER(seconds, 1, 86400)},
    {"--best", NUMBER(best, 1, SW_BEST_MOST)},
    {"--apart", NUMBER(apart, 1, SW_BEST_MOST)},
    {"--json", FLAG(json)},
    {"--csv", FLAG(csv)},
    {"--lp", FLAG(lp)},
    {"--mps", FLAG(mps)},
    {"--allow-unknown", FLAG(allow_unknown)},
    {"--brief", FLAG(brief)},
    {"--verify", FLAG(verify)},
    {"--progress", FLAG(progress)},
};

static bool usage(const sw_words *words, const char *what, const char *word) {
    fprintf(stderr, "swapworth: %s \"%s\".\n  swapworth %s\n", what, word, words->usage);
    return false;
}

/* A whole number within the option's bounds: no locale, no overflow. */
static bool read_number(int *out, const option *of, const char *text) {
    int number = 0;
    size_t length = strlen(text);
    if (length == 0 || length > 6)
        return false;
    for (size_t i = 0; i < length; i++) {
        if (text[i] < '0' || text[i] > '9')
            return false;
        number = number * 10 + (text[i] - '0');
    }
    *out = number;
    return number >= of->least && number <= of->most;
}

static bool no_number(const sw_words *words, const option *of, const char *value) {
    fprintf(stderr,
            "swapworth: %s takes a whole number from %d to %d, not \"%s\".\n  swapworth %s\n",
            of->name, of->least, of->most, value, words->usage);
    return false;
}

static const option *find(const char *word, size_t length) {
    for (size_t i = 0; i < sizeof options / sizeof *options; i++)
        if (strlen(options[i].name) == length && strncmp(options[i].name, word, length) == 0)
            return &options[i];
    return NULL;
}

/* One option: "--name value", "--name=value" or a flag. Moves `*i` on to the value. */
static bool read_option(sw_words *out, int argc, char **argv, int *i) {
    const char *word = argv[*i];
    const char *equals = strncmp(word, "--", 2) == 0 ? strchr(word, '=') : NULL;
    size_t length = equals != NULL ? (size_t)(equals - word) : strlen(word);
    const option *found = find(word, length);
    if (found == NULL)
        return usage(out, "there is no option", word);
    if (found->flag != 0) {
        if (equals != NULL)
            return usage(out, "this option takes no value:", word);
        *(bool *)((char *)out + found->flag) = true;
        return true;
    }
    if (equals == NULL && ++*i == argc)
        return usage(out, "a value is missing behind", word);
    const char *value = equals != NULL ? equals + 1 : argv[*i];
    if (found->list != 0) {
        sw_word_list *list = (sw_word_list *)((char *)out + found->list);
        list->words[list->count++] = value;
        return true;
    }
    if (found->number != 0)
        return read_number((int *)((char *)out + found->number), found, value) ||
               no_number(out, found, value);
    *(const char **)((char *)out + found->text) = value;
    return true;
}

int sw_words_read(sw_words *out, int argc, char **argv, const char *usage_line) {
    *out = (sw_words){.files = argv, .usage = usage_line, .prices = -1, .estimates = -1};
    out->settings.words = calloc((size_t)argc + 1, sizeof *out->settings.words);
    out->gone.words = calloc((size_t)argc + 1, sizeof *out->gone.words);
    if (out->settings.words == NULL || out->gone.words == NULL)
        return sw_say_complaints(NULL, SW_NO_MEMORY);
    bool only_files = false;
    for (int i = 0; i < argc; i++) {
        char *word = argv[i];
        if (only_files || word[0] != '-' || word[1] == '\0')
            argv[out->file_count++] = word;
        else if (strcmp(word, "--") == 0)
            only_files = true;
        else if (!read_option(out, argc, argv, &i))
            return SW_EXIT_USAGE;
    }
    return SW_EXIT_ANSWERED;
}

void sw_words_free(sw_words *words) {
    free(words->settings.words);
    free(words->gone.words);
}
