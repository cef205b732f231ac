/*
 * shopping FIRST COUNT | --faults, with [--generate P] [--brute P] [--program P] --work FOLDER:
 * for each seed a random job; each of its options bought as agreed, and with each part of it gone
 * one by one, or dearer: the program's ways to go on, what changes, the orders, days and dates,
 * against the checker that tries every bundle, the catalog's own files and the page's rules.
 * --faults: that a wrong answer is found, whatever is wrong with it.
 */
#include "shopping.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

bool right_answer(Talk *t, const Case *c, const Errand *e, Tally *y) {
    return right_ways(t, c, e, y) && right_changes(t, c, y) && right_orders(t, c, y) &&
           right_csv(t, c->answer, c->csv);
}

static bool check_errand(Case *c, Errand e, Talk *t, Tally *y) {
    y->errands++;
    bool good = ask_errand(c, &e, t) && right_answer(t, c, &e, y);
    if (!good) {
        size_t length = strlen(t->why);
        snprintf(t->why + length, t->size - length, " [option %d, %s %s, --take %s]", e.option,
                 e.words[0] ? e.words[0] : "as agreed", e.words[1] ? e.words[1] : "",
                 e.take ? e.take : "none");
    }
    return good;
}

static cJSON *quotes_of(Case *c) {
    c->now = must_have(cJSON_Duplicate(c->job, true));
    cJSON *quotes = cJSON_GetObjectItemCaseSensitive(c->now, "quotes");
    return quotes ? quotes : must_have(cJSON_AddArrayToObject(c->now, "quotes"));
}

static cJSON *add_quote(cJSON *quotes, const char *part, const char *seller) {
    cJSON *one = must_have(cJSON_CreateObject());
    must_have(cJSON_AddStringToObject(one, "part", part));
    if (seller)
        must_have(cJSON_AddStringToObject(one, "seller", seller));
    cJSON_AddItemToArray(quotes, one);
    return one;
}

/* Taken as it comes, then by each of the other ways. */
static bool check_gone(Case *c, int option, const char *part, const char *seller, Talk *t,
                       Tally *y) {
    char word[256], others[2][16];
    int n = 0;
    snprintf(word, sizeof word, seller ? "%s@%s" : "%s", part, seller);
    Errand e = {.option = option, .words = {"--gone", word}, .changed = true};
    must_have(cJSON_AddNumberToObject(add_quote(quotes_of(c), part, seller), "stock", 0));
    bool good = check_errand(c, e, t, y);
    const cJSON *way;
    cJSON_ArrayForEach(way, get(c->answer, "ways")) if (good && n < 2 &&
                                                        strcmp(text_of(way, "way"),
                                                               text_of(c->answer, "taken")) != 0)
        snprintf(others[n++], sizeof others[0], "%s", text_of(way, "way"));
    end_errand(c);
    for (int i = 0; i < n && good; i++) {
        e.take = others[i];
        must_have(cJSON_AddNumberToObject(add_quote(quotes_of(c), part, seller), "stock", 0));
        good = check_errand(c, e, t, y);
        end_errand(c);
    }
    return good;
}

/* Half as dear again: a change of the element that there is, or one of its own. */
static bool check_dearer(Case *c, int option, const cJSON *line, Talk *t, Tally *y) {
    char word[256], price[64];
    const char *part = text_of(line, "part"), *seller = text_of(line, "seller");
    const char *was = text_of(line, "price");
    long long each = money_of(was) / (long long)get(line, "count")->valuedouble * 3 / 2;
    const char *point = strchr(was, '.');
    int digits = point ? (int)strlen(point + 1) : 0;
    long long unit = 1;
    for (int i = 0; i < digits; i++)
        unit *= 10;
    if (digits)
        snprintf(price, sizeof price, "%lld.%0*lld", each / unit, digits, each % unit);
    else
        snprintf(price, sizeof price, "%lld", each);
    snprintf(word, sizeof word, "quotes.%s@%s.price=%s", part, seller, price);
    cJSON *quotes = quotes_of(c), *quote, *own = NULL;
    cJSON_ArrayForEach(quote, quotes) if (!own && !strcmp(text_of(quote, "part"), part) &&
                                          !strcmp(text_of(quote, "seller"), seller)) own = quote;
    own = own ? own : add_quote(quotes, part, seller);
    cJSON_DeleteItemFromObjectCaseSensitive(own, "price");
    must_have(cJSON_AddStringToObject(own, "price", price));
    Errand e = {.option = option, .words = {"--set", word}, .changed = true};
    bool good = check_errand(c, e, t, y);
    end_errand(c);
    return good;
}

static bool check_option(Case *c, int option, Talk *t, Tally *y) {
    const cJSON *bundle = get(cJSON_GetArrayItem(get(c->options, "options"), option - 1), "bundle");
    const cJSON *swap, *in;
    c->now = must_have(cJSON_Duplicate(c->job, true));
    bool good = check_errand(c, (Errand){.option = option}, t, y);
    end_errand(c);
    cJSON_ArrayForEach(swap, get(bundle, "swaps")) cJSON_ArrayForEach(in, get(swap, "in")) {
        const char *part = text_of(in, "part"), *seller = text_of(in, "seller");
        if (strcmp(seller, "client") != 0)
            good = good && check_gone(c, option, part, NULL, t, y) &&
                   check_gone(c, option, part, seller, t, y) && check_dearer(c, option, in, t, y);
    }
    return good;
}

static bool check_seed(const Setup *s, long seed, Talk *t, Tally *y) {
    Case c;
    bool good = draw_case(&c, s, seed, t);
    y->jobs++;
    for (int i = 0; good && i < cJSON_GetArraySize(get(c.options, "options")); i++)
        good = check_option(&c, i + 1, t, y);
    end_case(&c);
    return good;
}

static void tell(const Tally *y) {
    printf(
        "%ld jobs, %ld errands; ways: %ld same, %ld least, %ld anew, %ld times nothing; changes: "
        "%ld free by the seller, %ld as good, %ld by the part, %ld asked; %ld points not known;\n"
        "lines with dates: %ld, deliveries waived: %ld, orders that the client brings: %ld, from "
        "the shelf: %ld\n",
        y->jobs, y->errands, y->same, y->least, y->anew, y->nothing, y->free_seller, y->free_good,
        y->free_part, y->asked, y->not_known, y->dates, y->waived, y->brought, y->shelf);
}

/* A run of some length that met nothing of a kind has not tested it. */
static long missed(const Setup *s, const Tally *y) {
    const long met[] = {y->same,      y->least, y->anew,  y->nothing, y->free_seller, y->free_good,
                        y->free_part, y->asked, y->dates, y->waived,  y->brought,     y->shelf};
    long none = 0;
    for (size_t i = 0; s->count >= 100 && i < sizeof met / sizeof *met; i++)
        none += met[i] == 0;
    if (none)
        printf("%ld kinds of answers were never met\n", none);
    return none;
}

static int check_seeds(const Setup *s) {
    static char why[4096];
    long passed = 0, failed = 0;
    Tally y = {0};
    for (long seed = s->first; seed < s->first + s->count; seed++) {
        Talk t = {why, sizeof why};
        why[0] = '\0';
        if (check_seed(s, seed, &t, &y)) {
            passed++;
            continue;
        }
        failed++;
        printf("seed %ld: %s\n", seed, why);
        fflush(stdout);
    }
    tell(&y);
    failed += missed(s, &y);
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed ? 1 : 0;
}

static bool read_valued(Setup *s, const char *name, const char *value) {
    const char **into = !strcmp(name, "--generate")  ? &s->generate
                        : !strcmp(name, "--brute")   ? &s->brute
                        : !strcmp(name, "--program") ? &s->program
                        : !strcmp(name, "--work")    ? &s->work
                                                     : NULL;
    if (into)
        *into = value;
    return into != NULL;
}

int main(int argc, char **argv) {
    Setup s = {.generate = "build/tests/generate",
               .brute = "build/tests/brute",
               .program = "build/swapworth"};
    const char *word[2] = {NULL};
    int words = 0;
    for (int i = 1; i < argc; i++) {
        if (i + 1 < argc && read_valued(&s, argv[i], argv[i + 1]))
            i++;
        else if (words < 2)
            word[words++] = argv[i];
    }
    if (!words || !s.work) {
        fputs("shopping FIRST COUNT | --faults, with --work FOLDER [--generate P] [--brute P]"
              " [--program P]\n",
              stderr);
        return 2;
    }
    if (mkdir(s.work, 0777) != 0 && errno != EEXIST)
        give_up(s.work);
    if (!strcmp(word[0], "--faults"))
        return check_faults(&s);
    s.first = strtol(word[0], NULL, 10);
    s.count = words == 2 ? strtol(word[1], NULL, 10) : 1;
    return check_seeds(&s);
}
