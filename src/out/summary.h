/* src/out/summary.h - what a person would read out of a plan, for a terminal.
 *
 * Owns     the shape of the text. bp_summary_write (backpot/output.h) is made from it.
 * May use  base/, out/facts; reads the plan.
 */
#ifndef BP_OUT_SUMMARY_H
#define BP_OUT_SUMMARY_H

#include "backpot/plan.h"
#include "base/error.h"
#include "base/text.h"

/* Append the summary: lines that end in a line feed, no other control character. Errors: BP_ENOMEM.
 */
bp_code bpi_summary_put(bpi_text *out, const bp_plan *plan, bp_errors *errs);

#endif
