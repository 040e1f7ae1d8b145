/* tests/support/kitchen_day.h - made-up days of a small kitchen, as problems for the engine.
 *
 * Owns     the arrays of one problem, released at once.
 * May use  the public header of the engine; tests/support/small_problem for its random numbers.
 * Units    minutes.
 *
 * A day has containers, each with its steps in a row: measure, cut, cook (on a burner, or in an
 * oven at some temperature, for a length within a window), take off at once, perhaps a second
 * such round, wait in a place that keeps it for so long, dress, stand on the set by its time.
 * Cooks are resources of capacity 1 with a call, a break and a wrap; every step by hand has one
 * option per cook able to. Levels: lateness, time since each cook's call, waiting by weight,
 * changes of hands.
 */
#ifndef BP_TESTS_KITCHEN_DAY_H
#define BP_TESTS_KITCHEN_DAY_H

#include "backpot/engine.h"

typedef struct kitchen_day {
    bp_eng_problem p;
    void *rows[10];
} kitchen_day;

/* About `steps` activities, never fewer than one container's. False: no memory. */
bool kitchen_day_init(kitchen_day *d, uint32_t seed, uint32_t steps);

/* A day as wide as one likes: crews of some 50 activities, each with cooks, burners, ovens and places
 * of its own and a hit every half hour from 05:00 on; of the steps by hand one in eight may also be
 * done by a cook of the crew before, so that all of it hangs together. False: no memory. */
bool kitchen_day_init_wide(kitchen_day *d, uint32_t seed, uint32_t steps);
void kitchen_day_release(kitchen_day *d);

#endif
