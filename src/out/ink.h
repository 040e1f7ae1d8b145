/* src/out/ink.h - the strokes of a picture: hatches, dashes, turned and shortened text.
 *
 * Owns     nothing.
 * May use  out/page, Cairo.
 * Units    points.
 *
 * Hatches are drawn line by line, not as a pattern fill: they print the same everywhere and leave no
 * numbered pattern in the file.
 */
#ifndef BP_OUT_INK_H
#define BP_OUT_INK_H

#include "out/page.h"

typedef enum bpi_hatch {
    BPI_HATCH_NONE,
    BPI_HATCH_RISING,  /* slanted lines             */
    BPI_HATCH_UPRIGHT, /* vertical lines           */
    BPI_HATCH_LEVEL,   /* one line along the middle */
    BPI_HATCH_DOUBLE   /* two lines along it        */
} bpi_hatch;

void bpi_ink_hatch(bpi_page *p, bpi_hatch hatch, double x, double y, double w, double h);
void bpi_ink_dash(bpi_page *p, double x0, double y0, double x1, double y1, double line);
void bpi_ink_dashed_frame(bpi_page *p, double x, double y, double w, double h, double line);

/* Until bpi_ink_unclip nothing outside is inked. Does not nest. */
void bpi_ink_clip(bpi_page *p, double x, double y, double w, double h);
void bpi_ink_unclip(bpi_page *p);

/* Broken axis: a white strip with two zigzag edges. */
void bpi_ink_tear(bpi_page *p, double x, double y, double w, double h);

/* Does the whole text fit a box, broken between words only? */
bool bpi_ink_fits(bpi_page *p, bpi_font font, const char *text, double w, double h);

/* Text in a box, an ellipsis after what does not fit. */
void bpi_ink_text_cut(bpi_page *p, bpi_font font, const char *text, double x, double y, double w,
                      double h, double grey);

/* Text that reads upwards, centred in a box. */
void bpi_ink_text_up(bpi_page *p, bpi_font font, const char *text, double x, double y, double w,
                     double h, double grey);

#endif
