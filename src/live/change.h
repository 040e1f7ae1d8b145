/* src/live/change.h - a show as it would be with one segment changed, to try whether that helps.
 *
 * Owns     nothing; the changed show shares all but the one segment with the show it is of.
 * May use  model/, base/.
 * Units    whole seconds.
 *
 * A segment whose beats were drafted gets them as if they had been written.
 */
#ifndef BP_LIVE_CHANGE_H
#define BP_LIVE_CHANGE_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "model/show.h"

/* The beats of one segment, open to changes until the show is read. */
typedef struct bpi_change {
    bpi_show *show;
    bpi_segment *segment;
    bpi_beat *beat; /* segment->beats of them */
} bpi_change;

/* Copy what may change. false: no memory. */
bool bpi_change_begin(bpi_change *out, bpi_arena *a, const bpi_show *show, uint32_t segment,
                      const bpi_beat *beat, uint32_t beats);

/* Take these beats out, a bit each, and those that need one of them. Returns what was taken out; 0,
 * and nothing is changed, where one of them must stay or none would be left. */
uint64_t bpi_change_leave_out(bpi_change *c, uint64_t beats);

#endif
