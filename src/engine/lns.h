/* src/engine/lns.h - large neighbourhood search: most of the best schedule stays, the rest is open.
 *
 * Owns     which part stays; the literals live in the arena of the model.
 * May use  engine/search.
 * Source   P. Shaw, "Using constraint programming and local search methods to solve vehicle routing
 *          problems" (1998), for the idea; the neighbourhoods are for schedules with options.
 *
 * The literals are assumptions of a run, behind those that the caller puts first. Chosen by a counted
 * sequence of pseudo-random numbers: same problem, same rounds.
 */
#ifndef BP_ENGINE_LNS_H
#define BP_ENGINE_LNS_H

#include "engine/search.h"

typedef struct bpi_lns {
    bpi_lit *assume; /* [0] is the caller's */
    bool *open;      /* per activity        */
    uint64_t random;
    uint32_t size; /* activities to leave open */
    bool squeeze;  /* the level now made less is one start or end: see lns.c */
} bpi_lns;

bool bpi_lns_init(bpi_lns *n, const bpi_search *s); /* false: no memory */

/* Is the level no more than the start, or the end, of one activity? */
bool bpi_lns_one_end(const bp_eng_problem *p, uint32_t level);

/* Fill assume[1..] from the best schedule of `s`; returns the number of all, the caller's with them. */
uint32_t bpi_lns_pick(bpi_lns *n, const bpi_search *s);

/* The round ended without a better schedule: `all` of it was searched, or it was too large. */
void bpi_lns_learn(bpi_lns *n, const bpi_search *s, bool all);

#endif
