/*
 * What every stage stands on: statuses, an arena, text, complaints, exact
 * decimals. Nothing here knows about computers, catalogs or solvers.
 */
#ifndef SW_BASE_H
#define SW_BASE_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "swapworth.h"

/* ---- arena: one owner frees a whole stage's memory at once ---------------- */

typedef struct sw_arena sw_arena;

sw_arena *sw_arena_new(void); /* NULL when memory is out */
void sw_arena_free(sw_arena *arena);

/* `count` zeroed objects of `size` bytes; NULL when memory is out or the
 * product overflows. count == 0 gives a non-NULL pointer. */
void *sw_arena_alloc(sw_arena *arena, size_t count, size_t size);
#define SW_NEW(arena, type, count) ((type *)sw_arena_alloc((arena), (count), sizeof(type)))

/* A copy of `length` bytes with a NUL behind; NULL when memory is out. */
char *sw_arena_text(sw_arena *arena, const char *bytes, size_t length);
char *sw_arena_copy(sw_arena *arena, const char *text);
#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
char *
sw_arena_format(sw_arena *arena, const char *format, ...);

/* ---- growing arrays on the heap ------------------------------------------- */

/* Makes room for one more element of `size` bytes behind `*count` used of
 * `*room`; returns false when memory is out and leaves the array as it was. */
bool sw_grow(void **array, size_t *room, size_t count, size_t size);
#define SW_GROW(array, room, count) sw_grow((void **)&(array), &(room), (count), sizeof(*(array)))

/* ---- text that grows ------------------------------------------------------- */

/* `failed` stays set once memory ran out: check it at the end. `bytes` is
 * always NUL-terminated once anything was added. Zero-initialise; free with
 * sw_text_free. */
typedef struct sw_text {
    char *bytes;
    size_t length, room;
    bool failed;
} sw_text;

void sw_text_add(sw_text *text, const char *more);
void sw_text_add_bytes(sw_text *text, const char *bytes, size_t length);
#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
void
sw_text_addf(sw_text *text, const char *format, ...);
/* Millionths in the digits they deserve: one decimal from 10 up, three below, no
 * needless zeros: 78.4, 42, 0.125. */
void sw_text_add_millionths(sw_text *text, int64_t millionths);
/* A number of so many decimals (0 to 6) in three figures, and whole above that: 0.0374, 3.74,
 * 374, 3740. */
void sw_text_add_figures(sw_text *text, int64_t number, int decimals);
void sw_text_free(sw_text *text);

/* Bytes compare, NULL before everything. */
int sw_text_compare(const char *a, const char *b);

/* The entry of `names` nearest to `name` by edit distance, NULL when none is
 * near enough to be a likely slip (distance at most 1 + length / 4). */
const char *sw_nearest(const char *name, const char *const *names, size_t count);

/* ---- complaints -------------------------------------------------------------- */

/* Adds one complaint; every text is copied. `place` is a line ("line 7") or a
 * JSON path ("$.machine.memory[0].part"); `what` is a format. When memory is
 * out, or a text is NULL because it was out before, the complaint is counted but lost. At most 200
 * are kept; the rest are counted. */
#if defined(__GNUC__)
__attribute__((format(printf, 6, 7)))
#endif
void
sw_complain(sw_complaints *complaints, const char *file, const char *place, const char *why,
            const char *mend, const char *what, ...);
/* Was there one that could not be kept for want of memory? Then what is told is lacking memory. */
bool sw_complaints_lack_memory(const sw_complaints *complaints);

/* What the system calls an error, in `room`: what strerror() returns another thread may change. */
#define SW_ERROR_ROOM 128
const char *sw_error_words(char room[SW_ERROR_ROOM], int error);

/* ---- exact decimals ------------------------------------------------------------ */

#define SW_MILLI_LIMIT INT64_C(1000000000) /* |number| <= 1,000,000 */
#define SW_MONEY_LIMIT INT64_C(1000000000) /* minor units in one amount */

/* Thousandths of `number`, exact; false when it has more than three decimals,
 * is not finite, or is beyond the limit. */
bool sw_milli_from_number(int64_t *out, double number);

/* round(x), halves away from zero; false beyond +-2^62 or when not finite. */
bool sw_round(int64_t *out, double x);
/* To `decimals` (0 to 3) at once, as thousandths: rounding to thousandths first would round
 * some numbers twice. */
bool sw_round_to(int64_t *milli, double x, int decimals);

/* `numerator / denominator` to the nearest, denominator > 0. */
typedef enum sw_rounding { SW_HALF_UP, SW_HALF_EVEN } sw_rounding;
int64_t sw_divide(int64_t numerator, int64_t denominator, sw_rounding rounding);

/* Checked integer arithmetic: false on overflow, *out untouched. */
bool sw_add(int64_t *out, int64_t a, int64_t b);
bool sw_multiply(int64_t *out, int64_t a, int64_t b);

/* Digits behind the point of an ISO 4217 code, -1 when the code is not known. */
int sw_currency_digits(const char *code);

/* "210" or "210.00" into minor units of `digits` decimals: digits, and after
 * one point at most `digits` more; nothing else, no sign, at most
 * SW_MONEY_LIMIT. */
bool sw_money_parse(int64_t *out, const char *text, int digits);

/* Minor units as text, always with all decimals; arena-owned, NULL when out. */
const char *sw_money_text(sw_arena *arena, int64_t minor, int digits);
/* Millionths as text, exact, without needless zeros. */
const char *sw_millionths_text(sw_arena *arena, int64_t millionths);
/* Thousandths as text: `decimals` 0..3, rounded to the nearest. */
const char *sw_milli_text(sw_arena *arena, int64_t milli, int decimals);
/* The same, exact, without needless zeros. */
const char *sw_milli_exact(sw_arena *arena, int64_t milli);

#endif
