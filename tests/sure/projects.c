/*
 * projects FOLDER paper | SEED: a choice among projects under a budget, as a job in our own
 * formats: each project is a role that is empty today and may hold one part; what it is worth by
 * each criterion is a fact of the part.
 *
 * paper: six projects, two criteria. Constructed, so that the sets by the definitions of Liesio,
 * Mild & Salo (European Journal of Operational Research 181 (2007) 1488-1505) can be found by hand.
 * SEED: 6 to 14 random projects, 2 to 4 criteria, small numbers, so that many bundles are equal.
 */
#include <errno.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { PROJECTS_MOST = 14, CRITERIA_MOST = 4 };

typedef struct Problem {
    int projects, criteria, budget, rooms; /* rooms: how many at once; 0: any number */
    int cost[PROJECTS_MOST], worth[PROJECTS_MOST][CRITERIA_MOST];
    const char *source;
} Problem;

static const Problem paper = {6,
                              2,
                              11,
                              0,
                              {3, 4, 4, 4, 4, 4},
                              {{8, 8}, {4, 9}, {5, 6}, {9, 4}, {6, 3}, {5, 4}},
                              "constructed; definitions of Liesio, Mild & Salo 2007"};

static uint64_t state;

static int draw(int below) {
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return (int)((state >> 11) % (uint64_t)below);
}

static Problem draw_problem(uint64_t seed) {
    Problem p = {.source = "drawn at random"};
    state = seed * UINT64_C(0x9E3779B97F4A7C15) + 88172645463325252u;
    for (int i = 0; i < 10; i++)
        draw(2);
    p.projects = 6 + draw(PROJECTS_MOST - 5);
    p.criteria = 2 + draw(CRITERIA_MOST - 1);
    int most = draw(3) == 0 ? 4 : 30, all = 0;
    for (int i = 0; i < p.projects; i++) {
        p.cost[i] = 1 + draw(most);
        all += p.cost[i];
        for (int c = 0; c < p.criteria; c++)
            p.worth[i][c] = draw(most + 1);
    }
    p.budget = all * (20 + draw(50)) / 100;
    p.rooms = draw(3) == 0 ? 2 + draw(p.projects / 2) : 0;
    return p;
}

static FILE *create(const char *folder, const char *name) {
    char path[4096];
    int length = snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *f = length < (int)sizeof path ? fopen(path, "w") : NULL;
    if (f == NULL) {
        fprintf(stderr, "projects: %s/%s: %s\n", folder, name, strerror(errno));
        exit(2);
    }
    return f;
}

static void finish(FILE *f) {
    if (fclose(f) != 0) {
        perror("projects");
        exit(2);
    }
}

static void write_text(const char *folder, const char *name, const char *text) {
    FILE *f = create(folder, name);
    fputs(text, f);
    finish(f);
}

static void write_roles(const char *folder, const Problem *p) {
    FILE *f = create(folder, "roles.json");
    fputs("{\"schema\":1,\"roles\":[", f);
    for (int i = 0; i < p->projects; i++)
        fprintf(f, "%s{\"role\":\"project-%c\",\"name\":\"Project %c\",\"least\":0,\"most\":1}",
                i ? "," : "", 'a' + i, 'a' + i);
    fputs("]}\n", f);
    finish(f);
}

static void write_facts(const char *folder, const Problem *p) {
    FILE *f = create(folder, "facts.json");
    fputs("{\"schema\":1,\"facts\":[", f);
    for (int c = 0; c < p->criteria; c++) {
        fprintf(f,
                "%s{\"fact\":\"worth_%d\",\"type\":\"number\",\"combine\":\"sum\",\"least\":0,"
                "\"most\":1000,\"roles\":[",
                c ? "," : "", c + 1);
        for (int i = 0; i < p->projects; i++)
            fprintf(f, "%s\"project-%c\"", i ? "," : "", 'a' + i);
        fprintf(f, "],\"meaning\":\"what it is worth\",\"source\":\"%s\"}", p->source);
    }
    fputs("],\"derived\":[]}\n", f);
    finish(f);
}

static void write_rules(const char *folder, const Problem *p) {
    FILE *f = create(folder, "rules.json");
    fputs("{\"schema\":1,\"rules\":[", f);
    if (p->rooms > 0)
        fprintf(f,
                "{\"id\":\"rooms\",\"shape\":\"supply\",\"level\":\"hard\","
                "\"loads\":[{\"fact\":\"*.pieces\"}],\"supplies\":[{\"fixed\":%d}],"
                "\"client\":\"{room} at once; this needs {need}.\","
                "\"bench\":\"{need} of {room}: {short} short.\",\"source\":\"%s\"}",
                p->rooms, p->source);
    fputs("]}\n", f);
    finish(f);
}

static void write_parts(const char *folder, const Problem *p) {
    FILE *f = create(folder, "parts/projects.json"), *list = create(folder, "listings.csv");
    fputs("{\"schema\":1,\"parts\":[", f);
    fputs("part,seller,price,stock,days,warranty_months,return_days\n", list);
    for (int i = 0; i < p->projects; i++) {
        fprintf(f,
                "%s{\"id\":\"%c\",\"role\":\"project-%c\",\"name\":\"%c\",\"maker\":\"paper\","
                "\"facts\":{",
                i ? "," : "", 'a' + i, 'a' + i, 'A' + i);
        for (int c = 0; c < p->criteria; c++)
            fprintf(f, "%s\"worth_%d\":%d", c ? "," : "", c + 1, p->worth[i][c]);
        fputs("}}", f);
        fprintf(list, "%c,shop,%d,1,0,24,14\n", 'a' + i, p->cost[i]);
    }
    fputs("]}\n", f);
    finish(f);
    finish(list);
}

static void write_criteria(const char *folder, const Problem *p) {
    FILE *f = create(folder, "criteria.json");
    fputs("{\"schema\":1,\"criteria\":[", f);
    for (int c = 0; c < p->criteria; c++)
        fprintf(f,
                "%s{\"id\":\"c%d\",\"name\":\"C%d\",\"kind\":\"rated\",\"facts\":[\"*.worth_%d\"],"
                "\"scale\":100}",
                c ? "," : "", c + 1, c + 1, c + 1);
    fputs("]}\n", f);
    finish(f);
}

static void write_scenario(const char *folder, const Problem *p) {
    FILE *f = create(folder, "scenario.json");
    fprintf(f,
            "{\"schema\":1,\"title\":\"Projects\",\"note\":\"%s\",\"catalog\":\".\",\"currency\":"
            "\"EUR\",\"date\":\"2026-03-02\",\"machine\":{},\"wishes\":{\"swings\":{\"c1\":1}},"
            "\"budget\":{\"total\":\"%d\"}}\n",
            p->source, p->budget);
    finish(f);
}

static void make_folder(const char *folder, const char *below) {
    char path[4096];
    if (snprintf(path, sizeof path, "%s%s", folder, below) >= (int)sizeof path ||
        (mkdir(path, 0777) != 0 && errno != EEXIST)) {
        fprintf(stderr, "projects: %s: %s\n", path, strerror(errno));
        exit(2);
    }
}

int main(int argc, char **argv) {
    if (argc != 3) {
        fputs("projects FOLDER paper | SEED\n", stderr);
        return 2;
    }
    Problem p = strcmp(argv[2], "paper") == 0 ? paper : draw_problem(strtoull(argv[2], NULL, 10));
    const char *folder = argv[1];
    make_folder(folder, "");
    make_folder(folder, "/parts");
    write_roles(folder, &p);
    write_facts(folder, &p);
    write_rules(folder, &p);
    write_parts(folder, &p);
    write_criteria(folder, &p);
    write_scenario(folder, &p);
    write_text(folder, "tasks.json", "{\"schema\":1,\"tasks\":[]}\n");
    write_text(folder, "observations.json", "{\"schema\":1,\"observations\":[]}\n");
    write_text(folder, "charges.json", "{\"schema\":1,\"charges\":[]}\n");
    write_text(folder, "uses.json", "{\"schema\":1,\"uses\":[]}\n");
    write_text(folder, "sellers.json",
               "{\"schema\":1,\"currency\":\"EUR\",\"sellers\":[{\"id\":\"shop\",\"name\":"
               "\"The shop\",\"delivery_days\":1,\"minutes\":0}]}\n");
    return 0;
}
