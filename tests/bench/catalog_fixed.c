/* The files that are the same for every seed: roles, facts, rules, criteria, uses. */
#include "catalog.h"

#include <string.h>

/* ---- facts ------------------------------------------------------------------------ */

typedef struct fact {
    const char *fact, *type, *roles, *combine;
    const char *more; /* bounds, tokens, absent */
    const char *meaning;
} fact;

#define SEEN                                                                                       \
    "board case cooler display fans graphics headset keyboard leads lighting memory pointer power"

static const fact facts[] = {
    {"socket", "token", "board processor", "each", NULL, "the socket of the processor"},
    {"sockets", "list", "cooler", "common", NULL, "sockets that the cooler can be mounted on"},
    {"memory_type", "token", "board memory", "each", NULL, "the type of the modules"},
    {"board_form", "token", "board", "each", NULL, "the size of the board"},
    {"board_forms", "list", "case", "common", NULL, "boards that the case takes"},
    {"power_form", "token", "power", "each", NULL, "the size of the power unit"},
    {"power_forms", "list", "case", "common", NULL, "power units that the case takes"},
    {"picture_plug", "token", "display", "each", NULL, "the plug that the display needs"},
    {"picture_plugs", "list", "graphics", "either", NULL, "the plugs that the card has"},
    {"graphics_mm", "number", "case", "least", "0 1000", "room for a graphics card"},
    {"length_mm", "number", "graphics power", "most", "0 1000", "length"},
    {"cooler_mm", "number", "case", "least", "0 1000", "room for a cooler"},
    {"height_mm", "number", "cooler", "most", "0 1000", "height"},
    {"power_mm", "number", "case", "least", "0 1000", "depth of the place for the power unit"},
    {"stages_w", "number", "board", "least", "0 5000", "what its power stages carry"},
    {"heat_w", "number", "processor", "sum", "0 5000", "heat at full work"},
    {"cooling_w", "number", "cooler", "sum", "0 5000", "heat that it takes away"},
    {"load_w", "number", "display drives fans graphics lighting processor", "sum", "0 5000",
     "what it draws"},
    {"watts", "number", "power", "sum", "0 5000", "what the unit gives"},
    {"lead_w", "number", "leads", "sum", "0 5000", "what the leads to a card carry"},
    {"vents_w", "number", "case", "sum", "0 5000", "heat that leaves without fans"},
    {"air_w", "number", "fans", "sum", "0 5000", "heat that leaves with the fans' air"},
    {"plugs", "number", "cooler fans graphics lighting power", "sum", "0 20",
     "plugs of its kind that it needs; of a power unit, those for cards that it has"},
    {"fan_plugs", "number", "board", "sum", "0 20", "plugs for fans and lights"},
    {"light_plug", "flag", "board", "any", NULL, "has the plug of addressed lights"},
    {"addressed", "flag", "lighting", "any", NULL, "each of its lights is addressed"},
    {"sites", "sites", "board case", "joined", NULL, "places"},
    {"things", "things", "cooler drives fans", "joined", "absent []", "what needs a place"},
    {"noise_dba", "number", "cooler drives fans graphics power", "power", "0 90 silent",
     "sound pressure level at 0.5 m"},
    {"loss_db", "number", "case", "sum", "0 20", "how much quieter the case makes it"},
    {"single_rate", "number", "processor", "sum", "0 10000", "rate of one thread"},
    {"all_rate", "number", "processor", "sum", "0 10000", "rate of all threads"},
    {"memory_path_gb_s", "number", "board", "least", "0 1000", "its path to memory"},
    {"memory_gb", "number", "memory", "sum", "0 1000", "room in memory"},
    {"bandwidth_gb_s", "number", "memory", "sum", "0 1000", "rate of memory"},
    {"raster_rate", "number", "graphics", "sum", "0 10000", "rate of the graphics card"},
    {"graphics_gb", "number", "graphics", "sum", "0 1000", "memory of the card"},
    {"pixel_share", "number", "display", "least", "0 1",
     "pictures of the smallest display that one of this one is worth"},
    {"refresh_hz", "number", "display", "most", "0 1000", "pictures a second"},
    {"read_mb_s", "number", "drives", "most", "0 20000", "rate of reading"},
    {"capacity_gb", "number", "drives", "sum", "0 100000", "room for files"},
    {"panel_score", "number", "display", "most", "0 10", "how good the picture is"},
    {"feel", "number", "keyboard pointer", "most", "0 10", "how good it feels"},
    {"sound_score", "number", "headset", "most", "0 10", "how good it sounds"},
    {"tidiness", "number", "leads", "most", "0 10", "how tidy the leads lie"},
    {"finish", "token", SEEN, "each", NULL, "colour of what is seen"},
    {"light", "token", SEEN, "each", NULL, "what light it gives"},
    {"surface", "number", SEEN, "least", "0 100", "how good its surface is"},
};

static void write_words(FILE *out, const char *words) {
    const char *between = "";
    while (*words != '\0') {
        int length = (int)strcspn(words, " ");
        fprintf(out, "%s\"%.*s\"", between, length, words);
        between = ", ";
        words += length + (words[length] == ' ');
    }
}

static void write_more(FILE *out, const fact *f) {
    if (f->more == NULL)
        return;
    if (strcmp(f->type, "number") != 0) {
        fputs(", \"absent\": []", out);
        return;
    }
    int least = (int)strcspn(f->more, " "), most = (int)strcspn(f->more + least + 1, " ");
    fprintf(out, ", \"least\": %.*s, \"most\": %.*s", least, f->more, most, f->more + least + 1);
    if (strstr(f->more, "silent") != NULL)
        fputs(", \"absent\": \"silent\"", out);
}

static void write_facts(FILE *out) {
    fputs("{\"schema\": 1, \"facts\": [\n", out);
    for (size_t i = 0; i < sizeof facts / sizeof *facts; i++) {
        const fact *f = &facts[i];
        fprintf(out, "%s  {\"fact\": \"%s\", \"type\": \"%s\", \"roles\": [", i > 0 ? ",\n" : "",
                f->fact, f->type);
        write_words(out, f->roles);
        fprintf(out, "], \"combine\": \"%s\"", f->combine);
        write_more(out, f);
        fprintf(out, ", \"meaning\": \"%s\", \"source\": \"made up\"}", f->meaning);
    }
    fputs("\n]}\n", out);
}

/* ---- rules ------------------------------------------------------------------------- */

static const struct {
    const char *id, *shape, *fields;
} rules[] = {
    {"socket", "same", "\"left\": \"processor.socket\", \"right\": \"board.socket\""},
    {"memory-type", "same", "\"left\": \"memory.memory_type\", \"right\": \"board.memory_type\""},
    {"cooler-socket", "among", "\"left\": \"processor.socket\", \"right\": \"cooler.sockets\""},
    {"board-form", "among", "\"left\": \"board.board_form\", \"right\": \"case.board_forms\""},
    {"power-form", "among", "\"left\": \"power.power_form\", \"right\": \"case.power_forms\""},
    {"picture-plug", "among",
     "\"left\": \"display.picture_plug\", \"right\": \"graphics.picture_plugs\""},
    {"graphics-length", "within",
     "\"need\": \"graphics.length_mm\", \"room\": \"case.graphics_mm\""},
    {"cooler-height", "within", "\"need\": \"cooler.height_mm\", \"room\": \"case.cooler_mm\""},
    {"power-length", "within", "\"need\": \"power.length_mm\", \"room\": \"case.power_mm\""},
    {"board-stages", "within", "\"need\": \"processor.load_w\", \"room\": \"board.stages_w\""},
    {"cooling", "within", "\"need\": \"processor.heat_w\", \"room\": \"cooler.cooling_w\""},
    {"watts", "supply",
     "\"loads\": [{\"fact\": \"processor.load_w\", \"factor\": 1.25}, {\"fact\": "
     "\"graphics.load_w\", \"factor\": 1.3}, {\"fact\": \"drives.load_w\", \"factor\": 1.2}, "
     "{\"fact\": \"fans.load_w\", \"factor\": 1.2}, {\"fact\": \"lighting.load_w\", \"factor\": "
     "1.2}, {\"fixed\": 60}], \"supplies\": [{\"fact\": \"power.watts\"}]"},
    {"card-plugs", "supply",
     "\"loads\": [{\"fact\": \"graphics.plugs\"}], \"supplies\": [{\"fact\": \"power.plugs\"}]"},
    {"card-leads", "within", "\"need\": \"graphics.load_w\", \"room\": \"leads.lead_w\""},
    {"headers", "supply",
     "\"loads\": [{\"fact\": \"fans.plugs\"}, {\"fact\": \"cooler.plugs\"}, {\"fact\": "
     "\"lighting.plugs\"}], \"supplies\": [{\"fact\": \"board.fan_plugs\"}]"},
    {"air", "supply",
     "\"loads\": [{\"fact\": \"processor.heat_w\"}, {\"fact\": \"graphics.load_w\", \"factor\": "
     "0.8}], \"supplies\": [{\"fact\": \"case.vents_w\"}, {\"fact\": \"fans.air_w\"}]"},
    {"files", "supply",
     "\"loads\": [{\"fixed\": 480}], \"supplies\": [{\"fact\": \"drives.capacity_gb\"}]"},
    {"fan-places", "place",
     "\"kind\": \"fan\", \"things\": [\"fans.things\"], \"sites\": [\"case.sites\"]"},
    {"radiator-places", "place",
     "\"kind\": \"radiator\", \"things\": [\"cooler.things\"], \"sites\": [\"case.sites\"]"},
    {"drive-places", "place",
     "\"kind\": \"drive\", \"things\": [\"drives.things\"], \"sites\": [\"case.sites\", "
     "\"board.sites\"]"},
    {"fast-memory", "unlock",
     "\"to\": {\"fact\": \"memory.bandwidth_gb_s\", \"least\": 80}, \"needs\": [{\"fact\": "
     "\"board.memory_path_gb_s\", \"least\": 60}]"},
    {"addressed-lights", "clash",
     "\"of\": [{\"fact\": \"lighting.addressed\", \"is\": true}, {\"fact\": \"board.light_plug\", "
     "\"is\": false}]"},
};

static void write_rules(FILE *out) {
    fputs("{\"schema\": 1, \"rules\": [\n", out);
    for (size_t i = 0; i < sizeof rules / sizeof *rules; i++)
        fprintf(out,
                "%s  {\"id\": \"%s\", \"shape\": \"%s\", \"level\": \"hard\", %s, \"client\": "
                "\"These do not go together.\", \"bench\": \"%s: they do not go together.\", "
                "\"source\": \"made up\"}",
                i > 0 ? ",\n" : "", rules[i].id, rules[i].shape, rules[i].fields, rules[i].id);
    fputs("\n]}\n", out);
}

/* ---- roles, criteria, uses ----------------------------------------------------------- */

static void write_roles(FILE *out) {
    fputs("{\"schema\": 1, \"roles\": [\n", out);
    for (int r = 0; r < ROLES; r++)
        fprintf(out, "%s  {\"role\": \"%s\", \"name\": \"%s\", \"least\": 1, \"most\": 1}",
                r > 0 ? ",\n" : "", bench_roles[r].role, bench_roles[r].name);
    fputs("\n]}\n", out);
}

static const char criteria[] =
    "{\"schema\": 1, \"criteria\": [\n"
    "  {\"id\": \"speed\", \"name\": \"Speed\", \"kind\": \"speed\"},\n"
    "  {\"id\": \"quiet\", \"name\": \"Quiet\", \"kind\": \"quiet\", \"noise\": \"noise_dba\", "
    "\"at_m\": 0.5, \"loss\": \"case.loss_db\"},\n"
    "  {\"id\": \"looks\", \"name\": \"Looks\", \"kind\": \"looks\", \"shows\": [\n"
    "    {\"role\": \"case\", \"weight\": 25}, {\"role\": \"display\", \"weight\": 12},\n"
    "    {\"role\": \"graphics\", \"weight\": 10}, {\"role\": \"keyboard\", \"weight\": 8},\n"
    "    {\"role\": \"cooler\", \"weight\": 8}, {\"role\": \"fans\", \"weight\": 8},\n"
    "    {\"role\": \"leads\", \"weight\": 6}, {\"role\": \"lighting\", \"weight\": 6},\n"
    "    {\"role\": \"board\", \"weight\": 5}, {\"role\": \"memory\", \"weight\": 4},\n"
    "    {\"role\": \"pointer\", \"weight\": 3}, {\"role\": \"headset\", \"weight\": 3},\n"
    "    {\"role\": \"power\", \"weight\": 2}],\n"
    "   \"aspects\": [{\"fact\": \"finish\", \"weight\": 3}, {\"fact\": \"light\", \"weight\": 2}, "
    "{\"fact\": \"surface\", \"weight\": 3, \"scale\": 100}, {\"fact\": \"tidiness\", \"weight\": "
    "3, \"scale\": 10}]},\n"
    "  {\"id\": \"panel\", \"name\": \"Picture\", \"kind\": \"rated\", \"facts\": "
    "[\"display.panel_score\"], \"scale\": 10},\n"
    "  {\"id\": \"feel\", \"name\": \"Feel\", \"kind\": \"rated\", \"facts\": [\"*.feel\"], "
    "\"scale\": 20},\n"
    "  {\"id\": \"headset\", \"name\": \"Headset\", \"kind\": \"rated\", \"facts\": "
    "[\"headset.sound_score\"], \"scale\": 10}\n"
    "]}\n";

static const char uses[] =
    "{\"schema\": 1, \"uses\": [\n"
    "  {\"id\": \"play\", \"name\": \"play\", \"unit\": \"frames/s\", \"stages\": [\n"
    "    {\"stage\": \"graphics\", \"name\": \"the graphics card\", \"rate\": {\"product\": "
    "[\"graphics.raster_rate\", \"display.pixel_share\"]}},\n"
    "    {\"stage\": \"one-thread\", \"name\": \"one thread\", \"rate\": {\"product\": [1.4, "
    "{\"power\": [\"processor.single_rate\", 0.85]}, {\"power\": [{\"least\": "
    "[\"memory.bandwidth_gb_s\", \"board.memory_path_gb_s\"]}, 0.15]}]}},\n"
    "    {\"stage\": \"all-threads\", \"name\": \"all threads\", \"rate\": {\"product\": [6, "
    "{\"power\": [\"processor.all_rate\", 0.5]}]}},\n"
    "    {\"stage\": \"display\", \"name\": \"the display\", \"rate\": \"display.refresh_hz\"},\n"
    "    {\"stage\": \"graphics-memory\", \"name\": \"memory of the card\", \"rate\": {\"table\": "
    "{\"of\": \"graphics.graphics_gb\", \"at\": [2, 4, 6, 8, 12, 16, 24], \"gives\": [35, 70, 110, "
    "160, 240, 320, 400]}}}]},\n"
    "  {\"id\": \"films\", \"name\": \"cutting films\", \"unit\": \"% of today\", \"stages\": [\n"
    "    {\"stage\": \"all-threads\", \"name\": \"all threads\", \"rate\": {\"product\": [0.4, "
    "{\"power\": [\"processor.all_rate\", 0.9]}, {\"power\": [\"memory.bandwidth_gb_s\", "
    "0.1]}]}},\n"
    "    {\"stage\": \"memory\", \"name\": \"room in memory\", \"rate\": {\"table\": {\"of\": "
    "\"memory.memory_gb\", \"at\": [8, 16, 32, 64, 96], \"gives\": [60, 120, 260, 400, 500]}}},\n"
    "    {\"stage\": \"graphics\", \"name\": \"the graphics card\", \"rate\": {\"product\": [16, "
    "{\"power\": [\"graphics.raster_rate\", 0.5]}]}},\n"
    "    {\"stage\": \"drives\", \"name\": \"reading\", \"rate\": {\"product\": [6, {\"power\": "
    "[\"drives.read_mb_s\", 0.5]}]}}]},\n"
    "  {\"id\": \"office\", \"name\": \"office\", \"unit\": \"% of today\", \"stages\": [\n"
    "    {\"stage\": \"one-thread\", \"name\": \"one thread\", \"rate\": {\"product\": [1.3, "
    "\"processor.single_rate\"]}},\n"
    "    {\"stage\": \"drives\", \"name\": \"reading\", \"rate\": {\"product\": [18, {\"power\": "
    "[\"drives.read_mb_s\", 0.3]}]}},\n"
    "    {\"stage\": \"memory\", \"name\": \"room in memory\", \"rate\": {\"table\": {\"of\": "
    "\"memory.memory_gb\", \"at\": [8, 16, 32, 64], \"gives\": [80, 130, 200, 240]}}}]}\n"
    "]}\n";

void write_fixed(const char *name, FILE *out) {
    if (strcmp(name, "facts") == 0)
        write_facts(out);
    else if (strcmp(name, "rules") == 0)
        write_rules(out);
    else if (strcmp(name, "roles") == 0)
        write_roles(out);
    else if (strcmp(name, "criteria") == 0)
        fputs(criteria, out);
    else if (strcmp(name, "uses") == 0)
        fputs(uses, out);
    else
        fprintf(out, "{\"schema\": 1, \"%s\": []}\n", name);
}
