/* src/model/temperature.h - temperatures as a show file has them: "400 F", "200 °C", "12 C/min".
 *
 * Owns     the two scales.
 * May use  base/.
 * Units    thousandths of a degree Celsius, rounded to the nearest, halves away from zero.
 *
 * One digit may stand after a decimal point. At most one blank stands before the unit.
 */
#ifndef BP_MODEL_TEMPERATURE_H
#define BP_MODEL_TEMPERATURE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "model/fault.h"

/* Each returns false with *f filled in; *out is then unchanged. */
bool bpi_temperature_read(int32_t *out, const char *text, size_t len, bpi_fault *f);

/* Degrees a minute: a difference, so 9 F/min are 5 C/min. */
bool bpi_rate_read(int32_t *out, const char *text, size_t len, bpi_fault *f);

#endif
