/* Which statement counts: by the order of the readers, and never an average. */
#include "intake/settle.h"
#include "base/letters.h"

#include <stdlib.h>
#include <string.h>

/* ---- what is equal ---------------------------------------------------------------------- */

/* But for ASCII case and blanks. */
static bool same_text(const char *a, const char *b) {
    for (;; a++, b++) {
        while (*a == ' ')
            a++;
        while (*b == ' ')
            b++;
        if (sw_small_letter(*a) != sw_small_letter(*b))
            return false;
        if (*a == '\0')
            return true;
    }
}

static int64_t percent_near(const sw_intake_form *form, const sw_statement *of) {
    for (size_t i = 0; form != NULL && i < form->near_count; i++)
        if (strcmp(form->near[i].device, of->device) == 0 &&
            strcmp(form->near[i].property, of->property) == 0)
            return form->near[i].percent_milli;
    return 0;
}

static double size_of(double number) { return number < 0 ? -number : number; }

static bool near_number(const sw_intake_form *form, const sw_statement *a, const sw_statement *b) {
    if (a->milli == b->milli)
        return true;
    double gap = size_of((double)a->milli - (double)b->milli);
    double allowed = size_of((double)a->milli) * (double)percent_near(form, a) / 100000;
    return gap <= allowed;
}

bool sw_contradicts(const sw_intake_form *form, const sw_statement *counts,
                    const sw_statement *other) {
    if (counts->says != other->says)
        return true;
    switch (counts->says) {
    case SW_SAYS_TEXT:
        return !same_text(counts->text, other->text);
    case SW_SAYS_NUMBER:
        return !near_number(form, counts, other);
    case SW_SAYS_FLAG:
        return counts->flag != other->flag;
    }
    return true;
}

/* ---- order ------------------------------------------------------------------------------ */

typedef struct ordered {
    const sw_statement *statement;
    int rank;
    size_t at; /* its place among all */
} ordered;

static int reader_of(const sw_dumps *dumps, const char *file) {
    for (size_t i = 0; i < dumps->count; i++)
        if (strcmp(dumps->files[i].name, file) == 0)
            return (int)dumps->files[i].kind - 1;
    return SW_NONE;
}

static int rank_of(const sw_dumps *dumps, const sw_intake_form *form, const sw_statement *of) {
    int reader = reader_of(dumps, of->file);
    if (form == NULL || reader < 0 || reader >= SW_READERS)
        return 0;
    for (size_t i = 0; i < form->first_count; i++)
        if (strcmp(form->first[i].device, of->device) == 0 &&
            strcmp(form->first[i].property, of->property) == 0)
            return form->first[i].rank[reader];
    return form->rank[reader];
}

static int compare_size(size_t a, size_t b) { return a < b ? -1 : a > b; }

/* By device, then by place: what belongs together stands together. */
static int by_device(const void *left, const void *right) {
    const ordered *a = left, *b = right;
    int order = strcmp(a->statement->device, b->statement->device);
    if (order == 0)
        order = strcmp(a->statement->key, b->statement->key);
    return order != 0 ? order : compare_size(a->at, b->at);
}

static int by_property(const void *left, const void *right) {
    const ordered *a = left, *b = right;
    int order = strcmp(a->statement->property, b->statement->property);
    if (order == 0)
        order = a->rank != b->rank ? (a->rank < b->rank ? -1 : 1) : 0;
    return order != 0 ? order : compare_size(a->at, b->at);
}

/* ---- settling --------------------------------------------------------------------------- */

static bool same_device(const sw_statement *a, const sw_statement *b) {
    return strcmp(a->device, b->device) == 0 && strcmp(a->key, b->key) == 0;
}

static bool settle_property(sw_settled *out, sw_arena *arena, const sw_intake_form *form,
                            const ordered *of, size_t count) {
    const sw_statement **all = SW_NEW(arena, const sw_statement *, count);
    if (all == NULL)
        return false;
    *out = (sw_settled){.property = of[0].statement->property, .all = all, .count = count};
    for (size_t i = 0; i < count; i++) {
        all[i] = of[i].statement;
        out->doubtful = out->doubtful || sw_contradicts(form, all[0], all[i]);
    }
    return true;
}

static bool settle_device(sw_device *out, sw_arena *arena, const sw_intake_form *form, ordered *of,
                          size_t count) {
    sw_settled *settled = SW_NEW(arena, sw_settled, count);
    if (settled == NULL)
        return false;
    *out = (sw_device){of[0].statement->device, of[0].statement->key, settled, 0};
    qsort(of, count, sizeof *of, by_property);
    for (size_t i = 0, end; i < count; i = end) {
        for (end = i + 1; end < count; end++)
            if (strcmp(of[end].statement->property, of[i].statement->property) != 0)
                break;
        if (!settle_property(&settled[out->count++], arena, form, &of[i], end - i))
            return false;
    }
    return true;
}

sw_status sw_settle(sw_devices *out, sw_arena *arena, const sw_dumps *dumps,
                    const sw_intake_form *form) {
    size_t count = dumps->statements.count;
    ordered *all = SW_NEW(arena, ordered, count);
    sw_device *devices = SW_NEW(arena, sw_device, count);
    if (all == NULL || devices == NULL)
        return SW_NO_MEMORY;
    for (size_t i = 0; i < count; i++) {
        const sw_statement *at = &dumps->statements.all[i];
        all[i] = (ordered){at, rank_of(dumps, form, at), i};
    }
    qsort(all, count, sizeof *all, by_device);
    *out = (sw_devices){devices, 0};
    for (size_t i = 0, end; i < count; i = end) {
        for (end = i + 1; end < count && same_device(all[end].statement, all[i].statement); end++) {
        }
        if (!settle_device(&devices[out->count++], arena, form, &all[i], end - i))
            return SW_NO_MEMORY;
    }
    return SW_OK;
}

/* ---- asking ----------------------------------------------------------------------------- */

const sw_settled *sw_device_says(const sw_device *device, const char *property) {
    for (size_t i = 0; i < device->count; i++)
        if (strcmp(device->settled[i].property, property) == 0)
            return &device->settled[i];
    return NULL;
}

static bool holds_of(const sw_device_test *test, const sw_statement *is) {
    if (is->says != test->says)
        return false;
    if (test->how == SW_TEST_STATED)
        return true;
    if (test->how == SW_TEST_LEAST)
        return is->milli >= test->milli;
    return test->says == SW_SAYS_TEXT     ? same_text(is->text, test->text)
           : test->says == SW_SAYS_NUMBER ? is->milli == test->milli
                                          : is->flag == test->flag;
}

static bool is_below(const sw_device_test *test, const sw_device *device) {
    const sw_settled *one = sw_device_says(device, test->property);
    const sw_settled *other = sw_device_says(device, test->of);
    return one != NULL && other != NULL &&
           (double)one->all[0]->milli < (double)other->all[0]->milli * (double)test->milli / 1000;
}

static bool holds(const sw_device_test *test, const sw_device *device, bool any) {
    if (test->how == SW_TEST_BELOW)
        return is_below(test, device);
    if (test->how == SW_TEST_KEY)
        return strncmp(device->key, test->text, strlen(test->text)) == 0;
    const sw_settled *settled = sw_device_says(device, test->property);
    size_t count = settled == NULL ? 0 : any ? settled->count : 1;
    for (size_t s = 0; s < count; s++)
        if (holds_of(test, settled->all[s]))
            return true;
    return false;
}

static bool all_hold(const sw_device_tests *tests, const sw_device *device, bool any) {
    for (size_t i = 0; i < tests->count; i++)
        if (holds(&tests->all[i], device, any && !tests->all[i].negated) == tests->all[i].negated)
            return false;
    return true;
}

bool sw_tests_hold(const sw_device_tests *tests, const sw_device *device) {
    return all_hold(tests, device, false);
}

bool sw_tests_hold_of_any(const sw_device_tests *tests, const sw_device *device) {
    return all_hold(tests, device, true);
}

const char *sw_statement_value(sw_arena *arena, const sw_statement *statement) {
    if (statement->says == SW_SAYS_TEXT)
        return statement->text;
    if (statement->says == SW_SAYS_FLAG)
        return statement->flag ? "yes" : "no";
    const char *digits = sw_milli_exact(arena, statement->milli);
    return digits == NULL ? "" : digits;
}

const char *sw_contradiction_told(sw_arena *arena, const sw_statement *counts,
                                  const sw_statement *other) {
    return sw_arena_format(arena, "%s: \"%s\" (%s, %s) counts, but \"%s\" (%s, %s)",
                           counts->property, sw_statement_value(arena, counts), counts->file,
                           counts->place, sw_statement_value(arena, other), other->file,
                           other->place);
}
