/* Random changes of a job: every kind of path that the page has, with and without
 * many values. Some make a job that is refused; then the program has to refuse it. */
#include "ranges.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static Set *add_set(Sets *sets, const char *value, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

static Set *add_set(Sets *sets, const char *value, const char *format, ...) {
    va_list args;
    if (sets->n == MOST_SETS)
        give_up("too many changes");
    Set *set = &sets->at[sets->n++];
    va_start(args, format);
    int length = vsnprintf(set->path, sizeof set->path, format, args);
    va_end(args);
    if (length >= WORD || snprintf(set->value, WORD, "%s", value) >= WORD)
        give_up("a change that is too long");
    return set;
}

static bool is_swept(const Sets *sets) {
    for (int i = 0; i < sets->n; i++)
        if (sets->at[i].values)
            return true;
    return false;
}

/* Thousandths, without zeros at the end. */
static void decimal(long long milli, char *out, size_t size) {
    int digits = 3;
    long long unit = 1000;
    while (digits > 0 && milli % 10 == 0) {
        milli /= 10;
        unit /= 10;
        digits--;
    }
    if (digits)
        snprintf(out, size, "%lld.%0*lld", milli / unit, digits, milli % unit);
    else
        snprintf(out, size, "%lld", milli);
}

/* A:B:STEP, up or down, ending at B or short of it. All in thousandths. */
static void sweep_over(Job *j, Set *set, long long from, long long step) {
    char a[32], b[32], c[32];
    int n = 2 + below(j, 3);
    if (step < 0 && from + step * n < 0)
        step = -step;
    long long size = step < 0 ? -step : step,
              beyond = size % 1000 ? size / 100 * 50 : size / 2000 * 1000;
    long long last = from + step * (n - 1) + (step < 0 ? -beyond : beyond);
    last = last < 0 ? 0 : last;
    decimal(from, a, sizeof a);
    decimal(last, b, sizeof b);
    decimal(size, c, sizeof c);
    snprintf(set->value, WORD, "%s:%s:%s%s", a, b, step < 0 ? "-" : "", c);
    for (int i = 0; i < n; i++)
        decimal(from + i * step, set->each[set->values++], WORD);
}

static void list_values(Set *set, int n, const char *const *values) {
    set->value[0] = '\0';
    for (int i = 0; i < n; i++) {
        if (i)
            strcat(set->value, ",");
        strcat(set->value, values[i]);
        snprintf(set->each[set->values++], WORD, "%s", values[i]);
    }
}

/* A number by itself, or a sweep. Steps of whole units, so that any currency has them;
 * `wide` is the most, in whole units. */
static void vary(Job *j, Sets *sets, Set *set, int wide) {
    int value = below(j, wide + 1), step = 1 + below(j, wide / 3 + 1);
    if (is_swept(sets) || below(j, 2)) {
        snprintf(set->value, WORD, "%d", value);
    } else if (below(j, 3) == 0) {
        char texts[3][16];
        for (int i = 0; i < 3; i++)
            snprintf(texts[i], sizeof texts[i], "%d", below(j, wide + 1));
        list_values(set, 3, (const char *[]){texts[0], texts[1], texts[2]});
    } else {
        sweep_over(j, set, value * 1000LL, (below(j, 2) ? 1000LL : -1000LL) * step);
    }
}

static void flag(Job *j, Sets *sets, Set *set) {
    static const char *const words[] = {"yes", "no", "true", "false", "null"};
    if (!is_swept(sets) && below(j, 4) == 0)
        list_values(set, 2, (const char *[]){"yes", "no"});
    else
        snprintf(set->value, WORD, "%s", words[below(j, 5)]);
}

static void change_budget(Job *j, Sets *sets) {
    static const char *const names[] = {"total", "total", "total", "reserve", "sundries"};
    Set *set = add_set(sets, "", "budget.%s", names[below(j, 5)]);
    bool whole = !strcmp(text_of(j->json, "currency"), "JPY");
    if (whole || is_swept(sets) || below(j, 3))
        vary(j, sets, set, 200);
    else
        sweep_over(j, set, below(j, 400) * 250LL, (1 + below(j, 300)) * 50LL);
}

static void change_swings(Job *j, Sets *sets) {
    const cJSON *swings = get(get(j->json, "wishes"), "swings");
    const cJSON *one = cJSON_GetArrayItem(swings, below(j, cJSON_GetArraySize(swings)));
    if (one)
        vary(j, sets, add_set(sets, "", "wishes.swings.%s", one->string), 100);
}

/* One seller or all; a price, no stock, days; one who does not list it is taken in. */
static void change_quotes(Job *j, Sets *sets) {
    const char *part = any_part(j), *seller = any_seller(j);
    if (below(j, 4) == 0) {
        Set *set = add_set(sets, "0", "quotes.%s.%s", part, below(j, 2) ? "stock" : "price");
        if (below(j, 2))
            vary(j, sets, set, 60);
    } else if (is_listed(j, part, seller) && below(j, 4) == 0) {
        add_set(sets, "0", "quotes.%s@%s.stock", part, seller);
    } else {
        vary(j, sets, add_set(sets, "", "quotes.%s@%s.price", part, seller), 60);
        if (!is_listed(j, part, seller) || below(j, 2))
            add_set(sets, "2", "quotes.%s@%s.stock", part, seller);
        if (below(j, 3) == 0)
            vary(j, sets, add_set(sets, "", "quotes.%s@%s.days", part, seller), 8);
    }
}

static void change_given(Job *j, Sets *sets) {
    const cJSON *given = get(j->json, "given"), *one = cJSON_GetArrayItem(given, 0);
    const char *part = one && below(j, 2) ? text_of(one, "part") : any_part(j);
    switch (below(j, 5)) {
    case 0:
        add_set(sets, "null", "given.%s", part);
        break;
    case 1:
        flag(j, sets, add_set(sets, "", "given.%s.strings.must-use", part));
        break;
    case 2:
        if (one)
            add_set(sets, "2", "given.0.count");
        break;
    default:
        vary(j, sets, add_set(sets, "", "given.%s.count", part), 3);
    }
}

static void change_limits(Job *j, Sets *sets) {
    static const char *const names[] = {"bench_minutes", "days", "loudness_sone"};
    static const int wide[] = {90, 8, 4};
    int which = below(j, 3);
    Set *set = add_set(sets, "null", "wishes.limits.%s", names[which]);
    if (below(j, 4))
        vary(j, sets, set, wide[which]);
}

static const cJSON *any_present(Job *j, const char **role) {
    const cJSON *list = get(get(j->json, "machine"), *role = any_role(j));
    return cJSON_GetArrayItem(list, below(j, cJSON_GetArraySize(list)));
}

static void change_wishes(Job *j, Sets *sets) {
    const char *role = "";
    const cJSON *present = any_present(j, &role);
    int which = below(j, 4);
    const char *part = present ? text_of(present, "part") : role;
    Set *set = which == 0   ? add_set(sets, "", "wishes.keep.%s", below(j, 2) ? role : part)
               : which == 1 ? add_set(sets, "", "wishes.replace.%s", below(j, 2) ? role : part)
               : which == 2 ? add_set(sets, "", "wishes.avoid.%s", any_part(j))
                            : add_set(sets, "", "observed.seen-1");
    flag(j, sets, set);
}

static void change_musts(Job *j, Sets *sets) {
    const cJSON *must = cJSON_GetArrayItem(get(j->json, "musts"), 0);
    const char *role;
    const cJSON *present = any_present(j, &role);
    if (must && below(j, 2)) {
        add_set(sets, "null", below(j, 2) ? "musts.%s" : "musts", text_of(must, "id"));
    } else if (present) {
        add_set(sets, text_of(present, "part"), "musts.anew.replace");
        add_set(sets, "it hums", "musts.anew.why");
    }
}

static void change_machine(Job *j, Sets *sets) {
    const char *role;
    const cJSON *present = any_present(j, &role);
    if (!present)
        return;
    const char *part = text_of(present, "part");
    switch (below(j, 4)) {
    case 0:
        vary(j, sets, add_set(sets, "", "machine.%s.%s.count", role, part), 3);
        break;
    case 1:
        add_set(sets, "2", "machine.%s.0.count", role);
        break;
    case 2:
        vary(j, sets, add_set(sets, "", "machine.%s.%s.offer", role, part), 40);
        break;
    default:
        add_set(sets, "null", "machine.%s.%s", role, part);
    }
}

static void change_terms(Job *j, Sets *sets) {
    switch (below(j, 6)) {
    case 0:
        flag(j, sets, add_set(sets, "", "allow_unknown"));
        break;
    case 1:
        vary(j, sets, add_set(sets, "", "labour.rate_per_hour"), 40);
        break;
    case 2:
        add_set(sets, "{\"percent\":19,\"prices\":\"without\"}", "tax");
        if (below(j, 2))
            add_set(sets, "invoice", "tax.per");
        break;
    case 3:
        vary(j, sets, add_set(sets, "", "room.level_dba"), 40);
        break;
    case 4:
        add_set(sets, below(j, 2) ? "null" : "[]", "quotes");
        break;
    default:
        vary(j, sets, add_set(sets, "", "wishes.uses.use-0.share"), 90);
    }
}

void draw_sets(Job *j, Sets *out) {
    static void (*const kinds[])(Job *, Sets *) = {
        change_budget, change_budget, change_swings, change_quotes,  change_quotes, change_given,
        change_limits, change_wishes, change_musts,  change_machine, change_terms};
    *out = (Sets){.n = 0};
    for (int tries = 0, n = 1 + below(j, 2); tries < n || !out->n; tries++)
        kinds[below(j, sizeof kinds / sizeof *kinds)](j, out);
}
