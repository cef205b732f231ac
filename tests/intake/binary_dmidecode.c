/* smbios.c and dmi_text.c against dmidecode: what it prints of a made-up table, read here anew by a
 * table of its own, is what must be told, no more and no less. */
#include "binary.h"

#include <stdlib.h>
#include <string.h>

/* ---- dmidecode's text
 * ---------------------------------------------------------------------------- */

typedef struct line {
    char *name, *value;
} line;

typedef struct printed {
    unsigned handle, type;
    line lines[80];
    size_t count;
} printed;

typedef struct print {
    printed *all;
    size_t count;
} print;

static void add_line(printed *to, char *text) {
    char *colon = strchr(text, ':');
    if (colon == NULL || text[0] != '\t' || text[1] == '\t' || to->count == 80)
        return;
    *colon = '\0';
    to->lines[to->count++] = (line){text + 1, colon[1] == ' ' ? colon + 2 : colon + 1};
}

static print parse(char *text) {
    print out = {calloc(300, sizeof(printed)), 0};
    for (char *at = strtok(text, "\n"); at != NULL; at = strtok(NULL, "\n")) {
        unsigned handle, type;
        if (sscanf(at, "Handle 0x%x, DMI type %u", &handle, &type) == 2 && out.count < 300) {
            out.all[out.count].handle = handle;
            out.all[out.count++].type = type;
        } else if (out.count > 0) {
            add_line(&out.all[out.count - 1], at);
        }
    }
    return out;
}

static const char *value_of(const printed *in, const char *name) {
    for (size_t i = 0; in != NULL && i < in->count; i++)
        if (strcmp(in->lines[i].name, name) == 0)
            return in->lines[i].value;
    return NULL;
}

static const printed *with_handle(const print *in, unsigned handle) {
    for (size_t i = 0; i < in->count; i++)
        if (in->all[i].handle == handle)
            return &in->all[i];
    return NULL;
}

/* ---- what each line must become
 * -------------------------------------------------------------------- */

typedef enum shape { WORDS, WIDTH, AMOUNT, STATE, MEGA, GIGA } shape;

typedef struct rule {
    unsigned type;
    const char *line, *device, *property;
    shape shape;
} rule;

static const rule rules[] = {
    {0, "Vendor", "firmware", "maker", WORDS},
    {0, "Version", "firmware", "version", WORDS},
    {0, "Release Date", "firmware", "date", WORDS},
    {1, "Manufacturer", "system", "maker", WORDS},
    {1, "Product Name", "system", "product", WORDS},
    {1, "Version", "system", "version", WORDS},
    {2, "Manufacturer", "board", "maker", WORDS},
    {2, "Product Name", "board", "product", WORDS},
    {2, "Version", "board", "version", WORDS},
    {3, "Manufacturer", "chassis", "maker", WORDS},
    {3, "Type", "chassis", "form", WORDS},
    {4, "Version", "processor", "name", WORDS},
    {4, "Manufacturer", "processor", "maker", WORDS},
    {4, "Socket Designation", "processor", "socket", WORDS},
    {4, "Upgrade", "processor", "upgrade", WORDS},
    {4, "Core Count", "processor", "cores", AMOUNT},
    {4, "Thread Count", "processor", "threads", AMOUNT},
    {4, "Max Speed", "processor", "max_mhz", AMOUNT},
    {4, "Current Speed", "processor", "current_mhz", AMOUNT},
    {4, "Status", "processor", "populated", STATE},
    {9, "Type", "slot", "type", WIDTH},
    {9, "Current Usage", "slot", "usage", WORDS},
    {16, "Number Of Devices", "memory-array", "slots", AMOUNT},
    {16, "Maximum Capacity", "memory-array", "most_gb", GIGA},
    {17, "Size", "memory-module", "size_mb", MEGA},
    {17, "Type", "memory-module", "type", WORDS},
    {17, "Form Factor", "memory-module", "form", WORDS},
    {17, "Speed", "memory-module", "rated_mt_s", AMOUNT},
    {17, "Configured Memory Speed", "memory-module", "configured_mt_s", AMOUNT},
    {17, "Manufacturer", "memory-module", "maker", WORDS},
    {17, "Part Number", "memory-module", "part_number", WORDS},
};

/* The words of this test's tables and of dmidecode that say nothing. */
static bool says_nothing(const char *value) {
    static const char *const words[] = {"Unknown",        "Other",
                                        "None",           "Not Specified",
                                        "<BAD INDEX>",    "<OUT OF SPEC>",
                                        "Reserved",       "To Be Filled By O.E.M.",
                                        "Default string", "System Product Name",
                                        "XXXXXXXX",       "N/A"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strcmp(value, words[i]) == 0)
            return true;
    for (; *value != '\0'; value++)
        if ((*value >= '1' && *value <= '9') || (*value >= 'A' && *value <= 'Z') ||
            (*value >= 'a' && *value <= 'z'))
            return false;
    return true; /* zeros and marks */
}

/* Ends trimmed; with dots (and all that dmidecode prints as dots) left out. */
static void normal(char *out, size_t room, const char *text, bool dotted) {
    size_t length = 0;
    while (*text == ' ')
        text++;
    for (; *text != '\0' && length + 1 < room; text++)
        if (!dotted || (*text != '.' && (unsigned char)*text < 0x80))
            out[length++] = *text;
    while (length > 0 && out[length - 1] == ' ')
        length--;
    out[length] = '\0';
}

static long long milli_of_size(const char *value, long long unit_kib) {
    static const char units[] = "kMGTP";
    char *rest;
    long long number = strtoll(value, &rest, 10), kib = number;
    if (rest == value || *rest != ' ' || strcmp(rest, " bytes") == 0)
        return -1;
    const char *unit = strchr(units, rest[1]);
    for (long i = unit == NULL ? 0 : (long)(unit - units); i > 0; i--)
        kib *= 1024;
    return number == 0        ? -1
           : unit_kib == 1024 ? kib * 1000 / 1024
                              : (kib * 1000 + unit_kib / 2) / unit_kib;
}

/* The value as `as_text` writes it, "" for none. */
static void expected(char *out, size_t room, const rule *by, const char *value, bool dotted) {
    long long milli = -1;
    normal(out, room, value, dotted && by->shape == WORDS);
    if (by->shape == WIDTH && strncmp(out, "<OUT OF SPEC> ", 14) == 0)
        memmove(out, out + 14, strlen(out + 14) + 1);
    const char *last = strrchr(out, ' ');
    if (by->shape == WIDTH &&
        (says_nothing(last == NULL ? out : last + 1) || strstr(out, "<OUT OF SPEC>") != NULL))
        out[0] = '\0';
    if (by->shape == STATE)
        snprintf(out, room, "%s", strncmp(value, "Populated", 9) == 0 ? "true" : "false");
    if (by->shape == WORDS && (says_nothing(value) || says_nothing(out)))
        out[0] = '\0';
    if (by->shape == WORDS && strcmp(out, "Socket BGA1155") == 0)
        snprintf(out, room, "Socket LGA1155"); /* renamed by version 2.8 of the standard */
    if (by->shape == AMOUNT)
        snprintf(out, room, "%lld", strtoll(value, NULL, 10)); /* "Unknown" is 0 */
    if (by->shape == AMOUNT && strcmp(out, "0") == 0)
        out[0] = '\0';
    if (by->type == 4 && by->shape == AMOUNT && strcmp(value, "65535") == 0)
        out[0] = '\0'; /* 7.5.6: FFFFh is reserved */
    if (by->shape != MEGA && by->shape != GIGA)
        return;
    milli = milli_of_size(value, by->shape == MEGA ? 1024 : 1024 * 1024);
    if (strcmp(value, "No Module Installed") == 0)
        milli = 0;
    if (strcmp(value, "32767 MB") == 0)
        milli = -1; /* the code for "see further on", where nothing is further on */
    if (milli < 0 || (milli == 0 && by->shape == GIGA))
        out[0] = '\0';
    else if (milli % 1000 == 0)
        snprintf(out, room, "%lld", milli / 1000);
    else
        snprintf(out, room, "%lld.%03lld", milli / 1000, milli % 1000);
}

/* ---- which structures count
 * ----------------------------------------------------------------------------- */

static bool is_first_of(const print *in, const printed *at, const char *wanted) {
    for (size_t i = 0; i < in->count; i++) {
        const char *type = value_of(&in->all[i], "Type");
        if (in->all[i].type == at->type &&
            (wanted == NULL || (type != NULL && strcmp(type, wanted) == 0)))
            return &in->all[i] == at;
    }
    return false;
}

static bool has_motherboard(const print *in) {
    for (size_t i = 0; i < in->count; i++) {
        const char *type = value_of(&in->all[i], "Type");
        if (in->all[i].type == 2 && type != NULL && strcmp(type, "Motherboard") == 0)
            return true;
    }
    return false;
}

static bool board_counts(const print *in, const printed *at) {
    if (has_motherboard(in))
        return is_first_of(in, at, "Motherboard");
    for (size_t i = 0; i < in->count; i++) {
        const char *type = value_of(&in->all[i], "Type");
        if (in->all[i].type == 2 && (type == NULL || says_nothing(type)))
            return &in->all[i] == at;
    }
    return false;
}

static bool other_memory(const printed *array) {
    const char *use = value_of(array, "Use");
    return use != NULL && !says_nothing(use) && strcmp(use, "System Memory") != 0;
}

static bool is_counted(const print *in, const printed *at) {
    const char *type = value_of(at, "Type"), *array = value_of(at, "Array Handle");
    if (at->type <= 3)
        return at->type == 2 ? board_counts(in, at) : is_first_of(in, at, NULL);
    if (at->type == 4)
        return type == NULL || strstr(type, "Processor") == NULL || type[0] == 'C';
    if (at->type == 16)
        return !other_memory(at);
    if (at->type == 17 && array != NULL) {
        const printed *of = with_handle(in, (unsigned)strtoul(array, NULL, 16));
        return of == NULL || of->type != 16 || !other_memory(of);
    }
    return true;
}

/* ---- the comparison
 * ------------------------------------------------------------------------------------- */

typedef struct comparing {
    tally *count;
    const char *name;
    const told *is;
    const print *in;
    bool dotted;
} comparing;

static const sw_statement *stated(const told *is, unsigned handle, const rule *by) {
    char place[32];
    snprintf(place, sizeof place, "handle %04Xh", handle);
    for (size_t i = 0; i < is->list.count; i++) {
        const sw_statement *at = &is->list.all[i];
        if (strcmp(at->place, place) == 0 && strcmp(at->property, by->property) == 0 &&
            strcmp(at->device, by->device) == 0)
            return at;
    }
    return NULL;
}

/* A code that this dmidecode does not know may be known to a newer version of the standard. */
static bool is_newer(const sw_statement *at, const char *value) {
    static const char *const names[] = {"HBM3", "CAMM"};
    bool is_new = strncmp(at->text, "Socket ", 7) == 0 && strcmp(at->property, "upgrade") == 0;
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        is_new |= strcmp(at->text, names[i]) == 0;
    return is_new && strcmp(value, "<OUT OF SPEC>") == 0;
}

static void compare_line(const comparing *with, const printed *at, const rule *by) {
    char want[4096], got[4096] = "", whole[4096];
    const char *value = value_of(at, by->line);
    const sw_statement *is = stated(with->is, at->handle, by);
    const char *size = value_of(at, "Size");
    if (value == NULL)
        return; /* dmidecode has its own view of which lengths are too short */
    bool counts = is_counted(with->in, at);
    bool is_empty = size != NULL && strcmp(size, "No Module Installed") == 0 &&
                    strcmp(by->property, "size_mb") != 0 && strcmp(by->property, "form") != 0 &&
                    strcmp(by->property, "type") != 0;
    expected(want, sizeof want, by, counts && !is_empty ? value : "Unknown", with->dotted);
    if (by->shape == STATE && !counts)
        want[0] = '\0';
    if (is != NULL) {
        as_text(whole, sizeof whole, is);
        size_t head = strlen(is->device) + strlen(is->key) + (is->key[0] != '\0') + 1 +
                      strlen(is->property) + 1;
        normal(got, sizeof got, whole + head, with->dotted && by->shape == WORDS);
    }
    if (is != NULL && counts && is_newer(is, value))
        return;
    if (with->dotted && by->shape == WORDS && says_nothing(got) && says_nothing(want))
        return; /* marks among dots: what they were is not to be seen */
    check(with->count, strcmp(want, got) == 0,
          "%s: handle %04Xh, %s: dmidecode prints \"%s\", so \"%s\" is expected, told is \"%s\"",
          with->name, at->handle, by->line, value, want, got);
}

static void compare_print(const comparing *with) {
    for (size_t i = 0; i < with->in->count; i++)
        for (size_t r = 0; r < sizeof rules / sizeof *rules; r++)
            if (rules[r].type == with->in->all[i].type)
                compare_line(with, &with->in->all[i], &rules[r]);
}

/* Is there a line in which dmidecode told what this statement tells? */
static bool is_printed(const print *in, const sw_statement *at) {
    unsigned handle = 0;
    sscanf(at->place, "handle %xh", &handle);
    const printed *of = with_handle(in, handle);
    for (size_t r = 0; of != NULL && r < sizeof rules / sizeof *rules; r++)
        if (rules[r].type == of->type && strcmp(rules[r].property, at->property) == 0 &&
            strcmp(rules[r].device, at->device) == 0) {
            const char *value = value_of(of, rules[r].line);
            return value != NULL && strcmp(value, "<OUT OF SPEC>") != 0;
        }
    return false;
}

/* The reader of text must tell of dmidecode's text what the reader of bytes tells of the bytes. */
static void compare_text(const comparing *with, const blob *text) {
    told of;
    char what[4096];
    tell(&of, sw_dmi_text_read, text->bytes, text->length);
    for (size_t i = 0; i < with->is->list.count; i++) {
        const sw_statement *at = &with->is->list.all[i];
        as_text(what, sizeof what, at);
        if (is_printed(with->in, at))
            check(with->count, tells(&of, what), "%s: not told of the text: %s", with->name, what);
    }
    size_t extra = missing(&of, with->is, what, sizeof what);
    check(with->count, extra == 0, "%s: told of the text alone: %s", with->name, what);
    forget(&of);
}

/* Handles that stand twice would be taken for each other here. */
static bool has_twins(const print *in) {
    for (size_t i = 0; i < in->count; i++)
        if (with_handle(in, in->all[i].handle) != &in->all[i])
            return true;
    return false;
}

/* Structures too short for dmidecode to look at may count here (a first board, an array). */
static bool has_stumps(const print *in) {
    for (size_t i = 0; i < in->count; i++) {
        unsigned type = in->all[i].type;
        if (in->all[i].count == 0 && (type <= 4 || type == 9 || type == 16 || type == 17))
            return true;
    }
    return false;
}

static long one_table(tally *count, const char *work, const char *name, const blob *table,
                      bool dotted) {
    char path[4096], command[8192];
    snprintf(path, sizeof path, "%s/made.dmi", work);
    snprintf(command, sizeof command, "dmidecode --from-dump '%s' 2>/dev/null", path);
    blob_write(table, path);
    blob text = {0}, torn = {0};
    told is;
    tell(&is, sw_smbios_read, table->bytes, table->length);
    check(count, blob_of_command(&text, command), "%s: dmidecode does not run", name);
    blob_add(&torn, text.bytes, text.length);
    print in = parse(torn.bytes);
    long lines = 0;
    comparing with = {count, name, &is, &in, dotted};
    if (!has_twins(&in) && !has_stumps(&in)) {
        compare_print(&with);
        if (!dotted)
            compare_text(&with, &text);
        lines = (long)in.count;
    }
    check(count, sw_statements_end(&is.list, is.complaints) == SW_OK, "%s: the list", name);
    free(in.all);
    blob_free(&text);
    blob_free(&torn);
    forget(&is);
    return lines;
}

void test_dmi(tally *count, const char *work, uint64_t seed, long cases) {
    long before = count->passed + count->failed, structures = 0;
    for (long i = 0; i < cases; i++) {
        uint64_t dice = seed * 1000003 + (uint64_t)i;
        char name[64];
        bool dotted;
        blob table = {0};
        snprintf(name, sizeof name, "table %llu/%ld", (unsigned long long)seed, i);
        make_dmi(&table, &dotted, &dice);
        if (i % 2 == 1)
            spoil_dmi(&table, &dice);
        structures += one_table(count, work, name, &table, dotted || i % 2 == 1);
        blob_free(&table);
    }
    check(count, structures >= cases * 3, "only %ld structures were compared", structures);
    printf("tables against dmidecode: %ld, structures: %ld, checks: %ld\n", cases, structures,
           count->passed + count->failed - before);
}
