/* src/out/pack.h - the pack list: pack-list.pdf and .txt, to tick by hand, and .csv.
 *
 * Owns     the shape of the three.
 * May use  out/facts, out/page, out/paper, out/plain, out/table, base/; reads the plan.
 *
 * One list for the kitchen, then one for each set and each tasting. A line says how many are packed for
 * that; of what was in use before, that it comes from there.
 */
#ifndef BP_OUT_PACK_H
#define BP_OUT_PACK_H

#include <stdbool.h>

#include "backpot/plan.h"
#include "base/error.h"
#include "base/text.h"

/* Errors: BP_ENOMEM, and of the sheet BP_EIO (fonts). */
bp_code bpi_pack_sheet_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs);
bp_code bpi_pack_text_write(bpi_text *out, const bp_plan *plan, bp_errors *errs);
bp_code bpi_pack_csv_write(bpi_text *out, const bp_plan *plan, bp_errors *errs);

#endif
