/* src/out/ifs.h - the panels of the cue sheet for what may yet change: time lost, a hit that moves.
 *
 * Owns     their tables.
 * May use  out/page, out/table, out/cut, out/facts; reads the plan.
 */
#ifndef BP_OUT_IFS_H
#define BP_OUT_IFS_H

#include "out/page.h"

/* Each beat's length when 0:30, 1:00 and 1:30 are lost before the hit, and what goes when they are
 * lost at the start of a beat. `air` is the number of the appearance. */
void bpi_if_lost_draw(bpi_page *p, uint32_t air);

/* How far the hit can move with all cooked as planned, and each container's own part in it, those
 * that break first on top. Nothing where the plan is late. */
void bpi_if_moved_draw(bpi_page *p, uint32_t air);

/* Is there room for that on what is left of this page? Counted in rows of one line. */
bool bpi_if_moved_fits(const bpi_page *p, uint32_t air);

#endif
