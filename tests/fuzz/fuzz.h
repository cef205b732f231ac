/* What the harnesses share: what must hold of every answer, and a small catalog to read. */
#ifndef FUZZ_H
#define FUZZ_H

#include "read/json.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Ends the run, which keeps the input, where it does not hold. */
void fuzz_hold(bool holds, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* UTF-8 (RFC 3629) without control characters. */
bool fuzz_is_readable(const char *text);
/* Each complaint says what, why and how to mend it, readably; there is none where all is well, and
 * else at least one. */
void fuzz_complaints(sw_status status, const sw_complaints *complaints);
/* The same, and it is one alone, beside those of names that an object holds twice. */
void fuzz_one_complaint(sw_status status, const sw_complaints *complaints);
bool fuzz_same_complaints(const sw_complaints *a, const sw_complaints *b);
bool fuzz_same_json(const sw_json *a, const sw_json *b);

/* A folder of this process with the files of tests/unit/shelf_files.h in it, which goes at the
 * end. */
const char *fuzz_folder(void);
/* "FOLDER/name", to be freed. */
char *fuzz_path(const char *name);
void fuzz_write(const char *name, const char *bytes, size_t length);
/* The file as the shelf has it. */
void fuzz_restore(const char *name);

/* The bytes with a NUL behind, to be freed. */
char *fuzz_text(const uint8_t *data, size_t size);
/* The same made valid: what is no UTF-8, NUL and control characters become "?". */
char *fuzz_utf8(const uint8_t *data, size_t size);
/* Cuts the first line off: a NUL takes the place of its end. NULL: there is none. */
char *fuzz_rest(char *text);

/* One file of the shelf, named by the first line of the input ("catalog/rules.json"), is what
 * follows; inputs with other names are passed over. The catalog and the job are read; read again,
 * and with the file written anew as JSON, the same must be said. */
void fuzz_shelf_file(const uint8_t *data, size_t size, const char *const *names, size_t count);

#endif
