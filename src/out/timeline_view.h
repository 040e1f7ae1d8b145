/* src/out/timeline_view.h - one page of the timeline: what its bars, axis and key share.
 *
 * Owns     sizes of type and of the margins of the picture.
 * May use  out/type, out/timeline_layout.
 */
#ifndef BP_OUT_TIMELINE_VIEW_H
#define BP_OUT_TIMELINE_VIEW_H

#include "out/timeline_layout.h"
#include "out/type.h"

#define BPI_TL_FONT_BAR  ((bpi_font){8.5, false, false})
#define BPI_TL_FONT_BOLD ((bpi_font){8.5, true, false})
#define BPI_TL_FONT_AXIS ((bpi_font){9, true, false})
#define BPI_TL_LABELS    112.0 /* room for the names of the lanes, at least */
#define BPI_TL_MOST      180.0 /* and at most; what is longer is cut        */
#define BPI_TL_AXIS      14.0
#define BPI_TL_MARK_ROW  13.0
#define BPI_TL_MARK_ROWS 4 /* for the names of hit times and set-by times */

/* One page of one part. */
typedef struct bpi_tl_view {
    const bpi_tl *tl;
    const bpi_tl_page *page;
    bpi_tl_part part;
    double labels;  /* wide: the names of the lanes, left of the bars           */
    double x, y, h; /* upper left corner of the bars; their height on this page */
} bpi_tl_view;

/* Where a point of the axis stands on the page. */
static inline double bpi_tl_page_x(const bpi_tl_view *v, double axis)
{
    return v->x + axis - v->page->from;
}

#endif
