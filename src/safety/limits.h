/* src/safety/limits.h - asking a set of published limits.
 *
 * Owns     nothing; the sets are model/limitset's.
 * May use  base/, model/.
 * Units    thousandths of a degree Celsius; whole seconds.
 * Source   each row of a set says its own. The federal text of the FDA Food Code was not at hand: rows
 *          were read in state codes that carry its wording under its own numbers, or are from memory.
 */
#ifndef BP_SAFETY_LIMITS_H
#define BP_SAFETY_LIMITS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/text.h"
#include "model/show.h"

/* A temperature is held for so long while a probe is read: common practice, no source. What must be
 * held for longer has to be stated in the show file. */
#define BPI_LIMIT_PROBE 30 /* s */

/* The first row of a limit, below BPI_LIMITS; NULL: the set has none. */
const bpi_limit *bpi_limit_of(const bpi_limits *set, bpi_limit_id id);

/* Which limit a kind of food is cooked to; BPI_LIMITS: none is published for it. */
bpi_limit_id bpi_limit_cook(bpi_food food);

/* The row to name to a cook: the first that needs no longer than a probe takes, else the first. */
const bpi_limit *bpi_limit_named(const bpi_limits *set, bpi_limit_id id);

/* Is `temp_mC` at or above (at or below) what is printed, in whichever of the two units it is the easier?
 * A show that says 165 F (73.889 °C) meets a limit printed as 74 °C (165 °F), and so does 74 C. */
bool bpi_limit_reached(const bpi_limit *limit, int32_t temp_mC);
bool bpi_limit_below(const bpi_limit *limit, int32_t temp_mC);

/* Does a core of `core_mC`, held for `held` seconds (0: not stated), meet one of the rows? */
bool bpi_limit_cooked(const bpi_limits *set, bpi_limit_id id, int32_t core_mC, int64_t held);

void bpi_limit_put(bpi_text *out, const bpi_limit *limit); /* "74 °C (165 °F)"              */
void bpi_temp_put(bpi_text *out, int32_t temp_mC);         /* "73.9 °C (165 °F)", rounded   */

#endif
