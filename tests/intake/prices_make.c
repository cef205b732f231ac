/* Makes price lists, and knows what each row is. */
#include "prices.h"

#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- text and chance ------------------------------------------------------------------------- */

void add_bytes(text *to, const char *bytes, size_t length) {
    if (to->length + length + 1 > to->room) {
        to->room = (to->length + length + 1) * 2;
        to->bytes = realloc(to->bytes, to->room);
        if (to->bytes == NULL)
            give_up("memory");
    }
    memcpy(to->bytes + to->length, bytes, length);
    to->length += length;
    to->bytes[to->length] = '\0';
}

void add(text *to, const char *format, ...) {
    char line[4096];
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(line, sizeof line, format, arguments);
    va_end(arguments);
    add_bytes(to, line, (size_t)length);
}

void empty(text *to) {
    to->length = 0;
    add_bytes(to, "", 0);
}

static uint64_t state = 1;
void sow(uint64_t seed) { state = seed * UINT64_C(0x9E3779B97F4A7C15) + 1; }
int draw(int below) {
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return (int)((state >> 20) % (uint64_t)below);
}
bool one_in(int n) { return draw(n) == 0; }

void write_file(const char *path, const char *bytes, size_t length) {
    FILE *file = fopen(path, "wb");
    if (file == NULL || fwrite(bytes, 1, length, file) != length || fclose(file) != 0)
        give_up(path);
}

/* ---- dialects -------------------------------------------------------------------------------- */

#define NBSP "\xC2\xA0"
#define NARROW "\xE2\x80\xAF"

static void make_dialect(dialect *d) {
    static const char *const encodings[] = {"utf-8", "windows-1252", "utf-16le", "utf-16be"};
    static const char *const marks[] = {"none", "must", "may"};
    static const char delimiters[] = {',', ';', '\t', '|'};
    static const char *const points[] = {"", ",", " ", NBSP, NARROW, "'"};
    static const char *const commas[] = {"", ".", " ", NBSP, NARROW, "'"};
    static const struct {
        const char *code, *sign;
        int digits;
    } currencies[] = {{"EUR", "\xE2\x82\xAC", 2},
                      {"USD", "$", 2},
                      {"GBP", "\xC2\xA3", 2},
                      {"CHF", "CHF", 2},
                      {"BHD", "BD", 3}};
    int currency = draw(5);
    d->encoding = encodings[draw(4)];
    d->mark = strcmp(d->encoding, "windows-1252") == 0 ? "none" : marks[draw(3)];
    d->has_mark = strcmp(d->mark, "must") == 0 || (strcmp(d->mark, "may") == 0 && one_in(2));
    d->delimiter = delimiters[draw(4)];
    d->crlf = one_in(2);
    d->quotes = !one_in(4);
    d->crowded = d->quotes && one_in(3);
    d->header = !one_in(3);
    d->lead = one_in(3) ? 1 + draw(3) : 0;
    d->decimal = one_in(2) ? '.' : ',';
    d->grouping = (d->decimal == '.' ? points : commas)[draw(6)];
    if (strcmp(d->encoding, "windows-1252") == 0 && strcmp(d->grouping, NARROW) == 0)
        d->grouping = NBSP;
    d->grouped_must = d->grouping[0] != '\0' && one_in(3);
    d->decimals = draw(4);
    d->currency = currencies[currency].code;
    d->digits = currencies[currency].digits;
    d->sign = one_in(2) ? currencies[currency].sign : "";
    d->sign_place = draw(3);
    d->sign_must = d->sign[0] != '\0' && one_in(2);
    d->tax = one_in(3) ? 7 + draw(19) : 0;
    d->has_maker = !one_in(3);
    d->cheapest = one_in(2);
    d->step = one_in(2) ? 20 : 11 + draw(60);
    /* Without quotes no cell may hold the delimiter. */
    if (!d->quotes && (d->delimiter == ',' || d->delimiter == d->grouping[0]))
        d->delimiter = '|';
    d->width = d->has_maker ? 6 : 5;
    for (int i = 0, used = 0; i < 6; i++)
        d->order[i] = i == 1 && !d->has_maker ? -1 : used++;
    for (int i = 0; i < 6; i++) {
        int other = draw(6), kept = d->order[i];
        if (kept >= 0 && d->order[other] >= 0) {
            d->order[i] = d->order[other];
            d->order[other] = kept;
        }
    }
}

/* ---- cells -------------------------------------------------------------------------------------
 */

/* What is wrong with it: 0 nothing. */
static void add_price(text *to, const dialect *d, int64_t minor, int wrong) {
    char whole[32], rest[16];
    int64_t one = d->digits == 3 ? 1000 : 100;
    size_t length = (size_t)snprintf(whole, sizeof whole, "%lld", (long long)(minor / one));
    snprintf(rest, sizeof rest, "%0*lld", d->digits, (long long)(minor % one));
    bool grouped = d->grouping[0] != '\0' && (d->grouped_must || one_in(2));
    if (wrong == 6 || wrong == 8) /* in bad groups, or in none where there must be some */
        snprintf(whole, sizeof whole, "%d", (1 + draw(9)) * 1000000 + 234567);
    if (wrong == 8)
        grouped = false;
    length = strlen(whole);
    const char *gap = one_in(2) ? "" : one_in(2) ? " " : NBSP;
    bool has_sign = d->sign[0] != '\0' && wrong != 7 && (d->sign_must || one_in(2));
    bool before = d->sign_place == 1 || (d->sign_place == 0 && one_in(2));
    if (wrong == 1)
        add(to, "-");
    if (wrong == 2)
        add(to, "=");
    if (has_sign && before)
        add(to, "%s%s", d->sign, gap);
    for (size_t i = 0; i < length; i++) {
        if (wrong == 6 ? i == length - 3 : grouped && i > 0 && (length - i) % 3 == 0)
            add(to, "%s", d->grouping);
        add(to, "%c", whole[i]);
    }
    if (d->decimals == 2 && wrong != 3)
        while (rest[0] != '\0' && rest[strlen(rest) - 1] == '0' && one_in(2))
            rest[strlen(rest) - 1] = '\0';
    bool zero = strspn(rest, "0") == strlen(rest);
    if (wrong == 3)
        add(to, "%c%s9", d->decimal, rest); /* a digit too many, or two marks */
    else if (d->decimals != 3 && rest[0] != '\0' && !(d->decimals == 1 && zero && one_in(2)))
        add(to, "%c%s", d->decimal, rest);
    if (wrong == 4)
        add(to, "%c%c5", d->decimal == '.' ? ',' : '.', d->decimal);
    if (wrong == 5)
        add(to, "x");
    if (has_sign && !before)
        add(to, "%s%s", gap, d->sign);
}

static int64_t make_price(const dialect *d) {
    int64_t one = d->digits == 3 ? 1000 : 100;
    int64_t price = (1 + draw(one_in(3) ? 9000 : 900)) * one + draw((int)one);
    if (d->decimals == 3 || (d->decimals == 1 && one_in(3)))
        price -= price % one;
    return price;
}

/* A price that no list of this dialect writes. */
static void add_wrong_price(text *to, const dialect *d) {
    static const char *const words[] = {"", "ask for it", "0", "99999999999999999999"};
    if (one_in(4))
        add(to, "%s", words[draw(4)]);
    else if (d->sign_must && one_in(2))
        add_price(to, d, make_price(d), 7);
    else if (d->grouped_must && one_in(3))
        add_price(to, d, make_price(d), 8);
    else if (d->grouping[0] != '\0' && one_in(3))
        add_price(to, d, make_price(d), 6);
    else
        add_price(to, d, make_price(d), 1 + draw(5));
}

static void add_cell(text *to, const dialect *d, const char *cell, bool first) {
    bool needs = strchr(cell, d->delimiter) != NULL || strpbrk(cell, "\"\n") != NULL;
    if (!first)
        add(to, "%c", d->delimiter);
    if (!d->quotes || !(needs || d->crowded || one_in(8))) {
        add_bytes(to, cell, strlen(cell));
        return;
    }
    add(to, "\"");
    for (; *cell != '\0'; cell++)
        add(to, *cell == '"' ? "\"\"" : "%c", *cell);
    add(to, "\"");
}

static void add_row(text *to, const dialect *d, const char *const *cells) {
    for (int place = 0; place < d->width; place++)
        for (int i = 0; i < 6; i++)
            if (d->order[i] == place)
                add_cell(to, d, cells[i], place == 0);
    add(to, d->crlf ? "\r\n" : "\n");
}

/* A maker's number as somebody else writes it. */
static void respell(char *out, const char *number) {
    size_t length = 0;
    bool small = one_in(3);
    for (; *number != '\0'; number++) {
        if (*number == '-' && one_in(2)) {
            if (one_in(2))
                out[length++] = ' ';
            continue;
        }
        out[length++] = small && *number >= 'A' && *number <= 'Z' ? (char)(*number + 32) : *number;
    }
    out[length] = '\0';
}

/* ---- parts
 * ---------------------------------------------------------------------------------------- */

static void make_parts(sample *it) {
    static const char *const makers[] = {"Alder", "Birch", "Cedar", "D\xC3\xBCne"};
    static const char *const first[] = {"quern",  "trestle", "lintel", "mullion", "sconce",
                                        "corbel", "dormer",  "gable",  "joist",   "purlin"};
    static const char *const second[] = {"amber", "basalt", "cobalt", "dusk"};
    for (int i = 0; i < PARTS; i++) {
        part *p = &it->parts[i];
        snprintf(p->id, sizeof p->id, "part-%02d", i);
        snprintf(p->name, sizeof p->name, "%s %s %d", first[i % 10], second[i / 10], 100 + i * 7);
        snprintf(p->maker, sizeof p->maker, "%s", makers[i % 4]);
        /* Parts 36 to 39, each of another maker, share one number. */
        snprintf(p->number, sizeof p->number, "Q%c-%04d", 'A' + i % 20,
                 i < 36 ? 1000 + draw(100) * 40 + i : 777);
        if (i >= 36)
            snprintf(p->number, sizeof p->number, "SHARED-7");
    }
}

/* ---- rows
 * ------------------------------------------------------------------------------------------- */

static int64_t with_tax(const dialect *d, int64_t net) {
    return (net * (100 + d->tax) * 2 + 100) / 200; /* half up */
}

static void make_stock(char *out, size_t room, truth *t) {
    t->days = 2;
    switch (draw(5)) {
    case 0:
        t->stock = draw(50);
        snprintf(out, room, "%d", t->stock);
        break;
    case 1:
        t->stock = 1 + draw(50);
        snprintf(out, room, "%d+", t->stock);
        break;
    case 2:
        t->stock = 5;
        snprintf(out, room, "%s", one_in(2) ? "in stock" : "In Stock");
        break;
    case 3:
        t->stock = 0;
        snprintf(out, room, "sold out");
        break;
    default:
        t->stock = 0;
        t->days = 3 + draw(9);
        snprintf(out, room, "%d-%d days", 1 + draw(2), t->days);
    }
}

static void say(sample *it, const char *number, const char *name, const char *id, int pieces,
                int64_t price) {
    int64_t one = it->in.digits == 3 ? 1000 : 100;
    add(&it->confirm, "%s{\"name\":\"%s\"", it->confirm.length > 0 ? "," : "", name);
    if (number[0] != '\0')
        add(&it->confirm, ",\"number\":\"%s\"", number);
    if (pieces > 0)
        add(&it->confirm, ",\"pieces\":%d", pieces);
    if (price > 0)
        add(&it->confirm, ",\"price\":\"%lld.%0*lld\"", (long long)(price / one), it->in.digits,
            (long long)(price % one));
    add(&it->confirm, id == NULL ? ",\"part\":null}" : ",\"part\":\"%s\"}", id);
}

typedef enum row_kind {
    BY_NUMBER,
    WAITING,
    UNMATCHED,
    UNPRICED,
    GONE,
    BLANK,
    TOTAL,
    BY_PERSON,
    NOT_OURS,
    MISNAMED, /* the number of one part, the name of another */
    PACKED,
    BAD_PRICE,
    BAD_STOCK,
    BAD_WIDTH,
    BAD_QUOTE
} row_kind;

static row_kind draw_kind(const sample *it) {
    static const row_kind many[] = {BY_NUMBER, BY_NUMBER, BY_NUMBER, BY_NUMBER, WAITING,
                                    UNMATCHED, UNPRICED,  GONE,      BLANK,     TOTAL,
                                    BY_PERSON, NOT_OURS,  MISNAMED,  PACKED};
    static const row_kind bad[] = {BAD_PRICE, BAD_PRICE, BAD_STOCK, BAD_WIDTH, BAD_QUOTE};
    row_kind kind = it->faulty && one_in(6) ? bad[draw(5)] : many[draw(14)];
    return kind == BAD_QUOTE && !it->in.quotes ? BAD_WIDTH : kind;
}

/* A pack of some pieces, of which a person may have said how many there are. */
static void pack(sample *it, truth *t, const part *p, const char *number, char *name, size_t room) {
    int count = 1 + draw(12), pieces = one_in(3) ? 1 : count;
    if (count > 1 && one_in(4))
        snprintf(name, room, "%s row %d multipack", p->name, it->row_count);
    else
        snprintf(name, room, "%s row %d: %d pcs", p->name, it->row_count, count);
    t->held = count > 1 && one_in(2);
    t->fate = t->held ? "waiting" : "listed";
    if (t->held || count == 1)
        return;
    t->priced = one_in(2);
    say(it, number, name, p->id, pieces, t->priced ? t->price : 0);
    t->price = t->price / pieces + (t->price % pieces > 0);
    t->stock *= pieces;
}

static void make_row(sample *it, int index, const part *p, row_kind kind) {
    static const char *const fates[] = {"listed",  "waiting", "unmatched", "no-price", "gone",
                                        "blank",   "skipped", "listed",    "not-ours", "waiting",
                                        "waiting", "refused", "refused",   "refused",  "refused"};
    const dialect *d = &it->in;
    truth *t = &it->rows[it->row_count++];
    char number[32], name[80], stock[32];
    text price = {0};
    int64_t net = make_price(d);
    *t = (truth){.fate = fates[kind], .part = -1};
    if (kind == BLANK) {
        if (one_in(2)) {
            add(&it->list, d->crlf ? "\r\n" : "\n");
            return;
        }
        add_row(&it->list, d, (const char *const[]){"", "", "", " ", "", NBSP});
        return;
    }
    respell(number, p->number);
    snprintf(name, sizeof name, "%s%s", p->name,
             !one_in(2)  ? ""
             : d->quotes ? ", bo\xC3\xAEte"
                         : " bo\xC3\xAEte");
    make_stock(stock, sizeof stock, t);
    add(&price, "%s", one_in(8) ? " " : "");
    add_price(&price, d, net, 0);
    t->price = with_tax(d, net);
    t->part = index;
    if (kind == WAITING || kind == UNMATCHED || kind == BY_PERSON || kind == NOT_OURS)
        snprintf(number, sizeof number, "%s", one_in(2) ? "" : "ZZ-99-Z");
    if (kind == UNMATCHED || kind == BY_PERSON || kind == NOT_OURS)
        snprintf(name, sizeof name, "kettle no %d", 900000 + it->row_count);
    const char *maker = p->maker;
    if (kind == WAITING)
        snprintf(name, sizeof name, "%s", p->name);
    if (kind == WAITING && d->has_maker && index < 36 &&
        one_in(3)) { /* a maker spelled otherwise */
        respell(number, p->number);
        maker = "Stranger Ltd";
        snprintf(name, sizeof name, "kettle no %d", 900000 + it->row_count);
    }
    if (kind == NOT_OURS) { /* its numbers are not read */
        empty(&price);
        add_wrong_price(&price, d);
    }
    if (kind == NOT_OURS)
        say(it, number, name, NULL, 0, 0);
    if (kind == BY_PERSON) {
        t->priced = one_in(2);
        say(it, number, name, p->id, 0, t->priced ? t->price : 0);
    }
    if (kind == MISNAMED) {
        snprintf(name, sizeof name, "%s", it->parts[(index + 7) % 36].name);
        t->held = true;
    }
    if (kind == PACKED)
        pack(it, t, p, number, name, sizeof name);
    if (kind == UNPRICED) {
        empty(&price);
        add(&price, "%s", one_in(2) ? "POA" : "poa");
    }
    if (kind == BAD_PRICE) {
        empty(&price);
        add_wrong_price(&price, d);
        t->column = "price";
    }
    if (kind == GONE)
        snprintf(stock, sizeof stock, "EOL");
    if (kind == BAD_STOCK) {
        static const char *const wrong[] = {"", "-1", "many", "1.5", "=A1", "99999999", "5 6"};
        snprintf(stock, sizeof stock, "%s", wrong[draw(7)]);
        t->column = "stock";
    }
    if (kind != BY_NUMBER && kind != BY_PERSON && kind != MISNAMED && kind != PACKED)
        t->part = kind == WAITING ? index : -1;
    snprintf(t->number, sizeof t->number, "%s", number);
    const char *cells[] = {number, maker, name, price.bytes, stock, "extra, \"of\" no use"};
    if (!d->quotes)
        cells[5] = "27\" of no use";
    if (kind == TOTAL) {
        const char *total[6] = {"", "", "", "", "", ""};
        for (int i = 0; i < 6; i++)
            if (d->order[i] == 0)
                total[i] = "Total of all: 12 345";
        add_row(&it->list, d, total);
    } else if (kind == BAD_WIDTH) {
        t->column = NULL;
        add(&it->list, "odd%cone%s", d->delimiter, d->crlf ? "\r\n" : "\n");
    } else if (kind == BAD_QUOTE) {
        t->column = NULL;
        add(&it->list, "od\"d%cone%s", d->delimiter, d->crlf ? "\r\n" : "\n");
    } else {
        add_row(&it->list, d, cells);
    }
    free(price.bytes);
}

/* A row whose price is far from what the part costs until now waits. */
static void settle_prices(sample *it) {
    for (int i = 0; i < it->row_count; i++) {
        truth *t = &it->rows[i];
        t->fate = t->drawn;
        t->column = strcmp(t->drawn, "refused") == 0 ? t->column : NULL;
        if (strcmp(t->drawn, "listed") != 0)
            continue;
        int64_t usual = it->before[t->part] > 0 ? it->before[t->part] : it->others[t->part];
        t->held = usual > 0 && !t->priced &&
                  (t->price * 10 > usual * it->in.step || t->price * it->in.step < usual * 10);
        if (t->held)
            t->fate = "waiting";
    }
}

/* Two rows of one part: all refused, or the cheapest in stock, then the first. */
static void settle_twice(sample *it) {
    for (int p = 0; p < PARTS; p++) {
        int rows[ROWS], count = 0, best = 0;
        for (int i = 0; i < it->row_count; i++)
            if (it->rows[i].part == p && strcmp(it->rows[i].fate, "listed") == 0)
                rows[count++] = i;
        for (int k = 1; k < count; k++) {
            const truth *a = &it->rows[rows[k]], *b = &it->rows[rows[best]];
            bool better = (a->stock > 0) != (b->stock > 0) ? a->stock > 0 : a->price < b->price;
            best = better ? k : best;
        }
        for (int k = 0; k < count && count > 1; k++) {
            truth *t = &it->rows[rows[k]];
            if (!it->in.cheapest) {
                t->fate = "refused";
                t->column = "number";
            } else if (k != best) {
                t->fate = "twice";
            }
        }
    }
}

/* ---- listings, before and after
 * ------------------------------------------------------------------------ */

static const char head[] = "part,seller,price,stock,days,warranty_months,return_days\n";

static const truth *listed_of(const sample *it, int p) {
    for (int i = 0; i < it->row_count; i++)
        if (it->rows[i].part == p && strcmp(it->rows[i].fate, "listed") == 0)
            return &it->rows[i];
    return NULL;
}

static bool is_held(const sample *it, int p) {
    for (int i = 0; i < it->row_count; i++)
        if (it->rows[i].part == p && it->rows[i].held)
            return true;
    return false;
}

static int64_t unit(const sample *it) { return it->in.digits == 3 ? 1000 : 100; }

/* What is listed until now: "counter" sells the list; "post" stands behind it. */
static void make_before(sample *it) {
    add(&it->old, "%s", head);
    for (int p = 0; p < PARTS; p++) {
        int price = 5 + draw(900);
        for (int i = 0; i < it->row_count && !one_in(3); i++) /* mostly near the new one */
            if (it->rows[i].part == p)
                price = 1 + (int)(it->rows[i].price / unit(it));
        it->stock_before[p] = draw(9);
        if (one_in(2)) {
            it->before[p] = price * unit(it);
            add(&it->old, "%s,counter,%d,%d,1,24,14\n", it->parts[p].id, price,
                it->stock_before[p]);
        }
        if (one_in(3)) {
            price = one_in(2) ? price : 5 + draw(900);
            it->others[p] = price * unit(it) + unit(it) / 2;
            add(&it->old, "%s,post,%d.5,%d,1,24,14\n", it->parts[p].id, price, draw(9));
        }
    }
}

/* The line of "post" as it was; "" for none. */
static void add_post(text *to, const sample *it, int p) {
    char line[64];
    snprintf(line, sizeof line, "\n%s,post,", it->parts[p].id);
    const char *found = strstr(it->old.bytes, line);
    if (found != NULL)
        add_bytes(to, found + 1, (size_t)(strchr(found + 1, '\n') - found));
}

static void make_listings(sample *it) {
    empty(&it->listings);
    add(&it->listings, "%s", head);
    for (int p = 0; p < PARTS; p++) {
        const truth *t = listed_of(it, p);
        int64_t one = unit(it), held = is_held(it, p) ? it->before[p] : 0;
        int64_t price = t == NULL ? held : t->price;
        if (price > 0)
            add(&it->listings, "%s,counter,%lld.%0*lld,%d,%d,24,14\n", it->parts[p].id,
                (long long)(price / one), it->in.digits, (long long)(price % one),
                t == NULL ? 0 : t->stock, t == NULL ? 1 : t->days);
        add_post(&it->listings, it, p);
    }
}

static bool settle(sample *it) {
    bool refused = false;
    settle_prices(it);
    settle_twice(it);
    for (int i = 0; i < it->row_count; i++)
        refused |= strcmp(it->rows[i].fate, "refused") == 0;
    it->faulty = refused;
    make_listings(it);
    return refused;
}

bool read_again(sample *it) {
    text was = it->listings;
    int64_t now[PARTS];
    it->listings = (text){0};
    for (int p = 0; p < PARTS; p++) {
        const truth *t = listed_of(it, p);
        now[p] = t != NULL ? t->price : is_held(it, p) ? it->before[p] : 0;
        it->stock_before[p] = t != NULL ? t->stock : 0;
    }
    memcpy(it->before, now, sizeof now);
    empty(&it->old);
    add_bytes(&it->old, was.bytes, was.length);
    settle(it);
    bool same = strcmp(was.bytes, it->listings.bytes) == 0;
    free(was.bytes);
    return same;
}

/* ---- all of it
 * -------------------------------------------------------------------------------------------- */

void make_sample(sample *out, uint64_t seed, bool faulty) {
    sow(seed);
    memset(out, 0, sizeof *out);
    out->faulty = faulty;
    make_dialect(&out->in);
    make_parts(out);
    const dialect *d = &out->in;
    for (int i = 0; i < d->lead; i++) {
        out->rows[out->row_count++] = (truth){.fate = "lead", .part = -1};
        add(&out->list, "prices of week %d%s", draw(52), d->crlf ? "\r\n" : "\n");
    }
    if (d->header) {
        out->rows[out->row_count++] = (truth){.fate = "header", .part = -1};
        add_row(&out->list, d,
                (const char *const[]){"Number", "Maker", "Article", "Price", "Stock", "Extra"});
    }
    for (int i = 0, p = 0; i < 60; i++) {
        row_kind kind = draw_kind(out);
        bool again = p > 0 && one_in(faulty || d->cheapest ? 25 : 1000000);
        int index = again ? p - 1 : p++ % PARTS;
        if (p > PARTS && kind != BLANK && kind != TOTAL)
            break;
        /* A shared number is none without its maker. */
        if (index >= 36 && (kind == MISNAMED || kind == PACKED))
            kind = WAITING;
        if (index >= 36 && !d->has_maker && kind == BY_NUMBER)
            kind = WAITING;
        make_row(out, index, &out->parts[index], kind);
    }
    for (int i = 0; i < out->row_count; i++)
        out->rows[i].drawn = out->rows[i].fate;
    make_before(out);
    settle(out);
    encode(&out->file, &out->list, d->encoding, d->has_mark);
}

void free_sample(sample *it) {
    free(it->list.bytes);
    free(it->file.bytes);
    free(it->listings.bytes);
    free(it->confirm.bytes);
    free(it->old.bytes);
}
