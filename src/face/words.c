/* The words of a command, by the table of options. */
#include "face/guide.h"

#include <stdlib.h>
#include <string.h>

void sw_say_usage(const sw_words *words) {
    fprintf(stderr, "  swapworth %s %s\n  Its options: swapworth help %s\n", words->of->name,
            words->of->synopsis, words->of->name);
}

static bool usage(const sw_words *words, const char *what, const char *word) {
    fprintf(stderr, "swapworth: %s", what);
    sw_say_around(" \"", word, "\".\n");
    sw_say_usage(words);
    return false;
}

/* A whole number within the option's bounds: no locale, no overflow. */
static bool read_number(int *out, const sw_option *of, const char *text) {
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

static bool no_number(const sw_words *words, const sw_option *of, const char *value) {
    fprintf(stderr, "swapworth: %s takes a whole number from %d to %d", of->name, of->least,
            of->most);
    sw_say_around(", not \"", value, "\".\n");
    sw_say_usage(words);
    return false;
}

static const sw_option *find(const char *word, size_t length) {
    size_t count;
    const sw_option *options = sw_options_known(&count);
    for (size_t i = 0; i < count; i++)
        if (strlen(options[i].name) == length && strncmp(options[i].name, word, length) == 0)
            return &options[i];
    return NULL;
}

/* One option: "--name value", "--name=value" or a flag. Moves `*i` on to the value. */
static bool read_option(sw_words *out, int argc, char **argv, int *i) {
    const char *word = argv[*i];
    const char *equals = strncmp(word, "--", 2) == 0 ? strchr(word, '=') : NULL;
    size_t length = equals != NULL ? (size_t)(equals - word) : strlen(word);
    const sw_option *found = find(word, length);
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

int sw_words_read(sw_words *out, int argc, char **argv, const sw_command *of) {
    *out = (sw_words){.files = argv, .of = of, .prices = -1, .estimates = -1};
    out->settings.words = calloc((size_t)argc + 1, sizeof *out->settings.words);
    out->gone.words = calloc((size_t)argc + 1, sizeof *out->gone.words);
    out->standing_catalog = sw_standing_catalog();
    if (out->settings.words == NULL || out->gone.words == NULL || out->standing_catalog == NULL)
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
    free(words->standing_catalog);
}
