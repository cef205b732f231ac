/* Spoils one datum of a copy of the catalog. */
#ifndef RELATIONS_ALTER_H
#define RELATIONS_ALTER_H

#include "language.h"

void alter(const relation *r, pool *memory, const char *catalog);

#endif
