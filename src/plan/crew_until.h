/* src/plan/crew_until.h - how late a slot may end for the people and the set.
 *
 * Owns     nothing.
 * May use  the plan.
 * Units    plan time.
 */
#ifndef BP_PLAN_CREW_UNTIL_H
#define BP_PLAN_CREW_UNTIL_H

#include "backpot/plan.h"

/* What bounds it: nobody and nothing, the next hit, clearing the set, a cook's wrap, a cook's next
 * work. */
typedef enum bpi_until {
    BPI_UNTIL_NONE,
    BPI_UNTIL_HIT,
    BPI_UNTIL_RESET,
    BPI_UNTIL_WRAP,
    BPI_UNTIL_WORK
} bpi_until;

/* The latest end of the slot of appearance `air` with which those who stand by are still in their
 * hours and miss no work of theirs, the set is cleared in time for what comes after, and no other hit
 * is run into; the rest of the plan as it is. `person`: who bounds it. INT64_MAX with NONE. */
int64_t bpi_crew_until(bpi_until *why, uint32_t *person, const bp_plan *plan, uint32_t air);

/* "the next hit comes then", "Omar, who stands by, must be free"; the name comes apart. */
const char *bpi_until_text(bpi_until why);

#endif
