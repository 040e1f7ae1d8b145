/* src/live/swaps.h - the list of containers of one appearance, while it grows.
 *
 * Owns     what every container of the list has, whatever it is for; the list lives in the arena.
 * May use  model/, base/, live/live.h.
 * Units    plan time and whole seconds.
 */
#ifndef BP_LIVE_SWAPS_H
#define BP_LIVE_SWAPS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/text.h"
#include "live/live.h"
#include "model/show.h"

typedef struct bpi_swaps {
    bpi_air *air;
    bpi_arena *arena;
    const bpi_show *show;
    const bpi_segment *segment;
    void *list; /* of bpi_swap */
    size_t room, n;
    bpi_text text; /* the reason of the next one             */
    bool full;     /* one more than BPI_MAX_SWAPS was wanted */
} bpi_swaps;

/* A container of this dish in this state, for the whole slot; its reason is taken from m->text. NULL: no
 * memory, or m->full. */
bpi_swap *bpi_swaps_add(bpi_swaps *m, uint32_t dish, bpi_role role, uint64_t steps);

/* Needed by the kept ones of these beats; false: none is kept. */
bool bpi_swaps_needed(const bpi_swaps *m, bpi_swap *s, uint64_t beats);

/* By the moment of need, then by dish and role; equal ones as they were added. */
void bpi_swaps_sort(bpi_swaps *m);

const bpi_recipe *bpi_swaps_recipe(const bpi_swaps *m, uint32_t dish);

/* How long before the hit a container of the dish is on the set. */
int64_t bpi_swaps_lead(const bpi_swaps *m, uint32_t dish);

#endif
