/*
 * Facts: how a piece's facts are read, how the pieces of a fit-out combine after
 * the tasks have acted on them, and what the expressions say.
 */
#include "world.h"

#include <math.h>
#include <string.h>

static const double beyond = 1000000.0;

static Cell read_cell(World *w, const Fact *f, const cJSON *value) {
    Cell cell = {.state = KNOWN};
    const cJSON *item;
    switch (f->type) {
    case NUMBER:
        cell.silent = cJSON_IsString(value);
        cell.milli = cell.silent ? 0 : milli_of(value);
        break;
    case FLAG:
        cell.milli = cJSON_IsTrue(value) ? 1000 : 0;
        break;
    case TOKEN:
        bag_add(w, &cell.bag, intern(w, value->valuestring));
        break;
    case LIST:
        cJSON_ArrayForEach(item, value) bag_add(w, &cell.bag, intern(w, item->valuestring));
        break;
    case SPOTS:
        cell.spots = value;
        break;
    }
    return cell;
}

static Type type_of(const char *text) {
    static const char *const names[] = {"number", "token", "list", "flag"};
    for (int i = 0; i < 4; i++)
        if (!strcmp(names[i], text))
            return (Type[]){NUMBER, TOKEN, LIST, FLAG}[i];
    return SPOTS;
}

void read_facts(World *w, const cJSON *file) {
    const cJSON *plain = cJSON_GetObjectItemCaseSensitive(file, "facts");
    const cJSON *derived = cJSON_GetObjectItemCaseSensitive(file, "derived");
    int total = 1 + cJSON_GetArraySize(plain) + cJSON_GetArraySize(derived);
    w->fact = hold(w, (size_t)total * sizeof *w->fact);
    w->fact[0] = (Fact){.name = "pieces", .type = NUMBER, .combine = "pieces"};
    w->fact[0].on = hold(w, (size_t)w->roles * sizeof(bool));
    memset(w->fact[0].on, true, (size_t)w->roles * sizeof(bool));
    w->facts = 1;
    const cJSON *json, *item;
    cJSON_ArrayForEach(json, plain) {
        Fact *f = &w->fact[w->facts++];
        f->name = text_of(json, "fact", "");
        f->type = type_of(text_of(json, "type", ""));
        f->combine = text_of(json, "combine", "joined");
        f->on = hold(w, (size_t)w->roles * sizeof(bool));
        cJSON_ArrayForEach(item, need(json, "roles")) f->on[find_role(w, item->valuestring)] = true;
        item = cJSON_GetObjectItemCaseSensitive(json, "absent");
        f->has_absent = item != NULL;
        if (item)
            f->absent = read_cell(w, f, item);
    }
    cJSON_ArrayForEach(json, derived) {
        Fact *f = &w->fact[w->facts++];
        *f = (Fact){.name = text_of(json, "fact", ""), .type = NUMBER, .is = need(json, "is")};
        f->on = hold(w, (size_t)w->roles * sizeof(bool));
        f->on[find_role(w, text_of(json, "role", ""))] = true;
    }
}

/* A piece's facts: those stated, else those of `over`, else what absence means. */
Cell *read_cells(World *w, int role, const cJSON *facts, const Cell *over) {
    Cell *cells = hold(w, (size_t)w->facts * sizeof *cells);
    for (int i = 0; i < w->facts; i++) {
        const Fact *f = &w->fact[i];
        if (!f->on[role])
            continue;
        const cJSON *stated = cJSON_GetObjectItemCaseSensitive(facts, f->name);
        if (stated)
            cells[i] = read_cell(w, f, stated);
        else if (over)
            cells[i] = over[i];
        else if (f->has_absent)
            cells[i] = f->absent;
    }
    return cells;
}

static void act(World *w, const cJSON *effect, Cell *cells) {
    int at = find_fact(w, text_of(effect, "fact", ""));
    Cell *cell = &cells[at];
    const cJSON *set = cJSON_GetObjectItemCaseSensitive(effect, "set");
    const char *from = text_of(effect, "set_from", NULL);
    if (set) {
        *cell = read_cell(w, &w->fact[at], set);
        return;
    }
    if (from) {
        *cell = cells[find_fact(w, from)];
        return;
    }
    if (cell->state == UNKNOWN || cell->silent)
        return;
    const cJSON *add = cJSON_GetObjectItemCaseSensitive(effect, "add");
    if (add) {
        cell->milli += milli_of(add);
        return;
    }
    long long product = cell->milli * milli_of(need(effect, "times"));
    cell->milli = (product + (product < 0 ? -500 : 500)) / 1000;
}

static void do_tasks(World *w, Choice *c) {
    for (int p = 0; p < c->pieces; p++) {
        Cell *fresh = hold(w, (size_t)w->facts * sizeof *fresh);
        memcpy(fresh, c->piece[p].cell, (size_t)w->facts * sizeof *fresh);
        c->piece[p].cell = fresh;
        for (int t = 0; t < c->tasks; t++) {
            const Task *task = &w->task[c->task[t]];
            const cJSON *effect;
            if (task->any || c->piece[p].kept)
                cJSON_ArrayForEach(effect, task->effects) act(w, effect, fresh);
        }
    }
}

static void put_number(Cell *out, long long milli) {
    out->state = KNOWN;
    out->milli = milli;
    out->real = (double)milli / 1000.0;
}

static void combine_number(const Fact *f, int at, const Choice *c, Cell *out) {
    bool sum = !strcmp(f->combine, "sum"), power = !strcmp(f->combine, "power");
    bool least = !strcmp(f->combine, "least");
    long long total = 0;
    for (int p = 0; p < c->pieces; p++) {
        const Cell *x = &c->piece[p].cell[at];
        if (power)
            total += x->silent ? 0 : llround(10.0 * pow(10.0, (double)x->milli / 1000.0 / 10.0));
        else if (sum)
            total += x->milli;
        else if (p == 0 || (least ? x->milli < total : x->milli > total))
            total = x->milli;
    }
    if (power) {
        out->power = total;
        out->state = total > 0 ? KNOWN : BLANK;
        if (total > 0)
            out->real = 10.0 * log10((double)total / 10.0);
        if (total > 0)
            out->milli = llround(1000.0 * out->real);
    } else if (sum || c->pieces) {
        put_number(out, total);
    } else {
        out->state = BLANK;
    }
}

static void combine_bag(World *w, const Fact *f, int at, const Choice *c, Cell *out) {
    bool common = !strcmp(f->combine, "common");
    out->state = c->pieces ? KNOWN : BLANK;
    for (int p = 0; p < c->pieces; p++) {
        const Bag *bag = &c->piece[p].cell[at].bag;
        for (int i = 0; i < bag->n; i++) {
            bool everywhere = true;
            for (int q = 0; q < c->pieces; q++)
                everywhere = everywhere && bag_has(&c->piece[q].cell[at].bag, bag->name[i]);
            if (!common || everywhere)
                bag_add(w, &out->bag, bag->name[i]);
        }
    }
}

static void combine_flag(const Fact *f, int at, const Choice *c, Cell *out) {
    bool all = !strcmp(f->combine, "all"), value = all;
    for (int p = 0; p < c->pieces; p++) {
        bool x = c->piece[p].cell[at].milli != 0;
        value = all ? value && x : value || x;
    }
    put_number(out, value ? 1000 : 0);
    if (!c->pieces)
        out->state = BLANK;
}

static void combine(World *w, int at, const Choice *c, Cell *out) {
    const Fact *f = &w->fact[at];
    if (at == 0) {
        put_number(out, 1000LL * c->pieces);
        return;
    }
    for (int p = 0; p < c->pieces; p++)
        if (c->piece[p].cell[at].state == UNKNOWN)
            return;
    switch (f->type) {
    case NUMBER:
        combine_number(f, at, c, out);
        break;
    case TOKEN:
    case LIST:
        combine_bag(w, f, at, c, out);
        break;
    case FLAG:
        combine_flag(f, at, c, out);
        break;
    case SPOTS:
        out->state = KNOWN;
        break;
    }
}

/* Makes the fit-out's facts out of its pieces and tasks. */
void settle(World *w, Choice *c) {
    if (c->tasks)
        do_tasks(w, c);
    c->cell = hold(w, (size_t)w->facts * sizeof *c->cell);
    for (int i = 0; i < w->facts; i++) {
        const Fact *f = &w->fact[i];
        if (!f->on[c->role])
            continue;
        if (!f->is) {
            combine(w, i, c, &c->cell[i]);
            continue;
        }
        double x = 0.0;
        c->cell[i].state = reckon(w, f->is, c, &x);
        if (c->cell[i].state == KNOWN)
            put_number(&c->cell[i], llround(1000.0 * x));
    }
}

void split_term(const World *w, const char *term, int *role, int *fact) {
    const char *dot = strchr(term, '.');
    if (!dot)
        stop(2, "\"%s\" is no term", term);
    *fact = find_fact(w, dot + 1);
    *role = -1;
    for (int i = 0; i < w->roles; i++)
        if (strlen(w->role[i].id) == (size_t)(dot - term) &&
            !strncmp(w->role[i].id, term, (size_t)(dot - term)))
            *role = i;
    if (*fact < 0 || (*role < 0 && strncmp(term, "*.", 2) != 0))
        stop(2, "term \"%s\" names nothing", term);
}

static State reckon_term(const World *w, const char *term, const Choice *c, double *out) {
    int role, fact;
    split_term(w, term, &role, &fact);
    *out = c->cell[fact].real;
    return c->cell[fact].state;
}

static State reckon_many(const World *w, const char *op, const cJSON *list, const Choice *c,
                         double *out) {
    const cJSON *item;
    bool none = true, unknown = false;
    double sum = 0.0;
    cJSON_ArrayForEach(item, list) {
        double x = 0.0;
        State state = reckon(w, item, c, &x);
        unknown = unknown || state == UNKNOWN;
        if (state != KNOWN)
            continue;
        if (none)
            sum = x;
        else if (!strcmp(op, "sum"))
            sum += x;
        else if (!strcmp(op, "product"))
            sum *= x;
        else if (!strcmp(op, "least"))
            sum = x < sum ? x : sum;
        else
            sum = x > sum ? x : sum;
        none = false;
    }
    *out = sum;
    return unknown ? UNKNOWN : none ? BLANK : KNOWN;
}

static State reckon_table(const World *w, const cJSON *table, const Choice *c, double *out) {
    const cJSON *at = need(table, "at"), *gives = need(table, "gives");
    double x = 0.0;
    State state = reckon(w, need(table, "of"), c, &x);
    if (state != KNOWN)
        return state;
    int n = cJSON_GetArraySize(at), i = 0;
    while (i < n && cJSON_GetArrayItem(at, i)->valuedouble < x)
        i++;
    if (i == 0 || i == n) {
        *out = cJSON_GetArrayItem(gives, i == 0 ? 0 : n - 1)->valuedouble;
        return KNOWN;
    }
    double x0 = cJSON_GetArrayItem(at, i - 1)->valuedouble;
    double x1 = cJSON_GetArrayItem(at, i)->valuedouble;
    double y0 = cJSON_GetArrayItem(gives, i - 1)->valuedouble;
    double y1 = cJSON_GetArrayItem(gives, i)->valuedouble;
    *out = y0 + (y1 - y0) * (x - x0) / (x1 - x0);
    return KNOWN;
}

static State reckon_pick(const World *w, const cJSON *pick, const Choice *c, double *out) {
    int role, fact;
    split_term(w, text_of(pick, "of", ""), &role, &fact);
    const Cell *cell = &c->cell[fact];
    for (int i = 0; cell->state == KNOWN && i < cell->bag.n; i++) {
        const char *token = w->name[cell->bag.name[i]];
        const cJSON *y = cJSON_GetObjectItemCaseSensitive(need(pick, "from"), token);
        double value = (y ? y : need(pick, "else"))->valuedouble;
        *out = i == 0 || value < *out ? value : *out;
    }
    return cell->state;
}

static State reckon_power(const World *w, const cJSON *pair, const Choice *c, double *out) {
    double x = 0.0, e = cJSON_GetArrayItem(pair, 1)->valuedouble;
    State state = reckon(w, cJSON_GetArrayItem(pair, 0), c, &x);
    if (state == KNOWN && e != floor(e) && x <= 0.0)
        return UNKNOWN;
    *out = pow(x, e);
    return state;
}

State reckon(const World *w, const cJSON *is, const Choice *c, double *out) {
    State state;
    if (cJSON_IsNumber(is)) {
        *out = is->valuedouble;
        return KNOWN;
    }
    if (cJSON_IsString(is))
        return reckon_term(w, is->valuestring, c, out);
    const cJSON *op = is->child;
    while (op && !strcmp(op->string, "note"))
        op = op->next;
    if (!op)
        stop(2, "an empty expression");
    if (!strcmp(op->string, "table")) {
        state = reckon_table(w, op, c, out);
    } else if (!strcmp(op->string, "pick")) {
        state = reckon_pick(w, op, c, out);
    } else if (!strcmp(op->string, "power")) {
        state = reckon_power(w, op, c, out);
    } else if (!strcmp(op->string, "log2")) {
        double x = 0.0;
        state = reckon(w, op, c, &x);
        if (state == KNOWN && x <= 0.0)
            return UNKNOWN;
        *out = log2(x);
    } else {
        state = reckon_many(w, op->string, op, c, out);
    }
    if (state == KNOWN && (!isfinite(*out) || fabs(*out) > beyond))
        return UNKNOWN;
    return state;
}

long long rule_number(const Cell *cell) { return cell->state == KNOWN ? cell->milli : 0; }
