/* Members of a JSON object. */
#ifndef FITS_MEMBER_H
#define FITS_MEMBER_H

#include <cjson/cJSON.h>

const cJSON *get(const cJSON *object, const char *name);
const char *text_at(const cJSON *object, const char *name); /* "(none)" where there is none */
long number_at(const cJSON *object, const char *name, long otherwise);

#endif
