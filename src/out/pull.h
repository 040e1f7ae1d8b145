/* src/out/pull.h - everything to buy or fetch, as a list to tick by hand and as a table.
 *
 * Owns     the shape of both.
 * May use  out/plain, base/; reads the plan.
 *
 * Text   food by where it is fetched, then vessels, then tools; in columns that count a wide East
 *        Asian character as two. Lines end in a line feed.
 * Table  as in out/plain, one head line, in plan order.
 */
#ifndef BP_OUT_PULL_H
#define BP_OUT_PULL_H

#include "backpot/plan.h"
#include "base/error.h"
#include "base/text.h"

/* Errors: BP_ENOMEM. */
bp_code bpi_pull_text_write(bpi_text *out, const bp_plan *plan, bp_errors *errs);
bp_code bpi_pull_csv_write(bpi_text *out, const bp_plan *plan, bp_errors *errs);

#endif
