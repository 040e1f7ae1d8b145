/* src/engine/chains.h - activities in chains that lags tie together, in an order to place them in.
 *
 * Owns     the order; how far it has been followed at each level of the search.
 * May use  engine/model.
 *
 * A big day falls apart into many chains (a dish for one appearance is one) that only meet at the
 * resources. Placed chain by chain, a chain that does not fit is found out while what is in its way
 * is fresh, and the others stand; placed by time over all of them, each conflict undoes a piece of
 * every chain. Chains whose ends are latest come first (backward), or whose starts are earliest.
 * A small day is one chain: there placing by time over all of it packs better.
 */
#ifndef BP_ENGINE_CHAINS_H
#define BP_ENGINE_CHAINS_H

#include "engine/model.h"

typedef struct bpi_chains {
    uint32_t *act;    /* all activities, chain by chain        */
    uint32_t *first;  /* per chain, and one more: place in act */
    uint32_t chains;  /* 0: not made yet                       */
    uint32_t *cursor; /* per level: chains before it all stand */
    uint32_t cursor_room;
} bpi_chains;

/* With the bounds that hold at the root; up to `few` activities are one chain. False: no memory;
 * release it either way. */
bool bpi_chains_init(bpi_chains *g, bpi_model *m, bool backward, uint32_t few);
void bpi_chains_release(bpi_chains *g);

#endif
