/* Prints the three options with what is told of each. */
#include "options.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static void print_pair(const Offer *o, long long cost, long long points) {
    printf("\"cost\":");
    money_print(o->w, cost);
    printf(",\"points\":");
    points_print(points);
}

/* ---- the curve and the complaints ---- */

static void print_steps(const Offer *o) {
    World *w = o->w;
    Machine m = {hold(w, (size_t)w->roles * sizeof *m.at)};
    printf(",\"curve\":{\"to\":");
    money_print(w, o->to);
    printf(",\"steps\":[");
    for (size_t i = 0; i < o->steps.n; i++) {
        printf("%s{", i ? "," : "");
        print_pair(o, o->steps.at[i].cost, o->steps.at[i].points);
        set_machine(w, o->steps.at[i].number, m.at);
        if (w->quiet.scored)
            printf(",\"loudness_sone\":%.9f,\"level_dba\":%.9f", sones(w, &m),
                   level_at_seat(w, &m));
        int which = 0;
        for (int k = 0; k < o->options; k++)
            if (o->option[k].found.number == o->steps.at[i].number)
                which = k + 1;
        if (which)
            printf(",\"option\":%d}", which);
        else
            printf(",\"option\":null}");
    }
    printf("]}");
}

static void print_knee(const Offer *o) {
    const Found *knee = NULL;
    for (size_t i = 0; o->options && i <= o->best; i++)
        if (!knee || bend_of(o, &o->steps.at[i]) > bend_of(o, knee))
            knee = &o->steps.at[i];
    printf(",\"knee\":");
    if (!knee) {
        printf("null");
        return;
    }
    printf("{\"bends\":%s,", bend_of(o, knee) > 0 ? "true" : "false");
    print_pair(o, knee->cost, knee->points);
    putchar('}');
}

/* The least cost of the bundles that end it; false where nothing does. */
static bool ends_at(const Offer *o, int complaint, long long *least) {
    bool any = false;
    for (size_t i = 0; i < o->h->n; i++) {
        const Found *f = &o->h->found[i];
        if (f->points < 0 || !(o->ended[f->number] >> complaint & 1))
            continue;
        *least = !any || f->cost < *least ? f->cost : *least;
        any = true;
    }
    return any;
}

static void print_complaints(const Offer *o) {
    const Complaints *list = &o->complaints;
    printf(",\"complaints\":[");
    for (int i = 0; i < list->n; i++) {
        const Complaint *c = &list->at[i];
        long long least = 0;
        bool any = ends_at(o, i, &least), affordable = any && least <= o->w->budget;
        printf("%s{\"complaint\":\"%s\",\"use\":%s%s%s,\"shows\":%s", i ? "," : "", c->id,
               c->use ? "\"" : "", c->use ? c->use : "null", c->use ? "\"" : "",
               c->shows ? "true" : "false");
        if (c->shows)
            printf(",\"ended_within_budget\":%s", affordable ? "true" : "false");
        printf(",\"costs_at_least\":");
        if (c->shows && any && !affordable)
            money_print(o->w, least);
        else
            printf("null");
        putchar('}');
    }
    putchar(']');
}

/* ---- one option ---- */

static void print_ends(const Offer *o, const Option *p) {
    bool first = true;
    printf(",\"ends\":[");
    for (int i = 0; i < o->complaints.n; i++) {
        if (!o->complaints.at[i].shows || !(o->ended[p->found.number] >> i & 1))
            continue;
        printf("%s\"%s\"", first ? "" : ",", o->complaints.at[i].id);
        first = false;
    }
    putchar(']');
}

static void print_rate(const char *luck, const Rate *r) {
    printf(",\"%sratio\":%.12g,\"%slow\":%.12g,\"%shigh\":%.12g", luck, r->ratio, luck, r->low,
           luck, r->high);
}

static bool has_luck(const World *w, const Machine *m) {
    for (int r = 0; r < w->roles; r++)
        for (int i = 0; i < m->at[r]->tasks; i++)
            if (w->task[m->at[r]->task[i]].chance)
                return true;
    return false;
}

static void print_promised(const Offer *o, const Option *p) {
    World *w = o->w;
    Machine sure = without_chance(w, &p->m);
    printf(",\"chance\":%s,\"promised\":[", has_luck(w, &p->m) ? "true" : "false");
    for (int u = 0; u < w->uses; u++) {
        const cJSON *wish = cJSON_GetArrayItem(get(get(w->job, "wishes"), "uses"), u);
        Rate r = rate_of(w, u, &o->complaints.today, &sure);
        Rate lucky = rate_of(w, u, &o->complaints.today, &p->m);
        printf("%s{\"use\":\"%s\",\"known\":%s", u ? "," : "", w->use[u].id,
               r.known && lucky.known ? "true" : "false");
        if (get(wish, "rate_now"))
            printf(",\"rate_now\":%.12g", get(wish, "rate_now")->valuedouble);
        print_rate("", &r);
        print_rate("chance_", &lucky);
        putchar('}');
    }
    putchar(']');
}

static long long errands_of(const World *w, const Machine *m) {
    long long minutes = 0;
    for (int s = 0; s < w->sellers; s++) {
        bool bought = false;
        for (int r = 0; r < w->roles; r++)
            for (int i = 0; i < m->at[r]->lines; i++)
                bought = bought || m->at[r]->line[i].listing->seller == s;
        minutes += bought ? w->seller[s].minutes : 0;
    }
    return minutes;
}

static void print_days(const Offer *o, const Option *p) {
    long long minutes, a_day = number_of(o->paper, "bench_minutes_a_day", 240);
    long long days = number_of(o->paper, "test_days", 1);
    cost_of(o->w, &p->m, &minutes);
    minutes -= errands_of(o->w, &p->m);
    days += (minutes + a_day - 1) / a_day;
    if (!swaps_of(o->w, p->m.at) && !tasks_of(o->w, p->m.at))
        days = 0;
    printf(",\"days_without\":%lld", days);
}

static void print_next(const Offer *o, const Option *p) {
    const Found *next = NULL, *there = &o->steps.at[0];
    long long hundred = 100;
    for (int i = 0; i < o->w->currency_digits; i++)
        hundred *= 10;
    for (size_t i = 0; i < o->steps.n; i++) {
        const Found *f = &o->steps.at[i];
        if (!next && f->points > p->found.points && f->cost > p->found.cost)
            next = f;
        if (f->cost <= p->found.cost + hundred)
            there = f;
    }
    printf(",\"next_step\":");
    if (next) {
        putchar('{');
        print_pair(o, next->cost, next->points);
        printf(",\"more_cost\":");
        money_print(o->w, next->cost - p->found.cost);
        printf(",\"more_points\":");
        points_print(next->points - p->found.points);
        putchar('}');
    } else {
        printf("null");
    }
    printf(",\"next_hundred\":{");
    print_pair(o, there->cost, there->points);
    printf(",\"more_points\":");
    points_print(there->points - p->found.points);
    putchar('}');
}

/* ---- what the paper says ---- */

static bool bought_with(const World *w, const Machine *m, const cJSON *asked) {
    const cJSON *warranty = get(asked, "warranty_most"), *returns = get(asked, "return_most");
    for (int r = 0; r < w->roles; r++)
        for (int i = 0; i < m->at[r]->lines; i++) {
            const Listing *l = m->at[r]->line[i].listing;
            bool given = l->seller == w->sellers - 1;
            if (get(asked, "given")
                    ? given
                    : !given &&
                          (warranty
                               ? l->warranty_months <= number_of(asked, "warranty_most", 0)
                               : returns && l->return_days <= number_of(asked, "return_most", 0)))
                return true;
        }
    return false;
}

static bool ask_holds(World *w, const Machine *m, const cJSON *asked) {
    if (get(asked, "warranty_most") || get(asked, "return_most") || get(asked, "given"))
        return bought_with(w, m, asked);
    return ask(w, read_cond(w, asked), m) == YES;
}

static void print_asks(const Offer *o, const Option *p) {
    const cJSON *json, *asked;
    bool first = true;
    printf(",\"asks\":[");
    cJSON_ArrayForEach(json, get(o->paper, "asks")) {
        bool holds = false;
        cJSON_ArrayForEach(asked, get(json, "any")) holds = holds || ask_holds(o->w, &p->m, asked);
        if (!holds)
            continue;
        printf("%s\"%s\"", first ? "" : ",", text_of(json, "ask", ""));
        first = false;
    }
    putchar(']');
}

static void print_hazards(const Offer *o, const Option *p) {
    const cJSON *json, *cond;
    bool first = true;
    printf(",\"hazards\":[");
    cJSON_ArrayForEach(json, get(o->hazards, "hazards")) {
        bool told = false;
        cJSON_ArrayForEach(cond, get(json, "any")) told =
            told || ask(o->w, read_cond(o->w, cond), &p->m) != NO;
        if (!told)
            continue;
        printf("%s\"%s\"", first ? "" : ",", text_of(json, "hazard", ""));
        first = false;
    }
    putchar(']');
}

/* ---- parts given up ---- */

/* Pieces that come in, whoever they are from: an old piece of the part is another thing. */
static int added(const Machine *m, int role, const char *part) {
    int n = 0;
    for (int i = 0; i < m->at[role]->pieces; i++)
        n += !m->at[role]->piece[i].kept && !strcmp(m->at[role]->piece[i].id, part);
    return n;
}

/* Pieces bought for the one beyond those that come in with the other; what is given was not
 * bought. */
static void print_given_up(const Offer *o, const Option *from, const Option *to) {
    const World *w = o->w;
    long long sum = 0;
    bool first = true;
    printf("{\"to\":\"%s\",\"parts\":[", to->option);
    for (int r = 0; r < w->roles; r++)
        for (int i = 0; i < from->m.at[r]->lines; i++) {
            const Line *line = &from->m.at[r]->line[i];
            const char *part = w->part[line->listing->part].id;
            int count = line->count - added(&to->m, r, part);
            if (count <= 0 || line->listing->seller == w->sellers - 1)
                continue;
            printf("%s{\"part\":\"%s\",\"count\":%d,\"price\":", first ? "" : ",", part, count);
            money_print(w, line->listing->price * count);
            putchar('}');
            sum += line->listing->price * count;
            first = false;
        }
    printf("],\"price\":");
    money_print(w, sum);
    putchar('}');
}

static void print_all_given_up(const Offer *o, const Option *from) {
    bool first = true;
    printf(",\"given_up\":[");
    for (int i = 0; i < o->options; i++) {
        if (o->option[i].found.cost <= from->found.cost)
            continue;
        printf("%s", first ? "" : ",");
        print_given_up(o, from, &o->option[i]);
        first = false;
    }
    putchar(']');
}

static void print_option(Offer *o, const Option *p) {
    printf("{\"option\":\"%s\",\"rule\":\"%s\",\"complaint\":", p->option, p->rule);
    if (p->complaint)
        printf("\"%s\"", p->complaint);
    else
        printf("null");
    printf(",\"bundle\":{");
    print_bundle(o->h, &p->found);
    putchar('}');
    print_ends(o, p);
    print_promised(o, p);
    print_days(o, p);
    print_next(o, p);
    print_asks(o, p);
    print_hazards(o, p);
    print_all_given_up(o, p);
    putchar('}');
}

static void print_nesting(Offer *o) {
    printf(",\"nesting\":");
    if (!o->nests) {
        printf("null");
        return;
    }
    printf("{\"points_lost\":");
    points_print(o->lost);
    printf(",\"taken\":%s,\"bundle\":{", o->takes_place ? "true" : "false");
    print_bundle(o->h, &o->nested);
    printf("}}");
}

/* The last day on which it is valid; no date, no such day. */
static void print_end(const Offer *o) {
    static const int length[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    const char *date = text_of(o->w->job, "date", NULL);
    int year, month, day;
    printf(",\"valid_until\":");
    if (!date) {
        printf("null");
        return;
    }
    year = (int)strtol(date, NULL, 10);
    month = (int)strtol(date + 5, NULL, 10);
    day = (int)strtol(date + 8, NULL, 10);
    for (long long n = number_of(o->paper, "valid_days", 14); n > 0; n--) {
        bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
        if (++day <= length[month - 1] + (month == 2 && leap))
            continue;
        day = 1;
        month = month % 12 + 1;
        year += month == 1;
    }
    printf("\"%04d-%02d-%02d\"", year, month, day);
}

void print_offer(Offer *o) {
    printf("{\"status\":\"%s\"", o->options ? "optimal" : "nothing-fits");
    printf(",\"combinations\":%llu,\"budget\":", o->h->combinations);
    money_print(o->w, o->w->budget);
    print_end(o);
    print_steps(o);
    print_knee(o);
    print_complaints(o);
    printf(",\"options\":[");
    for (int i = 0; i < o->options; i++) {
        printf("%s", i ? "," : "");
        print_option(o, &o->option[i]);
    }
    putchar(']');
    print_nesting(o);
    printf("}\n");
}
