/* edid.c against edid-decode: every line that tells what is stated, and the timings added up anew.
 */
#include "binary.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct facts {
    char maker[64], name[64], interface[64];
    long model, year, bits, width, height, mm_across, mm_down, cm_across, cm_down;
    double refresh, exact, nominal; /* 0: none */
    bool bad_sum, has_first, interlaced, unread;
} facts;

/* ---- edid-decode's text -----------------------------------------------------------------------
 */

typedef struct timing {
    long width, height;
    double hz;
    bool interlaced, is_nominal;
} timing;

/* "    DTD 1:  2560x1440   59.950550 Hz  16:9 ..", "GTF     :  1600x1200 .." */
static bool is_timing(timing *out, const char *line) {
    char kind[16], *rest;
    const char *colon = strchr(line, ':');
    if (sscanf(line, " %15[A-Za-z]", kind) != 1 || colon == NULL ||
        !isdigit(colon[1 + strspn(colon + 1, " ")]))
        return false;
    out->width = strtol(colon + 1, &rest, 10);
    if (*rest != 'x')
        return false;
    out->height = strtol(rest + 1, &rest, 10);
    out->interlaced = *rest == 'i';
    out->hz = strtod(rest + out->interlaced, &rest);
    out->is_nominal = strcmp(kind, "GTF") == 0 || strcmp(kind, "CVT") == 0;
    return strncmp(rest, " Hz", 3) == 0;
}

static const char *behind(const char *line, const char *words) {
    const char *at = strstr(line, words);
    return at == NULL ? NULL : at + strlen(words);
}

static void read_identity(facts *out, const char *line) {
    const char *at;
    if ((at = behind(line, "    Manufacturer: ")) != NULL)
        sscanf(at, "%63s", out->maker);
    if ((at = behind(line, "    Model: ")) != NULL)
        out->model = strtol(at, NULL, 10);
    if ((at = behind(line, "Made in: week ")) != NULL)
        sscanf(at, "%*d of %ld", &out->year);
    else if ((at = behind(line, "Made in: ")) != NULL)
        out->year = strtol(at, NULL, 10);
    if ((at = behind(line, "Model year: ")) != NULL)
        out->year = strtol(at, NULL, 10);
    if ((at = behind(line, "Display Product Name: '")) != NULL && out->name[0] == '\0')
        sscanf(at, "%63[^']", out->name);
}

static void read_input(facts *out, const char *line) {
    const char *at;
    if ((at = behind(line, "Bits per primary color channel: ")) != NULL)
        out->bits = strtol(at, NULL, 10);
    if (strstr(line, "    Analog display") != NULL)
        strcpy(out->interface, "analog");
    else if (strncmp(line, "    ", 4) == 0 && strstr(line, " interface") != NULL &&
             strstr(line, "not defined") == NULL)
        sscanf(line, " %63s", out->interface);
    if ((at = behind(line, "Maximum image size: ")) != NULL)
        sscanf(at, "%ld cm x %ld cm", &out->cm_across, &out->cm_down);
    if (strstr(line, "should be") != NULL)
        out->bad_sum = true;
}

static void read_first(facts *out, const char *line, const timing *is) {
    const char *size = strstr(line, " mm x ");
    out->has_first = true;
    out->width = is->width;
    out->height = is->height;
    out->refresh = is->hz;
    out->interlaced = is->interlaced;
    while (size != NULL && isdigit((unsigned char)size[-1]))
        size--;
    if (size != NULL)
        sscanf(size, "%ld mm x %ld mm", &out->mm_across, &out->mm_down);
}

static void add_rate(facts *out, const timing *is) {
    if (is->width != out->width || is->height != out->height || is->interlaced)
        return;
    if (is->is_nominal)
        out->nominal = fmax(out->nominal, round(is->hz));
    else
        out->exact = fmax(out->exact, is->hz);
}

/* "DTD 1:", with ten or more of them "DTD  1:". */
static bool is_first(const char *line) {
    int number = 0;
    return sscanf(line, " DTD %d:", &number) == 1 && number == 1;
}

/* Twice: the size is known only when the first detailed timing was met. */
static void parse(facts *out, const char *text) {
    for (int pass = 0; pass < 2; pass++) {
        blob copy = {0};
        blob_add(&copy, text, strlen(text));
        for (char *line = strtok(copy.bytes, "\n"); line != NULL; line = strtok(NULL, "\n")) {
            timing is;
            bool timed = is_timing(&is, line);
            if (pass == 0)
                read_identity(out, line);
            if (pass == 0)
                read_input(out, line);
            if (pass == 0 && timed && !out->has_first && is_first(line))
                read_first(out, line, &is);
            if (pass == 1 && timed)
                add_rate(out, &is);
        }
        blob_free(&copy);
    }
}

/* ---- the comparison
 * ------------------------------------------------------------------------------ */

typedef struct comparing {
    tally *count;
    const char *name;
    const told *is;
} comparing;

static const sw_statement *stated(const comparing *with, const char *property, size_t which) {
    for (size_t i = 0; i < with->is->list.count; i++)
        if (strcmp(with->is->list.all[i].property, property) == 0 && which-- == 0)
            return &with->is->list.all[i];
    return NULL;
}

static void same_text(const comparing *with, const char *property, const char *want) {
    const sw_statement *at = stated(with, property, 0);
    check(with->count, strcmp(at == NULL ? "" : at->text, want) == 0,
          "%s: %s: edid-decode says \"%s\", told is \"%s\"", with->name, property, want,
          at == NULL ? "" : at->text);
}

/* 0: none. */
static void same_number(const comparing *with, const char *property, double want) {
    const sw_statement *at = stated(with, property, 0);
    double got = at == NULL ? 0 : (double)at->milli / 1000;
    check(with->count, fabs(got - want) <= 0.00051, "%s: %s: edid-decode says %f, told is %f",
          with->name, property, want, got);
}

/* The finer one; both where they differ by more than a cm. */
static void same_length(const comparing *with, const char *property, long fine, long coarse) {
    same_number(with, property, (double)(fine > 0 ? fine : coarse * 10));
    const sw_statement *second = stated(with, property, 1);
    bool differ = fine > 0 && coarse > 0 && labs(fine - coarse * 10) > 10;
    check(with->count, differ ? second != NULL && second->milli == coarse * 10000 : second == NULL,
          "%s: %s: %ld mm and %ld cm", with->name, property, fine, coarse);
}

static bool is_letters(const char *maker) {
    return strlen(maker) == 3 && strspn(maker, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == 3;
}

static void same_name(const comparing *with, char *name) {
    size_t length = strlen(name);
    while (length > 0 && name[length - 1] == ' ')
        name[--length] = '\0';
    if (strcmp(name, "0000") == 0 || strcmp(name, "Unknown") == 0)
        name[0] = '\0';
    same_text(with, "name", name);
}

static void compare(const comparing *with, facts *of, bool is_spoilt) {
    bool is_fine = of->mm_across > 0 && of->mm_down > 0;
    bool is_coarse = of->cm_across > 0 && of->cm_down > 0;
    same_text(with, "maker_id", is_letters(of->maker) ? of->maker : "");
    same_number(with, "product_code", (double)of->model);
    same_number(with, "year", (double)of->year);
    same_text(with, "interface", of->interface);
    same_number(with, "bits_per_colour", (double)of->bits);
    if (!is_spoilt) /* edid-decode shows bytes that are no letters in its own way */
        same_name(with, of->name);
    same_number(with, "width_px", (double)of->width);
    same_number(with, "height_px", (double)of->height);
    same_number(with, "refresh_hz", of->interlaced ? 0 : of->refresh);
    same_length(with, "width_mm", is_fine ? of->mm_across : 0, is_coarse ? of->cm_across : 0);
    same_length(with, "height_mm", is_fine ? of->mm_down : 0, is_coarse ? of->cm_down : 0);
    if (!is_spoilt || stated(with, "top_refresh_hz", 0) != NULL)
        same_number(with, "top_refresh_hz", of->nominal >= of->exact + 1 ? of->nominal : of->exact);
}

/* What is told of an EDID with a wrong sum or a missing block: nothing of such a base block, and
 * never a top rate. */
static void compare_broken(const comparing *with, bool base_is_good) {
    check(with->count, with->is->status == SW_BAD_DATA, "%s: not complained of", with->name);
    check(with->count, stated(with, "top_refresh_hz", 0) == NULL, "%s: a top rate", with->name);
    check(with->count, (with->is->list.count > 0) == base_is_good, "%s: %zu statements", with->name,
          with->is->list.count);
}

static bool sum_is_good(const blob *is, size_t block) {
    unsigned sum = 0;
    for (size_t i = 0; i < 128; i++)
        sum += (unsigned char)is->bytes[block * 128 + i];
    return sum % 256 == 0;
}

static bool one_edid(tally *count, const char *work, const char *name, const blob *is,
                     bool is_spoilt) {
    char path[4096], command[8192];
    snprintf(path, sizeof path, "%s/made.edid", work);
    snprintf(command, sizeof command, "edid-decode -s '%s' 2>/dev/null", path);
    blob_write(is, path);
    blob text = {0};
    told got;
    tell(&got, sw_edid_read, is->bytes, is->length);
    comparing with = {count, name, &got};
    bool whole = is->length == 128 * (1 + (size_t)(unsigned char)is->bytes[126]), compared = false;
    facts of = {.interface = ""};
    check(count, blob_of_command(&text, command) && text.length > 0, "%s: edid-decode fails", name);
    parse(&of, text.bytes);
    if (!whole || of.bad_sum) {
        compare_broken(&with, sum_is_good(is, 0));
    } else {
        check(count, got.status == SW_OK, "%s: complained of", name);
        compare(&with, &of, is_spoilt);
        compared = true;
    }
    check(count, sw_statements_end(&got.list, got.complaints) == SW_OK, "%s: the list", name);
    blob_free(&text);
    forget(&got);
    return compared;
}

void test_edid(tally *count, const char *work, uint64_t seed, long cases) {
    long before = count->passed + count->failed, compared = 0;
    for (long i = 0; i < cases; i++) {
        uint64_t dice = seed * 7000003 + (uint64_t)i;
        char name[64];
        blob is = {0};
        snprintf(name, sizeof name, "EDID %llu/%ld", (unsigned long long)seed, i);
        make_edid(&is, &dice);
        if (i % 2 == 1)
            spoil_edid(&is, &dice);
        compared += one_edid(count, work, name, &is, i % 2 == 1);
        blob_free(&is);
    }
    check(count, compared >= cases / 2, "only %ld EDIDs were compared", compared);
    printf("EDIDs against edid-decode: %ld, whole: %ld, checks: %ld\n", cases, compared,
           count->passed + count->failed - before);
}
