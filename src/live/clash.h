/* src/live/clash.h - why beats cannot fill a slot, and what would let them.
 *
 * Owns     nothing; texts live in the arena.
 * May use  model/, live/drop, live/draft, live/station, live/change.
 * Units    whole seconds.
 *
 * A cure is named only after the choice of beats was made again with it and came out.
 */
#ifndef BP_LIVE_CLASH_H
#define BP_LIVE_CLASH_H

#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/error.h"
#include "live/drop.h"
#include "live/live.h"
#include "model/show.h"

/* Lists that grow, over all segments of a show. */
typedef struct bpi_clashes {
    bpi_arena *arena;
    void *clash, *cure; /* of bpi_clash, of bpi_remedy */
    size_t clash_room, cure_room;
    uint32_t clash_n, cure_n;
} bpi_clashes;

/* Tell why bpi_drop found nothing for these beats of segment `number`.
 *
 * Errors  BP_ENOFIT, always added to the list, with the first cure; BP_ENOMEM.
 */
bp_code bpi_clash_tell(bpi_clashes *to, const bpi_show *show, uint32_t number, const bpi_beat *beat,
                       const bpi_fitted *fitted, const bpi_drop_beat *choice, uint32_t n,
                       bool drafted, bp_errors *errs);

/* Tell why bpi_draft found no draft as "draft" of segment `number` wants it.
 *
 * Errors  BP_ENOFIT, always added to the list, with the first cure; BP_ENOMEM, BP_EUNSURE.
 */
bp_code bpi_clash_tell_draft(bpi_clashes *to, const bpi_show *show, uint32_t number,
                             bp_errors *errs);

/* Tell where more containers of an appearance stand at a station than it has room for.
 *
 * Errors  BP_ENOFIT, added to the list, where there is such a station, with what room would do;
 *         BP_ENOMEM.
 */
bp_code bpi_clash_tell_room(bpi_clashes *to, const bpi_show *show, const bpi_air *air,
                            bp_errors *errs);

#endif
