/* src/out/fetch_sheet.h - the pull list on paper, to be ticked by hand.
 *
 * Owns     the shape of the page.
 * May use  out/facts, out/fetch, out/page, out/paper, out/table; reads the plan.
 *
 * The same groups in the same order as pull-list.txt. What is written beside the box is what is put in
 * the basket: packs where there are packs, else what is needed.
 */
#ifndef BP_OUT_FETCH_SHEET_H
#define BP_OUT_FETCH_SHEET_H

#include <stdbool.h>

#include "backpot/plan.h"
#include "base/error.h"
#include "base/text.h"

/* Errors: BP_EIO (fonts), BP_ENOMEM. */
bp_code bpi_pull_sheet_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs);

#endif
