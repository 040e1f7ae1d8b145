/* src/live/nodraft.h - why no draft is as its segment wants it, and what would let one be.
 *
 * Owns     nothing; texts live in the arena of the lists.
 * May use  model/, live/draft, live/change, live/telling.
 * Units    whole seconds.
 */
#ifndef BP_LIVE_NODRAFT_H
#define BP_LIVE_NODRAFT_H

#include <stdint.h>

#include "base/error.h"
#include "live/telling.h"
#include "model/show.h"

/* Tell why bpi_draft found no draft as "draft" of segment `number` wants it.
 *
 * Errors  BP_ENOFIT, always added to the list, with the first cure; BP_ENOMEM, BP_EUNSURE.
 */
bp_code bpi_nodraft_tell(bpi_clashes *to, const bpi_show *show, uint32_t number, bp_errors *errs);

#endif
