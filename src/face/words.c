/* Options by table. */
#include "face/commands.h"

#include <string.h>

typedef struct option {
    const char *name;
    size_t text, flag; /* offsets in sw_words; 0: not of that kind */
} option;

#define TEXT(field) offsetof(sw_words, field), 0
#define FLAG(field) 0, offsetof(sw_words, field)

static const option options[] = {
    {"--catalog", TEXT(catalog)},
    {"--budget", TEXT(budget)},
    {"-o", TEXT(output)},
    {"--json", FLAG(json)},
    {"--lp", FLAG(lp)},
    {"--mps", FLAG(mps)},
    {"--allow-unknown", FLAG(allow_unknown)},
};

static bool usage(const sw_words *words, const char *what, const char *word) {
    fprintf(stderr, "swapworth: %s \"%s\".\n  swapworth %s\n", what, word, words->usage);
    return false;
}

/* Whole seconds, at most a day: no locale, no overflow. */
static bool read_seconds(double *out, const char *text) {
    int seconds = 0;
    size_t length = strlen(text);
    if (length == 0 || length > 5)
        return false;
    for (size_t i = 0; i < length; i++) {
        if (text[i] < '0' || text[i] > '9')
            return false;
        seconds = seconds * 10 + (text[i] - '0');
    }
    *out = seconds;
    return seconds >= 1 && seconds <= 86400;
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
    bool seconds = length == 9 && strncmp(word, "--seconds", length) == 0;
    const option *found = find(word, length);
    if (found == NULL && !seconds)
        return usage(out, "there is no option", word);
    if (found != NULL && found->flag != 0) {
        if (equals != NULL)
            return usage(out, "this option takes no value:", word);
        *(bool *)((char *)out + found->flag) = true;
        return true;
    }
    if (equals == NULL && ++*i == argc)
        return usage(out, "a value is missing behind", word);
    const char *value = equals != NULL ? equals + 1 : argv[*i];
    if (seconds && !read_seconds(&out->seconds, value))
        return usage(out, "--seconds takes a whole number from 1 to 86400, not", value);
    if (!seconds)
        *(const char **)((char *)out + found->text) = value;
    return true;
}

bool sw_words_read(sw_words *out, int argc, char **argv, const char *usage_line) {
    *out = (sw_words){.files = argv, .usage = usage_line, .seconds = 60};
    bool only_files = false;
    for (int i = 0; i < argc; i++) {
        char *word = argv[i];
        if (only_files || word[0] != '-' || word[1] == '\0')
            argv[out->file_count++] = word;
        else if (strcmp(word, "--") == 0)
            only_files = true;
        else if (!read_option(out, argc, argv, &i))
            return false;
    }
    return true;
}
