/* src/engine/sgs.h - serial schedule generation: activities in some order, each as early, or as
 * late, as the resources allow.
 *
 * Owns     a plain problem in arrays of its own, the capacity left at each time, the schedule made.
 * May use  engine/model.
 * Units    counted work: as in engine/core.
 *
 * For plain problems: each activity has one option of one length, no clause, no change of states,
 * and the first level only wants ends and starts early. Calendars and lags of any sign are fine; a
 * problem whose lags form a circle (maximum lags) is `tied`: no order builds it one by one, but a
 * schedule of it can still be shifted, one activity after the other.
 *
 *   forward    in the order given, behind what must come before   -> may fail at a deadline
 *   shift      from a schedule: latest ends first to the right, then earliest starts first to the
 *              left; each stays where it was if nothing better is free -> cannot fail
 *
 * Source   R. Kolisch, "Serial and parallel resource-constrained project scheduling methods
 *          revisited" (1996); for shifting both ways K. Li and R. Willis, "An iterative scheduling
 *          technique" (1992), and P. Tormos and A. Lova (2001).
 */
#ifndef BP_ENGINE_SGS_H
#define BP_ENGINE_SGS_H

#include "engine/model.h"

/* time of `other` >= time of the one whose list it is in + least; in `before` lists: the reverse. */
typedef struct bpi_tie {
    uint32_t other;
    int32_t least;
} bpi_tie;

typedef struct bpi_sgs {
    bpi_model *m;
    bool plain, tied;
    int32_t *length, *release, *deadline; /* per activity; bounds of the start                  */
    int32_t *tail;                        /* longest way from the start to the end of all       */
    uint32_t *rank;                       /* place in an order that follows the lags; not tied  */
    bpi_tie *before, *after;
    uint32_t *before0, *after0; /* per activity and one more: where its list starts */
    int32_t *capacity, *left;   /* per resource and time; the first is without any activity */
    int32_t times;
    int32_t *start; /* per activity: the schedule made last */
    bool *placed;
    uint32_t *order, *spare, *stack;
    int32_t *key;
} bpi_sgs;

/* False: no memory. Sets `plain`; where that is false nothing else may be called. At the root. */
bool bpi_sgs_init(bpi_sgs *g, bpi_model *m);

/* Fill start[] in that order; false: some activity found no place before its deadline. */
bool bpi_sgs_forward(bpi_sgs *g, const uint32_t *order);

/* start[] holds a schedule: make another one, no later at its end, by shifting right and left. */
void bpi_sgs_shift(bpi_sgs *g);

int64_t bpi_sgs_value(const bpi_sgs *g);         /* of start[], on the first level        */
void bpi_sgs_sort(bpi_sgs *g, uint32_t *order);  /* all activities, least key[] first     */
void bpi_sgs_order(bpi_sgs *g, uint32_t *order); /* by start[], an order for forward      */

#endif
