/* src/out/prep.h - prep-sheet.pdf: each cook's work in time order.
 *
 * Owns     the order and the words of the sheet.
 * May use  out/page, out/table, out/facts, base/; reads the plan.
 */
#ifndef BP_OUT_PREP_H
#define BP_OUT_PREP_H

#include <stdbool.h>

#include "backpot/plan.h"
#include "base/text.h"

/* Append the PDF to `out`, on US Letter or A4.
 *
 * Shape   for each cook with work a new page: call, release and breaks, then one row an operation
 *         with a box to tick. What goes on by itself stands, shaded, on the sheet of the cook who
 *         answers for it. Where a container waits after a step is said in the row of that step.
 *         Last, what to heed of food safety, and the log of readings to fill in (out/log).
 * Errors  BP_EIO (a font is missing), BP_ENOMEM; `out` is then as it was.
 */
bp_code bpi_prep_sheet_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs);

#endif
