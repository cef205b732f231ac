/* Temperatures, fans, volts and watts as `sensors -j` reads them. */
#ifndef SW_INTAKE_SENSORS_H
#define SW_INTAKE_SENSORS_H

#include "intake/dump.h"

/* An object of chips; each holds its adapter and features, each of these its readings. */
bool sw_sensors_is(const sw_json *root);
void sw_sensors_read(const sw_dump *dump, const sw_json *root);

#endif
