/* What must hold of statements, whoever read them. */
#ifndef FUZZ_DUMP_H
#define FUZZ_DUMP_H

#include "intake/tell.h"

typedef struct fuzz_dump {
    sw_arena *arena;
    sw_statements list;
    sw_complaints *faults;
    sw_dump_kind kind;
} fuzz_dump;

void fuzz_dump_read(fuzz_dump *out, const char *bytes, size_t length);
void fuzz_dump_check(const fuzz_dump *dump);
bool fuzz_dump_same(const fuzz_dump *a, const fuzz_dump *b);
void fuzz_dump_free(fuzz_dump *dump);

#endif
