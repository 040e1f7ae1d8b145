/* src/engine/search.h - decisions, restarts and limits: from a model to schedules and proofs.
 *
 * Owns     the learning, the best schedule so far, the counts that bound the search.
 * May use  engine/model, learn, chains.
 */
#ifndef BP_ENGINE_SEARCH_H
#define BP_ENGINE_SEARCH_H

#include "engine/chains.h"
#include "engine/learn.h"
#include "engine/model.h"

typedef enum bpi_outcome {
    BPI_FOUND, /* a schedule, kept in best; go on by calling again          */
    BPI_NONE,  /* proved: none while the assumptions hold; see core_of      */
    BPI_LIMIT, /* the work, or the time, ran out, or the caller said stop   */
    BPI_NO_MEMORY
} bpi_outcome;

typedef struct bpi_search {
    bpi_model *m;
    bpi_learn learn;
    bpi_chains chains;
    bool backward; /* objectives favour late starts */

    bpi_schedule best;
    int64_t value[BP_ENG_LEVELS]; /* of best                              */
    int32_t *phase;               /* per variable: the value to try first */
    uint32_t phase_room;
    bool have, have_phase;

    const bpi_lit *assume; /* decided first, in this order */
    uint32_t assumes;
    bpi_lit *core_of; /* after BPI_NONE: assumptions that cannot hold together */
    uint32_t cores, core_room;

    uint64_t work_limit;                /* of core.work                                          */
    uint64_t slice;                     /* the same for one run, whatever the clock allows       */
    int64_t until_ms;                   /* on the monotonic clock; 0: never look at it           */
    bool (*stop)(struct bpi_search *s); /* asked now and then; NULL: never         */
    void *ctx;
    bool stopped;

    /* Propagators of the objective, UINT32_MAX: none. Their limits fall between runs. */
    uint32_t goal[2];
    uint64_t conflicts, since_restart, restarts;
    uint32_t most_learned;
} bpi_search;

bool bpi_search_init(bpi_search *s, bpi_model *m); /* false: no memory; release either way */
void bpi_search_release(bpi_search *s);

/* A schedule found elsewhere, with these starts and the only options: it becomes the best. */
void bpi_search_adopt(bpi_search *s, const int32_t *start);
/* Where to look first for the start of an activity. */
void bpi_search_hint(bpi_search *s, uint32_t act, int32_t start);

/* Look for a schedule, from wherever the search stands. */
bpi_outcome bpi_search_run(bpi_search *s);
/* Back to the root with all that holds there propagated. False: nothing is feasible, or no memory.
 */
bool bpi_search_root(bpi_search *s);
/* What it comes to that going on failed: BPI_NONE or BPI_NO_MEMORY. */
bpi_outcome bpi_search_failed(const bpi_search *s);
/* Variables were added, at the root. False: no memory. */
bool bpi_search_widen(bpi_search *s);
/* Is the work, or the time, used up, or did the caller say stop? */
bool bpi_search_spent(bpi_search *s);
int64_t bpi_search_now_ms(void);

#endif
