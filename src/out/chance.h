/* src/out/chance.h - chance.pdf: how likely the plan holds, on paper.
 *
 * Owns     the picture of the days, the tables of swap-outs, steps and earlier calls.
 * May use  out/page, out/paper, out/facts, out/ink, base/; reads the plan.
 */
#ifndef BP_OUT_CHANCE_H
#define BP_OUT_CHANCE_H

#include <stdbool.h>

#include "backpot/plan.h"
#include "base/text.h"

/* Append the PDF to `out`. A plan without a chance gives one page that says why.
 * Errors: BP_EIO (a font is missing), BP_ENOMEM; `out` is then as it was. */
bp_code bpi_chance_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs);

#endif
