/* src/day/late.h - what a mended plan may do that no other may, each minute of it late: have work past a
 * wrap, and things that stand longer than they keep, or where there is no place.
 *
 * Owns     nothing.
 * May use  day/binding.
 */
#ifndef BP_DAY_LATE_H
#define BP_DAY_LATE_H

#include "day/binding.h"

/* Job j, which began at `from`, takes its option `o`: it may go on for longer, as it must. */
void bpi_late_run_over(bpi_binding *b, uint32_t j, bp_eng_option *o, int32_t from);

/* Once all jobs are bound: work past the wrap of a shift that is not the cook's last, and waits that have no
 * place. */
void bpi_late_allow(bpi_binding *b);

#endif
