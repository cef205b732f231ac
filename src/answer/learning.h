/* What the shop's own jobs taught, put on what is told of a bundle: catalog/FORMATS.md section 28.
 */
#ifndef SW_ANSWER_LEARNING_H
#define SW_ANSWER_LEARNING_H

#include "answer/answer.h"

/* Shifts the rates, and gives them the band of the shop's own jobs, where these say enough. Rates
 * that nothing changes were measured: they stay. */
void sw_learn_rates(sw_answer_rate *rates, size_t count, const sw_catalog *catalog,
                    const sw_calibration *calibration);
/* The same of a bundle's rates, measures, level and loudness. */
void sw_learn_bundle(sw_answer_bundle *bundle, const sw_catalog *catalog,
                     const sw_calibration *calibration);

#endif
