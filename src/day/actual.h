/* src/day/actual.h - a schedule as it happened: what was ticked, and what must have been done.
 *
 * Owns     the moments of all jobs, on whole minutes, in the caller's arena.
 * May use  day/today, plan/fill for which operation a job is, prep/, the public header of the kitchen.
 * Units    engine time; of the kitchen plan time.
 *
 * A tick counts from the next whole minute on, and nothing that takes any time takes less than one; so
 * what follows another still does. What was not ticked is taken as done where something that builds on it
 * has begun: when it was planned, or just before that. What was planned for the past and was not done is
 * still to come. Who stands by is taken to stand there as planned.
 */
#ifndef BP_DAY_ACTUAL_H
#define BP_DAY_ACTUAL_H

#include "backpot/kitchen.h"
#include "day/today.h"

/* Put d->schedule as it happened by d->now, which is moved on by minutes where ticks lie past it. `op_of`:
 * of each job its operation in the kitchen's plan, or BP_NO_INDEX. Errors: BP_ENOMEM. */
bp_code bpi_actual_take(bpi_day *d, bp_kitchen *kitchen, const uint32_t *op_of, bp_errors *errs);

#endif
