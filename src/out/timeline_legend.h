/* src/out/timeline_legend.h - the list behind the numbers in the bars of the timeline.
 *
 * Owns     nothing.
 * May use  out/page, out/facts, out/timeline_view; reads the plan.
 */
#ifndef BP_OUT_TIMELINE_LEGEND_H
#define BP_OUT_TIMELINE_LEGEND_H

#include "out/page.h"

/* Every numbered operation, in columns of 330 points or more, from p->y on, over as many pages as
 * that needs; p->y is then below the longest column. */
void bpi_tl_draw_legend(bpi_page *p);

#endif
