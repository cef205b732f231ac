/* Prints the work: what is done, in its order, and what a judge of it needs to know. */
#include "work.h"

#include <stdio.h>
#include <string.h>

static void print_text(const char *name, const char *text) {
    if (text)
        printf(",\"%s\":\"%s\"", name, text);
    else
        printf(",\"%s\":null", name);
}

static void print_item(const Work *k, const Item *item) {
    printf("\"role\":\"%s\",\"part\":\"%s\",\"count\":%d", k->w->role[item->role].id, item->part,
           item->count);
}

static bool smaller(const Item *a, const Item *b) {
    return a->role != b->role ? a->role < b->role : strcmp(a->part, b->part) < 0;
}

/* Of what leaves with the take-out the next behind the last one told; NULL: there is none. */
static const Item *next_with(const Work *k, int deed, const Item *last) {
    const Item *next = NULL;
    for (int i = 0; i < k->items; i++) {
        const Item *item = &k->item[i];
        if (item->leaves && leaves_by(k, item) == deed && (!last || smaller(last, item)) &&
            (!next || smaller(item, next)))
            next = item;
    }
    return next;
}

static void print_with(const Work *k, int deed) {
    bool first = true;
    printf(",\"with\":[");
    for (const Item *item = NULL; (item = next_with(k, deed, item)) != NULL; first = false) {
        printf("%s{", first ? "" : ",");
        print_item(k, item);
        putchar('}');
    }
    putchar(']');
}

static void print_step_of(const Work *k, const Chore *s) {
    print_text("step", s->id);
    print_text("task", s->task < 0 ? NULL : k->w->task[s->task].id);
    print_text("charge", s->charge < 0 ? NULL : k->w->charge[s->charge].id);
    print_text("role", NULL);
    print_text("part", NULL);
    printf(",\"count\":null,\"with\":[],\"alone_minutes\":%lld", s->alone);
}

/* ---- reasons ---- */

static void print_reason(const char *name, const char *value, bool *first) {
    printf("%s{\"%s\":\"%s\"}", *first ? "" : ",", name, value);
    *first = false;
}

static void print_reasons_of_lift(const Work *k, const Item *item) {
    bool first = true;
    for (int r = 0; r < k->w->roles; r++)
        if (carrier_lifts(k, item, r))
            print_reason("carried-by", k->w->role[r].id, &first);
    for (int r = 0; r < k->w->roles; r++)
        if (cover_lifts(k, item, r))
            print_reason("covers", k->w->role[r].id, &first);
    for (int i = 0; i < k->steps; i++)
        if (step_names(k, i, "lifts", item->role))
            print_reason("step", k->step[i].id, &first);
}

static void print_because(const Work *k, const Deed *d) {
    bool first = true;
    const Chore *s = d->does == STEP ? &k->step[d->step] : NULL;
    printf(",\"because\":[");
    if (d->does == TAKE_OFF || d->does == PUT_BACK)
        print_reasons_of_lift(k, &k->item[d->item]);
    else if (!s)
        print_reason("changes", k->w->role[k->item[d->item].role].id, &first);
    else if (s->task >= 0)
        print_reason("task", k->w->task[s->task].id, &first);
    else if (s->charge >= 0)
        print_reason("charge", k->w->charge[s->charge].id, &first);
    else
        printf("{\"always\":true}");
    putchar(']');
}

static void print_deed(const Work *k, int number) {
    static const char *const names[] = {"take-out", "take-off", "lay-out",
                                        "put-back", "fit",      "step"};
    int at = k->order[number];
    const Deed *d = &k->deed[at];
    printf("%s{\"number\":%d", number ? "," : "", number + 1);
    print_text("stage", stage_name(k, d->stage));
    print_text("does", names[d->does]);
    printf(",\"minutes\":%lld,\"billed\":%s", d->minutes, d->billed ? "true" : "false");
    if (d->does == STEP) {
        print_step_of(k, &k->step[d->step]);
    } else {
        print_text("step", NULL);
        putchar(',');
        print_item(k, &k->item[d->item]);
        if (d->does == TAKE_OUT)
            print_with(k, at);
        else
            printf(",\"with\":[]");
        printf(",\"alone_minutes\":0");
    }
    print_because(k, d);
    putchar('}');
}

/* Which covers hold, today and then, which steps of the file are there, which charges are due. */
static void print_truths(const Work *k) {
    bool first = true;
    printf(",\"covers\":[");
    for (int i = 0; i < k->covers; i++)
        printf("%s{\"today\":%s,\"then\":%s}", i ? "," : "", k->cover[i].o ? "true" : "false",
               k->cover[i].m ? "true" : "false");
    printf("],\"there\":[");
    for (int i = 0; i < k->steps; i++) {
        if (!k->step[i].there || !k->step[i].id)
            continue;
        printf("%s\"%s\"", first ? "" : ",", k->step[i].id);
        first = false;
    }
    printf("],\"due\":[");
    first = true;
    for (int i = 0; i < k->w->charges; i++) {
        if (!charge_is_due(k, i))
            continue;
        printf("%s\"%s\"", first ? "" : ",", k->w->charge[i].id);
        first = false;
    }
    putchar(']');
}

static void print_minutes(const Work *k) {
    long long billed = 0, beside = 0, alone = 0;
    for (int i = 0; i < k->ordered; i++) {
        const Deed *d = &k->deed[k->order[i]];
        *(d->billed ? &billed : &beside) += d->minutes;
        if (d->does == STEP)
            alone += k->step[d->step].alone;
    }
    printf(",\"minutes\":{\"billed\":%lld,\"beside\":%lld,\"alone\":%lld}", billed, beside, alone);
}

void print_work(Work *k) {
    printf("{\"circular\":%s", k->circular ? "true" : "false");
    print_truths(k);
    if (!k->circular) {
        printf(",\"work\":[");
        for (int i = 0; i < k->ordered; i++)
            print_deed(k, i);
        putchar(']');
        print_minutes(k);
        print_told(k);
    }
    printf("}\n");
}
