/* src/out/tell.h - what an event of a calendar says.
 *
 * Owns     the words.
 * May use  base/, out/event; reads the plan.
 */
#ifndef BP_OUT_TELL_H
#define BP_OUT_TELL_H

#include <stddef.h>

#include "backpot/plan.h"
#include "base/clock.h"
#include "base/text.h"
#include "out/event.h"

/* Append one line without blanks at either end, for a reader drops them, and without control
 * characters. */
void bpi_tell_plain(bpi_text *out, const char *s, size_t len);

/* Fill summary, description, location and category of an operation, of an appearance. What fails
 * leaves its mark in the text. */
void bpi_tell_op(bpi_entry *e, const bp_plan *plan, const bpi_clock *clock, const bp_op *op);
void bpi_tell_air(bpi_entry *e, const bp_plan *plan, const bpi_clock *clock, const bp_air *air);

#endif
