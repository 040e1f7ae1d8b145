/* src/out/onset.h - the panels of the cue sheet for what stands on the set, and who brings it.
 *
 * Owns     their tables.
 * May use  out/page, out/table, out/facts; reads the plan.
 */
#ifndef BP_OUT_ONSET_H
#define BP_OUT_ONSET_H

#include "out/page.h"

/* The containers of appearance `air` in the order in which they are carried in. */
void bpi_onset_draw(bpi_page *p, uint32_t air);

/* Who brings what in and out in the break before it, in order of time. Nothing before the first
 * appearance. */
void bpi_onset_change_draw(bpi_page *p, uint32_t air);

#endif
