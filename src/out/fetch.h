/* src/out/fetch.h - the lines of the pull list, grouped as they are fetched.
 *
 * Owns     nothing: groups live in the caller's arena.
 * May use  out/facts, base/; reads the plan.
 */
#ifndef BP_OUT_FETCH_H
#define BP_OUT_FETCH_H

#include <stdbool.h>
#include <stdint.h>

#include "backpot/plan.h"
#include "base/arena.h"

typedef struct bpi_fetch {
    const char *name;     /* "market: vegetables", "Vessels", "Supplies, prop store" */
    const uint32_t *good; /* of plan.good, in its order                              */
    uint32_t goods;
} bpi_fetch;

/* Food by where it is fetched and where it stands there, then vessels, tools and supplies; each group
 * where its first line stands in the plan. NULL: no memory; else *n of them. */
const bpi_fetch *bpi_fetch_groups(bpi_arena *a, const bp_plan *plan, uint32_t *n);

/* Does what is at hand do for all of it? */
bool bpi_fetch_at_hand(const bp_good *g);

#endif
