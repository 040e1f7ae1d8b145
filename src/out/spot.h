/* src/out/spot.h - what stands at each station of the set, left to right in order of use.
 *
 * Owns     nothing: lists and texts live in the caller's arena.
 * May use  out/facts, base/; reads the plan.
 */
#ifndef BP_OUT_SPOT_H
#define BP_OUT_SPOT_H

#include <stdbool.h>
#include <stdint.h>

#include "backpot/plan.h"
#include "base/arena.h"

/* A container with its tray, or something that stands by itself: the other is BP_NO_INDEX. */
typedef struct bpi_spot {
    uint32_t container, stand; /* of plan.container, plan.stand */
} bpi_spot;

typedef struct bpi_spots {
    const char *name; /* "": not said */
    const bpi_spot *spot;
    uint32_t spots;
} bpi_spots;

/* The stations of an appearance at which something stands, those of its containers first, as the plan
 * lists them. What no beat asks for stands behind all others. NULL: no memory; else *n of them. */
const bpi_spots *bpi_spot_stations(bpi_arena *a, const bp_plan *plan, uint32_t air, uint32_t *n);

/* What the one who carries it takes along, one a line: "1 x oven tray, 40 x 30 cm", "2 x tasting
 * spoon", then what is measured. NULL: no memory. */
const char *bpi_spot_tray(bpi_arena *a, const bp_plan *plan, uint32_t container);

/* "2 x side towel". NULL: no memory. */
const char *bpi_spot_stand(bpi_arena *a, const bp_plan *plan, uint32_t stand);

/* "beat 3, 08:25:07", "beat 5, 08:26:13": when it is used, with `between` from one to the next. NULL: no
 * memory. */
const char *bpi_spot_used(bpi_arena *a, const bp_plan *plan, const bpi_spot *spot,
                          const char *between);

#endif
