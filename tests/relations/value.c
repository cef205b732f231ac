/* Works out expressions. A fact that a part does not state is unknown, and makes
 * unknown what is built on it, save where `and` and `or` are settled without it. */
#include "value.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const value unknown = {UNKNOWN, 0, NULL, NULL};

static value of_number(double n) { return (value){NUMBER, n, NULL, NULL}; }
static value of_text(const char *t) { return (value){TEXT, 0, t, NULL}; }

static value of_json(const cJSON *item) {
    if (cJSON_IsNumber(item))
        return of_number(item->valuedouble);
    if (cJSON_IsString(item))
        return of_text(item->valuestring);
    if (cJSON_IsBool(item))
        return of_number(cJSON_IsTrue(item));
    if (cJSON_IsArray(item))
        return (value){LIST, 0, NULL, item};
    return unknown;
}

const char *decimal_text(pool *to, double number) {
    char text[64];
    long long milli = llround(fabs(number) * 1000);
    int used = snprintf(text, sizeof text, "%s%lld.%03lld", number < 0 && milli > 0 ? "-" : "",
                        milli / 1000, milli % 1000);
    while (used > 0 && text[used - 1] == '0')
        used--;
    if (used > 0 && text[used - 1] == '.')
        used--;
    return pool_text(to, text, (size_t)used);
}

const char *value_text(pool *to, value v) {
    if (v.kind == NUMBER)
        return decimal_text(to, v.number);
    if (v.kind == TEXT)
        return v.text;
    if (v.kind == UNKNOWN)
        return "unknown";
    const char *all = "";
    const cJSON *item;
    cJSON_ArrayForEach(item, v.list) {
        const char *one = cJSON_IsObject(item) ? "{..}" : value_text(to, of_json(item));
        all = join(to, join(to, all, *all ? " " : ""), one);
    }
    return all;
}

static bool near(double a, double b) {
    return fabs(a - b) <= 1e-9 * fmax(1, fmax(fabs(a), fabs(b)));
}

int compare(value a, value b) {
    if (a.kind == TEXT) {
        int order = strcmp(a.text, b.text);
        return (order > 0) - (order < 0);
    }
    return near(a.number, b.number) ? 0 : a.number < b.number ? -1 : 1;
}

static bool holds(value list, value item) {
    const cJSON *one;
    cJSON_ArrayForEach(one, list.list) {
        value v = of_json(one);
        if (v.kind == item.kind && v.kind != UNKNOWN && v.kind != LIST && compare(v, item) == 0)
            return true;
    }
    return false;
}

static bool inside(value part, value whole) {
    const cJSON *one;
    cJSON_ArrayForEach(one, part.list) {
        if (!holds(whole, of_json(one)))
            return false;
    }
    return true;
}

/* ---- functions ---- */

static value swap(const standing *in, const char *text, const char *from, const char *to) {
    const char *hit = strstr(text, from);
    if (hit == NULL || *from == '\0')
        return unknown; /* nothing to swap: there is no such relative */
    const char *head = pool_text(in->scratch, text, (size_t)(hit - text));
    return of_text(join(in->scratch, join(in->scratch, head, to), hit + strlen(from)));
}

static value lower(const standing *in, const char *text) {
    char *copy = pool_text(in->scratch, text, strlen(text));
    for (char *c = copy; *c != '\0'; c++)
        if (*c >= 'A' && *c <= 'Z')
            *c = (char)(*c + ('a' - 'A'));
    return of_text(copy);
}

/* Of a list of records, their counts together. */
static value sum_of_counts(value list) {
    double sum = 0;
    const cJSON *one;
    cJSON_ArrayForEach(one, list.list) {
        const cJSON *count = cJSON_GetObjectItemCaseSensitive(one, "count");
        sum += cJSON_IsNumber(count) ? count->valuedouble : 0;
    }
    return of_number(sum);
}

static value call_text(const standing *in, const char *name, value a) {
    double number;
    if (strcmp(name, "lower") == 0)
        return lower(in, a.text);
    if (strcmp(name, "number") == 0 && read_decimal(a.text, &number))
        return of_number(number);
    return unknown;
}

static value call_number(const standing *in, const char *name, double a) {
    if (strcmp(name, "abs") == 0)
        return of_number(fabs(a));
    if (strcmp(name, "floor") == 0)
        return of_number(floor(a + 1e-9));
    if (strcmp(name, "log2") == 0)
        return a > 0 ? of_number(log2(a)) : unknown;
    if (strcmp(name, "log10") == 0)
        return a > 0 ? of_number(log10(a)) : unknown;
    if (strcmp(name, "text") == 0)
        return of_text(decimal_text(in->scratch, a));
    return unknown;
}

static value call(const standing *in, const node *n) {
    value a = value_of(in, n->kids[0]);
    value b = n->kids[1] == NULL ? unknown : value_of(in, n->kids[1]);
    if (strcmp(n->text, "swap") == 0) {
        value c = value_of(in, n->kids[2]);
        return a.kind == TEXT && b.kind == TEXT && c.kind == TEXT ? swap(in, a.text, b.text, c.text)
                                                                  : unknown;
    }
    if (n->kids[1] != NULL) {
        if (a.kind != NUMBER || b.kind != NUMBER)
            return unknown;
        bool least = strcmp(n->text, "least") == 0;
        return of_number(least ? fmin(a.number, b.number) : fmax(a.number, b.number));
    }
    if (a.kind == LIST)
        return strcmp(n->text, "length") == 0 ? of_number(cJSON_GetArraySize(a.list))
               : strcmp(n->text, "sum") == 0  ? sum_of_counts(a)
                                              : unknown;
    if (a.kind == TEXT)
        return call_text(in, n->text, a);
    return a.kind == NUMBER ? call_number(in, n->text, a.number) : unknown;
}

/* ---- operators ---- */

static value arithmetic(const standing *in, op what, value a, value b) {
    if (what == OP_ADD && a.kind == TEXT && b.kind == TEXT)
        return of_text(join(in->scratch, a.text, b.text));
    if (a.kind != NUMBER || b.kind != NUMBER)
        return unknown;
    switch (what) {
    case OP_ADD:
        return of_number(a.number + b.number);
    case OP_LESS:
        return of_number(a.number - b.number);
    case OP_TIMES:
        return of_number(a.number * b.number);
    case OP_OVER:
        return b.number == 0 ? unknown : of_number(a.number / b.number);
    default: {
        double p = pow(a.number, b.number);
        return isfinite(p) ? of_number(p) : unknown;
    }
    }
}

static value relate(op what, value a, value b) {
    if (a.kind == LIST && b.kind == LIST) {
        bool equal = inside(a, b) && inside(b, a);
        return what == OP_EQUAL     ? of_number(equal)
               : what == OP_UNEQUAL ? of_number(!equal)
               : what == OP_INSIDE  ? of_number(inside(a, b))
                                    : unknown;
    }
    if (what == OP_HAS)
        return a.kind == LIST && b.kind != UNKNOWN ? of_number(holds(a, b)) : unknown;
    if (what == OP_INSIDE)
        return b.kind == LIST && a.kind != UNKNOWN ? of_number(holds(b, a)) : unknown;
    if (a.kind != b.kind || a.kind == UNKNOWN || a.kind == LIST)
        return unknown;
    if (what == OP_STARTS)
        return a.kind == TEXT ? of_number(strncmp(a.text, b.text, strlen(b.text)) == 0) : unknown;
    if (what == OP_CONTAINS)
        return a.kind == TEXT ? of_number(strstr(a.text, b.text) != NULL) : unknown;
    int order = compare(a, b);
    return of_number(what == OP_EQUAL     ? order == 0
                     : what == OP_UNEQUAL ? order != 0
                     : what == OP_BELOW   ? order < 0
                     : what == OP_AT_MOST ? order <= 0
                     : what == OP_ABOVE   ? order > 0
                                          : order >= 0);
}

static value within(const standing *in, const node *n) {
    value x = value_of(in, n->kids[0]);
    value low = relate(OP_AT_LEAST, x, value_of(in, n->kids[1]));
    value high = relate(OP_AT_MOST, x, value_of(in, n->kids[2]));
    if (low.kind == UNKNOWN || high.kind == UNKNOWN)
        return unknown;
    return of_number(low.number != 0 && high.number != 0);
}

static value one_of(const standing *in, const node *n) {
    value x = value_of(in, n->kids[0]);
    if (x.kind == UNKNOWN)
        return unknown;
    for (const node *k = n->kids[1]; k != NULL; k = k->next) {
        value v = value_of(in, k);
        if (v.kind == x.kind && compare(v, x) == 0)
            return of_number(1);
    }
    return of_number(0);
}

static bool left_out(const node *names, const char *name) {
    for (; names != NULL; names = names->next)
        if (strcmp(names->text, name) == 0)
            return true;
    return false;
}

static bool covers(const cJSON *a, const cJSON *b, const node *but) {
    for (const cJSON *item = a->child; item != NULL; item = item->next)
        if (!left_out(but, item->string) &&
            !cJSON_Compare(item, cJSON_GetObjectItemCaseSensitive(b, item->string), true))
            return false;
    return true;
}

/* Two parts state the same facts, but for the named ones. */
static value alike(const standing *in, const node *n) {
    const cJSON *a = cJSON_GetObjectItemCaseSensitive(in->records[n->kids[0]->who], "facts");
    const cJSON *b = cJSON_GetObjectItemCaseSensitive(in->records[n->kids[1]->who], "facts");
    if (a == NULL || b == NULL)
        return unknown;
    return of_number(covers(a, b, n->kids[2]) && covers(b, a, n->kids[2]));
}

static value logic(const standing *in, const node *n) {
    value a = value_of(in, n->kids[0]);
    if (n->op == OP_KNOWN)
        return of_number(a.kind != UNKNOWN);
    if (n->op == OP_NOT)
        return a.kind == NUMBER ? of_number(a.number == 0) : unknown;
    double settled = n->op == OP_OR;
    if (a.kind == NUMBER && (a.number != 0) == (settled != 0))
        return of_number(settled);
    value b = value_of(in, n->kids[1]);
    if (b.kind == NUMBER && (b.number != 0) == (settled != 0))
        return of_number(settled);
    return a.kind == NUMBER && b.kind == NUMBER ? of_number(1 - settled) : unknown;
}

bool all_true(const standing *in, const conditions *of) {
    for (size_t i = 0; i < of->count; i++) {
        value v = value_of(in, of->all[i]);
        if (v.kind != NUMBER || v.number == 0)
            return false;
    }
    return true;
}

bool any_unknown(const standing *in, const conditions *of) {
    for (size_t i = 0; i < of->count; i++)
        if (value_of(in, of->all[i]).kind == UNKNOWN)
            return true;
    return false;
}

value value_of(const standing *in, const node *n) {
    switch (n->op) {
    case OP_NUMBER:
        return of_number(n->number);
    case OP_TEXT:
        return of_text(n->text);
    case OP_FIELD:
        return of_json(cJSON_GetObjectItemCaseSensitive(in->records[n->who], n->text));
    case OP_SELF:
        return unknown;
    case OP_LET:
        return value_of(in, in->of->lets[n->who].is);
    case OP_ADD:
    case OP_LESS:
    case OP_TIMES:
    case OP_OVER:
    case OP_POWER:
        return arithmetic(in, n->op, value_of(in, n->kids[0]), value_of(in, n->kids[1]));
    case OP_CALL:
        return call(in, n);
    case OP_WITHIN:
        return within(in, n);
    case OP_ONE_OF:
        return one_of(in, n);
    case OP_ALIKE:
        return alike(in, n);
    case OP_KNOWN:
    case OP_NOT:
    case OP_AND:
    case OP_OR:
        return logic(in, n);
    default:
        return relate(n->op, value_of(in, n->kids[0]), value_of(in, n->kids[1]));
    }
}
