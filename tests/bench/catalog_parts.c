/*
 * The parts of the trade, role by role. Each quality of a part lies about its grade, and so does
 * its price: most parts are worth their money, some are a bargain, some sell by their looks. All
 * in whole numbers, so that every machine draws the same.
 */
#include "catalog.h"

/* The name of a fact whose value is written next. */
static void name(sample *s, const char *fact) {
    fprintf(s->out, "%s\"%s\": ", s->comma, fact);
    s->comma = ", ";
}

static void number(sample *s, const char *fact, int value) {
    name(s, fact);
    fprintf(s->out, "%d", value);
}

static void tenths(sample *s, const char *fact, int value) {
    name(s, fact);
    fprintf(s->out, "%d.%d", value / 10, value % 10);
}

static void text(sample *s, const char *fact, const char *value) {
    name(s, fact);
    fputs(value, s->out);
}

static void token(sample *s, const char *fact, const char *value) {
    name(s, fact);
    fprintf(s->out, "\"%s\"", value);
}

static void flag(sample *s, const char *fact, int value) {
    text(s, fact, value ? "true" : "false");
}

/* A quality about the grade, brought to `least` .. `most`. */
static int quality(sample *s, int spread, int least, int most) {
    int grade = clip(about(s->d, s->grade, spread), 0, 1000);
    return least + (most - least) * grade / 1000;
}

/* The same where the best is many times the worst: most of it lies near the top. */
static int growing(sample *s, int spread, int least, int most) {
    int grade = clip(about(s->d, s->grade, spread), 0, 1000);
    return least + (int)((int64_t)(most - least) * grade * grade / 1000000);
}

static int step_of(sample *s, int spread, int steps) {
    return clip(about(s->d, s->grade, spread) * steps / 1000, 0, steps - 1);
}

/* What is seen: white and lit softly is the taste of the day, and dearer. */
static void looks(sample *s) {
    static const char *const finish[] = {"black", "black", "grey", "silver", "white", "wood"};
    static const char *const light[] = {"none", "none", "coloured", "soft"};
    int colour = clip(between(s->d, 0, 3) + s->style / 300, 0, 5);
    int lit = clip(between(s->d, 0, 2) + s->style / 500, 0, 3);
    token(s, "finish", finish[colour]);
    token(s, "light", light[lit]);
    tenths(s, "surface", clip(about(s->d, s->style, 150), 0, 1000) / 10);
    s->premium += s->style / 50 + (colour == 4 ? 4 : 0);
}

static void noise(sample *s, int best, int worst) {
    tenths(s, "noise_dba", quality(s, 200, worst * 10, best * 10));
}

static const char *const sockets[] = {"s1", "s2", "s3", "s4", "s5"};

static void board(sample *s) {
    static const char *const forms[] = {"full", "full", "full", "small", "small", "tiny"};
    int socket = clip(about(s->d, s->grade + 250, 450) / 250, 0, 4);
    int form = between(s->d, 0, 5);
    token(s, "socket", sockets[socket]);
    token(s, "memory_type", socket > 2 || (socket == 2 && between(s->d, 0, 1)) ? "m2" : "m1");
    token(s, "board_form", forms[form]);
    number(s, "stages_w", quality(s, 150, 95, 320));
    number(s, "memory_path_gb_s", quality(s, 150, 30, 100));
    number(s, "fan_plugs", clip(2 + quality(s, 200, 0, 5) - form / 3, 2, 7));
    flag(s, "light_plug", s->style > 350);
    name(s, "sites");
    fprintf(s->out,
            "[{\"site\": \"slots\", \"kind\": \"drive\", \"sizes\": [\"slot\"], \"count\": %d}]",
            1 + step_of(s, 200, 3));
    looks(s);
}

static void housing(sample *s) {
    static const char *const forms[] = {"[\"tiny\"]", "[\"small\", \"tiny\"]",
                                        "[\"full\", \"small\", \"tiny\"]"};
    static const int loss[] = {0, 1, 2, 4, 6};
    int size = clip(1 + step_of(s, 500, 3), 0, 2);
    text(s, "board_forms", forms[size]);
    text(s, "power_forms", size == 0 ? "[\"short\"]" : "[\"standard\", \"short\"]");
    number(s, "graphics_mm", 220 + size * 50 + quality(s, 300, 0, 100));
    number(s, "cooler_mm", 125 + size * 15 + quality(s, 300, 0, 30));
    number(s, "power_mm", 140 + size * 20 + between(s->d, 0, 3) * 10);
    number(s, "vents_w", 150 + quality(s, 300, 0, 350));
    number(s, "loss_db", loss[step_of(s, 500, 5)]);
    name(s, "sites");
    fprintf(s->out,
            "[{\"site\": \"front\", \"kind\": \"fan\", \"sizes\": [\"120\"%s], \"count\": %d}, "
            "{\"site\": \"rear\", \"kind\": \"fan\", \"sizes\": [\"120\"]}, ",
            size > 0 ? ", \"140\"" : "", 1 + size);
    if (size > 0)
        fprintf(s->out, "{\"site\": \"top\", \"kind\": \"radiator\", \"sizes\": [\"240\"%s]}, ",
                step_of(s, 400, 2) ? ", \"360\"" : "");
    fprintf(s->out,
            "{\"site\": \"bays\", \"kind\": \"drive\", \"sizes\": [\"small\"%s], \"count\": 2}]",
            size > 0 ? ", \"large\"" : "");
    looks(s);
}

static void cooler(sample *s) {
    static const char *const fits[] = {"[\"s1\", \"s2\", \"s3\"]", "[\"s2\", \"s3\", \"s4\"]",
                                       "[\"s2\", \"s3\", \"s4\", \"s5\"]",
                                       "[\"s1\", \"s2\", \"s3\", \"s4\", \"s5\"]"};
    int wet = s->grade > 550 && between(s->d, 0, 2) == 0;
    text(s, "sockets", fits[between(s->d, 0, 3)]);
    number(s, "height_mm", wet ? 55 : quality(s, 250, 90, 172));
    number(s, "cooling_w", quality(s, 150, 75, 280) + (wet ? 25 : 0));
    number(s, "plugs", wet ? 2 : 1);
    noise(s, 20, 38);
    if (wet)
        name(s, "things");
    if (wet)
        fprintf(s->out, "[{\"kind\": \"radiator\", \"size\": \"%s\"}]",
                s->grade > 800 ? "360" : "240");
    looks(s);
}

static void display(sample *s) {
    static const int share[] = {1000, 880, 620, 520, 320};
    int size = step_of(s, 300, 5);
    name(s, "pixel_share");
    fprintf(s->out, "%d.%03d", share[size] / 1000, share[size] % 1000);
    number(s, "refresh_hz", 60 + 15 * quality(s, 350, 0, 12));
    tenths(s, "panel_score", quality(s, 250, 20, 98));
    token(s, "picture_plug", size < 3 ? "p1" : "p2");
    number(s, "load_w", 18 + size * 8);
    looks(s);
}

static void drives(sample *s) {
    int kind = clip(about(s->d, s->grade + 200, 400) / 400, 0, 2);
    static const int best[] = {260, 560, 7200};
    number(s, "read_mb_s",
           kind == 2 ? growing(s, 200, 1500, best[2])
                     : best[kind] - between(s->d, 0, best[kind] / 3));
    number(s, "capacity_gb", 500 * (1 << clip(step_of(s, 350, 4) + (kind == 0), 0, 4)));
    number(s, "load_w", kind == 0 ? 9 : 4 + kind);
    if (kind == 0)
        noise(s, 25, 34);
    name(s, "things");
    fprintf(s->out, "[{\"kind\": \"drive\", \"size\": \"%s\"}]",
            kind == 0   ? "large"
            : kind == 1 ? "small"
                        : "slot");
}

/* Sold in packs of one to three: the pack is the candidate. */
static void fans(sample *s) {
    int wide = between(s->d, 0, 2) == 0, pack = 1 + step_of(s, 400, 3);
    name(s, "things");
    fprintf(s->out, "[{\"kind\": \"fan\", \"size\": \"%s\", \"count\": %d}]", wide ? "140" : "120",
            pack);
    number(s, "air_w", pack * (50 + wide * 20) + quality(s, 250, 0, 60));
    number(s, "plugs", pack);
    number(s, "load_w", 2 * pack);
    noise(s, 17, 33);
    looks(s);
}

static void graphics(sample *s) {
    static const int room[] = {2, 4, 6, 8, 12, 16, 24};
    int load = quality(s, 120, 50, 360);
    number(s, "raster_rate", growing(s, 80, 22, 340));
    number(s, "graphics_gb", room[step_of(s, 160, 7)]);
    number(s, "length_mm", quality(s, 200, 165, 345));
    number(s, "load_w", load);
    number(s, "plugs", load < 75 ? 0 : 1 + load / 160);
    text(s, "picture_plugs",
         s->grade > 300 || between(s->d, 0, 1) ? "[\"p1\", \"p2\"]" : "[\"p1\"]");
    tenths(s, "noise_dba", clip(about(s->d, 300 + load / 3 - s->style / 10, 60), 200, 460));
    looks(s);
}

static void headset(sample *s) {
    tenths(s, "sound_score", quality(s, 180, 20, 98));
    looks(s);
}

static void keyboard(sample *s) {
    tenths(s, "feel", quality(s, 180, 20, 98));
    looks(s);
}

static void leads(sample *s) {
    tenths(s, "tidiness", quality(s, 200, 10, 98));
    number(s, "lead_w", 75 * (2 + step_of(s, 300, 5)));
    looks(s);
}

static void lighting(sample *s) {
    int addressed = s->grade > 400 && between(s->d, 0, 1);
    number(s, "load_w", 3 + quality(s, 300, 0, 12));
    number(s, "plugs", addressed ? 0 : 1);
    flag(s, "addressed", addressed);
    looks(s);
}

static void memory(sample *s) {
    static const int room[] = {8, 16, 24, 32, 48, 64, 96};
    int new_type = s->grade + between(s->d, 0, 700) > 650;
    token(s, "memory_type", new_type ? "m2" : "m1");
    number(s, "memory_gb", room[step_of(s, 160, 7)]);
    number(s, "bandwidth_gb_s", (new_type ? 40 : 22) + quality(s, 200, 0, 55));
    looks(s);
}

static void pointer(sample *s) {
    tenths(s, "feel", quality(s, 180, 20, 98));
    looks(s);
}

static void power(sample *s) {
    int tight = between(s->d, 0, 4) == 0;
    token(s, "power_form", tight ? "short" : "standard");
    number(s, "watts", 350 + 50 * quality(s, 150, 0, 15));
    number(s, "length_mm", tight ? 105 : 130 + 10 * quality(s, 300, 0, 6));
    number(s, "plugs", 1 + step_of(s, 200, 4));
    noise(s, 17, 35);
    looks(s);
}

static void processor(sample *s) {
    int load = quality(s, 200, 45, 240);
    token(s, "socket", sockets[clip(about(s->d, s->grade + 250, 350) / 250, 0, 4)]);
    number(s, "single_rate", quality(s, 130, 42, 155));
    number(s, "all_rate", growing(s, 130, 90, 1700));
    number(s, "load_w", load);
    number(s, "heat_w", load * 9 / 10);
}

#define PLAIN "\"finish\": \"black\", \"light\": \"none\", "

const trade_role bench_roles[ROLES] = {
    {"board", "board", 55, 340, board,
     PLAIN "\"surface\": 3, \"socket\": \"s2\", \"memory_type\": \"m1\", \"board_form\": \"full\", "
           "\"stages_w\": 130, \"memory_path_gb_s\": 45, \"fan_plugs\": 4, \"light_plug\": false, "
           "\"sites\": [{\"site\": \"slots\", \"kind\": \"drive\", \"sizes\": [\"slot\"]}]",
     18},
    {"case", "case", 38, 230, housing,
     PLAIN
     "\"surface\": 3, \"board_forms\": [\"full\", \"small\"], \"power_forms\": [\"standard\"], "
     "\"graphics_mm\": 290, \"cooler_mm\": 155, \"power_mm\": 170, \"vents_w\": 220, "
     "\"loss_db\": 1, \"sites\": [{\"site\": \"front\", \"kind\": \"fan\", \"sizes\": [\"120\"], "
     "\"count\": 2}, {\"site\": \"rear\", \"kind\": \"fan\", \"sizes\": [\"120\"]}, {\"site\": "
     "\"bays\", \"kind\": \"drive\", \"sizes\": [\"small\", \"large\"], \"count\": 3}]",
     0},
    {"cooler", "cooler", 14, 150, cooler,
     PLAIN "\"surface\": 2, \"sockets\": [\"s1\", \"s2\", \"s3\"], \"height_mm\": 120, "
           "\"cooling_w\": 110, \"plugs\": 1, \"noise_dba\": 35",
     0},
    {"display", "display", 85, 800, display,
     PLAIN "\"surface\": 3, \"pixel_share\": 1, \"refresh_hz\": 75, \"panel_score\": 4, "
           "\"picture_plug\": \"p1\", \"load_w\": 22",
     30},
    {"drives", "drives", 25, 260, drives,
     "\"read_mb_s\": 520, \"capacity_gb\": 500, \"load_w\": 5, "
     "\"things\": [{\"kind\": \"drive\", \"size\": \"small\"}]",
     0},
    {"fans", "fans", 6, 80, fans,
     PLAIN "\"surface\": 2, \"things\": [{\"kind\": \"fan\", \"size\": \"120\", \"count\": 2}], "
           "\"air_w\": 120, \"plugs\": 2, \"load_w\": 4, \"noise_dba\": 31",
     0},
    {"graphics", "graphics card", 80, 1150, graphics,
     PLAIN "\"surface\": 3, \"raster_rate\": 55, \"graphics_gb\": 4, \"length_mm\": 235, "
           "\"load_w\": 130, \"plugs\": 1, \"picture_plugs\": [\"p1\", \"p2\"], \"noise_dba\": 37",
     45},
    {"headset", "headset", 18, 200, headset, PLAIN "\"surface\": 3, \"sound_score\": 4", 0},
    {"keyboard", "keyboard", 14, 150, keyboard, PLAIN "\"surface\": 3, \"feel\": 4", 0},
    {"leads", "leads", 8, 65, leads, PLAIN "\"surface\": 1, \"tidiness\": 2, \"lead_w\": 300", 0},
    {"lighting", "lighting", 6, 75, lighting,
     PLAIN "\"surface\": 1, \"load_w\": 0, \"plugs\": 0, \"addressed\": false", 0},
    {"memory", "memory", 24, 300, memory,
     PLAIN "\"surface\": 2, \"memory_type\": \"m1\", \"memory_gb\": 16, \"bandwidth_gb_s\": 34",
     12},
    {"pointer", "pointer", 9, 100, pointer, PLAIN "\"surface\": 3, \"feel\": 4", 0},
    {"power", "power unit", 38, 220, power,
     PLAIN "\"surface\": 2, \"power_form\": \"standard\", \"watts\": 500, \"length_mm\": 150, "
           "\"plugs\": 2, \"noise_dba\": 31",
     0},
    {"processor", "processor", 55, 560, processor,
     "\"socket\": \"s2\", \"single_rate\": 75, \"all_rate\": 330, \"load_w\": 95, \"heat_w\": 85",
     25},
};
