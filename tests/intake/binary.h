/* The readers of binary descriptions held against published values and other programs. */
#ifndef TESTS_INTAKE_BINARY_H
#define TESTS_INTAKE_BINARY_H

#include <stdio.h>

#include "intake/dmi_text.h"
#include "intake/edid.h"
#include "intake/smbios.h"

/* ---- counting ---- */
typedef struct tally {
    long passed, failed, shown;
} tally;

#if defined(__GNUC__)
__attribute__((format(printf, 3, 4)))
#endif
void check(tally *count, bool holds, const char *format, ...);

/* ---- what a reader told ---- */
typedef sw_status reader(sw_statements *list, const char *file, const char *bytes, size_t length,
                         sw_complaints *complaints);

typedef struct told {
    sw_arena *arena;
    sw_statements list;
    sw_complaints *complaints;
    sw_status status;
} told;

/* Reads an exact copy of the bytes on the heap, so that the sanitizer sees every step too far. */
void tell(told *out, reader *read, const char *bytes, size_t length);
void forget(told *is);

/* A statement as text without its place: "memory-module:DIMM A1 size_mb 16384"; in `room` bytes. */
void as_text(char *out, size_t room, const sw_statement *is);
/* Is it told, in exactly this form? */
bool tells(const told *is, const char *statement);
/* Statements of `from` that `other` lacks; the last is named. */
size_t missing(const told *from, const told *other, char *named, size_t room);

/* ---- files and programs ---- */
typedef struct blob {
    char *bytes;
    size_t length, room;
} blob;

void blob_add(blob *is, const void *bytes, size_t length);
void blob_free(blob *is);
bool blob_read(blob *out, const char *path);
void blob_write(const blob *is, const char *path);
/* What a command prints. */
bool blob_of_command(blob *out, const char *command);

/* ---- dice: splitmix64 (Steele, Lea, Flood 2014) ---- */
uint64_t roll(uint64_t *dice);
unsigned below(uint64_t *dice, unsigned most);
bool one_in(uint64_t *dice, unsigned most);

/* ---- made-up descriptions ---- */
/* Strings with bytes that dmidecode prints as dots are marked. */
void make_dmi(blob *out, bool *dotted, uint64_t *dice);
void spoil_dmi(blob *is, uint64_t *dice);
void make_edid(blob *out, uint64_t *dice);
void spoil_edid(blob *is, uint64_t *dice);

/* ---- the parts of the test ---- */
void test_facts(tally *count, const char *data, const char *work);
void test_listed(tally *count);
void test_dmi(tally *count, const char *work, uint64_t seed, long cases);
void test_edid(tally *count, const char *work, uint64_t seed, long cases);
void test_hostile(tally *count, const char *data, uint64_t seed, long cases, bool every_length);

#endif
