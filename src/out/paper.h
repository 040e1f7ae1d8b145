/* src/out/paper.h - from a sheet to bytes: pages of a PDF, or one SVG picture.
 *
 * Owns     the surface, the sizes of paper, the passes over the sheet, errors on the way.
 * May use  out/page, out/type, base/, Cairo.
 *
 * A sheet is drawn twice by the same code: dry, to count its pages, then on paper. Same plan, same
 * bytes: dates in the file are the show's, never the clock's.
 */
#ifndef BP_OUT_PAPER_H
#define BP_OUT_PAPER_H

#include "out/page.h"

/* Append the whole document to `out`. Errors: BP_EIO (fonts), BP_ENOMEM; `out` is then as it was. */
bp_code bpi_paper_write(bpi_text *out, const bp_plan *plan, const bpi_sheet *sheet,
                        bp_errors *errs);

/* The same as one SVG picture. The sheet begins a single page; while dry it sets p->width and
 * p->height to what it needs. */
bp_code bpi_paper_write_picture(bpi_text *out, const bp_plan *plan, const bpi_sheet *sheet,
                                bp_errors *errs);

#endif
