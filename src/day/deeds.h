/* src/day/deeds.h - what was done of the operations of a day, by the plans that were in force.
 *
 * Owns     the list of them, in the caller's arena.
 * May use  base/, the public headers.
 *
 * After each mishap that the log tells of, another plan is in force. An operation is held against the
 * plan that was in force when it began, or when it was due. What was done for a container that was
 * then lost, and is done once more, is there twice.
 */
#ifndef BP_DAY_DEEDS_H
#define BP_DAY_DEEDS_H

#include "backpot/after.h"
#include "base/arena.h"

/* Does the plan have what the event names? A log of another version may name other things. */
bool bpi_deeds_known(const bp_plan *plan, const bp_event *e);

/* By planned start. `plan` are in force one after the other, each from the next mishap of the log on and
 * the last until the end. *unknown counts events of operations that the plan in force then does not have.
 *
 * Errors  BP_EVALUE (a tick that makes no sense), BP_ENOMEM.
 */
bp_code bpi_deeds_make(const bp_after_op **out, uint32_t *n, uint32_t *unknown, bpi_arena *a,
                       const bp_plan *const *plan, uint32_t plans, const bp_log *log,
                       bp_errors *errs);

#endif
