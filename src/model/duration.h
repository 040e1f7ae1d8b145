/* src/model/duration.h - lengths of time as a show file has them.
 *
 * Owns     the units of time and how they are written.
 * May use  base/.
 * Units    whole seconds, 0 to BPI_MAX_LENGTH.
 *
 *   span     "8 min"  "20 s"  "1 h 10 min"  "2 min 30 s"  "1 d"     larger units first, each once
 *            "PT15M"  "PT1H10M"  "P1D"                              ISO 8601, no weeks or months
 *   window   "15-18 min"  "40 s - 1 min"                            hyphen or en dash
 *   slot     a span, or minutes and seconds: "4:25"
 *
 * There is at most one blank between the parts and none at the ends. A day is 24 hours that pass.
 */
#ifndef BP_MODEL_DURATION_H
#define BP_MODEL_DURATION_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "model/fault.h"

#define BPI_MAX_LENGTH (INT64_C(7) * 86400) /* nothing behind one show day is longer */

/* Each returns false with *f filled in; the results are then unchanged. */
bool bpi_span_read(int64_t *out, const char *text, size_t len, bpi_fault *f);
bool bpi_slot_read(int64_t *out, const char *text, size_t len, bpi_fault *f);

/* A span (least = most) or a window. */
bool bpi_window_read(int64_t *least, int64_t *most, const char *text, size_t len, bpi_fault *f);

#endif
