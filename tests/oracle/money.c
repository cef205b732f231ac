/*
 * Money: what one choice costs by itself, and what the bill of a whole machine
 * comes to with its charges, deliveries and tax.
 */
#include "world.h"

static long long tax_on(const World *w, long long amount) {
    long long product = amount * w->tax, whole = product / 100000, rest = product % 100000;
    if (rest > 50000 || (rest == 50000 && (!w->tax_even || whole % 2 == 1)))
        whole++;
    return whole;
}

/* An amount on the bill, with its tax when each line is taxed by itself. */
long long with_tax(const World *w, long long amount) {
    return w->tax_without && !w->tax_invoice ? amount + tax_on(w, amount) : amount;
}

long long wages(const World *w, long long minutes) { return (2 * minutes * w->rate + 60) / 120; }

void price_choice(const World *w, Choice *c) {
    const Role *r = &w->role[c->role];
    long long bill = 0, labour = 0;
    for (int i = 0; i < c->lines; i++)
        bill += with_tax(w, c->line[i].listing->price * c->line[i].count);
    for (int i = 0; i < r->presents; i++)
        bill -= r->present[i].offer * (r->present[i].count - c->kept[i]);
    bill = bill < 0 ? 0 : bill;
    if (c->changed) {
        labour += with_tax(w, wages(w, r->minutes));
        c->minutes += r->minutes;
    }
    for (int i = 0; i < c->tasks; i++) {
        const Task *t = &w->task[c->task[i]];
        labour += with_tax(w, t->price) + with_tax(w, wages(w, t->minutes));
        c->minutes += t->minutes;
    }
    c->money = bill + labour;
}

static bool is_due(const World *w, const Charge *charge, const Machine *m) {
    for (int i = 0; i < charge->any.n; i++)
        if (ask(w, &charge->any.at[i], m) != NO)
            return true;
    return false;
}

static long long delivery(const World *w, int seller, const Machine *m, long long *minutes) {
    const Seller *s = &w->seller[seller];
    long long goods = 0;
    bool bought = false;
    for (int r = 0; r < w->roles; r++)
        for (int i = 0; i < m->at[r]->lines; i++) {
            const Line *line = &m->at[r]->line[i];
            if (line->listing->seller != seller)
                continue;
            goods += line->listing->price * line->count;
            bought = true;
        }
    if (!bought)
        return 0;
    *minutes += s->minutes;
    return s->has_free && goods >= s->free_from ? 0 : with_tax(w, s->delivery);
}

long long cost_of(const World *w, const Machine *m, long long *minutes) {
    long long bill = 0;
    *minutes = 0;
    for (int r = 0; r < w->roles; r++) {
        bill += m->at[r]->money;
        *minutes += m->at[r]->minutes;
    }
    for (int i = 0; i < w->charges; i++)
        if (is_due(w, &w->charge[i], m)) {
            bill += with_tax(w, w->charge[i].amount) + with_tax(w, wages(w, w->charge[i].minutes));
            *minutes += w->charge[i].minutes;
        }
    for (int s = 0; s < w->sellers; s++)
        bill += delivery(w, s, m, minutes);
    return w->tax_without && w->tax_invoice ? bill + tax_on(w, bill) : bill;
}
