/* src/out/moment.h - the clock of a plan, and its moments as other programs read them.
 *
 * Owns     nothing.
 * May use  base/; reads the plan.
 * Units    plan time, whole seconds.
 */
#ifndef BP_OUT_MOMENT_H
#define BP_OUT_MOMENT_H

#include "backpot/plan.h"
#include "base/clock.h"
#include "base/error.h"
#include "base/zone.h"

/* The clock of `plan`; `zone` is where it keeps its zone, and both need the plan.
 * Errors: BP_EVALUE (no zone of that name here), BP_ERANGE (a year that zones are not known for). */
bp_code bpi_moment_clock(bpi_clock *clock, bpi_zone *zone, const bp_plan *plan, bp_errors *errs);

/* Append "2026-12-03T08:24:00+01:00" (ISO 8601, RFC 3339). */
void bpi_moment_put(bpi_text *out, const bpi_clock *clock, int64_t t);

#endif
