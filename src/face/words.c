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

static const option *find(const char *word) {
    for (size_t i = 0; i < sizeof options / sizeof *options; i++)
        if (strcmp(options[i].name, word) == 0)
            return &options[i];
    return NULL;
}

bool sw_words_read(sw_words *out, int argc, char **argv, const char *usage_line) {
    *out = (sw_words){.files = argv, .usage = usage_line, .seconds = 60};
    bool only_files = false;
    for (int i = 0; i < argc; i++) {
        char *word = argv[i];
        if (only_files || word[0] != '-' || word[1] == '\0') {
            argv[out->file_count++] = word;
            continue;
        }
        if (strcmp(word, "--") == 0) {
            only_files = true;
            continue;
        }
        bool seconds = strcmp(word, "--seconds") == 0;
        const option *found = find(word);
        if (found == NULL && !seconds)
            return usage(out, "there is no option", word);
        if (found != NULL && found->flag != 0) {
            *(bool *)((char *)out + found->flag) = true;
            continue;
        }
        if (++i == argc)
            return usage(out, "a value is missing behind", word);
        if (seconds && !read_seconds(&out->seconds, argv[i]))
            return usage(out, "--seconds takes a whole number from 1 to 86400, not", argv[i]);
        if (!seconds)
            *(const char **)((char *)out + found->text) = argv[i];
    }
    return true;
}
