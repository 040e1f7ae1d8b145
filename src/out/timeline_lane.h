/* src/out/timeline_lane.h - lanes of the timeline: their names, their bars, how each kind looks.
 *
 * Owns     the looks, which tell the kinds apart in black and white.
 * May use  out/page, out/ink, out/facts, out/timeline_view; reads the plan.
 */
#ifndef BP_OUT_TIMELINE_LANE_H
#define BP_OUT_TIMELINE_LANE_H

#include "out/page.h"
#include "out/timeline_view.h"

#define BPI_TL_KEY 18.0 /* height of the key */

/* How wide the longest name of a thing is, within bounds: the same on all pages. */
double bpi_tl_label_room(bpi_page *p);

/* Texts are drawn apart, after all lines that may cross a lane. */
void bpi_tl_draw_lane(bpi_page *p, const bpi_tl_view *v, const bpi_tl_row *row);
void bpi_tl_draw_lane_texts(bpi_page *p, const bpi_tl_view *v, const bpi_tl_row *row);

/* The key of what is drawn, one line with its top at y. */
void bpi_tl_draw_key(bpi_page *p, double y);

#endif
