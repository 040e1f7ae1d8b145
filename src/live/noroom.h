/* src/live/noroom.h - more containers at a station than it has room for.
 *
 * Owns     nothing; texts live in the arena of the lists.
 * May use  model/, live/station, live/change, live/telling.
 * Units    whole seconds.
 */
#ifndef BP_LIVE_NOROOM_H
#define BP_LIVE_NOROOM_H

#include "base/error.h"
#include "live/live.h"
#include "live/telling.h"
#include "model/show.h"

/* Tell where more containers of an appearance stand at a station than it has room for.
 *
 * Errors  BP_ENOFIT, added to the list, where there is such a station, with what room would do;
 *         BP_ENOMEM.
 */
bp_code bpi_noroom_tell(bpi_clashes *to, const bpi_show *show, const bpi_air *air, bp_errors *errs);

#endif
