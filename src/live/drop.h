/* src/live/drop.h - which beats stay when they do not all fit.
 *
 * Owns     nothing.
 * May use  base/.
 * Units    whole seconds; a set of beats is one bit each.
 *
 * Of all sets of beats that
 *   - hold every beat that must stay,
 *   - hold what each of their beats needs,
 *   - take the slot at most at their least lengths and fill it at their most, walking from the place of
 *     each beat to that of the next counted in,
 * the one of greatest worth in all; of these one that drops fewest beats; of these the one that
 * keeps the first beat, or else the second, and so on.
 *
 * Choosing under precedence is NP-hard, so this is a depth-first search in beat order, keep before
 * drop. Its bound is the exact optimum of what is left when needs are forgotten, a table of
 * (beat, seconds left): without needs the search never turns back. What was found from a state
 * (beat, later beats already forced in or out, seconds used) is remembered in a table of fixed
 * size, so that needs between near beats, the usual ones, cost little more. Effort is counted.
 */
#ifndef BP_LIVE_DROP_H
#define BP_LIVE_DROP_H

#include <stdbool.h>
#include <stdint.h>

#include "base/error.h"

#define BPI_DROP_WORK 20000000u /* nodes: a second or so, for needs nobody will ever write */

typedef struct bpi_drop_beat {
    int64_t least, most; /* 0 <= least <= most             */
    int32_t worth;       /* 0..1000                        */
    bool keep;           /* must stay                      */
    uint64_t needs;      /* other beats it is nothing without */
    int64_t place;       /* where, in seconds to walk along the set; at least 0 */
} bpi_drop_beat;

/* Seconds to walk from one place to another; BPI_NO_PLACE: from nowhere, before the first beat. */
#define BPI_NO_PLACE (-1)
int64_t bpi_drop_walk(int64_t from, int64_t to);

/* What the beats of a set take at their least and their most, one after the other, with the walking. */
void bpi_drop_span(int64_t *least, int64_t *most, const bpi_drop_beat *beat, uint32_t n,
                   uint64_t set);

/* Choose; `*kept` is the set.
 *
 * Errors  BP_ENOFIT (no such set: *kept is untouched), BP_EUNSURE (the effort ran out before one
 * was proved best), BP_ENOMEM; nothing is added to a list.
 */
bp_code bpi_drop(uint64_t *kept, const bpi_drop_beat *beat, uint32_t n, int64_t slot);

/* The same for every slot from `least` to `most`, with one table for all: kept[i] is the set of slot
 * least + i, fits[i] whether there is one.
 *
 * Errors  BP_EUNSURE (for one of them), BP_ENOMEM; what is in kept and fits is then of no use. */
bp_code bpi_drop_each(uint64_t *kept, bool *fits, const bpi_drop_beat *beat, uint32_t n,
                      int64_t least, int64_t most);

/* Every beat of `set`, and what it needs, and so on. */
uint64_t bpi_drop_closure(const bpi_drop_beat *beat, uint32_t n, uint64_t set);

#endif
