/* The kinds of intake, each with words of its own. */
#ifndef SW_FACE_INTAKE_H
#define SW_FACE_INTAKE_H

#include "face/commands.h"

int sw_intake_dumps(const sw_words *words);
int sw_intake_ask(const sw_words *words);
int sw_intake_piece(const sw_words *words);
int sw_intake_prices(const sw_words *words);

#endif
