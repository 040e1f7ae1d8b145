/* src/out/cue.h - cue-sheet.pdf: what happens on camera, second by second, for floor and kitchen.
 *
 * Owns     the order and the words of the sheet.
 * May use  out/page, out/table, out/facts, base/; reads the plan.
 */
#ifndef BP_OUT_CUE_H
#define BP_OUT_CUE_H

#include <stdbool.h>

#include "backpot/plan.h"
#include "base/text.h"

/* Append the PDF to `out`, on US Letter or A4.
 *
 * Shape   for each appearance a new page: its times, the teases, one row a beat, what was left out
 *         to fit, and the containers in the order in which they are carried in.
 * Errors  BP_EIO (a font is missing), BP_ENOMEM; `out` is then as it was.
 */
bp_code bpi_cue_sheet_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs);

#endif
