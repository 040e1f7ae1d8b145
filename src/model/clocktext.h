/* src/model/clocktext.h - clock times as a show file has them: "08:24", "08:24:30", "-1d 16:00".
 *
 * Owns     how a clock time is written, and what to say where the clock skips it.
 * May use  base/.
 * Units    days after the show day; offsets are seconds east of UTC.
 *
 *   [+Nd |-Nd ]HH:MM[:SS][+HH:MM|-HH:MM]
 *
 * The offset (ISO 8601) says which one is meant of two moments that the clock reads alike.
 */
#ifndef BP_MODEL_CLOCKTEXT_H
#define BP_MODEL_CLOCKTEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/clock.h"
#include "model/fault.h"

typedef struct bpi_clocktext {
    int32_t day; /* -BPI_MAX_DAYS to 1 */
    int hour, minute, second;
    bool with_offset;
    int32_t offset;
    size_t time_at, offset_at; /* where those parts stand in the text */
} bpi_clocktext;

/* Each returns false with *f filled in; *out is then unchanged. */
bool bpi_clocktext_read(bpi_clocktext *out, const char *text, size_t len, bpi_fault *f);

/* The plan time of it. In a doubled hour without an offset: the first. */
bool bpi_clocktext_place(int64_t *out, const bpi_clock *clock, const bpi_clocktext *t,
                         bpi_fault *f);

#endif
