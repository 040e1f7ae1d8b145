/* src/out/timeline.h - timeline.pdf and timeline.svg: the whole plan as a picture.
 *
 * Owns     the order of the pages; where bars stand is out/timeline_layout, how they look
 *          out/timeline_lane.
 * May use  out/page, out/paper, out/timeline_*, base/; reads the plan.
 */
#ifndef BP_OUT_TIMELINE_H
#define BP_OUT_TIMELINE_H

#include <stdbool.h>

#include "backpot/plan.h"
#include "base/text.h"

/* Append the PDF to `out`: as many pages, US Letter or A4 across, as readable type needs.
 * Errors: BP_EIO (a font is missing), BP_ENOMEM; `out` is then as it was. */
bp_code bpi_timeline_pdf_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs);

/* Append one SVG 1.1 picture, as large as it needs to be. Its letters are outlines: it looks the
 * same where no font is. `letter` does not matter. Errors as above. */
bp_code bpi_timeline_svg_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs);

#endif
