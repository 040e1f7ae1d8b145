/* src/out/strike.h - what is cleared after each appearance: strike-list.pdf and .txt, to tick by hand.
 *
 * Owns     the shape of both.
 * May use  out/facts, out/page, out/paper, out/plain, out/table, base/; reads the plan.
 *
 * A line for each container, first to spoil first: by when it is thrown away (container.use_by: as long
 * as it may stay where it is without temperature control), and what is washed. Then what stood by itself.
 */
#ifndef BP_OUT_STRIKE_H
#define BP_OUT_STRIKE_H

#include <stdbool.h>

#include "backpot/plan.h"
#include "base/error.h"
#include "base/text.h"

/* Errors: BP_ENOMEM, and of the sheet BP_EIO (fonts). */
bp_code bpi_strike_sheet_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs);
bp_code bpi_strike_text_write(bpi_text *out, const bp_plan *plan, bp_errors *errs);

#endif
