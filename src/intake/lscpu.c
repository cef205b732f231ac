/* Fields of lscpu: processors are alike, so that what it says once stands for each of them. */
#include "intake/lscpu.h"

#include <string.h>

#define PROCESSORS_LIMIT 64

bool sw_lscpu_is(const sw_json *root) {
    const sw_json *fields = sw_dump_get(root, "lscpu");
    return fields != NULL && fields->kind == SW_JSON_ARRAY;
}

typedef enum field { NAME, MAKER, ALL_THREADS, CORES_EACH, SOCKETS, MOST_MHZ, MHZ, FIELDS } field;

static const char *const labels[FIELDS] = {
    "Model name:", "Vendor ID:",   "CPU(s):", "Core(s) per socket:",
    "Socket(s):",  "CPU max MHz:", "CPU MHz:"};

typedef struct found {
    const sw_json *data[FIELDS];
    const char *place[FIELDS];
    bool twice[FIELDS]; /* with values that differ */
} found;

/* Where there are two kinds of processors, what belongs to which is not told: of what is said of
 * each kind nothing is used. */
static bool is_doubtful(const found *in, field which) {
    bool of_kinds = which != MAKER && which != ALL_THREADS && which != SOCKETS;
    return of_kinds
               ? in->twice[NAME] || in->twice[CORES_EACH] || in->twice[MOST_MHZ] || in->twice[MHZ]
               : in->twice[which];
}

static void keep(found *in, field which, const sw_json *data, const char *place) {
    const sw_json *before = in->data[which];
    if (before != NULL && !sw_dump_is(data, sw_dump_text(before) == NULL ? "" : before->text))
        in->twice[which] = true;
    in->data[which] = data;
    in->place[which] = place;
}

/* What is below the last of all fields may be one kind of several where the file was cut. Recursion
 * is bounded by the gate. */
static void gather(found *in, const sw_dump *dump, const sw_json *fields, const char *place) {
    for (size_t i = 0; fields != NULL && fields->kind == SW_JSON_ARRAY && i < fields->count; i++) {
        const sw_json *entry = &fields->children[i];
        const char *here = sw_dump_element(dump, place, i);
        const sw_json *data = sw_dump_get(entry, "data");
        for (size_t which = 0; which < FIELDS && data != NULL; which++)
            if (sw_dump_is(sw_dump_get(entry, "field"), labels[which]))
                keep(in, (field)which, data, here);
        const sw_json *below = sw_dump_get(entry, "children");
        if (below != NULL && (dump->whole || i + 1 < fields->count))
            gather(in, dump, below, sw_dump_member(dump, here, "children"));
    }
}

static bool number_of(int64_t *out, const found *in, field which) {
    return !is_doubtful(in, which) && sw_dump_whole(out, in->data[which]);
}

/* Thousandths of "4700.0000" or "2000.000"; with a comma, as other languages have it, only when the
 * four digits behind it, which lscpu always prints, show that it is no mark of thousands. */
static bool megahertz(int64_t *milli, const char *text) {
    int64_t number = 0;
    int decimals = -1;
    if (text[0] < '0' || text[0] > '9')
        return false;
    char mark = '.';
    for (; *text != '\0'; text++) {
        if (decimals < 0 && (*text == '.' || *text == ',')) {
            mark = *text;
            decimals = 0;
        } else if (*text < '0' || *text > '9' || number > INT64_C(100000000)) {
            return false;
        } else if (decimals < 3) {
            number = number * 10 + (*text - '0');
            decimals += decimals >= 0;
        } else {
            decimals++;
        }
    }
    if (decimals == 0 || decimals > 6 || (mark == ',' && decimals != 4))
        return false;
    for (int i = decimals < 0 ? 0 : decimals; i < 3; i++)
        number *= 10;
    *milli = number;
    return number > 0;
}

static void state_text(const sw_dump *dump, sw_about about, const found *in, field which,
                       const char *property) {
    const char *text = is_doubtful(in, which) ? NULL : sw_dump_text(in->data[which]);
    about.place = in->place[which];
    if (text != NULL)
        sw_state_text(dump->list, &about, property, text, strlen(text));
}

static void state_megahertz(const sw_dump *dump, sw_about about, const found *in, field which,
                            const char *property) {
    const char *text = is_doubtful(in, which) ? NULL : sw_dump_text(in->data[which]);
    int64_t milli = 0;
    about.place = in->place[which];
    if (text != NULL && megahertz(&milli, text))
        sw_state_milli(dump->list, &about, property, milli);
}

/* Threads are counted from all of them: cores times "threads per core" is wrong where some cores
 * have two and others one. */
static void state_numbers(const sw_dump *dump, sw_about about, const found *in) {
    int64_t all = 0, cores = 0, sockets = 0;
    bool known = number_of(&cores, in, CORES_EACH) && cores > 0;
    if (known) {
        about.place = in->place[CORES_EACH];
        sw_state_whole(dump->list, &about, "cores", cores);
    }
    bool counted = number_of(&all, in, ALL_THREADS) && number_of(&sockets, in, SOCKETS);
    if (!counted || sockets == 0 || all == 0 || all % sockets != 0 ||
        (known && all / sockets < cores))
        return;
    about.place = in->place[ALL_THREADS];
    sw_state_whole(dump->list, &about, "threads", all / sockets);
}

void sw_lscpu_read(const sw_dump *dump, const sw_json *root) {
    found in = {0};
    gather(&in, dump, sw_dump_get(root, "lscpu"), "$.lscpu");
    int64_t processors = 1;
    if (!number_of(&processors, &in, SOCKETS) || processors < 1 || processors > PROCESSORS_LIMIT)
        processors = 1;
    for (int64_t i = 0; i < processors; i++) {
        const char *key = sw_arena_format(dump->scratch, "%d", (int)i);
        dump->list->failed |= key == NULL;
        sw_about about = {"processor", key, dump->file, ""};
        state_text(dump, about, &in, NAME, "name");
        state_text(dump, about, &in, MAKER, "maker");
        state_numbers(dump, about, &in);
        state_megahertz(dump, about, &in, MOST_MHZ, "max_mhz");
        state_megahertz(dump, about, &in, MHZ, "current_mhz");
    }
}
