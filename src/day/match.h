/* src/day/match.h - which job of a plan made anew is which of the plan before.
 *
 * Owns     that relation, and the containers that jobs go by.
 * May use  day/today, prep/, base/.
 *
 * A container that was lost is made apart; the others of a batch stay one, led by the first that is
 * left, and go by the same container as before, so that their operation keeps its key.
 */
#ifndef BP_DAY_MATCH_H
#define BP_DAY_MATCH_H

#include "day/today.h"

typedef struct bpi_match {
    uint32_t *was;  /* of each job: its number before; BPI_NO_INDEX: none                      */
    uint32_t *lead; /* of each job: of those left of its batch before, the first; itself: alone */
} bpi_match;

/* Errors: BP_ENOMEM. */
bp_code bpi_match_make(bpi_match *m, const bpi_prep *p, const bpi_day *d, bp_errors *errs);

/* Is job j for a container that is lost at this moment? */
bool bpi_match_lost(const bpi_prep *p, const bpi_day *d, uint32_t j);

/* The number before of the job that did the work of job j: that of its batch, where j leads it now. */
uint32_t bpi_match_work(const bpi_match *m, const bpi_day *d, uint32_t j);

/* The containers that the jobs of a schedule go by. NULL: no memory. */
const uint32_t *bpi_match_names(const bpi_match *m, const bpi_prep *p, const bpi_day *d,
                                const bpi_schedule *s);

#endif
