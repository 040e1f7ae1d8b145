/* src/live/propose.h - the best choices of beats that differ in what they ask of the kitchen.
 *
 * Owns     nothing.
 * May use  model/, live/walk, live/stage, live/station, live/drop.
 * Units    whole seconds; sets are a bit per beat.
 *
 * Of all sets of beats that hold every beat that must stay, take the slot at most at their least
 * lengths and fill it at their most, walking counted in, and keep within so many swap-outs and
 * burners on the set, those that need the same containers (dish and steps done ahead) are one
 * proposal: the best of them, in the sense of live/drop. Proposals come best first, so no two of
 * them ask the same of the kitchen.
 *
 * A depth-first search, keep before drop, bounded by the exact optimum of what is left when only time
 * counts, against the worst proposal still wanted. How many containers a set needs is known only
 * when it is whole: dropping a beat may need one more. Effort is counted.
 */
#ifndef BP_LIVE_PROPOSE_H
#define BP_LIVE_PROPOSE_H

#include <stdint.h>

#include "base/error.h"
#include "live/live.h"
#include "model/show.h"

#define BPI_PROPOSE_MOST 9
#define BPI_PROPOSE_WORK 100000000u /* beats looked at: a few seconds */

typedef struct bpi_proposal {
    uint64_t kept;
    int32_t worth;    /* of the beats kept, in all                                        */
    uint32_t swaps;   /* containers on the set, but for heroes of teases                  */
    uint32_t burners; /* in use on the set at once: for a step on air, and for one left alone */
} bpi_proposal;

typedef struct bpi_propose_ask {
    const bpi_recipe *recipe;
    const bpi_segment *segment;
    const bpi_beat *beat;
    const bpi_fitted *fitted; /* least and most are read */
    uint32_t beats;
    uint32_t swaps, burners; /* at most so many */
    uint32_t list;           /* proposals wanted, 1..BPI_PROPOSE_MOST */
} bpi_propose_ask;

/* Put the best proposals into `out`, which has room for ask->list; *n of them.
 *
 * Errors  BP_ENOFIT (there is none), BP_EUNSURE (the effort ran out), BP_ENOMEM; nothing is added to a
 *         list.
 */
bp_code bpi_propose(bpi_proposal *out, uint32_t *n, const bpi_propose_ask *ask);

#endif
