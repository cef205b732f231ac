/* Takes relations.txt apart: blocks of lines, and in the lines small expressions, read
 * by descending from `or` down to single words. A misspelt word ends the test. */
#include "language.h"

#include <ctype.h>
#include <string.h>

typedef struct reader {
    pool *memory;
    const relation *of;
    const char *at;
} reader;

static void blanks(reader *in) {
    while (*in->at == ' ' || *in->at == '\t')
        in->at++;
}

static _Noreturn void puzzled(const reader *in, const char *wanted) {
    give_up("relation %s: %s, at: %s", in->of->name, wanted, *in->at ? in->at : "the line's end");
}

static bool is_word(char c) { return isalnum((unsigned char)c) || c == '_'; }

/* Takes the word, or the sign, when it stands next. */
static bool take(reader *in, const char *word) {
    blanks(in);
    size_t length = strlen(word);
    if (strncmp(in->at, word, length) != 0 || (is_word(word[0]) && is_word(in->at[length])))
        return false;
    in->at += length;
    return true;
}

static void need(reader *in, const char *word) {
    if (!take(in, word))
        puzzled(in, join(in->memory, "wanted: ", word));
}

static const char *take_word(reader *in) {
    blanks(in);
    const char *begin = in->at;
    while (is_word(*in->at))
        in->at++;
    return in->at == begin ? NULL : pool_text(in->memory, begin, (size_t)(in->at - begin));
}

static node *make(reader *in, op what, node *a, node *b) {
    node *n = pool_take(in->memory, sizeof *n);
    n->op = what;
    n->kids[0] = a;
    n->kids[1] = b;
    return n;
}

/* ---- terms ---- */

static node *expression(reader *in);
static node *condition(reader *in);

static node *literal(reader *in) {
    blanks(in);
    const char *begin = in->at;
    node *n = NULL;
    if (*begin == '"') {
        const char *end = strchr(begin + 1, '"');
        if (end == NULL)
            puzzled(in, "a text without its end");
        n = make(in, OP_TEXT, NULL, NULL);
        n->text = pool_text(in->memory, begin + 1, (size_t)(end - begin - 1));
        in->at = end + 1;
    } else if (isdigit((unsigned char)*begin)) {
        while (isdigit((unsigned char)*in->at) || *in->at == '.')
            in->at++;
        n = make(in, OP_NUMBER, NULL, NULL);
        if (!read_decimal(pool_text(in->memory, begin, (size_t)(in->at - begin)), &n->number))
            puzzled(in, "not a number");
    } else if (take(in, "true") || take(in, "false")) {
        n = make(in, OP_NUMBER, NULL, NULL);
        n->number = *begin == 't';
    }
    return n;
}

static node *variable(reader *in, char name) {
    for (size_t i = 0; i < in->of->range_count; i++) {
        if (in->of->ranges[i].name != name)
            continue;
        bool field = *in->at == '.';
        in->at += field;
        node *n = make(in, field ? OP_FIELD : OP_SELF, NULL, NULL);
        n->who = i;
        n->text = field ? take_word(in) : NULL;
        if (field && n->text == NULL)
            puzzled(in, "wanted a fact");
        return n;
    }
    puzzled(in, "no such variable before this");
}

static node *call(reader *in, const char *name) {
    static const struct {
        const char *name;
        size_t operands;
    } known[] = {{"abs", 1},   {"floor", 1}, {"log2", 1}, {"log10", 1}, {"number", 1}, {"text", 1},
                 {"lower", 1}, {"least", 2}, {"most", 2}, {"swap", 3},  {"length", 1}, {"sum", 1}};
    node *n = make(in, OP_CALL, NULL, NULL);
    n->text = name;
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        if (strcmp(known[i].name, name) != 0)
            continue;
        for (size_t k = 0; k < known[i].operands; k++) {
            if (k > 0)
                need(in, ",");
            n->kids[k] = expression(in);
        }
        need(in, ")");
        return n;
    }
    puzzled(in, join(in->memory, "no such function: ", name));
}

static node *primary(reader *in) {
    node *n = literal(in);
    if (n != NULL)
        return n;
    if (take(in, "(")) {
        n = condition(in);
        need(in, ")");
        return n;
    }
    const char *word = take_word(in);
    if (word == NULL)
        puzzled(in, "wanted a number, a text, a fact or a name");
    if (isupper((unsigned char)word[0]) && word[1] == '\0')
        return variable(in, word[0]);
    if (take(in, "("))
        return call(in, word);
    for (size_t i = 0; i < in->of->let_count; i++) {
        if (strcmp(in->of->lets[i].name, word) == 0) {
            n = make(in, OP_LET, NULL, NULL);
            n->who = i;
            return n;
        }
    }
    puzzled(in, join(in->memory, "no such name: ", word));
}

static node *power(reader *in) {
    node *n = primary(in);
    return take(in, "^") ? make(in, OP_POWER, n, power(in)) : n;
}

static node *product(reader *in) {
    node *n = power(in);
    for (;;) {
        if (take(in, "*"))
            n = make(in, OP_TIMES, n, power(in));
        else if (take(in, "/"))
            n = make(in, OP_OVER, n, power(in));
        else
            return n;
    }
}

static node *expression(reader *in) {
    node *n = product(in);
    for (;;) {
        if (take(in, "+"))
            n = make(in, OP_ADD, n, product(in));
        else if (take(in, "-"))
            n = make(in, OP_LESS, n, product(in));
        else
            return n;
    }
}

/* ---- conditions ---- */

static node *word_list(reader *in, bool literals) {
    node *first = NULL, **end = &first;
    for (;;) {
        node *n = NULL;
        if (literals) {
            n = literal(in);
        } else {
            const char *word = take_word(in);
            if (word != NULL) {
                n = make(in, OP_TEXT, NULL, NULL);
                n->text = word;
            }
        }
        if (n == NULL)
            return first;
        *end = n;
        end = &n->next;
    }
}

static node *comparison(reader *in) {
    static const struct {
        const char *sign;
        op what;
    } plain[] = {{"<=", OP_AT_MOST},       {">=", OP_AT_LEAST},   {"!=", OP_UNEQUAL},
                 {"=", OP_EQUAL},          {"<", OP_BELOW},       {">", OP_ABOVE},
                 {"has", OP_HAS},          {"inside", OP_INSIDE}, {"starts", OP_STARTS},
                 {"contains", OP_CONTAINS}};
    node *left = expression(in);
    for (size_t i = 0; i < sizeof plain / sizeof *plain; i++)
        if (take(in, plain[i].sign))
            return make(in, plain[i].what, left, expression(in));
    if (take(in, "within")) {
        node *n = make(in, OP_WITHIN, left, expression(in));
        need(in, "to");
        n->kids[2] = expression(in);
        return n;
    }
    if (take(in, "one")) {
        need(in, "of");
        return make(in, OP_ONE_OF, left, word_list(in, true));
    }
    if (take(in, "alike")) {
        node *n = make(in, OP_ALIKE, left, expression(in));
        if (take(in, "but"))
            n->kids[2] = word_list(in, false);
        if (left->op != OP_SELF || n->kids[1]->op != OP_SELF)
            puzzled(in, "alike stands between two variables");
        return n;
    }
    return left;
}

static node *clause(reader *in) {
    if (take(in, "not"))
        return make(in, OP_NOT, clause(in), NULL);
    if (take(in, "known"))
        return make(in, OP_KNOWN, primary(in), NULL);
    return comparison(in);
}

static node *conjunction(reader *in) {
    node *n = clause(in);
    while (take(in, "and"))
        n = make(in, OP_AND, n, clause(in));
    return n;
}

static node *condition(reader *in) {
    node *n = conjunction(in);
    while (take(in, "or"))
        n = make(in, OP_OR, n, conjunction(in));
    return n;
}

/* ---- lines ---- */

static void finish(reader *in) {
    blanks(in);
    if (*in->at != '\0')
        puzzled(in, "more than was wanted");
}

static node *whole_condition(reader *in) {
    node *n = condition(in);
    finish(in);
    return n;
}

static void add_condition(pool *memory, conditions *to, node *n) {
    if (to->count == to->room) {
        size_t room = to->room == 0 ? 4 : to->room * 2;
        node **all = pool_take(memory, room * sizeof *all);
        if (to->count > 0)
            memcpy(all, to->all, to->count * sizeof *all);
        to->all = all;
        to->room = room;
    }
    to->all[to->count++] = n;
}

/* The words of a line; a text in quotes is one word and keeps its quotes. */
static const char **words(reader *in, const char *stops, size_t *count) {
    size_t most = strlen(in->at) + 1;
    const char **all = pool_take(in->memory, most * sizeof *all);
    *count = 0;
    for (;;) {
        while (*in->at != '\0' && strchr(stops, *in->at) != NULL)
            in->at++;
        const char *begin = in->at;
        bool quoted = false;
        for (; *in->at != '\0' && (quoted || strchr(stops, *in->at) == NULL); in->at++)
            quoted ^= *in->at == '"';
        if (in->at == begin)
            return all;
        all[(*count)++] = pool_text(in->memory, begin, (size_t)(in->at - begin));
    }
}

/* A in graphics, power       T in A.things */
static void read_range(reader *in, relation *r, bool some) {
    if (r->range_count == RANGES)
        puzzled(in, "too many variables");
    range *to = &r->ranges[r->range_count];
    const char *name = take_word(in);
    if (name == NULL || !isupper((unsigned char)name[0]) || name[1] != '\0')
        puzzled(in, "a variable is one capital letter");
    to->name = name[0];
    need(in, "in");
    blanks(in);
    if (isupper((unsigned char)in->at[0]) && in->at[1] == '.') {
        const node *n = primary(in);
        to->of_other = true;
        to->other = n->who;
        to->field = n->text;
        finish(in);
    } else {
        to->roles = words(in, " ,", &to->role_count);
        if (to->role_count == 0)
            puzzled(in, "wanted a role");
    }
    r->range_count++;
    if (!some)
        r->for_count = r->range_count;
}

static void read_let(reader *in, relation *r) {
    if (r->let_count == LETS)
        puzzled(in, "too many lets");
    const char *name = take_word(in);
    need(in, "=");
    node *is = whole_condition(in);
    r->lets[r->let_count++] = (let){.name = name, .is = is};
}

static void read_rank(reader *in, relation *r) {
    r->rank_a = expression(in);
    need(in, "with");
    r->rank_b = expression(in);
    need(in, "at");
    need(in, "least");
    const node *n = literal(in);
    if (n == NULL || n->op != OP_NUMBER)
        puzzled(in, "wanted a number");
    r->rank_least = n->number;
    if (take(in, "by"))
        r->rank_by = expression(in);
    finish(in);
}

static size_t read_count(reader *in) {
    const node *n = literal(in);
    if (n == NULL || n->op != OP_NUMBER || n->number < 1)
        puzzled(in, "wanted a count of 1 or more");
    return (size_t)n->number;
}

/* finds 3 of B.board_form       finds 2       finds none */
static void read_finds(reader *in, relation *r) {
    r->none = take(in, "none");
    if (!r->none)
        r->finds = read_count(in);
    if (take(in, "of"))
        r->distinct = expression(in);
    finish(in);
}

static const char *sentence(reader *in, const char *before) {
    blanks(in);
    return before == NULL ? in->at : join(in->memory, join(in->memory, before, " "), in->at);
}

static void read_line(reader *in, relation *r) {
    if (take(in, "says"))
        r->says = sentence(in, r->says);
    else if (take(in, "source"))
        r->source = sentence(in, r->source);
    else if (take(in, "for"))
        read_range(in, r, false);
    else if (take(in, "some"))
        read_range(in, r, true);
    else if (take(in, "let"))
        read_let(in, r);
    else if (take(in, "where"))
        add_condition(in->memory, &r->where, whole_condition(in));
    else if (take(in, "with"))
        add_condition(in->memory, &r->with, whole_condition(in));
    else if (take(in, "holds"))
        add_condition(in->memory, &r->holds, whole_condition(in));
    else if (take(in, "rank"))
        read_rank(in, r);
    else if (take(in, "finds"))
        read_finds(in, r);
    else if (take(in, "cases"))
        r->cases = read_count(in);
    else if (take(in, "break"))
        r->alter = words(in, " ", &r->alter_count);
    else
        puzzled(in, "no such word");
}

static void check_relation(const relation *r) {
    bool some = r->range_count > r->for_count, rank = r->rank_a != NULL;
    const char *lack = r->says == NULL              ? "says"
                       : r->source == NULL          ? "source"
                       : r->for_count == 0          ? "for"
                       : r->cases == 0              ? "cases"
                       : r->alter_count == 0        ? "break"
                       : some && r->with.count == 0 ? "with"
                                                    : NULL;
    if (lack != NULL)
        give_up("relation %s has no line \"%s\"", r->name, lack);
    if (some + rank + (r->holds.count > 0) != 1)
        give_up("relation %s: it takes one of holds, some, rank", r->name);
}

static relation *new_relation(pool *memory, book *b, const char *name) {
    if (book_find(b, name) != NULL)
        give_up("relation %s stands twice", name);
    if (b->count == b->room) {
        size_t room = b->room == 0 ? 64 : b->room * 2;
        relation *all = pool_take(memory, room * sizeof *all);
        if (b->count > 0)
            memcpy(all, b->all, b->count * sizeof *all);
        b->all = all;
        b->room = room;
    }
    relation *r = &b->all[b->count++];
    r->name = name;
    r->finds = 1;
    return r;
}

static void new_price(reader *in, book *b) {
    price_name *all = pool_take(in->memory, (b->price_count + 1) * sizeof *all);
    if (b->price_count > 0)
        memcpy(all, b->prices, b->price_count * sizeof *all);
    b->prices = all;
    price_name *p = &all[b->price_count++];
    p->name = take_word(in);
    p->sellers = words(in, " ", &p->seller_count);
    if (p->name == NULL || p->seller_count == 0)
        puzzled(in, "wanted a name and sellers");
}

const relation *book_find(const book *b, const char *name) {
    for (size_t i = 0; i < b->count; i++)
        if (strcmp(b->all[i].name, name) == 0)
            return &b->all[i];
    return NULL;
}

book book_read(pool *memory, const char *path) {
    static const relation top = {.name = "(none yet)"};
    book b = {0};
    size_t length;
    char *text = read_file(memory, path, &length);
    reader in = {.memory = memory, .of = &top};
    for (char *line = text, *next; line < text + length; line = next) {
        char *end = strchr(line, '\n');
        next = end == NULL ? text + length : end + 1;
        if (end != NULL)
            *end = '\0';
        in.at = line;
        blanks(&in);
        if (*in.at == '\0' || *in.at == '#')
            continue;
        if (take(&in, "relation")) {
            blanks(&in);
            in.of = new_relation(memory, &b, in.at);
        } else if (take(&in, "price")) {
            new_price(&in, &b);
        } else if (b.count == 0) {
            puzzled(&in, "wanted: relation");
        } else {
            read_line(&in, &b.all[b.count - 1]);
        }
    }
    for (size_t i = 0; i < b.count; i++)
        check_relation(&b.all[i]);
    if (b.count == 0)
        give_up("%s holds no relation", path);
    return b;
}
