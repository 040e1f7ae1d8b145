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

#include "engine/total.h"

typedef enum bpi_lns_kind {
    BPI_LNS_WHEN,     /* who does what stays, when is open                        */
    BPI_LNS_WHO,      /* when stays, who does it is open                          */
    BPI_LNS_SHIFT,    /* all of one length may move a little, and go to others    */
    BPI_LNS_WINDOW,   /* those near a moment are open                             */
    BPI_LNS_CHAINS,   /* those tied to a few by lags                              */
    BPI_LNS_COSTLY,   /* those near one that costs                                */
    BPI_LNS_RESOURCE, /* those on one resource of one that costs                  */
    BPI_LNS_KINDS,
    BPI_LNS_FEWER, /* all, but a resource whose time costs is not used: its own turn */
    BPI_LNS_SQUEEZE
} bpi_lns_kind;

typedef struct bpi_lns {
    bpi_lit *assume; /* [0] is the caller's, [1] what total asks */
    bool *open;      /* per activity        */
    uint64_t random;
    uint32_t size; /* activities to leave open */
    bool squeeze;  /* the level now made less is one start or end: see lns.c */
    uint32_t level;
    bpi_total total; /* what is asked of a neighbourhood; while it gives, it is searched again */
    bpi_lns_kind kind;
    uint32_t assumes;
    uint32_t odds[BPI_LNS_KINDS]; /* by how often a kind has won lately         */
    bool *needed;                 /* per resource: nothing better without it    */
    uint32_t member;              /* resource of FEWER; UINT32_MAX: none so far */
} bpi_lns;

bool bpi_lns_init(bpi_lns *n, const bpi_search *s); /* false: no memory */

/* Is the level no more than the start, or the end, of one activity? */
bool bpi_lns_one_end(const bp_eng_problem *p, uint32_t level);

/* A level begins, at the root; false: no memory. It is over. */
bool bpi_lns_level(bpi_lns *n, bpi_search *s, uint32_t level);
void bpi_lns_leave(bpi_lns *n);

/* Fill assume[1..] from the best schedule of `s`, at the root; returns the number of all, the
 * caller's with them. */
uint32_t bpi_lns_pick(bpi_lns *n, const bpi_search *s);

/* The same, to do without a resource whose time costs, each in turn. 0: none is left to try. */
uint32_t bpi_lns_fewer(bpi_lns *n, const bpi_search *s);

/* The round won so much. */
void bpi_lns_won(bpi_lns *n, int64_t by);

/* The round ended without a better schedule: `all` of it was searched, or it was too large. */
void bpi_lns_learn(bpi_lns *n, const bpi_search *s, bool all);

#endif
