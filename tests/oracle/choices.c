/*
 * Choices: every fit-out a role can have, with every set of tasks offered on it,
 * less those that wishes and musts rule out or that cannot serve.
 */
#include "world.h"

#include <stdlib.h>
#include <string.h>

static const cJSON *get(const cJSON *object, const char *name) {
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static int by_text(const void *a, const void *b) {
    return strcmp(*(char *const *)a, *(char *const *)b);
}

char *key_of(World *w, const Choice *c) {
    char **entry = hold(w, (size_t)c->pieces * sizeof *entry);
    size_t length = 1;
    for (int i = 0; i < c->pieces; i++) {
        entry[i] = hold(w, strlen(c->piece[i].id) + 3);
        strcpy(entry[i], c->piece[i].kept ? "" : "+");
        strcat(entry[i], c->piece[i].id);
        length += strlen(entry[i]) + 1;
    }
    qsort(entry, (size_t)c->pieces, sizeof *entry, by_text);
    for (int i = 0; i < c->tasks; i++)
        length += strlen(w->task[c->task[i]].id) + 2;
    char *key = hold(w, length);
    for (int i = 0; i < c->pieces; i++)
        strcat(strcat(key, entry[i]), "\n");
    for (int i = 0; i < c->tasks; i++)
        strcat(strcat(strcat(key, "\t"), w->task[c->task[i]].id), "\n");
    return key;
}

static char *sellers_of(World *w, const Choice *c) {
    size_t length = 1;
    for (int i = 0; i < c->lines; i++)
        length += strlen(w->seller[c->line[i].listing->seller].id) + 1;
    char *from = hold(w, length);
    for (int i = 0; i < c->lines; i++)
        strcat(strcat(from, w->seller[c->line[i].listing->seller].id), "\n");
    return from;
}

Choice fit_out(World *w, int role, const int *kept, const Line *line, int lines) {
    const Role *r = &w->role[role];
    Choice c = {.role = role, .lines = lines, .adds = lines > 0, .changed = lines > 0};
    int total = 0;
    for (int i = 0; i < r->presents; i++)
        total += kept[i];
    for (int i = 0; i < lines; i++)
        total += line[i].count;
    c.piece = hold(w, (size_t)total * sizeof *c.piece);
    c.kept = hold(w, (size_t)r->presents * sizeof *c.kept);
    for (int i = 0; i < r->presents; i++) {
        c.kept[i] = kept[i];
        c.changed = c.changed || kept[i] < r->present[i].count;
        for (int k = 0; k < kept[i]; k++)
            c.piece[c.pieces++] = (Piece){r->present[i].id, true, r->present[i].cell};
    }
    for (int i = 0; i < lines; i++) {
        const Part *part = &w->part[line[i].listing->part];
        c.line[i] = line[i];
        for (int k = 0; k < line[i].count; k++)
            c.piece[c.pieces++] = (Piece){part->id, false, part->cell};
    }
    return c;
}

static bool keeps(const World *w, const Choice *c, const char *part) {
    const Role *r = &w->role[c->role];
    for (int i = 0; i < r->presents; i++)
        if (c->kept[i] && !strcmp(r->present[i].id, part))
            return true;
    return false;
}

static bool keeps_all(const World *w, const Choice *c, const char *part) {
    const Role *r = &w->role[c->role];
    for (int i = 0; i < r->presents; i++)
        if (c->kept[i] < r->present[i].count && !strcmp(r->present[i].id, part))
            return false;
    return true;
}

static bool uses_given(const World *w, const Choice *c) {
    const cJSON *json, *string;
    cJSON_ArrayForEach(json, get(w->job, "given")) {
        bool must = false, used = false;
        const char *id = text_of(json, "part", "");
        cJSON_ArrayForEach(string, get(json, "strings")) must =
            must || !strcmp(string->valuestring, "must-use");
        if (!must || w->part[find_part(w, id)].role != c->role)
            continue;
        for (int i = 0; i < c->lines; i++)
            used = used || (c->line[i].listing->must_use &&
                            !strcmp(w->part[c->line[i].listing->part].id, id));
        if (!used)
            return false;
    }
    return true;
}

/* Musts about parts, and the wishes to keep and to replace. */
static bool wished(const World *w, const Choice *c) {
    const cJSON *wishes = get(w->job, "wishes"), *item;
    const char *role = w->role[c->role].id;
    cJSON_ArrayForEach(item,
                       get(wishes, "keep")) if ((!strcmp(item->valuestring, role) && c->changed) ||
                                                !keeps_all(w, c, item->valuestring)) return false;
    cJSON_ArrayForEach(item,
                       get(wishes, "replace")) if ((!strcmp(item->valuestring, role) &&
                                                    c->pieces > 0 && c->piece[0].kept) ||
                                                   keeps(w, c, item->valuestring)) return false;
    cJSON_ArrayForEach(
        item, get(w->job, "musts")) if (get(item, "replace") &&
                                        keeps(w, c, text_of(item, "replace", ""))) return false;
    return uses_given(w, c);
}

static bool does(const World *w, const Choice *c, const char *task) {
    for (int i = 0; i < c->tasks; i++)
        if (!strcmp(w->task[c->task[i]].id, task))
            return true;
    return false;
}

static bool does_its_musts(const World *w, const Choice *c) {
    const cJSON *item;
    cJSON_ArrayForEach(item, get(w->job, "musts")) {
        const char *task = text_of(item, "do", NULL);
        if (task && w->task[find_task(w, task)].role == c->role && !does(w, c, task))
            return false;
    }
    return true;
}

static bool offered(const World *w, const Task *t, const Choice *bare, const Machine *m) {
    bool stays = bare->pieces > 0 && (t->any || bare->piece[0].kept);
    if (t->role != bare->role || !stays)
        return false;
    for (int i = 0; i < t->needs.n; i++)
        if (ask(w, &t->needs.at[i], m) != YES)
            return false;
    return true;
}

static void add_choice(World *w, Choice c, void *about) {
    Role *r = &w->role[c.role];
    (void)about;
    if (!does_its_musts(w, &c) || !can_serve(w, &c))
        return;
    price_choice(w, &c);
    c.key = key_of(w, &c);
    c.from = sellers_of(w, &c);
    r->choice = grow(w, r->choice, r->choices, &r->room, sizeof *r->choice);
    r->choice[r->choices++] = c;
}

/* Walks the tasks in id order, doing each or leaving it. */
static void choose_tasks(World *w, const Choice *bare, const bool *may, bool *doing, int at,
                         Sink sink) {
    if (at < w->tasks) {
        choose_tasks(w, bare, may, doing, at + 1, sink);
        for (int i = 0; i < at; i++)
            if (doing[i] && w->task[i].family && w->task[at].family &&
                !strcmp(w->task[i].family, w->task[at].family))
                return;
        doing[at] = may[at];
        if (may[at])
            choose_tasks(w, bare, may, doing, at + 1, sink);
        doing[at] = false;
        return;
    }
    Choice c = *bare;
    c.task = hold(w, (size_t)w->tasks * sizeof *c.task);
    c.piece = hold(w, (size_t)c.pieces * sizeof *c.piece);
    if (c.pieces)
        memcpy(c.piece, bare->piece, (size_t)c.pieces * sizeof *c.piece);
    for (int i = 0; i < w->tasks; i++)
        if (doing[i])
            c.task[c.tasks++] = i;
    settle(w, &c);
    sink.take(w, c, sink.about);
}

void each_task_set(World *w, const Choice *bare, Sink sink) {
    const Choice **at = hold(w, (size_t)w->roles * sizeof *at);
    bool *may = hold(w, (size_t)w->tasks * sizeof *may);
    bool *doing = hold(w, (size_t)w->tasks * sizeof *doing);
    at[bare->role] = bare;
    Machine alone = {at};
    for (int i = 0; i < w->tasks; i++)
        may[i] = offered(w, &w->task[i], bare, &alone);
    choose_tasks(w, bare, may, doing, 0, sink);
}

static void add_fit_out(World *w, int role, const int *kept, const Line *line, int lines) {
    Role *r = &w->role[role];
    Choice bare = fit_out(w, role, kept, line, lines);
    if (bare.changed && (bare.pieces < r->least || bare.pieces > r->most))
        return;
    if (!wished(w, &bare))
        return;
    settle(w, &bare);
    each_task_set(w, &bare, (Sink){add_choice, NULL});
}

static bool in_order(const World *w, const Line *a, const Line *b) {
    return strcmp(w->part[a->listing->part].id, w->part[b->listing->part].id) < 0;
}

static void choose_new(World *w, int role, const int *kept, Line *line, int lines) {
    const Role *r = &w->role[role];
    add_fit_out(w, role, kept, line, lines);
    if (lines == r->kinds || lines == 2)
        return;
    for (int i = 0; i < w->listings; i++) {
        const Listing *l = &w->listing[i];
        if (w->part[l->part].role != role)
            continue;
        for (int n = 1; n <= r->most && n <= l->stock; n++) {
            line[lines] = (Line){l, n};
            if (r->count[n] && (lines == 0 || in_order(w, &line[0], &line[1])))
                choose_new(w, role, kept, line, lines + 1);
        }
    }
}

static void add_new(World *w, int role, const int *kept, void *about) {
    Line line[2];
    (void)about;
    choose_new(w, role, kept, line, 0);
}

void each_kept(World *w, int role, int *kept, int at, Stay stay) {
    const Role *r = &w->role[role];
    if (at == r->presents) {
        stay.take(w, role, kept, stay.about);
        return;
    }
    for (int n = 0; n <= r->present[at].count; n++) {
        bool part = r->whole &&
                    (at == 0 ? n != 0 && n != r->present[0].count
                             : (n == 0) != (kept[0] == 0) || (n != 0 && n != r->present[at].count));
        kept[at] = n;
        if (!part)
            each_kept(w, role, kept, at + 1, stay);
    }
}

static void make_today(World *w, int role) {
    Role *r = &w->role[role];
    int *all = hold(w, (size_t)r->presents * sizeof *all);
    for (int i = 0; i < r->presents; i++)
        all[i] = r->present[i].count;
    r->today = hold(w, sizeof *r->today);
    *r->today = fit_out(w, role, all, NULL, 0);
    settle(w, r->today);
    if (!can_serve(w, r->today))
        stop(2, "the present machine cannot serve: role %s", r->id);
}

void make_todays(World *w) {
    for (int i = 0; i < w->roles; i++)
        make_today(w, i);
    calibrate(w);
}

void make_choices(World *w) {
    make_todays(w);
    for (int i = 0; i < w->roles; i++) {
        int *kept = hold(w, (size_t)w->role[i].presents * sizeof *kept);
        each_kept(w, i, kept, 0, (Stay){add_new, NULL});
    }
}
