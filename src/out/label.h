/* src/out/label.h - labels.pdf: one label a container, to be cut apart with scissors.
 *
 * Owns     what a label says and how it fills its frame.
 * May use  out/page, out/facts, base/; reads the plan.
 */
#ifndef BP_OUT_LABEL_H
#define BP_OUT_LABEL_H

#include <stdbool.h>

#include "backpot/plan.h"
#include "base/text.h"

/* Append the PDF to `out`, on US Letter or A4.
 *
 * Shape   two labels across and four down, with marks where to cut; in plan order. Type shrinks
 *         until everything fits: nothing is left out.
 * Errors  BP_EIO (a font is missing), BP_ENOMEM; `out` is then as it was.
 */
bp_code bpi_labels_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs);

#endif
