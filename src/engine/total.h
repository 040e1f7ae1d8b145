/* src/engine/total.h - what a level costs in all, as a variable that can be assumed to be less.
 *
 * Owns     the variable and its propagator, in the arena of the model.
 * May use  engine/search.
 *
 * Steps of one unit are slow where a plan costs thousands. So a search asks for more: twice as much
 * after each success, and less again after a failure. That there is nothing so much better is then a
 * bound, which the variable keeps; one unit is asked for last.
 */
#ifndef BP_ENGINE_TOTAL_H
#define BP_ENGINE_TOTAL_H

#include "engine/search.h"

typedef struct bpi_total {
    bpi_linear *sum;
    uint32_t view; /* 0: the level has none, for it may cost too much to be counted so */
    uint32_t level;
    int64_t gain; /* asked for; 0: ask for one, of something new */
} bpi_total;

/* At the root, once for each level. False: no memory. */
bool bpi_total_init(bpi_total *t, bpi_search *s, uint32_t level);
/* The level is done: the variable is bound no more. */
void bpi_total_leave(bpi_total *t);

/* "It costs less than the best by `gain`." True where there is no variable. */
bpi_lit bpi_total_ask(const bpi_total *t, const bpi_search *s);
/* A run found something better by so much; or it did not: true where less is now to be asked for. */
void bpi_total_won(bpi_total *t, int64_t by);
bool bpi_total_lost(bpi_total *t);
/* Proved: nothing is cheaper. */
int64_t bpi_total_bound(const bpi_total *t, const bpi_core *c);

#endif
