/* src/out/timeline_axis.h - the clock over the timeline, and the moments that stand out.
 *
 * Owns     nothing.
 * May use  out/page, out/ink, out/timeline_view; reads the plan.
 */
#ifndef BP_OUT_TIMELINE_AXIS_H
#define BP_OUT_TIMELINE_AXIS_H

#include "out/page.h"
#include "out/timeline_view.h"

/* Clock times, with a thin line under each. */
void bpi_tl_draw_ticks(bpi_page *p, const bpi_tl_view *v);

/* Where hours without work are left out the picture is torn. */
void bpi_tl_draw_tears(bpi_page *p, const bpi_tl_view *v);

/* Each hit and each set-by time: a line through all lanes, its name above them. */
void bpi_tl_draw_marks(bpi_page *p, const bpi_tl_view *v);

#endif
