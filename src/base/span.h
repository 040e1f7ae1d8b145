/* src/base/span.h - lengths of time as people write them.
 *
 * Owns     nothing.
 * May use  base/text.
 * Units    whole seconds; below zero is over, or before. Nothing ever wraps at an hour or a day.
 */
#ifndef BP_BASE_SPAN_H
#define BP_BASE_SPAN_H

#include <stdint.h>

#include "base/text.h"

/* "40 s", "4 min", "4 min 25 s", "1 h 10 min", "0 s", "-5 s"; no day unit: "26 h". */
void bpi_span_words(bpi_text *out, int64_t seconds);

/* "4:25", "0:05", "-0:05", "125:00": minutes and seconds, as a slot is written. */
void bpi_span_minutes(bpi_text *out, int64_t seconds);

/* "00:04:25", "-00:02:50", "24:02:15". */
void bpi_span_hours(bpi_text *out, int64_t seconds);

#endif
