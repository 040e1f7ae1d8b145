/* src/day/bind.h - a day under way as rows of the engine's problem.
 *
 * Owns     the rows that tie a problem to the day.
 * May use  day/today, day/match, prep/, base/.
 * Units    engine time.
 *
 *   begun before now     start, choice and, once ended, length as they were; what stretches (a wait,
 *                        a window) and has not ended lasts at least until now
 *   lost                 whatever was done for it does not count; all of it starts now or later
 *   not begun            starts now or later; if not when it was planned, it has moved
 */
#ifndef BP_DAY_BIND_H
#define BP_DAY_BIND_H

#include "day/match.h"
#include "day/today.h"

/* Tie the problem of `p`, built anew with d->apart and matched with what was planned, to the day.
 * `late`: its first level is lateness. *hint gets a start for each job. Errors: BP_ENOMEM. */
bp_code bpi_bind(bpi_prep *p, const bpi_day *d, const bpi_match *match, bool late,
                 const int32_t **hint, bp_errors *errs);

#endif
