/* src/engine/breed.h - a genetic algorithm over the orders in which schedules are built.
 *
 * Owns     the orders alive, its random numbers; arrays lie in the arena of the model.
 * May use  engine/sgs.
 *
 * An order is that of the starts in a schedule which was built and then shifted both ways. A child
 * takes the activities that run in some span of time from one parent and the rest from the other.
 * Same problem, same children: the random numbers are a counted sequence.
 *
 * Source   V. Valls, F. Ballestin and S. Quintanilla, "A hybrid genetic algorithm for the
 *          resource-constrained project scheduling problem" (2008), for the idea.
 */
#ifndef BP_ENGINE_BREED_H
#define BP_ENGINE_BREED_H

#include "engine/sgs.h"

enum { BPI_BREED_ALIVE = 120 };

typedef struct bpi_breed {
    bpi_sgs sgs;
    uint32_t *order[BPI_BREED_ALIVE]; /* [0] is not always the best */
    int64_t value[BPI_BREED_ALIVE];
    uint64_t print[BPI_BREED_ALIVE]; /* of the starts, to keep no schedule twice */
    uint32_t alive, dull;            /* children since one was let in            */
    uint32_t *child;
    bool *chosen;
    int32_t *best; /* starts of the best one made */
    int64_t best_value;
    bool have;
    uint64_t random;
} bpi_breed;

bool bpi_breed_init(bpi_breed *b, bpi_model *m); /* at the root; false: no memory */

/* A schedule from elsewhere, with these starts: shift it and let it in. */
void bpi_breed_take(bpi_breed *b, const int32_t *start);

/* Make one schedule. True: it is better than all before, and in best[]. */
bool bpi_breed_step(bpi_breed *b);

#endif
