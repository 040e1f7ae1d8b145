/* src/live/clash.h - why beats cannot fill a slot, and what would let them.
 *
 * Owns     nothing; texts live in the arena.
 * May use  model/, live/drop, live/change, live/telling.
 * Units    whole seconds.
 *
 * A cure is named only after the choice of beats was made again with it and came out.
 */
#ifndef BP_LIVE_CLASH_H
#define BP_LIVE_CLASH_H

#include <stdint.h>

#include "base/error.h"
#include "live/drop.h"
#include "live/live.h"
#include "live/telling.h"
#include "model/show.h"

/* Tell why bpi_drop found nothing for these beats of segment `number`.
 *
 * Errors  BP_ENOFIT, always added to the list, with the first cure; BP_ENOMEM.
 */
bp_code bpi_clash_tell(bpi_clashes *to, const bpi_show *show, uint32_t number, const bpi_beat *beat,
                       const bpi_fitted *fitted, const bpi_drop_beat *choice, uint32_t n,
                       bool drafted, bp_errors *errs);

#endif
