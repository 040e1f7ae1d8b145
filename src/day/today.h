/* src/day/today.h - what is known of a day that did not go as planned.
 *
 * Owns     the plan so far and all that went wrong; all of it lives in one arena.
 * May use  plan/verify.h (the form in which the checker is told), prep/, base/.
 * Units    plan time; `now` is engine time.
 */
#ifndef BP_DAY_TODAY_H
#define BP_DAY_TODAY_H

#include "base/arena.h"
#include "day/mishap.h"
#include "plan/verify.h"
#include "prep/prep.h"
#include "prep/solve.h"

#define BPI_DAY_ROWS 128 /* of each kind; twenty lines of a large show make no more */

typedef struct bpi_day {
    bpi_arena *a;
    const bpi_prep *prep; /* what was planned until now, each job with its own containers */
    const bpi_schedule *schedule;
    const bp_eng_lag *lag; /* of the show alone, without what ties the past down */
    uint32_t lags;
    const uint32_t *name; /* of each job: the container it goes by; NULL: its first       */
    int32_t now;
    bool *lost;                   /* of each container: at this moment */
    bool *apart;                  /* lost once                         */
    int64_t *dead;                /* of each oven                      */
    int64_t burner[BPI_DAY_ROWS]; /* when one more of them is dead */
    struct bpi_absence away[BPI_DAY_ROWS];
    struct bpi_longer longer[BPI_DAY_ROWS];
    uint32_t burners, aways, longers;
    bool ticked; /* the past of the schedule is as it happened, not as it was planned */
} bpi_day;

bp_code bpi_day_init(bpi_day *d, bpi_arena *a, const bpi_prep *prep, const bpi_schedule *schedule,
                     bp_errors *errs);

/* It is the time of a mishap now. Errors: BP_EVALUE: it lies before the one before it; where the past is
 * as it was ticked, it is then the time of that one still. */
bp_code bpi_day_go_on(bpi_day *d, const bpi_mishap *mishap, bp_errors *errs);
/* Take it in. Errors: BP_EVALUE: what it says cannot be; BP_ELIMIT. */
bp_code bpi_day_take(bpi_day *d, const bpi_mishap *mishap, bp_errors *errs);

/* When job j of the plan so far starts and ends, in engine time. */
int32_t bpi_day_from(const bpi_day *d, uint32_t j);
int32_t bpi_day_to(const bpi_day *d, uint32_t j);
/* Is job j of `p` for this container? */
bool bpi_day_serves(const bpi_prep *p, uint32_t j, uint32_t box);
/* Is it a step itself, not what is around it? */
bool bpi_day_is_step(bp_op_kind k);

#endif
